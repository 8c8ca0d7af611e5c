/**
 * The units that a field or an answer may be shown in. No DOM.
 *
 * @typedef {import("./numbers.js").Unit} Unit
 * @typedef {import("./spec.js").Quantities} Quantities
 */

/** The units a field or an answer may be shown in. @param {{quantity: string, decimals?: Object<string, number>}} of @param {Quantities} quantities */
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
