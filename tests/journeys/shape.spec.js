// Shaping the sail by hand and by keyboard, and taking it back.
import { Hand } from "../support/hands.js";
import { expect, test } from "../support/journey.js";
import { say } from "../support/words.js";

/** Each handle: its field, the leaf it edits, the way that makes the number grow: away from another handle, or along a line. */
const HANDLES = /** @type {const} */ ([
  { id: "clew", field: "chord", leaf: "chord_m", awayFrom: "balance" },
  { id: "head", field: "panel_width", leaf: "panel_width_m", awayFrom: "balance" },
  { id: "peak", field: "yard_angle", leaf: "yard_angle_deg" },
  { id: "balance", field: "balance", leaf: "balance_pct", awayFrom: "clew" },
]);

/** @param {import("../support/desk.js").Desk} desk @param {(typeof HANDLES)[number]} handle @param {number} far px */
async function growing(desk, { id, ...how }, far) {
  const from = await desk.place(id);
  if (!("awayFrom" in how)) {
    // The yard turns about its throat: square to the line from there, upward at the peak's side.
    const throat = await desk.place("head");
    const length = Math.hypot(from.x - throat.x, from.y - throat.y);
    const turn = from.x > throat.x ? 1 : -1;
    return { from, to: { x: from.x + (turn * far * (from.y - throat.y)) / length, y: from.y - (turn * far * (from.x - throat.x)) / length } };
  }
  const other = await desk.place(how.awayFrom);
  const apart = Math.hypot(from.x - other.x, from.y - other.y);
  return { from, to: { x: from.x + ((from.x - other.x) / apart) * far, y: from.y + ((from.y - other.y) / apart) * far } };
}

/** Counts the writes of projects from now on. @param {import("@playwright/test").Page} page */
async function countSaves(page) {
  await page.evaluate(() => {
    const write = Storage.prototype.setItem;
    /** @type {any} */ (window).saves = 0;
    Storage.prototype.setItem = function setItem(key, value) {
      if (key.startsWith("battenwright.project.")) /** @type {any} */ (window).saves += 1;
      write.call(this, key, value);
    };
  });
  return () => page.evaluate(() => /** @type {any} */ (window).saves);
}

/** A pause ends a run of keys; those of a busy machine are not the user's. @param {import("@playwright/test").Page} page */
const slowPauses = (page) =>
  page.addInitScript(() => {
    const later = window.setTimeout.bind(window);
    window.setTimeout = /** @type {typeof setTimeout} */ (/** @type {unknown} */ ((/** @type {() => void} */ work, /** @type {number} */ wait) => later(work, wait > 500 ? wait * 100 : wait)));
  });

for (const handle of HANDLES) {
  test(`${handle.id}-dragged-numbers follow live and the gesture is one step`, async ({ desk, page }) => {
    await desk.openDemo();
    const first = await desk.text();
    const field = desk.field(handle.field);
    await field.scrollIntoViewIfNeeded();
    const before = { number: await desk.value(desk.handle(handle.id)), area: await desk.figure(0).textContent(), shown: await field.inputValue(), ink: await desk.ink() };
    const saves = await countSaves(page);

    const hand = desk.hand();
    const { from, to } = await growing(desk, handle, 24);
    await hand.down(from);
    await hand.along(from, to);
    // Still held: what is seen has moved, what is stored has not.
    await expect.poll(() => desk.value(desk.handle(handle.id))).toBeGreaterThan(before.number);
    await expect.poll(() => field.inputValue(), "the field while dragging").not.toBe(before.shown);
    await expect(page.locator(".live-tag")).toBeVisible();
    if (handle.id !== "balance") expect(await desk.figure(0).textContent(), "the area while dragging").not.toBe(before.area);
    expect(await desk.ink(), "the drawing while dragging").not.toBe(before.ink);
    expect(await desk.text(), "stored while dragging").toBe(first);
    const placed = await desk.place(handle.id);
    expect(Math.hypot(placed.x - to.x, placed.y - to.y), "the handle lies under the hand, px").toBeLessThan(12);
    await hand.up();

    await expect.poll(async () => (await desk.design()).masts[0].sail[handle.leaf]).toBeGreaterThan(JSON.parse(first).masts[0].sail[handle.leaf]);
    expect(await saves(), "writes for one gesture").toBe(1);
    expect(await desk.value(desk.handle(handle.id))).toBeCloseTo((await desk.design()).masts[0].sail[handle.leaf], 6);

    await desk.undo.click();
    expect(await desk.text(), "after one undo").toBe(first);
    await expect(desk.undo).toHaveAttribute("aria-disabled", "true");
    await expect(field).toHaveValue(before.shown);
  });
}

