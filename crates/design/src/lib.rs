//! Floor 4: the document, its one typed reading, and what follows from it.
//!
//! A document is a JSON [`Tree`]; [`Design`] is its typed reading in SI and radians;
//! [`account()`] works out everything that is to be known about it and is the only place that knows
//! the order of that work; [`pose()`] is one moment of it as the [`View`] asks. All pure: no clock,
//! no browser, no panic whatever the document holds.

#![cfg_attr(test, allow(clippy::unwrap_used))]

pub mod design;
pub mod account;
pub mod pose;
pub mod view;

pub use account::{
    Account, Figures, MastAccount, RigAccount, RigStep, SparParrel, SquaredOff, StateRow,
};
pub use design::{Boat, Cut, Design, Family, MastDesign, SailDesign};
pub use pose::{MastPose, Pose};
pub use view::{Shown, View};
