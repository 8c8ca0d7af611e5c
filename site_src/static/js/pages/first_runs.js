/** The first runs: a log or typed readings, what they say, what to check, what to keep. */

import { all, button, make, need, offerBack, setStamp, tell, write } from "../face/dom.js";
import { grouped, withUnit } from "../face/numbers.js";
import { read } from "../form/entries.js";
import { showJobLine } from "../form/job_line.js";
import { OfTruck } from "../form/of_truck.js";
import { PickedUnits } from "../form/picked_units.js";
import { SetUp } from "../form/set_up.js";
import { load, refusal, withFields } from "../model/catalogue.js";
import { numberNamed } from "../model/lookup.js";
import { fromSi, unitOf, unitsOf } from "../model/quantities.js";
import { isFault } from "../recipe/values.js";
import { Truck } from "../record/kept_truck.js";
import { reasonWords, write as keepEntry } from "../record/record.js";
import { removeWithUndo } from "../record/undo.js";
import { channelsOf } from "../runs/columns.js";
import { LogError } from "../runs/decode.js";
import { findingOf } from "../runs/finding.js";
import { newRun, runsOf, sourceOf } from "../runs/kept_runs.js";
import { MappingForm } from "../runs/mapping.js";
import { findPulls, median } from "../runs/pulls.js";
import { breathe, readLog } from "../runs/read_log.js";
import { showCounts, showRun } from "../runs/shown.js";
import { weigh } from "../runs/weigh.js";

/**
 * @typedef {import("../runs/kept_runs.js").Source} Source
 * @typedef {import("../model/catalogue.js").Kit} Kit
 * @typedef {import("../recipe/values.js").Inputs} Inputs
 * @typedef {[string, string, string, Object<string, string>]} Offer
 */

const page = need(document, "[data-runs-page]");
const told = JSON.parse(page.dataset.told ?? "{}");

class RunsPage {
  /** @param {Kit} kit @param {Truck} truck */
  constructor(kit, truck) {
    this.kit = kit;
    this.truck = truck;
    this.ofTruck = new OfTruck(kit, truck);
    this.picked = new PickedUnits("reading", kit.quantities);
    const own = withFields(kit, "first-runs", JSON.parse(page.dataset.fields ?? "[]"));
    this.setUp = new SetUp(own, page, () => this.typed(), { truck, isAddressed: false });
    this.mapping = new MappingForm(page, told.channels);
    /** @type {Source | null} */
    this.source = null;
    /** @type {import("../runs/finding.js").Finding | null} */
    this.finding = null;
    this.bind();
    this.setUp.form.showTexts();
    const { problems } = this.setUp.read();
    this.setUp.form.show(problems);
    showJobLine(page, truck);
    const typed = this.typedSource();
    if (typed.bins.length) this.show(typed);
    this.briefTyped();
    this.showKept();
  }

  bind() {
    const { truck } = this;
    truck.stateChanged = () => showJobLine(page, truck);
    truck.changedElsewhere = () => {
      this.ofTruck.changed();
      this.setUp.showJob();
      showJobLine(page, truck);
      this.showKept();
      if (this.source) this.show(this.source);
    };
    const file = /** @type {HTMLInputElement} */ (need(page, "[data-log]"));
    file.addEventListener("change", () => {
      const [log] = file.files ?? [];
      if (log) this.open(log).finally(() => (file.value = ""));
    });
    need(page, "[data-read]").addEventListener("click", () => this.readPulls());
    need(page, "[data-keep]").addEventListener("click", () => this.keep());
    need(page, "[data-print]").addEventListener("click", () => print());
  }

  /** Outside air by the truck's entries, Pa. */
  get ambient() {
    return this.ofTruck.outcome("boost").number("ambient") ?? NaN;
  }

  /** The truck's entries of a lookup. @param {string} key @returns {Inputs} */
  inputsOf(key) {
    const lookup = this.kit.lookups[key];
    const entries = this.ofTruck.entries(lookup, () => undefined);
    return read(lookup.fields, entries, this.kit.quantities).inputs;
  }

  // --- a log ---------------------------------------------------------------------------------

  /** @param {File} file */
  async open(file) {
    this.tellLog("");
    need(page, "[data-mapping]").hidden = true;
    const bar = /** @type {HTMLProgressElement} */ (need(page, "[data-progress-bar]"));
    need(page, "[data-progress]").hidden = false;
    try {
      const log = await readLog(file, (share) => {
        bar.value = share;
        write(need(page, "[data-progress-words]"), `${Math.round(100 * share)} % of ${file.name}`);
      });
      this.log = log;
      this.logName = file.name;
      write(need(page, "[data-log-words]"), logWords(file.name, log));
      await breathe();
      this.mapping.show(log, this.ambient);
      need(page, "[data-mapping]").scrollIntoView({ block: "start" });
    } catch (reason) {
      this.tellLog(
        reason instanceof LogError
          ? reason.message
          : "This file can't be read. Is it still there? Copy it onto the phone and open it again.",
      );
      if (!(reason instanceof LogError)) console.error(reason);
    } finally {
      need(page, "[data-progress]").hidden = true;
    }
  }

