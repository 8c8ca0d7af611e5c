/** The tightening page: from a set-up to a map, and from a map to the record. */

import { BoltScreen } from "../bolts/bolt_screen.js";
import { finishedCard, howFar, lastTouched, moment, unfinishedCard } from "../bolts/cards.js";
import { drawMap } from "../bolts/drawing.js";
import { BoltSwitches, fromLink, PlacesEditor, readPlaces, toLink } from "../bolts/places.js";
import { counted, draftOf } from "../bolts/draft.js";
import { SCHEMA } from "../bolts/progress.js";
import { SheetEditor } from "../bolts/order_editor.js";
import { button, make, need, setStamp, tell, write } from "../face/dom.js";
import { SetUp } from "../form/set_up.js";
import { load, refusal, withFields } from "../model/catalogue.js";
import { bindExchange } from "../record/exchange.js";
import { figureText, hasKnownUnits, ofJob, origin, TORQUE, warnings } from "../record/figures.js";
import { currentJob } from "../record/jobs.js";
import { boltOf, STAMPS } from "../record/plausible.js";
import {
  damagedWords,
  newId,
  readFigures,
  readMaps,
  reasonWords,
  write as keepInRecord,
} from "../record/record.js";
import { removeWithUndo } from "../record/undo.js";

/**
 * @typedef {import("../bolts/progress.js").BoltMap} BoltMap
 * @typedef {import("../record/figures.js").Figure} Figure
 * @typedef {import("../bolts/draft.js").Draft} Draft
 * @typedef {import("../form/entries.js").Row} Row
 */

const PREVIEW_WIDTH = 360;
const MOST_OLD_PASSES = 6;

const page = need(document, "[data-tightening]");
/** @type {import("../record/plausible.js").Assumed} */
const assumed = JSON.parse(page.dataset.assumed ?? "{}");
const reasons = JSON.parse(page.dataset.reasons ?? "{}");

/** @param {string} selector @returns {HTMLInputElement} */
function input(selector) {
  return /** @type {HTMLInputElement} */ (need(page, selector));
}

/**
 * A row of stages with one number in it.
 * @param {Row} like
 * @param {string} what
 * @param {string} key
 * @param {string} text with or without its unit
 * @param {string} unit
 * @returns {Row}
 */
function rowLike(like, what, key, text, unit) {
  return { ...structuredClone(like), do: what, [key]: { text: text.replace(unit, ""), unit } };
}

/** The form for a new map, and the map that follows from it. */
class NewMap {
  /** @param {import("../model/catalogue.js").Kit} torque @param {(map: BoltMap) => void} start */
  constructor(torque, start) {
    this.torque = torque;
    this.start = start;
    /** The name of the job in hand. */
    this.job = "";
    this.quarters = 0;
    this.source = "";
    /** @type {string[]} */
    this.warnings = [];
    /** @type {Figure[]} */
    this.figures = [];
    /** @type {Figure | null} the one that the torque is from */
    this.figure = null;
    this.isOffered = false;
    /** The torque that the user has looked at again, as the draft names it. */
    this.sure = "";
    /** The torque that came with the link, and so belongs to its source. */
    this.carried = "";
    this.voice = false;
    this.shape = "";
    this.kit = withFields(torque, "tightening", JSON.parse(page.dataset.fields ?? "[]"));
    this.setUp = new SetUp(this.kit, page, () => this.update(), {
      query: (query) => this.addToQuery(query),
    });
    this.form = this.setUp.form;
    this.entries = this.setUp.entries;
    this.sheet = new SheetEditor(page, () => this.update());
    this.places = new PlacesEditor(need(page, "[data-places]"), () => this.update());
    this.switches = new BoltSwitches(need(page, "[data-offset-bolts]"), () => this.update());
    this.readLink(new URLSearchParams(location.search));
    this.bind();
    this.form.showAll([]);
    this.draft = this.update();
  }

  bind() {
    need(page, "[data-start]").addEventListener("click", () => this.begin());
    need(page, "[data-quarter]").addEventListener("click", () => {
      this.sheet.turn((this.quarters + 1) % 4);
      this.quarters = (this.quarters + 1) % 4;
      this.update();
    });
    need(page, "[data-figure-pick]").addEventListener("change", () => this.takeFigure());
    input("[data-sure-box]").addEventListener("change", () => {
      this.sure = input("[data-sure-box]").checked
        ? (need(page, "[data-sure]").dataset.asked ?? "")
        : "";
      this.update();
    });
    input("[data-map-title]").addEventListener("input", () => this.setUp.address.updateSoon());
  }

