/**
 * The shop's pulleys: entered once, kept on the phone, walked along on every page that asks for
 * one.
 *
 * @typedef {import("../model/catalogue.js").Kit} Kit
 * @typedef {import("../model/lookup.js").NumberField} NumberField
 * @typedef {import("../record/pulleys.js").Pulley} Pulley
 * @typedef {import("../record/figures.js").Figure} Figure
 */

import { declaredOf, read, understood } from "./entries.js";
import { stepIn } from "./ranges.js";
import { pitchOf, pulleyText, refusedPulley } from "./stock.js";
import { misread } from "./typed.js";
import { all, button, make, need, tell, write } from "../face/dom.js";
import { plain, withUnit } from "../face/numbers.js";
import { convert, inSystem, unitOf, unitsOf } from "../model/quantities.js";
import { briefOrigin } from "../record/figures.js";
import { hasKnownUnit, KINDS, SCHEMA } from "../record/pulleys.js";
import {
  damagedWords,
  newId,
  readPulleys,
  reasonWords,
  RecordError,
  write as keepInRecord,
} from "../record/record.js";
import { recall } from "../record/store.js";
import { removeWithUndo } from "../record/undo.js";

/** On which the tabs tell each other that the list has changed. */
const CHANNEL = "bay-reckoner pulleys";

/**
 * Bring the list to a page that asks for a pulley.
 * @param {ParentNode} page @param {Kit} kit
 * @param {() => void} changed called when the kit has other pulleys than before
 * @param {() => Figure[]} figures the job's, whose sheets may list pulleys too
 */
export function bindShelf(page, kit, changed, figures) {
  const root = page.querySelector("[data-shelf]");
  const field = kit.lookup.fields.find((each) => each.kind === "number" && each.shelf);
  if (!(root instanceof HTMLElement) || field?.kind !== "number") return;
  const shelf = new Shelf(root, kit, field, changed, figures);
  for (const opener of all(page, "[data-to-shelf]"))
    opener.addEventListener("click", () => shelf.open());
  shelf.read();
}

class Shelf {
  /**
   * @param {HTMLElement} root @param {Kit} kit @param {NumberField} field
   * @param {() => void} changed @param {() => Figure[]} figures
   */
  constructor(root, kit, field, changed, figures) {
    this.figures = figures;
    this.root = root;
    this.kit = kit;
    this.changed = changed;
    this.unit = inSystem(recall().system, field.unit, field, kit.quantities);
    /** The pulley's diameter is read as the page's own entry is. */
    /** @type {NumberField} */
    this.field = { ...field, label: "The diameter", default: field.low, usual: undefined };
    this.busy = false;
    this.box = /** @type {HTMLInputElement} */ (need(root, "[data-size]"));
    need(root, "[data-enter]").addEventListener("submit", (event) => {
      event.preventDefault();
      this.add();
    });
    this.box.addEventListener("input", () => this.say(""));
    this.unitList = /** @type {HTMLSelectElement} */ (need(root, "[data-size-unit]"));
    this.unitList.replaceChildren(
      ...unitsOf(this.field, kit.quantities).map(({ key, label }) =>
        make("option", { value: key }, [label]),
      ),
    );
    this.unitList.value = this.unit;
    this.unitList.addEventListener("change", () => {
      this.unit = this.unitList.value;
    });
    // Another tab, or a page that was put away and is shown again.
    this.channel = "BroadcastChannel" in window ? new BroadcastChannel(CHANNEL) : null;
    this.channel?.addEventListener("message", () => this.read());
    document.addEventListener("visibilitychange", () => {
      if (document.visibilityState === "visible") this.read();
    });
    this.show();
  }

  /** Take over what the phone keeps. */
  async read() {
    try {
      const { good, damaged } = await readPulleys();
      const { quantities } = this.kit;
      const known = good.filter((each) => hasKnownUnit(each, quantities));
      const pulleys = this.withSheets(known).sort(
        (a, b) => pitchOf(this.field, a, quantities) - pitchOf(this.field, b, quantities),
      );
      tell(
        need(this.root, "[data-shelf-problem]"),
        damagedWords(damaged + good.length - known.length),
      );
      if (JSON.stringify(pulleys) === JSON.stringify(this.kit.pulleys)) return;
      this.kit.pulleys = pulleys;
      this.show();
      this.changed();
    } catch (reason) {
      if (!(reason instanceof RecordError)) throw reason;
      tell(need(this.root, "[data-shelf-problem]"), reason.message);
    }
  }

