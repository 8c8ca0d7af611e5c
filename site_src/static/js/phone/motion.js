/** How fast the phone turns, by its own motion sensor. */

import { DEGREE } from "../bolts/turn.js";

/** @typedef {import("../bolts/turn.js").Reading} Reading */

const NO_SENSOR = "This phone has no motion sensor that a page may read.";
const PATIENCE = 2000;

export class Motion {
  /** @param {(reading: Reading) => void} take @param {(problem: string) => void} refuse */
  constructor(take, refuse) {
    this.take = take;
    this.refuse = refuse;
    this.waiting = 0;
    /** @param {DeviceMotionEvent} event */
    this.listen = (event) => this.heard(event);
  }

  /** Ask for leave where the phone wants that, then listen. Call it from a tap. */
  async on() {
    if (!("DeviceMotionEvent" in window)) {
      this.refuse(NO_SENSOR);
      return;
    }
    const asked = /** @type {any} */ (window.DeviceMotionEvent).requestPermission;
    try {
      if (asked && (await asked.call(window.DeviceMotionEvent)) !== "granted") {
        this.refuse("The phone was told not to let this page read its motion sensor.");
        return;
      }
    } catch {
      this.refuse(NO_SENSOR);
      return;
    }
    // A phone without the sensor has the event all the same, and never sends one with a rate in it.
    this.waiting = window.setTimeout(() => this.giveUp(), PATIENCE);
    window.addEventListener("devicemotion", this.listen);
  }

  giveUp() {
    this.off();
    this.refuse(NO_SENSOR);
  }

  off() {
    window.clearTimeout(this.waiting);
    window.removeEventListener("devicemotion", this.listen);
  }

  /** @param {DeviceMotionEvent} event */
  heard({ rotationRate, timeStamp }) {
    const { alpha, beta, gamma } = rotationRate ?? { alpha: null, beta: null, gamma: null };
    if (alpha === null || beta === null || gamma === null) return;
    window.clearTimeout(this.waiting);
    this.take({
      time: timeStamp / 1000,
      rate: [alpha * DEGREE, beta * DEGREE, gamma * DEGREE],
    });
  }
}
