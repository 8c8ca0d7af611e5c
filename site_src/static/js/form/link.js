/**
 * A page's inputs in its address: a number with its unit, an option's key. No DOM.
 *
 * It holds only what differs from the default, and limits that were entered. A text that can't be
 * read stays as it is. A list of parts gives its length, then each entry by row:
 * `runs=2&runs.1.length=1.2m&…`. What a link leaves out is the metric example, or with
 * `units=inch` that of an inch shop: the same on every phone.
 *
 * @typedef {import("./entries.js").Entries} Entries
 * @typedef {import("./entries.js").NumberEntry} NumberEntry
 * @typedef {import("./entries.js").Row} Row
 * @typedef {import("../model/lookup.js").Field} Field
 * @typedef {import("../model/lookup.js").NumberField} NumberField
 * @typedef {import("../model/lookup.js").ChoiceField} ChoiceField
 * @typedef {import("../model/quantities.js").Quantities} Quantities
 * @typedef {import("./entries.js").Remembered} Remembered
 */

import { exampleOf, initialRow, inUnit, meant, understood } from "./entries.js";
import { LONGEST, misread, withoutUnit } from "./typed.js";
import { unitsOf } from "../model/quantities.js";
import { usualIn, usualRowsIn } from "../model/system.js";

/** Says whose examples stand for what is left out. */
const SYSTEM = "units";

/**
 * A query of a shop: with what is needed to read it on every phone.
 * @param {URLSearchParams} query @param {string} system the shop's
 */
export function signed(query, system) {
  if (system === "inch" && query.size) query.set(SYSTEM, system);
  return query;
}

/** Whose examples stand for what a query leaves out. @param {string} search */
export function systemOf(search) {
  return new URLSearchParams(search).get(SYSTEM) === "inch" ? "inch" : "metric";
}

/**
 * What differs from the shop's own examples.
 * @param {Field[]} fields
 * @param {Entries} entries
 * @param {Quantities} quantities
 * @param {string} [system] whose examples they are told from, if not the shop's own
 * @returns {string} without the question mark
 */
export function toQuery(fields, entries, quantities, system) {
  const query = new URLSearchParams();
  for (const field of fields) {
    const entry = entries[field.key];
    if (field.kind === "parts")
      partsToQuery(query, field, /** @type {Row[]} */ (entry), quantities, system);
    else {
      const usual = field.kind === "number" ? usualIn(field, exampleOf(field, system)) : undefined;
      const text = toText(field, /** @type {NumberEntry | string} */ (entry), quantities, usual);
      if (text !== null) query.set(field.key, text);
    }
  }
  return query.toString();
}

/**
 * @param {URLSearchParams} query
 * @param {import("../model/lookup.js").PartsField} field
 * @param {Row[]} rows
 * @param {Quantities} quantities
 * @param {string} [system]
 */
function partsToQuery(query, field, rows, quantities, system) {
  const usual = usualRowsIn(field, exampleOf(field, system));
  const texts = rows.map((row, n) =>
    field.fields.map((each) => {
      // In an example list a value that a person typed counts, even if it is the same.
      const ofList = each.kind === "number" ? { ...each, example: field.example } : each;
      return {
        key: each.key,
        text: toText(ofList, row[each.key], quantities, usual[n]?.[each.key]),
      };
    }),
  );
  const plain =
    rows.length === field.default.length && texts.flat().every(({ text }) => text === null);
  if (plain) return;
  query.set(field.key, String(rows.length));
  texts.forEach((row, n) =>
    row.forEach(({ key, text }) => {
      if (text !== null) query.set(`${field.key}.${n + 1}.${key}`, text);
    }),
  );
}

/**
 * An entry as a link holds it; null for the default.
 * @param {NumberField | ChoiceField} field
 * @param {NumberEntry | string} entry
 * @param {Quantities} quantities
 * @param {import("../model/lookup.js").Said | string | null} [ownDefault] of its row, in a list
 */
