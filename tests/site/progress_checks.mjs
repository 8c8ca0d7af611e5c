// Checks of the working mode's own rules, under Node. tests/site/test_progress_js.py runs them.
// Usage: node progress_checks.mjs STATIC_JS_FOLDER > results.json
import assert from "node:assert/strict";
import { pathToFileURL } from "node:url";
import { check, results } from "./checking.mjs";

const folder = pathToFileURL(`${process.argv[2]}/`);
const w = await import(new URL("bolts/progress.js", folder));
const { call, said } = await import(new URL("bolts/call.js", folder));
const sheet = await import(new URL("bolts/makers_order.js", folder));
const stageRules = await import(new URL("bolts/stages.js", folder));
const order = await import(new URL("bolts/order.js", folder));
const { circlePlaces } = await import(new URL("bolts/drawing.js", folder));

const AT = "2026-03-04T10:42:00.000Z";

/** Torques, then an angle or else a check. */
function stagesOf({ shares, hasCheck, angle, turns, dials }) {
  const stages = shares.map((share, n) => ({
    kind: "torque",
    share,
    angle: 0,
    order: turns,
    dial: dials[n],
  }));
  if (angle) stages.push(turning(turns, angle));
  else if (hasCheck)
    stages.push({
      kind: "check",
      share: 0,
      angle: 0,
      order: turns.map((_, n) => n),
      dial: dials[dials.length - 1],
    });
  return stages;
}

function turning(turns, angle) {
  return {
    kind: "angle",
    share: 0,
    angle: Number.parseFloat(angle),
    order: turns,
    dial: { plain: angle, offset: angle },
  };
}

function loosening(turns) {
  return {
    kind: "loosen",
    share: 0,
    angle: 0,
    order: [...turns].reverse(),
    dial: { plain: "slack", offset: "slack" },
  };
}

function newMap({
  count = 4,
  shares = [0.5, 1],
  check: hasCheck = true,
  angle = "",
  offset = [],
} = {}) {
  const places = circlePlaces(count);
  const dials = shares.map((share) => ({
    plain: `${40 * share} N·m`,
    offset: `${30 * share} N·m`,
  }));
  const turns = order.circleOrder(count);
  return {
    schema: w.SCHEMA,
    id: "map",
    rev: 0,
    job: "Job",
    title: "Lid",
    pattern: { kind: "circle", rows: 0, columns: 0, count },
    places,
    names: places.map((_, bolt) => String(turns.indexOf(bolt) + 1)),
    orderBy: "worked",
    bolt: "M8 × 1.25, 8.8",
    judged: "",
    quarters: 0,
    torque: "40 N·m",
    source: "",
    notes: [],
    offset: { bolts: offset, words: "" },
    unit: "N·m",
    stages: stagesOf({ shares, hasCheck, angle, turns, dials }),
    wrench: "",
    who: "",
    voice: false,
    started: AT,
    finished: "",
    steps: [],
  };
}

const ask = (map) => w.progressOf(map).ask;
const tap = (map, times = 1) =>
  Array.from({ length: times }).reduce((each) => w.confirm(each, AT), map);

/** Confirm until every bolt is done; what was asked for, in words. */
function toTheEnd(map, most = 2000) {
  const asked = [];
  let now = map;
  while (ask(now).kind !== "all done") {
    asked.push(`${ask(now).kind} ${ask(now).stage} ${ask(now).bolt}`);
    assert.ok(asked.length < most, "never ends");
    now = tap(now);
  }
  return { map: now, asked };
}

function random(seed) {
  let state = seed;
  return (below) => {
    state = (state * 48271) % 2147483647;
    return state % below;
  };
}

check("each pass asks for every bolt once, in its order, the dial first", () => {
  const map = newMap({ count: 5 });
  const { asked } = toTheEnd(map);
  const wanted = map.stages.flatMap(({ order: bolts }, stage) => [
    `set ${stage} ${bolts[0]}`,
    ...bolts.map((bolt) => `bolt ${stage} ${bolt}`),
  ]);
  assert.deepEqual(asked, wanted);
});

