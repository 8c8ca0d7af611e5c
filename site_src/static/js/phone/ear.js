/** Hears with the phone's microphone. The sound goes to who asked for it and nowhere else. */

/** Whether this browser lets a page listen at all. */
export function canListen() {
  return Boolean(navigator.mediaDevices) && typeof AudioWorkletNode !== "undefined";
}

/** One use of the microphone. To be made at once after a press: later, some phones keep it mute. */
export class Ear {
  constructor() {
    this.context = new AudioContext();
    this.open = true;
    /** @type {MediaStream | null} */
    this.stream = null;
  }

  /** Samples a second. */
  get rate() {
    return this.context.sampleRate;
  }

  /**
   * Ask for the microphone, and listen. What it throws, `refusal` puts into words.
   * @param {(piece: Float32Array) => void} hear given the sound, piece by piece
   * @param {() => void} lost called if the microphone is taken away
   */
  async listen(hear, lost) {
    this.stream = await navigator.mediaDevices.getUserMedia({
      audio: { echoCancellation: false, noiseSuppression: false, autoGainControl: false },
    });
    await this.context.resume();
    await this.context.audioWorklet.addModule(new URL("../sound/tap.js", import.meta.url));
    const tap = new AudioWorkletNode(this.context, "tap", { numberOfOutputs: 0 });
    tap.port.onmessage = ({ data }) => {
      if (this.open) hear(data);
    };
    this.context.createMediaStreamSource(this.stream).connect(tap);
    for (const track of this.stream.getTracks()) track.addEventListener("ended", lost);
  }

  close() {
    this.open = false;
    for (const track of this.stream?.getTracks() ?? []) track.stop();
    this.context.close().catch(() => {
      // Closed already.
    });
  }
}

/**
 * Why the microphone can't be had.
 * @param {unknown} reason what was thrown
 * @param {string} otherwise what to do instead, as a sentence
 */
export function refusal(reason, otherwise) {
  const name = reason instanceof DOMException ? reason.name : "";
  if (name === "NotAllowedError") {
    return `The microphone was refused. Allow it for this page in the browser's settings. ${otherwise}`;
  }
  if (name === "NotFoundError") return `No microphone found. ${otherwise}`;
  if (name === "NotReadableError")
    return `The microphone is in use elsewhere: close the other app. ${otherwise}`;
  console.error(reason);
  return `The microphone does not work here. ${otherwise}`;
}
