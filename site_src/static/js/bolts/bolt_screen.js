/**
 * Tightening bolt by bolt: the map, what to do next, the taps. What a tap means is in progress.js.
 *
 * The screen shows what is stored: a tap counts when it is on the disk. Where the phone won't
 * store it, a warning says so until it can, and the user can go on.
 *
 * @typedef {import("./progress.js").BoltMap} BoltMap
 * @typedef {import("./progress.js").Progress} Progress
 */

import { AngleReader } from "./angle_reader.js";
import { call } from "./call.js";
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
  progressOf,
  ROUNDS_TO_WONDER,
  stageName,
  stillTurned,
} from "./progress.js";
import { make, need, write } from "../face/dom.js";
import { Awake } from "../phone/awake.js";
import { Voice } from "../phone/voice.js";
import { byName } from "./makers_order.js";
import { StaleError, write as keepInRecord } from "../record/record.js";

const DONE_BUZZ = 60;
const DOUBT_BUZZ = [40, 60, 40];

export class BoltScreen {
  /**
   * @param {HTMLDialogElement} dialog
   * @param {(map: BoltMap, filed: boolean) => void} left called when the screen is left, and when a
   *   map is filed
   */
  constructor(dialog, left) {
    this.dialog = dialog;
    this.left = left;
    this.voice = new Voice();
    this.awake = new Awake((words) => this.note(words));
    this.reader = new AngleReader(
      () => this.showReading(),
      (words) => this.callOut(words),
    );
    /** @type {BoltMap | null} */
    this.map = null;
    this.lastTap = -Infinity;
    this.busy = false;
    this.isStale = false;
    this.bind();
  }

  bind() {
    this.button(
      "[data-confirm]",
      (map, at) =>
        progressOf(map).ask.kind === "all done"
          ? finish(map, at)
          : confirm(map, at, this.reader.now()),
      DONE_BUZZ,
    );
    this.button("[data-back]", (map) => back(map), DOUBT_BUZZ);
    this.button("[data-turned]", (map, at) => stillTurned(map, at), DOUBT_BUZZ);
    this.button(
      "[data-doubt]",
      (map, at) => doubt(map, lastDone(map, progressOf(map))[0], at),
      DOUBT_BUZZ,
    );
    need(this.dialog, "[data-screen-map]").addEventListener("click", (event) =>
      this.tappedMap(event),
    );
    need(this.dialog, "[data-read]").addEventListener("click", () => this.readAngle());
    need(this.dialog, "[data-leave]").addEventListener("click", () => this.leave());
    need(this.dialog, "[data-voice]").addEventListener("click", () => this.turnVoice());
    this.dialog.addEventListener("cancel", (event) => {
      event.preventDefault();
      this.leave();
    });
    addEventListener("popstate", () => {
      if (this.map && location.hash !== "#bolts") this.close(false);
    });
    // Back from a phone call, or from the lock screen: say again what is next.
    document.addEventListener("visibilitychange", () => {
      if (this.map && document.visibilityState === "visible") this.say();
    });
    new ResizeObserver(() => this.drawMap()).observe(need(this.dialog, "[data-screen-map]"));
  }

  /**
   * A button that changes the map.
   * @param {string} selector
   * @param {(map: BoltMap, at: string) => BoltMap} act
   * @param {number | number[]} buzz
   */
  button(selector, act, buzz) {
    need(this.dialog, selector).addEventListener("click", (event) => {
      if (this.map && this.isTaken(event)) this.keep(act(this.map, now()), buzz);
    });
  }

  /**
   * Whether a tap counts: not while another is being written, and not if it follows too soon.
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

  /** @param {BoltMap} map */
  open(map) {
    this.map = map;
    this.isStale = false;
    this.trouble("");
    this.note("");
    // A second touch right after the tap that opened this must not tick a bolt.
    this.lastTap = performance.now();
    if (location.hash !== "#bolts")
      history.pushState({ map: map.id }, "", `${location.pathname}${location.search}#bolts`);
    if (!this.dialog.open) this.dialog.showModal();
    need(this.dialog, "[data-confirm]").focus();
    this.show();
    this.awake.on();
    if (map.voice) this.voice.find().then((voice) => (voice ? this.say() : this.noVoice()));
  }

