/**
 * A page's set-up: the entries, the form they are typed into, and the address that holds them.
 *
 * @typedef {import("../model/catalogue.js").Kit} Kit
 * @typedef {import("./entries.js").Entries} Entries
 * @typedef {{recall?: (entries: Entries) => void, query?: (query: URLSearchParams) => void}} More
 *   `recall` puts in what the phone keeps, before the address is read; `query` changes what the
 *   address is going to hold
 */

import { need } from "../face/dom.js";
import { Address } from "./address.js";
import { initial, read } from "./entries.js";
import { Form } from "./form.js";
import { fromQuery, toQuery } from "./link.js";
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
    this.entries = this.fresh();
    more.recall?.(this.entries);
    fromQuery(lookup.fields, this.entries, location.search, quantities, this.preferred);
    this.form = new Form(
      need(page, "[data-form]"),
      kit,
      this.entries,
      changed,
      (path, unit) => this.picked.pickEntry(path, unit),
      this.preferred,
    );
    this.address = new Address(() => {
      const query = new URLSearchParams(toQuery(lookup.fields, this.entries, quantities));
      more.query?.(query);
      return query.toString();
    });
  }

  /** The defaults, in the units that this phone prefers. */
  fresh() {
    return initial(this.kit.lookup.fields, this.kit.quantities, this.preferred);
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
