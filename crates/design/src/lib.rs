//! Floor 4: the document, its one typed reading, and what follows from it.
//!
//! A document is a JSON [`Tree`]; [`Design`] is its typed reading in SI and radians;
//! [`account()`] works out everything that is to be known about it and is the only place that knows
//! the order of that work; [`pose()`] is one moment of it as the [`View`] asks. All pure: no clock,
//! no browser, no panic whatever the document holds.

#![cfg_attr(test, allow(clippy::unwrap_used))]

pub mod tree;
pub mod migrate;
pub mod design;
pub mod reading;
pub mod document;
pub mod account;
pub mod pose;
pub mod view;

pub use account::{
    Account, Figures, MastAccount, RigAccount, RigStep, SparParrel, SquaredOff, StateRow,
};
pub use tree::{Edit, Step, Tree};
pub use design::{Boat, Cut, Design, Family, MastDesign, SailDesign};
pub use document::Document;
pub use pose::{MastPose, Pose};
pub use reading::Reading;
pub use view::{Shown, View};
