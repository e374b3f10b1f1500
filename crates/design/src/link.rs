//! A document as the short text that a link carries, before it is deflated.
//!
//! The keys that the bounds know become two letters each, made of the key and of where it stands;
//! any other key stands as it is. So no list of keys has to be kept for old links: a link is read
//! as long as its leaves keep their paths. Digits stay as typed, less the nought before a point.
//!
//! ```text
//! text    = version members          version and numbers: digits as in JSON
//! members = (key value)*             key: two letters, or a JSON string
//! value   = number | JSON string | "(" members ")" | "[" values "]" | "*" | "/" | "_"
//! ```
//!
//! `*` is true, `/` false, `_` null; a comma parts two numbers of a list.

use quantities::bounds;
use serde_json::Value;

use crate::document::Document;
use crate::migrate::FORMAT;
use crate::tree::{MOST_BYTES, MOST_DEPTH, written};

/// First letters of a key: none that goes on a number.
const FIRST: &[u8; 50] = b"abcdfghijklmnopqrstuvwxyzABCDFGHIJKLMNOPQRSTUVWXYZ";
/// Second letters of a key.
const SECOND: &[u8; 62] = b"abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789";
/// Where the reckoning of places begins; chosen so that no two keys of one place are alike.
const ROOT: u32 = 4;
/// Most values of a link: every list of a design full, and as much again.
const MOST_VALUES: usize = 30_000;
/// Places in the table of keys: a power of two, more than twice as many as there are keys.
const PLACES: usize = 2048;

/// The short text of a document.
pub fn packed(document: &Document) -> String {
    let mut out = String::new();
    if let Value::Object(entries) = document.root() {
        if let Some(version) = entries.get("version") {
            out.push_str(&written(version));
        }
        let keys = Keys::of_the_bounds();
        for (key, value) in entries {
            let told = key == "version" || key == "format" && *value == FORMAT;
            if !told {
                keys.write_member(ROOT, key, value, &mut out);
            }
        }
    }
    out
}

/// Why a short text is not read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unread {
    /// It names what this version does not know, or is no short text.
    Unknown,
    /// It holds more than any design.
    TooLarge,
}

/// The document text of a short text. Whether that is a design is for its opening to say.
///
/// # Errors
/// As [`Unread`] has them.
pub fn unpacked(short: &str) -> Result<String, Unread> {
    let mut out = ["{\"format\":\"", FORMAT, "\",\"version\":"].concat();
    let mut values = 0;
    let whole = unfold(short, &mut out, &mut values).is_some();
    if out.len() > MOST_BYTES || values > MOST_VALUES {
        return Err(Unread::TooLarge);
    }
    if whole { Ok(out) } else { Err(Unread::Unknown) }
}

/// Writes what can be read, none where that is not all.
fn unfold(short: &str, out: &mut String, values: &mut usize) -> Option<()> {
    let mut from = Reader { rest: short };
    let keys = Keys::of_the_bounds();
    from.number(out)?;
    // What is open: the place, whether it is a list, whether nothing stands in it yet.
    let mut open = vec![(ROOT, false, false)];
    while let Some((place, list, empty)) = open.pop() {
        *values += 1;
        if out.len() > MOST_BYTES || *values > MOST_VALUES {
            return None;
        }
        let mut below = step(place, "[]");
        let ends = match (list, open.len()) {
            (true, _) => from.take("]"),
            (false, 0) => from.rest.is_empty(),
            _ => from.take(")"),
        };
        if ends {
            out.push(if list { ']' } else { '}' });
            continue;
        }
        open.push((place, list, false));
        if !empty {
            out.push(',');
            if list {
                from.take(",");
            }
        }
        if !list {
            if from.rest.starts_with('"') {
                let start = out.len();
                from.string(out)?;
                below = step(place, out.get(start..)?.trim_matches('"'));
            } else {
                let key = keys.get(slot(place, from.code()?))?;
                out.push('"');
                out.push_str(key);
                out.push('"');
                below = step(place, key);
            }
            out.push(':');
        }
        let opened = from.take("(");
        if opened || from.take("[") {
            if open.len() > MOST_DEPTH {
                return None;
            }
            out.push(if opened { '{' } else { '[' });
            open.push((below, !opened, true));
        } else if from.rest.starts_with('"') {
            from.string(out)?;
        } else if from.take("*") {
            out.push_str("true");
        } else if from.take("/") {
            out.push_str("false");
        } else if from.take("_") {
            out.push_str("null");
        } else {
            from.number(out)?;
        }
    }
    from.rest.is_empty().then_some(())
}

