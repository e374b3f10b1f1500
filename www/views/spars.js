/**
 * Section Spars: the mast and what proves it, the finder, spars, the sheet for hull and deck, raising, weights, stock.
 * @module
 */
import { Aside } from "../aside.js";
import { icon, make, setAttribute, setText } from "../elements.js";
import { say } from "../words.js";
import { figureLine, makePlot, renew } from "./balance.js";
import { FieldSection, listAt, makeMastChooser, mastNames } from "./fields.js";
import { detailTable, makeCsvButton, headCell } from "./reefs.js";

/** @typedef {import("../desk.js").Desk} Desk */
/** @typedef {import("../engine.js").Detail} Detail */
/** @typedef {import("../engine.js").FieldRow} FieldRow */
/** @typedef {import("../types/rows.d.ts").Path} Path */
/** @typedef {import("./fields.js").Item} Item */

/** Tables of numbers alone, written as figures. */
const FIGURES = ["proof.mast", "proof.hull", "proof.rig"];
const PARTS = ["mast", "boom", "battens", "yard"];
/** Of every proof; then factors of the mast, and of the other spars. */
const RULES = ["rule", "dynamic", "statics", "coefficient", "gust", "late_reefs", "floor_kn", "cap_kn", "gybe", "storm_kn", "heel_deg"];
const MAST_RULES = ["mast_alloy", "mast_clear", "mast_class", "mast_laminate", "mast_bend_pct"];
const AIMS = ["lightest", "stiffest", "cheapest"];

/** Fields of each kind of mast, beyond diameters and material. @type {Record<string, string[]>} */
const OF_KIND = {
  tube: ["mast_wall_m"],
  solid: ["mast_heel_pct"],
  hollow: ["mast_wall_m", "mast_staves", "mast_heel_pct"],
  sleeved: ["mast_wall_m", "sleeve_m", "overlap_pct", "upper_material"],
};

/** Rows that were opened, by table and name. */
const unfolded = new Set();

/** A table whose rows a tap opens: what lies past the heads. @param {Detail} detail @param {string} caption @param {() => void} tapped */
function openTable({ columns, rows }, caption, tapped) {
  const lines = rows.flatMap(([name = "", ...cells]) => {
    const more = cells.splice(columns.length - 1);
    const known = `${caption} ${name}`;
    const open = make("tr", { class: "detail", hidden: !unfolded.has(known) }, make("td", { colspan: String(columns.length) }, ...more.map((text) => make("p", { text }))));
    const button = make("button", { type: "button", class: "row-button", "aria-expanded": String(!open.hidden) }, name, icon("down"));
    button.addEventListener("click", () => {
      open.hidden = !open.hidden;
      setAttribute(button, "aria-expanded", String(!open.hidden));
      if (open.hidden) unfolded.delete(known);
      else unfolded.add(known);
      tapped();
    });
    return [make("tr", {}, make("th", { scope: "row" }, more.length > 0 ? button : name), ...cells.map((text) => make("td", { text }))), open];
  });
  return make("table", { class: "detail-table open-table" }, make("caption", { text: caption }), make("thead", {}, make("tr", {}, ...columns.map((column) => headCell(column)))), make("tbody", {}, ...lines));
}

/**
 * The finder: what, to what end; the work is a worker's.
 * @param {Desk} desk
 */