  /** @param {string} words */
  tellLog(words) {
    tell(need(page, "[data-log-problem]"), words);
  }

  async readPulls() {
    if (!this.log) return;
    this.tellLog("");
    this.mapping.keep();
    await breathe();
    const channels = channelsOf(told.channels, this.log, this.mapping.mapping, this.ambient);
    await breathe();
    const { bins, rest, counts } = findPulls(channels);
    if (!bins.length) {
      this.tellLog(
        `No pull was found among ${grouped(String(counts.rows))} rows: full throttle while the engine gains 800 rpm or more. Look over the columns of engine speed, boost and throttle, and their units.`,
      );
      return;
    }
    await breathe();
    this.show({ kind: "log", name: this.logName ?? "", bins, rest, counts });
    need(page, "[data-finding]").scrollIntoView({ block: "start" });
  }

  // --- typed readings ------------------------------------------------------------------------

  typed() {
    const { problems } = this.setUp.read();
    this.setUp.form.show(problems);
    this.setUp.handOver();
    this.ofTruck.changed();
    this.briefTyped();
    const source = this.typedSource();
    if (source.bins.length) this.show(source);
    else if (this.source?.kind === "typed") this.hide();
  }

  briefTyped() {
    const { length } = this.typedSource().bins;
    write(need(page, "[data-typed-brief]"), length ? `${length} typed` : "none yet");
  }

  /** @returns {Source} */
  typedSource() {
    const { inputs } = this.setUp.read();
    const { quantities, lookup } = this.setUp.kit;
    const list = lookup.fields.find(({ key }) => key === "run_points");
    const fields = list?.kind === "parts" ? list.fields : [];
    const rows = /** @type {Array<Object<string, any>>} */ (inputs.run_points ?? []);
    const bins = rows
      .map((row) => {
        /** @type {import("../runs/pulls.js").Bin} */
        const bin = { rows: 1 };
        for (const field of fields) {
          const value = row[field.key];
          if (field.kind !== "number" || typeof value !== "number" || !Number.isFinite(value))
            continue;
          if (value < field.low || value > field.high) continue;
          const { factor, offset } = unitOf(unitsOf(field, quantities), field.unit);
          bin[field.key] = value * factor + offset;
        }
        return bin;
      })
      .filter((bin) => "run_speed" in bin && "run_boost" in bin)
      .sort((a, b) => a.run_speed - b.run_speed);
    const rest = inputs.run_rest;
    const field = numberNamed(lookup, "run_rest");
    const { factor, offset } = unitOf(unitsOf(field, quantities), field.unit);
    return {
      kind: "typed",
      name: "Typed readings",
      bins,
      rest: typeof rest === "number" && Number.isFinite(rest) ? rest * factor + offset : null,
      counts: null,
    };
  }

  // --- what it says ----------------------------------------------------------------------------

  hide() {
    this.source = null;
    for (const part of ["[data-finding]", "[data-plots]"]) need(page, part).hidden = true;
  }

  /** @param {Source} source */
  show(source) {
    this.source = source;
    const inputs = this.inputsOf("reading");
    const rest = source.rest ?? this.typedSource().rest;
    const weighed = weigh(this.kit, inputs, source.bins, rest);
    const finding = findingOf(
      told,
      weighed,
      this.kit.lookups["run-causes"],
      (answer) => this.picked.answer(answer),
      rest !== null,
    );
    this.finding = this.judged(finding, weighed);
    this.showFinding(this.finding, source);
    this.showOffers(this.finding, weighed);
    const plan = this.inputsOf("plan");
    const limits = Object.fromEntries(
      Object.entries(/** @type {Object<string, string>} */ (told.limits)).map(([key, field]) => [
        key,
        this.limit(field, plan),
      ]),
    );
    showRun(page, this.kit, this.picked, weighed.readings, plan, limits);
    const holder = need(page, "[data-rows-words]");
    if (source.counts) showCounts(holder, source.counts);
    else write(holder, "Readings as they were typed.");
  }

  /**
   * A limit of the plan, SI. @param {string} key @param {Inputs} plan @returns {number | null}
   */
  limit(key, plan) {
    const field = numberNamed(this.kit.lookups.plan, key);
    const value = key in plan ? plan[key] : field.default;
    const { factor, offset } = unitOf(unitsOf(field, this.kit.quantities), field.unit);
    return typeof value === "number" ? value * factor + offset : null;
  }

