/**
 * On the torque page: the job's figures for this thread, each with where it is from. The one in
 * use is on the plate, and what its sheet says besides stands under that; where one must be
 * picked, they do. All of them are in a list below the entries. Those that were given for another
 * class, or for something else on the thread, are never used by themselves.
 *
 * @typedef {import("../face/worked_out.js").WorkedOut} WorkedOut
 * @typedef {import("../record/figures.js").Figure} Figure
 * @typedef {import("../form/entries.js").NumberEntry} NumberEntry
 */

import { button, make, need, write } from "../face/dom.js";
import { showMakers } from "../face/plate.js";
import { whenWorkedOut } from "../face/worked_out.js";
import { optionNamed } from "../model/lookup.js";
import { beside, differing, figureText, origin, warnings } from "../record/figures.js";
import { USUAL_NAME } from "../record/job.js";
import { damagedWords } from "../record/record.js";

const first = need(document, "[data-maker-first]");
const section = need(document, "[data-maker-figures]");
const fold = /** @type {HTMLDetailsElement} */ (need(section, "[data-maker-fold]"));
const more = need(first, "[data-maker-more]");
const plate = need(document, "[data-plate]");

/** Friction by numbers, which a map doesn't ask for. */
const OWN_FRICTION = ["own", "nut_factor"];

/** @param {WorkedOut} worked */
function show(worked) {
  const { makers, entries, kit } = worked;
  section.hidden = false;
  const fitting = makers.fitting(entries);
  const others = beside(makers.usable(), makers.part(entries));
  const used = makers.shown(entries);
  const entry = /** @type {NumberEntry} */ (entries.maker_torque);
  if (fitting.length > 1 && !entry.text.trim())
    showMakers(plate, { text: "Pick one below", source: `${fitting.length} kept for this bolt` });
  if (used)
    showMakers(plate, {
      text: figureText(used, kit.quantities),
      source: [origin(used), used.name, jobWords(makers.truck.job.name)]
        .filter(Boolean)
        .join(" · "),
    });
  // With a torque of his own in the box nothing is left to pick.
  const picks = used || entry.text.trim() ? [] : fitting;
  showFirst(worked, used, picks);
  const elsewhere = [...fitting, ...others].filter(
    (each) => each !== used && !picks.includes(each),
  );
  showWayBelow(worked, elsewhere);
  const count = fitting.length + others.length;
  fold.hidden = count === 0;
  write(need(fold, "[data-maker-count]"), count === 1 ? "One is kept" : `${count} are kept`);
  need(fold, "[data-maker-list]").replaceChildren(
    ...fitting.map((figure) => card(worked, figure, figure === used)),
    ...others.map((figure) => otherCard(worked, figure)),
  );
  write(
    need(section, "[data-maker-none]"),
    [
      fitting.length
        ? ""
        : others.length
          ? "Not one is kept for just this bolt."
          : "Nothing is kept for this thread on this job.",
      makers.truck.trouble,
      damagedWords(makers.unusable),
    ]
      .filter(Boolean)
      .join(" "),
  );
  const map = /** @type {HTMLAnchorElement} */ (need(section, "[data-maker-map]"));
  map.search = mapQuery(worked, used);
}

/**
 * What comes before the entries: what the sheet in use says besides, or the figures to pick one of.
 * @param {WorkedOut} worked @param {Figure | null} used @param {Figure[]} picks
 */
function showFirst(worked, used, picks) {
  const said = used ? warnings(used) : [];
  need(first, "[data-maker-said]").replaceChildren(
    ...said.map((words) => make("li", { class: "warned" }, [words])),
  );
  need(first, "[data-maker-picks]").replaceChildren(
    ...picks.map((figure) => card(worked, figure, false)),
  );
}

/**
 * A line that leads to the figures in the list below, and names the one, if it is one.
 * @param {WorkedOut} worked @param {Figure[]} elsewhere
 */
function showWayBelow({ kit, makers, entries }, elsewhere) {
  more.hidden = elsewhere.length === 0;
  first.hidden = more.hidden && !first.querySelector("li");
  const [one] = elsewhere;
  const apart = one && differingWords(makers, one, entries);
  write(
    need(more, "[data-maker-more-link]"),
    elsewhere.length === 1
      ? `Also kept${apart ? ` for ${apart}` : ""}: ${figureText(one, kit.quantities)}`
      : `${elsewhere.length} more are kept for this thread`,
  );
}

more.addEventListener("click", () => {
  fold.open = true;
});

/** A job that was given a name. @param {string} name */
function jobWords(name) {
  return name === USUAL_NAME ? "" : name;
}

/**
 * @param {WorkedOut} worked @param {Figure} figure
 * @param {Node[]} foot what is said of its use
 */
function cardOf({ kit }, figure, foot) {
  return make("li", { class: "card" }, [
    make("h3", {}, [figure.name || "Typed on this page"]),
    make("p", { class: "card-torque" }, [figureText(figure, kit.quantities)]),
    make("p", { class: "quiet" }, [origin(figure) || "No source noted."]),
    ...warnings(figure).map((words) => make("p", { class: "warned" }, [words])),
    ...foot,
  ]);
}

/** @param {WorkedOut} worked @param {Figure} figure @param {boolean} used */
function card(worked, figure, used) {
  return cardOf(worked, figure, [
    used
      ? make("p", {}, [make("b", {}, ["In use above."])])
      : make("div", { class: "card-foot" }, [button("Use this figure", () => worked.use(figure))]),
  ]);
}

/**
 * One that was given for something else: to use it, that is picked first.
 * @param {WorkedOut} worked @param {Figure} figure
 */
function otherCard(worked, figure) {
  const { makers, entries } = worked;
  const words = differingWords(makers, figure, entries);
  return cardOf(worked, figure, [
    make("p", { class: "warned" }, [`Kept for ${words}. It is not for the bolt picked above.`]),
    make("div", { class: "card-foot" }, [
      button(`Change the bolt to ${words}`, () => worked.use(figure)),
    ]),
  ]);
}

/**
 * For what else than the bolt on the page a figure was given, in words.
 * @param {WorkedOut["makers"]} makers @param {Figure} figure @param {WorkedOut["entries"]} entries
 */
function differingWords(makers, figure, entries) {
  return differing(figure, makers.part(entries))
    .map((key) => optionNamed(makers.field(key), figure.choices[key])?.label)
    .filter(Boolean)
    .join(", ");
}

/**
 * The link for a map with the torque and the wrench of this page.
 * @param {WorkedOut} worked
 * @param {Figure | null} used
 */
function mapQuery({ entries, outcome }, used) {
  const query = new URLSearchParams();
  if (used) query.set("figure", used.id);
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

whenWorkedOut(show);
