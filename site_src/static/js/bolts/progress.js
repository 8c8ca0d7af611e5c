/**
 * Working through a tightening map: what is asked for next, and what a tap makes of it. No DOM.
 *
 * A map keeps the log of what was done; where one stands follows from the log alone. So each tap
 * adds one entry, going back takes the last one off, and a log that doesn't fit is a damaged one.
 *
 * - A pass is over only when every bolt has had its turn. The dial is asked for at the start of
 * each
 *   pass, and whenever it changes or the crowfoot goes on or comes off.
 * - A bolt in doubt is asked for before all others, as far as it had been taken. One that had
 *   already been turned by an angle starts from the first pass again: a second angle would be too
 *   much.
 * - If a bolt still turned in the check pass, all are checked once more.
 *
 * @typedef {"torque" | "angle" | "check"} StageKind
 * @typedef {{plain: string, offset: string}} Dial  what to set, as shown; offset: with the crowfoot
 * @typedef {{kind: StageKind, share: number, order: number[], dial: Dial}} Stage
 * @typedef {{do: "set", at: string, dial: string, offset: boolean}
 *   | {do: "done" | "turned" | "doubt", at: string, bolt: number}} Step
 * @typedef {{kind: string, rows: number, columns: number, count: number}} Pattern
 * @typedef {{schema: number, id: string, rev: number, job: string, title: string, pattern: Pattern,
 *   places: [number, number][], quarters: number, torque: string, source: string, notes: string[],
 *   offset: {bolts: number[], words: string}, unit: string, stages: Stage[], wrench: string,
 *   who: string, voice: boolean, started: string, finished: string, steps: Step[]}} Work
 * @typedef {{kind: "set" | "bolt" | "all done", stage: number, round: number, bolt: number,
 *   dial: string, offset: boolean, again: boolean, backOff: boolean}} Ask
 * @typedef {{stage: number, round: number, settled: Set<number>, doubtful: Map<number, number>,
 *   turned: Set<number>, dial: {dial: string, offset: boolean} | null, taken: Map<number, number>,
 *   ask: Ask}} Standing  taken: the last stage that each bolt has been through
 */

export const SCHEMA = 1;

/** Two taps closer than this, in milliseconds, are one: a glove that bounced, or a shaking hand. */
export const BOUNCE = 400;

/** Check rounds after which something is wrong with the joint rather than with the tightening. */
export const ROUNDS_TO_WONDER = 3;

/** A log that doesn't fit its map, or a step that can't be taken now. */
export class WorkError extends Error {}

/**
 * A bolt's name: its turn in the passes, as a drawing numbers it.
 * @param {Work} work
 * @param {number} bolt
 */
export function nameOf(work, bolt) {
  return work.stages[0].order.indexOf(bolt) + 1;
}

/** Where a map stands. @param {Work} work @returns {Standing} @throws {WorkError} */
export function standing(work) {
  const at = start(work);
  for (const step of work.steps) {
    take(work, at, step);
    at.ask = ask(work, at);
  }
  return at;
}

/** @param {Work} work @returns {Standing} */
function start(work) {
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
  at.ask = ask(work, at);
  return at;
}

