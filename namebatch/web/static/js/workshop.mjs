/** The workshop: printer, cutter and materials as a printed form; kept in the workshop file. */

import { form, get, put } from "./api.mjs";
import { all, fill, h, one, own, refill } from "./dom.mjs";
import { choiceField, colourField, figureField, figures, wordField, written } from "./blanks.mjs";
import { calibration } from "./calibrate.mjs";
import { count, size, words } from "./figures.mjs";
import { button, field, problemNote } from "./forms.mjs";
import { hush, say, sayProblem, trying } from "./say.mjs";

const SHEETS = [["a4", "A4"], ["a5", "A5"], ["a3", "A3"], ["letter", "Letter"], ["", "another size"]];
const OPERATIONS = [
  ["mark", "Marked lines"], ["engrave", "Engraved letters"], ["inner", "Holes and windows of a piece"],
  ["outer", "Outlines"], ["window", "Windows of the jig"],
];
const SPEEDS = [["outer", "outlines"], ["inner", "holes"], ["window", "jig windows"], ["mark", "marked lines"], ["engrave", "engraving"]];
const NEW_MATERIAL = {
  title: "", sheet_mm: null, thickness_mm: null, kerf_mm: [null, null], minimum_width_mm: null, edge_mm: 0,
  speeds_mm_s: { outer: null, inner: null, window: null, mark: null, engrave: null }, engrave_line_mm: 0.1, price: null, colour: "#f2eadb",
};

let shop = null; // as the program has it
let now = null; // as the form has it: {printer, cutter, materials: [{name, values, used_by, fresh}]}
let kept = ""; // the form as JSON when it was filled

const places = { form: one("#shop-form"), wrong: one("#shop-wrong"), ways: one("#shop-ways"), told: one("#shop-told"), calibration: one("#calibration"), file: one("#shop-file") };
const tests = calibration(places.calibration, { changed: measured, unsaved: () => changedSince() });

async function load() {
  const found = await trying(() => get("/api/workshop"));
  if (found) show(found);
  else file();
}

function show(found) {
  shop = found;
  now = structuredClone({ printer: found.printer, cutter: found.cutter, materials: found.materials });
  kept = JSON.stringify(now);
  draw();
  tests.load();
}

const changedSince = () => now !== null && JSON.stringify(now) !== kept;

function draw() {
  fill(places.told, shop.built_in && h("div", { class: "note", data: { kind: "look" } },
    h("p", {}, h("strong", {}, "These are example values."), " Times, kerf and margins of your own machines are what makes a job come out right: put them in below, or measure them further down.")),
  shop.examples.length > 0 && h("div", { class: "note", data: { kind: "look" } },
    h("p", {}, h("strong", {}, "Still the program's example values: "), own(words(shop.examples)), ". Put in your own, or measure them. Where yours happen to be the same, give the printer, the cutter or the material a name of your own.")));
  const open = new Set(all("details[open]", places.form).map((each) => each.dataset.name));
  fill(places.form, printer(now.printer), cutter(now.cutter), materials(open));
  fill(places.wrong);
  file();
  follow();
}

/** The foot of the form: whether there is something to keep. */
function follow() {
  const changed = changedSince();
  const wrong = all('[aria-invalid="true"]', places.form).length;
  refill(places.ways, [changed, wrong, shop.built_in], () => [
    button("Keep these values", keep, { kind: "main", id: "shop-keep", disabled: !changed || wrong > 0 }),
    (changed || wrong > 0) && button("Drop the changes", () => show(shop), { id: "shop-drop" }),
    h("span", { class: "soft", "aria-live": "polite" }, wrong > 0 ? `${count(wrong, "blank is no figure", "blanks are no figures")}: put right what is marked; nothing is kept before.`
      : changed ? "Changed, not kept yet." : shop.built_in ? "Nothing of your own is kept yet." : "All of this is kept."),
  ]);
  tests.follow();
}

const setting = (table, key) => (value) => { table[key] = value; follow(); };
const part = (list, index) => (value) => { list[index] = value; follow(); };

