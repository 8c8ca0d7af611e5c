/** Hears engine and blower and puts their tones into the page's fields. Nothing is kept or sent. */

import { all, need } from "../face/dom.js";
import { whenWorkedOut } from "../face/worked_out.js";
import { canListen, Ear, refusal } from "../phone/ear.js";
import { hearDrive, SECONDS } from "../sound/drive_tones.js";

/** @typedef {import("../sound/drive_tones.js").HeardDrive} HeardDrive */

/** Seconds after the press that are left out: the finger, and the phone being put down. */
const FIRST = 0.5;
/** Least uncertainty that is written down, in hertz. */
const FINEST = 0.01;

const FIRST_THE_ENTRIES =
  "Enter the lobes of one rotor and the engine speed that you hold, above: they tell the phone where to listen.";
const OTHERWISE =
  "Type the two tones in, under “By ear, the tones heard”, or read the pulley with a tachometer.";

/** @type {Object<import("../sound/drive_tones.js").DriveVerdict, string>} */
const WORDS = {
  tones: "",
  "too quiet": "Too quiet to say. Is the microphone covered? Go closer to the blower's snout.",
  "too loud": "Too loud for this microphone: it cuts the sound off. Go further away.",
  "no engine":
    "No firing heard near that engine speed. Is the speed entered the one you hold, and are the cylinders right? Hold the phone where both engine and blower are heard.",
  "unclear engine":
    "Two sounds could be the engine's firing. Enter the speed more exactly, go closer to the engine, or hold another speed.",
  unsteady:
    "The engine speed wandered by more than 5 %, or isn't within 5 % of what you entered. Hold it steadier, then listen again.",
  "no blower":
    "The engine is clear, the blower is not. Go closer to the blower's snout and hold another engine speed. Are lobes, gear ratio and diameters right?",
  hidden:
    "No blower heard apart from the engine: with little slip its tone lies behind a harmonic of the engine. Hold a higher engine speed, steadier, and listen under more load.",
  "stands still":
    "What could be the blower keeps its tone while the engine's speed wanders: a fan or a pump, not the belt. Switch it off, go closer to the blower's snout.",
  "two tones":
    "Two sounds could be the blower. Switch off fans and whatever else sings, hold another engine speed, go closer to the snout.",
};

const section = need(document, "[data-listen]");
const words = need(section, "[data-listen-words]");
const buttons = /** @type {HTMLButtonElement[]} */ (all(section, "[data-hear]"));
const labels = buttons.map((button) => button.textContent ?? "");

/** @type {import("../face/worked_out.js").WorkedOut | null} */
let worked = null;
/** @type {Listening | null} */
let listening = null;

/** One listening, from the permission to the last second. */
class Listening {
  /** @param {HTMLButtonElement} button @param {import("../sound/drive_tones.js").Sought} where */
  constructor(button, where) {
    this.button = button;
    this.where = where;
    this.ear = new Ear();
    this.sound = new Float32Array(Math.ceil(SECONDS * this.ear.rate));
    /** Samples kept so far; under nought, those still to be left out. */
    this.at = -Math.round(FIRST * this.ear.rate);
  }

  start() {
    return this.ear.listen(
      (piece) => this.hear(piece),
      () => stop("The microphone was taken away. Listen again."),
    );
  }

  /** @param {Float32Array} piece */
  hear(piece) {
    const { sound } = this;
    const from = Math.max(0, -this.at);
    if (from < piece.length) {
      const place = Math.max(0, this.at);
      sound.set(piece.subarray(from, from + sound.length - place), place);
    }
    this.at += piece.length;
    const left = Math.ceil((sound.length - this.at) / this.ear.rate);
    if (left > 0) this.button.textContent = `Stop. ${Math.min(left, SECONDS)} s to go`;
    else this.finish();
  }

  finish() {
    this.ear.close();
    for (const button of buttons) button.disabled = true;
    say("Heard. Working it out.");
    // The words are to be seen before the phone is busy.
    setTimeout(() => {
      if (listening === this) this.judge();
    }, 50);
  }

  judge() {
    const heard = hearDrive(this.sound, this.ear.rate, this.where);
    write(this.button.dataset.hear ?? "", heard);
    stop(told(heard));
  }
}

/** @param {HeardDrive} heard */
function told({ verdict, tones }) {
  if (!tones) return `Nothing entered. ${WORDS[verdict]}`;
  const multiples = tones.multiples.map((each) => `${each}×`).join(", ");
  return (
    `Firing ${tones.firing.toFixed(1)} Hz, blower ${tones.tone.toFixed(1)} Hz ` +
    `(heard at ${multiples} of it). Entered with their ±.`
  );
}

/**
 * Put what was heard into its fields. What was heard before goes, whether or not there is anything
 * to take its place.
 * @param {string} when @param {HeardDrive} heard
 */
function write(when, { tones }) {
  const texts = {
    firing: tones?.firing,
    firing_unsure: tones && Math.max(FINEST, tones.firingUnsure),
    blower: tones?.tone,
    blower_unsure: tones && Math.max(FINEST, tones.toneUnsure),
  };
  for (const [key, value] of Object.entries(texts)) {
    worked?.enter(`${when}_${key}`, value ? value.toFixed(2) : "", "Hz");
  }
}

/** Where to listen, as the recipe worked it out; null if entries are missing. */
function sought() {
  const [speed, firings, order, lowest, highest] = [
    "ear_speed",
    "firing_order",
    "order_expected",
    "order_lowest",
    "order_highest",
  ].map((key) => worked?.outcome.number(key) ?? null);
  return speed !== null && firings !== null && order !== null && lowest !== null && highest !== null
    ? { speed, firings, order, lowest, highest }
    : null;
}

/** @param {string} text */
function say(text) {
  words.textContent = text;
}

/** @param {string} text */
function stop(text) {
  listening?.ear.close();
  listening = null;
  for (const [n, button] of buttons.entries()) {
    button.textContent = labels[n];
    button.disabled = false;
  }
  say(text);
}

/** @param {HTMLButtonElement} button */
async function listen(button) {
  const where = sought();
  if (!where) {
    say(FIRST_THE_ENTRIES);
    return;
  }
  for (const each of buttons) each.disabled = true;
  say("Waiting for permission to use the microphone.");
  const own = new Listening(button, where);
  listening = own;
  try {
    await own.start();
    if (listening !== own) {
      own.ear.close();
      return;
    }
    button.disabled = false;
    say("Listening. Hold the engine speed.");
  } catch (reason) {
    if (listening === own) stop(refusal(reason, OTHERWISE));
  }
}

if (!canListen()) {
  for (const button of buttons) button.hidden = true;
  say(`This browser lets no page listen here: it takes an https address. ${OTHERWISE}`);
}

whenWorkedOut((latest) => {
  worked = latest;
});
for (const button of buttons) {
  button.addEventListener("click", () => {
    if (listening) stop("Stopped.");
    else listen(button);
  });
}
document.addEventListener("visibilitychange", () => {
  if (document.hidden && listening) stop("Stopped, because the page was put away.");
});
