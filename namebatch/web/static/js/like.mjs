/** "Do the same to": parts of one piece's change for all pieces like it. */

import { all, fill, h, one, own } from "./dom.mjs";
import { count, mm } from "./figures.mjs";
import { button, select } from "./forms.mjs";

const OF_TEXT = {
  font: (value) => `in ${value}`,
  height_mm: (value) => `capitals ${mm(value, 2)} high`,
  most_mm: (value) => `capitals at most ${mm(value, 2)} high`,
  one_line: () => "on one line",
  shift_mm: (way) => `moved ${moved(way)}`,
};

/** "1 mm right and 2.5 mm down", as the history tells it. */
function moved([right, up]) {
  const ways = [[right, "right", "left"], [up, "up", "down"]].filter(([by]) => by);
  return ways.map(([by, more, less]) => `${Math.abs(by)} mm ${by > 0 ? more : less}`).join(" and ");
}

/** Parts of a mend that can be done to other pieces: [key, words]; texts of one piece are its own. */
export function parts(mend) {
  const found = [];
  if (!mend) return found;
  if (mend.font) found.push(["font", `all texts in ${mend.font}`]);
  if (mend.bridge_mm) found.push(["bridge_mm", `bridges ${mm(mend.bridge_mm, 2)} wide`]);
  if (mend.quantity) found.push(["quantity", count(mend.quantity, "piece")]);
  if (mend.held) found.push(["held", ["held: ", own(mend.held)]]);
  for (const [box, told] of Object.entries(mend.text ?? {})) {
    for (const [part, words] of Object.entries(OF_TEXT)) {
      if (told[part]) found.push([`text.${box}.${part}`, [own(box), ` ${words(told[part])}`]]);
    }
  }
  return found;
}

/** What somebody has chosen: place → its line, the group, and part → whether it is ticked. */
const choices = new WeakMap();

/** Show what can be done to others, or nothing; `run(group, keys, label)` does it.
 *
 * Shown again of the same line, as after a change elsewhere, it keeps what was chosen there.
 */
export function showLike(place, detail, run) {
  const offered = parts(detail.mend);
  const groups = detail.alike.filter((group) => group.count > 0);
  const shown = JSON.stringify([detail.line, detail.mend, groups]);
  const before = choices.get(place);
  if (before?.shown === shown) return; // whoever is choosing just now is not disturbed
  place.hidden = offered.length === 0 || groups.length === 0;
  if (place.hidden) {
    fill(place);
    choices.delete(place);
    return;
  }
  const chosen = before?.line === detail.line ? before : { line: detail.line, group: "", ticks: new Map() };
  chosen.shown = shown;
  choices.set(place, chosen);
  const ticked = (key) => chosen.ticks.get(key) ?? !["quantity", "held"].includes(key);
  const tick = (key) => h("input", { type: "checkbox", value: key, checked: ticked(key), on: { change: (event) => chosen.ticks.set(key, event.target.checked) } });
  const label = ({ label: words, count: others }) => `${words} (${others})`;
  const gone = chosen.group !== "" && !groups.some((each) => each.key === chosen.group); // nobody else is taken for them
  const named = groups.map((each) => [each.key, label(each)]);
  const group = select(gone ? [["", "choose which"], ...named] : named, gone ? "" : chosen.group || groups[0].key, {
    "aria-label": "Which other pieces",
    on: { change: (event) => { chosen.group = event.target.value; } },
  });
  const doing = button("Do it to them", () => {
    const keys = all("input:checked", place).map((each) => each.value);
    if (group.value === "") group.focus();
    else if (keys.length > 0) run(group.value, keys, groups.find((each) => each.key === group.value).label);
    else one("input", place).focus();
  });
  fill(
    place,
    h("h3", {}, "Do the same to others"),
    h("fieldset", {}, h("legend", { class: "visually-hidden" }, "What is done to them"),
      offered.map(([key, words]) => h("label", { class: "tick" }, tick(key), h("span", {}, words)))),
    h("div", { class: "btns" }, group, doing),
  );
}
