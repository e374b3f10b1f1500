/**
 * Section Lines: the sheeting angle, every line, what it carries, the drill, where the deck block may stand,
 * leads and rules, the papers to buy and belay by.
 * @module
 */
import { icon, make, setAttribute, setText } from "../elements.js";
import { say } from "../words.js";
import { makeHandles, takeAnswer } from "./drawing.js";
import { figureLine, makePlot, renew } from "./balance.js";
import { FieldSection, listAt, makeMastChooser, mastNames } from "./fields.js";
import { showHelp } from "./help.js";
import { detailTable, headWords, makeCsvButton, makeStateTable } from "./reefs.js";

/** @typedef {import("../desk.js").Desk} Desk */
/** @typedef {import("../engine.js").Column} Column */
/** @typedef {import("../engine.js").Detail} Detail */
/** @typedef {import("../engine.js").LineInHand} LineInHand */
/** @typedef {import("../engine.js").Lines} Lines */
/** @typedef {import("../engine.js").Paper} Paper */
/** @typedef {import("../types/rows.d.ts").Path} Path */

/** How near to a place of rest the hand is taken to mean it [°]. */
const REST = 2.5;
/** How long a step of the drill is shown, and the halyard's way in it [ms]. */
const STEP_MS = 1900;
const HALYARD_MS = 1300;
/** Half the width of the slider's thumb [px]: so far from its ends its marks begin. */
const THUMB = 8;
const HAULS = ["yard", "luff", "throat", "tack", "restraint", "down"];
const AXES = ["page.lines.aft", "page.lines.starboard", "page.lines.up"];

/** @param {Desk} desk @returns {Paper[]} */
const linePapers = (desk) => desk.ask("line_papers", (bench) => bench.line_papers(), /** @type {Paper[]} */ ([]));

/**
 * The sheeting angle: a slider that rests amidships, close-hauled and squared off, either side.
 * @param {Desk} desk
 */
function makeSheeting(desk) {
  const slider = make("input", { type: "range", id: "sheeting", step: "1" });
  const told = make("output", { for: "sheeting", class: "wind-told" });
  const marks = make("div", { class: "sheeting-marks", "aria-hidden": "true" });
  /** Where it rests. @type {number[]} */
  let rests = [];
  let held = false;

  /** @param {number} value */
  const near = (value) => (held ? (rests.find((rest) => Math.abs(rest - value) <= REST) ?? value) : value);
  slider.addEventListener("pointerdown", (event) => {
    if (event.button === 0 && event.isPrimary) held = true;
  });
  slider.addEventListener("input", () => {
    const value = near(Number(slider.value));
    if (!held) {
      desk.setView({ sheet_deg: value });
      return;
    }
    if (!desk.dragging) desk.grasp("sheeting");
    slider.value = String(value);
    desk.drag(() => desk.setView({ sheet_deg: value }));
  });
  function letGo() {
    if (!held) return;
    held = false;
    if (desk.view.active === "sheeting") desk.release();
  }
  for (const name of ["change", "pointerup", "pointercancel", "blur"]) slider.addEventListener(name, letGo);
  slider.addEventListener("keydown", (event) => {
    const now = Number(slider.value);
    const next = event.key === "PageUp" ? rests.find((rest) => rest > now) : event.key === "PageDown" ? rests.filter((rest) => rest < now).at(-1) : undefined;
    if (next === undefined) return;
    event.preventDefault();
    desk.setView({ sheet_deg: next });
  });

  function words() {
    const value = desk.view.sheet_deg;
    const side = Math.abs(value) < 0.5 ? say("page.sheeting.amidships") : say(value < 0 ? "page.sheeting.port" : "page.sheeting.starboard", { angle: Math.round(Math.abs(value)) });
    const rest = rests.indexOf(value);
    return rest < 0 || rest === 2 ? side : `${side}, ${say(rest === 1 || rest === 3 ? "page.sheeting.close" : "page.sheeting.squared")}`;
  }

  return {
    root: make("div", { class: "wind-slider" }, make("label", { for: "sheeting", word: "page.sheeting" }), told, slider, marks),
    /** Brings its words and thumb to where the view is. */
    follow() {
      const text = words();
      setText(told, text);
      setAttribute(slider, "aria-valuetext", text);
      if (!held && slider.value !== String(desk.view.sheet_deg)) slider.value = String(desk.view.sheet_deg);
    },
    /** @param {number[]} angles close-hauled, squared off */
    rest([close = 15, squared = 85]) {
      // Whole degrees, amidships among them.
      const [near_, most] = [Math.round(close), Math.floor(squared)];
      const known = [-most, -near_, 0, near_, most];
      if (String(known) === String(rests)) return;
      rests = known;
      setAttribute(slider, "min", String(-most));
      setAttribute(slider, "max", String(most));
      marks.replaceChildren(
        ...rests.map((rest) => {
          const mark = make("span");
          const share = (rest + most) / (2 * most);
          mark.style.left = `calc(${THUMB}px + (100% - ${2 * THUMB}px) * ${share})`;
          return mark;
        }),
      );
    },
  };
}

