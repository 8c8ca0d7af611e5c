/**
 * The stages of a map from the rows of the form: torques or shares, angles, loosening, checks. What
 * is dialled in comes from the torque page's own recipe. No DOM.
 *
 * @typedef {import("../form/entries.js").Entries} Entries
 * @typedef {import("../form/entries.js").NumberEntry} NumberEntry
 * @typedef {import("../form/entries.js").Problem} Problem
 * @typedef {import("../form/typed.js").Typed} Typed
 * @typedef {import("../model/catalogue.js").Kit} Kit
 * @typedef {import("../model/quantities.js").Unit} Unit
 * @typedef {import("../recipe/values.js").Inputs} Inputs
 * @typedef {import("./progress.js").Stage} Stage
 * @typedef {import("./progress.js").Dial} Dial
 * @typedef {{do: string, share: number, torque: number | null, angle: number | null}} StageRow
 * @typedef {{typed: Typed, torque: number}} Given  a torque as typed, and in N·m
 */

import { answerNamed, numberNamed } from "../model/lookup.js";
import { convert, fromSi, unitsOf } from "../model/quantities.js";
import { declaredOf, meant } from "../form/entries.js";
import { misread } from "../form/typed.js";
import { fixed, trimmed, withUnit } from "../face/numbers.js";
import { faultWords, showAnswer } from "../face/words.js";
import { explain } from "../recipe.js";

const SAME = 0.005;

/** @param {Inputs} inputs @returns {StageRow[]} */
export function rowsOf(inputs) {
  return /** @type {any} */ (inputs.stages);
}

/** @param {StageRow} row */
function isTorque({ do: what }) {
  return what === "share" || what === "torque";
}

/**
 * The torque of each row in N·m, NaN where it isn't known.
 * @param {StageRow[]} rows
 * @param {number} last torque of the last torque stage
 */
function torquesOf(rows, last) {
  return rows.map((row, n) => {
    if (row.do === "share") return (last * row.share) / 100;
    if (row.do === "torque") return row.torque ?? NaN;
    if (row.do === "check") return row.torque ?? lastTorque(rows, n, last);
    return NaN;
  });
}

/** @param {StageRow[]} rows @param {number} stage @param {number} last */
function lastTorque(rows, stage, last) {
  const row = rows.slice(0, stage).filter(isTorque).at(-1);
  if (!row) return NaN;
  return row.do === "share" ? (last * row.share) / 100 : (row.torque ?? NaN);
}

/** Torque of the last torque stage in N·m, NaN where it isn't known. @param {Inputs} inputs */
export function finalTorque(inputs) {
  const row = rowsOf(inputs).filter(isTorque).at(-1);
  if (typeof inputs.torque === "number") return inputs.torque;
  return row?.do === "torque" ? (row.torque ?? NaN) : NaN;
}

/** Whether a torque above the stages is needed and isn't there. @param {Inputs} inputs */
export function lacksTorque(inputs) {
  return rowsOf(inputs).some(({ do: what }) => what === "share") && inputs.torque === null;
}

/**
 * What can't be in the stages.
 * @param {Inputs} inputs
 * @returns {Problem[]}
 */
export function stageProblems(inputs) {
  const rows = rowsOf(inputs);
  if (!rows.some(isTorque)) return [at(-1, "do", "No stage tightens to a torque. Add one.")];
  if (!isTorque(rows[0]))
    return [at(0, "do", "Stage 1 has nothing before it. Begin with a torque.")];
  const found = rows.flatMap((row, n) => blankProblems(row, n, rows));
  return [...found, ...risingProblems(rows, finalTorque(inputs)), ...lastProblems(rows, inputs)];
}

/** @param {number} row @param {string} entry @param {string} words @returns {Problem} */
function at(row, entry, words) {
  return { field: "stages", row, entry, words };
}

