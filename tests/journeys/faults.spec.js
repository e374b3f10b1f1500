// Six faults of storage and files: what was stored stays byte for byte, a sentence tells, an export works.
import { Desk, PREFIX } from "../support/desk.js";
import { blockStorage, fillStorage } from "../support/faults.js";
import { expect, test } from "../support/journey.js";
import { say } from "../support/words.js";

/** @typedef {import("@playwright/test").Page} Page */

/** Puts a project into the storage as it would lie there. @param {Page} page @param {string} id @param {string} raw */
const put = (page, id, raw) => page.evaluate(([key, value]) => localStorage.setItem(/** @type {string} */ (key), /** @type {string} */ (value)), [PREFIX + id, raw]);

/** @param {Page} page @param {string} id @returns {Promise<string | null>} */
const bytes = (page, id) => page.evaluate((key) => localStorage.getItem(key), PREFIX + id);

test("storage-full-what was saved stays, the sentence tells, the export has the newest", async ({ desk, page }) => {
  await desk.openDemo();
  const stored = await desk.only();
  await fillStorage(page);
  await desk.section("boat");
  const note = "Measured afloat. ".repeat(40).trim();
  const field = desk.field("note");
  await field.fill(note);
  await field.blur();
  const notice = desk.notice("page.fault.full");
  await expect(notice).toBeVisible();
  expect((await desk.only()).raw).toBe(stored.raw);
  const file = await desk.download(() => desk.tap(notice.getByRole("button", { name: say("page.export") })));
  expect(JSON.parse(file.text).note).toBe(note);

  // Room again: the next change saves all of it and the sentence goes.
  await page.evaluate(() => localStorage.removeItem("neighbour"));
  await desk.section("sail");
  await desk.type(desk.field("chord"), "4.2");
  await expect(notice).toBeHidden();
  expect((await desk.design()).note).toBe(note);
});

test.describe("storage blocked", () => {
  // What cannot be stored cannot choose a language.
  test.use({ language: "en" });

  test("storage-blocked-the page works, the sentence tells, the export has the newest", async ({ desk, page, context }) => {
    await desk.openDemo();
    const stored = await desk.only();
    const second = await context.newPage();
    await blockStorage(second);
    const blocked = new Desk(second, desk.touch);
    await blocked.open();
    const notice = blocked.notice("page.fault.blocked");
    await expect(notice).toBeVisible();
    await blocked.type(blocked.field("chord"), "4.05");
    await expect(blocked.field("chord")).toHaveValue("4.05");
    await expect(notice, "told once").toHaveCount(1);
    const file = await blocked.download(() => blocked.tap(notice.getByRole("button", { name: say("page.export") })));
    expect(JSON.parse(file.text).masts[0].sail.chord_m).toBe(4.05);
    await blocked.undo.click();
    await expect(blocked.field("chord")).not.toHaveValue("4.05");
    expect((await desk.only()).raw).toBe(stored.raw);
    expect(await page.evaluate(() => Object.keys(localStorage).filter((key) => key.startsWith("battenwright.project.")).length)).toBe(1);
    await second.close();
  });
});

for (const cut of /** @type {const} */ (["wrapper", "document"])) {
  test(`half a ${cut}-opened-stays as it is and can be exported`, async ({ desk, page }) => {
    await desk.openDemo();
    const whole = await desk.only();
    const half = whole.text.slice(0, whole.text.length / 2);
    const raw = cut === "wrapper" ? whole.raw.slice(0, whole.raw.length / 2) : JSON.stringify({ name: "Half", saved: "2026-01-02T03:04:05.000Z", text: half });
    await put(page, "half", raw);
    await desk.openProjects();
    const name = cut === "wrapper" ? say("page.unnamed") : "Half";
    const line = desk.line(name);
    await expect(line).toContainText(say("page.projects.unreadable"));
    await desk.more(name);
    const file = await desk.download(() => desk.tap(line.getByRole("button", { name: say("page.projects.export_text") })));
    expect(file.text).toBe(cut === "wrapper" ? raw : half);
    await desk.tap(line.getByRole("button").first());
    await expect(page.getByText(say("page.fault.half"))).toBeVisible();
    const again = await desk.download(() => desk.tap(page.getByRole("button", { name: say("page.projects.export_text") })));
    expect(again.text).toBe(file.text);
    expect(await bytes(page, "half")).toBe(raw);

    // The others can still be opened, and a reload hurts nothing.
    await page.reload();
    await desk.openProjects();
    await desk.tap(desk.line("Marsh Pippin").getByRole("button").first());
    await desk.ready();
    expect(await bytes(page, "half")).toBe(raw);
    expect(await bytes(page, whole.id)).toBe(whole.raw);
  });
}