function printer(table) {
  const known = SHEETS.some(([value]) => value === table.sheet.toLowerCase());
  const own = wordField("Width x height in mm", known ? "" : table.sheet, (value) => { table.sheet = value; follow(); }, { hint: "for example 320x450" });
  own.hidden = known;
  return h("fieldset", { class: "section" }, h("legend", {}, "Printer"),
    h("div", { class: "fields" },
      wordField("Name", table.name, setting(table, "name")),
      choiceField("Page it prints on", SHEETS, known ? table.sheet.toLowerCase() : "", (value) => {
        own.hidden = value !== "";
        table.sheet = value || one("input", own).value;
        follow();
      }),
      own,
      choiceField("If its lengths are off", [["cut", "the cut follows the print"], ["print", "the print is put right"]], table.correct, setting(table, "correct"),
        { hint: "The cut follows: pieces are off as much as the print. Put right: pieces come out true." })),
    h("div", { class: "fields" },
      figures("Margins it cannot print", ["top", "right", "bottom", "left"].map((side, i) => [side, table.margins_mm[i], part(table.margins_mm, i)])),
      figures("Printed length over true length", [["across", table.scale[0], part(table.scale, 0)], ["up", table.scale[1], part(table.scale, 1)]],
        { unit: "", hint: "1 is true. Measured further down." })));
}

function cutter(table) {
  return h("fieldset", { class: "section" }, h("legend", {}, "Cutter"),
    h("div", { class: "fields" },
      wordField("Name", table.name, setting(table, "name")),
      choiceField("It cuts with", [["laser", "a laser"], ["blade", "a blade"]], table.kind, setting(table, "kind"),
        { hint: "Materials that no laser must cut are refused for a laser." }),
      figures("Bed", [["width", table.bed_mm[0], part(table.bed_mm, 0)], ["depth", table.bed_mm[1], part(table.bed_mm, 1)]]),
      choiceField("Cut files", [["svg,dxf", "SVG and DXF"], ["svg", "SVG"], ["dxf", "DXF"]], [...table.files].sort().reverse().join(","), (value) => { table.files = value.split(","); follow(); }),
      wordField("Sheet that jigs are made of", table.jig, (value) => { table.jig = value.trim() || null; follow(); }, { hint: "for example 420x300; left free, one that suits the job" })),
    h("details", { class: "fold", data: { name: "cutter-times" } }, h("summary", {}, "For the expected times and the cost"),
      h("div", { class: "fields" },
        figureField("Speed between cuts", table.travel_mm_s, setting(table, "travel_mm_s"), { unit: "mm/s" }),
        figureField("Acceleration", table.acceleration_mm_s2, setting(table, "acceleration_mm_s2"), { unit: "mm/s²" }),
        figureField("So far off a corner it may pass", table.corner_mm, setting(table, "corner_mm")),
        figureField("Price of an hour", table.price_per_hour, setting(table, "price_per_hour"), { unit: "", hint: "Left free, the cutter's time costs nothing." }))),
    h("details", { class: "fold", data: { name: "cutter-colours" } }, h("summary", {}, "Colours of the lines in cut files"),
      h("div", { class: "fields" }, OPERATIONS.map(([key, label]) => colourField(label, table.colours[key], setting(table.colours, key)))),
      h("p", { class: "hint" }, "Each must be a colour of its own: many cutters tell the operations by it.")));
}

function materials(open) {
  return h("fieldset", { class: "section" }, h("legend", {}, "Materials"),
    now.materials.map((material, index) => materialFold(material, index, open)),
    h("div", { class: "btns" }, button("Add a material", () => add(NEW_MATERIAL))));
}

