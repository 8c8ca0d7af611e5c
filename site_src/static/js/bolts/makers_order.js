/**
 * The order of the maker's sheet: tapped, or typed in the sheet's own numbers. No DOM.
 *
 * `along` are the bolts as one reads them off the drawing: row by row from the top left, around a
 * circle clockwise from the top, by place line by line.
 *
 * @typedef {import("./order.js").Place} Place
 * @typedef {{by: string, numbers: string, order: string, taps: number[]}} Sheet  by: "tap", "type",
 *   "worked", or "" as long as nothing is picked; taps: bolts, in the order of the taps
 * @typedef {{names: string[], order: number[], problem: string, missing: string}} SheetOrder
 *   names by bolt; both lists are empty as long as they are not known
 */

import { turned } from "./order.js";

const NAME = /^[\p{L}\p{N}]{1,4}$/u;

/**
 * Bolts as one reads them off the drawing.
 * @param {string} kind of pattern
 * @param {Place[]} places
 * @param {number} quarters by which the drawing is turned
 */
export function readingOrder(kind, places, quarters) {
  const bolts = places.map((_, bolt) => bolt);
  if (kind === "places") return bolts;
  if (kind === "grid") {
    const seen = places.map((place) => turned(place, quarters));
    return bolts.sort((a, b) => seen[b][1] - seen[a][1] || seen[a][0] - seen[b][0]);
  }
  // A circle's bolts lie clockwise from the top: begin with the one that is nearest to it now.
  const around = 4 * places.length;
  const past = bolts.map((bolt) => (4 * bolt + quarters * places.length) % around);
  const off = past.map((each) => Math.min(each, around - each));
  const top = bolts.reduce(
    (best, bolt) =>
      off[bolt] < off[best] || (off[bolt] === off[best] && past[bolt] < past[best]) ? bolt : best,
    0,
  );
  return [...bolts.slice(top), ...bolts.slice(0, top)];
}

/** @param {string} text */
function words(text) {
  return text.split(/[\s,;]+/).filter(Boolean);
}

/**
 * Names and order by the sheet. Without an order of the maker's the order is left empty.
 * @param {Sheet} sheet
 * @param {number[]} along
 * @returns {SheetOrder}
 */
export function sheetOrder(sheet, along) {
  /** @type {SheetOrder} */
  const found = { names: [], order: [], problem: "", missing: "" };
  if (!along.length) return found;
  const numbers = words(sheet.numbers);
  found.problem = numbersProblem(numbers, along.length);
  if (found.problem) return found;
  if (numbers.length) {
    along.forEach((bolt, n) => {
      found.names[bolt] = numbers[n];
    });
  }
  if (sheet.by === "") found.missing = "order";
  if (sheet.by === "tap") takeTaps(found, sheet.taps, along.length);
  if (sheet.by === "type") takeTyped(found, words(sheet.order));
  return found;
}

/** @param {string[]} numbers @param {number} count */
function numbersProblem(numbers, count) {
  if (!numbers.length) return "";
  const odd = numbers.find((each) => !NAME.test(each));
  if (odd)
    return `Sheet's numbers: “${odd}” is none. Write up to four letters or digits for each bolt.`;
  const twice = numbers.find((each, n) => numbers.indexOf(each) < n);
  if (twice) return `Sheet's numbers: ${twice} is there twice. Each bolt has its own.`;
  return numbers.length === count
    ? ""
    : `Sheet's numbers: ${numbers.length} for ${count} bolts. Type one for each bolt.`;
}

/** @param {SheetOrder} found @param {number[]} taps @param {number} count */
function takeTaps(found, taps, count) {
  if (taps.length < count) {
    found.missing = `order, ${count - taps.length} of ${count} bolts to tap`;
    return;
  }
  found.order = [...taps];
  if (!found.names.length) {
    taps.forEach((bolt, turn) => {
      found.names[bolt] = String(turn + 1);
    });
  }
}

/** @param {SheetOrder} found @param {string[]} typed */
function takeTyped(found, typed) {
  const { names } = found;
  if (!names.length) {
    found.missing = "sheet's numbers";
    return;
  }
  const wanted = typed.length ? typed : inNumbers(names);
  if (!wanted) {
    found.problem = "The sheet's numbers are no plain numbers: type the order in them.";
    return;
  }
  found.problem = orderProblem(wanted, names);
  if (!found.problem) found.order = wanted.map((each) => names.indexOf(each));
}

/** Names from the least number up; null where some are no numbers. @param {string[]} names */
function inNumbers(names) {
  return names.every((each) => /^\d+$/.test(each))
    ? [...names].sort((a, b) => Number(a) - Number(b))
    : null;
}

/** @param {string[]} wanted @param {string[]} names */
function orderProblem(wanted, names) {
  const unknown = wanted.find((each) => !names.includes(each));
  if (unknown) return `Order: “${unknown}” is none of the sheet's numbers.`;
  const twice = wanted.find((each, n) => wanted.indexOf(each) < n);
  if (twice)
    return `Order: ${twice} is there twice. Name each bolt once: a second round is a stage of its own.`;
  const left = names.filter((each) => !wanted.includes(each));
  return left.length ? `Order: ${left.join(", ")} left out.` : "";
}

/**
 * Numbers typed row by row, when the drawing is turned: each stays with its bolt.
 * @param {string} text
 * @param {number[]} before
 * @param {number[]} after
 */
export function renumbered(text, before, after) {
  const numbers = words(text);
  if (numbers.length !== before.length) return text;
  return after.map((bolt) => numbers[before.indexOf(bolt)]).join(" ");
}

/** For sorting names: numbers by their size. @param {string} a @param {string} b */
export function byName(a, b) {
  return Number(a) - Number(b) || a.localeCompare(b, "en", { numeric: true });
}
