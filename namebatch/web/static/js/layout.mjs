/** Part 3: what the sheets are made of, how they are filled, and the filled sheets. */

import { get, patch } from "./api.mjs";
import { fill, h, one, own, refill } from "./dom.mjs";
import { count, mm, number, size, words } from "./figures.mjs";
import { field, leaders, problemNote, select } from "./forms.mjs";
import { filling } from "./filling.mjs";
import { jobsOf, latest } from "./jobs.mjs";
import { sheetBound } from "./sheetfigures.mjs";
import { thumbnails } from "./sheetmap.mjs";
import { materialFields } from "./materials.mjs";
import { kept, measureBox } from "./measures.mjs";
import { trying } from "./say.mjs";

const OTHER = "other";

/** Keep part 3 up to date. */
export function start(opened) {
  const shelf = jobsOf(opened);
  let layout = null;
  let materials = [];
  let loaded = "";
  filling(opened, one("#filling"));

  /** Pieces that are made change nothing here; what was chosen does. */
  async function load() {
    const docket = opened.now;
    const key = JSON.stringify([docket?.revision, docket?.list_name, docket?.template, docket?.settings, docket?.problem]);
    if (key === loaded) return;
    loaded = key;
    if (!docket?.list_name || !docket.template) return show(null);
    materials = await get(opened.at("materials")).catch(() => []);
    layout = docket.problem ? null : await get(opened.at("layout")).catch(() => null);
    show(layout);
  }

  function show(found) {
    const docket = opened.now;
    const problem = one("#layout-problem");
    refill(problem, [docket?.problem, docket?.list_name, docket?.settings, materials], () => {
      if (!docket?.list_name) return h("div", { class: "empty" }, h("p", {}, "No list yet: sheets are filled once there are names."), h("a", { class: "btn", href: "#list" }, "Bring a list"));
      return docket.problem && [problemNote(docket.problem), materialFields(opened, materials, docket.settings)];
    });
    one(".layout-pair").hidden = !found;
    figures(docket, found);
    if (!found) return;
    refill(one("#layout-stock"), [found, materials, docket.settings], () => [materialFields(opened, materials, docket.settings), stock(found)]);
    refill(one("#layout-ways"), [found, docket.settings], () => ways(opened, found, docket.settings));
  }

  function figures(docket, found) {
    const job = latest(shelf.jobs ?? []);
    const place = one("#lay-out-figures");
    const paper = found && size(found.stocks[0].size_mm, 0);
    if (job?.totals?.sheets !== undefined) fill(place, paper && `${paper}, `, h("b", {}, sheetsAndBoards(job.totals)), job.stale && " before it was changed");
    else fill(place, paper ? `${paper}, not filled yet` : "paper, material, sheets");
  }

  function maps(jobs) {
    const job = latest(jobs);
    const place = one("#layout-sheets");
    place.hidden = !job?.sheets.length;
    figures(opened.now, layout);
    if (!job?.sheets.length) return;
    fill(one("#layout-sheets-title"), `The sheets of job ${job.number}`);
    refill(one("#layout-maps"), [job.number, job.stale, job.sheets, job.totals], () => [
      job.stale && h("div", { class: "note", data: { kind: "look" } }, h("p", {}, "Something was changed since they were filled. Fill them anew before you cut.")),
      sheetBound(job.totals),
      thumbnails(shelf, job),
    ]);
  }

  opened.on("docket", () => trying(load));
  opened.on("again", () => {
    loaded = "";
    trying(load);
  });
  opened.on("jobs", maps);
}

/** "6 sheets, 1 board" */
export function sheetsAndBoards({ sheets, boards }) {
  return [sheets && count(sheets, "sheet"), boards && count(boards, "board")].filter(Boolean).join(", ") || "no sheet";
}

function stock(found) {
  const rows = found.stocks.flatMap(({ kind, material, size_mm, backs }) => [
    [kind === "face" ? "Printed and cut" : "Cut", own(material)],
    [kind === "face" ? "Sheet" : "Board", [size(size_mm, 0), backs && ", front and back"]],
  ]);
  return [
    leaders([
      ...rows,
      found.printer && ["Printer", own(found.printer)],
      ["Cutter", own(found.cutter)],
      ["Cutter's bed", size(found.bed_mm, 0)],
      ...kerf(found.stocks),
    ]),
    found.built_in && h("div", { class: "note", data: { kind: "look" } }, h("p", {}, "These are example values. ", h("a", { href: "/workshop" }, "Enter this workshop's own"), " before material is cut.")),
    found.examples.length > 0 && h("div", { class: "note", data: { kind: "look" } }, h("p", {}, "Still the program's example values: ", own(words(found.examples)), ". Measure this workshop's own before material is cut.")),
    !found.built_in && h("p", {}, h("a", { href: "/workshop" }, "Change them in the workshop")),
  ];
}

