/** Part 2, LOOK: the wall of pieces, what hangs on it, keys and clicks. */

import { get } from "./api.mjs";
import { fill, h, one, own } from "./dom.mjs";
import { chosen, FilterBar } from "./filters.mjs";
import { count, number } from "./figures.mjs";
import { button } from "./forms.mjs";
import { Hanging } from "./hanging.mjs";
import { keys } from "./keys.mjs";
import { lookedAt, sayCannot } from "./looked.mjs";
import { trying } from "./say.mjs";
import { reasonItems } from "./reasons.mjs";
import { stateOf, tally } from "./states.mjs";
import { Urging } from "./urging.mjs";
import { leavePicture, makeTile, showPicture, showTile } from "./tile.mjs";

const SETTLES_MS = 250;

/** Hang the pieces of a docket and keep them up to date. */
export function start(opened) {
  return new Wall(opened);
}

class Wall {
  #settling = 0;
  #template = null;
  #current = null;
  #making = false;

  constructor(opened) {
    this.opened = opened;
    this.looked = lookedAt(opened);
    this.pieces = this.looked.pieces;
    this.list = one("#wall");
    const address = (line, digest) => opened.at(`rows/${line}/picture.svg?digest=${digest}`);
    this.hanging = new Hanging(this.list, one("#tile-gauge"), {
      make: makeTile,
      show: (tile) => this.#show(tile),
      picture: (tile, inSight) => showPicture(tile, address, inSight),
      leave: leavePicture,
      covered: () => stubCovers(this.list),
      rest: (lines) => this.urging.want(lines.filter((line) => this.looked.row(line)?.state === "waiting")),
    });
    this.urging = new Urging((line) => opened.at(`rows/${line}`));
    this.bar = new FilterBar(one("#wall-filters"), () => this.hang());
    this.#listen();
    this.#keys();
    opened.on("docket", (docket) => this.#docket(docket));
  }

  get rows() {
    return [...this.pieces.rows.values()];
  }

  /** Hang what is wanted, in the wanted order. */
  hang() {
    const lines = chosen(this.rows, this.bar.wish);
    const focused = this.list.contains(document.activeElement);
    this.looked.order = lines;
    this.#making = tally(this.rows).waiting > 0;
    if (!lines.includes(this.#current)) this.#current = lines[0] ?? null;
    this.list.hidden = lines.length === 0;
    this.hanging.pin(this.#current);
    this.hanging.hang(lines);
    this.hanging.renew(null);
    if (focused && this.#current !== null) this.stand(this.#current);
    this.#tell();
  }

  /** Put the keyboard on a piece and bring it into sight. */
  stand(line) {
    const tile = this.hanging.reveal(line) ?? this.hanging.reveal(this.#current);
    if (!tile) return;
    this.#moveTo(tile.row.line);
    one(".tile-open", tile).focus({ preventScroll: true });
  }

  #docket(docket) {
    const there = docket.counts !== null && docket.counts !== undefined;
    if (!there) one("#wall-why").hidden = true;
    for (const id of ["wall-filters", "wall-line", "wall-end"]) one(`#${id}`).hidden = !there;
    if (!there) {
      this.list.hidden = true;
      this.pieces.clear();
      fill(one("#look-figures"), "nothing to look at yet");
      fill(one("#wall-empty"), nothingYet(docket));
      return;
    }
    this.#shape(docket.template?.name);
    if (this.pieces.missing) this.pieces.load();
  }

  async #shape(name) {
    if (!name || name === this.#template) return;
    this.#template = name;
    const templates = (await trying(() => get("/api/templates"))) ?? [];
    const found = templates.find((each) => each.name === name);
    if (!found) return;
    this.looked.ratio = pictureRatio(found);
    this.hanging.shape(this.looked.ratio);
  }

  #listen() {
    this.looked.hear((lines) => this.#changed(lines));
    this.opened.on("stand", ({ line }) => this.stand(line));
    this.list.addEventListener("click", (event) => {
      const tile = event.target.closest(".tile");
      if (!tile) return;
      const { line } = tile.row;
      this.#moveTo(line);
      if (event.target.closest(".tile-tick")) this.looked.approve([line], tile.row.approved !== "yes");
      else this.opened.show("slip", { line });
    });
    this.list.addEventListener("focusin", (event) => {
      const tile = event.target.closest(".tile");
      if (tile) this.#moveTo(tile.row.line);
    });
  }

  #changed(lines) {
    if (lines === null) {
      this.hang();
      return;
    }
    this.hanging.renew(lines);
    this.#settling ||= setTimeout(() => {
      this.#settling = 0;
      this.#settle();
    }, SETTLES_MS);
  }

  /** After changes: nothing that hangs is moved under anyone's hand; what has come to fit is hung at the end. */
  #settle() {
    const making = tally(this.rows).waiting > 0;
    const made = this.#making && !making;
    this.#making = making;
    if (made && !this.#inUse()) {
      this.hang();
      return;
    }
    const hanging = new Set(this.looked.order);
    const wanted = chosen(this.rows, this.bar.wish);
    const more = wanted.filter((line) => !hanging.has(line));
    if (more.length > 0) {
      this.looked.order = [...this.looked.order, ...more];
      this.list.hidden = false;
      this.#current ??= more[0];
      this.hanging.hang(this.looked.order);
    }
    this.#tell(String(wanted) !== String(this.looked.order));
  }

  #inUse() {
    const scrolled = this.list.getBoundingClientRect().top < 0;
    return scrolled || this.list.contains(document.activeElement) || one("dialog:modal") !== null;
  }

