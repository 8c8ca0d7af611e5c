// Keeps what the page of the benchmark asks for, so that it opens again without its server.
const NAME = "in wasm";
const FILES = [
  ...["./", "start.js", "evaluator.py", "lookups.json", "tables.bin"],
  ...["pyodide.mjs", "pyodide.asm.mjs", "pyodide.asm.wasm", "python_stdlib.zip"].map(
    (file) => `runtime/${file}`,
  ),
  "runtime/pyodide-lock.json",
];
self.addEventListener("install", (event) =>
  event.waitUntil(caches.open(NAME).then((cache) => cache.addAll(FILES))),
);
self.addEventListener("activate", (event) => event.waitUntil(self.clients.claim()));
self.addEventListener("fetch", (event) =>
  event.respondWith(caches.match(event.request).then((found) => found ?? fetch(event.request))),
);
