/**
 * The tone of one pluck in recorded sound, found exactly as `calc/tone.py` does: thin the sound
 * to about 6 kHz, take the rumble out, find the pluck, make sure that it dies away as a pluck does,
 * then find the delay at which the sound repeats itself. If it is not sure, it gives no tone.
 * No DOM: it runs in a browser and in Node.
 */

/** @typedef {ArrayLike<number>} Samples  full scale from −1 to 1 */
/** @typedef {"tone" | "too quiet" | "steady sound" | "no clear pitch"} Verdict */
/** @typedef {{verdict: Verdict, frequency: number | null}} Heard */

/** Lowest and highest tone that is looked for, in hertz. */
export const LOWEST = 40;
export const HIGHEST = 300;

const THIN_RATE = 6000;
const FRAME = 0.025;
const LONGEST = 0.4;
const QUIET = 0.002;
const FADED = 1 / 400;
const ABOVE_BACKGROUND = 10;
const FALL = 0.5;
const CLEAR = 0.8;
const FIRST = 0.9;
const FEWEST_FRAMES = 4;
const REPETITIONS = 6;

/**
 * @param {Samples} samples about a second of sound, at least 0.2 s
 * @param {number} sampleRate in hertz, 8000 or more
 * @returns {Heard}
 */
export function hearPluck(samples, sampleRate) {
  if (!(sampleRate >= 8000 && sampleRate <= 200e3)) {
    throw new RangeError(`sample rate is ${sampleRate}, allowed is 8000 to 200000`);
  }
  if (samples.length / sampleRate < 0.2) {
    throw new RangeError(`sound lasts ${samples.length / sampleRate} s, allowed is 0.2 s or more`);
  }
  const stride = Math.trunc(sampleRate / THIN_RATE);
  const rate = sampleRate / stride;
  const sound = withoutRumble(blockMeans(samples, stride), Math.trunc(rate / LOWEST));
  const frame = Math.trunc(rate * FRAME);
  const powers = blockMeans(
    sound.map((value) => value * value),
    frame,
  );
  const loudest = powers.indexOf(greatest(powers));
  const background = least(powers);
  if (powers[loudest] < QUIET * QUIET) return silent("too quiet");
  if (powers[loudest] < ABOVE_BACKGROUND * background) return silent("steady sound");
  const start = loudest + 1;
  const end = endOfPluck(powers, loudest, background);
  if (end - start < FEWEST_FRAMES) return silent("no clear pitch");
  const quarter = Math.floor((end - start) / 4);
  if (sum(powers, end - quarter, end) > FALL * sum(powers, start, start + quarter)) {
    return silent("steady sound");
  }
  const period = findPeriod(sound.subarray(start * frame, end * frame), rate);
  return period === null ? silent("no clear pitch") : { verdict: "tone", frequency: rate / period };
}

/**
 * Median of several plucks, and how far they are apart.
 * @param {number[]} tones in hertz, one or more
 * @returns {{median: number, spread: number}}
 */
export function medianAndSpread(tones) {
  if (tones.length === 0) throw new RangeError("no tones, allowed is one or more");
  const sorted = [...tones].sort((a, b) => a - b);
  const upper = Math.floor(sorted.length / 2);
  const median = sorted.length % 2 === 1 ? sorted[upper] : (sorted[upper - 1] + sorted[upper]) / 2;
  return { median, spread: sorted[sorted.length - 1] - sorted[0] };
}

/** @param {Verdict} verdict @returns {Heard} */
function silent(verdict) {
  return { verdict, frequency: null };
}

/** @param {Samples} values @param {number} from @param {number} to */
function sum(values, from, to) {
  let total = 0;
  for (let n = from; n < to; n += 1) total += values[n];
  return total;
}

/** @param {Float64Array} values */
function greatest(values) {
  return values.reduce((most, value) => (value > most ? value : most), -Infinity);
}

/** @param {Float64Array} values */
function least(values) {
  return values.reduce((fewest, value) => (value < fewest ? value : fewest), Infinity);
}

/** Mean of each whole block of values. @param {Samples} values @param {number} size */
function blockMeans(values, size) {
  return Float64Array.from(
    { length: Math.floor(values.length / size) },
    (_, n) => sum(values, n * size, (n + 1) * size) / size,
  );
}

/**
 * Mean of every run of so many neighbours; shifts no tone, and shortens by size − 1.
 * @param {Float64Array} values @param {number} size
 */
