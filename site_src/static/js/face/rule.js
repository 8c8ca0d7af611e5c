/**
 * A margin drawn as a steel rule: a pointer where you are, a notch at the limit, a hatched near
 * zone.
 */

import { draw } from "./dom.js";
import { anchor, ruleMarks } from "./scale.js";
import { figure } from "./words.js";

const LONG = [7, 11, 16];

/** @param {import("./words.js").Shown} shown an answer that was judged @returns {SVGElement} */
export function drawRule({ answer, unit, ends, words }) {
  if (!ends || !answer.band) throw new Error(`${answer.key} has no limit to draw`);
  const marks = ruleMarks(answer.band.side, ends);
  return /** @type {SVGElement} */ (
    draw(
      "svg",
      {
        class: "rule",
        viewBox: "0 0 340 112",
        role: "img",
        "aria-label": `${answer.label}: ${words}`,
      },
      [
        draw("rect", { class: "rule-body", x: "1", y: "34", width: "338", height: "52" }),
        zone("rule-near", marks.near),
        draw("path", { class: "rule-hatch", d: marks.hatch }),
        zone("rule-beyond", marks.beyond),
        draw("path", {
          class: "rule-ticks",
          d: marks.ticks.map(({ at, size }) => `M${at} 34v${LONG[size]}`).join(""),
        }),
        ...marks.ticks
          .filter(({ label }) => label)
          .map(({ at, label }) =>
            draw("text", { class: "rule-number", x: at, y: "65", "text-anchor": "middle" }, [
              label,
            ]),
          ),
        draw("path", { class: "rule-notch", d: `M${marks.limit} 70l-8 17h16z` }),
        draw(
          "text",
          { class: "rule-limit", x: marks.limit, y: "105", "text-anchor": anchor(marks.limit) },
          [`limit ${figure(answer, unit, ends.limit)}`],
        ),
        draw("path", { class: "rule-pointer", d: `M${marks.pointer} 36l-9 -14h18z` }),
        draw(
          "text",
          { class: "rule-value", x: marks.pointer, y: "17", "text-anchor": anchor(marks.pointer) },
          [figure(answer, unit, ends.value)],
        ),
      ],
    )
  );
}

/** @param {string} name @param {[string, string]} ends */
function zone(name, [left, right]) {
  return draw("rect", {
    class: name,
    x: left,
    y: "72",
    width: (Number(right) - Number(left)).toFixed(1),
    height: "14",
  });
}
