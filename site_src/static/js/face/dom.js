/** Small helpers for the page's elements. */

import { tied } from "./numbers.js";
import { spoken } from "./pairs.js";

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
  element.append(...children.map(tiedIn));
  return element;
}

/** @param {Node | string} child */
function tiedIn(child) {
  return typeof child === "string" ? tied(spoken(child)) : child;
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
 * Write a text only if it differs, so that screen readers don't announce it twice.
 * @param {Element} element
 * @param {string} text
 */
export function write(element, text) {
  const whole = tied(spoken(text));
  if (element.textContent !== whole) element.textContent = whole;
}

/**
 * Show words, or hide their element if there are none.
 * @param {HTMLElement} element
 * @param {string} words
 */
export function tell(element, words) {
  write(element, words);
  element.hidden = !words;
}

/**
 * A button that does something when it is pressed.
 * @param {string} words
 * @param {() => void} act
 * @param {string} [kind] its class, if any
 */
export function button(words, act, kind = "plain") {
  const made = make("button", kind ? { type: "button", class: kind } : { type: "button" }, [words]);
  made.addEventListener("click", act);
  return made;
}

/**
 * Say what is gone, with a button that brings it back.
 * @param {HTMLElement} holder
 * @param {string | Node} said
 * @param {string} words on the button
 * @param {() => void} undo
 */
export function offerBack(holder, said, words, undo) {
  const back = button(words, () => {
    holder.hidden = true;
    undo();
  });
  holder.replaceChildren(said, back);
  holder.hidden = false;
  return back;
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
