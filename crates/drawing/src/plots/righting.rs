//! What rights her against what heels her.

use core::f64::consts::{FRAC_PI_2, PI};

use boat::{Heel, Source};
use kurbo::{Point, Vec2};
use quantities::{quantity, units};

use super::chart::{Axes, BESIDE, UNDER, name, ticks, unit, upright};
use super::{
    NOTE, NOW, degrees, dot, hair, heel, heel_said, letter, letter_beside, say, tick, tick_number,
    trace,
};
use crate::lettering::{self, LEAST_SIZE};
use crate::palette::Role;
use crate::sail_plan::board::Board;
use crate::scene::{Anchor, Dash, Stroke, Weight, Words, circle, through};

/// Pieces a curve is drawn in.
const PIECES: u16 = 48;

pub(super) fn draw(board: &mut Board, step: usize) -> String {
    let moment = board.moment;
    let boat = &moment.account.boat;
    let conditions = &moment.design.boat.particulars;
    let found = heel(moment, step);
    let said = heel_said(board, found.as_ref());
    let loading = boat.loadings.get(conditions.loading);
    let loading = loading.and_then(Option::as_ref);
    let (Some(curve), Some(loading)) = (&boat.curve, loading) else {
        let at = Point::new(0.5 * board.frame.width, 0.5 * board.frame.height);
        letter(board, &said, &NOTE, at, &[(0.0, 0.0, Anchor::Middle)]);
        return said;
    };
    let greatest = loading.greatest.value;

    // Along the curve: heel, then moment and the ends of its band.
    let mut along = Vec::with_capacity(usize::from(PIECES) + 1);
    let (mut least, mut most) = (0.0_f64, greatest);
    for i in 0..=PIECES {
        let heel = curve.limit * f64::from(i) / f64::from(PIECES);
        if let Some(found) = curve.banded(heel) {
            least = least.min(found.value);
            most = most.max(found.most);
            along.push((heel, found));
        }
    }
    let (unit, label) = unit(&quantity::GREATEST_MOMENT, moment.view.units);
    let apart = tick((most - least) / unit / 4.0);
    // The same curve read as a lever, where her weight is known and nobody sits to weather.
    let lever = loading
        .displacement
        .filter(|_| curve.crew == 0.0)
        .map(|mass| {
            let (metre, label) = if moment.view.units.imperial() {
                (units::FOOT, "GZ\u{a0}ft")
            } else {
                (1.0, "GZ\u{a0}m")
            };
            let unit = mass * boat::GRAVITY * metre;
            (unit, label, tick((most - least) / unit / 4.0))
        });
    let widest = tick_number(most / unit, apart, moment.view.units);
    // Past its end there is room for what is only estimated.
    let beyond = if loading.estimated { 1.3 } else { 1.08 };
    let axes = Axes {
        left: 14.0 + lettering::width(&widest, LEAST_SIZE, Weight::Regular),
        right: board.frame.width - if lever.is_some() { 40.0 } else { 12.0 },
        top: 30.0,
        bottom: board.frame.height - 26.0,
        x: (0.0, (beyond * curve.limit).max(0.02).min(PI)),
        y: (1.1 * least, 1.12 * most),
    };
    let span = axes.y.1 - axes.y.0;
    if !(span > 1e-3 && span < 1e12) {
        return said;
    }
    let mut rights = Vec::with_capacity(along.len());
    let mut band = Vec::with_capacity(2 * along.len());
    for (i, (heel, found)) in along.iter().enumerate() {
        let [low, high] = [
            axes.at(*heel, found.least.max(axes.y.0)),
            axes.at(*heel, found.most),
        ];
        if let Some([a, b]) = i
            .checked_sub(1)
            .and_then(|i| band.get(2 * i..)?.first_chunk())
        {
            board.take([*a, low, high, *b]);
        }
        band.extend([low, high]);
        rights.push(axes.at(*heel, found.value));
    }
    // Out along the lower ends, back along the upper ones.
    let mut round = Vec::with_capacity(band.len());
    for low in band.iter().step_by(2) {
        round.push(*low);
    }
    for high in band.iter().skip(1).step_by(2).rev() {
        round.push(*high);
    }
    let mut band = through(&round);
    band.close_path();
    let thin = Stroke::new(Role::Dimension, board.pens.dimension);
    board.scene.figure(band, Some(Role::Water), Some(thin));
    frame(board, &axes, (unit, apart), label);
    // GZ = M / (m g).
    if let Some((unit, label, apart)) = lever {
        upright(board, &axes, true, (unit, apart), label);
    }

    let upright = boat.heeling(step, moment.view.wind).unwrap_or(0.0);
    let exponent = conditions.conditions.exponent;
    let heels = |heel: f64| {
        axes.at(
            heel,
            upright * boat::power(angles::cos(heel).max(0.0), exponent),
        )
    };
    let pressed = heeling(&heels, axes.top, curve.limit.min(FRAC_PI_2));
    trace(board, &rights, Stroke::new(Role::HullLine, 2.0));
    let broken = Stroke::new(Role::Centre, 1.6).dashed(Dash::Dashed);
    trace(board, &pressed, broken);

    // Where the curve ends, and why.
    let foot = axes.at(curve.limit, 0.0);
    let head = Point::new(foot.x, axes.top);
    trace(board, &[foot, head], thin.dashed(Dash::Chain));
    let why = say(
        board,
        if conditions.source == Source::Table {
            "plot.table_ends"
        } else {
            "plot.sides_end"
        },
        &[],
    );
    let at = foot + Vec2::new(13.0, -6.0);
    let mut why = Words::new(why, Role::Dimension, at, Anchor::Start);
    why.angle = -FRAC_PI_2;
    board.letter(&why, (1.0, 1.0));

    let accent = Stroke::new(Role::Accent, 1.4);
    match &found {
        // A class is asked for it.
        _ if !board.moment.view.shown.heel => {}
        Some(Heel::At(heel)) => {
            let at = heels(heel.value);
            trace(board, &[at, Point::new(at.x, foot.y)], accent);
            dot(board, at, 5.0, Role::Accent);
            let said = degrees(board, heel.value);
            // Further off where the lines are close.
            let _ = letter_beside(board, &said, &NOW, at, 9.0, &BESIDE)
                || letter_beside(board, &said, &NOW, at, 34.0, &BESIDE);
        }
        Some(Heel::Past(end)) => {
            let mut at = heels(*end);
            at.y = at.y.max(axes.top);
            let ring = circle(at, 5.0);
            board.scene.figure(ring, Some(Role::Paper), Some(accent));
            board.take_point(at, 6.0);
            let said = say(board, "plot.past", &[("heel", *end, &quantity::HEEL)]);
            letter_beside(board, &said, &NOW, at, -9.0, &BESIDE);
        }
        _ => {
            let said = say(board, "plot.knocked", &[]);
            letter_beside(board, &said, &NOW, head, -9.0, &BESIDE);
        }
    }

    // The greatest: on the curve, or by rule past its end.
    let numbers = [("moment", greatest, &quantity::GREATEST_MOMENT)];
    if loading.estimated {
        let said = say(board, "plot.greatest_estimate", &numbers);
        let from = axes.at(curve.limit, greatest);
        let rule = Stroke::new(Role::HullLine, 1.2).dashed(Dash::Dashed);
        trace(board, &[from, Point::new(axes.right, from.y)], rule);
        letter_beside(board, &said, &NOTE, from, -7.0, &[0.0, -14.0, 14.0, 28.0]);
    } else {
        let said = say(board, "plot.greatest", &numbers);
        let mut top = foot;
        for point in &rights {
            if point.y < top.y {
                top = *point;
            }
        }
        let half = Vec2::new(0.0, 5.0);
        let mark = Stroke::new(Role::HullLine, 1.2);
        trace(board, &[top - half, top + half], mark);
        for x in [0.0, 40.0, 80.0] {
            let mut spots = Vec::with_capacity(5);
            for y in [-14.0, -24.0, -34.0, -48.0, -62.0] {
                spots.push((x, y, Anchor::Middle));
            }
            if letter(board, &said, &NOTE, top, &spots) {
                break;
            }
        }
    }
    let wind = [("wind", moment.view.wind, &quantity::TRUE_WIND)];
    let wind = say(board, "plot.heeling", &wind);
    name(board, &pressed, &wind);
    let righting = say(board, "plot.rights", &[]);
    name(board, &rights, &righting);
    said
}

