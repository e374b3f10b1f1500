//! Nothing stops the account, and no number it gives is none.

use crate::boats::{cruiser, points, table};
use boat::{
    Account, Banded, Fin, Heel, Input, Method, Reading, Source, Step, Weight, Windage, account,
};
use proptest::prelude::*;

/// Numbers as they come, and as they should not.
fn any_number() -> impl Strategy<Value = f64> {
    prop_oneof![
        4 => -20.0..20.0,
        1 => Just(0.0),
        1 => prop_oneof![
            Just(f64::NAN),
            Just(f64::INFINITY),
            Just(f64::NEG_INFINITY),
            Just(f64::MAX),
            Just(-f64::MAX),
            Just(f64::MIN_POSITIVE),
            Just(1e30),
            Just(-1e30),
            any::<f64>(),
        ],
    ]
}

/// Puts wild numbers into some of the places of a boat that is in order.
fn spoil(input: &mut Input, numbers: &[(usize, f64)]) {
    for &(place, number) in numbers {
        let hull = &mut input.hull;
        let conditions = &mut input.conditions;
        let spot = match place {
            0 => &mut hull.length,
            1 => &mut hull.beam,
            2 => &mut hull.canoe_draught,
            3 => &mut hull.draught,
            4 => &mut hull.freeboard,
            5 => &mut hull.water,
            6 => &mut hull.waterplane,
            7 => &mut hull.inertia,
            8 => &mut hull.gravity,
            9 => &mut input.stores_height,
            10 => &mut input.crew.to_weather,
            11 => &mut input.crew.mass,
            12 => &mut input.bands.displacement,
            13 => &mut input.bands.height,
            14 => &mut input.greatest_factor,
            15 => &mut conditions.course.boat_speed,
            16 => &mut conditions.course.wind_angle,
            17 => &mut conditions.gradient.exponent,
            18 => &mut conditions.gradient.reference,
            19 => &mut conditions.comfort,
            20 => &mut conditions.exponent,
            21 => &mut conditions.running_force,
            22 => &mut input.roll.gyration,
            23 => input.loads[0].insert(1.0),
            24 => input.loads[1].insert(1.0),
            25 => input.loads[2].insert(1.0),
            26 => input.roll.period.insert(1.0),
            27 => &mut input.readings[1].tangent,
            28 => &mut input.readings[0].weight,
            29 => &mut input.table[1].0,
            30 => &mut input.table[2].1,
            31 => &mut input.off[0].mass,
            32 => &mut input.on[0].z,
            33 => &mut input.on[0].x,
            34 => &mut input.lateral.profile[1].x,
            35 => &mut input.lateral.profile[2].y,
            36 => &mut input.sails_now[0][0].x,
            37 => &mut input.lateral.fin.as_mut().unwrap().root.0,
            38 => &mut input.steps[1].windage[0].z,
            39 => &mut input.steps[0].sails[0].area,
            40 => &mut input.steps[0].sails[0].x,
            41 => &mut input.steps[0].sails[0].z,
            42 => &mut input.steps[1].sails[0].force,
            43 => &mut input.steps[1].sails[0].efficiency,
            44 => &mut input.steps[1].sails[0].pressure_aft,
            45 => &mut input.steps[1].sails[0].chord,
            46 => &mut input.steps[1].sails[0].squared,
            _ => &mut input.steps[1].windage[0].area,
        };
        *spot = number;
    }
}

fn whole() -> Input {
    let mut input = cruiser();
    input.readings = crate::boats::readings(22_000.0, &[-900.0, -300.0, 500.0, 900.0]);
    input.table = table(&|heel| 0.35 * (1.5 * heel).sin(), 120);
    input.off = vec![Weight {
        mass: 60.0,
        x: 2.0,
        z: 4.0,
    }];
    input.on = input.off.clone();
    input.sails_now = vec![points(&[(0.0, 1.0), (3.0, 1.0), (0.0, 4.0)])];
    input.lateral.fin = Some(Fin {
        root: (2.0, 4.0),
        tip: (2.5, 3.8),
    });
    input
}

