//! Units: parsed and spelled here and nowhere else.
//!
//! Exact factors: 1 ft = 0.3048 m, 1 in = 0.0254 m, 1 lb = 0.45359237 kg
//! (NIST Special Publication 811, Appendix B).

use crate::Text;

mod decimal;
mod typed;

pub use decimal::decimal;

/// Metres per foot, exact (NIST SP 811).
pub const FOOT: f64 = 0.3048;
/// Metres per inch, exact (NIST SP 811).
pub const INCH: f64 = 0.0254;
/// Kilograms per pound, exact (NIST SP 811).
pub const POUND: f64 = 0.453_592_37;

/// Metres a second per knot, exact: 1852 m an hour (NIST SP 811).
pub const KNOT: f64 = 1852.0 / 3600.0;
/// Newton metres per pound-force foot (NIST SP 811, from exact factors).
pub const POUND_FOOT: f64 = POUND_FORCE * FOOT;
/// Newtons per pound-force, exact (NIST SP 811).
pub const POUND_FORCE: f64 = POUND * 9.80665;
/// Grams a square metre per ounce a square yard (NIST SP 811, from exact factors).
pub const OUNCE_YARD: f64 = POUND / 16.0 * 1000.0 / (9.0 * FOOT * FOOT);
/// Megapascals per pound-force a square inch (NIST SP 811, from exact factors); as many gigapascals per thousand of them.
pub const PSI: f64 = POUND_FORCE / (INCH * INCH) / 1e6;
/// Kilonewtons a metre per pound-force an inch (NIST SP 811, from exact factors).
pub const POUND_INCH: f64 = POUND_FORCE / INCH / 1000.0;
/// Kilograms a cubic metre per pound a cubic foot (NIST SP 811, from exact factors).
pub const POUND_CUBIC_FOOT: f64 = POUND / (FOOT * FOOT * FOOT);

/// The units a user reads and types, and the decimal sign.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub struct Units {
    /// Metric or imperial.
    pub measures: Measures,
    /// Decimals behind a comma, as the language has it; a point then may be meant for a thousand.
    pub comma: bool,
}

impl Units {
    /// Metric units, decimal point.
    pub const METRIC: Units = Units {
        measures: Measures::Metric,
        comma: false,
    };
    /// Imperial units, decimal point.
    pub const IMPERIAL: Units = Units {
        measures: Measures::Imperial,
        comma: false,
    };

    /// Whether feet, inches and pounds are read and typed.
    pub const fn imperial(self) -> bool {
        matches!(self.measures, Measures::Imperial)
    }

    /// A number for a reader: as [`fixed`], with the decimal sign of the language.
    pub fn fixed(self, value: f64, decimals: u8) -> String {
        self.parted(fixed(value, decimals))
    }

    /// A number with a decimal point, as the language parts it.
    fn parted(self, number: String) -> String {
        if !self.comma {
            return number;
        }
        let mut out = String::with_capacity(number.len());
        for letter in number.chars() {
            out.push(if letter == '.' { ',' } else { letter });
        }
        out
    }
}

/// What lengths, areas and masses are told in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Measures {
    /// Metres, millimetres, kilograms.
    #[default]
    Metric,
    /// Feet and inches with fractions to 1/16, square feet, pounds.
    Imperial,
}

