// What a file says otherwise than the phone; prints what is wrong with each check as JSON.

import { pathToFileURL } from "node:url";
import { check, results, same } from "./checking.mjs";

const [, , scripts] = process.argv;
const load = (name) => import(pathToFileURL(`${scripts}/${name}`).href);
const { besideName, clashesOf } = await load("record/clashes.js");
const { newJob } = await load("record/job.js");
const { newFigure } = await load("record/figures.js");

const mm = (text, more = {}) => ({ text, unit: "mm", ...more });

function job(entries, name = "Red truck", id = "a") {
  return { ...newJob(id, name, "2026-11-28"), entries };
}

function figure(torque, more = {}) {
  const values = { maker_torque: { text: torque, unit: "Nm" } };
  const given = { id: "lid", job: "Red truck", kind: "torque", name: "Lid", values };
  return newFigure({ ...given, choices: { thread: "M8x1.25" }, changed: "2026-11-28", ...more });
}

function clashes(theirs, mine) {
  return clashesOf({ jobs: [], figures: [], ...theirs }, { jobs: [], figures: [], ...mine });
}

const here = job({ blower_pulley: mm("101"), gear: "1", altitude: { text: "340", unit: "m" } });

check("entries that differ are told one by one, with both values", () => {
  const theirs = job({ blower_pulley: mm("88"), gear: "2", altitude: { text: "340", unit: "m" } });
  const [clash, ...others] = clashes({ jobs: [theirs] }, { jobs: [here] });
  same(others, []);
  same(clash.job, "Red truck");
  same(clash.entries, [
    { name: "blower_pulley", mine: mm("101"), theirs: mm("88") },
    { name: "gear", mine: "1", theirs: "2" },
  ]);
});

check("what only the file has is a difference, what only the phone has is none", () => {
  const [clash] = clashes({ jobs: [job({ crank_pulley: mm("180") })] }, { jobs: [here] });
  same(clash.entries, [{ name: "crank_pulley", mine: undefined, theirs: mm("180") }]);
  same(clash.only, 3);
});

check("a job that says the same is no question, however it was typed", () => {
  const typed = { ...here.entries, blower_pulley: mm(" 101 ", { typed: true }) };
  same(clashes({ jobs: [job(typed, "Red truck", "b")] }, { jobs: [here] }), []);
  const from = { text: "4", unit: "in", now: "101" };
  const carried = { ...here.entries, blower_pulley: mm("101", { from }) };
  same(clashes({ jobs: [job(carried)] }, { jobs: [here] }), []);
});

check("the same number in another unit is a difference", () => {
  const inches = { ...here.entries, blower_pulley: { text: "101", unit: "in" } };
  same(clashes({ jobs: [job(inches)] }, { jobs: [here] })[0].entries.length, 1);
});

check("rows of a list are compared by what they say, in order", () => {
  const rows = [{ run_size: "0.75in", run_length: mm("400") }];
  const turned = [{ run_length: mm("400", { typed: true }), run_size: "0.75in" }];
  const [mine, theirs] = [job({ loop_runs: rows }), job({ loop_runs: turned })];
  same(clashes({ jobs: [theirs] }, { jobs: [mine] }), []);
  const other = job({ loop_runs: [...rows, ...rows] });
  same(clashes({ jobs: [other] }, { jobs: [mine] })[0].entries.length, 1);
});

check("a job of another name asks nothing", () => {
  same(clashes({ jobs: [job({ gear: "2" }, "Blue truck")] }, { jobs: [here] }), []);
});

check("one that was taken in beside before asks nothing again", () => {
  const theirs = job({ gear: "2" });
  const beside = job({ gear: "2" }, besideName("Red truck"), "c");
  same(clashes({ jobs: [theirs] }, { jobs: [here, beside] }), []);
});

check("a maker's figure that was changed on the other phone is told with the job", () => {
  const [mine, theirs] = [figure("20"), figure("22")];
  const [clash] = clashes({ jobs: [here], figures: [theirs] }, { jobs: [here], figures: [mine] });
  same(clash.entries, []);
  same(clash.figures, [{ mine, theirs }]);
});

check("a figure that says the same, or is of another job here, is none", () => {
  const again = figure("20", { changed: "2026-11-29", used: "2026-11-29" });
  same(clashes({ figures: [again] }, { figures: [figure("20")] }), []);
  const elsewhere = figure("20", { job: "Blue truck" });
  same(clashes({ figures: [figure("22")] }, { figures: [elsewhere] }), []);
});

check("a key that is a name of objects is an entry like others", () => {
  const odd = Object.fromEntries([["constructor", "2"]]);
  const [clash] = clashes({ jobs: [job(odd)] }, { jobs: [job({})] });
  same(clash.entries, [{ name: "constructor", mine: undefined, theirs: "2" }]);
});

console.log(JSON.stringify(results));
