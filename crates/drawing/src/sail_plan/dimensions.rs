//! Dimensions of the sail in hand.

use core::f64::consts::{FRAC_PI_2, PI};

use kurbo::{Arc, BezPath, Point, Shape as _, Vec2};
use quantities::quantity;

use super::board::{Board, PanelState, Sail};
use crate::palette::Role;
use crate::scene::{Anchor, Stroke, Words};

/// Length and half width of an arrowhead [px].
const HEAD: (f64, f64) = (7.0, 1.9);

pub(super) fn draw(board: &mut Board, sails: &[Sail]) {
    let view = board.moment.view;
    if !view.shown.dimensions {
        return;
    }
    let Some(sail) = sails.iter().find(|sail| sail.index == view.mast) else {
        return;
    };
    chord(board, sail);
    boom_height(board, sail);
    if sail.fully_hoisted() {
        luff(board, sail);
        yard_angle(board, sail);
    }
    panel_width(board, sail);
    mast_height(board, sail);
}

/// Under the boom, square off it.
fn chord(board: &mut Board, sail: &Sail) {
    let Some(boom) = sail.pose.spars.first() else {
        return;
    };
    let (luff, leech) = sail.ends(boom);
    let off = if board.roomy { 18.0 } else { 13.0 };
    let down = square_below(leech - luff) * off;
    let label = board.moment.number(boom.length, &quantity::CHORD);
    line(board, luff, leech, down, label);
}

fn luff(board: &mut Board, sail: &Sail) {
    let (Some(boom), Some(yard)) = (sail.pose.spars.first(), sail.pose.spars.last()) else {
        return;
    };
    let (tack, throat) = (sail.plane * boom.luff, sail.plane * yard.luff);
    let off = if board.roomy { 66.0 } else { 52.0 };
    let length = boom.luff.distance(yard.luff);
    let label = board.moment.number(length, &quantity::LUFF_LENGTH);
    line(board, tack, throat, forward(throat - tack) * off, label);
}

/// Abaft the leech of the lowest standing panel.
fn panel_width(board: &mut Board, sail: &Sail) {
    if !board.roomy {
        return;
    }
    let n = sail.plan.n_panels();
    let lowest = (1..=n).find(|number| sail.panel_state(*number) == PanelState::Standing);
    let Some(panel) = lowest.and_then(|number| super::sail::placed(sail, number)) else {
        return;
    };
    let (low, high) = (
        sail.plane * panel.lower.leech(),
        sail.plane * panel.upper.leech(),
    );
    let length = panel.lower.leech().distance(panel.upper.leech());
    let label = board.moment.number(length, &quantity::LEECH_WIDTH);
    line(board, low, high, -forward(high - low) * 16.0, label);
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
        sail.mast * Point::new(0.0, 0.0),
        sail.mast * Point::new(0.0, height),
    );
    let label = board.moment.number(height, &quantity::BOOM_HEIGHT);
    line(board, low, high, forward(high - low) * 20.0, label);
}

/// From the partners to the masthead, ahead of everything.
fn mast_height(board: &mut Board, sail: &Sail) {
    let lap = sail.account.mast.lap;
    let (low, high) = (
        sail.mast * Point::new(0.0, 0.0),
        sail.mast * Point::new(0.0, lap),
    );
    let fore = sail
        .plan
        .spars
        .iter()
        .map(|spar| (sail.plane * spar.luff).x)
        .fold(low.x.min(high.x), f64::min);
    let off = low.x.max(high.x) - fore + if board.roomy { 92.0 } else { 72.0 };
    let label = board.moment.number(lap, &quantity::LAP);
    line(board, low, high, Vec2::new(-off, 0.0), label);
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
    let pen = Stroke::new(Role::Dimension, board.pens.dimension);
    board
        .scene
        .line(throat, throat + Vec2::new(radius + 6.0, 0.0), pen);
    let arc = Arc::new(throat, (radius, radius), 0.0, -angle, 0.0).to_path(0.1);
    board.scene.stroke(arc, pen);
    let size = 12.0;
    let label = board.moment.measure(yard.angle, &quantity::YARD_ANGLE);
    let at = |share: f64, out: f64| {
        let direction = Vec2::from_angle(-angle * share);
        Words::new(
            label.clone(),
            Role::Dimension,
            throat + direction * (radius + out) + Vec2::new(0.0, 0.35 * size),
            Anchor::Start,
        )
    };
    let places: Vec<Words> = [0.5, 0.35, 0.65, 0.2, 0.8]
        .into_iter()
        .map(|share| at(share, 5.0))
        .collect();
    board.letter(places, 1.0);
}

/// A dimension from one point to another, its line set off by `off` [px].
fn line(board: &mut Board, from: Point, to: Point, off: Vec2, label: String) {
    let (start, end) = (from + off, to + off);
    let along = end - start;
    let length = along.hypot();
    if !(length > 8.0 && off.hypot() > 1.0) {
        return;
    }
    let along = along / length;
    let out = off / off.hypot();
    let pen = Stroke::new(Role::Dimension, board.pens.dimension).square();

    let size = 12.0;
    let angle = readable(along);
    let up = Vec2::new(angle.sin(), -angle.cos());
    let mut words = Words::new(
        label,
        Role::Dimension,
        start.midpoint(end) - up * (0.35 * size),
        Anchor::Middle,
    );
    words.angle = angle;
    words.halo = Some(Role::Paper);
    let inside = words.length() + 2.0 * HEAD.0 + 6.0 <= length;
    if !inside {
        // Beside the line, upright.
        words.angle = 0.0;
        words.halo = None;
        words.anchor = if out.x < 0.0 {
            Anchor::End
        } else {
            Anchor::Start
        };
        words.at = start.midpoint(end) + out * 4.0 + Vec2::new(0.0, 0.35 * size);
    }
    if !board.free(&words, 0.0) {
        return;
    }
    for (point, foot) in [(from, start), (to, end)] {
        board.scene.line(point + out * 3.0, foot + out * 3.0, pen);
    }
    let tight = length < 2.0 * HEAD.0 + 4.0;
    if tight {
        board
            .scene
            .line(start - along * 10.0, end + along * 10.0, pen);
    } else {
        board.scene.line(start, end, pen);
    }
    let inward = if tight { -1.0 } else { 1.0 };
    arrow(board, start, along * inward);
    arrow(board, end, -along * inward);
    board.take_line(start, end, 1.0);
    board.letter_here(words);
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

/// Turn at which words along a line read from below or from the right [rad].
fn readable(along: Vec2) -> f64 {
    let mut angle = along.y.atan2(along.x);
    if angle >= FRAC_PI_2 - 1e-3 {
        angle -= PI;
    } else if angle < -FRAC_PI_2 - 1e-3 {
        angle += PI;
    }
    angle
}

/// Unit vector square to a line, downward on the page.
fn square_below(along: Vec2) -> Vec2 {
    let side = Vec2::new(-along.y, along.x);
    let side = side / side.hypot().max(1e-9);
    if side.y < 0.0 { -side } else { side }
}

/// Unit vector square to a line, forward on the page.
fn forward(along: Vec2) -> Vec2 {
    let side = Vec2::new(-along.y, along.x);
    let side = side / side.hypot().max(1e-9);
    if side.x > 0.0 { -side } else { side }
}
