/**
 * What was done since a job was last saved as a file: a phone that is lost takes it along. No DOM.
 *
 * @typedef {import("./kept_holds.js").Kept} Kept
 * @typedef {import("../holds/points.js").StageNow} StageNow
 */

import { recall, remember } from "./store.js";

/** Jobs are in a file now. @param {string[]} jobs @param {string} made when it was made */
export function nowSaved(jobs, made) {
  remember((state) => {
    const saved = new Map(state.saved);
    for (const job of jobs) saved.set(job, made);
    state.saved = [...saved];
  });
}

/**
 * What was finished last and is in no file yet, in words; empty if nothing is.
 * @param {StageNow[]} stages @param {Pick<Kept, "job" | "maps">} kept of the job in hand
 */
export function unsaved(stages, { job, maps }) {
  const saved = new Map(recall().saved).get(job) ?? "";
  const done = [
    ...maps
      .filter(({ finished }) => finished)
      .map(({ title, finished }) => ({ title, at: finished })),
    ...stages
      .filter(({ open, points }) => points.length && !open)
      .map(({ label, points }) => ({ title: label, at: lastDeed(points) })),
  ].filter(({ at }) => at && Date.parse(at) > (Date.parse(saved) || 0));
  if (!done.length) return "";
  const last = done.reduce((a, b) => (Date.parse(b.at) > Date.parse(a.at) ? b : a));
  const more = done.length > 1 ? ` and ${done.length - 1} more` : "";
  const is = done.length > 1 ? "are" : "is";
  return `${last.title}${more} ${is} done, and only this phone knows.`;
}

/** @param {StageNow["points"]} points */
function lastDeed(points) {
  const all = points.flatMap(({ hold }) => hold?.log.map(({ at }) => at) ?? []);
  return all.sort().at(-1) ?? "";
}