/// No number of a result is none; ends of bands may be infinite, values not.
fn sound(found: &Account) -> Result<(), TestCaseError> {
    let band = |b: Banded| b.value.is_finite() && !b.least.is_nan() && !b.most.is_nan();
    let number = |n: Option<f64>| n.is_none_or(f64::is_finite);
    for loading in found
        .loadings
        .iter()
        .flatten()
        .chain(found.swap.iter().flat_map(|swap| &swap.before))
    {
        prop_assert!(band(loading.stiffness) && loading.stiffness.least <= loading.stiffness.value);
        prop_assert!(
            loading.height.is_none_or(band) && band(loading.greatest),
            "{loading:?}"
        );
        prop_assert!(loading.moments.into_iter().all(number), "{loading:?}");
        prop_assert!(
            loading.limit.is_finite() && loading.loll.is_finite() && number(loading.vanishing)
        );
        prop_assert!(
            number(loading.period) && number(loading.gravity),
            "{loading:?}"
        );
        prop_assert!(
            number(loading.buoyancy) && number(loading.radius),
            "{loading:?}"
        );
        prop_assert!(loading.draught.is_finite());
    }
    for step in &found.steps {
        for limit in [step.on, step.off, step.knocked_down].into_iter().flatten() {
            prop_assert!(
                band(limit.forecast) && limit.apparent.is_finite(),
                "{step:?}"
            );
            prop_assert!(limit.forecast.value >= 0.0 && limit.beaufort <= 12);
        }
        prop_assert!(
            number(step.lead) && number(step.shift) && number(step.yaw_arm),
            "{step:?}"
        );
        prop_assert!(
            step.sails
                .iter()
                .all(|s| number(s.lead) && number(s.margin))
        );
    }
    let ratios = &found.ratios;
    prop_assert!(
        number(ratios.area_displacement)
            && number(ratios.displacement_length)
            && number(ratios.area_wetted)
            && number(ratios.block)
    );
    prop_assert!(
        found
            .swap
            .is_none_or(|s| (s.mass + s.sinkage + s.trim).is_finite())
    );
    prop_assert!(
        found
            .rig_now
            .is_none_or(|r| number(r.lead) && r.together.area.is_finite())
    );
    prop_assert!(found.resistance.is_none_or(|r| (r.x + r.z).is_finite()));
    prop_assert!(number(found.rolled));
    for wind in [0.0, 8.0, 1e9, f64::NAN, -5.0] {
        for step in [0, 1, 99] {
            if let Some(Heel::At(heel)) = found.heel(step, wind) {
                prop_assert!(heel.value.is_finite() && !heel.most.is_nan() && !heel.least.is_nan());
            }
        }
        let _ = (found.advice(wind, false), found.advice(wind, true));
    }
    if let Some(curve) = &found.curve {
        for (heel, moment) in curve.samples(30) {
            prop_assert!(heel.is_finite() && moment.is_finite());
        }
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2000))]
    #[test]
    fn any_numbers_at_all(
        numbers in prop::collection::vec((0..48usize, any_number()), 0..5),
        source in prop_oneof![Just(Source::Form), Just(Source::Test), Just(Source::Table)],
        keel in any::<bool>(),
        loading in 0..5usize,
        crew in 0..3,
    ) {
        let mut input = Input { source, loading, ..whole() };
        input.crew.to_weather = f64::from(crew);
        if keel {
            input.lateral.method = Method::Keel;
        }
        spoil(&mut input, &numbers);
        sound(&account(&input))?;
    }

    #[test]
    fn lists_of_any_length(
        readings in prop::collection::vec((any_number(), any_number(), any_number()), 0..6),
        rows in prop::collection::vec((any_number(), any_number()), 0..6),
        outline in prop::collection::vec((any_number(), any_number()), 0..8),
        steps in prop::collection::vec((any_number(), any_number()), 0..3),
        test in any::<bool>(),
    ) {
        let mut input = whole();
        input.source = if test { Source::Test } else { Source::Table };
        input.readings = readings
            .into_iter()
            .map(|(weight, distance, tangent)| Reading { weight, distance, tangent })
            .collect();
        input.table = rows;
        input.lateral.profile = points(&outline);
        input.sails_now = vec![points(&outline), Vec::new()];
        input.steps = steps
            .into_iter()
            .map(|(area, z)| Step {
                sails: Vec::new(),
                windage: vec![Windage { force: 1.0, area, z }],
            })
            .collect();
        sound(&account(&input))?;
    }
}

