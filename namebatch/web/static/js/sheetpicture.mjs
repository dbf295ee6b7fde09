/** A sheet drawn with all that lies on it, from the very lines that are cut. */

import { all, h, own, s } from "./dom.mjs";
import { count, percent, duration } from "./figures.mjs";

const ID_MM = 4.6; // height of a piece's id on a sheet of 297 mm; grows with the sheet
const NAME_MM = 8;
const WIDE = 0.56; // of a letter, over its height, on average

/**
 * The picture of a sheet's map, with what each piece says on it.
 *
 * @param {object} map as the program sends it
 * @param {{ids?: boolean}} how `ids` writes each piece's id as well
 */
export function sheetPicture(map, { ids = false } = {}) {
  const [width, height] = map.size_mm;
  const [x, y, w, d] = map.frame_mm;
  const scale = Math.max(width, height) / 297;
  return s(
    "svg",
    { class: "sheet-picture", data: { kind: map.kind }, viewBox: `-1 -1 ${width + 2} ${height + 2}`, "aria-hidden": "true" },
    s("rect", { class: "sheet-edge", x: 0, y: 0, width, height }),
    map.used && s("path", { class: "sheet-used", d: map.used }),
    map.kind === "face" && s("rect", { class: "sheet-frame", x, y: height - y - d, width: w, height: d }),
    map.placements.map((placed) =>
      s("g", { class: "sheet-piece", data: { piece: placed.piece } }, s("path", { d: placed.outline }), words(placed, scale, ids))),
  );
}

/** Name and id in the middle of a piece, along it where it stands upright; a cross for when it is spoiled. */
function words(placed, scale, ids) {
  const [width, height] = placed.room_mm;
  const upright = height > 1.6 * width;
  const [long, short] = upright ? [height, width] : [width, height];
  const [first] = placed.text.split(" · ");
  const name = Math.min(NAME_MM * scale, (0.76 * long) / (WIDE * Math.max(first.length, 3)), 0.4 * short);
  const id = Math.min(ID_MM * scale, (0.86 * long) / (WIDE * 9), 0.25 * short);
  const arm = 0.32 * Math.min(width, height);
  return s("g", { transform: `translate(${placed.at_mm.join(" ")})${upright ? " rotate(-90)" : ""}` },
    s("text", { "font-size": name, dy: ids ? 0 : "0.35em" }, first),
    ids && s("text", { "font-size": id, y: 1.35 * id }, placed.face === "back" ? `${placed.piece} back` : placed.piece),
    s("path", { class: "sheet-cross", d: `M${-arm},${-arm}L${arm},${arm}M${-arm},${arm}L${arm},${-arm}` }));
}

/** Show on a picture which pieces of `job` are spoiled, and which of them were made again. */
export function markSpoiled(picture, job) {
  for (const piece of all(".sheet-piece", picture)) {
    piece.dataset.state = standing(piece.dataset.piece, job);
  }
}

/** What became of a piece: "spoiled", "remade", or "" where all is well. */
export function standing(piece, job) {
  if (!job.spoiled.includes(piece)) return "";
  return job.remade.includes(piece) ? "remade" : "spoiled";
}

/** Name and figures of a sheet, for the line above its picture. */
export function sheetLine(sheet) {
  return h("p", { class: "sheet-line" },
    h("b", {}, sheet.id), sheet.part_used && h("span", {}, "on ", own(sheet.part_used)),
    h("span", {}, count(sheet.pieces, "piece")), h("span", {}, `${percent(sheet.fill)} used`), h("span", {}, duration(sheet.seconds)));
}
