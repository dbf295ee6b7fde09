/** Part 1, LIST: what came in, what is made of it, which column is what, lines to mend. */

import { get } from "./api.mjs";
import { columns } from "./columns.mjs";
import { corrections, toMend } from "./corrections.mjs";
import { fill, h, one, own, refill } from "./dom.mjs";
import { count } from "./figures.mjs";
import { finding, problemNote } from "./forms.mjs";
import { listSource } from "./listsource.mjs";
import { trying } from "./say.mjs";
import { whatIsMade } from "./whatismade.mjs";

const PLAIN = new Set(["other-sheets"]); // whoever has the wrong sheet before them must see it

/** Keep part 1 up to date. */
export function start(opened) {
  const told = h("div", { class: "list-told" });
  const came = h("section", { "aria-labelledby": "list-came" });
  const made = h("section", { "aria-labelledby": "list-made" });
  const which = h("section", { "aria-labelledby": "list-which" });
  const mend = h("section", { "aria-labelledby": "list-mend" });
  fill(one("#list-place"), told, h("div", { class: "list-pair" }, came, made), which, mend);

  const parts = [listSource(opened, came), columns(opened, which), corrections(opened, mend)];
  whatIsMade(opened, made);
  let asked = 0;
  let latest = null;

  async function load() {
    const turn = ++asked;
    const list = await trying(() => get(opened.at("list")));
    if (!list || turn !== asked) return;
    latest = list;
    for (const show of parts) show(list);
    head();
  }

  function head() {
    if (!latest) return;
    const { now } = opened;
    fill(one("#list-figures"), figures(latest));
    refill(told, [latest.problem, latest.findings, now?.problem, now?.findings, now?.notes], () => about(latest, now));
  }

  let loaded = "";
  opened.on("docket", ({ revision, counts }) => {
    const state = `${revision} ${counts?.held}`; // what is held is known only once it was tried
    if (state !== loaded) load();
    loaded = state;
    head();
  });
  opened.on("again", load);
}

function figures(list) {
  if (!list.source) return "no list yet";
  const mend = toMend(list.corrections);
  return [own(list.source), " · ", h("b", {}, count(list.lines, "line")), mend > 0 && [" · ", h("b", {}, count(mend, "to mend", "to mend"))]];
}

/** What is to be known of list and template as a whole: gravest first, each told once. */
function about(list, docket) {
  const problem = list.problem ?? docket?.problem;
  const all = [...list.findings, ...(docket?.findings ?? [])];
  const once = all.filter((each, at) => all.findIndex((other) => other.message === each.message) === at);
  const [grave, light] = [once.filter((each) => each.severity !== "note" || PLAIN.has(each.code)), once.filter((each) => each.severity === "note" && !PLAIN.has(each.code))];
  const notes = [...light.map((each) => each.message), ...(docket?.notes ?? [])];
  return [
    problem && problemNote(problem),
    grave.map(finding),
    notes.length > 0 && h("details", { class: "fold" }, h("summary", {}, `Good to know: ${count(notes.length, "note")}`),
      h("ul", { class: "list-notes" }, notes.map((each) => h("li", {}, each)))),
  ];
}