/// What kind of unit a quantity has. The *document unit* is what is stored.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum UnitKind {
    /// Length; document m; shown m, or feet and inches.
    Length,
    /// Small length; document m; shown mm, or inches.
    Fine,
    /// Area; document m²; shown m² or ft².
    Area,
    /// Angle; document degrees.
    Angle,
    /// Share; document per cent.
    Percent,
    /// Mass; document kg; shown kg or lb.
    Mass,
    /// Plain ratio.
    Ratio,
    /// Count; also the kind of quantities that are words.
    Count,
    /// Second moment of area; document m⁴; shown m⁴ or ft⁴.
    SecondMoment,
    /// Speed; document knots; shown knots.
    Speed,
    /// Time; document seconds.
    Time,
    /// Moment of a force; document N m; shown kN m or lbf ft.
    Moment,
    /// Force; document N; shown N or lbf.
    Force,
    /// Force on hull and deck; document N; shown kN, or tens of lbf.
    GreatForce,
    /// Work; document J; shown J or ft lbf.
    Work,
    /// Cloth by its area; document g/m²; shown g/m² or oz/yd².
    Cloth,
    /// Stress; document MPa; shown MPa or psi.
    Stress,
    /// Young's modulus; document GPa; shown GPa or ksi.
    Modulus,
    /// Force over stretch; document kN/m; shown kN/m or lbf/in.
    Spring,
    /// Density; document kg/m³; shown kg/m³ or lb/ft³.
    Density,
}

/// Reads what a user typed, in any of the spellings understood, as a value in document units.
///
/// A bare number takes the unit of the mode: metres or feet for [`UnitKind::Length`], millimetres
/// or inches for [`UnitKind::Fine`]. Decimal point or comma; thousands separators and powers of ten
/// are refused, since they can be read two ways or are slips: of point and comma it is the one that is
/// not the decimal sign of the language which may be meant for a thousand.
///
/// # Errors
/// A sentence naming what was typed and what is allowed.
pub fn parse(kind: UnitKind, text: &str, units: Units) -> Result<f64, Text> {
    typed::parse(kind, text, units)
}

/// The number alone in the user's units, with fixed decimals; feet and inches carry their marks.
///
/// `value` in document units. `decimals` counts in metric units (of mm for [`UnitKind::Fine`]);
/// areas lose one digit in square feet and second moments two, as those units are smaller.
/// Feet and inches go to 1/16 inch; what is told to parts of a millimetre, as walls are, to parts of a thousandth of an inch.
pub fn spell(kind: UnitKind, decimals: u8, value: f64, units: Units) -> String {
    spell_given(kind, decimals, decimals, value, units)
}

/// As [`spell`], with as many more decimals as the value holds, up to `most`:
/// what stands in a field must show what is stored.
pub fn spell_given(kind: UnitKind, decimals: u8, most: u8, value: f64, units: Units) -> String {
    units.parted(with_point(kind, decimals, most, value, units))
}

fn with_point(kind: UnitKind, decimals: u8, most: u8, value: f64, units: Units) -> String {
    let (shown, fewer) = match (kind, units.measures) {
        (UnitKind::Length, Measures::Imperial) => return feet_and_inches(value),
        (UnitKind::Fine, Measures::Imperial) if decimals == 0 => return inches(value),
        (UnitKind::Fine, Measures::Imperial) => {
            let mut spelled = fixed(value / INCH, decimals + 2);
            spelled.push('"');
            return spelled;
        }
        (UnitKind::Fine, Measures::Metric) => (value * 1000.0, 0),
        (UnitKind::Moment | UnitKind::GreatForce, Measures::Metric) => (value / 1000.0, 0),
        (UnitKind::GreatForce, Measures::Imperial) => {
            return fixed((value / POUND_FORCE / 10.0).round() * 10.0, 0);
        }
        (_, Measures::Metric) => (value, 0),
        _ => {
            let (size, fewer) = imperial(kind);
            (value / size, fewer)
        }
    };
    let decimals = decimals.saturating_sub(fewer);
    // A converted number has endless digits and none of them was typed.
    let converted = matches!(
        kind,
        UnitKind::Mass
            | UnitKind::Force
            | UnitKind::Work
            | UnitKind::Cloth
            | UnitKind::Spring
            | UnitKind::Density
    );
    let most = if fewer > 0 || (converted && units.imperial()) {
        decimals
    } else {
        most.max(decimals)
    };
    let mut spelled = fixed(shown, most);
    if !spelled.contains('.') {
        return spelled;
    }
    for _ in decimals..most {
        if !spelled.ends_with('0') {
            return spelled;
        }
        spelled.pop();
    }
    if decimals == 0 && spelled.ends_with('.') {
        spelled.pop();
    }
    spelled
}