  leave() {
    if (location.hash === "#bolts" && history.state?.map) history.back();
    else {
      history.replaceState(null, "", `${location.pathname}${location.search}`);
      this.close(false);
    }
  }

  /** @param {boolean} filed */
  close(filed) {
    const { map } = this;
    this.map = null;
    this.voice.hush();
    this.reader.off();
    this.awake.off();
    this.dialog.close();
    if (map) this.left(map, filed);
  }

  // --- taps --------------------------------------------------------------------------------------

  /**
   * Store a changed map, then show it.
   * @param {BoltMap} next
   * @param {number | number[]} buzz
   */
  async keep(next, buzz) {
    this.setBusy(true);
    this.note("");
    this.reader.off();
    try {
      this.map = await keepInRecord("maps", next);
      this.trouble("");
    } catch (reason) {
      if (reason instanceof StaleError) this.isStale = true;
      else this.map = next;
      this.trouble(reason instanceof Error ? reason.message : String(reason));
    }
    this.setBusy(false);
    navigator.vibrate?.(buzz);
    if (!this.map) return;
    this.show();
    this.say();
    if (this.map.finished && !this.isStale && !this.isTroubled()) this.filed();
  }

  /** Whether a step is being written, said to whoever hears the page too. @param {boolean} busy */
  setBusy(busy) {
    this.busy = busy;
    this.dialog.setAttribute("aria-busy", String(busy));
  }

  filed() {
    const { map } = this;
    this.map = null;
    this.voice.hush();
    this.reader.off();
    this.awake.off();
    this.dialog.close();
    history.replaceState(null, "", `${location.pathname}${location.search}`);
    if (map) this.left(map, true);
  }

  /** A tap on a bolt: one that is done is put in doubt. @param {MouseEvent} event */
  tappedMap(event) {
    const { map } = this;
    const holder = need(this.dialog, "[data-screen-map]");
    if (!map) return;
    const box = holder.getBoundingClientRect();
    const layout = layOut(map.places, map.quarters, box.width, box.height);
    const bolt = boltAt(layout, event.clientX - box.left, event.clientY - box.top);
    if (bolt < 0 || !this.isTaken(event)) return;
    if (canBeDoubted(progressOf(map), bolt)) this.keep(doubt(map, bolt, now()), DOUBT_BUZZ);
    else this.note(`Bolt ${nameOf(map, bolt)} is open: nothing to doubt. Confirm below.`);
  }

  async turnVoice() {
    if (!this.map) return;
    const voice = !this.map.voice;
    this.map = { ...this.map, voice };
    this.show();
    if (!voice) this.voice.hush();
    else if (await this.voice.find()) this.say();
    else this.noVoice();
  }

  noVoice() {
    if (this.map) this.map = { ...this.map, voice: false };
    this.show();
    this.note("This phone has no English voice of its own, so nothing is called out.");
  }

  say() {
    if (this.map?.voice && !this.isStale) this.voice.say(call(this.map, progressOf(this.map)));
  }

  // --- the phone on the wrench -------------------------------------------------------------------

  readAngle() {
    if (!this.map || this.isStale) return;
    const { ask } = progressOf(this.map);
    if (canBeRead(this.map, ask)) this.reader.press(this.map.stages[ask.stage].angle);
  }

  /** A call in the middle of a pull: felt, and heard if the voice is on. @param {string} words */
  callOut(words) {
    navigator.vibrate?.(words === "Stop." ? DOUBT_BUZZ : DONE_BUZZ);
    if (this.map?.voice) this.voice.say(words);
  }