function toText(field, entry, quantities, ownDefault) {
  if (field.kind === "choice")
    return entry === (ownDefault ?? field.default) ? null : String(entry);
  const number = /** @type {NumberEntry} */ (entry);
  if (!number.text.trim()) return field.default === null ? null : "";
  if (misread(understood(field, number, quantities))) return number.text;
  const typed = /** @type {import("./typed.js").Typed} */ (meant(field, number, quantities));
  const usual = typeof ownDefault === "object" ? ownDefault : usualIn(field);
  const isUsual =
    usual !== null && typed.unit.key === usual.unit && typed.value === Number(usual.text);
  if (isUsual && !(field.example && (number.typed || number.stated))) return null;
  return `${typed.value}${typed.unit.key}`;
}

/**
 * Replace entries by those of a link, in the units that this phone prefers.
 * @param {Field[]} fields
 * @param {Entries} entries
 * @param {string} search
 * @param {Quantities} quantities
 * @param {Remembered} [preferred] where there is none, the link's own unit is shown
 */
export function fromQuery(fields, entries, search, quantities, preferred = () => undefined) {
  const query = new URLSearchParams(search);
  const system = systemOf(search);
  for (const field of fields) {
    const text = query.get(field.key);
    if (text === null) continue;
    if (field.kind === "parts")
      entries[field.key] = partsFromQuery(
        { query, system },
        field,
        Number(text),
        quantities,
        preferred,
      );
    else
      entries[field.key] = fromLink(
        field,
        entries[field.key],
        text,
        quantities,
        preferred(field.key, field),
      );
  }
}

/**
 * @param {{query: URLSearchParams, system: string}} link
 * @param {import("../model/lookup.js").PartsField} field
 * @param {number} count
 * @param {Quantities} quantities
 * @param {Remembered} preferred
 */
function partsFromQuery({ query, system }, field, count, quantities, preferred) {
  const usual = usualRowsIn(field, system);
  const length = Number.isInteger(count)
    ? Math.max(0, Math.min(count, field.most))
    : field.default.length;
  return Array.from({ length }, (_, n) => {
    const row = initialRow(field, quantities, preferred, usual[n] ?? {}, system);
    for (const each of field.fields) {
      const text = query.get(`${field.key}.${n + 1}.${each.key}`);
      if (text !== null)
        row[each.key] = fromLink(
          each,
          row[each.key],
          text,
          quantities,
          preferred(`${field.key}.${each.key}`, each),
        );
    }
    return row;
  });
}

/**
 * @param {NumberField | ChoiceField} field
 * @param {any} entry
 * @param {string} text
 * @param {Quantities} quantities
 * @param {string | undefined} preferred
 * @returns {NumberEntry | string}
 */
function fromLink(field, entry, text, quantities, preferred) {
  if (field.kind === "choice") return text;
  return { ...fromText(field, entry, text, quantities, preferred), typed: true };
}

/**
 * @param {NumberField} field
 * @param {any} entry
 * @param {string} text
 * @param {Quantities} quantities
 * @param {string | undefined} preferred
 * @returns {NumberEntry}
 */
function fromText(field, entry, text, quantities, preferred) {
  if (text.length > LONGEST) return { text, unit: entry.unit };
  const found = /^(-?\d*\.?\d+(?:e[+-]?\d+)?)(.*)$/.exec(text);
  if (!found) return asTyped(field, entry, text, quantities, preferred);
  const [, number, key] = found;
  // A bare number is in the declared unit, so that a link means the same on every phone.
  const unit = key ? unitsOf(field, quantities).find((each) => each.key === key)?.key : field.unit;
  if (unit === undefined) return asTyped(field, entry, text, quantities, preferred);
  return inUnit(field, { text: number, unit }, preferred ?? unit, quantities);
}

/**
 * A text that a person typed into the address: read as if it were typed into the form.
 * @param {NumberField} field
 * @param {any} entry
 * @param {string} text
 * @param {Quantities} quantities
 * @param {string | undefined} preferred
 * @returns {NumberEntry}
 */
function asTyped(field, entry, text, quantities, preferred) {
  const typed = understood(field, { text, unit: field.unit }, quantities);
  if (misread(typed)) return { text, unit: entry.unit };
  const unit = typed.unit.key;
  return inUnit(field, { text: withoutUnit(text), unit }, preferred ?? unit, quantities);
}
