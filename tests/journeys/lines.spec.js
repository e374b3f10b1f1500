// Section Lines: the sheeting angle, a line in hand, what it carries, the drill, leads, papers.
import { expect, test } from "../support/journey.js";
import { say } from "../support/words.js";

/** @typedef {import("../support/desk.js").Desk} Desk */

/** @param {Desk} desk @param {string} path */
const cell = (desk, path) => desk.page.locator(`[data-path="${path}"]`).getByRole("textbox");

/** @param {Desk} desk @param {string} id */
const line = (desk, id) => desk.page.locator(`[data-line="${id}"]`);

/** @param {Desk} desk */
const sheeting = (desk) => desk.page.getByRole("slider", { name: say("page.sheeting") });

/** The numbers of a line that stand in the list: next reef, to buy. @param {Desk} desk @param {string} id */
async function numbers(desk, id) {
  const texts = await line(desk, id).locator(".line-cell").allTextContents();
  return texts.map((text) => Number(/[\d.]+/.exec(text)?.[0]));
}

/** Chooses a word, by buttons or where they have no room from a list. @param {Desk} desk @param {string} path @param {string} word */
async function choose(desk, path, word) {
  const field = desk.page.locator(`[data-path="${path}"]`);
  if ((await field.locator("select").count()) > 0) await field.locator("select").selectOption(word);
  else await desk.tap(field.getByText(say(`choice.use.${word}`), { exact: true }));
}

/** @param {Desk} desk @param {string} plot */
const picture = (desk, plot) => desk.page.locator(plot).evaluate((canvas) => /** @type {HTMLCanvasElement} */ (canvas).toDataURL());

test("line-taken in hand-lights on the drawing, with its path and lengths, and is let go", async ({ desk, page }) => {
  await desk.openDemo("marsh-pippin");
  await desk.section("lines");
  const plain = await picture(desk, "#canvas");
  await desk.tap(line(desk, "halyard"));
  await expect(line(desk, "halyard")).toHaveAttribute("aria-expanded", "true");
  await expect.poll(() => picture(desk, "#canvas")).not.toBe(plain);
  const open = page.locator("#line-halyard");
  await expect(open.locator(".line-path li").first()).toContainText(say("line.at.sling"));
  await expect(open.locator(".line-path li").last()).toContainText(say("line.at.cleat"));
  // Eight states, from all standing to all down, and the rope out grows with every one.
  const rows = open.locator("tbody tr");
  await expect(rows).toHaveCount(8);
  const lengths = await rows.evaluateAll((found) => found.map((row) => Number(/** @type {HTMLTableRowElement} */ (row).cells[1]?.textContent)));
  for (const [at, length] of lengths.slice(1).entries()) expect(length).toBeGreaterThan(/** @type {number} */ (lengths[at]));
  // What goes out by the next reef is the difference of the two; what is bought is more than the longest.
  const [next, buy] = await numbers(desk, "halyard");
  expect(next).toBeCloseTo(/** @type {number} */ (lengths[1]) - /** @type {number} */ (lengths[0]), 1);
  expect(buy).toBeGreaterThan(/** @type {number} */ (lengths[7]));
  // Each number tells what it is.
  await desk.tap(open.getByRole("button", { name: say("label.line_buy") }));
  await expect(page.getByRole("dialog", { name: say("label.line_buy") })).toContainText(say("help.line_buy"));
  await page.keyboard.press("Escape");
  // Another is taken instead; tapped again it is let go.
  await desk.tap(line(desk, "sheet-0"));
  await expect(line(desk, "halyard")).not.toHaveAttribute("aria-current");
  await expect(open).toBeHidden();
  await expect(page.locator("#line-sheet-0 .line-rove")).toContainText(say("line.rove.cleat"));
  await desk.tap(page.locator("#line-sheet-0 summary"));
  await expect(page.locator("#line-sheet-0 details tbody tr")).toHaveCount(37);
  await desk.tap(line(desk, "sheet-0"));
  await expect(line(desk, "sheet-0")).toHaveAttribute("aria-expanded", "false");
  await expect.poll(() => picture(desk, "#canvas")).toBe(plain);
});

