/** Keeps only those tiles in the page that are in sight or near it; the place of all others is kept free. */

const NEAR = 1; // screens above and below that are kept ready
const LEAP = 1.5; // screens within a frame: only what is in sight is fetched until it rests
const REST_MS = 80;
const MARGIN = 12; // pixels above a tile that is brought into sight
const LINE_HIGH = 19; // pixels, of the small print on tiles without a picture

export class Hanging {
  #tiles = new Map();
  #lines = [];
  #at = new Map();
  #frame = 0;
  #resized = false;
  #rest = 0;
  #top = 0;
  #pinned = null;

  /**
   * @param {HTMLElement} list where the tiles hang
   * @param {HTMLElement} gauge as wide as a tile is at least, as high as what stands below its picture
   * @param {{make, show, picture, leave, rest, covered}} tiles `make(line)` a tile; `show(tile)` puts on it what is
   *   known; `picture(tile, inSight)` fetches; `leave(tile)` as it goes; `rest(lines)` when those have been
   *   in sight for a moment; `covered()` how many pixels something else covers at the top of the window
   */
  constructor(list, gauge, tiles) {
    this.list = list;
    this.gauge = gauge;
    this.tiles = tiles;
    this.columns = 1;
    this.ratio = 1.5;
    const again = () => this.#soon();
    window.addEventListener("scroll", again, { passive: true });
    window.addEventListener("resize", again);
    const sized = new ResizeObserver(() => this.#soon(true)); // measured in the next frame: it resizes the list
    sized.observe(list);
    sized.observe(gauge);
  }

  /** Hang these lines, in this order. */
  hang(lines) {
    this.#lines = lines;
    this.#at = new Map(lines.map((line, index) => [line, index]));
    this.#measure();
    this.#hangNear();
  }

  /** Width of a picture by its height. */
  shape(ratio) {
    if (Math.abs(ratio - this.ratio) < 0.01) return;
    this.ratio = ratio;
    this.#soon(true);
  }

  /** Say anew what is on the tiles of these lines, if they hang; null for all. */
  renew(lines) {
    for (const line of lines ?? this.#tiles.keys()) {
      const tile = this.#tiles.get(line);
      if (tile) this.tiles.show(tile);
    }
    this.#soon();
  }

  /** Keep the tile of this line in the page wherever one scrolls: the keyboard stands on it. */
  pin(line) {
    this.#pinned = line;
  }

  get length() {
    return this.#lines.length;
  }

  index = (line) => this.#at.get(line) ?? -1;
  line = (index) => this.#lines[index];
  tile = (line) => this.#tiles.get(line);

  /** How many whole rows are in sight. */
  get inSight() {
    return Math.max(1, Math.floor(window.innerHeight / this.pitch));
  }

  /** The tile of a line, hung, pinned and scrolled into sight. */
  reveal(line) {
    const index = this.index(line);
    if (index < 0) return null;
    this.#pinned = line;
    const top = this.list.getBoundingClientRect().top + Math.floor(index / this.columns) * this.pitch;
    const above = this.tiles.covered() + MARGIN;
    if (top < above) window.scrollBy({ top: top - above, behavior: "instant" });
    else if (top + this.pitch > window.innerHeight) {
      window.scrollBy({ top: top + this.pitch - window.innerHeight, behavior: "instant" });
    }
    this.#hangNear();
    return this.tile(line);
  }

  #measure() {
    const width = this.list.clientWidth;
    if (width === 0) return;
    const gap = parseFloat(getComputedStyle(this.list).columnGap) || 0;
    const least = Math.min(width, this.gauge.offsetWidth * Math.min(1.2, Math.max(0.9, Math.sqrt(this.ratio / 1.4))));
    this.columns = Math.max(1, Math.floor((width + gap) / (least + gap)));
    this.wide = (width - gap * (this.columns - 1)) / this.columns;
    const picture = Math.round(this.wide / this.ratio);
    this.pitch = picture + this.gauge.offsetHeight + gap;
    this.step = this.wide + gap;
    const rows = Math.ceil(this.#lines.length / this.columns);
    this.list.style.setProperty("height", `${Math.max(0, rows * this.pitch - gap)}px`);
    this.list.style.setProperty("--tile-wide", `${this.wide}px`);
    this.list.style.setProperty("--tile-high", `${this.pitch - gap}px`);
    this.list.style.setProperty("--picture-high", `${picture}px`);
    this.list.style.setProperty("--why-lines", Math.max(2, Math.floor((picture - MARGIN) / LINE_HIGH)));
  }

  #soon(resized = false) {
    this.#resized ||= resized;
    this.#frame ||= requestAnimationFrame(() => {
      this.#frame = 0;
      if (this.#resized) this.#measure();
      this.#resized = false;
      this.#hangNear();
    });
  }

  #hangNear() {
    if (this.list.clientWidth === 0) return; // folded
    const { top } = this.list.getBoundingClientRect();
    const high = window.innerHeight;
    const near = this.#between(-top - NEAR * high, -top + (1 + NEAR) * high);
    const sight = this.#between(-top, -top + high);
    const wanted = this.#lines.slice(near.from, near.to);
    if (this.#pinned !== null && this.#at.has(this.#pinned)) addInOrder(wanted, this.#pinned, this.#at, near.from);
    this.#drop(new Set(wanted));
    this.#place(wanted);
    const leapt = Math.abs(top - this.#top) > LEAP * high;
    this.#top = top;
    this.#fetch(sight.from, sight.to, true);
    if (!leapt) this.#fetch(near.from, near.to, false);
    clearTimeout(this.#rest);
    this.#rest = setTimeout(() => {
      this.#fetch(near.from, near.to, false);
      this.tiles.rest(this.#lines.slice(sight.from, sight.to));
    }, REST_MS);
  }

  #between(above, below) {
    const last = Math.ceil(this.#lines.length / this.columns);
    const from = Math.min(last, Math.max(0, Math.floor(above / this.pitch)));
    const to = Math.max(from, Math.min(last, Math.ceil(below / this.pitch)));
    return { from: from * this.columns, to: Math.min(this.#lines.length, to * this.columns) };
  }

  #drop(wanted) {
    for (const [line, tile] of this.#tiles) {
      if (wanted.has(line)) continue;
      this.tiles.leave(tile);
      tile.remove();
      this.#tiles.delete(line);
    }
  }

  #place(wanted) {
    let next = this.list.firstElementChild;
    for (const line of wanted) {
      let tile = this.#tiles.get(line);
      if (!tile) {
        tile = this.tiles.make(line);
        this.#tiles.set(line, tile);
        this.tiles.show(tile);
      }
      if (tile === next) next = next.nextElementSibling;
      else this.list.insertBefore(tile, next);
      this.#put(tile, this.#at.get(line));
    }
  }

  #put(tile, index) {
    const x = (index % this.columns) * this.step;
    const y = Math.floor(index / this.columns) * this.pitch;
    const place = `${x}px ${y}px`;
    if (tile.place === place && tile.of === this.#lines.length) return;
    tile.place = place;
    tile.of = this.#lines.length;
    tile.style.translate = place;
    tile.setAttribute("aria-posinset", index + 1);
    tile.setAttribute("aria-setsize", this.#lines.length);
  }

  #fetch(from, to, inSight) {
    for (let index = from; index < to; index += 1) {
      const tile = this.#tiles.get(this.#lines[index]);
      if (tile) this.tiles.picture(tile, inSight);
    }
  }
}

/** Put a line that hangs elsewhere before or behind those that are near, so that the order stays. */
function addInOrder(lines, line, at, from) {
  if (lines.includes(line)) return;
  if (at.get(line) < from) lines.unshift(line);
  else lines.push(line);
}
