//! What people type as a measure, on keyboards and phones.
//!
//! First the characters are made plain (quotes, primes, dashes, spaces, fractions), then cut into
//! pieces, then the pieces are read by a small grammar:
//!
//! ```text
//! measure = [sign] amount [unit]
//!         | [sign] whole (feet | dash) [dash] amount [inch]
//! amount  = number | number "/" number | whole number "/" number
//! ```
//!
//! A comma is a decimal comma: where that is the custom, the number keys of a phone have no point.
//! Only a comma before exactly three digits (`1,234`) could be meant for a thousand, so there the
//! unit decides, in either mode alike: nothing aboard comes to a thousand metres, feet, degrees or
//! per cent, and `4,430` is 4.43 m; millimetres, inches, areas and masses may, and `4,430 mm` is
//! refused. In a language with a decimal comma the point takes that part. More than one separator is
//! refused anyhow.

use super::{
    FOOT, INCH, KNOT, Measures, OUNCE_YARD, POUND, POUND_FORCE, PSI, UnitKind, Units, imperial,
};
use crate::Text;

/// Longer than any measure; keeps the work and the message bounded.
const MOST_TYPED: usize = 60;

/// One piece of what was typed.
#[derive(Clone, Debug, PartialEq)]
enum Piece {
    Number(Number),
    Slash,
    Dash,
    Feet,
    Inch,
    Word(String),
}

/// A run of digits with at most one decimal separator.
#[derive(Clone, Debug, PartialEq)]
struct Number {
    value: f64,
    /// No separator in it.
    whole: bool,
    /// `1,234`: one that parts thousands before exactly three digits.
    mark_before_three: bool,
    /// As typed.
    digits: String,
}

/// Why it cannot be read.
#[derive(Debug, PartialEq)]
enum Fault {
    NotUnderstood,
    /// Holds a thousands separator; the same number without.
    Thousands(String),
    /// Two readings: whole and decimal.
    TwoWays(String, String),
    PowerOfTen,
    /// Inches of twelve or more beside feet, or feet that are not whole.
    FeetAndInches,
    NotWhole,
    ByZero,
}

pub(super) fn parse(kind: UnitKind, text: &str, units: Units) -> Result<f64, Text> {
    read(kind, text, units).map_err(|fault| say(fault, kind, text, units))
}

fn say(fault: Fault, kind: UnitKind, text: &str, units: Units) -> Text {
    let (key, plain, other) = match fault {
        Fault::NotUnderstood => (not_understood(kind), None, None),
        Fault::Thousands(plain) => ("problem.thousands", Some(plain), None),
        Fault::TwoWays(whole, decimal) => ("problem.two_ways", Some(whole), Some(decimal)),
        Fault::PowerOfTen => ("problem.power_of_ten", None, None),
        Fault::FeetAndInches => ("problem.feet_and_inches", None, None),
        Fault::NotWhole => ("problem.not_whole", None, None),
        Fault::ByZero => ("problem.by_zero", None, None),
    };
    let typed: String = text.trim().chars().take(MOST_TYPED).collect();
    let mut said = Text::new(key).with("typed", typed);
    if let Some(plain) = plain {
        said = said.with("plain", units.parted(plain));
    }
    if let Some(other) = other {
        said = said.with("other", units.parted(other));
    }
    said
}

fn not_understood(kind: UnitKind) -> &'static str {
    match kind {
        UnitKind::Length => "problem.not_a_length",
        UnitKind::Fine => "problem.not_a_fine_length",
        UnitKind::Area => "problem.not_an_area",
        UnitKind::Angle => "problem.not_an_angle",
        UnitKind::Percent => "problem.not_a_percentage",
        UnitKind::Mass => "problem.not_a_mass",
        UnitKind::Speed => "problem.not_a_speed",
        UnitKind::Ratio
        | UnitKind::SecondMoment
        | UnitKind::Time
        | UnitKind::Moment
        | UnitKind::Force
        | UnitKind::GreatForce
        | UnitKind::Work
        | UnitKind::Cloth
        | UnitKind::Stress
        | UnitKind::Modulus
        | UnitKind::Spring
        | UnitKind::Density => "problem.not_a_number",
        UnitKind::Count => "problem.not_whole",
    }
}

fn read(kind: UnitKind, text: &str, units: Units) -> Result<f64, Fault> {
    if text.trim().chars().count() > MOST_TYPED {
        return Err(Fault::NotUnderstood);
    }
    let pieces = cut(&plain(text), kind == UnitKind::Area, mark(units))?;
    let (negative, rest) = match pieces.split_first() {
        Some((Piece::Dash, rest)) => (true, rest),
        _ => (false, pieces.as_slice()),
    };
    let size = match kind {
        UnitKind::Length | UnitKind::Fine => length(kind, rest, units)?,
        _ => other(kind, rest, units)?,
    };
    // Finite, since so few digits cannot overflow. Minus nothing is nothing.
    Ok(if negative && size != 0.0 { -size } else { size })
}

