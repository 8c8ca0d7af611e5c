/**
 * Going through a tightening map: what is asked for next, and what each tap changes. No DOM.
 *
 * Bolts bear the numbers of the maker's sheet, or, where an order had to be worked out, of their
 * turn. A map keeps the log of what was done; how far it is follows from the log alone. So each tap
 * adds one entry, going back takes the last one off, and a log that doesn't fit is a damaged one.
 *
 * - A pass ends only when every bolt has had its turn. The dial is asked for at the start of each
 *   pass, and whenever it changes or the crowfoot goes on or comes off.
 * - A bolt in doubt is asked for before all others, up to the pass it had reached. One that had
 *   already been turned by an angle is backed off and starts again, after the last stage in which
 *   all were loosened or else from the first: a second angle would be too much.
 * - If a bolt still turned in the check pass, all are checked once more.
 *
 * @typedef {"torque" | "angle" | "loosen" | "check"} StageKind
 * @typedef {{plain: string, offset: string}} Dial  what to set, as shown; offset: with the crowfoot
 * @typedef {{kind: StageKind, share: number, angle: number, order: number[], dial: Dial}} Stage
 *   share: of the torque, 0 where the stage has a torque of its own; angle: degrees, 0 for none
 * @typedef {{angle: number, band: number}} Read  degrees read by the phone on the wrench
 * @typedef {{do: "set", at: string, dial: string, offset: boolean}
 *   | {do: "done" | "turned" | "doubt", at: string, bolt: number, read?: Read}} Tap
 * @typedef {{kind: string, rows: number, columns: number, count: number}} Pattern
 * @typedef {{schema: number, id: string, rev: number, job: string, title: string, pattern: Pattern,
 *   places: [number, number][], names: string[], orderBy: "maker" | "worked", bolt: string,
 *   judged: string, quarters: number, torque: string, source: string, notes: string[],
 *   offset: {bolts: number[], words: string}, unit: string, stages: Stage[], wrench: string,
 *   who: string, voice: boolean, started: string, finished: string, steps: Tap[]}} BoltMap
 * @typedef {{kind: "set" | "bolt" | "all done", stage: number, round: number, bolt: number,
 *   dial: string, offset: boolean, again: boolean, backOff: boolean}} Ask
 * @typedef {{stage: number, round: number, settled: Set<number>, doubtful: Map<number, number>,
 *   turned: Set<number>, dial: {dial: string, offset: boolean} | null, taken: Map<number, number>,
 *   ask: Ask}} Progress  taken: the last stage that each bolt has been through
 */

import { isObject, isText, isTime } from "../record/shapes.js";

export const SCHEMA = 2;

/** Two taps closer than this, in milliseconds, are one: a glove that bounced, or a shaking hand. */
export const BOUNCE = 400;

/** After this many rounds of checking, something is wrong with the joint. */
export const ROUNDS_TO_WONDER = 3;

/** A log that doesn't fit its map, or an entry that can't be added now. */
export class MapError extends Error {}

/**
 * A bolt's name: the sheet's number, or its turn where the order was worked out.
 * @param {BoltMap} map
 * @param {number} bolt
 */
export function nameOf(map, bolt) {
  return map.names[bolt];
}

/** @type {Object<StageKind, string>} */
const STAGE_WORDS = { torque: "Pass", angle: "Angle", loosen: "Loosen", check: "Check" };

/**
 * A stage's name: passes are counted, of the others only those that come more than once.
 * @param {{stages: Stage[]}} map
 * @param {number} stage
 */
export function stageName({ stages }, stage) {
  const { kind } = stages[stage];
  const alike = stages.flatMap((each, n) => (each.kind === kind ? [n] : []));
  const counts = kind === "torque" || alike.length > 1;
  return counts ? `${STAGE_WORDS[kind]}\u00a0${alike.indexOf(stage) + 1}` : STAGE_WORDS[kind];
}

/**
 * Where a stage's run begins: after all were last loosened.
 * @param {BoltMap} map
 * @param {number} stage
 */
function runStart({ stages }, stage) {
  if (stages[stage]?.kind === "loosen") return stage;
  const before = stages.slice(0, stage).map(({ kind }) => kind);
  return before.lastIndexOf("loosen") + 1;
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
    const reached = at.taken.get(doubtful) ?? 0;
    const backOff = isAngled(map, reached) && stage === runStart(map, reached);
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
  const offset = (kind === "torque" || kind === "check") && map.offset.bolts.includes(next.bolt);
  const wanted = offset ? dial.offset : dial.plain;
  const isSet = at.dial?.dial === wanted && at.dial.offset === offset;
  return { ...next, kind: isSet ? "bolt" : "set", round: at.round, dial: wanted, offset };
}

