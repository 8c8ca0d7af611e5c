/**
 * Numbers as people type and read them: parsing, units, rounding, steps. No DOM.
 *
 * @typedef {{key: string, label: string, factor: number, offset: number}} Unit  SI = v·factor + offset
 * @typedef {{value: number, unit: Unit}} Typed  what a text was understood to mean
 * @typedef {{problem: "empty" | "unclear" | "unit" | "two ways", detail: string}} Misread
 */

const MINUS = "−";
const SAME = 1e-9;

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
 * The largest whole power of ten not above a positive value, by steps of ten.
 * @param {number} value
 */
export function powerOfTen(value) {
  let exponent = 0;
  let power = 1;
  while (value >= 10 * power * (1 - 1e-12)) {
    exponent += 1;
    power *= 10;
  }
  while (value < power * (1 - 1e-12)) {
    exponent -= 1;
    power = 1 / 10 ** -exponent;
  }
  return { exponent, power };
}

/**
 * Commas between thousands and a real minus sign.
 * @param {string} text digits, as toFixed gives them
 */
export function grouped(text) {
  const [whole, rest] = text.replace("-", "").split(".");
  const commas = whole.replace(/\B(?=(\d{3})+$)/g, ",");
  return (text.startsWith("-") ? MINUS : "") + commas + (rest === undefined ? "" : `.${rest}`);
}

/** toFixed without a minus before nought. @param {number} value @param {number} decimals */
export function fixed(value, decimals) {
  const text = value.toFixed(decimals);
  return Number(text) === 0 ? text.replace("-", "") : text;
}

/** @param {number} value @param {number} decimals */
export function shown(value, decimals) {
  return grouped(fixed(value, decimals));
}

/** Decimals that are one digit finer than a step. @param {number} step */
export function decimalsFor(step) {
  return Math.max(0, 1 - powerOfTen(step).exponent);
}

/** @param {string} text */
export function trimmed(text) {
  return text.includes(".") ? text.replace(/\.?0+$/, "") : text;
}

/**
 * An entry's value, one digit finer than its step, without idle zeros.
 * @param {number} value
 * @param {number} step
 */
export function plain(value, step) {
  return trimmed(fixed(value, decimalsFor(step)));
}

/** A few significant digits, no exponent. @param {number} value @param {number} [digits] */
export function fine(value, digits = 2) {
  if (value === 0) return "0";
  const { exponent } = powerOfTen(Math.abs(value));
  return grouped(trimmed(fixed(value, Math.max(0, digits - 1 - exponent))));
}

/** @param {string} text @param {string} label */
export function withUnit(text, label) {
  return label ? `${text} ${label}` : text;
}

/**
 * From one unit to another; a value in the same unit stays as it is.
 * @param {number} value
 * @param {Unit} from
 * @param {Unit} to
 */
export function convert(value, from, to) {
  if (from.key === to.key) return value;
  return (value * from.factor + from.offset - to.offset) / to.factor;
}

/** From SI. @param {number} si @param {Unit} unit */
export function fromSi(si, unit) {
  return (si - unit.offset) / unit.factor;
}

/**
 * A field's step, in another of its units.
 * @param {number} step
 * @param {Unit} from
 * @param {Unit} to
 */
export function stepIn(step, from, to) {
  return from.key === to.key ? step : (step * from.factor) / to.factor;
}

/**
 * Read a typed text. Both decimal marks, thousands, fractions of an inch and a unit behind the
 * number are understood; what could mean two things is not guessed at.
 * @param {string} text
 * @param {Unit[]} units those of the field
 * @param {Unit} unit the picked one
 * @param {(value: number, unit: Unit) => boolean} fits whether the field takes a value
 * @returns {Typed | Misread}
 */
