/** Single keys, where they are told (`?`), and how to turn them off. */

import { h } from "./dom.mjs";
import { button } from "./forms.mjs";

const KEPT = "namebatch-single-keys";
const groups = [];
let box = null;

/**
 * Keys that work within `scope` (an element, or document).
 *
 * They rest while someone writes in a field, with Ctrl, Alt or Meta held (but for those that name them,
 * as "Ctrl+z"), and while a dialog is open that does not hold `scope`. Keys of one character can be
 * turned off in the help.
 *
 * @param {HTMLElement|Document} scope
 * @param {string} title of the group in the help
 * @param {Array<{key: string|string[], shown?: string, told: string, run: function(KeyboardEvent)}>} table
 *   `key` as in KeyboardEvent.key; letters of both cases count alike.
 */
export function keys(scope, title, table) {
  groups.push({ title, table });
  const by = new Map(table.flatMap((entry) => [entry.key].flat().map((key) => [key.toLowerCase(), entry])));
  scope.addEventListener("keydown", (event) => {
    if (event.defaultPrevented || event.isComposing || takes(event) || behind(scope)) return;
    const entry = by.get(pressed(event));
    if (!entry || (event.key.length === 1 && !event.ctrlKey && !event.metaKey && !wanted())) return;
    event.preventDefault();
    entry.run(event);
  });
}

/** Show the help with every key of this page. */
export function showKeys() {
  box?.remove();
  const tick = h("input", { type: "checkbox", checked: wanted(), on: { change: () => keep(tick.checked) } });
  box = h(
    "dialog",
    { class: "keys", "aria-labelledby": "keys-title" },
    h("h2", { id: "keys-title" }, "Keys"),
    groups.map(({ title, table }) => [
      h("h3", {}, title),
      h("dl", { class: "leaders" }, table.filter((entry) => entry.told).map((entry) =>
        h("div", {}, h("dt", {}, entry.told), h("dd", {}, h("kbd", {}, entry.shown ?? label(entry.key)))))),
    ]),
    h("label", { class: "tick" }, tick, "Keys of one letter or sign are on"),
    h("div", { class: "btns" }, button("Close", () => box.close(), { autofocus: true })),
  );
  document.body.append(box);
  box.showModal();
}

function pressed(event) {
  const held = event.ctrlKey || event.metaKey ? "ctrl+" : event.altKey ? "alt+" : "";
  const shift = held && event.shiftKey ? "shift+" : "";
  return held + shift + event.key.toLowerCase();
}

/** Whether what has the focus takes the key itself; no choice of a select begins with "?". */
const takes = ({ target, key }) => writing(target) && !(key === "?" && target.tagName === "SELECT");

function writing(target) {
  const kind = target instanceof HTMLInputElement ? target.type : "";
  return (
    target.isContentEditable || ["TEXTAREA", "SELECT"].includes(target.tagName) ||
    (kind && !["checkbox", "radio", "button", "submit"].includes(kind))
  );
}

function behind(scope) {
  const open = document.querySelector("dialog:modal");
  return open && (scope === document || !open.contains(scope));
}

function label(key) {
  const first = [key].flat()[0];
  return first.length === 1 ? first.toUpperCase() : first;
}

function wanted() {
  try {
    return localStorage.getItem(KEPT) !== "off";
  } catch {
    return true;
  }
}

function keep(on) {
  try {
    localStorage.setItem(KEPT, on ? "on" : "off");
  } catch {
    // a browser that keeps nothing starts with them on each time
  }
}
