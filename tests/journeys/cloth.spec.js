// Section Cloth: five constructions, a panel by itself, strain, the roll in its worker, files, papers.
import { AxeBuilder } from "@axe-core/playwright";
import { expect, test } from "../support/journey.js";
import { say } from "../support/words.js";

/** @typedef {import("../support/desk.js").Desk} Desk */

const CLOTH = "masts.0.cloth.";

/** @param {Desk} desk @param {string} path */
const cell = (desk, path) => desk.page.locator(`#panel-cloth [data-path="${path}"]`).getByRole("textbox");

/** Chooses how the sail is made. @param {Desk} desk @param {string} cut */
const make = (desk, cut) => desk.page.locator('#panel-cloth [data-path="masts.0.sail.cut"] select').selectOption(cut);

/** Unfolds a group of the section. @param {Desk} desk @param {string} key */
async function unfold(desk, key) {
  const group = desk.page.locator(`#panel-cloth details[data-group="cloth-${key}"]`);
  if ((await group.getAttribute("open")) === null) await group.locator("summary").first().click();
}

/** Cells of a table, row by row. @param {Desk} desk @param {string} id */
const table = (desk, id) => desk.page.locator(`#${id} tbody tr:not(.detail)`).evaluateAll((rows) => rows.map((row) => Array.from(/** @type {HTMLTableRowElement} */ (row).cells, (one) => one.textContent ?? "")));

/** A figure of a list by its place. @param {Desk} desk @param {string} id @param {number} at */
const figure = async (desk, id, at) => Number.parseFloat((await desk.page.locator(`#${id} li`).nth(at).locator("strong").textContent()) ?? "");

/** What a click saves, byte by byte. @param {Desk} desk @param {string} id */
async function saved(desk, id) {
  const coming = desk.page.waitForEvent("download");
  await desk.tap(desk.page.locator(`#${id}`));
  const download = await coming;
  const parts = [];
  for await (const part of await download.createReadStream()) parts.push(part);
  return { name: download.suggestedFilename(), bytes: Buffer.concat(parts) };
}

/** Opens the section with cambered panels. @param {Desk} desk */
async function cambered(desk) {
  await desk.openDemo("marsh-pippin");
  await desk.section("cloth");
  await make(desk, "cambered");
}

test("construction-chosen-changes section and pieces, and shows the fields of its own", async ({ desk, page }) => {
  await desk.openDemo("marsh-pippin");
  await desk.section("cloth");
  await unfold(desk, "pieces");
  const plot = page.locator("#plot-cloth-section1");
  const ink = () => plot.evaluate((canvas) => /** @type {HTMLCanvasElement} */ (canvas).toDataURL());
  const drawn = new Set();
  for (const [cut, pieces, own, foreign] of /** @type {const} */ ([
    ["flat", 7, "", "camber_pct"],
    ["cambered", 7, "camber_pct", "join_pct"],
    ["wing", 21, "join_pct", "camber_pct"],
    ["split", 14, "slot_pct", "join_pct"],
    ["paired", 7, "room_m", "camber_cut"],
  ])) {
    await make(desk, cut);
    await expect.poll(async () => (await table(desk, "sewn-pieces")).length).toBe(pieces);
    if (own) await expect(cell(desk, CLOTH + own)).toBeVisible();
    await expect(page.locator(`#panel-cloth [data-path="${CLOTH}${foreign}"]`)).toHaveCount(0);
    drawn.add(await ink());
    await expect(page.locator("#piece-drawn svg")).toBeVisible();
  }
  expect(drawn.size, "sections that differ").toBe(5);
});

