/** Tables and curves for the set-up at hand: each cell is worked out as the plate is. */

import { drawTable, Notes, withOwn } from "./cells.js";
import { drawCurve } from "./curve.js";
import { need, write } from "./dom.js";
import { flatWords, isFlat, turned } from "./flat.js";
import { grouped, plain } from "./numbers.js";
import { endsOf, showAnswer } from "./words.js";
import { declaredOf, isShown } from "../form/entries.js";
import { convert, convertDifference, unitOf, unitsOf } from "../model/quantities.js";
import { explain, isFault } from "../recipe.js";

/**
 * @typedef {import("../model/lookup.js").Answer} Answer
 * @typedef {import("../model/lookup.js").Field} Field
 * @typedef {{kit: import("../model/catalogue.js").Kit,
 *   entries: import("../form/entries.js").Entries, inputs: import("../recipe.js").Inputs,
 *   problems: import("../form/entries.js").Problem[],
 *   unitFor: (answer: Answer, usual?: string) => import("../model/quantities.js").Unit}} State
 * @typedef {import("./cells.js").Cell & {si: number | null}} Worked  a cell with its value, SI
 */

/** @param {ParentNode} page @param {State} state */
export function showViews(page, state) {
  const { grids, curves } = state.kit.lookup.views;
  curves.forEach((view, n) => showCurve(need(page, `[data-curve="${n}"]`), view, state));
  grids.forEach((view, n) => showGrid(need(page, `[data-grid="${n}"]`), view, state));
}

/** @param {State} state @param {string} key @returns {Field} */
export function fieldNamed(state, key) {
  return /** @type {Field} */ (state.kit.lookup.fields.find((field) => field.key === key));
}

/** @param {State} state @param {string} key @returns {Answer} */
export function answerNamed(state, key) {
  return /** @type {Answer} */ (state.kit.lookup.answers.find((answer) => answer.key === key));
}

/**
 * One set-up: the page's own with some entries replaced.
 * @param {State} state
 * @param {Object<string, any>} instead
 */
function workOut(state, instead) {
  const { lookup, tables } = state.kit;
  return explain(lookup, { ...state.inputs, ...instead }, tables);
}

/**
 * One answer in one set-up.
 * @param {State} state
 * @param {Answer} answer
 * @param {Object<string, any>} instead
 * @param {Notes} notes
 * @param {boolean} current
 * @param {string} [usual] the unit unless another was picked
 * @returns {Worked}
 */
export function cellFor(state, answer, instead, notes, current, usual) {
  // A complaint about an entry that this cell replaces is not this cell's.
  const problems = state.problems.filter(({ entry }) => !(entry in instead));
  const outcome = workOut(state, instead);
  const shown = showAnswer(state.kit, answer, outcome, state.unitFor(answer, usual), problems);
  const si = outcome.symbols[answer.symbol];
  return isFault(si)
    ? { text: "none", note: notes.mark(shown.words), current, si: null }
    : { text: shown.text, status: shown.status, current, si };
}

/**
 * The unit that a field's values are shown in.
 * @param {State} state
 * @param {Field} field
 */
export function shownUnit(state, field) {
  if (field.kind !== "number") return null;
  const entry = /** @type {import("../form/entries.js").NumberEntry} */ (state.entries[field.key]);
  return unitOf(unitsOf(field, state.kit.quantities), entry.unit);
}

/** @param {State} state @param {Field} field */
export function axisName(state, field) {
  const label = shownUnit(state, field)?.label;
  return label ? `${field.label}, ${label}` : field.label;
}

/** @param {State} state @param {Answer} answer @param {string} [usual] */
export function answerName(state, answer, usual) {
  const { label } = state.unitFor(answer, usual);
  return label ? `${answer.label}, ${label}` : answer.label;
}

/** @param {State} state @param {Field} field @param {number | string} value */
export function headText(state, field, value) {
  if (field.kind !== "number") {
    return field.kind === "choice"
      ? (field.options.find(({ key }) => key === value)?.label ?? "")
      : "";
  }
  const declared = declaredOf(field, state.kit.quantities);
  const unit = shownUnit(state, field) ?? declared;
  return grouped(
    plain(convert(Number(value), declared, unit), convertDifference(field.step, declared, unit)),
  );
}

/**
 * Show a view, unless an entry that it walks along is not asked for in this set-up; and say which
 * of them change nothing.
 * @param {HTMLElement} section @param {State} state @param {Answer} answer @param {Field[]} fields
 * @param {Field[]} still those that change nothing @param {(field: Field) => any[]} valuesOf
 * @param {HTMLElement[]} parts put away if there is nothing to see in them
 */
