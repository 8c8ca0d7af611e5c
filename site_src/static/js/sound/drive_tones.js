/**
 * Finds the engine's firing and the blower's tone in some ten seconds of sound. No DOM and no
 * microphone.
 *
 * An engine's speed wanders, and all of its lines wander with it. So its speed is followed first,
 * by the comb of its firing and that tone's multiples; then the sound is read anew, so many samples
 * to a turn of the crank in place of so many to a second. There the engine's lines stand still at
 * every half order, and so does the blower's tone, at an order of its own. Where anything is not
 * sure, no tone is given.
 *
 * @typedef {{speed: number, firings: number, order: number, lowest: number,
 *   highest: number}} Sought  crank speed held, in turns a second; firings in a turn; orders at
 *   which the blower's lowest tone is expected without slip, and among which it is looked for
 * @typedef {"tones" | "too quiet" | "too loud" | "no engine" | "unclear engine" | "unsteady"
 *   | "no blower" | "hidden" | "two tones" | "stands still"} DriveVerdict
 * @typedef {{firing: number, firingUnsure: number, tone: number, toneUnsure: number,
 *   multiples: number[]}} Tones  in hertz; `multiples` are those of the blower's that are heard
 * @typedef {{verdict: DriveVerdict, tones: Tones | null}} HeardDrive
 * @typedef {{place: number, gain: number}} Line  its order, and decibels over what lies around
 */

import { decibel, floorOf, powerOfTwo, powers, readAt, thinned } from "./fourier.js";

/** Seconds that are listened to. */
export const SECONDS = 10;
/** Fewest seconds in which anything is looked for. */
const FEWEST_SECONDS = 8;
/** Samples a second that are worked with, or a little more. */
const THIN_RATE = 8000;
/** Highest tone that is looked at, in hertz. */
const HIGHEST = 3000;
const QUIET = 0.001;
/** A power so small that it is none. */
const NOTHING = 1e-30;
/** Full scale, nearly, and the share of the sound that may reach it. */
const FULL = 0.98;
const MOST_CLIPPED = 0.001;

/** Seconds of sound from which a speed is read, and from one reading to the next. */
const FRAME = 0.5;
const HOP = 0.125;
/** The speed held is looked for within this share of what was said, in steps of this share. */
const OFF = 0.05;
const STEP = 0.0005;
/** The same for what is left once the sound is read over turns. */
const OFF_AGAIN = 0.008;
const STEP_AGAIN = 0.0002;
/** Steps by which the speed may change between two readings, and what each costs in decibels. */
const MOST_JUMP = 8;
const JUMP_COST = 0.1;
/** Multiples of the firing in the comb, and the highest of them in hertz. */
const TEETH = 8;
const HIGHEST_TOOTH = 1800;
/** Share of the speed over which it may wander. */
const WANDERS = 0.05;

/** Seconds of one spectrum over turns. */
const STRETCH = 2.5;
/** Lines of a spectrum within which two tones are one; 1 Hz, as `calc/drive_tone.py` has it. */
const APART = 2.5;
/** Lines around a line of the engine in which its own unsteadiness is audible, and by how much. */
const SKIRT = 14;
const SKIRT_FALL = 18;
/**
 * Share of its order within which a line may be the engine's own, displaced by a change of speed
 * that was not followed: so much always, and so much of what had to be put right once followed.
 */
const BLUR = 0.001;
const BLUR_OF_REST = 1;
/** Decibels over the engine's line from which a line in its blur is surely another. */
const OVER_ENGINE = 6;
/** Decibels over its surroundings from which a line of the engine or the blower counts. */
const CLEAR = 10;
/** Decibels from which more loudness tells no more. */
const LOUD = 30;
const FEWEST_TEETH = 3;
/** Lines of the engine that can't be the blower's, where the two could change places. */
const FEWEST_OWN = 3;
/** Share of what stands out that may be neither the engine's nor the blower's. */
const MOST_STRANGE = 0.3;
/** Multiples of the blower's tone that are looked for; one of the first two must be heard. */
const MULTIPLES = 4;
const FEWEST_MULTIPLES = 2;
/** Share of the best's loudness from which another one makes it unclear. */
const RIVAL = 0.7;
/** Share of its order within which a tone that wanders is one. */
const SAME = 0.002;
const MAINS = [50, 60];
const HIGHEST_MAINS = 660;

