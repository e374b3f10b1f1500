/**
 * The page as a user knows it: fields by their labels, handles by their names, projects by what is stored.
 * @module
 */
import { expect } from "@playwright/test";
import { Hand } from "./hands.js";
import { say } from "./words.js";

/** @typedef {import("@playwright/test").Page} Page */
/** @typedef {import("@playwright/test").Locator} Locator */
/** @typedef {{ id: string, raw: string, name: string, saved: string, text: string }} Stored */

export const PREFIX = "battenwright.project.";

/** Waits until the service worker has all it needs and answers for a page. @param {import("@playwright/test").Page} page */
export async function kept(page) {
  await page.evaluate(() => navigator.serviceWorker.ready);
  await expect.poll(() => page.evaluate(() => navigator.serviceWorker.controller?.state)).toBe("activated");
}

/** The demos by their keys and the names of their boats. */
export const DEMOS = { saltwort: "Saltwort", "marsh-pippin": "Marsh Pippin", "grey-heron": "Grey Heron" };

export class Desk {
  /** @param {Page} page @param {boolean} touch */
  constructor(page, touch) {
    this.page = page;
    this.touch = touch;
  }

  /** Taps a place of the window. @param {number} x @param {number} y */
  async tapAt(x, y) {
    if (this.touch) await this.page.touchscreen.tap(x, y);
    else await this.page.mouse.click(x, y);
  }

  /** Taps or clicks, as the device has it. @param {Locator} target */
  async tap(target) {
    if (this.touch) await target.tap();
    else await target.click();
  }

  hand() {
    return new Hand(this.page, this.touch);
  }

  /** Opens the page and waits for the workbench: the handles come from it alone. @param {string} [address] */
  async open(address = "./") {
    await this.page.goto(address);
    await this.ready();
  }

  /** Waits until the page is kept, and cuts the network. */
  async goOffline() {
    await kept(this.page);
    await this.page.context().setOffline(true);
  }

  /** Opens the page, and opens it again without network. */
  async openWithoutNetwork() {
    await this.open();
    await this.goOffline();
    await this.page.reload();
    await this.ready();
  }

  async ready() {
    await expect(this.handle("clew")).toBeVisible();
  }

  /** Opens the page and begins a project from a demo. @param {keyof typeof DEMOS} [demo] */
  async openDemo(demo = "marsh-pippin") {
    await this.open();
    await this.newFromDemo(demo);
  }

  // --- Projects ----------------------------------------------------------------------------------

  get projects() {
    return this.page.getByRole("dialog", { name: say("page.projects"), exact: true });
  }

  async openProjects() {
    await this.tap(this.page.getByRole("banner").getByRole("button", { name: say("page.projects"), exact: true }));
    await expect(this.projects).toBeVisible();
    return this.projects;
  }

  async closeProjects() {
    await this.projects.getByRole("button", { name: say("page.close") }).click();
    await expect(this.projects).toBeHidden();
  }

  /** @param {keyof typeof DEMOS} [demo] */
  async newFromDemo(demo = "marsh-pippin") {
    const before = (await this.stored()).length;
    const dialog = await this.openProjects();
    await dialog.getByRole("button", { name: `${DEMOS[demo]} ${say(`page.demo.${demo}`)}` }).click();
    await expect(dialog).toBeHidden();
    await expect(this.page.getByRole("heading", { level: 1, name: DEMOS[demo] })).toBeVisible();
    await expect.poll(async () => (await this.stored()).length).toBe(before + 1);
    await this.ready();
  }

  async newBlank() {
    const dialog = await this.openProjects();
    await dialog.getByRole("button", { name: `${say("page.projects.blank")} ${say("page.projects.blank_says")}` }).click();
    await expect(dialog).toBeHidden();
  }

  /** A line of the list of projects. @param {string} name */
  line(name) {
    return this.projects.getByRole("listitem").filter({ has: this.page.getByText(name, { exact: true }) });
  }

  /** Opens the buttons of a project in the list. @param {string} name @returns {Promise<Locator>} its line */
  async more(name) {
    await this.projects.getByRole("button", { name: say("page.projects.more", { name }), exact: true }).click();
    return this.line(name);
  }

  /** What is stored, newest first. @returns {Promise<Stored[]>} */
  async stored() {
    const found = await this.page.evaluate((prefix) => {
      const keys = Object.keys(localStorage).filter((key) => key.startsWith(prefix));
      return keys.map((key) => ({ id: key.slice(prefix.length), raw: localStorage.getItem(key) ?? "" }));
    }, PREFIX);
    return found
      .map(({ id, raw }) => {
        try {
          const { name, saved, text } = JSON.parse(raw);
          return { id, raw, name, saved, text };
        } catch {
          return { id, raw, name: "", saved: "", text: "" };
        }
      })
      .sort((a, b) => String(b.saved).localeCompare(String(a.saved)));
  }

