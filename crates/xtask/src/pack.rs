//! The wasm as it is served: LZMA, and beneath it the numbers inside the code laid apart by their kind,
//! which takes a tenth off. `www/unpack.js` turns it back.
//!
//! What LZMA holds is a table (what stands behind which opcode), then the length of the wasm and of each
//! part (32 bits, low byte first), then the parts.

use std::io::Write;

use anyhow::{Context, Result, bail};
use lzma_rust2::{DICT_SIZE_MIN, LzmaOptions, LzmaWriter};
use wasmparser::{Parser, Payload};

// The parts, in their order.
/// What is before the functions.
const BEFORE: u8 = 0;
/// Opcodes and whatever has no part of its own; what local variables there are.
const CODE: u8 = 1;
const LOCALS_READ: u8 = 2;
const LOCALS_SET: u8 = 3;
const LOADED_FROM: u8 = 4;
const STORED_AT: u8 = 5;
const INTEGERS: u8 = 6;
/// 64-bit integers and floats.
const LONG: u8 = 7;
/// What is after the functions: data.
const AFTER: u8 = 8;
const PARTS: usize = 9;

// What stands behind an opcode, in the upper half of its byte of the table; the part is in the lower.
const NOTHING: u8 = 0;
const NUMBER: u8 = 1 << 4;
/// A number, and a block begins.
const OPENS: u8 = 2 << 4;
/// A block ends.
const CLOSES: u8 = 3 << 4;
/// What an address is a multiple of (not told: engines take no note of it), and a number.
const ADDRESS: u8 = 4 << 4;
const TWO_NUMBERS: u8 = 5 << 4;
/// How many numbers, these and one more.
const LIST: u8 = 6 << 4;
const FOUR_BYTES: u8 = 7 << 4;
const EIGHT_BYTES: u8 = 8 << 4;
/// The opcode goes on: its next byte picks from a table of its own behind that of the first.
const GOES_ON: u8 = 9 << 4;
const UNKNOWN: u8 = 15 << 4;

/// Opcodes of one byte.
const FIRST: usize = 256;
/// How many may go on behind the first byte.
const SECOND: usize = 32;

/// The WebAssembly core specification's binary format of instructions, as far as compilers for a browser of
/// 2022 write it.
const fn ways() -> [u8; FIRST + SECOND] {
    let mut ways = [UNKNOWN; FIRST + SECOND];
    let rows = [
        (0x00, 0x01, NOTHING),
        (0x02, 0x04, OPENS | CODE),
        (0x05, 0x05, NOTHING),
        (0x0b, 0x0b, CLOSES),
        (0x0c, 0x0d, NUMBER | CODE),
        (0x0e, 0x0e, LIST | CODE),
        (0x0f, 0x0f, NOTHING),
        (0x10, 0x10, NUMBER | CODE),
        (0x11, 0x11, TWO_NUMBERS | CODE),
        (0x1a, 0x1b, NOTHING),
        (0x20, 0x20, NUMBER | LOCALS_READ),
        (0x21, 0x22, NUMBER | LOCALS_SET),
        (0x23, 0x26, NUMBER | CODE),
        (0x28, 0x35, ADDRESS | LOADED_FROM),
        (0x36, 0x3e, ADDRESS | STORED_AT),
        (0x3f, 0x40, NUMBER | CODE),
        (0x41, 0x41, NUMBER | INTEGERS),
        (0x42, 0x42, NUMBER | LONG),
        (0x43, 0x43, FOUR_BYTES | LONG),
        (0x44, 0x44, EIGHT_BYTES | LONG),
        (0x45, 0xc4, NOTHING),
        (0xfc, 0xfc, GOES_ON),
        (0xd0, 0xd0, NUMBER | CODE),
        (0xd1, 0xd1, NOTHING),
        (0xd2, 0xd2, NUMBER | CODE),
        // Floats to integers, the nearest there is; then what moves much at once.
        (FIRST, FIRST + 7, NOTHING),
        (FIRST + 8, FIRST + 8, TWO_NUMBERS | CODE),
        (FIRST + 9, FIRST + 9, NUMBER | CODE),
        (FIRST + 10, FIRST + 10, TWO_NUMBERS | CODE),
        (FIRST + 11, FIRST + 11, NUMBER | CODE),
        (FIRST + 12, FIRST + 12, TWO_NUMBERS | CODE),
        (FIRST + 13, FIRST + 13, NUMBER | CODE),
        (FIRST + 14, FIRST + 14, TWO_NUMBERS | CODE),
        (FIRST + 15, FIRST + 17, NUMBER | CODE),
    ];
    let mut row = 0;
    while row < rows.len() {
        let (mut at, last, way) = rows[row];
        while at <= last {
            ways[at] = way;
            at += 1;
        }
        row += 1;
    }
    ways
}

