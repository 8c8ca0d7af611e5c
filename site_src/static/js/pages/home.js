/** The front page: the job in hand, what is begun and what is next, the other jobs, the units. */

import { all, button, make, need, offerBack, setStamp, tell, write } from "../face/dom.js";
import { firstWords, inOrder } from "../face/ladder.js";
import { withUnit } from "../face/numbers.js";
import { showAnswer, shownNamed, STATUS_WORDS, worst } from "../face/words.js";
import { brief } from "../form/entries.js";
import { showOrigins } from "../form/origins.js";
import { PickedUnits } from "../form/picked_units.js";
import { SetUp } from "../form/set_up.js";
import { nextEntry, stockOf } from "../form/stock.js";
import { load, withFields } from "../model/catalogue.js";
import { answerNamed, numberNamed } from "../model/lookup.js";
import { howFar } from "../bolts/cards.js";
import { nextPoint, readiness, stagesNow } from "../holds/points.js";
import { readKept, whenChanged } from "../record/kept_holds.js";
import { unsaved } from "../record/copy_due.js";
import { saveRecord } from "../record/exchange.js";
import { jobInHand, jobNames, keep, nameJob, readJobs, removeJob, takeUp } from "../record/jobs.js";
import { ofJob } from "../record/figures.js";
import {
  newId,
  readFigures,
  readMaps,
  reasonWords,
  write as keepInRecord,
} from "../record/record.js";
import { recall, remember, reset, storeTrouble } from "../record/store.js";
import { Truck } from "../record/kept_truck.js";

/** @typedef {import("../record/job.js").Job} Job */
/** @typedef {import("../record/kept_holds.js").Kept} Kept */

/** What tells one truck from another, in a line, in words short enough for one. */
const TRUCK_LINE = new Map([
  ["engine_displacement", "Engine"],
  ["blower_displacement", "Blower"],
  ["crank_pulley", "Crank"],
]);

const PULLEY = "blower_pulley";

const home = need(document, "main");

/** The job in hand, with what it makes. */
class InHand {
  /** @param {import("../model/catalogue.js").Kit} plan @param {Truck} truck */
  constructor(plan, truck) {
    this.plan = plan;
    this.truck = truck;
    this.picked = new PickedUnits(plan.lookup.key, plan.quantities);
    const fields = JSON.parse(need(home, "[data-form]").dataset.fields ?? "[]");
    const kit = withFields(plan, "home", fields);
    this.setUp = new SetUp(kit, home, () => this.changed(), {
      truck,
      isAddressed: false,
    });
    truck.stateChanged = () => this.tellKept();
    truck.changedElsewhere = () => {
      this.setUp.showJob();
      this.update();
      showJobs();
    };
    this.setUp.form.showTexts();
    this.update();
  }

  changed() {
    this.setUp.handOver();
    this.update();
  }

  update() {
    const { lookup, quantities } = this.plan;
    const ofTruck = /** @type {import("../form/of_truck.js").OfTruck} */ (this.setUp.ofTruck);
    const { problems } = this.setUp.read();
    this.setUp.form.show(problems);
    showOrigins(this.setUp, () => this.update());
    const outcome = ofTruck.outcome(lookup.key);
    const everything = lookup.answers.map((answer) =>
      showAnswer(this.plan, answer, outcome, this.picked.answer(answer), problems),
    );
    const entries = ofTruck.entries(lookup, (path, field) => this.picked.entry(path, field));
    const told = /** @param {string} key */ (key) =>
      brief(numberNamed(lookup, key), entries, quantities);
    write(need(home, "[data-job]"), this.truck.job.name);
    write(
      need(home, "[data-truck-line]"),
      this.truck.isEmpty
        ? "No truck entered yet. Until then every page shows an example."
        : this.truckLine(told, (field) => ofTruck.origin(lookup, field, entries) === "example"),
    );
    write(need(home, "[data-altitude]"), `Altitude ${told("altitude")}`);
    write(need(home, "[data-start]"), this.truck.isEmpty ? "Start your truck" : "Your truck");
    this.showWhatItMakes(everything, outcome);
    this.showNextPulleys();
  }

  /**
   * What tells this truck from another; what nobody entered is said to be an example.
   * @param {(key: string) => string} told
   * @param {(field: import("../model/lookup.js").Field) => boolean} isExample
   */
  truckLine(told, isExample) {
    const words = /** @param {string} key */ (key) => `${TRUCK_LINE.get(key)}\u00a0${told(key)}`;
    const keys = [...TRUCK_LINE.keys()];
    const invented = keys.filter((key) => isExample(numberNamed(this.plan.lookup, key)));
    const entered = keys.filter((key) => !invented.includes(key)).map(words);
    const examples = invented.length ? [`Examples: ${invented.map(words).join(", ")}`] : [];
    return [...entered, ...examples].join(" · ");
  }

