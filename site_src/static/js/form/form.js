/**
 * The form: keeps the entries and what the screen shows the same. Typed text is never lost.
 *
 * @typedef {import("./entries.js").Entries} Entries
 * @typedef {import("./entries.js").NumberEntry} NumberEntry
 * @typedef {import("./entries.js").Row} Row
 * @typedef {import("./entries.js").Problem} Problem
 * @typedef {import("../model/lookup.js").NumberField} NumberField
 * @typedef {import("../model/lookup.js").ChoiceField} ChoiceField
 * @typedef {import("../model/lookup.js").PartsField} PartsField
 * @typedef {import("../model/lookup.js").Field} Field
 * @typedef {import("../model/catalogue.js").Kit} Kit
 * @typedef {{element: HTMLElement, field: NumberField | ChoiceField, holder: Entries | Row,
 *   siblings: Field[], path: string}} Box  one entry: where it is shown, and where it is kept
 */

import { optionNamed } from "../model/lookup.js";
import { all, button as newButton, make, need, tell, write } from "../face/dom.js";
import { withUnit } from "../face/numbers.js";
import { showChoice } from "./choices.js";
import {
  brief,
  echo,
  fittingUnits,
  initialRow,
  inUnit,
  isExample,
  isShown,
  offered,
  understood,
} from "./entries.js";
import { repeatWhileHeld } from "./hold.js";
import { hasExamples, nextEntry, stockOf } from "./stock.js";
import { misread, withoutUnit } from "./typed.js";
import { usualIn } from "../model/system.js";

/** So many letters fit into a box in their usual size. */
const WIDE = 5;

export class Form {
  /**
   * @param {HTMLElement} root @param {Kit} kit @param {Entries} entries
   * @param {(changed: string) => void} changed called with the key of the field that was changed
   * @param {(path: string, unit: string) => void} pickedUnit
   * @param {import("./entries.js").Remembered} [preferred] the units of entries that are added
   */
  constructor(root, kit, entries, changed, pickedUnit, preferred = () => undefined) {
    this.root = root;
    this.kit = kit;
    this.entries = entries;
    this.changed = changed;
    this.pickedUnit = pickedUnit;
    this.preferred = preferred;
    /**
     * @type {Map<string, string>} what was last chosen under each tag of the choice it goes with
     */
    this.lastChosen = new Map();
    /** @type {Map<string, HTMLElement>} of the lookup's own fields, which stay where they are */
    this.elements = new Map();
    /** @type {Box[] | null} found again when rows come or go */
    this.found = null;
    for (const field of kit.lookup.fields) {
      if (field.kind === "choice")
        this.lastChosen.set(
          this.tagPath(field, String(entries[field.key])),
          String(entries[field.key]),
        );
    }
    // All lists before any text: the page came with the rows of the example, which may be more.
    this.drawRows(...this.partsFields());
    root.addEventListener("input", (event) => this.typed(event));
    root.addEventListener("change", (event) => this.settled(event));
    root.addEventListener("click", (event) => this.clicked(event));
    root.addEventListener("submit", (event) => event.preventDefault());
    root.addEventListener("focusin", (event) => selectText(event.target));
    selectWhereTapped(root);
    repeatWhileHeld(root, ".nudge");
    /** @type {HTMLFieldSetElement} */ (need(root, "[data-entries]")).disabled = false;
  }

  // --- what is done to it ----------------------------------------------------------------------

  /** @param {Event} event */
  typed(event) {
    const input = event.target;
    const box = this.boxOf(input);
    if (!box) return;
    if (input instanceof HTMLInputElement && input.type === "text") {
      if (input.matches("[data-source], [data-source-page]")) return;
      this.setText(box, input.value);
    } else if (box.field.kind === "choice" && isValued(input)) {
      this.choose(box, input.value);
    } else {
      return;
    }
    this.changed(box.path);
  }

  /**
   * When a text is complete, a unit that was typed in it goes to the unit picker.
   * @param {Event} event
   */
  settled(event) {
    const { target } = event;
    const box = this.boxOf(target);
    if (!box || box.field.kind !== "number") return;
    if (target instanceof HTMLSelectElement) {
      this.setUnit(box, target.value);
      return;
    }
    const { entry } = numberIn(box);
    if (misread(understood(box.field, entry, this.kit.quantities))) return;
    entry.text = withoutUnit(entry.text);
    this.showText(box);
  }