  #show(tile) {
    const line = Number(tile.dataset.line);
    showTile(tile, this.pieces.rows.get(line));
    one(".tile-open", tile).tabIndex = line === this.#current ? 0 : -1;
  }

  #moveTo(line) {
    if (line === this.#current) return;
    const before = this.hanging.tile(this.#current);
    this.#current = line;
    this.hanging.pin(line);
    for (const tile of [before, this.hanging.tile(line)]) if (tile) this.#show(tile);
  }

  #tell(outOfDate = false) {
    const { rows } = this;
    const all = tally(rows);
    this.bar.show(rows);
    const shown = this.looked.order.length;
    // what needs a look is approved in one go only by whoever looks at those alone
    const alone = this.bar.wish.state === "look";
    const some = this.looked.order.filter((line) => approvable(this.looked.row(line)));
    const open = some.filter((line) => alone || stateOf(this.looked.row(line)) !== "look");
    fill(one("#look-figures"), figures(all));
    const why = alone ? reasonItems(some.map((line) => this.looked.row(line))) : [];
    fill(one("#wall-reasons"), why);
    one("#wall-why").hidden = why.length === 0;
    fill(one("#wall-count"), shown === all.all ? `All ${count(shown, "line")} hang here.` : `${number(shown)} of ${count(all.all, "line")} hang here.`);
    fill(
      one("#wall-ways"),
      outOfDate && button("Sort them again", () => this.hang()),
      open.length > 1 && button(approveWords(open.length, some.length - open.length), () => this.looked.approve(open)),
    );
    const none = shown === 0 && all.all > 0;
    fill(one("#wall-empty"), none && nothingFits(this.bar, this.opened));
    one("#wall-line").hidden = none;
  }

  #keys() {
    const by = (step) => () => {
      const to = this.hanging.index(this.#current) + step();
      this.stand(this.hanging.line(Math.min(this.hanging.length - 1, Math.max(0, to))));
    };
    const across = () => this.hanging.columns;
    const page = () => this.hanging.inSight * across();
    const row = () => this.pieces.rows.get(this.#current);
    keys(this.list, "On the wall of pieces", [
      { key: "ArrowRight", shown: "→", told: "next piece", run: by(() => 1) },
      { key: "ArrowLeft", shown: "←", told: "piece before", run: by(() => -1) },
      { key: "ArrowDown", shown: "↓", told: "piece below", run: by(across) },
      { key: "ArrowUp", shown: "↑", told: "piece above", run: by(() => -across()) },
      { key: "PageDown", shown: "Page ↓", told: "a screen on", run: by(page) },
      { key: "PageUp", shown: "Page ↑", told: "a screen back", run: by(() => -page()) },
      { key: "Home", told: "first piece", run: by(() => -this.hanging.length) },
      { key: "End", told: "last piece", run: by(() => this.hanging.length) },
      { key: "Enter", told: "open it large", run: () => this.opened.show("slip", { line: this.#current }) },
      { key: "a", told: "approve it, or take that back", run: () => this.#approve(row()) },
      { key: "h", told: "hold it by hand, or release it", run: () => this.looked.hold(this.#current) },
    ]);
    keys(document, "Look", [
      { key: "/", told: "find a name or a line", run: () => this.#find() },
    ]);
    this.bar.find.addEventListener("keydown", (event) => {
      if (event.key === "Enter" && this.#current !== null) this.stand(this.looked.order[0]);
    });
  }

  #approve(row) {
    if (row.state === "made") return this.looked.approve([row.line], row.approved !== "yes");
    return sayCannot(row);
  }

  #find() {
    one("#look").open = true;
    this.bar.find.focus();
    this.bar.find.select();
  }
}

/** On narrow screens the stub stays at the top, over the wall. */
function stubCovers(list) {
  const stub = one("#stub").getBoundingClientRect();
  return stub.right > list.getBoundingClientRect().left ? stub.height : 0;
}

/** What the button says that approves all that is shown, but for what needs a look. */
function approveWords(open, left) {
  const rest = left > 0 ? `, not the ${number(left)} to look at` : "";
  return `Approve ${count(open, "line")} shown${rest}`;
}

const approvable = (row) => row && row.state === "made" && row.approved !== "yes";

/** Width of a wall picture by its height, before any has come. */
function pictureRatio({ size_mm: [wide, high], faces }) {
  const ratio = (Math.max(1, faces.length) * wide) / high;
  return Math.min(3.2, Math.max(0.8, ratio));
}

function figures(all) {
  const parts = [["look", all.look === 1 ? "needs a look" : "need a look"], ["held", "held"], ["approved", "approved"], ["waiting", "being made"]];
  const told = parts.filter(([state]) => all[state] > 0).map(([state, word]) => [h("b", {}, number(all[state])), ` ${word}`]);
  if (told.length === 0) return `${count(all.all, "line")}, none approved yet`;
  return told.flatMap((each, index) => (index > 0 ? [" · ", ...each] : each));
}

function nothingYet(docket) {
  const told = docket.problem
    ? ["Nothing can be shown yet: ", docket.problem.what]
    : "Nothing hangs here yet. Give a list and choose a template in part 1; the pieces then hang here, one for each line.";
  return h("div", { class: "empty" }, h("p", {}, told), h("p", {}, h("a", { class: "btn", href: "#list" }, "Go to 1 List")));
}

function nothingFits(bar, opened) {
  const { words, state } = bar.wish;
  const told = words
    ? ["No piece here has “", own(words), "” in its name, line or order."]
    : { look: "No piece needs a look.", held: "No line is held: all of them can be made." }[state] ?? "No piece is among these.";
  const all = button("Show all pieces", () => bar.reset());
  const on = state === "look" && !words && h("a", { class: "btn btn-main", href: "#lay-out" }, "Go on to 3 Lay out");
  return h("div", { class: "empty", data: { docket: opened.number } }, h("p", {}, told), h("div", { class: "btns" }, on, all));
}