  /**
   * The shop's pulleys, and those of makers' sheets that it doesn't have besides.
   * @param {Pulley[]} own @returns {Pulley[]}
   */
  withSheets(own) {
    const { field, kit } = this;
    const found = [...own];
    for (const figure of this.figures()) {
      const value = figure.values.rating_pulley;
      const isKnown = value && unitsOf(field, kit.quantities).some(({ key }) => key === value.unit);
      const typed = isKnown ? understood(field, value, kit.quantities) : null;
      if (!typed || misread(typed)) continue;
      const kind = KINDS.find((each) => each === figure.choices.pulley_kind) ?? KINDS[0];
      /** @type {Pulley} */
      const pulley = {
        schema: SCHEMA,
        id: figure.id,
        rev: 0,
        text: String(typed.value),
        unit: typed.unit.key,
        kind,
        sheet: briefOrigin(figure) || "its page is not noted",
      };
      if (!refusedPulley(field, pulley, found, kit.quantities)) found.push(pulley);
    }
    return found;
  }

  /** Read it again here and in the other tabs. */
  async refresh() {
    await this.read();
    this.channel?.postMessage("");
  }

  open() {
    /** @type {HTMLDetailsElement} */ (this.root).open = true;
    this.root.scrollIntoView({ block: "start" });
    this.box.focus({ preventScroll: true });
  }

  /** @param {string} words what is wrong with the entry */
  say(words) {
    tell(need(this.root, "[data-size-problem]"), words);
    this.box.setAttribute("aria-invalid", String(Boolean(words)));
  }

  async add() {
    const pulley = this.entered();
    if (!pulley) {
      this.box.focus();
      return;
    }
    if (this.busy) return;
    this.busy = true;
    try {
      await keepInRecord("pulleys", pulley);
      need(this.root, "[data-undo]").hidden = true;
      this.box.value = "";
      await this.refresh();
      write(need(this.root, "[data-told]"), `${this.text(pulley)} is on the list.`);
    } catch (reason) {
      this.say(`Not kept: ${reasonWords(reason)}`);
    }
    this.busy = false;
    this.box.focus();
  }

  /** What is entered, as a pulley; null after saying what is wrong with it. */
  entered() {
    const { field, kit } = this;
    const entry = { text: this.box.value, unit: this.unit };
    const [problem] = read([field], { [field.key]: entry }, kit.quantities).problems;
    const typed = understood(field, entry, kit.quantities);
    write(need(this.root, "[data-told]"), "");
    if (problem || misread(typed)) {
      this.say(problem?.words ?? "");
      return null;
    }
    const chosen = /** @type {HTMLInputElement} */ (need(this.root, "[data-kinds] :checked"));
    /** @type {Pulley} */
    const pulley = {
      schema: SCHEMA,
      id: newId(),
      rev: 0,
      text: String(typed.value),
      unit: typed.unit.key,
      kind: /** @type {Pulley["kind"]} */ (chosen.value),
    };
    const refused = refusedPulley(field, pulley, kit.pulleys, kit.quantities);
    this.say(refused);
    return refused ? null : pulley;
  }

  show() {
    const { pulleys, quantities } = this.kit;
    const sizes = pulleys.map(({ text, unit }) =>
      withUnit(text, unitOf(unitsOf(this.field, quantities), unit).label),
    );
    write(
      need(this.root, "[data-shelf-brief]"),
      pulleys.length > 1
        ? `${pulleys.length} of them, ${sizes[0]} to ${sizes[pulleys.length - 1]}`
        : pulleys.length
          ? `One, ${sizes[0]}`
          : "None entered yet: the pages use examples of ours.",
    );
    need(this.root, "[data-shelf-list]").replaceChildren(
      ...pulleys.map((pulley) => this.line(pulley)),
    );
  }

  /** @param {Pulley} pulley */
  line(pulley) {
    const { field, kit } = this;
    const units = unitsOf(field, kit.quantities);
    const own = unitOf(units, pulley.unit);
    const other = units.find(({ key }) => key !== own.key) ?? own;
    const finest = stepIn(field, declaredOf(field, kit.quantities), other) / 10;
    const same = plain(convert(Number(pulley.text), own, other), finest);
    const drop = button("Delete", () => this.drop(pulley));
    drop.setAttribute("aria-label", `Delete ${this.text(pulley)}`);
    return make("li", {}, [
      make("b", {}, [withUnit(pulley.text, own.label)]),
      make("span", { class: "quiet" }, [`${pulley.kind} · ${withUnit(same, other.label)}`]),
      ...(pulley.sheet
        ? [make("span", { class: "quiet" }, [`maker's sheet, ${pulley.sheet}`])]
        : [drop]),
    ]);
  }

  /** @param {Pulley} pulley */
  async drop(pulley) {
    const holder = need(this.root, "[data-undo]");
    write(need(this.root, "[data-told]"), "");
    try {
      await removeWithUndo("pulleys", pulley, this.text(pulley), holder, () => this.refresh());
    } catch (reason) {
      tell(need(this.root, "[data-shelf-problem]"), reasonWords(reason));
    }
  }

  /** @param {Pulley} pulley */
  text(pulley) {
    return pulleyText(this.field, pulley, this.kit.quantities);
  }
}
