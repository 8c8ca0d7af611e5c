/** The page of makers' figures: enter, keep, question, change. Wiring only. */

import { all, make, need, setStamp, write } from "../face/dom.js";
import { STATUS_WORDS } from "../face/words.js";
import { initial, read, understood } from "../form/entries.js";
import { Form } from "../form/form.js";
import { fromQuery, toQuery } from "../form/link.js";
import { Picked } from "../form/picked_units.js";
import { misread } from "../form/typed.js";
import { load, VersionError } from "../model/catalogue.js";
import { bindExchange, damagedWords } from "../record/exchange.js";
import { ofJob, origin, SCHEMA, warnings } from "../record/figures.js";
import { currentJob, jobNames, takeUp } from "../record/jobs.js";
import { judge, labelOf } from "../record/plausible.js";
import {
  newId,
  readFigures,
  readMaps,
  RecordError,
  remove,
  write as keepInRecord,
} from "../record/record.js";

/**
 * @typedef {import("../record/figures.js").Figure} Figure
 * @typedef {import("../model/catalogue.js").Kit} Kit
 */

/** The option for what the instructions leave open; kept as an empty text. */
const NOT_STATED = "not_stated";
const NEW_JOB = "\u0000new";
const LINK_DELAY = 250;
const TEXTS = /** @type {const} */ (["name", "sequence", "source", "page"]);

const page = need(document, "[data-figures-page]");
/** @type {import("../record/plausible.js").Assumed} */
const assumed = JSON.parse(page.dataset.assumed ?? "{}");

/** @param {string} key @returns {HTMLInputElement} */
function textBox(key) {
  return /** @type {HTMLInputElement} */ (need(page, `[data-text="${key}"]`));
}

/**
 * A figure's link: to the torque page and to a map.
 * @param {string} folder
 * @param {Object<string, string>} query
 */
function link(folder, query) {
  const given = Object.entries(query).filter(([, text]) => text);
  return `${new URL(`../../../${folder}/`, import.meta.url).pathname}?${new URLSearchParams(given)}`;
}

class Editor {
  /** @param {Kit} torque @param {() => Promise<void>} kept called when the record has changed */
  constructor(torque, kept) {
    this.torque = torque;
    this.kept = kept;
    const fields = JSON.parse(page.dataset.fields ?? "[]");
    /** @type {Kit} */
    this.kit = { ...torque, lookup: { ...torque.lookup, key: "figures", fields } };
    /** @type {Figure | null} the one that is being changed */
    this.old = null;
    this.linkTimer = 0;
    this.busy = false;
    this.wasTried = false;
    this.picked = new Picked("figures", torque.quantities);
    /** @type {import("../form/entries.js").Remembered} */
    this.preferred = (path, field) => this.picked.entry(path, field);
    this.entries = this.fresh();
    fromQuery(fields, this.entries, location.search, torque.quantities, this.preferred);
    const query = new URLSearchParams(location.search);
    for (const key of TEXTS) textBox(key).value = query.get(key) ?? "";
    this.form = new Form(
      need(page, "[data-form]"),
      this.kit,
      this.entries,
      () => this.update(),
      (path, unit) => this.picked.pickEntry(path, unit),
      this.preferred,
    );
    for (const key of TEXTS) textBox(key).addEventListener("input", () => this.update());
    need(page, "[data-keep]").addEventListener("click", () => this.keep());
    need(page, "[data-give-up]").addEventListener("click", () => this.clear());
    this.form.showAll([]);
    this.update();
  }

  fresh() {
    return initial(this.kit.lookup.fields, this.kit.quantities, this.preferred);
  }

  /** @returns {"" | "single use" | "into yield"} */
  get reuse() {
    const chosen = /** @type {HTMLInputElement} */ (need(page, '[name="reuse"]:checked')).value;
    return /** @type {"" | "single use" | "into yield"} */ (chosen);
  }

  set reuse(value) {
    for (const input of all(page, '[name="reuse"]')) {
      const radio = /** @type {HTMLInputElement} */ (input);
      radio.checked = radio.value === value;
    }
  }

