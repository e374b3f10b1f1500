// Lowering panel by panel, the table of states, parrel heights, CSV, two masts.
import { middle } from "../support/desk.js";
import { expect, test } from "../support/journey.js";
import { catalogue, say } from "../support/words.js";

/** @param {import("../support/desk.js").Desk} desk */
const table = (desk) => desk.page.getByRole("table", { name: say("page.reefs.caption"), exact: true });

/** The lines of states, details left out. @param {import("../support/desk.js").Desk} desk */
const lines = (desk) => table(desk).locator("tr[data-state]");

/** The table as text, the state's name first. @param {import("../support/desk.js").Desk} desk @returns {Promise<string[][]>} */
const cells = (desk) =>
  lines(desk).evaluateAll((rows) =>
    rows.map((row) => [row.querySelector(".row-button")?.textContent ?? "", ...Array.from(row.querySelectorAll(":scope > td"), (cell) => cell.textContent ?? "")]),
  );

/** Column heads, the state's first. @param {import("../support/desk.js").Desk} desk @returns {Promise<string[]>} */
const heads = (desk) => table(desk).locator("thead").first().locator("th").evaluateAll((row) => row.map((head) => head.textContent?.trim() ?? ""));

/** The words over a column: short ones where the page has them. @param {string} key */
const head = (key) => say(`page.column.${key}` in catalogue ? `page.column.${key}` : `label.${key}`);

/** @param {import("../support/desk.js").Desk} desk @param {number} panels where a value of the scale lies on the screen */
async function placeOn(desk, panels) {
  const box = await desk.page.locator(".hoist-track").boundingBox();
  if (!box) throw new Error("no hoist scale");
  const most = Number(await desk.hoist.getAttribute("aria-valuemax"));
  return { x: box.x + box.width / 2, y: box.y + (box.height * panels) / most };
}

test("hoist-dragged near a whole panel-snaps to it, between panels it stays", async ({ desk }) => {
  await desk.openDemo();
  const first = await desk.only();
  const hand = desk.hand();
  const from = await middle(desk.hoist);
  await hand.down(from);
  const near = await placeOn(desk, 2.08);
  await hand.along(from, { x: from.x, y: near.y });
  await expect.poll(() => desk.value(desk.hoist)).toBe(2);
  const between = await placeOn(desk, 2.4);
  await hand.along({ x: from.x, y: near.y }, { x: from.x, y: between.y });
  await expect.poll(() => desk.value(desk.hoist)).toBeCloseTo(2.4, 1);
  await hand.up();
  expect(await desk.value(desk.hoist)).toBeCloseTo(2.4, 1);
  expect((await desk.only()).raw, "hoisting is no edit").toBe(first.raw);
});

test("hoist-by the keyboard-goes panel by panel, to both ends and in tenths", async ({ desk, page }) => {
  await desk.openDemo();
  await desk.hoist.focus();
  const most = Number(await desk.hoist.getAttribute("aria-valuemax"));
  expect(most).toBe((await desk.design()).masts[0].sail.panels ?? 6);
  for (const [key, value] of /** @type {[string, number][]} */ ([["ArrowDown", 1], ["ArrowDown", 2], ["ArrowUp", 1], ["Shift+ArrowDown", 1.1], ["ArrowDown", 2], ["End", most], ["ArrowDown", most], ["Home", 0], ["ArrowUp", 0]])) {
    await page.keyboard.press(key);
    await expect.poll(() => desk.value(desk.hoist), key).toBeCloseTo(value, 6);
  }
});

test("hoist drag-Escape or cancelled-is as it was", async ({ desk, page }) => {
  await desk.openDemo();
  for (const end of ["escape", "cancel"]) {
    const hand = desk.hand();
    const from = await middle(desk.hoist);
    await hand.down(from);
    await hand.along(from, await placeOn(desk, 3));
    await expect.poll(() => desk.value(desk.hoist)).toBe(3);
    if (end === "escape") {
      await page.keyboard.press("Escape");
      await hand.up();
    } else await hand.cancel();
    await expect.poll(() => desk.value(desk.hoist), end).toBe(0);
  }
});

