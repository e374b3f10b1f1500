//! Words as they are served: every bit is coded by its odds, guessed from what stood before it in the same
//! place, a fifth shorter than LZMA makes them. `spelled` of `www/unpack.js` reads it.
//!
//! The guesses of six contexts (the one to five bytes before, the word so far) are mixed as logarithms of their
//! odds, each with a weight that learns from every bit: logistic mixing, as archivers of the open PAQ family have
//! it. Both sides have to guess alike to the last digit, so nothing is used but sums, products and quotients of
//! doubles, which are the same everywhere.

use anyhow::{Result, ensure};

const CONTEXTS: usize = 6;
/// Slots of a context [bits of their number]: 16 for each half of a byte.
const ROOM: u32 = 20;
/// How often a slot is counted; from then on it forgets by so much.
const COUNTED: u16 = 15;
const FIRST_WEIGHT: f64 = 0.3;
const LEARNS: f64 = 0.01;
/// The page reads no more [bytes].
const MOST: usize = 1 << 20;

/// What has been seen so far, and what it says of the next bit.
struct Model {
    squash: Vec<f64>,
    stretch: Vec<f64>,
    /// By context: upper twelve bits how often a one stood there, lower four how often it was seen.
    slots: Vec<u16>,
    /// By the bits of this byte, and by the byte before.
    weights: [Vec<f64>; 2],
    hashes: [i32; CONTEXTS],
    bases: [usize; CONTEXTS],
    stretched: [f64; CONTEXTS],
    /// Bits of this byte behind a one.
    bits: usize,
    /// The four bytes before, and the four before those.
    near: i32,
    far: i32,
    word: i32,
    odds: f64,
}

impl Model {
    fn new() -> Model {
        let (mut squash, mut stretch) = (vec![0.0; 4096], vec![0.0; 4096]);
        let mut odds = 1.0;
        for x in 0..2048 {
            squash[2048 + x] = 1.0 / (1.0 + odds);
            squash[2048 - x] = odds / (1.0 + odds);
            odds *= 1.0 - 1.0 / 256.0;
        }
        let mut x = 1;
        for (share, stretched) in stretch.iter_mut().enumerate() {
            while x < 4095 && 4096.0 * squash[x] < share as f64 + 0.5 {
                x += 1;
            }
            *stretched = (x as f64 - 2048.0) / 256.0;
        }
        let weights = vec![FIRST_WEIGHT; 256 * CONTEXTS];
        let mut model = Model {
            squash,
            stretch,
            slots: vec![0x8000; CONTEXTS << ROOM],
            weights: [weights.clone(), weights],
            hashes: [0; CONTEXTS],
            bases: [0; CONTEXTS],
            stretched: [0.0; CONTEXTS],
            bits: 1,
            near: 0,
            far: 0,
            word: 0,
            odds: 0.5,
        };
        model.hash();
        model
    }

    fn hash(&mut self) {
        for (at, hash) in self.hashes.iter_mut().enumerate() {
            let (near, far) = match at {
                5 => (self.word, 0),
                4 => (self.near, self.far & 255),
                3 => (self.near, 0),
                _ => (self.near & ((256 << (8 * at)) - 1), 0),
            };
            let mut x = near
                .wrapping_mul(0x2f0b_4c47)
                .wrapping_add(far.wrapping_mul(0x6f4f_2a35))
                .wrapping_add(at as i32 + 1);
            x ^= (x as u32 >> 15) as i32;
            *hash = x.wrapping_mul(0x3d4d_51cb);
        }
    }

    /// Which of the slots of this half of a byte.
    fn half(&self) -> usize {
        match self.bits {
            bits @ ..16 => bits,
            ..32 => 1,
            bits @ ..64 => bits & 1 | 2,
            bits @ ..128 => bits & 3 | 4,
            bits => bits & 7 | 8,
        }
    }

    /// How likely a one is [1/65536].
    fn guess(&mut self) -> u64 {
        if self.bits == 1 || (16..32).contains(&self.bits) {
            for (at, base) in self.bases.iter_mut().enumerate() {
                let mut x = self.hashes[at]
                    .wrapping_add(self.bits as i32)
                    .wrapping_mul(0x85eb_ca6b_u32 as i32);
                x ^= (x as u32 >> 14) as i32;
                let x = x.wrapping_mul(0xc2b2_ae35_u32 as i32) as u32;
                *base = (at << ROOM) + ((x >> (36 - ROOM)) << 4) as usize;
            }
        }
        let half = self.half();
        let [by_bits, by_byte] = self.weighed();
        let mut sum = 0.0;
        for at in 0..CONTEXTS {
            let slot = self.slots[self.bases[at] + half];
            let seen = slot & 15 > 0;
            let stretched = if seen {
                self.stretch[usize::from(slot >> 4)]
            } else {
                0.0
            };
            self.stretched[at] = stretched;
            sum += (self.weights[0][by_bits + at] + self.weights[1][by_byte + at]) * stretched;
        }
        let x = (sum * 128.0 + 2048.5).floor().clamp(1.0, 4095.0);
        self.odds = self.squash[x as usize];
        (self.odds * 65536.0 + 0.5).floor().clamp(32.0, 65504.0) as u64
    }

