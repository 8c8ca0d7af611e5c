/** Hears the tone of a plucked belt and puts it into the page's field. Nothing is kept or sent. */

import { make, need } from "../face/dom.js";
import { whenWorkedOut } from "../face/worked_out.js";
import { canListen, Ear, refusal } from "../phone/ear.js";
import { PluckFinder } from "../sound/plucks.js";
import { medianAndSpread } from "../sound/tone.js";

const PLUCKS = 3;
/** Seconds without a pluck after which the page says what it hears instead. */
const PATIENCE = 4;
/** Spread over median from which plucks don't agree. */
const APART = 0.03;

/** @type {Object<import("../sound/tone.js").Verdict, string>} */
const NO_TONE = {
  tone: "",
  "too quiet":
    "No tone heard: too quiet. Hold the phone a hand's width from the span and pluck harder.",
  "steady sound": "No tone heard: only a steady sound. Switch off what hums or runs, then pluck.",
  "no clear pitch":
    "No tone heard: a knock without a clear pitch. Pluck the middle of the span with a thumb and let it ring.",
};

const OTHERWISE = "Type the tone from a tuner.";
const TOO_FAR_APART =
  "Too far apart to trust, so not entered. Listen again, one clean pluck at a time.";

const section = need(document, "[data-listen]");
const button = /** @type {HTMLButtonElement} */ (need(section, "[data-listen-button]"));
const words = need(section, "[data-listen-words]");
const list = need(section, "[data-listen-plucks]");

/** @type {(text: string) => void} */
let fill = () => {};
/** @type {Listening | null} */
let listening = null;

/** One listening, from the permission to the third pluck. */
class Listening {
  constructor() {
    this.ear = new Ear();
    this.finder = new PluckFinder(this.ear.rate);
    /** @type {number[]} */
    this.tones = [];
    this.silent = 0;
  }

  start() {
    return this.ear.listen(
      (piece) => this.hear(piece),
      () => stop("The microphone was taken away. Listen again."),
    );
  }

  /** @param {Float32Array} piece */
  hear(piece) {
    for (const heard of this.finder.push(piece)) {
      this.silent = 0;
      if (heard.frequency === null) say(NO_TONE[heard.verdict]);
      else this.count(heard.frequency);
    }
    this.silent += piece.length / this.ear.rate;
    if (this.silent < PATIENCE) return;
    this.silent = 0;
    const back = this.finder.listenBack();
    if (back?.frequency === null) say(NO_TONE[back.verdict]);
  }

  /** @param {number} tone */
  count(tone) {
    this.tones.push(tone);
    list.append(make("li", {}, [`${tone.toFixed(1)} Hz`]));
    const left = PLUCKS - this.tones.length;
    if (left > 0) say(left === 1 ? "Heard. Once more." : `Heard. ${left} more.`);
    else this.finish();
  }

  finish() {
    const { median, spread } = medianAndSpread(this.tones);
    const agreed = spread <= APART * median;
    if (agreed) fill(median.toFixed(1));
    stop(
      `Middle of ${PLUCKS}: ${median.toFixed(1)} Hz. They lie ${spread.toFixed(1)} Hz apart, which is ` +
        `${((200 * spread) / median).toFixed(1)} % of the tension. ${agreed ? "Entered above." : TOO_FAR_APART}`,
    );
  }
}

/** @param {string} text */
function say(text) {
  words.textContent = text;
}

/** @param {string} text */
function stop(text) {
  listening?.ear.close();
  listening = null;
  button.textContent = "Listen again";
  button.disabled = false;
  say(text);
}

async function listen() {
  list.replaceChildren();
  button.disabled = true;
  say("Waiting for permission to use the microphone.");
  const own = new Listening();
  listening = own;
  try {
    await own.start();
    if (listening !== own) {
      own.ear.close();
      return;
    }
    button.textContent = "Stop";
    button.disabled = false;
    say(`Listening. Pluck the span ${PLUCKS} times, a second or two apart.`);
  } catch (reason) {
    if (listening === own) stop(refusal(reason, OTHERWISE));
  }
}

if (!canListen()) {
  button.hidden = true;
  say(`This browser lets no page listen here: it takes an https address. ${OTHERWISE}`);
}

whenWorkedOut(({ enter }) => {
  fill = (text) => enter("tone", text, "Hz");
});
button.addEventListener("click", () => {
  if (listening) stop("Stopped.");
  else listen();
});
document.addEventListener("visibilitychange", () => {
  if (document.hidden && listening) stop("Stopped, because the page was put away.");
});
