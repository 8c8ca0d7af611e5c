/**
 * A maker's figure: what a sheet says about a part of the truck, as it was entered. No DOM.
 *
 * One store for all: what the torque page, the map and the list show is the same entry. Of which
 * kinds there are, and which entries they feed, site_src/lookups/sheets.py knows. A number and its
 * unit are kept as typed; they are questioned, never changed. What the sheet leaves open is absent.
 *
 * @typedef {{text: string, unit: string}} Value
 * @typedef {{schema: number, id: string, rev: number, job: string, kind: string, name: string,
 *   choices: Object<string, string>, values: Object<string, Value>, texts: Object<string, string>,
 *   source: string, page: string, typed: string, used: string, changed: string}} Figure
 *   `name`: what it is for; `typed`: the page that it was typed on, "" for the list of figures;
 *   `used`: when it was last picked out of several that fit; `changed`: when it was last entered
 * @typedef {{key: string, title: string, choices: string[], values: Object<string, string>,
 *   texts: Object<string, string>, feeds: string[], pages: string[],
 *   picks: {choice: string, option: string, by: string[]}[], lines: boolean}} Kind
 * @typedef {import("../model/quantities.js").Quantities} Quantities
 */

import { withUnit } from "../face/numbers.js";
import { LONGEST, misread, parse, withoutUnit } from "../form/typed.js";
import { unitOf } from "../model/quantities.js";
import { isObject, isText } from "./shapes.js";

export const SCHEMA = 2;

const TEXTS = ["id", "job", "kind", "name", "source", "page", "typed", "used", "changed"];

/** Letters of a text and entries of a figure, at most: what no page could have written. */
const [LETTERS, ENTRIES] = [4000, 40];

/** The kind of figures that belong to a fastener. */
export const TORQUE = "torque";

/**
 * An empty figure.
 * @param {Partial<Figure> & Pick<Figure, "id" | "job" | "kind">} given
 * @returns {Figure}
 */
export function newFigure(given) {
  return {
    schema: SCHEMA,
    rev: 0,
    name: "",
    choices: {},
    values: {},
    texts: {},
    source: "",
    page: "",
    typed: "",
    used: "",
    changed: new Date().toISOString(),
    ...given,
  };
}

/**
 * Whether something read from a store or a file is a figure.
 * @param {any} value
 * @returns {value is Figure}
 */
export function isFigure(value) {
  return (
    isObject(value) &&
    value.schema === SCHEMA &&
    TEXTS.every((key) => isShort(value[key])) &&
    value.id !== "" &&
    value.kind !== "" &&
    Number.isInteger(value.rev) &&
    isAll(value.choices, isShort) &&
    isAll(value.texts, isShort) &&
    isAll(value.values, (each) => isObject(each) && isNumber(each.text) && isShort(each.unit)) &&
    Object.keys(value.values).length + Object.keys(value.texts).length > 0
  );
}

/** @param {any} value @returns {value is string} */
function isShort(value) {
  return isText(value) && value.length <= LETTERS;
}

/** @param {any} value @param {(each: any) => boolean} isGood */
function isAll(value, isGood) {
  return (
    isObject(value) &&
    Object.keys(value).length <= ENTRIES &&
    Object.values(value).every((each) => isGood(each))
  );
}

/** @param {any} text as a figure keeps a number: as it was typed, a comma and all */
function isNumber(text) {
  return isText(text) && text.trim() !== "" && text.length <= LONGEST;
}

// --- what earlier versions kept ------------------------------------------------------------------

/**
 * A figure as this version keeps it; what isn't one of the first version stays as it is.
 * @param {any} value
 */
export function upToDate(value) {
  if (!isObject(value) || value.schema !== 1) return value;
  const { schema: _, thread, grade, friction, text, unit, angle, reuse, sequence, ...rest } = value;
  return {
    ...rest,
    schema: SCHEMA,
    kind: TORQUE,
    choices: said({ thread, grade, friction, reuse }),
    values: {
      maker_torque: { text, unit },
      ...(angle && { maker_angle: { text: angle, unit: "deg" } }),
    },
    texts: said({ sequence }),
    typed: "",
    used: "",
  };
}

/** Without what is left open. @template T @param {{[key: string]: T}} all */
function said(all) {
  return Object.fromEntries(Object.entries(all).filter(([, each]) => each));
}

