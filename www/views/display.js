/**
 * What the drawing shows, how near it is, and the scheme: a small panel that leaves the drawing in sight.
 * @module
 */
import { icon, make, setAttribute } from "../elements.js";
import { makeSwitch } from "./header.js";

/** @typedef {import("../desk.js").Desk} Desk */

/**
 * @param {HTMLElement} root where the buttons go
 * @param {HTMLElement} place where the panel opens
 * @param {Desk} desk
 * @param {{ zoomIn: () => void, zoomOut: () => void, fit: () => void }} drawing
 */
export function makeDisplay(root, place, desk, drawing) {
  const fit = make("button", { type: "button", id: "fit", class: "icon-button", label: "page.fit", onclick: drawing.fit }, icon("fit"));
  const open = make("button", { type: "button", id: "display-button", class: "icon-button", label: "page.display", "aria-expanded": "false", "aria-controls": "display" }, icon("layers"));
  root.append(fit, open);

  /** @type {["dimensions", "parrels", "lifts", "trail"]} */
  const layers = ["dimensions", "parrels", "lifts", "trail"];
  const boxes = layers.map((layer) => {
    const box = make("input", { type: "checkbox", id: `show-${layer}` });
    box.addEventListener("change", () => desk.setSettings({ shown: { ...desk.settings.shown, [layer]: box.checked } }));
    return { layer, box };
  });
  const scheme = makeSwitch(
    "scheme",
    "page.scheme",
    [
      { value: "auto", word: "page.scheme.auto" },
      { value: "light", word: "page.scheme.light" },
      { value: "dark", word: "page.scheme.dark" },
    ],
    (value) => {
      desk.setSettings({ scheme: value === "light" || value === "dark" ? value : "auto" });
    },
  );
  scheme.root.id = "scheme";
  const panel = make(
    "div",
    { id: "display", class: "display-panel", role: "group", label: "page.display", hidden: true },
    ...boxes.map(({ layer, box }) => make("label", { class: "tick" }, box, make("span", { word: `page.show.${layer}` }))),
    make(
      "div",
      { class: "zoom-buttons" },
      make("button", { type: "button", class: "icon-button", id: "zoom-out", label: "page.zoom_out", onclick: drawing.zoomOut }, icon("minus")),
      make("button", { type: "button", class: "button", word: "page.fit", onclick: drawing.fit }),
      make("button", { type: "button", class: "icon-button", id: "zoom-in", label: "page.zoom_in", onclick: drawing.zoomIn }, icon("plus")),
    ),
    scheme.root,
  );
  place.append(panel);

  /** @param {boolean} shown */
  function unfold(shown) {
    panel.hidden = !shown;
    setAttribute(open, "aria-expanded", String(shown));
    if (shown) boxes[0]?.box.focus({ preventScroll: true });
  }
  open.addEventListener("click", () => unfold(panel.hidden !== false));
  panel.addEventListener("keydown", (event) => {
    if (event.key !== "Escape") return;
    unfold(false);
    open.focus();
  });
  document.addEventListener("pointerdown", (event) => {
    const target = event.target instanceof Node ? event.target : null;
    if (!panel.hidden && !panel.contains(target) && !open.contains(target)) unfold(false);
  });

  return () => {
    fit.hidden = desk.view.zoom <= 1;
    for (const { layer, box } of boxes) box.checked = desk.settings.shown[layer];
    scheme.update(desk.settings.scheme);
  };
}