function materialFold(material, index, open) {
  const { values } = material;
  const title = h("bdi", { dir: "auto" }, values.title || "New material");
  const figure = h("span", { class: "material-figures soft" }, told(values));
  const setKept = (key) => (value) => { values[key] = value; fill(title, values.title || "New material"); fill(figure, told(values)); follow(); };
  const sheet = values.sheet_mm ?? [null, null];
  const setSheet = (i) => (value) => { sheet[i] = value; values.sheet_mm = sheet.some((side) => side !== null) ? sheet : null; fill(figure, told(values)); follow(); };
  const kerf = (i) => (value) => { values.kerf_mm[i] = value; fill(figure, told(values)); follow(); };
  return h("details", { class: "fold material", open: open.has(material.name) || material.fresh, data: { name: material.name } },
    h("summary", {}, h("span", { class: "material-tint", style: { "background-color": values.colour } }), h("span", { class: "material-title" }, title), figure),
    h("div", { class: "fields" },
      wordField("What it is", values.title, setKept("title")),
      material.fresh
        ? wordField("Short name, by which templates ask for it", material.name, (value) => { material.name = value.trim(); follow(); }, { hint: "small letters, digits, hyphens; it stays" })
        : h("p", { class: "field" }, h("span", { class: "label" }, "Short name"), h("code", {}, material.name), h("span", { class: "hint" }, uses(material))),
      figureField("Thickness", values.thickness_mm, setKept("thickness_mm")),
      figureField("Nothing may be narrower than", values.minimum_width_mm, setKept("minimum_width_mm")),
      figures("Sheet", [["width", sheet[0], setSheet(0)], ["height", sheet[1], setSheet(1)]], { hint: "Left free: it comes in the printer's page." }),
      figureField("Unusable along the edges", values.edge_mm, setKept("edge_mm")),
      figures("Kerf, the width of the cut", [["in x", values.kerf_mm[0], kerf(0)], ["in y", values.kerf_mm[1], kerf(1)]], { hint: "Measured further down." }),
      figureField("Price of a sheet", values.price, setKept("price"), { unit: "" }),
      colourField("Colour in pictures", values.colour, (value) => { setKept("colour")(value); draw(); one(`details[data-name="${CSS.escape(material.name)}"] .colour`)?.focus(); })),
    figures("Speeds, for the expected times", SPEEDS.map(([key, label]) => [label, values.speeds_mm_s[key], (value) => { values.speeds_mm_s[key] = value; follow(); }]),
      { unit: "mm/s", hint: "Those left free run as the outlines. Nothing here is sent to a machine." }),
    figureField("Distance of engraved lines", values.engrave_line_mm, setKept("engrave_line_mm")),
    h("div", { class: "btns" },
      button("Add another one like it", () => add(values)),
      button("Take it out", () => { now.materials.splice(index, 1); draw(); }, { kind: "quiet" })));
}

const told = (values) =>
  [values.thickness_mm !== null && `${written(values.thickness_mm)} mm thick`, values.sheet_mm?.every(Boolean) ? size(values.sheet_mm) : "the printer's page",
    values.kerf_mm[0] !== null && `kerf ${written(values.kerf_mm[0])} mm`].filter(Boolean).join(" · ");

const uses = ({ used_by: by }) => (by.length > 0 ? `Templates ask for it: ${by.join(", ")}.` : "No template asks for it yet.");

function add(values) {
  const names = new Set(now.materials.map(({ name }) => name));
  let number = now.materials.length + 1;
  while (names.has(`material-${number}`)) number += 1;
  now.materials.push({ name: `material-${number}`, values: structuredClone(values), used_by: [], fresh: true });
  draw();
  const folds = all("details.material", places.form);
  one("input", folds[folds.length - 1]).focus();
}

const keep = () => send(now, "Kept in the workshop file.");

/** Something that was measured was stored: show it, with the way back. */
async function measured() {
  const before = asKept();
  await load();
  sayKept("Stored in the workshop file.", before);
}

/** The tables as they are kept; null where there is no file yet. */
const asKept = () => (shop.built_in ? null : { printer: shop.printer, cutter: shop.cutter, materials: shop.materials });

const sayKept = (told, before) =>
  say(told, before ? { action: { label: "Take it back", run: () => send(before, "As it was before.") } } : {});

/** Keep tables and say so, with the way back to those that were kept. */
async function send(tables, told) {
  const before = asKept();
  const materials = tables.materials.map(({ name, values }) => ({ ...values, name }));
  try {
    show(await put("/api/workshop", { digest: shop.digest, printer: tables.printer, cutter: tables.cutter, materials }));
    sayKept(told, before);
  } catch (error) {
    if (!error.status) return sayProblem(error);
    hush(); // what was kept before is not what stands there now
    fill(places.wrong, problemNote(error));
    places.wrong.scrollIntoView({ block: "nearest" });
  }
}

/** The file itself: down and up. */
function file() {
  const chooser = h("input", { type: "file", accept: ".toml" });
  fill(places.file,
    h("p", {}, "All of this stands in one text file, with comments of your own if you like. The command line takes it with ", h("code", {}, "--workshop"), "."),
    h("div", { class: "btns" }, h("a", { class: "btn", href: "/api/workshop/file", download: "workshop.toml" }, "Get the file")),
    field("Put another file in its place", chooser),
    h("div", { class: "btns" }, button("Put it in place", async () => {
      if (!chooser.files[0]) return say("Choose a workshop file first; its name ends in .toml.", { kind: "look" });
      const answer = await trying(() => put("/api/workshop/file", form({ file: chooser.files[0] })));
      if (answer) { show(answer); say("The file is in place."); }
    })));
}

places.form.addEventListener("input", () => follow());
addEventListener("beforeunload", (event) => { if (changedSince()) event.preventDefault(); });

await load();
document.documentElement.dataset.ready = "yes";
