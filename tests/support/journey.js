/**
 * What every journey stands on: a test that also fails when the page asks anything off its origin, breaks
 * its own Content-Security-Policy, or leaves a word on the console.
 * @module
 */
import { test as base, expect } from "@playwright/test";
import { Desk } from "./desk.js";

/** @typedef {import("@playwright/test").BrowserContext} BrowserContext */

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
 * @typedef {object} Company
 * @property {Watch} watch
 * @property {Desk} desk the page object of the first window
 * @property {(context: BrowserContext, address?: string) => Promise<void>} watchOver for contexts of one's own
 */

export const test = /** @type {import("@playwright/test").TestType<import("@playwright/test").PlaywrightTestArgs & import("@playwright/test").PlaywrightTestOptions & Company, import("@playwright/test").PlaywrightWorkerArgs & import("@playwright/test").PlaywrightWorkerOptions>} */ (
  base.extend({
    watch: async ({}, use) => {
      const watch = new Watch();
      await use(watch);
      expect(watch.faults, "requests off origin, policy violations, console").toEqual([]);
    },
    context: async ({ context, watch, baseURL }, use) => {
      await watch.over(context, baseURL ?? "");
      await use(context);
    },
    desk: async ({ page, hasTouch }, use) => {
      await use(new Desk(page, hasTouch));
    },
  })
);

export { expect };
