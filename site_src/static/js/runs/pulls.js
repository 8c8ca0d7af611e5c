/**
 * The pulls in a log, and their steady middles: rows under full throttle while the engine gains
 * speed, put together by engine speed. Handling of data, no engineering. No DOM.
 *
 * @typedef {Object<string, Float64Array>} Channels  SI, by key, all of one length
 * @typedef {Object<string, number>} Bin  medians, SI, by key; `rows`: how many
 * @typedef {{bins: Bin[], rest: number | null, counts: Counts}} Pulls  `rest`: boost while the
 *   engine stands, Pa
 * @typedef {{rows: number, blank: number, part: number, falling: number, few: number,
 *   used: number, pulls: number}} Counts  rows left out, by why
 */

/** Least rows of a pull, and of a bin. */
const [LEAST_ROWS, LEAST_OF_BIN] = [8, 3];

/** Least gain of a pull, 1/s: 800 rpm. */
const LEAST_GAIN = 800 / 60;

/** A dip of engine speed that is noise, 1/s. */
const DIP = 120 / 60;

/** Rows that reach what counts as the highest, so that a few wild ones don't. */
const REACHED = 20;

/** Share of the highest throttle, or boost, from which it is full. */
const [FULL_THROTTLE, FULL_BOOST] = [0.92, 0.35];

/** Share of a pull's rows left out at its start, while throttle and boost come up. */
const SETTLING = 0.06;

/** Widths of a bin that are tried, 1/s, and the most bins. */
const WIDTHS = [250 / 60, 500 / 60, 1000 / 60, 2000 / 60];
const MOST_BINS = 12;

/** Engine speed under which it stands, 1/s. */
const STANDING = 50 / 60;

/** @param {Channels} channels @returns {Pulls} */
export function findPulls(channels) {
  const { run_speed: speed, run_boost: boost } = channels;
  const counts = { rows: speed.length, blank: 0, part: 0, falling: 0, few: 0, used: 0, pulls: 0 };
  const full = isFull(channels);
  const kept = [];
  let open = [];
  for (let n = 0; n <= speed.length; n += 1) {
    const isBlank = n < speed.length && !(speed[n] === speed[n] && boost[n] === boost[n]);
    if (isBlank) counts.blank += 1;
    else if (n < speed.length && full[n]) open.push(n);
    else {
      if (n < speed.length) counts.part += 1;
      for (const pull of rising(open, speed)) {
        const start = Math.max(1, Math.round(SETTLING * pull.length));
        kept.push(...pull.slice(start));
        counts.pulls += 1;
        counts.falling -= pull.length - start;
      }
      counts.falling += open.length;
      open = [];
    }
  }
  const bins = binned(kept, channels);
  counts.used = bins.reduce((sum, { rows }) => sum + rows, 0);
  counts.few = kept.length - counts.used;
  return { bins, rest: atRest(speed, boost), counts };
}

/** Which rows are under full throttle. @param {Channels} channels @returns {Uint8Array} */
function isFull({ run_throttle: throttle, run_boost: boost }) {
  const by = throttle ?? boost;
  const top = highest(by);
  const least = top * (throttle ? FULL_THROTTLE : FULL_BOOST);
  return Uint8Array.from(by, (value) => (value >= least && top > 0 ? 1 : 0));
}

/**
 * The stretches of some rows over which the engine gains speed.
 * @param {number[]} rows @param {Float64Array} speed
 */
function rising(rows, speed) {
  const found = [];
  let start = 0;
  let top = 0;
  for (let n = 1; n <= rows.length; n += 1) {
    const isOver = n === rows.length || speed[rows[n]] < speed[rows[top]] - DIP;
    if (!isOver) {
      if (speed[rows[n]] >= speed[rows[top]]) top = n;
      continue;
    }
    const pull = rows.slice(start, top + 1);
    if (pull.length >= LEAST_ROWS && speed[pull[pull.length - 1]] - speed[pull[0]] >= LEAST_GAIN)
      found.push(pull);
    start = n;
    top = n;
  }
  return found;
}

/**
 * Medians by engine speed.
 * @param {number[]} rows @param {Channels} channels @returns {Bin[]}
 */
function binned(rows, channels) {
  const speed = channels.run_speed;
  for (const width of WIDTHS) {
    /** @type {Map<number, number[]>} */
    const groups = new Map();
    for (const row of rows) {
      const place = Math.floor(speed[row] / width);
      const group = groups.get(place);
      if (group) group.push(row);
      else groups.set(place, [row]);
    }
    const whole = [...groups].filter(([, group]) => group.length >= LEAST_OF_BIN);
    if (whole.length > MOST_BINS && width !== WIDTHS[WIDTHS.length - 1]) continue;
    return whole
      .sort(([a], [b]) => a - b)
      .slice(-MOST_BINS)
      .map(([, group]) => medians(group, channels));
  }
  return [];
}

/** @param {number[]} rows @param {Channels} channels @returns {Bin} */
function medians(rows, channels) {
  /** @type {Bin} */
  const bin = { rows: rows.length };
  for (const [key, values] of Object.entries(channels)) {
    const found = median(rows.map((row) => values[row]));
    if (found !== null) bin[key] = found;
  }
  return bin;
}

/** The middle of some numbers, those that aren't there left out. @param {number[]} values */
export function median(values) {
  const there = values.filter((value) => value === value).sort((a, b) => a - b);
  if (!there.length) return null;
  const half = there.length >> 1;
  return there.length % 2 ? there[half] : (there[half - 1] + there[half]) / 2;
}

/** The value that some rows at least reach. @param {Float64Array} values */
function highest(values) {
  const there = values.filter((value) => value === value).sort();
  const wild = Math.min(REACHED, Math.floor(there.length / 50));
  return there.length ? there[there.length - 1 - wild] : 0;
}

/** Boost while the engine stands. @param {Float64Array} speed @param {Float64Array} boost */
function atRest(speed, boost) {
  const still = [];
  for (let n = 0; n < speed.length; n += 1)
    if (speed[n] < STANDING && boost[n] === boost[n]) still.push(boost[n]);
  return still.length >= 5 ? median(still) : null;
}
