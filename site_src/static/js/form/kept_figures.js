/**
 * Makers' figures on a page that asks for one: for the bolt or the hose that is picked. They come
 * first on the plate, as they were typed, and are never changed. What is typed is kept in the one
 * store of figures, and is what the list and the map have too.
 *
 * @typedef {import("./entries.js").Entries} Entries
 * @typedef {import("./entries.js").NumberEntry} NumberEntry
 * @typedef {import("../model/catalogue.js").Kit} Kit
 * @typedef {import("../model/lookup.js").NumberField} NumberField
 * @typedef {import("../model/lookup.js").Lookup} Lookup
 * @typedef {import("../record/figures.js").Figure} Figure
 * @typedef {import("../record/figures.js").Kind} Kind
 * @typedef {import("../record/kept_truck.js").Truck} Truck
 */

import { read } from "./entries.js";
import { withoutUnit } from "./typed.js";
import { optionNamed } from "../model/lookup.js";
import { hasKnownUnits, inUse, matching, newFigure, statedOnly } from "../record/figures.js";
import { newId } from "../record/record.js";

/** @param {Lookup} lookup @returns {NumberField[]} */
export function keptFields(lookup) {
  return /** @type {NumberField[]} */ (
    lookup.fields.filter((field) => field.kind === "number" && field.kept)
  );
}

export class KeptFigures {
  /** @param {Kit} kit @param {Truck} truck */
  constructor(kit, truck) {
    this.kit = kit;
    this.truck = truck;
    this.fields = keptFields(kit.lookup);
    const { makers, lookup } = kit;
    this.kind = this.fields.length
      ? makers.find(({ pages }) => pages.includes(lookup.key))
      : undefined;
    /** Parts whose figure was taken out of the entry; it stays in the list. @type {Set<string>} */
    this.leftOut = new Set();
  }

  /** What is picked of what a sheet can state. @param {Entries} entries */
  part(entries) {
    const keys = this.kind?.choices ?? [];
    const picked = keys.filter((key) => optionNamed(this.field(key), entries[key]));
    return statedOnly(Object.fromEntries(picked.map((key) => [key, String(entries[key])])));
  }

  /** @param {string} key */
  field(key) {
    return this.kit.lookup.fields.find((each) => each.key === key);
  }

  /** The job's figures that fit what is picked. @param {Entries} entries @returns {Figure[]} */
  fitting(entries) {
    return this.kind ? matching(this.usable(), this.kind.key, this.part(entries)) : [];
  }

  /** The job's figures that the page can work with. */
  usable() {
    const { makers, quantities } = this.kit;
    return this.truck.figures.filter(
      (each) => hasKnownUnits(each, makers, quantities) && this.isReadable(each),
    );
  }

  /** Whether the page takes its numbers. @param {Figure} figure */
  isReadable({ values }) {
    const fields = this.fields.filter(({ key }) => values[key]);
    return !read(fields, values, this.kit.quantities).problems.length;
  }

  /** How many more there are, that no page can work with. */
  get unusable() {
    return this.truck.damaged + this.truck.figures.length - this.usable().length;
  }

  /** The figure in use for what is picked. @param {Entries} entries @returns {Figure | null} */
  chosen(entries) {
    if (this.leftOut.has(this.under(entries))) return null;
    const fitting = this.fitting(entries);
    const found = inUse(fitting);
    if (found || this.kind?.key === "torque") return found;
    return [...fitting].sort((a, b) => b.changed.localeCompare(a.changed))[0] ?? null;
  }

  /** The figure in use, if its numbers are what stands in the entries. @param {Entries} entries */
  shown(entries) {
    const figure = this.chosen(entries);
    return figure && this.fields.every((field) => isSame(figure, field, entries)) ? figure : null;
  }

  /** @param {Entries} entries */
  under(entries) {
    return JSON.stringify(this.part(entries));
  }

  /**
   * Put in the figure in use for what is picked.
   * @param {Entries} entries
   * @returns {boolean} whether the page asks for any
   */
  recall(entries) {
    const figure = this.chosen(entries);
    for (const { key } of this.fields) {
      const { unit } = /** @type {NumberEntry} */ (entries[key]);
      const value = figure?.values[key];
      entries[key] = value ? { ...value } : { text: "", unit };
    }
    return this.fields.length > 0;
  }

