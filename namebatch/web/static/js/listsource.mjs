/** What came in: the list of this docket, and another in its place. */

import { form, get, put } from "./api.mjs";
import { fill, h, own, refill } from "./dom.mjs";
import { count, number } from "./figures.mjs";
import { button, leaders } from "./forms.mjs";
import { listPlace } from "./givelist.mjs";

const KEEPING =
  "Changes by hand stay with their line numbers where they fit the new list. " +
  "Undo brings the former list back. To work on with both, copy this docket on the hook first.";

/** Builds the section in `place`; gives back what shows a list there. */
export function listSource(opened, place) {
  const figures = h("div");
  const list = listPlace(follow);
  const take = button("Take this list", () => give(() => list.given()), { kind: "main" });
  const sample = button("Try it with the sample list", () => give(() => sampleOf(opened.now.template)));
  const summary = h("summary");
  const keeping = h("p", { class: "small soft" }, KEEPING);
  const sending = h("p", { class: "soft", role: "status" });
  const fold = h("details", { class: "fold" }, summary, list.element, keeping, h("div", { class: "btns" }, take, sample), sending);
  let busy = false;
  fill(place, h("h3", { id: "list-came" }, "What came in"), figures, fold);
  follow();

  function follow() {
    take.disabled = busy || !list.given();
    sample.disabled = busy;
  }

  async function give(what) {
    busy = true;
    follow();
    fill(sending, "The list is sent, read and planned …");
    const docket = await opened.change(async () => put(opened.at("list"), form(await what())), "The list was taken.");
    busy = false;
    fill(sending);
    if (docket) {
      list.clear();
      fold.open = false;
    }
    follow();
  }

  return (shown) => {
    fill(summary, shown.source ? "Another list" : "Give a list");
    keeping.hidden = !shown.source;
    sample.hidden = Boolean(shown.source) || !opened.now?.template;
    if (shown.headers.length === 0) fold.open = true;
    refill(figures, [shown.source, shown.reading, shown.lines, shown.blank_lines, shown.headers.length], () => came(shown));
  };
}

async function sampleOf(template) {
  const { name, text } = await get(`/api/templates/${encodeURIComponent(template.name)}/sample`);
  return { file: new File([text], name, { type: "text/csv" }) };
}

function came({ source, reading, lines, blank_lines, headers }) {
  if (!source) return h("p", {}, "No list yet. Drop one below, choose its file or paste it.");
  return leaders([
    ["list", own(source)],
    reading && ["read as", reading],
    headers.length > 0 ? ["lines", number(lines)] : ["read as", "not to be read"],
    blank_lines > 0 && ["passed over", count(blank_lines, "blank line")],
  ]);
}
