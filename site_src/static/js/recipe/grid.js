/**
 * Tables of numbers, looked up forward and inverse. No DOM.
 *
 * The order of every operation is the one that site_src/tables/grid.py states, so that the bits are
 * the same as Python's.
 *
 * @typedef {import("./values.js").Fault} Fault
 * @typedef {import("./values.js").Value} Value
 * @typedef {{key: string, kind: "linear" | "cubic" | "list", knots: number[]}} Axis
 * @typedef {{name: string, axes: Axis[], strides: number[], numbers: Float64Array}} Grid
 *   `strides`: how many numbers further an axis's next one is
 */

import { fault } from "./values.js";

const HALVINGS = 52;

/**
 * Turn a table's part of the file into a grid.
 * @param {{name: string, axes: Axis[], numbers: string, offset?: number}} meta its entry in
 *   lookups.json
 * @param {ArrayBuffer} buffer the file: little-endian numbers, the last axis running fastest
 * @returns {Grid}
 */
export function decodeTable(meta, buffer) {
  const size = meta.numbers === "f4" ? 4 : 8;
  const strides = [];
  let count = 1;
  for (const axis of [...meta.axes].reverse()) {
    strides.unshift(count);
    count *= axis.kind === "cubic" ? 2 * axis.knots.length : axis.knots.length;
  }
  const start = meta.offset ?? 0;
  if (start + size * count > buffer.byteLength) {
    throw new Error(`the tables' file ends before the ${count} numbers of ${meta.name}`);
  }
  const view = new DataView(buffer, start, size * count);
  const numbers = new Float64Array(count);
  for (let n = 0; n < count; n += 1) {
    numbers[n] = size === 4 ? view.getFloat32(4 * n, true) : view.getFloat64(8 * n, true);
  }
  return { name: meta.name, axes: meta.axes, strides, numbers };
}

/** @param {Axis} axis @param {number} place @param {any} step @returns {Fault | null} */
export function outside({ key, knots }, place, step) {
  if (place < knots[0]) return fault("below", `${step.as}:${key}`, step.below?.[key] ?? "");
  if (place > knots[knots.length - 1]) {
    return fault("above", `${step.as}:${key}`, step.above?.[key] ?? "");
  }
  return null;
}

/**
 * The last interval whose left knot is at or before a place.
 * @param {number[]} knots
 * @param {number} place
 */
function interval(knots, place) {
  let low = 0;
  let high = knots.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (knots[middle] <= place) low = middle;
    else high = middle;
  }
  return low;
}

/**
 * Where a table's numbers around a place are, and what they are: a look-up is done with them before
 * the next begins, so that all can have the same room.
 */
let spots = new Int32Array(1024);
let around = new Float64Array(1024);
let count = 0;

/**
 * How they are brought together, axis by axis: by which share of an interval of which size. No
 * table has nearly as many axes.
 */
const shares = new Float64Array(16);
const sizes = new Float64Array(16);
const isCubic = new Uint8Array(16);
let folds = 0;

/**
 * Find a table's numbers around a place.
 * @param {Grid} grid @param {Float64Array} values @param {number[]} at where its places are:
 *   one for each axis but the one that is left out
 * @param {number} [without] an axis that is left at its first entry
 */
export function gather({ axes, strides }, values, at, without = -1) {
  count = 1;
  folds = 0;
  spots[0] = 0;
  // Each axis is put inside those before it, so that the last runs fastest.
  for (let n = 0, met = 0; n < axes.length; n += 1) {
    if (n === without) continue;
    const place = values[at[met]];
    met += 1;
    const { kind, knots } = axes[n];
    if (kind === "list") {
      spread(Math.trunc(place) * strides[n], strides[n], 1);
      continue;
    }
    const left = interval(knots, place);
    const parts = kind === "cubic" ? 2 : 1;
    spread(parts * left * strides[n], strides[n], 2 * parts);
    sizes[folds] = knots[left + 1] - knots[left];
    shares[folds] = (place - knots[left]) / sizes[folds];
    isCubic[folds] = parts - 1;
    folds += 1;
  }
}