function makeFinder(desk) {
  /** @param {string} id @param {string} word @param {string} words @param {string[]} values */
  const chooser = (id, word, words, values) => {
    const select = make("select", { id }, ...values.map((value) => make("option", { value, word: words + value })));
    return { select, root: make("div", { class: "drill-of" }, make("label", { for: id, word }), make("div", { class: "entry choice" }, select, icon("down"))) };
  };
  const part = chooser("finder-part", "page.spars.part", "choice.spar.", PARTS);
  const aim = chooser("finder-aim", "page.spars.aim", "page.spars.", AIMS);
  const most = make("input", { id: "finder-most", type: "text", inputmode: "decimal", autocomplete: "off", maxlength: "20" });
  const unit = make("span", { class: "unit", "aria-hidden": "true" });
  const mostBox = make("div", { class: "drill-of", hidden: true }, make("label", { for: most.id, word: "page.spars.most" }), make("div", { class: "entry" }, most, unit));
  const plot = makePlot(desk, "finder", 230, "plot.finder");
  plot.canvas.hidden = true;
  const told = make("p", { class: "result", role: "status" });
  const done = make("progress", { max: "1", value: "0", hidden: true, label: "page.spars.finding" });
  const find = make("button", { type: "button", class: "button", id: "finder-find", onclick: () => (aside.busy ? stop() : start()) });
  const take = make("button", { type: "button", class: "button", id: "finder-take", word: "page.spars.take", hidden: true, onclick: taken });
  const root = make("div", { role: "group", label: "page.spars.finder" }, make("div", { class: "drill-choose" }, part.root, aim.root, mostBox), make("div", { class: "group-buttons" }, find, done, take), told, plot.canvas);
  const aside = new Aside(desk);
  let edits = "";
  let asked = "";
  // Numbers typed are of the units they were typed in.
  const now = () => `${desk.view.mast} ${desk.view.units}`;

  function stop() {
    aside.stop();
    update();
  }

  /** @param {string} word */
  function tell(word) {
    stop();
    setText(told, say(word));
  }

  /** @param {Float64Array} found mass, stress, bend, price of each, and which; nothing where the most was no weight */
  function show(found) {
    // The frame that forgets may not have come yet.
    if (asked !== now()) return forget();
    if (aim.select.value === "stiffest" && found.length === 0) return tell("page.spars.need_weight");
    stop();
    const [sentence = "", chosen = ""] = desk.ask("found", (bench) => bench.found(part.select.value, found), /** @type {string[]} */ ([]));
    setText(told, sentence);
    edits = chosen;
    plot.canvas.hidden = false;
    update();
    plot.paint();
  }

  function start() {
    forget();
    asked = now();
    if (aim.select.value === "cheapest" && !listAt(desk.text, "spars.stock").some((row) => row.price !== undefined)) return tell("page.spars.need_prices");
    done.value = 0;
    setText(told, say("page.spars.finding"));
    aside.ask({
      asks: ["find", part.select.value, aim.select.value, most.value],
      answered: show,
      told: (share) => {
        done.value = share;
        // By quarters, so that it can be read out.
        setText(told, `${say("page.spars.finding")} ${25 * Math.floor(4 * share)} %`);
      },
      broke: () => tell("page.spars.broke"),
    });
    update();
  }

  function update() {
    setText(find, say(aside.busy ? "page.spars.cancel" : "page.spars.find"));
    done.hidden = !aside.busy;
    take.hidden = edits === "" || desk.lookOnly;
    mostBox.hidden = aim.select.value !== "stiffest";
  }

  /** The button goes as its section is taken: the hand is led back. */
  function taken() {
    desk.commit(edits);
    find.focus();
  }

  /** What was found is of the design as it was. */
  function forget() {
    edits = "";
    plot.canvas.hidden = true;
    setText(told, "");
    stop();
  }
  for (const of of [part.select, aim.select, most]) of.addEventListener("input", forget);
  return {
    root,
    forget,
    /** @param {boolean} changed */
    follow(changed) {
      if (changed || asked !== now()) forget();
      else update();
    },
    paint: plot.paint,
    unit,
  };
}

/**
 * @param {HTMLElement} root
 * @param {Desk} desk
 * @param {() => void} print
 */
