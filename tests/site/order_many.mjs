// Order many patterns with the phone's script, under Node.
// Usage: node order_many.mjs ORDER_JS < job.json > results.json
import { readFileSync } from "node:fs";
import { pathToFileURL } from "node:url";

const order = await import(pathToFileURL(process.argv[2]).href);
const job = JSON.parse(readFileSync(0, "utf8"));
const patterns = job.patterns.map((places) => {
  try {
    return {
      order: order.tighteningOrder(places),
      check: order.checkOrder(places),
      rings: order.rings(places),
      neighbours: order.neighbours(places).sort((a, b) => a[0] - b[0] || a[1] - b[1]),
    };
  } catch (reason) {
    if (!(reason instanceof order.PatternError)) throw reason;
    return { refused: reason.message };
  }
});
process.stdout.write(JSON.stringify({ patterns, circles: job.circles.map(order.circleOrder) }));
