// Projects in the browser's storage: saved by themselves, listed, named, copied, deleted, put into files.
import { expect, test } from "../support/journey.js";
import { say } from "../support/words.js";

/** Stands in for the browser's promise to keep what is stored, and counts how often it is asked. @param {import("@playwright/test").Page} page @param {boolean} promise */
async function answerPersist(page, promise) {
  await page.addInitScript((answer) => {
    /** @type {any} */ (window).persistAsked = 0;
    StorageManager.prototype.persisted = async () => false;
    StorageManager.prototype.persist = async () => {
      /** @type {any} */ (window).persistAsked += 1;
      return answer;
    };
  }, promise);
  return () => page.evaluate(() => /** @type {any} */ (window).persistAsked);
}

test("first visit-nothing changed-stores nothing, the first change is saved by itself", async ({ desk, page }) => {
  await desk.open();
  await expect(page.getByRole("heading", { level: 1 })).toHaveText("Marsh Pippin");
  expect(await desk.stored()).toEqual([]);
  const dialog = await desk.openProjects();
  await expect(dialog).toContainText(say("page.projects.none"));
  await desk.closeProjects();
  await desk.type(desk.field("chord"), "4.2");
  expect((await desk.design()).masts[0].sail.chord_m).toBe(4.2);
  await page.reload();
  await desk.ready();
  await expect(desk.field("chord")).toHaveValue("4.20");
  expect((await desk.only()).name).toBe("Marsh Pippin");
});

test("half-typed field-page left-is not lost silently", async ({ desk, page }) => {
  await desk.openDemo();
  const field = desk.field("chord");
  await field.fill("4.1");
  // Leaving the field by a tap elsewhere commits it.
  await desk.tap(page.getByRole("tab", { name: say("page.section.boat") }));
  expect((await desk.design()).masts[0].sail.chord_m).toBe(4.1);
});

test("gesture under way-page reloaded-is saved as far as it went", async ({ desk, page }) => {
  await desk.openDemo();
  const first = (await desk.design()).masts[0].sail.chord_m;
  const hand = desk.hand();
  const from = await desk.place("clew");
  await hand.down(from);
  await hand.along(from, { x: from.x + 20, y: from.y });
  await expect.poll(async () => Math.abs((await desk.place("clew")).x - from.x - 20), "the handle lies under the hand").toBeLessThan(2);
  const held = await desk.value(desk.handle("clew"));
  expect((await desk.design()).masts[0].sail.chord_m).toBe(first);
  await page.reload();
  await desk.ready();
  expect((await desk.design()).masts[0].sail.chord_m).toBe(held);
  await hand.up();
});

test.describe("first save", () => {
  test.use({ told: false });

  test("storage-browser does not promise-is asked once, at the first save, and a plain notice tells", async ({ desk, page }) => {
    const asked = await answerPersist(page, false);
    await desk.open();
    expect(await asked()).toBe(0);
    await desk.type(desk.field("chord"), "4.2");
    await expect.poll(asked).toBe(1);
    await expect(desk.notice("page.storage.may_clear")).toBeVisible();
    await desk.notice("page.storage.may_clear").getByRole("button", { name: say("page.put_away") }).click();
    await desk.type(desk.field("chord"), "4.3");
    await expect.poll(async () => (await desk.design()).masts[0].sail.chord_m).toBe(4.3);
    expect(await asked()).toBe(1);
    await expect(desk.notice("page.storage.may_clear")).toBeHidden();
    await expect(await desk.openProjects()).toContainText(say("page.storage.may_clear"));
  });

  test("storage-browser promises-no notice", async ({ desk, page }) => {
    const asked = await answerPersist(page, true);
    await desk.open();
    await desk.type(desk.field("chord"), "4.2");
    await expect.poll(asked).toBe(1);
    await expect(desk.notice("page.storage.may_clear")).toBeHidden();
  });
});

