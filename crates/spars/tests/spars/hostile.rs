//! Nothing stops the proofs, and no number they give is none.

use crate::masts::{pippin, spruce};
use crate::sails::saltwort;
use crate::sections::of;
use proptest::prelude::*;
use spars::cut::{Stock, cut, joints};
use spars::finder::{Aim, Candidate, Rated, find_mast};
use spars::mast::{Weak, Weakness, profile};
use spars::raising::{Raising, raise};
use spars::{MastInput, Ply, Pole, SailInput, Weight, laminate, prove, prove_sail};

/// Numbers as they come, and as they should not.
fn any_number() -> impl Strategy<Value = f64> {
    prop_oneof![
        3 => -20.0..20.0,
        2 => 0.0..1.0,
        1 => Just(0.0),
        1 => prop_oneof![
            Just(f64::NAN),
            Just(f64::INFINITY),
            Just(f64::NEG_INFINITY),
            Just(f64::MAX),
            Just(f64::MIN_POSITIVE),
            Just(9e7),
            Just(1e-9),
            any::<f64>(),
        ],
    ]
}

fn spoil_pole(pole: &mut Pole, place: usize, number: f64) {
    let last = pole.pieces.len() - 1;
    let spot = match place {
        0 => &mut pole.pieces[0].from,
        1 => &mut pole.pieces[0].to,
        2 => &mut pole.pieces[last].to,
        3 => &mut pole.pieces[0].diameters.0,
        4 => &mut pole.pieces[last].diameters.1,
        5 => &mut pole.pieces[0].material.stiffness,
        6 => &mut pole.pieces[last].material.strength,
        7 => &mut pole.pieces[0].material.density,
        8 => &mut pole.pieces[0].material.shear,
        9 => {
            pole.pieces[0].walls = Some((number, 0.01));
            pole.pieces[0].staves = 8;
            return;
        }
        _ => {
            pole.pieces[last].walls = Some((0.02, number));
            return;
        }
    };
    *spot = number;
}

fn spoil_mast(input: &mut MastInput, place: usize, number: f64) {
    let s = &mut input.states[2];
    let spot = match place {
        0 => &mut input.bury,
        1 => &mut input.rake,
        2 => &mut input.head,
        3 => &mut input.fitting,
        4 => &mut input.righting,
        5 => &mut input.bundle.weight,
        6 => &mut input.bundle.height,
        7 => &mut input.wedges.height,
        8 => &mut input.wedges.thickness,
        9 => &mut input.rules.dynamic,
        10 => &mut input.rules.blow.coefficient,
        11 => &mut input.rules.blow.gust,
        12 => &mut input.rules.blow.winds.0,
        13 => &mut input.rules.blow.winds.1,
        14 => &mut input.rules.gybe,
        15 => &mut input.rules.storm,
        16 => &mut input.rules.heel,
        17 => &mut input.rules.factors.clear,
        18 => &mut s.holds[0].0,
        19 => &mut s.holds[1].1,
        20 => &mut s.area,
        21 => {
            s.wind_on = Some(number);
            return;
        }
        22 => &mut s.share,
        23 => &mut s.lever,
        24 => &mut s.standing,
        25 => &mut s.arm,
        26 => &mut s.sling.0,
        27 => &mut s.halyard,
        28 => &mut s.lifts,
        29 => {
            s.gybe = Some((number, number));
            return;
        }
        30 => {
            input.weak = vec![
                Weak {
                    height: 0.5,
                    what: Weakness::Hole(number),
                },
                Weak {
                    height: number,
                    what: Weakness::Weld(0.7),
                },
            ];
            return;
        }
        _ => {
            input.states[1].wind_off = Some(number);
            input.rules.rule = spars::mast::Rule::B;
            return;
        }
    };
    *spot = number;
}

fn spoil_sail(input: &mut SailInput, place: usize, number: f64) {
    let spot = match place {
        0 => &mut input.spars[1].sheet,
        1 => &mut input.panels[1].widths.0,
        2 => &mut input.panels[2].sagitta,
        3 => &mut input.states[1].ahead[2],
        4 => &mut input.states[1].thrust[3],
        5 => &mut input.states[2].sling,
        6 => &mut input.states[3].lying,
        7 => &mut input.parrel.0,
        8 => &mut input.parrel.1,
        9 if input.catches.len() > 1 => &mut input.catches[1],
        10 => &mut input.sling,
        11 => &mut input.stretch,
        12 => &mut input.rules.dynamic,
        13 => &mut input.rules.factors.alloy,
        14 => &mut input.rules.blow.winds.1,
        15 => {
            input.catches.clear();
            return;
        }
        _ => {
            input.states[1].wind = Some(number);
            return;
        }
    };
    *spot = number;
}

