/**
 * A build file as shops write it, turned into what a phone's own file of a job would hold. No DOM.
 *
 * Both hold the same. Here a number is written with its unit, "186 mm", the unit by its key; what
 * stands apart on a page is in a table of that page; and what every entry of the record has may be
 * left out. Whether numbers, logs and photos are good is judged where every file is.
 *
 * @typedef {"text" | "number" | "flag" | "list" | "table"} Kind
 * @typedef {{kind: Kind, usual?: any, open?: boolean}} Wanted  `usual`: what an entry is that was
 *   left out; `open`: it stays out then
 * @typedef {Object<string, any>} Row
 * @typedef {import("./figures.js").Value} Value
 */

import { SCHEMA as MAP_SCHEMA } from "../bolts/progress.js";
import { SCHEMA as FIGURE_SCHEMA } from "./figures.js";
import { SCHEMA as HOLD_SCHEMA, idOf } from "./holds.js";
import { newJob } from "./job.js";
import { KIND, ParcelError, SCHEMA } from "./parcel.js";
import { newId } from "./record.js";
import { SCHEMA as RUN_SCHEMA } from "./runs.js";
import { isObject, isText } from "./shapes.js";

/** A figure counts as entered then, each a moment after the one before it in the file. */
const FIRST = Date.UTC(2000, 0, 1);

/** A job's own id in a file; a phone gives it another. */
const JOB_ID = "job";

/** Letters of a value that a message shows. */
const SHOWN = 60;

/** A number and its unit, as "12.5 mm" or "3 1/2 in". */
const WRITTEN = /^([-+]?\d+(?:\.\d+)?(?: \d+\/\d+)?) ([A-Za-z][A-Za-z\d]*)$/;

/** What was meant as one: a comma, a fraction alone, two blanks, a unit's sign. No option is so. */
const MISWRITTEN = /^[-+\u2212]?[.,]?\d[\d.,/ ]* \D\S*$/;

/** @type {Object<Kind, [string, (value: any) => boolean]>} */
const KINDS = {
  text: ["a text in quotes", isText],
  number: ["a number", (/** @type {any} */ value) => typeof value === "number"],
  flag: ["true or false", (/** @type {any} */ value) => typeof value === "boolean"],
  list: ["a list in [ ]", Array.isArray],
  table: ["a table", isObject],
};

/** @type {Wanted} */
const TEXT = { kind: "text" };
/** @type {Wanted} */
const MAYBE_TEXT = { kind: "text", usual: "" };
/** @type {Wanted} */
const NUMBER = { kind: "number" };
/** @type {Wanted} */
const LIST = { kind: "list" };
/** @type {Wanted} */
const TABLE = { kind: "table" };

const DEED = { do: TEXT, at: TEXT, who: MAYBE_TEXT, note: MAYBE_TEXT, photo: MAYBE_TEXT };
const DIAL = { plain: MAYBE_TEXT, offset: MAYBE_TEXT };
const OFFSET = { bolts: LIST, words: MAYBE_TEXT };
const PATTERN = { kind: TEXT, rows: NUMBER, columns: NUMBER, count: NUMBER };
const STAGE = { kind: TEXT, share: NUMBER, angle: NUMBER, order: LIST, dial: TABLE };
/** @type {Object<string, Wanted>} */
const SETTING = { do: TEXT, at: TEXT, dial: TEXT, offset: { kind: "flag", usual: false } };
/** @type {Object<string, Wanted>} */
const TURNING = { do: TEXT, at: TEXT, bolt: NUMBER, read: { kind: "table", open: true } };

/**
 * What a phone would have saved of the job that a build file holds.
 * @param {Row} data of the file
 * @returns {any} as `parsed` in transfer.js gives it
 * @throws {ParcelError}
 */
export function fromBuildFile(data) {
  const file = rowOf(data, "", {
    name: TEXT,
    note: MAYBE_TEXT,
    entries: { kind: "table", usual: {} },
    ...Object.fromEntries(
      ["figures", "maps", "holds", "runs"].map((key) => [key, { kind: "list", usual: [] }]),
    ),
  });
  const name = file.name.trim().split(/\s+/).join(" ");
  if (!name) throw refusal("name", "empty", "the job's name");
  const job = { ...newJob(JOB_ID, name, ""), rev: 0, entries: entriesOf(file.entries) };
  return {
    kind: KIND,
    schema: SCHEMA,
    made: "",
    figures: rowsOf(file.figures, "figures", (row, way, n) => figureOf(row, way, n, name)),
    maps: rowsOf(file.maps, "maps", (row, way) => mapOf(row, way, name)),
    pulleys: [],
    jobs: [job],
    holds: rowsOf(file.holds, "holds", (row, way) => holdOf(row, way, name)),
    runs: rowsOf(file.runs, "runs", (row, way) =>
      ownedOf(row, way, name, RUN_SCHEMA, { at: TEXT, data: TABLE }),
    ),
  };
}

