//! Masts: whole above the deck, a ghost where deck, hull or cloth covers them.

use geometry::mast::{Mast, Side};
use kurbo::{Affine, BezPath, Point};

use super::board::{Board, Quad, Sail};
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
fn stretch(mast: &Mast, from: f64, to: f64) -> BezPath {
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

/// Which stretches of a line, as shares of it, lie on cloth; neighbouring panels joined.
fn covered(from: Point, to: Point, cloth: &[Quad]) -> Vec<(f64, f64)> {
    let mut stretches: Vec<(f64, f64)> = Vec::new();
    for stretch in cloth.iter().filter_map(|quad| within(from, to, quad)) {
        let before = stretches.iter().take_while(|s| s.0 <= stretch.0).count();
        stretches.insert(before, stretch);
    }
    let mut joined: Vec<(f64, f64)> = Vec::with_capacity(2);
    for (start, end) in stretches {
        match joined.last_mut() {
            Some(last) if start <= last.1 + 1e-3 => last.1 = last.1.max(end),
            _ => joined.push((start, end)),
        }
    }
    joined
}

/// The share of a line inside a convex quadrilateral, whichever way round it runs.
fn within(from: Point, to: Point, quad: &Quad) -> Option<(f64, f64)> {
    let doubled: f64 = (0..4)
        .map(|i| quad[i].to_vec2().cross(quad[(i + 1) % 4].to_vec2()))
        .sum();
    let (mut start, mut end) = (0.0_f64, 1.0_f64);
    for i in 0..4 {
        let (a, b) = (quad[i], quad[(i + 1) % 4]);
        let side = |p: Point| (b - a).cross(p - a) * doubled.signum();
        let (at_from, at_to) = (side(from), side(to));
        if at_from < 0.0 && at_to < 0.0 {
            return None;
        }
        if at_from < 0.0 {
            start = start.max(at_from / (at_from - at_to));
        } else if at_to < 0.0 {
            end = end.min(at_from / (at_from - at_to));
        }
    }
    (start < end).then_some((start, end))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_is_ghosted_only_where_cloth_lies_and_panels_join() {
        let panel = |low: f64, high: f64| {
            [(0.0, low), (1.0, low), (1.0, high), (0.0, high)].map(|(x, y)| Point::new(x, y))
        };
        let (from, to) = (Point::new(0.5, 0.0), Point::new(0.5, 10.0));
        let found = covered(
            from,
            to,
            &[panel(4.0, 6.0), panel(2.0, 4.0), panel(8.0, 9.0)],
        );
        assert_eq!(found.len(), 2, "{found:?}");
        assert!((found[0].0 - 0.2).abs() < 1e-9 && (found[0].1 - 0.6).abs() < 1e-9);
        assert!((found[1].0 - 0.8).abs() < 1e-9 && (found[1].1 - 0.9).abs() < 1e-9);
        assert!(
            covered(
                Point::new(2.0, 0.0),
                Point::new(2.0, 9.0),
                &[panel(1.0, 2.0)]
            )
            .is_empty()
        );
    }
}