  typed() {
    const field = /** @type {import("../model/lookup.js").NumberField} */ (
      this.kit.lookup.fields.find(({ key }) => key === "torque")
    );
    return understood(
      field,
      /** @type {import("../form/entries.js").NumberEntry} */ (this.entries.torque),
      this.kit.quantities,
    );
  }

  update() {
    const { problems, inputs } = read(this.kit.lookup.fields, this.entries, this.kit.quantities);
    this.form.show(problems);
    this.showJudgement(problems.length > 0, inputs);
    const lacking = this.lacking();
    const named = need(page, '[data-text-field="name"] [data-problem]');
    const said =
      this.wasTried && !textBox("name").value.trim()
        ? "Give it a name, so that it is found again."
        : "";
    write(named, said);
    named.hidden = !said;
    const button = /** @type {HTMLButtonElement} */ (need(page, "[data-keep]"));
    button.disabled = problems.length > 0;
    write(button, this.old ? "Keep the change" : "Keep this figure");
    write(need(page, "[data-go-line]"), problems[0]?.words ?? (this.wasTried ? lacking : ""));
    write(
      need(page, "[data-enter-title]"),
      this.old ? `Change “${this.old.name}”` : "Enter a figure",
    );
    need(page, "[data-give-up]").hidden = !this.old;
    this.keepLink();
  }

  lacking() {
    if (!textBox("name").value.trim()) return "Which fastener? Give it a name.";
    return misread(this.typed()) ? "Which torque? Enter what the instructions give." : "";
  }

  /** @param {boolean} isFaulty @param {import("../recipe.js").Inputs} inputs */
  showJudgement(isFaulty, inputs) {
    const box = need(page, "[data-judged]");
    const torque = this.typed();
    box.hidden = isFaulty || misread(torque);
    if (isFaulty || misread(torque)) return;
    const [thread, grade, friction] = ["thread", "grade", "friction"].map((key) =>
      stated(inputs[key]),
    );
    const angle = /** @type {number | null} */ (inputs.angle);
    const { status, words, beside } = judge(
      this.torque,
      { thread, grade, friction, torque, angle },
      assumed,
    );
    box.dataset.status = status;
    setStamp(
      need(box, ".stamp"),
      status,
      status === "within" ? "plausible" : STATUS_WORDS[status] ? "look again" : "",
    );
    write(need(box, "[data-judged-words]"), words);
    write(need(box, "[data-judged-beside]"), beside);
  }

  keepLink() {
    clearTimeout(this.linkTimer);
    this.linkTimer = window.setTimeout(() => this.writeLink(), LINK_DELAY);
  }

  writeLink() {
    clearTimeout(this.linkTimer);
    const query = new URLSearchParams(
      this.old ? "" : toQuery(this.kit.lookup.fields, this.entries, this.kit.quantities),
    );
    for (const key of TEXTS)
      if (!this.old && textBox(key).value.trim()) query.set(key, textBox(key).value.trim());
    const search = query.toString();
    history.replaceState(history.state, "", `${location.pathname}${search ? `?${search}` : ""}`);
  }

  /** Put a kept figure into the form. @param {Figure} figure */
  edit(figure) {
    this.old = figure;
    this.wasTried = false;
    Object.assign(this.entries, this.fresh(), {
      thread: figure.thread,
      grade: figure.grade || NOT_STATED,
      friction: figure.friction || NOT_STATED,
      torque: { text: figure.text, unit: figure.unit },
      angle: { text: figure.angle, unit: "deg" },
    });
    for (const key of TEXTS) textBox(key).value = figure[key];
    this.reuse = figure.reuse;
    this.form.showAll([]);
    this.update();
    need(page, "[data-enter-title]").scrollIntoView();
    textBox("name").focus({ preventScroll: true });
  }

