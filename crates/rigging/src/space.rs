//! Vectors in ship axes, and the frame that turns with the sail.

use geometry::Spar;
use geometry::mast::{Mast, Place, Side};
use kurbo::Point;

/// a + k b.
pub(crate) fn plus(a: Place, k: f64, b: Place) -> Place {
    Place {
        x: a.x + k * b.x,
        y: a.y + k * b.y,
        z: a.z + k * b.z,
    }
}

/// a - b.
pub(crate) fn less(a: Place, b: Place) -> Place {
    plus(a, -1.0, b)
}

pub(crate) fn dot(a: Place, b: Place) -> f64 {
    a.x * b.x + a.y * b.y + a.z * b.z
}

pub(crate) fn cross(a: Place, b: Place) -> Place {
    Place {
        x: a.y * b.z - a.z * b.y,
        y: a.z * b.x - a.x * b.z,
        z: a.x * b.y - a.y * b.x,
    }
}

pub(crate) fn length(a: Place) -> f64 {
    dot(a, a).sqrt()
}

/// Straight from one place to the other [m].
pub fn distance(a: Place, b: Place) -> f64 {
    length(less(a, b))
}

pub(crate) const NOWHERE: Place = Place {
    x: 0.0,
    y: 0.0,
    z: 0.0,
};

/// The mast's own axes, turned about it with the sail: u in the sail's plane aft of the mast, w square
/// to the plane (to starboard while the sail lies along the centreline), v up the mast. The turned
/// axes are those of [`Mast::sheeted`].
#[derive(Clone, Copy, Debug)]
pub struct Frame {
    /// Mast axis at the partners.
    pub foot: Place,
    /// Unit vectors.
    pub u: Place,
    /// See `u`.
    pub w: Place,
    /// See `u`.
    pub v: Place,
    /// The sail's plane lies at this w [m].
    pub off: f64,
}

impl Frame {
    /// The frame at a sheeting angle [rad].
    pub fn new(mast: &Mast, sheeting: f64) -> Self {
        let (sin_rake, cos_rake) = angles::sin_cos(mast.rake);
        let (sin, cos) = angles::sin_cos(sheeting);
        let level = |aft: f64, y: f64| Place {
            x: aft * cos_rake,
            y,
            z: -aft * sin_rake,
        };
        Self {
            foot: Place {
                x: mast.x,
                y: 0.0,
                z: mast.z,
            },
            u: level(cos, sin),
            w: level(-sin, cos),
            v: Place {
                x: sin_rake,
                y: 0.0,
                z: cos_rake,
            },
            off: match mast.side {
                Side::Port => -mast.offset,
                Side::Starboard => mast.offset,
            },
        }
    }

    /// A place by its coordinates in the frame.
    pub fn at(&self, u: f64, w: f64, v: f64) -> Place {
        plus(plus(plus(self.foot, u, self.u), w, self.w), v, self.v)
    }

    /// A point of the sail's plane.
    pub fn sail(&self, p: Point) -> Place {
        self.at(p.x, self.off, p.y)
    }

    /// A place's coordinates (u, w, v) in the frame.
    pub fn of(&self, p: Place) -> (f64, f64, f64) {
        let d = less(p, self.foot);
        (dot(d, self.u), dot(d, self.w), dot(d, self.v))
    }

    /// How fast a place that turns with the sail moves [m/rad]: v x (p - foot) = u w - w u.
    pub fn turning(&self, p: Place) -> Place {
        let (u, w, _) = self.of(p);
        plus(plus(NOWHERE, u, self.w), -w, self.u)
    }
}

/// A point of a spar by its share of the length from the luff end.
pub(crate) fn on(spar: &Spar, share: f64) -> Point {
    spar.at(share * spar.length)
}
