/**
 * What runs out first: each limit on a rule that is alike for all of them, the most used one on
 * top.
 */

import { all, draw, need, setStamp, write } from "./dom.js";
import { withUnit } from "./numbers.js";
import { carried, firstWords } from "./rungs.js";
import { shareMarks } from "./scale.js";
import { STATUS_WORDS } from "./words.js";

/** @typedef {import("./rungs.js").Step} Step */

const LONG = [6, 9, 12];

/**
 * @param {ParentNode} page
 * @param {Step[]} steps in their order
 * @param {import("../model/catalogue.js").Kit} kit
 * @param {import("../form/entries.js").Entries} entries
 * @param {import("../recipe.js").Outcome} outcome
 */
export function showLadder(page, steps, kit, entries, outcome) {
  const section = page.querySelector("[data-ladder]");
  if (!section) return;
  write(need(section, "[data-first]"), firstWords(steps));
  const list = need(section, "[data-rungs]");
  const items = steps.map(({ rung }) => need(list, `[data-rung="${rung.answer}"]`));
  steps.forEach((step, n) => showRung(items[n], step, carried(kit, step.rung, entries, outcome)));
  // Moved only if the order has changed: what is moved loses the focus.
  if (all(list, "[data-rung]").some((item, n) => item !== items[n])) list.append(...items);
}

/** @param {HTMLElement} item @param {Step} step @param {string | null} query */
function showRung(item, { rung, shown, words }, query) {
  item.dataset.status = shown.status;
  const used = shown.fault ? "none" : withUnit(shown.text, shown.unit.label);
  write(need(item, "[data-used]"), used);
  setStamp(need(item, ".stamp"), shown.status, STATUS_WORDS[shown.status] ?? "");
  write(need(item, "[data-words]"), words);
  need(item, "[data-share]").replaceChildren(
    ...(shown.ends ? [drawShare(shown.ends, `${rung.label}: ${used} used`)] : []),
  );
  const link = /** @type {HTMLAnchorElement} */ (need(item, "[data-page]"));
  link.hidden = query === null;
  link.search = query ?? "";
}

/** @param {import("./words.js").Ends} ends @param {string} label */
function drawShare({ value, limit, near }, label) {
  const marks = shareMarks(value / limit, near / limit);
  return draw(
    "svg",
    { class: "rule share", viewBox: "0 0 340 52", role: "img", "aria-label": label },
    [
      draw("rect", { class: "rule-body", x: "1", y: "1", width: "338", height: "50" }),
      zone("rule-near", marks.near),
      draw("path", { class: "rule-hatch", d: marks.hatch }),
      zone("rule-beyond", marks.beyond),
      draw("path", {
        class: "rule-ticks",
        d: marks.ticks.map(({ at, size }) => `M${at} 1v${LONG[size]}`).join(""),
      }),
      ...marks.ticks
        .filter(({ label: text }) => text)
        .map(({ at, label: text }, n) =>
          draw(
            "text",
            { class: "rule-number", x: at, y: "28", "text-anchor": n ? "middle" : "start" },
            [text],
          ),
        ),
      draw("rect", {
        class: "rule-used",
        x: "1",
        y: "37",
        width: (Number(marks.used) - 1).toFixed(1),
        height: "8",
      }),
      draw("path", { class: "rule-notch", d: `M${marks.limit} 34l-8 17h16z` }),
    ],
  );
}

/** @param {string} name @param {string[]} ends */
function zone(name, [left, right]) {
  return draw("rect", {
    class: name,
    x: left,
    y: "33",
    width: (Number(right) - Number(left)).toFixed(1),
    height: "16",
  });
}
