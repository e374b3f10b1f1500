//! Centres of effort: where the area stands now, and where it goes as panels are lowered.

use geometry::rig::Standing;
use kurbo::{BezPath, Point, Vec2};
use quantities::listed::Listed as _;

use super::board::{Board, Sail};
use crate::lettering::CAP_HEIGHT;
use crate::palette::Role;
use crate::scene::{Anchor, Dash, Stroke, Weight, Words, circle, through};

/// A mark and the catalogue key of its name.
pub(super) type Named = (Point, &'static str);

/// Rings, trail and what lies beside them; gives back what is to be named once the panels have their
/// numbers.
pub(super) fn draw(board: &mut Board, sails: &[Sail]) -> Vec<Named> {
    let mut named = Vec::with_capacity(3);
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
    if board.moment.view.shown.trail
        && let Some(now) = board.moment.account.boat.rig_now.as_ref()
    {
        let now = now.together;
        // A cross without a ring: hers, but not of this rig.
        let at = board.frame.ship() * Point::new(now.x, now.z);
        board
            .scene
            .stroke(cross(at), Stroke::new(Role::Centre, 1.2));
        board.take_point(at, 5.0);
        if board.roomy {
            named.push((at, "drawing.rig_now"));
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
    }));
    if let Some(together) = together {
        let at = board.frame.ship() * Point::new(together.x, together.z);
        ring(board, at, radius(board), 1.6);
        named.insert(0, (at, "drawing.ce"));
    }
    if let Some(at) = resistance(board) {
        named.push((at, "drawing.clr"));
    }
    named
}

fn radius(board: &Board) -> f64 {
    if board.roomy { 8.0 } else { 6.0 }
}

/// A ring with a cross over it.
fn ring(board: &mut Board, at: Point, radius: f64, weight: f64) {
    let mut path = circle(at, radius);
    let arm = 1.5 * radius;
    for along in [Vec2::new(arm, 0.0), Vec2::new(0.0, arm)] {
        path.move_to(at - along);
        path.line_to(at + along);
    }
    board.scene.stroke(path, Stroke::new(Role::Centre, weight));
    board.take_point(at, arm);
}

/// The mark of the rig she has now.
pub(crate) fn cross(at: Point) -> BezPath {
    let mut path = BezPath::new();
    for way in [Vec2::new(4.0, 4.0), Vec2::new(4.0, -4.0)] {
        path.move_to(at - way);
        path.line_to(at + way);
    }
    path
}

/// The outlines of the sails she carries now, behind all else.
pub(super) fn rig_now(board: &mut Board) {
    let faint = Stroke::new(Role::ClothEdge, board.pens.dimension).dashed(Dash::Dashed);
    for outline in &board.moment.design.boat.particulars.sails_now {
        let mut path = board.frame.ship() * through(outline);
        if !path.is_empty() {
            path.close_path();
        }
        board.scene.stroke(path, faint);
    }
}

/// The centre of lateral resistance: a lozenge with its middle marked; gives back where it lies.
fn resistance(board: &mut Board) -> Option<Point> {
    let found = board.moment.account.boat.resistance?;
    let at = board.frame.ship() * Point::new(found.x, found.z);
    let half = radius(board);
    let mut path = through(&[
        at - Vec2::new(half, 0.0),
        at - Vec2::new(0.0, half),
        at + Vec2::new(half, 0.0),
        at + Vec2::new(0.0, half),
    ]);
    path.close_path();
    let line = Stroke::new(Role::Centre, 1.6);
    board.scene.figure(path, Some(Role::Paper), Some(line));
    board.scene.fill(circle(at, 1.6), Role::Centre);
    board.take_point(at, half);
    Some(at)
}

/// Letters the name of a mark beside it, between the battens; under it, where it lies under water.
pub(super) fn name(board: &mut Board, (at, key): Named) {
    let out = 1.5 * radius(board) + 4.0;
    let mut words = Words::new(board.moment.words.word(key), Role::Note, at, Anchor::Middle);
    words.weight = Weight::Strong;
    if at.y > board.frame.origin.y {
        words.at.y += out + CAP_HEIGHT * words.size - 2.0;
        if board.letter(&words, (2.0, 0.0)) {
            return;
        }
    }
    // Close by on either side, else a little further off.
    for further in [0.0, 8.0, 16.0] {
        for up in [0.0, -5.0, 5.0, -10.0, 10.0, -15.0, 15.0] {
            for (way, anchor) in [(-1.0, Anchor::End), (1.0, Anchor::Start)] {
                let off = Vec2::new(way * (out + further), up + 0.5 * CAP_HEIGHT * words.size);
                words.at = at + off;
                words.anchor = anchor;
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
        .listed();
    if dots.len() < 2 {
        return;
    }
    board.scene.stroke(
        through(&dots),
        Stroke::new(Role::Trail, 1.2).dashed(Dash::Dotted),
    );
    for dot in dots {
        board.scene.fill(circle(dot, 2.2), Role::Trail);
        board.take_point(dot, 2.5);
    }
}
