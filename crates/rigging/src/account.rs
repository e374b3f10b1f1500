//! Everything there is to know about the lines of a sail.

use crate::findings::Finding;
use crate::ropes::Row;
use crate::{Fault, Line, Pull};
use geometry::mast::Place;

/// The account of the lines.
#[derive(Clone, Debug, Default, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Account {
    /// Sheeting angles that lengths and findings are worked out at [rad]: amidships, on the wind with the boom to
    /// starboard and to port, squared off either side.
    pub angles: [f64; 5],
    /// In the order of the cordage list.
    pub lines: Vec<LineAccount>,
    /// What is carried, state by state.
    pub loads: Vec<Loads>,
    /// Work of the crew from each state to the next, and back [J]; the last state has none.
    pub effort: Vec<Effort>,
    /// What fouls, chafes or does not reach, each with the state it happens at.
    pub findings: Vec<Finding>,
    /// What could not be used.
    pub faults: Vec<Fault>,
}

/// One line.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct LineAccount {
    /// Which.
    pub line: Line,
    /// Parts that bear: of a tackle, of a sheet all together, else one.
    pub parts: usize,
    /// State by state.
    pub lengths: Vec<Length>,
    /// Rope that goes through the cleat from each state to the next, amidships [m]; eased positive.
    pub movement: Vec<f64>,
    /// Rope to buy [m]: the longest over all states and angles, and tails. Lifts, both sides together.
    pub buy: f64,
    /// Greatest pull in the rope [N], by statics; of lifts with the dynamic factor.
    pub load: f64,
    /// Factor on strength that was taken.
    pub factor: f64,
    /// The thinnest rope that serves; none where the table ends before.
    pub rope: Option<Row>,
    /// Sheaves it runs over.
    pub sheaves: usize,
    /// Blocks those are in, deck leads included.
    pub blocks: usize,
    /// Fastenings, cleats included.
    pub fastenings: usize,
    /// Where its tail is in the cockpit; none for a standing line.
    pub tail: Option<Place>,
}

/// Length of a line at a state [m], tails left out.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Length {
    /// Sail amidships.
    pub now: f64,
    /// Least over the account's angles.
    pub least: f64,
    /// Most over the account's angles.
    pub most: f64,
}

/// What the lines carry at a state.
#[derive(Clone, Debug, Default, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Loads {
    /// Weight that stands, dry, hung from the halyard [N].
    pub standing: f64,
    /// Weight of the bundle with the boom, wet, hung from the lifts [N].
    pub lying: f64,
    /// The wind's force, square to the sail [N].
    pub wind: f64,
    /// On the wind with the boom to starboard and to port, squared off either side.
    pub working: Vec<Working>,
    /// Pull of the halyard at the sling [N], the sheet's down pull on what stands within: the most over `working`.
    pub sling: f64,
    /// The same of it by the sheet alone [N].
    pub sheet_down: f64,
    /// Pull at the tail of the halyard that hoists what stands, wet, the sail feathering [N].
    pub hoist: f64,
    /// Pull at the tail that just lets it down [N].
    pub hold: f64,
    /// Pull in the yard hauling parrel, and in all of the luff hauling parrel's turns, that keeps the standing sail
    /// from swinging to hang under its sling [N]: weight x (its centre abaft the sling) / height of the yard over the
    /// parrels, each turn of rope round the mast drawing twice.
    pub parrel: f64,
    /// Greatest pull in a leg of the lifts, dynamic factor within [N].
    pub lift: f64,
    /// The sheet's down pull on boom and bundle within it [N], all legs together.
    pub lift_down: f64,
    /// Friction of the parrels while the design wind presses, on the wind [N].
    pub friction: f64,
    /// Pressure of wind up to which the sail comes down of its own weight, on the wind [Pa]; none without weight or
    /// wind's centre.
    pub falls_below: Option<f64>,
    /// Pull in the sheet at the end of an accidental gybe [N].
    pub gybe: Option<f64>,
}

/// The sheets at work at one sheeting angle.
#[derive(Clone, Debug, Default, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Working {
    /// Boom to starboard positive [rad].
    pub sheeting: f64,
    /// Pull in the rope of every sheet that holds the sail in, by virtual work: wind's moment over Σ dL/d(angle) [N]. None
    /// where they have no lever, or nothing stands.
    pub tension: Option<f64>,
    /// Pull at its tail to haul [N], and to hold it.
    pub hand: f64,
    /// See `hand`.
    pub held: f64,
    /// Pull on each batten end [N].
    pub pulls: Vec<Pull>,
    /// All of them together, down the mast, on what stands and on what lies [N].
    pub down: (f64, f64),
    /// The most along a batten, towards the luff [N].
    pub thrust: f64,
    /// Force between mast and sail, square to the sail [N].
    pub mast: f64,
}

/// Crew's work between two states [J], rope times pull at the tail.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Effort {
    /// Taking in the reef: sheet and hauling parrels.
    pub reefing: f64,
    /// Shaking it out: halyard.
    pub shaking: f64,
}
