/**
 * Takes a file in. Where it says otherwise than this phone of the same job, it asks first: all,
 * some or none of it, or all as a job of its own. Until that is said nothing is changed.
 *
 * @typedef {import("../model/catalogue.js").Kit} Kit
 * @typedef {import("../record/transfer.js").Parcel} Parcel
 * @typedef {import("../record/transfer.js").Outcome} Outcome
 * @typedef {import("../record/clashes.js").Clash} Clash
 * @typedef {import("../record/clashes.js").Choice} Choice
 * @typedef {{key: string, row: HTMLElement, toggle: HTMLButtonElement}} Line
 */

import { brief } from "./entries.js";
import { isFor, nameIn } from "./of_truck.js";
import { differenceRow, foldedRows } from "../face/differences.js";
import { button, make, offerBack, write } from "../face/dom.js";
import { besideName, clashesOf } from "../record/clashes.js";
import { figureText, origin, TORQUE, valueText } from "../record/figures.js";
import { elsewhere, figuresElsewhere, holdsElsewhere } from "../record/jobs.js";
import { reasonWords } from "../record/record.js";
import { putBack, stateNow } from "../record/taken_back.js";
import { everything, takeIn } from "../record/transfer.js";

/** Where files are taken in on a page. */
export class TakingIn {
  /**
   * @param {Element} after the place for questions and for the way back follows it
   * @param {() => void} changed called when something was taken in or put back
   */
  constructor(after, changed) {
    this.changed = changed;
    this.question = make("section", { class: "guest", "data-clash": "" });
    this.undo = make("p", { class: "undo", role: "status", "data-taken-back": "" });
    this.question.hidden = true;
    this.undo.hidden = true;
    after.after(this.question, this.undo);
  }

  /**
   * @param {Kit} kit @param {Parcel} parcel
   * @param {() => void} [asking] called when it waits for an answer
   * @returns {Promise<Outcome | null>} null if the file was left out
   */
  async take(kit, parcel, asking = () => {}) {
    this.undo.hidden = true;
    this.question.hidden = true;
    const { contents } = await everything();
    const clashes = clashesOf(parcel, contents);
    /** @type {Map<string, Choice>} */
    const choices = new Map();
    if (clashes.length) {
      await kit.everything();
      asking();
    }
    for (const [n, clash] of clashes.entries()) {
      const choice = await this.ask(kit, clash, clashes.length > 1 ? [n + 1, clashes.length] : []);
      if (!choice) return null;
      choices.set(clash.job, choice);
    }
    return this.takeIn(parcel, choices);
  }

  /** @param {Parcel} parcel @param {Map<string, Choice>} choices */
  async takeIn(parcel, choices) {
    const before = await stateNow();
    const outcome = await takeIn(parcel, choices);
    const after = await stateNow();
    this.tellOthers();
    offerBack(this.undo, "The file was taken in. ", "Undo", async () => {
      try {
        const left = await putBack(before, after);
        write(
          this.undo,
          left ? `Undone, but for ${left} that were gone on with since.` : "Undone: as it was.",
        );
      } catch (reason) {
        write(this.undo, reasonWords(reason));
      }
      this.undo.hidden = false;
      this.tellOthers();
      this.changed();
    });
    return outcome;
  }

  tellOthers() {
    for (const channel of [elsewhere, figuresElsewhere, holdsElsewhere]) channel?.postMessage("");
  }

