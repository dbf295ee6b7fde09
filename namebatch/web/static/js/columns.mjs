/** Which column is what: guessed, shown for correction with the first rows. */

import { patch } from "./api.mjs";
import { fill, h, own, refill } from "./dom.mjs";
import { count } from "./figures.mjs";
import { field, select } from "./forms.mjs";

const [GUESS, NONE] = ["\tguess", "\tnone"]; // no header begins with white space
const meant = (value) => (value === GUESS ? null : value === NONE ? "" : value);

/** Builds the section in `place`; gives back what shows a list there. */
export function columns(opened, place) {
  const fields = h("div", { class: "fields" });
  const rows = h("div", { class: "table-scroll first", tabindex: "0", role: "region", "aria-label": "The first rows of the list" });
  fill(place, h("h3", { id: "list-which" }, "Which column is what"), fields, rows);

  /** A header; empty for none in this list, null to have it guessed. */
  function choose(name, header) {
    const said = { ...(opened.now?.settings.columns ?? {}) };
    if (header === null) delete said[name];
    else said[name] = header;
    const told = header ? `${name} comes from the column ${header}.` : header === "" ? `Nothing in this list is ${name}.` : `The column for ${name} is left to be guessed.`;
    return opened.change(() => patch(opened.at("settings"), { columns: Object.keys(said).length ? said : null }), told);
  }

  return (list) => {
    place.hidden = list.headers.length === 0;
    refill(fields, [list.headers, list.fields], () => list.fields.map((each) => column(each, list.headers, choose)));
    refill(rows, [list.headers, list.fields, list.first], () => table(list));
  };
}

function column({ name, required, header, guessed }, headers, choose) {
  const open = !header && guessed; // nothing was said and nothing fits
  const ways = [
    open && [GUESS, required ? "– choose a column –" : "none in this list"],
    !guessed && [GUESS, "leave it to be guessed"],
    !required && !open && [NONE, "none in this list"],
  ];
  const now = header ? header : open ? GUESS : NONE;
  const box = select([...ways.filter(Boolean), ...headers.map((each) => [each, each])], now, {
    id: `column-${name}`, "aria-invalid": required && !header ? "true" : null,
    on: { change: async () => { if (!(await choose(name, meant(box.value)))) box.value = now; } },
  });
  return field([own(name), required ? " (needed)" : ""], box, guessed ? (header ? "guessed; say otherwise if it is wrong" : null) : "as you said");
}

function table({ headers, fields, first, lines }) {
  const feeds = (header) => fields.filter((each) => each.header === header).map((each) => each.name);
  const used = (header) => feeds(header).length > 0;
  return h("table", { class: "ruled" },
    h("caption", {}, first.length < lines ? `The first ${count(first.length, "line")} of ${lines}` : "All lines"),
    h("thead", {}, h("tr", {}, h("th", { scope: "col" }, "line"), headers.map((header) =>
      h("th", { scope: "col", class: used(header) ? "used" : null }, own(header),
        h("span", { class: "feeds" }, used(header) ? `→ ${feeds(header).join(", ")}` : "not used"))))),
    h("tbody", {}, first.map(({ line, values }) =>
      h("tr", {}, h("th", { scope: "row" }, line), headers.map((header) =>
        h("td", { class: used(header) ? "used" : null }, own(values[header] ?? "")))))));
}
