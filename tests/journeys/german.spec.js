// A second language: chosen in the page or by the browser, complete, with numbers as it writes them.
import { AxeBuilder } from "@axe-core/playwright";
import { errand } from "../support/guide.js";
import { blemishes, expect, test } from "../support/journey.js";
import { beyond, cut, everySheet, overlaps, shortened } from "../support/room.js";
import { catalogue, german, say, speak } from "../support/words.js";

/** @typedef {import("@playwright/test").Page} Page */

const SECTIONS = /** @type {const} */ (["boat", "sail", "reefs", "balance", "lines", "spars", "cloth"]);

/** English words that are said otherwise in German; a mast may be called fore. */
const ENGLISH = [...new Set(Object.entries(catalogue).filter(([key, words]) => german[key] !== words && words.length > 3 && words !== "fore" && !words.includes("{")).map(([, words]) => words.trim()))].filter((words) => !Object.values(german).includes(words));

/** What stands in the page in English or with a decimal point, save in sections and dialogs that are brought up to date as they open. @param {Page} page @returns {Promise<string[]>} */
const untranslated = (page) =>
  page.evaluate((english) => {
    const known = new Set(english);
    /** @type {Set<string>} */
    const found = new Set();
    const own = "#design-name, [data-path$='.name'], [data-path='name'], [data-path='note'], script, style, noscript, #too-old, #reading, .new-button strong, [role=tabpanel][hidden], dialog:not([open])";
    const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_ELEMENT | NodeFilter.SHOW_TEXT);
    for (let node = walk.nextNode(); node; node = walk.nextNode()) {
      const element = node instanceof Element ? node : node.parentElement;
      if (!element || element.closest(own)) continue;
      const texts = node instanceof Element ? ["aria-label", "aria-valuetext", "placeholder", "alt"].map((name) => element.getAttribute(name)) : [node.textContent];
      for (const text of texts) {
        const words = text?.trim().replace(/^An invented boat.*/, "") ?? "";
        // Dates, a demo's own note and the number of a rule of law are none of these.
        if (known.has(words) || /\d\.\d/.test(words.replace(/46 CFR 28\.575|\d+\.\d+\.\d{4}/, ""))) found.add(`${element.tagName} ${element.id}: ${words.slice(0, 80)}`);
      }
      if (element instanceof HTMLInputElement && /^-?\d+\.\d/.test(element.value) && element.type === "text") found.add(`${element.id}: ${element.value}`);
    }
    return [...found];
  }, ENGLISH);

/** Opens every group of the section in sight. @param {Page} page */
async function unfoldAll(page) {
  await page.getByRole("tabpanel").evaluate((panel) => {
    for (const group of panel.querySelectorAll("details")) group.open = true;
  });
  await page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));
}

/** @param {import("../support/desk.js").Desk} desk @param {"en" | "de"} language */
async function choose(desk, language) {
  const { page } = desk;
  await desk.tap(page.locator("#workshop-button"));
  await page.locator("#language").selectOption(language);
  await expect(page.locator("html")).toHaveAttribute("lang", language);
  speak(language === "de" ? german : catalogue);
  await expect(page.locator("#workshop h2")).toHaveText(say("page.workshop"));
  await page.keyboard.press("Escape");
  await expect(page.locator("#workshop")).toBeHidden();
}

