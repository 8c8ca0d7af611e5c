/**
 * A choice on the screen: chips or a list, with only the options that go with what else is chosen.
 */

import { all, make, need } from "../face/dom.js";
import { offered } from "./entries.js";

/**
 * @typedef {import("./form.js").Place} Place
 * @typedef {import("./entries.js").Entries} Entries
 * @typedef {import("../model/lookup.js").ChoiceField} ChoiceField
 */

/** @param {Place} place */
export function showChoice(place) {
  const field = /** @type {ChoiceField} */ (place.field);
  const options = offered(field, place.siblings, /** @type {Entries} */ (place.holder));
  const chosen = options.find((option) => option.key === place.holder[field.key])?.key ?? "";
  const select = place.element.querySelector("select");
  if (select) {
    fillSelect(select, options, chosen);
    return;
  }
  for (const chip of all(place.element, ".chip")) {
    chip.hidden = !options.some((option) => option.key === chip.dataset.option);
    /** @type {HTMLInputElement} */ (need(chip, "input")).checked = chip.dataset.option === chosen;
  }
}

/**
 * Rebuilt rather than hidden: not every phone hides options.
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
  select.value = chosen;
}
