//! Floor 3: the lines. Every rope is a path of named points with its parts; its length, its movement
//! from reef to reef, what it carries and what a careful crew does with it follow.
//!
//! SI and radians; x aft from the forward end of the waterline, y to starboard, z up from the
//! waterline; sheeting positive with the boom to starboard. Ropes are thin, smooth and do not
//! stretch unless it is said, and have no weight.

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

pub mod account;
pub mod drill;
pub mod findings;
pub mod input;
mod loads;
pub mod net;
pub mod path;
pub mod ropes;
pub mod sheet;
pub mod space;
pub mod tackle;
mod usual;
mod work;

pub use account::{Account, Effort, Held, Length, LineAccount, Loads, Working};
pub use drill::{Does, DrillStep};
pub use findings::{ANGLES, Allowed, CLEAR, Finding, What};
pub use input::{
    Cleats, Deck, End, Fall, Fault, Halyard, Hauling, Hauls, Hold, Input, Knot, Lifts, Line, Lines,
    Obstacle, Parrels, Roof, Ropes, Rules, Sheet, Span, State, Tails, Weights, even,
};
pub use path::{Named, Path, Stop};
pub use ropes::{Rope, Row};
pub use sheet::{Hanging, Laid, Pull, Swept, SweptSheet};
pub use usual::{Choices, System, Use};
pub use work::account;

/// Standard gravity [m/s²], exact by definition.
pub const GRAVITY: f64 = 9.80665;

/// Share of the wind's force that is left on a sail that luffs (common practice).
pub const LUFFING: f64 = 0.2;

/// Factor on strength in an accidental gybe (common practice: it comes seldom, and all of it is counted).
pub const GYBE_FACTOR: f64 = 2.0;

/// Most blocks of one sheet that hang on spans, and most batten ends on one span.
pub const MOST_BLOCKS: usize = 8;
