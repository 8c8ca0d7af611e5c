/**
 * What each kind of step does. No DOM, no engineering formula.
 *
 * Only + − × ÷ √ and comparisons, in the order that site_src/tables/recipe.py states, so that the
 * bits are the same as Python's.
 *
 * @typedef {import("./program.js").Scope} Scope
 * @typedef {import("./run.js").Run} Run
 * @typedef {import("./values.js").Source} Source
 * @typedef {(run: Run) => void} Act  what a step does
 */

import { contract, gather, invert, outside } from "./grid.js";
import { fault, isFault } from "./values.js";

/** @param {any} step @param {Scope} scope @returns {Act} */
export function actOf(step, scope) {
  switch (step.op) {
    case "product":
      return product(step, scope);
    case "sum":
      return sum(step, scope);
    case "look":
      return look(step, scope);
    case "inverse":
      return inverse(step, scope);
    case "least":
      return extreme(step, scope, -1);
    case "greatest":
      return extreme(step, scope, 1);
    case "pick":
      return pick(step, scope);
    case "within":
      return within(step, scope);
    case "choose":
      return choose(step, scope);
    case "if_entered":
      return ifEntered(step, scope);
    case "rows":
      return rows(step, scope);
    case "over":
      return over(step, scope);
    default:
      throw new Error(`unknown step ${step.op}`);
  }
}

/** @param {any} step @param {Scope} scope @returns {Act} */
function product({ times, of, as }, scope) {
  const { places: bases, numbers: powers } = apart(of, scope);
  const to = scope.made(as);
  return (run) => {
    const { values } = run;
    let result = times;
    for (let n = 0; n < bases.length; n += 1) {
      const base = values[bases[n]];
      if (Number.isNaN(base)) return run.pass(bases[n], to);
      const power = powers[n];
      const size = Math.abs(power);
      const whole = Math.floor(size);
      for (let k = 0; k < whole; k += 1) result = power > 0 ? result * base : result / base;
      if (size !== whole) {
        const root = Math.sqrt(base);
        result = power > 0 ? result * root : result / root;
      }
    }
    return run.put(to, result, as);
  };
}

/** @param {any} step @param {Scope} scope @returns {Act} */
function sum({ plus, of, as }, scope) {
  const { places: terms, numbers: coefficients } = apart(of, scope);
  const to = scope.made(as);
  return (run) => {
    const { values } = run;
    let result = plus;
    for (let n = 0; n < terms.length; n += 1) {
      const term = values[terms[n]];
      if (Number.isNaN(term)) return run.pass(terms[n], to);
      result = result + coefficients[n] * term;
    }
    return run.put(to, result, as);
  };
}

/** @param {any} step @param {Scope} scope @returns {Act} */
function look(step, scope) {
  const at = placesOf(step.at, scope);
  const to = scope.made(step.as);
  return (run) => {
    const grid = run.tables[step.table];
    const lost = run.gone(at);
    if (lost >= 0) return run.pass(lost, to);
    for (let n = 0; n < at.length; n += 1) {
      const out = outside(grid.axes[n], run.values[at[n]], step);
      if (out) return run.fail(to, out);
    }
    gather(grid, run.values, at);
    return run.put(to, contract(grid.numbers), step.as);
  };
}

/** @param {any} step @param {Scope} scope @returns {Act} */
function inverse(step, scope) {
  const at = placesOf(step.at, scope);
  const sought = scope.place(step.value);
  const to = scope.made(step.as);
  const sides = { as: step.as, ...step.at_sides };
  return (run) => {
    const grid = run.tables[step.table];
    const lost = run.gone(at);
    if (lost >= 0) return run.pass(lost, to);
    const along = grid.axes.findIndex((axis) => axis.key === step.along);
    for (let n = 0; n < at.length; n += 1) {
      const out = outside(grid.axes[n < along ? n : n + 1], run.values[at[n]], sides);
      if (out) return run.fail(to, out);
    }
    const target = run.values[sought];
    if (Number.isNaN(target)) return run.pass(sought, to);
    gather(grid, run.values, at, along);
    const found = invert(grid, along, step, target);
    return isFault(found) ? run.fail(to, found) : run.put(to, found, step.as);
  };
}

