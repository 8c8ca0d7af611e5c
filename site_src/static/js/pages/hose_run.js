/**
 * Draws the offset of the hose run page at full size, to lay a hose on. Its lengths are those that
 * the recipe gives; the arcs are the browser's.
 */

import { draw, need } from "../face/dom.js";
import { whenWorkedOut } from "../face/worked_out.js";
import { isFault } from "../recipe/values.js";

const section = need(document, "[data-template]");
const NEEDED = ["offset_centre", "offset_bent", "offset_run", "offset_between", "hose_diameter"];

whenWorkedOut(({ outcome }) => {
  const found = NEEDED.map((name) => outcome.value(name));
  section.hidden = found.some(isFault);
  if (section.hidden) return;
  const [radius, bent, run, between, thick] = found.map((metres) => 1000 * Number(metres));
  need(section, "[data-drawing]").replaceChildren(
    drawOffset({ radius, bent, run, between, thick }),
  );
});

/**
 * In mm: centreline radius, to the side in the bends, along, straight between, hose's diameter.
 * Along is down the sheet, which is longer than wide.
 * @param {{radius: number, bent: number, run: number, between: number, thick: number}} offset
 */
function drawOffset({ radius, bent, run, between, thick }) {
  const side = bent + between;
  const edge = thick / 2;
  const wide = side + thick + 50;
  const tall = Math.max(run, 50) + 20;
  const [r, l, w] = [mm(radius), mm(run), mm(thick + 12)];
  const way =
    `M0 0A${r} ${r} 0 0 0 ${mm(bent / 2)} ${mm(run / 2)}h${mm(between)}` +
    `A${r} ${r} 0 0 1 ${mm(side)} ${l}`;
  const ends = `M${mm(-edge - 6)} 0h${w}M${mm(side - edge - 6)} ${l}h${w}`;
  const bar = `M${mm(side + edge + 12)} 0v50m-3 0h6m0 -50h-6`;
  const text = { class: "template-text", x: mm(side + edge + 14), y: "27" };
  return draw(
    "svg",
    {
      class: "bend-template",
      width: `${wide.toFixed(1)}mm`,
      height: `${tall.toFixed(1)}mm`,
      viewBox: [-edge - 10, -10, wide, tall].map((each) => each.toFixed(1)).join(" "),
      role: "img",
      "aria-label": `Offset of ${side.toFixed(0)} mm over ${run.toFixed(0)} mm`,
    },
    [
      draw("path", { class: "template-hose", d: way, "stroke-width": mm(thick) }),
      draw("path", { class: "template-line", d: way }),
      draw("path", { class: "template-line", d: ends }),
      draw("path", { class: "template-bar", d: bar }),
      draw("text", text, ["50 mm"]),
    ],
  );
}

/** @param {number} length */
function mm(length) {
  return length.toFixed(2);
}
