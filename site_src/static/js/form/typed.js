/**
 * Numbers as people type them: decimal marks, thousands, fractions of an inch, units after the
 * number. No DOM.
 *
 * @typedef {import("../model/quantities.js").Unit} Unit
 * @typedef {{value: number, unit: Unit}} Typed  what a text was understood to mean
 * @typedef {{problem: "empty" | "unclear" | "unit" | "two ways", detail: string}} Misread
 */

/** No number of ours needs more characters than this, with its unit. */
export const LONGEST = 60;

/** Other ways to type a unit, by its key. */
const SPELLINGS = /** @type {Object<string, string[]>} */ ({
  in: ['"', "''", "inch", "inches", "″"],
  ft: ["'", "foot", "feet", "′"],
  mm: ["millimetre", "millimeter"],
  um: ["um", "micron", "μm"],
  thou: ["mil", "thousandth"],
  L: ["litre", "liter", "ltr"],
  ci: ["cid", "ci", "cuin", "in3"],
  cc: ["cc", "ccm", "cm3"],
  C: ["c", "celsius", "degc"],
  F: ["f", "fahrenheit", "degf"],
  dC: ["c", "k"],
  dF: ["f"],
  pct: ["percent", "pc"],
  Nm: ["nm", "newtonmetre"],
  lbft: ["lbft", "ftlb", "ftlbf", "lbfft", "ftlbs", "lbsft"],
  lbin: ["lbin", "inlb", "inlbf", "lbfin", "inlbs", "lbsin"],
  rpm: ["rpm", "/min", "1/min"],
  mps: ["mps", "m/s"],
  kmh: ["kmh", "kph"],
  hp: ["hp", "bhp"],
  deg: ["deg", "degree", "degrees"],
  inHg: ["inhg", '"hg'],
  inH2O: ["inh2o", "inwc", '"h2o'],
  psi: ["psi", "psig", "lb", "lbs"],
  psia: ["psia"],
  ms: ["ms"],
  s: ["s", "sec"],
});

/**
 * Read a typed text. Both decimal marks, thousands, fractions of an inch and a unit after the
 * number are understood; what could mean two things is not guessed.
 * @param {string} text
 * @param {Unit[]} units those of the field
 * @param {Unit} unit the picked one
 * @param {(value: number, unit: Unit) => boolean} fits whether the field takes a value
 * @returns {Typed | Misread}
 */
export function parse(text, units, unit, fits) {
  if (text.length > LONGEST) return { problem: "unclear", detail: shortened(text) };
  const tidy = tidied(text);
  if (!tidy) return { problem: "empty", detail: "" };
  const { readings, suffix } = numbersIn(tidy);
  if (!readings.length) return { problem: "unclear", detail: text.trim() };
  const picked = suffix ? unitNamed(suffix, units) : unit;
  if (!picked) return { problem: "unit", detail: suffix };
  if (readings.length === 1) return { value: readings[0], unit: picked };
  const usable = readings.filter((value) => fits(value, picked));
  if (usable.length === 1) return { value: usable[0], unit: picked };
  return { problem: "two ways", detail: readings.map((value) => String(value)).join(" or ") };
}

/** A text as far as words can quote it. @param {string} text */
export function shortened(text) {
  const quoted = text.trim();
  return quoted.length > LONGEST ? `${quoted.slice(0, LONGEST / 2)}…` : quoted;
}

/** Every kind of minus and space as the plain one. @param {string} text */
function tidied(text) {
  return text
    .trim()
    .replace(/[\u2212\u2013]/g, "-")
    .replace(/[\u00a0\u2007\u2009\u202f]/g, " ");
}

/** @param {Typed | Misread} reading @returns {reading is Misread} */
export function misread(reading) {
  return "problem" in reading;
}

/** A text without the unit that was typed after its number. @param {string} text */
export function withoutUnit(text) {
  if (text.length > LONGEST) return text;
  const { suffix } = numbersIn(tidied(text));
  return suffix ? text.trim().slice(0, -suffix.length).trim() : text.trim();
}

