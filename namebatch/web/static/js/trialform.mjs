/** The form of a template: numbered boxes of a printed order form; each change goes into `spec` itself. */

import { fill, h } from "./dom.mjs";
import { choiceField, colourField, figureField, figures, tickField, wordField } from "./blanks.mjs";
import { button } from "./forms.mjs";

const BASES = [
  ["trace", "round what is seen in the picture"], ["drawing", "along the lines of the drawing"], ["rounded-rectangle", "a rectangle"],
  ["circle", "a circle"], ["ellipse", "an ellipse"], ["regular-polygon", "a polygon"], ["luggage-tag", "a luggage tag"],
];
const BUILDS = [["faced", "printed, and stuck on a board that is cut"], ["printed", "printed on what is cut"], ["bare", "cut without print; names engraved or cut"]];
const RULES = [
  ["base", "stays as it is; the name stands on it"], ["contour", "runs round picture and name together"],
  ["weld", "joins the letters to the piece"], ["open", "goes through the piece, letter by letter"],
];
const FINDS = [
  ["", "where I put it"], ["top", "at the top, so that it hangs straight"], ["left", "at the left"], ["right", "at the right"], ["bottom", "at the bottom"],
  ["top-left", "at the top left"], ["top-right", "at the top right"],
];
const ALIGNS = [["left", "left"], ["centre", "centre"], ["right", "right"]];
const VERTICALS = [["middle", "in the middle of the box"], ["baseline", "on a line"], ["top", "at the top"], ["bottom", "at the bottom"]];
const CASES = [["as-typed", "as in the list"], ["capitals", "capitals"], ["small", "small letters"], ["title", "first letters large"]];

/**
 * The form in `place`.
 *
 * @param {HTMLElement} place
 * @param {object} spec what is filled in; changed in place
 * @param {{picture: object, materials: object[], fonts: object[], room: function, changed: function}} given
 *   `room` gives a place for another text inside the shape, [x, y, width, height] or null
 * @returns {{places: function, goTo: function(string, number)}} `places` writes the places of boxes and
 *   holes anew after they were moved on the picture
 */
