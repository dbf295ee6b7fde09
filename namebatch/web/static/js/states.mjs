/** Where a piece stands; the badge of `forms` tells it by shape and word. */

const SIGNS = { look: "▲", held: "■", unseen: "○", approved: "✓", waiting: "…" };

export const STATES = Object.keys(SIGNS);

/** The shape that goes with a state, for where a badge is too much. */
export const sign = (state) => SIGNS[state] ?? "";

/** Which of `STATES` a row is in: always one, so that the counts of all add up to the lines. */
export function stateOf(row) {
  if (row.state === "waiting") return "waiting";
  if (row.state === "held") return "held";
  if (row.approved === "yes") return "approved";
  return row.severity === "warn" ? "look" : "unseen";
}

/** State and words for a row's badge; words are undefined where the state says it all. */
export function standing(row) {
  const state = stateOf(row);
  if (row.codes?.includes("left-out")) return { state, words: "left out" };
  if (state === "held" && row.held_by_hand) return { state, words: "held by hand" };
  if (row.approved === "stale" && row.state === "made") {
    return state === "look" ? { state, words: "look, it changed" } : { state: "stale" };
  }
  return { state };
}

/** How many rows are in each state, changed by hand, and in all. */
export function tally(rows) {
  const count = Object.fromEntries([...STATES, "mended", "all"].map((state) => [state, 0]));
  for (const row of rows) {
    count.all += 1;
    count[stateOf(row)] += 1;
    if (row.mended) count.mended += 1;
  }
  return count;
}

/** "Line 14" */
export const where = (row) => `${row.place} ${row.line}`;
