/**
 * On the torque page: the job's figure for this thread comes first. It is entered as if it
 * had been typed here, once for each bolt that is picked, and its source is shown. It can be
 * changed only on the figures page.
 *
 * @typedef {import("../face/worked_out.js").WorkedOut} WorkedOut
 * @typedef {import("../record/figures.js").Figure} Figure
 * @typedef {import("../form/entries.js").NumberEntry} NumberEntry
 */

import { button, make, need, write } from "../face/dom.js";
import { showMakers } from "../face/plate.js";
import { whenWorkedOut } from "../face/worked_out.js";
import { figureText, hasKnownUnit, matching, origin, warnings } from "../record/figures.js";
import { currentJob } from "../record/jobs.js";
import { damagedWords, readFigures, RecordError } from "../record/record.js";

const section = need(document, "[data-maker-figures]");
const plate = need(document, "[data-plate]");

/** @type {Figure[]} */
let kept = [];
/** The job in hand. */
let job = "";
/** How many more can't be read. */
let damaged = 0;
/** @type {Figure[]} those that the page can work with */
let figures = [];
/**
 * Bolts whose figure was entered once; it is not entered again if the user changes it.
 * @type {Set<string>}
 */
const offered = new Set();
let isEntering = false;
/** Friction by numbers, which a map doesn't ask for. */
const OWN_FRICTION = ["own", "nut_factor"];

/** @param {WorkedOut} worked */
function follow(worked) {
  if (isEntering) return;
  figures = kept.filter((figure) => hasKnownUnit(figure, worked.kit.quantities));
  const bolt = boltOf(worked);
  const fitting = matching(figures, job, bolt);
  const key = JSON.stringify(bolt);
  const entry = /** @type {NumberEntry} */ (worked.entries.maker_torque);
  if (fitting.length === 1 && !entry.text.trim() && !offered.has(key)) enter(worked, fitting[0]);
  offered.add(key);
  show(worked, fitting);
}

/** @param {WorkedOut} worked */
function boltOf({ entries }) {
  return {
    thread: String(entries.thread),
    grade: String(entries.grade),
    friction: String(entries.friction),
  };
}

/**
 * Enter a figure as if it had been typed.
 * @param {WorkedOut} worked
 * @param {Figure} figure
 */
function enter(worked, figure) {
  isEntering = true;
  worked.enter("maker_torque", figure.text, figure.unit);
  worked.enter("maker_angle", figure.angle, "deg");
  // The page keeps what is typed, but this figure is kept in the record already.
  worked.forgetKept();
  isEntering = false;
}

/** @param {WorkedOut} worked @param {Figure[]} fitting */
function show(worked, fitting) {
  section.hidden = false;
  const inUse = fitting.find((figure) => isInUse(worked, figure));
  const entry = /** @type {NumberEntry} */ (worked.entries.maker_torque);
  if (fitting.length > 1 && !entry.text.trim())
    showMakers(plate, { text: `${fitting.length} figures`, source: "pick one below" });
  if (inUse)
    showMakers(plate, {
      text: figureText(inUse, worked.kit.quantities),
      source: [origin(inUse), inUse.name].filter(Boolean).join(" · "),
    });
  need(section, "[data-maker-list]").replaceChildren(
    ...fitting.map((figure) => card(worked, figure, figure === inUse)),
  );
  write(
    need(section, "[data-maker-none]"),
    [
      fitting.length ? "" : "None is kept for this thread on this job.",
      damagedWords(damaged + kept.length - figures.length),
    ]
      .filter(Boolean)
      .join(" "),
  );
  const map = /** @type {HTMLAnchorElement} */ (need(section, "[data-maker-map]"));
  map.search = mapQuery(worked, inUse);
}

/** @param {WorkedOut} worked @param {Figure} figure */
function isInUse({ entries }, figure) {
  const entry = /** @type {NumberEntry} */ (entries.maker_torque);
  return (
    entry.unit === figure.unit &&
    Number(entry.text) === Number(figure.text) &&
    entry.text.trim() !== ""
  );
}

/** @param {WorkedOut} worked @param {Figure} figure @param {boolean} inUse */
function card(worked, figure, inUse) {
  const use = () => {
    enter(worked, figure);
    show(worked, matching(figures, job, boltOf(worked)));
  };
  return make("li", { class: "card" }, [
    make("h3", {}, [figure.name]),
    make("p", { class: "card-torque" }, [figureText(figure, worked.kit.quantities)]),
    make("p", { class: "quiet" }, [origin(figure) || "No source noted."]),
    ...warnings(figure).map((words) => make("p", { class: "warned" }, [words])),
    ...(inUse
      ? [make("p", {}, [make("b", {}, ["In use above."])])]
      : [make("div", { class: "card-foot" }, [button("Use this figure", use)])]),
  ]);
}

/**
 * The link for a map with the torque and the wrench of this page.
 * @param {WorkedOut} worked
 * @param {Figure | undefined} inUse
 */
function mapQuery({ entries, outcome }, inUse) {
  const query = new URLSearchParams();
  if (inUse) query.set("figure", inUse.id);
  else {
    const entry = /** @type {NumberEntry} */ (entries.maker_torque);
    const worked = outcome.answers.worked_torque;
    // A torque that the page gives no setting for, one that strips the hole, is not carried on.
    const isSet = outcome.answers.setting !== undefined;
    if (isSet && entry.text.trim()) query.set("torque", `${entry.text.trim()}${entry.unit}`);
    else if (isSet && worked !== undefined) {
      query.set("torque", `${worked.toFixed(1)}Nm`);
      query.set("source", "Worked out on the torque page");
    }
  }
  for (const key of ["thread", "grade", "friction"])
    if (!OWN_FRICTION.includes(String(entries[key]))) query.set(key, String(entries[key]));
  const crowfoot =
    entries.drive === "offset" ? ["extension", "wrench_length", "extension_angle"] : [];
  for (const key of ["running_torque", "wrench_largest", ...crowfoot]) {
    const entry = /** @type {NumberEntry} */ (entries[key]);
    if (entry.text.trim() && Number(entry.text) !== 0)
      query.set(key, `${entry.text.trim()}${entry.unit}`);
  }
  return query.toString();
}

async function open() {
  try {
    ({ good: kept, damaged } = await readFigures());
    job = await currentJob();
  } catch (reason) {
    if (!(reason instanceof RecordError)) throw reason;
    write(need(section, "[data-maker-none]"), reason.message);
  }
  // Right under the plate: what the maker says comes before the entries.
  document.querySelector("[data-form]")?.before(section);
  whenWorkedOut(follow);
}

open();
