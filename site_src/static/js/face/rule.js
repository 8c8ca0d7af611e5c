/**
 * A margin drawn as a steel rule: a pointer at the value, a notch at the limit, a hatched zone near
 * it. The marks are placed by the same rules as in site_src/face/rule.py.
 *
 * @typedef {import("./scale.js").Scale} Scale
 * @typedef {import("./scale.js").Tick} Tick
 */

import { draw } from "./dom.js";
import { fixed } from "./numbers.js";
import { labels, place, scale } from "./scale.js";
import { answerText } from "./words.js";

export const RULE_WIDTH = 340;
const RULE_MARGIN = 27;
const HATCH = 7;
const DIGIT_WIDTH = 8.5;

/** Fine divisions of a spacing, by its first digit, as on a steel rule. */
const MINOR = /** @type {Object<number, number>} */ ({ 1: 10, 2: 4, 5: 5 });

const LONG = [7, 11, 16];

/** @param {import("./words.js").Shown} shown an answer that was judged @returns {SVGElement} */
export function drawRule({ answer, unit, ends, words }) {
  if (!ends || !answer.band) throw new Error(`${answer.key} has no limit to draw`);
  const marks = ruleMarks(answer.band.side, ends);
  return /** @type {SVGElement} */ (
    draw(
      "svg",
      {
        class: "rule",
        viewBox: "0 0 340 112",
        role: "img",
        "aria-label": `${answer.label}: ${words}`,
      },
      [
        draw("rect", { class: "rule-body", x: "1", y: "34", width: "338", height: "52" }),
        drawZone("rule-near", marks.near, "72", "14"),
        draw("path", { class: "rule-hatch", d: marks.hatch }),
        drawZone("rule-beyond", marks.beyond, "72", "14"),
        draw("path", {
          class: "rule-ticks",
          d: marks.ticks.map(({ at, size }) => `M${at} 34v${LONG[size]}`).join(""),
        }),
        ...marks.ticks
          .filter(({ label }) => label)
          .map(({ at, label }) =>
            draw("text", { class: "rule-number", x: at, y: "65", "text-anchor": "middle" }, [
              label,
            ]),
          ),
        draw("path", { class: "rule-notch", d: `M${marks.limit} 70l-8 17h16z` }),
        draw(
          "text",
          { class: "rule-limit", x: marks.limit, y: "105", "text-anchor": anchor(marks.limit) },
          [`limit ${answerText(answer, unit, ends.limit)}`],
        ),
        draw("path", { class: "rule-pointer", d: `M${marks.pointer} 36l-9 -14h18z` }),
        draw(
          "text",
          { class: "rule-value", x: marks.pointer, y: "17", "text-anchor": anchor(marks.pointer) },
          [answerText(answer, unit, ends.value)],
        ),
      ],
    )
  );
}

/**
 * @param {string} name
 * @param {string[]} ends
 * @param {string} top
 * @param {string} height
 */
export function drawZone(name, [left, right], top, height) {
  const width = fixed(Number(right) - Number(left), 1);
  return draw("rect", { class: name, x: left, y: top, width, height });
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
    hatch: hatch(nearZone, HATCH, "86l7 -14"),
  };
}

/**
 * The range that a rule covers: from zero, if zero is near enough.
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
    const value = ((marks.first * finer + n) * marks.spacing) / finer;
    const size = n % finer === 0 ? 2 : finer % 2 === 0 && n % finer === finer / 2 ? 1 : 0;
    return {
      at: fixed(place(marks, value, start, end), 1),
      size,
      label: size === 2 ? numbers[n / finer] : "",
    };
  });
}

/**
 * A number for each full mark, or for every second one if they would touch.
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

/**
 * Slanted strokes across a zone.
 * @param {string[]} zone
 * @param {number} apart how far they are from each other
 * @param {string} stroke what follows the place where one begins
 */
export function hatch([left, right], apart, stroke) {
  const count = Math.trunc((Number(right) - Number(left)) / apart + 1e-9);
  return Array.from(
    { length: Math.max(0, count) },
    (_, n) => `M${fixed(Number(left) + n * apart, 1)} ${stroke}`,
  ).join("");
}

/**
 * How a text is anchored at its mark, so that it stays inside the drawing.
 * @param {string} x
 */
export function anchor(x) {
  const share = Number(x) / RULE_WIDTH;
  return share < 0.25 ? "start" : share > 0.75 ? "end" : "middle";
}
