/**
 * Entries that change nothing in a chart or on a curve, and why. The same rules as
 * site_src/face/flat.py.
 *
 * @typedef {import("../model/lookup.js").Field} Field
 * @typedef {import("../model/lookup.js").Answer} Answer
 * @typedef {import("../recipe/values.js").Inputs} Inputs
 * @typedef {import("./cells.js").State} State
 */

import { workOut } from "./cells.js";
import { need, write } from "./dom.js";
import { isShown } from "../form/entries.js";
import { isFault } from "../recipe/values.js";

/**
 * Whether all rows hold the same, and not only gaps.
 * @param {Array<Array<number | null>>} rows
 */
export function isFlat(rows) {
  const [first] = rows;
  if (!first) return false;
  const same = rows.every((row) => row.every((value, n) => value === first[n]));
  return same && first.some((value) => value !== null);
}

/** @template T @param {T[][]} rows @returns {T[][]} */
export function turned(rows) {
  return rows[0].map((_, n) => rows.map((row) => row[n]));
}

/**
 * Say that fields change nothing, and which optional entry overrules them.
 * @param {State} state
 * @param {Answer} answer
 * @param {Field[]} still the fields that change nothing
 * @param {(field: Field) => any[]} valuesOf the values of a field that were tried
 */
function flatWords(state, answer, still, valuesOf) {
  return still
    .map((field) => {
      const ends = [valuesOf(field)[0], valuesOf(field).at(-1)];
      const overruled = filledIn(state.kit.lookup.fields, state.inputs).find(({ key }) => {
        const [a, b] = ends.map((value) =>
          workOut(state, { [key]: null, [field.key]: value }, [answer]).value(answer.symbol),
        );
        return !isFault(a) && !isFault(b) && a !== b;
      });
      return overruled
        ? `${overruled.label} is filled in, so ${field.label} changes nothing here.`
        : `${field.label} changes nothing in this set-up.`;
    })
    .join(" ");
}

/**
 * The optional entries that hold a number.
 * @param {Field[]} fields
 * @param {Inputs} inputs
 */
function filledIn(fields, inputs) {
  return fields.filter(
    (field) =>
      field.kind === "number" && field.default === null && typeof inputs[field.key] === "number",
  );
}

/**
 * Show a chart or a curve, unless one of its entries is not asked for in this set-up; and say which
 * of them change nothing.
 * @param {HTMLElement} section
 * @param {State} state
 * @param {Answer} answer
 * @param {Field[]} fields the entries that it is over
 * @param {Field[]} still those that change nothing
 * @param {(field: Field) => any[]} valuesOf the values of a field that were tried
 * @param {HTMLElement[]} parts hidden if nothing changes along any entry
 */
export function showView(section, state, answer, fields, still, valuesOf, parts) {
  section.hidden = !fields.every((field) => isShown(field, state.entries));
  write(need(section, "[data-flat]"), flatWords(state, answer, still, valuesOf));
  for (const part of parts) part.hidden = still.length === fields.length;
}