  /** Read what the link holds besides the fields. @param {URLSearchParams} query */
  readLink(query) {
    this.places.input.value = fromLink(query.get("places") ?? "");
    this.places.show();
    input("[data-map-title]").value = query.get("title") ?? "";
    this.source = query.get("source") ?? "";
    this.quarters = Number(query.get("quarters") ?? 0) % 4 || 0;
    this.sheet.numbers.value = query.get("numbers") ?? "";
    this.sheet.order.value = query.get("sequence") ?? "";
    this.sheet.link = query.get("taps") ?? "";
    this.carried = this.torqueText();
    this.readOldStages(query);
    const offset = (query.get("offset") ?? "").split(",").filter(Boolean).map(Number);
    this.switches.on = new Set(offset.filter((bolt) => Number.isInteger(bolt) && bolt >= 0));
    this.shape = this.shapeNow();
  }

  /**
   * A link of the form's first version: shares, one angle, a check at the end.
   * @param {URLSearchParams} query
   */
  readOldStages(query) {
    if (query.has("stages") || !["passes", "angle", "check"].some((key) => query.has(key))) return;
    const usual = this.stageRows();
    const given = query.get("passes");
    const shares =
      given === null
        ? usual.filter(({ do: what }) => what === "share")
        : Array.from({ length: Math.min(Number(given) || 0, MOST_OLD_PASSES) }, (_, n) =>
            rowLike(usual[0], "share", "share", query.get(`passes.${n + 1}.share`) ?? "", "pct"),
          );
    const angle = Number.parseFloat(query.get("angle") ?? "");
    const end = Number.isFinite(angle)
      ? [rowLike(usual[0], "angle", "angle", String(angle), "deg")]
      : usual.filter(({ do: what }) => what === "check" && query.get("check") !== "no");
    this.setStages([...shares, ...end]);
  }

  stageRows() {
    return /** @type {Row[]} */ (this.entries.stages);
  }

  /** @param {Row[]} rows */
  setStages(rows) {
    this.entries.stages = rows;
    for (const parts of this.form.partsFields()) this.form.drawRows(parts);
  }

  torqueText() {
    const { text, unit } = /** @type {import("../form/entries.js").NumberEntry} */ (
      this.entries.torque
    );
    return text.trim() ? `${text.trim()} ${unit}` : "";
  }

  /** What the address holds besides the fields. @param {URLSearchParams} query */
  addToQuery(query) {
    const more = {
      places: this.entries.pattern === "places" ? toLink(this.places.text) : "",
      title: input("[data-map-title]").value.trim(),
      figure: this.figure?.id ?? "",
      source: this.figure ? "" : this.source,
      quarters: this.quarters ? String(this.quarters) : "",
      numbers: this.sheet.numbers.value.trim(),
      sequence: this.sheet.order.value.trim(),
      taps: this.sheet.link,
      offset: [...this.switches.on].sort((a, b) => a - b).join(),
    };
    for (const [key, text] of Object.entries(more)) if (text) query.set(key, text);
  }

  shapeNow() {
    const { pattern, rows, columns, count } = this.entries;
    return JSON.stringify([
      pattern,
      rows,
      columns,
      count,
      pattern === "places" ? this.places.text : "",
    ]);
  }

  /** @returns {Draft} */
  update() {
    if (this.shape !== this.shapeNow()) {
      // The marked bolts were those of another pattern.
      this.switches.on.clear();
      this.sheet.clear();
      this.shape = this.shapeNow();
    }
    if (this.figure && !this.isAsGiven(this.figure)) this.dropFigure();
    if (!this.figure && this.source && this.torqueText() !== this.carried && this.isOffered)
      this.source = "";
    const draft = draftOf(this.kit, this.torque, this.entries, {
      typed: readPlaces(this.places.text),
      sheet: this.sheet.sheet(String(this.entries.order)),
      quarters: this.quarters,
      offset: [...this.switches.on],
      assumed,
      sure: this.sure,
    });
    this.draft = draft;
    this.form.show(draft.problems);
    this.show(draft);
    this.setUp.address.updateSoon();
    return draft;
  }

