//! Reef states: what must hold in every one of them.
#![allow(missing_docs, clippy::unwrap_used)]

mod sails;

use geo::{Area, BooleanOps, Centroid};
use geometry::plan::FanRule;
use geometry::{Panel, PlanRule, Reefs, SailPlan, Spar};
use kurbo::Point;
use proptest::prelude::*;
use sails::{any_rule, families, fan, reef_input, rule};

fn reefed(rule: &PlanRule) -> (SailPlan, Reefs) {
    let (plan, _) = rule.plan();
    let plan = plan.unwrap();
    let chord = plan.boom().unwrap().length;
    let input = reef_input(chord, plan.sling_point().y + 0.6);
    let reefs = Reefs::new(&plan, &input);
    (plan, reefs)
}

/// Worked by hand: B = 4 m, P = 0.6 m, rise 10 deg, laid down at b = 0.06 m.
/// BD² = 16 + 0.36 - 4.8 sin 10° = 15.526489; least slide = 4 - √(15.526489 - 0.0036)
/// = 4 - 3.939910 = 0.060090 m, and AC² = 17.193511; most = √17.189911 - 4 = 0.146072 m.
#[test]
fn a_parallelogram_with_rise_is_forced_to_slide_aft() {
    let rise = 10f64.to_radians();
    let panel = Panel {
        lower: Spar::new(Point::new(0.0, 0.0), rise, 4.0),
        upper: Spar::new(Point::new(0.0, 0.6), rise, 4.0),
        luff_round: 0.0,
        leech_round: 0.0,
    };
    let interval = panel.slide_interval(0.06);
    assert!(interval.folds);
    assert!((interval.least - 0.060090).abs() < 2e-6, "{interval:?}");
    assert!((interval.most - 0.146072).abs() < 2e-6, "{interval:?}");
}

/// The limit of a forced slide, sin(rise) = P / (2 B) as b -> 0: 5.74 deg at P/B = 0.2 (derived).
#[test]
fn the_cloth_forces_a_slide_only_above_the_stated_rise() {
    let forced = |rise_deg: f64| {
        let rise = rise_deg.to_radians();
        let lower = Spar::new(Point::new(0.0, 0.0), rise, 5.0);
        let upper = Spar::new(Point::new(0.0, 1.0), rise, 5.0);
        let panel = Panel {
            lower,
            upper,
            luff_round: 0.0,
            leech_round: 0.0,
        };
        panel.slide_interval(0.0).least > 0.0
    };
    assert!(!forced(5.73));
    assert!(forced(5.75));
}

#[test]
fn boom_and_bundle_come_forward_by_the_forced_slide_while_the_sail_keeps_its_place() {
    let (_, reefs) = reefed(&rule(fan(7, 3, 4.4)));
    let forced: f64 = reefs.slides[..3].iter().map(|s| s.least).sum();
    assert!(forced > 0.05);
    // The bundle leans forward with the boom's rise and takes the sail along that much less.
    let lean: f64 = reefs.pitches[..3].iter().sum::<f64>() * 8f64.to_radians().sin();
    let third = reefs.lowered(3).unwrap();
    assert!(third.turn.abs() < 1e-12);
    assert!(
        third.sling_offset.abs() < 0.2 * forced,
        "{}",
        third.sling_offset
    );
    let expected = lean - forced * 8f64.to_radians().cos();
    assert!(
        (third.boom_shift - expected).abs() < 0.1 * forced,
        "{} {expected}",
        third.boom_shift
    );
}

#[test]
fn a_fan_turns_with_its_sling_held_nearer_the_mast_than_a_plain_turn_would_leave_it() {
    let (plan, reefs) = reefed(&families()[1].1);
    let second = reefs.lowered(2).unwrap();
    let lowest = plan.spars[2];
    assert!((second.turn - (lowest.angle - plan.spars[0].angle)).abs() < 1e-12);
    // Turning about the mast crossing would throw the sling aft by H sin(turn).
    let crossing = lowest.at(lowest.ahead().unwrap());
    let thrown = (plan.sling_point().y - crossing.y) * second.turn.sin();
    assert!(thrown > 0.5);
    assert!(
        second.sling_offset < thrown,
        "{} {thrown}",
        second.sling_offset
    );
}