test("tap on the drawing-near a rope-takes it in hand, beside all of them lets go", async ({ desk, page }) => {
  await desk.openDemo("marsh-pippin");
  const canvas = page.locator("#canvas");
  const box = /** @type {{ x: number, y: number, width: number, height: number }} */ (await canvas.boundingBox());
  const tap = (/** @type {number} */ x, /** @type {number} */ y) => desk.tapAt(box.x + x * box.width, box.y + y * box.height);
  // Outside the section a tap is for the page.
  await tap(0.5, 0.5);
  await desk.section("lines");
  await expect(page.locator(".in-hand")).toBeHidden();
  // Going aft over the sail, a tap meets the lifts; the corner of the sky has nothing.
  for (let x = 0.4; x < 0.7 && (await line(desk, "lifts").getAttribute("aria-expanded")) !== "true"; x += 0.02) {
    await tap(x, 0.55);
    // What is taken shows in the next frame; a second tap would let go of it.
    await page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));
  }
  await expect(line(desk, "lifts")).toHaveAttribute("aria-expanded", "true");
  await tap(0.96, 0.04);
  await expect(page.locator(".in-hand")).toBeHidden();
});

test("sheeting-by hand and by keys-rests close-hauled and squared off, and swings the sail", async ({ desk, page }) => {
  await desk.openDemo("marsh-pippin");
  await desk.section("lines");
  const slider = sheeting(desk);
  await expect(slider).toHaveAttribute("aria-valuetext", say("page.sheeting.amidships"));
  await slider.scrollIntoViewIfNeeded();
  const [profile, above] = [await picture(desk, "#canvas"), await picture(desk, "#plot-above")];
  await slider.focus();
  await page.keyboard.press("PageUp");
  await expect(slider).toHaveAttribute("aria-valuetext", `${say("page.sheeting.starboard", { angle: 15 })}, ${say("page.sheeting.close")}`);
  await expect.poll(() => picture(desk, "#plot-above")).not.toBe(above);
  await expect.poll(() => picture(desk, "#canvas")).not.toBe(profile);
  await page.keyboard.press("ArrowRight");
  await expect(slider).toHaveAttribute("aria-valuetext", say("page.sheeting.starboard", { angle: 16 }));
  await page.keyboard.press("Home");
  await expect(slider).toHaveAttribute("aria-valuetext", `${say("page.sheeting.port", { angle: 85 })}, ${say("page.sheeting.squared")}`);
  // A hand near amidships means amidships.
  const box = await slider.boundingBox();
  if (!box) throw new Error("no slider");
  const hand = desk.hand();
  await hand.down({ x: box.x + 8, y: box.y + box.height / 2 });
  await hand.to({ x: box.x + box.width * 0.3, y: box.y + box.height / 2 });
  await expect(slider).toHaveAttribute("aria-valuetext", /\d/);
  await hand.to({ x: box.x + box.width / 2 + 3, y: box.y + box.height / 2 });
  await hand.up();
  await expect(slider).toHaveAttribute("aria-valuetext", say("page.sheeting.amidships"));
  await expect.poll(() => picture(desk, "#plot-above")).toBe(above);
  // Another section works on the sail in profile.
  await page.keyboard.press("End");
  await desk.section("sail");
  await expect.poll(() => desk.ink()).not.toBe(0);
  await desk.section("lines");
  await expect(slider).toHaveAttribute("aria-valuetext", say("page.sheeting.amidships"));
});

