import { defineConfig } from "@playwright/test";

// `cargo xtask test` serves the site itself and says where; alone, this starts a server of its own.
const address = process.env.SITE_ADDRESS ?? "http://127.0.0.1:4173/";

export default defineConfig({
  testDir: "journeys",
  outputDir: "results",
  reporter: "list",
  fullyParallel: true,
  workers: 2,
  forbidOnly: !!process.env.CI,
  // A busy machine may take a finger's pauses for two gestures: once more, with a trace, tells.
  retries: process.env.CI ? 2 : 0,
  timeout: 90_000,
  expect: { timeout: 15_000 },
  use: {
    baseURL: address,
    locale: "en-GB",
    trace: "on-first-retry",
    launchOptions: {
      executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
      // Chromium refuses its sandbox to root, and only our own page is opened.
      chromiumSandbox: false,
      // Nothing but the page may ask the network for anything.
      args: [
        "--disable-gpu",
        "--disable-quic",
        "--disable-background-networking",
        "--disable-component-update",
        "--disable-sync",
        "--no-first-run",
      ],
    },
  },
  projects: [
    {
      name: "phone",
      use: { viewport: { width: 390, height: 844 }, deviceScaleFactor: 3, hasTouch: true, isMobile: true },
    },
    {
      name: "desktop",
      use: { viewport: { width: 1440, height: 900 } },
    },
  ],
  webServer: process.env.SITE_ADDRESS
    ? undefined
    : { command: "cargo xtask serve --no-build 4173", url: address, cwd: "..", reuseExistingServer: true },
});
