/**
 * Where the marks of a drawn rule and of a curve lie, by the same rules as site_src/drawing.py.
 * No DOM. Positions are in the drawing's own units.
 *
 * @typedef {{first: number, last: number, step: number, digit: number, decimals: number}} Scale
 * @typedef {{at: string, size: number, label: string}} Tick
 * @typedef {{x: number, y: number | null, limit: number | null, current: boolean}} Dot
 */

import { fixed, powerOfTen, shown } from "./numbers.js";

export const RULE_WIDTH = 340;
const RULE_MARGIN = 27;
const [LEFT, RIGHT, TOP, BOTTOM] = [54, 334, 34, 224];
const HATCH = 7;
const DIGIT_WIDTH = 8.5;
const [SHARE_LEFT, SHARE_RIGHT, SHARE_MOST, SHARE_HATCH] = [14, 326, 1.25, 5];

/** Fine divisions of a step, by its first digit, as on a steel rule. */
const MINOR = /** @type {Object<number, number>} */ ({ 1: 10, 2: 4, 5: 5 });

/**
 * Even steps of 1, 2 or 5 that cover a range.
 * @param {number} low
 * @param {number} high
 * @param {number} steps
 * @returns {Scale}
 */
export function scale(low, high, steps) {
  const span = high > low ? high - low : Math.max(Math.abs(high), 1);
  let { exponent, power } = powerOfTen(span / steps);
  let digit = [1, 2, 5].find((each) => each * power >= (span / steps) * (1 - 1e-9)) ?? 10;
  if (digit === 10) {
    digit = 1;
    exponent += 1;
    power *= 10;
  }
  const step = digit * power;
  const first = Math.floor(low / step + 1e-9);
  const last = Math.max(Math.ceil((low + span) / step - 1e-9), first + 1);
  return { first, last, step, digit, decimals: Math.max(0, -exponent) };
}

/** @param {Scale} marks @param {number} value @param {number} start @param {number} end */
function place(marks, value, start, end) {
  const low = marks.first * marks.step;
  return start + ((value - low) / (marks.last * marks.step - low)) * (end - start);
}

/** @param {Scale} marks @returns {Array<[number, string]>} */
function labels(marks) {
  return Array.from({ length: marks.last - marks.first + 1 }, (_, n) => {
    const value = (marks.first + n) * marks.step;
    return [value, shown(value, marks.decimals)];
  });
}

/**
 * The marks of a rule; value, limit and near mark in the unit shown.
 * @param {string} side @param {import("./words.js").Ends} ends
 */
export function ruleMarks(side, { value, limit, near }) {
  const [low, high] = reach(value, limit, near);
  const marks = scale(low, high, 5);
  const [start, end] = [RULE_MARGIN, RULE_WIDTH - RULE_MARGIN];
  /** @param {number} at */
  const x = (at) => fixed(place(marks, at, start, end), 1);
  const far = side === "max" ? RULE_WIDTH - 1 : 1;
  const nearZone = ordered(x(near), x(limit));
  return {
    ticks: ticks(marks, start, end),
    pointer: x(value),
    limit: x(limit),
    near: nearZone,
    beyond: ordered(x(limit), fixed(far, 1)),
    hatch: hatch(nearZone),
  };
}

/**
 * From nought where that is near enough.
 * @param {number} value
 * @param {number} limit
 * @param {number} near
 */
function reach(value, limit, near) {
  const least = Math.min(value, limit, near);
  const most = Math.max(value, limit, near);
  const room = most > least ? 0.12 * (most - least) : 0.5 * Math.abs(most);
  if (least >= 0 && least < 0.75 * most) return [0, most + 0.08 * most];
  return [least - 2 * room, most + 2 * room];
}

/** @param {Scale} marks @param {number} start @param {number} end @returns {Tick[]} */
function ticks(marks, start, end) {
  const finer = MINOR[marks.digit];
  const numbers = spaced(marks, (end - start) / (marks.last - marks.first));
  return Array.from({ length: (marks.last - marks.first) * finer + 1 }, (_, n) => {
    const value = ((marks.first * finer + n) * marks.step) / finer;
    const size = n % finer === 0 ? 2 : finer % 2 === 0 && n % finer === finer / 2 ? 1 : 0;
    return {
      at: fixed(place(marks, value, start, end), 1),
      size,
      label: size === 2 ? numbers[n / finer] : "",
    };
  });
}