/** Under which an earlier version kept what was typed on a page; and the kind that it is now. */
const OLD_KINDS = new Map([
  ["torque maker_torque", TORQUE],
  ["torque maker_angle", TORQUE],
  ["hose-bend makers_radius", "hose"],
  ["hose-run makers_radius", "hose"],
]);

/** Friction that the user entered by numbers is none that a sheet states. */
const OWN_FRICTION = ["own", "nut_factor"];

/**
 * What an earlier version kept in a job beside the list of figures, as figures. What isn't known is
 * left in the job.
 * @param {import("./job.js").Job} job @param {() => string} newId @param {string} now
 * @returns {{job: import("./job.js").Job, figures: Figure[]}}
 */
export function figuresOfJob(job, newId, now) {
  /** @type {Map<string, Figure>} */
  const found = new Map();
  /** @type {import("./job.js").Job["kept"]} */
  const left = {};
  for (const [under, each] of Object.entries(job.kept)) {
    const [page, key, ...given] = under.split(" ");
    const kind = OLD_KINDS.get(`${page} ${key}`);
    if (!kind || !isNumber(each.text)) {
      left[under] = each;
      continue;
    }
    const choices = statedOnly(Object.fromEntries(given.map((pair) => pair.split("="))));
    // Torque and angle of the same bolt are one figure; the two hose pages had one each.
    const same = `${page} ${JSON.stringify(choices)} ${given.join(" ")}`;
    const figure =
      found.get(same) ??
      newFigure({
        id: newId(),
        job: job.name,
        kind,
        choices,
        typed: page,
        used: now,
        changed: now,
      });
    figure.values[key] = { text: withoutUnit(each.text), unit: each.unit };
    figure.source ||= each.source;
    found.set(same, figure);
  }
  return { job: { ...job, kept: left }, figures: withoutTwins([...found.values()]) };
}

/** Figures that say the same for the same part, once. @param {Figure[]} figures */
function withoutTwins(figures) {
  const seen = new Set();
  return figures.filter(({ kind, choices, values, source }) => {
    const content = JSON.stringify([kind, choices, values, source]);
    const isNew = !seen.has(content);
    seen.add(content);
    return isNew;
  });
}

/**
 * The choices of a page that a sheet can state.
 * @param {Object<string, string>} choices
 * @returns {Object<string, string>}
 */
export function statedOnly(choices) {
  const { friction, tapped, ...rest } = choices;
  return {
    ...rest,
    ...(friction && !OWN_FRICTION.includes(friction) && { friction }),
    ...(tapped && rest.joint !== "nut" && { tapped }),
  };
}

// --- what it says --------------------------------------------------------------------------------

/** @param {Value} value @param {string} quantity @param {Quantities | undefined} quantities */
export function valueText({ text, unit }, quantity, quantities) {
  const label = quantities?.[quantity]?.units.find(({ key }) => key === unit)?.label ?? unit;
  return unit === "deg" ? `${text}°` : withUnit(text, label);
}

/**
 * The torque of a figure and the angle after it, as they were entered.
 * @param {Figure} figure
 * @param {Quantities | undefined} quantities
 */
export function figureText({ values }, quantities) {
  const torque = values.maker_torque && valueText(values.maker_torque, "torque", quantities);
  const angle = values.maker_angle && valueText(values.maker_angle, "angle", quantities);
  if (!torque) return angle ? `then ${angle}` : "";
  return angle ? `${torque} + ${angle}` : torque;
}

/**
 * Whether a figure's units are ones that the pages know; the others can't be worked with.
 * @param {Figure} figure @param {Kind[]} kinds @param {Quantities} quantities
 */
export function hasKnownUnits({ kind, values }, kinds, quantities) {
  const of = kinds.find(({ key }) => key === kind);
  return Object.entries(values).every(([key, { unit }]) => {
    const quantity = of && Object.hasOwn(of.values, key) ? quantities[of.values[key]] : undefined;
    return quantity?.units.some((each) => each.key === unit) ?? false;
  });
}

/**
 * Whether each of a figure's numbers is one, in units that are known.
 * @param {Figure} figure
 * @param {Kind[]} kinds
 * @param {import("../model/quantities.js").Quantities} quantities
 */
export function hasNumbers(figure, kinds, quantities) {
  if (!hasKnownUnits(figure, kinds, quantities)) return false;
  const of = /** @type {Kind} */ (kinds.find(({ key }) => key === figure.kind));
  return Object.entries(figure.values).every(([key, { text, unit }]) => {
    const { units } = quantities[of.values[key]];
    const typed = parse(text, units, unitOf(units, unit), () => true);
    // Which of two a comma means is told by the range of who asks for it.
    return !misread(typed) || typed.problem === "two ways";
  });
}

