/**
 * A run through the recipes: each reading by `reading`, all of them by `run-causes`. No DOM, and no
 * formula: what is worked out is in the recipes.
 *
 * @typedef {import("../model/catalogue.js").Kit} Kit
 * @typedef {import("../recipe.js").Outcome} Outcome
 * @typedef {import("./pulls.js").Bin} Bin
 * @typedef {{bin: Bin, outcome: Outcome}} Reading
 * @typedef {{readings: Reading[], causes: Outcome, words: string, left: number}} Weighed  `left`:
 *   readings that could not be used, and `words` why
 */

import { fromSi, unitOf, unitsOf } from "../model/quantities.js";
import { explain } from "../recipe.js";
import { isFault } from "../recipe/values.js";

/**
 * @param {Pick<Kit, "lookups" | "quantities" | "tablesOf">} kit
 * @param {import("../recipe/values.js").Inputs} truck the entries of the page `reading`
 * @param {Bin[]} bins @param {number | null} rest
 * @returns {Weighed}
 */
export function weigh(kit, truck, bins, rest) {
  const { reading, "run-causes": causes } = kit.lookups;
  const tables = kit.tablesOf(reading);
  const fields = numbers(reading, (key) => key.startsWith("run_"));
  const readings = bins.map((bin) => {
    /** @type {import("../recipe/values.js").Inputs} */
    const inputs = { ...truck };
    for (const field of fields)
      inputs[field.key] = field.key in bin ? declared(field, bin[field.key], kit) : null;
    return { bin, outcome: explain(reading, inputs, tables) };
  });
  const list = causes.fields.find(({ key }) => key === "run_rows");
  const columns = list?.kind === "parts" ? list.fields.map(({ key }) => key) : [];
  const used = readings.filter(({ outcome }) => !isFault(outcome.value("air_off")));
  const rows = used.map(({ outcome }) => rowOf(columns, outcome));
  const [atRest] = numbers(causes, (key) => key === "run_rest");
  const put = rest === null ? null : declared(atRest, rest, kit);
  const fault = readings
    .map(({ outcome }) => outcome.value("air_off"))
    .find((each) => isFault(each) && each.kind !== "blank");
  return {
    readings,
    left: readings.length - used.length,
    causes: explain(
      causes,
      { run_rest: put !== null && within(atRest, put) ? put : null, run_rows: rows },
      kit.tablesOf(causes),
    ),
    words: isFault(fault) ? fault.say || "An entry of the truck or a reading is out of range." : "",
  };
}

/**
 * A reading's columns; null where its gauge was not read.
 * @param {string[]} columns @param {Outcome} outcome
 */
function rowOf(columns, outcome) {
  return Object.fromEntries(
    columns.map((key) => {
      const value = outcome.value(key);
      return [key, isFault(value) ? null : value];
    }),
  );
}

/** @param {import("../model/lookup.js").Lookup} lookup @param {(key: string) => boolean} wanted */
function numbers(lookup, wanted) {
  return lookup.fields.flatMap((field) =>
    field.kind === "number" && wanted(field.key) ? [field] : [],
  );
}

/**
 * @param {import("../model/lookup.js").NumberField} field @param {number} si
 * @param {Pick<Kit, "quantities">} kit
 */
function declared(field, si, { quantities }) {
  return fromSi(si, unitOf(unitsOf(field, quantities), field.unit));
}

/** @param {import("../model/lookup.js").NumberField} field @param {number} value */
function within({ low, high }, value) {
  return value >= low && value <= high;
}