  /** @param {Event} event */
  clicked(event) {
    const target = event.target instanceof Element ? event.target : null;
    const named = target?.closest("[data-brief] [data-to]");
    if (named instanceof HTMLElement) {
      // Not only opened: a tap on a name wants that entry.
      event.preventDefault();
      const key = String(named.dataset.to);
      this.goTo({ field: key, row: -1, entry: key });
    }
    const button = target?.closest("button");
    if (!button) return;
    const box = this.boxOf(button);
    if (button.matches("[data-add]")) this.addRow(button);
    else if (button.matches("[data-remove]")) this.removeRow(button);
    else if (box?.field.kind === "number") {
      if (button.matches(".nudge")) this.nudge(box, Number(button.dataset.way) > 0 ? 1 : -1);
      else if (button.matches("[data-sign]")) this.changeSign(box);
    }
  }

  /** @param {Box} box @param {string} text */
  setText(box, text) {
    const { field, entry } = numberIn(box);
    entry.text = text;
    need(box.element, "input").classList.toggle("many-digits", text.length > WIDE);
    entry.typed = true;
    delete entry.stated;
    const typed = understood(field, entry, this.kit.quantities);
    if (!misread(typed) && typed.unit.key !== entry.unit) {
      entry.unit = typed.unit.key;
      this.pickedUnit(box.path, entry.unit);
    }
  }

  /** @param {Box} box @param {1 | -1} way */
  nudge(box, way) {
    const next = this.nextEntry(box, way);
    if (!next) return;
    const { entry } = numberIn(box);
    box.holder[box.field.key] = next;
    if (next.unit !== entry.unit) this.pickedUnit(box.path, next.unit);
    this.showText(box);
    this.changed(box.path);
  }

  /** @param {Box} box @param {1 | -1} way @returns {NumberEntry | null} */
  nextEntry(box, way) {
    const { field, entry } = numberIn(box);
    const stock = stockOf(field, this.kit, box.holder);
    return nextEntry(field, entry, stock, this.kit.quantities, way);
  }

  /** @param {Box} box @param {string} unit */
  setUnit(box, unit) {
    const { field, entry } = numberIn(box);
    box.holder[field.key] = inUnit(field, entry, unit, this.kit.quantities);
    this.pickedUnit(box.path, unit);
    this.showText(box);
    this.changed(box.path);
  }

  /** @param {Box} box */
  changeSign(box) {
    const { entry } = numberIn(box);
    const text = entry.text.trim();
    this.setText(box, /^[-−]/.test(text) ? text.slice(1).trim() : `-${text}`);
    this.showText(box);
    this.changed(box.path);
  }

  /**
   * Keep a choice; the choices that depend on it return to what they last were under it.
   * @param {Box} box
   * @param {string} key
   */
  choose(box, key) {
    box.holder[box.field.key] = key;
    this.lastChosen.set(this.tagPath(box.field, key), key);
    for (const field of box.siblings) {
      if (field.kind !== "choice" || field.match !== box.field.key) continue;
      const options = offered(field, box.siblings, /** @type {Entries} */ (box.holder));
      if (options.some((option) => option.key === box.holder[field.key])) continue;
      const known = options.map((option) => this.lastChosen.get(this.tagPath(field, option.key)));
      const last = known.find((each) => each && options.some((option) => option.key === each));
      if (last) box.holder[field.key] = last;
    }
  }

  /** @param {NumberField | ChoiceField} field @param {string} key */
  tagPath(field, key) {
    return `${field.key} ${optionNamed(field, key)?.tag ?? ""}`;
  }

  // --- lists of parts --------------------------------------------------------------------------

  partsFields() {
    return /** @type {PartsField[]} */ (
      this.kit.lookup.fields.filter(({ kind }) => kind === "parts")
    );
  }

