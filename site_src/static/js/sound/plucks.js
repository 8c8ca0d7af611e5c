/**
 * Finds plucks in a stream of sound, and has `tone.js` find the tone of each. No DOM
 * and no microphone. How the sound is cut into pieces makes no difference.
 */

import { hearPluck } from "./tone.js";

/** @typedef {import("./tone.js").Heard} Heard */

const FRAME = 0.025;
/** Sound before and after a pluck's beginning that is looked at, in seconds. */
const BEFORE = 0.3;
const AFTER = 0.7;
/** A pluck begins where the power is this many times the least of the time before. */
const JUMP = 10;
const QUIET = 0.002;

export class PluckFinder {
  /** @param {number} sampleRate in hertz */
  constructor(sampleRate) {
    this.rate = sampleRate;
    this.frame = Math.round(FRAME * sampleRate);
    this.before = Math.round(BEFORE * sampleRate);
    this.kept = new Float32Array(Math.round((BEFORE + AFTER) * sampleRate) + this.frame);
    this.filled = 0;
    /** Samples since the last whole frame. */
    this.loose = 0;
    /** @type {number[]} mean squares of the frames before */
    this.powers = [];
    /** Samples still to come until the pluck that was found can be judged; −1 if none was. */
    this.wait = -1;
  }

  /**
   * @param {Float32Array} piece the next sound
   * @returns {Heard[]} what was heard in it, mostly nothing
   */
  push(piece) {
    const heard = [];
    for (let at = 0; at < piece.length;) {
      const some = piece.subarray(at, at + this.frame - this.loose);
      this.keep(some);
      at += some.length;
      this.loose += some.length;
      if (this.loose < this.frame) break;
      this.loose = 0;
      const found = this.endFrame();
      if (found) heard.push(found);
    }
    return heard;
  }

  /**
   * What the last second sounds like, pluck or not.
   * @returns {Heard | null} null before there is enough
   */
  listenBack() {
    return this.filled < 0.5 * this.kept.length ? null : hearPluck(this.sound(), this.rate);
  }

  /** @returns {Heard | null} */
  endFrame() {
    const power = meanSquare(this.sound().subarray(-this.frame));
    const earlier = this.powers;
    const background = Math.min(...earlier);
    this.powers = [...earlier, power].slice(-Math.round(BEFORE / FRAME));
    if (this.wait >= 0) {
      this.wait -= this.frame;
      return this.wait < 0 ? hearPluck(this.sound(), this.rate) : null;
    }
    const enough = this.filled >= this.before;
    if (enough && power > QUIET * QUIET && power > JUMP * background) {
      this.wait = Math.round(AFTER * this.rate) - this.frame;
    }
    return null;
  }

  /** @param {Float32Array} piece */
  keep(piece) {
    const { kept } = this;
    kept.copyWithin(0, piece.length);
    kept.set(piece, kept.length - piece.length);
    this.filled = Math.min(kept.length, this.filled + piece.length);
  }

  sound() {
    return this.kept.subarray(this.kept.length - this.filled);
  }
}

/** Mean square about the mean. @param {Float32Array} sound */
function meanSquare(sound) {
  let total = 0;
  let squares = 0;
  for (const value of sound) {
    total += value;
    squares += value * value;
  }
  const mean = total / sound.length;
  return Math.max(0, squares / sound.length - mean * mean);
}
