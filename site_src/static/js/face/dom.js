/** Small helpers for the page's elements. */

const SVG = "http://www.w3.org/2000/svg";

/**
 * The one element that a selector finds.
 * @param {ParentNode} root @param {string} selector @returns {HTMLElement}
 */
export function need(root, selector) {
  const found = root.querySelector(selector);
  if (!found) throw new Error(`the page has no ${selector}`);
  return /** @type {HTMLElement} */ (found);
}

/** @param {ParentNode} root @param {string} selector @returns {HTMLElement[]} */
export function all(root, selector) {
  return [...root.querySelectorAll(selector)].map((each) => /** @type {HTMLElement} */ (each));
}

/**
 * @template {keyof HTMLElementTagNameMap} K
 * @param {K} name
 * @param {Object<string, string>} [attributes]
 * @param {Array<Node | string>} [children]
 * @returns {HTMLElementTagNameMap[K]}
 */
export function make(name, attributes = {}, children = []) {
  const element = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, value);
  element.append(...children);
  return element;
}

/**
 * @param {string} name
 * @param {Object<string, string>} attributes
 * @param {Array<Node | string>} [children]
 */
export function draw(name, attributes, children = []) {
  const element = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, value);
  element.append(...children);
  return element;
}

/**
 * Write a text only where it differs, so that nothing is announced twice.
 * @param {Element} element
 * @param {string} text
 */
export function write(element, text) {
  if (element.textContent !== text) element.textContent = text;
}

/**
 * A status as a word with its pattern.
 * @param {Element} stamp
 * @param {string} status
 * @param {string} words
 */
export function setStamp(stamp, status, words) {
  stamp.setAttribute("data-status", status);
  write(stamp, words);
}