/// Axes with few ticks: the unit [N m], how many of it they are apart, its name.
fn frame(board: &mut Board, axes: &Axes, moments: (f64, f64), label: &str) {
    let (corner, right) = (axes.at(axes.x.0, 0.0), axes.at(axes.x.1, 0.0));
    hair(board, corner, right);
    board.take_line(corner, right, 1.0);
    upright(board, axes, false, moments, label);
    let tens = match axes.x.1 {
        most if most > FRAC_PI_2 => 30.0,
        most if most > 0.8 => 20.0,
        _ => 10.0,
    };
    let degrees = (1f64.to_radians(), tens);
    ticks(
        board,
        &|heel| axes.at(heel, 0.0),
        axes.x,
        degrees,
        "°",
        UNDER,
    );
}

/// The heeling moment up to a heel, as far as it lies under the top of the axes.
fn heeling(heels: &dyn Fn(f64) -> Point, top: f64, last: f64) -> Vec<Point> {
    let mut points = Vec::with_capacity(usize::from(PIECES) + 2);
    let mut before = None;
    for i in 0..=PIECES {
        let at = heels(last * f64::from(i) / f64::from(PIECES));
        if at.y >= top {
            if let (Some(before), true) = (before, points.is_empty()) {
                // It comes into the plot from above.
                points.push(at.lerp(before, (at.y - top) / (at.y - before.y)));
            }
            points.push(at);
        }
        before = Some(at);
    }
    points
}
