/**
 * The form's part for the maker's order: bolts tapped on the drawing or on buttons, numbers and
 * order typed.
 *
 * @typedef {import("./draft.js").PatternDraft} PatternDraft
 * @typedef {import("./makers_order.js").Sheet} Sheet
 */

import { boltAt, layOut } from "./drawing.js";
import { readingOrder, renumbered } from "./makers_order.js";
import { make, need, tell, write } from "../face/dom.js";

export class SheetEditor {
  /** @param {HTMLElement} page @param {() => void} changed */
  constructor(page, changed) {
    this.page = page;
    this.changed = changed;
    /** @type {number[]} */
    this.taps = [];
    /** @type {PatternDraft | null} as last shown */
    this.pattern = null;
    this.by = "";
    this.quarters = 0;
    this.numbers = /** @type {HTMLInputElement} */ (need(page, "[data-sheet-numbers]"));
    this.order = /** @type {HTMLInputElement} */ (need(page, "[data-sheet-order]"));
    for (const input of [this.numbers, this.order]) input.addEventListener("input", changed);
    need(page, "[data-preview]").addEventListener("click", (event) => this.tappedDrawing(event));
    need(page, "[data-tap-bolts]").addEventListener("click", (event) => this.tappedButton(event));
    need(page, "[data-untap]").addEventListener("click", () => this.untap());
  }

  /** @param {string} by @returns {Sheet} */
  sheet(by) {
    return { by, numbers: this.numbers.value, order: this.order.value, taps: this.taps };
  }

  /** The tapped bolts in a link and back, counted from 1. */
  get link() {
    return this.taps.map((bolt) => bolt + 1).join();
  }

  set link(text) {
    const bolts = text
      .split(",")
      .filter(Boolean)
      .map((each) => Number(each) - 1);
    this.taps = [...new Set(bolts)].filter((bolt) => Number.isInteger(bolt) && bolt >= 0);
  }

  clear() {
    this.taps = [];
  }

  /** The drawing is turned: typed numbers stay with their bolts. @param {number} after quarters */
  turn(after) {
    if (!this.pattern) return;
    const { kind, places } = this.pattern;
    if (!places.length) return;
    this.numbers.value = renumbered(
      this.numbers.value,
      readingOrder(kind, places, this.quarters),
      readingOrder(kind, places, after),
    );
  }

  /** @param {MouseEvent} event */
  tappedDrawing(event) {
    const svg = need(this.page, "[data-preview]").querySelector("svg");
    if (!svg || this.by !== "tap" || !this.pattern) return;
    const box = svg.getBoundingClientRect();
    const { width, height } = svg.viewBox.baseVal;
    const layout = layOut(this.pattern.places, this.quarters, width, height);
    const [x, y] = [event.clientX - box.left, event.clientY - box.top];
    this.tap(boltAt(layout, (x * width) / box.width, (y * height) / box.height));
  }

  /** @param {MouseEvent} event */
  tappedButton(event) {
    const found = event.target instanceof Element ? event.target.closest("button") : null;
    if (found instanceof HTMLButtonElement) this.tap(Number(found.dataset.bolt));
  }

  /** @param {number} bolt */
  tap(bolt) {
    if (bolt < 0 || this.taps.includes(bolt)) return;
    this.taps.push(bolt);
    this.changed();
  }

  untap() {
    this.taps.pop();
    this.changed();
  }

  /** @param {PatternDraft} pattern @param {string} by @param {number} quarters */
  show(pattern, by, quarters) {
    Object.assign(this, { pattern, by, quarters });
    const { places } = pattern;
    need(this.page, "[data-sheet]").hidden = !by;
    need(this.page, "[data-sheet-tapped]").hidden = by !== "tap";
    need(this.page, "[data-sheet-typed]").hidden = by !== "type";
    need(this.page, "[data-untap]").hidden = by !== "tap" || !this.taps.length;
    tell(need(this.page, "#sheet-numbers-problem"), pattern.sheetProblem);
    write(need(this.page, "[data-tap-count]"), `${this.taps.length} of ${places.length}`);
    const along = places.length ? readingOrder(pattern.kind, places, quarters) : [];
    need(this.page, "[data-tap-bolts]").replaceChildren(
      ...along.map((bolt, n) => this.button(bolt, n, pattern.names[bolt])),
    );
  }

  /**
   * @param {number} bolt
   * @param {number} n its place as one reads
   * @param {string | undefined} called
   */
  button(bolt, n, called) {
    const turn = this.taps.indexOf(bolt);
    const state = turn < 0 ? "not tapped" : `tapped as number ${turn + 1}`;
    return make(
      "button",
      {
        type: "button",
        "data-bolt": String(bolt),
        "aria-pressed": String(turn >= 0),
        "aria-label": `Bolt ${called ?? `${n + 1} as drawn`}: ${state}`,
      },
      [turn < 0 ? (called ?? "·") : String(turn + 1)],
    );
  }
}
