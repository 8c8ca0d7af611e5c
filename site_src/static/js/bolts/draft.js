/**
 * From the entries to a map that is ready to start, or to what is missing or must be corrected
 * first. No DOM.
 *
 * @typedef {import("../form/entries.js").Entries} Entries
 * @typedef {import("../form/entries.js").NumberEntry} NumberEntry
 * @typedef {import("../form/entries.js").Problem} Problem
 * @typedef {import("../model/catalogue.js").Kit} Kit
 * @typedef {import("../recipe/values.js").Inputs} Inputs
 * @typedef {import("../record/plausible.js").Assumed} Assumed
 * @typedef {import("../record/plausible.js").Judged} Judged
 * @typedef {import("./order.js").Place} Place
 * @typedef {import("./progress.js").Stage} Stage
 * @typedef {import("./makers_order.js").Sheet} Sheet
 * @typedef {{kind: string, rows: number, columns: number, count: number, places: Place[],
 *   title: string, reason: string, names: string[], order: number[], checkOrder: number[],
 *   problem: string, sheetProblem: string, missing: string}} PatternDraft
 *   names: of the bolts, as far as they are known
 * @typedef {{typed: {places: Place[], problem: string}, sheet: Sheet, quarters: number,
 *   offset: number[], assumed: Assumed, sure: string}} Besides  what is entered besides the fields;
 *   sure: the torque that the user has looked at again, as `asked` names it
 * @typedef {{pattern: PatternDraft, problems: Problem[], missing: string[], offsetProblem: string,
 *   notes: string[], torque: string, unit: string, offsetWords: string, bolt: string,
 *   judged: Judged | null, asked: string, stages: Stage[]}} Draft
 *   asked: the torque that wants a second look, "" for none
 */

import { fieldNamed, numberNamed, optionNamed } from "../model/lookup.js";
import { circlePlaces } from "./drawing.js";
import { checkOrder, circleOrder, gridPlaces, PatternError, tighteningOrder } from "./order.js";
import { readingOrder, sheetOrder } from "./makers_order.js";
import { finalTorque, lacksTorque, stageProblems, stagesFrom, torquesGiven } from "./stages.js";
import { withUnit } from "../face/numbers.js";
import { read, understood } from "../form/entries.js";
import { misread } from "../form/typed.js";
import { unitOf } from "../model/quantities.js";
import { judge } from "../record/plausible.js";

/** The option for a thread that is not on the list, and for what is not stated. */
const OTHER = "other";
const NOT_STATED = "not_stated";

/**
 * @param {Kit} kit the page's own fields
 * @param {Kit} torque the torque page's
 * @param {Entries} entries
 * @param {Besides} besides
 * @returns {Draft}
 */
export function draftOf(kit, torque, entries, besides) {
  const { inputs, problems: found } = read(kit.lookup.fields, entries, kit.quantities);
  // What was not picked yet is missing, not wrong.
  const problems = found.filter(({ entry, row }) => row >= 0 || entries[entry] !== "");
  problems.push(...wholeProblems(kit, entries, inputs));
  if (!problems.length) problems.push(...stageProblems(inputs));
  const pattern = patternOf(entries, inputs, besides);
  const used = besides.offset.filter((bolt) => bolt < pattern.places.length);
  const given = torquesGiven(kit, entries);
  const lastGiven = given.find(({ torque: value }) => value === finalTorque(inputs));
  const unit = lastGiven?.typed.unit ?? unitOf(torque.quantities.torque.units, "Nm");
  /** @type {Draft} */
  const draft = {
    pattern,
    problems,
    missing: missingOf(entries, inputs, pattern),
    offsetProblem: offsetProblem(inputs, used),
    notes: [],
    torque: lastGiven ? withUnit(String(lastGiven.typed.value), unit.label) : "",
    unit: unit.label,
    offsetWords: used.length ? offsetWords(kit, entries) : "",
    bolt: boltWords(kit, entries),
    judged: null,
    asked: "",
    stages: [],
  };
  judgeTorque(draft, torque, entries, given, besides);
  if (isHeldUp(draft)) return draft;
  const worked = stagesFrom(torque, inputs, pattern, unit, used.length > 0);
  if (worked.problem) problems.push(worked.problem);
  draft.notes = worked.notes;
  draft.stages = worked.stages;
  return draft;
}

