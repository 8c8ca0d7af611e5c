/**
 * Says at each entry whose number it is: yours, the maker's, another page's, or only an example;
 * and gives back what another page works out to an entry that was typed over it.
 *
 * @typedef {import("./set_up.js").SetUp} SetUp
 * @typedef {import("./of_truck.js").Origin} Origin
 */

import { all, button, make, write } from "../face/dom.js";
import { brief } from "./entries.js";

/** @type {Object<Origin, string>} */
const WORDS = {
  own: "yours",
  maker: "maker's",
  followed: "",
  usual: "usual value",
  example: "example",
  open: "",
};

/**
 * @param {SetUp} setUp
 * @param {() => void} changed called when a value was taken
 */
export function showOrigins(setUp, changed) {
  const { ofTruck, kit } = setUp;
  if (!ofTruck) return;
  for (const box of setUp.form.boxes()) {
    const mark = box.element.querySelector("[data-origin]");
    const { field } = box;
    // A row of a list is the list's; a choice is marked only if it is his own.
    const isSingle = kit.lookup.fields.includes(field);
    if (!(mark instanceof HTMLElement) || !isSingle) continue;
    const origin = setUp.isGuest ? "open" : ofTruck.origin(kit.lookup, field, setUp.entries);
    const source = ofTruck.source(kit.lookup.key, field.key);
    const words = source ? `from ${kit.lookups[source.page].title}` : "";
    write(mark, markWords(field.kind, origin, words));
    mark.dataset.origin = origin;
    const offered = box.element.offsetParent ? ofTruck.offer(kit.lookup.key, field.key) : undefined;
    showOffer(setUp, box, origin === "own" ? (source ?? offered) : offered, changed);
  }
}

/**
 * A choice is marked only if it is his own.
 * @param {string} kind @param {Origin} origin @param {string} followed
 */
function markWords(kind, origin, followed) {
  if (kind === "choice" && origin !== "own") return "";
  return origin === "followed" ? followed : WORDS[origin];
}

/**
 * A button that puts in what another page works out, unless it stands there already.
 * @param {SetUp} setUp @param {import("./form.js").Box} box
 * @param {import("./of_truck.js").Source | undefined} source
 * @param {() => void} changed
 */
function showOffer(setUp, { element, field, path }, source, changed) {
  const [there] = all(element, "[data-offer]");
  const { kit, ofTruck } = setUp;
  const entry =
    source && field.kind === "number" && ofTruck
      ? ofTruck.workedOut(source, field, setUp.preferred)
      : undefined;
  const now = /** @type {import("./entries.js").NumberEntry} */ (setUp.entries[path]);
  if (!source || !entry?.text || setUp.isGuest || now?.text === entry.text) {
    there?.parentElement?.remove();
    return;
  }
  const text = brief(field, { ...setUp.entries, [field.key]: entry }, kit.quantities);
  const words = `Take ${text} from ${kit.lookups[source.page].title}`;
  if (there) {
    write(there, words);
    return;
  }
  const take = button(words, () => {
    // What follows by itself needs no entry of its own.
    if (ofTruck?.source(kit.lookup.key, field.key)) setUp.putBack([field]);
    else
      setUp.enterOwn(
        field,
        ofTruck?.workedOut(source, /** @type {any} */ (field), setUp.preferred),
      );
    changed();
  });
  take.dataset.offer = "";
  element.append(make("p", { class: "way-back" }, [take]));
}
