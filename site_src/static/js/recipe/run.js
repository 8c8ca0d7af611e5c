/**
 * One set-up of a recipe: what is entered, and every value known so far. No DOM.
 *
 * @typedef {import("./grid.js").Grid} Grid
 * @typedef {import("./program.js").Entry} Entry
 * @typedef {import("./program.js").List} List
 * @typedef {import("./program.js").Program} Program
 * @typedef {import("./values.js").Fault} Fault
 * @typedef {import("./values.js").Inputs} Inputs
 * @typedef {import("./values.js").Value} Value
 * @typedef {{values: number[], faults: Array<Fault | undefined>,
 *   choices: Array<string | Fault>}} Part  what a part has, in the order of its list's places
 */

import { UNUSABLE, fault, given, isFault } from "./values.js";

/** One evaluation. NaN in a place is a value that can't be had; why is in the row of faults. */
export class Run {
  /** @param {Program} program @param {Inputs} inputs @param {Object<string, Grid>} tables */
  constructor(program, inputs, tables) {
    this.program = program;
    this.inputs = inputs;
    this.tables = tables;
    this.values = program.blank.slice();
    /** Why there is no value, by its place. @type {Array<Fault | undefined>} */
    this.faults = new Array(this.values.length);
    /** @type {Array<string | Fault>} */
    this.choices = new Array(program.choices);
    /** @type {Map<List, Part[]>} */
    this.held = new Map();
    /** What `wrong` found, once it was asked. @type {Fault | null | undefined} */
    this.firstWrong = undefined;
    for (const entry of program.fields) this.read(entry, given(entry.field, inputs));
    for (const { entry, master } of program.matches) this.match(entry, master);
  }

  /** @param {Entry} entry @param {any} entered */
  read(entry, entered) {
    const { field, place, list } = entry;
    if (list) {
      const parts = entered.map((/** @type {Inputs} */ row) => readPart(list, row));
      this.held.set(list, parts);
    } else if (field.kind === "choice") this.choices[place] = readChoice(entry, entered);
    else this.set(place, readNumber(field, entered));
  }

  /** Two choices that don't go together. @param {Entry} entry @param {Entry} master */
  match(entry, master) {
    const [mine, theirs] = [this.tag(entry), this.tag(master)];
    if (!mine || !theirs || mine === theirs) return;
    const { key, label } = entry.field;
    const say = `“${label}” and “${master.field.label}” don't go together: pick the one or the other again.`;
    this.choices[entry.place] = fault("choice", key, say);
  }

  /** @param {Entry} entry a choice @returns {string | undefined} */
  tag({ options, place }) {
    return options.get(/** @type {string} */ (this.choices[place]))?.tag;
  }

  /** @param {List} list @returns {Part[]} */
  parts(list) {
    return this.held.get(list) ?? [];
  }

  /**
   * Put what a part has in its list's places.
   * @param {List} list @param {Part} part @param {number[]} slots
   */
  take({ places, choices }, part, slots) {
    for (const slot of slots) {
      this.values[places[slot]] = part.values[slot];
      this.faults[places[slot]] = part.faults[slot];
    }
    for (let n = 0; n < choices.length; n += 1) this.choices[choices[n]] = part.choices[n];
  }

  /**
   * Let a part keep what was made for it.
   * @param {List} list @param {Part} part @param {number[]} slots
   */
  keep({ places }, part, slots) {
    for (const slot of slots) {
      part.values[slot] = this.values[places[slot]];
      part.faults[slot] = this.faults[places[slot]];
    }
  }

  /** What is in a place. @param {number} place @returns {Value} */
  value(place) {
    const value = this.values[place];
    return Number.isNaN(value) ? (this.faults[place] ?? fault("undefined", "")) : value;
  }

  /** @param {number} to @param {Value} value */
  set(to, value) {
    if (isFault(value)) this.fail(to, value);
    else this.values[to] = value;
  }

