// The page's unpacker, by Node: samples packed by `xtask`, the site's own wasm, broken and hostile files.
//
// `cargo xtask test packing` makes the samples and sets the variables: SAMPLES (their folder), SITE (the
// finished site), UNPACKED (its wasm before packing).

import assert from "node:assert/strict";
import { spawnSync } from "node:child_process";
import { readFileSync, readdirSync } from "node:fs";
import { join } from "node:path";
import { runInThisContext } from "node:vm";

const { SAMPLES, SITE, UNPACKED } = process.env;
assert(SAMPLES && SITE && UNPACKED, "run me by: cargo xtask test packing");

globalThis.self = globalThis;
runInThisContext(readFileSync(join(SITE, "unpack.js"), "utf8"));

/** Unpacks what comes in pieces of a size. */
const unpack = (packed, piece = 32_768) =>
  globalThis.unpacked(
    new ReadableStream({
      start(line) {
        for (let at = 0; at < packed.length; at += piece) line.enqueue(new Uint8Array(packed.subarray(at, at + piece)));
        line.close();
      },
    }),
  );
const sample = (name) => readFileSync(join(SAMPLES, name));
const same = async (packed, raw, piece) => assert(Buffer.from(await unpack(packed, piece)).equals(raw));
/** What it gives; null when it is refused in the unpacker's own words. */
const tried = (packed) =>
  unpack(packed).then(
    (bytes) => bytes,
    (fault) => {
      assert.match(fault.message, /broken/);
      return null;
    },
  );

const wasm = readFileSync(UNPACKED);
const site = readFileSync(join(SITE, "pkg/site.bin"));
const names = readdirSync(SAMPLES).flatMap((name) => (name.endsWith(".raw") ? [name.slice(0, -4)] : []));
assert(names.length > 6);
/** Patience with one file [ms]: a hundred times what it takes. */
const LONGEST = 5000;

const tests = {
  "the site's wasm comes out byte for byte": async () => {
    assert(WebAssembly.validate(wasm));
    for (const piece of [site.length, 16_384, 1000]) await same(site, wasm, piece);
  },
  "the words of every language come out letter for letter, and are refused when cut or longer": () => {
    const written = (name) => JSON.parse(readFileSync(new URL(`../../www/texts/${name}.json`, import.meta.url), "utf8"));
    const packed = (name) => new Uint8Array(readFileSync(join(SITE, `texts/${name}.bin`)));
    const english = written("en");
    const keys = Object.keys(english).sort();
    for (const name of readdirSync(join(SITE, "texts"), { encoding: "utf8" }).map((file) => file.replace(".bin", ""))) {
      const bytes = packed(name);
      const words = globalThis.spelled(bytes);
      const own = written(name);
      if (name === "en") for (const key of keys) assert(words.includes(english[key]), key);
      else assert.equal(words, keys.map((key) => (own[key] === english[key] ? "" : own[key])).join("\n"));
      for (const length of [0, 3, 7, 8, bytes.length >> 1, bytes.length - 1]) assert.throws(() => globalThis.spelled(bytes.subarray(0, length)), /broken/);
      assert.throws(() => globalThis.spelled(new Uint8Array([...bytes, 0])), /broken/);
    }
    assert(keys.length > 2000);
  },
  "hostile words come to an end": () => {
    for (let number = 0; number < 40; number += 1) {
      const bytes = new Uint8Array(2000).map((_, at) => (at < 4 ? [0, number % 17, 255, 255][at] : Math.imul(at + 7 * number, 0x9e3779b1) >>> 24));
      const began = performance.now();
      // As bits of chance read, they are no letters; what is longer than they reach is cut off.
      assert.throws(() => globalThis.spelled(bytes));
      assert(performance.now() - began < LONGEST, String(number));
    }
  },
  "others agree on what LZMA is": () => {
    const xz = (packed) => spawnSync("xz", ["-dc", "--format=lzma"], { input: packed, maxBuffer: 1 << 26 });
    if (xz(sample("one.bin")).error) {
      console.log("        xz is not here: not compared");
      return;
    }
    for (const name of names) {
      const { status, stdout } = xz(sample(`${name}.bin`));
      assert.equal(status, 0, name);
      // Code lies apart in it; anything else stands whole at the end.
      const raw = sample(`${name}.raw`);
      if (name !== "code") assert(stdout.subarray(stdout.length - raw.length).equals(raw), name);
    }
    assert.equal(xz(site).status, 0);
  },
  "a sample that ends before its end, or goes on behind it, is refused": async () => {
    for (const name of names) {
      const packed = sample(`${name}.bin`);
      for (const length of [0, 1, 13, 17, 18, 19, packed.length >> 1, packed.length - 1]) assert.equal(await tried(packed.subarray(0, length)), null, `${name} ${length}`);
      assert.equal(await tried(Buffer.concat([packed, Buffer.alloc(1)])), null, name);
    }
  },
  "any wrong bit is refused, but for the reach, which nobody needs": async () => {
    for (const [packed, raw, count] of [[sample("code.bin"), sample("code.raw"), 600], [site, wasm, 30]]) {
      for (let turn = 0; turn < count; turn += 1) {
        const at = turn < 20 ? turn : Math.floor((turn * packed.length) / count);
        const spoilt = Buffer.from(packed);
        spoilt[at] ^= 1 << turn % 8;
        const began = performance.now();
        const bytes = await tried(spoilt);
        assert(performance.now() - began < LONGEST, `byte ${at}`);
        if (at > 0 && at < 5) assert(Buffer.from(bytes).equals(raw));
        else assert.equal(bytes, null, `byte ${at}`);
      }
    }
  },
  "a hostile file, well packed, comes to an end within its bounds": async () => {
    let refused = 0;
    for (let number = 0; number < 200; number += 1) {
      const began = performance.now();
      const bytes = await tried(sample(`hostile-${number}.bin`));
      assert(performance.now() - began < LONGEST, String(number));
      if (bytes === null) refused += 1;
      else assert(bytes.length < 1 << 24);
    }
    assert(refused > 20, `${refused} refused`);
  },
};
for (const name of names)
  tests[`sample ${name} comes out byte for byte`] = async () => {
    const [packed, raw] = [sample(`${name}.bin`), sample(`${name}.raw`)];
    for (const piece of [packed.length, 7, 1]) await same(packed, raw, packed.length > 50_000 ? 4096 + piece : piece);
  };

let passed = 0;
let failed = 0;
for (const [name, test] of Object.entries(tests)) {
  try {
    await test();
    passed += 1;
    console.log(`ok      ${name}`);
  } catch (problem) {
    failed += 1;
    console.log(`FAILED  ${name}\n${problem.stack}`);
  }
}
if (passed > 0) console.log(`  ${passed} passed`);
if (failed > 0) console.log(`  ${failed} failed`);
process.exit(failed > 0 ? 1 : 0);
