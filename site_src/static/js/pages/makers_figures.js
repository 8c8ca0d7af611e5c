/** The page of makers' figures: to enter, question, keep and change them. */

import { all, button, make, need, setStamp, tell, write } from "../face/dom.js";
import { understood } from "../form/entries.js";
import { SetUp } from "../form/set_up.js";
import { misread } from "../form/typed.js";
import { load, refusal, withFields } from "../model/catalogue.js";
import { numberNamed } from "../model/lookup.js";
import { bindExchange } from "../record/exchange.js";
import { figureText, hasKnownUnit, ofJob, origin, SCHEMA, warnings } from "../record/figures.js";
import { USUAL_NAME } from "../record/job.js";
import { jobNames, takeUp } from "../record/jobs.js";
import { judge, labelOf, STAMPS } from "../record/plausible.js";
import {
  damagedWords,
  newId,
  readFigures,
  readMaps,
  reasonWords,
  RecordError,
  write as keepInRecord,
} from "../record/record.js";
import { removeWithUndo } from "../record/undo.js";

/**
 * @typedef {import("../record/figures.js").Figure} Figure
 * @typedef {import("../model/catalogue.js").Kit} Kit
 */

/** The option for what the instructions don't say; kept as an empty text. */
const NOT_STATED = "not_stated";
const NEW_JOB = "\u0000new";
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
function linkTo(folder, query) {
  const given = Object.entries(query).filter(([, text]) => text);
  return `${new URL(`../../../${folder}/`, import.meta.url).pathname}?${new URLSearchParams(given)}`;
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
    const kit = withFields(torque, "figures", JSON.parse(page.dataset.fields ?? "[]"));
    /** @type {Figure | null} the one that is being changed */
    this.old = null;
    this.busy = false;
    this.wasTried = false;
    this.setUp = new SetUp(kit, page, () => this.update(), {
      query: (query) => this.addTexts(query),
    });
    this.form = this.setUp.form;
    this.entries = this.setUp.entries;
    const query = new URLSearchParams(location.search);
    for (const key of TEXTS) {
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
    for (const key of TEXTS) {
      const text = textBox(key).value.trim();
      if (text) query.set(key, text);
    }
    if (this.old) for (const key of [...query.keys()]) query.delete(key);
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
    const { kit } = this.setUp;
    const entry = /** @type {import("../form/entries.js").NumberEntry} */ (this.entries.torque);
    return understood(numberNamed(kit.lookup, "torque"), entry, kit.quantities);
  }

  update() {
    const { problems, inputs } = this.setUp.read();
    this.form.show(problems);
    this.showJudgement(problems.length > 0, inputs);
    const lacking = this.lacking();
    tell(
      need(page, '[data-text-field="name"] [data-problem]'),
      this.wasTried && !textBox("name").value.trim()
        ? "Give it a name, so that it is found again."
        : "",
    );
    const keep = /** @type {HTMLButtonElement} */ (need(page, "[data-keep]"));
    keep.disabled = problems.length > 0;
    write(keep, this.old ? "Keep the change" : "Keep this figure");
    write(need(page, "[data-go-line]"), problems[0]?.words ?? (this.wasTried ? lacking : ""));
    write(
      need(page, "[data-enter-title]"),
      this.old ? `Change “${this.old.name}”` : "Enter a figure",
    );
    need(page, "[data-give-up]").hidden = !this.old;
    this.setUp.address.updateSoon();
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
    setStamp(need(box, ".stamp"), status, STAMPS[status] ?? "");
    write(need(box, "[data-judged-words]"), words);
    write(need(box, "[data-judged-beside]"), beside);
  }

  /** Put a kept figure into the form. @param {Figure} figure */
  edit(figure) {
    this.old = figure;
    this.wasTried = false;
    Object.assign(this.entries, this.setUp.fresh(), {
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
    Object.assign(this.entries, this.setUp.fresh(), { thread });
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
      // At once: a reload must not enter again what is kept.
      this.setUp.address.update();
      await this.kept();
    } catch (reason) {
      write(need(page, "[data-go-line]"), `Not kept: ${reasonWords(reason)}`);
    }
    this.busy = false;
  }

  /** @returns {Figure} */
  figure() {
    const typed = /** @type {import("../form/typed.js").Typed} */ (this.typed());
    const [thread, grade, friction] = ["thread", "grade", "friction"].map((key) =>
      stated(this.entries[key]),
    );
    const { angle } = this.setUp.read().inputs;
    return {
      schema: SCHEMA,
      id: this.old?.id ?? newId(),
      rev: this.old?.rev ?? 0,
      job: this.old?.job ?? this.job(),
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
    bindExchange(page, () => this.show());
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
    tell(need(page, "[data-kept-problem]"), trouble);
    const names = await jobNames([...this.figures, ...maps]).catch(() => [USUAL_NAME]);
    [this.job] = names;
    this.showJobs(names);
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
    const figures = ofJob(this.figures, this.job);
    need(page, "[data-kept-none]").hidden = figures.length > 0;
    need(page, "[data-kept-list]").replaceChildren(...figures.map((figure) => this.card(figure)));
  }

  /** @param {Figure} figure */
  card(figure) {
    const onTorque = { thread: figure.thread, grade: figure.grade, friction: figure.friction };
    return make("li", { class: "card", "data-figure": figure.id }, [
      make("h3", {}, [figure.name]),
      make("p", { class: "card-torque" }, [figureText(figure, this.torque?.quantities)]),
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
        make("a", { class: "plain", href: linkTo("tightening", { figure: figure.id }) }, [
          "Make a map",
        ]),
        make("a", { class: "plain", href: linkTo("torque", onTorque) }, ["Clamp load"]),
        ...(this.isKnown(figure) ? [button("Change", () => this.editor?.edit(figure))] : []),
        button("Delete", () => this.drop(figure)),
      ]),
    ]);
  }

  /** @param {string} key @param {string} option */
  label(key, option) {
    return option && this.torque ? labelOf(this.torque, key, option) : option;
  }

  /** @param {Figure} figure */
  isKnown(figure) {
    return !this.torque || hasKnownUnit(figure, this.torque.quantities);
  }

  /** What the computed torque has to say. @param {Figure} figure */
  judgement(figure) {
    const { torque } = this;
    if (!torque) return [];
    const { quantities } = torque;
    const unit = quantities.torque.units.find(({ key }) => key === figure.unit);
    const value = Number(figure.text);
    if (!unit)
      return [
        make("p", { class: "warned" }, [
          `No page knows the unit “${figure.unit}”, so this figure is not used. Delete it, then enter it again.`,
        ]),
      ];
    const angle = figure.angle ? Number(figure.angle) : null;
    const { status, words, beside } = judge(
      torque,
      { ...figure, torque: { value, unit }, angle },
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
      await removeWithUndo("figures", figure, figure.name, need(page, "[data-undo]"), async () => {
        if (this.editor?.old?.id === figure.id) this.editor.clear();
        await this.show();
      });
    } catch (reason) {
      tell(need(page, "[data-kept-problem]"), reasonWords(reason));
    }
  }
}

async function open() {
  const list = new FigureList();
  await list.show();
  list.torque = await load("torque");
  list.showCards();
  list.editor = new Editor(
    list.torque,
    () => list.job,
    () => list.show(),
  );
}

open().catch((reason) => {
  write(need(page, "[data-go-line]"), refusal(reason));
  console.error(reason);
});
