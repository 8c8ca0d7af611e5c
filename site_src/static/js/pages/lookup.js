/** A lookup page: from the entries to the answers. Everything is worked out elsewhere. */

import { showAdvice } from "../face/advice.js";
import { showAnswers, showUnit } from "../face/answers.js";
import { showCharts } from "../face/chart.js";
import { showCompare } from "../face/compare.js";
import { showCurves } from "../face/curve.js";
import { all, button, need, write } from "../face/dom.js";
import { showEach } from "../face/each.js";
import { inOrder, judgedFirst, showLadder } from "../face/ladder.js";
import { showMargins } from "../face/margins.js";
import { withUnit } from "../face/numbers.js";
import { showMakers, showPlate, silencePlate } from "../face/plate.js";
import { showWhy } from "../face/why.js";
import { showAnswer } from "../face/words.js";
import { tellWorkedOut } from "../face/worked_out.js";
import { understood } from "../form/entries.js";
import { showGuest } from "../form/guest.js";
import { showJobLine } from "../form/job_line.js";
import { keptFields, keptFor, keptUnder } from "../form/kept_figures.js";
import { showOrigins } from "../form/origins.js";
import { SetUp } from "../form/set_up.js";
import { bindShelf } from "../form/shelf.js";
import { misread } from "../form/typed.js";
import { load, refusal } from "../model/catalogue.js";
import { answerNamed, mainAnswer } from "../model/lookup.js";
import { unitsOf } from "../model/quantities.js";
import { explain } from "../recipe.js";
import { USUAL_NAME } from "../record/job.js";
import { Truck } from "../record/kept_truck.js";

/**
 * @typedef {import("../face/words.js").Shown} Shown
 * @typedef {import("../form/entries.js").NumberEntry} NumberEntry
 */

/** Height in CSS pixels under which the plate keeps only the answer and its verdict. */
const TIGHT = 480;

const page = need(document, "[data-lookup]");
const plate = need(page, "[data-plate]");

/** A lookup's page: what is entered, the units that answers are shown in, and what follows. */
class LookupPage {
  /** @param {import("../model/catalogue.js").Kit} kit @param {Truck} truck */
  constructor(kit, truck) {
    this.kit = kit;
    this.truck = truck;
    this.setUp = new SetUp(kit, page, (path) => orRefuse(() => this.changed(path)), {
      recall: (entries) => recallFigures(kit, truck, entries),
      truck,
    });
    this.form = this.setUp.form;
    this.entries = this.setUp.entries;
    this.frame = 0;
    this.bind();
    this.form.showTexts();
    this.update();
  }

  bind() {
    page.addEventListener("click", (event) => {
      const pressed = event.target instanceof Element ? event.target.closest("[data-unit]") : null;
      if (pressed && !pressed.closest("[data-form]")) orRefuse(() => this.nextUnit(pressed));
    });
    need(page, "[data-reset]").addEventListener("click", () => orRefuse(() => this.startAgain()));
    for (const input of all(page, "[data-source]"))
      input.addEventListener("change", () => this.keepFigures());
    bindShare(need(page, "[data-share]"));
    bindShelf(page, this.kit, () => orRefuse(() => this.update()));
    this.truck.stateChanged = () => showJobLine(page, this.truck);
    this.truck.changedElsewhere = () => orRefuse(() => this.showJob());
    addEventListener("beforeprint", () =>
      all(page, ".more, .numbers").forEach((fold) => fold.setAttribute("open", "")),
    );
  }

  /** @param {string} path of the field that was changed */
  changed(path) {
    const field = this.kit.lookup.fields.find((each) => each.key === path);
    if (field?.kind === "number" && field.kept) this.keepFigures();
    else if (field?.kind === "choice" && recallFigures(this.kit, this.truck, this.entries))
      this.form.showTexts();
    this.setUp.handOver();
    this.form.showTexts();
    this.update();
  }

  /** Another tab, or a button, has changed the job. */
  showJob() {
    if (!this.setUp.isGuest) this.setUp.showJob();
    this.update();
  }

