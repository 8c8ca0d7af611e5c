/**
 * The units that a field or an answer may be shown in. No DOM.
 *
 * @typedef {import("../face/numbers.js").Unit} Unit
 * @typedef {import("./catalogue.js").Quantities} Quantities
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
 * The unit that a shop measures in, in place of a page's usual one, if it is offered.
 * @param {string} system @param {string} usual its key
 * @param {{quantity: string, decimals?: Object<string, number>}} of @param {Quantities} quantities
 */
export function inSystem(system, usual, of, quantities) {
  const { inch } = quantities[of.quantity];
  if (system !== "inch" || !(usual in inch)) return usual;
  const offered = unitsOf(of, quantities).map(({ key }) => key);
  if (offered.includes(inch[usual])) return inch[usual];
  return offered.find((key) => !(key in inch)) ?? usual;
}
