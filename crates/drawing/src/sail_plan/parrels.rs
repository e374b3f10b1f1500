//! Parrel marks: open rings where spars cross the mast, with their heights.

use kurbo::{Circle, Point, Shape as _, Vec2};
use quantities::quantity::PARREL_HEIGHT;

use super::board::{Board, Sail};
use crate::lettering::{self, CAP_HEIGHT, LEAST_SIZE};
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

/// Heights above the partners in a column ahead of the luff, each led to its ring; only for the
/// sail in hand.
pub(super) fn draw_heights(board: &mut Board, sail: &Sail) {
    let view = board.moment.view;
    if !view.shown.parrels || sail.index != view.mast {
        return;
    }
    // Lowest first. A dozen at most: put in their places, a sort costs the download more.
    let mut rings: Vec<(Point, f64)> = Vec::new();
    for spar in &sail.pose.spars {
        let (Some(at), Some(height)) = (sail.on_mast(spar), spar.height_on_mast()) else {
            continue;
        };
        let below = rings.iter().take_while(|ring| ring.0.y >= at.y).count();
        rings.insert(below, (at, height));
    }
    if !board.roomy {
        // Of a bundle its lowest and its highest tell enough.
        let lying = sail.pose.spars.len() - sail.standing_spars();
        if lying > 2 && lying <= rings.len() {
            rings.drain(1..lying - 1);
        }
    }
    if rings.is_empty() {
        return;
    }
    let size = LEAST_SIZE;
    let apart = size + 1.0;
    let column = column(sail, board.roomy);
    let lowest = board.deck_at(column) - apart;
    let radius = 0.9 * board.pens.yard;
    let leader = Stroke::new(Role::Dimension, board.pens.dimension);
    for ((ring, height), y) in rings.iter().zip(spread(&rings, apart, lowest)) {
        let label = board.moment.number(*height, &PARREL_HEIGHT);
        // Further out where something stands in the way.
        let places = [0.0, 8.0, 16.0, 24.0].map(|out| {
            let at = Point::new(column - out, y + 0.5 * CAP_HEIGHT * size);
            Words::new(label.clone(), Role::Note, at, Anchor::End)
        });
        let free = places
            .into_iter()
            .find(|words| board.free(words, (0.0, 0.0)));
        let Some(words) = free else {
            // Another sail is in the way: beside the ring then, where the spar leaves room.
            let aside = radius + 4.0;
            let sides = [(aside, Anchor::Start), (-aside, Anchor::End)];
            let places = sides.into_iter().flat_map(|(aside, anchor)| {
                let label = label.clone();
                [9.0, -9.0].map(move |down| {
                    let by = Vec2::new(aside, down + 0.5 * CAP_HEIGHT * size);
                    Words::new(label.clone(), Role::Note, *ring + by, anchor)
                })
            });
            board.letter(places, (0.0, 0.0));
            continue;
        };
        let start = Point::new(words.at.x + 3.0, y);
        board.letter_here(words);
        let elbow = Point::new(column + 10.0, y);
        board.scene.line(start, elbow, leader);
        let way = *ring - elbow;
        let to = *ring - way * (radius / way.hypot().max(radius));
        board.scene.line(elbow, to, leader);
    }
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

/// Room the column takes ahead of the luff [px]; the same in every state, so that nothing moves
/// while reefing.
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

/// Heights on the page for notes that want to stand at the rings' (lowest first), moved apart as
/// little as keeps them `apart`, and none below `lowest`.
fn spread(rings: &[(Point, f64)], apart: f64, lowest: f64) -> Vec<f64> {
    // Runs of notes that touch are centred on what they name; joining runs repeats at most once a note.
    let mut runs: Vec<(f64, usize)> = Vec::with_capacity(rings.len());
    for (ring, _) in rings {
        runs.push((ring.y.min(lowest), 1));
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
        let rings: Vec<(Point, f64)> = [100.0, 97.0, 94.0, 40.0]
            .iter()
            .map(|y| (Point::new(0.0, *y), 0.0))
            .collect();
        assert_eq!(spread(&rings, 13.0, 500.0), vec![110.0, 97.0, 84.0, 40.0]);
        // Nor below the deck.
        assert_eq!(spread(&rings, 13.0, 105.0), vec![105.0, 92.0, 79.0, 40.0]);
    }
}
