/**
 * A maker's figure: what the instructions say about one fastener, as it was entered. No DOM.
 *
 * The torque and its unit are kept as typed; they are questioned, never changed.
 *
 * @typedef {"" | "single use" | "into yield"} Reuse
 * @typedef {{schema: number, id: string, rev: number, job: string, name: string, thread: string,
 *   grade: string, friction: string, text: string, unit: string, angle: string, reuse: Reuse,
 *   sequence: string, source: string, page: string, changed: string}} Figure
 */

import { withUnit } from "../face/numbers.js";
import { LONGEST } from "../form/typed.js";
import { isObject, isText } from "./shapes.js";

export const SCHEMA = 1;

/** @type {Reuse[]} */
export const REUSE = ["", "single use", "into yield"];

const TEXTS = [
  "id",
  "job",
  "name",
  "thread",
  "grade",
  "friction",
  "text",
  "unit",
  "angle",
  "sequence",
  "source",
  "page",
  "changed",
];

/**
 * The torque of a figure and the angle after it, as they were entered.
 * @param {Figure} figure
 * @param {import("../model/quantities.js").Quantities | undefined} quantities
 */
export function figureText({ text, unit, angle }, quantities) {
  const label = quantities?.torque.units.find(({ key }) => key === unit)?.label ?? unit;
  return angle ? `${withUnit(text, label)} + ${angle}°` : withUnit(text, label);
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
    TEXTS.every((key) => isText(value[key])) &&
    value.id !== "" &&
    value.name.trim() !== "" &&
    isNumber(value.text) &&
    (value.angle === "" || isNumber(value.angle)) &&
    Number.isInteger(value.rev) &&
    REUSE.includes(value.reuse)
  );
}

/** @param {string} text as the figures page keeps a number */
function isNumber(text) {
  return text.trim() !== "" && text.length <= LONGEST && Number.isFinite(Number(text));
}

/**
 * Whether a figure's unit is one that the pages know; the others can't be worked with.
 * @param {Figure} figure
 * @param {import("../model/quantities.js").Quantities} quantities
 */
export function hasKnownUnit({ unit }, quantities) {
  return quantities.torque.units.some(({ key }) => key === unit);
}

/**
 * The figures that fit a bolt, the closest fit first: for its thread, and for its grade and
 * lubricant where the instructions name them.
 * @param {Figure[]} figures
 * @param {string} job
 * @param {{thread: string, grade: string, friction: string}} bolt
 */
export function matching(figures, job, bolt) {
  /** @param {Figure} figure */
  const named = (figure) => Number(figure.grade !== "") + Number(figure.friction !== "");
  return figures
    .filter(
      (figure) =>
        figure.job === job &&
        figure.thread === bolt.thread &&
        (!figure.grade || figure.grade === bolt.grade) &&
        (!figure.friction || figure.friction === bolt.friction),
    )
    .sort((a, b) => named(b) - named(a) || a.name.localeCompare(b.name));
}

/** Where a figure is from, in a line. @param {Figure} figure */
export function origin(figure) {
  return [figure.source, figure.page].filter(Boolean).join(", ");
}

/** What must be known before turning. @param {Figure} figure @returns {string[]} */
export function warnings(figure) {
  const found = [];
  if (figure.reuse === "into yield") found.push("Tightened into yield: new bolts each time.");
  if (figure.reuse === "single use") found.push("Single use: new bolts each time.");
  if (figure.sequence) found.push(figure.sequence);
  return found;
}

/** A job's figures, by name. @param {Figure[]} figures @param {string} job */
export function ofJob(figures, job) {
  return figures
    .filter((figure) => figure.job === job)
    .sort((a, b) => a.name.localeCompare(b.name));
}
