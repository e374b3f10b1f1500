//! Heel for a wind, wind for a heel, and what to carry.

use crate::boats::{barge, cruiser, near, step, table};
use boat::{Advice, GRAVITY, Governs, Heel, Input, Source, account};
use wind::{Gradient, KNOT};

/// Worked by hand for the box barge: RM(15°) = 4920 g sin 15° (0.53333 + ½ 0.83333 tan² 15°) = 7033.7 N m;
/// over cos^1.3 15° = 0.95593: 7357.9 N m upright. Her profile's centre lies at -0.2 m: Σ C A h
/// = 1.2 x 12 x 3.2 + 1.0 x 3 x 0.5 = 47.58 m³. So q = 154.64 Pa, V = 15.890 m/s.
#[test]
fn reef_wind_of_the_barge_by_hand() {
    let found = account(&barge());
    let sailing = found.loadings[1].unwrap();
    near(
        found
            .curve
            .as_ref()
            .unwrap()
            .moment(15f64.to_radians())
            .unwrap(),
        7033.67,
        1e-6,
    );
    assert_eq!(sailing.moments[3], None);
    let first = &found.steps[0];
    near(found.pivot, -0.2, 1e-9);
    near(first.moment, 47.58, 1e-9);
    let on = first.on.unwrap();
    near(on.apparent, 15.8896, 1e-5);
    near(on.forecast.value, 15.8896, 1e-5);
    assert_eq!((on.beaufort, on.governs), (7, Governs::Heel));
    // Running: 1.2 q 12 = 154.64 x (14.4 + 3), so q = 186.86 Pa.
    let off = first.off.unwrap();
    near(off.apparent, 17.4665, 1e-5);
    assert_eq!((off.beaufort, off.governs), (8, Governs::Force));
}

/// The same under way, by hand: at 2.5 m/s and 50°, true at the sail √(15.8896² - (2.5 sin 50°)²) less
/// 2.5 cos 50° is 14.167 m/s; at 3 m the gradient leaves (3/10)^(1/7) = 0.84198: 16.826 m/s at 10 m. Running
/// (17.4665 + 2.5) / 0.84198 = 23.714.
#[test]
fn true_wind_of_the_barge_under_way_by_hand() {
    let mut input = barge();
    input.conditions.course.boat_speed = 2.5;
    input.conditions.gradient = Gradient::default();
    let step = account(&input).steps.remove(0);
    near(step.height, 3.0, 1e-12);
    near(step.on.unwrap().apparent, 15.8896, 1e-5);
    near(step.on.unwrap().forecast.value, 16.8255, 1e-5);
    near(step.off.unwrap().forecast.value, 23.7137, 1e-5);
}

/// With a known GZ, by hand: GZ = 0.4 sin 2φ and a wind moment that does not fall with heel balance at
/// sin 2φ = M/(0.4 m g); the most is at 45°, M = 0.4 m g; greatest 0.4 m g; it vanishes at 90°.
#[test]
fn barge_with_a_known_table_by_hand() {
    let mut input = barge();
    input.source = Source::Table;
    input.table = table(&|heel| 0.4 * (2.0 * heel).sin(), 100);
    input.conditions.exponent = 0.0;
    let found = account(&input);
    let full = 0.4 * 4920.0 * GRAVITY;
    let sailing = found.loadings[1].unwrap();
    near(sailing.height.unwrap().value, 0.8, 1e-3);
    near(sailing.greatest.value, full, 1e-7);
    assert!(!sailing.estimated);
    near(sailing.vanishing.unwrap().to_degrees(), 90.0, 1e-9);
    near(sailing.limit.to_degrees(), 100.0, 1e-12);
    near(
        sailing.moments[3].unwrap(),
        full * 60f64.to_radians().sin(),
        1e-9,
    );

    let down = found.steps[0].knocked_down.unwrap();
    near(down.apparent, wind::speed_of(full / 47.58), 1e-6);
    assert_eq!(down.governs, Governs::KnockedDown);
    assert_eq!(
        found.heel(0, 1.0001 * down.forecast.value),
        Some(Heel::KnockedDown)
    );
    for degrees in [5.0, 12.0, 30.0, 40.0_f64] {
        let moment = full * (2.0 * degrees.to_radians()).sin();
        let Some(Heel::At(heel)) = found.heel(0, wind::speed_of(moment / 47.58)) else {
            panic!("no heel at {degrees}");
        };
        assert!(
            (heel.value.to_degrees() - degrees).abs() < 0.05,
            "{degrees}"
        );
    }
    // Under a wind moment that falls as cos φ the same curve balances at sin φ = M/(0.8 m g), as far as 85°.
    let mut falling = input.clone();
    falling.conditions.exponent = 1.0;
    let steep = 75f64.to_radians();
    let wind = wind::speed_of(2.0 * full * steep.sin() / 47.58);
    match account(&falling).heel(0, wind) {
        Some(Heel::At(heel)) => near(heel.value, steep, 1e-4),
        other => panic!("{other:?}"),
    }
    // A comfort heel past the crest is never come to: she goes over first.
    input.conditions.comfort = 50f64.to_radians();
    let on = account(&input).steps[0].on.unwrap();
    assert_eq!(on.governs, Governs::KnockedDown);
    near(on.forecast.value, down.forecast.value, 1e-9);
}