test("newer version-opened-stays as it is, is named so, and can be exported", async ({ desk, page }) => {
  await desk.openDemo();
  const whole = await desk.only();
  const text = whole.text.replace('"version":1', '"version":99');
  expect(text).not.toBe(whole.text);
  const raw = JSON.stringify({ name: "From tomorrow", saved: "2026-01-02T03:04:05.000Z", text });
  await put(page, "newer", raw);
  await desk.openProjects();
  await desk.tap(desk.line("From tomorrow").getByRole("button").first());
  await expect(page.getByRole("alert").filter({ hasText: say("problem.newer_version", { version: 99, known: 1 }) })).toBeVisible();
  const file = await desk.download(() => desk.tap(page.getByRole("button", { name: say("page.projects.export_text") })));
  expect(file.text).toBe(text);
  expect(await bytes(page, "newer")).toBe(raw);
  // Renaming in the list must not rewrite what is not understood.
  await desk.openProjects();
  const line = await desk.more("From tomorrow");
  const copy = await desk.download(() => desk.tap(line.getByRole("button", { name: say("page.export") })));
  expect(copy.text).toBe(text);
  await page.reload();
  await desk.ready();
  expect(await bytes(page, "newer")).toBe(raw);
  expect(await bytes(page, whole.id)).toBe(whole.raw);
});

test("project-open in another window-can be looked at, exported, duplicated and taken over", async ({ desk, page, context }) => {
  await desk.openDemo();
  const stored = await desk.only();
  const second = await context.newPage();
  const other = new Desk(second, desk.touch);
  await other.page.goto("./");
  const notice = other.notice("page.fault.other_window");
  await expect(notice).toBeVisible();
  await expect(other.handle("clew"), "nothing to take hold of").toBeHidden();
  await expect(other.field("chord")).not.toBeEditable();
  // Looking is allowed: the hoist, the table, the export.
  await other.hoist.focus();
  await second.keyboard.press("ArrowDown");
  await expect.poll(() => other.value(other.hoist)).toBe(1);
  const file = await other.download(() => other.tap(notice.getByRole("button", { name: say("page.export") })));
  expect(file.text).toBe(stored.text);
  expect((await desk.only()).raw).toBe(stored.raw);

  // What the first window saves is seen in the second.
  await desk.type(desk.field("chord"), "4.15");
  await expect(other.field("chord")).toHaveValue("4.15");

  // Taken over: now the first one only looks.
  await other.tap(notice.getByRole("button", { name: say("page.take_over") }));
  await expect(other.handle("clew")).toBeVisible();
  await expect(notice).toBeHidden();
  await expect(desk.notice("page.fault.other_window")).toBeVisible();
  await expect(desk.field("chord")).not.toBeEditable();
  await other.type(other.field("chord"), "4.25");
  await expect(desk.field("chord")).toHaveValue("4.25");
  expect((await desk.design()).masts[0].sail.chord_m).toBe(4.25);

  // The first goes on with a copy of its own.
  await desk.tap(desk.notice("page.fault.other_window").getByRole("button", { name: say("page.projects.duplicate") }));
  await expect(page.getByRole("heading", { level: 1 })).toHaveText("Marsh Pippin 2");
  await desk.ready();
  await desk.type(desk.field("chord"), "3.95");
  const all = await desk.stored();
  expect(all.map(({ name, text }) => [name, JSON.parse(text).masts[0].sail.chord_m])).toEqual([["Marsh Pippin 2", 3.95], ["Marsh Pippin", 4.25]]);
  await second.close();
});

test.describe("wasm file missing or broken", () => {
  /** What comes in its place. @type {Record<string, (packed: Buffer) => { status?: number, body: Buffer | string } | null>} */
  const kinds = {
    missing: () => ({ status: 404, body: "not found" }),
    "cut off": () => null,
    "cut short": (packed) => ({ body: packed.subarray(0, packed.length / 2) }),
    "without its last byte": (packed) => ({ body: packed.subarray(0, -1) }),
    empty: () => ({ body: "" }),
    "wrong in one bit": (packed) => ({ body: Buffer.from(packed).fill((packed[100_000] ?? 0) ^ 4, 100_000, 100_001) }),
    "longer than any": (packed) => ({ body: Buffer.from(packed).fill(0xff, 5, 9) }),
  };
  for (const [kind, spoilt] of Object.entries(kinds)) {
    test(`wasm file-${kind}-projects can be listed, imported and exported as they are`, async ({ desk, page, watch }) => {
      await desk.openDemo();
      const stored = await desk.only();
      watch.expect(/Failed to load resource|wasm|net::ERR/i);
      await page.route("**/site.bin", async (route) => {
        const answer = spoilt(await (await route.fetch()).body());
        await (answer ? route.fulfill({ contentType: "application/octet-stream", ...answer }) : route.abort());
      });
      await page.reload();
      const dialog = desk.projects;
      await expect(dialog).toBeVisible();
      await expect(dialog).toContainText(say("page.fault.no_wasm"));
      const line = await desk.more("Marsh Pippin");
      const file = await desk.download(() => desk.tap(line.getByRole("button", { name: say("page.export") })));
      expect(file.text).toBe(stored.text);
      expect(await desk.stored()).toEqual([stored]);
      await page.locator("#import-file").setInputFiles({ name: "plan.json", mimeType: "application/json", buffer: Buffer.from(file.text) });
      await expect(desk.line("Marsh Pippin 2")).toBeVisible();
      const all = await desk.stored();
      expect(all.map(({ text }) => text)).toEqual([stored.text, stored.text]);
      expect(all.find(({ id }) => id === stored.id)?.raw).toBe(stored.raw);

      // With the file there again all of it opens.
      await page.unroute("**/site.bin");
      await page.reload();
      await desk.ready();
    });
  }
});