test("yard-dragged down-the sail comes down and the design stays", async ({ desk }) => {
  await desk.openDemo();
  const first = await desk.only();
  const from = await desk.place("hoist");
  const boom = await desk.place("clew");
  const to = { x: from.x, y: from.y + (boom.y - from.y) * 0.4 };
  await desk.hand().drag(from, to);
  await expect.poll(() => desk.value(desk.hoist)).toBeGreaterThan(0.5);
  expect((await desk.place("hoist")).y).toBeGreaterThan(from.y + 20);
  expect((await desk.only()).raw, "hoisting is no edit").toBe(first.raw);
  await expect(desk.undo).toHaveAttribute("aria-disabled", "true");
});

test("measure-typed-drawing, handle and numbers follow", async ({ desk }) => {
  await desk.openDemo();
  const first = await desk.text();
  const field = desk.field("chord");
  const before = { clew: await desk.place("clew"), tack: await desk.place("balance"), ink: await desk.ink(), area: await desk.figure(0).textContent() };
  await desk.type(field, "3.9");
  await expect(field).toHaveValue("3.90");
  expect(await desk.value(desk.handle("clew"))).toBe(3.9);
  await expect.poll(() => desk.figure(0).textContent()).not.toBe(before.area);
  expect(await desk.ink()).not.toBe(before.ink);
  const after = { clew: await desk.place("clew"), tack: await desk.place("balance") };
  const span = (/** @type {typeof after} */ { clew, tack }) => Math.hypot(clew.x - tack.x, clew.y - tack.y);
  // The drawing may be fitted anew, so the chord is measured against what it was within 15 %.
  expect(span(after) / span(before)).toBeLessThan(1.15);
  expect(after.clew).not.toEqual(before.clew);
  expect((await desk.design()).masts[0].sail.chord_m).toBe(3.9);
  await desk.undo.click();
  expect(await desk.text()).toBe(first);
});

test("area-typed-the plan is scaled to it", async ({ desk }) => {
  await desk.openDemo();
  await desk.type(desk.field("area"), "25");
  await expect(desk.field("area")).toHaveValue("25.0");
  await expect(desk.figure(0)).toHaveText("25.0");
  await desk.undo.click();
  await expect(desk.undo).toHaveAttribute("aria-disabled", "true");
});

test("drag-Escape pressed-all is as it was", async ({ desk, page }) => {
  await desk.openDemo();
  const first = await desk.only();
  const number = await desk.value(desk.handle("clew"));
  const { from, to } = await growing(desk, HANDLES[0], 30);
  const hand = desk.hand();
  await hand.down(from);
  await hand.along(from, to);
  await expect.poll(() => desk.value(desk.handle("clew"))).not.toBe(number);
  await page.keyboard.press("Escape");
  await expect.poll(() => desk.value(desk.handle("clew"))).toBe(number);
  await hand.along(to, { x: to.x + 10, y: to.y });
  await hand.up();
  expect(await desk.value(desk.handle("clew")), "after the hand went on and let go").toBe(number);
  expect((await desk.only()).raw).toBe(first.raw);
  await expect(desk.undo).toHaveAttribute("aria-disabled", "true");
});

test("drag-second finger comes down-all is as it was", async ({ desk, page, hasTouch }) => {
  test.skip(!hasTouch, "a mouse has no second finger");
  await desk.openDemo();
  const first = await desk.only();
  const number = await desk.value(desk.handle("clew"));
  const { from, to } = await growing(desk, HANDLES[0], 30);
  for (const where of ["drawing", "elsewhere"]) {
    const hand = new Hand(page, true);
    await hand.down(from);
    await hand.along(from, to);
    await expect.poll(() => desk.value(desk.handle("clew"))).not.toBe(number);
    const second = where === "drawing" ? { x: 60, y: 200 } : { x: 190, y: 700 };
    await hand.down(second, 1);
    await expect.poll(() => desk.value(desk.handle("clew")), where).toBe(number);
    await hand.up(1);
    await hand.up(0);
    expect((await desk.only()).raw, where).toBe(first.raw);
  }
  await expect(desk.undo).toHaveAttribute("aria-disabled", "true");
});