// --- entries -------------------------------------------------------------------------------------

/** @param {Row} table @returns {Object<string, import("./job.js").Stored>} */
function entriesOf(table) {
  /** @type {Map<string, any>} */
  const found = new Map();
  /** @param {string} key @param {any} value @param {string} way */
  const keep = (key, value, way) => {
    if (found.has(key)) throw refusal(way, "there twice", "each entry once", "Take one out.");
    found.set(key, storedOf(value, way));
  };
  for (const [key, value] of Object.entries(table)) {
    const way = `entries.${key}`;
    if (isObject(value) && !isNumberEntry(value)) {
      // What stands apart on a page is kept under page and key.
      for (const [inner, each] of Object.entries(value))
        keep(`${key} ${inner}`, each, `${way}.${inner}`);
    } else keep(key, value, way);
  }
  return Object.fromEntries(found);
}

/** @param {any} value @param {string} way */
function storedOf(value, way) {
  if (!Array.isArray(value)) return singleOf(value, way);
  return rowsOf(value, way, (row, at) => eachOf(row, at, singleOf));
}

/** A number with its unit, or the key of an option. @param {any} value @param {string} way */
function singleOf(value, way) {
  if (isNumberEntry(value)) return value;
  if (isText(value) && !WRITTEN.test(value) && !MISWRITTEN.test(value)) return value;
  return valueOf(value, way);
}

/** A number with its unit. @param {any} value @param {string} way @returns {Value} */
function valueOf(value, way) {
  if (isNumberEntry(value)) return value;
  // One so large or small that it is written with an exponent is none that a page can read.
  if (typeof value === "number" && /^[-\d.]+$/.test(String(value)))
    return { text: String(value), unit: "" };
  const [, text, unit] = (isText(value) && WRITTEN.exec(value)) || [];
  if (text === undefined)
    throw refusal(
      way,
      inWords(value),
      'a number and its unit\'s key, as "12.5 mm", or a number alone',
      "Write it so, with a point, not a comma.",
    );
  return { text, unit };
}

/** As a job's file has it. @param {any} value @returns {value is Value} */
function isNumberEntry(value) {
  return isObject(value) && isText(value.text) && isText(value.unit);
}

// --- what else a job has -------------------------------------------------------------------------

/** @param {Row} row @param {string} way @param {number} place in the list @param {string} job */
function figureOf(row, way, place, job) {
  const usual = new Date(FIRST + place).toISOString();
  const figure = ownedOf(row, way, job, FIGURE_SCHEMA, {
    kind: TEXT,
    name: MAYBE_TEXT,
    choices: { kind: "table", usual: {} },
    values: { kind: "table", usual: {} },
    texts: { kind: "table", usual: {} },
    source: MAYBE_TEXT,
    page: MAYBE_TEXT,
    typed: MAYBE_TEXT,
    used: MAYBE_TEXT,
    changed: { kind: "text", usual },
  });
  return {
    ...figure,
    choices: eachOf(figure.choices, `${way}.choices`, textOf),
    values: eachOf(figure.values, `${way}.values`, valueOf),
    texts: eachOf(figure.texts, `${way}.texts`, textOf),
  };
}

/** @param {Row} row @param {string} way @param {string} job */
function mapOf(row, way, job) {
  const places = Array.isArray(row.places) ? row.places : [];
  const count = places.length;
  const map = ownedOf(row, way, job, MAP_SCHEMA, {
    title: TEXT,
    pattern: { kind: "table", usual: { kind: "places", rows: 0, columns: 0, count } },
    places: LIST,
    names: { kind: "list", usual: places.map((_, bolt) => String(bolt + 1)) },
    orderBy: TEXT,
    bolt: TEXT,
    judged: MAYBE_TEXT,
    quarters: { kind: "number", usual: 0 },
    torque: TEXT,
    source: MAYBE_TEXT,
    notes: { kind: "list", usual: [] },
    offset: { kind: "table", usual: { bolts: [] } },
    unit: { kind: "text", usual: "Nm" },
    stages: LIST,
    wrench: MAYBE_TEXT,
    who: MAYBE_TEXT,
    voice: { kind: "flag", usual: false },
    started: MAYBE_TEXT,
    finished: MAYBE_TEXT,
    steps: { kind: "list", usual: [] },
  });
  return {
    ...map,
    pattern: rowOf(map.pattern, `${way}.pattern`, PATTERN),
    offset: rowOf(map.offset, `${way}.offset`, OFFSET),
    stages: rowsOf(map.stages, `${way}.stages`, stageOf),
    steps: rowsOf(map.steps, `${way}.steps`, (step, at) =>
      rowOf(step, at, step.do === "set" ? SETTING : TURNING),
    ),
  };
}