  /** @param {Draft} draft */
  show(draft) {
    const { pattern } = draft;
    const byPlace = this.entries.pattern === "places";
    need(page, "[data-places]").hidden = !byPlace;
    this.places.complain(byPlace && this.places.text.trim() ? pattern.problem : "");
    showPreview(
      pattern,
      this.quarters,
      [...this.switches.on],
      this.entries.order === "tap" ? this.sheet.taps : [],
    );
    this.sheet.show(pattern, String(this.entries.order), this.quarters);
    this.switches.show(pattern.names, pattern.order);
    showJudged(draft, this.sure);
    tell(need(page, "[data-offset-problem]"), draft.offsetProblem);
    input("[data-map-title]").placeholder = pattern.title;
    showGo(draft);
    tell(need(page, "[data-figure-warned]"), this.warnings.join(" "));
  }

  // --- makers' figures ---------------------------------------------------------------------------

  /** @param {Figure[]} figures of every job @param {string} job the one in hand */
  offer(figures, job) {
    this.job = job;
    const { makers, quantities } = this.kit;
    const known = figures.filter(
      (figure) =>
        figure.kind === TORQUE &&
        figure.values.maker_torque &&
        hasKnownUnits(figure, makers, quantities),
    );
    this.figures = ofJob(known, job);
    const select = /** @type {HTMLSelectElement} */ (need(page, "[data-figure-pick]"));
    const options = this.figures.map((figure) =>
      make("option", { value: figure.id }, [
        `${this.nameOf(figure)}: ${figureText(figure, quantities)}`,
      ]),
    );
    select.replaceChildren(make("option", { value: "" }, ["Pick one…"]), ...options);
    need(page, "[data-figures]").hidden = !this.figures.length;
    const asked = this.isOffered
      ? this.figure?.id
      : new URLSearchParams(location.search).get("figure");
    select.value = this.figures.some(({ id }) => id === asked) ? (asked ?? "") : "";
    if (!this.isOffered && select.value) this.takeFigure();
    this.isOffered = true;
  }

  /** What a figure is for: its name, or its bolt. @param {Figure} figure */
  nameOf({ name, choices }) {
    return name || boltOf(this.torque, choices) || "Typed on the torque page";
  }

  takeFigure() {
    const { value } = /** @type {HTMLSelectElement} */ (need(page, "[data-figure-pick]"));
    const figure = this.figures.find(({ id }) => id === value);
    if (!figure) return;
    const title = input("[data-map-title]");
    if (!title.value.trim() || title.value === this.figure?.name) title.value = figure.name;
    this.figure = figure;
    this.entries.torque = { ...figure.values.maker_torque };
    for (const key of /** @type {const} */ (["thread", "grade", "friction"]))
      this.entries[key] = figure.choices[key] ?? "not_stated";
    this.takeAngle(figure.values.maker_angle?.text ?? "");
    this.source = origin(figure);
    this.warnings = warnings(figure);
    this.form.showAll([]);
    this.update();
  }

  /** A figure's angle comes after the torques, in place of the check. @param {string} angle */
  takeAngle(angle) {
    if (!angle) return;
    const rows = this.stageRows();
    this.setStages([
      ...rows.filter(({ do: what }) => what === "share" || what === "torque"),
      rowLike(rows[0], "angle", "angle", angle, "deg"),
    ]);
  }

  /**
   * Whether torque and angle are still those of a figure, shown in any unit.
   * @param {Figure} figure
   */
  isAsGiven({ values }) {
    const torque = /** @type {import("../form/entries.js").NumberEntry} */ (this.entries.torque);
    const angle = this.stageRows().find(({ do: what }) => what === "angle")?.angle;
    const angleText = angle && typeof angle === "object" ? angle.text.trim() : "";
    const typed = torque.from?.now === torque.text ? torque.from : torque;
    return (
      typed.text.trim() === values.maker_torque.text &&
      typed.unit === values.maker_torque.unit &&
      angleText === (values.maker_angle?.text ?? "")
    );
  }

  /** The torque was changed: the figure's source and warnings don't belong to it. */
  dropFigure() {
    this.figure = null;
    this.source = "";
    this.warnings = [];
    /** @type {HTMLSelectElement} */ (need(page, "[data-figure-pick]")).value = "";
  }

  /** Wrench, name and voice as they were last. @param {BoltMap | undefined} last */
  carryOver(last) {
    if (!last) return;
    this.voice = last.voice;
    for (const [selector, text] of /** @type {const} */ ([
      ["[data-map-wrench]", last.wrench],
      ["[data-map-who]", last.who],
    ])) {
      if (!input(selector).value) input(selector).value = text;
    }
  }

