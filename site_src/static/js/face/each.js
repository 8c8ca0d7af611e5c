/**
 * The page's own question for each row of a list of parts, as a list to print and write on. The
 * same rules as site_src/face/each.py.
 *
 * @typedef {import("../model/lookup.js").EachView} EachView
 * @typedef {import("../model/lookup.js").PartsField} PartsField
 * @typedef {import("../model/lookup.js").NumberField} NumberField
 * @typedef {import("../model/lookup.js").ChoiceField} ChoiceField
 * @typedef {import("../form/entries.js").Row} Row
 * @typedef {import("../form/entries.js").NumberEntry} NumberEntry
 * @typedef {import("./cells.js").State} State
 * @typedef {{field: string, row: number, entry: string, words: string}} Problem
 */

import { answerCell, answerName, drawTable, Notes, replaceTable, workOut } from "./cells.js";
import { make, need, write } from "./dom.js";
import { NO_CELL, withUnit } from "./numbers.js";
import { isLeftOut, showAnswer } from "./words.js";
import { isExample, understood } from "../form/entries.js";
import { misread } from "../form/typed.js";
import { answerNamed, fieldNamed, optionNamed } from "../model/lookup.js";

/** @param {ParentNode} page @param {State} state */
export function showEach(page, state) {
  const view = state.kit.lookup.views.each;
  const section = page.querySelector("[data-each]");
  if (!view || !section) return;
  const parts = /** @type {PartsField} */ (fieldNamed(state.kit.lookup, view.parts));
  const example = isExample(parts, state.entries);
  const fields = Object.values(view.feeds).map((key) => inside(parts, key));
  const texts = /** @type {Row[]} */ (state.entries[parts.key]);
  const rows = /** @type {Array<Object<string, any>>} */ (state.inputs[parts.key] ?? parts.default);
  const answers = view.answers.map((key) => answerNamed(state.kit.lookup, key));
  const shown = rows.map((row, n) => {
    const instead = { ...view.fixed };
    for (const [field, key] of Object.entries(view.feeds)) instead[field] = row[key];
    const outcome = workOut(state, instead, answers);
    const problems = problemsOf(state.problems, view, n);
    return answers.map((answer) =>
      showAnswer(state.kit, answer, outcome, state.unitFor(answer), problems),
    );
  });
  const kept = view.answers.filter((_, n) => !shown.every((row) => isLeftOut(row[n])));
  const notes = new Notes();
  const body = shown.map((row, n) => {
    const own = fields.map((field) => entryText(state, field, texts[n]));
    const cells = row
      .filter(({ answer }) => kept.includes(answer.key))
      .map((each) => workedCell(each, notes, example));
    return {
      head: `${n + 1} ${own[0]}`,
      current: false,
      cells: [...own.slice(1).map((text) => ({ text })), ...cells],
    };
  });
  const heads = [
    ...fields.slice(1).map((field) => ({ text: field.label })),
    ...kept.map((key) => ({ text: answerName(state, answerNamed(state.kit.lookup, key)) })),
  ];
  write(need(section, "[data-each-example]"), example ? parts.example : "");
  const [region, ...under] = drawTable(view.title, fields[0].label, heads, body, notes);
  addWriteIns(region, view.write_in);
  replaceTable(need(section, "[data-table]"), [region, ...under]);
}

/** @param {PartsField} parts @param {string} key */
function inside(parts, key) {
  const found = parts.fields.find((field) => field.key === key);
  if (!found) throw new Error(`${parts.key} has no entry ${key}`);
  return found;
}

/**
 * What is wrong with the page's own entries and with this row's, under the names that they go by
 * on the page; what the row replaces is left out.
 * @param {Problem[]} problems @param {EachView} view @param {number} row
 */
function problemsOf(problems, view, row) {
  const own = Object.entries(view.feeds).flatMap(([field, key]) =>
    problems
      .filter((each) => each.field === view.parts && each.row === row && each.entry === key)
      .map((each) => ({ ...each, entry: field })),
  );
  const others = problems.filter(
    ({ row: at, entry }) => at < 0 && !(entry in view.feeds) && !(entry in view.fixed),
  );
  return [...own, ...others];
}

/**
 * An entry of a row, with its unit.
 * @param {State} state @param {NumberField | ChoiceField} field @param {Row} row
 */
export function entryText(state, field, row) {
  const entry = row[field.key];
  if (field.kind === "choice") return optionNamed(field, String(entry))?.label ?? "";
  const number = /** @type {NumberEntry} */ (entry);
  const typed = understood(field, number, state.kit.quantities);
  return misread(typed) ? number.text : withUnit(String(typed.value), typed.unit.label);
}

/** @param {import("./words.js").Shown} shown @param {Notes} notes @param {boolean} example */
function workedCell(shown, notes, example) {
  if (isLeftOut(shown)) return { text: "" };
  if (shown.fault) return { text: NO_CELL, note: notes.mark(shown.words) };
  return example ? { text: shown.text } : answerCell(shown, notes);
}

/** Columns for a pen. @param {HTMLElement} region @param {string[]} heads */
function addWriteIns(region, heads) {
  const [top, ...rows] = region.querySelectorAll("tr");
  for (const head of heads) {
    top.append(make("th", { scope: "col", class: "write-in" }, [head]));
    for (const row of rows) row.append(make("td", { class: "write-in" }, []));
  }
}
