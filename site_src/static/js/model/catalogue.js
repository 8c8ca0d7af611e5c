/**
 * What a page works with, from the site's files: its lookup, the units, the tables; and whether
 * they belong together.
 *
 * @typedef {import("../recipe/grid.js").Grid} Grid
 * @typedef {import("./lookup.js").Lookup} Lookup
 * @typedef {import("./quantities.js").Quantities} Quantities
 * @typedef {import("../record/pulleys.js").Pulley} Pulley
 * @typedef {{page: string, symbol: string}} Source
 * @typedef {Object<string, Source>} Sources  by the entry's key
 * @typedef {{follows: Sources, offers: Object<string, Source & {known_by: string[]}>,
 *   apart: Object<string, string[]>, passing: string[], usual: string[]}} TruckRules  as in
 *   site_src/lookups/truck.py
 * @typedef {{lookup: Lookup, quantities: Quantities, tables: Object<string, Grid>,
 *   lookups: Object<string, Lookup>, truck: TruckRules, titles: Object<string, string>,
 *   tablesOf: (lookup: Lookup) => Object<string, Grid>, pulleys: Pulley[],
 *   makers: import("../record/figures.js").Kind[], behind: string[],
 *   beside: () => Promise<boolean>, offering: () => Promise<boolean>,
 *   everything: () => Promise<boolean>, system: string,
 *   measureIn: (system: string) => void}} Kit  `lookups`: those that were read, by their keys;
 *   `titles`: every lookup's; `tables`: those of the page's own; `pulleys`: the shop's own, once
 *   they are read; `makers`: the kinds of makers' figures; `behind`: the keys of those that the
 *   page's own follows; `beside` reads the lookups that have something to add to it, `offering`
 *   those that may have a better value for one of its entries, `everything` all of them; each says
 *   whether any came;
 *   `system`: the shop's, whose examples the fields have; `measureIn` gives them another's
 */

import { measureIn } from "./system.js";
import { nameSteps } from "./terse.js";
import { decodeTable } from "../recipe/grid.js";
import { recall } from "../record/store.js";
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
  /** @param {string} system */
  const measure = (system) => {
    own.system = system;
    measureIn(fields, system, kit.quantities);
    kit.measureIn(system);
  };
  const own = { ...kit, lookup: { ...kit.lookup, key, fields }, measureIn: measure };
  measureIn(fields, kit.system, kit.quantities);
  return own;
}

/**
 * @typedef {{lookup: Lookup, tables: Object<string, any>}} Read  a lookup, its tables' entries
 * @typedef {{head: any, lookups: Map<string, string>}} Part  of the catalogue: what all its lookups
 *   share, and each of them as text
 */

/**
 * What a page works with: lookups, and those without which they can't be filled in.
 * @param {...string} keys of lookups, the page's own first
 */
export function load(...keys) {
  return loadFrom("common", keys);
}

/**
 * What a page works with that takes all lookups.
 * @param {string} key of its own
 */
export async function loadAll(key) {
  const kit = await loadFrom("every", [key]);
  await kit.everything();
  return kit;
}

/**
 * @param {string} first the part to begin with, which says where the lookups are
 * @param {string[]} keys
 * @returns {Promise<Kit>}
 */
async function loadFrom(first, keys) {
  // In a turn of its own: whatever watches requests wants to know who asks, and the engine parses
  // all that called again for it, the page's whole script.
  await null;
  const [common, numbers] = await Promise.all([
    readPart(first),
    fetched("static/tables/tables.bin").then((response) => response.arrayBuffer()),
  ]);
  sameVersion({ tables: versionAtEnd(numbers) });
  /** @type {Object<string, any>} */
  const entries = {};
  /** @type {Object<string, Lookup>} */
  const lookups = {};
  const {
    quantities,
    truck,
    makers,
    titles,
    part_of: partOf,
    behind,
    beside,
    offering,
  } = common.head;
  const kit = {
    ...{ lookups, quantities, truck, makers, titles, pulleys: [], system: recall().system },
    /** @param {string} system */
    measureIn(system) {
      kit.system = system;
      for (const { fields } of Object.values(lookups)) measureIn(fields, system, quantities);
    },
  };
  const keep = (/** @type {Read} */ { lookup, tables }) => {
    Object.assign(entries, tables);
    nameSteps(lookup.steps);
    measureIn(lookup.fields, kit.system, quantities);
    lookups[lookup.key] = lookup;
  };
  /**
   * Parts that were asked for, by name: they hold more than a page needs at first.
   * @type {Object<string, Promise<Part>>}
   */
  const parts = { [first]: Promise.resolve(common) };
  const read = async (/** @type {string} */ key) => {
    const name = partOf[key];
    const { lookups: held } = await (parts[name] ??= readPart(name));
    const text = held.get(key);
    if (!text) throw new Error(`${key} is not in its part, ${name}`);
    return JSON.parse(text);
  };
  const add = async (/** @type {string[]} */ wanted) => {
    const all = new Set(wanted.flatMap((key) => [key, ...behind[key]]));
    const missing = await Promise.all([...all].filter((key) => !lookups[key]).map(read));
    missing.forEach(keep);
    return missing.length > 0;
  };
  await add(keys);
  const tablesOf = decoding(entries, numbers);
  const [lookup] = keys.map((key) => lookups[key]);
  return Object.assign(kit, {
    ...{ lookup, tablesOf, tables: tablesOf(lookup) },
    behind: behind[lookup.key],
    beside: () => add(beside[lookup.key]),
    offering: () => add(offering[lookup.key]),
    everything: () => add(Object.keys(titles)),
  });
}

/**
 * Read a part of the catalogue. Each of its lookups is a line of its own, to be parsed when wanted,
 * and so are the commas between them.
 * @param {string} name @returns {Promise<Part>}
 */
async function readPart(name) {
  const response = await fetched(`static/lookups/${name}.json`);
  const [first, ...lines] = (await response.text()).split("\n");
  const head = JSON.parse(`${first}]}`);
  sameVersion({ [name]: head.version });
  const lookups = head.held.map((/** @type {string} */ key, /** @type {number} */ n) => [
    key,
    lines[2 * n],
  ]);
  return { head, lookups: new Map(lookups) };
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

/** @param {Object<string, string>} versions of what was read, by its name */
function sameVersion(versions) {
  const page = document.querySelector('meta[name="bay-version"]')?.getAttribute("content");
  if ([page, ...Object.values(versions)].some((each) => each !== VERSION)) {
    const read = Object.entries(versions).map(([name, each]) => `${name} ${each}`);
    throw new VersionError([`page ${page}, scripts ${VERSION}`, ...read].join(", "));
  }
}
