/** The form in which a person says which column of a log is what. A guess is only offered. */

import { all, make, need, tell, write } from "../face/dom.js";
import { grouped } from "../face/numbers.js";
import { recall, remember } from "../record/store.js";
import { guess, lacking } from "./columns.js";

/**
 * @typedef {import("./columns.js").Channel} Channel
 * @typedef {import("./columns.js").Mapping} Mapping
 * @typedef {import("./read_log.js").Log} Log
 */

/** Logs of so many loggers are remembered. */
const MOST_KNOWN = 12;

export class MappingForm {
  /** @param {ParentNode} page @param {Channel[]} channels */
  constructor(page, channels) {
    this.box = need(page, "[data-mapping]");
    this.channels = channels;
    /** @type {Mapping} */
    this.mapping = {};
    this.box.addEventListener("change", (event) => {
      if (event.target instanceof HTMLSelectElement) this.picked(event.target);
    });
  }

  /** @param {Log} log @param {number} ambient */
  show(log, ambient) {
    this.log = log;
    const known = knownMapping(log.header, this.channels, log.heads.length);
    this.mapping = known ?? guess(this.channels, log, ambient);
    const offered = Object.values(this.mapping).filter(({ column }) => column >= 0).length;
    write(
      need(this.box, "[data-mapping-words]"),
      known
        ? "As you said for a log with the same columns before. Look it over."
        : `A guess by names and numbers: ${offered} of ${this.channels.length} found. Look each over, units too, before you go on.`,
    );
    need(this.box, "[data-channels]").replaceChildren(
      ...this.channels.map((channel) => this.row(channel, log)),
    );
    this.box.hidden = false;
    this.check();
  }

  /** @param {Channel} channel @param {Log} log */
  row(channel, log) {
    const { column, unit } = this.mapping[channel.key];
    const id = `column-${channel.key}`;
    return make("li", { "data-channel": channel.key }, [
      make("label", { for: id }, [channel.label + (channel.needed ? "" : " ")]),
      make("select", { id, "data-column": "" }, [
        option("-1", channel.needed ? "Pick a column" : "Not in this log", column === -1),
        ...log.heads.map((head, n) =>
          option(
            String(n),
            log.units[n] && !head.includes(log.units[n]) ? `${head} · ${log.units[n]}` : head,
            n === column,
          ),
        ),
      ]),
      make("select", { "data-log-unit": "", "aria-label": `${channel.label}: unit` }, [
        ...channel.units.map((each) => option(each.key, each.label, each.key === unit)),
      ]),
      make("span", { class: "seen", "data-seen": "" }, [this.seen(column)]),
    ]);
  }

  /** The numbers of a column, so that a wrong one shows. @param {number} column */
  seen(column) {
    if (!this.log || column < 0) return "";
    let [low, high, count] = [Infinity, -Infinity, 0];
    for (const value of this.log.columns[column]) {
      if (value !== value) continue;
      count += 1;
      if (value < low) low = value;
      if (value > high) high = value;
    }
    if (!count) return "No numbers in it.";
    const text = (/** @type {number} */ value) => grouped(String(Number(value.toPrecision(4))));
    return `${text(low)} to ${text(high)} in ${grouped(String(count))} rows`;
  }

  /** @param {HTMLSelectElement} list */
  picked(list) {
    const row = /** @type {HTMLElement} */ (list.closest("[data-channel]"));
    const picked = this.mapping[row.dataset.channel ?? ""];
    if (list.matches("[data-column]")) picked.column = Number(list.value);
    else picked.unit = list.value;
    write(need(row, "[data-seen]"), this.seen(picked.column));
    this.check();
  }

  check() {
    const words = lacking(this.channels, this.mapping);
    tell(need(this.box, "[data-mapping-problem]"), words);
    const go = /** @type {HTMLButtonElement} */ (need(this.box, "[data-read]"));
    go.disabled = words !== "";
    for (const row of all(this.box, "[data-channel]"))
      need(row, "[data-log-unit]").toggleAttribute(
        "disabled",
        this.mapping[row.dataset.channel ?? ""].column < 0,
      );
  }

  /** Remember what was said for logs with the same columns. */
  keep() {
    const { log, mapping } = this;
    if (!log) return;
    remember((state) => {
      const others = (state.logs ?? []).filter(({ header }) => header !== log.header);
      state.logs = [{ header: log.header, mapping }, ...others].slice(0, MOST_KNOWN);
    });
  }
}

/** @param {string} value @param {string} words @param {boolean} isPicked */
function option(value, words, isPicked) {
  return make("option", isPicked ? { value, selected: "" } : { value }, [words]);
}

/**
 * What was said before for logs with the same columns, if it can be read.
 * @param {string} header @param {Channel[]} channels @param {number} columns
 * @returns {Mapping | null}
 */
function knownMapping(header, channels, columns) {
  const found = (recall().logs ?? []).find((each) => each.header === header)?.mapping;
  if (!found) return null;
  const isGood = channels.every(({ key, units }) => {
    const each = found[key];
    return (
      each &&
      Number.isInteger(each.column) &&
      each.column >= -1 &&
      each.column < columns &&
      units.some((unit) => unit.key === each.unit)
    );
  });
  return isGood ? structuredClone(found) : null;
}
