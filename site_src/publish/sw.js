/**
 * The service worker: keeps the whole site on the phone, and changes it only as a whole.
 *
 * The build fills in the lists below, and names this file after the version. sw.js imports it. It
 * takes over only when a page asks it to.
 */

/** Address from the root, and hash of the content. */
const ENTRIES = $entries;

/** Of each of these, how many bytes of the unfolded pack it is: texts, one after the other. */
const LENGTHS = $lengths;
const PACK = { address: $pack, hash: $pack_hash };

/** Type by ending: a host may have other ideas, and what is kept under a wrong one stays dead. */
const TYPES = $types;

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
  // An empty file is a worker too: pages ask, and only this one answers.
  if (event.data === "which version") event.ports[0]?.postMessage("$version");
});
scope.addEventListener("fetch", (event) => {
  const { request } = event;
  if (request.method !== "GET" || !request.url.startsWith(root.href)) return;
  event.respondWith(answer(request));
});

/**
 * Fetch everything past the browser's own cache: most texts in one file, as what they have in
 * common is sent once then, and the others; browsers may compile scripts as they are put by. One
 * that fails, is redirected or is not the very file that the build wrote (a host halfway through
 * an update) fails them all.
 */
async function install() {
  const begun = await caches.has(CACHE);
  const cache = await caches.open(CACHE);
  const alone = [...kept.keys()].filter((_, n) => !LENGTHS[n]);
  const done = await Promise.allSettled([unpack(cache), ...alone.map((url) => keep(cache, url))]);
  const failed = done.find(({ status }) => status === "rejected");
  if (!failed) return;
  if (!begun) await caches.delete(CACHE);
  throw failed.reason;
}

/** Fetch the pack and put each of its files by. */
async function unpack(cache) {
  const url = new URL(PACK.address, root).href;
  const folded = await (await fetchWhole(url, PACK.hash)).arrayBuffer();
  const bytes = unfold(new Uint8Array(folded));
  let end = 0;
  const files = [...kept.keys()].map((address, n) => {
    const start = end;
    end += LENGTHS[n];
    return { address, content: bytes.subarray(start, end) };
  });
  if (end !== bytes.length) throw new Error(PACK.address + " has another length");
  const put = ({ address, content }) => {
    const headers = { "Content-Type": typeOf(address) + "; charset=utf-8" };
    return cache.put(address, new Response(content, { headers }));
  };
  await Promise.all(files.filter(({ content }) => content.length).map(put));
}

/**
 * Undo what the build did to send repeated lines once. The first line lists in threes: so many
 * bytes as they follow, then, from so many bytes back, so many bytes again.
 */
function unfold(folded) {
  let from = folded.indexOf(10) + 1;
  const told = JSON.parse(new TextDecoder().decode(folded.subarray(0, from)));
  const bytes = new Uint8Array(told.reduce((sum, [fresh, , more]) => sum + fresh + more, 0));
  let end = 0;
  for (const [fresh, back, more] of told) {
    bytes.set(folded.subarray(from, from + fresh), end);
    from += fresh;
    end += fresh;
    bytes.copyWithin(end, end - back, end - back + more);
    end += more;
  }
  return bytes;
}

/** Fetch a file as the build wrote it. */
async function fetchWhole(url, integrity) {
  const response = await fetch(url, { cache: "reload", redirect: "error", integrity });
  if (!response.ok) throw new Error(url + " answered " + response.status);
  return response;
}

/** Fetch a file as the build wrote it, put it by, and return it. */
async function keep(cache, url) {
  const typed = await withType(url, await fetchWhole(url, kept.get(url)));
  await cache.put(url, typed.clone());
  return typed;
}

/** The type that an address says. */
function typeOf(url) {
  return url.endsWith("/") ? "text/html" : TYPES[url.slice(url.lastIndexOf("."))];
}

/** A response with the type that its address says it has. */
async function withType(url, response) {
  const type = typeOf(url);
  const said = (response.headers.get("Content-Type") ?? "").split(";")[0].trim();
  if (!type || said === type) return response;
  const headers = new Headers(response.headers);
  headers.set("Content-Type", type);
  headers.delete("Content-Encoding");
  headers.delete("Content-Length");
  return new Response(await response.arrayBuffer(), { headers });
}

/** Delete what earlier versions of this site kept, and serve the pages that are already open. */
async function activate() {
  const names = await caches.keys();
  const old = names.filter((name) => name.startsWith(PREFIX) && name !== CACHE);
  await Promise.all(old.map((name) => caches.delete(name)));
  await scope.clients.claim();
}

/** A file that was lost: the same one from the host, and never another build's beside the rest. */
async function again(address, request) {
  try {
    return await keep(await caches.open(CACHE), address);
  } catch (reason) {
    // A page says itself if its scripts and tables are of another version.
    if (request.mode === "navigate") return fetch(request);
    throw reason;
  }
}

/** Answer from this version's own cache; a page's inputs, after the ?, don't matter for that. */
async function answer(request) {
  const url = new URL(request.url);
  const address = url.origin + url.pathname.replace(/\/index\.html$$/, "/");
  if (kept.has(address)) {
    const found = await caches.match(address, { cacheName: CACHE });
    return found ?? again(address, request);
  }
  if (request.mode === "navigate" && kept.has(address + "/")) {
    return Response.redirect(address + "/" + url.search);
  }
  // Not one of ours: ask the host. With no signal, go to the front page, which says so.
  return fetch(request).catch((reason) => {
    if (request.mode === "navigate") return Response.redirect(root.href + "#no-such-page");
    throw reason;
  });
}

scope.isWhole = true;
