/** The pulleys that exist next to the one that was worked out, and what each of them gives. */

import { numberNamed } from "../model/lookup.js";
import { button, make, need, setStamp, write } from "../face/dom.js";
import { withUnit } from "../face/numbers.js";
import { answerText, showAnswer, shownNamed, STATUS_WORDS, worst } from "../face/words.js";
import { whenWorkedOut } from "../face/worked_out.js";
import { declaredOf } from "../form/entries.js";
import { entryOf, hasExamples, stockOf } from "../form/stock.js";
import { fromSi, unitOf, unitsOf } from "../model/quantities.js";
import { explain } from "../recipe.js";

/**
 * @typedef {import("../face/worked_out.js").WorkedOut} WorkedOut
 * @typedef {import("../model/lookup.js").NumberField} NumberField
 * @typedef {import("../face/words.js").Shown} Shown
 * @typedef {import("../form/stock.js").Listed} Listed
 */

const section = need(document, "[data-nearest]");
const { for: key = "", wanted: asked = "", gives = "" } = section.dataset;

whenWorkedOut(show);

/** @param {WorkedOut} worked */
function show(worked) {
  const { kit, inputs, outcome, everything } = worked;
  const wanted = shownNamed(everything, asked);
  section.hidden = !wanted || wanted.value === null;
  if (!wanted || wanted.value === null) return;
  const field = numberNamed(kit.lookup, key);
  const si = /** @type {number} */ (outcome.symbols[wanted.answer.symbol]);
  const stock = stockOf(field, kit, worked.entries);
  const picks = eitherSide(stock, fromSi(si, declaredOf(field, kit.quantities)));
  const [several, last] = hasExamples(field, kit)
    ? ["The nearest of our examples give:", "Our examples end there; the last one gives:"]
    : ["The shop's nearest give:", "The shop has none on the other side. Its nearest gives:"];
  write(
    need(section, "[data-asked]"),
    `Worked out: ${answerText(wanted.answer, wanted.unit, wanted.value)}. ${
      picks.length === 2 ? several : last
    }`,
  );
  need(section, "[data-picks]").replaceChildren(
    ...picks.map((pick) => drawPick(worked, field, pick, inputs)),
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
 * @param {WorkedOut} worked
 * @param {NumberField} field
 * @param {Listed} pick
 * @param {import("../recipe.js").Inputs} inputs
 */
function drawPick({ kit, entries, everything, enter }, field, pick, inputs) {
  const outcome = explain(kit.lookup, { ...inputs, [key]: pick.value }, kit.tables);
  const given = gives.split(" ").flatMap((each) => {
    const known = shownNamed(everything, each);
    return known ? [showAnswer(kit, known.answer, outcome, known.unit, [])] : [];
  });
  const entry = /** @type {import("../form/entries.js").NumberEntry} */ (entries[key]);
  const unit = unitOf(unitsOf(field, kit.quantities), entry.unit);
  const { text, from } = entryOf(field, pick, unit.key, kit.quantities);
  const lines = given.map((shown) =>
    make("div", {}, [
      make("dt", {}, [shown.answer.label]),
      make("dd", {}, [shown.fault ? "none" : withUnit(shown.text, shown.unit.label)]),
    ]),
  );
  return make("li", {}, [
    make("p", { class: "pick-head" }, [
      make("b", {}, [withUnit(text, unit.label)]),
      " ",
      stampOf(given),
    ]),
    make("dl", { class: "pairs" }, lines),
    button(`Use ${withUnit(text, unit.label)}`, () => enter(key, text, unit.key, from)),
  ]);
}

/** @param {Shown[]} given */
function stampOf(given) {
  const stamp = make("strong", { class: "stamp" });
  const status = worst(given)?.status ?? "";
  setStamp(stamp, status, STATUS_WORDS[status] ?? "");
  return stamp;
}