  /** The entries that must be this truck's own and are not. */
  lacking() {
    const { reading } = this.kit.lookups;
    const entries = this.ofTruck.entries(reading, () => undefined);
    return /** @type {string[]} */ (told.needed)
      .map((key) => numberNamed(reading, key))
      .filter((field) => !["own", "maker"].includes(this.ofTruck.origin(reading, field, entries)));
  }

  /**
   * Nothing is said of a truck that nobody entered, nor of readings that can't be used.
   * @param {import("../runs/finding.js").Finding} finding
   * @param {import("../runs/weigh.js").Weighed} weighed
   * @returns {import("../runs/finding.js").Finding}
   */
  judged(finding, { words, left, readings }) {
    const lacking = this.lacking();
    const none = { causes: [], tells: [], fit: "", alone: "", status: "unchecked", verdict: NaN };
    if (lacking.length) {
      const names = lacking.map(({ label }) => label.toLowerCase()).join(", ");
      return {
        ...finding,
        ...none,
        stamp: "Not judged",
        title: "Whose truck is it?",
        words: `What is reckoned below is our example's. Enter your own first, under “Your truck”: ${names}.`,
      };
    }
    if (!words) return finding;
    if (left === readings.length)
      return { ...finding, ...none, stamp: "Not judged", title: "No reading can be used", words };
    const out = `${left} of ${readings.length} engine speeds can't be used. ${words}`;
    return { ...finding, words: [finding.words, out].filter(Boolean).join(" ") };
  }

  /** @param {import("../runs/finding.js").Finding} finding @param {Source} source */
  showFinding(finding, source) {
    const { stamp, status, title, words, causes, fit, tells } = finding;
    setStamp(need(page, "[data-verdict]"), status, stamp);
    write(need(page, "[data-source-words]"), `${source.name}, ${source.bins.length} engine speeds`);
    write(need(page, "[data-finding-title]"), title);
    tell(need(page, "[data-finding-words]"), words);
    const isAlone = causes.length === 1;
    need(page, "[data-causes]").replaceChildren(
      ...causes.map(({ told: cause, size }) =>
        make("li", {}, [
          ...(isAlone ? [] : [make("b", {}, [cause.title])]),
          make("p", {}, [[size, cause.evidence].filter(Boolean).join(" ")]),
          make("p", { class: "next" }, [
            "Check next: ",
            cause.check,
            ...(cause.page ? [" ", this.linkTo(cause.page)] : []),
          ]),
        ]),
      ),
    );
    tell(need(page, "[data-fit]"), fit);
    need(page, "[data-tells]").hidden = !tells.length;
    need(page, "[data-tells-list]").replaceChildren(...tells.map((each) => make("li", {}, [each])));
    write(need(page, "[data-kept-words]"), "");
    need(page, "[data-finding]").hidden = false;
  }

  /** @param {string} key a page */
  linkTo(key) {
    const { pathname } = new URL(`../../../${key}/`, import.meta.url);
    return make("a", { href: pathname }, [this.kit.titles[key]]);
  }

  // --- calibration -----------------------------------------------------------------------------

  /**
   * Entries of which a run without another fault says better: offered, never taken.
   * @param {import("../runs/finding.js").Finding} finding
   * @param {import("../runs/weigh.js").Weighed} weighed
   */
  showOffers({ verdict, alone }, { readings }) {
    const items = /** @type {Offer[]} */ (told.offered).flatMap((offer) => {
      const [cause, key, symbol] = offer;
      if (verdict !== told.nothing && alone !== cause) return [];
      const seen = readings.flatMap(({ outcome }) => {
        const value = outcome.value(symbol);
        return isFault(value) || value === undefined ? [] : [value];
      });
      const middle = median(seen);
      return middle === null || seen.length < 4
        ? []
        : [this.offer(offer, key, middle, seen.length)];
    });
    const there = items.filter((item) => item !== null);
    need(page, "[data-offers]").hidden = there.length === 0;
    need(page, "[data-offers-list]").replaceChildren(...there);
  }

