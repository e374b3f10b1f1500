//! Numbers of the panels.

use kurbo::{Point, Vec2};

use super::board::{Board, PanelState, Sail};
use super::sail::{cloth_role, placed, station};
use crate::lettering::CAP_HEIGHT;
use crate::palette::Role;
use crate::scene::{Anchor, Weight, Words};

/// Places to try, shares of the chord from the luff: abaft the centres, then further out.
const PLACES: [f64; 11] = [
    0.70, 0.76, 0.82, 0.64, 0.58, 0.88, 0.94, 0.52, 0.36, 0.30, 0.24,
];

pub(super) fn draw(board: &mut Board, sail: &Sail) {
    let size = (board.frame.width.min(board.frame.height) / 46.0)
        .max(12.0)
        .min(15.0);
    for number in 1..=sail.plan.n_panels() {
        if sail.panel_state(number) == PanelState::Lying {
            continue;
        }
        let Some(panel) = placed(sail, number) else {
            continue;
        };
        let tall = CAP_HEIGHT * size;
        let mut words = Words::new(
            number.to_string(),
            Role::Number,
            Point::ORIGIN,
            Anchor::Middle,
        );
        words.size = size;
        words.weight = Weight::Strong;
        words.halo = Some(cloth_role(number));
        // Well clear of its neighbours, else just clear of them.
        'places: for gap in [(8.0, 1.0), (1.0, 1.0)] {
            for share in PLACES {
                let (at, room) = station(sail, &panel, share);
                words.at = at + Vec2::new(0.0, 0.5 * tall);
                if room >= tall + 5.0 && board.letter(&words, gap) {
                    break 'places;
                }
            }
        }
    }
}