  /** The one project that is stored. */
  async only() {
    const all = await this.stored();
    expect(all, "projects stored").toHaveLength(1);
    return /** @type {Stored} */ (all[0]);
  }

  /** The stored text of the only project. */
  async text() {
    return (await this.only()).text;
  }

  /** The stored design of the only project. @returns {Promise<any>} */
  async design() {
    return JSON.parse(await this.text());
  }

  /** Saves what a click offers as a file. @param {() => Promise<unknown>} click @returns {Promise<{ name: string, text: string }>} */
  async download(click) {
    const coming = this.page.waitForEvent("download");
    await click();
    const download = await coming;
    const stream = await download.createReadStream();
    const parts = [];
    for await (const part of stream) parts.push(part);
    return { name: download.suggestedFilename(), text: Buffer.concat(parts).toString("utf8") };
  }

  // --- Sections and fields -------------------------------------------------------------------------

  /** @param {"boat" | "sail" | "reefs" | "balance" | "lines" | "spars" | "cloth"} name */
  async section(name) {
    const tab = this.page.getByRole("tab", { name: say(`page.section.${name}`), exact: true });
    await this.tap(tab);
    await expect(tab).toHaveAttribute("aria-selected", "true");
    // What stands in it comes with the next frame.
    await this.page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));
  }

  /** Unfolds a group of fields. @param {string} key */
  async unfold(key) {
    const group = this.page.getByRole("tabpanel").locator("details").filter({ has: this.page.getByRole("heading", { name: say(`page.group.${key}`), exact: true }) });
    if ((await group.getAttribute("open")) === null) await group.locator("summary").click();
  }

  /** A text field by its label. @param {string} key of the catalogue: `label.<key>` */
  field(key) {
    return this.page.getByRole("tabpanel").getByRole("textbox", { name: say(`label.${key}`), exact: true });
  }

  /** Types into a field as a user does, and commits. @param {Locator} field @param {string} typed */
  async type(field, typed) {
    await field.fill(typed);
    await field.press("Enter");
  }

  /** The sentence under a field, or nothing. @param {Locator} field */
  problemOf(field) {
    return field.locator("xpath=ancestor::*[@data-path]").locator(".problem");
  }

  /** One of the numbers that matter now, as shown. @param {number} at */
  figure(at) {
    return this.page.getByRole("group", { name: say("page.headline") }).getByRole("button").nth(at).locator("strong");
  }

  // --- Drawing -------------------------------------------------------------------------------------

  get canvas() {
    return this.page.locator("#canvas");
  }

  /** @param {"clew" | "head" | "peak" | "balance" | "hoist"} id */
  handle(id) {
    return this.page.getByRole("slider", { name: say(`handle.${id}`), exact: true });
  }

  /** Where a handle lies. @param {"clew" | "head" | "peak" | "balance" | "hoist"} id */
  async place(id) {
    return middle(this.handle(id));
  }

  /** @param {Locator} slider */
  async value(slider) {
    return Number(await slider.getAttribute("aria-valuenow"));
  }

  get hoist() {
    return this.page.getByRole("slider", { name: say("page.hoist") });
  }

  get reading() {
    return this.page.locator("#reading");
  }

  /** A checksum of the ink on the canvas, taken from a copy: reading slows a canvas down for good. */
  async ink() {
    return this.canvas.evaluate((element) => {
      const canvas = /** @type {HTMLCanvasElement} */ (element);
      const copy = new OffscreenCanvas(canvas.width, canvas.height).getContext("2d", { willReadFrequently: true });
      copy?.drawImage(canvas, 0, 0);
      const ink = new Int32Array(copy?.getImageData(0, 0, canvas.width, canvas.height).data.buffer ?? new ArrayBuffer(0));
      let sum = 0;
      for (let at = 0; at < ink.length; at += 1) sum = (Math.imul(sum, 31) + (ink[at] ?? 0)) | 0;
      return sum;
    });
  }

  // --- Undo ----------------------------------------------------------------------------------------

  get undo() {
    return this.page.getByRole("button", { name: say("page.undo"), exact: true });
  }

  get redo() {
    return this.page.getByRole("button", { name: say("page.redo"), exact: true });
  }

  /** A notice of the page by its words. @param {string} key @param {Record<string, string | number>} [places] */
  notice(key, places) {
    return this.page.locator(".notice").filter({ hasText: say(key, places) });
  }
}

/** The middle of what a locator finds. @param {Locator} locator */
export async function middle(locator) {
  const box = await locator.boundingBox();
  if (!box) throw new Error("nothing to be seen there");
  return { x: box.x + box.width / 2, y: box.y + box.height / 2 };
}
