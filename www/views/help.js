/**
 * What a number means: meaning, equation and source, its basis, the usual value and the range covered.
 * @module
 */
import { icon, make } from "../elements.js";
import { say } from "../words.js";

/**
 * @typedef {object} Told
 * @property {string} label
 * @property {string} [help]
 * @property {string} [basis]
 * @property {string} [usual]
 * @property {string} [range]
 * @property {{ word: string, run: () => void }} [action]
 */

/** @type {HTMLDialogElement | null} */
let sheet = null;

/** @param {Told} told */
export function showHelp(told) {
  sheet?.remove();
  const close = () => sheet?.close();
  const facts = make("dl", { class: "facts" });
  /** @param {string} word @param {string | undefined} text */
  const fact = (word, text) => {
    if (text) facts.append(make("div", {}, make("dt", { word }), make("dd", { text })));
  };
  fact("page.help.basis", told.basis);
  fact("page.help.usual", told.usual);
  fact("page.help.range", told.range);
  const { action } = told;
  const dialog = make(
    "dialog",
    { class: "sheet help-sheet", "aria-labelledby": "help-title" },
    make(
      "div",
      { class: "sheet-head" },
      make("h2", { id: "help-title", text: told.label }),
      make("button", { type: "button", class: "icon-button", label: "page.close", onclick: close }, icon("close")),
    ),
    ...(told.help ?? "").split("\n").filter(Boolean).map((text) => make("p", { text })),
    facts.childElementCount > 0 ? facts : null,
    action
      ? make("button", {
          type: "button",
          class: "button",
          word: action.word,
          onclick: () => {
            close();
            action.run();
          },
        })
      : null,
  );
  closeOnBackdrop(dialog);
  dialog.addEventListener("close", () => dialog.remove());
  document.body.append(dialog);
  sheet = dialog;
  dialog.showModal();
}

/** A tap beside a dialog closes it. @param {HTMLDialogElement} dialog */
export function closeOnBackdrop(dialog) {
  dialog.addEventListener("click", (event) => {
    if (event.target !== dialog) return;
    const box = dialog.getBoundingClientRect();
    const inside = event.clientX >= box.left && event.clientX <= box.right && event.clientY >= box.top && event.clientY <= box.bottom;
    if (!inside) dialog.close();
  });
}

/**
 * The (?) beside a number.
 * @param {string} label the number's own label
 * @param {() => Told} tell
 */
export function helpButton(label, tell) {
  const button = make("button", { type: "button", class: "help-button", "aria-haspopup": "dialog", onclick: () => showHelp(tell()) }, make("span", { "aria-hidden": "true", text: "?" }));
  button.setAttribute("aria-label", say("page.help.about", { label }));
  return button;
}
