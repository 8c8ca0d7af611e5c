/** The list of all answers. */

import { all, need, write } from "./dom.js";
import { NO_CELL } from "./numbers.js";
import { isLeftOut, Reasons, shownNamed } from "./words.js";

/** @typedef {import("./words.js").Shown} Shown */

/** @param {ParentNode} page @param {Shown[]} everything */
export function showAnswers(page, everything) {
  const reasons = new Reasons();
  for (const item of all(page, "[data-answers] > li")) {
    const shown = shownNamed(everything, item.dataset.answer);
    if (!shown) continue;
    item.hidden = isLeftOut(shown);
    write(need(item, "[data-number]"), shown.fault ? NO_CELL : shown.text);
    const reason = shown.fault && !item.hidden ? reasons.say(shown.words) : "";
    write(need(item, "[data-words]"), shown.fault ? reason : shown.answer.note);
    showUnit(item.querySelector("[data-unit]"), shown);
  }
}

/** @param {Element | null} holder @param {Shown} shown */
export function showUnit(holder, { unit }) {
  if (holder instanceof HTMLSelectElement) holder.value = unit.key;
  else if (holder) write(holder, unit.label);
}
