/** A build's sheets: takes the build over as a job on this phone, saves its file, prints. */

import { need, tell } from "../face/dom.js";
import { TakingIn } from "../form/taking_in.js";
import { load, refusal } from "../model/catalogue.js";
import { currentJob, takeUp } from "../record/jobs.js";
import { ParcelError } from "../record/parcel.js";
import { RecordError } from "../record/record.js";
import { fileName, saveFile, unpack } from "../record/transfer.js";

const page = need(document, "[data-build]");
const text = page.dataset.file ?? "";
const name = String(JSON.parse(text).jobs[0].name);
const told = need(page, "[data-taken]");
const take = /** @type {HTMLButtonElement} */ (need(page, "[data-take]"));
const save = /** @type {HTMLButtonElement} */ (need(page, "[data-save]"));

const taking = new TakingIn(told, () => tell(told, ""));

/** Put the build beside the jobs that are here, and work on it. @returns {Promise<string>} */
async function taken() {
  const kit = await load("torque").catch((reason) => {
    throw new ParcelError(refusal(reason));
  });
  const before = await currentJob();
  const outcome = await taking.take(kit, unpack(text, kit));
  if (!outcome) return "Left out. Nothing was changed.";
  const { names, damaged } = outcome;
  const here = names.get(name) ?? name;
  await takeUp(here);
  const left = damaged ? ` ${damaged} entries could not be read and were left out.` : "";
  const other = before === here ? "" : ` “${before}” is kept: switch on the page of the truck.`;
  return `“${here}” is the job in hand now.${left}${other}`;
}

take.addEventListener("click", async () => {
  take.disabled = true;
  try {
    tell(told, await taken());
  } catch (reason) {
    if (!(reason instanceof ParcelError || reason instanceof RecordError)) throw reason;
    tell(told, reason.message);
  } finally {
    take.disabled = false;
  }
});
save.addEventListener("click", () => {
  const called = fileName("job", name, "");
  saveFile(called, text);
  tell(told, `Saved as ${called}.`);
});
need(page, "[data-print]").addEventListener("click", () => window.print());
take.disabled = false;
save.disabled = false;
