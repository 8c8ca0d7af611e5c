/** Checks of values that were read from a store or a file. */

/** @param {any} value @returns {value is Object<string, any>} */
export function isObject(value) {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

/** @param {any} value @returns {value is string} */
export function isText(value) {
  return typeof value === "string";
}

/** @param {any} value @returns {value is string} a date, or a time of one */
export function isTime(value) {
  return isText(value) && value.length <= 40 && !Number.isNaN(Date.parse(value));
}
