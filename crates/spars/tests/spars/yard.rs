//! Choosing, cutting, raising, weighing.

use crate::masts::{pippin, spruce};
use crate::sails::saltwort;
use crate::sections::{near, of};
use core::cell::Cell;
use spars::cut::{Stock, cut, joints};
use spars::finder::{Aim, Candidate, Found, Rated, Shape, find_mast, find_spar, timber_mast};
use spars::mast::MastInput;
use spars::raising::{Raising, balance, raise};
use spars::sections::tube;
use spars::{Fault, Pole, SailInput, Weight, prove, prove_sail, weigh};

const SHAPE: Shape = Shape {
    top: 0.5,
    heel: 0.75,
    parallel: 0.15,
    wall: 0.0,
    staves: 8,
};

fn masts(shape: &Shape) -> Vec<Candidate> {
    (60..200)
        .map(|mm| Candidate {
            pole: timber_mast(1.0, 6.0, 1e-3 * f64::from(mm), shape, of("sitka-spruce")),
            // Dearer the thicker, but for one that is going cheap.
            price: (mm != 77).then_some(if mm == 180 { 1.0 } else { f64::from(mm) }),
        })
        .collect()
}

fn with(input: &MastInput, candidate: &Candidate) -> MastInput {
    MastInput {
        pole: candidate.pole.clone(),
        ..input.clone()
    }
}

fn mast(input: &MastInput, all: &[Candidate], aim: Aim) -> Found {
    let proves = |i: usize| Rated::of_mast(&prove(&with(input, &all[i])), 0.15, all[i].price);
    find_mast(input, all, aim, 0.15, &proves, &|_| ())
}

fn spar(input: &SailInput, numbers: &[usize], all: &[Candidate]) -> Found {
    let proves = |i: usize| {
        let mut worst: Option<Rated> = None;
        for n in numbers {
            let mut one = input.clone();
            one.spars[*n].pole = all[i].pole.clone();
            let new = Rated::of_spar(&prove_sail(&one).spars[*n], 0.05, all[i].price)?;
            worst = Some(worst.map_or(new, |worst| worst.worse(new)));
        }
        worst
    };
    find_spar(input, numbers, all, Aim::Lightest, 0.05, &proves, &|_| ())
}

#[test]
fn the_lightest_mast_that_passes_is_the_thinnest_of_its_shape() {
    let input = pippin(spruce());
    let all = masts(&SHAPE);
    let found = mast(&input, &all, Aim::Lightest);
    let chosen = found.chosen.unwrap();
    assert_eq!(found.rated.len(), all.len());
    let proof = |i: usize| {
        let mut input = input.clone();
        input.pole = all[i].pole.clone();
        prove(&input)
    };
    let (it, thinner) = (proof(chosen), proof(chosen - 1));
    assert!(it.ratio <= 1.0 && it.bend <= 0.15);
    assert!(thinner.ratio > 1.0 || thinner.bend > 0.15);
    // The quick look tells nearly what the proof does.
    for i in [chosen - 10, chosen + 20] {
        let quick = found.rated[i].unwrap();
        near(quick.ratio, proof(i).ratio, 0.01);
        near(quick.bend, proof(i).bend, 0.01);
        near(quick.mass, proof(i).weight.mass, 1e-9);
    }
}

#[test]
fn stiffest_and_cheapest_keep_to_their_word() {
    let input = pippin(spruce());
    let all = masts(&SHAPE);
    let cheap = mast(&input, &all, Aim::Cheapest);
    assert_eq!(cheap.chosen, Some(180 - 60));
    let light = mast(&input, &all, Aim::Lightest);
    let most = light.rated[light.chosen.unwrap()].unwrap().mass + 5.0;
    let stiff = mast(&input, &all, Aim::Stiffest(most));
    let chosen = stiff.rated[stiff.chosen.unwrap()].unwrap();
    assert!(chosen.mass <= most);
    for other in stiff.rated.iter().flatten() {
        assert!(!other.passes || other.mass > most || other.bend >= chosen.bend);
    }
    let none = mast(&input, &all[..3], Aim::Lightest);
    assert_eq!(none.chosen, None);
}

#[test]
fn a_search_tells_how_far_it_is() {
    let (input, all) = (pippin(spruce()), masts(&SHAPE));
    let told = Cell::new(0);
    let none = |_: usize| None;
    let found = find_mast(&input, &all, Aim::Lightest, 0.15, &none, &|done| {
        told.set(done);
    });
    assert_eq!(told.get(), all.len() - all.len() % 16);
    // What its proof turns down is not chosen.
    assert_eq!(found.chosen, None);
}

