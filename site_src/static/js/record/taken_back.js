/**
 * The record as it was before something large was done to it, and the way back.
 *
 * @typedef {import("./record.js").Collection} Collection
 * @typedef {Map<Collection, Map<string, any>>} State  every entry by its id
 */

import { amend, readAll } from "./record.js";
import { COLLECTIONS } from "./transfer.js";

/** All that the record holds now. @returns {Promise<State>} */
export async function stateNow() {
  const found = await Promise.all(COLLECTIONS.map((collection) => readAll(collection)));
  return new Map(
    COLLECTIONS.map((collection, n) => [
      collection,
      new Map([...found[n].good, ...found[n].bad].map((each) => [each.id, each])),
    ]),
  );
}

/**
 * Put back what was changed between two states. What was gone on with since stays.
 * @param {State} before @param {State} after
 * @returns {Promise<number>} how many entries stay, since they were gone on with
 */
export async function putBack(before, after) {
  let left = 0;
  for (const [collection, entries] of after) {
    for (const [id, entry] of entries) {
      const was = before.get(collection)?.get(id);
      const told = JSON.stringify(entry);
      if (JSON.stringify(was) === told) continue;
      const gone = { id };
      await amend(collection, gone, (there) => {
        if (there === gone) return undefined;
        if (JSON.stringify(there) === told) return was;
        left += 1;
        return there;
      });
    }
  }
  return left;
}
