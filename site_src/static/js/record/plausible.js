/**
 * Is a maker's figure plausible? Judged by the torque page's own recipe; questioned, never
 * changed.
 *
 * @typedef {import("../model/catalogue.js").Kit} Kit
 * @typedef {import("../model/quantities.js").Unit} Unit
 * @typedef {import("../form/typed.js").Typed} Typed
 * @typedef {{grade: Object<string, string>, friction: string}} Assumed
 * @typedef {{thread: string, grade: string, friction: string, torque: Typed,
 *   angle: number | null}} Stated
 * @typedef {{status: string, words: string, beside: string}} Judged
 */

import { answerText, showAnswer } from "../face/words.js";
import { answerNamed, fieldNamed, optionNamed } from "../model/lookup.js";
import { convert, unitOf } from "../model/quantities.js";
import { explain } from "../recipe.js";

/**
 * How a judgement is stamped, by its status.
 * @type {Object<string, string>}
 */
export const STAMPS = { within: "plausible", near: "look again", beyond: "look again" };

/**
 * @param {Kit} torque the torque page's kit
 * @param {Stated} stated as entered; grade and friction may be ""
 * @param {Assumed} assumed what is taken where nothing is stated
 * @returns {Judged}
 */
export function judge(torque, stated, assumed) {
  const bolt = filledIn(torque, stated, assumed);
  const alone = reckon(torque, bolt, stated.torque, null);
  // With an angle after it a torque only seats the parts. One that is too much by itself is so
  // all the more.
  const isTooMuch = alone.ratios[0].status === "beyond";
  const { outcome, ratios } = isTooMuch ? alone : reckon(torque, bolt, stated.torque, stated.angle);
  const odd =
    ratios.find(({ status }) => status === "beyond") ??
    ratios.find(({ status }) => status === "near");
  const said = odd ?? ratios.find(({ status }) => status === "within") ?? ratios[0];
  const others = odd ? otherUnits(torque, bolt, stated) : [];
  const hint = others.length
    ? ` As ${others.join(" or ")} the same number would be plausible.`
    : "";
  return {
    status: said.status,
    words: said.words + hint,
    beside: besideWords(torque, bolt, stated, outcome),
  };
}

/** @param {Kit} torque @param {Stated} stated @param {Assumed} assumed */
function filledIn({ lookup }, { thread, grade, friction }, assumed) {
  const tag = optionNamed(fieldNamed(lookup, "thread"), thread)?.tag ?? "";
  return { thread, grade: grade || assumed.grade[tag], friction: friction || assumed.friction };
}

/**
 * @param {Kit} torque
 * @param {{thread: string, grade: string, friction: string}} bolt
 * @param {Typed} typed
 * @param {number | null} angle
 */
function reckon(torque, bolt, typed, angle) {
  const { lookup, quantities, tables } = torque;
  const declared = unitOf(quantities.torque.units, "Nm");
  const inputs = {
    ...bolt,
    maker_torque: convert(typed.value, typed.unit, declared),
    maker_angle: angle,
  };
  const outcome = explain(lookup, inputs, tables);
  const ratios = ["figure_over", "figure_under"].map((key) => {
    const answer = answerNamed(torque.lookup, key);
    return showAnswer(torque, answer, outcome, unitOf(quantities.ratio.units, ""), []);
  });
  return { outcome, ratios };
}

/**
 * Units in which the same number would be plausible.
 * @param {Kit} torque
 * @param {{thread: string, grade: string, friction: string}} bolt
 * @param {Stated} stated
 */
function otherUnits(torque, bolt, { torque: typed, angle }) {
  return torque.quantities.torque.units
    .filter((unit) => unit.key !== typed.unit.key)
    .filter((unit) =>
      reckon(torque, bolt, { value: typed.value, unit }, angle).ratios.every(
        ({ status }) => status === "within",
      ),
    )
    .map(({ label }) => `${typed.value} ${label}`);
}

/**
 * What is said beside the figure: the torque that was worked out, and for what.
 * @param {Kit} torque
 * @param {{thread: string, grade: string, friction: string}} bolt
 * @param {Stated} stated
 * @param {import("../recipe.js").Outcome} outcome
 */
function besideWords(torque, bolt, { grade, friction, torque: typed }, outcome) {
  const value = outcome.answers.worked_torque;
  if (value === undefined) return "";
  const declared = unitOf(torque.quantities.torque.units, "Nm");
  const worked = answerText(
    answerNamed(torque.lookup, "worked_torque"),
    typed.unit,
    convert(value, declared, typed.unit),
  );
  const [thread, strength, rub] = /** @type {const} */ (["thread", "grade", "friction"]).map(
    (key) => labelOf(torque, key, bolt[key]),
  );
  const open = [...(grade ? [] : [strength]), ...(friction ? [] : [rub])];
  const assumed = open.length ? ` Not stated, so taken: ${open.join(", ")}.` : "";
  return `Worked out: ${worked}, for ${thread}, ${strength}, ${rub}.${assumed}`;
}

/**
 * What a figure is for: its bolt, as far as the sheet says.
 * @param {Kit} torque @param {Object<string, string>} choices
 */
export function boltOf(torque, choices) {
  return ["thread", "grade", "friction", "joint", "tapped"]
    .filter((key) => choices[key])
    .map((key) => labelOf(torque, key, choices[key]))
    .join(" · ");
}

/** @param {Kit} torque @param {string} key @param {string} option */
export function labelOf({ lookup }, key, option) {
  return optionNamed(fieldNamed(lookup, key), option)?.label ?? option;
}