  /**
   * Keep what was typed: in the figure that was typed on such a page before, else in a new one.
   * Each number is merged into what is stored. What can't be worked with is not kept.
   * @param {Entries} entries @param {{source: string, page: string}} from
   */
  keep(entries, from) {
    if (!this.kind || this.isFaulty(entries)) return;
    const now = this.chosen(entries);
    const own = now?.typed ? now : null;
    const values = this.typedValues(entries);
    if (!Object.keys(values).length) {
      if (own) this.truck.changeFigure(own, () => undefined);
      else this.leftOut.add(this.under(entries));
      return;
    }
    this.leftOut.delete(this.under(entries));
    const isAsBefore = this.shown(entries) !== null;
    if (now && isAsBefore && now.source === from.source && now.page === from.page) return;
    this.change((isAsBefore ? now : own) ?? this.begun(entries), values, from);
  }

  /** The numbers that were typed, in their own unit. @param {Entries} entries */
  typedValues(entries) {
    /** @type {Figure["values"]} */
    const values = {};
    for (const { key } of this.fields) {
      const entry = /** @type {NumberEntry} */ (entries[key]);
      const { text, unit } = entry.from?.now === entry.text ? entry.from : entry;
      if (text.trim()) values[key] = { text: withoutUnit(text), unit };
    }
    return values;
  }

  /** A figure for what is picked, with nothing in it yet. @param {Entries} entries */
  begun(entries) {
    return newFigure({
      id: newId(),
      job: this.truck.job.name,
      kind: this.kind?.key ?? "",
      choices: this.part(entries),
      typed: this.kit.lookup.key,
    });
  }

  /**
   * @param {Figure} figure as it was when this was typed
   * @param {Figure["values"]} values @param {{source: string, page: string}} from
   */
  change(figure, values, from) {
    const at = new Date().toISOString();
    const keys = this.fields
      .map(({ key }) => key)
      .filter((key) => JSON.stringify(values[key]) !== JSON.stringify(figure.values[key]));
    const texts = Object.entries(from).filter(
      ([key, text]) => figure[/** @type {"source" | "page"} */ (key)] !== text,
    );
    this.truck.changeFigure(figure, (there) => {
      const next = { ...there, ...Object.fromEntries(texts), used: at, changed: at };
      next.values = { ...there.values };
      for (const key of keys)
        if (values[key]) next.values[key] = values[key];
        else delete next.values[key];
      return next;
    });
  }

  /** Use one of several figures that fit. @param {Entries} entries @param {Figure} figure */
  use(entries, figure) {
    this.leftOut.delete(this.under(entries));
    const at = new Date().toISOString();
    this.truck.changeFigure(figure, (there) => ({ ...there, used: at }));
    this.recall(entries);
  }

  /** Whether an entry can't be worked with. @param {Entries} entries */
  isFaulty(entries) {
    return read(this.fields, entries, this.kit.quantities).problems.length > 0;
  }

  /**
   * Whether what stands in the entry is on the disk, in words.
   * @param {Entries} entries
   */
  stateWords(entries) {
    if (this.isFaulty(entries)) return "Not kept: correct it first.";
    if (!this.shown(entries)) return "From a link, not kept. Type it here to keep it.";
    const { truck } = this;
    if (truck.state === "lost") return `Not kept. ${truck.words}`;
    if (truck.state === "keeping") return "Being kept …";
    return `Kept on this phone for ${this.partWords(entries)}.`;
  }

  /** What a figure is kept for, in words. @param {Entries} entries */
  partWords(entries) {
    const part = this.part(entries);
    return (this.kind?.choices ?? [])
      .map((key) => part[key] && optionNamed(this.field(key), part[key])?.label)
      .filter(Boolean)
      .join(", ");
  }
}

/** @param {Figure} figure @param {NumberField} field @param {Entries} entries */
function isSame({ values }, { key }, entries) {
  const entry = /** @type {NumberEntry} */ (entries[key]);
  const typed = entry.from?.now === entry.text ? entry.from : entry;
  const value = values[key] ?? { text: "", unit: typed.unit };
  return value.text === withoutUnit(typed.text) && (value.unit === typed.unit || !value.text);
}
