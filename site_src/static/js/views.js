/** Tables and curves for the set-up at hand: each cell is worked out as the plate is. */

import { drawCurve } from "./curve.js";
import { need, write } from "./dom.js";
import { declaredOf } from "./entries.js";
import { Notes, drawTable, withOwn } from "./grid.js";
import { convert, grouped, plain, stepIn } from "./numbers.js";
import { explain } from "./recipe.js";
import { unitOf, unitsOf } from "./units.js";
import { endsOf, showAnswer } from "./words.js";

/**
 * @typedef {import("./spec.js").Answer} Answer
 * @typedef {import("./spec.js").Field} Field
 * @typedef {{kit: import("./spec.js").Kit, entries: import("./entries.js").Entries,
 *   inputs: import("./recipe.js").Inputs, problems: import("./entries.js").Problem[],
 *   unitFor: (answer: Answer) => import("./numbers.js").Unit}} State
 */

/** @param {ParentNode} page @param {State} state */
export function showViews(page, state) {
  const { grids, curves } = state.kit.lookup.views;
  curves.forEach((view, n) => showCurve(need(page, `[data-curve="${n}"]`), view, state));
  grids.forEach((view, n) => showGrid(need(page, `[data-grid="${n}"]`), view, state));
}

/** @param {State} state @param {string} key @returns {Field} */
function fieldNamed(state, key) {
  return /** @type {Field} */ (state.kit.lookup.fields.find((field) => field.key === key));
}

/** @param {State} state @param {string} key @returns {Answer} */
function answerNamed(state, key) {
  return /** @type {Answer} */ (state.kit.lookup.answers.find((answer) => answer.key === key));
}

/** One set-up: the page's own with some entries replaced. @param {State} state @param {Object<string, any>} instead */
function workOut(state, instead) {
  const { lookup, tables } = state.kit;
  return explain(lookup, { ...state.inputs, ...instead }, tables);
}

/** @param {State} state @param {Answer} answer @param {Object<string, any>} instead @param {Notes} notes @param {boolean} current */
function cellFor(state, answer, instead, notes, current) {
  // A complaint about an entry that this cell replaces is not this cell's.
  const problems = state.problems.filter(({ entry }) => !(entry in instead));
  const shown = showAnswer(state.kit, answer, workOut(state, instead), state.unitFor(answer), problems);
  return shown.fault
    ? { text: "none", note: notes.mark(shown.words), current }
    : { text: shown.text, status: shown.status, current };
}

/** The unit that a field's values are shown in. @param {State} state @param {Field} field */
function shownUnit(state, field) {
  if (field.kind !== "number") return null;
  const entry = /** @type {import("./entries.js").NumberEntry} */ (state.entries[field.key]);
  return unitOf(unitsOf(field, state.kit.quantities), entry.unit);
}

/** @param {State} state @param {Field} field */
function axisName(state, field) {
  const label = shownUnit(state, field)?.label;
  return label ? `${field.label}, ${label}` : field.label;
}

/** @param {State} state @param {Answer} answer */
function answerName(state, answer) {
  const { label } = state.unitFor(answer);
  return label ? `${answer.label}, ${label}` : answer.label;
}

/** @param {State} state @param {Field} field @param {number | string} value */
function headText(state, field, value) {
  if (field.kind !== "number") {
    return field.kind === "choice" ? field.options.find(({ key }) => key === value)?.label ?? "" : "";
  }
  const declared = declaredOf(field, state.kit.quantities);
  const unit = shownUnit(state, field) ?? declared;
  return grouped(plain(convert(Number(value), declared, unit), stepIn(field.step, declared, unit)));
}

/** @param {HTMLElement} section @param {import("./spec.js").GridView} view @param {State} state */
function showGrid(section, view, state) {
  const notes = new Notes();
  const down = fieldNamed(state, view.rows);
  const across = view.columns ? fieldNamed(state, view.columns) : null;
  const answers = [view.answer, ...view.also].map((key) => answerNamed(state, key));
  const own = /** @type {any} */ (state.inputs);
  const columns = across ? withOwn(view.column_values, own[across.key]) : [];
  const rows = withOwn(view.row_values, own[down.key]).map((value) => {
    const current = value === own[down.key];
    const cells = across
      ? columns.map((column) => cellFor(state, answers[0], { [down.key]: value, [across.key]: column }, notes, current && column === own[across.key]))
      : answers.map((answer) => cellFor(state, answer, { [down.key]: value }, notes, current));
    return { head: headText(state, down, value), current, cells };
  });
  const heads = across
    ? columns.map((column) => ({ text: headText(state, across, column), current: column === own[across.key] }))
    : answers.map((answer) => ({ text: answerName(state, answer) }));
  const axes = across
    ? `${answerName(state, answers[0])}. Down: ${axisName(state, down)}. Across: ${axisName(state, across)}.`
    : "";
  write(need(section, "[data-axes]"), axes);
  replaceTable(need(section, "[data-table]"), drawTable(view.title, axisName(state, down), heads, rows, notes));
}

/** @param {HTMLElement} section @param {import("./spec.js").CurveView} view @param {State} state */
function showCurve(section, view, state) {
  const notes = new Notes();
  const field = /** @type {import("./spec.js").NumberField} */ (fieldNamed(state, view.over));
  const answer = answerNamed(state, view.answer);
  const declared = declaredOf(field, state.kit.quantities);
  const unit = shownUnit(state, field) ?? declared;
  const own = /** @type {any} */ (state.inputs)[field.key];
  /** @type {import("./scale.js").Dot[]} */
  const dots = [];
  const rows = withOwn(view.values, own).map((value) => {
    const current = value === own;
    const instead = { [field.key]: value };
    const outcome = workOut(state, instead);
    const problems = state.problems.filter(({ entry }) => entry !== field.key);
    const shown = showAnswer(state.kit, answer, outcome, state.unitFor(answer), problems);
    const ends = shown.value === null ? null : endsOf(answer, outcome, shown.unit, shown.value);
    dots.push({ x: convert(value, declared, unit), y: shown.value, limit: ends?.limit ?? null, current });
    const cell = shown.fault
      ? { text: "none", note: notes.mark(shown.words), current }
      : { text: shown.text, status: shown.status, current };
    return { head: headText(state, field, value), current, cells: [cell] };
  });
  const across = axisName(state, field);
  const up = answerName(state, answer);
  const drawing = drawCurve(dots, across, up, `${view.title}. The same numbers stand in the table below.`);
  need(section, "[data-drawing]").replaceChildren(drawing ?? "No curve: this set-up has no such answer.");
  replaceTable(need(section, "[data-table]"), drawTable(view.title, across, [{ text: up }], rows, notes));
}

/** Put a new table in, as far along as the old one was; a new own column is brought into sight. @param {HTMLElement} holder @param {HTMLElement[]} parts */
function replaceTable(holder, parts) {
  const along = holder.querySelector(".sideways")?.scrollLeft ?? 0;
  const before = ownColumn(holder)?.cellIndex;
  holder.replaceChildren(...parts);
  const [region] = parts;
  const own = ownColumn(region);
  region.scrollLeft = along;
  if (!own || (own.cellIndex === before && holder.dataset.placed)) return;
  holder.dataset.placed = "";
  const corner = region.querySelector("th")?.offsetWidth ?? 0;
  region.scrollLeft = own.offsetLeft - corner - Math.max(0, region.clientWidth - corner - own.offsetWidth) / 2;
}

/** @param {ParentNode} holder @returns {HTMLTableCellElement | null} */
function ownColumn(holder) {
  return holder.querySelector("thead th.current");
}
