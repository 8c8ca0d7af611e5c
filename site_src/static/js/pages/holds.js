/** The page of hold points: to sign, skip and note, stage by stage. */

import { all, make, need, offerBack, setStamp, tell, write } from "../face/dom.js";
import { nowOf, stampOf } from "../holds/card.js";
import { nextPoint, readiness, stagesNow } from "../holds/points.js";
import { draftLeft, SignForm } from "../holds/sign_form.js";
import { deed } from "../record/holds.js";
import { addDeed, readKept, whenChanged } from "../record/kept_holds.js";
import { damagedWords, newId, reasonWords, remove, restore } from "../record/record.js";

/**
 * @typedef {import("../holds/points.js").Point} Point
 * @typedef {import("../holds/points.js").StageNow} StageNow
 * @typedef {import("../holds/sign_form.js").Mode} Mode
 * @typedef {import("../record/record.js").Collection} Collection
 */

const page = need(document, "[data-holds-page]");
/** @type {import("../holds/points.js").Stage[]} */
const declared = JSON.parse(page.dataset.stages ?? "[]");

/** @param {string} key @returns {HTMLElement} */
function stagePart(key) {
  return need(page, `[data-stage="${key}"]`);
}

class HoldsPage {
  /** @param {import("../record/kept_holds.js").Kept} kept */
  constructor(kept) {
    this.kept = kept;
    this.stages = stagesNow(declared, kept);
    /** @type {SignForm | null} */
    this.form = null;
    /** The stage that was unfolded last by the page itself. */
    this.unfolded = "";
    for (const { key } of declared)
      need(stagePart(key), "[data-add-own]").addEventListener("click", () =>
        this.openForm(`new-${key}`, "added"),
      );
    need(page, "[data-print]").addEventListener("click", () => window.print());
    need(page, "[data-discard]").addEventListener("click", () => this.discard());
    addEventListener("hashchange", () => this.goToHash());
    whenChanged(() => this.readAgain());
    this.show();
    this.resume();
    this.goToHash();
  }

  async readAgain() {
    this.kept = await readKept();
    this.show();
  }

  // --- what is shown -----------------------------------------------------------------------------

  show() {
    const { kept } = this;
    this.stages = stagesNow(declared, kept);
    write(need(page, "[data-job]"), kept.job);
    tell(need(page, "[data-problem]"), kept.trouble && `Nothing can be signed. ${kept.trouble}`);
    for (const stage of this.stages) this.showStage(stage);
    this.showNext();
    this.showStrays();
  }

  showNext() {
    const next = nextPoint(this.stages);
    const points = this.stages.flatMap((stage) => stage.points);
    const done = points.filter(({ isOpen }) => !isOpen).length;
    write(need(page, "[data-counts]"), `${done} of ${points.length} done`);
    const link = /** @type {HTMLAnchorElement} */ (need(page, "[data-next]"));
    const { isReady } = readiness(this.stages, this.kept);
    const before = isReady ? "Ready to start. Next: " : "Next: ";
    const words = next?.point.isDue ? "Due now: " : before;
    write(need(link, "[data-next-stage]"), next ? `${words}${next.stage.label}` : "All stages");
    write(need(link, "[data-next-title]"), next?.point.title ?? "Every hold point is done.");
    link.hash = next?.point.key ?? "";
    // The stage that is open now, once; what a person folds stays folded.
    const open = next?.stage.key ?? "";
    if (open && open !== this.unfolded) {
      if (this.unfolded) unfold(open);
      else
        for (const { key } of declared)
          need(stagePart(key), "details").toggleAttribute("open", key === open);
      this.unfolded = open;
    }
  }

  /** @param {StageNow} stage */
  showStage(stage) {
    const part = stagePart(stage.key);
    const total = stage.points.length;
    const isDue = stage.points.some((point) => point.isDue);
    const [status, word] = stage.open
      ? [isDue ? "near" : "unchecked", isDue ? "due" : "open"]
      : ["within", "done"];
    setStamp(need(part, "[data-stage-stamp]"), status, word);
    write(need(part, "[data-stage-count]"), `${total - stage.open} of ${total}`);
    tell(need(part, "[data-waits]"), stage.waitsFor && `Opens when “${stage.waitsFor}” is signed.`);
    const list = need(part, "[data-points]");
    const shown = new Set(stage.points.map(({ key }) => key));
    for (const card of all(list, "[data-point]"))
      if (!shown.has(card.dataset.point ?? "")) card.remove();
    for (const point of stage.points) this.showPoint(stage, list, point);
  }

  /** @param {StageNow} stage @param {HTMLElement} list @param {Point} point */
  showPoint(stage, list, point) {
    const card = cardOf(point.key) ?? list.appendChild(ownCard(point.key));
    if (point.isOwn) write(need(card, "h3"), point.title);
    card.dataset.state = stampOf(point)[1];
    const hadFocus = need(card, "[data-now]").contains(document.activeElement);
    need(card, "[data-now]").replaceChildren(
      ...nowOf(point, stage.waitsFor, (act) => this.act(point, act)),
    );
    if (hadFocus) card.focus({ preventScroll: true });
  }

  goToHash() {
    const key = decodeURIComponent(location.hash.slice(1));
    const card = key ? cardOf(key) : null;
    if (!card) return;
    const part = /** @type {HTMLElement} */ (card.closest("[data-stage]"));
    unfold(part.dataset.stage ?? "");
    card.scrollIntoView({ block: "start" });
    card.focus({ preventScroll: true });
  }

  // --- what is done ------------------------------------------------------------------------------

