/**
 * The projects of this browser: list, new, open, name, duplicate, delete, import, export. Works without
 * the wasm as far as reading and writing files go.
 * @module
 */
import { Refused, Trapped } from "../engine.js";
import { fileName, icon, make, offerFile, setAttribute } from "../elements.js";
import { freeName, newId, peek, readProject } from "../store.js";
import { region, say } from "../words.js";
import { installHelp } from "../offline.js";
import { closeOnBackdrop } from "./help.js";
import { CAUTIONS } from "./paper.js";

/** @typedef {import("../desk.js").Desk} Desk */
/** @typedef {import("../store.js").Listed} Listed */

const FILE_TYPE = "application/json";
const ENDING = ".battenwright.json";
const MOST_LETTERS = 2_000_000;
/** With a photo in it. */
const MOST_FILE = 20_000_000;
/** Fetched only when asked for. */
const photos = () => import("../photos.js");

/** @param {number} bytes */
const sizeWords = (bytes) => say("page.projects.size", { size: (bytes / 1000).toLocaleString(region(), { maximumFractionDigits: bytes < 10_000 ? 1 : 0 }) });

/** @param {string} saved */
function dateWords(saved) {
  const date = new Date(saved);
  return Number.isNaN(date.getTime()) ? "" : date.toLocaleString(region(), { dateStyle: "medium", timeStyle: "short" });
}

