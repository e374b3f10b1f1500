/**
 * Quick checks for the yard: one sheet each, one number large, written into the project where it is wanted.
 * What was typed lies in a store of its own and needs no project.
 * @module
 */
import { icon, make, setAttribute, setText } from "../elements.js";
import { say } from "../words.js";
import { makeMastChooser, mastNames } from "./fields.js";
import { closeOnBackdrop, helpButton } from "./help.js";

/** @typedef {import("../desk.js").Desk} Desk */
/** @typedef {import("../pkg/site.js").Quick} Quick */
/** @typedef {import("../engine.js").FieldRow} FieldRow */

/** Each with the caution that stands under it. */
const CHECKS = new Map([
  ["inclining", "page.caution.measured"],
  ["area", "page.caution.short"],
  ["mast", "page.spars.caution"],
  ["line", "page.lines.caution"],
  ["cloth", "page.cloth.caution_short"],
]);
/** More than any check asks for: a store that was tampered with stays small. */
const MOST_TYPED = 300;

/**
 * What was typed into each check, as it was stored.
 * @param {Record<string, unknown>} stored
 * @returns {Map<string, Map<string, string>>}
 */
function typedFrom(stored) {
  return new Map(Array.from(CHECKS.keys(), (check) => {
    const entries = Object.entries(Object(stored[check])).filter(([, text]) => typeof text === "string").slice(0, MOST_TYPED);
    return [check, new Map(entries)];
  }));
}

