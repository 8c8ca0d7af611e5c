/**
 * A first run that was read: what was measured and what it was held against, as the page that reads
 * it keeps it. No DOM.
 *
 * @typedef {{schema: number, id: string, rev: number, job: string, at: string,
 *   data: Object<string, any>}} Run  `at`: when it was read; `data`: plain, all the way down;
 *   its `words`, if there are any, are what the record prints of it
 */

import { isObject, isText, isTime } from "./shapes.js";

export const SCHEMA = 1;

/** What no page could have written: letters of a text, how deep, and how many values in all. */
const [LETTERS, DEPTH, VALUES] = [4000, 8, 100_000];

/**
 * Whether something read from a store or a file is a run.
 * @param {any} value @returns {value is Run}
 */
export function isRun(value) {
  return (
    isObject(value) &&
    value.schema === SCHEMA &&
    [value.id, value.job].every((each) => isText(each) && each.length <= LETTERS) &&
    isTime(value.at) &&
    value.id !== "" &&
    Number.isInteger(value.rev) &&
    isObject(value.data) &&
    isPlain(value.data)
  );
}

/** Whether a value is plain data, all the way down. @param {unknown} whole */
function isPlain(whole) {
  /** @type {[unknown, number][]} */
  const waiting = [[whole, 0]];
  let count = 0;
  while (waiting.length) {
    const [value, depth] = /** @type {[unknown, number]} */ (waiting.pop());
    count += 1;
    if (count > VALUES || depth > DEPTH) return false;
    if (typeof value === "object" && value !== null) {
      const inner = Object.entries(value);
      if (inner.length > VALUES || inner.some(([key]) => key.length > LETTERS)) return false;
      for (const [, each] of inner) waiting.push([each, depth + 1]);
    } else if (!isSingle(value)) return false;
  }
  return true;
}

/** @param {unknown} value */
function isSingle(value) {
  if (typeof value === "number") return Number.isFinite(value);
  if (typeof value === "string") return value.length <= LETTERS;
  return typeof value === "boolean" || value === null;
}
