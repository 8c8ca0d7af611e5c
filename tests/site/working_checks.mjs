// Checks of the working mode's own rules, under Node. tests/site/test_working_js.py runs them.
// Usage: node working_checks.mjs STATIC_JS_FOLDER > results.json
import assert from "node:assert/strict";
import { pathToFileURL } from "node:url";

const folder = pathToFileURL(`${process.argv[2]}/`);
const w = await import(new URL("bolts/progress.js", folder));
const { call, said } = await import(new URL("bolts/call.js", folder));
const order = await import(new URL("bolts/order.js", folder));

const results = {};
function check(name, act) {
  try {
    act();
    results[name] = "";
  } catch (reason) {
    results[name] = String(reason.stack);
  }
}

const AT = "2026-03-04T10:42:00.000Z";

function newWork({
  count = 4,
  shares = [0.5, 1],
  check: hasCheck = true,
  angle = "",
  offset = [],
} = {}) {
  const places = order.circlePlaces(count);
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
    quarters: 0,
    torque: "40 N·m",
    source: "",
    notes: [],
    offset: { bolts: offset, words: "" },
    unit: "N·m",
    stages: w.stagesOf({
      shares,
      check: hasCheck,
      angle,
      order: turns,
      checkOrder: turns.map((_, n) => n),
      dials,
    }),
    wrench: "",
    who: "",
    voice: false,
    started: AT,
    finished: "",
    steps: [],
  };
}

const ask = (work) => w.standing(work).ask;
const tap = (work, times = 1) =>
  Array.from({ length: times }).reduce((each) => w.confirm(each, AT), work);

/** Confirm until every bolt is done; what was asked for, in words. */
function toTheEnd(work, most = 2000) {
  const asked = [];
  let now = work;
  while (ask(now).kind !== "all done") {
    asked.push(`${ask(now).kind} ${ask(now).stage} ${ask(now).bolt}`);
    assert.ok(asked.length < most, "never ends");
    now = tap(now);
  }
  return { work: now, asked };
}

function random(seed) {
  let state = seed;
  return (below) => {
    state = (state * 48271) % 2147483647;
    return state % below;
  };
}

check("each pass asks for every bolt once, in its order, the dial first", () => {
  const work = newWork({ count: 5 });
  const { asked } = toTheEnd(work);
  const wanted = work.stages.flatMap(({ order: bolts }, stage) => [
    `set ${stage} ${bolts[0]}`,
    ...bolts.map((bolt) => `bolt ${stage} ${bolt}`),
  ]);
  assert.deepEqual(asked, wanted);
});

check("a pass is not left with a bolt open, whatever is tapped", () => {
  for (let seed = 1; seed <= 200; seed += 1) {
    const draw = random(seed * 7919);
    let work = newWork({
      count: 3 + draw(6),
      offset: draw(2) ? [1] : [],
      angle: draw(3) ? "" : "90°",
    });
    let before = w.standing(work);
    for (let n = 0; n < 300 && before.ask.kind !== "all done"; n += 1) {
      work = anyTap(work, draw);
      const now = w.standing(work);
      if (now.stage > before.stage) assert.equal(before.settled.size, work.places.length - 1);
      assert.ok(now.ask.kind === "all done" || now.settled.size < work.places.length);
      for (const bolt of now.doubtful.keys()) assert.ok(!now.settled.has(bolt));
      before = now;
    }
  }
});

function anyTap(work, draw) {
  const at = w.standing(work);
  const choice = draw(10);
  const [last] = w.lastDone(work, at);
  if (choice === 0 && work.steps.length) return w.back(work);
  if (choice === 1 && last !== undefined) return w.doubt(work, last, AT);
  if (choice === 2 && w.canHaveTurned(work, at) && at.round < 2) return w.stillTurned(work, AT);
  return w.confirm(work, AT);
}

