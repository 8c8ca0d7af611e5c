/**
 * Working mode on the screen: the map, the call, the taps. What a tap means is in working.js.
 *
 * The screen shows what is stored: a step counts when it is on the disk. Where the phone won't
 * store it, that is said and stays said, and the work goes on.
 *
 * @typedef {import("./progress.js").Work} Work
 * @typedef {import("./progress.js").Standing} Standing
 */

import { call, Voice } from "./call.js";
import { boltAt, drawMap, layOut } from "./drawing.js";
import {
  back,
  canBeDoubted,
  canHaveTurned,
  confirm,
  doubt,
  finish,
  isNewTap,
  lastDone,
  nameOf,
  ROUNDS_TO_WONDER,
  standing,
  stillTurned,
} from "./progress.js";
import { make, need, write } from "../face/dom.js";
import { Awake } from "../phone/awake.js";
import { StaleError, write as keepInRecord } from "../record/record.js";

const DONE_BUZZ = 60;
const DOUBT_BUZZ = [40, 60, 40];

export class WorkScreen {
  /**
   * @param {HTMLDialogElement} dialog
   * @param {(work: Work, filed: boolean) => void} left called when the screen is left, and when a
   *   map is filed
   */
  constructor(dialog, left) {
    this.dialog = dialog;
    this.left = left;
    this.voice = new Voice();
    this.awake = new Awake((words) => this.note(words));
    /** @type {Work | null} */
    this.work = null;
    this.lastTap = -Infinity;
    this.busy = false;
    this.isStale = false;
    this.bind();
  }

  bind() {
    this.button(
      "[data-confirm]",
      (work, at) => (standing(work).ask.kind === "all done" ? finish(work, at) : confirm(work, at)),
      DONE_BUZZ,
    );
    this.button("[data-back]", (work) => back(work), DOUBT_BUZZ);
    this.button("[data-turned]", (work, at) => stillTurned(work, at), DOUBT_BUZZ);
    this.button(
      "[data-doubt]",
      (work, at) => doubt(work, lastDone(work, standing(work))[0], at),
      DOUBT_BUZZ,
    );
    need(this.dialog, "[data-work-map]").addEventListener("click", (event) =>
      this.tappedMap(event),
    );
    need(this.dialog, "[data-leave]").addEventListener("click", () => this.leave());
    need(this.dialog, "[data-voice]").addEventListener("click", () => this.turnVoice());
    this.dialog.addEventListener("cancel", (event) => {
      event.preventDefault();
      this.leave();
    });
    addEventListener("popstate", () => {
      if (this.work && location.hash !== "#work") this.close(false);
    });
    // Back from a phone call, or from the lock screen: say again what is next.
    document.addEventListener("visibilitychange", () => {
      if (this.work && document.visibilityState === "visible") this.say();
    });
    new ResizeObserver(() => this.drawMap()).observe(need(this.dialog, "[data-work-map]"));
  }

  /**
   * A button that takes one step.
   * @param {string} selector
   * @param {(work: Work, at: string) => Work} step
   * @param {number | number[]} buzz
   */
  button(selector, step, buzz) {
    need(this.dialog, selector).addEventListener("click", (event) => {
      if (this.work && this.isTaken(event)) this.keep(step(this.work, now()), buzz);
    });
  }

  /**
   * Whether a tap counts: not while one is being written, not as the second half of a bounce.
   * @param {Event} event
   */
  isTaken(event) {
    const isNew = isNewTap(event.timeStamp, this.lastTap);
    this.lastTap = event.timeStamp;
    if (this.isStale) return false;
    if (this.busy) this.note("The last step is still being written.");
    else if (!isNew) this.note("Two taps at once count as one. Nothing more was ticked.");
    return isNew && !this.busy;
  }

  /** @param {Work} work */
  open(work) {
    this.work = work;
    this.isStale = false;
    this.trouble("");
    this.note("");
    // The tap that opened this must not tick anything by bouncing.
    this.lastTap = performance.now();
    if (location.hash !== "#work")
      history.pushState({ work: work.id }, "", `${location.pathname}${location.search}#work`);
    if (!this.dialog.open) this.dialog.showModal();
    need(this.dialog, "[data-confirm]").focus();
    this.show();
    this.awake.on();
    if (work.voice) this.voice.find().then((voice) => (voice ? this.say() : this.noVoice()));
  }

  leave() {
    if (location.hash === "#work" && history.state?.work) history.back();
    else {
      history.replaceState(null, "", `${location.pathname}${location.search}`);
      this.close(false);
    }
  }

  /** @param {boolean} filed */
  close(filed) {
    const { work } = this;
    this.work = null;
    this.voice.hush();
    this.awake.off();
    this.dialog.close();
    if (work) this.left(work, filed);
  }

  // --- steps -------------------------------------------------------------------------------------

