/**
 * The record as a file: for another phone, for the shop's PC, or as a copy.
 *
 * @typedef {import("../bolts/progress.js").BoltMap} BoltMap
 * @typedef {import("./figures.js").Figure} Figure
 * @typedef {import("./pulleys.js").Pulley} Pulley
 * @typedef {import("./job.js").Job} Job
 * @typedef {import("./holds.js").Hold} Hold
 * @typedef {import("./runs.js").Run} Run
 * @typedef {{figures: Figure[], maps: BoltMap[], pulleys: Pulley[], jobs: Job[], holds: Hold[],
 *   runs: Run[]}} Contents
 * @typedef {Contents & {damaged: number}} Parcel
 * @typedef {{added: number, there: number, beside: number, joined: number, taken: number,
 *   left: number, damaged: number, names: Map<string, string>}} Outcome  `joined`: hold points that
 *   both had something of; `taken`: entries that now say what the file says; `left`: those that
 *   still say what they said here; `names`: what the file's jobs are called here
 * @typedef {import("./clashes.js").Choice} Choice
 */

import { isBoltMap, upToDate } from "../bolts/progress.js";
import { make } from "../face/dom.js";
import { fromBuildFile } from "./build_file.js";
import { figuresOfJob, hasNumbers, isFigure, upToDate as figureUpToDate } from "./figures.js";
import { hasKnownUnit as hasUnitOfLength, isPulley } from "./pulleys.js";
import { haveDeedInCommon, idOf, isHold, joined } from "./holds.js";
import { isJob, upToDate as jobUpToDate } from "./job.js";
import { KIND, ParcelError, SCHEMA } from "./parcel.js";
import { besideName, content } from "./clashes.js";
import { newId, readAll, RecordError, writeAll } from "./record.js";
import { isRun } from "./runs.js";
import { isText } from "./shapes.js";
import { parseToml, TomlError } from "./toml.js";

/** All that a file holds. */
export const COLLECTIONS = /** @type {const} */ ([
  "figures",
  "maps",
  "pulleys",
  "jobs",
  "holds",
  "runs",
]);

/**
 * All that the phone's record holds, and how many entries of it can't be read.
 * @returns {Promise<{contents: Contents, damaged: number}>}
 */
export async function everything() {
  const found = await Promise.all(COLLECTIONS.map((collection) => readAll(collection)));
  const pairs = COLLECTIONS.map((collection, n) => [collection, found[n].good]);
  return {
    contents: Object.fromEntries(pairs),
    damaged: found.reduce((sum, { damaged }) => sum + damaged, 0),
  };
}

/** Letters of a file, at most: a larger one is none of ours, and would stop the phone. */
export const LARGEST = 40_000_000;

/**
 * @param {Contents & {checksum?: string}} contents
 * @param {string} made the time
 * @returns {string}
 */
export function pack(contents, made) {
  return `${JSON.stringify({ kind: KIND, schema: SCHEMA, made, ...contents }, null, 1)}\n`;
}

/**
 * @param {string} text
 * @param {Pick<import("../model/catalogue.js").Kit, "quantities" | "makers">} kit
 * @returns {Parcel}
 * @throws {ParcelError}
 */
export function unpack(text, { quantities, makers }) {
  const found = parsed(text);
  if (!Number.isInteger(found.schema) || found.schema < 1 || found.schema > SCHEMA) {
    throw new ParcelError(
      "This record is from a newer version of this page. Load the page again, then try once more.",
    );
  }
  // Files of earlier versions hold no pulleys, no jobs, no hold points and no runs.
  const [figures, maps, pulleys, jobs, holds, runs] = COLLECTIONS.map((collection) =>
    Array.isArray(found[collection]) ? found[collection] : [],
  );
  // The file's own time, so that the same file taken in again is known again.
  const now = isText(found.made) ? found.made : "";
  const split = jobs
    .map(jobUpToDate)
    .filter(isJob)
    .map((job) => figuresOfJob(job, newId, now));
  const stated = figures
    .map(figureUpToDate)
    .filter((each) => isFigure(each) && hasNumbers(each, makers, quantities));
  const good = {
    figures: [...stated, ...split.flatMap((each) => each.figures)],
    maps: maps.map(upToDate).filter(isBoltMap),
    pulleys: pulleys.filter((each) => isPulley(each) && hasUnitOfLength(each, quantities)),
    jobs: split.map(({ job }) => job),
    holds: holds.filter(isHold),
    runs: runs.filter(isRun),
  };
  const whole = [stated, good.maps, good.pulleys, good.jobs, good.holds, good.runs].flat().length;
  return { ...good, damaged: [figures, maps, pulleys, jobs, holds, runs].flat().length - whole };
}

/**
 * What a file holds, if it is one of ours: a record, or a build file as the record that it makes.
 * @param {string} text @returns {any}
 * @throws {ParcelError}
 */
