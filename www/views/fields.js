/**
 * Fields bound to paths of the document. A field is built once and then only updated, so that a finger or
 * a cursor in it is never lost. Empty means: by its rule, or the usual value.
 * @module
 */
import { icon, make, setAttribute, setText, strokes } from "../elements.js";
import { say } from "../words.js";
import { helpButton, showHelp } from "./help.js";

/** @typedef {import("../desk.js").Desk} Desk */
/** @typedef {import("../desk.js").Change} Change */
/** @typedef {import("../engine.js").FieldRow} FieldRow */
/** @typedef {import("../types/rows.d.ts").Path} Path */

/**
 * One control of a section: a field, a field with its lock, a list of like fields, the table of spars or of
 * places (`heads`: words over its columns), rows
 * of a list that can be added to (`rows`: its path; `ends`: what its first and its last row are, where it has to have them).
 * @typedef {Path | { path: Path, lock: Path } | { list: Path[] } | { spars: Path[][], names: string[], heads?: string[] } | { rows: string, leaves: string[], add: string, ends?: Record<string, number>[] } | { element: HTMLElement }} Item
 */
/** @typedef {{ key: string, title: string, open?: boolean, items: Item[], note?: string }} Group */

let made = 0;

/** Outlines of the four families, drawn for this page on a grid of 40. */
const FAMILIES = new Map([
  ["fanned-head", "M11.2 37L28.8 34.5 28.8 30.4 28.8 26.4 28.8 22.3 27.9 16 24.8 8.9 18.7 3L11.2 19.1 11.2 20.3 11.2 22.1 11.2 24.8 11.2 28.8 11.2 32.9 11.2 37z M11.2 32.9L28.8 30.4 M11.2 28.8L28.8 26.4 M11.2 24.8L28.8 22.3 M11.2 22.1L27.9 16 M11.2 20.3L24.8 8.9"],
  ["full-fan", "M7.1 37L32.9 35.2 32.3 29.2 31 23 28.8 17 25.7 11.3 22 6.5 18.7 3L10.2 24.1 9.7 26.3 9.2 28.4 8.7 30.6 8.1 32.7 7.6 34.9 7.1 37z M7.6 34.9L32.3 29.2 M8.1 32.7L31 23 M8.7 30.6L28.8 17 M9.2 28.4L25.7 11.3 M9.7 26.3L22 6.5"],
  ["low-yard", "M8.1 37L31.9 34.5 31.8 28.7 31.6 22.8 31.5 17 31.2 10.8 30.3 3L8.1 11.9 8.1 17 8.1 22 8.1 27 8.1 32 8.1 37z M8.1 32L31.8 28.7 M8.1 27L31.6 22.8 M8.1 22L31.5 17 M8.1 17L31.2 10.8"],
  ["table", "M7 7h26v26H7z M7 13.500h26 M7 20h26 M7 26.500h26 M16 7v26 M24.500 7v26"],
]);

/** @param {FieldRow} row */
const isOn = (row) => row.text === "true" || row.number === 1;

/** A number as it is written: the degree sign stands close. @param {string} number @param {string} unit */
const withUnit = (number, unit) => `${number}${unit === "°" ? "" : " "}${unit}`.trim();

/** @param {FieldRow} row */
function rangeOf(row) {
  const least = String(row.least ?? "");
  const most = String(row.most ?? "");
  if (least === "" || most === "") return "";
  return withUnit(say("page.help.range_places", { least, most }), row.unit);
}

/** One field and what belongs to it. */
class Field {
  /** Whether it can be seen; while dragging only such fields are asked for. */
  visible = true;
  /** @type {HTMLInputElement | HTMLTextAreaElement | HTMLSelectElement | null} */
  #input = null;
  /** @type {Map<string, HTMLInputElement>} */
  #radios = new Map();
  /** @type {HTMLButtonElement | null} */
  #lock = null;
  /** What could not be read of what was typed. */
  #refusal = "";

