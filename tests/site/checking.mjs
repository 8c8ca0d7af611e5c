// What the checks that run under Node have in common: their results, by name.

import { isDeepStrictEqual } from "node:util";

/** What is wrong with each thing that was checked; "" where nothing is. */
export const results = {};

export function check(name, act) {
  try {
    act();
    results[name] = "";
  } catch (reason) {
    results[name] = String(reason.stack);
  }
}

export function same(found, wanted) {
  if (!isDeepStrictEqual(found, wanted))
    throw new Error(`${JSON.stringify(found)} is not ${JSON.stringify(wanted)}`);
}
