/**
 * The service worker: keeps the whole site on the phone, and changes it only as a whole.
 *
 * The build fills in the list below, so that any change to any file changes this one, which is what
 * makes a browser install it. It takes over only when a page asks it to.
 */

/** Address from the root, and hash of the content. */
const ENTRIES = $entries;

const scope = /** @type {any} */ (self);
const root = new URL("./", scope.location.href);
/** For this copy of the site alone: a second one may be elsewhere on the same host. */
const PREFIX = "$prefix " + root.pathname + " ";
const CACHE = PREFIX + "$cache";
const kept = new Map(ENTRIES.map(([address, hash]) => [new URL(address, root).href, hash]));

scope.addEventListener("install", (event) => event.waitUntil(install()));
scope.addEventListener("activate", (event) => event.waitUntil(activate()));
scope.addEventListener("message", (event) => {
  if (event.data === "take over") scope.skipWaiting();
});
scope.addEventListener("fetch", (event) => {
  const { request } = event;
  if (request.method !== "GET" || !request.url.startsWith(root.href)) return;
  event.respondWith(answer(request));
});

/**
 * Fetch every file past the browser's own cache. One that fails, is redirected or is not the very
 * file that the build wrote (a host halfway through an update) fails them all.
 */
async function install() {
  const cache = await caches.open(CACHE);
  await Promise.all(
    [...kept].map(async ([url, integrity]) => {
      const response = await fetch(url, { cache: "reload", redirect: "error", integrity });
      if (!response.ok) throw new Error(url + " answered " + response.status);
      await cache.put(url, response);
    }),
  );
}

/** Delete what earlier versions of this site kept, and serve the pages that are already open. */
async function activate() {
  const names = await caches.keys();
  const old = names.filter((name) => name.startsWith(PREFIX) && name !== CACHE);
  await Promise.all(old.map((name) => caches.delete(name)));
  await scope.clients.claim();
}

/** Answer from this version's own cache; a page's inputs, after the ?, don't matter for that. */
async function answer(request) {
  const url = new URL(request.url);
  const address = url.origin + url.pathname.replace(/\/index\.html$$/, "/");
  if (kept.has(address)) {
    const found = await caches.match(address, { cacheName: CACHE });
    return found ?? fetch(request);
  }
  if (request.mode === "navigate" && kept.has(address + "/")) {
    return Response.redirect(address + "/" + url.search);
  }
  // Not one of ours: ask the host. With no signal, go to the front page instead of an error.
  return fetch(request).catch((reason) => {
    if (request.mode === "navigate") return Response.redirect(root.href);
    throw reason;
  });
}
