/**
 * The entries of a form and what they mean: the page's state without its DOM.
 *
 * A number is kept as the text that was typed, even if it can't be used. `from` remembers what was
 * typed before a change of unit: changing back gives the same text, and until something else is
 * typed, that text is what counts. A change of unit changes no answer. `typed` says that a person
 * entered it, even if it is the usual value: a limit that nobody entered is only an example.
 *
 * @typedef {import("../model/lookup.js").Field} Field
 * @typedef {import("../model/lookup.js").NumberField} NumberField
 * @typedef {import("../model/lookup.js").ChoiceField} ChoiceField
 * @typedef {import("../model/lookup.js").PartsField} PartsField
 * @typedef {import("../model/quantities.js").Quantities} Quantities
 * @typedef {import("../model/quantities.js").Unit} Unit
 * @typedef {import("./typed.js").Typed} Typed
 * @typedef {{text: string, unit: string, typed?: boolean, stated?: boolean, lack?: string,
 *   from?: {text: string, unit: string, now: string}}} NumberEntry  `lack`: why the page that
 *   works it out gives none; `stated`: a maker's sheet says so, as good as typed by a person
 * @typedef {Object<string, NumberEntry | string>} Row
 * @typedef {Object<string, NumberEntry | string | Row[]>} Entries
 * @typedef {{field: string, row: number, entry: string, words: string}} Problem  row −1: not in
 *   a list
 * @typedef {{inputs: import("../recipe/values.js").Inputs, problems: Problem[]}} Reading
 * @typedef {(path: string, field: Field) => string | undefined} Remembered  the key of an entry's
 *   unit
 */

import { optionNamed } from "../model/lookup.js";
import { grouped, plain, withUnit } from "../face/numbers.js";
import { fits, inDeclared, rangeSaid, stepIn, textIn } from "./ranges.js";
import { misread, parse, shortened } from "./typed.js";
import { convert, unitOf, unitsOf } from "../model/quantities.js";
import { usualIn, usualRowsIn } from "../model/system.js";

/** @param {NumberField} field @param {Quantities} quantities */
export function declaredOf(field, quantities) {
  return unitOf(unitsOf(field, quantities), field.unit);
}

/**
 * The defaults, in the units that the phone remembers.
 * @param {Field[]} fields @param {Quantities} quantities
 * @param {Remembered} remembered
 * @param {string} [system] whose examples they are, if not the shop's own
 * @returns {Entries}
 */
export function initial(fields, quantities, remembered, system) {
  /** @type {Entries} */
  const entries = {};
  for (const field of fields) {
    const whose = exampleOf(field, system);
    entries[field.key] =
      field.kind === "parts"
        ? usualRowsIn(field, whose).map((row) => initialRow(field, quantities, remembered, row))
        : initialEntry(field, usualOf(field, whose), quantities, remembered(field.key, field));
  }
  return entries;
}

/**
 * Whose example stands in a field. The recipe takes a limit that nobody entered from the field, so
 * that such a one can only be the shop's.
 * @param {Field} field @param {string} [system] that of a link
 */
export function exampleOf(field, system) {
  return field.kind !== "choice" && field.example ? undefined : system;
}

/** @param {NumberField | ChoiceField} field @param {string} [system] */
function usualOf(field, system) {
  return field.kind === "choice" ? field.default : usualIn(field, system);
}

/**
 * @param {PartsField} field
 * @param {Quantities} quantities
 * @param {Remembered} remembered
 * @param {import("../model/lookup.js").UsualRow} row what it doesn't have is as usual
 * @param {string} [system]
 * @returns {Row}
 */
export function initialRow(field, quantities, remembered, row, system) {
  return Object.fromEntries(
    field.fields.map((each) => [
      each.key,
      initialEntry(
        each,
        each.key in row ? row[each.key] : usualOf(each, system),
        quantities,
        remembered(`${field.key}.${each.key}`, each),
      ),
    ]),
  );
}

/**
 * @param {NumberField | ChoiceField} field
 * @param {import("../model/lookup.js").Said | string | null} usual
 * @param {Quantities} quantities
 * @param {string | undefined} unit
 */
function initialEntry(field, usual, quantities, unit) {
  if (field.kind === "choice") return String(usual);
  const declared = declaredOf(field, quantities);
  const picked = unitsOf(field, quantities).find((each) => each.key === unit) ?? declared;
  if (usual === null || typeof usual === "string") return { text: "", unit: picked.key };
  return inUnit(field, { ...usual }, picked.key, quantities);
}

/**
 * What a number's text is understood to mean.
 * @param {NumberField} field
 * @param {NumberEntry} entry
 * @param {Quantities} quantities
 */
export function understood(field, entry, quantities) {
  const units = unitsOf(field, quantities);
  const declared = declaredOf(field, quantities);
  return parse(entry.text, units, unitOf(units, entry.unit), (value, unit) =>
    fits(field, declared, unit, value),
  );
}

