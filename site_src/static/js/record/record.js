/**
 * The record: the jobs, their tightening maps, makers' figures, hold points and first runs, and the
 * shop's pulleys. It stays on this phone.
 *
 * In IndexedDB, because that survives when the browser is killed. Each write is on the disk
 * before it counts as done. Nothing here is needed to start a page, every call may fail, and then a
 * RecordError says why in words. What is found is checked: an entry that can't be read is left
 * where it is, counted, and never shown as if it were good.
 *
 * @typedef {import("../bolts/progress.js").BoltMap} BoltMap
 * @typedef {import("./figures.js").Figure} Figure
 * @typedef {import("./pulleys.js").Pulley} Pulley
 * @typedef {import("./job.js").Job} Job
 * @typedef {"maps" | "figures" | "pulleys" | "jobs" | "holds" | "runs"} Collection
 * @typedef {{good: any[], bad: any[], damaged: number}} Found  `bad`: as they are stored
 */

import { isBoltMap, upToDate } from "../bolts/progress.js";
import { figuresOfJob, isFigure, upToDate as figureUpToDate } from "./figures.js";
import { idOf, isHold } from "./holds.js";
import { isJob, jobsOfBefore, upToDate as jobUpToDate } from "./job.js";
import { isPulley } from "./pulleys.js";
import { isRun } from "./runs.js";
import { isText } from "./shapes.js";

const NAME = "bay-reckoner";

/**
 * One more with each change of what is kept. 2: pulleys. 3: jobs. 4: one store of figures. 5: hold
 * points, and first runs. 6: an entry stands on every page that asks for it.
 */
const VERSION = 6;

/** Wait this long for the phone's store, in milliseconds; some open it never. */
const PATIENCE = 4000;

/** @type {Object<Collection, (value: any) => boolean>} */
const CHECKS = {
  maps: isBoltMap,
  figures: isFigure,
  pulleys: isPulley,
  jobs: isJob,
  holds: isHold,
  runs: isRun,
};

/** What belongs to a job and bears its name. */
export const OF_JOB = /** @type {const} */ (["figures", "maps", "holds", "runs"]);

/** The record can't be read or written; the message says it in words. */
export class RecordError extends Error {}

/** Someone else wrote the same entry in the meantime. */
export class StaleError extends RecordError {}

/** Why something failed, to be shown. @param {unknown} reason */
export function reasonWords(reason) {
  return reason instanceof Error ? reason.message : String(reason);
}

/** @param {number} damaged entries that were found and can't be read */
export function damagedWords(damaged) {
  if (!damaged) return "";
  return `${damaged === 1 ? "One entry" : `${damaged} entries`} of this phone's record can't be read. What can is shown; the rest is left as it is.`;
}

/** @type {Promise<IDBDatabase> | null} */
let opened = null;

/** @returns {Promise<IDBDatabase>} */
function open() {
  opened ??= new Promise((resolve, reject) => {
    if (!("indexedDB" in window)) throw new RecordError(NO_STORE);
    const request = indexedDB.open(NAME, VERSION);
    const waited = setTimeout(() => reject(new RecordError(NO_ANSWER)), PATIENCE);
    request.onupgradeneeded = () => bringUp(request.result, request.transaction);
    request.onsuccess = () => {
      clearTimeout(waited);
      // A later version of the page in another tab can't open its own while this one is open.
      request.result.onversionchange = () => letGo(request.result);
      request.result.onclose = () => letGo(request.result);
      resolve(request.result);
    };
    request.onerror = () => reject(request.error);
    request.onblocked = () =>
      reject(
        new RecordError(
          "Another tab holds an older record open. Close it, then load this page again.",
        ),
      );
  });
  opened.catch(() => {
    opened = null;
  });
  return opened;
}

/** Close a connection; the next call opens another. @param {IDBDatabase} database */
function letGo(database) {
  opened = null;
  database.close();
}

/**
 * What an earlier version kept stays as it is; what it lacked is added.
 * @param {IDBDatabase} database
 * @param {IDBTransaction | null} upgrade
 */
function bringUp(database, upgrade) {
  const lacking = Object.keys(CHECKS).filter((each) => !database.objectStoreNames.contains(each));
  for (const collection of lacking) database.createObjectStore(collection, { keyPath: "id" });
  if (!upgrade) return;
  const now = new Date().toISOString();
  const [jobs, figures] = [upgrade.objectStore("jobs"), upgrade.objectStore("figures")];
  /** @param {Job} job whose figures may stand apart from the list */
  const split = (job) => {
    const found = figuresOfJob(job, newId, now);
    for (const figure of found.figures) figures.put(figure);
    jobs.put(found.job);
  };
  const old = figures.getAll();
  old.onsuccess = () => {
    for (const figure of old.result.map(figureUpToDate)) if (isFigure(figure)) figures.put(figure);
  };
  if (lacking.includes("jobs")) {
    for (const job of jobsOfBefore(newId, now)) split(job);
    return;
  }
  const there = jobs.getAll();
  there.onsuccess = () => {
    for (const job of there.result.map(jobUpToDate)) if (isJob(job)) split(job);
  };
}

