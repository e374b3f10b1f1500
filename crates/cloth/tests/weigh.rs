//! Sails weighed quickly against the bills of their patterns.
#![allow(clippy::unwrap_used)]

mod sails;

use cloth::*;
use geometry::plan::{PlanRule, Shape};
use sails::*;

/// Invented plans: fanned and parallel heads, small and large, with round and hollow.
fn plans() -> Vec<PlanRule> {
    let mut plans = vec![marsh_pippin(), saltwort()];
    for (size, yard, turning, round) in [
        (0.5, 66.0_f64, 3, 0.01),
        (0.8, 30.0, 7, -0.02),
        (1.6, 70.0, 3, 0.02),
    ] {
        let mut rule = marsh_pippin();
        let Shape::Rule(fan) = &mut rule.shape else {
            continue;
        };
        fan.chord *= size;
        fan.panel_width *= size;
        fan.yard_length *= size;
        fan.yard_angle = yard.to_radians();
        fan.turning = turning;
        if turning == 7 {
            fan.widths = vec![1.0; 7];
            fan.steps = vec![1.0; 7];
        }
        rule.boom_height *= size;
        (rule.luff_round, rule.leech_round) = (round, -round);
        plans.push(rule);
    }
    plans
}

#[test]
fn a_sail_weighs_what_its_bill_says() {
    let (mut worst, mut worst_sail) = (0.0_f64, 0.0_f64);
    let mut panels = 0;
    for plan in plans() {
        for mut input in all(&plan) {
            for (pockets, camber) in [(Pockets::Strips, 0.07), (Pockets::Hems, 0.04)] {
                input.sewing.pockets = pockets;
                input.shapes = shape::usual(input.panels(), camber);
                let patterns = input.patterns();
                // What is cut is known though it goes on no roll: laying takes long.
                let mut narrow = input.clone();
                narrow.cloth.roll = input.sewing.seam;
                let bill = input.bill(&patterns, &narrow.cutting(&patterns, 0));
                let weighed = input.weigh();
                assert_eq!(weighed.faults, patterns.faults);
                let (mut sum, mut all) = (0.0, 0.0);
                for (found, told) in weighed.panels.iter().zip(&bill.panels) {
                    // One that cannot be cut has no patterns.
                    let Some(told) = told else { continue };
                    let off = found / told - 1.0;
                    worst = worst.max(off.abs());
                    sum += found;
                    all += told;
                    panels += 1;
                }
                worst_sail = worst_sail.max((sum / all - 1.0).abs());
            }
        }
    }
    eprintln!("{panels} panels: {worst:.4}, sails {worst_sail:.4}");
    assert!(panels > 400, "{panels}");
    assert!(worst < 0.025, "{worst}");
    assert!(worst_sail < 0.01, "{worst_sail}");
}

#[test]
fn a_roll_is_too_narrow_exactly_for_what_has_no_seams() {
    let mut rule = marsh_pippin();
    let Shape::Rule(fan) = &mut rule.shape else {
        return;
    };
    (fan.chord, fan.panel_width, fan.yard_length) = (2.2, 0.485, 2.2);
    rule.boom_height = 0.45;
    for construction in [Construction::Flat, SHELF] {
        let mut input = input(&rule, construction);
        for (share, seams) in [(0.0, 0.015), (0.25, 0.015), (0.5, 0.03)] {
            input.sewing.patches.share = share;
            input.sewing.seam = seams;
            let least = input.weigh().roll;
            let patterns = input.patterns();
            let mut lies = |roll: f64| {
                input.cloth.roll = roll;
                input.cutting(&patterns, 0).layout.is_some()
            };
            assert!(lies(1.01 * least), "{construction:?} {share} {least}");
            assert!(!lies(0.93 * least), "{construction:?} {share} {least}");
        }
    }
}

#[test]
fn what_cannot_be_cut_weighs_as_if_flat() {
    let flat = input(&marsh_pippin(), Construction::Flat).weigh();
    let mut deep = input(&marsh_pippin(), BARREL);
    deep.shapes[1].camber = 0.2;
    let found = deep.weigh();
    assert_eq!(found.faults, [Fault::BarrelDeep(2)]);
    assert!(found.fills[1] > 1.0 && found.fills[0] < 1.0);
    assert_eq!(found.panels[1], flat.panels[1]);
    assert!(found.panels[0] > flat.panels[0]);
    // Camber goes into the depth in proportion: so much of it would do.
    deep.shapes[1].camber *= 0.999 / found.fills[1];
    assert_eq!(deep.weigh().faults, []);
    // Nothing can be said about allowances: the cloth as drawn.
    deep.sewing.seam = -1.0;
    let found = deep.weigh();
    assert_eq!(found.faults, [Fault::Number]);
    let drawn = marsh_pippin().plan().0.unwrap().panel_moments[0].area;
    assert!((found.panels[0] / (0.23 * drawn) - 1.0).abs() < 1e-9);
}
