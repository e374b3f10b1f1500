//! Parrel marks: open rings where spars cross the mast, with their heights.

use kurbo::{Point, Vec2};
use quantities::listed::Listed as _;
use quantities::quantity::PARREL_HEIGHT;

use super::board::{Board, EDGE, Label, Quad, Sail, crossing};
use super::sail::{cloth_role, weight};
use crate::lettering::{self, CAP_HEIGHT, LEAST_SIZE, TAIL_DEPTH};
use crate::palette::Role;
use crate::scene::{Anchor, Stroke, Weight, circle};

pub(super) fn draw_rings(board: &mut Board, sail: &Sail) {
    let radius = 0.9 * board.pens.yard;
    let stroke = Stroke::new(Role::Parrel, 1.4 * board.pens.edge);
    for spar in &sail.pose.spars {
        if let Some(at) = sail.on_mast(spar) {
            let ring = circle(at, radius);
            board.scene.figure(ring, Some(Role::Paper), Some(stroke));
            board.take_point(at, radius + 0.5);
        }
    }
}

/// One mark on the mast.
struct Mark {
    /// Boom 0 to yard.
    spar: usize,
    /// Its ring [px].
    at: Point,
    /// What is lettered there.
    label: Label,
    /// The spar lies in the bundle, or the boom under it.
    lying: bool,
}

/// Heights above the partners, only for the sail in hand: in a column ahead of the luff, each led
/// to its ring; where the column would lie on another sail or off the pane, along the spars.
pub(super) fn draw_heights(board: &mut Board, sails: &[Sail]) {
    let view = board.moment.view;
    let in_hand = sails.iter().find(|sail| sail.index == view.mast);
    let Some(sail) = in_hand.filter(|_| view.shown.parrels && !view.shown.curves) else {
        return;
    };
    let standing_along = crowded(board, sails, sail);
    let mut column = Vec::with_capacity(sail.pose.spars.len());
    for mark in marks(board, sail) {
        if !(standing_along && !mark.lying && along_spar(board, sail, &mark)) {
            column.push(mark);
        }
    }
    draw_column(board, sail, &column);
}

/// Marks in the pane that are to be lettered, lowest first.
fn marks(board: &Board, sail: &Sail) -> Vec<Mark> {
    // A dozen at most: put in their places, a sort costs the download more.
    let mut marks: Vec<Mark> = Vec::with_capacity(sail.pose.spars.len());
    let n_lying = sail.pose.spars.len() - sail.standing_spars();
    for (spar, placed) in sail.pose.spars.iter().enumerate() {
        let (Some(at), Some(height)) = (sail.on_mast(placed), placed.height_on_mast()) else {
            continue;
        };
        let frame = board.frame;
        if !(0.0..=frame.width).contains(&at.x) || !(0.0..=frame.height).contains(&at.y) {
            continue;
        }
        // On a small pane the lowest and the highest of a bundle tell enough.
        if !board.roomy && spar > 0 && spar + 1 < n_lying {
            continue;
        }
        let below = marks.iter().take_while(|mark| mark.at.y >= at.y).count();
        let label = Label::new(board, height, &PARREL_HEIGHT).of_spar(spar);
        let lying = spar < n_lying;
        let mark = Mark {
            spar,
            at,
            label,
            lying,
        };
        marks.insert(below, mark);
    }
    marks
}

/// Whether the column would lie on another sail or off the pane, were all sails hoisted: so that
/// no height changes its place while reefing.
pub(super) fn crowded(board: &Board, sails: &[Sail], sail: &Sail) -> bool {
    let (mut fore, mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY, f64::INFINITY);
    for spar in &sail.plan.spars {
        let luff = sail.ends(spar).0;
        (fore, low, high) = (fore.min(luff.x), low.max(luff.y), high.min(luff.y));
    }
    let left = fore - column_width(board, sail);
    let right = fore - ahead_of_luff(board.roomy);
    let p = Point::new;
    let room = [p(left, high), p(right, high), p(right, low), p(left, low)];
    left < EDGE || on_another(sails, sail, &room)
}

/// Whether a place lies on another sail, were all hoisted.
pub(super) fn on_another(sails: &[Sail], sail: &Sail, room: &Quad) -> bool {
    let on = |other: &Sail| {
        let mut panels = other.plan.spars.windows(2);
        panels.any(|pair| {
            let [(a, b), (d, c)] = [other.ends(&pair[0]), other.ends(&pair[1])];
            crossing(room, &[a, b, c, d])
        })
    };
    let mut others = sails.iter().filter(|other| other.index != sail.index);
    others.any(on)
}

