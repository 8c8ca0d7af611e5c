/** What was read beside what was reckoned: drawings over engine speed, and the same as a table. */

import { make, need, write } from "../face/dom.js";
import { drawTable, Notes } from "../face/cells.js";
import { grouped, NO_CELL, shown } from "../face/numbers.js";
import { answerNamed, numberNamed } from "../model/lookup.js";
import { fromSi, unitOf, unitsOf } from "../model/quantities.js";
import { explain } from "../recipe.js";
import { drawPlot } from "./plot.js";

/**
 * @typedef {import("./weigh.js").Reading} Reading
 * @typedef {import("../model/catalogue.js").Kit} Kit
 * @typedef {import("../model/lookup.js").Answer} Answer
 * @typedef {{title: string, answer: Answer, read: (reading: Reading) => number | null,
 *   reckoned: (reading: Reading, n: number) => number | null, limit: number | null}} Series
 *   numbers in SI
 */

/** Each thing read, beside the answer that says what was to be expected. */
const READ = [
  ["run_boost", "expected_boost", "Boost"],
  ["run_charge", "expected_charge", "Charge temperature"],
  ["run_outlet", "expected_outlet", "Blower outlet"],
  ["run_depression", "expected_depression", "Depression at the blower inlet"],
  ["run_pulley", "expected_pulley", "Blower pulley speed"],
];

/** What is off, whose expected value is nought. */
const OFF = [
  ["air_missing", "Air missing"],
  ["slip_more", "Slip over the one reckoned with"],
];

/**
 * @param {ParentNode} page @param {Kit} kit
 * @param {import("../form/picked_units.js").PickedUnits} picked
 * @param {Reading[]} readings
 * @param {import("../recipe/values.js").Inputs} plan the truck's entries of the page `plan`
 * @param {Object<string, number | null>} limits SI, by what was read
 */
export function showRun(page, kit, picked, readings, plan, limits) {
  const { reading, plan: planned } = kit.lookups;
  const all = [
    ...READ.map((each) => readSeries(reading, each, limits)),
    ...OFF.map((each) => offSeries(reading, each)),
  ];
  if (readings.some(({ bin }) => "run_duty" in bin))
    all.push(dutySeries(kit, planned, readings, plan, limits.run_duty ?? null));
  const there = all.filter((each) => readings.some((one) => each.read(one) !== null));
  const speeds = numberNamed(reading, "run_speed");
  const rpm = unitOf(unitsOf(speeds, kit.quantities), speeds.unit);
  const xs = readings.map(({ bin }) => fromSi(bin.run_speed, rpm));
  const across = `Engine speed, ${rpm.label}`;
  const plots = there.map((each) => {
    const unit = picked.answer(each.answer);
    const value = (/** @type {number | null} */ si) => (si === null ? null : fromSi(si, unit));
    const dots = readings.map((one, n) => ({
      x: xs[n],
      read: value(each.read(one)),
      reckoned: value(each.reckoned(one, n)),
    }));
    const up = unit.label ? `${each.title}, ${unit.label}` : each.title;
    const drawing = drawPlot(
      dots,
      value(each.limit),
      across,
      up,
      `${each.title}: read as points, reckoned as a line. The same numbers are in the table below.`,
    );
    return make("div", { class: "plot" }, [make("figure", {}, drawing ? [drawing] : [])]);
  });
  need(page, "[data-plot-list]").replaceChildren(...plots);
  const heads = there.flatMap((each) => {
    const { label } = picked.answer(each.answer);
    const name = label ? `${each.title}, ${label}` : each.title;
    return isOff(each) ? [{ text: name }] : [{ text: `${name}, read` }, { text: "reckoned" }];
  });
  const rows = readings.map((one, n) => ({
    head: grouped(String(Math.round(xs[n]))),
    current: false,
    cells: there.flatMap((each) => {
      const unit = picked.answer(each.answer);
      const text = (/** @type {number | null} */ si) =>
        si === null ? NO_CELL : shown(fromSi(si, unit), each.answer.decimals[unit.key]);
      const own = { text: text(each.read(one)) };
      return isOff(each) ? [own] : [own, { text: text(each.reckoned(one, n)) }];
    }),
  }));
  need(page, "[data-numbers]").replaceChildren(
    ...drawTable("Read and reckoned", across, heads, rows, new Notes()),
  );
  need(page, "[data-plots]").hidden = false;
}

/** @param {Series} series */
function isOff({ answer }) {
  return OFF.some(([key]) => key === answer.key);
}

/**
 * @param {import("../model/lookup.js").Lookup} lookup @param {string[]} names
 * @param {Object<string, number | null>} limits
 * @returns {Series}
 */
function readSeries(lookup, [key, expected, title], limits) {
  return {
    title,
    answer: answerNamed(lookup, expected),
    read: ({ bin }) => bin[key] ?? null,
    reckoned: ({ outcome }) => outcome.number(expected),
    limit: limits[key] ?? null,
  };
}

/** @param {import("../model/lookup.js").Lookup} lookup @param {string[]} names @returns {Series} */
function offSeries(lookup, [key, title]) {
  return {
    title,
    answer: answerNamed(lookup, key),
    read: ({ outcome }) => outcome.number(key),
    reckoned: ({ outcome }) => (outcome.number(key) === null ? null : 0),
    limit: null,
  };
}

/**
 * @param {Kit} kit @param {import("../model/lookup.js").Lookup} plan
 * @param {Reading[]} readings @param {import("../recipe/values.js").Inputs} inputs
 * @param {number | null} limit @returns {Series}
 */
function dutySeries(kit, plan, readings, inputs, limit) {
  const speed = numberNamed(plan, "engine_speed");
  const unit = unitOf(unitsOf(speed, kit.quantities), speed.unit);
  const tables = kit.tablesOf(plan);
  const found = readings.map(({ bin }) =>
    explain(plan, { ...inputs, engine_speed: fromSi(bin.run_speed, unit) }, tables).number("duty"),
  );
  return {
    title: "Injector duty",
    answer: answerNamed(plan, "duty"),
    read: ({ bin }) => bin.run_duty ?? null,
    reckoned: (_, n) => found[n],
    limit,
  };
}

/**
 * Where the rows of a log went.
 * @param {HTMLElement} holder @param {import("./pulls.js").Counts} counts
 */
export function showCounts(holder, { rows, used, pulls, blank, part, falling, few }) {
  const text = (/** @type {number} */ count) => grouped(String(count));
  const out = [
    [blank, "without engine speed or boost"],
    [part, "not at full throttle"],
    [falling, "where the engine gained no speed, or a pull began"],
    [few, "of engine speeds with too few rows"],
  ]
    .filter(([count]) => Number(count) > 0)
    .map(([count, why]) => `${text(Number(count))} ${why}`);
  write(
    holder,
    `${text(used)} of ${text(rows)} rows used, from ${pulls === 1 ? "one pull" : `${pulls} pulls`}; medians by engine speed. Left out: ${out.join(", ") || "none"}.`,
  );
}