/**
 * Whether a bolt taken that far has been turned by an angle since it was last loose.
 * @param {BoltMap} map
 * @param {number} stage
 */
function isAngled(map, stage) {
  return map.stages.slice(runStart(map, stage), stage + 1).some(({ kind }) => kind === "angle");
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
  at.doubtful.set(bolt, isAngled(map, reached) ? runStart(map, reached) : reached);
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
 * @param {Read | null} [read] what the phone on the wrench read of the angle
 * @returns {BoltMap}
 */
export function confirm(map, at, read = null) {
  const { ask: asked } = progressOf(map);
  if (map.finished || asked.kind === "all done") throw new MapError("nothing left to confirm");
  const { kind, bolt, dial, offset } = asked;
  if (kind === "set") return add(map, { do: "set", at, dial, offset });
  return add(map, { do: "done", at, bolt, ...(read ? { read } : {}) });
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
 * A stored map as this version keeps it. The first version numbered bolts by their turn and knew
 * neither loosening nor the maker's order.
 * @param {any} value
 */
export function upToDate(value) {
  if (!isObject(value) || value.schema !== 1) return value;
  const order = Array.isArray(value.stages) ? value.stages[0]?.order : null;
  if (!Array.isArray(order) || !Array.isArray(value.places)) return value;
  return {
    ...value,
    schema: SCHEMA,
    names: value.places.map((/** @type {any} */ _, /** @type {number} */ bolt) =>
      String(order.indexOf(bolt) + 1),
    ),
    orderBy: "worked",
    bolt: "",
    judged: "",
    stages: value.stages.map((/** @type {any} */ stage) =>
      isObject(stage) ? { ...stage, angle: oldAngle(stage) } : stage,
    ),
  };
}

/** An angle was kept as it was typed, such as "90°". @param {Object<string, any>} stage */
function oldAngle({ kind, dial }) {
  const angle = kind === "angle" && isObject(dial) ? Number.parseFloat(dial.plain) : 0;
  return Number.isFinite(angle) ? angle : 0;
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

const TEXTS = "id job title torque source unit wrench who started finished bolt judged".split(" ");

/** @param {Object<string, any>} value */
function hasParts(value) {
  return (
    TEXTS.every((key) => isText(value[key])) &&
    value.id !== "" &&
    [value.started, value.finished].every((each) => each === "" || isTime(each)) &&
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
    hasNames(value, value.places.length) &&
    Array.isArray(value.notes) &&
    value.notes.every(isText) &&
    isObject(value.offset) &&
    isText(value.offset.words) &&
    isBolts(value.offset.bolts, value.places.length) &&
    Array.isArray(value.stages) &&
    value.stages.length > 0 &&
    value.stages.every((/** @type {any} */ stage) => isStage(stage, value.places.length)) &&
    Array.isArray(value.steps) &&
    value.steps.every((/** @type {any} */ tap) => isTap(tap, value.places.length))
  );
}

/** @param {Object<string, any>} value @param {number} count */
function hasNames({ names, orderBy }, count) {
  return (
    ["maker", "worked"].includes(orderBy) &&
    Array.isArray(names) &&
    names.length === count &&
    new Set(names).size === count &&
    names.every((each) => isText(each) && each !== "")
  );
}

/** @param {any} value */
function isPattern(value) {
  return (
    isObject(value) &&
    isText(value.kind) &&
    ["rows", "columns", "count"].every((key) => Number.isFinite(value[key]))
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
function isStage(value, count) {
  return (
    isObject(value) &&
    Object.hasOwn(STAGE_WORDS, value.kind) &&
    Number.isFinite(value.share) &&
    Number.isFinite(value.angle) &&
    isObject(value.dial) &&
    isText(value.dial.plain) &&
    isText(value.dial.offset) &&
    isBolts(value.order, count) &&
    value.order.length === count
  );
}

/** @param {any} value @param {number} count */
function isTap(value, count) {
  if (!isObject(value) || !isTime(value.at)) return false;
  if (value.do === "set") return isText(value.dial) && typeof value.offset === "boolean";
  return (
    ["done", "turned", "doubt"].includes(value.do) &&
    isBolts([value.bolt], count) &&
    (value.read === undefined || isRead(value.read))
  );
}

/** @param {any} value */
function isRead(value) {
  return isObject(value) && Number.isFinite(value.angle) && Number.isFinite(value.band);
}
