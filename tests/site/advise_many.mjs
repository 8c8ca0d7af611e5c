// Reads a job (advice views and entries) and writes what the page's script says to each.
import { readFileSync } from "node:fs";
import { pathToFileURL } from "node:url";

const [script, path] = process.argv.slice(2);
const { advised } = await import(pathToFileURL(script).href);
const { view, many } = JSON.parse(readFileSync(path, "utf8"));
console.log(JSON.stringify(many.map((entries) => advised(view, (key) => entries[key]))));
