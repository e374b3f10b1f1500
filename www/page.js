/**
 * Lays out what stands around the drawing: top line, hoist, sections, sheets; leads from one to the other.
 * It comes after the first drawing, so that nobody waits for it to see the sail.
 * @module
 */
import { make, setAttribute } from "./elements.js";
import { isLink } from "./link.js";
import { startOffline } from "./offline.js";
import { say } from "./words.js";
import { makeAttention } from "./views/attention.js";
import { makeBalance } from "./views/balance.js";
import { makeBoat } from "./views/boat.js";
import { makeCloth } from "./views/cloth.js";
import { makeDisplay } from "./views/display.js";
import { makeHeader } from "./views/header.js";
import { makeHeadline } from "./views/headline.js";
import { showHelp } from "./views/help.js";
import { makeHoist } from "./views/hoist.js";
import { makeLines } from "./views/lines.js";
import { makePaper } from "./views/paper.js";
import { makeProjects } from "./views/projects.js";
import { makeReefs } from "./views/reefs.js";
import { makeSail } from "./views/sail.js";
import { makeShare } from "./views/share.js";
import { makeSpars } from "./views/spars.js";
import { makeWorkshop } from "./views/workshop.js";

/** @typedef {import("./desk.js").Desk} Desk */
/** @typedef {ReturnType<typeof import("./views/drawing.js").makeDrawing>} Drawing */

const SECTIONS = ["boat", "sail", "reefs", "balance", "lines", "spars", "cloth"];

/**
 * @param {Desk} desk
 * @param {Drawing} drawing
 * @param {(id: string) => HTMLElement} part
 */
