//! Everything there is to know about a boat and her reefs.

use crate::{Banded, Curve, Inclining};

/// The account of a boat: stability, balance, wind.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Account {
    /// Light, sailing, laden, with the new rig on; none where displacement or source fail.
    pub loadings: [Option<Loading>; 3],
    /// The righting moments of the loading she sails in.
    pub curve: Option<Curve>,
    /// What the readings of the inclining test say, whatever the source.
    pub test: Option<Inclining>,
    /// GM as the timed roll period has it [m]; a rough witness.
    pub rolled: Option<f64>,
    /// The change of rig, where weights come off or go on.
    pub swap: Option<Swap>,
    /// Centre of lateral resistance by the way chosen.
    pub resistance: Option<Resistance>,
    /// Level below which the wind's moment is taken [m above the waterline, so negative]: that of the
    /// centre of lateral resistance, else half the draught.
    pub pivot: f64,
    /// The rig she has now; none without an outline that encloses something.
    pub rig_now: Option<RigNow>,
    /// The reef sequence.
    pub steps: Vec<StepAccount>,
    /// Area, displacement and length against each other.
    pub ratios: Ratios,
    /// What could not be used, each once.
    pub faults: Vec<Fault>,
    /// As put in: the methods on wind and heel go by them.
    pub(crate) conditions: crate::Conditions,
}

/// Stability in one loading. Bands are 95 %; heights are above the underside of the canoe body.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Loading {
    /// Displacement [kg]; unknown where a test alone tells.
    pub displacement: Option<f64>,
    /// Draught of the canoe body [m].
    pub draught: f64,
    /// m g GM [N m].
    pub stiffness: Banded,
    /// GM [m].
    pub height: Option<Banded>,
    /// KB [m], by Morrish.
    pub buoyancy: Option<f64>,
    /// BM [m], from the waterplane.
    pub radius: Option<f64>,
    /// KG [m]: KB + BM - GM.
    pub gravity: Option<f64>,
    /// Righting moment [N m] at 1, 10, 20, 30°, crew to weather included; none past the limit.
    pub moments: [Option<f64>; 4],
    /// Greatest righting moment [N m], crew to weather included.
    pub greatest: Banded,
    /// Whether the greatest is the rule's estimate and not a table's.
    pub estimated: bool,
    /// Heel up to which the curve holds [rad].
    pub limit: f64,
    /// Angle of vanishing stability, crew left out [rad]; where a table reaches it.
    pub vanishing: Option<f64>,
    /// Angle of loll [rad], nought for a boat that stands.
    pub loll: f64,
    /// Roll period to be expected [s]: 2π k / √(g GM).
    pub period: Option<f64>,
}

/// Old rig off, new rig on, in the loading she sails in. After it: that loading of the account.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Swap {
    /// With the old rig; none as in [`Account::loadings`].
    pub before: Option<Loading>,
    /// Change of mass [kg].
    pub mass: f64,
    /// How much deeper she floats [m].
    pub sinkage: f64,
    /// Draught aft less draught forward, the change of it over the waterline's length [m]; by the stern
    /// positive.
    pub trim: f64,
}

/// Centre of lateral resistance, ship axes [m].
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Resistance {
    /// Aft of the forward end of the waterline.
    pub x: f64,
    /// Above the waterline, so negative.
    pub z: f64,
    /// Area of the traced profile [m²]; none by the extended keel.
    pub area: Option<f64>,
}

/// Area and centre of an outline or of several, ship axes.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Outline {
    /// Area [m²].
    pub area: f64,
    /// Centroid aft of the forward end of the waterline [m].
    pub x: f64,
    /// Centroid above the waterline [m].
    pub z: f64,
}

/// The rig she has now.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct RigNow {
    /// All outlines that enclose something, by area.
    pub together: Outline,
    /// Lead of it as a share of LWL.
    pub lead: Option<f64>,
}