  /**
   * Store a map one step on, then show it.
   * @param {Work} next
   * @param {number | number[]} buzz
   */
  async keep(next, buzz) {
    this.busy = true;
    this.note("");
    try {
      this.work = await keepInRecord("maps", next);
      this.trouble("");
    } catch (reason) {
      if (reason instanceof StaleError) this.isStale = true;
      else this.work = next;
      this.trouble(reason instanceof Error ? reason.message : String(reason));
    }
    this.busy = false;
    navigator.vibrate?.(buzz);
    if (!this.work) return;
    this.show();
    this.say();
    if (this.work.finished && !this.isStale && !this.isTroubled()) this.filed();
  }

  filed() {
    const { work } = this;
    this.work = null;
    this.voice.hush();
    this.awake.off();
    this.dialog.close();
    history.replaceState(null, "", `${location.pathname}${location.search}`);
    if (work) this.left(work, true);
  }

  /** A tap on a bolt: one that is done is put in doubt. @param {MouseEvent} event */
  tappedMap(event) {
    const { work } = this;
    const holder = need(this.dialog, "[data-work-map]");
    if (!work) return;
    const box = holder.getBoundingClientRect();
    const layout = layOut(work.places, work.quarters, box.width, box.height);
    const bolt = boltAt(layout, event.clientX - box.left, event.clientY - box.top);
    if (bolt < 0 || !this.isTaken(event)) return;
    if (canBeDoubted(standing(work), bolt)) this.keep(doubt(work, bolt, now()), DOUBT_BUZZ);
    else this.note(`Bolt ${nameOf(work, bolt)} is open: nothing to doubt. Confirm below.`);
  }

  async turnVoice() {
    if (!this.work) return;
    const voice = !this.work.voice;
    this.work = { ...this.work, voice };
    this.show();
    if (!voice) this.voice.hush();
    else if (await this.voice.find()) this.say();
    else this.noVoice();
  }

  noVoice() {
    if (this.work) this.work = { ...this.work, voice: false };
    this.show();
    this.note("This phone has no English voice of its own, so nothing is called out.");
  }

  say() {
    if (this.work?.voice && !this.isStale) this.voice.say(call(this.work, standing(this.work)));
  }

  // --- what is on the screen -------------------------------------------------------------------

  /** @param {string} words */
  note(words) {
    write(need(this.dialog, "[data-note]"), words || this.lastWords());
  }

  /**
   * Trouble with the record stays on the screen until it is over.
   * @param {string} words
   */
  trouble(words) {
    const element = need(this.dialog, "[data-trouble]");
    element.hidden = !words;
    write(
      element,
      words && !this.isStale
        ? `Not stored: ${words} If this page closes, the steps since are lost.`
        : words,
    );
  }

  isTroubled() {
    return !need(this.dialog, "[data-trouble]").hidden;
  }

  /** The bolt that was done last, and when: the answer to “did I do that one?” */
  lastWords() {
    const { work } = this;
    const last = work?.steps.at(-1);
    if (!work || !last) return "";
    const at = clock(last.at);
    if (last.do === "set") return `Wrench set at ${at}.`;
    const name = `Bolt ${nameOf(work, last.bolt)}`;
    return {
      done: `${name} done at ${at}.`,
      turned: `${name} turned at ${at}: all are checked once more.`,
      doubt: `${name} in doubt since ${at}.`,
    }[last.do];
  }

  show() {
    const { work } = this;
    if (!work) return;
    const at = standing(work);
    const { ask } = at;
    const done = ask.kind === "all done";
    write(need(this.dialog, "[data-work-title]"), work.title);
    write(
      need(this.dialog, "[data-work-count]"),
      done ? "All done" : `${at.settled.size} of ${work.places.length} done`,
    );
    const called = need(this.dialog, "[data-call]");
    called.dataset.ask = ask.kind;
    called.toggleAttribute("data-again", ask.again);
    write(need(this.dialog, "[data-line]"), lineOf(work, at));
    showDial(need(this.dialog, "[data-dial]"), done ? "" : ask.dial);
    write(need(this.dialog, "[data-hint]"), hintOf(work, at));
    this.showButtons(work, at);
    this.note("");
    this.drawMap();
  }

  /** @param {Work} work @param {Standing} at */
  showButtons(work, at) {
    const { ask } = at;
    const confirmButton = /** @type {HTMLButtonElement} */ (need(this.dialog, "[data-confirm]"));
    const [large, small] = confirmWords(work, at);
    if (confirmButton.dataset.words !== large + small) {
      confirmButton.dataset.words = large + small;
      confirmButton.replaceChildren(large, ...(small ? [make("small", {}, [small])] : []));
    }
    const turned = need(this.dialog, "[data-turned]");
    turned.hidden = !canHaveTurned(work, at);
    const [last] = lastDone(work, at);
    const doubtButton = /** @type {HTMLButtonElement} */ (need(this.dialog, "[data-doubt]"));
    doubtButton.disabled = last === undefined || this.isStale;
    write(doubtButton, last === undefined ? "In doubt" : `In doubt: ${nameOf(work, last)}`);
    /** @type {HTMLButtonElement} */ (need(this.dialog, "[data-back]")).disabled =
      !work.steps.length || this.isStale;
    confirmButton.disabled = this.isStale;
    const voice = need(this.dialog, "[data-voice]");
    voice.setAttribute("aria-pressed", String(work.voice));
    confirmButton.dataset.ask = ask.kind;
  }

