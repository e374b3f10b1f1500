//! The sail eased as far as it goes, on either side.

use geometry::Reefs;
use geometry::mast::{Mast, Side};
use quantities::listed::Listed as _;

use crate::account::SquaredOff;

/// Boom out to port, then to starboard, at full hoist.
pub(crate) fn squared_off(mast: &Mast, limit: f64, reefs: &Reefs) -> Vec<SquaredOff> {
    let Some(full) = reefs.states.first() else {
        return Vec::new();
    };
    let (Some(pressure), Some(boom)) = (full.pressure, full.spars.first()) else {
        return Vec::new();
    };
    [-limit, limit]
        .into_iter()
        .map(|sheeting| {
            let plane = mast.sheeted(sheeting);
            SquaredOff {
                sheeting,
                pressure: plane.place(pressure),
                boom_end: plane.place(boom.spar.leech()),
                // A sail to port of the mast comes abaft it as the boom goes out to starboard.
                presses_on_mast: (mast.side == Side::Port) == (sheeting > 0.0),
            }
        })
        .listed()
}