const WAYS: [u8; FIRST + SECOND] = ways();

/// The wasm packed.
///
/// # Errors
/// When it is no wasm, or has instructions that are not known here.
pub(crate) fn packed(wasm: &[u8]) -> Result<Vec<u8>> {
    lzma(&held(wasm)?)
}

/// Any bytes packed as if they stood before the code of a wasm without functions.
///
/// # Errors
/// When there are more than 4 GB.
pub(crate) fn whole(bytes: &[u8]) -> Result<Vec<u8>> {
    let mut parts = <[Vec<u8>; PARTS]>::default();
    parts[usize::from(BEFORE)] = bytes.to_vec();
    lzma(&laid(bytes.len(), &parts)?)
}

/// What LZMA is to hold.
///
/// # Errors
/// As [`packed`].
pub(crate) fn held(wasm: &[u8]) -> Result<Vec<u8>> {
    laid(wasm.len(), &parts(wasm).context("packing the wasm")?)
}

fn laid(length: usize, parts: &[Vec<u8>; PARTS]) -> Result<Vec<u8>> {
    let mut held = WAYS.to_vec();
    held.extend(size(length)?);
    for part in parts {
        held.extend(size(part.len())?);
    }
    held.extend(parts.concat());
    Ok(held)
}

fn size(of: usize) -> Result<[u8; 4]> {
    Ok(u32::try_from(of)?.to_le_bytes())
}

/// An .lzma file of known length, no end mark. The byte before tells little of the next here: of its
/// bits one is looked at.
///
/// # Errors
/// When there are more than 4 GB.
pub(crate) fn lzma(held: &[u8]) -> Result<Vec<u8>> {
    let mut options = LzmaOptions::with_preset(9);
    (options.lc, options.lp, options.pb) = (1, 0, 0);
    options.nice_len = LzmaOptions::NICE_LEN_MAX;
    options.dict_size = u32::try_from(held.len().next_power_of_two())?.max(DICT_SIZE_MIN);
    let length = u64::try_from(held.len())?;
    let mut writer = LzmaWriter::new_use_header(Vec::new(), &options, Some(length))?;
    writer.write_all(held)?;
    Ok(writer.finish()?)
}

fn parts(wasm: &[u8]) -> Result<[Vec<u8>; PARTS]> {
    let mut parts = <[Vec<u8>; PARTS]>::default();
    let mut done = 0;
    let mut after = None;
    for payload in Parser::new(0).parse_all(wasm) {
        match payload? {
            Payload::CodeSectionStart { range, count, .. } => {
                done = range.start + length_of(count as usize);
                parts[usize::from(BEFORE)] = wasm[..done].to_vec();
                after = Some(range.end);
            }
            Payload::CodeSectionEntry(body) => {
                let range = body.range();
                // The page writes it anew, as short as can be.
                if range.start - done != length_of(range.len()) {
                    bail!("a function's length is not written as short as can be");
                }
                done = range.end;
                function(&mut Reader(&wasm[range]), &mut parts)?;
            }
            _ => {}
        }
    }
    let after = after.context("there is no code")?;
    parts[usize::from(AFTER)] = wasm[after..].to_vec();
    Ok(parts)
}

/// Bytes of a number without sign [LEB128].
fn length_of(number: usize) -> usize {
    (number.max(1).ilog2() / 7 + 1) as usize
}

fn function(body: &mut Reader<'_>, parts: &mut [Vec<u8>; PARTS]) -> Result<()> {
    for _ in 0..body.number(CODE, parts)? {
        body.number(CODE, parts)?;
        body.bytes(1, CODE, parts)?;
    }
    let mut depth = 1;
    while depth > 0 {
        let op = body.bytes(1, CODE, parts)?;
        let mut way = WAYS[usize::from(op)];
        if way == GOES_ON {
            let more = usize::from(body.bytes(1, CODE, parts)?);
            way = WAYS.get(FIRST + more).copied().unwrap_or(UNKNOWN);
        }
        let (kind, part) = (way & 0xf0, way & 0x0f);
        match kind {
            NOTHING => {}
            NUMBER => drop(body.number(part, parts)?),
            OPENS => {
                body.number(part, parts)?;
                depth += 1;
            }
            CLOSES => depth -= 1,
            ADDRESS => {
                let [0, rest @ ..] = body.0 else {
                    bail!("an address tells what it is a multiple of");
                };
                body.0 = rest;
                body.number(part, parts)?;
            }
            TWO_NUMBERS => {
                body.number(part, parts)?;
                body.number(part, parts)?;
            }
            LIST => {
                for _ in 0..=body.number(part, parts)? {
                    body.number(part, parts)?;
                }
            }
            FOUR_BYTES => drop(body.bytes(4, part, parts)?),
            EIGHT_BYTES => drop(body.bytes(8, part, parts)?),
            _ => bail!("opcode {op:#04x} is not known"),
        }
    }
    if !body.0.is_empty() {
        bail!("a function goes on behind its end");
    }
    Ok(())
}

