// Quick checks of the yard: each by hand and by keys, written into the project and undone; without a project, without a network.
import { AxeBuilder } from "@axe-core/playwright";
import { expect, test } from "../support/journey.js";
import { beyond, cut, shortened } from "../support/room.js";
import { say } from "../support/words.js";

/** @typedef {import("../support/desk.js").Desk} Desk */
/** @typedef {import("@playwright/test").Page} Page */

const CHECKS = /** @type {const} */ (["inclining", "area", "mast", "line", "cloth"]);

/** @param {Page} page @param {string} path */
const field = (page, path) => page.locator(`[id="quick-${path}"]`);

/** @param {Page} page */
const answer = (page) => page.locator("#quick-answer");

/** Opens the sheet, on a check. @param {Desk} desk @param {string} [check] */
async function openQuick(desk, check) {
  await desk.tap(desk.page.locator("#workshop-button"));
  await desk.tap(desk.page.locator("#open-quick"));
  await expect(desk.page.locator("#quick")).toBeVisible();
  if (check) await desk.page.locator("#quick-which").selectOption(check);
}

/** @param {Page} page @param {[string, string][]} values */
async function fillIn(page, values) {
  for (const [path, text] of values) {
    const at = field(page, path);
    if ((await at.evaluate((element) => element.tagName)) === "SELECT") await at.selectOption(text);
    else await at.fill(text);
  }
}

/**
 * What is typed, the answer, and what is then in the design. Answers: 25 t, 15 m, 8000 t, 4 m, 0.2 m (Derrett & Barrass) in a boat's size;
 * Heron's 13, 14, 15 halved; tube 100 x 3 of 21,525 mm³; a string round a circle; 8 sailmaker's ounces.
 * @type {{ check: typeof CHECKS[number], values: [string, string][], says: RegExp, among: RegExp, holds: (design: any) => void }[]}
 */
const BY_HAND = [
  {
    check: "inclining",
    values: [["boat.displacement_kg", "8000"], ["boat.test.pendulum_m", "4"], ["0.weight_kg", "125"], ["0.arm_m", "3"], ["0.deflection_m", "200"]],
    says: /^0\.94 ± 0\.25/,
    among: /2\.9/,
    holds: ({ boat }) => {
      expect(boat.test).toEqual({ pendulum_m: 4, readings: [{ arm_m: 3, deflection_m: 0.2, weight_kg: 125 }, { arm_m: 0, deflection_m: 0, weight_kg: 0 }] });
    },
  },
  {
    check: "area",
    values: [["0.luff", "7"], ["0.leech", "7.5"], ["0.foot", "6.5"]],
    says: /^21\.00/,
    among: /^$/,
    holds: ({ masts }) => expect(masts[0].sail.chord_m).toBeLessThan(4),
  },
  {
    check: "mast",
    values: [["masts[].spars.mast_material", "6061-t6"], ["masts[].diameter_m", "100"], ["masts[].spars.mast_wall_m", "3"], ["quick.load", "moment"], ["quick.moment", "2"]],
    says: /^6\d%/,
    among: /93\sMPa/,
    holds: ({ masts }) => expect([masts[0].diameter_m, masts[0].spars.mast_wall_m, masts[0].spars.mast_material]).toEqual([0.1, 0.003, "6061-t6"]),
  },
  {
    check: "line",
    values: [["quick.diameter", "160"], ["quick.batten", "0"], ["quick.room", "0"], ["masts[].lines.parrels.ahead_m", "0.3"], ["masts[].lines.parrels.abaft_m", "0.5"], ["lines.tail_fixed_m", "0.4"]],
    says: /^1\.67/,
    among: /0\.87/,
    holds: ({ masts }) => expect(masts[0].lines.parrels.ahead_m).toBe(0.3),
  },
  {
    check: "cloth",
    values: [["quick.sold", "us"], ["masts[].weights.cloth_gsm", "8"]],
    says: /^343/,
    among: /10\.1/,
    holds: ({ masts }) => expect(masts[0].weights.cloth_gsm).toBe(343),
  },
];

test("each check-by hand-gives its number, is written, and one undo takes it back", async ({ desk, page }) => {
  await desk.openDemo();
  const before = await desk.text();
  for (const { check, values, says, among, holds } of BY_HAND) {
    await openQuick(desk, check);
    await fillIn(page, values);
    await expect(answer(page)).toHaveText(says);
    await expect(page.locator("#quick-more")).toHaveText(among.source === "^$" ? /^$/ : among);
    await desk.tap(page.locator(".quick-write button").last());
    await expect(page.locator("#quick-done")).toBeVisible();
    holds(await desk.design());
    await desk.tap(page.locator("#quick-undo"));
    await expect(page.locator("#quick-done")).toBeHidden();
    expect(await desk.text(), check).toBe(before);
    expect([await cut(page), await beyond(page), await shortened(page)], check).toEqual([[], [], []]);
    await page.keyboard.press("Escape");
  }
});

