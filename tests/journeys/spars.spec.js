// Section Spars: the verdict, a wall too thin, the finder in its worker, schedule, own material, papers.
import { expect, test } from "../support/journey.js";
import { say } from "../support/words.js";

/** @typedef {import("../support/desk.js").Desk} Desk */

const MAST = "masts.0.spars.";

/** @param {Desk} desk @param {string} path */
const cell = (desk, path) => desk.page.locator(`#panel-spars [data-path="${path}"]`).getByRole("textbox");

/** Unfolds a group of the section. @param {Desk} desk @param {string} key */
async function unfold(desk, key) {
  const group = desk.page.locator(`#panel-spars details[data-group="spars-${key}"]`);
  if ((await group.getAttribute("open")) === null) await group.locator("summary").first().click();
}

/** How much of what is allowed the mast is stressed to, in per cent. @param {Desk} desk */
async function stress(desk) {
  const told = await desk.page.locator("#spars-verdict li").first().textContent();
  return Number(/\d+(?=%)/.exec(told ?? "")?.[0]);
}

/** Cells of a table, row by row. @param {Desk} desk @param {string} id */
const table = (desk, id) => desk.page.locator(`#${id} tbody tr:not(.detail)`).evaluateAll((rows) => rows.map((row) => Array.from(/** @type {HTMLTableRowElement} */ (row).cells, (one) => one.textContent ?? "")));

test("wall-made too thin-is a danger that leads to its field, and undo takes it back", async ({ desk, page }) => {
  await desk.openDemo("marsh-pippin");
  await desk.section("spars");
  const before = await stress(desk);
  await desk.type(cell(desk, `${MAST}mast_wall_m`), "1");
  await expect.poll(() => stress(desk)).toBeGreaterThan(1.6 * before);
  await expect(page.locator("#spars-verdict li").first()).toHaveClass(/danger/);
  await desk.section("sail");
  await expect(page.locator("#attention")).toContainText(say("check.mast_stress.advice"));
  await desk.undo.click();
  await desk.section("spars");
  await expect.poll(() => stress(desk)).toBe(before);
});

test("load case-opened-names every factor, and their product is the one in the table", async ({ desk, page }) => {
  await desk.openDemo("marsh-pippin");
  await desk.section("spars");
  const cases = page.locator("#proof-cases");
  const rows = await table(desk, "proof-cases");
  expect(rows).toHaveLength(5);
  const first = cases.locator("tbody").getByRole("button").first();
  await desk.tap(first);
  await expect(first).toHaveAttribute("aria-expanded", "true");
  const told = (await cases.locator(".detail:not([hidden]) p").first().textContent()) ?? "";
  const [factors = "", product = ""] = told.split(" = ");
  const all = factors.split(" × ").reduce((sum, factor) => sum * Number(/[\d.]+$/.exec(factor)?.[0]), 1);
  expect(all).toBeCloseTo(Number(product), 1);
  expect(rows[0]?.[3]).toBe(product);
});