check("a pass is not left with a bolt open, whatever is tapped", () => {
  for (let seed = 1; seed <= 200; seed += 1) {
    const draw = random(seed * 7919);
    let map = newMap({
      count: 3 + draw(6),
      offset: draw(2) ? [1] : [],
      angle: draw(3) ? "" : "90°",
    });
    let before = w.progressOf(map);
    for (let n = 0; n < 300 && before.ask.kind !== "all done"; n += 1) {
      map = anyTap(map, draw);
      const now = w.progressOf(map);
      if (now.stage > before.stage) assert.equal(before.settled.size, map.places.length - 1);
      assert.ok(now.ask.kind === "all done" || now.settled.size < map.places.length);
      for (const bolt of now.doubtful.keys()) assert.ok(!now.settled.has(bolt));
      before = now;
    }
  }
});

function anyTap(map, draw) {
  const at = w.progressOf(map);
  const choice = draw(10);
  const [last] = w.lastDone(map, at);
  if (choice === 0 && map.steps.length) return w.back(map);
  if (choice === 1 && last !== undefined) return w.doubt(map, last, AT);
  if (choice === 2 && w.canHaveTurned(map, at) && at.round < 2) return w.stillTurned(map, AT);
  return w.confirm(map, AT);
}

check("going back restores exactly what was, to the first tap", () => {
  const draw = random(4711);
  let map = newMap({ count: 6, offset: [2] });
  const seen = [map];
  for (let n = 0; n < 120 && ask(map).kind !== "all done"; n += 1) {
    const next = anyTap(map, draw);
    if (next.steps.length < map.steps.length) seen.pop();
    else seen.push(next);
    map = next;
  }
  while (map.steps.length) {
    assert.deepEqual(map, seen.pop());
    map = w.back(map);
  }
  assert.deepEqual(map, seen.pop());
  assert.throws(() => w.back(map), w.MapError);
});

check("a map read from its text stands exactly where it stood", () => {
  const draw = random(99);
  let map = newMap({ count: 7, offset: [0, 3] });
  for (let n = 0; n < 100 && ask(map).kind !== "all done"; n += 1) {
    map = anyTap(map, draw);
    const read = JSON.parse(JSON.stringify(map));
    assert.ok(w.isBoltMap(read));
    assert.deepEqual(w.progressOf(read), w.progressOf(map));
  }
});

check("a bolt in doubt is asked for at once, and again at the torque it had", () => {
  const map = tap(newMap(), 3);
  const [last] = w.lastDone(map, w.progressOf(map));
  const doubted = w.doubt(map, last, AT);
  assert.deepEqual([ask(doubted).bolt, ask(doubted).again, ask(doubted).stage], [last, true, 0]);
  assert.equal(ask(tap(doubted)).again, false);
});

check("a bolt in doubt from the pass before gets that pass's torque first, then its turn", () => {
  const map = tap(newMap(), 1 + 4 + 1 + 1);
  assert.equal(w.progressOf(map).stage, 1);
  const third = map.stages[0].order[2];
  let now = w.doubt(map, third, AT);
  assert.deepEqual([ask(now).kind, ask(now).dial, ask(now).bolt], ["set", "20 N·m", third]);
  now = tap(now, 2);
  assert.deepEqual([ask(now).kind, ask(now).dial, ask(now).again], ["set", "40 N·m", false]);
  assert.equal(w.progressOf(now).settled.has(third), false);
  assert.equal(toTheEnd(now).asked.filter((each) => each === `bolt 1 ${third}`).length, 1);
});

check("a bolt in doubt after its angle is backed off and goes through every pass", () => {
  const map = newMap({ angle: "90°" });
  let now = tap(map, 2 * (1 + 4) + 1 + 2);
  const first = map.stages[0].order[0];
  now = w.doubt(now, first, AT);
  const stages = [];
  for (let n = 0; n < 6; n += 1) {
    if (n === 0) assert.equal(ask(now).backOff, true);
    stages.push(`${ask(now).kind} ${ask(now).stage}`);
    now = tap(now);
  }
  assert.deepEqual(stages, ["set 0", "bolt 0", "set 1", "bolt 1", "set 2", "bolt 2"]);
  assert.equal(w.progressOf(now).doubtful.size, 0);
  assert.equal(ask(now).bolt, map.stages[0].order[2]);
});

check("an angle takes the place of the check pass", () => {
  assert.deepEqual(
    newMap({ angle: "90°" }).stages.map(({ kind }) => kind),
    ["torque", "torque", "angle"],
  );
});

check("a bolt that was not done can't be doubted", () => {
  const map = tap(newMap(), 2);
  assert.throws(() => w.doubt(map, map.stages[0].order[3], AT), w.MapError);
});

