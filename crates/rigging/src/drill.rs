//! The drill: from any state to any other, step by step, in the order a careful crew takes.

use crate::account::Account;
use crate::{Hauls, Input, Line};

/// A step of the drill.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct DrillStep {
    /// The line in hand.
    pub line: Line,
    /// What is done with it.
    pub does: Does,
    /// Rope through the cleat [m], never negative; nought where it is only set up, freed or made fast.
    pub amount: f64,
}

/// What is done with a line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub enum Does {
    /// Set up taut.
    SetUp,
    /// Cast off, free to run.
    Free,
    /// Eased by the amount.
    Ease,
    /// Hauled in by the amount.
    Haul,
    /// Made fast as it is.
    MakeFast,
}

impl Account {
    /// From one state to another (numbers of the account's states). Empty where there is nothing to do or no such state.
    ///
    /// Reefing: lifts set up; luff hauling and throat parrels, downhauls freed; halyard eased; sheet taken in; yard hauling
    /// parrel; throat and luff hauling parrels; downhauls. Shaking out: sheet, yard and luff hauling parrels, throat and downhauls free
    /// **before** hauling, or battens break; halyard; then yard, throat and luff hauling parrels and downhauls set. The trade's order, common
    /// practice. Amounts are lengths of the paths amidships from state to state, so at the tail, after all parts.
    pub fn drill(&self, input: &Input, from: usize, to: usize) -> Vec<DrillStep> {
        let mut steps = Vec::new();
        if from == to || from.max(to) >= self.loads.len() {
            return steps;
        }
        let reefing = to > from;
        let eased = |line: Line| {
            let known = self.lines.iter().find(|l| l.line == line)?;
            Some(known.lengths.get(to)?.now - known.lengths.get(from)?.now)
        };
        let hauling = |steps: &mut Vec<DrillStep>, hauls: Hauls, free: bool| {
            for (i, known) in input.lines.hauling.iter().enumerate() {
                let line = Line::Hauling(i);
                // A standing one is not in hand.
                if known.hauls != hauls || known.leads.is_empty() {
                    continue;
                }
                let Some(amount) = eased(line) else { continue };
                let (does, amount) = if free {
                    (Does::Free, amount.max(0.0))
                } else if amount < 0.0 {
                    (Does::Haul, -amount)
                } else {
                    (Does::MakeFast, 0.0)
                };
                steps.push(DrillStep { line, does, amount });
            }
        };
        let sheets = |steps: &mut Vec<DrillStep>| {
            for i in 0..input.lines.sheets.len() {
                if let Some(amount) = eased(Line::Sheet(i)) {
                    steps.push(DrillStep {
                        line: Line::Sheet(i),
                        does: if amount < 0.0 { Does::Haul } else { Does::Ease },
                        amount: amount.abs(),
                    });
                }
            }
        };
        let lifts = input.lines.lifts.is_some();
        if reefing && lifts {
            steps.push(DrillStep {
                line: Line::Lifts,
                does: Does::SetUp,
                amount: 0.0,
            });
        }
        if !reefing {
            sheets(&mut steps);
            hauling(&mut steps, Hauls::Yard, true);
        }
        for hauls in [Hauls::Luff, Hauls::Throat, Hauls::Down, Hauls::Tack] {
            hauling(&mut steps, hauls, true);
        }
        if let Some(amount) = eased(Line::Halyard) {
            steps.push(DrillStep {
                line: Line::Halyard,
                does: if amount < 0.0 { Does::Haul } else { Does::Ease },
                amount: amount.abs(),
            });
        }
        if reefing {
            sheets(&mut steps);
        }
        for hauls in [
            Hauls::Yard,
            Hauls::Throat,
            Hauls::Luff,
            Hauls::Down,
            Hauls::Tack,
        ] {
            hauling(&mut steps, hauls, false);
        }
        steps
    }
}
