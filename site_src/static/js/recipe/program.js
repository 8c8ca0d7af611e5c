/**
 * A recipe made ready: each symbol and each constant gets a place in a row of numbers, and each
 * step becomes a function of that row. No DOM.
 *
 * @typedef {import("./values.js").Source} Source
 * @typedef {import("./steps.js").Act} Act
 * @typedef {{side: string, limit: Source, near: Source, words: Object<string, string>,
 *   examples: string[]}} Band  `examples`: fields whose usual values are no limits to judge by
 * @typedef {{key: string, symbol: string, si: [number, number], band: Band | null}} Answer
 * @typedef {{fields: any[], steps: any[], answers: any[], key: string}} Lookup
 * @typedef {{field: any, place: number, options: Map<string, any>, list: List | null,
 *   master: any}} Entry  a field, and where its value or choice goes; `master`: the field that says
 *   whether it is asked for
 */

import { actOf } from "./steps.js";

/** @type {WeakMap<Lookup, Program>} */
const programs = new WeakMap();

/** @param {Lookup} lookup @returns {Program} */
export function programOf(lookup) {
  let program = programs.get(lookup);
  if (!program) {
    program = new Program(lookup);
    programs.set(lookup, program);
  }
  return program;
}

/** A lookup's recipe with a place for everything. */
export class Program {
  /** @param {Lookup} lookup */
  constructor(lookup) {
    /** Where each symbol is that is not inside a list of parts. @type {Map<string, number>} */
    this.names = new Map();
    /** What is in each place before a run: NaN but for constants. @type {number[]} */
    this.start = [];
    /** Where each constant is. @type {Map<number, number>} */
    this.constants = new Map();
    /** How many choices there are. */
    this.choices = 0;
    /** @type {Map<string, List>} */
    this.lists = new Map();
    const outer = new Scope(this, this.names);
    /** @type {Entry[]} */
    this.fields = lookup.fields.map((field) => this.entry(field, lookup.fields, outer));
    /** Choices, and those that they must go with. */
    this.matches = this.fields
      .filter(({ field }) => field.match)
      .map((entry) => ({ entry, master: named(this.fields, entry.field.match) }));
    this.acts = lookup.steps.map((step) => actOf(step, outer));
    this.answers = lookup.answers.map((answer) => new Judged(answer, this.fields, outer));
    this.blank = new Float64Array(this.start);
  }

  /** A new place. @param {number} [number] that is there before a run */
  place(number = NaN) {
    return this.start.push(number) - 1;
  }

  /** Where a constant is. @param {number} number */
  constant(number) {
    // To a map -0 is 0, which divides to another infinity.
    if (Object.is(number, -0)) return this.place(number);
    let found = this.constants.get(number);
    if (found === undefined) {
      found = this.place(number);
      this.constants.set(number, found);
    }
    return found;
  }

  /**
   * A field, and where what is entered in it goes.
   * @param {any} field @param {any[]} fields those beside it @param {Scope} scope
   * @returns {Entry}
   */
  entry(field, fields, scope) {
    const master = field.when && fields.find(({ key }) => key === field.when.field);
    const entry = { field, place: -1, options: new Map(), list: null, master };
    if (field.kind === "number") return { ...entry, place: scope.made(field.key) };
    if (field.kind === "choice") {
      const options = field.options.map((/** @type {any} */ each) => [each.key, each]);
      return { ...entry, place: scope.madeChoice(field.key), options: new Map(options) };
    }
    const list = new List(this, field, scope);
    this.lists.set(field.key, list);
    return { ...entry, list };
  }
}

/** Names and where they are: those of a list's parts are seen before those around them. */
export class Scope {
  /** @param {Program} program @param {Map<string, number>} names @param {Scope} [around] */
  constructor(program, names, around) {
    this.program = program;
    this.names = names;
    this.around = around;
    /** @type {Map<string, number>} */
    this.choices = new Map();
    /** Places of its own that were asked for, if that is wanted. @type {Set<number> | null} */
    this.read = null;
  }

  /**
   * Where a source's value is; a symbol that nothing makes never has one.
   * @param {Source} source @returns {number}
   */
  place(source) {
    if (typeof source === "number") return this.program.constant(source);
    const found = this.names.get(source);
    if (found === undefined) return this.around?.place(source) ?? this.program.place();
    this.read?.add(found);
    return found;
  }

  /**
   * Where a choice is; nobody makes one that is not there.
   * @param {string} key @returns {number}
   */
  choice(key) {
    return this.choices.get(key) ?? this.around?.choice(key) ?? -1;
  }

  /** @param {string} parts @returns {List} */
  list(parts) {
    const found = this.program.lists.get(parts);
    if (!found) throw new Error(`there is no list ${parts}`);
    return found;
  }

  /** A new place for a choice. @param {string} key */
  madeChoice(key) {
    const place = this.program.choices;
    this.choices.set(key, place);
    this.program.choices += 1;
    return place;
  }

  /** A new place for a symbol. @param {string} symbol */
  made(symbol) {
    const place = this.program.place();
    this.names.set(symbol, place);
    return place;
  }
}

/** A list of parts. Each keeps what it has, which is in these places while steps run for it. */
export class List {
  /** @param {Program} program @param {any} field @param {Scope} around */
  constructor(program, field, around) {
    this.scope = new Scope(program, new Map(), around);
    /** @type {Entry[]} */
    this.fields = field.fields.map((/** @type {any} */ each) =>
      program.entry(each, field.fields, this.scope),
    );
    /** Where what a part has of its own goes: its entries first, then what is made for it. */
    this.places = [...this.scope.names.values()];
    this.choices = [...this.scope.choices.values()];
  }

  /** Which of its places one is. @param {number} place */
  slot(place) {
    const found = this.places.indexOf(place);
    return found < 0 ? this.places.push(place) - 1 : found;
  }

  /**
   * Make steps ready that run for each part, and whose results stay with it.
   * @param {any[]} steps
   */
  lasting(steps) {
    const { acts, read } = this.block(steps, this.scope);
    return { acts, read, made: steps.map(({ as }) => this.slot(this.scope.place(as))) };
  }

  /**
   * Make steps ready that run for each part, and of whose results one is taken.
   * @param {any[]} steps @param {Source} of the one
   */
  passing(steps, of) {
    return this.block(steps, new Scope(this.scope.program, new Map(), this.scope), of);
  }

  /**
   * @param {any[]} steps @param {Scope} scope in which what they make is named
   * @param {Source} [of] what is read besides
   */
  block(steps, scope, of = 0) {
    const asked = new Set();
    this.scope.read = asked;
    const acts = steps.map((step) => actOf(step, scope));
    const term = scope.place(of);
    this.scope.read = null;
    return { acts, term, read: [...asked].map((place) => this.slot(place)) };
  }
}

/** An answer with the places of what judges it. */
export class Judged {
  /** @param {Answer} answer @param {Entry[]} entries @param {Scope} scope */
  constructor({ key, symbol, si, band }, entries, scope) {
    this.key = key;
    this.si = si;
    this.band = band;
    this.place = scope.place(symbol);
    this.limit = scope.place(band?.limit ?? 0);
    this.near = scope.place(band?.near ?? 0);
    this.examples = (band?.examples ?? []).map((example) => named(entries, example));
  }
}

/** @param {Entry[]} entries @param {string} key */
function named(entries, key) {
  const found = entries.find(({ field }) => field.key === key);
  if (!found) throw new Error(`there is no entry ${key}`);
  return found;
}
