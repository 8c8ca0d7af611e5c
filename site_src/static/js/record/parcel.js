/** What a file of the record is known by. No DOM. */

export const KIND = "bay-reckoner record";

/**
 * One more with each new kind of entry; a page that would lose it says so. 2: pulleys. 3: jobs.
 * 4: one store of figures, of several kinds. 5: hold points, and first runs.
 * 6: entries under the names of today.
 */
export const SCHEMA = 6;

/** The file can't be taken in; the message says why. */
export class ParcelError extends Error {}
