//! Bands against ten thousand drawn boats, and how often they hold the truth.

use crate::boats::{cruiser, near, table};
use boat::{Account, Banded, GRAVITY, Heel, Input, Reading, Source, account};

/// Seeded draws of the normal distribution: a 64-bit multiplicative generator (constants of Knuth's MMIX)
/// and the Box-Muller transform.
struct Draws(u64);

impl Draws {
    fn even(&mut self) -> f64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        ((self.0 >> 11) as f64 + 0.5) / (1u64 << 53) as f64
    }

    fn normal(&mut self) -> f64 {
        let radius = (-2.0 * self.even().ln()).sqrt();
        radius * (std::f64::consts::TAU * self.even()).cos()
    }

    /// 1 and an error whose 95 % half width this is.
    fn factor(&mut self, band: f64) -> f64 {
        1.0 + band * self.normal() / 1.96
    }
}

/// The same boat a share heavier, her GM another share off what form gives for the displacement.
fn drawn(input: &Input, heavier: f64, stiffer: f64) -> Input {
    let mut drawn = input.clone();
    for load in drawn.loads.iter_mut().flatten() {
        *load *= heavier;
    }
    let hull = &mut drawn.hull;
    let formed = hull.metacentre(drawn.loads[1].unwrap());
    let depth = hull.canoe_draught + hull.freeboard;
    hull.gravity -= (stiffer - 1.0) * formed.height / depth;
    drawn
}

/// Everything that carries a band, in one order; heels in the wind the second reef is for.
fn banded(found: &Account, wind: f64) -> Vec<Banded> {
    let mut all = Vec::new();
    for loading in found.loadings.iter().flatten() {
        all.push(loading.stiffness);
        all.extend(loading.height);
        all.push(loading.greatest);
    }
    for (i, step) in found.steps.iter().enumerate() {
        all.push(step.on.unwrap().forecast);
        all.push(step.off.unwrap().forecast);
        all.extend(step.knocked_down.map(|limit| limit.forecast));
        if i >= 2 {
            match found.heel(i, wind) {
                Some(Heel::At(heel)) => all.push(heel),
                other => panic!("{other:?}"),
            }
        }
    }
    all
}

/// Ends of every band within a tenth of the middle 95 % of 10,000 draws.
fn ends_are_those_of_the_draws(input: &Input, draw: &mut dyn FnMut(&Input) -> Input) {
    let found = account(input);
    let wind = 0.8 * found.steps[2].on.unwrap().forecast.value;
    let bands = banded(&found, wind);
    assert!(bands.len() > 20);
    let mut samples: Vec<Vec<f64>> = vec![Vec::new(); bands.len()];
    for _ in 0..10_000 {
        for (list, found) in samples.iter_mut().zip(banded(&account(&draw(input)), wind)) {
            list.push(found.value);
        }
    }
    for (i, (band, list)) in bands.iter().zip(&mut samples).enumerate() {
        assert_eq!(list.len(), 10_000);
        list.sort_by(f64::total_cmp);
        let (low, high) = (list[250], list[9749]);
        let room = 0.1 * (high - low) + 1e-12 * band.value.abs();
        let off = (band.least - low, band.most - high);
        assert!(
            off.0.abs() <= room && off.1.abs() <= room,
            "{i}: {band:?} is not {low} to {high}"
        );
    }
}

#[test]
fn from_form() {
    let mut draws = Draws(1);
    ends_are_those_of_the_draws(&cruiser(), &mut |input| {
        let (heavier, stiffer) = (draws.factor(0.10), draws.factor(0.25));
        drawn(input, heavier, stiffer)
    });
}

/// Crew to weather and stores below the water bend what follows from the inputs.
#[test]
fn from_form_with_crew_and_stores() {
    let mut input = cruiser();
    input.crew.to_weather = 2.0;
    input.stores_height = -0.2;
    input.loading = 2;
    input.bands.displacement = 0.2;
    let mut draws = Draws(2);
    ends_are_those_of_the_draws(&input, &mut |input| {
        let (heavier, stiffer) = (draws.factor(0.20), draws.factor(0.25));
        drawn(input, heavier, stiffer)
    });
}

#[test]
fn from_a_table() {
    let mut input = cruiser();
    input.source = Source::Table;
    input.table = table(&|heel| 0.35 * (1.5 * heel).sin() + 0.1 * heel.sin(), 120);
    let mut draws = Draws(3);
    ends_are_those_of_the_draws(&input, &mut |input| {
        let heavier = draws.factor(0.10);
        drawn(input, heavier, 1.0)
    });
}

