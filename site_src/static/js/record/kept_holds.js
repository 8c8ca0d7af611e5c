/**
 * What the phone keeps of a job's hold points, and what they are read from besides: its maps.
 *
 * Whatever can't be read is told, so that nothing counts as done because it was missed.
 *
 * @typedef {import("./holds.js").Hold} Hold
 * @typedef {import("./holds.js").Deed} Deed
 * @typedef {import("../bolts/progress.js").BoltMap} BoltMap
 * @typedef {{job: string, trouble: string, holds: Hold[], broken: string[], strays: any[],
 *   maps: BoltMap[], brokenMaps: any[], brokenJobs: any[], lastWho: string}} Kept  `trouble`: why
 *   nothing can be read; `broken`: points whose entry can't be; `strays`: entries of hold points
 *   that can't be, and that may be of this job; `brokenJobs`: jobs that can't be, any of which may
 *   be the one in hand; `lastWho`: who did the last thing
 */

import { deed, isHold, keptAt, newHold } from "./holds.js";
import { inHand, USUAL_NAME } from "./job.js";
import { elsewhere, holdsElsewhere } from "./jobs.js";
import { amend, readAll, reasonWords, RecordError } from "./record.js";
import { isText } from "./shapes.js";

/** Deeds that one point's log has room for; what is there already stays. */
const MOST = 280;

/** All of the job in hand. @returns {Promise<Kept>} */
export async function readKept() {
  try {
    const [jobs, holds, maps] = await Promise.all([
      readAll("jobs"),
      readAll("holds"),
      readAll("maps"),
    ]);
    const hand = inHand(jobs.good);
    const job = hand?.name ?? USUAL_NAME;
    const places = holds.bad.map((each) => ({ each, at: keptAt(String(each?.id)) }));
    return {
      job,
      trouble: "",
      holds: holds.good.filter((each) => each.job === job),
      broken: places.flatMap(({ at }) => (at?.[0] === job ? [at[1]] : [])),
      strays: places.flatMap(({ each, at }) => (at ? [] : [each])),
      maps: maps.good.filter((each) => each.job === job),
      brokenMaps: maps.bad.filter((each) => !isText(each?.job) || each.job === job),
      // One that can't be read may be the one that was taken up last.
      brokenJobs: jobs.bad.filter(
        (each) => !(hand && isText(each?.taken) && each.taken < hand.taken),
      ),
      lastWho: lastWho(holds.good, maps.good),
    };
  } catch (reason) {
    return {
      job: USUAL_NAME,
      trouble: reasonWords(reason),
      holds: [],
      broken: [],
      strays: [],
      maps: [],
      brokenMaps: [],
      brokenJobs: [],
      lastWho: "",
    };
  }
}

/** @param {Hold[]} holds @param {BoltMap[]} maps */
function lastWho(holds, maps) {
  const named = [
    ...holds.flatMap(({ log }) => log.map(({ who, at }) => ({ who, at }))),
    ...maps.map(({ who, started }) => ({ who, at: started })),
  ].filter(({ who, at }) => who && at);
  named.sort((a, b) => Date.parse(a.at) - Date.parse(b.at));
  return named.at(-1)?.who ?? "";
}

/**
 * Add to a point's log, as it is stored now, and wait until it is on the disk. Over an entry that
 * can't be read a new one begins, and says so.
 * @param {string} job @param {string} point @param {Deed} done
 * @param {string} [stage] of an own point
 */
export async function addDeed(job, point, done, stage = "") {
  const fresh = newHold(job, point, stage);
  await amend("holds", fresh, (there) => {
    const sound = there === fresh || isHold(there) ? there : replaced(fresh);
    if (sound.log.length >= MOST)
      throw new RecordError("The log of this point is full. Add a point of your own in its place.");
    return { ...sound, rev: sound.rev + 1, log: [...sound.log, done] };
  });
  holdsElsewhere?.postMessage(job);
}

/** @param {Hold} fresh @returns {Hold} */
function replaced(fresh) {
  return { ...fresh, log: [deed("unreadable", {})] };
}

/**
 * Call when hold points, jobs or maps may have changed elsewhere, or while nobody looked.
 * @param {() => void} act
 */
export function whenChanged(act) {
  for (const channel of [holdsElsewhere, elsewhere]) channel?.addEventListener("message", act);
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "visible") act();
  });
  addEventListener("pageshow", (event) => {
    if (event.persisted) act();
  });
}
