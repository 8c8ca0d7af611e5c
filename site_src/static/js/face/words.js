/**
 * Answers and reasons in words, by the same rules as site_src/face/words.py. No DOM.
 *
 * @typedef {import("../model/lookup.js").Answer} Answer
 * @typedef {import("../model/catalogue.js").Kit} Kit
 * @typedef {import("../model/quantities.js").Unit} Unit
 * @typedef {import("../recipe.js").Outcome} Outcome
 * @typedef {import("../recipe/values.js").Fault} Fault
 * @typedef {import("../form/entries.js").Problem} Problem
 * @typedef {{value: number, limit: number, near: number}} Ends  in the unit shown
 * @typedef {{answer: Answer, unit: Unit, text: string, value: number | null, status: string,
 *   words: string, ends: Ends | null, fault: Fault | null, problem: Problem | null,
 *   reason: Fault | null}} Shown  `reason`: why it is not checked, if it is not
 */

import { fine, shown, shownMargin, withUnit } from "./numbers.js";
import { rangeSaid } from "../form/ranges.js";
import { fromSi, inSystem, unitOf } from "../model/quantities.js";
import { isFault } from "../recipe/values.js";

/** @type {Object<string, string>} */
export const STATUS_WORDS = {
  within: "within",
  near: "near the limit",
  beyond: "beyond the limit",
  unchecked: "not checked",
};
const WORST_FIRST = ["beyond", "near", "unchecked", "within"];

/** @type {Object<string, string>} */
const KIND_WORDS = {
  blank: "“{name}” was left empty, and this needs it.",
  missing: "“{name}” was left empty, and this needs it.",
  choice: "“{name}” has not been picked, and this needs it.",
  below: "This works out below what this page covers.",
  above: "This works out above what this page covers.",
  undefined: "This set-up has no such answer.",
};

/** Gives a reason once, and after that says that it is the same. */
export class Reasons {
  constructor() {
    /** @type {Set<string>} */
    this.said = new Set();
  }

  /** @param {string} words */
  say(words) {
    if (this.said.has(words)) return "The same reason as above.";
    this.said.add(words);
    return words;
  }
}

/**
 * One answer as it is shown: a number with its unit, or the reason why there is none.
 * @param {Kit} kit @param {Answer} answer @param {Outcome} outcome @param {Unit} unit
 * @param {Problem[]} problems @returns {Shown}
 */
export function showAnswer(kit, answer, outcome, unit, problems) {
  const si = outcome.value(answer.symbol);
  if (isFault(si)) {
    const problem = problems.find(({ entry }) => entry === si.symbol) ?? null;
    const words = problem?.words ?? faultWords(kit, si);
    return {
      answer,
      unit,
      text: "",
      value: null,
      status: "",
      words,
      ends: null,
      fault: si,
      problem,
      reason: null,
    };
  }
  const value = fromSi(si, unit);
  const status = outcome.status[answer.key] ?? "";
  const reason = status === "unchecked" ? (outcome.unjudged[answer.key] ?? null) : null;
  const ends = status && status !== "unchecked" ? endsOf(answer, outcome, unit, value) : null;
  return {
    answer,
    unit,
    value,
    status,
    ends,
    fault: null,
    problem: problems.find(({ entry }) => entry === reason?.symbol) ?? null,
    text: shown(value, answer.decimals[unit.key]),
    words: reason
      ? reasonWords(kit, reason, problems)
      : ends
        ? bandWords(answer, unit, ends, status)
        : uncheckedWords(answer, unit, value, status),
    reason,
  };
}

/**
 * Why an answer is not checked, where its limit was left blank.
 * @param {Answer} answer @param {Unit} unit @param {number} value @param {string} status
 */
function uncheckedWords(answer, unit, value, status) {
  const words = answer.band?.words[status] ?? "";
  return words.replaceAll("{value}", answerText(answer, unit, value));
}

/**
 * Why an answer is not checked, where its limit is only an example or an entry can't be used.
 * @param {Kit} kit @param {Fault} reason @param {Problem[]} problems
 */
