/**
 * Section Reefs: one row per state; its parrel heights open below it. Tables of states and of finished words.
 * @module
 */
import { copyText, fileName, icon, make, offerFile, setAttribute, setText } from "../elements.js";
import { say } from "../words.js";
import { mastNames } from "./fields.js";
import { showHelp } from "./help.js";

/** @typedef {import("../desk.js").Desk} Desk */
/** @typedef {import("../engine.js").Column} Column */
/** @typedef {import("../engine.js").Detail} Detail */
/** @typedef {import("../engine.js").ReefRow} ReefRow */
/** @typedef {import("../engine.js").ReefTable} ReefTable */

const WHILE_DRAGGING_MS = 120;

/** Heads that are long elsewhere have a shorter form over a column of the table. */
const SHORT = new Map([
  ["area_share", "page.column.area_share"],
  ["ce_up", "page.column.ce_up"],
  ["true_wind", "page.column.true_wind"],
  ["true_wind_running", "page.column.true_wind_running"],
  ["overbalance", "page.column.overbalance"],
]);

/** @param {Column} column */
const headLabel = (column) => {
  const short = SHORT.get(column.key);
  return short ? say(short) : column.label;
};

/** @param {Column} column */
export const headWords = (column) => [headLabel(column), column.unit ? " " : null, column.unit ? make("span", { class: "unit", text: column.unit }) : null];

/** The head of a column, which tells what its numbers mean. @param {Column} column @param {Record<string, string>} [of] */
export const headCell = (column, of = { scope: "col" }) => {
  const { label, help } = column;
  return make("th", of, ...(help ? [make("button", { type: "button", class: "column-button", "aria-haspopup": "dialog", onclick: () => showHelp({ label, help }) }, ...headWords(column))] : headWords(column)));
};

/**
 * A table with one row per state. Choosing a row sets the hoist; a button of its own unfolds what else is known.
 * @param {Desk} desk @param {string} id @param {string} caption @param {string} more words for what unfolds
 * @param {(row: ReefRow) => Detail} [ask] where that is asked for only as it unfolds
 */
export function makeStateTable(desk, id, caption, more, ask = ({ detail }) => detail) {
  const head = make("thead");
  const body = make("tbody");
  const table = make("table", { id, class: "state-table" }, make("caption", { class: "unseen", word: caption }), head, body);
  /** @type {Map<string, { line: HTMLTableRowElement, choose: HTMLButtonElement, cells: HTMLTableCellElement[], unfold: HTMLButtonElement, detail: HTMLTableRowElement, row: ReefRow }>} */
  const lines = new Map();
  let built = "";
  let unfolded = "";

  /** @param {ReefTable} table_ */
  function build(table_) {
    lines.clear();
    head.replaceChildren(
      make(
        "tr",
        {},
        make("th", { scope: "col", class: "state", word: "page.reefs.lowered" }),
        ...table_.columns.map((column) => headCell(column)),
      ),
    );
    body.replaceChildren(
      ...table_.rows.flatMap((row) => {
        const known = `${id}-${row.id}`;
        const choose = make("button", { type: "button", class: "row-button", text: row.name });
        const unfold = make("button", { type: "button", class: "icon-button", "aria-expanded": "false", "aria-controls": known }, icon("down"));
        setAttribute(unfold, "aria-label", say(more, { state: row.name }));
        const cells = row.cells.map((text) => make("td", { text }));
        const line = make("tr", { "data-state": row.id }, make("th", { scope: "row", class: "state" }, make("div", {}, choose, unfold)), ...cells);
        const detail = make("tr", { class: "detail", id: known, hidden: true }, make("td", { colspan: String(row.cells.length + 1) }));
        const entry = { line, choose, cells, unfold, detail, row };
        lines.set(row.id, entry);
        line.addEventListener("click", (event) => {
          if (event.target instanceof Element && event.target.closest(".icon-button")) return;
          desk.slideTo(entry.row.hoist);
        });
        unfold.addEventListener("click", () => {
          unfolded = unfolded === row.id ? "" : row.id;
          desk.request();
        });
        return [line, detail];
      }),
    );
  }

  return {
    root: make("div", { class: "scroller reef-scroller", tabindex: "0", role: "region", label: caption }, table),
    /** @param {ReefTable} found */
    update(found) {
      const key = JSON.stringify([found.columns.map(({ label, unit }) => label + unit), found.rows.map(({ id, name }) => [id, name])]);
      if (key !== built) {
        built = key;
        build(found);
      }
      for (const row of found.rows) {
        const entry = lines.get(row.id);
        if (!entry) continue;
        entry.row = row;
        row.cells.forEach((text, at) => {
          const cell = entry.cells[at];
          if (cell) setText(cell, text);
        });
        setAttribute(entry.line, "aria-current", row.now ? "true" : null);
        setAttribute(entry.choose, "aria-pressed", String(row.now));
        const open = unfolded === row.id;
        setAttribute(entry.unfold, "aria-expanded", String(open));
        entry.detail.hidden = !open;
        if (open) {
          const detail = ask(row);
          const known = JSON.stringify(detail);
          if (entry.detail.dataset.known !== known) {
            entry.detail.dataset.known = known;
            entry.detail.firstElementChild?.replaceChildren(detailTable(detail, say(more, { state: row.name })));
          }
        }
      }
    },
  };
}

