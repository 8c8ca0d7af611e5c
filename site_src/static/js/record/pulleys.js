/**
 * A pulley of the shop's own, as it was measured or is stated. No DOM. The shelf is the shop's, not
 * a job's: all pages and all jobs step along it.
 *
 * `kind` says which diameter it is, by the options that the boost page asks for.
 *
 * @typedef {"outside" | "effective" | "pitch"} Kind
 * @typedef {{schema: number, id: string, rev: number, text: string, unit: string,
 *   kind: Kind, sheet?: string}} Pulley  `sheet`: where it stands, if it is a maker's sheet's
 */

import { LONGEST } from "../form/typed.js";
import { isObject, isText } from "./shapes.js";

export const SCHEMA = 1;

/** @type {Kind[]} */
export const KINDS = ["outside", "effective", "pitch"];

/**
 * Whether something read from a store or a file is a pulley.
 * @param {any} value
 * @returns {value is Pulley}
 */
export function isPulley(value) {
  return (
    isObject(value) &&
    value.schema === SCHEMA &&
    isText(value.id) &&
    value.id !== "" &&
    Number.isInteger(value.rev) &&
    isText(value.text) &&
    value.text.length <= LONGEST &&
    Number(value.text) > 0 &&
    Number.isFinite(Number(value.text)) &&
    isText(value.unit) &&
    KINDS.includes(value.kind)
  );
}

/**
 * Whether a pulley's unit is one that the pages know; the others can't be worked with.
 * @param {Pulley} pulley
 * @param {import("../model/quantities.js").Quantities} quantities
 */
export function hasKnownUnit({ unit }, quantities) {
  return quantities.length.units.some(({ key }) => key === unit);
}
