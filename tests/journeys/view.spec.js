// Looking nearer: zoom, pan, fit, and a page that still scrolls under the thumb.
import { Desk, middle } from "../support/desk.js";
import { pinch, thumbScroll } from "../support/hands.js";
import { expect, test } from "../support/journey.js";
import { say } from "../support/words.js";

/** @param {import("../support/desk.js").Desk} desk how long the boom is on the screen, px */
async function boom(desk) {
  // By their own frames: zoomed in, a handle may lie beyond the pane.
  const places = await desk.page.evaluate(() =>
    ["clew", "balance"].map((id) => {
      const { m41, m42 } = new DOMMatrix(/** @type {HTMLElement | null} */ (document.querySelector(`[data-handle="${id}"]`))?.style.transform);
      return { x: m41, y: m42 };
    }),
  );
  const [clew, tack] = /** @type {[DOMPoint, DOMPoint]} */ (places);
  return { long: Math.hypot(clew.x - tack.x, clew.y - tack.y), clew };
}

/** A place on the drawing where no handle is near. @param {import("../support/desk.js").Desk} desk */
const bare = (desk) =>
  desk.canvas.evaluate((canvas) => {
    const box = canvas.getBoundingClientRect();
    for (let row = 1; row < 8; row += 1)
      for (let column = 1; column < 8; column += 1) {
        const place = { x: box.left + (box.width * column) / 8, y: box.top + (box.height * row) / 8 };
        const around = [0, 1, 2, 3, 4, 5].map((turn) => ({ x: place.x + 30 * Math.cos(turn), y: place.y + 30 * Math.sin(turn) }));
        if ([place, ...around].every(({ x, y }) => document.elementFromPoint(x, y) === canvas)) return place;
      }
    throw new Error("handles everywhere");
  });

/** @param {import("../support/desk.js").Desk} desk */
const fit = (desk) => desk.page.getByRole("button", { name: say("page.fit"), exact: true }).first();

test("screen-narrow or wide-has the drawing above the sections or beside them", async ({ desk, page, isMobile }) => {
  await desk.openDemo();
  await expect(page.getByRole("tab")).toHaveText(["boat", "sail", "reefs", "balance", "lines", "spars", "cloth"].map((name) => say(`page.section.${name}`)));
  const [drawing, sections, hoist] = await Promise.all(["#drawing", "#sections", ".hoist-track"].map((part) => page.locator(part).boundingBox()));
  if (!drawing || !sections || !hoist) throw new Error("not to be seen");
  if (isMobile) expect(sections.y).toBeGreaterThanOrEqual(drawing.y + drawing.height - 1);
  else expect(sections.x).toBeGreaterThanOrEqual(drawing.x + drawing.width - 1);
  // The drawing first and large, the hoist at its edge where a thumb lies.
  expect(drawing.width * drawing.height).toBeGreaterThan(0.4 * (isMobile ? 390 * 844 : 1440 * 900));
  expect(hoist.x).toBeGreaterThan(drawing.x + drawing.width * 0.75);
});

test("window-made narrow and wide again-the drawing stays whole and sharp", async ({ desk, page, isMobile }) => {
  test.skip(isMobile, "a phone's window has one size");
  await desk.openDemo();
  for (const size of [{ width: 700, height: 500 }, { width: 390, height: 844 }, { width: 1440, height: 900 }]) {
    await page.setViewportSize(size);
    await expect.poll(async () => {
      const { wide, shown } = await desk.canvas.evaluate((canvas) => ({ wide: /** @type {HTMLCanvasElement} */ (canvas).width, shown: canvas.getBoundingClientRect().width * devicePixelRatio }));
      return Math.abs(wide - shown) <= 1;
    }).toBe(true);
    const pane = await desk.canvas.boundingBox();
    for (const id of /** @type {const} */ (["clew", "peak", "balance"])) {
      await expect(desk.handle(id)).toBeVisible();
      const { x, y } = await desk.place(id);
      expect(pane && x > pane.x && x < pane.x + pane.width && y > pane.y && y < pane.y + pane.height, `${id} at ${size.width}`).toBe(true);
    }
  }
});

test("drawing-pinched-comes nearer, pans under one finger and fits again", async ({ desk, page, hasTouch }) => {
  test.skip(!hasTouch, "needs two fingers");
  await desk.openDemo();
  const first = await desk.only();
  const before = await boom(desk);
  await pinch(page, await middle(desk.canvas), 60, 150);
  await expect.poll(async () => (await boom(desk)).long / before.long, "2.5 times as far apart").toBeGreaterThan(1.8);
  expect(await page.evaluate(() => visualViewport?.scale), "the page itself stays").toBe(1);
  const near = await boom(desk);
  const from = await bare(desk);
  await desk.hand().drag(from, { x: from.x - 50, y: from.y - 40 });
  await expect.poll(async () => Math.round((await boom(desk)).clew.x - near.clew.x)).toBe(-50);
  expect(Math.round((await boom(desk)).clew.y - near.clew.y)).toBe(-40);
  await expect(async () => {
    // The browser swallows a tap that comes right after a swift swipe; one that took hides the button.
    if (await fit(desk).isVisible()) await fit(desk).tap({ timeout: 2000 });
    await expect.poll(async () => (await boom(desk)).long, { timeout: 2000 }).toBeCloseTo(before.long, 1);
  }).toPass();
  expect((await desk.only()).raw, "looking is no edit").toBe(first.raw);
});

