//! What the account of a boat is made from: plain data.

use crate::{Hull, Reading};
use kurbo::Point;
use wind::{Course, Gradient};

/// Everything the account needs. A part that is missing leaves the others standing.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Input {
    /// The hull in numbers.
    pub hull: Hull,
    /// What her stability is taken from.
    pub source: Source,
    /// The inclining test; asked for [`Source::Test`].
    pub readings: Vec<Reading>,
    /// The GZ table (heel [rad], GZ [m]) at the sailing displacement, heels from 0 rising; asked for
    /// [`Source::Table`]. A table that starts above 0 is begun at (0, 0).
    pub table: Vec<(f64, f64)>,
    /// How she rolls.
    pub roll: Roll,
    /// Displacement [kg] light, sailing, laden. Form, test and table hold for sailing.
    pub loads: [Option<f64>; 3],
    /// Height above the waterline of what makes the difference between the loadings [m].
    pub stores_height: f64,
    /// The loading she sails in: 0 light, 1 sailing, 2 laden. Wind and reefs go by it.
    pub loading: usize,
    /// Crew to weather.
    pub crew: Crew,
    /// Weights of the old rig that come off.
    pub off: Vec<Weight>,
    /// Weights of the new rig that go on.
    pub on: Vec<Weight>,
    /// 95 % half widths of what is estimated.
    pub bands: Bands,
    /// Greatest righting moment over m g GM sin 30°, where no table tells (1.4; 1.0 to 1.8).
    pub greatest_factor: f64,
    /// Where the hull resists leeway.
    pub lateral: Lateral,
    /// Outlines of the sails she carries now, (x, z) in ship axes [m].
    pub sails_now: Vec<Vec<Point>>,
    /// How she sails.
    pub conditions: Conditions,
    /// The reef sequence, all standing first.
    pub steps: Vec<Step>,
}

/// What stability is taken from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub enum Source {
    /// Estimated from the form of the canoe body.
    Form,
    /// The inclining test at the dock: m g GM itself.
    Test,
    /// A table of righting levers.
    Table,
}

/// The dock test by rolling.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Roll {
    /// Period timed [s], over and back.
    pub period: Option<f64>,
    /// Radius of gyration [m], about 0.40 of the beam (common practice).
    pub gyration: f64,
}

/// Crew sitting to weather.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Crew {
    /// How many.
    pub to_weather: f64,
    /// Mass of each [kg].
    pub mass: f64,
    /// How far from the centreline [m].
    pub arm: f64,
}

/// A weight and its place in ship axes.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Weight {
    /// Mass [kg].
    pub mass: f64,
    /// Aft of the forward end of the waterline [m].
    pub x: f64,
    /// Above the waterline [m].
    pub z: f64,
}

/// 95 % half widths as shares of the value.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Bands {
    /// Of the displacement (0.10); all three loadings are off together.
    pub displacement: f64,
    /// Of GM estimated from form (0.25).
    pub height: f64,
}

/// Where the hull resists leeway: the centre of lateral resistance, one way or the other.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Lateral {
    /// The way chosen; the two have bands of their own and are never mixed.
    pub method: Method,
    /// Profile under water with keel and rudder (x, z), closed by itself [m]; what lies above the
    /// waterline is left out.
    pub profile: Vec<Point>,
    /// Fin keel in profile.
    pub fin: Option<Fin>,
}

/// How the centre of lateral resistance is found.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub enum Method {
    /// Centroid of the traced profile.
    Profile,
    /// Extended keel: a quarter of the chord at 45 % of the draught, the fin's edges carried on to the
    /// waterline; fin keels only (textbooks, from memory).
    Keel,
}

/// A fin keel: root at the underside of the canoe body, tip at the draught; x in ship axes [m].
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Fin {
    /// Leading and trailing edge at the root.
    pub root: (f64, f64),
    /// Leading and trailing edge at the tip.
    pub tip: (f64, f64),
}

/// How she sails, for wind and heel.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Conditions {
    /// Boat speed and true wind angle on the wind; running she has the same speed.
    pub course: Course,
    /// How the wind grows with height; its reference is the height of forecasts.
    pub gradient: Gradient,
    /// Heel that calls for a reef [rad].
    pub comfort: f64,
    /// n of the heeling moment's cosⁿ φ (1.3).
    pub exponent: f64,
    /// Force coefficient running, on the hoisted area (1.2).
    pub running_force: f64,
}

/// One step of the reef sequence.
#[derive(Clone, Debug, Default, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Step {
    /// What is hoisted, a sail a mast; one wholly lowered has no area.
    pub sails: Vec<Sail>,
    /// What the wind finds besides: mast, bundle, hull.
    pub windage: Vec<Windage>,
}

/// A sail as it stands at one step.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Sail {
    /// Hoisted area [m²].
    pub area: f64,
    /// CE aft of the forward end of the waterline [m].
    pub x: f64,
    /// CE above the waterline [m].
    pub z: f64,
    /// Side force coefficient for heel (1.0 flat, 1.23 cambered).
    pub force: f64,
    /// Weight of the sail in the combined CE, 1 for all alike.
    pub efficiency: f64,
    /// Centre of pressure of attached flow aft of the mast axis [m].
    pub pressure_aft: f64,
    /// Chord that goes with it [m].
    pub chord: f64,
    /// CE squared off, to starboard of the centreline [m].
    pub squared: f64,
}

/// A side area in the wind besides the sails.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Windage {
    /// Drag coefficient on the side area.
    pub force: f64,
    /// Side area [m²].
    pub area: f64,
    /// Its centroid above the waterline [m].
    pub z: f64,
}