  // --- starting ----------------------------------------------------------------------------------

  begin() {
    const { pattern, torque, unit, offsetWords, stages } = this.draft;
    if (!stages.length) return;
    const { kind, rows, columns, count, places } = pattern;
    this.start({
      schema: SCHEMA,
      id: newId(),
      rev: 0,
      job: this.job,
      title: input("[data-map-title]").value.trim() || pattern.title,
      pattern: { kind, rows, columns, count },
      places,
      names: pattern.names,
      orderBy: this.entries.order === "worked" ? "worked" : "maker",
      bolt: this.draft.bolt,
      judged: judgedWords(this.draft, this.sure),
      quarters: this.quarters,
      torque,
      source: this.source,
      notes: [...this.warnings, ...this.draft.notes],
      offset: {
        bolts: [...this.switches.on].filter((bolt) => bolt < places.length),
        words: offsetWords,
      },
      unit,
      stages,
      wrench: input("[data-map-wrench]").value.trim(),
      who: input("[data-map-who]").value.trim(),
      voice: this.voice,
      started: new Date().toISOString(),
      finished: "",
      steps: [],
    });
  }
}

/**
 * @param {import("../bolts/draft.js").PatternDraft} pattern
 * @param {number} quarters
 * @param {number[]} offset
 * @param {number[]} taps
 */
function showPreview(pattern, quarters, offset, taps) {
  const { places, order, reason, names, title } = pattern;
  const holder = need(page, "[data-preview]");
  /** @type {import("../bolts/drawing.js").State[]} */
  const states = places.map((_, bolt) => {
    if (order.length) return bolt === order[0] ? "next" : "open";
    return taps.includes(bolt) ? "done" : "open";
  });
  const shown = places.map(
    (_, bolt) => names[bolt] ?? (taps.includes(bolt) ? String(taps.indexOf(bolt) + 1) : ""),
  );
  holder.replaceChildren(
    ...(places.length
      ? [
          drawMap({
            places,
            quarters,
            names: shown,
            states,
            offset,
            label: order.length
              ? `${title}, each with its number`
              : `${title}, without an order yet`,
            width: PREVIEW_WIDTH,
            height: previewHeight(places, quarters),
          }),
        ]
      : []),
  );
  const begins = order.length && reason === "maker" ? ` First is ${names[order[0]]}.` : "";
  const worked = order.length && reason !== "maker" ? "Worked out: the maker gives none. " : "";
  write(
    need(page, "[data-reason]"),
    order.length
      ? `${worked}${reasons[reason]}${begins}`
      : pattern.problem || "The order follows once it is known how the maker gives it.",
  );
}

/** @param {Draft} draft @param {string} sure */
function showJudged({ judged, asked }, sure) {
  const box = need(page, "[data-judged]");
  box.hidden = !judged;
  if (!judged) return;
  box.dataset.status = judged.status;
  setStamp(need(box, ".stamp"), judged.status, STAMPS[judged.status] ?? "");
  write(need(box, "[data-judged-words]"), judged.words);
  write(need(box, "[data-judged-beside]"), judged.beside);
  const wanted = need(page, "[data-sure]");
  wanted.hidden = judged.status !== "beyond";
  wanted.dataset.asked = asked || sure;
  input("[data-sure-box]").checked = judged.status === "beyond" && !asked;
}

/** What the record says of the torque. @param {Draft} draft @param {string} sure */
function judgedWords({ judged }, sure) {
  if (!judged) return "";
  const looked = judged.status === "beyond" && sure ? " Looked at again and confirmed." : "";
  return `${judged.words} ${judged.beside}${looked}`;
}

/**
 * As high as the pattern needs.
 * @param {[number, number][]} places
 * @param {number} quarters
 */
function previewHeight(places, quarters) {
  const [xs, ys] = [places.map(([x]) => x), places.map(([, y]) => y)];
  const [wide, high] = [xs, ys].map((each) => Math.max(...each) - Math.min(...each));
  const [across, up] = quarters % 2 ? [high, wide] : [wide, high];
  if (!across) return up ? 340 : 120;
  return Math.round(Math.max(120, Math.min(340, 110 + ((PREVIEW_WIDTH - 110) * up) / across)));
}