  /**
   * Ask what of a job is taken.
   * @param {Kit} kit @param {Clash} clash @param {number[]} place which of how many
   * @returns {Promise<Choice | null>} null: nothing of the whole file
   */
  ask(kit, clash, place) {
    const lines = linesOf(kit, clash);
    const count = lines.length === 1 ? "one entry" : `${lines.length} entries`;
    const stays = clash.only ? ` What only this phone has (${clash.only}) stays.` : "";
    const of = place.length ? ` (job ${place.join(" of ")})` : "";
    return new Promise((resolve) => {
      /** @param {Choice | null} choice */
      const answer = (choice) => {
        this.question.hidden = true;
        this.question.replaceChildren();
        resolve(choice);
      };
      /** @param {Line[]} taken @returns {Choice} */
      const choice = (taken) => {
        const keys = taken.map(({ key }) => key);
        return {
          entries: clash.entries.map(({ name }) => name).filter((each) => keys.includes(each)),
          figures: clash.figures.map(({ mine }) => mine.id).filter((each) => keys.includes(each)),
        };
      };
      const picked = () => lines.filter(({ toggle }) => isPressed(toggle));
      const some = button("", () => answer(choice(picked())));
      const showPicked = () => {
        const n = picked().length;
        write(
          some,
          n ? (n > 1 ? `Take the ${n} picked` : "Take the one picked") : "Keep all of mine",
        );
      };
      for (const { toggle } of lines)
        toggle.addEventListener("click", () => {
          toggle.setAttribute("aria-pressed", String(!isPressed(toggle)));
          write(toggle, isPressed(toggle) ? "Picked" : "Pick");
          showPicked();
        });
      showPicked();
      this.question.replaceChildren(
        make("h2", { tabindex: "-1" }, [`“${clash.job}” differs from this phone${of}`]),
        make("p", {}, [
          `The file differs in ${count}. Nothing is changed until you choose.${stays}`,
        ]),
        make("ul", { class: "guest-list" }, foldedRows(lines.map(({ row }) => row))),
        make("p", { class: "guest-foot" }, [
          button(
            `${lines.length > 1 ? `Take all ${lines.length}` : "Take it"} into “${clash.job}”`,
            () => answer(choice(lines)),
          ),
          some,
          button(
            clash.entries.length
              ? `Keep both: add “${besideName(clash.job)}”`
              : "Keep both figures",
            () => answer("beside"),
          ),
          button("Leave the file out", () => answer(null)),
        ]),
      );
      this.question.hidden = false;
      this.question.querySelector("h2")?.focus();
    });
  }
}

/** @param {HTMLElement} toggle */
function isPressed(toggle) {
  return toggle.getAttribute("aria-pressed") === "true";
}

/** @param {Kit} kit @param {Clash} clash @returns {Line[]} */
function linesOf(kit, { entries, figures }) {
  return [
    ...entries.map(({ name, mine, theirs }) => {
      const { label, text } = wordsFor(kit, name);
      const [there, here] = [text(theirs), mine === undefined ? "not entered" : text(mine)];
      // Lists of parts, for one, are told by how many they are.
      return line(name, label, there === here ? `${there}, other values` : there, here);
    }),
    ...figures.map(({ mine, theirs }) =>
      line(mine.id, figureName(kit, mine), figureWords(kit, theirs), figureWords(kit, mine)),
    ),
  ];
}

/**
 * @param {string} key @param {string} label @param {string} theirs @param {string} mine
 * @returns {Line}
 */
function line(key, label, theirs, mine) {
  const toggle = button("Pick", () => {});
  toggle.setAttribute("aria-pressed", "false");
  toggle.setAttribute("aria-label", `${label}: take ${theirs}`);
  return { key, toggle, row: differenceRow(label, theirs, mine, toggle, { "data-differs": key }) };
}

/**
 * What an entry of a job is called, and what it says.
 * @param {Kit} kit @param {string} name under which the job keeps it
 * @returns {{label: string, text: (stored: import("../record/job.js").Stored) => string}}
 */
function wordsFor(kit, name) {
  for (const lookup of Object.values(kit.lookups))
    for (const field of lookup.fields) {
      if (nameIn(kit.truck, lookup.key, field.key) !== name) continue;
      const label = name === field.key ? field.label : `${field.label}, ${kit.titles[lookup.key]}`;
      const text = (/** @type {import("../record/job.js").Stored} */ stored) => {
        const fits =
          field.kind === "parts" ? Array.isArray(stored) : isFor(field, stored, kit.quantities);
        return fits ? brief(field, { [field.key]: stored }, kit.quantities) : "can't be read";
      };
      return { label, text };
    }
  const [, page, what] = name.split(" ");
  const title = kit.titles[page];
  return {
    label: name.startsWith("ticked ") && title ? `Ticked on ${title}: ${what}` : name,
    text: () => (name.startsWith("ticked ") ? "done" : "something else"),
  };
}

/** @param {Kit} kit @param {import("../record/figures.js").Figure} figure */
function figureName(kit, { name, kind }) {
  const title = kit.makers.find(({ key }) => key === kind)?.title ?? "figure";
  return `Maker's figure, ${name || title}`;
}

/** @param {Kit} kit @param {import("../record/figures.js").Figure} figure */
function figureWords(kit, figure) {
  const { kind, values, texts } = figure;
  const of = kit.makers.find(({ key }) => key === kind);
  const numbers =
    kind === TORQUE
      ? [figureText(figure, kit.quantities)]
      : Object.entries(values).map(([key, value]) =>
          valueText(value, of?.values[key] ?? "", kit.quantities),
        );
  return [...numbers, ...Object.values(texts), origin(figure)].filter(Boolean).join(", ");
}
