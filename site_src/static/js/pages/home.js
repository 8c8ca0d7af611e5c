/** The front page: the system of units, the job's name, and what the phone remembers. */

import { all, need, write } from "../face/dom.js";
import { nameJob } from "../record/jobs.js";
import { recall, remember, reset, storeTrouble, USUAL_JOB } from "../record/store.js";

const name = /** @type {HTMLInputElement} */ (need(document, "[data-job-name]"));
const systems = /** @type {HTMLInputElement[]} */ (all(document, "[data-systems] input"));
const forgotten = need(document, "[data-forgotten]");

show();
name.addEventListener("change", () => {
  const wanted = name.value.trim() || USUAL_JOB;
  // If the record can't be read, there is nothing else to rename.
  nameJob(wanted)
    .catch(() =>
      remember((state) => {
        state.job.name = wanted;
      }),
    )
    .finally(show);
});
for (const input of systems) {
  input.addEventListener("change", () => {
    remember((state) => {
      state.system = input.value;
    });
    show();
  });
}
need(document, "[data-forget]").addEventListener("click", () => {
  if (
    !confirm(
      "Forget the units, the screen mode, the job's name and the makers' figures typed into the lookups?",
    )
  )
    return;
  reset();
  show();
  write(forgotten, storeTrouble() || "Forgotten.");
});

function show() {
  const { job, system, units } = recall();
  for (const input of systems) input.checked = input.value === system;
  const picked = Object.keys(units).length;
  write(
    need(document, "[data-picked]"),
    picked ? `Units picked one by one on a page stay as they are: ${picked}.` : "",
  );
  name.value = job.name;
  const count = Object.keys(job.kept).length;
  write(
    need(document, "[data-kept-count]"),
    `Makers' figures typed into the lookups and kept for it: ${count}.`,
  );
}
