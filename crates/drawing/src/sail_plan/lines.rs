//! Halyard, sling point and lifts, in outline: their lengths and pull are another trade's.

use kurbo::Point;

use super::board::{Board, Sail};
use crate::palette::Role;
use crate::scene::{Dash, Stroke, circle};

/// Where the lifts take the boom, shares of its length from the tack (common practice).
const LIFTS_AT: [f64; 2] = [0.30, 0.88];

pub(super) fn draw(board: &mut Board, sail: &Sail) {
    let head = sail.mast * Point::new(0.0, sail.account.mast.lap);
    let thin = Stroke::new(Role::Line, board.pens.edge);
    for foot in feet(board, sail) {
        board.scene.line(head, foot, thin.dashed(Dash::Dashed));
    }
    let sling = sail.plane * sail.pose.sling;
    board
        .scene
        .line(head, sling, Stroke::new(Role::Line, 1.4 * board.pens.edge));
    board.take_line(head, sling, 1.0);

    // The sling: a lashing on the yard, drawn as a filled mark across it.
    let radius = (0.85 * board.pens.yard).max(2.4);
    let mark = circle(sling, radius);
    board.scene.figure(
        mark,
        Some(Role::Sling),
        Some(Stroke::new(Role::Paper, board.pens.dimension)),
    );
}

/// Keeps notes off the lifts. Numbers of panels come before this: they break the line instead, and
/// so keep their places while the panels move under it.
pub(super) fn take_lifts(board: &mut Board, sail: &Sail) {
    let head = sail.mast * Point::new(0.0, sail.account.mast.lap);
    for foot in feet(board, sail) {
        board.take_line(head, foot, 0.5);
    }
}

/// Where the lifts take the boom [px]; nowhere when they are not shown.
pub(super) fn feet(board: &Board, sail: &Sail) -> Vec<Point> {
    let boom = sail.pose.spars.first();
    let boom = boom.filter(|_| board.moment.view.shown.lifts);
    boom.map_or(Vec::new(), |boom| {
        LIFTS_AT
            .map(|share| sail.plane * boom.at(share * boom.length))
            .to_vec()
    })
}
