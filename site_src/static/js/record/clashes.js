/**
 * What a file says otherwise than this phone of a job that both have, entry by entry. No DOM.
 *
 * A job is the same by its name: that is what stands on the paper and on the wall. What only this
 * phone has is no difference; the file says nothing about it.
 *
 * @typedef {import("./job.js").Job} Job
 * @typedef {import("./job.js").Stored} Stored
 * @typedef {import("./figures.js").Figure} Figure
 * @typedef {{name: string, mine: Stored | undefined, theirs: Stored}} Difference
 * @typedef {{job: string, entries: Difference[], figures: {mine: Figure, theirs: Figure}[],
 *   only: number}} Clash  `only`: how many entries only this phone has
 * @typedef {"beside" | {entries: string[], figures: string[]}} Choice  what of a clash is taken, by
 *   name and id; or all of it, as a job of its own beside the one that is here
 */

/** What a job is called that stands beside one of the same name. @param {string} job */
export function besideName(job) {
  return `${job}, from a file`;
}

/**
 * What an entry says, without its id, its count of writings, and when it was taken up or entered.
 * @param {any} entry
 */
export function content({ id: _, rev: __, taken: ___, used: ____, changed: _____, ...rest }) {
  return JSON.stringify(rest);
}

/**
 * @param {{jobs: Job[], figures: Figure[]}} parcel what the file holds
 * @param {{jobs: Job[], figures: Figure[]}} here what this phone holds
 * @returns {Clash[]} one for each job in which they differ
 */
export function clashesOf(parcel, here) {
  const known = new Set(here.jobs.map(content));
  const contents = new Set(here.figures.map(content));
  /** @param {string} job */
  const figuresOf = (job) =>
    parcel.figures.flatMap((theirs) => {
      if (theirs.job !== job || contents.has(content(theirs))) return [];
      const mine = here.figures.find(({ id, job: of }) => id === theirs.id && of === job);
      return mine ? [{ mine, theirs }] : [];
    });
  const names = new Set([...parcel.jobs.map(({ name }) => name), ...parcel.figures.map(jobOf)]);
  return [...names].flatMap((job) => {
    const mine = here.jobs.find(({ name }) => name === job);
    const theirs = parcel.jobs.find(({ name }) => name === job);
    // Taken in once before, as a job of its own.
    if (theirs && known.has(content({ ...theirs, name: besideName(job) }))) return [];
    const entries = mine && theirs ? differences(mine.entries, theirs.entries) : [];
    const figures = figuresOf(job);
    if (!entries.length && !figures.length) return [];
    const own = Object.keys(mine?.entries ?? {});
    const only = theirs ? own.filter((key) => !Object.hasOwn(theirs.entries, key)).length : 0;
    return [{ job, entries, figures, only }];
  });
}

/** @param {Figure} figure */
function jobOf({ job }) {
  return job;
}

/**
 * @param {Object<string, Stored>} mine @param {Object<string, Stored>} theirs
 * @returns {Difference[]}
 */
function differences(mine, theirs) {
  return Object.entries(theirs)
    .map(([name, stored]) => ({
      name,
      mine: Object.hasOwn(mine, name) ? mine[name] : undefined,
      theirs: stored,
    }))
    .filter((each) => said(each.mine) !== said(each.theirs));
}

/**
 * What an entry says, whichever unit it was first typed in and whoever typed it.
 * @param {Stored | undefined} stored @returns {string}
 */
function said(stored) {
  if (Array.isArray(stored))
    return JSON.stringify(
      stored.map((row) =>
        Object.keys(row)
          .sort()
          .map((key) => [key, said(row[key])]),
      ),
    );
  if (typeof stored === "string" || stored === undefined) return JSON.stringify(stored ?? null);
  return JSON.stringify([stored.text.trim(), stored.unit]);
}
