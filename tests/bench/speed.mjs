// How fast the page is in Chromium: on this machine as it is, and with the processor slowed four times,
// which stands in for a slow phone. Each figure is the median of five runs.
//
// The arguments say what to measure: work, cloth, papers, links, drag, unpack, cache, visit. `cargo xtask bench` gives them and sets the
// variables CHROMIUM, SITE_ADDRESS (the site) and MODULE_ADDRESS (its module with doors for measuring).

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { chromium } from "@playwright/test";
import { fragmentOf, sealed, sourceOf } from "../support/links.js";

const { CHROMIUM, SITE_ADDRESS, MODULE_ADDRESS } = process.env;
assert(CHROMIUM && SITE_ADDRESS && MODULE_ADDRESS, "run me by: cargo xtask bench");

const DEMO = "marsh-pippin";
const RUNS = 5;
const PHONE = { viewport: { width: 390, height: 844 }, deviceScaleFactor: 3, hasTouch: true, isMobile: true };
const RATES = [1, 4];

const sorted = (values) => [...values].sort((a, b) => a - b);
const median = (values) => sorted(values)[Math.floor(values.length / 2)];
const share = (values, part) => sorted(values)[Math.min(values.length - 1, Math.ceil(values.length * part) - 1)];

/** One line of the answer; the aim is what we want to stay within. */
function tell(what, rate, value, unit, aim) {
  const speed = rate === 1 ? "full speed" : `slowed ${rate} times`;
  const verdict = aim === undefined ? "" : `  aim ${aim} ${unit}: ${value <= aim ? "reached" : "NOT REACHED"}`;
  console.log(`${what.padEnd(41)} ${speed.padEnd(15)} ${value.toFixed(value < 10 ? 2 : 0).padStart(8)} ${unit}${verdict}`);
}

const browser = await chromium.launch({
  executablePath: CHROMIUM,
  chromiumSandbox: false,
  args: ["--disable-gpu", "--disable-background-networking", "--disable-component-update", "--disable-sync", "--no-first-run"],
});
console.log(`Chromium ${browser.version()}, ${DEMO}, median of ${RUNS} runs`);

/** A fresh phone, its processor slowed. */
async function phone(rate) {
  const context = await browser.newContext(PHONE);
  const page = await context.newPage();
  page.on("pageerror", (fault) => {
    throw fault;
  });
  await page.addInitScript(watchPaints);
  const session = await context.newCDPSession(page);
  await session.send("Emulation.setCPUThrottlingRate", { rate });
  return { context, page, session };
}

/**
 * Runs in the page before its own scripts. Notes when the first turn of the page's work that draws on a canvas
 * is over, and for each pointer event how long it is from its delivery to the end of a frame that draws.
 */
function watchPaints() {
  const paints = { first: 0, waits: [] };
  Object.assign(window, { paints });
  let painted = false;
  let noted = false;
  for (const name of ["fill", "stroke", "fillText"]) {
    const call = CanvasRenderingContext2D.prototype[name];
    CanvasRenderingContext2D.prototype[name] = function (...given) {
      painted = true;
      if (!noted) queueMicrotask(() => (paints.first = performance.now()));
      noted = true;
      return call.apply(this, given);
    };
  }
  let moved = 0;
  // A slider counts from what it gives: a move that leaves it on the same whole degree draws nothing.
  const ofSlider = (event) => event.target instanceof HTMLInputElement;
  addEventListener("pointermove", (event) => !ofSlider(event) && (moved ||= performance.now()), { capture: true });
  addEventListener("input", () => (moved = performance.now()), { capture: true });
  const request = window.requestAnimationFrame.bind(window);
  window.requestAnimationFrame = (frame) =>
    request((time) => {
      painted = false;
      frame(time);
      if (!painted) return;
      if (moved) paints.waits.push(performance.now() - moved);
      moved = 0;
    });
}

const drawn = (page) => page.waitForFunction(() => window.paints.first > 0, undefined, { timeout: 60_000 });
const firstPaint = (page) => page.evaluate(() => window.paints.first);

// --- The numbers alone, in wasm ----------------------------------------------------------------------
/** Times of the named work [µs]. */
async function timed(rate, names, most = Infinity) {
  const { context, page } = await phone(rate);
  await page.goto(MODULE_ADDRESS);
  // The clock of a page is coarse: batches of about 100 ms.
  const times = await page.evaluate(
    async ({ demo, runs, names }) => {
      const { default: init, Speed } = await import("./pkg/site.js");
      await init({ module_or_path: "./pkg/site_bg.wasm" });
      const speed = new Speed(demo);
      const result = {};
      for (const name of names) {
        const batch = (calls) => {
          const began = performance.now();
          if (!speed.work(name, calls)) throw new Error(`no such work: ${name}`);
          return performance.now() - began;
        };
        let calls = 1;
        while (batch(calls) < 100) calls *= 2;
        result[name] = Array.from({ length: runs }, () => (1000 * batch(calls)) / calls);
      }
      return result;
    },
    { demo: DEMO, runs: Math.min(RUNS, most), names },
  );
  await context.close();
  return Object.entries(times).map(([name, micros]) => /** @type {[string, number]} */ ([name, median(micros)]));
}

