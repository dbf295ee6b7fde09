/** Which pieces hang on the wall, and in which order. */

import { all, fill, h, one } from "./dom.mjs";
import { number } from "./figures.mjs";
import { plain } from "./pieces.mjs";
import { sign, stateOf, tally } from "./states.mjs";

const FIRST = ["look", "held", "unseen", "waiting", "approved"]; // of ``needs a look first``
const TABS = [
  ["all", "All"],
  ["look", "Needs a look"],
  ["held", "Held"],
  ["unseen", "Not approved"],
  ["approved", "Approved"],
  ["mended", "Changed by hand"],
];
const names = new Intl.Collator(undefined, { numeric: true, sensitivity: "base" });
const area = (row) => (row.size_mm ? row.size_mm[0] * row.size_mm[1] : 0);
const ORDERS = {
  look: ["Needs a look first", (a, b) => FIRST.indexOf(stateOf(a)) - FIRST.indexOf(stateOf(b))],
  list: ["As in the list", () => 0],
  name: ["By name", (a, b) => names.compare(a.text, b.text)],
  order: ["By order", (a, b) => names.compare(a.order, b.order)],
  size: ["Largest first", (a, b) => area(b) - area(a)],
};

/** What is wanted at first. */
export const atFirst = () => ({ state: "all", order: "", words: "", sort: "look" });

/**
 * The lines that are wanted, in the wanted order; equal ones stay in that of the list.
 *
 * As long as pieces are being made nobody knows which of them need a look, and those that are there
 * already are worth seeing: they keep the order of the list till then.
 *
 * @param {object[]} rows in the order of the list
 */
export function chosen(rows, wish) {
  const words = plain(wish.words).split(/\s+/).filter(Boolean);
  const found = rows.filter(
    (row) =>
      fits(row, wish.state) &&
      (wish.order === "" || row.order === wish.order) &&
      words.every((word) => row.sought.includes(word)),
  );
  const making = wish.sort === "look" && rows.some((row) => row.state === "waiting");
  if (!making) found.sort(ORDERS[wish.sort][1]);
  return found.map((row) => row.line);
}

/** Whether a row belongs to one of the tabs. */
export const fits = (row, state) => state === "all" || (state === "mended" ? row.mended : stateOf(row) === state);

/** The bar above the wall: tabs with counts, search, order of customers, sorting. */
export class FilterBar {
  /**
   * @param {HTMLElement} place the form of the page
   * @param {(wish: object) => void} wished called with every other wish
   */
  constructor(place, wished) {
    this.wish = atFirst();
    this.place = place;
    fill(
      one(".filters-tabs", place),
      TABS.map(([state, word]) => tab(state, word, state === this.wish.state)),
    );
    this.find = one("[name=words]", place);
    this.order = one("[name=order]", place);
    this.sort = one("[name=sort]", place);
    const changed = () => {
      const state = one("[name=state]:checked", place).value;
      this.wish = { state, order: this.order.value, words: this.find.value, sort: this.sort.value };
      wished(this.wish);
    };
    place.addEventListener("input", changed);
    place.addEventListener("submit", (event) => event.preventDefault());
    this.customers = null;
  }

  /** Counts on the tabs, and the orders that there are. */
  show(rows) {
    const count = tally(rows);
    for (const input of all("[name=state]", this.place)) {
      const label = input.parentElement;
      one(".tab-count", label).textContent = number(count[input.value]);
      label.hidden = input.value === "mended" && count.mended === 0 && !input.checked;
    }
    this.#showOrders(rows);
  }

  /** Take away whatever keeps pieces from the wall. */
  reset() {
    one("[name=state][value=all]", this.place).checked = true;
    this.order.value = "";
    this.find.value = "";
    this.find.dispatchEvent(new Event("input", { bubbles: true }));
  }

  #showOrders(rows) {
    const count = new Map();
    for (const row of rows) if (row.order) count.set(row.order, (count.get(row.order) ?? 0) + 1);
    const customers = [...count].sort(([a], [b]) => names.compare(a, b));
    const known = JSON.stringify(customers);
    if (known === this.customers) return;
    this.customers = known;
    one(".filters-order", this.place).hidden = customers.length === 0;
    const kept = this.order.value;
    fill(
      this.order,
      h("option", { value: "" }, "All orders"),
      customers.map(([order, lines]) => h("option", { value: order, dir: "auto" }, `${order} (${lines})`)),
    );
    this.order.value = count.has(kept) ? kept : "";
    const kind = this.sort.value || this.wish.sort;
    const orders = Object.entries(ORDERS).filter(([key]) => key !== "order" || customers.length > 0);
    fill(this.sort, orders.map(([value, [word]]) => h("option", { value }, word)));
    this.sort.value = kind in ORDERS ? kind : "look";
  }
}

function tab(state, word, checked) {
  const shape = sign(state);
  return h(
    "label",
    { class: "tab", data: { state } },
    h("input", { type: "radio", name: "state", value: state, checked }),
    shape && h("span", { class: "tab-sign", "aria-hidden": "true" }, shape),
    h("span", { class: "tab-word" }, word),
    " ",
    h("b", { class: "tab-count" }, "0"),
  );
}
