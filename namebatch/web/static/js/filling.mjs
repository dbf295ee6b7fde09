/** Filling the sheets and making the files: the button, how far it is, enough, stop. */

import { get, post, remove } from "./api.mjs";
import { all, fill, h, refill, s } from "./dom.mjs";
import { count, number, percent } from "./figures.mjs";
import { button, problemNote } from "./forms.mjs";
import { sheetPicture } from "./sheetpicture.mjs";
import { trying } from "./say.mjs";

const MOST_DRAWN = 60;
const LAYING_MS = 1600; // from the first piece of a sheet to the last

/** Builds the box in `place` and keeps it up to date. */
export function filling(opened, place) {
  const start = h("div", { class: "btns" });
  const going = h("div", { class: "filling-going", hidden: true });
  const ended = h("div", { class: "filling-ended", "aria-live": "polite" });
  const bar = h("progress", { "aria-label": "How far the making is" });
  const stage = h("p", { class: "filling-stage", role: "status" });
  const sheets = h("div", { class: "filling-sheets" });
  const enough = button("Enough: take these sheets", () => trying(() => post(opened.at("make/enough"), {})));
  const stop = button("Stop", () => trying(async () => shown(await remove(opened.at("make")))));
  fill(going, stage, bar, sheets, h("div", { class: "btns" }, enough, stop));
  const laid = h("ul", { class: "sheets filling-laid", hidden: true });
  fill(place, start, going, laid, ended);
  const lay = laying(opened, laid);
  let make = { state: "idle" };

  async function begin() {
    await trying(async () => shown(await post(opened.at("make"), {})));
  }

  function shown(now) {
    const ends = make.state === "running" && now.state !== "running";
    const focused = going.contains(document.activeElement);
    make = now;
    const running = now.state === "running";
    going.hidden = !running;
    place.dataset.state = now.state;
    if (running) progress(now);
    lay(running ? now.laid : 0);
    refill(ended, [now.state, now.problem, now.job], () => outcome(now));
    ways();
    if (ends && focused) start.querySelector("button, a")?.focus();
  }

  function progress(now) {
    const searched = now.share !== null;
    stage.textContent = now.stage;
    if (searched) bar.max = 1;
    else bar.max = now.total || 1;
    if (searched) bar.value = now.share;
    else if (now.total) bar.value = now.done;
    else bar.removeAttribute("value");
    enough.hidden = !searched;
    fill(sheets, told(now));
  }

  /** What can be begun now. */
  function ways() {
    const docket = opened.now;
    const counts = docket?.counts;
    const nothing = Boolean(counts) && counts.made + counts.waiting === 0;
    const blocked = !docket || docket.problem !== null || !docket.list_name || nothing;
    const running = make.state === "running";
    refill(start, [running, blocked, docket?.jobs, docket?.counts], () => running ? null : [
      button(docket?.jobs ? "Fill the sheets anew" : "Fill the sheets and make the files", begin, { kind: "main", id: "filling-start", disabled: blocked }),
      h("p", { class: "soft" }, nothing ? noneMade(counts) : blocked ? "There is nothing to lay out yet." : amount(docket)),
    ]);
  }

  opened.on("docket", ways);
  opened.on("make", shown);
  ways();
}

/** Draws the sheets of a job as they are filled; called with how many there are, with 0 once it is over. */
function laying(opened, place) {
  let job = { wanted: 0, drawn: 0, busy: false };

  async function next(mine) {
    mine.busy = true;
    while (mine.drawn < mine.wanted) {
      mine.drawn += 1;
      const map = await get(opened.at(`make/sheets/${mine.drawn}`)).catch(() => null); // it may be over by now
      if (map && mine === job) place.append(sheet(map));
    }
    mine.busy = false;
  }

  return (now) => {
    if (now < job.wanted) {
      job = { wanted: 0, drawn: 0, busy: false };
      fill(place);
    }
    job.wanted = now;
    place.hidden = now === 0;
    if (!job.busy && job.drawn < now) next(job);
  };
}

/** A sheet whose pieces come one after the other, for those who like things to move. */
function sheet(map) {
  const picture = sheetPicture(map);
  const pieces = all(".sheet-piece", picture);
  for (const [at, piece] of pieces.entries()) piece.style.setProperty("--wait", `${Math.round((at / pieces.length) * LAYING_MS)}ms`);
  return h("li", { class: "sheet-small", data: { kind: map.kind } }, h("span", { class: "sheet-thumb" }, picture),
    h("p", { class: "sheet-line" }, h("b", {}, map.id), h("span", {}, count(new Set(map.placements.map(({ piece }) => piece)).size, "piece"))));
}

/** Why there is nothing to make of a list, and where to mend that. */
const noneMade = ({ lines }) =>
  ["Nothing can be made yet: ", lines === 1 ? "the only line is held" : `all ${number(lines)} lines are held`, ". ",
    h("a", { href: "#list" }, "Mend what the list lacks"), " or ", h("a", { href: "#look" }, "see what holds them"), "."];

/** What goes onto the sheets. */
function amount(docket) {
  const { pieces, spares, made, held, left_out: out, waiting, look } = docket.counts ?? {};
  if (pieces === undefined || waiting) return "Lines that were not looked at yet are made along with the others.";
  const more = spares ? ` and ${count(spares, "spare")}: ${count(pieces + spares, "piece")} in all` : "";
  return [`${count(pieces, "piece")} of ${count(made, "line")}${more}`, held > out ? `; ${count(held - out, "line")} held and not made` : "", out ? `; ${count(out, "line")} left out by you` : "", ". ",
    look > 0 && h("b", {}, `${count(look, "line that needs a look is", "lines that need a look are")} among them.`)];
}

function told(now) {
  if (now.sheets !== null) return [row(now.sheets), h("p", {}, h("b", { class: "big" }, now.sheets.toFixed(2)), " sheets so far")];
  if (now.total > 1) return h("p", { class: "soft" }, `${number(now.done)} of ${number(now.total)}`);
  return null;
}

/** The sheets as a row of small ones, the last as full as it is. */
function row(sheets) {
  const whole = Math.ceil(sheets - 1e-9);
  return h("div", { class: "filling-row", "aria-hidden": "true" },
    Array.from({ length: Math.min(whole, MOST_DRAWN) }, (_, at) => {
      const share = Math.min(1, sheets - at);
      return s("svg", { viewBox: "0 0 21 30" },
        s("rect", { class: "filling-full", x: 0, y: 30 * (1 - share), width: 21, height: 30 * share }),
        s("rect", { class: "filling-edge", x: 0.75, y: 0.75, width: 19.5, height: 28.5 }));
    }));
}

function outcome(now) {
  if (now.state === "failed") return problemNote(now.problem ?? { what: "It was not made." });
  if (now.state === "stopped") return h("p", { class: "note" }, "Stopped. Nothing of it is left; what was made before is as it was.");
  if (now.state === "done" && now.job) {
    return h("p", { class: "note" }, now.remake ? "The spoiled pieces are made again: " : "The files are made: ", h("a", { href: "#make" }, `job ${now.job} in 4 Make`), ".");
  }
  return null;
}
