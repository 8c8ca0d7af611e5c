/**
 * Tables that are wider than the screen: as many whole columns as there is room for are seen at a
 * time, and a table comes to rest only at the edge of one, so that no number is ever cut.
 */

/** @type {WeakMap<Element, string>} what each table was fitted to */
const fitted = new WeakMap();

const sizes = new ResizeObserver((entries) => {
  const regions = new Set(
    entries.map(({ target }) => /** @type {HTMLElement} */ (target.closest(".sideways"))),
  );
  for (const region of regions) if (region) fit(region);
});

/** @param {HTMLElement} region */
function fit(region) {
  const table = region.querySelector("table");
  if (!table || !region.clientWidth || fitted.get(region) === sizeOf(region, table)) return;
  const [first, ...rest] = leastWidths(region, table);
  const room = region.clientWidth;
  if (rest.length && table.offsetWidth > room) {
    const widest = Math.max(...rest);
    // Where the first column leaves no room for another, it goes along with them.
    const isPinned = first + widest <= room;
    const left = isPinned ? room - first : room;
    const fitting = Math.floor(left / Math.max(widest, isPinned ? 0 : first));
    const count = Math.min(Math.max(1, fitting), rest.length);
    // Where all have room, the first column takes what they leave.
    const column = count === rest.length && isPinned ? widest : Math.floor(left / count);
    region.style.setProperty("--column", `${column}px`);
    region.style.setProperty("--first", `${isPinned ? room - count * column : column}px`);
    region.dataset.columns = isPinned ? "pinned" : "loose";
  }
  fitted.set(region, sizeOf(region, table));
}

/** @param {HTMLElement} region @param {HTMLTableElement} table */
function sizeOf(region, table) {
  return `${region.clientWidth} ${table.offsetWidth} ${table.offsetHeight}`;
}

/**
 * What the columns need at least, the first one first.
 * @param {HTMLElement} region @param {HTMLTableElement} table
 */
function leastWidths(region, table) {
  delete region.dataset.columns;
  table.classList.add("at-least");
  const cells = [...(table.tHead ?? table).rows[0].cells];
  const widths = cells.map((cell) => Math.ceil(cell.getBoundingClientRect().width));
  table.classList.remove("at-least");
  return widths;
}

/** @param {ParentNode} root */
function watch(root) {
  for (const region of root.querySelectorAll(".sideways")) {
    const table = region.querySelector("table");
    if (!table) continue;
    sizes.observe(region);
    sizes.observe(table);
  }
}

// Once the page is there: this is not what it waits for.
addEventListener("load", () => {
  new MutationObserver((changes) => {
    for (const { addedNodes } of changes)
      for (const node of addedNodes)
        if (node instanceof HTMLElement && node.parentNode) watch(node.parentNode);
  }).observe(document.body, { childList: true, subtree: true });
  watch(document);
});
