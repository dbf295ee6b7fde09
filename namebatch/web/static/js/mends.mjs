/** Changes by hand as the program takes them: only what says something, compared whatever their order. */

/** A mend without what says nothing; null for nothing at all. */
export function tidied(draft) {
  const text = {};
  for (const [box, told] of Object.entries(draft.text ?? {})) {
    const kept = Object.entries(told).filter(([, value]) => ![null, undefined, "", false].includes(value));
    if (kept.length > 0) text[box] = Object.fromEntries(kept);
  }
  const mend = { ...draft, text };
  for (const key of ["fields", "text"]) if (Object.keys(mend[key] ?? {}).length === 0) delete mend[key];
  for (const key of ["font", "held"]) if (!mend[key]) delete mend[key];
  return Object.keys(mend).some((key) => key !== "was") ? mend : null;
}

/** Whether two mends change the same. */
export const sameMend = (one, other) => written(one) === written(other);

function written(mend) {
  return JSON.stringify(mend ?? null, (_, value) => {
    if (value === null || typeof value !== "object" || Array.isArray(value)) return value;
    const told = Object.entries(value).filter(([key]) => key !== "was");
    return Object.fromEntries(told.sort(([a], [b]) => (a < b ? -1 : 1)));
  });
}
