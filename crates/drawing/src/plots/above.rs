//! Boat and sails from above, at this hoist and sheeting angle, with the lines.

use geometry::mast::Place;
use kurbo::{Point, Rect, Vec2};
use quantities::quantity;
use rigging::{Laid, Line};

use super::{AXIS, NOW, degrees, hair, letter, plan, say};
use crate::fit::Frame;
use crate::handles;
use crate::moment::Moment;
use crate::palette::Role;
use crate::points::handles_above;
use crate::ropes::{self, Pen};
use crate::sail_plan::board::{Board, PanelState, Sail};
use crate::sail_plan::sail::cloth_role;
use crate::scene::{Anchor, Dash, Stroke, arc, circle, through};

/// Belly of the cloth as it is drawn, a share of its chord, once it is sheeted out so far [rad] (a convention
/// of the drawing, no computed shape).
const BELLY: (f64, f64) = (0.06, 0.25);

/// Room for her and for all her sails squared off either side: neither hoist nor sheeting angle has a say
/// in it.
pub(crate) fn fit(moment: &Moment, frame: &mut Frame) {
    let hull = &moment.design.boat.hull;
    let (bow, stern) = hull.ends();
    let mut extent = Rect::new(bow, -0.5 * hull.beam, stern, 0.5 * hull.beam);
    for mast in &moment.account.masts {
        let Some(plan) = &mast.plan else { continue };
        for spar in &plan.spars {
            let (fore, after) = (-spar.luff.x, spar.leech().x);
            let out = after.max(0.0) + mast.mast.offset;
            let sail = Rect::new(mast.mast.x - fore, -out, mast.mast.x + after, out);
            if sail.is_finite() {
                extent = extent.union(sail);
            }
        }
    }
    plan::fit(frame, extent);
}

pub(super) fn draw(board: &mut Board) -> String {
    let view = board.moment.view;
    plan::draw(board);
    let sails = board.sails();
    let in_hand = sails.iter().find(|sail| sail.index == view.mast);
    if let Some(sail) = in_hand {
        limits(board, sail);
    }
    for sail in &sails {
        for laid in &sail.pose.lines {
            // Lifts and parrels lie along the spars; they are seen in profile.
            let seen = !matches!(laid.line, Line::Lifts | Line::Parrel(_));
            if seen && !held(board, sail, laid) {
                rope(board, sail, laid, false);
            }
        }
    }
    for sail in &sails {
        draw_sail(board, sail);
    }
    for sail in &sails {
        for laid in &sail.pose.lines {
            if held(board, sail, laid) {
                rope(board, sail, laid, true);
            }
        }
    }
    // What can be taken hold of, under the numbers of its points.
    let pane = (board.frame.width, board.frame.height);
    let points = handles_above(board.moment, pane);
    let rings = handles::rings(board.moment, board.frame, Some(points));
    handles::draw(&mut board.scene, &rings);
    let mut angle = 0.0;
    if let Some(sail) = in_hand {
        angle = sail.pose.sheeting;
        tell(board, sail);
    }
    let key = if angle.abs() < 1e-3 {
        "plot.amidships"
    } else if angle < 0.0 {
        "plot.to_port"
    } else {
        "plot.to_starboard"
    };
    let mut said = say(board, key, &[("angle", angle.abs(), &quantity::HEEL)]);
    for state in board.moment.state() {
        said.push_str(", ");
        said.push_str(&state);
    }
    said
}

fn held(board: &Board, sail: &Sail, laid: &Laid) -> bool {
    let view = board.moment.view;
    sail.index == view.mast && view.line == Some(laid.line)
}

fn rope(board: &mut Board, sail: &Sail, laid: &Laid, in_hand: bool) {
    let frame = board.frame;
    let at = |place: Place| plan::at(frame, place);
    let pen = Pen {
        at: &at,
        in_hand,
        whole: true,
        loaded: ropes::loaded(laid, sail.pose),
    };
    ropes::draw(board, laid, pen);
    if in_hand {
        ropes::number(board, laid, pen);
    } else {
        ropes::take(board, laid, pen);
    }
}

/// A point of the sail's plane [px].
fn seen(board: &Board, sail: &Sail, p: Point) -> Point {
    let mast = &sail.account.mast;
    plan::at(board.frame, mast.to_ship(p, sail.pose.sheeting))
}

/// The mast's axis [px] and how far from it the boom's after end goes round, in metres, with the bearing it
/// has from there amidships, to starboard of right aft [rad].
fn swing(board: &Board, sail: &Sail) -> Option<(Point, f64, f64)> {
    let mast = &sail.account.mast;
    let boom = sail.plan.spars.first()?;
    let end = mast.to_ship(boom.leech(), 0.0);
    // A raked mast's axis at the height of the boom's end.
    let axis = Point::new(mast.x + boom.leech().y * angles::sin(mast.rake), 0.0);
    let arm = Point::new(end.x, end.y) - axis;
    let centre = plan::flat(board.frame, axis);
    arm.is_finite()
        .then(|| (centre, arm.hypot(), arm.y.atan2(arm.x)))
}

