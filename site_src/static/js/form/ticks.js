/**
 * Lists of what to do that are ticked: the job keeps what is done, and when it was. Nothing is
 * ticked before a person does it.
 */

import { all, need, offerBack, tell, write } from "../face/dom.js";

/** @typedef {import("../record/kept_truck.js").Truck} Truck */

const DAY_AND_TIME = /** @type {const} */ ({
  day: "numeric",
  month: "short",
  hour: "2-digit",
  minute: "2-digit",
});

/**
 * @param {HTMLElement} page a lookup's @param {Truck} truck
 * @returns {() => void} shows what the job has
 */
export function bindTicks(page, truck) {
  const lists = all(page, "[data-ticks]");
  /** @param {HTMLElement} box */
  const name = (box) => `ticked ${page.dataset.lookup} ${box.dataset.tick}`;
  const show = () => lists.forEach((list) => showList(list, name, truck));
  for (const list of lists) {
    list.addEventListener("change", ({ target }) => {
      const box = /** @type {HTMLInputElement} */ (target);
      const done = box.checked ? new Date().toISOString() : undefined;
      truck.enter(new Map([[name(box), done]]));
      need(list, "[data-ticks-undo]").hidden = true;
      show();
    });
    need(list, "[data-ticks-clear]").addEventListener("click", () => {
      const ticked = boxes(list).flatMap((box) => {
        const at = truck.entry(name(box));
        return at === undefined ? [] : [/** @type {const} */ ([name(box), at])];
      });
      truck.enter(new Map(ticked.map(([each]) => [each, undefined])));
      show();
      const gone = ticked.length === 1 ? "One tick is" : `${ticked.length} ticks are`;
      offerBack(need(list, "[data-ticks-undo]"), `${gone} gone. `, "Bring them back", () => {
        truck.enter(new Map(ticked));
        show();
      });
    });
  }
  show();
  return show;
}

/** @param {HTMLElement} list */
function boxes(list) {
  return /** @type {HTMLInputElement[]} */ (all(list, "[data-tick]"));
}

/**
 * @param {HTMLElement} list @param {(box: HTMLElement) => string} name @param {Truck} truck
 */
function showList(list, name, truck) {
  let done = 0;
  for (const box of boxes(list)) {
    const at = truck.entry(name(box));
    box.disabled = false;
    box.checked = at !== undefined;
    if (box.checked) done += 1;
    const when = need(/** @type {HTMLElement} */ (box.closest("label")), "[data-tick-when]");
    write(when, typeof at === "string" ? spelt(at) : "");
  }
  const count = boxes(list).length;
  const open = done === count ? "All done" : `${done} of ${count} done`;
  tell(need(list, "[data-ticks-count]"), done ? open : `${count} to do`);
  need(list, "[data-ticks-clear]").hidden = done === 0;
}

/** @param {string} at */
function spelt(at) {
  const time = new Date(at);
  return Number.isNaN(time.getTime()) ? "" : time.toLocaleString(undefined, DAY_AND_TIME);
}
