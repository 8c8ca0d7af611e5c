/**
 * The form by which a hold point is signed, skipped, noted on or named: one at a time, in the
 * point's own card. What is typed outlives a browser that makes room for the camera.
 *
 * @typedef {"signed" | "skipped" | "noted" | "added" | "renamed"} Mode
 * @typedef {{place: string, mode: Mode, who: string, note: string}} Draft  `place`: of the card
 * @typedef {{who: string, note: string, photo: string}} Said
 */

import { button, make, tell } from "../face/dom.js";
import { isObject, isText } from "../record/shapes.js";
import { reasonWords } from "../record/record.js";
import { inTab, keepInTab } from "../record/tab.js";
import { smallPhoto } from "./photo.js";

const DRAFT = "bay-reckoner hold point";

/** @type {Object<Mode, {note: string, go: string, lacks: string}>} */
const WORDS = {
  signed: { note: "Note, if any", go: "Sign: done and seen", lacks: "" },
  skipped: {
    note: "Why it is skipped (this is printed)",
    go: "Skip it for this reason",
    lacks: "Type why it is skipped.",
  },
  noted: { note: "Note", go: "Keep it", lacks: "Type a note, or add a photo." },
  added: { note: "What must be seen", go: "Add this point", lacks: "Type what must be seen." },
  renamed: { note: "What must be seen", go: "Call it that", lacks: "Type what must be seen." },
};

/** @returns {Draft | null} what was typed and not kept, if it can be had */
export function draftLeft() {
  const found = inTab(DRAFT);
  const isDraft =
    isObject(found) &&
    [found.place, found.who, found.note].every(isText) &&
    Object.hasOwn(WORDS, found.mode);
  return isDraft ? /** @type {Draft} */ (found) : null;
}

export class SignForm {
  /**
   * @param {Draft} draft what it begins with
   * @param {(said: Said) => Promise<void>} keep throws if it can't be kept
   * @param {() => void} closed
   */
  constructor(draft, keep, closed) {
    this.draft = draft;
    this.keep = keep;
    this.closed = closed;
    this.photo = "";
    this.isBusy = false;
    const { mode, place } = draft;
    const words = WORDS[mode];
    const id = `sign-${place}`;
    const named = mode === "signed" || mode === "skipped" || mode === "noted";
    this.who = make("input", {
      id: `${id}-who`,
      class: "line",
      type: "text",
      maxlength: "60",
      autocomplete: "name",
    });
    this.note = make("textarea", {
      id: `${id}-note`,
      class: "line",
      rows: "2",
      maxlength: named ? "1000" : "200",
    });
    this.who.value = draft.who;
    this.note.value = draft.note;
    this.problem = make("p", { class: "problem", role: "alert", hidden: "" });
    this.picture = make("p", { class: "hold-photo", hidden: "" });
    this.go = make("button", { type: "submit", class: "go-button" }, [words.go]);
    this.element = make("form", { class: "sign-form", autocomplete: "off" }, [
      ...(named ? [make("p", { class: "field-head" }, [label(this.who.id, "Who")]), this.who] : []),
      make("p", { class: "field-head" }, [label(this.note.id, words.note)]),
      this.note,
      ...(named ? [this.photoPicker(), this.picture] : []),
      this.problem,
      this.go,
      button("Leave it", () => this.close()),
    ]);
    this.element.addEventListener("submit", (event) => {
      event.preventDefault();
      this.send();
    });
    this.element.addEventListener("input", () => {
      tell(this.problem, "");
      keepInTab(DRAFT, { ...this.draft, who: this.who.value, note: this.note.value });
    });
    keepInTab(DRAFT, draft);
  }

  /** Where a person goes on. */
  focus() {
    const isNamed = this.who.isConnected && !this.who.value;
    (isNamed ? this.who : this.draft.mode === "signed" ? this.go : this.note).focus();
  }

  photoPicker() {
    const input = make("input", { type: "file", accept: "image/*" });
    input.addEventListener("change", async () => {
      const [file] = input.files ?? [];
      input.value = "";
      if (!file) return;
      tell(this.problem, "");
      try {
        this.photo = await smallPhoto(file);
        this.showPhoto();
      } catch (reason) {
        tell(this.problem, reasonWords(reason));
      }
    });
    return make("label", { class: "plain file" }, ["Add a photo", input]);
  }

  showPhoto() {
    const drop = button("Without it", () => {
      this.photo = "";
      this.picture.hidden = true;
    });
    this.picture.replaceChildren(make("img", { src: this.photo, alt: "The photo" }), drop);
    this.picture.hidden = false;
  }

  /** What keeps it from being kept, and where. @returns {[string, HTMLElement] | null} */
  lacking() {
    const { mode } = this.draft;
    if (this.who.isConnected && !this.who.value.trim()) return ["Type who signs.", this.who];
    const needsNote = mode !== "signed" && !(mode === "noted" && this.photo);
    if (needsNote && !this.note.value.trim()) return [WORDS[mode].lacks, this.note];
    return null;
  }

  async send() {
    if (this.isBusy) return;
    const lacks = this.lacking();
    if (lacks) {
      tell(this.problem, lacks[0]);
      lacks[1].focus();
      return;
    }
    this.isBusy = true;
    try {
      await this.keep({
        who: this.who.isConnected ? this.who.value.trim() : "",
        note: this.note.value.trim(),
        photo: this.photo,
      });
      this.close();
    } catch (reason) {
      tell(this.problem, `Not kept. ${reasonWords(reason)}`);
    }
    this.isBusy = false;
  }

  close() {
    keepInTab(DRAFT, null);
    this.element.remove();
    this.closed();
  }
}

/** @param {string} id @param {string} words */
function label(id, words) {
  return make("label", { for: id }, [words]);
}
