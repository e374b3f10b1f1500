//! Floor 3: the boat. Stability from her form, from an inclining test at the dock or from a table of
//! levers; her balance under the rig she has and the new one; the wind at which each reef goes in.
//!
//! SI and radians; x aft from the forward end of the waterline, y to starboard, z up from the
//! waterline. Heights within the canoe body are taken from its underside, said where it is so.

// A panic ends the page's instance: no document may reach one. Tests may.
#![cfg_attr(
    not(test),
    deny(
        clippy::unwrap_used,
        clippy::expect_used,
        clippy::panic,
        clippy::unreachable,
        clippy::todo,
        clippy::indexing_slicing
    )
)]

pub mod account;
pub mod bands;
pub mod form;
pub mod inclining;
pub mod input;
mod lateral;
pub mod ratios;
pub mod righting;
mod stability;
mod table;
mod work;

pub use account::{
    Account, Advice, Fault, Governs, Heel, Limit, Loading, Outline, Ratios, Resistance, RigNow,
    SailAccount, StepAccount, Swap,
};
pub use bands::Banded;
pub use form::{Hull, Metacentre};
pub use inclining::{Inclining, Reading};
pub use input::{
    Bands, Conditions, Crew, Fin, Input, Lateral, Method, Roll, Sail, Source, Step, Weight, Windage,
};
pub use righting::{Curve, Righting};
pub use wind::power;
pub use work::account;

/// Standard gravity [m/s²], exact by definition.
pub const GRAVITY: f64 = 9.80665;

/// Sea water [kg/m³], the usual figure of the textbooks (64 lb/ft³).
pub const SEA_WATER: f64 = 1025.0;

/// One degree [rad].
const DEGREE: f64 = core::f64::consts::PI / 180.0;

/// A number that is one.
fn finite(number: f64) -> Option<f64> {
    number.is_finite().then_some(number)
}