export function layOut(desk, drawing, part) {
  const { notices, store } = desk;
  const share = makeShare(desk);
  const projects = makeProjects(desk, share);
  const paper = makePaper(part("paper"), desk, share);
  /** @param {string[]} parts */
  const printing = (...parts) => () => paper.print(cloth.aside, parts);
  /** Runs what is fetched only when it is wanted. @param {Promise<() => void>} fetched */
  const later = (fetched) => void fetched.then(
    (run) => run(),
    () => notices.show("errand", { tone: "danger", text: () => say("page.fault.errand") }),
  );
  /** @type {(() => void) | undefined} */
  let lesson;
  /** @type {(() => void) | undefined} */
  let glossary;
  const tour = (asked = true) => later(import("./views/tour.js").then(({ startTour }) => () => startTour(desk, asked)));
  /** @type {(() => void) | undefined} */
  let compare;
  /** @type {(() => void) | undefined} */
  let quick;
  const workshop = makeWorkshop(desk, [
    { id: "open-lesson", word: "page.lesson", says: "page.lesson.brief", run: () => later(import("./views/lesson.js").then(({ makeLesson }) => (lesson ??= makeLesson(desk)))) },
    { id: "open-compare", word: "page.compare", says: "page.compare.brief", run: () => later(import("./views/compare.js").then(({ makeCompare }) => (compare ??= makeCompare(desk)))) },
    { id: "open-quick", word: "page.quick", says: "page.quick.brief", run: () => later(import("./views/quick.js").then(({ makeQuick }) => (quick ??= makeQuick(desk)))) },
    { id: "papers-open", word: "page.papers", says: "page.papers.brief", run: () => later(import("./views/papers.js").then(({ openPapers }) => () => openPapers(desk, cloth.aside, paper, share))) },
    { id: "share-link", word: "page.link.share", says: "page.link.brief", run: () => void share.open() },
    { id: "open-glossary", word: "page.glossary", says: "page.glossary.brief", run: () => later(import("./views/glossary.js").then(({ makeGlossary }) => (glossary ??= makeGlossary(desk)))) },
    { id: "open-tour", word: "page.tour", says: "page.tour.brief", run: () => tour() },
  ]);
  const header = makeHeader(part("header"), desk, () => projects.open(), workshop);
  const column = part("hoist-column");
  const hoist = makeHoist(column, desk);
  const display = makeDisplay(column, part("drawing"), desk, drawing);
  const headline = makeHeadline(desk);

  // --- Sections ----------------------------------------------------------------------------------
  const tabs = make("div", { id: "tabs", role: "tablist", label: "page.sections" });
  const panels = new Map(SECTIONS.map((name) => [name, make("div", { id: `panel-${name}`, class: "panel", role: "tabpanel", "aria-labelledby": `tab-${name}`, hidden: true })]));
  const tabOf = new Map(
    SECTIONS.map((name) => [
      name,
      make("button", { type: "button", role: "tab", id: `tab-${name}`, "aria-controls": `panel-${name}`, "aria-selected": "false", tabindex: "-1", word: `page.section.${name}`, onclick: () => choose(name) }),
    ]),
  );
  tabs.append(...tabOf.values());
  tabs.addEventListener("keydown", (event) => {
    const step = new Map([["ArrowRight", 1], ["ArrowLeft", -1], ["Home", -SECTIONS.length], ["End", SECTIONS.length]]).get(event.key);
    if (step === undefined) return;
    event.preventDefault();
    const at = SECTIONS.indexOf(section);
    const next = Math.abs(step) > 1 ? (step < 0 ? 0 : SECTIONS.length - 1) : (at + step + SECTIONS.length) % SECTIONS.length;
    choose(SECTIONS[next] ?? section);
    tabOf.get(section)?.focus();
  });
  let section = SECTIONS.includes(desk.settings.section) ? desk.settings.section : "sail";
  /** A section that was out of sight must be brought up to date as a whole. */
  let unveiled = true;

  /** Shows a section from its beginning. @param {string} name */
  function choose(name) {
    section = name;
    unveiled = true;
    if (desk.view.pointed) desk.setView({ pointed: "" });
    if (name !== "lines") {
      lines.leave();
      // The other sections work on the sail as it lies in profile.
      desk.setView({ line: "", lines: false, sheet_deg: 0 });
    } else desk.setView({ lines: true });
    if (name !== "spars") spars.leave();
    if (name !== "cloth") cloth.leave();
    desk.setSettings({ section });
    for (const [known, panel] of panels) panel.hidden = known !== name;
    for (const [known, tab] of tabOf) {
      setAttribute(tab, "aria-selected", String(known === name));
      setAttribute(tab, "tabindex", known === name ? "0" : "-1");
    }
    part("sections").scrollTop = 0;
    window.scrollBy(0, Math.min(0, headline.root.getBoundingClientRect().top - tabs.getBoundingClientRect().bottom));
    desk.request();
  }

  /** @param {string} name */
  const panelOf = (name) => /** @type {HTMLElement} */ (panels.get(name));
  const boat = makeBoat(panelOf("boat"), desk);
  const sail = makeSail(panelOf("sail"), desk);
  const reefs = makeReefs(panelOf("reefs"), desk, printing("plan", "reefs"));
  const balance = makeBalance(panelOf("balance"), desk, goTo);
  const lines = makeLines(panelOf("lines"), desk, printing("lines"));
  const spars = makeSpars(panelOf("spars"), desk, printing("spars"));
  const cloth = makeCloth(panelOf("cloth"), desk, printing("cloth"), goTo);

  /** Leads to the field of a path. @param {string} path */
  function goTo(path) {
    const mast = /^masts\.(\d+)\./.exec(path)?.[1];
    if (mast !== undefined && Number(mast) !== desk.view.mast) desk.setView({ mast: Number(mast) });
    choose(/^masts\.\d+\.sail\./.test(path) ? "sail" : /^(masts\.\d+\.)?(lines|weights)\./.test(path) ? "lines" : /^(masts\.\d+\.)?spars\./.test(path) ? "spars" : /^(masts\.\d+\.)?cloth\./.test(path) ? "cloth" : path.startsWith("reefs") ? "reefs" : "boat");
    // Built once: a second building would fold its groups again.
    const now = { opened: reopened.delete(section), document: false, dragging: false };
    const view = section === "boat" ? boat : section === "sail" ? sail : section === "lines" ? lines : section === "spars" ? spars : section === "cloth" ? cloth : null;
    view?.update(now);
    view?.find(path);
  }
  const attention = makeAttention(desk, goTo);

  part("sections").append(
    tabs,
    headline.root,
    attention.root,
    ...panels.values(),
    make("footer", { id: "footer" }, make("p", { word: "page.caution.short" })),
  );

  desk.onNumber = ({ label, value, unit, help, basis }) => showHelp({ label: `${label}: ${value}${value.endsWith(unit) ? "" : ` ${unit}`}`, help, basis });

  // --- What a frame brings -----------------------------------------------------------------------
  // What is painted comes before what is written: lettering asks for the page's styles, which writing makes stale.
  desk.addView(() => {
    drawing.paint();
    if (section === "lines") lines.paint();
    else if (section === "balance") balance.paint();
  });
  desk.addView((change) => drawing.update(change));
  desk.addView(hoist);
  desk.addView(() => headline.update());
  /** Sections out of sight still have to hear that another document came. */
  let reopened = new Set(SECTIONS);
  desk.addView((change) => {
    if (change.opened) {
      reopened = new Set(SECTIONS);
      part("desk").hidden = false;
      part("empty").hidden = true;
      part("page").classList.toggle("look-only", desk.lookOnly);
      tellLookOnly();
    }
    const now = { ...change, document: change.document || unveiled, opened: reopened.has(section) };
    unveiled = false;
    reopened.delete(section);
    if (section === "boat") boat.update(now);
    else if (section === "sail") sail.update(now);
    else if (section === "balance") balance.update(now);
    else if (section === "lines") lines.update(now);
    else if (section === "spars") spars.update(now);
    else if (section === "cloth") cloth.update(now);
    else reefs(change.dragging);
    if (!change.dragging) {
      attention.update();
      header();
      display();
    }
  });

  function tellLookOnly() {
    const { project } = desk;
    if (desk.guest && project) {
      notices.show("look-only", {
        tone: "plain",
        fixed: true,
        text: () => say("page.link.came", { name: project.name.slice(0, 60) }),
        actions: [{ word: "page.link.save", keep: true, run: () => void projects.startNew(desk.text, project.name) }],
      });
      return;
    }
    const id = project?.id;
    if (!desk.lookOnly || !id) {
      notices.remove("look-only");
      return;
    }
    notices.show("look-only", {
      tone: "plain",
      fixed: true,
      text: () => say("page.fault.other_window"),
      actions: [
        { word: "page.take_over", keep: true, run: () => void desk.openStored(id, true) },
        {
          word: "page.projects.duplicate",
          keep: true,
          run: () => {
            const copy = projects.duplicate(id);
            if (copy) void desk.openStored(copy);
          },
        },
        { word: "page.export", keep: true, run: () => desk.exportOpen() },
      ],
    });
  }

  // A link typed over the address of the open page.
  addEventListener("hashchange", async () => {
    if (!isLink(location.hash)) return;
    const text = await desk.openLink(location.hash);
    if (text === "") notices.remove("link");
    else notices.show("link", { tone: "danger", text });
  });

  // A keyboard over the lower half: the drawing gives way, so that the field stays in sight below it.
  const seen = window.visualViewport;
  seen?.addEventListener("resize", () => {
    const typing = seen.scale < 1.01 && seen.height < window.innerHeight * 0.75;
    if (typing) document.documentElement.style.setProperty("--pane", `${Math.max(140, Math.round(seen.height * 0.42))}px`);
    else document.documentElement.style.removeProperty("--pane");
  });

  // A second finger anywhere takes back what the first has done.
  document.addEventListener("pointerdown", (event) => {
    if (!event.isPrimary && desk.dragging) desk.revert();
  }, { capture: true });
  document.addEventListener("keydown", (event) => {
    if (event.key === "Escape" && desk.dragging) desk.revert();
  });

  // --- Nothing on the desk -----------------------------------------------------------------------
  desk.onEmpty = (reason, id) => {
    part("desk").hidden = true;
    notices.remove("look-only");
    const empty = part("empty");
    empty.hidden = false;
    empty.replaceChildren(
      make("p", { role: "alert", text: reason }),
      make(
        "div",
        { class: "section-buttons" },
        make("button", { type: "button", class: "button", word: "page.projects", onclick: () => projects.open() }),
        id ? make("button", { type: "button", class: "button", id: "export-broken", word: "page.projects.export_text", onclick: () => projects.exportStored(id) }) : null,
      ),
    );
    header();
  };

  void desk.whenStarted.then(() => import("./views/underlay.js")).then(
    ({ makeUnderlay }) => makeUnderlay(boat.photo, desk, drawing),
    // Without it all the rest goes on.
    () => {},
  );
  void desk.whenStarted.then(() => {
    if (desk.settings.tourTold || desk.lookOnly || !desk.open) return;
    desk.setSettings({ tourTold: true });
    tour(false);
  });
  choose(section);
  header();
  if (store.blocked) notices.show("blocked", { tone: "danger", text: () => say("page.fault.blocked"), actions: [{ word: "page.export", keep: true, run: () => desk.exportOpen() }] });
  desk.refresh();
  void startOffline(desk);

  return {
    /** The wasm is missing: what is stored can still be listed and exported. */
    withoutEngine() {
      const reason = say("page.fault.no_wasm");
      desk.clear(reason, "");
      projects.open(reason);
    },
  };
}