/** Share of its order by which the blower's tone may wander from one stretch to the next. */
const WANDERS_BESIDE = 0.004;
/** Decibels by which a tone that stands still stands out more over seconds than over turns. */
const STANDS = 3;

/** Student's factor for four independent stretches, 95 %. */
const SURE = 3.2;
/** Share of a tone to which it is known at best: stretches weigh the seconds unevenly. */
const AT_BEST = 0.0005;

/**
 * @param {ArrayLike<number>} sound full scale from −1 to 1
 * @param {number} sampleRate in hertz
 * @param {Sought} sought
 * @returns {HeardDrive}
 */
export function hearDrive(sound, sampleRate, sought) {
  if (!(sampleRate >= 8000 && sampleRate <= 200e3)) {
    throw new RangeError(`sample rate is ${sampleRate}, allowed is 8000 to 200000`);
  }
  if (sound.length < FEWEST_SECONDS * sampleRate) {
    throw new RangeError(
      `sound lasts ${sound.length / sampleRate} s, allowed is ${FEWEST_SECONDS} s or more`,
    );
  }
  if (clipped(sound)) return refused("too loud");
  const stride = Math.trunc(sampleRate / THIN_RATE);
  const rate = sampleRate / stride;
  const thin = thinned(sound, stride);
  if (loudness(thin) < QUIET) return refused("too quiet");
  const { speed, firings } = sought;
  const coarse = followed(thin, rate, { speed, firings, off: OFF, step: STEP });
  const [slowest, fastest] = [Math.min(...coarse), Math.max(...coarse)];
  const edge = 1 - OFF + 2 * STEP;
  const atEdge = slowest < speed * edge || fastest > speed * (2 - edge);
  const turns = overTurns(thin, rate, coarse, firings);
  const engine = engineLines(turns, sought);
  if (engine.teeth < FEWEST_TEETH) return refused("no engine");
  if (mayBeBlower(sought, engine.lines)) return refused("unclear engine");
  if (atEdge || fastest - slowest > WANDERS * turns.speed) return refused("unsteady");
  if (rivalled(turns, sought)) return refused("unclear engine");
  return blowerHeard(turns, inHertz(thin, rate), sought, engine.lines);
}

/**
 * @param {Turns} turns @param {Turns} hertz the same sound over seconds
 * @param {Sought} sought @param {number[]} engine orders of its lines
 * @returns {HeardDrive}
 */
function blowerHeard(turns, hertz, sought, engine) {
  const [best, next] = blowerFamilies(turns, sought);
  if (!best) return refused(hidden(turns, sought) ? "hidden" : "no blower");
  if (next && next.score > RIVAL * best.score) return refused("two tones");
  if (strangers(turns, best) > MOST_STRANGE) return refused("unclear engine");
  if (standsStill(turns, hertz, best)) return refused("stands still");
  return measured(turns, sought, engine, best);
}

/** @param {DriveVerdict} verdict @returns {HeardDrive} */
function refused(verdict) {
  return { verdict, tones: null };
}

/**
 * Whether the sound is cut off at the top, which makes tones that are not there.
 * @param {ArrayLike<number>} sound
 */
function clipped(sound) {
  let count = 0;
  for (let n = 0; n < sound.length; n += 1) if (Math.abs(sound[n]) > FULL) count += 1;
  return count > MOST_CLIPPED * sound.length;
}

/** Root mean square about the mean. @param {Float64Array} sound */
function loudness(sound) {
  const mean = meanOf(sound);
  return Math.sqrt(meanOf(sound.map((value) => (value - mean) * (value - mean))));
}

