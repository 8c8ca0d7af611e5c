/**
 * A bolt pattern as a drawing: large, and readable without colour from an arm's length.
 *
 * The next bolt is a solid hexagon in a ring, where two scribed lines cross; done ones are ticked,
 * open ones plain, those in doubt hatched with a question mark, and so is the ring of one that is
 * asked for again. One unit of the drawing is one CSS pixel.
 *
 * @typedef {"open" | "done" | "doubtful" | "next" | "next again"} State
 * @typedef {{x: number, y: number}} Spot
 * @typedef {{spots: Spot[], radius: number, large: number}} Layout
 * @typedef {{places: [number, number][], quarters: number, names: string[], states: State[],
 *   offset: number[], width: number, height: number, label: string}} Drawn
 */

import { turned } from "./order.js";
import { draw } from "../face/dom.js";

const LARGEST = 34;
const SMALLEST = 6;
/** Radius over the distance between the two nearest bolts. */
const SHARE = 0.39;
/** Under this radius a bolt has no room for its number. */
const READABLE = 9;
const EDGE = 13;

/**
 * Places of bolts around a circle, clockwise from the top. For the drawing only: an order never
 * depends on them.
 * @param {number} count
 * @returns {[number, number][]}
 */
export function circlePlaces(count) {
  return Array.from({ length: count }, (_, n) => {
    const angle = (2 * Math.PI * n) / count;
    return /** @type {[number, number]} */ ([Math.sin(angle), Math.cos(angle)]);
  });
}

/** Distance between the two nearest spots. @param {[number, number][]} places */
function nearest(places) {
  let least = Infinity;
  places.forEach(([ax, ay], n) => {
    for (const [bx, by] of places.slice(n + 1))
      least = Math.min(least, Math.hypot(ax - bx, ay - by));
  });
  return least;
}

/**
 * Where the bolts are on the drawing, and how large they can be.
 * @param {[number, number][]} places
 * @param {number} quarters
 * @param {number} width
 * @param {number} height
 * @returns {Layout}
 */
export function layOut(places, quarters, width, height) {
  const all = places.map((place) => turned(place, quarters));
  const [xs, ys] = [all.map(([x]) => x), all.map(([, y]) => y)];
  const [left, right, low, high] = [
    Math.min(...xs),
    Math.max(...xs),
    Math.min(...ys),
    Math.max(...ys),
  ];
  const closest = nearest(all);
  /** @param {number} radius */
  const sized = (radius) => {
    const large = Math.min(46, Math.max(1.35 * radius, 24));
    const margin = large + EDGE;
    const across = right > left ? (width - 2 * margin) / (right - left) : Infinity;
    const up = high > low ? (height - 2 * margin) / (high - low) : Infinity;
    const scale = Math.max(0, Math.min(across, up));
    return { radius, large, scale: Number.isFinite(scale) ? scale : 0 };
  };
  let fitted = sized(LARGEST);
  while (fitted.radius > SMALLEST && closest * fitted.scale * SHARE < fitted.radius)
    fitted = sized(fitted.radius - 0.5);
  const { radius, large, scale } = fitted;
  const [middleX, middleY] = [(left + right) / 2, (low + high) / 2];
  return {
    spots: all.map(([x, y]) => ({
      x: width / 2 + (x - middleX) * scale,
      y: height / 2 - (y - middleY) * scale,
    })),
    radius,
    large,
  };
}

/**
 * The bolt that a tap means: the nearest one, unless the tap is far from all.
 * @param {Layout} layout
 * @param {number} x
 * @param {number} y
 * @returns {number} −1 for none
 */
export function boltAt({ spots, radius }, x, y) {
  const far = spots.map((spot) => Math.hypot(spot.x - x, spot.y - y));
  const least = Math.min(...far);
  return least <= Math.max(1.6 * radius, 36) ? far.indexOf(least) : -1;
}

/** @param {Drawn} drawn */
export function drawMap({ places, quarters, names, states, offset, width, height, label }) {
  const layout = layOut(places, quarters, width, height);
  const next = states.findIndex((state) => state.startsWith("next"));
  const order = places.map((_, bolt) => bolt).filter((bolt) => bolt !== next);
  return draw(
    "svg",
    { class: "map", viewBox: `0 0 ${width} ${height}`, role: "img", "aria-label": label },
    [
      hatching(),
      ...(next >= 0 ? [scribed(layout.spots[next], width, height)] : []),
      ...order.map((bolt) =>
        drawBolt(layout, bolt, states[bolt], names[bolt], offset.includes(bolt)),
      ),
      ...(next >= 0
        ? [drawBolt(layout, next, states[next], names[next], offset.includes(next))]
        : []),
    ],
  );
}

