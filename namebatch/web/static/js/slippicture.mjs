/** The large picture of a slip: the one before stays until the next is ready to be seen. */

import { fill, h } from "./dom.mjs";

export class SlipPicture {
  #address = "";

  /** @param {HTMLElement} place */
  constructor(place) {
    this.place = place;
  }

  /** Keep room for pictures of this width by their height. */
  shape(ratio) {
    this.place.style.setProperty("--ratio", ratio);
  }

  /** Show the picture at an address, or what is told instead. */
  async show(address, told) {
    if (address && address === this.#address) return;
    const before = this.#address;
    this.#address = address ?? "";
    if (!address) fill(this.place, h("p", { class: "slip-none" }, told));
    else {
      const image = new Image();
      image.alt = told;
      image.src = address;
      await image.decode().catch(() => {});
      if (this.#address === address) fill(this.place, image);
    }
    if (before.startsWith("blob:")) URL.revokeObjectURL(before);
  }

  /** Show an SVG document that has no address. */
  draw(svg, told) {
    return this.show(URL.createObjectURL(new Blob([svg], { type: "image/svg+xml" })), told);
  }

  /** Forget what was shown. */
  clear() {
    this.show(null, "");
  }
}

/** Have a picture here before it is asked for. */
export function makeReady(address) {
  new Image().src = address;
}
