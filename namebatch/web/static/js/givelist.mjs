/** Takes a list from someone: dropped, chosen as a file, or pasted. */

import { fill, h, own } from "./dom.mjs";
import { button, field } from "./forms.mjs";

const KINDS = ".csv,.tsv,.txt,.xlsx,.ods";

/**
 * The place where a list is given.
 *
 * A file that is dropped anywhere on the page counts as dropped here while the place is on it.
 *
 * @param {function} changed called without arguments whenever what is given changes
 * @returns {{element: HTMLElement, given: function(): {file: File|null, text: string|null}|null,
 *   clear: function}} `given` is null as long as there is neither file nor text
 */
export function listPlace(changed) {
  let dropped = null;
  const chooser = h("input", { type: "file", accept: KINDS, on: { change: () => take(chooser.files[0] ?? null) } });
  const pasted = h("textarea", {
    spellcheck: "false", autocomplete: "off", dir: "auto", placeholder: "name\tvillage\tquantity\nAda Marram\tTeasel Bottom\t1",
    on: { input: changed },
  });
  const named = h("p", { class: "give-named", "aria-live": "polite" });
  const zone = h("div", { class: "give-zone" },
    h("p", { class: "give-call" }, "Drop the list here"),
    field("or choose its file", chooser, "CSV, TSV, XLSX or ODS; the first line says what the columns are."), named);
  const element = h("div", { class: "give" }, zone,
    h("details", { class: "fold" }, h("summary", {}, "or paste it"), field("Lines as they come from a sheet or a letter", pasted)));

  function take(file) {
    dropped = file;
    fill(named, file && ["Given: ", own(file.name), button("Not this one", () => { chooser.value = ""; take(null); }, { kind: "quiet" })]);
    changed();
  }

  catchDrops(element, zone, take);
  return {
    element,
    given() {
      if (dropped) return { file: dropped, text: null };
      return pasted.value.trim() ? { file: null, text: pasted.value } : null;
    },
    clear() {
      chooser.value = "";
      pasted.value = "";
      take(null);
    },
  };
}

/** Drops beside the place count too; without this a file dropped there would replace the page. */
function catchDrops(element, zone, take) {
  const shown = () => element.isConnected && element.checkVisibility();
  const files = (event) => [...(event.dataTransfer?.types ?? [])].includes("Files");
  document.addEventListener("dragover", (event) => {
    if (!files(event)) return;
    event.preventDefault();
    zone.classList.toggle("dropping", shown());
  });
  document.addEventListener("dragleave", (event) => {
    if (event.relatedTarget === null) zone.classList.remove("dropping");
  });
  document.addEventListener("drop", (event) => {
    if (!files(event)) return;
    event.preventDefault();
    zone.classList.remove("dropping");
    if (shown() && event.dataTransfer.files.length > 0) take(event.dataTransfer.files[0]);
  });
}
