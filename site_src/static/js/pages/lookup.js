/** A lookup page: from what stands in the form to what stands on the plate. Wiring only. */

import { showAdvice } from "../face/advice.js";
import { showViews } from "../face/chart.js";
import { showCompare } from "../face/compare.js";
import { all, make, need } from "../face/dom.js";
import { showLadder } from "../face/ladder.js";
import { showAnswers, showMargins, showUnit } from "../face/margins.js";
import { withUnit } from "../face/numbers.js";
import { showMakers, showPlate, silencePlate } from "../face/plate.js";
import { inOrder, judgedFirst } from "../face/rungs.js";
import { showWhy } from "../face/why.js";
import { showAnswer } from "../face/words.js";
import { tellWorkedOut } from "../face/worked_out.js";
import { initial, read, understood } from "../form/entries.js";
import { Form } from "../form/form.js";
import { keptFields, keptFor, keptUnder } from "../form/kept_figures.js";
import { fromQuery, toQuery } from "../form/link.js";
import { Picked } from "../form/picked_units.js";
import { misread } from "../form/typed.js";
import { load, VersionError } from "../model/catalogue.js";
import { unitOf, unitsOf } from "../model/quantities.js";
import { explain } from "../recipe.js";
import { recall, remember, USUAL_JOB } from "../record/store.js";

/**
 * @typedef {import("../model/lookup.js").Answer} Answer
 * @typedef {import("../form/entries.js").NumberEntry} NumberEntry
 */

const LINK_DELAY = 250;

/** Height in CSS pixels under which the plate keeps only the answer and its verdict. */
const TIGHT = 480;

const page = need(document, "[data-lookup]");
const plate = need(page, "[data-plate]");
const key = page.dataset.lookup ?? "";

/** The page's state: what is entered, and the units that answers are shown in. */
class Page {
  /** @param {import("../model/catalogue.js").Kit} kit */
  constructor(kit) {
    this.kit = kit;
    const { lookup, quantities } = kit;
    this.picked = new Picked(key, quantities);
    /** @type {import("../form/entries.js").Remembered} */
    this.preferred = (path, field) => this.picked.entry(path, field);
    this.entries = initial(lookup.fields, quantities, this.preferred);
    this.recallFigures();
    fromQuery(lookup.fields, this.entries, location.search, quantities, this.preferred);
    this.form = new Form(
      need(page, "[data-form]"),
      kit,
      this.entries,
      (path) => this.changed(path),
      (path, unit) => this.picked.pickEntry(path, unit),
      this.preferred,
    );
    this.frame = 0;
    this.linkTimer = 0;
    this.bind();
    this.form.showTexts();
    this.update();
  }

  bind() {
    page.addEventListener("click", (event) => {
      const button = event.target instanceof Element ? event.target.closest("[data-unit]") : null;
      if (button && !button.closest("[data-form]")) this.nextUnit(button);
    });
    need(page, "[data-reset]").addEventListener("click", () => this.startAgain());
    for (const input of all(page, "[data-source]"))
      input.addEventListener("change", () => this.keepFigures());
    bindShare(need(page, "[data-share]"));
    addEventListener("beforeprint", () =>
      all(page, ".more, .numbers").forEach((fold) => fold.setAttribute("open", "")),
    );
  }

  /** @param {string} path of the field that was changed */
  changed(path) {
    const { lookup } = this.kit;
    const field = lookup.fields.find((each) => each.key === path);
    if (field?.kind === "number" && field.kept) this.keepFigures();
    else if (field?.kind === "choice" && this.recallFigures()) this.form.showTexts();
    this.update();
  }

  /** Work everything out and show it. */
  update() {
    const { lookup, quantities, tables } = this.kit;
    const { inputs, problems } = read(lookup.fields, this.entries, quantities);
    const outcome = explain(lookup, inputs, tables);
    const everything = lookup.answers.map((answer) =>
      showAnswer(this.kit, answer, outcome, this.picked.answer(answer), problems),
    );
    const main = everything.find(({ answer }) => answer.rank === "main") ?? everything[0];
    this.form.show(problems);
    showMakers(plate, this.makersFigure(main.answer));
    const steps = inOrder(lookup.views.ladder?.rungs ?? [], everything, outcome);
    showPlate(plate, main, judgedFirst(steps, everything), (problem) => this.form.goTo(problem));
    showUnit(plate.querySelector("[data-unit]"), main);
    showMargins(page, everything);
    showLadder(page, steps, this.kit, this.entries, outcome);
    showAnswers(page, everything);
    showAdvice(page, lookup, inputs);
    showWhy(page, this.kit, this.entries, outcome, everything);
    cancelAnimationFrame(this.frame);
    this.frame = requestAnimationFrame(() => {
      /** @type {import("../face/chart.js").State} */
      const state = {
        kit: this.kit,
        entries: this.entries,
        inputs,
        problems,
        unitFor: (answer, usual) => this.picked.answer(answer, usual),
      };
      showViews(page, state);
      showCompare(page, state, (...entry) => this.enter(...entry));
    });
    this.keepLink();
    tellWorkedOut({
      kit: this.kit,
      entries: this.entries,
      inputs,
      outcome,
      everything,
      enter: (...entry) => this.enter(...entry),
    });
  }

  /**
   * Put a value into a field, as if it had been typed.
   * @param {string} field
   * @param {string} text
   * @param {string} unit
   */
  enter(field, text, unit) {
    this.entries[field] = { text, unit };
    this.form.showTexts();
    this.changed(field);
  }

