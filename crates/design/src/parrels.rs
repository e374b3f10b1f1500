//! The rope that holds each spar to the mast.

use geometry::Reefs;
use geometry::mast::Mast;
use geometry::parrel::{Parrel, batten_parrel, yard_parrel_length};
use quantities::listed::Listed as _;

use crate::account::SparParrel;

/// A parrel for every spar, boom to yard, from the heights at full hoist.
///
/// A batten's parrel is long enough for the wanted travel, half each way, and for every place the
/// reefs take the batten to. The yard's is the taut length round mast and yard at full hoist: it
/// is hauled, not left to travel.
pub(crate) fn parrels(mast: &Mast, reefs: &Reefs, travel: f64) -> Vec<SparParrel> {
    let Some(full) = reefs.states.first() else {
        return Vec::new();
    };
    let yard = full.spars.len().saturating_sub(1);
    full.spars
        .iter()
        .enumerate()
        .map(|(i, placed)| {
            let height = placed.spar.height_on_mast();
            let diameter = mast.diameter_at(height.unwrap_or(0.0));
            let off = (mast.offset - 0.5 * diameter).max(0.0);
            if i == yard {
                return yard_parrel(i, placed.spar.angle, height, diameter, off);
            }
            let (mut forward, mut aft) = (0.5 * travel, 0.5 * travel);
            for state in &reefs.states {
                if let Some(now) = state.spars.get(i) {
                    forward = forward.max(-now.shift);
                    aft = aft.max(now.shift);
                }
            }
            SparParrel {
                spar: i,
                height: height.filter(|_| placed.spar.crosses_mast()),
                diameter,
                forward,
                aft,
                parrel: batten_parrel(forward, aft, off, diameter),
            }
        })
        .listed()
}

/// The yard's ends of the parrel are fast where they clear the mast by its radius, seen along it.
fn yard_parrel(
    spar: usize,
    angle: f64,
    height: Option<f64>,
    diameter: f64,
    off: f64,
) -> SparParrel {
    // A yard near the mast's own direction would ask for ends without limit.
    let reach = diameter / angles::cos(angle).max(0.1);
    SparParrel {
        spar,
        height,
        diameter,
        forward: 0.0,
        aft: 0.0,
        parrel: Parrel {
            span: 2.0 * reach,
            length: yard_parrel_length(reach, reach, off, 0.5 * diameter, angle),
            stand_off: 0.0,
        },
    }
}
