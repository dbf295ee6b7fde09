/** The picture beside the form: the shape, and on it the text boxes and holes, moved by hand or by keys. */

import { fill, h, s } from "./dom.mjs";
import { written } from "./blanks.mjs";

const STEP_MM = 0.5;
const FINE_MM = 0.1;
const LEAST_MM = 1;
const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };

const rounded = (value) => Math.round(value * 10) / 10;

/**
 * The picture.
 *
 * @param {{moved: function(string, number), asked: function(string, number)}} heard `moved` is called
 *   with "text" or "hole" and its index after its place was changed here (in the entry itself), `asked`
 *   when its blanks are wanted
 * @returns {{element: HTMLElement, ground: function(object|null), marks: function(object)}}
 */
export function trialPicture({ moved, asked }) {
  const image = s("image", { class: "trial-ground" });
  const marks = s("g", {});
  const drawing = s("svg", { class: "trial-drawing", "aria-label": "The piece, with its texts and holes" }, image, marks);
  const sizes = h("p", { class: "trial-sizes" });
  const element = h("figure", { class: "trial-figure" }, drawing, h("figcaption", {}, sizes,
    h("p", { class: "soft small" }, "Drag a box to its place, its corner to its size. With the keys: arrows move it, with Shift they size it, with Alt finely.")));
  let view = [0, 0, 100, 60];
  let shown = null;
  let spec = null;

  /** Show the shape; null leaves what was there. */
  function ground(found) {
    if (!found || found.svg === shown) return;
    shown = found.svg;
    view = found.view_mm;
    const [, , width, height] = view;
    const old = image.getAttribute("href");
    image.setAttribute("href", URL.createObjectURL(new Blob([found.svg], { type: "image/svg+xml" })));
    if (old) URL.revokeObjectURL(old);
    for (const [name, value] of Object.entries({ x: 0, y: 0, width, height })) image.setAttribute(name, value);
    drawing.setAttribute("viewBox", `0 0 ${width} ${height}`);
    drawing.style.setProperty("aspect-ratio", `${width} / ${height}`);
    fill(sizes, h("b", {}, `${written(rounded(found.size_mm[0]))} × ${written(rounded(found.size_mm[1]))} mm`), " finished");
    if (spec) draw(spec);
  }

  /** Show boxes and holes of what is filled in. */
  function draw(given) {
    spec = given;
    const active = document.activeElement?.closest?.(".trial-mark")?.dataset.key;
    const unit = Math.max(view[2], view[3]) / 100;
    fill(marks, spec.holes.map((hole, i) => hole.find === null && holeMark(hole, i, unit)), spec.texts.map((text, i) => boxMark(text, i, unit)));
    if (active) marks.querySelector(`[data-key="${active}"]`)?.focus();
  }

  /** From the template's x and y (up) to the drawing's. */
  const at = (x, y) => [x - view[0], view[1] + view[3] - y];

  function boxMark(text, index, unit) {
    const [x, y, width, height] = text.box_mm;
    const [left, top] = at(x, y + height);
    const right = left + width;
    const tab = s("g", { class: "trial-corner" },
      s("rect", { class: "trial-reach", x: right - 4 * unit, y: top - 4 * unit, width: 8 * unit, height: 8 * unit }),
      s("path", { class: "trial-fold", d: `M${right - 4 * unit} ${top}L${right} ${top + 4 * unit}V${top}Z` }));
    const mark = s("g", {
      class: "trial-mark", tabindex: "0", role: "button", data: { key: `text-${index}` },
      "aria-label": `Text ${index + 1}, ${text.column ?? text.line ?? ""}: ${written(x)} mm from the left, ${written(y)} mm from below, ${written(width)} wide, ${written(height)} high`,
    },
    s("rect", { class: "trial-box", x: left, y: top, width, height }),
    s("path", { class: "trial-foot", d: `M${left} ${top + height}h${width}` }),
    s("text", { class: "trial-label", x: left + unit, y: top - unit, "font-size": 3.2 * unit }, `${index + 1} ${text.column ?? "same on all"}`),
    tab);
    const change = (dx, dy, dw, dh) => {
      const box = text.box_mm;
      box[0] = rounded(within(box[0] + dx, view[0] - box[2] / 2, view[0] + view[2] - box[2] / 2));
      box[1] = rounded(within(box[1] + dy, view[1] - box[3] / 2, view[1] + view[3] - box[3] / 2));
      box[2] = rounded(Math.max(LEAST_MM, box[2] + dw));
      box[3] = rounded(Math.max(LEAST_MM, box[3] + dh));
    };
    dragged(mark, tab, () => [...text.box_mm], (start, dx, dy, sizing) => {
      text.box_mm.splice(0, 4, ...start);
      if (sizing) change(0, 0, dx, dy);
      else change(dx, dy, 0, 0);
    }, "text", index);
    keyed(mark, (dx, dy, sizing) => (sizing ? change(0, 0, dx, dy) : change(dx, dy, 0, 0)), "text", index);
    return mark;
  }

  function holeMark(hole, index, unit) {
    const [x, y] = hole.at_mm;
    const [left, top] = at(x, y);
    const long = hole.shape === "slot" ? hole.length_mm : hole.width_mm;
    const mark = s("g", {
      class: "trial-mark", tabindex: "0", role: "button", data: { key: `hole-${index}` },
      "aria-label": `Hole ${index + 1}: ${written(x)} mm from the left, ${written(y)} mm from below`,
    },
    s("rect", { class: "trial-reach", x: left - Math.max(long / 2, 4 * unit), y: top - Math.max(hole.width_mm / 2, 4 * unit), width: Math.max(long, 8 * unit), height: Math.max(hole.width_mm, 8 * unit) }),
    s("rect", { class: "trial-hole", x: left - long / 2, y: top - hole.width_mm / 2, width: long, height: hole.width_mm, rx: hole.width_mm / 2 }));
    const change = (dx, dy) => {
      hole.at_mm[0] = rounded(within(hole.at_mm[0] + dx, view[0], view[0] + view[2]));
      hole.at_mm[1] = rounded(within(hole.at_mm[1] + dy, view[1], view[1] + view[3]));
    };
    dragged(mark, null, () => [...hole.at_mm], (start, dx, dy) => { hole.at_mm.splice(0, 2, ...start); change(dx, dy); }, "hole", index);
    keyed(mark, (dx, dy) => change(dx, dy), "hole", index);
    return mark;
  }

  /** Pointer: from where it went down; the drawing itself listens, so that marks may be drawn anew meanwhile. */
  function dragged(mark, corner, begin, change, kind, index) {
    mark.addEventListener("pointerdown", (event) => {
      if (event.button !== 0) return;
      event.preventDefault();
      mark.focus();
      const sizing = corner !== null && corner.contains(event.target);
      const start = begin();
      const scale = view[2] / drawing.getBoundingClientRect().width;
      const from = [event.clientX, event.clientY];
      let went = false;
      const move = (now) => {
        if (now.pointerId !== event.pointerId) return;
        const dx = (now.clientX - from[0]) * scale;
        const dy = (from[1] - now.clientY) * scale;
        went ||= Math.hypot(dx, dy) > 3 * scale;
        if (!went) return;
        change(start, dx, dy, sizing);
        draw(spec);
        moved(kind, index);
      };
      const up = (now) => {
        if (now.pointerId !== event.pointerId) return;
        drawing.removeEventListener("pointermove", move);
        drawing.removeEventListener("pointerup", up);
        drawing.removeEventListener("pointercancel", up);
        if (!went && now.type === "pointerup") asked(kind, index);
      };
      drawing.setPointerCapture(event.pointerId);
      drawing.addEventListener("pointermove", move);
      drawing.addEventListener("pointerup", up);
      drawing.addEventListener("pointercancel", up);
    });
  }

  function keyed(mark, change, kind, index) {
    mark.addEventListener("keydown", (event) => {
      if (event.key === "Enter" || event.key === " ") {
        event.preventDefault();
        asked(kind, index);
        return;
      }
      const arrow = ARROWS[event.key];
      if (!arrow || event.ctrlKey || event.metaKey) return;
      event.preventDefault();
      const step = event.altKey ? FINE_MM : STEP_MM;
      change(arrow[0] * step, arrow[1] * step, event.shiftKey);
      draw(spec);
      moved(kind, index);
    });
  }

  return { element, ground, marks: draw };
}

const within = (value, least, most) => Math.min(Math.max(value, least), most);
