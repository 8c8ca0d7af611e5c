/**
 * What runs out first: the order, the words, and each limit's own page with the same inputs, by the
 * same rules as site_src/ladder.py. No DOM.
 *
 * @typedef {import("../model/catalogue.js").Kit} Kit
 * @typedef {import("../model/lookup.js").Rung} Rung
 * @typedef {import("../model/lookup.js").NumberField} NumberField
 * @typedef {import("../form/entries.js").Entries} Entries
 * @typedef {import("../form/entries.js").NumberEntry} NumberEntry
 * @typedef {import("../recipe.js").Outcome} Outcome
 * @typedef {import("./words.js").Shown} Shown
 * @typedef {{rung: Rung, shown: Shown, words: string}} Step
 */

import { decimalsFor, fixed, powerOfTen, trimmed, withUnit } from "./numbers.js";
import { Reasons } from "./words.js";
import { declaredOf, initial } from "../form/entries.js";
import { toQuery } from "../form/link.js";
import { fromSi } from "../model/quantities.js";
import { isFault } from "../recipe.js";

/** Digits that a worked-out value is carried over with: a hundredth of the last one shown. */
const DIGITS = 6;

/**
 * The limits, the most used one first, those without an answer last.
 * @param {Rung[]} rungs
 * @param {Shown[]} everything
 * @param {Outcome} outcome
 * @returns {Step[]}
 */
export function inOrder(rungs, everything, outcome) {
  const steps = rungs.flatMap((rung) => {
    const shown = everything.find(({ answer }) => answer.key === rung.answer);
    return shown ? [{ rung, shown, words: shown.words }] : [];
  });
  const known = steps
    .filter(({ shown }) => !shown.fault)
    .sort((a, b) => outcome.answers[b.rung.answer] - outcome.answers[a.rung.answer]);
  const reasons = new Reasons();
  const unknown = steps
    .filter(({ shown }) => shown.fault)
    .map((step) => ({ ...step, words: reasons.say(step.words) }));
  return [...known, ...unknown];
}

/**
 * The ladder's answers before the others, so that its first one is the verdict.
 * @param {Step[]} steps
 * @param {Shown[]} everything
 */
export function judgedFirst(steps, everything) {
  const first = steps.map(({ shown }) => shown);
  return [...first, ...everything.filter((shown) => !first.includes(shown))];
}

/** Say which limit is used up first. @param {Step[]} steps */
export function firstWords(steps) {
  const known = steps.filter(({ shown }) => !shown.fault);
  if (!known.length) return "None of these can be worked out for this set-up.";
  const [{ rung, shown }] = known;
  const said = `${rung.first}: ${withUnit(shown.text, shown.unit.label)} used.`;
  if (known.length < steps.length) return `Of what can be worked out, ${said}`;
  return said[0].toUpperCase() + said.slice(1);
}

/**
 * The query with which a limit's page works out the same; null if what it is fed can't be had.
 * @param {Kit} kit @param {Rung} rung @param {Entries} entries @param {Outcome} outcome
 * @returns {string | null}
 */
export function carried({ lookup, lookups, quantities }, rung, entries, outcome) {
  const { fields } = lookups[rung.page];
  const given = initial(fields, quantities, () => undefined);
  for (const field of fields) {
    const symbol = rung.feeds[field.key];
    if (symbol !== undefined && field.kind === "number") {
      const value = outcome.symbols[symbol];
      if (isFault(value)) return null;
      given[field.key] = fedEntry(field, value, quantities);
    } else if (lookup.fields.some(({ key, kind }) => key === field.key && kind === field.kind)) {
      given[field.key] = entries[field.key];
    }
  }
  return toQuery(fields, given, quantities);
}

/**
 * A worked-out value as an entry, within the range that it lies in.
 * @param {NumberField} field
 * @param {number} si
 * @param {import("../model/quantities.js").Quantities} quantities
 * @returns {NumberEntry}
 */
export function fedEntry(field, si, quantities) {
  const value = fromSi(si, declaredOf(field, quantities));
  const size = value === 0 ? 0 : powerOfTen(Math.abs(value)).exponent;
  const text = trimmed(fixed(value, Math.max(decimalsFor(field.step), DIGITS - 1 - size)));
  const inside = Math.min(Math.max(Number(text), field.low), field.high);
  const roundedOut = field.low <= value && value <= field.high && Number(text) !== inside;
  return { text: roundedOut ? String(inside) : text, unit: field.unit };
}