/// A test whose readings agree is good to 4 %: the readings drawn, all pendulum readings off together.
#[test]
fn from_a_test() {
    let mut input = cruiser();
    input.source = Source::Test;
    input.readings = crate::boats::readings(22_000.0, &[-1200.0, -600.0, 600.0, 1200.0]);
    let mut draws = Draws(4);
    ends_are_those_of_the_draws(&input, &mut |input| {
        let (heavier, stiffer) = (draws.factor(0.10), draws.factor(0.04));
        let mut drawn = drawn(input, heavier, 1.0);
        for reading in &mut drawn.readings {
            reading.tangent /= stiffer;
        }
        drawn
    });
}

/// Displacement and GM hang together through the form: m g GM = ρ g I + m g (KB - KG). With the centre of
/// gravity above that of buoyancy a heavier boat has less GM and is less stiff: the two shares take from each
/// other, where strangers would add as √(a² + b²).
#[test]
fn displacement_and_gm_are_not_strangers() {
    let mut input = cruiser();
    input.bands.height = 0.0;
    let sailing = account(&input).loadings[1].unwrap();
    let half = |band: Banded| 0.5 * (band.most - band.least) / band.value;
    let (height, stiffness) = (half(sailing.height.unwrap()), half(sailing.stiffness));
    assert!(height > 0.15);
    assert!((stiffness - (height - 0.10)).abs() < 0.01, "{stiffness}");
    let heavier = account(&drawn(&input, 1.10, 1.0)).loadings[1].unwrap();
    near(heavier.stiffness.value, sailing.stiffness.least, 1e-12);
    // No band, no width.
    input.bands.displacement = 0.0;
    let none = account(&input).loadings[1].unwrap().stiffness;
    assert_eq!((none.least, none.most), (none.value, none.value));
}

fn covers(band: Banded, truth: f64) -> usize {
    usize::from(band.least <= truth && truth <= band.most)
}

/// A boat whose truth is known, measured two thousand times: the displacement is guessed with an error, the
/// form's rule misses her GM by another, and the bands of what follows hold the truth 95 times in 100.
#[test]
fn bands_hold_the_truth_from_form() {
    let formed = cruiser();
    let mut draws = Draws(5);
    let trials = 2000;
    let mut held = [0; 5];
    for _ in 0..trials {
        // What the rule of form misses is the truth's own; the guess of displacement is the owner's.
        let truth = drawn(&formed, 1.0, draws.factor(0.25));
        let known = account(&truth);
        let guess = drawn(&formed, draws.factor(0.10), 1.0);
        let found = account(&guess);
        let (a, b) = (found.loadings[1].unwrap(), known.loadings[1].unwrap());
        let (x, y) = (&found.steps[1], &known.steps[1]);
        let pairs = [
            (a.stiffness, b.stiffness),
            (a.height.unwrap(), b.height.unwrap()),
            (a.greatest, b.greatest),
            (x.on.unwrap().forecast, y.on.unwrap().forecast),
            (x.off.unwrap().forecast, y.off.unwrap().forecast),
        ];
        for (held, (band, truth)) in held.iter_mut().zip(pairs) {
            *held += covers(band, truth.value);
        }
    }
    for held in held {
        let share = f64::from(held as u32) / f64::from(trials);
        assert!(share > 0.93 && share < 0.97, "{share}");
    }
}

/// Inclined two thousand times with a pendulum read to a few millimetres: from three readings to twelve
/// the band of the fit holds the true m g GM.
#[test]
fn bands_hold_the_truth_from_a_test() {
    let truth = 22_000.0;
    for readings in [3, 4, 6, 12_u32] {
        let mut draws = Draws(u64::from(readings));
        let trials = 2000;
        let mut held = 0;
        for _ in 0..trials {
            let mut input = cruiser();
            input.source = Source::Test;
            input.readings = (0..readings)
                .map(|i| {
                    let moved = -1.0 + 2.0 * f64::from(i) / f64::from(readings - 1);
                    let moment = 60.0 * GRAVITY * moved;
                    Reading {
                        weight: 60.0,
                        distance: moved,
                        // List of half a degree; each reading is off by a scatter of its own.
                        tangent: 0.009 + moment / truth + 0.0012 * draws.normal(),
                    }
                })
                .collect();
            let found = account(&input);
            held += covers(found.loadings[1].unwrap().stiffness, truth);
        }
        let share = f64::from(held as u32) / f64::from(trials);
        assert!(share > 0.93 && share < 0.985, "{readings}: {share}");
    }
}

/// What a band of one input does is exact at its ends: a reef wind goes with the root of the stiffness.
#[test]
fn one_input_alone_is_exact() {
    let mut input = cruiser();
    input.bands.displacement = 0.0;
    let found = account(&input);
    let on = found.steps[0].on.unwrap();
    for (end, wind) in [(0.75, on.forecast.least), (1.25, on.forecast.most)] {
        let other = account(&drawn(&input, 1.0, end)).steps[0].on.unwrap();
        near(wind, other.forecast.value, 1e-12);
    }
}
