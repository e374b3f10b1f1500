/**
 * The top line: whose sail it is, undo, redo, units, projects.
 * @module
 */
import { icon, make, setAttribute, setText } from "../elements.js";
import { say } from "../words.js";

/** @typedef {import("../desk.js").Desk} Desk */

/**
 * A choice between a few: radio buttons that look like one switch.
 * @param {string} name
 * @param {string} label catalogue key of the group's label
 * @param {{ value: string, word: string, label?: string }[]} options
 * @param {(value: string) => void} choose
 */
export function makeSwitch(name, label, options, choose) {
  const root = make("fieldset", { class: "switch" }, make("legend", { class: "unseen", word: label }));
  /** @type {Map<string, HTMLInputElement>} */
  const inputs = new Map();
  for (const { value, word, label: spoken } of options) {
    const input = make("input", { type: "radio", name, value, class: "unseen", label: spoken, onchange: () => choose(value) });
    inputs.set(value, input);
    root.append(make("label", {}, input, make("span", { word })));
  }
  return {
    root,
    /** @param {string} value */
    update(value) {
      for (const [known, input] of inputs) input.checked = known === value;
    },
  };
}

/**
 * @param {HTMLElement} root
 * @param {Desk} desk
 * @param {() => void} openProjects
 * @param {() => void} openWorkshop
 */
export function makeHeader(root, desk, openProjects, openWorkshop) {
  const name = make("h1", { id: "design-name" });
  const note = make("p", { id: "design-state" });
  const undo = make("button", { type: "button", id: "undo", class: "icon-button", label: "page.undo", "aria-keyshortcuts": "Control+Z", onclick: () => desk.undo() }, icon("undo"));
  const redo = make("button", { type: "button", id: "redo", class: "icon-button", label: "page.redo", "aria-keyshortcuts": "Control+Shift+Z", onclick: () => desk.redo() }, icon("redo"));
  const units = makeSwitch(
    "units",
    "page.units",
    [
      { value: "m", word: "page.units.m", label: "unit.metric" },
      { value: "ft", word: "page.units.ft", label: "unit.imperial" },
    ],
    (value) => desk.setSettings({ units: value === "ft" ? "ft" : "m" }),
  );
  units.root.id = "units";
  const projects = make("button", { type: "button", id: "projects-button", class: "icon-button wordy", "aria-haspopup": "dialog", onclick: openProjects }, icon("projects"), make("span", { word: "page.projects" }));
  const workshop = make("button", { type: "button", id: "workshop-button", class: "icon-button", label: "page.workshop", "aria-haspopup": "dialog", onclick: openWorkshop }, icon("workshop"));
  root.append(make("div", { class: "whose" }, name, note), make("div", { class: "tools" }, undo, redo, units.root, projects, workshop));

  document.addEventListener("keydown", (event) => {
    if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
    const key = event.key.toLowerCase();
    if (key !== "z" && key !== "y") return;
    const { target } = event;
    // A half-typed field has an undo of its own.
    if (target instanceof HTMLInputElement && target.dataset.dirty === "") return;
    if (target instanceof HTMLTextAreaElement && target.dataset.dirty === "") return;
    if (document.querySelector("dialog[open]")) return;
    event.preventDefault();
    if (key === "y" || event.shiftKey) desk.redo();
    else desk.undo();
  });

  return () => {
    setText(name, desk.project?.name ?? say("page.title"));
    setText(note, desk.lookOnly ? say("page.look_only") : "");
    // aria-disabled keeps the focus where it is when the last step has been taken back.
    setAttribute(undo, "aria-disabled", desk.canUndo ? null : "true");
    setAttribute(redo, "aria-disabled", desk.canRedo ? null : "true");
    units.update(desk.settings.units);
  };
}
