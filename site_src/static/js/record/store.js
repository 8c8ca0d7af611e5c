/**
 * What the phone remembers besides the record: screen mode, system of units, picked units.
 *
 * Nothing here is needed to start. Every read and write may fail (private windows, a full phone, a
 * damaged entry): then the page works without it, and says so once.
 *
 * @typedef {{header: string, mapping: Object<string, {column: number, unit: string}>}} KnownLog
 *   which column of a log is what, for logs with the same heads
 * @typedef {{schema: number, mode: string, system: string, units: Object<string, string>,
 *   logs?: KnownLog[], saved?: [string, string][]}} State
 *   `saved`: jobs, and when each was last saved as a file
 */

import { isObject, isText } from "./shapes.js";

const KEY = "bay-reckoner";
const SCHEMA = 1;
export const MODES = ["auto", "dark", "sunlight"];
export const SYSTEMS = ["metric", "inch"];

/** @returns {State} */
function fresh() {
  return { schema: SCHEMA, mode: "auto", system: localSystem(), units: {} };
}

/** Regions whose shops measure in inches. */
const INCH_REGIONS = ["US", "LR", "MM"];

/** The system of units of the phone's own region. */
function localSystem() {
  const region = navigator.language?.split("-").pop() ?? "";
  return INCH_REGIONS.includes(region) ? "inch" : "metric";
}

/** What went wrong with the store, in words; empty if nothing did. */
let trouble = "";

/** @returns {string} */
export function storeTrouble() {
  return trouble;
}

/** @returns {State} */
export function recall() {
  try {
    const text = localStorage.getItem(KEY);
    if (text === null) return fresh();
    const found = JSON.parse(text);
    // Stored before there was a choice of system; it was metric then.
    if (isObject(found)) found.system ??= "metric";
    if (isState(found)) return found;
  } catch {
    // Reported below, like any other damage.
  }
  trouble = "What this phone had stored can't be read. The page works without it.";
  return fresh();
}

/**
 * Change what is stored.
 * @param {(state: State) => void} change
 * @returns {boolean} whether it was kept
 */
export function remember(change) {
  const state = recall();
  // A store that can't be read is left alone until the user resets it: it may hold figures.
  if (trouble) return false;
  change(state);
  try {
    localStorage.setItem(KEY, JSON.stringify(state));
    return true;
  } catch {
    trouble = "This phone won't store anything for this page now. The page works without it.";
    return false;
  }
}

/** Forget everything. */
export function reset() {
  trouble = "";
  try {
    localStorage.removeItem(KEY);
  } catch {
    trouble = "This phone won't let its store be emptied.";
  }
}

/** @param {any} value @returns {value is State} */
function isState(value) {
  return (
    isObject(value) &&
    value.schema === SCHEMA &&
    MODES.includes(value.mode) &&
    SYSTEMS.includes(value.system) &&
    isObject(value.units) &&
    Object.values(value.units).every(isText) &&
    (value.saved === undefined || (Array.isArray(value.saved) && value.saved.every(isSaved))) &&
    (value.logs === undefined || (Array.isArray(value.logs) && value.logs.every(isKnownLog)))
  );
}

/** @param {any} value @returns {value is [string, string]} */
function isSaved(value) {
  return Array.isArray(value) && value.length === 2 && value.every(isText);
}

/** @param {any} value @returns {value is KnownLog} */
function isKnownLog(value) {
  return isObject(value) && isText(value.header) && isObject(value.mapping);
}
