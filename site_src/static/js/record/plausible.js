/**
 * Is a maker's figure plausible? Judged by the torque page's own recipe; questioned, never changed.
 *
 * @typedef {import("../model/catalogue.js").Kit} Kit
 * @typedef {import("../model/quantities.js").Unit} Unit
 * @typedef {import("../form/typed.js").Typed} Typed
 * @typedef {{grade: Object<string, string>, friction: string}} Assumed
 * @typedef {{thread: string, grade: string, friction: string, torque: Typed,
 *   angle: number | null}} Stated
 * @typedef {{status: string, words: string, beside: string}} Judged
 */

import { figure, showAnswer } from "../face/words.js";
import { convert, unitOf } from "../model/quantities.js";
import { explain } from "../recipe.js";

/**
 * @param {Kit} torque the torque page's kit
 * @param {Stated} stated as entered; grade and friction may be ""
 * @param {Assumed} assumed what is taken where nothing is stated
 * @returns {Judged}
 */
export function judge(torque, stated, assumed) {
  const bolt = filledIn(torque, stated, assumed);
  const { outcome, ratios } = work(torque, bolt, stated.torque, stated.angle);
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
  const threads = lookup.fields.find(({ key }) => key === "thread");
  const tag =
    threads?.kind === "choice"
      ? (threads.options.find(({ key }) => key === thread)?.tag ?? "")
      : "";
  return { thread, grade: grade || assumed.grade[tag], friction: friction || assumed.friction };
}

/**
 * @param {Kit} torque
 * @param {{thread: string, grade: string, friction: string}} bolt
 * @param {Typed} typed
 * @param {number | null} angle
 */
function work(torque, bolt, typed, angle) {
  const { lookup, quantities, tables } = torque;
  const declared = unitOf(quantities.torque.units, "Nm");
  const inputs = {
    ...bolt,
    maker_torque: convert(typed.value, typed.unit, declared),
    maker_angle: angle,
  };
  const outcome = explain(lookup, inputs, tables);
  const ratios = ["figure_over", "figure_under"].map((key) => {
    const answer = answerOf(torque, key);
    return showAnswer(torque, answer, outcome, unitOf(quantities.ratio.units, ""), []);
  });
  return { outcome, ratios };
}

/** @param {Kit} torque @param {string} key */
function answerOf({ lookup }, key) {
  const found = lookup.answers.find((answer) => answer.key === key);
  if (!found) throw new Error(`the torque page has no answer ${key}`);
  return found;
}

/**
 * Units in which the same number would raise no question.
 * @param {Kit} torque
 * @param {{thread: string, grade: string, friction: string}} bolt
 * @param {Stated} stated
 */
function otherUnits(torque, bolt, { torque: typed, angle }) {
  return torque.quantities.torque.units
    .filter((unit) => unit.key !== typed.unit.key)
    .filter((unit) =>
      work(torque, bolt, { value: typed.value, unit }, angle).ratios.every(
        ({ status }) => status === "within",
      ),
    )
    .map(({ label }) => `${typed.value} ${label}`);
}

/**
 * What stands beside the figure: the torque worked out, and for what.
 * @param {Kit} torque
 * @param {{thread: string, grade: string, friction: string}} bolt
 * @param {Stated} stated
 * @param {import("../recipe.js").Outcome} outcome
 */
function besideWords(torque, bolt, { grade, friction, torque: typed }, outcome) {
  const value = outcome.answers.worked_torque;
  if (value === undefined) return "";
  const declared = unitOf(torque.quantities.torque.units, "Nm");
  const worked = figure(
    answerOf(torque, "worked_torque"),
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

/** @param {Kit} torque @param {string} key @param {string} option */
export function labelOf({ lookup }, key, option) {
  const field = lookup.fields.find((each) => each.key === key);
  return field?.kind === "choice"
    ? (field.options.find((each) => each.key === option)?.label ?? option)
    : option;
}