/// The same characters as a plain keyboard would type them, in small letters.
fn plain(text: &str) -> String {
    let mut plain = String::with_capacity(text.len() + 8);
    for letter in text.chars() {
        match letter {
            '\''
            | '\u{2018}'..='\u{201b}'
            | '\u{2032}'
            | '\u{2b9}'
            | '\u{2bc}'
            | '\u{ff07}'
            | '`'
            | '´' => feet_mark(&mut plain),
            '\u{201c}'..='\u{201f}' | '\u{2033}' | '\u{2ba}' | '\u{ff02}' => plain.push('"'),
            '\u{2010}'..='\u{2015}' | '\u{2212}' | '\u{fe58}' | '\u{fe63}' | '\u{ff0d}' => {
                plain.push('-')
            }
            '\u{2044}' | '\u{2215}' => plain.push('/'),
            // Marks of no width, which copying brings along.
            '\u{ad}' | '\u{200b}'..='\u{200f}' | '\u{2060}' | '\u{feff}' => {}
            'º' | '˚' => plain.push('°'),
            '½' => plain.push_str(" 1/2"),
            '¼' => plain.push_str(" 1/4"),
            '¾' => plain.push_str(" 3/4"),
            '⅛' => plain.push_str(" 1/8"),
            '⅜' => plain.push_str(" 3/8"),
            '⅝' => plain.push_str(" 5/8"),
            '⅞' => plain.push_str(" 7/8"),
            '⅓' => plain.push_str(" 1/3"),
            '⅔' => plain.push_str(" 2/3"),
            _ if letter.is_whitespace() => plain.push(' '),
            _ => plain.push(letter.to_ascii_lowercase()),
        }
    }
    plain
}

/// Adds a feet mark; two of them are an inch mark.
fn feet_mark(plain: &mut String) {
    if plain.ends_with('\'') {
        plain.pop();
        plain.push('"');
    } else {
        plain.push('\'');
    }
}

/// The sign that may part thousands.
fn mark(units: Units) -> char {
    if units.comma { '.' } else { ',' }
}

/// Cuts plain text into pieces. `squares`: a 2 behind a word belongs to it (`m2`). `mark` may part thousands.
fn cut(plain: &str, squares: bool, mark: char) -> Result<Vec<Piece>, Fault> {
    let mut pieces = Vec::new();
    let mut letters = plain.trim().chars().peekable();
    // A plus sign says nothing.
    letters.next_if_eq(&'+');
    while let Some(letter) = letters.next() {
        match letter {
            ' ' => {}
            '/' => pieces.push(Piece::Slash),
            '-' => pieces.push(Piece::Dash),
            '\'' => pieces.push(Piece::Feet),
            '"' => pieces.push(Piece::Inch),
            '°' | '%' => pieces.push(Piece::Word(letter.to_string())),
            '0'..='9' | '.' | ',' => {
                let mut run = String::from(letter);
                while let Some(next) = letters.next_if(|c| matches!(c, '0'..='9' | '.' | ',')) {
                    run.push(next);
                }
                // The point of an abbreviation: "6 in."
                if run == "."
                    && matches!(
                        pieces.last(),
                        Some(Piece::Word(_) | Piece::Feet | Piece::Inch)
                    )
                {
                    continue;
                }
                pieces.push(Piece::Number(number(run, mark)?));
            }
            _ if letter.is_ascii_alphabetic() => {
                let mut word = String::from(letter);
                while let Some(next) = letters.next_if(char::is_ascii_alphabetic) {
                    word.push(next);
                }
                if squares {
                    letters.next_if_eq(&'^');
                    if letters.next_if(|c| matches!(c, '2' | '²')).is_some() {
                        word.push('2');
                    }
                }
                pieces.push(match word.as_str() {
                    "ft" | "feet" | "foot" if !squares => Piece::Feet,
                    "in" | "inch" | "inches" | "ins" if !squares => Piece::Inch,
                    "e" => return Err(Fault::PowerOfTen),
                    _ => Piece::Word(word),
                });
            }
            _ => return Err(Fault::NotUnderstood),
        }
    }
    Ok(pieces)
}

