// The runtime, the evaluator and the catalogue; then the first answer, and a stopwatch for more.
import { loadPyodide } from "./runtime/pyodide.mjs";

const bytes = async (name) => new Uint8Array(await (await fetch(name)).arrayBuffer());
const [python, evaluator, catalogue, tables] = await Promise.all([
  loadPyodide({ indexURL: new URL("runtime/", location.href).href }),
  bytes("evaluator.py"),
  bytes("lookups.json"),
  bytes("tables.bin"),
]);
for (const [name, content] of Object.entries({ evaluator, catalogue, tables }))
  python.FS.writeFile(name === "evaluator" ? "evaluator.py" : name, content);
python.runPython(`
import json, time
from evaluator import Lookup
lookup = Lookup(open("catalogue").read(), open("tables", "rb").read(), "boost")
`);
const answer = python.runPython('json.dumps(lookup.answers({"engine_speed": 5000.0}))');
document.getElementById("answer").textContent = answer;
globalThis.firstAnswer = performance.now();
globalThis.answers = JSON.parse(answer);
globalThis.timeAnAnswer = (times) =>
  python.runPython(`
start = time.perf_counter()
for n in range(${times}):
    lookup.answers({"engine_speed": 3000.0 + n % 2000})
(time.perf_counter() - start) / ${times}
`);
globalThis.kept = (async () => {
  await navigator.serviceWorker.register("sw.js");
  await navigator.serviceWorker.ready;
})();
