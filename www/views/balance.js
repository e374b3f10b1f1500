/**
 * Section Balance: what stands up to a wind, what is known of the boat, every check.
 * @module
 */
import { icon, make, setAttribute, setText } from "../elements.js";
import { say, spoken } from "../words.js";
import { showHelp } from "./help.js";
import { detailTable, makeStateTable } from "./reefs.js";

/** @typedef {import("../desk.js").Desk} Desk */
/** @typedef {import("../engine.js").Balance} Balance */
/** @typedef {import("../engine.js").Detail} Detail */
/** @typedef {import("../engine.js").Figure} Figure */
/** @typedef {import("../engine.js").Attention} Attention */

/** Most wind on the slider [kn]: a whole gale. */
const MOST_WIND = 50;

/**
 * A plot of the engine's, as sharp as the screen.
 * @param {Desk} desk @param {string} name @param {number | ((width: number) => number)} high how high [CSS px] @param {string} [word]
 */
export function makePlot(desk, name, high, word = `page.plot.${name}`) {
  const canvas = make("canvas", { class: "plot", id: `plot-${name}`, role: "img", label: word });
  const ink = canvas.getContext("2d");
  let [width, height] = [0, 0];
  /** @param {number} now */
  const measure = (now) => {
    width = now;
    height = typeof high === "number" ? high : high(width);
    canvas.style.height = `${height}px`;
  };
  measure(0);
  const plot = { canvas, paint, of: name, size: () => /** @type {[number, number]} */ ([width, height]) };
  function paint() {
    if (!ink || width === 0) return;
    const wide = Math.round(width * devicePixelRatio);
    const deep = Math.round(height * devicePixelRatio);
    if (canvas.width !== wide || canvas.height !== deep) {
      canvas.width = wide;
      canvas.height = deep;
    }
    const told = desk.ask("plot", (bench) => bench.paint_plot(ink, plot.of, width, height, wide / width), "");
    setAttribute(canvas, "aria-label", [say(word), told].filter(Boolean).join(": "));
  }
  new ResizeObserver(([entry]) => {
    measure(Math.floor(entry?.contentRect.width ?? 0));
    paint();
  }).observe(canvas);
  return plot;
}

/** Builds the children of an element anew when what they show has changed. @param {HTMLElement} element @param {unknown} shown @param {() => (Node | string)[]} build */
export function renew(element, shown, build) {
  const key = JSON.stringify([spoken(), shown]);
  if (element.dataset.shown === key) return;
  const held = document.activeElement instanceof HTMLElement && element.contains(document.activeElement) ? [...element.querySelectorAll("button")].findIndex((button) => button === document.activeElement) : -1;
  element.dataset.shown = key;
  element.replaceChildren(...build());
  if (held >= 0) element.querySelectorAll("button")[held]?.focus();
}

/** @param {Figure} figure */
export const figureLine = ({ label, value, unit, help, basis }) =>
  make("li", {}, make("button", { type: "button", class: "known-line", "aria-haspopup": "dialog", onclick: () => showHelp({ label, help, basis }) }, make("span", { text: label }), make("span", { class: "known-value" }, make("strong", { text: value }), /^[°%]/.test(unit) ? unit : ` ${unit}`)));

/**
 * @param {HTMLElement} root
 * @param {Desk} desk
 * @param {(path: string) => void} goTo
 */
