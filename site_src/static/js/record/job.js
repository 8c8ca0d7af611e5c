/**
 * A job as the phone keeps it: its name and what was entered for its truck. No DOM.
 *
 * An entry is kept under its key, which means the same on every page; one that stands apart, under
 * page and key. What isn't there was never entered.
 *
 * @typedef {import("../form/entries.js").NumberEntry} NumberEntry
 * @typedef {import("../form/entries.js").Row} Row
 * @typedef {NumberEntry | string | Row[]} Stored
 * @typedef {{text: string, unit: string, source: string}} Kept  a maker's figure as earlier
 *   versions kept it in the job; figures.js takes it over, and leaves what it doesn't know
 * @typedef {{schema: number, id: string, name: string, taken: string,
 *   entries: Object<string, Stored>, kept: Object<string, Kept>}} Job  `taken`: when it was last
 *   made the job in hand; the latest is
 */

import { isObject, isText } from "./shapes.js";

export const SCHEMA = 2;
export const USUAL_NAME = "This job";

/** What entries were called while they stood apart, on their page alone. */
const RENAMED = new Map([
  ["accessory crank_pulley", "accessory_crank"],
  ["fuel load_current", "pump_current"],
  ["fuel feed_length", "pump_feed"],
  ["fuel wire", "pump_wire"],
]);

/** What an earlier version kept, outside the record. */
const OLD_STATE = "bay-reckoner";
const OLD_JOBS = "bay-reckoner-jobs";

/** Rows of a list and letters of a text, at most: what no page could have written is refused. */
const [ROWS, LETTERS] = [200, 4000];

/**
 * @param {string} id @param {string} name @param {string} taken
 * @returns {Job}
 */
export function newJob(id, name, taken) {
  return { schema: SCHEMA, id, name, taken, entries: {}, kept: {} };
}

/** The job in hand: the one taken up last. @param {Job[]} jobs @returns {Job | undefined} */
export function inHand(jobs) {
  return jobs.reduce(
    (/** @type {Job | undefined} */ last, each) =>
      last === undefined || each.taken > last.taken ? each : last,
    undefined,
  );
}

/**
 * A stored job as this version keeps it. The first version asked twice where the exchanger sits,
 * and one page at a time for the fuel pump's wire and for the crank pulley of an accessory.
 * @param {any} value
 */
export function upToDate(value) {
  if (!isObject(value) || value.schema !== 1 || !isObject(value.entries)) return value;
  const entries = Object.fromEntries(
    Object.entries(value.entries).map(([name, each]) => [RENAMED.get(name) ?? name, each]),
  );
  if (entries.accessory_crank) entries.accessory_belt = "own";
  const place = entries.coolant_from;
  if (place === "nose" || place === "bed") {
    entries.coolant_from = "place";
    entries.exchanger_place ??= place;
  }
  return { ...value, schema: SCHEMA, entries };
}

/**
 * Whether something read from a store or a file is a job.
 * @param {any} value @returns {value is Job}
 */
export function isJob(value) {
  return (
    isObject(value) &&
    value.schema === SCHEMA &&
    [value.id, value.name, value.taken].every(isShort) &&
    value.id !== "" &&
    value.name.trim() !== "" &&
    isObject(value.entries) &&
    Object.values(value.entries).every(isStored) &&
    isAllKept(value.kept)
  );
}

/** @param {any} value @returns {value is Stored} */
function isStored(value) {
  if (Array.isArray(value))
    return (
      value.length <= ROWS &&
      value.every((row) => isObject(row) && Object.values(row).every(isSingle))
    );
  return isSingle(value);
}

/** @param {any} value @returns {value is NumberEntry | string} */
function isSingle(value) {
  if (!isObject(value)) return isShort(value);
  const { from } = value;
  return (
    isShort(value.text) &&
    isShort(value.unit) &&
    (from === undefined ||
      (isObject(from) && [from.text, from.unit, from.now].every((each) => isShort(each))))
  );
}

/** @param {any} value @returns {value is string} */
function isShort(value) {
  return isText(value) && value.length <= LETTERS;
}

/** @param {any} value @returns {value is Object<string, Kept>} */
function isAllKept(value) {
  return (
    isObject(value) &&
    Object.values(value).every(
      (each) => isObject(each) && [each.text, each.unit, each.source].every(isShort),
    )
  );
}

/**
 * The jobs that an earlier version of the site kept, with the figures typed for each.
 * @param {() => string} newId @param {string} now
 * @returns {Job[]}
 */
export function jobsOfBefore(newId, now) {
  const current = stored(OLD_STATE)?.job;
  const others = stored(OLD_JOBS)?.jobs;
  /** @type {[string, any, string][]} */
  const found = [
    ...(isObject(others) ? Object.entries(others) : []).map(
      ([name, kept]) => /** @type {[string, any, string]} */ ([name, kept, ""]),
    ),
    ...(isObject(current) && isText(current.name)
      ? [/** @type {[string, any, string]} */ ([current.name, current.kept, now])]
      : []),
  ];
  return found
    .map(([name, kept, taken]) => ({
      ...newJob(newId(), name, taken),
      kept: isAllKept(kept) ? kept : {},
    }))
    .filter(isJob);
}

/** @param {string} key @returns {any} */
function stored(key) {
  try {
    const found = JSON.parse(localStorage.getItem(key) ?? "null");
    return isObject(found) && found.schema === 1 ? found : null;
  } catch {
    return null;
  }
}