test("drag-pointer cancelled-all is as it was", async ({ desk }) => {
  await desk.openDemo();
  const first = await desk.only();
  const number = await desk.value(desk.handle("head"));
  const { from, to } = await growing(desk, HANDLES[1], 20);
  const hand = desk.hand();
  await hand.down(from);
  await hand.along(from, to);
  await expect.poll(() => desk.value(desk.handle("head"))).not.toBe(number);
  await hand.cancel();
  await expect.poll(() => desk.value(desk.handle("head"))).toBe(number);
  expect((await desk.only()).raw).toBe(first.raw);
  await expect(desk.undo).toHaveAttribute("aria-disabled", "true");
});

test("slider-arrow keys-one step, with Shift ten, a run of them one undo", async ({ desk, page }) => {
  await slowPauses(page);
  await desk.openDemo();
  const first = await desk.text();
  for (const { id } of HANDLES) {
    const slider = desk.handle(id);
    await slider.focus();
    const start = await desk.value(slider);
    await page.keyboard.press("ArrowRight");
    await expect.poll(() => desk.value(slider), id).toBeGreaterThan(start);
    const step = (await desk.value(slider)) - start;
    await page.keyboard.press("Shift+ArrowRight");
    await expect.poll(() => desk.value(slider), id).toBeCloseTo(start + 11 * step, 6);
    await page.keyboard.press("Shift+ArrowLeft");
    await page.keyboard.press("ArrowDown");
    await expect.poll(() => desk.value(slider), id).toBeCloseTo(start, 6);
    await page.keyboard.press("ArrowUp");
    await expect.poll(() => desk.value(slider), id).toBeCloseTo(start + step, 6);
    // Escape takes the unfinished run back.
    await page.keyboard.press("Escape");
    await expect.poll(() => desk.value(slider), id).toBeCloseTo(start, 6);
    expect(await desk.text(), id).toBe(first);
    await page.keyboard.press("ArrowLeft");
    await page.keyboard.press("ArrowLeft");
    await expect.poll(() => desk.value(slider), id).toBeCloseTo(start - 2 * step, 6);
    await desk.undo.click();
    expect(await desk.text(), `${id}: one undo for the run`).toBe(first);
  }
});

for (const id of /** @type {const} */ (["yard", "hoist"])) {
  test(`${id}-Escape after arrow keys-the sail is where it was before the run`, async ({ desk, page }) => {
    await slowPauses(page);
    await desk.openDemo();
    const slider = id === "yard" ? desk.handle("hoist") : desk.hoist;
    await slider.focus();
    // A run of its own, ended by leaving: Escape gives back what stood before the next one, not before all.
    await page.keyboard.press("ArrowDown");
    await expect.poll(() => desk.value(slider)).toBe(1);
    await slider.blur();
    await slider.focus();
    await page.keyboard.press("ArrowDown");
    await page.keyboard.press("ArrowDown");
    await expect.poll(() => desk.value(slider)).toBe(3);
    await page.keyboard.press("Escape");
    await expect.poll(() => desk.value(slider)).toBe(1);
    await page.keyboard.press("Escape");
    await page.keyboard.press("ArrowUp");
    await expect.poll(() => desk.value(slider)).toBe(0);
  });
}

