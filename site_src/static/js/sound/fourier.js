/**
 * Sound as a sum of steady tones: spectra, filtering and resampling. No DOM. Sines and logarithms
 * are made of + − × ÷, or engines would round them differently.
 */

/** Half of the width, in samples, of the filter that is laid on sound read between samples. */
const REACH = 12;
/** Places between two samples at which that filter is worked out. */
const FINENESS = 256;

/** Decibels of e times the power. */
const DECIBELS = 4.342944819032518;
/** Pi, as near as a number can be. */
const PI = 3.141592653589793;
const WORD = 4294967296;

/** @typedef {{cosines: Float64Array, sines: Float64Array}} Circle */

/**
 * Cosines and sines on a circle, step by step from nought.
 * @param {number} steps in a whole turn
 * @param {number} count how many of them
 * @returns {Circle}
 */
function circle(steps, count) {
  const angle = (2 * PI) / steps;
  let [c, s] = [0, 0];
  for (let n = 0, term = 1; n < 60; n += 4, term *= angle / n) {
    c += term;
    s += term *= angle / (n + 1);
    c -= term *= angle / (n + 2);
    s -= term *= angle / (n + 3);
  }
  const cosines = new Float64Array(count);
  const sines = new Float64Array(count);
  cosines[0] = 1;
  for (let n = 1; n < count; n += 1) {
    cosines[n] = cosines[n - 1] * c - sines[n - 1] * s;
    sines[n] = sines[n - 1] * c + cosines[n - 1] * s;
  }
  return { cosines, sines };
}

/**
 * Ten times the common logarithm, to a hundred millionth.
 * @param {number} power more than nought
 */
export function decibel(power) {
  let scaled = power;
  let twos = 0;
  for (; scaled < 1; twos -= 32) scaled *= WORD;
  for (; scaled >= WORD; twos += 32) scaled /= WORD;
  for (let bit = 16, most = 65536; bit >= 1; bit /= 2, most = Math.sqrt(most)) {
    if (scaled < most) continue;
    scaled /= most;
    twos += bit;
  }
  const part = (scaled - 1) / (scaled + 1);
  const square = part * part;
  let series = 0;
  for (let n = 15; n >= 1; n -= 2) series = series * square + 1 / n;
  return DECIBELS * (twos * 0.6931471805599453 + 2 * part * series);
}

/** @type {Map<string, Circle>} */
const circles = new Map();

/**
 * A circle that is kept, since the same ones are needed again and again.
 * @param {number} steps @param {number} count
 */
function kept(steps, count) {
  const key = `${steps} ${count}`;
  const found = circles.get(key) ?? circle(steps, count);
  circles.set(key, found);
  return found;
}

/**
 * Discrete Fourier transform in place.
 * @param {Float64Array} real @param {Float64Array} imaginary both of one length, a power of two
 */
export function transform(real, imaginary) {
  const size = real.length;
  swapBits(real, imaginary);
  const { cosines, sines } = kept(size, size / 2);
  for (let half = 1; half < size; half *= 2) {
    const stride = size / (2 * half);
    for (let start = 0; start < size; start += 2 * half) {
      for (let n = 0; n < half; n += 1) {
        // Not as pairs: the innermost of all loops would make two lists each time.
        const a = start + n;
        const b = a + half;
        const c = cosines[n * stride];
        const s = sines[n * stride];
        const x = real[b] * c + imaginary[b] * s;
        const y = imaginary[b] * c - real[b] * s;
        real[b] = real[a] - x;
        imaginary[b] = imaginary[a] - y;
        real[a] += x;
        imaginary[a] += y;
      }
    }
  }
}

/** @param {Float64Array} real @param {Float64Array} imaginary */
function swapBits(real, imaginary) {
  const size = real.length;
  for (let n = 1, m = 0; n < size; n += 1) {
    let bit = size >> 1;
    for (; m & bit; bit >>= 1) m ^= bit;
    m ^= bit;
    if (n >= m) continue;
    swap(real, n, m);
    swap(imaginary, n, m);
  }
}

/** @param {Float64Array} numbers @param {number} n @param {number} m */
function swap(numbers, n, m) {
  const held = numbers[n];
  numbers[n] = numbers[m];
  numbers[m] = held;
}

