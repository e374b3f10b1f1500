//! A spar in the sail's own plane.

use kurbo::{Point, Vec2};

/// The unit vector at an angle from the first axis toward the second [rad].
pub fn unit(angle: f64) -> Vec2 {
    let (sin, cos) = angles::sin_cos(angle);
    Vec2::new(cos, sin)
}

/// Boom, batten or yard: where its luff end lies, how it points, how long it is.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Spar {
    /// Luff end (u, v) [m].
    pub luff: Point,
    /// Angle above the horizontal of the sail plane, aft end up [rad].
    pub angle: f64,
    /// Luff to leech [m].
    pub length: f64,
    /// Unit vector from luff to leech: (cos angle, sin angle). Kept so that turning a spar costs
    /// no trigonometry.
    #[cfg_attr(feature = "serde", serde(skip))]
    pub along: Vec2,
}

impl Spar {
    /// A spar from its luff end, angle [rad] and length [m].
    pub fn new(luff: Point, angle: f64, length: f64) -> Self {
        Self {
            luff,
            angle,
            length,
            along: unit(angle),
        }
    }

    /// Leech end (u, v) [m].
    pub fn leech(&self) -> Point {
        self.at(self.length)
    }

    /// The point at a distance from the luff end [m].
    pub fn at(&self, distance: f64) -> Point {
        self.luff + self.along * distance
    }

    /// Length of spar ahead of the mast axis [m]; negative when the whole spar lies abaft it.
    ///
    /// `None` for a spar within 1 deg of the mast's own direction, which has no such point.
    pub fn ahead(&self) -> Option<f64> {
        (self.along.x > 0.017).then(|| -self.luff.x / self.along.x)
    }

    /// Height on the mast where the spar's line crosses the mast axis [m above partners].
    pub fn height_on_mast(&self) -> Option<f64> {
        self.ahead().map(|ahead| self.at(ahead).y)
    }

    /// True when the mast axis passes between luff and leech end.
    pub fn crosses_mast(&self) -> bool {
        self.ahead()
            .is_some_and(|ahead| (0.0..=self.length).contains(&ahead))
    }
}

/// A vector turned by the angle of the unit vector `spin`.
pub(crate) fn turned(v: Vec2, spin: Vec2) -> Vec2 {
    Vec2::new(v.x * spin.x - v.y * spin.y, v.x * spin.y + v.y * spin.x)
}
