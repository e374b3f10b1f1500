//! Battens, yard and boom: statics, closed forms, both tacks, joints.

use crate::masts::blow;
use crate::sections::{near, of};
use spars::blow::Factor;
use spars::mast::{Weak, Weakness};
use spars::spar::{Cloth, Made, SailState, SparRules, pull, pulls, rise};
use spars::{Factors, Fault, Pole, SailInput, prove_sail};

pub(crate) const FACTORS: Factors = Factors {
    alloy: 1.3,
    clear: 2.5,
    class: 1.3,
    laminate: 2.5,
};

/// Saltwort: four panels of 4.2 m chord, 0.85 m wide, parallel, 0.42 m ahead of the mast; tubes of 42 x 2 mm.
pub(crate) fn saltwort() -> SailInput {
    let tube = |d: f64, t: f64| Made {
        pole: Pole::one(4.2, (d, d), Some((t, t)), of("6082-t6")),
        sheet: 4.2,
        weak: Vec::new(),
    };
    let state = |k: usize| SailState {
        lowered: k,
        wind: (k < 3).then_some(10.0 + 2.0 * k as f64),
        steady: 80.0,
        ahead: vec![0.42; 5],
        thrust: vec![0.0; 5],
        sling: 90.0 * (4 - k) as f64,
        lying: 60.0 * k as f64,
    };
    SailInput {
        spars: vec![
            tube(0.05, 0.002),
            tube(0.042, 0.002),
            tube(0.042, 0.002),
            tube(0.042, 0.002),
            tube(0.07, 0.003),
        ],
        panels: vec![
            Cloth {
                widths: (0.85, 0.85),
                sagitta: 0.06,
            };
            4
        ],
        states: (0..=4).map(state).collect(),
        parrel: (0.3, 0.6),
        catches: vec![0.3, 0.6, 0.9],
        sling: 0.48,
        stretch: 2e5,
        rules: SparRules {
            blow: blow(),
            dynamic: 2.0,
            factors: FACTORS,
        },
    }
}

/// M08 and M11: q = 60 Pa, chord 1 m, rise 0.1: along the chord 72 N/m. M06: flat strip of 1 m, 100 Pa, E t = 2e5 N/m:
/// 28.62 mm and 436.8 N/m.
#[test]
fn cloth_pulls_as_a_cylinder_and_as_a_stretched_strip() {
    let cloth = |sagitta| Cloth {
        widths: (1.0, 1.0),
        sagitta,
    };
    let of = |sagitta, p: f64, stretch| p * pull(rise(&cloth(sagitta), p, stretch));
    near(of(0.1, 60.0, 1e12), 72.0, 1e-9);
    // Cable force less its sag: N is along the chord but for p s / 2.
    near(of(0.0, 100.0, 2e5), 436.8, 5e-3);
    near(rise(&cloth(0.0), 100.0, 2e5), 0.02862, 1e-3);
    // A half circle pulls square to the sail alone.
    assert_eq!(of(0.5, 60.0, 2e5), 0.0);
    assert_eq!(of(0.1, 0.0, 2e5), 0.0);
}

#[test]
fn mast_and_sheet_together_bear_the_wind_and_a_middle_batten_two_halves() {
    let input = saltwort();
    let sail = prove_sail(&input);
    assert!(sail.faults.is_empty());
    // The lowest standing batten has one half of a panel, the one above two.
    near(
        sail.pressures[2],
        1.5 * 1.69 * 0.5 * 1.225 * 14.0f64.powi(2),
        1e-9,
    );
    for (i, spar) in sail.spars.iter().enumerate() {
        // The strongest wind in which it stands at all, and what it bears there.
        let halves = |k: usize| -> f64 {
            if i < k || k == 4 {
                return 0.0;
            }
            let below = if i > k { 0.5 } else { 0.0 };
            let above = if i < 4 { 0.5 } else { 0.0 };
            below + above
        };
        let most = (0..4)
            .map(|k| sail.pressures[k] * 0.85 * 4.2 * halves(k))
            .fold(0.0, f64::max);
        // Uniform load, mast at 0.42, sheet at 4.2: centre at 2.1.
        let sheet = most * (2.1 - 0.42) / (4.2 - 0.42);
        near(spar.sheet, sheet, 1e-9);
        near(spar.mast, most - sheet, 1e-9);
        // Of the gust what the most leaves in the state that sets the ratio.
        let wind = input.states[spar.state].wind;
        let (plain, gust) = input.rules.blow.gusts(wind);
        near(spar.product, 1.5 * (gust / plain).powi(2) * 1.3, 1e-9);
        assert_eq!(spar.factors[2], (Factor::Material, 1.3));
    }
}

