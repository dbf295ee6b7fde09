/** What sheets and boards are made of: a choice among the workshop's materials that suit. */

import { patch } from "./api.mjs";
import { h } from "./dom.mjs";
import { size } from "./figures.mjs";
import { field, select } from "./forms.mjs";

/** A choice for each kind of sheet; none where there is only the template's own. */
export function materialFields(opened, choices, settings) {
  const fields = choices.map((choice) => materialField(opened, choice, settings[choice.setting] ?? "")).filter(Boolean);
  return fields.length > 0 && h("div", { class: "fields" }, fields);
}

function materialField(opened, { kind, setting, usual, missing, offered }, said) {
  if (offered.length < 2 && !said && !missing) return null;
  const titles = new Map(offered.map(({ name, title, size_mm }) => [name, size_mm ? `${title}, ${size(size_mm, 0)}` : title]));
  const known = !said || titles.has(said);
  const none = missing ? `${usual}: not in the workshop` : `as the template has it: ${usual}`;
  const gone = known ? [] : [[said, `${said}: not in the workshop any more`]];
  const box = select([["", none], ...gone, ...titles], said, {
    id: `layout-${setting}`,
    on: {
      async change() {
        const told = box.value ? `Made of ${titles.get(box.value)}.` : `Made of ${usual}, as the template has it.`;
        const kept = await opened.change(() => patch(opened.at("settings"), { [setting]: box.value || null }), told);
        if (kept === undefined) box.value = said;
      },
    },
  });
  return field(kind === "face" ? "Printed on" : setting === "board" ? "Boards of" : "Cut from", box);
}
