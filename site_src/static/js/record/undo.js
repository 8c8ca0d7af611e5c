/** Deletes an entry of the record and offers to bring it back. */

import { make, offerBack } from "../face/dom.js";
import { remove, write } from "./record.js";

/**
 * @param {import("./record.js").Collection} collection
 * @param {{id: string, rev: number}} entry
 * @param {string} name what the entry is called
 * @param {HTMLElement} holder where the offer is shown
 * @param {() => Promise<void>} changed called when the record has changed
 */
export async function removeWithUndo(collection, entry, name, holder, changed) {
  await remove(collection, entry.id);
  await changed();
  const bringBack = async () => {
    await write(collection, { ...entry, rev: 0 });
    await changed();
  };
  const said = make("span", {}, [`“${name}” is gone.`]);
  offerBack(holder, said, "Bring it back", bringBack).focus();
}