/** @param {ArrayLike<number>} values */
function meanOf(values) {
  let total = 0;
  for (let n = 0; n < values.length; n += 1) total += values[n];
  return total / values.length;
}

/** Standard deviation. @param {number[]} values */
function scatter(values) {
  const mean = meanOf(values);
  const squares = values.reduce((sum, value) => sum + (value - mean) * (value - mean), 0);
  return Math.sqrt(squares / (values.length - 1));
}

/** @param {number} value @param {number} low @param {number} high */
function clamp(value, low, high) {
  return Math.min(Math.max(value, low), high);
}

// --- the speed, followed ----------------------------------------------------------------------

/**
 * Crank speed through the sound, a value every `HOP` seconds, by the likeliest path.
 * @param {Float64Array} sound @param {number} rate
 * @param {{speed: number, firings: number, off: number, step: number}} about
 */
function followed(sound, rate, { speed, firings, off, step }) {
  const size = powerOfTwo(2 * FRAME * rate);
  const length = Math.round(FRAME * rate);
  const hop = Math.round(HOP * rate);
  const half = Math.round(off / step);
  const tried = Array.from({ length: 2 * half + 1 }, (_, n) => speed * (1 + (n - half) * step));
  /** @type {Float64Array[]} */
  const scores = [];
  for (let from = 0; from + length <= sound.length; from += hop) {
    const gains = decibels(powers(sound, from, length, size), Math.round((64 * size) / rate));
    scores.push(
      Float64Array.from(tried, (each) => combScore(gains, (firings * each * size) / rate, rate)),
    );
  }
  const path = likeliest(scores);
  const read = path.map((at, n) => tried[at] + speed * step * summit(scores[n], at));
  return read.map((_, n) => {
    const [before, at, after] = [-1, 0, 1].map((away) => read[clamp(n + away, 0, read.length - 1)]);
    return (before + 2 * at + after) / 4;
  });
}

/**
 * Decibels of each line over what lies around, none under nought.
 * @param {Float64Array} spectrum @param {number} block
 */
function decibels(spectrum, block) {
  const floor = floorOf(spectrum, block);
  return spectrum.map((power, n) => Math.max(0, decibel((power + NOTHING) / (floor[n] + NOTHING))));
}

/**
 * How loud a comb of tones is on the whole.
 * @param {Float64Array} gains @param {number} tooth place of the first tone @param {number} rate
 */
function combScore(gains, tooth, rate) {
  const last = (HIGHEST_TOOTH / rate) * 2 * gains.length;
  let total = 0;
  let count = 0;
  for (let k = 1; k <= TEETH && (k === 1 || k * tooth < last); k += 1) {
    total += Math.min(LOUD, between(gains, k * tooth));
    count += 1;
  }
  return total / count;
}

/** A value between two of a list. @param {ArrayLike<number>} values @param {number} place */
function between(values, place) {
  const below = clamp(Math.floor(place), 0, values.length - 2);
  return values[below] + (place - below) * (values[below + 1] - values[below]);
}

/**
 * Path of the highest total score that jumps no further than may be.
 * @param {Float64Array[]} scores
 */
function likeliest(scores) {
  const count = scores[0].length;
  let totals = scores[0];
  /** @type {Int32Array[]} */
  const cameFrom = [];
  for (const score of scores.slice(1)) {
    const from = new Int32Array(count);
    const next = new Float64Array(count);
    for (let at = 0; at < count; at += 1) {
      from[at] = bestBefore(totals, at);
      next[at] = totals[from[at]] - JUMP_COST * Math.abs(from[at] - at) + score[at];
    }
    cameFrom.push(from);
    totals = next;
  }
  const path = [totals.indexOf(totals.reduce((most, each) => Math.max(most, each), -Infinity))];
  for (const from of cameFrom.reverse()) path.unshift(from[path[0]]);
  return path;
}

/**
 * From where it is best to come.
 * @param {Float64Array} totals @param {number} at
 */
