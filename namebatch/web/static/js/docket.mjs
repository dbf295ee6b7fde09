/** The docket page: opens the docket, starts what stands on it, folds its parts. */

import { one } from "./dom.mjs";
import { fold } from "./folding.mjs";
import { keys, showKeys } from "./keys.mjs";
import * as layout from "./layout.mjs";
import * as list from "./list.mjs";
import * as made from "./made.mjs";
import { openDocket } from "./opened.mjs";
import { whenReady } from "./ready.mjs";
import { sayProblem } from "./say.mjs";
import * as slip from "./slip.mjs";
import * as stub from "./stub.mjs";
import * as wall from "./wall.mjs";

/** What stands on the docket: each module's `start(opened)` is called once. */
const STANDING = [stub, list, wall, slip, layout, made];

await whenReady();
const opened = openDocket(Number(one("#docket").dataset.number));

keys(document, "Everywhere on the docket", [
  { key: "?", told: "these keys", run: showKeys },
  { key: "Ctrl+z", shown: "Ctrl Z", told: "undo", run: () => opened.undo() },
  { key: ["Ctrl+Shift+z", "Ctrl+y"], shown: "Ctrl Y", told: "do it again", run: () => opened.redo() },
  { key: "1", told: "List", run: () => opened.show("part", { id: "list" }) },
  { key: "2", told: "Look", run: () => opened.show("part", { id: "look" }) },
  { key: "3", told: "Lay out", run: () => opened.show("part", { id: "lay-out" }) },
  { key: "4", told: "Make", run: () => opened.show("part", { id: "make" }) },
]);

const first = opened.refresh();
await opened.listening;
for (const each of STANDING) stand(each);
await first;
fold(opened);
document.documentElement.dataset.ready = "yes";

/** Start one; one that fails says so and leaves the others standing. */
async function stand(module) {
  try {
    await module.start(opened);
  } catch (error) {
    sayProblem(error);
  }
}
