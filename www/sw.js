/* Keeps the page for use without network. The list of files with their hashes is written when the site is
   built; a file that does not match its hash fails the install and the old version stays. */
/* global precache */
importScripts("./precache.js", "./unpack.js");

const sw = /** @type {ServiceWorkerGlobalScope} */ (/** @type {unknown} */ (self));
/** @typedef {{ url: string, integrity: string }} Listed */
/** @typedef {(packed: ReadableStream<Uint8Array> | null) => Promise<Uint8Array<ArrayBuffer>>} Unpack */
/** @typedef {(packed: Uint8Array) => string} Spell */
const { precache: list, unpacked, spelled } = /** @type {{ precache: { version: string, files: Listed[] }, unpacked: Unpack, spelled: Spell }} */ (/** @type {unknown} */ (self));

const PREFIX = "battenwright-";
const NAME = PREFIX + list.version;
const WASM = "./pkg/site.bin";

sw.addEventListener("install", (event) => {
  event.waitUntil(shortCut(event));
  event.waitUntil(keep());
});

/** Fills the cache. What is packed is unpacked once for all: from here the wasm is compiled while it is read. */
async function keep() {
  const asked = new Map(list.files.map(({ url, integrity }) => [url, new Request(url, { integrity, cache: "no-cache" })]));
  /** @type {[string, Response][]} */
  const made = [];
  for (const [url, request] of asked) {
    if (!url.endsWith(".bin")) continue;
    asked.delete(url);
    const packed = await fetch(request);
    const plain = url === WASM ? await unpacked(packed.body) : JSON.stringify(spelled(new Uint8Array(await packed.arrayBuffer())));
    made.push([url, new Response(plain, { headers: { "content-type": url === WASM ? "application/wasm" : "application/json" } })]);
  }
  const cache = await caches.open(NAME);
  await cache.addAll([...asked.values()]);
  for (const [url, answer] of made) await cache.put(url, answer);
}

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
