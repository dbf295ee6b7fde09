/** Small pieces of a form, the same everywhere: badges, leaders, fields, buttons. */

import { h } from "./dom.mjs";

const WORDS = {
  look: "needs a look",
  held: "held",
  approved: "approved",
  stale: "approved, then changed",
  unseen: "not approved",
  waiting: "being made",
};
let fields = 0;

/** A state as shape and word; `words` where it is more than the state's own. */
export const badge = (state, words = WORDS[state]) => h("span", { class: "badge", data: { state } }, words);

/** Label and figure with dotted leaders between; rows are [label, figure] or null. */
export const leaders = (rows, props) =>
  h(
    "dl",
    { ...props, class: `leaders ${props?.class ?? ""}`.trim() },
    rows.filter(Boolean).map(([label, figure, kind]) => h("div", { class: kind }, h("dt", {}, label), h("dd", {}, figure))),
  );

/**
 * A control with its label above and a hint below, joined by ids.
 *
 * @param {string|Node} label
 * @param {HTMLElement} control input, select or textarea
 * @param {string|Node|null} hint
 */
export function field(label, control, hint = null) {
  control.id ||= `field-${++fields}`;
  const told = hint && h("p", { class: "hint", id: `${control.id}-hint` }, hint);
  if (told) control.setAttribute("aria-describedby", told.id);
  return h("div", { class: "field" }, h("label", { for: control.id }, label), control, told);
}

/** A button; `kind` is "main", "quiet" or nothing. */
export const button = (label, run, { kind = "", ...props } = {}) =>
  h("button", { type: "button", class: `btn ${kind && `btn-${kind}`}`.trim(), on: { click: run }, ...props }, label);

/** A select; options are [value, label] pairs. */
export const select = (options, value, props) =>
  h("select", props, options.map(([each, label]) => h("option", { value: each, selected: each === value }, label)));

/** A finding in its own box: hold, warn or note. */
export const finding = ({ severity, message }) =>
  h("div", { class: "note", data: { kind: { hold: "held", warn: "look" }[severity] ?? "note" } }, h("p", {}, message));

/** What keeps something from being made, with its details. */
export const problemNote = ({ what, details = [] }) =>
  h(
    "div",
    { class: "note", data: { kind: "held" } },
    h("p", {}, h("strong", {}, what)),
    details.length > 0 && h("ul", {}, details.map((each) => h("li", {}, each))),
  );

/** The dialog that asks before something is lost for good; true when it was agreed to. */
export function asked(question, { yes, no = "Keep it" }) {
  return new Promise((resolve) => {
    const box = h(
      "dialog",
      { "aria-labelledby": "asked", on: { close: () => { box.remove(); resolve(box.returnValue === "yes"); } } },
      h("p", { id: "asked" }, question),
      h("div", { class: "btns" },
        button(yes, () => box.close("yes"), { kind: "main" }),
        button(no, () => box.close("no"), { autofocus: true })),
    );
    document.body.append(box);
    box.showModal();
  });
}
