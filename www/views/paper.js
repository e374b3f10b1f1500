/**
 * What is printed: the drawing as SVG, the reef table, the cautions. Never the canvas.
 * @module
 */
import { make } from "../elements.js";
import { say } from "../words.js";
import { plainSvg } from "./reefs.js";

/** @typedef {import("../desk.js").Desk} Desk */
/** @typedef {import("../engine.js").ReefTable} ReefTable */

export const CAUTIONS = ["page.caution.aid", "page.caution.checked", "page.caution.rules", "page.caution.measured"];

/**
 * @param {HTMLElement} root
 * @param {Desk} desk
 */
export function makePaper(root, desk) {
  function fill() {
    if (!desk.open) return;
    const drawn = new DOMParser().parseFromString(plainSvg(desk), "image/svg+xml").documentElement;
    const picture = drawn.localName === "svg" ? document.importNode(drawn, true) : null;
    // The paper is white already: no ink for its colour.
    picture?.querySelector("rect")?.setAttribute("fill", "none");
    const table = desk.ask("reef_table", (bench) => bench.reef_table(), /** @type {ReefTable | null} */ (null));
    root.replaceChildren(
      make("h1", { text: desk.project?.name ?? "" }),
      make("div", { class: "paper-drawing" }, picture),
      table
        ? make(
            "table",
            {},
            make("caption", { word: "page.reefs.caption" }),
            make("thead", {}, make("tr", {}, make("th", { scope: "col", word: "page.reefs.lowered" }), ...table.columns.map(({ label, unit }) => make("th", { scope: "col", text: unit ? `${label} ${unit}` : label })))),
            make("tbody", {}, ...table.rows.map(({ name, cells }) => make("tr", {}, make("th", { scope: "row", text: name }), ...cells.map((text) => make("td", { text }))))),
          )
        : "",
      make("ul", { class: "paper-cautions" }, ...CAUTIONS.map((word) => make("li", { word }))),
      make("p", { class: "paper-foot", text: `${say("page.title")} · ${new Date().toLocaleDateString(document.documentElement.lang)}` }),
    );
  }
  addEventListener("beforeprint", fill);
  addEventListener("afterprint", () => root.replaceChildren());
  return () => {
    fill();
    window.print();
  };
}
