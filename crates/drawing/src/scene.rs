//! A drawing as data: filled and stroked paths and runs of words, back to front, in CSS pixels.
//!
//! Painters are small and dumb: they take the items in order, ask [`crate::palette`] for the ink
//! of each role, and know nothing of boats.

use core::f64::consts::TAU;

use kurbo::{Affine, BezPath, Point, Rect, Vec2};
use quantities::Quantity;

use crate::lettering;
use crate::palette::Role;

/// A finished drawing.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Scene {
    /// Width of the pane [px].
    pub width: f64,
    /// Height of the pane [px].
    pub height: f64,
    /// What is drawn, for those who hear it.
    pub title: String,
    /// The same at more length.
    pub description: String,
    /// Back to front.
    pub items: Vec<Item>,
}

/// One thing to paint.
#[derive(Clone, Debug, PartialEq)]
pub enum Item {
    /// A path.
    Figure(Figure),
    /// Words.
    Words(Words),
}

/// A path, filled or stroked or both; the fill comes first.
#[derive(Clone, Debug, PartialEq)]
pub struct Figure {
    /// In pixels.
    pub path: BezPath,
    /// Filled by the non-zero rule.
    pub fill: Option<Role>,
    /// Stroked with round joins.
    pub stroke: Option<Stroke>,
}

/// A line as the pen draws it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stroke {
    /// Whose ink.
    pub role: Role,
    /// Width of the line [px].
    pub weight: f64,
    /// Broken or whole.
    pub dash: Dash,
    /// Shape of its ends.
    pub cap: Cap,
}

/// How a line is broken. Lengths are in pixels, whatever its weight.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Dash {
    /// A whole line.
    Whole,
    /// Slack or in outline only.
    Dashed,
    /// A trail.
    Dotted,
    /// An axis: long, short.
    Chain,
}

impl Dash {
    /// Lengths of line and gap in turn [px]; empty for a whole line.
    pub const fn pattern(self) -> &'static [f64] {
        match self {
            Dash::Whole => &[],
            Dash::Dashed => &[5.0, 4.0],
            // Round caps make dots of these.
            Dash::Dotted => &[0.1, 4.0],
            Dash::Chain => &[12.0, 3.0, 2.0, 3.0],
        }
    }
}

/// Shape of a line's ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cap {
    /// Cut square at the end.
    Butt,
    /// Rounded beyond the end.
    Round,
}

/// A run of words on one line.
#[derive(Clone, Debug, PartialEq)]
pub struct Words {
    /// What it says, finished.
    pub words: String,
    /// Whose ink.
    pub role: Role,
    /// Type size [px].
    pub size: f64,
    /// Weight of the letters.
    pub weight: Weight,
    /// Which end of the baseline `at` is.
    pub anchor: Anchor,
    /// On the baseline [px].
    pub at: Point,
    /// Turn of the baseline, clockwise on the screen [rad].
    pub angle: f64,
    /// Ground laid round the letters so that they stand clear of lines behind them.
    pub halo: Option<Role>,
    /// What a number is of, for who taps on it.
    pub about: Option<About>,
}

/// What a lettered number is of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct About {
    /// Its quantity.
    pub quantity: &'static Quantity,
    /// The spar it is of, boom 0, where it is of one of several.
    pub spar: Option<usize>,
}

/// Weight of letters.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Weight {
    /// 400.
    Regular,
    /// 600.
    Strong,
}

impl Weight {
    /// The weight's number in CSS and SVG.
    pub const fn number(self) -> u32 {
        match self {
            Weight::Regular => 400,
            Weight::Strong => 600,
        }
    }
}

/// Which part of a run of words stands at its place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Anchor {
    /// Its first letter.
    Start,
    /// Its middle.
    Middle,
    /// Its last letter.
    End,
}

impl Stroke {
    /// A whole line with round ends.
    pub const fn new(role: Role, weight: f64) -> Self {
        Self {
            role,
            weight,
            dash: Dash::Whole,
            cap: Cap::Round,
        }
    }

    /// The same line, broken. Dashes keep square ends, dots need round ones.
    pub const fn dashed(self, dash: Dash) -> Self {
        let cap = match dash {
            Dash::Whole | Dash::Dotted => Cap::Round,
            Dash::Dashed | Dash::Chain => Cap::Butt,
        };
        Self { dash, cap, ..self }
    }

    /// The same line with square ends.
    pub const fn square(self) -> Self {
        Self {
            cap: Cap::Butt,
            ..self
        }
    }
}

impl Words {
    /// Width of the halo on either side of the letters [px].
    pub const HALO: f64 = 2.0;

    /// Words at the usual size, without turn or halo.
    pub fn new(words: impl Into<String>, role: Role, at: Point, anchor: Anchor) -> Self {
        Self {
            words: words.into(),
            role,
            size: lettering::LEAST_SIZE,
            weight: Weight::Regular,
            anchor,
            at,
            angle: 0.0,
            halo: None,
            about: None,
        }
    }

