/**
 * The service worker's side of the page: ready without network, a new version, the way onto the home screen.
 * @module
 */
import { make } from "./elements.js";
import { say } from "./words.js";

/** @typedef {import("./desk.js").Desk} Desk */
/** @typedef {Event & { prompt: () => Promise<unknown> }} InstallOffer */

/** @type {InstallOffer | null} */
let offer = null;
addEventListener("beforeinstallprompt", (event) => {
  event.preventDefault();
  offer = /** @type {InstallOffer} */ (event);
});
addEventListener("appinstalled", () => {
  offer = null;
});

/** @param {Desk} desk */
export async function startOffline(desk) {
  if (!("serviceWorker" in navigator)) return;
  const { notices } = desk;
  const first = navigator.serviceWorker.controller === null;
  // Only the window that asked for the new version loads it: the others keep their work in hand.
  let asked = false;
  navigator.serviceWorker.addEventListener("controllerchange", () => {
    if (asked) location.reload();
    else if (!first) {
      notices.remove("update");
      notices.show("updated", { tone: "plain", text: () => say("page.offline.updated_elsewhere"), actions: [{ word: "page.offline.reload", run: () => location.reload() }] });
    }
  });
  /** @type {ServiceWorkerRegistration | undefined} */
  let registration;
  try {
    registration = await navigator.serviceWorker.register("./sw.js", { updateViaCache: "none" });
  } catch {
    // Not served securely, or switched off: the page works as long as there is a network.
    return;
  }

  function offerUpdate() {
    notices.show("update", {
      tone: "plain",
      text: () => say("page.offline.new_version"),
      actions: [
        {
          word: "page.offline.reload",
          run: () => {
            const waiting = registration?.waiting;
            desk.settle();
            desk.leave();
            asked = true;
            if (waiting) waiting.postMessage("take-over");
            else location.reload();
          },
        },
      ],
    });
  }
  /** @param {ServiceWorker} worker */
  function watch(worker) {
    const look = () => {
      if (worker.state === "installed" && navigator.serviceWorker.controller) offerUpdate();
      if (worker.state === "activated" && first && !desk.settings.offlineTold) {
        desk.setSettings({ offlineTold: true });
        notices.show("offline", { tone: "plain", text: () => say("page.offline.ready") });
      }
    };
    worker.addEventListener("statechange", look);
    look();
  }
  if (!registration) return;
  registration.addEventListener("updatefound", () => {
    if (registration.installing) watch(registration.installing);
  });
  const worker = registration.installing ?? registration.waiting ?? registration.active;
  if (worker) watch(worker);
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "visible") void registration?.update().catch(() => {});
  });
}

/**
 * How to keep the page like an app: a button where the browser offers it, else the steps.
 * @param {() => void} redraw
 * @returns {HTMLElement[]}
 */
export function installHelp(redraw) {
  const standing = matchMedia("(display-mode: standalone)").matches || ("standalone" in navigator && navigator.standalone === true);
  if (standing) return [];
  const heading = make("h3", { word: "page.install" });
  if (offer) {
    const button = make("button", { type: "button", class: "button", id: "install", word: "page.install.now" });
    button.addEventListener("click", async () => {
      const held = offer;
      offer = null;
      await held?.prompt();
      redraw();
    });
    return [heading, button];
  }
  const apple = /iPhone|iPad|iPod/.test(navigator.userAgent) || (navigator.platform === "MacIntel" && navigator.maxTouchPoints > 1);
  return [heading, make("p", { class: "quiet", word: apple ? "page.install.apple" : "page.install.other" })];
}