/// Letters a height on its spar, abaft the mast or ahead of it; false where it finds no room.
fn along_spar(board: &mut Board, sail: &Sail, mark: &Mark) -> bool {
    let Some(spar) = sail.pose.spars.get(mark.spar) else {
        return false;
    };
    let (luff, leech) = sail.ends(spar);
    let length = luff.distance(leech);
    if length < 1.0 {
        return false;
    }
    let along = (leech - luff) / length;
    // Whichever way the sail is sheeted, words read from the left.
    let along = if along.x < 0.0 { -along } else { along };
    let up = Vec2::new(along.y, -along.x);
    let yard = sail.plan.n_panels();
    // Above it, but under the yard of a standing sail and under a boom with its bundle.
    let (under, ground) = match mark.spar {
        0 if mark.lying => (true, Role::Paper),
        spar if spar < yard => (false, cloth_role(spar + 1)),
        _ if mark.lying => (false, Role::Paper),
        _ => (true, cloth_role(yard)),
    };
    let half = 0.5 * weight(board, sail, mark.spar) + 1.2;
    let tall = (CAP_HEIGHT + TAIL_DEPTH) * LEAST_SIZE;
    let off = if under {
        -half - CAP_HEIGHT * LEAST_SIZE
    } else {
        half + TAIL_DEPTH * LEAST_SIZE
    };
    // Clear of mast and ring, over which the head of letters on a steep spar leans.
    let mast = 0.5 * sail.account.mast.diameter * board.frame.scale + 3.0;
    let leans = if under { 0.0 } else { (half + tall) * -along.y };
    let ring = 0.9 * board.pens.yard + 4.0;
    let start = |way: f64| ((mast + (way * leans).max(0.0)) / along.x.max(0.2)).max(ring);
    // On the cloth of the sail itself; off the sail, near the mast.
    let words = lettering::width(&mark.label.words, LEAST_SIZE, Weight::Regular);
    let (most_ahead, most_abaft) = if ground == Role::Paper {
        (40.0, 40.0)
    } else {
        let (a, b) = ((luff - mark.at).dot(along), (leech - mark.at).dot(along));
        (-a.min(b) - words, a.max(b) - words)
    };
    // Near the mast where that is free, abaft of it first.
    for (way, anchor, most, tries) in [
        (1.0, Anchor::Start, most_abaft, 16),
        (-1.0, Anchor::End, most_ahead, 3),
    ] {
        let mut aside = start(way);
        for _ in 0..tries {
            if aside > most {
                break;
            }
            let at = mark.at + along * (way * aside) + up * off;
            let mut words = mark.label.lettered(Role::Note, at, anchor);
            words.angle = along.atan2();
            words.halo = Some(ground);
            if board.letter(&words, (1.0, 0.0)) {
                return true;
            }
            aside += 7.0;
        }
    }
    false
}

/// Letters heights in a column ahead of the luff, each led to its ring.
fn draw_column(board: &mut Board, sail: &Sail, marks: &[Mark]) {
    let apart = LEAST_SIZE + 1.0;
    let column = column(sail, board.roomy);
    let lowest = board.deck_at(column) - apart;
    let leader = Stroke::new(Role::Dimension, board.pens.dimension);
    for (mark, y) in marks.iter().zip(spread(marks, apart, lowest)) {
        let low = y + 0.5 * CAP_HEIGHT * LEAST_SIZE;
        let mut words = mark
            .label
            .lettered(Role::Note, Point::new(column, low), Anchor::End);
        let length = words.length();
        // Further out where something stands in the way.
        let free = [0.0, 8.0, 16.0, 24.0].into_iter().any(|out| {
            words.at.x = column - out;
            let (start, end) = (
                Point::new(words.at.x - length, y),
                Point::new(words.at.x, y),
            );
            board.free(&words, (0.0, 0.0)) && !board.crosses_another_sail(sail.index, start, end)
        });
        if !free {
            let _ = along_spar(board, sail, mark) || at_edge(board, mark, leader);
            continue;
        }
        let start = Point::new(words.at.x + 3.0, y);
        // The outline of another rig breaks for it.
        words.halo = Some(Role::Paper);
        board.letter_here(words);
        let elbow = Point::new(column + 10.0, y);
        board.scene.line(start, elbow, leader);
        lead(board, elbow, mark, leader);
    }
}

