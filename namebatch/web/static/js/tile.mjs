/** One piece on the wall: its picture, its name, where it stands. */

import { fill, h, one, texts } from "./dom.mjs";
import { count } from "./figures.mjs";
import { badge } from "./forms.mjs";
import { standing, stateOf, where } from "./states.mjs";

/** An empty tile for a line; `showTile` says what is on it. */
export function makeTile(line) {
  return h(
    "li",
    { class: "tile", data: { line } },
    h(
      "button",
      { type: "button", class: "tile-open", tabindex: "-1", "aria-keyshortcuts": "Enter A H" },
      h("span", { class: "tile-picture" }),
      h("span", { class: "tile-head" }, h("span", { class: "tile-name" }), h("span", { class: "tile-count" })),
      h("span", { class: "tile-foot" }, h("span", { class: "tile-line" }), h("span", { class: "tile-state" }), h("span", { class: "tile-reason" })),
    ),
    h("button", { type: "button", class: "tile-tick", tabindex: "-1" }, h("span", { "aria-hidden": "true" }, "✓"), h("span", { class: "tile-word" })),
  );
}

/** Say on a tile what is known of its row; its picture comes with `showPicture`. */
export function showTile(tile, row) {
  const state = stateOf(row);
  if (tile.row === row) return;
  tile.row = row;
  tile.dataset.state = state;
  const { words, state: shown } = standing(row);
  fill(one(".tile-name", tile), row.text ? texts(row.text) : h("i", {}, "nothing to set"));
  fill(one(".tile-line", tile), h("span", { class: "visually-hidden" }, `${row.place} `), String(row.line));
  fill(one(".tile-state", tile), badge(shown, shown === "stale" ? "then changed" : words));
  const several = row.quantity > 1;
  fill(one(".tile-count", tile), several && [h("span", { "aria-hidden": "true" }, `× ${row.quantity}`), h("span", { class: "visually-hidden" }, count(row.quantity, "piece"))]);
  one(".tile-open", tile).title = row.held_by_hand ? row.message : "";
  const reason = one(".tile-reason", tile);
  reason.hidden = state !== "look";
  fill(reason, state === "look" && row.looks.map(ofTile).join(" "));
  const tick = one(".tile-tick", tile);
  tick.hidden = state === "held" || state === "waiting";
  tick.setAttribute("aria-pressed", String(state === "approved"));
  fill(one(".tile-word", tick), state === "approved" ? "approved" : "approve");
  tick.setAttribute("aria-label", `Approve ${where(row)}, ${row.text}`);
  const image = one("img", tile);
  if (row.picture && image?.dataset.digest !== row.picture) tile.dataset.wants = "picture";
  else delete tile.dataset.wants;
  const again = row.state === "waiting" && image; // an older picture says more than an empty place
  if (!row.picture && !again) fill(one(".tile-picture", tile), blank(row));
}

/**
 * Fetch the picture of a tile if it has none, or an older one; the older one stays until the new is there.
 *
 * @param {(line: number, digest: string) => string} address of a picture
 * @param {boolean} inSight those come first
 */
export function showPicture(tile, address, inSight) {
  if (tile.dataset.wants !== "picture") return;
  delete tile.dataset.wants;
  const { line, picture } = tile.row;
  const image = h("img", {
    alt: "", decoding: "async", draggable: "false", fetchpriority: inSight ? "high" : "low", data: { digest: picture },
  });
  const place = one(".tile-picture", tile);
  const before = one("img", place);
  if (before) {
    image.decoding = "sync";
    image.addEventListener("load", () => {
      if (tile.row?.picture === picture) fill(place, image);
    });
  } else fill(place, image);
  image.src = address(line, picture);
}

/** Call off a picture that is not there yet: the tile leaves the page. */
export function leavePicture(tile) {
  const image = one("img", tile);
  if (image && !image.complete) image.removeAttribute("src");
}

/** A reason without the text that it is about: the tile has that on it. */
function ofTile(told) {
  const bare = told.replace(/^"[^"]*" /, "");
  return bare.charAt(0).toUpperCase() + bare.slice(1);
}

function blank(row) {
  if (row.state === "waiting") return h("span", { class: "tile-why soft" }, "being made");
  return h("span", { class: "tile-why" }, row.message.replace(/ Held\.$/, ""));
}
