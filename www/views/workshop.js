/**
 * The workshop: what is done with a design besides drawing it, one button each.
 * @module
 */
import { icon, make } from "../elements.js";
import { closeOnBackdrop } from "./help.js";

/**
 * @typedef {object} Errand
 * @property {string} id
 * @property {string} word catalogue key of its name
 * @property {string} says catalogue key of what it does, in one line
 * @property {() => void} run
 */

/** @param {Errand[]} errands */
export function makeWorkshop(errands) {
  const dialog = make(
    "dialog",
    { class: "sheet", id: "workshop", "aria-labelledby": "workshop-title" },
    make(
      "div",
      { class: "sheet-head" },
      make("h2", { id: "workshop-title", word: "page.workshop" }),
      make("button", { type: "button", class: "icon-button", label: "page.close", onclick: () => dialog.close() }, icon("close")),
    ),
    make("ul", { class: "errands" }, ...errands.map(({ id, word, says, run }) => {
      const button = make("button", { type: "button", id, onclick: () => {
        dialog.close();
        run();
      } }, make("strong", { word }), make("span", { word: says }));
      return make("li", {}, button);
    })),
  );
  closeOnBackdrop(dialog);
  document.body.append(dialog);
  return () => dialog.showModal();
}
