/**
 * The unit that an entry or an answer is shown in: the one picked for it on this phone, else the
 * one that the shop measures in, else the page's own.
 */

import { inSystem, unitOf, unitsOf } from "../model/quantities.js";
import { recall, remember } from "../record/store.js";

/**
 * @typedef {import("../model/lookup.js").Answer} Answer
 * @typedef {import("../model/quantities.js").Quantities} Quantities
 */

export class PickedUnits {
  /** @param {string} page the lookup's key @param {Quantities} quantities */
  constructor(page, quantities) {
    const { units, system } = recall();
    this.page = page;
    this.quantities = quantities;
    this.units = units;
    this.system = system;
  }

  /**
   * The key of an entry's unit; undefined if the page's own or a link's will do.
   * @param {string} path
   * @param {import("../model/lookup.js").Field} field
   */
  entry(path, field) {
    if (field.kind !== "number") return undefined;
    const picked = this.units[`${this.page}.${path}`];
    if (unitsOf(field, this.quantities).some(({ key }) => key === picked)) return picked;
    const shop = inSystem(this.system, field.unit, field, this.quantities);
    return shop === field.unit ? undefined : shop;
  }

  /**
   * @param {Answer} answer
   * @param {string} [usual] the page's own unit for it, unless it is the first
   */
  answer(answer, usual) {
    const units = unitsOf(answer, this.quantities);
    const shop = inSystem(this.system, usual || units[0].key, answer, this.quantities);
    return (
      units.find(({ key }) => key === this.units[`${this.page}=${answer.key}`]) ??
      unitOf(units, shop)
    );
  }

  /** @param {string} path @param {string} unit */
  pickEntry(path, unit) {
    this.pick(`${this.page}.${path}`, unit);
  }

  /** @param {Answer} answer @param {string} unit */
  pickAnswer(answer, unit) {
    this.pick(`${this.page}=${answer.key}`, unit);
  }

  /** @param {string} name @param {string} unit */
  pick(name, unit) {
    this.units[name] = unit;
    remember((state) => {
      state.units[name] = unit;
    });
  }
}
