//! Outlines: the underwater profile and the sails she has now.

use crate::account::{Fault, Outline, Resistance};
use crate::table::MOST;
use crate::{Fin, Hull, Lateral, Method};
use geometry::Moments;
use kurbo::{Line, PathSeg, Point};

/// Twice the area of a triangle, positive counter-clockwise.
fn turn(a: Point, b: Point, c: Point) -> f64 {
    (b - a).cross(c - a)
}

/// Whether an outline closed by itself crosses itself. Points that touch do not count: a keel may be
/// traced down and up the same line.
fn crosses(outline: &[Point]) -> bool {
    let edges = || outline.iter().zip(outline.iter().cycle().skip(1));
    edges().enumerate().any(|(i, (&a, &b))| {
        edges().skip(i + 1).any(|(&c, &d)| {
            turn(a, b, c) * turn(a, b, d) < 0.0 && turn(c, d, a) * turn(c, d, b) < 0.0
        })
    })
}

/// Area and centroid of what of an outline lies below a level; `None` of nothing.
///
/// The parts above are laid flat onto the level, which leaves area and moments of the rest as they are.
fn below(outline: &[Point], level: f64) -> Option<Outline> {
    let mut sum = Moments::default();
    let mut add = |a: Point, b: Point| {
        sum = sum + Moments::of_segment(&PathSeg::Line(Line::new(a, b)));
    };
    let flat = |p: Point| {
        if p.y > level {
            Point::new(p.x, level)
        } else {
            p
        }
    };
    for (&a, &b) in outline.iter().zip(outline.iter().cycle().skip(1)) {
        if (a.y > level) == (b.y > level) {
            add(flat(a), flat(b));
        } else {
            let middle = a.lerp(b, (level - a.y) / (b.y - a.y));
            add(flat(a), middle);
            add(middle, flat(b));
        }
    }
    let centre = sum.centroid()?;
    let area = sum.area.abs();
    // A line traced there and back encloses nothing but rounding.
    (area > 1e-6).then_some(Outline {
        area,
        x: centre.x,
        z: centre.y,
    })
}

/// Area and centroid of an outline; else whether it crosses itself (or has too many points to tell).
pub(crate) fn outline(points: &[Point], level: f64) -> Result<Outline, bool> {
    if points.len() > MOST || crosses(points) {
        Err(true)
    } else {
        below(points, level).ok_or(false)
    }
}

impl Lateral {
    /// Centre of lateral resistance by the way chosen.
    pub(crate) fn resistance(&self, hull: &Hull) -> Result<Resistance, Fault> {
        match self.method {
            Method::Profile => match outline(&self.profile, 0.0) {
                Ok(found) => Ok(Resistance {
                    x: found.x,
                    z: found.z,
                    area: Some(found.area),
                }),
                Err(true) => Err(Fault::ProfileCrosses),
                Err(false) => Err(Fault::NoProfile),
            },
            Method::Keel => {
                let z = -0.45 * hull.draught;
                self.fin
                    .and_then(|fin| fin.quarter(hull, z))
                    .map(|x| Resistance { x, z, area: None })
                    .ok_or(Fault::NoFin)
            }
        }
    }

    /// Side area of what reaches below the canoe body [m²]; unknown without profile and fin.
    pub(crate) fn keel_area(&self, hull: &Hull) -> Option<f64> {
        if outline(&self.profile, 0.0).is_ok() {
            return Some(below(&self.profile, -hull.canoe_draught).map_or(0.0, |keel| keel.area));
        }
        let fin = self.fin?;
        let chords = fin.root.1 - fin.root.0 + fin.tip.1 - fin.tip.0;
        Some(0.5 * chords * (hull.draught - hull.canoe_draught))
    }
}

impl Fin {
    /// A quarter of the chord at a level [m], the edges carried on as straight lines.
    fn quarter(&self, hull: &Hull, z: f64) -> Option<f64> {
        let share = (-z - hull.canoe_draught) / (hull.draught - hull.canoe_draught);
        let lead = self.root.0 + share * (self.tip.0 - self.root.0);
        let trail = self.root.1 + share * (self.tip.1 - self.root.1);
        let at = lead + 0.25 * (trail - lead);
        (trail > lead && at.is_finite()).then_some(at)
    }
}