/**
 * A number for each full mark; for every second one only, where all would touch.
 * @param {Scale} marks
 * @param {number} room
 */
function spaced(marks, room) {
  const texts = labels(marks).map(([, label]) => label);
  const touching = Math.max(...texts.map((text) => text.length)) * DIGIT_WIDTH + DIGIT_WIDTH > room;
  return texts.map((text, n) => (touching && (marks.first + n) % 2 ? "" : text));
}

/** @param {string} one @param {string} other @returns {[string, string]} */
function ordered(one, other) {
  return Number(one) <= Number(other) ? [one, other] : [other, one];
}

/** Slanted strokes across a zone. @param {[string, string]} zone */
function hatch([left, right]) {
  const count = Math.trunc((Number(right) - Number(left)) / HATCH + 1e-9);
  return Array.from(
    { length: Math.max(0, count) },
    (_, n) => `M${fixed(Number(left) + n * HATCH, 1)} 86l7 -14`,
  ).join("");
}

/**
 * The marks of a share of a limit, which is 1; what doesn't fit runs to the end.
 * @param {number} used
 * @param {number} near
 */
export function shareMarks(used, near) {
  /** @param {number} share */
  const x = (share) => fixed(SHARE_LEFT + (share / SHARE_MOST) * (SHARE_RIGHT - SHARE_LEFT), 1);
  const far = fixed(RULE_WIDTH - 1, 1);
  const zone = [x(near), x(1)];
  const strokes = Math.trunc((Number(zone[1]) - Number(zone[0])) / SHARE_HATCH + 1e-9);
  return {
    used: used > SHARE_MOST ? far : x(Math.max(used, 0)),
    limit: x(1),
    near: zone,
    beyond: [x(1), far],
    hatch: Array.from(
      { length: Math.max(0, strokes) },
      (_, n) => `M${fixed(Number(zone[0]) + n * SHARE_HATCH, 1)} 49l5 -16`,
    ).join(""),
    ticks: Array.from({ length: 26 }, (_, n) => {
      const numbered = n % 5 === 0 && n <= 20;
      return { at: x(n / 20), size: numbered ? 2 : 0, label: numbered ? String(5 * n) : "" };
    }),
  };
}

/**
 * How a text hangs on its mark, so that it stays inside the drawing.
 * @param {string} x
 */
export function anchor(x) {
  const share = Number(x) / RULE_WIDTH;
  return share < 0.25 ? "start" : share > 0.75 ? "end" : "middle";
}

/**
 * A curve's points and the ticks of its axes; null if there is nothing to draw.
 * @param {Dot[]} dots
 */
export function curveMarks(dots) {
  const heights = dots.flatMap(({ y, limit }) => [y, limit]).filter((y) => y !== null);
  if (!heights.length) return null;
  const wide = dots.map(({ x }) => x);
  const across = scale(Math.min(...wide), Math.max(...wide), 5);
  const [low, high] = [Math.min(...heights), Math.max(...heights)];
  const up = scale(low >= 0 && low < 0.6 * high ? 0 : low, high, 5);
  /** @param {number} x */
  const placeX = (x) => fixed(place(across, x, LEFT, RIGHT), 1);
  /** @param {number} y */
  const placeY = (y) => fixed(place(up, y, BOTTOM, TOP), 1);
  const here = dots.find(({ current, y }) => current && y !== null);
  return {
    xTicks: labels(across).map(([value, label]) => ({ at: placeX(value), label })),
    yTicks: labels(up).map(([value, label]) => ({ at: placeY(value), label })),
    runs: runs(
      dots.map(({ x, y }) => [x, y]),
      placeX,
      placeY,
    ),
    limits: runs(
      dots.map(({ x, limit }) => [x, limit]),
      placeX,
      placeY,
    ),
    current: here && here.y !== null ? [placeX(here.x), placeY(here.y)] : null,
  };
}

/**
 * The unbroken stretches of a curve, two points or more each.
 * @param {Array<[number, number | null]>} points
 * @param {(x: number) => string} placeX @param {(y: number) => string} placeY
 */
function runs(points, placeX, placeY) {
  /** @type {string[][]} */
  const found = [[]];
  for (const [x, y] of points) {
    if (y === null) found.push([]);
    else found[found.length - 1].push(`${placeX(x)},${placeY(y)}`);
  }
  return found.filter((run) => run.length > 1).map((run) => run.join(" "));
}
