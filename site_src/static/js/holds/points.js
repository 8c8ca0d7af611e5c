/**
 * How a job's hold points stand: which are open, which stage is, and whether the engine may be
 * cranked. No DOM.
 *
 * @typedef {import("../record/holds.js").Hold} Hold
 * @typedef {import("../record/holds.js").Standing} Standing
 * @typedef {import("../record/kept_holds.js").Kept} Kept
 * @typedef {"before the key" | "at the first start" | "after heat"} When
 * @typedef {{key: string, label: string, when: When,
 *   points: {key: string, title: string, reads: string, role: string}[]}} Stage  as declared
 * @typedef {{key: string, title: string, stage: string, isOwn: boolean, reads: string,
 *   role: string, hold: Hold | undefined, now: Standing, isOpen: boolean, isDue: boolean,
 *   why: string, canSign: boolean, canSkip: boolean}} Point  `isOpen`: not signed and not skipped;
 *   `why`: why it is open or can't be signed yet, besides that nobody has
 * @typedef {{key: string, label: string, when: When, points: Point[], gone: Point[], open: number,
 *   waitsFor: string}} StageNow  `waitsFor`: the stage that has to be signed first
 * @typedef {{words: string, stage: string, to: string}} Item  `to`: where it is seen to, from the
 *   root of the site
 * @typedef {{isReady: boolean, open: Item[], skipped: Item[], due: Item[]}} Readiness
 */

import { howFar } from "../bolts/cards.js";
import { standing } from "../record/holds.js";

/** The role of the one point that is named before all others. */
const ABOVE = "above all";

const BROKEN = "What was stored for it can't be read. Look again, then sign it again.";
const NO_MAP =
  "No map was made on this job. Make them, or skip this and write where the torques are noted.";

/** @param {Stage[]} stages @param {Kept} kept @returns {StageNow[]} */
export function stagesNow(stages, kept) {
  const last = stages.filter(({ when }) => when === "before the key").at(-1)?.key ?? "";
  const known = new Set(stages.map(({ key }) => key));
  /** An own point of a stage that isn't there stands before the key. @param {Hold} hold */
  const stageOf = ({ stage }) => (known.has(stage) ? stage : last);
  const own = kept.holds.filter(({ stage }) => stage);
  own.sort((a, b) => Date.parse(a.log[0].at) - Date.parse(b.log[0].at));
  const started = stages.flatMap(({ points }) => points).find(({ role }) => role === "starts");
  const hasRun = kept.holds.some(
    ({ point, log }) => point === started?.key && standing(log).state !== "open",
  );
  let waitsFor = "";
  return stages.map((stage) => {
    const isDue = hasRun && stage.when === "after heat";
    const all = [
      ...stage.points.map((each) => declared(stage.key, each, kept)),
      ...own.filter((hold) => stageOf(hold) === stage.key).map((hold) => ownPoint(hold, stage.key)),
    ].map((point) => ({ ...point, isDue: isDue && point.isOpen }));
    const points = all.filter(({ now }) => !now.isGone);
    const open = points.filter(({ isOpen }) => isOpen).length;
    const { key, label, when } = stage;
    const found = {
      key,
      label,
      when,
      points,
      gone: all.filter(({ now }) => now.isGone),
      open,
      waitsFor,
    };
    if (open && !waitsFor) waitsFor = label;
    return found;
  });
}

/**
 * @param {string} stage @param {Stage["points"][number]} spec @param {Kept} kept
 * @returns {Point}
 */
function declared(stage, { key, title, reads, role }, kept) {
  const hold = kept.holds.find(({ point }) => point === key);
  const now = standing(hold?.log ?? []);
  const isBroken = kept.broken.includes(key);
  /** @type {Point} */
  const point = {
    key,
    title,
    stage,
    isOwn: false,
    reads,
    role,
    hold,
    now,
    isOpen: now.state === "open" || isBroken,
    isDue: false,
    why: isBroken ? BROKEN : "",
    canSign: true,
    canSkip: true,
  };
  return reads === "maps" ? { ...point, ...byMaps(point, kept) } : point;
}

