/** The rows of a docket as last heard from the program, in the order of the list. */

import { get } from "./api.mjs";

const MOST_AT_ONCE = 400; // lines that are asked for in one address

export class Pieces {
  #asked = new Set();
  #asking = null;
  #revision = 0;
  #told;
  #at;

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

  /** Ask for all rows anew. */
  async load() {
    const answer = await get(this.#at("rows"));
    this.#asked.clear();
    this.#revision = Math.max(this.#revision, answer.revision);
    this.rows = new Map(answer.rows.map((row) => [row.line, searchable(row)]));
    this.lines = answer.rows.map((row) => row.line);
    this.loaded = true;
    this.#told(null);
  }

  /** Ask for some rows anew; what is asked for while an answer is under way goes with the next one. */
  refresh(lines) {
    for (const line of lines) this.#asked.add(line);
    this.#asking ??= this.#ask().finally(() => (this.#asking = null));
    return this.#asking;
  }

  /** Put a row in its place that came with an answer of its own, newer than any that is under way. */
  put(row) {
    if (!this.rows.has(row.line)) return;
    this.rows.set(row.line, { ...searchable(row), revision: row.revision ?? this.#revision });
    this.#told([row.line]);
  }

  async #ask() {
    await null; // whoever asks in the same turn goes with this one
    while (this.#asked.size > 0) {
      const some = [...this.#asked].slice(0, MOST_AT_ONCE);
      for (const line of some) this.#asked.delete(line);
      const answer = await get(this.#at(`rows?lines=${some.join(",")}`));
      const newer = answer.rows.filter((row) => (this.rows.get(row.line)?.revision ?? 0) <= answer.revision);
      const known = newer.filter((row) => this.rows.has(row.line));
      for (const row of known) this.rows.set(row.line, searchable(row));
      this.#revision = Math.max(this.#revision, answer.revision);
      this.#told(known.map((row) => row.line));
    }
  }
}

/** Letters without accents and case, so that ``zoe`` finds ``Zoë``. */
export const plain = (text) => text.normalize("NFKD").replace(/\p{M}/gu, "").toLowerCase();

function searchable(row) {
  const said = [String(row.line), row.text, row.order, ...Object.values(row.fields)].join(" ");
  return { ...row, sought: plain(said) };
}
