// A trap inside the wasm: the workbench is thrown away, the work is not.
import { wrapWasm } from "../support/faults.js";
import { expect, test } from "../support/journey.js";
import { say } from "../support/words.js";

/** Has the next call of an export trap. @param {import("@playwright/test").Page} page @param {string} name a part of its name */
const trapIn = (page, name) =>
  page.evaluate((part) => {
    /** @type {any} */ (window).trapIn = part;
  }, name);

for (const call of ["paint", "edit", "reef_table"]) {
  test(`workbench-trap in ${call}-comes back with the last committed text and offers a report`, async ({ desk, page, context }) => {
    await context.grantPermissions(["clipboard-read", "clipboard-write"]);
    await wrapWasm(page);
    await desk.openDemo();
    await desk.type(desk.field("chord"), "4.2");
    if (call === "reef_table") await desk.section("reefs");
    const stored = await desk.only();
    await trapIn(page, call);
    // The hand is at work when it breaks.
    await desk.handle("head").focus();
    await page.keyboard.press("ArrowUp");
    const notice = desk.notice("page.fault.trap");
    await expect(notice).toBeVisible();
    expect(await page.evaluate(() => /** @type {any} */ (window).trapped)).toBeGreaterThan(0);
    // An edit that was committed before the trap counts, one that trapped does not.
    const after = await desk.only();
    if (call === "edit") expect(after.raw).toBe(stored.raw);
    await desk.section("sail");
    await expect(desk.field("chord")).toHaveValue("4.20");
    expect(JSON.parse(after.text).masts[0].sail.chord_m).toBe(4.2);

    await desk.tap(notice.getByRole("button", { name: say("page.fault.copy_report") }));
    await expect(notice.getByRole("button", { name: say("page.copied") })).toBeVisible();
    const report = await page.evaluate(() => navigator.clipboard.readText());
    expect(report).toContain("while: ");
    expect(report).toContain("unreachable");
    // A stroke of the key may be stored a moment after it broke.
    const held = call === "edit" ? [stored] : [stored, after];
    expect(held.some(({ text }) => report.includes(text)), "with the design in it").toBe(true);

    // All as before: drawing, edits, undo.
    await desk.ready();
    await desk.type(desk.field("chord"), "4.3");
    await expect(desk.field("chord")).toHaveValue("4.30");
    expect((await desk.design()).masts[0].sail.chord_m).toBe(4.3);
    await desk.undo.click();
    await expect(desk.field("chord")).toHaveValue("4.20");
  });
}

test("drag-trap in the middle-the gesture is gone and the committed text stays", async ({ desk, page }) => {
  await wrapWasm(page);
  await desk.openDemo();
  const stored = await desk.only();
  const number = await desk.value(desk.handle("clew"));
  const from = await desk.place("clew");
  const hand = desk.hand();
  await hand.down(from);
  await hand.along(from, { x: from.x + 20, y: from.y });
  await expect.poll(() => desk.value(desk.handle("clew"))).not.toBe(number);
  await trapIn(page, "drag");
  await hand.along({ x: from.x + 20, y: from.y }, { x: from.x + 40, y: from.y });
  await hand.up();
  await expect(desk.notice("page.fault.trap")).toBeVisible();
  await expect.poll(() => desk.value(desk.handle("clew"))).toBe(number);
  expect((await desk.only()).raw).toBe(stored.raw);
});

test("document-traps whenever it is opened-the list stays and the text can be exported", async ({ desk, page }) => {
  await desk.openDemo();
  const stored = await desk.only();
  await wrapWasm(page, { sticks: "workbench_new" });
  await page.reload();
  await expect(page.getByText(say("page.fault.document_traps"))).toBeVisible();
  expect(await desk.stored()).toEqual([stored]);
  const file = await desk.download(() => desk.tap(page.getByRole("button", { name: say("page.projects.export_text") })));
  expect(file.text).toBe(stored.text);
  await desk.openProjects();
  await expect(desk.line("Marsh Pippin")).toBeVisible();
  expect(await desk.stored()).toEqual([stored]);
});