function bestBefore(totals, at) {
  const worth = (/** @type {number} */ n) => totals[n] - JUMP_COST * Math.abs(n - at);
  let best = at;
  const last = Math.min(totals.length - 1, at + MOST_JUMP);
  for (let n = Math.max(0, at - MOST_JUMP); n <= last; n += 1) {
    if (worth(n) > worth(best)) best = n;
  }
  return best;
}

/**
 * Where the top of the parabola through a value and its neighbours lies, off the value itself.
 * @param {ArrayLike<number>} values @param {number} at
 */
function summit(values, at) {
  if (at < 1 || at > values.length - 2) return 0;
  const [before, top, after] = [values[at - 1], values[at], values[at + 1]];
  const bend = before - 2 * top + after;
  return bend < 0 ? clamp((0.5 * (before - after)) / bend, -1, 1) : 0;
}

// --- sound over turns of the crank ------------------------------------------------------------

/**
 * The sound over turns of the crank. What is left of the engine's wandering is followed once more.
 * @param {Float64Array} thin @param {number} rate @param {number[]} coarse @param {number} firings
 */
function overTurns(thin, rate, coarse, firings) {
  const first = readOverTurns(thin, rate, coarse);
  const about = { speed: first.speed, firings, off: OFF_AGAIN, step: STEP_AGAIN };
  const rest = followed(first.sound, first.perTurn * first.speed, about);
  const shares = coarse.map((_, n) => rest[Math.min(n, rest.length - 1)] / first.speed);
  const speeds = coarse.map((speed, n) => speed * shares[n]);
  return new Turns(
    readOverTurns(thin, rate, speeds),
    (Math.max(...speeds) - Math.min(...speeds)) / first.speed,
    Math.max(...shares) - Math.min(...shares),
  );
}

/**
 * Sound read at even steps of the crank.
 * @param {Float64Array} thin @param {number} rate @param {number[]} speeds
 * @returns {{sound: Float64Array, speed: number, perTurn: number}}
 *   with the mean speed, and samples in a turn
 */
function readOverTurns(thin, rate, speeds) {
  const turned = new Float64Array(thin.length + 1);
  for (let n = 0; n < thin.length; n += 1) {
    const frame = clamp((n / rate - FRAME / 2) / HOP, 0, speeds.length - 1);
    turned[n + 1] = turned[n] + between(speeds, frame) / rate;
  }
  const all = turned[thin.length];
  const speed = (all * rate) / thin.length;
  const perTurn = Math.round(rate / speed);
  const places = placesOf(turned, Math.floor(all * perTurn), perTurn);
  return { sound: readAt(thin, places, 1), speed, perTurn };
}

/** Sound over turns of the crank, and its spectra over orders. */
class Turns {
  /**
   * @param {{sound: Float64Array, speed: number, perTurn: number}} read
   * @param {number} range share of the speed that it wandered through
   * @param {number} rest share of it that was put right once the sound was read over turns
   */
  constructor({ sound, speed, perTurn }, range, rest) {
    /** Mean crank speed, in turns a second. */
    this.speed = speed;
    this.perTurn = perTurn;
    this.range = range;
    this.blur = BLUR + BLUR_OF_REST * rest;
    const length = Math.round(STRETCH * this.speed * this.perTurn);
    const size = powerOfTwo(2 * length);
    /** Orders from one line of a spectrum to the next that is apart from it. */
    this.line = this.perTurn / length;
    /** Orders from one value of a spectrum to the next. */
    this.grain = this.perTurn / size;
    /** @type {Float64Array[]} */
    this.stretches = [];
    for (let from = 0; from + length <= sound.length; from += Math.floor(length / 2))
      this.stretches.push(powers(sound, from, length, size));
    this.spectrum = this.stretches[0].map((_, n) => meanOf(this.stretches.map((each) => each[n])));
    this.gains = decibels(this.spectrum, Math.round((40 * this.line) / this.grain));
    this.logs = this.stretches.map((each) => each.map((power) => decibel(power + NOTHING)));
    this.highest = Math.min(HIGHEST / this.speed, this.perTurn / 2.2);
  }

