//! Dimensions of the sail in hand.

use core::f64::consts::{FRAC_PI_2, PI};

use kurbo::{Arc, BezPath, Point, Shape as _, Vec2};
use quantities::{quantity, units};

use super::board::{Board, PanelState, Sail};
use super::sail::placed;
use crate::lettering::CAP_HEIGHT;
use crate::palette::Role;
use crate::scene::{Anchor, Stroke, Words};

/// Length and half width of an arrowhead [px].
const HEAD: (f64, f64) = (7.0, 1.9);
/// How far a dimension line stands off what it measures [px], near and far.
const NEAR: f64 = 11.0;
const FAR: f64 = 18.0;

pub(super) fn draw(board: &mut Board, sails: &[Sail]) {
    let view = board.moment.view;
    if !view.shown.dimensions {
        return;
    }
    let Some(sail) = sails.iter().find(|sail| sail.index == view.mast) else {
        return;
    };
    chord(board, sail);
    // The lowest parrel height says the same as the boom's.
    if !view.shown.parrels {
        boom_height(board, sail);
    }
    if sail.fully_hoisted() {
        luff(board, sail);
        if board.roomy {
            yard_angle(board, sail);
        }
    }
    if board.roomy {
        panel_width(board, sail);
    }
    mast_height(board, sail);
}

/// Under the boom, square off it; nearer where a coachroof leaves little room.
fn chord(board: &mut Board, sail: &Sail) {
    let Some(boom) = sail.pose.spars.first() else {
        return;
    };
    let (luff, leech) = sail.ends(boom);
    let down = -square(leech - luff, Vec2::new(0.0, -1.0));
    let label = board.moment.number(boom.length, &quantity::CHORD);
    for off in [FAR, 14.0, NEAR] {
        if line(board, luff, leech, down * off, &label) {
            break;
        }
    }
}

/// Ahead of the parrel heights.
fn luff(board: &mut Board, sail: &Sail) {
    let (Some(boom), Some(yard)) = (sail.pose.spars.first(), sail.pose.spars.last()) else {
        return;
    };
    let (tack, throat) = (sail.plane * boom.luff, sail.plane * yard.luff);
    let off = beyond_heights(board);
    let label = board
        .moment
        .number(boom.luff.distance(yard.luff), &quantity::LUFF_LENGTH);
    let forward = square(throat - tack, Vec2::new(-1.0, 0.0));
    line(board, tack, throat, forward * off, &label);
}

/// Abaft the leech of the lowest standing panel.
fn panel_width(board: &mut Board, sail: &Sail) {
    let lowest =
        (1..=sail.plan.n_panels()).find(|number| sail.panel_state(*number) == PanelState::Standing);
    let Some(panel) = lowest.and_then(|number| placed(sail, number)) else {
        return;
    };
    let [_, low, high, _] = panel.corners();
    let label = board
        .moment
        .number(low.distance(high), &quantity::LEECH_WIDTH);
    let (low, high) = (sail.plane * low, sail.plane * high);
    let aft = square(high - low, Vec2::new(1.0, 0.0));
    line(board, low, high, aft * FAR, &label);
}

/// From the partners to where the boom crosses the mast.
fn boom_height(board: &mut Board, sail: &Sail) {
    let Some(height) = sail
        .pose
        .spars
        .first()
        .and_then(|boom| boom.height_on_mast())
    else {
        return;
    };
    let (low, high) = (
        sail.mast * Point::ORIGIN,
        sail.mast * Point::new(0.0, height),
    );
    let label = board.moment.number(height, &quantity::BOOM_AT_MAST);
    let forward = square(high - low, Vec2::new(-1.0, 0.0));
    line(board, low, high, forward * FAR, &label);
}

/// From the partners to the masthead, ahead of everything.
fn mast_height(board: &mut Board, sail: &Sail) {
    let lap = sail.account.mast.lap;
    let (low, high) = (sail.mast * Point::ORIGIN, sail.mast * Point::new(0.0, lap));
    // From the plan, not from where the spars are now: it must not move while reefing.
    let fore = sail
        .plan
        .spars
        .iter()
        .map(|spar| (sail.plane * spar.luff).x)
        .fold(low.x.min(high.x), f64::min);
    let off = low.x.max(high.x) - fore + beyond_heights(board) + 1.4 * FAR;
    let label = board.moment.number(lap, &quantity::LAP);
    line(board, low, high, Vec2::new(-off, 0.0), &label);
}

/// How far ahead of the luff there is room beside the parrel heights [px].
fn beyond_heights(board: &Board) -> f64 {
    match (board.moment.view.shown.parrels, board.roomy) {
        (true, true) => 66.0,
        (true, false) => 52.0,
        (false, _) => FAR,
    }
}

