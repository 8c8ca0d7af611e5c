/** The page of makers' figures: to enter, question, keep and change what their sheets say. */

import { all, button, make, need, setStamp, tell, write } from "../face/dom.js";
import { understood } from "../form/entries.js";
import { SetUp } from "../form/set_up.js";
import { misread } from "../form/typed.js";
import { load, refusal, withFields } from "../model/catalogue.js";
import { numberNamed, optionNamed } from "../model/lookup.js";
import { unitOf } from "../model/quantities.js";
import { bindExchange } from "../record/exchange.js";
import {
  feeding,
  figureText,
  hasKnownUnits,
  newFigure,
  ofJob,
  origin,
  TORQUE,
  valueText,
  warnings,
} from "../record/figures.js";
import { USUAL_NAME } from "../record/job.js";
import { figuresElsewhere, jobNames, takeUp } from "../record/jobs.js";
import { boltOf, judge, STAMPS } from "../record/plausible.js";
import {
  amend,
  damagedWords,
  newId,
  readFigures,
  reasonWords,
  RecordError,
} from "../record/record.js";
import { removeWithUndo } from "../record/undo.js";

/**
 * @typedef {import("../record/figures.js").Figure} Figure
 * @typedef {import("../record/figures.js").Kind} Kind
 * @typedef {import("../form/entries.js").NumberEntry} NumberEntry
 * @typedef {import("../model/catalogue.js").Kit} Kit
 */

/** The option for what the sheet doesn't say; nothing is kept of it. */
const NOT_STATED = "not_stated";
const NEW_JOB = "\u0000new";
/** Texts that a figure of any kind has. */
const TEXTS = /** @type {const} */ (["name", "source", "page"]);

const page = need(document, "[data-figures-page]");
/** @type {import("../record/plausible.js").Assumed} */
const assumed = JSON.parse(page.dataset.assumed ?? "{}");
/** Every text that can be entered. */
const TEXT_KEYS = all(page, "[data-text]").map((box) => box.dataset.text ?? "");

/** @param {string} key @returns {HTMLInputElement} */
function textBox(key) {
  return /** @type {HTMLInputElement} */ (need(page, `[data-text="${key}"]`));
}

/**
 * A figure's link: to the torque page and to a map.
 * @param {string} folder
 * @param {Object<string, string>} query
 */
function linkTo(folder, query) {
  const given = Object.entries(query).filter(([, text]) => text);
  return `${new URL(`../../../${folder}/`, import.meta.url).pathname}?${new URLSearchParams(given)}`;
}

/** @param {unknown} option */
function isStated(option) {
  return option !== NOT_STATED && option !== "";
}

class Editor {
  /**
   * @param {Kit} torque @param {() => string} job the name of the one in hand
   * @param {() => Promise<void>} kept called when the record has changed
   */
  constructor(torque, job, kept) {
    this.torque = torque;
    this.job = job;
    this.kept = kept;
    this.kit = withFields(torque, "figures", JSON.parse(page.dataset.fields ?? "[]"));
    /** @type {Figure | null} the one that is being changed */
    this.old = null;
    this.busy = false;
    this.wasTried = false;
    this.setUp = new SetUp(this.kit, page, (path) => this.changed(path), {
      query: (query) => this.addTexts(query),
    });
    this.form = this.setUp.form;
    this.entries = this.setUp.entries;
    const query = new URLSearchParams(location.search);
    for (const key of TEXT_KEYS) {
      textBox(key).value = query.get(key) ?? "";
      textBox(key).addEventListener("input", () => this.update());
    }
    need(page, "[data-keep]").addEventListener("click", () => this.keep());
    need(page, "[data-give-up]").addEventListener("click", () => this.clear());
    this.form.showAll([]);
    this.update();
  }