/// Just short of the wind that knocks her down, a boat that is a little lighter has no balance: the band has
/// no upper end, and there is no heel above it.
#[test]
fn near_the_crest_the_band_is_open() {
    let mut input = barge();
    input.source = Source::Table;
    input.table = table(&|heel| 0.4 * (2.0 * heel).sin(), 100);
    input.conditions.exponent = 0.0;
    let found = account(&input);
    let down = found.steps[0].knocked_down.unwrap().forecast;
    assert!(down.least < down.value && down.value < down.most);
    match found.heel(0, 0.98 * down.value) {
        Some(Heel::At(heel)) => {
            assert_eq!(heel.most, f64::INFINITY);
            assert!(heel.least < heel.value && heel.value < 45f64.to_radians());
        }
        other => panic!("{other:?}"),
    }
    match found.heel(0, 0.9 * down.least) {
        Some(Heel::At(heel)) => assert!(heel.most < 45f64.to_radians()),
        other => panic!("{other:?}"),
    }
}

/// A table that is still rising where it ends has no greatest value: the rule's estimate, or what is
/// reached, whichever is more.
#[test]
fn a_table_that_ends_too_soon() {
    let mut input = barge();
    input.source = Source::Table;
    input.table = table(&f64::sin, 30);
    let sailing = account(&input).loadings[1].unwrap();
    assert!(sailing.estimated && sailing.vanishing.is_none());
    near(sailing.greatest.value, 0.7 * 4920.0 * GRAVITY, 1e-4);
    input.greatest_factor = 0.5;
    let sailing = account(&input).loadings[1].unwrap();
    near(sailing.greatest.value, 0.5 * 4920.0 * GRAVITY, 1e-9);
}

/// Greatest by the rule: factor x m g GM sin 30°; √3 is that of a GM sin φ curve that holds to 60°.
#[test]
fn greatest_by_the_rule() {
    let mut input = barge();
    input.greatest_factor = 3f64.sqrt();
    let sailing = account(&input).loadings[1].unwrap();
    near(
        sailing.greatest.value,
        sailing.stiffness.value * 60f64.to_radians().sin(),
        1e-12,
    );
    assert!(sailing.estimated);
}

/// Past the comfort heel the curve ends: no more than its end is promised, and beyond it no number.
#[test]
fn comfort_past_the_end_of_the_curve() {
    let mut input = barge();
    input.conditions.comfort = 25f64.to_radians();
    let found = account(&input);
    let on = found.steps[0].on.unwrap();
    assert_eq!(on.governs, Governs::Curve);
    assert_eq!(found.steps[0].knocked_down, None);
    let limit = 0.4f64.atan();
    match found.heel(0, 0.9999 * on.forecast.value) {
        Some(Heel::At(heel)) => near(heel.value, limit, 1e-3),
        other => panic!("{other:?}"),
    }
    match found.heel(0, 1.001 * on.forecast.value) {
        Some(Heel::Past(end)) => near(end, limit, 1e-9),
        other => panic!("{other:?}"),
    }
}

/// Crew to weather adds Σ m g y cos φ: two of 75 kg 0.7 m out hold 1029.7 N m upright, and the heel is
/// nought until the wind has as much.
#[test]
fn crew_to_weather() {
    let mut input = barge();
    input.crew.to_weather = 2.0;
    let found = account(&input);
    let crew = 2.0 * 75.0 * 0.7 * GRAVITY;
    let heel = 10f64.to_radians();
    let bare = account(&barge()).loadings[1].unwrap();
    let held = found.loadings[1].unwrap();
    near(
        held.moments[1].unwrap() - bare.moments[1].unwrap(),
        crew * heel.cos(),
        1e-9,
    );
    near(
        held.greatest.value - bare.greatest.value,
        crew * 30f64.to_radians().cos(),
        1e-9,
    );
    assert_eq!(held.stiffness.value, bare.stiffness.value);
    let calm = wind::speed_of(0.99 * crew / 47.58);
    match found.heel(0, calm) {
        Some(Heel::At(heel)) => assert_eq!(heel.value, 0.0),
        other => panic!("{other:?}"),
    }
}

