/**
 * The record's maps as cards: the finished ones to read and print, the unfinished ones to go on
 * with.
 */

import { nameOf, ROUNDS_TO_WONDER, standing } from "./progress.js";
import { make } from "../face/dom.js";

/** @typedef {import("./progress.js").Work} Work */

/** Day and time, as the phone writes them. @param {string} at */
export function moment(at) {
  return new Date(at).toLocaleString(undefined, {
    day: "numeric",
    month: "short",
    year: "numeric",
    hour: "2-digit",
    minute: "2-digit",
  });
}

/** When something was last done to a map. @param {Work} work */
export function lastTouched(work) {
  return work.steps.at(-1)?.at ?? work.started;
}

/** How far an unfinished map is. @param {Work} work */
export function howFar(work) {
  const at = standing(work);
  if (at.ask.kind === "all done") return "Every bolt is done. It only has to be put in the record.";
  const { kind } = work.stages[at.stage];
  const where =
    kind === "check" ? "Check pass" : kind === "angle" ? "Angle" : `Pass ${at.stage + 1}`;
  const doubtful = at.doubtful.size ? `, ${at.doubtful.size} in doubt` : "";
  return `${where}: ${at.settled.size} of ${work.places.length} done${doubtful}.`;
}

/** @param {Work} work @param {(work: Work) => void} goOn @param {(work: Work) => void} drop */
export function unfinishedCard(work, goOn, drop) {
  const on = make("button", { type: "button", class: "go-button" }, ["Go on"]);
  on.addEventListener("click", () => goOn(work));
  const off = make("button", { type: "button", class: "plain" }, ["Drop this map"]);
  off.addEventListener("click", () => drop(work));
  return make("article", { class: "card", "data-unfinished-map": work.id }, [
    make("h3", {}, [`Not finished: ${work.title}`]),
    make("p", {}, [`${howFar(work)} ${work.job}, last at ${moment(lastTouched(work))}.`]),
    on,
    make("div", { class: "card-foot" }, [off]),
  ]);
}

/** @param {Work} work @param {(work: Work) => void} drop @param {boolean} isNew just finished */
export function finishedCard(work, drop, isNew) {
  const off = make("button", { type: "button", class: "plain" }, ["Delete"]);
  off.addEventListener("click", () => drop(work));
  return make("li", { class: "card", "data-map": work.id, ...(isNew ? { tabindex: "-1" } : {}) }, [
    make("h3", {}, [work.title]),
    make("p", { class: "card-figure" }, [[work.torque, angleOf(work)].filter(Boolean).join(" + ")]),
    make(
      "dl",
      {},
      lines(work).map(([name, words]) =>
        make("div", {}, [make("dt", {}, [name]), make("dd", {}, [words])]),
      ),
    ),
    make("div", { class: "card-foot" }, [off]),
  ]);
}

/** @param {Work} work */
function angleOf(work) {
  return work.stages.find(({ kind }) => kind === "angle")?.dial.plain ?? "";
}

/** @param {Work} work @returns {[string, string][]} */
function lines(work) {
  const torque = work.stages.filter(({ kind }) => kind === "torque");
  const dials = torque
    .map(({ share, dial }) => `${Math.round(share * 100)} %: ${dial.plain}`)
    .join("; ");
  const { bolts, words } = work.offset;
  const offset = bolts.length
    ? `bolts ${names(work, bolts)}: ${torque.map(({ dial }) => dial.offset).join(", ")}; ${words}`
    : "";
  /** @type {[string, string][]} */
  const all = [
    ["Finished", moment(work.finished)],
    ["Begun", moment(work.started)],
    ["Bolts", String(work.places.length)],
    ["Dialled in", dials],
    ["Crowfoot", offset],
    ["Check pass", checkWords(work)],
    ["In doubt, then done again", names(work, doubted(work))],
    ["Figure from", work.source],
    ["Wrench", work.wrench],
    ["Who", work.who],
    ["Noted", work.notes.join(" ")],
  ];
  return all.filter(([, said]) => said);
}

/** @param {Work} work */
function checkWords(work) {
  if (!work.stages.some(({ kind }) => kind === "check")) return "none";
  const turned = work.steps.flatMap((step) => (step.do === "turned" ? [step.bolt] : []));
  const rounds = standing(work).round + 1;
  if (rounds === 1) return "no bolt turned";
  const wonder = rounds > ROUNDS_TO_WONDER ? " Look for what gives." : "";
  return `${rounds} rounds; turned before the last: ${names(work, [...new Set(turned)])}.${wonder}`;
}

/** @param {Work} work */
function doubted(work) {
  return [...new Set(work.steps.flatMap((step) => (step.do === "doubt" ? [step.bolt] : [])))];
}

/** @param {Work} work @param {number[]} bolts */
function names(work, bolts) {
  return bolts
    .map((bolt) => nameOf(work, bolt))
    .sort((a, b) => a - b)
    .join(", ");
}
