/**
 * Going through a tightening map: what is asked for next, and what each tap changes. No DOM.
 *
 * A map keeps the log of what was done; how far it is follows from the log alone. So each tap
 * adds one entry, going back takes the last one off, and a log that doesn't fit is a damaged one.
 *
 * - A pass ends only when every bolt has had its turn. The dial is asked for at the start of each
 *   pass, and whenever it changes or the crowfoot goes on or comes off.
 * - A bolt in doubt is asked for before all others, up to the pass it had reached. One that had
 *   already been turned by an angle starts from the first pass again: a second angle would be too
 *   much.
 * - If a bolt still turned in the check pass, all are checked once more.
 *
 * @typedef {"torque" | "angle" | "check"} PassKind
 * @typedef {{plain: string, offset: string}} Dial  what to set, as shown; offset: with the crowfoot
 * @typedef {{kind: PassKind, share: number, order: number[], dial: Dial}} Pass
 * @typedef {{do: "set", at: string, dial: string, offset: boolean}
 *   | {do: "done" | "turned" | "doubt", at: string, bolt: number}} Tap
 * @typedef {{kind: string, rows: number, columns: number, count: number}} Pattern
 * @typedef {{schema: number, id: string, rev: number, job: string, title: string, pattern: Pattern,
 *   places: [number, number][], quarters: number, torque: string, source: string, notes: string[],
 *   offset: {bolts: number[], words: string}, unit: string, stages: Pass[], wrench: string,
 *   who: string, voice: boolean, started: string, finished: string, steps: Tap[]}} BoltMap
 * @typedef {{kind: "set" | "bolt" | "all done", stage: number, round: number, bolt: number,
 *   dial: string, offset: boolean, again: boolean, backOff: boolean}} Ask
 * @typedef {{stage: number, round: number, settled: Set<number>, doubtful: Map<number, number>,
 *   turned: Set<number>, dial: {dial: string, offset: boolean} | null, taken: Map<number, number>,
 *   ask: Ask}} Progress  taken: the last stage that each bolt has been through
 */

import { isObject, isText } from "../record/shapes.js";

export const SCHEMA = 1;

/** Two taps closer than this, in milliseconds, are one: a glove that bounced, or a shaking hand. */
export const BOUNCE = 400;

/** After this many rounds of checking, something is wrong with the joint. */
export const ROUNDS_TO_WONDER = 3;

/** A log that doesn't fit its map, or an entry that can't be added now. */
export class MapError extends Error {}

/**
 * A bolt's name: its turn in the passes, as a drawing numbers it.
 * @param {BoltMap} map
 * @param {number} bolt
 */
export function nameOf(map, bolt) {
  return map.stages[0].order.indexOf(bolt) + 1;
}

/** How far a map is. @param {BoltMap} map @returns {Progress} @throws {MapError} */
export function progressOf(map) {
  const at = start(map);
  for (const tap of map.steps) {
    take(map, at, tap);
    at.ask = ask(map, at);
  }
  return at;
}

/** @param {BoltMap} map @returns {Progress} */
function start(map) {
  const at = {
    stage: 0,
    round: 0,
    settled: new Set(),
    doubtful: new Map(),
    turned: new Set(),
    dial: null,
    taken: new Map(),
    ask: /** @type {Ask} */ ({}),
  };
  at.ask = ask(map, at);
  return at;
}

/** What is asked for now. @param {BoltMap} map @param {Progress} at @returns {Ask} */
function ask(map, at) {
  const { order } = map.stages[at.stage];
  const doubtful = order.find((bolt) => at.doubtful.has(bolt));
  if (doubtful !== undefined) {
    const stage = /** @type {number} */ (at.doubtful.get(doubtful));
    const backOff = stage === 0 && isAngled(map, at.taken.get(doubtful) ?? 0);
    return dialled(map, at, { stage, bolt: doubtful, again: true, backOff });
  }
  const open = order.find((bolt) => !at.settled.has(bolt));
  if (open !== undefined)
    return dialled(map, at, { stage: at.stage, bolt: open, again: false, backOff: false });
  return {
    kind: "all done",
    stage: at.stage,
    round: at.round,
    bolt: -1,
    dial: "",
    offset: false,
    again: false,
    backOff: false,
  };
}

/**
 * Ask for a bolt, or first for the setting that it needs.
 * @param {BoltMap} map
 * @param {Progress} at
 * @param {{stage: number, bolt: number, again: boolean, backOff: boolean}} next
 * @returns {Ask}
 */
function dialled(map, at, next) {
  const { kind, dial } = map.stages[next.stage];
  const offset = kind !== "angle" && map.offset.bolts.includes(next.bolt);
  const wanted = offset ? dial.offset : dial.plain;
  const isSet = at.dial?.dial === wanted && at.dial.offset === offset;
  return { ...next, kind: isSet ? "bolt" : "set", round: at.round, dial: wanted, offset };
}

