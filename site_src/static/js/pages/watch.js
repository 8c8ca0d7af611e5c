/**
 * Runs first and imports nothing, so that it is at work when another script is not: a number is
 * seen only if it was worked out for this truck. plate.css hides what is told here.
 */
{
  const root = document.documentElement;
  const LOST = "A part of this page could not be loaded, so no number is shown. Load it again.";
  const BROKEN = "Something went wrong on this page, so no number is shown. Load it again.";

  // The page comes with our example worked out, which is nobody's truck.
  root.dataset.watched = "";

  addEventListener("error", notice, true);
  addEventListener("unhandledrejection", () => stop(BROKEN));

  /** @param {Event} event a script that did not load, or an error that nothing caught */
  function notice(event) {
    const { target } = event;
    if (target instanceof HTMLScriptElement) stop(LOST);
    // Without an error it is a notice of the browser's, such as a layout that took two turns.
    if (event instanceof ErrorEvent && event.error) stop(BROKEN);
  }

  /** @param {string} words */
  function stop(words) {
    if ("stopped" in root.dataset) return;
    root.dataset.stopped = "";
    if (document.querySelector("main")) say(words);
    else document.addEventListener("DOMContentLoaded", () => say(words));
  }

  /** @param {string} words */
  function say(words) {
    const again = document.createElement("button");
    again.type = "button";
    again.textContent = "Load again";
    again.addEventListener("click", () => location.reload());
    const place =
      document.querySelector("[data-waiting]") ?? document.querySelector("[data-notice]");
    if (!(place instanceof HTMLElement)) return;
    place.hidden = false;
    place.replaceChildren(words, " ", again);
  }
}
