/**
 * Advice that depends on two choices: the cell for this set-up, out of the table in the catalogue.
 *
 * @typedef {{at: [string, string], status: string, words: string, why: number}} AdviceCell
 * @typedef {{title: string, by: [string, string], cells: AdviceCell[], reasons: string[],
 *   note: string, unless: string, unless_words: string}} AdviceView
 * @typedef {{status: string, words: string, why: string}} Advised
 * @typedef {import("../model/lookup.js").Lookup} Lookup
 * @typedef {import("../recipe/values.js").Inputs} Inputs
 */

import { fieldNamed, optionNamed } from "../model/lookup.js";
import { all, need, setStamp, write } from "./dom.js";
import { given } from "../recipe/values.js";

/**
 * The advice for a set-up; nothing where one of the two choices is not in the table.
 * @param {AdviceView} view @param {(key: string) => unknown} entry the value of a field
 * @returns {Advised | null}
 */
export function advised(view, entry) {
  const unless = view.unless ? entry(view.unless) : null;
  if (typeof unless === "number") return { status: "", words: "", why: view.unless_words };
  const [row, column] = view.by.map(entry);
  const cell = view.cells.find(({ at }) => at[0] === row && at[1] === column);
  return cell ? { status: cell.status, words: cell.words, why: view.reasons[cell.why] } : null;
}

/**
 * Show every advice table's cell for a set-up.
 * @param {ParentNode} page @param {Lookup} lookup @param {Inputs} inputs
 */
export function showAdvice(page, lookup, inputs) {
  const entry = (/** @type {string} */ key) => {
    return given(fieldNamed(lookup, key), inputs);
  };
  for (const section of all(page, "[data-advice]")) {
    const number = Number(section.dataset.advice);
    const view = lookup.views.advice[number];
    const found = advised(view, entry);
    show(section, lookup, view, entry, found);
    const warning = page.querySelector(`[data-advice-warning="${number}"]`);
    if (warning instanceof HTMLElement)
      warn(warning, `${view.title}: ${chosen(lookup, view, entry)}`, found);
  }
}

/**
 * The warning on the plate: a lubricant that eats the ring must be seen there, however good the
 * squeeze.
 * @param {HTMLElement} warning
 * @param {string} words
 * @param {Advised | null} found
 */
function warn(warning, words, found) {
  warning.hidden = found?.status !== "near" && found?.status !== "beyond";
  setStamp(need(warning, ".stamp"), found?.status ?? "", found?.words ?? "");
  write(need(warning, "span"), words);
}

/**
 * @param {HTMLElement} section @param {Lookup} lookup @param {AdviceView} view
 * @param {(key: string) => unknown} entry @param {Advised | null} found
 */
function show(section, lookup, view, entry, found) {
  write(need(section, "[data-for]"), chosen(lookup, view, entry));
  const stamp = need(section, ".stamp");
  setStamp(stamp, found?.status ?? "", found?.words ?? "");
  stamp.hidden = !found?.words;
  write(need(section, "[data-chosen] span"), found?.why ?? "");
  const [row, column] = view.by.map(entry);
  for (const cell of all(section, "td")) {
    cell.classList.toggle("current", cell.dataset.at === `${row} ${column}`);
  }
}

/**
 * The two options that were chosen, in words.
 * @param {Lookup} lookup
 * @param {AdviceView} view
 * @param {(key: string) => unknown} entry
 */
function chosen(lookup, view, entry) {
  return view.by
    .map((key) => optionNamed(fieldNamed(lookup, key), entry(key))?.label ?? "")
    .join(", ");
}
