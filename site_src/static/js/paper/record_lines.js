/**
 * Lines of the record: makers' figures and maps, in few words each.
 *
 * @typedef {import("../record/figures.js").Figure} Figure
 * @typedef {import("../bolts/progress.js").BoltMap} BoltMap
 * @typedef {import("../model/catalogue.js").Kit} Kit
 */

import { howFar, moment } from "../bolts/cards.js";
import { figureText, origin, TORQUE, valueText } from "../record/figures.js";
import { boltOf } from "../record/plausible.js";

/**
 * @param {Figure[]} figures @param {Kit | null} kit
 * @param {(what: string, said: string, more: string) => HTMLElement} row
 */
export function figureLines(figures, kit, row) {
  return figures.map((figure) => {
    const kind = kit?.makers.find(({ key }) => key === figure.kind);
    const what = figure.name || kind?.title || "A figure";
    const from = origin(figure) || "no source noted";
    if (figure.kind === TORQUE && kit) {
      const torque = { ...kit, lookup: kit.lookups.torque };
      return row(
        what,
        figureText(figure, kit.quantities),
        [boltOf(torque, figure.choices), from].filter(Boolean).join(" · "),
      );
    }
    const values = Object.entries(figure.values).map(([key, value]) =>
      valueText(value, kind?.values[key] ?? "", kit?.quantities),
    );
    return row(what, [...Object.values(figure.texts), ...values].join(" · "), from);
  });
}

/**
 * What a map is of, its torque, and who finished it when.
 * @param {BoltMap} map @returns {[string, string, string]}
 */
export function mapLine(map) {
  const by = map.who ? ` by ${map.who}` : ", nobody named";
  const done = map.finished
    ? `Finished ${moment(map.finished)}${by}`
    : `Not finished. ${howFar(map)}`;
  const from = map.source ? `figure from ${map.source}` : "no source noted";
  const bolts = `${map.places.length} × ${map.bolt || "bolts"}`;
  return [
    map.title,
    map.torque,
    [done, bolts, from, map.wrench && `wrench ${map.wrench}`].filter(Boolean).join(" · "),
  ];
}
