/**
 * A belt route as a drawing, in millimetres, y down as the screen has it: of what is typed, as
 * site_src/face/route.py draws build files. It places what the recipe worked out.
 *
 * @typedef {import("../recipe.js").Outcome} Outcome
 * @typedef {{number: number, name: string, x: number, y: number, radius: number, turn: number,
 *   overlaps: boolean}} Disc
 */

import { draw } from "./dom.js";

/** Room round the outermost pulley, over the size of the whole. */
const MARGIN = 0.05;
/** Height of a letter over the size of the whole. */
const LETTER = 0.042;

/**
 * The pulleys that are there, in the order of the belt.
 * @param {Outcome} outcome @param {string[]} names by place
 * @returns {Disc[]}
 */
export function discs(outcome, names) {
  return names.flatMap((name, n) => {
    const number = n + 1;
    const radius = outcome.number(`radius_${number}`);
    const x = outcome.number(`at_x_${number}`);
    const y = outcome.number(`at_y_${number}`);
    const signed = outcome.number(`signed_${number}`);
    if (radius === null || x === null || y === null || signed === null) return [];
    return [
      {
        number,
        name,
        x: mm(x),
        y: -mm(y),
        radius: mm(radius),
        turn: signed < 0 ? 1 : -1,
        overlaps: outcome.number(`overlap_${number}`) === 1,
      },
    ];
  });
}

/**
 * @param {Outcome} outcome
 * @param {Disc[]} pulleys
 * @param {string} label
 */
export function drawRoute(outcome, pulleys, label) {
  const view = viewOf(pulleys);
  const letter = LETTER * Math.max(view.width, view.height);
  return draw(
    "svg",
    {
      class: "route-drawing",
      viewBox: `${fixed(view.left)} ${fixed(view.top)} ${fixed(view.width)} ${fixed(view.height)}`,
      role: "img",
      "aria-label": label,
    },
    [
      ...pulleys.map(drawDisc),
      ...drawTravel(outcome, pulleys),
      ...pulleys.flatMap((pulley, n) => drawPiece(outcome, pulley, followed(pulleys, n), letter)),
      ...pulleys.map((pulley) => drawTurn(pulley, letter)),
      ...pulleys.flatMap((pulley) => drawName(pulley, letter, view)),
    ],
  );
}

/** @param {Disc[]} pulleys @param {number} n */
function followed(pulleys, n) {
  return pulleys[(n + 1) % pulleys.length];
}

/** @param {Disc[]} pulleys */
function viewOf(pulleys) {
  const left = Math.min(...pulleys.map(({ x, radius }) => x - radius));
  const right = Math.max(...pulleys.map(({ x, radius }) => x + radius));
  const top = Math.min(...pulleys.map(({ y, radius }) => y - radius));
  const bottom = Math.max(...pulleys.map(({ y, radius }) => y + radius));
  const room = MARGIN * Math.max(right - left, bottom - top);
  return {
    left: left - room,
    top: top - room,
    width: right - left + 2 * room,
    height: bottom - top + 2 * room,
  };
}

/** @param {Disc} pulley */
function drawDisc({ number, x, y, radius, overlaps }) {
  const circle = draw("circle", {
    class: "route-pulley",
    "data-role": number === 1 ? "crank" : "",
    cx: fixed(x),
    cy: fixed(y),
    r: fixed(radius),
  });
  circle.toggleAttribute("data-fault", overlaps);
  return circle;
}

/**
 * The run that leaves a pulley, and the belt's contact with the next one.
 * @param {Outcome} outcome @param {Disc} from @param {Disc} to @param {number} letter
 */
function drawPiece(outcome, from, to, letter) {
  const [x, y, endX, endY, right, up] = ["from_x", "from_y", "to_x", "to_y", "right", "up"].map(
    (key) => outcome.number(`${key}_${from.number}`),
  );
  if (x === null || y === null || endX === null || endY === null || right === null || up === null)
    return [];
  const [a, b] = [`${at(x)} ${at(-y)}`, `${at(endX)} ${at(-endY)}`];
  const run = draw("path", { class: "route-belt", d: `M${a}L${b}` });
  run.toggleAttribute("data-fault", outcome.number(`fault_${from.number}`) === 1);
  const middle = [mm(0.5 * (x + endX)), -mm(0.5 * (y + endY))];
  return [
    run,
    ...drawContact(outcome, b, to),
    draw("path", { class: "route-head", d: head(middle, right, -up, 0.8 * letter) }),
  ];
}

