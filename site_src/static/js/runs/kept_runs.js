/**
 * The runs that a job keeps: their readings, what they said then, and where they are from. No DOM.
 *
 * @typedef {import("../record/runs.js").Run} Run
 * @typedef {import("./pulls.js").Bin} Bin
 * @typedef {{kind: "log" | "typed", name: string, bins: Bin[], rest: number | null,
 *   counts: import("./pulls.js").Counts | null}} Source
 */

import { newId, readAll } from "../record/record.js";
import { SCHEMA } from "../record/runs.js";

/** Digits that a reading is kept with. */
const DIGITS = 7;

/**
 * @param {string} job its name @param {Source} source
 * @param {{stamp: string, title: string, status: string, words: string[]}} said
 * @returns {Run}
 */
export function newRun(job, source, said) {
  const bins = source.bins.map((bin) =>
    Object.fromEntries(
      Object.entries(bin).map(([key, value]) => [key, Number(value.toPrecision(DIGITS))]),
    ),
  );
  const { kind, rest, counts } = source;
  const name = source.name.slice(0, 200);
  const data = { kind, name, bins, rest, counts, said };
  return { schema: SCHEMA, id: newId(), rev: 0, job, at: new Date().toISOString(), data };
}

/**
 * A kept run as it can be read again; null if its data are of another kind.
 * @param {Run} run @returns {Source | null}
 */
export function sourceOf({ data }) {
  const { kind, name, bins, rest, counts } = data;
  const isGood =
    (kind === "log" || kind === "typed") &&
    typeof name === "string" &&
    Array.isArray(bins) &&
    bins.length > 0 &&
    bins.every(isBin) &&
    (rest === null || typeof rest === "number") &&
    typeof data.said?.title === "string";
  return isGood ? { kind, name, bins, rest, counts: isCounts(counts) ? counts : null } : null;
}

/** @param {any} bin */
function isBin(bin) {
  return (
    typeof bin === "object" &&
    bin !== null &&
    Object.values(bin).every((value) => typeof value === "number") &&
    "run_speed" in bin &&
    "run_boost" in bin
  );
}

/** @param {any} counts @returns {counts is import("./pulls.js").Counts} */
function isCounts(counts) {
  const keys = ["rows", "blank", "part", "falling", "few", "used", "pulls"];
  return Boolean(counts) && keys.every((key) => typeof counts[key] === "number");
}

/** The runs of a job, the latest first. @param {string} job @returns {Promise<Run[]>} */
export async function runsOf(job) {
  const { good } = await readAll("runs");
  return /** @type {Run[]} */ (good)
    .filter((run) => run.job === job)
    .sort((a, b) => (a.at < b.at ? 1 : -1));
}
