/**
 * What exists: the values that a stepper walks, that charts have rows for and that are offered. For
 * a pulley they are the shop's own; until there are any, examples in the unit of the entry. No DOM.
 *
 * @typedef {import("../model/catalogue.js").Kit} Kit
 * @typedef {import("../model/lookup.js").NumberField} NumberField
 * @typedef {import("../model/lookup.js").Shelf} Shelf
 * @typedef {import("../model/quantities.js").Quantities} Quantities
 * @typedef {import("../model/quantities.js").Unit} Unit
 * @typedef {import("../record/pulleys.js").Pulley} Pulley
 * @typedef {import("./entries.js").Entries} Entries
 * @typedef {import("./entries.js").Row} Row
 * @typedef {import("./entries.js").NumberEntry} NumberEntry
 * @typedef {{value: number, text: string, unit: string}} Listed  in the field's declared unit; and
 *   as it was typed
 */

import { declaredOf, inUnit, meant, understood } from "./entries.js";
import { isSame, nextEven, stepIn, textIn } from "./ranges.js";
import { misread } from "./typed.js";
import { plain } from "../face/numbers.js";
import { convert, convertDifference, unitOf, unitsOf } from "../model/quantities.js";
import { usualIn } from "../model/system.js";

/** A pulley is written this much finer than a step: to a hundredth of a millimetre. */
const FINER = 10;

/**
 * The values that exist for a field, rising; none if it has no list.
 * @param {NumberField} field
 * @param {Pick<Kit, "quantities" | "pulleys">} kit
 * @param {Entries | Row} entries those beside it, and its own
 * @returns {Listed[]}
 */
export function stockOf(field, { quantities, pulleys }, entries) {
  const { shelf, inch } = field;
  if (shelf && pulleys.length) {
    const kind = String(entries[shelf.kind]);
    return sorted(pulleys.map((pulley) => asEntered(field, shelf, kind, pulley, quantities)))
      .filter(({ value }) => value >= field.low && value <= field.high)
      .filter(({ value }, n, all) => n === 0 || !isSame(value, all[n - 1].value));
  }
  const { unit } = /** @type {NumberEntry} */ (entries[field.key]);
  return inch?.stock.length && unit === inch.unit
    ? inOrder(field, quantities, inch.stock, unit)
    : inOrder(field, quantities, field.stock, field.unit);
}

/** @param {NumberField} field @param {Pick<Kit, "pulleys">} kit */
export function hasExamples(field, { pulleys }) {
  return field.shelf !== null && !pulleys.length;
}

/**
 * @param {NumberField} field
 * @param {Quantities} quantities
 * @param {number[]} values
 * @param {string} unit
 */
function inOrder(field, quantities, values, unit) {
  const own = unitOf(unitsOf(field, quantities), unit);
  const declared = declaredOf(field, quantities);
  return sorted(
    values.map((value) => ({
      value: convert(value, own, declared),
      text: String(value),
      unit,
    })),
  );
}

/** @param {Listed[]} listed */
function sorted(listed) {
  return [...listed].sort((a, b) => a.value - b.value);
}

/**
 * A pulley as the diameter that a page asks for.
 * @param {NumberField} field
 * @param {Shelf} shelf
 * @param {string} kind
 * @param {{text: string, unit: string, kind: string}} pulley
 * @param {Quantities} quantities
 * @returns {Listed}
 */
function asEntered(field, shelf, kind, pulley, quantities) {
  const declared = declaredOf(field, quantities);
  const unit = unitOf(unitsOf(field, quantities), pulley.unit);
  const more = (shelf.lacks[pulley.kind] ?? 0) - (shelf.lacks[kind] ?? 0);
  const text =
    more === 0
      ? pulley.text
      : plain(
          Number(pulley.text) + convertDifference(more, declared, unit),
          stepIn(field, declared, unit) / (FINER * FINER),
        );
  return { value: convert(Number(text), unit, declared), text, unit: unit.key };
}

/**
 * A maker's pulley as the diameter that the pages are told; null for one that can't be read.
 * @param {NumberField} field with a shelf
 * @param {{text: string, unit: string, kind: string}} pulley
 * @param {string} kind
 * @param {Quantities} quantities
 */