/// Wind for a heel and heel for a wind are one thing told twice, at every reef.
#[test]
fn there_and_back() {
    let found = account(&cruiser());
    for (i, step) in found.steps.iter().enumerate() {
        let on = step.on.unwrap();
        assert_eq!(on.governs, Governs::Heel);
        match found.heel(i, on.forecast.value) {
            Some(Heel::At(heel)) => near(heel.value.to_degrees(), 15.0, 1e-6),
            other => panic!("{other:?}"),
        }
        assert_eq!(on.beaufort, wind::beaufort::number(on.forecast.value));
    }
}

/// Each reef carries more wind; the advice is the first that does.
#[test]
fn advice_goes_down_the_sequence() {
    let found = account(&cruiser());
    for running in [false, true] {
        let limits: Vec<f64> = found
            .steps
            .iter()
            .map(|step| if running { step.off } else { step.on }.unwrap())
            .map(|limit| limit.forecast.value)
            .collect();
        assert!(
            limits.windows(2).all(|pair| pair[0] < pair[1]),
            "{limits:?}"
        );
        let governs = if running {
            Governs::Force
        } else {
            Governs::Heel
        };
        for (i, limit) in limits.iter().enumerate() {
            let at = found.advice(0.999 * limit, running).unwrap();
            assert_eq!(at.step, Some(i));
            assert_eq!(at.governs.is_some(), i > 0);
            let past = found.advice(1.001 * limit, running).unwrap();
            let step = (i + 1 < limits.len()).then_some(i + 1);
            assert_eq!(
                past,
                Advice {
                    step,
                    governs: Some(governs)
                }
            );
        }
        assert_eq!(found.advice(0.0, running).unwrap().step, Some(0));
    }
    // A cruiser of usual proportions takes her first reef in a fresh breeze or so (a band of the trade,
    // common practice: 10 to 22 kn).
    let first = found.steps[0].on.unwrap().forecast.value / KNOT;
    assert!(first > 10.0 && first < 22.0, "{first}");
}

/// Bare poles: what is left in the wind is felt at its own height, and running nothing is set.
#[test]
fn bare_poles() {
    let mut input = barge();
    input.steps = vec![step(0.0, 3.0)];
    let found = account(&input);
    let bare = &found.steps[0];
    near(bare.moment, 1.5, 1e-9);
    near(bare.height, 0.3, 1e-12);
    assert_eq!((bare.centre, bare.lead, bare.off), (None, None, None));
    assert!(bare.on.unwrap().forecast.value > 80.0);
    assert_eq!(found.advice(60.0, true).unwrap().step, Some(0));
}

/// A boat that cannot stand has no wind to spare, and says so.
#[test]
fn who_lolls_past_comfort_carries_nothing() {
    let mut input = barge();
    input.hull.gravity = 1.1;
    let found = account(&input);
    assert!(found.loadings[1].unwrap().loll > input.conditions.comfort);
    assert_eq!(found.steps[0].on.unwrap().forecast.value, 0.0);
    assert_eq!(found.advice(0.5, false).unwrap().step, None);
}

/// Wind goes by the loading chosen.
#[test]
fn a_laden_boat_carries_more() {
    let wind = |loading: usize| {
        let input = Input {
            loading,
            ..cruiser()
        };
        account(&input).steps[0].on.unwrap().forecast.value
    };
    assert!(wind(0) != wind(1) && wind(1) != wind(2));
    assert_eq!(wind(7), wind(1));
}

/// She goes no faster than the wind: in a calm nothing heels her; in 4 m/s abeam, at 10 m, she goes 4 of
/// her 6 m/s and feels √(4² + 4²) m/s; in more than 6 m/s her own speed holds.
#[test]
fn in_light_air_she_makes_no_wind_of_her_own() {
    let mut input = barge();
    input.conditions.course.boat_speed = 6.0;
    input.conditions.course.wind_angle = core::f64::consts::FRAC_PI_2;
    input.conditions.gradient = Gradient {
        exponent: 0.0,
        ..Gradient::default()
    };
    let found = account(&input);
    assert_eq!(found.felt(0, 0.0), Some(0.0));
    assert_eq!(found.heeling(0, 0.0), Some(0.0));
    near(found.felt(0, 4.0).unwrap(), 32f64.sqrt(), 1e-12);
    near(found.felt(0, 8.0).unwrap(), 10.0, 1e-12);
    assert_eq!(found.felt(99, 8.0), None);
}