  /**
   * What the address holds besides the fields; nothing while a kept figure is being changed.
   * @param {URLSearchParams} query
   */
  addTexts(query) {
    for (const key of TEXT_KEYS) {
      const text = textBox(key).value.trim();
      if (text) query.set(key, text);
    }
    if (this.old) for (const key of [...query.keys()]) query.delete(key);
  }

  /** The kind that is being entered. @returns {Kind} */
  get kind() {
    const found = this.kit.makers.find(({ key }) => key === this.entries.kind);
    if (!found) throw new Error(`no kind ${this.entries.kind}`);
    return found;
  }

  /** @param {string} path of the entry that was changed */
  changed(path) {
    // What was entered for another kind would hang on unseen.
    if (path === "kind") this.empty();
    this.update();
  }

  typed() {
    const entry = /** @type {NumberEntry} */ (this.entries.maker_torque);
    return understood(numberNamed(this.kit.lookup, "maker_torque"), entry, this.kit.quantities);
  }

  update() {
    const { problems, inputs } = this.setUp.read();
    this.form.show(problems);
    this.showTexts();
    this.showJudgement(problems.length > 0, inputs);
    const lacking = this.lacking();
    tell(
      need(page, '[data-text-field="name"] [data-problem]'),
      this.wasTried && this.lacksName() ? "Give it a name, so that it is found again." : "",
    );
    const keep = /** @type {HTMLButtonElement} */ (need(page, "[data-keep]"));
    keep.disabled = problems.length > 0;
    write(keep, this.old ? "Keep the change" : "Keep this figure");
    write(need(page, "[data-go-line]"), problems[0]?.words ?? (this.wasTried ? lacking : ""));
    write(
      need(page, "[data-enter-title]"),
      this.old ? `Change “${titleOf(this.old, this.torque)}”` : "Enter a figure",
    );
    need(page, "[data-give-up]").hidden = !this.old;
    this.setUp.address.updateSoon();
  }

  /** The texts of the kind that is being entered. */
  showTexts() {
    for (const holder of all(page, "[data-text-kind]"))
      holder.hidden = holder.dataset.textKind !== this.kind.key;
  }

  lacksName() {
    return this.kind.key === TORQUE && !textBox("name").value.trim() && !this.old?.typed;
  }

  lacking() {
    if (this.lacksName()) return "Which fastener? Give it a name.";
    if (this.kind.key === TORQUE && misread(this.typed()) && !this.values().maker_angle)
      return "Which torque? Enter what the sheet gives.";
    const { values, texts } = this.said();
    const isEmpty = !Object.keys(values).length && !Object.keys(texts).length;
    return isEmpty ? "Nothing is entered yet. Copy what the sheet says." : "";
  }

  /** @param {boolean} isFaulty @param {import("../recipe/values.js").Inputs} inputs */
  showJudgement(isFaulty, inputs) {
    const box = need(page, "[data-judged]");
    const torque = this.typed();
    box.hidden = this.kind.key !== TORQUE || isFaulty || misread(torque);
    if (box.hidden || misread(torque)) return;
    const { choices } = this.said();
    const angle = /** @type {number | null} */ (inputs.maker_angle);
    const bolt = { thread: choices.thread, grade: choices.grade ?? "", friction: "" };
    const { status, words, beside } = judge(
      this.torque,
      { ...bolt, friction: choices.friction ?? "", torque, angle },
      assumed,
    );
    box.dataset.status = status;
    setStamp(need(box, ".stamp"), status, STAMPS[status] ?? "");
    write(need(box, "[data-judged-words]"), words);
    write(need(box, "[data-judged-beside]"), beside);
  }

