/**
 * A page's inputs in its address: a number with its unit, an option's key. No DOM.
 *
 * It holds only what differs from the default, and limits that were entered. A text that can't be
 * read stays as it is. A list of parts gives its length, then each entry by row:
 * `runs=2&runs.1.length=1.2m&…`.
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

import { initialRow, inUnit, meant, understood } from "./entries.js";
import { LONGEST, misread, withoutUnit } from "./typed.js";
import { unitsOf } from "../model/quantities.js";

/**
 * @param {Field[]} fields
 * @param {Entries} entries
 * @param {Quantities} quantities
 * @returns {string} without the question mark
 */
export function toQuery(fields, entries, quantities) {
  const query = new URLSearchParams();
  for (const field of fields) {
    const entry = entries[field.key];
    if (field.kind === "parts")
      partsToQuery(query, field, /** @type {Row[]} */ (entry), quantities);
    else {
      const text = toText(field, /** @type {NumberEntry | string} */ (entry), quantities);
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
 */
function partsToQuery(query, field, rows, quantities) {
  const texts = rows.map((row, n) =>
    field.fields.map((each) => {
      const usual = {
        ...each,
        default: field.default[n]?.[each.key] ?? each.default,
        // In an example list a value that a person typed counts, even if it is the same.
        example: field.example,
      };
      return {
        key: each.key,
        text: toText(/** @type {NumberField | ChoiceField} */ (usual), row[each.key], quantities),
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
 */
function toText(field, entry, quantities) {
  if (field.kind === "choice") return entry === field.default ? null : String(entry);
  const number = /** @type {NumberEntry} */ (entry);
  if (!number.text.trim()) return field.default === null ? null : "";
  if (misread(understood(field, number, quantities))) return number.text;
  const typed = /** @type {import("./typed.js").Typed} */ (meant(field, number, quantities));
  const usual = typed.unit.key === field.unit && typed.value === field.default;
  if (usual && !(field.example && (number.typed || number.stated))) return null;
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
  for (const field of fields) {
    const text = query.get(field.key);
    if (text === null) continue;
    if (field.kind === "parts")
      entries[field.key] = partsFromQuery(query, field, Number(text), quantities, preferred);
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
 * @param {URLSearchParams} query
 * @param {import("../model/lookup.js").PartsField} field
 * @param {number} count
 * @param {Quantities} quantities
 * @param {Remembered} preferred
 */
function partsFromQuery(query, field, count, quantities, preferred) {
  const length = Number.isInteger(count)
    ? Math.max(0, Math.min(count, field.most))
    : field.default.length;
  return Array.from({ length }, (_, n) => {
    const row = initialRow(field, quantities, preferred, field.default[n] ?? {});
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
