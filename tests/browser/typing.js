/*
 * Types whatever anybody might into a lookup's page, and looks after each entry whether what the
 * page shows is of that entry: as it is kept, as it is read, as its recipe answers it.
 *
 * `type(seed, count, sampled)` returns what was found wrong, each in a line with what was typed,
 * and samples of set-ups with what the page showed, to be worked out elsewhere.
 */
(() => {
  const HOSTILE = [
    '<img src=x onerror="window.ran=1">',
    '"><svg onload="window.ran=1">',
    "<script>window.ran=1</script>",
    "javascript:window.ran=1",
    "';window.ran=1;//",
    "{{7*7}}${window.ran=1}",
    "__proto__",
    "constructor",
    "toString",
    "{value}",
    "%00%0a",
    "&lt;b&gt;&#0;",
    "\u0000\u0001\u001f",
    "\u202e123\u202c",
    "\ud800",
    "\ufeff12",
    "1\u200b2",
    "👩‍🔧🔧",
    `${"a".repeat(40)}!`,
  ];
  const LONG = [
    "A".repeat(10000),
    "9".repeat(400),
    "(".repeat(5000),
    "1 ".repeat(3000),
    `${"1,".repeat(1900)}1`,
  ];
  const STRANGE = [
    "",
    " ",
    ".",
    ",",
    "-",
    "+",
    "−",
    "–5",
    "--5",
    "5-",
    "+5",
    "-0",
    "0",
    "00",
    "007",
    "1.",
    ".5",
    "1e5",
    "1e999",
    "-1e999",
    "1e-999",
    "0x10",
    "0b1",
    "NaN",
    "Infinity",
    "-Infinity",
    "null",
    "undefined",
    "true",
    "1/0",
    "0/0",
    "1/3",
    "1 1/2",
    "1-1/2",
    "½",
    "3½",
    "1 ½",
    "⅞ in",
    "1⁄2",
    "1,234",
    "1.234",
    "1,234.5",
    "1.234,5",
    "1,23,4",
    "1.2.3",
    "1'234",
    "12 345",
    "１２",
    "١٢",
    "1_000",
    "1e",
    "e1",
    "5 mm in",
    "5mmm",
    "mm",
    "12 furlong",
    "90°",
    '3/8"',
    "3' 4\"",
    "5 %",
    "0.1e-320",
    `0.${"0".repeat(50)}1`,
    "1".repeat(59),
    "1".repeat(61),
    "9007199254740993",
    "179769313486231570000000000",
    "5  in",
    "5\tin",
    "5\nin",
    "5 in",
    "μ",
    "²",
  ];
  /** Letters of a text that the phone keeps. */
  const KEPT = 4000;
  const WRONG = /NaN|Infinity|\bundefined\b|\bnull\b|\[object/;
  const state = (window.typedAnything ??= { errors: [] });

  /** Numbers from a seed, from 0 to 1. */
  const randomFrom = (seed) => {
    let a = seed >>> 0;
    return () => {
      a = (a + 0x6d2b79f5) | 0;
      let t = Math.imul(a ^ (a >>> 15), 1 | a);
      t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
      return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
    };
  };

  const main = document.querySelector("[data-lookup]");
  const form = main.querySelector("[data-form]");
  const plate = main.querySelector("[data-plate]");
  const all = (selector, root = main) => [...root.querySelectorAll(selector)];
  const squeezed = (text) => text.replace(/\s+/g, " ").trim();
  const tell = (element, type) => element.dispatchEvent(new Event(type, { bubbles: true }));
  const inSight = (element) => !element.closest("[hidden], template");

  async function type(seed, count, sampled) {
    const modules = globalThis.bayReckonerModules;
    const { whenWorkedOut } = modules["face/worked_out.js"];
    const { read } = modules["form/entries.js"];
    const { explain } = modules["recipe.js"];
    const { isFault } = modules["recipe/values.js"];
    const { shown } = modules["face/numbers.js"];
    const { fromSi, unitOf } = modules["model/quantities.js"];
    let worked;
    whenWorkedOut((last) => (worked = last));
    const random = randomFrom(seed);
    const pick = (list) => list[Math.floor(random() * list.length)];
    const wrong = [];
    const samples = [];
    let did = "";
    let tooLong = null;
    const fault = (words) => {
      if (wrong.length < 40) wrong.push(`${words} | after ${did.slice(0, 200)}`);
    };

    /** The field, and what holds its entry, of an input. */
    const boxOf = (input) => {
      const own = input.closest("[data-field]");
      const row = input.closest("[data-row]");
      const key = own?.dataset.field;
      const { fields } = worked.kit.lookup;
      if (!row) return { field: fields.find((each) => each.key === key), holder: worked.entries };
      const list = row.closest('[data-kind="parts"]').dataset.field;
      const n = all(":scope > [data-row]", row.parentElement).indexOf(row);
      const parts = fields.find((each) => each.key === list);
      return {
        field: parts?.fields.find((each) => each.key === key),
        holder: worked.entries[list]?.[n],
      };
    };

    const number = (field) => {
      const { low, high } = field;
      const kind = random();
      if (kind < 0.7) return (low + (high - low) * random()).toFixed(Math.floor(random() * 5));
      if (kind < 0.8) return String(pick([low, high, field.default ?? low]));
      if (kind < 0.9) return String(low - (field.step ?? 1) * random() * 10);
      return String(high + (field.step ?? 1) * random() * 10);
    };

    const text = (field) => {
      const kind = random();
      if (field?.kind === "number") {
        if (kind < 0.5) return number(field);
        const { units } = worked.kit.quantities[field.quantity];
        if (kind < 0.6) return `${number(field)} ${pick(units).label}`;
        if (kind < 0.63)
          return `${number(field)}${pick(pick(Object.values(worked.kit.quantities)).units).key}`;
      }
      if (kind < 0.8) return pick(STRANGE);
      if (kind < 0.93) return pick(HOSTILE);
      if (kind < 0.936) return pick(LONG);
      const letters = "0123456789.,-/ ½'\"eEinm%<>&\\{}°µ²\u00a0\u2212é水\n";
      return Array.from({ length: 1 + random() * 20 }, () => pick([...letters])).join("");
    };

    const acts = {
      text() {
        const input = pick(all('input[type="text"]').filter((each) => !each.closest("template")));
        const typed = text(boxOf(input).field);
        did = `${input.id || input.className}: ${JSON.stringify(typed)}`;
        input.value = typed;
        tell(input, "input");
        if (typed.length > KEPT) tooLong = input;
        if (random() < 0.3) tell(input, "change");
      },
      choice() {
        const choice = pick(
          all('[data-kind="choice"]', form).filter((one) => !one.closest("template")),
        );
        if (!choice) return;
        const select = choice.querySelector("select");
        if (select) {
          select.value = random() < 0.05 ? "no such" : pick([...select.options]).value;
          did = `${select.id} = ${select.value}`;
          tell(select, "input");
          tell(select, "change");
        } else {
          const radio = pick(all('input[type="radio"]', choice));
          did = `${radio.name} = ${radio.value}`;
          radio.click();
        }
      },
      unit() {
        const select = pick(all("select[data-unit]").filter((each) => !each.closest("template")));
        if (!select) return;
        select.value = pick([...select.options]).value;
        did = `unit of ${select.closest("[data-field], [data-answer], [data-plate]")?.outerHTML.slice(0, 60)}`;
        tell(select, "input");
        tell(select, "change");
      },
      press() {
        const buttons = ".nudge, [data-sign], [data-add], [data-remove]";
        const button = pick(all(buttons, form).filter((each) => !each.closest("template")));
        if (!button) return;
        did = `pressed ${button.getAttribute("aria-label") ?? button.textContent}`;
        button.click();
      },
      again() {
        const back = main.querySelector("[data-form-undo]:not([hidden]) button");
        did = back ? "brought back" : "back to the example";
        (back ?? main.querySelector("[data-reset]")).click();
      },
    };
    const act = () => {
      const kind = random();
      if (kind < 0.78) acts.text();
      else if (kind < 0.88) acts.choice();
      else if (kind < 0.93) acts.unit();
      else if (kind < 0.995) acts.press();
      else acts.again();
    };

    /** Whether every box holds what is kept. */
    const sameEntries = () => {
      for (const input of all('input[type="text"]', form)) {
        if (input.closest("template") || input.matches("[data-source], [data-source-page]"))
          continue;
        const { field, holder } = boxOf(input);
        const entry = field && holder?.[field.key];
        if (entry && entry.text !== input.value && entry.text.trim() !== input.value.trim())
          // A box holds no line breaks.
          if (entry.text.replace(/[\r\n]/g, "") !== input.value.replace(/[\r\n]/g, ""))
            fault(
              `${input.id} shows ${input.value.slice(0, 40)}, kept is ${entry.text.slice(0, 40)}`,
            );
      }
    };

    const look = () => {
      const { kit, entries } = worked;
      const { lookup } = kit;
      if (state.errors.length) fault(state.errors.splice(0).join("; "));
      if ("stopped" in document.documentElement.dataset) fault("the page stopped");
      if (window.ran !== undefined) fault("a script ran");
      const { inputs, problems } = read(lookup.fields, entries, kit.quantities);
      const outcome = explain(lookup, inputs, kit.tables);
      const silence = plate.querySelector("[data-silence]");
      const value = plate.querySelector("[data-value]").textContent;
      const words = squeezed(silence.querySelector("p").textContent);
      let first = true;
      for (const answer of lookup.answers) {
        const si = outcome.value(answer.symbol);
        const row = main.querySelector(`[data-answers] > [data-answer="${answer.key}"]`);
        const units = kit.quantities[answer.quantity]?.units;
        const said = row?.querySelector("[data-number]").textContent;
        const key = row?.querySelector("select[data-unit]")?.value;
        if (row && isFault(si)) {
          if (said !== "—") fault(`${answer.key} shows ${said} without an answer`);
        } else if (row) {
          const unit = key
            ? unitOf(units, key)
            : units.find(
                (each) =>
                  each.label === squeezed(row.querySelector("[data-unit], .unit").textContent),
              );
          const wanted = shown(fromSi(si, unit), answer.decimals[unit.key]);
          if (!Number.isFinite(si)) fault(`${answer.key} is ${si}`);
          if (said !== wanted) fault(`${answer.key} shows ${said} for ${wanted}`);
        }
        if (answer.rank !== "main") continue;
        first = false;
        if (isFault(si)) {
          if (value) fault(`the plate shows ${value} without an answer`);
          if (silence.hidden || !words) fault("the plate says nothing");
        } else {
          if (!value || !silence.hidden) fault(`the plate shows no answer: ${words}`);
          const list = plate.querySelector("select[data-unit]");
          const picked = list ? list.value : key;
          if (picked) {
            const unit = unitOf(units, picked);
            const wanted = shown(fromSi(si, unit), answer.decimals[unit.key]);
            if (value !== wanted) fault(`the plate shows ${value} for ${wanted}`);
          }
        }
      }
      if (first) fault("there is no main answer");
      for (const { field, row, entry } of problems) {
        const box = all(`[data-field="${field}"]`, form)[0];
        const own =
          row < 0
            ? box
            : all(`[data-rows] > [data-row]`, box)[row]?.querySelector(`[data-field="${entry}"]`);
        const said = own && all("[data-problem]", own)[0];
        if (!said || said.hidden || !said.textContent.trim())
          fault(`${field} ${entry} is wrong and not marked`);
      }
      sameEntries();
      const { textContent } = main;
      if (WRONG.test(textContent)) wrongText();
      return { inputs, problems, outcome, value };
    };

    /** Text of ours: what a person typed may be quoted. */
    const wrongText = () => {
      for (const element of all("*")) {
        if (element.children.length || !inSight(element)) continue;
        const own = element.textContent.replace(/“[^”]*”/g, "").replace(/“[^”]*$/, "");
        if (WRONG.test(own) && !element.closest("[data-makers]"))
          fault(
            `says “${squeezed(own).slice(0, 90)}” in ${element.className || element.localName}`,
          );
      }
    };

    const settled = async () => {
      while (!main.hasAttribute("data-settled")) await new Promise((done) => setTimeout(done, 4));
      for (const element of all("svg *"))
        for (const { name, value } of element.attributes)
          if (WRONG.test(value)) fault(`${element.localName} has ${name} ${value.slice(0, 40)}`);
      if (main.querySelector("script, img:not([src^='blob:']), iframe, object, embed"))
        fault("an element came in");
    };

    for (let n = 0; n < count; n += 1) {
      act();
      let found = look();
      if (tooLong) {
        // Until it is shortened nothing more is kept, and the page says so.
        tooLong.value = "12";
        tell(tooLong, "input");
        found = look();
        tooLong = null;
      }
      if (n % 40 === 39) {
        await settled();
        look();
      }
      if (n % sampled === sampled - 1) {
        const { inputs, problems, outcome } = found;
        const { answers } = outcome;
        const texts = worked.kit.lookup.fields
          .filter(({ kind }) => kind === "number")
          .map(({ key }) => [
            key,
            worked.entries[key].text,
            worked.entries[key].unit,
            worked.entries[key].from !== undefined,
          ]);
        samples.push({ did, inputs, problems: problems.map(({ field }) => field), answers, texts });
      }
    }
    await settled();
    look();
    return { wrong, samples };
  }
  return type;
})();