export function parse(text, units, unit, fits) {
  const tidy = tidied(text);
  if (!tidy) return { problem: "empty", detail: "" };
  const { readings, suffix } = figures(tidy);
  if (!readings.length) return { problem: "unclear", detail: text.trim() };
  const picked = suffix ? unitNamed(suffix, units) : unit;
  if (!picked) return { problem: "unit", detail: suffix };
  if (readings.length === 1) return { value: readings[0], unit: picked };
  const usable = readings.filter((value) => fits(value, picked));
  if (usable.length === 1) return { value: usable[0], unit: picked };
  return { problem: "two ways", detail: readings.map((value) => String(value)).join(" or ") };
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

/** A text without the unit typed behind its number. @param {string} text */
export function withoutUnit(text) {
  const { suffix } = figures(tidied(text));
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
 * Every number that a text can begin with (none, one or two), and what stands behind it.
 * @param {string} text @returns {{readings: number[], suffix: string}}
 */
function figures(text) {
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

/**
 * A number field's range in a unit, rounded inwards so that the stated ends are themselves taken.
 * @param {{low: number, high: number, step: number}} field
 * @param {Unit} declared @param {Unit} unit
 * @returns {{low: string, high: string}} as typed, without commas
 */
export function rangeIn(field, declared, unit) {
  const finest = decimalsFor(stepIn(field.step, declared, unit));
  return {
    low: inwards(field, declared, unit, finest, 1),
    high: inwards(field, declared, unit, finest, -1),
  };
}

/**
 * @param {{low: number, high: number}} field
 * @param {Unit} declared
 * @param {Unit} unit
 * @param {number} finest
 * @param {1 | -1} way
 */
function inwards(field, declared, unit, finest, way) {
  const end = way > 0 ? field.low : field.high;
  const exact = convert(end, declared, unit);
  for (let decimals = finest; decimals < 12; decimals += 1) {
    const grain = 10 ** -decimals;
    for (const nudge of [0, way]) {
      const text = fixed(Number(fixed(exact, decimals)) + nudge * grain, decimals);
      if (fits(field, declared, unit, Number(text))) return trimmed(text);
    }
  }
  return String(exact);
}

/**
 * Whether a field takes a value given in a unit.
 * @param {{low: number, high: number}} field
 * @param {Unit} declared
 * @param {Unit} unit
 * @param {number} value
 */
export function fits(field, declared, unit, value) {
  const here = convert(value, unit, declared);
  return here >= field.low && here <= field.high;
}

/**
 * The text of a value in another unit; one that the field takes stays one that it takes.
 * @param {{low: number, high: number, step: number}} field
 * @param {Unit} declared @param {Typed} typed @param {Unit} to
 */
export function textIn(field, declared, typed, to) {
  const text = plain(convert(typed.value, typed.unit, to), stepIn(field.step, declared, to));
  if (!fits(field, declared, typed.unit, typed.value) || fits(field, declared, to, Number(text)))
    return text;
  const { low, high } = rangeIn(field, declared, to);
  return Number(text) < Number(low) ? low : high;
}

/**
 * The next value up or down, as text: along the values that exist, else to the next even step.
 * @param {{low: number, high: number, step: number, steps: number[]}} field
 * @param {Unit} declared @param {Unit} unit @param {number} value in that unit @param {1 | -1} way
 * @returns {string | null} null at the end
 */
export function nextStep(field, declared, unit, value, way) {
  return field.steps.length
    ? nextListed(field, declared, unit, value, way)
    : nextEven(field, declared, unit, value, way);
}

/** @type {typeof nextStep} */
function nextListed(field, declared, unit, value, way) {
  const texts = [...field.steps]
    .sort((a, b) => way * (a - b))
    .map((listed) => textIn(field, declared, { value: listed, unit: declared }, unit));
  return texts.find((text) => way * (Number(text) - value) > SAME * Math.abs(value)) ?? null;
}

/** @type {typeof nextStep} */
function nextEven(field, declared, unit, value, way) {
  const step = evenStep(stepIn(field.step, declared, unit), unit.key === declared.key);
  const count = way > 0 ? Math.floor(value / step + SAME) + 1 : Math.ceil(value / step - SAME) - 1;
  const text = trimmed(fixed(count * step, Math.max(0, 2 - powerOfTen(step).exponent)));
  if (fits(field, declared, unit, Number(text))) return text;
  const { low, high } = rangeIn(field, declared, unit);
  const end = way > 0 ? high : low;
  return way * (Number(end) - value) > SAME * Math.abs(value) ? end : null;
}

/**
 * A step that reads well: 1, 2 or 5 with noughts.
 * @param {number} step
 * @param {boolean} declared
 */
function evenStep(step, declared) {
  if (declared) return step;
  const { power } = powerOfTen(step);
  const lead = step / power;
  return power * (lead < 1.42 ? 1 : lead < 3.17 ? 2 : lead < 7.08 ? 5 : 10);
}