  clear() {
    this.old = null;
    this.wasTried = false;
    const { thread } = this.entries;
    Object.assign(this.entries, this.fresh(), { thread });
    for (const key of /** @type {const} */ (["name", "sequence", "page"])) textBox(key).value = "";
    this.reuse = "";
    this.form.showAll([]);
    this.update();
  }

  async keep() {
    this.wasTried = true;
    this.update();
    const typed = this.typed();
    if (this.lacking() || misread(typed)) {
      (misread(typed) && textBox("name").value.trim()
        ? need(page, '[data-field="torque"] input')
        : textBox("name")
      ).focus();
      return;
    }
    if (this.busy) return;
    this.busy = true;
    try {
      await keepInRecord("figures", this.figure());
      this.clear();
      // At once: what is kept must not be entered a second time by a reload.
      this.writeLink();
      await this.kept();
    } catch (reason) {
      write(
        need(page, "[data-go-line]"),
        `Not kept: ${reason instanceof RecordError ? reason.message : String(reason)}`,
      );
    }
    this.busy = false;
  }

  /** @returns {Figure} */
  figure() {
    const typed = /** @type {import("../form/typed.js").Typed} */ (this.typed());
    const [thread, grade, friction] = ["thread", "grade", "friction"].map((key) =>
      stated(this.entries[key]),
    );
    const { angle } = read(this.kit.lookup.fields, this.entries, this.kit.quantities).inputs;
    return {
      schema: SCHEMA,
      id: this.old?.id ?? newId(),
      rev: this.old?.rev ?? 0,
      job: this.old?.job ?? currentJob(),
      name: textBox("name").value.trim(),
      thread,
      grade,
      friction,
      text: String(typed.value),
      unit: typed.unit.key,
      angle: angle === null ? "" : String(angle),
      reuse: this.reuse,
      sequence: textBox("sequence").value.trim(),
      source: textBox("source").value.trim(),
      page: textBox("page").value.trim(),
      changed: new Date().toISOString(),
    };
  }
}

/** @param {unknown} option */
function stated(option) {
  return option === NOT_STATED ? "" : String(option);
}

/** The figures that are kept, and the jobs they belong to. */
class Shelf {
  constructor() {
    /** @type {Figure[]} */
    this.figures = [];
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
    bindExchange(page, () => this.show());
  }

  /** @param {string} name */
  takeUp(name) {
    this.complainOfJob(
      takeUp(name) ? "" : "This phone won't keep another job now. The old one stays.",
    );
    need(page, "[data-job-new]").hidden = true;
    this.show();
  }

  /** @param {string} words */
  complainOfJob(words) {
    const problem = need(page, "[data-job-problem]");
    write(problem, words);
    problem.hidden = !words;
  }

  async show() {
    let trouble = "";
    /** @type {{job: string}[]} */
    let maps = [];
    try {
      const [figures, found] = await Promise.all([readFigures(), readMaps()]);
      this.figures = figures.good;
      maps = found.good;
      trouble = damagedWords(figures.damaged);
    } catch (reason) {
      if (!(reason instanceof RecordError)) throw reason;
      trouble = reason.message;
    }
    const problem = need(page, "[data-kept-problem]");
    write(problem, trouble);
    problem.hidden = !trouble;
    this.showJobs(jobNames([...this.figures, ...maps]));
    this.showCards();
  }

  /** @param {string[]} names the current one first */
  showJobs(names) {
    const pick = /** @type {HTMLSelectElement} */ (need(page, "[data-job-pick]"));
    pick.replaceChildren(
      ...names.map((name) => make("option", { value: name }, [name])),
      make("option", { value: NEW_JOB }, ["A new job …"]),
    );
    pick.value = names[0];
  }

  showCards() {
    const figures = ofJob(this.figures, currentJob());
    need(page, "[data-kept-none]").hidden = figures.length > 0;
    need(page, "[data-kept-list]").replaceChildren(...figures.map((figure) => this.card(figure)));
  }

