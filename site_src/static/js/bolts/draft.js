/**
 * From the entries to a map that is ready to start, or to what must be corrected first. No
 * DOM.
 *
 * @typedef {import("../form/entries.js").Entries} Entries
 * @typedef {import("../form/entries.js").NumberEntry} NumberEntry
 * @typedef {import("../form/entries.js").Problem} Problem
 * @typedef {import("../model/catalogue.js").Kit} Kit
 * @typedef {import("../model/lookup.js").NumberField} NumberField
 * @typedef {import("./order.js").Place} Place
 * @typedef {import("./progress.js").Pass} Pass
 * @typedef {import("./progress.js").Dial} Dial
 * @typedef {{kind: string, rows: number, columns: number, count: number, places: Place[],
 *   names: string, reason: string, order: number[], checkOrder: number[],
 *   problem: string}} PatternDraft
 * @typedef {{pattern: PatternDraft, problems: Problem[], offsetProblem: string, notes: string[],
 *   torque: string, unit: string, offsetWords: string, stages: Pass[]}} Draft
 */

import { answerNamed, fieldNamed, numberNamed } from "../model/lookup.js";
import { circlePlaces } from "./drawing.js";
import { checkOrder, circleOrder, gridPlaces, PatternError, tighteningOrder } from "./order.js";
import { passesOf } from "./progress.js";
import { fixed, trimmed, withUnit } from "../face/numbers.js";
import { faultWords, showAnswer } from "../face/words.js";
import { declaredOf, read, understood } from "../form/entries.js";
import { misread } from "../form/typed.js";
import { convert, fromSi, unitOf, unitsOf } from "../model/quantities.js";
import { explain, isFault } from "../recipe.js";

/**
 * @param {Kit} kit the page's own fields @param {Kit} torque the torque page's
 * @param {Entries} entries @param {{places: Place[], problem: string}} typed or tapped
 * @param {number[]} offset bolts with the crowfoot
 * @returns {Draft}
 */
export function draftOf(kit, torque, entries, typed, offset) {
  const { inputs, problems } = read(kit.lookup.fields, entries, kit.quantities);
  problems.push(
    ...wholeProblems(kit, entries, inputs),
    ...shareProblems(/** @type {any} */ (inputs.passes)),
  );
  const pattern = patternOf(entries, inputs, typed);
  const used = offset.filter((bolt) => bolt < pattern.places.length);
  const unit = unitOf(
    torque.quantities.torque.units,
    /** @type {NumberEntry} */ (entries.torque).unit,
  );
  /** @type {Draft} */
  const draft = {
    pattern,
    problems,
    offsetProblem: offsetProblem(inputs, used),
    notes: [],
    torque: "",
    unit: unit.label,
    offsetWords: "",
    stages: [],
  };
  if (problems.length || pattern.problem || draft.offsetProblem) return draft;
  draft.torque = asTyped(kit, entries, "torque");
  draft.offsetWords = used.length ? offsetWords(kit, entries) : "";
  const shares = /** @type {{share: number}[]} */ (inputs.passes).map(({ share }) => share);
  const worked = shares.map((share) => dialFor(torque, inputs, share, unit, used.length > 0));
  const silent = worked.findIndex(({ fault }) => fault);
  if (silent >= 0) {
    problems.push({
      field: "torque",
      row: -1,
      entry: "torque",
      words: `Pass ${silent + 1}: ${worked[silent].fault}`,
    });
    return draft;
  }
  draft.notes = [
    ...new Set(worked.flatMap(({ notes }, n) => notes.map((note) => `Pass ${n + 1}: ${note}`))),
  ];
  draft.stages = passesOf({
    shares: shares.map((share) => share / 100),
    check: entries.check === "yes",
    angle: inputs.angle === null ? "" : asTyped(kit, entries, "angle"),
    order: pattern.order,
    checkOrder: pattern.checkOrder,
    dials: worked.map(({ dial }) => dial),
  });
  return draft;
}

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
 * @param {import("../recipe.js").Inputs} inputs
 * @param {{places: Place[], problem: string}} typed
 * @returns {PatternDraft}
 */