check("bolts that turned in the check bring all around once more, until none does", () => {
  const map = newMap({ shares: [1] });
  let now = tap(map, 1 + 4 + 1);
  now = w.stillTurned(now, AT);
  now = tap(now, 3);
  assert.deepEqual([w.progressOf(now).round, ask(now).kind], [1, "set"]);
  const { asked, map: end } = toTheEnd(now);
  assert.equal(asked.length, 5);
  assert.equal(w.progressOf(end).round, 1);
});

check(
  "a bolt that turned brings all around again, even if it was doubted since and then held",
  () => {
    let now = w.stillTurned(tap(newMap({ shares: [1] }), 1 + 4 + 1), AT);
    now = w.doubt(now, w.lastDone(now, w.progressOf(now))[0], AT);
    now = tap(now, 4);
    assert.equal(w.progressOf(now).round, 1);
  },
);

check("nothing turns outside the check pass", () => {
  assert.throws(() => w.stillTurned(tap(newMap()), AT), w.MapError);
});

check("the dial is asked for when the crowfoot goes on, and when it comes off", () => {
  const map = newMap({ shares: [1], check: false, offset: [2] });
  const { asked } = toTheEnd(map);
  const [a, b, c, d] = map.stages[0].order;
  assert.deepEqual([a, b], [0, 2]);
  assert.deepEqual(asked, [
    `set 0 ${a}`,
    `bolt 0 ${a}`,
    `set 0 ${b}`,
    `bolt 0 ${b}`,
    `set 0 ${c}`,
    `bolt 0 ${c}`,
    `bolt 0 ${d}`,
  ]);
});

check("the dial is asked for again even where the crowfoot reads the same", () => {
  const map = newMap({ shares: [1], check: false, offset: [2] });
  map.stages[0].dial.offset = map.stages[0].dial.plain;
  assert.equal(toTheEnd(map).asked.filter((each) => each.startsWith("set")).length, 3);
});

check("a map is closed only when every bolt is done, and then stays closed", () => {
  assert.throws(() => w.finish(tap(newMap()), AT), w.MapError);
  const done = w.finish(toTheEnd(newMap()).map, AT);
  assert.ok(w.isBoltMap(done));
  for (const act of [
    () => w.confirm(done, AT),
    () => w.back(done),
    () => w.doubt(done, 0, AT),
    () => w.finish(done, AT),
  ]) {
    assert.throws(act, w.MapError);
  }
});

check("a bolt can be doubted when all are done, and the map is open again", () => {
  const { map } = toTheEnd(newMap({ shares: [1], check: false }));
  const doubted = w.doubt(map, 1, AT);
  assert.throws(() => w.finish(doubted, AT), w.MapError);
  assert.equal(ask(tap(doubted)).kind, "all done");
});

// What may have happened to a stored map.
const HARMS = [
  (m) => {
    m.schema = 3;
  },
  (m) => {
    m.id = "";
  },
  (m) => {
    m.steps.splice(1, 1);
  },
  (m) => {
    m.steps[1].bolt = 99;
  },
  (m) => {
    m.steps[1].bolt = 1.5;
  },
  (m) => {
    m.steps[1].do = "guessed";
  },
  (m) => {
    m.steps[0].dial = "1 N·m";
  },
  (m) => {
    m.stages[0].order.pop();
  },
  (m) => {
    m.stages[0].order[0] = m.stages[0].order[1];
  },
  (m) => {
    m.stages = [];
  },
  (m) => {
    m.places[0] = [0];
  },
  (m) => {
    m.places[0] = [NaN, 0];
  },
  (m) => {
    m.offset.bolts = [7];
  },
  (m) => {
    m.finished = AT;
  },
  (m) => {
    delete m.title;
  },
  (m) => {
    m.rev = "1";
  },
  (m) => {
    m.notes = [1];
  },
  (m) => {
    m.names[0] = m.names[1];
  },
  (m) => {
    m.orderBy = "guessed";
  },
  (m) => {
    m.stages[0].angle = "a little";
  },
  (m) => {
    m.steps[1].read = { angle: "much", band: 1 };
  },
];

check("a damaged map is not taken for a good one", () => {
  const good = tap(newMap({ offset: [1] }), 5);
  assert.ok(w.isBoltMap(good));
  for (const harm of HARMS) {
    const copy = JSON.parse(JSON.stringify(good));
    harm(copy);
    assert.equal(w.isBoltMap(copy), false, String(harm));
  }
  for (const junk of [null, 1, "map", [], {}]) assert.equal(w.isBoltMap(junk), false);
});

