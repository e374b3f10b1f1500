/**
 * The desk: the open project, what is looked at, its edits and its undo. Views listen here and ask here.
 * At most one frame is under way, and it carries at most one edit.
 * @module
 */
import { Refused, Trapped } from "./engine.js";
import { sayAgain, setText } from "./elements.js";
import { Unread, isLink, shortOf } from "./link.js";
import { History, Ownership, newId, joinSteps, peek, readSteps, writeSteps } from "./store.js";
import { carriedWords, languageOf, loadWords, say } from "./words.js";

/** @typedef {import("./engine.js").Engine} Engine */
/** @typedef {import("./engine.js").View} View */
/** @typedef {import("./pkg/site.js").Workbench} Workbench */
/** @typedef {import("./store.js").Step} Step */
/** @typedef {import("./store.js").Store} Store */
/** @typedef {import("./views/notices.js").Notices} Notices */
/**
 * What a frame brings.
 * @typedef {object} Change
 * @property {boolean} opened another document lies on the desk
 * @property {boolean} document the design has changed
 * @property {boolean} dragging a gesture is under way: keep every node, ask for little
 */
/**
 * Settings of this browser that outlast the visit.
 * @typedef {object} Settings
 * @property {"m" | "ft"} units
 * @property {"auto" | "light" | "dark"} scheme
 * @property {View["shown"]} shown
 * @property {string} section
 * @property {string} project
 * @property {string} language as chosen here; empty: as the browser has it
 * @property {boolean} offlineTold
 * @property {boolean} keepTold
 * @property {boolean} tourTold
 * @property {boolean} [attentionOpen] as the user left it
 * @property {string[]} [papers] parts of the dossier; all where nothing was chosen
 * @property {"a4" | "letter"} paper
 */

const ANNOUNCE_MS = 200;
/** A pause as long as this ends a run of key presses. */
const BURST_MS = 900;
const SLIDE_MS = 280;
const LEAST_ZOOM = 1;
const MOST_ZOOM = 12;

/** @param {unknown} value @returns {value is Record<string, unknown>} */
const isRecord = (value) => typeof value === "object" && value !== null && !Array.isArray(value);

/** @param {Record<string, unknown>} stored @returns {Settings} */
function settingsFrom(stored) {
  const shown = isRecord(stored.shown) ? stored.shown : {};
  return {
    units: stored.units === "ft" ? "ft" : "m",
    scheme: stored.scheme === "light" || stored.scheme === "dark" ? stored.scheme : "auto",
    shown: {
      // Dimensions want room: on a narrow screen they are asked for.
      dimensions: typeof shown.dimensions === "boolean" ? shown.dimensions : matchMedia("(min-width: 900px)").matches,
      parrels: shown.parrels !== false,
      lifts: shown.lifts !== false,
      trail: shown.trail !== false,
    },
    section: typeof stored.section === "string" ? stored.section : "sail",
    project: typeof stored.project === "string" ? stored.project : "",
    language: typeof stored.language === "string" ? stored.language : "",
    offlineTold: stored.offlineTold === true,
    keepTold: stored.keepTold === true,
    tourTold: stored.tourTold === true,
    attentionOpen: typeof stored.attentionOpen === "boolean" ? stored.attentionOpen : undefined,
    papers: Array.isArray(stored.papers) ? stored.papers.filter((part) => typeof part === "string") : undefined,
    paper: stored.paper === "letter" ? "letter" : "a4",
  };
}