test("list-of several-shows name, date and size, the newest first", async ({ desk, page }) => {
  await desk.openDemo("saltwort");
  await desk.newFromDemo("marsh-pippin");
  await desk.newFromDemo("grey-heron");
  const dialog = await desk.openProjects();
  const names = dialog.locator("#project-list strong");
  await expect(names).toHaveText(["Grey Heron", "Marsh Pippin", "Saltwort"]);
  for (const { name, raw, saved } of await desk.stored()) {
    const facts = desk.line(name).locator(".quiet");
    // The month in letters: day and month cannot be taken for one another.
    const when = new Date(saved);
    const [hour, minute] = [when.getHours(), when.getMinutes()].map((part) => String(part).padStart(2, "0"));
    await expect(facts).toContainText(new RegExp(`^${when.getDate()} \\p{L}{3,4} ${when.getFullYear()}, ${hour}:${minute}`, "u"));
    await expect(facts).toContainText(say("page.projects.size", { size: (Buffer.byteLength(raw) / 1000).toLocaleString("en", { maximumFractionDigits: 1 }) }));
  }
  // One tap opens another; each keeps its own.
  await desk.tap(desk.line("Saltwort").getByRole("button").first());
  await expect(page.getByRole("heading", { level: 1 })).toHaveText("Saltwort");
  await desk.type(desk.field("chord"), "2.6");
  const all = await desk.stored();
  expect(all[0]?.name, "the one just changed is the newest").toBe("Saltwort");
  expect(all).toHaveLength(3);
});

test("open project-chosen again in the list-stays this window's own", async ({ desk, page }) => {
  await desk.openDemo();
  for (let turn = 0; turn < 2; turn += 1) {
    await desk.openProjects();
    await desk.tap(desk.line("Marsh Pippin").getByRole("button").first());
    await expect(desk.projects).toBeHidden();
    await expect(desk.field("chord")).toBeEditable();
    await expect(page.getByText(say("page.fault.other_window"))).toBeHidden();
  }
});

test("demos-taken twice-get names of their own", async ({ desk }) => {
  await desk.openDemo("saltwort");
  const dialog = await desk.openProjects();
  await dialog.getByRole("button", { name: `Saltwort ${say("page.demo.saltwort")}` }).click();
  await expect(dialog).toBeHidden();
  const all = await desk.stored();
  expect(all.map(({ name }) => name).sort()).toEqual(["Saltwort", "Saltwort 2"]);
  expect(all.map(({ text }) => JSON.parse(text).name).sort()).toEqual(["Saltwort", "Saltwort 2"]);
});

test("blank-begun-is stored at once and opens with no more said than needed", async ({ desk, page }) => {
  await desk.open();
  await desk.newBlank();
  await expect(page.getByRole("heading", { level: 1 })).toHaveText(say("page.unnamed"));
  const stored = await desk.only();
  const design = JSON.parse(stored.text);
  expect(design.format).toBe("battenwright-design");
  expect(design.version).toBe(1);
  await page.reload();
  await expect(page.getByRole("heading", { level: 1 })).toHaveText(say("page.unnamed"));
  expect((await desk.only()).raw).toBe(stored.raw);
});

test("project-renamed-keeps its design, and undo gives the name back", async ({ desk, page }) => {
  await desk.openDemo();
  const first = await desk.only();
  await desk.openProjects();
  const line = await desk.more("Marsh Pippin");
  await desk.tap(line.getByRole("button", { name: say("page.projects.rename") }));
  const name = desk.projects.getByRole("textbox", { name: say("page.projects.name") });
  await expect(name).toBeFocused();
  await name.fill("Curlew “II” <b>");
  await name.press("Enter");
  await expect(desk.line("Curlew “II” <b>")).toBeVisible();
  await desk.closeProjects();
  await expect(page.getByRole("heading", { level: 1 })).toHaveText("Curlew “II” <b>");
  const renamed = await desk.only();
  expect(renamed.id).toBe(first.id);
  expect({ ...JSON.parse(renamed.text), name: "Marsh Pippin" }).toEqual(JSON.parse(first.text));
  await desk.undo.click();
  expect(await desk.text()).toBe(first.text);
});

test("closed project-renamed-keeps every other byte", async ({ desk }) => {
  await desk.openDemo("saltwort");
  const first = await desk.only();
  await desk.newFromDemo("marsh-pippin");
  await desk.openProjects();
  const line = await desk.more("Saltwort");
  await desk.tap(line.getByRole("button", { name: say("page.projects.rename") }));
  const name = desk.projects.getByRole("textbox", { name: say("page.projects.name") });
  await name.fill("Sandling");
  await name.press("Enter");
  await expect(desk.line("Sandling")).toBeVisible();
  const renamed = (await desk.stored()).find(({ id }) => id === first.id);
  expect(renamed?.text).toBe(first.text.replace('"Saltwort"', '"Sandling"'));
});

