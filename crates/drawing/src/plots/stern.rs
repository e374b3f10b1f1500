//! The boat from astern, heeled to starboard by a wind from port.

use core::f64::consts::FRAC_PI_2;

use boat::Heel;
use geometry::hull::Keel;
use kurbo::{Affine, CubicBez, ParamCurve as _, Point, Rect, Vec2};
use quantities::quantity;

use super::{AXIS, Look, NOTE, NOW, band_key, degrees, hair, heel, heel_said, letter, say};
use crate::fit::Frame;
use crate::moment::Moment;
use crate::palette::Role;
use crate::sail_plan::board::Board;
use crate::sail_plan::hull::below;
use crate::sail_plan::mast::stretch;
use crate::sail_plan::sail::cloth_role;
use crate::scene::{Anchor, Dash, Stroke, Weight, arc, boxed, through};

/// How far the sails are sheeted out as they are drawn [rad]: on the wind (common practice).
const SHEETED: f64 = 0.3;
/// Knocked down she is drawn this far over [rad].
const DOWN: f64 = 1.45;
/// From the masthead to the scale of heel, and about all of it [px].
const GAP: f64 = 7.0;
const ROUND: f64 = 20.0;
/// Room for words to weather of her [px].
const COLUMN: f64 = 112.0;

/// Top of the rig above the waterline [m].
fn top(moment: &Moment) -> f64 {
    let top = moment.account.rig.air_draught;
    if top < 1e3 { top.max(1.0) } else { 10.0 }
}

/// Draught with keel or lowered plate [m].
fn depth(moment: &Moment) -> f64 {
    let boat = &moment.design.boat;
    let mut deep = boat.hull.draught;
    for point in &boat.particulars.lateral.profile {
        deep = deep.max(-point.y);
    }
    deep
}

/// Puts her waterline amidships where she has room to go over.
pub(super) fn fit(moment: &Moment, frame: &mut Frame) {
    let top = top(moment);
    // On her beam ends half of her lies under water.
    let deep = depth(moment)
        .max(0.5 * moment.design.boat.hull.beam)
        .min(top);
    let column = COLUMN.min(0.4 * frame.width);
    let across = frame.width - column - ROUND - GAP;
    let up = frame.height - 2.0 * ROUND - GAP;
    let scale = (up / (top + deep)).min(across / top).max(0.1);
    frame.scale = scale;
    frame.origin = Point::new(
        column + 0.5 * (across - scale * top),
        ROUND + GAP + 0.5 * (up + scale * (top - deep)),
    );
}

pub(super) fn draw(board: &mut Board, step: usize) -> String {
    let frame = board.frame;
    let found = heel(board.moment, step);
    if let Some(found) = &found {
        tell(board, found);
    }
    // A class that is asked for it sees her upright, and no scale.
    let told = board.moment.view.shown.heel;
    let mut angle = 0.0;
    if let Some(found) = found.as_ref().filter(|_| told) {
        angle = match found {
            Heel::At(heel) => heel.value,
            Heel::Past(end) => *end,
            Heel::KnockedDown => DOWN,
        };
        scale(board, found, angle);
    }
    let sea = Rect::new(0.0, frame.origin.y, frame.width, frame.height);
    board.scene.fill(boxed(sea), Role::Water);
    // From (to starboard, up) [m] to pixels.
    let (sin, cos) = angles::sin_cos(angle);
    let (sin, cos) = (frame.scale * sin, frame.scale * cos);
    let heeled = Affine::new([cos, sin, sin, -cos, frame.origin.x, frame.origin.y]);
    rig(board, heeled, step);
    body(board, heeled);
    heel_said(board, found.as_ref())
}

/// A place at an angle from the upright, at a radius about the waterline amidships [px].
fn around(board: &Board, angle: f64, radius: f64) -> Point {
    let (sin, cos) = angles::sin_cos(angle);
    board.frame.origin + Vec2::new(sin, -cos) * radius
}

