//! Mean lines: how camber is spread along the chord.

use kurbo::Point;

/// How the cloth stands off its chord, luff to leech.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub enum MeanLine {
    /// The published four-digit mean line: two parabolas that meet at the place of greatest camber.
    ///
    /// y = m (2 p x - x²) / p² ahead of p, m ((1 - 2 p) + 2 p x - x²) / (1 - p)² abaft it.
    /// Source: NASA TM-4741 (check values, section 8).
    FourDigit,
    /// One parabola, greatest in the middle whatever the place asked for: y = 4 m x (1 - x).
    Parabola,
    /// Own ordinates: (share of chord, ordinate in any unit), nought at both ends, 3 to 40 of them.
    /// Drawn fair through them without overshoot and scaled to the panel's camber.
    Own(Vec<Point>),
}

/// Most own ordinates.
pub const MOST_ORDINATES: usize = 40;

/// Three Gauss points of 0..1 with their weights (Abramowitz and Stegun, table 25.4).
const GAUSS_3: [(f64, f64); 3] = [
    (0.112_701_665_379_258_31, 5.0 / 18.0),
    (0.5, 8.0 / 18.0),
    (0.887_298_334_620_741_7, 5.0 / 18.0),
];

impl MeanLine {
    /// Whether own ordinates can be used: in rising order from 0 to 1, nought at both ends, none
    /// below the chord, not all nought.
    pub fn usable(&self) -> bool {
        let Self::Own(points) = self else { return true };
        let n = points.len();
        (3..=MOST_ORDINATES).contains(&n)
            && points[0] == Point::ORIGIN
            && points[n - 1] == Point::new(1.0, 0.0)
            && points.windows(2).all(|w| w[1].x - w[0].x > 1e-3)
            && points.iter().all(|p| p.y >= 0.0 && p.y < 1e6)
            && points.iter().any(|p| p.y > 1e-6)
    }

    /// Where the camber is greatest, share of the chord: as asked for (0.05 to 0.95), unless the line has its own.
    pub fn place(&self, asked: f64) -> f64 {
        match self {
            Self::FourDigit => asked.max(0.05).min(0.95),
            Self::Parabola => 0.5,
            Self::Own(points) => highest(points).x.max(0.05).min(0.95),
        }
    }

    /// Ordinate as a share of the greatest and its slope, at a share `x` of the chord.
    pub fn ordinate(&self, place: f64, x: f64) -> (f64, f64) {
        if let Self::Own(points) = self {
            let (y, slope) = fair(points, x);
            let top = highest(points).y.max(1e-9);
            return (y / top, slope / top);
        }
        let p = self.place(place);
        let (ahead, room) = if x < p {
            (0.0, p)
        } else {
            (1.0 - 2.0 * p, 1.0 - p)
        };
        let over = 1.0 / (room * room);
        ((ahead + (2.0 * p - x) * x) * over, 2.0 * (p - x) * over)
    }

    /// Length of the mean line over its chord.
    ///
    /// S/c = ∫ sqrt(1 + y'²) dx, Gauss in 64 steps; for the parabolas equal to the closed form
    /// c/2 (sqrt(1 + u²) + asinh(u)/u), u = 4 f/c, to 1e-12.
    pub fn arc_length(&self, camber: f64, place: f64) -> f64 {
        let form = Form {
            line: self,
            camber,
            place: self.place(place),
            turn: 0.0,
        };
        form.arcs()[STEPS]
    }
}

/// Steps from luff to leech of every curve: half of them to the greatest camber, half from there.
pub const STEPS: usize = 64;

fn highest(points: &[Point]) -> Point {
    let mut best = Point::new(0.5, 0.0);
    for p in points {
        if p.y > best.y {
            best = *p;
        }
    }
    best
}

/// Piecewise cubic without overshoot through the points, and its slope (Fritsch and Butland: the
/// slope at a knot is the harmonic mean of its neighbours', nought at a peak).
fn fair(points: &[Point], x: f64) -> (f64, f64) {
    let n = points.len();
    let mut i = 0;
    while i + 2 < n && points[i + 1].x < x {
        i += 1;
    }
    if n < 2 {
        return (0.0, 0.0);
    }
    let rise = |k: usize| (points[k + 1].y - points[k].y) / (points[k + 1].x - points[k].x);
    let slope = |k: usize| {
        if k == 0 {
            // One-sided through three points; never more than three times the first rise.
            let (d, e) = (rise(0), if n > 2 { rise(1) } else { rise(0) });
            return (1.5 * d - 0.5 * e).max(0.0).min(3.0 * d.max(0.0));
        }
        if k == n - 1 {
            let (d, e) = (rise(n - 2), if n > 2 { rise(n - 3) } else { rise(n - 2) });
            return (1.5 * d - 0.5 * e).min(0.0).max(3.0 * d.min(0.0));
        }
        let (d, e) = (rise(k - 1), rise(k));
        if d * e <= 0.0 {
            0.0
        } else {
            2.0 * d * e / (d + e)
        }
    };
    let h = points[i + 1].x - points[i].x;
    let t = (x - points[i].x) / h;
    let (a, b) = (slope(i), slope(i + 1));
    let d = points[i + 1].y - points[i].y;
    // Hermite: y = y0 + a h t + (3 d - 2 a h - b h) t² + (a h + b h - 2 d) t³.
    let (two, three) = (3.0 * d - (2.0 * a + b) * h, (a + b) * h - 2.0 * d);
    (
        points[i].y + t * (a * h + t * (two + t * three)),
        a + t * (2.0 * two + 3.0 * t * three) / h,
    )
}

/// A mean line with its camber, turned out from the chord.
#[derive(Clone, Copy)]
pub(crate) struct Form<'a> {
    pub(crate) line: &'a MeanLine,
    /// Greatest camber, share of the chord.
    pub(crate) camber: f64,
    /// Its place, share of the chord; where the two halves of the stations meet.
    pub(crate) place: f64,
    /// Rise of the after end, share of the chord (tangent of the angle the part is turned by).
    pub(crate) turn: f64,
}

impl Form<'_> {
    /// Ordinate and slope, shares of the chord.
    pub(crate) fn at(&self, x: f64) -> (f64, f64) {
        let (y, slope) = self.line.ordinate(self.place, x);
        (
            self.camber * y + self.turn * x,
            self.camber * slope + self.turn,
        )
    }

    /// Length from the luff to each station, shares of the chord.
    pub(crate) fn arcs(&self) -> Vec<f64> {
        let mut sum = 0.0;
        let mut arcs = vec![0.0];
        for i in 0..STEPS {
            let (from, to) = (self.station(i), self.station(i + 1));
            for (t, weight) in GAUSS_3 {
                let slope = self.at(from + t * (to - from)).1;
                sum += weight * (to - from) * (1.0 + slope * slope).sqrt();
            }
            arcs.push(sum);
        }
        arcs
    }

    /// Share of the chord of a station.
    pub(crate) fn station(&self, i: usize) -> f64 {
        station(self.place, i)
    }
}

/// Share of the chord of station `i` of [`STEPS`], those of the greatest camber in the middle.
pub(crate) fn station(place: f64, i: usize) -> f64 {
    let t = 2.0 * i as f64 / STEPS as f64;
    if t <= 1.0 {
        place * t
    } else {
        place + (1.0 - place) * (t - 1.0)
    }
}
