/**
 * What is printed: the drawing as SVG on a page of its own, the reef table, where every parrel lies at every
 * reef, winds, stability and checks, the cautions with each. Never the canvas.
 * @module
 */
import { make, picture } from "../elements.js";
import { region, say } from "../words.js";
import { CLOTH_RULES, clothSheet } from "./cloth.js";
import { listAt, mastNames } from "./fields.js";
import { linePapers } from "./lines.js";
import { plainSvg } from "./reefs.js";
import { SPAR_RULES } from "./spars.js";

/** @typedef {import("../desk.js").Desk} Desk */
/** @typedef {import("../engine.js").Balance} Balance */
/** @typedef {import("../engine.js").Column} Column */
/** @typedef {import("../engine.js").Detail} Detail */
/** @typedef {import("../engine.js").FieldRow} FieldRow */
/** @typedef {import("../engine.js").HoistScale} HoistScale */
/** @typedef {import("../engine.js").Paper} Paper */
/** @typedef {import("../engine.js").ReefTable} ReefTable */

/** Sheets of the spars: the spars themselves, for hull and deck, what to buy and cut. */
const SPAR_SHEETS = ["page.paper.spars", "page.paper.hull", "page.paper.cutting"];

export const CAUTIONS = ["page.caution.aid", "page.caution.checked", "page.caution.rules", "page.caution.measured"];

/** States that stand side by side on a page upright; a sail of more panels takes more tables. */
const MOST_STATES = 8;

/** A measure is never broken; of several masts in one cell each may have its own line, as what is done and how much. @param {string} text */
const measures = (text) => text.split(/( \/ |\n)/).map((part, at) => (at % 2 > 0 ? part : make("span", { class: "measure", text: part })));

/** @param {Column} column */
const head = ({ label, unit }) => make("th", { scope: "col", text: unit ? `${label} ${unit}` : label });

/** @param {string[]} cells the first names the row */
const line = ([name = "", ...cells]) => make("tr", {}, make("th", { scope: "row", text: name }), ...cells.map((text) => make("td", {}, ...measures(text))));

/** @param {ReefTable} table @param {string} caption */
const reefs = ({ columns, rows }, caption) =>
  make(
    "table",
    {},
    make("caption", { word: caption }),
    make("thead", {}, make("tr", {}, make("th", { scope: "col", word: "page.reefs.lowered" }), ...columns.map(head))),
    make("tbody", {}, ...rows.map(({ name, cells }) => line([name, ...cells]))),
  );

/** @param {Detail} detail @param {string} caption */
const plain = ({ columns, rows }, caption) =>
  rows.length === 0 ? null : make("table", {}, make("caption", { text: caption }), make("thead", {}, make("tr", {}, ...columns.map(head))), make("tbody", {}, ...rows.map(line)));

/** What she is worked out from, as it is printed beside the results. */
const PARTICULARS = ["loa_m", "lwl_m", "beam_m", "bwl_m", "draught_m", "canoe_draught_m", "freeboard_mid_m", "displacement_kg", "ballast_kg", "stability", "loading", "light_kg", "laden_kg", "crew_weather", "crew_kg", "crew_arm_pct", "water", "displacement_band_pct", "gm_band_pct", "greatest_factor", "clr"].map((leaf) => `boat.${leaf}`).concat("wind.comfort_deg", "wind.boat_speed_kn", "wind.angle_deg", "wind.gradient_pct", "wind.exponent", "wind.running_force");

/** Lists that were typed or traced, each with its leaves. @type {[string, string, string[]][]} */
const LISTS = [
  ["boat.test.readings", "page.group.stability", ["weight_kg", "arm_m", "deflection_m"]],
  ["boat.gz", "page.group.stability", ["heel_deg", "gz_m"]],
  ["boat.old_rig", "page.group.swap.off", ["name", "mass_kg", "x_m", "z_m"]],
  ["boat.new_rig", "page.group.swap.on", ["name", "mass_kg", "x_m", "z_m"]],
];

/** @param {Desk} desk @param {string[]} paths */
const fieldsOf = (desk, paths) => desk.ask("fields", (bench) => bench.fields(paths), /** @type {FieldRow[]} */ ([]));