/// The way of the boom's end from squared off to port to squared off to starboard, with a scale.
fn limits(board: &mut Board, sail: &Sail) {
    let Some((centre, reach, amidships)) = swing(board, sail) else {
        return;
    };
    let limit = sail.design.sail.squared_off;
    let radius = reach * board.frame.scale;
    // Larger than any pane, or nothing.
    if !(radius > 4.0 && radius < 1e5 && limit > 0.0 && limit < 3.2) {
        return;
    }
    let thin = Stroke::new(Role::Dimension, board.pens.dimension);
    let way = |angle: f64| geometry::unit(-(angle + amidships));
    let path = arc(centre, radius, -(limit + amidships), 2.0 * limit);
    board.scene.stroke(path, thin.dashed(Dash::Dashed));
    for side in [-1.0, 1.0] {
        for tens in 0..9_u32 {
            let angle = f64::from(tens) * 10f64.to_radians();
            if angle > limit || (tens == 0 && side < 0.0) {
                continue;
            }
            let out = if tens % 3 == 0 { 5.0 } else { 3.0 };
            let way = way(side * angle);
            hair(board, centre + way * radius, centre + way * (radius + out));
        }
        let way = way(side * limit);
        hair(
            board,
            centre + way * (0.2 * radius),
            centre + way * (radius + 6.0),
        );
    }
}

/// Cloth, spars and mast; cloth that stands has a belly to leeward.
fn draw_sail(board: &mut Board, sail: &Sail) {
    let mast = &sail.account.mast;
    let sheeting = sail.pose.sheeting;
    let belly = BELLY.0 * (sheeting / BELLY.1).max(-1.0).min(1.0);
    let edge = Stroke::new(Role::ClothEdge, board.pens.edge);
    for (i, pair) in sail.pose.spars.windows(2).enumerate() {
        if sail.panel_state(i + 1) != PanelState::Standing {
            continue;
        }
        let [low, high] = [&pair[0], &pair[1]];
        let (a, b) = (seen(board, sail, low.luff), seen(board, sail, low.leech()));
        let (c, d) = (
            seen(board, sail, high.leech()),
            seen(board, sail, high.luff),
        );
        // The lower spar, and back along the upper one, or by its belly.
        let mut cloth = through(&[a, b, c]);
        let along = d - c;
        // To starboard is up.
        let out = Vec2::new(-along.y, along.x) * belly;
        cloth.quad_to(c.midpoint(d) + out * 2.0, d);
        cloth.close_path();
        board
            .scene
            .figure(cloth, Some(cloth_role(i + 1)), Some(edge));
    }
    let last = sail.pose.spars.len().saturating_sub(1);
    for (i, spar) in sail.pose.spars.iter().enumerate() {
        let (luff, leech) = (
            seen(board, sail, spar.luff),
            seen(board, sail, spar.leech()),
        );
        let weight = match i {
            0 => board.pens.boom,
            _ if i == last => board.pens.yard,
            _ => 0.5 * board.pens.batten,
        };
        let pen = Stroke::new(Role::Spar, weight);
        if i == last {
            let rim = Stroke::new(Role::Paper, weight + 2.0);
            board.scene.line(luff, leech, rim);
        }
        board.scene.line(luff, leech, pen);
        board.take_line(luff, leech, 0.5 * weight + 1.0);
        // Battens lie on one another: their ends tell them apart.
        let along = leech - luff;
        let across = Vec2::new(-along.y, along.x) * (3.0 / along.hypot().max(1.0));
        for end in [luff, leech] {
            let tick = Stroke::new(Role::Spar, 1.0);
            board.scene.line(end - across, end + across, tick);
        }
    }
    let foot = plan::flat(board.frame, Point::new(mast.x, 0.0));
    let head = plan::at(board.frame, mast.head());
    let scale = 0.5 * board.frame.scale;
    let line = Stroke::new(Role::MastLine, board.pens.dimension.max(0.8));
    let ring = circle(foot, (scale * mast.diameter).max(2.5));
    board.scene.figure(ring, Some(Role::Mast), Some(line));
    if (head - foot).hypot() > 1.0 {
        let ring = circle(head, (scale * mast.top_diameter).max(1.5));
        board.scene.figure(ring, Some(Role::Mast), Some(line));
    }
    board.take_point(foot, (scale * mast.diameter).max(3.0));
}

/// The sheeting angle at the boom's end, and how far it may go.
fn tell(board: &mut Board, sail: &Sail) {
    let Some((centre, reach, amidships)) = swing(board, sail) else {
        return;
    };
    let radius = reach * board.frame.scale;
    let angle = sail.pose.sheeting;
    let out = |angle: f64| geometry::unit(-(angle + amidships));
    let way = out(angle);
    let at = centre + way * radius;
    let mark = Stroke::new(Role::Accent, 2.4);
    board.scene.line(at + way * 2.0, at + way * 9.0, mark);
    board.take_line(at, at + way * 9.0, 2.0);
    let said = degrees(board, angle.abs());
    let mut spots = Vec::with_capacity(16);
    for far in [18.0, 28.0, 40.0] {
        for turn in [0.0, 0.5, -0.5, 1.0, -1.0] {
            let off = geometry::unit(way.atan2() + turn) * far;
            spots.push((off.x, off.y, Anchor::Middle));
        }
    }
    if !letter(board, &said, &NOW, at, &spots) {
        // Where there is nothing but sea.
        let corner = Point::new(board.frame.width - 8.0, 16.0);
        letter(board, &said, &NOW, corner, &[(0.0, 0.0, Anchor::End)]);
    }
    let limit = sail.design.sail.squared_off;
    let said = say(board, "plot.squared", &[("angle", limit, &quantity::HEEL)]);
    for side in [-1.0, 1.0] {
        let at = centre + out(side * limit) * (radius + 6.0);
        let spots = [
            (0.0, -10.0 * side, Anchor::Middle),
            (-6.0, 0.0, Anchor::End),
            (6.0, 0.0, Anchor::Start),
            (-6.0, 12.0 * side, Anchor::End),
            (6.0, 12.0 * side, Anchor::Start),
        ];
        letter(board, &said, &AXIS, at, &spots);
    }
}
