/** Keeps the page's address up to date, so that a reload or a link brings the same set-up back. */

/** Wait this long, in milliseconds, for more to be typed. */
const DELAY = 250;

export class Address {
  /** @param {() => string} query what belongs after the question mark now */
  constructor(query) {
    this.query = query;
    this.timer = 0;
    /** The job whose own set-up it is, so that a reload needn't ask; empty for none. */
    this.job = "";
  }

  /** Update it when typing pauses. */
  updateSoon() {
    clearTimeout(this.timer);
    this.timer = window.setTimeout(() => this.update(), DELAY);
  }

  update() {
    clearTimeout(this.timer);
    const query = this.query();
    const address = `${location.pathname}${query ? `?${query}` : ""}${location.hash}`;
    const { job: _, ...state } = history.state ?? {};
    history.replaceState(this.job ? { ...state, job: this.job } : state, "", address);
  }
}
