// A photo of the boat under the sail plan, and outlines traced over it.
import { mkdtempSync, rmSync, truncateSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { AxeBuilder } from "@axe-core/playwright";
import { middle } from "../support/desk.js";
import { pinch } from "../support/hands.js";
import { expect, test } from "../support/journey.js";
import { LWL, MARK, keptPhotos, pixel, sideView } from "../support/photos.js";
import { beyond, cut, overlaps } from "../support/room.js";
import { say } from "../support/words.js";

/** @typedef {import("@playwright/test").Page} Page */
/** @typedef {import("../support/desk.js").Desk} Desk */

/** As PNG has it (ISO/IEC 15948, annex D). @param {Buffer} bytes */
function crc32(bytes) {
  let sum = ~0;
  for (const byte of bytes) {
    sum ^= byte;
    for (let bit = 0; bit < 8; bit += 1) sum = (sum >>> 1) ^ (sum & 1 ? 0xedb88320 : 0);
  }
  return ~sum >>> 0;
}

/** @param {Page} page */
const picture = (page) => page.getByRole("img", { name: say("page.photo.alt") });
/** @param {Page} page */
const sides = (page) => picture(page).evaluate((image) => [/** @type {HTMLImageElement} */ (image).naturalWidth, /** @type {HTMLImageElement} */ (image).naturalHeight]);
/** @param {Page} page */
const bar = (page) => page.getByRole("group", { name: say("page.trace.points") });
/** @param {Page} page @param {string} key */
const inBar = (page, key) => bar(page).getByRole("button", { name: say(key), exact: true });
/** @param {Page} page @param {string} name */
const traceOf = (page, name) => page.getByRole("button", { name: `${say("page.trace")}: ${name}`, exact: true });

/** Opens a demo and the group. @param {Desk} desk @param {boolean} [bare] nothing of hers is traced */
async function begin(desk, bare = false) {
  await desk.openDemo();
  await desk.section("boat");
  await desk.unfold("photo");
  await expect(traceOf(desk.page, say("page.trace.deck"))).toBeEnabled();
  for (const name of bare ? ["jib", "main", say("page.trace.profile")] : []) {
    const remove = desk.page.getByRole("button", { name: say("page.trace.remove_of", { name }) });
    await desk.tap(remove);
    await expect(remove).toHaveCount(0);
  }
}

/** @param {Desk} desk @param {{ name: string, mimeType: string, buffer: Buffer }} [file] */
async function load({ page }, file) {
  await page.locator("#photo-file").setInputFiles(file ?? { name: "side.jpg", mimeType: "image/jpeg", buffer: await sideView(page) });
}

/** Where a pixel of the picture is shown. @param {Page} page @param {[number, number]} pixel */
const shownAt = (page, pixel) =>
  picture(page).evaluate((image, [u, v]) => {
    const at = new DOMMatrix(getComputedStyle(image).transform).transformPoint({ x: u, y: v });
    const box = image.parentElement?.getBoundingClientRect();
    return { x: at.x + (box?.left ?? 0), y: at.y + (box?.top ?? 0) };
  }, pixel);

/** The bar that has come makes the drawing lower, a few frames later. @param {Page} page */
const settled = (page) => page.evaluate(() => new Promise((next) => setTimeout(() => requestAnimationFrame(() => requestAnimationFrame(next)), 50)));

/** Taps on places of the ship as the picture shows them. @param {Desk} desk @param {[number, number][]} places */
async function tapOn(desk, places) {
  await settled(desk.page);
  for (const [x, z] of places) {
    const at = await shownAt(desk.page, pixel(x, z));
    if (desk.touch) await desk.page.touchscreen.tap(at.x, at.y);
    else await desk.page.mouse.click(at.x, at.y);
  }
}

/** Loads the picture and sets it to scale and level. @param {Desk} desk @param {string} [length] */
async function setUp(desk, length = "6.2 m") {
  const { page } = desk;
  await load(desk);
  await expect(picture(page)).toBeVisible();
  await desk.tap(page.getByRole("button", { name: say("page.photo.scale"), exact: true }));
  await tapOn(desk, [[0, 0], [LWL, 0]]);
  await bar(page).getByRole("textbox", { name: say("page.photo.distance") }).fill(length);
  await desk.tap(inBar(page, "page.projects.rename_done"));
  await desk.tap(page.getByRole("button", { name: say("page.photo.level"), exact: true }));
  await tapOn(desk, [[0, 0], [LWL, 0]]);
  await desk.tap(inBar(page, "page.projects.rename_done"));
  await expect(bar(page)).toBeHidden();
}

/** Where a place on the ship is drawn, by a workbench of the journey's own. @param {Desk} desk @param {{ x: number, z: number }} place */
async function drawnAt(desk, place) {
  const text = (await desk.stored())[0]?.text ?? "";
  return desk.page.evaluate(
    async ({ text, place }) => {
      const pane = /** @type {HTMLElement} */ (document.querySelector("#canvas-pane"));
      const { left, top, width, height } = pane.getBoundingClientRect();
      const { Workbench } = await import(new URL("./main.js", location.href).href);
      const bench = new Workbench(text, "{}");
      const [scale, x, y] = bench.placed(width, height);
      bench.free();
      return { x: left + x + scale * place.x, y: top + y - scale * place.z, scale };
    },
    { text, place },
  );
}

/** The middle of the red mark as it is painted. @param {Page} page */
async function redMark(page) {
  const image = (await page.screenshot()).toString("base64");
  return page.evaluate(async (encoded) => {
    const bitmap = await createImageBitmap(new Blob([Uint8Array.from(atob(encoded), (letter) => letter.charCodeAt(0))]));
    const ink = new OffscreenCanvas(bitmap.width, bitmap.height).getContext("2d");
    ink?.drawImage(bitmap, 0, 0);
    const data = ink?.getImageData(0, 0, bitmap.width, bitmap.height).data ?? [];
    let [sum, x, y] = [0, 0, 0];
    for (let at = 0; at < data.length; at += 4)
      if ((data[at] ?? 0) > 190 && (data[at + 1] ?? 0) < 90 && (data[at + 2] ?? 0) < 90) {
        sum += 1;
        x += (at / 4) % bitmap.width;
        y += Math.floor(at / 4 / bitmap.width);
      }
    return { x: (x / sum + 0.5) / devicePixelRatio, y: (y / sum + 0.5) / devicePixelRatio };
  }, image);
}

/** @param {{ x: number, y: number }} one @param {{ x: number, y: number }} other */
const apart = (one, other) => Math.hypot(one.x - other.x, one.y - other.y);

test("photo-set to scale and level-lies under the drawing within 2 px, near and far, and after a reload", async ({ desk, page, hasTouch }) => {
  await begin(desk);
  await setUp(desk);
  const slider = page.getByRole("slider", { name: say("page.photo.opacity") });
  await slider.press("End");
  await expect(picture(page)).toHaveCSS("opacity", "1");
  const drawn = await drawnAt(desk, MARK);
  await expect.poll(async () => apart(await redMark(page), drawn)).toBeLessThan(2);

  // Nearer, the mark keeps to the drawing: so many times as far from the clew.
  const [clew, before] = [await desk.place("clew"), await shownAt(page, pixel(MARK.x, MARK.z))];
  const pane = await middle(desk.canvas);
  if (hasTouch) await pinch(page, pane, 60, 120);
  else {
    await page.mouse.move(pane.x, pane.y);
    await page.mouse.wheel(0, -300);
  }
  await expect.poll(async () => apart(await desk.place("clew"), clew)).toBeGreaterThan(10);
  const [nearClew, near] = [await desk.place("clew"), await shownAt(page, pixel(MARK.x, MARK.z))];
  const times = apart(near, nearClew) / apart(before, clew);
  expect(times).toBeGreaterThan(1.4);
  expect(Math.abs(near.x - nearClew.x - times * (before.x - clew.x))).toBeLessThan(2);
  expect(Math.abs(near.y - nearClew.y - times * (before.y - clew.y))).toBeLessThan(2);

  for (let press = 0; press < 10; press += 1) await slider.press("ArrowLeft");
  await expect(picture(page)).toHaveCSS("opacity", "0.5");
  await expect.poll(async () => (await keptPhotos(page))[0]?.opacity).toBe(50);
  await page.reload();
  await desk.ready();
  await expect(picture(page)).toBeVisible();
  await expect(picture(page)).toHaveCSS("opacity", "0.5");
  await expect.poll(async () => apart(await shownAt(page, pixel(MARK.x, MARK.z)), await drawnAt(desk, MARK))).toBeLessThan(2);

  await desk.unfold("photo");
  await desk.tap(page.getByRole("checkbox", { name: say("page.photo.show") }));
  await expect(picture(page)).toBeHidden();
});

test("photo-with its place in it, held upright-is kept small, the right way up, without its place; the design says nothing of it", async ({ desk, page }) => {
  await begin(desk);
  const before = await desk.text();
  const file = await sideView(page);
  expect(file.includes("Exif")).toBe(true);
  await load(desk, { name: "no name", mimeType: "", buffer: file });
  await expect.poll(async () => (await keptPhotos(page)).length).toBe(1);
  const [kept] = await keptPhotos(page);
  expect(kept?.text.startsWith("\xff\xd8\xff") && !kept.text.includes("Exif")).toBe(true);
  expect(await sides(page)).toEqual([1600, 1200]);
  expect(await desk.text()).toBe(before);
});

for (const type of /** @type {const} */ (["image/png", "image/webp"]))
  test(`photo-as ${type}-is taken by its first bytes, whatever its name`, async ({ desk, page, hasTouch }) => {
    test.skip(hasTouch, "the same everywhere");
    await begin(desk);
    await load(desk, { name: "side.jpg", mimeType: "image/jpeg", buffer: await sideView(page, type) });
    await expect(picture(page)).toBeVisible();
    expect(await sides(page)).toEqual([1600, 1200]);
  });

test("photo-bow to the right-is turned, so that the bow lies to the left", async ({ desk, page, hasTouch }) => {
  test.skip(hasTouch, "the same everywhere");
  await begin(desk);
  await load(desk);
  await desk.tap(page.getByRole("button", { name: say("page.photo.level"), exact: true }));
  // As if the right end were the forward one.
  await tapOn(desk, [[LWL, 0], [0, 0]]);
  await desk.tap(inBar(page, "page.projects.rename_done"));
  const [fore, aft, keel] = [await shownAt(page, pixel(LWL, 0)), await shownAt(page, pixel(0, 0)), await shownAt(page, pixel(3, -1.4))];
  expect(aft.x - fore.x).toBeGreaterThan(50);
  expect(Math.abs(aft.y - fore.y)).toBeLessThan(2);
  expect(keel.y - fore.y).toBeGreaterThan(10);
});

test("profile-traced by taps over the photo-is her outline in metres, one step to undo", async ({ desk, page }) => {
  await begin(desk, true);
  // In feet and inches: 6.2 m.
  await setUp(desk, "20' 4.09\"");
  await desk.tap(traceOf(page, say("page.trace.profile")));
  await expect(inBar(page, "page.projects.rename_done")).toBeDisabled();
  const { scale } = await drawnAt(desk, MARK);
  /** @type {[number, number][]} */
  const outline = [[0, 0], [2.5, -0.6], [3, -1.4], [4.8, -1.4], [4.8, -0.5], [LWL, 0]];
  await tapOn(desk, outline);
  await desk.tap(inBar(page, "page.projects.rename_done"));
  const { profile } = (await desk.design()).boat;
  expect(profile).toHaveLength(outline.length);
  outline.forEach(([x, z], at) => expect(Math.hypot(profile[at].x_m - x, profile[at].z_m - z) * scale, `point ${at + 1}`).toBeLessThan(2));
  await expect(traceOf(page, say("page.trace.profile"))).toBeFocused();
  await desk.tap(desk.undo);
  expect((await desk.design()).boat.profile).toBeUndefined();
  await desk.tap(desk.redo);
  expect((await desk.design()).boat.profile).toEqual(profile);

  // Again: a point dragged across the others crosses the outline, which is told at once.
  await desk.tap(traceOf(page, say("page.trace.profile")));
  await settled(page);
  const from = await shownAt(page, pixel(2.5, -0.6));
  await desk.hand().drag(from, await shownAt(page, pixel(5.8, -1.2)));
  await expect(bar(page)).toContainText(say("page.trace.crosses"));
  await desk.tap(inBar(page, "page.cancel"));
  expect((await desk.design()).boat.profile).toEqual(profile);
  await desk.tap(page.getByRole("button", { name: say("page.trace.remove_of", { name: say("page.trace.profile") }) }));
  expect((await desk.design()).boat.profile).toBeUndefined();
});

test("deck line-near by and without a photo-is traced where the fingers are, and they still zoom", async ({ desk, page, hasTouch }) => {
  await begin(desk);
  await desk.tap(traceOf(page, say("page.trace.deck")));
  await settled(page);
  const pane = await middle(desk.canvas);
  const tapped = [{ x: pane.x - 80, y: pane.y + 20 }, { x: pane.x, y: pane.y + 40 }, { x: pane.x + 70, y: pane.y + 30 }];
  for (const at of tapped) {
    if (hasTouch) await page.touchscreen.tap(at.x, at.y);
    else await page.mouse.click(at.x, at.y);
  }
  const point = page.getByRole("application", { name: say("page.trace.points") }).getByRole("button").first();
  const first = await middle(point);
  expect(apart(first, tapped[0] ?? pane)).toBeLessThan(1.5);
  const fore = await drawnAt(desk, { x: 0, z: 0 });
  if (hasTouch) await pinch(page, pane, 60, 150);
  else {
    await page.mouse.move(pane.x, pane.y);
    await page.mouse.wheel(0, -300);
  }
  await expect.poll(async () => apart(await middle(point), pane)).toBeGreaterThan(1.4 * apart(first, pane));
  await expect(page.getByRole("application").getByRole("button")).toHaveCount(3);
  await desk.tap(inBar(page, "page.projects.rename_done"));
  const { deck } = (await desk.design()).boat;
  tapped.forEach((at, number) => expect(apart({ x: fore.x + fore.scale * deck[number].x_m, y: fore.y - fore.scale * deck[number].z_m }, at), `point ${number + 1}`).toBeLessThan(2));
});

test("sail she has now-by keyboard alone-is set, moved, named and taken away", async ({ desk, page, hasTouch }) => {
  test.skip(hasTouch, "a phone has no such keys");
  await begin(desk, true);
  await traceOf(page, say("page.trace.sail")).press("Enter");
  await expect(inBar(page, "page.trace.add")).toBeFocused();
  for (let press = 0; press < 4; press += 1) await page.keyboard.press("Enter");
  const points = page.getByRole("application").getByRole("button");
  await expect(points).toHaveCount(4);
  await expect(points.nth(3)).toBeFocused();
  for (let press = 0; press < 5; press += 1) await page.keyboard.press("Shift+ArrowUp");
  await page.keyboard.press("ArrowLeft");
  await points.nth(1).focus();
  await page.keyboard.press("Delete");
  await expect(points).toHaveCount(3);
  await bar(page).getByRole("textbox", { name: say("page.trace.sail.name") }).fill("Old main");
  await page.keyboard.press("Enter");
  const { sails } = (await desk.design()).boat;
  expect(sails).toHaveLength(1);
  expect(sails[0].name).toBe("Old main");
  const [first, , last] = sails[0].points;
  const { scale } = await drawnAt(desk, MARK);
  expect(sails[0].points).toHaveLength(3);
  expect((last.z_m - first.z_m) * scale).toBeGreaterThan(45);
  await expect(traceOf(page, "Old main")).toBeVisible();
  await page.getByRole("button", { name: say("page.trace.remove_of", { name: "Old main" }) }).press("Enter");
  expect((await desk.design()).boat.sails).toBeUndefined();
});

test("project with a photo-exported as the user wants, imported again-brings it back", async ({ desk, page }) => {
  await begin(desk);
  await setUp(desk);
  const before = (await keptPhotos(page))[0];
  const text = await desk.text();
  await desk.openProjects();
  const button = desk.projects.getByRole("button", { name: say("page.export"), exact: true });
  const sheet = page.getByRole("dialog", { name: say("page.export"), exact: true });
  const plain = await desk.download(async () => {
    await desk.tap(button.last());
    await desk.tap(sheet.getByRole("button", { name: say("page.photo.export.without") }));
  });
  expect(plain.text).toBe(text);
  const whole = await desk.download(async () => {
    await desk.tap(button.last());
    await desk.tap(sheet.getByRole("button", { name: say("page.photo.export.with") }));
  });
  expect(JSON.parse(whole.text).text).toBe(text);
  await page.locator("#import-file").setInputFiles({ name: whole.name, mimeType: "application/json", buffer: Buffer.from(whole.text) });
  await expect(desk.projects).toBeHidden();
  await expect(page.getByRole("heading", { level: 1 })).toHaveText("Marsh Pippin 2");
  await expect(picture(page)).toBeVisible();
  const all = await keptPhotos(page);
  expect(all).toHaveLength(2);
  for (const photo of all) expect({ ...photo, id: "" }).toEqual({ ...before, id: "" });
  expect(apart(await shownAt(page, pixel(MARK.x, MARK.z)), await drawnAt(desk, MARK))).toBeLessThan(2);
});

test("project with a photo-duplicated, deleted, put back-has its photo with it", async ({ desk, page }) => {
  await begin(desk);
  await load(desk);
  await expect(picture(page)).toBeVisible();
  const { id } = await desk.only();
  await desk.openProjects();
  await desk.tap((await desk.more("Marsh Pippin")).getByRole("button", { name: say("page.projects.duplicate") }));
  await expect.poll(async () => (await keptPhotos(page)).length).toBe(2);
  await desk.tap(desk.line("Marsh Pippin").getByRole("button", { name: say("page.projects.delete") }));
  await expect.poll(async () => (await keptPhotos(page)).length).toBe(1);
  await desk.tap(desk.projects.getByRole("button", { name: say("page.undo"), exact: true }));
  await expect.poll(async () => (await keptPhotos(page)).map((photo) => photo.id)).toContain(id);
  await desk.closeProjects();
  await expect(picture(page)).toBeVisible();
  // The photo alone goes, and comes back.
  await desk.tap(page.getByRole("button", { name: say("page.photo.remove"), exact: true }));
  await expect(picture(page)).toBeHidden();
  await expect.poll(async () => (await keptPhotos(page)).length).toBe(1);
  await desk.tap(desk.notice("page.photo.removed").getByRole("button", { name: say("page.undo") }));
  await expect(picture(page)).toBeVisible();
  await expect.poll(async () => (await keptPhotos(page)).length).toBe(2);
});

test("photo-no picture, too large or broken-is refused in plain words, and nothing is lost", async ({ desk, page, hasTouch }) => {
  test.skip(hasTouch, "the same everywhere");
  await begin(desk);
  await load(desk);
  await expect(picture(page)).toBeVisible();
  const [kept] = await keptPhotos(page);
  const design = await desk.text();
  const whole = await sideView(page);
  const big = await sideView(page, "image/png");
  // The header of a PNG (ISO/IEC 15948, 11.2.2): 1,600 times 30,000 px, with its checksum.
  big.writeUInt32BE(30_000, 20);
  big.writeUInt32BE(crc32(big.subarray(12, 29)), 29);
  const folder = mkdtempSync(join(tmpdir(), "photo-"));
  const heavy = join(folder, "heavy.jpg");
  writeFileSync(heavy, whole);
  truncateSync(heavy, 50_000_001);
  const svg = '<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"><script>document.title = "ran"</script></svg>';
  /** @param {Buffer | string} content */
  const file = (content, name = "side.jpg") => ({ name, mimeType: "image/jpeg", buffer: Buffer.from(content) });
  /** @type {[string, Parameters<import("@playwright/test").Locator["setInputFiles"]>[0]][]} */
  const refused = [
    ["page.photo.other_kind", file(svg)],
    ["page.photo.other_kind", { ...file(svg, "side.svg"), mimeType: "image/svg+xml" }],
    ["page.photo.other_kind", file("")],
    ["page.photo.other_kind", file("GIF89a and more of it")],
    ["page.photo.too_large", file(big)],
    ["page.photo.too_large", heavy],
    ["page.photo.broken", file(whole.subarray(0, 20))],
    ["page.photo.broken", file(whole.subarray(0, whole.length / 2))],
    ["page.photo.broken", file(Buffer.concat([whole.subarray(0, 300), Buffer.alloc(4000, 7)]))],
  ];
  for (const [key, given] of refused) {
    await page.locator("#photo-file").setInputFiles(given);
    await expect(desk.notice(key)).toBeVisible();
    await desk.notice(key).getByRole("button", { name: say("page.put_away") }).click();
  }
  rmSync(folder, { recursive: true });
  expect(await page.title()).not.toBe("ran");
  expect(await keptPhotos(page)).toEqual([kept]);
  expect(await desk.text()).toBe(design);
  await expect(picture(page)).toBeVisible();
});

test("imported file-with what is no photo of ours-opens without it, and tells", async ({ desk, page, hasTouch }) => {
  test.skip(hasTouch, "the same everywhere");
  await begin(desk);
  const { text } = await desk.only();
  for (const photo of [7, { bytes: "%%%", place: [1, 0, 1, 0, 0] }, { bytes: Buffer.from("<svg/>").toString("base64"), place: [1, 0, 1, 0, 0] }, { bytes: (await sideView(page)).toString("base64"), place: [1, 0, "far", 0, 0] }]) {
    await page.locator("#import-file").setInputFiles({ name: "a.json", mimeType: "application/json", buffer: Buffer.from(JSON.stringify({ name: "A", saved: "", text, photo })) });
    await expect(desk.notice("page.photo.not_kept")).toBeVisible();
    await desk.notice("page.photo.not_kept").getByRole("button", { name: say("page.put_away") }).click();
  }
  expect(await keptPhotos(page)).toEqual([]);
  await expect(picture(page)).toBeHidden();
  await desk.ready();
});

test("photo-storage blocked-is told, and the photo lies there till the page goes", async ({ desk, page, hasTouch }) => {
  test.skip(hasTouch, "the same everywhere");
  await page.addInitScript(() => {
    IDBFactory.prototype.open = () => {
      throw new DOMException("The operation is insecure.", "SecurityError");
    };
  });
  await begin(desk);
  await load(desk);
  await expect(desk.notice("page.photo.not_kept")).toBeVisible();
  await expect(picture(page)).toBeVisible();
  // All the rest goes on: an export asks for no photo.
  await desk.openProjects();
  const { text } = await desk.download(() => desk.tap(desk.projects.getByRole("button", { name: say("page.export"), exact: true }).last()));
  expect(text).toBe(await desk.text());
});

test("field half typed-while the photo's own script arrives late-keeps what is in it", async ({ desk, page, hasTouch }) => {
  test.skip(hasTouch, "the same everywhere");
  /** @type {() => void} */
  let arrive = () => {};
  const arrival = new Promise((done) => (arrive = () => done(undefined)));
  await page.route("**/photo.js", async (route) => {
    await arrival;
    await route.continue();
  });
  // Not until it has loaded: it has not without that script.
  await page.goto("./", { waitUntil: "domcontentloaded" });
  await desk.ready();
  await desk.section("boat");
  await desk.field("loa").fill("7.");
  arrive();
  await expect(page.locator("#photo-file")).toBeAttached();
  await settled(page);
  await expect(desk.field("loa")).toBeFocused();
  await expect(desk.field("loa")).toHaveValue("7.");
});

test("project-looked at only-shows its photo and lets nobody trace", async ({ desk, context, hasTouch }) => {
  test.skip(hasTouch, "the same everywhere");
  await begin(desk);
  await load(desk);
  await expect(picture(desk.page)).toBeVisible();
  const other = await context.newPage();
  await other.goto("./");
  await expect(picture(other)).toBeVisible();
  await other.getByRole("tab", { name: say("page.section.boat"), exact: true }).click();
  await other.locator("[data-group=photo] summary").click();
  await expect(traceOf(other, say("page.trace.profile"))).toBeDisabled();
});

for (const scheme of /** @type {const} */ (["light", "dark"]))
  test(`photo and tracing-in ${scheme}-axe finds nothing serious, and words find room`, async ({ desk, page }) => {
    test.slow();
    await page.emulateMedia({ colorScheme: scheme });
    await begin(desk);
    await setUp(desk);
    const look = async () => {
      const { violations } = await new AxeBuilder({ page }).analyze();
      expect(violations.filter(({ impact }) => impact === "serious" || impact === "critical").map(({ id, nodes }) => `${id}: ${nodes.map(({ target }) => target.join(" ")).join("; ")}`)).toEqual([]);
      expect([...(await cut(page)), ...(await beyond(page)), ...(await overlaps(page))]).toEqual([]);
    };
    await look();
    await desk.tap(traceOf(page, say("page.trace.sail")));
    await tapOn(desk, [[0, 0], [2.5, -0.6], [5, 1]]);
    await look();
  });
