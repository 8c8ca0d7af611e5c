/**
 * The call: what is said aloud for the next bolt, by a voice that is on the phone itself.
 *
 * @typedef {import("./progress.js").Work} Work
 * @typedef {import("./progress.js").Standing} Standing
 */

import { nameOf } from "./progress.js";

/** How units are said. @type {Object<string, string>} */
const SPOKEN_UNITS = {
  "N·m": "newton metres",
  "lb·ft": "pound feet",
  "lb·in": "pound inches",
  "°": "degrees",
};

/** A figure as it is said. @param {string} text such as "19 N·m" */
export function said(text) {
  const found = /^([\d.,]+)\s*(.*)$/.exec(text);
  return found ? `${found[1]} ${SPOKEN_UNITS[found[2]] ?? found[2]}` : text;
}

/** What is called for where a map stands. @param {Work} work @param {Standing} at */
export function call(work, { ask }) {
  if (ask.kind === "all done") return "All bolts done.";
  const { kind } = work.stages[ask.stage];
  const round = ask.round ? `check ${ask.round + 1}` : "check";
  const where = kind === "check" ? round : kind === "angle" ? "angle" : `pass ${ask.stage + 1}`;
  const tool = ask.offset ? ", crowfoot on" : "";
  if (ask.kind === "set") {
    return kind === "angle"
      ? `${where}: turn each by ${said(ask.dial)}`
      : `${where}: set the wrench to ${said(ask.dial)}${tool || (work.offset.bolts.length ? ", no crowfoot" : "")}`;
  }
  const again = ask.backOff ? ", back it off first" : ask.again ? ", once more" : "";
  return `${where}, bolt ${nameOf(work, ask.bolt)}${again}, ${said(ask.dial)}${tool}`;
}

/** A voice that needs no signal. */
export class Voice {
  constructor() {
    this.synthesis = "speechSynthesis" in window ? window.speechSynthesis : null;
  }

  /**
   * Voices may come late: wait a little for the first.
   * @returns {Promise<SpeechSynthesisVoice | null>}
   */
  async find() {
    const { synthesis } = this;
    if (!synthesis) return null;
    if (!synthesis.getVoices().length) {
      await new Promise((resolve) => {
        synthesis.addEventListener("voiceschanged", resolve, { once: true });
        setTimeout(resolve, 1500);
      });
    }
    return this.pick();
  }

  /** One that is on the phone, in English. */
  pick() {
    const voices = this.synthesis?.getVoices() ?? [];
    return voices.find(({ localService, lang }) => localService && /^en\b/i.test(lang)) ?? null;
  }

  /** Say a text in place of whatever is being said. @param {string} text */
  say(text) {
    const voice = this.pick();
    if (!this.synthesis || !voice) return;
    const utterance = new SpeechSynthesisUtterance(text);
    utterance.voice = voice;
    utterance.lang = voice.lang;
    this.synthesis.cancel();
    this.synthesis.speak(utterance);
  }

  hush() {
    this.synthesis?.cancel();
  }
}