  /** Work everything out and show it. */
  update() {
    const { kit, entries } = this;
    const { lookup } = kit;
    const { inputs, problems } = this.setUp.read();
    const outcome = explain(lookup, inputs, kit.tables);
    const everything = lookup.answers.map((answer) =>
      showAnswer(kit, answer, outcome, this.setUp.picked.answer(answer), problems),
    );
    const main = /** @type {Shown} */ (
      everything.find(({ answer }) => answer === mainAnswer(lookup))
    );
    const limits = inOrder(lookup.views.ladder?.rungs ?? [], everything, outcome);
    this.form.show(problems);
    this.showMakersFigure();
    showPlate(plate, main, judgedFirst(limits, everything), (problem) => this.form.goTo(problem));
    showUnit(plate.querySelector("[data-unit]"), main);
    showMargins(page, everything, (problem) => this.form.goTo(problem));
    const isOwn = !this.setUp.isGuest && !this.truck.trouble;
    showLadder(page, limits, kit, entries, outcome, isOwn);
    showOrigins(this.setUp, () => this.update());
    showGuest(page, this.setUp, () => this.update());
    showJobLine(page, this.truck);
    showAnswers(page, everything);
    showAdvice(page, lookup, inputs);
    showWhy(page, kit, entries, outcome, everything);
    this.showViewsLater(inputs, problems);
    this.setUp.address.updateSoon();
    /** @type {import("../face/worked_out.js").WorkedOut["enter"]} */
    const enter = (...entry) => this.enter(...entry);
    const forgetKept = () => this.forgetKept();
    tellWorkedOut({ kit, entries, inputs, outcome, everything, problems, enter, forgetKept });
    page.dataset.current = "";
  }

  /**
   * Show what takes longer in the next frame, so that the plate is there first.
   * @param {import("../recipe.js").Inputs} inputs
   * @param {import("../form/entries.js").Problem[]} problems
   */
  showViewsLater(inputs, problems) {
    cancelAnimationFrame(this.frame);
    this.frame = requestAnimationFrame(() => {
      /** @type {import("../face/cells.js").State} */
      const state = {
        kit: this.kit,
        entries: this.entries,
        inputs,
        problems,
        unitFor: (answer, usual) => this.setUp.picked.answer(answer, usual),
      };
      showCurves(page, state);
      showCharts(page, state);
      showEach(page, state);
      showCompare(page, state, (...entry) => this.enter(...entry));
    });
  }

  /**
   * Put a value into a field, as if it had been typed.
   * @param {string} field
   * @param {string} text
   * @param {string} unit
   * @param {NumberEntry["from"]} [from] what it stands for, as it was typed
   */
  enter(field, text, unit, from) {
    this.setUp.enter(field, text, unit, from);
    this.changed(field);
  }

  /** @param {Element} pressed the unit beside an answer */
  nextUnit(pressed) {
    const { lookup, quantities } = this.kit;
    const named = pressed.closest("[data-answer]")?.getAttribute("data-answer");
    const answer = named ? answerNamed(lookup, named) : mainAnswer(lookup);
    const units = unitsOf(answer, quantities);
    const { picked } = this.setUp;
    picked.pickAnswer(answer, units[(units.indexOf(picked.answer(answer)) + 1) % units.length].key);
    this.update();
  }

  /** Every entry of this page back to the example, and the way back from there. */
  startAgain() {
    const before = this.kit.lookup.fields.map(
      (field) => /** @type {const} */ ([field, this.setUp.ownEntry(field)]),
    );
    this.setUp.putBack(this.kit.lookup.fields);
    this.update();
    const own = before.filter(([, entry]) => entry !== undefined);
    offerUndo(need(page, "[data-form-undo]"), own.length, () =>
      orRefuse(() => {
        this.setUp.give(own.map(([field, entry]) => [field, entry]));
        this.showJob();
      }),
    );
  }

  // --- makers' figures ---------------------------------------------------------------------------

  keepFigures() {
    const { lookup } = this.kit;
    for (const field of keptFields(lookup)) {
      const { text, unit } = /** @type {NumberEntry} */ (this.entries[field.key]);
      const source = sourceBox(field).value.trim();
      this.truck.keepFigure(
        keptUnder(lookup, field, this.entries),
        text.trim() ? { text, unit, source } : undefined,
      );
    }
    this.showMakersFigure();
  }