check("going back restores exactly what was, to the first tap", () => {
  const draw = random(4711);
  let work = newWork({ count: 6, offset: [2] });
  const seen = [work];
  for (let n = 0; n < 120 && ask(work).kind !== "all done"; n += 1) {
    const next = anyTap(work, draw);
    if (next.steps.length < work.steps.length) seen.pop();
    else seen.push(next);
    work = next;
  }
  while (work.steps.length) {
    assert.deepEqual(work, seen.pop());
    work = w.back(work);
  }
  assert.deepEqual(work, seen.pop());
  assert.throws(() => w.back(work), w.WorkError);
});

check("a map read from its text stands exactly where it stood", () => {
  const draw = random(99);
  let work = newWork({ count: 7, offset: [0, 3] });
  for (let n = 0; n < 100 && ask(work).kind !== "all done"; n += 1) {
    work = anyTap(work, draw);
    const read = JSON.parse(JSON.stringify(work));
    assert.ok(w.isWork(read));
    assert.deepEqual(w.standing(read), w.standing(work));
  }
});

check("a bolt in doubt is asked for at once, and again at the torque it had", () => {
  const work = tap(newWork(), 3);
  const [last] = w.lastDone(work, w.standing(work));
  const doubted = w.doubt(work, last, AT);
  assert.deepEqual([ask(doubted).bolt, ask(doubted).again, ask(doubted).stage], [last, true, 0]);
  assert.equal(ask(tap(doubted)).again, false);
});

check("a bolt in doubt from the pass before gets that pass's torque first, then its turn", () => {
  const work = tap(newWork(), 1 + 4 + 1 + 1);
  assert.equal(w.standing(work).stage, 1);
  const third = work.stages[0].order[2];
  let now = w.doubt(work, third, AT);
  assert.deepEqual([ask(now).kind, ask(now).dial, ask(now).bolt], ["set", "20 N·m", third]);
  now = tap(now, 2);
  assert.deepEqual([ask(now).kind, ask(now).dial, ask(now).again], ["set", "40 N·m", false]);
  assert.equal(w.standing(now).settled.has(third), false);
  assert.equal(toTheEnd(now).asked.filter((each) => each === `bolt 1 ${third}`).length, 1);
});

check("a bolt in doubt after its angle is backed off and goes through every pass", () => {
  const work = newWork({ angle: "90°" });
  let now = tap(work, 2 * (1 + 4) + 1 + 2);
  const first = work.stages[0].order[0];
  now = w.doubt(now, first, AT);
  const stages = [];
  for (let n = 0; n < 6; n += 1) {
    if (n === 0) assert.equal(ask(now).backOff, true);
    stages.push(`${ask(now).kind} ${ask(now).stage}`);
    now = tap(now);
  }
  assert.deepEqual(stages, ["set 0", "bolt 0", "set 1", "bolt 1", "set 2", "bolt 2"]);
  assert.equal(w.standing(now).doubtful.size, 0);
  assert.equal(ask(now).bolt, work.stages[0].order[2]);
});

check("an angle takes the place of the check pass", () => {
  assert.deepEqual(
    newWork({ angle: "90°" }).stages.map(({ kind }) => kind),
    ["torque", "torque", "angle"],
  );
});

check("a bolt that was not done can't be doubted", () => {
  const work = tap(newWork(), 2);
  assert.throws(() => w.doubt(work, work.stages[0].order[3], AT), w.WorkError);
});

check("bolts that turned in the check bring all around once more, until none does", () => {
  const work = newWork({ shares: [1] });
  let now = tap(work, 1 + 4 + 1);
  now = w.stillTurned(now, AT);
  now = tap(now, 3);
  assert.deepEqual([w.standing(now).round, ask(now).kind], [1, "set"]);
  const { asked, work: end } = toTheEnd(now);
  assert.equal(asked.length, 5);
  assert.equal(w.standing(end).round, 1);
});

