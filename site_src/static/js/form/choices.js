/**
 * A choice on the screen: chips or a list, with only the options that go with what else is chosen.
 */

import { all, make, need, write } from "../face/dom.js";
import { offered } from "./entries.js";

/**
 * @typedef {import("./form.js").Box} Box
 * @typedef {import("./entries.js").Entries} Entries
 * @typedef {import("../model/lookup.js").ChoiceField} ChoiceField
 */

/** @param {Box} box */
export function showChoice(box) {
  const field = /** @type {ChoiceField} */ (box.field);
  const options = offered(field, box.siblings, /** @type {Entries} */ (box.holder));
  const chosen = options.find((option) => option.key === box.holder[field.key])?.key ?? "";
  const select = box.element.querySelector("select");
  if (select) {
    fillSelect(select, options, chosen);
    return;
  }
  for (const chip of all(box.element, ".chip")) {
    chip.hidden = !options.some((option) => option.key === chip.dataset.option);
    /** @type {HTMLInputElement} */ (need(chip, "input")).checked = chip.dataset.option === chosen;
  }
}

/**
 * Built again instead of hiding options, which not every phone does.
 * @param {HTMLSelectElement} select
 * @param {import("../model/lookup.js").Option[]} options
 * @param {string} chosen
 */
function fillSelect(select, options, chosen) {
  const wanted = options.map((option) => option.key);
  if (!chosen) wanted.unshift("");
  if ([...select.options].map((option) => option.value).join() !== wanted.join()) {
    select.replaceChildren();
    if (!chosen) select.append(make("option", { value: "" }, ["Pick one…"]));
    for (const option of options) {
      const last = select.lastElementChild;
      const item = make("option", { value: option.key }, [option.label]);
      if (!option.group) select.append(item);
      else if (last instanceof HTMLOptGroupElement && last.label === option.group)
        last.append(item);
      else select.append(make("optgroup", { label: option.group }, [item]));
    }
  }
  // A page comes with what a metric shop reads.
  for (const item of select.options) {
    const option = options.find(({ key }) => key === item.value);
    if (option) write(item, option.label);
  }
  select.value = chosen;
  // A list's own box has one line; these words have as many as they need.
  const words = select.parentElement?.querySelector("[data-picked-words]");
  if (words) write(words, select.selectedOptions[0]?.textContent ?? "");
}