test.describe("page in German", () => {
  test.use({ language: "de" });

  test("every section and dialog-has all its words and numbers in German and room for them", async ({ desk, page }) => {
    await desk.openDemo("grey-heron");
    await expect(page.locator("html")).toHaveAttribute("lang", "de");
    /** @param {string} where */
    async function look(where) {
      expect(await untranslated(page), where).toEqual([]);
      expect(await cut(page), where).toEqual([]);
      expect(await shortened(page), where).toEqual([]);
      expect(await beyond(page), where).toEqual([]);
      expect(await overlaps(page), where).toEqual([]);
      expect(await blemishes(page), where).toEqual([]);
    }
    for (const section of SECTIONS) {
      await desk.section(section);
      await unfoldAll(page);
      if (section === "cloth") await expect(page.locator("#sewn-pieces table")).toBeVisible({ timeout: 30_000 });
      if (section === "reefs") await desk.tap(page.locator("#reef-table tr[data-state]").nth(1).getByRole("button").nth(1));
      await look(section);
    }
    await desk.section("sail");
    await everySheet(desk, look);
    await page.keyboard.press("Escape");
    const { violations } = await new AxeBuilder({ page }).analyze();
    expect(violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(" ")}`)).toEqual([]);
  });

  test("lengths-typed with a comma or a point-mean the same and are told with a comma", async ({ desk }) => {
    await desk.openDemo();
    const field = desk.field("chord");
    for (const typed of ["4,437", "4.437", "443,7 cm"]) {
      await desk.type(field, typed);
      await expect.poll(async () => (await desk.design()).masts[0].sail.chord_m, typed).toBe(4.437);
      await expect(field).toHaveValue("4,437");
      await desk.type(field, "4,5");
      await expect(field).toHaveValue("4,50");
    }
    await desk.type(field, "1.234,5");
    await expect(desk.problemOf(field)).toHaveText(say("problem.thousands", { typed: "1.234,5", plain: "1234,5" }));
  });

  test("masses-typed with a point before three digits-are asked about", async ({ desk }) => {
    await desk.openDemo();
    await desk.section("boat");
    await desk.unfold("weight");
    const field = desk.field("displacement");
    await desk.type(field, "2.450");
    await expect(desk.problemOf(field)).toHaveText(say("problem.two_ways", { typed: "2.450", plain: "2450", other: "2,450" }));
    await desk.type(field, "2450,5");
    await expect.poll(async () => (await desk.design()).boat.displacement_kg).toBe(2450.5);
  });

  test("tables-saved for a spreadsheet-part cells by semicolons", async ({ desk, page }) => {
    await desk.openDemo("saltwort");
    await desk.section("cloth");
    await unfoldAll(page);
    const { text } = await desk.download(() => page.locator("#cloth-csv").click());
    const [heads = "", first = ""] = text.split("\r\n");
    expect(heads.split(";").length).toBeGreaterThan(4);
    expect(first.split(";").length).toBe(heads.split(";").length);
    expect(first).toMatch(/\d,\d/);
    expect(text).not.toMatch(/\d\.\d/);
  });
});

test.describe("language chosen in the page", () => {
  test.use({ language: "en" });

  test("switched to German and back-every word and number follows and nothing is lost", async ({ desk, page }) => {
    await desk.openDemo("grey-heron");
    for (const section of SECTIONS) {
      await desk.section(section);
      await unfoldAll(page);
    }
    await desk.section("sail");
    await desk.type(desk.field("chord"), "4.437");
    const stored = await desk.only();
    const ink = await desk.ink();
    const english = await desk.figure(0).textContent();
    await choose(desk, "de");
    await expect(desk.field("chord")).toHaveValue("4,437");
    await expect(desk.reading).toContainText(/Fläche .*\d,\d/);
    expect(await desk.figure(0).textContent()).toBe(english?.replace(".", ","));
    await expect.poll(() => desk.ink()).not.toBe(ink);
    expect((await desk.only()).raw).toBe(stored.raw);
    for (const section of SECTIONS) {
      await desk.section(section);
      if (section === "cloth") await expect(page.locator("#sewn-pieces caption")).toHaveText(say("sewn.pieces"), { timeout: 30_000 });
      const panel = page.getByRole("tabpanel");
      await expect(panel).toBeVisible();
      expect(await untranslated(page), section).toEqual([]);
    }
    await desk.openProjects();
    expect(await untranslated(page), "projects").toEqual([]);
    await page.keyboard.press("Escape");
    await page.reload();
    await desk.ready();
    await expect(page.locator("html")).toHaveAttribute("lang", "de");
    await choose(desk, "en");
    await desk.section("sail");
    await expect(desk.field("chord")).toHaveValue("4.437");
    expect(await desk.figure(0).textContent()).toBe(english);
    expect((await desk.only()).raw).toBe(stored.raw);
  });

  test("switched in a run of work-leaves undo and hoist as they are", async ({ desk, page }) => {
    await desk.openDemo();
    await desk.type(desk.field("chord"), "4.5");
    const whole = await desk.value(desk.hoist);
    await desk.hoist.press("ArrowDown");
    await expect.poll(() => desk.value(desk.hoist)).not.toBe(whole);
    const hoisted = await desk.value(desk.hoist);
    await choose(desk, "de");
    expect(await desk.value(desk.hoist)).toBe(hoisted);
    await desk.undo.click();
    await expect(desk.field("chord")).not.toHaveValue("4,50");
    await expect(page.locator("#language")).toHaveValue("de");
  });
});

test.describe("language of what the workshop opens", () => {
  test.use({ language: "en" });

  test("glossary and tour-looked at, then switched to German-speak it", async ({ desk, page }) => {
    await desk.openDemo();
    await errand(desk, "page.glossary");
    await expect(page.locator("#glossary")).toContainText(say("part.yard"));
    await page.keyboard.press("Escape");
    await errand(desk, "page.tour");
    const tour = page.locator('[data-notice="tour"] p');
    await expect(tour).toContainText(say("page.tour.drawing"));
    await choose(desk, "de");
    await expect(tour).toContainText(say("page.tour.drawing"));
    await desk.tap(page.getByRole("button", { name: say("page.tour.skip") }));
    await errand(desk, "page.glossary");
    await expect(page.locator("#glossary li")).toHaveCount(Object.keys(german).filter((key) => key.startsWith("part.")).length);
    await expect(page.locator("#glossary-seek")).toHaveAttribute("placeholder", say("page.glossary.seek"));
    expect(await untranslated(page)).toEqual([]);
  });
});

test.describe("without network", () => {
  test.use({ language: "en", serviceWorkers: "allow" });

  test("kept page-switched to German offline-has its words", async ({ desk, page, context }) => {
    await desk.openDemo("saltwort");
    await desk.goOffline();
    await choose(desk, "de");
    await expect(page.getByRole("tab", { name: german["page.section.cloth"] })).toBeVisible();
    await page.reload();
    await desk.ready();
    await expect(page.locator("html")).toHaveAttribute("lang", "de");
    await context.setOffline(false);
  });
});

for (const [locale, language] of /** @type {[string, "en" | "de"][]} */ ([["de-AT", "de"], ["fr-FR", "en"], ["en-US", "en"]]))
  test.describe(`browser that asks for ${locale}`, () => {
    test.use({ language: "", locale });

    test(`first visit-speaks ${language}`, async ({ page }) => {
      await page.goto("./");
      await expect(page.locator("html")).toHaveAttribute("lang", language);
      await expect(page.getByRole("tab", { name: (language === "de" ? german : catalogue)["page.section.reefs"], exact: true })).toBeVisible();
    });
  });