/// The imperial unit in document units, and by how many digits it is smaller. One where there is none.
fn imperial(kind: UnitKind) -> (f64, u8) {
    match kind {
        UnitKind::Area => (FOOT * FOOT, 1),
        UnitKind::Mass => (POUND, 0),
        UnitKind::SecondMoment => (FOOT * FOOT * FOOT * FOOT, 2),
        UnitKind::Moment => (POUND_FOOT, 2),
        UnitKind::Force => (POUND_FORCE, 0),
        UnitKind::Work => (POUND_FOOT, 0),
        UnitKind::Cloth => (OUNCE_YARD, 0),
        UnitKind::Stress | UnitKind::Modulus => (PSI, 2),
        UnitKind::Spring => (POUND_INCH, 0),
        UnitKind::Density => (POUND_CUBIC_FOOT, 0),
        _ => (1.0, 0),
    }
}

/// Sixteenths of an inch, rounded; none where the number is beyond any ship.
fn sixteenths(value: f64) -> Option<u64> {
    let count = (value.abs() / INCH * 16.0).round();
    (count < 1e12).then_some(count as u64)
}

fn feet_and_inches(value: f64) -> String {
    let Some(count) = sixteenths(value) else {
        return fixed(value / FOOT, 0);
    };
    let mut out = String::with_capacity(12);
    if value < 0.0 && count > 0 {
        out.push('-');
    }
    let feet = count / 192;
    if feet > 0 {
        push_digits(&mut out, feet, 1);
        out.push_str("' ");
    }
    push_inches(&mut out, count % 192);
    out
}

fn inches(value: f64) -> String {
    let Some(count) = sixteenths(value) else {
        return fixed(value / INCH, 0);
    };
    let mut out = String::with_capacity(12);
    if value < 0.0 && count > 0 {
        out.push('-');
    }
    push_inches(&mut out, count);
    out
}

/// Whole inches, a reduced fraction, the mark.
fn push_inches(out: &mut String, count: u64) {
    let (whole, mut part, mut of) = (count / 16, count % 16, 16);
    if whole > 0 || part == 0 {
        push_digits(out, whole, 1);
    }
    if part > 0 {
        while part % 2 == 0 {
            part /= 2;
            of /= 2;
        }
        if whole > 0 {
            out.push(' ');
        }
        push_digits(out, part, 1);
        out.push('/');
        push_digits(out, of, 1);
    }
    out.push('"');
}

/// The unit that follows a spelled number; empty where there is none or the marks are in the number.
pub const fn label(kind: UnitKind, units: Units) -> &'static str {
    match (kind, units.measures) {
        (UnitKind::Length, Measures::Metric) => "m",
        (UnitKind::Fine, Measures::Metric) => "mm",
        (UnitKind::Length | UnitKind::Fine, Measures::Imperial) => "",
        (UnitKind::Area, Measures::Metric) => "m²",
        (UnitKind::Area, Measures::Imperial) => "ft²",
        (UnitKind::Angle, _) => "°",
        (UnitKind::Percent, _) => "%",
        (UnitKind::Mass, Measures::Metric) => "kg",
        (UnitKind::Mass, Measures::Imperial) => "lb",
        (UnitKind::Ratio | UnitKind::Count, _) => "",
        (UnitKind::SecondMoment, Measures::Metric) => "m⁴",
        (UnitKind::SecondMoment, Measures::Imperial) => "ft⁴",
        (UnitKind::Speed, _) => "kn",
        (UnitKind::Time, _) => "s",
        (UnitKind::Moment, Measures::Metric) => "kN\u{a0}m",
        (UnitKind::Moment, Measures::Imperial) => "lbf\u{a0}ft",
        (UnitKind::Force, Measures::Metric) => "N",
        (UnitKind::GreatForce, Measures::Metric) => "kN",
        (UnitKind::Force | UnitKind::GreatForce, Measures::Imperial) => "lbf",
        (UnitKind::Work, Measures::Metric) => "J",
        (UnitKind::Work, Measures::Imperial) => "ft\u{a0}lbf",
        (UnitKind::Cloth, Measures::Metric) => "g/m²",
        (UnitKind::Cloth, Measures::Imperial) => "oz/yd²",
        (UnitKind::Stress, Measures::Metric) => "MPa",
        (UnitKind::Stress, Measures::Imperial) => "psi",
        (UnitKind::Modulus, Measures::Metric) => "GPa",
        (UnitKind::Modulus, Measures::Imperial) => "ksi",
        (UnitKind::Spring, Measures::Metric) => "kN/m",
        (UnitKind::Spring, Measures::Imperial) => "lbf/in",
        (UnitKind::Density, Measures::Metric) => "kg/m³",
        (UnitKind::Density, Measures::Imperial) => "lb/ft³",
    }
}

