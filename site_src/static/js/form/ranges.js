/**
 * A number field's range, and its even steps up and down, in any of its units. No DOM.
 *
 * @typedef {{low: number, high: number, step: number, inch?: {unit: string, step: number} | null}}
 *   Ranged
 * @typedef {import("../model/quantities.js").Unit} Unit
 * @typedef {import("./typed.js").Typed} Typed
 */

import { decimalsFor, fixed, plain, powerOfTen, trimmed } from "../face/numbers.js";
import { convert, convertDifference } from "../model/quantities.js";

/** Two values whose ratio is nearer to 1 than this differ by rounding only. */
const SAME = 1e-9;

/**
 * What a field steps by in a unit: in that of an inch shop what the trade steps by, in others as
 * much as in the declared one.
 * @param {Ranged} field @param {Unit} declared @param {Unit} unit
 */
export function stepIn(field, declared, unit) {
  return field.inch?.unit === unit.key
    ? field.inch.step
    : convertDifference(field.step, declared, unit);
}

/**
 * A number field's range in a unit, rounded inwards, so that the field takes the ends as they are
 * shown.
 * @param {Ranged} field @param {Unit} declared @param {Unit} unit
 * @returns {{low: string, high: string}} as typed, without commas
 */
export function rangeIn(field, declared, unit) {
  const finest = decimalsFor(stepIn(field, declared, unit));
  return {
    low: inwards(field, declared, unit, finest, 1),
    high: inwards(field, declared, unit, finest, -1),
  };
}

/**
 * The same to be said: in another unit than the declared one with no more digits than a step has,
 * but two that count.
 * @param {Ranged} field @param {Unit} declared @param {Unit} unit
 */
export function rangeSaid(field, declared, unit) {
  if (unit.key === declared.key) return rangeIn(field, declared, unit);
  const finest = decimalsFor(stepIn(field, declared, unit));
  const coarse = (/** @type {number} */ end) => {
    const size = Math.abs(convert(end, declared, unit));
    const needed = size < SAME ? 0 : Math.max(0, 1 - powerOfTen(size).exponent);
    return Math.min(finest, Math.max(finest - 1, needed));
  };
  return {
    low: inwards(field, declared, unit, coarse(field.low), 1),
    high: inwards(field, declared, unit, coarse(field.high), -1),
  };
}

/**
 * @param {Ranged} field
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
 * @param {{low: number, high: number, step?: number}} field
 * @param {Unit} declared
 * @param {Unit} unit
 * @param {number} value
 */
export function fits(field, declared, unit, value) {
  const here = inDeclared(field, declared, unit, value);
  return here >= field.low && here <= field.high;
}

/**
 * A value in the declared unit: an end of the range is that end, however its conversion rounds.
 * @param {{low: number, high: number, step?: number}} field
 * @param {Unit} declared @param {Unit} unit @param {number} value
 */
export function inDeclared({ low, high, step = 0 }, declared, unit, value) {
  const here = convert(value, unit, declared);
  return [low, high].find((end) => Math.abs(here - end) <= SAME * step) ?? here;
}

/**
 * The text of a value in another unit; if the field takes the value, it takes the text too.
 * @param {Ranged} field
 * @param {Unit} declared @param {Typed} typed @param {Unit} to
 */
export function textIn(field, declared, typed, to) {
  const text = plain(convert(typed.value, typed.unit, to), stepIn(field, declared, to));
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
 * @param {Ranged} field
 * @param {Unit} declared @param {Unit} unit @param {number} value in that unit @param {1 | -1} way
 * @returns {string | null} null at the end
 */
export function nextEven(field, declared, unit, value, way) {
  const isNatural = unit.key === declared.key || unit.key === field.inch?.unit;
  const increment = evenIncrement(stepIn(field, declared, unit), isNatural);
  const count =
    way > 0 ? Math.floor(value / increment + SAME) + 1 : Math.ceil(value / increment - SAME) - 1;
  const text = trimmed(fixed(count * increment, Math.max(0, 2 - powerOfTen(increment).exponent)));
  if (fits(field, declared, unit, Number(text))) return text;
  const { low, high } = rangeIn(field, declared, unit);
  const end = way > 0 ? high : low;
  return way * (Number(end) - value) > SAME * Math.abs(value) ? end : null;
}

/**
 * Listed values, moved to the nearest even ones of another unit; both in the declared unit.
 * @param {Ranged} field @param {Unit} declared @param {Unit} unit @param {number[]} values
 */
export function evenly(field, declared, unit, values) {
  const there = values.map((value) => convert(value, declared, unit));
  const gaps = there.slice(1).map((value, n) => Math.abs(value - there[n]));
  // Little against what lies between two of them, so that no two become one.
  const increment = evenIncrement(Math.min(...gaps) / 2.5, false);
  return values.map((value, n) => {
    const count = Math.round(there[n] / increment);
    const text = fixed(count * increment, Math.max(0, 2 - powerOfTen(increment).exponent));
    const moved = inDeclared(field, declared, unit, Number(text));
    return moved >= field.low && moved <= field.high ? moved : value;
  });
}

/**
 * An increment that reads well: 1, 2 or 5 times a power of ten.
 * @param {number} increment
 * @param {boolean} isNatural whether it does already
 */
function evenIncrement(increment, isNatural) {
  if (isNatural) return increment;
  const { power } = powerOfTen(increment);
  const lead = increment / power;
  return power * (lead < 1.42 ? 1 : lead < 3.17 ? 2 : lead < 7.08 ? 5 : 10);
}
