/**
 * A log as a table of numbers: lines, cells, heads, units, the decimal mark. No DOM.
 *
 * @typedef {{delimiter: string, comma: boolean, heads: string[], units: string[],
 *   first: number}} Shape  `comma`: the decimal mark is a comma; `first`: the first line of numbers
 */

import { LogError } from "./decode.js";

/** Lines from which the shape is told. */
export const HEAD_LINES = 400;

/** A line longer than that is no line of a log. */
export const LONGEST_LINE = 100_000;

const MOST_COLUMNS = 500;
const DELIMITERS = [";", "\t", ",", "|"];

/** Lines of a text that comes in pieces; a line break inside quotes doesn't end one. */
export class Lines {
  constructor() {
    this.rest = "";
  }

  /**
   * The whole lines that there are now.
   * @param {string} piece @param {boolean} [isLast] @returns {string[]}
   */
  push(piece, isLast = false) {
    const text = this.rest + piece;
    const found = [];
    let start = 0;
    let from = 0;
    for (;;) {
      const end = lineEnd(text, from);
      // "\r" at the very end may be half of a "\r\n".
      if (end < 0 || (!isLast && end === text.length - 1 && text[end] === "\r")) break;
      const line = text.slice(start, end);
      const next = text[end] === "\r" && text[end + 1] === "\n" ? end + 2 : end + 1;
      from = next;
      if (isOpen(line) && line.length < 2000) continue;
      found.push(line);
      start = next;
    }
    this.rest = text.slice(start);
    if (this.rest.length > LONGEST_LINE)
      throw new LogError(
        `One line has over ${LONGEST_LINE.toLocaleString("en")} letters: this is no log. Export it as CSV in the logger's own program.`,
      );
    if (isLast && this.rest) {
      found.push(this.rest);
      this.rest = "";
    }
    return found;
  }
}

/** @param {string} text @param {number} from */
function lineEnd(text, from) {
  const feed = text.indexOf("\n", from);
  const back = text.indexOf("\r", from);
  if (feed < 0 || back < 0) return Math.max(feed, back);
  return Math.min(feed, back);
}

/** Whether a quote is open at a line's end. @param {string} line */
function isOpen(line) {
  if (!line.includes('"')) return false;
  let count = 0;
  for (const letter of line) if (letter === '"') count += 1;
  return count % 2 === 1;
}

/**
 * The cells of a line.
 * @param {string} line @param {string} delimiter @returns {string[]}
 */
export function cells(line, delimiter) {
  if (!line.includes('"')) return line.split(delimiter);
  const found = [];
  let cell = "";
  let quoted = false;
  for (let n = 0; n < line.length; n += 1) {
    const letter = line[n];
    if (quoted && letter === '"' && line[n + 1] === '"') {
      cell += '"';
      n += 1;
    } else if (letter === '"') quoted = !quoted;
    else if (letter === delimiter && !quoted) {
      found.push(cell);
      cell = "";
    } else cell += letter;
  }
  found.push(cell);
  return found;
}

const NUMBER = /^[-+−]?(\d+\.?\d*|\.\d+)(e[-+]?\d+)?/i;
const CLOCK = /^(?:\d{4}-\d\d-\d\d[T ])?(\d+):(\d\d)(?::(\d\d(?:\.\d+)?))?$/;

/**
 * A cell's number; NaN if it is none. A clock is read as seconds.
 * @param {string} cell @param {boolean} comma
 */
export function number(cell, comma) {
  let text = cell.trim();
  if (!text || text.length > 40) return NaN;
  if (comma) text = text.replace(/\.(?=\d{3}(\D|$))/g, "").replace(",", ".");
  const plain = Number(text);
  if (!Number.isNaN(plain)) return Number.isFinite(plain) ? plain : NaN;
  const clock = CLOCK.exec(text);
  if (clock) {
    const [, a, b, c] = clock;
    return c === undefined
      ? 60 * Number(a) + Number(b)
      : 3600 * Number(a) + 60 * Number(b) + Number(c);
  }
  const start = NUMBER.exec(text.replace(/(\d),(?=\d{3}(\D|$))/g, "$1").replace("−", "-"));
  // A unit may stand behind the number, but no second number: that is a date.
  return start && !/\d/.test(text.replace(/,/g, "").slice(start[0].length))
    ? Number(start[0])
    : NaN;
}