  /**
   * @param {Offer} offer @param {string} key @param {number} si @param {number} count
   * @returns {HTMLElement | null} null if the entry says the same, or can't hold it
   */
  offer([, , , choices], key, si, count) {
    const { reading } = this.kit.lookups;
    const field = numberNamed(reading, key);
    const unit = unitOf(unitsOf(field, this.kit.quantities), field.unit);
    const text = String(Math.round(fromSi(si, unit)));
    const value = Number(text);
    const entries = this.ofTruck.entries(reading, () => undefined);
    const isTyped = Object.entries(choices).every(([choice, option]) => entries[choice] === option);
    const now = this.inputsOf("reading")[key] ?? field.default;
    if (value < field.low || value > field.high) return null;
    if (isTyped && Math.abs(Number(now) - value) < 1) return null;
    const changes = new Map([
      [key, { text, unit: field.unit, typed: true }],
      .../** @type {[string, any][]} */ (Object.entries(choices)),
    ]);
    return make("li", {}, [
      `${field.label}: ${withUnit(text, unit.label)} by the median of ${count} engine speeds; `,
      isTyped
        ? `${withUnit(String(now), unit.label)} is reckoned with. `
        : "it is reckoned from something else entered, which this would take the place of. ",
      button(`Use ${withUnit(text, unit.label)}`, () => this.take(changes, field.label)),
    ]);
  }

  /** @param {Map<string, any>} changes @param {string} label */
  take(changes, label) {
    const before = new Map([...changes.keys()].map((key) => [key, this.truck.entry(key)]));
    const enter = (/** @type {Map<string, any>} */ entries) => {
      this.truck.enter(entries);
      this.ofTruck.changed();
      showJobLine(page, this.truck);
      if (this.source) this.show(this.source);
    };
    enter(changes);
    offerBack(
      need(page, "[data-offer-undo]"),
      `${label} is now the run's, on every page. `,
      "Back to before",
      () => enter(before),
    );
    need(page, "[data-offers]").hidden = false;
  }

  // --- kept runs -------------------------------------------------------------------------------

  async keep() {
    const { source, finding } = this;
    if (!source || !finding) return;
    const { stamp, title, status, causes } = finding;
    const words = causes.map(({ told: cause, size }) =>
      [cause.title, size].filter(Boolean).join(": "),
    );
    const holder = need(page, "[data-kept-words]");
    const rest = source.rest ?? this.typedSource().rest;
    try {
      const run = newRun(this.truck.job.name, { ...source, rest }, { stamp, title, status, words });
      await keepEntry("runs", run);
      write(holder, `Kept with ${this.truck.job.name}.`);
    } catch (reason) {
      write(holder, `Not kept. ${reasonWords(reason)}`);
    }
    await this.showKept();
  }

  async showKept() {
    const section = need(page, "[data-kept]");
    /** @type {import("../record/runs.js").Run[]} */
    let runs = [];
    try {
      runs = await runsOf(this.truck.job.name);
    } catch (reason) {
      tell(need(document, "[data-notice]"), `Kept runs can't be read. ${reasonWords(reason)}`);
    }
    section.hidden = runs.length === 0;
    need(page, "[data-kept-list]").replaceChildren(...runs.map((run) => this.card(run)));
  }

  /** @param {import("../record/runs.js").Run} run */
  card(run) {
    const source = sourceOf(run);
    const when = new Date(run.at).toLocaleString(undefined, {
      dateStyle: "medium",
      timeStyle: "short",
    });
    const name = source ? source.name : "A run";
    const stamp = make("strong", { class: "stamp" }, []);
    setStamp(
      stamp,
      source ? String(run.data.said.status) : "unchecked",
      source ? String(run.data.said.stamp) : "Can't be read",
    );
    return make("li", { class: "card" }, [
      make("p", {}, [stamp, ` ${source ? run.data.said.title : ""}`]),
      make("p", { class: "quiet" }, [`${name} · ${when}`]),
      make("p", { class: "card-foot" }, [
        ...(source
          ? [
              button("Show it again", () => {
                this.show(source);
                need(page, "[data-finding]").scrollIntoView({ block: "start" });
              }),
            ]
          : []),
        button("Take it out", () =>
          removeWithUndo("runs", run, name, need(page, "[data-undo]"), () => this.showKept()),
        ),
      ]),
    ]);
  }
}

/** @param {string} name @param {import("../runs/read_log.js").Log} log */
function logWords(name, { count, heads, thrown }) {
  const text = (/** @type {number} */ value) => grouped(String(value));
  const rest = thrown ? `; ${text(thrown)} lines that are no numbers left out` : "";
  return `${name}: ${text(count)} rows of numbers, ${heads.length} columns${rest}.`;
}

Promise.all([load("reading", "run-causes", "plan"), Truck.open()]).then(
  ([kit, truck]) => {
    new RunsPage(kit, truck);
    for (const part of all(page, "[data-log]")) part.removeAttribute("disabled");
    page.dataset.ready = "";
  },
  (reason) => {
    tell(need(document, "[data-notice]"), refusal(reason));
    console.error(reason);
  },
);