async function work(rate) {
  // The account with lines and spars; the sheets at 19 sheeting angles; a mast in one case; some 1,200 masts.
  const aims = { "reef table": 5, "whole account": 2500, sweep: 3000, mast: 100, finder: 300_000 };
  const slowed = { "whole account": 10_000 };
  const names = ["sail plan", "reef table", "whole account", "account in hand", "sweep", "mast", "finder", "pose"];
  for (const [name, micros] of await timed(rate, names)) tell(name, rate, micros, "µs", (rate === 1 ? aims : slowed)[name]);
}

/** What the cloth of a sail takes, construction by construction. */
async function cloth(rate) {
  const aims = rate === 1 ? { patterns: 10, nesting: 3000, "tiled PDF": 500 } : {};
  const ways = ["flat", "cambered", "wing", "split", "bows"];
  const names = ["patterns", "tiled PDF", "nesting"].flatMap((work) => ways.map((way) => `${work} ${way}`));
  for (const [name, micros] of await timed(rate, ["ways", ...names], 3)) tell(name, rate, micros / 1000, "ms", aims[name.slice(0, name.lastIndexOf(" "))]);
}

/** The PDF of everything, of each demo. */
async function papers(rate) {
  const { context, page } = await phone(rate);
  await page.goto(MODULE_ADDRESS);
  const words = readFileSync(new URL("../../www/texts/en.json", import.meta.url), "utf8");
  const parts = ["title", "particulars", "plan", "reefs", "lines", "spars", "cloth", "checks", "sources"];
  const found = await page.evaluate(
    async ({ runs, words, parts }) => {
      const { default: init, Workbench, demo_keys, demo_text } = await import("./pkg/site.js");
      await init({ module_or_path: "./pkg/site_bg.wasm" });
      return demo_keys().map((key) => {
        const bench = new Workbench(demo_text(key), words);
        let size = 0;
        const make = () => {
          const began = performance.now();
          size = bench.dossier_pdf(parts, "a4", "1 May 2026", new Uint8Array(0)).length;
          return performance.now() - began;
        };
        make();
        const times = Array.from({ length: runs }, make);
        bench.free();
        return { key, size, times };
      });
    },
    { runs: RUNS, words, parts },
  );
  for (const { key, size, times } of found) tell(`PDF of everything, ${key}, ${Math.round(size / 1000)} KB`, rate, median(times), "ms", rate === 1 ? 500 : undefined);
  await context.close();
}

/** Links that are meant to take long. */
async function links(rate) {
  const { context, page } = await phone(rate);
  await page.goto("about:blank");
  await page.addScriptTag({ type: "module", content: `${sourceOf("link.js")}; window.shortOf = shortOf;` });
  await page.waitForFunction("window.shortOf");
  const hostile = [
    ["inflates to 40 MB", fragmentOf("1".repeat(40_000_000))],
    ["inflates to 1 MB", fragmentOf("1".repeat(1_000_000))],
    ["as long as any", `#1.${"A".repeat(65_000)}z`],
    ["deflated noise", sealed(Buffer.from(Array.from({ length: 48_000 }, (_, at) => (at * at * 2654435761) >>> 24)))],
  ];
  for (const [what, link] of hostile) {
    const times = await page.evaluate(
      async ({ link, runs }) => {
        const times = [];
        for (let run = 0; run < runs; run += 1) {
          const began = performance.now();
          await window.shortOf(link).catch(() => {});
          times.push(performance.now() - began);
        }
        return times;
      },
      { link, runs: RUNS },
    );
    tell(`link, ${what}`, rate, median(times), "ms", rate === 1 ? 50 : undefined);
  }
  await context.close();
}

// --- A handle under a finger -------------------------------------------------------------------------
const DRAG_MS = 10_000;
async function drag(rate) {
  const clew = async (page) => {
    const handle = page.locator("#drawing [role=slider]").first();
    await handle.waitFor();
    return [handle, (await handle.getAttribute("aria-label")).toLowerCase()];
  };
  await dragged(rate, clew);
  await dragged(rate, async (page) => {
    for (let panel = 0; panel < 2; panel += 1) await page.locator("#hoist").press("ArrowDown");
    // The sail comes down, and the drawing to rest.
    await page.waitForTimeout(2000);
    const [handle, label] = await clew(page);
    return [handle, `${label}, reefed`];
  });
  await dragged(rate, async (page) => {
    await page.locator("#tab-lines").click();
    const slider = page.locator("#sheeting");
    await slider.waitFor();
    // The section comes to rest, and with it what is told over it.
    await page.waitForTimeout(1000);
    await slider.evaluate((range) => range.scrollIntoView({ block: "center" }));
    await page.waitForTimeout(200);
    // Level: a slider gives a thumb that goes up to the page.
    return [slider, "sheeting angle", 0];
  });
}

