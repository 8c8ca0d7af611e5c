// Compare each answer worked out alone with the same one among all, under Node.
// Usage: node only_many.mjs JS_FOLDER LOOKUPS_JSON TABLES_BIN INPUTS_JSON
import { readFileSync } from "node:fs";
import { pathToFileURL } from "node:url";

const [, , folder, catalogueFile, tablesFile, inputsFile] = process.argv;
const { decodeTable } = await import(pathToFileURL(`${folder}/recipe/grid.js`).href);
const { explain } = await import(pathToFileURL(`${folder}/recipe.js`).href);
const { only } = await import(pathToFileURL(`${folder}/model/lookup.js`).href);
const catalogue = JSON.parse(readFileSync(catalogueFile, "utf8"));
const bytes = readFileSync(tablesFile);
const numbers = bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.length);
const given = JSON.parse(readFileSync(inputsFile, "utf8"));
const found = {};

for (const lookup of catalogue.lookups) {
  const tables = Object.fromEntries(
    lookup.tables.map((name) => [name, decodeTable(catalogue.tables[name], numbers)]),
  );
  const of = (outcome, { key, symbol, band }) =>
    JSON.stringify([
      ...["answers", "faults", "status", "unjudged"].map((part) => outcome[part][key]),
      ...[symbol, band?.limit, band?.near].map((name) => outcome.value(name)),
    ]);
  const differing = new Set();
  for (const inputs of given[lookup.key]) {
    const whole = explain(lookup, inputs, tables);
    const alone = (answer) => explain(only(lookup, [answer]), inputs, tables);
    const odd = lookup.answers.filter((answer) => of(alone(answer), answer) !== of(whole, answer));
    odd.forEach(({ key }) => differing.add(key));
  }
  const steps = lookup.answers.map((answer) => only(lookup, [answer]).steps.length);
  found[lookup.key] = { differing: [...differing], steps, all: lookup.steps.length };
}
process.stdout.write(JSON.stringify(found));