  showReading() {
    const { map } = this;
    if (!map) return;
    const at = progressOf(map);
    const read = this.reader.now();
    const words = this.reader.words();
    need(this.dialog, "[data-dial]").classList.toggle("reading", Boolean(read));
    write(need(this.dialog, "[data-read]"), this.reader.button);
    write(need(this.dialog, "[data-hint]"), words || hintOf(map, at));
    showDial(
      need(this.dialog, "[data-dial]"),
      read ? `${read.angle.toFixed(0)}° of ${at.ask.dial}` : at.ask.dial,
    );
  }

  // --- what is on the screen -------------------------------------------------------------------

  /** @param {string} words */
  note(words) {
    write(need(this.dialog, "[data-note]"), words || this.lastWords());
  }

  /**
   * A warning that the record can't be written stays until it can.
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
    const { map } = this;
    const last = map?.steps.at(-1);
    if (!map || !last) return "";
    const at = clock(last.at);
    if (last.do === "set") return `Wrench set at ${at}.`;
    const name = `Bolt ${nameOf(map, last.bolt)}`;
    return {
      done: `${name} done at ${at}.`,
      turned: `${name} turned at ${at}: all are checked once more.`,
      doubt: `${name} in doubt since ${at}.`,
    }[last.do];
  }

  show() {
    const { map } = this;
    if (!map) return;
    const at = progressOf(map);
    const { ask } = at;
    const done = ask.kind === "all done";
    write(need(this.dialog, "[data-screen-title]"), map.title);
    write(
      need(this.dialog, "[data-screen-count]"),
      done ? "All done" : `${at.settled.size} of ${map.places.length} done`,
    );
    const called = need(this.dialog, "[data-call]");
    called.dataset.ask = ask.kind;
    called.toggleAttribute("data-again", ask.again);
    write(need(this.dialog, "[data-line]"), lineOf(map, at));
    showDial(need(this.dialog, "[data-dial]"), done ? "" : ask.dial);
    write(need(this.dialog, "[data-hint]"), hintOf(map, at));
    this.showButtons(map, at);
    this.note("");
    this.drawMap();
    if (this.reader.state !== "off") this.showReading();
  }

  /** @param {BoltMap} map @param {Progress} at */
  showButtons(map, at) {
    const { ask } = at;
    const confirmButton = /** @type {HTMLButtonElement} */ (need(this.dialog, "[data-confirm]"));
    const [large, small] = confirmWords(map, at);
    if (confirmButton.dataset.words !== large + small) {
      confirmButton.dataset.words = large + small;
      confirmButton.replaceChildren(large, ...(small ? [make("small", {}, [small])] : []));
    }
    const turned = need(this.dialog, "[data-turned]");
    turned.hidden = !canHaveTurned(map, at);
    need(this.dialog, "[data-read]").hidden = !canBeRead(map, ask);
    write(need(this.dialog, "[data-read]"), this.reader.button);
    const [last] = lastDone(map, at);
    const doubtButton = /** @type {HTMLButtonElement} */ (need(this.dialog, "[data-doubt]"));
    doubtButton.disabled = last === undefined || this.isStale;
    write(doubtButton, last === undefined ? "In doubt" : `In doubt: ${nameOf(map, last)}`);
    /** @type {HTMLButtonElement} */ (need(this.dialog, "[data-back]")).disabled =
      !map.steps.length || this.isStale;
    confirmButton.disabled = this.isStale;
    const voice = need(this.dialog, "[data-voice]");
    voice.setAttribute("aria-pressed", String(map.voice));
    confirmButton.dataset.ask = ask.kind;
  }

  drawMap() {
    const { map } = this;
    const holder = need(this.dialog, "[data-screen-map]");
    const [width, height] = [Math.round(holder.clientWidth), Math.round(holder.clientHeight)];
    if (!map || width < 40 || height < 40) return;
    const at = progressOf(map);
    const states = map.places.map((_, bolt) => stateOf(at, bolt));
    holder.replaceChildren(
      drawMap({
        places: map.places,
        quarters: map.quarters,
        width,
        height,
        states,
        names: map.names,
        offset: map.offset.bolts,
        label: mapWords(map, at),
      }),
    );
  }
}

