// Evaluate many set-ups with the phone's evaluator, under Node.
// Usage: node evaluate_many.mjs JS_FOLDER JOB_JSON > results.json
import { readFileSync } from "node:fs";
import { pathToFileURL } from "node:url";

const [, , folder, jobFile] = process.argv;
const { decodeTable } = await import(pathToFileURL(`${folder}/recipe/grid.js`).href);
const { explain } = await import(pathToFileURL(`${folder}/recipe.js`).href);
const job = JSON.parse(readFileSync(jobFile, "utf8"));
const tables = {};
for (const [meta, data] of job.tables) {
  const bytes = Buffer.from(data, "base64");
  tables[meta.name] = decodeTable(
    meta,
    bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.length),
  );
}
const results = job.inputs.map((inputs) => {
  const { answers, faults, status, unjudged } = explain(job.lookup, inputs, tables);
  /** @param {typeof faults} found */
  const said = (found) =>
    Object.fromEntries(Object.entries(found).map(([key, f]) => [key, [f.kind, f.symbol, f.say]]));
  return { answers, faults: said(faults), status, unjudged: said(unjudged) };
});
process.stdout.write(JSON.stringify(results));