export function trialForm(place, spec, { picture, materials, fonts, room, changed }) {
  const sections = { shape: section(2, "Shape and size"), make: section(3, "How it is made"), texts: section(4, "Names and words"), holes: section(5, "Holes") };
  const set = (table, key, again) => (value) => { table[key] = value; changed(); again?.(); };
  const put = (list, index) => (value) => { if (value !== null) { list[index] = value; changed(); } };
  const filled = (table, key) => (value) => { if (value !== null) { table[key] = value; changed(); } };

  fill(place, Object.values(sections).map(({ element }) => element));
  shape();
  make();
  texts();
  holes();

  function shape() {
    const { base } = spec;
    const kinds = BASES.filter(([kind]) => kind !== "drawing" || picture.kind === "svg");
    const fromPicture = base.kind === "trace" || base.kind === "drawing";
    fill(sections.shape.body,
      h("div", { class: "fields" },
        choiceField("The piece is", kinds, base.kind, (kind) => { another(kind); shape(); changed(); }, { wide: true }),
        fromPicture ? sides(base) : shapeSides(base),
        base.kind === "trace" && edge(base),
        ["rounded-rectangle", "regular-polygon", "luggage-tag"].includes(base.kind) && figureField("Corners rounded by", base.corner_mm, filled(base, "corner_mm")),
        base.kind === "luggage-tag" && figureField("Corners cut off by", base.chamfer_mm, filled(base, "chamfer_mm")),
        base.kind === "regular-polygon" && figureField("Sides", base.sides, (value) => { if (Number.isInteger(value)) filled(base, "sides")(value); }, { unit: "" })),
      base.kind === "trace" && tickField("See-through places inside stay open", base.keep_holes, set(base, "keep_holes")));
  }

  /** How far from the picture's edge the line runs, and on which side; inside no white is seen. */
  function edge(base) {
    let side = base.edge_mm > 0 ? 1 : -1;
    return [
      choiceField("The line runs", [[-1, "inside of its edge, so that no white is seen"], [1, "outside of its edge"]], side, (chosen) => {
        side = Number(chosen);
        base.edge_mm = side * Math.abs(base.edge_mm);
        changed();
      }, { wide: true }),
      figureField("From the edge by", Math.abs(base.edge_mm), (value) => { if (value !== null && value >= 0) { base.edge_mm = side * value; changed(); } }),
    ];
  }

  /** Another kind of base keeps the size as far as it goes. */
  function another(kind) {
    const { base } = spec;
    const fromPicture = kind === "trace" || kind === "drawing";
    const [across, down] = picture.size;
    const width = base.width_mm ?? (base.height_mm ?? 60) * (across / down);
    base.kind = kind;
    base.width_mm = Math.round(10 * width) / 10;
    base.height_mm = fromPicture ? null : Math.round((10 * width * down) / across) / 10;
  }

  function sides(base) {
    const by = base.height_mm !== null && base.width_mm === null ? "height_mm" : "width_mm";
    return [
      choiceField("The whole picture is given", [["width_mm", "a width"], ["height_mm", "a height"]], by, (key) => {
        const [across, down] = picture.size;
        const now = base[by] ?? 60;
        base.width_mm = key === "width_mm" ? Math.round((10 * now * across) / down) / 10 : null;
        base.height_mm = key === "height_mm" ? Math.round((10 * now * down) / across) / 10 : null;
        shape();
        changed();
      }),
      grows(base, by),
    ];
  }

  /** Another size of the picture: what lies on it, and its letters, keep their place on it. */
  function grows(base, by) {
    let first = null;
    const begin = () => { first = structuredClone({ size: base[by], texts: spec.texts, holes: spec.holes }); };
    const grow = (value) => {
      if (value === null || value <= 0) return;
      base[by] = value;
      const scaled = (length) => (length === null ? null : Math.round((10 * length * value) / first.size) / 10);
      spec.texts.forEach((text, index) => {
        const before = first.texts[index];
        if (!before) return;
        text.box_mm = before.box_mm.map(scaled);
        for (const key of ["min_height_mm", "max_height_mm", "baseline_mm"]) text[key] = scaled(before[key]);
      });
      spec.holes.forEach((hole, index) => {
        if (hole.at_mm && first.holes[index]?.at_mm) hole.at_mm = first.holes[index].at_mm.map(scaled);
      });
      texts();
      holes();
      changed();
    };
    return figureField(by === "width_mm" ? "Width of the picture" : "Height of the picture", base[by], grow,
      { hint: "Its margins count; the other side, boxes, letters and holes follow.", on: { focus: begin } });
  }

  function shapeSides(base) {
    const round = base.kind === "circle" || base.kind === "regular-polygon";
    const width = figureField(round ? "Diameter" : "Width", base.width_mm, filled(base, "width_mm"));
    return [width, !round && figureField("Height", base.height_mm, filled(base, "height_mm"))];
  }

  function make() {
    const named = materials.map(({ name, values }) => [name, values.title]);
    fill(sections.make.body,
      h("div", { class: "fields" },
        choiceField("It is", BUILDS, spec.build, (build) => { suit(build); make(); texts(); changed(); }, { wide: true }),
        choiceField(spec.build === "faced" ? "Printed on" : "Made of", named, spec.material, set(spec, "material")),
        spec.build === "faced" && choiceField("Stuck on", named, spec.board, set(spec, "board")),
        choiceField("The cut line", RULES, spec.rule, set(spec, "rule", () => { make(); texts(); }), { wide: true }),
        spec.rule === "contour" && figureField("Distance of the line", spec.distance_mm, filled(spec, "distance_mm"))));
  }

  /** Materials that suit a build: what comes in the printer's page is printed on, boards are cut. */
  function suit(build) {
    const paper = materials.find(({ values }) => values.sheet_mm === null)?.name ?? materials[0].name;
    const board = materials.find(({ values }) => values.sheet_mm !== null)?.name ?? materials[0].name;
    spec.build = build;
    spec.material = build === "bare" ? board : paper;
    spec.board = build === "faced" ? board : null;
    for (const text of spec.texts) text.made = null;
  }

  function texts() {
    fill(sections.texts.body, spec.texts.map(oneText),
      h("div", { class: "btns" }, spec.texts.length < 6 && button("Add a text", () => {
        const names = new Set(spec.texts.map(({ column }) => column));
        const column = ["village", "team", "table", "trade"].find((name) => !names.has(name)) ?? "more";
        spec.texts.push({ ...structuredClone(spec.texts[0]), column, line: null, sample: "", ...roomFor(spec.texts), vertical: "middle", baseline_mm: null });
        texts();
        changed();
        goTo("text", spec.texts.length - 1);
      })));
  }

  /** Box and letters of another text: inside the shape where there is room, else below the last one. */
  function roomFor(texts) {
    const [x, y, width, height] = texts[texts.length - 1].box_mm;
    const box = room() ?? [x, Math.max(0, y - 0.6 * height), width, Math.round(5 * height) / 10];
    const tenth = (value) => Math.round(10 * value) / 10;
    return { box_mm: [...box], min_height_mm: Math.min(texts[0].min_height_mm, 1.8), max_height_mm: tenth(Math.max(2, 0.7 * box[3])) };
  }

  function oneText(text, index) {
    const prints = spec.build !== "bare";
    const cut = spec.rule === "weld" || spec.rule === "open";
    const ways = [["", cut ? "cut" : prints ? "printed" : "engraved"]];
    if (cut) ways.push(prints ? ["print", "printed"] : ["engrave", "engraved"]);
    if (!prints) ways.push(["mark", "marked as a line"]);
    return h("fieldset", { class: "trial-text", data: { entry: `text-${index}` } },
      h("legend", {}, `Text ${index + 1}`),
      h("div", { class: "fields" },
        choiceField("It says", [["column", "what the list says in a column"], ["line", "the same on every piece"]], text.line === null ? "column" : "line", (kind) => {
          text.column = kind === "column" ? "name" : null;
          text.line = kind === "line" ? "Saltmarsh Kite Day" : null;
          texts();
          changed();
        }),
        text.line === null ? wordField("Column", text.column, set(text, "column"), { maxlength: 60 }) : wordField("Words", text.line, set(text, "line"), { maxlength: 200 }),
        choiceField("Typeface", fonts.map(({ name }) => [name, name]), text.font, set(text, "font")),
        figures("Letters, height of capitals", [["at least", text.min_height_mm, filled(text, "min_height_mm")], ["at most", text.max_height_mm, filled(text, "max_height_mm")]],
          { hint: "Names get as large as they fit; below the least they are held." })),
      figures("Box, from the left and from below", ["left", "below", "width", "height"].map((label, i) => [label, text.box_mm[i], put(text.box_mm, i)])),
      h("details", { class: "fold" }, h("summary", {}, "How the letters stand"),
        h("div", { class: "fields" },
          ways.length > 1 && choiceField("They are", ways, text.made ?? "", (value) => { text.made = value || null; changed(); }),
          prints && colourField("Colour", text.colour, set(text, "colour")),
          choiceField("From left to right", ALIGNS, text.align, set(text, "align")),
          choiceField("From top to bottom", VERTICALS, text.vertical, (value) => {
            text.vertical = value;
            text.baseline_mm = value === "baseline" ? Math.round(2.5 * text.box_mm[3]) / 10 : null;
            texts();
            changed();
          }),
          text.vertical === "baseline" && figureField("The line above the box's lower edge", text.baseline_mm, filled(text, "baseline_mm")),
          choiceField("Capitals", CASES, text.case, set(text, "case")),
          text.line === null && index > 0 && wordField("To try it with", text.sample, set(text, "sample"), { maxlength: 200 })),
        tickField("One size for all names", text.one_size, set(text, "one_size")),
        text.line === null && tickField("May be empty", text.optional, set(text, "optional"))),
      spec.texts.length > 1 && h("div", { class: "btns" }, button("Leave this text out", () => { spec.texts.splice(index, 1); texts(); changed(); }, { kind: "quiet" })));
  }

  function holes() {
    fill(sections.holes.body, spec.holes.length === 0 && h("p", { class: "soft" }, "None: it stands, or is glued."),
      spec.holes.map(oneHole),
      h("div", { class: "btns" }, spec.holes.length < 6 && button("Add a hole", () => {
        spec.holes.push({ shape: "round", at_mm: null, find: "top", width_mm: 4, length_mm: 14, wall_mm: 2, tab: true });
        holes();
        changed();
        goTo("hole", spec.holes.length - 1);
      })));
  }

  function oneHole(hole, index) {
    return h("fieldset", { class: "trial-text", data: { entry: `hole-${index}` } },
      h("legend", {}, `Hole ${index + 1}`),
      h("div", { class: "fields" },
        choiceField("It is", [["round", "round"], ["slot", "a slot"]], hole.shape, set(hole, "shape", holes)),
        choiceField("Its place", FINDS, hole.find ?? "", (value) => {
          hole.find = value || null;
          hole.at_mm = value ? null : middle();
          holes();
          changed();
        }, { wide: true, hint: hole.find ? "Found for every piece, with a tab where there is no room." : null }),
        figureField(hole.shape === "round" ? "Diameter" : "Width", hole.width_mm, filled(hole, "width_mm")),
        hole.shape === "slot" && figureField("Length", hole.length_mm, filled(hole, "length_mm")),
        hole.find && figureField("Material round it, at least", hole.wall_mm, filled(hole, "wall_mm"))),
      hole.find === null && figures("Middle, from the left and from below", ["left", "below"].map((label, i) => [label, hole.at_mm[i], put(hole.at_mm, i)])),
      h("div", { class: "btns" }, button("Leave this hole out", () => { spec.holes.splice(index, 1); holes(); changed(); }, { kind: "quiet" })));
  }

  /** A place to begin with: above the first text. */
  function middle() {
    const [x, y, width, height] = spec.texts[0].box_mm;
    return [Math.round(10 * (x + width / 2)) / 10, Math.round(10 * (y + height + 8)) / 10];
  }

  function entry(kind, index) {
    return place.querySelector(`[data-entry="${kind}-${index}"]`);
  }

  /** Write the place of a box or a hole anew. */
  function placed(kind, index) {
    const list = kind === "text" ? spec.texts[index].box_mm : spec.holes[index].at_mm;
    const blanks = entry(kind, index)?.querySelectorAll(kind === "text" ? ":scope > .blanks input" : ".blanks input") ?? [];
    list.forEach((value, i) => { if (blanks[i]) blanks[i].value = String(value); });
  }

  /** Go to the blanks of a box or a hole. */
  function goTo(kind, index) {
    const blank = entry(kind, index)?.querySelector("input, select");
    blank?.focus();
    blank?.scrollIntoView({ block: "center" });
  }

  return { placed, goTo };
}

/** A box of the form with its number and what it is about. */
function section(number, title) {
  const body = h("div", { class: "trial-body" });
  return { body, element: h("section", { class: "trial-section", "aria-labelledby": `trial-${number}` }, h("h2", { id: `trial-${number}` }, h("span", { class: "trial-number", "aria-hidden": "true" }, number), title), body) };
}
