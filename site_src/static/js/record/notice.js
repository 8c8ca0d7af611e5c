/**
 * Says once, at the top of a page, that the phone's store can't be used, and offers to reset it.
 */

import { make, need } from "../face/dom.js";
import { reset, storeTrouble } from "./store.js";

export function showStoreTrouble() {
  const notice = need(document, "[data-notice]");
  const words = storeTrouble();
  notice.hidden = !words;
  if (!words) return;
  const button = make("button", { type: "button", class: "plain" }, [
    "Empty the store and start afresh",
  ]);
  button.addEventListener("click", () => {
    reset();
    location.reload();
  });
  notice.replaceChildren(words, " ", button);
}
