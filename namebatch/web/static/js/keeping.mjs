/** Keeps changes: those that follow each other closely as one step, one after the other. */

import { sameMend } from "./mends.mjs";

const SETTLES_MS = 300;

export class Keeping {
  #timer = 0;
  #under = Promise.resolve();

  /**
   * @param {(line: number, mend: object|null) => Promise<object>} keep gives back the RowDetail
   * @param {{known, begins, same, kept, refused}} heard `known(line)` is the mend that is kept already; then
   *   `same(line)` where nothing is to be kept, else `begins()` and `kept(detail, mend)` or `refused(error)`
   */
  constructor(keep, heard) {
    this.keep = keep;
    this.heard = heard;
  }

  /** True while something waits to be kept. */
  get open() {
    return this.#timer !== 0;
  }

  /** Wait whether more comes. */
  soon(run) {
    this.wait();
    this.#timer = setTimeout(run, SETTLES_MS);
  }

  /** Something more is coming: keep nothing yet. */
  wait() {
    clearTimeout(this.#timer);
    this.#timer = 0;
  }

  /** Keep a change now, unless it is what is kept already; done when all that came before is kept too. */
  now(line, mend) {
    this.wait();
    this.#under = this.#under.then(() => this.#one(line, mend));
    return this.#under;
  }

  /** Done when all that was to be kept is kept. */
  done() {
    return this.#under;
  }

  async #one(line, mend) {
    if (sameMend(mend, this.heard.known(line))) {
      this.heard.same(line);
      return;
    }
    this.heard.begins();
    try {
      this.heard.kept(await this.keep(line, mend), mend);
    } catch (error) {
      this.heard.refused(error);
    }
  }
}
