//! The boat as geometry: profile, sheer, coachroof, cockpit; what the boom must clear.
//!
//! Profile points are (x, z): x aft from the forward end of the waterline, z up from it.

use kurbo::{BezPath, CubicBez, ParamCurve, Point, QuadBez, Vec2};

use crate::order::{greater, lesser};

/// Kind of underwater body, for the profile drawn when none is traced.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub enum Keel {
    /// Shallow body, separate fin and rudder.
    Fin,
    /// Keel along the body, rudder hung on its after end.
    Long,
    /// Open boat: the body is the draught, a plate comes down through it.
    Open,
}

/// Profile of the hull and what stands on it [m].
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Hull {
    /// Length over all.
    pub loa: f64,
    /// Length of waterline.
    pub lwl: f64,
    /// Greatest beam.
    pub beam: f64,
    /// Draught, keel included.
    pub draught: f64,
    /// Stem head ahead of the waterline.
    pub bow_overhang: f64,
    /// Freeboard at the stem, amidships, at the stern.
    pub freeboard_bow: f64,
    /// See `freeboard_bow`.
    pub freeboard_mid: f64,
    /// See `freeboard_bow`.
    pub freeboard_stern: f64,
    /// Kind of underwater body.
    pub keel: Keel,
    /// Coachroof, if there is one.
    pub coachroof: Option<Coachroof>,
    /// Cockpit, if there is one.
    pub cockpit: Option<Cockpit>,
}

/// Coachroof in profile [m].
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Coachroof {
    /// Forward end, aft of the forward end of the waterline.
    pub from: f64,
    /// After end.
    pub to: f64,
    /// Height above the deck.
    pub height: f64,
}

/// Cockpit in profile [m].
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Cockpit {
    /// Forward end, aft of the forward end of the waterline.
    pub from: f64,
    /// After end.
    pub to: f64,
    /// Seat above the waterline.
    pub seat: f64,
}

impl Hull {
    /// x of stem head and stern at deck level.
    pub fn ends(&self) -> (f64, f64) {
        (-self.bow_overhang, self.loa - self.bow_overhang)
    }

    /// The sheer as a parabola through the three freeboards.
    pub fn sheer(&self) -> QuadBez {
        let (bow, stern) = self.ends();
        let middle = 2.0 * self.freeboard_mid - 0.5 * (self.freeboard_bow + self.freeboard_stern);
        QuadBez::new(
            (bow, self.freeboard_bow),
            (0.5 * (bow + stern), middle),
            (stern, self.freeboard_stern),
        )
    }

    /// Height of the deck edge above the waterline [m]; constant beyond the ends.
    pub fn deck_height(&self, x: f64) -> f64 {
        let sheer = self.sheer();
        let (bow, stern) = (sheer.p0.x, sheer.p2.x);
        // The sheer's control point lies half way along, so x runs evenly with its parameter.
        let t = if stern > bow {
            lesser(greater((x - bow) / (stern - bow), 0.0), 1.0)
        } else {
            0.5
        };
        sheer.eval(t).y
    }

    /// Half breadth of the deck at x [m]; ahead of the bow none, abaft the stern that of the transom.
    ///
    /// Greatest beam 56 % from forward, transom 0.60 to 0.80 of it by the kind of boat (common practice, no
    /// design of a hull): forward of there b (1 - (1 - s)^2.5), abaft it b - (b - t) s², s from 0 to 1.
    pub fn half_beam_at(&self, x: f64) -> f64 {
        const BROADEST: f64 = 0.56;
        let (bow, stern) = self.ends();
        let half = 0.5 * self.beam;
        let transom = match self.keel {
            Keel::Long => 0.60,
            Keel::Fin => 0.72,
            Keel::Open => 0.80,
        };
        let along = if stern > bow {
            lesser(greater((x - bow) / (stern - bow), 0.0), 1.0)
        } else {
            1.0
        };
        if along < BROADEST {
            let left = 1.0 - along / BROADEST;
            half * (1.0 - left * left * left.sqrt())
        } else {
            let s = (along - BROADEST) / (1.0 - BROADEST);
            half * (1.0 - (1.0 - transom) * s * s)
        }
    }

