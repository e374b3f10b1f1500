/**
 * What every journey stands on: a test that also fails when the page asks anything off its origin, breaks
 * its own Content-Security-Policy, leaves a word on the console, or shows a key in place of its words. On
 * the phone the page speaks a made-up language 40 % longer than English, and nothing may stick out sideways.
 * @module
 */
import { test as base, expect } from "@playwright/test";
import { Desk } from "./desk.js";
import { LONGER, catalogue, german, keyFamilies, longerWords, speak } from "./words.js";

/** @typedef {import("@playwright/test").BrowserContext} BrowserContext */
/** @typedef {import("@playwright/test").Page} Page */

/** Listens to everything that happens in the browser contexts of one journey. */
export class Watch {
  /** @type {string[]} */
  #faults = [];
  /** @type {RegExp[]} */
  #expected = [];
  /** Every address asked for. @type {string[]} */
  requests = [];

  /**
   * @param {BrowserContext} context
   * @param {string} address of the site
   */
  async over(context, address) {
    const { origin } = new URL(address);
    context.on("request", (request) => {
      this.requests.push(request.url());
      // A blob's origin is that of the page which made it.
      if (new URL(request.url()).origin !== origin) this.#faults.push(`off origin: ${request.method()} ${request.url()}`);
    });
    context.on("console", (message) => {
      if (message.type() === "error" || message.type() === "warning") this.#faults.push(`console ${message.type()}: ${message.text()}`);
    });
    context.on("weberror", (fault) => this.#faults.push(`uncaught: ${fault.error().stack ?? fault.error().message}`));
    await context.exposeBinding("tellPolicyViolation", (_, told) => {
      this.#faults.push(`policy: ${told}`);
    });
    await context.addInitScript(() => {
      document.addEventListener("securitypolicyviolation", (event) => {
        /** @type {any} */ (window).tellPolicyViolation(`${event.violatedDirective} ${event.blockedURI} ${event.sourceFile}:${event.lineNumber}`);
      });
    });
  }

  /** A fault this journey brings about on purpose. @param {RegExp} pattern */
  expect(pattern) {
    this.#expected.push(pattern);
  }

  get faults() {
    return this.#faults.filter((fault) => !this.#expected.some((pattern) => pattern.test(fault)));
  }
}

/**
 * Settings as a user has left them on an earlier visit.
 * @param {BrowserContext} context @param {Record<string, unknown>} settings
 */
async function settle(context, settings) {
  await context.addInitScript((given) => {
    try {
      const key = "battenwright.view";
      if (localStorage.getItem(key) === null) localStorage.setItem(key, JSON.stringify(given));
    } catch {
      // Where storage is blocked the page has its usual settings.
    }
  }, settings);
}

/** Keys shown in place of words, places left unfilled, and what sticks out sideways. @param {Page} page @returns {Promise<string[]>} */
export function blemishes(page) {
  return page.evaluate((families) => {
    const key = new RegExp(`(?<![\\w.])(${families.join("|")})\\.[a-z][\\w.-]*`);
    /** @type {string[]} */
    const found = [];
    const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_ELEMENT | NodeFilter.SHOW_TEXT);
    for (let node = walk.nextNode(); node; node = walk.nextNode()) {
      const texts =
        node instanceof Element
          ? ["aria-label", "aria-valuetext", "placeholder", "title"].map((name) => node instanceof Element && node.getAttribute(name))
          : [node.parentElement?.closest("script, style, textarea, noscript") ? "" : node.textContent];
      for (const text of texts) if (text && (key.test(text) || /\{[a-z_]+\}/.test(text))) found.push(`words missing: ${text}`);
    }
    const root = document.documentElement;
    if (root.scrollWidth > root.clientWidth) found.push(`page is ${root.scrollWidth} px wide on ${root.clientWidth}`);
    for (const dialog of document.querySelectorAll("dialog[open]"))
      if (dialog.scrollWidth > dialog.clientWidth) found.push(`dialog is ${dialog.scrollWidth} px wide on ${dialog.clientWidth}`);
    return [...new Set(found)];
  }, keyFamilies);
}

/**
 * @typedef {object} Company
 * @property {Watch} watch
 * @property {Desk} desk the page object of the first window
 * @property {"" | "en" | "de" | typeof LONGER} language what the page speaks; empty: what the browser asks for
 * @property {boolean} told whether the notices of a first visit have been seen: they come when they come, and move what is below them
 */

export const test = /** @type {import("@playwright/test").TestType<import("@playwright/test").PlaywrightTestArgs & import("@playwright/test").PlaywrightTestOptions & Company, import("@playwright/test").PlaywrightWorkerArgs & import("@playwright/test").PlaywrightWorkerOptions>} */ (
  base.extend({
    language: async ({ isMobile }, use) => use(isMobile ? LONGER : "en"),
    told: [true, { option: true }],
    // Keeping the page for a time without network costs half as much again as opening it: only where it matters.
    serviceWorkers: ["block", { option: true }],
    watch: async ({}, use) => {
      const watch = new Watch();
      await use(watch);
      expect(watch.faults, "requests off origin, policy violations, console").toEqual([]);
    },
    context: async ({ context, watch, baseURL, language, told, serviceWorkers }, use) => {
      await watch.over(context, baseURL ?? "");
      if (serviceWorkers === "block") watch.expect(/Service Worker registration blocked by Playwright/);
      await settle(context, { language, offlineTold: told, keepTold: told, tourTold: told });
      speak(language === LONGER ? longerWords : language === "de" ? german : catalogue);
      if (language === LONGER) await context.route(`**/texts/${LONGER}.bin`, (route) => route.fulfill({ contentType: "application/json", body: JSON.stringify(longerWords) }));
      await use(context);
    },
    desk: async ({ page, hasTouch }, use) => {
      await use(new Desk(page, hasTouch));
      if (!page.isClosed()) expect(await blemishes(page)).toEqual([]);
    },
  })
);

export { expect };
