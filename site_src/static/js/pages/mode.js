/**
 * The screen mode: as the phone has it, dark, or black on white for the sun. Runs before the first
 * paint.
 */

import { showStoreTrouble } from "../record/notice.js";
import { MODES, recall, remember } from "../record/store.js";

const root = document.documentElement;
root.dataset.live = "";
root.dataset.mode = recall().mode;

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