  /**
   * @param {Desk} desk
   * @param {FieldRow} row
   * @param {{ bare?: string, lock?: FieldRow }} [how] `bare`: no label of its own, this one spoken
   */
  constructor(desk, row, { bare, lock } = {}) {
    made += 1;
    this.desk = desk;
    this.row = row;
    this.bare = bare;
    this.id = `field-${made}`;
    this.hint = make("p", { class: "hint", id: `${this.id}-hint`, hidden: true });
    this.problem = make("p", { class: "problem", id: `${this.id}-problem`, hidden: true });
    this.unit = make("span", { class: "unit", "aria-hidden": "true" });
    /** @type {HTMLElement} */
    this.label = make("label", { for: this.id, text: row.label });
    this.usual = make("button", { type: "button", class: "icon-button usual-button", hidden: true, onclick: () => this.#backToUsual() }, icon("usual"));
    this.root = make("div", { class: `field kind-${row.kind}`, "data-path": row.path });
    if (row.kind === "choice") this.#buildChoice();
    else if (row.kind === "flag") this.#buildFlag();
    else this.#buildInput(lock);
    this.update(row, lock);
  }

  #heading() {
    const help = helpButton(this.row.label, () => this.#told());
    return make("div", { class: "field-name" }, make("div", { class: "field-label" }, this.label, this.row.help ? help : null), this.hint);
  }

  #told() {
    const { label, help, basis, usual, unit, by_rule } = this.row;
    return {
      label,
      help,
      // Words rest on nothing.
      basis: this.row.kind === "words" ? "" : basis,
      usual: usual ? withUnit(usual, this.row.kind === "choice" ? "" : unit) : "",
      range: rangeOf(this.row),
      action: usual && !by_rule && !this.desk.lookOnly ? { word: "page.field.back_to_usual", run: () => this.#backToUsual() } : undefined,
    };
  }

  /** @param {FieldRow | undefined} lock */
  #buildInput(lock) {
    const { row } = this;
    const long = row.path === "note" || row.path.endsWith(".words");
    const attributes = {
      id: this.id,
      autocomplete: "off",
      autocapitalize: row.kind === "words" ? "sentences" : "off",
      spellcheck: row.kind === "words" ? undefined : "false",
      maxlength: row.kind !== "words" ? "60" : row.path.startsWith("lesson.") ? (long ? "500" : "80") : "2000",
      "aria-label": this.bare,
    };
    const input = long
      ? make("textarea", { ...attributes, rows: "3" })
      : make("input", { ...attributes, type: "text", enterkeyhint: "done" });
    this.#input = input;
    input.addEventListener("input", () => {
      input.dataset.dirty = "";
    });
    input.addEventListener("change", () => this.#commit());
    input.addEventListener("keydown", (event) => {
      const key = /** @type {KeyboardEvent} */ (event);
      if (key.isComposing) return;
      if (key.key === "Enter" && !long) {
        this.#commit();
        if (input instanceof HTMLInputElement) input.select();
      } else if (key.key === "Escape" && (input.dataset.dirty === "" || this.#refusal)) {
        key.stopPropagation();
        delete input.dataset.dirty;
        this.#refusal = "";
        this.update(this.row);
      }
    });
    const entry = make("div", { class: long || row.kind === "words" ? "entry wide" : "entry" }, input, this.unit);
    if (this.bare) {
      this.root.append(entry, this.problem);
      return;
    }
    if (lock) {
      const path = lock.path;
      this.#lock = make("button", { type: "button", class: "icon-button lock-button", "data-path": path, "aria-pressed": "false" }, icon("unlock"), icon("lock"));
      this.#lock.addEventListener("click", () => {
        if (this.desk.lookOnly) return;
        this.desk.commit(JSON.stringify([[path, this.#lock?.getAttribute("aria-pressed") !== "true"]]));
      });
    }
    this.root.append(this.#heading(), make("div", { class: "field-entry" }, this.usual, this.#lock, entry), this.problem);
    if (long) this.root.classList.add("long");
    if (row.kind === "words") this.root.classList.add("wordy");
  }

  #buildChoice() {
    const { row } = this;
    const pictures = row.options.every(({ value }) => FAMILIES.has(value));
    const few = pictures || (!this.bare && row.options.length <= 3 && row.options.reduce((sum, { label }) => sum + label.length, 0) <= 26);
    if (!few) {
      const select = make("select", { id: this.id }, row.usual ? null : make("option", { value: "", text: "–" }), ...row.options.map(({ value, label }) => make("option", { value, text: label })));
      select.addEventListener("change", () => this.#choose(select.value));
      this.#input = select;
      const entry = make("div", { class: "entry choice" }, select, icon("down"));
      if (this.bare) {
        setAttribute(select, "aria-label", this.bare);
        this.root.append(entry, this.problem);
      } else this.root.append(this.#heading(), make("div", { class: "field-entry" }, this.usual, entry), this.problem);
      return;
    }
    this.label = make("span", { class: "label", id: `${this.id}-label`, text: row.label });
    const group = make("div", { class: pictures ? "pictures" : "switch", role: "radiogroup", "aria-labelledby": `${this.id}-label` });
    for (const { value, label } of row.options) {
      const radio = make("input", { type: "radio", class: "unseen", name: this.id, value });
      radio.addEventListener("change", () => this.#choose(value));
      this.#radios.set(value, radio);
      const outline = FAMILIES.get(value);
      group.append(make("label", {}, radio, make("span", {}, pictures && outline ? strokes(outline, 40, 40) : null, label)));
    }
    this.root.append(this.#heading(), make("div", { class: "field-entry" }, group), this.problem);
    if (pictures) this.root.classList.add("pictured");
  }

  #buildFlag() {
    const input = make("input", { type: "checkbox", id: this.id });
    input.addEventListener("change", () => this.desk.commit(JSON.stringify([[this.row.path, input.checked]])));
    this.#input = input;
    this.root.append(this.#heading(), make("div", { class: "field-entry" }, input), this.problem);
  }

  /** @param {string} value */
  #choose(value) {
    if (this.desk.lookOnly) this.update(this.row);
    else this.#refuse(this.desk.typeIn(this.row.path, value));
  }

  #commit() {
    const input = this.#input;
    if (!input || input.dataset.dirty !== "") return;
    delete input.dataset.dirty;
    if (this.desk.lookOnly) return;
    this.#refuse(this.desk.typeIn(this.row.path, input.value));
  }

  #backToUsual() {
    if (this.desk.lookOnly) return;
    if (this.#input) delete this.#input.dataset.dirty;
    // The button goes with its reason: the focus must not go with it.
    const held = document.activeElement === this.usual;
    this.#refuse(this.desk.typeIn(this.row.path, ""));
    if (held) this.#input?.focus();
  }

  /** @param {string} refusal */
  #refuse(refusal) {
    this.#refusal = refusal;
    if (refusal) this.#showProblem(refusal);
    else this.desk.request();
  }

  /** @param {string} problem */
  #showProblem(problem) {
    setText(this.problem, problem);
    this.problem.hidden = problem === "";
    const target = this.#input ?? this.root.querySelector("[role=radiogroup]");
    if (!target) return;
    setAttribute(target, "aria-invalid", problem ? "true" : null);
    const described = [problem ? this.problem.id : "", this.hint.hidden ? "" : this.hint.id].filter(Boolean).join(" ");
    setAttribute(target, "aria-describedby", described || null);
  }

  /**
   * @param {FieldRow} row
   * @param {FieldRow} [lock]
   */
  update(row, lock) {
    this.row = row;
    const input = this.#input;
    const shut = this.desk.lookOnly;
    if (!this.bare) setText(this.label, row.label);
    setText(this.unit, row.unit);
    const hint = row.by_rule && (row.kind === "number" || row.kind === "whole")
      ? say("page.field.by_rule")
      : row.usual && row.usual !== row.text && row.kind !== "choice"
        ? say("page.field.usual", { value: withUnit(row.usual, row.unit) })
        : "";
    setText(this.hint, hint);
    this.hint.hidden = hint === "";
    this.usual.hidden = shut || row.by_rule || row.usual === "" || row.usual === row.text || row.kind === "choice";
    if (!this.usual.hidden) setAttribute(this.usual, "aria-label", say("page.field.back_to_usual_of", { label: row.label }));
    if (input instanceof HTMLSelectElement) {
      if (input.value !== row.text) input.value = row.text;
      input.disabled = shut;
    } else if (input instanceof HTMLInputElement && input.type === "checkbox") {
      input.checked = isOn(row);
      input.disabled = shut;
    } else if (input) {
      if (input.dataset.dirty !== "" && !this.#refusal) {
        const value = row.by_rule ? "" : row.text;
        if (input.value !== value) {
          // What was chosen whole, to be typed over, stays chosen.
          const whole = document.activeElement === input && input.value !== "" && input.selectionStart === 0 && input.selectionEnd === input.value.length;
          input.value = value;
          if (whole) input.select();
        }
      }
      setAttribute(input, "placeholder", row.by_rule ? row.text || row.usual : null);
      if (row.inputmode) setAttribute(input, "inputmode", row.inputmode);
      input.readOnly = shut;
    }
    for (const [value, radio] of this.#radios) {
      radio.checked = value === row.text;
      radio.disabled = shut;
    }
    if (lock && this.#lock) {
      setAttribute(this.#lock, "aria-label", lock.label);
      setAttribute(this.#lock, "aria-pressed", String(isOn(lock)));
      setAttribute(this.#lock, "aria-disabled", shut ? "true" : null);
    }
    this.root.classList.toggle("ruled", row.by_rule);
    this.#showProblem(this.#refusal || row.problem || "");
  }

  /** Forgets what could not be read, when the document has moved on. */
  forget() {
    if (this.#input && this.#input.dataset.dirty === "" && document.activeElement === this.#input) return;
    this.#refusal = "";
  }

  /** @param {boolean} [scroll] */
  focus(scroll = true) {
    const target = this.#input ?? [...this.#radios.values()].find((radio) => radio.checked) ?? [...this.#radios.values()][0];
    target?.focus({ preventScroll: true });
    if (scroll) this.root.scrollIntoView({ block: "center" });
  }
}

/** A list of the document. @param {string} text @param {string} path @returns {any[]} */
export function listAt(text, path) {
  let node;
  try {
    node = JSON.parse(text);
  } catch {
    return [];
  }
  for (const key of path.split(".")) node = node?.[key];
  return Array.isArray(node) ? node : [];
}

/** Groups of fields in one section of the page. */
export class FieldSection {
  /** @type {Map<string, { field: Field, lock: string }>} */
  #fields = new Map();
  /** @type {Map<string, boolean>} */
  #unfolded = new Map();
  #built = "";
  #seen = new IntersectionObserver((entries) => {
    for (const entry of entries) {
      const path = entry.target.getAttribute("data-path") ?? "";
      const known = this.#fields.get(path);
      if (known) known.field.visible = entry.isIntersecting;
    }
  });

  /**
   * @param {Desk} desk
   * @param {HTMLElement} root
   * @param {() => { key: string, groups: Group[] }} layout what to show; built anew when the key changes
   */
  constructor(desk, root, layout) {
    this.desk = desk;
    this.root = root;
    this.layout = layout;
  }

  /** @param {string[]} paths @returns {Map<string, FieldRow>} */
  #rows(paths) {
    if (paths.length === 0) return new Map();
    const rows = this.desk.ask("fields", (bench) => bench.fields(paths), /** @type {FieldRow[]} */ ([]));
    return new Map(rows.map((row) => [row.path, row]));
  }

  /** @param {Group[]} groups */
  #build(groups) {
    this.#seen.disconnect();
    this.#fields.clear();
    /** @type {string[]} */
    const paths = [];
    for (const { items } of groups)
      for (const item of items) {
        if (typeof item === "string") paths.push(item);
        else if ("path" in item) paths.push(item.path, item.lock);
        else if ("list" in item) paths.push(...item.list);
        else if ("spars" in item) paths.push(...item.spars.flat());
        else if ("rows" in item) paths.push(...this.#cells(item).flat());
      }
    const rows = this.#rows(paths);
    /** @param {string} path @param {string} [lock] @param {string} [bare] */
    const field = (path, lock, bare) => {
      const row = rows.get(path);
      if (!row) return null;
      const built = new Field(this.desk, row, { bare, lock: lock ? rows.get(lock) : undefined });
      this.#fields.set(path, { field: built, lock: lock ?? "" });
      this.#seen.observe(built.root);
      return built;
    };
    this.root.replaceChildren(
      ...groups.map(({ key, title, open, items, note }) => {
        const group = make("details", { class: "group", "data-group": key }, make("summary", {}, make("h2", { word: title }), icon("down")));
        group.open = this.#unfolded.get(key) ?? open ?? false;
        group.addEventListener("toggle", () => {
          this.#unfolded.set(key, group.open);
          this.desk.request();
        });
        if (note) group.append(make("p", { class: "group-note", word: note }));
        // What stands under a title of its own is told with it: a mast, a boom and a yard each have a wall.
        let box = /** @type {HTMLElement} */ (group);
        for (const item of items) {
          if (typeof item === "string") box.append(field(item)?.root ?? "");
          else if ("path" in item) box.append(field(item.path, item.lock)?.root ?? "");
          else if ("element" in item) {
            if (item.element instanceof HTMLHeadingElement) {
              box = make("div", { class: "titled", role: "group" });
              setAttribute(box, "aria-label", item.element.textContent);
              group.append(box);
            }
            box.append(item.element);
          }
          else if ("list" in item) {
            const first = rows.get(item.list[0] ?? "");
            if (!first) continue;
            const told = first;
            box.append(
              make(
                "fieldset",
                { class: "list" },
                make("legend", { class: "unseen", text: first.label }),
                make(
                  "div",
                  { class: "field-label" },
                  make("span", { "aria-hidden": "true", text: first.label }),
                  first.help ? helpButton(first.label, () => ({ label: told.label, help: told.help, basis: told.basis, usual: told.usual, range: rangeOf(told) })) : null,
                ),
                make("div", { class: "list-entries" }, ...item.list.map((path, at) => field(path, undefined, `${first.label} ${at + 1}`)?.root ?? null)),
              ),
            );
          } else if ("rows" in item) box.append(this.#rowTable(item, rows, field));
          else box.append(this.#sparTable(item, rows, field));
        }
        return group;
      }),
    );
  }

  /**
   * @param {{ spars: string[][], names: string[], heads?: string[] }} item
   * @param {Map<string, FieldRow>} rows
   * @param {(path: string, lock: undefined, bare: string) => Field | null} field
   */
  #sparTable({ spars, names, heads: words }, rows, field) {
    const heads = (spars[0] ?? []).map((path) => rows.get(path));
    const rowsOf = spars.map((paths, at) =>
      make("tr", {}, make("th", { scope: "row", text: names[at] ?? "" }), ...paths.map((path, column) => make("td", {}, field(path, undefined, `${names[at]}, ${words ? say(words[column] ?? "") : (heads[column]?.label ?? "")}`)?.root ?? null))),
    );
    return make(
      "div",
      words ? { class: "scroller" } : { class: "scroller", tabindex: "0", role: "region", label: "page.spars" },
      make(
        "table",
        { class: words ? "cell-table place-table" : "cell-table spar-table" },
        make("thead", {}, make("tr", {}, make("th", words ? {} : { scope: "col", word: "page.spar" }), ...heads.map((head, column) => make("th", { scope: "col" }, head ? this.#columnHead(words ? { ...head, label: say(words[column] ?? "") } : head) : null)))),
        make(
          "tbody",
          {},
          // The yard stands at the top, as it does on the water.
          ...(words ? rowsOf : rowsOf.reverse()),
        ),
      ),
    );
  }

  /** Paths of the cells of a list, row by row; of an empty list those of the row to come. @param {{ rows: string, leaves: string[] }} item */
  #cells({ rows, leaves }) {
    const count = Math.max(1, listAt(this.desk.text, rows).length);
    return Array.from({ length: count }, (_, at) => leaves.map((leaf) => `${rows}.${at}.${leaf}`));
  }

  /**
   * Rows of a list: one to a line, to be taken out and added to. A table from a spreadsheet can be pasted.
   * @param {{ rows: string, leaves: string[], add: string, ends?: Record<string, number>[] }} item
   * @param {Map<string, FieldRow>} rows
   * @param {(path: string, lock: undefined, bare: string) => Field | null} field
   */
  #rowTable(item, rows, field) {
    const { desk } = this;
    const cells = this.#cells(item);
    const count = listAt(desk.text, item.rows).length;
    const heads = (cells[0] ?? []).map((path) => rows.get(path));
    const [first, end] = item.ends ?? [];
    // There is no room for sentences in a column of numbers.
    const problems = make("div", {});
    /** @param {string} path @param {string} label */
    const built = (path, label) => {
      const one = field(path, undefined, label);
      if (one) problems.append(one.problem);
      return one?.root ?? null;
    };
    const table = make(
      "table",
      { class: "cell-table", hidden: count === 0 && end !== undefined },
      make("thead", {}, make("tr", {}, ...heads.map((head) => make("th", { scope: "col" }, head ? this.#columnHead(head) : null)), make("td"))),
      make(
        "tbody",
        {},
        ...cells.map((paths, at) =>
          make(
            "tr",
            {},
            ...paths.map((path, column) => make("td", {}, built(path, `${heads[column]?.label ?? ""} ${at + 1}`))),
            make("td", {}, count > 0 && !desk.lookOnly ? make("button", { type: "button", class: "icon-button", "aria-label": say("page.rows.remove", { number: at + 1 }), onclick: () => takeOut(at) }, icon("close")) : null),
          ),
        ),
      ),
    );
    table.addEventListener("paste", (event) => {
      const pasted = (event.clipboardData?.getData("text") ?? "").trim();
      const lines = pasted.split(/\r?\n/).map((line) => line.split(pasted.includes("\t") ? "\t" : ";"));
      const path = event.target instanceof Element ? event.target.closest("[data-path]")?.getAttribute("data-path") : null;
      if (!path || desk.lookOnly || (lines.length < 2 && !pasted.includes("\t"))) return;
      event.preventDefault();
      const from = Number(path.slice(item.rows.length + 1).split(".")[0]);
      const column = item.leaves.findIndex((leaf) => path.endsWith(`.${leaf}`));
      /** @type {unknown[]} */
      const edits = [];
      let [row, left] = [from, 0];
      for (const texts of lines) {
        /** @type {unknown[]} */
        const taken = [];
        for (const [at, text] of texts.slice(0, item.leaves.length - column).entries()) {
          const typed = desk.ask("type_in", (bench) => bench.type_in(`${item.rows}.${row}.${item.leaves[column + at]}`, text.trim()), /** @type {import("../engine.js").TypedIn} */ ({ problem: "" }));
          if (text.trim() === "") continue;
          if ("edits" in typed) taken.push(...JSON.parse(typed.edits));
          else left += 1;
        }
        // A heading or a blank line is no row.
        if (taken.length > 0) row += 1;
        edits.push(...taken);
      }
      if (edits.length > 0 && !desk.commit(JSON.stringify(edits))) left = lines.flat().length;
      if (left > 0) desk.notices.show("pasted", { tone: "plain", text: () => say("page.rows.not_taken", { n: left }) });
    });
    /** Takes a row out; the focus goes to its neighbour. @param {number} at */
    const takeOut = (at) => {
      desk.commit(JSON.stringify([[count > 1 ? `${item.rows}.${at}` : item.rows, null]]));
      requestAnimationFrame(() => this.find(`${item.rows}.${Math.max(0, Math.min(at, count - 2))}.${item.leaves[0]}`));
    };
    const last = cells[cells.length - 1]?.[0] ?? "";
    const add = make("button", {
      type: "button",
      class: "button",
      word: item.add,
      onclick: () => {
        const list = listAt(desk.text, item.rows);
        const before = end && JSON.stringify(list[count - 1]) === JSON.stringify(end) ? count - 1 : count;
        if (end && (count === 0 || before < count)) {
          const at = Math.max(1, before);
          if (desk.commit(JSON.stringify([[item.rows, count === 0 ? [first, {}, end] : [...list.slice(0, at), {}, end]]]))) requestAnimationFrame(() => this.find(`${item.rows}.${at}.${item.leaves[0]}`));
        } else if (count === 0) this.find(last);
        else if (desk.commit(JSON.stringify([[`${item.rows}.${count}`, {}]]))) requestAnimationFrame(() => this.find(`${item.rows}.${count}.${item.leaves[0]}`));
      },
    });
    return make("div", { class: "row-table" }, make("div", { class: "scroller" }, table), problems, desk.lookOnly ? null : make("div", { class: "group-buttons" }, add));
  }

  /** @param {FieldRow} head */
  #columnHead(head) {
    return make("button", { type: "button", class: "column-button", onclick: () => showHelp({ label: head.label, help: head.help, basis: head.basis, range: rangeOf(head) }) }, head.label);
  }

  /** @param {Change} change */
  update(change) {
    if (!change.dragging) {
      const { key, groups } = this.layout();
      if (change.opened || key !== this.#built) {
        const active = document.activeElement;
        const held = active?.closest("[data-path]")?.getAttribute("data-path");
        this.#build(groups);
        this.#built = key;
        // What was only moved takes the focus again; what was built anew takes it from its like.
        if (active instanceof HTMLElement && active !== document.activeElement && this.root.contains(active)) active.focus({ preventScroll: true });
        else if (held && this.root.contains(document.activeElement) === false) this.#fields.get(held)?.field.focus(false);
        return;
      }
    }
    /** @type {string[]} */
    const paths = [];
    for (const [path, { field, lock }] of this.#fields) {
      if (change.dragging && !field.visible) continue;
      paths.push(path);
      if (lock) paths.push(lock);
    }
    const rows = this.#rows(paths);
    for (const [path, { field, lock }] of this.#fields) {
      const row = rows.get(path);
      if (!row) continue;
      if (change.document && !change.dragging) field.forget();
      field.update(row, rows.get(lock));
    }
  }

  /** @param {string} path @returns {boolean} whether this section has that field */
  find(path) {
    const known = this.#fields.get(path) ?? [...this.#fields].find(([other]) => other.startsWith(`${path}.`))?.[1] ?? [...this.#fields].find(([, { lock }]) => lock === path)?.[1];
    if (!known) return false;
    const group = known.field.root.closest("details");
    if (group) group.open = true;
    // A list that has yet to begin is begun by its button.
    const add = known.field.root.closest("table[hidden]")?.closest(".row-table")?.querySelector("button.button");
    requestAnimationFrame(() => (add instanceof HTMLElement ? add.focus() : known.field.focus()));
    return true;
  }
}

/**
 * A row of buttons to choose the mast whose sail is worked on.
 * @param {Desk} desk
 */
export function makeMastChooser(desk) {
  const root = make("div", { class: "mast-chooser", role: "group", label: "page.mast.choose" });
  let known = "";
  return {
    root,
    /** @param {string[]} names */
    update(names) {
      root.hidden = names.length < 2;
      const key = JSON.stringify(names);
      if (key !== known) {
        known = key;
        root.replaceChildren(...names.map((name, mast) => make("button", { type: "button", class: "chip", text: name, onclick: () => desk.setView({ mast }) })));
      }
      Array.from(root.children).forEach((chip, mast) => setAttribute(chip, "aria-pressed", String(mast === desk.view.mast)));
    },
  };
}

/**
 * The names of the masts of a document text, for choosers.
 * @param {string} text
 * @returns {{ names: string[], tree: any }}
 */
export function mastNames(text) {
  try {
    const tree = JSON.parse(text);
    const masts = Array.isArray(tree.masts) ? tree.masts : [];
    return {
      names: masts.map((/** @type {any} */ mast, /** @type {number} */ at) => (typeof mast?.name === "string" && mast.name) || say("page.mast.numbered", { number: at + 1 })),
      tree,
    };
  } catch {
    return { names: [], tree: {} };
  }
}
