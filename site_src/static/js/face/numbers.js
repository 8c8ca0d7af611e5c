/**
 * Numbers as they are written: rounding, grouping, a unit after them. No DOM.
 */

const MINUS = "−";

/** In place of an answer that this set-up does not have; the reason is beside it. */
export const NO_NUMBER = "no number";

/** The same where there is little room. */
export const NO_CELL = "—";

/**
 * The largest whole power of ten not above a positive value, found ten by ten.
 * @param {number} value
 */
export function powerOfTen(value) {
  let exponent = 0;
  let power = 1;
  let parts = 1;
  while (value >= 10 * power * (1 - 1e-12)) {
    exponent += 1;
    power *= 10;
  }
  while (value < power * (1 - 1e-12)) {
    exponent -= 1;
    parts *= 10;
    power = 1 / parts;
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

/**
 * toFixed, but zero has no minus.
 * @param {number} value
 * @param {number} decimals
 */
export function fixed(value, decimals) {
  const text = value.toFixed(decimals);
  return Number(text) === 0 ? text.replace("-", "") : text;
}

/** @param {number} value @param {number} decimals */
export function shown(value, decimals) {
  return grouped(fixed(value, decimals));
}

/**
 * What is left to a limit: "0 °C under" would be at it. In up to two digits more.
 * @param {number} margin @param {number} decimals
 */
export function shownMargin(margin, decimals) {
  const texts = [0, 1, 2].map((more) => shown(margin, decimals + more));
  return texts.find((text) => /[1-9]/.test(text)) ?? texts[0];
}

/** Decimals that are one digit finer than an increment. @param {number} increment */
export function decimalsFor(increment) {
  return Math.max(0, 1 - powerOfTen(increment).exponent);
}

/** @param {string} text */
export function trimmed(text) {
  return text.includes(".") ? text.replace(/\.?0+$/, "") : text;
}

/**
 * An entry's value, one digit finer than its increment, without zeros at the end.
 * @param {number} value
 * @param {number} increment
 */
export function plain(value, increment) {
  return trimmed(fixed(value, decimalsFor(increment)));
}

/**
 * A few significant digits, no exponent.
 * @param {number} value
 * @param {number} [digits]
 */
export function fine(value, digits = 2) {
  if (value === 0) return "0";
  const { exponent } = powerOfTen(Math.abs(value));
  return grouped(trimmed(fixed(value, Math.max(0, digits - 1 - exponent))));
}

const BEFORE_UNIT = new RegExp(
  "(?<=\\p{Nd}) (?!(?:to|or|and|is|at|on|of|as|by|for|the|more)(?!\\p{L}))" +
    "(?=\\p{L}{1,4}(?![\\p{L}\\p{N}])|\\p{L}{1,3}[·/²³₂]|[°%µΩ])",
  "gu",
);

/**
 * Tie each number to the unit after it, so that no line breaks between them.
 * @param {string} text
 */
export function tied(text) {
  return text.replace(BEFORE_UNIT, "\u00a0");
}

/**
 * A unit after a number; degrees of an angle follow at once (ISO 80000-1, 7.1.4).
 * @param {string} text @param {string} label
 */
export function withUnit(text, label) {
  return `${text}${label === "" || label === "°" ? "" : " "}${label}`;
}