/// Wedges count as well: where they bear hardly anything, nothing passes.
#[test]
fn what_is_found_bears_its_wedges() {
    let mut input = pippin(spruce());
    let all = masts(&SHAPE);
    let bore = |found: &Found| prove(&with(&input, &all[found.chosen.unwrap()])).wedged();
    let free = mast(&input, &all, Aim::Lightest);
    let pressed = bore(&free);
    assert!(pressed > 0.0 && pressed <= 1.0);
    // Wedges not as high as that mast needs.
    input.wedges.height *= 0.9 * pressed;
    let held = mast(&input, &all, Aim::Lightest);
    assert!(held.chosen > free.chosen);
    let quick = held.rated[free.chosen.unwrap()].unwrap();
    assert!(quick.ratio <= 1.0 && !quick.passes);
    let found = prove(&with(&input, &all[held.chosen.unwrap()]));
    assert!(found.wedged() <= 1.0);
}

#[test]
fn hollow_masts_are_lighter_for_their_strength() {
    let input = pippin(spruce());
    let mass = |shape: &Shape| {
        let found = mast(&input, &masts(shape), Aim::Lightest);
        found.rated[found.chosen.unwrap()].unwrap().mass
    };
    let hollow = Shape { wall: 0.2, ..SHAPE };
    assert!(mass(&hollow) < 0.9 * mass(&SHAPE));
}

#[test]
fn a_batten_is_found_among_stock_tubes() {
    let input = saltwort();
    let mut all = Vec::new();
    let mut i = 0;
    while let Some((d, t)) = tube(i) {
        all.push(Candidate {
            pole: Pole::one(4.2, (d, d), Some((t, t)), of("6082-t6")),
            price: None,
        });
        i += 1;
    }
    let found = spar(&input, &[2], &all);
    let it = found.rated[found.chosen.unwrap()].unwrap();
    for other in found.rated.iter().flatten() {
        assert!(!other.passes || other.mass >= it.mass);
    }
    // One for several bears what the worst of them has to.
    let more = spar(&input, &[3, 2, 1], &all);
    let chosen = &all[more.chosen.unwrap()];
    for i in 1..4 {
        let mut one = input.clone();
        one.spars[i].pole = chosen.pole.clone();
        let proof = &prove_sail(&one).spars[i];
        assert!(proof.ratio <= 1.0 && proof.bend <= 0.05);
    }
    assert!(more.rated[more.chosen.unwrap()].unwrap().mass >= it.mass);
    assert!(spar(&input, &[9], &all).rated.is_empty());
}

#[test]
fn cutting_wastes_no_more_than_it_must() {
    let six = [Stock {
        length: 6.0,
        price: Some(40.0),
    }];
    // 4 + 2, 3 + 3, 5 + 1 fill three bars without a kerf.
    let found = cut(&[2.0, 3.0, 1.0, 4.0, 5.0, 3.0], &six, 0.0).unwrap();
    assert_eq!(found.bars.len(), 3);
    near(found.price.unwrap(), 120.0, 1e-12);
    assert!(found.waste.abs() < 1e-9);
    // With a kerf they do not.
    let found = cut(&[2.0, 3.0, 1.0, 4.0, 5.0, 3.0], &six, 0.003).unwrap();
    assert_eq!(found.bars.len(), 4);
    let mut seen: Vec<usize> = found.bars.iter().flat_map(|b| b.pieces.clone()).collect();
    seen.sort_unstable();
    assert_eq!(seen, [0, 1, 2, 3, 4, 5]);
    for bar in &found.bars {
        assert!(bar.left >= -1e-9);
    }
    let one = cut(&[3.0, 2.0], &six, 0.003).unwrap();
    near(one.bars[0].left, 0.997, 1e-9);
    near(one.waste, 0.997, 1e-9);
    // Of two lengths the one that fits.
    let two = [
        Stock {
            length: 6.0,
            price: None,
        },
        Stock {
            length: 4.2,
            price: None,
        },
    ];
    let found = cut(&[4.2, 4.2, 4.2], &two, 0.003).unwrap();
    near(found.length, 12.6, 1e-9);
    assert_eq!(found.price, None);
    assert!(cut(&[6.5], &six, 0.0).is_none());
    assert!(cut(&[f64::NAN], &six, 0.0).is_none());
    assert!(cut(&[1.0; 201], &six, 0.0).is_none());
    assert!(cut(&[], &six, 0.0).unwrap().bars.is_empty());
}

