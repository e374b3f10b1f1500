// For everyone: keyboard alone, by ear, by a thumb, in light and dark, without motion.
import { AxeBuilder } from "@axe-core/playwright";
import { expect, test } from "../support/journey.js";
import { beyond, cut, everySheet, overlaps, shortened } from "../support/room.js";
import { say } from "../support/words.js";

/** @typedef {import("@playwright/test").Page} Page */
/** @typedef {import("../support/desk.js").Desk} Desk */

const SECTIONS = /** @type {const} */ (["boat", "sail", "reefs", "balance", "lines", "spars", "cloth"]);

/** Opens every folded group of the section in sight. @param {Page} page */
const unfoldAll = (page) =>
  page.getByRole("tabpanel").evaluate((panel) => {
    for (const group of panel.querySelectorAll("details")) group.open = true;
  });

test("blank design-built by keyboard alone-ends in the table of a stored one", async ({ desk, page }) => {
  /** Presses Tab until that has the focus, as one without a mouse does. @param {import("@playwright/test").Locator} target @param {"Tab" | "Shift+Tab"} [way] */
  async function tabTo(target, way = "Tab") {
    for (let press = 0; press < 160; press += 1) {
      await page.keyboard.press(way);
      if (await target.evaluate((element) => element === document.activeElement)) return;
    }
    throw new Error("not to be reached by the keyboard");
  }
  /** @param {string} key @param {string} typed */
  async function fillIn(key, typed) {
    await tabTo(desk.field(key));
    await page.keyboard.press("Control+a");
    await page.keyboard.type(typed);
  }
  const tab = (/** @type {string} */ name) => page.getByRole("tab", { name: say(`page.section.${name}`), exact: true });

  await desk.open();
  await tabTo(page.getByRole("banner").getByRole("button", { name: say("page.projects"), exact: true }));
  await page.keyboard.press("Enter");
  await tabTo(desk.projects.getByRole("button", { name: `${say("page.projects.blank")} ${say("page.projects.blank_says")}` }));
  await page.keyboard.press("Enter");
  await expect(desk.projects).toBeHidden();
  await expect(page.getByRole("heading", { level: 1 })).toHaveText(say("page.unnamed"));

  // The boat.
  await tabTo(tab("sail"));
  await page.keyboard.press("ArrowLeft");
  await expect(tab("boat")).toBeFocused();
  await fillIn("name", "Teal");
  await fillIn("loa", "6.4");
  await fillIn("lwl", "5.6");
  await fillIn("mast_position", "1.1");
  await page.keyboard.press("Enter");

  // The sail: back to the tabs, over by an arrow, a family by arrows, a measure typed, one by a handle.
  await tabTo(tab("boat"), "Shift+Tab");
  await page.keyboard.press("ArrowRight");
  await expect(tab("sail")).toBeFocused();
  await fillIn("chord", "3.3");
  await page.keyboard.press("Enter");
  await tabTo(desk.handle("head"), "Shift+Tab");
  await page.keyboard.press("Shift+ArrowUp");
  await tabTo(desk.hoist);
  await page.keyboard.press("ArrowDown");
  await expect.poll(() => desk.value(desk.hoist)).toBe(1);

  // The reefs.
  await tabTo(tab("sail"));
  await page.keyboard.press("ArrowRight");
  await expect(tab("reefs")).toBeFocused();
  const rows = page.locator("#reef-table tr[data-state]");
  await expect(rows.nth(1)).toHaveAttribute("aria-current", "true");
  await tabTo(rows.nth(3).getByRole("button").first());
  await page.keyboard.press("Enter");
  await expect.poll(() => desk.value(desk.hoist)).toBe(3);
  await tabTo(rows.nth(3).getByRole("button").nth(1));
  await page.keyboard.press("Space");
  await expect(page.locator("#reef-table .detail-table")).toBeVisible();

  const stored = await desk.only();
  const design = JSON.parse(stored.text);
  expect(stored.name).toBe("Teal");
  expect([design.boat.loa_m, design.boat.lwl_m, design.masts[0].position_m, design.masts[0].sail.chord_m]).toEqual([6.4, 5.6, 1.1, 3.3]);
  expect(design.masts[0].sail.panel_width_m).toBeGreaterThan(0.5);
  await page.reload();
  await expect(rows).toHaveCount(7);
  await expect(page.getByRole("heading", { level: 1 })).toHaveText("Teal");
  expect((await desk.only()).raw).toBe(stored.raw);
});

