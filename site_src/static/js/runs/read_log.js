/**
 * Reads a logger's file a little at a time, so that the screen never freezes.
 *
 * @typedef {{heads: string[], units: string[], columns: number[][], count: number,
 *   thrown: number, header: string}} Log  `header`: what is the same in files of one logger
 */

import { encodingOf, LogError, SNIFFED } from "./decode.js";
import { Columns, HEAD_LINES, Lines, shapeOf } from "./table.js";

/** Bytes of a file over which it is not a log of a few pulls. */
export const MOST_BYTES = 25_000_000;

const MOST_ROWS = 500_000;
const PIECE = 65_536;

/** Work for so long at a stretch, in milliseconds. */
const STRETCH = 12;

/** Let the screen and the finger have their turn. */
export function breathe() {
  return new Promise((resolve) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = () => {
      port1.close();
      resolve(undefined);
    };
    port2.postMessage(0);
  });
}

/** Says when it is time to let the screen have its turn. */
export class Stretch {
  constructor() {
    this.began = performance.now();
  }

  async pause() {
    if (performance.now() - this.began < STRETCH) return;
    await breathe();
    this.began = performance.now();
  }
}

/**
 * @param {Blob} file
 * @param {(share: number) => void} [tell] how far it is, 0 to 1
 * @returns {Promise<Log>}
 * @throws {LogError} it is no log
 */
export async function readLog(file, tell = () => {}) {
  if (file.size > MOST_BYTES)
    throw new LogError(
      `This file has ${Math.round(file.size / 1e6)} MB; up to ${MOST_BYTES / 1e6} MB are read here. Cut the log down to the pulls, or export fewer channels.`,
    );
  if (file.size === 0) throw new LogError("This file is empty. Export the log again.");
  const start = new Uint8Array(await file.slice(0, SNIFFED).arrayBuffer());
  const decoder = new TextDecoder(encodingOf(start));
  const lines = new Lines();
  /** @type {string[]} */
  let waiting = [];
  /** @type {Columns | null} */
  let table = null;
  const stretch = new Stretch();
  for (let at = 0; at < file.size; at += PIECE) {
    const bytes = await file.slice(at, at + PIECE).arrayBuffer();
    const isLast = at + PIECE >= file.size;
    waiting.push(...lines.push(decoder.decode(bytes, { stream: !isLast }), isLast));
    if (!table && (waiting.length >= HEAD_LINES || isLast)) {
      const shape = shapeOf(waiting.slice(0, HEAD_LINES));
      table = new Columns(shape);
      waiting = waiting.slice(shape.first);
    }
    if (!table) continue;
    for (const [n, line] of waiting.entries()) {
      table.add(line);
      if (n % 200 === 199) await stretch.pause();
    }
    waiting = [];
    if (table.count > MOST_ROWS)
      throw new LogError(
        `This log has over ${MOST_ROWS.toLocaleString("en")} rows. Cut it down to the pulls.`,
      );
    tell(Math.min(1, (at + PIECE) / file.size));
    await stretch.pause();
  }
  const { shape, columns, count, thrown } = /** @type {Columns} */ (table).done();
  if (count < 3) throw new LogError("This log has fewer than three rows of numbers.");
  const { heads, units } = shape;
  return { heads, units, columns, count, thrown, header: JSON.stringify([heads, units]) };
}