/// B11 turned round: span 3.78 m, overhang 0.42 m; greatest moment in the span w (L + a)² (L - a)² / (8 L²).
#[test]
fn a_batten_bends_as_an_overhanging_beam() {
    let mut input = saltwort();
    // Like panels cancel in the sail's plane; the tube all but weightless.
    for s in &mut input.spars {
        s.pole.pieces[0].material.density = 50.0;
    }
    input.states.truncate(1);
    let sail = prove_sail(&input);
    let w = sail.pressures[0] * 0.85;
    let (l, a) = (4.2 - 0.42, 0.42f64);
    let moment = w * (l + a) * (l + a) * (l - a) * (l - a) / (8.0 * l * l);
    let batten = &sail.spars[2];
    near(batten.moment, moment, 5e-3);
    let s = input.spars[2].pole.at(1.0, &FACTORS);
    near(batten.ratio, moment / s.moment, 5e-3);
    assert!(batten.at > 2.0 && batten.at < 3.0);
}

/// Defaults, "batten outside diameter": 0.010 of the chord with 2 mm wall bends 2 to 3 % of it at 150 Pa, panels 0.85 m,
/// chord 4.2 m (worked there).
#[test]
fn the_usual_batten_bends_two_to_three_per_cent() {
    let mut input = saltwort();
    input.rules.blow.coefficient = 1.0;
    input.rules.blow.gust = 1.0;
    let wind = (150.0f64 * 2.0 / 1.225).sqrt();
    input.rules.blow.winds = (wind, wind);
    for state in &mut input.states {
        state.steady = 150.0;
    }
    let sail = prove_sail(&input);
    near(sail.pressures[0], 150.0, 1e-9);
    let bend = sail.spars[2].bend;
    assert!(bend > 0.02 && bend < 0.03, "{bend}");
    // Stress is the strong wind's, bend the steady one's.
    for state in &mut input.states {
        state.steady = 75.0;
    }
    let half = prove_sail(&input);
    near(half.spars[2].bend, 0.5 * bend, 1e-9);
    near(half.spars[2].ratio, sail.spars[2].ratio, 1e-12);
}

#[test]
fn parrel_ends_ease_the_moment_over_the_mast_and_bear_the_same() {
    let mut input = saltwort();
    input.states.truncate(1);
    // A heavy overhang: the mast far aft.
    input.states[0].ahead = vec![1.9; 5];
    let sail = prove_sail(&input);
    assert!(
        !sail.spars[2].on_parrel,
        "on the mast it is bent over one point"
    );
    // Ends so far apart that they are the worse.
    input.states[0].ahead = vec![0.42; 5];
    let near_mast = prove_sail(&input);
    near(
        near_mast.spars[2].mast + near_mast.spars[2].sheet,
        sail.spars[2].mast + sail.spars[2].sheet,
        1e-9,
    );
}