test("mast wall-by keyboard alone-is told, written and undone", async ({ desk, page }) => {
  await desk.openDemo();
  const before = await desk.text();
  /** @param {import("@playwright/test").Locator} target */
  async function tabTo(target) {
    for (let press = 0; press < 80; press += 1) {
      await page.keyboard.press("Tab");
      if (await target.evaluate((element) => element === document.activeElement)) return;
    }
    throw new Error("not to be reached by the keyboard");
  }
  await tabTo(page.locator("#workshop-button"));
  await page.keyboard.press("Enter");
  await tabTo(page.locator("#open-quick"));
  await page.keyboard.press("Enter");
  await expect(page.locator("#quick-which")).toBeFocused();
  for (const check of CHECKS.slice(1)) {
    await page.keyboard.press("ArrowDown");
    await expect(page.locator("#quick-which")).toHaveValue(check);
    await expect(answer(page)).not.toBeEmpty();
  }
  await page.keyboard.press("ArrowUp");
  await page.keyboard.press("ArrowUp");
  await expect(page.locator("#quick-which")).toHaveValue("mast");
  await tabTo(field(page, "masts[].diameter_m"));
  const share = await answer(page).textContent();
  await page.keyboard.type("200");
  await expect(answer(page)).not.toHaveText(share ?? "");
  // The key for done leads on to the wall.
  await page.keyboard.press("Enter");
  await expect(field(page, "masts[].spars.mast_wall_m")).toBeFocused();
  await page.keyboard.type("5");
  await tabTo(page.locator(".quick-write button").first());
  await page.keyboard.press("Enter");
  await expect(page.locator("#quick-done")).toBeVisible();
  expect((await desk.design()).masts[0].diameter_m).toBe(0.2);
  await expect(page.locator("#quick-undo")).toBeFocused();
  await page.keyboard.press("Enter");
  await expect(page.locator("#quick-done")).toBeHidden();
  expect(await desk.text()).toBe(before);
});

test("what was typed-hostile or not-is told by field and range, outlasts a reload and needs no project", async ({ desk, page }) => {
  await desk.openDemo();
  const before = await desk.text();
  await openQuick(desk, "mast");
  for (const hostile of ["<b>1</b>", "__proto__", "1e999", "-5", "0", "9".repeat(60)]) {
    await field(page, "masts[].diameter_m").fill(hostile);
    await expect(page.locator("#quick-problems")).toContainText(say("label.mast_diameter"));
    await expect(field(page, "masts[].diameter_m")).toHaveAttribute("aria-invalid", "true");
    await expect(answer(page)).toHaveText("–");
    await expect(page.locator(".quick-write")).toHaveCount(0);
  }
  await field(page, "masts[].diameter_m").fill("abc");
  await expect(page.locator("#quick-problems")).toContainText("400");
  await page.locator("#quick-which").selectOption("area");
  await fillIn(page, [["0.luff", "9"], ["0.leech", "5"], ["0.foot", "3"]]);
  await expect(page.locator("#quick-told")).toContainText("1000");
  await field(page, "0.luff").fill("7");
  await desk.tap(page.locator("#quick-row-add"));
  await fillIn(page, [["1.luff", "14"], ["1.leech", "15"], ["1.foot", "13"]]);
  await expect(answer(page)).toHaveText(/^84\.00/);
  expect(await desk.text()).toBe(before);

  await page.reload();
  await desk.ready();
  await openQuick(desk);
  await expect(page.locator("#quick-which")).toHaveValue("area");
  await expect(field(page, "0.luff")).toHaveValue("7");
  await page.keyboard.press("Escape");

  // No project on the desk: the same, and nothing to write into.
  await page.evaluate(() => {
    localStorage.setItem("battenwright.project.half", JSON.stringify({ name: "Half", saved: "2026-01-02T03:04:05.000Z", text: "{" }));
    sessionStorage.setItem("battenwright.open", "half");
  });
  await page.reload();
  await expect(page.getByText(say("page.fault.half"))).toBeVisible();
  await openQuick(desk);
  await desk.tap(page.locator("#quick-rows .chip").nth(1));
  await expect(answer(page)).toHaveText(/^84\.00/);
  await expect(page.locator(".quick-write")).toHaveCount(0);
  await page.locator("#quick-which").selectOption("cloth");
  await fillIn(page, [["quick.sold", "uk"], ["masts[].weights.cloth_gsm", "8"]]);
  await expect(answer(page)).toHaveText(/^271/);
});

test("units-feet-are typed and told, and every check finds its room", async ({ desk, page }) => {
  await desk.openDemo();
  await desk.tap(page.getByRole("group", { name: say("page.units") }).getByText(say("page.units.ft"), { exact: true }));
  await openQuick(desk, "area");
  await fillIn(page, [["0.luff", "14"], ["0.leech", "15' 0\""], ["0.foot", "13"]]);
  await expect(answer(page)).toHaveText(/^84\.0\sft²/);
  for (const check of CHECKS) {
    await page.locator("#quick-which").selectOption(check);
    await expect(page.locator("#quick-fields")).toHaveAttribute("data-check", check);
    expect([await cut(page), await beyond(page), await shortened(page)], check).toEqual([[], [], []]);
  }
});

for (const scheme of /** @type {const} */ (["light", "dark"])) {
  test.describe(`in ${scheme}`, () => {
    test.use({ colorScheme: scheme });
    test("every check-looked at by axe-has no violations", async ({ desk, page }) => {
      await desk.openDemo();
      await openQuick(desk);
      for (const check of CHECKS) {
        await page.locator("#quick-which").selectOption(check);
        await expect(page.locator("#quick-fields")).toHaveAttribute("data-check", check);
        const { violations } = await new AxeBuilder({ page }).include("#quick").setLegacyMode().analyze();
        expect(violations.map(({ id, nodes }) => [id, nodes[0]?.html]), check).toEqual([]);
      }
    });
  });
}

test.describe("without network", () => {
  test.use({ language: "en", serviceWorkers: "allow" });
  test("quick checks-never opened before-come from what the browser keeps", async ({ desk, page, context }) => {
    await desk.openDemo();
    await desk.goOffline();
    await openQuick(desk, "cloth");
    await fillIn(page, [["quick.sold", "us"], ["masts[].weights.cloth_gsm", "8"]]);
    await expect(answer(page)).toHaveText(/^343/);
    await context.setOffline(false);
  });
});