/// The document unit in SI (radians, shares of one).
fn document_unit(kind: UnitKind) -> f64 {
    match kind {
        UnitKind::Speed => KNOT,
        UnitKind::Stress => 1e6,
        UnitKind::Modulus => 1e9,
        UnitKind::Spring => 1e3,
        _ => 1.0,
    }
}

/// From SI (radians, shares of one) to document units (degrees, per cent, knots).
pub fn document_from_si(kind: UnitKind, si: f64) -> f64 {
    match kind {
        UnitKind::Angle => si.to_degrees(),
        UnitKind::Percent => si * 100.0,
        _ => si / document_unit(kind),
    }
}

/// From document units (degrees, per cent, knots) to SI (radians, shares of one).
pub fn si_from_document(kind: UnitKind, value: f64) -> f64 {
    match kind {
        UnitKind::Angle => value.to_radians(),
        UnitKind::Percent => value / 100.0,
        _ => value * document_unit(kind),
    }
}

/// A number with fixed decimals and a decimal point, for files and for [`Units::fixed`]; a dash where there is no number.
///
/// Written by hand, not with `format!`: the same digits everywhere, and the float printing of the
/// standard library stays out of the wasm.
pub fn fixed(value: f64, decimals: u8) -> String {
    if !value.is_finite() {
        return "–".to_string();
    }
    let decimals = usize::from(decimals.min(9));
    let mut power: u64 = 1;
    for _ in 0..decimals {
        power *= 10;
    }
    let scaled = (value.abs() * power as f64).round();
    let mut out = String::with_capacity(12);
    if value < 0.0 && scaled > 0.0 {
        out.push('-');
    }
    if scaled >= 1e15 {
        // Nothing on a boat: few digits and a power of ten, so that the page keeps its shape.
        let mut mantissa = value.abs();
        let mut exponent: u64 = 0;
        while mantissa >= 10.0 && exponent < 400 {
            mantissa /= 10.0;
            exponent += 1;
        }
        push_digits(&mut out, mantissa as u64, 1);
        out.push('e');
        push_digits(&mut out, exponent, 1);
        return out;
    }
    let digits = scaled as u64;
    push_digits(&mut out, digits / power, 1);
    if decimals > 0 {
        out.push('.');
        push_digits(&mut out, digits % power, decimals);
    }
    out
}

fn push_digits(out: &mut String, mut number: u64, width: usize) {
    let mut digits = [b'0'; 20];
    let mut first = digits.len();
    while number > 0 || digits.len() - first < width.min(20) {
        first -= 1;
        if let Some(digit) = digits.get_mut(first) {
            *digit = b'0' + (number % 10) as u8;
        }
        number /= 10;
    }
    for digit in digits.iter().skip(first) {
        out.push(char::from(*digit));
    }
}
