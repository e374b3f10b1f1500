/**
 * The workshop and what it opens.
 * @module
 */
import { AxeBuilder } from "@axe-core/playwright";
import { expect } from "./journey.js";
import { say } from "./words.js";

/** Opens something of the workshop by its name. @param {import("./desk.js").Desk} desk @param {string} word */
export async function errand(desk, word) {
  await desk.tap(desk.page.getByRole("button", { name: say("page.workshop"), exact: true }));
  await desk.tap(desk.page.getByRole("dialog", { name: say("page.workshop") }).getByRole("button", { name: say(word) }).first());
}

/** What axe finds serious or critical, in light and in dark. @param {import("@playwright/test").Page} page */
export async function expectNothingGrave(page) {
  for (const colorScheme of /** @type {const} */ (["light", "dark"])) {
    await page.emulateMedia({ colorScheme });
    const { violations } = await new AxeBuilder({ page }).analyze();
    const grave = violations.filter(({ impact }) => impact === "serious" || impact === "critical");
    expect(grave.map(({ id, nodes }) => [id, nodes.map(({ html }) => html)]), colorScheme).toEqual([]);
  }
}