  /** @param {HTMLElement} button */
  addRow(button) {
    const field = this.partsOf(button);
    const rows = /** @type {Row[]} */ (this.entries[field.key]);
    if (rows.length >= field.most) return;
    rows.push(
      rows.length
        ? structuredClone(rows[rows.length - 1])
        : initialRow(field, this.kit.quantities, this.preferred, {}),
    );
    this.drawRows(field);
    all(this.elementOf(field.key), "[data-rows] > [data-row]")
      .at(-1)
      ?.querySelector("input")
      ?.focus();
    this.changed(field.key);
  }

  /** @param {HTMLElement} button */
  removeRow(button) {
    const field = this.partsOf(button);
    const row = button.closest("[data-row]");
    const number = all(this.elementOf(field.key), "[data-rows] > [data-row]").findIndex(
      (each) => each === row,
    );
    /** @type {Row[]} */ (this.entries[field.key]).splice(number, 1);
    this.drawRows(field);
    need(this.elementOf(field.key), "[data-add]").focus();
    this.changed(field.key);
  }

  /** @param {Element} inside @returns {PartsField} */
  partsOf(inside) {
    const key = inside.closest('[data-kind="parts"]')?.getAttribute("data-field");
    return /** @type {PartsField} */ (this.partsFields().find((field) => field.key === key));
  }

  /** Make as many rows as there are parts. @param {PartsField[]} fields */
  drawRows(...fields) {
    for (const field of fields) {
      const element = this.elementOf(field.key);
      const template = /** @type {HTMLTemplateElement} */ (need(element, "[data-row-template]"));
      const rows = /** @type {Row[]} */ (this.entries[field.key]);
      need(element, "[data-rows]").replaceChildren(
        ...rows.map((_, n) => {
          const copy = /** @type {DocumentFragment} */ (template.content.cloneNode(true));
          for (const each of all(copy, "[id], [for], [name], [aria-describedby]"))
            renumber(each, `${field.key}-new-`, `${field.key}-${n}-`);
          return copy;
        }),
      );
    }
    this.found = null;
    this.showTexts();
  }

  // --- what is on the screen -------------------------------------------------------------------

  /** Every entry that is on the screen, with where it is kept. @returns {Box[]} */
  boxes() {
    this.found ??= all(this.root, '[data-kind="number"], [data-kind="choice"]').map(
      (element) => /** @type {Box} */ (this.boxOf(element)),
    );
    return this.found;
  }

  /** @param {EventTarget | null} target @returns {Box | null} */
  boxOf(target) {
    const element =
      target instanceof Element
        ? target.closest('[data-kind="number"], [data-kind="choice"]')
        : null;
    if (!(element instanceof HTMLElement)) return null;
    const key = element.dataset.field ?? "";
    const row = element.closest("[data-row]");
    if (!row) {
      const field = this.kit.lookup.fields.find((each) => each.key === key);
      return field && field.kind !== "parts"
        ? { element, field, holder: this.entries, siblings: this.kit.lookup.fields, path: key }
        : null;
    }
    const parts = this.partsOf(element);
    const number = all(this.elementOf(parts.key), "[data-rows] > [data-row]").findIndex(
      (each) => each === row,
    );
    const field = parts.fields.find((each) => each.key === key);
    const holder = /** @type {Row[]} */ (this.entries[parts.key])[number];
    return field
      ? { element, field, holder, siblings: parts.fields, path: `${parts.key}.${key}` }
      : null;
  }

  /** @param {string} key of a field of the lookup's @returns {HTMLElement} */
  elementOf(key) {
    const known = this.elements.get(key) ?? need(this.root, `[data-field="${key}"]`);
    this.elements.set(key, known);
    return known;
  }

  /** Put every entry on the screen, texts included. @param {Problem[]} problems */
  showAll(problems) {
    this.showTexts();
    this.show(problems);
  }

  /** Put the texts of all numbers on the screen. */
  showTexts() {
    for (const box of this.boxes()) if (box.field.kind === "number") this.showText(box);
  }

