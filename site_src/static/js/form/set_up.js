/**
 * A page's set-up: the entries, the form they are typed into, and the address that holds them.
 *
 * @typedef {import("../model/catalogue.js").Kit} Kit
 * @typedef {import("./entries.js").Entries} Entries
 * @typedef {import("../model/lookup.js").Field} Field
 * @typedef {{recall?: (entries: Entries) => void, query?: (query: URLSearchParams) => void,
 *   truck?: import("../record/kept_truck.js").Truck, isAddressed?: boolean}} More
 *   `recall` puts in what the phone keeps, before the address is read; `query` changes what the
 *   address is going to hold; `truck`: the entries are those of the job; `isAddressed`: whether
 *   the address holds them
 */

import { need } from "../face/dom.js";
import { Address, isOwn } from "./address.js";
import { initial, isShown, read } from "./entries.js";
import { Form } from "./form.js";
import { fromQuery, signed, systemOf, toQuery } from "./link.js";
import { OfTruck } from "./of_truck.js";
import { PickedUnits } from "./picked_units.js";

export class SetUp {
  /**
   * @param {Kit} kit
   * @param {ParentNode} page
   * @param {(path: string) => void} changed called with the path of the entry that was changed
   * @param {More} [more]
   */
  constructor(kit, page, changed, more = {}) {
    const { lookup, quantities } = kit;
    this.kit = kit;
    this.picked = new PickedUnits(lookup.key, quantities);
    /** @type {import("./entries.js").Remembered} */
    this.preferred = (path, field) => this.picked.entry(path, field);
    this.truck = more.truck;
    this.isAddressed = more.isAddressed ?? true;
    this.recall = more.recall ?? (() => {});
    this.ofTruck = more.truck && new OfTruck(kit, more.truck);
    /** Whether a link's set-up is shown, which is not the job's until it is taken. */
    this.isGuest = false;
    this.entries = this.ofJob();
    this.known = this.snapshot();
    if (location.search && this.isOfLink()) this.showLink();
    this.page = page;
    this.changed = changed;
    /** @type {Form | null} */
    this.opened = null;
    this.address = new Address(() => {
      // A guest's address stays that of its link.
      const system = this.isGuest ? systemOf(location.search) : this.picked.system;
      const query = new URLSearchParams(toQuery(lookup.fields, this.entries, quantities, system));
      more.query?.(query);
      return signed(query, system).toString();
    });
    this.address.job = this.isGuest ? "" : (more.truck?.job.id ?? "");
  }

  /** The form over the entries; it can be typed into once it was asked for. @returns {Form} */
  get form() {
    this.opened ??= new Form(
      need(this.page, "[data-form]"),
      this.kit,
      this.entries,
      this.changed,
      (path, unit) => this.picked.pickEntry(path, unit),
      this.preferred,
    );
    return this.opened;
  }

  /** Whether the address may hold another set-up than the job's. */
  isOfLink() {
    return !this.truck || this.truck.trouble !== "" || !isOwn(this.truck.job.id);
  }

  /** The page's entries as the job has them. @returns {Entries} */
  ofJob() {
    const entries = this.ofTruck
      ? this.ofTruck.entries(this.kit.lookup, this.preferred)
      : this.fresh();
    this.recall(entries);
    return entries;
  }

  /** Show the address's set-up: the job's only if the job has the same, or once it is taken. */
  showLink() {
    const { lookup, quantities, truck } = this.kit;
    const linked = this.fresh(systemOf(location.search));
    this.recall(linked);
    fromQuery(lookup.fields, linked, location.search, quantities, this.preferred);
    // A maker's figure is that of the bolt in the link, unless the link brings one along.
    const given = new URLSearchParams(location.search);
    if (!lookup.fields.some((field) => isKept(field) && given.has(field.key))) this.recall(linked);
    const ofJob = { ...this.entries };
    Object.assign(this.entries, linked);
    if (!this.ofTruck) return;
    const differing = this.differing();
    if (!differing.length) Object.assign(this.entries, ofJob);
    else if (truck.passing.includes(lookup.key)) {
      this.take(differing.map(({ field }) => field));
      this.known = this.snapshot();
    } else this.isGuest = true;
  }

  /** The fields in which what is shown differs from the job. */
  differing() {
    const { lookup, quantities } = this.kit;
    const ofJob = this.ofJob();
    return lookup.fields
      .filter((field) => {
        const [here, there] = [this.entries, ofJob].map((each) =>
          toQuery([field], each, quantities),
        );
        // What a link doesn't say is as another page works it out, on either phone.
        const isFollowed = here === "" && this.ofTruck?.source(lookup.key, field.key);
        return here !== there && !isFollowed && !isKept(field) && isShown(field, this.entries);
      })
      .map((field) => ({ field, ofJob: ofJob[field.key] }));
  }

