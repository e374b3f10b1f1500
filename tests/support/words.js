/**
 * The page's words by their keys, so that a journey asks for what a user reads and breaks when a key goes.
 * @module
 */
import { readFileSync } from "node:fs";

/** The English catalogue. @type {Record<string, string>} */
export const catalogue = JSON.parse(readFileSync(new URL("../../www/texts/en.json", import.meta.url), "utf8"));

/**
 * The words of a key, places filled; `n` chooses between `key.one` and `key.many`.
 * @param {string} key
 * @param {Record<string, string | number>} [places]
 */
export function say(key, places = {}) {
  const chosen = "n" in places ? `${key}.${Number(places.n) === 1 ? "one" : "many"}` : key;
  const words = catalogue[chosen];
  if (words === undefined) throw new Error(`the catalogue has no ${chosen}`);
  return words.replace(/\{([a-z_]+)\}/g, (whole, name) => (name in places ? String(places[name]) : whole));
}

/** Letters that no word of the English catalogue has: they mark what came through a catalogue. */
const LONGER = new Map([["a", "aä"], ["e", "eë"], ["i", "iï"], ["o", "oö"], ["u", "uü"], ["y", "yÿ"]]);

/**
 * One text of a made-up language: every vowel doubled, then drawn out until it is 40 % longer. Places in
 * braces stay as they are.
 * @param {string} text
 */
export function drawnOut(text) {
  const parts = text.split(/(\{[a-z_]+\})/);
  const letters = parts.filter((_, at) => at % 2 === 0).join("").length;
  const wanted = Math.ceil(letters * 1.4);
  let length = letters;
  const longer = parts.map((part, at) =>
    at % 2 === 1 ? part : part.replace(/[aeiouy]/gi, (vowel) => {
      const drawn = LONGER.get(vowel.toLowerCase()) ?? vowel;
      length += 1;
      return vowel === vowel.toLowerCase() ? drawn : drawn[0]?.toUpperCase() + drawn.slice(1);
    }),
  );
  // Drawn out at the end of its last word, where a long word pushes hardest.
  const last = longer.length - 1;
  const rest = Math.max(0, wanted - length);
  if (letters > 0) longer[last] = (longer[last] ?? "").replace(/^([\s\S]*?)([.:!?]*\s*)$/, (_, words, end) => `${words}${"ö".repeat(rest)}${end}`);
  return longer.join("");
}

/** The made-up language as a catalogue file. */
export const madeUpLanguage = () => JSON.stringify(Object.fromEntries(Object.entries(catalogue).map(([key, text]) => [key, drawnOut(text)])));