/** @param {Draft} draft */
function showGo(draft) {
  const { stages, pattern, notes } = draft;
  const line = need(page, "[data-go-line]");
  const start = /** @type {HTMLButtonElement} */ (need(page, "[data-start]"));
  start.disabled = !stages.length;
  line.classList.toggle("to-mend", !stages.length);
  write(line, stages.length ? dialLine(draft) : whatToCorrect(draft));
  const passes = stages.filter(({ kind }) => kind === "torque").length;
  write(
    start,
    stages.length
      ? `Start: ${counted(pattern.places.length)}, ${passes} ${passes === 1 ? "pass" : "passes"}`
      : "Start",
  );
  const list = need(page, "[data-go-notes]");
  list.hidden = !notes.length;
  list.replaceChildren(...notes.map((note) => make("li", {}, [note])));
  const some = notes.length > 1 ? `the ${notes.length} notes` : "the note";
  tell(need(page, "[data-go-warned]"), notes.length ? `Read ${some} above first.` : "");
}

/** @param {Draft} draft */
function whatToCorrect({ problems, offsetProblem, pattern, missing, asked }) {
  const [first] = [
    ...problems.map(({ words }) => words),
    offsetProblem,
    pattern.problem,
    pattern.sheetProblem,
  ].filter(Boolean);
  if (first) return first;
  if (missing.length) return `Missing: ${missing.join(", ")}.`;
  return asked
    ? "Look again at the torque, then tick that it is as the maker says."
    : "Something above wants mending.";
}

/** What the wrench will be set to, stage by stage. @param {Draft} draft */
function dialLine({ stages, unit }) {
  const torque = stages.filter(({ kind }) => kind === "torque");
  const parts = stages.map(({ kind, dial }, n) => {
    const sameAgain = kind === "check" && dial.plain === torque.at(-1)?.dial.plain;
    const bare = dial.plain.replace(` ${unit}`, "");
    const isLast = stages[n + 1]?.kind !== "torque";
    if (kind === "torque")
      return `${n ? (stages[n - 1].kind === "torque" ? " → " : ", then ") : ""}${bare}${isLast ? ` ${unit}` : ""}`;
    if (kind === "loosen") return `, then loosen ${dial.plain}`;
    return kind === "check"
      ? `, then check${sameAgain ? "" : ` at ${dial.plain}`}`
      : `, then ${dial.plain}`;
  });
  const long = torque.some(({ dial }) => dial.offset !== dial.plain)
    ? `, crowfoot ${torque.map(({ dial }) => dial.offset.replace(` ${unit}`, "")).join(" → ")}`
    : "";
  return parts.join("") + long;
}

/** The record below the set-up, and what is unfinished above it. */
class MapList {
  /** @param {(map: BoltMap) => void} goOn @param {() => void} shown called when it has been read */
  constructor(goOn, shown) {
    this.goOn = goOn;
    this.shown = shown;
    /** @type {BoltMap[]} */
    this.maps = [];
    /** @type {Figure[]} */
    this.figures = [];
    /** The name of the job in hand. */
    this.job = "";
    this.bind();
  }

  bind() {
    need(page, "[data-print]").addEventListener("click", () => {
      document.documentElement.dataset.print = "record";
      window.print();
      delete document.documentElement.dataset.print;
    });
    bindExchange(page, () => this.show());
  }

  /** @param {string} [newest] a map that was just finished */
  async show(newest = "") {
    this.job = await currentJob();
    try {
      const [maps, figures] = await Promise.all([readMaps(), readFigures()]);
      this.maps = maps.good.sort((a, b) => lastTouched(b).localeCompare(lastTouched(a)));
      this.figures = figures.good;
      this.complain(damagedWords(maps.damaged + figures.damaged));
    } catch (reason) {
      this.complain(reasonWords(reason));
    }
    this.showUnfinished();
    this.showFinished(newest);
    this.shown();
  }

  showUnfinished() {
    const holder = need(page, "[data-unfinished]");
    const unfinished = this.maps.filter(({ finished }) => !finished);
    holder.hidden = !unfinished.length;
    holder.replaceChildren(
      ...unfinished.map((map) => unfinishedCard(map, this.goOn, (each) => this.drop(each))),
    );
  }

