//! Decimal digits to the nearest double. `str::parse` and the libraries carry their tables and more
//! than one way to go, 4 to 10 KB of the download; here are the shortest way and the plainest.

use std::cmp::Ordering;

/// More digits than can decide a rounding (767 is the most of a number half way between two doubles).
const MOST_DIGITS: usize = 780;

/// The double nearest to a decimal number with a point or none, with or without a power of ten;
/// infinite beyond the doubles, none where the text is something else. Half way goes to the even one.
pub fn decimal(text: &str) -> Option<f64> {
    let digits = text.strip_prefix('-').unwrap_or(text);
    let magnitude = unsigned(digits)?;
    Some(if digits.len() < text.len() {
        -magnitude
    } else {
        magnitude
    })
}

fn unsigned(text: &str) -> Option<f64> {
    let mut number = Whole::default();
    let (mut any, mut point, mut rest) = (false, false, false);
    let (mut digits, mut power) = (0, 0_i32);
    let mut letters = text.as_bytes().iter();
    while let Some(&letter) = letters.next() {
        match letter {
            b'0'..=b'9' => {
                any = true;
                let digit = u32::from(letter - b'0');
                if digits < MOST_DIGITS {
                    number.multiply(10, digit);
                    digits += usize::from(!number.0.is_empty());
                    power -= i32::from(point);
                } else {
                    rest |= digit > 0;
                    power += i32::from(!point);
                }
            }
            b'.' if !point => point = true,
            b'e' | b'E' => {
                power = power.saturating_add(exponent(letters.as_slice())?);
                break;
            }
            _ => return None,
        }
    }
    if !any {
        return None;
    }
    if let (0..=15, -22..=22) = (digits, power) {
        // Both are exact, so the one operation rounds once (W. D. Clinger 1990).
        let ten = (0..power.abs()).fold(1.0, |product, _| product * 10.0);
        let exact = number
            .0
            .iter()
            .rev()
            .fold(0.0, |sum, word| sum * 4_294_967_296.0 + f64::from(*word));
        return Some(if power < 0 { exact / ten } else { exact * ten });
    }
    if rest {
        // Whatever they are, they only tell that it is more than the digits kept.
        number.multiply(10, 1);
        power = power.saturating_sub(1);
        digits += 1;
    }
    // Below 10^top: the least double is 4.9e-324, the greatest 1.8e308.
    let top = power.saturating_add(i32::try_from(digits).unwrap_or(0));
    Some(match top {
        _ if number.0.is_empty() => 0.0,
        i32::MIN..=-324 => 0.0,
        311.. => f64::INFINITY,
        _ => number.times_ten_to(power),
    })
}

/// A whole number with or without a sign; a huge one stays huge.
fn exponent(text: &[u8]) -> Option<i32> {
    let (sign, digits) = match text {
        [b'-', digits @ ..] => (-1, digits),
        [b'+', digits @ ..] => (1, digits),
        digits => (1, digits),
    };
    let read = |number: i32, letter: &u8| {
        let digit = letter.is_ascii_digit().then(|| i32::from(letter - b'0'))?;
        Some((number * 10 + digit).min(100_000_000))
    };
    let number = digits.iter().try_fold(0, read)?;
    (!digits.is_empty()).then_some(sign * number)
}

/// A whole number of any length, least word first, none of them zero at the end.
#[derive(Default)]
struct Whole(Vec<u32>);

impl Whole {
    /// Times a factor, and something added.
    fn multiply(&mut self, factor: u32, add: u32) {
        let mut carry = u64::from(add);
        for word in &mut self.0 {
            carry += u64::from(*word) * u64::from(factor);
            *word = carry as u32;
            carry >>= 32;
        }
        if carry > 0 {
            self.0.push(carry as u32);
        }
    }

    /// Times two to a power; a negative one changes nothing.
    fn shift(&mut self, bits: i32) {
        for _ in 0..bits / 16 {
            self.multiply(1 << 16, 0);
        }
        self.multiply(1 << (bits.max(0) % 16), 0);
    }

    fn bits(&self) -> i32 {
        let last = self.0.last().map_or(0, |word| 32 - word.leading_zeros());
        (self.0.len().saturating_sub(1) * 32) as i32 + last as i32
    }

    /// Takes the other off and tells so, if it is not more.
    fn take(&mut self, other: &Self) -> bool {
        let by_length = self.0.len().cmp(&other.0.len());
        let order = by_length.then_with(|| self.0.iter().rev().cmp(other.0.iter().rev()));
        if order == Ordering::Less {
            return false;
        }
        let mut borrow = 0;
        for (place, word) in self.0.iter_mut().enumerate() {
            let less = i64::from(other.0.get(place).copied().unwrap_or(0)) + borrow;
            let left = i64::from(*word) - less;
            *word = left as u32;
            borrow = i64::from(left < 0);
        }
        while self.0.last() == Some(&0) {
            self.0.pop();
        }
        true
    }

