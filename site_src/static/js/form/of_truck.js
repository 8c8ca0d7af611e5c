/**
 * A page's entries as the truck of the job has them: its own where one was entered, else what a
 * maker's sheet says, else what another page works out of it, else the default. No DOM.
 *
 * @typedef {import("../model/catalogue.js").Kit} Kit
 * @typedef {import("../model/lookup.js").Lookup} Lookup
 * @typedef {import("../model/lookup.js").Field} Field
 * @typedef {import("../model/lookup.js").NumberField} NumberField
 * @typedef {import("../record/job.js").Stored} Stored
 * @typedef {import("../recipe.js").Outcome} Outcome
 * @typedef {import("./entries.js").Entries} Entries
 * @typedef {import("./entries.js").NumberEntry} NumberEntry
 * @typedef {import("./entries.js").Remembered} Remembered
 * @typedef {import("../model/catalogue.js").Source} Source
 * @typedef {import("../record/figures.js").Figure} Figure
 * @typedef {{entry: (name: string) => Stored | undefined, figures: Figure[]}} Truck  see
 *   record/kept_truck.js
 * @typedef {"own" | "maker" | "followed" | "usual" | "example" | "open"} Origin
 */

import { plain } from "../face/numbers.js";
import { unitsOf } from "../model/quantities.js";
import { explain } from "../recipe.js";
import { isFault } from "../recipe/values.js";
import { feeding } from "../record/figures.js";
import { fedEntry } from "./carried.js";
import { initial, initialRow, inUnit, read, understood } from "./entries.js";
import { sameDiameter } from "./stock.js";
import { misread, withoutUnit } from "./typed.js";

export class OfTruck {
  /** @param {Kit} kit @param {Truck} truck */
  constructor(kit, truck) {
    this.kit = kit;
    this.truck = truck;
    /** @type {Map<string, Outcome>} what other pages work out, until an entry changes */
    this.outcomes = new Map();
  }

  /**
   * The name under which the job keeps an entry.
   * @param {string} page @param {string} key
   */
  name(page, key) {
    return nameIn(this.kit.truck, page, key);
  }

  /**
   * The page that works an entry out, if another one does and the entry may not stay empty.
   * @param {string} page @param {string} key
   */
  source(page, key) {
    const field = this.kit.lookups[page]?.fields.find((each) => each.key === key);
    const isOpen = field?.kind === "number" && field.default === null;
    return isOpen ? undefined : this.elsewhere(this.kit.truck.follows, page, key);
  }

  /**
   * The page that has a better value for an entry, if it knows this truck's part and was read.
   * @param {string} page @param {string} key
   */
  offer(page, key) {
    return this.isOffered(key) ? this.elsewhere(this.kit.truck.offers, page, key) : undefined;
  }

  /**
   * Whether some page may have a better value for an entry: what it takes was entered, or a
   * maker's sheet says it.
   * @param {string} key
   */
  isOffered(key) {
    const { makers, truck } = this.kit;
    if (!Object.hasOwn(truck.offers, key)) return false;
    return truck.offers[key].known_by.some(
      (each) =>
        this.truck.entry(each) !== undefined || feeding(this.truck.figures, makers, each)?.figure,
    );
  }

  /**
   * @param {import("../model/catalogue.js").Sources} sources
   * @param {string} page @param {string} key
   */
  elsewhere(sources, page, key) {
    const found = Object.hasOwn(sources, key) ? sources[key] : undefined;
    return found && found.page !== page && this.kit.lookups[found.page] ? found : undefined;
  }

  /**
   * Every entry of a page.
   * @param {Lookup} lookup @param {Remembered} preferred @returns {Entries}
   */
  entries(lookup, preferred) {
    const entries = initial(lookup.fields, this.kit.quantities, preferred);
    for (const field of lookup.fields) {
      const own = this.own(lookup, field, preferred) ?? this.stated(lookup, field);
      if (own !== undefined) entries[field.key] = own;
    }
    this.follow(lookup, entries, preferred);
    return entries;
  }

