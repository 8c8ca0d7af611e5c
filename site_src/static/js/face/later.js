/** What waits until the answer has been painted, in pieces between which the page can be used. */

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
   * @param {Array<() => void>} acts
   */
  show(acts) {
    cancelAnimationFrame(this.frame);
    clearTimeout(this.timer);
    this.told(false);
    const waiting = [...acts];
    const next = () => {
      const act = waiting.shift();
      if (!act) {
        this.told(true);
        return;
      }
      this.run(act);
      this.timer = setTimeout(next);
    };
    // A frame's own work is done before the frame is painted, a timer's after it.
    this.frame = requestAnimationFrame(() => {
      this.timer = setTimeout(next);
    });
  }
}