/**
 * Put several entries of another axis in the place of each number.
 * @param {number} from where they begin @param {number} stride @param {number} times entries
 */
function spread(from, stride, times) {
  if (count * times > spots.length) {
    const room = new Int32Array(2 * count * times);
    room.set(spots.subarray(0, count));
    spots = room;
    around = new Float64Array(room.length);
  }
  for (let n = count - 1; n >= 0; n -= 1) {
    const spot = spots[n] + from;
    for (let k = times - 1; k >= 0; k -= 1) spots[n * times + k] = spot + k * stride;
  }
  count *= times;
}

/**
 * The value at the place that was gathered: axes contracted from the last to the first.
 * @param {Float64Array} numbers of the table
 * @param {number} [offset] to another entry of the axis that was left out
 * @returns {number}
 */
export function contract(numbers, offset = 0) {
  for (let n = 0; n < count; n += 1) around[n] = numbers[spots[n] + offset];
  let left = count;
  for (let fold = folds - 1; fold >= 0; fold -= 1) {
    const share = shares[fold];
    const size = sizes[fold];
    if (isCubic[fold]) {
      left /= 4;
      for (let n = 0, at = 0; n < left; n += 1, at += 4) {
        const slope = around[at + 1];
        around[n] = hermite(share, size, around[at], slope, around[at + 2], around[at + 3]);
      }
    } else {
      left /= 2;
      for (let n = 0, at = 0; n < left; n += 1, at += 2) {
        around[n] = around[at] + (around[at + 1] - around[at]) * share;
      }
    }
  }
  return around[0];
}

/**
 * The cubic through two values and two slopes, at a share t of the interval.
 * @param {number} t @param {number} step
 * @param {number} p0 @param {number} s0 @param {number} p1 @param {number} s1
 */
function hermite(t, step, p0, s0, p1, s1) {
  const m0 = s0 * step;
  const m1 = s1 * step;
  const d = p1 - p0;
  const bend = 3 * d - 2 * m0 - m1;
  const twist = m0 + m1 - 2 * d;
  return p0 + t * (m0 + t * (bend + t * twist));
}

/**
 * Where along a monotone axis the table takes a value, all else being as it was gathered.
 * @param {Grid} grid @param {number} number of the axis @param {any} step @param {number} target
 * @returns {Value}
 */
export function invert({ axes, strides, numbers }, number, step, target) {
  const { key, kind, knots } = axes[number];
  const parts = kind === "cubic" ? 2 : 1;
  const stride = strides[number];
  let low = 0;
  let high = knots.length - 1;
  const least = contract(numbers);
  const most = contract(numbers, high * parts * stride);
  const rising = most > least;
  const symbol = `${step.as}:${key}`;
  if (rising ? target < least : target > least) return fault("below", symbol, step.below);
  if (rising ? target > most : target < most) return fault("above", symbol, step.above);
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    const value = contract(numbers, middle * parts * stride);
    if (rising ? value <= target : value >= target) low = middle;
    else high = middle;
  }
  const size = knots[low + 1] - knots[low];
  const ends = [0, 0, 0, 0];
  for (let n = 0; n < 2 * parts; n += 1) ends[n] = contract(numbers, (low * parts + n) * stride);
  const t =
    parts === 1 ? (target - ends[0]) / (ends[1] - ends[0]) : halve(size, ends, rising, target);
  return knots[low] + size * t;
}

/** @param {number} step @param {number[]} ends @param {boolean} rising @param {number} target */
function halve(step, ends, rising, target) {
  let low = 0;
  let high = 1;
  for (let n = 0; n < HALVINGS; n += 1) {
    const middle = (low + high) * 0.5;
    const value = hermite(middle, step, ends[0], ends[1], ends[2], ends[3]);
    if (rising ? value <= target : value >= target) low = middle;
    else high = middle;
  }
  return (low + high) * 0.5;
}
