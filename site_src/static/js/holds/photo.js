/** A photo, made small enough to be kept with the job. */

import { isPhoto } from "../record/holds.js";

/** Letters of a photo, at most: 60 kB as a file. */
const MOST = 80_000;

/** The longer side in pixels, and the quality; the first that is small enough is taken. */
const TRIES = /** @type {const} */ ([
  [1280, 0.75],
  [1280, 0.55],
  [1024, 0.55],
  [800, 0.55],
  [640, 0.5],
  [480, 0.4],
]);

const NO_PICTURE = "This phone can't read that as a picture. Take another, or do without.";

/**
 * @param {Blob} file as the camera made it
 * @returns {Promise<string>} a JPEG, as it is kept
 * @throws {Error} in words
 */
export async function smallPhoto(file) {
  const picture = await createImageBitmap(file).catch(() => {
    throw new Error(NO_PICTURE);
  });
  try {
    for (const [side, quality] of TRIES) {
      const made = drawn(picture, side, quality);
      if (made.length <= MOST && isPhoto(made)) return made;
    }
  } finally {
    picture.close();
  }
  throw new Error(NO_PICTURE);
}

/** @param {ImageBitmap} picture @param {number} side @param {number} quality */
function drawn(picture, side, quality) {
  const scale = Math.min(1, side / Math.max(picture.width, picture.height));
  const canvas = document.createElement("canvas");
  canvas.width = Math.max(1, Math.round(picture.width * scale));
  canvas.height = Math.max(1, Math.round(picture.height * scale));
  const pen = canvas.getContext("2d");
  if (!pen) throw new Error(NO_PICTURE);
  pen.fillStyle = "#fff";
  pen.fillRect(0, 0, canvas.width, canvas.height);
  pen.drawImage(picture, 0, 0, canvas.width, canvas.height);
  return canvas.toDataURL("image/jpeg", quality);
}
