/**
 * The order in which the bolts of a pattern are tightened: the same rules as
 * calc/tightening.py. No DOM.
 *
 * From the centre outward, ring by ring; within a ring to the side most opposite to the bolt
 * before, left before right, upper before lower; never to a neighbour while any order of the rings
 * avoids it. Bolts are numbers from 0 in the order of their places; x runs to the right, y upwards.
 *
 * Only + − × ÷ √, comparisons and rounding down, in Python's own order of operations, so that both
 * give the same order for any places; tests/site/test_order_js.py compares them.
 *
 * @typedef {[number, number]} Place
 */

export const MOST_BOLTS = 60;

const FEWEST_ON_A_CIRCLE = 5;
const RING_WIDTH = 0.05;
const WIDE_RING = 0.5;
const RIM = 1.05;
const OUTLINE_SLACK = 0.05;
const SAME_LINE = 1e-9;
const TIE = 1e-6;
const TIE_OF_ANGLE = 1e-9;
const LEAST_APART = 1e-6;
const FARTHEST = 1e6;

/** A pattern that has no order; `bolts` are those that cause it. */
export class PatternError extends Error {
  /** @param {string} message @param {number[]} [bolts] */
  constructor(message, bolts = []) {
    super(message);
    this.bolts = bolts;
  }
}

/**
 * Places of a rectangular pattern, along the top row first.
 * @param {number} rows
 * @param {number} columns
 * @returns {Place[]}
 */
export function gridPlaces(rows, columns) {
  return Array.from(
    { length: rows * columns },
    (_, n) => /** @type {Place} */ ([n % columns, 0 - Math.floor(n / columns)]),
  );
}

/**
 * Turn a place round the origin, clockwise by right angles.
 * @param {Place} place
 * @param {number} quarters
 * @returns {Place}
 */
export function turned([x, y], quarters) {
  switch (((quarters % 4) + 4) % 4) {
    case 1:
      return [y, -x];
    case 2:
      return [-x, -y];
    case 3:
      return [-y, x];
    default:
      return [x, y];
  }
}

/**
 * Crosswise order of an evenly bolted circle, bolts numbered clockwise around it.
 * @param {number} count
 */
export function circleOrder(count) {
  const [starts, offsets] = circleOffsets(count);
  return starts.flatMap((start) => offsets.map((each) => start + each));
}

/** @param {number} count @returns {[number[], number[]]} */
function circleOffsets(count) {
  if (count % 4 === 0) {
    const quarter = count / 4;
    return [spread(quarter), [0, 2 * quarter, quarter, 3 * quarter]];
  }
  if (count % 2 === 0) return [around(count / 2), [0, count / 2]];
  return [around(count), [0]];
}

/** @param {number} count */
function spread(count) {
  const stride = Math.max(Math.floor(count / 2), 1);
  const numbers = [];
  for (let first = 0; first < stride; first += 1) {
    for (let number = first; number < count; number += stride) numbers.push(number);
  }
  return numbers;
}

/** @param {number} count */
function around(count) {
  const stride = Math.max(Math.floor((count - 1) / 2), 1);
  return Array.from({ length: count }, (_, number) => (number * stride) % count);
}

/**
 * Order of any pattern from its places.
 * @param {Place[]} places
 * @returns {number[]}
 * @throws {PatternError}
 */
export function tighteningOrder(places) {
  const groups = rings(places);
  if (groups.length === 1 && places.length >= FEWEST_ON_A_CIRCLE) {
    const clockwise = aroundTheClock(centred(places));
    return circleOrder(places.length).map((place) => clockwise[place]);
  }
  return ringByRing(groups, centred(places), neighbours(places));
}

/**
 * Bolts grouped by distance from the centre, innermost first.
 * @param {Place[]} places
 * @returns {number[][]}
 */
export function rings(places) {
  mustBePattern(places);
  const distances = centred(places).map(([x, y]) => size(x, y));
  const spacing = spacingOf(places);
  const groups = bands(distances, RING_WIDTH * spacing);
  const alone = groups.filter((group) => group.length === 1).length;
  return 2 * alone > places.length ? bands(distances, WIDE_RING * spacing) : groups;
}

/**
 * Pairs of bolts with no other between them.
 * @param {Place[]} places
 * @returns {[number, number][]}
 */
export function neighbours(places) {
  mustBePattern(places);
  const points = centred(places);
  /** @type {[number, number][]} */
  const pairs = [];
  for (let first = 0; first < points.length; first += 1) {
    for (let second = first + 1; second < points.length; second += 1) {
      if (isEmptyBetween(points, first, second)) pairs.push([first, second]);
    }
  }
  return pairs;
}

/**
 * Order of the last check: around the outside clockwise, then what is left within.
 * @param {Place[]} places
 */
export function checkOrder(places) {
  mustBePattern(places);
  const spacing = spacingOf(places);
  const points = centred(places).map(([x, y]) => /** @type {Place} */ ([x / spacing, y / spacing]));
  let left = points.map((_, bolt) => bolt);
  /** @type {number[]} */
  const order = [];
  while (left.length) {
    const outline = outlineOf(points, left);
    order.push(...outline);
    left = left.filter((bolt) => !outline.includes(bolt));
  }
  return order;
}