test("focus-by Tab-can always be seen, and the first stop skips the drawing", async ({ desk, page }) => {
  await desk.open();
  await page.keyboard.press("Tab");
  const skip = page.getByRole("link", { name: say("page.skip") });
  await expect(skip).toBeFocused();
  await expect(skip).toBeInViewport();
  for (let press = 0; press < 14; press += 1) {
    await page.keyboard.press("Tab");
    const seen = await page.evaluate(() => {
      /** @type {Element | null} */
      let at = document.activeElement;
      const shapes = [at, at?.nextElementSibling, ...(at?.querySelectorAll("*") ?? [])];
      const marked = shapes.some((shape) => shape && getComputedStyle(shape).outlineStyle !== "none");
      const label = at?.getAttribute("aria-label") ?? at?.textContent ?? "";
      return { marked, label };
    });
    expect(seen.marked, `focus on “${seen.label.trim()}”`).toBe(true);
  }
});

test("text equivalent-while dragging silent-holds the state within 500 ms after the hand lets go", async ({ desk, page }) => {
  await desk.openDemo();
  await expect(desk.reading).not.toBeEmpty();
  await page.evaluate(() => {
    const region = document.getElementById("reading");
    const state = /** @type {any} */ (window);
    state.spoken = [];
    if (region) new MutationObserver(() => state.spoken.push(performance.now())).observe(region, { childList: true, characterData: true, subtree: true });
    for (const end of ["pointerup", "keydown"])
      addEventListener(end, () => {
        state.ended = performance.now();
        state.spoken = [];
      }, { capture: true });
  });
  const spoken = () => page.evaluate(() => /** @type {any} */ (window).spoken.length);
  /** How long after the end of the gesture the words came, ms. */
  const delay = () => page.evaluate(() => /** @type {any} */ (window).spoken[0] - /** @type {any} */ (window).ended);
  const before = await desk.reading.textContent();

  for (const which of /** @type {const} */ (["clew", "hoist"])) {
    const target = which === "clew" ? await desk.place("clew") : await desk.place("hoist");
    const hand = desk.hand();
    const moved = { x: target.x + (which === "clew" ? 20 : 0), y: target.y + (which === "clew" ? 0 : 60) };
    await page.evaluate(() => {
      /** @type {any} */ (window).spoken = [];
    });
    await hand.down(target);
    const began = Date.now();
    // Longer than the wait before speaking, so that a pause in the drag would be heard.
    for (let turn = 0; turn < 3 || Date.now() - began < 900; turn += 1) {
      await hand.along(target, moved, 4);
      await hand.along(moved, target, 4);
      await page.evaluate(() => new Promise((next) => setTimeout(next, 250)));
    }
    await hand.to(moved);
    expect(await spoken(), `words while ${which} is dragged`).toBe(0);
    await hand.up();
    await expect.poll(spoken, which).toBe(1);
    expect(await delay(), `ms until the words came, ${which}`).toBeLessThanOrEqual(500);
  }
  await desk.hoist.focus();
  await page.keyboard.press("Home");
  await page.keyboard.press("ArrowDown");
  await page.keyboard.press("ArrowDown");
  await expect.poll(spoken).toBe(1);
  expect(await delay(), "ms until the words came, keys").toBeLessThanOrEqual(500);

  // The words hold what the table holds.
  const words = (await desk.reading.textContent()) ?? "";
  expect(words).not.toBe(before);
  await desk.section("reefs");
  const row = await page.locator("#reef-table tr[aria-current] > td").allTextContents();
  const heads = await page.locator("#reef-table thead").first().locator("th").allTextContents();
  const cell = (/** @type {string} */ key) => {
    const short = /** @type {string[]} */ ([]);
    try {
      short.push(say(`page.column.${key}`));
    } catch {
      // This one goes by its label.
    }
    const at = heads.findIndex((head) => [...short, say(`label.${key}`)].some((label) => head.includes(label)));
    return row[at - 1] ?? "?";
  };
  expect(words).toMatch(/(?<![\d.])2(?![\d.])/);
  for (const key of ["area", "ce_aft", "ce_up", "yard_height"]) expect(words, key).toContain(cell(key));
});

