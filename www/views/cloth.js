/**
 * Section Cloth: how the sail is made, its panels, patterns, the roll, what to buy, the five ways, papers for the floor.
 * @module
 */
import { Aside } from "../aside.js";
import { fileName, icon, make, offerFile, picture, setAttribute, setText } from "../elements.js";
import { region, say, spoken } from "../words.js";
import { figureLine, makePlot, renew } from "./balance.js";
import { FieldSection, listAt, makeMastChooser, mastNames } from "./fields.js";
import { detailTable, headCell } from "./reefs.js";

/** @typedef {import("../desk.js").Desk} Desk */
/** @typedef {import("../engine.js").Detail} Detail */
/** @typedef {import("../engine.js").FieldRow} FieldRow */
/** @typedef {import("../engine.js").PaperSheet} PaperSheet */
/** @typedef {import("../types/rows.d.ts").Path} Path */
/** @typedef {import("./fields.js").Item} Item */

/** Tables of the account: told at once. All others need patterns, which the worker makes. */
const AT_ONCE = ["sewn.sail", "sewn.panels"];
/** Tables of numbers alone, written as figures. */
const SEWN_FIGURES = ["sewn.sail", "sewn.bill", "sewn.roll"];
/** Ways to lay the roll that are tried for a look and for what is ordered. */
const [LOOK, ORDER] = [20, 1500];
/** What is worked out away from the page waits for a pause in typing [ms]. */
const SETTLED_MS = 200;
/** From here on the tacks stand side by side, as `plots/cut.rs` has it [CSS px]. */
const BROAD = 480;
const PLOTTER_M = 0.914;
/** Where own ordinates begin and end. */
const ENDS = [0, 100].map((along_pct) => ({ along_pct, off_pct: 0 }));

const SEWING = ["seam_m", "batten_seam_m", "tabling_m", "hem_m", "pockets", "pocket_ease_pct", "pocket_end_m", "offsets"];
const PATCHES = ["patch_pct", "patch_layers", "patch_strength"];
const TOLD = ["strain_pct", "gather_pct", "barrel_depth_pct"];

/** Designs that were laid out for the order, by mast. @type {Map<number, string>} */
const ordered = new Map();
/** Sheets of the last of them: printed as it was told. @type {{ of: string, sheets: PaperSheet[] }} */
let orderedPapers = { of: "", sheets: [] };

/** What laying out hangs on. @param {Desk} desk */
const designOf = (desk) => desk.view.units + spoken() + desk.text;

/** Sheets of the cloth as it was laid out for the order; nothing where it was not. @param {Desk} desk */
export const clothOrdered = (desk) => (orderedPapers.of === designOf(desk) ? orderedPapers.sheets : null);

/** Ways whose notes are unfolded, by their places. @type {Set<number>} */
const noted = new Set();

/**
 * A column for each way, and each thing over its own numbers: as narrow as a phone. What lies past the heads stands under it, way by way.
 * @param {Detail} detail @param {string} caption
 */
function waysTable({ columns: [, ...columns], rows }, caption) {
  const table = make(
    "table",
    { class: "ways-table" },
    make("caption", { text: caption }),
    make("thead", {}, make("tr", {}, ...rows.map(([name = ""]) => make("th", { scope: "col", text: name })))),
    ...columns.map((column, at) => make("tbody", {}, make("tr", {}, headCell(column, { scope: "rowgroup", colspan: String(rows.length) })), make("tr", {}, ...rows.map((cells) => make("td", { text: cells[at + 1] ?? "" }))))),
  );
  return [
    table,
    ...rows.map(([name = "", ...cells], at) => {
      const notes = make("details", { class: "how-to" }, make("summary", { text: name }), ...cells.slice(columns.length).map((text) => make("p", { text })));
      notes.open = noted.has(at);
      notes.addEventListener("toggle", () => (notes.open ? noted.add(at) : noted.delete(at)));
      return notes;
    }),
  ];
}