function showView(section, state, answer, fields, still, valuesOf, parts) {
  section.hidden = !fields.every((field) => isShown(field, state.entries));
  write(
    need(section, "[data-flat]"),
    flatWords(
      still,
      state.kit.lookup.fields,
      state.inputs,
      answer,
      (instead) => workOut(state, instead),
      (field) => [valuesOf(field)[0], valuesOf(field).at(-1)],
    ),
  );
  for (const part of parts) part.hidden = still.length === fields.length;
}

/**
 * @param {HTMLElement} section
 * @param {import("../model/lookup.js").GridView} view
 * @param {State} state
 */
function showGrid(section, view, state) {
  const notes = new Notes();
  const down = fieldNamed(state, view.rows);
  const across = view.columns ? fieldNamed(state, view.columns) : null;
  const answers = [view.answer, ...view.also].map((key) => answerNamed(state, key));
  const own = /** @type {any} */ (state.inputs);
  const columns = across ? withOwn(view.column_values, own[across.key]) : [];
  const values = withOwn(view.row_values, own[down.key]);
  const rows = values.map((value) => {
    const current = value === own[down.key];
    const cells = across
      ? columns.map((column) =>
          cellFor(
            state,
            answers[0],
            { [down.key]: value, [across.key]: column },
            notes,
            current && column === own[across.key],
            view.unit,
          ),
        )
      : answers.map((answer, n) =>
          cellFor(state, answer, { [down.key]: value }, notes, current, n ? "" : view.unit),
        );
    return { head: headText(state, down, value), current, cells };
  });
  const heads = across
    ? columns.map((column) => ({
        text: headText(state, across, column),
        current: column === own[across.key],
      }))
    : answers.map((answer, n) => ({ text: answerName(state, answer, n ? "" : view.unit) }));
  const axes = across
    ? `${answerName(state, answers[0], view.unit)}. Down: ${axisName(state, down)}. Across: ${axisName(state, across)}.`
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

/**
 * @param {HTMLElement} section
 * @param {import("../model/lookup.js").CurveView} view
 * @param {State} state
 */
function showCurve(section, view, state) {
  const notes = new Notes();
  const field = /** @type {import("../model/lookup.js").NumberField} */ (
    fieldNamed(state, view.over)
  );
  const answer = answerNamed(state, view.answer);
  const declared = declaredOf(field, state.kit.quantities);
  const unit = shownUnit(state, field) ?? declared;
  const own = /** @type {any} */ (state.inputs)[field.key];
  const values = withOwn(view.values, own);
  /** @type {import("./scale.js").Dot[]} */
  const dots = [];
  const rows = values.map((value) => {
    const current = value === own;
    const instead = { [field.key]: value };
    const outcome = workOut(state, instead);
    const problems = state.problems.filter(({ entry }) => entry !== field.key);
    const shown = showAnswer(state.kit, answer, outcome, state.unitFor(answer), problems);
    const ends = shown.value === null ? null : endsOf(answer, outcome, shown.unit, shown.value);
    dots.push({
      x: convert(value, declared, unit),
      y: shown.value,
      limit: ends?.limit ?? null,
      current,
    });
    const cell = shown.fault
      ? { text: "none", note: notes.mark(shown.words), current }
      : { text: shown.text, status: shown.status, current };
    return { head: headText(state, field, value), current, cells: [cell] };
  });
  const across = axisName(state, field);
  const up = answerName(state, answer);
  const drawing = drawCurve(
    dots,
    across,
    up,
    `${view.title}. The same numbers stand in the table below.`,
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

/**
 * Put a new table in, as far along as the old one was; a new own column is brought into sight.
 * @param {HTMLElement} holder
 * @param {HTMLElement[]} parts
 */
export function replaceTable(holder, parts) {
  const along = holder.querySelector(".sideways")?.scrollLeft ?? 0;
  const before = ownColumn(holder)?.cellIndex;
  holder.replaceChildren(...parts);
  const [region] = parts;
  const own = ownColumn(region);
  region.scrollLeft = along;
  if (!own || (own.cellIndex === before && holder.dataset.placed)) return;
  holder.dataset.placed = "";
  const corner = region.querySelector("th")?.offsetWidth ?? 0;
  region.scrollLeft =
    own.offsetLeft - corner - Math.max(0, region.clientWidth - corner - own.offsetWidth) / 2;
}

/** @param {ParentNode} holder @returns {HTMLTableCellElement | null} */
function ownColumn(holder) {
  return holder.querySelector("thead th.current");
}
