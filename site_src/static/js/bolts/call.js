/**
 * What is called out for the next bolt. No DOM.
 *
 * @typedef {import("./progress.js").BoltMap} BoltMap
 * @typedef {import("./progress.js").Progress} Progress
 */

import { nameOf, stageName } from "./progress.js";

/** How units are said. @type {Object<string, string>} */
const SPOKEN_UNITS = {
  "N·m": "newton metres",
  "lb·ft": "pound feet",
  "lb·in": "pound inches",
  "°": "degrees",
  "° back": "degrees back",
};

/** A number with its unit as it is said. @param {string} text such as "19 N·m" */
export function said(text) {
  const found = /^([\d.,]+)\s*(.*)$/.exec(text);
  return found ? `${found[1]} ${SPOKEN_UNITS[found[2]] ?? found[2]}` : text;
}

/** What to call out now. @param {BoltMap} map @param {Progress} at */
export function call(map, { ask }) {
  if (ask.kind === "all done") return "All bolts done.";
  const { kind } = map.stages[ask.stage];
  const where =
    stageName(map, ask.stage).toLowerCase().replace("\u00a0", " ") +
    (ask.round ? ` ${ask.round + 1}` : "");
  const tool = ask.offset ? ", crowfoot on" : "";
  if (ask.kind === "set") {
    if (kind === "angle") return `${where}: turn each by ${said(ask.dial)}`;
    if (kind === "loosen") return `loosen all, ${looseness(ask.dial)}`;
    return `${where}: set the wrench to ${said(ask.dial)}${tool || (map.offset.bolts.length ? ", no crowfoot" : "")}`;
  }
  const again = ask.backOff ? ", back it off first" : ask.again ? ", once more" : "";
  const what = kind === "loosen" ? looseness(ask.dial) : said(ask.dial);
  return `${where}, bolt ${nameOf(map, ask.bolt)}${again}, ${what}${tool}`;
}

/** @param {string} dial */
function looseness(dial) {
  return dial === "slack" ? "until slack" : said(dial);
}