/** Files in one, stored as they are (PKWARE's APPNOTE.TXT, method 0). @param {[string, Uint8Array<ArrayBuffer>][]} files */
export function zipped(files) {
  /** @type {BlobPart[]} */
  const parts = [];
  /** @type {BlobPart[]} */
  const list = [];
  let [at, listed] = [0, 0];
  /** Numbers of two bytes, and of four where they are a list. @param {(number | [number])[]} numbers */
  const packed = (...numbers) => Uint8Array.from(numbers.flatMap((number) => (typeof number === "number" ? [number, number >> 8] : [number[0], number[0] >> 8, number[0] >> 16, number[0] >> 24])));
  for (const [name, bytes] of files) {
    const named = new TextEncoder().encode(name);
    let check = -1;
    for (const byte of bytes) {
      check ^= byte;
      for (let bit = 0; bit < 8; bit += 1) check = (check >>> 1) ^ (check & 1 ? 0xedb88320 : 0);
    }
    // Names in UTF-8, stored, the first day of 1980.
    const about = packed(20, 0x800, 0, 0, 33, [~check], [bytes.length], [bytes.length], named.length, 0);
    parts.push(packed([0x04034b50]), about, named, bytes);
    list.push(packed([0x02014b50], 20), about, packed(0, 0, 0, [0], [at]), named);
    at += 30 + named.length + bytes.length;
    listed += 46 + named.length;
  }
  return new Blob([...parts, ...list, packed([0x06054b50], 0, 0, files.length, files.length, [listed], [at], 0)]);
}

/**
 * @param {HTMLElement} root
 * @param {Desk} desk
 * @param {() => void} print
 * @param {(path: string) => void} goTo to a field of any section
 */
