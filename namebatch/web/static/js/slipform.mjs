/** The empty slip, as it lies in the page before a piece is opened. */

import { h } from "./dom.mjs";
import { button } from "./forms.mjs";

/**
 * The dialog with its places.
 *
 * @param {{before, next, close, approve, hold, undo, back}} ways what its buttons do
 */
export function layOut(ways) {
  return h(
    "dialog",
    { class: "slip", id: "slip", "aria-labelledby": "slip-title" },
    h(
      "header",
      { class: "slip-head" },
      h("div", { class: "slip-name" },
        h("p", { class: "slip-where" }),
        h("h2", { class: "slip-title", id: "slip-title", tabindex: "-1" }),
        h("p", { class: "slip-state" })),
      h("div", { class: "btns slip-ways" },
        button("← Before", ways.before, { "aria-keyshortcuts": "ArrowLeft" }),
        button("Next →", ways.next, { "aria-keyshortcuts": "ArrowRight" }),
        button("Close", ways.close, { "aria-keyshortcuts": "Escape" })),
    ),
    h(
      "div",
      { class: "slip-body" },
      h("div", { class: "slip-see" },
        h("figure", { class: "slip-picture" }),
        h("div", { class: "slip-findings", role: "status" }),
        h("div", { class: "slip-figures" }),
        h("div", { class: "slip-more" })),
      h("div", { class: "slip-change" },
        h("div", { class: "slip-now" },
          h("h3", {}, "Change this piece"),
          button("All as the list has it", ways.back, { class: "btn btn-quiet slip-back", hidden: true }),
          h("p", { class: "slip-said small", role: "status" })),
        h("div", { class: "slip-problem", role: "alert" }),
        h("form", { class: "mend", novalidate: true, autocomplete: "off" }),
        h("section", { class: "slip-like", hidden: true })),
    ),
    h(
      "footer",
      { class: "slip-foot" },
      button("Approve, next", ways.approve, { class: "btn btn-main slip-approve", "aria-keyshortcuts": "A" }),
      h("div", { class: "slip-holding" },
        button("Hold it", ways.hold, { class: "btn slip-hold", "aria-keyshortcuts": "H" }),
        h("label", { class: "slip-reason" }, h("span", {}, "because"), h("input", { type: "text", name: "reason", maxlength: 200, dir: "auto", placeholder: "ask the customer", autocomplete: "off" }))),
      button("Undo", ways.undo, { class: "btn slip-undo", "aria-keyshortcuts": "Control+Z" }),
    ),
  );
}
