/**
 * What each part has of a whole, as bars, the largest first. The same rules as
 * site_src/face/shares.py.
 *
 * @typedef {import("../model/lookup.js").SharesView} SharesView
 * @typedef {import("../model/lookup.js").PartsField} PartsField
 * @typedef {import("./cells.js").State} State
 * @typedef {import("../recipe.js").Outcome} Outcome
 * @typedef {SharesView["portions"][number]} Portion
 * @typedef {{name: string, share: number}} Bar
 */

import { workOut } from "./cells.js";
import { draw, make, need, tell } from "./dom.js";
import { entryText } from "./each.js";
import { fixed, shown, withUnit } from "./numbers.js";
import { showAnswer } from "./words.js";
import { answerNamed, fieldNamed } from "../model/lookup.js";
import { fromSi } from "../model/quantities.js";
import { explain } from "../recipe.js";
import { isFault } from "../recipe/values.js";

const WIDTH = 340;

/** @param {ParentNode} page @param {State} state */
export function showShares(page, state) {
  const { views } = state.kit.lookup;
  const section = page.querySelector("[data-shares]");
  if (!views.shares || !section) return;
  const outcome = workOut(state, {}, state.kit.lookup.answers);
  const keys = views.shares.portions.flatMap(({ answers }) => Object.keys(answers));
  const first = answerNamed(state.kit.lookup, keys[0]);
  const silent = keys
    .map((key) => answerNamed(state.kit.lookup, key))
    .find((answer) => isFault(outcome.value(answer.symbol)));
  const words = silent
    ? showAnswer(state.kit, silent, outcome, state.unitFor(silent), state.problems).words
    : "";
  tell(need(section, "[data-silent]"), words);
  const bars = silent ? [] : views.shares.portions.flatMap((each) => barsOf(each, state, outcome));
  bars.sort((a, b) => b.share - a.share);
  const unit = state.unitFor(first);
  /** @param {number} share */
  const text = (share) =>
    withUnit(shown(fromSi(share, unit), first.decimals[unit.key]), unit.label);
  need(section, "[data-bars]").replaceChildren(
    ...bars.map(({ name, share }) =>
      make("li", {}, [
        make("span", { class: "bar-name" }, [name]),
        " ",
        make("b", {}, [text(share)]),
        drawBar(share),
      ]),
    ),
  );
}

/** @param {number} share */
function drawBar(share) {
  const width = fixed(Math.max(share * WIDTH, 1), 1);
  return draw("svg", { class: "bar", viewBox: "0 0 340 14", "aria-hidden": "true" }, [
    draw("rect", { class: "bar-whole", x: "0", y: "0", width: "340", height: "14" }),
    draw("rect", { class: "bar-part", x: "0", y: "0", width, height: "14" }),
  ]);
}

/** @param {Portion} portion @param {State} state @param {Outcome} outcome @returns {Bar[]} */
function barsOf(portion, state, outcome) {
  const { lookup } = state.kit;
  /** @param {string} key */
  const whole = (key) => Number(outcome.value(answerNamed(lookup, key).symbol));
  const keys = Object.entries(portion.answers);
  if (!portion.parts)
    return [{ name: portion.label, share: keys.reduce((sum, [key]) => sum + whole(key), 0) }];
  const parts = /** @type {PartsField} */ (fieldNamed(lookup, portion.parts));
  const rows = /** @type {Array<Object<string, any>>} */ (state.inputs[parts.key] ?? parts.default);
  const texts = /** @type {import("../form/entries.js").Row[]} */ (state.entries[parts.key]);
  return rows.map((row, n) => {
    const own = portion.names.map((key) => entryText(state, inside(parts, key), texts[n]));
    const share = keys.reduce((sum, [key, symbol]) => {
      const total = Number(outcome.value(symbol));
      return total
        ? sum + whole(key) * (ofRow(state, outcome, parts.key, symbol, row) / total)
        : sum;
    }, 0);
    return { name: `${portion.label} ${n + 1}: ${own.join(", ")}`, share };
  });
}

/**
 * Run the step that adds up a list for one row of it; all else is as it was worked out.
 * @param {State} state @param {Outcome} outcome @param {string} parts @param {string} symbol
 * @param {Object<string, any>} row
 */
function ofRow(state, outcome, parts, symbol, row) {
  const { lookup, tables } = state.kit;
  const step = lookup.steps.find((each) => each.as === symbol);
  const ofRows = lookup.steps.filter((each) => each.op === "rows" && each.parts === parts);
  const known = outcome.numbers().map(([as, plus]) => ({ op: "sum", as, of: [], plus }));
  const alone = { ...lookup, steps: [...known, ...ofRows, step], answers: [] };
  return Number(explain(alone, { ...state.inputs, [parts]: [row] }, tables).value(symbol));
}

/** @param {PartsField} parts @param {string} key */
function inside(parts, key) {
  const found = parts.fields.find((field) => field.key === key);
  if (!found) throw new Error(`${parts.key} has no entry ${key}`);
  return found;
}
