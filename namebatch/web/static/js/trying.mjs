/** Tries changes at every stroke: one at a time, and of those that come meanwhile only the last. */

export class Trying {
  #wanted = null;
  #under = null;

  /**
   * @param {(change: any) => Promise<any>} ask
   * @param {{answered: function, failed: function}} heard with the answer, or the error, of what is still wanted
   */
  constructor(ask, { answered, failed }) {
    this.ask = ask;
    this.answered = answered;
    this.failed = failed;
  }

  /** True from the first stroke until `drop`. */
  get open() {
    return this.#wanted !== null;
  }

  /** Try this; what was wanted before is wanted no longer. */
  want(change) {
    this.#wanted = { change };
    this.#under ??= this.#run().finally(() => (this.#under = null));
  }

  /** Nothing is wanted any more; an answer that is under way is not heard. */
  drop() {
    this.#wanted = null;
  }

  async #run() {
    for (let tried = null; this.#wanted !== null && this.#wanted !== tried; ) {
      tried = this.#wanted;
      try {
        const answer = await this.ask(tried.change);
        if (this.#wanted !== null) this.answered(answer);
      } catch (error) {
        if (this.#wanted === tried) this.failed(error);
      }
    }
  }
}