/// One step of the reef sequence.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct StepAccount {
    /// Hoisted area [m²].
    pub area: f64,
    /// Combined CE, by area times efficiency; none with nothing hoisted.
    pub centre: Option<Outline>,
    /// Combined CE ahead of the CLR as a share of LWL.
    pub lead: Option<f64>,
    /// Combined CE ahead of where it is with all standing, as a share of LWL.
    pub shift: Option<f64>,
    /// Sail by sail.
    pub sails: Vec<SailAccount>,
    /// Lateral offset of the combined CE squared off, to starboard [m]: the arm that yaws her.
    pub yaw_arm: Option<f64>,
    /// Heeling moment upright for each pascal of the wind at the CE [m³]: Σ C A (z - pivot).
    pub moment: f64,
    /// Side force for each pascal [m²]: Σ C A.
    pub force: f64,
    /// Height at which the wind is felt [m]: of the CE by force, of the windage with nothing hoisted.
    pub height: f64,
    /// On the wind.
    pub on: Option<Limit>,
    /// Running: the wind that presses on the hoisted area as hard as the limit on the wind does from the
    /// side, running force x q x A = q_on Σ C A (derived: no heel warns there, but mast and gear feel no
    /// more than they do on the wind).
    pub off: Option<Limit>,
    /// The least wind at which she is knocked down; where the curve tells.
    pub knocked_down: Option<Limit>,
}

/// One sail at one step.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct SailAccount {
    /// Its CE alone ahead of the CLR as a share of LWL.
    pub lead: Option<f64>,
    /// Centre of pressure aft of the mast axis as a share of the chord: the margin against overbalance.
    pub margin: Option<f64>,
}

/// A wind that is not to be passed.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Limit {
    /// Apparent at the CE [m/s].
    pub apparent: f64,
    /// True at the gradient's height [m/s] with its 95 % band; nought where she makes more wind herself.
    pub forecast: Banded,
    /// Beaufort number of the true wind.
    pub beaufort: u8,
    /// What governs.
    pub governs: Governs,
}

/// What sets a limit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub enum Governs {
    /// The comfort heel.
    Heel,
    /// The curve of righting moments ends before the comfort heel.
    Curve,
    /// She loses her balance before the comfort heel, or at all.
    KnockedDown,
    /// The side force the rig has at its limit on the wind.
    Force,
}

/// Heel in a wind.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub enum Heel {
    /// She balances there [rad]; the most of the band is infinite where she may find no balance.
    At(Banded),
    /// Somewhere past the end of the curve [rad].
    Past(f64),
    /// There is no balance.
    KnockedDown,
}

/// What to carry in a wind.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Advice {
    /// The first step whose limit is not passed; none when even the last one is.
    pub step: Option<usize>,
    /// What forbids the step before it; none with all standing.
    pub governs: Option<Governs>,
}

/// Area, displacement and length against each other.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Ratios {
    /// A / V^(2/3), sailing, with the new rig.
    pub area_displacement: Option<f64>,
    /// Long tons over (0.01 LWL in feet)³, sailing, with the new rig.
    pub displacement_length: Option<f64>,
    /// Sail area over wetted surface.
    pub area_wetted: Option<f64>,
    /// Block coefficient of the canoe body, V / (L B d).
    pub block: Option<f64>,
}

/// An input that cannot be used.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub enum Fault {
    /// Length, beam, canoe draught or water is nought, negative or no number.
    Hull,
    /// No displacement, and the source asks for it.
    Displacement,
    /// GM is below nought: she lolls.
    Lolls,
    /// No readings, or none that differ.
    NoReadings,
    /// The readings heel her against the weight.
    ReadingsAgainst,
    /// The readings lie on no line; this one lies furthest off.
    ReadingOff(usize),
    /// Readings to one side only: a list is not told from stiffness.
    OneSided,
    /// Fewer than three readings: no scatter can be told.
    FewReadings,
    /// No GZ table, or one of a single row.
    NoTable,
    /// Heels of the table do not rise from 0 to at most 180°, or a value is no number.
    Table,
    /// No underwater profile traced, or one without area.
    NoProfile,
    /// The traced profile crosses itself.
    ProfileCrosses,
    /// No fin, or one without chord.
    NoFin,
    /// An outline of the rig she has crosses itself; which.
    SailCrosses(usize),
    /// An outline of the rig she has encloses nothing; which.
    SailEmpty(usize),
    /// Something of a sail, a windage, a weight or a condition is no number, or beyond all measure: neither
    /// stability nor steps are worked out.
    Number,
}
