/** The front page: the job's name, and what the phone remembers. */

import { need, write } from "./dom.js";
import { USUAL_JOB, recall, remember, reset, storeTrouble } from "./store.js";

const name = /** @type {HTMLInputElement} */ (need(document, "[data-job-name]"));
const forgotten = need(document, "[data-forgotten]");

show();
name.addEventListener("change", () => {
  remember((state) => {
    state.job.name = name.value.trim() || USUAL_JOB;
  });
  show();
});
need(document, "[data-forget]").addEventListener("click", () => {
  if (!confirm("Forget the picked units, the screen mode, the job's name and every maker's figure kept here?")) return;
  reset();
  show();
  write(forgotten, storeTrouble() || "Forgotten.");
});

function show() {
  const { job } = recall();
  name.value = job.name;
  const count = Object.keys(job.kept).length;
  const kept = count === 1 ? "One maker's figure is kept for it." : `${count || "No"} makers' figures are kept for it.`;
  write(need(document, "[data-kept-count]"), kept);
}