fn number(digits: String, mark: char) -> Result<Number, Fault> {
    let is_separator = |byte: &u8| matches!(byte, b'.' | b',');
    let groups: Vec<usize> = digits
        .as_bytes()
        .split(is_separator)
        .map(<[u8]>::len)
        .collect();
    let separators = groups.len() - 1;
    if digits.len() == separators {
        return Err(Fault::NotUnderstood);
    }
    if separators > 1 {
        // Groups of three between like separators, then perhaps the decimal one.
        let mut marks = digits.bytes().filter(|byte| is_separator(byte));
        let first = marks.next();
        let alike = marks.take(separators - 2).all(|mark| Some(mark) == first);
        let threes = groups
            .iter()
            .take(separators)
            .skip(1)
            .all(|length| *length == 3);
        return Err(if alike && threes {
            Fault::Thousands(without_thousands(&digits))
        } else {
            Fault::NotUnderstood
        });
    }
    let mark_before_three = matches!(groups.as_slice(), [1..=3, 3])
        && digits.contains(mark)
        && !digits.starts_with('0');
    let value = super::decimal(&with_point(&digits)).ok_or(Fault::NotUnderstood)?;
    Ok(Number {
        value,
        whole: separators == 0,
        mark_before_three,
        digits,
    })
}

/// The digits with a decimal point for a comma.
fn with_point(digits: &str) -> String {
    digits
        .chars()
        .map(|letter| if letter == ',' { '.' } else { letter })
        .collect()
}

/// The same number without its thousands separators: the last separator stays as the decimal
/// point if it is another sign than the first.
fn without_thousands(digits: &str) -> String {
    let is_separator = |letter: &char| matches!(letter, '.' | ',');
    let first = digits.chars().find(is_separator);
    let mut out = String::with_capacity(digits.len());
    for letter in digits.chars() {
        if !is_separator(&letter) {
            out.push(letter);
        } else if Some(letter) != first {
            out.push('.');
        }
    }
    out
}

/// An amount and the pieces that follow it.
struct Amount<'a> {
    value: f64,
    whole: bool,
    doubtful: Option<&'a Number>,
    rest: &'a [Piece],
}

fn amount(pieces: &[Piece]) -> Result<Amount<'_>, Fault> {
    use Piece::{Number as N, Slash};
    match pieces {
        [N(top), Slash, N(bottom), rest @ ..] => Ok(Amount {
            value: fraction(top, bottom)?,
            whole: false,
            doubtful: None,
            rest,
        }),
        [N(whole), N(top), Slash, N(bottom), rest @ ..] => {
            let part = fraction(top, bottom)?;
            if !whole.whole || part >= 1.0 {
                return Err(Fault::NotUnderstood);
            }
            Ok(Amount {
                value: whole.value + part,
                whole: false,
                doubtful: None,
                rest,
            })
        }
        // "1 234": a space for the thousands.
        [N(first), N(second), ..] => {
            let grouped =
                first.whole && second.digits.bytes().take_while(u8::is_ascii_digit).count() == 3;
            Err(if grouped {
                let mut same = first.digits.clone();
                for piece in pieces.iter().skip(1) {
                    let N(group) = piece else { break };
                    same.push_str(&with_point(&group.digits));
                }
                Fault::Thousands(same)
            } else {
                Fault::NotUnderstood
            })
        }
        [N(number), rest @ ..] => Ok(Amount {
            value: number.value,
            whole: number.whole,
            doubtful: number.mark_before_three.then_some(number),
            rest,
        }),
        _ => Err(Fault::NotUnderstood),
    }
}

fn fraction(top: &Number, bottom: &Number) -> Result<f64, Fault> {
    if !top.whole || !bottom.whole {
        return Err(Fault::NotUnderstood);
    }
    if bottom.value == 0.0 {
        return Err(Fault::ByZero);
    }
    Ok(top.value / bottom.value)
}

fn length(kind: UnitKind, pieces: &[Piece], units: Units) -> Result<f64, Fault> {
    let first = amount(pieces)?;
    let after_feet = match first.rest {
        [] => return bare_length(kind, &first, units),
        [Piece::Feet] => return Ok(first.value * FOOT),
        [Piece::Inch] => return clear(&first, units).map(|inches| inches * INCH),
        [Piece::Word(word)] => return metric_length(&first, word, units),
        // 14'-6 1/2" as drawings write it.
        [Piece::Feet, Piece::Dash, rest @ ..] => rest,
        [Piece::Feet | Piece::Dash, rest @ ..] => rest,
        _ => return Err(Fault::NotUnderstood),
    };
    let second = amount(after_feet)?;
    if !matches!(second.rest, [] | [Piece::Inch]) {
        return Err(Fault::NotUnderstood);
    }
    let inches = clear(&second, units)?;
    if !first.whole || inches >= 12.0 {
        return Err(Fault::FeetAndInches);
    }
    Ok((first.value * 12.0 + inches) * INCH)
}

