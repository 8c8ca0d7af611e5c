/**
 * A worked-out value as an entry of another page. No DOM.
 *
 * @typedef {import("../model/lookup.js").NumberField} NumberField
 * @typedef {import("../model/quantities.js").Quantities} Quantities
 */

import { decimalsFor, fixed, powerOfTen, trimmed } from "../face/numbers.js";
import { fromSi } from "../model/quantities.js";
import { declaredOf } from "./entries.js";

/** Digits that it is carried over with: a hundredth of the last one shown. */
const DIGITS = 6;

/**
 * Rounding never carries it out of the field's range.
 * @param {NumberField} field
 * @param {number} si
 * @param {Quantities} quantities
 * @returns {import("./entries.js").NumberEntry}
 */
export function fedEntry(field, si, quantities) {
  const value = fromSi(si, declaredOf(field, quantities));
  const size = value === 0 ? 0 : powerOfTen(Math.abs(value)).exponent;
  const text = trimmed(fixed(value, Math.max(decimalsFor(field.step), DIGITS - 1 - size)));
  const inside = Math.min(Math.max(Number(text), field.low), field.high);
  const roundedOut = field.low <= value && value <= field.high && Number(text) !== inside;
  return { text: roundedOut ? String(inside) : text, unit: field.unit };
}
