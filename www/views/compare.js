/**
 * Two designs held against each other: drawn by one scale, over one another or side by side, at any reef of each; and what differs.
 * @module
 */
import { icon, make, picture, setText } from "../elements.js";
import { Unread, shortOf } from "../link.js";
import { peek } from "../store.js";
import { say } from "../words.js";
import { mastNames } from "./fields.js";
import { makeSwitch } from "./header.js";
import { closeOnBackdrop, showHelp } from "./help.js";

/** @typedef {import("../desk.js").Desk} Desk */
/** @typedef {import("../pkg/site.js").Workbench} Workbench */
/** @typedef {import("../engine.js").Paper} Paper */

/** Narrower than this two drawings stand one above the other [px]. */
const WIDE_ENOUGH = 640;
const LEAST_HIGH = 260;

/** @param {Desk} desk @returns {() => void} opens it */
export function makeCompare(desk) {
  /** @type {Workbench | null} */
  let other = null;
  /** What came by a link is called by its own name. */
  let linked = "";
  let how = "over";
  /** What can be compared with: its text, when it is chosen. @type {Map<string, () => string>} */
  const texts = new Map();
  const select = make("select", { id: "compare-with" });
  const link = make("input", { type: "text", id: "compare-link", autocomplete: "off", autocapitalize: "off", spellcheck: "false", enterkeyhint: "go" });
  const linkBox = make("form", { class: "rename" }, link, make("button", { type: "submit", class: "button", word: "page.link.open" }));
  const linkLabel = make("label", { for: "compare-link", word: "page.link.pasted" });
  const message = make("p", { class: "sheet-message", role: "status", hidden: true });
  const legend = make("p", { class: "compare-legend" });
  const drawn = make("div", { class: "compare-drawn" });
  const tables = make("div", {});
  const laid = makeSwitch(
    "compare-laid",
    "page.compare",
    [
      { value: "over", word: "page.compare.over" },
      { value: "beside", word: "page.compare.beside" },
    ],
    (value) => {
      how = value;
      draw();
    },
  );
  /** The sails of each, mast by mast. */
  const reefs = ["one", "other"].map((which) => ({ which, root: make("div", {}), sails: /** @type {{ mast: string, name: HTMLElement, told: HTMLElement, slider: HTMLInputElement }[]} */ ([]) }));
  const [mine, theirs] = reefs;
  const body = make("div", { hidden: true }, laid.root, legend, drawn, ...reefs.map(({ root }) => root), tables, make("p", { class: "quiet", word: "page.caution.short" }));
  const dialog = make(
    "dialog",
    { class: "sheet compare-sheet", id: "compare", "aria-labelledby": "compare-title" },
    make(
      "div",
      { class: "sheet-head" },
      make("h2", { id: "compare-title", word: "page.compare" }),
      make("button", { type: "button", class: "icon-button", label: "page.close", onclick: () => dialog.close() }, icon("close")),
    ),
    make("div", { class: "drill-of" }, make("label", { for: "compare-with", word: "page.compare.with" }), make("div", { class: "entry choice" }, select, icon("down"))),
    linkLabel,
    linkBox,
    message,
    body,
  );
  closeOnBackdrop(dialog);
  document.body.append(dialog);
  dialog.addEventListener("close", letGo);
  select.addEventListener("change", choose);
  linkBox.addEventListener("submit", (event) => {
    event.preventDefault();
    void shortOf(link.value).then(
      (short) => {
        if (!dialog.open || select.value !== "link") return;
        const text = desk.engine?.textOf(short);
        if (text) take(text);
        else tell(say(text === "" ? "page.link.long" : "page.link.newer"));
      },
      (fault) => tell(say(fault instanceof Unread ? fault.message : "page.link.broken")),
    );
  });
  addEventListener("resize", () => dialog.open && draw());

  /** @param {string} text */
  function tell(text) {
    message.hidden = text === "";
    setText(message, text);
  }

  function letGo() {
    // Not freed here: it may be of an instance that is lost.
    other = null;
    body.hidden = true;
  }

  function choose() {
    tell("");
    linkBox.hidden = linkLabel.hidden = select.value !== "link";
    letGo();
    const text = texts.get(select.value)?.();
    if (text) take(text);
  }

  /** @param {string} text */
  function take(text) {
    letGo();
    linked = select.value === "link" ? peek(text)?.name || say("page.unnamed") : "";
    try {
      other = desk.engine?.beside(text) ?? null;
    } catch (fault) {
      return tell(fault instanceof Error ? fault.message : String(fault));
    }
    tell("");
    body.hidden = false;
    for (const reef of reefs) reef.sails = [];
    // All down is the last state of each.
    const [panels = [], theirPanels = []] = both((bench, held) => [bench, held].map((one) => one.reef_table().rows.at(-1)?.hoist ?? []), /** @type {number[][]} */ ([]));
    const now = desk.hoist.map(Math.round);
    rig(mine, panels, desk.text, now);
    rig(theirs, theirPanels, text, panels.length === theirPanels.length ? now : []);
    laid.update(how);
    show();
  }

  /** A slider for each sail, as it stands at first. @param {typeof mine} reef @param {number[]} panels @param {string} text @param {number[]} hoist */
  function rig(reef, panels, text, hoist) {
    if (!reef) return;
    const { names } = mastNames(text);
    reef.sails = panels.map((most, at) => {
      const id = `compare-reef-${reef.which}-${at}`;
      const slider = make("input", { type: "range", id, min: "0", max: String(most), step: "1", oninput: () => show() });
      slider.value = String(hoist[at] ?? 0);
      return { mast: panels.length > 1 ? (names[at] ?? "") : "", name: make("label", { for: id }), told: make("span", { class: "wind-told" }), slider };
    });
    reef.root.replaceChildren(...reef.sails.map(({ name, told, slider }) => make("div", { class: "wind-slider" }, name, told, slider)));
  }

  /** Asks with both as they are looked at here; the desk's own look comes back after it. @template T @param {(bench: Workbench, held: Workbench) => T} work @param {T} otherwise */
  function both(work, otherwise) {
    const held = other;
    if (!held) return otherwise;
    const found = desk.ask(
      "compare",
      (bench) => {
        const shown = { ...desk.view.shown, dimensions: false, parrels: false, curves: false };
        const look = { ...desk.view, shown, zoom: 1, hands: false, pointed: "", named: "", line: "", lines: false, sheet_deg: 0 };
        const at = (/** @type {typeof mine} */ reef) => reef?.sails.map(({ slider }) => Number(slider.value)) ?? [];
        held.set_view({ ...look, mast: 0, hoist: at(theirs) });
        bench.set_view({ ...look, hoist: at(mine) });
        // Where this breaks the engine sets the view of a new one.
        const found = work(bench, held);
        bench.set_view(desk.view);
        return { found };
      },
      null,
    );
    // It broke, and with it what was held here.
    if (!found) dialog.close();
    return found ? found.found : otherwise;
  }

  const names = () => [desk.project?.name ?? "", linked || (select.selectedOptions[0]?.textContent ?? "")];

  function show() {
    reefs.forEach(({ sails }, at) => {
      for (const { mast, name, told, slider } of sails) {
        const words = say("page.compare.lowered", { lowered: slider.value });
        setText(name, [names()[at], mast].filter(Boolean).join(", "));
        setText(told, words);
        slider.setAttribute("aria-valuetext", words);
      }
    });
    draw();
    const papers = both((bench, held) => bench.compare(held), /** @type {Paper[]} */ ([]));
    tables.replaceChildren(
      ...papers.flatMap(({ title, detail: { rows } }, at) => {
        const word = ["page.compare.now", "page.compare.whole", "page.compare.inputs"][at] ?? "";
        const head = make("tr", {}, make("td"), ...[...names(), say("compare.difference")].map((text) => make("th", { scope: "col", text })));
        const lines = rows.map(([label = "", one = "", two = "", by = "", help = ""]) =>
          make(
            "tr",
            {},
            make("th", { scope: "row" }, help ? make("button", { type: "button", class: "row-button", "aria-haspopup": "dialog", text: label, onclick: () => showHelp({ label, help }) }) : label),
            ...[one, two, by].map((text) => make("td", { text })),
          ),
        );
        return [
          make("h3", { word }),
          rows.length ? make("div", { class: "scroller plain", tabindex: "0", role: "region", label: word }, make("table", { class: "detail-table" }, make("thead", {}, head), make("tbody", {}, ...lines))) : null,
          title ? make("p", { class: "quiet", text: title }) : null,
        ].filter((part) => part !== null);
      }),
    );
  }

  function draw() {
    const wide = drawn.clientWidth || dialog.clientWidth - 40;
    if (!other || wide < 1) return;
    const apart = how === "beside";
    const half = apart && wide >= WIDE_ENOUGH;
    const width = half ? (wide - 12) / 2 : wide;
    const height = Math.max(LEAST_HIGH, Math.min(0.56 * window.innerHeight, 1.2 * width));
    drawn.replaceChildren(
      ...(apart ? ["one", "other"] : ["over"]).map((which, at) => {
        const svg = picture(both((bench, held) => bench.compare_svg(held, which, width, height), ""));
        const name = apart ? names()[at] : names().join(" · ");
        svg?.setAttribute("aria-label", name ?? "");
        return make("figure", {}, apart ? make("figcaption", { text: name }) : null, svg);
      }),
    );
    legend.hidden = apart;
    legend.replaceChildren(...names().map((text, at) => make("span", { class: at ? "other" : "one", text })));
  }

  return () => {
    desk.settle();
    const { engine, store } = desk;
    if (!engine || !desk.open) return;
    texts.clear();
    /** @param {string} key @param {string} text @param {() => string} give */
    const option = (key, text, give) => {
      texts.set(key, give);
      return make("option", { value: key, text });
    };
    select.replaceChildren(
      ...(desk.opened === desk.text ? [] : [option("opened", say("page.compare.opened"), () => desk.opened)]),
      ...store.list().flatMap(({ id, name }) => (id === desk.project?.id ? [] : [option(id, name || say("page.unnamed"), () => store.read(id)?.text ?? "")])),
      ...engine.demoKeys().flatMap((key) => (engine.demoText(key) === desk.text ? [] : [option(`demo ${key}`, say("page.compare.demo", { name: peek(engine.demoText(key))?.name || key }), () => engine.demoText(key))])),
      make("option", { value: "link", word: "page.compare.link" }),
    );
    dialog.showModal();
    choose();
  };
}