  /**
   * Put in what makers' sheets say and other pages work out now, where nothing was entered.
   * @param {Lookup} lookup @param {Entries} entries @param {Remembered} preferred
   */
  follow(lookup, entries, preferred) {
    for (const field of lookup.fields) {
      if (field.kind !== "number") continue;
      if (this.truck.entry(this.name(lookup.key, field.key)) !== undefined) continue;
      const stated = /** @type {NumberEntry | undefined} */ (this.stated(lookup, field));
      const shown = /** @type {NumberEntry} */ (entries[field.key]);
      // A sheet's pulley is another number once another diameter is asked for.
      if (stated && shown.stated && shown.unit === stated.unit) entries[field.key] = stated;
      if (stated || !this.source(lookup.key, field.key)) continue;
      const source = /** @type {Source} */ (this.source(lookup.key, field.key));
      entries[field.key] = this.workedOut(source, field, preferred);
    }
  }

  /**
   * What another page works out for an entry.
   * @param {Source} source @param {NumberField} field @param {Remembered} preferred
   * @returns {NumberEntry}
   */
  workedOut({ page, symbol }, field, preferred) {
    const { quantities } = this.kit;
    const value = this.outcome(page).value(symbol);
    const unit = preferred(field.key, field) ?? field.unit;
    if (isFault(value))
      return { text: "", unit, lack: `${this.kit.titles[page]} gives none for this truck.` };
    const exact = fedEntry(field, value, quantities);
    // Shown as a person would carry it on, worked with as it is.
    const now =
      unit === field.unit
        ? plain(Number(exact.text), field.step)
        : inUnit(field, exact, unit, quantities).text;
    return { text: now, unit, from: { ...exact, now } };
  }

  /** @param {string} page @returns {Outcome} */
  outcome(page) {
    const known = this.outcomes.get(page);
    if (known) return known;
    const outcome = this.outcomeWith(page, {});
    this.outcomes.set(page, outcome);
    return outcome;
  }

  /**
   * What a page would work out, were some of its entries others.
   * @param {string} page @param {Entries} instead @returns {Outcome}
   */
  outcomeWith(page, instead) {
    const lookup = this.kit.lookups[page];
    const entries = { ...this.entries(lookup, () => undefined), ...instead };
    const { inputs } = read(lookup.fields, entries, this.kit.quantities);
    return explain(lookup, inputs, this.kit.tablesOf(lookup));
  }

  /** Forget what was worked out: an entry has changed. */
  changed() {
    this.outcomes.clear();
  }

  /**
   * What the job holds for an entry; undefined if nothing that this page can show.
   * @param {Lookup} lookup @param {Field} field @param {Remembered} preferred
   * @returns {Entries[string] | undefined}
   */
  own(lookup, field, preferred) {
    const { quantities } = this.kit;
    const stored = this.truck.entry(this.name(lookup.key, field.key));
    if (stored === undefined) return undefined;
    if (field.kind === "parts")
      return Array.isArray(stored)
        ? stored.slice(0, field.most).map((row) => {
            const whole = initialRow(field, quantities, preferred, {});
            for (const each of field.fields)
              if (isFor(each, row[each.key], quantities)) whole[each.key] = row[each.key];
            return whole;
          })
        : undefined;
    if (!isFor(field, stored, quantities)) return undefined;
    if (field.kind === "choice") return /** @type {string} */ (stored);
    const entry = { .../** @type {NumberEntry} */ (stored), typed: true };
    // A unit that was typed along went to the picker, perhaps after it was kept.
    if (!misread(understood(field, entry, quantities))) entry.text = withoutUnit(entry.text);
    return entry;
  }

