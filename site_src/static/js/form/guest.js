/**
 * A link's set-up beside the job's: what differs, and whether the job takes all, some or none.
 *
 * @typedef {import("./set_up.js").SetUp} SetUp
 * @typedef {import("../model/lookup.js").Field} Field
 */

import { differenceRow, foldedRows } from "../face/differences.js";
import { button, need, write } from "../face/dom.js";
import { brief } from "./entries.js";

/**
 * @param {ParentNode} page @param {SetUp} setUp
 * @param {() => void} changed called when the job or what is shown has changed
 */
export function showGuest(page, setUp, changed) {
  const box = need(page, "[data-guest]");
  box.hidden = !setUp.isGuest;
  if (!setUp.isGuest) return;
  const differing = setUp.differing();
  const job = setUp.truck?.job.name ?? "";
  write(need(box, "[data-guest-title]"), "Not your truck: a set-up from a link");
  write(
    need(box, "[data-guest-words]"),
    differing.length
      ? `It differs from “${job}” in ${differing.length === 1 ? "one entry" : `${differing.length} entries`}. Nothing of it is kept until you take it.`
      : `It is the same as “${job}” now.`,
  );
  const rows = differing.map((each) => row(setUp, each.field, each.ofJob, changed));
  need(box, "[data-guest-list]").replaceChildren(...foldedRows(rows));
  need(box, "[data-guest-foot]").replaceChildren(
    ...(differing.length
      ? [
          button(`Take all into “${job}”`, () => {
            setUp.take(setUp.differing().map(({ field }) => field));
            setUp.showJob();
            changed();
          }),
        ]
      : []),
    button(differing.length ? "Back to my truck" : "Go on with it", () => {
      setUp.showJob();
      changed();
    }),
  );
}

/**
 * @param {SetUp} setUp @param {Field} field
 * @param {import("./entries.js").Entries[string]} ofJob @param {() => void} changed
 */
function row(setUp, field, ofJob, changed) {
  const { quantities } = setUp.kit;
  const here = brief(field, setUp.entries, quantities);
  const there = brief(field, { ...setUp.entries, [field.key]: ofJob }, quantities);
  const take = button("Take", () => {
    setUp.take([field]);
    changed();
  });
  take.setAttribute("aria-label", `Take ${field.label} ${here}`);
  return differenceRow(field.label, here, there, take, { "data-guest-field": field.key });
}
