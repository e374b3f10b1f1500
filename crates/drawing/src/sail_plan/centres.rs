//! Centres of effort: where the area stands now, and where it goes as panels are lowered.

use geometry::rig::Standing;
use kurbo::{BezPath, Circle, Point, Shape as _, Vec2};

use super::board::{Board, Sail};
use crate::palette::Role;
use crate::scene::{Anchor, Dash, Stroke, Weight, Words};

pub(super) fn draw(board: &mut Board, sails: &[Sail]) {
    let radius = if board.roomy { 8.0 } else { 6.0 };
    let several = sails.len() > 1;
    if board.moment.view.shown.trail {
        trail(board, sails);
    }
    let mut all = Vec::with_capacity(sails.len());
    for sail in sails {
        let Some(centre) = sail.pose.centre else {
            continue;
        };
        let at = sail.plane * centre;
        all.push(at);
        if several {
            ring(board, at, 0.62 * radius, false);
        } else {
            ring(board, at, radius, true);
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
    if several && let Some(standing) = together {
        let at = board.frame.ship() * Point::new(standing.x, standing.z);
        ring(board, at, radius, true);
    }
}

/// A crossed ring; the chief one carries its name.
fn ring(board: &mut Board, at: Point, radius: f64, chief: bool) {
    let stroke = Stroke::new(Role::Centre, if chief { 1.6 } else { 1.1 });
    let mut path = Circle::new(at, radius).to_path(0.1);
    let arm = radius + if chief { 4.0 } else { 2.0 };
    for along in [Vec2::new(arm, 0.0), Vec2::new(0.0, arm)] {
        path.move_to(at - along);
        path.line_to(at + along);
    }
    board.scene.stroke(path, stroke);
    board.take_point(at, arm);
    if !chief {
        return;
    }
    let size = 12.0;
    let name = board.moment.words.word("drawing.ce").to_string();
    let side = arm + 3.0;
    let label = |dx: f64, dy: f64, anchor: Anchor| {
        let mut words = Words::new(
            name.clone(),
            Role::Note,
            at + Vec2::new(dx, dy + 0.35 * size),
            anchor,
        );
        words.weight = Weight::Strong;
        words
    };
    let places = [
        label(-side, 0.0, Anchor::End),
        label(side, 0.0, Anchor::Start),
        label(radius, -radius - 3.0, Anchor::Start),
        label(radius, radius + 3.0, Anchor::Start),
        label(-radius, -radius - 3.0, Anchor::End),
        label(-radius, radius + 3.0, Anchor::End),
    ];
    board.letter(places, (1.0, 1.0));
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