  /** What each entry is now, to find out which have changed. */
  snapshot() {
    return new Map(
      this.kit.lookup.fields.map(({ key }) => [key, JSON.stringify(this.entries[key])]),
    );
  }

  /** Give the job what was entered, and take from it what follows. */
  handOver() {
    if (!this.truck || !this.ofTruck || this.isGuest) return;
    const { lookup } = this.kit;
    const changed = lookup.fields.filter(
      (field) =>
        JSON.stringify(this.entries[field.key]) !== this.known.get(field.key) &&
        !isKept(field) &&
        isEntered(field, this.entries[field.key]),
    );
    this.give(changed.map((field) => [field, structuredClone(this.entries[field.key])]));
    this.ofTruck.changed();
    this.ofTruck.follow(lookup, this.entries, this.preferred);
    this.known = this.snapshot();
  }

  /**
   * Take what a link brought into the job: what it left as usual is no longer the job's own.
   * @param {Field[]} fields
   */
  take(fields) {
    const { quantities } = this.kit;
    this.give(
      fields.map((field) => {
        const entry = this.entries[field.key];
        const isUsual = toQuery([field], this.entries, quantities) === "";
        return [field, isUsual ? undefined : structuredClone(entry)];
      }),
    );
    this.ofTruck?.changed();
  }

  /** What the job itself holds for a field. @param {Field} field */
  ownEntry(field) {
    const name = this.ofTruck?.name(this.kit.lookup.key, field.key);
    return name === undefined ? undefined : this.truck?.entry(name);
  }

  /**
   * Make a worked-out value the job's own.
   * @param {Field} field @param {import("./entries.js").NumberEntry | undefined} entry
   */
  enterOwn(field, entry) {
    if (entry) this.give([[field, { ...entry, typed: true }]]);
    this.showJob();
  }

  /** Put entries back to what they are without one of the job's own. @param {Field[]} fields */
  putBack(fields) {
    this.give(fields.map((field) => [field, undefined]));
    this.showJob();
  }

  /** @param {[Field, Entries[string] | undefined][]} entries what the job gets under each field */
  give(entries) {
    const { key } = this.kit.lookup;
    const { ofTruck, truck } = this;
    if (!ofTruck || !truck) return;
    truck.enter(new Map(entries.map(([field, entry]) => [ofTruck.name(key, field.key), entry])));
  }

  /** Show what the job has, after it was changed elsewhere or a link was left. */
  showJob() {
    this.isGuest = false;
    this.address.job = this.truck?.job.id ?? "";
    this.ofTruck?.changed();
    Object.assign(this.entries, this.ofJob());
    this.known = this.snapshot();
    this.form.drawRows(...this.form.partsFields());
    // At once: a reload must not bring back what was left.
    if (this.isAddressed) this.address.update();
  }

  /** The shop measures in other units now. */
  unitsChanged() {
    this.picked = new PickedUnits(this.kit.lookup.key, this.kit.quantities);
    this.kit.measureIn(this.picked.system);
    this.showJob();
  }

  /**
   * The defaults, in the units that this phone prefers.
   * @param {string} [system] whose they are, if not the shop's own
   */
  fresh(system) {
    return initial(this.kit.lookup.fields, this.kit.quantities, this.preferred, system);
  }

  read() {
    return read(this.kit.lookup.fields, this.entries, this.kit.quantities);
  }

  /**
   * Put a value into a field, as if it had been typed.
   * @param {string} field
   * @param {string} text
   * @param {string} unit
   * @param {import("./entries.js").NumberEntry["from"]} [from] what it stands for, as it was typed
   */
  enter(field, text, unit, from) {
    this.entries[field] = { text, unit, typed: true, ...(from && { from }) };
    this.form.showTexts();
  }
}

/**
 * Whether an entry was made by a person: another unit alone makes none.
 * @param {Field} field
 * @param {Entries[string]} entry
 */
function isEntered(field, entry) {
  return (
    field.kind !== "number" ||
    /** @type {import("./entries.js").NumberEntry} */ (entry).typed === true
  );
}

/** Whether a field's entries are kept with the makers' figures. @param {Field} field */
function isKept(field) {
  return field.kind === "number" && field.kept;
}