test("row chosen-sail slides there-the words come within 500 ms of its arrival", async ({ desk, page }) => {
  await desk.openDemo();
  await desk.section("reefs");
  await expect(desk.reading).not.toBeEmpty();
  await page.evaluate(() => {
    const state = /** @type {any} */ (window);
    const times = (/** @type {string} */ id, /** @type {string} */ name, /** @type {MutationObserverInit} */ what) => {
      const element = document.getElementById(id);
      state[name] = [];
      if (element) new MutationObserver(() => state[name].push(performance.now())).observe(element, what);
    };
    times("hoist", "moved", { attributeFilter: ["aria-valuenow"] });
    times("reading", "spoken", { childList: true, characterData: true, subtree: true });
  });
  await desk.tap(page.locator("#reef-table tr[data-state]").nth(3).getByRole("button").first());
  await expect.poll(() => desk.value(desk.hoist)).toBe(3);
  await expect.poll(() => page.evaluate(() => /** @type {any} */ (window).spoken.length)).toBe(1);
  const delay = await page.evaluate(() => /** @type {any} */ (window).spoken[0] - /** @type {any} */ (window).moved.at(-1));
  expect(delay, "ms, and not before it is there").toBeGreaterThan(0);
  expect(delay, "ms").toBeLessThanOrEqual(500);
});

for (const motion of /** @type {const} */ (["reduce", "no-preference"])) {
  test(`row chosen-motion ${motion}-the sail ${motion === "reduce" ? "is there at once" : "slides there"}`, async ({ desk, page }) => {
    await page.emulateMedia({ reducedMotion: motion });
    await desk.openDemo();
    await desk.section("reefs");
    await page.evaluate(() => {
      const thumb = document.getElementById("hoist");
      const seen = /** @type {any} */ (window).places = /** @type {number[]} */ ([]);
      if (thumb) new MutationObserver(() => seen.push(Number(thumb.getAttribute("aria-valuenow")))).observe(thumb, { attributeFilter: ["aria-valuenow"] });
    });
    await desk.tap(page.locator("#reef-table tr[data-state]").nth(4).getByRole("button").first());
    await expect.poll(() => desk.value(desk.hoist)).toBe(4);
    const between = await page.evaluate(() => /** @type {any} */ (window).places.filter((/** @type {number} */ place) => place > 0 && place < 4).length);
    if (motion === "reduce") {
      expect(between).toBe(0);
      const moving = await page.evaluate(() => [...document.querySelectorAll("*")].filter((element) => {
        const { transitionDuration, animationName } = getComputedStyle(element);
        return animationName !== "none" || transitionDuration.split(",").some((time) => parseFloat(time) > 0);
      }).length);
      expect(moving, "elements with motion of their own").toBe(0);
    } else expect(between).toBeGreaterThan(0);
  });
}

/**
 * What axe finds serious or critical. The schemes differ in their colours alone, so the dark one is looked
 * at for contrast only.
 * @param {Page} page @param {"light" | "dark"} scheme
 */