test("undo-after 1,000 steps-gives the first text back byte for byte", async ({ desk, page }) => {
  await desk.openDemo();
  const first = await desk.text();
  // Keys told inside the page: a thousand real ones would only measure the test's own wire.
  const steps = await page.evaluate(() => {
    const handles = ["clew", "head", "peak", "balance"].map((id) => /** @type {HTMLElement} */ (document.querySelector(`[data-handle="${id}"]`)));
    const key = Object.keys(localStorage).find((name) => name.startsWith("battenwright.project.")) ?? "";
    const textNow = () => JSON.parse(localStorage.getItem(key) ?? "{}").text;
    const seen = new Set([textNow()]);
    let changed = 0;
    for (let round = 0; round < 1000; round += 1) {
      const handle = handles[round % 4];
      handle?.focus();
      const before = textNow();
      handle?.dispatchEvent(new KeyboardEvent("keydown", { key: Math.floor(round / 100) % 2 === 0 ? "ArrowRight" : "ArrowLeft", bubbles: true, cancelable: true }));
      if (textNow() !== before) changed += 1;
      seen.add(textNow());
    }
    return { changed, different: seen.size };
  });
  expect(steps.changed).toBe(1000);
  expect(steps.different).toBeGreaterThan(100);
  const last = await desk.text();
  const undone = await page.evaluate(() => {
    const undo = document.getElementById("undo");
    for (let step = 0; step < 999; step += 1) undo?.click();
    return undo?.getAttribute("aria-disabled");
  });
  expect(undone, "after 999 of 1,000").toBeNull();
  await desk.undo.click();
  expect(await desk.text()).toBe(first);
  await expect(desk.undo).toHaveAttribute("aria-disabled", "true");
  await page.evaluate(() => {
    const redo = document.getElementById("redo");
    for (let step = 0; step < 1000; step += 1) redo?.click();
  });
  expect(await desk.text(), "after doing all again").toBe(last);
  await expect(desk.redo).toHaveAttribute("aria-disabled", "true");
});

test("undo-by the keyboard-takes a committed field back and does it again", async ({ desk, page }) => {
  await desk.openDemo();
  const first = await desk.text();
  await desk.type(desk.field("rise"), "9.5");
  await desk.type(desk.field("boom_height"), "0.75");
  const last = await desk.text();
  expect(last).not.toBe(first);
  await desk.handle("clew").focus();
  await page.keyboard.press("Control+z");
  await page.keyboard.press("Control+z");
  expect(await desk.text()).toBe(first);
  await page.keyboard.press("Control+Shift+z");
  await page.keyboard.press("Control+y");
  expect(await desk.text()).toBe(last);
});

test("field-emptied-goes back to its rule and undo brings the number again", async ({ desk }) => {
  await desk.openDemo();
  await desk.section("boat");
  const field = desk.field("bury");
  await desk.type(field, "1.1");
  const typed = await desk.text();
  expect(JSON.parse(typed).masts[0].bury_m).toBe(1.1);
  await desk.type(field, "");
  await expect(field).toHaveValue("");
  await expect(field).toHaveAttribute("placeholder", /^\d/);
  expect((await desk.design()).masts[0].bury_m).toBeUndefined();
  await desk.undo.click();
  expect(await desk.text()).toBe(typed);
});

test("number outside its range-typed-is used, named with its range, and found again from the notes", async ({ desk, page }) => {
  await desk.openDemo();
  const field = desk.field("rise");
  await desk.type(field, "25");
  const problem = desk.problemOf(field);
  await expect(problem).toContainText("25.0°");
  await expect(problem).toContainText("-5.0°");
  await expect(problem).toContainText("20.0°");
  await expect(field).toHaveAttribute("aria-invalid", "true");
  expect((await desk.design()).masts[0].sail.rise_deg).toBe(25);
  await desk.section("boat");
  const notes = page.getByRole("region", { name: say("page.attention") });
  const open = notes.getByRole("button").first();
  if ((await open.getAttribute("aria-expanded")) === "false") await desk.tap(open);
  const note = notes.getByRole("listitem").filter({ hasText: say("label.rise") }).first();
  await desk.tap(note.getByRole("button", { name: say("page.attention.go") }));
  await expect(field).toBeFocused();
});

test("canvas-at the device's scale-has one dot for each of the screen's", async ({ desk }) => {
  await desk.openDemo();
  const { wide, high, shownWide, shownHigh } = await desk.canvas.evaluate((canvas) => {
    const { width, height } = /** @type {HTMLCanvasElement} */ (canvas);
    const box = canvas.getBoundingClientRect();
    return { wide: width, high: height, shownWide: box.width * devicePixelRatio, shownHigh: box.height * devicePixelRatio };
  });
  expect(Math.abs(wide - shownWide)).toBeLessThanOrEqual(1);
  expect(Math.abs(high - shownHigh)).toBeLessThanOrEqual(1);
});