/**
 * A unit by what people type for it.
 * @param {string} text
 * @param {Unit[]} units
 * @returns {Unit | undefined}
 */
export function unitNamed(text, units) {
  const exact = units.find((unit) => unit.key === text || unit.label === text);
  if (exact) return exact;
  const wanted = bare(text);
  return units.find((unit) =>
    [unit.key, unit.label, ...(SPELLINGS[unit.key] ?? [])].some((name) => bare(name) === wanted),
  );
}

/** @param {string} text */
function bare(text) {
  return text
    .toLowerCase()
    .replace(/²/g, "2")
    .replace(/³/g, "3")
    .replace(/₂/g, "2")
    .replace(/[\s·.\-°]/g, "");
}

const FRACTIONS = /** @type {Object<string, number>} */ ({
  "½": 1 / 2,
  "¼": 1 / 4,
  "¾": 3 / 4,
  "⅛": 1 / 8,
  "⅜": 3 / 8,
  "⅝": 5 / 8,
  "⅞": 7 / 8,
});

const FRACTION = /^(?:(\d+)[ -]\s*)?(\d+)\s*[/⁄]\s*(\d+)(.*)$/u;
const MARK = /^(\d*)\s*([½¼¾⅛⅜⅝⅞])(.*)$/u;
const DIGITS = /^([.,]?\d[\d.,]*(?:[ ']\d{3}(?!\d)[\d.,]*)*)(.*)$/;

/**
 * Every number that a text can begin with (none, one or two), and what follows it.
 * @param {string} text @returns {{readings: number[], suffix: string}}
 */
function numbersIn(text) {
  const sign = text.startsWith("-") ? -1 : 1;
  const body = text.replace(/^[-+]\s*/, "");
  const [readings, suffix] = fraction(body) ?? marked(body) ?? digits(body);
  return { readings: readings.map((value) => sign * value), suffix: suffix.trim() };
}

/** @param {string} body @returns {[number[], string] | null} */
function fraction(body) {
  const found = FRACTION.exec(body);
  if (!found) return null;
  const value = Number(found[1] ?? 0) + Number(found[2]) / Number(found[3]);
  return [Number.isFinite(value) ? [value] : [], found[4]];
}

/** @param {string} body @returns {[number[], string] | null} */
function marked(body) {
  const found = MARK.exec(body);
  return found && [[Number(found[1]) + FRACTIONS[found[2]]], found[3]];
}

/** @param {string} body @returns {[number[], string]} */
function digits(body) {
  const found = DIGITS.exec(body);
  return found ? [decimals(found[1]), found[2]] : [[], body];
}

/** @param {string} body digits with decimal marks and thousands @returns {number[]} */
function decimals(body) {
  const text = body.replace(/[ ']/g, "");
  const dots = text.split(".").length - 1;
  const commas = text.split(",").length - 1;
  if (dots && commas) {
    const mark = text.lastIndexOf(".") > text.lastIndexOf(",") ? "." : ",";
    return thousands(text, mark === "." ? "," : ".", mark);
  }
  if (dots + commas > 1) return thousands(text, dots ? "." : ",", "");
  if (commas && /^[1-9]\d{0,2},\d{3}$/.test(text)) {
    return [Number(text.replace(",", ".")), Number(text.replace(",", ""))];
  }
  const plainText = text.replace(",", ".");
  return /^(\d+\.?\d*|\.\d+)$/.test(plainText) ? [Number(plainText)] : [];
}

/**
 * @param {string} text
 * @param {string} separator between thousands
 * @param {string} mark decimal mark
 */
function thousands(text, separator, mark) {
  const [whole, rest = "", ...more] = mark ? text.split(mark) : [text];
  const parts = whole.split(separator);
  const good =
    !more.length &&
    /^\d{1,3}$/.test(parts[0]) &&
    parts.slice(1).every((part) => /^\d{3}$/.test(part)) &&
    /^\d*$/.test(rest);
  return good ? [Number(`${parts.join("")}.${rest || 0}`)] : [];
}