/**
 * The view from above; what stands on deck of the line in hand is dragged there, fore and aft and across.
 * @param {Desk} desk
 */
function makeAbove(desk) {
  const plot = makePlot(desk, "above", 250);
  const overlay = make("div", { class: "handles" });
  const root = make("div", { class: "plot-pane" }, plot.canvas, overlay);
  /** @type {{ id: number, handle: string, x: number, y: number, moved: boolean } | null} */
  let hold = null;
  /** The click after a drag comes to the pane: it is no tap on a line. */
  let handled = false;
  const { size } = plot;
  const handles = makeHandles(overlay, desk, {
    rows: (bench) => bench.handles_above(...size()),
    nudge: (bench, id, steps, upright) => bench.nudge(id, steps, upright, true),
    letGo() {
      const held = hold !== null;
      hold = null;
      return held;
    },
  });
  root.addEventListener("pointerdown", (event) => {
    const target = event.target instanceof Element ? event.target.closest("[data-handle]") : null;
    const row = target instanceof HTMLElement ? handles.row(target.dataset.handle ?? "") : undefined;
    handled = row !== undefined;
    if (!row || event.button !== 0 || hold || desk.lookOnly) return;
    event.preventDefault();
    if (target instanceof HTMLElement) target.focus({ preventScroll: true });
    root.setPointerCapture(event.pointerId);
    hold = { id: event.pointerId, handle: row.id, x: row.x - event.clientX, y: row.y - event.clientY, moved: false };
  });
  root.addEventListener("pointermove", (event) => {
    if (hold?.id !== event.pointerId) return;
    const { handle, x, y } = hold;
    if (!hold.moved) desk.grasp(handle);
    hold.moved = true;
    const [at, up] = [x + event.clientX, y + event.clientY];
    desk.drag(() => takeAnswer(desk, desk.ask(`drag ${handle}`, (bench) => bench.drag_above(handle, at, up, ...size()), ""), (edits) => desk.live(edits)));
  });
  /** @param {PointerEvent} event @param {boolean} kept */
  function letGo(event, kept) {
    if (hold?.id !== event.pointerId) return;
    const { moved } = hold;
    hold = null;
    if (!moved) return;
    if (kept) desk.release();
    else desk.revert();
  }
  root.addEventListener("pointerup", (event) => letGo(event, true));
  root.addEventListener("pointercancel", (event) => letGo(event, false));
  root.addEventListener("lostpointercapture", (event) => letGo(event, false));
  // A click, so that a thumb that scrolls the page takes nothing.
  root.addEventListener("click", (event) => {
    if (handled || (event.target instanceof Element && event.target.closest("[data-handle]"))) return;
    const box = plot.canvas.getBoundingClientRect();
    desk.tap(true, event.clientX - box.left, event.clientY - box.top, ...size());
  });
  return {
    root,
    paint: plot.paint,
    /** @param {boolean} dragging */
    update(dragging) {
      overlay.hidden = desk.lookOnly;
      handles.place(dragging, ...size());
    },
  };
}

/**
 * The lines by group; a tap takes one in hand, and all that is known of it unfolds.
 * @param {Desk} desk
 */
