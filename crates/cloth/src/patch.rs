//! Reinforcement of the corners of each panel.

use geometry::unit;
use kurbo::Point;

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

/// A corner of a panel as it is reinforced.
#[derive(Clone, Copy)]
pub(crate) struct Corner {
    /// Size of the largest layer [m].
    pub(crate) size: f64,
    pub(crate) layers: usize,
    /// Pull on it [N].
    pub(crate) pull: f64,
    /// Between its edges [rad].
    pub(crate) angle: f64,
    /// How far it reaches off its lower edge [m].
    pub(crate) high: f64,
}

/// The four corners of a panel, in order; none where they are too small for patches. Size: a share of the panel's shortest edge. Layers: all
/// of them at the corners of the sail, one less at the leech end of a batten, two less at its luff end; more where pull / (strength of a layer x
/// size) asks for them. A batten's pull is shared by the panels above and below. Common practice.
pub(crate) fn corners(input: &Input, panel: usize) -> [Option<Corner>; 4] {
    let mut all = [None; 4];
    let Some(drawn) = input.panel(panel) else {
        return all;
    };
    let rule = &input.sewing.patches;
    let corners = drawn.corners();
    let mut shortest = f64::INFINITY;
    for i in 0..4 {
        shortest = shortest.min(corners[i].distance(corners[(i + 1) % 4]));
    }
    let size = rule.share * shortest;
    if size < 0.005 {
        return all;
    }
    for (corner, found) in all.iter_mut().enumerate() {
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
        let (cross, dot) = (from.cross(to), from.dot(to));
        *found = Some(Corner {
            size,
            layers,
            pull,
            angle: cross.atan2(dot),
            high: if dot > 0.0 {
                size * cross / cross.hypot(dot)
            } else {
                size
            },
        });
    }
    all
}

/// Adds the patches of a panel's corners.
pub(crate) fn of_panel(input: &Input, panel: usize, patches: &mut Vec<Patch>) {
    for (corner, found) in corners(input, panel).into_iter().enumerate() {
        let Some(found) = found else {
            continue;
        };
        let mut outline = vec![Point::ORIGIN];
        for ray in 0..=RAYS {
            let turn = found.angle * ray as f64 / RAYS as f64;
            outline.push((unit(turn) * found.size).to_point());
        }
        patches.push(Patch {
            panel,
            corner,
            size: found.size,
            layers: found.layers,
            pull: found.pull,
            outline,
        });
    }
}
