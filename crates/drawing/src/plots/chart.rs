//! One thing against another: lines, dots, limits, lettered beside them without a legend.

use ::spars::finder::Found;
use ::spars::raising::Raised;
use kurbo::{BezPath, Point, Rect, Vec2};
use quantities::units::{self, UnitKind, Units};
use quantities::{Quantity, quantity};

use super::{
    AXIS, Look, NOTE, NOW, Spot, dot, hair, letter, letter_beside, nothing, tick, tick_number,
    told, trace,
};
use crate::lettering::{self, LEAST_SIZE};
use crate::moment::Moment;
use crate::palette::Role;
use crate::sail_plan::board::Board;
use crate::scene::{Anchor, Dash, Stroke, Weight, circle};

/// A chart, in SI.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Chart {
    /// Its name: a key of the catalogue.
    pub title: &'static str,
    /// Along and up: a key of the catalogue, and what the ticks tell. Without: no ticks.
    pub axes: [(&'static str, Option<&'static Quantity>); 2],
    /// All that is drawn, back to front.
    pub parts: Vec<Part>,
}

/// Something on a chart.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// What it is.
    pub kind: Kind,
    /// Where it lies.
    pub points: Vec<Point>,
    /// What is said of it; nothing of dots.
    pub said: String,
}

/// What is drawn of a part.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// A dot at each point, filled.
    Dots,
    /// The same, hollow.
    Hollow,
    /// A limit through its first point, straight across.
    Across,
    /// The same, upright.
    Upright,
    /// A line, told by its greatest.
    Line,
    /// A ring round its first point.
    Mark,
}

/// Most safety that is shown of what may be chosen: far stronger ones are of no use.
const MOST_SAFETY: f64 = 3.0;

/// Dots keep so far from one another [px].
const GRID: f64 = 5.0;

impl Chart {
    fn add(&mut self, kind: Kind, points: Vec<Point>, said: String) {
        self.parts.push(Part { kind, points, said });
    }

    /// Pull of the tackle, force on the hinge and thrust of the gin pole while a mast is raised.
    /// `forces`: the mast above the level [rad], and what it takes there, as `design::spar_shop::raising` has them.
    pub fn raising(moment: &Moment, forces: &[(f64, Raised)]) -> Self {
        let mut chart = Self {
            title: "plot.raising",
            axes: [
                ("plot.raised", Some(&quantity::HEEL)),
                ("plot.force", Some(&quantity::LINE_PULL)),
            ],
            parts: Vec::with_capacity(3),
        };
        for (i, key) in ["plot.pull", "plot.hinge", "plot.gin"]
            .into_iter()
            .enumerate()
        {
            let (mut points, mut most) = (Vec::with_capacity(forces.len()), 0.0);
            for (angle, at) in forces {
                let hinge = Vec2::new(at.hinge.0, at.hinge.1).hypot();
                let force = [at.pull, hinge, at.gin][i];
                most = f64::max(most, force);
                points.push(Point::new(*angle, force));
            }
            if most > 0.0 {
                let said = told(moment, key, &[("force", most, &quantity::LINE_PULL)]);
                chart.add(Kind::Line, points, said);
            }
        }
        chart
    }

    /// What may be chosen: weight along, strength over stress up; hollow what does not pass.
    pub fn finder(moment: &Moment, found: &Found) -> Self {
        let mut chart = Self {
            title: "plot.finder",
            axes: [
                ("plot.weight", Some(&quantity::PART_MASS)),
                ("plot.safety", Some(&quantity::ASPECT)),
            ],
            parts: Vec::with_capacity(4),
        };
        for (kind, passes) in [(Kind::Hollow, false), (Kind::Dots, true)] {
            let mut points = Vec::with_capacity(found.rated.len());
            for rated in found.rated.iter().flatten() {
                let at = Point::new(rated.mass, 1.0 / rated.ratio);
                if rated.passes == passes && at.y <= MOST_SAFETY {
                    points.push(at);
                }
            }
            chart.add(kind, points, String::new());
        }
        let allowed = vec![Point::new(0.0, 1.0)];
        chart.add(Kind::Across, allowed, told(moment, "plot.allowed", &[]));
        let chosen = found.chosen.and_then(|i| found.rated.get(i));
        if let Some(Some(rated)) = chosen {
            let mass = [("mass", rated.mass, &quantity::PART_MASS)];
            let at = Point::new(rated.mass, (1.0 / rated.ratio).min(MOST_SAFETY));
            chart.add(Kind::Mark, vec![at], told(moment, "plot.chosen", &mass));
        }
        chart
    }