check(
  "a bolt that turned brings all around again, even if it was doubted since and then held",
  () => {
    let now = w.stillTurned(tap(newWork({ shares: [1] }), 1 + 4 + 1), AT);
    now = w.doubt(now, w.lastDone(now, w.standing(now))[0], AT);
    now = tap(now, 4);
    assert.equal(w.standing(now).round, 1);
  },
);

check("nothing turns outside the check pass", () => {
  assert.throws(() => w.stillTurned(tap(newWork()), AT), w.WorkError);
});

check("the dial is asked for when the crowfoot goes on, and when it comes off", () => {
  const work = newWork({ shares: [1], check: false, offset: [2] });
  const { asked } = toTheEnd(work);
  const [a, b, c, d] = work.stages[0].order;
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
  const work = newWork({ shares: [1], check: false, offset: [2] });
  work.stages[0].dial.offset = work.stages[0].dial.plain;
  assert.equal(toTheEnd(work).asked.filter((each) => each.startsWith("set")).length, 3);
});

check("a map is closed only when every bolt is done, and then stays closed", () => {
  assert.throws(() => w.finish(tap(newWork()), AT), w.WorkError);
  const done = w.finish(toTheEnd(newWork()).work, AT);
  assert.ok(w.isWork(done));
  for (const act of [
    () => w.confirm(done, AT),
    () => w.back(done),
    () => w.doubt(done, 0, AT),
    () => w.finish(done, AT),
  ]) {
    assert.throws(act, w.WorkError);
  }
});

check("a bolt can be doubted when all are done, and the map is open again", () => {
  const { work } = toTheEnd(newWork({ shares: [1], check: false }));
  const doubted = w.doubt(work, 1, AT);
  assert.throws(() => w.finish(doubted, AT), w.WorkError);
  assert.equal(ask(tap(doubted)).kind, "all done");
});

check("a damaged map is not taken for a good one", () => {
  const good = tap(newWork({ offset: [1] }), 5);
  assert.ok(w.isWork(good));
  const harms = [
    (m) => {
      m.schema = 2;
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
  ];
  for (const harm of harms) {
    const copy = JSON.parse(JSON.stringify(good));
    harm(copy);
    assert.equal(w.isWork(copy), false, String(harm));
  }
  for (const junk of [null, 1, "map", [], {}]) assert.equal(w.isWork(junk), false);
});

check("two taps within 400 ms are one", () => {
  assert.equal(w.isNewTap(1399, 1000), false);
  assert.equal(w.isNewTap(1400, 1000), true);
});

check("bolts are named by their turn", () => {
  const work = newWork({ count: 8 });
  assert.deepEqual(
    work.stages[0].order.map((bolt) => w.nameOf(work, bolt)),
    [1, 2, 3, 4, 5, 6, 7, 8],
  );
});

check("the last bolts done come first when one is doubted", () => {
  const work = tap(newWork(), 4);
  const names = w.lastDone(work, w.standing(work)).map((bolt) => w.nameOf(work, bolt));
  assert.deepEqual(names, [3, 2, 1]);
});

check("the call says pass, bolt, figure and unit in words", () => {
  let work = newWork({ offset: [2] });
  const calls = [];
  for (let n = 0; n < 5; n += 1) {
    calls.push(call(work, w.standing(work)));
    work = tap(work);
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
  let work = tap(newWork({ shares: [1] }), 2);
  work = w.doubt(work, work.stages[0].order[0], AT);
  assert.equal(call(work, w.standing(work)), "pass 1, bolt 1, once more, 40 newton metres");
  work = tap(work, 4);
  assert.equal(call(work, w.standing(work)), "check: set the wrench to 40 newton metres");
  assert.equal(call(toTheEnd(work).work, w.standing(toTheEnd(work).work)), "All bolts done.");
  const angled = tap(newWork({ shares: [1], angle: "90°" }), 5);
  assert.equal(call(angled, w.standing(angled)), "angle: turn each by 90 degrees");
  assert.equal(call(tap(angled), w.standing(tap(angled))), "angle, bolt 1, 90 degrees");
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
