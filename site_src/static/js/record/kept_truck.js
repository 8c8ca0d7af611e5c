/**
 * The truck of the job in hand: what was entered for it on any page, and what its makers' sheets
 * say. Changes are shown at once and are on the disk before they count as kept; each is merged into
 * what other tabs wrote meanwhile.
 *
 * @typedef {import("./job.js").Job} Job
 * @typedef {import("./job.js").Stored} Stored
 * @typedef {import("./figures.js").Figure} Figure
 * @typedef {{act: (job: Job) => void} | {figure: Figure,
 *   change: (figure: Figure) => Figure | undefined}} Pending  of the job, or of one figure
 * @typedef {"kept" | "keeping" | "lost"} State  "lost": not on the disk, and the words say why
 */

import { inHand, newJob, USUAL_NAME } from "./job.js";
import { ofJob } from "./figures.js";
import { elsewhere, figuresElsewhere, jobInHand, readJobs } from "./jobs.js";
import { amend, newId, readFigures, reasonWords } from "./record.js";

export class Truck {
  /**
   * @param {Job} job @param {string} trouble why nothing can be kept; empty if it can
   * @param {Figure[]} [figures] of every job
   * @param {number} [damaged] how many figures can't be read
   */
  constructor(job, trouble, figures = [], damaged = 0) {
    this.job = job;
    this.figures = ofJob(figures, job.name);
    this.damaged = damaged;
    this.trouble = trouble;
    /** @type {State} */
    this.state = trouble ? "lost" : "kept";
    /** How often something was changed here. */
    this.changes = 0;
    /** @type {Pending[]} what is not on the disk yet */
    this.pending = [];
    this.isWriting = false;
    /** Why the last write failed. */
    this.words = trouble;
    /** @type {() => void} called when the state has changed */
    this.stateChanged = () => {};
    /** @type {() => void} called when the job was changed in another tab */
    this.changedElsewhere = () => {};
    for (const channel of [elsewhere, figuresElsewhere])
      channel?.addEventListener("message", () => this.readAgain());
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
      const [job, { good, damaged }] = await Promise.all([jobInHand(), readFigures()]);
      return new Truck(job, "", good, damaged);
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

  /**
   * Enter values, or take them out.
   * @param {Map<string, Stored | undefined>} changes
   */
  enter(changes) {
    if (changes.size) this.change((job) => putIn(job.entries, changes));
  }

  /**
   * Change a maker's figure, add it or take it out.
   * @param {Figure} figure
   * @param {(figure: Figure) => Figure | undefined} change of it as it is stored, whoever wrote it
   */
  changeFigure(figure, change) {
    const next = change(this.figures.find(({ id }) => id === figure.id) ?? figure);
    const others = this.figures.filter(({ id }) => id !== figure.id);
    this.figures = ofJob([...others, ...(next ? [next] : [])], this.job.name);
    this.keep({ figure, change });
  }

  /** @param {(job: Job) => void} act */
  change(act) {
    this.job = structuredClone(this.job);
    act(this.job);
    this.keep({ act });
  }

  /** @param {Pending} change */
  keep(change) {
    if (this.trouble) return;
    this.changes += 1;
    this.pending.push(change);
    this.setState("keeping");
    if (!this.isWriting) this.write();
  }

  async write() {
    this.isWriting = true;
    while (this.pending.length) {
      const changes = this.pending;
      this.pending = [];
      try {
        await this.writeJob(changes.flatMap((each) => ("act" in each ? [each.act] : [])));
        const written = await writeFigures(
          changes.flatMap((each) => ("figure" in each ? [each] : [])),
        );
        if (!this.pending.length)
          this.figures = this.figures.map((each) => written.get(each.id) ?? each);
      } catch (reason) {
        this.pending = [...changes, ...this.pending];
        this.isWriting = false;
        this.setState("lost", reasonWords(reason));
        return;
      }
    }
    this.isWriting = false;
    this.setState("kept");
  }

  /** @param {Array<(job: Job) => void>} acts */
  async writeJob(acts) {
    if (!acts.length) return;
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
    if (!this.pending.length) this.takeIn(stored, this.figures);
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
    const { changes } = this;
    const [job, figures] = await Promise.all([
      readJobs().then(inHand, () => undefined),
      readFigures().catch(() => undefined),
    ]);
    if (this.isWriting || this.pending.length || !figures) return;
    // Something was entered and kept meanwhile: what was read may be older than that.
    if (this.changes !== changes) {
      await this.readAgain();
      return;
    }
    this.damaged = figures.damaged;
    const now = job ?? this.job;
    this.takeIn(now, ofJob(figures.good, now.name));
  }

  /** @param {Job} job as it is stored now @param {Figure[]} figures its own */
  takeIn(job, figures) {
    const isSame = JSON.stringify([job, figures]) === JSON.stringify([this.job, this.figures]);
    this.job = job;
    this.figures = figures;
    if (!isSame) this.changedElsewhere();
  }
}

/** @param {{figure: Figure, change: (figure: Figure) => Figure | undefined}[]} changes */
async function writeFigures(changes) {
  /** @type {Map<string, Figure>} */
  const written = new Map();
  for (const { figure, change } of changes)
    written.set(
      figure.id,
      await amend("figures", figure, (there) => {
        const next = change(there);
        return next && { ...next, rev: there.rev + 1 };
      }),
    );
  if (changes.length) figuresElsewhere?.postMessage("");
  return written;
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
