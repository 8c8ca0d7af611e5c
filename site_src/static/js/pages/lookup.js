/** A lookup page: from the entries to the answers. Everything is worked out elsewhere. */

import { showAdvice } from "../face/advice.js";
import { showAnswers, showUnit } from "../face/answers.js";
import { chartsOf } from "../face/chart.js";
import { showCompare } from "../face/compare.js";
import { curvesOf } from "../face/curve.js";
import { all, button, need, offerBack, write } from "../face/dom.js";
import { showEach } from "../face/each.js";
import { inOrder, judgedFirst, showLadder } from "../face/ladder.js";
import { showMargins } from "../face/margins.js";
import { withUnit } from "../face/numbers.js";
import { afterPaint, Later } from "../face/later.js";
import { keepInSight } from "../face/pinned.js";
import { showMakers, showPlate, silencePlate } from "../face/plate.js";
import { showShares } from "../face/shares.js";
import { bindWhy, showWhy } from "../face/why.js";
import { showAnswer } from "../face/words.js";
import { tellWorkedOut } from "../face/worked_out.js";
import { understood } from "../form/entries.js";
import { showGuest } from "../form/guest.js";
import { showJobLine } from "../form/job_line.js";
import { KeptFigures } from "../form/kept_figures.js";
import { mayBeOffered, Offered } from "../form/offered.js";
import { showOrigins } from "../form/origins.js";
import { SetUp } from "../form/set_up.js";
import { bindShelf } from "../form/shelf.js";
import { bindTicks } from "../form/ticks.js";
import { misread } from "../form/typed.js";
import { load, refusal } from "../model/catalogue.js";
import { answerNamed, mainAnswer } from "../model/lookup.js";
import { explain } from "../recipe.js";
import { USUAL_NAME } from "../record/job.js";
import { origin } from "../record/figures.js";
import { Truck } from "../record/kept_truck.js";

/**
 * @typedef {import("../face/words.js").Shown} Shown
 * @typedef {import("../form/entries.js").NumberEntry} NumberEntry
 * @typedef {{inputs: import("../recipe/values.js").Inputs,
 *   problems: import("../form/entries.js").Problem[], outcome: import("../recipe.js").Outcome,
 *   everything: Shown[], limits: ReturnType<typeof inOrder>}} Worked
 */

const page = need(document, "[data-lookup]");
const plate = need(page, "[data-plate]");

/** A lookup's page: what is entered, the units that answers are shown in, and what follows. */
class LookupPage {
  /** @param {import("../model/catalogue.js").Kit} kit @param {Truck} truck */
  constructor(kit, truck) {
    this.kit = kit;
    this.truck = truck;
    this.makers = new KeptFigures(kit, truck);
    this.setUp = new SetUp(kit, page, (path) => orRefuse(() => this.changed(path)), {
      recall: (entries) => void this.makers.recall(entries),
      truck,
    });
    this.entries = this.setUp.entries;
    this.offered = new Offered(page, this.setUp, () => orRefuse(() => this.update()));
    this.views = new Later(orRefuse, (isDone) => this.settled(isDone));
    /** Whether what is far below was laid out too since it got its parts. */
    this.isLaidOut = false;
    /** How often something was about to be shown, or was. */
    this.turns = 0;
    this.showFirst();
  }

  /** What he came for is painted first; what he can do with it comes after that. */
  showFirst() {
    const worked = this.workOut();
    this.showPlate(worked);
    let isOutdated = false;
    this.truck.changedElsewhere = () => {
      isOutdated = true;
    };
    afterPaint(async () => {
      // It is said above the form, which is opened after that.
      if (mayBeOffered(this.setUp) && (await this.read(() => this.kit.offering())) === null) return;
      orRefuse(() => {
        this.bind();
        if (isOutdated) this.showJob();
        else this.show(worked);
        this.goToAsked();
        void this.complete();
      });
    });
  }

  /**
   * Nothing moves any more once all is shown and what is far below is laid out too. Tables are
   * fitted in one frame and have their size in the next, if nothing else is shown meanwhile.
   * @param {boolean} isShown
   */
  settled(isShown) {
    this.turns += 1;
    const { turns } = this;
    page.toggleAttribute("data-settled", isShown && this.isLaidOut);
    if (!isShown || this.isLaidOut) return;
    page.dataset.layingOut = "";
    afterPaint(() =>
      afterPaint(() => {
        if (turns !== this.turns) return;
        delete page.dataset.layingOut;
        this.isLaidOut = true;
        page.dataset.settled = "";
      }),
    );
  }

  get form() {
    return this.setUp.form;
  }

  /** The entry that the address asks for: Home leads to one. */
  goToAsked() {
    const key = location.hash.slice(1);
    if (!this.kit.lookup.fields.some((field) => field.key === key)) return;
    // Asked for once: a link that is sent, or the page loaded again, doesn't ask.
    history.replaceState(history.state, "", `${location.pathname}${location.search}`);
    this.form.goTo({ field: key, row: -1, entry: key }, "instant");
  }