#[test]
fn the_first_ease_drops_the_sail_onto_its_lifts_and_changes_nothing_else() {
    let (_, reefs) = reefed(&families()[0].1);
    let (full, dropped) = (&reefs.states[0], &reefs.states[1]);
    assert!((full.sling.y - dropped.sling.y - 0.03).abs() < 1e-12);
    assert_eq!(full.area, dropped.area);
    assert!(dropped.boom_shift.abs() < 1e-12);
}

/// On a rectangle the wind's force lies at its chord share, half way up (by inspection); on a
/// trapezium the chord through the centroid is found level with it.
#[test]
fn the_winds_force_lies_at_the_chord_share_of_each_panel() {
    let spar = |u: f64, v: f64, length: f64| Spar::new(Point::new(u, v), 0.0, length);
    let force = |spars: Vec<Spar>| {
        let plan = SailPlan::new(spars, 0.0, 0.0, 0.5);
        Reefs::new(&plan, &reef_input(4.0, 6.0)).states[0]
            .pressure
            .unwrap()
    };
    let at = force(vec![spar(-0.4, 1.0, 4.0), spar(-0.4, 2.0, 4.0)]);
    assert!((at.x - 1.2).abs() < 1e-12 && (at.y - 1.5).abs() < 1e-12);
    // Sides 4 and 2, luff upright: the centroid is h (a + 2 b) / (3 (a + b)) = 4/9 up, where the
    // chord is 4 - 2 · 4/9 = 28/9 long.
    let at = force(vec![spar(0.0, 0.0, 4.0), spar(0.0, 1.0, 2.0)]);
    assert!((at.y - 4.0 / 9.0).abs() < 1e-9 && (at.x - 0.4 * 28.0 / 9.0).abs() < 1e-9);
}

#[test]
fn positions_run_on_through_every_state() {
    for (name, rule) in families() {
        let (plan, reefs) = reefed(&rule);
        let n = plan.n_panels() as f64;
        let mut last = reefs.placed_at(0.0);
        assert_eq!(last.len(), plan.spars.len());
        let steps = 4000;
        for i in 1..=steps {
            let now = reefs.placed_at(n * f64::from(i) / f64::from(steps));
            for (a, b) in last.iter().zip(&now) {
                assert!(a.luff.distance(b.luff) < 0.02, "{name} jumps at step {i}");
                assert!((a.angle - b.angle).abs() < 0.01, "{name} turns at step {i}");
                assert_eq!(a.length, b.length);
            }
            last = now;
        }
        let down = reefs.lowered(plan.n_panels()).unwrap();
        for (a, b) in last.iter().zip(&down.spars) {
            assert!(a.luff.distance(b.spar.luff) < 1e-9);
        }
    }
}

