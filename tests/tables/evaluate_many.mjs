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

/** Throw unless what is asked of an outcome by its symbols is what it states. */
const consistent = (outcome, { key, symbol, si }) => {
  const number = outcome.number(symbol);
  const known = new Map(outcome.numbers());
  const stated = number === null ? undefined : (number - si[1]) / si[0];
  const fault = number === null ? outcome.value(symbol) : undefined;
  if (stated !== outcome.answers[key] || fault !== outcome.faults[key]) throw new Error(key);
  if (known.get(symbol) !== (number ?? undefined) || known.has("no such")) throw new Error(key);
};
{
  const outcome = explain(job.lookup, job.inputs[0], tables);
  job.lookup.answers.forEach((answer) => consistent(outcome, answer));
  if (outcome.value(1.5) !== 1.5 || outcome.number("no such") !== null) throw new Error("value");
}
const results = job.inputs.map((inputs) => {
  const { answers, faults, status, unjudged } = explain(job.lookup, inputs, tables);
  /** @param {typeof faults} found */
  const said = (found) =>
    Object.fromEntries(Object.entries(found).map(([key, f]) => [key, [f.kind, f.symbol, f.say]]));
  return { answers, faults: said(faults), status, unjudged: said(unjudged) };
});
process.stdout.write(JSON.stringify(results));
