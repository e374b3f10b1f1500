// Explained: the words of the trade with the drawing pointing, and a first look round.
import { errand, expectNothingGrave } from "../support/guide.js";
import { expect, test } from "../support/journey.js";
import { catalogue, say } from "../support/words.js";

/** @typedef {import("@playwright/test").Page} Page */

/** @param {Page} page */
const glossary = (page) => page.getByRole("region", { name: say("page.glossary") });
/** @param {Page} page @param {string} key */
const word = (page, key) => glossary(page).getByRole("button", { name: `${say(`part.${key}`)} ${say(`help.part.${key}`)}`, exact: true });

test("glossary-gone through by keyboard-the drawing points at each word and is then as it was", async ({ desk, page }) => {
  await desk.openDemo("grey-heron");
  await desk.section("reefs");
  const before = await desk.ink();
  await page.getByRole("button", { name: say("page.workshop"), exact: true }).focus();
  await page.keyboard.press("Enter");
  const open = page.getByRole("dialog").getByRole("button", { name: say("page.glossary") });
  for (let press = 0; press < 20 && !(await open.evaluate((element) => element === document.activeElement)); press += 1) await page.keyboard.press("Tab");
  await page.keyboard.press("Enter");
  await expect(glossary(page)).toBeVisible();
  await expect(page.getByRole("tab").first()).toBeHidden();
  await expect(desk.canvas).toBeInViewport({ ratio: 0.9 });
  const all = Object.keys(catalogue).filter((key) => key.startsWith("part."));
  await expect(glossary(page).getByRole("listitem")).toHaveCount(all.length);

  // From the first word on by arrows: each inks another picture where the drawing has the part.
  await page.keyboard.press("Tab");
  await page.keyboard.press("Tab");
  const seen = new Set([before]);
  for (let press = 0; press < 12; press += 1) {
    const here = page.locator("#glossary :focus");
    await expect(here).toHaveAttribute("aria-current", "true");
    await expect(here).toBeInViewport({ ratio: 1 });
    const points = await here.evaluate((element) => element.classList.contains("here"));
    if (points) await expect.poll(() => desk.ink()).not.toBe(before);
    else await expect.poll(() => desk.ink()).toBe(before);
    if (points) seen.add(await desk.ink());
    await page.keyboard.press("ArrowDown");
  }
  expect(seen.size, "pictures").toBeGreaterThan(4);

  // Sifted, and a word chosen.
  await page.getByRole("searchbox", { name: say("page.glossary.seek") }).fill(say("part.peak"));
  await expect(word(page, "peak")).toBeVisible();
  await expect(word(page, "tack-line")).toBeHidden();
  await desk.tap(word(page, "peak"));
  await expect.poll(() => desk.ink()).not.toBe(before);
  await expectNothingGrave(page);
  await page.emulateMedia({ colorScheme: null });
  await page.getByRole("searchbox").fill("xyzzy");
  await expect(glossary(page).getByRole("status")).toHaveText(say("page.glossary.none"));

  await page.keyboard.press("Escape");
  await expect(glossary(page)).toBeHidden();
  await expect(page.getByRole("tab", { name: say("page.section.reefs") })).toHaveAttribute("aria-selected", "true");
  await expect(page.getByRole("button", { name: say("page.workshop"), exact: true })).toBeFocused();
  await expect.poll(() => desk.ink()).toBe(before);
});

test("glossary-sail lowered meanwhile-the bundle can be pointed at", async ({ desk, page }) => {
  await desk.openDemo();
  await errand(desk, "page.glossary");
  await expect(word(page, "bundle")).not.toHaveClass("here");
  await desk.hoist.first().focus();
  await page.keyboard.press("ArrowDown");
  await expect(word(page, "bundle")).toHaveClass("here");
});

test.describe("on a first visit", () => {
  test.use({ told: false });

  /** @param {Page} page */
  const bar = (page) => page.locator('[data-notice="tour"]');
  const STOPS = ["drawing", "hoist", "sections", "attention", "workshop", "projects"];

  test("tour-gone through by keyboard-points at the real things and is not shown again", async ({ desk, page }) => {
    await desk.open();
    await expect(bar(page)).toContainText(say("page.tour.drawing"));
    await expect(bar(page)).toHaveRole("status");
    await expectNothingGrave(page);
    await bar(page).getByRole("button", { name: say("page.tour.next") }).focus();
    for (const [at, stop] of STOPS.entries()) {
      await expect(bar(page)).toContainText(say("page.tour.step", { at: at + 1, most: STOPS.length, text: say(`page.tour.${stop}`) }));
      const shown = page.locator(".shown-round");
      await expect(shown).toHaveCount(1);
      await expect(shown).toBeInViewport();
      // What is pointed at lies clear of the bar.
      const [one, other] = [await shown.boundingBox(), await bar(page).boundingBox()];
      if (one && other) expect(Math.min(one.y + one.height, other.y + other.height) - Math.max(one.y, other.y), stop).toBeLessThan(Math.max(1, 0.5 * one.height));
      if (at > 0) await expect(bar(page).getByRole("button").last()).toBeFocused();
      await page.keyboard.press("Enter");
    }
    await expect(bar(page)).toBeHidden();
    await expect(page.locator(".shown-round")).toHaveCount(0);
    await page.reload();
    await desk.ready();
    await desk.section("sail");
    await expect(bar(page)).toBeHidden();
  });

  test("tour-skipped and asked for again-the page can be worked on beside it", async ({ desk, page }) => {
    await desk.open();
    await expect(bar(page)).toBeVisible();
    await desk.type(desk.field("chord"), "4.31");
    await expect(bar(page)).toBeVisible();
    await desk.tap(bar(page).getByRole("button", { name: say("page.tour.skip") }));
    await expect(bar(page)).toBeHidden();
    await expect(page.locator(".shown-round")).toHaveCount(0);
    await errand(desk, "page.tour");
    await expect(bar(page)).toContainText(say("page.tour.drawing"));
    await expect(bar(page).getByRole("button", { name: say("page.tour.next") })).toBeFocused();
  });
});
