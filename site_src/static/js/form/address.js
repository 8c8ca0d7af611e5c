/** Keeps the page's address up to date, so that a reload or a link brings the same set-up back. */

import { inTab, keepInTab } from "../record/tab.js";

/** Wait this long, in milliseconds, for more to be typed. */
const DELAY = 250;

/** Under this key the tab remembers the addresses that it gave to a job's own set-ups. */
const OWN = "bay-reckoner own";

/** How many of them: what is typed while a slow page is loaded again makes more than one. */
const MOST = 8;

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
    const address = `${location.pathname}${query ? `?${query}` : ""}`;
    const { job: _, ...state } = history.state ?? {};
    history.replaceState(
      this.job ? { ...state, job: this.job } : state,
      "",
      `${address}${location.hash}`,
    );
    remember(this.job, address);
  }
}

/**
 * Whether the address that the page came with is that of a job's own set-up, not of a link.
 *
 * A place in the tab's history says so itself. But what a browser was told of it while the page was
 * already being loaded again, it forgets.
 * @param {string} job
 */
export function isOwn(job) {
  if (history.state?.job === job) return true;
  const [navigation] = performance.getEntriesByType("navigation");
  const { type } = /** @type {Partial<PerformanceNavigationTiming>} */ (navigation ?? {});
  return type === "reload" && remembered(job).includes(location.pathname + location.search);
}

/**
 * @param {string} job empty if it is a link's
 * @param {string} address
 */
function remember(job, address) {
  const others = remembered(job).filter((each) => each !== address);
  keepInTab(OWN, { job, own: job ? [...others, address].slice(-MOST) : [] });
}

/** @param {string} job @returns {string[]} the last addresses of its own set-ups in this tab */
function remembered(job) {
  const found = inTab(OWN);
  return found?.job === job && Array.isArray(found.own) ? found.own : [];
}
