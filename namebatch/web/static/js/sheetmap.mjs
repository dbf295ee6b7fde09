/** Sheets small in a row, and one opened large: what lies where, what was spoiled, how a print lies. */

import { alignBox } from "./align.mjs";
import { put } from "./api.mjs";
import { all, fill, h, one, texts } from "./dom.mjs";
import { count, percent, size } from "./figures.mjs";
import { button } from "./forms.mjs";
import { keys } from "./keys.mjs";
import { markSpoiled, sheetLine, sheetPicture, standing } from "./sheetpicture.mjs";
import { trying } from "./say.mjs";

const NEAR = "300px";
let shown = null;

/** All sheets of a job as small pictures that open large. */
export function thumbnails(shelf, job) {
  const watch = new IntersectionObserver((entries) => {
    for (const { isIntersecting, target } of entries) {
      if (!isIntersecting) continue;
      watch.unobserve(target);
      draw(shelf, job, target);
    }
  }, { rootMargin: NEAR });
  return h("ul", { class: "sheets", data: { job: job.number } }, job.sheets.map((sheet) => {
    const place = h("span", { class: "sheet-thumb", data: { sheet: sheet.id }, style: { "aspect-ratio": `${sheet.size_mm[0]} / ${sheet.size_mm[1]}` } });
    watch.observe(place);
    return h("li", { class: "sheet-small", data: { kind: sheet.kind } },
      h("button", { type: "button", class: "sheet-open", "aria-label": `Open ${sheet.id} large`, on: { click: () => openSheet(shelf, job, sheet.id) } }, place),
      sheetLine(sheet));
  }));
}

async function draw(shelf, job, place) {
  const map = await trying(() => shelf.map(job, place.dataset.sheet));
  if (!map) return;
  const picture = sheetPicture(map);
  markSpoiled(picture, now(shelf, job));
  fill(place, picture);
}

/** Open one sheet large. */
export async function openSheet(shelf, job, id) {
  const map = await trying(() => shelf.map(job, id));
  if (!map) return;
  shown ??= new Large();
  shown.show(shelf, job, id, map);
}

/** The job as it is known now. */
const now = (shelf, job) => shelf.jobs?.find((each) => each.number === job.number) ?? job;

class Large {
  #keeping = Promise.resolve();

