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
  if (!confirm("Forget the picked units, the screen mode, the job's name and the makers' figures typed into the lookups?")) return;
  reset();
  show();
  write(forgotten, storeTrouble() || "Forgotten.");
});

function show() {
  const { job } = recall();
  name.value = job.name;
  const count = Object.keys(job.kept).length;
  write(need(document, "[data-kept-count]"), `Makers' figures typed into the lookups and kept for it: ${count}.`);
}
