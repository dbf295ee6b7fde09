/** Hears what happens to a docket on this machine, from wherever it was changed. */

const KINDS = ["pieces", "changed", "make"];
const PATIENCE_MS = 4000;

/**
 * Listen to a docket's events until the returned function is called.
 *
 * A browser keeps few lines open to one machine, so a tab that nobody sees hangs up and asks for
 * everything again when it is looked at.
 *
 * @param {number} number of the docket
 * @param {{pieces?, changed?, make?, open?, again?, lost?, found?}} heard functions: each kind gets its data;
 *   `open` is called when the line stands, `again` too if it was down before (load everything anew),
 *   `lost` and `found` once each time.
 */
export function listen(number, heard) {
  let line = null;
  let missed = document.hidden;
  let down = null;
  let lost = false;

  function hangUp() {
    clearTimeout(down);
    down = null;
    if (line) missed = true;
    line?.close();
    line = null;
  }

  function ring() {
    down = null;
    line = new EventSource(`/api/dockets/${number}/events`);
    for (const kind of KINDS) {
      line.addEventListener(kind, (event) => heard[kind]?.(JSON.parse(event.data)));
    }
    line.addEventListener("open", () => {
      clearTimeout(down);
      down = null;
      if (lost) heard.found?.();
      lost = false;
      heard.open?.();
      if (missed) heard.again?.();
      missed = false;
    });
    line.addEventListener("error", () => {
      missed = true;
      down ??= setTimeout(() => {
        if (!lost) heard.lost?.();
        lost = true;
        hangUp();
        down = setTimeout(ring, PATIENCE_MS);
      }, PATIENCE_MS);
    });
  }

  function seen() {
    if (document.hidden) hangUp();
    else if (!line) ring();
  }

  document.addEventListener("visibilitychange", seen);
  window.addEventListener("pagehide", hangUp);
  window.addEventListener("pageshow", seen);
  seen();
  return () => {
    document.removeEventListener("visibilitychange", seen);
    window.removeEventListener("pagehide", hangUp);
    window.removeEventListener("pageshow", seen);
    hangUp();
  };
}
