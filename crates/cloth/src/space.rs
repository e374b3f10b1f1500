//! Points off the sail's plane.

use kurbo::Point;

/// A place or a way in the sail's own axes [m].
#[derive(Clone, Copy, Debug, Default, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct At {
    /// Aft of the mast axis.
    pub u: f64,
    /// Above the partners, along the mast.
    pub v: f64,
    /// Out of the sail's plane.
    pub w: f64,
}

impl At {
    /// A point of the plane, carried out of it.
    pub(crate) fn over(p: Point, w: f64) -> Self {
        Self { u: p.x, v: p.y, w }
    }

    /// Its foot in the sail's plane.
    pub(crate) fn flat(self) -> Point {
        Point::new(self.u, self.v)
    }

    pub(crate) fn dot(self, other: Self) -> f64 {
        self.u * other.u + self.v * other.v + self.w * other.w
    }

    pub(crate) fn cross(self, other: Self) -> Self {
        Self {
            u: self.v * other.w - self.w * other.v,
            v: self.w * other.u - self.u * other.w,
            w: self.u * other.v - self.v * other.u,
        }
    }

    pub(crate) fn length(self) -> f64 {
        self.dot(self).sqrt()
    }

    /// This way and `by` times another.
    pub(crate) fn plus(self, other: Self, by: f64) -> Self {
        Self {
            u: self.u + by * other.u,
            v: self.v + by * other.v,
            w: self.w + by * other.w,
        }
    }

    pub(crate) fn lerp(self, other: Self, t: f64) -> Self {
        self.plus(other.plus(self, -1.0), t)
    }
}

/// Length of a curve from points spaced evenly over each of its two halves: sums of chords over
/// one, two and four steps, extrapolated (Romberg), since their errors go as the even powers of the step.
pub(crate) fn curve_length(n: usize, distance: &dyn Fn(usize, usize) -> f64) -> f64 {
    let half = n / 2;
    let sum = |step: usize| {
        let mut sum = 0.0;
        let mut i = 0;
        while i + step <= n {
            sum += distance(i, i + step);
            i += step;
        }
        sum
    };
    if half == 0 || half & 3 != 0 || n & 1 != 0 {
        return sum(1);
    }
    let (one, two, four) = (sum(1), sum(2), sum(4));
    let (fine, coarse) = ((4.0 * one - two) / 3.0, (4.0 * two - four) / 3.0);
    (16.0 * fine - coarse) / 15.0
}
