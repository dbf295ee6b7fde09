/** The jobs of the docket, asked for once for all who show them; kind `jobs` of `opened`. */

import { get } from "./api.mjs";
import { trying } from "./say.mjs";

const SETTLES_MS = 400;
const shelves = new WeakMap();

/** What is known of a docket's jobs; the same for every module. */
export function jobsOf(opened) {
  if (!shelves.has(opened)) shelves.set(opened, new Shelf(opened));
  return shelves.get(opened);
}

/** A job from a list, the one made last; null without any. */
export const latest = (jobs) => jobs.findLast((job) => job.remake_of === null) ?? null;

/** The jobs that make pieces of `job` again. */
export const remakesOf = (job, jobs) => jobs.filter((each) => each.remake_of === job.number);

/** Spoiled pieces of a job that nobody has made again yet. */
export const outstanding = (job) => job.spoiled.filter((piece) => !job.remade.includes(piece));

class Shelf {
  #later = null;
  #maps = new Map();

  constructor(opened) {
    this.opened = opened;
    this.jobs = null;
    opened.on("docket", (docket) => {
      if (this.jobs === null || docket.jobs !== this.jobs.length) this.soon(0);
    });
    opened.on("changed", () => this.jobs?.length && this.soon());
    opened.on("again", () => this.soon());
    opened.on("make", (make) => {
      if (make.state === "done") this.soon(0);
    });
  }

  /** Ask again after a moment. */
  soon(after = SETTLES_MS) {
    clearTimeout(this.#later);
    this.#later = setTimeout(() => trying(() => this.load()), after);
  }

  /** Ask now. */
  async load() {
    if (this.opened.now?.jobs === 0 && this.jobs === null) {
      this.jobs = [];
    } else {
      this.jobs = await get(this.opened.at("jobs"));
    }
    this.opened.show("jobs", this.jobs);
  }

  /** A job as an answer told it. */
  take(job) {
    this.jobs = this.jobs.map((each) => (each.number === job.number ? job : each));
    this.opened.show("jobs", this.jobs);
  }

  /** The map of a sheet; asked for once as long as nothing on it can have changed. */
  map(job, id) {
    const key = `${job.number}/${id}`;
    if (!this.#maps.has(key)) {
      const asked = get(this.opened.at(`jobs/${key.replace("/", "/sheets/")}`));
      this.#maps.set(key, asked);
      asked.catch(() => this.#maps.delete(key));
    }
    return this.#maps.get(key);
  }

  /** What was measured on a sheet is part of its map. */
  forget(job, id) {
    this.#maps.delete(`${job.number}/${id}`);
  }
}
