/** Files of a job to fetch, in groups; cautions stand beside the cut files. */

import { h, own } from "./dom.mjs";
import { count } from "./figures.mjs";

const KIB = 1024;
const TITLES = { print: "To print", paper: "Papers", list: "Lists" };
const AT_ONCE = 3; // cautions that are not urgent and stand there at once: machine and material
const FEW = 12; // cut files that are shown without unfolding

/** Where a file of a job is fetched from. */
export const fileHref = (opened, job, path) => opened.at(`jobs/${job.number}/files/${path.split("/").map(encodeURIComponent).join("/")}`);

/** Everything that can be fetched of a job. */
export function downloads(opened, job) {
  return h("div", { class: "downloads" },
    h("div", { class: "downloads-all" },
      h("a", { class: "btn btn-main", href: opened.at(`jobs/${job.number}/all.zip`), download: true, "aria-disabled": job.whole ? null : "true" }, "All files in one ZIP"),
      h("p", { class: "soft" }, `${count(job.files.length, "file")}${job.totals.pieces ? " and a picture of each piece" : ""}`)),
    h("div", {}, ["print", "list"].map((kind) => group(opened, job, kind))),
    group(opened, job, "paper"),
    orders(opened, job),
    cutting(opened, job),
    byHand(opened));
}

function group(opened, job, kind) {
  const files = job.files.filter((file) => file.kind === kind);
  if (!files.length) return null;
  return h("section", { class: "downloads-group" }, h("h4", {}, TITLES[kind]), h("ul", { class: "files" }, files.map((file) => line(opened, job, file))));
}

/** What was changed by hand in the docket, for those who make the same job with the command line. */
function byHand(opened) {
  const file = h("a", { class: "btn", href: opened.at("mends.json"), download: true }, "Changes by hand as they are now");
  return h("details", { class: "fold" }, h("summary", {}, "For the command line"),
    h("p", {}, "It makes the same files from the same list and choices, with this file given as --mends."), h("p", {}, file));
}

/** What is sent to each customer, where the list has several orders. */
function orders(opened, job) {
  const files = job.files.filter((file) => file.kind === "order");
  if (!files.length) return null;
  const list = h("ul", { class: "files" }, files.map((file) => line(opened, job, file)));
  return h("section", { class: "downloads-orders" },
    h("h4", {}, "For each order"),
    h("p", { class: "soft" }, "Send each customer theirs only."),
    files.length > FEW ? h("details", { class: "fold" }, h("summary", {}, `${count(files.length, "file")}, one by one`), list) : list);
}

function line(opened, job, file) {
  return h("li", {}, h("a", { href: fileHref(opened, job, file.path), download: true }, file.path), h("span", { class: "soft" }, file.order && [own(file.order), " · "], `${file.what} · ${weight(file.bytes)}`));
}

/** Cut files and jig, with what has to be said before anyone cuts. */
function cutting(opened, job) {
  const cut = job.files.filter((file) => ["cut", "aligned", "jig"].includes(file.kind));
  if (!cut.length) return null;
  const table = cutTable(opened, job, cut);
  return h("section", { class: "downloads-cut" },
    h("h4", {}, "To cut"),
    h("div", { class: "downloads-beside" },
      h("div", {}, cut.length > 2 * FEW ? h("details", { class: "fold" }, h("summary", {}, `${count(job.sheets.length, "sheet")}, one by one`), table) : table),
      cautions(job)));
}

function cutTable(opened, job, files) {
  const rows = new Map(job.sheets.map((sheet) => [sheet.id, []]));
  for (const file of files) {
    const [stem, ending] = parts(file.path);
    rows.set(stem, [...(rows.get(stem) ?? []), [ending, file]]);
  }
  return h("table", { class: "cut-files" }, h("tbody", {}, [...rows].filter(([, each]) => each.length).map(([stem, each]) =>
    h("tr", {}, h("th", { scope: "row" }, stem),
      h("td", {}, h("div", { class: "btns" }, each.map(([ending, file]) =>
        h("a", { class: "btn", href: fileHref(opened, job, file.path), download: true, "aria-label": `${file.what}, ${weight(file.bytes)}` }, ending.toUpperCase()))))))));
}

/** "cut/face-001.svg" → ["face-001", "svg"]; moved ones say so. */
function parts(path) {
  const [stem, ending] = path.split("/").at(-1).split(".");
  return [path.startsWith("aligned/") ? `${stem}, moved` : stem === "jig" ? "the jig" : stem, ending];
}

function cautions(job) {
  const urgent = job.cautions.filter((each) => each.urgent);
  const others = job.cautions.filter((each) => !each.urgent);
  if (!job.cautions.length) return null;
  const later = others.slice(AT_ONCE);
  const told = (each) => h("div", { class: "caution", data: { urgent: each.urgent ? "yes" : null } }, h("h5", {}, each.title), h("p", {}, each.text), each.source && h("p", { class: "small soft" }, each.source));
  return h("aside", { class: "cautions", "aria-label": `Before cutting job ${job.number}` },
    h("h4", {}, "Before cutting"), [...urgent, ...others.slice(0, AT_ONCE)].map(told),
    later.length > 0 && h("details", { class: "fold caution" }, h("summary", {}, later.map((each) => each.title).join(" · ")), later.map(told)));
}

function weight(bytes) {
  if (bytes < KIB * KIB) return `${Math.max(1, Math.round(bytes / KIB))} kB`;
  return `${(bytes / KIB / KIB).toFixed(1)} MB`;
}