  /** Put a kept figure into the form. @param {Figure} figure */
  edit(figure) {
    this.old = figure;
    this.wasTried = false;
    Object.assign(this.entries, this.setUp.fresh(), { kind: figure.kind });
    for (const field of this.kit.lookup.fields) {
      const { key } = field;
      const option = figure.choices[key];
      if (field.kind === "choice" && optionNamed(field, option)) this.entries[key] = option;
      if (figure.values[key]) this.entries[key] = { ...figure.values[key], typed: true };
    }
    for (const key of TEXT_KEYS) textBox(key).value = figure.texts[key] ?? "";
    for (const key of TEXTS) textBox(key).value = figure[key];
    this.form.showAll([]);
    this.update();
    need(page, "[data-enter-title]").scrollIntoView();
    textBox("name").focus({ preventScroll: true });
  }

  /** Nothing of a figure, but where figures are from. */
  empty() {
    const { kind, thread } = this.entries;
    Object.assign(this.entries, this.setUp.fresh(), { kind, thread });
    for (const key of TEXT_KEYS) if (key !== "source") textBox(key).value = "";
    this.form.showAll([]);
  }

  clear() {
    this.old = null;
    this.wasTried = false;
    this.empty();
    this.update();
  }

  async keep() {
    this.wasTried = true;
    this.update();
    if (this.lacking()) {
      this.firstLacking().focus();
      return;
    }
    if (this.busy) return;
    this.busy = true;
    try {
      await this.put();
      figuresElsewhere?.postMessage("");
      this.clear();
      // At once: a reload must not enter again what is kept.
      this.setUp.address.update();
      await this.kept();
      write(need(page, "[data-go-line]"), "Kept.");
    } catch (reason) {
      write(need(page, "[data-go-line]"), `Not kept: ${reasonWords(reason)}`);
    }
    this.busy = false;
  }

  firstLacking() {
    if (this.lacksName()) return textBox("name");
    const key = Object.keys(this.kind.values)[0];
    return need(page, `[data-field="${key}"] input`);
  }

  /** Write it; of one that is changed, only what was changed here. */
  async put() {
    const { old } = this;
    const at = new Date().toISOString();
    const now = this.said();
    if (!old) {
      const { key } = this.kind;
      const figure = newFigure({ id: newId(), job: this.job(), kind: key, ...now, changed: at });
      await amend("figures", figure, (there) => ({ ...there, rev: there.rev + 1 }));
      return;
    }
    await amend("figures", old, (there) => {
      const next = { ...there, rev: there.rev + 1, typed: "", changed: at };
      for (const key of TEXTS) if (now[key] !== old[key]) next[key] = now[key];
      next.choices = merged(there.choices, old.choices, now.choices);
      next.values = merged(there.values, old.values, now.values);
      next.texts = merged(there.texts, old.texts, now.texts);
      return next;
    });
  }

  /** What is entered, without what is left open. */
  said() {
    const { kind } = this;
    const choices = kind.choices
      .filter((key) => isStated(this.entries[key]) && this.isAsked(key))
      .map((key) => [key, String(this.entries[key])]);
    const texts = Object.keys(kind.texts)
      .map((key) => [key, textBox(key).value.trim()])
      .filter(([, text]) => text);
    const [name, source, leaf] = TEXTS.map((key) => textBox(key).value.trim());
    return {
      name,
      source,
      page: leaf,
      choices: /** @type {Object<string, string>} */ (Object.fromEntries(choices)),
      values: this.values(),
      texts: /** @type {Object<string, string>} */ (Object.fromEntries(texts)),
    };
  }

  /** The numbers, in their own unit as typed. */
  values() {
    /** @type {Figure["values"]} */
    const values = {};
    for (const key of Object.keys(this.kind.values)) {
      const entry = /** @type {NumberEntry} */ (this.entries[key]);
      const typed = understood(
        numberNamed(this.kit.lookup, key),
        entry.from?.now === entry.text ? entry.from : entry,
        this.kit.quantities,
      );
      if (!misread(typed)) values[key] = { text: String(typed.value), unit: typed.unit.key };
    }
    return values;
  }

  /** Whether a choice is on the screen. @param {string} key */
  isAsked(key) {
    return !need(page, `[data-field="${key}"]`).hidden;
  }
}

