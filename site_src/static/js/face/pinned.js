/** The plate stays in sight: above the keyboard, and smaller once the page is scrolled. */

/** Height in CSS pixels under which the plate keeps only the answer and its verdict. */
const TIGHT = 480;
/** So far back up, in CSS pixels, before the plate is whole again: else it would flicker. */
const BACK = 40;

/**
 * Sizes are read only after a layout, and set where nothing inherits them: otherwise the page is
 * laid out twice.
 * @param {HTMLElement} page @param {HTMLElement} plate
 */
export function keepInSight(page, plate) {
  const view = window.visualViewport;
  const title = page.querySelector(".title");
  const beside = page.querySelector(".beside");
  let asked = 0;
  const follow = () => {
    plate.style.top = `${Math.max(0, Math.round(view?.offsetTop ?? 0))}px`;
    plate.toggleAttribute("data-tight", (view?.height ?? innerHeight) < TIGHT);
  };
  const shrink = () => {
    asked = 0;
    if (!title) return;
    const isSmall = plate.hasAttribute("data-scrolled");
    const gone = -title.getBoundingClientRect().bottom;
    const least = (beside?.clientHeight ?? 0) + BACK;
    if (isSmall ? gone > least - BACK : gone <= least + BACK) return;
    const before = plate.offsetHeight;
    plate.toggleAttribute("data-scrolled", !isSmall);
    // What the plate gives up stays empty behind it, so that nothing under it moves.
    plate.style.marginBottom = isSmall ? "" : `${before - plate.offsetHeight}px`;
  };
  view?.addEventListener("scroll", follow);
  view?.addEventListener("resize", follow);
  addEventListener("scroll", () => (asked ||= requestAnimationFrame(shrink)), { passive: true });
  new ResizeObserver(([{ borderBoxSize }]) => {
    follow();
    const room = Math.ceil(borderBoxSize[0].blockSize) + 16;
    document.documentElement.style.scrollPaddingTop = `${room}px`;
  }).observe(plate);
}
