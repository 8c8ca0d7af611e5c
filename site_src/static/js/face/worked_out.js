/**
 * Tells the parts that only some lookup pages have what was just worked out.
 *
 * @typedef {{kit: import("../model/catalogue.js").Kit,
 *   entries: import("../form/entries.js").Entries,
 *   inputs: import("../recipe/values.js").Inputs, outcome: import("../recipe.js").Outcome,
 *   everything: import("./words.js").Shown[], problems: import("../form/entries.js").Problem[],
 *   enter: (key: string, text: string, unit: string,
 *     from?: import("../form/entries.js").NumberEntry["from"]) => void,
 *   makers: import("../form/kept_figures.js").KeptFigures,
 *   use: (figure: import("../record/figures.js").Figure) => void}} WorkedOut  `from` is what the
 *   text stands for, in the unit that it was typed in; `use`: take one of the makers' figures, and
 *   pick on the page what it was given for
 */

/** @type {Array<(worked: WorkedOut) => void>} */
const listeners = [];
/** @type {WorkedOut | null} */
let last = null;

/**
 * Call a listener each time that something was worked out, and at once if something has been.
 * @param {(worked: WorkedOut) => void} listener
 */
export function whenWorkedOut(listener) {
  listeners.push(listener);
  if (last) listener(last);
}

/** @param {WorkedOut} worked */
export function tellWorkedOut(worked) {
  last = worked;
  for (const listener of listeners) listener(worked);
}