check("two taps within 400 ms are one", () => {
  assert.equal(w.isNewTap(1399, 1000), false);
  assert.equal(w.isNewTap(1400, 1000), true);
});

check("bolts bear the sheet's numbers, on the screen and in the call", () => {
  const map = newMap();
  map.names = ["12", "7", "A3", "9"];
  map.orderBy = "maker";
  assert.ok(w.isBoltMap(map));
  const first = tap(map);
  assert.equal(w.nameOf(first, 2), "A3");
  assert.equal(call(first, w.progressOf(first)), "pass 1, bolt 12, 20 newton metres");
  const second = tap(first);
  assert.equal(call(second, w.progressOf(second)), "pass 1, bolt A3, 20 newton metres");
});

check("a map of the first version is read with its bolts numbered by their turn", () => {
  const old = JSON.parse(JSON.stringify(newMap({ count: 5, angle: "90°" })));
  for (const key of ["names", "orderBy", "bolt", "judged"]) delete old[key];
  old.schema = 1;
  for (const stage of old.stages) delete stage.angle;
  old.steps = tap(newMap({ count: 5, angle: "90°" }), 15).steps;
  assert.equal(w.isBoltMap(old), false);
  const read = w.upToDate(old);
  assert.ok(w.isBoltMap(read));
  assert.deepEqual(
    read.stages[0].order.map((bolt) => w.nameOf(read, bolt)),
    ["1", "2", "3", "4", "5"],
  );
  assert.deepEqual([read.orderBy, read.stages.at(-1).angle], ["worked", 90]);
  assert.equal(w.progressOf(read).stage, 2);
  assert.equal(ask(tap(read)).kind, "bolt");
  for (const junk of [null, 1, {}, { schema: 1 }, { schema: 1, stages: [], places: [] }])
    assert.equal(w.isBoltMap(w.upToDate(junk)), false);
  assert.equal(w.upToDate(read), read);
});

/** Seat, a quarter turn, loosen, seat again, two angles: as gaskets that settle want it. */
function looseAgain() {
  const map = newMap({ shares: [1], check: false });
  const [seat] = map.stages;
  const { order: turns } = seat;
  map.stages = [
    seat,
    turning(turns, "90°"),
    loosening(turns),
    structuredClone(seat),
    turning(turns, "60°"),
    turning(turns, "90°"),
  ];
  return map;
}

check("stages are gone through in the sheet's order, loosening backwards", () => {
  const map = looseAgain();
  assert.ok(w.isBoltMap(map));
  assert.deepEqual(
    map.stages.map((_, n) => w.stageName(map, n).replace("\u00a0", " ")),
    ["Pass 1", "Angle 1", "Loosen", "Pass 2", "Angle 2", "Angle 3"],
  );
  const { asked } = toTheEnd(map);
  const wanted = map.stages.flatMap(({ order: bolts }, stage) => [
    `set ${stage} ${bolts[0]}`,
    ...bolts.map((bolt) => `bolt ${stage} ${bolt}`),
  ]);
  assert.deepEqual(asked, wanted);
  const loose = tap(map, 10);
  assert.equal(call(loose, w.progressOf(loose)), "loosen all, until slack");
  assert.equal(ask(loose).bolt, map.stages[0].order.at(-1));
});

check("a bolt in doubt after a second angle starts again after the loosening, backed off", () => {
  const map = looseAgain();
  let now = tap(map, 5 * 5 + 2);
  assert.equal(ask(now).stage, 5);
  const first = map.stages[0].order[0];
  now = w.doubt(now, first, AT);
  assert.deepEqual([ask(now).stage, ask(now).backOff, ask(now).bolt], [3, true, first]);
  const stages = [];
  while (w.progressOf(now).doubtful.size) {
    if (ask(now).kind === "bolt") stages.push([ask(now).stage, ask(now).backOff]);
    now = tap(now);
  }
  assert.deepEqual(stages, [
    [3, true],
    [4, false],
    [5, false],
  ]);
});

check("a bolt in doubt while all are loosened is only loosened again", () => {
  const map = looseAgain();
  const now = w.doubt(tap(map, 5 * 2 + 2), map.stages[0].order.at(-1), AT);
  assert.deepEqual([ask(now).stage, ask(now).backOff, ask(now).again], [2, false, true]);
});