    /// How far a point is off the box round the letters [px]; nought within.
    pub(crate) fn off(&self, point: Point) -> f64 {
        let [a, b, c, _] = self.corners();
        let (along, down) = (b - a, c - b);
        let outside = |side: Vec2| {
            let (at, length) = ((point - a).dot(side) / side.hypot(), side.hypot());
            (-at).max(at - length).max(0.0)
        };
        outside(along).hypot(outside(down))
    }

    /// Length on the line [px].
    pub fn length(&self) -> f64 {
        lettering::width(&self.words, self.size, self.weight)
    }

    /// The four corners of the box round the letters, tails included.
    pub fn corners(&self) -> [Point; 4] {
        self.cornered(self.length())
    }

    fn cornered(&self, length: f64) -> [Point; 4] {
        let start = match self.anchor {
            Anchor::Start => 0.0,
            Anchor::Middle => -0.5 * length,
            Anchor::End => -length,
        };
        let (top, bottom) = (
            -lettering::CAP_HEIGHT * self.size,
            lettering::TAIL_DEPTH * self.size,
        );
        let along = geometry::unit(self.angle);
        let down = Vec2::new(-along.y, along.x);
        [
            (start, top),
            (start + length, top),
            (start + length, bottom),
            (start, bottom),
        ]
        .map(|(x, y)| self.at + along * x + down * y)
    }

    /// Smallest upright box round the letters.
    pub fn bounds(&self) -> Rect {
        self.boxed(self.length())
    }

    /// The same of letters that are of another length on the line.
    pub(crate) fn boxed(&self, length: f64) -> Rect {
        let [a, b, c, d] = self.cornered(length);
        Rect::from_points(a, c).union(Rect::from_points(b, d))
    }
}

impl Figure {
    /// Upright box round the path, its control points and its line.
    pub fn bounds(&self) -> Rect {
        let half = self.stroke.map_or(0.0, |s| 0.5 * s.weight);
        self.path.control_box().inflate(half, half)
    }
}

impl Item {
    /// Upright box round it [px].
    pub fn bounds(&self) -> Rect {
        match self {
            Item::Figure(figure) => figure.bounds(),
            Item::Words(words) => words.bounds(),
        }
    }
}

impl Scene {
    /// The number lettered where a tap is, or nearest to it within a reach [px], and what it is of.
    pub fn number_at(&self, tap: Point, reach: f64) -> Option<(&str, About)> {
        let (mut found, mut least) = (None, reach);
        for item in &self.items {
            if let Item::Words(words) = item
                && let Some(about) = words.about
                && words.off(tap) < least
            {
                least = words.off(tap);
                found = Some((words.words.as_str(), about));
            }
        }
        found
    }

    /// An empty drawing of a size [px]; a size that is no number counts as nothing.
    pub fn new(width: f64, height: f64) -> Self {
        let usable = |length: f64| {
            if length.is_finite() {
                length.max(0.0)
            } else {
                0.0
            }
        };
        Self {
            width: usable(width),
            height: usable(height),
            ..Self::default()
        }
    }

    /// Lays a filled path on top.
    pub fn fill(&mut self, path: BezPath, role: Role) {
        self.figure(path, Some(role), None);
    }

    /// Lays a stroked path on top.
    pub fn stroke(&mut self, path: BezPath, stroke: Stroke) {
        self.figure(path, None, Some(stroke));
    }

    /// Lays a straight line on top.
    pub fn line(&mut self, from: Point, to: Point, stroke: Stroke) {
        let mut path = BezPath::new();
        path.move_to(from);
        path.line_to(to);
        self.stroke(path, stroke);
    }

    /// Lays a path on top. One with a point that is no number is left out: a painter would stop.
    pub fn figure(&mut self, path: BezPath, fill: Option<Role>, stroke: Option<Stroke>) {
        if !path.is_empty() && path.is_finite() {
            self.items.push(Item::Figure(Figure { path, fill, stroke }));
        }
    }

    /// Lays words on top; none where nothing is said.
    pub fn words(&mut self, words: Words) {
        if !words.words.is_empty() && words.at.is_finite() && words.angle.is_finite() {
            self.items.push(Item::Words(words));
        }
    }

    /// A line with a point at its end, barbs of this length.
    pub fn arrow(&mut self, from: Point, to: Point, barb: f64, stroke: Stroke) {
        self.line(from, to, stroke);
        let back = (from - to) * (barb / from.distance(to).max(1e-9));
        for side in [0.45, -0.45] {
            self.line(to, to + back + Vec2::new(-back.y, back.x) * side, stroke);
        }
    }

