//! Everything there is to know about a design.

use geometry::mast::{Mast, Place};
use geometry::parrel::Parrel;
use geometry::rig::Standing;
use geometry::{Reefs, SailPlan};
use kurbo::Point;
use quantities::{Check, Problem};

/// What a design amounts to: SI, radians, ship axes where it says so.
#[derive(Clone, Debug, PartialEq)]
pub struct Account {
    /// One entry per mast of the design, in its order.
    pub masts: Vec<MastAccount>,
    /// All sails together.
    pub rig: RigAccount,
    /// Inputs that cannot be, worst first within each mast.
    pub problems: Vec<Problem>,
    /// Results held against their limits, passed ones included.
    pub checks: Vec<Check>,
}

/// One mast and its sail.
#[derive(Clone, Debug, PartialEq)]
pub struct MastAccount {
    /// Name typed in, or empty.
    pub name: String,
    /// The mast, every rule followed.
    pub mast: Mast,
    /// The sail plan; `None` when its inputs give none.
    pub plan: Option<SailPlan>,
    /// What the plan measures.
    pub figures: Option<Figures>,
    /// Reef states in the sail's own plane.
    pub reefs: Option<Reefs>,
    /// The same states in ship axes, with clearances; entry i belongs to `reefs.states[i]`.
    pub rows: Vec<StateRow>,
    /// One per spar, boom to yard.
    pub parrels: Vec<SparParrel>,
    /// Travel of the battens past the mast in use, in all [m].
    pub travel: f64,
    /// Sling point to masthead at full hoist [m].
    pub drift: f64,
    /// Boom squared off to port, then to starboard; empty without a plan.
    pub squared_off: Vec<SquaredOff>,
}

/// What a sail plan measures, in the sail's plane (u aft of the mast, v above the partners).
#[derive(Clone, Debug, PartialEq)]
pub struct Figures {
    /// Area [m²].
    pub area: f64,
    /// Centroid [m].
    pub centroid: Point,
    /// Length all round [m].
    pub perimeter: f64,
    /// Second moments about the centroid (∫u², ∫v², ∫uv) [m⁴].
    pub second_moments: (f64, f64, f64),
    /// (peak height above the lowest point of the boom)² / area.
    pub aspect: f64,
    /// Kink of the leech at battens 1..N-1, positive where it turns forward [rad].
    pub leech_kinks: Vec<f64>,
    /// Area of each panel, lowest first [m²].
    pub panel_areas: Vec<f64>,
    /// Straight luff, tack to throat [m].
    pub luff: f64,
    /// Leech, clew to peak, along its edges' chords [m].
    pub leech: f64,
    /// Highest point of the yard [m].
    pub peak: Point,
}

/// One reef state in ship axes, the sail sheeted along the centreline.
#[derive(Clone, Debug, PartialEq)]
pub struct StateRow {
    /// Panels lowered.
    pub lowered: usize,
    /// True once the boom hangs on its lifts.
    pub on_lifts: bool,
    /// Area standing [m²].
    pub area: f64,
    /// Share of the full area.
    pub share: f64,
    /// Centroid of what stands; `None` when nothing does.
    pub centre: Option<Place>,
    /// Place of the wind's force, at the chord share of each panel.
    pub pressure: Option<Place>,
    /// Centroid aft of the mast axis, square to it [m].
    pub aft_of_mast: Option<f64>,
    /// Centroid of this state aft of the centroid at full hoist [m].
    pub centre_shift: Option<f64>,
    /// Highest point of the yard above the waterline [m].
    pub yard_height: f64,
    /// Sling point above the waterline [m].
    pub sling_height: f64,
    /// Where each spar crosses the mast, boom first [m above partners]; `None` where it does not.
    pub on_mast: Vec<Option<f64>>,
    /// Share of the lowest standing spar ahead of the mast axis.
    pub chord_balance: Option<f64>,
    /// Share of the standing area ahead of the mast axis.
    pub area_balance: Option<f64>,
    /// Underside of the boom to top of the uppermost lying spar [m].
    pub bundle_height: f64,
    /// Middle of the lying spars.
    pub bundle: Place,
    /// Slide of each spar on the one below, aft positive, boom first [m].
    pub slides: Vec<f64>,
    /// Each spar aft past the mast from its place at full hoist, boom first [m].
    pub shifts: Vec<f64>,
    /// Boom aft of its place at full hoist [m].
    pub boom_shift: f64,
    /// Boom's underside above the coachroof [m]; `None` where the boom does not reach over it.
    pub over_coachroof: Option<f64>,
    /// Boom's underside above the cockpit seat [m].
    pub over_seat: Option<f64>,
    /// Boom's underside above the helmsman's eye, where it is lowest ahead of him [m].
    pub over_eye: Option<f64>,
    /// Sling point under the masthead, along the mast [m].
    pub under_masthead: f64,
    /// Peak above (+) or under (-) the masthead [m].
    pub peak_over_masthead: f64,
    /// Highest point of mast and sail above the waterline [m].
    pub air_draught: f64,
    /// Halyard off the mast axis, sling abaft positive [rad].
    pub halyard_angle: f64,
}

/// The rope that holds a spar to the mast.
#[derive(Clone, Debug, PartialEq)]
pub struct SparParrel {
    /// Number of the spar: boom 0, yard N.
    pub spar: usize,
    /// Height on the mast at full hoist [m above partners]; `None` where the spar misses the mast.
    pub height: Option<f64>,
    /// Mast diameter there [m].
    pub diameter: f64,
    /// Travel forward and aft of its place at full hoist that the rope allows [m].
    pub forward: f64,
    /// See `forward` [m].
    pub aft: f64,
    /// Length, span and stand-off. For the yard: the taut length at full hoist.
    pub parrel: Parrel,
}

/// The sail squared off on one side.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SquaredOff {
    /// Sheeting angle, boom to starboard positive [rad].
    pub sheeting: f64,
    /// Place of the wind's force at full sail.
    pub pressure: Place,
    /// After end of the boom.
    pub boom_end: Place,
    /// True when the sail lies abaft the mast and presses on it; false when it hangs on its
    /// parrels ahead of the mast.
    pub presses_on_mast: bool,
}

/// All sails of the boat together.
#[derive(Clone, Debug, PartialEq)]
pub struct RigAccount {
    /// Area of all sails at full hoist [m²].
    pub area: f64,
    /// Their common centre of effort.
    pub centre: Option<Standing>,
    /// The reef sequence, from all standing to all down.
    pub sequence: Vec<RigStep>,
    /// Highest point of the rig above the waterline [m].
    pub air_draught: f64,
}

/// One step of the reef sequence.
#[derive(Clone, Debug, PartialEq)]
pub struct RigStep {
    /// Panels lowered per mast.
    pub lowered: Vec<usize>,
    /// What stands; `None` when nothing does.
    pub standing: Option<Standing>,
    /// Share of the full area.
    pub share: f64,
    /// Centre of effort aft of its place at full sail [m].
    pub shift: Option<f64>,
}