/** @param {Place[]} places */
function mustBePattern(places) {
  if (!places.length) throw new PatternError("There are no bolts yet.");
  if (places.length > MOST_BOLTS) {
    throw new PatternError(
      `${places.length} bolts: this page takes ${MOST_BOLTS} at most. Make two maps of it.`,
    );
  }
  const far = places.findIndex(([x, y]) => !(Math.abs(x) <= FARTHEST && Math.abs(y) <= FARTHEST));
  if (far >= 0) throw new PatternError(`Bolt ${far + 1} lies too far out.`, [far]);
  for (let second = 1; second < places.length; second += 1) {
    for (let first = 0; first < second; first += 1) {
      if (!(apart(places[first], places[second]) >= LEAST_APART)) {
        throw new PatternError(
          `Bolts ${first + 1} and ${second + 1} lie in one place. Move or take out one.`,
          [first, second],
        );
      }
    }
  }
}

/** @param {Place[]} places @returns {Place[]} as seen from the mean of all */
function centred(places) {
  let [sumX, sumY] = [0, 0];
  for (const [x, y] of places) {
    sumX += x;
    sumY += y;
  }
  const [middleX, middleY] = [sumX / places.length, sumY / places.length];
  return places.map(([x, y]) => [x - middleX, y - middleY]);
}

/** @param {number} x @param {number} y */
function size(x, y) {
  return Math.sqrt(x * x + y * y);
}

/** @param {Place} one @param {Place} other */
function apart([ax, ay], [bx, by]) {
  return size(ax - bx, ay - by);
}

/** @param {number} value @param {number} tie */
function tidy(value, tie) {
  return Math.floor(value / tie + 0.5);
}

/** Usual distance to the next bolt: the median of all. @param {Place[]} places */
function spacingOf(places) {
  if (places.length < 2) return 1;
  const points = centred(places);
  const nearest = points.map((point, bolt) =>
    points.reduce(
      (least, other, n) => (n === bolt ? least : Math.min(least, apart(point, other))),
      Infinity,
    ),
  );
  nearest.sort((a, b) => a - b);
  const half = nearest.length / 2;
  return nearest.length % 2 ? nearest[Math.floor(half)] : (nearest[half - 1] + nearest[half]) / 2;
}

/** @param {number[]} distances @param {number} width @returns {number[][]} */
function bands(distances, width) {
  /** @type {number[][]} */
  const groups = [];
  let start = -Infinity;
  for (const bolt of distances.map((_, n) => n).sort((a, b) => distances[a] - distances[b])) {
    if (distances[bolt] > start + width) {
      groups.push([]);
      start = distances[bolt];
    }
    groups[groups.length - 1].push(bolt);
  }
  return groups.map((group) => group.sort((a, b) => a - b));
}

/** @param {Place[]} points @param {number} first @param {number} second */
function isEmptyBetween(points, first, second) {
  const [[ax, ay], [bx, by]] = [points[first], points[second]];
  const [dx, dy] = [ax - bx, ay - by];
  const radiusSquared = (dx * dx + dy * dy) / 4;
  const [middleX, middleY] = [(ax + bx) / 2, (ay + by) / 2];
  return !points.some(([x, y], bolt) => {
    if (bolt === first || bolt === second) return false;
    const [fromX, fromY] = [x - middleX, y - middleY];
    return fromX * fromX + fromY * fromY < radiusSquared * RIM;
  });
}

/** Bolts around the centre, clockwise from the top. @param {Place[]} points */
function aroundTheClock(points) {
  const whole = tidy(4, TIE_OF_ANGLE);
  const turns = points
    .map(([x, y]) => tidy(turn(x, y), TIE_OF_ANGLE))
    .map((each) => (each < whole ? each : 0));
  return points.map((_, bolt) => bolt).sort((a, b) => turns[a] - turns[b]);
}

/**
 * How far around clockwise from the top, 0 to 4; a right angle is 1.
 * @param {number} x
 * @param {number} y
 */
function turn(x, y) {
  if (x === 0 && y === 0) return 0;
  const share = Math.abs(x) / (Math.abs(x) + Math.abs(y));
  if (x >= 0) return y >= 0 ? share : 2 - share;
  return y < 0 ? 2 + share : 4 - share;
}

/**
 * Bolts on the outline, clockwise from the one numbered lowest; a line from its end.
 * @param {Place[]} points
 * @param {number[]} bolts
 */
function outlineOf(points, bolts) {
  const corners = cornersOf(points, bolts);
  if (corners.length === 1) return corners;
  const found = corners.flatMap((corner, n) =>
    beside(points, bolts, corner, corners[(n + 1) % corners.length]),
  );
  const all = [...new Set(found)];
  const first = corners.length > 2 ? all.indexOf(Math.min(...all)) : 0;
  return [...all.slice(first), ...all.slice(0, first)];
}

