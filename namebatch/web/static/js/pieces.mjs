/** The rows of a docket as last heard from the program, in the order of the list. */

import { get } from "./api.mjs";
import { trying } from "./say.mjs";

const MOST_AT_ONCE = 400; // lines that are asked for in one address
const PATIENCE_MS = 2000; // after so long without news of a piece that is being made it is asked for

export class Pieces {
  #at;
  #told;
  #asked = new Set();
  #asking = null;
  #loading = null;
  #looking = 0;

  /**
   * @param {(path: string) => string} at the docket's address, as `opened.at`
   * @param {(lines: number[] | null) => void} told which lines are other ones now; null: the list itself
   */
  constructor(at, told) {
    this.#at = at;
    this.#told = told;
    this.rows = new Map();
    this.lines = [];
    this.loaded = false;
  }

  /** Ask for all rows anew; what changes while the answer is under way is asked for again. */
  load() {
    const load = (this.#loading ?? Promise.resolve()).then(() => this.#load());
    this.#loading = load;
    load.finally(() => {
      if (this.#loading === load) this.#loading = null;
    });
    return load;
  }

  /** True if there are no rows and none were asked for. */
  get missing() {
    return !this.loaded && this.#loading === null;
  }

  /** Forget all rows: there is nothing to look at. */
  clear() {
    this.loaded = false;
    this.rows = new Map();
    this.lines = [];
  }

  /** Ask for some rows anew; what is asked for while an answer is under way goes with the next one. */
  refresh(lines) {
    for (const line of lines) this.#asked.add(line);
    if (this.loaded) this.#asking ??= trying(() => this.#ask()).finally(() => (this.#asking = null));
    return this.#asking;
  }

  /** Put a row in its place that came with an answer of its own, newer than any that is under way. */
  put(row) {
    if (!this.rows.has(row.line)) return;
    this.rows.set(row.line, { ...searchable(row), revision: row.revision });
    this.#told([row.line]);
  }

  async #load() {
    this.#asked.clear();
    const answer = await trying(() => get(this.#at("rows")));
    if (!answer) return;
    this.rows = new Map(answer.rows.map((row) => [row.line, searchable(row)]));
    this.lines = answer.rows.map((row) => row.line);
    this.loaded = true;
    this.#told(null);
    if (this.#asked.size > 0) this.refresh([]);
    this.#lookAgain();
  }

  async #ask() {
    await null; // whoever asks in the same turn goes with this one
    while (this.#asked.size > 0) {
      const some = [...this.#asked].slice(0, MOST_AT_ONCE);
      for (const line of some) this.#asked.delete(line);
      const answer = await get(this.#at(`rows?lines=${some.join(",")}`));
      const newer = answer.rows.filter(({ line }) => (this.rows.get(line)?.revision ?? 0) <= answer.revision);
      const known = newer.filter(({ line }) => this.rows.has(line));
      for (const row of known) this.rows.set(row.line, searchable(row));
      this.#told(known.map(({ line }) => line));
    }
    this.#lookAgain();
  }

  /** News can be lost on the way (before the page listens): whoever waits for long asks. */
  #lookAgain() {
    clearTimeout(this.#looking);
    this.#looking = setTimeout(() => {
      const waiting = this.lines.filter((line) => this.rows.get(line)?.state === "waiting");
      if (waiting.length > 0) this.refresh(waiting.slice(0, MOST_AT_ONCE));
    }, PATIENCE_MS);
  }
}

const ALSO = { ø: "o", đ: "d", ł: "l", ß: "ss", æ: "ae", œ: "oe", þ: "th", ð: "d", ı: "i" };

/** Small letters without accents, so that ``zoe`` finds ``Zoë`` and ``soren`` ``Søren``. */
export const plain = (text) =>
  text.normalize("NFKD").replace(/\p{M}/gu, "").toLowerCase().replace(/[øđłßæœþðı]/g, (letter) => ALSO[letter]);

function searchable(row) {
  const said = [String(row.line), row.text, row.order, ...Object.values(row.fields)].join(" ");
  return { ...row, sought: plain(said) };
}
