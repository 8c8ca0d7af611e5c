/**
 * Says once, at the top of a page, that the phone's store can't be used, and offers to reset it.
 */

import { button, need } from "../face/dom.js";
import { reset, storeTrouble } from "./store.js";

export function showStoreTrouble() {
  const notice = need(document, "[data-notice]");
  const words = storeTrouble();
  notice.hidden = !words;
  if (!words) return;
  const afresh = button("Empty the store and start afresh", () => {
    reset();
    location.reload();
  });
  notice.replaceChildren(words, " ", afresh);
}
