//! Invented sails for the tests.
#![allow(dead_code)]

use cloth::*;
use geometry::mast::{Mast, Side};
use geometry::plan::{FanRule, PlanRule, Shape};

/// Marsh Pippin: four alike panels and a fanned head of three, 4.4 m chord.
pub(crate) fn marsh_pippin() -> PlanRule {
    PlanRule {
        shape: Shape::Rule(FanRule {
            panels: 7,
            turning: 3,
            chord: 4.4,
            panel_width: 0.97,
            widths: vec![0.65, 0.45, 0.30],
            steps: vec![1.0, 1.4, 1.9],
            boom_rise: 8_f64.to_radians(),
            rise: 8_f64.to_radians(),
            yard_angle: 62_f64.to_radians(),
            yard_length: 4.4,
            luff_rake: 0.0,
        }),
        balance: 0.12,
        boom_height: 0.9,
        sling: 0.48,
        luff_round: 0.0,
        leech_round: 0.0,
    }
}

/// Saltwort: level battens of one length under an upright luff.
pub(crate) fn saltwort() -> PlanRule {
    let mut rule = marsh_pippin();
    let Shape::Rule(fan) = &mut rule.shape else {
        return rule;
    };
    fan.turning = 0;
    fan.chord = 4.0;
    fan.panel_width = 0.9;
    fan.boom_rise = 0.0;
    fan.rise = 0.0;
    rule
}

pub(crate) fn input(rule: &PlanRule, construction: Construction) -> Input {
    let spars = rule.plan().0.unwrap().spars;
    let panels = spars.len() - 1;
    let diameter = 0.13;
    Input {
        travel: vec![[0.0, 0.0]; spars.len()],
        spars,
        luff_round: rule.luff_round,
        leech_round: rule.leech_round,
        mast: Mast {
            x: 1.6,
            z: 0.9,
            rake: 0.0,
            bury: 1.0,
            lap: 9.5,
            diameter,
            top_diameter: 0.07,
            parallel: 0.15,
            offset: 0.5 * diameter + 0.0275,
            side: Side::Port,
        },
        depths: Depths {
            boom: 0.055,
            batten: 0.045,
            yard: 0.075,
        },
        shapes: shape::usual(panels, 0.07),
        line: MeanLine::FourDigit,
        construction,
        sewing: Sewing {
            seam: 0.015,
            batten: 0.025,
            edge: 0.040,
            hem: 0.050,
            pockets: Pockets::Strips,
            pocket_ease: 0.12,
            pocket_end: 0.015,
            offsets: 8,
            patches: Patches {
                share: 0.25,
                layers: 3,
                strength: 2000.0,
                pull: [[0.0; 2]; 13],
            },
            thread: 6.0,
            webbing: 0.03,
            eye_pitch: 0.3,
        },
        cloth: Cloth {
            mass: 0.23,
            roll: 1.37,
            warp: Warp::Fitting,
        },
        limits: Limits {
            strain: 0.01,
            gather: 0.01,
            barrel: 0.35,
        },
    }
}

pub(crate) const SHELF: Construction =
    Construction::Cambered(Cut::Shelf(core::f64::consts::FRAC_PI_4));
pub(crate) const BARREL: Construction = Construction::Cambered(Cut::Barrel(Barrel::Added));
pub(crate) const HOLLOW: Construction = Construction::Cambered(Cut::Barrel(Barrel::Hollow));
pub(crate) const WING: Construction = Construction::Wing(Wing {
    join: 0.4,
    thickness: 0.25,
    room: 0.03,
});
pub(crate) const BOWS: Construction = Construction::Bows(Bows { room: 0.03 });

pub(crate) fn split(cut: Cut) -> Construction {
    Construction::Split(Split {
        slot: 0.08,
        turn: 8_f64.to_radians(),
        fore: 1.5,
        cut,
    })
}

/// Every construction and cut, for a sail whose mast stands where it needs it.
pub(crate) fn all(rule: &PlanRule) -> Vec<Input> {
    [
        (Construction::Flat, 0.10),
        (BARREL, 0.12),
        (HOLLOW, 0.12),
        (SHELF, 0.12),
        (WING, 0.18),
        (split(Cut::Shelf(core::f64::consts::FRAC_PI_4)), 0.32),
        (split(Cut::Barrel(Barrel::Added)), 0.32),
        (BOWS, 0.10),
    ]
    .map(|(construction, balance)| {
        let mut rule = rule.clone();
        rule.balance = balance;
        input(&rule, construction)
    })
    .into()
}
