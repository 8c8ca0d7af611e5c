/**
 * Fields along which a table or a curve doesn't change, and why. No DOM.
 *
 * @typedef {import("../model/lookup.js").Field} Field
 * @typedef {import("../model/lookup.js").Answer} Answer
 * @typedef {import("../recipe.js").Outcome} Outcome
 * @typedef {import("../recipe.js").Inputs} Inputs
 */

import { isFault } from "../recipe.js";

/**
 * Whether all rows hold the same, which is not nothing.
 * @param {Array<Array<number | null>>} rows
 */
export function isFlat(rows) {
  const same = rows.every((row) => row.every((value, n) => value === rows[0][n]));
  return same && rows[0].some((value) => value !== null);
}

/** @template T @param {T[][]} rows @returns {T[][]} */
export function turned(rows) {
  return rows[0].map((_, n) => rows.map((row) => row[n]));
}

/**
 * Say that fields change nothing, and which optional entry overrules them.
 * @param {Field[]} still the fields that change nothing
 * @param {Field[]} fields @param {Inputs} inputs @param {Answer} answer
 * @param {(instead: Inputs) => Outcome} workOut
 * @param {(field: Field) => any[]} ends two values of a field
 */
export function flatWords(still, fields, inputs, answer, workOut, ends) {
  return still
    .map((field) => {
      const [one, other] = ends(field);
      const overruled = filledIn(fields, inputs).find(({ key }) => {
        const [a, b] = [one, other].map(
          (value) => workOut({ [key]: null, [field.key]: value }).symbols[answer.symbol],
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