  /**
   * The highest place near an order, if it is a summit.
   * @param {number} order @param {number} reach in orders
   * @param {Float64Array} [values]
   * @returns {Line | null}
   */
  summitNear(order, reach, values = this.gains) {
    const first = Math.max(1, Math.ceil((order - reach) / this.grain));
    const last = Math.min(values.length - 2, Math.floor((order + reach) / this.grain));
    let top = first;
    for (let n = first; n <= last; n += 1) if (values[n] > values[top]) top = n;
    if (values[top - 1] > values[top] || values[top + 1] > values[top]) return null;
    return { place: (top + summit(values, top)) * this.grain, gain: values[top] };
  }
}

/**
 * Samples at which the crank has turned by even steps.
 * @param {Float64Array} turned turns of the crank at each sample
 * @param {number} count @param {number} perTurn
 */
function placesOf(turned, count, perTurn) {
  let below = 0;
  return Float64Array.from({ length: count }, (_, n) => {
    while (turned[below + 1] < n / perTurn) below += 1;
    return below + (n / perTurn - turned[below]) / (turned[below + 1] - turned[below]);
  });
}

// --- the engine -------------------------------------------------------------------------------

/**
 * The engine's lines that are heard, and how many of the firing's multiples are among them.
 * @param {Turns} turns @param {Sought} sought
 */
function engineLines(turns, { firings }) {
  const lines = [];
  let teeth = 0;
  for (let n = 1; 0.5 * n * turns.speed < HIGHEST_TOOTH; n += 1) {
    const found = turns.summitNear(0.5 * n, turns.line);
    if (!found || found.gain < CLEAR) continue;
    lines.push(0.5 * n);
    if ((0.5 * n) % firings === 0 && 0.5 * n <= TEETH * firings) teeth += 1;
  }
  return { lines, teeth };
}

/**
 * Whether what was taken for the engine may be the blower: where its tone lies near the firing or a
 * low multiple of it, and little is heard of the engine besides.
 * @param {Sought} sought @param {number[]} lines of the engine
 */
function mayBeBlower({ firings, lowest, highest }, lines) {
  return [1, 2, 3, 4].some((multiple) => {
    const order = multiple * firings;
    if (order * (1 + 2 * OFF) < lowest || order * (1 - 2 * OFF) > highest) return false;
    return lines.filter((line) => line % order !== 0).length < FEWEST_OWN;
  });
}

/**
 * Sound over seconds, in the form of sound over turns: what are orders there are hertz here.
 * @param {Float64Array} thin @param {number} rate
 */
function inHertz(thin, rate) {
  return new Turns({ sound: thin, speed: 1, perTurn: rate }, 0, 0);
}

/**
 * Whether another comb than the one followed is nearly as loud.
 * @param {Turns} turns @param {Sought} sought
 */
function rivalled(turns, { speed, firings }) {
  const rate = turns.perTurn * turns.speed;
  const tooth = firings / turns.grain;
  const score = (/** @type {number} */ share) => {
    const near = [-0.5, 0, 0.5].map((lines) => share + (lines * turns.line) / (4 * firings));
    return Math.max(...near.map((each) => combScore(turns.gains, each * tooth, rate)));
  };
  const own = score(1);
  const least = (3 * turns.line) / firings;
  const low = (speed * (1 - OFF)) / turns.speed;
  const high = (speed * (1 + OFF)) / turns.speed;
  for (let share = low; share <= high; share += turns.line / (4 * TEETH * firings)) {
    if (Math.abs(share - 1) > least && score(share) > RIVAL * own) return true;
  }
  return false;
}

/** Distance to the engine's nearest line, in orders. @param {number} order */
function toEngine(order) {
  return Math.abs(order - 0.5 * Math.round(2 * order));
}

