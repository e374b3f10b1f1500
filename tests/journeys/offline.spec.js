// Without network, and from one version to the next.
import { Desk, kept } from "../support/desk.js";
import { expect, test } from "../support/hosted.js";
import { say } from "../support/words.js";

/** @typedef {import("@playwright/test").Page} Page */

// The made-up language is no file of the site, so it is not kept.
test.use({ language: "en", told: false, serviceWorkers: "allow" });

/** @param {Page} page */
const cacheNames = (page) => page.evaluate(() => caches.keys());

/** The version whose front page this window shows. @param {Page} page @returns {Promise<string>} */
const version = (page) => page.evaluate(() => document.querySelector('meta[name="version"]')?.getAttribute("content") ?? "");

/** Has the browser look for a new version until there is one, and says what came of it. @param {Page} page @returns {Promise<string>} */
const lookForUpdate = (page) =>
  page.evaluate(async () => {
    const registration = await navigator.serviceWorker.ready;
    /** @type {ServiceWorker | null} */
    let found = registration.waiting ?? registration.installing;
    registration.addEventListener("updatefound", () => {
      found = registration.installing;
    });
    // The browser may still be at an earlier look, which saw the version before.
    for (let look = 0; look < 20 && !found; look += 1) {
      await registration.update();
      // A look of the browser's own may have found it just before.
      found ??= registration.installing ?? registration.waiting;
    }
    const worker = found;
    if (!worker) return "none";
    while (worker.state === "installing") await new Promise((done) => worker.addEventListener("statechange", done, { once: true }));
    return worker.state;
  });

test("first visit-network off-a reload works with all it shows", async ({ desk, page, context, host, watch }) => {
  await desk.open();
  await expect(desk.notice("page.offline.ready")).toBeVisible();
  await kept(page);
  await desk.newFromDemo("saltwort");
  await context.setOffline(true);
  // The browser's own look for a new version goes past the page's network switch.
  const pageAsked = () => host.asked.filter((path) => !/\/(sw|precache|unpack)\.js$/.test(path)).length;
  const asked = pageAsked();
  await page.reload();
  await desk.ready();
  await expect(page.getByRole("heading", { level: 1 })).toHaveText("Saltwort");
  await desk.type(desk.field("chord"), "2.55");
  expect((await desk.design()).masts[0].sail.chord_m).toBe(2.55);
  // Any address of the page is answered by its front page; lettering and icons are there too.
  await desk.open("./?from=home-screen");
  await expect(desk.field("chord")).toHaveValue("2.55");
  const faces = await page.evaluate(async () => {
    await document.fonts.ready;
    return [...document.fonts].filter(({ status }) => status === "loaded").length;
  });
  expect(faces, "faces of the page's own lettering").toBe(2);
  const missing = await page.evaluate(async () => {
    const list = await (await fetch("./manifest.webmanifest")).json();
    const answers = await Promise.all([...list.icons.map((/** @type {{ src: string }} */ { src }) => src), "./texts/en.bin"].map((src) => fetch(src).then((answer) => answer.ok, () => false)));
    return answers.filter((there) => !there).length;
  });
  expect(missing).toBe(0);
  // Unpacked, so that it is compiled while it is read.
  const wasm = await page.evaluate(async () => {
    const kept = await fetch("./pkg/site.bin");
    return { type: kept.headers.get("content-type"), starts: [...new Uint8Array(await kept.arrayBuffer()).subarray(0, 4)] };
  });
  expect(wasm).toEqual({ type: "application/wasm", starts: [0, 97, 115, 109] });
  expect(pageAsked(), "requests that reached the host").toBe(asked);
  expect(watch.requests.length).toBeGreaterThan(20);
});

test.describe("without service worker", () => {
  test.use({ serviceWorkers: "block" });

  test("first visit-network off-the same reload fails", async ({ desk, page, context, watch }) => {
    watch.expect(/ERR_INTERNET_DISCONNECTED/);
    await desk.open();
    await context.setOffline(true);
    await expect(page.reload()).rejects.toThrow(/ERR_INTERNET_DISCONNECTED/);
    await page.close();
  });
});

for (const broken of ["/page.js", "/pkg/site.bin"]) {
  test(`new version-with a wrong byte in ${broken}-is not taken and the old one works on`, async ({ desk, page, context, host, watch }) => {
    await host.putOut("first");
    await desk.open();
    await kept(page);
    await desk.newFromDemo("saltwort");
    const before = await cacheNames(page);

    watch.expect(/Failed to find a valid digest|Failed to load resource|integrity/i);
    await host.putOut("second", { broken });
    expect(await lookForUpdate(page)).toBe("redundant");
    await page.reload();
    await desk.ready();
    expect(await version(page)).toBe("first");
    await expect(desk.notice("page.offline.new_version")).toBeHidden();
    await context.setOffline(true);
    await page.reload();
    await desk.ready();
    expect(await version(page)).toBe("first");
    await desk.type(desk.field("chord"), "2.55");
    expect(await cacheNames(page)).toEqual(expect.arrayContaining(before));

    // Put right, it is taken.
    await context.setOffline(false);
    await host.putOut("third");
    expect(await lookForUpdate(page)).toBe("installed");
    await desk.tap(desk.notice("page.offline.new_version").getByRole("button", { name: say("page.offline.reload") }));
    await expect.poll(() => version(page).catch(() => "")).toBe("third");
    await desk.ready();
    await expect(desk.field("chord")).toHaveValue("2.55");
  });
}

