/**
 * Tables of answers for several set-ups at once, with the page's own set-up marked. Charts, curves
 * and comparisons use them. The same rules as site_src/face/cells.py.
 *
 * @typedef {import("../model/lookup.js").Answer} Answer
 * @typedef {import("../model/lookup.js").Field} Field
 * @typedef {{kit: import("../model/catalogue.js").Kit,
 *   entries: import("../form/entries.js").Entries, inputs: import("../recipe/values.js").Inputs,
 *   problems: import("../form/entries.js").Problem[],
 *   unitFor: (answer: Answer, usual?: string) => import("../model/quantities.js").Unit}} State
 * @typedef {{text: string, status?: string, note?: string, current?: boolean}} Cell
 * @typedef {Cell & {si: number | null}} WorkedCell  a cell with its value, SI
 * @typedef {{head: string, current: boolean, cells: Cell[]}} TableRow
 */

import { make } from "./dom.js";
import { grouped, NO_CELL, plain } from "./numbers.js";
import { showAnswer } from "./words.js";
import { declaredOf } from "../form/entries.js";
import { evenly, isSame, stepIn } from "../form/ranges.js";
import { entryOf, hasExamples, stockOf } from "../form/stock.js";
import { only, optionNamed } from "../model/lookup.js";
import { convert, unitOf, unitsOf } from "../model/quantities.js";
import { explain } from "../recipe.js";
import { isFault } from "../recipe/values.js";

/** Collects the reasons why cells have no answer or are not checked, each under a letter. */
export class Notes {
  constructor() {
    /** @type {Map<string, string>} */
    this.marks = new Map();
  }

  /** @param {string} words @returns {string} its letter */
  mark(words) {
    const known = this.marks.get(words);
    if (known) return known;
    const letter = "abcdefghijklmnopqrstuvwxyz"[this.marks.size % 26];
    this.marks.set(words, letter);
    return letter;
  }
}

/**
 * Whether a listed value is the set-up's own.
 * @param {string | number} value @param {unknown} own
 */
export function isOwn(value, own) {
  return typeof value === "number" && typeof own === "number" ? isSame(value, own) : value === own;
}

/**
 * The values that a view lists for a field: those that exist in the shop, if the field is its own,
 * and even ones in the unit of an inch shop.
 * @template {string | number} T
 * @param {State} state @param {Field} field @param {T[]} values @returns {Array<T | number>}
 */
export function listedIn(state, field, values) {
  if (field.kind !== "number") return values;
  if (field.shelf) return stockOf(field, state.kit, state.entries).map(({ value }) => value);
  const unit = shownUnit(state, field);
  if (!unit || unit.key !== field.inch?.unit) return values;
  return evenly(field, declaredOf(field, state.kit.quantities), unit, values.map(Number));
}

/**
 * Whose pulleys the rows are.
 * @param {State} state @param {Field} field
 */
export function whose({ kit }, field) {
  if (field.kind !== "number" || !field.shelf) return "";
  return hasExamples(field, kit) ? " Pulleys: examples of ours." : " Pulleys: the shop's own.";
}

/**
 * The listed values with the set-up's own among them, in the list's order.
 * @template {string | number} T
 * @param {T[]} values @param {T | null} own @returns {T[]}
 */
export function withOwn(values, own) {
  if (typeof own !== "number" || Number.isNaN(own)) return values;
  if (values.some((value) => isOwn(value, own))) return values;
  const falling = values.length > 1 && values[0] > values[values.length - 1];
  return [...values, own].sort((a, b) => (falling ? Number(b) - Number(a) : Number(a) - Number(b)));
}

/**
 * @param {string} title
 * @param {string} corner
 * @param {Cell[]} heads
 * @param {TableRow[]} rows
 * @param {Notes} notes
 * @returns {Array<HTMLElement>} the table, and the reasons under it if there are any
 */