/** @param {StageRow} row @param {number} n @param {StageRow[]} rows */
function blankProblems(row, n, rows) {
  if (row.do === "torque" && row.torque === null)
    return [at(n, "torque", `Stage ${n + 1}: enter its torque.`)];
  if (row.do === "angle" && row.angle === null)
    return [at(n, "angle", `Stage ${n + 1}: enter its angle.`)];
  const before = rows.slice(0, n).map(({ do: what }) => what);
  if (row.do !== "check" || row.torque !== null) return [];
  if (before.at(-1) === "loosen")
    return [at(n, "do", `Stage ${n + 1}: after loosening there is nothing to check.`)];
  return before.lastIndexOf("angle") > before.lastIndexOf("loosen")
    ? [
        at(
          n,
          "torque",
          `Stage ${n + 1}: after an angle the torque before it says nothing. Enter the maker's check torque, or take the check out.`,
        ),
      ]
    : [];
}

/**
 * No torque is lower than the one before, unless all were loosened.
 * @param {StageRow[]} rows
 * @param {number} last
 */
function risingProblems(rows, last) {
  const torques = torquesOf(rows, last);
  let highest = 0;
  /** @type {Problem[]} */
  const found = [];
  rows.forEach((row, n) => {
    if (row.do === "loosen") highest = 0;
    if (!isTorque(row) || Number.isNaN(torques[n])) return;
    if (torques[n] < highest)
      found.push(
        at(
          n,
          row.do,
          `Stage ${n + 1} is lower than the one before. Loosen all first, or correct it.`,
        ),
      );
    highest = Math.max(highest, torques[n]);
  });
  return found.length ? found : shareProblems(rows);
}

/** Shares rise even before the torque is known. @param {StageRow[]} rows */
function shareProblems(rows) {
  let highest = 0;
  return rows.flatMap((row, n) => {
    if (row.do === "loosen") highest = 0;
    if (row.do !== "share") return [];
    const before = highest;
    highest = row.share;
    return row.share < before
      ? [
          at(
            n,
            "share",
            `Stage ${n + 1} is ${row.share} %, the one before was ${before} %. Loosen all first, or correct it.`,
          ),
        ]
      : [];
  });
}

/** The last torque is the whole of it. @param {StageRow[]} rows @param {Inputs} inputs */
function lastProblems(rows, inputs) {
  const n = rows.length - 1 - [...rows].reverse().findIndex(isTorque);
  const row = rows[n];
  if (row.do === "share" && row.share < 100)
    return [at(n, "share", `The last share is ${row.share} %. Make it 100 %, or add one.`)];
  const above = inputs.torque;
  const differs =
    row.do === "torque" &&
    row.torque !== null &&
    typeof above === "number" &&
    Math.abs(row.torque - above) > SAME * above;
  return differs
    ? [
        at(
          n,
          "torque",
          `Stage ${n + 1} is the last torque, and differs from the torque above. Make them alike, or empty the one above.`,
        ),
      ]
    : [];
}

/**
 * Every torque that a bolt gets to, as it was typed.
 * @param {Kit} kit the page's
 * @param {Entries} entries
 * @returns {Given[]}
 */
export function torquesGiven(kit, entries) {
  const parts = /** @type {import("../model/lookup.js").PartsField} */ (
    kit.lookup.fields.find(({ key }) => key === "stages")
  );
  const field = /** @type {import("../model/lookup.js").NumberField} */ (
    parts.fields.find(({ key }) => key === "torque")
  );
  const inRows = /** @type {import("../form/entries.js").Row[]} */ (entries.stages).filter(
    ({ do: what }) => what === "torque" || what === "check",
  );
  const all = [entries.torque, ...inRows.map(({ torque }) => torque)];
  return all.flatMap((entry) => {
    const typed = meant(field, /** @type {NumberEntry} */ (entry), kit.quantities);
    if (misread(typed)) return [];
    const torque = convert(typed.value, typed.unit, declaredOf(field, kit.quantities));
    return Number.isFinite(torque) ? [{ typed, torque }] : [];
  });
}

/**
 * The stages, each with what is dialled in, or the first fault.
 * @param {Kit} torque the torque page's
 * @param {Inputs} inputs
 * @param {{order: number[], checkOrder: number[]}} pattern
 * @param {Unit} unit
 * @param {boolean} withOffset some bolts take the crowfoot
 * @returns {{stages: Stage[], notes: string[], problem: Problem | null}}
 */