/** @param {Progress} at @param {number} bolt @returns {import("./drawing.js").State} */
function stateOf(at, bolt) {
  if (bolt === at.ask.bolt) return at.ask.again ? "next again" : "next";
  if (at.doubtful.has(bolt)) return "doubtful";
  return at.settled.has(bolt) ? "done" : "open";
}

/**
 * Whether the phone can read what is asked for.
 * @param {BoltMap} map
 * @param {Progress["ask"]} ask
 */
function canBeRead(map, ask) {
  return ask.kind === "bolt" && map.stages[ask.stage].kind === "angle";
}

/** What is set, by the kind of stage. @type {Object<import("./progress.js").StageKind, string>} */
const SET_WORDS = {
  torque: "dial in",
  check: "dial in",
  angle: "turn each by",
  loosen: "loosen all",
};

/** @param {BoltMap} map @param {Progress} at */
function lineOf(map, at) {
  const { ask } = at;
  if (ask.kind === "all done") return "Every bolt is done";
  const where = stageName(map, ask.stage) + (ask.round ? ` ${ask.round + 1}` : "");
  if (ask.kind === "set") return `${where}\u00a0· ${SET_WORDS[map.stages[ask.stage].kind]}`;
  return `${where}\u00a0· bolt\u00a0${nameOf(map, ask.bolt)}${ask.again ? " again" : ""}`;
}

/** @param {BoltMap} map @param {Progress} at */
function hintOf(map, { ask, round }) {
  if (ask.kind === "all done") return "Look once more, then put the map in the record.";
  const { kind } = map.stages[ask.stage];
  const tool = ask.offset
    ? "Crowfoot on."
    : ask.kind === "set" && map.offset.bolts.length
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
  if (kind === "angle")
    return ask.kind === "set"
      ? "Mark each head with paint first."
      : "By protractor and paint mark.";
  if (kind === "loosen" && ask.kind === "set")
    return "Backwards through the order, a little at first.";
  if (map.orderBy === "worked" && !map.steps.length)
    return `Worked-out order: the maker gives none. ${tool}`.trim();
  return tool;
}

/** @param {BoltMap} map @param {Progress} at @returns {[string, string]} */
function confirmWords(map, { ask }) {
  if (ask.kind === "all done") return ["Put it in the record", ""];
  if (ask.kind === "set") {
    const then = `then bolt ${nameOf(map, ask.bolt)}`;
    const { kind } = map.stages[ask.stage];
    const ready =
      kind === "angle" ? "Ready to turn" : kind === "loosen" ? "Ready" : "Wrench is set";
    return [ready, then];
  }
  const tick = `Tick bolt ${nameOf(map, ask.bolt)}`;
  return [tick, map.stages[ask.stage].kind === "check" ? "it clicked and did not turn" : ""];
}

/**
 * The number large, its unit smaller.
 * @param {HTMLElement} element
 * @param {string} dial
 */
function showDial(element, dial) {
  if (element.dataset.words === dial) return;
  element.dataset.words = dial;
  element.classList.toggle("none", !dial);
  const [number, ...unit] = dial.split(" ");
  element.replaceChildren(
    number,
    ...(unit.length ? [make("small", {}, [` ${unit.join(" ")}`])] : []),
  );
}

/** The map in words. @param {BoltMap} map @param {Progress} at */
function mapWords(map, at) {
  const names = (/** @type {Iterable<number>} */ bolts) =>
    [...bolts]
      .map((bolt) => nameOf(map, bolt))
      .sort(byName)
      .join(", ");
  const next = at.ask.bolt >= 0 ? `Next is bolt ${nameOf(map, at.ask.bolt)}. ` : "";
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
