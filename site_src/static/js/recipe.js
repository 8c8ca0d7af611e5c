/**
 * The recipe evaluator: runs a lookup's steps on one set-up. No DOM, no engineering formula.
 *
 * Only + − × ÷ √ and comparisons, in the order that site_src/tables/recipe.py and grid.py state,
 * so that the bits are the same as Python's. Runs in a browser and in Node alike.
 *
 * @typedef {{kind: string, symbol: string, say: string}} Fault  why a value can't be had
 * @typedef {number | Fault} Value
 * @typedef {string | number} Source  a symbol or a number
 * @typedef {{key: string, kind: "linear" | "cubic" | "list", knots: number[]}} Axis
 * @typedef {{name: string, axes: Axis[], numbers: ArrayLike<number>}} Grid
 * @typedef {Object<string, number | string | null | Array<Object<string, any>>>} Inputs
 * @typedef {{side: string, limit: Source, near: Source, words: Object<string, string>,
 *   examples: string[]}} Band  `examples`: fields whose usual values are no limits to judge by
 * @typedef {{key: string, symbol: string, si: [number, number], band: Band | null}} Answer
 * @typedef {{fields: any[], steps: any[], answers: any[], key: string}} Lookup
 * @typedef {{answers: Object<string, number>, faults: Object<string, Fault>,
 *   status: Object<string, string>, unjudged: Object<string, Fault>,
 *   symbols: Object<string, Value>}} Outcome  `unjudged`: why a given answer has no status
 */

const HALVINGS = 52;

/** Kinds of faults that are a mistake in what was entered. */
const UNUSABLE = ["range", "choice", "missing"];