function movingMeans(values, size) {
  const sums = new Float64Array(values.length + 1);
  for (let n = 0; n < values.length; n += 1) sums[n + 1] = sums[n] + values[n];
  return Float64Array.from(
    { length: values.length - size + 1 },
    (_, n) => (sums[n + size] - sums[n]) / size,
  );
}

/**
 * Sound less its moving mean over the longest period.
 * @param {Float64Array} sound
 * @param {number} size
 */
function withoutRumble(sound, size) {
  const half = Math.floor(size / 2);
  const rumble = movingMeans(sound, 2 * half + 1);
  return rumble.map((mean, n) => sound[n + half] - mean);
}

/**
 * Frame at which the pluck has faded, or at which enough was heard. The last frame is
 * left out: a steady sound that is cut off within it would seem to fade.
 * @param {Float64Array} powers @param {number} loudest @param {number} background
 */
function endOfPluck(powers, loudest, background) {
  const faded = Math.max(FADED * powers[loudest], ABOVE_BACKGROUND * background);
  const last = Math.min(powers.length, loudest + 1 + Math.trunc(LONGEST / FRAME));
  for (let frame = loudest + 1; frame < last; frame += 1) {
    if (powers[frame] < faded) return frame - 1;
  }
  return last - 1;
}

/**
 * How similar a sound is to itself a lag later, −1 to 1, whether or not it fades.
 * @param {Float64Array} sound
 * @param {number} lag
 */
function likeness(sound, lag) {
  let early = 0;
  let late = 0;
  let both = 0;
  for (let n = lag; n < sound.length; n += 1) {
    early += sound[n - lag] * sound[n - lag];
    late += sound[n] * sound[n];
    both += sound[n - lag] * sound[n];
  }
  const size = Math.sqrt(early * late);
  return size > 0 ? both / size : 0;
}

/**
 * Period in samples: the first clear repetition, then sharpened over several of them. Shorter
 * delays than the highest tone's are looked at too, or a whistle would be taken for the belt tone
 * of several of its periods.
 * @param {Float64Array} sound @param {number} rate @returns {number | null}
 */
function findPeriod(sound, rate) {
  const shortest = Math.trunc(rate / HIGHEST);
  const longest = Math.trunc(rate / LOWEST) + 1;
  if (sound.length < 2 * longest) return null;
  const like = [NaN];
  for (let lag = 1; lag <= longest + 1; lag += 1) like.push(likeness(sound, lag));
  const peaks = [];
  for (let lag = 2; lag <= longest; lag += 1) {
    if (like[lag - 1] < like[lag] && like[lag] >= like[lag + 1]) peaks.push(lag);
  }
  const highest = peaks.reduce((most, lag) => Math.max(most, like[lag]), 0);
  const first = peaks.find((lag) => like[lag] >= FIRST * highest) ?? 0;
  if (highest < CLEAR || first < shortest) return null;
  return sharpened(lowestPartial(sound, first), first);
}

/**
 * Sound with its second to sixth partials averaged away. A belt is stiff, so its partials are sharp
 * and would raise the tone.
 * @param {Float64Array} sound @param {number} period
 */
function lowestPartial(sound, period) {
  return movingMeans(movingMeans(sound, halfToEven(period / 2)), halfToEven(period / 3));
}

/**
 * Round as the reference does: a half goes to the even neighbour.
 * @param {number} value
 */
function halfToEven(value) {
  const below = Math.floor(value);
  if (value - below !== 0.5) return Math.round(value);
  return below % 2 === 0 ? below : below + 1;
}

/**
 * Period from the latest of its repetitions that is still clear.
 * @param {Float64Array} sound
 * @param {number} first
 */
function sharpened(sound, first) {
  let period = peak(sound, first);
  for (let count = 2; count <= REPETITIONS; count += 1) {
    const lag = halfToEven(count * period);
    if (2 * lag > sound.length || likeness(sound, lag) < CLEAR) break;
    period = peak(sound, lag) / count;
  }
  return period;
}

/**
 * Top of the parabola through the likeness at a lag and its two neighbours.
 * @param {Float64Array} sound
 * @param {number} lag
 */
function peak(sound, lag) {
  const [before, at, after] = [-1, 0, 1].map((away) => likeness(sound, lag + away));
  const bend = before - 2 * at + after;
  return bend < 0 ? lag + (0.5 * (before - after)) / bend : lag;
}
