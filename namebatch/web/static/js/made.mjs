/** Part 4: the jobs that were made: files, figures, and what comes after cutting. */

import { post } from "./api.mjs";
import { fill, h, one, own, refill } from "./dom.mjs";
import { count, moment, number } from "./figures.mjs";
import { button, problemNote } from "./forms.mjs";
import { downloads } from "./files.mjs";
import { jobsOf, latest, outstanding, remakesOf } from "./jobs.mjs";
import { sheetBound } from "./sheetfigures.mjs";
import { thumbnails } from "./sheetmap.mjs";
import { trying } from "./say.mjs";

const MOST_HELD = 8;
const MOST_IDS = 12;

/** Keep part 4 up to date. */
export function start(opened) {
  const shelf = jobsOf(opened);
  const place = one("#made-place");
  const going = h("div", { class: "made-now", "aria-live": "polite" });
  const current = h("div", { class: "made-current" });
  const older = h("div", { class: "made-older" });
  fill(place, current, going, older);
  let make = null;

  function show(jobs) {
    const job = latest(jobs);
    figures(jobs, job);
    refill(current, [jobs, make?.state], () => (job ? family(opened, shelf, job, jobs, make) : empty(opened)));
    const before = jobs.filter((each) => each.remake_of === null && each !== job).reverse();
    refill(older, before, () => before.length > 0 && [
      h("h3", {}, "Made before"),
      before.map((each) => h("details", { class: "fold" }, h("summary", {}, headline(each)), family(opened, shelf, each, jobs, make))),
    ]);
  }

  opened.on("jobs", show);
  opened.on("make", (now) => {
    const changed = now.state !== make?.state;
    if (changed && make?.state === "running" && now.job) tell(opened, now);
    make = now;
    if (changed && shelf.jobs) show(shelf.jobs);
    refill(going, [now.state, now.stage, now.changed, now.remake], () => underWay(opened, shelf, now));
  });
  if (shelf.jobs) show(shelf.jobs);
}

/** Wherever somebody is on the docket: it is done. */
function tell(opened, now) {
  opened.offer(now.remake ? `The spoiled pieces are made again: job ${now.job}.` : `The files are made: job ${now.job}.`,
    { label: "See it", run: () => opened.show("part", { id: "make" }) });
}

function figures(jobs, job) {
  const place = one("#make-figures");
  if (!job) return fill(place, "nothing made yet");
  const spoiled = jobs.reduce((sum, each) => sum + outstanding(each).length, 0);
  return fill(place, `job ${job.number}: ${number(job.totals.rows ?? 0)} in = `, h("b", {}, `${number(job.totals.made ?? 0)} made`), " + ", h("b", {}, `${number(job.totals.held ?? 0)} held`),
    job.stale && ", changed since", spoiled > 0 && [", ", h("b", {}, `${number(spoiled)} spoiled`)]);
}

function empty(opened) {
  return h("div", { class: "empty" }, h("p", {}, "No files yet. They are made together with the sheets."), h("a", { class: "btn", href: "#lay-out" }, "Fill the sheets"));
}

/** A remake that is under way, or was refused; a job from the list is followed in part 3. */
function underWay(opened, shelf, now) {
  if (now.state === "running") return h("p", { class: "note" }, h("b", {}, `${now.stage} … `), h("a", { href: "#lay-out" }, "follow it in 3 Lay out"));
  if (now.state !== "failed" || !now.remake) return null;
  return problemNote(now.problem);
}

const headline = (job) => `Job ${job.number}, ${moment(job.at)}: ${count(job.totals.pieces ?? 0, "piece")}`;

/** A job and its remakes. */
function family(opened, shelf, job, jobs, make) {
  const remakes = remakesOf(job, jobs);
  return [
    single(opened, shelf, job),
    remakes.map((each) => h("details", { class: "fold remake", open: each === remakes.at(-1) },
      h("summary", {}, `Remake, job ${each.number}, ${moment(each.at)}: ${some(each.pieces_again)}`), single(opened, shelf, each))),
    again(opened, [job, ...remakes], make),
  ];
}

