//! Parrels: rope from a spar round the mast and back to the spar.

use core::f64::consts::PI;

/// Taut length of a batten parrel [m].
///
/// The batten passes the mast at clearance `off` [m] from the mast's surface; the rope's ends are
/// fast `ahead` and `abaft` [m] of the mast axis; `radius` [m] is the mast's.
/// With D = r + off, each end a gives a tangent T = √(a² + D² - r²) and leaves, of the
/// circumference to wrap, 2π - Σ θ with θ = atan2(a, D) + atan2(T, r), drawn together into
/// θ = atan2(a r + D T, D r - a T). Derived (statics of a taut string round a circle). Ends on the
/// mast side of the axis may be negative.
pub fn batten_parrel_length(ahead: f64, abaft: f64, off: f64, radius: f64) -> f64 {
    taut(ahead, abaft, off, radius).0
}

/// The taut length [m], and how fast it grows as the batten stands off: Σ sin θ, since each end
/// pulls its rope along by that share.
fn taut(ahead: f64, abaft: f64, off: f64, radius: f64) -> (f64, f64) {
    let distance = radius + off.max(0.0);
    let side = |a: f64| {
        let square = a * a + distance * distance;
        let tangent = (square - radius * radius).max(0.0).sqrt();
        let up = a * radius + distance * tangent;
        let angle = up.atan2(distance * radius - a * tangent);
        (tangent - radius * angle, up / square)
    };
    let (fore, after) = (side(ahead), side(abaft));
    (fore.0 + after.0 + radius * (2.0 * PI), fore.1 + after.1)
}

/// Taut length of a parrel on a spar at `angle` [rad] to the plane square to the mast.
///
/// Seen along the mast the spar is foreshortened by cos(angle) while its ends differ in height by
/// (ahead + abaft) sin(angle). Rope on tangent planes and cylinder is straight once unrolled:
/// L = √(plan² + rise²). Derived.
pub fn yard_parrel_length(ahead: f64, abaft: f64, off: f64, radius: f64, angle: f64) -> f64 {
    let (sin, cos) = angles::sin_cos(angle);
    batten_parrel_length(ahead * cos, abaft * cos, off, radius).hypot((ahead + abaft) * sin)
}

/// A batten parrel that allows a range of places.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Parrel {
    /// Where the mast axis crosses the batten's parrel span: ends this far apart [m].
    pub span: f64,
    /// Length between its fastenings: the greatest taut length over the travel [m].
    pub length: f64,
    /// How far the batten stands off the mast in the middle of its travel, beyond its usual
    /// clearance, since the rope is longer than it need be there [m].
    pub stand_off: f64,
}

