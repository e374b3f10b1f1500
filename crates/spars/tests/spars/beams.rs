//! Beams against closed forms (Timoshenko, *Strength of Materials*; Gere and Goodno; Roark): check values B01 to B16, B21.

use crate::sections::{FACTORS, near, of};
use spars::Pole;
use spars::beam::{Beam, put, spread, stations};

/// A beam of a pole between two supports.
pub(crate) fn beam(pole: &Pole, supports: [f64; 2], spacing: f64) -> Beam {
    let knots: Vec<f64> = (pole.pieces.iter().map(|p| p.to)).chain(supports).collect();
    let at = stations(pole.length(), &knots, spacing);
    // Of two stations at one place the lower belongs to what is below.
    let bending = (0..at.len())
        .map(|k| {
            let below = at.get(k + 1).is_some_and(|next| *next <= at[k]);
            pole.at(at[k] - if below { 1e-7 } else { 0.0 }, &FACTORS)
                .bending
        })
        .collect();
    let mut beam = Beam {
        at,
        bending,
        supports: [0, 1],
    };
    beam.supports = supports.map(|x| beam.station(x));
    beam
}

/// A15: 100 x 3 mm.
fn tube(length: f64) -> Pole {
    Pole::one(length, (0.1, 0.1), Some((0.003, 0.003)), of("6061-t6"))
}

/// A cantilever is a beam with a bury so short and stiff that it does not bend there.
fn cantilever(pole: &Pole) -> Beam {
    let mut beam = beam(pole, [0.0, pole.length()], 0.05);
    beam.at = beam.at.iter().map(|x| x + 1e-3).collect();
    beam.at.insert(0, 0.0);
    beam.bending.insert(0, 1e12);
    beam.at.insert(1, 1e-3);
    beam.bending.insert(1, 1e12);
    beam.supports = [0, 1];
    beam
}

const EI: f64 = 70e9 * 1.07625e-6;

#[test]
fn cantilevers_bend_as_the_closed_forms_say() {
    let b = cantilever(&tube(5.0));
    let n = b.at.len();
    let top = |loads: &[f64]| b.bend(loads, &[]);
    // B01: 2500 N m, 0.2765 m, slope P L² / (2 E I).
    let mut loads = vec![0.0; n];
    put(&b.at, &mut loads, 5.001, 500.0);
    let bent = top(&loads);
    near(bent.moment[2], 2500.0, 1e-9);
    near(bent.deflection[n - 1], 0.2765, 1e-3);
    near(bent.slope[n - 1], 500.0 * 25.0 / (2.0 * EI), 1e-3);
    // B02: load at a = 3.13 m, between two stations.
    let mut loads = vec![0.0; n];
    put(&b.at, &mut loads, 3.131, 500.0);
    let wanted = 500.0 * 3.13 * 3.13 * (15.0 - 3.13) / (6.0 * EI);
    near(top(&loads).deflection[n - 1], wanted, 1e-3);
    // B03: uniform; B04: triangular, most at the root; B05: most at the tip.
    for (each, moment, deflection) in [
        ([100.0, 100.0], 1250.0, 0.10370),
        ([100.0, 0.0], 1250.0 / 3.0, 0.10370 * 4.0 / 15.0),
        ([0.0, 100.0], 2500.0 / 3.0, 0.10370 * 11.0 / 15.0),
    ] {
        let mut loads = vec![0.0; n];
        let w = |k: usize| each[0] + (each[1] - each[0]) * (b.at[k] - 1e-3).max(0.0) / 5.0;
        // Nothing on the stiff stump.
        spread(&b.at, &mut loads, &|k| if k < 2 { 0.0 } else { w(k) }, 1.0);
        let bent = top(&loads);
        near(bent.moment[2], moment, 1e-6);
        near(bent.deflection[n - 1], deflection, 1e-3);
    }
}

#[test]
fn tapered_cantilevers_bend_as_the_closed_forms_say() {
    // B06: spruce 150 to 75 mm, 7 m, 1000 N at the tip, E = 10.8 GPa: 0.85201 m.
    let mut wood = of("sitka-spruce");
    wood.stiffness = 10.8e9;
    let b = cantilever(&Pole::one(7.0, (0.15, 0.075), None, wood));
    let n = b.at.len();
    let mut loads = vec![0.0; n];
    loads[n - 1] = 1000.0;
    near(b.bend(&loads, &[]).deflection[n - 1], 0.85201, 1e-3);
    // B08: uniform load, over a uniform beam of the root's diameter.
    for (top, wanted) in [(0.5, 1.6948), (0.6, 1.4832)] {
        let way = |share: f64| {
            let b = cantilever(&Pole::one(7.0, (0.15, 0.15 * share), None, wood));
            let mut loads = vec![0.0; b.at.len()];
            spread(&b.at, &mut loads, &|_| 80.0, 1.0);
            b.bend(&loads, &[]).deflection[b.at.len() - 1]
        };
        near(way(top) / way(1.0), wanted, 1e-3);
    }
}

#[test]
fn a_mast_on_partners_and_step_bends_more_than_a_cantilever() {
    // B10: L = 8, b = 1.5, P = 500: 3166.7 N, 2666.7 N, 4000 N m, E I δ = 101333 N m³.
    let b = beam(&tube(9.5), [0.0, 1.5], 0.05);
    let n = b.at.len();
    let mut loads = vec![0.0; n];
    loads[n - 1] = 500.0;
    let bent = b.bend(&loads, &[]);
    near(bent.reactions[1], -3166.7, 1e-4);
    near(bent.reactions[0], 2666.7, 1e-4);
    near(bent.moment[b.supports[1]], 4000.0, 1e-9);
    near(bent.deflection[n - 1], 101_333.0 / EI, 1e-3);
    assert_eq!(bent.deflection[b.supports[1]], 0.0);
}