test("panel-shaped by itself-is as deep as typed, the others stay, and one undo takes it back", async ({ desk, page }) => {
  await cambered(desk);
  const before = await table(desk, "sewn-panels");
  await desk.tap(page.locator(".panel-chooser button").nth(1));
  await desk.tap(page.locator("#shape-panel"));
  const camber = cell(desk, `${CLOTH}shapes.0.camber_pct`);
  await expect(camber).toBeFocused();
  // Empty it goes by the grading.
  await expect(camber).toHaveAttribute("placeholder", before[1]?.[1] ?? "");
  await desk.type(camber, "10");
  // 10 % of a chord of 4.40 m.
  await expect.poll(async () => Number((await table(desk, "sewn-panels"))[1]?.[3])).toBe(440);
  const after = await table(desk, "sewn-panels");
  expect(after[0]?.slice(0, 4)).toEqual(before[0]?.slice(0, 4));
  expect(after[5]?.slice(0, 4)).toEqual(before[5]?.slice(0, 4));
  await desk.tap(page.locator("#shape-panel"));
  await expect.poll(async () => (await table(desk, "sewn-panels"))[1]?.[3]).toBe(before[1]?.[3]);
  expect((await desk.design()).masts[0].cloth?.shapes).toBeUndefined();
  await desk.undo.click();
  await expect.poll(async () => (await table(desk, "sewn-panels"))[1]?.[3]).toBe("440");
});

test("fanned panel with shelves-strained past the limit-says so and leads to its field", async ({ desk, page }) => {
  await cambered(desk);
  const verdict = page.locator("#cloth-verdict");
  await page.locator(`#panel-cloth [data-path="${CLOTH}camber_cut"]`).getByText(say("choice.cut.shelf"), { exact: true }).click();
  await desk.type(cell(desk, `${CLOTH}shelf_deg`), "20");
  await desk.type(cell(desk, `${CLOTH}head_camber_pct`), "9");
  await unfold(desk, "sewing");
  await desk.type(cell(desk, "cloth.strain_pct"), "0.3");
  const [panel7 = ""] = (await table(desk, "sewn-panels"))[6] ?? [];
  const strained = verdict.locator("li", { hasText: panel7 }).filter({ hasText: "0.3" });
  await expect(strained).toHaveCount(1);
  await expect(strained).toHaveClass(/look/);
  await desk.tap(strained.getByRole("button"));
  await expect(cell(desk, `${CLOTH}camber_pct`)).toBeFocused();
  await desk.type(cell(desk, "cloth.strain_pct"), "1");
  await expect(strained).toHaveCount(0);
});

test("cloth pressed in by the mast-leads to the offset, which is a field of the sail", async ({ desk, page }) => {
  await cambered(desk);
  const [[panel1 = ""] = []] = await table(desk, "sewn-panels");
  const pressed = page.locator("#cloth-verdict li.look").filter({ hasText: say("sewn.found.pressed", { at: panel1, value: "160 mm" }) });
  await expect(pressed).toHaveCount(1);
  await desk.tap(pressed.getByRole("button"));
  await expect(page.getByRole("tab", { name: say("page.section.sail") })).toHaveAttribute("aria-selected", "true");
  await expect(page.locator('#panel-sail [data-path="masts.0.sail.offset_m"]').getByRole("textbox")).toBeFocused();
});

test("roll-laid out for the order while another section is looked at-is there on return", async ({ desk, page }) => {
  await cambered(desk);
  await unfold(desk, "roll");
  await expect(page.locator("#roll-drawn svg")).toBeVisible();
  const order = page.locator("#cloth-order");
  await desk.tap(order);
  await expect.poll(() => page.locator("#panel-cloth progress").evaluate((bar) => /** @type {HTMLProgressElement} */ (bar).value)).toBeGreaterThan(0.02);
  await desk.section("reefs");
  await desk.section("cloth");
  await expect(order).toHaveText(say("page.spars.cancel"));
  await desk.section("reefs");
  await expect(page.locator("#panel-cloth progress")).toHaveAttribute("hidden", "", { timeout: 60_000 });
  await desk.section("cloth");
  await expect(page.locator("#cloth-laid")).toHaveText(say("page.cloth.ordered"), { timeout: 10_000 });
});