  /** @param {Figure} figure */
  card(figure) {
    const torque = `${figure.text} ${this.unitLabel(figure)}`;
    const angle = figure.angle ? ` + ${figure.angle}°` : "";
    const change = make("button", { type: "button", class: "plain" }, ["Change"]);
    change.addEventListener("click", () => this.editor?.edit(figure));
    const drop = make("button", { type: "button", class: "plain" }, ["Delete"]);
    drop.addEventListener("click", () => this.drop(figure));
    const onTorque = { thread: figure.thread, grade: figure.grade, friction: figure.friction };
    return make("li", { class: "card", "data-figure": figure.id }, [
      make("h3", {}, [figure.name]),
      make("p", { class: "card-figure" }, [torque + angle]),
      make("p", {}, [
        [
          this.label("thread", figure.thread),
          this.label("grade", figure.grade),
          this.label("friction", figure.friction),
        ]
          .filter(Boolean)
          .join(" · "),
      ]),
      make("p", { class: "quiet" }, [origin(figure) || "No source noted."]),
      ...this.judgement(figure),
      ...warnings(figure).map((words) => make("p", { class: "warned" }, [words])),
      make("div", { class: "card-foot" }, [
        make("a", { class: "plain", href: link("tightening", { figure: figure.id }) }, [
          "Make a map",
        ]),
        make("a", { class: "plain", href: link("torque", onTorque) }, ["Clamp load"]),
        change,
        drop,
      ]),
    ]);
  }

  /** @param {Figure} figure */
  unitLabel(figure) {
    return (
      this.torque?.quantities.torque.units.find(({ key }) => key === figure.unit)?.label ??
      figure.unit
    );
  }

  /** @param {string} key @param {string} option */
  label(key, option) {
    return option && this.torque ? labelOf(this.torque, key, option) : option;
  }

  /** What the computed torque has to say. @param {Figure} figure */
  judgement(figure) {
    const { torque } = this;
    if (!torque) return [];
    const { quantities } = torque;
    const unit = quantities.torque.units.find(({ key }) => key === figure.unit);
    const value = Number(figure.text);
    if (!unit || !Number.isFinite(value)) return [];
    const angle = figure.angle ? Number(figure.angle) : null;
    const { status, words, beside } = judge(
      torque,
      { ...figure, torque: { value, unit }, angle },
      assumed,
    );
    const stamp = make("strong", { class: "stamp" });
    setStamp(stamp, status, status === "within" ? "plausible" : status ? "look again" : "");
    return [
      ...(status === "within" ? [] : [make("p", {}, [...(status ? [stamp, " "] : []), words])]),
      make("p", { class: "quiet" }, [...(status === "within" ? [stamp, " "] : []), beside]),
    ];
  }

  /** @param {Figure} figure */
  async drop(figure) {
    const problem = need(page, "[data-kept-problem]");
    try {
      await remove("figures", figure.id);
      if (this.editor?.old?.id === figure.id) this.editor.clear();
      await this.show();
      this.offerUndo(figure);
    } catch (reason) {
      write(problem, reason instanceof RecordError ? reason.message : String(reason));
      problem.hidden = false;
    }
  }

  /** @param {Figure} figure */
  offerUndo(figure) {
    const holder = need(page, "[data-undo]");
    const button = make("button", { type: "button", class: "plain" }, ["Bring it back"]);
    button.addEventListener("click", async () => {
      holder.hidden = true;
      await keepInRecord("figures", { ...figure, rev: 0 });
      await this.show();
    });
    holder.replaceChildren(make("span", {}, [`“${figure.name}” is gone.`]), button);
    holder.hidden = false;
    button.focus();
  }
}

async function open() {
  const shelf = new Shelf();
  await shelf.show();
  shelf.torque = await load("torque");
  shelf.showCards();
  shelf.editor = new Editor(shelf.torque, () => shelf.show());
}

open().catch((reason) => {
  write(
    need(page, "[data-go-line]"),
    reason instanceof VersionError
      ? "This page and its tables are from different versions. Load it again."
      : "The tables for this page could not be loaded. Load it again.",
  );
  console.error(reason);
});
