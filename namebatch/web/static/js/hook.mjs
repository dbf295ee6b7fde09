/** The hook: every docket hangs here, the one touched last first. */

import { get, post, remove } from "./api.mjs";
import { fill, h, one, own } from "./dom.mjs";
import { count, docketNumber, moment, sum } from "./figures.mjs";
import { asked, button } from "./forms.mjs";
import { keys, showKeys } from "./keys.mjs";
import { newDocket } from "./newdocket.mjs";
import { whenReady } from "./ready.mjs";
import { say, trying } from "./say.mjs";
import { templatePicture } from "./templates.mjs";

const place = one("#hanging");
const fresh = one("#new");
const opener = one("#new-open");
let filled = false;

async function load() {
  const dockets = await trying(() => get("/api/dockets"));
  if (!dockets) return;
  fill(place, dockets.map(hang));
  one("#none").hidden = dockets.length > 0;
  opener.hidden = dockets.length === 0;
  fill(one("#hook-count"), dockets.length > 0 && `${count(dockets.length, "docket")}, the last one touched first`);
  if (dockets.length === 0 || location.hash === "#new") await openNew();
}

/** One docket on its nail. */
function hang(docket) {
  const number = docketNumber(docket.number);
  return h("li", { class: "hung" },
    h("article", { class: "hung-card", "aria-labelledby": `docket-${docket.number}` },
      h("p", { class: "hung-number" }, "docket ", h("b", {}, number)),
      h("h2", { class: "hung-title", id: `docket-${docket.number}` },
        h("a", { href: `/dockets/${docket.number}` }, own(docket.title))),
      h("div", { class: "hung-what" },
        docket.template && h("span", { class: "hung-picture" }, templatePicture(docket.template)),
        h("p", {}, whatIsMade(docket))),
      h("p", { class: "hung-sum" }, docket.counts ? sum(docket) : docket.list_name ? own(docket.list_name) : "no list yet"),
      docket.problem && h("p", { class: "small" }, docket.problem.what),
      h("p", { class: "small soft" }, jobs(docket), (docket.counts || !docket.template) && [`next: ${docket.next.text}`, h("br")], `touched ${moment(docket.changed)}`),
      h("div", { class: "btns hung-ways" },
        button("Copy", () => copy(docket), { kind: "quiet", "aria-label": `Copy docket ${number}` }),
        button("Delete", () => take(docket), { kind: "quiet", "aria-label": `Delete docket ${number}` }))));
}

/** A job that was made is told whatever is to be done next. */
function jobs({ jobs: made, latest_job: latest }) {
  if (!made) return null;
  const state = { changed: ", something was changed since", current: ", as it is now" }[latest] ?? "";
  return [`${count(made, "job")} made${state}`, h("br")];
}

function whatIsMade({ template, title, settings }) {
  if (!template) return settings.template ? ["its template ", own(settings.template), " is there no longer"] : "no template yet";
  return template.title === title ? null : template.title;
}

async function copy(docket) {
  const made = await trying(() => post(`/api/dockets/${docket.number}/copy`, {}));
  if (!made) return;
  await load();
  say(["Copied with its list and every change: ", own(made.title), `, docket ${docketNumber(made.number)}.`]);
}

async function take(docket) {
  const what = [
    "Delete docket ", docketNumber(docket.number), " “", own(docket.title),
    "”? Its list, changes, approvals and files go with it and cannot be brought back.",
  ];
  if (!(await asked(what, { yes: "Delete it" }))) return;
  const gone = await trying(() => remove(`/api/dockets/${docket.number}`));
  if (!gone) return;
  await load();
  if (gone.complete) say(`Docket ${docketNumber(docket.number)} is deleted with all its data.`);
  else say("The docket is deleted, but some of its files could not be. Close whatever has them open and delete them by hand:", { kind: "held", details: gone.left });
  one("h1").focus();
}

async function openNew() {
  fresh.hidden = false;
  opener.setAttribute("aria-expanded", "true");
  if (filled) return;
  filled = true;
  await newDocket(one("#new-form"), new URLSearchParams(location.search).get("template"));
}

opener.addEventListener("click", async () => {
  if (!fresh.hidden) {
    fresh.hidden = true;
    opener.setAttribute("aria-expanded", "false");
    return;
  }
  await openNew();
  one("#new-title").focus();
});
document.addEventListener("visibilitychange", () => document.hidden || load());
window.addEventListener("pageshow", (event) => event.persisted && load());
keys(document, "On the hook", [
  { key: "?", told: "these keys", run: showKeys },
  { key: "n", told: "new docket", run: () => opener.click() },
]);
whenReady("A template can be chosen and a list given meanwhile; pictures come after that.");
await load();
document.documentElement.dataset.ready = "yes";