async function grave(page, scheme) {
  // axe takes what lies behind a dialog for what lies before it, and loses its way in boxes that scroll.
  await page.evaluate(() => {
    const behind = document.getElementById("page");
    if (behind && document.querySelector("dialog[open]")) behind.style.display = "none";
    for (const box of /** @type {NodeListOf<HTMLElement>} */ (document.querySelectorAll("body, #sections, .scroller"))) box.style.overflow = "visible";
    // The shade at the edge of a wide table, of which axe cannot tell where it lies, everywhere and at its darkest.
    for (const box of /** @type {NodeListOf<HTMLElement>} */ (document.querySelectorAll(".scroller"))) box.style.background = "var(--rule)";
  });
  const axe = new AxeBuilder({ page }).setLegacyMode();
  if (scheme === "dark") axe.withRules(["color-contrast"]);
  const { violations, passes, incomplete } = await axe.analyze();
  await page.evaluate(() => {
    for (const changed of /** @type {NodeListOf<HTMLElement>} */ (document.querySelectorAll("#page, body, #sections, .scroller"))) changed.removeAttribute("style");
  });
  // What could not be looked at has no violations either.
  const looked = passes.find(({ id }) => id === "color-contrast");
  expect(looked?.nodes.length ?? 0, `contrasts measured; not: ${JSON.stringify(incomplete.map(({ id, nodes }) => [id, nodes.length, nodes[0]?.failureSummary]))}`).toBeGreaterThan(3);
  return violations.filter(({ impact }) => impact === "serious" || impact === "critical").map(({ id, nodes }) => `${id}: ${nodes.map(({ target }) => target.join(" ")).join("; ")}`);
}

for (const scheme of /** @type {const} */ (["light", "dark"])) {
  test(`sections-in ${scheme}-axe finds nothing serious`, async ({ desk, page }) => {
    // axe reads every style of every element, several times over.
    test.slow();
    await page.emulateMedia({ colorScheme: scheme });
    await desk.openDemo(scheme === "light" ? "marsh-pippin" : "grey-heron");
    for (const section of SECTIONS) {
      await desk.section(section);
      await unfoldAll(page);
      if (section === "reefs") await desk.tap(page.locator("#reef-table tr[data-state]").nth(1).getByRole("button").nth(1));
      if (section === "sail") {
        await desk.type(desk.field("rise"), "25");
        await desk.type(desk.field("chord"), "1,234.5");
      }
      expect(await grave(page, scheme), section).toEqual([]);
    }
  });

  test(`dialogs, notices and faults-in ${scheme}-axe finds nothing serious`, async ({ desk, page, context }) => {
    test.slow();
    await page.emulateMedia({ colorScheme: scheme });
    await desk.openDemo();
    await desk.tap(page.getByRole("button", { name: say("page.display") }));
    expect(await grave(page, scheme), "what the drawing shows").toEqual([]);
    await page.keyboard.press("Escape");
    await desk.tap(page.getByRole("button", { name: say("page.help.about", { label: say("label.chord") }) }));
    expect(await grave(page, scheme), "help").toEqual([]);
    await page.keyboard.press("Escape");
    await desk.openProjects();
    await desk.more("Marsh Pippin");
    expect(await grave(page, scheme), "projects").toEqual([]);
    await desk.closeProjects();
    const second = await context.newPage();
    await second.emulateMedia({ colorScheme: scheme });
    await second.goto("./");
    await expect(second.locator('[data-notice="look-only"]')).toBeVisible();
    expect(await grave(second, scheme), "look only").toEqual([]);
    await second.close();
    await page.evaluate(() => {
      for (const key of Object.keys(localStorage)) if (key.startsWith("battenwright.project.")) localStorage.setItem(key, "{");
    });
    await page.reload();
    await desk.openProjects();
    await desk.tap(desk.projects.locator("#project-list").getByRole("button").first());
    await expect(page.getByText(say("page.fault.half"))).toBeVisible();
    await expect(page.locator("dialog[open]"), "the list is gone").toHaveCount(0);
    expect(await grave(page, scheme), "nothing on the desk").toEqual([]);
  });
}