/** A signature under maps that are open says nothing. @param {Point} point @param {Kept} kept */
function byMaps(point, { maps, brokenMaps }) {
  const open = openMaps(maps);
  if (open.length || brokenMaps.length) {
    const named = open.map((map) => `${map.title} (${howFar(map).replace(/\.$/, "")})`);
    const broken = brokenMaps.length ? ["a map that can't be read"] : [];
    const why = `Open: ${[...named, ...broken].join("; ")}.`;
    return { isOpen: true, why, canSign: false, canSkip: false };
  }
  if (maps.length) return {};
  return { canSign: false, why: point.isOpen ? NO_MAP : "" };
}

/** @param {Kept["maps"]} maps */
function openMaps(maps) {
  return maps.filter(({ finished }) => !finished);
}

/** @param {Hold} hold @param {string} stage @returns {Point} */
function ownPoint(hold, stage) {
  const now = standing(hold.log);
  return {
    key: hold.point,
    title: now.title,
    stage,
    isOwn: true,
    reads: "",
    role: "",
    hold,
    now,
    isOpen: now.state === "open",
    isDue: false,
    why: "",
    canSign: true,
    canSkip: true,
  };
}

/** The point that is next: the first that is open. @param {StageNow[]} stages */
export function nextPoint(stages) {
  for (const stage of stages) {
    const point = stage.points.find(({ isOpen }) => isOpen);
    if (point) return { stage, point };
  }
  return null;
}

/**
 * Whether the engine may be cranked, and all that speaks against it.
 * @param {StageNow[]} stages @param {Kept} kept @returns {Readiness}
 */
export function readiness(stages, kept) {
  const before = stages.filter(({ when }) => when === "before the key");
  const points = before.flatMap(({ label, points: all }) => all.map((point) => ({ label, point })));
  const open = [
    ...unreadable(kept),
    ...openMaps(kept.maps).map((map) => ({
      words: map.title,
      stage: `Tightening map, ${howFar(map).replace(/\.$/, "")}`,
      to: `tightening/#bolts=${map.id}`,
    })),
    ...points
      .filter(({ point }) => point.isOpen)
      .sort((a, b) => Number(b.point.role === ABOVE) - Number(a.point.role === ABOVE))
      .map(({ label, point }) => item(label, point)),
  ];
  const skipped = points
    .filter(({ point }) => !point.isOpen && point.now.state === "skipped")
    .map(({ label, point }) => ({
      ...item(label, point),
      stage: `Skipped: ${point.now.deed?.note}`,
    }));
  const due = stages
    .flatMap(({ label, points: all }) => all.map((point) => ({ label, point })))
    .filter(({ point }) => point.isDue)
    .map(({ label, point }) => item(label, point));
  return { isReady: before.length > 0 && open.length === 0, open, skipped, due };
}

/** @param {string} label @param {Point} point @returns {Item} */
function item(label, { key, title }) {
  return { words: title, stage: label, to: `holds/#${encodeURIComponent(key)}` };
}

/** What can't be read may be anything. @param {Kept} kept @returns {Item[]} */
function unreadable({ trouble, brokenJobs, strays, brokenMaps }) {
  if (trouble) return [{ words: trouble, stage: "This phone's record", to: "holds/" }];
  /** @type {[any[], string][]} */
  const found = [
    [brokenJobs, "A job that can't be read may be the one in hand"],
    [strays, "A hold point that can't be read may be one of this job"],
    [brokenMaps, "A tightening map that can't be read may be one of this job"],
  ];
  return found
    .filter(([each]) => each.length)
    .map(([, words]) => ({ words, stage: "This phone's record", to: "holds/#strays" }));
}
