/** Lines to mend: those that are held or in which the list is doubtful, each to be corrected in place. */

import { get, put } from "./api.mjs";
import { fill, h, own } from "./dom.mjs";
import { number } from "./figures.mjs";
import { badge, button, field } from "./forms.mjs";
import { measureBox, measured, setMeasure } from "./measures.mjs";

const AT_ONCE = 25;
const MOST_PIECES = 9999;
const LEFT_OUT = "left out"; // why it is held, as the table of held lines tells it

/** Builds the section in `place`; gives back what shows a list there. */
export function corrections(opened, place) {
  const title = h("h3", { id: "list-mend", tabindex: "-1" });
  const rows = h("ol", { class: "amends" });
  const more = button("", () => { most += AT_ONCE; show(latest); });
  fill(place, title, rows, h("div", { class: "btns" }, more));
  const shown = new Map();
  let most = AT_ONCE;
  let latest = null;

  function show(list) {
    latest = list;
    const wanted = list.corrections.slice(0, most);
    place.hidden = list.headers.length === 0 || list.problem !== null;
    fill(title, headline(list.corrections));
    const lines = new Set(wanted.map((each) => each.line));
    for (const [line, entry] of shown) {
      if (lines.has(line) || entry.dirty()) continue;
      const focused = entry.element.contains(document.activeElement);
      const beside = entry.element.nextElementSibling;
      entry.element.remove();
      if (focused) (beside?.querySelector("input") ?? title).focus();
      shown.delete(line);
    }
    for (const each of wanted) place_row(each);
    const left = list.corrections.length - wanted.length;
    more.parentElement.hidden = left <= 0;
    fill(more, `Show ${Math.min(left, AT_ONCE)} more of ${left}`);
  }

  /** Put a row where its line number says; what someone is writing in stays as it is. */
  function place_row(correction) {
    const key = JSON.stringify(correction);
    const before = shown.get(correction.line);
    if (before && (before.key === key || before.dirty())) return;
    const entry = { ...row(opened, correction, () => show(latest)), key };
    shown.set(correction.line, entry);
    if (before) {
      const focused = before.element.contains(document.activeElement) ? document.activeElement.id : "";
      before.element.replaceWith(entry.element);
      if (focused) document.getElementById(focused)?.focus({ preventScroll: true });
      return;
    }
    const after = [...rows.children].find((other) => Number(other.dataset.line) > correction.line);
    rows.insertBefore(entry.element, after ?? null);
  }

  return show;
}

/** How many of these rows are still to be mended; those that were stay where they stand. */
export const toMend = (corrections) => corrections.filter((each) => each.findings.length > 0).length;

function headline(corrections) {
  const out = corrections.filter((each) => each.settled === LEFT_OUT).length;
  return `${mending(corrections)}${out > 0 ? ` (${number(out)} left out)` : ""}`;
}

function mending(corrections) {
  const left = toMend(corrections);
  if (left > 0) return `Lines to mend: ${left === corrections.length ? left : `${left} of ${corrections.length}`}`;
  return corrections.length > 0 ? "Nothing left to mend" : "No line of the list needs mending";
}

function state(findings, settled) {
  if (settled) return badge(settled === "approved" ? "approved" : "held", settled);
  if (findings.length === 0) return badge("approved", "mended");
  return badge(findings.some((each) => each.severity === "hold") ? "held" : "look");
}

/** One line; `again` shows the list that came last, which passes over what somebody is at. */
function row(opened, { line, place, fields, quantity, findings, settled }, again) {
  const out = settled === LEFT_OUT;
  const inputs = Object.entries(fields).map(([name, value], at) => [
    name, value, h("input", { type: "text", dir: "auto", id: `mend-${line}-${at}`, value, autocomplete: "off", spellcheck: "false" }),
  ]);
  const pieces = measureBox(quantity > 0 ? quantity : null, { least: 1, most: MOST_PIECES, whole: true, needed: true, id: `mend-${line}-pieces` });
  const wrong = h("p", { class: "wrong", role: "alert" });
  const keep = h("button", { class: "btn", id: `mend-${line}-keep` }, `Keep line ${line}`);
  const changed = () => Object.fromEntries(inputs.filter(([, value, box]) => box.value !== value).map(([name, , box]) => [name, box.value]));
  const amountNow = () => (quantity > 0 ? String(quantity) : ""); // none: what the list says is no number
  const piecesAre = () => pieces.value.trim() === amountNow();
  const dirty = () => Object.keys(changed()).length > 0 || !piecesAre();

  async function send(event) {
    event.preventDefault();
    if (!dirty() && quantity > 0) return;
    if (!dirty() && !out) {
      fill(wrong, "Write how many are to be made, or leave this line out.");
      pieces.focus();
      return;
    }
    const amount = piecesAre() ? null : measured(pieces);
    fill(wrong, amount?.wrong && `${amount.wrong} Not kept.`);
    if (amount?.wrong) return;
    keep.disabled = true;
    const wanted = changed();
    const answer = await opened.change(async () => {
      const before = (await get(opened.at(`rows/${line}`))).mend ?? {};
      const mend = { ...before };
      if (Object.keys(wanted).length > 0) mend.fields = { ...(before.fields ?? {}), ...wanted };
      if (amount) mend.quantity = amount.value;
      return put(opened.at(`rows/${line}/mend`), { mend });
    }, `Line ${line} is corrected.`);
    keep.disabled = false;
    if (answer === undefined) return;
    settle();
    again(); // it may have come before the answer did
  }

  /** Leave the line out of the job, or take it in again; the list stays as it came. */
  async function leave() {
    way.disabled = true;
    for (const [, value, box] of inputs) box.value = value; // what was not kept is not taken along
    setMeasure(pieces, quantity > 0 ? quantity : null);
    fill(wrong);
    await opened.change(async () => {
      const { held, ...mend } = (await get(opened.at(`rows/${line}`))).mend ?? {};
      if (!out) mend.held = LEFT_OUT;
      return put(opened.at(`rows/${line}/mend`), { mend: Object.keys(mend).length > 0 ? mend : null });
    }, out ? `Line ${line} is taken in again.` : `Line ${line} is left out.`);
    way.disabled = false;
  }
  const way = button(out ? "Take it in again" : "Leave this line out", leave, { kind: "quiet", id: `mend-${line}-out` });

  /** What was sent is what stands there now, whatever comes back in the list. */
  function settle() {
    for (const each of inputs) each[1] = each[2].value;
    quantity = measured(pieces).value ?? quantity;
  }

  const element = h("li", { class: "amend", data: { line } },
    h("div", { class: "amend-head" }, h("b", {}, `${place} ${line}`), state(findings, settled),
      h("a", { href: `#line-${line}` }, "see the piece")),
    findings.map((each) => h("p", {}, each.message)),
    h("form", { class: "amend-fields", on: { submit: send } },
      inputs.map(([name, , box]) => field(own(name), box)),
      h("div", { class: "amend-pieces" }, field("pieces", pieces)), keep, way, wrong));
  return { element, dirty };
}