test("schedule-in feet-goes by whole feet from the partners", async ({ desk, page }) => {
  await desk.openDemo("marsh-pippin");
  await desk.section("spars");
  const metres = await table(desk, "proof-schedule");
  for (const [height] of metres.slice(1, -1)) expect(height).toMatch(/[05]0$/);
  await desk.tap(page.getByRole("group", { name: say("page.units") }).getByText(say("page.units.ft"), { exact: true }));
  await expect.poll(async () => (await table(desk, "proof-schedule")).length).toBeGreaterThan(metres.length);
  for (const [height] of (await table(desk, "proof-schedule")).slice(1, -1)) expect(height).toMatch(/^(-?\d+' 0"|0")$/);
});

test("curves-while the section is open-stand beside the mast", async ({ desk }) => {
  await desk.openDemo("marsh-pippin");
  await desk.section("sail");
  const plain = await desk.ink();
  await desk.section("spars");
  await expect.poll(() => desk.ink()).not.toBe(plain);
  await desk.section("sail");
  await expect.poll(() => desk.ink()).toBe(plain);
});

test("material of one's own-added and chosen-changes the weight of the mast", async ({ desk, page }) => {
  await desk.openDemo("marsh-pippin");
  await desk.section("spars");
  const weight = async () => Number((await page.locator("#proof-mast li").nth(1).locator("strong").textContent()) ?? "");
  const before = await weight();
  await unfold(desk, "materials");
  await page.locator('[data-path="spars.materials.0.kind"] select').selectOption("alloy");
  for (const [leaf, typed] of [["name", "Light"], ["density", "1350"], ["stiffness", "70"], ["strength", "250"]]) await desk.type(cell(desk, `spars.materials.0.${leaf}`), typed ?? "");
  await page.locator(`[data-path="${MAST}mast_material"] select`).selectOption("own-1");
  await expect.poll(weight).toBeLessThan(0.55 * before);
  expect((await desk.design()).spars.materials[0].density).toBe(1350);
});

test("finder-asked-cancels at once, finds what passes, and what is taken is one step", async ({ desk, page }) => {
  await desk.openDemo("marsh-pippin");
  await desk.section("spars");
  const before = await desk.text();
  await unfold(desk, "finder");
  const find = page.locator("#finder-find");
  // By script, since a whole search takes less than a tap and a look.
  const cancelled = await find.evaluate(async (button) => {
    /** @type {HTMLElement} */ (button).click();
    await new Promise((done) => setTimeout(done, 20));
    const during = button.textContent;
    // In the very turn of the tap.
    /** @type {HTMLElement} */ (button).click();
    return { during, after: button.textContent };
  });
  expect(cancelled).toEqual({ during: say("page.spars.cancel"), after: say("page.spars.find") });
  await page.waitForTimeout(800);
  await expect(page.locator("#finder-take")).toBeHidden();
  await desk.tap(find);
  const take = page.locator("#finder-take");
  await expect(take).toBeVisible();
  await desk.tap(take);
  await expect.poll(() => stress(desk)).toBeLessThanOrEqual(100);
  await expect(find, "the hand is led back").toBeFocused();
  await desk.undo.click();
  await expect.poll(() => desk.text()).toBe(before);
});

test("finder-of another mast, or of what cannot be told-says nothing of the one before", async ({ desk, page }) => {
  await desk.openDemo("grey-heron");
  await desk.section("spars");
  await unfold(desk, "finder");
  await desk.tap(page.locator("#finder-find"));
  const take = page.locator("#finder-take");
  const told = page.locator("#panel-spars .result");
  await expect(take).toBeVisible();
  await expect(told).toContainText("%");
  await desk.tap(page.locator("#panel-spars .mast-chooser button").last());
  await expect(take).toBeHidden();
  await expect(told).toHaveText("");
  await page.locator("#finder-aim").selectOption("stiffest");
  await desk.tap(page.locator("#finder-find"));
  await expect(told).toHaveText(say("page.spars.need_weight"));
  await page.locator("#finder-aim").selectOption("cheapest");
  await desk.tap(page.locator("#finder-find"));
  await expect(told).toHaveText(say("page.spars.need_prices"));
});

for (const [name, begins] of /** @type {const} */ ([["breaks off", true], ["does not start", false]]))
  test(`finder-whose worker ${name}-${begins ? "says so and searches no further" : "searches on the page"}`, async ({ desk, page }) => {
    await page.addInitScript((begun) => {
      window.Worker = /** @type {any} */ (class extends EventTarget {
        postMessage() {
          const say = (/** @type {unknown} */ data) => this.dispatchEvent(new MessageEvent("message", { data }));
          setTimeout(() => {
            if (begun) say(0);
            say(null);
          });
        }
        terminate() {}
      });
    }, begins);
    await desk.openDemo("marsh-pippin");
    await desk.section("spars");
    await unfold(desk, "finder");
    await desk.tap(page.locator("#finder-find"));
    const take = page.locator("#finder-take");
    if (!begins) return expect(take).toBeVisible();
    await expect(page.locator("#panel-spars .result")).toHaveText(say("page.spars.broke"));
    await expect(take).toBeHidden();
  });

test("row of a spar-opened-tells where it is worst, and the plot is of that spar", async ({ desk, page }) => {
  await desk.openDemo("marsh-pippin");
  await desk.section("spars");
  const plot = page.locator("#plot-spar");
  const ink = () => plot.evaluate((canvas) => /** @type {HTMLCanvasElement} */ (canvas).toDataURL());
  const before = await ink();
  const rows = page.locator("#proof-spars tbody tr:not(.detail)");
  await desk.tap(rows.first().getByRole("button"));
  await expect(page.locator("#proof-spars .detail:not([hidden])")).toContainText(`${say("proof.governs")}: `);
  await desk.tap(rows.nth(2).getByRole("button"));
  const name = await rows.nth(2).getByRole("button").textContent();
  await expect(page.locator("#panel-spars p").getByText(name ?? "", { exact: true })).toBeVisible();
  await expect.poll(ink).not.toBe(before);
});

test("joints-of the cutting list-listed as weak places in one step", async ({ desk, page }) => {
  await desk.openDemo("marsh-pippin");
  await desk.section("spars");
  await unfold(desk, "stock");
  const before = (await desk.design()).masts[0].spars?.weak?.length ?? 0;
  const button = page.locator("#list-joints");
  await desk.tap(button);
  await expect.poll(async () => (await desk.design()).masts[0].spars.weak?.length ?? 0).toBeGreaterThan(before);
  await expect(button).toBeHidden();
  await expect(page.locator("#proof-weak_places")).toContainText(say("choice.what.joint"));
  await desk.undo.click();
  await expect(button).toBeVisible();
});

test("papers-made while the section is open-keep every measure", async ({ desk, page }) => {
  await desk.openDemo("marsh-pippin");
  /** @param {string} section */
  const drawn = async (section) => {
    await desk.section(section);
    await page.evaluate(() => dispatchEvent(new Event("beforeprint")));
    const words = await page.locator("#paper .paper-plan svg").first().textContent();
    await page.evaluate(() => dispatchEvent(new Event("afterprint")));
    return words;
  };
  const plain = await drawn("sail");
  expect(await drawn("spars")).toBe(plain);
});

test("paper-printed-has the three sheets, each with its cautions", async ({ desk, page }) => {
  await desk.openDemo("marsh-pippin");
  await page.emulateMedia({ media: "print" });
  // A4 between its margins.
  await page.setViewportSize({ width: 703, height: 1027 });
  await page.evaluate(() => dispatchEvent(new Event("beforeprint")));
  const first = page.locator("#paper .paper-spars").first();
  await expect(first).toContainText(say("proof.allowed"));
  await expect(first).toContainText(say("label.factor_alloy"));
  await expect(first.locator("svg")).toHaveCount(1);
  for (const word of ["spars", "hull", "cutting"]) {
    const sheet = page.locator("#paper section").filter({ has: page.locator("h1", { hasText: say(`page.paper.${word}`) }) });
    await expect(sheet.locator("table").first()).toBeVisible();
    await expect(sheet).toContainText(say("page.spars.caution"));
    await expect(sheet).toContainText(say("page.caution.checked"));
  }
});

test.describe("kept by the service worker", () => {
  test.use({ serviceWorkers: "allow", language: "en" });

  test("finder-without network-finds all the same", async ({ desk, page }) => {
    await desk.openWithoutNetwork();
    await desk.section("spars");
    await unfold(desk, "finder");
    await desk.tap(page.locator("#finder-find"));
    await expect(page.locator("#finder-take")).toBeVisible();
  });
});
