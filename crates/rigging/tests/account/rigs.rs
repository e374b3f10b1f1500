//! Invented rigs.

use geometry::mast::{Mast, Side};
use geometry::plan::FanRule;
use geometry::{PlanRule, ReefInput, Reefs, Shape};
use rigging::{Choices, Cleats, Deck, Input, Lines, State, System, Weights};

/// A sail, its mast and its boat in a few numbers [m].
pub(crate) struct Sketch {
    pub(crate) panels: usize,
    pub(crate) chord: f64,
    pub(crate) panel_width: f64,
    pub(crate) rise: f64,
    pub(crate) yard_angle: f64,
    pub(crate) balance: f64,
    pub(crate) boom_height: f64,
    pub(crate) sling: f64,
    /// Boom, batten, yard.
    pub(crate) depths: [f64; 3],
    pub(crate) drift: f64,
    /// Foot of the mast: x, z, rake, diameter.
    pub(crate) mast: [f64; 4],
    pub(crate) deck: Deck,
    pub(crate) pressure: f64,
}

impl Sketch {
    /// A rig with a fanned head and the usual lines.
    pub(crate) fn rig(&self) -> Input {
        let (panels, chord) = (self.panels, self.chord);
        let rise = self.rise.to_radians();
        let rule = PlanRule {
            shape: Shape::Rule(FanRule {
                panels,
                turning: 3.min(panels),
                chord,
                panel_width: self.panel_width,
                widths: vec![0.65, 0.45, 0.30],
                steps: vec![1.0, 1.4, 1.9],
                boom_rise: rise,
                rise,
                yard_angle: self.yard_angle.to_radians(),
                yard_length: chord,
                luff_rake: 0.0,
            }),
            balance: self.balance,
            boom_height: self.boom_height,
            sling: self.sling,
            luff_round: 0.0,
            leech_round: 0.0,
        };
        let plan = rule.plan().0.unwrap();
        let masthead = plan.sling_point().y + self.drift;
        let [boom_depth, batten_depth, yard_depth] = self.depths;
        let reef = ReefInput {
            boom_depth,
            batten_depth,
            yard_depth,
            folded_cloth: 0.015,
            drop: 0.03,
            travel: 0.08 * chord,
            masthead,
            chord_share: 0.4,
        };
        let states: Vec<State> = (Reefs::new(&plan, &reef).states.iter())
            .map(|s| State {
                lowered: s.lowered,
                on_lifts: s.on_lifts,
                spars: s.spars.iter().map(|p| p.spar).collect(),
                area: s.area,
                centre: s.pressure,
                pressure: self.pressure,
                strength: 2.5 * self.pressure,
                running: 0.8 * self.pressure,
            })
            .collect();
        let [x, z, rake, diameter] = self.mast;
        let mast = Mast {
            x,
            z,
            rake: rake.to_radians(),
            bury: 1.0,
            lap: masthead,
            diameter,
            top_diameter: 0.5 * diameter,
            parallel: 0.15,
            offset: 0.5 * (diameter + batten_depth) + 0.01,
            side: Side::Port,
        };
        let mut spars = vec![1.0 * chord; panels + 1];
        spars[0] *= 1.5;
        spars[panels] *= 2.0;
        let cloth = vec![0.25 * chord * self.panel_width; panels];
        let weights = Weights {
            spars,
            cloth,
            wet: 1.5,
        };
        Input::usual(mast, masthead, self.sling, states, weights, self.deck)
    }
}

/// Any fanned sail of so many panels on a chord [m].
pub(crate) fn pippin(panels: usize, chord: f64) -> Input {
    Sketch {
        panels,
        chord,
        panel_width: 0.22 * chord,
        rise: 8.0,
        yard_angle: 65.0,
        balance: 0.10,
        boom_height: 0.6,
        sling: 0.48,
        depths: [0.06, 0.04, 0.08],
        drift: 0.5,
        mast: [1.6, 0.8, 0.0, 0.16],
        deck: Deck {
            height: 0.75,
            ends: (-0.4, 1.6 + chord + 1.2),
            half_beam: 1.2,
            sides: [1.2; 9],
            lifeline: 0.6,
            roof: None,
            well: None,
            cleats: Cleats {
                at: (1.6 + chord, 0.8, 0.75),
                from: 0,
            },
        },
        pressure: 150.0,
    }
    .rig()
}

/// The designs that come with the program, by their documents' numbers: Saltwort, Marsh Pippin, and Grey Heron's
/// foresail and mainsail.
pub(crate) fn demos(lifeline: f64) -> [(&'static str, Input); 4] {
    let deck = |height, ends: (f64, f64), half_beam| Deck {
        height,
        ends,
        half_beam,
        sides: [half_beam; 9],
        lifeline,
        roof: None,
        well: None,
        cleats: Cleats {
            at: (ends.1 - 1.0, half_beam, height),
            from: 0,
        },
    };
    let saltwort = Sketch {
        panels: 5,
        chord: 2.60,
        panel_width: 0.58,
        rise: 6.0,
        yard_angle: 66.0,
        balance: 0.14,
        boom_height: 0.55,
        sling: 0.43,
        depths: [0.035, 0.025, 0.045],
        drift: 0.25,
        mast: [0.85, 0.52, 0.0, 0.075],
        deck: deck(0.50, (-0.28, 3.92), 0.81),
        pressure: 80.0,
    };
    let pippin = Sketch {
        panels: 7,
        chord: 4.40,
        panel_width: 0.92,
        rise: 8.0,
        yard_angle: 68.0,
        balance: 0.14,
        boom_height: 0.70,
        sling: 0.43,
        depths: [0.060, 0.045, 0.080],
        drift: 0.40,
        mast: [1.50, 0.81, 0.0, 0.165],
        deck: deck(0.80, (-0.62, 6.78), 1.24),
        pressure: 80.0,
    };
    let fore = Sketch {
        panels: 6,
        chord: 3.75,
        panel_width: 0.84,
        rise: 6.0,
        yard_angle: 66.0,
        balance: 0.16,
        boom_height: 0.75,
        sling: 0.43,
        depths: [0.050, 0.040, 0.070],
        drift: 0.35,
        mast: [0.45, 1.30, -3.0, 0.150],
        deck: deck(1.10, (-0.95, 10.05), 1.675),
        pressure: 80.0,
    };
    let main = Sketch {
        panels: 7,
        chord: 4.85,
        panel_width: 1.06,
        boom_height: 1.00,
        depths: [0.065, 0.050, 0.085],
        drift: 0.50,
        mast: [4.75, 1.05, 0.0, 0.195],
        ..fore
    };
    [
        ("Saltwort", saltwort.rig()),
        ("Marsh Pippin", pippin.rig()),
        ("Grey Heron, fore", fore.rig()),
        ("Grey Heron, main", main.rig()),
    ]
}

/// The same rig sheeted in every way.
pub(crate) fn every_system(input: &Input) -> Vec<Input> {
    let mut all = Vec::new();
    for system in [System::Single, System::Divided, System::Pair] {
        for gathers in [2, 3] {
            let mut input = input.clone();
            let choices = Choices {
                system: Some(system),
                gathers,
                ..Choices::default()
            };
            input.lines = Lines::usual(&input, &choices);
            all.push(input);
        }
    }
    all
}

#[track_caller]
pub(crate) fn near(found: f64, wanted: f64, within: f64) {
    assert!(
        (found - wanted).abs() <= within,
        "{found} is not {wanted} within {within}"
    );
}
