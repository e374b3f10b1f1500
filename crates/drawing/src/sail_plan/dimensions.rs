//! Dimensions of the sail in hand.

use core::f64::consts::{FRAC_PI_2, PI};

use geometry::Panel;
use kurbo::{BezPath, Point, Vec2};
use quantities::quantity;

use super::board::{Board, Label, PanelState, Sail};
use super::parrels;
use super::sail::{cloth_role, placed, station};
use crate::lettering::CAP_HEIGHT;
use crate::palette::Role;
use crate::scene::{About, Anchor, Stroke, Words, arc};

/// Length and half width of an arrowhead [px].
const HEAD: (f64, f64) = (7.0, 1.9);
/// How far a dimension line stands off what it measures [px], near and far.
const NEAR: f64 = 11.0;
const FAR: f64 = 18.0;

/// The mast's height: its long extension lines come before what can be lettered elsewhere.
pub(super) fn draw_mast_height(board: &mut Board, sails: &[Sail]) {
    if let Some(sail) = in_hand(board, sails) {
        mast_height(board, sails, sail);
    }
}

/// All other dimensions.
pub(super) fn draw(board: &mut Board, sails: &[Sail]) {
    let Some(sail) = in_hand(board, sails) else {
        return;
    };
    chord(board, sail);
    // The lowest parrel height says the same as the boom's.
    if !board.moment.view.shown.parrels {
        boom_height(board, sail);
    }
    if sail.fully_hoisted() {
        luff(board, sails, sail);
        if board.roomy {
            yard_angle(board, sail);
        }
    }
    if board.roomy {
        panel_width(board, sail);
    }
}

/// The sail that is dimensioned, if any is.
fn in_hand<'s, 'a>(board: &Board, sails: &'s [Sail<'a>]) -> Option<&'s Sail<'a>> {
    let view = board.moment.view;
    let shown = view.shown.dimensions && !view.shown.curves;
    sails.iter().find(|sail| shown && sail.index == view.mast)
}

/// Under the boom, square off it; nearer where a coachroof leaves little room.
fn chord(board: &mut Board, sail: &Sail) {
    let Some(boom) = sail.pose.spars.first() else {
        return;
    };
    let (luff, leech) = sail.ends(boom);
    let down = -square(leech - luff, Vec2::new(0.0, -1.0));
    let label = Label::new(board, boom.length, &quantity::CHORD);
    for off in [FAR, 14.0, NEAR] {
        let (from, to) = (luff + down * off, leech + down * off);
        if board.above_deck(from, to) && line(board, sail, (luff, leech), down * off, &label) {
            return;
        }
    }
    on_cloth(board, sail, boom.length, &label);
}

/// The chord along the lowest standing panel, where there is no room under the boom; only where
/// that batten is as long as the boom.
fn on_cloth(board: &mut Board, sail: &Sail, chord: f64, label: &Label) {
    let Some((panel_number, panel)) = lowest_panel(sail) else {
        return;
    };
    if (panel.lower.length - chord).abs() > 1e-6 * chord {
        return;
    }
    let (luff, leech) = sail.ends(&panel.lower);
    let (_, room) = station(sail, &panel, 0.5);
    let up = square(leech - luff, Vec2::new(0.0, -1.0));
    let off = up * (0.3 * room).max(8.0);
    if room > 20.0
        && let Some(mut words) = number(board, luff + off, leech + off, up, label)
    {
        words.halo = Some(cloth_role(panel_number));
        draw_line(board, (luff, leech), off, words);
    }
}

fn lowest_panel(sail: &Sail) -> Option<(usize, Panel)> {
    let number = (1..=sail.plan.n_panels())
        .find(|number| sail.panel_state(*number) == PanelState::Standing)?;
    Some((number, placed(sail, number)?))
}

/// Ahead of the parrel heights.
fn luff(board: &mut Board, sails: &[Sail], sail: &Sail) {
    let (Some(boom), Some(yard)) = (sail.pose.spars.first(), sail.pose.spars.last()) else {
        return;
    };
    let (tack, throat) = (sail.plane * boom.luff, sail.plane * yard.luff);
    let off = beyond_heights(board, sails, sail);
    let length = boom.luff.distance(yard.luff);
    let label = Label::new(board, length, &quantity::LUFF_LENGTH);
    let forward = square(throat - tack, Vec2::new(-1.0, 0.0));
    line(board, sail, (tack, throat), forward * off, &label);
}

/// Abaft the leech of the lowest standing panel.
fn panel_width(board: &mut Board, sail: &Sail) {
    let Some((_, panel)) = lowest_panel(sail) else {
        return;
    };
    let [_, low, high, _] = panel.corners();
    let length = low.distance(high);
    let label = Label::new(board, length, &quantity::LEECH_WIDTH);
    let (low, high) = (sail.plane * low, sail.plane * high);
    let aft = square(high - low, Vec2::new(1.0, 0.0));
    line(board, sail, (low, high), aft * FAR, &label);
}