/**
 * Whether the blower's tone may lie behind the engine's: with little slip, or none.
 * @param {Turns} turns @param {Sought} sought
 */
function hidden(turns, { order }) {
  const behind = 2 * APART * turns.line;
  return [1, 0.99, 0.98, 0.97].some((share) => toEngine(share * order) < behind);
}

// --- the blower -------------------------------------------------------------------------------

/**
 * @typedef {{order: number, score: number, lines: Map<number, Line>}} Family
 *   a tone's order, how loud it is with its multiples, and those
 */

/**
 * What may be the blower's tone with its multiples, the loudest first.
 * @param {Turns} turns @param {Sought} sought
 */
function blowerFamilies(turns, { lowest, highest }) {
  const found = [];
  for (const line of freeLines(turns)) {
    for (const multiple of [1, 2]) {
      const order = line.place / multiple;
      if (order < lowest || order > highest) continue;
      const family = familyOf(turns, order, multiple);
      if (family) found.push(family);
    }
  }
  found.sort((a, b) => b.score - a.score);
  /** @type {Family[]} */
  const apart = [];
  for (const each of found) {
    const one = Math.max(2 * turns.line, SAME * each.order);
    if (apart.every(({ order }) => Math.abs(order - each.order) > one)) apart.push(each);
  }
  return apart;
}

/** Lines that are neither the engine's nor the mains'. @param {Turns} turns */
function freeLines(turns) {
  const { gains, grain } = turns;
  const lines = [];
  for (let n = 2; n * grain < turns.highest; n += 1) {
    if (gains[n] < CLEAR || gains[n] < gains[n - 1] || gains[n] <= gains[n + 1]) continue;
    const line = { place: (n + summit(gains, n)) * grain, gain: gains[n] };
    if (isFree(turns, line)) lines.push(line);
  }
  return lines;
}

/** @param {Turns} turns @param {Line} line */
function isFree(turns, { place, gain }) {
  const away = toEngine(place) / turns.line;
  if (away < APART) return false;
  const engine = turns.summitNear(0.5 * Math.round(2 * place), turns.line)?.gain ?? 0;
  if (away < SKIRT && gain < engine - SKIRT_FALL) return false;
  if (toEngine(place) < turns.blur * place && gain < engine + OVER_ENGINE) return false;
  const hertz = place * turns.speed;
  // The mains keep their frequency, so that over turns they are blurred by the engine's wandering.
  const width = APART * turns.line * turns.speed + 0.5 * turns.range * hertz;
  return !(
    hertz < HIGHEST_MAINS &&
    MAINS.some((mains) => Math.abs(hertz - mains * Math.round(hertz / mains)) < width)
  );
}

/**
 * A tone and its multiples, if enough of them are heard.
 * @param {Turns} turns @param {number} order @param {number} by the multiple it was found by
 * @returns {Family | null}
 */
function familyOf(turns, order, by) {
  /** @type {Map<number, Line>} */
  const lines = new Map();
  for (let multiple = 1; multiple <= MULTIPLES; multiple += 1) {
    const reach = turns.line * Math.max(1, multiple / by);
    if (multiple * order > turns.highest) break;
    const line = turns.summitNear(multiple * order, reach);
    if (line && line.gain >= CLEAR && isFree(turns, line)) lines.set(multiple, line);
  }
  if (!lines.has(by)) return null;
  let [top, bottom, score] = [0, 0, 0];
  for (const [multiple, { place, gain }] of lines) {
    top += multiple * place;
    bottom += multiple * multiple;
    score += gain;
  }
  const fit = top / bottom;
  // Each may have been free by its own place, and the engine's by what they agree on.
  const free = [...lines].filter(([multiple, { gain }]) =>
    isFree(turns, { place: multiple * fit, gain }),
  );
  return free.length < FEWEST_MULTIPLES ? null : { order: fit, score, lines: new Map(free) };
}

// --- both, measured ---------------------------------------------------------------------------