  /**
   * Put on the screen what follows from the entries; texts are left as they are typed.
   * @param {Problem[]} problems
   */
  show(problems) {
    for (const field of this.kit.lookup.fields) {
      const element = this.elementOf(field.key);
      element.hidden = !isShown(field, this.entries);
      if (field.kind === "parts") this.showParts(field, element);
    }
    for (const box of this.boxes()) {
      box.element.hidden = !isShown(box.field, box.holder);
      if (box.field.kind === "number") this.showNumber(box);
      else showChoice(box);
    }
    this.showProblems(problems);
    this.showBriefs();
  }

  /** @param {Box} box */
  showText(box) {
    const { entry } = numberIn(box);
    const input = /** @type {HTMLInputElement} */ (need(box.element, "input"));
    if (input.value !== entry.text) input.value = entry.text;
    // On paper an entry left open is only room lost.
    box.element.toggleAttribute("data-blank", !entry.text.trim());
    input.classList.toggle("many-digits", entry.text.length > WIDE);
  }

  /** @param {Box} box */
  showNumber(box) {
    const { field, entry } = numberIn(box);
    write(need(box.element, "[data-echo]"), echo(field, entry, this.kit.quantities));
    const picker = box.element.querySelector("[data-unit]");
    if (picker instanceof HTMLSelectElement) picker.value = entry.unit;
    const example = box.element.querySelector("[data-example]");
    if (example instanceof HTMLElement) example.hidden = !isExample(field, box.holder);
    const kept = box.element.querySelector(".kept");
    if (kept instanceof HTMLElement) kept.hidden = !entry.text.trim();
    const stepped = box.element.querySelector("[data-stepped]");
    if (stepped) write(stepped, steppedWords(field, this.kit));
    for (const button of all(box.element, ".nudge")) {
      const next = this.nextEntry(box, Number(button.dataset.way) > 0 ? 1 : -1);
      button.setAttribute("aria-disabled", String(next === null));
    }
  }

  /** @param {PartsField} field @param {HTMLElement} element */
  showParts(field, element) {
    const full = /** @type {Row[]} */ (this.entries[field.key]).length >= field.most;
    need(element, "[data-add]").hidden = full;
    const example = element.querySelector("legend [data-example]");
    if (example instanceof HTMLElement) example.hidden = !isExample(field, this.entries);
  }

  /** @param {Problem[]} problems */
  showProblems(problems) {
    for (const box of this.boxes()) {
      const row = box.element.closest("[data-row]");
      const number = row ? [...(row.parentElement?.children ?? [])].indexOf(row) : -1;
      const parts = row ? this.partsOf(box.element).key : box.field.key;
      const found = problems.find(
        (each) => each.field === parts && each.row === number && each.entry === box.field.key,
      );
      const note = need(box.element, "[data-problem]");
      tell(note, found?.words ?? "");
      box.element.classList.toggle("faulty", Boolean(found));
      box.element
        .querySelector("input, select.long")
        ?.setAttribute("aria-invalid", String(Boolean(found)));
      if (box.field.kind === "number") this.offerUnits(box, found !== undefined);
    }
  }

  /**
   * A number that is out of range may be right in another unit: 3.75 in a box for millimetres.
   * @param {Box} box @param {boolean} isFaulty
   */
  offerUnits(box, isFaulty) {
    const { field, entry } = numberIn(box);
    const units = isFaulty ? fittingUnits(field, entry, this.kit.quantities) : [];
    const holder = box.element.querySelector("[data-use-unit]");
    if (!units.length) {
      holder?.remove();
      return;
    }
    const offers = units.map(({ key, label }) => {
      const number = withoutUnit(entry.text);
      return newButton(`Use ${withUnit(number, label)}`, () => {
        this.setText(box, `${number} ${key}`);
        entry.text = number;
        this.showText(box);
        this.changed(box.path);
      });
    });
    const made = make("p", { class: "use-unit", "data-use-unit": "" }, offers);
    if (holder) holder.replaceWith(made);
    else need(box.element, "[data-problem]").after(made);
  }

  /** The values in the folded parts; those that differ from the default first. */
  showBriefs() {
    for (const fold of all(this.root, "[data-more]")) this.showBrief(fold);
  }