  drawMap() {
    const { work } = this;
    const holder = need(this.dialog, "[data-work-map]");
    const [width, height] = [Math.round(holder.clientWidth), Math.round(holder.clientHeight)];
    if (!work || width < 40 || height < 40) return;
    const at = standing(work);
    const states = work.places.map((_, bolt) => stateOf(at, bolt));
    holder.replaceChildren(
      drawMap({
        places: work.places,
        quarters: work.quarters,
        width,
        height,
        states,
        names: work.places.map((_, bolt) => String(nameOf(work, bolt))),
        offset: work.offset.bolts,
        label: mapWords(work, at),
      }),
    );
  }
}

/** @param {Standing} at @param {number} bolt @returns {import("./drawing.js").State} */
function stateOf(at, bolt) {
  if (bolt === at.ask.bolt) return at.ask.again ? "next again" : "next";
  if (at.doubtful.has(bolt)) return "doubtful";
  return at.settled.has(bolt) ? "done" : "open";
}

/** @param {Work} work @param {Standing} at */
function lineOf(work, at) {
  const { ask } = at;
  if (ask.kind === "all done") return "Every bolt is done";
  const where = stageName(work, ask.stage, ask.round);
  if (ask.kind === "set")
    return `${where}\u00a0· ${work.stages[ask.stage].kind === "angle" ? "turn each by" : "dial in"}`;
  return `${where}\u00a0· bolt\u00a0${nameOf(work, ask.bolt)}${ask.again ? " again" : ""}`;
}

/** @param {Work} work @param {number} stage @param {number} round */
function stageName(work, stage, round) {
  const { kind } = work.stages[stage];
  if (kind === "check") return round ? `Check ${round + 1}` : "Check";
  return kind === "angle" ? "Angle" : `Pass\u00a0${stage + 1}`;
}

/** @param {Work} work @param {Standing} at */
function hintOf(work, { ask, round }) {
  if (ask.kind === "all done") return "Look once more, then put the map in the record.";
  const { kind } = work.stages[ask.stage];
  const tool = ask.offset
    ? "Crowfoot on."
    : ask.kind === "set" && work.offset.bolts.length
      ? "Crowfoot off."
      : "";
  if (ask.backOff) return `Back it off first: a second angle would be too much. ${tool}`.trim();
  if (kind === "check") {
    const wonder =
      round >= ROUNDS_TO_WONDER
        ? "Still turning: stop and look for what gives."
        : "It must click before it turns.";
    return `${wonder} ${tool}`.trim();
  }
  if (kind === "angle" && ask.kind === "set") return "Mark each head with paint first.";
  return tool;
}

/** @param {Work} work @param {Standing} at @returns {[string, string]} */
function confirmWords(work, { ask }) {
  if (ask.kind === "all done") return ["Put it in the record", ""];
  if (ask.kind === "set") {
    const then = `then bolt ${nameOf(work, ask.bolt)}`;
    return [work.stages[ask.stage].kind === "angle" ? "Ready to turn" : "Wrench is set", then];
  }
  const tick = `Tick bolt ${nameOf(work, ask.bolt)}`;
  return [tick, work.stages[ask.stage].kind === "check" ? "it clicked and did not turn" : ""];
}

/**
 * The figure large, its unit smaller.
 * @param {HTMLElement} element
 * @param {string} dial
 */
function showDial(element, dial) {
  if (element.dataset.words === dial) return;
  element.dataset.words = dial;
  element.classList.toggle("none", !dial);
  const [figure, ...unit] = dial.split(" ");
  element.replaceChildren(
    figure,
    ...(unit.length ? [make("small", {}, [` ${unit.join(" ")}`])] : []),
  );
}

/** The map in words. @param {Work} work @param {Standing} at */
function mapWords(work, at) {
  const names = (/** @type {Iterable<number>} */ bolts) =>
    [...bolts]
      .map((bolt) => nameOf(work, bolt))
      .sort((a, b) => a - b)
      .join(", ");
  const next = at.ask.bolt >= 0 ? `Next is bolt ${nameOf(work, at.ask.bolt)}. ` : "";
  const doubtful = at.doubtful.size ? ` In doubt: ${names(at.doubtful.keys())}.` : "";
  return `${next}Done: ${names(at.settled) || "none"}.${doubtful}`;
}

function now() {
  return new Date().toISOString();
}

/** Hours and minutes, as the phone writes them. @param {string} at */
export function clock(at) {
  return new Date(at).toLocaleTimeString(undefined, { hour: "2-digit", minute: "2-digit" });
}
