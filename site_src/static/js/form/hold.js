/**
 * A button that repeats while it is held; one press is one click, whether by finger, key or switch.
 */

const WAIT = 450;
const EVERY = 130;

/** @param {HTMLElement} root @param {string} selector the buttons that repeat */
export function repeatWhileHeld(root, selector) {
  let timer = 0;
  let repeated = false;
  const stop = () => clearTimeout(timer);

  root.addEventListener("pointerdown", (event) => {
    const button = event.target instanceof Element ? event.target.closest(selector) : null;
    if (!(button instanceof HTMLButtonElement) || event.button !== 0) return;
    repeated = false;
    const again = () => {
      repeated = true;
      button.dispatchEvent(new MouseEvent("click", { bubbles: true }));
      timer = window.setTimeout(again, EVERY);
    };
    stop();
    timer = window.setTimeout(again, WAIT);
  });
  for (const name of ["pointerup", "pointercancel", "pointerleave"])
    root.addEventListener(name, stop, true);
  addEventListener("blur", stop);
  // The click that ends a long press would be one step too many.
  root.addEventListener(
    "click",
    (event) => {
      if (!repeated || !event.isTrusted) return;
      repeated = false;
      if (event.target instanceof Element && event.target.closest(selector))
        event.stopImmediatePropagation();
    },
    true,
  );
  root.addEventListener("contextmenu", (event) => {
    if (event.target instanceof Element && event.target.closest(selector)) event.preventDefault();
  });
}
