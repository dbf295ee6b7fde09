/** A new docket: what is made, chosen from pictures, and the list. */

import { form, get, post, Problem } from "./api.mjs";
import { fill, h } from "./dom.mjs";
import { button, field, problemNote } from "./forms.mjs";
import { listPlace } from "./givelist.mjs";
import { sayProblem, trying } from "./say.mjs";
import { templateChoice } from "./templates.mjs";

/** Set up the form in `place`, the template of that name chosen; starting a docket opens its page. */
export async function newDocket(place, name = null) {
  const templates = await trying(() => get("/api/templates"));
  if (!templates) return;
  let template = templates.find((each) => each.name === name) ?? null;
  let busy = false;
  const list = listPlace(follow);
  const title = h("input", { type: "text", maxlength: 200, autocomplete: "off" });
  const start = button("Start the docket", () => send(list.given()), { kind: "main" });
  const sample = button("Try it with a sample list", () => send({ sample: "1" }));
  const wanting = h("p", { class: "soft", "aria-live": "polite" });
  const wrong = h("div", { class: "new-wrong", role: "alert" });

  fill(place,
    h("div", { class: "new-step" }, h("h3", {}, h("span", { class: "new-letter" }, "a"), "What is made"),
      templateChoice(templates, template?.name, (chosen) => { template = chosen; follow(); })),
    h("div", { class: "new-step" }, h("h3", {}, h("span", { class: "new-letter" }, "b"), "The list"), list.element),
    h("div", { class: "new-step" }, h("h3", {}, h("span", { class: "new-letter" }, "c"), "Its name"),
      field("Name of the docket", title, "If left free, it is called after its list, or after what is made.")),
    wrong,
    h("div", { class: "new-end" }, h("div", { class: "btns" }, start, sample), wanting));
  follow();

  function follow() {
    const given = list.given();
    start.disabled = busy || !template || !given;
    sample.disabled = busy || !template;
    if (!busy) fill(wanting, missing(template, given));
  }

  async function send(what) {
    busy = true;
    follow();
    fill(wrong);
    fill(wanting, what.sample ? "The sample list is read and planned …" : "The list is sent, read and planned …");
    try {
      const docket = await post("/api/dockets", form({ template: template.name, title: title.value.trim() || stem(what.file), ...what }));
      location.assign(`/dockets/${docket.number}`);
    } catch (error) {
      if (error instanceof Problem && error.status) fill(wrong, problemNote(error));
      else sayProblem(error);
      busy = false;
      follow();
    }
  }
}

/** A file's name without its ending; null without a file. */
const stem = (file) => file?.name.replace(/\.\w+$/, "") || null;

function missing(template, given) {
  if (!template) return given ? "Choose what is made." : "Choose what is made, then give a list.";
  return given ? "" : `${template.title}: give a list, or try it with the sample first.`;
}