/** @param {Desk} desk */
export function makeQuick(desk) {
  const stored = desk.store.readTyped();
  const typed = typedFrom(stored);
  let check = CHECKS.has(String(stored.check)) ? String(stored.check) : "inclining";
  /** Row of the list in sight. */
  let at = 0;
  /** What the fields were built for. */
  let built = "";
  /** @type {Map<string, (row: FieldRow) => void>} */
  let updates = new Map();

  const choose = make("select", { id: "quick-which", onchange: () => change(choose.value) }, ...Array.from(CHECKS.keys(), (name) => make("option", { value: name, word: `page.quick.${name}` })));
  const masts = makeMastChooser(desk);
  const rows = make("div", { class: "mast-chooser", role: "group", id: "quick-rows" });
  const answer = make("p", { class: "quick-answer", id: "quick-answer", role: "status" });
  const answerName = make("p", { class: "quick-name" });
  const fields = make("div", { class: "quick-fields", id: "quick-fields" });
  const problems = make("div", { id: "quick-problems" });
  const more = make("dl", { class: "quick-more", id: "quick-more" });
  const told = make("ul", { class: "quick-told", id: "quick-told" });
  const writes = make("div", { id: "quick-writes" });
  const done = make("p", { class: "sheet-message", id: "quick-done", role: "status", hidden: true });
  const undo = make("button", { type: "button", class: "button", id: "quick-undo", word: "page.undo", hidden: true, onclick: () => {
    desk.undo();
    written("");
    update();
    writes.querySelector("button")?.focus();
  } });
  const caution = make("p", { class: "quiet", id: "quick-caution" });
  const dialog = make(
    "dialog",
    { class: "sheet", id: "quick", "aria-labelledby": "quick-title" },
    make(
      "div",
      { class: "sheet-head" },
      make("h2", { id: "quick-title", class: "unseen", word: "page.quick" }),
      make("label", { for: "quick-which", class: "unseen", word: "page.quick.which" }),
      make("div", { class: "entry choice" }, choose, icon("down")),
      make("button", { type: "button", class: "icon-button", label: "page.close", onclick: () => dialog.close() }, icon("close")),
    ),
    masts.root,
    make("div", { class: "quick-result" }, answer, answerName),
    rows,
    fields,
    problems,
    told,
    caution,
    more,
    writes,
    done,
    make("div", { class: "group-buttons" }, undo, make("button", { type: "button", class: "button", id: "quick-clear", word: "page.quick.clear", onclick: () => clear() })),
  );
  closeOnBackdrop(dialog);
  document.body.append(dialog);
  desk.addView(({ dragging }) => {
    if (dialog.open && !dragging) update();
  });

  const here = () => /** @type {Map<string, string>} */ (typed.get(check));

  function keep() {
    desk.store.writeTyped({ check, ...Object.fromEntries(Array.from(typed, ([name, texts]) => [name, Object.fromEntries(texts)])) });
  }

  /** @param {string} name */
  function change(name) {
    check = name;
    at = 0;
    written("");
    keep();
    update();
  }

  function clear() {
    here().clear();
    at = 0;
    built = "";
    written("");
    keep();
    update();
  }

  /** @param {string} text */
  function written(text) {
    done.hidden = text === "";
    undo.hidden = text === "";
    // What is written is not offered again until something else is typed.
    writes.hidden = text !== "" || desk.lookOnly;
    done.textContent = text;
  }

  /** @param {string} path @param {string} text */
  function type(path, text) {
    if (text === "") here().delete(path);
    else here().set(path, text);
    written("");
    keep();
    update();
  }

  /** Of the open design, or of a plain one that nothing is taken from. @returns {Quick | null} */
  function ask() {
    const pairs = Array.from(here()).flat();
    if (desk.open) return desk.ask(`quick ${check}`, (bench) => bench.quick(check, pairs, at, true), null);
    const { engine } = desk;
    if (!engine) return null;
    try {
      return engine.aside(engine.blankText(), (bench) => {
        bench.set_view({ ...desk.view, mast: 0, hoist: [0] });
        return bench.quick(check, pairs, at, false);
      });
    } catch {
      // Told like a page without its engine.
      return null;
    }
  }

  /** @param {FieldRow} row */
  function buildField(row) {
    const id = `quick-${row.path}`;
    /** The row as it is now: units and ranges change. */
    let now = row;
    const tell = () => ({ label: now.label, help: now.help ?? "", range: now.least ? say("page.help.range_places", { least: now.least, most: `${now.most} ${now.unit}`.trim() }) : "" });
    const hint = make("span", { class: "hint", id: `${id}-hint` });
    const name = make("div", { class: "field-label" }, make("label", { for: id, text: row.label }), helpButton(row.label, tell));
    if (row.kind === "choice") {
      const select = make("select", { id, onchange: () => type(row.path, select.value) }, ...row.options.map(({ value, label }) => make("option", { value, text: label })));
      updates.set(row.path, (row) => {
        now = row;
        select.value = row.text;
      });
      return make("div", { class: "quick-field", "data-path": row.path }, name, make("div", { class: "entry choice" }, select, icon("down")), hint);
    }
    const input = make("input", { id, type: "text", autocomplete: "off", autocapitalize: "off", spellcheck: "false", maxlength: "60", enterkeyhint: "next", "aria-describedby": `${id}-hint ${id}-problem`, oninput: () => type(row.path, input.value.trim()) });
    const unit = make("span", { class: "unit", "aria-hidden": "true" });
    input.value = here().get(row.path) ?? "";
    // The key for done leads on, as on paper from line to line.
    input.addEventListener("keydown", ({ key, isComposing }) => {
      if (key !== "Enter" || isComposing) return;
      const all = Array.from(fields.querySelectorAll("input"));
      all[(all.indexOf(input) + 1) % all.length]?.focus();
    });
    const problem = make("p", { class: "problem", id: `${id}-problem`, hidden: true });
    problems.append(problem);
    updates.set(row.path, (row) => {
      now = row;
      setAttribute(input, "inputmode", row.inputmode);
      setAttribute(input, "placeholder", row.by_rule ? row.text : null);
      setAttribute(input, "aria-invalid", row.problem ? "true" : null);
      setText(unit, row.unit);
      setText(hint, row.by_rule ? row.usual : "");
      setText(problem, row.problem);
      problem.hidden = row.problem === "";
    });
    return make("div", { class: "quick-field", "data-path": row.path }, name, make("div", { class: "entry" }, input, unit), hint);
  }

  /** @param {number} count rows that hold something @param {number} most */
  function updateRows(count, most) {
    rows.hidden = most === 0;
    const key = check === "area" ? "page.quick.sail" : "page.quick.reading";
    const shown = Math.min(most, Math.max(count, at + 1));
    setAttribute(rows, "aria-label", say(key, { number: at + 1 }));
    const known = `${say(key, { number: shown })} ${count}`;
    if (rows.dataset.known !== known) {
      rows.dataset.known = known;
      const chip = (/** @type {number} */ number) => make("button", { type: "button", class: "chip", text: String(number + 1), "aria-label": say(key, { number: number + 1 }), onclick: () => turn(number) });
      const focused = Array.from(rows.children).indexOf(/** @type {Element} */ (document.activeElement));
      rows.replaceChildren(...Array.from({ length: shown }, (_, number) => chip(number)));
      if (shown < most && shown === count) rows.append(make("button", { type: "button", class: "chip", id: "quick-row-add", label: "page.quick.more", onclick: () => turn(shown) }, icon("plus")));
      if (focused >= 0) /** @type {HTMLElement} */ (rows.children[at])?.focus();
    }
    Array.from(rows.children).forEach((button, number) => setAttribute(button, "aria-pressed", button.id ? null : String(number === at)));
  }

  /** @param {number} row */
  function turn(row) {
    at = row;
    update();
  }

  function update() {
    choose.value = check;
    masts.update(desk.open && check !== "inclining" ? mastNames(desk.text).names : []);
    caution.textContent = say(CHECKS.get(check) ?? "");
    const quick = ask();
    if (!quick) {
      answer.textContent = say("page.fault.no_wasm");
      return;
    }
    const key = JSON.stringify([check, at, ...quick.fields.map(({ path, options, label }) => [path, label, options])]);
    if (key !== built) {
      const focus = document.activeElement?.id ?? "";
      built = key;
      updates = new Map();
      problems.replaceChildren();
      fields.dataset.check = check;
      fields.replaceChildren(...quick.fields.map(buildField));
      const again = focus.startsWith("quick-") ? document.getElementById(focus) : null;
      if (again && document.activeElement !== again) again.focus();
    }
    for (const row of quick.fields) updates.get(row.path)?.(row);
    updateRows(quick.rows, quick.most);

    const [first, ...rest] = quick.figures;
    if (!first) setText(answer, "–");
    else setText(answer, `${first.value}${first.unit === "°" || first.unit === "%" ? "" : "\u00a0"}${first.unit}`.trim());
    const names = JSON.stringify(quick.figures.map(({ label, value, unit }) => [label, value, unit]));
    if (more.dataset.known !== names) {
      more.dataset.known = names;
      answerName.replaceChildren(...(first ? [first.label, helpButton(first.label, () => ({ label: first.label, help: first.help, basis: first.basis }))] : []));
      more.replaceChildren(...rest.map(({ label, value, unit, help, basis }) => make("div", {}, make("dt", {}, label, helpButton(label, () => ({ label, help, basis }))), make("dd", { text: `${value} ${unit}`.trim() }))));
    }
    told.replaceChildren(...quick.told.map((text) => make("li", { text })));
    const offers = JSON.stringify(quick.writes);
    writes.hidden = desk.lookOnly || !done.hidden;
    if (writes.dataset.known === offers) return;
    writes.dataset.known = offers;
    writes.replaceChildren(...quick.writes.map(([word = "", names = "", edits = ""], number) =>
      make("div", { class: "quick-write" },
        make("button", { type: "button", class: "button", text: word, "aria-describedby": `quick-would-${number}`, onclick: () => {
          if (!desk.commit(edits)) {
            // Why not stands among the notices.
            dialog.close();
            return;
          }
          written(say("page.quick.writes", { fields: names }));
          undo.focus();
        } }),
        make("p", { class: "quiet", id: `quick-would-${number}`, text: say("page.quick.would", { fields: names }) }))));
  }

  return () => {
    written("");
    update();
    dialog.showModal();
  };
}
