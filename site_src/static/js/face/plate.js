/** The plate: one large number, its status and reason, and a few more answers under it. */

import { all, button, make, need, setStamp, write } from "./dom.js";
import { NO_CELL, withUnit } from "./numbers.js";
import { isLeftOut, shownNamed, STATUS_WORDS, worst } from "./words.js";

/** @typedef {import("./words.js").Shown} Shown */

/**
 * Shown when nothing can be worked out at all.
 * @param {HTMLElement} plate
 * @param {string} words
 * @param {HTMLElement} [action]
 */
export function silencePlate(plate, words, action) {
  setSilence(plate, words, action);
  plate.dataset.status = "";
  need(plate, "[data-verdict]").replaceChildren();
  for (const item of beside(plate)) {
    write(need(item, ".lesser-number"), NO_CELL);
    item.removeAttribute("data-status");
  }
}

/**
 * @param {HTMLElement} plate @param {Shown} main @param {Shown[]} everything
 * @param {(problem: import("../form/entries.js").Problem) => void} goTo shows the entry to correct
 */
export function showPlate(plate, main, everything, goTo) {
  write(need(plate, "[data-label]"), main.answer.label);
  if (main.fault) {
    const { problem } = main;
    setSilence(
      plate,
      main.words,
      problem ? button("Go to that entry", () => goTo(problem), "") : undefined,
    );
  } else {
    showNumber(plate, main);
  }
  showVerdict(plate, main, everything);
  for (const item of beside(plate)) {
    const shown = shownNamed(everything, item.dataset.answer);
    if (shown) showLesser(item, shown);
  }
}

/** The lesser answers, which lie under the plate and are not pinned. @param {HTMLElement} plate */
function beside(plate) {
  return all(plate.parentElement ?? plate, "[data-lesser] > li");
}

/** @param {HTMLElement} plate @param {Shown} main */
function showNumber(plate, main) {
  const value = need(plate, "[data-value]");
  write(value, main.text);
  value.setAttribute("value", String(main.value));
  need(plate, ".plate-number").hidden = false;
  need(plate, "[data-silence]").hidden = true;
}

/**
 * Words in place of the number.
 * @param {HTMLElement} plate
 * @param {string} words
 * @param {HTMLElement} [action]
 */
function setSilence(plate, words, action) {
  const silence = need(plate, "[data-silence]");
  write(need(silence, "p"), words);
  silence.querySelector("button")?.remove();
  if (action) silence.append(action);
  silence.hidden = false;
  need(plate, ".plate-number").hidden = true;
  const value = need(plate, "[data-value]");
  write(value, "");
  value.removeAttribute("value");
}

/** @param {HTMLElement} plate @param {Shown} main @param {Shown[]} everything */
function showVerdict(plate, main, everything) {
  const verdict = need(plate, "[data-verdict]");
  const judged = worst(everything);
  // Without its main number a plate says no more than what is amiss.
  const found = main.fault && judged?.status === "within" ? undefined : judged;
  plate.dataset.status = found?.status ?? "";
  if (!found) {
    verdict.replaceChildren(...(main.fault ? [] : [make("span", {}, [main.answer.note])]));
    return;
  }
  const stamp = verdict.querySelector(".stamp") ?? make("strong", { class: "stamp" });
  setStamp(stamp, found.status, STATUS_WORDS[found.status]);
  const also = everything.filter(({ status }) => status && status !== "within").length - 1;
  const more = found.status !== "within" && also > 0 ? ` ${also} more below.` : "";
  const words = verdict.querySelector(".stamp + span") ?? make("span");
  write(words, isSaid(main, found) ? "" : found.words + more);
  const isThere = stamp.parentNode && words.parentNode;
  layVerdict(verdict, isThere ? [] : [stamp, " ", words]);
}

/** @param {HTMLElement} verdict @param {Array<Node | string>} made what is not in it yet */
function layVerdict(verdict, made) {
  if (made.length) verdict.replaceChildren(make("a", { class: "clip" }, [make("span", {}, made)]));
  verdict.querySelector("a.clip")?.setAttribute("href", `#${inFull()}`);
}

/** Where every verdict is told whole: one tap on the plate leads there. */
function inFull() {
  const parts = ["ladder-title", "margins-title", "answers-title"];
  return parts.find((id) => document.getElementById(id)?.closest("section:not([hidden])"));
}

/**
 * Whether the place of the missing number says already why nothing is checked.
 * @param {Shown} main @param {Shown} found
 */
function isSaid(main, found) {
  return found.status === "unchecked" && main.fault !== null && main.problem !== null;
}

/** @param {HTMLElement} item @param {Shown} shown */
function showLesser(item, shown) {
  item.hidden = isLeftOut(shown);
  write(
    need(item, ".lesser-number"),
    shown.fault ? NO_CELL : withUnit(shown.text, shown.unit.label),
  );
  item.dataset.status = shown.status;
}

/**
 * A maker's figure comes first, as it was typed; the worked-out one is beside it.
 * @param {HTMLElement} plate @param {{text: string, source: string} | null} figure
 */
export function showMakers(plate, figure) {
  const makers = need(plate, "[data-makers]");
  makers.hidden = !figure;
  if (!figure) return;
  makers.replaceChildren(
    make("span", {}, [`Maker's figure · ${figure.source || "no source noted"}`]),
    make("b", {}, [figure.text]),
  );
}
