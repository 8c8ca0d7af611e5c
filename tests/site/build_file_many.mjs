// Read build files with the phone's scripts, under Node: a request a line in, an answer a line out.
// Usage: node build_file_many.mjs SCRIPTS
import { createInterface } from "node:readline";
import { pathToFileURL } from "node:url";

const { parseToml, TomlError, transfer, file, ParcelError } = await loaded(process.argv[2]);

async function loaded(scripts) {
  const [toml, parcel, moving, job] = await Promise.all(
    ["toml", "parcel", "transfer", "job_file"].map(
      (name) => import(pathToFileURL(`${scripts}/record/${name}.js`).href),
    ),
  );
  return { ...toml, ...parcel, transfer: moving, file: job };
}

const asked = {
  toml: ({ text }) => parseToml(text),
  file: ({ text }) => transfer.parsed(text),
  parcel: ({ text, kit }) => transfer.unpack(text, kit),
  // What is taken in must be there, the same, when it is saved and taken in once more.
  twice: ({ text, kit }) => {
    const first = transfer.unpack(text, kit);
    const { damaged: _, ...contents } = first;
    const second = transfer.unpack(transfer.pack(contents, "2026-01-01T00:00:00Z"), kit);
    return {
      first: Object.fromEntries(Object.entries(first).map(([key, is]) => [key, is.length ?? is])),
      isSame: JSON.stringify({ ...first, damaged: 0 }) === JSON.stringify(second),
      spoilt: [{}.polluted, [].polluted, globalThis.ran].some((each) => each !== undefined),
    };
  },
  checksum: ({ text }) => file.checksumOfFile(text),
  // What keys that mean something to the language do to all other objects, and to this one.
  hostile: ({ text }) => {
    const data = parseToml(text);
    const strange = Object.keys(data).filter((key) => Object.getPrototypeOf(data[key]) !== null);
    return {
      keys: Object.keys(data),
      strange,
      prototype: Object.getPrototypeOf(data),
      spoilt: [{}.polluted, [].polluted, "".polluted].some((each) => each !== undefined),
    };
  },
  deep: ({ opening, count }) => parseToml(`a = ${opening.repeat(count)}`),
};

async function answer(request) {
  try {
    return { data: await asked[request.do](request) };
  } catch (reason) {
    if (reason instanceof TomlError || reason instanceof ParcelError)
      return { refused: reason.message };
    return { broken: String(reason.stack) };
  }
}

for await (const line of createInterface({ input: process.stdin }))
  process.stdout.write(`${JSON.stringify(await answer(JSON.parse(line)))}\n`);