/** The width of the cut; where materials differ, one line each. */
function kerf(stocks) {
  const each = new Map(stocks.map(({ material, kerf_mm: [x, y] }) => [material, x === y ? mm(x, 2) : `${mm(x, 2)} across, ${mm(y, 2)} up`]));
  const wide = [...new Set(each.values())];
  if (wide.length === 1) return [["Width of the cut", wide[0]]];
  return [...each].map(([material, told]) => [["Width of the cut in ", own(material)], told]);
}

function ways(opened, found, settings) {
  const keep = (wanted, told) => opened.change(() => patch(opened.at("settings"), wanted), told);
  return [
    h("div", { class: "fields" }, sheetField(found, settings, keep), gapField(found, settings, keep), spareField(settings, keep)),
    h("fieldset", { class: "layout-choice" }, h("legend", {}, "Which piece goes where"), choices(found, settings, keep)),
  ];
}

function sheetField(found, settings, keep) {
  const printed = found.printer !== null;
  const usual = found.usual_sheet ? (found.papers.find(({ name }) => name === found.usual_sheet)?.title ?? found.usual_sheet) : "the material's own size";
  const named = found.papers.map(({ name, title, size_mm }) => [name, `${title}, ${size(size_mm, 0)}`]);
  const said = settings.sheet ?? "";
  const known = !said || named.some(([name]) => name === said);
  const other = h("input", { type: "text", id: "layout-other", value: known ? "" : said, placeholder: "320x450", autocomplete: "off",
    on: { change: () => other.value.trim() && keep({ sheet: other.value.trim() }, `Sheets of ${other.value.trim()} mm.`) } });
  const beside = field("Width x height in mm", other);
  beside.hidden = known;
  const box = select([["", `as the ${printed ? "printer" : "material"} has it: ${usual}`], ...named, [OTHER, "another size …"]], known ? said : OTHER, {
    id: "layout-sheet",
    on: {
      change() {
        beside.hidden = box.value !== OTHER;
        if (box.value === OTHER) other.focus();
        else keep({ sheet: box.value || null }, box.value ? `Sheets of ${box.value.toUpperCase()}.` : "Sheets as the workshop has them.");
      },
    },
  });
  return [field("Sheets", box), beside];
}

function gapField(found, settings, keep) {
  const [least, most] = found.gap_range_mm;
  const box = measureBox(settings.gap_mm, { least, most, id: "layout-gap", placeholder: found.usual_gap_mm });
  const wrong = h("p", { class: "wrong" });
  kept(box, wrong, (value) => keep({ gap_mm: value }, value === null ? "The usual gap." : `A gap of ${mm(value, 2)}.`));
  const place = field("Gap between cuts, mm", box, `${mm(found.usual_gap_mm)} if nothing is said`);
  place.append(wrong);
  return place;
}

function spareField(settings, keep) {
  const box = h("input", { type: "text", id: "layout-spare", value: settings.spare ?? "", placeholder: "none", autocomplete: "off",
    on: { change: () => keep({ spare: box.value.trim() || null }, box.value.trim() ? `Spares: ${box.value.trim()}.` : "No spares.") } });
  return field("Spares", box, "1: one more of each piece; 5%: so much of all");
}

const WAYS = [
  ["fast", "where it saves material, found quickly", "Each piece goes where it saves material, found quickly.", {}],
  ["tight", "where it saves most, searched for", "Each piece goes where it saves most; that is searched for.", { fill: "tight" }],
  ["list", "in the order of the list", "The pieces go in the order of the list.", { keep_order: true }],
  ["orders", "pieces of an order together", "The pieces of an order go together.", { by_order: true }],
];
const NONE = { fill: null, seconds: null, keep_order: null, by_order: null };

function choices(found, settings, keep) {
  const chosen = settings.by_order ? "orders" : settings.keep_order ? "list" : settings.fill === "tight" ? "tight" : "fast";
  return WAYS.filter(([name]) => name !== "orders" || found.orders || chosen === "orders").map(([name, told, said, wanted]) => [
    h("label", { class: "tick" },
      h("input", { type: "radio", name: "layout-way", id: `layout-way-${name}`, value: name, checked: name === chosen, on: { change: () => keep({ ...NONE, ...wanted }, said) } }),
      told),
    name === "tight" && chosen === "tight" && seconds(found, settings, keep),
  ]);
}

function seconds(found, settings, keep) {
  const box = measureBox(settings.seconds, { least: 1, most: 3600, whole: true, unit: "s", id: "layout-seconds", placeholder: number(found.usual_seconds) });
  const wrong = h("p", { class: "wrong" });
  kept(box, wrong, (value) => keep({ seconds: value }, "The time for the search is set."));
  return h("div", { class: "layout-seconds" }, field("Seconds for the search", box, "You can end it sooner and take what there is."), wrong);
}
