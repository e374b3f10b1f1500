//! One panel of cloth between two spars.

use kurbo::{BezPath, Line, ParamCurve as _, PathSeg, Point, QuadBez, Vec2};

use crate::moments::{area_ahead, line_ahead};
use crate::order::{greater, lesser};
use crate::{Moments, Spar};

/// A panel: lower spar A (luff) - B (leech), upper spar D (luff) - C (leech).
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Panel {
    /// The spar below.
    pub lower: Spar,
    /// The spar above.
    pub upper: Spar,
    /// Round (+) or hollow (-) of the luff edge, as a share of its length.
    pub luff_round: f64,
    /// Round (+) or hollow (-) of the leech edge, as a share of its length.
    pub leech_round: f64,
}

/// How far the upper spar may lie aft of the lower one, luff to luff along the spar, when the
/// panel is folded [m].
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct SlideInterval {
    /// Least slide, aft positive [m].
    pub least: f64,
    /// Greatest slide, aft positive [m].
    pub most: f64,
    /// False when cloth of this shape cannot fold to the given distance at all; the interval
    /// is then the single place that strains it least.
    pub folds: bool,
}

/// The closed outline of edges that follow one another; of one, that edge alone.
pub fn closed(edges: &[PathSeg]) -> BezPath {
    let mut path = BezPath::new();
    for (i, edge) in edges.iter().enumerate() {
        if i == 0 {
            path.move_to(edge.start());
        }
        path.push(edge.as_path_el());
    }
    if edges.len() > 1 {
        path.close_path();
    }
    path
}

impl Panel {
    /// Luff edge, from the upper spar down: so that the outline runs counter-clockwise.
    pub fn luff_edge(&self) -> PathSeg {
        rounded_edge(self.upper.luff, self.lower.luff, self.luff_round)
    }

    /// Leech edge, from the lower spar up.
    pub fn leech_edge(&self) -> PathSeg {
        rounded_edge(self.lower.leech(), self.upper.leech(), self.leech_round)
    }

    /// The four edges, counter-clockwise from the lower luff.
    pub fn edges(&self) -> [PathSeg; 4] {
        [
            PathSeg::Line(Line::new(self.lower.luff, self.lower.leech())),
            self.leech_edge(),
            PathSeg::Line(Line::new(self.upper.leech(), self.upper.luff)),
            self.luff_edge(),
        ]
    }

    /// The closed outline.
    pub fn outline(&self) -> BezPath {
        closed(&self.edges())
    }

    /// Area moments of the cloth as drawn.
    pub fn moments(&self) -> Moments {
        Moments::of(self.edges())
    }

    /// The four corners A, B, C, D.
    pub fn corners(&self) -> [Point; 4] {
        [
            self.lower.luff,
            self.lower.leech(),
            self.upper.leech(),
            self.upper.luff,
        ]
    }

    /// True when the corners turn left all the way round: no crossing spars, no folded leech.
    pub fn is_convex(&self) -> bool {
        let corners = self.corners();
        let scale = self.lower.length.max(self.upper.length).max(1e-3);
        (0..4).all(|i| {
            let (a, b, c) = (corners[i], corners[(i + 1) % 4], corners[(i + 2) % 4]);
            (b - a).cross(c - b) > 1e-9 * scale * scale
        })
    }

    /// The chord through the panel's centroid: its luff end, and from there to the leech.
    ///
    /// The chord through the centroid G divides both edges in the same ratio h. With p = AG,
    /// u = AB, d = AD, w = BC - AD it runs through G where (u + h w) × (p - h d) = 0; of a convex
    /// panel one root lies between 0 and 1.
    pub fn chord_through(&self, centroid: Point) -> (Point, Vec2) {
        let [a, b, c, d] = self.corners();
        let (gravity, foot, luff) = (centroid - a, b - a, d - a);
        let spread = (c - b) - luff;
        let constant = foot.cross(gravity);
        let linear = foot.cross(luff) - spread.cross(gravity);
        let root = linear * linear + 4.0 * constant * spread.cross(luff);
        let under = linear + greater(root, 0.0).sqrt();
        let height = if under.abs() < 1e-12 {
            0.5
        } else {
            lesser(greater(2.0 * constant / under, 0.0), 1.0)
        };
        let luff = a.lerp(d, height);
        (luff, b.lerp(c, height) - luff)
    }