/**
 * @param {BoltMap} map
 * @param {number} stage whether a bolt taken that far has been turned by an angle
 */
function isAngled(map, stage) {
  return map.stages[stage]?.kind === "angle";
}

/**
 * Take one entry of the log.
 * @param {BoltMap} map
 * @param {Progress} at
 * @param {Tap} tap
 */
function take(map, at, tap) {
  if (tap.do === "set") {
    const { kind, dial, offset } = at.ask;
    if (kind !== "set" || tap.dial !== dial || tap.offset !== offset)
      throw new MapError("set out of turn");
    at.dial = { dial, offset };
  } else if (tap.do === "doubt") {
    takeDoubt(map, at, tap.bolt);
  } else {
    if (at.ask.kind !== "bolt" || tap.bolt !== at.ask.bolt) throw new MapError("bolt out of turn");
    if (tap.do === "turned" && !canHaveTurned(map, at))
      throw new MapError("turned outside the check");
    takeBolt(map, at, tap);
  }
}

/** @param {BoltMap} map @param {Progress} at @param {{do: string, bolt: number}} tap */
function takeBolt(map, at, { bolt, do: what }) {
  const again = at.doubtful.get(bolt);
  if (again !== undefined) {
    const reached = /** @type {number} */ (at.taken.get(bolt));
    if (again < reached) {
      at.doubtful.set(bolt, again + 1);
      return;
    }
    at.doubtful.delete(bolt);
    if (reached < at.stage) return;
  }
  at.taken.set(bolt, at.stage);
  at.settled.add(bolt);
  if (what === "turned") at.turned.add(bolt);
  if (at.settled.size === map.places.length && !at.doubtful.size) endPass(map, at);
}

/** Every bolt has had its turn. @param {BoltMap} map @param {Progress} at */
function endPass(map, at) {
  if (at.turned.size) at.round += 1;
  else if (at.stage + 1 < map.stages.length) at.stage += 1;
  else return;
  at.dial = null;
  at.turned.clear();
  at.settled.clear();
}

/** @param {BoltMap} map @param {Progress} at @param {number} bolt */
function takeDoubt(map, at, bolt) {
  if (!canBeDoubted(at, bolt)) throw new MapError("doubt about a bolt that was not done");
  const reached = /** @type {number} */ (at.taken.get(bolt));
  at.settled.delete(bolt);
  at.doubtful.set(bolt, isAngled(map, reached) ? 0 : reached);
}

/**
 * Whether a bolt has been done and is not yet in doubt.
 * @param {Progress} at
 * @param {number} bolt
 */
export function canBeDoubted(at, bolt) {
  return at.taken.has(bolt) && !at.doubtful.has(bolt);
}

/**
 * Whether the user may say that the bolt which is asked for turned.
 * @param {BoltMap} map
 * @param {Progress} at
 */
export function canHaveTurned(map, at) {
  return at.ask.kind === "bolt" && map.stages[at.ask.stage].kind === "check";
}

/**
 * The bolts that were done, the last one first, those in doubt left out.
 * @param {BoltMap} map
 * @param {Progress} at
 */
export function lastDone(map, at) {
  const bolts = map.steps
    .flatMap((tap) => (tap.do === "done" || tap.do === "turned" ? [tap.bolt] : []))
    .reverse();
  return [...new Set(bolts)].filter((bolt) => canBeDoubted(at, bolt));
}

// --- taps: each gives a new map and leaves the old one as it is ----------------------------------

/**
 * Confirm what is asked for.
 * @param {BoltMap} map
 * @param {string} at the time
 * @returns {BoltMap}
 */
export function confirm(map, at) {
  const { ask: asked } = progressOf(map);
  if (map.finished || asked.kind === "all done") throw new MapError("nothing left to confirm");
  const { kind, bolt, dial, offset } = asked;
  return add(map, kind === "set" ? { do: "set", at, dial, offset } : { do: "done", at, bolt });
}

/**
 * The bolt that is checked still turned.
 * @param {BoltMap} map
 * @param {string} at
 * @returns {BoltMap}
 */
export function stillTurned(map, at) {
  return add(map, { do: "turned", at, bolt: progressOf(map).ask.bolt });
}

/**
 * Put a bolt in doubt.
 * @param {BoltMap} map
 * @param {number} bolt
 * @param {string} at
 * @returns {BoltMap}
 */
export function doubt(map, bolt, at) {
  return add(map, { do: "doubt", at, bolt });
}