  bind() {
    page.addEventListener("change", (event) => {
      const { target } = event;
      if (target instanceof HTMLSelectElement && target.matches("[data-unit]"))
        if (!target.closest("[data-form]")) orRefuse(() => this.pickUnit(target));
    });
    need(page, "[data-reset]").addEventListener("click", () => orRefuse(() => this.startAgain()));
    for (const input of all(page, "[data-source], [data-source-page]"))
      input.addEventListener("input", () => this.keepFigures());
    bindShare(need(page, "[data-share]"));
    bindWhy(page, () => orRefuse(() => this.update()));
    bindShelf(
      page,
      this.kit,
      () => orRefuse(() => this.update()),
      () => this.truck.figures,
    );
    this.truck.stateChanged = () => {
      showJobLine(page, this.truck);
      this.showKeptState();
    };
    const showTicks = bindTicks(page, this.truck);
    this.truck.changedElsewhere = () =>
      orRefuse(() => {
        this.showJob();
        showTicks();
      });
    addEventListener("beforeprint", () =>
      all(page, ".more").forEach((fold) => fold.setAttribute("open", "")),
    );
  }

  /** What other pages have to add, once this one has answered. */
  async complete() {
    const added = await this.read(() => this.kit.beside());
    if (added === null) return;
    if (added) {
      this.isLaidOut = false;
      orRefuse(() => this.update());
    }
    page.dataset.whole = "";
  }

  /**
   * Read other lookups, or refuse to show anything: whether any came, null if they can't be read.
   * @param {() => Promise<boolean>} reading
   */
  async read(reading) {
    try {
      return await reading();
    } catch (reason) {
      refuse(refusal(reason), reason);
      return null;
    }
  }

  /** @param {string} path of the field that was changed */
  changed(path) {
    const field = this.kit.lookup.fields.find((each) => each.key === path);
    if (field?.kind === "number" && field.kept) this.keepFigures();
    else if (field?.kind === "choice") this.makers.recall(this.entries);
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
    const worked = this.workOut();
    this.showPlate(worked);
    this.show(worked);
  }

  /** @returns {Worked} */
  workOut() {
    const { kit } = this;
    const { lookup } = kit;
    const { inputs, problems } = this.setUp.read();
    const outcome = explain(lookup, inputs, kit.tables);
    const everything = lookup.answers.map((answer) =>
      showAnswer(kit, answer, outcome, this.setUp.picked.answer(answer), problems),
    );
    const limits = inOrder(lookup.views.ladder?.rungs ?? [], everything, outcome);
    return { inputs, problems, outcome, everything, limits };
  }

  /** @param {Worked} worked */
  showPlate({ inputs, everything, limits }) {
    const { lookup } = this.kit;
    const main = /** @type {Shown} */ (
      everything.find(({ answer }) => answer === mainAnswer(lookup))
    );
    this.showMakersFigure();
    showPlate(plate, main, judgedFirst(limits, everything), (problem) => this.form.goTo(problem));
    showUnit(plate.querySelector("[data-unit]"), main);
    showAdvice(page, lookup, inputs);
    page.dataset.answered = "";
  }

  /** Show what was worked out everywhere but on the plate. @param {Worked} worked */
  show({ inputs, problems, outcome, everything, limits }) {
    const { kit, entries } = this;
    this.form.show(problems);
    showMargins(page, everything, (problem) => this.form.goTo(problem));
    const isOwn = !this.setUp.isGuest && !this.truck.trouble;
    showLadder(page, limits, kit, entries, outcome, isOwn);
    showOrigins(this.setUp, () => this.update());
    showGuest(page, this.setUp, () => this.update());
    this.offered.show(everything);
    showJobLine(page, this.truck);
    showAnswers(page, everything);
    this.showViewsLater(inputs, problems, () => showWhy(page, kit, entries, outcome, everything));
    this.setUp.address.updateSoon();
    /** @type {import("../face/worked_out.js").WorkedOut["enter"]} */
    const enter = (...entry) => this.enter(...entry);
    /** @type {import("../face/worked_out.js").WorkedOut["use"]} */
    const use = (figure) => this.use(figure);
    const { makers } = this;
    tellWorkedOut({ kit, entries, inputs, outcome, everything, problems, enter, makers, use });
    page.dataset.current = "";
  }

