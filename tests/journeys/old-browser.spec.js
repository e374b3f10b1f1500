// A browser without what the page needs: a plain sentence, and nothing else.
import { expect, test } from "../support/journey.js";

for (const missing of ["WebAssembly", "ResizeObserver", "HTMLDialogElement", "structuredClone"]) {
  test(`browser-without ${missing}-gets a plain sentence and nothing else`, async ({ page }) => {
    await page.addInitScript((name) => {
      delete (/** @type {any} */ (window)[name]);
    }, missing);
    await page.goto("./");
    await expect(page.getByText("This browser is too old for Battenwright.")).toBeVisible();
    // Given time to come, the page itself must not.
    await page.waitForLoadState("networkidle");
    await expect(page.locator("#page")).toBeHidden();
    await expect(page.getByRole("dialog")).toBeHidden();
    expect((await page.locator("body").innerText()).trim()).toMatch(/^This browser is too old.*$/);
  });
}

test("browser-with all of it-sees no such sentence", async ({ desk, page }) => {
  await desk.open();
  await expect(page.getByText("This browser is too old for Battenwright.")).toBeHidden();
});