/// The band as a pale wedge, and the scale of heel that the masthead moves along.
fn scale(board: &mut Board, found: &Heel, angle: f64) {
    let origin = board.frame.origin;
    let radius = board.frame.scale * top(board.moment) + GAP;
    let thin = Stroke::new(Role::Dimension, board.pens.dimension);
    let mut parts = [(0.0, FRAC_PI_2); 2];
    // Where the curve ends no band tells how far she goes.
    if let Heel::At(heel) = found {
        let least = heel.least.max(0.0);
        parts[0] = (least, heel.most.min(FRAC_PI_2).max(least));
    }
    for (i, (from, to)) in parts.into_iter().enumerate() {
        let mut path = arc(origin, radius, from - FRAC_PI_2, to - from);
        let mut ground = None;
        if i == 0 && matches!(found, Heel::At(_)) {
            path.line_to(origin);
            path.close_path();
            ground = Some(Role::Water);
        }
        board.scene.figure(path, ground, Some(thin));
    }
    // What she heels to now.
    let [head, tip] = [
        around(board, angle, radius + -GAP),
        around(board, angle, radius + GAP),
    ];
    board
        .scene
        .line(origin, tip, Stroke::new(Role::Accent, 1.0));
    board.scene.line(head, tip, Stroke::new(Role::Accent, 2.4));
    board.take_line(head, tip, 3.0);
    let comfort = board.moment.design.boat.particulars.conditions.comfort;
    if comfort > 0.0 && comfort < FRAC_PI_2 {
        let [from, to] = [
            around(board, comfort, radius + -10.0),
            around(board, comfort, radius + GAP),
        ];
        hair(board, from, to);
        let said = say(board, "plot.comfort", &[("heel", comfort, &quantity::HEEL)]);
        let at = around(board, comfort, radius + 9.0);
        // Over the arc, where the masthead is just past it.
        let over = origin.y - radius - 11.0 - at.y;
        let spots = [(0.0, -1.0, Anchor::Start), (-4.0, over, Anchor::End)];
        letter(board, &said, &AXIS, at, &spots);
    }
    for tens in 0..9_u32 {
        let at = f64::from(tens) * 10f64.to_radians();
        let [from, to, beyond] = [0.0, 4.0, 9.0].map(|out| around(board, at, radius + out));
        hair(board, from, to);
        if tens % 3 == 0 && tens > 0 && (at - comfort).abs() > 0.25 {
            let said = degrees(board, at);
            letter(board, &said, &AXIS, beyond, &[(0.0, -1.0, Anchor::Start)]);
        }
    }
}

/// Sails as they stand at this step, and their masts.
fn rig(board: &mut Board, heeled: Affine, step: usize) {
    let account = board.moment.account;
    let lowered = account.rig.sequence.get(step);
    for (m, found) in account.masts.iter().enumerate() {
        let mast = &found.mast;
        let up = heeled * Affine::translate((0.0, mast.z));
        let deck = board.moment.design.boat.hull.freeboard_mid - mast.z;
        let pole = up * stretch(mast, deck.min(mast.lap), mast.lap);
        let line = Stroke::new(Role::MastLine, 1.0);
        board.scene.figure(pole, Some(Role::Mast), Some(line));
        let lowered = lowered.and_then(|step| step.lowered.get(m));
        let lowered = lowered.copied().unwrap_or(0);
        let state = found
            .reefs
            .as_ref()
            .and_then(|reefs| reefs.lowered(lowered));
        let Some(state) = state else { continue };
        let mut ends = Vec::with_capacity(state.spars.len());
        for placed in &state.spars {
            ends.push([placed.spar.luff, placed.spar.leech()].map(|end| {
                let place = mast.to_ship(end, SHEETED);
                heeled * Point::new(place.y, place.z)
            }));
        }
        for (i, pair) in ends.windows(2).enumerate().skip(lowered) {
            let [[a, b], [d, c]] = [pair[0], pair[1]];
            let cloth = through(&[a, b, c, d, a]);
            let edge = Stroke::new(Role::ClothEdge, 0.6);
            board
                .scene
                .figure(cloth, Some(cloth_role(i + 1)), Some(edge));
        }
        for (i, [luff, leech]) in ends.iter().enumerate() {
            let weight = if i == 0 || i + 1 == ends.len() {
                2.2
            } else {
                1.0
            };
            let spar = Stroke::new(Role::Spar, weight);
            board.scene.line(*luff, *leech, spar);
        }
        // Through the cloth, so that it is seen where the masthead points.
        let [foot, head] = [up * Point::new(0.0, deck), up * Point::new(0.0, mast.lap)];
        let ghost = Stroke::new(Role::MastGhost, board.pens.dimension);
        board.scene.line(foot, head, ghost.dashed(Dash::Dashed));
    }
}

