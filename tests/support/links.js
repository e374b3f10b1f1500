/**
 * Links taken apart and put together as the page does it, by other means: Node's own zlib.
 * @module
 */
import { readFileSync } from "node:fs";
import { deflateRawSync, inflateRawSync } from "node:zlib";

/** CRC-32 by the bit. @param {Buffer} bytes */
function crc(bytes) {
  let sum = 0xffffffff;
  for (const byte of bytes) {
    sum ^= byte;
    for (let bit = 0; bit < 8; bit += 1) sum = sum & 1 ? (sum >>> 1) ^ 0xedb88320 : sum >>> 1;
  }
  return (sum ^ 0xffffffff) >>> 0;
}

/** The fragment of deflated bytes, with the checksum they have. @param {Buffer} deflated @param {string} [version] */
export function sealed(deflated, version = "1") {
  const sum = Buffer.alloc(4);
  sum.writeUInt32BE(crc(deflated));
  return `#${version}.${Buffer.concat([sum, deflated]).toString("base64url")}z`;
}

/** The fragment of a short text. @param {string} short @param {string} [version] */
export const fragmentOf = (short, version) => sealed(deflateRawSync(Buffer.from(short), { level: 9 }), version);

/** The short text of a link. @param {string} link */
export function shortIn(link) {
  const [, coded = ""] = /#1\.([\w-]+)z$/.exec(link) ?? [];
  const bytes = Buffer.from(coded, "base64url");
  if (bytes.readUInt32BE(0) !== crc(bytes.subarray(4))) throw new Error(`a wrong checksum: ${link}`);
  return inflateRawSync(bytes.subarray(4)).toString("utf8");
}

/** The source of a script of the page. @param {string} name */
export const sourceOf = (name) => readFileSync(new URL(`../../www/${name}`, import.meta.url), "utf8");

/** Numbers below one that come the same way every time. @param {number} seed */
export function dice(seed) {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}