  /** @param {Point} point @param {import("../holds/card.js").Act} what */
  act(point, what) {
    if (what === "taken back") this.takeBack(point);
    else if (what === "deleted") this.drop(point);
    else this.openForm(point.key, what);
  }

  /**
   * @param {string} place of the card, or "new-" and a stage @param {Mode} mode
   * @param {{who: string, note: string}} [typed]
   */
  openForm(place, mode, typed) {
    this.form?.close();
    const stage = mode === "added" ? place.replace(/^new-/, "") : "";
    const point = this.stages.flatMap(({ points }) => points).find(({ key }) => key === place);
    const holder = stage
      ? page.querySelector(`[data-stage="${CSS.escape(stage)}"] [data-own-form]`)
      : cardOf(place)?.querySelector("[data-form]");
    if (!holder || (mode !== "added" && !point)) return;
    const note = mode === "renamed" ? (point?.title ?? "") : "";
    const draft = { place, mode, who: this.kept.lastWho, note, ...typed };
    const form = new SignForm(
      draft,
      async (said) => {
        const key = stage ? `own ${newId()}` : place;
        await addDeed(this.kept.job, key, deed(mode, said), stage);
        await this.readAgain();
      },
      () => {
        if (this.form === form) this.form = null;
      },
    );
    this.form = form;
    holder.replaceChildren(form.element);
    form.focus();
  }

  /** What was typed before the browser was closed in the middle. */
  resume() {
    const left = draftLeft();
    if (!left) return;
    const stage = left.mode === "added" ? left.place.replace(/^new-/, "") : stageOf(left.place);
    unfold(stage);
    this.openForm(left.place, left.mode, left);
  }

  /** @param {Point} point */
  async takeBack(point) {
    const { job, lastWho } = this.kept;
    const undo = need(/** @type {HTMLElement} */ (cardOf(point.key)), "[data-undo]");
    await this.orSay(undo, async () => {
      await addDeed(job, point.key, deed("taken back", { who: lastWho }));
      await this.readAgain();
      offerBack(undo, "Taken back. It stays in the log. ", "Put it back", () =>
        this.orSay(undo, async () => {
          await addDeed(job, point.key, deed("put back", { who: lastWho }));
          await this.readAgain();
        }),
      ).focus();
    });
  }

  /** @param {Point} point of the shop's own */
  async drop(point) {
    const { job } = this.kept;
    const undo = need(stagePart(point.stage), "[data-stage-undo]");
    await this.orSay(undo, async () => {
      await addDeed(job, point.key, deed("deleted", { who: this.kept.lastWho }));
      await this.readAgain();
      offerBack(undo, `“${point.title}” is gone. `, "Bring it back", () =>
        this.orSay(undo, async () => {
          await addDeed(job, point.key, deed("brought back", { who: this.kept.lastWho }));
          await this.readAgain();
        }),
      ).focus();
    });
  }

  /** @param {HTMLElement} place @param {() => Promise<void>} act */
  async orSay(place, act) {
    try {
      await act();
    } catch (reason) {
      tell(place, `Not kept. ${reasonWords(reason)}`);
    }
  }

  // --- what can't be read ------------------------------------------------------------------------

  /** @returns {[Collection, any][]} */
  strays() {
    const { strays, brokenMaps, brokenJobs } = this.kept;
    return [
      ...strays.map((each) => /** @type {[Collection, any]} */ (["holds", each])),
      ...brokenMaps.map((each) => /** @type {[Collection, any]} */ (["maps", each])),
      ...brokenJobs.map((each) => /** @type {[Collection, any]} */ (["jobs", each])),
    ];
  }

  showStrays() {
    const found = this.strays();
    const undo = need(page, "[data-strays-undo]");
    need(page, "[data-strays]").hidden = !found.length && undo.hidden;
    need(page, "[data-discard]").hidden = !found.length;
    write(
      need(page, "[data-strays-words]"),
      found.length
        ? `${damagedWords(found.length)} It may belong to this job, so the engine is not called ready. Look the job over; if nothing is missing, throw it out.`
        : "",
    );
  }

  async discard() {
    const found = this.strays();
    const undo = need(page, "[data-strays-undo]");
    await this.orSay(undo, async () => {
      for (const [collection, each] of found) await remove(collection, each.id);
      const said =
        found.length === 1 ? "One entry is gone. " : `${found.length} entries are gone. `;
      offerBack(undo, said, "Bring back", () =>
        this.orSay(undo, async () => {
          for (const [collection, each] of found) await restore(collection, each);
          await this.readAgain();
        }),
      );
      await this.readAgain();
    });
  }
}

/** @param {string} key */
function cardOf(key) {
  return /** @type {HTMLElement | null} */ (
    page.querySelector(`[data-point="${CSS.escape(key)}"]`)
  );
}

/** @param {string} key of a point */
function stageOf(key) {
  const part = /** @type {HTMLElement | null} */ (cardOf(key)?.closest("[data-stage]") ?? null);
  return part?.dataset.stage ?? "";
}

/** @param {string} stage */
function unfold(stage) {
  page.querySelector(`[data-stage="${CSS.escape(stage)}"] details`)?.toggleAttribute("open", true);
}

/** The card of a point of the shop's own. @param {string} key */
function ownCard(key) {
  return make("li", { class: "card hold", id: key, tabindex: "-1", "data-point": key }, [
    make("h3"),
    make("p", { class: "quiet" }, ["A point of your own."]),
    make("div", { class: "hold-now", "data-now": "" }),
    make("div", { "data-form": "" }),
    make("p", { class: "undo", role: "status", "data-undo": "", hidden: "" }),
  ]);
}

readKept().then((kept) => new HoldsPage(kept));