export function sameDiameter(field, pulley, kind, quantities) {
  if (!field.shelf) return null;
  if (pulley.kind === kind) return pulley.text;
  const typed = understood(field, pulley, quantities);
  if (misread(typed)) return null;
  const plainly = { text: String(typed.value), unit: typed.unit.key, kind: pulley.kind };
  return asEntered(field, field.shelf, kind, plainly, quantities).text;
}

/**
 * A pulley's pitch diameter, in the field's declared unit.
 * @param {NumberField} field @param {Pulley} pulley @param {Quantities} quantities
 */
export function pitchOf(field, pulley, quantities) {
  const unit = unitOf(unitsOf(field, quantities), pulley.unit);
  const size = convert(Number(pulley.text), unit, declaredOf(field, quantities));
  return size + (field.shelf?.lacks[pulley.kind] ?? 0);
}

/**
 * A listed value as an entry in a unit. It means what was listed, however it is rounded.
 * @param {NumberField} field
 * @param {Listed} listed
 * @param {string} unit
 * @param {Quantities} quantities
 * @returns {NumberEntry}
 */
export function entryOf(field, { text, unit: own }, unit, quantities) {
  if (unit === own) return { text, unit, typed: true };
  const units = unitsOf(field, quantities);
  const source = { value: Number(text), unit: unitOf(units, own) };
  const finest = field.shelf ? { ...field, step: field.step / FINER, inch: null } : field;
  const now = textIn(finest, declaredOf(field, quantities), source, unitOf(units, unit));
  return { text: now, unit, typed: true, from: { text, unit: own, now } };
}

/**
 * The entry that one press of a stepper leads to: along what exists, else to the next even step.
 * @param {NumberField} field
 * @param {NumberEntry} entry
 * @param {Listed[]} stock
 * @param {Quantities} quantities
 * @param {1 | -1} way
 * @returns {NumberEntry | null} null at the end, and from what can't be read
 */
export function nextEntry(field, entry, stock, quantities, way) {
  const typed = understood(field, entry, quantities);
  if (misread(typed))
    return typed.problem === "empty" ? firstEntry(field, stock, entry.unit, quantities) : null;
  const declared = declaredOf(field, quantities);
  if (!stock.length) {
    const text = nextEven(field, declared, typed.unit, typed.value, way);
    return text === null ? null : { text, unit: typed.unit.key, typed: true };
  }
  const source = meant(field, entry, quantities);
  const at = misread(source) ? NaN : convert(source.value, source.unit, declared);
  const next = (way > 0 ? stock : [...stock].reverse())
    .filter(({ value }) => way * (value - at) > 0 && !isSame(value, at))
    .map((listed) => entryOf(field, listed, typed.unit.key, quantities))
    // Typed by hand, rounded as it would be shown: that is the one it stands on already.
    .find(({ text }) => text !== entry.text.trim());
  return next ?? null;
}

/**
 * Where a stepper begins in an entry that was left open.
 * @param {NumberField} field
 * @param {Listed[]} stock
 * @param {string} unit
 * @param {Quantities} quantities
 * @returns {NumberEntry}
 */
function firstEntry(field, stock, unit, quantities) {
  if (field.default === null && stock.length) return entryOf(field, stock[0], unit, quantities);
  const start = usualIn(field) ?? { text: plain(field.low, field.step), unit: field.unit };
  return { ...inUnit(field, start, unit, quantities), typed: true };
}

/**
 * Why a pulley can't join the shop's others; empty if it can.
 * @param {NumberField} field
 * @param {Pulley} pulley
 * @param {Pulley[]} others
 * @param {Quantities} quantities
 */
export function refusedPulley(field, pulley, others, quantities) {
  const size = pitchOf(field, pulley, quantities);
  const twin = others.find(
    (other) => Math.abs(pitchOf(field, other, quantities) - size) <= field.step / FINER / 2,
  );
  if (twin) return `${pulleyText(field, twin, quantities)} is on the list already, the same size.`;
  return others.length >= MOST
    ? `The list holds ${MOST} pulleys. Delete one that you don't use.`
    : "";
}

/** More would make a table that nobody reads. */
export const MOST = 40;

/** @param {NumberField} field @param {Pulley} pulley @param {Quantities} quantities */
export function pulleyText(field, { text, unit, kind }, quantities) {
  return `${text} ${unitOf(unitsOf(field, quantities), unit).label} ${kind}`;
}
