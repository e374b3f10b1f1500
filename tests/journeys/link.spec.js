// A design in a link: made, sent, looked at, saved; what is broken or hostile is told of and leaves nothing behind.
import { readdirSync, readFileSync } from "node:fs";
import { AxeBuilder } from "@axe-core/playwright";
import { Desk } from "../support/desk.js";
import { errand } from "../support/guide.js";
import { expect, test } from "../support/hosted.js";
import { dice, fragmentOf, sealed, shortIn, sourceOf } from "../support/links.js";
import { say } from "../support/words.js";

/** @typedef {import("@playwright/test").Page} Page */

/** @param {Page} page */
const shareSheet = (page) => page.getByRole("dialog", { name: say("page.link.share") });

/** The link that the page makes of what lies on the desk. @param {Desk} desk */
async function shared(desk) {
  await desk.openProjects();
  await desk.tap(desk.projects.getByRole("button", { name: say("page.link.share") }));
  await expect(shareSheet(desk.page)).toBeVisible();
  return shareSheet(desk.page).getByRole("textbox", { name: say("page.link.share") }).inputValue();
}

/** All that this browser keeps for the page. @param {Page} page */
const kept = (page) => page.evaluate(() => JSON.stringify([{ ...localStorage }, { ...sessionStorage }]));

/** The bar over a design that came by a link. @param {Page} page */
const bar = (page) => page.locator('[data-notice="look-only"]');

