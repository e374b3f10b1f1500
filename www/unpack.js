/* Unpacks the wasm as the build packs it (xtask's `pack`): LZMA, and beneath it the numbers inside the code laid
   apart by their kind; and words (xtask's `spell`). A script of its own, for the service worker calls it classic and the page a module. */
(() => {
  /** No file says that it holds more [bytes]. */
  const MOST = 1 << 24;
  /** Length of the head of an .lzma file: properties, reach, length of what is packed. */
  const HEAD = 13;
  /** No step of the decoder takes more of the packed bytes. */
  const STEP = 20;

  /** Properties of every file of ours: lc = 1, lp = pb = 0. */
  const PROPERTIES = 1;

  // Where in the table of odds each kind of choice begins; the names are those of the LZMA specification.
  const STATES = 12;
  const IS_MATCH = 0;
  const IS_REP = IS_MATCH + STATES;
  const IS_REP_G0 = IS_REP + STATES;
  const IS_REP_G1 = IS_REP_G0 + STATES;
  const IS_REP_G2 = IS_REP_G1 + STATES;
  const IS_REP_0_LONG = IS_REP_G2 + STATES;
  const SLOTS = IS_REP_0_LONG + STATES;
  const DISTANCES = SLOTS + 4 * 64;
  const ALIGN = DISTANCES + 128;
  const LENGTHS = ALIGN + 16;
  const REP_LENGTHS = LENGTHS + 2 + 8 + 8 + 256;
  const LITERALS = REP_LENGTHS + 2 + 8 + 8 + 256;
  const ODDS = LITERALS + 2 * 0x300;

  /** @returns {never} */
  const broken = () => {
    throw new Error("the packed file is broken");
  };

  /** LZMA of known length, as its public specification has it, taken as it comes over the line. */
  const makeDecoder = () => {
    let input = new Uint8Array(0);
    let out = input;
    const odds = new Uint16Array(ODDS).fill(1024);
    let to = 0;
    let state = 0;
    let begun = false;
    // How far back the last four matches went, less one.
    let rep0 = 0;
    let rep1 = 0;
    let rep2 = 0;
    let rep3 = 0;
    // Range, code, place in the input: in an array, for numbers beyond 31 bits would be made anew at each change.
    const now = new Uint32Array(3);

    /** A choice by its odds, which learn from it. @param {number} at */
    const bit = (at) => {
      const range = now[0];
      const code = now[1];
      const odd = odds[at];
      const bound = Math.imul(range >>> 11, odd) >>> 0;
      let left = bound;
      let one = 0;
      if (code < bound) odds[at] = odd + ((2048 - odd) >> 5);
      else {
        left = (range - bound) >>> 0;
        now[1] = code - bound;
        odds[at] = odd - (odd >> 5);
        one = 1;
      }
      if (left < 0x1000000) {
        left <<= 8;
        now[1] = (now[1] << 8) | input[now[2]++];
      }
      now[0] = left;
      return one;
    };
    /**
     * Down a tree of such choices: the same written out once more, since here most of the time goes.
     * @param {number} at @param {number} end @param {number} [found]
     */
    const walk = (at, end, found = 1) => {
      let range = now[0];
      let code = now[1];
      while (found < end) {
        const odd = odds[at + found];
        const bound = Math.imul(range >>> 11, odd) >>> 0;
        if (code < bound) {
          range = bound;
          odds[at + found] = odd + ((2048 - odd) >> 5);
          found <<= 1;
        } else {
          range = (range - bound) >>> 0;
          code = (code - bound) >>> 0;
          odds[at + found] = odd - (odd >> 5);
          found = (found << 1) | 1;
        }
        if (range < 0x1000000) {
          range = (range << 8) >>> 0;
          code = ((code << 8) | input[now[2]++]) >>> 0;
        }
      }
      now[0] = range;
      now[1] = code;
      return found;
    };
    /** @param {number} at @param {number} bits */
    const tree = (at, bits) => walk(at, 1 << bits) - (1 << bits);
    /** From the lowest bit. @param {number} at @param {number} bits */
    const reversed = (at, bits) => {
      let found = 0;
      let place = 1;
      for (let i = 0; i < bits; i += 1) {
        const one = bit(at + place);
        place = (place << 1) | one;
        found |= one << i;
      }
      return found;
    };
    /** @param {number} at */
    const length = (at) => (bit(at) === 0 ? tree(at + 2, 3) : bit(at + 1) === 0 ? 8 + tree(at + 10, 3) : 16 + tree(at + 18, 8));
    /** @param {number} slot */
    const distance = (slot) => {
      if (slot < 4) return slot;
      const bits = (slot >> 1) - 1;
      const from = (2 | (slot & 1)) << bits;
      if (slot < 14) return from + reversed(DISTANCES + from - slot, bits);
      let found = 0;
      for (let left = bits - 4; left > 0; left -= 1) {
        now[0] >>>= 1;
        const one = now[1] >= now[0] ? 1 : 0;
        if (one) now[1] -= now[0];
        if (now[0] < 0x1000000) {
          now[0] <<= 8;
          now[1] = (now[1] << 8) | input[now[2]++];
        }
        found = (found << 1) | one;
      }
      return from + (found << 4) + reversed(ALIGN, 4);
    };
    const literal = () => {
      const before = to > 0 ? out[to - 1] : 0;
      const at = LITERALS + 0x300 * (before >> 7);
      let found = 1;
      if (state > 6) {
        // After a match: as long as it agrees, the byte that would have followed has a say.
        let like = out[to - rep0 - 1];
        while (found < 256) {
          const wanted = (like >> 7) & 1;
          like <<= 1;
          const one = bit(at + ((1 + wanted) << 8) + found);
          found = (found << 1) | one;
          if (one !== wanted) break;
        }
      }
      out[to++] = walk(at, 256, found);
      state = state < 4 ? 0 : state < 10 ? state - 3 : state - 6;
    };
    const match = () => {
      let long = 0;
      if (bit(IS_REP + state) === 0) {
        rep3 = rep2;
        rep2 = rep1;
        rep1 = rep0;
        long = length(LENGTHS);
        state = state < 7 ? 7 : 10;
        rep0 = distance(tree(SLOTS + 64 * Math.min(long, 3), 6));
      } else {
        if (bit(IS_REP_G0 + state) === 0) {
          if (bit(IS_REP_0_LONG + state) === 0) {
            state = state < 7 ? 9 : 11;
            long = -1;
          }
        } else {
          let far = rep1;
          if (bit(IS_REP_G1 + state) !== 0) {
            far = rep2;
            if (bit(IS_REP_G2 + state) !== 0) {
              far = rep3;
              rep3 = rep2;
            }
            rep2 = rep1;
          }
          rep1 = rep0;
          rep0 = far;
        }
        if (long === 0) {
          long = length(REP_LENGTHS);
          state = state < 7 ? 8 : 11;
        }
      }
      const end = to + long + 2;
      const back = (rep0 >>> 0) + 1;
      if (back > to || end > out.length) broken();
      const made = out;
      let at = to;
      for (; at < end; at += 1) made[at] = made[at - back];
      to = at;
    };
    /** Head of the file, and the first five bytes of its range coder. */
    const begin = () => {
      const view = new DataView(input.buffer);
      const size = view.getUint32(5, true);
      if (input[0] !== PROPERTIES || size > MOST || view.getUint32(9, true) > 0 || input[HEAD] > 0) broken();
      out = new Uint8Array(size);
      now.set([0xffffffff, view.getUint32(HEAD + 1), HEAD + 5]);
      begun = true;
    };
    /** As far as it goes without what may be missing yet. @param {number} enough */
    const go = (enough) => {
      while (to < out.length && now[2] <= enough) {
        if (bit(IS_MATCH + state) === 0) literal();
        else match();
      }
    };
    return {
      /** @param {Uint8Array} chunk */
      take(chunk) {
        const rest = input.subarray(now[2]);
        now[2] = 0;
        input = new Uint8Array(rest.length + chunk.length);
        input.set(rest);
        input.set(chunk, rest.length);
        if (!begun && input.length > HEAD + 5) begin();
        if (begun) go(input.length - STEP);
      },
      end() {
        if (!begun) broken();
        go(input.length);
        // The coder comes out even, or some bit on the way was wrong.
        if (to < out.length || now[1] !== 0 || now[2] !== input.length) broken();
        return out;
      },
    };
  };

  /** How long the table of what stands behind an opcode is, and how many parts there are. */
  const WAYS = 256 + 32;
  const PARTS = 9;
  const BEFORE = 0;
  const CODE = 1;
  const AFTER = PARTS - 1;
  // What stands behind an opcode, in the upper half of its byte of the table, as `pack` has it; the part is in the lower.
  const OPENS = 2;
  const CLOSES = 3;
  const ADDRESS = 4;
  const LIST = 6;
  const GOES_ON = 9;
  /** How many numbers that is, and how many bytes. */
  const NUMBERS = [0, 1, 1, 0, 1, 2, 0, 0, 0];
  const BYTES = [0, 0, 0, 0, 0, 0, 0, 4, 8];

  /**
   * The wasm from its parts: each number of the code back behind its opcode.
   * @param {Uint8Array} held
   */
  const joined = (held) => {
    // As many as a table can name.
    const at = new Uint32Array(16);
    const ends = new Uint32Array(16);
    if (held.length < WAYS + 4 + 4 * PARTS) broken();
    const view = new DataView(held.buffer);
    const size = view.getUint32(WAYS, true);
    let from = WAYS + 4 + 4 * PARTS;
    for (let part = 0; part < PARTS; part += 1) {
      at[part] = from;
      from += view.getUint32(WAYS + 4 + 4 * part, true);
      ends[part] = from;
      if (from > held.length) broken();
    }
    if (size > MOST) broken();
    const wasm = new Uint8Array(size);
    let to = 0;

    /** @param {number} part */
    const byte = (part) => {
      const place = at[part]++;
      if (place >= ends[part]) broken();
      return (wasm[to++] = held[place]);
    };
    /** Signed or not, it is as long as its bytes say [LEB128]. @param {number} part */
    const number = (part) => {
      let value = 0;
      for (let place = 0; ; place += 7) {
        const next = byte(part);
        value |= (next & 127) << place;
        if (next < 128) return value;
      }
    };
    /** @param {number} part */
    const whole = (part) => {
      wasm.set(held.subarray(at[part], ends[part]), to);
      to += ends[part] - at[part];
    };
    const body = () => {
      const start = to;
      for (let kinds = number(CODE); kinds > 0; kinds -= 1) {
        number(CODE);
        byte(CODE);
      }
      for (let depth = 1; depth > 0; ) {
        let way = held[byte(CODE)];
        // Most have nothing behind them.
        if (way === 0) continue;
        if (way >> 4 === GOES_ON) way = held[256 + (byte(CODE) & 31)];
        const part = way & 15;
        const kind = way >> 4;
        if (kind === OPENS) depth += 1;
        else if (kind === CLOSES) depth -= 1;
        // That it is a multiple of one.
        else if (kind === ADDRESS) wasm[to++] = 0;
        for (let left = kind === LIST ? number(part) + 1 : NUMBERS[kind]; left > 0; left -= 1) number(part);
        for (let left = BYTES[kind]; left > 0; left -= 1) byte(part);
      }
      // Its length before it, as short as can be.
      const length = to - start;
      let room = 1;
      while (length >> (7 * room) > 0) room += 1;
      wasm.copyWithin(start + room, start, to);
      for (let i = 0; i < room; i += 1) wasm[start + i] = ((length >> (7 * i)) & 127) | (i + 1 < room ? 128 : 0);
      to += room;
    };

    whole(BEFORE);
    while (at[CODE] < ends[CODE]) body();
    whole(AFTER);
    if (to !== size) broken();
    return wasm;
  };

  /** The wasm that comes packed. @param {ReadableStream<Uint8Array>} packed */
  const unpacked = async (packed) => {
    const reader = packed.getReader();
    const decoder = makeDecoder();
    for (;;) {
      const { done, value } = await reader.read();
      if (done) return joined(decoder.end());
      decoder.take(value);
    }
  };

  // As `spell` has it, where the why is told.
  const CONTEXTS = 6;
  const ROOM = 20;
  /** No words are longer [bytes]. */
  const MOST_WORDS = 1 << 20;

  /** Words that come packed. @param {Uint8Array} packed */
  const spelled = (packed) => {
    let next = 0;
    const byte = () => {
      if (next >= packed.length) broken();
      return packed[next++];
    };
    const four = () => ((byte() << 24) | (byte() << 16) | (byte() << 8) | byte()) >>> 0;
    const size = four();
    if (size > MOST_WORDS) broken();
    const squash = new Float64Array(4096);
    const stretch = new Float64Array(4096);
    for (let x = 0, odds = 1; x < 2048; x += 1, odds *= 1 - 1 / 256) {
      squash[2048 + x] = 1 / (1 + odds);
      squash[2048 - x] = odds / (1 + odds);
    }
    for (let share = 0, x = 1; share < 4096; share += 1) {
      while (x < 4095 && 4096 * squash[x] < share + 0.5) x += 1;
      stretch[share] = (x - 2048) / 256;
    }
    const slots = new Uint16Array(CONTEXTS << ROOM).fill(0x8000);
    const byBits = new Float64Array(256 * CONTEXTS).fill(0.3);
    const byByte = byBits.slice();
    const hashes = new Int32Array(CONTEXTS);
    const bases = new Int32Array(CONTEXTS);
    const stretched = new Float64Array(CONTEXTS);
    const text = new Uint8Array(size);
    let low = 0;
    let high = 0xffffffff;
    let code = four();
    let near = 0;
    let far = 0;
    let word = 0;
    for (let to = 0; to < size; to += 1) {
      for (let at = 0; at < CONTEXTS; at += 1) {
        let x = Math.imul(at > 4 ? word : at > 2 ? near : near & ((256 << (8 * at)) - 1), 0x2f0b4c47) + at + 1;
        if (at === 4) x += Math.imul(far & 255, 0x6f4f2a35);
        hashes[at] = Math.imul(x ^ ((x | 0) >>> 15), 0x3d4d51cb);
      }
      let bits = 1;
      let half = 1;
      for (let left = 8; left > 0; left -= 1) {
        if (left % 4 === 0) {
          half = 1;
          for (let at = 0; at < CONTEXTS; at += 1) {
            const x = Math.imul(hashes[at] + bits, 0x85ebca6b);
            bases[at] = (at << ROOM) + ((Math.imul(x ^ (x >>> 14), 0xc2b2ae35) >>> (36 - ROOM)) << 4);
          }
        }
        const bit = bits * CONTEXTS;
        const before = (near & 255) * CONTEXTS;
        let sum = 0;
        for (let at = 0; at < CONTEXTS; at += 1) {
          const slot = slots[bases[at] + half];
          stretched[at] = (slot & 15) > 0 ? stretch[slot >> 4] : 0;
          sum += (byBits[bit + at] + byByte[before + at]) * stretched[at];
        }
        const odds = squash[Math.min(4095, Math.max(1, Math.floor(sum * 128 + 2048.5)))];
        const share = Math.min(65504, Math.max(32, Math.floor(odds * 65536 + 0.5)));
        const between = low + Math.floor(((high - low) * share) / 65536);
        const one = code <= between ? 1 : 0;
        if (one) high = between;
        else low = between + 1;
        const by = (one - odds) * 0.01;
        for (let at = 0; at < CONTEXTS; at += 1) {
          const change = by * stretched[at];
          byBits[bit + at] += change;
          byByte[before + at] += change;
          const slot = slots[bases[at] + half];
          const seen = slot & 15;
          const was = slot >> 4;
          slots[bases[at] + half] = ((was + Math.floor((4095 * one - was) / (seen + 1.5) + 0.5)) << 4) | Math.min(seen + 1, 15);
        }
        bits = (bits << 1) | one;
        half = (half << 1) | one;
        while ((low ^ high) >>> 24 === 0) {
          low = (low << 8) >>> 0;
          high = ((high << 8) | 255) >>> 0;
          code = ((code << 8) | byte()) >>> 0;
        }
      }
      const letter = bits & 255;
      text[to] = letter;
      far = (far << 8) | (near >>> 24);
      near = (near << 8) | letter;
      word = letter > 127 || ((letter | 32) > 96 && (letter | 32) < 123) ? (Math.imul(word, 0x2f0b4c47) + letter + 1) | 0 : 0;
    }
    if (next !== packed.length) broken();
    return new TextDecoder("utf-8", { fatal: true }).decode(text);
  };
  Object.assign(self, { unpacked, spelled });
})();