test("drawing-wheel turned-comes nearer about the pointer, pans and fits again", async ({ desk, page, hasTouch }) => {
  test.skip(hasTouch, "a phone has no wheel");
  await desk.openDemo();
  const first = await desk.only();
  const before = await boom(desk);
  const at = await desk.place("peak");
  await page.mouse.move(at.x, at.y);
  await page.mouse.wheel(0, -400);
  await expect.poll(async () => (await boom(desk)).long).toBeGreaterThan(before.long * 1.3);
  const now = await desk.place("peak");
  expect(Math.hypot(now.x - at.x, now.y - at.y), "what lay under the pointer stays there, px").toBeLessThan(2);
  const near = await boom(desk);
  const from = await bare(desk);
  await desk.hand().drag(from, { x: from.x + 80, y: from.y + 30 });
  await expect.poll(async () => Math.round((await boom(desk)).clew.x - near.clew.x)).toBe(80);
  await fit(desk).click();
  await expect.poll(async () => (await boom(desk)).long).toBeCloseTo(before.long, 1);
  expect((await desk.only()).raw, "looking is no edit").toBe(first.raw);
});

test("page-thumb starts on the drawing-scrolls", async ({ desk, page, hasTouch }) => {
  test.skip(!hasTouch, "a thumb's matter");
  await desk.openDemo();
  const first = await desk.only();
  expect(await page.evaluate(() => scrollY)).toBe(0);
  const at = await middle(desk.canvas);
  await thumbScroll(page, { x: 40, y: at.y + 60 }, 300);
  await expect.poll(() => page.evaluate(() => scrollY)).toBeGreaterThan(150);
  expect((await desk.only()).raw).toBe(first.raw);
  // And back, by a thumb on the fields.
  await thumbScroll(page, { x: 190, y: 650 }, -400);
  await expect.poll(() => page.evaluate(() => scrollY)).toBe(0);
});

test("layers-switched off-leave the drawing and stay off after a reload", async ({ desk, page }) => {
  await desk.openDemo();
  await desk.tap(page.getByRole("button", { name: say("page.display") }));
  const ink = await desk.ink();
  await page.getByLabel(say("page.show.parrels"), { exact: true }).uncheck();
  await expect.poll(() => desk.ink()).not.toBe(ink);
  await page.reload();
  await desk.ready();
  await desk.tap(page.getByRole("button", { name: say("page.display") }));
  await expect(page.getByLabel(say("page.show.parrels"), { exact: true })).not.toBeChecked();
});

test("scheme-chosen dark-page and drawing turn dark and stay so", async ({ desk, page }) => {
  await desk.openDemo();
  const paper = () => page.evaluate(() => getComputedStyle(document.documentElement).backgroundColor);
  const [light, ink] = [await paper(), await desk.ink()];
  await desk.tap(page.getByRole("button", { name: say("page.display") }));
  await desk.tap(page.getByText(say("page.scheme.dark"), { exact: true }));
  await expect.poll(paper).not.toBe(light);
  await expect.poll(() => desk.ink()).not.toBe(ink);
  const dark = await paper();
  await page.reload();
  await desk.ready();
  expect(await paper()).toBe(dark);
});

test("project-open in another window too-shows no rings to take hold of there", async ({ desk, context }) => {
  /** Pixels in the ink of handles: see the palette of the drawing. @param {Desk} one */
  const rings = (one) =>
    one.canvas.evaluate((element) => {
      const canvas = /** @type {HTMLCanvasElement} */ (element);
      const copy = new OffscreenCanvas(canvas.width, canvas.height).getContext("2d", { willReadFrequently: true });
      copy?.drawImage(canvas, 0, 0);
      const { data } = copy?.getImageData(0, 0, canvas.width, canvas.height) ?? { data: [] };
      let inked = 0;
      for (let at = 0; at < data.length; at += 4) if (data[at] === 0x8a && data[at + 1] === 0x2f && data[at + 2] === 0x1d) inked += 1;
      return inked;
    });
  await desk.openDemo();
  await expect.poll(() => rings(desk)).toBeGreaterThan(100);
  // Stored and opened again they are there at once, and stay.
  await desk.page.reload();
  await desk.ready();
  await expect.poll(() => rings(desk)).toBeGreaterThan(100);
  const other = new Desk(await context.newPage(), desk.touch);
  await other.page.goto("./");
  await expect(other.notice("page.fault.other_window")).toBeVisible();
  await expect.poll(() => rings(other)).toBe(0);
  // Taken over, they change places.
  await other.tap(other.notice("page.fault.other_window").getByRole("button", { name: say("page.take_over") }));
  await expect.poll(() => rings(other)).toBeGreaterThan(100);
  await expect.poll(() => rings(desk)).toBe(0);
});