    /// A batten, yard or boom: moment over it and bend under it, each as a share of its most, with mast and sheet.
    /// `rows`: from the luff end, moment, bend.
    pub fn bending(moment: &Moment, rows: &[[f64; 3]], mast: f64, sheet: f64) -> Self {
        let mut chart = Self {
            title: "plot.bending",
            axes: [("plot.from_luff", Some(&quantity::SPAR_LENGTH)), ("", None)],
            parts: Vec::with_capacity(4),
        };
        for (key, place) in [("plot.mast", mast), ("plot.sheet", sheet)] {
            let at = vec![Point::new(place, 0.0)];
            chart.add(Kind::Upright, at, told(moment, key, &[]));
        }
        for bend in [false, true] {
            let (mut points, mut most) = (Vec::with_capacity(rows.len()), 1e-9);
            for [_, moment, deflection] in rows {
                most = f64::max(most, if bend { *deflection } else { *moment }.abs());
            }
            for [x, moment, deflection] in rows {
                let y = if bend {
                    -0.7 * deflection.abs()
                } else {
                    moment.abs()
                };
                points.push(Point::new(*x, y / most));
            }
            let (key, of) = if bend {
                ("plot.bend", &quantity::DEFLECTION)
            } else {
                ("drawing.moment", &quantity::GREATEST_MOMENT)
            };
            chart.add(
                Kind::Line,
                points,
                told(moment, key, &[("value", most, of)]),
            );
        }
        chart
    }
}

/// Where numbers lie on the pane: the ends of both, along and up.
pub(super) struct Axes {
    pub(super) left: f64,
    pub(super) right: f64,
    pub(super) top: f64,
    pub(super) bottom: f64,
    pub(super) x: (f64, f64),
    pub(super) y: (f64, f64),
}

impl Axes {
    pub(super) fn at(&self, x: f64, y: f64) -> Point {
        let share = |(low, high): (f64, f64), value: f64| (value - low) / (high - low);
        Point::new(
            self.left + (self.right - self.left) * share(self.x, x),
            self.bottom - (self.bottom - self.top) * share(self.y, y),
        )
    }
}

/// Ticks with numbers along an axis, from nought on or the low end: to the left, right or under it.
pub(super) fn ticks(
    board: &mut Board,
    at: &dyn Fn(f64) -> Point,
    (low, high): (f64, f64),
    (unit, step): (f64, f64),
    sign: &str,
    (x, y, anchor): Spot,
) {
    let first = (low.max(0.0) / unit / step - 1e-6).ceil();
    for i in 0..24 {
        let value = step * (first + f64::from(i));
        let past = value * unit - high;
        if past.is_nan() || past > 1e-9 * (high - low) {
            break;
        }
        let at = at(value * unit);
        hair(board, at, at + Vec2::new(x, y).normalize() * 4.0);
        let mut number = tick_number(value, step, board.moment.view.units);
        number.push_str(sign);
        letter(board, &number, &AXIS, at, &[(x, y, anchor)]);
    }
}

/// The axis at the left or the right, with its name over it: the unit, and how many of it ticks are apart.
pub(super) fn upright(board: &mut Board, axes: &Axes, right: bool, tick: (f64, f64), name: &str) {
    let at = |value: f64| axes.at(if right { axes.x.1 } else { axes.x.0 }, value);
    let head = at(axes.y.1) - Vec2::new(0.0, 6.0);
    hair(board, head, at(axes.y.0));
    let (numbers, over) = if right {
        ((7.0, 0.0, Anchor::Start), (34.0, -12.0, Anchor::End))
    } else {
        (
            (-7.0, 0.0, Anchor::End),
            (6.0 - head.x, -12.0, Anchor::Start),
        )
    };
    ticks(board, &at, axes.y, tick, "", numbers);
    letter(board, name, &AXIS, head, &[over]);
}

/// Where the numbers of an axis that lies stand.
pub(super) const UNDER: Spot = (0.0, 14.0, Anchor::Middle);

/// What one on an axis is in SI, and what it is called.
pub(super) fn unit(quantity: &Quantity, shown: Units) -> (f64, &'static str) {
    let metric = !shown.imperial();
    let si = match quantity.kind {
        UnitKind::Angle => 1f64.to_radians(),
        UnitKind::Moment if metric => 1000.0,
        UnitKind::Moment => units::POUND_FOOT,
        UnitKind::Length if !metric => units::FOOT,
        UnitKind::Mass if !metric => units::POUND,
        UnitKind::Force if !metric => units::POUND_FORCE,
        _ => 1.0,
    };
    let label = quantity.unit(shown);
    let feet = quantity.kind == UnitKind::Length && !metric;
    (si, if feet { "ft" } else { label })
}

/// How the lines are drawn, so that they are told apart in grey.
const PENS: [(Role, Dash); 3] = [
    (Role::Centre, Dash::Whole),
    (Role::HullLine, Dash::Dashed),
    (Role::MastGhost, Dash::Chain),
];

fn usable(at: Point) -> bool {
    at.x.abs() < 1e9 && at.y.abs() < 1e9
}

