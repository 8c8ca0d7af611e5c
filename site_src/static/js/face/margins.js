/** The judged answers, each on a rule; and the list of all answers. */

import { all, need, setStamp, write } from "./dom.js";
import { drawRule } from "./rule.js";
import { Reasons, STATUS_WORDS } from "./words.js";

/** @typedef {import("./words.js").Shown} Shown */

/** @param {ParentNode} page @param {Shown[]} everything */
export function showMargins(page, everything) {
  for (const element of all(page, "[data-margin]")) {
    const shown = everything.find(({ answer }) => answer.key === element.dataset.margin);
    if (!shown) continue;
    // No limit given, none to show; an answer that can't be had says why.
    element.hidden = shown.fault ? shown.fault.kind === "blank" : !shown.ends;
    setStamp(need(element, ".stamp"), shown.status, STATUS_WORDS[shown.status] ?? "");
    write(need(element, "[data-words]"), shown.words);
    need(element, "[data-rule]").replaceChildren(...(shown.ends ? [drawRule(shown)] : []));
  }
  const section = page.querySelector("[data-margins]");
  if (section instanceof HTMLElement)
    section.hidden = all(section, "[data-margin]").every((element) => element.hidden);
}

/** @param {ParentNode} page @param {Shown[]} everything */
export function showAnswers(page, everything) {
  const reasons = new Reasons();
  for (const item of all(page, "[data-answers] > li")) {
    const shown = everything.find(({ answer }) => answer.key === item.dataset.answer);
    if (!shown) continue;
    item.hidden = shown.answer.optional && shown.fault?.kind === "blank";
    write(need(item, "[data-figure]"), shown.fault ? "none" : shown.text);
    const reason = shown.fault && !item.hidden ? reasons.say(shown.words) : "";
    write(need(item, "[data-words]"), shown.fault ? reason : shown.answer.note);
    showUnit(item.querySelector("[data-unit]"), shown);
  }
}

/** @param {Element | null} button @param {Shown} shown */
export function showUnit(button, { answer, unit }) {
  if (!button) return;
  write(button, unit.label);
  if (button.tagName === "BUTTON")
    button.setAttribute("aria-label", `${answer.label}: unit ${unit.label}, change`);
}
