//! Invented boats, and what tests ask of all of them.

use boat::{
    Bands, Conditions, Crew, Hull, Input, Lateral, Method, Reading, Roll, Sail, Source, Step,
    Windage,
};
use kurbo::Point;
use wind::{Course, Gradient};

/// A barge shaped like a box, 6 x 2 m, floating at 0.4 m with 0.6 m of freeboard, her weight at half
/// her depth: 4920 kg, KB 0.2, BM 0.8333, KG 0.5, GM 0.5333 m. One sail of 12 m² at 3 m, her side in the
/// wind 3 m² at 0.3 m; no boat speed and no gradient.
pub(crate) fn barge() -> Input {
    Input {
        hull: Hull {
            length: 6.0,
            beam: 2.0,
            canoe_draught: 0.4,
            draught: 0.4,
            freeboard: 0.6,
            water: 1025.0,
            waterplane: 1.0,
            inertia: 1.0 / 12.0,
            gravity: 0.5,
        },
        source: Source::Form,
        readings: Vec::new(),
        table: Vec::new(),
        roll: Roll {
            period: None,
            gyration: 0.8,
        },
        loads: [Some(4600.0), Some(4920.0), Some(5500.0)],
        stores_height: 0.0,
        loading: 1,
        crew: Crew {
            to_weather: 0.0,
            mass: 75.0,
            arm: 0.7,
        },
        off: Vec::new(),
        on: Vec::new(),
        bands: Bands {
            displacement: 0.10,
            height: 0.25,
        },
        greatest_factor: 1.4,
        lateral: Lateral {
            method: Method::Profile,
            profile: points(&[(0.0, 0.0), (0.0, -0.4), (6.0, -0.4), (6.0, 0.0)]),
            fin: None,
        },
        sails_now: Vec::new(),
        conditions: Conditions {
            course: Course {
                boat_speed: 0.0,
                wind_angle: 50f64.to_radians(),
            },
            gradient: Gradient {
                exponent: 0.0,
                reference: 10.0,
            },
            comfort: 15f64.to_radians(),
            exponent: 1.3,
            running_force: 1.2,
        },
        steps: vec![step(12.0, 3.0)],
    }
}

/// A reef of the barge.
pub(crate) fn step(area: f64, z: f64) -> Step {
    Step {
        sails: vec![Sail {
            area,
            x: 2.7,
            z,
            force: 1.2,
            efficiency: 1.0,
            pressure_aft: 0.3,
            chord: 3.0,
            squared: 1.2,
        }],
        windage: vec![Windage {
            force: 1.0,
            area: 3.0,
            z: 0.3,
        }],
    }
}

/// Seven steps of a cruising boat of usual proportions: 6.3 m on the water, 2.8 t, 28 m².
pub(crate) fn cruiser() -> Input {
    let steps = (0..7)
        .map(|reef| {
            let left = 1.0 - f64::from(reef) / 7.5;
            step(28.0 * left, 1.6 + 3.0 * left)
        })
        .collect();
    Input {
        hull: Hull {
            length: 6.3,
            beam: 2.23,
            canoe_draught: 0.575,
            draught: 1.15,
            freeboard: 0.74,
            water: 1025.0,
            waterplane: 0.67,
            inertia: 0.040,
            gravity: 0.62,
        },
        loads: [Some(2600.0), Some(2800.0), Some(3130.0)],
        stores_height: 0.1,
        conditions: Conditions {
            course: Course {
                boat_speed: 2.5,
                wind_angle: 50f64.to_radians(),
            },
            gradient: Gradient::default(),
            ..barge().conditions
        },
        lateral: Lateral {
            profile: points(&[
                (0.0, 0.0),
                (0.8, -0.4),
                (2.6, -1.0),
                (5.5, -1.15),
                (6.3, 0.0),
            ]),
            ..barge().lateral
        },
        steps,
        ..barge()
    }
}

/// What the pendulum reads of a boat that has this stiffness [N m], moments in newton metres.
pub(crate) fn readings(stiffness: f64, moments: &[f64]) -> Vec<Reading> {
    moments
        .iter()
        .map(|moment| Reading {
            weight: moment.abs() / boat::GRAVITY,
            distance: moment.signum(),
            tangent: moment / stiffness,
        })
        .collect()
}

pub(crate) fn points(list: &[(f64, f64)]) -> Vec<Point> {
    list.iter().map(|p| Point::new(p.0, p.1)).collect()
}

/// A GZ table in steps of five degrees up to an angle in degrees.
pub(crate) fn table(gz: &dyn Fn(f64) -> f64, to: u32) -> Vec<(f64, f64)> {
    (0..=to / 5)
        .map(|i| f64::from(5 * i).to_radians())
        .map(|heel| (heel, gz(heel)))
        .collect()
}

#[track_caller]
pub(crate) fn near(found: f64, wanted: f64, share: f64) {
    assert!(
        (found - wanted).abs() <= share * wanted.abs(),
        "{found} is not {wanted} within {share}"
    );
}