  /** @param {string} newest */
  showFinished(newest) {
    const { job } = this;
    const done = this.maps.filter((map) => map.finished && map.job === job);
    const elsewhere = this.maps.filter((map) => map.finished && map.job !== job).length;
    const more = elsewhere ? ` ${elsewhere} more on other jobs.` : "";
    write(need(page, "[data-record-job]"), `Job: ${job}.${more}`);
    need(page, "[data-record-list]").replaceChildren(
      ...done.map((map) => finishedCard(map, (each) => this.drop(each), map.id === newest)),
    );
    need(page, "[data-record-none]").hidden = done.length > 0;
    const card = page.querySelector(`[data-map="${CSS.escape(newest)}"]`);
    if (newest && card instanceof HTMLElement) card.focus();
  }

  /** @param {string} words */
  complain(words) {
    tell(need(page, "[data-record-problem]"), words);
  }

  /** @param {BoltMap} map */
  async drop(map) {
    try {
      await removeWithUndo("maps", map, map.title, need(page, "[data-undo]"), () => this.show());
    } catch (reason) {
      this.complain(reasonWords(reason));
    }
  }
}

/** @param {unknown} reason */
function refuse(reason) {
  const line = need(page, "[data-go-line]");
  line.classList.add("to-correct");
  write(line, refusal(reason));
  console.error(reason);
}

async function open() {
  const screen = new BoltScreen(
    /** @type {HTMLDialogElement} */ (need(page, "[data-bolt-screen]")),
    (map, filed) => record.show(filed ? map.id : ""),
  );
  /** @type {NewMap | null} */
  let form = null;
  const record = new MapList(
    (map) => screen.open(map),
    () => form?.offer(record.figures, record.job),
  );
  // A map that was begun doesn't wait for the tables: it holds all that it needs.
  await record.show();
  if (/^#bolts(=|$)/.test(location.hash)) resume(screen, record);
  form = new NewMap(await load("torque"), (map) => ask(screen, record, map));
  form.offer(record.figures, record.job);
  form.carryOver(record.maps[0]);
}

/**
 * A page that was closed while bolts were being tightened opens there again.
 * @param {BoltScreen} screen
 * @param {MapList} record
 */
function resume(screen, record) {
  const unfinished = record.maps.filter(({ finished }) => !finished);
  const asked = location.hash.slice("#bolts=".length) || history.state?.map;
  const map = unfinished.find(({ id }) => id === asked) ?? unfinished[0];
  if (map) screen.open(map);
  else history.replaceState(null, "", `${location.pathname}${location.search}`);
}

/**
 * Start a map; where the job has one like it already, only if that is meant.
 * @param {BoltScreen} screen @param {MapList} record @param {BoltMap} map
 */
function ask(screen, record, map) {
  const question = need(page, "[data-again]");
  const begun = record.maps.filter((each) => isLike(each, map));
  const before = begun.find(({ finished }) => !finished) ?? begun[0];
  question.hidden = !before;
  if (!before) {
    startMap(screen, map);
    return;
  }
  const said = before.finished
    ? `This one was finished at ${moment(before.finished)}.`
    : `This one is begun${before.started && `, at ${moment(before.started)}`}. ${howFar(before)}`;
  /** @param {() => void} then */
  const after = (then) => () => {
    question.hidden = true;
    then();
  };
  question.replaceChildren(
    make("p", {}, [said]),
    ...(before.finished
      ? []
      : [
          button(
            "Go on with it",
            after(() => screen.open(before)),
            "go-button",
          ),
        ]),
    button(
      before.finished ? "Once more" : "Start another",
      after(() => startMap(screen, map)),
    ),
    button(
      "Don't start",
      after(() => {}),
    ),
  );
  question.scrollIntoView({ block: "nearest" });
}

/**
 * Whether two maps are of the same bolts to the same figures.
 * @param {BoltMap} one @param {BoltMap} other
 */
function isLike(one, other) {
  /** @param {BoltMap} map */
  const told = ({ job, title, pattern, places, stages }) =>
    JSON.stringify([job, title, pattern, places, stages]);
  return told(one) === told(other);
}

let starting = false;

/**
 * The map is stored before its first bolt.
 * @param {BoltScreen} screen
 * @param {BoltMap} map
 */
async function startMap(screen, map) {
  if (starting) return;
  starting = true;
  try {
    screen.open(await keepInRecord("maps", map));
  } catch (reason) {
    screen.open(map);
    screen.trouble(reasonWords(reason));
  }
  starting = false;
}

open().catch(refuse);
