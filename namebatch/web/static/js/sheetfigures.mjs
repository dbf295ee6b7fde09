/** The figures of sheets that cost money: how many, how close to the least, minutes. */

import { h } from "./dom.mjs";
import { count, duration, number } from "./figures.mjs";

/** How many sheets and boards a job takes and how close that is to the least that could do. */
export function sheetBound(totals) {
  return h("div", { class: "bounds" },
    bound(totals.sheets, totals.sheets_lower_bound, "sheet"),
    bound(totals.boards, totals.boards_lower_bound, "board"),
    totals.cut_seconds > 0 && h("p", {}, h("b", { class: "big" }, duration(totals.cut_seconds)), " of cutting, reckoned"),
    totals.cost !== null && h("p", {}, h("b", { class: "big" }, totals.cost.toFixed(2)), " by the workshop's prices"));
}

function bound(used, least, noun) {
  if (!used) return null;
  const told = used === least ? "no fewer would do" : `it cannot be done with fewer than ${number(least)}`;
  return h("p", {}, h("b", { class: "big" }, count(used, noun)), ` ${told}`);
}
