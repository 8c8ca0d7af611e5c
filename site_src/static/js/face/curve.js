/**
 * Curves of this set-up, with their axes, the limit and the current point; a table holds
 * the same numbers. The same rules as site_src/face/curve.py.
 *
 * @typedef {import("../model/lookup.js").CurveView} CurveView
 * @typedef {import("./cells.js").State} State
 * @typedef {{x: number, y: number | null, limit: number | null, current: boolean}} Dot
 */

import {
  answerCell,
  answerName,
  axisName,
  drawTable,
  headText,
  Notes,
  replaceTable,
  shownUnit,
  withOwn,
  workOut,
} from "./cells.js";
import { draw, need } from "./dom.js";
import { isFlat, showView } from "./flat.js";
import { fixed, NO_CELL } from "./numbers.js";
import { labels, place, scale } from "./scale.js";
import { showAnswer } from "./words.js";
import { declaredOf } from "../form/entries.js";
import { answerNamed, numberNamed } from "../model/lookup.js";
import { convert } from "../model/quantities.js";
import { given } from "../recipe/values.js";

const [LEFT, RIGHT, TOP, BOTTOM] = [54, 334, 34, 224];

/** @param {ParentNode} page @param {State} state */
export function curvesOf(page, state) {
  return state.kit.lookup.views.curves.map(
    (view, n) => () => showCurve(need(page, `[data-curve="${n}"]`), view, state),
  );
}

/**
 * @param {HTMLElement} section
 * @param {CurveView} view
 * @param {State} state
 */
function* showCurve(section, view, state) {
  const notes = new Notes();
  const field = numberNamed(state.kit.lookup, view.over);
  const answer = answerNamed(state.kit.lookup, view.answer);
  const declared = declaredOf(field, state.kit.quantities);
  const unit = shownUnit(state, field) ?? declared;
  const own = /** @type {any} */ (given(field, state.inputs));
  const values = withOwn(view.values, own);
  const along = view.at ? answerNamed(state.kit.lookup, view.at) : null;
  /** @type {Dot[]} */
  const dots = [];
  /** @type {import("./cells.js").TableRow[]} */
  const rows = [];
  for (const value of values) {
    yield;
    const current = value === own;
    const instead = { [field.key]: value };
    const outcome = workOut(state, instead, along ? [answer, along] : [answer]);
    const placed = along && showAnswer(state.kit, along, outcome, state.unitFor(along), []);
    if (placed && placed.value === null) continue;
    const problems = state.problems.filter(({ entry }) => entry !== field.key);
    const shown = showAnswer(state.kit, answer, outcome, state.unitFor(answer), problems);
    dots.push({
      x: placed ? Number(placed.value) : convert(value, declared, unit),
      y: shown.value,
      limit: shown.ends?.limit ?? null,
      current,
    });
    const cell = { ...dotCell(shown, notes), current };
    const head = placed ? placed.text : headText(state, field, value);
    rows.push({ head, current, cells: [cell] });
  }
  const across = along ? answerName(state, along) : axisName(state, field);
  const up = answerName(state, answer);
  const drawing = drawCurve(
    dots,
    across,
    up,
    `${view.title}. The same numbers are in the table below.`,
  );
  need(section, "[data-drawing]").replaceChildren(
    drawing ?? "No curve: this set-up has no such answer.",
  );
  replaceTable(
    need(section, "[data-table]"),
    drawTable(view.title, across, [{ text: up }], rows, notes),
  );
  const still = isFlat(dots.map(({ y, limit }) => [y, limit])) ? [field] : [];
  showView(section, state, answer, [field], still, () => values, [
    need(section, "[data-drawing]"),
    need(section, ".numbers"),
  ]);
}

/** @param {import("./words.js").Shown} shown @param {Notes} notes */
function dotCell(shown, notes) {
  return shown.fault ? { text: NO_CELL, note: notes.mark(shown.words) } : answerCell(shown, notes);
}

/**
 * @param {Dot[]} dots
 * @param {string} across name and unit of the axis across @param {string} up of the one up
 * @param {string} label said in place of the drawing
 * @returns {Element | null} null if there is nothing to draw
 */
export function drawCurve(dots, across, up, label) {
  const marks = curveMarks(dots);
  if (!marks) return null;
  const { xTicks, yTicks, current } = marks;
  return draw("svg", { class: "curve", viewBox: "0 0 360 272", role: "img", "aria-label": label }, [
    draw("path", {
      class: "curve-lines",
      d:
        xTicks.map(({ at }) => `M${at} 34V224`).join("") +
        yTicks.map(({ at }) => `M54 ${at}H334`).join(""),
    }),
    draw("path", { class: "curve-axes", d: "M54 34V224H334" }),
    ...xTicks.map((tick) =>
      draw("text", { class: "curve-number", x: tick.at, y: "241", "text-anchor": "middle" }, [
        tick.label,
      ]),
    ),
    ...yTicks.map((tick) =>
      draw(
        "text",
        {
          class: "curve-number",
          x: "48",
          y: (Number(tick.at) + 5).toFixed(1),
          "text-anchor": "end",
        },
        [tick.label],
      ),
    ),
    draw("text", { class: "curve-name", x: "334", y: "264", "text-anchor": "end" }, [across]),
    draw("text", { class: "curve-name", x: "12", y: "20" }, [up]),
    ...marks.limits.map((points) => draw("polyline", { class: "curve-limit", points })),
    ...marks.runs.map((points) => draw("polyline", { class: "curve-run", points })),
    ...(current ? point(current) : []),
  ]);
}

/** @param {string[]} place */
function point([x, y]) {
  return [
    draw("path", { class: "curve-drop", d: `M${x} ${y}V224` }),
    draw("circle", { class: "curve-point", cx: x, cy: y, r: "6.5" }),
  ];
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