/**
 * @param {Outcome} outcome
 * @param {string} start where the belt comes to it
 * @param {Disc} pulley
 */
function drawContact(outcome, start, { number, radius, turn }) {
  const x = outcome.number(`from_x_${number}`);
  const y = outcome.number(`from_y_${number}`);
  const long = outcome.number(`long_${number}`);
  if (x === null || y === null || long === null) return [];
  const flags = `${long} ${Number(turn > 0)}`;
  const r = fixed(radius);
  return [
    draw("path", { class: "route-belt", d: `M${start}A${r} ${r} 0 ${flags} ${at(x)} ${at(-y)}` }),
  ];
}

/** @param {number[]} middle @param {number} right @param {number} down @param {number} size */
function head([x, y], right, down, size) {
  const [aheadX, aheadY] = [0.5 * size * right, 0.5 * size * down];
  const [asideX, asideY] = [0.45 * size * down, 0.45 * size * right];
  return (
    `M${fixed(x + aheadX)} ${fixed(y + aheadY)}` +
    `L${fixed(x - aheadX + asideX)} ${fixed(y - aheadY - asideY)}` +
    `L${fixed(x - aheadX - asideX)} ${fixed(y - aheadY + asideY)}Z`
  );
}

/**
 * The way a pulley turns, as an arrow inside its rim.
 * @param {Disc} pulley
 * @param {number} letter
 */
function drawTurn({ x, y, radius, turn }, letter) {
  const r = Math.max(0.72 * radius, 4);
  const size = 0.6 * letter;
  const end = [x + turn * 0.7071 * r, y - 0.7071 * r];
  const d =
    `M${fixed(x - turn * 0.7071 * r)} ${fixed(y - 0.7071 * r)}` +
    `A${fixed(r)} ${fixed(r)} 0 0 ${Number(turn > 0)} ${fixed(end[0])} ${fixed(end[1])}`;
  return draw("g", { class: "route-turn" }, [
    draw("path", { class: "route-arc", d }),
    draw("path", { class: "route-point", d: head(end, turn * 0.7071, 0.7071, size) }),
  ]);
}

/**
 * @param {Disc} pulley @param {number} letter
 * @param {{left: number, width: number}} view
 */
function drawName({ number, name, x, y }, letter, view) {
  const half = 0.3 * letter * name.length;
  const inside = Math.min(Math.max(x, view.left + half), view.left + view.width - half);
  const size = { "font-size": fixed(letter), "text-anchor": "middle" };
  return [
    draw("circle", { class: "route-badge", cx: fixed(x), cy: fixed(y), r: fixed(0.75 * letter) }),
    draw("text", { class: "route-number", x: fixed(x), y: fixed(y + 0.36 * letter), ...size }, [
      String(number),
    ]),
    draw("text", { class: "route-name", x: fixed(inside), y: fixed(y + 1.75 * letter), ...size }, [
      name,
    ]),
  ];
}

/**
 * The tensioner's way between its stops, and where the belt that is fitted puts it.
 * @param {Outcome} outcome @param {Disc[]} pulleys
 */
function drawTravel(outcome, pulleys) {
  const stops = ["slack", "middle", "tight"].map((stop) =>
    ["x", "y"].map((axis) => outcome.number(`${stop}_stop_${axis}`)),
  );
  const tensioner = pulleys.find(({ number }) => outcome.number(`tensions_${number}`) === 1);
  if (!tensioner || stops.flat().includes(null)) return [];
  const points = stops.map(([x, y]) => `${at(Number(x))} ${at(-Number(y))}`);
  const marks = [draw("path", { class: "route-travel", d: `M${points.join("L")}` })];
  for (const [x, y] of [stops[0], stops[2]]) {
    marks.push(
      draw("circle", { class: "route-end", cx: at(Number(x)), cy: at(-Number(y)), r: "4" }),
    );
  }
  const [x, y] = [outcome.number("seat_x"), outcome.number("seat_y")];
  if (x !== null && y !== null) {
    marks.push(
      draw("circle", {
        class: "route-seat",
        cx: at(x),
        cy: at(-y),
        r: fixed(tensioner.radius),
      }),
    );
  }
  return marks;
}

/** @param {number} metres */
function mm(metres) {
  return 1e3 * metres;
}

/** @param {number} metres */
function at(metres) {
  return fixed(mm(metres));
}

/** @param {number} value */
function fixed(value) {
  return value.toFixed(1);
}
