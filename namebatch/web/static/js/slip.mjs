/** The slip: one piece opened large, with its figures, its findings and everything that can be changed. */

import { get, post, Problem, put } from "./api.mjs";
import { fill, h, one, texts } from "./dom.mjs";
import { badge, button, problemNote } from "./forms.mjs";
import { number } from "./figures.mjs";
import { keys, showKeys } from "./keys.mjs";
import { Keeping } from "./keeping.mjs";
import { showLike } from "./like.mjs";
import { HELD_BY_HAND, lookedAt, sayCannot } from "./looked.mjs";
import { fontChooser, MendForm } from "./mendform.mjs";
import { sameMend } from "./mends.mjs";
import { say, trying } from "./say.mjs";
import { makeReady, SlipPicture } from "./slippicture.mjs";
import { found, listed, measured } from "./slipfigures.mjs";
import { layOut } from "./slipform.mjs";
import { standing, where } from "./states.mjs";
import { Trying } from "./trying.mjs";

const HELD = "Held: there is no piece to see. What keeps it is told below.";

/** Open slips when they are asked for. */
export function start(opened) {
  return new Slip(opened);
}

class Slip {
  #ask = 0;
  #trying;
  #keeping;

  constructor(opened) {
    this.opened = opened;
    this.looked = lookedAt(opened);
    this.detail = null;
    this.fonts = null;
    this.box = layOut({
      before: () => this.step(-1),
      next: () => this.step(1),
      close: () => this.close(),
      approve: () => this.approve(),
      hold: () => this.hold(),
      undo: () => this.undo(),
      back: () => this.#settle(null),
    });
    this.picture = new SlipPicture(one(".slip-picture", this.box));
    this.form = new MendForm(one(".mend", this.box), {
      typing: (mend) => this.#writing(mend),
      settled: () => this.#keeping.soon(() => this.#settle(this.form.mend)),
      wrong: (told) => this.#tell(told),
    });
    this.#trying = new Trying(({ line, mend }) => post(opened.at(`rows/${line}/try`), { mend }), {
      answered: (answer) => this.#tried(answer),
      failed: (error) => this.#refused(error),
    });
    this.#keeping = new Keeping((line, mend) => put(opened.at(`rows/${line}/mend`), { mend }), {
      known: () => this.detail.mend,
      begins: () => this.#tell("Keeping …"),
      same: () => this.#asItWas(),
      kept: (detail, mend) => this.#wasKept(detail, mend),
      refused: (error) => this.#refused(error),
    });
    document.body.append(this.box);
    this.#listen();
  }

  /** Open the slip of a line, or turn it to that line. */
  async open(line) {
    await this.#kept();
    const ask = ++this.#ask;
    const asked = [get(this.opened.at(`rows/${line}`)), this.fonts ?? get("/api/fonts").then(fontChooser)];
    const [detail, fonts] = (await trying(() => Promise.all(asked))) ?? [];
    if (!detail || ask !== this.#ask) return;
    if (!this.box.open) {
      this.box.append(one("#said")); // what is said at the foot would be behind a dialog
      this.box.showModal();
      one(".slip-title", this.box).focus();
    }
    history.replaceState(null, "", `#line-${line}`);
    this.fonts = fonts;
    this.form.show(detail, fonts);
    this.#problem(null);
    this.#tell("");
    this.#show(detail);
    one(".slip-see", this.box).scrollTop = 0;
    const next = this.looked.row(this.#beside(1));
    if (next?.picture) makeReady(large(this.opened, next));
  }

  async step(by) {
    const line = this.#beside(by);
    if (line === null) {
      say(by > 0 ? "That was the last piece on the wall." : "That is the first piece on the wall.");
      return;
    }
    await this.open(line);
  }

  async close() {
    await this.#kept();
    this.box.close();
  }

  /** Approve and go on to the next; where it is approved already, take that back. */
  async approve() {
    await this.#kept();
    const { detail } = this;
    if (detail.state !== "made") {
      sayCannot(detail);
      return;
    }
    const yes = detail.approved !== "yes";
    await this.looked.approve([detail.line], yes);
    if (yes && this.#beside(1) !== null) await this.step(1);
    else await this.#again();
  }

  async hold() {
    await this.#kept();
    const reason = one("[name=reason]", this.box).value.trim() || HELD_BY_HAND;
    const detail = await this.looked.hold(this.detail.line, reason);
    if (detail) this.#turn(detail);
  }

  /** Take the last step back, or with "redo" again. */
  async undo(way = "undo") {
    await this.#kept();
    await this.opened[way]();
    await this.#again();
  }

  #listen() {
    this.opened.on("slip", ({ line }) => this.open(line));
    this.looked.hear((lines) => {
      if (!this.box.open || (lines !== null && !lines.includes(this.detail.line))) return;
      if (this.#keeping.open || this.#trying.open || sameRow(this.detail, this.looked.row(this.detail.line))) return;
      this.#again();
    });
    this.box.addEventListener("close", () => {
      document.body.append(one("#said"));
      history.replaceState(null, "", "#look");
      this.picture.clear();
      this.opened.show("stand", { line: this.detail.line });
    });
    this.box.addEventListener("cancel", (event) => {
      event.preventDefault(); // Escape keeps what was changed, as every way out does
      this.close();
    });
    keys(this.box, "On a slip", [
      { key: "ArrowRight", shown: "→", told: "next piece on the wall", run: () => this.step(1) },
      { key: "ArrowLeft", shown: "←", told: "piece before", run: () => this.step(-1) },
      { key: "a", told: "approve it and go on, or take that back", run: () => this.approve() },
      { key: "h", told: "hold it by hand, or release it", run: () => this.hold() },
      { key: "e", told: "change what it says", run: () => one(".mend input", this.box)?.focus() },
      { key: "Ctrl+z", shown: "Ctrl Z", told: "undo", run: () => this.undo() },
      { key: ["Ctrl+Shift+z", "Ctrl+y"], shown: "Ctrl Y", told: "do it again", run: () => this.undo("redo") },
      { key: "Escape", shown: "Esc", told: "close; what was changed is kept", run: () => this.close() },
      { key: "?", told: "", run: showKeys },
    ]);
  }

  /** The line beside this one as they hang; null at the end. Of a piece that does not hang: in the list. */
  #beside(by) {
    const { order } = this.looked;
    const at = order.indexOf(this.detail.line);
    if (at >= 0) return order[at + by] ?? null;
    return by > 0 ? this.detail.next_line : this.detail.previous;
  }

  #writing(mend) {
    this.#keeping.wait();
    this.#tell("Not kept yet. Enter keeps it.");
    this.#trying.want({ line: this.detail.line, mend });
  }

  #tried(answer) {
    this.#problem(null);
    this.form.update(answer);
    this.#draw(answer, answer.picture_svg);
  }

  #settle(mend) {
    this.#trying.drop();
    return this.#keeping.now(this.detail.line, mend);
  }

  #asItWas() {
    if (this.#trying.open) return;
    this.#tell("");
    this.form.update(this.detail);
    this.#draw(this.detail);
  }

  #wasKept(detail, mend) {
    this.#problem(null);
    this.looked.pieces.put(detail);
    this.opened.refresh();
    if (detail.line !== this.detail.line) return;
    if (this.#trying.open) this.detail = detail; // somebody goes on writing; what is tried now is newer
    else this.#turn(detail, mend !== null);
    this.#tell("Kept. Ctrl Z or Undo takes it back.");
  }

  /** Wait until nothing is unsaved; every way to another piece or out goes through here. */
  async #kept() {
    if (!this.box.open) return;
    if (this.#keeping.open || this.#trying.open) this.#settle(this.form.mend);
    await this.#keeping.done();
  }

  #refused(error) {
    this.#tell("Not kept.");
    if (!(error instanceof Problem)) throw error;
    this.#problem(error);
  }

  async #again() {
    const { line } = this.detail;
    const detail = await trying(() => get(this.opened.at(`rows/${line}`)));
    if (detail && detail.line === this.detail.line) this.#turn(detail, sameMend(detail.mend, this.detail.mend));
  }

  /** Show what is known now; the blanks stay where they say what is kept already. */
  #turn(detail, blanksStay = false) {
    if (blanksStay) this.form.update(detail);
    else this.form.show(detail, this.fonts);
    this.#show(detail);
  }

  #show(detail) {
    this.detail = detail;
    this.#draw(detail);
    this.#ways(detail);
    fill(one(".slip-more", this.box), listed(detail));
    const like = (group, each, label) => this.looked.like(detail.line, group, each, label);
    showLike(one(".slip-like", this.box), detail, like);
    if (document.activeElement === document.body) one(".slip-title", this.box).focus(); // what had it is gone
  }

  /** How a piece is, or with `svg` how it would be; null where it would be held. */
  #draw(detail, svg) {
    const { box } = this;
    const { order } = this.looked;
    const { state, words } = standing(detail);
    const at = order.indexOf(detail.line);
    const place = at >= 0 && h("span", { class: "soft" }, ` · ${number(at + 1)} of ${number(order.length)} on the wall`);
    fill(one(".slip-where", box), where(detail), place);
    fill(one(".slip-title", box), detail.text ? texts(detail.text) : "Nothing to set");
    fill(one(".slip-state", box), badge(state, words));
    fill(one(".slip-figures", box), measured(detail));
    fill(one(".slip-findings", box), found(detail));
    this.#see(detail, svg);
  }

  #ways(detail) {
    const approve = one(".slip-approve", this.box);
    const approved = detail.approved === "yes";
    approve.textContent = approved ? "Take approval back" : this.#beside(1) === null ? "Approve" : "Approve, next";
    approve.setAttribute("aria-disabled", String(detail.state !== "made"));
    one(".slip-hold", this.box).textContent = detail.held_by_hand ? "Release it" : "Hold it";
    one(".slip-reason", this.box).hidden = detail.held_by_hand;
    one(".slip-back", this.box).hidden = !detail.mend;
  }

  #see(detail, svg) {
    this.picture.shape(this.looked.ratio);
    const told = `${where(detail)}: ${detail.text}, as it will be cut`;
    if (svg) this.picture.draw(svg, told);
    else if (svg === undefined && detail.picture) this.picture.show(large(this.opened, detail), told);
    else this.picture.show(null, detail.state === "waiting" ? "Being made …" : HELD);
  }

  #tell(words) {
    one(".slip-said", this.box).textContent = words;
  }

  #problem(error) {
    fill(one(".slip-problem", this.box), error && problemNote(error));
  }
}

const large = (opened, { line, picture }) => opened.at(`rows/${line}/picture.svg?digest=${picture}&large=1`);

const SEEN = ["text", "picture", "state", "approved", "mended", "held_by_hand", "quantity", "message"];
const sameRow = (detail, row) => !row || SEEN.every((key) => detail[key] === row[key]);
