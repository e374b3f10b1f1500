//! The mast with every rule followed.

use geometry::SailPlan;
use geometry::hull::Hull;
use geometry::mast::Mast;

use crate::design::MastDesign;

/// Bury as a share of the LAP (common practice).
const BURY: f64 = 0.14;
/// LAP over diameter at the partners, to draw a mast by before its section is chosen (common
/// practice).
const SLENDERNESS: f64 = 40.0;
/// Top over partners diameter (common practice).
const TAPER: f64 = 0.5;
/// Cloth between mast and sail plane, added to the two half depths [m].
const CLOTH: f64 = 0.005;
/// Drift as a share of the LAP, and the least there must be [m] (common practice).
const DRIFT: (f64, f64) = (0.05, 0.25);

/// A mast and the halyard's room at its head.
#[derive(Clone, Copy, Debug)]
pub(crate) struct MastLengths {
    /// Every length typed or by its rule.
    pub(crate) mast: Mast,
    /// Sling point to masthead fitting [m]; negative when the sling point would stand above it.
    pub(crate) drift: f64,
    /// Drift wanted [m].
    pub(crate) drift_wanted: f64,
    /// Least LAP that gives the drift wanted [m].
    pub(crate) lap_needed: f64,
}

impl MastLengths {
    /// The LAP by rule carries the sling point, the drift and the clearance of the masthead
    /// fitting; the peak may stand above the masthead.
    pub(crate) fn new(hull: &Hull, design: &MastDesign, plan: Option<&SailPlan>) -> Self {
        let sail = &design.sail;
        // Without a plan: a sail of usual aspect on this chord, so that there is a mast to see.
        let sling = plan.map_or(sail.boom_height + 1.5 * sail.boom_length(), |plan| {
            plan.sling_point().y
        });
        let under_drift = sling + sail.masthead_clearance;
        let lap_needed = match sail.drift {
            Some(drift) => under_drift + drift,
            // drift = 5 % of (under_drift + drift), or the least.
            None => (under_drift / (1.0 - DRIFT.0)).max(under_drift + DRIFT.1),
        };
        // A mast of no length is none: half a metre stands in for it.
        let lap = design.lap.unwrap_or(lap_needed.max(0.5));
        let drift_wanted = sail.drift.unwrap_or((DRIFT.0 * lap).max(DRIFT.1));
        let diameter = design.diameter.unwrap_or(lap / SLENDERNESS);
        Self {
            mast: Mast {
                x: design.position,
                z: design
                    .partners
                    .unwrap_or_else(|| hull.deck_height(design.position)),
                rake: design.rake,
                bury: design.bury.unwrap_or(BURY * lap),
                lap,
                diameter,
                top_diameter: design.top_diameter.unwrap_or(TAPER * diameter),
                parallel: design.parallel,
                offset: sail
                    .offset
                    .unwrap_or(0.5 * diameter + 0.5 * sail.batten_depth + CLOTH),
                side: sail.side,
            },
            drift: lap - under_drift,
            drift_wanted,
            lap_needed,
        }
    }
}
