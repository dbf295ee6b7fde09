/** The docket that this page shows: its latest state, who wants to hear of it, its changes. */

import { get, post } from "./api.mjs";
import { listen } from "./events.mjs";
import { say, trying } from "./say.mjs";

const PATIENCE_MS = 250; // what begins before the line stands is asked for again then
const BETWEEN_MS = 700; // the stub follows the pieces no faster than it can be read

/**
 * Open a docket.
 *
 * Kinds that `on` hears: `docket` (Docket, at once if it is known), `pieces`, `changed`, `make` (as the
 * program sends them), `again` (load everything anew), `slip` ({line}: show that piece large),
 * `part` ({id}: open that part).
 *
 * @param {number} number
 */
export function openDocket(number) {
  const heard = new Map();
  let asking = null;
  let onceMore = false;
  let later = null;
  let stands = null;
  let offer = null; // what is offered at the foot, and the step that it belongs to
  let late = null; // null: the line does not stand yet; true: nor did it when the page began

  const opened = {
    number,
    /** Done when events are heard, so that nothing falls between them and what is asked for then. */
    listening: new Promise((resolve) => {
      stands = resolve;
      setTimeout(() => {
        late ??= true;
        resolve();
      }, PATIENCE_MS);
    }),
    /** The latest Docket, or null before the first answer. */
    now: null,
    /** `/api/dockets/7/…` */
    at: (path = "") => `/api/dockets/${number}${path && `/${path}`}`,
    on(kind, hear) {
      heard.set(kind, [...(heard.get(kind) ?? []), hear]);
      if (kind === "docket" && opened.now) hear(opened.now);
    },
    /** Let everyone know. */
    show(kind, data) {
      for (const hear of heard.get(kind) ?? []) hear(data);
    },
    /** A Docket that came with an answer. */
    take(docket) {
      opened.now = docket;
      if (offer?.step && offer.step !== stepOf(docket)) withdraw();
      opened.show("docket", docket);
    },
    refresh,
    /** Run a change (async); says its problem, or `told` with the way back; gives back its answer. */
    async change(doing, told = null) {
      const answer = await trying(doing);
      if (answer === undefined) return undefined;
      withdraw();
      const words = typeof told === "function" ? told(answer) : told;
      if (words) opened.done(words);
      await settled();
      return answer;
    },
    /** Say what was done, with the way back. */
    done: (told) => opened.offer(told, { label: "Undo", run: () => opened.undo() }),
    /** Say something with what can be done then; it goes with the next change. */
    offer(told, action) {
      offer = { withdraw: say(told, { action }), step: null };
    },
    undo: () => walk("undo", "Undone", "Nothing to undo."),
    redo: () => walk("redo", "Done again", "Nothing to do again."),
  };

  async function walk(way, word, nothing) {
    const step = await trying(() => post(opened.at(way)));
    if (!step) return;
    withdraw();
    const told = `${word}: ${step.told}`;
    if (step.told === null) say(nothing);
    else if (way === "undo") opened.offer(told, { label: "Do it again", run: opened.redo });
    else say(told);
    opened.show("changed", { revision: step.revision, lines: step.lines });
    await settled();
  }

  /** What is offered holds for the step that the docket stands at now, no longer. */
  async function settled() {
    const mine = offer;
    await refresh();
    if (mine && mine === offer && opened.now) mine.step = stepOf(opened.now);
  }

  function withdraw() {
    offer?.withdraw();
    offer = null;
  }

  /** Ask for the docket; done with an answer that was asked for after this call, not before. */
  function refresh() {
    onceMore = asking !== null;
    asking ??= asked();
    return asking;
  }

  async function asked() {
    try {
      let docket;
      do {
        onceMore = false;
        docket = await trying(() => get(opened.at()));
        if (docket) opened.take(docket);
      } while (onceMore);
      return docket;
    } finally {
      asking = null;
    }
  }

  function again() {
    opened.show("again", null);
    refresh();
  }

  function soon() {
    later ??= setTimeout(() => {
      later = null;
      refresh();
    }, BETWEEN_MS);
  }

  listen(number, {
    pieces(data) {
      opened.show("pieces", data);
      soon();
    },
    changed(data) {
      opened.show("changed", data);
      soon();
    },
    make(data) {
      opened.show("make", data);
      if (data.state !== "running") soon();
    },
    open() {
      stands();
      if (late) again();
      late = false;
    },
    again,
    lost: () => say("No line to the program on this machine; trying again. What was kept is kept.", { kind: "look", stays: true }),
    found: () => say("The program answers again."),
  });
  return opened;
}

/** The step of its history that a docket stands at. */
const stepOf = ({ changed, undo_told: undone, redo_told: again }) => JSON.stringify([changed, undone, again]);