/// No boat at all: everything is named, nothing is worked out.
#[test]
fn nothing_at_all() {
    use boat::Fault;
    let mut input = whole();
    input.hull.length = 0.0;
    input.loads = [None; 3];
    input.lateral.profile.clear();
    input.steps.clear();
    input.sails_now.clear();
    let found = account(&input);
    assert_eq!(found.faults, [Fault::Hull, Fault::Displacement]);
    assert!(found.loadings.iter().all(Option::is_none) && found.curve.is_none());
    assert_eq!(found.heel(0, 8.0), None);
    assert_eq!(found.advice(8.0, false), None);

    // Zero and negative displacement are none.
    for mass in [0.0, -5.0, f64::NAN] {
        let mut input = whole();
        input.loads = [Some(mass); 3];
        let found = account(&input);
        assert_eq!(found.faults, [Fault::Displacement]);
        assert!(found.resistance.is_some() && found.steps.len() == 7);
        assert_eq!(found.steps[0].on, None);
        assert_eq!(found.ratios.area_displacement, None);
    }
    // The loading she sails in has to be known.
    let mut input = whole();
    (input.loading, input.loads[2]) = (2, None);
    let found = account(&input);
    assert_eq!(found.faults, [Fault::Displacement]);
    assert!(found.loadings[1].is_some() && found.curve.is_none());
    // A test does without, but not to tell laden from sailing.
    (input.source, input.loads) = (Source::Test, [None, None, Some(3000.0)]);
    assert_eq!(account(&input).faults, [Fault::Displacement]);
    for (readings, fault) in [
        (Vec::new(), Fault::NoReadings),
        (
            crate::boats::readings(-9000.0, &[-900.0, 900.0]),
            Fault::ReadingsAgainst,
        ),
    ] {
        let input = Input {
            source: Source::Test,
            readings,
            ..whole()
        };
        let found = account(&input);
        assert_eq!(found.faults, [fault]);
        assert!(found.loadings[1].is_none() && found.test.is_none());
    }
}

/// What a table is not, and numbers that are none.
#[test]
fn tables_and_numbers_that_are_none() {
    use boat::Fault;
    let falling = vec![(0.0, 0.0), (0.5, 0.2), (0.4, 0.3)];
    for (table, fault) in [(Vec::new(), Fault::NoTable), (falling, Fault::Table)] {
        let input = Input {
            source: Source::Table,
            table,
            ..whole()
        };
        let found = account(&input);
        assert_eq!(found.faults, [fault]);
        assert!(found.curve.is_none() && found.steps[0].lead.is_some());
    }
    let mut input = whole();
    input.steps[3].sails[0].z = f64::NAN;
    let found = account(&input);
    assert_eq!((found.faults, found.steps.len()), (vec![Fault::Number], 3));
    let mut input = whole();
    input.crew.arm = f64::NAN;
    assert_eq!(account(&input).faults, [Fault::Number]);
}

/// A profile of more points than anyone traces is refused, and quickly.
#[test]
fn a_hundred_thousand_points() {
    let mut input = whole();
    let point = |i: u32| {
        (
            6.0 * f64::from(i % 997) / 997.0,
            -f64::from(i % 331) / 331.0,
        )
    };
    let all: Vec<(f64, f64)> = (0..100_000).map(point).collect();
    input.lateral.profile = points(&all);
    let start = std::time::Instant::now();
    let found = account(&input);
    assert!(start.elapsed().as_millis() < 500);
    assert_eq!(found.resistance, None);
}
