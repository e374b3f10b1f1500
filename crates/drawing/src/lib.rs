//! Floor 5: a design, its account and one moment of its life, drawn.
//!
//! [`sail_plan()`] makes a [`Scene`]: paths and words with roles, in pixels, back to front. The
//! [`palette`] turns roles into ink, [`svg`] writes a scene as a file, and painters elsewhere play
//! it to a canvas. [`handles()`] tell what a hand can take hold of, [`dragged`] what it then asks
//! for. Nothing here computes a sail: it draws what the floors below found.

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

pub mod moment;

pub mod fit;

pub mod sail_plan;

pub mod plots;

pub mod handles;

pub mod naming;

pub mod compare;

mod points;

pub mod ropes;

pub mod scene;

pub mod lettering;

pub mod palette;

pub mod svg;

pub mod pdf;

pub mod patterns;

pub mod sewing;

pub mod dossier;

pub use fit::Frame;
pub use handles::{Axis, Dragged, Handle, dragged, handles};
pub use moment::{Medium, Moment};
pub use palette::{Ink, Role, Scheme};
pub use plots::{Plot, plot};
pub use points::{asked, dragged_above, handles_above, tapped, tapped_above};
pub use sail_plan::sail_plan;
pub use scene::Scene;