/** An entry can't be used. `faults` holds the reasons by answer. */
export class InputError extends Error {
  /** @param {string} message @param {Object<string, Fault>} faults */
  constructor(message, faults) {
    super(message);
    this.faults = faults;
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
 * @param {Lookup} lookup
 * @param {Inputs} inputs
 * @param {Object<string, Grid>} tables
 * @returns {Outcome}
 */
export function explain(lookup, inputs, tables) {
  const run = new Run(tables);
  for (const field of lookup.fields) run.read(field, given(field, inputs));
  for (const field of lookup.fields) if (field.match) run.mismatch(lookup.fields, field);
  const wrong = wrongEntry(lookup.fields, inputs, run.symbols, run.choices, run.parts);
  for (const step of lookup.steps) run.symbols[step.as] = run.step(step);
  /** @type {Outcome} */
  const outcome = { answers: {}, faults: {}, status: {}, unjudged: {}, symbols: run.symbols };
  for (const answer of lookup.answers) {
    const value = run.symbols[answer.symbol];
    if (isFault(value)) {
      outcome.faults[answer.key] = value;
      continue;
    }
    outcome.answers[answer.key] = (value - answer.si[1]) / answer.si[0];
    if (!answer.band) continue;
    const status = statusOf(answer.band, value, run);
    if (isFault(status)) {
      outcome.unjudged[answer.key] = status;
      continue;
    }
    const reason =
      status === "unchecked"
        ? null
        : (example(answer.band, lookup.fields, inputs) ?? (status === "within" ? wrong : null));
    outcome.status[answer.key] = reason ? "unchecked" : status;
    if (reason) outcome.unjudged[answer.key] = reason;
  }
  return outcome;
}

/**
 * Turn a table's part of the file into a grid.
 * @param {{name: string, axes: Axis[], numbers: string, offset?: number}} meta its entry in
 *   lookups.json
 * @param {ArrayBuffer} buffer the file: little-endian numbers, the last axis running fastest
 * @returns {Grid}
 */
export function decodeTable(meta, buffer) {
  const size = meta.numbers === "f4" ? 4 : 8;
  const count = meta.axes.reduce((product, axis) => product * width(axis), 1);
  const start = meta.offset ?? 0;
  if (start + size * count > buffer.byteLength) {
    throw new Error(`the tables' file ends before the ${count} numbers of ${meta.name}`);
  }
  const view = new DataView(buffer, start, size * count);
  const numbers = new Float64Array(count);
  for (let n = 0; n < count; n += 1) {
    numbers[n] = size === 4 ? view.getFloat32(4 * n, true) : view.getFloat64(8 * n, true);
  }
  return { name: meta.name, axes: meta.axes, numbers };
}

/** @param {any} value @returns {value is Fault} */
export function isFault(value) {
  return typeof value === "object" && value !== null && "kind" in value;
}

/**
 * A field's value, entered or usual.
 * @param {any} field @param {Inputs} inputs
 */
export function given(field, inputs) {
  return field.key in inputs ? inputs[field.key] : field.default;
}

/** Whether a field is asked for. @param {any} field @param {any[]} fields @param {Inputs} inputs */
function asked({ when }, fields, inputs) {
  if (!when) return true;
  const master = fields.find(({ key }) => key === when.field);
  return when.is.includes(String(given(master, inputs)));
}

/**
 * Why an answer isn't judged, if it depends on limits that nobody entered.
 * @param {Band} band @param {any[]} fields @param {Inputs} inputs @returns {Fault | null}
 */
function example(band, fields, inputs) {
  const missing = band.examples
    .map((key) => fields.find((field) => field.key === key))
    .filter((field) => !(field.key in inputs) && asked(field, fields, inputs));
  if (!missing.length) return null;
  const more = missing.length > 1 ? ` Then ${missing.length - 1} more.` : "";
  return fault("example", missing[0].key, missing[0].example + more);
}

/**
 * What is wrong with the first entry that is asked for and can't be used.
 * @param {any[]} fields @param {Inputs} inputs
 * @param {Object<string, Value>} symbols @param {Object<string, string | Fault>} choices
 * @param {Object<string, any>} [parts] @returns {Fault | null}
 */
function wrongEntry(fields, inputs, symbols, choices, parts = {}) {
  for (const field of fields) {
    if (!asked(field, fields, inputs)) continue;
    const found =
      field.kind === "parts"
        ? given(field, inputs)
            .map((/** @type {any} */ row, /** @type {number} */ n) => {
              const part = parts[field.key][n];
              return wrongEntry(field.fields, row, part.symbols, part.choices);
            })
            .find(Boolean)
        : field.kind === "number"
          ? symbols[field.key]
          : choices[field.key];
    if (isFault(found) && UNUSABLE.includes(found.kind)) return found;
  }
  return null;
}

/** @param {string} kind @param {string} symbol @param {string} [say] @returns {Fault} */
function fault(kind, symbol, say = "") {
  return { kind, symbol, say };
}

/**
 * The status, "unchecked" where the limit was left blank and the band has words for that.
 * @param {Band} band @param {number} value @param {Run} run @returns {string | Fault}
 */
function statusOf(band, value, run) {
  const status = judge(band, value, run);
  const blank = isFault(status) && status.kind === "blank";
  return blank && band.words.unchecked ? "unchecked" : status;
}

/** @param {Band} band @param {number} value @param {Run} run @returns {string | Fault} */
function judge(band, value, run) {
  const limit = run.value(band.limit);
  const near = run.value(band.near);
  if (isFault(limit)) return limit;
  if (isFault(near)) return near;
  const sign = band.side === "max" ? 1 : -1;
  if (sign * value > sign * limit) return "beyond";
  return sign * value > sign * near ? "near" : "within";
}

/** One evaluation: every symbol known so far. */
class Run {
  /** @param {Object<string, Grid>} tables */
  constructor(tables) {
    this.tables = tables;
    /** @type {Object<string, Value>} */
    this.symbols = {};
    /** The symbols around those, inside a list of parts. @type {Object<string, Value>} */
    this.outer = {};
    /** A part's own entries, inside a list. @type {Object<string, Value>} */
    this.entered = {};
    /** @type {Object<string, string | Fault>} */
    this.choices = {};
    /**
     * @type {Object<string, Array<{symbols: Object<string, Value>, choices: Object<string, any>}>>}
     */
    this.parts = {};
  }

  /** @param {any} field @param {any} entry */
  read(field, entry) {
    if (field.kind === "number") this.symbols[field.key] = readNumber(field, entry);
    else if (field.kind === "choice") this.choices[field.key] = readChoice(field, entry);
    else this.parts[field.key] = entry.map((/** @type {any} */ row) => readPart(field, row));
  }

  /** Two choices that don't go together. @param {any[]} fields @param {any} field */
  mismatch(fields, field) {
    const master = fields.find((other) => other.key === field.match);
    const mine = tag(field, this.choices[field.key]);
    const theirs = tag(master, this.choices[master.key]);
    if (mine && theirs && mine !== theirs) {
      const say = `${field.label} and ${master.label} don't go together: pick the one or the other again.`;
      this.choices[field.key] = fault("choice", field.key, say);
    }
  }

  /** @param {Source} source @returns {Value} */
  value(source) {
    if (typeof source === "number") return source;
    return this.symbols[source] ?? this.entered[source] ?? this.outer[source];
  }

  /** @param {any} step @returns {Value} */
  step(step) {
    switch (step.op) {
      case "product":
        return this.product(step);
      case "sum":
        return this.sum(step);
      case "look":
        return this.look(step);
      case "inverse":
        return this.inverse(step);
      case "least":
        return this.extreme(step, (a, b) => a < b);
      case "greatest":
        return this.extreme(step, (a, b) => a > b);
      case "pick":
        return this.pick(step);
      case "within":
        return this.within(step);
      case "choose":
        return this.choose(step);
      case "if_entered":
        return this.ifEntered(step);
      case "rows":
        return this.rows(step);
      case "over":
        return this.over(step);
      default:
        throw new Error(`unknown step ${step.op}`);
    }
  }

  /** @param {any} step @returns {Value} */
  product(step) {
    let result = step.times;
    for (const [symbol, power] of step.of) {
      const base = this.value(symbol);
      if (isFault(base)) return base;
      const size = Math.abs(power);
      const whole = Math.floor(size);
      for (let n = 0; n < whole; n += 1) result = power > 0 ? result * base : result / base;
      if (size !== whole) {
        const root = Math.sqrt(base);
        result = power > 0 ? result * root : result / root;
      }
    }
    return finite(result, step);
  }

  /** @param {any} step @returns {Value} */
  sum(step) {
    let result = step.plus;
    for (const [symbol, coefficient] of step.of) {
      const term = this.value(symbol);
      if (isFault(term)) return term;
      result = result + coefficient * term;
    }
    return finite(result, step);
  }

  /** @param {any} step @returns {Value} */
  look(step) {
    const grid = this.tables[step.table];
    const places = this.places(step.at);
    if (isFault(places)) return places;
    const out = outside(grid.axes, places, step);
    return out ?? finite(contract(grid.numbers, gather(grid.axes, places)), step);
  }

  /** @param {any} step @returns {Value} */
  inverse(step) {
    const grid = this.tables[step.table];
    const places = this.places(step.at);
    if (isFault(places)) return places;
    const others = grid.axes.filter((axis) => axis.key !== step.along);
    const out = outside(others, places, { as: step.as, ...step.at_sides });
    if (out) return out;
    const target = this.value(step.value);
    if (isFault(target)) return target;
    return invert(grid, step, places, target);
  }

  /** @param {Source[]} sources @returns {number[] | Fault} */
  places(sources) {
    const places = [];
    for (const source of sources) {
      const value = this.value(source);
      if (isFault(value)) return value;
      places.push(value);
    }
    return places;
  }

  /** @param {any} step @param {(a: number, b: number) => boolean} better @returns {Value} */
  extreme(step, better) {
    const values = this.places(step.of);
    if (isFault(values)) return values;
    return finite(
      values.reduce((best, value) => (better(value, best) ? value : best)),
      step,
    );
  }

  /** @param {any} step @returns {Value} */
  pick(step) {
    const chosen = this.choices[step.by];
    if (isFault(chosen)) return chosen;
    const found = step.from.find((/** @type {[string, Source]} */ [option]) => option === chosen);
    return found ? this.value(found[1]) : fault("choice", step.by);
  }

  /** @param {any} step @returns {Value} */
  within(step) {
    const passed = this.value(step.gives);
    if (isFault(passed)) return passed;
    const judged = this.value(step.of);
    if (isFault(judged)) return judged;
    if (step.low !== null && judged < step.low) return fault("below", step.as, step.below);
    if (step.high !== null && judged > step.high) return fault("above", step.as, step.above);
    return passed;
  }

  /** @param {any} step @returns {Value} */
  choose(step) {
    const ends = this.places(step.of);
    if (isFault(ends)) return ends;
    return this.value(ends[0] < ends[1] ? step.less : step.otherwise);
  }

  /** @param {any} step @returns {Value} */
  ifEntered(step) {
    const entry = this.value(step.by);
    if (!isFault(entry)) return this.value(step.then);
    return entry.kind === "blank" ? this.value(step.otherwise) : entry;
  }

  /** A run for the parts of a list, one after the other. */
  inside() {
    const inner = new Run(this.tables);
    // Seen through, not copied: a long recipe has a thousand symbols. One run does for all parts,
    // since every step of a part is worked out before another reads it.
    inner.outer = this.symbols;
    inner.parts = this.parts;
    inner.choices = { ...this.choices };
    return inner;
  }

  /** @param {any} step @returns {Value} */
  rows(step) {
    const inner = this.inside();
    for (const part of this.parts[step.parts]) {
      inner.entered = part.symbols;
      Object.assign(inner.choices, part.choices);
      for (const each of step.steps) part.symbols[each.as] = inner.step(each);
    }
    return this.parts[step.parts].length;
  }

  /** @param {any} step @returns {Value} */
  over(step) {
    let total = 0;
    const inner = this.inside();
    for (const part of this.parts[step.parts]) {
      inner.entered = part.symbols;
      Object.assign(inner.choices, part.choices);
      for (const each of step.steps) inner.symbols[each.as] = inner.step(each);
      const term = inner.value(step.of);
      if (isFault(term)) return term;
      if (step.take === "sum") total = total + term;
      else if (total < term) total = term;
    }
    return finite(total, step);
  }
}

/** @param {any} field @param {any} entry @returns {Value} */
function readNumber(field, entry) {
  if (entry === null || entry === undefined) {
    return fault(field.default === null ? "blank" : "missing", field.key);
  }
  if (!(entry >= field.low && entry <= field.high)) {
    return fault("range", field.key, field.way_out);
  }
  return entry * field.si[0] + field.si[1];
}

/** @param {any} field @param {any} entry @returns {string | Fault} */
function readChoice(field, entry) {
  const known = field.options.some((/** @type {any} */ option) => option.key === entry);
  return known ? entry : fault("choice", field.key, `${field.label}: pick one from the list.`);
}

/** @param {any} field @param {any} row */
function readPart(field, row) {
  /** @type {Object<string, Value>} */
  const symbols = {};
  /** @type {Object<string, string | Fault>} */
  const choices = {};
  for (const entry of field.fields) {
    if (entry.kind === "number") symbols[entry.key] = readNumber(entry, given(entry, row));
    else choices[entry.key] = readChoice(entry, given(entry, row));
  }
  return { symbols, choices };
}

/** @param {any} field @param {any} chosen @returns {string} */
function tag(field, chosen) {
  return field.options.find((/** @type {any} */ option) => option.key === chosen)?.tag ?? "";
}

/** @param {number} value @param {any} step @returns {Value} */
function finite(value, step) {
  return Number.isFinite(value) ? value : fault("undefined", step.as);
}

/** @param {Axis[]} axes @param {number[]} places @param {any} step @returns {Fault | undefined} */
function outside(axes, places, step) {
  for (let n = 0; n < axes.length; n += 1) {
    const { key, knots } = axes[n];
    const symbol = `${step.as}:${key}`;
    if (places[n] < knots[0]) return fault("below", symbol, step.below?.[key] ?? "");
    if (places[n] > knots[knots.length - 1]) {
      return fault("above", symbol, step.above?.[key] ?? "");
    }
  }
  return undefined;
}

/** @param {Axis} axis */
function width(axis) {
  return axis.kind === "cubic" ? 2 * axis.knots.length : axis.knots.length;
}

/** @param {Axis[]} axes @param {number} number */
function strideOf(axes, number) {
  let stride = 1;
  for (let n = number + 1; n < axes.length; n += 1) stride *= width(axes[n]);
  return stride;
}

/**
 * The last interval whose left knot is at or before a place.
 * @param {number[]} knots
 * @param {number} place
 */
function interval(knots, place) {
  let low = 0;
  let high = knots.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (knots[middle] <= place) low = middle;
    else high = middle;
  }
  return low;
}

/** @typedef {{cubic: boolean, t: number, step: number}} Fold  `t`: share of an interval `step` */

/**
 * Where a table's numbers around a place are, and what they are: a look-up is done with them before
 * the next begins, so that all can have the same room.
 */
let spots = new Int32Array(1024);
let values = new Float64Array(1024);

/**
 * Find a table's numbers around a place.
 * @param {Axis[]} axes @param {number[]} places one for each axis but the one that is left out
 * @param {number} [without] an axis that is left at its first entry
 * @returns {{count: number, folds: Fold[]}} how they are brought together: axis by axis, from the
 *   last to the first
 */
function gather(axes, places, without = -1) {
  /** @type {Fold[]} */
  const folds = [];
  let count = 1;
  let stride = 1;
  spots[0] = 0;
  // Each axis is put inside those before it, so that the last runs fastest.
  for (let n = 0; n < axes.length; n += 1) stride *= width(axes[n]);
  for (let n = 0, met = 0; n < axes.length; n += 1) {
    stride /= width(axes[n]);
    if (n === without) continue;
    const place = places[met];
    met += 1;
    const { kind, knots } = axes[n];
    if (kind === "list") {
      spread(count, Math.trunc(place) * stride, stride, 1);
      continue;
    }
    const left = interval(knots, place);
    const step = knots[left + 1] - knots[left];
    const t = (place - knots[left]) / step;
    const cubic = kind === "cubic";
    const parts = cubic ? 2 : 1;
    spread(count, parts * left * stride, stride, 2 * parts);
    count *= 2 * parts;
    folds.push({ cubic, t, step });
  }
  return { count, folds: folds.reverse() };
}

/**
 * Put several entries of another axis in the place of each number.
 * @param {number} count of the numbers @param {number} first @param {number} stride
 * @param {number} times entries
 */
function spread(count, first, stride, times) {
  if (count * times > spots.length) {
    const room = new Int32Array(2 * count * times);
    room.set(spots.subarray(0, count));
    spots = room;
    values = new Float64Array(room.length);
  }
  for (let n = count - 1; n >= 0; n -= 1) {
    const spot = spots[n] + first;
    for (let k = times - 1; k >= 0; k -= 1) spots[n * times + k] = spot + k * stride;
  }
}

/**
 * The table's value: axes contracted from the last to the first.
 * @param {ArrayLike<number>} numbers @param {{count: number, folds: Fold[]}} gathered
 * @param {number} [offset] to another entry of the axis that was left out
 * @returns {number}
 */
function contract(numbers, { count, folds }, offset = 0) {
  for (let n = 0; n < count; n += 1) values[n] = numbers[spots[n] + offset];
  let left = count;
  for (const { cubic, t, step } of folds) {
    left /= cubic ? 4 : 2;
    for (let n = 0; n < left; n += 1) {
      const at = cubic ? 4 * n : 2 * n;
      const a = values[at];
      const b = values[at + 1];
      values[n] = cubic ? hermite(t, step, a, b, values[at + 2], values[at + 3]) : a + (b - a) * t;
    }
  }
  return values[0];
}

/**
 * The cubic through two values and two slopes, at a share t of the interval.
 * @param {number} t @param {number} step
 * @param {number} p0 @param {number} s0 @param {number} p1 @param {number} s1
 */
function hermite(t, step, p0, s0, p1, s1) {
  const m0 = s0 * step;
  const m1 = s1 * step;
  const d = p1 - p0;
  const bend = 3 * d - 2 * m0 - m1;
  const twist = m0 + m1 - 2 * d;
  return p0 + t * (m0 + t * (bend + t * twist));
}

/**
 * Where along a monotone axis the table takes a value.
 * @param {Grid} grid @param {any} step @param {number[]} places @param {number} target
 * @returns {Value}
 */
function invert(grid, step, places, target) {
  const number = grid.axes.findIndex((axis) => axis.key === step.along);
  const axis = grid.axes[number];
  const parts = axis.kind === "cubic" ? 2 : 1;
  const gathered = gather(grid.axes, places, number);
  const stride = strideOf(grid.axes, number);
  /** @param {number} entry */
  const at = (entry) => contract(grid.numbers, gathered, entry * stride);
  let low = 0;
  let high = axis.knots.length - 1;
  const first = at(0);
  const last = at(high * parts);
  const rising = last > first;
  const symbol = `${step.as}:${step.along}`;
  if (rising ? target < first : target > first) return fault("below", symbol, step.below);
  if (rising ? target > last : target < last) return fault("above", symbol, step.above);
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    const value = at(middle * parts);
    if (rising ? value <= target : value >= target) low = middle;
    else high = middle;
  }
  const left = axis.knots[low];
  const size = axis.knots[low + 1] - left;
  const ends = Array.from({ length: 2 * parts }, (_, part) => at(low * parts + part));
  const t =
    parts === 1 ? (target - ends[0]) / (ends[1] - ends[0]) : halve(size, ends, rising, target);
  return finite(left + size * t, step);
}

/** @param {number} step @param {number[]} ends @param {boolean} rising @param {number} target */
function halve(step, ends, rising, target) {
  let low = 0;
  let high = 1;
  for (let n = 0; n < HALVINGS; n += 1) {
    const middle = (low + high) * 0.5;
    const value = hermite(middle, step, ends[0], ends[1], ends[2], ends[3]);
    if (rising ? value <= target : value >= target) low = middle;
    else high = middle;
  }
  return (low + high) * 0.5;
}
