// Time the answers of each quick lookup with the site's own evaluator, under Node.
// Usage: node answers.mjs JS_FOLDER LOOKUPS_JSON TABLES_BIN
import { readFileSync } from "node:fs";
import { pathToFileURL } from "node:url";

const [, , folder, catalogueFile, tablesFile] = process.argv;
const { decodeTable } = await import(pathToFileURL(`${folder}/recipe/grid.js`).href);
const { explain } = await import(pathToFileURL(`${folder}/recipe.js`).href);
const { only } = await import(pathToFileURL(`${folder}/model/lookup.js`).href);
const catalogue = JSON.parse(readFileSync(catalogueFile, "utf8"));
const bytes = readFileSync(tablesFile);
const numbers = bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.length);
const BATCH = 200;
const found = {};

for (const lookup of catalogue.lookups) {
  if (!lookup.quick) continue;
  const tables = Object.fromEntries(
    lookup.tables.map((name) => [name, decodeTable(catalogue.tables[name], numbers)]),
  );
  const field = lookup.fields.find(({ kind, default: usual }) => kind === "number" && usual > 0);
  const main = only(
    lookup,
    lookup.answers.filter(({ rank }) => rank === "main"),
  );
  /** The least of many batches: what else the machine does only adds to it. */
  const time = (asked) => {
    let least = Infinity;
    for (let batch = 0; batch < 60; batch += 1) {
      const start = process.hrtime.bigint();
      for (let n = 0; n < BATCH; n += 1) {
        const share = 1 - (n % 10) / 1000;
        explain(asked, { [field.key]: field.default * share }, tables);
      }
      least = Math.min(least, Number(process.hrtime.bigint() - start) / BATCH / 1000);
    }
    return least;
  };
  found[lookup.key] = { steps: lookup.steps.length, all: time(lookup), main: time(main) };
}
process.stdout.write(JSON.stringify(found));
