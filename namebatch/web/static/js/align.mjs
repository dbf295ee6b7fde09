/** A print that lies askew under the cutter: its frame measured, the cut files moved onto it. */

import { calledOff, post, Problem } from "./api.mjs";
import { fill, h, s } from "./dom.mjs";
import { size } from "./figures.mjs";
import { button, field, problemNote } from "./forms.mjs";
import { fileHref } from "./files.mjs";
import { measureBox, measured } from "./measures.mjs";

const WORDS = { "top-left": "top left", "top-right": "top right", "bottom-left": "bottom left", "bottom-right": "bottom right" };
const AS_READ = Object.keys(WORDS);

/** The form for one sheet. */
export function alignBox(shelf, job, map) {
  const board = map.kind === "board";
  const names = map.marks.map(({ name }) => name).sort((a, b) => AS_READ.indexOf(a) - AS_READ.indexOf(b));
  const inputs = names.map((name) => corner(name, map.measured.find((each) => each.name === name)));
  const more = h("div", { class: "align-more" });
  const frame = [measure("Frame, width", "frame-width"), measure("Frame, height", "frame-height")];
  const turned = h("input", { type: "checkbox" });
  const result = h("div", { class: "align-result", "aria-live": "polite" });
  const form = h("form", { class: "align", novalidate: true, on: { submit: (event) => { event.preventDefault(); move(); } } },
    h("p", { class: "soft" }, `Drive the pointer to the corners of the ${board ? "board" : "printed frame"} and write down what the cutter shows: two corners at least, better all four. The names are those of the ${board ? "board as it is on the map" : "print as one reads it"}.`),
    h("div", { class: "align-corners" }, diagram(), inputs.map((each) => each.place)),
    more,
    button("Measure the corners once more", again, { kind: "quiet" }),
    !board && h("details", { class: "fold" }, h("summary", {}, "No pointer: by a ruler"),
      h("p", { class: "soft" }, `The frame is ${size([map.frame_mm[2], map.frame_mm[3]])} in the file. Lay the print to the jig by its bottom left corner.`),
      h("div", { class: "fields" }, frame.map((each) => each.place))),
    h("label", { class: "tick" }, turned, "It was laid turned by more than 45° on purpose"),
    h("div", { class: "btns" }, h("button", { class: "btn btn-main" }, "Move the cut lines onto it")),
    result);

  /** A second reading of each: errors fall with the root of their number. */
  function again() {
    const next = names.map((name) => corner(name));
    inputs.push(...next);
    more.append(h("div", { class: "align-corners" }, next.map((each) => each.place)));
    next[0].place.querySelector("input").focus();
  }

  async function move() {
    const boxes = [...inputs.flatMap((each) => each.boxes), ...frame.map((each) => each.input)];
    const wrong = boxes.filter((box) => measured(box).wrong);
    if (wrong.length > 0) {
      fill(result, problemNote({ what: measured(wrong[0]).wrong }));
      return wrong[0].focus();
    }
    const marks = inputs.filter((each) => each.said()).map((each) => each.mark());
    const [width_mm, height_mm] = frame.map((each) => measured(each.input).value);
    const ruled = width_mm !== null && height_mm !== null;
    const half = inputs.find((each) => each.half());
    if (half) {
      fill(result, problemNote({ what: `Both figures of ${WORDS[half.name]} are needed, across and up, in mm.` }));
      return half.place.querySelector("input").focus();
    }
    try {
      const found = await post(shelf.opened.at(`jobs/${job.number}/sheets/${map.id}/align`), { marks, frame: ruled ? { width_mm, height_mm } : null, turned: turned.checked });
      fill(result, moved(shelf, job, found));
      shelf.forget(job, map.id);
      shelf.soon(0);
    } catch (error) {
      if (calledOff(error)) return;
      if (!(error instanceof Problem)) throw error;
      fill(result, problemNote(error));
    }
  }
  return h("details", { class: "fold", open: map.measured.length > 0 }, h("summary", {}, `Does the ${board ? "board" : "print"} lie askew?`), form);
}

function moved(shelf, job, found) {
  return [
    h("ul", { class: "align-told" }, found.lines.map((line) => h("li", {}, line))),
    h("div", { class: "note", data: { kind: "look" } }, h("p", {}, found.caution)),
    h("div", { class: "btns" }, found.files.map((path) => h("a", { class: "btn", href: fileHref(shelf.opened, job, path), download: true }, path.split("/").at(-1)))),
  ];
}

function corner(name, known) {
  const x = figure(known?.x_mm, `${WORDS[name]}, across in mm`);
  const y = figure(known?.y_mm, `${WORDS[name]}, up in mm`);
  const said = () => measured(x).value !== null && measured(y).value !== null;
  return {
    name,
    boxes: [x, y],
    place: h("fieldset", { class: "align-corner", data: { corner: name } }, h("legend", {}, WORDS[name]),
      h("label", {}, h("span", {}, "across"), x), h("label", {}, h("span", {}, "up"), y)),
    said,
    half: () => !said() && (x.value !== "" || y.value !== ""),
    mark: () => ({ mark: name, x_mm: measured(x).value, y_mm: measured(y).value }),
  };
}

const figure = (value, told) => measureBox(value, { "aria-label": told });

function measure(label, id) {
  const input = measureBox(null, { least: 1, id: `align-${id}` });
  return { input, place: field(`${label}, mm`, input) };
}

/** A page that lies askew on a bed, so that across and up are clear. */
function diagram() {
  return s("svg", { class: "align-diagram", viewBox: "0 0 120 90", "aria-hidden": "true" },
    s("path", { class: "align-bed", d: "M8 4V82H116M4 9L8 3L12 9M111 78L117 82L111 86" }),
    s("g", { transform: "rotate(-6 60 45)" }, s("rect", { class: "align-page", x: 36, y: 14, width: 48, height: 60 }), s("rect", { class: "align-frame", x: 41, y: 19, width: 38, height: 50 }),
      [[41, 69], [79, 69], [79, 19], [41, 19]].map(([cx, cy]) => s("circle", { cx, cy, r: 2.6 }))));
}
