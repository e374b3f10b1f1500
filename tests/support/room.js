/**
 * Whether words find room: what is cut by its own box, beyond the edge of the screen, or over other words.
 * @module
 */

import { expect } from "@playwright/test";
import { errand } from "./guide.js";
import { say } from "./words.js";

/** @typedef {import("@playwright/test").Page} Page */

/** Words cut off by their own box. @param {Page} page @returns {Promise<string[]>} */
export const cut = (page) =>
  page.evaluate(() => {
    const within = document.querySelector("dialog[open]") ?? document;
    return [...within.querySelectorAll("button, summary, label, legend, h1, h2, h3, p, dt, dd, th, td, li, figcaption, .unit, .hint, strong")]
      .filter((element) => element.checkVisibility({ visibilityProperty: true }) && !element.closest(".unseen") && element.clientWidth > 1)
      .filter((element) => element.scrollWidth > element.clientWidth + 1 && getComputedStyle(element).display !== "inline")
      .map((element) => `${element.tagName} “${element.textContent?.trim().slice(0, 50)}” ${element.scrollWidth} px in ${element.clientWidth}`);
  });

/** Numbers and choices that a field does not show whole. @param {Page} page @returns {Promise<string[]>} */
export const shortened = (page) =>
  page.evaluate(() => {
    const ink = document.createElement("canvas").getContext("2d");
    const within = document.querySelector("dialog[open]") ?? document;
    /** @type {string[]} */
    const found = [];
    for (const field of /** @type {NodeListOf<HTMLInputElement | HTMLSelectElement>} */ (within.querySelectorAll("input[type=text], select"))) {
      if (!ink || !field.checkVisibility({ visibilityProperty: true }) || field.closest("[data-path$=name]")) continue;
      const { fontWeight, fontSize, fontFamily, paddingLeft, paddingRight } = getComputedStyle(field);
      ink.font = `${fontWeight} ${fontSize} ${fontFamily}`;
      const text = field instanceof HTMLSelectElement ? (field.selectedOptions[0]?.text ?? "") : field.value || field.placeholder;
      const [needs, room] = [ink.measureText(text).width, field.clientWidth - parseFloat(paddingLeft) - parseFloat(paddingRight)];
      if (needs > room + 0.5) found.push(`“${text}” ${needs.toFixed(1)} px in ${room.toFixed(1)}`);
    }
    return found;
  });

/** What lies partly beyond the edge, save in what scrolls by itself. @param {Page} page @returns {Promise<string[]>} */
export const beyond = (page) =>
  page.evaluate(() => {
    const within = document.querySelector("dialog[open]") ?? document.body;
    const found = [...within.querySelectorAll("*")].filter((element) => {
      if (!element.checkVisibility({ visibilityProperty: true }) || element.closest(".scroller, .unseen, #reading, .handles, .skip")) return false;
      const { left, right, width: wide } = element.getBoundingClientRect();
      return wide > 1 && (right > innerWidth + 0.5 || left < -0.5);
    });
    return [...found.map((element) => `${element.tagName} ${element.className} ${element.textContent?.slice(0, 40)}`), ...(document.documentElement.scrollWidth > innerWidth ? ["page"] : [])];
  });

/** Words that lie over other words, save what stays in place while the rest scrolls. @param {Page} page @returns {Promise<string[]>} */
export const overlaps = (page) =>
  page.evaluate(() => {
    const within = document.querySelector("dialog[open]") ?? document.body;
    /** @type {{ box: DOMRect, words: string, of: Element }[]} */
    const lines = [];
    const walk = document.createTreeWalker(within, NodeFilter.SHOW_TEXT);
    for (let node = walk.nextNode(); node; node = walk.nextNode()) {
      const of = node.parentElement;
      const words = node.textContent?.trim() ?? "";
      if (!of || !words || !of.checkVisibility({ visibilityProperty: true }) || of.closest(".unseen, option, textarea, #drawing, #tabs, #notices, .sheet-head, .state, .skip, #reading")) continue;
      const range = document.createRange();
      range.selectNodeContents(node);
      // What has scrolled out of its own box lies over nothing.
      const pane = of.closest("#sections")?.getBoundingClientRect();
      for (const box of range.getClientRects()) if (box.width > 1 && !(pane && (box.bottom < pane.top || box.top > pane.bottom))) lines.push({ box, words, of });
    }
    /** @type {Set<string>} */
    const found = new Set();
    lines.forEach(({ box, words, of }, at) => {
      for (const other of lines.slice(at + 1)) {
        const across = Math.min(box.right, other.box.right) - Math.max(box.left, other.box.left);
        const down = Math.min(box.bottom, other.box.bottom) - Math.max(box.top, other.box.top);
        if (of !== other.of && across > 2 && down > 0.4 * Math.min(box.height, other.box.height)) found.add(`“${words.slice(0, 40)}” and “${other.words.slice(0, 40)}”`);
      }
    });
    return [...found];
  });

/**
 * Goes through what lies over or behind the sections: the table of spars, a help, what the drawing shows, the
 * workshop and what it opens, the projects, with the menu of one of them left open.
 * @param {import("./desk.js").Desk} desk
 * @param {(where: string) => Promise<void>} look
 */
export async function everySheet(desk, look) {
  const { page } = desk;
  await desk.tap(page.getByRole("radio", { name: say("choice.family.table") }).locator("xpath=ancestor::label"));
  await expect(page.locator(".spar-table")).toBeVisible();
  await look("sail by the table");
  await desk.tap(page.getByRole("button", { name: say("page.help.about", { label: say("label.sling_point") }) }));
  await look("help");
  await page.keyboard.press("Escape");
  await desk.tap(page.getByRole("button", { name: say("page.display") }));
  await look("what the drawing shows");
  await page.keyboard.press("Escape");
  await desk.tap(page.locator("#workshop-button"));
  await look("workshop");
  await desk.tap(page.locator("#share-link"));
  await look("share by link");
  await page.keyboard.press("Escape");
  await errand(desk, "page.compare");
  await page.locator("#compare-with").selectOption("demo saltwort");
  await expect(page.locator("#compare table").first()).toBeVisible();
  await look("compare");
  await page.keyboard.press("Escape");
  await errand(desk, "page.glossary");
  await expect(page.locator("#glossary li").first()).toBeVisible();
  await look("glossary");
  await page.keyboard.press("Escape");
  await desk.openProjects();
  const line = await desk.more("Grey Heron");
  await look("projects");
  return line;
}
