// Hear many recordings with the phone's listener, under Node.
// Usage: node hear_many.mjs SCRIPT_FOLDER JOB_JSON SAMPLES_F64 > results.json
// The job lists {rate, from, to}; with "stream": true the sound is fed piece by piece instead.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";

const [, , folder, jobFile, samplesFile] = process.argv;
const load = (name) => import(pathToFileURL(join(folder, name)).href);
const { hearPluck } = await load("sound/tone.js");
const { PluckFinder } = await load("sound/plucks.js");
const bytes = readFileSync(samplesFile);
const samples = new Float64Array(bytes.buffer, bytes.byteOffset, bytes.length / 8);
const PIECE = 2048;

function heardInStream(sound, rate) {
  const finder = new PluckFinder(rate);
  const heard = [];
  for (let at = 0; at < sound.length; at += PIECE) {
    heard.push(...finder.push(Float32Array.from(sound.subarray(at, at + PIECE))));
  }
  return { heard, back: finder.listenBack() };
}

const results = JSON.parse(readFileSync(jobFile, "utf8")).map(({ rate, from, to, stream }) => {
  const sound = samples.subarray(from, to);
  return stream ? heardInStream(sound, rate) : hearPluck(sound, rate);
});
process.stdout.write(JSON.stringify(results));