/// The parrel whose ends let the batten travel `forward` and `aft` [m] of its middle place.
///
/// The ends are fast half the travel and one mast radius from the mast either way, so that
/// neither passes the mast. The rope leads the straighter the further an end is drawn out, so the
/// taut length is convex in the slide and greatest at the ends of the travel; there one end lies a
/// radius from the mast's axis and the other the whole travel further. `diameter` [m] is the
/// mast's at that height.
pub fn batten_parrel(forward: f64, aft: f64, off: f64, diameter: f64) -> Parrel {
    let radius = 0.5 * diameter;
    let (forward, aft) = (forward.max(0.0), aft.max(0.0));
    // Sliding aft brings the mast towards the fore end, so the fore end needs the aft travel.
    let (ahead, abaft) = (aft + radius, forward + radius);
    let length = batten_parrel_length(ahead + forward, radius, off, radius);
    // Clearance at which the rope is taut in the middle. The taut length is convex in it, so
    // Newton's steps overshoot once at most and then come down on it; thirty are never needed.
    let mut stand_off = 0.0;
    for _ in 0..30 {
        let (now, growth) = taut(ahead, abaft, off + stand_off, radius);
        let step = (length - now) / growth;
        if !step.is_finite() || (stand_off == 0.0 && step < 0.0) {
            break;
        }
        stand_off += step;
        if step.abs() < 1e-12 {
            break;
        }
    }
    Parrel {
        span: ahead + abaft,
        length,
        stand_off,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Against the closed form for a batten hard on the mast (the trade's own statement:
    /// a + b + r (2π - 2 atan(a/r) - 2 atan(b/r))).
    #[test]
    fn a_batten_on_the_mast_gives_the_closed_form() {
        for (a, b, r) in [(0.3, 0.5, 0.08), (0.05, 0.9, 0.1), (0.2, 0.2, 0.2)] {
            let closed = a + b + r * (2.0 * PI - 2.0 * f64::atan(a / r) - 2.0 * f64::atan(b / r));
            assert!((batten_parrel_length(a, b, 0.0, r) - closed).abs() < 1e-12);
        }
    }

    /// Against a numerical taut string: a chain of many points, each pulled to the line of its
    /// neighbours and pushed out of the mast, until it stops getting shorter.
    #[test]
    fn a_batten_off_the_mast_agrees_with_a_taut_string() {
        for (ahead, abaft, off, r) in [(0.35, 0.55, 0.04, 0.075), (0.15, 0.4, 0.10, 0.09)] {
            let taut = taut_string(ahead, abaft, r + off, r);
            let closed = batten_parrel_length(ahead, abaft, off, r);
            assert!((taut - closed).abs() < 5e-4 * closed, "{taut} {closed}");
        }
    }

    /// Shortest way from (-ahead, distance) round below a circle to (abaft, distance): points at
    /// fixed bearings, radii relaxed, each kept outside the circle. The ends stand above.
    fn taut_string(ahead: f64, abaft: f64, distance: f64, r: f64) -> f64 {
        let start = (-ahead, distance);
        let end = (abaft, distance);
        let bearing = |p: (f64, f64)| f64::atan2(p.1, p.0);
        let (from, to) = (bearing(start), bearing(end) + 2.0 * PI);
        let n = 240;
        let mut radii: Vec<f64> = (0..=n).map(|_| r * 1.5).collect();
        radii[0] = f64::hypot(start.0, start.1);
        radii[n] = f64::hypot(end.0, end.1);
        let angle = |i: usize| from + (to - from) * i as f64 / n as f64;
        let at = |i: usize, q: f64| (q * angle(i).cos(), q * angle(i).sin());
        // Over-relaxed sweeps: each point on the chord of its neighbours, not inside the mast.
        for _ in 0..6_000 {
            for i in 1..n {
                let (p, q) = (at(i - 1, radii[i - 1]), at(i + 1, radii[i + 1]));
                let d = (angle(i).cos(), angle(i).sin());
                let chord = (q.0 - p.0, q.1 - p.1);
                let cross = d.0 * chord.1 - d.1 * chord.0;
                let on_chord = (p.0 * chord.1 - p.1 * chord.0) / cross;
                radii[i] = (radii[i] + 1.9 * (on_chord - radii[i])).max(r);
            }
        }
        (0..n)
            .map(|i| {
                let (p, q) = (at(i, radii[i]), at(i + 1, radii[i + 1]));
                f64::hypot(q.0 - p.0, q.1 - p.1)
            })
            .sum()
    }

    #[test]
    fn a_yard_parrel_on_a_level_yard_is_a_batten_parrel_and_a_steep_one_unrolls() {
        let level = yard_parrel_length(0.2, 0.3, 0.05, 0.08, 0.0);
        assert!((level - batten_parrel_length(0.2, 0.3, 0.05, 0.08)).abs() < 1e-12);
        let steep = yard_parrel_length(0.2, 0.3, 0.05, 0.08, 1.1);
        let plan = batten_parrel_length(0.2 * 1.1f64.cos(), 0.3 * 1.1f64.cos(), 0.05, 0.08);
        assert!((steep * steep - plan * plan - (0.5 * 1.1f64.sin()).powi(2)).abs() < 1e-12);
    }

    #[test]
    fn a_travelling_parrel_is_long_enough_everywhere_and_tells_its_slack() {
        let (forward, aft, off, diameter) = (0.10, 0.25, 0.03, 0.15);
        let parrel = batten_parrel(forward, aft, off, diameter);
        let (ahead, abaft) = (aft + 0.075, forward + 0.075);
        for i in -10..=25 {
            let slid = f64::from(i) * 0.01;
            assert!(
                batten_parrel_length(ahead - slid, abaft + slid, off, 0.075)
                    <= parrel.length + 1e-9
            );
        }
        assert!(parrel.stand_off > 0.0);
        let in_the_middle = batten_parrel_length(ahead, abaft, off + parrel.stand_off, 0.075);
        assert!((in_the_middle - parrel.length).abs() < 1e-9);
    }
}