/** @param {Place[]} points @param {number[]} bolts */
function cornersOf(points, bolts) {
  const across = [...bolts].sort(
    (a, b) => points[a][0] - points[b][0] || points[a][1] - points[b][1],
  );
  const there = upperSide(points, across);
  const back = upperSide(points, [...across].reverse());
  const upright = points[across[0]][0] === points[across[across.length - 1]][0];
  if (there.length === 2 && back.length === 2 && upright) return back;
  return bolts.length > 1 ? [...there.slice(0, -1), ...back.slice(0, -1)] : there;
}

/** @param {Place[]} points @param {number[]} along */
function upperSide(points, along) {
  /** @type {number[]} */
  const side = [];
  for (const bolt of along) {
    while (
      side.length > 1 &&
      offset(points, side[side.length - 1], side[side.length - 2], bolt) >= -SAME_LINE
    )
      side.pop();
    side.push(bolt);
  }
  return side;
}

/** @param {Place[]} points @param {number[]} bolts @param {number} from @param {number} to */
function beside(points, bolts, from, to) {
  const [startX, startY] = points[from];
  const [runX, runY] = [points[to][0] - startX, points[to][1] - startY];
  const length = size(runX, runY);
  /** @param {number} bolt */
  const along = (bolt) =>
    ((points[bolt][0] - startX) * runX + (points[bolt][1] - startY) * runY) / length;
  return bolts
    .filter((bolt) => Math.abs(offset(points, bolt, from, to)) <= OUTLINE_SLACK)
    .filter((bolt) => along(bolt) >= 0 && along(bolt) <= length)
    .sort((a, b) => along(a) - along(b));
}

/**
 * How far a bolt is to the right of a line.
 * @param {Place[]} points
 * @param {number} bolt
 * @param {number} from
 * @param {number} to
 */
function offset(points, bolt, from, to) {
  const [startX, startY] = points[from];
  const [ax, ay] = [points[bolt][0] - startX, points[bolt][1] - startY];
  const [bx, by] = [points[to][0] - startX, points[to][1] - startY];
  return (ax * by - ay * bx) / size(bx, by);
}

/**
 * Order ring by ring with the fewest moves to a neighbour.
 * @param {number[][]} groups
 * @param {Place[]} points
 * @param {[number, number][]} near
 */
function ringByRing(groups, points, near) {
  for (let moves = 0; moves <= points.length; moves += 1) {
    const order = new Search(groups, points, near).extend(0, groups[0], -1, moves);
    if (order) return order;
  }
  throw new Error("an order with every move to a neighbour always exists");
}

/** Depth-first search for an order, the most wanted bolt tried first. */
class Search {
  /** @param {number[][]} groups @param {Place[]} points @param {[number, number][]} near */
  constructor(groups, points, near) {
    this.groups = groups;
    this.points = points;
    this.near = new Set(near.map(([first, second]) => first * MOST_BOLTS + second));
    /** @type {Set<string>} */
    this.deadEnds = new Set();
  }

  /**
   * @param {number} ring
   * @param {number[]} left in rising order
   * @param {number} last
   * @param {number} moves
   * @returns {number[] | null}
   */
  extend(ring, left, last, moves) {
    if (!left.length) {
      return ring + 1 === this.groups.length
        ? []
        : this.extend(ring + 1, this.groups[ring + 1], last, moves);
    }
    const state = `${ring} ${left.join()} ${last} ${moves}`;
    if (this.deadEnds.has(state)) return null;
    for (const bolt of this.wished(left, last)) {
      const still = moves - (this.isMoveToNeighbour(last, bolt) ? 1 : 0);
      if (still < 0) continue;
      const rest = this.extend(
        ring,
        left.filter((each) => each !== bolt),
        bolt,
        still,
      );
      if (rest) return [bolt, ...rest];
    }
    this.deadEnds.add(state);
    return null;
  }

  /** @param {number} last @param {number} bolt */
  isMoveToNeighbour(last, bolt) {
    return last >= 0 && this.near.has(Math.min(last, bolt) * MOST_BOLTS + Math.max(last, bolt));
  }

  /**
   * Opposite the last first, then left, then upper, then as given.
   * @param {number[]} left
   * @param {number} last
   */
  wished(left, last) {
    const keyed = left.map((bolt) => ({ bolt, key: this.wish(last, bolt) }));
    keyed.sort(
      (a, b) =>
        a.key[0] - b.key[0] || a.key[1] - b.key[1] || a.key[2] - b.key[2] || a.bolt - b.bolt,
    );
    return keyed.map(({ bolt }) => bolt);
  }

  /** @param {number} last @param {number} bolt @returns {[number, number, number]} */
  wish(last, bolt) {
    const [x, y] = this.points[bolt];
    const [lastX, lastY] = last >= 0 ? this.points[last] : [0, 0];
    const along = last >= 0 ? lastX * x + lastY * y : 0;
    return [tidy(along, TIE), tidy(x, TIE), -tidy(y, TIE)];
  }
}
