/**
 * What is printed: sheets of the dossier, tables and drawings as SVG, with the cautions. Never the canvas.
 * @module
 */
import { make, picture } from "../elements.js";
import { region, say } from "../words.js";
import { clothOrdered } from "./cloth.js";

/** @typedef {import("../desk.js").Desk} Desk */
/** @typedef {import("../engine.js").PaperBlock} PaperBlock */
/** @typedef {import("../engine.js").PaperSheet} PaperSheet */

/** What can be chosen, in the order of the sheets. */
export const PAPER_PARTS = ["title", "particulars", "plan", "reefs", "lines", "spars", "cloth", "checks", "sources"];

export const CAUTIONS = ["page.caution.aid", "page.caution.checked", "page.caution.rules", "page.caution.measured"];

/** Tables up to this many rows are not torn. */
const SHORT_ROWS = 14;

/** A measure has no more letters. */
const MEASURE = 12;
/** A cell with more letters is read from its left end. */
const READ_LEFT = 30;
/** Words so long are broken within. */
const UNBROKEN = /\S{28}/;

/** The day as the papers have it. */
export const today = () => new Date().toLocaleDateString(region(), { dateStyle: "medium" });

/** What to print where nothing else was said. @param {Desk} desk */
export const chosenParts = (desk) => PAPER_PARTS.filter((part) => desk.settings.papers?.includes(part) ?? true);

/** A measure is never broken; of several masts in one cell each may have its own line, as what is done and how much. @param {string} text */
const measures = (text) => text.split(/( \/ |\n)/).map((part, at) => (at % 2 > 0 || part.length > MEASURE ? part : make("span", { class: "measure", text: part })));

/** @param {PaperBlock} block */
function blockOf({ kind, title, heads, rows, svg = "" }) {
  if (kind === "drawing") return make("div", { class: "paper-drawing" }, picture(svg));
  if (kind === "notes") return make("div", { class: "paper-notes" }, ...rows.flat().map((text) => make("p", { text })));
  const words = rows.reduce((found, cells) => cells.map((text, at) => found[at] || text.length > READ_LEFT), /** @type {boolean[]} */ ([]));
  /** @param {string} text @param {number} at */
  const look = (text, at) => [words[at] ? "words" : "", UNBROKEN.test(text) ? "broken" : ""].join(" ");
  return make(
    "table",
    { class: [rows.length > SHORT_ROWS ? "long" : "", heads.length === 0 && rows[0]?.length === 4 ? "pairs" : ""].join(" ") },
    title ? make("caption", { text: title }) : null,
    heads.length > 0 ? make("thead", {}, make("tr", {}, ...heads.map(([label, unit], at) => make("th", { scope: "col", class: look(label, at), text: unit ? `${label} ${unit}` : label })))) : null,
    make("tbody", {}, ...rows.map(([name = "", ...cells]) => make("tr", {}, make("th", { scope: "row", class: look(name, 0), text: name }), ...cells.map((text, at) => make("td", { class: look(text, at + 1) }, ...measures(text)))))),
  );
}

/**
 * @param {HTMLElement} root
 * @param {Desk} desk
 * @param {ReturnType<typeof import("./share.js").makeShare>} share
 */
export function makePaper(root, desk, share) {
  /** Sheets that are being printed. @type {PaperSheet[] | null} */
  let ready = null;

  /** @param {PaperSheet[]} sheets */
  function fill(sheets) {
    const foot = `${say("page.title")} · ${today()} · ${desk.project?.name ?? ""}`;
    root.className = desk.settings.paper;
    root.replaceChildren(
      ...sheets.map(({ part, title, blocks }, at) => {
        const parts = blocks.map(blockOf);
        // With the cautions that end each sheet, so that it never stands on a page alone.
        parts[parts.length - 1]?.append(make("p", { text: foot }));
        return make("section", { class: `paper-${part}` }, make("h1", { text: title }), ...parts, at === sheets.length - 1 ? share.code() : "");
      }),
    );
  }

  // A printer that was asked by the browser's own menu waits for nobody.
  addEventListener("beforeprint", () => {
    if (ready || !desk.open) return;
    // In the hand not everything is worked out.
    desk.settle();
    const kept = clothOrdered(desk);
    const sheets = desk.ask("dossier", (bench) => bench.dossier(chosenParts(desk)), /** @type {PaperSheet[]} */ ([]));
    const first = sheets.findIndex(({ part }) => part === "cloth");
    fill(kept && first >= 0 ? sheets.flatMap((sheet, at) => (at === first ? kept : sheet.part === "cloth" ? [] : [sheet])) : sheets);
  });
  addEventListener("afterprint", () => {
    ready = null;
    root.replaceChildren();
  });

  return {
    /**
     * Prints some parts, as the worker has them.
     * @param {import("../aside.js").Aside} aside @param {string[]} parts @param {() => void} [begun] @param {() => void} [broke]
     */
    async print(aside, parts, begun = () => {}, broke = () => {}) {
      desk.settle();
      await share.current();
      aside.ask({
        asks: ["dossier", parts],
        broke,
        answered: (/** @type {PaperSheet[]} */ sheets) => {
          begun();
          ready = sheets;
          fill(sheets);
          window.print();
        },
      });
    },
  };
}