/// Draws it; gives back what is lettered.
pub(super) fn draw(board: &mut Board, chart: &Chart) -> String {
    let mut extent: Option<Rect> = None;
    // Dots keep clear of the ends.
    let mut clear = 0.0;
    for part in &chart.parts {
        if matches!(part.kind, Kind::Across | Kind::Upright) {
            continue;
        }
        if part.kind != Kind::Line {
            clear = 0.04;
        }
        for at in &part.points {
            if usable(*at) {
                let found = extent.unwrap_or_else(|| Rect::from_points(*at, *at));
                extent = Some(found.union_pt(*at));
            }
        }
    }
    let Some(extent) = extent else {
        return nothing(board);
    };
    let clear = clear * extent.width() + 1e-6;
    let mut axes = Axes {
        left: 14.0,
        right: board.frame.width - 14.0,
        top: 30.0,
        bottom: board.frame.height - 42.0,
        x: (extent.x0 - clear, extent.x1 + clear),
        y: (1.12 * extent.y0.min(0.0), 1.12 * extent.y1.max(0.0) + 1e-6),
    };
    frame(board, chart, &mut axes);
    let mut said = String::new();
    // What is chosen is named before the lines, and the lines before their limits.
    for pass in 0..4 {
        let mut pens = PENS.iter();
        for part in &chart.parts {
            let mut points = Vec::with_capacity(part.points.len());
            for at in &part.points {
                if usable(*at) {
                    points.push(axes.at(at.x, at.y));
                }
            }
            let Some(first) = points.first().copied() else {
                continue;
            };
            let words = &part.said;
            match part.kind {
                Kind::Dots | Kind::Hollow if pass == 0 => {
                    dots(board, &points, part.kind == Kind::Dots);
                }
                Kind::Across => {
                    let (from, to) = (
                        Point::new(axes.left, first.y),
                        Point::new(axes.right, first.y),
                    );
                    if pass == 0 {
                        limit(board, from, to);
                    } else if pass == 3 {
                        let under = [(-2.0, 10.0, Anchor::End), (-2.0, -9.0, Anchor::End)];
                        letter(board, words, &NOTE, to, &under);
                    }
                }
                Kind::Upright => {
                    let (from, to) = (
                        Point::new(first.x, axes.bottom),
                        Point::new(first.x, axes.top),
                    );
                    if pass == 0 {
                        limit(board, from, to);
                    } else if pass == 3 {
                        letter_beside(board, words, &NOTE, to, -5.0, &[-6.0, 8.0, 24.0]);
                    }
                }
                Kind::Line => {
                    let Some((role, dash)) = pens.next() else {
                        continue;
                    };
                    // The greatest, of what lies under the axis the lowest.
                    let level = axes.at(0.0, 0.0).y;
                    let (mut head, mut low) = (first, first);
                    for at in &points {
                        if at.y < head.y {
                            head = *at;
                        }
                        if at.y > low.y {
                            low = *at;
                        }
                    }
                    if head.y > level - 1.0 {
                        head = low;
                    }
                    if pass == 0 {
                        trace(board, &points, Stroke::new(*role, 1.8).dashed(*dash));
                        dot(board, head, 3.0, *role);
                    } else if pass == 2 && !letter(board, words, &NOTE, head, &HEAD) {
                        name(board, &points, words);
                    }
                }
                Kind::Mark if pass == 1 => mark(board, first, words),
                _ => {}
            }
            if pass == 3 && !matches!(part.kind, Kind::Across | Kind::Upright) && !words.is_empty()
            {
                if !said.is_empty() {
                    said.push_str(", ");
                }
                said.push_str(words);
            }
        }
    }
    said
}

fn limit(board: &mut Board, from: Point, to: Point) {
    let limit = Stroke::new(Role::Dimension, 1.2).dashed(Dash::Dashed);
    trace(board, &[from, to], limit);
}

/// Rings and names what is chosen.
fn mark(board: &mut Board, at: Point, said: &str) {
    let ring = Stroke::new(Role::Accent, 1.8);
    board.scene.stroke(circle(at, 7.0), ring);
    dot(board, at, 2.5, Role::Accent);
    board.take_point(at, 8.0);
    let look = Look { size: 13.0, ..NOW };
    for y in OVER {
        for (way, anchor) in [(1.0, Anchor::Start), (-1.0, Anchor::End)] {
            if letter(board, said, &look, at, &[(12.0 * way, y, anchor)]) {
                if y.abs() > 20.0 {
                    // Led to it from further off.
                    let out = Vec2::new(16.0 * way, y - 8.0 * y.signum());
                    hair(board, at + out * (7.0 / out.hypot()), at + out);
                }
                return;
            }
        }
    }
}

