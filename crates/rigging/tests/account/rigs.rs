//! Invented rigs.

use geometry::mast::{Mast, Side};
use geometry::plan::FanRule;
use geometry::{PlanRule, ReefInput, Reefs, Shape};
use rigging::{Deck, Input, State, Weights};

pub(crate) fn fan(panels: usize, chord: f64) -> PlanRule {
    PlanRule {
        shape: Shape::Rule(FanRule {
            panels,
            turning: 3.min(panels),
            chord,
            panel_width: 0.22 * chord,
            widths: vec![0.65, 0.45, 0.30],
            steps: vec![1.0, 1.4, 1.9],
            boom_rise: 8f64.to_radians(),
            rise: 8f64.to_radians(),
            yard_angle: 65f64.to_radians(),
            yard_length: chord,
            luff_rake: 0.0,
        }),
        balance: 0.10,
        boom_height: 0.6,
        sling: 0.48,
        luff_round: 0.0,
        leech_round: 0.0,
    }
}

/// Marsh Pippin: a fanned head of so many panels on a chord [m], with the usual lines.
pub(crate) fn pippin(panels: usize, chord: f64) -> Input {
    let plan = fan(panels, chord).plan().0.unwrap();
    let top = plan.sling_point().y;
    let masthead = top + 0.5;
    let reef = ReefInput {
        boom_depth: 0.06,
        batten_depth: 0.04,
        yard_depth: 0.08,
        folded_cloth: 0.015,
        drop: 0.03,
        travel: 0.08 * chord,
        masthead,
        chord_share: 0.4,
    };
    let reefs = Reefs::new(&plan, &reef);
    let states: Vec<State> = (reefs.states.iter())
        .map(|s| State {
            lowered: s.lowered,
            on_lifts: s.on_lifts,
            spars: s.spars.iter().map(|p| p.spar).collect(),
            area: s.area,
            centre: s.pressure,
            pressure: 150.0,
        })
        .collect();
    let mast = Mast {
        x: 1.6,
        z: 0.8,
        rake: 0.0,
        bury: 1.0,
        lap: masthead,
        diameter: 0.16,
        top_diameter: 0.08,
        parallel: 0.15,
        offset: 0.11,
        side: Side::Port,
    };
    let mut spars = vec![1.0 * chord; panels + 1];
    spars[0] *= 1.5;
    spars[panels] *= 2.0;
    Input::usual(
        mast,
        masthead,
        0.48,
        states,
        Weights {
            spars,
            cloth: vec![0.25 * chord * chord * 0.22; panels],
            wet: 1.5,
        },
        Deck {
            height: 0.75,
            ends: (-0.4, 1.6 + chord + 1.2),
            half_beam: 1.2,
            lifeline: 0.6,
        },
    )
}

#[track_caller]
pub(crate) fn near(found: f64, wanted: f64, within: f64) {
    assert!(
        (found - wanted).abs() <= within,
        "{found} is not {wanted} within {within}"
    );
}
