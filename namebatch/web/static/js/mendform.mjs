/** The form of a slip: everything that can be changed by hand in one piece. */

import { fill, h, one, own } from "./dom.mjs";
import { count, mm } from "./figures.mjs";
import { button, field } from "./forms.mjs";
import { measureBox } from "./measures.mjs";
import { tidied } from "./mends.mjs";
import { TextPart, usable } from "./mendtext.mjs";

const MOST_QUANTITY = 9999;
const LEAST_MM = 0.1;
const WIDEST_MM = 50;

export class MendForm {
  #parts = [];
  #read = { fields: {}, quantity: 1 };

  /**
   * @param {HTMLFormElement} place
   * @param {{typing, settled, wrong}} heard the first two are called with the mend as it is now: while
   *   somebody is at it, and when a blank was left or something was chosen; `wrong` with what cannot be used
   */
  constructor(place, { typing, settled, wrong }) {
    this.place = place;
    this.draft = {};
    this.tell = { input: () => typing(this.mend), change: () => settled(this.mend), wrong };
    place.addEventListener("submit", (event) => event.preventDefault());
    const blank = (event) => event.target.matches('input:not([type="checkbox"])');
    place.addEventListener("keydown", (event) => {
      if (event.key !== "Enter" || event.isComposing || !blank(event)) return;
      event.preventDefault();
      settled(this.mend);
    });
    // written and taken back, too; what cannot be used stays told
    place.addEventListener("focusout", (event) => blank(event) && !event.target.matches("[aria-invalid]") && settled(this.mend));
  }

  /** The mend as it stands in the form; null where nothing is changed. */
  get mend() {
    return tidied(this.draft);
  }

  /** Lay out the form for a piece. */
  show(detail, fonts) {
    const name = document.activeElement?.closest(".mend") === this.place ? document.activeElement.name : "";
    this.draft = structuredClone(detail.mend ?? {});
    this.#read = detail.read;
    this.#parts = detail.texts.map((text) => new TextPart(text, this.draft, this.tell, fonts));
    const bridges = detail.measures?.has_bridges || this.draft.bridge_mm ? this.#bridges(detail) : null;
    const several = new Set(detail.texts.map((text) => text.box)).size > 1;
    fill(
      this.place,
      h("fieldset", { class: "mend-words" }, h("legend", { class: "visually-hidden" }, "What it says, and how many"),
        Object.keys(this.#read.fields).map((each) => this.#words(each, detail)),
        h("div", { class: "fields mend-few" }, this.#quantity(detail), several && this.#font(fonts), bridges)),
      this.#parts.map((part, index) => part.element(index === 0)),
    );
    if (name) one(`[name="${CSS.escape(name)}"]`, this.place)?.focus();
  }

  /** Say anew what came of it; blanks and what stands in them stay. */
  update(detail) {
    for (const part of this.#parts) part.update(detail.texts.find((text) => text.box === part.box));
  }

  #set(key, value) {
    if (value === null || value === "") delete this.draft[key];
    else this.draft[key] = value;
  }

  #words(name, detail) {
    const { tell } = this;
    const listed = this.#read.fields[name];
    const said = this.draft.fields?.[name] ?? detail.fields[name] ?? "";
    const blank = h("input", { type: "text", name: `fields.${name}`, value: said, dir: "auto", autocomplete: "off", spellcheck: "false", maxlength: 500 });
    const back = button("Take the list's", () => {
      blank.value = listed;
      write();
      tell.change();
      blank.focus();
    }, { kind: "quiet" });
    const hint = h("p", { class: "hint mend-listed" }, h("span", {}, listed ? ["The list says “", own(listed), "”."] : "The list says nothing here."), back);
    let before = said;
    const write = () => {
      for (const part of this.#parts) part.forget(before);
      before = blank.value;
      const fields = { ...this.draft.fields };
      if (blank.value === listed) delete fields[name];
      else fields[name] = blank.value;
      this.draft.fields = fields;
      hint.hidden = !(name in fields);
    };
    blank.addEventListener("input", () => {
      write();
      tell.input();
    });
    blank.addEventListener("change", tell.change);
    hint.hidden = !(name in (this.draft.fields ?? {}));
    return h("div", { class: "mend-word" }, field(own(name), blank), hint);
  }

  #quantity(detail) {
    const { tell } = this;
    const listed = this.#read.quantity;
    const blank = measureBox(detail.quantity, { least: 1, most: MOST_QUANTITY, whole: true, needed: true, name: "quantity" });
    blank.addEventListener("input", () => {
      const wanted = usable(blank, tell.wrong);
      if (wanted === undefined) return;
      this.#set("quantity", wanted === listed ? null : wanted);
      tell.input();
    });
    blank.addEventListener("change", () => {
      if (usable(blank, tell.wrong) !== undefined) tell.change();
    });
    const hint = listed > 0 ? `The list says ${count(listed, "piece")}.` : "The list says no number that can be made.";
    return field("How many", blank, hint);
  }

  #font(fonts) {
    const { tell } = this;
    const chooser = h("select", { name: "font", on: { change: () => { this.#set("font", chooser.value); tell.change(); } } }, fonts("as the template says", this.draft.font ?? ""));
    return field("Typeface of all its texts", chooser);
  }

  #bridges(detail) {
    const { tell } = this;
    const least = detail.measures?.bridge_least_mm ?? LEAST_MM; // what is asked for, a held piece does not say
    const blank = measureBox(this.draft.bridge_mm, { least, most: WIDEST_MM, name: "bridge_mm", placeholder: least.toFixed(1) });
    blank.addEventListener("input", () => {
      const wide = usable(blank, tell.wrong);
      if (wide === undefined) return;
      this.#set("bridge_mm", wide);
      tell.input();
    });
    blank.addEventListener("change", () => {
      if (usable(blank, tell.wrong) !== undefined) tell.change();
    });
    const bridges = detail.measures?.bridges ?? 0;
    const there = bridges === 0 ? "It has none now." : `It has ${bridges}.`;
    return field("Width of bridges in mm", blank, `${there} At least ${mm(least)}; empty: as the material asks.`);
  }
}

/** Options for a select of typefaces, by family; the first stands for no choice. */
export function fontChooser(fonts) {
  const families = new Map();
  for (const font of fonts) families.set(font.family, [...(families.get(font.family) ?? []), font]);
  return (none, value) => [
    h("option", { value: "" }, none),
    [...families].map(([family, some]) =>
      h("optgroup", { label: family }, some.map(({ name }) => h("option", { value: name, selected: name === value }, name)))),
  ];
}
