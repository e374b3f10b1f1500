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
    /// Rope through the cleat [m], never negative; nought where it is only set up, freed or made fast, or eased till she luffs.
    pub amount: f64,
}

/// What is done with a line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub enum Does {
    /// Eased till the sail luffs.
    Luff,
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
    /// First of all every sheet is eased till the sail luffs: pressed on the mast it comes down badly, and nothing is hauled against the
    /// wind. Reefing: lifts set up; luff hauling and throat parrels, downhauls freed; halyard eased; sheet taken in; yard hauling
    /// parrel; throat and luff hauling parrels; downhauls. Shaking out: sheet, yard and luff hauling parrels, throat and downhauls free
    /// **before** hauling, or battens break; halyard; then yard, throat and luff hauling parrels and downhauls set; at full hoist the
    /// lifts are let go. The trade's order, common practice. Standing lines are not in hand. Amounts are lengths of the paths amidships from state to state,
    /// so at the tail, after all parts.
    pub fn drill(&self, input: &Input, from: usize, to: usize) -> Vec<DrillStep> {
        use Hauls::{Down, Luff, Restraint, Tack, Throat, Yard};
        let mut steps = Vec::new();
        if from == to || from.max(to) >= self.loads.len() {
            return steps;
        }
        let reefing = to > from;
        for known in &self.lines {
            if let Line::Sheet(_) = known.line {
                steps.push(DrillStep {
                    line: known.line,
                    does: Does::Luff,
                    amount: 0.0,
                });
            }
        }
        // Free, or in hand, all running lines of a kind. Eased positive.
        let mut all = |of: &dyn Fn(Line) -> bool, free: bool| {
            for known in self.lines.iter().filter(|l| l.tail.is_some() && of(l.line)) {
                let moved = known
                    .movement
                    .iter()
                    .skip(from.min(to))
                    .take(from.abs_diff(to));
                let moved: f64 = moved.sum();
                let eased = if reefing { moved } else { -moved };
                let (does, amount) = match known.line {
                    Line::Lifts if reefing => (Does::SetUp, (-eased).max(0.0)),
                    Line::Lifts => (Does::Ease, eased.max(0.0)),
                    Line::Hauling(_) if free => (Does::Free, eased.max(0.0)),
                    Line::Hauling(_) if eased >= 0.0 => (Does::MakeFast, 0.0),
                    _ if eased < 0.0 => (Does::Haul, -eased),
                    _ => (Does::Ease, eased),
                };
                steps.push(DrillStep {
                    line: known.line,
                    does,
                    amount,
                });
            }
        };
        let sheets = |line| matches!(line, Line::Sheet(_));
        let hauls = |wanted: Hauls| {
            move |line| match line {
                Line::Hauling(i) => input
                    .lines
                    .hauling
                    .get(i)
                    .is_some_and(|h| h.hauls == wanted),
                _ => false,
            }
        };
        if reefing {
            all(&|line| line == Line::Lifts, false);
        } else {
            all(&sheets, false);
            all(&hauls(Yard), true);
        }
        for freed in [Luff, Throat, Down, Tack, Restraint] {
            all(&hauls(freed), true);
        }
        all(&|line| line == Line::Halyard, false);
        if reefing {
            all(&sheets, false);
        }
        for set in [Yard, Throat, Luff, Down, Tack, Restraint] {
            all(&hauls(set), false);
        }
        if to == 0 {
            all(&|line| line == Line::Lifts, false);
        }
        steps
    }
}
