//! Ropes as the pen draws them, in profile and from above: loaded ones whole, slack ones broken and
//! sagging, the parts of a tackle side by side.

use core::f64::consts::PI;

use design::MastPose;
use geometry::mast::Place;
use kurbo::{BezPath, PathEl, Point, Vec2};
use quantities::units::fixed;
use rigging::space::distance;
use rigging::{Laid, Line, Named, Path, Stop};

use crate::lettering::CAP_HEIGHT;
use crate::palette::Role;
use crate::sail_plan::board::{Board, Quad, crossing, grown, strip};
use crate::scene::{Anchor, Dash, Stroke, Weight, Words, circle, through};

/// Less rope than this is no slack [m].
const TAUT: f64 = 0.01;
/// No rope is drawn with more slack than this share of its way.
const MOST_SLACK: f64 = 0.08;

/// Nor a tackle broader than this [px].
const WIDEST: f64 = 12.0;

/// The points of a path that have a name, each once, from the sail to the cleat: the number of a
/// point on a drawing is its place in this list, from 1.
pub fn points(path: &Path) -> Vec<Stop> {
    let mut points: Vec<Stop> = Vec::with_capacity(path.stops.len());
    for stop in &path.stops {
        let known = |p: &Stop| p.named == stop.named && distance(p.at, stop.at) < 1e-6;
        // A lead after the first is where it comes over the coachroof's edge: it follows from the others.
        let edge = stop.named == Named::Lead && points.iter().any(|p| p.named == Named::Lead);
        if stop.named != Named::Round && !edge && !points.iter().any(known) {
            points.push(*stop);
        }
    }
    points
}

/// How a rope is drawn.
#[derive(Clone, Copy)]
pub(crate) struct Pen<'a> {
    /// From ship axes to pixels.
    pub(crate) at: &'a dyn Fn(Place) -> Point,
    /// The line in hand.
    pub(crate) in_hand: bool,
    /// Along the deck to its cleat as well.
    pub(crate) whole: bool,
    /// Carries something whatever rope is left: lifts with the boom on them.
    pub(crate) loaded: bool,
}

/// Whether the boom lies on these lifts: then they carry it, a little rope more or less.
pub(crate) fn loaded(laid: &Laid, pose: &MastPose) -> bool {
    laid.line == Line::Lifts && pose.state > 1
}

/// Most parts side by side.
fn parts(laid: &Laid) -> usize {
    let parts = laid.path.stops.iter().map(|stop| drawn(laid, stop));
    parts.fold(1, usize::max)
}

/// Parts from a stop on that are drawn: of the lifts one goes down on either side.
fn drawn(laid: &Laid, stop: &Stop) -> usize {
    if laid.line == Line::Lifts {
        stop.parts.min(1)
    } else {
        stop.parts.min(6)
    }
}

/// Draws a rope with its blocks, leads and cleat.
pub(crate) fn draw(board: &mut Board, laid: &Laid, pen: Pen) {
    let parts = parts(laid);
    let (role, weight) = if !pen.in_hand {
        (Role::Line, board.pens.edge)
    } else if parts > 2 {
        (Role::Accent, 1.6)
    } else {
        (Role::Accent, 2.2)
    };
    let mut stroke = Stroke::new(role, weight);
    if laid.slack > TAUT && !pen.loaded {
        stroke = stroke.dashed(Dash::Dashed);
    }
    let apart = (2.0 * weight + 0.6).min(WIDEST / parts as f64);
    board.scene.stroke(shape(laid, pen, apart), stroke);
    let fine = Stroke::new(role, weight.min(1.4));
    let block = (0.55 * board.pens.yard).max(2.0);
    let whole = pen.whole || pen.in_hand;
    for stop in &laid.path.stops {
        let at = (pen.at)(stop.at);
        let radius = match stop.named {
            // The lifts are fast there, they turn over nothing.
            Named::Masthead if laid.line == Line::Lifts => continue,
            Named::Masthead | Named::Block(_) | Named::DeckBlock(_) => block,
            Named::Lead if whole => 0.8 * block,
            Named::Cleat if whole => {
                let half = Vec2::new(1.4 * block, 0.0);
                let thick = Stroke::new(role, 0.8 * block);
                board.scene.line(at - half, at + half, thick);
                continue;
            }
            _ => continue,
        };
        board
            .scene
            .figure(circle(at, radius), Some(Role::Paper), Some(fine));
    }
}

