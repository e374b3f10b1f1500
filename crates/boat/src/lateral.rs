//! Outlines: the underwater profile and the sails she has now.

use crate::account::{Fault, Outline, Resistance};
use crate::table::MOST;
use crate::{Fin, Hull, Lateral, Method};
use kurbo::Point;

/// Twice the area of a triangle, positive counter-clockwise.
fn turn(a: Point, b: Point, c: Point) -> f64 {
    (b - a).cross(c - a)
}

/// Whether an outline closed by itself crosses itself. Points that touch do not count: a keel may be
/// traced down and up the same line.
fn crosses(outline: &[Point]) -> bool {
    let Some(&(mut a)) = outline.last() else {
        return false;
    };
    for (i, &b) in outline.iter().enumerate() {
        let mut c = b;
        for &d in outline.get(i + 1..).unwrap_or_default() {
            if turn(a, b, c) * turn(a, b, d) < 0.0 && turn(c, d, a) * turn(c, d, b) < 0.0 {
                return true;
            }
            c = d;
        }
        a = b;
    }
    false
}

/// Area and centroid of what of an outline lies below a level; `None` of nothing. By the shoelace formula:
/// c = x_1 z_2 - x_2 z_1, A = ½ Σ c, A x = Σ c (x_1 + x_2)/6, A z = Σ c (z_1 + z_2)/6.
///
/// The parts above are laid flat onto the level, which leaves area and moments of the rest as they are.
fn below(outline: &[Point], level: f64) -> Option<Outline> {
    let (mut area, mut x, mut z) = (0.0, 0.0, 0.0);
    let mut last = *outline.last()?;
    let mut from = last;
    if from.y > level {
        from.y = level;
    }
    let mut to = |mut p: Point| {
        if p.y > level {
            p.y = level;
        }
        let cross = from.x * p.y - p.x * from.y;
        area += cross / 2.0;
        x += cross * (from.x + p.x) / 6.0;
        z += cross * (from.y + p.y) / 6.0;
        from = p;
    };
    for &point in outline {
        if (last.y > level) != (point.y > level) {
            to(last.lerp(point, (level - last.y) / (point.y - last.y)));
        }
        to(point);
        last = point;
    }
    let (x, z) = (x / area, z / area);
    let area = area.abs();
    // A line traced there and back encloses nothing but rounding.
    (area > 1e-6 && (x + z).is_finite()).then_some(Outline { area, x, z })
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

    /// Side area of what reaches below the canoe body [m²], by the way chosen.
    pub(crate) fn keel_area(&self, hull: &Hull) -> f64 {
        match (self.method, self.fin) {
            (Method::Keel, Some(fin)) => {
                let chords = fin.root.1 - fin.root.0 + fin.tip.1 - fin.tip.0;
                0.5 * chords * (hull.draught - hull.canoe_draught)
            }
            _ => below(&self.profile, -hull.canoe_draught).map_or(0.0, |keel| keel.area),
        }
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
