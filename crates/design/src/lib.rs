//! Floor 4: the document, its one typed reading, and what follows from it.
//!
//! A document is a JSON [`Tree`]; [`Design`] is its typed reading in SI and radians;
//! [`account()`] works out everything that is to be known about it and is the only place that knows
//! the order of that work; [`pose()`] is one moment of it as the [`View`] asks. All pure: no clock,
//! no browser, no panic whatever the document holds.

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

pub mod tree;

pub mod migrate;

pub mod design;

pub mod reading;

pub mod document;

mod differing;

pub mod edits;

pub mod demos;

#[cfg(feature = "schema")]
pub mod schema;

pub mod account;
mod afloat;

mod faults;

mod figures;

mod lines;
mod made;
mod mast_lengths;

mod state_rows;

mod parrels;

mod proofs;
mod sewn;
pub mod spar_shop;
mod squared_off;

mod rig;

mod neighbours;

pub mod checks;

pub mod in_use;
mod json;
pub mod link;

#[cfg(feature = "serde")]
mod printed;

pub mod view;

pub mod pose;

pub use account::{
    Account, Figures, LinesAccount, MastAccount, RigAccount, RigStep, SparParrel, SquaredOff,
    StateRow, account, account_in_hand, spars_at,
};
pub use demos::{Demo, blank, demos};
pub use design::{
    Boat, Cut, Design, Family, HAULING, Leaves, Lesson, LessonStep, MastDesign, SailDesign,
    WindDesign,
};
pub use differing::differing;
pub use document::Document;
pub use in_use::in_use;
pub use lines::{Strength, comes_down};
pub use made::usual_material;
pub use pose::{MastPose, Pose, pose};
pub use proofs::SparsAccount;
pub use reading::Reading;
#[cfg(feature = "schema")]
pub use schema::schema;
pub use sewn::{ClothAccount, ways};
pub use tree::{Edit, Step, Tree};
pub use view::{Shown, View};
