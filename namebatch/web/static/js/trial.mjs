/** A template made from a picture: bring it, fill in the form beside it, see names on it, keep it. */

import { calledOff, form, get, post, put, remove } from "./api.mjs";
import { fill, h, one, own } from "./dom.mjs";
import { wordField } from "./blanks.mjs";
import { docketNumber, size as sizeOf, words } from "./figures.mjs";
import { asked, badge, button, field, finding, problemNote } from "./forms.mjs";
import { whenReady } from "./ready.mjs";
import { say, sayProblem, trying } from "./say.mjs";
import { trialForm } from "./trialform.mjs";
import { trialPicture } from "./trialpicture.mjs";

const WAIT_MS = 300;
const HASH = /^#draft-(\d+)$/;
const place = one("#trial");

/** Where a new one begins: a picture, an unfinished draft, or one of one's own. */
function beginning() {
  const wrong = h("div", { role: "alert" });
  const busy = h("p", { class: "soft", "aria-live": "polite" });
  const others = h("div", { class: "trial-lists" });
  const chooser = h("input", { type: "file", accept: ".png,.jpg,.jpeg,.svg,image/png,image/jpeg,image/svg+xml", on: { change: () => chooser.files[0] && begin(chooser.files[0]) } });
  const zone = h("div", { class: "give-zone trial-zone" }, h("p", { class: "give-call" }, "Drop a picture here"),
    field("or choose its file", chooser, "PNG or JPEG, cut out or on a plain ground; or an SVG. A few thousand pixels each way are plenty."), busy);
  drops(zone, begin);
  fill(place, h("section", { class: "card sheet trial-start" }, numbered(1, "The picture"), zone, wrong, others));
  fillOthers();

  async function fillOthers() {
    const found = await trying(() => Promise.all([get("/api/trials"), get("/api/templates"), get("/api/dockets")]));
    if (!found) return;
    const [drafts, templates, dockets] = found;
    const users = (name) => dockets.filter((each) => each.settings.template === name);
    const mine = templates.filter((template) => template.own);
    fill(others,
      drafts.length > 0 && list("Not finished yet", drafts.map((draft) => [
        [h("a", { href: `#draft-${draft.id}` }, own(draft.spec.title)), h("span", { class: "soft" }, ` draft ${draft.id}`)],
        "Throw away", `Throw draft ${draft.id} away? Its picture and all that is filled in go with it.`, `/api/trials/${draft.id}`])),
      mine.length > 0 && list("Your own templates", mine.map((template) => [
        [own(template.title), h("span", { class: "soft" }, ` ${template.name}`)],
        "Take away", takeAway(template, users(template.name)), `/api/templates/${encodeURIComponent(template.name)}`])));
  }

  /** Lines of what there is, each with a way to be rid of it. */
  const list = (title, lines) => h("div", { class: "trial-others" }, h("h3", {}, title),
    h("ul", { class: "plain" }, lines.map(([what, label, question, path]) => h("li", {}, h("span", {}, what),
      button(label, async () => {
        if (!(await asked(question, { yes: label }))) return;
        const gone = await trying(() => remove(path));
        if (gone && gone.complete === false) say("It is thrown away, but some of its files could not be removed yet; that is tried again at the next start:", { kind: "held", details: gone.left });
        fillOthers();
      }, { kind: "quiet" })))));

  async function begin(file) {
    fill(wrong);
    fill(busy, "The picture is looked through …");
    try {
      const draft = await post("/api/trials", form({ file, title: file.name.replace(/\.[^.]*$/, "").replace(/[-_]+/g, " ").slice(0, 100) }));
      location.hash = `draft-${draft.id}`;
    } catch (error) {
      if (error.status) fill(wrong, problemNote(error));
      else sayProblem(error);
    }
    fill(busy);
    chooser.value = "";
  }
}

