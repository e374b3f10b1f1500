// A lesson before a class: both ready ones by keyboard alone, answers hidden, one's own written, kept and sent by a link.
import { expect, test } from "../support/journey.js";
import { errand, expectNothingGrave } from "../support/guide.js";
import { say } from "../support/words.js";

/** @typedef {import("../support/desk.js").Desk} Desk */

/** The lesson mode. @param {Desk} desk */
const room = (desk) => desk.page.locator("#lesson");
/** @param {Desk} desk */
const count = (desk) => room(desk).locator(".lesson-count");
/** A number told, by its key. @param {Desk} desk @param {string} key */
const told = (desk, key) => room(desk).locator(`[data-told="${key}"]`);
/** @param {number} number @param {number} of */
const place = (number, of) => say("page.lesson.at", { number, count: of });

/** A sentence as it stands under the label it begins with. @param {string} key @param {Record<string, string | number>} places */
const under = (key, places) => say(key, { ...places, label: "" }).replace(/^: /, "");

/** Opens a lesson by its name. @param {Desk} desk @param {string} name */
async function open(desk, name) {
  await errand(desk, "page.lesson");
  await expect(room(desk)).toBeVisible();
  await desk.tap(room(desk).locator(".lesson-open").filter({ hasText: name }));
  await expect(room(desk).getByRole("heading", { level: 1 })).toHaveText(name);
}

/** What was looked at, as the drawing and the page tell it. @param {Desk} desk */
const looked = (desk) => desk.page.evaluate(() => [document.querySelector("#hoist")?.getAttribute("aria-valuenow"), document.querySelector("#tabs [aria-selected=true]")?.id]);

test("both ready lessons-by keyboard alone-run from first to last, areas as in the reef table, and all is as it was", async ({ desk, page }) => {
  await desk.openDemo();
  await page.emulateMedia({ reducedMotion: "reduce" });
  await desk.section("reefs");
  await desk.hoist.focus();
  for (let n = 0; n < 3; n += 1) await page.keyboard.press("ArrowDown");
  const areas = await page.locator("#reef-table tbody tr[data-state] td:nth-child(2)").allTextContents();
  const before = await looked(desk);
  await page.getByRole("button", { name: say("page.workshop"), exact: true }).focus();
  await page.keyboard.press("Enter");
  await page.getByRole("dialog", { name: say("page.workshop") }).getByRole("button", { name: say("page.lesson") }).first().focus();
  await page.keyboard.press("Enter");
  for (const [at, steps] of [13, 12].entries()) {
    const entry = room(desk).locator(".lesson-open").nth(at);
    await expect(entry).toBeVisible();
    await entry.focus();
    await page.keyboard.press("Enter");
    await expect(count(desk)).toHaveText(place(1, steps));
    const titles = new Set();
    for (let number = 1; number <= steps; number += 1) {
      await expect(count(desk)).toHaveText(place(number, steps));
      const title = await room(desk).getByRole("heading", { level: 2 }).first().textContent();
      titles.add(title);
      await expect(room(desk).locator("p[role=status]")).toContainText(title ?? "?");
      // Every answer, one after the other.
      const hidden = room(desk).locator(".lesson-ask[aria-expanded=false]");
      for (let left = await hidden.count(); left > 0; left -= 1) {
        await page.keyboard.press("Enter");
        await expect(hidden).toHaveCount(left - 1);
      }
      if (await told(desk, "area").count()) {
        const lowered = Number(await page.locator("#hoist").getAttribute("aria-valuenow"));
        await expect(told(desk, "area").locator("strong")).toContainText(areas[lowered] ?? "?");
      }
      await page.keyboard.press(["ArrowRight", "PageDown", " "][number % 3] ?? "");
    }
    expect(titles.size).toBe(steps);
    await expect(room(desk).getByRole("button", { name: say("page.lesson.next") })).toBeDisabled();
    await page.keyboard.press("PageUp");
    await expect(count(desk)).toHaveText(place(steps - 1, steps));
    await page.keyboard.press("Home");
    await expect(count(desk)).toHaveText(place(1, steps));
    // By hand: the sail by the up and down keys, the wind by its own.
    await page.keyboard.press("ArrowDown");
    await expect(page.locator("#hoist")).toHaveAttribute("aria-valuenow", "1");
    const wind = room(desk).getByRole("slider", { name: say("label.true_wind") });
    await wind.focus();
    const blew = await wind.getAttribute("aria-valuetext");
    await page.keyboard.press("ArrowUp");
    await expect(wind).not.toHaveAttribute("aria-valuetext", blew ?? "");
    await page.keyboard.press("ArrowRight");
    await expect(count(desk)).toHaveText(place(2, steps));
    await room(desk).getByRole("button", { name: say("page.lesson.all") }).focus();
    await page.keyboard.press("Enter");
  }
  await page.keyboard.press("Escape");
  await expect(room(desk)).toHaveCount(0);
  await expect.poll(() => looked(desk)).toEqual(before);
  await expect(page.getByRole("button", { name: say("page.workshop"), exact: true })).toBeFocused();
  await expect(desk.handle("clew")).toBeVisible();
});

