/** Tests for printer and cutter: the test sheet, then what was measured on it. */

import { get, post } from "./api.mjs";
import { fill, h } from "./dom.mjs";
import { figure, written } from "./blanks.mjs";
import { mm, number } from "./figures.mjs";
import { button, field, problemNote, select } from "./forms.mjs";
import { sayProblem, trying } from "./say.mjs";

const READINGS = 3;

/**
 * The two tests in `place`.
 *
 * @param {HTMLElement} place
 * @param {{changed: function, unsaved: function(): boolean}} desk `changed` is called once something
 *   was stored; nothing is stored while the form above has changes that are not kept
 * @returns {{load: function, follow: function}}
 */
export function calibration(place, { changed, unsaved }) {
  let view = null;
  let material = null;
  const waits = [];
  const told = { print: h("div", { role: "status" }), kerf: h("div", { role: "status" }) };

  async function load() {
    view = await trying(() => get("/api/calibration"));
    if (view) draw();
  }

  function follow() {
    for (const [store, hint] of waits) {
      store.disabled = unsaved();
      hint.hidden = !unsaved();
    }
  }

  function draw() {
    waits.length = 0;
    fill(place, printTest(), kerfTest());
    follow();
  }

  /** A button that stores, with what stands in its way. */
  function storing(label, run) {
    const store = button(label, run, { kind: "main" });
    const hint = h("span", { class: "soft" }, "Keep or drop the changes above first.");
    waits.push([store, hint]);
    return h("div", { class: "btns" }, store, hint);
  }

  async function send(path, body, said) {
    try {
      const answer = await post(path, body);
      fill(said, h("div", { class: "note" }, answer.told.map((line) => h("p", {}, line))));
      await changed();
    } catch (error) {
      if (!error.status) return sayProblem(error);
      fill(said, problemNote(error));
    }
  }

  function printTest() {
    const { lengths_mm: lengths, scale, problem } = view.print;
    const head = h("h3", {}, "Are the printer's lengths true?");
    if (!lengths) return h("section", { class: "test" }, head, h("p", {}, problem));
    const read = { x_mm: [], y_mm: [] };
    return h("section", { class: "test" }, head,
      h("ol", { class: "steps" },
        h("li", {}, h("p", {}, "Print the test page at 100 %, never “fit to page”, on the paper that jobs are printed on; three pages are better than one."),
          h("a", { class: "btn", href: "/api/calibration/print", download: "print-test.zip" }, "Get the test page")),
        h("li", {}, h("p", {}, `Measure both bars with a steel rule: ${number(lengths[0])} mm across and ${number(lengths[1])} mm up, from the middle of one end tick to the middle of the other.`),
          readings([["across", "x_mm"], ["up", "y_mm"]], read, "page")),
        h("li", {}, storing("Work it out and store it", () => send("/api/calibration/print", given(read), told.print)),
          told.print,
          h("p", { class: "soft" }, scale.every((each) => each === 1) ? "Nothing is stored yet: the printer counts as true." : `Stored now: ${scale[0]} across, ${scale[1]} up.`))));
  }

  function kerfTest() {
    material = view.kerf.find(({ name }) => name === material)?.name ?? view.kerf[0]?.name ?? null;
    const test = view.kerf.find(({ name }) => name === material);
    const head = h("h3", {}, "How wide is the cut?");
    if (!test) return h("section", { class: "test" }, head, h("p", {}, "There is no material yet. Add one above."));
    const chosen = select(view.kerf.map(({ name, title }) => [name, title]), material, {
      on: { change: () => { material = chosen.value; fill(told.kerf); draw(); document.getElementById(chosen.id)?.focus(); } }, id: "kerf-material",
    });
    const read = { x_strips: [], y_strips: [], x_slots: [], y_slots: [] };
    const path = `/api/calibration/kerf/${test.name.split("/").map(encodeURIComponent).join("/")}`;
    return h("section", { class: "test" }, head, field("Material", chosen),
      test.problem ? h("p", {}, test.problem) : h("ol", { class: "steps" },
        h("li", {}, h("p", {}, "Cut the test from an offcut, with the speed and power that jobs in this material are cut with. Its page says what to mind; the machine's manual and local rules stand above it."),
          h("a", { class: "btn", href: path, download: "kerf-test.zip" }, "Get the test")),
        h("li", {}, h("p", {}, `Lay the ${number(test.strips)} strips for x (square corners) side by side, press them together and measure all at once with callipers; without a kerf they would be ${mm(test.strips * test.width_mm)}. The same with those for y, which lack a corner. Three times each, mixed anew.`),
          readings([["all strips for x", "x_strips"], ["all strips for y", "y_strips"]], read, "time")),
        h("li", {}, h("p", {}, `If you like, the slots of the plate too, drawn ${mm(test.width_mm)} wide: upright ones tell of x, level ones of y.`),
          readings([["upright slots", "x_slots"], ["level slots", "y_slots"]], read, "slot")),
        h("li", {}, storing("Work it out and store it", () => send(path, given(read), told.kerf)),
          told.kerf,
          h("p", { class: "soft" }, `Stored now: ${written(test.kerf_mm[0])} mm in x, ${written(test.kerf_mm[1])} mm in y.`))));
  }

  return { load, follow };
}

const given = (read) => Object.fromEntries(Object.entries(read).map(([key, each]) => [key, each.filter((value) => typeof value === "number")]));

/** A small table to write readings into: a row a thing, a column a reading. */
function readings(things, read, noun) {
  const numbers = Array.from({ length: READINGS }, (_, i) => i);
  return h("div", { class: "table-scroll" }, h("table", { class: "readings" },
    h("thead", {}, h("tr", {}, h("td", {}), numbers.map((i) => h("th", { scope: "col" }, `${noun} ${i + 1}`)))),
    h("tbody", {}, things.map(([label, key]) => h("tr", {}, h("th", { scope: "row" }, label),
      numbers.map((i) => h("td", {}, figure(null, (value) => { read[key][i] = value; }, { "aria-label": `${label}, ${noun} ${i + 1}, in mm`, placeholder: "mm" }))))))));
}
