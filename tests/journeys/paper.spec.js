// What comes out of the printer: the drawing on white with letters that can be read, where every parrel lies at
// every reef of every mast, the cautions.
import { expect, test } from "../support/journey.js";
import { say } from "../support/words.js";

/** CSS: 96 px and 72 pt to the inch. */
const POINT = 96 / 72;
/** A4 between its margins of 12 mm, px. */
const PAPER = { width: 703, height: 1027 };

test("two-master in feet, half reefed in the dark-printed-comes on white, to be read, with every parrel height", async ({ desk, page }) => {
  await page.emulateMedia({ colorScheme: "dark" });
  await desk.openDemo("grey-heron");
  await desk.tap(page.getByRole("group", { name: say("page.units") }).getByText(say("page.units.ft"), { exact: true }));
  await desk.section("reefs");
  const step = 7;
  const line = page.locator("#reef-table tr[data-state]").nth(step);
  await line.getByRole("button").first().click();
  await expect(line).toHaveAttribute("aria-current", "true");
  // The sail has slid down.
  await expect(desk.hoist).toHaveAttribute("aria-valuenow", String(step));
  const before = await desk.ink();

  await page.emulateMedia({ media: "print", colorScheme: "dark" });
  await page.setViewportSize(PAPER);
  await page.evaluate(() => dispatchEvent(new Event("beforeprint")));
  const paper = page.locator("#paper");
  const drawing = paper.locator(".paper-plan svg");
  await expect(paper.locator(".paper-lines svg"), "all lines in profile and from above").toHaveCount(2);
  await expect(drawing).toBeVisible();

  const letters = await drawing.evaluate((svg) => {
    const scale = svg.getBoundingClientRect().width / Number(svg.getAttribute("width"));
    return Array.from(svg.querySelectorAll("text"), (words) => Number(words.getAttribute("font-size")) * scale);
  });
  expect(letters.length).toBeGreaterThan(20);
  expect(Math.min(...letters), "smallest letters, px").toBeGreaterThanOrEqual(8 * POINT);

  // Sky in the corner, sea below, the blank page beside the cautions: all the paper's own white.
  const box = await drawing.evaluate((svg) => {
    const { x, y, width, height } = svg.getBoundingClientRect();
    return { x: x + scrollX, y: y + scrollY, width, height };
  });
  const spot = (/** @type {number} */ x, /** @type {number} */ y) => page.screenshot({ fullPage: true, clip: { x, y, width: 6, height: 6 } });
  expect(await page.evaluate(() => getComputedStyle(document.documentElement).backgroundColor)).toBe("rgb(255, 255, 255)");
  const white = await spot(PAPER.width - 10, box.y + box.height + 20);
  expect((await spot(box.x + box.width - 10, box.y + 10)).equals(white), "sky").toBe(true);
  expect((await spot(box.x + box.width - 10, box.y + box.height - 10)).equals(white), "sea").toBe(true);

  // Fore and main, seven and eight spars, each from all standing to all down, and the parrels' lengths.
  const tables = await paper.locator(".paper-reefs table").evaluateAll((found) => found.map((table) => Array.from(/** @type {HTMLTableElement} */ (table).tBodies[0]?.rows ?? [], (row) => Array.from(row.cells, (cell) => cell.textContent ?? ""))));
  expect(tables[0]).toHaveLength(14);
  // In longer words a table may be wider than the page, and stand in two.
  for (const spars of [7, 8]) expect(tables.slice(1).flatMap((rows) => (rows.length === spars ? rows[0]?.slice(1) : []))).toHaveLength(spars + 1);
  for (const cell of tables.slice(1).flat(2)) expect(cell).not.toMatch(/^[–\s]*$/);

  // Winds at every step, three loadings, every check in words.
  const balance = paper.locator(".paper-checks");
  const counts = await balance.locator("table").evaluateAll((found) => found.map((table) => /** @type {HTMLTableElement} */ (table).tBodies[0]?.rows.length ?? 0));
  expect(counts.slice(0, 2)).toEqual([14, 3]);
  expect(counts[counts.length - 1]).toBeGreaterThan(20);
  await expect(balance).toContainText(say("page.balance.caution"));

  // No measure is broken over two lines, nothing sticks out of the page.
  const broken = await paper.locator(".measure").evaluateAll((found) => found.filter((measure) => measure.getClientRects().length !== 1).map((measure) => measure.textContent));
  expect(broken).toEqual([]);
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(PAPER.width);

  const sheets = await paper.locator("section").allTextContents();
  expect(sheets.length, "title, particulars, plan, reefs, lines, three of the spars, cloth of each sail, checks, sources").toBe(12);
  for (const caution of ["aid", "checked", "rules", "measured"]) for (const sheet of sheets) expect(sheet).toContain(say(`page.caution.${caution}`));

  await page.evaluate(() => dispatchEvent(new Event("afterprint")));
  await expect(paper).toBeEmpty();
  await page.emulateMedia({ media: "screen", colorScheme: "dark" });
  await page.setViewportSize(desk.touch ? { width: 390, height: 844 } : { width: 1440, height: 900 });
  // For a moment the canvas has no size.
  await expect.poll(() => desk.ink().catch(() => 0), "the screen is as it was").toBe(before);
});
