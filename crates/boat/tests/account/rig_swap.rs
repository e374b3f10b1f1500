//! The old rig off, the new one on.

use crate::boats::{barge, near};
use boat::{GRAVITY, Input, Source, Weight, account};

fn weight(mass: f64, x: f64, z: f64) -> Weight {
    Weight { mass, x, z }
}

fn swapped() -> Input {
    Input {
        off: vec![weight(40.0, 2.4, 3.5), weight(15.0, 4.0, 1.2)],
        on: vec![weight(70.0, 1.5, 3.0), weight(30.0, 2.6, 2.5)],
        ..barge()
    }
}

/// A box whose every height is known: after the change GM is that of the textbook's rules (new draught,
/// KB, BM, KG), the first-order rule within its second order.
#[test]
fn stiffness_after_is_that_of_the_reckoned_box() {
    let found = account(&swapped());
    let (swap, after) = (found.swap.unwrap(), found.loadings[1].unwrap());
    let before = swap.before.unwrap();
    assert_eq!(before.displacement, Some(4920.0));
    near(before.height.unwrap().value, 0.5333333, 1e-6);
    // By hand: 45 kg more; moment about the waterline 210 + 75 - 140 - 18 = 127 kg m.
    near(swap.mass, 45.0, 1e-12);
    near(
        after.stiffness.value,
        before.stiffness.value - 127.0 * GRAVITY,
        1e-12,
    );
    let mass = 4965.0;
    let draught = mass / (1025.0 * 12.0);
    let gravity = (4920.0 * 0.5 + 127.0 + 45.0 * 0.4) / mass;
    let height = 0.5 * draught + 4.0 / (12.0 * draught) - gravity;
    near(after.height.unwrap().value, height, 1e-4);
    near(after.gravity.unwrap(), gravity, 1e-4);
    near(after.draught - before.draught, swap.sinkage, 1e-9);
}

/// The ratios are those of the boat with the new rig on: 45 kg more of displacement, V = 4965/1025.
#[test]
fn ratios_go_by_the_new_rig() {
    let (before, after) = (account(&barge()).ratios, account(&swapped()).ratios);
    let change = |old: Option<f64>, new: Option<f64>| new.unwrap() / old.unwrap();
    let heavier: f64 = 4965.0 / 4920.0;
    near(
        change(before.displacement_length, after.displacement_length),
        heavier,
        1e-12,
    );
    near(
        change(before.area_displacement, after.area_displacement),
        heavier.powf(-2.0 / 3.0),
        1e-12,
    );
}

/// Tonnes per centimetre in salt water A_w / 97.56 (Derrett & Barrass): 12 m² sink 1 cm for 0.123 t.
#[test]
fn sinkage_is_that_of_tonnes_per_centimetre() {
    let found = account(&swapped()).swap.unwrap();
    near(found.sinkage, 0.01 * 0.045 / (12.0 / 97.56), 1e-3);
}

/// Change of trim = trimming moment / MCTC, MCTC = W GM_L / (100 L) (Derrett & Barrass). Here with the
/// box's own GM_L = KB + L²/(12 d) - KG, which the account takes as BM_L: 4 % apart in so short a box.
#[test]
fn trim_is_that_of_the_moment_to_change_it() {
    let mut input = barge();
    input.off = vec![weight(50.0, 1.0, 2.0)];
    input.on = vec![weight(50.0, 4.0, 2.0)];
    let found = account(&input).swap.unwrap();
    let longitudinal = 0.2 + 36.0 / (12.0 * 0.4) - 0.5;
    let tonnes = 4.92;
    let centimetres = 0.05 * 3.0 / (tonnes * longitudinal / (100.0 * 6.0));
    assert!(found.trim > 0.0 && found.sinkage.abs() < 1e-12);
    near(found.trim, 0.01 * centimetres, 0.045);
}

/// A mast of 70 kg at 5 m on a boat that rolls like a rod: I = m k² + Σ Δm (z - z_G)², T = 2π √(I/(m g GM)),
/// worked out by hand.
#[test]
fn spars_aloft_slow_her_roll() {
    let mut input = barge();
    input.on = vec![weight(70.0, 2.0, 5.0)];
    let found = account(&input);
    let (before, after) = (
        found.swap.unwrap().before.unwrap(),
        found.loadings[1].unwrap(),
    );
    let tau = core::f64::consts::TAU;
    near(
        before.period.unwrap(),
        tau * 0.8 / (GRAVITY * 0.5333333f64).sqrt(),
        1e-6,
    );
    // The centre of gravity lies 0.1 m above the water, some 7 cm higher with the mast.
    let above = after.gravity.unwrap() - after.draught;
    near(above, (4920.0 * 0.1 + 70.0 * 5.0) / 4990.0, 0.05);
    let inertia = 4920.0 * 0.64 + 70.0 * (5.0 - above) * (5.0 - above);
    near(
        after.period.unwrap(),
        tau * (inertia / after.stiffness.value).sqrt(),
        1e-9,
    );
    assert!(after.period.unwrap() > 1.3 * before.period.unwrap());
}

/// A test is corrected as it stands: no displacement comes in.
#[test]
fn a_test_without_displacement_is_corrected_too() {
    let input = Input {
        source: Source::Test,
        readings: crate::boats::readings(9000.0, &[-300.0, -150.0, 150.0, 300.0]),
        loads: [None; 3],
        ..swapped()
    };
    let found = account(&input);
    near(
        found.loadings[1].unwrap().stiffness.value,
        9000.0 - 127.0 * GRAVITY,
        1e-9,
    );
    assert!(found.faults.is_empty());
}

/// A table is corrected by -Σ Δm g z sin φ all along.
#[test]
fn a_table_is_corrected_all_along() {
    let mut input = swapped();
    input.source = Source::Table;
    input.table = crate::boats::table(&|heel| 0.3 * (2.0 * heel).sin(), 90);
    let found = account(&input);
    let curve = found.curve.as_ref().unwrap();
    for degrees in [10.0, 20.0, 40.0, 60.0_f64] {
        let heel = degrees.to_radians();
        let wanted = GRAVITY * (4920.0 * 0.3 * (2.0 * heel).sin() - 127.0 * heel.sin());
        near(curve.moment(heel).unwrap(), wanted, 1e-9);
    }
    // 4920 x 0.3 sin 2φ = 127 sin φ where cos φ = 127 / 2952.
    let vanishing = found.loadings[1].unwrap().vanishing.unwrap();
    near(vanishing, (127.0 / 2952.0f64).acos(), 2e-3);
}