/// What is left to read.
struct Reader<'a> {
    rest: &'a str,
}

impl<'a> Reader<'a> {
    /// So many bytes off the front; none inside a letter.
    fn cut(&mut self, length: usize) -> Option<&'a str> {
        let (cut, rest) = self.rest.split_at_checked(length)?;
        self.rest = rest;
        Some(cut)
    }

    fn take(&mut self, mark: &str) -> bool {
        let there = self.rest.starts_with(mark);
        if there {
            self.cut(mark.len());
        }
        there
    }

    fn code(&mut self) -> Option<[u8; 2]> {
        self.cut(2)?.as_bytes().try_into().ok()
    }

    /// A number as JSON writes it: what is none is found when the document is opened.
    fn number(&mut self, out: &mut String) -> Option<()> {
        let digits = self.rest.bytes();
        let length = digits
            .take_while(|b| matches!(b, b'0'..=b'9' | b'.' | b'-' | b'+' | b'e' | b'E'))
            .count();
        let mut digits = self.cut(length).filter(|digits| !digits.is_empty())?;
        if let Some(less) = digits.strip_prefix('-') {
            out.push('-');
            digits = less;
        }
        if digits.starts_with('.') {
            out.push('0');
        }
        out.push_str(digits);
        Some(())
    }

    /// A string with its quotes, as it stands.
    fn string(&mut self, out: &mut String) -> Option<()> {
        let mut escaped = true;
        let length = self.rest.bytes().position(|b| {
            let ends = b == b'"' && !escaped;
            // The first quote opens.
            escaped = b == b'\\' && !escaped;
            ends
        })?;
        out.push_str(self.cut(length + 1)?);
        Some(())
    }
}

