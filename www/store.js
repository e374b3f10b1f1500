/**
 * The saved text, the undo list and the storage. Works without the wasm: list, export, import.
 * One local-storage key holds one project and is written by one setItem, which is all or nothing.
 * @module
 */

/**
 * One change: the old and the new value as JSON text, absent where nothing was or is there. Kept as text
 * because a number has digits that JSON.parse would lose, and undo gives back the first bytes.
 * @typedef {{ path: string, old?: string, new?: string }} Step
 */
/** @typedef {{ name: string, saved: string, text: string }} Project */
/**
 * One line of the list. A project that cannot be read keeps its bytes and can still be exported.
 * @typedef {{ id: string, name: string, saved: string, bytes: number, readable: boolean }} Listed
 */

export const PROJECT = "battenwright.project.";
export const VIEW = "battenwright.view";
/** What was typed in the quick checks: no design's, so it lies apart. */
const CHECKS_TYPED = "battenwright.quick";
/** In the window's own storage: which project it has open. */
const OPEN = "battenwright.open";
export const FORMAT = "battenwright-design";

/** The browser's storage, or null where it is blocked: then even reading the property throws. */
function openStorage() {
  try {
    return window.localStorage;
  } catch {
    return null;
  }
}

/**
 * Reads the wrapper of a project; null when it is not whole.
 * @param {string} raw
 * @returns {Project | null}
 */
export function readProject(raw) {
  try {
    const found = JSON.parse(raw);
    if (typeof found?.name !== "string" || typeof found.saved !== "string" || typeof found.text !== "string") return null;
    return { name: found.name, saved: found.saved, text: found.text };
  } catch {
    return null;
  }
}

/**
 * The name inside a document text and whether it is one of ours; null when it is not even JSON.
 * @param {string} text
 * @returns {{ name: string, ours: boolean } | null}
 */
export function peek(text) {
  try {
    const tree = JSON.parse(text);
    if (typeof tree !== "object" || tree === null) return null;
    return { name: typeof tree.name === "string" ? tree.name : "", ours: tree.format === FORMAT };
  } catch {
    return null;
  }
}

/**
 * A name not yet taken: "Saltwort", "Saltwort 2", …
 * @param {string} name @param {string[]} taken
 */
export function freeName(name, taken) {
  if (!taken.includes(name)) return name;
  const stem = name.replace(/ \d+$/, "");
  for (let number = 2; number <= taken.length + 2; number += 1)
    if (!taken.includes(`${stem} ${number}`)) return `${stem} ${number}`;
  return name;
}

/** The projects of this browser. Never touches a key that is not ours. */
export class Store {
  #storage = openStorage();

  get blocked() {
    return this.#storage === null;
  }

