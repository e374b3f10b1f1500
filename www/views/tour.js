/**
 * A first look round: a few sentences in the notices, each pointing at the real thing. Nothing waits for it.
 * @module
 */
import { say } from "../words.js";
import { putTourAway } from "./workshop.js";

/** @typedef {import("../desk.js").Desk} Desk */

/** What is pointed at, and the sentence about it. */
const STOPS = [
  ["#canvas-pane", "page.tour.drawing"],
  ["#hoist-column", "page.tour.hoist"],
  ["#tabs", "page.tour.sections"],
  ["#attention", "page.tour.attention"],
  ["#workshop-button", "page.tour.workshop"],
  ["#projects-button", "page.tour.projects"],
];

/** @param {Desk} desk @param {boolean} asked by the hand that opened it, whose focus goes with it */
export function startTour(desk, asked) {
  const { notices } = desk;
  const stops = STOPS.filter(([what = ""]) => document.querySelector(what)?.getClientRects().length);

  /** @param {number} at @param {boolean} focus */
  function show(at, focus) {
    putTourAway(desk);
    const [what = "", word = ""] = stops[at] ?? [];
    const shown = word && document.querySelector(what);
    if (!shown) {
      if (focus) document.getElementById("workshop-button")?.focus();
      return;
    }
    shown.classList.add("shown-round");
    shown.scrollIntoView({ block: "nearest" });
    const last = at + 1 === stops.length;
    notices.show("tour", {
      tone: "plain",
      fixed: true,
      // Of a link or of another window's project nothing can be dragged.
      text: () => say("page.tour.step", { at: at + 1, most: stops.length, text: say(at === 0 && desk.lookOnly ? "page.look_tour" : word) }),
      actions: [
        ...(last ? [] : [{ word: "page.tour.skip", keep: true, run: () => show(stops.length, true) }]),
        { word: last ? "page.tour.done" : "page.tour.next", keep: true, run: () => show(at + 1, true) },
      ],
    });
    const bar = document.querySelector('[data-notice="tour"]');
    // Before the others, which give way while the hand is on it.
    if (bar) notices.root.prepend(bar);
    if (focus) /** @type {HTMLElement | null | undefined} */ (bar?.querySelector(".button:last-child"))?.focus();
  }
  show(0, asked);
}