const NO_ANSWER = "This phone's store doesn't answer. Close the other tabs, then load this again.";
const NO_STORE = "This phone keeps nothing for this page: a private window, perhaps.";

/** @param {unknown} reason @returns {RecordError} */
function inWords(reason) {
  if (reason instanceof RecordError) return reason;
  const name = reason instanceof DOMException ? reason.name : "";
  if (name === "QuotaExceededError")
    return new RecordError("This phone's store is full. Make room, then try again.");
  if (name === "VersionError")
    return new RecordError(
      "The record on this phone is from a newer version of this page. Load the page again.",
    );
  return new RecordError(NO_STORE);
}

/**
 * A transaction; on a new connection, if the phone has closed the old one.
 * @param {Collection | Collection[]} collection @param {IDBTransactionMode} mode
 */
async function begin(collection, mode) {
  const durable = /** @type {IDBTransactionOptions} */ ({ durability: "strict" });
  const database = await open();
  try {
    return database.transaction(collection, mode, durable);
  } catch (reason) {
    if (!(reason instanceof DOMException) || reason.name !== "InvalidStateError") throw reason;
    opened = null;
    return (await open()).transaction(collection, mode, durable);
  }
}

/**
 * Run one transaction, and wait until it is on the disk.
 * @template T
 * @param {Collection | Collection[]} collection one, or all that it touches
 * @param {IDBTransactionMode} mode
 * @param {(store: IDBObjectStore, keep: (value: T) => void,
 *   fail: (reason: Error) => void) => void} act on the first of them
 * @returns {Promise<T | undefined>}
 */
async function transact(collection, mode, act) {
  try {
    const transaction = await begin(collection, mode);
    return await new Promise((resolve, reject) => {
      /** @type {T | undefined} */
      let result;
      /** @type {Error | null} */
      let failure = null;
      transaction.oncomplete = () => resolve(result);
      transaction.onabort = () => reject(failure ?? transaction.error);
      act(
        transaction.objectStore([collection].flat()[0]),
        (value) => {
          result = value;
        },
        (reason) => {
          failure = reason;
          transaction.abort();
        },
      );
    });
  } catch (reason) {
    throw inWords(reason);
  }
}

/**
 * All of a collection that can be read, and the number of entries that can't.
 * @param {Collection} collection
 * @returns {Promise<Found>}
 */
export async function readAll(collection) {
  const values = await transact(collection, "readonly", (store, keep) => {
    const request = store.getAll();
    request.onsuccess = () => keep(request.result);
  });
  const stored = /** @type {any[]} */ (values ?? []);
  const all = collection === "maps" ? stored.map(upToDate) : stored;
  const good = all.filter((value) => CHECKS[collection](value));
  const bad = all.filter((value) => !CHECKS[collection](value));
  return { good, bad, damaged: bad.length };
}

/** @returns {Promise<{good: BoltMap[], damaged: number}>} */
export function readMaps() {
  return readAll("maps");
}

/** @returns {Promise<{good: Figure[], damaged: number}>} */
export function readFigures() {
  return readAll("figures");
}

/** @returns {Promise<{good: Pulley[], damaged: number}>} */
export function readPulleys() {
  return readAll("pulleys");
}

/**
 * An entry that is going to be read again: what could not be is never written over one that can.
 * @template T
 * @param {Collection} collection @param {T} value @returns {T}
 */
function readable(collection, value) {
  if (!CHECKS[collection](value)) throw new RecordError(UNREADABLE);
  return value;
}

const UNREADABLE = "An entry is too long for this phone's record. Shorten it or empty it.";

/**
 * Write an entry. Its `rev` grows by one each time. If what is stored has another one, this page
 * has missed a change, and the entry is refused.
 * @template {{id: string, rev: number}} T
 * @param {Collection} collection
 * @param {T} value as it was read or last written
 * @returns {Promise<T>} as it is now written
 */
