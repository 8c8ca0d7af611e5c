// The rules of the one store of makers' figures; prints what is wrong with each as JSON.

import { readFileSync } from "node:fs";
import { pathToFileURL } from "node:url";
import { check, results, same } from "./checking.mjs";

const [, , scripts, before] = process.argv;
const figures = await import(pathToFileURL(`${scripts}/record/figures.js`).href);
const { store } = JSON.parse(readFileSync(before, "utf-8"));
const [old] = store.stores.jobs;
const NOW = "2026-11-28T12:00:00.000Z";

function ids() {
  let count = 0;
  return () => `new ${(count += 1)}`;
}

const bolt = { thread: "M8x1.25", grade: "8.8", friction: "oiled", joint: "nut" };

function figure(id, choices, more = {}) {
  return figures.newFigure({
    id,
    job: "This job",
    kind: "torque",
    choices: { thread: "M8x1.25", ...choices },
    values: { maker_torque: { text: "20", unit: "Nm" } },
    changed: NOW,
    ...more,
  });
}

const KINDS = [
  { key: "rotor", feeds: ["rotor_limit"], pages: [], picks: [], lines: false },
  { key: "pulleys", feeds: ["rating_pulley", "rating_boost"], pages: [], picks: [], lines: true },
  { key: "torque", feeds: ["maker_torque"], pages: ["torque"], picks: [], lines: false },
];

check("a figure of the first version says the same in this one", () => {
  const [lid, manifold] = store.stores.figures.map(figures.upToDate);
  for (const each of [lid, manifold]) same(figures.isFigure(each), true);
  same(manifold.choices, {
    thread: "M8x1.25",
    grade: "10.9",
    friction: "oiled",
    reuse: "single use",
  });
  same(manifold.values, {
    maker_torque: { text: "18", unit: "lbft" },
    maker_angle: { text: "90", unit: "deg" },
  });
  same(manifold.texts, { sequence: "Centre outward, three stages" });
  same(
    [lid.id, lid.name, lid.source, lid.page],
    [store.stores.figures[0].id, "Lid", "Fitting sheet, edition 3", "7"],
  );
  same(lid.choices, { thread: "M6x1" });
});

check("what stood in the job comes into the one store, torque and angle as one figure", () => {
  const { job, figures: found } = figures.figuresOfJob(old, ids(), NOW);
  same(job.kept, {});
  same(job.entries, old.entries);
  same(found.every(figures.isFigure), true);
  same(
    found.map(({ kind, values }) => [kind, values]),
    [
      [
        "torque",
        {
          maker_torque: { text: "22,5", unit: "Nm" },
          maker_angle: { text: "60", unit: "deg" },
        },
      ],
      ["torque", { maker_torque: { text: "33", unit: "lbft" } }],
      ["hose", { makers_radius: { text: "150", unit: "mm" } }],
    ],
  );
  same(
    found.map(({ source, job: name }) => [source, name]),
    [
      ["Sheet 4, line 2", "Green truck"],
      ["", "Green truck"],
      ["Hose sheet, p. 2", "Green truck"],
    ],
  );
  // A nut is in nothing that is tapped.
  same(found[1].choices, { thread: "M10x1.5", grade: "8.8", friction: "oiled", joint: "nut" });
});

check("what is not known is left where it was", () => {
  const kept = { "other entry a=b": { text: "5", unit: "mm", source: "" } };
  const { job, figures: found } = figures.figuresOfJob({ ...old, kept }, ids(), NOW);
  same([job.kept, found], [kept, []]);
});

check("the same radius kept on both pages of hoses is one figure", () => {
  const part = "makers_radius hose_kind=textile_coolant bore=0.75in";
  const each = { text: "150", unit: "mm", source: "" };
  const kept = { [`hose-bend ${part}`]: each, [`hose-run ${part}`]: each };
  same(figures.figuresOfJob({ ...old, kept }, ids(), NOW).figures.length, 1);
});

check("a figure of a newer version is none", () => {
  same(figures.isFigure({ ...figure("a", {}), schema: 3 }), false);
  same(figures.isFigure(figures.upToDate({ schema: 3 })), false);
});

check("a figure fits where all that its sheet states is so", () => {
  const open = figure("open", {});
  const just = figure("just", { grade: "8.8", friction: "oiled" });
  const other = figure("other", { grade: "10.9" });
  same(
    figures.matching([open, other, just], "torque", bolt).map(({ id }) => id),
    ["just", "open"],
  );
});

check("one for another class is offered beside, one for another thread is not", () => {
  const other = figure("other", { grade: "10.9" });
  const thread = figure("thread", { thread: "M10x1.5" });
  same(
    figures.beside([other, thread, figure("open", {})], bolt).map(({ id }) => id),
    ["other"],
  );
  same(figures.differing(other, bolt), ["grade"]);
});

check("of several that fit none is used until one is picked", () => {
  const [a, b] = [figure("a", {}), figure("b", {})];
  same(figures.inUse([a, b]), null);
  same(figures.inUse([a]), a);
  const picked = { ...b, used: NOW };
  same(figures.inUse([a, picked]), picked);
  same(figures.inUse([{ ...a, used: "2027" }, picked]).id, "a");
});

check("a lone limit feeds its entry; of two none does until one is picked", () => {
  const values = { rotor_limit: { text: "15000", unit: "rpm" } };
  const [a, b] = ["a", "b"].map((id) => figure(id, {}, { kind: "rotor", values }));
  same(figures.feeding([a], KINDS, "rotor_limit").figure, a);
  const open = figures.feeding([a, b], KINDS, "rotor_limit");
  same([open.figure, open.others.length], [null, 2]);
  same(figures.feeding([a], KINDS, "rating_boost").figure, null);
});

check("all entries of a line come from the same line", () => {
  const pulley = { text: "88", unit: "mm" };
  const boost = { text: "80", unit: "kPa" };
  const first = figure("1", {}, { kind: "pulleys", values: { rating_pulley: pulley } });
  const next = figure(
    "2",
    {},
    { kind: "pulleys", values: { rating_pulley: pulley, rating_boost: boost }, changed: "2027" },
  );
  for (const key of ["rating_pulley", "rating_boost"])
    same(figures.feeding([next, first], KINDS, key).figure.id, "1");
  const picked = { ...next, used: NOW };
  same(figures.feeding([picked, first], KINDS, "rating_boost").figure.id, "2");
});

check("what belongs to a bolt is not spread over the pages", () => {
  same(figures.feeding([figure("a", {})], KINDS, "maker_torque"), null);
});

check("a unit that no page knows is told apart", () => {
  const kinds = [{ key: "torque", values: { maker_torque: "torque" } }];
  const quantities = { torque: { units: [{ key: "Nm" }] } };
  same(figures.hasKnownUnits(figure("a", {}), kinds, quantities), true);
  const values = { maker_torque: { text: "20", unit: "cubits" } };
  same(figures.hasKnownUnits(figure("a", {}, { values }), kinds, quantities), false);
});

check("a bare number is said to be a page", () => {
  same(figures.origin(figure("a", {}, { source: "Sheet 1", page: "12" })), "Sheet 1, page 12");
  same(figures.origin(figure("a", {}, { source: "", page: "p. 3, line 4" })), "p. 3, line 4");
});

console.log(JSON.stringify(results));
