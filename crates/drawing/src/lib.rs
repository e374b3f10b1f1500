//! Floor 5: a design, its account and one moment of its life, drawn.
//!
//! [`sail_plan`] makes a [`Scene`]: paths and words with roles, in pixels, back to front. The
//! [`palette`] turns roles into ink, [`svg`] writes a scene as a file, and painters elsewhere play
//! it to a canvas. Nothing here computes a sail: it draws what the floors below found.

#![cfg_attr(test, allow(clippy::unwrap_used))]

pub mod palette;

pub mod lettering;

pub mod scene;

pub mod svg;

pub use palette::{Ink, Role, Scheme};
pub use scene::Scene;