export class Desk {
  /** @type {Engine | null} */
  #engine = null;
  /** @type {((change: Change) => void)[]} */
  #views = [];
  #history = new History();
  /** The last committed text. */
  #text = "";
  /** @type {{ id: string, name: string, stored: boolean } | null} */
  #project = null;
  #lookOnly = false;
  /** What lies here came by a link: nothing is written. */
  #guest = false;
  #unsaved = false;
  /** @type {{ active: string, hoist: number[], sheet_deg: number, steps: Step[] } | null} */
  #gesture = null;
  /** @type {(() => void) | null} */
  #move = null;
  /** @type {{ from: number[], to: number[], began: number, lasts: number } | null} */
  #slide = null;
  /** The run of key presses under way, and where the hoist was before it. @type {{ burst: string, hoist: number[] } | null} */
  #run = null;
  #pause = 0;
  #frame = 0;
  #moving = false;
  #opened = false;
  #changed = false;
  #announcement = 0;
  /** @type {number[]} */
  #traps = [];

  /** @param {Store} store @param {Notices} notices */
  constructor(store, notices) {
    this.store = store;
    this.notices = notices;
    this.settings = settingsFrom(store.readView());
    /** @type {View} */
    this.view = {
      units: this.settings.units,
      mast: 0,
      hoist: [0],
      sheet_deg: 0,
      dark: false,
      shown: { ...this.settings.shown },
      zoom: 1,
      pan_x: 0,
      pan_y: 0,
      active: "",
      hands: true,
      wind_kn: 14,
      pointed: "",
      named: "",
      line: "",
      lines: false,
    };
    this.ownership = new Ownership(() => this.#lost());
    /** The text as it was opened, before any change. */
    this.opened = "";
    /** Told of a line that was tapped on a drawing. @type {(line: string) => void} */
    this.onLine = () => {};
    /** Told of a number that was tapped on the drawing. @type {(number: import("./engine.js").Figure) => void} */
    this.onNumber = () => {};
    /** Told when no document can lie on the desk: the reason in words and the id of the project, if any. @type {(reason: string, id: string) => void} */
    this.onEmpty = () => {};
    addEventListener("pagehide", () => this.leave());
    document.addEventListener("visibilitychange", () => {
      if (document.visibilityState === "hidden") this.leave();
    });
    addEventListener("beforeunload", (event) => {
      this.leave();
      if (this.#unsaved && !this.#lookOnly) event.preventDefault();
    });
    addEventListener("storage", (event) => {
      if (this.#lookOnly && this.#project && event.key?.endsWith(this.#project.id)) this.#follow();
    });
    const dark = matchMedia("(prefers-color-scheme: dark)");
    dark.addEventListener("change", () => this.#applyScheme());
    this.#applyScheme();
  }

  /** @param {Engine} engine */
  setEngine(engine) {
    this.#engine = engine;
  }

  /** @type {() => void} */
  #tellStarted = () => {};
  /** Settled when the first document lies on the desk, or it is known that none can. @type {Promise<void>} */
  whenStarted = new Promise((settle) => {
    this.#tellStarted = settle;
  });

  /** The page has started. */
  started() {
    this.#tellStarted();
  }

  get engine() {
    return this.#engine;
  }

  get project() {
    return this.#project;
  }

  /** Whether the project is another window's, to be looked at only. */
  get lookOnly() {
    return this.#lookOnly;
  }

  /** Whether it came by a link and is nobody's project yet. */
  get guest() {
    return this.#guest;
  }

  /** Whether a document lies on the desk. */
  get open() {
    return this.#engine?.open === true && this.#project !== null;
  }

  get dragging() {
    return this.#gesture !== null;
  }

  get canUndo() {
    return this.#history.canUndo && !this.#lookOnly;
  }

  get canRedo() {
    return this.#history.canRedo && !this.#lookOnly;
  }

  get text() {
    return this.#text;
  }

  /**
   * A tap on a drawing means the line nearest to it while lines are worked on, else the number that is lettered there, or to let go
   * of the line in hand.
   * @param {boolean} above @param {number} x @param {number} y @param {number} width @param {number} height @param {boolean} [held] a handle lies there
   */
  tap(above, x, y, width, height, held = false) {
    const [mast, line = ""] = this.view.lines && !held ? this.ask("line_at", (bench) => bench.line_at(above, x, y, width, height), "").split(" ") : [];
    if (line !== "") {
      if (Number(mast) !== this.view.mast) this.setView({ mast: Number(mast), line: "" });
      this.onLine(line);
      return;
    }
    const number = above ? undefined : this.ask("number_at", (bench) => bench.number_at(x, y, width, height, held), undefined);
    if (number) this.onNumber(number);
    else if (this.view.line && !held) this.setView({ line: "" });
  }

  /** Adds a view; frames reach views in the order they were added. @param {(change: Change) => void} view */
  addView(view) {
    this.#views.push(view);
  }

  // --- Opening -----------------------------------------------------------------------------------

  /**
   * Lays a text on the desk as a project of its own, stored at its first change or at once.
   * @param {string} text
   * @param {{ id?: string, store?: boolean }} [how]
   * @returns {Promise<boolean>}
   */
  async openText(text, { id = newId(), store = false } = {}) {
    this.settle();
    if (!this.#lay(text, "")) return false;
    // No other window knows the new id: nothing to wait for.
    const owning = this.#own(id, false);
    this.#lookOnly = false;
    this.#guest = false;
    this.#project = { id, name: this.#nameOf(text), stored: false };
    this.#begin();
    if (store) this.#save();
    if (!this.#unsaved) this.#forgetLink();
    await owning;
    return true;
  }

  /**
   * Lays the design of a link on the desk, to be looked at only; where it cannot be, all stays as it is.
   * @param {string} link @param {Promise<string>} [short] its short text, where it is being read already
   * @returns {Promise<string>} why not, or nothing
   */
  async openLink(link, short = shortOf(link)) {
    try {
      const found = await short;
      this.settle();
      const text = this.#engine?.textOf(found);
      // What its checksum vouches for and is not known here was written by a later version.
      if (text === undefined) throw new Unread("page.link.newer");
      if (text === "") throw new Unread("page.link.long");
      this.#engine?.openText(text);
      this.ownership.release();
      this.#lookOnly = true;
      this.#guest = true;
      this.#project = { id: "", name: this.#nameOf(text), stored: false };
      this.#begin();
      return "";
    } catch (fault) {
      this.#forgetLink();
      if (fault instanceof Refused) return fault.message;
      return say(fault instanceof Unread ? fault.message : "page.fault.document_traps");
    }
  }

  /** A reload is not to bring back the link that was opened before. */
  #forgetLink() {
    if (isLink(location.hash)) history.replaceState(null, "", location.pathname + location.search);
  }

  /**
   * Lays a stored project on the desk, to look only when another window has it.
   * @param {string} id
   * @param {boolean} [takeOver]
   * @returns {Promise<boolean>}
   */
  async openStored(id, takeOver = false) {
    this.settle();
    this.#guest = false;
    this.#forgetLink();
    const owning = this.#own(id, takeOver);
    const early = this.open ? null : this.#showEarly(id);
    const owns = await owning;
    // Read after owning: the other window has written its last change by then.
    const project = this.store.read(id);
    const text = project?.text ?? null;
    if (text === null || peek(text) === null) {
      this.ownership.release();
      this.#project = null;
      this.#engine?.close();
      this.onEmpty(say("page.fault.half"), id);
      return false;
    }
    if (text === early) {
      this.#lookOnly = !owns;
      this.setView({ hands: owns });
      this.refresh();
      return true;
    }
    if (!this.#lay(text, id)) {
      this.ownership.release();
      return false;
    }
    this.#lookOnly = !owns;
    this.#project = { id, name: project?.name ?? "", stored: true };
    this.#begin();
    return true;
  }

  /**
   * Lays a stored project on an empty desk before it is known whose it is: till then it can only be looked at.
   * @param {string} id
   * @returns {string | null} the text that lies there now
   */
  #showEarly(id) {
    const project = this.store.read(id);
    if (!project || peek(project.text) === null || !this.#lay(project.text, id)) return null;
    this.#lookOnly = true;
    this.#project = { id, name: project.name, stored: true };
    this.#begin();
    return project.text;
  }

  /** Leaves the desk empty, for words why. @param {string} reason @param {string} id */
  clear(reason, id) {
    this.ownership.release();
    this.#project = null;
    this.#engine?.close();
    this.onEmpty(reason, id);
  }

  /** @param {string} id @param {boolean} steal */
  async #own(id, steal) {
    return this.ownership.take(id, steal);
  }

  /** @param {string} text @param {string} id @returns {boolean} */
  #lay(text, id) {
    if (!this.#engine) return false;
    try {
      this.#engine.openText(text);
      return true;
    } catch (fault) {
      if (fault instanceof Trapped) {
        this.#offerReport(fault.message);
        this.#project = null;
        this.#engine.close();
        this.onEmpty(say("page.fault.document_traps"), id);
      } else {
        const reason = fault instanceof Error ? fault.message : String(fault);
        this.#project = null;
        this.#engine.close();
        this.onEmpty(reason, id);
      }
      return false;
    }
  }

  #begin() {
    this.#history = new History();
    this.#unsaved = false;
    this.#gesture = null;
    this.#move = null;
    this.#slide = null;
    this.#text = this.ask("text", (bench) => bench.text(), "");
    this.opened = this.#text;
    this.#engine?.remember(this.#text);
    const masts = this.#mastCount();
    this.view = { ...this.view, mast: 0, hoist: Array(masts).fill(0), zoom: 1, pan_x: 0, pan_y: 0, active: "", pointed: "", named: "", line: "", sheet_deg: 0, hands: !this.#lookOnly };
    this.setSettings({ project: this.#project?.id ?? "" });
    if (!this.#guest) this.store.writeOpen(this.settings.project);
    this.#passView();
    this.announce();
    this.refresh();
  }

  #mastCount() {
    try {
      const tree = JSON.parse(this.#text);
      return Math.min(3, Math.max(1, Array.isArray(tree.masts) ? tree.masts.length : 1));
    } catch {
      return 1;
    }
  }

  /** @param {string} text */
  #nameOf(text) {
    return peek(text)?.name || say("page.unnamed");
  }

  /** Every view shows everything anew. */
  refresh() {
    this.#opened = true;
    this.#changed = true;
    this.request();
  }

  // --- Asking ------------------------------------------------------------------------------------

  /**
   * Asks the workbench; `otherwise` where there is none or it broke, which is told.
   * @template T
   * @param {string} act
   * @param {(bench: Workbench) => T} work
   * @param {T} otherwise
   * @returns {T}
   */
  ask(act, work, otherwise) {
    if (!this.#engine?.open) return otherwise;
    try {
      return this.#engine.ask(act, work);
    } catch (fault) {
      if (fault instanceof Trapped) this.#trapped(fault);
      else if (!(fault instanceof Refused))
        this.notices.show("odd", { tone: "danger", text: fault instanceof Error ? fault.message : String(fault) });
      return otherwise;
    }
  }

  /** @param {Trapped} fault */
  #trapped(fault) {
    const now = performance.now();
    this.#traps = this.#traps.filter((when) => now - when < 10_000);
    this.#traps.push(now);
    this.#gesture = null;
    this.#move = null;
    this.#slide = null;
    this.view = { ...this.view, active: "" };
    this.#offerReport(fault.message);
    if (!fault.alive || this.#traps.length > 3) {
      const id = this.#project?.id ?? "";
      this.#project = null;
      this.#engine?.close();
      this.onEmpty(say("page.fault.document_traps"), id);
      return;
    }
    this.refresh();
  }

  /** @param {string} report */
  #offerReport(report) {
    this.notices.show("trap", {
      tone: "danger",
      text: () => say("page.fault.trap"),
      copy: { word: "page.fault.copy_report", text: report },
    });
  }

  // --- Editing -----------------------------------------------------------------------------------

  /**
   * One committed edit: one undo step, one save. A burst joins key presses that follow one another.
   * @param {string} edits JSON list of [path, value]
   * @param {string} [burst]
   * @returns {boolean}
   */
  commit(edits, burst = "") {
    if (this.#lookOnly || !this.open) return false;
    if (burst === "") this.settle();
    const answer = this.ask("edit", (bench) => bench.edit(edits), "");
    if (answer === "") return false;
    const steps = readSteps(answer).filter((step) => step.old !== step.new);
    this.#history.push(steps, burst);
    this.#committed();
    return true;
  }

  /**
   * What a user typed into a field.
   * @param {string} path @param {string} typed
   * @returns {string} the problem in words, or ""
   */
  typeIn(path, typed) {
    const answer = this.ask(`type_in ${path}`, (bench) => bench.type_in(path, typed), null);
    if (answer === null) return "";
    if ("problem" in answer) return answer.problem;
    this.commit(answer.edits);
    return "";
  }

  #committed() {
    this.#text = this.ask("text", (bench) => bench.text(), this.#text);
    this.#engine?.remember(this.#text);
    const masts = this.#mastCount();
    if (masts !== this.view.hoist.length) {
      const hoist = Array.from({ length: masts }, (_, mast) => this.view.hoist[mast] ?? 0);
      this.view = { ...this.view, hoist, mast: Math.min(this.view.mast, masts - 1) };
      this.#passView();
    }
    this.#changed = true;
    if (this.#project) this.#project.name = this.#nameOf(this.#text);
    this.#save();
    this.announce();
    this.request();
  }

  undo() {
    this.#step(true);
  }

  redo() {
    this.#step(false);
  }

  /** @param {boolean} back */
  #step(back) {
    if (this.#lookOnly || !this.open) return;
    this.settle();
    const steps = back ? this.#history.back() : this.#history.forward();
    if (!steps) return;
    this.ask(back ? "undo" : "redo", (bench) => bench.apply(writeSteps(steps), back), undefined);
    this.#committed();
  }

  /** A key press goes on with a run of its like, or begins one. @param {string} burst */
  press(burst) {
    if (this.#run?.burst !== burst) {
      this.settle();
      this.#run = { burst, hoist: [...this.view.hoist] };
    }
    clearTimeout(this.#pause);
    this.#pause = setTimeout(() => this.sealBurst(burst), BURST_MS);
  }

  /** Takes back an unfinished run of key presses, be it edits or hoisting. @param {string} burst @returns {boolean} */
  revertBurst(burst) {
    const run = this.#run;
    if (run?.burst !== burst) return false;
    if (this.#history.isOpen(burst)) {
      this.#step(true);
      this.#history.dropRedo();
    } else if (run.hoist.length === this.view.hoist.length) this.setView({ hoist: run.hoist });
    this.#run = null;
    this.request();
    return true;
  }

  /** Ends a run of key presses: what follows is a step of its own. @param {string} burst */
  sealBurst(burst) {
    if (this.#run?.burst !== burst) return;
    this.#run = null;
    this.#history.seal();
  }

  // --- Gestures ----------------------------------------------------------------------------------

  /** A finger or a pointer takes hold. @param {string} active the handle, or "hoist" */
  grasp(active) {
    this.settle();
    this.#slide = null;
    this.#gesture = { active, hoist: [...this.view.hoist], sheet_deg: this.view.sheet_deg, steps: [] };
    this.view = { ...this.view, active };
    this.#passView();
    this.request();
  }

  /** The newest position wins; it is worked out in the next frame. @param {() => void} move */
  drag(move) {
    if (!this.#gesture) return;
    this.#move = move;
    this.request();
  }

  /** An edit of the gesture under way, not yet a step. @param {string} edits */
  live(edits) {
    const gesture = this.#gesture;
    if (!gesture || this.#lookOnly) return;
    const answer = this.ask("edit", (bench) => bench.edit(edits), "");
    if (answer === "") return;
    gesture.steps = joinSteps(gesture.steps, readSteps(answer));
    this.#changed = true;
  }

  /** The hand lets go: one undo step, one save. */
  release() {
    const gesture = this.#gesture;
    if (!gesture) return;
    this.#runMove();
    // A trap inside the last move has already ended the gesture.
    if (this.#gesture !== gesture) return;
    this.#gesture = null;
    this.view = { ...this.view, active: "" };
    this.#passView();
    const steps = gesture.steps.filter((step) => step.old !== step.new);
    if (steps.length > 0) {
      this.#history.push(steps);
      this.#committed();
    } else this.announce();
    this.#changed = true;
    this.request();
  }

  /** Escape, a second finger, a cancelled pointer: all as it was. */
  revert() {
    const gesture = this.#gesture;
    if (!gesture) return;
    this.#move = null;
    this.#gesture = null;
    if (gesture.steps.length > 0)
      this.ask("revert", (bench) => bench.apply(writeSteps(gesture.steps), true), undefined);
    this.view = { ...this.view, active: "", hoist: gesture.hoist, sheet_deg: gesture.sheet_deg };
    this.#passView();
    this.#changed = true;
    this.announce();
    this.request();
  }

  /** Ends whatever is under way, before something else begins. */
  settle() {
    if (this.#gesture) this.release();
    if (this.#slide) {
      this.view = { ...this.view, hoist: this.#slide.to };
      this.#slide = null;
      this.#passView();
    }
    this.#run = null;
    this.#history.seal();
  }

  // --- View --------------------------------------------------------------------------------------

  /** @param {Partial<View>} patch */
  setView(patch) {
    // A line in hand is of the mast it was taken on.
    if (patch.mast !== undefined && patch.mast !== this.view.mast) patch = { line: "", ...patch };
    this.view = { ...this.view, ...patch };
    this.view.zoom = Math.min(MOST_ZOOM, Math.max(LEAST_ZOOM, this.view.zoom));
    if (this.view.zoom === LEAST_ZOOM) this.view = { ...this.view, pan_x: 0, pan_y: 0 };
    this.#passView();
    if (!this.#gesture && patch.hoist) this.announce();
    this.request();
  }

  /** Slides the sail to a state, as the halyard would; at once where motion is not wanted. @param {number[]} hoist @param {number} [lasts] ms */
  slideTo(hoist, lasts = SLIDE_MS) {
    this.settle();
    if (matchMedia("(prefers-reduced-motion: reduce)").matches || document.visibilityState === "hidden") {
      this.setView({ hoist });
      return;
    }
    this.#slide = { from: [...this.view.hoist], to: hoist, began: performance.now(), lasts };
    this.request();
  }

  /** Where the hoist is, or is going to be. */
  get hoist() {
    return this.#slide?.to ?? this.view.hoist;
  }

  /** @param {Partial<Settings>} patch */
  setSettings(patch) {
    this.settings = { ...this.settings, ...patch };
    if (!this.#guest) this.store.writeView({ ...this.store.readView(), ...this.settings });
    if (patch.units || patch.shown)
      this.setView({ units: this.settings.units, shown: { ...this.settings.shown } });
    if (patch.units) {
      this.#changed = true;
      this.announce();
    }
    if (patch.scheme) this.#applyScheme();
  }

  /** Speaks another language from now on. @param {string} language */
  async speak(language) {
    this.settle();
    this.setSettings({ language });
    await loadWords(languageOf(language));
    sayAgain();
    this.notices.sayAgain();
    this.ask("set_language", (bench) => bench.set_language(carriedWords()), undefined);
    this.announce();
    this.refresh();
  }

  #applyScheme() {
    const { scheme } = this.settings;
    const dark = scheme === "dark" || (scheme === "auto" && matchMedia("(prefers-color-scheme: dark)").matches);
    document.documentElement.toggleAttribute("data-scheme", scheme !== "auto");
    if (scheme !== "auto") document.documentElement.setAttribute("data-scheme", scheme);
    this.setView({ dark });
  }

  #passView() {
    if (!this.#engine?.open) return;
    try {
      this.#engine.setView(this.view);
    } catch (fault) {
      if (fault instanceof Trapped) this.#trapped(fault);
    }
  }

  // --- Frames ------------------------------------------------------------------------------------

  request() {
    if (this.#frame === 0 && !this.#moving) this.#frame = requestAnimationFrame((now) => this.#draw(now));
  }

  #runMove() {
    const move = this.#move;
    this.#move = null;
    // The frame that runs the move also shows it: no second one.
    this.#moving = true;
    move?.();
    this.#moving = false;
  }

  /** @param {number} now */
  #draw(now) {
    this.#frame = 0;
    this.#runMove();
    const slide = this.#slide;
    if (slide) {
      const share = Math.min(1, Math.max(0, (now - slide.began) / slide.lasts));
      const eased = share * share * (3 - 2 * share);
      const hoist = slide.to.map((to, mast) => {
        const from = slide.from[mast] ?? 0;
        return share >= 1 ? to : from + (to - from) * eased;
      });
      this.view = { ...this.view, hoist };
      this.#passView();
      if (share >= 1) {
        this.#slide = null;
        this.announce();
      } else this.request();
    }
    if (!this.open) return;
    const change = { opened: this.#opened, document: this.#changed, dragging: this.#gesture !== null || this.#slide !== null };
    this.#opened = false;
    // What is left out while dragging is made up for by the frame after it.
    this.#changed = false;
    for (const view of this.#views) {
      view(change);
      if (!this.open) return;
    }
  }

  // --- The text equivalent ------------------------------------------------------------------------

  /** Puts the drawing into words shortly after the last change; silent while dragging. */
  announce() {
    clearTimeout(this.#announcement);
    this.#announcement = setTimeout(() => {
      if (this.#gesture || this.#slide || !this.open) return;
      const region = document.getElementById("reading");
      if (region) setText(region, this.ask("reading", (bench) => bench.reading(), ""));
    }, ANNOUNCE_MS);
  }

  // --- Saving --------------------------------------------------------------------------------------

  /** The page goes, perhaps for good. */
  leave() {
    if (this.#gesture) this.release();
    if (this.#unsaved) this.#save();
  }

  #save() {
    const project = this.#project;
    if (!project || this.#lookOnly) return;
    if (this.store.write(project.id, project.name, this.#text)) {
      if (this.#unsaved) this.notices.remove("unsaved");
      this.#unsaved = false;
      if (!project.stored) {
        project.stored = true;
        void this.#askToKeep();
      }
      return;
    }
    this.#unsaved = true;
    // Storage that is blocked has been told of at the start.
    if (this.store.blocked) return;
    this.notices.show("unsaved", {
      tone: "danger",
      text: () => say("page.fault.full"),
      actions: [{ word: "page.export", run: () => this.exportOpen() }],
    });
  }

  async #askToKeep() {
    if (await this.store.persisted()) return;
    if (await this.store.persist()) return;
    if (this.settings.keepTold) return;
    this.setSettings({ keepTold: true });
    this.notices.show("keep", { tone: "plain", text: () => say("page.storage.may_clear") });
  }

  /** Set by the projects view, which knows how files are named. */
  exportOpen = () => {};

  // --- Windows -------------------------------------------------------------------------------------

  /** Another window has taken the project. */
  #lost() {
    if (this.#gesture) this.revert();
    this.#lookOnly = true;
    this.setView({ hands: false });
    this.#unsaved = false;
    this.notices.remove("unsaved");
    this.refresh();
  }

  /** Follows what the owning window stores. */
  #follow() {
    const id = this.#project?.id;
    const project = id ? this.store.read(id) : null;
    if (!id || !project || !this.#engine) return;
    const { hoist, mast } = this.view;
    if (!this.#lay(project.text, id)) return;
    this.#project = { id, name: project.name, stored: true };
    this.#begin();
    if (hoist.length === this.view.hoist.length) this.setView({ hoist, mast });
  }
}
