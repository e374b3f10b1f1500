//! A box, whose every height and lever is known, against exact geometry.

use crate::boats::{barge, near};
use boat::{GRAVITY, Hull, Input, account};
use geo::{Area, BooleanOps, Centroid, Rotate, coord, polygon};

/// The box vessel of Derrett & Barrass, Ship Stability for Masters and Mates, p. 130, example 2:
/// 65 x 12 x 8 m, draught 4 m, KG 4 m.
fn textbook() -> Input {
    let tonnes = |t: f64| Some(1000.0 * t);
    Input {
        hull: Hull {
            length: 65.0,
            beam: 12.0,
            canoe_draught: 4.0,
            draught: 4.0,
            freeboard: 4.0,
            water: 1025.0,
            waterplane: 1.0,
            inertia: 1.0 / 12.0,
            gravity: 0.5,
        },
        loads: [tonnes(3000.0), tonnes(3198.0), tonnes(3500.0)],
        ..barge()
    }
}

/// Same example: KB 2, BM 3, GM 1 m, GZ at 5° 278.9 t m by GM sin φ, exact 278.7 (with ½ BM tan² φ, a
/// little more); at 25° GZ 0.5605 m, 1792 t m by the wall-sided formula.
#[test]
fn figures_of_the_textbook() {
    let found = account(&textbook());
    let sailing = found.loadings[1].unwrap();
    near(sailing.buoyancy.unwrap(), 2.0, 1e-12);
    near(sailing.radius.unwrap(), 3.0, 1e-12);
    near(sailing.gravity.unwrap(), 4.0, 1e-12);
    near(sailing.height.unwrap().value, 1.0, 1e-12);
    let curve = found.curve.unwrap();
    let tonne_metres = |degrees: f64| curve.moment(degrees.to_radians()).unwrap() / GRAVITY / 1e3;
    near(
        tonne_metres(5.0) / (1.0 + 1.5 * 5f64.to_radians().tan().powi(2)),
        278.7,
        2e-4,
    );
    near(tonne_metres(25.0), 1792.0, 1e-3);
    near(tonne_metres(25.0) / 3198.0, 0.5605, 2e-4);
    assert_eq!(sailing.moments[1], curve.moment(10f64.to_radians()));
    assert!(found.faults.is_empty());
}

/// Lever of a heeled box by clipping: the box is turned about its middle, the water rises until the part
/// below it has the upright area, and its centre is where buoyancy acts.
fn lever_by_clipping(hull: &Hull, gravity: f64, heel: f64) -> f64 {
    let (half, deep) = (0.5 * hull.beam, hull.canoe_draught + hull.freeboard);
    let body =
        polygon![(x: -half, y: 0.0), (x: half, y: 0.0), (x: half, y: deep), (x: -half, y: deep)]
            .rotate_around_point(-heel.to_degrees(), coord! { x: 0.0, y: gravity }.into());
    let wanted = hull.beam * hull.canoe_draught;
    let (mut low, mut high) = (-100.0, 100.0);
    let mut below = None;
    for _ in 0..60 {
        let level = 0.5 * (low + high);
        let water = polygon![(x: -99.0, y: -200.0), (x: 99.0, y: -200.0), (x: 99.0, y: level), (x: -99.0, y: level)];
        let part = body.intersection(&water);
        if part.unsigned_area() < wanted {
            low = level;
        } else {
            high = level;
        }
        below = Some(part);
    }
    // The centre of gravity stayed where it was, at x = 0.
    below.unwrap().centroid().unwrap().x()
}

#[test]
fn wall_sided_levers_are_those_of_the_clipped_box() {
    for input in [textbook(), barge()] {
        let found = account(&input);
        let sailing = found.loadings[1].unwrap();
        let (curve, mass) = (found.curve.unwrap(), sailing.displacement.unwrap());
        // Up to the last degree before deck edge or bilge.
        let last = sailing.limit.to_degrees().floor() as u32;
        assert!(last > 20);
        for degrees in (1..=last).chain([last]) {
            let heel = f64::from(degrees).to_radians();
            let exact = lever_by_clipping(&input.hull, sailing.gravity.unwrap(), heel);
            let lever = curve.moment(heel).unwrap() / (mass * GRAVITY);
            assert!(
                (lever - exact).abs() < 2e-7 * input.hull.beam,
                "{degrees}: {lever} {exact}"
            );
        }
        // Past it the formula flatters her, which is why the curve ends.
        let past = sailing.limit + 0.15;
        assert_eq!(curve.moment(past), None);
        let tan = past.tan();
        let formula = past.sin()
            * (sailing.height.unwrap().value + 0.5 * sailing.radius.unwrap() * tan * tan);
        let exact = lever_by_clipping(&input.hull, sailing.gravity.unwrap(), past);
        assert!(formula > exact + 0.001 * input.hull.beam);
    }
}

/// The whole curve is offered for a plot, from nought to where it ends.
#[test]
fn samples_run_to_the_limit() {
    let curve = account(&barge()).curve.unwrap();
    let samples = curve.samples(20);
    assert_eq!(samples.len(), 21);
    assert_eq!(samples[0], (0.0, 0.0));
    near(samples[20].0, 0.4f64.atan(), 1e-12);
    assert!(samples.windows(2).all(|pair| pair[1].1 > pair[0].1));
}

/// A box laden and lightened: draught, KB and BM are exact; m g GM by the first-order rule is that of
/// the textbook's rules (new draught, KB, BM, KG) but for ½ Δm² g / (ρ A_w).
#[test]
fn loadings_of_a_box() {
    let input = Input {
        stores_height: 0.2,
        ..barge()
    };
    let found = account(&input);
    for loading in found.loadings.iter().flatten() {
        let mass = loading.displacement.unwrap();
        let (draught, added) = (mass / (1025.0 * 12.0), mass - 4920.0);
        near(loading.draught, draught, 1e-12);
        near(loading.buoyancy.unwrap(), 0.5 * draught, 1e-12);
        near(loading.radius.unwrap(), 4.0 / (12.0 * draught), 1e-12);
        let gravity = (4920.0 * 0.5 + added * 0.6) / mass;
        let height = 0.5 * draught + 4.0 / (12.0 * draught) - gravity;
        let exact = mass * GRAVITY * height;
        let second = 0.5 * added * added * GRAVITY / (1025.0 * 12.0);
        near(loading.stiffness.value, exact - second, 1e-12);
        near(loading.stiffness.value, exact, 0.006);
        near(loading.height.unwrap().value, height, 0.006);
        let walls = f64::min(draught, 1.0 - draught);
        near(loading.limit.tan(), walls, 1e-12);
    }
}

/// tan φ = √(2 |GM| / BM) (Derrett & Barrass p. 228): the clipped box has no lever there, and in a calm
/// that is where she lies.
#[test]
fn a_box_that_lolls() {
    let mut input = barge();
    input.hull.gravity = 1.05;
    let found = account(&input);
    let sailing = found.loadings[1].unwrap();
    let height = sailing.height.unwrap().value;
    near(height, 0.2 + 0.83333333 - 1.05, 1e-6);
    near(
        sailing.loll.tan(),
        (2.0 * 0.01666667 / 0.83333333f64).sqrt(),
        1e-5,
    );
    assert!(lever_by_clipping(&input.hull, 1.05, sailing.loll).abs() < 1e-6);
    assert_eq!(found.faults, [boat::Fault::Lolls]);
    assert_eq!(sailing.period, None);
    match found.heel(0, 0.0) {
        Some(boat::Heel::At(heel)) => near(heel.value, sailing.loll, 1e-6),
        other => panic!("{other:?}"),
    }
}