test("new version-not asked for-waits, also over reloads; asked for, only our older caches go", async ({ desk, page, host }) => {
  await host.putOut("first");
  await desk.open();
  await kept(page);
  await page.evaluate(async () => {
    await (await caches.open("neighbour-first")).put("./x", new Response("not ours"));
    await (await caches.open("battenwrights")).put("./x", new Response("not ours either"));
  });
  expect(await page.evaluate(async () => (await navigator.serviceWorker.ready).updateViaCache)).toBe("none");
  await host.putOut("second");
  expect(await lookForUpdate(page)).toBe("installed");
  await expect(desk.notice("page.offline.new_version")).toBeVisible();
  await page.reload();
  await desk.ready();
  expect(await version(page), "until the user says so").toBe("first");
  await expect(desk.notice("page.offline.new_version")).toBeVisible();
  expect((await cacheNames(page)).sort()).toEqual(["battenwright-first", "battenwright-second", "battenwrights", "neighbour-first"]);

  await desk.tap(desk.notice("page.offline.new_version").getByRole("button", { name: say("page.offline.reload") }));
  await expect.poll(() => version(page).catch(() => "")).toBe("second");
  await desk.ready();
  await expect.poll(async () => (await cacheNames(page)).sort()).toEqual(["battenwright-second", "battenwrights", "neighbour-first"]);
});

test("two windows-one takes the new version-the other's work survives", async ({ desk, page, context, host, hasTouch }) => {
  await host.putOut("first");
  await desk.open();
  await kept(page);
  await desk.newFromDemo("saltwort");
  const other = new Desk(await context.newPage(), hasTouch);
  await other.page.goto("./");
  await other.newFromDemo("marsh-pippin");
  // Work in hand: a step that can be undone, and a field half typed.
  await other.type(other.field("chord"), "4.05");
  await other.field("rise").fill("7.");

  await host.putOut("second");
  expect(await lookForUpdate(page)).toBe("installed");
  await desk.tap(desk.notice("page.offline.new_version").getByRole("button", { name: say("page.offline.reload") }));
  await expect.poll(() => version(page).catch(() => "")).toBe("second");
  await desk.ready();

  await expect(other.notice("page.offline.updated_elsewhere")).toBeVisible();
  expect(await version(other.page), "the other is not reloaded").toBe("first");
  await expect(other.field("rise")).toHaveValue("7.");
  await other.field("rise").press("End");
  await other.field("rise").pressSequentially("5");
  await other.field("rise").press("Enter");
  await other.undo.click();
  await other.undo.click();
  await expect(other.undo).toHaveAttribute("aria-disabled", "true");
  await other.redo.click();
  const stored = (await other.stored()).find(({ name }) => name === "Marsh Pippin");
  expect(JSON.parse(stored?.text ?? "{}").masts[0].sail.chord_m).toBe(4.05);
  // And when it suits: the same work in the new version.
  await other.tap(other.notice("page.offline.updated_elsewhere").getByRole("button", { name: say("page.offline.reload") }));
  await expect.poll(() => version(other.page).catch(() => "")).toBe("second");
  await other.ready();
  await expect(other.field("chord")).toHaveValue("4.05");
  await expect(other.page.getByRole("heading", { level: 1 })).toHaveText("Marsh Pippin");
});

test("page-to be kept like an app-has a whole manifest, its icons, and says how", async ({ desk, page }) => {
  await desk.open();
  const told = await page.evaluate(async () => {
    const link = /** @type {HTMLLinkElement} */ (document.querySelector('link[rel="manifest"]'));
    const manifest = await (await fetch(link.href)).json();
    const icons = await Promise.all(
      manifest.icons.map(async (/** @type {{ src: string, sizes: string }} */ { src, sizes }) => {
        const image = new Image();
        image.src = new URL(src, link.href).href;
        await image.decode();
        return { sizes, natural: `${image.naturalWidth}x${image.naturalHeight}` };
      }),
    );
    return { manifest, icons };
  });
  expect(told.manifest).toMatchObject({ name: "Battenwright", start_url: "./", scope: "./", display: "standalone" });
  for (const { sizes, natural } of told.icons) if (sizes !== "any") expect(natural).toBe(sizes);
  expect(told.icons.map(({ sizes }) => sizes)).toEqual(expect.arrayContaining(["192x192", "512x512"]));
  const dialog = await desk.openProjects();
  await expect(dialog.getByRole("heading", { name: say("page.install") })).toBeVisible();
  await expect(dialog.getByText(say("page.install.other")).or(dialog.getByRole("button", { name: say("page.install.now") }))).toBeVisible();
});