  /** @param {number} to @param {number} value @param {string} symbol */
  put(to, value, symbol) {
    if (Number.isFinite(value)) this.values[to] = value;
    else this.fail(to, fault("undefined", symbol));
  }

  /** @param {number} from @param {number} to */
  pass(from, to) {
    this.values[to] = this.values[from];
    this.faults[to] = this.faults[from];
  }

  /** @param {number} to @param {Fault} why */
  fail(to, why) {
    this.values[to] = NaN;
    this.faults[to] = why;
  }

  /** The first of some places that has no value; -1 if all have. @param {number[]} places */
  gone(places) {
    for (let n = 0; n < places.length; n += 1)
      if (Number.isNaN(this.values[places[n]])) return places[n];
    return -1;
  }

  /** What is entered in a field that is no list. @param {Entry} entry */
  entered({ field, place }) {
    return field.kind === "number" ? this.value(place) : this.choices[place];
  }

  /** What is wrong with the first entry that is asked for and can't be used; null if nothing is. */
  wrong() {
    if (this.firstWrong === undefined)
      this.firstWrong = firstUnusable(this.program.fields, this.inputs, (entry) =>
        entry.list ? this.wrongPart(entry.list, entry.field) : this.entered(entry),
      );
    return this.firstWrong;
  }

  /** @param {List} list @param {any} field */
  wrongPart(list, field) {
    const rows = /** @type {Inputs[]} */ (given(field, this.inputs));
    const found = this.parts(list).map((part, n) =>
      firstUnusable(list.fields, rows[n], (entry) => enteredIn(list, part, entry)),
    );
    return found.find(Boolean);
  }
}

/**
 * The first entry that is asked for and can't be used.
 * @param {Entry[]} entries @param {Inputs} inputs
 * @param {(entry: Entry) => Value | string | null | undefined} entered
 * @returns {Fault | null}
 */
function firstUnusable(entries, inputs, entered) {
  for (const entry of entries) {
    if (!isAsked(entry, inputs)) continue;
    const found = entered(entry);
    if (isFault(found) && UNUSABLE.includes(found.kind)) return found;
  }
  return null;
}

/** Whether a field is asked for. @param {Entry} entry @param {Inputs} inputs */
export function isAsked({ field, master }, inputs) {
  return !master || field.when.is.includes(String(given(master, inputs)));
}

/** @param {any} field @param {any} entered @returns {Value} */
function readNumber(field, entered) {
  if (entered === null || entered === undefined) {
    return fault(field.default === null ? "blank" : "missing", field.key);
  }
  if (!(entered >= field.low && entered <= field.high)) {
    return fault("range", field.key, field.way_out);
  }
  return entered * field.si[0] + field.si[1];
}

/** @param {Entry} entry @param {any} entered @returns {string | Fault} */
function readChoice({ field, options }, entered) {
  if (options.has(entered)) return entered;
  return fault("choice", field.key, `${field.label}: pick one from the list.`);
}

/** @param {List} list @param {Inputs} row @returns {Part} */
function readPart(list, row) {
  /** @type {Part} */
  const part = { values: [], faults: [], choices: [] };
  for (const entry of list.fields) {
    const entered = given(entry.field, row);
    if (entry.field.kind === "number") {
      const slot = list.slot(entry.place);
      const value = readNumber(entry.field, entered);
      part.values[slot] = isFault(value) ? NaN : value;
      part.faults[slot] = isFault(value) ? value : undefined;
    } else part.choices[list.choices.indexOf(entry.place)] = readChoice(entry, entered);
  }
  return part;
}

/**
 * What a part has in one of its list's entries.
 * @param {List} list @param {Part} part @param {Entry} entry
 */
function enteredIn(list, part, { field, place }) {
  if (field.kind === "number") return part.faults[list.slot(place)];
  return part.choices[list.choices.indexOf(place)];
}
