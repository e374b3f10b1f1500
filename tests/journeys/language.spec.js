// Every word through the catalogue: in the made-up language no English word is left, and words find room.
import { DEMOS } from "../support/desk.js";
import { blemishes, expect, test } from "../support/journey.js";
import { cut, everySheet } from "../support/room.js";
import { LONGER, catalogue, longerWords, say } from "../support/words.js";

test.use({ language: LONGER });

/** Words of the page that did not come through the catalogue. @param {import("@playwright/test").Page} page @returns {Promise<string[]>} */
const foreign = (page) =>
  page.evaluate(() => {
    /** @type {Set<string>} */
    const found = new Set();
    // What a user or a demo has named, and dates as the browser writes them.
    const own = "#design-name, .project-open, .mast-chooser, #hoist-of option, [data-path$='.name'], [data-path='name'], [data-path='note'], script, style, noscript, #too-old, .new-button strong, .report";
    const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_ELEMENT | NodeFilter.SHOW_TEXT);
    for (let node = walk.nextNode(); node; node = walk.nextNode()) {
      const element = node instanceof Element ? node : node.parentElement;
      if (!element || element.closest(own)) continue;
      const texts = node instanceof Element ? ["aria-label", "aria-valuetext", "placeholder", "alt", "title"].map((name) => element.getAttribute(name)) : [node.textContent];
      for (const text of texts)
        for (const word of text?.replace(/^An invented boat.*/, "").match(/\p{L}{3,}/gu) ?? [])
          if (/[aeiouy]/i.test(word) && !/[äëïöüÿ]/i.test(word)) found.add(`${word} in “${text?.trim()}”`);
    }
    return [...found];
  });

/** Names that stand in a demo's document, and signs of units: no words of the page. */
const NAMES = new RegExp([...Object.values(DEMOS).flatMap((name) => name.split(" ")), "fore", "main", "mizzen", "Battenwright", "MPa", "GPa", "English", "Deutsch"].map((name) => `^${name} in `).join("|"));

test("made-up language-is 40 % longer", () => {
  const long = Object.keys(catalogue).filter((key) => (catalogue[key] ?? "").replace(/\{[a-z_]+\}/g, "").length > 3);
  for (const key of long.filter((name) => /\p{L}/u.test((catalogue[name] ?? "").replace(/\{[a-z_]+\}/g, "")))) {
    const [english, longer] = [catalogue[key] ?? "", longerWords[key] ?? ""].map((text) => text.replace(/\{[a-z_]+\}/g, "").length);
    expect(longer, key).toBeGreaterThanOrEqual((english ?? 0) * 1.39);
    expect((longerWords[key] ?? "").match(/\{[a-z_]+\}/g), key).toEqual((catalogue[key] ?? "").match(/\{[a-z_]+\}/g));
  }
});

test("page in a longer language-every section and dialog-has all its words and room for them", async ({ desk, page }) => {
  await desk.openDemo("grey-heron");
  await expect(page.locator("html")).toHaveAttribute("lang", LONGER);
  /** @param {string} where */
  async function look(where) {
    expect((await foreign(page)).filter((word) => !NAMES.test(word)), where).toEqual([]);
    expect(await cut(page), where).toEqual([]);
    expect(await blemishes(page), where).toEqual([]);
  }
  for (const section of /** @type {const} */ (["boat", "sail", "reefs", "balance", "lines", "spars", "cloth"])) {
    await desk.section(section);
    await page.getByRole("tabpanel").evaluate((panel) => {
      for (const group of panel.querySelectorAll("details")) group.open = true;
    });
    if (section === "reefs") await desk.tap(page.locator("#reef-table tr[data-state]").nth(1).getByRole("button").nth(1));
    await look(section);
  }
  await desk.section("sail");
  await desk.type(desk.field("rise"), "35");
  await desk.type(desk.field("chord"), "1,234.5");
  await desk.type(desk.field("panel_width"), "??");
  const notes = page.getByRole("region", { name: say("page.attention") });
  const open = notes.getByRole("button").first();
  if ((await open.getAttribute("aria-expanded")) === "false") await desk.tap(open);
  await look("problems and notes");
  await everySheet(desk, look);
});

test("page in a language that is not there-opens in English", async ({ page, desk, watch }) => {
  watch.expect(/Failed to load resource/);
  await page.addInitScript(() => localStorage.setItem("battenwright.view", '{"language":"qaa"}'));
  await page.goto("./");
  await expect(page.getByRole("tab", { name: catalogue["page.section.reefs"] })).toBeVisible();
  await expect(page.locator("html")).toHaveAttribute("lang", "en");
  expect(await blemishes(desk.page)).toEqual([]);
});