export function makeBalance(root, desk, goTo) {
  const stern = makePlot(desk, "stern", 230);
  const righting = makePlot(desk, "righting", 250);
  const travel = makePlot(desk, "travel", 230);

  // --- The wind ------------------------------------------------------------------------------------
  const wind = make("input", { type: "range", id: "wind", min: "0", max: String(MOST_WIND), step: "1" });
  const told = make("output", { for: "wind", class: "wind-told" });
  const advice = make("dl", { class: "advice" });
  /** The slider reefs her to what is advised; whatever else moves leaves the hoist alone. */
  let follow = false;
  wind.addEventListener("input", () => {
    follow = true;
    desk.setView({ wind_kn: Number(wind.value) });
  });
  const needs = make("ul", { class: "needs" });
  const windBox = make(
    "section",
    { class: "wind-box" },
    make("div", { class: "wind-slider" }, make("label", { for: "wind", word: "label.true_wind" }), told, wind),
    make("div", { class: "wind-drawn" }, stern.canvas, advice),
  );

  // --- Balance and stability -----------------------------------------------------------------------
  const table = makeStateTable(desk, "wind-table", "page.balance.reefs", "page.balance.more_of");
  const figures = make("ul", { class: "known" });
  const loadings = make("div", { class: "scroller plain", tabindex: "0", role: "region", label: "page.balance.loadings" });
  const swap = make("div", { class: "scroller plain", tabindex: "0", role: "region", label: "page.balance.swap" });
  const fitted = make("p", { role: "status", class: "hint" });
  let said = "";
  const fit = make("button", {
    type: "button",
    class: "button",
    id: "fit-centre",
    word: "page.balance.fit_centre",
    onclick: () => {
      const found = desk.ask("fit_centre", (bench) => bench.fit_centre(), /** @type {{ edits?: string, problem?: string }} */ ({}));
      // Said in the frame that shows the mast where it now stands.
      const place = () => desk.ask("fields", (bench) => bench.fields([`masts.${desk.view.mast}.position_m`]), /** @type {import("../engine.js").FieldRow[]} */ ([])).map(({ text, unit }) => `${text} ${unit}`.trim())[0] ?? "";
      const from = place();
      if (!found.edits && !found.problem) return;
      if (found.edits) desk.commit(found.edits);
      said = found.problem ?? say("page.balance.fitted", { from, to: place() });
      desk.request();
    },
  });
  const fitBox = make("div", { class: "group-buttons" }, fit, fitted);

  // --- Every check ---------------------------------------------------------------------------------
  const checks = make("ul", { class: "check-list", id: "checks" });
  /** The check whose place is shown. */
  let chosen = -1;

  /** @param {Attention} check @param {number} at */
  function checkLine({ severity, title, text, part, mast, hoist }, at) {
    const pressed = desk.view.pointed === part && chosen === at;
    return make(
      "li",
      { class: severity },
      make(
        "button",
        {
          type: "button",
          "aria-pressed": String(pressed),
          onclick: () => {
            chosen = pressed ? -1 : at;
            desk.setView({ pointed: pressed ? "" : part, mast: mast ?? desk.view.mast });
            if (!pressed && hoist?.some((lowered) => lowered > 0)) desk.slideTo(hoist);
          },
        },
        icon(severity === "passed" ? "passed" : severity),
        make("span", {}, make("span", { class: "unseen", text: `${say(`page.attention.${severity}`)} ` }), make("strong", { text: title }), make("span", { class: "quiet", text })),
      ),
    );
  }

  /** @param {string} key @param {string} title @param {(Node | string)[]} children */
  const group = (key, title, ...children) => make("section", { class: "group open", id: `balance-${key}` }, make("h2", { word: title }), ...children);
  const windGroup = group("winds", "page.balance.winds", table.root);
  const swapGroup = group("swap", "page.balance.swap", swap);
  const knownGroup = group("known", "page.balance.known", righting.canvas, loadings, figures);
  root.append(
    windBox,
    needs,
    windGroup,
    group("lead", "page.balance.lead", travel.canvas, fitBox),
    knownGroup,
    swapGroup,
    group("checks", "page.balance.checks", make("p", { class: "group-note", word: "page.balance.tap" }), checks),
    make("p", { class: "group-note wind-caution", word: "page.balance.caution" }),
  );

  return {
    paint: stern.paint,
    /** @param {import("../desk.js").Change} change */
    update(change) {
      if (change.dragging) return;
      const found = desk.ask("balance", (bench) => bench.balance(), /** @type {Balance | null} */ (null));
      if (!found) return;
      if (document.activeElement !== wind) wind.value = String(Math.round(desk.view.wind_kn));
      setAttribute(wind, "aria-valuetext", found.wind);
      setText(told, found.wind);
      if (follow && found.hoist.length > 0 && String(found.hoist) !== String(desk.hoist)) {
        follow = false;
        desk.slideTo(found.hoist);
      }
      follow = false;
      const known = found.loadings.rows.length > 0;
      renew(advice, found.advice, () => found.advice.map(([name = "", text = ""]) => make("div", {}, make("dt", { text: name }), make("dd", { text }))));
      needs.hidden = found.needs.length === 0;
      renew(needs, [found.needs, desk.lookOnly], () =>
        found.needs.map(({ title, path }) => make("li", {}, make("span", {}, `${say("page.balance.missing")} `, make("strong", { text: title })), make("button", { type: "button", class: "text-button", word: "page.attention.go", onclick: () => goTo(path) }))),
      );
      table.update(found.reefs);
      renew(figures, found.figures, () => found.figures.map(figureLine));
      loadings.hidden = !known;
      renew(loadings, found.loadings, () => [detailTable(found.loadings, say("page.balance.loadings"))]);
      swapGroup.hidden = found.swap.rows.length === 0;
      renew(swap, found.swap, () => [detailTable(found.swap, say("page.balance.swap"))]);
      fitBox.hidden = desk.lookOnly || !found.figures.some(({ key }) => key === "now_ce");
      if (change.document || said) setText(fitted, said);
      said = "";
      renew(checks, [found.checks, desk.view.pointed, chosen], () => found.checks.map(checkLine));
      righting.canvas.hidden = !known;
      righting.paint();
      travel.paint();
    },
  };
}