export function drawTable(title, corner, heads, rows, notes) {
  const top = make("tr", {}, [
    make("th", { scope: "col", class: "corner" }, [corner]),
    ...heads.map(({ text, current }) =>
      yours(
        make("th", current ? { scope: "col", class: "current" } : { scope: "col" }, [text]),
        current,
      ),
    ),
  ]);
  const body = rows.map((row) => {
    const head = yours(make("th", { scope: "row" }, [row.head]), row.current);
    return make("tr", row.current ? { class: "current" } : {}, [head, ...row.cells.map(drawCell)]);
  });
  const table = make("table", {}, [make("thead", {}, [top]), make("tbody", {}, body)]);
  const region = make(
    "div",
    { class: "sideways", role: "region", tabindex: "0", "aria-label": `${title}, table` },
    [table],
  );
  return notes.marks.size ? [region, drawNotes(notes)] : [region];
}

/** @param {HTMLElement} head @param {boolean} [current] */
function yours(head, current) {
  if (current) head.append(make("span", { class: "aside" }, [" (yours)"]));
  return head;
}

/** @param {Cell} cell */
function drawCell({ text, status, note, current }) {
  const cell = make("td", {}, [text]);
  if (current) cell.classList.add("current");
  if (note) cell.append(" ", make("sup", {}, [note]));
  if (status) cell.dataset.status = status;
  if (status === "near" || status === "beyond")
    cell.append(make("span", { class: "aside" }, [` ${status}`]));
  return cell;
}

/** @param {Notes} notes */
function drawNotes(notes) {
  const items = [...notes.marks].map(([words, letter]) =>
    make("li", {}, [make("sup", {}, [letter]), ` ${words}`]),
  );
  return make("ul", { class: "notes" }, items);
}

// --- the cells of one set-up ---------------------------------------------------------------------

/**
 * One set-up: the page's own with some entries replaced.
 * @param {State} state
 * @param {Object<string, any>} instead
 * @param {Answer[]} answers those that are asked for: no other is worked out
 */
export function workOut(state, instead, answers) {
  const { lookup, tables } = state.kit;
  return explain(only(lookup, answers), { ...state.inputs, ...instead }, tables);
}

/**
 * One answer in one set-up.
 * @param {State} state
 * @param {Answer} answer
 * @param {Object<string, any>} instead
 * @param {Notes} notes
 * @param {boolean} current
 * @param {string} [usual] the unit unless another was picked
 * @returns {WorkedCell}
 */
export function cellFor(state, answer, instead, notes, current, usual) {
  // A complaint about an entry that this cell replaces is not this cell's.
  const problems = state.problems.filter(({ entry }) => !(entry in instead));
  const outcome = workOut(state, instead, [answer]);
  const shown = showAnswer(state.kit, answer, outcome, state.unitFor(answer, usual), problems);
  const si = outcome.value(answer.symbol);
  return isFault(si)
    ? { text: NO_CELL, note: notes.mark(shown.words), current, si: null }
    : { ...answerCell(shown, notes), current, si };
}

/**
 * A cell for an answer that there is; one that is not checked leads to the reason.
 * @param {import("./words.js").Shown} shown @param {Notes} notes @returns {Cell}
 */
export function answerCell({ text, status, words, reason }, notes) {
  if (status !== "unchecked") return { text, status };
  // Which one is said beside the answer itself; here they would fill the page.
  const why =
    reason?.kind === "example" ? "Example limit. Enter your own parts and limits." : words;
  return { text, status, note: notes.mark(`Not checked. ${why}`) };
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
  if (field.kind !== "number") return optionNamed(field, value)?.label ?? "";
  const declared = declaredOf(field, state.kit.quantities);
  const unit = shownUnit(state, field) ?? declared;
  const exists =
    field.shelf &&
    stockOf(field, state.kit, state.entries).find((each) => isSame(each.value, Number(value)));
  if (exists) return grouped(entryOf(field, exists, unit.key, state.kit.quantities).text);
  return grouped(plain(convert(Number(value), declared, unit), stepIn(field, declared, unit)));
}

/**
 * Put a new table in, scrolled as far as the old one was; its marked column is scrolled to if it is
 * new.
 * @param {HTMLElement} holder
 * @param {HTMLElement[]} parts
 */
export function replaceTable(holder, parts) {
  const along = holder.querySelector(".sideways")?.scrollLeft ?? 0;
  const before = ownColumn(holder)?.cellIndex;
  holder.replaceChildren(...parts);
  const [region] = parts;
  const own = ownColumn(region);
  // A new table is at its beginning; to move it, even there, it would have to be laid out.
  if (along) region.scrollLeft = along;
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
