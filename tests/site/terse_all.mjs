// Read every part of the catalogue as a phone does, under Node.
// Usage: node terse_all.mjs JS_FOLDER PARTS_FOLDER
import { readdirSync, readFileSync } from "node:fs";
import { pathToFileURL } from "node:url";

const [, , folder, parts] = process.argv;
const { nameSteps } = await import(pathToFileURL(`${folder}/model/terse.js`).href);
const found = {};
for (const file of readdirSync(parts)) {
  const part = JSON.parse(readFileSync(`${parts}/${file}`, "utf8"));
  for (const { lookup } of part.parts) {
    nameSteps(lookup.steps);
    found[lookup.key] = lookup;
  }
}
process.stdout.write(JSON.stringify(found));
