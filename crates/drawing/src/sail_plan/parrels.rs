//! Parrel marks: open rings where spars cross the mast, with their heights.

use kurbo::{Circle, Point, Rect, Shape as _, Vec2};
use quantities::quantity::PARREL_HEIGHT;

use super::board::{Board, EDGE, Sail, crossing};
use super::sail::{cloth_role, weight};
use crate::lettering::{self, CAP_HEIGHT, LEAST_SIZE, TAIL_DEPTH};
use crate::palette::Role;
use crate::scene::{Anchor, Stroke, Weight, Words};

pub(super) fn draw_rings(board: &mut Board, sail: &Sail) {
    let radius = 0.9 * board.pens.yard;
    let stroke = Stroke::new(Role::Parrel, 1.4 * board.pens.edge);
    for spar in &sail.pose.spars {
        if let Some(at) = sail.on_mast(spar) {
            let ring = Circle::new(at, radius).to_path(0.1);
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
    label: String,
    /// The spar lies in the bundle, or the boom under it.
    lying: bool,
}

/// Heights above the partners, only for the sail in hand: in a column ahead of the luff, each led
/// to its ring; where the column would lie on another sail or off the pane, along the spars.
pub(super) fn draw_heights(board: &mut Board, sails: &[Sail]) {
    let view = board.moment.view;
    let in_hand = sails.iter().find(|sail| sail.index == view.mast);
    let Some(sail) = in_hand.filter(|_| view.shown.parrels) else {
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

/// Marks to be lettered, lowest first.
fn marks(board: &Board, sail: &Sail) -> Vec<Mark> {
    // A dozen at most: put in their places, a sort costs the download more.
    let mut marks: Vec<Mark> = Vec::with_capacity(sail.pose.spars.len());
    let n_lying = sail.pose.spars.len() - sail.standing_spars();
    for (spar, placed) in sail.pose.spars.iter().enumerate() {
        let (Some(at), Some(height)) = (sail.on_mast(placed), placed.height_on_mast()) else {
            continue;
        };
        // On a small pane the lowest and the highest of a bundle tell enough.
        if !board.roomy && spar > 0 && spar + 1 < n_lying {
            continue;
        }
        let below = marks.iter().take_while(|mark| mark.at.y >= at.y).count();
        let label = board.moment.number(height, &PARREL_HEIGHT);
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
    let luffs = sail.plan.spars.iter().map(|spar| sail.ends(spar).0);
    let Some(luff) = luffs
        .map(|p| Rect::from_points(p, p))
        .reduce(|a, b| a.union(b))
    else {
        return false;
    };
    let (left, right) = (
        luff.x0 - column_width(board, sail),
        luff.x0 - ahead_of_luff(board.roomy),
    );
    let room = [
        Point::new(left, luff.y0),
        Point::new(right, luff.y0),
        Point::new(right, luff.y1),
        Point::new(left, luff.y1),
    ];
    let others = sails.iter().filter(|other| other.index != sail.index);
    left < EDGE
        || others.into_iter().any(|other| {
            other.plan.spars.windows(2).any(|pair| {
                let [(a, b), (d, c)] = [other.ends(&pair[0]), other.ends(&pair[1])];
                crossing(&room, &[a, b, c, d])
            })
        })
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
    let words = lettering::width(&mark.label, LEAST_SIZE, Weight::Regular);
    let (most_ahead, most_abaft) = if ground == Role::Paper {
        (40.0, 40.0)
    } else {
        let [a, b] = [luff, leech].map(|end| (end - mark.at).dot(along));
        (-a.min(b) - words, a.max(b) - words)
    };
    // Near the mast where that is free, abaft of it first.
    let abaft = (0..16).map(|step| start(1.0) + 7.0 * f64::from(step));
    let ahead = (0..3).map(|step| start(-1.0) + 7.0 * f64::from(step));
    let abaft = abaft.take_while(|aside| *aside < most_abaft);
    let ahead = ahead.take_while(|aside| *aside < most_ahead);
    let places = abaft.map(|aside| (aside, Anchor::Start));
    let places = places.chain(ahead.map(|aside| (-aside, Anchor::End)));
    let places = places.map(|(aside, anchor)| Words {
        angle: along.atan2(),
        halo: Some(ground),
        ..Words::new(
            mark.label.clone(),
            Role::Note,
            mark.at + along * aside + up * off,
            anchor,
        )
    });
    board.letter(places, (1.0, 0.0))
}

/// Letters heights in a column ahead of the luff, each led to its ring.
fn draw_column(board: &mut Board, sail: &Sail, marks: &[Mark]) {
    let size = LEAST_SIZE;
    let apart = size + 1.0;
    let column = column(sail, board.roomy);
    let lowest = board.deck_at(column) - apart;
    let radius = 0.9 * board.pens.yard;
    let leader = Stroke::new(Role::Dimension, board.pens.dimension);
    for (mark, y) in marks.iter().zip(spread(marks, apart, lowest)) {
        // Further out where something stands in the way.
        let places = [0.0, 8.0, 16.0, 24.0].map(|out| {
            let at = Point::new(column - out, y + 0.5 * CAP_HEIGHT * size);
            Words::new(mark.label.clone(), Role::Note, at, Anchor::End)
        });
        let free = places.into_iter().find(|words| {
            let end = Point::new(words.at.x, y);
            let start = Point::new(words.bounds().x0, y);
            board.free(words, (0.0, 0.0)) && !board.crosses_another_sail(sail.index, start, end)
        });
        let Some(words) = free else {
            let _ = along_spar(board, sail, mark) || at_edge(board, mark, leader);
            continue;
        };
        let start = Point::new(words.at.x + 3.0, y);
        board.letter_here(words);
        let elbow = Point::new(column + 10.0, y);
        board.scene.line(start, elbow, leader);
        let way = mark.at - elbow;
        let to = mark.at - way * (radius / way.hypot().max(radius));
        board.scene.line(elbow, to, leader);
    }
}

/// Letters a height at the fore edge of the pane, over its ring and led to it: over the throat of
/// the foremost yard there is room where none is ahead of the luff.
fn at_edge(board: &mut Board, mark: &Mark, leader: Stroke) -> bool {
    let places = [10.0, 18.0, 26.0, 34.0, 42.0].map(|over| {
        let at = Point::new(EDGE + 1.0, mark.at.y - over);
        Words::new(mark.label.clone(), Role::Note, at, Anchor::Start)
    });
    let Some(words) = places.into_iter().find(|words| {
        let near = words.bounds().x1 > mark.at.x - 60.0;
        near && board.free(words, (1.0, 1.0))
    }) else {
        return false;
    };
    let foot = Point::new(words.bounds().x1.min(mark.at.x) - 4.0, words.at.y + 2.5);
    let way = mark.at - foot;
    let to = mark.at - way * (0.9 * board.pens.yard / way.hypot().max(1.0));
    board.letter_here(words);
    board.scene.line(foot, to, leader);
    true
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
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn notes_stand_at_their_rings_and_move_apart_only_where_they_must() {
        let marks = [100.0, 97.0, 94.0, 40.0].map(|y| Mark {
            spar: 0,
            at: Point::new(0.0, y),
            label: String::new(),
            lying: false,
        });
        assert_eq!(spread(&marks, 13.0, 500.0), vec![110.0, 97.0, 84.0, 40.0]);
        // Nor below the deck.
        assert_eq!(spread(&marks, 13.0, 105.0), vec![105.0, 92.0, 79.0, 40.0]);
    }
}