/** Take the last entry back. @param {BoltMap} map @returns {BoltMap} */
export function back(map) {
  if (map.finished || !map.steps.length) throw new MapError("nothing to take back");
  return { ...map, steps: map.steps.slice(0, -1) };
}

/**
 * Close a map on which every bolt is done.
 * @param {BoltMap} map
 * @param {string} at
 * @returns {BoltMap}
 */
export function finish(map, at) {
  if (map.finished || progressOf(map).ask.kind !== "all done")
    throw new MapError("a bolt is still open");
  return { ...map, finished: at };
}

/** @param {BoltMap} map @param {Tap} tap @returns {BoltMap} */
function add(map, tap) {
  if (map.finished) throw new MapError("this map is closed");
  const next = { ...map, steps: [...map.steps, tap] };
  progressOf(next);
  return next;
}

/**
 * Whether a tap counts, by its time and that of the one before, in milliseconds.
 * @param {number} now
 * @param {number} before
 */
export function isNewTap(now, before) {
  return now - before >= BOUNCE;
}

// --- making and reading --------------------------------------------------------------------------

/**
 * The passes over a pattern.
 * @param {{shares: number[], check: boolean, angle: string, order: number[], checkOrder: number[],
 *   dials: Dial[]}} wanted a dial for each share
 * @returns {Pass[]}
 */
export function passesOf({ shares, check, angle, order, checkOrder, dials }) {
  /** @type {Pass[]} */
  const stages = shares.map((share, n) => ({ kind: "torque", share, order, dial: dials[n] }));
  if (angle) stages.push({ kind: "angle", share: 1, order, dial: { plain: angle, offset: angle } });
  else if (check)
    stages.push({ kind: "check", share: 1, order: checkOrder, dial: dials[dials.length - 1] });
  return stages;
}

/**
 * Whether something read from a store or a file is a map whose log fits.
 * @param {any} value
 * @returns {value is BoltMap}
 */
export function isBoltMap(value) {
  if (!isObject(value) || value.schema !== SCHEMA || !hasParts(value)) return false;
  try {
    const { ask: asked } = progressOf(/** @type {BoltMap} */ (value));
    return !value.finished || asked.kind === "all done";
  } catch (reason) {
    if (reason instanceof MapError) return false;
    throw reason;
  }
}

const TEXTS = "id job title torque source unit wrench who started finished".split(" ");

/** @param {Object<string, any>} value */
function hasParts(value) {
  return (
    TEXTS.every((key) => isText(value[key])) &&
    value.id !== "" &&
    Number.isInteger(value.rev) &&
    Number.isInteger(value.quarters) &&
    typeof value.voice === "boolean" &&
    hasBolts(value)
  );
}

/** @param {Object<string, any>} value */
function hasBolts(value) {
  return (
    isPattern(value.pattern) &&
    Array.isArray(value.places) &&
    value.places.length > 0 &&
    value.places.every(isPlace) &&
    Array.isArray(value.notes) &&
    value.notes.every(isText) &&
    isObject(value.offset) &&
    isText(value.offset.words) &&
    isBolts(value.offset.bolts, value.places.length) &&
    Array.isArray(value.stages) &&
    value.stages.length > 0 &&
    value.stages.every((/** @type {any} */ stage) => isPass(stage, value.places.length)) &&
    Array.isArray(value.steps) &&
    value.steps.every((/** @type {any} */ tap) => isTap(tap, value.places.length))
  );
}

/** @param {any} value */
function isPattern(value) {
  return (
    isObject(value) &&
    isText(value.kind) &&
    ["rows", "columns", "count"].every((key) => typeof value[key] === "number")
  );
}

/** @param {any} value */
function isPlace(value) {
  return Array.isArray(value) && value.length === 2 && value.every((each) => Number.isFinite(each));
}

/** @param {any} value @param {number} count */
function isBolts(value, count) {
  return (
    Array.isArray(value) &&
    new Set(value).size === value.length &&
    value.every((bolt) => Number.isInteger(bolt) && bolt >= 0 && bolt < count)
  );
}

/** @param {any} value @param {number} count */
function isPass(value, count) {
  return (
    isObject(value) &&
    ["torque", "angle", "check"].includes(value.kind) &&
    Number.isFinite(value.share) &&
    isObject(value.dial) &&
    isText(value.dial.plain) &&
    isText(value.dial.offset) &&
    isBolts(value.order, count) &&
    value.order.length === count
  );
}

/** @param {any} value @param {number} count */
function isTap(value, count) {
  if (!isObject(value) || !isText(value.at)) return false;
  if (value.do === "set") return isText(value.dial) && typeof value.offset === "boolean";
  return ["done", "turned", "doubt"].includes(value.do) && isBolts([value.bolt], count);
}