  /** What the next smaller and the next larger pulley would make, before one is fitted. */
  showNextPulleys() {
    const { plan } = this;
    const { kit, entries } = this.setUp;
    const ofTruck = /** @type {import("../form/of_truck.js").OfTruck} */ (this.setUp.ofTruck);
    const field = numberNamed(kit.lookup, PULLEY);
    const entry = /** @type {import("../form/entries.js").NumberEntry} */ (entries[PULLEY]);
    const stock = stockOf(field, kit, entries);
    const boost = answerNamed(plan.lookup, "boost");
    const told = /** @type {const} */ ([-1, 1]).flatMap((way) => {
      const next = nextEntry(field, entry, stock, plan.quantities, way);
      if (!next) return [];
      const outcome = ofTruck.outcomeWith(plan.lookup.key, { [PULLEY]: next });
      const shown = showAnswer(plan, boost, outcome, this.picked.answer(boost), []);
      if (shown.fault) return [];
      const pulley = brief(field, { [PULLEY]: next }, plan.quantities);
      return [`${pulley}:\u00a0${withUnit(shown.text, shown.unit.label)}`];
    });
    write(need(home, "[data-next-pulleys]"), told.length ? `Next: ${told.join(" · ")}` : "");
  }

  /**
   * @param {import("../face/words.js").Shown[]} everything
   * @param {import("../recipe.js").Outcome} outcome
   */
  showWhatItMakes(everything, outcome) {
    const [boost, low, high] = ["boost", "power_low", "power_high"].map(
      (key) => /** @type {import("../face/words.js").Shown} */ (shownNamed(everything, key)),
    );
    const stamp = need(home, ".runs-out .stamp");
    const said = need(home, "[data-first-words]");
    if (boost.fault) {
      write(need(home, "[data-makes-words]"), boost.words);
      setStamp(stamp, "", "");
      write(said, "");
      return;
    }
    const power =
      low.fault || high.fault ? "" : `, ${low.text} to ${withUnit(high.text, high.unit.label)}`;
    write(
      need(home, "[data-makes-words]"),
      `${withUnit(boost.text, boost.unit.label)} boost${power}`,
    );
    const limits = inOrder(this.plan.lookup.views.ladder?.rungs ?? [], everything, outcome);
    const status = worst(limits.map(({ shown }) => shown))?.status ?? "";
    setStamp(stamp, status, STATUS_WORDS[status] ?? "");
    write(said, firstWords(limits));
  }

  /** The system of units was changed. */
  unitsChanged() {
    this.picked = new PickedUnits(this.plan.lookup.key, this.plan.quantities);
    this.setUp.unitsChanged();
    this.update();
  }

  tellKept() {
    const { state, words } = this.truck;
    tell(need(home, "[data-kept-problem]"), state === "lost" ? `Not kept. ${words}` : "");
  }
}

// --- what is begun -------------------------------------------------------------------------------

async function showOpenWork() {
  const { good } = await readMaps().catch(() => ({ good: [] }));
  const begun = good.filter(({ finished }) => !finished);
  need(home, "[data-open-work]").replaceChildren(
    ...begun.map((map) =>
      make("li", {}, [
        make("a", { href: `tightening/#bolts=${map.id}` }, [
          make("b", {}, [`Go on: ${map.title}`]),
          make("span", {}, [howFar(map)]),
        ]),
      ]),
    ),
  );
}

/**
 * What is done and in no file yet.
 * @param {import("../holds/points.js").StageNow[]} stages @param {Kept} kept
 */
function showUnsaved(stages, kept) {
  const words = unsaved(stages, kept);
  need(home, "[data-unsaved]").hidden = !words;
  write(need(home, "[data-unsaved-words]"), words);
}

need(home, "[data-save]").addEventListener("click", () =>
  saveRecord().then(
    (said) => write(need(home, "[data-unsaved-words]"), said),
    (reason) => write(need(home, "[data-unsaved-words]"), reasonWords(reason)),
  ),
);

/** The next hold point, once there is a truck or something was signed. */
async function showNextHold() {
  const link = /** @type {HTMLAnchorElement} */ (need(home, "[data-next-hold]"));
  const kept = await readKept();
  const stages = stagesNow(JSON.parse(home.dataset.holds ?? "[]"), kept);
  const { isReady, open } = readiness(stages, kept);
  const next = nextPoint(stages);
  showUnsaved(stages, kept);
  const isBegun = kept.holds.length > 0 || page?.truck.isEmpty === false;
  link.hidden = !isBegun || (isReady && !next);
  const due = isReady && next?.point.isDue;
  const stamp = need(link, "[data-hold-stamp]");
  if (due) setStamp(stamp, "near", "due");
  else setStamp(stamp, isReady ? "within" : "unchecked", isReady ? "READY" : "not ready");
  const count = open.length === 1 ? "1 hold point is open" : `${open.length} hold points are open`;
  write(need(link, "[data-hold-count]"), isReady ? "to be cranked" : count);
  write(need(link, "[data-hold-words]"), next ? `Next: ${next.point.title}` : "Pre-start");
  // What is next is signed on its own card; what can't be read is told on the pre-start page.
  link.href = next ? `holds/#${encodeURIComponent(next.point.key)}` : "pre-start/";
}