/** What is asked for now. @param {Work} work @param {Standing} at @returns {Ask} */
function ask(work, at) {
  const { order } = work.stages[at.stage];
  const doubtful = order.find((bolt) => at.doubtful.has(bolt));
  if (doubtful !== undefined) {
    const stage = /** @type {number} */ (at.doubtful.get(doubtful));
    const backOff = stage === 0 && isAngled(work, at.taken.get(doubtful) ?? 0);
    return dialled(work, at, { stage, bolt: doubtful, again: true, backOff });
  }
  const open = order.find((bolt) => !at.settled.has(bolt));
  if (open !== undefined)
    return dialled(work, at, { stage: at.stage, bolt: open, again: false, backOff: false });
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
 * Ask for a bolt, or first for its dial.
 * @param {Work} work
 * @param {Standing} at
 * @param {{stage: number, bolt: number, again: boolean, backOff: boolean}} next
 * @returns {Ask}
 */
function dialled(work, at, next) {
  const { kind, dial } = work.stages[next.stage];
  const offset = kind !== "angle" && work.offset.bolts.includes(next.bolt);
  const wanted = offset ? dial.offset : dial.plain;
  const isSet = at.dial?.dial === wanted && at.dial.offset === offset;
  return { ...next, kind: isSet ? "bolt" : "set", round: at.round, dial: wanted, offset };
}

/**
 * @param {Work} work
 * @param {number} stage whether a bolt taken that far has been turned by an angle
 */
function isAngled(work, stage) {
  return work.stages[stage]?.kind === "angle";
}

/**
 * Take one step of the log.
 * @param {Work} work
 * @param {Standing} at
 * @param {Step} step
 */
function take(work, at, step) {
  if (step.do === "set") {
    const { kind, dial, offset } = at.ask;
    if (kind !== "set" || step.dial !== dial || step.offset !== offset)
      throw new WorkError("set out of turn");
    at.dial = { dial, offset };
  } else if (step.do === "doubt") {
    takeDoubt(work, at, step.bolt);
  } else {
    if (at.ask.kind !== "bolt" || step.bolt !== at.ask.bolt)
      throw new WorkError("bolt out of turn");
    if (step.do === "turned" && !canHaveTurned(work, at))
      throw new WorkError("turned outside the check");
    takeBolt(work, at, step);
  }
}

/** @param {Work} work @param {Standing} at @param {{do: string, bolt: number}} step */
function takeBolt(work, at, { bolt, do: what }) {
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
  if (at.settled.size === work.places.length && !at.doubtful.size) endPass(work, at);
}

/** Every bolt has had its turn. @param {Work} work @param {Standing} at */
function endPass(work, at) {
  if (at.turned.size) at.round += 1;
  else if (at.stage + 1 < work.stages.length) at.stage += 1;
  else return;
  at.dial = null;
  at.turned.clear();
  at.settled.clear();
}

/** @param {Work} work @param {Standing} at @param {number} bolt */
function takeDoubt(work, at, bolt) {
  if (!canBeDoubted(at, bolt)) throw new WorkError("doubt about a bolt that was not done");
  const reached = /** @type {number} */ (at.taken.get(bolt));
  at.settled.delete(bolt);
  at.doubtful.set(bolt, isAngled(work, reached) ? 0 : reached);
}

/**
 * Whether a bolt has been done and is not yet in doubt.
 * @param {Standing} at
 * @param {number} bolt
 */
export function canBeDoubted(at, bolt) {
  return at.taken.has(bolt) && !at.doubtful.has(bolt);
}

/**
 * Whether the bolt that is asked for may be said to have turned.
 * @param {Work} work
 * @param {Standing} at
 */
export function canHaveTurned(work, at) {
  return at.ask.kind === "bolt" && work.stages[at.ask.stage].kind === "check";
}

/**
 * The bolts that were done, the last one first, those in doubt left out.
 * @param {Work} work
 * @param {Standing} at
 */
export function lastDone(work, at) {
  const bolts = work.steps
    .flatMap((step) => (step.do === "done" || step.do === "turned" ? [step.bolt] : []))
    .reverse();
  return [...new Set(bolts)].filter((bolt) => canBeDoubted(at, bolt));
}

// --- taps: each gives a new map and leaves the old one as it is ----------------------------------

/**
 * Confirm what is asked for.
 * @param {Work} work
 * @param {string} at the time
 * @returns {Work}
 */
export function confirm(work, at) {
  const { ask: asked } = standing(work);
  if (work.finished || asked.kind === "all done") throw new WorkError("nothing left to confirm");
  const { kind, bolt, dial, offset } = asked;
  return add(work, kind === "set" ? { do: "set", at, dial, offset } : { do: "done", at, bolt });
}

/**
 * The bolt that is checked still turned.
 * @param {Work} work
 * @param {string} at
 * @returns {Work}
 */
export function stillTurned(work, at) {
  return add(work, { do: "turned", at, bolt: standing(work).ask.bolt });
}

/**
 * Put a bolt in doubt.
 * @param {Work} work
 * @param {number} bolt
 * @param {string} at
 * @returns {Work}
 */
export function doubt(work, bolt, at) {
  return add(work, { do: "doubt", at, bolt });
}

/** Take the last step back. @param {Work} work @returns {Work} */
export function back(work) {
  if (work.finished || !work.steps.length) throw new WorkError("nothing to take back");
  return { ...work, steps: work.steps.slice(0, -1) };
}

/**
 * Close a map on which every bolt is done.
 * @param {Work} work
 * @param {string} at
 * @returns {Work}
 */
export function finish(work, at) {
  if (work.finished || standing(work).ask.kind !== "all done")
    throw new WorkError("a bolt is still open");
  return { ...work, finished: at };
}

/** @param {Work} work @param {Step} step @returns {Work} */
function add(work, step) {
  if (work.finished) throw new WorkError("this map is closed");
  const next = { ...work, steps: [...work.steps, step] };
  standing(next);
  return next;
}

/**
 * Whether a tap counts that comes so many milliseconds after the one before.
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
 * @returns {Stage[]}
 */
export function stagesOf({ shares, check, angle, order, checkOrder, dials }) {
  /** @type {Stage[]} */
  const stages = shares.map((share, n) => ({ kind: "torque", share, order, dial: dials[n] }));
  if (angle) stages.push({ kind: "angle", share: 1, order, dial: { plain: angle, offset: angle } });
  else if (check)
    stages.push({ kind: "check", share: 1, order: checkOrder, dial: dials[dials.length - 1] });
  return stages;
}

/**
 * Whether something read from a store or a file is a map whose log fits.
 * @param {any} value
 * @returns {value is Work}
 */
export function isWork(value) {
  if (!isRecord(value) || value.schema !== SCHEMA || !hasWorkParts(value)) return false;
  try {
    const { ask: asked } = standing(/** @type {Work} */ (value));
    return !value.finished || asked.kind === "all done";
  } catch (reason) {
    if (reason instanceof WorkError) return false;
    throw reason;
  }
}

const TEXTS = "id job title torque source unit wrench who started finished".split(" ");

/** @param {Object<string, any>} value */
function hasWorkParts(value) {
  return (
    TEXTS.every((key) => typeof value[key] === "string") &&
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
    value.notes.every((/** @type {any} */ note) => typeof note === "string") &&
    isRecord(value.offset) &&
    typeof value.offset.words === "string" &&
    isBolts(value.offset.bolts, value.places.length) &&
    Array.isArray(value.stages) &&
    value.stages.length > 0 &&
    value.stages.every((/** @type {any} */ stage) => isStage(stage, value.places.length)) &&
    Array.isArray(value.steps) &&
    value.steps.every((/** @type {any} */ step) => isStep(step, value.places.length))
  );
}

/** @param {any} value */
function isPattern(value) {
  return (
    isRecord(value) &&
    typeof value.kind === "string" &&
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
function isStage(value, count) {
  return (
    isRecord(value) &&
    ["torque", "angle", "check"].includes(value.kind) &&
    Number.isFinite(value.share) &&
    isRecord(value.dial) &&
    typeof value.dial.plain === "string" &&
    typeof value.dial.offset === "string" &&
    isBolts(value.order, count) &&
    value.order.length === count
  );
}

/** @param {any} value @param {number} count */
function isStep(value, count) {
  if (!isRecord(value) || typeof value.at !== "string") return false;
  if (value.do === "set")
    return typeof value.dial === "string" && typeof value.offset === "boolean";
  return ["done", "turned", "doubt"].includes(value.do) && isBolts([value.bolt], count);
}

/** @param {any} value @returns {value is Object<string, any>} */
function isRecord(value) {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}
