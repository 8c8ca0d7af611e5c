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
import { isFault } from "../recipe.js";
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

/** @typedef {import("../model/quantities.js").Unit} Unit */

/**
 * @param {ParentNode} page @param {import("../model/catalogue.js").Kit} kit
 * @param {import("../form/entries.js").Entries} entries
 * @param {import("../recipe.js").Outcome} outcome
 * @param {import("./words.js").Shown[]} everything
 */
export function showWhy(page, kit, entries, outcome, everything) {
  if (!page.querySelector("[data-why-body]")) return;
  /** @param {string} symbol */
  const symbolText = (symbol) => {
    const si = outcome.symbols[symbol];
    const named = kit.lookup.fields.find(({ key }) => key === symbol);
    const field = named?.kind === "number" ? named : undefined;
    const answer = shownNamed(everything, symbol);
    const working = kit.lookup.workings.find((each) => each.symbol === symbol);
    const quantity = kit.quantities[(field ?? answer?.answer ?? working)?.quantity ?? ""];
    if (si === undefined || isFault(si)) return "—";
    // Degrees from a zero of their own can't be multiplied: a formula has absolute ones.
    if (quantity?.units[0].offset) return withUnit(fine(si, 5), quantity.si);
    if (field) return brief(field, entries, kit.quantities);
    if (answer) return withUnit(answer.text, answer.unit.label);
    return working ? workingText(kit, working, outcome) : bare(si);
  };
  for (const element of all(page, "[data-why-answer]")) {
    const filled = element.querySelector("[data-filled]");
    const shown = shownNamed(everything, element.dataset.whyAnswer);
    if (!filled || !shown) continue;
    write(
      filled,
      shown.fault
        ? "No numbers to put in: this set-up has no such answer."
        : fill(shown.answer.filled, symbolText),
    );
  }
  for (const working of kit.lookup.workings.filter(({ listed }) => listed)) {
    write(need(page, `[data-working="${working.symbol}"]`), workingText(kit, working, outcome));
  }
}

/**
 * @param {import("../model/catalogue.js").Kit} kit
 * @param {import("../model/lookup.js").Working} working
 * @param {import("../recipe.js").Outcome} outcome
 */
function workingText(kit, working, outcome) {
  const si = outcome.symbols[working.symbol];
  if (si === undefined || isFault(si)) return "—";
  const { quantity } = working;
  const { units } = kit.quantities[quantity];
  const own = unitOf(units, working.unit);
  const unit = unitOf(units, inSystem(kit.system, own.key, { quantity }, kit.quantities));
  return withUnit(rounded(fromSi(si, unit), asFine(working.decimals, own, unit)), unit.label);
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
