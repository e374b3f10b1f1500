/**
 * The wasm as its starter takes it. From the service worker's cache it comes as it is, and is compiled as it comes;
 * over the line it comes packed.
 * @module
 */

/** @typedef {{ unpacked: (packed: ReadableStream<Uint8Array> | null) => Promise<Uint8Array<ArrayBuffer>> }} Unpacker */

/** Fails when the file is missing or broken. */
export async function fetchWasm() {
  const answer = await fetch("./pkg/site.bin");
  if (answer.headers.get("content-type") === "application/wasm") return answer;
  await import("./unpack.js");
  return /** @type {Unpacker} */ (/** @type {unknown} */ (self)).unpacked(answer.body);
}
