// The rules of hold points and first runs as they are kept; prints what is wrong with each as JSON.

import { pathToFileURL } from "node:url";
import { check, results, same } from "./checking.mjs";

const [, , scripts, declared] = process.argv;
const holds = await import(pathToFileURL(`${scripts}/record/holds.js`).href);
const runs = await import(pathToFileURL(`${scripts}/record/runs.js`).href);
const points = await import(pathToFileURL(`${scripts}/holds/points.js`).href);
const stages = JSON.parse(declared);

let minute = 0;
function deed(what, more = {}) {
  minute += 1;
  const at = new Date(Date.UTC(2026, 10, 29, 8, minute)).toISOString();
  return { do: what, at, who: "Jo", note: "", photo: "", ...more };
}

function hold(point, log, more = {}) {
  return { ...holds.newHold("Job", point, more.stage ?? ""), log, ...more };
}

const NOTHING = {
  job: "Job",
  trouble: "",
  holds: [],
  broken: [],
  strays: [],
  maps: [],
  brokenMaps: [],
  brokenJobs: [],
  lastWho: "",
};
const every = stages.flatMap((stage) => stage.points.map(({ key }) => key));
const beforeKey = stages
  .filter(({ when }) => when === "before the key")
  .flatMap((stage) => stage.points.map(({ key }) => key));

function map(finished) {
  const dial = { plain: "10 N·m", offset: "" };
  return {
    schema: 2,
    id: "m",
    rev: 1,
    job: "Job",
    title: "Lid",
    pattern: { kind: "grid", rows: 1, columns: 1, count: 1 },
    places: [[0, 0]],
    names: ["1"],
    orderBy: "maker",
    bolt: "M8",
    judged: "",
    quarters: 0,
    torque: "10 N·m",
    source: "",
    notes: [],
    offset: { bolts: [], words: "" },
    unit: "Nm",
    stages: [{ kind: "torque", share: 1, angle: 0, order: [0], dial }],
    wrench: "",
    who: "Jo",
    voice: false,
    started: "2026-11-29T07:00:00.000Z",
    finished,
    steps: [],
  };
}

/** All before the key signed, and one finished map. */
function ready(more = {}) {
  const signed = beforeKey.map((key) => hold(key, [deed("signed")]));
  return { ...NOTHING, holds: signed, maps: [map("2026-11-29T07:30:00.000Z")], ...more };
}

function judged(kept) {
  return points.readiness(points.stagesNow(stages, kept), kept);
}

function without(key, ...others) {
  return [...ready().holds.filter(({ point }) => point !== key), ...others];
}

// --- one point -----------------------------------------------------------------------------------

check("what was never touched is open", () => {
  same(holds.standing([]).state, "open");
});

check("the last deed decides, and a way back gives the same signature again", () => {
  const signed = deed("signed", { note: "seen" });
  const noted = deed("noted", { note: "again" });
  const log = [signed, noted, deed("taken back")];
  same(holds.standing(log).state, "open");
  const back = holds.standing([...log, deed("put back")]);
  same([back.state, back.deed, back.more], ["signed", signed, [noted]]);
});

check("what could not be read counts as open", () => {
  same(holds.standing([deed("signed"), deed("unreadable")]).state, "open");
});

check("an own point goes by its last name, and is gone only while it is deleted", () => {
  const log = [deed("added", { note: "Fan shroud on" }), deed("renamed", { note: "Shroud on" })];
  same(holds.standing(log).title, "Shroud on");
  same(holds.standing([...log, deed("deleted")]).isGone, true);
  same(holds.standing([...log, deed("deleted"), deed("brought back")]).isGone, false);
});

const PHOTO = `data:image/jpeg;base64,${"A".repeat(400)}`;
const GOOD = hold("fuel_tight", [deed("signed", { photo: PHOTO }), deed("taken back")]);

check("a hold point that a page wrote is one", () => {
  same(holds.isHold(GOOD), true);
  const own = hold("own 1", [deed("added", { note: "Fan on", who: "" })], { stage: "bolt" });
  same(holds.isHold(own), true);
});

const BAD = {
  nothing: null,
  "another schema": { ...GOOD, schema: 2 },
  "another point's id": { ...GOOD, point: "blower_oil" },
  "no log": { ...GOOD, log: [] },
  "a log of words": { ...GOOD, log: "signed" },
  "a signature without a name": { ...GOOD, log: [deed("signed", { who: " " })] },
  "a skip without a reason": { ...GOOD, log: [deed("skipped")] },
  "a time that is none": { ...GOOD, log: [deed("signed", { at: "yesterday" })] },
  "a deed that nobody knows": { ...GOOD, log: [deed("approved")] },
  "a photo that is a page": { ...GOOD, log: [deed("signed", { photo: "data:text/html,<b>" })] },
  "a photo from elsewhere": { ...GOOD, log: [deed("signed", { photo: "//host/a.jpg" })] },
  "a photo that breaks out": { ...GOOD, log: [deed("signed", { photo: `${PHOTO}" x="` })] },
  "a photo too large": { ...GOOD, log: [deed("signed", { photo: PHOTO + "A".repeat(99_000) })] },
  "a note too long": { ...GOOD, log: [deed("signed", { note: "x".repeat(5000) })] },
  "a log too long": { ...GOOD, log: Array.from({ length: 301 }, () => deed("noted")) },
  "an own point that nobody added": hold("own 2", [deed("signed")], { stage: "bolt" }),
};

check("whatever else is stored there is none", () => {
  same(
    Object.keys(BAD).filter((name) => holds.isHold(BAD[name])),
    [],
  );
});

