/**
 * Says above the form what another page works out better for this truck, where the page's number
 * would be another with it: the entry is folded away, or on a page that this one follows.
 *
 * @typedef {import("./set_up.js").SetUp} SetUp
 * @typedef {import("./entries.js").NumberEntry} NumberEntry
 * @typedef {import("../model/lookup.js").NumberField} NumberField
 * @typedef {import("../face/words.js").Shown} Shown
 * @typedef {{page: string, field: NumberField, name: string, from: string, entry: NumberEntry,
 *   now: NumberEntry}} Better  `page` asks for it, `from` works it out, `name`: as the job keeps it
 */

import { button, make, need } from "../face/dom.js";
import { withUnit } from "../face/numbers.js";
import { showAnswer } from "../face/words.js";
import { mainAnswer } from "../model/lookup.js";
import { brief } from "./entries.js";
import { OfTruck } from "./of_truck.js";

/** Whether another page may have something to say, once it is read. @param {SetUp} setUp */
export function mayBeOffered({ kit, ofTruck, isGuest }) {
  if (!ofTruck || isGuest) return false;
  const { lookup, lookups, behind } = kit;
  return [lookup.key, ...behind].some((page) =>
    lookups[page].fields.some(({ key }) => ofTruck.isOffered(key)),
  );
}

/** The box comes when a page is opened, and never while it is worked on, under a finger. */
export class Offered {
  /** @param {ParentNode} page @param {SetUp} setUp @param {() => void} changed when one is taken */
  constructor(page, setUp, changed) {
    this.box = need(page, "[data-offered]");
    this.setUp = setUp;
    this.changed = changed;
    /** @type {Set<string> | null} those that differed when the page was opened */
    this.names = null;
    this.said = "";
  }

  /** @param {Shown[]} everything as the page answers now */
  show(everything) {
    const { box, setUp, names } = this;
    if (names?.size === 0) return;
    const told = (mayBeOffered(setUp) ? better(setUp) : [])
      .filter(({ name }) => names?.has(name) ?? true)
      .map((each) => tell(setUp, each, everything))
      .filter(({ differs }) => differs || names);
    this.names ??= new Set(told.map(({ name }) => name));
    box.hidden = told.length === 0;
    const said = told.map(({ words }) => words).join("\n");
    // One that says the same as before stays, with the focus that it may have.
    if (said === this.said) return;
    this.said = said;
    box.replaceChildren(
      ...told.flatMap(({ words, theirs, take }) => [
        make("p", {}, [words]),
        make("p", { class: "way-back" }, [
          button(`Take ${theirs}`, () => {
            take();
            this.changed();
          }),
        ]),
      ]),
    );
  }
}

/** @param {SetUp} setUp @returns {Better[]} each entry that another page has another value for */
function better({ kit, ofTruck, entries, preferred }) {
  if (!ofTruck) return [];
  /** @type {Map<string, Better>} */
  const found = new Map();
  for (const page of [kit.lookup.key, ...kit.behind]) {
    const lookup = kit.lookups[page];
    const there = lookup === kit.lookup ? entries : ofTruck.entries(lookup, preferred);
    for (const field of lookup.fields) {
      const name = ofTruck.name(page, field.key);
      const source = ofTruck.offer(page, field.key);
      if (!source || field.kind !== "number" || found.has(name)) continue;
      const entry = ofTruck.workedOut(source, field, preferred);
      const now = /** @type {NumberEntry} */ (there[field.key]);
      if (!entry.text || entry.text === now.text) continue;
      found.set(name, { page, field, name, from: source.page, entry, now });
    }
  }
  return [...found.values()];
}

/**
 * What is another number with a better value, in words.
 * @param {SetUp} setUp @param {Better} better @param {Shown[]} everything
 */
function tell(setUp, { page, field, name, from, entry, now }, everything) {
  const { kit, truck } = setUp;
  const own = { ...entry, typed: true };
  const then = answersWith(setUp, name, own);
  const differing = mainFirst(kit.lookup, everything).find(
    ({ answer, text }) => text && then.get(answer)?.text !== text,
  );
  const [theirs, ours] = [entry, now].map((each) =>
    brief(field, { [field.key]: each }, kit.quantities),
  );
  const here = page === kit.lookup.key ? "this page" : kit.titles[page];
  const known = `“${field.label}”: ${kit.titles[from]} works out ${theirs} for this truck, ${here} has ${ours}.`;
  return {
    name,
    differs: differing !== undefined,
    theirs,
    words: `${known} ${differing ? inWords(then.get(differing.answer)) : "No number here is another with it."}`,
    take: () => {
      truck?.enter(new Map([[name, own]]));
      setUp.showJob();
    },
  };
}

/**
 * What the page would answer, did the job hold another entry.
 * @param {SetUp} setUp @param {string} name @param {NumberEntry} own
 */
function answersWith({ kit, picked, truck }, name, own) {
  const { lookup } = kit;
  const outcome = new OfTruck(kit, {
    figures: truck?.figures ?? [],
    entry: (each) => (each === name ? own : truck?.entry(each)),
  }).outcome(lookup.key);
  return new Map(
    lookup.answers.map((answer) => [
      answer,
      showAnswer(kit, answer, outcome, picked.answer(answer), []),
    ]),
  );
}

/** @param {import("../model/lookup.js").Lookup} lookup @param {Shown[]} everything */
function mainFirst(lookup, everything) {
  const main = mainAnswer(lookup);
  return [...everything].sort((a, b) => Number(b.answer === main) - Number(a.answer === main));
}

/** @param {Shown | undefined} shown */
function inWords(shown) {
  if (!shown || shown.fault) return "With it there is no such number.";
  return `With it: ${shown.answer.label} ${withUnit(shown.text, shown.unit.label)}.`;
}
