//! The part that a check in hand is about.

use kurbo::{BezPath, Point};
use quantities::Part;
use rigging::Line;

use super::board::{Board, Sail};
use super::sail::{placed, weight};
use super::{hull, lines};
use crate::palette::Role;
use crate::scene::{Stroke, circle, through};

/// Draws over it with the accent, on the mast being worked on.
pub(super) fn draw(board: &mut Board, sails: &[Sail]) {
    let view = board.moment.view;
    let Some(part) = view.pointed else { return };
    let ship = board.frame.ship();
    let boat = &board.moment.design.boat;
    let mut heavy = 3.0_f64;
    let mut path = match part {
        Part::Hull => hull::traced(board).unwrap_or_else(|| ship * boat.hull.profile()),
        Part::Coachroof => hull::roof(board).unwrap_or_default(),
        Part::Cockpit => hull::well(board),
        _ => BezPath::new(),
    };
    if let Some(sail) = sails.iter().find(|sail| sail.index == view.mast) {
        if let Some(spar) = spar(sail, part) {
            heavy = heavy.max(weight(board, sail, spar));
        }
        if path.is_empty() {
            path = on_sail(board, sail, part);
        }
    }
    board.scene.stroke(path, Stroke::new(Role::Accent, heavy));
}

/// The spar that is pointed at.
fn spar(sail: &Sail, part: Part) -> Option<usize> {
    match part {
        Part::Boom => Some(0),
        Part::Batten(number) => Some(number),
        Part::Yard => Some(sail.plan.n_panels()),
        _ => None,
    }
}

/// A part of mast, sail and lines [px]; nothing where there is none.
pub(crate) fn on_sail(board: &Board, sail: &Sail, part: Part) -> BezPath {
    let (mut luff, mut leech) = (Vec::new(), Vec::new());
    for spar in &sail.pose.spars {
        let (fore, after) = sail.ends(spar);
        luff.push(fore);
        leech.push(after);
    }
    let head = sail.mast * Point::new(0.0, sail.account.mast.lap);
    let mut corners = Vec::new();
    let mut closed = false;
    match part {
        Part::Boom | Part::Batten(_) | Part::Yard => {
            let spar = spar(sail, part).unwrap_or(0);
            if let (Some(luff), Some(leech)) = (luff.get(spar), leech.get(spar)) {
                corners.extend_from_slice(&[*luff, *leech]);
            }
        }
        Part::Mast => corners.extend_from_slice(&[sail.mast * Point::ORIGIN, head]),
        Part::Luff => corners = luff,
        Part::Leech => corners = leech,
        Part::Halyard => return lines::shape(board, sail, Line::Halyard),
        Part::Lifts => return lines::shape(board, sail, Line::Lifts),
        Part::Sail => {
            leech.reverse();
            corners = luff;
            corners.extend_from_slice(&leech);
            closed = true;
        }
        Part::Panel(number) => {
            if let Some(panel) = placed(sail, number) {
                for corner in panel.corners() {
                    corners.push(sail.plane * corner);
                }
                closed = true;
            }
        }
        Part::Bundle => {
            let lying = sail.pose.hoist.floor().max(0.0) as usize + 1;
            luff.truncate(lying);
            leech.truncate(lying);
            leech.reverse();
            corners = luff;
            corners.extend_from_slice(&leech);
            closed = true;
        }
        Part::Parrel(spar) => {
            let spar = sail.pose.spars.get(spar);
            if let Some(at) = spar.and_then(|spar| sail.on_mast(spar)) {
                return circle(at, 2.0 * board.pens.yard);
            }
        }
        Part::None | Part::Hull | Part::Coachroof | Part::Cockpit => {}
    }
    let mut path = through(&corners);
    if closed && !path.is_empty() {
        path.close_path();
    }
    path
}