test("drawing-zoomed and dragged far away-stays in sight, and comes back at once", async ({ desk, page, hasTouch }) => {
  test.skip(hasTouch, "a mouse drags furthest");
  await desk.openDemo();
  const pane = await desk.canvas.boundingBox();
  if (!pane) throw new Error("no drawing");
  const middleOf = { x: pane.x + pane.width / 2, y: pane.y + pane.height / 2 };
  await page.mouse.move(middleOf.x, middleOf.y);
  await page.mouse.wheel(0, -400);
  const near = await boom(desk);
  for (let times = 0; times < 4; times += 1) {
    await desk.hand().drag({ x: pane.x + 30, y: pane.y + 90 }, { x: pane.x + pane.width - 10, y: pane.y + 95 });
  }
  const far = await boom(desk);
  // The tack lies a chord ahead of the clew: it must not have gone further than the pane's edge.
  expect(far.clew.x).toBeGreaterThan(near.clew.x);
  expect(far.clew.x - far.long).toBeLessThan(pane.width);
  // What was dragged in vain is not owed: the first move back shows.
  await desk.hand().drag({ x: pane.x + pane.width - 60, y: pane.y + 95 }, { x: pane.x + pane.width - 100, y: pane.y + 95 });
  await expect.poll(async () => Math.round((await boom(desk)).clew.x - far.clew.x)).toBe(-40);
});

test("headline-reefed on a small phone-keeps its three numbers side by side", async ({ desk, page, isMobile }) => {
  test.skip(!isMobile, "a phone's matter");
  await page.setViewportSize({ width: 360, height: 740 });
  await desk.openDemo("marsh-pippin");
  await desk.hoist.focus();
  for (const key of ["ArrowDown", "ArrowDown"]) await page.keyboard.press(key);
  const figures = page.locator("#headline .figure");
  await expect(figures.first()).toContainText("73%");
  expect(new Set(await figures.evaluateAll((all) => all.map((figure) => figure.getBoundingClientRect().top))).size).toBe(1);
});

test("number lettered on the drawing-tapped-is told with its meaning and source, and a bare place tells nothing", async ({ desk, page }) => {
  await page.addInitScript(() => {
    /** @type {{ words: string, x: number, y: number }[]} */
    const lettered = [];
    Object.assign(window, { lettered });
    const { fillText } = CanvasRenderingContext2D.prototype;
    CanvasRenderingContext2D.prototype.fillText = function (words, x, y, ...more) {
      const ratio = this.canvas.width / Math.max(1, this.canvas.clientWidth);
      // Half a digit in, whichever end stands at its place.
      const aside = { left: 5, right: -5 }[/** @type {string} */ (this.textAlign)] ?? 0;
      const at = new DOMPoint(x + aside, y - 4).matrixTransform(this.getTransform());
      if (this.canvas.id === "canvas") lettered.push({ words, x: at.x / ratio, y: at.y / ratio });
      return fillText.call(this, words, x, y, ...more);
    };
  });
  await desk.openDemo();
  const numbers = await desk.canvas.evaluate((canvas) => {
    const box = canvas.getBoundingClientRect();
    const all = /** @type {{ words: string, x: number, y: number }[]} */ (Reflect.get(window, "lettered")).slice(-60);
    const numbers = all.filter(({ words }) => /^\d[.]\d\d$/.test(words)).map(({ words, x, y }) => ({ words, x: box.left + x, y: box.top + y }));
    return [...new Map(numbers.map((number) => [number.words, number])).values()];
  });
  expect(numbers.length).toBeGreaterThan(6);
  const told = page.locator(".help-sheet");
  let spars = 0;
  // Under a handle as well.
  for (const { words, x, y } of numbers) {
    await desk.tapAt(x, y);
    await expect(told.getByRole("heading")).toContainText(`: ${words} m`);
    await expect(told.locator("p").first()).not.toBeEmpty();
    await expect(told.locator("dl")).not.toBeEmpty();
    if ((await told.getByRole("heading").textContent())?.startsWith(`${say("label.parrel_height")}, `)) spars += 1;
    await page.keyboard.press("Escape");
    await expect(told).toHaveCount(0);
  }
  expect(spars, "boom, battens, yard").toBe(8);
  // A handle that is tapped where no number stands tells nothing.
  const clew = await desk.place("clew");
  await desk.tapAt(clew.x, clew.y);
  const { x, y } = await bare(desk);
  if (numbers.every((number) => Math.hypot(number.x - x, number.y - y) > 60)) await desk.tapAt(x, y);
  await expect(told).toHaveCount(0);
});
