/**
 * Reading an angle stage with the phone strapped to the wrench: the zero, the sweep, and a hold
 * between sweeps. What is read is only shown and noted; the user ticks the bolt. No DOM.
 *
 * @typedef {import("./turn.js").Reading} Reading
 * @typedef {import("./turn.js").Zero} Zero
 * @typedef {{angle: number, band: number}} Read  degrees
 * @typedef {"off" | "zero" | "turning" | "held"} ReaderState
 */

import { Motion } from "../phone/motion.js";
import { DEGREE, turnOf, turnProblem, ZERO_SECONDS, zeroOf } from "./turn.js";

/** Degrees before the end at which it is called. */
const CALLED_BEFORE = 10;

export class AngleReader {
  /**
   * @param {() => void} changed called when there is something new to show
   * @param {(words: string) => void} call what is to be called out
   */
  constructor(changed, call) {
    this.changed = changed;
    this.call = call;
    this.motion = new Motion(
      (reading) => this.take(reading),
      (problem) => this.refuse(problem),
    );
    /** @type {ReaderState} */
    this.state = "off";
    this.problem = "";
    this.target = 0;
    /** @type {Reading[]} */
    this.readings = [];
    /** @type {Zero | null} */
    this.zero = null;
    /** Sum of the sweeps that are held. @type {Read} */
    this.held = { angle: 0, band: 0 };
    this.drift = 0;
    this.called = 0;
  }

  reset() {
    Object.assign(this, { readings: [], zero: null, drift: 0, called: 0 });
    this.held = { angle: 0, band: 0 };
  }

  /** The button: begin, hold, go on. @param {number} target degrees */
  press(target) {
    if (this.state === "turning") this.hold();
    else if (this.state === "zero") this.off();
    else {
      if (this.state === "off") this.reset();
      this.target = target;
      this.begin();
    }
  }

  begin() {
    this.state = "zero";
    this.problem = "";
    this.readings = [];
    this.zero = null;
    this.motion.on();
    this.changed();
  }

  hold() {
    const read = this.now();
    this.motion.off();
    this.state = "held";
    if (read) this.held = read;
    this.readings = [];
    this.zero = null;
    this.changed();
  }

  off() {
    this.motion.off();
    this.state = "off";
    this.problem = "";
    this.reset();
    this.changed();
  }

  /** @param {string} problem */
  refuse(problem) {
    this.motion.off();
    this.state = "off";
    this.reset();
    this.problem = problem;
    this.changed();
    this.call("No reading.");
  }

  /** @param {Reading} reading */
  take(reading) {
    const last = this.readings[this.readings.length - 1];
    if (last && reading.time <= last.time) return;
    this.readings.push(reading);
    if (this.state === "zero" && reading.time - this.readings[0].time >= ZERO_SECONDS)
      this.takeZero(reading);
    else if (this.state === "turning") this.follow();
  }

  /** @param {Reading} reading */
  takeZero(reading) {
    const { zero, problem } = zeroOf(this.readings);
    if (!zero) {
      this.refuse(problem);
      return;
    }
    this.zero = zero;
    this.readings = [reading];
    this.state = "turning";
    this.call("Turn.");
    this.changed();
  }

  follow() {
    if (!this.zero) return;
    const turned = turnOf(this.readings, this.zero);
    const problem = turnProblem(turned);
    if (problem) {
      this.refuse(problem);
      return;
    }
    this.drift = turned.drift / DEGREE;
    this.callOut(this.held.angle + turned.angle / DEGREE);
    this.changed();
  }

  /** @param {number} angle degrees */
  callOut(angle) {
    const due = angle >= this.target ? 2 : angle >= this.target - CALLED_BEFORE ? 1 : 0;
    if (due > this.called) this.call(due === 2 ? "Stop." : `${CALLED_BEFORE} more.`);
    this.called = Math.max(due, this.called);
  }

  /** What is read by now, all sweeps together; null where nothing is. @returns {Read | null} */
  now() {
    if (this.state === "held") return this.held;
    if (this.state !== "turning" || !this.zero) return null;
    const turned = turnOf(this.readings, this.zero);
    return {
      angle: this.held.angle + turned.angle / DEGREE,
      band: this.held.band + turned.band / DEGREE,
    };
  }

  /** What to do now, in a line. */
  words() {
    if (this.problem)
      return `${this.problem} No angle is read: back off, begin again, or go by the protractor.`;
    if (this.state === "zero") return "Zero: hold the wrench still, slack pulled up.";
    const read = this.now();
    if (!read) return "";
    const band = `± ${read.band.toFixed(0)}°`;
    return this.state === "held"
      ? `Held at ${read.angle.toFixed(0)}° ${band}. Set the wrench back, pull up the slack, go on.`
      : `${band}, drift ${this.drift.toFixed(1)}°. One sweep, not lifted.`;
  }

  /** What the button does now. */
  get button() {
    const words = { off: "Read by phone", zero: "Stop reading", turning: "Hold", held: "Go on" };
    return words[this.state];
  }
}