  /** @param {HTMLElement} fold */
  showBrief(fold) {
    const list = need(fold, "[data-brief]");
    const folded = this.kit.lookup.fields.filter(
      (field) => fold.contains(this.elementOf(field.key)) && isShown(field, this.entries),
    );
    const changed = folded.filter((field) => this.isChanged(field));
    const rest = folded.filter((field) => !changed.includes(field));
    const key = [...changed, ...rest]
      .map((field) => `${field.label} ${brief(field, this.entries, this.kit.quantities)}`)
      .join();
    if (list.getAttribute("data-shown") === key) return;
    list.setAttribute("data-shown", key);
    list.replaceChildren(
      ...[...changed, ...rest].map((field) => {
        const text = make("b", {}, [brief(field, this.entries, this.kit.quantities)]);
        const name = make("span", { "data-to": field.key }, [`${field.label} `, text]);
        name.classList.toggle("changed", changed.includes(field));
        return name;
      }),
    );
  }

  /** @param {Field} field */
  isChanged(field) {
    const entry = this.entries[field.key];
    if (field.kind === "choice") return entry !== field.default;
    if (field.kind === "parts") return false;
    const number = /** @type {NumberEntry} */ (entry);
    const { text, unit } = number.from?.now === number.text ? number.from : number;
    const usual = usualIn(field);
    return usual === null ? text.trim() !== "" : text.trim() !== usual.text || unit !== usual.unit;
  }

  /**
   * Show an entry, to correct it or because it was asked for.
   * @param {Pick<Problem, "field" | "row" | "entry">} problem
   * @param {ScrollBehavior} [behavior] at once where the page has just been opened
   */
  goTo(problem, behavior = "auto") {
    const scope =
      problem.row < 0
        ? this.root
        : all(this.elementOf(problem.field), "[data-rows] > [data-row]")[problem.row];
    const element = need(scope, `[data-field="${problem.entry}"]`);
    const fold = element.closest("details");
    if (fold) fold.open = true;
    // The entry itself: with large text its notes may be longer than the screen.
    const entry = /** @type {HTMLElement | null} */ (element.querySelector("input, select"));
    (entry ?? element).scrollIntoView({ block: "center", behavior });
    entry?.focus({ preventScroll: true });
  }
}

/** The field and the entry of a box that is for a number. @param {Box} box */
function numberIn({ field, holder }) {
  return {
    field: /** @type {NumberField} */ (field),
    entry: /** @type {NumberEntry} */ (holder[field.key]),
  };
}

/**
 * What a stepper walks along, where that is the shop's.
 * @param {NumberField} field @param {Kit} kit
 */
function steppedWords(field, kit) {
  if (hasExamples(field, kit)) return "− and + step along examples of ours.";
  const count = kit.pulleys.length;
  return count === 1
    ? "− and + step to the shop's one pulley."
    : `− and + step along the shop's ${count} pulleys.`;
}

/** @param {HTMLElement} element @param {string} from @param {string} to */
function renumber(element, from, to) {
  for (const name of ["id", "for", "name", "aria-describedby"]) {
    const value = element.getAttribute(name);
    if (value !== null) element.setAttribute(name, value.replaceAll(from, to));
  }
}

/**
 * A tap into a box that was selected before puts the cursor between its digits once the tap is
 * over, and what is typed then would stand beside them: 11 for 1. So all is selected after that.
 * @param {HTMLElement} root
 */
function selectWhereTapped(root) {
  /** @type {EventTarget | null} */
  let entered = null;
  root.addEventListener("focusin", ({ target }) => {
    entered = target;
  });
  root.addEventListener("click", ({ target }) => {
    const isNew = target !== null && target === entered;
    entered = null;
    if (!isNew || !(target instanceof HTMLInputElement)) return;
    const { value } = target;
    setTimeout(() => {
      // On a busy phone a key may have come before: what it typed stays.
      if (target.value !== value) return;
      if (target.selectionStart === target.selectionEnd) selectText(target);
    });
  });
}

/** @param {EventTarget | null} target */
function selectText(target) {
  if (target instanceof HTMLInputElement && target.inputMode === "decimal") target.select();
}

/** @param {EventTarget | null} target @returns {target is HTMLInputElement | HTMLSelectElement} */
function isValued(target) {
  return target instanceof HTMLInputElement || target instanceof HTMLSelectElement;
}