  /** @returns {Listed[]} newest first, then what cannot be read */
  list() {
    /** @type {Listed[]} */
    const found = [];
    if (!this.#storage) return found;
    for (let at = 0; at < this.#storage.length; at += 1) {
      const key = this.#storage.key(at);
      if (!key?.startsWith(PROJECT)) continue;
      const raw = this.#storage.getItem(key) ?? "";
      const project = readProject(raw);
      const whole = project !== null && peek(project.text) !== null;
      found.push({
        id: key.slice(PROJECT.length),
        name: project?.name ?? "",
        saved: project?.saved ?? "",
        bytes: new Blob([raw]).size,
        readable: whole,
      });
    }
    return found.sort((a, b) => b.saved.localeCompare(a.saved) || a.name.localeCompare(b.name));
  }

  /** The stored bytes of a project, or null. @param {string} id */
  raw(id) {
    return this.#storage?.getItem(PROJECT + id) ?? null;
  }

  /** @param {string} id @returns {Project | null} */
  read(id) {
    const raw = this.raw(id);
    return raw === null ? null : readProject(raw);
  }

  /** What an export of this project holds: its text, or the raw bytes where there is no whole text. @param {string} id */
  exported(id) {
    const raw = this.raw(id) ?? "";
    return readProject(raw)?.text ?? raw;
  }

  /**
   * Writes a project. Fails without a trace: what was stored before stays.
   * @param {string} id @param {string} name @param {string} text
   * @returns {boolean} whether it is stored now
   */
  write(id, name, text) {
    return this.writeRaw(id, JSON.stringify({ name, saved: new Date().toISOString(), text }));
  }

  /** Puts bytes back as they were. @param {string} id @param {string} raw @returns {boolean} */
  writeRaw(id, raw) {
    if (!this.#storage) return false;
    try {
      this.#storage.setItem(PROJECT + id, raw);
      return true;
    } catch {
      return false;
    }
  }

  /** @param {string} id */
  remove(id) {
    this.#storage?.removeItem(PROJECT + id);
  }

  /** @param {string} key @returns {Record<string, unknown>} */
  #readBeside(key) {
    try {
      const kept = JSON.parse(this.#storage?.getItem(key) ?? "{}");
      return typeof kept === "object" && kept !== null ? kept : {};
    } catch {
      return {};
    }
  }

  /** @param {string} key @param {Record<string, unknown>} kept */
  #writeBeside(key, kept) {
    try {
      this.#storage?.setItem(key, JSON.stringify(kept));
    } catch {
      // What lasts only as long as the page hurts nobody; the project's own fault is told.
    }
  }

  readView() {
    return this.#readBeside(VIEW);
  }

  /** @param {Record<string, unknown>} view */
  writeView(view) {
    this.#writeBeside(VIEW, view);
  }

  /** What was typed in the quick checks. */
  readTyped() {
    return this.#readBeside(CHECKS_TYPED);
  }

  /** @param {Record<string, unknown>} typed */
  writeTyped(typed) {
    this.#writeBeside(CHECKS_TYPED, typed);
  }

  /** The project this very window had open before a reload, or "". */
  readOpen() {
    try {
      return window.sessionStorage.getItem(OPEN) ?? "";
    } catch {
      return "";
    }
  }

  /**
   * The project to open at the start: this window's own, else the one opened last, else the newest that can
   * be read. Looks at one project where it can: reading all takes time with many.
   * @param {string} last
   * @returns {string | null}
   */
  lastOpen(last) {
    const known = [this.readOpen(), last].find((id) => id !== "" && this.raw(id) !== null);
    return known ?? this.list().find(({ readable }) => readable)?.id ?? null;
  }

  /** @param {string} id */
  writeOpen(id) {
    try {
      window.sessionStorage.setItem(OPEN, id);
    } catch {
      // Then a reload opens what any window opened last.
    }
  }

  /**
   * Asks the browser to keep what we store.
   * @returns {Promise<boolean>} whether it promised
   */
  async persist() {
    try {
      return (await navigator.storage?.persist?.()) ?? false;
    } catch {
      return false;
    }
  }

  /** @returns {Promise<boolean>} */
  async persisted() {
    try {
      return (await navigator.storage?.persisted?.()) ?? false;
    } catch {
      return false;
    }
  }
}

/** A new project's id. crypto.randomUUID is missing where the page is not served securely. */
export function newId() {
  const bytes = crypto.getRandomValues(new Uint8Array(12));
  return Array.from(bytes, (byte) => byte.toString(16).padStart(2, "0")).join("");
}

/**
 * Where the JSON value that starts at `from` ends. The text comes from our own serialiser.
 * @param {string} text @param {number} from
 */
function valueEnd(text, from) {
  let depth = 0;
  let quoted = false;
  for (let at = from; at < text.length; at += 1) {
    const sign = text[at] ?? "";
    if (quoted) {
      if (sign === "\\") at += 1;
      else if (sign === '"') {
        quoted = false;
        if (depth === 0) return at + 1;
      }
    } else if (sign === '"') quoted = true;
    else if (sign === "[" || sign === "{") depth += 1;
    else if (sign === "]" || sign === "}") {
      if (depth === 0) return at;
      depth -= 1;
      if (depth === 0) return at + 1;
    } else if (depth === 0 && (sign === "," || sign <= " ")) return at;
  }
  return text.length;
}

/**
 * Reads `[{"path":…,"old":…,"new":…},…]`, values kept as the text they are.
 * @param {string} text
 * @returns {Step[]}
 */
export function readSteps(text) {
  /** @type {Step[]} */
  const steps = [];
  /** @type {Step | null} */
  let step = null;
  let at = text.indexOf("[") + 1;
  while (at < text.length) {
    const sign = text[at] ?? "";
    if (sign === "{") {
      step = { path: "" };
      at += 1;
    } else if (sign === "}") {
      if (step) steps.push(step);
      step = null;
      at += 1;
    } else if (sign === '"' && step) {
      const keyEnd = valueEnd(text, at);
      const key = JSON.parse(text.slice(at, keyEnd));
      let from = text.indexOf(":", keyEnd) + 1;
      while ((text[from] ?? "x") <= " ") from += 1;
      at = valueEnd(text, from);
      const value = text.slice(from, at);
      if (key === "path") step.path = JSON.parse(value);
      else if (key === "old") step.old = value;
      else if (key === "new") step.new = value;
    } else at += 1;
  }
  return steps;
}

/** @param {Step[]} steps */
export function writeSteps(steps) {
  const lines = steps.map((step) => {
    const old = step.old === undefined ? "" : `,"old":${step.old}`;
    const now = step.new === undefined ? "" : `,"new":${step.new}`;
    return `{"path":${JSON.stringify(step.path)}${old}${now}}`;
  });
  return `[${lines.join(",")}]`;
}

/**
 * Joins the steps of one gesture: per path the first old and the last new value, in the order first met.
 * @param {Step[]} first @param {Step[]} then
 * @returns {Step[]}
 */
export function joinSteps(first, then) {
  const joined = first.map((step) => ({ ...step }));
  for (const step of then) {
    const known = joined.find((earlier) => earlier.path === step.path);
    if (!known) joined.push({ ...step });
    else if (step.new === undefined) delete known.new;
    else known.new = step.new;
  }
  return joined;
}

/** The undo list: lists of {path, old, new}, one list a step. */
export class History {
  static #MOST = 5000;
  /** @type {Step[][]} */
  #steps = [];
  #done = 0;
  /** Steps of the same name that follow one another are joined, until sealed. */
  #open = "";

