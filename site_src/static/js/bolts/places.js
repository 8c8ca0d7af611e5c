/**
 * Bolts by place: a line for each when typed, a cross on a grid when tapped. One text holds both.
 */

import { counted } from "./draft.js";
import { all, draw, need, tell, write } from "../face/dom.js";

/** @typedef {import("./order.js").Place} Place */

const COLUMNS = 9;
const ROWS = 7;
const CELL = 40;
const LINE = /^([-−]?\d*[.,]?\d+)(?:\s*;\s*|\s*,\s+|\s+|,)([-−]?\d*[.,]?\d+)$/;

/** Read the lines. @param {string} text @returns {{places: Place[], problem: string}} */
export function readPlaces(text) {
  /** @type {Place[]} */
  const places = [];
  for (const [n, line] of text.split("\n").entries()) {
    if (!line.trim()) continue;
    const found = LINE.exec(line.trim());
    if (!found)
      return {
        places,
        problem: `Line ${n + 1} is “${line.trim()}”. Write two numbers, across and up, such as 40 25.`,
      };
    places.push([number(found[1]), number(found[2])]);
  }
  return { places, problem: "" };
}

/** @param {string} text */
function number(text) {
  return Number(text.replace("−", "-").replace(",", "."));
}

/** The text in a link and back. @param {string} text */
export function toLink(text) {
  return text
    .split("\n")
    .map((line) => line.trim())
    .filter(Boolean)
    .join(";");
}

/** @param {string} text */
export function fromLink(text) {
  return text.split(";").join("\n");
}

/** The editor of typed and tapped places. */
export class PlacesEditor {
  /** @param {HTMLElement} root @param {() => void} changed */
  constructor(root, changed) {
    this.root = root;
    this.changed = changed;
    this.input = /** @type {HTMLTextAreaElement} */ (need(root, "[data-places-typed]"));
    this.grid = need(root, "[data-places-board]");
    this.input.addEventListener("input", () => this.update());
    this.grid.addEventListener("click", (event) => this.tapped(event));
    need(root, "[data-places-clear]").addEventListener("click", () => this.set(""));
    this.show();
  }

  get text() {
    return this.input.value;
  }

  /** @param {string} text */
  set(text) {
    this.input.value = text;
    this.update();
  }

  update() {
    this.show();
    this.changed();
  }

  /** @param {MouseEvent} event */
  tapped(event) {
    const svg = this.grid.querySelector("svg");
    if (!svg) return;
    const box = svg.getBoundingClientRect();
    const x = Math.floor(((event.clientX - box.left) / box.width) * COLUMNS);
    const y = ROWS - 1 - Math.floor(((event.clientY - box.top) / box.height) * ROWS);
    if (x < 0 || x >= COLUMNS || y < 0 || y >= ROWS) return;
    const lines = this.text.split("\n").filter((line) => line.trim());
    const left = lines.filter((line) => !isAt(line, x, y));
    this.set((left.length < lines.length ? left : [...lines, `${x} ${y}`]).join("\n"));
  }

  /** @param {string} problem what the order has to say against the places */
  complain(problem) {
    const note = need(this.root, "[data-places-problem]");
    tell(note, problem);
    this.input.setAttribute("aria-invalid", String(Boolean(problem)));
  }

  show() {
    const { places } = readPlaces(this.text);
    write(need(this.root, "[data-places-count]"), counted(places.length));
    this.grid.replaceChildren(
      draw(
        "svg",
        {
          viewBox: `0 0 ${COLUMNS * CELL} ${ROWS * CELL}`,
          role: "img",
          "aria-label": "A grid to tap. The same places can be typed below.",
        },
        [
          crosses(),
          ...places
            .filter(([x, y]) => isOnGrid(x, y))
            .map(([x, y]) =>
              draw("circle", {
                class: "hole",
                cx: String((x + 0.5) * CELL),
                cy: String((ROWS - y - 0.5) * CELL),
                r: "13",
              }),
            ),
        ],
      ),
    );
  }
}

/** @param {number} x @param {number} y */
function isOnGrid(x, y) {
  return Number.isInteger(x) && Number.isInteger(y) && x >= 0 && x < COLUMNS && y >= 0 && y < ROWS;
}

/** @param {string} line @param {number} x @param {number} y */
function isAt(line, x, y) {
  const [place] = readPlaces(line).places;
  return place !== undefined && place[0] === x && place[1] === y;
}

function crosses() {
  let path = "";
  for (let x = 0; x < COLUMNS; x += 1) {
    for (let y = 0; y < ROWS; y += 1) {
      path += `M${(x + 0.5) * CELL - 5} ${(y + 0.5) * CELL}h10m-5 -5v10`;
    }
  }
  return draw("path", { class: "cross", d: path });
}

/** Switches for some of the bolts, by name. */
export class BoltSwitches {
  /** @param {HTMLElement} root @param {() => void} changed */
  constructor(root, changed) {
    this.root = root;
    /** @type {Set<number>} */
    this.on = new Set();
    root.addEventListener("click", (event) => {
      const button = event.target instanceof Element ? event.target.closest("button") : null;
      if (!(button instanceof HTMLButtonElement)) return;
      const bolt = Number(button.dataset.bolt);
      if (!this.on.delete(bolt)) this.on.add(bolt);
      changed();
    });
  }

  /**
   * @param {string[]} names of the bolts, in any order
   * @param {number[]} order in which they are shown
   */
  show(names, order) {
    if (all(this.root, "button").length !== order.length) {
      this.root.replaceChildren(
        ...order.map(() => {
          const button = document.createElement("button");
          button.type = "button";
          return button;
        }),
      );
    }
    for (const [n, button] of all(this.root, "button").entries()) {
      button.dataset.bolt = String(order[n]);
      write(button, names[order[n]]);
      button.setAttribute("aria-pressed", String(this.on.has(order[n])));
    }
  }
}
