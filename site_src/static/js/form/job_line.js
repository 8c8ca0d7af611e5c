/** The job that a page works on, and whether what was entered is kept. */

import { need, write } from "../face/dom.js";

/** @param {ParentNode} page @param {import("../record/kept_truck.js").Truck} truck */
export function showJobLine(page, truck) {
  const line = need(page, "[data-job-line]");
  line.dataset.state = truck.state;
  write(need(line, "[data-job]"), truck.job.name);
  write(need(line, "[data-kept-state]"), words(truck));
}

/** @param {import("../record/kept_truck.js").Truck} truck */
function words(truck) {
  if (truck.state === "lost") return `Not kept. ${truck.words}`;
  if (truck.state === "keeping") return "being kept …";
  return truck.isEmpty ? "nothing entered yet: examples" : "kept";
}
