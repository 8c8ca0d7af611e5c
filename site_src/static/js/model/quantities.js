/**
 * Quantities and their units: which may be shown, and what a value is in another one. No DOM.
 *
 * @typedef {{key: string, label: string, factor: number, offset: number}} Unit  in SI a value is
 *   value · factor + offset
 * @typedef {Object<string, {si: string, units: Unit[], inch: Object<string, string>}>} Quantities
 */

/**
 * The units a field or an answer may be shown in.
 * @param {{quantity: string, decimals?: Object<string, number>}} of
 * @param {Quantities} quantities
 */
export function unitsOf(of, quantities) {
  const { units } = quantities[of.quantity];
  if (!of.decimals) return units;
  return Object.keys(of.decimals).map((key) => unitOf(units, key));
}

/** @param {Unit[]} units @param {string} key */
export function unitOf(units, key) {
  const found = units.find((unit) => unit.key === key);
  if (!found) throw new Error(`no unit ${key}`);
  return found;
}

/**
 * The unit that a shop measures in, in place of a page's usual one, if the page offers it.
 * @param {string} system @param {string} usual its key
 * @param {{quantity: string, decimals?: Object<string, number>, inch?: {unit: string} | null}} of
 * @param {Quantities} quantities
 */
export function inSystem(system, usual, of, quantities) {
  // A field says itself what an inch shop reads.
  if (of.inch !== undefined) return (system === "inch" && of.inch?.unit) || usual;
  const { inch } = quantities[of.quantity];
  if (system !== "inch" || !(usual in inch)) return usual;
  const offered = unitsOf(of, quantities).map(({ key }) => key);
  if (offered.includes(inch[usual])) return inch[usual];
  return offered.find((key) => !(key in inch)) ?? usual;
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
 * A difference between two values, from one unit to another.
 * @param {number} difference
 * @param {Unit} from
 * @param {Unit} to
 */
export function convertDifference(difference, from, to) {
  return from.key === to.key ? difference : (difference * from.factor) / to.factor;
}