    /// Height of what a boom must clear at x: the deck, or the coachroof on it [m].
    pub fn top_at(&self, x: f64) -> f64 {
        let deck = self.deck_height(x);
        match self.coachroof {
            Some(c) if x >= c.from && x <= c.to => deck + c.height,
            _ => deck,
        }
    }

    /// Depth of the canoe body, keel left out [m].
    ///
    /// Shares of the draught: fin 0.28, long keel 0.50, open boat 0.95 (common practice).
    pub fn body_depth(&self) -> f64 {
        self.draught
            * match self.keel {
                Keel::Fin => 0.28,
                Keel::Long => 0.50,
                Keel::Open => 0.95,
            }
    }

    /// Least height of a spar's underside above deck and coachroof over the given length of the
    /// boat [m]; `None` when the spar does not reach over it.
    ///
    /// `from`, `to` are the spar's ends (x, z), `half_depth` from its axis to its underside [m].
    pub fn clearance(
        &self,
        from: Point,
        to: Point,
        half_depth: f64,
        along: (f64, f64),
    ) -> Option<f64> {
        self.over(from, to, half_depth, along, |x| self.top_at(x))
    }

    /// Least height of a spar's underside above the cockpit seat [m].
    pub fn clearance_over_seat(&self, from: Point, to: Point, half_depth: f64) -> Option<f64> {
        let cockpit = self.cockpit?;
        self.over(from, to, half_depth, (cockpit.from, cockpit.to), |_| {
            cockpit.seat
        })
    }

    /// Least height of a spar's underside above the coachroof [m].
    pub fn clearance_over_coachroof(&self, from: Point, to: Point, half_depth: f64) -> Option<f64> {
        let roof = self.coachroof?;
        self.clearance(from, to, half_depth, (roof.from, roof.to))
    }

    fn over(
        &self,
        from: Point,
        to: Point,
        half_depth: f64,
        along: (f64, f64),
        top: impl Fn(f64) -> f64,
    ) -> Option<f64> {
        let (left, right) = if from.x <= to.x {
            (from, to)
        } else {
            (to, from)
        };
        let (start, end) = (left.x.max(along.0), right.x.min(along.1));
        if start.is_nan() || end.is_nan() || start >= end {
            return None;
        }
        let slope = (right.y - left.y) / (right.x - left.x);
        let lower = half_depth * slope.hypot(1.0);
        // Deck against a straight spar is a parabola against a line: sixteen steps find the least
        // to a fraction of a millimetre on any sheer a boat has.
        let steps = 16;
        (0..=steps)
            .map(|i| {
                let x = start + (end - start) * f64::from(i) / f64::from(steps);
                left.y + (x - left.x) * slope - lower - top(x)
            })
            .reduce(lesser)
    }

    /// Outline of the hull and its keel in profile, without the rudder, from the stem head aft
    /// along the sheer and back under water.
    ///
    /// Drawn when none is traced: a fair line in the manner of each kind of boat, through the
    /// given length, overhang, freeboards and draught (common practice, no design of a hull).
    pub fn profile(&self) -> BezPath {
        let sheer = self.sheer();
        let foot = self.transom_foot();
        let run = Point::new(self.lwl, 0.0);
        let water = Point::ORIGIN;
        let (stem_head, stem_foot) = self.stem_directions();
        let mut path = BezPath::new();
        path.move_to(sheer.p0);
        path.quad_to(sheer.p1, sheer.p2);
        path.line_to(foot);
        if foot != run {
            path.line_to(run);
        }
        match self.keel {
            Keel::Open => {
                let (after, fore) = self.body();
                path.curve_to(after.p1, after.p2, after.p3);
                path.curve_to(fore.p1, fore.p2, fore.p3);
            }
            Keel::Fin => {
                let l = self.lwl;
                let deep = -self.draught;
                let (after, fore) = self.body();
                let root = at_x(&after, 0.605 * l);
                let hull = after.subsegment(0.0..root);
                path.curve_to(hull.p1, hull.p2, hull.p3);
                // Fin: a nearly upright after edge, the leading edge swept and faired in.
                let heel = Point::new(0.585 * l, deep);
                let toe = Point::new(0.470 * l, deep);
                let round = 0.018 * l;
                path.line_to(heel + unit(hull.p3 - heel) * round);
                path.quad_to(heel, heel - Vec2::new(round, 0.0));
                path.line_to(toe + Vec2::new(round, 0.0));
                let root = at_x(&fore, 0.375 * l);
                let hull = fore.subsegment(root..1.0);
                let corner = hull.p0 + Vec2::new(0.012 * l, 0.0);
                path.quad_to(toe, toe + unit(corner - toe) * round);
                path.line_to(toe.lerp(corner, 0.84));
                path.quad_to(corner, hull.p0);
                path.curve_to(hull.p1, hull.p2, hull.p3);
            }
            Keel::Long => {
                let (heel, keel) = self.long_keel();
                let post = run + (heel - run) * 0.03;
                path.line_to(post);
                path.line_to(heel.lerp(run, 0.05));
                path.quad_to(heel, heel.lerp(keel, 0.04));
                path.line_to(keel);
                let along = unit(keel - heel);
                let reach = keel.distance(water);
                path.curve_to(
                    keel + along * (0.52 * reach),
                    water + stem_foot * (0.34 * reach),
                    water,
                );
            }
        }
        let reach = water.distance(sheer.p0);
        path.curve_to(
            water - stem_foot * (0.33 * reach),
            sheer.p0 + stem_head * (0.33 * reach),
            sheer.p0,
        );
        path.close_path();
        path
    }

