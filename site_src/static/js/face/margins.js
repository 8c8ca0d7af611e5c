/** The judged answers, each on a rule. */

import { all, need, setStamp, write } from "./dom.js";
import { drawRule } from "./rule.js";
import { isLeftOut, shownNamed, STATUS_WORDS } from "./words.js";

/** @typedef {import("./words.js").Shown} Shown */

/** @param {ParentNode} page @param {Shown[]} everything */
export function showMargins(page, everything) {
  for (const element of all(page, "[data-margin]")) {
    const shown = shownNamed(everything, element.dataset.margin);
    if (!shown) continue;
    // Without a limit there is nothing to show; an answer that is missing says why.
    element.hidden = shown.fault
      ? shown.fault.kind === "blank" || isLeftOut(shown)
      : !shown.status;
    setStamp(need(element, ".stamp"), shown.status, STATUS_WORDS[shown.status] ?? "");
    write(need(element, "[data-words]"), shown.words);
    need(element, "[data-rule]").replaceChildren(...(shown.ends ? [drawRule(shown)] : []));
  }
  const section = page.querySelector("[data-margins]");
  if (section instanceof HTMLElement)
    section.hidden = all(section, "[data-margin]").every((element) => element.hidden);
}