/// Her section amidships: topsides, bilge and keel, deck and coachroof.
fn body(board: &mut Board, heeled: Affine) {
    let boat = &board.moment.design.boat;
    let (hull, form) = (&boat.hull, &boat.particulars.hull);
    let (breadth, deck) = (0.5 * hull.beam, hull.freeboard_mid);
    let water = (0.5 * form.beam).min(breadth);
    let body = form.canoe_draught;
    let deep = depth(board.moment).max(body);
    // Half width of the keel, and where the bilge turns into it: hollow above a long keel.
    let (keel, turn, turned) = match hull.keel {
        Keel::Long => (0.09, 0.30, 0.80),
        Keel::Fin => (0.06, 0.45, 1.0),
        Keel::Open => (0.02, 0.50, 1.0),
    };
    let keel = keel * breadth;
    let bilge = CubicBez::new(
        (water, 0.0),
        (0.96 * water, -0.7 * body),
        (keel + turn * water, -turned * body),
        (keel, -body),
    );
    // From the middle of the deck to that of the keel, to starboard; then up again, to port.
    let crown = if hull.keel == Keel::Open {
        0.0
    } else {
        0.07 * breadth
    };
    let mut half = vec![
        Point::new(0.0, deck + crown),
        Point::new(0.5 * breadth, deck + 0.75 * crown),
        Point::new(breadth, deck),
        Point::new(0.5 * (breadth + water) + 0.02 * breadth, 0.4 * deck),
    ];
    for i in 0..=8 {
        half.push(bilge.eval(f64::from(i) / 8.0));
    }
    half.push(Point::new(0.7 * keel, -deep));
    let fine = Stroke::new(Role::HullLine, 1.0);
    if let Some(roof) = hull.coachroof.filter(|roof| roof.height > 0.0) {
        let (low, high) = (deck + 0.02 * breadth, deck + roof.height);
        let house = [
            Point::new(0.0, high + 0.03 * breadth),
            Point::new(0.3 * breadth, high),
            Point::new(0.54 * breadth, high - 0.05 * breadth),
            Point::new(0.62 * breadth, low),
        ];
        let house = heeled * both(&house);
        board.scene.figure(house, Some(Role::Roof), Some(fine));
    }
    let path = heeled * both(&half);
    let surface = board.frame.origin.y;
    let under = below(&path, surface);
    board.scene.fill(path.clone(), Role::Hull);
    board.scene.fill(under, Role::Underbody);
    let [left, right] = [
        Point::new(0.0, surface),
        Point::new(board.frame.width, surface),
    ];
    let water = Stroke::new(Role::Waterline, board.pens.dimension);
    board.scene.line(left, right, water);
    board.scene.stroke(path, Stroke::new(Role::HullLine, 1.4));
}

/// An outline of which the starboard half is given, from the top down.
fn both(half: &[Point]) -> kurbo::BezPath {
    let mut points = half.to_vec();
    for point in half.iter().rev() {
        points.push(Point::new(-point.x, point.y));
    }
    let mut path = through(&points);
    path.close_path();
    path
}

/// The angle with its band, and the wind that heels her, to weather.
fn tell(board: &mut Board, found: &Heel) {
    let frame = board.frame;
    let left = (frame.origin.x - COLUMN - 30.0).max(8.0);
    let heel = |angle: f64| ("heel", angle, &quantity::HEEL);
    let mut size = 15.0;
    let (large, small) = match found {
        Heel::At(found) => {
            size = 28.0;
            let ends = [
                ("least", found.least.max(0.0), &quantity::HEEL),
                ("most", found.most, &quantity::HEEL),
            ];
            let band = match band_key(found) {
                "" => String::new(),
                key => say(board, key, &ends),
            };
            (degrees(board, found.value), band)
        }
        Heel::Past(end) => (
            say(board, "plot.past", &[heel(*end)]),
            say(board, "plot.past_end", &[]),
        ),
        Heel::KnockedDown => (
            say(board, "plot.knocked", &[]),
            say(board, "plot.down", &[]),
        ),
    };
    let at = Point::new(left, ROUND + 6.0);
    let from = |y: f64| [(0.0, y, Anchor::Start)];
    if board.moment.view.shown.heel {
        letter(board, &large, &Look { size, ..NOW }, at, &from(0.0));
        letter(board, &small, &NOTE, at, &from(25.0));
    }

    let wind = board.moment.view.wind;
    let wind = quantity::TRUE_WIND.document_from_si(wind);
    let wind = quantity::TRUE_WIND.say(wind, board.moment.view.units);
    let tail = Point::new(left, 0.5 * (at.y + 25.0 + frame.origin.y));
    let tip = tail + Vec2::new(66.0, 0.0);
    let strong = Look {
        size: 15.0,
        weight: Weight::Strong,
        ..NOTE
    };
    letter(board, &wind, &strong, tail, &from(-15.0));
    let height = say(board, "plot.true_wind", &[]);
    letter(board, &height, &NOTE, tail, &from(12.0));
    let barb = [3.5, -3.5].map(|y| tip + Vec2::new(-10.0, y));
    let force = Stroke::new(Role::Centre, 1.6);
    board.scene.line(tail, barb[0].midpoint(barb[1]), force);
    let barb = through(&[tip, barb[0], barb[1]]);
    board.scene.fill(barb, Role::Centre);
}
