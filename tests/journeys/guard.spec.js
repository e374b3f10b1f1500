// The policy in the page's head, and proof that what every journey watches for would be seen.
import { blemishes, expect, test } from "../support/journey.js";

test.use({ serviceWorkers: "allow" });

test("policy-in the head-comes first and is the strict one", async ({ page, desk }) => {
  await desk.open();
  const first = await page.evaluate(() => document.head.firstElementChild?.outerHTML);
  expect(first).toBe(
    '<meta http-equiv="Content-Security-Policy" content="default-src \'none\'; script-src \'self\' \'wasm-unsafe-eval\'; style-src \'self\'; font-src \'self\'; img-src \'self\' blob:; connect-src \'self\'; worker-src \'self\'; manifest-src \'self\'; base-uri \'none\'; form-action \'none\'">',
  );
});

test("watch-page breaks its policy, asks elsewhere, errs-is told of each", async ({ page, desk, watch }) => {
  await desk.open();
  expect(watch.faults).toEqual([]);
  await page.evaluate(() => {
    const script = document.createElement("script");
    script.textContent = "1";
    document.head.append(script);
    console.warn("a warning");
    setTimeout(() => {
      throw new Error("an error");
    });
  });
  // Another origin, by the browser itself: the policy does not hold for where a window goes.
  await page.goto("http://localhost:9/").catch(() => {});
  await expect.poll(() => watch.faults.join("\n")).toMatch(/policy: script-src[\s\S]*/);
  for (const told of [/^policy: script-src/, /^console warning: a warning/, /^uncaught: Error: an error/, /^off origin: GET http:\/\/localhost:9\//]) {
    expect(watch.faults.filter((fault) => told.test(fault)), String(told)).toHaveLength(1);
    watch.expect(told);
  }
  // The browser's own word on the broken policy.
  watch.expect(/^console error: .*Content Security Policy/);
  await page.close();
});

test("watch-key in place of words, place unfilled, page too wide-is told of each", async ({ page, desk }) => {
  await desk.open();
  expect(await blemishes(page)).toEqual([]);
  const found = await page.evaluate(() => {
    for (const text of ["page.undo", "say {name} here"]) {
      const words = document.createElement("p");
      words.textContent = text;
      words.className = "planted";
      document.body.append(words);
    }
    const wide = document.createElement("div");
    wide.className = "planted";
    wide.style.width = "3000px";
    wide.style.height = "1px";
    document.documentElement.append(wide);
    return document.documentElement.scrollWidth > document.documentElement.clientWidth;
  });
  expect(found).toBe(true);
  expect((await blemishes(page)).sort()).toEqual([expect.stringMatching(/^page is \d+ px wide/), "words missing: page.undo", "words missing: say {name} here"]);
  await page.evaluate(() => document.querySelectorAll(".planted").forEach((planted) => planted.remove()));
});
