//! Floor 3: the spars. What they are made of, what they weigh, and whether mast, yard, boom and battens
//! bear what the wind and the boat put on them.
//!
//! SI and radians. Along a spar x runs from its foot: the heel of a mast, the luff end of the others. Loads come
//! as plain data; nothing here knows where they come from.

// A panic ends the page's instance: no document may reach one. Tests may.
#![cfg_attr(
    not(test),
    deny(
        clippy::unwrap_used,
        clippy::expect_used,
        clippy::panic,
        clippy::unreachable,
        clippy::todo
    )
)]

pub mod beam;
pub mod blow;
pub mod cut;
pub mod finder;
pub mod mast;
pub mod materials;
pub mod raising;
pub mod sections;
pub mod spar;
mod stress;
pub mod weigh;

pub use mast::{MastAccount, MastInput, prove};
pub use materials::{Factors, Kind, Material, Ply, laminate};
pub use sections::{Fault, Piece, Pole, Section, Stave, Weight};
pub use spar::{SailAccount, SailInput, prove_sail};
pub use weigh::{Weights, weigh};

/// Standard gravity [m/s²], exact by definition.
pub const GRAVITY: f64 = 9.80665;

/// Density of air at sea level [kg/m³]: ISO 2533.
const AIR: f64 = 1.225;
