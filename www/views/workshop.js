/**
 * The workshop: what is done with a design besides drawing it, one button each; at its foot the language.
 * @module
 */
import { icon, make } from "../elements.js";
import { LANGUAGES, spoken } from "../words.js";
import { closeOnBackdrop } from "./help.js";

/** @typedef {import("../desk.js").Desk} Desk */

/**
 * @typedef {object} Errand
 * @property {string} id
 * @property {string} word catalogue key of its name
 * @property {string} says catalogue key of what it does, in one line
 * @property {() => void} run
 */

/** @param {Desk} desk */
export function putTourAway({ notices }) {
  document.querySelector(".shown-round")?.classList.remove("shown-round");
  notices.remove("tour");
}

/** @param {Desk} desk @param {Errand[]} errands */
export function makeWorkshop(desk, errands) {
  const language = make("select", { id: "language" }, ...[...LANGUAGES].map(([value, text]) => make("option", { value, lang: value, text })));
  const show = () => {
    language.value = spoken();
  };
  // Where its words are not to be had, it shows what is spoken on.
  language.addEventListener("change", () => void desk.speak(language.value).then(show));
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
        // The tour points at what an errand may put away.
        putTourAway(desk);
        run();
      } }, make("strong", { word }), make("span", { word: says }));
      return make("li", {}, button);
    })),
    make("div", { class: "drill-of" }, make("label", { for: language.id, word: "page.language" }), make("div", { class: "entry choice" }, language, icon("down"))),
  );
  closeOnBackdrop(dialog);
  document.body.append(dialog);
  return () => {
    show();
    dialog.showModal();
  };
}