/// From the partners to where the boom crosses the mast.
fn boom_height(board: &mut Board, sail: &Sail) {
    let boom = sail.pose.spars.first();
    let Some(height) = boom.and_then(|boom| boom.height_on_mast()) else {
        return;
    };
    let low = sail.mast * Point::ORIGIN;
    let high = sail.mast * Point::new(0.0, height);
    let label = Label::new(board, height, &quantity::BOOM_AT_MAST);
    let forward = square(high - low, Vec2::new(-1.0, 0.0));
    line(board, sail, (low, high), forward * FAR, &label);
}

/// From the partners to the masthead: ahead of the sail, or abaft it where another sail stands
/// ahead.
fn mast_height(board: &mut Board, sails: &[Sail], sail: &Sail) {
    let lap = sail.account.mast.lap;
    let low = sail.mast * Point::ORIGIN;
    let high = sail.mast * Point::new(0.0, lap);
    // From the plan, not from where the spars are now: it must not move while reefing.
    let spars = &sail.plan.spars;
    let fore = spars.iter().map(|spar| sail.ends(spar).0.x);
    let fore = fore.fold(low.x.min(high.x), f64::min);
    let aft = spars.iter().map(|spar| sail.ends(spar).1.x);
    let aft = aft.fold(low.x.max(high.x), f64::max);
    let ahead = low.x.max(high.x) - fore + beyond_heights(board, sails, sail) + 1.4 * FAR;
    let abaft = aft - low.x.min(high.x) + 3.0 * FAR;
    let label = Label::new(board, lap, &quantity::LAP);
    for off in [Vec2::new(-ahead, 0.0), Vec2::new(abaft, 0.0)] {
        if line(board, sail, (low, high), off, &label) {
            board.take_line(high, high + off, 0.5);
            break;
        }
    }
}

/// How far ahead of the luff there is room beside the parrel heights [px].
fn beyond_heights(board: &Board, sails: &[Sail], sail: &Sail) -> f64 {
    if board.moment.view.shown.parrels && !parrels::crowded(board, sails, sail) {
        parrels::column_width(board, sail) + 14.0
    } else {
        FAR
    }
}

/// At the throat, above the horizontal.
fn yard_angle(board: &mut Board, sail: &Sail) {
    let Some(yard) = sail.pose.spars.last() else {
        return;
    };
    let (throat, peak) = sail.ends(yard);
    let along = peak - throat;
    let angle = (-along.y).atan2(along.x);
    if along.hypot() < 60.0 || !(0.12..=1.7).contains(&angle) {
        return;
    }
    let degrees = yard.angle.to_degrees();
    let whole = (degrees - degrees.round()).abs() < 0.05;
    let mut label = board.moment.view.units.fixed(degrees, u8::from(!whole));
    label.push('°');
    let nearest = (0.34 * along.hypot()).max(24.0).min(58.0);
    let mut words = Words::new(label, Role::Dimension, throat, Anchor::Start);
    words.about = Some(About {
        quantity: &quantity::YARD_ANGLE,
        spar: None,
    });
    for radius in [nearest, nearest + 14.0, nearest + 28.0] {
        let level = throat + Vec2::new(radius + 6.0, 0.0);
        if !board.clear_of_words(throat, level) {
            continue;
        }
        for share in [0.5, 0.35, 0.65, 0.2, 0.8] {
            let direction = geometry::unit(-angle * share);
            words.at = throat + direction * (radius + 5.0);
            words.at.y += 0.5 * CAP_HEIGHT * words.size;
            if board.letter(&words, (2.0, 1.0)) {
                let pen = Stroke::new(Role::Dimension, board.pens.dimension);
                board.scene.line(throat, level, pen);
                let arc = arc(throat, radius, 0.0, -angle);
                board.scene.stroke(arc, pen);
                return;
            }
        }
    }
}

/// A dimension from one point to another, its line set off by `off` [px]; its number stands in the
/// line or, where that is too short, beside it. False where there is no room for line and number.
fn line(
    board: &mut Board,
    sail: &Sail,
    (from, to): (Point, Point),
    off: Vec2,
    label: &Label,
) -> bool {
    let (start, end) = (from + off, to + off);
    if !(start.distance(end) > 8.0 && off.hypot() > 1.0)
        || board.crosses_another_sail(sail.index, start, end)
        || !board.clear_of_words(start, end)
    {
        return false;
    }
    let Some(words) = number(board, start, end, off / off.hypot(), label) else {
        return false;
    };
    draw_line(board, (from, to), off, words);
    true
}