#[test]
fn an_overhanging_beam_has_the_moments_and_the_rise_of_the_closed_form() {
    // B11: w = 100 down, L = 4, a = 1: 187.5, 312.5, -50.0, 175.78 at 1.875 m, E I δ = -187.5.
    let b = beam(&tube(5.0), [0.0, 4.0], 0.02);
    let n = b.at.len();
    let mut loads = vec![0.0; n];
    spread(&b.at, &mut loads, &|_| -100.0, 1.0);
    let bent = b.bend(&loads, &[]);
    near(bent.reactions[0], 187.5, 1e-9);
    near(bent.reactions[1], 312.5, 1e-9);
    near(bent.moment[b.supports[1]], -50.0, 1e-9);
    let most = bent.moment.iter().fold(0.0f64, |m, x| m.max(*x));
    near(most, 175.78, 1e-3);
    near(bent.deflection[n - 1], 187.5 / EI, 2e-3);
    // B12: simply supported, 5 w L⁴ / (384 E I).
    let b = beam(&tube(5.0), [0.0, 5.0], 0.02);
    let mut loads = vec![0.0; b.at.len()];
    spread(&b.at, &mut loads, &|_| 100.0, 1.0);
    let bent = b.bend(&loads, &[]);
    let least = bent.deflection.iter().fold(0.0f64, |m, x| m.max(*x));
    near(least, 5.0 * 100.0 * 625.0 / (384.0 * EI), 1e-3);
}

#[test]
fn thrust_magnifies_the_bend_and_too_much_of_it_is_told() {
    let b = beam(&tube(5.0), [0.0, 5.0], 0.02);
    let n = b.at.len();
    let middle = |bent: &spars::beam::Bent| bent.deflection[n / 2];
    let mut loads = vec![0.0; n];
    spread(&b.at, &mut loads, &|_| 100.0, 1.0);
    let plain = b.bend(&loads, &[]);
    // B15: 29.74 kN. B21: P / P_E = 0.2 magnifies 1.25 (to half a per cent: the load's shape is not the sine).
    for (share, wanted, within) in [(0.2, 1.25, 5e-3), (0.6, 2.5, 1e-2)] {
        let mut thrust = vec![0.0; n];
        thrust[n - 1] = share * 29_740.0;
        let bent = b.bend(&loads, &thrust);
        assert!(bent.stands);
        near(middle(&bent) / middle(&plain), wanted, within);
    }
    // Thrust between the supports leaves what overhangs them alone.
    let over = beam(&tube(5.0), [0.5, 4.5], 0.02);
    let mut even = vec![0.0; over.at.len()];
    spread(&over.at, &mut even, &|_| 100.0, 1.0);
    let mut push = vec![0.0; over.at.len()];
    push[over.supports[1]] = 10e3;
    let pushed = over.bend(&even, &push);
    assert!(pushed.moment[0].abs() < 1e-6);
    let quarter = over.station(0.25);
    let x = over.at[quarter];
    near(pushed.moment[quarter], 50.0 * x * x, 1e-6);
    let mut thrust = vec![0.0; n];
    thrust[n - 1] = 1.02 * 29_740.0;
    assert!(!b.bend(&loads, &thrust).stands);
    // B16: a pole of this tube stands by itself to 29.0 m.
    for (length, stands) in [(26.0, true), (30.0, false)] {
        let b = cantilever(&tube(length));
        let mut thrust = vec![0.0; b.at.len()];
        spread(&b.at, &mut thrust, &|_| 2.468 * 9.80665, 1.0);
        let mut loads = vec![0.0; b.at.len()];
        loads[b.at.len() - 1] = 1.0;
        assert_eq!(b.bend(&loads, &thrust).stands, stands, "{length}");
    }
}

#[test]
fn frequencies_are_those_of_the_closed_form() {
    // B13: tube A15, L = 5: 3.911 Hz; the second (4.694091 / 1.875104)² times it.
    let pole = tube(5.0);
    let b = cantilever(&pole);
    let mut mass = vec![0.0; b.at.len()];
    spread(&b.at, &mut mass, &|_| pole.at(1.0, &FACTORS).mass, 1.0);
    let [first, second] = b.frequencies(&mass);
    near(first.0, 3.911, 2e-3);
    near(second.0, 3.911 * (4.694091f64 / 1.875104).powi(2), 3e-3);
    assert_eq!(first.1[b.at.len() - 1].abs(), 1.0);
    let none = b.frequencies(&vec![0.0; b.at.len()]);
    assert_eq!(none[0].0, 0.0);
}

#[test]
fn a_load_put_beyond_the_top_draws_by_its_lever() {
    let b = beam(&tube(5.0), [0.0, 1.0], 0.1);
    let mut loads = vec![0.0; b.at.len()];
    put(&b.at, &mut loads, 5.5, 100.0);
    near(b.bend(&loads, &[]).moment[b.supports[1]], 450.0, 1e-9);
    let mut loads = vec![0.0; b.at.len()];
    put(&b.at, &mut loads, -0.5, 100.0);
    near(b.bend(&loads, &[]).reactions[1], 50.0, 1e-9);
}
