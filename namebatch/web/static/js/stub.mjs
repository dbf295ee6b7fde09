/** The stub: what this job is, the count that must add up, the one next thing to do. */

import { patch } from "./api.mjs";
import { fill, h, one, own } from "./dom.mjs";
import { madeWord, number, sum } from "./figures.mjs";
import { button, field, finding, leaders } from "./forms.mjs";
import { showKeys } from "./keys.mjs";

/** Keep the stub up to date. */
export function start(opened) {
  const short = h("p", { class: "stub-short" });
  const figures = h("div", { class: "stub-figures stub-more" });
  const next = h("div", { class: "stub-ahead" });
  const undo = button("Undo", () => opened.undo());
  const redo = button("Do it again", () => opened.redo());
  const undone = h("p", { class: "small soft", id: "stub-undone" });
  const ways = h("div", { class: "stub-ways stub-more" }, undone, h("div", { class: "btns" }, undo, redo),
    h("div", { class: "btns" }, button("Rename", () => rename(opened), { kind: "quiet" }),
      button("Keys", showKeys, { kind: "quiet" })));
  const body = one("#stub-body");
  const unfold = button("More", () => {
    const open = body.classList.toggle("is-unfolded");
    unfold.setAttribute("aria-expanded", String(open));
    fill(unfold, open ? "Less" : "More");
  }, { kind: "quiet", "aria-expanded": "false" });
  unfold.classList.add("stub-unfold");
  undo.setAttribute("aria-describedby", undone.id);
  fill(body, short, figures, next, unfold, ways);

  opened.on("docket", (docket) => {
    fill(one("#stub-title"), own(docket.title));
    document.title = `${docket.title} · docket ${one(".stub-number b").textContent}`;
    fill(short, docket.counts ? sum(docket) : docket.list_name ? "nothing can be made yet" : "no list yet");
    fill(figures, docket.template && docket.template.title !== docket.title && h("p", { class: "stub-template" }, docket.template.title), docket.counts && counted(docket),
      docket.problem && finding({ severity: "hold", message: docket.problem.what }));
    fill(next, ahead(docket));
    for (const [way, can] of [[undo, docket.can_undo], [redo, docket.can_redo]]) way.disabled = !can;
    fill(undone, docket.can_undo && docket.undo_told ? ["Last change: ", docket.undo_told] : "Nothing changed by hand yet.");
  });
}

function counted(docket) {
  const { counts } = docket;
  const told = counts.waiting > 0;
  return [
    leaders([
      [madeWord(docket), number(counts.made)],
      [counts.left_out ? `held, ${number(counts.left_out)} left out by you` : "held", number(counts.held)],
      told && ["to come", number(counts.waiting)],
      ["lines in", number(counts.lines), "sum"],
    ], { class: "stub-sum" }),
    told && h("progress", { max: counts.lines, value: counts.lines - counts.waiting, "aria-label": "lines looked through" }),
    leaders([
      ["pieces ordered", number(counts.pieces)],
      ["lines to look at", number(counts.look)],
      ["lines approved", number(counts.approved)],
    ]),
  ];
}

function ahead({ next, latest_job: job }) {
  if (!next) return null;
  const made = job === "current" && next.part !== "make" && h("p", { class: "small soft" }, "A job is made, as it is now.");
  return [made, h("a", { class: "stub-next", href: `#${next.part}` }, h("span", { class: "label" }, "next"), h("span", {}, `${next.text}\u00a0→`))];
}

function rename(opened) {
  const title = h("input", { type: "text", value: opened.now?.title ?? "", maxlength: 200, required: true });
  const box = h("dialog", { "aria-label": "Rename this docket", on: { close: () => box.remove() } },
    h("form", { on: { submit: (event) => { event.preventDefault(); keep(); } } },
      field("Name of this docket", title),
      h("div", { class: "btns" }, h("button", { class: "btn btn-main" }, "Rename"), button("Leave it", () => box.close()))));
  async function keep() {
    box.close();
    await opened.change(() => patch(opened.at(), { title: title.value }), "The docket has another name.");
  }
  document.body.append(box);
  box.showModal();
  title.select();
}
