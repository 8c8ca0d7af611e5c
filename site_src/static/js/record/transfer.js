/**
 * The record as a file: for another phone, for the shop's PC, or as a copy.
 *
 * @typedef {import("../bolts/progress.js").BoltMap} BoltMap
 * @typedef {import("./figures.js").Figure} Figure
 * @typedef {import("./pulleys.js").Pulley} Pulley
 * @typedef {import("./job.js").Job} Job
 * @typedef {{figures: Figure[], maps: BoltMap[], pulleys: Pulley[], jobs: Job[]}} Contents
 * @typedef {Contents & {damaged: number}} Parcel
 * @typedef {{added: number, there: number, beside: number, damaged: number}} Outcome
 */

import { isBoltMap, upToDate } from "../bolts/progress.js";
import { make } from "../face/dom.js";
import { hasKnownUnit, isFigure } from "./figures.js";
import { hasKnownUnit as hasUnitOfLength, isPulley } from "./pulleys.js";
import { isJob } from "./job.js";
import { newId, readAll, write } from "./record.js";

const KIND = "bay-reckoner record";

/** One more with each new kind of entry; a page that would lose it says so. 2: pulleys. 3: jobs. */
const SCHEMA = 3;

/** The file can't be taken in; the message says why. */
export class ParcelError extends Error {}

/**
 * @param {Contents} contents
 * @param {string} made the time
 * @returns {string}
 */
export function pack(contents, made) {
  return `${JSON.stringify({ kind: KIND, schema: SCHEMA, made, ...contents }, null, 1)}\n`;
}

/**
 * @param {string} text
 * @param {import("../model/quantities.js").Quantities} quantities
 * @returns {Parcel}
 * @throws {ParcelError}
 */
export function unpack(text, quantities) {
  const found = parsed(text);
  if (found?.kind !== KIND)
    throw new ParcelError(
      "This file is not a record from here. Pick one that was saved on this page.",
    );
  if (!Number.isInteger(found.schema) || found.schema < 1 || found.schema > SCHEMA) {
    throw new ParcelError(
      "This record is from a newer version of this page. Load the page again, then try once more.",
    );
  }
  // Files of earlier versions hold no pulleys, and no jobs.
  const [figures, maps, pulleys, jobs] = [found.figures, found.maps, found.pulleys, found.jobs].map(
    (list) => (Array.isArray(list) ? list : []),
  );
  const good = {
    figures: figures.filter((each) => isFigure(each) && hasKnownUnit(each, quantities)),
    maps: maps.map(upToDate).filter(isBoltMap),
    pulleys: pulleys.filter((each) => isPulley(each) && hasUnitOfLength(each, quantities)),
    jobs: jobs.filter(isJob),
  };
  const whole = Object.values(good).flat().length;
  return { ...good, damaged: [figures, maps, pulleys, jobs].flat().length - whole };
}

/** @param {string} text @returns {any} */
function parsed(text) {
  try {
    return JSON.parse(text);
  } catch {
    throw new ParcelError("This file can't be read. Pick one that was saved on this page.");
  }
}

/**
 * Put a parcel's entries into the record. One that is there already is left alone; one that differs
 * from an entry with the same id is added beside it.
 * @param {Parcel} parcel @returns {Promise<Outcome>}
 */
export async function takeIn(parcel) {
  /** @type {Outcome} */
  const outcome = { added: 0, there: 0, beside: 0, damaged: parcel.damaged };
  for (const collection of /** @type {const} */ (["figures", "maps", "pulleys"])) {
    const { good } = await readAll(collection);
    const known = new Map(good.map((each) => [each.id, content(each)]));
    const contents = new Set(known.values());
    for (const entry of parcel[collection]) {
      if (contents.has(content(entry))) {
        outcome.there += 1;
        continue;
      }
      const namesake = known.has(entry.id);
      await write(collection, { ...entry, id: namesake ? newId() : entry.id, rev: 0 });
      if (namesake) outcome.beside += 1;
      else outcome.added += 1;
    }
  }
  await takeInJobs(parcel.jobs, outcome);
  return outcome;
}

/**
 * The job in hand stays the one in hand, and a name that is taken stays with who has it.
 * @param {Job[]} jobs @param {Outcome} outcome
 */
async function takeInJobs(jobs, outcome) {
  /** @type {{good: Job[]}} */
  const { good } = await readAll("jobs");
  const known = new Set(good.map(content));
  const names = new Set(good.map(({ name }) => name));
  for (const job of jobs) {
    if (known.has(content(job))) {
      outcome.there += 1;
      continue;
    }
    const isTaken = names.has(job.name);
    const name = isTaken ? `${job.name}, from a file` : job.name;
    names.add(name);
    await write("jobs", { ...job, name, id: newId(), rev: 0, taken: "" });
    if (isTaken) outcome.beside += 1;
    else outcome.added += 1;
  }
}

/**
 * What an entry says, without its id, its count of writings, and when it was last taken up.
 * @param {any} entry
 */
function content({ id: _, rev: __, taken: ___, ...rest }) {
  return JSON.stringify(rest);
}

/** @param {Outcome} outcome */
export function outcomeInWords({ added, there, beside, damaged }) {
  const parts = [`${added} added`];
  if (there) parts.push(`${there} were here already`);
  if (beside) parts.push(`${beside} differ from what is here and were added beside it`);
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
