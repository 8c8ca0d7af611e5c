/** Tables of one answer over the fields, with the set-up's own row and column marked. */

import { make } from "./dom.js";

/**
 * @typedef {{text: string, status?: string, note?: string, current?: boolean}} Cell
 * @typedef {{head: string, current: boolean, cells: Cell[]}} Row
 */

/** Collects the reasons why cells have no answer, each under a letter. */
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
 * The listed values with the set-up's own among them, in the list's order.
 * @template {string | number} T
 * @param {T[]} values @param {T | null} own @returns {T[]}
 */
export function withOwn(values, own) {
  if (typeof own !== "number" || Number.isNaN(own) || values.includes(own)) return values;
  const falling = values.length > 1 && values[0] > values[values.length - 1];
  return [...values, own].sort((a, b) => (falling ? Number(b) - Number(a) : Number(a) - Number(b)));
}

/**
 * @param {string} title
 * @param {string} corner
 * @param {Cell[]} heads
 * @param {Row[]} rows
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
