/**
 * What waits until the answer has been painted, in pieces between which the page can be used.
 *
 * @typedef {() => void | Generator<void, void>} Act  one that takes long yields between its pieces
 */

/** Milliseconds after which the page is left to itself; a phone takes several times as long. */
const TURN = 8;

/**
 * Do something once what was shown has been painted: a frame's own work is done before that.
 * @param {() => void} act
 */
export function afterPaint(act) {
  requestAnimationFrame(() => setTimeout(act));
}

export class Later {
  /**
   * @param {(act: () => void) => void} run does a piece, and what is to be done if it fails
   * @param {(isDone: boolean) => void} told whether all is done that was asked for
   */
  constructor(run, told) {
    this.run = run;
    this.told = told;
    this.frame = 0;
    this.timer = 0;
  }

  /**
   * Do these one after the other, in place of those that are still waiting.
   * @param {Act[]} acts
   */
  show(acts) {
    cancelAnimationFrame(this.frame);
    clearTimeout(this.timer);
    this.told(false);
    const waiting = [...acts];
    /** @type {Generator<void, void> | null} */
    let begun = null;
    const piece = () => {
      const going = begun;
      // One that fails is not gone on with.
      begun = null;
      if (going) begun = going.next().done ? null : going;
      else begun = waiting.shift()?.() ?? null;
    };
    const next = () => {
      const start = performance.now();
      do {
        if (!begun && !waiting.length) {
          this.told(true);
          return;
        }
        this.run(piece);
      } while (begun && performance.now() - start < TURN);
      this.timer = setTimeout(next);
    };
    // A frame's own work is done before the frame is painted, a timer's after it.
    this.frame = requestAnimationFrame(() => {
      this.timer = setTimeout(next);
    });
  }
}
