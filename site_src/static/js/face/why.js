/**
 * "How this is worked out": this set-up's numbers put into each formula, and the values on the way.
 * The formulas are on a page of their own, and are brought here when they are asked for: few are,
 * and every page would take longer to its answer.
 */

import { all, need, tell, write } from "./dom.js";
import { fine, powerOfTen, shown as rounded, withUnit } from "./numbers.js";
import { bare, fill, shownNamed } from "./words.js";
import { brief } from "../form/entries.js";
import { fromSi, inSystem, unitOf } from "../model/quantities.js";
import { isFault } from "../recipe/values.js";
import { VERSION } from "../version.js";

const LOST =
  "The formulas could not be loaded. Load the page again; without a signal they are only on a phone that has kept the site.";

/**
 * Bring the formulas to the page when they are asked for.
 * @param {ParentNode} page @param {() => void} brought called when they are there
 */
export function bindWhy(page, brought) {
  const way = /** @type {HTMLAnchorElement} */ (need(page, "[data-why-way]"));
  const problem = need(page, "[data-why-problem]");
  way.addEventListener("click", async (event) => {
    // He wants them beside this page, in a tab of their own.
    if (event.ctrlKey || event.metaKey || event.shiftKey) return;
    event.preventDefault();
    tell(problem, "");
    const body = await readBody(way.href).catch(() => null);
    if (!body) {
      tell(problem, LOST);
      return;
    }
    way.replaceWith(body);
    brought();
    body.querySelector("summary")?.focus({ preventScroll: true });
  });
}

/**
 * The formulas of another page; nothing if they are of another version than this one.
 * @param {string} address
 */
async function readBody(address) {
  const response = await fetch(address);
  if (!response.ok) return null;
  const read = new DOMParser().parseFromString(await response.text(), "text/html");
  if (read.querySelector('meta[name="bay-version"]')?.getAttribute("content") !== VERSION)
    return null;
  return read.querySelector("[data-why-body]");
}

/**
 * @typedef {import("../model/quantities.js").Unit} Unit
 * @typedef {[symbol: string, quantity: string, unit: string, decimals: number]} Working  a value on
 *   the way, and how it is written
 */

/**
 * @param {ParentNode} page @param {import("../model/catalogue.js").Kit} kit
 * @param {import("../form/entries.js").Entries} entries
 * @param {import("../recipe.js").Outcome} outcome
 * @param {import("./words.js").Shown[]} everything
 */
export function showWhy(page, kit, entries, outcome, everything) {
  const body = page.querySelector("[data-why-body]");
  if (!(body instanceof HTMLElement)) return;
  /** @type {Working[]} */
  const workings = JSON.parse(body.dataset.workings ?? "[]");
  /** @param {string} symbol @param {number} si */
  const text = (symbol, si) => {
    const named = kit.lookup.fields.find(({ key }) => key === symbol);
    const field = named?.kind === "number" ? named : undefined;
    const answer = shownNamed(everything, symbol);
    const working = workings.find(([each]) => each === symbol);
    const [, ofWorking = ""] = working ?? [];
    const quantity = kit.quantities[(field ?? answer?.answer)?.quantity ?? ofWorking];
    // Degrees from a zero of their own can't be multiplied: a formula has absolute ones.
    if (quantity?.units[0].offset) return withUnit(fine(si, 5), quantity.si);
    if (field) return brief(field, entries, kit.quantities);
    if (answer) return withUnit(answer.text, answer.unit.label);
    return working ? workingText(kit, working, outcome) : bare(si);
  };
  /** @param {string} symbol */
  const symbolText = (symbol) => {
    const si = outcome.value(symbol);
    return si === undefined || isFault(si) ? "—" : text(symbol, si);
  };
  for (const element of all(body, "[data-why-answer]")) {
    const filled = need(element, "[data-filled]");
    const shown = shownNamed(everything, element.dataset.whyAnswer);
    if (!shown) continue;
    write(
      filled,
      shown.fault
        ? "No numbers to put in: this set-up has no such answer."
        : fill(filled.dataset.filled ?? "", symbolText),
    );
  }
  for (const element of all(body, "[data-working]")) {
    const working = workings.find(([each]) => each === element.dataset.working);
    if (working) write(element, workingText(kit, working, outcome));
  }
}

/**
 * @param {import("../model/catalogue.js").Kit} kit
 * @param {Working} working
 * @param {import("../recipe.js").Outcome} outcome
 */
function workingText(kit, [symbol, quantity, unitKey, decimals], outcome) {
  const si = outcome.value(symbol);
  if (si === undefined || isFault(si)) return "—";
  const { units } = kit.quantities[quantity];
  const own = unitOf(units, unitKey);
  const unit = unitOf(units, inSystem(kit.system, own.key, { quantity }, kit.quantities));
  return withUnit(rounded(fromSi(si, unit), asFine(decimals, own, unit)), unit.label);
}

/**
 * Decimals with which a value in another unit is as fine as it was, or just finer.
 * @param {number} decimals in its own unit @param {Unit} own @param {Unit} unit
 */
function asFine(decimals, own, unit) {
  if (own.key === unit.key) return decimals;
  const finest = (own.factor / unit.factor) * Number(`1e-${decimals}`);
  return Math.max(0, -powerOfTen(finest).exponent);
}
