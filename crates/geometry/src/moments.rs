//! Area, centroid and second moments of an outline with curved edges.

use core::ops::{Add, Sub};

use kurbo::{ParamCurve, ParamCurveDeriv, PathEl, PathSeg, Point, Vec2};

/// Area moments of a plane figure about the origin of its own axes [m², m³, m⁴].
///
/// Equations (Green's theorem, boundary run counter-clockwise):
/// A = ∮ u dv, ∫u dA = ½∮ u² dv, ∫v dA = -½∮ v² du, ∫u² dA = ⅓∮ u³ dv, ∫v² dA = -⅓∮ v³ du,
/// ∫uv dA = ½∮ u² v dv. Exact for lines, quadratic and cubic Bézier edges: the integrands are
/// polynomials and the Gauss rule used has the degree to integrate them without error.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Moments {
    /// Area [m²]; negative when the boundary runs clockwise.
    pub area: f64,
    /// First moments (∫u dA, ∫v dA) [m³].
    pub first: Vec2,
    /// ∫u² dA [m⁴].
    pub second_uu: f64,
    /// ∫v² dA [m⁴].
    pub second_vv: f64,
    /// ∫uv dA [m⁴].
    pub second_uv: f64,
}

/// Points and weights of the Gauss-Legendre rules on 0..1 (Abramowitz & Stegun, table 25.4).
const GAUSS_2: [(f64, f64); 2] = [
    (0.211_324_865_405_187_1, 0.5),
    (0.788_675_134_594_812_9, 0.5),
];
const GAUSS_4: [(f64, f64); 4] = [
    (0.069_431_844_202_973_71, 0.173_927_422_568_726_93),
    (0.330_009_478_207_571_87, 0.326_072_577_431_273_07),
    (0.669_990_521_792_428_1, 0.326_072_577_431_273_07),
    (0.930_568_155_797_026_3, 0.173_927_422_568_726_93),
];
const GAUSS_6: [(f64, f64); 6] = [
    (0.033_765_242_898_423_99, 0.085_662_246_189_585_17),
    (0.169_395_306_766_867_74, 0.180_380_786_524_069_3),
    (0.380_690_406_958_401_56, 0.233_956_967_286_345_52),
    (0.619_309_593_041_598_4, 0.233_956_967_286_345_52),
    (0.830_604_693_233_132_3, 0.180_380_786_524_069_3),
    (0.966_234_757_101_576, 0.085_662_246_189_585_17),
];

impl Moments {
    /// What one boundary segment adds to the moments of the figure it bounds.
    pub fn of_segment(segment: &PathSeg) -> Self {
        let mut sum = Self::default();
        let mut add = |p: Point, d: Vec2, weight: f64| {
            let (du, dv) = (d.x * weight, d.y * weight);
            sum.area += p.x * dv;
            sum.first.x += 0.5 * p.x * p.x * dv;
            sum.first.y -= 0.5 * p.y * p.y * du;
            sum.second_uu += p.x * p.x * p.x * dv / 3.0;
            sum.second_vv -= p.y * p.y * p.y * du / 3.0;
            sum.second_uv += 0.5 * p.x * p.x * p.y * dv;
        };
        match segment {
            PathSeg::Line(line) => {
                for (t, weight) in GAUSS_2 {
                    add(line.eval(t), line.p1 - line.p0, weight);
                }
            }
            PathSeg::Quad(quad) => {
                let slope = quad.deriv();
                for (t, weight) in GAUSS_4 {
                    add(quad.eval(t), slope.eval(t).to_vec2(), weight);
                }
            }
            PathSeg::Cubic(cubic) => {
                let slope = cubic.deriv();
                for (t, weight) in GAUSS_6 {
                    add(cubic.eval(t), slope.eval(t).to_vec2(), weight);
                }
            }
        }
        sum
    }

    /// Moments of the figure bounded by the segments, which must close.
    pub fn of(segments: impl IntoIterator<Item = PathSeg>) -> Self {
        segments
            .into_iter()
            .fold(Self::default(), |sum, s| sum + Self::of_segment(&s))
    }

    /// Moments of a path; open subpaths are closed with a line.
    pub fn of_path(path: impl IntoIterator<Item = PathEl>) -> Self {
        Self::of(closed_segments(path))
    }

    /// Centroid; `None` for a figure without area.
    pub fn centroid(&self) -> Option<Point> {
        let at = (self.first / self.area).to_point();
        (self.area.abs() > 1e-12 && at.is_finite()).then_some(at)
    }

    /// Second moments about the centroid's own axes: (∫u², ∫v², ∫uv) [m⁴].
    pub fn second_about_centroid(&self) -> Option<(f64, f64, f64)> {
        let c = self.centroid()?;
        Some((
            self.second_uu - self.area * c.x * c.x,
            self.second_vv - self.area * c.y * c.y,
            self.second_uv - self.area * c.x * c.y,
        ))
    }
}