check("what the phone read of an angle is kept with the bolt", () => {
  const at = tap(newMap({ shares: [1], angle: "90°" }), 6);
  const done = w.confirm(at, AT, { angle: 91.2, band: 3.1 });
  assert.deepEqual(done.steps.at(-1).read, { angle: 91.2, band: 3.1 });
  assert.ok(w.isBoltMap(JSON.parse(JSON.stringify(done))));
  assert.equal("read" in w.confirm(at, AT).steps.at(-1), false);
});

// --- the sheet's order ---------------------------------------------------------------------------

const TEN = order.gridPlaces(2, 5);
const sheetOf = (given, along) =>
  sheet.sheetOrder({ by: "type", numbers: "", order: "", taps: [], ...given }, along);

check("numbers typed row by row are the order, unless another is typed", () => {
  const along = sheet.readingOrder("grid", TEN, 0);
  const numbers = "9 5 1 4 8\n10 6 2 3 7";
  const found = sheetOf({ numbers }, along);
  assert.deepEqual([found.problem, found.missing], ["", ""]);
  assert.deepEqual(found.order, [2, 7, 8, 3, 1, 6, 9, 4, 0, 5]);
  assert.equal(found.names[7], "2");
  const other = sheetOf({ numbers, order: "10, 9, 8, 7, 6, 5, 4, 3, 2, 1" }, along);
  assert.deepEqual(other.order, [...found.order].reverse());
  assert.deepEqual(other.names, found.names);
});

check("tapped bolts get their turn for a number, or keep the sheet's", () => {
  const along = [0, 1, 2];
  const taps = [2, 0, 1];
  assert.deepEqual(sheetOf({ by: "tap", taps }, along).names, ["2", "3", "1"]);
  const named = sheetOf({ by: "tap", taps, numbers: "4 5 6" }, along);
  assert.deepEqual([named.names, named.order], [["4", "5", "6"], taps]);
  const some = sheetOf({ by: "tap", taps: [2] }, along);
  assert.deepEqual(some.order, []);
  assert.match(some.missing, /2 of 3 bolts to tap/);
});

check("a sheet that can't be is refused in words, and nothing is picked for the user", () => {
  const along = [0, 1, 2];
  const problem = (given) => sheetOf(given, along).problem;
  assert.match(problem({ numbers: "1 2" }), /2 for 3 bolts/);
  assert.match(problem({ numbers: "1 2 2" }), /2 is there twice/);
  assert.match(problem({ numbers: "1 2 three!" }), /“three!” is none/);
  assert.match(problem({ numbers: "A B C" }), /no plain numbers/);
  assert.match(problem({ numbers: "1 2 3", order: "1 2 4" }), /“4” is none/);
  assert.match(problem({ numbers: "1 2 3", order: "1 2 1" }), /1 is there twice/);
  assert.match(problem({ numbers: "1 2 3", order: "1 2" }), /3 left out/);
  assert.equal(sheetOf({}, along).missing, "sheet's numbers");
  assert.deepEqual(sheetOf({ by: "" }, along).missing, "order");
  assert.deepEqual(sheetOf({ by: "", numbers: "1 2 3" }, along).order, []);
});

check("numbers stay with their bolts when the drawing is turned, all the way round", () => {
  for (const [kind, places] of [
    ["grid", TEN],
    ["grid", order.gridPlaces(3, 4)],
    ["circle", circlePlaces(7)],
    ["circle", circlePlaces(8)],
  ]) {
    const first = sheet.readingOrder(kind, places, 0);
    assert.deepEqual(
      first,
      places.map((_, n) => n),
    );
    const numbers = places.map((_, n) => `n${n}`).join(" ");
    let text = numbers;
    for (let quarter = 0; quarter < 4; quarter += 1) {
      const [before, after] = [quarter, quarter + 1].map((q) =>
        sheet.readingOrder(kind, places, q % 4),
      );
      text = sheet.renumbered(text, before, after);
      const { names } = sheetOf({ numbers: text, by: "worked" }, after);
      assert.deepEqual(
        names,
        places.map((_, n) => `n${n}`),
      );
    }
    assert.equal(text, numbers);
  }
  // Turned clockwise by a quarter, the lower left of two rows is at the upper left.
  assert.equal(sheet.readingOrder("grid", TEN, 1)[0], 5);
  assert.equal(sheet.readingOrder("circle", circlePlaces(8), 1)[0], 6);
});