test("project-duplicated-is a second one with a name of its own", async ({ desk }) => {
  await desk.openDemo();
  const first = await desk.only();
  await desk.openProjects();
  const line = await desk.more("Marsh Pippin");
  await desk.tap(line.getByRole("button", { name: say("page.projects.duplicate") }));
  await expect(desk.line("Marsh Pippin 2")).toBeVisible();
  const all = await desk.stored();
  expect(all).toHaveLength(2);
  const copy = all.find(({ id }) => id !== first.id);
  expect(copy?.text).toBe(first.text.replace('"Marsh Pippin"', '"Marsh Pippin 2"'));
  expect(all.find(({ id }) => id === first.id)?.raw).toBe(first.raw);
});

test("project-deleted-comes back byte for byte by undo, and other keys are never touched", async ({ desk, page }) => {
  await desk.openDemo("saltwort");
  await desk.newFromDemo("marsh-pippin");
  await page.evaluate(() => {
    localStorage.setItem("neighbour", "not ours");
    localStorage.setItem("battenwrights.project.other", "not ours either");
  });
  const before = await desk.stored();
  await desk.openProjects();
  const line = await desk.more("Saltwort");
  await desk.tap(line.getByRole("button", { name: say("page.projects.delete"), exact: true }));
  await expect(desk.projects).toContainText(say("page.projects.deleted", { name: "Saltwort" }));
  expect((await desk.stored()).map(({ name }) => name)).toEqual(["Marsh Pippin"]);
  await desk.tap(desk.projects.getByRole("button", { name: say("page.undo") }));
  await expect(desk.line("Saltwort")).toBeVisible();
  expect(await desk.stored()).toEqual(before);

  // The open one too.
  const open = await desk.more("Marsh Pippin");
  await desk.tap(open.getByRole("button", { name: say("page.projects.delete"), exact: true }));
  await expect.poll(async () => (await desk.stored()).map(({ name }) => name)).toEqual(["Saltwort"]);
  const gone = page.locator("#empty").getByText(say("page.projects.deleted", { name: "Marsh Pippin" }));
  await expect(gone).toBeAttached();
  await desk.tap(desk.projects.getByRole("button", { name: say("page.undo") }));
  expect(await desk.stored()).toEqual(before);
  // It lies on the desk again, and nothing says otherwise.
  await expect(gone).toBeHidden();
  await desk.closeProjects();
  await desk.ready();
  await expect(page.getByRole("heading", { level: 1 })).toHaveText("Marsh Pippin");
  expect(await page.evaluate(() => [localStorage.getItem("neighbour"), localStorage.getItem("battenwrights.project.other")])).toEqual(["not ours", "not ours either"]);
});

test("project-exported and imported elsewhere-is the same design byte for byte", async ({ desk, page }) => {
  await desk.openDemo("grey-heron");
  await desk.type(desk.field("chord"), "4.05");
  const stored = await desk.only();
  await desk.openProjects();
  const file = await desk.download(() => desk.projects.getByRole("button", { name: say("page.export") }).last().click());
  expect(file.name).toBe("grey-heron.battenwright.json");
  expect(file.text).toBe(stored.text);

  await page.evaluate(() => localStorage.clear());
  await page.reload();
  await desk.ready();
  await desk.openProjects();
  const choosing = page.waitForEvent("filechooser");
  // One control of that name, for those who cannot see which is hidden.
  await desk.tap(desk.projects.getByRole("button", { name: say("page.import") }));
  await (await choosing).setFiles({ name: file.name, mimeType: "application/json", buffer: Buffer.from(file.text) });
  await expect(page.getByRole("heading", { level: 1 })).toHaveText("Grey Heron");
  const again = await desk.only();
  expect(again.text).toBe(stored.text);
  expect(again.name).toBe("Grey Heron");
});

test("file that is not ours-imported-is refused in a sentence and nothing is stored", async ({ desk }) => {
  await desk.openDemo();
  const before = await desk.stored();
  await desk.openProjects();
  const wrong = /** @type {[string, string][]} */ ([
    ["not even JSON", say("page.import.not_ours")],
    ['{"format":"something-else","version":1}', say("page.import.not_ours")],
    ["[1,2,3]", say("page.import.not_ours")],
    // Ours, yet a number where a list belongs.
    ['{"format":"battenwright-design","version":1,"name":"Odd","masts":7}', say("problem.want_list")],
  ]);
  for (const [text, said] of wrong) {
    await desk.page.locator("#import-file").setInputFiles({ name: "file.json", mimeType: "application/json", buffer: Buffer.from(text) });
    await expect(desk.projects.getByRole("status"), text).toHaveText(said);
    expect(await desk.stored(), text).toEqual(before);
  }
});