test("answers-in a class-are hidden until tapped, the advice turns with the wind, and nothing is grave for axe", async ({ desk, page }) => {
  await desk.openDemo();
  await page.emulateMedia({ reducedMotion: "reduce" });
  await errand(desk, "page.lesson");
  await expectNothingGrave(page);
  await page.keyboard.press("Escape");
  await open(desk, say("lesson.reef"));
  const next = room(desk).getByRole("button", { name: say("page.lesson.next") });
  await desk.tap(next);
  const advice = told(desk, "advice").first();
  await expect(advice.locator("strong")).toHaveCount(0);
  await expectNothingGrave(page);
  for (const button of await room(desk).getByRole("button").all()) {
    const box = await button.boundingBox();
    if (box) expect(Math.min(box.width, box.height), (await button.textContent()) ?? "").toBeGreaterThanOrEqual(44);
  }
  await desk.tap(advice.getByRole("button"));
  const calm = await advice.locator("strong").textContent();
  await room(desk).getByRole("slider", { name: say("label.true_wind") }).fill("30");
  await expect(advice.locator("strong")).not.toHaveText(calm ?? "");
  // On the wind and running are two answers, and each hides again.
  const running = told(desk, "advice").nth(1);
  await expect(running.locator("strong")).toHaveCount(0);
  await desk.tap(advice.getByRole("button", { expanded: true }));
  await expect(advice.locator("strong")).toHaveCount(0);
  await desk.tap(running.getByRole("button"));
  await expect(running.locator("strong")).toBeVisible();
  await expect(advice.locator("strong")).toHaveCount(0);
  await expect(room(desk).locator("p[role=status]")).toContainText((await running.locator("strong").textContent()) ?? "?");
  await expectNothingGrave(page);
  // By keys the focus stays on it.
  const one = advice.getByRole("button");
  await one.focus();
  for (const [key, expanded] of /** @type {const} */ ([["Enter", "true"], [" ", "false"], [" ", "true"], ["Enter", "false"]])) {
    await page.keyboard.press(key);
    await expect(one).toHaveAttribute("aria-expanded", expanded);
    await expect(one).toBeFocused();
  }
  await expect(one).toHaveAccessibleName(say("page.lesson.ask", { label: say("balance.on_wind") }));
  // Asked anew when the step is come to again.
  await desk.tap(next);
  await desk.tap(room(desk).getByRole("button", { name: say("page.lesson.back") }));
  await expect(running.locator("strong")).toHaveCount(0);
});

