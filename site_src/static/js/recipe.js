/**
 * The recipe evaluator: what a lookup's recipe comes to for one set-up. Runs in a browser and in
 * Node alike; with the room beside it, it imports nothing else.
 *
 * @typedef {import("./recipe/grid.js").Grid} Grid
 * @typedef {import("./recipe/program.js").Band} Band
 * @typedef {import("./recipe/program.js").Lookup} Lookup
 * @typedef {import("./recipe/program.js").Program} Program
 * @typedef {import("./recipe/program.js").Judged} Judged
 * @typedef {import("./recipe/values.js").Fault} Fault
 * @typedef {import("./recipe/values.js").Inputs} Inputs
 * @typedef {import("./recipe/values.js").Source} Source
 * @typedef {import("./recipe/values.js").Value} Value
 */

import { programOf } from "./recipe/program.js";
import { Run, isAsked } from "./recipe/run.js";
import { UNUSABLE, fault, isFault } from "./recipe/values.js";

/** An entry can't be used. `faults` holds the reasons by answer. */
export class InputError extends Error {
  /** @param {string} message @param {Object<string, Fault>} faults */
  constructor(message, faults) {
    super(message);
    this.faults = faults;
  }
}

/** What one set-up comes to. */
export class Outcome {
  /** @param {Program} program @param {Run} run */
  constructor(program, run) {
    this.program = program;
    this.run = run;
    /** @type {Object<string, number>} in declared units */
    this.answers = {};
    /** Why an answer isn't there. @type {Object<string, Fault>} */
    this.faults = {};
    /** @type {Object<string, string>} */
    this.status = {};
    /** Why an answer that is there has no status. @type {Object<string, Fault>} */
    this.unjudged = {};
  }

  /** A symbol's value, or why there is none. @param {Source} symbol @returns {Value} */
  value(symbol) {
    if (typeof symbol === "number") return symbol;
    const place = this.program.names.get(symbol);
    return place === undefined ? fault("undefined", symbol) : this.run.value(place);
  }

  /** A symbol's number, null if there is none. @param {string} symbol */
  number(symbol) {
    const value = this.value(symbol);
    return typeof value === "number" ? value : null;
  }

  /** Every symbol that has a number. @returns {Array<[string, number]>} */
  numbers() {
    return [...this.program.names.keys()].flatMap((name) => {
      const value = this.value(name);
      return typeof value === "number" ? [[name, value]] : [];
    });
  }
}

/**
 * Evaluate one set-up. Inputs and answers are in declared units; a missing key means the default,
 * null means left blank. An answer that this set-up does not have is left out.
 * @param {Lookup} lookup an entry of lookups.json
 * @param {Inputs} inputs
 * @param {Object<string, Grid>} tables decoded grids by name
 * @returns {Object<string, number>}
 * @throws {InputError} an entry is not usable
 */
export function evaluate(lookup, inputs, tables) {
  const outcome = explain(lookup, inputs, tables);
  const met = { ...outcome.faults, ...outcome.unjudged };
  const unusable = Object.entries(met).filter(([, { kind }]) => UNUSABLE.includes(kind));
  if (unusable.length) {
    const said = unusable.map(([, { symbol, say, kind }]) => `${symbol}: ${say || kind}`);
    throw new InputError([...new Set(said)].join(" "), Object.fromEntries(unusable));
  }
  return outcome.answers;
}

/**
 * Evaluate one set-up and keep the reasons, the statuses and every symbol.
 * @param {Lookup} lookup its steps and its fields' keys and options stay as they are from now on
 * @param {Inputs} inputs
 * @param {Object<string, Grid>} tables
 * @returns {Outcome}
 */
export function explain(lookup, inputs, tables) {
  const program = programOf(lookup);
  const run = new Run(program, inputs, tables);
  for (const each of program.acts) each(run);
  const outcome = new Outcome(program, run);
  for (const judged of program.answers) conclude(judged, run, outcome);
  return outcome;
}

/**
 * Put an answer into the outcome, with its status or the reason why it has none.
 * @param {Judged} judged @param {Run} run @param {Outcome} outcome
 */
function conclude(judged, run, outcome) {
  const { key, si, band } = judged;
  const value = run.value(judged.place);
  if (isFault(value)) {
    outcome.faults[key] = value;
    return;
  }
  outcome.answers[key] = (value - si[1]) / si[0];
  if (!band) return;
  const status = statusOf(judged, band, value, run);
  if (isFault(status)) {
    outcome.unjudged[key] = status;
    return;
  }
  const reason =
    status === "unchecked"
      ? null
      : (example(judged, run.inputs) ?? (status === "within" ? run.wrong() : null));
  outcome.status[key] = reason ? "unchecked" : status;
  if (reason) outcome.unjudged[key] = reason;
}

/**
 * Why an answer isn't judged, if it depends on limits that nobody entered.
 * @param {Judged} judged @param {Inputs} inputs @returns {Fault | null}
 */
function example({ examples }, inputs) {
  const missing = examples.filter(
    (entry) => !(entry.field.key in inputs) && isAsked(entry, inputs),
  );
  if (!missing.length) return null;
  const more = missing.length > 1 ? ` Then ${missing.length - 1} more.` : "";
  const { field } = missing[0];
  return fault("example", field.key, field.example + more);
}

/**
 * The status, "unchecked" where the limit was left blank and the band has words for that.
 * @param {Judged} judged @param {Band} band @param {number} value @param {Run} run
 * @returns {string | Fault}
 */
function statusOf(judged, band, value, run) {
  const limit = run.value(judged.limit);
  const near = run.value(judged.near);
  const lost = isFault(limit) ? limit : near;
  if (isFault(lost)) return lost.kind === "blank" && band.words.unchecked ? "unchecked" : lost;
  const sign = band.side === "max" ? 1 : -1;
  if (sign * value > sign * Number(limit)) return "beyond";
  return sign * value > sign * lost ? "near" : "within";
}
