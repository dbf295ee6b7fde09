/** Getting ready: at the first start after installing nothing can be drawn for about a minute. */

import { get } from "./api.mjs";
import { h, one } from "./dom.mjs";

const AGAIN_MS = 1000;
let waiting = null;

/**
 * Resolves once pieces can be drawn; until then that is told at the head of the page.
 *
 * What needs drawing is asked for only then: a browser has few lines to the program, and pictures that wait
 * would take them all.
 *
 * @param {string} words what may be done meanwhile; those of the first call count
 */
export function whenReady(words = "This page goes on as soon as that is done.") {
  waiting ??= wait(words);
  return waiting;
}

async function wait(words) {
  let told = null;
  while (!(await isReady())) {
    if (!told) {
      told = h("div", { class: "getting-ready card", role: "status" },
        h("p", {}, h("strong", {}, "Getting ready: the first time takes about a minute."), " ", words));
      one("#main").prepend(told);
    }
    await new Promise((done) => setTimeout(done, AGAIN_MS));
  }
  told?.remove();
}

/** A program that does not answer is for whoever asks for more than this to tell. */
async function isReady() {
  try {
    return (await get("/api/ready")).ready;
  } catch {
    return true;
  }
}
