//! Centre of lateral resistance, lead, overbalance.

use crate::boats::{barge, near, points};
use boat::{Fault, Fin, Input, Method, Sail, Step, account};
use geo::{Area, BooleanOps, Centroid, LineString, Polygon};
use proptest::prelude::*;

fn profile(list: &[(f64, f64)]) -> Input {
    let mut input = barge();
    input.lateral.profile = points(list);
    input
}

/// Quadrilateral (0,0)(4,0)(5,3)(1,4) by the shoelace formula: 14.5, centroid (2.41379, 1.78161); here upside
/// down under water. The trapezium of the textbook: bottom 6, top 4, height 3: (2.53333, 1.4).
#[test]
fn textbook_outlines() {
    let found = account(&profile(&[
        (0.0, 0.0),
        (4.0, 0.0),
        (5.0, -3.0),
        (1.0, -4.0),
    ]));
    let at = found.resistance.unwrap();
    near(at.area.unwrap(), 14.5, 1e-12);
    near(at.x, 2.413793103448276, 1e-12);
    near(at.z, -1.781609195402299, 1e-12);
    near(found.pivot, at.z, 1e-15);

    let mut input = barge();
    input.sails_now = vec![points(&[(0.0, 0.0), (6.0, 0.0), (4.0, 3.0), (0.0, 3.0)])];
    let now = account(&input).rig_now.unwrap();
    let sail = now.together;
    near(sail.area, 15.0, 1e-12);
    near(sail.x, 2.533333333333333, 1e-12);
    near(sail.z, 1.4, 1e-12);
    // The barge's profile is centred at 3 m of her 6.
    near(now.lead.unwrap(), (3.0 - sail.x) / 6.0, 1e-12);
}

/// Several sails: by area; main and jib as triangles, worked by hand: (9 x 3 + 4.5 x 1)/13.5.
#[test]
fn the_rig_she_has_now() {
    let mut input = barge();
    input.sails_now = vec![
        points(&[(2.0, 1.0), (5.0, 1.0), (2.0, 7.0)]),
        points(&[(0.0, 1.0), (1.5, 1.0), (1.5, 7.0)]),
    ];
    let now = account(&input).rig_now.unwrap();
    let all = now.together;
    near(all.area, 13.5, 1e-12);
    near(all.x, (9.0 * 3.0 + 4.5 * 1.0) / 13.5, 1e-12);
    near(all.z, 3.0, 1e-12);
    assert_eq!(account(&barge()).rig_now, None);
}

#[test]
fn an_outline_that_crosses_itself_is_no_number() {
    let bow_tie = [(0.0, 0.0), (6.0, -1.0), (6.0, 0.0), (0.0, -1.0)];
    let found = account(&profile(&bow_tie));
    assert_eq!(found.resistance, None);
    assert_eq!(found.faults, [Fault::ProfileCrosses]);
    assert_eq!(found.steps[0].lead, None);
    // Heel still is: about half the draught.
    near(found.pivot, -0.2, 1e-12);
    assert!(found.steps[0].on.is_some());

    let mut input = barge();
    input.sails_now = vec![
        points(&bow_tie),
        points(&[(0.0, 0.0), (3.0, 3.0)]),
        points(&[(0.0, 1.0), (3.0, 1.0), (0.0, 4.0)]),
        Vec::new(),
    ];
    let found = account(&input);
    assert_eq!(
        found.faults,
        [
            Fault::SailCrosses(0),
            Fault::SailEmpty(1),
            Fault::SailEmpty(3)
        ]
    );
    near(found.rig_now.unwrap().together.area, 4.5, 1e-12);
}

#[test]
fn nothing_traced() {
    let found = account(&profile(&[]));
    assert_eq!(
        (found.resistance, found.faults),
        (None, vec![Fault::NoProfile])
    );
    let mut input = barge();
    input.lateral.method = Method::Keel;
    assert_eq!(account(&input).faults, [Fault::NoFin]);
}

/// A keel traced down and up one line (a plate) and a first point told twice cross nothing.
#[test]
fn lines_that_touch_do_not_cross() {
    let found = account(&profile(&[
        (0.0, 0.0),
        (0.0, -0.4),
        (3.0, -0.4),
        (3.0, -1.0),
        (3.0, -0.4),
        (6.0, -0.4),
        (6.0, 0.0),
        (0.0, 0.0),
    ]));
    assert!(found.faults.is_empty());
    near(found.resistance.unwrap().x, 3.0, 1e-12);
}

/// What is traced above the waterline does not count.
#[test]
fn only_what_is_under_water_counts() {
    let under = account(&barge()).resistance.unwrap();
    let whole = account(&profile(&[
        (-0.5, 0.8),
        (0.0, 0.0),
        (0.0, -0.4),
        (6.0, -0.4),
        (6.0, 0.0),
        (6.7, 0.9),
    ]));
    let found = whole.resistance.unwrap();
    near(found.x, under.x, 1e-12);
    near(found.z, under.z, 1e-12);
    near(found.area.unwrap(), 2.4, 1e-12);
}

