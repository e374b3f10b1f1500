//! Leads that work for any rig, so that a new design has its lines at once. All of it is common practice.

use crate::ropes::Rope;
use crate::space::Frame;
use crate::{
    Deck, End, Fall, Halyard, Hauling, Hauls, Hold, Input, Knot, Lifts, Lines, Parrels, Ropes,
    Rules, Sheet, Span, State, Tails, Weights,
};
use core::f64::consts::PI;
use geometry::mast::{Mast, Place};

impl Default for Rules {
    fn default() -> Self {
        Self {
            sheave_loss: 0.08,
            parrel_friction: 0.25,
            knot: 0.5,
            factors: [5.0, 6.0, 8.0],
            dynamic: 2.0,
            hand: 150.0,
            hand_rope: 0.010,
            block_to_block: 0.25,
            tip: 0.0,
            stretch: 0.04,
        }
    }
}

impl Default for Ropes {
    fn default() -> Self {
        Self {
            halyard: Rope::Braid,
            sheet: Rope::Braid,
            lifts: Rope::Polyester,
            parrels: Rope::Polyester,
        }
    }
}

impl Default for Tails {
    fn default() -> Self {
        Self {
            halyard: 2.5,
            sheet: 2.0,
            hauling: 2.0,
            fixed: 0.5,
        }
    }
}

impl Input {
    /// A rig with the usual lines: every line of [`Lines::usual`], every rule as it is mostly found.
    pub fn usual(
        mast: Mast,
        fitting: f64,
        sling: f64,
        states: Vec<State>,
        weights: Weights,
        deck: Deck,
    ) -> Self {
        let mut input = Self {
            mast,
            fitting,
            sling,
            squared: 85.0 * PI / 180.0,
            close: 15.0 * PI / 180.0,
            states,
            lines: Lines::default(),
            weights,
            deck,
            rules: Rules::default(),
            ropes: Ropes::default(),
            tails: Tails::default(),
        };
        input.lines = Lines::usual(&input);
        input
    }
}

/// Fall of a span's block abaft the middle of a pair of batten ends, and of a triple, as a share of the distance
/// from one end to the next.
const BEHIND: [f64; 2] = [0.6, 0.8];

impl Lines {
    /// A full set of lines for a rig; none for a rig without spars.
    ///
    /// The sheet gathers boom and battens in pairs from the top, the odd one with the lowest pair, its deck block on the
    /// centreline at the stern, or where the boom's end would be nearer than the least distance, further aft. One part
    /// up to 12 m² and two above. The halyard has 1, 3 or 4 parts (12, 25 m²). Lifts have three catch points.
    /// Parrels are short. Yard hauling parrel from abaft the sling round the mast to ahead of it; luff hauling parrel by
    /// the upper battens' luffs; tack line to the foot of the mast. All come aft to where the sheet is cleated.
    pub fn usual(input: &Input) -> Self {
        let Some(full) = input.states.first() else {
            return Self::default();
        };
        let (Some(boom), Some(yard)) = (full.spars.first(), full.spars.len().checked_sub(1)) else {
            return Self::default();
        };
        if yard == 0 {
            return Self::default();
        }
        let (deck, mast) = (&input.deck, &input.mast);
        let place = |x: f64, y: f64| Place {
            x,
            y,
            z: deck.height,
        };
        let frame = Frame::new(mast, 0.0);
        let clew = frame.sail(boom.leech());
        let cockpit = deck.ends.1 - 0.15 * (deck.ends.1 - deck.ends.0);
        let foot = |y: f64| Place {
            z: mast.z,
            ..place(mast.x + 0.15, y)
        };
        let cleat = |y: f64| place(cockpit, y);
        let parts = if full.area < 12.0 {
            1
        } else if full.area <= 25.0 {
            3
        } else {
            4
        };
        let sheet = Sheet {
            spans: spans(full, if full.area < 12.0 { 1 } else { 2 }),
            deck: vec![place(deck.ends.1.max(clew.x + 0.1), 0.0)],
            cleat: place(cockpit, 0.0),
        };
        let reach = mast.diameter_at(boom.height_on_mast().unwrap_or(0.0));
        let share = |spar: usize, past: f64| {
            let spar = &full.spars[spar];
            let along = spar.along.x.max(0.1);
            ((past - spar.luff.x) / along / spar.length.max(0.1))
                .max(0.0)
                .min(1.0)
        };
        let hold = |spar: usize, past: f64| Hold {
            spar,
            share: share(spar, past),
        };
        // Yard, and every second batten of the upper half, alternately abaft the mast and at the luff.
        let mut luff = vec![];
        let mut spar = yard - 1;
        while spar > yard / 3 && luff.len() < 4 {
            luff.push(if luff.len() % 2 == 0 {
                hold(spar, 2.0 * reach)
            } else {
                Hold { spar, share: 0.02 }
            });
            spar -= 1;
        }
        let mut hauling = vec![
            Hauling {
                hauls: Hauls::Yard,
                holds: vec![hold(yard, 2.0 * reach), hold(yard, -reach)],
                leads: vec![foot(-0.2), cleat(-0.2)],
            },
            Hauling {
                hauls: Hauls::Tack,
                holds: vec![Hold {
                    spar: 0,
                    share: 0.0,
                }],
                leads: vec![foot(0.1), cleat(0.1)],
            },
        ];
        if luff.len() > 1 {
            hauling.insert(
                1,
                Hauling {
                    hauls: Hauls::Luff,
                    holds: luff,
                    leads: vec![foot(-0.1), cleat(-0.1)],
                },
            );
        }
        Self {
            halyard: Some(Halyard {
                parts,
                lead: foot(0.2),
                cleat: cleat(0.2),
            }),
            sheets: vec![sheet],
            lifts: Some(Lifts {
                height: mast.lap,
                catches: vec![0.3, 0.6, 0.9],
                cleat: Some(foot(0.0)),
            }),
            parrels: Some(Parrels {
                ahead: 0.5 * reach + 0.04 * boom.length,
                abaft: 0.5 * reach + 0.04 * boom.length,
                travel: 0.08 * boom.length,
            }),
            hauling,
        }
    }
}

/// Boom and battens in pairs from the top, the odd one with the lowest pair.
fn spans(full: &State, parts: usize) -> Vec<Span> {
    let mut spans = Vec::new();
    // The yard is not sheeted.
    let mut left = full.spars.len() - 1;
    while left > 0 {
        let take = if left == 3 { 3 } else { left.min(2) };
        let ends: Vec<usize> = (left - take..left).rev().collect();
        let gap = ends
            .windows(2)
            .map(|pair| (full.spars[pair[0]].leech() - full.spars[pair[1]].leech()).hypot())
            .fold(0.0, f64::max);
        // Two legs over half the gap; in a triple two over a whole one, and twice straight back.
        let length = match take {
            1 => 0.5,
            2 => gap * 2.0 * BEHIND[0].hypot(0.5),
            _ => gap * 2.0 * (BEHIND[1].hypot(1.0) + BEHIND[1]),
        };
        spans.push(Span {
            ends: ends
                .iter()
                .enumerate()
                .map(|(i, spar)| End {
                    at: Knot::Spar(*spar),
                    turning: take == 3 && i == 1,
                })
                .collect(),
            length: length.max(0.05),
            falls: vec![Fall {
                to: Knot::Deck(0),
                parts,
            }],
        });
        left -= take;
    }
    spans
}