/** Where a figure is from, in a line. @param {Figure} figure */
export function origin({ source, page }) {
  return [source, pageWords(page)].filter(Boolean).join(", ");
}

/** A bare number is a page. @param {string} page */
function pageWords(page) {
  return /^\d+$/.test(page.trim()) ? `page ${page.trim()}` : page;
}

/** In a few words whose it is, for beside an entry. @param {Figure} figure */
export function briefOrigin(figure) {
  return pageWords(figure.page) || figure.source;
}

/** What must be known before turning. @param {Figure} figure @returns {string[]} */
export function warnings({ choices, texts }) {
  const found = [];
  if (choices.reuse === "into yield") found.push("Tightened into yield: new bolts each time.");
  if (choices.reuse === "single use") found.push("Single use: new bolts each time.");
  if (texts.sequence) found.push(texts.sequence);
  return found;
}

// --- which one is meant --------------------------------------------------------------------------

/** A job's figures, by kind and name. @param {Figure[]} figures @param {string} job */
export function ofJob(figures, job) {
  return figures
    .filter((figure) => figure.job === job)
    .sort((a, b) => a.name.localeCompare(b.name) || a.changed.localeCompare(b.changed));
}

/** @param {Figure} figure what it was given for, the first being the part itself */
function conditions({ choices }) {
  const { reuse: _, pulley_kind: __, ...stated } = choices;
  return Object.entries(stated);
}

/**
 * The figures that fit a part, the closest fit first: all that the sheet states is so.
 * @param {Figure[]} figures a job's @param {string} kind
 * @param {Object<string, string>} part what is picked on a page
 */
export function matching(figures, kind, part) {
  return figures
    .filter((figure) => figure.kind === kind && differing(figure, part).length === 0)
    .sort((a, b) => conditions(b).length - conditions(a).length || a.name.localeCompare(b.name));
}

/**
 * What a figure was given for that is otherwise here.
 * @param {Figure} figure @param {Object<string, string>} part
 */
export function differing(figure, part) {
  return conditions(figure)
    .filter(([key, option]) => part[key] !== option)
    .map(([key]) => key);
}

/**
 * Figures for the same thread in another class, or with something else on it: offered, never used
 * by themselves.
 * @param {Figure[]} figures a job's @param {Object<string, string>} bolt
 */
export function beside(figures, bolt) {
  return figures.filter((figure) => {
    const other = differing(figure, bolt);
    return figure.kind === TORQUE && other.length > 0 && !other.includes("thread");
  });
}

/**
 * The one in use of several that fit: the only one, or the one that was picked last.
 * @param {Figure[]} fitting
 * @returns {Figure | null}
 */
export function inUse(fitting) {
  if (fitting.length === 1) return fitting[0];
  return fitting.reduce(
    (/** @type {Figure | null} */ last, each) =>
      each.used && (!last || each.used > last.used) ? each : last,
    null,
  );
}

/**
 * The figure that fills an entry wherever it is asked for, and the others that could.
 * @param {Figure[]} figures a job's @param {Kind[]} kinds @param {string} key the entry's
 * @returns {{figure: Figure | null, others: Figure[], kind: Kind} | null}
 */
export function feeding(figures, kinds, key) {
  const kind = kinds.find(({ feeds, pages, picks }) =>
    pages.length ? false : feeds.includes(key) || picks.some(({ choice }) => choice === key),
  );
  if (!kind) return null;
  /** @param {Figure} figure */
  const says = ({ values }) =>
    kind.feeds.includes(key)
      ? values[key] !== undefined
      : kind.picks.some(({ choice, by }) => choice === key && by.every((each) => values[each]));
  const able = figures.filter((figure) => figure.kind === kind.key && (kind.lines || says(figure)));
  // The first line of a sheet is as good as the others: they are of one kit.
  const figure = inUse(able) ?? (kind.lines ? first(able) : null);
  return { kind, figure, others: able.filter((each) => each !== figure) };
}

/** The one that was entered first. @param {Figure[]} figures @returns {Figure | null} */
function first(figures) {
  return figures.reduce(
    (/** @type {Figure | null} */ found, each) =>
      !found || each.changed < found.changed ? each : found,
    null,
  );
}
