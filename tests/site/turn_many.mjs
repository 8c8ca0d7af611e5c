// The phone's sums over a gyro's readings. tests/site/test_turn_js.py runs it.
// Usage: node turn_many.mjs TURN_JS < cases.json > results.json
import { readFileSync } from "node:fs";
import { pathToFileURL } from "node:url";

const { turnOf, turnProblem, zeroOf } = await import(pathToFileURL(process.argv[2]));
const cases = JSON.parse(readFileSync(0, "utf8"));

const results = cases.map(({ still, readings }) => {
  const { zero, problem } = zeroOf(still);
  if (!zero) return { problem };
  const turned = turnOf(readings, zero);
  return { zero, turned, problem: turnProblem(turned) };
});
process.stdout.write(JSON.stringify(results));
