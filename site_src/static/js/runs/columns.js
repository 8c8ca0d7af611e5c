/**
 * Which column of a log is what: a guess by its name and by its numbers, offered and never taken
 * by itself; and its numbers in SI. No DOM.
 *
 * @typedef {{key: string, label: string, factor: number, offset: number, ambient: number,
 *   names: string[]}} LogUnit  SI is value · factor + offset, and + 1 outside air or − 1 of it;
 *   see site_src/pages/first_runs.py
 * @typedef {{key: string, label: string, needed: boolean, names: string[], not: string[],
 *   units: LogUnit[], usual: [number, number]}} Channel  `usual`: range of its highest number, SI
 * @typedef {{column: number, unit: string}} Picked  column −1: not in this log
 * @typedef {Object<string, Picked>} Mapping  by the channel's key
 */

/** @param {string} text */
function plainName(text) {
  return text
    .toLowerCase()
    .normalize("NFKD")
    .replace(/[\u0300-\u036f]/g, "")
    .replace(/[^a-z0-9%]+/g, " ")
    .trim();
}

/**
 * What each channel is likely to be in a log.
 * @param {Channel[]} channels @param {import("./read_log.js").Log} log
 * @param {number} ambient outside air, Pa
 * @returns {Mapping}
 */
export function guess(channels, log, ambient) {
  const tops = log.columns.map(highest);
  const taken = new Set();
  /** @type {Mapping} */
  const found = {};
  for (const channel of channels) {
    const rated = log.heads
      .map((head, column) => rate(channel, head, log.units[column], tops[column], ambient))
      .map((each, column) => ({ ...each, column }))
      .filter(({ column, score }) => score > 0 && !taken.has(column));
    const best = rated.reduce((a, b) => (b.score > a.score ? b : a), {
      score: 0,
      column: -1,
      unit: channel.units[0].key,
    });
    found[channel.key] = { column: best.column, unit: best.unit };
    if (best.column >= 0) taken.add(best.column);
  }
  return found;
}

/**
 * How well a column fits a channel, and in which unit.
 * @param {Channel} channel @param {string} head @param {string} unitText @param {number} top
 * @param {number} ambient
 */
function rate(channel, head, unitText, top, ambient) {
  const name = ` ${plainName(head)} `;
  const place = channel.names.findIndex((each) => name.includes(` ${each} `));
  const named = place >= 0 && !channel.not.some((each) => name.includes(` ${each} `));
  if (!named) return { score: 0, unit: "" };
  const said = unitText.toLowerCase().replace(/[\s°[\]()]/g, "");
  const isAbsolute = /\b(abs|absolute|map|manifold)\b/.test(name) || /a$|abs/.test(said);
  const fits = channel.units.filter((unit) => plausible(channel, unit, top, ambient));
  const byName = channel.units.filter(({ names }) => names.includes(said));
  const likely = byName.filter((unit) => fits.includes(unit));
  const absolute = (/** @type {LogUnit} */ { ambient: of }) => (of !== 0) === isAbsolute;
  const unit =
    likely.find(absolute) ??
    likely[0] ??
    byName.find(absolute) ??
    byName[0] ??
    fits[0] ??
    channel.units[0];
  const isUsual = fits.includes(unit);
  return { score: 100 - place + (isUsual ? 50 : 0), unit: unit.key };
}

/** @param {Channel} channel @param {LogUnit} unit @param {number} top @param {number} ambient */
function plausible({ usual }, unit, top, ambient) {
  const value = inSi(top, unit, ambient);
  return value >= usual[0] && value <= usual[1];
}

/** The highest number of a column. @param {number[]} column */
function highest(column) {
  let top = -Infinity;
  for (const value of column) if (value > top) top = value;
  return top;
}

/** @param {number} value @param {LogUnit} unit @param {number} ambient */
export function inSi(value, { factor, offset, ambient: share }, ambient) {
  return value * factor + offset + share * ambient;
}

/**
 * What is wrong with a mapping; empty if it can be used.
 * @param {Channel[]} channels @param {Mapping} mapping
 */
export function lacking(channels, mapping) {
  const missing = channels.find(({ key, needed }) => needed && mapping[key].column < 0);
  if (missing) return `Which column is ${missing.label.toLowerCase()}? Pick it.`;
  const columns = Object.values(mapping)
    .map(({ column }) => column)
    .filter((column) => column >= 0);
  return new Set(columns).size < columns.length ? "One column is picked for two things." : "";
}

/**
 * The channels' numbers in SI, by key.
 * @param {Channel[]} channels @param {import("./read_log.js").Log} log
 * @param {Mapping} mapping @param {number} ambient
 * @returns {Object<string, Float64Array>}
 */
export function channelsOf(channels, log, mapping, ambient) {
  /** @type {Object<string, Float64Array>} */
  const found = {};
  for (const { key, units } of channels) {
    const { column, unit: named } = mapping[key];
    const unit = units.find((each) => each.key === named);
    if (column < 0 || !unit) continue;
    found[key] = Float64Array.from(log.columns[column], (value) => inSi(value, unit, ambient));
  }
  return found;
}