function makeList(desk) {
  const root = make("div", { class: "line-list" });
  /** @type {Map<string, { button: HTMLButtonElement, texts: HTMLElement[], open: HTMLElement }>} */
  const lines = new Map();
  let built = "";
  /** The sheeting angles are swept only for who asks. */
  let swept = false;

  /** The line that was taken here: one that the drill takes does not push the drill about. */
  let unfolded = "";

  /** @param {string} line */
  function take(line) {
    const goes = desk.view.line === line && unfolded === line;
    unfolded = goes ? "" : line;
    desk.setView({ line: goes ? "" : line });
  }

  /** @param {Column} column */
  const head = ({ label, unit, help }) => make("button", { type: "button", class: "column-button", "aria-haspopup": "dialog", onclick: () => showHelp({ label, help }) }, ...headWords({ key: "", label, unit, help }));

  /** @param {Detail} list */
  function build({ columns, rows }) {
    lines.clear();
    /** @type {HTMLElement[]} */
    const parts = [make("div", { class: "line-heads" }, make("span"), ...columns.map(head))];
    let group = "";
    /** @type {HTMLElement | null} */
    let items = null;
    for (const [id = "", of = "", ...texts] of rows) {
      if (of !== group || !items) {
        group = of;
        items = make("ul");
        // A line that is alone in its group has the group's name.
        parts.push(make("h3", { text: of, class: texts[0] === of ? "unseen" : undefined }), items);
      }
      const [name, made, next, buy] = [make("strong"), make("span", { class: "quiet" }), make("span", { class: "line-cell" }), make("span", { class: "line-cell" })];
      const open = make("div", { class: "line-open", id: `line-${id}`, hidden: true });
      const button = make("button", { type: "button", class: "line", "data-line": id, "aria-controls": open.id, onclick: () => take(id) }, make("span", { class: "line-name" }, name, " ", made), next, buy);
      lines.set(id, { button, texts: [name, made, next, buy], open });
      items.append(make("li", {}, button, open));
    }
    root.replaceChildren(...parts);
  }

  /** @param {LineInHand} hand */
  function unfold({ id, path, rove, facts, lengths }) {
    const sweep = make("div", { class: "scroller plain", tabindex: "0", role: "region", label: "page.lines.sweep" });
    const more = make("details", { class: "how-to" }, make("summary", { word: "page.lines.sweep" }), sweep);
    const fill = () => {
      swept = more.open;
      if (swept && sweep.childElementCount === 0) {
        const found = desk.ask("sweep", (bench) => bench.sweep(), /** @type {Detail | null} */ (null));
        if (found) sweep.append(detailTable(found, ""));
      }
    };
    more.addEventListener("toggle", fill);
    more.open = swept;
    return [
      make("ol", { class: "line-path" }, ...path.map(([where = "", on = ""]) => make("li", {}, where, on ? make("span", { class: "quiet", text: ` · ${on}` }) : null))),
      rove ? make("p", { class: "line-rove", text: `${rove}.` }) : "",
      make("ul", { class: "known tight" }, ...facts.map(figureLine)),
      make("div", { class: "scroller plain", tabindex: "0", role: "region", label: "page.lines.lengths" }, detailTable(lengths, say("page.lines.lengths"))),
      id.startsWith("sheet") ? more : "",
    ];
  }

  return {
    root,
    take,
    /** @param {Detail} list @param {LineInHand | undefined} hand */
    update(list, hand) {
      const key = JSON.stringify([list.columns, list.rows.map(([id, of]) => [id, of])]);
      if (key !== built) {
        const held = document.activeElement?.getAttribute("data-line");
        built = key;
        build(list);
        if (held) lines.get(held)?.button.focus();
      }
      if (hand?.id !== unfolded) unfolded = "";
      for (const [id = "", , ...texts] of list.rows) {
        const entry = lines.get(id);
        if (!entry) continue;
        texts.forEach((text, at) => setText(/** @type {HTMLElement} */ (entry.texts[at]), text));
        const inHand = hand?.id === id;
        const open = inHand && unfolded === id;
        setAttribute(entry.button, "aria-current", inHand ? "true" : null);
        setAttribute(entry.button, "aria-expanded", String(open));
        entry.open.hidden = !open;
        if (hand && open) renew(entry.open, hand, () => unfold(hand));
        else if (entry.open.childElementCount > 0) {
          entry.open.replaceChildren();
          delete entry.open.dataset.shown;
        }
      }
    },
  };
}

/**
 * From one state to another, step by step, on the drawing.
 * @param {Desk} desk
 */
