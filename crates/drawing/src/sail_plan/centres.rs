//! Centres of effort: where the area stands now, and where it goes as panels are lowered.

use geometry::rig::Standing;
use kurbo::{BezPath, Circle, Point, Shape as _, Vec2};

use super::board::{Board, Sail};
use crate::lettering::CAP_HEIGHT;
use crate::palette::Role;
use crate::scene::{Anchor, Dash, Stroke, Weight, Words};

/// Rings and trail; gives back where the chief ring lies, to be named once the panels have their
/// numbers.
pub(super) fn draw(board: &mut Board, sails: &[Sail]) -> Option<Point> {
    // On a small pane the cloth is wanted for the heights of the parrels.
    let several = sails.len() > 1 && board.roomy;
    if board.moment.view.shown.trail {
        trail(board, sails);
    }
    if several {
        for sail in sails {
            if let Some(centre) = sail.pose.centre {
                ring(board, sail.plane * centre, 0.62 * radius(board), 1.1);
            }
        }
    }
    let together = Standing::together(sails.iter().filter_map(|sail| {
        let place = sail.pose.centre_on_ship?;
        let area = sail.account.rows.get(sail.pose.state)?.area;
        Some(Standing {
            area,
            x: place.x,
            z: place.z,
        })
    }))?;
    let at = board.frame.ship() * Point::new(together.x, together.z);
    ring(board, at, radius(board), 1.6);
    Some(at)
}

fn radius(board: &Board) -> f64 {
    if board.roomy { 8.0 } else { 6.0 }
}

/// A ring with a cross over it.
fn ring(board: &mut Board, at: Point, radius: f64, weight: f64) {
    let mut path = Circle::new(at, radius).to_path(0.1);
    let arm = 1.5 * radius;
    for along in [Vec2::new(arm, 0.0), Vec2::new(0.0, arm)] {
        path.move_to(at - along);
        path.line_to(at + along);
    }
    board.scene.stroke(path, Stroke::new(Role::Centre, weight));
    board.take_point(at, arm);
}

/// Letters the name of the chief ring beside it, between the battens.
pub(super) fn name(board: &mut Board, at: Point) {
    let name = board.moment.words.word("drawing.ce");
    let out = 1.5 * radius(board) + 4.0;
    // Close by on either side, else a little further off.
    for further in [0.0, 8.0, 16.0] {
        for up in [0.0, -5.0, 5.0, -10.0, 10.0, -15.0, 15.0] {
            for (way, anchor) in [(-1.0, Anchor::End), (1.0, Anchor::Start)] {
                let mut words = Words::new(name, Role::Note, at, anchor);
                words.at += Vec2::new(way * (out + further), up + 0.5 * CAP_HEIGHT * words.size);
                words.weight = Weight::Strong;
                if board.letter(&words, (2.0, 0.0)) {
                    return;
                }
            }
        }
    }
}

/// Dots through the centres of all states of the rig, in the order it is reefed.
fn trail(board: &mut Board, sails: &[Sail]) {
    let dots: Vec<Point> = board
        .moment
        .account
        .rig
        .sequence
        .iter()
        .filter_map(|step| {
            // Worked out anew from the states: the sails may be sheeted out.
            let standing = Standing::together(sails.iter().filter_map(|sail| {
                let lowered = step.lowered.get(sail.index).copied()?;
                let state = sail.account.reefs.as_ref()?.lowered(lowered)?;
                let place = sail
                    .account
                    .mast
                    .to_ship(state.centroid?, sail.pose.sheeting);
                Some(Standing {
                    area: state.area,
                    x: place.x,
                    z: place.z,
                })
            }))?;
            Some(board.frame.ship() * Point::new(standing.x, standing.z))
        })
        .collect();
    if dots.len() < 2 {
        return;
    }
    let mut line = BezPath::new();
    for (i, dot) in dots.iter().enumerate() {
        if i == 0 {
            line.move_to(*dot);
        } else {
            line.line_to(*dot);
        }
    }
    board
        .scene
        .stroke(line, Stroke::new(Role::Trail, 1.2).dashed(Dash::Dotted));
    for dot in dots {
        board
            .scene
            .fill(Circle::new(dot, 2.2).to_path(0.1), Role::Trail);
        board.take_point(dot, 2.5);
    }
}
