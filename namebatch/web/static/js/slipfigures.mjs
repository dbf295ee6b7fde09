/** What is known of one piece, in words and figures: measures, findings, the list's own cells. */

import { h, own } from "./dom.mjs";
import { count, mm, size } from "./figures.mjs";
import { finding, leaders } from "./forms.mjs";

const GRAVEST = ["hold", "warn", "note"];
const LEVEL_DEG = 0.5; // nobody sees a smaller tilt

/** Measures with dotted leaders; nothing for a row that is held. */
export function measured(detail) {
  const { measures } = detail;
  if (!measures) return null;
  const bridges = measures.has_bridges && [
    "bridges",
    measures.bridges === 0 ? "none" : `${measures.bridges}, at least ${mm(measures.bridge_least_mm)} wide`,
  ];
  return leaders(
    [
      ["size", size(measures.size_mm)],
      ["narrowest place", `${mm(measures.narrowest_mm, 2)} (needs ${mm(measures.required_mm, 2)})`],
      ...detail.texts.filter((text) => text.height_mm).map(capitals),
      bridges,
      measures.holes > 0 && ["holes", String(measures.holes)],
      hang(measures.hang_tilt_deg),
      ["area", `${(measures.area_mm2 / 100).toFixed(1)} cm²`],
      ["to make", count(detail.quantity, "piece")],
      detail.order && ["order", own(detail.order)],
    ],
    { class: "slip-measures" },
  );
}

/** Height of one text; backs carry the same texts as fronts under a name of their own. */
function capitals(text) {
  const back = text.face === "back";
  const called = back ? text.box.replace(/-back$/, "") : text.box;
  return [
    ["capitals of ", own(called), back ? " on the back" : ""],
    `${mm(text.height_mm, 2)} (least ${mm(text.min_height_mm, 2)})`,
  ];
}

function hang(tilt) {
  if (tilt === null || tilt === undefined) return null;
  return ["hangs", Math.abs(tilt) < LEVEL_DEG ? "level" : `leaning by ${Math.abs(tilt).toFixed(1)}°`];
}

/** Findings, the gravest first. */
export function found(detail) {
  const order = [...detail.findings].sort((a, b) => GRAVEST.indexOf(a.severity) - GRAVEST.indexOf(b.severity));
  return order.map(finding);
}

/** The row as the list has it, folded away. */
export function listed(detail) {
  const cells = Object.entries(detail.values).map(([header, cell]) => [own(header), cell ? own(cell) : h("i", {}, "nothing")]);
  return h("details", { class: "fold slip-listed" }, h("summary", {}, `As the list has it, ${detail.place.toLowerCase()} ${detail.line}`), leaders(cells));
}
