/**
 * What a step of a recipe works with: numbers, or why one can't be had. No DOM.
 *
 * @typedef {{kind: string, symbol: string, say: string}} Fault  why a value can't be had
 * @typedef {number | Fault} Value
 * @typedef {string | number} Source  a symbol or a number
 * @typedef {Object<string, number | string | null | Array<Object<string, any>>>} Inputs
 */

/** Kinds of faults that are a mistake in what was entered. */
export const UNUSABLE = ["range", "choice", "missing"];

/** @param {string} kind @param {string} symbol @param {string} [say] @returns {Fault} */
export function fault(kind, symbol, say = "") {
  return { kind, symbol, say };
}

/** @param {any} value @returns {value is Fault} */
export function isFault(value) {
  return typeof value === "object" && value !== null && "kind" in value;
}

/**
 * A field's value, entered or usual.
 * @param {any} field @param {Inputs} inputs
 */
export function given(field, inputs) {
  return field.key in inputs ? inputs[field.key] : field.default;
}
