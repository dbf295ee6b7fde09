/** How one text of a piece is set by hand: typeface, size, lines, place. */

import { fill, h, own } from "./dom.mjs";
import { mm, number } from "./figures.mjs";
import { button, field, select } from "./forms.mjs";

const HIGHEST_MM = 500;
const FARTHEST_MM = 500;
const STEP_MM = 0.5;

export class TextPart {
  #line;
  #lines = null;

  /**
   * @param {object} text of a RowDetail
   * @param {object} draft the mend that is written to
   * @param {{input, change, wrong}} tell that something is being changed, is settled, or cannot be used
   * @param {function} fonts options of typefaces, see `fontChooser`
   */
  constructor(text, draft, tell, fonts) {
    this.box = text.box;
    this.text = text;
    this.draft = draft;
    this.tell = tell;
    this.fonts = fonts;
    this.#line = h("span", { class: "mend-now" });
  }

  /** The part of the form; folded to a line with its figures unless `open`. */
  element(open) {
    const { text } = this;
    const where = text.face === "back" ? "on the back" : "on the front";
    this.update(text);
    return h(
      "details",
      { class: "fold mend-text", open, name: "mend-text" },
      h("summary", {}, h("span", {}, own(text.box), ` ${where}`), this.#line),
      h("div", { class: "fields" }, this.#font(), this.#size(), !text.bent && this.#broken(), this.#place()),
    );
  }

  /** Say what came of it. */
  update(text) {
    if (!text) return;
    this.text = text;
    fill(this.#line, text.height_mm ? `${mm(text.height_mm)}, ${text.font}` : text.is_empty ? "empty" : "could not be set");
    if (this.#lines && document.activeElement !== this.#lines) this.#offerLines();
  }

  /** What it said is said no longer: a break into two lines was that text's own. */
  forget(said) {
    const { lines } = this.#now;
    if (lines && (lines.join(" ") === said || lines.join("") === said)) this.#set({ lines: null });
  }

  get #now() {
    return this.draft.text?.[this.box] ?? {};
  }

  #set(values) {
    this.draft.text = { ...this.draft.text, [this.box]: { ...this.#now, ...values } };
  }

  #name = (part) => `text.${this.box}.${part}`;

  #font() {
    const chooser = h("select", { name: this.#name("font") }, this.fonts("as the template says", this.#now.font ?? ""));
    chooser.addEventListener("change", () => {
      this.#set({ font: chooser.value });
      this.tell.change();
    });
    return field("Typeface", chooser);
  }

  #size() {
    const least = this.text.min_height_mm;
    const now = this.#now;
    const kind = now.height_mm ? "height_mm" : now.most_mm ? "most_mm" : "";
    const ways = select([["", "as large as it fits"], ["height_mm", "exactly"], ["most_mm", "at most"]], kind, { name: this.#name("size"), "aria-label": "Size of capitals" });
    const blank = h("input", { type: "number", name: this.#name("mm"), min: least, max: HIGHEST_MM, step: 0.1, value: now[kind] ?? "", inputmode: "decimal", "aria-label": "Height of capitals in mm" });
    const unit = h("span", { class: "with-unit", hidden: !kind }, blank, "mm");
    const write = () => {
      const high = ways.value ? millimetres(blank, least, HIGHEST_MM, this.tell.wrong) : null;
      if (high === undefined) return false;
      this.#set({ height_mm: null, most_mm: null, ...(ways.value && { [ways.value]: high }) });
      return true;
    };
    ways.addEventListener("change", () => {
      unit.hidden = !ways.value;
      if (ways.value && !blank.value) blank.value = (Math.floor(10 * (this.text.height_mm || least)) / 10).toFixed(1);
      if (write()) this.tell.change();
    });
    blank.addEventListener("input", () => write() && this.tell.input());
    blank.addEventListener("change", () => write() && this.tell.change());
    return h("div", { class: "field" }, h("span", { class: "label" }, "Size of capitals"), ways, unit, h("p", { class: "hint" }, `The template's least is ${mm(least)}.`));
  }

  #broken() {
    this.#lines = h("select", { name: this.#name("lines") });
    this.#lines.addEventListener("change", () => {
      const way = this.#lines.value;
      const lines = way.startsWith("[") ? JSON.parse(way) : null;
      this.#set({ one_line: way === "one", lines });
      this.tell.change();
    });
    this.#offerLines();
    return field("Lines", this.#lines);
  }

  #offerLines() {
    const { one_line: single, lines } = this.#now;
    const ways = this.text.breaks.map((each) => JSON.stringify(each));
    const chosen = single ? "one" : lines ? JSON.stringify(lines) : "";
    if (lines && !ways.includes(chosen)) ways.unshift(chosen);
    fill(
      this.#lines,
      h("option", { value: "" }, "as it comes out best"),
      h("option", { value: "one" }, "one line"),
      ways.map((way) => h("option", { value: way, dir: "auto" }, JSON.parse(way).join(" / "))),
    );
    this.#lines.value = chosen;
  }

  #place() {
    const [right, up] = this.#now.shift_mm ?? [0, 0];
    const [first, second] = this.text.bent ? ["on along the line", "off the line"] : ["to the right", "up"];
    const blanks = [[first, right, "x"], [second, up, "y"]].map(([way, value, axis]) => {
      const blank = h("input", { type: "number", name: this.#name(axis), step: 0.1, min: -FARTHEST_MM, max: FARTHEST_MM, value, inputmode: "decimal", "aria-label": `Moved ${way}, mm` });
      blank.addEventListener("input", () => write() && this.tell.input());
      blank.addEventListener("change", () => write() && this.tell.change());
      const nudge = (by, sign) => button(sign, () => {
        blank.value = (Math.round(10 * ((blank.valueAsNumber || 0) + by)) / 10).toString();
        if (write()) this.tell.change();
      }, { class: "btn mend-nudge", "aria-label": `${by > 0 ? "More" : "Less"} ${way}, by ${mm(STEP_MM)}` });
      return h("div", { class: "mend-move" }, h("span", { class: "mend-way" }, way), nudge(-STEP_MM, "−"), blank, nudge(STEP_MM, "+"), "mm");
    });
    const write = () => {
      const [x, y] = blanks.map((each) => millimetres(each.querySelector("input"), -FARTHEST_MM, FARTHEST_MM, this.tell.wrong));
      if (x === undefined || y === undefined) return false;
      this.#set({ shift_mm: x || y ? [x ?? 0, y ?? 0] : null });
      return true;
    };
    return h("fieldset", { class: "field mend-place" }, h("legend", {}, "Moved"), blanks);
  }
}

/** A length from a blank: null where it is empty, undefined (and `wrong` told) where it cannot be used. */
export function millimetres(blank, least, most, wrong) {
  const value = blank.valueAsNumber;
  const empty = blank.value === "" && !blank.validity.badInput;
  const usable = empty || (value >= least && value <= most);
  mark(blank, usable, wrong, `Give ${least} to ${most} mm. Not kept.`);
  return usable ? (empty ? null : value) : undefined;
}

/** A whole number from a blank; undefined (and `wrong` told) where it is none. */
export function whole(blank, least, most, wrong) {
  const value = blank.valueAsNumber;
  const usable = Number.isInteger(value) && value >= least && value <= most;
  mark(blank, usable, wrong, `Give a whole number from ${number(least)} to ${number(most)}. Not kept.`);
  return usable ? value : undefined;
}

function mark(blank, usable, wrong, told) {
  if (usable) blank.removeAttribute("aria-invalid");
  else {
    blank.setAttribute("aria-invalid", "true");
    wrong(told);
  }
}
