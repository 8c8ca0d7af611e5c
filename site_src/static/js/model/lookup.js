/**
 * A lookup as the catalogue holds it, and its parts by their keys. No DOM.
 *
 * @typedef {{field: string, is: string[]} | null} When
 * @typedef {{kind: "number", key: string, label: string, quantity: string, unit: string,
 *   low: number, high: number, default: number | null, step: number, stock: number[],
 *   way_out: string, first: boolean, when: When, group: string, kept: boolean,
 *   stands_before: string, example: string, shelf: Shelf | null, inch?: InInches | null,
 *   usual?: Said | null}} NumberField  `inch`: how an inch shop reads it, null where that is no
 *   different; `usual`: what stands there until something is entered, see model/system.js
 * @typedef {{unit: string, default: number | null, step: number, stock: number[]}} InInches
 * @typedef {{text: string, unit: string}} Said
 * @typedef {{kind: string, lacks: Object<string, number>}} Shelf  a pulley of the shop's; see
 *   site_src/model/fields.py
 * @typedef {{key: string, label: string, tag: string, group: string}} Option
 * @typedef {{kind: "choice", key: string, label: string, options: Option[], default: string,
 *   first: boolean, when: When, group: string, match: string}} ChoiceField
 * @typedef {{kind: "parts", key: string, label: string, fields: Array<NumberField | ChoiceField>,
 *   most: number, default: Array<Object<string, number | string>>,
 *   first: boolean, when: When, group: string, example: string,
 *   inch?: Array<Object<string, number | string>>, usual?: UsualRow[]}} PartsField
 * @typedef {Object<string, Said | string | null>} UsualRow
 * @typedef {NumberField | ChoiceField | PartsField} Field
 * @typedef {{side: string, limit: string | number, near: string | number,
 *   words: Object<string, string>, examples: string[]}} Band
 * @typedef {{key: string, label: string, quantity: string, unit: string, si: [number, number],
 *   decimals: Object<string, number>, symbol: string, band: Band | null,
 *   rank: string, note: string, optional: boolean}} Answer
 * @typedef {{title: string, answer: string, rows: string, row_values: Array<number | string>,
 *   columns: string, column_values: number[], also: string[], unit: string}} ChartView
 * @typedef {{title: string, answer: string, over: string, values: number[],
 *   at: string}} CurveView
 * @typedef {{key: string, title: string, fields: Field[], steps: any[], answers: Answer[],
 *   tables: string[],
 *   views: {charts: ChartView[], curves: CurveView[],
 *     advice: import("../face/advice.js").AdviceView[],
 *     ladder: {title: string, rungs: Rung[]} | null, compare: CompareView | null,
 *     each: EachView | null, shares: SharesView | null}}} Lookup
 * @typedef {{answer: string, label: string, first: string, page: string,
 *   feeds: Object<string, string>}} Rung
 * @typedef {{title: string, portions: Array<{label: string, answers: Object<string, string>,
 *   parts: string, names: string[]}>}} SharesView
 * @typedef {{title: string, field: string, others: string[], answers: string[]}} CompareView
 * @typedef {{title: string, parts: string, feeds: Object<string, string>,
 *   fixed: Object<string, any>, answers: string[], write_in: string[]}} EachView
 */

/** @param {Lookup} lookup @param {string} key @returns {Field} */
export function fieldNamed(lookup, key) {
  return known(lookup.fields, key, `${lookup.key} has no field`);
}

/** @param {Lookup} lookup @param {string} key @returns {NumberField} */
export function numberNamed(lookup, key) {
  const field = fieldNamed(lookup, key);
  if (field.kind !== "number") throw new Error(`${lookup.key}: ${key} is not a number`);
  return field;
}

/** @param {Lookup} lookup @param {string} key @returns {Answer} */
export function answerNamed(lookup, key) {
  return known(lookup.answers, key, `${lookup.key} has no answer`);
}

/** The one large number of a lookup's page. @param {Lookup} lookup @returns {Answer} */
export function mainAnswer({ answers }) {
  return answers.find(({ rank }) => rank === "main") ?? answers[0];
}

/** @param {Field | undefined} field @param {unknown} key @returns {Option | undefined} */
export function optionNamed(field, key) {
  return field?.kind === "choice" ? field.options.find((option) => option.key === key) : undefined;
}

/** @template {{key: string}} T @param {T[]} all @param {string} key @param {string} none */
function known(all, key, none) {
  const found = all.find((each) => each.key === key);
  if (!found) throw new Error(`${none} ${key}`);
  return found;
}

/** @type {WeakMap<Lookup, Map<string, any>>} */
const reduced = new WeakMap();

/**
 * A lookup with some of its answers alone, and the steps that they need.
 * @param {Lookup} lookup @param {Answer[]} answers
 * @returns {Lookup}
 */
export function only(lookup, answers) {
  const done = reduced.get(lookup) ?? new Map();
  reduced.set(lookup, done);
  const name = answers.map(({ key }) => key).join(" ");
  if (!done.has(name)) done.set(name, { ...lookup, answers, steps: stepsFor(lookup, answers) });
  return done.get(name);
}

/** @param {Lookup} lookup @param {Answer[]} answers */
function stepsFor({ steps }, answers) {
  const wanted = new Set(names(answers.map(({ symbol, band }) => [symbol, band])));
  return [...steps]
    .reverse()
    .filter((step) => {
      // What a list's rows share is wanted by its own names.
      const given = step.op === "rows" ? step.steps : [step];
      if (!given.some((/** @type {any} */ each) => wanted.has(each.as))) return false;
      for (const name of names(step)) wanted.add(name);
      return true;
    })
    .reverse();
}

/**
 * Every text in a step: the names of what it needs are among them.
 * @param {any} value @returns {string[]}
 */
function names(value) {
  if (typeof value === "string") return [value];
  return typeof value === "object" && value !== null ? Object.values(value).flatMap(names) : [];
}