  /** @param {Element} button beside an answer */
  nextUnit(button) {
    const { answers } = this.kit.lookup;
    const named = button.closest("[data-answer]")?.getAttribute("data-answer");
    const answer =
      answers.find((each) => (named ? each.key === named : each.rank === "main")) ?? answers[0];
    const units = unitsOf(answer, this.kit.quantities);
    const next = units[(units.indexOf(this.picked.answer(answer)) + 1) % units.length];
    this.picked.pickAnswer(answer, next.key);
    this.update();
  }

  /** The address follows the entries, so that a reload or a link finds them again. */
  keepLink() {
    clearTimeout(this.linkTimer);
    this.linkTimer = window.setTimeout(() => {
      const query = toQuery(this.kit.lookup.fields, this.entries, this.kit.quantities);
      history.replaceState(
        history.state,
        "",
        `${location.pathname}${query ? `?${query}` : ""}${location.hash}`,
      );
    }, LINK_DELAY);
  }

  startAgain() {
    const { lookup, quantities } = this.kit;
    Object.assign(this.entries, initial(lookup.fields, quantities, this.preferred));
    this.recallFigures();
    for (const field of this.form.partsFields()) this.form.drawRows(field);
    this.form.showTexts();
    this.update();
  }

  // --- makers' figures ---------------------------------------------------------------------------

  /**
   * Put in the figures kept for these choices.
   * @returns {boolean} whether there are fields for any
   */
  recallFigures() {
    const { lookup } = this.kit;
    const { kept } = recall().job;
    const fields = keptFields(lookup);
    for (const field of fields) {
      const found = kept[keptUnder(lookup, field, this.entries)];
      const units = unitsOf(field, this.kit.quantities).map((unit) => unit.key);
      const usable = found && units.includes(found.unit);
      const entry = /** @type {NumberEntry} */ (this.entries[field.key]);
      this.entries[field.key] = usable
        ? { text: found.text, unit: found.unit }
        : { text: "", unit: entry.unit };
      const element = need(page, `[data-field="${field.key}"]`);
      /** @type {HTMLInputElement} */ (need(element, "[data-source]")).value = usable
        ? found.source
        : "";
      need(element, "[data-kept-for]").textContent =
        `Kept on this phone for ${keptFor(lookup, this.entries)}.`;
    }
    return fields.length > 0;
  }

  keepFigures() {
    const { lookup } = this.kit;
    remember((state) => {
      for (const field of keptFields(lookup)) {
        const entry = /** @type {NumberEntry} */ (this.entries[field.key]);
        const source = /** @type {HTMLInputElement} */ (
          need(page, `[data-field="${field.key}"] [data-source]`)
        ).value.trim();
        const under = keptUnder(lookup, field, this.entries);
        if (entry.text.trim())
          state.job.kept[under] = { text: entry.text, unit: entry.unit, source };
        else delete state.job.kept[under];
      }
    });
    showMakers(
      plate,
      this.makersFigure(
        this.kit.lookup.answers.find(({ rank }) => rank === "main") ?? this.kit.lookup.answers[0],
      ),
    );
  }

  /** The maker's figure for the main answer, as it was typed. @param {Answer} main */
  makersFigure(main) {
    const { lookup, quantities } = this.kit;
    const field = keptFields(lookup).find(({ stands_before }) => stands_before === main.key);
    if (!field) return null;
    const entry = /** @type {NumberEntry} */ (this.entries[field.key]);
    const typed = understood(field, entry, quantities);
    if (misread(typed)) return null;
    const { name, kept } = recall().job;
    const source = kept[keptUnder(lookup, field, this.entries)]?.source ?? "";
    const text = withUnit(
      String(typed.value),
      unitOf(unitsOf(field, quantities), typed.unit.key).label,
    );
    return { text, source: [source, name === USUAL_JOB ? "" : name].filter(Boolean).join(" · ") };
  }
}

/** @param {HTMLElement} button */
function bindShare(button) {
  const canShare = typeof navigator.share === "function";
  button.hidden = !canShare && !navigator.clipboard;
  button.addEventListener("click", async () => {
    try {
      if (canShare) await navigator.share({ title: document.title, url: location.href });
      else {
        await navigator.clipboard.writeText(location.href);
        button.textContent = "Link copied";
      }
    } catch {
      // Put away by the user, or not allowed here: the address bar holds the same link.
    }
  });
}

/**
 * Keep the plate in sight where the keyboard pans the page instead of shrinking it. Sizes are asked
 * for only after a layout, and set where nothing inherits them: either would cost a layout more.
 */
function followKeyboard() {
  const view = window.visualViewport;
  const follow = () => {
    plate.style.top = `${Math.max(0, Math.round(view?.offsetTop ?? 0))}px`;
    plate.toggleAttribute("data-tight", (view?.height ?? innerHeight) < TIGHT);
  };
  view?.addEventListener("scroll", follow);
  view?.addEventListener("resize", follow);
  new ResizeObserver(([{ borderBoxSize }]) => {
    follow();
    document.documentElement.style.scrollPaddingTop = `${Math.ceil(borderBoxSize[0].blockSize) + 16}px`;
  }).observe(plate);
}

/** @param {unknown} reason */
function refuse(reason) {
  const mixed = reason instanceof VersionError;
  const words = mixed
    ? "This page and its tables are from different versions, so nothing is worked out. Load it again."
    : "The tables for this page could not be loaded, so nothing is worked out. Load it again.";
  const button = make("button", { type: "button" }, ["Load again"]);
  button.addEventListener("click", () => location.reload());
  silencePlate(plate, words, button);
  for (const part of all(page, ".results, .form")) part.hidden = true;
  console.error(reason);
}

followKeyboard();
// The page came with the usual set-up worked out; a link asks for another.
if (location.search) silencePlate(plate, "Working it out …");
load(key)
  .then((kit) => new Page(kit))
  .catch(refuse);
