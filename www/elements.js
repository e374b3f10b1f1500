/**
 * Making elements and icons. No markup strings: what comes from a document can never become markup.
 * @module
 */
import { say } from "./words.js";

/** What was made with words of the catalogue, in the page or out of it. @type {WeakRef<Element>[]} */
let worded = [];
/** Its keys. @type {WeakMap<Element, { word?: string, label?: string }>} */
const keys = new WeakMap();
/** So many are kept before those that are gone are let go [pieces]. */
let full = 2000;

/** @param {Element} element @param {"word" | "label"} how @param {string} key */
function putWords(element, how, key) {
  const known = keys.get(element);
  if (known) known[how] = key;
  else {
    if (worded.length >= full) {
      worded = worded.filter((one) => one.deref());
      full = 2 * worded.length + 2000;
    }
    worded.push(new WeakRef(element));
    keys.set(element, { [how]: key });
  }
  if (how === "word") element.textContent = say(key);
  else element.setAttribute("aria-label", say(key));
}

/** Says everything anew that was made with words, when the language has changed. */
export function sayAgain() {
  for (const held of worded) {
    const element = held.deref();
    const { word, label } = (element && keys.get(element)) ?? {};
    if (element && word !== undefined) setText(element, say(word));
    if (element && label !== undefined) setAttribute(element, "aria-label", say(label));
  }
  document.querySelectorAll("[data-word]").forEach((element) => setText(element, say(element.getAttribute("data-word") ?? "")));
}

/**
 * One element. `word` sets its text and `label` its aria-label from the catalogue, `text` its text as
 * given; functions named on… become listeners; true sets a bare attribute, false and undefined none.
 * @template {keyof HTMLElementTagNameMap} T
 * @param {T} tag
 * @param {Record<string, unknown>} [attributes]
 * @param {(Node | string | null | undefined)[]} children
 * @returns {HTMLElementTagNameMap[T]}
 */
export function make(tag, attributes = {}, ...children) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (value === undefined || value === false || value === null) continue;
    if (name === "word" || name === "label") putWords(element, name, String(value));
    else if (name === "text") element.textContent = String(value);
    else if (name.startsWith("on") && typeof value === "function")
      element.addEventListener(name.slice(2), /** @type {EventListener} */ (value));
    else element.setAttribute(name, value === true ? "" : String(value));
  }
  for (const child of children) if (child !== null && child !== undefined) element.append(child);
  return element;
}

/** Strokes on a grid of 24, drawn for this page. */
const STROKES = {
  undo: "M9 5 4.5 9.5 9 14 M4.5 9.5H14a5.5 5.5 0 0 1 0 11h-3",
  redo: "M15 5l4.5 4.5L15 14 M19.5 9.5H10a5.5 5.5 0 0 0 0 11h3",
  projects: "M4 6.5h5l2 2.5h9v10H4z",
  lock: "M6.5 11h11v8.5h-11z M8.5 11V8a3.5 3.5 0 0 1 7 0v3",
  unlock: "M6.5 11h11v8.5h-11z M8.5 11V7.5a3.5 3.5 0 0 1 6.6-1.6",
  fit: "M4.5 9V4.5H9 M15 4.5h4.5V9 M19.5 15v4.5H15 M9 19.5H4.5V15",
  layers: "M12 4 3.5 8.5 12 13l8.5-4.5z M3.5 12.5 12 17l8.5-4.5 M3.5 16.2 12 20.7l8.5-4.5",
  plus: "M12 5v14 M5 12h14",
  minus: "M5 12h14",
  close: "M6 6l12 12 M18 6 6 18",
  down: "M6 9.5l6 6 6-6",
  copy: "M8.5 8.5h11v11h-11z M15.5 8.5v-4h-11v11h4",
  save: "M12 4v11 M7 10.5l5 5 5-5 M4.5 19.5h15",
  print: "M7 9V4.5h10V9 M7 16.5H4.5V9h15v7.5H17 M7.5 14h9v6h-9z",
  usual: "M5 5v5h5 M5.6 10A7.5 7.5 0 1 1 4.7 14",
  look: "M2.5 12S6 5.5 12 5.5 21.5 12 21.5 12 18 18.5 12 18.5 2.5 12 2.5 12z M12 9.2a2.8 2.8 0 1 0 0 5.6 2.8 2.8 0 0 0 0-5.6z",
  passed: "M5 12.5l4.500 4.500L19 7.500",
  danger: "M12 4 2.8 19.5h18.4z M12 10v4.6 M12 16.6v.9",
  workshop: "M4 7h16 M4 12h16 M4 17h16",
  more: "M5.5 12h.01 M12 12h.01 M18.5 12h.01",
};

