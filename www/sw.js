/* Keeps the page for use without network. The list of files with their hashes is written when the site is
   built; a file that does not match its hash fails the install and the old version stays. */
/* global precache */
importScripts("./precache.js");

const sw = /** @type {ServiceWorkerGlobalScope} */ (/** @type {unknown} */ (self));
const { version, files } = /** @type {{ precache: { version: string, files: { url: string, integrity: string }[] } }} */ (/** @type {unknown} */ (self)).precache;

const PREFIX = "battenwright-";
const NAME = PREFIX + version;

sw.addEventListener("install", (event) => {
  event.waitUntil(shortCut(event));
  event.waitUntil(
    caches.open(NAME).then((cache) => cache.addAll(files.map(({ url, integrity }) => new Request(url, { integrity, cache: "no-cache" })))),
  );
});

sw.addEventListener("activate", (event) => {
  event.waitUntil(
    caches
      .keys()
      .then((names) => Promise.all(names.filter((name) => name.startsWith(PREFIX) && name !== NAME).map((name) => caches.delete(name))))
      .then(() => sw.clients.claim()),
  );
});

sw.addEventListener("message", (event) => {
  // Only the user's own word makes a new version take over.
  if (event.data === "take-over") void sw.skipWaiting();
});

sw.addEventListener("fetch", (event) => {
  const { request } = event;
  if (request.method !== "GET" || !request.url.startsWith(sw.registration.scope)) return;
  event.respondWith(answer(request));
});

/**
 * Where the browser can, the page and its files come straight from the cache: this script need not be woken first.
 * @param {ExtendableEvent & { addRoutes?: (routes: object[]) => Promise<void> }} event
 */
async function shortCut(event) {
  const { pathname } = new URL("./", sw.registration.scope);
  const source = { cacheName: NAME };
  try {
    await event.addRoutes?.([
      { condition: { requestMode: "navigate", urlPattern: { pathname, search: "" } }, source },
      { condition: { requestMode: "navigate" }, source: "fetch-event" },
      { condition: { requestMethod: "GET", urlPattern: { pathname: `${pathname}*`, search: "" } }, source },
    ]);
  } catch {
    // Then every request takes the way below.
  }
}

/** @type {Promise<Cache> | null} */
let opened = null;

/** @param {Request} request @returns {Promise<Response>} */
async function answer(request) {
  opened ??= caches.open(NAME).catch((fault) => {
    // The next request tries again.
    opened = null;
    throw fault;
  });
  // Without its query, by name: to ignore the query the browser would look at every entry.
  const wanted = request.mode === "navigate" ? "./" : request.url.split("?")[0] ?? "";
  return (await (await opened).match(wanted)) ?? fetch(request);
}
