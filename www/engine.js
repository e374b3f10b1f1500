/**
 * Owns the wasm instance. The workbench inside is disposable: after a trap it is made anew from the last
 * committed text, and a report of what happened is kept for the user to copy.
 * @module
 */
import __wbg_init, { Workbench, __wbg_reset_state, blank_text, demo_keys, demo_text, text_of_short } from "./pkg/site.js";
import { fetchWasm } from "./wasm.js";
import { carriedWords } from "./words.js";

/** @typedef {import("./pkg/site.js").View} View */
/** @typedef {import("./pkg/site.js").FieldRow} FieldRow */
/** @typedef {import("./pkg/site.js").Figure} Figure */
/** @typedef {import("./pkg/site.js").Attention} Attention */
/** @typedef {import("./pkg/site.js").Column} Column */
/** @typedef {import("./pkg/site.js").ReefRow} ReefRow */
/** @typedef {import("./pkg/site.js").ReefTable} ReefTable */
/** @typedef {import("./pkg/site.js").Detail} Detail */
/** @typedef {import("./pkg/site.js").Balance} Balance */
/** @typedef {import("./pkg/site.js").HoistScale} HoistScale */
/** @typedef {import("./pkg/site.js").LineInHand} LineInHand */
/** @typedef {import("./pkg/site.js").Lines} Lines */
/** @typedef {import("./pkg/site.js").Paper} Paper */
/** @typedef {import("./pkg/site.js").PaperSheet} PaperSheet */
/** @typedef {import("./pkg/site.js").PaperBlock} PaperBlock */
/** @typedef {import("./pkg/site.js").Handle} Handle */
/** @typedef {import("./pkg/site.js").TypedIn} TypedIn */

/** A document that the workbench would not open; nothing is broken. */
export class Refused extends Error {
  /** @param {string} message @param {string} path */
  constructor(message, path) {
    super(message);
    this.path = path;
  }
}

/** A trap inside the wasm; the workbench has been made anew, or is gone if that failed too. */
export class Trapped extends Error {
  /** @param {string} report @param {boolean} alive */
  constructor(report, alive) {
    super(report);
    this.alive = alive;
  }
}

/** @param {unknown} fault */
const isTrap = (fault) => fault instanceof WebAssembly.RuntimeError || fault instanceof RangeError;

export class Engine {
  /** @type {Workbench | null} */
  #bench = null;
  /** The last text known to be whole: a new workbench starts from it. */
  #text = "";
  /** @type {View | null} */
  #view = null;

  /** Fetches and starts the wasm; fails when its file is missing. `came` hears when it need no longer be waited for on the line. */
  static async load(came = () => {}) {
    const wasm = fetchWasm();
    wasm.then(came, came);
    await __wbg_init({ module_or_path: wasm });
    return new Engine();
  }

  /** @returns {string[]} */
  demoKeys() {
    return demo_keys();
  }

  /** @param {string} key @returns {string} */
  demoText(key) {
    return demo_text(key);
  }

  /** @returns {string} */
  blankText() {
    return blank_text();
  }

  /** The document of a link's short text: nothing where it is none of this version, empty where it is too large. @param {string} short */
  textOf(short) {
    return text_of_short(short);
  }

  get open() {
    return this.#bench !== null;
  }

  /**
   * Opens a document text, or leaves the present one open.
   * @param {string} text
   * @throws {Refused | Trapped}
   */
  openText(text) {
    const before = this.#bench;
    this.#bench = this.#start(text, "open");
    this.#text = text;
    this.#view = null;
    try {
      before?.free();
    } catch {
      // An old workbench of a lost instance cannot be freed, and need not be.
    }
  }

  /**
   * Reads a document aside, without touching the open one: for renaming what lies in the store.
   * @template T
   * @param {string} text
   * @param {(bench: Workbench) => T} work
   * @returns {T}
   * @throws {Refused | Trapped}
   */
  aside(text, work) {
    const bench = this.#start(text, "aside");
    try {
      return work(bench);
    } finally {
      bench.free();
    }
  }

  /**
   * A second document on a workbench of its own, to be held against the open one; whoever asks lets go of it by `free`.
   * @param {string} text
   * @returns {Workbench}
   * @throws {Refused | Trapped}
   */
  beside(text) {
    return this.#start(text, "beside");
  }

  close() {
    try {
      this.#bench?.free();
    } catch {
      // See openText.
    }
    this.#bench = null;
  }

  /** A workbench that speaks the page's language from its first word: a refusal is words too. @param {string} text */
  #made(text) {
    return new Workbench(text, carriedWords());
  }

  /** @param {string} text @param {string} act @returns {Workbench} */
  #start(text, act) {
    try {
      return this.#made(text);
    } catch (fault) {
      if (!isTrap(fault)) {
        const { message, path } = /** @type {{ message?: string, path?: string }} */ (fault ?? {});
        throw new Refused(message ?? String(fault), path ?? "");
      }
      throw this.#recover(fault, act);
    }
  }

  /**
   * Asks the workbench for something. After a trap the answer is a {@link Trapped} fault.
   * @template T
   * @param {string} act what was being done, for the report
   * @param {(bench: Workbench) => T} work
   * @returns {T}
   */
  ask(act, work) {
    if (!this.#bench) throw new Refused("", "");
    try {
      return work(this.#bench);
    } catch (fault) {
      if (isTrap(fault)) throw this.#recover(fault, act);
      throw fault;
    }
  }

  /** @param {View} view */
  setView(view) {
    this.#view = view;
    this.ask("set_view", (bench) => bench.set_view(view));
  }

  /** Takes the present text as the one to come back to. @param {string} text */
  remember(text) {
    this.#text = text;
  }

  /**
   * A fresh instance and, where the last good text opens, a fresh workbench.
   * @param {unknown} fault @param {string} act
   */
  #recover(fault, act) {
    const report = [
      `Battenwright, ${new Date().toISOString()}`,
      navigator.userAgent,
      `while: ${act}`,
      fault instanceof Error ? (fault.stack ?? fault.message) : String(fault),
      "",
      this.#text,
    ].join("\n");
    const wasOpen = this.#bench !== null;
    this.#bench = null;
    try {
      __wbg_reset_state();
      if (wasOpen) {
        const bench = this.#made(this.#text);
        if (this.#view) bench.set_view(this.#view);
        this.#bench = bench;
      }
    } catch {
      // The very document traps: the page goes on without a workbench.
      try {
        __wbg_reset_state();
      } catch {
        // Told by `alive`.
      }
    }
    return new Trapped(report, !wasOpen || this.#bench !== null);
  }
}