#[test]
fn hostile_hoists_stay_within_the_sail() {
    let (plan, reefs) = reefed(&families()[0].1);
    for hoist in [f64::NAN, f64::INFINITY, -3.0, 1e9] {
        assert_eq!(reefs.placed_at(hoist).len(), plan.spars.len());
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn every_state_of_any_sail_keeps_the_rules(rule in any_rule()) {
        let (plan, faults) = rule.plan();
        prop_assume!(faults.is_empty());
        let plan = plan.unwrap();
        let chord = plan.boom().unwrap().length;
        let input = reef_input(chord, plan.sling_point().y + 0.6);
        let reefs = Reefs::new(&plan, &input);
        let n = plan.n_panels();
        prop_assert_eq!(reefs.states.len(), n + 2);
        let mut panels_left: f64 = plan.panel_moments.iter().map(|m| m.area).sum();
        for k in 0..=n {
            let state = reefs.lowered(k).unwrap();
            // Areas add up.
            prop_assert!((state.area - panels_left).abs() < 1e-9);
            if let Some(m) = plan.panel_moments.get(k) { panels_left -= m.area; }

            for (i, placed) in state.spars.iter().enumerate() {
                prop_assert!(placed.spar.luff.is_finite());
                // Shift inside the travel, unless the parrels are said to be too short.
                if i < n {
                    let half = 0.5 * input.travel + state.travel_missing;
                    prop_assert!(placed.shift.abs() <= half + 1e-9);
                    prop_assert!(2.0 * placed.shift.abs() <= state.travel_needed + 1e-9);
                }
                // Slides inside their intervals.
                if i >= 1 && i <= k {
                    let interval = reefs.slides[i - 1];
                    prop_assert!(placed.slide >= interval.least - 1e-9);
                    prop_assert!(placed.slide <= interval.most + 1e-9);
                    let below = state.spars[i - 1].spar;
                    let gap = (placed.spar.luff - below.luff).dot(kurbo::Vec2::new(-below.along.y, below.along.x));
                    prop_assert!((gap - reefs.pitches[i - 1]).abs() < 1e-9);
                }
            }

            // No two cloth points further apart folded than flat.
            for i in 1..=k {
                if !reefs.slides[i - 1].folds { continue; }
                let flat = plan.panel(i).unwrap();
                let (low, up) = (state.spars[i - 1].spar, state.spars[i].spar);
                for p in 0..=8 {
                    for q in 0..=8 {
                        let (p, q) = (f64::from(p) / 8.0, f64::from(q) / 8.0);
                        let was = flat.lower.at(p * flat.lower.length)
                            .distance(flat.upper.at(q * flat.upper.length));
                        let is = low.at(p * low.length).distance(up.at(q * up.length));
                        prop_assert!(is <= was + 1e-9, "panel {} stretched by {}", i, is - was);
                    }
                }
            }

            // What stands is the same body: panel by panel the corner distances are unchanged.
            for i in k + 1..=n {
                let flat = plan.panel(i).unwrap();
                let (low, up) = (state.spars[i - 1].spar, state.spars[i].spar);
                prop_assert!((low.luff.distance(up.leech()) - flat.lower.luff.distance(flat.upper.leech())).abs() < 1e-9);
                prop_assert!((low.leech().distance(up.luff) - flat.lower.leech().distance(flat.upper.luff)).abs() < 1e-9);
            }
        }
    }

    /// Centre of effort and both balances of every state against a polygon library run over the
    /// spars as placed.
    #[test]
    fn the_centre_of_every_state_agrees_with_a_polygon_library(
        mut rule in any_rule(), straight in any::<bool>()
    ) {
        if straight { rule.luff_round = 0.0; rule.leech_round = 0.0; }
        let (plan, faults) = rule.plan();
        prop_assume!(faults.is_empty());
        let plan = plan.unwrap();
        let input = reef_input(plan.boom().unwrap().length, plan.sling_point().y + 0.6);
        let reefs = Reefs::new(&plan, &input);
        let half = geo::Rect::new((-60.0, -60.0), (0.0, 60.0)).to_polygon();
        for k in 0..plan.n_panels() {
            let state = reefs.lowered(k).unwrap();
            let standing: Vec<Spar> = state.spars[k..].iter().map(|p| p.spar).collect();
            let outline = SailPlan::new(standing, plan.luff_round, plan.leech_round, plan.sling).outline();
            let mut points = Vec::new();
            kurbo::flatten(outline, 1e-7, |el| {
                if let kurbo::PathEl::MoveTo(p) | kurbo::PathEl::LineTo(p) = el {
                    points.push((p.x, p.y));
                }
            });
            let outside = geo::Polygon::new(points.into(), Vec::new());
            let c = outside.centroid().unwrap();
            let ours = state.centroid.unwrap();
            prop_assert!((ours.x - c.x()).abs() < 1e-5 && (ours.y - c.y()).abs() < 1e-5);
            prop_assert!((state.area - outside.unsigned_area()).abs() < 1e-5);
            let ahead = outside.intersection(&half).unsigned_area() / outside.unsigned_area();
            prop_assert!((state.area_balance.unwrap() - ahead).abs() < 1e-5);
        }
    }

    /// A plan scaled by k scales areas by k² and places by k.
    #[test]
    fn a_sail_twice_the_size_is_four_times_the_area(rule in any_rule(), k in 0.3..3.0f64) {
        let (plan, faults) = rule.plan();
        prop_assume!(faults.is_empty());
        let plan = plan.unwrap();
        let fit = geometry::target_area::Fit { chord: k, luff: k };
        let mut larger = rule.scaled(fit);
        larger.boom_height *= k;
        let (large, _) = larger.plan();
        let large = large.unwrap();
        prop_assert!((large.area() / plan.area() / (k * k) - 1.0).abs() < 1e-6);
        let small_input = reef_input(plan.boom().unwrap().length, plan.sling_point().y + 0.6);
        let mut large_input = small_input;
        for length in [&mut large_input.boom_depth, &mut large_input.batten_depth,
            &mut large_input.yard_depth, &mut large_input.folded_cloth, &mut large_input.drop,
            &mut large_input.travel, &mut large_input.masthead] {
            *length *= k;
        }
        let (a, b) = (Reefs::new(&plan, &small_input), Reefs::new(&large, &large_input));
        for (a, b) in a.states.iter().zip(&b.states) {
            prop_assert!((b.area - a.area * k * k).abs() < 1e-6 * b.area.max(1e-3));
        }
    }

    /// Mirror symmetry: areas of a mirrored outline are the negative, its centroid the mirror.
    #[test]
    fn a_mirrored_sail_has_the_mirrored_centre(rule in any_rule()) {
        let (plan, faults) = rule.plan();
        prop_assume!(faults.is_empty());
        let plan = plan.unwrap();
        let mirrored = kurbo::Affine::scale_non_uniform(-1.0, 1.0) * plan.outline();
        let (m, n) = (plan.moments(), geometry::Moments::of_path(mirrored));
        prop_assert!((m.area + n.area).abs() < 1e-9);
        let (c, d) = (m.centroid().unwrap(), n.centroid().unwrap());
        prop_assert!((c.x + d.x).abs() < 1e-9 && (c.y - d.y).abs() < 1e-9);
        prop_assert!((m.second_uv - n.second_uv).abs() < 1e-6 * (1.0 + m.second_uv.abs()));
    }
}

/// Every spar typed gives the same plan as the rule that made it.
#[test]
fn a_table_of_the_rules_own_spars_is_the_same_sail() {
    for (_, rule) in families() {
        let (plan, _) = rule.plan();
        let plan = plan.unwrap();
        let tack = plan.boom().unwrap().luff;
        let spars = plan
            .spars
            .iter()
            .map(|s| Spar {
                luff: (s.luff - tack).to_point(),
                ..*s
            })
            .collect();
        let table = PlanRule {
            shape: geometry::Shape::Table(spars),
            ..rule
        };
        let (again, faults) = table.plan();
        assert!(faults.is_empty());
        let again = again.unwrap();
        for (a, b) in plan.spars.iter().zip(&again.spars) {
            assert!(a.luff.distance(b.luff) < 1e-12 && a.length == b.length);
        }
    }
}

#[test]
fn impossible_plans_are_named() {
    use geometry::Fault;
    // A single head panel cannot turn its leech in far enough to meet a yard a hand long.
    let out_of_reach = rule(FanRule {
        yard_length: 0.1,
        ..fan(6, 1, 4.0)
    });
    assert!(matches!(
        out_of_reach.plan().1[..],
        [Fault::YardOutOfReach(_), ..]
    ));
    let crossing = PlanRule {
        shape: geometry::Shape::Table(vec![
            Spar::new(Point::new(0.0, 0.0), 0.0, 4.0),
            Spar::new(Point::new(0.0, 0.5), -0.5, 4.0),
        ]),
        ..rule(fan(1, 0, 4.0))
    };
    assert_eq!(crossing.plan().1, vec![Fault::PanelFolded(1)]);
    let lone = PlanRule {
        shape: geometry::Shape::Table(vec![]),
        ..crossing
    };
    assert!(lone.plan().0.is_none());
    let mad = rule(FanRule {
        chord: f64::INFINITY,
        ..fan(6, 3, 4.0)
    });
    let (plan, faults) = mad.plan();
    assert!(plan.is_none() && faults.contains(&Fault::NotANumber));
}

/// A slot is no cloth: area, centre and balance of every state against the outlines of both parts, by the `geo` crate.
#[test]
fn a_slot_is_taken_out_of_area_centre_and_balance() {
    use geo::{LineString, MultiPolygon, Polygon};
    let mut plan = families()[0].1.plan().0.unwrap();
    let whole = plan.area();
    plan.open_slot(0.08);
    // Where the slot is cut, it stays in the cloth, however the spars lie.
    let mut middles = Vec::new();
    for spar in &plan.spars {
        middles.push(spar.ahead().unwrap() / spar.length);
    }
    let cloth_of = |spars: &[Spar], lowered: usize| {
        let mut parts = Vec::new();
        for i in lowered..spars.len() - 1 {
            for after in [false, true] {
                let mut line = Vec::new();
                for (j, at) in [(i, 0), (i, 1), (i + 1, 1), (i + 1, 0)] {
                    let (from, to) = if after {
                        (middles[j] + 0.04, 1.0)
                    } else {
                        (0.0, middles[j] - 0.04)
                    };
                    let p = spars[j].at([from, to][at] * spars[j].length);
                    line.push((p.x, p.y));
                }
                parts.push(Polygon::new(LineString::from(line), vec![]));
            }
        }
        MultiPolygon::new(parts)
    };
    let cloth = cloth_of(&plan.spars, 0);
    let area = cloth.unsigned_area();
    assert!(area < 0.95 * whole, "{area} of {whole}");
    assert!((plan.area() - area).abs() < 1e-9);
    let (found, outside) = (
        plan.moments().centroid().unwrap(),
        cloth.centroid().unwrap(),
    );
    assert!((found.x - outside.x()).abs() < 1e-9 && (found.y - outside.y()).abs() < 1e-9);
    let masthead = plan.sling_point().y + 0.6;
    let reefs = Reefs::new(&plan, &reef_input(plan.boom().unwrap().length, masthead));
    let ahead_of_mast = geo::Rect::new((-1e3, -1e3), (0.0, 1e3)).to_polygon();
    let mut reefed = 0;
    for state in &reefs.states {
        let spars: Vec<Spar> = state.spars.iter().map(|placed| placed.spar).collect();
        let cloth = cloth_of(&spars, state.lowered);
        let (Some(found), Some(outside)) = (state.centroid, cloth.centroid()) else {
            continue;
        };
        let area = cloth.unsigned_area();
        assert!((state.area - area).abs() < 1e-9, "{}", state.lowered);
        assert!((found.x - outside.x()).abs() < 1e-9 && (found.y - outside.y()).abs() < 1e-9);
        let ahead: f64 = (cloth.0.iter())
            .map(|part| part.intersection(&ahead_of_mast).unsigned_area())
            .sum();
        let balance = state.area_balance.unwrap();
        assert!(
            (balance - ahead / area).abs() < 1e-6,
            "{balance} {}",
            state.lowered
        );
        reefed += state.lowered.min(1);
    }
    assert!(reefed > 4, "{reefed}");
}
