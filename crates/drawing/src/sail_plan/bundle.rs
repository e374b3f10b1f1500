//! Slack cloth: the panel that is folding, and those that lie in the bundle.

use geometry::Panel;
use kurbo::{BezPath, Point, Vec2};

use super::board::Sail;

/// Cloth that hangs between two spars nearer than it was cut for, in the sail's plane.
pub(super) struct Slack {
    pub(super) outline: BezPath,
    pub(super) edges: [BezPath; 2],
    /// Where it buckles; none once there is no room to see them.
    pub(super) creases: Vec<BezPath>,
}

/// How much of the sag lies in the plane of the drawing: most of the cloth goes to leeward
/// (a convention of the drawing, no computed shape).
const SAG_IN_PLANE: f64 = 0.4;

/// Panel `number` as slack cloth between its spars where they are now.
///
/// An edge of length l hung between points d apart sags by about sqrt(3 d (l - d) / 8), the shallow
/// parabola.
pub(super) fn slack(sail: &Sail, number: usize, panel: &Panel) -> Slack {
    let (luff_flat, leech_flat) = sail.plan.panel(number).map_or((0.0, 0.0), |flat| {
        let [a, b, c, d] = flat.corners();
        (a.distance(d), b.distance(c))
    });
    let [a, b, c, d] = panel.corners();
    let along = panel.lower.along;
    let luff = sagging(d, a, luff_flat, -along);
    let leech = sagging(b, c, leech_flat, along);

    let mut outline = BezPath::new();
    outline.move_to(a);
    outline.line_to(b);
    outline.curve_to(leech[1], leech[2], leech[3]);
    outline.line_to(d);
    outline.curve_to(luff[1], luff[2], luff[3]);
    outline.close_path();

    let height = a.distance(d).max(b.distance(c));
    let slackness = 1.0 - height / luff_flat.max(leech_flat).max(1e-9);
    let mut creases = Vec::new();
    // Shallow curves from luff to leech, deeper the slacker the cloth, while there is room.
    if slackness > 0.02 && slackness < 0.8 {
        for share in [0.36, 0.68] {
            let (from, to) = (a.lerp(d, share), b.lerp(c, share));
            let (from, to) = (from.lerp(to, 0.06), to.lerp(from, 0.06));
            let hang = Vec2::new(0.0, -0.30 * height * slackness.sqrt());
            let mut crease = BezPath::new();
            crease.move_to(from);
            crease.curve_to(from.lerp(to, 0.3) + hang, from.lerp(to, 0.7) + hang, to);
            creases.push(crease);
        }
    }
    Slack {
        outline,
        edges: [curve(luff), curve(leech)],
        creases,
    }
}

/// A cubic from one point to another that bellies out by its slack.
fn sagging(from: Point, to: Point, flat: f64, outward: Vec2) -> [Point; 4] {
    let d = from.distance(to);
    let sag = SAG_IN_PLANE * (0.375 * d * (flat - d)).max(0.0).sqrt();
    // Control points 4/3 out put the belly of the cubic at its sag.
    let out = outward * (sag * 4.0 / 3.0);
    // Cloth hangs: the belly lies below the middle.
    let down = Vec2::new(0.0, -0.35 * sag);
    [
        from,
        from.lerp(to, 0.25) + out + down,
        from.lerp(to, 0.75) + out + down,
        to,
    ]
}

fn curve(points: [Point; 4]) -> BezPath {
    let mut path = BezPath::new();
    path.move_to(points[0]);
    path.curve_to(points[1], points[2], points[3]);
    path
}
