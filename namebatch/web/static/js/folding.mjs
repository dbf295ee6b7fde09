/** Which parts of the docket lie open: the one asked for, else the one that is next. */

import { all, one } from "./dom.mjs";

const PARTS = ["list", "look", "lay-out", "make"];

/** Open what the address names (or what is next) and follow links and keys to parts. */
export function fold(opened) {
  opened.on("part", ({ id }) => follow(id, true));
  window.addEventListener("hashchange", () => go(location.hash, opened, true));
  document.addEventListener("click", (event) => {
    const link = event.target.closest?.('a[href^="#"]');
    if (link && link.getAttribute("href") === location.hash) go(location.hash, opened, true);
  });
  if (!go(location.hash, opened)) part(opened.now?.next?.part ?? "list").open = true;
}

/** Open the part (or the slip) that a fragment names; false if it names none. */
function go(hash, opened, asked = false) {
  const id = hash.slice(1);
  const line = /^line-(\d+)$/.exec(id);
  if (line) {
    part("look").open = true;
    opened.show("slip", { line: Number(line[1]) });
    return true;
  }
  if (!PARTS.includes(id)) return false;
  follow(id, asked);
  return true;
}

/** Open a part, fold those before it, bring it into view; where it was `asked` for, the focus goes there. */
function follow(id, asked) {
  for (const each of all("details.part")) {
    if (PARTS.indexOf(each.id) < PARTS.indexOf(id)) each.open = false;
  }
  const target = part(id);
  target.open = true;
  target.scrollIntoView({ block: "start" });
  if (asked) one("summary", target).focus({ preventScroll: true });
}

const part = (id) => one(`#${PARTS.includes(id) ? id : "list"}`);
