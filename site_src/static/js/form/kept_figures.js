/**
 * Makers' figures that were typed into a lookup, kept for the job. They come first on the
 * plate, as they were typed, and are never changed.
 *
 * @typedef {import("./entries.js").Entries} Entries
 * @typedef {import("./entries.js").NumberEntry} NumberEntry
 * @typedef {import("../model/lookup.js").NumberField} NumberField
 * @typedef {import("../model/lookup.js").Lookup} Lookup
 */

import { optionNamed } from "../model/lookup.js";

/** @param {Lookup} lookup @returns {NumberField[]} */
export function keptFields(lookup) {
  return /** @type {NumberField[]} */ (
    lookup.fields.filter((field) => field.kind === "number" && field.kept)
  );
}

/**
 * Where a figure is kept: under the choices that are asked first, which say what part it is for.
 * @param {Lookup} lookup @param {NumberField} field @param {Entries} entries
 */
export function keptUnder(lookup, field, entries) {
  const choices = lookup.fields.filter(({ kind, first }) => kind === "choice" && first);
  return [lookup.key, field.key, ...choices.map(({ key }) => `${key}=${entries[key]}`)].join(" ");
}

/**
 * What a figure is kept for, in words.
 * @param {Lookup} lookup
 * @param {Entries} entries
 */
export function keptFor(lookup, entries) {
  return lookup.fields
    .filter(({ first }) => first)
    .map((field) => optionNamed(field, entries[field.key])?.label)
    .filter(Boolean)
    .join(", ");
}
