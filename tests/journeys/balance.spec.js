// Section Balance: the wind, the boat it heels, what is known of her, every check.
import { expect, test } from "../support/journey.js";
import { say } from "../support/words.js";

/** @typedef {import("../support/desk.js").Desk} Desk */

/** Sets the wind as a hand on the slider does. @param {Desk} desk @param {number} knots */
async function blow(desk, knots) {
  const wind = desk.page.getByRole("slider", { name: say("label.true_wind") });
  await wind.fill(String(knots));
}

/** @param {Desk} desk @param {string} path */
const cell = (desk, path) => desk.page.locator(`[data-path="${path}"]`).getByRole("textbox");

test("wind-turned up-reefs the sail as advised and says what limits it", async ({ desk, page }) => {
  await desk.openDemo("marsh-pippin");
  await desk.section("balance");
  const rows = page.locator("#wind-table tr[data-state]");
  await expect(rows).toHaveCount(8);
  await blow(desk, 5);
  const advice = page.locator(".advice");
  await expect(advice).toContainText(say("balance.all_standing"));
  await expect.poll(() => desk.value(desk.hoist)).toBe(0);
  let before = 0;
  for (const knots of [16, 24, 40]) {
    await blow(desk, knots);
    await expect(page.getByRole("slider", { name: say("label.true_wind") })).toHaveAttribute("aria-valuetext", new RegExp(`^${knots}\\D`));
    await expect(advice).toContainText(say("balance.governs.heel"));
    // The row that holds is the first whose wind is no less than this one.
    const down = before;
    await expect.poll(async () => ((value) => Number.isInteger(value) && value > down)(await desk.value(desk.hoist))).toBe(true);
    before = await desk.value(desk.hoist);
    const upTo = Number(await rows.nth(before).locator("td").nth(1).textContent());
    const above = Number(await rows.nth(before - 1).locator("td").nth(1).textContent());
    expect(upTo).toBeGreaterThanOrEqual(knots);
    expect(above).toBeLessThanOrEqual(knots);
    await expect(rows.nth(before)).toHaveAttribute("aria-current", "true");
  }
  // A row unfolds to all that is known of its state.
  await desk.tap(rows.nth(1).getByRole("button").nth(1));
  await expect(page.locator("#wind-table .detail-table")).toContainText(/ · .* 6\.\d/);
  await desk.tap(rows.nth(0).getByRole("button").first());
  await expect.poll(() => desk.value(desk.hoist)).toBe(0);
});

test("blank design-without weight and profile-asks for them and leads there", async ({ desk, page }) => {
  await desk.open();
  await desk.newBlank();
  await desk.section("balance");
  const needs = page.locator(".needs li");
  await expect(needs).toHaveCount(2);
  await expect(page.locator("#plot-righting")).toBeHidden();
  await desk.tap(needs.filter({ hasText: say("label.displacement") }).getByRole("button"));
  const displacement = cell(desk, "boat.displacement_kg");
  await expect(displacement).toBeFocused();
  await desk.type(displacement, "1,5");
  await expect(page.locator('[data-path="boat.displacement_kg"] .problem')).not.toBeEmpty();
  await desk.type(displacement, "1500 kg");
  await desk.section("balance");
  await expect(needs).toHaveCount(1);
  await expect(page.locator("#plot-righting")).toBeVisible();
  await expect(page.locator(".scroller.plain").first().getByRole("row")).toHaveCount(4);
  // Stability that is but estimated is said to be.
  await expect(page.locator("#checks .look").filter({ hasText: say("basis.common_practice") }).first()).toBeVisible();
  await desk.tap(needs.first().getByRole("button"));
  await desk.type(cell(desk, "boat.profile.0.x_m"), "0");
  await desk.type(cell(desk, "boat.profile.0.z_m"), "0");
  for (const [at, x, z] of [[1, 5.2, 0], [2, 4.2, -0.9], [3, 1.0, -0.5]]) {
    await desk.tap(page.locator('[data-group="clr"]').getByRole("button", { name: say("page.rows.add") }));
    await desk.type(cell(desk, `boat.profile.${at}.x_m`), String(x));
    await desk.type(cell(desk, `boat.profile.${at}.z_m`), String(z));
  }
  expect((await desk.design()).boat.profile).toHaveLength(4);
  await desk.section("balance");
  await expect(page.locator(".needs")).toBeHidden();
  // Two points changed over, the outline crosses itself: told, and nothing lost.
  await desk.section("boat");
  await desk.type(cell(desk, "boat.profile.1.x_m"), "1.0");
  await desk.type(cell(desk, "boat.profile.3.x_m"), "5.2");
  await expect(page.locator("#attention")).toContainText(say("problem.outline_crosses"));
  await desk.tap(page.getByRole("button", { name: say("page.rows.remove", { number: 4 }) }).first());
  expect((await desk.design()).boat.profile).toHaveLength(3);
});

