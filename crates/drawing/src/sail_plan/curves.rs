//! Beside the mast in hand, at its own heights: moment, stress over what is allowed, and how it bends.

use core::f64::consts::FRAC_PI_2;

use ::spars::mast::Row;
use kurbo::{BezPath, Point};
use quantities::{Quantity, Text, quantity};

use super::board::{Board, EDGE, Quad, Sail};
use super::parrels::on_another;
use crate::lettering::{CAP_HEIGHT, LEAST_SIZE};
use crate::palette::Role;
use crate::plots::{tick, tick_number};
use crate::scene::{Anchor, Dash, Stroke, Weight, Words, circle, through};

/// Least and most room for the three, and what they stand off the sail [px].
const ROOM: (f64, f64) = (30.0, 172.0);
const OFF: f64 = 14.0;

/// Lines of words over one another [px].
const LINE: f64 = LEAST_SIZE + 2.0;

/// One of the curves.
struct Curve {
    /// What is said of it.
    key: &'static str,
    quantity: &'static Quantity,
    value: fn(&Row) -> f64,
    role: Role,
}

/// From the mast outward: as it bends, the stress, the moment.
static CURVES: [Curve; 3] = [
    Curve {
        key: "drawing.bend",
        quantity: &quantity::DEFLECTION,
        value: |row| row.deflection,
        role: Role::MastGhost,
    },
    Curve {
        key: "drawing.stress",
        quantity: &quantity::AREA_SHARE,
        value: |row| row.ratio,
        role: Role::HullLine,
    },
    Curve {
        key: "drawing.moment",
        quantity: &quantity::GREATEST_MOMENT,
        value: |row| row.moment,
        role: Role::Centre,
    },
];

/// Where they stand.
struct Lanes {
    /// Their edge towards the mast [px].
    from: f64,
    /// -1 forward, 1 aft.
    way: f64,
    /// Of each, and from one to the next [px].
    width: f64,
    pitch: f64,
}

/// Ahead of the sail; abaft it, where another stands ahead; where neither has room, ahead of the mast over the cloth.
fn lanes(board: &Board, sails: &[Sail], sail: &Sail, (top, foot): (Point, Point)) -> Option<Lanes> {
    let half = 0.5 * sail.account.mast.diameter * board.frame.scale;
    let (near, far) = (top.x.min(foot.x) - half, top.x.max(foot.x) + half);
    let (mut fore, mut aft) = (near, far);
    for spar in &sail.plan.spars {
        let (luff, leech) = sail.ends(spar);
        (fore, aft) = (fore.min(luff.x), aft.max(leech.x));
    }
    let ahead = |edge: f64| (edge, -1.0, edge - EDGE - 2.0);
    let abaft = aft + OFF;
    for (i, (from, way, room)) in [
        ahead(fore - OFF),
        (abaft, 1.0, board.frame.width - EDGE - 2.0 - abaft),
        ahead(near - 4.0),
    ]
    .into_iter()
    .enumerate()
    {
        let last = i == 2;
        let room = room.min(if last { 60.0 } else { ROOM.1 });
        let end = from + way * room;
        let p = Point::new;
        let place: Quad = [
            p(from, top.y),
            p(end, top.y),
            p(end, foot.y),
            p(from, foot.y),
        ];
        if room >= ROOM.0 && (last || !on_another(sails, sail, &place)) {
            let apart = if room < 90.0 { 4.0 } else { 9.0 };
            let width = (room - 2.0 * apart) / 3.0;
            return Some(Lanes {
                from,
                way,
                width,
                pitch: width + apart,
            });
        }
    }
    None
}

