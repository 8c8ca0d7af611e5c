/**
 * Registers the service worker, says once that the site works offline, and offers new versions.
 *
 * A new version waits until the user takes it: no page is reloaded while it is being used.
 */

const ROOT = new URL("../../../", import.meta.url);

/** The worker's address never changes; it is at the site's root. */
const WORKER = new URL("sw.js", ROOT);

/** What that file imports, for a host on which the file itself is damaged. */
const version = document.querySelector('meta[name="bay-version"]')?.getAttribute("content");
const OWN_WORKER = new URL(`worker-${version}.js`, ROOT);

/** A worker that has not answered after this time, in milliseconds, is not one of ours. */
const PATIENCE = 5_000;

/** Least time between two checks for a new version, in milliseconds. */
const PAUSE = 30_000;

const note = document.createElement("div");
note.className = "offline-note";
note.setAttribute("role", "status");

// Once the page is there: this is not what it waits for. A first look is not kept.
if (!("unproved" in document.documentElement.dataset)) addEventListener("load", begin);

function begin() {
  document.body.append(note);
  // The worker leads here from an address that it doesn't know.
  if (location.hash === "#no-such-page") {
    history.replaceState(history.state, "", location.pathname + location.search);
    say("There is no page at that address without a signal. This is the front page.");
    // It explains what is on the screen, so it must not wait at the end of the page.
    note.toggleAttribute("data-asks", true);
  }
  // Not there on plain HTTP and in some private windows: the page works with a connection alone.
  if (!navigator.serviceWorker) return;
  start(navigator.serviceWorker).catch((reason) => {
    console.warn("Offline use could not be set up.", reason);
  });
}

/** @param {ServiceWorkerContainer} workers */
async function start(workers) {
  let asked = false;
  const registration = await registered(workers);
  if (!registration) return;
  let first = !registration.active;

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

  /** Ask the newest worker what it is before anything is made of it. */
  const judge = async () => {
    const { waiting, active } = registration;
    const newest = waiting ?? active;
    if (!newest || !active) return;
    const found = await versionOf(newest);
    const served = waiting ? await versionOf(active) : found;
    // Another one came in the meantime, and is asked in its turn.
    if (newest !== (registration.waiting ?? registration.active)) return;
    if (!found) {
      await replace(workers, newest);
    } else if (!served) {
      // What is at work serves nothing, so there is nothing to be kept from.
      first = true;
      waiting?.postMessage("take over");
    } else if (found !== served) offer();
  };
  const watch = () => {
    const worker = registration.installing;
    worker?.addEventListener("statechange", () => {
      if (worker.state === "installed" || worker.state === "activated") judge();
    });
  };
  judge();
  watch();
  registration.addEventListener("updatefound", watch);
  lookWhenBack(workers, registration);
}

/**
 * Register the worker; null where the browser won't have one, which is its user's choice.
 * @param {ServiceWorkerContainer} workers
 * @returns {Promise<ServiceWorkerRegistration | null>}
 */
async function registered(workers) {
  try {
    return (await workers.register(WORKER, { updateViaCache: "none" })) ?? null;
  } catch {
    // No signal, a damaged file on the host, or not allowed: what is installed stays at work.
    return (await workers.getRegistration(ROOT).catch(() => undefined)) ?? null;
  }
}

/**
 * The version that a worker says it serves; empty if it doesn't answer. An empty file, or one of
 * another site that was put in place of ours, is a good worker as far as the browser can tell.
 * @param {ServiceWorker} worker
 * @returns {Promise<string>}
 */
function versionOf(worker) {
  return new Promise((resolve) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = ({ data }) => resolve(String(data));
    setTimeout(() => resolve(""), PATIENCE);
    worker.postMessage("which version", [port2]);
  });
}

/**
 * Put this page's own version in place of a worker that doesn't answer: a worker that waits takes
 * over by itself once the last tab is closed, and only another one can keep it from that.
 * @param {ServiceWorkerContainer} workers
 * @param {ServiceWorker} silent
 */
async function replace(workers, silent) {
  if (silent.scriptURL === OWN_WORKER.href) return;
  try {
    await workers.register(OWN_WORKER, { updateViaCache: "none" });
  } catch {
    // The host doesn't have it now: the next look finds a whole one, or asks again.
  }
}

/**
 * Check for a new version whenever the page is shown again. An app that is opened again is not
 * loaded again, so waiting for a page load is not enough.
 * @param {ServiceWorkerContainer} workers
 * @param {ServiceWorkerRegistration} registration
 */
function lookWhenBack(workers, registration) {
  let last = Date.now();
  const look = () => {
    if (document.visibilityState !== "visible" || Date.now() - last < PAUSE) return;
    last = Date.now();
    const newest = registration.waiting ?? registration.active;
    const isOurs = !newest || newest.scriptURL === WORKER.href;
    const looked = isOurs
      ? registration.update()
      : workers.register(WORKER, { updateViaCache: "none" });
    looked.catch(() => {
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
  note.toggleAttribute("data-asks", Boolean(act));
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