/** @param {Row} row @param {string} way */
function stageOf(row, way) {
  const stage = rowOf(row, way, STAGE);
  return { ...stage, dial: rowOf(stage.dial, `${way}.dial`, DIAL) };
}

/** @param {Row} row @param {string} way @param {string} job */
function holdOf(row, way, job) {
  const hold = ownedOf(row, way, job, HOLD_SCHEMA, { point: TEXT, stage: MAYBE_TEXT, log: LIST });
  return {
    ...hold,
    id: idOf(job, hold.point),
    log: rowsOf(hold.log, `${way}.log`, (deed, at) => rowOf(deed, at, DEED)),
  };
}

/**
 * A part of the record, with what each of them has.
 * @param {Row} row @param {string} way @param {string} job @param {number} schema its usual one
 * @param {Object<string, Wanted>} wanted
 */
function ownedOf(row, way, job, schema, wanted) {
  const found = rowOf(row, way, {
    schema: { kind: "number", usual: schema },
    ...wanted,
    id: { kind: "text", usual: newId() },
    rev: { kind: "number", usual: 0 },
    job: { kind: "text", usual: job },
  });
  if (found.job !== job)
    throw refusal(`${way}.job`, inWords(found.job), `the job's name, “${job}”`, "Leave it out.");
  return found;
}

// --- tables and lists of any kind ----------------------------------------------------------------

/**
 * A table with all that is wanted of it, in that order, so that the same is always written alike.
 * @param {Row} row @param {string} way @param {Object<string, Wanted>} wanted
 * @returns {Row}
 */
function rowOf(row, way, wanted) {
  const unknown = Object.keys(row).find((key) => !Object.hasOwn(wanted, key));
  if (unknown !== undefined)
    throw refusal(
      joined(way, unknown),
      "unknown",
      Object.keys(wanted).join(", "),
      "Correct it, or take it out.",
    );
  return Object.fromEntries(
    Object.entries(wanted).flatMap(([key, { kind, usual, open }]) => {
      const value = Object.hasOwn(row, key) ? row[key] : usual;
      if (value === undefined && open) return [];
      const [words, isKind] = KINDS[kind];
      if (value === undefined) throw refusal(joined(way, key), "missing", words, "Add it.");
      if (!isKind(value)) throw refusal(joined(way, key), inWords(value), words);
      return [[key, value]];
    }),
  );
}

/**
 * A list of tables.
 * @template T
 * @param {any[]} list @param {string} way
 * @param {(row: Row, way: string, place: number) => T} make
 * @returns {T[]}
 */
function rowsOf(list, way, make) {
  return list.map((row, place) => {
    const at = `${way} ${place + 1}`;
    if (!isObject(row)) throw refusal(at, inWords(row), "a table", `Write it as [[${way}]].`);
    return make(row, at, place);
  });
}

/**
 * A table with each of its values made into another.
 * @template T
 * @param {Row} table @param {string} way @param {(value: any, way: string) => T} make
 * @returns {Object<string, T>}
 */
function eachOf(table, way, make) {
  return Object.fromEntries(
    Object.entries(table).map(([key, value]) => [key, make(value, `${way}.${key}`)]),
  );
}

/** @param {any} value @param {string} way @returns {string} */
function textOf(value, way) {
  if (!isText(value)) throw refusal(way, inWords(value), "a text in quotes");
  return value;
}

/** @param {string} way @param {string} key */
function joined(way, key) {
  return way ? `${way}.${key}` : key;
}

/** @param {any} value */
function inWords(value) {
  const words = JSON.stringify(value);
  return words.length > SHOWN ? `${words.slice(0, SHOWN)}…` : words;
}

/**
 * @param {string} way where @param {string} found what is there @param {string} allowed
 * @param {string} [wayOut]
 */
function refusal(way, found, allowed, wayOut = "Correct it.") {
  const where = way.length > SHOWN ? `${way.slice(0, SHOWN)}…` : way;
  return new ParcelError(
    `This build file can't be taken in: ${where} is ${found}, allowed is ${allowed}. ${wayOut}`,
  );
}
