/** Reads logs and weighs runs by the phone's own modules; `node runs_checks.mjs SCRIPTS JOB`. */

import { readFileSync } from "node:fs";
import { pathToFileURL } from "node:url";
import { join } from "node:path";

const [, , scripts, path] = process.argv;
const from = (name) => import(pathToFileURL(join(scripts, name)).href);
const { channelsOf, guess } = await from("runs/columns.js");
const { findPulls } = await from("runs/pulls.js");
const { readLog } = await from("runs/read_log.js");
const { weigh } = await from("runs/weigh.js");
const { decodeTable } = await from("recipe/grid.js");

const job = JSON.parse(readFileSync(path, "utf8"));
const results = [];

for (const { bytes, mapping } of job.logs ?? []) {
  const file = new Blob([Buffer.from(bytes, "base64")]);
  try {
    const log = await readLog(file);
    const guessed = guess(job.channels, log, job.ambient);
    const channels = channelsOf(job.channels, log, { ...guessed, ...mapping }, job.ambient);
    const found = channels.run_speed && channels.run_boost ? findPulls(channels) : null;
    const { heads, units, count, thrown } = log;
    results.push({
      heads,
      units,
      count,
      thrown,
      guessed,
      ...found,
      columns: log.columns.map((c) => c.slice(0, 5).map((v) => (v === v ? v : null))),
    });
  } catch (reason) {
    results.push({ refused: reason.message, kind: reason.constructor.name });
  }
}

if (job.runs) {
  const grids = Object.fromEntries(
    job.tables.map(([meta, text]) => {
      const bytes = Buffer.from(text, "base64");
      const buffer = bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.length);
      return [meta.name, decodeTable({ ...meta, offset: 0 }, buffer)];
    }),
  );
  const kit = {
    lookups: job.lookups,
    quantities: job.quantities,
    tablesOf: ({ tables }) => Object.fromEntries(tables.map((name) => [name, grids[name]])),
  };
  for (const { bins, rest } of job.runs) {
    const { causes, readings } = weigh(kit, {}, bins, rest);
    results.push({
      answers: causes.answers,
      readings: readings.map(({ outcome }) => outcome.answers),
    });
  }
}
process.stdout.write(JSON.stringify(results));
