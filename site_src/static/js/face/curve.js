/** A curve with its axes, its limit and the current point; the same numbers stand in a table. */

import { draw } from "./dom.js";
import { curveMarks } from "./scale.js";

/**
 * @param {import("./scale.js").Dot[]} dots
 * @param {string} across name and unit of the axis across @param {string} up of the one up
 * @param {string} label said in place of the drawing
 * @returns {Element | null} null if there is nothing to draw
 */
export function drawCurve(dots, across, up, label) {
  const marks = curveMarks(dots);
  if (!marks) return null;
  const { xTicks, yTicks, current } = marks;
  return draw("svg", { class: "curve", viewBox: "0 0 360 272", role: "img", "aria-label": label }, [
    draw("path", {
      class: "curve-grid",
      d:
        xTicks.map(({ at }) => `M${at} 34V224`).join("") +
        yTicks.map(({ at }) => `M54 ${at}H334`).join(""),
    }),
    draw("path", { class: "curve-axes", d: "M54 34V224H334" }),
    ...xTicks.map((tick) =>
      draw("text", { class: "curve-number", x: tick.at, y: "241", "text-anchor": "middle" }, [
        tick.label,
      ]),
    ),
    ...yTicks.map((tick) =>
      draw(
        "text",
        {
          class: "curve-number",
          x: "48",
          y: (Number(tick.at) + 5).toFixed(1),
          "text-anchor": "end",
        },
        [tick.label],
      ),
    ),
    draw("text", { class: "curve-name", x: "334", y: "264", "text-anchor": "end" }, [across]),
    draw("text", { class: "curve-name", x: "12", y: "20" }, [up]),
    ...marks.limits.map((points) => draw("polyline", { class: "curve-limit", points })),
    ...marks.runs.map((points) => draw("polyline", { class: "curve-run", points })),
    ...(current ? point(current) : []),
  ]);
}

/** @param {string[]} place */
function point([x, y]) {
  return [
    draw("path", { class: "curve-drop", d: `M${x} ${y}V224` }),
    draw("circle", { class: "curve-point", cx: x, cy: y, r: "6.5" }),
  ];
}