test("ordinates of one's own-begin and end on the chord, and what is amiss stands under them", async ({ desk, page }) => {
  await cambered(desk);
  await page.locator(`#panel-cloth [data-path="${CLOTH}line"] select`).selectOption("own");
  const list = page.locator("#panel-cloth .row-table");
  await desk.tap(list.getByRole("button", { name: say("page.rows.add") }));
  await expect(cell(desk, `${CLOTH}ordinates.1.along_pct`)).toBeFocused();
  expect((await desk.design()).masts[0].cloth.ordinates).toEqual([{ along_pct: 0, off_pct: 0 }, {}, { along_pct: 100, off_pct: 0 }]);
  // As far along as the first: it has to rise.
  await desk.type(cell(desk, `${CLOTH}ordinates.1.along_pct`), "0");
  await expect(list.locator("td .problem")).toHaveCount(0);
  await expect(list.locator(".problem").filter({ visible: true })).toHaveCount(1);
  await desk.type(cell(desk, `${CLOTH}ordinates.1.along_pct`), "30");
  await desk.type(cell(desk, `${CLOTH}ordinates.1.off_pct`), "5");
  await expect(list.locator(".problem").filter({ visible: true })).toHaveCount(0);
  await desk.tap(list.getByRole("button", { name: say("page.rows.add") }));
  await expect(cell(desk, `${CLOTH}ordinates.2.along_pct`)).toBeFocused();
  await expect(cell(desk, `${CLOTH}ordinates.3.along_pct`)).toHaveValue("100.0");
});

test("roll-laid out for the order-tells how far it is, cancels at once, and is printed as it was told", async ({ desk, page }) => {
  await cambered(desk);
  await unfold(desk, "roll");
  await unfold(desk, "bill");
  await expect(page.locator("#roll-drawn svg")).toBeVisible();
  await expect(page.locator("#cloth-laid")).toHaveText(say("page.cloth.quick"));
  const look = await figure(desk, "sewn-roll", 0);
  const order = page.locator("#cloth-order");
  await desk.tap(order);
  await expect(order).toHaveText(say("page.spars.cancel"));
  await expect(page.locator("#panel-cloth progress")).toBeVisible();
  await expect.poll(() => page.locator("#panel-cloth progress").evaluate((bar) => /** @type {HTMLProgressElement} */ (bar).value)).toBeGreaterThan(0.02);
  // In the very turn of the tap.
  const after = await order.evaluate((button) => {
    /** @type {HTMLElement} */ (button).click();
    return button.textContent;
  });
  expect(after).toBe(say("page.cloth.order"));
  await expect(page.locator("#cloth-laid")).toHaveText(say("page.cloth.quick"));
  await expect.poll(() => figure(desk, "sewn-roll", 0)).toBe(look);
  await desk.tap(order);
  await expect(page.locator("#cloth-laid")).toHaveText(say("page.cloth.ordered"), { timeout: 60_000 });
  await expect.poll(() => figure(desk, "sewn-roll", 0)).toBeLessThan(look);
  const length = await figure(desk, "sewn-roll", 0);
  await expect.poll(() => figure(desk, "sewn-bill", 0)).toBe(length);
  await page.evaluate(() => dispatchEvent(new Event("beforeprint")));
  const paper = page.locator("#paper .paper-cloth");
  await expect(paper.locator("tr").filter({ has: page.locator("th", { hasText: say("sewn.order") }) }).first()).toContainText(String(length));
  await page.evaluate(() => dispatchEvent(new Event("afterprint")));
  await desk.type(cell(desk, "cloth.roll_m"), "2.1");
  await expect(page.locator("#cloth-laid")).toHaveText(say("page.cloth.quick"));
  await expect.poll(() => figure(desk, "sewn-roll", 0)).toBeLessThan(0.9 * length);
});

test("roll narrower than a patch-is a danger, and the section goes on", async ({ desk, page }) => {
  await cambered(desk);
  await unfold(desk, "roll");
  await desk.type(cell(desk, "cloth.roll_m"), "0.2");
  const danger = page.locator("#cloth-verdict .danger");
  await expect(danger).toHaveCount(1);
  await desk.type(cell(desk, "cloth.roll_m"), "1.37");
  await expect(danger).toHaveCount(0);
  await expect(page.locator("#roll-drawn svg")).toBeVisible();
});

