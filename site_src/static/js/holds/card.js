/**
 * A hold point's card: how it stands, who signed it, and what may be done to it now.
 *
 * @typedef {import("./points.js").Point} Point
 * @typedef {import("../record/holds.js").Deed} Deed
 * @typedef {"signed" | "skipped" | "noted" | "taken back" | "renamed" | "deleted"} Act
 */

import { moment } from "../bolts/cards.js";
import { button, make, setStamp } from "../face/dom.js";

/** @type {Object<Deed["do"], string>} */
const DONE = {
  signed: "Signed",
  skipped: "Skipped",
  "taken back": "Taken back",
  "put back": "Put back",
  noted: "Noted",
  added: "Added",
  renamed: "Renamed",
  deleted: "Deleted",
  "brought back": "Brought back",
  unreadable: "What was here before could not be read",
};

/** @param {Point} point @returns {[string, string]} status and word */
export function stampOf({ isOpen, isDue, now }) {
  if (isDue) return ["near", "due"];
  if (isOpen) return ["unchecked", "open"];
  return now.state === "signed" ? ["within", "signed"] : ["near", "skipped"];
}

/**
 * @param {Point} point @param {string} waitsFor the stage that has to be signed first, if any
 * @param {(act: Act) => void} act
 */
export function nowOf(point, waitsFor, act) {
  const { isOpen, now, why, hold, isOwn } = point;
  const stamp = make("strong", { class: "stamp" });
  setStamp(stamp, ...stampOf(point));
  const told = !isOpen && now.deed ? [deedOf(now.deed, point.title)] : [];
  return [
    make("p", { class: "hold-state" }, [stamp, ...(why ? [" ", why] : [])]),
    ...told,
    ...(isOpen ? [] : now.more.map((each) => deedOf(each, point.title))),
    ...(waitsFor && isOpen ? [] : [acts(point, act)]),
    ...(isOwn
      ? [
          make("p", { class: "form-foot" }, [
            button("Rename", () => act("renamed")),
            button("Delete", () => act("deleted")),
          ]),
        ]
      : []),
    ...logOf(hold?.log ?? []),
  ];
}

/** @param {Point} point @param {(act: Act) => void} act */
function acts({ isOpen, canSign, canSkip }, act) {
  if (!isOpen)
    return make("div", { class: "form-foot" }, [
      button("Add a note or photo", () => act("noted")),
      button("Take it back", () => act("taken back")),
    ]);
  const sign = button("Sign", () => act("signed"), "go-button");
  const skip = button("Skip", () => act("skipped"));
  sign.disabled = !canSign;
  skip.disabled = !canSkip;
  return make("div", { class: "hold-acts" }, [sign, skip]);
}

/** Who did it, when, and what was said. @param {Deed} each @param {string} title */
export function deedOf({ do: what, at, who, note, photo }, title) {
  return make("div", { class: "deed" }, [
    make("p", {}, [make("b", {}, [`${DONE[what]}${who ? ` by ${who}` : ""}`]), `, ${moment(at)}`]),
    ...(note
      ? [make("p", { class: "deed-note" }, [what === "skipped" ? `Because: ${note}` : note])]
      : []),
    ...(photo ? [make("img", { src: photo, alt: `Photo: ${title}` })] : []),
  ]);
}

/** @param {Deed} each */
export function deedWords({ do: what, at, who, note, photo }) {
  const by = who ? ` by ${who}` : "";
  return `${DONE[what]}${by}, ${moment(at)}${note ? `: ${note}` : ""}${photo ? " (photo)" : ""}`;
}

/** Everything that was done, once there is more than the signature. @param {Deed[]} log */
function logOf(log) {
  if (log.length < 2) return [];
  return [
    make("details", { class: "hold-log" }, [
      make("summary", {}, [`Log: ${log.length}`]),
      make(
        "ol",
        {},
        log.map((each) => make("li", {}, [deedWords(each)])),
      ),
    ]),
  ];
}