test("lead-typed and a line left out-change what there is to buy, and undo brings both back", async ({ desk, page }) => {
  await desk.openDemo("marsh-pippin");
  const text = await desk.text();
  await desk.section("lines");
  const before = await numbers(desk, "halyard");
  await desk.unfold("lines_halyard");
  await desk.type(cell(desk, "masts.0.lines.halyard.cleat_x_m"), "1.65");
  // Cleated at the foot of the mast and not at the after end of the coachroof: less to buy, the same through the hands.
  await expect.poll(async () => /** @type {number} */ (before[1]) - /** @type {number} */ ((await numbers(desk, "halyard"))[1])).toBeGreaterThan(1.5);
  expect((await numbers(desk, "halyard"))[0]).toBeCloseTo(/** @type {number} */ (before[0]), 2);
  expect((await desk.design()).masts[0].lines.halyard.cleat_x_m).toBe(1.65);
  await desk.unfold("lines_lifts");
  await choose(desk, "masts.0.lines.lifts.use", "none");
  await expect(line(desk, "lifts")).toHaveCount(0);
  await expect(page.locator("#lines-drill")).not.toContainText(say("line.set_up"));
  await desk.undo.click();
  await expect(line(desk, "lifts")).toBeVisible();
  await desk.undo.click();
  await expect.poll(() => numbers(desk, "halyard")).toEqual(before);
  expect(await desk.text()).toBe(text);
});

test("deck block-dragged in the view from above-moves fore and aft and across in one step, by keys too", async ({ desk, page }) => {
  await desk.openDemo("marsh-pippin");
  await desk.section("lines");
  const text = await desk.text();
  await desk.tap(line(desk, "sheet-0"));
  await page.locator("#plot-above").evaluate((plot) => plot.scrollIntoView({ block: "end" }));
  const block = page.locator(".plot-pane .handle").first();
  await expect(block).toHaveAttribute("aria-label", new RegExp(say("label.block_x")));
  const box = await block.boundingBox();
  if (!box) throw new Error("no handle");
  // By its after side: its cleat is close ahead of it.
  const [x, y] = [box.x + box.width - 6, box.y + box.height / 2];
  const hand = desk.hand();
  await hand.down({ x, y });
  for (let step = 1; step <= 6; step += 1) await hand.to({ x: x - 3 * step, y: y - 2 * step });
  await hand.up();
  await expect.poll(async () => (await desk.design()).masts[0].lines?.sheet?.block_y_m).toBeGreaterThan(0);
  const { block_x_m, block_y_m } = (await desk.design()).masts[0].lines.sheet;
  await block.focus();
  await page.keyboard.press("ArrowUp");
  await expect.poll(async () => (await desk.design()).masts[0].lines.sheet.block_y_m).toBeGreaterThan(block_y_m);
  expect((await desk.design()).masts[0].lines.sheet.block_x_m).toBe(block_x_m);
  await desk.undo.click();
  await desk.undo.click();
  expect(await desk.text()).toBe(text);
});

test("usual spans and holds-written out-are rows to change, and nothing moves", async ({ desk, page }) => {
  await desk.openDemo("marsh-pippin");
  await desk.section("lines");
  const before = await page.locator(".line").allTextContents();
  for (const [group, what] of [["lines_sheet", "spans"], ["lines_hauling", "holds"]]) {
    await desk.unfold(/** @type {string} */ (group));
    await desk.tap(page.locator(`#write-${what}`));
    await expect(page.locator(`[data-group="${group?.replace("_", "-")}"] .row-table tbody tr`).first()).toBeVisible();
    expect((await desk.design()).masts[0].lines[/** @type {string} */ (what)].length).toBeGreaterThan(2);
  }
  // Written places are round: a pull of thousands may differ by one.
  const rounded = (/** @type {string[]} */ texts) => texts.map((text) => text.replace(/(\d\d\d)\d\sN/, "$1_ N"));
  expect(rounded(await page.locator(".line").allTextContents())).toEqual(rounded(before));
  // What the written spans have each for itself is no longer asked for all of them.
  for (const leaf of ["gathers", "parts"]) await expect(page.locator(`[data-path="masts.0.lines.sheet.${leaf}"]`)).toHaveCount(0);
  // Of the list of holds each choice is read whole, its label stands over the column alone.
  const hold = page.locator('[data-path="masts.0.lines.holds.0.line"]');
  await expect(hold.locator("select")).toHaveAttribute("aria-label", new RegExp(say("label.hold_line")));
  await expect(hold.locator("label")).toHaveCount(0);
  expect(await hold.locator("select").evaluate((select) => select.clientWidth)).toBeGreaterThan(150);
  const span = cell(desk, "masts.0.lines.spans.0.length_m");
  await desk.type(span, String(Number(await span.inputValue()) + 1));
  await expect.poll(() => line(desk, "span-0-0").textContent()).not.toBe(before[2]);
});