    /// By long division: 54 or 55 bits of the quotient and whether anything is left, which is all
    /// that rounding to 53 bits asks for.
    fn times_ten_to(mut self, power: i32) -> f64 {
        const QUOTIENT: i32 = 54;
        let mut divisor = Self(vec![1]);
        for _ in 0..power.abs() {
            if power < 0 { &mut divisor } else { &mut self }.multiply(10, 0);
        }
        // A unit of the quotient is two to this; the least double is 2^-1074, half of it must show.
        let unit = (self.bits() - divisor.bits() - QUOTIENT).max(-1075);
        divisor.shift(unit + QUOTIENT);
        self.shift(-unit - QUOTIENT);
        let mut quotient = 0_u64;
        for _ in 0..=QUOTIENT {
            quotient = quotient << 1 | u64::from(self.take(&divisor));
            self.multiply(2, 0);
        }
        let spare = if quotient >> QUOTIENT > 0 { 2 } else { 1 };
        let half = 1 << (spare - 1);
        let over = quotient & (2 * half - 1);
        let mut kept = quotient >> spare;
        let odd = kept & 1 == 1 || !self.0.is_empty();
        if over > half || over == half && odd {
            kept += 1;
        }
        // IEEE 754: the leading bit is not written but counts one in the exponent.
        let exponent = (unit + spare + 1074) as u64;
        f64::from_bits(((exponent << 52) + kept).min(f64::INFINITY.to_bits()))
    }
}

#[cfg(test)]
mod tests {
    use super::decimal;
    use proptest::prelude::*;

    /// The standard library reads by other algorithms.
    fn agrees(text: &str) {
        let standard: f64 = text.parse().unwrap();
        let ours = decimal(text).map(f64::to_bits);
        assert_eq!(ours, Some(standard.to_bits()), "{text} is {standard:e}");
    }

    #[test]
    fn ends_and_middles_of_the_doubles_are_met() {
        // IEEE 754 binary64: greatest and least double, the least normal one, and half ways about them.
        for text in [
            "1.7976931348623157e308",
            "1.7976931348623158079372897140530341507e308",
            "1.7976931348623159e308",
            "2e308",
            "1e+999",
            "1e-999",
            "2.2250738585072014e-308",
            "2.2250738585072011e-308",
            "4.9406564584124654e-324",
            "2.4703282292062327e-324",
            "2.4703282292062328e-324",
            "9007199254740993",
            "9007199254740993.0000000000000000000000001",
            "9007199254740992.9999999999999999999999999",
            "1e22",
            "1e23",
            "8.5e22",
            "-0",
            "0e5",
            "-4.50",
            ".5",
            "5.",
            "00012.250",
            "1E5",
            "123456789012345678901234567890",
            "0.1e-99999999999999999999",
            "1e99999999999999999999",
        ] {
            agrees(text);
        }
    }

    #[test]
    fn long_texts_are_read_to_the_last_digit() {
        let zeros = "0".repeat(2000);
        agrees(&format!("0.{zeros}1"));
        agrees(&format!("1{zeros}"));
        agrees(&format!("1{zeros}e-2000"));
        agrees(&format!("0.{zeros}25e2001"));
        // 2^53 + 1 lies half way; the last digit of two thousand decides.
        agrees(&format!("9007199254740993.{zeros}"));
        agrees(&format!("9007199254740993.{zeros}1"));
        agrees(&"7".repeat(3000));
        // Half of the least double, 5^1075 / 10^1075, has the most digits of all half ways.
        let half = (0..1075).fold(vec![1_u8], |digits, _| {
            let mut carry = 0;
            let mut next: Vec<u8> = digits
                .iter()
                .map(|digit| {
                    carry += digit * 5;
                    let last = carry % 10;
                    carry /= 10;
                    last
                })
                .collect();
            next.extend((carry > 0).then_some(carry));
            next
        });
        let half: String = half
            .iter()
            .rev()
            .map(|digit| char::from(b'0' + digit))
            .collect();
        agrees(&format!("{half}e-1075"));
        agrees(&format!("{half}0000000000000001e-1091"));
    }

    #[test]
    fn what_is_no_decimal_number_is_none() {
        for text in [
            "", "-", ".", "-.", "e5", "1e", "1e+", "1.2.3", "1e5.0", "1 ", "+1", "--1", "inf",
            "NaN", "0x10", "1_000", "\u{663}",
        ] {
            assert_eq!(decimal(text), None, "{text:?}");
        }
    }

    proptest! {
        #[test]
        fn every_double_is_read_back(bits in any::<u64>()) {
            let value = f64::from_bits(bits);
            prop_assume!(value.is_finite());
            agrees(&format!("{value:e}"));
            agrees(&format!("{value}"));
        }

        #[test]
        fn digits_are_read_as_the_standard_library_reads_them(text in r"-?[0-9]{1,25}(\.[0-9]{0,25})?(e-?[0-9]{1,3})?") {
            agrees(&text);
        }

        #[test]
        fn half_ways_go_to_the_even_one(bits in any::<u32>(), power in 0..900_i32, more in 0..3_u8) {
            // A half way between two doubles written out in full: an odd number of 54 bits times a power of two.
            let odd = (1_u128 << 53) | u128::from(bits) << 1 | 1;
            let tail = ["", ".0000000000000000000000001", "e0"][usize::from(more)];
            agrees(&format!("{}{tail}", odd << (power % 60)));
        }
    }
}
