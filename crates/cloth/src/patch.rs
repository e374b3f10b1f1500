//! Reinforcement of the corners of each panel.

use kurbo::{Point, Vec2};

use crate::{Input, MOST_LAYERS};

/// Patches of one corner of a panel.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Patch {
    /// Panel, 1 = lowest.
    pub panel: usize,
    /// Corner: lower luff, lower leech, upper leech, upper luff.
    pub corner: usize,
    /// Size of the largest layer along either edge [m].
    pub size: f64,
    /// Layers; each next one is smaller by an equal step.
    pub layers: usize,
    /// Pull on this corner [N].
    pub pull: f64,
    /// Outline of the largest layer, the corner at the origin, its lower edge along x; no allowances.
    pub outline: Vec<Point>,
}

/// Rays of a patch between its two edges.
const RAYS: usize = 4;

/// Adds the four corners of a panel. Size: a share of the panel's shortest edge. Layers: all of them at the corners of the sail, one less at the
/// leech end of a batten, two less at its luff end; more where pull / (strength of a layer x size) asks for them. A batten's pull is shared by
/// the panels above and below. Common practice.
pub(crate) fn of_panel(input: &Input, panel: usize, patches: &mut Vec<Patch>) {
    let Some(drawn) = input.panel(panel) else {
        return;
    };
    let rule = &input.sewing.patches;
    let corners = drawn.corners();
    let mut shortest = f64::INFINITY;
    for i in 0..4 {
        shortest = shortest.min(corners[i].distance(corners[(i + 1) % 4]));
    }
    let size = rule.share * shortest;
    if size < 0.005 {
        return;
    }
    for corner in 0..4 {
        let leech = corner == 1 || corner == 2;
        let spar = if corner < 2 { panel - 1 } else { panel };
        let end = spar == 0 || spar == input.panels();
        let less = match (end, leech) {
            (true, _) => 0,
            (false, true) => 1,
            (false, false) => 2,
        };
        let whole = rule
            .pull
            .get(spar)
            .map_or(0.0, |p| p[usize::from(leech)])
            .abs();
        let pull = if end { whole } else { 0.5 * whole };
        let asked = (pull / (rule.strength * size)).ceil().min(99.0) as usize;
        let layers = rule
            .layers
            .saturating_sub(less)
            .max(1)
            .max(asked)
            .min(MOST_LAYERS);
        let from = corners[(corner + 1) % 4] - corners[corner];
        let to = corners[(corner + 3) % 4] - corners[corner];
        let angle = from.cross(to).atan2(from.dot(to));
        let mut outline = vec![Point::ORIGIN];
        for ray in 0..=RAYS {
            let turn = angle * ray as f64 / RAYS as f64;
            outline.push((Vec2::from_angle(turn) * size).to_point());
        }
        patches.push(Patch {
            panel,
            corner,
            size,
            layers,
            pull,
            outline,
        });
    }
}