/** Drags what is taken hold of about its middle. */
async function dragged(rate, take) {
  const { context, page, session } = await phone(rate);
  // The tour of a first visit lies where a finger goes.
  await context.addInitScript(() => localStorage.setItem("battenwright.view", '{"tourTold":true}'));
  await page.goto(SITE_ADDRESS);
  await drawn(page);
  const [held, label, rise = 15] = await take(page);
  const box = await held.boundingBox();
  const at = { x: box.x + box.width / 2, y: box.y + box.height / 2 };
  const runs = [];
  for (let run = 0; run < RUNS; run += 1) {
    await page.evaluate(() => (window.paints.waits.length = 0));
    const touch = (type, x, y) => session.send("Input.dispatchTouchEvent", { type, touchPoints: type === "touchEnd" ? [] : [{ x, y }] });
    await touch("touchStart", at.x, at.y);
    const began = performance.now();
    for (let now = 0; now < DRAG_MS; now = performance.now() - began) {
      const turn = (2 * Math.PI * now) / 2000;
      await touch("touchMove", at.x + 25 * Math.sin(turn), at.y + rise * Math.sin(2 * turn));
      const next = now + 1000 / 60 - (performance.now() - began);
      if (next > 0) await new Promise((done) => setTimeout(done, next));
    }
    // Back to where it began, so that every run drags the same design.
    await touch("touchMove", at.x, at.y);
    await touch("touchEnd");
    const waits = await page.evaluate(() => window.paints.waits);
    assert(waits.length > 30, `only ${waits.length} frames painted while dragging ${label}`);
    runs.push({ p50: share(waits, 0.5), p95: share(waits, 0.95), frames: waits.length });
  }
  const what = `pointer to paint, ${label}`;
  tell(`${what}, p50`, rate, median(runs.map((run) => run.p50)), "ms");
  tell(`${what}, p95`, rate, median(runs.map((run) => run.p95)), "ms", rate === 1 ? 4 : 12);
  console.log(`${"".padEnd(41)} ${"".padEnd(15)} ${String(median(runs.map((run) => run.frames))).padStart(8)} frames in ${DRAG_MS / 1000} s`);
  await context.close();
}

// --- The wasm out of its packing ---------------------------------------------------------------------
async function unpack(rate) {
  const times = [];
  for (let run = 0; run < RUNS; run += 1) {
    const { context, page } = await phone(rate);
    // Any text of the same origin: the code is as cold as on a first visit.
    await page.goto(new URL("first.js", SITE_ADDRESS).href);
    times.push(
      await page.evaluate(async () => {
        const packed = await (await fetch("./pkg/site.bin")).blob();
        await import("./unpack.js");
        const began = performance.now();
        await self.unpacked(packed.stream());
        return performance.now() - began;
      }),
    );
    await context.close();
  }
  tell("wasm unpacked, on a first visit", rate, median(times), "ms");
}

// --- From the service worker's cache -----------------------------------------------------------------
async function fromCache(rate) {
  const { context, page } = await phone(rate);
  await page.goto(SITE_ADDRESS);
  await page.evaluate(async () => {
    await navigator.serviceWorker.ready;
    while (!navigator.serviceWorker.controller) await new Promise((done) => setTimeout(done, 50));
  });
  await context.setOffline(true);
  const times = [];
  for (let run = 0; run < RUNS; run += 1) {
    // The page before must have come to rest: its work is none of the next one's start.
    await page.waitForTimeout(2000);
    await page.reload();
    await drawn(page);
    times.push(await firstPaint(page));
  }
  tell("first drawing from the cache", rate, median(times), "ms", rate === 4 ? 350 : undefined);
  await page.click("#projects-button");
  await page.click("#share-button");
  await page.waitForSelector("#share[open]");
  const link = await page.inputValue("#link");
  const opened = [];
  for (let run = 0; run < RUNS; run += 1) {
    await page.waitForTimeout(2000);
    await page.goto("about:blank");
    await page.goto(link);
    await page.waitForSelector('[data-notice="look-only"]');
    opened.push(await firstPaint(page));
  }
  tell("first drawing of a link", rate, median(opened), "ms", rate === 4 ? 500 : undefined);
  await context.close();
}

// --- A first visit over a slow line ------------------------------------------------------------------
async function firstVisit(rate) {
  const times = [];
  // One more, unmeasured: the server compresses each file once.
  for (let run = 0; run <= RUNS; run += 1) {
    const { context, page, session } = await phone(rate);
    await session.send("Network.enable");
    await session.send("Network.emulateNetworkConditions", {
      offline: false,
      latency: 150,
      downloadThroughput: 1.6e6 / 8,
      uploadThroughput: 0.75e6 / 8,
    });
    await page.goto(SITE_ADDRESS, { waitUntil: "commit" });
    await drawn(page);
    if (run > 0) times.push(await firstPaint(page));
    await context.close();
  }
  tell("first visit, 1.6 Mbit/s, 150 ms", rate, median(times), "ms", rate === 4 ? 3000 : undefined);
}

try {
  const parts = { work, cloth, papers, links, drag, unpack, cache: fromCache, visit: firstVisit };
  for (const part of process.argv.slice(2)) for (const rate of RATES) await parts[part](rate);
} finally {
  await browser.close();
}
