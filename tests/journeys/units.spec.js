// Metres, or feet and inches: what is understood, what is refused, what comes back.
import { expect, test } from "../support/journey.js";
import { shortened } from "../support/room.js";
import { say } from "../support/words.js";

// Exact: NIST SP 811, Appendix B.
const FOOT = 0.3048;
const INCH = 0.0254;

/** Typed, and metres meant in the metric and in the imperial mode. @type {[string, number, number][]} */
const SPELLINGS = [
  ["4.43", 4.43, 4.43 * FOOT],
  ["4,43", 4.43, 4.43 * FOOT],
  ["-0.2", -0.2, -0.2 * FOOT],
  ...[
    /** @type {[string, number]} */ (["4.43 m", 4.43]),
    ["443 cm", 4.43],
    ["4430mm", 4.43],
    ["14'", 14 * FOOT],
    ["14ft", 14 * FOOT],
    ["14' 6\"", 174 * INCH],
    ["14'6 1/2\"", 174.5 * INCH],
    ["14-6.5", 174.5 * INCH],
    ["14-6 1/2", 174.5 * INCH],
    ["6 1/2\"", 6.5 * INCH],
    ["78 in", 78 * INCH],
    // As phones type them: curly quotes, primes, dashes, a fraction of one sign.
    ["14’ 6 1/2”", 174.5 * INCH],
    ["14‘6“", 174 * INCH],
    ["14′ 6½″", 174.5 * INCH],
    ["14–6 1/2", 174.5 * INCH],
    ["14—6.5", 174.5 * INCH],
    ["−0.2 m", -0.2],
  ].map(([typed, metres]) => /** @type {[string, number, number]} */ ([typed, metres, metres])),
];

/** @param {import("../support/desk.js").Desk} desk @param {"metres" | "feet"} which */
async function switchTo(desk, which) {
  const radio = desk.page.getByRole("radio", { name: say(which === "feet" ? "unit.imperial" : "unit.metric") });
  await desk.tap(desk.page.getByRole("group", { name: say("page.units") }).getByText(say(which === "feet" ? "page.units.ft" : "page.units.m"), { exact: true }));
  await expect(radio).toBeChecked();
}

for (const mode of /** @type {const} */ (["metres", "feet"])) {
  test(`length-typed in every spelling in ${mode}-is understood`, async ({ desk }) => {
    await desk.openDemo();
    await desk.section("boat");
    if (mode === "feet") await switchTo(desk, "feet");
    const field = desk.field("mast_position");
    for (const [typed, metric, imperial] of SPELLINGS) {
      await desk.type(field, typed);
      // Stored to the millimetre: the step of its bounds row.
      const meant = Math.round((mode === "metres" ? metric : imperial) * 1000) / 1000;
      await expect.poll(async () => (await desk.design()).masts[0].position_m, typed).toBe(meant);
    }
  });

  test(`thousands separator-typed in ${mode}-is refused with a sentence and nothing is stored`, async ({ desk, page }) => {
    await desk.openDemo();
    if (mode === "feet") await switchTo(desk, "feet");
    const first = await desk.only();
    const field = desk.field("chord");
    for (const [typed, plain] of /** @type {[string, string][]} */ ([["1,234.5", "1234.5"], ["1.234,5", "1234.5"], ["1 234", "1234"], ["1,234,567", "1234567"]])) {
      await desk.type(field, typed);
      await expect(desk.problemOf(field)).toHaveText(say("problem.thousands", { typed, plain }));
      await expect(field).toHaveAttribute("aria-invalid", "true");
      await expect(field, "what was typed stays to be mended").toHaveValue(typed);
    }
    expect((await desk.only()).raw).toBe(first.raw);
    await page.keyboard.press("Escape");
    await expect(desk.problemOf(field)).toBeHidden();
    expect(await field.inputValue()).not.toBe("1,234,567");
  });
}

test("feet and inches-typed-show again after save, two unit switches and reload", async ({ desk, page }) => {
  await desk.openDemo();
  await switchTo(desk, "feet");
  const typed = "14' 6 1/2\"";
  await desk.type(desk.field("chord"), typed);
  await expect(desk.field("chord")).toHaveValue(typed);
  const stored = await desk.only();
  await switchTo(desk, "metres");
  await expect(desk.field("chord")).not.toHaveValue(typed);
  await switchTo(desk, "feet");
  await expect(desk.field("chord")).toHaveValue(typed);
  await page.reload();
  await desk.ready();
  await expect(desk.field("chord")).toHaveValue(typed);
  expect((await desk.only()).raw).toBe(stored.raw);
});

test("units-switched to and fro-never change what is stored", async ({ desk }) => {
  await desk.openDemo();
  await desk.type(desk.field("chord"), "4.437");
  const stored = await desk.only();
  for (const section of /** @type {const} */ (["sail", "boat", "reefs"])) {
    await desk.section(section);
    for (let turn = 0; turn < 3; turn += 1) {
      await switchTo(desk, "feet");
      await switchTo(desk, "metres");
    }
  }
  expect((await desk.only()).raw).toBe(stored.raw);
  await expect(desk.undo, "switching is no step").not.toHaveAttribute("aria-disabled", "true");
  await desk.undo.click();
  await expect(desk.undo).toHaveAttribute("aria-disabled", "true");
});

test("units-switched-every number on the page follows", async ({ desk, page }) => {
  await desk.openDemo();
  await desk.section("reefs");
  const table = page.locator("#reef-table");
  const metric = await table.textContent();
  await switchTo(desk, "feet");
  await expect(table).toContainText("ft²");
  expect(await table.textContent()).not.toBe(metric);
  await expect(page.getByRole("group", { name: say("page.headline") })).toContainText("ft²");
  await expect(desk.reading).toContainText("ft²");
  await switchTo(desk, "metres");
  await expect(table).toHaveText(metric ?? "");
});

test("fields-on a phone-ask for the keyboard that fits", async ({ desk, page }) => {
  await desk.openDemo();
  await expect(desk.field("chord")).toHaveAttribute("inputmode", "decimal");
  await expect(desk.field("panels")).toHaveAttribute("inputmode", "numeric");
  await desk.section("boat");
  // A minus must be in reach, and some decimal keyboards have none.
  await expect(desk.field("name")).toHaveAttribute("inputmode", "text");
  await switchTo(desk, "feet");
  await desk.section("sail");
  // Feet and inches need marks and a space.
  await expect(desk.field("chord")).toHaveAttribute("inputmode", "text");
  for (const input of await page.getByRole("tabpanel").getByRole("textbox").all()) await expect(input).toHaveAttribute("autocomplete", "off");
});

test("table of spars-in feet and inches-every number is shown whole", async ({ desk, page, isMobile }) => {
  if (isMobile) await page.setViewportSize({ width: 360, height: 740 });
  await desk.openDemo();
  await switchTo(desk, "feet");
  await desk.tap(page.getByRole("radio", { name: say("choice.family.table") }).locator("xpath=ancestor::label"));
  const yard = page.locator(".spar-table tbody tr").first().getByRole("textbox");
  await desk.type(yard.nth(0), "-1' 11 15/16\"");
  await desk.type(yard.nth(1), "16' 3 9/16\"");
  await expect(yard.nth(1)).toHaveValue("16' 3 9/16\"");
  expect(await shortened(page)).toEqual([]);
});