/// Draws a leader to the edge of a ring.
fn lead(board: &mut Board, from: Point, mark: &Mark, leader: Stroke) {
    let way = mark.at - from;
    let radius = 0.9 * board.pens.yard;
    let to = mark.at - way * (radius / way.hypot().max(radius));
    board.scene.line(from, to, leader);
}

/// Letters a height at the fore edge of the pane, over its ring and led to it: over the throat of
/// the foremost yard there is room where none is ahead of the luff.
fn at_edge(board: &mut Board, mark: &Mark, leader: Stroke) -> bool {
    let mut words =
        mark.label
            .lettered(Role::Note, Point::new(EDGE + 1.0, mark.at.y), Anchor::Start);
    let end = words.at.x + words.length();
    let near = end > mark.at.x - 60.0;
    for _ in 0..5 {
        words.at.y -= 9.0;
        if near && board.letter(&words, (1.0, 1.0)) {
            let foot = Point::new(end.min(mark.at.x) - 4.0, words.at.y + 2.5);
            lead(board, foot, mark, leader);
            return true;
        }
    }
    false
}

/// Right edge of the column of notes [px]: clear of the luff of what is drawn.
fn column(sail: &Sail, roomy: bool) -> f64 {
    let fore = sail
        .pose
        .spars
        .iter()
        .map(|spar| (sail.plane * spar.luff).x)
        .fold(f64::INFINITY, f64::min);
    fore - ahead_of_luff(roomy)
}

/// How far ahead of the luff the column reaches [px]; the same in every state, so that nothing
/// moves while reefing.
pub(super) fn column_width(board: &Board, sail: &Sail) -> f64 {
    let widest = sail
        .account
        .parrels
        .iter()
        .filter_map(|parrel| parrel.height)
        .map(|height| {
            let label = board.moment.number(height, &PARREL_HEIGHT);
            lettering::width(&label, LEAST_SIZE, Weight::Regular)
        })
        .fold(0.0, f64::max);
    ahead_of_luff(board.roomy) + widest
}

fn ahead_of_luff(roomy: bool) -> f64 {
    if roomy { 16.0 } else { 12.0 }
}

/// Heights on the page for notes that want to stand at their marks' (lowest first), moved apart as
/// little as keeps them `apart`, and none below `lowest`.
fn spread(marks: &[Mark], apart: f64, lowest: f64) -> Vec<f64> {
    // Runs of notes that touch are centred on what they name; joining runs repeats at most once a note.
    let mut runs: Vec<(f64, usize)> = Vec::with_capacity(marks.len());
    for mark in marks {
        runs.push((mark.at.y.min(lowest), 1));
        while let [.., (below, n_below), (above, n_above)] = runs.as_slice() {
            let room = apart * 0.5 * (n_below + n_above) as f64;
            if below - above >= room {
                break;
            }
            let n = n_below + n_above;
            let centre = (below * *n_below as f64 + above * *n_above as f64) / n as f64;
            let highest_foot = lowest - 0.5 * apart * (n - 1) as f64;
            runs.truncate(runs.len() - 2);
            runs.push((centre.min(highest_foot), n));
        }
    }
    runs.iter()
        .flat_map(|(centre, n)| {
            let foot = centre + 0.5 * apart * (*n as f64 - 1.0);
            (0..*n).map(move |i| foot - apart * i as f64)
        })
        .listed()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::About;

    #[test]
    fn notes_stand_at_their_rings_and_move_apart_only_where_they_must() {
        let marks = [100.0, 97.0, 94.0, 40.0].map(|y| Mark {
            spar: 0,
            at: Point::new(0.0, y),
            label: Label {
                words: String::new(),
                about: About {
                    quantity: &PARREL_HEIGHT,
                    spar: None,
                },
            },
            lying: false,
        });
        assert_eq!(spread(&marks, 13.0, 500.0), vec![110.0, 97.0, 84.0, 40.0]);
        // Nor below the deck.
        assert_eq!(spread(&marks, 13.0, 105.0), vec![105.0, 92.0, 79.0, 40.0]);
    }
}
