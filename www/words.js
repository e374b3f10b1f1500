/**
 * The catalogue: every word a user reads, by key. The page's own keys begin with "page.".
 * @module
 */

/** @type {Record<string, string>} */
let catalogue = {};
/** The catalogue as JSON, for the wasm side, which has no words of its own. */
let carried = "{}";
let tongue = "en";
/** The language asked for last: of two that are fetched at once it stays. */
let asked = "";

/** The languages there is a catalogue of, each called by itself: who looks for it must know it. */
export const LANGUAGES = new Map([
  ["en", "English"],
  ["de", "Deutsch"],
]);

/** The language chosen here, else the first of the browser's that there is a catalogue of. @param {unknown} chosen */
export function languageOf(chosen) {
  if (typeof chosen === "string" && chosen !== "") return chosen;
  return navigator.languages.map((tag) => tag.replace(/-.*/, "").toLowerCase()).find((tag) => LANGUAGES.has(tag)) ?? "en";
}

/** @typedef {{ spelled: (packed: Uint8Array) => string }} Speller */

/**
 * A file of words: what the build made of a catalogue, packed over the line and plain from the service worker's cache;
 * or a catalogue as written.
 * @param {string} name
 */
async function fetchWords(name) {
  const answer = await fetch(`./texts/${name}.bin`);
  if (!answer.ok) throw new Error(`no words in ${name}`);
  if (answer.headers.get("content-type") === "application/json") return /** @type {unknown} */ (await answer.json());
  const [bytes] = await Promise.all([answer.arrayBuffer(), import("./unpack.js")]);
  return /** @type {Speller} */ (/** @type {unknown} */ (self)).spelled(new Uint8Array(bytes));
}

/** @param {unknown} read @returns {Record<string, string>} */
const asCatalogue = (read) => (typeof read === "string" ? unfoldWords(read) : /** @type {Record<string, string>} */ (read));

/**
 * Reads the catalogue of a language; English stands in when it is not to be had.
 * @param {string} language
 */
export async function loadWords(language) {
  asked = language;
  const wanted = /^[a-z]{2,3}(-[A-Za-z0-9]{1,8})*$/.test(language) ? language : "en";
  // Both at once: the other language has no keys of its own.
  const [english, other] = await Promise.all(["en", ...(wanted === "en" ? [] : [wanted])].map((name) => fetchWords(name).catch(() => undefined)));
  if (asked !== language) return;
  /** @type {Record<string, string> | undefined} */
  let words;
  try {
    words = typeof other === "string" ? matched(asCatalogue(english), other) : /** @type {Record<string, string> | undefined} */ (other);
    if (words) tongue = wanted;
    else if (english) {
      words = asCatalogue(english);
      tongue = "en";
    }
  } catch {
    // Keys as words: the store must work all the same.
  }
  if (words) {
    catalogue = words;
    carried = JSON.stringify(catalogue);
  }
  document.documentElement.lang = tongue;
}

/**
 * The catalogue of another language: a line for each key of English in its order, empty where the words are the same.
 * Nothing where there are not as many, for then they are of another version.
 * @param {Record<string, string>} english @param {string} lines
 */
function matched(english, lines) {
  const keys = Object.keys(english).sort();
  const said = lines.split("\n");
  return said.length === keys.length ? Object.fromEntries(keys.map((key, at) => [key, said[at] || (english[key] ?? "")])) : undefined;
}

/**
 * The catalogue of what the build made of it: by line, each dot before a key for one more part of the key before,
 * a label behind its help.
 * @param {string} folded
 */
function unfoldWords(folded) {
  /** @type {Record<string, string>} */
  const words = {};
  let before = "";
  for (const line of folded.split("\n")) {
    const gap = line.indexOf(" ");
    const tab = line.indexOf("\t", gap);
    let dots = 0;
    let like = 0;
    for (; line[dots] === "."; dots += 1) like = before.indexOf(".", like) + 1;
    const key = before.slice(0, like) + line.slice(dots, gap);
    before = `${key}.`;
    words[key] = line.slice(gap + 1, tab < 0 ? undefined : tab);
    if (tab > 0) words[key.replace("help", "label")] = line.slice(tab + 1);
  }
  return words;
}

/** The catalogue's text, for the wasm side. */
export const carriedWords = () => carried;

/** The language spoken. */
export const spoken = () => tongue;

/** Whose way of writing dates and numbers is followed, as a locale: the catalogue's English is British. */
export const region = () => tongue.replace(/^en(?![a-z]|-[A-Z])/, "en-GB");

/**
 * The words of a key, places filled; the argument `n` chooses between `key.one` and `key.many`.
 * @param {string} key
 * @param {Record<string, string | number>} [places]
 * @returns {string}
 */
export function say(key, places = {}) {
  const plural = "n" in places ? `${key}.${Number(places.n) === 1 ? "one" : "many"}` : key;
  const words = catalogue[plural] ?? catalogue[key] ?? key;
  return words.replace(/\{([a-z_]+)\}/g, (whole, name) => (name in places ? String(places[name]) : whole));
}
