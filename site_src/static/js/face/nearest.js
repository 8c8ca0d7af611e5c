/**
 * What exists next to what was worked out, and what each of them gives: pulleys of the shop, belts
 * of the lengths that are made.
 */

import { numberNamed } from "../model/lookup.js";
import { button, make, need, setStamp, write } from "./dom.js";
import { NO_NUMBER, withUnit } from "./numbers.js";
import { answerText, showAnswer, shownNamed, STATUS_WORDS, worst } from "./words.js";
import { declaredOf } from "../form/entries.js";
import { entryOf, hasExamples, stockOf } from "../form/stock.js";
import { fromSi, unitOf, unitsOf } from "../model/quantities.js";
import { explain } from "../recipe.js";

/**
 * @typedef {import("./worked_out.js").WorkedOut} WorkedOut
 * @typedef {import("../model/lookup.js").NumberField} NumberField
 * @typedef {import("./words.js").Shown} Shown
 * @typedef {import("../form/stock.js").Listed} Listed
 */

/**
 * @param {HTMLElement} section it says for which field, by which answer, what is shown of each, and
 *   what they are called if they are no pulleys
 * @param {WorkedOut} worked
 */
export function showNearest(section, worked) {
  const { for: key = "", wanted: asked = "", gives = "", called = "" } = section.dataset;
  const { kit, inputs, outcome, everything } = worked;
  const wanted = shownNamed(everything, asked);
  // Beside an entry that can't be used nothing is called within, this neither.
  const isWrong = worked.problems.length > 0;
  section.hidden = isWrong || !wanted || wanted.value === null;
  if (isWrong || !wanted || wanted.value === null) {
    need(section, "[data-picks]").replaceChildren();
    return;
  }
  const field = numberNamed(kit.lookup, key);
  const si = /** @type {number} */ (outcome.value(wanted.answer.symbol));
  const stock = stockOf(field, kit, worked.entries);
  const picks = eitherSide(stock, fromSi(si, declaredOf(field, kit.quantities)));
  const words = hasExamples(field, kit)
    ? ["The nearest of our examples give:", "Our examples end there; the last one gives:"]
    : ["The shop's nearest give:", "The shop has none on the other side. Its nearest gives:"];
  const [several, last] = called ? [`The nearest ${called} give:`, "It gives:"] : words;
  write(
    need(section, "[data-asked]"),
    `Worked out: ${answerText(wanted.answer, wanted.unit, wanted.value)}. ${
      picks.length === 2 ? several : last
    }`,
  );
  need(section, "[data-picks]").replaceChildren(
    ...picks.map((pick) => drawPick(gives, worked, field, pick, inputs)),
  );
}

/**
 * The listed values next to one, below and above.
 * @param {Listed[]} listed rising
 * @param {number} size
 */
function eitherSide(listed, size) {
  const above = listed.find(({ value }) => value >= size);
  const below = listed.filter(({ value }) => value < size).at(-1);
  return [below, above].filter((each) => each !== undefined);
}

/**
 * @param {string} gives
 * @param {WorkedOut} worked
 * @param {NumberField} field
 * @param {Listed} pick
 * @param {import("../recipe/values.js").Inputs} inputs
 */
function drawPick(gives, { kit, entries, everything, enter }, field, pick, inputs) {
  const outcome = explain(kit.lookup, { ...inputs, [field.key]: pick.value }, kit.tables);
  const given = gives.split(" ").flatMap((each) => {
    const known = shownNamed(everything, each);
    return known ? [showAnswer(kit, known.answer, outcome, known.unit, [])] : [];
  });
  const entry = /** @type {import("../form/entries.js").NumberEntry} */ (entries[field.key]);
  const unit = unitOf(unitsOf(field, kit.quantities), entry.unit);
  const { text, from } = entryOf(field, pick, unit.key, kit.quantities);
  const lines = given.map((shown) =>
    make("div", {}, [
      make("dt", {}, [shown.answer.label]),
      make("dd", {}, [shown.fault ? NO_NUMBER : withUnit(shown.text, shown.unit.label)]),
    ]),
  );
  return make("li", {}, [
    make("p", { class: "pick-head" }, [
      make("b", {}, [withUnit(text, unit.label)]),
      " ",
      stampOf(given),
    ]),
    make("dl", { class: "pairs" }, lines),
    button(`Use ${withUnit(text, unit.label)}`, () => enter(field.key, text, unit.key, from)),
  ]);
}

/** @param {Shown[]} given */
function stampOf(given) {
  const stamp = make("strong", { class: "stamp" });
  const status = worst(given)?.status ?? "";
  setStamp(stamp, status, STATUS_WORDS[status] ?? "");
  return stamp;
}
