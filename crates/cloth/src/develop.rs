//! Rolling cloth that runs straight from spar to spar out flat.

use geometry::unit;
use kurbo::{Point, Vec2};

use crate::mean_line::STEPS;
use crate::part::{Out, Part, halved};
use crate::space::At;

/// A part rolled out: its two rails on the flat cloth, station by station.
pub(crate) struct Flat {
    pub(crate) low: Vec<Point>,
    pub(crate) up: Vec<Point>,
}

/// The parts of both rails' slopes across the ruling, and its length.
struct Ruling {
    /// Along the ruling: lower rail, upper rail.
    along: f64,
    along_up: f64,
    /// Across it: lower rail, upper rail.
    low: At,
    up: At,
    length: f64,
}

fn ruling(part: &Part, half: usize, s: f64) -> Ruling {
    let (low, low_slope) = part.low.at(half, s);
    let (up, up_slope) = part.up.at(half, s);
    let way = up.plus(low, -1.0);
    let length = way.length();
    let unit = At::default().plus(way, 1.0 / length);
    let (along, along_up) = (low_slope.dot(unit), up_slope.dot(unit));
    Ruling {
        along,
        along_up,
        low: low_slope.plus(unit, -along),
        up: up_slope.plus(unit, -along_up),
        length,
    }
}

/// Rolls a ruled part out so that both rails, all rulings and the angles between them keep their size.
///
/// With r the unit ruling of length ρ, and a, b the lengths across it of the slopes of lower and upper rail, the ruling turns by
/// φ' = (a - b)/ρ on the flat cloth. Where both slopes lie in one tangent plane (parallel spars: cylinder or cone) this is the
/// development, exact; else cloth is left over in the middle, see [`ruled_strain`]. Derived. Integrated by Runge and Kutta's
/// fourth order over the stations.
pub(crate) fn rolled_out(part: &Part) -> Flat {
    let mut flat = Flat {
        low: Vec::new(),
        up: Vec::new(),
    };
    if let (Out::Straight(_), Out::Straight(_)) = (part.low.out, part.up.out) {
        // Flat as drawn.
        for i in 0..=STEPS {
            let (half, s) = halved(i);
            flat.low.push(part.low.foot(half, s));
            flat.up.push(part.up.foot(half, s));
        }
        return flat;
    }
    let mut at = Point::ORIGIN;
    let mut angle = core::f64::consts::FRAC_PI_2;
    let mut put = |at: Point, angle: f64, length: f64| {
        flat.low.push(at);
        flat.up.push(at + unit(angle) * length);
    };
    put(at, angle, ruling(part, 0, 0.0).length);
    let step = 2.0 / STEPS as f64;
    for i in 0..STEPS {
        let (half, to) = halved(i + 1);
        let from = to - step;
        let rates = |r: &Ruling, angle: f64| {
            let (a, b) = (r.low.length(), r.up.length());
            let up = unit(angle);
            let aft = Vec2::new(up.y, -up.x);
            (up * r.along + aft * a, (a - b) / r.length)
        };
        let (first, middle, last) = (
            ruling(part, half, from),
            ruling(part, half, from + 0.5 * step),
            ruling(part, half, to),
        );
        let one = rates(&first, angle);
        let two = rates(&middle, angle + 0.5 * step * one.1);
        let three = rates(&middle, angle + 0.5 * step * two.1);
        let four = rates(&last, angle + step * three.1);
        at += (one.0 + (two.0 + three.0) * 2.0 + four.0) * (step / 6.0);
        angle += (one.1 + 2.0 * (two.1 + three.1) + four.1) * (step / 6.0);
        put(at, angle, last.length);
    }
    flat
}

/// How much longer the finished cloth is than its pattern, share, along the line of equal shares of the ruling at a station. Never
/// positive: both rails keep their lengths, and what they span is twisted, so cloth has to be eased in the middle.
pub(crate) fn ruled_strain(part: &Part, half: usize, s: f64, share: f64) -> f64 {
    let r = ruling(part, half, s);
    let along = r.along + (r.along_up - r.along) * share;
    let made = along.hypot(r.low.lerp(r.up, share).length());
    let flat = along.hypot(r.low.length() * (1.0 - share) + r.up.length() * share);
    if flat > 0.0 { made / flat - 1.0 } else { 0.0 }
}
