/**
 * A number field's range, and its even steps up and down, in any of its units. No DOM.
 *
 * @typedef {import("../model/quantities.js").Unit} Unit
 * @typedef {import("./typed.js").Typed} Typed
 */

import { decimalsFor, fixed, plain, powerOfTen, trimmed } from "../face/numbers.js";
import { convert, convertDifference } from "../model/quantities.js";

/** Two values whose ratio is nearer to 1 than this differ by rounding only. */
const SAME = 1e-9;

/**
 * A number field's range in a unit, rounded inwards, so that the field takes the ends as they are
 * shown.
 * @param {{low: number, high: number, step: number}} field
 * @param {Unit} declared @param {Unit} unit
 * @returns {{low: string, high: string}} as typed, without commas
 */
export function rangeIn(field, declared, unit) {
  const finest = decimalsFor(convertDifference(field.step, declared, unit));
  return {
    low: inwards(field, declared, unit, finest, 1),
    high: inwards(field, declared, unit, finest, -1),
  };
}

/**
 * @param {{low: number, high: number}} field
 * @param {Unit} declared
 * @param {Unit} unit
 * @param {number} finest
 * @param {1 | -1} way
 */
function inwards(field, declared, unit, finest, way) {
  const end = way > 0 ? field.low : field.high;
  const exact = convert(end, declared, unit);
  for (let decimals = finest; decimals < 12; decimals += 1) {
    const grain = Number(`1e-${decimals}`);
    for (const nudge of [0, way]) {
      const text = fixed(Number(fixed(exact, decimals)) + nudge * grain, decimals);
      if (fits(field, declared, unit, Number(text))) return trimmed(text);
    }
  }
  return String(exact);
}

/**
 * Whether a field takes a value given in a unit.
 * @param {{low: number, high: number}} field
 * @param {Unit} declared
 * @param {Unit} unit
 * @param {number} value
 */
export function fits(field, declared, unit, value) {
  const here = convert(value, unit, declared);
  return here >= field.low && here <= field.high;
}

/**
 * The text of a value in another unit; if the field takes the value, it takes the text too.
 * @param {{low: number, high: number, step: number}} field
 * @param {Unit} declared @param {Typed} typed @param {Unit} to
 */
export function textIn(field, declared, typed, to) {
  const text = plain(
    convert(typed.value, typed.unit, to),
    convertDifference(field.step, declared, to),
  );
  if (!fits(field, declared, typed.unit, typed.value) || fits(field, declared, to, Number(text)))
    return text;
  const { low, high } = rangeIn(field, declared, to);
  return Number(text) < Number(low) ? low : high;
}

/**
 * Whether two values differ by rounding only.
 * @param {number} a @param {number} b
 */
export function isSame(a, b) {
  return Math.abs(a - b) <= SAME * Math.max(Math.abs(a), Math.abs(b));
}

/**
 * The next multiple of a field's increment, up or down, as text; at last its range's end.
 * @param {{low: number, high: number, step: number}} field
 * @param {Unit} declared @param {Unit} unit @param {number} value in that unit @param {1 | -1} way
 * @returns {string | null} null at the end
 */
export function nextEven(field, declared, unit, value, way) {
  const increment = evenIncrement(
    convertDifference(field.step, declared, unit),
    unit.key === declared.key,
  );
  const count =
    way > 0 ? Math.floor(value / increment + SAME) + 1 : Math.ceil(value / increment - SAME) - 1;
  const text = trimmed(fixed(count * increment, Math.max(0, 2 - powerOfTen(increment).exponent)));
  if (fits(field, declared, unit, Number(text))) return text;
  const { low, high } = rangeIn(field, declared, unit);
  const end = way > 0 ? high : low;
  return way * (Number(end) - value) > SAME * Math.abs(value) ? end : null;
}

/**
 * An increment that reads well: 1, 2 or 5 times a power of ten.
 * @param {number} increment
 * @param {boolean} declared
 */
function evenIncrement(increment, declared) {
  if (declared) return increment;
  const { power } = powerOfTen(increment);
  const lead = increment / power;
  return power * (lead < 1.42 ? 1 : lead < 3.17 ? 2 : lead < 7.08 ? 5 : 10);
}