export function makeCloth(root, desk, print, goTo) {
  const chooser = makeMastChooser(desk);
  const verdict = make("ul", { class: "check-list", id: "cloth-verdict" });
  const none = make("p", { class: "group-note wind-caution", word: "page.lines.none" });
  const fields = make("div", { class: "groups" });
  const [careful = root, caution = root, practice = root] = ["page.cloth.caution_short", "page.cloth.caution", "page.cloth.practice"].map((word) => make("p", { class: "group-note caution", word }));
  const aside = new Aside(desk);
  let panel = 1;
  let piece = 0;
  /** What was asked of the worker last. */
  let asked = "";
  let pause = 0;
  /** What is under way for the button that began it. @type {"" | "order" | "file"} */
  let doing = "";
  /** What it is done for. */
  let doneFor = "";

  // --- Panels --------------------------------------------------------------------------------------
  const chips = make("div", { class: "mast-chooser panel-chooser", role: "group", label: "page.cloth.section" });
  const across = makePlot(desk, "cloth-section1", 320, "plot.cloth.section");
  const surface = makePlot(desk, "cloth-surface1", 240, "plot.cloth.surface");
  const ways = makePlot(desk, "cloth-ways", (width) => (width < BROAD ? 560 : 200 + 0.36 * width), "plot.cloth.ways");
  /** Where the chosen panel stands in the list of those shaped by themselves. */
  const shapesAt = () => {
    const path = `masts.${desk.view.mast}.cloth.shapes`;
    const list = listAt(desk.text, path);
    return { path, list, at: list.findIndex((row) => row?.panel === panel) };
  };
  const byItself = make("button", {
    type: "button",
    class: "button",
    id: "shape-panel",
    onclick: () => {
      const { path, list, at } = shapesAt();
      if (at >= 0) desk.commit(JSON.stringify([[list.length > 1 ? `${path}.${at}` : path, null]]));
      else if (desk.commit(JSON.stringify([[`${path}.${list.length}`, { panel }]]))) requestAnimationFrame(() => section.find(`${path}.${list.length}.camber_pct`));
    },
  });

  const byItselfBox = make("div", { class: "group-buttons" }, byItself);

  // --- Pieces and the roll -------------------------------------------------------------------------
  const pieces = make("select", { id: "cloth-pieces" });
  pieces.addEventListener("change", () => {
    piece = pieces.selectedIndex;
    desk.request();
  });
  const pieceBox = make("div", { class: "drill-choose" }, make("div", { class: "drill-of" }, make("label", { for: pieces.id, word: "page.cloth.piece" }), make("div", { class: "entry choice" }, pieces, icon("down"))));
  /** @param {string} id @param {string} label */
  const frame = (id, label) => make("div", { class: "drawn", id, role: "region", label });
  const pieceDrawn = frame("piece-drawn", "page.cloth.pieces");
  const rollDrawn = frame("roll-drawn", "sewn.roll");
  const done = make("progress", { max: "1", value: "0", hidden: true, label: "page.cloth.laying" });
  const order = make("button", { type: "button", class: "button", id: "cloth-order", onclick: () => (doing === "order" ? cancel() : layOut()) });
  const laid = make("p", { class: "result", role: "status", id: "cloth-laid" });
  const orderBox = make("div", {}, make("div", { class: "group-buttons" }, order, done), laid);

  // --- Papers --------------------------------------------------------------------------------------
  const paper = make("select", { id: "cloth-paper" }, ...["a4", "a3", "letter", "plotter"].map((value) => make("option", { value, word: `page.cloth.${value}` })));
  const width = make("input", { id: "cloth-plotter", type: "text", inputmode: "text", autocomplete: "off", maxlength: "20" });
  let usualWidth = "";
  const widthBox = make("div", { class: "drill-of", hidden: true }, make("label", { for: width.id, word: "page.cloth.plotter_width" }), make("div", { class: "entry" }, width));
  /** Paper as it is asked for. */
  const sheetOf = () => (paper.value === "plotter" ? width.value : paper.value);
  const pages = make("p", { class: "result", role: "status", id: "cloth-pages" });
  const piecePages = make("p", { class: "hint", id: "cloth-piece-pages" });
  paper.addEventListener("change", () => {
    widthBox.hidden = paper.value !== "plotter";
    desk.request();
  });
  width.addEventListener("change", () => desk.request());
  const told = make("p", { class: "result", role: "status", id: "cloth-told" });
  /** @param {string} kind @param {string} word */
  const saves = (kind, word) => make("button", { type: "button", class: "button", id: `cloth-${kind}`, onclick: () => save(kind) }, icon("save"), make("span", { word }));
  const papers = make(
    "div",
    {},
    make("div", { class: "drill-choose" }, make("div", { class: "drill-of" }, make("label", { for: paper.id, word: "page.cloth.paper" }), make("div", { class: "entry choice" }, paper, icon("down"))), widthBox),
    pages,
    make("div", { class: "group-buttons" }, saves("pdf", "page.cloth.pdf"), saves("lofting", "page.cloth.lofting"), saves("csv", "page.cloth.csv"), saves("zip", "page.cloth.cutters"), make("button", { type: "button", class: "button", id: "print-cloth", onclick: print }, icon("print"), make("span", { word: "page.print" }))),
    told,
  );
  const toldPiece = make("p", { class: "result", role: "status", id: "cloth-told-piece" });
  const pieceFiles = make("div", {}, make("div", { class: "group-buttons" }, saves("piece", "page.cloth.piece_pdf"), saves("svg", "page.cloth.cutter")), piecePages, toldPiece);

  /** Tables and figures, by their keys. @type {Map<string, HTMLElement>} */
  const results = new Map();
  /** @param {string} part @param {boolean} [folded] @returns {Item} */
  const result = (part, folded) => {
    const id = part.replace(".", "-");
    const element = results.get(part) ?? (SEWN_FIGURES.includes(part) ? make("ul", { class: "known", id }) : make("div", part === "sewn.ways" ? { id } : { class: "scroller plain", id, tabindex: "0", role: "region", label: part }));
    if (!results.has(part) && folded) make("details", { class: "how-to", ontoggle: () => desk.request() }, make("summary", { word: part }), element);
    results.set(part, element);
    return { element: folded ? /** @type {HTMLElement} */ (element.parentElement) : element };
  };
  const oneSail = make("p", { class: "group-note", word: "page.cloth.one_sail" });
  const scaled = make("p", { class: "group-note", word: "page.cloth.scaled" });
  const titles = ["page.cloth.patches", "page.cloth.told"].map((word) => ({ element: make("h3", { word }) }));

  const section = new FieldSection(desk, fields, () => {
    const { names } = mastNames(desk.text);
    const mast = Math.min(desk.view.mast, Math.max(0, names.length - 1));
    /** @param {string[]} leaves */
    const at = (...leaves) => leaves.map((leaf) => /** @type {Path} */ (`masts.${mast}.${leaf}`));
    /** @param {string[]} leaves */
    const cut = (...leaves) => at(...leaves.map((leaf) => `cloth.${leaf}`));
    /** @param {string[]} leaves */
    const rules = (...leaves) => leaves.map((leaf) => /** @type {Path} */ (`cloth.${leaf}`));
    const [way = "", camberCut = "", line = ""] = desk.ask("fields", (bench) => bench.fields([...at("sail.cut"), ...cut("camber_cut", "line")]), /** @type {FieldRow[]} */ ([])).map(({ text }) => text);
    const cambered = way === "cambered" || way === "split";
    const shaped = cambered || way === "paired";
    const own = line === "own";
    const { path, at: row } = shapesAt();
    return {
      key: JSON.stringify([mast, names.length, way, camberCut, line, panel, row, listAt(desk.text, `masts.${mast}.cloth.ordinates`).length]),
      groups: [
        {
          key: "cloth-made",
          title: "page.cloth.construction",
          open: true,
          items: [
            ...at("sail.cut"),
            ...(way === "wing" ? cut("join_pct", "thickness_pct", "room_m") : []),
            ...(way === "split" ? cut("slot_pct", "turn_deg", "fore_times") : []),
            ...(way === "paired" ? cut("room_m") : []),
            ...(cambered ? cut("camber_cut", camberCut === "shelf" ? "shelf_deg" : "barrel") : []),
            ...(shaped ? cut("camber_pct", "head_camber_pct", ...(line === "four-digit" ? ["place_pct", "head_place_pct"] : []), "line") : []),
            ...(shaped && own ? [{ rows: `masts.${mast}.cloth.ordinates`, leaves: ["along_pct", "off_pct"], add: "page.rows.add", ends: ENDS }, { element: scaled }] : []),
            result("sewn.sail"),
          ],
        },
        {
          key: "cloth-panels",
          title: "sewn.panels",
          open: true,
          items: [
            result("sewn.panels"),
            { element: chips },
            { element: across.canvas },
            ...(shaped ? [...(row < 0 ? [] : ["camber_pct", "place_pct"].map((leaf) => /** @type {Path} */ (`${path}.${row}.${leaf}`))), { element: byItselfBox }] : []),
            { element: surface.canvas },
          ],
        },
        { key: "cloth-pieces", title: "page.cloth.pieces", items: [result("sewn.pieces"), { element: pieceBox }, { element: pieceDrawn }, result("sewn.offsets", true), { element: pieceFiles }] },
        { key: "cloth-roll", title: "sewn.roll", items: [...rules("roll_m", "warp"), { element: rollDrawn }, result("sewn.roll"), { element: orderBox }] },
        { key: "cloth-bill", title: "sewn.bill", items: [...at("weights.cloth_gsm"), ...(names.length > 1 ? [{ element: oneSail }] : []), result("sewn.bill"), result("sewn.sticks"), ...rules("thread", "webbing_kg", "eye_pitch_m")] },
        { key: "cloth-ways", title: "sewn.ways", items: [{ element: ways.canvas }, result("sewn.ways"), { element: practice }] },
        { key: "cloth-papers", title: "page.cloth.papers", items: [{ element: papers }, { element: caution }] },
        { key: "cloth-sewing", title: "page.cloth.sewing", items: [...rules(...SEWING), ...titles.slice(0, 1), ...rules(...PATCHES), ...titles.slice(1), ...rules(...TOLD)] },
      ],
    };
  });

  root.append(chooser.root, none, verdict, careful, fields);

  /** @param {Element} element */
  const inSight = (element) => element.closest("details:not([open])") === null;

  // --- What the worker makes -----------------------------------------------------------------------
  /** What is told hangs on this. */
  const now = () => JSON.stringify([designOf(desk), desk.view.mast, desk.view.dark, piece, sheetOf(), inSight(pages), [...results].map(([, element]) => inSight(element)), roomOf(pieceDrawn), roomOf(rollDrawn)]);

  /** @param {string} part @param {Detail} detail */
  function show(part, { columns, rows }) {
    const element = results.get(part);
    if (!element) return;
    if (part === "sewn.pieces") choosePieces(rows.map(([name = ""]) => name));
    let shown = { columns, rows };
    if (part === "sewn.offsets") {
      // Of the piece that is looked at.
      const name = pieces.value;
      shown = { columns: columns.slice(1), rows: rows.flatMap(([of, ...cells]) => (of === name ? [cells] : [])) };
    }
    const holder = element.closest("details.how-to") ?? element;
    holder.toggleAttribute("hidden", rows.length === 0);
    renew(element, shown, () =>
      SEWN_FIGURES.includes(part)
        ? columns.flatMap((column, at) => (rows[0]?.[at] === "–" && (at === 0 || rows[0][0] === "–") ? [] : [figureLine({ ...column, value: rows[0]?.[at] ?? "" })]))
        : part === "sewn.ways" ? waysTable(shown, say(part)) : [detailTable(shown, say(part))],
    );
  }

  /** @param {string[]} names */
  function choosePieces(names) {
    const known = Array.from(pieces.options, ({ value }) => value);
    if (String(known) === String(names)) return;
    const held = pieces.value;
    pieces.replaceChildren(...names.map((name) => make("option", { value: name, text: name })));
    piece = Math.max(0, names.indexOf(held));
    pieces.selectedIndex = piece;
  }

  /** @param {string[][]} rows */
  function showVerdict(rows) {
    renew(verdict, rows, () =>
      rows.map(([severity = "", text = "", path = ""]) =>
        make("li", { class: severity }, make("div", { class: "verdict" }, icon(severity === "danger" ? "danger" : severity === "look" ? "look" : "passed"), make("span", {}, make("span", { class: "unseen", text: `${say(`page.attention.${severity}`)} ` }), make("strong", { text }), path === "" ? null : make("button", { type: "button", class: "text-button", word: "page.attention.go", onclick: () => goTo(path) })))),
      ),
    );
  }

  /** Room that a drawing has [CSS px]. @param {HTMLElement} element */
  const roomOf = (element) => element.clientWidth;
  new ResizeObserver(() => desk.request()).observe(fields);

  /** @param {HTMLElement} element @param {string} svg */
  const draw = (element, svg) => renew(element, svg, () => [picture(svg) ?? ""]);

  /** Asks for what is in sight, once nothing else is under way. */
  function askAside() {
    if (aside.busy) {
      pause = setTimeout(askAside, SETTLED_MS);
      return;
    }
    const of = (asked = now());
    const { mast } = desk.view;
    /** What comes too late is not shown. @template T @param {(answer: T) => void} taken @returns {(answer: T) => void} */
    const still = (taken) => (answer) => {
      if (of === now()) taken(answer);
    };
    const parts = [...results].flatMap(([part, element]) => (!AT_ONCE.includes(part) && inSight(element) ? [part] : []));
    // The verdict last: it tells of the roll where that was laid.
    aside.ask({
      asks: ["cloth", [...parts, "sewn.verdict"]],
      answered: still((/** @type {Detail[]} */ details) => {
        parts.forEach((part, at) => show(part, details[at] ?? { columns: [], rows: [] }));
        showVerdict(details[parts.length]?.rows ?? []);
        follow();
      }),
    });
    if (inSight(pages) || inSight(piecePages))
      aside.ask({
        asks: ["cloth_pages", piece, sheetOf()],
        answered: still((/** @type {string} */ said) => {
          const [all = "", one = all] = said.split("\n");
          setText(pages, all);
          setText(piecePages, `${paper.selectedOptions[0]?.text}: ${one}`);
        }),
      });
    if (roomOf(pieceDrawn) > 0) aside.ask({ asks: ["cloth_piece", piece, roomOf(pieceDrawn)], answered: still((svg) => draw(pieceDrawn, svg)) });
    if (roomOf(rollDrawn) > 0) aside.ask({ asks: ["cloth_roll", mast, LOOK, roomOf(rollDrawn)], answered: still((svg) => draw(rollDrawn, svg)) });
  }

  /** Lays the roll out with care; the tables and papers of it follow. */
  function layOut() {
    const { mast } = desk.view;
    const of = (doneFor = designOf(desk));
    doing = "order";
    done.value = 0;
    setText(laid, say("page.cloth.laying"));
    const broke = () => {
      doing = "";
      follow();
      setText(laid, say("page.cloth.broke"));
    };
    aside.ask({
      asks: ["cloth_roll", mast, ORDER, roomOf(rollDrawn)],
      told: (share) => {
        done.value = share;
      },
      broke,
      answered: (svg) => {
        // What follows would be of another design.
        if (of !== designOf(desk)) {
          cancel();
          return;
        }
        doing = "";
        if (mast === desk.view.mast) draw(rollDrawn, svg);
        aside.ask({
          asks: ["dossier", ["cloth"]],
          broke,
          answered: (/** @type {PaperSheet[]} */ sheets) => {
            ordered.set(mast, of);
            orderedPapers = { of, sheets };
            askAside();
          },
        });
      },
    });
    follow();
  }

  /** What is under way is given up with its worker; what was made there is made anew. */
  function cancel() {
    aside.stop();
    ordered.clear();
    orderedPapers.of = "";
    doing = "";
    asked = "";
    for (const line of [told, toldPiece]) setText(line, "");
    desk.request();
    follow();
  }

  /** What buttons say. */
  function follow() {
    const laying = doing === "order";
    setText(order, say(laying ? "page.spars.cancel" : "page.cloth.order"));
    done.hidden = !laying;
    if (!laying) setText(laid, say(ordered.get(desk.view.mast) === designOf(desk) ? "page.cloth.ordered" : "page.cloth.quick"));
  }

  /** Makes a file and hands it over. @param {string} kind */
  function save(kind) {
    if (doing !== "") cancel();
    const name = fileName(desk.project?.name ?? "");
    const sheet = sheetOf();
    const of = (doneFor = designOf(desk));
    const line = kind === "svg" || kind === "piece" ? toldPiece : told;
    doing = "file";
    for (const other of [told, toldPiece]) setText(other, other === line ? say("page.cloth.making") : "");
    /** @param {string} words */
    const tell = (words) => {
      doing = "";
      setText(line, words);
    };
    const broke = () => tell(say("page.cloth.broke"));
    /** @param {string} file @param {BlobPart} content @param {number} size @param {string} type @param {string} [pages] */
    const give = (file, content, size, type, pages) => {
      offerFile(file, content, type);
      const places = { name: file, size: Math.ceil(size / 1000) };
      tell(pages ? say("page.cloth.made", { ...places, pages }) : say("page.cloth.saved", places));
    };
    /** @param {Uint8Array<ArrayBuffer>} bytes */
    const title = (bytes) => fileName(/<title>(.*?)<\/title>/.exec(new TextDecoder().decode(bytes))?.[1] ?? "");
    /** All that lies on the roll, one after another, until there are no more. @type {[string, Uint8Array<ArrayBuffer>][]} */
    const files = [];
    const next = () =>
      aside.ask({
        asks: ["cloth_file", "blank", files.length, "a4"],
        broke,
        answered: (bytes) => {
          if (of !== designOf(desk)) broke();
          else if (bytes.length > 0 && typeof bytes !== "string") {
            files.push([`${String(files.length + 1).padStart(2, "0")}-${title(bytes)}.svg`, bytes]);
            next();
          } else if (files.length > 0) {
            const all = zipped(files);
            give(`${name}-${fileName(say("page.cloth.pieces"))}.zip`, all, all.size, "application/zip");
          } else tell("");
        },
      });
    if (kind === "zip") next();
    else
      aside.ask({
        asks: ["cloth_file", kind, piece, sheet],
        broke,
        answered: (bytes) => {
          if (typeof bytes === "string" || bytes.length === 0) tell(String(bytes));
          else if (kind === "svg") give(`${name}-${title(bytes)}.svg`, bytes, bytes.length, "image/svg+xml");
          else if (kind === "csv") give(`${name}-offsets.csv`, bytes, bytes.length, "text/csv");
          else give(`${name}-${fileName(kind === "piece" ? pieces.value : say(kind === "pdf" ? "page.cloth.pieces" : "pattern.lofting"))}.pdf`, bytes, bytes.length, "application/pdf", /\/Pages\/Count (\d+)/.exec(new TextDecoder("latin1").decode(bytes))?.[1]);
        },
      });
  }

  return {
    /** Its worker: what else is printed of the cloth is asked there, where the roll is laid. */
    aside,
    /** The section goes out of sight: what was made stays in its worker, and what is under way goes on. */
    leave() {
      clearTimeout(pause);
    },
    /** @param {import("../desk.js").Change} change */
    update(change) {
      section.update(change);
      if (change.dragging) return;
      if (change.opened) {
        const usual = `${PLOTTER_M.toLocaleString(region())} m`;
        if (width.value === usualWidth) width.value = usual;
        usualWidth = usual;
      }
      chooser.update(mastNames(desk.text).names);
      const [sail, panels] = desk.ask("cloth", (bench) => bench.cloth(AT_ONCE), /** @type {Detail[]} */ ([]));
      const count = panels?.rows.length ?? 0;
      panel = Math.min(Math.max(1, panel), Math.max(1, count));
      for (const element of [careful, verdict, fields]) element.hidden = count === 0;
      none.hidden = count > 0;
      if (!sail || !panels || count === 0) return;
      show("sewn.sail", sail);
      show("sewn.panels", panels);
      renew(chips, panels.rows.map(([name]) => name), () =>
        panels.rows.map(([name = ""], at) => {
          const chip = make("button", { type: "button", class: "chip", text: String(at + 1), "aria-label": name });
          chip.addEventListener("click", () => {
            panel = at + 1;
            desk.request();
          });
          return chip;
        }),
      );
      Array.from(chips.children).forEach((chip, at) => setAttribute(chip, "aria-pressed", String(at + 1 === panel)));
      setText(byItself, say(shapesAt().at < 0 ? "page.cloth.shape" : "page.cloth.as_graded"));
      byItself.hidden = desk.lookOnly;
      across.of = `cloth-section${panel}`;
      surface.of = `cloth-surface${panel}`;
      for (const { canvas, paint } of [across, surface, ways]) if (inSight(canvas)) paint();
      if (asked !== now()) {
        clearTimeout(pause);
        if (doing === "order" && doneFor !== designOf(desk)) cancel();
        pause = setTimeout(askAside, SETTLED_MS);
      }
      follow();
    },
    /** @param {string} path */
    find: (path) => section.find(path),
  };
}