// --- jobs ----------------------------------------------------------------------------------------

const told = need(home, "[data-told]");
const name = /** @type {HTMLInputElement} */ (need(home, "[data-job-name]"));

/** @param {() => Promise<void>} act */
async function orSay(act) {
  try {
    await act();
    write(told, "");
  } catch (reason) {
    write(told, reasonWords(reason));
  }
  await showJobs();
}

async function showJobs() {
  try {
    const names = await jobNames();
    showName(names[0]);
    const others = names.slice(1);
    need(home, "[data-job-list]").replaceChildren(...others.map(jobRow));
  } catch (reason) {
    write(told, reasonWords(reason));
  }
}

/** Show the name, but not over one that is being typed. @param {string} of the job in hand */
function showName(of) {
  const isTyped = document.activeElement === name && name.value !== name.defaultValue;
  if (!isTyped) name.value = of;
  name.defaultValue = of;
  name.disabled = false;
}

/** @param {string} other a job's name */
function jobRow(other) {
  return make("li", {}, [
    make("b", {}, [other]),
    button("Go to it", () => orSay(() => switchTo(other))),
    button("Delete", () => orSay(() => drop(other))),
  ]);
}

/** @param {string} other */
async function switchTo(other) {
  await takeUp(other);
  await page?.truck.readAgain();
}

/**
 * Delete a job's truck, with a way back. Its maps and figures stay.
 * @param {string} other
 */
async function drop(other) {
  const job = (await readJobs()).find((each) => each.name === other);
  if (!job) throw new Error(`“${other}” has maps, figures or hold points. Delete those first.`);
  await removeJob(job.id);
  const said = `The truck of “${other}” is gone. `;
  offerBack(need(home, "[data-undo]"), said, "Bring it back", () => orSay(() => keep(job)));
}

/** @param {string[]} names @param {string} wanted */
function freeName(names, wanted) {
  let free = wanted;
  for (let n = 2; names.includes(free); n += 1) free = `${wanted} ${n}`;
  return free;
}

/** A copied job has the same makers' figures. @param {string} from @param {string} to */
async function copyFigures(from, to) {
  for (const figure of ofJob((await readFigures()).good, from))
    await keepInRecord("figures", { ...figure, id: newId(), rev: 0, job: to });
}

/** What was done to one truck was not done to its copy. @param {Job["entries"]} entries */
function withoutTicks(entries) {
  return Object.fromEntries(Object.entries(entries).filter(([key]) => !key.startsWith("ticked ")));
}

/** @param {boolean} isCopy */
async function begin(isCopy) {
  const job = await jobInHand();
  const names = (await readJobs()).map((each) => each.name);
  const free = freeName(names, isCopy ? `${job.name}, copy` : "New job");
  await takeUp(free, isCopy ? { entries: withoutTicks(job.entries) } : {});
  if (isCopy) await copyFigures(job.name, free);
  await page?.truck.readAgain();
}

need(home, "[data-new-job]").addEventListener("click", () => orSay(() => begin(false)));
need(home, "[data-copy-job]").addEventListener("click", () => orSay(() => begin(true)));
name.addEventListener("change", () =>
  orSay(async () => {
    name.defaultValue = name.value;
    const wanted = name.value.trim();
    if (wanted) await nameJob(wanted);
    await page?.truck.readAgain();
  }),
);

// --- the phone -----------------------------------------------------------------------------------

const systems = /** @type {HTMLInputElement[]} */ (all(home, "[data-systems] input"));

function showSystems() {
  const { system, units } = recall();
  document.documentElement.dataset.system = system;
  for (const input of systems) input.checked = input.value === system;
  const picked = Object.keys(units).length;
  write(
    need(home, "[data-picked]"),
    picked ? `Units picked one by one on a page stay as they are: ${picked}.` : "",
  );
}

for (const input of systems) {
  input.addEventListener("change", () => {
    remember((state) => {
      state.system = input.value;
    });
    showSystems();
    page?.unitsChanged();
  });
}
need(home, "[data-forget]").addEventListener("click", () => {
  reset();
  showSystems();
  page?.unitsChanged();
  write(
    told,
    storeTrouble() || "Forgotten: picked units and screen mode. The jobs are as they were.",
  );
});

/** @type {InHand | null} */
let page = null;

showSystems();
showOpenWork();
showJobs();
showNextHold();
whenChanged(showNextHold);
Promise.all([load("plan"), Truck.open()]).then(
  ([plan, truck]) => {
    page = new InHand(plan, truck);
    showNextHold();
  },
  (reason) => {
    need(home, "[data-makes]").hidden = true;
    console.error(reason);
  },
);