function hatching() {
  return draw("defs", {}, [
    draw(
      "pattern",
      {
        id: "map-hatch",
        width: "7",
        height: "7",
        patternUnits: "userSpaceOnUse",
        patternTransform: "rotate(45)",
      },
      [
        draw("rect", { class: "map-hatch-ground", width: "7", height: "7" }),
        draw("rect", { class: "map-hatch-line", width: "3", height: "7" }),
      ],
    ),
  ]);
}

/**
 * Two lines that cross at a bolt, as scribed through layout dye.
 * @param {Spot} spot
 * @param {number} width
 * @param {number} height
 */
function scribed({ x, y }, width, height) {
  return draw("path", {
    class: "map-scribed",
    d: `M0 ${y.toFixed(1)}H${width}M${x.toFixed(1)} 0V${height}`,
  });
}

/**
 * @param {Layout} layout
 * @param {number} bolt
 * @param {State} state
 * @param {string} name
 * @param {boolean} offset
 */
function drawBolt({ spots, radius, large }, bolt, state, name, offset) {
  const { x, y } = spots[bolt];
  const shape = {
    open: drawOpen,
    done: drawDone,
    doubtful: drawDoubtful,
    next: drawNext,
    "next again": drawNext,
  }[state];
  const size = state.startsWith("next") ? large : radius;
  const group = draw(
    "g",
    {
      class: `bolt ${state}`,
      "data-bolt": String(bolt),
      transform: `translate(${x.toFixed(1)} ${y.toFixed(1)})`,
    },
    shape(size, name),
  );
  if (offset) group.append(...offsetMark(size));
  return group;
}

/** @param {number} r @param {string} name */
function drawOpen(r, name) {
  return r < READABLE ? [circle(r)] : [circle(r), number(name, 0, r * 1.05)];
}

/** @param {number} r @param {string} name */
function drawDone(r, name) {
  const small = r < 15;
  const tick = `M${(-0.55 * r).toFixed(1)} ${(small ? 0 : 0.3 * r).toFixed(1)}l${(0.4 * r).toFixed(1)} ${(0.4 * r).toFixed(1)} ${(0.75 * r).toFixed(1)} ${(-0.8 * r).toFixed(1)}`;
  return [
    circle(r),
    ...(small ? [] : [number(name, -0.42 * r, r * 0.72)]),
    draw("path", { class: "tick", d: tick, "stroke-width": Math.max(3, 0.19 * r).toFixed(1) }),
  ];
}

/** @param {number} r @param {string} name */
function drawDoubtful(r, name) {
  const small = r < 15;
  return [
    circle(r * 1.1),
    number("?", small ? 0 : -0.3 * r, r * (small ? 1.5 : 1.1), "query"),
    ...(small ? [] : [number(name, 0.62 * r, r * 0.72, "query")]),
  ];
}

/** @param {number} r @param {string} name */
function drawNext(r, name) {
  const corners = [0, 1, 2, 3, 4, 5].map((n) => {
    const angle = (n * Math.PI) / 3;
    return `${(r * Math.cos(angle)).toFixed(1)},${(r * Math.sin(angle)).toFixed(1)}`;
  });
  return [
    draw("circle", { class: "ring", r: (r + 6).toFixed(1) }),
    draw("polygon", { class: "hexagon", points: corners.join(" ") }),
    number(name, 0, r * 1.05),
  ];
}

/** A bolt that takes the crowfoot. @param {number} r */
function offsetMark(r) {
  const size = Math.max(13, Math.min(20, 0.75 * r));
  const at = 0.72 * r;
  return [
    draw("rect", {
      class: "offset-mark",
      x: (at - size / 2).toFixed(1),
      y: (-at - size / 2).toFixed(1),
      width: size.toFixed(1),
      height: size.toFixed(1),
    }),
    draw(
      "text",
      {
        class: "offset-letter",
        x: at.toFixed(1),
        y: (-at + 0.33 * size).toFixed(1),
        "font-size": (0.9 * size).toFixed(1),
      },
      ["C"],
    ),
  ];
}

/** @param {number} r */
function circle(r) {
  return draw("circle", { r: r.toFixed(1) });
}

/** @param {string} text @param {number} y its middle @param {number} size @param {string} [kind] */
function number(text, y, size, kind = "name") {
  const fitted = text.length > 1 ? size * 0.9 : size;
  return draw(
    "text",
    { class: kind, y: (y + 0.35 * fitted).toFixed(1), "font-size": fitted.toFixed(1) },
    [text],
  );
}
