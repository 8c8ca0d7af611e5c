/**
 * The truck of the job in hand: what was entered for it on any page. Changes are shown at once and
 * are on the disk before they count as kept; each is merged into what other tabs wrote meanwhile.
 *
 * @typedef {import("./job.js").Job} Job
 * @typedef {import("./job.js").Stored} Stored
 * @typedef {import("./job.js").Kept} Kept
 * @typedef {"kept" | "keeping" | "lost"} State  "lost": not on the disk, and the words say why
 */

import { inHand, newJob, USUAL_NAME } from "./job.js";
import { elsewhere, jobInHand, readJobs } from "./jobs.js";
import { amend, newId, reasonWords } from "./record.js";

export class Truck {
  /** @param {Job} job @param {string} trouble why nothing can be kept; empty if it can */
  constructor(job, trouble) {
    this.job = job;
    this.trouble = trouble;
    /** @type {State} */
    this.state = trouble ? "lost" : "kept";
    /** @type {Array<(job: Job) => void>} what is not on the disk yet */
    this.pending = [];
    this.isWriting = false;
    /** Why the last write failed. */
    this.words = trouble;
    /** @type {() => void} called when the state has changed */
    this.stateChanged = () => {};
    /** @type {() => void} called when the job was changed in another tab */
    this.changedElsewhere = () => {};
    elsewhere?.addEventListener("message", () => this.readAgain());
    document.addEventListener("visibilitychange", () => {
      if (document.visibilityState === "visible") this.readAgain();
    });
    addEventListener("pageshow", (event) => {
      if (event.persisted) this.readAgain();
    });
  }

  /** The truck of the job in hand; one that is not kept, if the record can't be read. */
  static async open() {
    try {
      return new Truck(await jobInHand(), "");
    } catch (reason) {
      return new Truck(newJob(newId(), USUAL_NAME, ""), reasonWords(reason));
    }
  }

  /** Whether anything was entered for it. */
  get isEmpty() {
    return Object.keys(this.job.entries).length === 0;
  }

  /** @param {string} name @returns {Stored | undefined} */
  entry(name) {
    return Object.hasOwn(this.job.entries, name) ? this.job.entries[name] : undefined;
  }

  /** @param {string} under @returns {Kept | undefined} */
  kept(under) {
    return Object.hasOwn(this.job.kept, under) ? this.job.kept[under] : undefined;
  }

  /**
   * Enter values, or take them out.
   * @param {Map<string, Stored | undefined>} changes
   */
  enter(changes) {
    if (changes.size) this.change((job) => putIn(job.entries, changes));
  }

  /** @param {string} under @param {Kept | undefined} figure */
  keepFigure(under, figure) {
    this.change((job) => putIn(job.kept, new Map([[under, figure]])));
  }

  /** @param {(job: Job) => void} act */
  change(act) {
    this.job = structuredClone(this.job);
    act(this.job);
    if (this.trouble) return;
    this.pending.push(act);
    this.setState("keeping");
    if (!this.isWriting) this.write();
  }

  async write() {
    this.isWriting = true;
    while (this.pending.length) {
      const acts = this.pending;
      this.pending = [];
      try {
        // What is stored is changed, not replaced: another tab may have written other entries.
        const stored = await amend(
          "jobs",
          newJob(this.job.id, this.job.name, this.job.taken),
          (there) => {
            const next = structuredClone(there);
            for (const act of acts) act(next);
            return next;
          },
        );
        elsewhere?.postMessage(this.job.id);
        if (!this.pending.length) this.takeIn(stored);
      } catch (reason) {
        this.pending = [...acts, ...this.pending];
        this.isWriting = false;
        this.setState("lost", reasonWords(reason));
        return;
      }
    }
    this.isWriting = false;
    this.setState("kept");
  }

  /** @param {State} state @param {string} [words] */
  setState(state, words = "") {
    this.state = state;
    this.words = words;
    this.stateChanged();
  }

  /** Take in what another tab has written. */
  async readAgain() {
    if (this.trouble || this.isWriting || this.pending.length) return;
    const job = await readJobs().then(inHand, () => undefined);
    if (job && !this.isWriting && !this.pending.length) this.takeIn(job);
  }

  /** @param {Job} job as it is stored now */
  takeIn(job) {
    const isSame = JSON.stringify(job) === JSON.stringify(this.job);
    this.job = job;
    if (!isSame) this.changedElsewhere();
  }
}

/**
 * @param {Object<string, any>} into
 * @param {Map<string, any>} changes
 */
function putIn(into, changes) {
  for (const [name, value] of changes)
    if (value === undefined) delete into[name];
    else into[name] = value;
}
