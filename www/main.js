/**
 * Starts the page: words and wasm, the project last open, its drawing; then whatever stands around it.
 * @module
 */
import { Desk } from "./desk.js";
import { sayAgain } from "./elements.js";
import { Engine } from "./engine.js";
import { isLink, shortOf } from "./link.js";
import { Store } from "./store.js";
import { languageOf, loadWords } from "./words.js";
import { makeDrawing } from "./views/drawing.js";
import { Notices } from "./views/notices.js";
import { standBy } from "./worker.js";

/** The demo that a first visit finds on the desk. */
const FIRST = "marsh-pippin";

/** @param {string} id */
function part(id) {
  const element = document.getElementById(id);
  if (!element) throw new Error(`the page has no #${id}`);
  return element;
}

/** What stands around the drawing. */
const around = () => import("./page.js");

/**
 * Lays on the desk what the link of this page holds; where it cannot be, what would lie there without it.
 * @param {Desk} desk @param {Promise<string>} short @param {() => Promise<unknown>} usual
 */
async function byLink(desk, short, usual) {
  const text = await desk.openLink(location.hash, short);
  if (text === "") return;
  desk.notices.show("link", { tone: "danger", text });
  await usual();
}

async function start() {
  const store = new Store();
  const stored = store.readView();
  // Both at once: neither waits for the other.
  const loading = Engine.load(() => {
    // What stands around comes over a slow line while the wasm is compiled; from the cache it is there in a moment, after the drawing.
    if (!navigator.serviceWorker?.controller) void around();
  }).catch(() => null);
  const short = isLink(location.hash) ? shortOf(location.hash) : null;
  short?.catch(() => {});
  await loadWords(languageOf(stored.language));
  sayAgain();

  const desk = new Desk(store, new Notices(part("notices")));
  const drawing = makeDrawing(part("canvas-pane"), desk);
  part("page").hidden = false;

  const engine = await loading;
  /** What the desk tells before there is a page to tell it to. @type {[string, string][]} */
  const told = [];
  desk.onEmpty = (reason, id) => told.push([reason, id]);
  /** @type {Promise<unknown> | null} */
  let opening = null;
  if (engine) {
    desk.setEngine(engine);
    const usual = () => {
      const last = store.lastOpen(desk.settings.project);
      return last === null ? desk.openText(engine.demoText(FIRST)) : desk.openStored(last);
    };
    opening = short ? byLink(desk, short, usual).then(() => drawing.show()) : usual();
    drawing.show();
  }
  const { layOut } = await around();
  await opening;
  const page = layOut(desk, drawing, part);
  if (!engine) page.withoutEngine();
  for (const [reason, id] of told) desk.onEmpty(reason, id);
  desk.started();
}

// In a worker there is no page; where first.js has said why not in a plain sentence, there is none either.
if (!globalThis.document) standBy();
else if (!document.documentElement.hasAttribute("data-too-old")) void start();
