/**
 * A scale with round divisions: the ticks of a drawn rule and of a curve's axes. The same rules as
 * site_src/face/scale.py. No DOM.
 *
 * @typedef {{first: number, last: number, spacing: number, digit: number, decimals: number}} Scale
 * @typedef {{at: string, size: number, label: string}} Tick  size: 0 fine, 1 middle, 2 full
 */

import { powerOfTen, shown } from "./numbers.js";

/**
 * Even divisions of 1, 2 or 5 that cover a range.
 * @param {number} low
 * @param {number} high
 * @param {number} count about how many divisions
 * @returns {Scale}
 */
export function scale(low, high, count) {
  const span = high > low ? high - low : Math.max(Math.abs(high), 1);
  let { exponent, power } = powerOfTen(span / count);
  let digit = [1, 2, 5].find((each) => each * power >= (span / count) * (1 - 1e-9)) ?? 10;
  if (digit === 10) {
    digit = 1;
    exponent += 1;
    power *= 10;
  }
  const spacing = digit * power;
  const first = Math.floor(low / spacing + 1e-9);
  const last = Math.max(Math.ceil((low + span) / spacing - 1e-9), first + 1);
  return { first, last, spacing, digit, decimals: Math.max(0, -exponent) };
}

/** @param {Scale} marks @param {number} value @param {number} start @param {number} end */
export function place(marks, value, start, end) {
  const low = marks.first * marks.spacing;
  return start + ((value - low) / (marks.last * marks.spacing - low)) * (end - start);
}

/** @param {Scale} marks @returns {Array<[number, string]>} */
export function labels(marks) {
  return Array.from({ length: marks.last - marks.first + 1 }, (_, n) => {
    const value = (marks.first + n) * marks.spacing;
    return [value, shown(value, marks.decimals)];
  });
}
