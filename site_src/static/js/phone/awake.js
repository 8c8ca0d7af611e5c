/** Keeps the screen on while bolts are tightened, if the phone lets a page do that. */

export const NOT_KEPT =
  "This phone doesn't let a page keep the screen on. Nothing is lost if it goes dark.";

export class Awake {
  /** @param {(words: string) => void} tell called with words where it can't be done */
  constructor(tell) {
    this.tell = tell;
    this.wanted = false;
    /** @type {WakeLockSentinel | null} */
    this.lock = null;
    // The phone takes the lock away whenever the page is hidden.
    document.addEventListener("visibilitychange", () => this.hold());
  }

  async on() {
    this.wanted = true;
    if (!("wakeLock" in navigator)) this.tell(NOT_KEPT);
    await this.hold();
  }

  async off() {
    this.wanted = false;
    await this.lock?.release().catch(() => undefined);
    this.lock = null;
  }

  async hold() {
    const needed =
      this.wanted && document.visibilityState === "visible" && (!this.lock || this.lock.released);
    if (!needed || !("wakeLock" in navigator)) return;
    try {
      const lock = await navigator.wakeLock.request("screen");
      if (this.wanted) this.lock = lock;
      else await lock.release();
    } catch {
      // Battery saver, most likely.
      this.tell(NOT_KEPT);
    }
  }
}
