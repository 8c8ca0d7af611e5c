/**
 * Charts: tables over one or two entries of this set-up. The same rules as
 * site_src/face/chart.py.
 *
 * @typedef {import("../model/lookup.js").ChartView} ChartView
 * @typedef {import("./cells.js").State} State
 */

import {
  answerName,
  axisName,
  cellFor,
  drawTable,
  headText,
  isOwn,
  listedIn,
  Notes,
  replaceTable,
  whose,
  withOwn,
} from "./cells.js";
import { need, write } from "./dom.js";
import { isFlat, showView, turned } from "./flat.js";
import { answerNamed, fieldNamed } from "../model/lookup.js";
import { given } from "../recipe/values.js";

/** @param {ParentNode} page @param {State} state */
export function chartsOf(page, state) {
  return state.kit.lookup.views.charts.map(
    (view, n) => () => showChart(need(page, `[data-chart="${n}"]`), view, state),
  );
}

/**
 * @param {HTMLElement} section
 * @param {ChartView} view
 * @param {State} state
 */
function* showChart(section, view, state) {
  const notes = new Notes();
  const down = fieldNamed(state.kit.lookup, view.rows);
  const across = view.columns ? fieldNamed(state.kit.lookup, view.columns) : null;
  const answers = [view.answer, ...view.also].map((key) => answerNamed(state.kit.lookup, key));
  /** @param {import("../model/lookup.js").Field} field @returns {any} */
  const own = (field) => given(field, state.inputs);
  const columns = across ? withOwn(listedIn(state, across, view.column_values), own(across)) : [];
  const values = withOwn(listedIn(state, down, view.row_values), own(down));
  /** @type {{head: string, current: boolean, cells: import("./cells.js").WorkedCell[]}[]} */
  const rows = [];
  for (const value of values) {
    yield;
    const current = isOwn(value, own(down));
    const cells = across
      ? columns.map((column) =>
          cellFor(
            state,
            answers[0],
            { [down.key]: value, [across.key]: column },
            notes,
            current && isOwn(column, own(across)),
            view.unit,
          ),
        )
      : answers.map((answer, n) =>
          cellFor(state, answer, { [down.key]: value }, notes, current, n ? "" : view.unit),
        );
    rows.push({ head: headText(state, down, value), current, cells });
  }
  const heads = across
    ? columns.map((column) => ({
        text: headText(state, across, column),
        current: isOwn(column, own(across)),
      }))
    : answers.map((answer, n) => ({ text: answerName(state, answer, n ? "" : view.unit) }));
  const axes = across
    ? `${answerName(state, answers[0], view.unit)}. Down: ${axisName(state, down)}. Across: ${axisName(state, across)}.${whose(state, down)}`
    : "";
  write(need(section, "[data-axes]"), axes);
  const table = need(section, "[data-table]");
  replaceTable(table, drawTable(view.title, axisName(state, down), heads, rows, notes));
  const found = rows.map(({ cells }) => cells.map(({ si }) => si));
  const still = [down, ...(across ? [across] : [])].filter((field) =>
    isFlat(field === down ? found : turned(found)),
  );
  showView(
    section,
    state,
    answers[0],
    across ? [down, across] : [down],
    still,
    (field) => (field === down ? values : columns),
    [table, need(section, "[data-axes]")],
  );
}