/**
 * Both tones as the stretches of the sound agree on them.
 * @param {Turns} turns @param {Sought} sought @param {number[]} engine orders of its lines
 * @param {Family} blower
 * @returns {HeardDrive}
 */
function measured(turns, { firings }, engine, blower) {
  const multiples = [...blower.lines.keys()];
  const clear = engine.filter((order) =>
    multiples.every((each) => Math.abs(order - each * blower.order) > 2 * APART * turns.line),
  );
  // Wide enough for a tone that keeps its frequency to show that it does.
  const beside = WANDERS_BESIDE + 0.5 * turns.range;
  /** @type {number[]} */
  const scales = [];
  /** @type {number[]} */
  const ratios = [];
  for (const logs of turns.logs) {
    const scale = fitted(turns, logs, clear, 1, 0);
    const own = fitted(turns, logs, multiples, blower.order, beside);
    if (scale === null || own === null) return refused("no blower");
    scales.push(scale);
    ratios.push(own / scale);
  }
  const independent = Math.sqrt((ratios.length + 1) / 2);
  const speed = turns.speed * meanOf(scales);
  const order = meanOf(ratios);
  const apart = (/** @type {number} */ each) => toEngine(each * order) > APART * turns.line;
  if (!multiples.every(apart)) return refused("no blower");
  const tones = {
    firing: firings * speed,
    firingUnsure: firings * speed * (AT_BEST + (SURE * scatter(scales)) / independent),
    tone: order * speed,
    toneUnsure: speed * (AT_BEST * order + (SURE * scatter(ratios)) / independent),
    multiples,
  };
  return { verdict: "tones", tones };
}

/**
 * Whether a tone keeps its frequency while the engine's speed wanders: then no belt drives it. It
 * stands out more over seconds than it does over turns.
 * @param {Turns} turns @param {Turns} hertz @param {Family} blower
 */
function standsStill(turns, hertz, blower) {
  let more = 0;
  for (const [multiple, { gain }] of blower.lines) {
    const tone = multiple * blower.order * turns.speed;
    const found = hertz.summitNear(tone, hertz.line + 0.5 * turns.range * tone);
    more += (found?.gain ?? 0) - gain;
  }
  return more > STANDS * blower.lines.size;
}

/**
 * Share of all that stands out which is neither the engine's nor the blower's. Much of it means
 * that the comb was laid on the wrong lines.
 * @param {Turns} turns @param {Family} blower
 */
function strangers(turns, { order }) {
  const { gains, grain } = turns;
  let [all, strange] = [0, 0];
  for (let n = 2; n * grain * turns.speed < HIGHEST_TOOTH; n += 1) {
    if (gains[n] < CLEAR || gains[n] < gains[n - 1] || gains[n] <= gains[n + 1]) continue;
    const line = { place: (n + summit(gains, n)) * grain, gain: gains[n] };
    const loud = Math.min(LOUD, line.gain);
    all += loud;
    const away = Math.abs(line.place - order * Math.round(line.place / order));
    const own = away < 2 * turns.line + 2 * WANDERS_BESIDE * line.place;
    if (!own && isFree(turns, line)) strange += loud;
  }
  return strange / all;
}

/**
 * The number of which the lines at such multiples are multiples; null if one of them is missing.
 * @param {Turns} turns @param {Float64Array} logs @param {number[]} multiples
 * @param {number} about @param {number} share of that number that it may be off by
 */
function fitted(turns, logs, multiples, about, share) {
  let [top, bottom] = [0, 0];
  for (const multiple of multiples) {
    // Not so far that a line of the engine is taken for it.
    const room = toEngine(multiple * about) - APART * turns.line;
    const reach = Math.max(1.5 * turns.line, Math.min(share * multiple * about, room));
    const line = turns.summitNear(multiple * about, reach, logs);
    if (!line) continue;
    top += multiple * line.place;
    bottom += multiple * multiple;
  }
  return bottom > 0 ? top / bottom : null;
}
