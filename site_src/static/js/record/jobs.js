/**
 * The jobs on this phone. What belongs to a job carries its name; the phone works on one job at a
 * time, the one that was taken up last.
 */

import { inHand, newJob, USUAL_NAME } from "./job.js";
import { amend, jobsIn, newId, OF_JOB, readAll, remove, renameJob } from "./record.js";

/** @typedef {import("./job.js").Job} Job */

/** Tells the other tabs that a job has changed. */
export const elsewhere =
  "BroadcastChannel" in globalThis ? new BroadcastChannel("bay-reckoner jobs") : null;

/** Tells the other tabs that a maker's figure has changed; this tab's own pages too. */
export const figuresElsewhere =
  "BroadcastChannel" in globalThis ? new BroadcastChannel("bay-reckoner figures") : null;

/** Tells the other tabs that a hold point was signed, skipped or changed. */
export const holdsElsewhere =
  "BroadcastChannel" in globalThis ? new BroadcastChannel("bay-reckoner holds") : null;

/** @returns {Promise<Job[]>} those that can be read */
export async function readJobs() {
  return (await readAll("jobs")).good;
}

/** The job in hand; a new one on a phone that has none, which is kept once it holds something. */
export async function jobInHand() {
  return inHand(await readJobs()) ?? newJob(newId(), USUAL_NAME, new Date().toISOString());
}

/** Its name, or the usual one where the record can't be read. @returns {Promise<string>} */
export async function currentJob() {
  try {
    return (await jobInHand()).name;
  } catch {
    return USUAL_NAME;
  }
}

/** Every job that is known by name, the one in hand first. */
export async function jobNames() {
  const jobs = await readJobs();
  const current = inHand(jobs)?.name ?? USUAL_NAME;
  const bearers = await Promise.all(OF_JOB.map(jobsIn));
  const others = [...bearers.flat(), ...jobs.map(({ name }) => name)].sort((a, b) =>
    a.localeCompare(b),
  );
  return [...new Set([current, ...others])];
}

/**
 * Make a job the one in hand; it may be new.
 * @param {string} name
 * @param {Partial<Pick<Job, "entries" | "kept">>} [start] what a new one begins with
 */
export async function takeUp(name, start = {}) {
  const taken = new Date().toISOString();
  const jobs = await readJobs();
  // The job in hand may not have been kept yet, and would be forgotten beside another.
  if (!jobs.length && name !== USUAL_NAME)
    await keep(newJob(newId(), USUAL_NAME, new Date(0).toISOString()));
  const job = jobs.find((each) => each.name === name);
  await keep(job ? { ...job, taken } : { ...newJob(newId(), name, taken), ...start });
}

/**
 * Rename the job in hand, with all that belongs to it. If another job has that name already, make
 * that one the job in hand instead.
 * @param {string} name
 */
export async function nameJob(name) {
  const job = await jobInHand();
  if ((await jobNames()).includes(name)) {
    if (name !== job.name) await takeUp(name);
    return;
  }
  await renameJob(job, name);
  elsewhere?.postMessage(job.id);
}

/** @param {string} id */
export async function removeJob(id) {
  await remove("jobs", id);
  elsewhere?.postMessage(id);
}

/** @param {Job} job */
export async function keep(job) {
  await amend("jobs", job, (there) => ({ ...there, ...job }));
  elsewhere?.postMessage(job.id);
}