/**
 * A table of finished words; the first cell names its row.
 * @param {Detail} detail @param {string} caption
 */
export const detailTable = ({ columns, rows }, caption) =>
  make(
    "table",
    { class: "detail-table" },
    make("caption", { text: caption }),
    columns.length > 0 ? make("thead", {}, make("tr", {}, ...columns.map((column) => headCell(column)))) : null,
    make("tbody", {}, ...rows.map((cells) => {
      const [label = "", ...rest] = cells;
      // Without heads the rows themselves are told about: what lies past label and words.
      const help = columns.length > 0 ? "" : rest.splice(1)[0];
      return make("tr", {}, make("th", { scope: "row" }, help ? make("button", { type: "button", class: "told-button", "aria-haspopup": "dialog", text: label, onclick: () => showHelp({ label, help }) }) : label), ...rest.map((text) => make("td", { text })));
    })),
  );

/**
 * A button that copies comma-separated values.
 * @param {Desk} desk @param {string} id @param {(bench: import("../pkg/site.js").Workbench) => string} ask
 */
export function makeCsvButton(desk, id, ask) {
  const said = make("span", { word: "page.reefs.copy" });
  return make(
    "button",
    {
      type: "button",
      class: "button",
      id,
      onclick: async () => {
        const csv = desk.ask("csv", ask, "");
        if (await copyText(csv)) {
          setText(said, say("page.copied"));
          setTimeout(() => setText(said, say("page.reefs.copy")), 2500);
        } else desk.notices.show("copy", { tone: "plain", text: say("page.copy_failed"), copy: { word: "page.reefs.copy", text: csv } });
      },
    },
    icon("copy"),
    said,
  );
}

/**
 * @param {HTMLElement} root
 * @param {Desk} desk
 * @param {() => void} print
 */
