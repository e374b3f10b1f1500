//! The lines as they lie at this hoist and sheeting angle, and the sling point.
//!
//! The sail is drawn at its sheeting angle, seen square to the centreline: so are its lines, and they
//! meet it where they belong.

use geometry::mast::Place;
use kurbo::{BezPath, Point};
use rigging::{Laid, Line};

use super::board::{Board, Sail};
use crate::palette::Role;
use crate::ropes::{self, Pen};
use crate::scene::{Stroke, circle};

/// Lines that are not in hand. Halyard, sheets and lifts are always seen, the others while the lines are
/// worked on.
pub(super) fn draw(board: &mut Board, sail: &Sail) {
    for laid in &sail.pose.lines {
        if shown(board, laid.line) && Some(laid.line) != in_hand(board, sail) {
            rope(board, sail, laid, false);
        }
    }
    let head = board.frame.at(sail.account.mast.head());
    let sling = sail.plane * sail.pose.sling;
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

/// The line in hand over all else, its points numbered.
pub(super) fn draw_in_hand(board: &mut Board, sails: &[Sail]) {
    for sail in sails {
        let wanted = in_hand(board, sail);
        for laid in &sail.pose.lines {
            if Some(laid.line) == wanted {
                rope(board, sail, laid, true);
            }
        }
    }
}

fn rope(board: &mut Board, sail: &Sail, laid: &Laid, in_hand: bool) {
    let frame = board.frame;
    let at = |place: Place| frame.at(place);
    let pen = Pen {
        in_hand,
        whole: board.moment.view.lines,
        ..pen(sail, laid, &at)
    };
    ropes::draw(board, laid, pen);
    if in_hand {
        ropes::number(board, laid, pen);
    }
}

/// Keeps notes off lifts and sheets. Numbers of panels come before this: they break the line instead,
/// and so keep their places while the panels move under it.
pub(super) fn take(board: &mut Board, sail: &Sail) {
    for laid in &sail.pose.lines {
        if laid.line != Line::Halyard && shown(board, laid.line) {
            let frame = board.frame;
            let at = |place: Place| frame.at(place);
            ropes::take(board, laid, pen(sail, laid, &at));
        }
    }
}

/// A line as it is drawn [px]; nothing where there is none.
pub(crate) fn shape(board: &Board, sail: &Sail, line: Line) -> BezPath {
    let known = |laid: &&Laid| laid.line == line;
    let Some(laid) = sail.pose.lines.iter().find(known) else {
        return BezPath::new();
    };
    let at = |place: Place| board.frame.at(place);
    ropes::shape(laid, pen(sail, laid, &at), 0.0)
}

fn pen<'a>(sail: &Sail, laid: &Laid, at: &'a dyn Fn(Place) -> Point) -> Pen<'a> {
    Pen {
        at,
        in_hand: false,
        whole: false,
        loaded: ropes::loaded(laid, sail.pose),
    }
}

fn in_hand(board: &Board, sail: &Sail) -> Option<Line> {
    let view = board.moment.view;
    view.line.filter(|_| sail.index == view.mast)
}

fn shown(board: &Board, line: Line) -> bool {
    let view = board.moment.view;
    match line {
        Line::Halyard => true,
        Line::Sheet(_) | Line::Span(..) | Line::Lifts => view.shown.lifts || view.lines,
        Line::Parrel(_) | Line::Hauling(_) => view.lines,
    }
}