/// Extended keel, by hand: draught 1.5 m, body 0.4; root 2.0 to 3.6 m, tip 2.5 to 3.5. At 45 % of the draught,
/// 0.675 m, share (0.675 - 0.4)/1.1 = 0.25: edges 2.125 and 3.575, a quarter of the chord at 2.4875. The
/// rule is of the textbooks, from memory: only the arithmetic is held here.
#[test]
fn extended_keel_by_hand() {
    let mut input = barge();
    input.hull.draught = 1.5;
    input.lateral.method = Method::Keel;
    input.lateral.fin = Some(Fin {
        root: (2.0, 3.6),
        tip: (2.5, 3.5),
    });
    let found = account(&input).resistance.unwrap();
    near(found.x, 2.4875, 1e-12);
    near(found.z, -0.675, 1e-12);
    assert_eq!(found.area, None);
    for (root, tip) in [((3.6, 2.0), (3.5, 2.5)), ((f64::NAN, 3.0), (1.0, 2.0))] {
        input.lateral.fin = Some(Fin { root, tip });
        assert_eq!(account(&input).faults, [Fault::NoFin]);
    }
}

fn sail(area: f64, x: f64, efficiency: f64) -> Sail {
    Sail {
        area,
        x,
        z: 3.0,
        force: 1.2,
        efficiency,
        pressure_aft: 0.1 * x,
        chord: 2.0,
        squared: 1.0 + x,
    }
}

/// Two masts, by hand: 10 m² at 1 m and 6 m² at 5 m that works at 0.8: CE (10 + 24)/14.8 = 2.2973 m; the profile's
/// centre at 3 m of 6: leads 11.7 %, alone 33.3 and -33.3 %. Fore sail reefed to 5 m² at 1.2 m: CE
/// (6 + 24)/9.8 = 3.0612, a shift aft of 12.7 %. Yaw arm (10 x 2 + 4.8 x 6)/14.8.
#[test]
fn two_masts_by_hand() {
    let mut input = barge();
    input.steps = vec![
        Step {
            sails: vec![sail(10.0, 1.0, 1.0), sail(6.0, 5.0, 0.8)],
            windage: Vec::new(),
        },
        Step {
            sails: vec![sail(5.0, 1.2, 1.0), sail(6.0, 5.0, 0.8)],
            windage: Vec::new(),
        },
        Step {
            sails: vec![sail(0.0, 1.2, 1.0), sail(6.0, 5.0, 0.8)],
            windage: Vec::new(),
        },
    ];
    let found = account(&input);
    let [full, reefed, after] = found.steps.as_slice() else {
        panic!("three steps");
    };
    near(full.centre.unwrap().x, 34.0 / 14.8, 1e-12);
    near(full.area, 16.0, 1e-12);
    near(full.lead.unwrap(), (3.0 - 34.0 / 14.8) / 6.0, 1e-12);
    near(full.sails[0].lead.unwrap(), 2.0 / 6.0, 1e-12);
    near(full.sails[1].lead.unwrap(), -2.0 / 6.0, 1e-12);
    assert_eq!(full.shift, Some(0.0));
    near(
        reefed.shift.unwrap(),
        (34.0 / 14.8 - 30.0 / 9.8) / 6.0,
        1e-9,
    );
    near(
        reefed.lead.unwrap() - full.lead.unwrap(),
        reefed.shift.unwrap(),
        1e-9,
    );
    near(
        full.yaw_arm.unwrap(),
        (10.0 * 2.0 + 4.8 * 6.0) / 14.8,
        1e-12,
    );
    near(full.sails[1].margin.unwrap(), 0.25, 1e-12);
    assert_eq!((after.sails[0].lead, after.sails[0].margin), (None, None));
    near(after.lead.unwrap(), -2.0 / 6.0, 1e-12);
}

proptest! {
    /// A star-shaped outline, cut at the waterline, against an independent polygon library.
    #[test]
    fn any_profile_has_the_centre_of_the_library(
        radii in prop::collection::vec(0.3..2.0, 3..30), deep in -0.2..1.5
    ) {
        let n = radii.len() as f64;
        let outline: Vec<(f64, f64)> = radii
            .iter()
            .enumerate()
            .map(|(i, r)| (std::f64::consts::TAU * i as f64 / n, r))
            .map(|(angle, r)| (3.0 + r * angle.cos(), r * angle.sin() - deep))
            .collect();
        let whole = Polygon::new(LineString::from(outline.clone()), Vec::new());
        let sea = Polygon::new(
            LineString::from(vec![(-9.0, -9.0), (9.0, -9.0), (9.0, 0.0), (-9.0, 0.0)]),
            Vec::new(),
        );
        let under = whole.intersection(&sea);
        prop_assume!(under.unsigned_area() > 0.01);
        let found = account(&profile(&outline)).resistance.unwrap();
        prop_assert!((found.area.unwrap() - under.unsigned_area()).abs() < 1e-5);
        let centre = under.centroid().unwrap();
        prop_assert!((found.x - centre.x()).abs() < 1e-4 && (found.z - centre.y()).abs() < 1e-4);
    }

    /// Whether lines cross, against the library's own word on validity.
    #[test]
    fn crossing_is_what_the_library_finds(
        list in prop::collection::vec((0.0..6.0, -3.0..0.0), 3..9)
    ) {
        use geo::Validation;
        let polygon = Polygon::new(LineString::from(list.clone()), Vec::new());
        let found = account(&profile(&list));
        let crosses = found.faults.contains(&Fault::ProfileCrosses);
        prop_assert_eq!(crosses, !polygon.is_valid());
    }
}
