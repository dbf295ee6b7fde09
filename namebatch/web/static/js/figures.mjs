/** Figures as they are said: whole numbers with their noun, measures with their unit. */

const NBSP = "\u00a0";
const whole = new Intl.NumberFormat("en-GB");

/** "1,204": a whole number. */
export const number = (value) => whole.format(value);

/** "1 piece", "231 pieces"; `many` where an s is not enough. */
export const count = (value, noun, many = `${noun}s`) => `${number(value)}${NBSP}${value === 1 ? noun : many}`;

/** "the printer, the cutter and Card 160 g/m²" */
export const words = (parts) => [parts.slice(0, -1).join(", "), ...parts.slice(-1)].filter(Boolean).join(" and ");

/** "12.5 mm"; ends in noughts are left out. */
export const mm = (value, digits = 1) => `${trimmed(value, digits)}${NBSP}mm`;

/** "85 × 54 mm" */
export const size = ([width, height], digits = 1) =>
  `${trimmed(width, digits)}${NBSP}×${NBSP}${trimmed(height, digits)}${NBSP}mm`;

/** "78 %" of a share between 0 and 1. */
export const percent = (share) => `${Math.round(100 * share)}${NBSP}%`;

/** "45 s", "12 min", "2 h 5 min" of seconds. */
export function duration(seconds) {
  if (Math.round(seconds) < 60) return `${Math.round(seconds)}${NBSP}s`;
  const minutes = Math.round(seconds / 60);
  if (minutes < 60) return `${minutes}${NBSP}min`;
  return `${Math.floor(minutes / 60)}${NBSP}h${minutes % 60 ? ` ${minutes % 60}${NBSP}min` : ""}`;
}

/** "14 March, 09:30" of a moment as the program writes it; the year where it is another one. */
export function moment(text, now = new Date()) {
  const at = new Date(text);
  const year = at.getFullYear() === now.getFullYear() ? {} : { year: "numeric" };
  const day = at.toLocaleDateString("en-GB", { day: "numeric", month: "long", ...year });
  return `${day}, ${at.toLocaleTimeString("en-GB", { hour: "2-digit", minute: "2-digit" })}`;
}

/** Docket numbers as they are printed: 0042. */
export const docketNumber = (value) => String(value).padStart(4, "0");

/** What the lines are of which there is a piece: only a job makes them. */
export const madeWord = ({ latest_job: job }) => (job === "current" ? "made" : "can be made");

/** "118 in = 115 can be made + 3 held", with what is still to be tried, of a docket. */
export function sum(docket) {
  const { lines, made, held, waiting = 0 } = docket.counts;
  const parts = [`${number(made)} ${madeWord(docket)}`, `${number(held)} held`];
  if (waiting > 0) parts.push(`${number(waiting)} to come`);
  return `${number(lines)} in = ${parts.join(" + ")}`;
}

function trimmed(value, digits) {
  return String(Number(Number(value).toFixed(digits)));
}