test.describe("in another browser", () => {
  test.use({ language: "en" });

  test("design-shared by link-is looked at, saved, and the link does not come back", async ({ desk, page, browser, host, watch }) => {
    await desk.openDemo();
    await desk.type(desk.field("chord"), "4.27");
    const text = await desk.text();
    const link = await shared(desk);
    expect(link.length).toBeLessThanOrEqual(1200);
    await expect(shareSheet(page)).toContainText(say("page.link.size", { size: link.length.toLocaleString("en-GB") }));

    const elsewhere = await browser.newContext({ serviceWorkers: "block" });
    await watch.over(elsewhere, host.address);
    const other = new Desk(await elsewhere.newPage(), desk.touch);
    const before = host.asked.length;
    await other.page.goto(link);
    await expect(bar(other.page)).toContainText(say("page.link.came", { name: "Marsh Pippin" }));
    await expect(other.page.getByRole("heading", { level: 1 })).toHaveText("Marsh Pippin");
    await expect(other.field("chord")).toHaveValue("4.27");
    await expect(other.field("chord")).not.toBeEditable();
    // The tour says nothing of what a guest cannot do.
    await errand(other, "page.tour");
    const tour = other.page.locator('[data-notice="tour"]');
    await expect(tour).toContainText(say("page.look_tour"));
    // Nor does anything lie over what it points at.
    for (const stop of ["#hoist-column", "#tabs", "#attention"]) {
      await other.tap(tour.getByRole("button", { name: say("page.tour.next") }));
      await expect(other.page.locator(stop)).toHaveClass(/shown-round/);
      const free = await other.page.locator(stop).evaluate((part) => {
        const { left, top, width } = part.getBoundingClientRect();
        return part.contains(document.elementFromPoint(left + width / 2, top + 12));
      });
      expect(free, stop).toBe(true);
    }
    await other.tap(tour.getByRole("button", { name: say("page.tour.skip") }));
    await expect(bar(other.page)).toBeVisible();
    // The reefs may be tried, the units changed.
    await other.hoist.focus();
    await other.page.keyboard.press("ArrowDown");
    await other.tap(other.page.getByRole("group", { name: say("page.units") }).getByText(say("page.units.ft"), { exact: true }));
    expect(await kept(other.page), "nothing is written").toBe("[{},{}]");
    expect(other.page.url(), "a reload shows her again").toBe(link);
    const asked = host.asked.slice(before);
    expect(asked.length).toBeGreaterThan(5);
    expect(asked.filter((path) => /#|%23/.test(path) || path.includes(link.slice(-40))), "the host hears nothing of the fragment").toEqual([]);

    await other.tap(bar(other.page).getByRole("button", { name: say("page.link.save") }));
    await expect(bar(other.page)).toBeHidden();
    await expect(other.handle("clew")).toBeVisible();
    expect(await other.text()).toBe(text);
    expect(other.page.url()).toBe(host.address);
    await other.section("boat");
    await other.type(other.field("name"), "Reed");
    await other.page.reload();
    await other.ready();
    await expect(other.page.getByRole("heading", { level: 1 })).toHaveText("Reed");
    await expect(bar(other.page)).toBeHidden();
    expect(await other.stored()).toHaveLength(1);
    await elsewhere.close();
  });

  test("link opened-then another project-is let go", async ({ desk, page, host }) => {
    await desk.openDemo("saltwort");
    const link = await shared(desk);
    await page.keyboard.press("Escape");
    // A link typed over the address of the open page.
    await page.evaluate((address) => location.assign(address), link);
    await expect(bar(page)).toBeVisible();
    await desk.openProjects();
    await desk.tap(desk.line("Saltwort").getByRole("button").first());
    await expect(bar(page)).toBeHidden();
    expect(page.url()).toBe(host.address);
    await page.reload();
    await desk.ready();
    expect(await desk.stored()).toHaveLength(1);
    // Saved twice it has a name of its own.
    await page.evaluate((address) => location.assign(address), link);
    await desk.tap(bar(page).getByRole("button", { name: say("page.link.save") }));
    await expect(page.getByRole("heading", { level: 1 })).toHaveText("Saltwort 2");
  });
});

test("links that are broken or hostile-opened or pasted-get a plain sentence and leave nothing", async ({ desk, page }) => {
  await desk.openDemo("saltwort");
  const link = await shared(desk);
  await page.keyboard.press("Escape");
  const short = shortIn(link);
  const fragment = link.slice(link.indexOf("#"));
  const before = await kept(page);
  /** @type {[string, string, string][]} */
  const bad = [
    ["cut short", fragment.slice(0, -9), say("page.link.broken")],
    ["one letter less", fragment.slice(0, 20) + fragment.slice(21), say("page.link.broken")],
    ["one letter changed", `${fragment.slice(0, 60)}${fragment[60] === "A" ? "B" : "A"}${fragment.slice(61)}`, say("page.link.broken")],
    ["no bytes", "#1.z", say("page.link.broken")],
    ["of a newer version", fragmentOf(short, "2"), say("page.link.newer")],
    ["a document of a newer version", fragmentOf(short.replace(/^1/, "7")), say("problem.newer_version", { version: "7", known: "1" })],
    ["a leaf that is not known", fragmentOf("1??1"), say("page.link.newer")],
    ["too long", `#1.${"A".repeat(70_000)}z`, say("page.link.long")],
    ["a bomb", fragmentOf("1".repeat(40_000_000)), say("page.link.long")],
    ["a million panels", fragmentOf(`1"masts"[("sail"("panels"[${"1,".repeat(400_000)}1]))]`), say("page.link.long")],
    ["nested without end", fragmentOf(`1"a"${"[".repeat(400_000)}`), say("page.link.newer")],
    ["no document", fragmentOf(`${short}TO7`), say("problem.want_words", { label: say("label.name") })],
  ];
  for (const [what, hostile, told] of bad) {
    await page.evaluate((given) => location.assign(given), hostile);
    const notice = page.locator('[data-notice="link"]');
    await expect(notice, what).toContainText(told);
    await expect.poll(() => page.evaluate(() => location.hash), what).toBe("");
    await desk.tap(notice.getByRole("button", { name: say("page.put_away") }));
    await expect(notice).toBeHidden();
    expect(await kept(page), what).toBe(before);
    await expect(page.getByRole("heading", { level: 1 })).toHaveText("Saltwort");
  }
  await desk.openProjects();
  const field = desk.projects.getByRole("textbox", { name: say("page.link.pasted") });
  for (const [what, hostile, told] of [...bad.filter(([, given]) => given.length < 5000), ["no link", "boat.json", say("page.link.none")]]) {
    await field.fill(hostile ?? "");
    await field.press("Enter");
    await expect(desk.projects.getByRole("status"), what).toHaveText(told ?? "");
  }
  expect(await kept(page)).toBe(before);
  // Opened by such a link, the page shows what it would without.
  await desk.closeProjects();
  await page.goto("about:blank");
  await page.goto(`./${fragment.slice(0, -9)}`);
  await desk.ready();
  await expect(page.locator('[data-notice="link"]')).toContainText(say("page.link.broken"));
  await expect(page.getByRole("heading", { level: 1 })).toHaveText("Saltwort");
});

test("markup and keys of the language itself-in a link-are letters, and come through", async ({ desk, page }) => {
  const name = '<img src=x onerror="document.title=1">';
  await page.goto(`./${fragmentOf(`1TO${JSON.stringify(name)}"__proto__"("polluted"*)"constructor"("prototype"("polluted"*))`)}`);
  await expect(page.getByRole("heading", { level: 1 })).toHaveText(name);
  await expect(bar(page)).toContainText(name);
  expect(await page.evaluate(() => [document.querySelectorAll("[src=x], [onerror]").length, /** @type {any} */ ({}).polluted, document.title])).toEqual([0, undefined, "Battenwright"]);
  await desk.tap(bar(page).getByRole("button", { name: say("page.link.save") }));
  await expect(bar(page)).toBeHidden();
  expect((await desk.only()).text).toContain('"__proto__":{"polluted":true}');
});

test("paste field-by keyboard-takes a whole address, a fragment alone, and what a message made of it", async ({ desk, page }) => {
  await desk.openDemo("grey-heron");
  const link = await shared(desk);
  await page.keyboard.press("Escape");
  for (const given of [link, link.slice(link.indexOf("#")), `  ${link.replace(/.{60}/g, "$&\n")} `, `see ${link}, she reefs well`]) {
    await desk.openProjects();
    const field = desk.projects.getByRole("textbox", { name: say("page.link.pasted") });
    await field.fill(given);
    await page.keyboard.press("Enter");
    await expect(desk.projects).toBeHidden();
    await expect(bar(page)).toContainText(say("page.link.came", { name: "Grey Heron" }));
    await desk.openProjects();
    await desk.tap(desk.line("Grey Heron").getByRole("button").first());
    await expect(bar(page)).toBeHidden();
  }
  expect(await desk.stored()).toHaveLength(1);
});

test("share sheet-copied, sent, by ear-holds its link", async ({ desk, page, context }) => {
  await context.grantPermissions(["clipboard-read", "clipboard-write"]);
  await page.addInitScript(() => {
    /** @type {any} */ (navigator).share = async (/** @type {ShareData} */ given) => {
      /** @type {any} */ (window).sent = given;
    };
  });
  await desk.openDemo();
  const link = await shared(desk);
  const sheet = shareSheet(page);
  await desk.tap(sheet.getByRole("button", { name: say("page.link.copy") }));
  await expect(sheet.getByRole("status")).toHaveText(say("page.copied"));
  expect(await page.evaluate(() => navigator.clipboard.readText())).toBe(link);
  await desk.tap(sheet.getByRole("button", { name: say("page.link.send") }));
  expect(await page.evaluate(() => /** @type {any} */ (window).sent)).toEqual({ title: "Marsh Pippin", url: link });
  expect((await new AxeBuilder({ page }).analyze()).violations).toEqual([]);
  await page.keyboard.press("Escape");
  await page.evaluate((address) => location.assign(address), link);
  await expect(bar(page)).toBeVisible();
  for (const colorScheme of /** @type {const} */ (["light", "dark"])) {
    await page.emulateMedia({ colorScheme });
    expect((await new AxeBuilder({ page }).analyze()).violations).toEqual([]);
  }
});

/** The modules of a drawn code, as rows of # and . @param {import("@playwright/test").Locator} code */
const modulesOf = (code) =>
  code.evaluate((svg) => {
    const wide = Number(svg.getAttribute("viewBox")?.split(" ")[2]);
    const rows = Array.from({ length: wide }, () => Array(wide).fill("."));
    for (const [, x, y, run] of (svg.querySelector("path")?.getAttribute("d") ?? "").matchAll(/M(\d+) (\d+)h(\d+)v1h-\d+z/g)) for (let at = 0; at < Number(run); at += 1) /** @type {string[]} */ (rows[Number(y)])[Number(x) + at] = "#";
    return rows.map((row) => row.join(""));
  });

/** The page's encoder. @type {Promise<typeof import("../../www/lean-qr.js")>} */
const encoder = import(`data:text/javascript,${encodeURIComponent(sourceOf("lean-qr.js"))}`);

/** @param {string} text */
async function encoded(text) {
  const { leanQr } = await encoder;
  const { size, get } = leanQr(text, { minCorrectionLevel: text.length > 1000 ? 0 : 1 });
  return Array.from({ length: size }, (_, y) => Array.from({ length: size }, (_, x) => (get(x, y) ? "#" : ".")).join(""));
}

test("encoder-given texts-makes the codes that another reader has read", async () => {
  const folder = new URL("../golden/codes/", import.meta.url);
  for (const name of readdirSync(folder)) {
    const [text = "", ...rows] = readFileSync(new URL(name, folder), "utf8").trim().split("\n");
    expect(await encoded(text), name).toEqual(rows);
  }
});

test("code-on screen and on paper-is the link's, half a millimetre a module, up to 1,200 characters", async ({ desk, page, host }) => {
  await desk.openDemo();
  const link = await shared(desk);
  const code = shareSheet(page).getByRole("img", { name: say("page.link.code") });
  const rows = await encoded(link);
  const quiet = (/** @type {string[]} */ drawn) => drawn.map((row) => row.slice(4, -4)).slice(4, -4);
  const drawn = await modulesOf(code);
  expect(quiet(drawn)).toEqual(rows);
  expect(drawn.length).toBe(rows.length + 8);
  expect(drawn.slice(0, 4).join("").includes("#"), "white all around").toBe(false);
  expect(await code.evaluate((svg) => [getComputedStyle(svg).fill, getComputedStyle(svg).backgroundColor])).toEqual(["rgb(0, 0, 0)", "rgb(255, 255, 255)"]);
  await page.keyboard.press("Escape");

  await page.emulateMedia({ media: "print" });
  await page.evaluate(() => dispatchEvent(new Event("beforeprint")));
  const printed = page.locator("#paper .paper-code svg");
  expect(quiet(await modulesOf(printed))).toEqual(rows);
  const box = await printed.boundingBox();
  expect((box?.width ?? 0) / (rows.length + 8) / (96 / 25.4), "mm a module").toBeCloseTo(0.5, 2);
  await page.evaluate(() => dispatchEvent(new Event("afterprint")));
  await page.emulateMedia({ media: "screen" });

  // A note that nothing makes shorter, up to the limit and beyond it.
  const short = shortIn(link);
  const roll = dice(7);
  const letters = Array.from({ length: 1100 }, () => String.fromCharCode(48 + Math.floor(roll() * 40))).join("").replaceAll("\\", "/");
  const longest = (/** @type {number} */ most) => {
    for (let length = letters.length; ; length -= 1) {
      const fragment = fragmentOf(short.replace(/Lw"[^"]*"|"note""[^"]*"/, "") + `"own""${letters.slice(0, length)}"`);
      if (host.address.length + fragment.length <= most) return fragment;
    }
  };
  for (const [most, coded] of /** @type {[number, boolean][]} */ ([[1190, true], [1400, false]])) {
    await page.evaluate((given) => location.assign(given), longest(most));
    await expect(bar(page)).toBeVisible();
    const long = await shared(desk);
    // The browser deflates a little less well, or better.
    expect(Math.abs(long.length - most)).toBeLessThan(40);
    if (coded) expect(quiet(await modulesOf(code))).toEqual(await encoded(long));
    else await expect(shareSheet(page)).toContainText(say("page.link.no_code", { most: "1,200" }));
    await expect(code).toHaveCount(coded ? 1 : 0);
    await page.keyboard.press("Escape");
  }
});

test("10,000 links-changed by chance-are refused, or are the design they were", async ({ page, desk }) => {
  test.setTimeout(180_000);
  await desk.openDemo();
  const link = await shared(desk);
  const short = shortIn(link);
  const fragment = link.slice(link.indexOf("#"));
  const roll = dice(2026);
  const pick = (/** @type {number} */ below) => Math.floor(roll() * below);
  const letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_#.%z";
  /** @type {string[]} */
  const links = [];
  for (let turn = 0; turn < 10_000; turn += 1) {
    // Half of them with a checksum that is right: only the deflated bytes or the short text are spoilt.
    if (turn % 4 === 0) {
      const bytes = Buffer.from(fragment.slice(3, -1), "base64url").subarray(4);
      for (let change = 0; change <= pick(3); change += 1) bytes[pick(bytes.length)] = pick(256);
      links.push(sealed(bytes.subarray(0, pick(5) === 0 ? pick(bytes.length) : bytes.length)));
    } else if (turn % 4 === 1) {
      const at = pick(short.length);
      links.push(fragmentOf(short.slice(0, at) + String.fromCodePoint(pick(0xd7ff)) + short.slice(at + pick(4))));
    } else {
      let text = fragment;
      for (let change = 0; change <= pick(3); change += 1) {
        const at = pick(text.length);
        text = text.slice(0, at) + letters.charAt(pick(letters.length)).repeat(pick(3)) + text.slice(at + pick(3));
      }
      links.push(text);
    }
  }
  links.push(fragmentOf("1".repeat(40_000_000)), `#1.${"A".repeat(65_000)}z`);
  // The page's own reader, in a page of nothing else.
  await page.goto("about:blank");
  await page.addScriptTag({ type: "module", content: `${sourceOf("link.js")}; window.shortOf = shortOf; window.Unread = Unread;` });
  await page.waitForFunction("window.shortOf");
  const { told, wrong } = await page.evaluate(
    async ([given, known]) => {
      const { shortOf, Unread } = /** @type {any} */ (window);
      /** @type {Record<string, number>} */
      const counts = {};
      /** @type {string[]} */
      const strange = [];
      for (const [at, one] of given.entries()) {
        let answer = "";
        try {
          const text = await shortOf(one);
          answer = text === known ? "same" : "other";
          if (text !== known && at % 4 > 1) strange.push(one);
        } catch (fault) {
          answer = fault instanceof Unread ? /** @type {Error} */ (fault).message : String(fault);
        }
        counts[answer] = (counts[answer] ?? 0) + 1;
      }
      return { told: counts, wrong: strange };
    },
    /** @type {[string[], string]} */ ([links, short]),
  );
  expect(wrong).toEqual([]);
  expect(Object.keys(told).filter((answer) => !["same", "other", "page.link.broken", "page.link.none", "page.link.newer", "page.link.long"].includes(answer))).toEqual([]);
  expect(told["page.link.broken"]).toBeGreaterThan(4000);
});

test.describe("offline", () => {
  test.use({ language: "en", serviceWorkers: "allow" });

  test("link-opened without network-is there", async ({ desk, page, context, host }) => {
    await desk.openDemo();
    const link = await shared(desk);
    await desk.goOffline();
    const elsewhere = await context.newPage();
    await elsewhere.goto(link);
    await expect(bar(elsewhere)).toContainText(say("page.link.came", { name: "Marsh Pippin" }));
    expect(host.asked.length).toBeGreaterThan(5);
  });
});