test("scale-tapped at a panel-the sail slides there", async ({ desk, page }) => {
  await desk.openDemo();
  const at = await placeOn(desk, 3.2);
  if (desk.touch) await page.touchscreen.tap(at.x, at.y);
  else await page.mouse.click(at.x, at.y);
  await expect.poll(() => desk.value(desk.hoist)).toBe(3);
});

test("table-of the demo-has a row per state whose numbers step as the sail comes down", async ({ desk }) => {
  await desk.openDemo();
  await desk.section("reefs");
  const panels = Number(await desk.hoist.getAttribute("aria-valuemax"));
  await expect(lines(desk)).toHaveCount(panels + 1);
  const columns = await heads(desk);
  for (const key of ["area", "area_share", "ce_aft", "ce_up", "yard_height", "bundle_height"])
    expect(columns.some((column) => column.includes(head(key))), head(key)).toBe(true);
  expect(columns.some((column) => column.includes(head("chord_balance")) || column.includes(head("area_balance"))), "a balance").toBe(true);
  const rows = await cells(desk);
  /** @param {string} key */
  const column = (key) => {
    const at = columns.findIndex((words) => words.includes(head(key)));
    return rows.map((row) => Number((row[at] ?? "").replace("−", "-")));
  };
  const [area, share, yard, bundle] = [column("area"), column("area_share"), column("yard_height"), column("bundle_height")];
  expect(share[0]).toBe(100);
  for (let state = 1; state <= panels; state += 1) {
    expect(area[state], `area of state ${state}`).toBeLessThan(Number(area[state - 1]));
    expect(yard[state], `yard of state ${state}`).toBeLessThan(Number(yard[state - 1]));
    expect(bundle[state], `bundle of state ${state}`).toBeGreaterThan(Number(bundle[state - 1]));
    // Shares are shown whole, areas to a tenth.
    expect(Math.abs(Number(share[state]) - (100 * Number(area[state])) / Number(area[0])), `share of state ${state}`).toBeLessThan(1);
  }
  expect(area[panels]).toBe(0);
});

test("row-chosen-sets the hoist, and the hoist marks its row", async ({ desk, page }) => {
  await desk.openDemo();
  await desk.section("reefs");
  await desk.tap(lines(desk).nth(2).getByRole("button").first());
  await expect.poll(() => desk.value(desk.hoist)).toBe(2);
  await expect(lines(desk).nth(2)).toHaveAttribute("aria-current", "true");
  await expect(desk.reading).toContainText(/\b2\b/);
  await desk.hoist.focus();
  await page.keyboard.press("ArrowDown");
  await expect(lines(desk).nth(3)).toHaveAttribute("aria-current", "true");
  await expect(lines(desk).nth(2)).not.toHaveAttribute("aria-current", "true");
});

test("row-unfolded by a tap-tells where each parrel lies on the mast", async ({ desk, page }) => {
  await desk.openDemo();
  await desk.section("reefs");
  const panels = Number(await desk.hoist.getAttribute("aria-valuemax"));
  /** Heights of the spars in one state, from the boom up, as told. @param {number} state */
  async function heights(state) {
    const line = lines(desk).nth(state);
    const name = (await line.locator(".row-button").textContent()) ?? "";
    await desk.tap(line.getByRole("button", { name: say("page.reefs.parrels_of", { state: name }) }));
    const detail = page.getByRole("table", { name: say("page.reefs.parrels_of", { state: name }) });
    await expect(detail).toBeVisible();
    const columns = await detail.locator("thead th").allTextContents();
    const at = columns.findIndex((head) => head.includes(say("label.parrel_height")));
    expect(at, "a column of parrel heights").toBeGreaterThan(0);
    const found = await detail.locator("tbody tr").evaluateAll((rows, column) => rows.map((row) => [row.children[0]?.textContent ?? "", row.children[column]?.textContent ?? ""]), at);
    const upward = found.map(([spar, height]) => ({ spar: spar ?? "", height: Number((height ?? "").replace("−", "-")) }));
    if (upward[0]?.spar.startsWith(say("page.yard"))) upward.reverse();
    return upward;
  }
  const full = await heights(0);
  // Boom, battens, yard.
  expect(full.map(({ spar }) => spar)).toEqual([say("page.boom"), ...Array.from({ length: panels - 1 }, (_, at) => say("page.batten", { number: at + 1 })), say("page.yard")]);
  for (let spar = 1; spar <= panels; spar += 1) expect(full[spar]?.height, `spar ${spar} above the one below`).toBeGreaterThan(Number(full[spar - 1]?.height));
  const reefed = await heights(2);
  for (let spar = 1; spar <= panels; spar += 1) {
    expect(reefed[spar]?.height, `spar ${spar} has come down`).toBeLessThan(Number(full[spar]?.height));
    expect(reefed[spar]?.height, `spar ${spar} above the one below`).toBeGreaterThan(Number(reefed[spar - 1]?.height));
  }
  // Lowered spars lie close upon the boom: bundle pitches are 25 to 200 mm (common practice, bounds table).
  expect(Number(reefed[2]?.height) - Number(reefed[0]?.height)).toBeLessThan(0.4);
});

