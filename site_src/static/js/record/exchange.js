/**
 * The buttons that save the record as a file and take one in, for all pages that have them.
 */

import { need, write } from "../face/dom.js";
import { load, refusal } from "../model/catalogue.js";
import { currentJob } from "./jobs.js";
import { readAll, readFigures, readMaps, readPulleys, RecordError } from "./record.js";
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
      const text = await file.text();
      const { quantities } = await load("torque").catch((reason) => {
        throw new ParcelError(refusal(reason));
      });
      const outcome = outcomeInWords(await takeIn(unpack(text, quantities)));
      changed();
      return outcome;
    });
    chooser.value = "";
  });
}

/** @returns {Promise<string>} */
async function saveAll() {
  const found = await Promise.all([readFigures(), readMaps(), readPulleys(), readAll("jobs")]);
  const [figures, maps, pulleys, jobs] = found.map(({ good }) => /** @type {any[]} */ (good));
  const made = new Date().toISOString();
  const name = fileName("record", await currentJob(), made);
  saveFile(name, pack({ figures, maps, pulleys, jobs }, made));
  const left = found.reduce((sum, { damaged }) => sum + damaged, 0);
  return `Saved as ${name}.${left ? ` ${left} that can't be read were left out.` : ""}`;
}