/// At the throat, above the horizontal.
fn yard_angle(board: &mut Board, sail: &Sail) {
    let Some(yard) = sail.pose.spars.last() else {
        return;
    };
    let (throat, peak) = sail.ends(yard);
    let along = peak - throat;
    let angle = (-along.y).atan2(along.x);
    if along.hypot() < 60.0 || !(0.12..=1.7).contains(&angle) {
        return;
    }
    let radius = (0.34 * along.hypot()).clamp(24.0, 58.0);
    let degrees = yard.angle.to_degrees();
    let whole = (degrees - degrees.round()).abs() < 0.05;
    let mut label = units::fixed(degrees, u8::from(!whole));
    label.push('°');
    let places = [0.5, 0.35, 0.65, 0.2, 0.8].map(|share| {
        let mut words = Words::new(label.clone(), Role::Dimension, throat, Anchor::Start);
        let direction = Vec2::from_angle(-angle * share);
        words.at += direction * (radius + 5.0) + Vec2::new(0.0, 0.5 * CAP_HEIGHT * words.size);
        words
    });
    if board.letter(places, (2.0, 1.0)) {
        let pen = Stroke::new(Role::Dimension, board.pens.dimension);
        board
            .scene
            .line(throat, throat + Vec2::new(radius + 6.0, 0.0), pen);
        let arc = Arc::new(throat, (radius, radius), 0.0, -angle, 0.0).to_path(0.1);
        board.scene.stroke(arc, pen);
    }
}

/// A dimension from one point to another, its line set off by `off` [px]; its number stands in the
/// line or, where that is too short, beside it. False where there is no room for it.
fn line(board: &mut Board, from: Point, to: Point, off: Vec2, label: &str) -> bool {
    let (start, end) = (from + off, to + off);
    let along = end - start;
    let length = along.hypot();
    if !(length > 8.0 && off.hypot() > 1.0) {
        return false;
    }
    let along = along / length;
    let out = off / off.hypot();
    let Some(words) = number(board, start, end, out, label) else {
        return false;
    };
    let pen = Stroke::new(Role::Dimension, board.pens.dimension).square();
    for (point, foot) in [(from, start), (to, end)] {
        board.scene.line(point + out * 3.0, foot + out * 3.0, pen);
    }
    // Too short for two arrowheads: they point inward from outside.
    let tight = length < 2.0 * HEAD.0 + 4.0;
    let inward = if tight { -along } else { along };
    let over = if tight { along * 10.0 } else { Vec2::ZERO };
    board.scene.line(start - over, end + over, pen);
    arrow(board, start, inward);
    arrow(board, end, -inward);
    board.take_line(start, end, 1.0);
    board.letter_here(words);
    true
}

/// The number of a dimension line in a free place.
fn number(board: &Board, start: Point, end: Point, out: Vec2, label: &str) -> Option<Words> {
    let (length, along) = (start.distance(end), (end - start).normalize());
    let mut words = Words::new(label, Role::Dimension, start, Anchor::Middle);
    let half_height = 0.5 * CAP_HEIGHT * words.size;
    let needed = 0.5 * words.length() + HEAD.0 + 3.0;
    if 2.0 * needed > length {
        words.anchor = if out.x < 0.0 {
            Anchor::End
        } else {
            Anchor::Start
        };
        words.at = start.midpoint(end) + out * 4.0 + Vec2::new(0.0, half_height);
        return board.free(&words, (0.0, 0.0)).then_some(words);
    }
    words.angle = readable(along);
    words.halo = Some(Role::Paper);
    let lift = Vec2::new(words.angle.sin(), -words.angle.cos()) * half_height;
    // Anywhere along the line will do, the middle first.
    [0.5, 0.38, 0.62, 0.27, 0.73, 0.18, 0.82]
        .into_iter()
        .map(|share| length * share)
        .filter(|at| *at >= needed && length - *at >= needed)
        .map(|at| Words {
            at: start + along * at - lift,
            ..words.clone()
        })
        .find(|words| board.free(words, (1.0, 0.0)))
}

/// An arrowhead with its tip at a point, lying along `inward`.
fn arrow(board: &mut Board, tip: Point, inward: Vec2) {
    let side = Vec2::new(-inward.y, inward.x) * HEAD.1;
    let foot = tip + inward * HEAD.0;
    let mut path = BezPath::new();
    path.move_to(tip);
    path.line_to(foot + side);
    path.line_to(foot - side);
    path.close_path();
    board.scene.fill(path, Role::Dimension);
}

/// Turn at which words along a line read from below or from the right [rad]; a line that leans a
/// little either way of upright reads from the right as well.
fn readable(along: Vec2) -> f64 {
    let lean = 0.2;
    let angle = along.y.atan2(along.x);
    if angle >= FRAC_PI_2 - lean {
        angle - PI
    } else if angle < -FRAC_PI_2 - lean {
        angle + PI
    } else {
        angle
    }
}

/// Unit vector square to a line, on the side of `towards`.
fn square(along: Vec2, towards: Vec2) -> Vec2 {
    let side = Vec2::new(-along.y, along.x) / along.hypot().max(1e-9);
    if side.dot(towards) < 0.0 { -side } else { side }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_along_a_line_are_never_upside_down() {
        for degrees in (-180..=180).step_by(5) {
            let angle = readable(Vec2::from_angle(f64::from(degrees).to_radians()));
            assert!((-102.0..=79.0).contains(&angle.to_degrees()), "{degrees}");
        }
        // Upright lines read from the right, whichever way they were drawn.
        for way in [1.0, -1.0] {
            assert!((readable(Vec2::new(0.0, way)) + FRAC_PI_2).abs() < 1e-9);
        }
    }

    #[test]
    fn square_stands_on_the_side_asked_for() {
        let down = -square(Vec2::new(5.0, -1.0), Vec2::new(0.0, -1.0));
        assert!(down.y > 0.0 && (down.hypot() - 1.0).abs() < 1e-12);
        assert!(down.dot(Vec2::new(5.0, -1.0)).abs() < 1e-12);
    }
}
