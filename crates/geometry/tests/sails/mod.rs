//! Sails and random plans that several test files share.
#![allow(dead_code, missing_docs, unreachable_pub)]

use geometry::plan::FanRule;
use geometry::{PlanRule, ReefInput, Shape};
use proptest::prelude::*;

pub fn fan(panels: usize, turning: usize, chord: f64) -> FanRule {
    FanRule {
        panels,
        turning,
        chord,
        panel_width: 0.22 * chord,
        widths: vec![0.65, 0.45, 0.30],
        steps: vec![1.0, 1.4, 1.9],
        boom_rise: 8f64.to_radians(),
        rise: 8f64.to_radians(),
        yard_angle: 65f64.to_radians(),
        yard_length: chord,
        luff_rake: 0.0,
    }
}

pub fn rule(fan: FanRule) -> PlanRule {
    PlanRule {
        shape: Shape::Rule(fan),
        balance: 0.10,
        boom_height: 0.5,
        sling: 0.48,
        luff_round: 0.0,
        leech_round: 0.0,
    }
}

/// Fanned head, full fan and low yard at 4.4 m chord, as the usual values shape them.
pub fn families() -> [(&'static str, PlanRule); 3] {
    let full_fan = FanRule {
        widths: vec![0.45; 6],
        steps: vec![1.0; 6],
        yard_length: 0.9 * 4.4,
        ..fan(6, 6, 4.4)
    };
    let low_yard = FanRule {
        widths: vec![1.0; 5],
        steps: vec![1.0; 5],
        yard_angle: 25f64.to_radians(),
        ..fan(5, 5, 4.4)
    };
    [
        ("fanned head", rule(fan(7, 3, 4.4))),
        ("full fan", rule(full_fan)),
        ("low yard", rule(low_yard)),
    ]
}

pub fn reef_input(chord: f64, masthead: f64) -> ReefInput {
    ReefInput {
        boom_depth: 0.06,
        batten_depth: 0.04,
        yard_depth: 0.08,
        folded_cloth: 0.015,
        drop: 0.03,
        travel: 0.08 * chord,
        masthead,
        chord_share: 0.40,
    }
}

prop_compose! {
    /// Any plan within the bounds of the defaults table.
    pub fn any_rule()(
        panels in 1usize..=12, turning in 0usize..=12, chord in 0.8..9.0f64,
        width in 0.12..0.32f64, rise in -5.0..20.0f64, yard_angle in 0.0..80.0f64,
        yard_length in 0.6..1.15f64, rake in -10.0..15.0f64, balance in 0.0..0.36f64,
        rounds in (-0.04..0.04f64, -0.04..0.04f64),
        widths in prop::collection::vec(0.15..1.0f64, 12),
        steps in prop::collection::vec(0.5..3.0f64, 12),
    ) -> PlanRule {
        PlanRule {
            shape: Shape::Rule(FanRule {
                panels,
                turning: turning.min(panels),
                chord,
                panel_width: width * chord,
                widths,
                steps,
                boom_rise: rise.to_radians(),
                rise: rise.to_radians(),
                yard_angle: yard_angle.to_radians(),
                yard_length: yard_length * chord,
                luff_rake: rake.to_radians(),
            }),
            balance,
            boom_height: 0.5,
            sling: 0.48,
            luff_round: rounds.0,
            leech_round: rounds.1,
        }
    }
}