  /**
   * The maker's figure that fills an entry, and the others that could.
   * @param {Lookup} lookup @param {Field} field
   */
  makers(lookup, field) {
    // One that means something else on this page is not what the sheet speaks of.
    if (this.name(lookup.key, field.key) !== field.key) return null;
    return feeding(this.truck.figures, this.kit.makers, field.key);
  }

  /**
   * What a maker's sheet says for an entry; undefined if none does.
   * @param {Lookup} lookup @param {Field} field
   * @returns {NumberEntry | string | undefined}
   */
  stated(lookup, field) {
    const found = this.makers(lookup, field);
    return found?.figure ? this.saidBy(found.figure, field) : undefined;
  }

  /**
   * What a figure says for an entry.
   * @param {Figure} figure @param {Field} field
   * @returns {NumberEntry | string | undefined}
   */
  saidBy(figure, field) {
    if (field.kind === "choice") {
      const kind = this.kit.makers.find(({ key }) => key === figure.kind);
      const pick = kind?.picks.find(
        ({ choice, by }) => choice === field.key && by.every((each) => figure.values[each]),
      );
      return field.options.some(({ key }) => key === pick?.option) ? pick?.option : undefined;
    }
    const value = Object.hasOwn(figure.values, field.key) ? figure.values[field.key] : undefined;
    if (field.kind !== "number" || !value || !isFor(field, value, this.kit.quantities))
      return undefined;
    if (misread(understood(field, value, this.kit.quantities))) return undefined;
    const text = this.asMeasured(figure, field, value);
    return text === undefined ? undefined : { ...value, text, stated: true };
  }

  /**
   * What a figure says; a pulley as the diameter that the pages are told, whichever it means.
   * @param {Figure} figure @param {NumberField} field
   * @param {{text: string, unit: string}} value
   */
  asMeasured({ choices }, field, value) {
    const { quantities, lookups } = this.kit;
    const pulley = field.quantity === "length" ? choices.pulley_kind : undefined;
    if (!pulley) return value.text;
    const shelved = lookups.boost?.fields.find((each) => each.kind === "number" && each.shelf);
    if (shelved?.kind !== "number" || !shelved.shelf) return undefined;
    const { kind: asked } = shelved.shelf;
    const usual = lookups.boost.fields.find((each) => each.key === asked);
    const wanted =
      this.truck.entry(asked) ?? (usual?.kind === "choice" ? usual.default : undefined);
    const typed = { ...value, kind: pulley };
    return sameDiameter(shelved, typed, String(wanted), quantities) ?? undefined;
  }

  /**
   * Where what a page shows comes from.
   * @param {Lookup} lookup @param {Field} field @param {Entries} entries @returns {Origin}
   */
  origin(lookup, field, entries) {
    const blank =
      field.kind === "number" && !(/** @type {NumberEntry} */ (entries[field.key]).text.trim());
    if (field.kind === "number" && field.kept) return blank ? "open" : "maker";
    if (this.truck.entry(this.name(lookup.key, field.key)) !== undefined) return "own";
    if (this.stated(lookup, field) !== undefined) return "maker";
    if (this.source(lookup.key, field.key)) return "followed";
    if (blank) return "open";
    return this.kit.truck.usual.includes(field.key) ? "usual" : "example";
  }
}

/**
 * The name under which a job keeps an entry.
 * @param {import("../model/catalogue.js").TruckRules} rules @param {string} page
 * @param {string} key
 */
export function nameIn(rules, page, key) {
  return rules.apart[page]?.includes(key) ? `${page} ${key}` : key;
}

/**
 * Whether something that the job holds can stand in a field.
 * @param {NumberField | import("../model/lookup.js").ChoiceField} field
 * @param {unknown} stored
 * @param {import("../model/quantities.js").Quantities} quantities
 */
export function isFor(field, stored, quantities) {
  if (field.kind === "choice") return typeof stored === "string";
  if (typeof stored !== "object" || stored === null || !("unit" in stored)) return false;
  return unitsOf(field, quantities).some(({ key }) => key === stored.unit);
}