    /// Outline of the rudder in profile: on the transom where that stands over the after end of
    /// the waterline, else under the counter.
    pub fn rudder(&self) -> BezPath {
        let l = self.lwl;
        let run = Point::new(l, 0.0);
        let foot = self.transom_foot();
        let on_transom = foot == run;
        let stern = self.sheer().p2;
        let (top, heel, width) = match self.keel {
            Keel::Long => (run, self.long_keel().0, 0.075 * l),
            Keel::Fin if !on_transom => {
                let (after, _) = self.body();
                let top = after.eval(at_x(&after, 0.90 * l));
                (top, Point::new(0.905 * l, -0.80 * self.draught), 0.055 * l)
            }
            _ => {
                let depth = match self.keel {
                    Keel::Open => 1.15 * self.draught,
                    _ => 0.72 * self.draught,
                };
                (run, Point::new(0.985 * l, -depth), 0.105 * l)
            }
        };
        let aft = Vec2::new(width, 0.0);
        let mut path = BezPath::new();
        if on_transom {
            // The stock follows the transom to a head above the deck.
            let up = unit(stern - run);
            let head = stern + up * (0.14 * self.freeboard_stern);
            let broad = Vec2::new(0.26 * width, 0.0);
            path.move_to(head);
            path.line_to(top);
            path.line_to(heel);
            let (low, high) = (heel + aft * 0.7, heel.lerp(top, 0.55) + aft * 1.1);
            path.quad_to(low, low.lerp(high, 0.4));
            let neck = top + broad + up * (0.42 * self.freeboard_stern);
            path.curve_to(high, neck - up * (0.40 * self.freeboard_stern), neck);
            path.line_to(head + broad * 0.8);
        } else {
            path.move_to(top);
            path.line_to(heel);
            let under = if self.keel == Keel::Long {
                unit(foot - run)
            } else {
                unit(aft)
            };
            let (low, high) = (heel + aft * 0.75, heel.lerp(top, 0.65) + aft * 1.1);
            path.quad_to(low, low.lerp(high, 0.4));
            path.quad_to(high, top + under * (0.45 * width));
        }
        path.close_path();
        path
    }

    /// The plate of an open boat, lowered to twice the draught (common practice).
    pub fn plate(&self) -> Option<BezPath> {
        if self.keel != Keel::Open {
            return None;
        }
        let (after, fore) = self.body();
        let (from, to) = (at_x(&after, 0.56 * self.lwl), at_x(&fore, 0.40 * self.lwl));
        let (from, to) = (after.eval(from), fore.eval(to));
        let deep = -2.2 * self.draught;
        let mut path = BezPath::new();
        path.move_to(to);
        path.quad_to((0.43 * self.lwl, 0.7 * deep), (0.485 * self.lwl, deep));
        path.line_to((0.575 * self.lwl, 0.94 * deep));
        path.line_to(from);
        Some(path)
    }

