/**
 * Advice that hangs on two choices: the cell that the set-up picks, out of the table in the spec.
 *
 * @typedef {{at: [string, string], status: string, words: string, why: number}} AdviceCell
 * @typedef {{title: string, by: [string, string], cells: AdviceCell[], reasons: string[],
 *   note: string, unless: string, unless_words: string}} AdviceView
 * @typedef {{status: string, words: string, why: string}} Advised
 * @typedef {import("./spec.js").Lookup} Lookup
 * @typedef {import("./recipe.js").Inputs} Inputs
 */

import { all, need, setStamp, write } from "./dom.js";

/**
 * The advice for a set-up; nothing where one of the two choices is not in the table.
 * @param {AdviceView} view @param {(key: string) => unknown} entry what stands in a field
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
    const field = lookup.fields.find((each) => each.key === key);
    return key in inputs ? inputs[key] : field?.default;
  };
  for (const section of all(page, "[data-advice]")) {
    const view = lookup.views.advice[Number(section.dataset.advice)];
    show(section, lookup, view, entry);
  }
}

/** @param {HTMLElement} section @param {Lookup} lookup @param {AdviceView} view @param {(key: string) => unknown} entry */
function show(section, lookup, view, entry) {
  const found = advised(view, entry);
  write(need(section, "[data-for]"), view.by.map((key) => chosenLabel(lookup, key, entry(key))).join(", "));
  const stamp = need(section, ".stamp");
  setStamp(stamp, found?.status ?? "", found?.words ?? "");
  stamp.hidden = !found?.words;
  write(need(section, "[data-chosen] span"), found?.why ?? "");
  const [row, column] = view.by.map(entry);
  for (const cell of all(section, "td")) {
    cell.classList.toggle("current", cell.dataset.at === `${row} ${column}`);
  }
}

/** @param {Lookup} lookup @param {string} key @param {unknown} option */
function chosenLabel(lookup, key, option) {
  const field = lookup.fields.find((each) => each.key === key);
  if (field?.kind !== "choice") return "";
  return field.options.find((each) => each.key === option)?.label ?? "";
}
