//! Everything there is to know about the lines of a sail.

use crate::findings::Finding;
use crate::ropes::Row;
use crate::{Fault, Input, Line, Pull};
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
    /// Work of the crew at each panel, by the panels lowered before it: to take it in and to shake it out again [J].
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
    /// Rope that goes through the cleat from each state to the next, amidships [m]; eased positive. Of running lifts
    /// on either side; empty for what stands.
    pub movement: Vec<f64>,
    /// Rope to buy [m]: the longest over all states and angles, and tails. Lifts, both sides together.
    pub buy: f64,
    /// Greatest pull in the rope [N], by statics; of lifts with the dynamic factor, in the fall of those that run, in a leg of
    /// those that stand. The wind's part is that of the pressure for strength.
    pub load: f64,
    /// The pull by statics alone [N]; none where it is not known, and the load of a hauling line is what a hand gives.
    pub pull: Option<f64>,
    /// Greatest pull in an accidental gybe [N]: of sheets and spans, nought for others.
    pub gybe: f64,
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

impl LineAccount {
    /// How many times over the rope, weakened by its knots, bears the gybe. None where it does not come to it.
    pub fn gybe_left(&self, input: &Input) -> Option<f64> {
        let strength = self.rope?.strength * input.rules.knot.max(0.01);
        (self.gybe > 0.0).then(|| strength / self.gybe)
    }
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
    /// The pressure for strength over that of the hand: every pull of the wind's times this is what ropes are sized for.
    pub times: f64,
    /// Weight of the blocks that stand with it: the halyard's and those of the spans [N].
    pub blocks: f64,
    /// On the wind with the boom to starboard and to port, squared off either side.
    pub working: Vec<Working>,
    /// Pull of the halyard at the sling [N], the sheet's down pull on what stands within: the most over `working`.
    pub sling: f64,
    /// The same of it by the sheet alone [N].
    pub sheet_down: f64,
    /// Pull at the tail of the halyard that hoists what stands with its blocks, wet, against the friction of the parrels while
    /// the sail luffs [N].
    pub hoist: f64,
    /// Pull at the tail that just lets it down, without that friction [N].
    pub hold: f64,
    /// What swings the standing sail to hang under its sling [N m]: its weight times how far its centre lies abaft the
    /// sling.
    pub swing: f64,
    /// The hauling lines against that, by their numbers.
    pub hauling: Vec<Held>,
    /// Which of them keeps it from swinging with the least pull; none where none has a lever.
    pub keeps: Option<usize>,
    /// Greatest pull in a leg of the lifts, dynamic factor within, all of the bundle on one side [N].
    pub lift: f64,
    /// All legs of that side together: the pull in the fall of lifts that run [N].
    pub lift_fall: f64,
    /// Pull by hand at that fall, over its sheave at the mast, that raises boom and bundle, steadily and without the sheet [N].
    pub lift_hand: f64,
    /// The sheet's down pull on boom and bundle within it [N], all legs together.
    pub lift_down: f64,
    /// Friction of the parrels while the design wind presses, on the wind [N].
    pub friction: f64,
    /// The least pressure of `working` on the wind up to which the sail comes down of its own weight [Pa].
    pub falls_below: Option<f64>,
    /// Pull in the sheet at the end of an accidental gybe, with the rope that is chosen [N].
    pub gybe: Option<f64>,
    /// What all its parts together give the leech then [N].
    pub blow: Option<f64>,
}

/// A hauling line against the swing of the sail under its sling, alone.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Held {
    /// Rope it takes up as what stands turns about the sling, its foot forward [m/rad].
    pub lever: f64,
    /// Pull in it that keeps the sail there, by virtual work: swing / lever [N]. None where it has no lever.
    pub pull: Option<f64>,
    /// Pull at its tail that hauls against it [N]: sheaves and every turn round the mast take their share.
    pub haul: Option<f64>,
}

impl Held {
    /// The greater of its pulls, nought without [N].
    pub(crate) fn most(&self) -> f64 {
        self.pull.unwrap_or(0.0).max(self.haul.unwrap_or(0.0))
    }
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
    /// Pull, down pull and thrust on each batten end [N].
    pub pulls: Vec<Pull>,
    /// All of them together, down the mast, on what stands and on what lies [N].
    pub down: (f64, f64),
    /// The most along a batten, towards the luff [N].
    pub thrust: f64,
    /// Force between mast and sail [N]: wind and sheet square to the sail, and the sheet's pull along it.
    pub mast: f64,
    /// Pressure of wind up to which the sail comes down of its own weight at this angle [Pa]: what stands, dry, weighs as much as the
    /// parrels rub, their friction growing with the wind. None without weight or wind.
    pub falls_below: Option<f64>,
}

/// Crew's work between two states [J], rope times pull at the tail.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Effort {
    /// Taking in the reef: hauling lines. The sheet comes in slack; it counts nothing.
    pub reefing: f64,
    /// Shaking it out: halyard.
    pub shaking: f64,
}
