// Papers: parts chosen, printed and as PDF with the numbers of the screen, drawings, tables, handed over as the telephone does.
import { readFileSync } from "node:fs";
import { AxeBuilder } from "@axe-core/playwright";
import { expect, test } from "../support/journey.js";
import { boxesOf, pagesOf, sizesOf } from "../support/pdf.js";
import { beyond } from "../support/room.js";
import { say } from "../support/words.js";

/** @typedef {import("@playwright/test").Page} Page */
/** @typedef {import("../support/desk.js").Desk} Desk */

const PARTS = ["title", "particulars", "plan", "reefs", "lines", "spars", "cloth", "checks", "sources"];
/** Least room beside a page [pt]: 12 mm, less what a letter stands out of its box. */
const MARGIN = (12 / 25.4) * 72 - 1;
/** A drawing as wide as A4 between its margins, at 300 dots an inch. */
const WIDE = Math.round((703 * 300) / 96);

/** @param {Page} page */
const sheetOf = (page) => page.getByRole("dialog", { name: say("page.papers"), exact: true });

/** Opens the papers by the workshop. @param {Desk} desk */
async function papers(desk) {
  await desk.tap(desk.page.getByRole("button", { name: say("page.workshop"), exact: true }));
  await desk.tap(desk.page.getByRole("dialog", { name: say("page.workshop") }).getByRole("button", { name: say("page.papers") }).first());
  await expect(sheetOf(desk.page)).toBeVisible();
  return sheetOf(desk.page);
}

/** Ticks these parts alone. @param {Desk} desk @param {string[]} parts */
async function choose(desk, parts) {
  for (const part of PARTS) await sheetOf(desk.page).getByRole("checkbox", { name: say(`page.paper.${part}`), exact: true }).setChecked(parts.includes(part));
}

/** @param {Desk} desk @param {string} id */
async function saved(desk, id) {
  const coming = desk.page.waitForEvent("download");
  await desk.tap(desk.page.locator(`#papers-${id}`));
  const download = await coming;
  return { name: download.suggestedFilename(), bytes: readFileSync(await download.path()) };
}

/** Prints and gives back what the browser makes of it, on the paper that the sheets ask for. @param {Desk} desk */
async function printed(desk) {
  const { page } = desk;
  await page.evaluate(() => {
    const state = /** @type {any} */ (window);
    state.printed = 0;
    window.print = () => {
      state.printed += 1;
    };
  });
  await desk.tap(page.locator("#papers-print"));
  await page.waitForFunction(() => /** @type {any} */ (window).printed === 1);
  const pdf = await page.pdf({ preferCSSPageSize: true });
  await page.evaluate(() => dispatchEvent(new Event("afterprint")));
  await expect(page.locator("#paper")).toBeEmpty();
  return pdf;
}

test("parts chosen-printed and as PDF-have the numbers of the screen on the paper chosen, and stay chosen", async ({ desk, page }) => {
  await desk.openDemo();
  await desk.section("reefs");
  const reefs = await page.locator("#reef-table tr[data-state] td:not([colspan])").allTextContents();
  await desk.section("balance");
  const winds = await page.locator("#wind-table tr[data-state] td:not([colspan])").allTextContents();
  expect(reefs.length).toBeGreaterThan(40);
  expect(winds.length).toBeGreaterThan(30);
  await papers(desk);
  await choose(desk, ["reefs", "checks", "sources"]);
  await page.locator("#papers-size").selectOption("letter");
  const print = await printed(desk);
  const pdf = await saved(desk, "pdf");
  expect(pdf.name).toBe("marsh-pippin.pdf");
  await expect(page.locator("#papers-told")).toContainText(pdf.name);
  for (const paper of [print, pdf.bytes]) {
    expect(new Set(sizesOf(paper).map(String))).toEqual(new Set(["612,792"]));
    const text = pagesOf(paper).join(" ");
    const words = new Set(text.split(" "));
    expect([...reefs, ...winds].flatMap((cell) => cell.split(/\s+/)).filter((word) => !words.has(word)), "on the screen, not on paper").toEqual([]);
    for (const part of ["reefs", "checks", "sources"]) expect(text).toContain(say(`page.paper.${part}`));
    for (const part of ["particulars", "lines", "cloth"]) expect(text).not.toContain(say(`page.paper.${part}`));
    expect(text).toContain(say("page.caution.checked").split(" ").slice(0, 3).join(" "));
  }
  await page.reload();
  await papers(desk);
  for (const part of PARTS) expect(await page.locator(`#paper-${part}`).isChecked(), part).toBe(["reefs", "checks", "sources"].includes(part));
  await expect(page.locator("#papers-size")).toHaveValue("letter");
  await choose(desk, []);
  await expect(page.locator("#papers-told")).toHaveText(say("page.papers.none"));
  for (const id of ["print", "pdf", "csv"]) await expect(page.locator(`#papers-${id}`)).toBeDisabled();
});

