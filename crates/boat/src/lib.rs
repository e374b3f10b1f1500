//! Floor 3: the boat. Stability from her form or from an inclining test at the dock, and what rights her.
//!
//! SI and radians; heights of weights from the waterline, heights within the canoe body from its
//! underside, each said where it is used.

#![cfg_attr(test, allow(clippy::unwrap_used))]

pub mod form;
pub mod inclining;
pub mod ratios;
pub mod righting;

pub use form::Form;
pub use inclining::{Inclining, Reading};
pub use righting::Righting;

/// Standard gravity [m/s²], exact by definition.
pub const GRAVITY: f64 = 9.80665;

/// Sea water [kg/m³], the usual figure of the textbooks (64 lb/ft³).
pub const SEA_WATER: f64 = 1025.0;