    /// Foot of the transom: on the waterline where the overhang is no more than a transom's rake,
    /// else at the end of a counter that rises from it.
    fn transom_foot(&self) -> Point {
        let (_, stern) = self.ends();
        let overhang = stern - self.lwl;
        let rake = match self.keel {
            Keel::Open => 0.8,
            Keel::Fin | Keel::Long => 0.32,
        } * self.freeboard_stern;
        if overhang <= rake {
            return Point::new(self.lwl, 0.0);
        }
        let x = stern - rake;
        Point::new(x, (0.30 * (x - self.lwl)).min(0.5 * self.freeboard_stern))
    }

    /// Directions of the stem, downward, at its head and at the waterline: a little rounder below.
    fn stem_directions(&self) -> (Vec2, Vec2) {
        let chord = Point::ORIGIN - self.sheer().p0;
        let long = chord.hypot();
        let head = chord + Vec2::new(0.0, -0.30 * chord.x);
        let foot = chord + Vec2::new(0.12 * long + 0.30 * chord.x, 0.0);
        (unit(head), unit(foot))
    }

    /// Canoe body: from the after end of the waterline to the lowest point, and on to the stem.
    fn body(&self) -> (CubicBez, CubicBez) {
        let run = Point::new(self.lwl, 0.0);
        let foot = self.transom_foot();
        let lowest = Point::new(0.47 * self.lwl, -self.body_depth());
        let (_, stem) = self.stem_directions();
        let run_way = if foot == run {
            unit(Vec2::new(-1.0, -0.22))
        } else {
            unit(run - foot)
        };
        let (after, fore) = (run.x - lowest.x, lowest.x);
        (
            CubicBez::new(
                run,
                run + run_way * (0.36 * after),
                lowest + Vec2::new(0.44 * after, 0.0),
                lowest,
            ),
            CubicBez::new(
                lowest,
                lowest - Vec2::new(0.50 * fore, 0.0),
                Point::ORIGIN
                    + stem * (0.16 * fore).min(0.8 * lowest.y.abs() / stem.y.abs().max(0.1)),
                Point::ORIGIN,
            ),
        )
    }

    /// Heel of a long keel, and where its straight foot ends forward: it draws more aft.
    fn long_keel(&self) -> (Point, Point) {
        (
            Point::new(0.865 * self.lwl, -self.draught),
            Point::new(0.46 * self.lwl, -0.90 * self.draught),
        )
    }
}

/// Parameter at which a curve that runs one way in x reaches it.
fn at_x(curve: &CubicBez, x: f64) -> f64 {
    let falling = curve.p3.x < curve.p0.x;
    let (mut low, mut high) = (0.0, 1.0);
    for _ in 0..40 {
        let middle = 0.5 * (low + high);
        if (curve.eval(middle).x > x) == falling {
            low = middle;
        } else {
            high = middle;
        }
    }
    0.5 * (low + high)
}

