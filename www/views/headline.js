/**
 * The three numbers that matter now. Each tells what it means when tapped.
 * @module
 */
import { make, setText } from "../elements.js";
import { showHelp } from "./help.js";

/** @typedef {import("../desk.js").Desk} Desk */
/** @typedef {import("../engine.js").Figure} Figure */

/** @param {Desk} desk */
export function makeHeadline(desk) {
  const root = make("div", { id: "headline", role: "group", label: "page.headline" });
  /** @type {{ figure: Figure, value: HTMLElement, unit: HTMLElement, label: HTMLElement }[]} */
  const boxes = [];

  /** @param {Figure} figure */
  function addBox(figure) {
    const value = make("strong");
    const unit = make("span", { class: "unit" });
    const label = make("span", { class: "figure-label" });
    const box = { figure, value, unit, label };
    const button = make(
      "button",
      {
        type: "button",
        class: "figure",
        "aria-haspopup": "dialog",
        onclick: () => showHelp({ label: box.figure.label, help: box.figure.help, basis: box.figure.basis }),
      },
      make("span", { class: "figure-value" }, value, " ", unit),
      label,
    );
    root.append(button);
    boxes.push(box);
  }

  return {
    root,
    update() {
      const figures = desk.ask("headline", (bench) => bench.headline(), /** @type {Figure[]} */ ([]));
      figures.forEach((figure, at) => {
        if (!boxes[at]) addBox(figure);
        const box = boxes[at];
        if (!box) return;
        box.figure = figure;
        setText(box.value, figure.value);
        setText(box.unit, figure.unit);
        setText(box.label, figure.label);
      });
    },
  };
}