impl Add for Moments {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self {
            area: self.area + other.area,
            first: self.first + other.first,
            second_uu: self.second_uu + other.second_uu,
            second_vv: self.second_vv + other.second_vv,
            second_uv: self.second_uv + other.second_uv,
        }
    }
}

impl Sub for Moments {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self {
            area: self.area - other.area,
            first: self.first - other.first,
            second_uu: self.second_uu - other.second_uu,
            second_vv: self.second_vv - other.second_vv,
            second_uv: self.second_uv - other.second_uv,
        }
    }
}

/// Length of a boundary [m].
///
/// Straight edges exactly; curved ones by Gauss's rule in sixteen steps, which for the round and
/// hollow a sail has is good to 1e-9 of their length.
pub fn perimeter(path: impl IntoIterator<Item = PathEl>) -> f64 {
    closed_segments(path).map(|s| edge_length(&s)).sum()
}

fn edge_length(segment: &PathSeg) -> f64 {
    if let PathSeg::Line(line) = segment {
        return (line.p1 - line.p0).hypot();
    }
    let steps = 16;
    let mut sum = 0.0;
    for step in 0..steps {
        for (t, weight) in GAUSS_6 {
            let t = (f64::from(step) + t) / f64::from(steps);
            let slope = match segment {
                PathSeg::Line(line) => line.p1 - line.p0,
                PathSeg::Quad(quad) => quad.deriv().eval(t).to_vec2(),
                PathSeg::Cubic(cubic) => cubic.deriv().eval(t).to_vec2(),
            };
            sum += slope.hypot() * weight / f64::from(steps);
        }
    }
    sum
}

/// What a straight or quadratic boundary segment adds to the area with `u < 0` [m²].
///
/// With g(u) = min(u, 0), ∂g/∂u is 1 ahead of the axis and 0 abaft it, so by Green's theorem the
/// area ahead of the mast is ∮ g(u) dv: exact once the segment is split where it crosses u = 0.
pub fn area_ahead(segment: &PathSeg) -> f64 {
    let q = match segment {
        PathSeg::Line(line) => return line_ahead(line.p0, line.p1),
        PathSeg::Quad(quad) => quad,
        // No sail has such an edge; one is run as its chords.
        PathSeg::Cubic(c) => {
            let steps = 64;
            let at = |i: i32| c.eval(f64::from(i) / f64::from(steps));
            return (0..steps).map(|i| line_ahead(at(i), at(i + 1))).sum();
        }
    };
    let mut from = 0.0;
    let mut sum = 0.0;
    let mut run = |to: f64| {
        if q.eval(0.5 * (from + to)).x < 0.0 {
            sum += Moments::of_segment(&segment.subsegment(from..to)).area;
        }
        from = to;
    };
    // A curve lies within its control points: one wholly ahead or abaft is not searched.
    let ahead = [q.p0, q.p1, q.p2].map(|p| p.x < 0.0);
    if ahead.contains(&true) && ahead.contains(&false) {
        // The roots come in rising order.
        kurbo::common::solve_quadratic(
            q.p0.x,
            2.0 * (q.p1.x - q.p0.x),
            q.p0.x - 2.0 * q.p1.x + q.p2.x,
        )
        .into_iter()
        .filter(|t| *t > 0.0 && *t < 1.0)
        .for_each(&mut run);
    }
    run(1.0);
    sum
}

/// [`area_ahead`] of a straight edge, without a search: nothing ahead, all ahead, or one crossing.
pub(crate) fn line_ahead(a: Point, b: Point) -> f64 {
    let (du, dv) = (b.x - a.x, b.y - a.y);
    match (a.x < 0.0, b.x < 0.0) {
        (false, false) => 0.0,
        (true, true) => 0.5 * (a.x + b.x) * dv,
        (true, false) => -0.5 * a.x * a.x * dv / du,
        (false, true) => 0.5 * b.x * b.x * dv / du,
    }
}

fn closed_segments(path: impl IntoIterator<Item = PathEl>) -> impl Iterator<Item = PathSeg> {
    let mut elements: Vec<PathEl> = Vec::new();
    for element in path {
        if matches!(element, PathEl::MoveTo(_))
            && !elements.is_empty()
            && !matches!(elements.last(), Some(PathEl::ClosePath))
        {
            elements.push(PathEl::ClosePath);
        }
        elements.push(element);
    }
    if !elements.is_empty() && !matches!(elements.last(), Some(PathEl::ClosePath)) {
        elements.push(PathEl::ClosePath);
    }
    kurbo::segments(elements).collect::<Vec<_>>().into_iter()
}