/// The keys of the bounds by place and letters.
struct Keys(Vec<(u32, &'static str)>);

impl Keys {
    fn of_the_bounds() -> Self {
        let mut keys = Self(vec![(0, ""); PLACES]);
        for row in bounds::ROWS {
            let mut place = ROOT;
            for part in row.path.split('.') {
                let mut key = part;
                let mut lists = 0;
                while let Some(list) = key.strip_suffix("[]") {
                    key = list;
                    lists += 1;
                }
                let below = step(place, key);
                let slot = slot(place, code(below));
                let at = keys.find(slot);
                if let Some(entry) = keys.0.get_mut(at) {
                    // The first of two alike; the test below sees that there are none.
                    if entry.1.is_empty() {
                        *entry = (slot, key);
                    }
                }
                place = below;
                for _ in 0..lists {
                    place = step(place, "[]");
                }
            }
        }
        keys
    }

    /// Where a slot is, or the free place where it would be.
    fn find(&self, slot: u32) -> usize {
        let mut at = slot as usize % PLACES;
        for _ in 0..PLACES {
            match self.0.get(at) {
                Some((known, key)) if *known != slot && !key.is_empty() => {
                    at = (at + 1) % PLACES;
                }
                _ => break,
            }
        }
        at
    }

    fn get(&self, slot: u32) -> Option<&'static str> {
        let (_, key) = *self.0.get(self.find(slot))?;
        (!key.is_empty()).then_some(key)
    }

    fn write_member(&self, place: u32, key: &str, value: &Value, out: &mut String) {
        let quoted = written(&Value::from(key));
        // As it is written: the reader does not undo escapes.
        let below = step(place, quoted.trim_matches('"'));
        let code = code(below);
        if self.get(slot(place, code)) == Some(key) {
            for letter in code {
                out.push(letter as char);
            }
        } else {
            out.push_str(&quoted);
        }
        self.write(below, value, out);
    }

    /// Depth is that of the tree, which is bounded.
    fn write(&self, place: u32, value: &Value, out: &mut String) {
        match value {
            Value::Object(entries) => {
                out.push('(');
                for (key, value) in entries {
                    self.write_member(place, key, value, out);
                }
                out.push(')');
            }
            Value::Array(items) => {
                out.push('[');
                let mut number = false;
                for item in items {
                    if number && item.is_number() {
                        out.push(',');
                    }
                    number = item.is_number();
                    self.write(step(place, "[]"), item, out);
                }
                out.push(']');
            }
            Value::Number(digits) => {
                let mut digits = digits.as_str();
                if let Some(less) = digits.strip_prefix('-') {
                    out.push('-');
                    digits = less;
                }
                if let Some(less) = digits.strip_prefix('0')
                    && less.starts_with('.')
                {
                    digits = less;
                }
                out.push_str(digits);
            }
            Value::String(_) => out.push_str(&written(value)),
            Value::Bool(true) => out.push('*'),
            Value::Bool(false) => out.push('/'),
            Value::Null => out.push('_'),
        }
    }
}

/// The place below a place.
fn step(place: u32, key: &str) -> u32 {
    hashed(hashed(place, key.as_bytes()), b".")
}

/// Fowler, Noll and Vo's hash, 1a, 32 bits.
fn hashed(from: u32, bytes: &[u8]) -> u32 {
    bytes.iter().fold(from, |sum, byte| {
        (sum ^ u32::from(*byte)).wrapping_mul(0x0100_0193)
    })
}

/// The two letters of a place.
fn code(place: u32) -> [u8; 2] {
    let mixed = (place ^ place >> 15) as usize;
    let of = |letters: &[u8], at: usize| letters.get(at % letters.len()).copied().unwrap_or(b'a');
    [of(FIRST, mixed), of(SECOND, mixed / FIRST.len())]
}

/// Where two letters of a place are kept.
fn slot(place: u32, code: [u8; 2]) -> u32 {
    hashed(place, &code)
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::{BTreeMap, BTreeSet};

    #[test]
    fn no_two_keys_of_one_place_have_the_same_letters() {
        let mut seen: BTreeMap<(String, [u8; 2]), String> = BTreeMap::new();
        let mut places = BTreeMap::new();
        let mut slots = BTreeMap::new();
        for row in bounds::ROWS {
            let mut place = ROOT;
            let mut above = String::new();
            for part in row.path.split('.') {
                let key = part.trim_end_matches("[]");
                let below = step(place, key);
                let known = seen.insert((above.clone(), code(below)), key.to_owned());
                assert!(known.is_none_or(|known| known == key), "{above} {key}");
                let here = format!("{above}.{key}");
                let known = slots.insert(slot(place, code(below)), here.clone());
                assert!(known.is_none_or(|known| known == here), "{here}");
                place = below;
                for _ in 0..part.matches("[]").count() {
                    place = step(place, "[]");
                }
                above = format!("{above}.{part}");
                let known = places.insert(place, above.clone());
                assert!(known.is_none_or(|known| known == above), "{above}");
            }
        }
        let names: BTreeSet<&String> = slots.values().collect();
        assert!(names.len() * 2 < PLACES, "{}", names.len());
    }

    /// Letters are for good: links that are out in the world hold them.
    #[test]
    fn a_short_text_written_once_is_read_for_ever() {
        let text = r#"{"format":"battenwright-design","masts":[{"position_m":0.85,"sail":{"chord_m":2.60,"cut":"flat","head_widths_pct":[90,80.5]}}],"name":"A","own":{"x":[null,true,false,-0.50]},"version":1}"#;
        let document = Document::open(text).unwrap();
        let short = packed(&document);
        assert_eq!(
            short,
            r#"1As[(cI.85Ap(Ls2.60HL"flat"M1[90,80.5]))]TO"A""own"("x"[_*/-.50])"#
        );
        assert_eq!(
            Document::open(&unpacked(&short).unwrap()).unwrap().text(),
            text
        );
    }

    #[test]
    fn what_is_no_short_text_is_refused() {
        for short in [
            "",
            "x",
            "1)",
            "1(",
            "1\"a",
            "1\"a\"",
            "1\"a\"(",
            "1\"a\"[1",
            "1\"a\"1)",
            "1é",
            "1aé1",
            "1\"a\\\"1",
            "1\"a\"?",
        ] {
            assert_eq!(unpacked(short), Err(Unread::Unknown), "{short}");
        }
        let deep = ["1\"a\"", &"[".repeat(10_000), &"]".repeat(10_000)].concat();
        assert_eq!(unpacked(&deep), Err(Unread::Unknown));
        // Two letters each that become a long key: no more is written than can be opened.
        let long =
            r#"{"boat":{"displacement_band_pct":1},"format":"battenwright-design","version":1}"#;
        let once = packed(&Document::open(long).unwrap()).split_off(1);
        assert!(unpacked(&format!("1{}", once.repeat(2))).is_ok());
        for short in [
            once.repeat(100_000),
            ["\"a\"[", &"0,".repeat(30_000), "]"].concat(),
        ] {
            let short = format!("1{short}");
            assert_eq!(unpacked(&short), Err(Unread::TooLarge));
        }
    }
}
