//! Masts: whole above the deck, a ghost where deck, hull or cloth covers them.

use geometry::mast::{Mast, Side};
use kurbo::{Affine, BezPath, Point};

use super::board::{Board, Quad, Sail, covered};
use crate::palette::Role;
use crate::scene::{Dash, Stroke};

pub(super) fn draw_all(board: &mut Board) {
    let moment = board.moment;
    for account in &moment.account.masts {
        let mast = &account.mast;
        let plane = board.frame.mast(mast);
        below_deck(board, mast, plane);
        above_deck(board, mast, plane);
        partners(board, mast, plane);
        let [low, high] = [
            plane * Point::new(0.0, deck(board, mast)),
            plane * Point::new(0.0, mast.lap),
        ];
        board.take_line(low, high, 0.5 * mast.diameter * board.frame.scale + 1.0);
    }
}

/// Where the mast comes out of deck or coachroof [m above partners].
fn deck(board: &Board, mast: &Mast) -> f64 {
    let top = board.moment.design.boat.hull.top_at(mast.x);
    (top - mast.z)
        .max(-mast.bury.max(0.0))
        .min(mast.lap.max(0.0))
}

/// The mast's outline between two heights, heel end first, starting on the fore side.
pub(crate) fn stretch(mast: &Mast, from: f64, to: f64) -> BezPath {
    let parallel = (mast.parallel.max(0.0).min(1.0) * mast.lap)
        .max(from)
        .min(to.max(from));
    let half = |height: f64| 0.5 * mast.diameter_at(height);
    let mut path = BezPath::new();
    path.move_to((-half(from), from));
    path.line_to((-half(parallel), parallel));
    path.line_to((-half(to), to));
    path.line_to((half(to), to));
    path.line_to((half(parallel), parallel));
    path.line_to((half(from), from));
    path
}

fn above_deck(board: &mut Board, mast: &Mast, plane: Affine) {
    let path = plane * stretch(mast, deck(board, mast), mast.lap);
    let line = Stroke::new(Role::MastLine, board.pens.edge).square();
    board.scene.figure(path, Some(Role::Mast), Some(line));
}

fn below_deck(board: &mut Board, mast: &Mast, plane: Affine) {
    let deck = deck(board, mast);
    let half = 0.5 * mast.diameter;
    let ghost = Stroke::new(Role::MastGhost, board.pens.edge).dashed(Dash::Dashed);
    for side in [-half, half] {
        let (from, to) = (
            plane * Point::new(side, deck),
            plane * Point::new(side, -mast.bury),
        );
        board.scene.line(from, to, ghost);
    }
    // The step: a block under the heel.
    let block = 0.5 * mast.diameter;
    let mut step = BezPath::new();
    step.move_to(plane * Point::new(-2.2 * half, -mast.bury));
    step.line_to(plane * Point::new(2.2 * half, -mast.bury));
    step.line_to(plane * Point::new(2.6 * half, -mast.bury - block));
    step.line_to(plane * Point::new(-2.6 * half, -mast.bury - block));
    step.close_path();
    board.scene.figure(
        step,
        Some(Role::Roof),
        Some(Stroke::new(Role::HullLine, board.pens.edge)),
    );
}

/// Wedges at the partners.
fn partners(board: &mut Board, mast: &Mast, plane: Affine) {
    let half = 0.5 * mast.diameter;
    let (out, up) = ((0.9 * half).max(0.03), (1.1 * half).max(0.04));
    for side in [-1.0, 1.0] {
        let mut wedge = BezPath::new();
        wedge.move_to(plane * Point::new(side * half, up));
        wedge.line_to(plane * Point::new(side * (half + 0.5 * out), up));
        wedge.line_to(plane * Point::new(side * (half + out), 0.0));
        wedge.line_to(plane * Point::new(side * half, 0.0));
        wedge.close_path();
        board.scene.figure(
            wedge,
            Some(Role::Roof),
            Some(Stroke::new(Role::HullLine, board.pens.dimension)),
        );
    }
}

/// The mast against its sail: a sail to port covers it and leaves a ghost; a sail to starboard
/// stands behind it. `cloth` is all cloth drawn, panel by panel.
pub(super) fn against_sail(board: &mut Board, sail: &Sail, cloth: &[Quad]) {
    let mast = &sail.account.mast;
    if mast.side == Side::Starboard {
        above_deck(board, mast, sail.mast);
        return;
    }
    let ghost = Stroke::new(Role::MastGhost, board.pens.dimension).square();
    let from = deck(board, mast);
    for side in [-0.5, 0.5] {
        let edge = |height: f64| sail.mast * Point::new(side * mast.diameter_at(height), height);
        let parallel = (mast.parallel.max(0.0).min(1.0) * mast.lap).max(from);
        for (low, high) in [
            (edge(from), edge(parallel)),
            (edge(parallel), edge(mast.lap)),
        ] {
            for (start, end) in covered(low, high, cloth) {
                board
                    .scene
                    .line(low.lerp(high, start), low.lerp(high, end), ghost);
            }
        }
    }
}
