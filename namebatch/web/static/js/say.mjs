/** Says things at the foot of the page: what was done (with the way back), what could not be. */

import { calledOff, Problem } from "./api.mjs";
import { fill, h, one } from "./dom.mjs";

const STAYS_MS = 7000; // what can be taken back can be so on the stub, too
const BARS = ".shop-ways, .new-end";
let leaves = null;
let since = 0;
let touched = 0; // the page itself moves the focus back to where somebody was

/**
 * Say one sentence; it replaces the one before.
 *
 * @param {string|Node|Array} what the sentence
 * @param {{kind?: "done"|"look"|"held", details?: string[], action?: {label: string, run: function},
 *   stays?: boolean}} how `held` is for what could not be done; it and `stays` remain until closed.
 * @returns {function} takes this sentence away if it is still the one that is said
 */
export function say(what, { kind = "done", details = [], action = null, stays = kind === "held" } = {}) {
  const place = live(kind === "held" ? "alert" : "status");
  const closing = h("button", { class: "btn btn-quiet", type: "button", on: { click: hush } }, "Close");
  const doing = action && h("button", { class: "btn", type: "button", on: { click: () => { hush(); action.run(); } } }, action.label);
  const slip = h(
    "div",
    { class: "said-slip", data: { kind } },
    h("div", { class: "said-words" }, h("p", {}, what), details.length > 0 && h("ul", {}, details.map((each) => h("li", {}, each)))),
    h("div", { class: "said-ways" }, doing, closing),
  );
  fill(place, slip);
  since = performance.now();
  stepAside();
  clearTimeout(leaves);
  if (!stays) leaves = setTimeout(leave, STAYS_MS);
  return () => slip.isConnected && hush();
}

/** Say what a failed request told; called-off ones say nothing. Anything unexpected goes on to the console. */
export function sayProblem(error) {
  if (calledOff(error)) return;
  if (error instanceof Problem) {
    say(error.what, { kind: "held", details: error.details });
    return;
  }
  say("Something on this page went wrong. Reload it; what was kept is kept.", { kind: "held" });
  throw error;
}

/** Run `doing` (async) and say its problem, if any; gives back its result, or undefined. */
export async function trying(doing) {
  try {
    return await doing();
  } catch (error) {
    sayProblem(error);
    return undefined;
  }
}

/** Take away what is said. */
export function hush() {
  clearTimeout(leaves);
  for (const place of one("#said").children) place.replaceChildren();
}

/** Say it above a bar that stands at the foot, or at the head where it would lie on what is being used. */
function stepAside() {
  const said = one("#said");
  delete said.dataset.at;
  said.style.setProperty("--above", `${barAtFoot()}px`);
  if (covers(said)) said.dataset.at = "head";
}

/** How high a bar is that sticks to the foot of the window; 0 where none does. */
function barAtFoot() {
  for (const bar of document.querySelectorAll(BARS)) {
    const { top, bottom, height } = bar.getBoundingClientRect();
    if (height > 0 && bottom > innerHeight - 2 && top < innerHeight) return innerHeight - top;
  }
  return 0;
}

/** What was done makes way for what somebody goes to under it; it does not jump about before their eyes. */
function makeWay(event) {
  const said = one("#said");
  if (said.contains(event.target) || !covers(said)) return;
  const gone = touched > since;
  if (gone && one('.said-slip[data-kind="done"]', said)) hush();
  else stepAside();
}

function covers(said) {
  const slip = one(".said-slip", said)?.getBoundingClientRect();
  const used = document.activeElement;
  if (!slip || used === document.body || said.contains(used)) return false;
  const { top, bottom, left, right } = used.getBoundingClientRect();
  const covered = bottom > slip.top && top < slip.bottom && right > slip.left && left < slip.right;
  return covered && top > innerHeight / 3;
}

function leave() {
  const held = one("#said :is(:hover, :focus-within)");
  if (held) leaves = setTimeout(leave, STAYS_MS / 4);
  else hush();
}

/** The live region of a role: there from the start, so that what comes into it is read out. */
function live(role) {
  const said = one("#said");
  if (!said.firstChild) {
    said.append(h("div", { role: "status" }), h("div", { role: "alert" }));
  }
  for (const place of said.children) place.replaceChildren();
  return one(`[role="${role}"]`, said);
}

live("status");
document.addEventListener("focusin", makeWay);
for (const kind of ["pointerdown", "keydown"]) {
  document.addEventListener(kind, () => { touched = performance.now(); }, { capture: true, passive: true });
}
