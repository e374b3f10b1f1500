// Journeys at a host of their own, which hears what it is asked and can put out other versions of the site.
import { Host } from "./host.js";
import { expect, test as base } from "./journey.js";

export const test = /** @type {import("@playwright/test").TestType<import("./journey.js").Company & import("@playwright/test").PlaywrightTestArgs & import("@playwright/test").PlaywrightTestOptions & { host: Host }, import("@playwright/test").PlaywrightWorkerArgs>} */ (
  base.extend({
    host: async (/** @type {{}} */ {}, /** @type {(host: Host) => Promise<void>} */ use, /** @type {import("@playwright/test").TestInfo} */ testInfo) => {
      const host = new Host(testInfo.project.use.baseURL ?? "");
      await host.start();
      await use(host);
      await host.stop();
    },
    baseURL: async (/** @type {{ host: Host }} */ { host }, /** @type {(address: string) => Promise<void>} */ use) => use(host.address),
  })
);

export { expect };
