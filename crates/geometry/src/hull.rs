//! The boat as geometry: profile, sheer, coachroof, cockpit; what the boom must clear.
//!
//! Profile points are (x, z): x aft from the forward end of the waterline, z up from it.

use kurbo::{BezPath, ParamCurve, Point, QuadBez};

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
        let (bow, stern) = self.ends();
        // The sheer's control point lies half way along, so x runs evenly with its parameter.
        let t = if stern > bow {
            ((x - bow) / (stern - bow)).clamp(0.0, 1.0)
        } else {
            0.5
        };
        self.sheer().eval(t).y
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
            .reduce(f64::min)
    }

    /// Outline of the hull with keel and rudder, clockwise from the stem head.
    pub fn profile(&self) -> BezPath {
        let (bow, stern) = self.ends();
        let l = self.lwl;
        let body = self.body_depth();
        let sheer = self.sheer();
        let mut path = BezPath::new();
        path.move_to(sheer.p0);
        path.quad_to(sheer.p1, sheer.p2);
        // Transom, raked a little more the longer the after overhang.
        let counter = (stern - l).max(0.0);
        let foot = Point::new(
            stern - 0.12 * self.freeboard_stern - 0.25 * counter,
            (0.28 * self.freeboard_stern).min(0.5 * counter),
        );
        path.line_to(foot);
        let run = Point::new(l, 0.0);
        path.quad_to(foot.lerp(run, 0.6), run);
        match self.keel {
            Keel::Open => {
                path.curve_to(
                    (0.86 * l, -body * 0.75),
                    (0.70 * l, -body),
                    (0.50 * l, -body),
                );
                path.curve_to((0.30 * l, -body), (0.10 * l, -body * 0.85), (0.0, 0.0));
            }
            Keel::Fin => {
                // Rudder, run, fin, forefoot.
                let deep = self.draught;
                path.line_to((0.985 * l, -body * 0.35));
                path.line_to((0.965 * l, -deep * 0.72));
                path.line_to((0.895 * l, -deep * 0.70));
                path.line_to((0.875 * l, -body * 0.72));
                path.quad_to((0.78 * l, -body * 0.96), (0.64 * l, -body));
                path.line_to((0.60 * l, -deep));
                path.line_to((0.42 * l, -deep));
                path.quad_to((0.39 * l, -deep * 0.62), (0.35 * l, -body));
                path.curve_to((0.22 * l, -body), (0.08 * l, -body * 0.72), (0.0, 0.0));
            }
            Keel::Long => {
                let deep = self.draught;
                path.line_to((0.985 * l, -0.30 * deep));
                path.line_to((0.93 * l, -deep));
                path.line_to((0.52 * l, -deep));
                path.curve_to(
                    (0.36 * l, -deep),
                    (0.26 * l, -0.80 * deep),
                    (0.16 * l, -0.55 * deep),
                );
                path.quad_to((0.05 * l, -0.27 * deep), (0.0, 0.0));
            }
        }
        path.quad_to(Point::new(0.45 * bow, 0.42 * self.freeboard_bow), sheer.p0);
        path.close_path();
        path
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
