/** How one text of a piece is set by hand: typeface, size, lines, place. */

import { fill, h, own } from "./dom.mjs";
import { mm } from "./figures.mjs";
import { button, field, select } from "./forms.mjs";
import { measureBox, measured, setMeasure } from "./measures.mjs";

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
    const called = text.face === "back" ? text.box.replace(/-back$/, "") : text.box;
    this.update(text);
    return h(
      "details",
      { class: "fold mend-text", open, name: "mend-text" },
      h("summary", {}, h("span", {}, own(called), ` ${where}`), this.#line),
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
    const blank = measureBox(now[kind], { least, most: HIGHEST_MM, name: this.#name("mm"), "aria-label": "Height of capitals in mm" });
    const unit = h("span", { class: "with-unit", hidden: !kind }, blank, "mm");
    const write = () => {
      const high = ways.value ? usable(blank, this.tell.wrong) : null;
      if (high === undefined) return false;
      this.#set({ height_mm: null, most_mm: null, ...(ways.value && { [ways.value]: high }) });
      return true;
    };
    ways.addEventListener("change", () => {
      unit.hidden = !ways.value;
      if (ways.value && !blank.value) setMeasure(blank, Math.floor(10 * (this.text.height_mm || least)) / 10);
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
      const blank = measureBox(value, { least: -FARTHEST_MM, most: FARTHEST_MM, name: this.#name(axis), "aria-label": `Moved ${way}, mm` });
      blank.addEventListener("input", () => write() && this.tell.input());
      blank.addEventListener("change", () => write() && this.tell.change());
      const nudge = (by, sign) => button(sign, () => {
        setMeasure(blank, Math.round(10 * ((measured(blank).value || 0) + by)) / 10);
        if (write()) this.tell.change();
      }, { class: "btn mend-nudge", "aria-label": `${by > 0 ? "More" : "Less"} ${way}, by ${mm(STEP_MM)}` });
      return h("div", { class: "mend-move" }, h("span", { class: "mend-way" }, way), nudge(-STEP_MM, "−"), blank, nudge(STEP_MM, "+"), "mm");
    });
    const write = () => {
      const [x, y] = blanks.map((each) => usable(each.querySelector("input"), this.tell.wrong));
      if (x === undefined || y === undefined) return false;
      this.#set({ shift_mm: x || y ? [x ?? 0, y ?? 0] : null });
      return true;
    };
    return h("fieldset", { class: "field mend-place" }, h("legend", {}, "Moved"), blanks);
  }
}

/** The figure in a box: null where it is empty, undefined (and `wrong` told) where it cannot be used. */
export function usable(box, wrong) {
  const found = measured(box);
  if (found.wrong) wrong(`${found.wrong} Not kept.`);
  return found.wrong ? undefined : found.value;
}