test("dock test-pasted from a spreadsheet-gives the righting moment in one step", async ({ desk, page }) => {
  await desk.open();
  await desk.newBlank();
  await desk.section("boat");
  await desk.unfold("stability");
  await desk.tap(page.locator('[data-path="boat.stability"]').getByText(say("choice.stability.test")));
  await desk.type(cell(desk, "boat.test.pendulum_m"), "2");
  const before = await desk.text();
  await cell(desk, "boat.test.readings.0.weight_kg").evaluate((input) => {
    const clipboardData = new DataTransfer();
    clipboardData.setData("text", "weight\tarm\tread\n40\t1\t30\n80\t1\t60\n\n40\t-1\t-30\n80\t-1\t-60\n");
    input.dispatchEvent(new ClipboardEvent("paste", { clipboardData, bubbles: true, cancelable: true }));
  });
  await expect.poll(async () => (await desk.design()).boat.test.readings?.length).toBe(4);
  await expect(page.getByText(say("page.rows.not_taken", { n: 3 })), "the heading").toBeVisible();
  expect((await desk.design()).boat.test.readings[3]).toEqual({ weight_kg: 80, arm_m: -1, deflection_m: -0.06 });
  await desk.section("balance");
  // By hand: m g GM = w g d / tan φ = 40 kg × 9.80665 × 1 m / (0.030 / 2.00) = 26.2 kN m.
  const known = page.locator(".known li").filter({ hasText: say("label.stiffness") });
  await expect(known).toContainText("26.2");
  await desk.undo.click();
  expect(await desk.text()).toBe(before);
});

test("centre of effort-put where the old rig has it-lies there, or as near as the mast may stand", async ({ desk, page }) => {
  await desk.openDemo("marsh-pippin");
  await desk.section("balance");
  await desk.tap(page.locator("#fit-centre"));
  await expect(page.locator("#balance-lead [role=status]")).toContainText("1.50");
  const moved = (await desk.design()).masts[0].position_m;
  expect(moved).not.toBe(1.5);
  await desk.undo.click();
  expect((await desk.design()).masts[0].position_m).toBe(1.5);
  await desk.section("boat");
  const end = Math.round((1.5 + 0.4 * (moved - 1.5)) * 1000) / 1000;
  await desk.type(cell(desk, moved > 1.5 ? "masts.0.to_m" : "masts.0.from_m"), String(end));
  await desk.section("balance");
  await desk.tap(page.locator("#fit-centre"));
  const missed = say("balance.centre_missed", { miss: "?" }).split("?")[0] ?? "";
  await expect(page.locator("#balance-lead [role=status]")).toContainText(missed);
  expect((await desk.design()).masts[0].position_m).toBeCloseTo(end, 3);
});

test("check-tapped-points at its part on the drawing and goes to its reef", async ({ desk, page }) => {
  await desk.openDemo("marsh-pippin");
  await desk.section("balance");
  const picture = () => page.locator("#canvas").evaluate((canvas) => /** @type {HTMLCanvasElement} */ (canvas).toDataURL());
  const plain = await picture();
  const check = page.locator("#checks button").filter({ hasText: say("check.leech_kink") });
  await desk.tap(check);
  await expect(check).toHaveAttribute("aria-pressed", "true");
  await expect.poll(picture).not.toBe(plain);
  await desk.tap(check);
  await expect(check).toHaveAttribute("aria-pressed", "false");
  await expect.poll(picture).toBe(plain);
  const margin = page.locator("#checks button").filter({ hasText: say("check.overbalance") });
  await desk.tap(margin);
  await expect.poll(() => desk.value(desk.hoist)).toBeGreaterThan(0);
});

test("boat that cannot stand-says so and loses nothing", async ({ desk, page }) => {
  await desk.open();
  await desk.newBlank();
  await desk.section("boat");
  await desk.unfold("weight");
  await desk.type(cell(desk, "boat.displacement_kg"), "0");
  await expect(page.locator('[data-path="boat.displacement_kg"] .problem')).not.toBeEmpty();
  expect((await desk.design()).boat.displacement_kg, "what cannot be used is not stored").toBeUndefined();
  await expect(cell(desk, "boat.displacement_kg"), "and not lost").toHaveValue("0");
  await desk.type(cell(desk, "boat.displacement_kg"), "2000");
  await desk.unfold("stability");
  await desk.type(cell(desk, "boat.kg_pct"), "180");
  await expect(page.locator("#attention")).toContainText(say("check.stable.found"));
  await desk.section("balance");
  await blow(desk, 20);
  await expect(page.locator(".advice")).toContainText(say("balance.too_much", { why: say("balance.governs.curve") }));
});