test("patterns-saved-are a PDF with its pages told, a table, a drawing for a cutter and all of them", async ({ desk, page }) => {
  await cambered(desk);
  await unfold(desk, "pieces");
  await unfold(desk, "papers");
  await expect.poll(async () => (await table(desk, "sewn-pieces")).length).toBe(7);
  const told = page.locator("#cloth-told");
  const pages = async () => Number(/(\d+) \p{L}+, \d/u.exec((await told.textContent()) ?? "")?.[1]);
  const before = page.locator("#cloth-pages");
  const few = page.locator("#cloth-piece-pages");
  await expect(before).toContainText(say("sewn.larger"));
  const foretold = Number.parseInt((await before.textContent()) ?? "", 10);
  const one = await saved(desk, "cloth-piece");
  const pagesOf = (/** @type {Buffer} */ bytes) => (bytes.toString("latin1").match(/\/Type\/Page[^s]/g) ?? []).length;
  await expect(few).toContainText(`: ${pagesOf(one.bytes)} `);
  expect(pagesOf(one.bytes)).toBeGreaterThan(30);
  await expect(page.locator("#cloth-told-piece")).toContainText(one.name);
  const pdf = await saved(desk, "cloth-pdf");
  expect(pdf.bytes.subarray(0, 5).toString()).toBe("%PDF-");
  const text = pdf.bytes.toString("latin1");
  const count = (text.match(/\/Type\/Page[^s]/g) ?? []).length;
  // 26 m² of cloth, panels 2 to 4 drawn once, on pages of A4, of which 0.047 m² each are shown.
  expect(count).toBeGreaterThan(300);
  expect(foretold).toBe(count);
  await expect(told).toContainText(pdf.name);
  expect(await pages()).toBe(count);
  await expect(told).toContainText(String(Math.ceil(pdf.bytes.length / 1000)));

  await page.locator("#cloth-paper").selectOption("plotter");
  await expect(before).not.toContainText(say("sewn.larger"));
  await page.locator("#cloth-plotter").fill("40");
  await desk.tap(page.locator("#cloth-pdf"));
  await expect(told).toHaveText(say("sewn.plotter_bounds"));
  await page.locator("#cloth-plotter").fill("0.914");
  const rolled = await saved(desk, "cloth-pdf");
  expect(rolled.bytes.subarray(0, 5).toString()).toBe("%PDF-");
  expect(rolled.bytes.length).toBeLessThan(pdf.bytes.length);

  const loft = await saved(desk, "cloth-lofting");
  expect(loft.bytes.subarray(0, 5).toString()).toBe("%PDF-");
  const csv = await saved(desk, "cloth-csv");
  expect(csv.bytes.toString("utf8").split("\r\n").length).toBeGreaterThan(7 * 24);
  const svg = await saved(desk, "cloth-svg");
  expect(svg.bytes.toString("utf8")).toMatch(/^<svg[^>]*width="[\d.]+mm"/);
  const zip = await saved(desk, "cloth-zip");
  expect(zip.name).toMatch(/\.zip$/);
  expect(zip.bytes.readUInt32LE(0)).toBe(0x04034b50);
  // Seven pieces, 48 layers of patches, six pockets; the first lies there as it was saved alone.
  expect(zip.bytes.readUInt16LE(zip.bytes.length - 12)).toBeGreaterThanOrEqual(61);
  expect(zip.bytes.indexOf(svg.bytes)).toBeGreaterThan(0);
});

test("five ways-side by side-have notes that open, and the one in use is named", async ({ desk, page }) => {
  await cambered(desk);
  await unfold(desk, "ways");
  await expect(page.locator("#plot-cloth-ways")).toBeVisible();
  await expect.poll(async () => page.locator("#sewn-ways thead th").count()).toBe(5);
  const notes = page.locator("#sewn-ways details").nth(1);
  await desk.tap(notes.locator("summary"));
  for (const note of ["sewn.cambered.reefing", "sewn.cambered.handling", "sewn.cambered.work"]) await expect(notes.getByText(say(note))).toBeVisible();
  const now = say("sewn.now", { way: say("choice.cut.cambered") });
  await expect(notes.locator("summary")).toHaveText(now);
  await expect(page.locator("#sewn-ways thead th").nth(1)).toHaveText(now);
  // All of it is in sight, none past the edge.
  expect(await page.locator("#sewn-ways table").evaluate((box) => box.scrollWidth - box.clientWidth)).toBeLessThanOrEqual(0);
  await expect(page.locator("#plot-cloth-ways")).toHaveAccessibleName(new RegExp(say("choice.cut.wing")));
});