#[test]
fn joints_keep_away_from_mast_and_middle() {
    assert_eq!(joints(4.2, 6.0, 0.4, 4.2).unwrap(), [0.0; 0]);
    // One joint in 7 m of 6 m stock: the mast at 0.8, the middle at 3.9.
    let one = joints(7.0, 5.7, 0.8, 7.0).unwrap();
    assert_eq!(one.len(), 1);
    assert!(one[0] >= 1.3 && one[0] <= 5.7);
    assert!((one[0] - 0.8).abs() > 1.0 && (one[0] - 3.9).abs() > 1.0);
    for (length, most) in [(13.0f64, 5.7), (20.0, 4.1), (5.8, 5.7), (8.0, 7.5)] {
        let places = joints(length, most, 1.5, length).unwrap();
        let mut last = 0.0;
        for x in places.iter().chain([&length]) {
            assert!(
                x - last > 0.1 * most && x - last <= most + 1e-9,
                "{places:?}"
            );
            last = *x;
        }
        assert_eq!(places.len() + 1, (length / most).ceil() as usize);
    }
    assert!(joints(100.0, 2.0, 1.0, 100.0).is_none());
    assert!(joints(f64::NAN, 2.0, 1.0, 3.0).is_none());
}

/// By hand: 60 kg, centre 3.5 m from the hinge; gin pole 2 m, tackle led level from its foot's height 4 m away. Flat: the gin
/// pole stands up; line from (0, 2) to (4, 0), lever 2 x 4/√20; T = W 3.5 / lever.
#[test]
fn raising_by_a_gin_pole_balances() {
    let how = Raising {
        weight: Weight::at(60.0, 3.5),
        hinge: 0.0,
        fast: 5.0,
        gin: 2.0,
        lead: (4.0, 0.0),
        tackle: (4, 0.0),
    };
    let flat = raise(&how, 0.0).unwrap();
    let weight = 60.0 * 9.80665;
    let lever = 8.0 / 20f64.sqrt();
    near(flat.pull, weight * 3.5 / lever, 1e-9);
    near(flat.hand, flat.pull / 4.0, 1e-9);
    // Stay from (0, 2) to (-5, 0): its level part is the tackle's.
    let level = flat.pull * 4.0 / 20f64.sqrt();
    near(flat.stay, level * 29f64.sqrt() / 5.0, 1e-9);
    // The gin pole bears what both draw down.
    near(
        flat.gin,
        flat.pull * 2.0 / 20f64.sqrt() + flat.stay * 2.0 / 29f64.sqrt(),
        1e-9,
    );
    // Hinge: all that acts.
    near(flat.hinge.0, level, 1e-9);
    near(-flat.hinge.1, weight + flat.pull * 2.0 / 20f64.sqrt(), 1e-9);
    let mut last = f64::INFINITY;
    for degrees in 0..=80 {
        let now = raise(&how, f64::from(degrees).to_radians()).unwrap();
        // The mast alone about the hinge: stay and weight.
        let a = f64::from(degrees).to_radians();
        let (gin, fast) = (
            (2.0 * a.sin(), 2.0 * a.cos()),
            (-5.0 * a.cos(), 5.0 * a.sin()),
        );
        let (x, z) = (gin.0 - fast.0, gin.1 - fast.1);
        let turn = now.stay * (fast.1 * x - fast.0 * z) / x.hypot(z);
        near(turn, weight * 3.5 * a.cos(), 1e-9);
        assert!(now.pull < last);
        last = now.pull;
    }
    // Without a gin pole the line is led high, or there is no lever.
    let bare = Raising { gin: 0.0, ..how };
    assert!(raise(&bare, 0.0).is_none());
    let high = Raising {
        lead: (4.0, 3.0),
        ..bare
    };
    near(
        raise(&high, 0.0).unwrap().pull,
        weight * 3.5 / (5.0 * 3.0 / 90f64.sqrt()),
        1e-9,
    );
    // Each sheave keeps 0.9: 1 + 0.9 parts, and one more.
    let lossy = Raising {
        tackle: (2, 0.1),
        ..how
    };
    let flat = raise(&lossy, 0.0).unwrap();
    near(flat.hand, flat.pull / (1.9 * 0.9), 1e-9);
}

#[test]
fn spars_are_weighed_without_any_force() {
    let good = spruce();
    let bad = Pole::one(4.0, (0.05, 0.05), Some((0.03, 0.03)), of("6082-t6"));
    let weights = weigh(&good, &[saltwort().spars[1].pole.clone(), bad]);
    let mast = weights.mast.unwrap();
    near(mast.mass, prove(&pippin(good)).weight.mass, 1e-12);
    // 42 x 2 mm: 251.33 mm², 0.6786 kg/m.
    let batten = weights.spars[0].unwrap();
    near(batten.mass, 4.2 * 0.6786, 1e-3);
    near(batten.centre, 2.1, 1e-12);
    assert_eq!(weights.spars[1], None);
    assert_eq!(weights.faults, [(Some(1), Fault::Wall(0))]);
    // 30 kg at 3 m, 10 kg at 7 m: 40 kg at 4 m.
    let all = balance(Weight::at(30.0, 3.0), &[(10.0, 7.0)]);
    near(all.centre, 4.0, 1e-12);
}