  /**
   * Show what takes longer once the answer has been painted, one after the other.
   * @param {import("../recipe/values.js").Inputs} inputs
   * @param {import("../form/entries.js").Problem[]} problems
   * @param {() => void} why shows how it is worked out
   */
  showViewsLater(inputs, problems, why) {
    /** @type {import("../face/cells.js").State} */
    const state = {
      kit: this.kit,
      entries: this.entries,
      inputs,
      problems,
      unitFor: (answer, usual) => this.setUp.picked.answer(answer, usual),
    };
    this.views.show([
      () => showCompare(page, state, (...entry) => this.enter(...entry)),
      ...curvesOf(page, state),
      () => showShares(page, state),
      ...chartsOf(page, state),
      () => showEach(page, state),
      why,
    ]);
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

  /** @param {HTMLSelectElement} list the units beside an answer */
  pickUnit(list) {
    const { lookup } = this.kit;
    const named = list.closest("[data-answer]")?.getAttribute("data-answer");
    const answer = named ? answerNamed(lookup, named) : mainAnswer(lookup);
    this.setUp.picked.pickAnswer(answer, list.value);
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
    const holder = need(page, "[data-form-undo]");
    const gone = own.length === 1 ? "One entry of yours is" : `${own.length} entries of yours are`;
    offerBack(holder, `${gone} out of this page. `, "Bring them back", () =>
      orRefuse(() => {
        this.setUp.give(own.map(([field, entry]) => [field, entry]));
        this.showJob();
      }),
    );
    holder.hidden = own.length === 0;
  }

  // --- makers' figures ---------------------------------------------------------------------------

  keepFigures() {
    const [field] = this.makers.fields;
    // The box under the entry that is typed into comes with it; all of a page say the same.
    const { activeElement } = document;
    const at = this.makers.fields.find(({ key }) =>
      activeElement?.closest(`[data-field="${key}"]`),
    );
    const { source, page: leaf } = sourceBoxes(at ?? field);
    this.makers.keep(this.entries, { source: source.value.trim(), page: leaf.value.trim() });
    this.showMakersFigure();
  }

  /**
   * Use a figure: what it was given for is picked on the page.
   * @param {import("../record/figures.js").Figure} figure
   */
  use(figure) {
    const picked = Object.entries(figure.choices).filter(([key]) => this.makers.field(key));
    for (const [key, option] of picked) this.entries[key] = option;
    this.makers.use(this.entries, figure);
    this.setUp.handOver();
    this.form.showTexts();
    this.update();
  }

  /** The boxes under the entry say where its figure is from, and whether it is kept. */
  showKeptState() {
    const shown = this.makers.shown(this.entries);
    for (const field of this.makers.fields) {
      const boxes = sourceBoxes(field);
      for (const key of /** @type {const} */ (["source", "page"]))
        if (boxes[key] !== document.activeElement) boxes[key].value = shown?.[key] ?? "";
      write(
        need(page, `[data-field="${field.key}"] [data-kept-for]`),
        this.makers.stateWords(this.entries),
      );
      const from = need(page, `[data-field="${field.key}"] [data-kept-from]`);
      // Open where its sheet is not told yet, and as it is while somebody writes there.
      if (!from.contains(document.activeElement)) from.toggleAttribute("open", !shown?.source);
    }
  }

  /** The maker's figure for the main answer, as it was typed. */
  showMakersFigure() {
    const { lookup, quantities } = this.kit;
    this.showKeptState();
    const main = mainAnswer(lookup);
    const field = this.makers.fields.find(({ stands_before }) => stands_before === main.key);
    const typed =
      field && understood(field, /** @type {NumberEntry} */ (this.entries[field.key]), quantities);
    if (!typed || misread(typed)) {
      showMakers(plate, null);
      return;
    }
    const { name } = this.truck.job;
    const figure = this.makers.shown(this.entries);
    const { text } = /** @type {NumberEntry} */ (this.entries[field.key]);
    // As it was typed, but for a unit that was typed along.
    const number = /^[\d.,/ ]+$/.test(text) ? text.trim() : String(typed.value);
    showMakers(plate, {
      text: withUnit(number, typed.unit.label),
      source: [figure ? origin(figure) : "", name === USUAL_NAME ? "" : name]
        .filter(Boolean)
        .join(" · "),
    });
  }
}

/**
 * The boxes for where a kept figure is from: its sheet, and the page.
 * @param {import("../model/lookup.js").NumberField} field
 */
function sourceBoxes({ key: field }) {
  const [source, leaf] = ["[data-source]", "[data-source-page]"].map(
    (mark) => /** @type {HTMLInputElement} */ (need(page, `[data-field="${field}"] ${mark}`)),
  );
  return { source, page: leaf };
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
  page.dataset.answered = "";
  page.dataset.current = "";
  console.error(reason);
}

keepInSight(page, plate);
Promise.all([load(page.dataset.lookup ?? ""), Truck.open()]).then(
  // A task of its own, so that the page can be used between what was read and what is made of it.
  ([kit, truck]) => setTimeout(() => orRefuse(() => void new LookupPage(kit, truck))),
  (reason) => refuse(refusal(reason), reason),
);
