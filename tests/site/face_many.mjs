// Runs the page's own modules, without a page: a list of jobs in, a list of results out.
import { readFileSync } from "node:fs";
import { pathToFileURL } from "node:url";

const folder = pathToFileURL(`${process.argv[2]}/`);
const load = (name) => import(new URL(`${name}.js`, folder));
const [numbers, rule, curve, cells, ladder, flat, compare] = await Promise.all(
  ["numbers", "rule", "curve", "cells", "ladder", "flat", "compare"].map((name) =>
    load(`face/${name}`),
  ),
);
const [typed, ranges, entries, link, stock, carried] = await Promise.all(
  ["typed", "ranges", "entries", "link", "stock", "carried"].map((name) => load(`form/${name}`)),
);
const [units, systems] = await Promise.all(
  ["quantities", "system"].map((name) => load(`model/${name}`)),
);
const { spoken } = await load("face/pairs");
const { jobs, quantities } = JSON.parse(readFileSync(0, "utf8"));

const entryOf = (field, text, unit) =>
  entries.initial([field], quantities, () => unit)[field.key] && { text, unit: unit ?? field.unit };

/** The texts that a stepper goes through. */
function walked(field, from, way, count, beside, pulleys) {
  const found = [];
  for (let entry = from, n = 0; n < count; n += 1) {
    const listed = stock.stockOf(field, { quantities, pulleys }, { ...beside, [field.key]: entry });
    entry = stock.nextEntry(field, entry, listed, quantities, way);
    if (entry === null) break;
    found.push(entry.text);
  }
  return found;
}

/** What each kind of job does with its arguments. */
const kinds = {
  understood: (field, text, unit) =>
    entries.understood(field, entryOf(field, text, unit), quantities),
  complaint: (field, text, unit) =>
    entries
      .read([field], { [field.key]: entryOf(field, text, unit) }, quantities)
      .problems.map(({ words }) => words)
      .join(),
  complaints: (field, texts, unit) =>
    texts.map((text) => kinds.complaint(field, text, unit)).filter(Boolean),
  echo: (field, text, unit) => entries.echo(field, entryOf(field, text, unit), quantities),
  inUnits: (field, text, unit, ...to) =>
    to.reduce((entry, next) => entries.inUnit(field, entry, next, quantities), { text, unit }).text,
  ends: (field, unit) => {
    const declared = entries.declaredOf(field, quantities);
    const picked = units.unitOf(units.unitsOf(field, quantities), unit);
    const { low, high } = ranges.rangeIn(field, declared, picked);
    return {
      low,
      high,
      taken: [low, high].map((text) => ranges.fits(field, declared, picked, Number(text))),
    };
  },
  saidEnds: (field, unit) => {
    const picked = units.unitOf(units.unitsOf(field, quantities), unit);
    return ranges.rangeSaid(field, entries.declaredOf(field, quantities), picked);
  },
  spoken,
  /** The page of a shop, as it is before anything is entered. */
  ofShop: (system, fields) => {
    systems.measureIn(fields, system, quantities);
    const preferred = (_, field) =>
      field.kind === "number" ? units.inSystem(system, field.unit, field, quantities) : undefined;
    const given = entries.initial(fields, quantities, preferred);
    return {
      shown: given,
      inputs: entries.read(fields, given, quantities).inputs,
      usual: Object.fromEntries(fields.map((field) => [field.key, field.default])),
      query: link.toQuery(fields, given, quantities),
    };
  },
  /** A link that one shop sends and another opens. */
  sent: (from, to, fields, search) => {
    systems.measureIn(fields, from, quantities);
    const given = entries.initial(fields, quantities, () => undefined);
    link.fromQuery(fields, given, search, quantities);
    const query = link.toQuery(fields, given, quantities);
    const link_ = link.signed(new URLSearchParams(query), from).toString();
    const there = entries.read(fields, given, quantities).inputs;
    systems.measureIn(fields, to, quantities);
    const opened = entries.initial(fields, quantities, () => undefined, link.systemOf(link_));
    link.fromQuery(fields, opened, link_, quantities);
    return { link: link_, there, here: entries.read(fields, opened, quantities).inputs };
  },
  walk: (field, text, unit, way, count) => walked(field, { text, unit }, way, count, {}, []),
  walkShelf: (field, text, unit, way, kind, pulleys) =>
    walked(field, { text, unit }, way, 60, { diameter_kind: kind }, pulleys),
  stockOf: (field, unit, kind, pulleys) =>
    stock.stockOf(
      field,
      { quantities, pulleys },
      { diameter_kind: kind, [field.key]: { text: "", unit } },
    ),
  refused: (field, pulley, others) => stock.refusedPulley(field, pulley, others, quantities),
  roundTrip: (fields, search) => {
    const given = entries.initial(fields, quantities, () => undefined);
    link.fromQuery(fields, given, search, quantities);
    const query = link.toQuery(fields, given, quantities);
    const again = entries.initial(fields, quantities, () => undefined);
    link.fromQuery(fields, again, query, quantities);
    const reading = (each) => entries.read(fields, each, quantities).inputs;
    return {
      query,
      same: JSON.stringify(reading(given)) === JSON.stringify(reading(again)),
      inputs: reading(given),
    };
  },
  inSystem: (system, usual, of) => units.inSystem(system, usual, of, quantities),
  inInches: (fields, search) => {
    const preferred = (_, field) =>
      field.kind === "number" && field.unit in quantities[field.quantity].inch
        ? units.inSystem("inch", field.unit, field, quantities)
        : undefined;
    const given = entries.initial(fields, quantities, preferred);
    link.fromQuery(fields, given, search, quantities, preferred);
    const { inputs, problems } = entries.read(fields, given, quantities);
    return { shown: given, inputs, problems, query: link.toQuery(fields, given, quantities) };
  },
  withoutUnit: typed.withoutUnit,
  shown: numbers.shown,
  fine: numbers.fine,
  shownMargin: numbers.shownMargin,
  plain: numbers.plain,
  rule: (side, value, limit, near) => rule.ruleMarks(side, { value, limit, near }),
  share: ladder.shareMarks,
  curve: curve.curveMarks,
  fed: (field, si) => carried.fedEntry(field, si, quantities).text,
  ladder: (limits) => {
    const everything = limits.map(({ answer, used, words }) => ({
      answer: { key: answer },
      text: used === null ? "" : String(used),
      words,
      unit: { label: "%" },
      fault: used === null ? { kind: "undefined" } : null,
    }));
    const outcome = {
      answers: Object.fromEntries(limits.map(({ answer, used }) => [answer, used])),
    };
    const found = ladder.inOrder(
      limits.map(({ answer, first }) => ({ answer, first })),
      everything,
      outcome,
    );
    return {
      order: found.map(({ rung }) => rung.answer),
      words: found.map(({ words }) => words),
      first: ladder.firstWords(found),
    };
  },
  carried: (own, pages, rung, search, symbols) => {
    const given = entries.initial(own, quantities, () => undefined);
    link.fromQuery(own, given, search, quantities);
    const kit = { lookup: { fields: own }, lookups: pages, quantities };
    return ladder.carried(kit, rung, given, { value: (symbol) => symbols[symbol] });
  },
  flat: flat.isFlat,
  beside: (values, own) =>
    compare
      .beside(
        values.map((value) => ({ value })),
        own,
      )
      .map(({ value }) => value),
  withOwn: cells.withOwn,
};

const results = jobs.map(([kind, ...given]) => kinds[kind](...given));
process.stdout.write(JSON.stringify(results, (_, value) => (Number.isNaN(value) ? "NaN" : value)));
