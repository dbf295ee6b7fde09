/** Templates to choose from, as pictures. */

import { h } from "./dom.mjs";
import { size } from "./figures.mjs";
import { whenReady } from "./ready.mjs";

const BUILDS = {
  faced: "printed, on a cut board",
  printed: "printed and cut",
  bare: "cut, without print",
};

/**
 * A group of radio buttons, one picture a template.
 *
 * @param {object[]} templates as the program sends them
 * @param {string|null} chosen name of the one that is chosen
 * @param {function(object)} changed called with the template that was chosen
 */
export function templateChoice(templates, chosen, changed) {
  return h("fieldset", { class: "choice" },
    h("legend", { class: "visually-hidden" }, "Template"),
    templates.map((template) =>
      h("label", { class: "choice-card" },
        h("input", {
          type: "radio", name: "template", value: template.name, checked: template.name === chosen,
          on: { change: () => changed(template) },
        }),
        h("span", { class: "choice-picture" }, templatePicture(template)),
        h("span", { class: "choice-title" }, template.title),
        h("span", { class: "small soft" }, told(template)))));
}

/** The picture of a template; it is told in words beside it, so it has none of its own. */
export function templatePicture({ name }) {
  const word = h("span", { class: "drawn-word" }, "being drawn");
  const none = () => {
    word.replaceChildren("no picture");
    image.remove(); // a browser would draw a sign of its own for it
  };
  const image = h("img", { alt: "", loading: "lazy", decoding: "async", on: { load: () => word.remove(), error: none } });
  whenReady().then(() => { image.src = `/api/templates/${encodeURIComponent(name)}/picture.svg`; });
  return h("span", { class: "drawn" }, word, image);
}

/** "printed, on a cut board · 90 × 50 mm · two faces" */
export function told(template) {
  const faces = template.faces.length > 1 ? "two faces" : null;
  return [template.own && "your own", BUILDS[template.build], size(template.size_mm), faces].filter(Boolean).join(" · ");
}