/** Controls in sight that a thumb could miss, and inputs that make a phone zoom. @param {Page} page @returns {Promise<string[]>} */
const small = (page) =>
  page.evaluate(() => {
    /** @type {string[]} */
    const found = [];
    const within = document.querySelector("dialog[open]") ?? document;
    for (const control of within.querySelectorAll("button, a[href], input, select, textarea, summary, [role=slider], [role=tab]")) {
      if (!control.checkVisibility({ visibilityProperty: true }) || control.matches('input[type="file"], .skip')) continue;
      // A label belongs to what a thumb may hit.
      const target = control.matches("input[type=radio], input[type=checkbox]") ? (control.closest("label") ?? control.closest(".field") ?? control) : control;
      const { width, height } = target.getBoundingClientRect();
      const name = `${control.tagName.toLowerCase()} “${control.getAttribute("aria-label") ?? (control.textContent || control.id)}”`;
      if (width < 43.9 || height < 43.9) found.push(`${name} ${Math.round(width)} x ${Math.round(height)}`);
      if (control.matches("input, select, textarea") && parseFloat(getComputedStyle(control).fontSize) < 16) found.push(`${name} lettering ${getComputedStyle(control).fontSize}`);
    }
    return found;
  });

test("controls-under a thumb-are at least 44 px, and inputs have 16 px lettering", async ({ desk, page }) => {
  await desk.openDemo("grey-heron");
  for (const section of SECTIONS) {
    await desk.section(section);
    await unfoldAll(page);
    expect(await small(page), section).toEqual([]);
  }
  await desk.section("sail");
  await desk.tap(page.getByRole("radio", { name: say("choice.family.table") }).locator("xpath=ancestor::label"));
  await expect(page.locator(".spar-table")).toBeVisible();
  expect(await small(page), "sail by the table").toEqual([]);
  await desk.tap(page.getByRole("button", { name: say("page.display") }));
  expect(await small(page), "what the drawing shows").toEqual([]);
  await page.keyboard.press("Escape");
  await desk.openProjects();
  const line = await desk.more("Grey Heron");
  expect(await small(page), "projects").toEqual([]);
  await desk.tap(line.getByRole("button", { name: say("page.projects.rename") }));
  expect(await small(page), "renaming").toEqual([]);
});

test("page-360 px wide-nothing sticks out sideways", async ({ desk, page, isMobile }) => {
  test.skip(!isMobile, "a phone's matter");
  await page.setViewportSize({ width: 360, height: 740 });
  await desk.openDemo("grey-heron");
  for (const section of SECTIONS) {
    await desk.section(section);
    await unfoldAll(page);
    expect(await beyond(page), section).toEqual([]);
  }
  await desk.section("sail");
  await desk.type(desk.field("chord"), "1,234.5");
  expect(await beyond(page), "a refusal").toEqual([]);
  await desk.tap(page.getByRole("button", { name: say("page.help.about", { label: say("label.chord") }) }));
  expect(await beyond(page), "help").toEqual([]);
  await page.keyboard.press("Escape");
  await desk.tap(page.getByRole("button", { name: say("page.display") }));
  expect(await beyond(page), "what the drawing shows").toEqual([]);
  await page.keyboard.press("Escape");
  await desk.openProjects();
  await desk.more("Grey Heron");
  expect(await beyond(page), "projects").toEqual([]);
});

test.describe("lettering twice as large", () => {
  // Longer words and larger letters both at once are asked of nobody.
  test.use({ language: "en" });

  for (const width of [390, 360]) {
    test(`lettering twice as large-${width} px wide-nothing is cut, nothing lies over anything`, async ({ desk, page, isMobile }) => {
      test.skip(!isMobile, "a phone's matter");
      await page.setViewportSize({ width, height: 844 });
      await desk.openDemo("grey-heron");
      // As where the browser is set to it: all of the page is measured by it.
      await page.evaluate(() => {
        document.documentElement.style.fontSize = `${(17 / 16) * 200}%`;
      });
      /** @param {string} where */
      async function look(where) {
        for (const [fault, find] of Object.entries({ beyond, cut, shortened, overlaps })) expect(await find(page), `${where}: ${fault}`).toEqual([]);
      }
      for (const section of SECTIONS) {
        await desk.section(section);
        await unfoldAll(page);
        await look(section);
      }
      await desk.section("sail");
      const line = await everySheet(desk, look);
      await desk.tap(line.getByRole("button", { name: say("page.projects.rename") }));
      await look("renaming");
    });
  }
});