function single(opened, shelf, job) {
  return h("article", { class: "job", "aria-label": `Job ${job.number}` },
    h("div", { class: "job-head" },
      h("h3", {}, job.remake_of === null ? `Job ${job.number}` : `Remake of ${some(job.pieces_again)}`),
      h("p", { class: "soft" }, moment(job.at)),
      job.files.length > 0 && h("p", {}, adds(job))),
    job.stale && h("div", { class: "note", data: { kind: "look" } },
      h("p", {}, "The docket, its template or the workshop was changed since: these files are those of before. ", h("a", { href: "#lay-out" }, "Fill the sheets anew"), " before you cut.")),
    !job.whole && problemNote({ what: "Something of this job is gone from its folder.", details: job.missing.slice(0, MOST_HELD) }),
    job.files.length > 0 && [
      sheetBound(job.totals),
      held(job),
      downloads(opened, job),
      job.notes.length > 0 && h("details", { class: "fold" }, h("summary", {}, `${count(job.notes.length, "note")} on the whole job`), h("ul", {}, job.notes.map((note) => h("li", {}, note)))),
      job.sheets.length > 0 && h("section", { class: "job-after" }, h("h4", {}, "After cutting"),
        h("p", { class: "soft" }, "Open a sheet to mark spoiled pieces, or to measure a print that lies askew."), thumbnails(shelf, job)),
    ]);
}

/** Counts that add up in sight. */
function adds({ totals, remake_of }) {
  if (remake_of !== null) return count(totals.pieces, "piece");
  const spares = totals.spares ? `, ${count(totals.spares, "spare")} among them` : "";
  return [h("b", {}, `${number(totals.rows)} in = ${number(totals.made)} made + ${number(totals.held)} held`), `; ${count(totals.pieces, "piece")}${spares}`];
}

function held(job) {
  if (!job.held.length) return null;
  return h("div", { class: "note", data: { kind: "held" } },
    h("p", {}, h("strong", {}, `${count(job.held.length, "line")} held and not on the sheets`)),
    h("ul", {}, job.held.slice(0, MOST_HELD).map(({ line, message }) => h("li", {}, own(message), " ", h("a", { class: "held-open", href: `#line-${line}` }, `Open line ${line}`)))),
    job.held.length > MOST_HELD && h("p", {}, `and ${number(job.held.length - MOST_HELD)} more; all are in held.csv.`));
}

/** What is spoiled in a job and its remakes, and the way to have it again. */
function again(opened, jobs, make) {
  const pieces = jobs.flatMap(outstanding);
  if (!pieces.length) return null;
  const faces = jobs[0].faces.length > 1 ? jobs[0].faces : [];
  const boards = jobs.flatMap((job) => job.sheets.filter((sheet) => sheet.kind === "board"));
  const chosen = faces.map((face) => tick(FACES[face], true, face));
  const onto = boards.map((board) => tick(board.id, false, board.id));
  const changed = make?.state === "failed" && make.changed ? tick("Something was changed since: make them as it is now", false, "now") : null;
  const ask = (asked) => trying(() => post(opened.at(`jobs/${jobs[0].number}/remake`), asked));
  return h("section", { class: "again", data: { job: jobs[0].number }, "aria-label": "Make spoiled pieces again" },
    h("h3", {}, `${count(pieces.length, "piece")} spoiled`),
    h("p", {}, some(pieces), ". The same pieces come on new sheets; their numbers go on."),
    faces.length > 0 && h("fieldset", {}, h("legend", {}, "What of them"), chosen.map((each) => each.label)),
    boards.length > 0 && h("fieldset", {}, h("legend", {}, "Boards with room left, cut from first"), onto.map((each) => each.label)),
    changed?.label,
    h("div", { class: "btns" }, button("Make them again", () => {
      const wanted = ticked(chosen);
      if (faces.length && !wanted.length) return chosen[0].box.focus();
      return ask({ faces: wanted.length === faces.length ? [] : wanted, onto: ticked(onto), as_now: changed?.box.checked ?? false });
    }, { kind: "main", disabled: make?.state === "running" })));
}

const FACES = { front: "the printed fronts", back: "the printed backs", board: "the boards" };

function tick(told, checked, value) {
  const box = h("input", { type: "checkbox", checked, value });
  return { box, label: h("label", { class: "tick" }, box, told) };
}

const ticked = (all) => all.filter(({ box }) => box.checked).map(({ box }) => box.value);

/** "L4-1, L5-2 and 3 more" */
function some(ids) {
  const more = ids.length - MOST_IDS;
  return ids.slice(0, MOST_IDS).join(", ") + (more > 0 ? ` and ${number(more)} more` : "");
}
