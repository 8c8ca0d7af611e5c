/**
 * What a run says, in words: the verdict, the causes with their sizes, what to check, what would
 * tell more. All words come from site_src/pages/first_runs.py. No DOM.
 *
 * @typedef {{key: string, title: string, size: string, less: string, evidence: string,
 *   check: string, page: string}} Told
 * @typedef {{told: Told[], verdicts: Object<string, [string, string]>,
 *   tells: Object<string, string>, strong: number, pairs: [string, string][], nothing: number,
 *   sure: number, likely: number, untold: number, several: number}} Words
 * @typedef {{told: Told, size: string}} Named
 * @typedef {{verdict: number, stamp: string, status: string, title: string, words: string,
 *   causes: Named[], fit: string, tells: string[], alone: string}} Finding  `alone`: the cause, if
 *   it is one
 */

import { answerText } from "../face/words.js";
import { answerNamed } from "../model/lookup.js";
import { fromSi } from "../model/quantities.js";

/**
 * @param {Words} words
 * @param {import("./weigh.js").Weighed} weighed
 * @param {import("../model/lookup.js").Lookup} lookup that of the causes
 * @param {(answer: import("../model/lookup.js").Answer) => import("../model/quantities.js").Unit}
 *   unitFor
 * @param {boolean} hasRest whether the boost gauge was read at rest
 * @returns {Finding}
 */
export function findingOf(words, weighed, lookup, unitFor, hasRest) {
  const value = (/** @type {string} */ key) => weighed.causes.number(key) ?? NaN;
  const verdict = value("verdict");
  const [stamp, more] = words.verdicts[String(verdict)];
  const first = words.told[value("first")];
  const named = listed(words, verdict, value, first.key);
  const several = verdict === words.several;
  const causes = named.map((key) => {
    const told = /** @type {Told} */ (words.told.find((each) => each.key === key));
    return { told, size: several ? "" : sizeWords(told, value, lookup, unitFor) };
  });
  const hasOne = verdict === words.sure || verdict === words.likely;
  return {
    verdict,
    stamp,
    status: statusOf(words, verdict),
    title: hasOne
      ? first.title
      : causes.length
        ? causes.map(({ told }) => told.title).join("; or ")
        : stamp,
    words: more,
    causes,
    fit: fitWords(words, verdict, value),
    tells: verdict === words.sure ? [] : tells(words, weighed, hasRest),
    alone: hasOne ? first.key : "",
  };
}

/**
 * The causes that a verdict names.
 * @param {Words} words @param {number} verdict @param {(key: string) => number} value
 * @param {string} first
 */
function listed(words, verdict, value, first) {
  if (verdict === words.sure || verdict === words.likely) return [first];
  if (verdict === words.several) return words.pairs[value("pair")];
  if (verdict !== words.untold) return [];
  return words.told
    .map(({ key }) => key)
    .filter((key) => value(`${key}_behind`) < words.strong)
    .sort((a, b) => value(`${a}_behind`) - value(`${b}_behind`));
}

/** @param {Words} words @param {number} verdict */
function statusOf(words, verdict) {
  if (verdict === words.nothing) return "within";
  if (verdict === words.sure) return "beyond";
  return verdict > words.several + 1 ? "unchecked" : "near";
}

/**
 * A cause's size, give or take.
 * @param {Told} told @param {(key: string) => number} value
 * @param {import("../model/lookup.js").Lookup} lookup
 * @param {(answer: import("../model/lookup.js").Answer) => import("../model/quantities.js").Unit}
 *   unitFor
 */
function sizeWords(told, value, lookup, unitFor) {
  const answer = answerNamed(lookup, `${told.key}_size`);
  const [size, unsure] = [value(`${told.key}_size`), value(`${told.key}_unsure`)];
  if (Number.isNaN(size) || Number.isNaN(unsure)) return "";
  const unit = unitFor(answer);
  const text = (/** @type {number} */ si) => answerText(answer, unit, fromSi(si, unit));
  const template = size < 0 && told.less ? told.less : told.size;
  return template.replace("{size}", text(Math.abs(size))).replace("{unsure}", text(unsure));
}

/** @param {Words} words @param {number} verdict @param {(key: string) => number} value */
function fitWords(words, verdict, value) {
  const count = value("count");
  if (verdict > words.several + 1) return "";
  const before = value("misfit_each").toFixed(1);
  const after = value("misfit_left").toFixed(1);
  const good = "About 1 is what gauges are good for.";
  return verdict === words.nothing
    ? `${count} readings of all gauges, off by ${before} each. ${good}`
    : `${count} readings of all gauges: off by ${before} each without a cause, by ${after} with the best one. ${good}`;
}

/** @param {Words} words @param {import("./weigh.js").Weighed} weighed @param {boolean} hasRest */
function tells(words, { readings }, hasRest) {
  return Object.entries(words.tells)
    .filter(([key]) => (key === "run_rest" ? !hasRest : !readings.some(({ bin }) => key in bin)))
    .map(([, said]) => said);
}
