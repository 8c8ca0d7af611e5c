/**
 * The angle that a wrench turns, from a phone's rate gyro: the same sums as calc/turning.py.
 * No DOM; tests/site/test_turn_js.py compares them.
 *
 * @typedef {{time: number, rate: [number, number, number]}} Reading  seconds, radians per second
 * @typedef {{rate: [number, number, number], noise: number, error: number}} Zero
 * @typedef {{angle: number, share: number, drift: number, band: number}} Turned  angles in radians
 */

export const DEGREE = 0.017453292519943295;
const SCALE_TOLERANCE = 0.03;
const TILT_RATE = 0.1 * DEGREE;
const STILL_RATE = 2 * DEGREE;

/** Readings in a second that are needed to follow a pull. Common practice. */
const LEAST_RATE = 15;
/** Rest that is needed for the zero, in seconds. */
export const ZERO_SECONDS = 1.5;
/** More than this at rest is no rest: an engine that runs, a wrench that swings. */
const RESTLESS = 1.5 * DEGREE;
/** Drift from which a reading is of no use any more. */
const MOST_DRIFT = 4 * DEGREE;
/** Share of the motion that must end up as angle, once there is enough of it to judge. */
const LEAST_SHARE = 0.93;
const JUDGED_FROM = 5 * DEGREE;

/**
 * The zero from readings at rest, or why there is none.
 * @param {Reading[]} readings
 * @returns {{zero: Zero | null, problem: string}}
 */
export function zeroOf(readings) {
  const count = readings.length;
  const seconds = count > 1 ? readings[count - 1].time - readings[0].time : 0;
  if (count < LEAST_RATE * ZERO_SECONDS || count < LEAST_RATE * seconds)
    return { zero: null, problem: "This phone's sensor is too slow to follow a wrench." };
  const rate = /** @type {[number, number, number]} */ (
    [0, 1, 2].map((axis) => mean(readings, axis))
  );
  let spread = 0;
  for (const reading of readings) {
    const off = less(reading.rate, rate);
    spread += dot(off, off);
  }
  const noise = Math.sqrt(spread / count);
  if (noise > RESTLESS)
    return {
      zero: null,
      problem: "Too restless for a zero. Hold the wrench still, and stop the engine.",
    };
  return { zero: { rate, noise, error: noise / Math.sqrt(count) }, problem: "" };
}

/** @param {Reading[]} readings @param {number} axis */
function mean(readings, axis) {
  let sum = 0;
  for (const { rate } of readings) sum += rate[axis];
  return sum / readings.length;
}

/**
 * What has been turned since the zero.
 * @param {Reading[]} readings the first at the end of the rest
 * @param {Zero} zero
 * @returns {Turned}
 */
export function turnOf(readings, zero) {
  let all = /** @type {[number, number, number]} */ ([0, 0, 0]);
  let moved = all;
  let path = 0;
  for (let n = 1; n < readings.length; n += 1) {
    const [before, after] = [readings[n - 1], readings[n]];
    const seconds = after.time - before.time;
    const step = scaled(plus(less(before.rate, zero.rate), less(after.rate, zero.rate)), 0.5);
    const size = Math.sqrt(dot(step, step));
    all = plus(all, scaled(step, seconds));
    if (size > STILL_RATE) {
      moved = plus(moved, scaled(step, seconds));
      path += size * seconds;
    }
  }
  const angle = Math.sqrt(dot(all, all));
  const elapsed = readings.length ? readings[readings.length - 1].time - readings[0].time : 0;
  const drift = elapsed * (TILT_RATE + zero.error);
  return {
    angle,
    share: path ? Math.sqrt(dot(moved, moved)) / path : 1,
    drift,
    band: SCALE_TOLERANCE * angle + drift,
  };
}

/**
 * Why a reading can't be trusted; "" where it can.
 * @param {Turned} turned
 */
export function turnProblem({ angle, share, drift }) {
  if (drift > MOST_DRIFT) return "The zero is too old: the drift has grown too large.";
  if (share < LEAST_SHARE && angle / share > JUDGED_FROM)
    return "The wrench went back, was lifted, or the phone slipped.";
  return "";
}

/** @param {number[]} a @param {number[]} b @returns {[number, number, number]} */
function plus(a, b) {
  return [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
}

/** @param {number[]} a @param {number[]} b @returns {[number, number, number]} */
function less(a, b) {
  return [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
}

/** @param {number[]} a @param {number} by @returns {[number, number, number]} */
function scaled(a, by) {
  return [a[0] * by, a[1] * by, a[2] * by];
}

/** @param {number[]} a @param {number[]} b */
function dot(a, b) {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}