  constructor() {
    this.title = h("h2", { id: "sheet-title", tabindex: "-1" });
    this.figures = h("p", { class: "soft" });
    this.before = button("‹", () => this.#step(-1), { "aria-label": "The sheet before" });
    this.after = button("›", () => this.#step(1), { "aria-label": "The next sheet" });
    this.picture = h("div", { class: "sheet-large" });
    this.side = h("div", { class: "sheet-side" });
    this.box = h("dialog", { class: "sheet-box", "aria-labelledby": "sheet-title", on: { close: () => this.#closed() } },
      h("header", { class: "sheet-head" }, h("div", {}, this.title, this.figures),
        h("div", { class: "btns" }, this.before, this.after, button("Close", () => this.box.close()))),
      h("div", { class: "sheet-body" }, this.picture, this.side));
    this.picture.addEventListener("click", (event) => {
      const piece = event.target.closest?.(".sheet-piece")?.dataset.piece;
      if (piece) this.#toggle(piece);
    });
    keys(this.box, "A sheet opened large", [
      { key: "ArrowLeft", shown: "←", told: "the sheet before", run: () => this.#step(-1) },
      { key: "ArrowRight", shown: "→", told: "the next sheet", run: () => this.#step(1) },
    ]);
    document.body.append(this.box);
  }

  show(shelf, job, id, map) {
    Object.assign(this, { shelf, job, id, map });
    const sheet = job.sheets.find((each) => each.id === id);
    const at = job.sheets.indexOf(sheet);
    fill(this.title, `${id} of job ${job.number}`);
    fill(this.figures, [size(sheet.size_mm, 0), count(sheet.pieces, "piece"), `${percent(sheet.fill)} used`].join(" · "));
    this.before.disabled = at === 0;
    this.after.disabled = at === job.sheets.length - 1;
    fill(this.picture, sheetPicture(map, { ids: true }));
    this.list = h("ul", { class: "sheet-pieces" });
    this.state = h("p", { role: "status" });
    this.remake = button("Go to “Make them again”", () => this.#again(), { hidden: true });
    fill(this.side,
      h("section", { "aria-labelledby": "sheet-spoiled" },
        h("h3", { id: "sheet-spoiled" }, "Spoiled?"),
        h("p", { class: "soft" }, "After cutting, mark what has to be made again: here, or on the map."),
        this.state, this.remake, this.list),
      alignBox(shelf, job, map));
    this.#mark();
    if (!this.box.open) {
      this.box.append(one("#said")); // what is said at the foot would be behind a dialog
      this.box.showModal();
    }
    this.title.focus();
    this.box.scrollTop = 0;
  }

  /** Pieces as ticks, and their marks on the map. */
  #mark() {
    const job = now(this.shelf, this.job);
    markSpoiled(this.picture, job);
    const pieces = new Map(this.map.placements.map((placed) => [placed.piece, placed]));
    const focused = document.activeElement?.id;
    fill(this.list, [...pieces.values()].map((placed) => this.#tick(placed, job)));
    if (focused?.startsWith("spoiled-")) document.getElementById(focused)?.focus();
    const spoiled = [...pieces.keys()].filter((piece) => standing(piece, job) === "spoiled").length;
    fill(this.state, spoiled ? `${count(spoiled, "piece")} of this sheet to be made again: under 4 Make, at the end of job ${this.job.remake_of ?? this.job.number}.` : "None of this sheet is marked.");
    this.remake.hidden = spoiled === 0;
  }

  #tick(placed, job) {
    const state = standing(placed.piece, job);
    return h("li", { data: { state } }, h("label", { class: "tick" },
      h("input", { type: "checkbox", id: `spoiled-${placed.piece}`, checked: state !== "", on: { change: () => this.#toggle(placed.piece) } }),
      h("span", {}, h("b", {}, placed.piece), " ", texts(placed.text), state === "remade" && h("span", { class: "soft" }, " made again already"))));
  }

  /** One change after the other, each with all that is spoiled then. */
  #toggle(piece) {
    const { shelf, job } = this;
    this.#keeping = this.#keeping.then(() => trying(async () => {
      const { spoiled } = now(shelf, job);
      const pieces = spoiled.includes(piece) ? spoiled.filter((each) => each !== piece) : [...spoiled, piece];
      shelf.take(await put(shelf.opened.at(`jobs/${job.number}/spoiled`), { pieces }));
    })).then(() => this.box.open && this.#mark());
  }

  /** To where the spoiled pieces of the job are made again. */
  #again() {
    const { shelf, job } = this;
    this.box.addEventListener("close", () => {
      shelf.opened.show("part", { id: "make" });
      const place = one(`#make .again[data-job="${job.remake_of ?? job.number}"]`);
      const fold = place?.closest("details:not(.part)");
      if (fold) fold.open = true;
      place?.scrollIntoView({ block: "center" });
      if (place) one(".btn-main", place).focus({ preventScroll: true });
    }, { once: true });
    this.box.close();
  }

  async #step(by) {
    const sheets = this.job.sheets.map((sheet) => sheet.id);
    const id = sheets[sheets.indexOf(this.id) + by];
    if (id) await openSheet(this.shelf, this.job, id);
  }

  #closed() {
    document.body.append(one("#said"));
    const small = all(`.sheets[data-job="${this.job.number}"] .sheet-open:has([data-sheet="${this.id}"])`);
    small.find((each) => each.checkVisibility())?.focus({ preventScroll: true });
  }
}
