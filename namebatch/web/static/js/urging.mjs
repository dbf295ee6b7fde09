/** Asks for pieces that are in sight and not made yet, so that the program makes them before the others. */

const AT_ONCE = 3; // a browser keeps six lines open to one machine; pictures need theirs

export class Urging {
  #asked = new Map();

  /** @param {(line: number) => string} address something of a line that waits until it is made */
  constructor(address) {
    this.address = address;
  }

  /** These are in sight now; what was asked for and is so no longer is called off. */
  want(lines) {
    for (const [line, call] of this.#asked) {
      if (!lines.includes(line)) call.abort();
    }
    for (const line of lines) {
      if (this.#asked.size >= AT_ONCE) return;
      if (!this.#asked.has(line)) this.#ask(line);
    }
  }

  async #ask(line) {
    const call = new AbortController();
    this.#asked.set(line, call);
    try {
      const answer = await fetch(this.address(line), { signal: call.signal, credentials: "same-origin" });
      await answer.arrayBuffer(); // that it is made is told to all who listen
    } catch {
      // called off, or the program is gone; whoever listens to it says so
    } finally {
      this.#asked.delete(line);
    }
  }
}