/**
 * A drawn icon, hidden from readers of the page: its button carries the words.
 * @param {keyof typeof STROKES} name
 * @returns {SVGSVGElement}
 */
export function icon(name) {
  const picture = strokes(STROKES[name], 24, 24);
  picture.setAttribute("class", `icon icon-${name}`);
  return picture;
}

/**
 * @param {string} path @param {number} width @param {number} height
 * @returns {SVGSVGElement}
 */
export function strokes(path, width, height) {
  const picture = document.createElementNS("http://www.w3.org/2000/svg", "svg");
  picture.setAttribute("viewBox", `0 0 ${width} ${height}`);
  picture.setAttribute("aria-hidden", "true");
  picture.setAttribute("focusable", "false");
  const line = document.createElementNS("http://www.w3.org/2000/svg", "path");
  line.setAttribute("d", path);
  picture.append(line);
  return picture;
}

/**
 * A drawing of the engine's as an element; nothing where it is none. Its names are its own: several may stand on one page.
 * @param {string} svg
 */
export function picture(svg) {
  const drawn = new DOMParser().parseFromString(svg, "image/svg+xml").documentElement;
  if (drawn.localName !== "svg") return null;
  const element = document.importNode(drawn, true);
  const title = element.querySelector("title")?.textContent;
  if (title) element.setAttribute("aria-label", title);
  element.removeAttribute("aria-labelledby");
  element.querySelectorAll("[id]").forEach((part) => part.removeAttribute("id"));
  return element;
}

/** What was last set where: asking the page costs more than remembering. @type {WeakMap<Node, string>} */
const texts = new WeakMap();

/**
 * Sets text only where it differs: a node that is left alone keeps its selection and costs nothing. Nobody else
 * may write into such a node.
 * @param {Node} node @param {string} text
 */
export function setText(node, text) {
  if (texts.get(node) === text) return;
  texts.set(node, text);
  const only = node.firstChild;
  // Cheaper than a new node, where one of text is all there is.
  if (only instanceof Text && !only.nextSibling) only.data = text;
  else if (node.textContent !== text) node.textContent = text;
}

/** @param {Element} element @param {string} name @param {string | null} value */
export function setAttribute(element, name, value) {
  if (value === null) {
    if (element.hasAttribute(name)) element.removeAttribute(name);
  } else if (element.getAttribute(name) !== value) element.setAttribute(name, value);
}

/**
 * Hands the user a file.
 * @param {string} name @param {BlobPart} content @param {string} type
 */
export function offerFile(name, content, type) {
  const address = URL.createObjectURL(new Blob([content], { type }));
  const link = make("a", { href: address, download: name, hidden: true });
  document.body.append(link);
  link.click();
  link.remove();
  // Some browsers read the blob only after the click has been handled.
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
}

/**
 * A name that every file system takes.
 * @param {string} name
 */
export function fileName(name) {
  const plain = name.trim().toLowerCase().replace(/[^\p{L}\p{N}]+/gu, "-").replace(/^-+|-+$/g, "").slice(0, 60);
  return plain || "design";
}

/**
 * Copies text; false where the browser does not let us.
 * @param {string} text
 */
export async function copyText(text) {
  try {
    await navigator.clipboard.writeText(text);
    return true;
  } catch {
    const area = make("textarea", { class: "unseen", readonly: true, "aria-hidden": "true", tabindex: "-1" });
    area.value = text;
    const before = document.activeElement;
    document.body.append(area);
    area.select();
    let done = false;
    try {
      done = document.execCommand("copy");
    } catch {
      // Told by the answer.
    }
    area.remove();
    if (before instanceof HTMLElement) before.focus();
    return done;
  }
}