test("drill-shown on the drawing-takes every line in hand in turn and lowers the sail with the halyard", async ({ desk, page }) => {
  await desk.openDemo("marsh-pippin");
  await desk.section("lines");
  const steps = page.locator(".drill-steps li");
  const count = await steps.count();
  expect(count).toBeGreaterThan(4);
  const on = page.locator("#drill-next");
  let lowered = -1;
  for (let at = 0; at < count; at += 1) {
    await desk.tap(on);
    await expect(steps.nth(at)).toHaveAttribute("aria-current", "step");
    await expect(page.locator('.line[aria-current="true"]')).toHaveCount(1);
    const halyard = (await steps.nth(at).textContent())?.includes(say("line.halyard"));
    if (halyard) lowered = at;
    await expect.poll(() => desk.value(desk.hoist)).toBe(lowered < 0 ? 0 : 1);
  }
  expect(lowered, "the halyard is eased").toBeGreaterThan(0);
  await expect(on).toBeDisabled();
  // Back by keys.
  await page.locator("#drill-back").focus();
  for (let at = count - 2; at >= 0; at -= 1) await page.keyboard.press("ArrowLeft");
  await expect(steps.first()).toHaveAttribute("aria-current", "step");
  await expect.poll(() => desk.value(desk.hoist)).toBe(0);
  // Shaking out warns before anything is hauled, and plays by itself.
  await page.locator("#drill-from").selectOption("3");
  await page.locator("#drill-to").selectOption("2");
  await expect(page.locator("#lines-drill")).toContainText(say("page.lines.free_first"));
  await expect(steps.first()).toContainText(say("line.sheet"));
  await desk.tap(page.locator("#drill-play"));
  await expect(page.locator("#drill-play")).toHaveText(say("page.lines.stop"));
  await expect.poll(() => desk.value(desk.hoist)).toBe(3);
  await expect(steps.nth(1)).toHaveAttribute("aria-current", "step");
  await desk.tap(page.locator("#drill-play"));
  await expect(page.locator("#drill-play")).toHaveText(say("page.lines.play"));
  // While the halyard runs it is the line in hand.
  await page.locator("#drill-from").selectOption("0");
  await page.locator("#drill-to").selectOption("1");
  const runs = (await steps.allTextContents()).findIndex((text) => text.includes(say("line.halyard")));
  await steps.nth(runs).getByRole("button").evaluate((button) => /** @type {HTMLElement} */ (button).click());
  await expect(line(desk, "halyard")).toHaveAttribute("aria-current", "true", { timeout: 700 });
  await expect(steps.nth(runs)).toHaveAttribute("aria-current", "step", { timeout: 700 });
  await expect.poll(() => desk.value(desk.hoist)).toBe(1);
  await expect(page.locator("#lines-drill [role=status]")).not.toBeEmpty();
  await page.locator("#drill-from").selectOption("3");
  await page.locator("#drill-to").selectOption("3");
  await expect(page.locator("#lines-drill [role=status]")).toBeEmpty();
  await expect(steps).toHaveCount(0);
  await expect(page.locator("#lines-drill")).toContainText(say("page.lines.no_drill"));
});

test("loads-by state-unfold to every batten end, with the caution beside them", async ({ desk, page }) => {
  await desk.openDemo("marsh-pippin");
  await desk.section("lines");
  const rows = page.locator("#load-table tr[data-state]");
  await expect(rows).toHaveCount(8);
  await desk.tap(rows.nth(2).getByRole("button").nth(1));
  const detail = page.locator("#load-table .detail-table");
  await expect(detail).toContainText(say("line.gybe"));
  await expect(detail).toContainText(say("line.effort_reefing"));
  await expect(page.locator("#lines-loads")).toContainText(say("page.lines.caution"));
  // The weight that stands and the one on the lifts: the sail grows no heavier by reefing but by the wet.
  const newtons = async () => (await detail.locator("tr").evaluateAll((found) => [found[0], found[2]].map((row) => Number(/[\d.]+/.exec(/** @type {HTMLTableRowElement} */ (row).cells[1]?.textContent ?? "")?.[0]))));
  const [stands, lies] = await newtons();
  expect(stands).toBeGreaterThan(50);
  expect(lies).toBeGreaterThan(50);
  await desk.tap(rows.nth(2).getByRole("button").first());
  await expect(rows.nth(2)).toHaveAttribute("aria-current", "true");
  await expect.poll(() => desk.value(desk.hoist)).toBe(2);
});