for (const [name, begins] of /** @type {const} */ ([["breaks off", true], ["does not start", false]]))
  test(`patterns-whose worker ${name}-${begins ? "keep what was told at once" : "are made on the page"}`, async ({ desk, page }) => {
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
    await cambered(desk);
    await unfold(desk, "pieces");
    await expect.poll(async () => (await table(desk, "sewn-panels")).length).toBe(7);
    if (!begins) return expect.poll(async () => (await table(desk, "sewn-pieces")).length).toBe(7);
    await unfold(desk, "papers");
    await desk.tap(page.locator("#cloth-pdf"));
    await expect(page.locator("#cloth-told")).toHaveText(say("page.cloth.broke"));
  });

test("section unfolded-every construction-has no barrier", async ({ desk, page }) => {
  await desk.openDemo("marsh-pippin");
  await desk.section("cloth");
  for (const group of ["pieces", "roll", "bill", "ways", "papers", "sewing"]) await unfold(desk, group);
  for (const cut of ["wing", "cambered"]) {
    await make(desk, cut);
    await expect.poll(async () => (await table(desk, "sewn-pieces")).length).toBe(cut === "wing" ? 21 : 7);
    await expect(page.locator("#roll-drawn svg")).toBeVisible();
    const { violations } = await new AxeBuilder({ page }).include("#panel-cloth").analyze();
    expect(violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`)).toEqual([]);
  }
});

test("paper-printed-has the cloth of every mast with tolerances and cautions", async ({ desk, page }) => {
  await desk.openDemo("grey-heron");
  await page.emulateMedia({ media: "print" });
  // A4 between its margins.
  await page.setViewportSize({ width: 703, height: 1027 });
  await page.evaluate(() => dispatchEvent(new Event("beforeprint")));
  const sheets = page.locator("#paper .paper-cloth");
  await expect(sheets).toHaveCount(2);
  for (const part of ["sewn.bill", "sewn.sticks", "sewn.edges", "sewn.offsets", "sewn.ways"]) await expect(sheets.first().locator("caption", { hasText: say(part) })).toHaveCount(1);
  // Roll, the five ways, and a section of each shape.
  const panels = await sheets.first().locator("table").filter({ has: page.locator("caption", { hasText: say("sewn.panels") }) }).locator("tbody tr").evaluateAll((rows) => rows.map((row) => `${row.children[1]?.textContent} ${row.children[2]?.textContent}`));
  expect(new Set(panels).size).toBeGreaterThan(1);
  await expect(sheets.first().locator("svg")).toHaveCount(2 + new Set(panels).size);
  for (const part of ["sewn.order", "sewn.waste"]) await expect(sheets.first().locator("th", { hasText: say(part) })).toHaveCount(1);
  await expect(sheets.first()).toContainText(say("sewn.wing.reefing"));
  for (const [at, mast] of (await desk.design()).masts.entries()) await expect(sheets.nth(at).locator("h1")).toContainText(mast.name);
  await expect(sheets.first()).toContainText("± 5");
  await expect(sheets.first()).toContainText(say("page.cloth.caution"));
  await expect(sheets.first()).toContainText(say("page.caution.checked"));
});

test.describe("kept by the service worker", () => {
  test.use({ serviceWorkers: "allow", language: "en" });

  test("patterns-without network-are made all the same", async ({ desk }) => {
    await desk.openWithoutNetwork();
    await desk.section("cloth");
    await unfold(desk, "pieces");
    await unfold(desk, "papers");
    await expect.poll(async () => (await table(desk, "sewn-pieces")).length).toBe(7);
    const pdf = await saved(desk, "cloth-pdf");
    expect(pdf.bytes.subarray(0, 5).toString()).toBe("%PDF-");
  });
});
