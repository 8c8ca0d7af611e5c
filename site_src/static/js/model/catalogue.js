/**
 * What the page works with: its lookup, the units, the tables; and whether they belong together.
 *
 * @typedef {import("../face/numbers.js").Unit} Unit
 * @typedef {import("../recipe.js").Grid} Grid
 * @typedef {{field: string, is: string[]} | null} When
 * @typedef {{kind: "number", key: string, label: string, quantity: string, unit: string,
 *   low: number, high: number, default: number | null, step: number, steps: number[],
 *   measure: string, way_out: string, first: boolean, when: When, group: string, kept: boolean,
 *   stands_before: string}} NumberField
 * @typedef {{key: string, label: string, tag: string, group: string}} Option
 * @typedef {{kind: "choice", key: string, label: string, options: Option[], default: string,
 *   measure: string, first: boolean, when: When, group: string, match: string}} ChoiceField
 * @typedef {{kind: "parts", key: string, label: string, fields: Array<NumberField | ChoiceField>,
 *   most: number, default: Array<Object<string, number | string>>, measure: string,
 *   first: boolean, when: When, group: string}} PartsField
 * @typedef {NumberField | ChoiceField | PartsField} Field
 * @typedef {{side: string, limit: string | number, near: string | number,
 *   words: Object<string, string>}} Band
 * @typedef {{key: string, label: string, quantity: string, unit: string, si: [number, number],
 *   decimals: Object<string, number>, filled: string, symbol: string, band: Band | null,
 *   rank: string, note: string, optional: boolean}} Answer
 * @typedef {{symbol: string, label: string, quantity: string, unit: string,
 *   decimals: number}} Working
 * @typedef {{title: string, answer: string, rows: string, row_values: Array<number | string>,
 *   columns: string, column_values: number[], also: string[], unit: string}} GridView
 * @typedef {{title: string, answer: string, over: string, values: number[]}} CurveView
 * @typedef {{key: string, title: string, fields: Field[], steps: any[], answers: Answer[],
 *   workings: Working[], tables: string[],
 *   views: {grids: GridView[], curves: CurveView[],
 *     advice: import("../face/advice.js").AdviceView[],
 *     ladder: {title: string, rungs: Rung[]} | null, compare: CompareView | null}}} Lookup
 * @typedef {{answer: string, label: string, first: string, page: string,
 *   feeds: Object<string, string>}} Rung
 * @typedef {{title: string, field: string, others: string[], answers: string[]}} CompareView
 * @typedef {Object<string, {si: string, units: Unit[], inch: Object<string, string>}>} Quantities
 * @typedef {{lookup: Lookup, quantities: Quantities, tables: Object<string, Grid>,
 *   pages: Object<string, Lookup>}} Kit  `pages`: every lookup by its key, without tables
 */

import { decodeTable } from "../recipe.js";
import { VERSION } from "../version.js";

const ROOT = new URL("../../../", import.meta.url);

/** Page, script and tables are of different versions, so that nothing may be worked out. */
export class VersionError extends Error {}

/** @param {string} key the lookup's @returns {Promise<Kit>} */
export async function load(key) {
  const [catalogue, numbers] = await Promise.all([
    fetched("lookups.json").then((response) => response.json()),
    fetched("static/tables/tables.bin").then((response) => response.arrayBuffer()),
  ]);
  sameVersion(catalogue.version);
  const lookup = catalogue.lookups.find((/** @type {Lookup} */ each) => each.key === key);
  if (!lookup) throw new Error(`lookups.json has no entry ${key}`);
  const tables = Object.fromEntries(
    lookup.tables.map((/** @type {string} */ name) => [
      name,
      decodeTable(catalogue.tables[name], numbers),
    ]),
  );
  const pages = Object.fromEntries(
    catalogue.lookups.map((/** @type {Lookup} */ each) => [each.key, each]),
  );
  return { lookup, quantities: catalogue.quantities, tables, pages };
}

/** @param {string} path from the site's root */
async function fetched(path) {
  const response = await fetch(new URL(path, ROOT));
  if (!response.ok) throw new Error(`${path} answered ${response.status}`);
  return response;
}

/** @param {string} tables the version that lookups.json carries */
function sameVersion(tables) {
  const page = document.querySelector('meta[name="bay-version"]')?.getAttribute("content");
  if (page !== VERSION || tables !== VERSION) {
    throw new VersionError(`page ${page}, scripts ${VERSION}, tables ${tables}`);
  }
}