    fn weighed(&self) -> [usize; 2] {
        [self.bits * CONTEXTS, (self.near & 255) as usize * CONTEXTS]
    }

    fn learn(&mut self, one: bool) {
        let half = self.half();
        let [by_bits, by_byte] = self.weighed();
        let by = (f64::from(u8::from(one)) - self.odds) * LEARNS;
        for at in 0..CONTEXTS {
            let change = by * self.stretched[at];
            self.weights[0][by_bits + at] += change;
            self.weights[1][by_byte + at] += change;
            let slot = &mut self.slots[self.bases[at] + half];
            let (share, seen) = (f64::from(*slot >> 4), *slot & 15);
            let aim = if one { 4095.0 } else { 0.0 };
            let share = share + ((aim - share) / (f64::from(seen) + 1.5) + 0.5).floor();
            *slot = (share as u16) << 4 | (seen + 1).min(COUNTED);
        }
        self.bits = self.bits << 1 | usize::from(one);
        if self.bits > 255 {
            let byte = (self.bits & 255) as i32;
            self.bits = 1;
            self.far = self.far << 8 | (self.near as u32 >> 24) as i32;
            self.near = self.near << 8 | byte;
            let letter = (97..=122).contains(&(byte | 32)) || byte > 127;
            self.word = if letter {
                self.word.wrapping_mul(0x2f0b_4c47).wrapping_add(byte + 1)
            } else {
                0
            };
            self.hash();
        }
    }
}

/// The text packed: its length (32 bits, high byte first), then the coded bits.
///
/// # Errors
/// When it is longer than the page reads.
pub(crate) fn packed(text: &str) -> Result<Vec<u8>> {
    ensure!(text.len() <= MOST, "more than {MOST} bytes");
    let mut out = u32::try_from(text.len())?.to_be_bytes().to_vec();
    let mut model = Model::new();
    let (mut low, mut high) = (0_u32, u32::MAX);
    for byte in text.bytes() {
        for place in (0..8).rev() {
            let one = byte >> place & 1 == 1;
            let between = low + ((u64::from(high - low) * model.guess()) >> 16) as u32;
            if one {
                high = between;
            } else {
                low = between + 1;
            }
            model.learn(one);
            while (low ^ high) >> 24 == 0 {
                out.push((high >> 24) as u8);
                low <<= 8;
                high = high << 8 | 255;
            }
        }
    }
    out.extend(high.to_be_bytes());
    Ok(out)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// As `spelled` of `unpack.js` does; `xtask test packing` has that one read what is packed here.
    fn spelled(packed: &[u8]) -> String {
        let (length, mut rest) = packed.split_first_chunk::<4>().unwrap();
        let mut next = || {
            let (first, more) = rest.split_first().unwrap();
            rest = more;
            u32::from(*first)
        };
        let (mut low, mut high, mut code) = (0_u32, u32::MAX, 0_u32);
        for _ in 0..4 {
            code = code << 8 | next();
        }
        let mut model = Model::new();
        let mut text = Vec::new();
        for _ in 0..u32::from_be_bytes(*length) {
            let mut byte = 0;
            for _ in 0..8 {
                let between = low + ((u64::from(high - low) * model.guess()) >> 16) as u32;
                let one = code <= between;
                if one {
                    high = between;
                } else {
                    low = between + 1;
                }
                model.learn(one);
                byte = byte << 1 | u8::from(one);
                while (low ^ high) >> 24 == 0 {
                    low <<= 8;
                    high = high << 8 | 255;
                    code = code << 8 | next();
                }
            }
            text.push(byte);
        }
        assert!(rest.is_empty());
        String::from_utf8(text).unwrap()
    }

    #[test]
    fn packed_text_reads_as_it_was() {
        let long = "Luff, leech and tack: ½ρV² — ä. ".repeat(300);
        for text in ["", "a", "Rah", "\u{0}\u{ff}\n\n", &long] {
            assert_eq!(spelled(&packed(text).unwrap()), text);
        }
        assert!(packed(&long).unwrap().len() < long.len() / 50);
        assert!(packed(&"a".repeat(MOST + 1)).is_err());
    }
}