fn draw_line(board: &mut Board, (from, to): (Point, Point), off: Vec2, words: Words) {
    let (start, end) = (from + off, to + off);
    let length = start.distance(end);
    let (along, out) = ((end - start) / length, off / off.hypot());
    let pen = Stroke::new(Role::Dimension, board.pens.dimension).square();
    for (point, foot) in [(from, start), (to, end)] {
        let (near, far) = (point + out * 3.0, foot + out * 3.0);
        board.line_round_words(near, far, pen);
    }
    // Too short for two arrowheads: they point inward from outside.
    let tight = length < 2.0 * HEAD.0 + 4.0;
    let inward = if tight { -along } else { along };
    let over = if tight { along * 10.0 } else { Vec2::ZERO };
    if words.halo.is_some() {
        // The line is broken for its number: a halo alone would leave it showing over the point.
        let middle = (words.at - start).dot(along);
        let half = 0.5 * words.length() + 3.0;
        board
            .scene
            .line(start, start + along * (middle - half), pen);
        board.scene.line(start + along * (middle + half), end, pen);
    } else {
        board.scene.line(start - over, end + over, pen);
    }
    arrow(board, start, inward);
    arrow(board, end, -inward);
    board.take_line(start, end, 1.0);
    board.letter_here(words);
}

/// The number of a dimension line in a free place.
fn number(board: &Board, start: Point, end: Point, out: Vec2, label: &Label) -> Option<Words> {
    let (length, along) = (start.distance(end), (end - start).normalize());
    let mut words = label.lettered(Role::Dimension, start, Anchor::Middle);
    let half_height = 0.5 * CAP_HEIGHT * words.size;
    let needed = 0.5 * words.length() + HEAD.0 + 3.0;
    if 2.0 * needed > length {
        words.anchor = if out.x < 0.0 {
            Anchor::End
        } else {
            Anchor::Start
        };
        words.at = start.midpoint(end) + out * 4.0 + Vec2::new(0.0, half_height);
        return board.free(&words, (0.0, 0.0)).then_some(words);
    }
    words.angle = readable(along);
    words.halo = Some(Role::Paper);
    let (sin, cos) = angles::sin_cos(words.angle);
    let lift = Vec2::new(sin, -cos) * half_height;
    // Anywhere along the line will do, the middle first.
    [0.5, 0.38, 0.62, 0.27, 0.73, 0.18, 0.82]
        .into_iter()
        .map(|share| length * share)
        .filter(|at| *at >= needed && length - *at >= needed)
        .map(|at| Words {
            at: start + along * at - lift,
            ..words.clone()
        })
        .find(|words| board.free(words, (1.0, 0.0)))
}

/// An arrowhead with its tip at a point, lying along `inward`.
fn arrow(board: &mut Board, tip: Point, inward: Vec2) {
    let side = Vec2::new(-inward.y, inward.x) * HEAD.1;
    let foot = tip + inward * HEAD.0;
    let mut path = BezPath::new();
    path.move_to(tip);
    path.line_to(foot + side);
    path.line_to(foot - side);
    path.close_path();
    board.scene.fill(path, Role::Dimension);
}

/// Turn at which words along a line read from below or from the right [rad]; a line that leans a
/// little either way of upright reads from the right as well.
fn readable(along: Vec2) -> f64 {
    let lean = 0.2;
    let angle = along.y.atan2(along.x);
    if angle >= FRAC_PI_2 - lean {
        angle - PI
    } else if angle < -FRAC_PI_2 - lean {
        angle + PI
    } else {
        angle
    }
}

/// Unit vector square to a line, on the side of `towards`.
fn square(along: Vec2, towards: Vec2) -> Vec2 {
    let side = Vec2::new(-along.y, along.x) / along.hypot().max(1e-9);
    if side.dot(towards) < 0.0 { -side } else { side }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_along_a_line_are_never_upside_down() {
        for degrees in (-180..=180).step_by(5) {
            let angle = readable(geometry::unit(f64::from(degrees).to_radians()));
            assert!((-102.0..=79.0).contains(&angle.to_degrees()), "{degrees}");
        }
        // Upright lines read from the right, whichever way they were drawn.
        for way in [1.0, -1.0] {
            assert!((readable(Vec2::new(0.0, way)) + FRAC_PI_2).abs() < 1e-9);
        }
    }

    #[test]
    fn square_stands_on_the_side_asked_for() {
        let down = -square(Vec2::new(5.0, -1.0), Vec2::new(0.0, -1.0));
        assert!(down.y > 0.0 && (down.hypot() - 1.0).abs() < 1e-12);
        assert!(down.dot(Vec2::new(5.0, -1.0)).abs() < 1e-12);
    }
}
