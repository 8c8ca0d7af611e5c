/** The judged answers, each on a rule. */

import { all, button, need, setStamp, write } from "./dom.js";
import { drawRule } from "./rule.js";
import { isLeftOut, shownNamed, STATUS_WORDS } from "./words.js";

/** @typedef {import("./words.js").Shown} Shown */

/**
 * @param {ParentNode} page @param {Shown[]} everything
 * @param {(problem: import("../form/entries.js").Problem) => void} goTo shows an entry
 */
export function showMargins(page, everything, goTo) {
  for (const element of all(page, "[data-margin]")) {
    const shown = shownNamed(everything, element.dataset.margin);
    if (!shown) continue;
    // Without a limit there is nothing to show; an answer that is missing says why.
    element.hidden = shown.fault ? shown.fault.kind === "blank" || isLeftOut(shown) : !shown.status;
    setStamp(need(element, ".stamp"), shown.status, STATUS_WORDS[shown.status] ?? "");
    write(need(element, "[data-words]"), shown.words);
    showWayOut(element, shown, goTo);
    need(element, "[data-rule]").replaceChildren(...(shown.ends ? [drawRule(shown)] : []));
  }
  const section = page.querySelector("[data-margins]");
  if (section instanceof HTMLElement)
    section.hidden = all(section, "[data-margin]").every((element) => element.hidden);
}

/**
 * A way to the entry by which an answer is not checked; it may be folded away.
 * @param {HTMLElement} element @param {Shown} shown
 * @param {(problem: import("../form/entries.js").Problem) => void} goTo
 */
function showWayOut(element, { reason, problem }, goTo) {
  const symbol = reason?.kind === "example" ? reason.symbol : "";
  const entry = problem ?? (symbol ? { field: symbol, row: -1, entry: symbol, words: "" } : null);
  const old = element.querySelector("[data-way-out]");
  const name = entry ? `${entry.field} ${entry.row} ${entry.entry}` : "";
  const words = problem ? "Correct it" : "Enter it";
  const isThere = (old?.getAttribute("data-way-out") ?? "") === name;
  if (isThere && (!old || old.textContent === words)) return;
  old?.remove();
  if (!entry) return;
  const way = button(words, () => goTo(entry));
  way.setAttribute("data-way-out", name);
  element.append(way);
}