test("Escape-in a lesson-closes what is open first, and a lesson left is begun where it was", async ({ desk, page }) => {
  await desk.openDemo();
  await page.emulateMedia({ reducedMotion: "reduce" });
  await open(desk, say("lesson.reef"));
  for (let n = 0; n < 3; n += 1) await page.keyboard.press("ArrowRight");
  await expect(count(desk)).toHaveText(place(4, 13));
  await page.keyboard.press("Escape");
  await expect(room(desk)).toHaveCount(0);
  await open(desk, say("lesson.reef"));
  await expect(count(desk)).toHaveText(place(4, 13));
  await desk.tap(room(desk).getByRole("button", { name: say("page.lesson.all") }));
  await desk.tap(room(desk).getByRole("button", { name: say("page.lesson.again") }));
  await expect(count(desk)).toHaveText(place(1, 13));
  await desk.tap(room(desk).getByRole("button", { name: say("page.lesson.all") }));
  await expect(room(desk).getByRole("button", { name: say("page.lesson.again") })).toHaveCount(0);

  await desk.tap(room(desk).getByRole("button", { name: say("page.lesson.new") }));
  const reef = room(desk).getByRole("textbox", { name: say("label.lesson_reef"), exact: true });
  await expect(reef).toBeVisible();
  const help = page.locator("dialog.help-sheet");
  for (const leave of [() => page.keyboard.press("Escape"), () => page.evaluate(() => document.exitFullscreen())]) {
    await room(desk).locator('[data-path$=".reef"] .help-button').click();
    await expect(help).toContainText(say("page.help.range_places", { least: 0, most: 7 }));
    // Where there is a full screen, its own Escape never reaches the page.
    if (await page.evaluate(() => document.fullscreenElement === null)) await page.keyboard.press("Escape");
    else await leave();
    await expect(help).toHaveCount(0);
    await expect(reef).toBeVisible();
  }
  await reef.focus();
  await page.keyboard.press("Escape");
  await expect(reef).toBeHidden();
  await expect(room(desk).locator(".lesson-open")).toHaveCount(3);
  await page.keyboard.press("Escape");
  await expect(room(desk)).toHaveCount(0);
});

test("numbers of a step-beyond what she has-are refused, and from another boat stop and are told", async ({ desk, page }) => {
  await desk.openDemo();
  await page.emulateMedia({ reducedMotion: "reduce" });
  await errand(desk, "page.lesson");
  await desk.tap(room(desk).getByRole("button", { name: say("page.lesson.new") }));
  const reef = room(desk).getByRole("textbox", { name: say("label.lesson_reef"), exact: true });
  await desk.type(reef, "8");
  await expect(desk.problemOf(reef)).toHaveText(under("bounds.refused", { value: 8, least: 0, most: 7, next: "" }));
  await desk.type(reef, "7");
  await expect(desk.problemOf(reef)).toBeHidden();
  await expect(room(desk).locator('[data-path$=".mast"]')).toHaveCount(0);
  for (let n = 0; n < 2; n += 1) await page.keyboard.press("Escape");
  await expect(room(desk)).toHaveCount(0);
  await desk.section("sail");
  await desk.type(desk.field("panels"), "6");
  await errand(desk, "page.lesson");
  const own = room(desk).getByRole("listitem").nth(2);
  await desk.tap(own.locator(".lesson-open"));
  await expect(page.locator("#hoist")).toHaveAttribute("aria-valuenow", "6");
  await desk.tap(room(desk).getByRole("button", { name: say("page.lesson.all") }));
  await desk.tap(own.getByRole("button", { name: say("page.lesson.change") }));
  await expect(desk.problemOf(reef)).toHaveText(under("problem.stops", { value: 7, least: 0, most: 6 }));
  await expect(room(desk).locator(".lesson-order li")).toContainText(say("page.lesson.past"));
  await expectNothingGrave(page);
});

test("one sail alone-of two masts-is reefed by a step, and kept", async ({ desk, page }) => {
  await desk.openDemo("grey-heron");
  await page.emulateMedia({ reducedMotion: "reduce" });
  await errand(desk, "page.lesson");
  await desk.tap(room(desk).getByRole("button", { name: say("page.lesson.new") }));
  const sail = room(desk).getByRole("combobox", { name: say("label.lesson_sail") });
  await expect(sail.locator("option")).toHaveCount(3);
  await sail.selectOption("second");
  await desk.type(room(desk).getByRole("textbox", { name: say("label.lesson_reef"), exact: true }), "2");
  await desk.tap(room(desk).getByRole("button", { name: say("page.lesson.show"), exact: true }));
  await expect.poll(() => desk.page.locator("#hoist").getAttribute("aria-valuetext")).toContain("2");
  expect((await desk.design()).lesson[0].steps).toEqual([{ reef: 2, sail: "second" }]);
});