/**
 * What a number means: the text from before a change of unit, if nothing was typed since.
 * @param {NumberField} field
 * @param {NumberEntry} entry
 * @param {Quantities} quantities
 */
export function meant(field, entry, quantities) {
  return understood(field, entry.from?.now === entry.text ? entry.from : entry, quantities);
}

/**
 * The same entry in another unit.
 * @param {NumberField} field
 * @param {NumberEntry} entry
 * @param {string} unit
 * @param {Quantities} quantities
 * @returns {NumberEntry}
 */
export function inUnit(field, entry, unit, quantities) {
  const typed = understood(field, entry, quantities);
  const kept = { ...(entry.typed && { typed: true }), ...(entry.stated && { stated: true }) };
  if (misread(typed)) return { ...entry, unit };
  const from =
    entry.from?.now === entry.text
      ? entry.from
      : { text: entry.text, unit: typed.unit.key, now: "" };
  if (from.unit === unit) return { text: from.text, unit, ...kept };
  const units = unitsOf(field, quantities);
  const source = understood(field, { text: from.text, unit: from.unit }, quantities);
  const now = textIn(
    field,
    declaredOf(field, quantities),
    misread(source) ? typed : source,
    unitOf(units, unit),
  );
  return { text: now, unit, from: { ...from, now }, ...kept };
}

/**
 * Whether a limit or a list is still the page's example, so that nothing may be judged by it.
 * @param {Field} field @param {Entries | Row} entries
 */
export function isExample(field, entries) {
  if (field.kind === "choice" || !field.example) return false;
  if (field.kind === "parts") return isUsual(field, /** @type {any} */ (entries[field.key]));
  const { typed, stated } = /** @type {NumberEntry} */ (entries[field.key]);
  return !typed && !stated;
}

/** Whether nobody has touched a list. @param {PartsField} field @param {Row[]} rows */
function isUsual(field, rows) {
  if (rows.length !== field.default.length) return false;
  return rows.every((row, n) =>
    field.fields.every((each) =>
      each.kind === "number"
        ? !(/** @type {NumberEntry} */ (row[each.key]).typed)
        : row[each.key] === (field.default[n][each.key] ?? each.default),
    ),
  );
}

/** @param {Field} field @param {Entries | Row} entries */
export function isShown(field, entries) {
  return !field.when || field.when.is.includes(String(entries[field.when.field]));
}

/**
 * The options that go with what is chosen elsewhere.
 * @param {ChoiceField} field
 * @param {Field[]} fields
 * @param {Entries} entries
 */
export function offered(field, fields, entries) {
  const master = fields.find((each) => each.key === field.match);
  if (!master || master.kind !== "choice") return field.options;
  const tag = optionNamed(master, entries[master.key])?.tag;
  return tag ? field.options.filter((option) => !option.tag || option.tag === tag) : field.options;
}

/**
 * Turn the entries into the evaluator's inputs, and say which can't be used. A limit that nobody
 * entered is left out of them.
 * @param {Field[]} fields
 * @param {Entries} entries
 * @param {Quantities} quantities
 * @returns {Reading}
 */
export function read(fields, entries, quantities) {
  /** @type {Reading} */
  const reading = { inputs: {}, problems: [] };
  for (const field of fields) {
    const entry = entries[field.key];
    /** @param {string} words @param {number} row @param {string} key */
    const problem = (words, row, key) => {
      if (isShown(field, entries))
        reading.problems.push({ field: field.key, row, entry: key, words });
    };
    if (field.kind === "parts" && isExample(field, entries)) continue;
    if (field.kind === "parts") {
      reading.inputs[field.key] = /** @type {Row[]} */ (entry).map((row, n) =>
        Object.fromEntries(
          field.fields.map((each) => [
            each.key,
            one(each, row[each.key], field.fields, row, quantities, (words) => {
              if (isShown(each, row)) problem(words, n, each.key);
            }),
          ]),
        ),
      );
    } else {
      const value = one(
        field,
        /** @type {NumberEntry | string} */ (entry),
        fields,
        entries,
        quantities,
        (words) => problem(words, -1, field.key),
      );
      if (isExample(field, entries)) continue;
      // A hidden entry can't be corrected by the user, and no answer needs it.
      reading.inputs[field.key] =
        Number.isNaN(value) && !isShown(field, entries) ? field.default : value;
    }
  }
  return reading;
}

/**
 * @param {NumberField | ChoiceField} field @param {NumberEntry | string} entry
 * @param {Field[]} fields @param {Entries | Row} entries @param {Quantities} quantities
 * @param {(words: string) => void} complain
 * @returns {number | string | null} NaN for a number that can't be used, null for one left open
 */
function one(field, entry, fields, entries, quantities, complain) {
  if (field.kind === "choice") {
    const words = choiceProblem(field, String(entry), fields, entries);
    if (words) complain(words);
    return String(entry);
  }
  const number = /** @type {NumberEntry} */ (entry);
  if (field.default === null && !number.text.trim()) return null;
  const typed = meant(field, number, quantities);
  const declared = declaredOf(field, quantities);
  const usable = !misread(typed) && fits(field, declared, typed.unit, typed.value);
  if (usable) return inDeclared(field, declared, typed.unit, typed.value);
  complain(numberProblem(field, number, understood(field, number, quantities), quantities));
  return NaN;
}