struct Reader<'a>(&'a [u8]);

impl Reader<'_> {
    /// Lays bytes into a part; hands back the last.
    fn bytes(&mut self, count: usize, part: u8, parts: &mut [Vec<u8>; PARTS]) -> Result<u8> {
        let (now, rest) = self
            .0
            .split_at_checked(count)
            .context("a function is cut short")?;
        parts[usize::from(part)].extend(now);
        self.0 = rest;
        now.last().copied().context("no byte asked for")
    }

    /// Lays a number into a part [LEB128]; hands it back, if it has no sign.
    fn number(&mut self, part: u8, parts: &mut [Vec<u8>; PARTS]) -> Result<u32> {
        let mut number = 0;
        for place in 0_u32.. {
            let byte = self.bytes(1, part, parts)?;
            number |= u32::from(byte & 127).checked_shl(7 * place).unwrap_or(0);
            if byte < 128 {
                break;
            }
        }
        Ok(number)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use wasm_encoder::{CodeSection, Function, FunctionSection, Module, TypeSection};

    /// A module of one function with these instructions.
    fn module(instructions: &[u8]) -> Vec<u8> {
        let mut types = TypeSection::new();
        types.ty().function([], []);
        let mut functions = FunctionSection::new();
        functions.function(0);
        let mut body = Function::new([]);
        body.raw(instructions.iter().copied());
        let mut code = CodeSection::new();
        code.function(&body);
        let mut module = Module::new();
        module.section(&types).section(&functions).section(&code);
        module.finish()
    }

    #[test]
    fn numbers_go_to_their_parts() {
        // block, 300, local.get 1, i32.load of 5 at 2^0, local.set 2, end, end: opcodes of the core specification.
        let body = [
            0x02, 0x40, 0x41, 0xac, 0x02, 0x1a, 0x20, 1, 0x28, 0, 5, 0x21, 2, 0x0b, 0x0b,
        ];
        let parts = parts(&module(&body)).unwrap();
        let part = |which: u8| parts[usize::from(which)].as_slice();
        // The first is how many kinds of locals there are.
        let code = [0, 0x02, 0x40, 0x41, 0x1a, 0x20, 0x28, 0x21, 0x0b, 0x0b];
        assert_eq!(part(CODE), code);
        assert_eq!(part(INTEGERS), [0xac, 0x02]);
        assert_eq!((part(LOCALS_READ), part(LOCALS_SET)), (&[1][..], &[2][..]));
        assert_eq!((part(LOADED_FROM), part(AFTER)), (&[5][..], &[][..]));
        assert!(part(BEFORE).starts_with(b"\0asm"));
    }

    #[test]
    fn what_cannot_come_back_is_refused() {
        for (body, said) in [
            // i32.load of what is a multiple of four.
            (vec![0x28, 2, 0, 0x0b], "multiple"),
            (vec![0x0b, 0x0b], "behind its end"),
            (vec![0x02, 0x40, 0x0b], "cut short"),
            // v128.const: the site is built without vectors.
            (vec![0xfd, 0x0c, 0x0b], "0xfd"),
            (vec![0xfc, 0x7f, 0x0b], "0xfc"),
        ] {
            let problem = format!("{:#}", packed(&module(&body)).unwrap_err());
            assert!(problem.contains(said), "{said}: {problem}");
        }
        assert!(packed(b"page").is_err());
    }

    #[test]
    fn file_begins_as_the_lzma_specification_has_it() {
        let file = whole(&[7; 1000]).unwrap();
        // lc + 9 (lp + 5 pb), reach, length; the range coder begins with a nought.
        assert_eq!(file[0], 1);
        let length = WAYS.len() + 4 * (PARTS + 1) + 1000;
        assert_eq!(file[5..13], (length as u64).to_le_bytes());
        assert_eq!(file[13], 0);
    }

    #[test]
    fn length_of_a_number_is_the_shortest() {
        let lengths = [0, 1, 127, 128, 16_383, 16_384].map(length_of);
        assert_eq!(lengths, [1, 1, 1, 2, 2, 3]);
    }
}
