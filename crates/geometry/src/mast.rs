//! The mast as geometry: where it stands, how it tapers, and the way from sail to ship axes.

use kurbo::{BezPath, Point};

/// Outline and place of an unstayed mast.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Mast {
    /// Mast axis at the partners, aft of the forward end of the waterline [m].
    pub x: f64,
    /// Partners above the waterline [m].
    pub z: f64,
    /// Rake, head aft positive [rad].
    pub rake: f64,
    /// Heel to partners, along the mast [m].
    pub bury: f64,
    /// Partners to masthead, along the mast (LAP) [m].
    pub lap: f64,
    /// Diameter at the partners [m].
    pub diameter: f64,
    /// Diameter at the masthead [m].
    pub top_diameter: f64,
    /// Share of the LAP that is parallel above the partners.
    pub parallel: f64,
    /// Sail plane from the mast axis [m], never negative.
    pub offset: f64,
    /// Side of the mast the sail stands on.
    pub side: Side,
}

/// Side of the mast the sail stands on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub enum Side {
    /// To port of the mast.
    Port,
    /// To starboard of the mast.
    Starboard,
}

/// A place in ship axes: x aft, y to starboard, z up [m].
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Place {
    /// Aft of the forward end of the waterline.
    pub x: f64,
    /// To starboard of the centreline.
    pub y: f64,
    /// Above the waterline.
    pub z: f64,
}

/// The sail's plane in ship axes, its sines and cosines worked out once.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SailPlane {
    partners: (f64, f64),
    /// To starboard of the mast axis [m].
    off: f64,
    rake: (f64, f64),
    sheeting: (f64, f64),
}

impl SailPlane {
    /// A point of the plane (u, v) in ship axes.
    pub fn place(&self, p: Point) -> Place {
        let (sin_rake, cos_rake) = self.rake;
        let (sin_sheet, cos_sheet) = self.sheeting;
        // Square to the mast: `aft` in the ship's middle plane, y to starboard.
        let aft = p.x * cos_sheet - self.off * sin_sheet;
        Place {
            x: self.partners.0 + aft * cos_rake + p.y * sin_rake,
            y: p.x * sin_sheet + self.off * cos_sheet,
            z: self.partners.1 - aft * sin_rake + p.y * cos_rake,
        }
    }
}

impl Mast {
    /// Diameter at a height above the partners [m]: parallel, then a straight taper to the top.
    /// Below the partners the mast keeps its partners diameter.
    pub fn diameter_at(&self, height: f64) -> f64 {
        let from = self.parallel.max(0.0).min(1.0) * self.lap;
        if height <= from || self.lap <= from {
            return self.diameter;
        }
        let share = ((height - from) / (self.lap - from)).min(1.0);
        self.diameter + (self.top_diameter - self.diameter) * share
    }

    /// From the sail's plane to ship axes.
    ///
    /// The mast axis leans aft by the rake; the plane turns about that axis by `sheeting` [rad]
    /// (0 along the centreline, positive boom to starboard) and stands beside it by the offset.
    /// The mast axis itself is u = 0 at zero offset.
    pub fn to_ship(&self, p: Point, sheeting: f64) -> Place {
        self.sheeted(sheeting).place(p)
    }

    /// Sail plane to starboard of the mast axis [m].
    fn off(&self) -> f64 {
        match self.side {
            Side::Port => -self.offset,
            Side::Starboard => self.offset,
        }
    }

    /// A point on the mast axis, in ship axes.
    pub fn axis_at(&self, height: f64) -> Place {
        self.plane(0.0, 0.0).place(Point::new(0.0, height))
    }

    /// The masthead.
    pub fn head(&self) -> Place {
        self.axis_at(self.lap)
    }

    /// The heel in its step.
    pub fn heel(&self) -> Place {
        self.axis_at(-self.bury)
    }

    /// The sail's plane sheeted to an angle [rad], for many points; see [`Mast::to_ship`].
    pub fn sheeted(&self, sheeting: f64) -> SailPlane {
        self.plane(sheeting, self.off())
    }

    fn plane(&self, sheeting: f64, off: f64) -> SailPlane {
        SailPlane {
            partners: (self.x, self.z),
            off,
            rake: angles::sin_cos(self.rake),
            sheeting: angles::sin_cos(sheeting),
        }
    }

    /// Side view of the mast in its own plane (u, v), heel to masthead.
    pub fn outline(&self) -> BezPath {
        let from = self.parallel.max(0.0).min(1.0) * self.lap;
        let (foot, top) = (0.5 * self.diameter, 0.5 * self.top_diameter);
        let mut path = BezPath::new();
        path.move_to((-foot, -self.bury));
        path.line_to((foot, -self.bury));
        path.line_to((foot, from));
        path.line_to((top, self.lap));
        path.line_to((-top, self.lap));
        path.line_to((-foot, from));
        path.close_path();
        path
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use core::f64::consts::FRAC_PI_2;

    fn mast() -> Mast {
        Mast {
            x: 1.5,
            z: 0.8,
            rake: 0.0,
            bury: 1.0,
            lap: 8.0,
            diameter: 0.15,
            top_diameter: 0.075,
            parallel: 0.15,
            offset: 0.1,
            side: Side::Port,
        }
    }

    #[test]
    fn a_port_sail_stands_to_port_and_squares_off_abaft_the_mast_with_its_boom_to_starboard() {
        let boom_end = Point::new(4.0, 0.5);
        let sheeted = mast().to_ship(boom_end, 0.0);
        assert!((sheeted.x - 5.5).abs() < 1e-12 && (sheeted.y + 0.1).abs() < 1e-12);
        let squared = mast().to_ship(boom_end, FRAC_PI_2);
        assert!((squared.y - 4.0).abs() < 1e-12, "boom to starboard");
        assert!(
            (squared.x - 1.6).abs() < 1e-12,
            "abaft the mast: it presses on it"
        );
        let other = mast().to_ship(boom_end, -FRAC_PI_2);
        assert!((other.y + 4.0).abs() < 1e-12 && (other.x - 1.4).abs() < 1e-12);
    }

    #[test]
    fn rake_carries_the_masthead_aft_and_turning_keeps_lengths() {
        let raked = Mast {
            rake: 0.1,
            ..mast()
        };
        assert!((raked.head().x - (1.5 + 8.0 * 0.1f64.sin())).abs() < 1e-12);
        let (p, q) = (Point::new(-0.4, 0.3), Point::new(3.1, 6.2));
        for sheeting in [-1.4, 0.0, 0.7, 1.5] {
            let (a, b) = (raked.to_ship(p, sheeting), raked.to_ship(q, sheeting));
            let d = ((a.x - b.x).powi(2) + (a.y - b.y).powi(2) + (a.z - b.z).powi(2)).sqrt();
            assert!((d - p.distance(q)).abs() < 1e-12);
        }
    }

    #[test]
    fn the_mast_tapers_from_its_parallel_part_to_the_top() {
        let m = mast();
        assert_eq!(m.diameter_at(1.0), 0.15);
        assert!((m.diameter_at(8.0) - 0.075).abs() < 1e-12);
        assert!((m.diameter_at(1.2 + 3.4) - 0.1125).abs() < 1e-12);
    }
}
