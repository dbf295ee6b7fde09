/** Blanks of a printed form, bound to a place in a table: words, figures with a unit, choices, ticks. */

import { h } from "./dom.mjs";
import { field, select } from "./forms.mjs";
import { measureBox, measured } from "./measures.mjs";

export { figureOf, written } from "./measures.mjs";

/**
 * An input for a figure.
 *
 * @param {number|null} value
 * @param {function(number|null)} changed called with what was written, unless it is no number
 */
export function figure(value, changed, props = {}) {
  const blank = measureBox(value, props);
  blank.addEventListener("input", () => {
    const { value: found, wrong } = measured(blank);
    if (!wrong) changed(found);
  });
  return blank;
}

/** A labelled figure with its unit behind it. */
export function figureField(label, value, changed, { unit = "mm", hint = null, ...props } = {}) {
  const blank = figure(value, changed, props);
  const made = field(label, blank, hint);
  if (unit) {
    const row = h("div", { class: "with-unit" });
    blank.replaceWith(row);
    row.append(blank, h("span", {}, unit));
  }
  return made;
}

/** Several figures of one thing: [[label, value, changed]…] under one legend. */
export const figures = (legend, each, { unit = "mm", hint = null } = {}) =>
  h("fieldset", { class: "blanks" }, h("legend", {}, legend),
    h("div", { class: "blanks-row" }, each.map(([label, value, changed]) =>
      h("label", { class: "blank" }, h("span", { class: "small" }, label), figure(value, changed))),
    unit && h("span", { class: "blanks-unit" }, unit)),
    hint && h("p", { class: "hint" }, hint));

/** A labelled line of words. */
export const wordField = (label, value, changed, { hint = null, ...props } = {}) => {
  const blank = h("input", { type: "text", autocomplete: "off", dir: "auto", maxlength: 120, value: value ?? "", ...props,
    on: { input: () => changed(blank.value) } });
  return field(label, blank, hint);
};

/** A labelled choice; options are [value, label]. */
export const choiceField = (label, options, value, changed, { hint = null, wide = false, ...props } = {}) => {
  const blank = select(options, value, { ...props, on: { change: () => changed(blank.value) } });
  const made = field(label, blank, hint);
  made.classList.toggle("wide", wide);
  return made;
};

/** A tick with its words. */
export const tickField = (label, value, changed) => {
  const blank = h("input", { type: "checkbox", checked: Boolean(value), on: { change: () => changed(blank.checked) } });
  return h("label", { class: "tick" }, blank, h("span", {}, label));
};

/** A labelled colour. */
export const colourField = (label, value, changed, { hint = null } = {}) => {
  const blank = h("input", { type: "color", class: "colour", value, on: { input: () => changed(blank.value) } });
  return field(label, blank, hint);
};
