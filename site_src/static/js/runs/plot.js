/** A drawing of what was read, as points, over what was reckoned, as a line; with a limit. */

import { draw } from "../face/dom.js";
import { fixed } from "../face/numbers.js";
import { labels, place, scale } from "../face/scale.js";

const [LEFT, RIGHT, TOP, BOTTOM] = [54, 334, 34, 224];

/**
 * @param {Array<{x: number, read: number | null, reckoned: number | null}>} dots
 * @param {number | null} limit
 * @param {string} across @param {string} up @param {string} label said in place of the drawing
 * @returns {Element | null} null if there is nothing to draw
 */
export function drawPlot(dots, limit, across, up, label) {
  const heights = dots.flatMap(({ read, reckoned }) => [read, reckoned]).filter((y) => y !== null);
  if (!heights.length) return null;
  if (limit !== null) heights.push(limit);
  const wide = dots.map(({ x }) => x);
  const along = scale(Math.min(...wide), Math.max(...wide), 5);
  const [low, high] = [Math.min(...heights), Math.max(...heights)];
  const rise = scale(low >= 0 && low < 0.6 * high ? 0 : low, high, 5);
  /** @param {number} x */
  const placeX = (x) => fixed(place(along, x, LEFT, RIGHT), 1);
  /** @param {number} y */
  const placeY = (y) => fixed(place(rise, y, BOTTOM, TOP), 1);
  const line = dots.flatMap(({ x, reckoned }) =>
    reckoned === null ? [] : [`${placeX(x)},${placeY(reckoned)}`],
  );
  const xTicks = labels(along);
  const yTicks = labels(rise);
  return draw("svg", { class: "curve", viewBox: "0 0 360 272", role: "img", "aria-label": label }, [
    draw("path", {
      class: "curve-lines",
      d:
        xTicks.map(([value]) => `M${placeX(value)} ${TOP}V${BOTTOM}`).join("") +
        yTicks.map(([value]) => `M${LEFT} ${placeY(value)}H${RIGHT}`).join(""),
    }),
    draw("path", { class: "curve-axes", d: `M${LEFT} ${TOP}V${BOTTOM}H${RIGHT}` }),
    ...xTicks.map(([value, text]) =>
      draw("text", { class: "curve-number", x: placeX(value), y: "241", "text-anchor": "middle" }, [
        text,
      ]),
    ),
    ...yTicks.map(([value, text]) =>
      draw(
        "text",
        {
          class: "curve-number",
          x: "48",
          y: fixed(Number(placeY(value)) + 5, 1),
          "text-anchor": "end",
        },
        [text],
      ),
    ),
    draw("text", { class: "curve-name", x: "334", y: "264", "text-anchor": "end" }, [across]),
    draw("text", { class: "curve-name", x: "12", y: "20" }, [up]),
    ...(limit === null
      ? []
      : [draw("path", { class: "curve-limit", d: `M${LEFT} ${placeY(limit)}H${RIGHT}` })]),
    ...(line.length > 1
      ? [draw("polyline", { class: "curve-reckoned", points: line.join(" ") })]
      : []),
    ...dots.flatMap(({ x, read }) =>
      read === null
        ? []
        : [draw("circle", { class: "curve-read", cx: placeX(x), cy: placeY(read), r: "5" })],
    ),
  ]);
}
