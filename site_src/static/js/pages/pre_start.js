/** Pre-start: READY, or what is open. It reads again for as long as it is looked at. */

import { make, need, write } from "../face/dom.js";
import { readiness, stagesNow } from "../holds/points.js";
import { readKept, whenChanged } from "../record/kept_holds.js";

/** @typedef {import("../holds/points.js").Item} Item */

/** A map may be begun in another window, which tells nobody. In milliseconds. */
const EVERY = 4000;

const page = need(document, "[data-pre-start]");
/** @type {import("../holds/points.js").Stage[]} */
const declared = JSON.parse(page.dataset.stages ?? "[]");
const root = page.dataset.root ?? "";

/** @param {boolean} isReady @param {string} line */
function judge(isReady, line) {
  need(page, "[data-verdict]").dataset.verdict = isReady ? "ready" : "stop";
  write(need(page, "[data-word]"), isReady ? "READY" : "NOT READY");
  write(need(page, "[data-line]"), line);
}

/** @param {string} selector @param {Item[]} items */
function list(selector, items) {
  const rows = items.map(({ words, stage, to }) =>
    make("li", {}, [
      make("a", { href: `${root}${to}` }, [make("small", {}, [stage]), make("b", {}, [words])]),
    ]),
  );
  const holder = need(page, `[data-${selector}]`);
  const isSame =
    rows.length === holder.children.length &&
    rows.every((row, n) => row.isEqualNode(holder.children[n]));
  // Not under a finger that is about to press.
  if (!isSame) holder.replaceChildren(...rows);
  const part = page.querySelector(`[data-${selector}-part]`);
  part?.toggleAttribute("hidden", !items.length);
}

async function show() {
  const kept = await readKept();
  const { isReady, open, skipped, due } = readiness(stagesNow(declared, kept), kept);
  write(need(page, "[data-job]"), kept.trouble ? "" : kept.job);
  list("open", open);
  list("due", due);
  list("skipped", skipped);
  const more = skipped.length ? ` ${skipped.length} skipped, with reasons below.` : "";
  judge(
    isReady,
    isReady
      ? `Every hold point before the key is signed or skipped.${more}`
      : `${open.length} open. Tap one to see to it.`,
  );
}

/** Whatever went wrong: not ready. */
function showOrStop() {
  show().catch((reason) => {
    judge(false, "This page failed. Load it again.");
    throw reason;
  });
}

whenChanged(showOrStop);
setInterval(() => {
  if (document.visibilityState === "visible") showOrStop();
}, EVERY);
showOrStop();