/// Its line, each stretch by as many strokes as it has parts, `apart` [px].
pub(crate) fn shape(laid: &Laid, pen: Pen, apart: f64) -> BezPath {
    let stops = &laid.path.stops;
    let whole = pen.whole || pen.in_hand;
    // Slack hangs where a rope runs free, not on deck nor round the mast.
    let free = |a: &Stop, b: &Stop| {
        let fast = matches!(a.named, Named::Lead | Named::DeckBlock(_) | Named::Round);
        !fast && b.named != Named::Round
    };
    let mut way = 0.0;
    for pair in stops.windows(2) {
        if free(&pair[0], &pair[1]) {
            way += pair[0].parts as f64 * distance(pair[0].at, pair[1].at);
        }
    }
    let share = if laid.slack > TAUT && way > 1e-6 && !pen.loaded {
        (laid.slack / way).min(MOST_SLACK)
    } else {
        0.0
    };
    // Of a shallow parabola; the same as the cloth's.
    let sag = (0.375 * share).sqrt();
    let mut path = BezPath::new();
    let mut last = None;
    for pair in stops.windows(2) {
        let (a, b) = (&pair[0], &pair[1]);
        let on_deck = matches!(a.named, Named::Lead | Named::DeckBlock(_));
        if a.parts == 0 || (on_deck && !whole) {
            continue;
        }
        let (from, to) = ((pen.at)(a.at), (pen.at)(b.at));
        let along = to - from;
        let length = along.hypot();
        let mut square = Vec2::new(-along.y, along.x) / length.max(1e-9);
        if square.y < 0.0 {
            square = -square;
        }
        let parts = drawn(laid, a);
        for part in 0..parts {
            let aside = square * (apart * (part as f64 - 0.5 * (parts - 1) as f64));
            let (from, to) = (from + aside, to + aside);
            if last != Some(from) {
                path.move_to(from);
            }
            if sag > 0.0 && free(a, b) {
                path.quad_to(from.midpoint(to) + square * (2.0 * sag * length), to);
            } else {
                path.line_to(to);
            }
            last = Some(to);
        }
    }
    path
}

/// Keeps words off a rope.
pub(crate) fn take(board: &mut Board, laid: &Laid, pen: Pen) {
    for quad in strips(laid, pen) {
        board.take(quad);
    }
}

/// A rope as straight pieces with some room on either side; two for one that sags.
fn strips(laid: &Laid, pen: Pen) -> Vec<Quad> {
    let mut strips = Vec::with_capacity(laid.path.stops.len());
    let mut from = Point::ORIGIN;
    for element in shape(laid, pen, 0.0).elements() {
        match *element {
            PathEl::MoveTo(to) => from = to,
            PathEl::LineTo(to) => {
                strips.push(strip(from, to, 0.5));
                from = to;
            }
            PathEl::QuadTo(by, to) => {
                let lowest = from.midpoint(to).midpoint(by);
                strips.push(strip(from, lowest, 2.0));
                strips.push(strip(lowest, to, 2.0));
                from = to;
            }
            _ => {}
        }
    }
    strips
}

/// Numbers at the points of the line in hand, each in a ring beside its point, led to it from afar; beside
/// the rope too, where there is room.
pub(crate) fn number(board: &mut Board, laid: &Laid, pen: Pen) {
    const RING: f64 = 8.5;
    let rope = strips(laid, pen);
    let points = points(&laid.path);
    for point in &points {
        board.take_point((pen.at)(point.at), 6.0);
    }
    for (i, point) in points.iter().enumerate() {
        let at = (pen.at)(point.at);
        let mut words = Words::new(fixed((i + 1) as f64, 0), Role::Accent, at, Anchor::Middle);
        words.weight = Weight::Strong;
        let gap = (RING - 0.5 * words.length(), 3.5);
        let down = Vec2::new(0.0, 0.5 * CAP_HEIGHT * words.size);
        // Abaft first: there is the sky.
        const TURNS: [i8; 16] = [0, 2, -2, 1, -1, 8, 6, -6, 7, -7, 3, -3, 5, -5, 4, -4];
        const REACHES: [f64; 7] = [16.0, 24.0, 34.0, 48.0, 64.0, 84.0, 110.0];
        for place in 0..2 * REACHES.len() * TURNS.len() {
            let turn = f64::from(TURNS[place % TURNS.len()]);
            let reach = REACHES[place / TURNS.len() % REACHES.len()];
            let middle = at + reach * geometry::unit(turn * 0.125 * PI);
            words.at = middle + down;
            let beside = place < REACHES.len() * TURNS.len();
            let quad = grown(words.corners(), gap);
            if beside && rope.iter().any(|piece| crossing(&quad, piece)) || !board.free(&words, gap)
            {
                continue;
            }
            let rim = Stroke::new(Role::Accent, 1.2);
            board.scene.stroke(through(&[at, middle]), rim);
            board
                .scene
                .figure(circle(middle, RING), Some(Role::Paper), Some(rim));
            board.letter_here(words);
            board.take_point(middle, RING);
            break;
        }
    }
    for quad in rope {
        board.take(quad);
    }
}
