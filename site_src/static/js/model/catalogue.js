/**
 * What a page works with, from the site's files: its lookup, the units, the tables; and whether
 * they belong together.
 *
 * @typedef {import("../recipe.js").Grid} Grid
 * @typedef {import("./lookup.js").Lookup} Lookup
 * @typedef {import("./quantities.js").Quantities} Quantities
 * @typedef {import("../record/pulleys.js").Pulley} Pulley
 * @typedef {Object<string, {page: string, symbol: string}>} Sources  by the entry's key
 * @typedef {{follows: Sources, offers: Sources,
 *   apart: Object<string, string[]>, passing: string[], usual: string[]}} TruckRules  as in
 *   site_src/lookups/truck.py
 * @typedef {{lookup: Lookup, quantities: Quantities, tables: Object<string, Grid>,
 *   lookups: Object<string, Lookup>, truck: TruckRules,
 *   tablesOf: (lookup: Lookup) => Object<string, Grid>, pulleys: Pulley[],
 *   makers: import("../record/figures.js").Kind[]}} Kit  `lookups`: every
 *   lookup by its key; `tables`: those of the page's own; `pulleys`: the shop's own, once they are
 *   read; `makers`: the kinds of makers' figures
 */

import { decodeTable } from "../recipe.js";
import { VERSION } from "../version.js";

const ROOT = new URL("../../../", import.meta.url);

/** Page, script and tables are of different versions, so that nothing may be worked out. */
class VersionError extends Error {}

/**
 * Why nothing can be worked out, if a page could not be loaded completely.
 * @param {unknown} reason
 */
export function refusal(reason) {
  return reason instanceof VersionError
    ? "This page and its tables are from different versions, so nothing is worked out. Load it again."
    : "The tables for this page could not be loaded, so nothing is worked out. Load it again.";
}

/**
 * The kit of a page that has fields of its own and works with another page's recipe.
 * @param {Kit} kit
 * @param {string} key
 * @param {import("./lookup.js").Field[]} fields
 * @returns {Kit}
 */
export function withFields(kit, key, fields) {
  return { ...kit, lookup: { ...kit.lookup, key, fields } };
}

/** @param {string} key the lookup's @returns {Promise<Kit>} */
export async function load(key) {
  const [catalogue, numbers] = await Promise.all([
    fetched("lookups.json").then((response) => response.json()),
    fetched("static/tables/tables.bin").then((response) => response.arrayBuffer()),
  ]);
  sameVersion(catalogue.version, versionAtEnd(numbers));
  const lookup = catalogue.lookups.find((/** @type {Lookup} */ each) => each.key === key);
  if (!lookup) throw new Error(`lookups.json has no entry ${key}`);
  const lookups = Object.fromEntries(
    catalogue.lookups.map((/** @type {Lookup} */ each) => [each.key, each]),
  );
  const tablesOf = decoding(catalogue.tables, numbers);
  const { quantities, truck, makers } = catalogue;
  const tables = tablesOf(lookup);
  return { lookup, quantities, tables, lookups, truck, makers, tablesOf, pulleys: [] };
}

/**
 * Reads tables out of their file when they are first asked for.
 * @param {Object<string, any>} entries @param {ArrayBuffer} numbers
 */
function decoding(entries, numbers) {
  /** @type {Object<string, Grid>} */
  const decoded = {};
  return (/** @type {Lookup} */ { tables }) =>
    Object.fromEntries(
      tables.map((name) => [name, (decoded[name] ??= decodeTable(entries[name], numbers))]),
    );
}

/** @param {string} path from the site's root */
async function fetched(path) {
  const response = await fetch(new URL(path, ROOT));
  if (!response.ok) throw new Error(`${path} answered ${response.status}`);
  return response;
}

/**
 * The version that the tables' file ends with.
 * @param {ArrayBuffer} numbers
 */
function versionAtEnd(numbers) {
  const end = new Uint8Array(numbers, Math.max(0, numbers.byteLength - VERSION.length));
  return String.fromCharCode(...end);
}

/**
 * @param {string} catalogue the version that lookups.json carries
 * @param {string} tables that of the tables' file
 */
function sameVersion(catalogue, tables) {
  const page = document.querySelector('meta[name="bay-version"]')?.getAttribute("content");
  if ([page, catalogue, tables].some((each) => each !== VERSION)) {
    throw new VersionError(
      `page ${page}, scripts ${VERSION}, catalogue ${catalogue}, tables ${tables}`,
    );
  }
}
