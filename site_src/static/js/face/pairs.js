/**
 * Words that state a measure twice, `[25 mm|1 in]`: as the shop reads it. The same rule as
 * site_src/model/said.py.
 */

const PAIR = /\[([^[\]|]+)\|([^[\]|]+)\]/g;

/** @param {string} text @param {string} [system] the shop's, as the page is marked with it */
export function spoken(text, system = shopsSystem()) {
  return text.includes("|") ? text.replace(PAIR, system === "inch" ? "$2" : "$1") : text;
}

/** The page is marked with it before anything is drawn (pages/mode.js). */
function shopsSystem() {
  return typeof document === "undefined" ? "metric" : document.documentElement.dataset.system;
}