/** @param {any} step @param {Scope} scope @param {1 | -1} sign @returns {Act} */
function extreme({ of, as }, scope, sign) {
  const from = placesOf(of, scope);
  const to = scope.made(as);
  return (run) => {
    const lost = run.gone(from);
    if (lost >= 0) return run.pass(lost, to);
    let best = run.values[from[0]];
    for (let n = 1; n < from.length; n += 1) {
      const value = run.values[from[n]];
      if (sign * value > sign * best) best = value;
    }
    return run.put(to, best, as);
  };
}

/** @param {any} step @param {Scope} scope @returns {Act} */
function pick({ by, from, as }, scope) {
  const choice = scope.choice(by);
  /** @type {Map<string | undefined, number>} */
  const options = new Map();
  for (const [option, source] of from) options.set(option, scope.place(source));
  const to = scope.made(as);
  return (run) => {
    const chosen = run.choices[choice];
    if (isFault(chosen)) return run.fail(to, chosen);
    const found = options.get(chosen);
    return found === undefined ? run.fail(to, fault("choice", by)) : run.pass(found, to);
  };
}

/** @param {any} step @param {Scope} scope @returns {Act} */
function within({ of, gives, low, high, below, above, as }, scope) {
  const [judged, given] = placesOf([of, gives], scope);
  const to = scope.made(as);
  return (run) => {
    const value = run.values[judged];
    if (Number.isNaN(run.values[given])) return run.pass(given, to);
    if (Number.isNaN(value)) return run.pass(judged, to);
    if (low !== null && value < low) return run.fail(to, fault("below", as, below));
    if (high !== null && value > high) return run.fail(to, fault("above", as, above));
    return run.pass(given, to);
  };
}

/** @param {any} step @param {Scope} scope @returns {Act} */
function choose({ of, less, otherwise, as }, scope) {
  const ends = placesOf(of, scope);
  const [ifLess, ifNot] = placesOf([less, otherwise], scope);
  const to = scope.made(as);
  return (run) => {
    const lost = run.gone(ends);
    if (lost >= 0) return run.pass(lost, to);
    return run.pass(run.values[ends[0]] < run.values[ends[1]] ? ifLess : ifNot, to);
  };
}

/** @param {any} step @param {Scope} scope @returns {Act} */
function ifEntered({ by, then, otherwise, as }, scope) {
  const [entry, ifThere, ifBlank] = placesOf([by, then, otherwise], scope);
  const to = scope.made(as);
  return (run) => {
    if (!Number.isNaN(run.values[entry])) return run.pass(ifThere, to);
    return run.pass(run.faults[entry]?.kind === "blank" ? ifBlank : entry, to);
  };
}

/** @param {any} step @param {Scope} scope @returns {Act} */
function rows({ parts, steps, as }, scope) {
  const list = scope.list(parts);
  const { acts, read, made } = list.lasting(steps);
  const to = scope.made(as);
  return (run) => {
    const held = run.parts(list);
    for (const part of held) {
      run.take(list, part, read);
      for (const each of acts) each(run);
      run.keep(list, part, made);
    }
    run.values[to] = held.length;
  };
}

/** @param {any} step @param {Scope} scope @returns {Act} */
function over({ parts, steps, of, take, as }, scope) {
  const list = scope.list(parts);
  const { acts, read, term } = list.passing(steps, of);
  const to = scope.made(as);
  return (run) => {
    let total = 0;
    for (const part of run.parts(list)) {
      run.take(list, part, read);
      for (const each of acts) each(run);
      const found = run.values[term];
      if (Number.isNaN(found)) return run.pass(term, to);
      if (take === "sum") total = total + found;
      else if (total < found) total = found;
    }
    return run.put(to, total, as);
  };
}

/** @param {Source[]} sources @param {Scope} scope */
function placesOf(sources, scope) {
  /** @type {number[]} */
  const places = new Array(sources.length);
  for (let n = 0; n < sources.length; n += 1) places[n] = scope.place(sources[n]);
  return places;
}

/**
 * Where the symbols of a product or a sum are, and what goes with each. A page waits for this
 * before its first answer, and a long recipe has thousands of steps.
 * @param {Array<[string, number]>} pairs @param {Scope} scope
 */
function apart(pairs, scope) {
  /** @type {number[]} */
  const places = new Array(pairs.length);
  /** @type {number[]} */
  const numbers = new Array(pairs.length);
  for (let n = 0; n < pairs.length; n += 1) {
    places[n] = scope.place(pairs[n][0]);
    [, numbers[n]] = pairs[n];
  }
  return { places, numbers };
}