/**
 * What is stored, with what was changed here.
 * @template T
 * @param {{[key: string]: T}} there @param {{[key: string]: T}} old @param {{[key: string]: T}} now
 */
function merged(there, old, now) {
  const next = { ...there };
  for (const key of new Set([...Object.keys(old), ...Object.keys(now)])) {
    if (JSON.stringify(now[key]) === JSON.stringify(old[key])) continue;
    if (key in now) next[key] = now[key];
    else delete next[key];
  }
  return next;
}

/** What a figure is called. @param {Figure} figure @param {Kit} torque */
function titleOf({ name, kind, choices }, torque) {
  if (name) return name;
  const title = torque.makers.find(({ key }) => key === kind)?.title ?? "A figure";
  return kind === TORQUE ? boltOf(torque, { thread: choices.thread }) || title : title;
}

/** The figures that are kept, and the jobs they belong to. */
class FigureList {
  constructor() {
    /** @type {Figure[]} */
    this.figures = [];
    /** The job in hand. */
    this.job = "";
    /** @type {Kit | null} */
    this.torque = null;
    /** @type {Editor | null} */
    this.editor = null;
    const pick = /** @type {HTMLSelectElement} */ (need(page, "[data-job-pick]"));
    pick.addEventListener("change", () => {
      need(page, "[data-job-new]").hidden = pick.value !== NEW_JOB;
      if (pick.value === NEW_JOB) need(page, "[data-job-name]").focus();
      else this.takeUp(pick.value);
    });
    need(page, "[data-job-take]").addEventListener("click", () => {
      const name = /** @type {HTMLInputElement} */ (need(page, "[data-job-name]")).value.trim();
      if (name) this.takeUp(name);
      else this.complainOfJob("Give the job a name.");
    });
    bindExchange(page, () => {
      figuresElsewhere?.postMessage("");
      this.show();
    });
    figuresElsewhere?.addEventListener("message", () => this.show());
    document.addEventListener("visibilitychange", () => {
      if (document.visibilityState === "visible") this.show();
    });
    need(page, "[data-print]").addEventListener("click", () => window.print());
  }

  /** @param {string} name */
  async takeUp(name) {
    const trouble = await takeUp(name).then(() => "", reasonWords);
    this.complainOfJob(trouble && `The old one stays. ${trouble}`);
    need(page, "[data-job-new]").hidden = true;
    this.show();
  }

  /** @param {string} words */
  complainOfJob(words) {
    tell(need(page, "[data-job-problem]"), words);
  }

  async show() {
    let trouble = "";
    try {
      const figures = await readFigures();
      this.figures = figures.good;
      trouble = damagedWords(figures.damaged);
    } catch (reason) {
      if (!(reason instanceof RecordError)) throw reason;
      trouble = reason.message;
    }
    tell(need(page, "[data-kept-problem]"), trouble);
    const names = await jobNames().catch(() => [USUAL_NAME]);
    [this.job] = names;
    this.showJobs(names);
    this.showCards();
  }

  /** @param {string[]} names the current one first */
  showJobs(names) {
    const pick = /** @type {HTMLSelectElement} */ (need(page, "[data-job-pick]"));
    // Not while a new one is being named.
    if (pick.value === NEW_JOB && !need(page, "[data-job-new]").hidden) return;
    pick.replaceChildren(
      ...names.map((name) => make("option", { value: name }, [name])),
      make("option", { value: NEW_JOB }, ["A new job …"]),
    );
    pick.value = names[0];
  }

