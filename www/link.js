/**
 * A design in the fragment of an address, which no server is sent:
 * `#1.` base64url of (CRC-32 of the rest, deflated short text) `z`. The short text is of `design::link`; the last
 * letter is there because what marks a link in a message leaves a sign at its end out.
 * @module
 */

const VERSION = 1;
const END = "z";
/** Longest link that is looked into. */
export const MOST_LINK = 65_536;
/** Longest text that one is inflated to [bytes]. */
const MOST_INFLATED = 1_000_000;
/** Inflated at a time: 1,032 times as much at most comes of it. */
const SLICE = 512;

/** Whether a fragment is a link's, be it a good one or not. @param {string} fragment */
export const isLink = (fragment) => /^#\d+\./.test(fragment);

/** CRC-32 of ISO/IEC 3309, as gzip has it. @param {Uint8Array} bytes */
function checksum(bytes) {
  let sum = -1;
  for (const byte of bytes) {
    sum ^= byte;
    for (let bit = 0; bit < 8; bit += 1) sum = (sum >>> 1) ^ (sum & 1 && 0xedb88320);
  }
  return ~sum >>> 0;
}

/** All that a stream gives, or nothing where it is more. @param {ReadableStream<Uint8Array>} stream @param {number} [most] */
async function drained(stream, most = Infinity) {
  const reader = stream.getReader();
  /** @type {Uint8Array[]} */
  const parts = [];
  let length = 0;
  for (;;) {
    const { value } = await reader.read();
    if (!value) break;
    length += value.length;
    if (length > most) {
      void reader.cancel().catch(() => {});
      return null;
    }
    parts.push(value);
  }
  const whole = new Uint8Array(length);
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return whole;
}

/** A stream of slices: of one great piece all would be inflated before the first is read. @param {Uint8Array<ArrayBuffer>} bytes */
function sliced(bytes) {
  let at = 0;
  return new ReadableStream({
    pull(to) {
      if (at < bytes.length) to.enqueue(bytes.subarray(at, (at += SLICE)));
      else to.close();
    },
  });
}

/**
 * The link of a short text to a page.
 * @param {string} short @param {string} page
 */
export async function linkOf(short, page) {
  const deflated = await drained(sliced(new TextEncoder().encode(short)).pipeThrough(new CompressionStream("deflate-raw")));
  const bytes = new Uint8Array([0, 0, 0, 0, ...(deflated ?? [])]);
  new DataView(bytes.buffer).setUint32(0, checksum(bytes.subarray(4)));
  let letters = "";
  for (const byte of bytes) letters += String.fromCharCode(byte);
  const coded = btoa(letters).replaceAll("+", "-").replaceAll("/", "_").replaceAll("=", "");
  return `${page}#${VERSION}.${coded}${END}`;
}

/** Why a link is not opened: a key of the catalogue. */
export class Unread extends Error {}

/**
 * The short text of a link: a whole address, or its fragment alone.
 * @param {string} typed
 * @throws {Unread}
 */
export async function shortOf(typed) {
  if (typed.length > MOST_LINK) throw new Unread("page.link.long");
  // A message may have broken it over lines.
  const [, version, coded] = /^(?:[^#]*#)?(\d+)\.([\w-]*)/.exec(typed.replace(/\s/g, "")) ?? [];
  if (!version || !coded) throw new Unread("page.link.none");
  const broken = new Unread("page.link.broken");
  if (!coded.endsWith(END) || Number(version) < VERSION) throw broken;
  if (Number(version) > VERSION) throw new Unread("page.link.newer");
  const letters = coded.slice(0, -END.length);
  let inflated = null;
  try {
    const signs = atob(letters.replaceAll("-", "+").replaceAll("_", "/"));
    const bytes = new Uint8Array(signs.length);
    for (let at = 0; at < bytes.length; at += 1) bytes[at] = signs.charCodeAt(at);
    const deflated = bytes.subarray(4);
    if (new DataView(bytes.buffer).getUint32(0) !== checksum(deflated)) throw broken;
    inflated = await drained(sliced(deflated).pipeThrough(new DecompressionStream("deflate-raw")), MOST_INFLATED);
    if (inflated) return new TextDecoder("utf-8", { fatal: true }).decode(inflated);
  } catch {
    throw broken;
  }
  throw new Unread("page.link.long");
}
