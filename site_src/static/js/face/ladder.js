/**
 * What runs out first: each limit on a rule that is the same for all, the most used one on top;
 * and each limit's own page with the same inputs. The same rules as site_src/face/ladder.py.
 *
 * @typedef {import("../model/catalogue.js").Kit} Kit
 * @typedef {import("../model/lookup.js").Rung} Rung
 * @typedef {import("../form/entries.js").Entries} Entries
 * @typedef {import("../recipe.js").Outcome} Outcome
 * @typedef {import("./words.js").Shown} Shown
 * @typedef {{rung: Rung, shown: Shown, words: string}} ShownRung
 */

import { all, draw, need, setStamp, write } from "./dom.js";
import { fixed, NO_NUMBER, withUnit } from "./numbers.js";
import { drawZone, hatch, RULE_WIDTH } from "./rule.js";
import { Reasons, shownNamed, STATUS_WORDS } from "./words.js";
import { fedEntry } from "../form/carried.js";
import { initial } from "../form/entries.js";
import { signed, toQuery } from "../form/link.js";
import { isFault } from "../recipe/values.js";

const [SHARE_LEFT, SHARE_RIGHT, SHARE_MOST, SHARE_HATCH] = [14, 326, 1.25, 5];
const LONG = [6, 9, 12];

/**
 * @param {ParentNode} page
 * @param {ShownRung[]} limits in their order
 * @param {import("../model/catalogue.js").Kit} kit
 * @param {import("../form/entries.js").Entries} entries
 * @param {import("../recipe.js").Outcome} outcome
 * @param {boolean} isOwn whether the other pages know this set-up from the job
 */
export function showLadder(page, limits, kit, entries, outcome, isOwn) {
  const section = page.querySelector("[data-ladder]");
  if (!section) return;
  write(need(section, "[data-first]"), firstWords(limits));
  const list = need(section, "[data-rungs]");
  const items = limits.map(({ rung }) => need(list, `[data-rung="${rung.answer}"]`));
  limits.forEach((each, n) => {
    const query = carried(kit, each.rung, entries, outcome);
    showRung(items[n], each, query === null || !isOwn ? query : "");
  });
  // Only if the order has changed: an element that is moved loses the focus.
  if (all(list, "[data-rung]").some((item, n) => item !== items[n])) list.append(...items);
}

/** @param {HTMLElement} item @param {ShownRung} limit @param {string | null} query */
function showRung(item, { rung, shown, words }, query) {
  item.dataset.status = shown.status;
  const used = shown.fault ? NO_NUMBER : withUnit(shown.text, shown.unit.label);
  write(need(item, "[data-used]"), used);
  setStamp(need(item, ".stamp"), shown.status, STATUS_WORDS[shown.status] ?? "");
  write(need(item, "[data-words]"), words);
  need(item, "[data-share]").replaceChildren(
    ...(shown.ends ? [drawShare(shown.ends, `${rung.label}: ${used} used`)] : []),
  );
  const link = /** @type {HTMLAnchorElement} */ (need(item, "[data-page]"));
  link.hidden = query === null;
  link.search = query ?? "";
}

/** @param {import("./words.js").Ends} ends @param {string} label */
function drawShare({ value, limit, near }, label) {
  const marks = shareMarks(value / limit, near / limit);
  return draw(
    "svg",
    { class: "rule share", viewBox: "0 0 340 52", role: "img", "aria-label": label },
    [
      draw("rect", { class: "rule-body", x: "1", y: "1", width: "338", height: "50" }),
      drawZone("rule-near", marks.near, "33", "16"),
      draw("path", { class: "rule-hatch", d: marks.hatch }),
      drawZone("rule-beyond", marks.beyond, "33", "16"),
      draw("path", {
        class: "rule-ticks",
        d: marks.ticks.map(({ at, size }) => `M${at} 1v${LONG[size]}`).join(""),
      }),
      ...marks.ticks
        .filter(({ label: text }) => text)
        .map(({ at, label: text }, n) =>
          draw(
            "text",
            { class: "rule-number", x: at, y: "28", "text-anchor": n ? "middle" : "start" },
            [text],
          ),
        ),
      draw("rect", {
        class: "rule-used",
        x: "1",
        y: "37",
        width: (Number(marks.used) - 1).toFixed(1),
        height: "8",
      }),
      draw("path", { class: "rule-notch", d: `M${marks.limit} 34l-8 17h16z` }),
    ],
  );
}

