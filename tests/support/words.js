/**
 * The page's words by their keys, so that a journey asks for what a user reads and breaks when a key goes.
 * @module
 */
import { readFileSync } from "node:fs";

/** The English catalogue. @type {Record<string, string>} */
export const catalogue = JSON.parse(readFileSync(new URL("../../www/texts/en.json", import.meta.url), "utf8"));

/** The German catalogue. @type {Record<string, string>} */
export const german = JSON.parse(readFileSync(new URL("../../www/texts/de.json", import.meta.url), "utf8"));

/** The catalogue of the page under test. */
let spoken = catalogue;

/** Chooses the catalogue that {@link say} reads. @param {Record<string, string>} words */
export function speak(words) {
  spoken = words;
}

/**
 * The words of a key, places filled; `n` chooses between `key.one` and `key.many`.
 * @param {string} key
 * @param {Record<string, string | number>} [places]
 */
export function say(key, places = {}) {
  const chosen = "n" in places ? `${key}.${Number(places.n) === 1 ? "one" : "many"}` : key;
  const words = spoken[chosen];
  if (words === undefined) throw new Error(`the catalogue has no ${chosen}`);
  return words.replace(/\{([a-z_]+)\}/g, (whole, name) => (name in places ? String(places[name]) : whole));
}

/** What a vowel becomes in the made-up language: no English word holds such letters, so they show what came through the catalogue. */
const DRAWN = new Map([["a", "aä"], ["e", "eë"], ["i", "iï"], ["o", "oö"], ["u", "uü"], ["y", "yÿ"]]);

/**
 * A text of the made-up language: 40 % longer, places in braces as they are. Every vowel is drawn out, and
 * what is still wanting is spread over the ends of the words.
 * @param {string} text
 */
export function drawnOut(text) {
  const parts = text.split(/(\{[a-z_]+\})/);
  const words = parts.flatMap((part, at) => (at % 2 === 1 ? [part] : part.split(/(\p{L}+)/u)));
  const isWord = (/** @type {string} */ word) => /^\p{L}/u.test(word);
  const length = words.filter((word) => !word.startsWith("{")).join("").length;
  let wanting = Math.ceil(length * 0.4);
  const longer = words.map((word) => {
    if (!isWord(word)) return word;
    return word.replace(/[aeiouy]/gi, (vowel) => {
      wanting -= 1;
      const drawn = DRAWN.get(vowel.toLowerCase()) ?? vowel;
      return vowel === vowel.toLowerCase() ? drawn : drawn.charAt(0).toUpperCase() + drawn.slice(1);
    });
  });
  const ends = longer.flatMap((word, at) => (isWord(word) ? [at] : []));
  for (let turn = 0; wanting > 0 && ends.length > 0; turn += 1, wanting -= 1) longer[ends[turn % ends.length] ?? 0] += "ö";
  return longer.join("");
}

/** The tag of the made-up language: for private use, so that dates and readers take it for English. */
export const LONGER = "en-x-longer";

/** The catalogue of the made-up language. @type {Record<string, string>} */
export const longerWords = Object.fromEntries(Object.entries(catalogue).map(([key, text]) => [key, drawnOut(text)]));

/** Begins of keys, to know one that was shown in place of its words. */
export const keyFamilies = [...new Set(Object.keys(catalogue).map((key) => key.split(".")[0] ?? ""))];