function patternOf(entries, inputs, typed) {
  const kind = String(entries.pattern);
  const [rows, columns, count] = ["rows", "columns", "count"].map((key) => Number(inputs[key]));
  /** @type {PatternDraft} */
  const draft = {
    kind,
    rows: 0,
    columns: 0,
    count: 0,
    places: [],
    names: "",
    reason: kind,
    order: [],
    checkOrder: [],
    problem: kind === "places" ? typed.problem : "",
  };
  if (kind === "grid" && isCount(rows) && isCount(columns)) {
    Object.assign(draft, inRows(rows, columns));
  } else if (kind === "circle" && isCount(count)) {
    Object.assign(draft, onCircle(count));
  } else if (kind === "places") {
    const { places } = typed;
    Object.assign(draft, { count: places.length, places, names: counted(places.length) });
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
  return draft;
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
    names: `${rows} × ${columns} ${rows * columns === 1 ? "bolt" : "bolts"}`,
  };
}

/** @param {number} count @returns {Partial<PatternDraft>} */
function onCircle(count) {
  const order = circleOrder(count);
  return {
    count,
    places: circlePlaces(count),
    names: `${count} bolts on a circle`,
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
 * @param {import("../recipe.js").Inputs} inputs
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

// --- the passes ----------------------------------------------------------------------------------

/**
 * Each pass is higher than the one before, and the last is the whole torque.
 * @param {{share: number}[]} passes
 * @returns {Problem[]}
 */
function shareProblems(passes) {
  /** @param {number} row @param {string} words */
  const problem = (row, words) => ({ field: "passes", row, entry: "share", words });
  const found = passes.flatMap(({ share }, n) => {
    const before = passes[n - 1]?.share ?? 0;
    return share <= before
      ? [
          problem(
            n,
            `Pass ${n + 1} is ${share} %, pass ${n} was ${before} %. Each pass goes higher than the one before.`,
          ),
        ]
      : [];
  });
  const last = passes.length - 1;
  if (last < 0) return [problem(-1, "There is no pass. Add one at 100 %.")];
  if (passes[last].share < 100)
    found.push(
      problem(last, `The last pass is ${passes[last].share} %. Make it 100 %, or add one.`),
    );
  return found;
}

/**
 * What to set for a pass, by the torque page's own recipe.
 * @param {Kit} torque @param {import("../recipe.js").Inputs} inputs @param {number} share percent
 * @param {import("../model/quantities.js").Unit} unit @param {boolean} withOffset
 * @returns {{dial: Dial, notes: string[], fault: string}}
 */
function dialFor(torque, inputs, share, unit, withOffset) {
  const field = numberNamed(torque.lookup, "maker_torque");
  const wanted = (Number(inputs.torque) * share) / 100;
  const { running_torque, wrench_largest, extension, wrench_length, extension_angle } = inputs;
  const plain = { maker_torque: wanted, running_torque, wrench_largest, drive: "straight" };
  if (wanted < field.low) {
    const least = convert(field.low, declaredOf(field, torque.quantities), unit);
    return {
      dial: { plain: "", offset: "" },
      notes: [],
      fault: `that is under ${withUnit(fixed(least, 1), unit.label)}, less than this page covers. Leave the pass out.`,
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
 * @param {import("../model/quantities.js").Unit} unit
 */
function settingIn(torque, outcome, unit) {
  const answer = answerNamed(torque.lookup, "setting");
  const si = outcome.symbols[answer.symbol];
  if (isFault(si)) throw new Error("a setting without a fault has a value");
  return withUnit(trimmed(fixed(fromSi(si, unit), answer.decimals[unit.key])), unit.label);
}

/**
 * Where the wrench is out of its range.
 * @param {Kit} torque
 * @param {import("../recipe.js").Outcome} outcome
 * @param {import("../model/quantities.js").Unit} unit
 */
function rangeNotes(torque, outcome, unit) {
  return ["setting", "range_share"].flatMap((key) => {
    if (outcome.status[key] !== "beyond") return [];
    const answer = answerNamed(torque.lookup, key);
    const shownIn = key === "setting" ? unit : unitsOf(answer, torque.quantities)[0];
    return [showAnswer(torque, answer, outcome, shownIn, []).words];
  });
}

// --- the crowfoot --------------------------------------------------------------------------------

/** @param {import("../recipe.js").Inputs} inputs @param {number[]} bolts */
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
