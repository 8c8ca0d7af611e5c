/**
 * A hold point of a job: everything that was ever done to it, in order. No DOM.
 *
 * The points that every job has are declared in site_src/data/hold_points.toml; here is only what
 * was done to them, and the points that a shop added itself. Nothing is taken out of a log: what is
 * signed and taken back again is in it with both.
 *
 * @typedef {"signed" | "skipped" | "taken back" | "put back" | "noted" | "added" | "renamed"
 *   | "deleted" | "brought back" | "unreadable"} Doing  "noted": a note or a photo that came later;
 *   "unreadable": what was stored here before could not be read
 * @typedef {{do: Doing, at: string, who: string, note: string, photo: string}} Deed  `note`: of one
 *   that is skipped, the reason; of an own point's, what it is called from then on
 * @typedef {{schema: number, id: string, rev: number, job: string, point: string, stage: string,
 *   log: Deed[]}} Hold  `stage`: of an own point, "" for one that every job has
 * @typedef {{state: "open" | "signed" | "skipped", deed: Deed | null, more: Deed[],
 *   title: string, isGone: boolean}} Standing  `deed`: the signature or the reason; `more`: what
 *   was noted since; `title`: of an own point
 */

import { isObject, isText, isTime } from "./shapes.js";

export const SCHEMA = 1;

/** What a photo begins with; nothing else is ever shown as one. */
const PHOTO = "data:image/jpeg;base64,";

/** Letters of a photo as it is kept: 60 kB and some. */
export const LONGEST_PHOTO = 90_000;

/** Letters of a note or a name, and deeds of a log, at most: what no page could have written. */
const [LETTERS, NAME, DEEDS] = [4000, 200, 300];

/** @type {Doing[]} */
const DOINGS = [
  "signed",
  "skipped",
  "taken back",
  "put back",
  "noted",
  "added",
  "renamed",
  "deleted",
  "brought back",
  "unreadable",
];

/**
 * Where a job's point is kept: one place, whichever tab is first.
 * @param {string} job @param {string} point
 */
export function idOf(job, point) {
  return JSON.stringify([job, point]);
}

/**
 * The job and the point that are kept under an id.
 * @param {string} id @returns {[string, string] | null}
 */
export function keptAt(id) {
  try {
    const found = JSON.parse(id);
    return Array.isArray(found) && found.length === 2 && found.every(isText)
      ? [found[0], found[1]]
      : null;
  } catch {
    return null;
  }
}

/**
 * @param {string} job @param {string} point @param {string} [stage] of an own point
 * @returns {Hold}
 */
export function newHold(job, point, stage = "") {
  return { schema: SCHEMA, id: idOf(job, point), rev: 0, job, point, stage, log: [] };
}

/**
 * Whether something read from a store or a file is a hold point.
 * @param {any} value @returns {value is Hold}
 */
export function isHold(value) {
  return (
    isObject(value) &&
    value.schema === SCHEMA &&
    [value.job, value.point, value.stage].every((each) => isShort(each, LETTERS)) &&
    value.point !== "" &&
    value.id === idOf(value.job, value.point) &&
    Number.isInteger(value.rev) &&
    Array.isArray(value.log) &&
    value.log.length > 0 &&
    value.log.length <= DEEDS &&
    value.log.every(isDeed) &&
    (value.stage === "" || value.log.some((/** @type {Deed} */ each) => each.do === "added"))
  );
}

/** @param {any} value @param {number} most @returns {value is string} */
function isShort(value, most) {
  return isText(value) && value.length <= most;
}

/** @param {any} value @returns {value is Deed} */
function isDeed(value) {
  return (
    isObject(value) &&
    DOINGS.includes(value.do) &&
    isTime(value.at) &&
    isShort(value.who, NAME) &&
    isShort(value.note, LETTERS) &&
    (value.do !== "signed" || value.who.trim() !== "") &&
    (value.do !== "skipped" || (value.who.trim() !== "" && value.note.trim() !== "")) &&
    (value.photo === "" || isPhoto(value.photo))
  );
}

/** @param {any} value @returns {value is string} */
export function isPhoto(value) {
  return (
    isShort(value, LONGEST_PHOTO) &&
    value.startsWith(PHOTO) &&
    /^[A-Za-z0-9+/]+=*$/.test(value.slice(PHOTO.length))
  );
}

/** @param {Doing} what @param {Partial<Deed>} said @returns {Deed} */
export function deed(what, said) {
  return { do: what, at: new Date().toISOString(), who: "", note: "", photo: "", ...said };
}

/** How a point stands after all that was done to it. @param {Deed[]} log @returns {Standing} */
export function standing(log) {
  /** @type {Standing} */
  const now = { state: "open", deed: null, more: [], title: "", isGone: false };
  /** @type {Pick<Standing, "state" | "deed" | "more">} what was last taken back */
  let before = { state: "open", deed: null, more: [] };
  for (const each of log) {
    if (each.do === "signed" || each.do === "skipped")
      Object.assign(now, { state: each.do, deed: each, more: [] });
    else if (each.do === "noted") now.more = [...now.more, each];
    else if (each.do === "taken back") {
      before = { state: now.state, deed: now.deed, more: now.more };
      Object.assign(now, { state: "open", deed: null, more: [] });
    } else if (each.do === "put back") Object.assign(now, before);
    else if (each.do === "unreadable") Object.assign(now, { state: "open", deed: null, more: [] });
    else if (each.do === "deleted" || each.do === "brought back")
      now.isGone = each.do === "deleted";
    else now.title = each.note;
  }
  return now;
}

/**
 * A log that holds what both hold, in order of time.
 * @param {Deed[]} ours @param {Deed[]} theirs
 */
export function joined(ours, theirs) {
  const known = new Set(ours.map((each) => JSON.stringify(each)));
  const more = theirs.filter((each) => !known.has(JSON.stringify(each)));
  if (!more.length) return ours;
  return [...ours, ...more].sort((a, b) => Date.parse(a.at) - Date.parse(b.at));
}

/** Whether two jobs' points have anything in common. @param {Hold[]} ours @param {Hold[]} theirs */
export function haveDeedInCommon(ours, theirs) {
  const known = new Set(
    ours.flatMap(({ point, log }) => log.map((each) => JSON.stringify([point, each]))),
  );
  return theirs.some(({ point, log }) =>
    log.some((each) => known.has(JSON.stringify([point, each]))),
  );
}
