//! What a sail plan measures.

use geometry::SailPlan;
use quantities::listed::Listed as _;

use crate::account::Figures;

/// Area, centroid, edges and kinks of a plan.
pub(crate) fn figures(plan: &SailPlan) -> Figures {
    let moments = plan.moments();
    let (luff, leech) = plan.spars.windows(2).fold((0.0, 0.0), |sum, pair| {
        (
            sum.0 + pair[0].luff.distance(pair[1].luff),
            sum.1 + pair[0].leech().distance(pair[1].leech()),
        )
    });
    let peak = plan.yard().map_or(kurbo::Point::ORIGIN, |yard| {
        let (throat, peak) = (yard.luff, yard.leech());
        if peak.y >= throat.y { peak } else { throat }
    });
    Figures {
        area: moments.area,
        centroid: moments.centroid().unwrap_or(kurbo::Point::ORIGIN),
        perimeter: plan.perimeter(),
        second_moments: moments.second_about_centroid().unwrap_or((0.0, 0.0, 0.0)),
        aspect: plan.aspect(),
        leech_kinks: plan.leech_kinks(),
        panel_areas: plan.panel_moments.iter().map(|m| m.area).listed(),
        luff,
        leech,
        peak,
    }
}