function drops(zone, take) {
  const files = (event) => [...(event.dataTransfer?.types ?? [])].includes("Files");
  document.ondragover = (event) => { if (files(event)) { event.preventDefault(); zone.classList.add("dropping"); } };
  document.ondragleave = (event) => { if (event.relatedTarget === null) zone.classList.remove("dropping"); };
  document.ondrop = (event) => {
    if (!files(event)) return;
    event.preventDefault();
    zone.classList.remove("dropping");
    if (zone.isConnected && event.dataTransfer.files[0]) take(event.dataTransfer.files[0]);
  };
}

/** A draft: the form, the picture beside it, the names below the picture. */
async function filling(number) {
  const found = await trying(() => Promise.all([get(`/api/trials/${number}`), get("/api/workshop"), get("/api/fonts")]));
  if (!found) {
    history.replaceState(null, "", location.pathname);
    beginning();
    return;
  }
  const [draft, shop, fonts] = found;
  const { spec } = draft;
  let room = null; // for another text, as of the last trial
  let keepable = "It is being tried."; // why it cannot be kept; empty where it can
  const picture = { kind: draft.kind, size: draft.size };
  const shown = { problems: h("div", { "aria-live": "polite" }), findings: h("div", { class: "trial-findings" }), samples: h("div", { class: "trial-samples" }), state: h("p", { class: "soft trial-state", role: "status" }) };
  const drawing = trialPicture({
    moved: (kind, index) => { blanks.placed(kind, index); later(); },
    asked: (kind, index) => blanks.goTo(kind, index),
  });
  const formPlace = h("div", { class: "trial-form" });
  const blanks = trialForm(formPlace, spec, { picture, materials: shop.materials, fonts, room: () => room, changed: () => { drawing.marks(spec); later(); } });
  const names = h("textarea", { class: "trial-names", rows: 4, dir: "auto", spellcheck: "false", value: spec.samples.join("\n"),
    on: { input: () => { spec.samples = names.value.split("\n").map((line) => line.trim()).filter(Boolean).slice(0, 6); later(); } } });
  const title = wordField("What the template is called", spec.title, (value) => { spec.title = value; later(); });
  const keeping = h("div", { role: "alert" });
  const tried = h("div", { class: "trial-tried" }, h("h2", {}, "Tried with these names"), shown.samples, shown.findings);
  const keep = button("Keep it as a template", keepIt, { kind: "main", "aria-describedby": "trial-keeping" });
  const beside = h("p", { class: "soft", id: "trial-keeping" });
  fill(place, h("div", { class: "trial" },
    h("div", { class: "card sheet trial-sheet" },
      h("section", { class: "trial-section" }, numbered(1, "The picture"),
        h("p", {}, told(draft), " ", h("a", { href: "#" }, "Take another"))),
      formPlace,
      h("section", { class: "trial-section" }, numbered(6, "Names to try it with"),
        field("One a line, six at most; short ones, long ones, with accents", names))),
    h("div", { class: "trial-beside" }, h("div", { class: "trial-held" }, shown.state, drawing.element, shown.problems), tried),
    h("section", { class: "card sheet trial-keep" }, numbered(7, "Keep it"), h("div", { class: "trial-body" }, title, h("div", { class: "btns" }, keep, beside), keeping))));
  let waiting = null;
  let asking = null;
  drawing.marks(spec);
  tryIt();

  function later() {
    clearTimeout(waiting);
    waiting = setTimeout(tryIt, WAIT_MS);
    fill(shown.state, "Changed …");
    offer("It is tried first.");
  }

  async function tryIt() {
    clearTimeout(waiting);
    waiting = null;
    asking?.abort();
    asking = new AbortController();
    const mine = asking;
    fill(shown.state, "Being tried …");
    offer("It is being tried.");
    try {
      const outcome = await put(`/api/trials/${number}`, spec, { signal: mine.signal });
      if (mine !== asking) return;
      show(outcome);
    } catch (error) {
      if (calledOff(error) || mine !== asking) return;
      fill(shown.state, "Not tried.");
      offer("It could not be tried, so it cannot be kept.");
      if (error.status) fill(shown.problems, problemNote(error));
      else sayProblem(error);
    }
  }

  /** Whether it can be kept: `why` not, or "" with a word on what is held all the same. */
  function offer(why, words = why) {
    keepable = why;
    keep.setAttribute("aria-disabled", String(why !== ""));
    fill(beside, words);
  }

  function show({ problems, findings, ground, samples, room: free }) {
    drawing.ground(ground);
    if (problems.length === 0) room = free;
    const held = samples.filter(({ svg }) => svg === null).length;
    if (problems.length > 0) offer("It cannot be kept yet: see what is in its way, beside the picture.");
    else if (held === samples.length) offer("It cannot be kept yet: none of the names can be made with it.");
    else offer("", held > 0 ? `▲ ${held} of these ${samples.length} names ${held === 1 ? "is" : "are"} held, and so are names like ${held === 1 ? "it" : "them"} in a list.` : "");
    fill(shown.state, problems.length > 0 ? "Not a template yet; the draft is kept." : `Tried: ${samples.length - held} made + ${held} held. The draft is kept.`);
    fill(shown.problems, problems.length > 0 && problemNote({ what: problems.length > 1 ? "These things are in its way:" : "This is in its way:", details: problems }));
    fill(shown.findings, findings.map(finding));
    if (problems.length === 0) pictures(samples);
    tried.hidden = problems.length > 0;
  }

  function pictures(samples) {
    for (const image of shown.samples.querySelectorAll("img")) URL.revokeObjectURL(image.src);
    fill(shown.samples, samples.map(({ text, svg, findings }) => h("figure", { class: "trial-sample" },
      svg === null
        ? h("div", { class: "trial-none" }, badge("held"))
        : h("img", { src: URL.createObjectURL(new Blob([svg], { type: "image/svg+xml" })), alt: `The piece of ${text}` }),
      h("figcaption", {}, h("b", {}, own(text)), findings.map(({ severity, message }) => h("p", { class: "small", data: { severity } }, { hold: "■ ", warn: "▲ " }[severity] ?? "", message))))));
  }

  async function keepIt() {
    fill(keeping);
    await tryIt();
    if (keepable) return;
    offer("It is kept …");
    try {
      const kept = await post(`/api/trials/${number}/keep`, { title: spec.title });
      history.replaceState(null, "", location.pathname);
      done(kept.name, spec.title);
    } catch (error) {
      offer("");
      if (error.status) fill(keeping, problemNote(error));
      else sayProblem(error);
    }
  }
}

