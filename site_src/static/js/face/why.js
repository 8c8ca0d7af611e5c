/**
 * "How this is worked out": this set-up's numbers put into each formula, and the values on the way.
 */

import { all, need, write } from "./dom.js";
import { fine, powerOfTen, shown as rounded, withUnit } from "./numbers.js";
import { bare, fill, shownNamed } from "./words.js";
import { brief } from "../form/entries.js";
import { fromSi, inSystem, unitOf } from "../model/quantities.js";
import { isFault } from "../recipe.js";

/** @typedef {import("../model/quantities.js").Unit} Unit */

/**
 * @param {ParentNode} page @param {import("../model/catalogue.js").Kit} kit
 * @param {import("../form/entries.js").Entries} entries
 * @param {import("../recipe.js").Outcome} outcome
 * @param {import("./words.js").Shown[]} everything
 */
export function showWhy(page, kit, entries, outcome, everything) {
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