function makeDrill(desk) {
  /** @param {string} id @param {string} word */
  const chooser = (id, word) => {
    const select = make("select", { id });
    return { select, root: make("div", { class: "drill-of" }, make("label", { for: id, word }), make("div", { class: "entry choice" }, select, icon("down"))) };
  };
  const from = chooser("drill-from", "page.lines.from");
  const to = chooser("drill-to", "page.lines.to");
  const list = make("ol", { class: "drill-steps" });
  const status = make("p", { class: "unseen", role: "status" });
  const play = make("button", { type: "button", class: "button", id: "drill-play", onclick: () => (timer ? stop() : start()) });
  const back = make("button", { type: "button", class: "button", id: "drill-back", word: "page.lines.back", onclick: () => step(at - 1) });
  const on = make("button", { type: "button", class: "button", id: "drill-next", word: "page.lines.forward", onclick: () => step(at + 1) });
  const caution = make("p", { class: "group-note" });
  const root = make("div", { role: "group", label: "page.lines.drill" }, make("div", { class: "drill-choose" }, from.root, to.root), list, make("div", { class: "group-buttons" }, play, back, on), caution, status);

  /** Panels lowered at both ends; chosen by hand, or now and the next. */
  let ends = [0, 1];
  let byHand = false;
  let asked = "";
  /** Line, its name, what is done, how much. @type {string[][]} */
  let steps = [];
  let at = -1;
  let timer = 0;

  /** @param {boolean} [all] where a step is shown no more either */
  function stop(all = false) {
    clearTimeout(timer);
    timer = 0;
    if (all) {
      at = -1;
      setText(status, "");
    }
    desk.request();
  }

  function start() {
    step(at + 1 < steps.length ? at + 1 : 0, true);
  }

  /** Shows a step: its line in hand, the sail where the halyard has brought it. @param {number} next @param {boolean} [goOn] */
  function step(next, goOn = false) {
    clearTimeout(timer);
    timer = 0;
    const shown = steps[next];
    if (!shown) return;
    at = next;
    const [line = "", ...words] = shown;
    const halyard = steps.findIndex(([id]) => id === "halyard");
    const lowered = ends[halyard >= 0 && at >= halyard ? 1 : 0] ?? 0;
    desk.settle();
    desk.setView({ line });
    const hoist = desk.view.hoist.map((old, mast) => (mast === desk.view.mast ? lowered : old));
    if (String(hoist) !== String(desk.view.hoist)) desk.slideTo(hoist, at === halyard ? HALYARD_MS : undefined);
    list.children[at]?.scrollIntoView({ block: "nearest" });
    setText(status, say("page.lines.step", { number: at + 1, words: words.join(" ") }));
    if (goOn)
      timer = window.setTimeout(() => {
        if (at + 1 < steps.length) step(at + 1, true);
        else stop();
      }, STEP_MS);
  }

  root.addEventListener("keydown", (event) => {
    if (event.target instanceof HTMLSelectElement) return;
    const by = new Map([["ArrowRight", 1], ["ArrowLeft", -1]]).get(event.key);
    if (by === undefined) return;
    event.preventDefault();
    step(at + by);
  });
  for (const { select } of [from, to])
    select.addEventListener("change", () => {
      byHand = true;
      ends = [Number(from.select.value), Number(to.select.value)];
      stop(true);
    });

  return {
    root,
    stop,
    /** @param {Lines} lines @param {boolean} fresh @param {boolean} opened */
    update({ lowered, panels }, fresh, opened) {
      if (opened) byHand = false;
      if (opened || Math.max(...ends) > panels) stop(true);
      // What is being shown stays, till the sail goes somewhere else.
      if (!byHand && (at < 0 || (!timer && !ends.includes(lowered))) && ends[0] !== lowered) {
        ends = [lowered, lowered < panels ? lowered + 1 : lowered - 1];
        at = -1;
        setText(status, "");
      }
      for (const [end, { select }] of [from, to].entries()) {
        renew(select, panels, () => Array.from({ length: panels + 1 }, (_, n) => make("option", { value: String(n), text: n === 0 ? say("page.lines.full") : say("page.lines.state", { n }) })));
        select.value = String(ends[end]);
      }
      const [start_ = 0, end = 0] = ends;
      if (fresh || asked !== String(ends)) steps = desk.ask("drill", (bench) => bench.drill(start_, end), /** @type {string[][]} */ ([]));
      asked = String(ends);
      renew(list, steps, () =>
        steps.map(([, name = "", does = "", amount = ""], number) =>
          make("li", {}, make("button", { type: "button", class: "drill-step", onclick: () => step(number) }, make("strong", { text: name }), make("span", { class: "drill-does" }, does, amount ? ` ${amount}` : ""))),
        ),
      );
      Array.from(list.children).forEach((item, number) => setAttribute(item, "aria-current", number === at ? "step" : null));
      setText(play, say(timer ? "page.lines.stop" : "page.lines.play"));
      back.disabled = at <= 0;
      on.disabled = at + 1 >= steps.length;
      play.disabled = steps.length === 0;
      setText(caution, say(steps.length === 0 ? "page.lines.no_drill" : end < start_ ? "page.lines.free_first" : "page.lines.ease_slowly"));
    },
  };
}

