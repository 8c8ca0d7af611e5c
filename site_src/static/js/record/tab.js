/** What a tab alone remembers, for as long as it is open. */

/** @param {string} key @returns {any} null where there is nothing, or nothing that can be read */
export function inTab(key) {
  try {
    return JSON.parse(sessionStorage.getItem(key) ?? "null");
  } catch {
    return null;
  }
}

/**
 * Remember something; a tab that remembers nothing has to do without it.
 * @param {string} key @param {any} value null to forget it
 */
export function keepInTab(key, value) {
  try {
    if (value === null) sessionStorage.removeItem(key);
    else sessionStorage.setItem(key, JSON.stringify(value));
  } catch {
    // Each who asks can do without.
  }
}
