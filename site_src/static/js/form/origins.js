/**
 * Says at each entry whose number it is: yours, the maker's, another page's, or only an example;
 * and gives back what a maker's sheet says, or what another page works out, to an entry that was
 * typed over it.
 *
 * @typedef {import("./set_up.js").SetUp} SetUp
 * @typedef {import("./of_truck.js").Origin} Origin
 * @typedef {{words: string, take: () => void}} Offer
 */

import { all, button, make, write } from "../face/dom.js";
import { brief } from "./entries.js";
import { briefOrigin, origin as originOf } from "../record/figures.js";

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
  // A row of a list is the list's; a choice is marked only if it is his own.
  const single = [...setUp.form.boxes()].filter(({ field }) => kit.lookup.fields.includes(field));
  // Asked of all before any is written to, and only where it matters: to know what is seen, the
  // browser has to lay the page out.
  const there = single.map((box) => {
    const offered = ofTruck.offer(kit.lookup.key, box.field.key);
    return { box, offered: offered && box.element.offsetParent !== null ? offered : undefined };
  });
  for (const { box, offered } of there) {
    const mark = box.element.querySelector("[data-origin]");
    if (mark instanceof HTMLElement) showOrigin(setUp, ofTruck, box, mark, offered, changed);
  }
}

/**
 * @param {SetUp} setUp @param {import("./of_truck.js").OfTruck} ofTruck
 * @param {import("./form.js").Box} box @param {HTMLElement} mark
 * @param {import("./of_truck.js").Source | undefined} offered by another page
 * @param {() => void} changed
 */
function showOrigin(setUp, ofTruck, box, mark, offered, changed) {
  const { kit } = setUp;
  const { field } = box;
  const origin = setUp.isGuest ? "open" : ofTruck.origin(kit.lookup, field, setUp.entries);
  const source = ofTruck.source(kit.lookup.key, field.key);
  const makers = setUp.isGuest ? null : ofTruck.makers(kit.lookup, field);
  const sheet = makers?.figure ? briefOrigin(makers.figure) : "";
  write(
    mark,
    markWords(field.kind, origin, {
      followed: source ? `from ${kit.titles[source.page]}` : "",
      maker: sheet ? `${WORDS.maker}, ${sheet}` : WORDS.maker,
    }),
  );
  if (mark.dataset.origin !== origin) mark.dataset.origin = origin;
  const title = origin === "maker" && makers?.figure ? originOf(makers.figure) : "";
  if (mark.title !== title) mark.title = title;
  showOffers(
    box.element,
    setUp.isGuest
      ? []
      : [
          ...makersOffers(setUp, box, makers, origin === "own"),
          ...pageOffer(setUp, box, origin === "own" ? (source ?? offered) : offered),
        ],
    changed,
  );
}

/**
 * What makers' sheets have for an entry that something else was typed into; and of several that no
 * one has picked from, each. Nothing of a list of lines is offered twice.
 * @param {SetUp} setUp @param {import("./form.js").Box} box
 * @param {ReturnType<import("./of_truck.js").OfTruck["makers"]>} makers
 * @param {boolean} isOwn
 * @returns {Offer[]}
 */
function makersOffers(setUp, { field, path }, makers, isOwn) {
  const { kit, ofTruck, truck } = setUp;
  if (!makers || !ofTruck || !truck || field.kind !== "number") return [];
  const { figure, others, kind } = makers;
  const isLead = kind.feeds[0] === field.key;
  const able = [...(figure && isOwn ? [figure] : []), ...(kind.lines && !isLead ? [] : others)];
  const now = /** @type {import("./entries.js").NumberEntry} */ (setUp.entries[path]);
  return able.flatMap((each) => {
    const entry = ofTruck.saidBy(each, field);
    if (typeof entry !== "object") return [];
    if (each === figure && now.text === entry.text && now.unit === entry.unit) return [];
    const text = brief(field, { ...setUp.entries, [field.key]: entry }, kit.quantities);
    const from = briefOrigin(each);
    return [
      {
        words: `Take ${text}, the maker's${from ? `, ${from}` : ""}`,
        take: () => {
          if (each !== figure)
            truck.changeFigure(each, (it) => ({ ...it, used: new Date().toISOString() }));
          const fed = kit.lookup.fields.filter(
            ({ key }) => key === field.key || (each !== figure && kind.feeds.includes(key)),
          );
          setUp.putBack(fed);
        },
      },
    ];
  });
}

/**
 * A choice is marked only if it is his own.
 * @param {string} kind @param {Origin} origin
 * @param {{followed: string, maker: string}} words of what is somebody's else
 */
function markWords(kind, origin, { followed, maker }) {
  if (kind === "choice" && origin !== "own" && origin !== "maker") return "";
  if (origin === "maker") return maker;
  return origin === "followed" ? followed : WORDS[origin];
}

/**
 * What another page works out, unless it stands there already.
 * @param {SetUp} setUp @param {import("./form.js").Box} box
 * @param {import("./of_truck.js").Source | undefined} source
 * @returns {Offer[]}
 */
function pageOffer(setUp, { field, path }, source) {
  const { kit, ofTruck } = setUp;
  if (!source || field.kind !== "number" || !ofTruck) return [];
  const entry = ofTruck.workedOut(source, field, setUp.preferred);
  const now = /** @type {import("./entries.js").NumberEntry} */ (setUp.entries[path]);
  if (!entry.text || now?.text === entry.text) return [];
  const text = brief(field, { ...setUp.entries, [field.key]: entry }, kit.quantities);
  return [
    {
      words: `Take ${text} from ${kit.titles[source.page]}`,
      take: () => {
        // What follows by itself needs no entry of its own.
        if (ofTruck.source(kit.lookup.key, field.key)) setUp.putBack([field]);
        else setUp.enterOwn(field, ofTruck.workedOut(source, field, setUp.preferred));
      },
    },
  ];
}

/**
 * A button for each offer; one that says the same as before stays, with the focus that it may have.
 * @param {HTMLElement} element @param {Offer[]} offers @param {() => void} changed
 */
function showOffers(element, offers, changed) {
  const there = all(element, "[data-offer]");
  const same =
    there.length === offers.length &&
    there.every((each, n) => each.textContent === offers[n].words);
  if (same) return;
  for (const each of there) each.parentElement?.remove();
  for (const { words, take } of offers) {
    const press = button(words, () => {
      take();
      changed();
    });
    press.dataset.offer = "";
    element.append(make("p", { class: "way-back" }, [press]));
  }
}
