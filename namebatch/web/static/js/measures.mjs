/** Boxes for measures and counts: a comma is a point, arrow keys step, a wheel changes nothing. */

import { h } from "./dom.mjs";

const limits = new WeakMap();

/** What a figure says: null for nothing, NaN for no number; a comma counts as a point. */
export function figureOf(text) {
  const plain = text.trim().replace(/\s*mm$/i, "").replace(/\u2212/g, "-").replace(",", ".");
  if (plain === "") return null;
  return /^[+-]?(\d+(\.\d*)?|\.\d+)$/.test(plain) ? Number(plain) : Number.NaN;
}

/** A figure as it is written into a box. */
export const written = (value) => (value === null || value === undefined ? "" : String(Math.round(value * 1e5) / 1e5));

/**
 * A box for one measure or count; not of type "number": that drops the comma of "1,5" without a word, and
 * a wheel turns it.
 *
 * @param {number|null} value
 * @param {{least: number, most: number, step: number, whole: boolean, needed: boolean, unit: string}} given
 *   `least` and `most` are told to whoever cannot see them; `needed`: it may not be empty; all else is set
 *   on the input
 */
export function measureBox(value, { least = null, most = null, step = 0.1, whole = false, needed = false, unit = "mm", ...props } = {}) {
  const limit = { least, most, step: whole ? 1 : step, whole, needed, unit };
  const bound = least !== null || most !== null;
  const box = h("input", {
    type: "text", inputmode: whole ? "numeric" : "decimal", autocomplete: "off", spellcheck: "false", class: "figure", value: written(value),
    role: bound && "spinbutton", "aria-valuemin": least, "aria-valuemax": most, ...props,
  });
  limits.set(box, limit);
  box.addEventListener("keydown", (event) => stepped(box, limit, event));
  if (bound) {
    box.addEventListener("input", () => spoken(box));
    spoken(box);
  }
  return box;
}

/** Put a figure into a box, as if it stood there from the beginning. */
export function setMeasure(box, value) {
  box.value = written(value);
  box.removeAttribute("aria-invalid");
  if (box.hasAttribute("role")) spoken(box);
}

/**
 * What stands in a box.
 *
 * @returns {{value: number|null, wrong: string}} `value` is null where nothing stands there; with `wrong`,
 *   words on why it cannot be used, it counts for nothing. The box is marked as wrong, or no longer.
 */
export function measured(box) {
  const value = figureOf(box.value);
  const limit = limits.get(box);
  const wrong = value === null && !limit.needed ? "" : reason(box.value, value, limit);
  if (wrong) box.setAttribute("aria-invalid", "true");
  else box.removeAttribute("aria-invalid");
  return { value, wrong };
}

/**
 * Call `keep` with what was written into a box once it is left or Enter is pressed; what cannot be used is
 * told in `told`.
 */
export function kept(box, told, keep) {
  told.setAttribute("role", "alert");
  box.addEventListener("input", () => { if (!measured(box).wrong) told.textContent = ""; });
  box.addEventListener("change", () => {
    const { value, wrong } = measured(box);
    told.textContent = wrong && `${wrong} Not kept.`;
    if (!wrong) keep(value);
  });
}

/** Why a figure cannot be used; empty where it can. */
function reason(text, value, { least, most, whole, unit }) {
  const what = whole ? "a whole number" : "";
  if (Number.isNaN(value)) return `“${text.trim()}” is no number. ${whole ? "Write it in figures, as 12." : "Write it as 1.5 or 1,5."}`;
  const fits = value !== null && (least === null || value >= least) && (most === null || value <= most) && (!whole || Number.isInteger(value));
  if (fits) return "";
  const range = least === null ? most !== null && `up to ${most}` : most === null ? `${least} or more` : `${least} to ${most}`;
  return `Give ${[what, range, !whole && unit].filter(Boolean).join(" ")}.`;
}

/** Arrow up and down: one step more or less, within the limits. */
function stepped(box, { least, most, step }, event) {
  const way = { ArrowUp: 1, ArrowDown: -1 }[event.key];
  if (!way || event.ctrlKey || event.metaKey || event.altKey || event.isComposing || box.readOnly) return;
  const now = figureOf(box.value) ?? figureOf(box.placeholder);
  if (Number.isNaN(now)) return;
  event.preventDefault();
  const next = now === null ? (least ?? 0) : now + way * step;
  box.value = written(Math.min(Math.max(next, least ?? -Infinity), most ?? Infinity));
  box.dispatchEvent(new Event("input", { bubbles: true }));
  box.dispatchEvent(new Event("change", { bubbles: true }));
}

/** Say the figure to those who cannot see it; nothing is said of what is no number. */
function spoken(box) {
  const value = figureOf(box.value);
  if (value === null || Number.isNaN(value)) box.removeAttribute("aria-valuenow");
  else box.setAttribute("aria-valuenow", String(value));
}