export function parsed(text) {
  const found = isRecord(text) ? fromText(text) : fromBuildFile(fromToml(text));
  if (found?.kind !== KIND)
    throw new ParcelError(
      "This file is not a record from here. Pick one that was saved on this page.",
    );
  return found;
}

/** Whether a file is a record by its first letter; else it is a build file. @param {string} text */
export function isRecord(text) {
  return /^\s*\{/.test(text);
}

const UNREADABLE = "This file can't be read. Pick one that was saved on this page.";

/** @param {string} text @returns {any} */
function fromText(text) {
  try {
    return JSON.parse(text);
  } catch {
    throw new ParcelError(UNREADABLE);
  }
}

/** @param {string} text @returns {Object<string, any>} */
function fromToml(text) {
  try {
    return parseToml(text);
  } catch (reason) {
    if (!(reason instanceof TomlError)) throw reason;
    throw new ParcelError(`${UNREADABLE} ${reason.message}`);
  }
}

/** @typedef {[import("./record.js").Collection, any][]} Plan  what is going to be written */

/**
 * Put a parcel's entries into the record, all of them or none. One that is there already is left
 * alone; one that differs from an entry with the same id is added beside it, unless it was chosen
 * what of its job is taken.
 * @param {Parcel} parcel @param {Map<string, Choice>} [choices] by the job's name
 * @returns {Promise<Outcome>}
 * @throws {RecordError} nothing was added; the message says so, and why
 */
export async function takeIn(parcel, choices = new Map()) {
  /** @type {Outcome} */
  const outcome = {
    added: 0,
    there: 0,
    beside: 0,
    joined: 0,
    taken: 0,
    left: 0,
    damaged: parcel.damaged,
    names: new Map(),
  };
  try {
    /** @type {Plan} */
    const plan = [];
    const names = await planJobs(parcel.jobs, outcome, plan, choices);
    outcome.names = names;
    /** What belongs to a job goes with it. @param {any} entry */
    const renamed = (entry) =>
      names.has(entry.job) ? { ...entry, job: names.get(entry.job) } : entry;
    for (const collection of /** @type {const} */ (["figures", "maps", "pulleys", "runs"]))
      await planOthers(collection, parcel[collection].map(renamed), outcome, plan, choices);
    await planHolds(parcel.holds.map(renamed), outcome, plan);
    await writeAll(plan);
    return outcome;
  } catch (reason) {
    if (reason instanceof RecordError)
      throw new RecordError(`Nothing was added. ${reason.message}`);
    throw reason;
  }
}

/**
 * @param {"figures" | "maps" | "pulleys" | "runs"} collection @param {any[]} entries
 * @param {Outcome} outcome @param {Plan} plan @param {Map<string, Choice>} choices
 */
async function planOthers(collection, entries, outcome, plan, choices) {
  const { good, bad } = await readAll(collection);
  // An entry that can't be read is of a newer version, perhaps: nothing is written over it.
  const ids = new Set([...good, ...bad].map((each) => each?.id));
  const contents = new Set(good.map(content));
  for (const entry of entries) {
    if (contents.has(content(entry))) {
      outcome.there += 1;
      continue;
    }
    const mine = collection === "figures" && good.find(({ id }) => id === entry.id);
    const choice = choices.get(entry.job);
    if (mine && choice && choice !== "beside") {
      planFigure(mine, entry, choice.figures, outcome, plan);
      continue;
    }
    const isTaken = ids.has(entry.id);
    const id = isTaken ? newId() : entry.id;
    ids.add(id);
    contents.add(content(entry));
    plan.push([collection, { ...entry, id, rev: 0 }]);
    if (isTaken) outcome.beside += 1;
    else outcome.added += 1;
  }
}

/**
 * @param {Figure} mine @param {Figure} theirs the same figure with other values
 * @param {string[]} taken the ids of those that are to say what the file says
 * @param {Outcome} outcome @param {Plan} plan
 */
function planFigure(mine, theirs, taken, outcome, plan) {
  if (!taken.includes(theirs.id)) {
    outcome.left += 1;
    return;
  }
  plan.push(["figures", { ...theirs, used: mine.used, rev: mine.rev }]);
  outcome.taken += 1;
}

/**
 * A hold point is one for both, if both have something of the same job; what was done to it on the
 * other phone is joined with what was done here. Another job that only bears the same name gets one
 * of its own: a signature must never come to stand under another truck.
 * @param {Hold[]} holds @param {Outcome} outcome @param {Plan} plan
 */
async function planHolds(holds, outcome, plan) {
  /** @type {{good: Hold[], bad: any[]}} */
  const { good, bad } = await readAll("holds");
  const taken = new Set([...good, ...bad].map(({ job }) => job));
  for (const job of new Set(holds.map((each) => each.job))) {
    const ours = good.filter((each) => each.job === job);
    const theirs = onePerPoint(holds.filter((each) => each.job === job));
    const isOther = taken.has(job) && !haveDeedInCommon(ours, theirs);
    const name = isOther ? freeName(taken, besideName(job)) : job;
    taken.add(name);
    for (const each of theirs) {
      const mine = isOther ? undefined : ours.find(({ point }) => point === each.point);
      const log = mine ? joined(mine.log, each.log) : each.log;
      if (mine && log === mine.log) {
        outcome.there += 1;
        continue;
      }
      const id = idOf(name, each.point);
      plan.push(["holds", { ...each, job: name, id, log, rev: mine?.rev ?? 0 }]);
      if (mine) outcome.joined += 1;
      else if (isOther) outcome.beside += 1;
      else outcome.added += 1;
    }
  }
}

/** A job's hold points, those that a file holds twice as one. @param {Hold[]} holds */
function onePerPoint(holds) {
  /** @type {Map<string, Hold>} */
  const found = new Map();
  for (const each of holds) {
    const before = found.get(each.point);
    found.set(each.point, before ? { ...before, log: joined(before.log, each.log) } : each);
  }
  return [...found.values()];
}

/**
 * The job in hand stays the one in hand, and a name that is taken stays with who has it.
 * @param {Job[]} jobs @param {Outcome} outcome @param {Plan} plan
 * @param {Map<string, Choice>} choices
 * @returns {Promise<Map<string, string>>} the names that they have here, by those in the file
 */
async function planJobs(jobs, outcome, plan, choices) {
  /** @type {{good: Job[]}} */
  const { good } = await readAll("jobs");
  const known = new Set(good.map(content));
  const names = new Set(good.map(({ name }) => name));
  const here = new Map();
  for (const job of jobs) {
    const choice = choices.get(job.name);
    const mine = good.find(({ name }) => name === job.name);
    if (mine && choice && choice !== "beside") {
      planEntries(mine, job, choice.entries, outcome, plan);
      here.set(job.name, job.name);
      continue;
    }
    const beside = besideName(job.name);
    const same = [job.name, beside].find((name) => known.has(content({ ...job, name })));
    if (same !== undefined) {
      here.set(job.name, same);
      outcome.there += 1;
      continue;
    }
    const isTaken = names.has(job.name);
    const name = isTaken ? freeName(names, beside) : job.name;
    names.add(name);
    here.set(job.name, name);
    plan.push(["jobs", { ...job, name, id: newId(), rev: 0, taken: "" }]);
    if (isTaken) outcome.beside += 1;
    else outcome.added += 1;
  }
  return here;
}

/**
 * Let a job say what the file says, in the entries that were chosen.
 * @param {Job} mine @param {Job} theirs @param {string[]} names
 * @param {Outcome} outcome @param {Plan} plan
 */
function planEntries(mine, theirs, names, outcome, plan) {
  outcome.taken += names.length;
  if (!names.length) return;
  const taken = Object.fromEntries(names.map((name) => [name, theirs.entries[name]]));
  plan.push(["jobs", { ...mine, entries: { ...mine.entries, ...taken } }]);
}

/** @param {Set<string>} names @param {string} wanted */
function freeName(names, wanted) {
  let free = wanted;
  for (let n = 2; names.has(free); n += 1) free = `${wanted} ${n}`;
  return free;
}

/** @param {Outcome} outcome */
export function outcomeInWords({ added, there, beside, joined: both, taken, left, damaged }) {
  const parts = [`${added} added`];
  if (taken) parts.push(`${taken} changed to what the file says`);
  if (left) parts.push(`${left} left as they are here`);
  if (there) parts.push(`${there} were here already`);
  if (beside) parts.push(`${beside} differ from what is here and were added beside it`);
  if (both) parts.push(`${both} were here and have what the file says besides`);
  if (damaged) parts.push(`${damaged} could not be read and were left out`);
  return `${parts.join(", ")}.`;
}

/** Save a text as a file. @param {string} name @param {string} text */
export function saveFile(name, text) {
  const url = URL.createObjectURL(new Blob([text], { type: "application/json" }));
  const anchor = make("a", { href: url, download: name });
  anchor.click();
  setTimeout(() => URL.revokeObjectURL(url), 60_000);
}

/**
 * A name for the file: what it is, the job, the day.
 * @param {string} what
 * @param {string} job
 * @param {string} day
 */
export function fileName(what, job, day) {
  const plain = job
    .toLowerCase()
    .normalize("NFKD")
    .replace(/[^a-z0-9]+/g, "-")
    .replace(/^-|-$/g, "")
    .slice(0, 40);
  return `${[what, plain, day.slice(0, 10)].filter(Boolean).join("-")}.json`;
}
