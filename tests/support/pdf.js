/**
 * PDF read back by poppler, which may not complain.
 * @module
 */
import { execFileSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";

/** @typedef {{ left: number, right: number, top: number, bottom: number, text: string }} Word points from the page's upper left corner */

/** @template T @param {Uint8Array} pdf @param {(path: string) => T} look @returns {T} */
function onDisk(pdf, look) {
  const folder = mkdtempSync(join(tmpdir(), "battenwright-"));
  try {
    const path = join(folder, "papers.pdf");
    writeFileSync(path, pdf);
    return look(path);
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/** The words of every page, blanks of all kinds alike. @param {Uint8Array} pdf */
export const pagesOf = (pdf) => onDisk(pdf, (path) => execFileSync("pdftotext", ["-layout", path, "-"], { encoding: "utf8" })).split("\f").slice(0, -1).map((page) => page.replace(/\s+/g, " "));

/** Width and height of every page [pt]. @param {Uint8Array} pdf */
export const sizesOf = (pdf) => onDisk(pdf, (path) => [...execFileSync("pdfinfo", ["-l", "999", path], { encoding: "utf8" }).matchAll(/size: +([\d.]+) x ([\d.]+)/g)].map(([, width, height]) => [Math.round(Number(width)), Math.round(Number(height))]));

/** Every word with its box, page by page. @param {Uint8Array} pdf @returns {Word[][]} */
export const boxesOf = (pdf) =>
  onDisk(pdf, (path) => execFileSync("pdftotext", ["-bbox", path, "-"], { encoding: "utf8", maxBuffer: 1e8 }))
    .split("<page ")
    .slice(1)
    .map((page) => [...page.matchAll(/xMin="(.*?)" yMin="(.*?)" xMax="(.*?)" yMax="(.*?)">(.*?)</g)].map(([, left, top, right, bottom, text = ""]) => ({ left: Number(left), right: Number(right), top: Number(top), bottom: Number(bottom), text })));
