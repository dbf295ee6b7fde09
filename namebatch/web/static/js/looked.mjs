/** What wall and slip share: the rows, the order in which they hang, and what is done to them. */

import { get, post, put } from "./api.mjs";
import { count } from "./figures.mjs";
import { tidied } from "./mends.mjs";
import { Pieces } from "./pieces.mjs";
import { say, trying } from "./say.mjs";
import { where } from "./states.mjs";

export const HELD_BY_HAND = "to be looked at again";
const known = new WeakMap();

/** The one `Looked` of an opened docket. */
export function lookedAt(opened) {
  if (!known.has(opened)) known.set(opened, new Looked(opened));
  return known.get(opened);
}

class Looked {
  #opened;
  #heard = [];

  constructor(opened) {
    this.#opened = opened;
    /** The lines as they hang on the wall now. */
    this.order = [];
    /** Width of a picture by its height, before any has come. */
    this.ratio = 1.5;
    this.pieces = new Pieces(opened.at, (lines) => {
      for (const hear of this.#heard) hear(lines);
    });
    opened.on("pieces", ({ lines }) => this.#again(lines));
    opened.on("changed", ({ lines }) => this.#again(lines));
    opened.on("again", () => this.#again(null));
  }

  /** Hear which lines are other ones now; null for all of them. */
  hear(told) {
    this.#heard.push(told);
  }

  row = (line) => this.pieces.rows.get(line);

  /** Approve pieces as they are now, or take that back; one step however many they are. */
  async approve(lines, yes = true) {
    const rows = lines.map(this.row).filter((row) => row?.picture && row.state === "made");
    const other = rows.filter((row) => (row.approved === "yes") !== yes);
    if (other.length === 0) return;
    const digests = Object.fromEntries(other.map((row) => [row.line, yes ? row.picture : null]));
    const word = yes ? "approved" : "no longer approved";
    const told = other.length === 1 ? `${where(other[0])} is ${word}.` : `${count(other.length, "line")} ${word}.`;
    const answer = await this.#opened.change(() => put(this.#opened.at("approvals"), { lines: digests }), told);
    if (answer) await this.pieces.refresh(other.map((row) => row.line));
  }

  /** Hold a piece by hand, or release it. */
  async hold(line, reason = HELD_BY_HAND) {
    const detail = await trying(() => get(this.#opened.at(`rows/${line}`)));
    if (!detail) return undefined;
    const held = !detail.mend?.held;
    const told = held ? `${where(detail)} is held by hand.` : `${where(detail)} is no longer held by hand.`;
    return this.mend(line, { ...detail.mend, held: held ? reason : "" }, told);
  }

  /** Keep what was changed by hand in a piece; null for nothing. Gives back its RowDetail. */
  async mend(line, mend, told) {
    const keep = () => put(this.#opened.at(`rows/${line}/mend`), { mend: mend && tidied(mend) });
    const detail = await this.#opened.change(keep, told);
    if (detail) this.pieces.put(detail);
    return detail;
  }

  /** Do parts of one piece's change to all of a group. */
  async like(line, group, keys, label) {
    const doing = () => post(this.#opened.at("like"), { line, group, keys });
    const answer = await this.#opened.change(doing, ({ changed }) =>
      changed.length > 0 ? `Done to ${count(changed.length, "line")}: ${label}.` : null);
    if (answer && answer.changed.length === 0) say("They are all like that already.");
    if (answer) await this.pieces.refresh(answer.changed);
    return answer;
  }

  #again(lines) {
    if (lines !== null) this.pieces.refresh(lines);
    else if (this.pieces.loaded) this.pieces.load();
  }
}

/** Say what cannot be approved, and why. */
export function sayCannot(row) {
  if (row.state === "waiting") say(`${where(row)} is still being made.`, { kind: "look" });
  else say(`${where(row)} is held; it cannot be approved before that is mended. Enter opens it.`, { kind: "look" });
}