test("everything of the two-master-printed-page by page has its words, none in the margin", async ({ desk, page, isMobile }) => {
  test.skip(isMobile, "paper is as large everywhere");
  await desk.openDemo("grey-heron");
  await papers(desk);
  const pdf = await printed(desk);
  const pages = boxesOf(pdf);
  expect(pages.length).toBeGreaterThan(25);
  for (const [at, words] of pages.entries()) {
    expect(words.length, `words on page ${at + 1}`).toBeGreaterThan(25);
    const out = words.filter(({ left, right, top, bottom }) => left < MARGIN || right > 595 - MARGIN || top < MARGIN - 3 || bottom > 842 - MARGIN + 3);
    expect(out, `in the margin of page ${at + 1}`).toEqual([]);
  }
  // Heads of a table that goes on over a page.
  const going = pagesOf(pdf).filter((text) => text.includes(say("sewn.low_x")));
  expect(going.length).toBeGreaterThan(2);
});

test("drawings-saved-are SVG, and PNG of 300 dots an inch in our own letters", async ({ desk, page }) => {
  await desk.openDemo();
  await papers(desk);
  const drawing = page.locator("#papers-drawing");
  await expect(drawing).toBeEnabled();
  const titles = await drawing.locator("option").allTextContents();
  expect(new Set(titles).size).toBe(titles.length);
  expect(titles[0]).toBe(say("page.paper.plan"));
  const svg = (await saved(desk, "svg")).bytes.toString();
  expect(svg).toMatch(/^<svg xmlns/);
  expect(svg).toContain("Marsh Pippin");
  const png = await saved(desk, "png");
  expect(png.name).toMatch(/\.png$/);
  expect([png.bytes.readUInt32BE(16), png.bytes.readUInt32BE(20)]).toEqual([WIDE, Math.round((860 * 300) / 96)]);
  // Its letters against the same drawing without ours, and with none at all.
  const [dark, others] = await page.evaluate(
    async ([bytes, drawn]) => {
      /** @param {Blob} blob @param {number} width @param {number} height */
      const dots = async (blob, width, height) => {
        const address = URL.createObjectURL(blob);
        const image = new Image();
        image.src = address;
        await image.decode();
        const pen = new OffscreenCanvas(width, height).getContext("2d");
        if (!pen) throw new Error("no canvas");
        pen.fillStyle = "#fff";
        pen.fillRect(0, 0, width, height);
        pen.drawImage(image, 0, 0, width, height);
        URL.revokeObjectURL(address);
        const { data } = pen.getImageData(0, 0, width, height);
        return Array.from({ length: width * height }, (_, at) => ((data[4 * at + 1] ?? 255) < 90 ? 1 : 0));
      };
      const of = new Blob([Uint8Array.from(atob(bytes), (letter) => letter.charCodeAt(0))], { type: "image/png" });
      const image = await createImageBitmap(of);
      const [mine, plain, bare] = await Promise.all([dots(of, image.width, image.height), ...[drawn, drawn.replace(/<text.*?<\/text>/g, "")].map((text) => dots(new Blob([text], { type: "image/svg+xml" }), image.width, image.height))]);
      const count = (/** @type {number[]} */ list) => list.reduce((sum, dot) => sum + dot, 0);
      const differ = (/** @type {number[]} */ list) => list.reduce((sum, dot, at) => sum + Math.abs(dot - (mine?.[at] ?? 0)), 0);
      return [[count(mine ?? []), count(bare ?? [])], [differ(plain ?? []), differ(bare ?? [])]];
    },
    [png.bytes.toString("base64"), svg],
  );
  expect(dark?.[1], "lines").toBeGreaterThan(20_000);
  expect(dark?.[0], "letters beside lines").toBeGreaterThan((dark?.[1] ?? 0) + 5_000);
  expect(others?.[0], "another face").toBeGreaterThan(5_000);
});