/** @param {string} line */
function isComment(line) {
  return /^\s*(#|\/\/|%|!)/.test(line) || !line.trim();
}

/**
 * The shape of a log, from its first lines.
 * @param {string[]} lines
 * @returns {Shape}
 * @throws {LogError} there are no columns of numbers
 */
export function shapeOf(lines) {
  const told = lines.map((line, at) => ({ line, at })).filter(({ line }) => !isComment(line));
  const tail = told.slice(Math.floor(told.length / 2));
  const best = DELIMITERS.flatMap((delimiter) =>
    [false, true].map((comma) => judge(tail, delimiter, comma)),
  ).reduce((a, b) => (b.score > a.score * 1.001 ? b : a));
  if (best.score < 0.3)
    throw new LogError(
      "No columns of numbers were found in this file. Export the log as CSV, with a comma, a semicolon or a tab between the columns.",
    );
  if (best.columns > MOST_COLUMNS)
    throw new LogError(
      `This file has ${best.columns} columns; up to ${MOST_COLUMNS} are read. Export fewer channels.`,
    );
  const { delimiter, comma, columns } = best;
  const isRow = (/** @type {string} */ line) => {
    const row = cells(line, delimiter);
    return row.length >= columns - 1 && share(row, comma) >= 0.5;
  };
  const start = told.findIndex(
    ({ line }, n) => isRow(line) && told.slice(n, n + 3).every((each) => isRow(each.line)),
  );
  const first = told[Math.max(start, 0)].at;
  const above = told
    .slice(0, Math.max(start, 0))
    .map(({ line }) => cells(line, delimiter).map((cell) => cell.trim()))
    .filter((row) => row.length >= Math.max(2, columns - 1))
    .slice(-3);
  // Some loggers comment their heads out.
  if (!above.length && first > 0) {
    const last =
      lines
        .slice(0, first)
        .filter((line) => line.trim())
        .at(-1) ?? "";
    const row = cells(last.replace(/^\s*(#|\/\/|%|!)\s*/, ""), delimiter);
    if (row.length >= Math.max(2, columns - 1)) above.push(row.map((cell) => cell.trim()));
  }
  const unitRow = above.findIndex((row) => unitShare(row) >= 0.5);
  const names = above.filter((_, n) => n !== unitRow).at(-1) ?? [];
  const heads = Array.from({ length: columns }, (_, n) => names[n] || `Column ${n + 1}`);
  const units = heads.map(
    (head, n) => above[unitRow]?.[n] || /[[(]([^\])]*)[\])]\s*$/.exec(head)?.[1] || "",
  );
  return { delimiter, comma, heads, units, first };
}

/**
 * How well a delimiter and a decimal mark read some lines.
 * @param {{line: string}[]} lines @param {string} delimiter @param {boolean} comma
 */
function judge(lines, delimiter, comma) {
  const rows = lines.map(({ line }) => cells(line, delimiter));
  const counts = new Map();
  for (const { length } of rows) counts.set(length, (counts.get(length) ?? 0) + 1);
  const [columns, often] = [...counts].reduce((a, b) => (b[1] > a[1] ? b : a), [0, 0]);
  if (columns < 2 || (comma && delimiter === "," && !lines.some(({ line }) => line.includes('"'))))
    return { delimiter, comma, columns, score: 0 };
  const alike = rows.filter((row) => row.length === columns);
  const filled = alike.reduce((sum, row) => sum + share(row, comma), 0) / alike.length;
  return { delimiter, comma, columns, score: (often / rows.length) * filled };
}

/**
 * Share of numbers among the cells that aren't empty.
 * @param {string[]} row @param {boolean} comma
 */
function share(row, comma) {
  const filled = row.filter((cell) => cell.trim());
  if (!filled.length) return 0;
  return filled.filter((cell) => isNumber(cell.trim(), comma)).length / filled.length;
}

/**
 * Whether a cell is a number by its decimal mark; stricter than reading it.
 * @param {string} cell @param {boolean} comma
 */
function isNumber(cell, comma) {
  if (CLOCK.test(cell)) return true;
  if (comma) return /^[-+]?(\d+|\d{1,3}(\.\d{3})+)(,\d+)?(e[-+]?\d+)?$/i.test(cell);
  const plain = /^[-+]?(\d+|\d{1,3}(,\d{3})+)?(\.\d*)?(e[-+]?\d+)?\s*[°a-z%/]*$/i;
  return plain.test(cell) && /\d/.test(cell);
}

const UNITS = new Set(
  (
    "rpm r/min 1/min u/min min-1 kpa psi psig psia bar mbar hpa pa inhg inh2o mmhg c f k °c °f " +
    "degc degf % pct percent s sec ms us h v mv a hz km/h mph g/s kg/h λ lambda afr - — kpaa kpag"
  ).split(" "),
);

/** Whether a cell names a unit, or says that there is none. @param {string} cell */
function isUnit(cell) {
  const bare = cell.replace(/^[[(]|[\])]$/g, "");
  return UNITS.has(bare.replace(/\s/g, "").toLowerCase()) || bare === "";
}

/** Share of cells that are a unit, where enough are one. @param {string[]} row */
function unitShare(row) {
  const named = row.filter((cell) => cell && isUnit(cell));
  if (named.length < Math.min(2, row.length - 1)) return 0;
  return row.filter(isUnit).length / row.length;
}

/** Gathers the rows of a log as columns of numbers. */
export class Columns {
  /** @param {Shape} shape */
  constructor(shape) {
    this.shape = shape;
    /** @type {number[][]} */
    this.columns = shape.heads.map(() => []);
    this.count = 0;
    this.thrown = 0;
  }

  /** @param {string} line */
  add(line) {
    if (isComment(line)) return;
    const row = cells(line, this.shape.delimiter);
    const { columns, shape } = this;
    let good = 0;
    for (let n = 0; n < columns.length; n += 1) {
      const value = n < row.length ? number(row[n], shape.comma) : NaN;
      columns[n][this.count] = value;
      if (value === value) good += 1;
    }
    if (good === 0) this.thrown += 1;
    else this.count += 1;
  }

  /** Every column in its final length. */
  done() {
    for (const column of this.columns) column.length = this.count;
    return this;
  }
}