/** Label and value of fields that hold something. @param {Desk} desk @param {string[]} paths @param {string} caption */
function listed(desk, paths, caption) {
  /** @param {FieldRow} row */
  const told = ({ text, unit, options }) => (options.find(({ value }) => value === text)?.label ?? text) + (unit ? ` ${unit}` : "");
  return plain({ columns: [], rows: fieldsOf(desk, paths).filter(({ text }) => text !== "").map((row) => [row.label, told(row)]) }, say(caption));
}

/** @param {Desk} desk */
function particulars(desk) {
  return [
    listed(desk, PARTICULARS, "page.paper.particulars"),
    ...LISTS.map(([path, caption, leaves]) => {
      const rows = listAt(desk.text, path).map((_, at) => fieldsOf(desk, leaves.map((leaf) => `${path}.${at}.${leaf}`)));
      return plain({ columns: (rows[0] ?? []).map(({ path: key, label, unit, help = "" }) => ({ key, label, unit, help })), rows: rows.map((cells) => cells.map(({ text }) => text)) }, say(caption));
    }),
  ];
}

/** Winds, stability, what is known of her, every check. @param {Balance} balance */
const balanceOf = ({ reefs: winds, loadings, swap, figures, checks }) => [
  reefs(winds, "page.balance.reefs"),
  plain(loadings, say("page.balance.loadings")),
  plain(swap, say("page.balance.swap")),
  plain({ columns: [], rows: figures.map(({ label, value, unit }) => [label, `${value} ${unit}`]) }, say("page.balance.known")),
  make("h2", { word: "page.balance.checks" }),
  make("ul", { class: "paper-checks" }, ...checks.map(({ severity, title, text }) => make("li", {}, make("strong", { text: `${say(`page.attention.${severity}`)} ${title}` }), ` ${text}`))),
  make("p", { class: "paper-foot", word: "page.balance.caution" }),
];

/**
 * Where the parrels of each mast lie, every state of its sail once.
 * @param {ReefTable} table @param {HoistScale[]} masts
 */
function parrels({ rows }, masts) {
  const columns = rows[0]?.detail.columns ?? [];
  const [spar, height] = columns;
  const length = columns[columns.length - 1];
  if (!spar || !height || !length) return [];
  let above = 0;
  return masts.flatMap(({ label, panels }, mast) => {
    const from = above;
    if (panels > 0) above += panels + 1;
    const states = [...new Map(rows.map(({ hoist, detail }) => [hoist[mast], detail.rows.slice(from, above)]))];
    if (above === from) return [];
    const parts = Math.ceil(states.length / MOST_STATES);
    const each = Math.ceil(states.length / parts);
    return Array.from({ length: parts }, (_, part) => {
      const shown = states.slice(part * each, (part + 1) * each);
      return make(
        "table",
        {},
        make("caption", { text: `${say("page.paper.parrels")}${masts.length > 1 ? `: ${label}` : ""}` }),
        make(
          "thead",
          {},
          make("tr", {}, make("th", { scope: "col", rowspan: "2", text: spar.label }), make("th", { scope: "colgroup", colspan: String(shown.length), class: "over", text: `${say("page.reefs.lowered")} · ${height.label} ${height.unit}` }), make("th", { scope: "col", rowspan: "2", text: `${length.label} ${length.unit}` })),
          make("tr", {}, ...shown.map(([lowered]) => make("th", { scope: "col", text: String(lowered) }))),
        ),
        make("tbody", {}, ...(states[0]?.[1] ?? []).map(([name = "", ...cells], at) => line([name, ...shown.map(([, spars]) => spars[at]?.[1] ?? ""), cells[cells.length - 1] ?? ""]))),
      );
    });
  });
}

/**
 * @param {HTMLElement} root
 * @param {Desk} desk
 * @param {ReturnType<typeof import("./share.js").makeShare>} share
 */