test("tables-saved-are one file of a part or several in one, and no name is a formula", async ({ desk, page }) => {
  await desk.openDemo("grey-heron");
  await desk.section("boat");
  await desk.type(desk.field("name").nth(1), "=SUM(A1)");
  await papers(desk);
  await choose(desk, ["reefs"]);
  const one = await saved(desk, "csv");
  expect(one.name).toMatch(/^grey-heron-.*\.csv$/);
  await choose(desk, ["reefs", "lines", "spars", "cloth", "checks"]);
  const all = await saved(desk, "csv");
  expect(all.name).toBe("grey-heron.zip");
  for (const text of [one.bytes.toString(), all.bytes.toString()]) {
    expect(text).toContain("=SUM(A1)");
    expect(text.split(/\r?\n/).filter((row) => /(^|,)"?[=@+]/.test(row)), "text like a formula").toEqual([]);
  }
  await choose(desk, ["plan"]);
  await desk.tap(page.locator("#papers-csv"));
  await expect(page.locator("#papers-told")).toHaveText(say("page.papers.no_tables"));
});

test("telephone with a sheet of its own-takes the files that it takes, the others are saved", async ({ desk, page, isMobile }) => {
  await page.addInitScript(() => {
    const state = /** @type {any} */ (window);
    state.shared = [];
    state.refuses = "";
    Object.assign(navigator, {
      canShare: (/** @type {{ files: File[] }} */ { files }) => files.every(({ type }) => type === "application/pdf" || type === "image/png"),
      share: async (/** @type {{ files: File[] }} */ { files }) => {
        if (state.refuses) throw new DOMException("", state.refuses);
        for (const file of files) state.shared.push([file.name, file.type, file.size > 1000]);
      },
    });
  });
  await desk.openDemo("saltwort");
  await papers(desk);
  await choose(desk, ["plan"]);
  const shared = () => page.evaluate(() => /** @type {any} */ (window).shared);
  const refuse = (/** @type {string} */ name) => page.evaluate((why) => Object.assign(window, { refuses: why }), name);
  await expect(page.locator("#papers-drawing")).toBeEnabled();
  if (!isMobile) {
    // A desk has folders. Asked for in the breath after a tick it comes as well.
    expect((await saved(desk, "pdf")).name).toBe("saltwort.pdf");
    const coming = page.waitForEvent("download");
    await page.evaluate(() => {
      // As on a slow machine.
      const post = Worker.prototype.postMessage;
      Worker.prototype.postMessage = function (/** @type {any} */ message) {
        setTimeout(() => post.call(this, message), 800);
      };
      for (const id of ["paper-plan", "paper-reefs", "papers-pdf"]) document.getElementById(id)?.click();
    });
    expect((await coming).suggestedFilename()).toBe("saltwort.pdf");
    await expect(page.locator("#papers-told")).toContainText("saltwort.pdf");
    expect(await shared()).toEqual([]);
    return;
  }
  await desk.tap(page.locator("#papers-pdf"));
  await expect.poll(shared).toEqual([["saltwort.pdf", "application/pdf", true]]);
  await desk.tap(page.locator("#papers-png"));
  await expect.poll(async () => (await shared()).length).toBe(2);
  expect((await shared())[1]).toEqual([expect.stringMatching(/^saltwort-.*\.png$/), "image/png", true]);
  expect((await saved(desk, "svg")).name).toMatch(/\.svg$/);
  // What the browser does not let us is saved; what was thought better of is not.
  await refuse("NotAllowedError");
  expect((await saved(desk, "pdf")).name).toBe("saltwort.pdf");
  await refuse("AbortError");
  let downloads = 0;
  page.on("download", () => (downloads += 1));
  await desk.tap(page.locator("#papers-pdf"));
  await expect(page.locator("#papers-told")).toContainText("saltwort.pdf");
  await page.evaluate(() => new Promise((next) => setTimeout(next, 300)));
  expect(downloads).toBe(0);
});

for (const scheme of /** @type {const} */ (["light", "dark"])) {
  test(`sheet-${scheme}-is clean for readers, reached by keyboard, wide enough for a thumb`, async ({ desk, page }) => {
    await page.emulateMedia({ colorScheme: scheme });
    await desk.openDemo("saltwort");
    if (desk.touch) await page.setViewportSize({ width: 360, height: 740 });
    const workshop = page.getByRole("button", { name: say("page.workshop"), exact: true });
    await workshop.focus();
    await page.keyboard.press("Enter");
    await page.locator("#papers-open").focus();
    await page.keyboard.press("Enter");
    const sheet = sheetOf(page);
    await expect(page.locator("#papers-drawing")).toBeEnabled();
    for (let press = 0; press < 20; press += 1) {
      if (await page.locator("#paper-cloth").evaluate((tick) => tick === document.activeElement)) break;
      await page.keyboard.press("Tab");
    }
    await expect(page.locator("#paper-cloth")).toBeFocused();
    await page.keyboard.press("Space");
    await expect(page.locator("#paper-cloth")).not.toBeChecked();
    const { violations } = await new AxeBuilder({ page }).include("#papers").analyze();
    expect(violations.map(({ id, nodes }) => [id, nodes.map(({ html }) => html)])).toEqual([]);
    const small = await sheet.locator("button, select, label:has(input)").evaluateAll((found) => found.filter((one) => one.getBoundingClientRect().height < 43.5).map((one) => one.outerHTML.slice(0, 120)));
    expect(small).toEqual([]);
    expect(await beyond(page)).toEqual([]);
    await page.keyboard.press("Escape");
    await expect(sheet).toBeHidden();
  });
}

test.describe("kept by the service worker", () => {
  test.use({ serviceWorkers: "allow", language: "en" });

  test("papers-without network-are made all the same", async ({ desk }) => {
    await desk.openWithoutNetwork();
    await papers(desk);
    expect((await saved(desk, "pdf")).bytes.subarray(0, 5).toString()).toBe("%PDF-");
    expect((await saved(desk, "png")).bytes.readUInt32BE(16)).toBe(WIDE);
  });
});
