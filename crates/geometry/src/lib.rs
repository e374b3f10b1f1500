//! Floor 1: the sail plan and its reefs. No force lives here, no document, no browser.
//!
//! Axes of a sail: `u` aft from the mast axis, square to it; `v` up the mast axis from the
//! partners. Ship axes: `x` aft from the forward end of the waterline, `y` to starboard, `z` up
//! from the waterline. Metres and radians throughout; a spar's angle is its aft end up.
//!
//! Spars are counted from the boom (0) to the yard (N); panel `i` of 1..=N hangs between spars
//! `i - 1` and `i`. A reef state is named by the number of panels lowered.

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

pub mod hull;
pub mod mast;
pub mod measured;
pub mod moments;
mod order;
pub mod panel;
pub mod parrel;
pub mod plan;
pub mod reef;
pub mod rig;
pub mod slide;
pub mod spar;
pub mod target_area;

pub use moments::Moments;
pub use panel::Panel;
pub use plan::{Fault, PlanRule, SailPlan, Shape};
pub use reef::{ReefInput, ReefState, Reefs};
pub use spar::{Spar, unit};

/// Most panels a sail may have; the reef problem and every list are sized by it.
pub const MOST_PANELS: usize = 12;