/**
 * @param {ChoiceField} field
 * @param {string} entry
 * @param {Field[]} fields
 * @param {Entries | Row} entries
 */
function choiceProblem(field, entry, fields, entries) {
  const chosen = optionNamed(field, entry);
  if (!chosen) return `${field.label}: pick one from the list.`;
  const options = offered(field, fields, /** @type {Entries} */ (entries));
  if (options.includes(chosen)) return "";
  const master = fields.find((each) => each.key === field.match);
  const other = optionNamed(master, entries[field.match]);
  return `${field.label}: pick again. ${chosen.label} doesn't go with ${other?.label}.`;
}

/**
 * @param {NumberField} field
 * @param {NumberEntry} entry
 * @param {Typed | import("./typed.js").Misread} typed
 * @param {Quantities} quantities
 */
function numberProblem(field, entry, typed, quantities) {
  const units = unitsOf(field, quantities);
  const unit = misread(typed) ? unitOf(units, entry.unit) : typed.unit;
  const { low, high } = rangeSaid(field, declaredOf(field, quantities), unit);
  const range = `This page takes ${grouped(low)} to ${withUnit(grouped(high), unit.label)}.`;
  const tail = field.way_out ? ` ${field.way_out}` : "";
  if (!misread(typed)) {
    return `${field.label} is ${withUnit(grouped(String(typed.value)), unit.label)}. ${range}${tail}`;
  }
  switch (typed.problem) {
    case "empty":
      return `${field.label} is empty. ${entry.lack ? `${entry.lack} ` : ""}${range}`;
    case "unit":
      return `${field.label}: “${typed.detail}” is not a unit of this entry. Use ${listed(units.map((each) => each.label || "a bare number"))}.`;
    case "two ways":
      return `${field.label}: ${entry.text.trim()} can be read as ${typed.detail}. Leave the comma out, or type a point.`;
    default:
      return `${field.label}: “${typed.detail}” is not a number. ${range}`;
  }
}

/**
 * Units in which the number that was typed would be one that the field takes.
 * @param {NumberField} field @param {NumberEntry} entry @param {Quantities} quantities
 * @returns {Unit[]}
 */
export function fittingUnits(field, entry, quantities) {
  const typed = understood(field, entry, quantities);
  if (misread(typed)) return [];
  const declared = declaredOf(field, quantities);
  return unitsOf(field, quantities).filter((unit) => fits(field, declared, unit, typed.value));
}

/** @param {string[]} words */
function listed(words) {
  return words.length > 1
    ? `${words.slice(0, -1).join(", ")} or ${words[words.length - 1]}`
    : words[0];
}

/**
 * What was understood, in the picked unit and the next one: "92 mm · 3.62 in".
 * @param {NumberField} field @param {NumberEntry} entry @param {Quantities} quantities
 */
export function echo(field, entry, quantities) {
  const typed = understood(field, entry, quantities);
  const source = meant(field, entry, quantities);
  if (misread(typed) || misread(source)) return "";
  const declared = declaredOf(field, quantities);
  const units = unitsOf(field, quantities);
  const pair = units.length > 1 ? [typed.unit, twinOf(field, typed.unit, units)] : [typed.unit];
  // In the only unit there is, just what stands in the box would be said again.
  if (pair.length === 1 && grouped(String(typed.value)) === entry.text.trim()) return "";
  return pair
    .map((unit) => {
      const same = unit.key === typed.unit.key;
      const number = same ? typed.value : convert(source.value, source.unit, unit);
      const text = same ? String(number) : plain(number, stepIn(field, declared, unit));
      return withUnit(grouped(text), unit.label);
    })
    .join(" · ");
}

/**
 * The unit that what was understood is said in besides: the other system's, if it has one.
 * @param {NumberField} field @param {Unit} unit @param {Unit[]} units two or more
 */
function twinOf(field, unit, units) {
  const key = unit.key === field.unit ? field.inch?.unit : field.unit;
  return units.find((each) => each.key === key) ?? units[unit.key === units[0].key ? 1 : 0];
}

/**
 * A field in a few words, for a summary.
 * @param {Field} field
 * @param {Entries} entries
 * @param {Quantities} quantities
 */
export function brief(field, entries, quantities) {
  const entry = entries[field.key];
  if (field.kind === "parts") return `${/** @type {Row[]} */ (entry).length} of ${field.most}`;
  if (field.kind === "choice") {
    return optionNamed(field, entry)?.label ?? "not picked";
  }
  const number = /** @type {NumberEntry} */ (entry);
  if (!number.text.trim()) return field.default === null ? "left open" : "empty";
  const typed = understood(field, number, quantities);
  return misread(typed)
    ? `“${shortened(number.text)}”`
    : withUnit(grouped(String(typed.value)), typed.unit.label);
}
