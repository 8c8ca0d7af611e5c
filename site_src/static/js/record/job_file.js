/**
 * One job as a file, and the checksum by which a printed record is matched to it.
 *
 * The checksum is SHA-256 over the canonical JSON (RFC 8785) of what the file holds, without when
 * it was made. So that it stays the same while the job does, what changes without it is left out:
 * how often an entry was written, and when the job was last taken up.
 *
 * @typedef {import("./transfer.js").Contents} Contents
 */

import { inHand, newJob, USUAL_NAME } from "./job.js";
import { ParcelError } from "./parcel.js";
import { COLLECTIONS, everything, isRecord, pack, parsed } from "./transfer.js";

/** The job's own id on this phone is nobody else's business. */
const JOB_ID = "job";

/** @param {{id: string}} a @param {{id: string}} b */
function byId(a, b) {
  return a.id < b.id ? -1 : Number(a.id > b.id);
}

/**
 * All of the job in hand, and how many entries of the record can't be read.
 * @returns {Promise<{contents: Contents, name: string, damaged: number}>}
 */
export async function jobContents() {
  const { contents: all, damaged } = await everything();
  const job = inHand(all.jobs) ?? newJob(JOB_ID, USUAL_NAME, "");
  /** @param {(typeof COLLECTIONS)[number]} collection */
  const own = (collection) =>
    /** @type {any[]} */ (all[collection])
      .filter((each) => each.job === job.name)
      .map((each) => ({ ...each, rev: 0 }))
      .sort(byId);
  const { rev: _, ...plain } = /** @type {any} */ (job);
  return {
    name: job.name,
    damaged,
    contents: {
      figures: own("figures"),
      maps: own("maps"),
      // The shelf is the shop's, not a job's.
      pulleys: [],
      jobs: [{ ...plain, id: JOB_ID, taken: "" }],
      holds: own("holds"),
      runs: own("runs"),
    },
  };
}

/** @param {Contents} contents @param {string} checksum @param {string} made the time */
export function jobFile(contents, checksum, made) {
  return pack({ checksum, ...contents }, made);
}

/**
 * A value as RFC 8785 writes it: keys in the order of their UTF-16 code units, nothing between.
 * @param {any} value @returns {string}
 */
export function canonical(value) {
  if (Array.isArray(value)) return `[${value.map(canonical).join(",")}]`;
  if (typeof value !== "object" || value === null) return JSON.stringify(value);
  const keys = Object.keys(value).filter((key) => value[key] !== undefined);
  return `{${keys
    .sort()
    .map((key) => `${JSON.stringify(key)}:${canonical(value[key])}`)
    .join(",")}}`;
}

/**
 * @param {any} contents a file's, whatever else it holds
 * @returns {Promise<string>} in hexadecimal; empty where the phone works none out
 */
export async function checksumOf(contents) {
  // Only over HTTPS and on localhost.
  if (!globalThis.crypto?.subtle) return "";
  const plain = Object.fromEntries(COLLECTIONS.map((each) => [each, contents[each] ?? []]));
  const bytes = new TextEncoder().encode(canonical(plain));
  const digest = await crypto.subtle.digest("SHA-256", bytes);
  return [...new Uint8Array(digest)].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}

/** As a person reads it out. @param {string} checksum */
export function inFours(checksum) {
  return (checksum.match(/.{4}/g) ?? []).join(" ");
}

/** The part that is compared by eye. @param {string} checksum */
export function shortOf(checksum) {
  return inFours(checksum.slice(0, 16)).toUpperCase();
}

/**
 * The checksum of a file that somebody picked.
 * @param {string} text @returns {Promise<string>}
 * @throws {ParcelError}
 */
export async function checksumOfFile(text) {
  try {
    const found = parsed(text);
    // What it says of the job is the shop's; no phone has saved it, so no record can be its copy.
    if (!isRecord(text))
      throw new ParcelError(
        "A build file has no checksum to compare. Pick a file that was saved on this page.",
      );
    return await checksumOf(found);
  } catch (reason) {
    if (reason instanceof ParcelError) throw reason;
    throw new ParcelError("This file can't be read. Pick one that was saved on this page.");
  }
}
