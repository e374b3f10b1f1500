//! Floor 3: the cloth. From plan and construction to the shape of every panel, its patterns, how
//! they lie on the roll, and what to buy.
//!
//! SI and radians. A sail's own axes: `u` aft from the mast axis, square to it; `v` up the mast
//! axis from the partners; `w` square to the sail. Panel 1 lies between boom and batten 1. A share
//! of the chord runs from luff (0) to leech (1), a share of the width from the lower spar (0) to
//! the upper (1).

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

pub mod alike;
pub mod compare;
pub mod cutting;
mod develop;
pub mod findings;
pub mod input;
pub mod materials;
pub mod mean_line;
pub mod nest;
pub mod outline;
mod part;
pub mod patch;
pub mod pattern;
pub mod section;
pub mod shape;
pub mod space;
pub mod surface;
pub mod thickness;
pub mod weigh;
pub mod widths;

pub use compare::{Compared, Way};
pub use cutting::{Cutting, For};
pub use findings::{Finding, What};
pub use input::{
    Barrel, Bows, Cloth, Construction, Cut, Depths, Fault, Input, LEAST_WIDTH, Limits, Patches,
    Pockets, Sewing, Split, Warp, Wing,
};
pub use materials::{Bill, Stick};
pub use mean_line::MeanLine;
pub use nest::{Blank, Laid, Layout};
pub use part::{Of, Seam};
pub use patch::Patch;
pub use pattern::{Edge, Offset, Patterns, Piece, Role, Strain};
pub use section::{MastCut, Section, Touch};
pub use shape::PanelShape;
pub use space::At;
pub use surface::Surface;
pub use weigh::Weighed;
pub use widths::Lap;

/// Most layers of a corner patch.
pub const MOST_LAYERS: usize = 6;