/// Draws them, where they are wanted and the mast is proved; gives back what is told of each.
pub(super) fn draw(board: &mut Board, sails: &[Sail]) -> Vec<String> {
    let mut told = Vec::with_capacity(3);
    let view = board.moment.view;
    let in_hand = sails.iter().find(|sail| sail.index == view.mast);
    let Some(sail) = in_hand.filter(|_| view.shown.curves) else {
        return told;
    };
    let Some(account) = sail.account.spars.as_ref().map(|spars| &spars.mast) else {
        return told;
    };
    let at = |height: f64| sail.mast * Point::new(0.0, height);
    let (Some(first), Some(last)) = (account.rows.first(), account.rows.last()) else {
        return told;
    };
    let (foot, deck, top) = (at(first.height), at(0.0), at(last.height));
    let Some(lanes) = lanes(board, sails, sail, (top, foot)) else {
        return told;
    };
    let thin = Stroke::new(Role::Dimension, board.pens.dimension);
    let out = lanes.from + lanes.way * (2.0 * lanes.pitch + lanes.width);
    let (near, far) = (Point::new(lanes.from, deck.y), Point::new(out, deck.y));
    board.scene.line(near, far, thin);
    board.take_line(near, far, 1.0);
    // Of each in turn: all of it, shorter, the greatest, its number alone.
    let mut said = Vec::with_capacity(12);
    let mut beyond = false;
    for (i, curve) in CURVES.iter().enumerate() {
        let base = lanes.from + lanes.way * lanes.pitch * i as f64;
        let place = |value: f64, height: f64| Point::new(base + lanes.way * value, at(height).y);
        let (mut most, mut height) = (0.0, 0.0);
        for row in &account.rows {
            let value = (curve.value)(row);
            if value > most && value < 1e9 {
                (most, height) = (value, row.height);
            }
        }
        let mut text = Text::new(curve.key);
        let value = curve.quantity.document_from_si(most);
        let mut short = curve.quantity.say(value, view.units);
        let stress = i == 1;
        let mut scale = lanes.width / f64::max(most, 1e-9);
        if stress {
            scale = lanes.width / f64::max(most, 1.0);
        } else if i == 0 {
            // So many times as it is on the scale of the drawing, a round number.
            let times = 1.0 / tick(board.frame.scale / scale);
            scale = board.frame.scale * times;
            let number = tick_number(times, times, view.units);
            short.push_str(" ×");
            short.push_str(&number);
            text = text.with("times", number);
        }
        let mut points = Vec::with_capacity(account.rows.len());
        for row in &account.rows {
            let value = (curve.value)(row);
            if (0.0..1e9).contains(&value) {
                points.push(place(scale * value, row.height));
            }
        }
        let [low, high] = [place(0.0, first.height), place(0.0, last.height)];
        board.scene.line(low, high, thin);
        board.take_line(low, high, 1.0);
        let mut role = curve.role;
        if i == 2 {
            let mut field = vec![low];
            field.extend_from_slice(&points);
            field.push(high);
            board.scene.fill(through(&field), Role::Water);
        }
        if stress {
            let (from, to) = (place(scale, first.height), place(scale, last.height));
            let limit = Stroke::new(Role::Dimension, 1.0).dashed(Dash::Dashed);
            board.scene.line(from, to, limit);
            board.take_line(from, to, 1.0);
        }
        for piece in points.windows(4).step_by(3) {
            board.take_line(piece[0], piece[3], 1.5);
        }
        board.scene.stroke(through(&points), Stroke::new(role, 1.5));
        if stress {
            over(board, &points, &lanes, lanes.pitch + scale);
            beyond = most > 1.0;
            if beyond {
                role = Role::Accent;
            }
            for weak in &account.weak {
                let at = place(scale * weak.ratio.min(most), weak.height);
                let role = if weak.ratio > 1.0 { role } else { Role::Parrel };
                let ring = circle(at, 3.2);
                let line = Stroke::new(role, 1.2);
                board.scene.figure(ring, Some(Role::Paper), Some(line));
                board.take_point(at, 4.0);
            }
        }
        let mark = circle(place(scale * most, height), 2.2);
        board.scene.fill(mark, role);
        let text = text.with("value", (value, curve.quantity));
        let words = board.moment.words.say(&text, view.units);
        told.push(words.clone());
        said.push(words);
        said.push(short);
        said.push(curve.quantity.say(value, view.units));
        said.push(curve.quantity.spell(value, view.units));
    }
    letter(board, &lanes, &said, beyond, (top.y, foot.y));
    told
}

/// What is beyond the allowed, once more in the ink that warns.
fn over(board: &mut Board, points: &[Point], lanes: &Lanes, allowed: f64) {
    let mut path = BezPath::new();
    let beyond = |p: Point| (p.x - lanes.from) * lanes.way - allowed;
    for pair in points.windows(2) {
        let [mut a, mut b] = [pair[0], pair[1]];
        let (out_a, out_b) = (beyond(a), beyond(b));
        let cross = a.lerp(b, out_a / (out_a - out_b));
        if out_a < 0.0 {
            a = cross;
        }
        if out_b < 0.0 {
            b = cross;
        }
        if out_a > 0.0 || out_b > 0.0 {
            path.move_to(a);
            path.line_to(b);
        }
    }
    board.scene.stroke(path, Stroke::new(Role::Accent, 2.6));
}

/// Letters what is told: over the curves one line over the other, each led to the foot it stands on; where there
/// is no room, each along its own curve.
fn letter(
    board: &mut Board,
    lanes: &Lanes,
    said: &[String],
    beyond: bool,
    (top, foot): (f64, f64),
) {
    let up = 0.5 * CAP_HEIGHT * LEAST_SIZE;
    let base = |curve: usize| lanes.from + lanes.way * lanes.pitch * curve as f64;
    let set = |curve: usize, length: usize, at: Point, anchor: Anchor| {
        let said = said.get(4 * curve + length).map_or("", |said| said);
        let mut words = Words::new(said, Role::Note, at, anchor);
        if beyond && curve == 1 {
            (words.role, words.weight) = (Role::Accent, Weight::Strong);
        }
        words
    };
    for i in 0..24 {
        // Away from the mast, or towards it; every other try higher.
        let way = if i % 2 == 0 { lanes.way } else { -lanes.way };
        let lift = 9.0 + 9.0 * f64::from(i / 2);
        let anchor = if way < 0.0 {
            Anchor::End
        } else {
            Anchor::Start
        };
        let flag = |curve: usize| {
            // No foot goes through the words of another.
            let line = if way == lanes.way { 2 - curve } else { curve };
            let y = (top - lift).max(EDGE + 3.0 * LINE) - LINE * line as f64;
            let at = Point::new(base(curve) + 4.0 * way, y + up);
            set(curve, 0, at, anchor)
        };
        let mut all = true;
        for curve in 0..3 {
            all &= board.free(&flag(curve), (1.0, 0.0));
        }
        if all {
            for curve in 0..3 {
                let words = flag(curve);
                let head = Point::new(base(curve), words.at.y - 2.0 * up);
                let pen = Stroke::new(Role::Dimension, board.pens.dimension);
                board.scene.line(head, Point::new(head.x, top), pen);
                board.letter_here(words);
            }
            return;
        }
    }
    for curve in 0..3 {
        for i in 0..4 * 72 {
            let aside = [lanes.width - 5.0, 6.0, -6.0][i % 3];
            let y = top - 6.0 + (foot - top) * ((i % 72 / 3) as f64 / 24.0);
            let at = Point::new(base(curve) + lanes.way * aside + up, y);
            let mut words = set(curve, i / 72, at, Anchor::Start);
            words.angle = -FRAC_PI_2;
            if board.letter(&words, (1.0, 0.0)) {
                break;
            }
        }
    }
}
