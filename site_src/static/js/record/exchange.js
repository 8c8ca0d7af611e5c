/** The buttons that save the record as a file and take one in, for all pages that have them. */

import { need, write } from "../face/dom.js";
import { TakingIn } from "../form/taking_in.js";
import { load, refusal } from "../model/catalogue.js";
import { currentJob, jobNames } from "./jobs.js";
import { nowSaved } from "./copy_due.js";
import { ParcelError } from "./parcel.js";
import { RecordError } from "./record.js";
import {
  everything,
  fileName,
  LARGEST,
  outcomeInWords,
  pack,
  saveFile,
  unpack,
} from "./transfer.js";

/** @param {ParentNode} page @param {() => void} changed called when something was taken in */
export function bindExchange(page, changed) {
  const told = need(page, "[data-transfer]");
  const chooser = /** @type {HTMLInputElement} */ (need(page, "[data-import]"));
  const taking = new TakingIn(told, changed);
  /** @param {() => Promise<string>} act */
  const tell = async (act) => {
    try {
      write(told, await act());
    } catch (reason) {
      if (!(reason instanceof ParcelError || reason instanceof RecordError)) throw reason;
      write(told, reason.message);
    }
  };
  need(page, "[data-export]").addEventListener("click", () => tell(saveRecord));
  chooser.addEventListener("change", () => {
    const [file] = chooser.files ?? [];
    if (!file) return;
    tell(async () => {
      if (file.size > LARGEST)
        throw new ParcelError(
          "This file is too large to be a record from here or a build file. Pick one that was saved on this page.",
        );
      const text = await file.text();
      const kit = await load("torque").catch((reason) => {
        throw new ParcelError(refusal(reason));
      });
      const outcome = await taking.take(kit, unpack(text, kit), () => write(told, ""));
      if (!outcome) return "Left out. Nothing was changed.";
      changed();
      return outcomeInWords(outcome);
    });
    chooser.value = "";
  });
}

/**
 * Save the whole record as a file.
 * @returns {Promise<string>} what was done, in words
 */
export async function saveRecord() {
  const { contents, damaged } = await everything();
  const made = new Date().toISOString();
  const name = fileName("record", await currentJob(), made);
  saveFile(name, pack(contents, made));
  nowSaved(await jobNames(), made);
  return `Saved as ${name}.${damaged ? ` ${damaged} that can't be read were left out.` : ""}`;
}