  get canUndo() {
    return this.#done > 0;
  }

  get canRedo() {
    return this.#done < this.#steps.length;
  }

  /**
   * @param {Step[]} steps
   * @param {string} [burst] name of a run of key presses that makes one step
   */
  push(steps, burst = "") {
    if (steps.length === 0) return;
    const last = this.#steps[this.#done - 1];
    this.#steps.length = this.#done;
    if (burst && burst === this.#open && last) this.#steps[this.#done - 1] = joinSteps(last, steps);
    else {
      this.#steps.push(steps);
      if (this.#steps.length > History.#MOST) this.#steps.shift();
    }
    this.#done = this.#steps.length;
    this.#open = burst;
  }

  /** Ends a run of key presses. */
  seal() {
    this.#open = "";
  }

  /** Whether the last step is an unfinished run of this name. @param {string} burst */
  isOpen(burst) {
    return burst !== "" && this.#open === burst;
  }

  /** The step to take back, or null. @returns {Step[] | null} */
  back() {
    this.seal();
    if (!this.canUndo) return null;
    this.#done -= 1;
    return this.#steps[this.#done] ?? null;
  }

  /** The step to do again, or null. @returns {Step[] | null} */
  forward() {
    this.seal();
    if (!this.canRedo) return null;
    this.#done += 1;
    return this.#steps[this.#done - 1] ?? null;
  }

  /** Drops the step just taken back, so that it cannot be done again. */
  dropRedo() {
    this.#steps.length = this.#done;
  }
}

/**
 * Holds a project for this window by a Web Lock. Where the browser has no locks, each window owns.
 */
export class Ownership {
  /** @type {(() => void) | null} */
  #letGo = null;
  /** Counts holds: an answer that comes late belongs to an older one. */
  #turn = 0;
  /** Settled when the lock held before is free again: letting go takes the browser a moment. @type {Promise<unknown>} */
  #freed = Promise.resolve();
  /** @type {() => void} */
  #onLost;

  /** @param {() => void} onLost called when another window takes over */
  constructor(onLost) {
    this.#onLost = onLost;
  }

  /**
   * @param {string} id
   * @param {boolean} [steal] take it from the window that has it
   * @returns {Promise<boolean>} whether this window owns it now
   */
  async take(id, steal = false) {
    this.release();
    this.#turn += 1;
    const turn = this.#turn;
    if (!navigator.locks) return true;
    await this.#freed;
    if (turn !== this.#turn) return false;
    return new Promise((answer) => {
      this.#freed = navigator.locks
        .request(PROJECT + id, steal ? { steal: true } : { ifAvailable: true }, (lock) => {
          if (lock === null) {
            answer(false);
            return undefined;
          }
          if (turn !== this.#turn) {
            answer(false);
            return undefined;
          }
          answer(true);
          return new Promise((letGo) => {
            this.#letGo = () => letGo(undefined);
          });
        })
        .catch(() => {
          answer(false);
          if (turn === this.#turn && this.#letGo) {
            this.#letGo = null;
            this.#onLost();
          }
        });
    });
  }

  release() {
    this.#letGo?.();
    this.#letGo = null;
    this.#turn += 1;
  }
}