/** @param {Draft} draft */
function isHeldUp({ problems, pattern, offsetProblem: crowfoot, missing, asked }) {
  const wrong = pattern.problem || pattern.sheetProblem || crowfoot;
  return Boolean(problems.length || wrong || missing.length || asked);
}

/**
 * What has not been entered or picked yet.
 * @param {Entries} entries
 * @param {Inputs} inputs
 * @param {PatternDraft} pattern
 */
function missingOf(entries, inputs, pattern) {
  return [
    ...(pattern.missing ? [pattern.missing] : []),
    ...["thread", "grade"].filter((key) => entries[key] === ""),
    ...(lacksTorque(inputs) ? ["torque"] : []),
  ];
}

/** Thread and grade in words. @param {Kit} kit @param {Entries} entries */
function boltWords({ lookup }, entries) {
  return ["thread", "grade"]
    .map((key) => optionNamed(fieldNamed(lookup, key), entries[key])?.label ?? "")
    .filter(Boolean)
    .join(", ");
}

/**
 * Hold the highest torque that a bolt gets to against what it bears.
 * @param {Draft} draft
 * @param {Kit} torque
 * @param {Entries} entries
 * @param {import("./stages.js").Given[]} given
 * @param {Besides} besides
 */
function judgeTorque(draft, torque, entries, given, { assumed, sure }) {
  const { thread, grade, friction } = entries;
  if (!given.length || thread === "" || grade === "" || thread === OTHER || draft.problems.length)
    return;
  const most = given.reduce((best, each) => (each.torque > best.torque ? each : best));
  const angled = /** @type {import("../form/entries.js").Row[]} */ (entries.stages).some(
    ({ do: what }) => what === "angle",
  );
  /** @param {unknown} option */
  const stated = (option) => (option === NOT_STATED ? "" : String(option));
  draft.judged = judge(
    torque,
    {
      thread: String(thread),
      grade: stated(grade),
      friction: stated(friction),
      torque: most.typed,
      angle: angled ? SOME_ANGLE : null,
    },
    assumed,
  );
  const asked = `${thread} ${grade} ${friction} ${most.torque}`;
  if (draft.judged.status === "beyond" && sure !== asked) draft.asked = asked;
}

/** With an angle after it a torque only seats the parts, whichever angle it is. */
const SOME_ANGLE = 90;

/**
 * A number as it was typed, with its unit.
 * @param {Kit} kit
 * @param {Entries} entries
 * @param {string} key
 */
function asTyped(kit, entries, key) {
  const field = numberNamed(kit.lookup, key);
  const typed = understood(field, /** @type {NumberEntry} */ (entries[key]), kit.quantities);
  if (misread(typed)) return "";
  return typed.unit.label === "°"
    ? `${typed.value}°`
    : withUnit(String(typed.value), typed.unit.label);
}

// --- the pattern ---------------------------------------------------------------------------------

/**
 * @param {Entries} entries
 * @param {Inputs} inputs
 * @param {Besides} besides
 * @returns {PatternDraft}
 */