/**
 * Power at each frequency from nought to half the sample rate, seen through a Hann window.
 * @param {Float64Array} sound @param {number} from first sample @param {number} length
 * @param {number} size a power of two, the length or more; the rest is filled with silence
 */
export function powers(sound, from, length, size) {
  // Two samples to a complex number: a transform of half the size holds the same.
  const half = size / 2;
  const real = new Float64Array(half);
  const imaginary = new Float64Array(half);
  const window = kept(length, length).cosines;
  for (let n = 0; n < length; n += 1) {
    const into = n & 1 ? imaginary : real;
    into[n >> 1] = sound[from + n] * (0.5 - 0.5 * window[n]);
  }
  transform(real, imaginary);
  const { cosines, sines } = kept(size, half);
  const found = new Float64Array(half);
  for (let n = 0; n < half; n += 1) {
    const m = n && half - n;
    const oddReal = imaginary[n] + imaginary[m];
    const oddImaginary = real[m] - real[n];
    const x = real[n] + real[m] + cosines[n] * oddReal + sines[n] * oddImaginary;
    const y = imaginary[n] - imaginary[m] + cosines[n] * oddImaginary - sines[n] * oddReal;
    found[n] = 0.25 * (x * x + y * y);
  }
  return found;
}

/** Least power of two that is so much or more. @param {number} least */
export function powerOfTwo(least) {
  let size = 1;
  while (size < least) size *= 2;
  return size;
}

/** Shape of the filter, in samples off its middle: a sinc under a Hann window. */
const SHAPE = filterShape();

function filterShape() {
  const { sines } = circle(2 * FINENESS, REACH * FINENESS + 2);
  const { cosines } = circle(2 * REACH * FINENESS, REACH * FINENESS + 2);
  return Float64Array.from(sines, (sine, n) => {
    if (n >= REACH * FINENESS) return 0;
    const sinc = n === 0 ? 1 : sine / ((PI * n) / FINENESS);
    return sinc * (0.5 + 0.5 * cosines[n]);
  });
}

/** @param {number} away in samples */
function weight(away) {
  const place = Math.abs(away) * FINENESS;
  const below = Math.floor(place);
  if (below >= REACH * FINENESS) return 0;
  return SHAPE[below] + (place - below) * (SHAPE[below + 1] - SHAPE[below]);
}

/**
 * Sound read at other places; outside of it there is silence. Above half of the rate at which it
 * is read nothing is left, if `width` is how many samples lie between two places.
 * @param {ArrayLike<number>} sound
 * @param {ArrayLike<number>} places in samples
 * @param {number} width 1 or more
 */
export function readAt(sound, places, width) {
  const read = new Float64Array(places.length);
  const reach = REACH * width;
  for (let k = 0; k < places.length; k += 1) {
    const first = Math.max(0, Math.ceil(places[k] - reach));
    const last = Math.min(sound.length - 1, Math.floor(places[k] + reach));
    let total = 0;
    for (let n = first; n <= last; n += 1) total += sound[n] * weight((n - places[k]) / width);
    read[k] = total / width;
  }
  return read;
}

/**
 * Sound at a lower rate.
 * @param {ArrayLike<number>} sound
 * @param {number} stride samples for one that is left
 */
export function thinned(sound, stride) {
  const places = Float64Array.from(
    { length: Math.floor(sound.length / stride) },
    (_, n) => n * stride,
  );
  return readAt(sound, places, stride);
}

/**
 * Middle values of blocks of a spectrum, read between their middles: what lies between its lines.
 * @param {Float64Array} spectrum
 * @param {number} block
 */
export function floorOf(spectrum, block) {
  const count = Math.max(1, Math.floor(spectrum.length / block));
  const middles = Float64Array.from({ length: count }, (_, n) => {
    const sorted = spectrum.slice(n * block, (n + 1) * block).sort();
    return sorted[Math.floor(sorted.length / 2)];
  });
  const found = new Float64Array(spectrum.length);
  for (let n = 0; n < found.length; n += 1) {
    const place = Math.min(Math.max((n + 0.5) / block - 0.5, 0), count - 1);
    const below = Math.max(Math.min(Math.floor(place), count - 2), 0);
    const above = Math.min(below + 1, count - 1);
    found[n] = middles[below] + (place - below) * (middles[above] - middles[below]);
  }
  return found;
}