/// Where the words of what is chosen stand: over it there is little else [px].
const OVER: [f64; 12] = [
    -16.0, -30.0, -46.0, -64.0, -90.0, 17.0, 0.0, 32.0, 50.0, 70.0, 95.0, -120.0,
];

/// Where the words of a line stand about its greatest.
const HEAD: [Spot; 8] = [
    (0.0, -12.0, Anchor::Middle),
    (8.0, -12.0, Anchor::Start),
    (-8.0, -12.0, Anchor::End),
    (0.0, 13.0, Anchor::Middle),
    (8.0, 0.0, Anchor::Start),
    (-8.0, 0.0, Anchor::End),
    (6.0, 13.0, Anchor::Start),
    (-6.0, 13.0, Anchor::End),
];

/// Axes, ticks and their names; room at the left for the numbers.
fn frame(board: &mut Board, chart: &Chart, axes: &mut Axes) {
    let [(along, across), (up, upward)] = &chart.axes;
    if let Some(quantity) = upward {
        let (si, label) = unit(quantity, board.moment.view.units);
        let lines = (axes.bottom - axes.top) / 48.0;
        let step = tick((axes.y.1 - axes.y.0) / si / lines.max(1.0));
        let widest = tick_number(axes.y.1 / si, step, board.moment.view.units);
        axes.left += lettering::width(&widest, LEAST_SIZE, Weight::Regular);
        let name = axis_name(board, up, label);
        upright(board, axes, false, (si, step), &name);
        let x = axes.x.0;
        board.take_line(axes.at(x, axes.y.0), axes.at(x, axes.y.1), 1.0);
    }
    let (from, to) = (axes.at(axes.x.0, 0.0), axes.at(axes.x.1, 0.0));
    hair(board, from, to);
    board.take_line(from, to, 1.0);
    if let Some(quantity) = across {
        let (si, label) = unit(quantity, board.moment.view.units);
        let columns = (axes.right - axes.left) / 70.0;
        let step = tick((axes.x.1 - axes.x.0) / si / columns.max(1.0));
        let (step, sign, label) = if label == "°" {
            (15.0, label, "")
        } else {
            (step, "", label)
        };
        let at = |value: f64| Point::new(axes.at(value, 0.0).x, axes.bottom);
        ticks(board, &at, axes.x, (si, step), sign, UNDER);
        board.take_line(at(axes.x.0), at(axes.x.1), 4.0);
        let name = axis_name(board, along, label);
        let end = Point::new(axes.right, axes.bottom);
        letter(board, &name, &AXIS, end, &[(0.0, 31.0, Anchor::End)]);
    }
}

/// What an axis tells, and in what.
fn axis_name(board: &Board, key: &str, unit: &str) -> String {
    let mut said = board.moment.words.word(key).to_owned();
    if !unit.is_empty() {
        said.push_str(", ");
        said.push_str(unit);
    }
    said
}

/// Dots, one at most in a cell of the pane: thousands of them are one path.
fn dots(board: &mut Board, points: &[Point], filled: bool) {
    let (width, height) = (board.frame.width.min(4e3), board.frame.height.min(4e3));
    let columns = (width / GRID) as usize + 1;
    let mut taken = vec![0.0; columns * ((height / GRID) as usize + 1)];
    let mut path = BezPath::new();
    for at in points {
        if !(at.x >= 0.0 && at.x <= width && at.y >= 0.0 && at.y <= height) {
            continue;
        }
        let cell = (at.y / GRID) as usize * columns + (at.x / GRID) as usize;
        if let Some(taken) = taken.get_mut(cell).filter(|taken| **taken == 0.0) {
            *taken = 1.0;
            path.extend(circle(*at, 2.0));
            board.take_point(*at, 2.0);
        }
    }
    let thin = Stroke::new(Role::Centre, 0.8);
    let fill = filled.then_some(Role::Centre);
    board.scene.figure(path, fill, Some(thin));
}

/// Names a line beside it, where there is room.
pub(super) fn name(board: &mut Board, points: &[Point], said: &str) {
    let spots = [
        (4.0, 14.0, Anchor::Start),
        (-4.0, -12.0, Anchor::End),
        (4.0, -12.0, Anchor::Start),
        (-4.0, 14.0, Anchor::End),
        (18.0, -14.0, Anchor::Start),
        (-18.0, -14.0, Anchor::End),
    ];
    for share in [70, 55, 80, 40, 90, 30, 20, 10, 2] {
        if let Some(at) = points.get(points.len() * share / 100)
            && letter(board, said, &NOTE, *at, &spots)
        {
            return;
        }
    }
}

/// How far under or over a mark its words may stand [px].
pub(super) const BESIDE: [f64; 11] = [
    17.0, -16.0, 0.0, 32.0, 50.0, -32.0, 70.0, 95.0, -50.0, -70.0, 125.0,
];