export function makePaper(root, desk, share) {
  /** What stands at the foot of every page of a kind. */
  const foot = () => [
    make("ul", { class: "paper-cautions" }, ...CAUTIONS.map((word) => make("li", { word }))),
    make("p", { class: "paper-foot", text: `${say("page.title")} · ${new Date().toLocaleDateString(region(), { dateStyle: "medium" })}` }),
  ];

  function fill() {
    if (!desk.open) return;
    // In the hand not everything is worked out.
    desk.settle();
    /** @param {Parameters<typeof plainSvg>} of */
    const drawing = (...of) => make("div", { class: "paper-drawing" }, picture(plainSvg(...of)));
    const table = desk.ask("reef_table", (bench) => bench.reef_table(), /** @type {ReefTable | null} */ (null));
    const scales = desk.ask("hoist_scale", (bench) => bench.hoist_scale(), /** @type {HoistScale[]} */ ([]));
    const balance = desk.ask("balance", (bench) => bench.balance(), /** @type {Balance | null} */ (null));
    const papers = linePapers(desk);
    const { names } = mastNames(desk.text);
    const angles = desk.ask("lines", (bench) => bench.lines().angles, /** @type {number[]} */ ([]));
    root.replaceChildren(
      make("section", {}, drawing(desk), ...foot()),
      make("section", {}, make("h1", { text: desk.project?.name ?? "" }), ...(table ? [reefs(table, "page.reefs.caption"), ...parrels(table, scales.filter(({ mast }) => mast >= 0))] : []), ...foot()),
      // The lines, close-hauled from above; what to buy, and what hangs in the cockpit, each a paper of its own.
      ...(papers.length > 0 ? [make("section", { class: "paper-plan" }, make("h1", { word: "page.paper.lines" }), drawing(desk, "profile"), drawing(desk, "above", angles[0]), ...foot())] : []),
      ...Array.from({ length: Math.ceil(papers.length / 3) }, (_, at) =>
        make("section", { class: "paper-lines" }, make("h1", { text: desk.project?.name ?? "" }), ...papers.slice(3 * at, 3 * at + 3).map(({ title, detail }) => plain(detail, title) ?? ""), ...["page.lines.caution", "page.lines.free_first"].map((word) => make("p", { class: "paper-foot", word })), ...foot()),
      ),
      ...SPAR_SHEETS.flatMap((title, sheet) => {
        const found = desk.ask("spar_papers", (bench) => bench.spar_papers(sheet), /** @type {Paper[]} */ ([]));
        // The spars themselves with their curves, mast by mast, and with what rules they were proved.
        const first = sheet === 0 && found.length > 0;
        const curves = first ? names.map((_, mast) => drawing(desk, "curves", 0, mast)) : [];
        const rules = first ? [listed(desk, SPAR_RULES, "page.spars.rules") ?? ""] : [];
        return found.length > 0 ? [make("section", { class: "paper-lines paper-spars" }, make("h1", { text: `${desk.project?.name ?? ""}: ${say(title)}` }), ...found.map(({ title: caption, detail }) => plain(detail, caption) ?? ""), ...rules, ...curves, make("p", { class: "paper-foot", word: "page.spars.caution" }), ...foot())] : [];
      }),
      ...names.flatMap((name, mast) => {
        const { papers: found, roll } = clothSheet(desk, mast);
        const rules = listed(desk, CLOTH_RULES, "page.cloth.sewing") ?? "";
        // Every shape once, cut through the lowest panel that has it.
        const panels = found.find(({ title }) => title.startsWith(say("sewn.panels")))?.detail.rows ?? [];
        const shape = (/** @type {string[]} */ [, camber, place]) => `${camber} ${place}`;
        const shapes = panels.flatMap((row, at) => (panels.findIndex((other) => shape(other) === shape(row)) === at ? [drawing(desk, `cloth-section${at + 1}`, 0, mast)] : []));
        const of = names.length > 1 ? [name] : [];
        return found.length > 0 ? [make("section", { class: "paper-lines paper-cloth" }, make("h1", { text: `${desk.project?.name ?? ""}: ${[say("page.paper.cloth"), ...of].join(", ")}` }), ...found.map(({ title, detail }) => plain(detail, title) ?? ""), rules, make("div", { class: "paper-drawing" }, picture(roll)), ...shapes, drawing(desk, "cloth-ways", 0, mast), ...["page.cloth.practice", "page.cloth.caution"].map((word) => make("p", { class: "paper-foot", word })), ...foot())] : [];
      }),
      ...(balance ? [make("section", { class: "paper-balance" }, make("h1", { text: desk.project?.name ?? "" }), ...[...particulars(desk), ...balanceOf(balance)].map((part) => part ?? ""), share.code(), ...foot())] : []),
    );
  }
  addEventListener("beforeprint", fill);
  addEventListener("afterprint", () => root.replaceChildren());
  return async () => {
    await share.current();
    fill();
    window.print();
  };
}