    /// Where the cloth lets the upper spar lie when both spars lie parallel at `distance` [m].
    ///
    /// Flat minus folded squared distance between any point x of the lower and y of the upper spar
    /// is bilinear in (x, y), so it is least at one of the four corners: cloth that does not
    /// stretch asks that none of |AC|, |BD|, |AD|, |BC| grows. The diagonals govern parallel
    /// spars; the two edges can govern a steep fan, so all four are taken.
    ///
    ///   l_low - sqrt(BD² - b²) <= s <= sqrt(AC² - b²) - l_up,
    ///   |s| <= sqrt(AD² - b²),  |s + l_up - l_low| <= sqrt(BC² - b²).
    pub fn slide_interval(&self, distance: f64) -> SlideInterval {
        let [a, b, c, d] = self.corners();
        let reach = |p: Point, q: Point| {
            let free = (q - p).hypot2() - distance * distance;
            (greater(free, 0.0).sqrt(), free >= 0.0)
        };
        let (ac, ac_folds) = reach(a, c);
        let (bd, bd_folds) = reach(b, d);
        let (ad, ad_folds) = reach(a, d);
        let (bc, bc_folds) = reach(b, c);
        let shorter = self.lower.length - self.upper.length;
        let least = greater(self.lower.length - bd, greater(-ad, shorter - bc));
        let most = lesser(ac - self.upper.length, lesser(ad, shorter + bc));
        if least <= most && ac_folds && bd_folds && ad_folds && bc_folds {
            SlideInterval {
                least,
                most,
                folds: true,
            }
        } else {
            let middle = 0.5 * (least + most);
            SlideInterval {
                least: middle,
                most: middle,
                folds: false,
            }
        }
    }
}

/// What an edge adds to the area ahead of the mast [m²]; see [`area_ahead`].
pub(crate) fn edge_ahead(from: Point, to: Point, round: f64) -> f64 {
    if round == 0.0 {
        line_ahead(from, to)
    } else {
        area_ahead(&rounded_edge(from, to, round))
    }
}

/// A straight edge, or one with round (+, outward on the right of its direction) as a parabola.
///
/// A quadratic Bézier whose control point stands off by 2 f has its belly at f, in the middle.
fn rounded_edge(from: Point, to: Point, round: f64) -> PathSeg {
    if round == 0.0 {
        return PathSeg::Line(Line::new(from, to));
    }
    let edge = to - from;
    let outward = Vec2::new(edge.y, -edge.x);
    PathSeg::Quad(QuadBez::new(
        from,
        from.midpoint(to) + outward * (2.0 * round),
        to,
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_chord_through_the_centroid_divides_luff_and_leech_alike() {
        for (angle, length) in [(0.1, 4.4), (0.1, 3.0), (0.6, 4.0), (1.0, 5.0)] {
            let panel = Panel {
                lower: Spar::new(Point::new(-0.6, 0.7), 0.1, 4.4),
                upper: Spar::new(Point::new(-0.5, 1.6), angle, length),
                luff_round: 0.0,
                leech_round: 0.0,
            };
            let centroid = panel.moments().centroid().unwrap();
            let (luff, chord) = panel.chord_through(centroid);
            let leech = luff + chord;
            let [a, b, c, d] = panel.corners();
            assert!((leech - luff).cross(centroid - luff).abs() < 1e-12);
            let (up_luff, up_leech) = (
                luff.distance(a) / d.distance(a),
                leech.distance(b) / c.distance(b),
            );
            assert!((up_luff - up_leech).abs() < 1e-12 && up_luff > 0.0 && up_luff < 1.0);
            assert!((d - a).cross(luff - a).abs() < 1e-12);
            assert!((c - b).cross(leech - b).abs() < 1e-12);
        }
    }
}