fn bare_length(kind: UnitKind, amount: &Amount<'_>, units: Units) -> Result<f64, Fault> {
    match (kind, units.measures) {
        (UnitKind::Fine, Measures::Metric) => clear(amount, units).map(|mm| mm / 1000.0),
        (UnitKind::Fine, Measures::Imperial) => clear(amount, units).map(|inches| inches * INCH),
        (_, Measures::Metric) => Ok(amount.value),
        (_, Measures::Imperial) => Ok(amount.value * FOOT),
    }
}

fn metric_length(amount: &Amount<'_>, unit: &str, units: Units) -> Result<f64, Fault> {
    // Divided, not multiplied: 443 / 100 is the double that 4.43 stands for.
    match unit {
        "m" | "metre" | "metres" | "meter" | "meters" => Ok(amount.value),
        "cm" => clear(amount, units).map(|cm| cm / 100.0),
        "mm" => clear(amount, units).map(|mm| mm / 1000.0),
        _ => Err(Fault::NotUnderstood),
    }
}

fn other(kind: UnitKind, pieces: &[Piece], units: Units) -> Result<f64, Fault> {
    let amount = amount(pieces)?;
    let mut unit = String::new();
    for piece in amount.rest {
        match piece {
            Piece::Word(word) => unit.push_str(word),
            Piece::Slash if kind == UnitKind::Speed => unit.push('/'),
            Piece::Feet if kind == UnitKind::Moment => unit.push_str("ft"),
            _ => return Err(Fault::NotUnderstood),
        }
    }
    let value = match kind {
        UnitKind::Angle | UnitKind::Percent | UnitKind::Ratio => amount.value,
        _ => clear(&amount, units)?,
    };
    match (kind, unit.as_str()) {
        (UnitKind::Area, "m2" | "m²" | "sqm" | "squaremetres" | "squaremeters") => Ok(value),
        (UnitKind::Area, "ft2" | "ft²" | "sqft" | "squarefeet") => Ok(value * FOOT * FOOT),
        (UnitKind::Mass, "kg" | "kgs" | "kilo" | "kilos") => Ok(value),
        (UnitKind::Mass, "lb" | "lbs" | "pound" | "pounds") => Ok(value * POUND),
        (UnitKind::Angle, "" | "°" | "deg" | "degree" | "degrees") => Ok(value),
        (UnitKind::Percent, "" | "%" | "percent") => Ok(value),
        (UnitKind::Ratio | UnitKind::SecondMoment | UnitKind::Work, "") => Ok(value),
        // As it is shown: document N m.
        (UnitKind::Moment, "knm") => Ok(value * 1000.0),
        (UnitKind::Moment, "nm") => Ok(value),
        (UnitKind::Moment, "lbft" | "ftlb" | "lbfft") => Ok(value * imperial(kind).0),
        (UnitKind::Moment, "") if units.imperial() => Ok(value * imperial(kind).0),
        (UnitKind::Moment, "") => Ok(value * 1000.0),
        (UnitKind::Force, "n" | "newton" | "newtons") => Ok(value),
        (UnitKind::Force, "lb" | "lbs" | "lbf") => Ok(value * POUND_FORCE),
        (UnitKind::Cloth, "g" | "gsm") => Ok(value),
        (UnitKind::Cloth, "oz") => Ok(value * OUNCE_YARD),
        (UnitKind::Stress, "mpa") | (UnitKind::Modulus, "gpa") => Ok(value),
        (UnitKind::Stress, "psi") | (UnitKind::Modulus, "ksi") => Ok(value * PSI),
        (UnitKind::Speed, "" | "kn" | "kt" | "kts" | "knot" | "knots") => Ok(value),
        (UnitKind::Speed, "m/s") => Ok(value / KNOT),
        (UnitKind::Time, "" | "s" | "sec" | "second" | "seconds") => Ok(value),
        (
            UnitKind::Area
            | UnitKind::Mass
            | UnitKind::Force
            | UnitKind::Cloth
            | UnitKind::Stress
            | UnitKind::Modulus
            | UnitKind::Spring
            | UnitKind::Density,
            "",
        ) => Ok(match units.measures {
            Measures::Metric => value,
            Measures::Imperial => value * imperial(kind).0,
        }),
        (UnitKind::Count, "") if value.fract() == 0.0 => Ok(value),
        (UnitKind::Count, "") => Err(Fault::NotWhole),
        _ => Err(Fault::NotUnderstood),
    }
}

/// The value of an amount of which there may be a thousand, if it has one reading only.
fn clear(amount: &Amount<'_>, units: Units) -> Result<f64, Fault> {
    match amount.doubtful {
        None => Ok(amount.value),
        Some(number) => Err(Fault::TwoWays(
            number.digits.replace(mark(units), ""),
            with_point(&number.digits),
        )),
    }
}
