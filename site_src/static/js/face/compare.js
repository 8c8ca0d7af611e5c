/** The same set-up with other values of an entry, or each option of a choice, side by side. */

import {
  answerName,
  axisName,
  cellFor,
  drawTable,
  headText,
  Notes,
  replaceTable,
  shownUnit,
} from "./cells.js";
import { all, need, tell, write } from "./dom.js";
import { withUnit } from "./numbers.js";
import { brief, declaredOf } from "../form/entries.js";
import { isSame } from "../form/ranges.js";
import { entryOf, stockOf } from "../form/stock.js";
import { answerNamed, numberNamed } from "../model/lookup.js";

/**
 * @typedef {import("./cells.js").State} State
 * @typedef {import("../model/lookup.js").NumberField} NumberField
 * @typedef {import("../model/lookup.js").CompareView} CompareView
 * @typedef {import("./worked_out.js").WorkedOut["enter"]} Enter
 * @typedef {{head: import("./cells.js").Cell, instead: Object<string, any>}} Column
 */

/** @param {ParentNode} page @param {State} state @param {Enter} enter */
export function* showCompare(page, state, enter) {
  const view = state.kit.lookup.views.compare;
  const section = page.querySelector("[data-compare]");
  if (!view || !section) return;
  const choice = state.kit.lookup.fields.find(({ key }) => key === view.field);
  if (choice?.kind === "choice") {
    yield* drawColumns(section, view, state, choice, ofOptions(state, choice));
    return;
  }
  const field = numberNamed(state.kit.lookup, view.field);
  yield* drawColumns(section, view, state, field, ofValues(state, view, field));
  showUnusable(need(section, "[data-unusable]"), view, state);
  showOffers(section, view, field, state, enter);
}

/**
 * @param {State} state @param {import("../model/lookup.js").ChoiceField} choice
 * @returns {Column[]} one for each option
 */
function ofOptions(state, choice) {
  return choice.options.map(({ key, label }) => ({
    head: { text: label, current: key === state.inputs[choice.key] },
    instead: { [choice.key]: key },
  }));
}

/**
 * @param {State} state @param {CompareView} view @param {NumberField} field
 * @returns {Column[]} the set-up's own, and one for each of the others that is filled in
 */
function ofValues(state, view, field) {
  const others = view.others.filter((key) => isUsable(state.inputs[key]));
  return [
    {
      head: {
        text: isUsable(state.inputs[field.key])
          ? headText(state, field, Number(state.inputs[field.key]))
          : brief(field, state.entries, state.kit.quantities),
        current: true,
      },
      instead: {},
    },
    ...others.map((key) => ({
      head: { text: headText(state, field, Number(state.inputs[key])) },
      instead: { [field.key]: state.inputs[key] },
    })),
  ];
}

/**
 * @param {Element} section @param {CompareView} view @param {State} state
 * @param {import("../model/lookup.js").Field} field @param {Column[]} columns
 */
function* drawColumns(section, view, state, field, columns) {
  const notes = new Notes();
  /** @type {import("./cells.js").TableRow[]} */
  const rows = [];
  for (const key of view.answers) {
    yield;
    const answer = answerNamed(state.kit.lookup, key);
    const cells = columns.map(({ instead }) => cellFor(state, answer, instead, notes, false));
    rows.push({ head: answerName(state, answer), current: false, cells });
  }
  replaceTable(
    need(section, "[data-table]"),
    drawTable(
      view.title,
      axisName(state, field),
      columns.map(({ head }) => head),
      rows,
      notes,
    ),
  );
}

/** @param {unknown} value */
function isUsable(value) {
  return typeof value === "number" && !Number.isNaN(value);
}

/**
 * The entries to compare with are folded away, so what is wrong with them is said here.
 * @param {HTMLElement} note
 * @param {CompareView} view
 * @param {State} state
 */
function showUnusable(note, view, state) {
  const found = state.problems.filter(({ entry }) => view.others.includes(entry));
  tell(note, found.map(({ words }) => words).join(" "));
}

/**
 * Offer the next values that exist, while there is room for them.
 * @param {Element} section
 * @param {CompareView} view
 * @param {NumberField} field
 * @param {State} state
 * @param {Enter} enter
 */
function showOffers(section, view, field, state, enter) {
  const free = view.others.filter((key) => state.inputs[key] === null);
  const taken = [field.key, ...view.others].map((key) => state.inputs[key]);
  const own = state.inputs[field.key];
  const { kit, entries } = state;
  const unit = shownUnit(state, field) ?? declaredOf(field, kit.quantities);
  const stock = stockOf(field, kit, entries);
  const picks = isUsable(own)
    ? beside(stock, Number(own))
        .filter(({ value }) => !taken.some((each) => isUsable(each) && isSame(value, Number(each))))
        .slice(0, free.length)
    : [];
  const before = document.activeElement;
  all(section, "[data-beside]").forEach((button, n) => {
    button.hidden = n >= picks.length;
    if (button.hidden) return;
    const { text, from } = entryOf(field, picks[n], unit.key, kit.quantities);
    write(button, `Compare with ${withUnit(text, unit.label)}`);
    button.onclick = () => enter(free[0], text, unit.key, from);
  });
  const alone = need(section, "[data-alone]");
  alone.hidden = free.length === view.others.length;
  alone.onclick = () => {
    for (const key of view.others) if (state.inputs[key] !== null) enter(key, "", unit.key);
  };
  // When a button is hidden, another one gets the focus.
  if (before instanceof HTMLElement && before.hidden && section.contains(before)) {
    all(section, "button")
      .find((button) => !button.hidden)
      ?.focus({ preventScroll: true });
  }
}

/**
 * The two values nearest to one: one on each side, or both on one side if the list ends there.
 * @template {{value: number}} T
 * @param {T[]} listed
 * @param {number} own
 */
export function beside(listed, own) {
  const others = listed.filter(({ value }) => !isSame(value, own));
  const lower = others.filter(({ value }) => value < own).sort((a, b) => b.value - a.value);
  const higher = others.filter(({ value }) => value > own).sort((a, b) => a.value - b.value);
  const near =
    lower.length && higher.length ? [lower[0], higher[0]] : [...lower, ...higher].slice(0, 2);
  return near.sort((a, b) => a.value - b.value);
}