/**
 * The marks of a share of a limit, which is 1; what doesn't fit ends at the edge.
 * @param {number} used
 * @param {number} near
 */
export function shareMarks(used, near) {
  /** @param {number} share */
  const x = (share) => fixed(SHARE_LEFT + (share / SHARE_MOST) * (SHARE_RIGHT - SHARE_LEFT), 1);
  const far = fixed(RULE_WIDTH - 1, 1);
  const zone = [x(near), x(1)];
  return {
    used: used > SHARE_MOST ? far : x(Math.max(used, 0)),
    limit: x(1),
    near: zone,
    beyond: [x(1), far],
    hatch: hatch(zone, SHARE_HATCH, "49l5 -16"),
    ticks: Array.from({ length: 26 }, (_, n) => {
      const numbered = n % 5 === 0 && n <= 20;
      return { at: x(n / 20), size: numbered ? 2 : 0, label: numbered ? String(5 * n) : "" };
    }),
  };
}

/**
 * The limits, the most used one first; then those not checked, last those without an answer.
 * @param {Rung[]} rungs
 * @param {Shown[]} everything
 * @param {Outcome} outcome
 * @returns {ShownRung[]}
 */
export function inOrder(rungs, everything, outcome) {
  const limits = rungs.flatMap((rung) => {
    const shown = shownNamed(everything, rung.answer);
    return shown ? [{ rung, shown, words: shown.words }] : [];
  });
  const known = limits
    .filter(({ shown }) => !shown.fault)
    .sort(
      (a, b) =>
        Number(a.shown.status === "unchecked") - Number(b.shown.status === "unchecked") ||
        outcome.answers[b.rung.answer] - outcome.answers[a.rung.answer],
    );
  const reasons = new Reasons();
  const unknown = limits
    .filter(({ shown }) => shown.fault)
    .map((each) => ({ ...each, words: reasons.say(each.words) }));
  return [...known, ...unknown];
}

/**
 * The ladder's answers before the others, so that the verdict is about the first of them.
 * @param {ShownRung[]} limits
 * @param {Shown[]} everything
 */
export function judgedFirst(limits, everything) {
  const first = limits.map(({ shown }) => shown);
  return [...first, ...everything.filter((shown) => !first.includes(shown))];
}

/** Say which limit is used up first. @param {ShownRung[]} limits */
export function firstWords(limits) {
  const known = limits.filter(({ shown }) => !shown.fault);
  if (!known.length) return "None of these can be worked out for this set-up.";
  const checked = known.filter((each) => each.shown.status !== "unchecked");
  if (!checked.length)
    return "Not checked yet: enter your own parts and limits, and this says what runs out first.";
  const [{ rung, shown }] = checked;
  const said = `${rung.first}: ${withUnit(shown.text, shown.unit.label)} used.`;
  if (checked.length < known.length) return `Of what is checked, ${said}`;
  if (known.length < limits.length) return `Of what can be worked out, ${said}`;
  return said[0].toUpperCase() + said.slice(1);
}

/**
 * The query with which a limit's page works out the same; null if a value that it needs is missing,
 * and empty if the page's entries are not read yet.
 * @param {Kit} kit @param {Rung} rung @param {Entries} entries @param {Outcome} outcome
 * @returns {string | null}
 */
export function carried({ lookup, lookups, quantities, system }, rung, entries, outcome) {
  if (!Object.hasOwn(lookups, rung.page)) return "";
  const { fields } = lookups[rung.page];
  const given = initial(fields, quantities, () => undefined);
  for (const field of fields) {
    const symbol = rung.feeds[field.key];
    if (symbol !== undefined && field.kind === "number") {
      const value = outcome.value(symbol);
      if (isFault(value)) return null;
      given[field.key] = fedEntry(field, value, quantities);
    } else if (lookup.fields.some(({ key, kind }) => key === field.key && kind === field.kind)) {
      given[field.key] = entries[field.key];
    }
  }
  return signed(new URLSearchParams(toQuery(fields, given, quantities)), system).toString();
}
