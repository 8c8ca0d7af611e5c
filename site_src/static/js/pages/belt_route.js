/** The belt route as it is typed: drawing, places in order, and the pages that go on from it. */

import { fedEntry } from "../form/carried.js";
import { all, button, make, need, tell } from "../face/dom.js";
import { carried } from "../face/ladder.js";
import { withUnit } from "../face/numbers.js";
import { showNearest } from "../face/nearest.js";
import { discs, drawRoute } from "../face/route.js";
import { shownNamed } from "../face/words.js";
import { whenWorkedOut } from "../face/worked_out.js";
import { fieldNamed, mainAnswer, numberNamed } from "../model/lookup.js";
import { given } from "../recipe/values.js";

/**
 * @typedef {import("../face/worked_out.js").WorkedOut} WorkedOut
 * @typedef {import("../form/entries.js").NumberEntry} NumberEntry
 */

/** What is entered of each place. */
const ENTRIES = ["kind", "x", "y", "d", "side"];
const PLACES = 10;

const section = need(document, "[data-route]");
const seat = need(section, "[data-route-seat]");
/** @type {WorkedOut | null} */
let last = null;

whenWorkedOut((found) => {
  last = found;
  showDrawing(found);
  showPlaces(found);
  showSeat(found);
  showNearest(need(document, "[data-nearest]"), found);
  showLinks(found);
  hideSpare(found);
});
seat.addEventListener("click", () => {
  if (last) moveTensioner(last);
});

/** What the pulleys are called, by place. @param {WorkedOut} found */
function namesOf({ kit, inputs }) {
  const others = Array.from({ length: PLACES - 1 }, (_, n) => {
    const field = fieldNamed(kit.lookup, `kind_${n + 2}`);
    const chosen = given(field, inputs);
    return field.kind === "choice"
      ? (field.options.find(({ key }) => key === chosen)?.label ?? "")
      : "";
  });
  return ["Crank", ...others];
}

/** @param {WorkedOut} found */
function showDrawing(found) {
  const pulleys = discs(found.outcome, namesOf(found));
  const names = pulleys.map(({ number, name }) => `${number} ${name}`).join(", ");
  const label = `Drawing of the belt route, seen from in front: ${names}, and back to the crank.`;
  need(section, "[data-route-drawing]").replaceChildren(
    ...(pulleys.length ? [drawRoute(found.outcome, pulleys, label)] : []),
  );
  const main = shownNamed(found.everything, mainAnswer(found.kit.lookup).key);
  tell(need(section, "[data-route-problem]"), main?.fault ? main.words : "");
}

/** @param {WorkedOut} found */
function showPlaces(found) {
  const names = namesOf(found);
  const pulleys = discs(found.outcome, names);
  need(section, "[data-route-places]").replaceChildren(
    ...pulleys.map(({ number, name }, n) => {
      const [wrap, run] = ["wrap", "run"].map((kind) => {
        const shown = shownNamed(found.everything, `${kind}_${number}`);
        return shown && !shown.fault ? withUnit(shown.text, shown.unit.label) : "none";
      });
      const next = pulleys[(n + 1) % pulleys.length].number;
      const item = make("li", { value: String(number) }, [
        make("b", {}, [`${number} ${name}`]),
        make("span", {}, [`wrap ${wrap}`]),
        make("span", {}, [`run to ${next}: ${run}`]),
      ]);
      if (number > 2) item.append(button(`Earlier`, () => swap(found, number, number - 1)));
      item
        .querySelector("button")
        ?.setAttribute("aria-label", `${number} ${name}: one place earlier`);
      return item;
    }),
  );
}

/**
 * Let two places of the list change what they hold.
 * @param {WorkedOut} found @param {number} a @param {number} b
 */
function swap({ entries, enter }, a, b) {
  for (const each of ENTRIES) {
    const [one, other] = [`${each}_${a}`, `${each}_${b}`];
    [entries[one], entries[other]] = [typed(entries[other]), typed(entries[one])];
  }
  const x = /** @type {NumberEntry} */ (entries[`x_${b}`]);
  enter(`x_${b}`, x.text, x.unit);
}

/**
 * An entry as it is when a person has typed it: no longer the usual one of its place.
 * @param {any} entry
 */
function typed(entry) {
  return typeof entry === "string" ? entry : { text: entry.text, unit: entry.unit, typed: true };
}

/** The place of the tensioner; 0 if there is none. @param {WorkedOut} found */
function tensionerOf({ outcome }) {
  return Array.from({ length: PLACES }, (_, n) => n + 1).find(
    (number) => outcome.number(`tensions_${number}`) === 1,
  );
}

/** @param {WorkedOut} found */
function showSeat(found) {
  seat.hidden = found.outcome.number("seat_x") === null || !tensionerOf(found);
}

/** @param {WorkedOut} found */
function moveTensioner(found) {
  const number = tensionerOf(found);
  for (const axis of ["x", "y"]) {
    const si = found.outcome.number(`seat_${axis}`);
    if (si === null || !number) return;
    const field = numberNamed(found.kit.lookup, `${axis}_${number}`);
    const { text, unit } = fedEntry(field, si, found.kit.quantities);
    found.enter(field.key, text, unit);
  }
}

/** The pages that go on from here; none while the belt can't run. @param {WorkedOut} found */
function showLinks({ kit, entries, outcome, everything }) {
  const links = need(document, "[data-route-links]");
  let missing = false;
  for (const link of all(links, "[data-route-to]")) {
    const page = link.dataset.routeTo ?? "";
    const pairs = (link.dataset.feeds ?? "").split(" ").map((pair) => pair.split("="));
    const rung = { answer: "", label: "", first: "", page, feeds: Object.fromEntries(pairs) };
    const query = carried(kit, rung, entries, outcome);
    link.hidden = query === null;
    /** @type {HTMLAnchorElement} */ (link).search = query ?? "";
    missing ||= query === null;
  }
  const wrap = shownNamed(everything, "blower_wrap");
  tell(
    need(links, "[data-route-links-problem]"),
    missing ? (wrap?.words ?? "") || "This route has no wrap or run to go on with." : "",
  );
}

/** Of the places that are free, one is enough to see. @param {WorkedOut} found */
function hideSpare({ kit, inputs }) {
  let free = 0;
  for (let number = 2; number <= PLACES; number += 1) {
    const key = `kind_${number}`;
    const fold = document.querySelector(`[data-field="${key}"]`)?.closest("details");
    if (!fold) continue;
    if (given(fieldNamed(kit.lookup, key), inputs) === "none") free += 1;
    fold.hidden = free > 1 && given(fieldNamed(kit.lookup, key), inputs) === "none" && !fold.open;
  }
}