/** @param {Desk} desk @param {ReturnType<typeof import("./share.js").makeShare>} share */
export function makeProjects(desk, share) {
  const { store, notices } = desk;
  const list = make("ul", { class: "project-list", id: "project-list" });
  const message = make("p", { class: "sheet-message", role: "status" });
  const file = make("input", { type: "file", id: "import-file", accept: ".json,application/json", hidden: true });
  const keeping = make("p", { class: "quiet" });
  const install = make("div", { class: "install" });
  const fresh = make("div", { class: "new-buttons" });
  const newTitle = make("h3", { word: "page.projects.new" });
  const pasted = make("input", { type: "text", id: "pasted-link", autocomplete: "off", autocapitalize: "off", spellcheck: "false", enterkeyhint: "go" });
  const given = make("form", { class: "rename" }, pasted, make("button", { type: "submit", class: "button", word: "page.link.open" }));
  given.addEventListener("submit", (event) => {
    event.preventDefault();
    void openPasted();
  });
  const dialog = make(
    "dialog",
    { class: "sheet projects-sheet", id: "projects", "aria-labelledby": "projects-title" },
    make(
      "div",
      { class: "sheet-head" },
      make("h2", { id: "projects-title", word: "page.projects" }),
      make("button", { type: "button", class: "icon-button", label: "page.close", onclick: () => dialog.close() }, icon("close")),
    ),
    message,
    list,
    newTitle,
    fresh,
    make(
      "div",
      { class: "section-buttons" },
      make("button", { type: "button", class: "button", id: "import", onclick: () => file.click() }, make("span", { word: "page.import" })),
      make("button", { type: "button", class: "button", id: "export", onclick: () => exportOpen() }, icon("save"), make("span", { word: "page.export" })),
      make("button", { type: "button", class: "button", id: "share-button", word: "page.link.share", onclick: () => void shareOpen() }),
    ),
    file,
    make("label", { for: "pasted-link", word: "page.link.pasted" }),
    given,
    keeping,
    install,
    make("h3", { word: "page.caution" }),
    make("ul", { class: "cautions" }, ...CAUTIONS.map((word) => make("li", { word }))),
  );
  closeOnBackdrop(dialog);
  document.body.append(dialog);

  /** What was deleted last and can be put back, and whether it lay on the desk. @type {{ id: string, raw: string, name: string, open: boolean, photo: Promise<import("../photos.js").Photo | undefined> } | null} */
  let deleted = null;
  /** The project whose name is being typed. */
  let naming = "";
  /** The project whose buttons are open. */
  let unfolded = "";

  /** @param {string} text */
  const tell = (text) => {
    message.textContent = text;
    message.hidden = text === "";
  };

  const taken = () => store.list().map(({ name }) => name);

  function exportOpen() {
    const id = desk.project?.id ?? "";
    const text = desk.open ? desk.text : store.exported(id);
    if (text !== "") void offer(id, desk.project?.name ?? "", text);
  }
  desk.exportOpen = exportOpen;

  async function shareOpen() {
    if (!desk.open) return;
    dialog.close();
    await share.open();
  }

  async function openPasted() {
    const link = pasted.value;
    if (link.trim() === "") return pasted.focus();
    await desk.whenStarted;
    if (desk.engine === null) return tell(say("page.fault.no_wasm"));
    const why = await desk.openLink(link);
    tell(why);
    if (why !== "") return message.scrollIntoView({ block: "nearest" });
    pasted.value = "";
    dialog.close();
  }

  /** @param {string} id */
  function exportStored(id) {
    const name = store.read(id)?.name || say("page.unnamed");
    void offer(id, name, store.exported(id));
  }

  /** @param {string} id @param {string} name @param {string} text */
  async function offer(id, name, text) {
    const whole = await photos().then(({ withPhoto }) => withPhoto(id, name, text)).catch(() => text);
    if (whole !== "") offerFile(fileName(name) + ENDING, whole, FILE_TYPE);
  }

  /** A text with another name, through the workbench so that every other byte keeps its form. @param {string} text @param {string} name */
  function renamed(text, name) {
    return desk.engine?.aside(text, (bench) => {
      bench.edit(JSON.stringify([["name", name]]));
      return bench.text();
    });
  }

  /** @param {string} text @param {string} name */
  async function startNew(text, name) {
    let fitting = text;
    const free = freeName(name, taken());
    try {
      if (free !== name) fitting = renamed(text, free) ?? text;
    } catch {
      // Opening tells what is wrong with it.
    }
    if (await desk.openText(fitting, { store: true })) dialog.close();
  }

  /** @param {string} id */
  function duplicate(id) {
    const project = store.read(id);
    const text = project?.text ?? (desk.project?.id === id ? desk.text : null);
    if (text === null) return;
    const name = freeName(project?.name || desk.project?.name || say("page.unnamed"), taken());
    let copy = text;
    try {
      copy = renamed(text, name) ?? text;
    } catch (fault) {
      if (!(fault instanceof Refused || fault instanceof Trapped)) throw fault;
    }
    const fresh = newId();
    if (!store.write(fresh, name, copy)) tell(say(store.blocked ? "page.fault.blocked" : "page.fault.full"));
    else void photos().then(({ copyPhoto }) => copyPhoto(id, fresh)).catch(() => {});
    draw();
    return fresh;
  }

  /** @param {Listed} listed */
  function remove(listed) {
    const raw = store.raw(listed.id);
    if (raw === null) return;
    const open = desk.project?.id === listed.id;
    const photo = photos().then(({ takePhoto }) => takePhoto(listed.id)).catch(() => undefined);
    deleted = { id: listed.id, raw, name: listed.name || say("page.unnamed"), open, photo };
    store.remove(listed.id);
    if (open) desk.clear(say("page.projects.deleted", { name: deleted.name }), "");
    draw();
    list.querySelector("button")?.focus();
  }

  /** The list is drawn anew at each change: the focus stays with its project. @param {string} id @param {string} button */
  function focusLine(id, button) {
    /** @type {HTMLElement | null} */ (list.querySelector(`[data-project="${CSS.escape(id)}"] ${button}`))?.focus();
  }

  async function putBack() {
    if (!deleted) return;
    const { id, raw, open, photo } = deleted;
    if (!store.writeRaw(id, raw)) tell(say("page.fault.full"));
    else {
      deleted = null;
      const found = await photo;
      if (found) await photos().then(({ writePhoto }) => writePhoto(id, found)).catch(() => tell(say("page.photo.not_kept")));
      // Back on the desk too, unless another lies there by now.
      if (open && !desk.project) await desk.openStored(id);
    }
    draw();
    focusLine(id, ".project-open");
  }

  /** @param {string} id @param {string} name */
  function rename(id, name) {
    naming = "";
    const plain = name.trim();
    if (plain === "") return draw();
    if (desk.project?.id === id && desk.open) desk.commit(JSON.stringify([["name", plain]]));
    else {
      const project = store.read(id);
      if (!project) return draw();
      let { text } = project;
      try {
        text = renamed(text, plain) ?? text;
      } catch {
        // A text that does not open keeps its bytes; only the list shows the new name.
      }
      if (!store.write(id, plain, text)) tell(say("page.fault.full"));
    }
    draw();
  }

  /** @param {string} id */
  async function open(id) {
    // The list is there before the wasm is.
    await desk.whenStarted;
    if (desk.engine === null) {
      tell(say("page.fault.no_wasm"));
      return;
    }
    await desk.openStored(id);
    dialog.close();
  }

  file.addEventListener("change", async () => {
    const chosen = file.files?.[0];
    file.value = "";
    if (!chosen) return;
    if (chosen.size > MOST_FILE) return tell(say("page.import.not_ours"));
    const text = await chosen.text();
    const found = peek(text);
    // What another export has wrapped, or what a store held raw, is taken too.
    const inner = readProject(text)?.text ?? text;
    const seen = peek(inner) ?? found;
    if (!seen?.ours || inner.length > MOST_LETTERS) return tell(say("page.import.not_ours"));
    const name = freeName(seen.name || say("page.unnamed"), taken());
    if (desk.engine) {
      try {
        desk.engine.aside(inner, () => {});
      } catch (fault) {
        return tell(fault instanceof Refused ? fault.message : say("page.fault.document_traps"));
      }
    }
    const id = newId();
    if (!store.write(id, name, inner)) {
      tell(say(store.blocked ? "page.fault.blocked" : "page.fault.full"));
      if (store.blocked && desk.engine && (await desk.openText(inner, { id }))) dialog.close();
      return;
    }
    const kept = inner === text || (await photos().then(({ bringPhoto }) => bringPhoto(id, text)).then(() => true, () => false));
    if (!kept) notices.show("photo", { tone: "danger", text: () => say("page.photo.not_kept") });
    if (desk.engine) await open(id);
    else draw();
  });

  /** @param {Listed} listed */
  function line(listed) {
    const { id } = listed;
    const name = listed.name || say("page.unnamed");
    const here = desk.project?.id === id;
    const facts = [listed.readable ? dateWords(listed.saved) : say("page.projects.unreadable"), sizeWords(listed.bytes)].filter(Boolean).join(" · ");
    const entry = make("li", { class: here ? "here" : "", "data-project": id });
    if (naming === id) {
      const input = make("input", { type: "text", maxlength: "120", label: "page.projects.name", enterkeyhint: "done" });
      input.value = name;
      const form = make("form", { class: "rename" }, input, make("button", { type: "submit", class: "button", word: "page.projects.rename_done" }));
      form.addEventListener("submit", (event) => {
        event.preventDefault();
        rename(id, input.value);
      });
      input.addEventListener("keydown", (event) => {
        if (event.key !== "Escape") return;
        event.preventDefault();
        naming = "";
        draw();
      });
      entry.append(form);
      requestAnimationFrame(() => input.select());
      return entry;
    }
    const more = make("button", { type: "button", class: "icon-button", "aria-expanded": String(unfolded === id) }, icon("more"));
    setAttribute(more, "aria-label", say("page.projects.more", { name }));
    more.addEventListener("click", () => {
      unfolded = unfolded === id ? "" : id;
      draw();
      focusLine(id, ".icon-button");
    });
    const main = make("button", { type: "button", class: "project-open", "aria-current": here ? "true" : undefined, onclick: () => void open(id) }, make("strong", { text: name }), make("span", { class: "quiet", text: facts }));
    entry.append(main, more);
    if (unfolded === id)
      entry.append(
        make(
          "div",
          { class: "project-buttons" },
          listed.readable
            ? make("button", { type: "button", class: "button", word: "page.projects.rename", onclick: () => {
                naming = id;
                draw();
              } })
            : null,
          listed.readable ? make("button", { type: "button", class: "button", word: "page.projects.duplicate", onclick: () => duplicate(id) }) : null,
          make("button", { type: "button", class: "button", word: listed.readable ? "page.export" : "page.projects.export_text", onclick: () => exportStored(id) }),
          make("button", { type: "button", class: "button danger", word: "page.projects.delete", onclick: () => remove(listed) }),
        ),
      );
    return entry;
  }

  function draw() {
    const listed = store.list();
    list.replaceChildren(...listed.map(line));
    if (listed.length === 0) list.append(make("li", { class: "quiet empty", word: store.blocked ? "page.fault.blocked" : "page.projects.none" }));
    if (deleted)
      list.prepend(
        make("li", { class: "deleted" }, make("span", { text: say("page.projects.deleted", { name: deleted.name }) }), make("button", { type: "button", class: "button", id: "undelete", word: "page.undo", onclick: () => void putBack() })),
      );
    const { engine } = desk;
    newTitle.hidden = engine === null;
    const start = [{ word: "page.projects.blank", run: () => void startNew(engine?.blankText() ?? "", say("page.unnamed")) }];
    fresh.replaceChildren(
      ...(engine
        ? [
            ...engine.demoKeys().map((key) => {
              const text = engine.demoText(key);
              const name = peek(text)?.name || key;
              return make("button", { type: "button", class: "new-button", "data-demo": key, onclick: () => void startNew(text, name) }, make("strong", { text: name }), make("span", { class: "quiet", word: `page.demo.${key}` }));
            }),
            ...start.map(({ word, run }) => make("button", { type: "button", class: "new-button", id: "new-blank", onclick: run }, make("strong", { word }), make("span", { class: "quiet", word: "page.projects.blank_says" }))),
          ]
        : []),
    );
    install.replaceChildren(...installHelp(draw));
    void store.persisted().then((kept) => {
      keeping.textContent = kept ? "" : say("page.storage.may_clear");
      keeping.hidden = kept;
    });
  }

  dialog.addEventListener("close", () => {
    deleted = null;
    naming = "";
    unfolded = "";
  });

  return {
    /** @param {string} [why] */
    open(why = "") {
      desk.settle();
      tell(why);
      draw();
      if (!dialog.open) dialog.showModal();
      if (desk.engine === null)
        void desk.whenStarted.then(() => {
          if (dialog.open && desk.engine) draw();
        });
    },
    exportStored,
    duplicate,
    startNew,
    notices,
  };
}