export async function write(collection, value) {
  const next = { ...value, rev: value.rev + 1 };
  await transact(collection, "readwrite", (store, _, fail) => {
    const there = store.get(value.id);
    there.onsuccess = () => {
      const rev = there.result?.rev ?? 0;
      if (rev !== value.rev) {
        fail(
          new StaleError(
            "This was gone on with in another tab. Load this page again to see how far it is.",
          ),
        );
        return;
      }
      try {
        store.put(readable(collection, next));
      } catch (reason) {
        fail(reason instanceof Error ? reason : new Error(String(reason)));
      }
    };
  });
  askToStay();
  return next;
}

/**
 * Write entries of any collections at once: all of them, or none.
 * @param {[Collection, any][]} entries each as it was read, with its `rev`, or new, with 0
 */
export async function writeAll(entries) {
  if (!entries.length) return;
  const touched = [...new Set(entries.map(([collection]) => collection))];
  await transact(touched, "readwrite", ({ transaction }, _, fail) => {
    for (const [collection, value] of entries) {
      const store = transaction.objectStore(collection);
      const there = store.get(value.id);
      there.onsuccess = () => {
        try {
          // What has no count of its own is somebody else's all the same.
          if (there.result ? there.result.rev !== value.rev : value.rev !== 0)
            throw new StaleError("This was gone on with in another tab. Try once more.");
          store.put(readable(collection, { ...value, rev: value.rev + 1 }));
        } catch (reason) {
          fail(reason instanceof Error ? reason : new Error(String(reason)));
        }
      };
    }
  });
  askToStay();
}

/**
 * Change one entry as it is stored now, whoever wrote it last.
 * @template {{id: string}} T
 * @param {Collection} collection
 * @param {T} fallback stands in for one that is gone
 * @param {(value: T) => T | undefined} change undefined takes it out
 * @returns {Promise<T>} as it is now written
 */
export async function amend(collection, fallback, change) {
  const changed = await transact(collection, "readwrite", (store, keep, fail) => {
    const there = store.get(fallback.id);
    there.onsuccess = () => {
      try {
        const next = change(there.result ?? fallback);
        if (next === undefined) store.delete(fallback.id);
        else store.put(readable(collection, next));
        keep(next ?? fallback);
      } catch (reason) {
        fail(reason instanceof Error ? reason : new Error(String(reason)));
      }
    };
  });
  askToStay();
  return /** @type {T} */ (changed);
}

/**
 * Put back just what was taken out, even what this version can't read.
 * @param {Collection} collection @param {{id: string}} value
 */
export async function restore(collection, value) {
  await transact(collection, "readwrite", (store) => {
    store.put(value);
  });
}

/**
 * The names of the jobs that entries of a collection belong to, whether they can be read or not.
 * @param {Collection} collection @returns {Promise<string[]>}
 */
export async function jobsIn(collection) {
  const names = await transact(collection, "readonly", (store, keep) => {
    const request = store.getAll();
    request.onsuccess = () => keep(new Set(request.result.map(({ job }) => job)));
  });
  return [.../** @type {Set<unknown>} */ (names ?? new Set())].filter(isText);
}

/**
 * Give a job another name, with all that bears it, in one go.
 * @param {Job} job @param {string} name
 */
export async function renameJob(job, name) {
  await transact([...OF_JOB, "jobs"], "readwrite", (first, _, fail) => {
    const { transaction } = first;
    for (const collection of OF_JOB) {
      const store = transaction.objectStore(collection);
      const all = store.getAll();
      all.onsuccess = () => {
        for (const entry of all.result) {
          if (entry.job !== job.name) continue;
          const next = { ...entry, job: name, rev: entry.rev + 1 };
          if (collection === "holds") {
            store.delete(entry.id);
            next.id = idOf(name, entry.point);
          }
          store.put(next);
        }
      };
    }
    const jobs = transaction.objectStore("jobs");
    const there = jobs.get(job.id);
    there.onsuccess = () => {
      try {
        jobs.put(readable("jobs", { ...(there.result ?? job), name }));
      } catch (reason) {
        fail(reason instanceof Error ? reason : new Error(String(reason)));
      }
    };
  });
  askToStay();
}

/** @param {Collection} collection @param {string} id */
export async function remove(collection, id) {
  await transact(collection, "readwrite", (store) => {
    store.delete(id);
  });
}

/** An id for a new entry that no other phone uses. */
export function newId() {
  // randomUUID exists only over HTTPS and on localhost.
  if (crypto.randomUUID) return crypto.randomUUID();
  return [...crypto.getRandomValues(new Uint8Array(16))]
    .map((byte) => byte.toString(16).padStart(2, "0"))
    .join("");
}

let asked = false;

/** Ask once that the phone doesn't delete the record when it needs room. */
function askToStay() {
  if (asked) return;
  asked = true;
  navigator.storage?.persist?.().catch(() => undefined);
}
