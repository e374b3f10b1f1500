// Two designs against each other: an example, a project, the design as it was opened, a design in a link.
import { errand, expectNothingGrave } from "../support/guide.js";
import { expect, test } from "../support/journey.js";
import { say } from "../support/words.js";

/** @typedef {import("@playwright/test").Page} Page */

/** @param {Page} page */
const sheet = (page) => page.getByRole("dialog", { name: say("page.compare"), exact: true });
/** @param {Page} page */
const pick = (page) => sheet(page).getByLabel(say("page.compare.with"));
/** What a row of the tables tells: this one's, the other's, the difference. @param {Page} page @param {string} label */
const row = async (page, label) => (await sheet(page).getByRole("row", { name: label }).first().getByRole("cell").allTextContents()).map((cell) => cell.trim());
/** @param {string} cell */
const number = (cell) => Number(cell.replace("−", "-").replace(/[^\d.-]/g, ""));

test("design-compared with an example at reefs of each-figures are those of the two accounts", async ({ desk, page }) => {
  await desk.openDemo("marsh-pippin");
  await desk.section("reefs");
  /** Area and chord balance of a state, as the reef table has them. @param {number} state */
  const told = (state) => page.locator(`#reef-table tr[data-state="${state}"] td`).allTextContents();
  const [mine, reefed] = [await told(0), await told(2)];
  await errand(desk, "page.compare");
  // Some other design is there at once.
  await expect(sheet(page).getByRole("figure")).toHaveCount(1);
  await pick(page).selectOption({ label: say("page.compare.demo", { name: "Saltwort" }) });
  await expect(sheet(page).getByRole("img", { name: /Marsh Pippin · Saltwort/ })).toBeVisible();
  const [area = "", other = "", by = ""] = await row(page, say("label.total_area"));
  expect(number(area)).toBe(Number(mine[0]));
  expect(number(by)).toBeCloseTo(number(other) - number(area), 1);
  expect(number(by)).toBeLessThan(0);
  const first = await sheet(page).getByRole("figure").innerHTML();

  // A reef of each: the drawing and the numbers follow, by keyboard.
  const [slider, second] = [sheet(page).getByRole("slider").first(), sheet(page).getByRole("slider").last()];
  await slider.focus();
  await page.keyboard.press("ArrowRight");
  await page.keyboard.press("ArrowRight");
  await expect(slider).toHaveAttribute("aria-valuetext", say("page.compare.lowered", { lowered: 2 }));
  await expect.poll(async () => number((await row(page, say("label.total_area")))[0] ?? "")).toBe(Number(reefed[0]));
  expect(await sheet(page).getByRole("figure").innerHTML()).not.toBe(first);
  await second.focus();
  await page.keyboard.press("ArrowRight");
  await expect.poll(async () => number((await row(page, say("label.total_area")))[1] ?? "")).toBeLessThan(number(other));
  await expectNothingGrave(page);
  await page.emulateMedia({ colorScheme: null });

  // Side by side.
  await desk.tap(sheet(page).getByText(say("page.compare.beside")));
  await expect(sheet(page).getByRole("figure")).toHaveCount(2);
  await expect(sheet(page).getByRole("figure").last()).toContainText("Saltwort");
  await expectNothingGrave(page);
  // Its meaning a tap away.
  await page.emulateMedia({ colorScheme: null });
  await desk.tap(sheet(page).getByRole("button", { name: say("label.total_area"), exact: true }));
  await expect(page.getByRole("dialog", { name: say("label.total_area") })).toContainText(say("help.total_area").split("\n")[0] ?? "");
  await page.keyboard.press("Escape");
  await page.keyboard.press("Escape");
  await expect(sheet(page)).toBeHidden();
  // The desk is as it was.
  expect(await told(0)).toEqual(mine);
  expect(await desk.value(desk.hoist.first())).toBe(0);
});

test("design-compared with another project and as it was opened-tells what was typed differently", async ({ desk, page }) => {
  await desk.openDemo("marsh-pippin");
  await desk.type(desk.field("chord"), "4.1");
  await desk.newFromDemo("marsh-pippin");
  await errand(desk, "page.compare");
  await pick(page).selectOption({ index: 0 });
  await expect(sheet(page).getByRole("row", { name: new RegExp(`^${say("label.chord")} 4`) })).toHaveCount(1);
  const [mine = "", theirs = "", by = ""] = await row(page, `${say("label.chord")} 4`);
  expect([number(mine), number(theirs), number(by)]).toEqual([4.4, 4.1, -0.3]);
  await page.keyboard.press("Escape");

  await desk.type(desk.field("chord"), "4.6");
  await errand(desk, "page.compare");
  await pick(page).selectOption({ label: say("page.compare.opened") });
  const [now = "", before = "", since = ""] = await row(page, `${say("label.chord")} 4`);
  expect([number(now), number(before), number(since)]).toEqual([4.6, 4.4, -0.2]);
  await expect(sheet(page).getByRole("img").last()).toBeVisible();
});

test("design in a link-pasted-is compared; what is no link is told of", async ({ desk, page }) => {
  await desk.openDemo("grey-heron");
  await desk.openProjects();
  await desk.tap(desk.projects.getByRole("button", { name: say("page.link.share") }));
  const link = await page.getByRole("dialog", { name: say("page.link.share") }).getByRole("textbox", { name: say("page.link.share") }).inputValue();
  await page.keyboard.press("Escape");
  await desk.newFromDemo("saltwort");
  await errand(desk, "page.compare");
  await pick(page).selectOption({ label: say("page.compare.link") });
  const field = sheet(page).getByLabel(say("page.link.pasted"));
  await field.fill("https://example.org/");
  await page.keyboard.press("Enter");
  await expect(sheet(page).getByRole("status")).toHaveText(say("page.link.none"));
  await field.fill(link);
  await page.keyboard.press("Enter");
  await expect(sheet(page).getByRole("img", { name: /Saltwort · Grey Heron/ })).toBeVisible();
  await expect(sheet(page).getByRole("status")).toBeHidden();
  // Two masts against one: each sail is lowered by itself.
  await expect(sheet(page).getByRole("slider")).toHaveCount(3);
  await page.keyboard.press("Escape");
  await desk.newFromDemo("grey-heron");
  await desk.hoist.last().focus();
  for (let panel = 0; panel < 3; panel += 1) await page.keyboard.press("ArrowDown");
  const lowered = await desk.page.evaluate(() => [...document.querySelectorAll("#hoist-column [role=slider]")].map((thumb) => thumb.getAttribute("aria-valuenow")));
  expect(lowered.length).toBeGreaterThan(0);
  await errand(desk, "page.compare");
  await pick(page).selectOption({ label: say("page.compare.demo", { name: "Marsh Pippin" }) });
  const sails = sheet(page).getByRole("slider");
  await expect(sails).toHaveCount(3);
  const values = await sails.evaluateAll((all) => all.map((one) => Number(/** @type {HTMLInputElement} */ (one).value)));
  expect(values.slice(0, 2).reduce((sum, value) => sum + value, 0), "as she stood").toBe(3);
  expect(values[2]).toBe(0);
  const before = (await row(page, say("label.total_area")))[0];
  await sails.nth(0).focus();
  await page.keyboard.press("ArrowRight");
  await expect.poll(async () => (await row(page, say("label.total_area")))[0]).not.toBe(before);
});
