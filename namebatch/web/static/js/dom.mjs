/** Builds elements: text stays text, nothing is ever read as markup. */

const SVG = "http://www.w3.org/2000/svg";

/** The first element that fits `selector` within `root`, or null. */
export const one = (selector, root = document) => root.querySelector(selector);

/** All elements that fit `selector` within `root`, as an array. */
export const all = (selector, root = document) => [...root.querySelectorAll(selector)];

/**
 * An HTML element.
 *
 * `props`: `class` a string; `on` {event: listener}; `data` {name: value}; `style` {property: value};
 * `value`, `checked`, `disabled`, `open`, `selected`, `indeterminate` set as properties; all others as
 * attributes (null, undefined and false leave them out, true sets an empty one).
 * Children: elements, strings, numbers, arrays of them; null, undefined and false are left out.
 */
export function h(tag, props, ...children) {
  return dress(document.createElement(tag), props, children);
}

/** The same for an SVG element. */
export function s(tag, props, ...children) {
  return dress(document.createElementNS(SVG, tag), props, children);
}

/** Put `children` in place of everything in `element`; gives back the element. */
export function fill(element, ...children) {
  element.replaceChildren(...nodes(children));
  return element;
}

/**
 * `fill` with what `build` gives, but only where `key` (any plain value) is another than last time; the
 * focus stays on the element of the same id.
 */
export function refill(element, key, build) {
  const now = JSON.stringify(key);
  if (shown.get(element) === now) return;
  const focused = element.contains(document.activeElement) ? document.activeElement.id : "";
  shown.set(element, now);
  fill(element, build());
  if (focused) document.getElementById(focused)?.focus({ preventScroll: true });
}

/** Someone's words (a name, a title, a value of the list): set apart, in their own direction. */
export const own = (text, props) => h("bdi", { dir: "auto", ...props }, text);

/** What a piece says, its texts joined by " · ": each set apart, so that they stay in their order. */
export const texts = (said) => said.split(BETWEEN).flatMap((text, at) => (at > 0 ? [BETWEEN, own(text)] : [own(text)]));

const BETWEEN = " · ";
const shown = new WeakMap();
const PROPERTIES = new Set(["value", "checked", "disabled", "open", "selected", "indeterminate"]);

function dress(element, props, children) {
  for (const [key, value] of Object.entries(props ?? {})) {
    if (key === "on") {
      for (const [event, listener] of Object.entries(value)) element.addEventListener(event, listener);
    } else if (key === "data") {
      for (const [name, datum] of Object.entries(value)) {
        if (datum !== null && datum !== undefined) element.dataset[name] = datum;
      }
    } else if (key === "style") {
      for (const [name, rule] of Object.entries(value)) element.style.setProperty(name, rule);
    } else if (PROPERTIES.has(key) && key in element) {
      if (value !== undefined) element[key] = value;
    } else if (value !== null && value !== undefined && value !== false) {
      element.setAttribute(key, value === true ? "" : String(value));
    }
  }
  element.append(...nodes(children));
  return element;
}

function nodes(children) {
  return children
    .flat(Infinity)
    .filter((child) => child !== null && child !== undefined && child !== false)
    .map((child) => (child instanceof Node ? child : String(child)));
}