/**
 * @param {HTMLElement} root
 * @param {Desk} desk
 * @param {() => void} print
 */
export function makeLines(root, desk, print) {
  const chooser = makeMastChooser(desk);
  const sheeting = makeSheeting(desk);
  const above = makeAbove(desk);
  const deck = makePlot(desk, "deck", 260);
  const list = makeList(desk);
  desk.onLine = list.take;
  const loads = makeStateTable(desk, "load-table", "page.lines.loads", "page.lines.more_of", ({ id }) => desk.ask("line_loads", (bench) => bench.line_loads(Number(id)), /** @type {Detail} */ ({ columns: [], rows: [] })));
  const drill = makeDrill(desk);

  const inHand = make("strong", { role: "status" });
  const handLine = make("p", { class: "in-hand", hidden: true }, inHand, make("button", { type: "button", class: "text-button", word: "page.lines.let_go", onclick: () => desk.setView({ line: "" }) }));
  const none = make("p", { class: "group-note wind-caution", word: "page.lines.none" });
  /** @param {string} key @param {string} title @param {(Node | string)[]} children */
  const group = (key, title, ...children) => make("section", { class: "group open", id: `lines-${key}` }, make("h2", { word: title }), ...children);
  /** @param {string} key @param {string} title @param {() => void} fill @param {(Node | string)[]} children */
  const folded = (key, title, fill, ...children) => {
    const details = make("details", { class: "group", id: `lines-${key}` }, make("summary", {}, make("h2", { word: title }), icon("down")), ...children);
    details.addEventListener("toggle", fill);
    return details;
  };

  // --- Where the deck block may stand: worked out for who looks ------------------------------------
  const drift = make("dl", { class: "facts" });
  const deckBox = folded("deck", "page.lines.deck", () => fillDeck(), make("p", { class: "group-note", word: "page.lines.deck.note" }), drift, deck.canvas);
  function fillDeck(changed = true) {
    if (!deckBox.open) return;
    deck.paint();
    if (!changed) return;
    const rows = desk.ask("drift", (bench) => bench.drift(), /** @type {string[][]} */ ([]));
    renew(drift, rows, () => rows.map(([name = "", text = ""]) => make("div", {}, make("dt", { text: name }), make("dd", { text }))));
  }

  // --- Papers ------------------------------------------------------------------------------------
  const papers = make("div");
  const paperBox = folded(
    "papers",
    "page.lines.papers",
    () => fillPapers(),
    papers,
    make("div", { class: "group-buttons" }, makeCsvButton(desk, "copy-lines", (bench) => bench.dossier_csv("lines")), make("button", { type: "button", class: "button", id: "print-lines", onclick: print }, icon("print"), make("span", { word: "page.print" }))),
  );
  function fillPapers() {
    if (!paperBox.open) return;
    const found = linePapers(desk);
    renew(papers, found, () => found.map(({ title, detail }) => make("div", { class: "scroller plain", tabindex: "0", role: "region", "aria-label": title }, detailTable(detail, title))));
  }

  // --- Leads and rules ---------------------------------------------------------------------------
  const fields = make("div", { class: "groups" });
  let shownMast = 0;
  /** What was last told, and of what. @type {Lines | null} */
  let found = null;
  /** @type {LineInHand | undefined} */
  let hand;
  let known = "";
  let shownLine = "";
  /** What comes of a group, under its fields. @param {string} of what the keys of its lines begin with */
  const result = (of) => ({ of, element: make("p", { class: "result" }) });
  const results = ["halyard", "sheet", "lifts", "parrel", "hauling"].map(result);
  const [ofHalyard, ofSheet, ofLifts, ofParrels, ofHauling] = results.map(({ element }) => ({ element }));
  /** @param {"spans" | "holds"} what */
  const writeOut = (what) => make("button", { type: "button", class: "button", id: `write-${what}`, word: `page.lines.write.${what}`, onclick: () => desk.commit(desk.ask("write_out", (bench) => bench.write_out(what), "[]")) });
  const [writeSpans, writeHolds] = [writeOut("spans"), writeOut("holds")];
  const buttons = [writeSpans, writeHolds].map((button) => ({ element: make("div", { class: "group-buttons" }, button) }));
  const titles = HAULS.map((line) => make("h3", { word: `choice.line.${line}` }));

  const section = new FieldSection(desk, fields, () => {
    const { names, tree } = mastNames(desk.text);
    const mast = Math.min(desk.view.mast, Math.max(0, names.length - 1));
    const lines = tree.masts?.[mast]?.lines ?? {};
    /** @param {string} leaf @returns {Path} */
    const at = (leaf) => /** @type {Path} */ (`masts.${mast}.${leaf}`);
    /** @param {string[]} leaves */
    const all = (...leaves) => leaves.map((leaf) => /** @type {Path} */ (`lines.${leaf}`));
    /** Places aft, to starboard and up, one to a row. @param {[string, string][]} places */
    const places = (...places) => ({ spars: places.map(([path]) => ["x_m", "y_m", "z_m"].map((axis) => at(`${path}_${axis}`))), names: places.map(([, word]) => say(word)), heads: AXES });
    /** @param {string} line @param {boolean} standing whether a standing one leads anywhere */
    const leads = (line, standing) => {
      const use = lines[line]?.use;
      if (use === "none" || (use === "standing" && !standing)) return [];
      return [places(.../** @type {[string, string][]} */ ([["lead", "page.lines.lead"], ...(use === "standing" ? [] : [["cleat", "page.lines.cleat"]])].map(([leaf, word]) => [`lines.${line}.${leaf}`, word])))];
    };
    /** What is rigged where nothing is said. @param {string} line */
    const useOf = (line) => lines[line]?.use ?? (["throat", "restraint", "down"].includes(line) ? "none" : "running");
    const system = lines.sheet?.system ?? "single";
    const two = system === "divided" || system === "pair";
    const counts = ["lines.spans", "lines.holds"].map((leaf) => listAt(desk.text, at(leaf)).length);
    return {
      key: JSON.stringify([mast, names.length, system, ["halyard", "lifts", "parrels", ...HAULS].map((line) => lines[line]?.use), counts]),
      groups: [
        { key: "lines-halyard", title: "page.group.lines_halyard", items: [at("lines.halyard.use"), ...(lines.halyard?.use === "none" ? [] : [at("lines.halyard.parts"), ...leads("halyard", false)]), ofHalyard] },
        {
          key: "lines-sheet",
          title: "page.group.lines_sheet",
          items: [
            at("lines.sheet.system"),
            ...(system === "none"
              ? []
              : [
                  // Spans that are written out have their own.
                  ...(counts[0] ? [] : [at("lines.sheet.gathers"), at("lines.sheet.parts")]),
                  places(.../** @type {[string, string][]} */ (["block", ...(two ? ["block_2"] : []), "cleat", ...(two ? ["cleat_2"] : [])].map((leaf) => [`lines.sheet.${leaf}`, `page.lines.${leaf}`]))),
                  at("lines.sheet.tip_m"),
                  .../** @type {import("./fields.js").Item[]} */ (counts[0] ? [{ rows: at("lines.spans"), leaves: ["sheet", "top", "ends", "length_m", "parts"], add: "page.rows.add" }] : [buttons[0]]),
                ]),
            ofSheet,
          ],
        },
        { key: "lines-lifts", title: "page.group.lines_lifts", items: [at("lines.lifts.use"), ...(lines.lifts?.use === "none" ? [] : [at("lines.lifts.height_m"), { list: [0, 1, 2].map((catch_) => at(`lines.lifts.catches_pct.${catch_}`)) }, ...(lines.lifts?.use === "standing" ? [] : [places(["lines.lifts.cleat", "page.lines.cleat"])])]), ofLifts] },
        { key: "lines-parrels", title: "page.group.lines_parrels", items: [at("lines.parrels.use"), ...(lines.parrels?.use === "none" ? [] : [at("lines.parrels.ahead_m"), at("lines.parrels.abaft_m")]), ofParrels] },
        {
          key: "lines-hauling",
          title: "page.group.lines_hauling",
          items: [
            ...HAULS.flatMap((line, number) => [{ element: /** @type {HTMLElement} */ (titles[number]) }, at(`lines.${line}.use`), ...(useOf(line) === "none" ? [] : leads(line, true))]),
            .../** @type {import("./fields.js").Item[]} */ (counts[1] ? [{ rows: at("lines.holds"), leaves: ["line", "spar", "along_pct"], add: "page.rows.add" }] : [buttons[1]]),
            ofHauling,
          ],
        },
        {
          key: "lines-ropes",
          title: "page.group.lines_ropes",
          items: all("halyard_rope", "sheet_rope", "lift_rope", "parrel_rope", "factor_halyard", "factor_running", "factor_fixed", "knot_pct", "dynamic", "sheave_loss_pct", "parrel_friction", "hand_n", "hand_rope_m", "stretch_pct", "wet", "close_deg", "block_to_block_m", "lifeline_m", "tail_halyard_m", "tail_sheet_m", "tail_hauling_m", "tail_fixed_m"),
        },
        { key: "lines-weights", title: "page.group.lines_weights", items: ["cloth_gsm", "boom_kg", "batten_kg", "yard_kg"].map((leaf) => at(`weights.${leaf}`)) },
      ],
    };
  });

  const parts = [
    make("section", { class: "wind-box" }, sheeting.root, above.root, handLine),
    group("list", "page.lines.list", make("p", { class: "group-note", word: "page.lines.tap" }), list.root),
    group("loads", "page.lines.loads", loads.root, make("p", { class: "group-note caution", word: "page.lines.caution" })),
    group("drill", "page.lines.drill", drill.root),
    deckBox,
  ];
  root.append(chooser.root, none, ...parts, fields, paperBox);

  return {
    /** The section goes out of sight. */
    leave: () => drill.stop(true),
    paint: above.paint,
    /** @param {import("../desk.js").Change} change */
    update(change) {
      above.update(change.dragging);
      sheeting.follow();
      section.update(change);
      // The drill takes the halyard in hand as the sail begins to move.
      if (change.dragging && desk.view.line === shownLine) return;
      shownLine = desk.view.line;
      chooser.update(mastNames(desk.text).names);
      // Sheeting changes none of it.
      const { hoist, mast: ofMast, units, line } = desk.view;
      const now = JSON.stringify([hoist, ofMast, units, line]);
      const fresh = change.document || change.opened || now !== known;
      if (fresh) {
        known = now;
        found = desk.ask("lines", (bench) => bench.lines(), /** @type {Lines | null} */ (null));
        hand = line ? desk.ask("line_in_hand", (bench) => bench.line_in_hand(), undefined) : undefined;
      }
      if (!found) return;
      const { list: rope, loads: carried } = found;
      const any = found.angles.length > 0;
      none.hidden = any;
      for (const part of [...parts, paperBox]) part.hidden = !any;
      if (any) sheeting.rest(found.angles);
      sheeting.follow();
      handLine.hidden = !hand;
      if (hand) setText(inHand, say("page.lines.in_hand", { name: hand.name }));
      list.update(rope, hand);
      loads.update(carried);
      drill.update(found, fresh, change.opened);
      for (const { of, element } of results) {
        const told = rope.rows.filter(([id = ""]) => id.startsWith(of)).map(([, , name, made, , buy]) => `${name}: ${made}, ${buy} ${rope.columns[1]?.unit ?? ""}`);
        setText(element, told.join("\n"));
        element.hidden = told.length === 0;
      }
      for (const { element } of buttons) element.hidden = desk.lookOnly;
      fillDeck(change.document || shownMast !== desk.view.mast);
      shownMast = desk.view.mast;
      if (change.document) fillPapers();
    },
    /** @param {string} path */
    find: (path) => section.find(path),
  };
}