    /// The same drawing at another size, lines and letters with it.
    pub fn scaled(mut self, by: f64) -> Self {
        self.width *= by;
        self.height *= by;
        for item in &mut self.items {
            match item {
                Item::Figure(figure) => {
                    figure.path.apply_affine(Affine::scale(by));
                    if let Some(stroke) = &mut figure.stroke {
                        stroke.weight *= by;
                    }
                }
                Item::Words(words) => {
                    words.at = (words.at.to_vec2() * by).to_point();
                    words.size *= by;
                }
            }
        }
        self
    }

    /// All runs of words.
    pub fn all_words(&self) -> impl Iterator<Item = &Words> {
        self.items.iter().filter_map(|item| match item {
            Item::Words(words) => Some(words),
            Item::Figure(_) => None,
        })
    }
}

/// A line through points.
pub(crate) fn through(points: &[Point]) -> BezPath {
    let mut path = BezPath::new();
    for (i, point) in points.iter().enumerate() {
        if i == 0 {
            path.move_to(*point);
        } else {
            path.line_to(*point);
        }
    }
    path
}

/// The outline of a box.
pub(crate) fn boxed(rect: Rect) -> BezPath {
    let Rect { x0, y0, x1, y1 } = rect;
    let p = Point::new;
    let mut path = through(&[p(x0, y0), p(x1, y0), p(x1, y1), p(x0, y1)]);
    path.close_path();
    path
}

/// A ring, by the quarter [off by 0.02 % of its radius].
/// Source of the arm: S. Mortensen, "Approximate a circle with cubic Bézier curves" (2012).
pub(crate) fn circle(at: Point, radius: f64) -> BezPath {
    let mut path = BezPath::new();
    quarters(&mut path, at, radius, (0.0, TAU), 4, 0.551_915_024_494);
    path.close_path();
    path
}

/// An arc from one angle on, clockwise on the screen [rad]; of large ones to a tenth of a pixel.
pub(crate) fn arc(at: Point, radius: f64, from: f64, sweep: f64) -> BezPath {
    let mut path = BezPath::new();
    // So many for a full turn; the error falls with the sixth power (as kurbo has it).
    let turn = boat::power(11.163 * radius, 1.0 / 6.0).max(3.999_999);
    // Nothing on a pane is so large that it takes a thousand.
    let pieces = (turn * sweep.abs() / TAU).ceil().min(1000.0);
    let (sin, cos) = angles::sin_cos(0.25 * sweep / pieces);
    let arm = 4.0 / 3.0 * sin / cos;
    quarters(&mut path, at, radius, (from, sweep), pieces as u32, arm);
    path
}

/// Pieces of a ring, each a cubic curve with arms of a share of the radius.
fn quarters(
    path: &mut BezPath,
    at: Point,
    radius: f64,
    (from, sweep): (f64, f64),
    pieces: u32,
    arm: f64,
) {
    let mut last = Vec2::ZERO;
    for i in 0..=pieces {
        let out = radius * geometry::unit(from + sweep * f64::from(i) / f64::from(pieces));
        let along = arm * Vec2::new(-out.y, out.x);
        if i == 0 {
            path.move_to(at + out);
        } else {
            path.curve_to(at + last, at + (out - along), at + out);
        }
        last = out + along;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_arc_beyond_any_pane_has_an_end() {
        for radius in [1e90, f64::INFINITY, f64::NAN] {
            let path = arc(Point::ORIGIN, radius, 0.0, -TAU);
            assert!(path.elements().len() <= 1001, "{radius}");
        }
        let path = arc(Point::ORIGIN, 1e5, 0.0, TAU);
        assert_eq!(path.elements().len(), 12);
    }

    #[test]
    fn turned_words_are_boxed_as_they_lie() {
        let mut words = Words::new(
            "4.43 m",
            Role::Dimension,
            Point::new(50.0, 50.0),
            Anchor::Middle,
        );
        let flat = words.bounds();
        assert!((flat.width() - words.length()).abs() < 1e-9);
        words.angle = -core::f64::consts::FRAC_PI_2;
        let upright = words.bounds();
        assert!((upright.height() - flat.width()).abs() < 1e-9);
        assert!((upright.width() - flat.height()).abs() < 1e-9);
        // Read from the right: letters stand to the left of an upward baseline.
        assert!(upright.center().x < 50.0);
    }

    #[test]
    fn what_is_no_number_is_left_out() {
        let mut scene = Scene::new(f64::NAN, 100.0);
        assert_eq!(scene.width, 0.0);
        scene.line(
            Point::new(f64::NAN, 0.0),
            Point::new(1.0, 1.0),
            Stroke::new(Role::Spar, 1.0),
        );
        scene.words(Words::new(
            "x",
            Role::Note,
            Point::new(0.0, f64::INFINITY),
            Anchor::Start,
        ));
        assert!(scene.items.is_empty());
    }
}