#[test]
fn the_sheets_thrust_magnifies_and_too_much_is_told() {
    let mut input = saltwort();
    input.states.truncate(1);
    let plain = prove_sail(&input);
    assert_eq!(plain.spars[2].magnified, 1.0);
    // Euler over the 3.78 m from mast to sheet.
    let s = input.spars[2].pole.at(1.0, &FACTORS);
    let euler = (core::f64::consts::PI / 3.78).powi(2) * s.bending;
    input.states[0].thrust = vec![0.2 * euler; 5];
    let pushed = prove_sail(&input);
    near(pushed.spars[2].magnified, 1.25, 0.03);
    assert!(pushed.spars[2].ratio > plain.spars[2].ratio * 1.2);
    let batten = &pushed.spars[2];
    near(
        batten.ratio,
        batten.moment / s.moment + 0.2 * euler / s.thrust,
        1e-6,
    );
    input.states[0].thrust = vec![1.1 * euler; 5];
    let gone = prove_sail(&input);
    assert!(!gone.spars[2].stands && gone.spars[2].ratio >= 10.0);
}

#[test]
fn the_yard_hangs_on_its_sling() {
    let mut input = saltwort();
    input.states.truncate(1);
    input.rules.blow.coefficient = 0.0;
    input.spars[4].pole.pieces[0].material.density = 50.0;
    input.states[0].sling = 1000.0;
    let sail = prove_sail(&input);
    // F a b / L at the sling (B12's sister, point load on two ends).
    let a = 0.48 * 4.2;
    near(sail.spars[4].moment, 1000.0 * a * (4.2 - a) / 4.2, 0.02);
    near(sail.spars[4].at, a, 0.02);
}

#[test]
fn the_boom_carries_the_bundle_in_its_lifts() {
    let mut input = saltwort();
    input.spars[0].pole.pieces[0].material.density = 50.0;
    input.states = vec![input.states[4].clone()];
    input.states[0].lying = 800.0;
    let sail = prove_sail(&input);
    // Twice the weight, spread; catches at 0.3 and 0.9 of 4.2 m: over the first w a² / 2, a = 1.26 m.
    let w = 2.0 * 800.0 / 4.2;
    near(sail.spars[0].moment, w * 1.26 * 1.26 / 2.0, 0.02);
    for spar in &sail.spars[1..] {
        assert_eq!(spar.ratio, 0.0, "what lies is not bent");
    }
}

#[test]
fn unlike_panels_pull_a_batten_in_the_sails_plane() {
    let mut input = saltwort();
    input.states.truncate(1);
    for s in &mut input.spars {
        // Their weight would bow them the other way.
        s.pole.pieces[0].material.density = 50.0;
    }
    let even = prove_sail(&input);
    input.panels[1].sagitta = 0.02;
    let odd = prove_sail(&input);
    assert!(odd.spars[1].ratio > even.spars[1].ratio);
    assert!(odd.spars[2].ratio > even.spars[2].ratio);
}

#[test]
fn joints_weaken_a_spar_and_count_for_less_away_from_the_middle() {
    let joint = |height| {
        let mut input = saltwort();
        input.spars[2].weak = vec![Weak {
            height,
            what: Weakness::Joint(0.5),
        }];
        prove_sail(&input).spars.swap_remove(2)
    };
    let (middle, end) = (joint(2.3), joint(3.9));
    let whole = prove_sail(&saltwort()).spars.swap_remove(2);
    near(middle.ratio, 2.0 * whole.ratio, 0.02);
    near(end.ratio, whole.ratio, 1e-2);
    assert!(end.weak[0] < middle.weak[0] && end.weak[0] > 0.0);
}

#[test]
fn impossible_sails_are_faults() {
    let mut input = saltwort();
    input.states[0].ahead = vec![4.2; 5];
    let sail = prove_sail(&input);
    assert_eq!(sail.spars[2].fault, Some(Fault::Supports));
    input.spars[1].pole.pieces[0].walls = Some((0.1, 0.1));
    assert_eq!(prove_sail(&input).spars[1].fault, Some(Fault::Wall(0)));
    input.panels.pop();
    assert_eq!(prove_sail(&input).faults, [Fault::States]);
    let mut input = saltwort();
    input.stretch = 0.0;
    assert_eq!(prove_sail(&input).faults, [Fault::Number]);
    input.stretch = 2e5;
    input.rules.factors.alloy = f64::NAN;
    assert_eq!(prove_sail(&input).faults, [Fault::Factor]);
}