// --- stages --------------------------------------------------------------------------------------

const row = (what, number = null) => ({
  do: what,
  share: what === "share" ? number : 100,
  torque: what === "torque" || what === "check" ? number : null,
  angle: what === "angle" || what === "loosen" ? number : null,
});
const problemsOf = (stages, torque = null) =>
  stageRules.stageProblems({ stages, torque }).map(({ words }) => words);

check(
  "the sheet's stages are taken as torques or shares, with angles, loosening and checks",
  () => {
    for (const [stages, torque] of [
      [[row("torque", 8), row("torque", 15), row("torque", 25), row("check")], null],
      [[row("share", 50), row("share", 100), row("share", 100), row("check")], 25],
      [[row("torque", 20), row("angle", 90), row("angle", 90)], null],
      [[row("torque", 60), row("loosen"), row("torque", 20), row("angle", 120)], 20],
      [[row("torque", 20), row("angle", 60), row("check", 45)], null],
    ])
      assert.deepEqual(problemsOf(stages, torque), []);
    assert.equal(
      stageRules.finalTorque({ torque: null, stages: [row("torque", 8), row("torque", 25)] }),
      25,
    );
  },
);

check("stages that can't be are refused in words", () => {
  for (const [stages, torque, words] of [
    [[], null, /No stage tightens/],
    [[row("angle", 90)], 25, /No stage tightens/],
    [[row("check"), row("share", 100)], 25, /nothing before it/],
    [[row("torque"), row("check")], null, /Stage 1: enter its torque/],
    [[row("torque", 20), row("angle")], null, /Stage 2: enter its angle/],
    [[row("torque", 20), row("angle", 90), row("check")], null, /Enter the maker's check torque/],
    [[row("torque", 20), row("loosen"), row("check")], null, /nothing to check/],
    [[row("torque", 20), row("torque", 15)], null, /lower than the one before/],
    [[row("share", 60), row("share", 30), row("share", 100)], null, /was 60 %/],
    [[row("share", 60)], 25, /The last share is 60 %/],
    [[row("torque", 22)], 25, /differs from the torque above/],
  ])
    assert.match(problemsOf(stages, torque)[0] ?? "none", words);
});

check("the last bolts done come first when one is doubted", () => {
  const map = tap(newMap(), 4);
  const names = w.lastDone(map, w.progressOf(map)).map((bolt) => w.nameOf(map, bolt));
  assert.deepEqual(names, ["3", "2", "1"]);
});

check("the call says pass, bolt, figure and unit in words", () => {
  let map = newMap({ offset: [2] });
  const calls = [];
  for (let n = 0; n < 5; n += 1) {
    calls.push(call(map, w.progressOf(map)));
    map = tap(map);
  }
  assert.deepEqual(calls, [
    "pass 1: set the wrench to 20 newton metres, no crowfoot",
    "pass 1, bolt 1, 20 newton metres",
    "pass 1: set the wrench to 15 newton metres, crowfoot on",
    "pass 1, bolt 2, 15 newton metres, crowfoot on",
    "pass 1: set the wrench to 20 newton metres, no crowfoot",
  ]);
});

check("the call knows checks, angles, doubts and the end", () => {
  let map = tap(newMap({ shares: [1] }), 2);
  map = w.doubt(map, map.stages[0].order[0], AT);
  assert.equal(call(map, w.progressOf(map)), "pass 1, bolt 1, once more, 40 newton metres");
  map = tap(map, 4);
  assert.equal(call(map, w.progressOf(map)), "check: set the wrench to 40 newton metres");
  assert.equal(call(toTheEnd(map).map, w.progressOf(toTheEnd(map).map)), "All bolts done.");
  const angled = tap(newMap({ shares: [1], angle: "90°" }), 5);
  assert.equal(call(angled, w.progressOf(angled)), "angle: turn each by 90 degrees");
  assert.equal(call(tap(angled), w.progressOf(tap(angled))), "angle, bolt 1, 90 degrees");
});

check("every unit is said in words", () => {
  assert.deepEqual(["7.5 N·m", "89 lb·in", "18.4 lb·ft", "90°"].map(said), [
    "7.5 newton metres",
    "89 pound inches",
    "18.4 pound feet",
    "90 degrees",
  ]);
});

process.stdout.write(JSON.stringify(results));
