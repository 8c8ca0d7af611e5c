/**
 * The screen mode: as the phone has it, dark, or black on white for the sun; and the mark of the
 * shop's units, by which words show one of their two measures. Runs before the first paint.
 */

import { showStoreTrouble } from "../record/notice.js";
import { MODES, recall, remember } from "../record/store.js";

const root = document.documentElement;
root.dataset.live = "";
const { mode: chosen, system } = recall();
root.dataset.mode = chosen;
root.dataset.system = system;

if (document.readyState === "loading") document.addEventListener("DOMContentLoaded", bind);
else bind();

function bind() {
  showStoreTrouble();
  for (const input of document.querySelectorAll('[data-modes] input[name="mode"]')) {
    if (!(input instanceof HTMLInputElement)) continue;
    input.checked = input.value === root.dataset.mode;
    input.addEventListener("change", () => choose(input.value));
  }
}

/** @param {string} mode */
function choose(mode) {
  if (!MODES.includes(mode)) return;
  root.dataset.mode = mode;
  remember((state) => {
    state.mode = mode;
  });
  showStoreTrouble();
}
