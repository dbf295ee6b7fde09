/** Why pieces need a look: like reasons gathered, so that they can be read before all are approved. */

import { h } from "./dom.mjs";
import { count } from "./figures.mjs";

const MOST = 8;
const QUOTED = /"[^"]*"/g;
const FIGURE = /\d[\d.,]*/g;

/** Reasons of these rows, the most frequent first: [{told, lines}]. */
export function gathered(rows) {
  const kinds = new Map();
  for (const { looks } of rows) {
    for (const told of looks) {
      const key = told.replace(QUOTED, '"').replace(FIGURE, "0");
      kinds.set(key, [...(kinds.get(key) ?? []), told]);
    }
  }
  return [...kinds.values()].map((all) => ({ told: common(all), lines: all.length })).sort((a, b) => b.lines - a.lines);
}

/** The reasons as list items, not endlessly many. */
export function reasonItems(rows) {
  const all = gathered(rows);
  const some = all.slice(0, MOST).map(({ told, lines }) => h("li", {}, h("b", {}, `${count(lines, "line")}: `), told));
  if (all.length > MOST) some.push(h("li", {}, `and ${count(all.length - MOST, "other reason")}; each stands on its tile`));
  return some;
}

/** What several of one kind say, "…" where they differ. */
function common(all) {
  if (new Set(all).size === 1) return all[0];
  return [[QUOTED, "“…”"], [FIGURE, "…"]].reduce((told, [part, gap]) => {
    const each = all.map((one) => one.match(part) ?? []);
    let at = -1;
    return told.replace(part, (same) => {
      at += 1;
      return each.every((parts) => parts[at] === same) ? same : gap;
    });
  }, all[0]);
}