export function stagesFrom(torque, inputs, { order, checkOrder }, unit, withOffset) {
  const rows = rowsOf(inputs);
  const torques = torquesOf(rows, finalTorque(inputs));
  /** @type {Stage[]} */
  const stages = [];
  /** @type {string[]} */
  const notes = [];
  for (const [n, row] of rows.entries()) {
    const angle = row.angle ?? 0;
    if (row.do === "angle" || row.do === "loosen") {
      const dial = row.do === "angle" ? `${angle}°` : angle ? `${angle}° back` : "slack";
      stages.push({
        kind: row.do,
        share: 0,
        angle,
        order: row.do === "loosen" ? [...order].reverse() : order,
        dial: { plain: dial, offset: dial },
      });
      continue;
    }
    const worked = dialFor(torque, inputs, torques[n], unit, withOffset);
    if (worked.fault)
      return {
        stages: [],
        notes: [],
        problem: { ...at(n, "do", `Stage ${n + 1}: ${worked.fault}`) },
      };
    notes.push(...worked.notes.map((note) => `Stage ${n + 1}: ${note}`));
    stages.push({
      kind: row.do === "check" ? "check" : "torque",
      share: row.do === "share" ? row.share / 100 : 0,
      angle: 0,
      order: row.do === "check" ? checkOrder : order,
      dial: worked.dial,
    });
  }
  return { stages, notes: [...new Set(notes)], problem: null };
}

/**
 * What to set for a torque, by the torque page's own recipe.
 * @param {Kit} torque @param {Inputs} inputs @param {number} wanted N·m
 * @param {Unit} unit @param {boolean} withOffset
 * @returns {{dial: Dial, notes: string[], fault: string}}
 */
function dialFor(torque, inputs, wanted, unit, withOffset) {
  const field = numberNamed(torque.lookup, "maker_torque");
  const { running_torque, wrench_largest, extension, wrench_length, extension_angle } = inputs;
  const plain = { maker_torque: wanted, running_torque, wrench_largest, drive: "straight" };
  if (wanted < field.low) {
    const least = convert(field.low, declaredOf(field, torque.quantities), unit);
    return {
      dial: { plain: "", offset: "" },
      notes: [],
      fault: `that is under ${withUnit(fixed(least, 1), unit.label)}, less than this page covers. Leave the stage out.`,
    };
  }
  const [bare, long] = [
    plain,
    { ...plain, drive: "offset", extension, wrench_length, extension_angle },
  ].map((entered) => explain(torque.lookup, entered, torque.tables));
  const faulty = [bare, ...(withOffset ? [long] : [])]
    .map((outcome) => outcome.faults.setting)
    .find(Boolean);
  if (faulty)
    return { dial: { plain: "", offset: "" }, notes: [], fault: faultWords(torque, faulty) };
  const [dial, dialLong] = [bare, withOffset ? long : bare].map((outcome) =>
    settingIn(torque, outcome, unit),
  );
  const notes = [bare, ...(withOffset ? [long] : [])].flatMap((outcome) =>
    rangeNotes(torque, outcome, unit),
  );
  return { dial: { plain: dial, offset: dialLong }, notes: [...new Set(notes)], fault: "" };
}

/**
 * @param {Kit} torque
 * @param {import("../recipe.js").Outcome} outcome
 * @param {Unit} unit
 */
function settingIn(torque, outcome, unit) {
  const answer = answerNamed(torque.lookup, "setting");
  const si = outcome.number(answer.symbol);
  if (si === null) throw new Error("a setting without a fault has a value");
  return withUnit(trimmed(fixed(fromSi(si, unit), answer.decimals[unit.key])), unit.label);
}

/**
 * Where the wrench is out of its range.
 * @param {Kit} torque
 * @param {import("../recipe.js").Outcome} outcome
 * @param {Unit} unit
 */
function rangeNotes(torque, outcome, unit) {
  return ["setting", "range_share"].flatMap((key) => {
    if (outcome.status[key] !== "beyond") return [];
    const answer = answerNamed(torque.lookup, key);
    const shownIn = key === "setting" ? unit : unitsOf(answer, torque.quantities)[0];
    return [showAnswer(torque, answer, outcome, shownIn, []).words];
  });
}
