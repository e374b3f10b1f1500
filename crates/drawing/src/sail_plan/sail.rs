//! Cloth and spars of one sail.

use geometry::Panel;
use geometry::panel::closed;
use kurbo::{BezPath, Line, ParamCurve as _, PathSeg, Point};

use super::board::{Board, PanelState, Quad, Sail};
use super::{bundle, mast};
use crate::palette::Role;
use crate::scene::{Dash, Stroke};

pub(super) fn draw(board: &mut Board, sail: &Sail) {
    let mut cloth: Vec<Quad> = Vec::with_capacity(sail.plan.n_panels());
    let mut edges: Vec<(BezPath, Stroke)> = Vec::with_capacity(2 * sail.plan.n_panels() + 4);
    let whole = Stroke::new(Role::ClothEdge, board.pens.edge);
    let slack = whole.dashed(Dash::Dashed);
    for number in 1..=sail.plan.n_panels() {
        let Some(panel) = placed(sail, number) else {
            continue;
        };
        let role = cloth_role(number);
        let state = sail.panel_state(number);
        let slot = (sail.plan).slot_edges(number - 1, &panel.lower, &panel.upper);
        if let (Some(slot), PanelState::Standing) = (slot, &state) {
            for part in parts(&panel, slot) {
                board.scene.fill(sail.plane * closed(&part), role);
                cloth.push([0, 1, 2, 3].map(|i| sail.plane * part[i].start()));
                for edge in [part[1], part[3]] {
                    edges.push((sail.plane * alone(edge), whole));
                }
            }
            continue;
        }
        cloth.push(panel.corners().map(|corner| sail.plane * corner));
        match state {
            PanelState::Standing => {
                board.scene.fill(sail.plane * panel.outline(), role);
                for edge in [panel.luff_edge(), panel.leech_edge()] {
                    edges.push((sail.plane * alone(edge), whole));
                }
            }
            PanelState::Folding => {
                let slack_cloth = bundle::slack(sail, number, &panel);
                board.scene.fill(sail.plane * slack_cloth.outline, role);
                for path in slack_cloth.edges {
                    edges.push((sail.plane * path, slack));
                }
                let crease = Stroke::new(Role::ClothEdge, board.pens.dimension);
                for path in slack_cloth.creases {
                    edges.push((sail.plane * path, crease));
                }
            }
            PanelState::Lying => {
                let folds = bundle::slack(sail, number, &panel);
                board.scene.fill(sail.plane * folds.outline, role);
                for path in folds.edges {
                    edges.push((sail.plane * path, whole));
                }
            }
        }
    }
    mast::against_sail(board, sail, &cloth);
    board
        .cloth
        .extend(cloth.into_iter().map(|quad| (sail.index, quad)));
    for (path, stroke) in edges {
        board.scene.stroke(path, stroke);
    }
    spars(board, sail);
}

/// Fore and after part of a split panel: lower, after, upper, fore edge of each, beside its slot.
fn parts(panel: &Panel, [(a, b), (_, c), (_, d), _]: [(Point, Point); 4]) -> [[PathSeg; 4]; 2] {
    let line = |from: Point, to: Point| PathSeg::Line(Line::new(from, to));
    let (lower, upper) = (panel.lower, panel.upper);
    [
        [
            line(lower.luff, a),
            line(a, d),
            line(d, upper.luff),
            panel.luff_edge(),
        ],
        [
            line(b, lower.leech()),
            panel.leech_edge(),
            line(upper.leech(), c),
            line(c, b),
        ],
    ]
}

/// Cloth alternates, so that panels count themselves.
pub(crate) fn cloth_role(number: usize) -> Role {
    if number % 2 == 1 {
        Role::Cloth
    } else {
        Role::ClothOther
    }
}

/// Panel `number` where it is now.
pub(super) fn placed(sail: &Sail, number: usize) -> Option<Panel> {
    let lower = *sail.pose.spars.get(number.checked_sub(1)?)?;
    let upper = *sail.pose.spars.get(number)?;
    Some(Panel {
        lower,
        upper,
        luff_round: sail.plan.luff_round,
        leech_round: sail.plan.leech_round,
    })
}

fn alone(edge: PathSeg) -> BezPath {
    closed(&[edge])
}

/// Battens first: boom and yard are the heavier and lie in front of them.
fn spars(board: &mut Board, sail: &Sail) {
    let yard = sail.plan.n_panels();
    let order = (1..yard).chain([0, yard]);
    for i in order {
        let Some(spar) = sail.pose.spars.get(i) else {
            continue;
        };
        let (from, to) = sail.ends(spar);
        let weight = weight(board, sail, i);
        board.scene.line(from, to, Stroke::new(Role::Spar, weight));
        board.take_line(from, to, 0.5 * weight + 1.0);
    }
    // Luff and leech: a note must not sit on them either.
    for pair in sail.pose.spars.windows(2) {
        let [(luff, leech), (luff_above, leech_above)] = [sail.ends(&pair[0]), sail.ends(&pair[1])];
        board.take_line(luff, luff_above, 1.0);
        board.take_line(leech, leech_above, 1.0);
    }
}

/// Weight of a spar's line [px]: its own depth, but never finer than its pen nor out of all
/// proportion to it.
pub(super) fn weight(board: &Board, sail: &Sail, spar: usize) -> f64 {
    let design = &sail.design.sail;
    let (pen, depth) = match spar {
        0 => (board.pens.boom, design.boom_depth),
        _ if spar == sail.plan.n_panels() => (board.pens.yard, design.yard_depth),
        _ => (board.pens.batten, design.batten_depth),
    };
    (depth * board.frame.scale)
        .max(pen)
        .min(2.0 * pen * board.frame.zoom.max(1.0))
}

/// Middle of a panel's height at a share of its chord, and the room there square to it [px].
pub(super) fn station(sail: &Sail, panel: &Panel, share: f64) -> (Point, f64) {
    let low = sail.plane * panel.lower.at(share * panel.lower.length);
    let high = sail.plane * panel.upper.at(share * panel.upper.length);
    let (luff, leech) = sail.ends(&panel.lower);
    let along = leech - luff;
    let length = along.hypot();
    let room = if length > 1e-9 {
        ((high - low).cross(along) / length).abs()
    } else {
        0.0
    };
    (low.midpoint(high), room)
}
