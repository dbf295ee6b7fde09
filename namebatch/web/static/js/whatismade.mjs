/** What is made of the list: its template, and the typeface tried first. */

import { get, patch } from "./api.mjs";
import { all, fill, h, one, own, refill } from "./dom.mjs";
import { button, field, select } from "./forms.mjs";
import { sayProblem } from "./say.mjs";
import { templateChoice, templatePicture, told } from "./templates.mjs";

/** Builds the section in `place` and keeps it up to date. */
export async function whatIsMade(opened, place) {
  const now = h("div", { class: "what-now" });
  const choice = h("div", { class: "what-choice" });
  const face = h("div");
  // filled when it is opened: drawing the pictures of all templates keeps the machine from the pieces
  const take = button("Take this template", () => give(), { kind: "main" });
  const fold = h("details", { class: "fold", on: { toggle: choose } },
    h("summary", {}, "Another template"), choice, h("div", { class: "btns" }, take));
  fill(place, h("h3", { id: "list-made" }, "What is made"), now, fold, face);
  let templates = null;
  let fonts = null;
  let wanted = null;

  const change = (settings, words) => opened.change(() => patch(opened.at("settings"), settings), words);

  function choose() {
    if (!templates || !fold.open) return;
    const name = opened.now?.template?.name ?? null;
    if (!wanted) {
      for (const box of all("input", choice)) box.checked = box.value === name;
    }
    take.disabled = !wanted || wanted.name === name;
    if (choice.firstChild) return;
    fill(choice, templateChoice(templates, name, (chosen) => {
      wanted = chosen;
      choose();
    }));
  }

  async function give() {
    const { name, title } = wanted;
    take.disabled = true;
    const taken = await change({ template: name }, `Template: ${title}.`);
    wanted = null;
    if (taken) fold.open = false;
    choose();
  }

  function draw(docket) {
    const template = templates?.find((each) => each.name === docket.template?.name);
    refill(now, [docket.template, Boolean(template)], () => (template ? shown(template) : named(docket)));
    if (!docket.template) fold.open = true;
    choose();
    if (fonts) refill(face, [docket.settings.font ?? null], () => typeface(fonts, docket.settings.font ?? "", change));
  }

  opened.on("docket", draw);
  try {
    [templates, fonts] = await Promise.all([get("/api/templates"), get("/api/fonts")]);
  } catch (error) {
    sayProblem(error);
    return;
  }
  if (opened.now) draw(opened.now);
}

function shown(template) {
  return [h("span", { class: "what-picture" }, templatePicture(template)),
    h("div", {}, h("p", {}, h("b", {}, template.title)), h("p", { class: "small soft" }, told(template)))];
}

function named({ template, settings }) {
  if (template) return h("p", {}, h("b", {}, template.title));
  const gone = settings.template;
  return h("p", {}, gone ? ["The template ", own(gone), " is there no longer. Choose another one."] : "No template yet. Choose what is made.");
}

function typeface(fonts, chosen, change) {
  const options = [["", "as the template has it"], ...fonts.map((font) => [font.name, faceName(font)])];
  const box = select(options, chosen, {
    id: "list-font",
    on: {
      change: async () => {
        const told = `Typeface tried first: ${one(":checked", box).textContent}.`;
        if (!(await change({ font: box.value || null }, told))) box.value = chosen;
      },
    },
  });
  return field("Typeface tried first", box, "Names it cannot set are set in the template's own, and told.");
}

const faceName = ({ name, style }) => (style ? `${name} (${style})` : name);
