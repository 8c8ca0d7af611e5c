/** A set-up beside the job's: a row for each entry in which they differ. */

import { make } from "./dom.js";

/** So many differences are listed before the rest is folded away. */
const LISTED = 6;

/**
 * @param {string} label @param {string} theirs @param {string} mine
 * @param {HTMLElement} action what takes it
 * @param {Object<string, string>} [attributes] of the row
 */
export function differenceRow(label, theirs, mine, action, attributes = {}) {
  return make("li", { class: "difference", ...attributes }, [
    make("span", { class: "guest-words" }, [
      `${label} `,
      make("b", {}, [theirs]),
      `, yours ${mine}`,
    ]),
    action,
  ]);
}

/** The first few rows, and the rest in a fold. @param {HTMLElement[]} rows */
export function foldedRows(rows) {
  const [first, rest] = [rows.slice(0, LISTED), rows.slice(LISTED)];
  if (!rest.length) return first;
  const fold = make("details", {}, [
    make("summary", {}, [`${rest.length} more`]),
    make("ul", { class: "guest-list" }, rest),
  ]);
  return [...first, make("li", {}, [fold])];
}