export function makeSpars(root, desk, print) {
  const chooser = makeMastChooser(desk);
  const verdict = make("ul", { class: "check-list", id: "spars-verdict" });
  const none = make("p", { class: "group-note wind-caution", word: "page.lines.none" });
  const fields = make("div", { class: "groups" });
  const [careful, caution] = ["page.spars.caution_short", "page.spars.caution"].map((word) => make("p", { class: "group-note caution", word }));
  /** What each may be stressed to, under its material. */
  const allowed = PARTS.map(() => make("p", { class: "group-note" }));
  const [ofMastAllowed, ...ofSparsAllowed] = allowed.map((element) => ({ element }));
  let jointEdits = "[]";
  const listJoints = make("button", { type: "button", class: "button", id: "list-joints", word: "page.spars.list_joints", onclick: () => desk.commit(jointEdits) });
  const joints = make("div", {}, make("p", { class: "group-note", word: "page.spars.weigh_joints" }), make("div", { class: "group-buttons" }, listJoints));
  const listOld = make("p", { class: "group-note", word: "page.spars.list_old" });
  const lifting = make("p", { class: "group-note caution", word: "page.caution.measured" });
  const finder = makeFinder(desk);
  const drawn = [["mast-section", "plot.section"], ["spar", "plot.bending"], ["raising", "plot.raising"]].map(([name = "", word]) => makePlot(desk, name, name === "spar" ? 200 : 250, word));
  const [ofMast, ofSpar, ofRaising] = drawn.map(({ canvas }) => ({ element: canvas }));
  const worst = make("p", { class: "group-note caution" });

  /** Tables and figures, each asked for where it is in sight. @type {Map<string, HTMLElement>} */
  const results = new Map();
  /** @param {string} part @param {boolean} [folded] @returns {Item} */
  const result = (part, folded) => {
    const id = part.replace(".", "-");
    const element = results.get(part) ?? (FIGURES.includes(part) ? make("ul", { class: "known", id }) : make("div", { class: "scroller plain", id, tabindex: "0", role: "region", label: part }));
    if (!results.has(part) && folded) make("details", { class: "how-to", ontoggle: () => desk.request() }, make("summary", { word: part }), element);
    results.set(part, element);
    return { element: folded ? /** @type {HTMLElement} */ (element.parentElement) : element };
  };
  const titles = ["choice.spar.boom", "choice.spar.battens", "choice.spar.yard", "proof.mast", "proof.spars"].map((word) => make("h3", { word }));
  const buttons = make("div", { class: "group-buttons" }, makeCsvButton(desk, "copy-spars", (bench) => bench.dossier_csv("spars")), make("button", { type: "button", class: "button", id: "print-spars", onclick: print }, icon("print"), make("span", { word: "page.print" })));

  const section = new FieldSection(desk, fields, () => {
    const { names } = mastNames(desk.text);
    const mast = Math.min(desk.view.mast, Math.max(0, names.length - 1));
    /** @param {string[]} leaves */
    const at = (...leaves) => leaves.map((leaf) => /** @type {Path} */ (`masts.${mast}.${leaf}`));
    /** @param {string[]} leaves */
    const made = (...leaves) => at(...leaves.map((leaf) => `spars.${leaf}`));
    /** @param {string[]} leaves */
    const rules = (...leaves) => leaves.map((leaf) => /** @type {Path} */ (`spars.${leaf}`));
    /** @param {string} path @param {string[]} leaves */
    const rows = (path, ...leaves) => ({ rows: path, leaves, add: "page.rows.add" });
    const kinds = desk.ask("fields", (bench) => bench.fields(made("mast_kind", "boom_kind", "battens_kind", "yard_kind")), /** @type {FieldRow[]} */ ([])).map(({ text }) => text);
    const [kind = ""] = kinds;
    const [pieces = "", plies = "", weak = "", special = ""] = made("pieces", "plies", "weak", "special");
    const lists = [pieces, plies, weak, special, "spars.stock", "spars.materials"].map((path) => listAt(desk.text, path).length);
    const layers = [rows(plies, "spar", "ply", "angle_deg", "thickness_m")];
    return {
      key: JSON.stringify([mast, names.length, kinds, lists, listAt(desk.text, "spars.materials").map(({ name }) => name)]),
      groups: [
        {
          key: "spars-mast",
          title: "proof.mast",
          open: true,
          items: [
            ...made("mast_kind"),
            ...(kind === "pieces" ? [rows(pieces, "length_m", "diameter_m", "top_diameter_m", "wall_m", "material"), ofMastAllowed] : [...(kind === "laminate" ? layers : made("mast_material")), ofMastAllowed, ...at("diameter_m", "top_diameter_m", "parallel_pct"), ...made(...(OF_KIND[kind] ?? []))]),
            result("proof.mast"),
            ofMast,
            result("proof.cases"),
            result("proof.weak_places"),
            result("proof.schedule", true),
            result("proof.orders", true),
            result("proof.staves", true),
          ].flatMap((item) => item ?? []),
        },
        { key: "spars-finder", title: "page.spars.finder", items: [{ element: finder.root }] },
        {
          key: "spars-spars",
          title: "proof.spars",
          open: true,
          items: [
            result("proof.spars"),
            { element: worst },
            ofSpar,
            ...["boom", "batten", "yard"].flatMap((spar, which) => {
              const name = spar === "batten" ? "battens" : spar;
              const of = kinds[which + 1];
              return [{ element: titles[which] ?? root }, ...made(`${name}_kind`), ...(of === "laminate" ? [] : made(`${name}_material`)), ofSparsAllowed[which] ?? [], ...at(`sail.${spar}_depth_m`), ...(of === "tube" ? made(`${name}_wall_m`) : [])];
            }),
            ...(kinds.slice(1).includes("laminate") && kind !== "laminate" ? layers : []),
            rows(special, "spar", "wall_m", "material"),
          ].flatMap((item) => item ?? []),
        },
        { key: "spars-hull", title: "proof.forces", open: true, items: [result("proof.forces"), result("proof.hull"), ...made("wedge_height_m", "wedge_thickness_m", "head_kg", "fitting_m"), rows(weak, "spar", "height_m", "what", "left_pct", "hole_m"), { element: caution ?? root }] },
        { key: "spars-raising", title: "proof.raising", items: [ofRaising, result("proof.raising"), ...made("hinge_m", "raise_at_m", "gin_m", "raise_x_m", "raise_z_m", "raise_parts"), { element: lifting }].flatMap((item) => item ?? []) },
        { key: "spars-weights", title: "proof.weights", items: [result("proof.weights"), result("proof.rig"), { element: listOld }, result("proof.winds")] },
        { key: "spars-stock", title: "proof.cutting", items: [rows("spars.stock", "form", "material", "diameter_m", "wall_m", "length_m", "price"), ...rules("kerf_m"), result("proof.cutting"), { element: joints }, { element: buttons }] },
        { key: "spars-materials", title: "page.spars.materials", items: [rows("spars.materials", "name", "kind", "density", "stiffness", "strength", "compression", "shear", "bearing")] },
        {
          key: "spars-rules",
          title: "page.spars.rules",
          items: [...rules(...RULES), { element: titles[3] ?? root }, ...rules(...MAST_RULES), { element: titles[4] ?? root }, ...rules("spar_alloy", "spar_clear", "spar_class", "spar_laminate", "spar_bend_pct", "cloth_stiffness")],
        },
      ],
    };
  });
  /** The plot is of the spar whose row was opened last, else of the weakest. @param {string[][]} rows yard first @param {string} weakest */
  function drawSpar(rows, weakest) {
    const known = rows.map(([name]) => `${say("proof.spars")} ${name}`);
    const row = known.indexOf([...unfolded].filter((one) => known.includes(one)).pop() ?? "");
    if (drawn[1]) drawn[1].of = row < 0 ? "spar" : `spar${rows.length - 1 - row}`;
    setText(worst, rows[row]?.[0] ?? weakest);
  }

  root.append(chooser.root, none, verdict, careful ?? "", fields);

  return {
    /** The section goes out of sight. */
    leave() {
      finder.forget();
      if (desk.view.shown.curves) desk.setView({ shown: { ...desk.settings.shown } });
    },
    /** @param {import("../desk.js").Change} change */
    update(change) {
      section.update(change);
      if (change.dragging) return;
      if (!desk.view.shown.curves) desk.setView({ shown: { ...desk.view.shown, curves: true } });
      chooser.update(mastNames(desk.text).names);
      const told = desk.ask("spar_verdict", (bench) => bench.spar_verdict(), /** @type {string[][]} */ ([]));
      none.hidden = told.length > 0;
      careful?.toggleAttribute("hidden", told.length === 0);
      const permitted = desk.ask("spars", (bench) => bench.spars("proof.allowed"), /** @type {Detail} */ ({ columns: [], rows: [] }));
      allowed.forEach((element, of) => setText(element, permitted.rows[of]?.[1] ? `${permitted.columns[1]?.label}: ${permitted.rows[of]?.[1]}` : ""));
      renew(verdict, told, () => told.map(([severity = "", text = ""]) => make("li", { class: severity }, make("p", { class: "verdict" }, icon(severity === "danger" ? "danger" : "passed"), make("span", {}, make("span", { class: "unseen", text: `${say(`page.attention.${severity}`)} ` }), make("strong", { text }))))));
      for (const [part, element] of results) {
        if (element.closest("details.group:not([open])")) continue;
        const detail = desk.ask("spars", (bench) => bench.spars(part), /** @type {Detail} */ ({ columns: [], rows: [] }));
        const { columns, rows } = detail;
        if (part === "proof.mast") setText(finder.unit, columns[1]?.unit ?? "");
        if (part === "proof.spars") drawSpar(rows, told[1]?.[2] ?? "");
        if (part === "proof.winds") listOld.hidden = rows.length > 0;
        const holder = element.closest("details.how-to") ?? element;
        holder.toggleAttribute("hidden", rows.length === 0);
        renew(element, detail, () =>
          FIGURES.includes(part)
            ? columns.flatMap((column, at) => (rows[0]?.[at] === "–" ? [] : [figureLine({ ...column, value: rows[0]?.[at] ?? "" })]))
            : [rows.some((row) => row.length > columns.length) ? openTable(detail, say(part), () => desk.request()) : detailTable(detail, say(part))],
        );
      }
      jointEdits = desk.ask("joint_edits", (bench) => bench.joint_edits(), "[]");
      joints.hidden = jointEdits === "[]" || desk.lookOnly;
      finder.follow(change.document || change.opened);
      for (const { paint } of drawn) paint();
      finder.paint();
    },
    /** @param {string} path */
    find: (path) => section.find(path),
  };
}