function reasonWords(kit, reason, problems) {
  if (reason.kind === "example") return reason.say;
  const problem = problems.find(({ entry }) => entry === reason.symbol);
  return `An entry can't be used. ${problem?.words ?? faultWords(kit, reason)}`;
}

/**
 * @param {Answer} answer
 * @param {Outcome} outcome
 * @param {Unit} unit
 * @param {number} value
 * @returns {Ends | null}
 */
function endsOf(answer, outcome, unit, value) {
  if (!answer.band) return null;
  const [limit, near] = [answer.band.limit, answer.band.near].map((source) =>
    typeof source === "number" ? source : outcome.value(source),
  );
  if (isFault(limit) || isFault(near)) return null;
  return { value, limit: fromSi(limit, unit), near: fromSi(near, unit) };
}

/** @param {Answer} answer @param {Unit} unit @param {Ends} ends @param {string} status */
function bandWords(answer, unit, { value, limit }, status) {
  const filling = {
    value: answerText(answer, unit, value),
    limit: answerText(answer, unit, limit),
    margin: withUnit(shownMargin(Math.abs(limit - value), answer.decimals[unit.key]), unit.label),
  };
  return Object.entries(filling).reduce(
    (text, [name, written]) => text.replaceAll(`{${name}}`, written),
    answer.band?.words[status] ?? "",
  );
}

/**
 * A number in the answer's digits, with its unit.
 * @param {Answer} answer
 * @param {Unit} unit
 * @param {number} number
 */
export function answerText(answer, unit, number) {
  return withUnit(shown(number, answer.decimals[unit.key]), unit.label);
}

/**
 * The first of those answers whose status is worst.
 * @param {Shown[]} all
 * @returns {Shown | undefined}
 */
export function worst(all) {
  return WORST_FIRST.flatMap((status) => all.filter((each) => each.status === status))[0];
}

/**
 * Whether an answer is left out: an optional one that nobody asked for, or that has no reason to be
 * there in this set-up.
 * @param {Shown} shown
 * @returns {boolean}
 */
export function isLeftOut({ answer, fault }) {
  if (!answer.optional || !fault) return false;
  return fault.kind === "blank" || (["above", "below"].includes(fault.kind) && !fault.say);
}

/**
 * One of the answers that are shown.
 * @param {Shown[]} everything
 * @param {string | undefined} key
 */
export function shownNamed(everything, key) {
  return everything.find(({ answer }) => answer.key === key);
}

/**
 * Why an answer is missing, if no entry is at fault.
 * @param {Kit} kit
 * @param {Fault} fault
 */
export function faultWords(kit, fault) {
  const field = kit.lookup.fields.find(({ key }) => key === fault.symbol);
  if (fault.kind === "range" && field?.kind === "number") {
    const { units } = kit.quantities[field.quantity];
    const unit = unitOf(units, inSystem(kit.system, field.unit, field, kit.quantities));
    const { low, high } = rangeSaid(field, unitOf(units, field.unit), unit);
    return `${field.label}: this page covers ${low} to ${withUnit(high, unit.label)}.`;
  }
  return (
    fault.say ||
    (KIND_WORDS[fault.kind] ?? KIND_WORDS.undefined).replace(
      "{name}",
      entryLabel(kit, fault.symbol),
    )
  );
}

/** Name an entry, one inside a list of parts too. @param {Kit} kit @param {string} key */
function entryLabel(kit, key) {
  const fields = kit.lookup.fields.flatMap((field) =>
    field.kind === "parts" ? [field, ...field.fields] : [field],
  );
  return fields.find((field) => field.key === key)?.label ?? "An entry";
}

/**
 * Put this set-up's numbers into a formula.
 * @param {string} template @param {(symbol: string) => string} write
 */
export function fill(template, write) {
  return template.replace(/\{([\w.]+)\}/g, (_, symbol) => write(symbol));
}

/**
 * A symbol that has no digits of its own.
 * @param {import("../recipe/values.js").Value | undefined} value
 */
export function bare(value) {
  return value === undefined || isFault(value) ? "—" : fine(value, 4);
}