/// Unit vector; straight down for one that has no direction.
fn unit(v: Vec2) -> Vec2 {
    let length = v.hypot();
    if length > 1e-12 {
        v / length
    } else {
        Vec2::new(0.0, -1.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn hull() -> Hull {
        Hull {
            loa: 7.4,
            lwl: 6.2,
            beam: 2.4,
            draught: 1.0,
            bow_overhang: 0.7,
            freeboard_bow: 1.0,
            freeboard_mid: 0.75,
            freeboard_stern: 0.8,
            keel: Keel::Long,
            coachroof: Some(Coachroof {
                from: 2.0,
                to: 4.2,
                height: 0.4,
            }),
            cockpit: Some(Cockpit {
                from: 4.3,
                to: 6.0,
                seat: 0.6,
            }),
        }
    }

    #[test]
    fn the_sheer_passes_through_its_three_freeboards() {
        let h = hull();
        assert!((h.deck_height(-0.7) - 1.0).abs() < 1e-12);
        assert!((h.deck_height(3.0) - 0.75).abs() < 1e-12);
        assert!((h.deck_height(6.7) - 0.8).abs() < 1e-12);
    }

    #[test]
    fn the_deck_is_broadest_where_it_is_said_and_narrows_to_the_transom() {
        for (keel, transom) in [(Keel::Long, 0.60), (Keel::Fin, 0.72), (Keel::Open, 0.80)] {
            let h = Hull { keel, ..hull() };
            let (bow, stern) = h.ends();
            let at = |along: f64| h.half_beam_at(bow + along * (stern - bow)) / (0.5 * h.beam);
            assert_eq!((at(-0.1), at(0.0)), (0.0, 0.0));
            assert!((at(0.56) - 1.0).abs() < 1e-12);
            assert!((at(1.0) - transom).abs() < 1e-12 && (at(1.3) - transom).abs() < 1e-12);
            let steps = (0..=100).map(|i| at(f64::from(i) / 100.0));
            let steps: Vec<f64> = steps.collect();
            assert!(steps[..=56].is_sorted());
            assert!(steps[56..].is_sorted_by(|a, b| a >= b));
            // No step and no kink where the two curves meet.
            assert!((at(0.561) - at(0.559)).abs() < 1e-4);
        }
        let none = Hull { loa: 0.0, ..hull() };
        assert!(none.half_beam_at(f64::NAN).is_finite());
    }

    /// Outline with the ends, the waterline and the draught it was asked for, whichever the keel.
    #[test]
    fn the_profile_has_the_dimensions_it_was_given() {
        use kurbo::Shape as _;
        for keel in [Keel::Fin, Keel::Long, Keel::Open] {
            let h = Hull { keel, ..hull() };
            let bounds = h.profile().bounding_box();
            assert!((bounds.x0 + 0.7).abs() < 1e-6, "{keel:?} {bounds:?}");
            assert!((bounds.x1 - 6.7).abs() < 1e-6, "{keel:?} {bounds:?}");
            assert!((bounds.y1 - 1.0).abs() < 1e-6, "{keel:?} {bounds:?}");
            let depth = if keel == Keel::Open {
                h.body_depth()
            } else {
                h.draught
            };
            // The heel of a long keel is rounded off by a few millimetres.
            assert!(
                (bounds.y0 + depth).abs() < 0.01 * depth,
                "{keel:?} {bounds:?}"
            );
            let surface = Point::new(0.0, 0.0);
            let run = Point::new(6.2, 0.0);
            for end in [surface, run] {
                let on_outline = h
                    .profile()
                    .segments()
                    .any(|s| s.start().distance(end) < 1e-9);
                assert!(on_outline, "{keel:?} {end:?}");
            }
            assert!(h.rudder().bounding_box().y0 < -0.3 * h.draught);
        }
    }

    /// A fair line: where two curves of stem or bottom meet they have one direction.
    #[test]
    fn stem_and_bottom_run_into_each_other_without_a_kink() {
        use kurbo::{ParamCurveDeriv as _, PathSeg};
        for keel in [Keel::Fin, Keel::Long, Keel::Open] {
            let segments: Vec<PathSeg> = Hull { keel, ..hull() }.profile().segments().collect();
            let mut met = 0;
            for pair in segments.windows(2) {
                let [PathSeg::Cubic(below), PathSeg::Cubic(above)] = pair else {
                    continue;
                };
                let (a, b) = (
                    below.deriv().eval(1.0).to_vec2(),
                    above.deriv().eval(0.0).to_vec2(),
                );
                assert!(a.cross(b).abs() < 1e-6 * a.hypot() * b.hypot(), "{keel:?}");
                assert!(a.dot(b) > 0.0, "{keel:?}");
                met += 1;
            }
            assert!(met >= 1, "{keel:?}");
        }
    }

    #[test]
    fn a_level_boom_clears_the_highest_point_of_the_coachroof() {
        let h = hull();
        let highest = h.top_at(2.0).max(h.top_at(4.2));
        let clear = h
            .clearance_over_coachroof(Point::new(0.5, 2.0), Point::new(5.0, 2.0), 0.05)
            .unwrap();
        assert!((clear - (2.0 - 0.05 - highest)).abs() < 1e-12);
        let seat = h.clearance_over_seat(Point::new(0.5, 2.0), Point::new(5.0, 2.0), 0.05);
        assert!((seat.unwrap() - 1.35).abs() < 1e-12);
        let short = h.clearance_over_seat(Point::new(0.5, 2.0), Point::new(4.0, 2.0), 0.05);
        assert!(short.is_none());
    }
}