  forgetKept() {
    const { lookup } = this.kit;
    for (const field of keptFields(lookup))
      this.truck.keepFigure(keptUnder(lookup, field, this.entries), undefined);
  }

  /** The maker's figure for the main answer, as it was typed. */
  showMakersFigure() {
    const { lookup, quantities } = this.kit;
    const main = mainAnswer(lookup);
    const field = keptFields(lookup).find(({ stands_before }) => stands_before === main.key);
    const typed =
      field && understood(field, /** @type {NumberEntry} */ (this.entries[field.key]), quantities);
    if (!typed || misread(typed)) {
      showMakers(plate, null);
      return;
    }
    const { name } = this.truck.job;
    const source = this.truck.kept(keptUnder(lookup, field, this.entries))?.source ?? "";
    showMakers(plate, {
      text: withUnit(String(typed.value), typed.unit.label),
      source: [source, name === USUAL_NAME ? "" : name].filter(Boolean).join(" · "),
    });
  }
}

/**
 * The box for the source of a kept figure.
 * @param {import("../model/lookup.js").NumberField} field
 */
function sourceBox({ key: field }) {
  return /** @type {HTMLInputElement} */ (need(page, `[data-field="${field}"] [data-source]`));
}

/**
 * Put in the figures kept for the choices that are made.
 * @param {import("../model/catalogue.js").Kit} kit
 * @param {Truck} truck
 * @param {import("../form/entries.js").Entries} entries
 * @returns {boolean} whether there are fields for any
 */
function recallFigures({ lookup, quantities }, truck, entries) {
  const fields = keptFields(lookup);
  for (const field of fields) {
    const found = truck.kept(keptUnder(lookup, field, entries));
    const usable = found && unitsOf(field, quantities).some((unit) => unit.key === found.unit);
    const entry = /** @type {NumberEntry} */ (entries[field.key]);
    entries[field.key] = usable
      ? { text: found.text, unit: found.unit }
      : { text: "", unit: entry.unit };
    sourceBox(field).value = usable ? found.source : "";
    write(
      need(page, `[data-field="${field.key}"] [data-kept-for]`),
      `Kept on this phone for ${keptFor(lookup, entries)}.`,
    );
  }
  return fields.length > 0;
}

/**
 * @param {HTMLElement} holder @param {number} count of entries that were taken out
 * @param {() => void} undo
 */
function offerUndo(holder, count, undo) {
  holder.hidden = count === 0;
  const back = button("Bring them back", () => {
    holder.hidden = true;
    undo();
  });
  holder.replaceChildren(
    `${count === 1 ? "One entry of yours is" : `${count} entries of yours are`} out of this page. `,
    back,
  );
}

/** @param {HTMLElement} share */
function bindShare(share) {
  const canShare = typeof navigator.share === "function";
  share.hidden = !canShare && !navigator.clipboard;
  share.addEventListener("click", async () => {
    try {
      if (canShare) await navigator.share({ title: document.title, url: location.href });
      else {
        await navigator.clipboard.writeText(location.href);
        share.textContent = "Link copied";
      }
    } catch {
      // Cancelled by the user, or not allowed here: the address bar holds the same link.
    }
  });
}

/**
 * Keep the plate visible where the keyboard moves the page instead of shrinking it. Sizes are read
 * only after a layout, and set where nothing inherits them: otherwise the page is laid out twice.
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

/**
 * Bring the page up to date; if anything goes wrong, no number of before stays.
 * @param {() => void} act
 */
function orRefuse(act) {
  try {
    act();
  } catch (reason) {
    refuse(BROKEN, reason);
  }
}

const BROKEN = "Something went wrong on this page, so no number is shown. Load it again.";

/** @param {string} words @param {unknown} reason */
function refuse(words, reason) {
  silencePlate(
    plate,
    words,
    button("Load again", () => location.reload(), ""),
  );
  showMakers(plate, null);
  for (const part of all(page, ".results, .form")) part.hidden = true;
  page.dataset.current = "";
  console.error(reason);
}

followKeyboard();
Promise.all([load(page.dataset.lookup ?? ""), Truck.open()]).then(
  ([kit, truck]) => orRefuse(() => new LookupPage(kit, truck)),
  (reason) => refuse(refusal(reason), reason),
);