export function makeReefs(root, desk, print) {
  const table = makeStateTable(desk, "reef-table", "page.reefs.caption", "page.reefs.parrels_of");
  const order = makeOrder(desk);
  root.append(
    table.root,
    make(
      "div",
      { class: "section-buttons" },
      makeCsvButton(desk, "copy-csv", (bench) => bench.csv()),
      make("button", { type: "button", class: "button", id: "save-svg", onclick: () => offerFile(`${fileName(desk.project?.name ?? "")}.svg`, desk.ask("svg", (bench) => bench.svg(), ""), "image/svg+xml") }, icon("save"), make("span", { word: "page.reefs.svg" })),
      make("button", { type: "button", class: "button", id: "print", onclick: print }, icon("print"), make("span", { word: "page.print" })),
    ),
    order.root,
  );
  let asked = 0;

  /** @param {boolean} dragging */
  return (dragging) => {
    // The table is the largest thing asked for: while the hand is at work, only so often.
    const now = performance.now();
    if (dragging && now - asked < WHILE_DRAGGING_MS) return;
    asked = now;
    const found = desk.ask("reef_table", (bench) => bench.reef_table(), /** @type {ReefTable | null} */ (null));
    if (!found) return;
    order.follow(found.rows.map(({ hoist }) => hoist));
    table.update(found);
  };
}

/**
 * With several masts: which of them drops the next panel. One step, one panel of one mast.
 * @param {Desk} desk
 */
function makeOrder(desk) {
  const list = make("ol", { class: "order-list" });
  const usual = make("button", { type: "button", class: "button", id: "usual-order", word: "page.field.back_to_usual", onclick: () => desk.commit('[["reefs.sequence",null]]') });
  const root = make("details", { class: "group", id: "reef-order", hidden: true }, make("summary", {}, make("h2", { word: "page.reefs.order" }), icon("down")), list, make("div", { class: "group-buttons" }, usual));
  /** The mast of each step. @type {number[]} */
  let steps = [];
  let drawn = "";

  /** Gives a step to another mast; that mast's next step is given in return. @param {number} at @param {number} mast */
  function give(at, mast) {
    const other = steps.indexOf(mast, at + 1);
    const masts = [...steps];
    const given = masts[at];
    if (given === undefined || other < 0) {
      draw();
      return;
    }
    masts[other] = given;
    masts[at] = mast;
    const lowered = mastNames(desk.text).names.map(() => 0);
    const sequence = [[...lowered]];
    for (const one of masts) {
      lowered[one] = (lowered[one] ?? 0) + 1;
      sequence.push([...lowered]);
    }
    desk.commit(JSON.stringify([["reefs.sequence", sequence]]));
  }

  function draw() {
    const { names } = mastNames(desk.text);
    list.replaceChildren(
      ...steps.map((mast, at) => {
        const select = make("select", { "aria-label": say("page.reefs.step", { number: at + 1 }) });
        names.forEach((name, other) => {
          if (other === mast || steps.includes(other, at + 1)) select.append(make("option", { value: String(other), text: name }));
        });
        select.value = String(mast);
        select.disabled = desk.lookOnly;
        select.addEventListener("change", () => give(at, Number(select.value)));
        return make("li", {}, make("span", { class: "quiet", text: String(at + 1) }), make("div", { class: "entry choice" }, select, icon("down")));
      }),
    );
  }

  return {
    root,
    /** @param {number[][]} sequence */
    follow(sequence) {
      const several = (sequence[0]?.length ?? 0) > 1;
      root.hidden = !several;
      if (!several) return;
      /** @type {number[]} */
      const masts = [];
      let plain = true;
      sequence.slice(1).forEach((state, at) => {
        const before = sequence[at] ?? [];
        const moved = state.map((lowered, mast) => lowered - (before[mast] ?? 0));
        const mast = moved.indexOf(1);
        if (mast < 0 || moved.some((step, other) => step !== 0 && other !== mast)) plain = false;
        masts.push(mast);
      });
      list.hidden = !plain;
      const { names, tree } = mastNames(desk.text);
      usual.hidden = desk.lookOnly || tree.reefs?.sequence === undefined;
      const key = JSON.stringify([masts, names, desk.lookOnly]);
      if (key === drawn) return;
      const held = Array.from(list.querySelectorAll("select")).findIndex((select) => select === document.activeElement);
      drawn = key;
      steps = masts;
      draw();
      if (held >= 0) list.querySelectorAll("select")[held]?.focus();
    },
  };
}