test("CSV-copied-holds the numbers of the table", async ({ desk, page, context }) => {
  await context.grantPermissions(["clipboard-read", "clipboard-write"]);
  await desk.openDemo();
  await desk.section("reefs");
  await desk.tap(page.getByRole("button", { name: say("page.reefs.copy") }));
  await expect(page.getByRole("button", { name: say("page.copied") })).toBeVisible();
  const csv = await page.evaluate(() => navigator.clipboard.readText());
  const found = csv.trim().split(/\r?\n/).map((line) => line.split(","));
  const shown = await cells(desk);
  expect(found).toHaveLength(shown.length + 1);
  expect(found[0]?.[1]).toContain(say("label.area"));
  shown.forEach((row, state) => {
    const numbers = found[state + 1]?.slice(1, row.length).map(Number);
    expect(numbers, `state ${state}`).toEqual(row.slice(1).map((text) => Number(text.replace("−", "-"))));
  });
});

test("column head-tapped-tells what the number means and where it comes from", async ({ desk, page }) => {
  await desk.openDemo();
  await desk.section("reefs");
  await desk.tap(table(desk).getByRole("button", { name: head("ce_aft") }).first());
  const help = page.getByRole("dialog", { name: say("label.ce_aft") });
  await expect(help).toContainText(say("help.ce_aft"));
  await page.keyboard.press("Escape");
  await expect(help).toBeHidden();
});

test("two-master-lowered by its sequence-both sails follow, one can be lowered alone", async ({ desk, page }) => {
  await desk.openDemo("grey-heron");
  const masts = (await desk.design()).masts;
  expect(masts).toHaveLength(2);
  await desk.section("reefs");
  const panels = masts.reduce((/** @type {number} */ sum, /** @type {any} */ mast) => sum + (mast.sail.panels ?? 6), 0);
  const most = Number(await desk.hoist.getAttribute("aria-valuemax"));
  // The scale goes through the rows of the sequence.
  await expect(lines(desk)).toHaveCount(most + 1);
  expect(most).toBeLessThanOrEqual(panels);
  await desk.hoist.focus();
  for (let state = 1; state <= 3; state += 1) {
    await page.keyboard.press("ArrowDown");
    await expect(lines(desk).nth(state)).toHaveAttribute("aria-current", "true");
  }
  // One sail alone, chosen beside the scale.
  const choose = page.getByRole("combobox", { name: say("page.hoist.of") });
  await expect(choose.getByRole("option")).toHaveCount(3);
  await page.keyboard.press("Home");
  await choose.selectOption({ label: masts[1].name });
  await expect(desk.hoist).toHaveAttribute("aria-valuemax", String(masts[1].sail.panels ?? 6));
  await desk.hoist.focus();
  await page.keyboard.press("ArrowDown");
  await page.keyboard.press("ArrowDown");
  await expect.poll(() => desk.value(desk.hoist)).toBe(2);
  await choose.selectOption({ label: masts[0].name });
  await expect.poll(() => desk.value(desk.hoist), "the other sail still stands").toBe(0);
});
