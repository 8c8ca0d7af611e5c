/**
 * The buttons that save the record as a file and take one in, for all pages that have them.
 */

import { need, write } from "../face/dom.js";
import { currentJob } from "./jobs.js";
import { readFigures, readMaps, RecordError } from "./record.js";
import {
  fileName,
  outcomeInWords,
  pack,
  ParcelError,
  saveFile,
  takeIn,
  unpack,
} from "./transfer.js";

/** @param {ParentNode} page @param {() => void} changed called when something was taken in */
export function bindExchange(page, changed) {
  const told = need(page, "[data-transfer]");
  const chooser = /** @type {HTMLInputElement} */ (need(page, "[data-import]"));
  /** @param {() => Promise<string>} act */
  const tell = async (act) => {
    try {
      write(told, await act());
    } catch (reason) {
      if (!(reason instanceof ParcelError || reason instanceof RecordError)) throw reason;
      write(told, reason.message);
    }
  };
  need(page, "[data-export]").addEventListener("click", () => tell(saveAll));
  chooser.addEventListener("change", () => {
    const [file] = chooser.files ?? [];
    if (!file) return;
    tell(async () => {
      const outcome = outcomeInWords(await takeIn(unpack(await file.text())));
      changed();
      return outcome;
    });
    chooser.value = "";
  });
}

/** @returns {Promise<string>} */
async function saveAll() {
  const [figures, maps] = await Promise.all([readFigures(), readMaps()]);
  const made = new Date().toISOString();
  const name = fileName("record", currentJob(), made);
  saveFile(name, pack(figures.good, maps.good, made));
  const left = figures.damaged + maps.damaged;
  return `Saved as ${name}.${left ? ` ${left} that can't be read were left out.` : ""}`;
}

/** @param {number} damaged entries that were found and can't be read */
export function damagedWords(damaged) {
  if (!damaged) return "";
  return `${damaged === 1 ? "One entry" : `${damaged} entries`} of this phone's record can't be read. What can is shown; the rest is left as it is.`;
}