function patternOf(entries, inputs, { typed, sheet, quarters }) {
  const kind = String(entries.pattern);
  const [rows, columns, count] = ["rows", "columns", "count"].map((key) => Number(inputs[key]));
  /** @type {PatternDraft} */
  const draft = {
    kind,
    rows: 0,
    columns: 0,
    count: 0,
    places: [],
    title: "",
    reason: kind,
    names: [],
    order: [],
    checkOrder: [],
    problem: kind === "places" ? typed.problem : "",
    sheetProblem: "",
    missing: "",
  };
  if (kind === "grid" && isCount(rows) && isCount(columns)) {
    Object.assign(draft, inRows(rows, columns));
  } else if (kind === "circle" && isCount(count)) {
    Object.assign(draft, onCircle(count));
  } else if (kind === "places") {
    const { places } = typed;
    Object.assign(draft, { count: places.length, places, title: counted(places.length) });
  }
  try {
    if (!draft.problem && !draft.order.length && (kind === "places" || draft.places.length)) {
      draft.order = tighteningOrder(draft.places);
      draft.checkOrder = checkOrder(draft.places);
    }
  } catch (reason) {
    if (!(reason instanceof PatternError)) throw reason;
    draft.problem = reason.message;
  }
  if (!draft.problem) putInOrder(draft, sheet, quarters);
  return draft;
}

/**
 * The maker's order goes before the one that was worked out, and so do the sheet's numbers.
 * @param {PatternDraft} draft
 * @param {Sheet} sheet
 * @param {number} quarters
 */
function putInOrder(draft, sheet, quarters) {
  const found = sheetOrder(sheet, readingOrder(draft.kind, draft.places, quarters));
  Object.assign(draft, { names: found.names, sheetProblem: found.problem, missing: found.missing });
  if (sheet.by === "worked") {
    if (!draft.names.length) draft.names = draft.places.map((_, bolt) => turnOf(draft.order, bolt));
    return;
  }
  draft.reason = "maker";
  draft.order = found.order;
  draft.checkOrder = found.order;
}

/** @param {number[]} order @param {number} bolt */
function turnOf(order, bolt) {
  return String(order.indexOf(bolt) + 1);
}

/**
 * @param {number} rows
 * @param {number} columns
 * @returns {Partial<PatternDraft>}
 */
function inRows(rows, columns) {
  return {
    rows,
    columns,
    places: gridPlaces(rows, columns),
    reason: rows === 1 || columns === 1 ? "row" : "grid",
    title: `${rows} × ${columns} ${rows * columns === 1 ? "bolt" : "bolts"}`,
  };
}

/** @param {number} count @returns {Partial<PatternDraft>} */
function onCircle(count) {
  const order = circleOrder(count);
  return {
    count,
    places: circlePlaces(count),
    title: `${count} bolts on a circle`,
    order,
    checkOrder: order.map((_, bolt) => bolt),
  };
}

/** @param {number} count */
export function counted(count) {
  return count === 1 ? "1 bolt" : `${count} bolts`;
}

/** @param {number} value */
function isCount(value) {
  return Number.isInteger(value) && value > 0;
}

/**
 * The number of bolts must be whole.
 * @param {Kit} kit
 * @param {Entries} entries
 * @param {Inputs} inputs
 * @returns {Problem[]}
 */
function wholeProblems(kit, entries, inputs) {
  const needed =
    entries.pattern === "grid"
      ? ["rows", "columns"]
      : entries.pattern === "circle"
        ? ["count"]
        : [];
  return needed
    .filter((key) => Number.isFinite(inputs[key]) && !Number.isInteger(inputs[key]))
    .map((key) => {
      const { label } = fieldNamed(kit.lookup, key);
      return {
        field: key,
        row: -1,
        entry: key,
        words: `${label} is ${inputs[key]}. Enter a whole number.`,
      };
    });
}

// --- the crowfoot --------------------------------------------------------------------------------

/** @param {Inputs} inputs @param {number[]} bolts */
function offsetProblem(inputs, bolts) {
  if (!bolts.length || inputs.extension !== 0) return "";
  return "Some bolts take the crowfoot: enter its offset below.";
}

/** @param {Kit} kit @param {Entries} entries */
function offsetWords(kit, entries) {
  const [offset, length, angle] = ["extension", "wrench_length", "extension_angle"].map((key) =>
    asTyped(kit, entries, key),
  );
  return `offset ${offset} on a wrench of ${length}, at ${angle}`;
}