check("two logs are joined by time, each deed once", () => {
  const [a, b, c] = [deed("signed"), deed("taken back"), deed("signed")];
  same(holds.joined([a, b], [a, c]), [a, b, c]);
  same(holds.joined([a, c], [b]), [a, b, c]);
  const ours = [a, b];
  same(holds.joined(ours, [a]) === ours, true);
});

// --- the job -------------------------------------------------------------------------------------

check("a fresh job has nothing signed, one open stage and is not ready", () => {
  const found = points.stagesNow(stages, NOTHING);
  same(
    found.every(({ points: all }) => all.every(({ isOpen }) => isOpen)),
    true,
  );
  same(
    found.filter(({ waitsFor }) => !waitsFor).map(({ key }) => key),
    [stages[0].key],
  );
  const { isReady, open } = judged(NOTHING);
  same([isReady, open.length], [false, beforeKey.length]);
  same(open[0].to, "holds/#blower_oil");
});

check("with all before the key signed and the maps finished it is ready", () => {
  same(judged(ready()).isReady, true);
  same(judged(ready()).open, []);
});

check("no single open point leaves it ready", () => {
  for (const key of beforeKey)
    same([key, judged(ready({ holds: without(key) })).isReady], [key, false]);
});

check("a point taken back is open, and closes the stages after it", () => {
  const kept = ready({
    holds: without("loop_flow", hold("loop_flow", [deed("signed"), deed("taken back")])),
  });
  same(
    judged(kept).open.map(({ to }) => to),
    ["holds/#loop_flow"],
  );
  const after = points.stagesNow(stages, kept).filter(({ waitsFor }) => waitsFor === "Plumb");
  same(after[0].key, "feed");
});

check("a skip with a reason counts, and is told with it", () => {
  const skip = hold("blower_oil", [deed("skipped", { note: "Has no oil of its own" })]);
  const { isReady, skipped } = judged(ready({ holds: without("blower_oil", skip) }));
  same([isReady, skipped.length], [true, 1]);
  same(skipped[0].stage, "Skipped: Has no oil of its own");
});

check("an open map speaks against it whatever was signed or skipped", () => {
  const open = { ...map(""), id: "other", title: "Flange" };
  const kept = ready({ maps: [map("2026-11-29T07:30:00.000Z"), open] });
  for (const log of [[deed("signed")], [deed("skipped", { note: "on paper" })]]) {
    const found = judged({ ...kept, holds: without("maps", hold("maps", log)) });
    same(found.isReady, false);
    same(found.open[0].to, "tightening/#bolts=other");
  }
  const [stage] = points.stagesNow(stages, kept);
  const point = stage.points.find(({ key }) => key === "maps");
  same([point.canSign, point.canSkip, point.why.includes("Flange")], [false, false, true]);
});

check("without any map it can't be signed that they are complete, only skipped", () => {
  const [stage] = points.stagesNow(stages, NOTHING);
  const point = stage.points.find(({ key }) => key === "maps");
  same([point.canSign, point.canSkip], [false, true]);
});

check("whatever can't be read speaks against it", () => {
  for (const bad of [
    { trouble: "This phone keeps nothing." },
    { strays: [{}] },
    { brokenMaps: [{}] },
    { brokenJobs: [{}] },
    { broken: ["blower_oil"] },
  ])
    same([Object.keys(bad), judged(ready(bad)).isReady], [Object.keys(bad), false]);
});

check("no stages at all are not ready", () => {
  same(points.readiness([], NOTHING).isReady, false);
});

check("an own point holds its stage, and one of a stage that is no more holds the key", () => {
  const own = hold("own 1", [deed("added", { note: "Fan on" })], { stage: "drive" });
  const lost = hold("own 2", [deed("added", { note: "Lost" })], { stage: "no such stage" });
  const kept = ready();
  const found = judged({ ...kept, holds: [...kept.holds, own, lost] });
  same([found.isReady, found.open.map(({ words }) => words)], [false, ["Fan on", "Lost"]]);
  const gone = { ...own, log: [...own.log, deed("deleted")] };
  same(judged({ ...kept, holds: [...kept.holds, gone] }).isReady, true);
});

check("what comes after heat is due once the start is signed, and not before", () => {
  same(judged(ready()).due, []);
  const kept = ready();
  const start = stages
    .find(({ when }) => when === "at the first start")
    .points.map(({ key }) => hold(key, [deed("signed")]));
  const { due, isReady } = judged({ ...kept, holds: [...kept.holds, ...start] });
  same([isReady, due.length], [true, every.length - beforeKey.length - start.length]);
});

check("the next point is the first that is open", () => {
  const { point } = points.nextPoint(points.stagesNow(stages, ready()));
  same(point.key, "started");
  const all = [...ready().holds, ...every.map((key) => hold(key, [deed("signed")]))];
  same(points.nextPoint(points.stagesNow(stages, ready({ holds: all }))), null);
});

// --- first runs ----------------------------------------------------------------------------------

const RUN = {
  schema: 1,
  id: "r",
  rev: 0,
  job: "Job",
  at: "2026-11-29T08:00:00.000Z",
  data: { rows: [[1, 2.5, null]], note: "warm", fits: true },
};

check("a run is plain data, all the way down", () => {
  same(runs.isRun(RUN), true);
  let deep = {};
  for (let n = 0; n < 50; n += 1) deep = { deep };
  for (const data of [
    null,
    [],
    { x: undefined },
    { x: Number.NaN },
    { x: { y: Infinity } },
    { x: [[() => 1]] },
    { x: "y".repeat(5000) },
    { x: Array.from({ length: 200_000 }, () => 0) },
    deep,
  ])
    same(runs.isRun({ ...RUN, data }), false);
  for (const bad of [{ at: "then" }, { id: "" }, { rev: 0.5 }, { job: 7 }])
    same(runs.isRun({ ...RUN, ...bad }), false);
});

process.stdout.write(JSON.stringify(results));
