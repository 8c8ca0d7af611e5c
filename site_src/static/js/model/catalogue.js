/**
 * What a page works with, from the site's files: its lookup, the units, the tables; and whether
 * they belong together.
 *
 * @typedef {import("../recipe.js").Grid} Grid
 * @typedef {import("./lookup.js").Lookup} Lookup
 * @typedef {import("./quantities.js").Quantities} Quantities
 * @typedef {import("../record/pulleys.js").Pulley} Pulley
 * @typedef {{lookup: Lookup, quantities: Quantities, tables: Object<string, Grid>,
 *   lookups: Object<string, Lookup>, pulleys: Pulley[]}} Kit  `lookups`: every lookup by its key,
 *   without tables; `pulleys`: the shop's own, once they are read
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
  const tables = Object.fromEntries(
    lookup.tables.map((/** @type {string} */ name) => [
      name,
      decodeTable(catalogue.tables[name], numbers),
    ]),
  );
  const lookups = Object.fromEntries(
    catalogue.lookups.map((/** @type {Lookup} */ each) => [each.key, each]),
  );
  return { lookup, quantities: catalogue.quantities, tables, lookups, pulleys: [] };
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
