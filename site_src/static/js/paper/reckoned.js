/**
 * What the pages work out of the truck of the job in hand, for the record: its entries and whose
 * they are, its limits, what was left as an example, what the owner has to know.
 *
 * @typedef {import("../model/catalogue.js").Kit} Kit
 * @typedef {import("../record/kept_truck.js").Truck} Truck
 * @typedef {import("../record/figures.js").Figure} Figure
 * @typedef {import("../model/lookup.js").Lookup} Lookup
 * @typedef {import("../model/lookup.js").Field} Field
 */

import { inOrder } from "../face/ladder.js";
import { NO_NUMBER, withUnit } from "../face/numbers.js";
import { showAnswer, STATUS_WORDS } from "../face/words.js";
import { brief, isShown } from "../form/entries.js";
import { OfTruck } from "../form/of_truck.js";
import { PickedUnits } from "../form/picked_units.js";
import { briefOrigin, valueText } from "../record/figures.js";

/** What the plan says first. */
const MADE = ["boost", "power_low", "power_high", "charge_temperature", "rotor_speed"];

/** What the owner is told of the truck: words, page and entry. */
const OWNERS = /** @type {const} */ ([
  ["Fuel, and nothing less", "fuel", "fuel"],
  ["Engine speed limit", "boost", "limiter_speed"],
  ["Blower speed limit", "boost", "rotor_limit"],
  ["Charge temperature limit", "plan", "charge_limit"],
]);

/** What the owner is told of makers' sheets: words and kind of figure. */
const OWNERS_PARTS = /** @type {const} */ ([
  ["Belt", "belt"],
  ["Oil", "oil"],
  ["Spark plugs", "plug"],
  ["Coolant", "coolant"],
]);

export class Reckoned {
  /** @param {Kit} kit the plan's @param {Truck} truck */
  constructor(kit, truck) {
    this.kit = kit;
    this.truck = truck;
    this.ofTruck = new OfTruck(kit, truck);
    /** @type {Map<string, import("../form/entries.js").Entries>} */
    this.known = new Map();
  }

  /** Every lookup, in the catalogue's order. */
  lookups() {
    return Object.keys(this.kit.titles).map((key) => this.kit.lookups[key]);
  }

  /** A page's entries in the units of the shop. @param {Lookup} lookup */
  entries(lookup) {
    const picked = new PickedUnits(lookup.key, this.kit.quantities);
    const found =
      this.known.get(lookup.key) ??
      this.ofTruck.entries(lookup, (path, field) => picked.entry(path, field));
    this.known.set(lookup.key, found);
    return found;
  }

  /** Every entry that is somebody's own, each once. */
  truckLines() {
    /** @type {{label: string, text: string, whose: string}[]} */
    const lines = [];
    const seen = new Set();
    for (const lookup of this.lookups()) {
      const entries = this.entries(lookup);
      for (const field of lookup.fields) {
        const name = this.ofTruck.name(lookup.key, field.key);
        if (seen.has(name) || !isShown(field, entries)) continue;
        const origin = this.ofTruck.origin(lookup, field, entries);
        if (origin !== "own" && origin !== "maker") continue;
        seen.add(name);
        lines.push({
          label: field.label,
          text: brief(field, entries, this.kit.quantities),
          whose: this.whose(lookup, field, origin),
        });
      }
    }
    return lines;
  }

  /** @param {Lookup} lookup @param {Field} field @param {string} origin */
  whose(lookup, field, origin) {
    if (origin === "own") return "the shop's";
    const figure = this.ofTruck.makers(lookup, field)?.figure;
    const from = figure ? briefOrigin(figure) : "";
    return from ? `the maker's, ${from}` : "the maker's";
  }

  shown() {
    const { kit } = this;
    const { lookup } = kit;
    const outcome = this.ofTruck.outcome(lookup.key);
    const picked = new PickedUnits(lookup.key, kit.quantities);
    const all = lookup.answers.map((answer) =>
      showAnswer(kit, answer, outcome, picked.answer(answer), []),
    );
    return { all, limits: inOrder(lookup.views.ladder?.rungs ?? [], all, outcome) };
  }

