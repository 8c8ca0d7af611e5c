/**
 * Registers the service worker, says once that the site works offline, and offers new versions.
 *
 * A new version waits until the user takes it: no page is reloaded while it is being used.
 */

/** The worker's address never changes; it is at the site's root. */
const WORKER = new URL("../../../sw.js", import.meta.url);

/** Least time between two checks for a new version, in milliseconds. */
const PAUSE = 30_000;

const note = document.createElement("div");
note.className = "offline-note";
note.setAttribute("role", "status");
document.body.append(note);

// Not there on plain HTTP and in some private windows: the page works, but only with a connection.
if (navigator.serviceWorker) {
  start(navigator.serviceWorker).catch((reason) => {
    console.warn("Offline use could not be set up.", reason);
  });
}

/** @param {ServiceWorkerContainer} workers */
async function start(workers) {
  let asked = false;
  const registration = await workers.register(WORKER, { updateViaCache: "none" });
  const first = !registration.active;

  const offer = () =>
    say("New version ready.", "Load it", () => {
      asked = true;
      // Another tab may have taken it already: then there is nothing to wait for.
      if (registration.waiting) registration.waiting.postMessage("take over");
      else location.reload();
    });

  let changes = 0;
  workers.addEventListener("controllerchange", () => {
    changes += 1;
    if (asked) location.reload();
    else if (first && changes === 1) say("Works offline now.");
    else say("This page is from an earlier version.", "Reload it", () => location.reload());
  });

  const watch = () => {
    const worker = registration.installing;
    worker?.addEventListener("statechange", () => {
      if (worker.state === "installed" && registration.active) offer();
    });
  };
  if (registration.waiting && registration.active) offer();
  watch();
  registration.addEventListener("updatefound", watch);
  lookWhenBack(registration);
}

/**
 * Check for a new version whenever the page is shown again. An app that is opened again is not
 * loaded again, so waiting for a page load is not enough.
 * @param {ServiceWorkerRegistration} registration
 */
function lookWhenBack(registration) {
  let last = Date.now();
  const look = () => {
    if (document.visibilityState !== "visible" || Date.now() - last < PAUSE) return;
    last = Date.now();
    registration.update().catch(() => {
      // No signal, most likely: there is nothing to say, and the next check comes soon.
    });
  };
  addEventListener("pageshow", look);
  addEventListener("focus", look);
  document.addEventListener("visibilitychange", look);
}

/**
 * Show a line at the foot of the page, with a button for what can be done and one to close it.
 * @param {string} words
 * @param {string} [action]
 * @param {() => void} [act]
 */
function say(words, action, act) {
  const text = document.createElement("p");
  text.textContent = words;
  const put = button(act ? "Later" : "OK", () => note.replaceChildren());
  note.replaceChildren(text, ...(action && act ? [button(action, act)] : []), put);
}

/** @param {string} words @param {() => void} act */
function button(words, act) {
  const element = document.createElement("button");
  element.type = "button";
  element.textContent = words;
  element.addEventListener("click", act);
  return element;
}