test("deck block-its map opened-is drawn, and moved to where the sheet fouls it is told", async ({ desk, page }) => {
  await desk.openDemo("marsh-pippin");
  await desk.section("lines");
  await expect(page.locator("#plot-deck")).toBeHidden();
  await page.locator("#lines-deck summary").click();
  await expect(page.locator("#plot-deck")).toBeVisible();
  await expect(page.locator("#lines-deck dd").first()).toContainText(/\d/);
  const before = await picture(desk, "#plot-deck");
  await desk.unfold("lines_sheet");
  await desk.type(cell(desk, "masts.0.lines.sheet.block_x_m"), "5");
  await expect.poll(() => picture(desk, "#plot-deck")).not.toBe(before);
});

test("two-master-each sail with its own lines-copied as CSV and printed with the cautions", async ({ desk, page, context }) => {
  await desk.openDemo("grey-heron");
  await desk.section("lines");
  const masts = page.locator("#panel-lines .mast-chooser");
  await expect(masts.getByRole("button")).toHaveCount(2);
  await desk.tap(line(desk, "halyard"));
  const fore = await page.locator(".line").allTextContents();
  await desk.tap(masts.getByRole("button").nth(1));
  await expect(line(desk, "halyard")).not.toHaveAttribute("aria-current");
  expect(await page.locator(".line").allTextContents()).not.toEqual(fore);
  await desk.section("boat");
  await desk.type(desk.field("name").nth(1), "=SUM(A1)");
  await desk.section("lines");
  await page.locator("#lines-papers summary").click();
  // Seven of each sail, and the rope of both together.
  await expect(page.locator("#lines-papers table")).toHaveCount(15);
  await context.grantPermissions(["clipboard-read", "clipboard-write"]);
  await page.locator("#copy-lines").click();
  await expect(page.locator("#copy-lines")).toContainText(say("page.copied"));
  const csv = await page.evaluate(() => navigator.clipboard.readText());
  for (const key of ["cordage", "counter", "fittings", "blocks_list", "belay", "counter_all", "reefing", "shaking"]) expect(csv).toContain(say(`line.${key}`));
  for (const row of csv.split(/\r?\n/)) expect(row, "text like a formula").not.toMatch(/(^|,)"?[=+@]/);
  await page.evaluate(() => dispatchEvent(new Event("beforeprint")));
  const paper = page.locator("#paper .paper-lines");
  // What the section lists, and the rules; what is too wide for a page stands in several.
  expect(new Set(await paper.locator("caption").allTextContents()).size).toBe(16);
  const texts = await paper.allTextContents();
  expect(texts).toHaveLength(1);
  for (const text of texts) for (const caution of ["page.caution.aid", "page.caution.checked", "page.caution.rules", "page.caution.measured", "page.lines.caution"]) expect(text).toContain(say(caution));
});

test("narrowest phone-large lettering-everything of a line in hand stays in reach", async ({ desk, page }) => {
  await page.setViewportSize({ width: 360, height: 740 });
  await desk.openDemo("saltwort");
  await desk.section("lines");
  await desk.tap(line(desk, "sheet-0"));
  await page.evaluate(() => document.documentElement.style.setProperty("font-size", "200%"));
  await expect(page.locator("#line-sheet-0 .line-path li").first()).toBeVisible();
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(360);
  const small = await page.locator("#panel-lines button:visible, #panel-lines input[type=range]").evaluateAll((found) => found.filter((one) => one.getBoundingClientRect().height < 43.5).map((one) => one.outerHTML.slice(0, 120)));
  expect(small).toEqual([]);
});