  /** What the truck makes, then its limits, the most used one first. */
  limits() {
    const { all, limits } = this.shown();
    const made = MADE.flatMap((key) => all.filter(({ answer }) => answer.key === key));
    return [
      ...made.map((each) => line(each.answer.label, each)),
      ...limits.map(({ rung, shown }) => line(`Used of the limit: ${rung.label}`, shown)),
    ];
  }

  /** Limits that are passed or were not checked, and makers' figures that were typed over. */
  deviations() {
    const { limits } = this.shown();
    /** @param {string} status */
    const of = (status) => limits.filter(({ shown }) => shown.status === status);
    const unchecked = of("unchecked").map(({ rung }) => rung.label);
    const missing = limits.filter(({ shown }) => shown.fault).map(({ rung }) => rung.label);
    return [
      ...of("beyond").map(({ rung, shown }) => ({
        what: "Beyond its limit:",
        said: rung.label,
        more: shown.words,
      })),
      ...this.typedOver(),
      ...(unchecked.length
        ? [
            {
              what: "Not checked, for want of an entry of its own:",
              said: unchecked.join(", "),
              more: "",
            },
          ]
        : []),
      ...(missing.length
        ? [{ what: "Not worked out for this truck:", said: missing.join(", "), more: "" }]
        : []),
    ];
  }

  typedOver() {
    /** @type {{what: string, said: string, more: string}[]} */
    const found = [];
    const seen = new Set();
    for (const lookup of this.lookups()) {
      const entries = this.entries(lookup);
      for (const field of lookup.fields) {
        const stated = this.ofTruck.stated(lookup, field);
        if (stated === undefined || seen.has(field.key)) continue;
        if (this.ofTruck.origin(lookup, field, entries) !== "own") continue;
        seen.add(field.key);
        const { quantities } = this.kit;
        const makers = brief(field, { ...entries, [field.key]: stated }, quantities);
        const own = brief(field, entries, quantities);
        if (own !== makers)
          found.push({
            what: "Not as its maker says:",
            said: `${field.label} ${own}`,
            more: `The maker's: ${makers}, ${this.whose(lookup, field, "maker").replace(/^the maker's,? ?/, "")}`.replace(
              /, $/,
              "",
            ),
          });
      }
    }
    return found;
  }

  /**
   * What the owner has to know; nothing that is only an example.
   * @param {Figure[]} figures
   */
  ownerLines(figures) {
    const { kit } = this;
    const told = OWNERS.map(([label, page, key]) => {
      const lookup = kit.lookups[page];
      const field = lookup.fields.find((each) => each.key === key);
      if (!field) return { label, text: "" };
      const entries = this.entries(lookup);
      const origin = this.ofTruck.origin(lookup, field, entries);
      const isKnown = origin === "own" || origin === "maker";
      return { label, text: isKnown ? brief(field, entries, kit.quantities) : "" };
    });
    const parts = OWNERS_PARTS.flatMap(([label, key]) => {
      const kind = kit.makers.find((each) => each.key === key);
      const of = figures.filter((figure) => figure.kind === key);
      if (!of.length) return [{ label, text: "" }];
      return of.map(({ texts, values }) => ({
        label,
        text: [
          ...Object.values(texts),
          ...Object.entries(values).map(([name, value]) =>
            valueText(value, kind?.values[name] ?? "", kit.quantities),
          ),
        ].join(", "),
      }));
    });
    return [...told, ...parts];
  }
}

/** @param {string} label @param {import("../face/words.js").Shown} shown */
function line(label, shown) {
  return {
    label,
    text: shown.fault ? NO_NUMBER : withUnit(shown.text, shown.unit.label),
    status: shown.status,
    word: STATUS_WORDS[shown.status] ?? "",
    words: shown.fault || shown.status === "beyond" || shown.status === "near" ? shown.words : "",
  };
}