function done(name, title) {
  const head = h("h2", { tabindex: "-1" }, "Kept");
  fill(place, h("section", { class: "card sheet trial-start" }, head,
    h("p", {}, own(title), " is among your templates now. It can be chosen for every docket."),
    h("div", { class: "btns" }, h("a", { class: "btn btn-main", href: `/?template=${encodeURIComponent(name)}#new` }, "Start a docket with it"), h("a", { class: "btn", href: "/templates/new" }, "Make another"))));
  head.focus();
}

const numbered = (number, title) =>
  h("h2", { class: "trial-first" }, h("span", { class: "trial-number", "aria-hidden": "true" }, number), title);

const told = ({ kind, size, sized }) =>
  kind !== "svg" ? `${kind === "png" ? "PNG" : "JPEG"}, ${size[0]} × ${size[1]} pixels.` : sized ? `SVG, drawn ${sizeOf(size)}.` : "SVG, which does not say how large it is.";

function go() {
  const found = HASH.exec(location.hash);
  if (found) filling(Number(found[1]));
  else beginning();
}

await whenReady();
addEventListener("hashchange", go);
go();
document.documentElement.dataset.ready = "yes";

/** What is asked before a template is taken away: which dockets go by it is part of it. */
function takeAway({ title }, dockets) {
  const some = dockets.map((each) => docketNumber(each.number));
  const used = some.length === 0 ? "No docket uses it."
    : `${some.length === 1 ? "Docket" : "Dockets"} ${words(some)} ${some.length === 1 ? "uses it and needs" : "use it and need"} another one then.`;
  return `Take the template “${title}” away for good? ${used} Jobs that were made with it keep their files.`;
}
