/** Runs beside the audio hardware and hands the microphone's sound to the page, piece by piece. */

// Known only where this file runs, which no type library describes.
const { AudioWorkletProcessor, registerProcessor } = /** @type {any} */ (globalThis);

const PIECE = 2048;

class Tap extends AudioWorkletProcessor {
  constructor() {
    super();
    this.piece = new Float32Array(PIECE);
    this.filled = 0;
  }

  /** @param {Float32Array[][]} inputs */
  process(inputs) {
    const sound = inputs[0]?.[0];
    if (!sound) return true;
    this.piece.set(sound, this.filled);
    this.filled += sound.length;
    if (this.filled === PIECE) {
      this.port.postMessage(this.piece.slice());
      this.filled = 0;
    }
    return true;
  }
}

registerProcessor("tap", Tap);
