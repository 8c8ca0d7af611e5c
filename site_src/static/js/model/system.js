/**
 * What stands in an entry until something is entered, as the shop would say it: the metric
 * example, or its twin in even inches. One truck stands on all pages, so that the system of the
 * shop decides, and no unit that is picked for one entry. No DOM.
 *
 * @typedef {import("./lookup.js").Field} Field
 * @typedef {import("./lookup.js").NumberField} NumberField
 * @typedef {import("./lookup.js").PartsField} PartsField
 * @typedef {import("./lookup.js").Said} Said
 * @typedef {import("./lookup.js").UsualRow} UsualRow
 * @typedef {import("./quantities.js").Quantities} Quantities
 */

import { trimmed } from "../face/numbers.js";
import { convert, unitOf, unitsOf } from "./quantities.js";

/**
 * The metric examples of fields that were given others.
 * @type {WeakMap<Field, any>}
 */
const METRIC = new WeakMap();

/**
 * Give fields the examples of a system: what is shown of them is also what is worked with.
 * @param {Field[]} fields @param {string} system @param {Quantities} quantities
 */
export function measureIn(fields, system, quantities) {
  for (const field of fields) {
    if (field.kind === "choice") continue;
    if (!METRIC.has(field)) METRIC.set(field, field.default);
    if (field.kind === "number") {
      field.usual = usualIn(field, system);
      field.default = declaredValue(field, field.usual, quantities);
    } else {
      for (const each of field.fields) measureIn([each], system, quantities);
      field.usual = usualRowsIn(field, system);
      field.default = field.usual.map((row) => declaredRow(field, row, quantities));
    }
  }
}

/**
 * What stands in an entry; null if it is left open.
 * @param {NumberField} field @param {string} [system] the shop's, if none is named
 * @returns {Said | null}
 */
export function usualIn(field, system) {
  if (system === undefined && field.usual !== undefined) return field.usual;
  if (system === "inch" && field.inch) return said(field.inch.default, field.inch.unit);
  return said(metric(field), field.unit);
}

/**
 * What stands in the rows of a list.
 * @param {PartsField} field @param {string} [system] the shop's, if none is named
 * @returns {UsualRow[]}
 */
export function usualRowsIn(field, system) {
  if (system === undefined && field.usual !== undefined) return field.usual;
  const isInch = system === "inch" && field.inch !== undefined;
  const rows = isInch ? field.inch : metric(field);
  return rows.map((/** @type {Object<string, any>} */ row) =>
    Object.fromEntries(
      field.fields.map((each) => {
        if (each.kind === "choice") return [each.key, row[each.key] ?? each.default];
        if (!(each.key in row)) return [each.key, usualIn(each, system)];
        return [each.key, said(row[each.key], (isInch && each.inch?.unit) || each.unit)];
      }),
    ),
  );
}

/** @param {NumberField | PartsField} field */
function metric(field) {
  return METRIC.has(field) ? METRIC.get(field) : field.default;
}

/** @param {number | null} value @param {string} unit @returns {Said | null} */
function said(value, unit) {
  return value === null ? null : { text: trimmed(String(value)), unit };
}

/** @param {NumberField} field @param {Said | null} usual @param {Quantities} quantities */
function declaredValue(field, usual, quantities) {
  if (usual === null) return null;
  const units = unitsOf(field, quantities);
  return convert(Number(usual.text), unitOf(units, usual.unit), unitOf(units, field.unit));
}

/** @param {PartsField} field @param {UsualRow} row @param {Quantities} quantities */
function declaredRow(field, row, quantities) {
  return Object.fromEntries(
    field.fields.map((each) => [
      each.key,
      each.kind === "choice"
        ? String(row[each.key])
        : /** @type {number} */ (
            declaredValue(each, /** @type {Said | null} */ (row[each.key]), quantities)
          ),
    ]),
  );
}
