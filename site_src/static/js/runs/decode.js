/** Which alphabet a file is written in, and whether it is text at all. No DOM. */

/** Bytes that are looked at. */
export const SNIFFED = 65_536;

/** Share of control characters from which it is no text. */
const ODD = 0.02;

/** The file is no log; the message says it in words. */
export class LogError extends Error {}

/**
 * The name of a file's encoding, from its first bytes.
 * @param {Uint8Array} bytes
 * @throws {LogError} it is no text
 */
export function encodingOf(bytes) {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return "utf-16le";
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return "utf-16be";
  const wide = widthOf(bytes);
  if (wide) return wide;
  if (isBinary(bytes))
    throw new LogError(
      "This is no text, so no log that can be read here. Export it as CSV in the logger's own program, then take that file.",
    );
  return isUtf8(bytes) ? "utf-8" : "windows-1252";
}

/** UTF-16 without a mark: every other byte is nought. @param {Uint8Array} bytes */
function widthOf(bytes) {
  const count = [0, 0];
  const even = bytes.length - (bytes.length % 2);
  for (let n = 0; n < even; n += 1) if (bytes[n] === 0) count[n % 2] += 1;
  const half = even / 2;
  if (half > 8 && count[1] > 0.7 * half && count[0] < 0.05 * half) return "utf-16le";
  if (half > 8 && count[0] > 0.7 * half && count[1] < 0.05 * half) return "utf-16be";
  return "";
}

/** @param {Uint8Array} bytes */
function isBinary(bytes) {
  let odd = 0;
  for (const byte of bytes) {
    if (byte === 0) return true;
    if (byte < 32 && byte !== 9 && byte !== 10 && byte !== 13) odd += 1;
  }
  return odd > ODD * bytes.length;
}

/** @param {Uint8Array} bytes */
function isUtf8(bytes) {
  try {
    // A letter may be cut at the end of what is looked at.
    new TextDecoder("utf-8", { fatal: true }).decode(bytes, { stream: true });
    return true;
  } catch {
    return false;
  }
}