/// The lowest standing batten under one panel, by hand: E I = 3528 N m², uniform load on two ends, mean deflection
/// w L⁴ / (120 E I); the rise of the cloth after it, from its length, gives back the pull.
#[test]
fn a_batten_that_gives_is_pulled_less() {
    let cloth = Cloth {
        widths: (0.85, 0.85),
        sagitta: 0.0,
    };
    let give = 4.2f64.powi(4) / (120.0 * 3528.0);
    let [none, up] = pulls(None, Some(&cloth), 150.0, 2e5, give);
    assert_eq!(none, 0.0);
    let y = give * 150.0 * 0.85 * up;
    let first = rise(&cloth, 150.0, 2e5);
    let after = (first * first + 0.375 * y / 0.85).sqrt();
    near(pull(after), up, 1e-6);
    // A rigid one is pulled six times as hard.
    let [_, rigid] = pulls(None, Some(&cloth), 150.0, 2e5, 0.0);
    near(rigid, pull(first), 1e-9);
    assert!(rigid > 5.0 * up && rigid < 7.0 * up, "{rigid} {up}");
    // Like panels cancel.
    let [down, up] = pulls(Some(&cloth), Some(&cloth), 150.0, 2e5, give);
    near(down, up, 1e-6);
    // In the proof: the moment of the lowest standing batten, both ways together.
    let mut input = saltwort();
    input.states = vec![input.states[2].clone()];
    for s in &mut input.spars {
        s.pole.pieces[0].material.density = 50.0;
    }
    let sail = prove_sail(&input);
    let p = sail.pressures[0];
    let s = input.spars[2].pole.at(1.0, &FACTORS);
    let give = 4.2f64.powi(4) / (120.0 * s.bending);
    let [_, up] = pulls(None, Some(&input.panels[2]), p, 2e5, give);
    let plane = up * p * 0.85 * 4.2 * 4.2 / 8.0;
    near(
        sail.spars[2].bow,
        5.0 / 384.0 * up * p * 0.85 * 4.2f64.powi(3) / s.bending,
        0.01,
    );
    let square = 0.5 * p * 0.85 * (4.2 * (4.2 - 0.84) / (8.0 * 3.78)) * (4.2 * (4.2 - 0.84) / 3.78);
    near(sail.spars[2].moment, plane.hypot(square), 0.03);
}

/// A yard that does not give, by hand: cloth p h (1/(8 κ) - κ/2) down all along it, so w b² / 2 at the sling, b abaft it; square
/// to the sail an overhanging beam.
#[test]
fn cloth_draws_the_yard_down_on_either_side_of_its_sling() {
    let mut input = saltwort();
    input.states.truncate(1);
    input.states[0].sling = 0.0;
    let mut rigid = of("6082-t6");
    (rigid.density, rigid.stiffness) = (50.0, 9e11);
    input.spars[4].pole = Pole::one(4.2, (0.2, 0.2), None, rigid);
    let weight = input.spars[4].pole.at(1.0, &FACTORS).mass * 9.80665;
    let sail = prove_sail(&input);
    let p = sail.pressures[0];
    let rise = 0.06 / 0.85;
    let (sling, l) = (0.48 * 4.2, 4.2);
    let down = p * 0.85 * (0.125 / rise - 0.5 * rise) + weight;
    let plane = down * (l - sling) * (l - sling) / 2.0;
    let each = 0.5 * p * 0.85;
    let sheet = each * l * (0.5 * l - 0.42) / (l - 0.42);
    let square = sheet * (l - sling) - each * (l - sling) * (l - sling) / 2.0;
    near(sail.spars[4].moment, plane.hypot(square), 0.01);
}
