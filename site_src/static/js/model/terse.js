/**
 * Parts of the catalogue as the phone gets them: site_src/publish/terse.py says how their recipes
 * are written. No DOM.
 *
 * A page waits for this before its first answer, and a long recipe has thousands of steps: each is
 * asked for no more than its kind can have.
 */

const TILDE = 126;

/** @type {string[]} names of unnamed steps, by how many are before them */
const NAMES = [];

/**
 * Give every unnamed step of a recipe a name, and what reads it that name, in place.
 * @param {any[]} steps of a lookup as it was sent
 */
export function nameSteps(steps) {
  name(steps, 0);
}

/** @param {any[]} steps @param {number} before how many others @returns {number} with these */
function name(steps, before) {
  let count = before;
  for (const step of steps) {
    switch (step.op) {
      case "product":
      case "sum":
        inPairs(step.of, 0, count);
        break;
      case "pick":
        inPairs(step.from, 1, count);
        break;
      case "rows":
        count = name(step.steps, count);
        break;
      case "over":
        count = name(step.steps, count);
        step.of = read(step.of, count);
        break;
      case "look":
        inList(step.at, count);
        break;
      case "inverse":
        inList(step.at, count);
        step.value = read(step.value, count);
        break;
      case "within":
        step.of = read(step.of, count);
        step.gives = read(step.gives, count);
        break;
      case "if_entered":
        step.by = read(step.by, count);
        step.then = read(step.then, count);
        step.otherwise = read(step.otherwise, count);
        break;
      case "choose":
        step.less = read(step.less, count);
        step.otherwise = read(step.otherwise, count);
        inList(step.of, count);
        break;
      default:
        inList(step.of, count);
    }
    NAMES[count] ??= `~${count}`;
    step.as ||= NAMES[count];
    count += 1;
  }
  return count;
}

/** @param {any[][]} pairs @param {number} place of what is read in each @param {number} count */
function inPairs(pairs, place, count) {
  for (let n = 0; n < pairs.length; n += 1) pairs[n][place] = read(pairs[n][place], count);
}

/** @param {Array<string | number>} list @param {number} count */
function inList(list, count) {
  for (let n = 0; n < list.length; n += 1) list[n] = read(list[n], count);
}

/** @param {string | number} source @param {number} count @returns {string | number} */
function read(source, count) {
  if (typeof source !== "string" || source.charCodeAt(0) !== TILDE) return source;
  return NAMES[count - Number(source.slice(1))];
}