fn finite(list: &[f64]) -> bool {
    list.iter().all(|n| n.is_finite())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn masts_are_proved_or_refused(
        spoilt in prop::collection::vec((0usize..32, any_number()), 0..4),
        poles in prop::collection::vec((0usize..11, any_number()), 0..3),
    ) {
        let mut input = pippin(spruce());
        for (place, number) in poles {
            spoil_pole(&mut input.pole, place, number);
        }
        for (place, number) in spoilt {
            spoil_mast(&mut input, place, number);
        }
        let a = prove(&input);
        if a.faults.is_empty() {
            prop_assert!(finite(&[a.ratio, a.at, a.bend, a.thrust, a.bearing, a.hole, a.uplift]));
            prop_assert!(finite(&a.frequencies) && finite(&a.partners.0) && finite(&a.step.0));
            for (low, high) in a.shake {
                prop_assert!(finite(&[low, high]));
            }
            for r in &a.rows {
                prop_assert!(finite(&[r.shear, r.moment, r.slope, r.deflection, r.ratio]));
            }
            for c in &a.cases {
                prop_assert!(finite(&[c.wind, c.ratio, c.product, c.magnified, c.thrust]));
                prop_assert!(c.ratio <= a.ratio);
            }
            prop_assert!(!profile(&input, a.cases[0].case, a.cases[0].state).is_empty());
        } else {
            prop_assert!(a.rows.is_empty() && a.cases.is_empty());
        }
        for row in input.pole.schedule(0.5, &input.rules.factors) {
            prop_assert!(row.1.diameter > 0.0 && row.1.moment >= 0.0);
        }
        for order in input.pole.order(false, 0.006, 0.1) {
            prop_assert!(finite(&[order.width, order.thickness, order.length, order.volume]));
        }
    }

    #[test]
    fn sails_are_proved_or_refused(
        spoilt in prop::collection::vec((0usize..17, any_number()), 0..4),
        poles in prop::collection::vec((0usize..5, 0usize..9, any_number()), 0..3),
    ) {
        let mut input = saltwort();
        for (spar, place, number) in poles {
            spoil_pole(&mut input.spars[spar].pole, place, number);
        }
        for (place, number) in spoilt {
            spoil_sail(&mut input, place, number);
        }
        let a = prove_sail(&input);
        if a.faults.is_empty() {
            for s in &a.spars {
                prop_assert!(finite(&[s.ratio, s.at, s.moment, s.bend, s.mast, s.sheet, s.magnified]), "{s:?}");
            }
        }
    }

    #[test]
    fn the_rest_ends_whatever_it_is_given(
        n in prop::collection::vec(any_number(), 12),
        pieces in prop::collection::vec(any_number(), 0..20),
    ) {
        let stock = [Stock { length: n[0], price: Some(n[1]) }, Stock { length: 6.0, price: None }];
        if let Some(found) = cut(&pieces, &stock, n[2]) {
            prop_assert!(finite(&[found.length, found.waste]));
        }
        if let Some(places) = joints(n[3], n[4], n[5], n[6]) {
            prop_assert!(finite(&places) && places.len() < 8);
        }
        let how = Raising {
            weight: Weight::at(n[0], n[1]),
            hinge: n[2],
            fast: n[3],
            gin: n[4],
            lead: (n[5], n[6]),
            tackle: (pieces.len(), n[7]),
        };
        if let Some(r) = raise(&how, n[8]) {
            prop_assert!(finite(&[r.pull, r.hand, r.stay, r.gin, r.hinge.0, r.hinge.1]));
        }
        let ply = Ply { material: of("e-glass"), angle: n[9], thickness: n[10] };
        if let Some((m, t)) = laminate(&[ply, Ply { angle: n[11], ..ply }]) {
            prop_assert!(m.is_real() && t > 0.0);
        }
    }

    #[test]
    fn a_search_among_impossible_masts_ends(
        poles in prop::collection::vec((0usize..11, any_number()), 1..12),
        mass in any_number(),
    ) {
        let input = pippin(spruce());
        let all: Vec<Candidate> = poles
            .into_iter()
            .map(|(place, number)| {
                let mut pole = spruce();
                spoil_pole(&mut pole, place, number);
                Candidate { pole, price: Some(number) }
            })
            .collect();
        for aim in [Aim::Stiffest(mass), Aim::Cheapest] {
            let proves = |i: usize| {
                let with = MastInput { pole: all[i].pole.clone(), ..input.clone() };
                Rated::of_mast(&prove(&with), 0.2, all[i].price)
            };
            let found = find_mast(&input, &all, aim, 0.2, &proves, &|_| ());
            prop_assert_eq!(found.rated.len(), all.len());
            if let Some(i) = found.chosen {
                prop_assert!(found.rated[i].unwrap().passes);
            }
        }
    }
}
