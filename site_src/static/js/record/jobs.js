/**
 * Jobs by name. Figures and maps carry their job's name; the phone works on one job at a time.
 *
 * What was typed on the lookup pages for a job is stored while another job is the current one.
 */

import { readAll, write } from "./record.js";
import { isObject } from "./shapes.js";
import { isAllKept, recall, remember } from "./store.js";

/** @typedef {import("./store.js").Kept} Kept */

const KEY = "bay-reckoner-jobs";
const SCHEMA = 1;

/** @returns {string} */
export function currentJob() {
  return recall().job.name;
}

/**
 * Every job that is known, the current one first.
 * @param {{job: string}[]} entries figures and maps
 */
export function jobNames(entries) {
  const others = [...entries.map(({ job }) => job), ...(putBy() ?? new Map()).keys()].sort((a, b) =>
    a.localeCompare(b),
  );
  return [...new Set([currentJob(), ...others])];
}

/**
 * Make a job the current one; it may be new.
 * @param {string} name
 * @returns {boolean} whether the phone kept it
 */
export function takeUp(name) {
  const { job } = recall();
  if (name === job.name) return true;
  const jobs = putBy();
  // What can't be read is not overwritten: it may hold another job's figures.
  if (!jobs) return false;
  jobs.set(job.name, job.kept);
  const kept = jobs.get(name) ?? {};
  jobs.delete(name);
  try {
    const text = JSON.stringify({ schema: SCHEMA, jobs: Object.fromEntries(jobs) });
    localStorage.setItem(KEY, text);
  } catch {
    return false;
  }
  return remember((state) => {
    state.job = { name, kept };
  });
}

/**
 * Rename the current job, with all that belongs to it. If another job has that name already, make
 * that one the current job instead.
 * @param {string} name @returns {Promise<boolean>} whether the phone kept it
 */
export async function nameJob(name) {
  const before = currentJob();
  const collections = /** @type {const} */ (["figures", "maps"]);
  const entries = await Promise.all(
    collections.map(async (collection) => (await readAll(collection)).good),
  );
  if (jobNames(entries.flat()).includes(name)) return takeUp(name);
  for (const [n, collection] of collections.entries()) {
    for (const entry of entries[n])
      if (entry.job === before) await write(collection, { ...entry, job: name });
  }
  return remember((state) => {
    state.job.name = name;
  });
}

/**
 * What is stored for the other jobs, by name; null if it can't be read. A map, since people name
 * jobs as they like: an object knows "constructor" without being told.
 * @returns {Map<string, Object<string, Kept>> | null}
 */
function putBy() {
  try {
    const text = localStorage.getItem(KEY);
    if (text === null) return new Map();
    const found = JSON.parse(text);
    return found?.schema === SCHEMA &&
      isObject(found.jobs) &&
      Object.values(found.jobs).every(isAllKept)
      ? new Map(Object.entries(found.jobs))
      : null;
  } catch {
    return null;
  }
}
