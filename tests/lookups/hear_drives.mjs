// Hear many engines and blowers with the phone's listener, under Node.
// Usage: node hear_drives.mjs SCRIPT_FOLDER JOB_JSON SAMPLES_F32 > results.json
// The job lists {rate, from, to, sought}.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";

const [, , folder, jobFile, samplesFile] = process.argv;
const { hearDrive } = await import(pathToFileURL(join(folder, "sound/drive_tones.js")).href);
const bytes = readFileSync(samplesFile);
const samples = new Float32Array(bytes.buffer, bytes.byteOffset, bytes.length / 4);

const results = JSON.parse(readFileSync(jobFile, "utf8")).map(({ rate, from, to, sought }) =>
  hearDrive(samples.subarray(from, to), rate, sought),
);
process.stdout.write(JSON.stringify(results));