  showCards() {
    const figures = ofJob(this.figures, this.job);
    need(page, "[data-kept-none]").hidden = figures.length > 0;
    need(page, "[data-kept-count]").textContent = figures.length ? `${figures.length} kept` : "";
    need(page, "[data-print]").hidden = !figures.length;
    const kinds = this.torque?.makers ?? [];
    const known = kinds.map((kind) => ({
      title: kind.title,
      figures: figures.filter((figure) => figure.kind === kind.key),
    }));
    const rest = figures.filter(({ kind }) => !kinds.some(({ key }) => key === kind));
    need(page, "[data-kept-list]").replaceChildren(
      ...[...known, { title: "", figures: rest }]
        .filter((group) => group.figures.length)
        .flatMap((group) => [
          // Without names the cards say the kind themselves.
          ...(group.title && group.figures.some(({ name }) => name)
            ? [make("li", { class: "cards-head" }, [group.title])]
            : []),
          ...group.figures.map((figure) => this.card(figure)),
        ]),
    );
  }

  /** @param {Figure} figure */
  card(figure) {
    const { torque } = this;
    const isTorque = figure.kind === TORQUE;
    const { choices } = figure;
    const bolt = ["thread", "grade", "friction", "joint", "tapped"].map((key) => [
      key,
      choices[key],
    ]);
    return make("li", { class: "card", "data-figure": figure.id }, [
      make("h3", {}, [torque ? titleOf(figure, torque) : figure.name]),
      ...(isTorque
        ? [
            make("p", { class: "card-torque" }, [figureText(figure, torque?.quantities)]),
            make("p", {}, [torque ? boltOf(torque, choices) : ""]),
          ]
        : this.lines(figure)),
      make("p", { class: "quiet" }, [
        [origin(figure) || "No source noted.", enteredWords(figure.changed)].join(" · "),
      ]),
      ...this.useOf(figure),
      ...(isTorque ? this.judgement(figure) : []),
      ...this.unknownUnit(figure),
      ...warnings(figure).map((words) => make("p", { class: "warned" }, [words])),
      make("div", { class: "card-foot" }, [
        ...(isTorque
          ? [
              make("a", { class: "plain", href: linkTo("tightening", { figure: figure.id }) }, [
                "Make a map",
              ]),
              make("a", { class: "plain", href: linkTo("torque", Object.fromEntries(bolt)) }, [
                "Clamp load",
              ]),
            ]
          : []),
        ...(this.isKnown(figure) ? [button("Change", () => this.editor?.edit(figure))] : []),
        button("Delete", () => this.drop(figure)),
      ]),
    ]);
  }

  /** What a figure says, line by line. @param {Figure} figure */
  lines(figure) {
    const kind = this.torque?.makers.find(({ key }) => key === figure.kind);
    const fields = this.editor?.kit.lookup.fields ?? [];
    /** @param {string} key */
    const label = (key) => fields.find((field) => field.key === key)?.label ?? key;
    const parts = [
      ...Object.entries(figure.values).map(([key, value]) => [
        label(key),
        valueText(value, kind?.values[key] ?? "", this.torque?.quantities),
      ]),
      ...Object.entries(figure.texts).map(([key, text]) => [kind?.texts[key] ?? key, text]),
      ...Object.entries(figure.choices).map(([key, option]) => [
        label(key),
        optionNamed(
          fields.find((field) => field.key === key),
          option,
        )?.label ?? option,
      ]),
    ];
    return [
      make(
        "dl",
        { class: "said" },
        parts.flatMap(([name, text]) => [make("dt", {}, [name]), make("dd", {}, [text])]),
      ),
    ];
  }

  /** Where it is used, or that another of its kind is. @param {Figure} figure */
  useOf(figure) {
    const { torque } = this;
    const kind = torque?.makers.find(({ key }) => key === figure.kind);
    if (!torque || !kind || !kind.feeds.length || kind.pages.length) return [];
    const figures = ofJob(this.figures, this.job);
    const used = kind.feeds.filter(
      (key) => figure.values[key] && feeding(figures, torque.makers, key)?.figure === figure,
    );
    if (used.length)
      return [make("p", {}, ["Used on the pages, unless something else is typed there."])];
    const others = kind.feeds.some(
      (key) => figure.values[key] && feeding(figures, torque.makers, key)?.others.includes(figure),
    );
    if (!others) return [];
    return [
      make("p", {}, ["There is more than one of these, and this one is not used."]),
      make("div", { class: "card-foot" }, [button("Use this one", () => this.pick(figure))]),
    ];
  }