test("heel asked for-in a lesson of one's own-is told by no drawing before it is tapped, and again afterwards", async ({ desk, page }) => {
  await desk.openDemo();
  await page.emulateMedia({ reducedMotion: "reduce" });
  await errand(desk, "page.lesson");
  await desk.tap(room(desk).getByRole("button", { name: say("page.lesson.new") }));
  await room(desk).locator('[data-path$=".drawing"]').getByRole("combobox").selectOption("stern");
  await room(desk).locator('[data-path$=".heel_told"]').getByText(say("choice.told.asked"), { exact: true }).click();
  await desk.tap(room(desk).getByRole("button", { name: say("page.lesson.show"), exact: true }));
  const drawn = room(desk).locator("canvas");
  const heel = told(desk, "heel");
  await expect(heel.getByRole("button")).toBeVisible();
  await expect(drawn).not.toHaveAttribute("aria-label", /°/);
  const before = await drawn.evaluate((canvas) => /** @type {HTMLCanvasElement} */ (canvas).toDataURL());
  await desk.tap(heel.getByRole("button"));
  await expect(drawn).toHaveAttribute("aria-label", /°/);
  expect(await drawn.evaluate((canvas) => /** @type {HTMLCanvasElement} */ (canvas).toDataURL())).not.toBe(before);
});

test("lesson of one's own-written, kept, sent by a link-is shown as it was written", async ({ desk, page }) => {
  await desk.openDemo();
  await page.emulateMedia({ reducedMotion: "reduce" });
  await errand(desk, "page.lesson");
  await desk.tap(room(desk).getByRole("button", { name: say("page.lesson.new") }));
  const field = (/** @type {string} */ key) => room(desk).getByRole("textbox", { name: say(`label.${key}`), exact: true });
  await desk.type(field("lesson_title").first(), "My boat, <b>two</b> reefs");
  await desk.type(field("lesson_title").last(), "Look");
  await field("lesson_words").fill("What stands with two panels down?");
  await desk.type(field("lesson_reef"), "2");
  await room(desk).locator('[data-path$=".area_told"]').getByText(say("choice.told.asked"), { exact: true }).click();
  await room(desk).getByRole("combobox", { name: say("page.lesson.add") }).selectOption("0 5");
  await expect(room(desk).locator(".lesson-order li")).toHaveCount(2);
  await room(desk).getByRole("button", { name: say("page.lesson.up", { number: 2 }) }).click();
  await expect(room(desk).locator(".lesson-order li").first()).toContainText(say("lesson.reef.halyard.title"));
  await desk.tap(room(desk).getByRole("button", { name: say("page.undo") }));
  await expect(room(desk).locator(".lesson-order li").first()).toContainText("Look");
  await expectNothingGrave(page);
  const kept = (await desk.design()).lesson;
  expect(kept[0].title).toBe("My boat, <b>two</b> reefs");
  expect(kept[0].steps).toHaveLength(2);
  expect(kept[0].steps[0]).toEqual({ title: "Look", words: "What stands with two panels down?", reef: 2, area_told: "asked" });
  expect(kept[0].steps[1]).toMatchObject({ line: "halyard", from: 0, reef: 1 });

  await page.reload();
  await desk.ready();
  await open(desk, "My boat, <b>two</b> reefs");
  await expect(count(desk)).toHaveText(place(1, 2));
  await expect(room(desk).locator(".lesson-words")).toHaveText("What stands with two panels down?");
  await page.keyboard.press("Enter");
  await expect(told(desk, "area").locator("strong")).toContainText("21.9");
  await page.keyboard.press("Escape");

  await errand(desk, "page.link.share");
  const link = await page.getByRole("textbox", { name: say("page.link.share") }).inputValue();
  await page.keyboard.press("Escape");
  await page.goto("about:blank");
  await page.goto(link);
  await expect(page.locator('[data-notice="look-only"]')).toBeVisible();
  await errand(desk, "page.lesson");
  // It can be shown, not changed.
  await expect(room(desk).getByRole("button", { name: say("page.lesson.new") })).toBeHidden();
  await desk.tap(room(desk).locator(".lesson-open").filter({ hasText: "My boat" }));
  await expect(room(desk).locator(".lesson-words")).toHaveText("What stands with two panels down?");
  await page.keyboard.press("Escape");
  await expect(room(desk)).toHaveCount(0);
});
