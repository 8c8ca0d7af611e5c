/**
 * The record's maps as cards: the finished ones to read and print, the unfinished ones to go on
 * with.
 */

import { nameOf, progressOf, ROUNDS_TO_WONDER, stageName } from "./progress.js";
import { byName } from "./makers_order.js";
import { button, make } from "../face/dom.js";

/** @typedef {import("./progress.js").BoltMap} BoltMap */

/** Day and time, as the phone writes them; a build file may leave one out. @param {string} at */
export function moment(at) {
  const when = new Date(at);
  // A map that a build file brings was not begun at any time.
  if (Number.isNaN(when.getTime())) return "no time noted";
  return when.toLocaleString(undefined, {
    day: "numeric",
    month: "short",
    year: "numeric",
    hour: "2-digit",
    minute: "2-digit",
  });
}

/** When something was last done to a map. @param {BoltMap} map */
export function lastTouched(map) {
  return map.steps.at(-1)?.at ?? map.started;
}

/** How far an unfinished map is. @param {BoltMap} map */
export function howFar(map) {
  const at = progressOf(map);
  if (at.ask.kind === "all done") return "Every bolt is done. It only has to be put in the record.";
  const where = stageName(map, at.stage);
  const doubtful = at.doubtful.size ? `, ${at.doubtful.size} in doubt` : "";
  return `${where}: ${at.settled.size} of ${map.places.length} done${doubtful}.`;
}

/** @param {BoltMap} map */
function lastWords(map) {
  const at = lastTouched(map);
  return at ? `last at ${moment(at)}` : "not begun yet";
}

/**
 * @param {BoltMap} map
 * @param {(map: BoltMap) => void} goOn
 * @param {(map: BoltMap) => void} drop
 */
export function unfinishedCard(map, goOn, drop) {
  return make("article", { class: "card", "data-unfinished-map": map.id }, [
    make("h3", {}, [`Not finished: ${map.title}`]),
    make("p", {}, [`${howFar(map)} ${[map.job, lastWords(map)].filter(Boolean).join(", ")}.`]),
    button("Go on", () => goOn(map), "go-button"),
    make("div", { class: "card-foot" }, [button("Drop this map", () => drop(map))]),
  ]);
}

/**
 * @param {BoltMap} map
 * @param {(map: BoltMap) => void} drop
 * @param {boolean} isNew just finished
 */
export function finishedCard(map, drop, isNew) {
  return make("li", { class: "card", "data-map": map.id, ...(isNew ? { tabindex: "-1" } : {}) }, [
    make("h3", {}, [map.title]),
    make("p", { class: "card-torque" }, [[map.torque, angleOf(map)].filter(Boolean).join(" + ")]),
    make(
      "dl",
      {},
      lines(map).map(([name, words]) =>
        make("div", {}, [make("dt", {}, [name]), make("dd", {}, [words])]),
      ),
    ),
    make("div", { class: "card-foot" }, [button("Delete", () => drop(map))]),
  ]);
}

/** @param {BoltMap} map */
function angleOf(map) {
  return map.stages
    .filter(({ kind }) => kind === "angle")
    .map(({ dial }) => dial.plain)
    .join(" + ");
}

/** A stage in the record. @param {import("./progress.js").Stage} stage */
function stageWords({ kind, share, dial }) {
  if (kind === "loosen") return `loosened ${dial.plain}`;
  if (kind === "check") return `check at ${dial.plain}`;
  return share ? `${Math.round(share * 100)} %: ${dial.plain}` : dial.plain;
}

/** @param {BoltMap} map */
function orderWords(map) {
  const order = map.stages[0].order.map((bolt) => nameOf(map, bolt)).join(", ");
  const by = map.orderBy === "maker" ? "the maker's" : "worked out, the maker gives none";
  return `${by}: ${order}`;
}

/** What the phone on the wrench read. @param {BoltMap} map */
function readWords(map) {
  return map.steps
    .flatMap((tap) =>
      tap.do === "done" && tap.read
        ? [`${nameOf(map, tap.bolt)}: ${tap.read.angle.toFixed(0)}° ± ${tap.read.band.toFixed(0)}°`]
        : [],
    )
    .join(", ");
}

/** @param {BoltMap} map @returns {[string, string][]} */
function lines(map) {
  const torque = map.stages.filter(({ kind }) => kind === "torque");
  const dials = map.stages
    .filter(({ kind, dial }) => kind !== "check" || dial.plain !== torque.at(-1)?.dial.plain)
    .map(stageWords)
    .join("; ");
  const { bolts, words } = map.offset;
  const offset = bolts.length
    ? `bolts ${names(map, bolts)}: ${torque.map(({ dial }) => dial.offset).join(", ")}; ${words}`
    : "";
  /** @type {[string, string][]} */
  const all = [
    ["Finished", moment(map.finished)],
    ["Begun", moment(map.started)],
    ["Bolts", [String(map.places.length), map.bolt].filter(Boolean).join(" × ")],
    ["Order", orderWords(map)],
    ["Dialled in", dials],
    ["Crowfoot", offset],
    ["Check pass", checkWords(map)],
    ["Angles read by the phone", readWords(map)],
    ["In doubt, then done again", names(map, doubted(map))],
    ["Figure from", map.source],
    ["Figure judged", map.judged],
    ["Wrench", map.wrench],
    ["Who", map.who],
    ["Noted", map.notes.join(" ")],
  ];
  return all.filter(([, said]) => said);
}

/** @param {BoltMap} map */
function checkWords(map) {
  if (!map.stages.some(({ kind }) => kind === "check")) return "none";
  const turned = map.steps.flatMap((tap) => (tap.do === "turned" ? [tap.bolt] : []));
  const rounds = progressOf(map).round + 1;
  if (rounds === 1) return "no bolt turned";
  const wonder = rounds > ROUNDS_TO_WONDER ? " Look for what gives." : "";
  return `${rounds} rounds; turned before the last: ${names(map, [...new Set(turned)])}.${wonder}`;
}

/** @param {BoltMap} map */
function doubted(map) {
  return [...new Set(map.steps.flatMap((tap) => (tap.do === "doubt" ? [tap.bolt] : [])))];
}

/** @param {BoltMap} map @param {number[]} bolts */
function names(map, bolts) {
  return bolts
    .map((bolt) => nameOf(map, bolt))
    .sort(byName)
    .join(", ");
}