  /** @param {Figure} figure */
  async pick(figure) {
    try {
      const used = new Date().toISOString();
      await amend("figures", figure, (there) => ({ ...there, used, rev: there.rev + 1 }));
      figuresElsewhere?.postMessage("");
      await this.show();
    } catch (reason) {
      tell(need(page, "[data-kept-problem]"), reasonWords(reason));
    }
  }

  /** @param {Figure} figure */
  isKnown(figure) {
    return !this.torque || hasKnownUnits(figure, this.torque.makers, this.torque.quantities);
  }

  /** @param {Figure} figure */
  unknownUnit(figure) {
    if (this.isKnown(figure)) return [];
    const units = Object.values(figure.values).map(({ unit }) => `“${unit}”`);
    return [
      make("p", { class: "warned" }, [
        `No page knows the unit ${[...new Set(units)].join(" or ")} for it, so this figure is not used. Delete it, then enter it again.`,
      ]),
    ];
  }

  /** What the computed torque has to say. @param {Figure} figure */
  judgement(figure) {
    const { torque, editor } = this;
    const { maker_torque: stated, maker_angle: turned } = figure.values;
    if (!torque || !editor || !stated || !this.isKnown(figure)) return [];
    const read = understood(
      numberNamed(editor.kit.lookup, "maker_torque"),
      stated,
      torque.quantities,
    );
    if (misread(read)) return [];
    const { thread, grade = "", friction = "" } = figure.choices;
    const unit = unitOf(torque.quantities.torque.units, read.unit.key);
    const angle = turned ? Number(turned.text.replace(",", ".")) : null;
    const { status, words, beside } = judge(
      torque,
      { thread, grade, friction, torque: { value: read.value, unit }, angle },
      assumed,
    );
    const stamp = make("strong", { class: "stamp" });
    setStamp(stamp, status, STAMPS[status] ?? "");
    return [
      ...(status === "within" ? [] : [make("p", {}, [...(status ? [stamp, " "] : []), words])]),
      make("p", { class: "quiet" }, [...(status === "within" ? [stamp, " "] : []), beside]),
    ];
  }

  /** @param {Figure} figure */
  async drop(figure) {
    try {
      const name = this.torque ? titleOf(figure, this.torque) : figure.name;
      await removeWithUndo("figures", figure, name, need(page, "[data-undo]"), async () => {
        if (this.editor?.old?.id === figure.id) this.editor.clear();
        figuresElsewhere?.postMessage("");
        await this.show();
      });
    } catch (reason) {
      tell(need(page, "[data-kept-problem]"), reasonWords(reason));
    }
  }
}

/** The day of a time, in the phone's own words. @param {string} time */
function enteredWords(time) {
  const at = new Date(time);
  // A build file says no day; its figures only keep their order by a time.
  if (at.getTime() < AFTER_FILES) return "From a build file.";
  return Number.isNaN(at.getTime())
    ? "Entered before."
    : `Entered ${at.toLocaleDateString(undefined, DAY)}.`;
}

const AFTER_FILES = Date.UTC(2001, 0, 1);

/** @type {Intl.DateTimeFormatOptions} */
const DAY = { day: "numeric", month: "short", year: "numeric" };

async function open() {
  const list = new FigureList();
  await list.show();
  list.torque = await load("torque");
  list.editor = new Editor(
    list.torque,
    () => list.job,
    () => list.show(),
  );
  list.showCards();
}

open().catch((reason) => {
  write(need(page, "[data-go-line]"), refusal(reason));
  console.error(reason);
});
