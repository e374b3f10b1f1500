//! Doors for measuring in the browser what the page never asks for by itself. Never in the site.

use std::hint::black_box;

use design::spar_shop::{Chosen, find};
use design::{Document, View, account, account_in_hand, demos, pose, ways};
use drawing::patterns::{Paper, Papers};
use geometry::{ReefInput, Reefs};
use quantities::{Catalogue, Units};
use spars::finder::Aim;
use spars::mast::{Case, profile};
use wasm_bindgen::prelude::*;

/// The constructions, as [`ways`] lists them.
const WAYS: [&str; 5] = ["flat", "cambered", "wing", "split", "bows"];
/// Effort of nesting for what is ordered, and the roll it lies on [m].
const ORDERED: usize = 1500;
const ROLL: f64 = 2.1;

/// What [`Speed::work`] can do.
#[wasm_bindgen]
pub struct Speed {
    document: Document,
}

#[wasm_bindgen]
impl Speed {
    /// Opens a demo; an unknown key is an error.
    #[wasm_bindgen(constructor)]
    pub fn new(demo: &str) -> Result<Speed, String> {
        let demo = demos().iter().find(|known| known.key == demo);
        match demo.map(|demo| demo.open()) {
            Some(Ok(document)) => Ok(Self { document }),
            _ => Err("this demo does not open".to_owned()),
        }
    }

    /// Does the named work so many times: `sail plan`, `reef table`, `whole account` (with its lines),
    /// `sweep` (the sheets at 19 sheeting angles), `mast` (one load case), `finder` (the lightest mast of the usual sizes), `pose`,
    /// `account in hand` or of the cloth `ways` (the constructions compared), `patterns flat`, `nesting flat`, `tiled PDF flat` and so for
    /// every construction. False when there is no such work or the demo has no sail.
    pub fn work(&self, name: &str, times: u32) -> bool {
        let design = self.document.design();
        let Some(sail) = design.masts.first().map(|mast| &mast.sail) else {
            return false;
        };
        let rule = sail.plan_rule();
        let Some(plan) = rule.plan().0 else {
            return false;
        };
        match name {
            "sail plan" => repeat(times, || rule.plan()),
            "reef table" => {
                let input = ReefInput {
                    boom_depth: sail.boom_depth,
                    batten_depth: sail.batten_depth,
                    yard_depth: sail.yard_depth,
                    folded_cloth: sail.folded_cloth,
                    drop: sail.drop,
                    // A tenth of the chord, and a masthead well above: the work is the same for any.
                    travel: 0.1 * sail.chord,
                    masthead: 7.8,
                    chord_share: sail.chord_share,
                };
                repeat(times, || Reefs::new(black_box(&plan), black_box(&input)));
            }
            "whole account" => repeat(times, || account(black_box(design))),
            "sweep" => {
                let whole = account(design);
                let lines = whole.masts.first().and_then(|mast| mast.lines.as_ref());
                let Some(lines) = lines else {
                    return false;
                };
                let mut angles = Vec::new();
                for i in 0..19 {
                    angles.push(lines.input.squared * f64::from(i) / 18.0);
                }
                repeat(times, || lines.input.sweep(0, black_box(&angles)));
            }
            "mast" => {
                let whole = account(design);
                let spars = whole.masts.first().and_then(|mast| mast.spars.as_ref());
                let Some(spars) = spars else {
                    return false;
                };
                let input = black_box(&spars.mast_input);
                repeat(times, || profile(input, Case::SquaredOff, 0));
            }
            "finder" => {
                let whole = account(design);
                let search = || find(design, &whole, 0, Chosen::Mast, Aim::Lightest, &|_, _| {});
                repeat(times, search);
            }
            "pose" => {
                let whole = account(design);
                let view = View {
                    hoist: vec![2.4],
                    ..View::default()
                };
                repeat(times, || pose(design, &whole, black_box(&view)));
            }
            "account in hand" => {
                let mut whole = account(design);
                repeat(times, || {
                    whole = account_in_hand(black_box(design), &mut whole)
                });
            }
            _ => return self.sew(name, times),
        }
        true
    }

    /// The same for the cloth.
    fn sew(&self, name: &str, times: u32) -> bool {
        let design = self.document.design();
        let whole = account(design);
        let all = ways(design, 0, &whole);
        let Some(cloth) = whole.masts.first().and_then(|mast| mast.cloth.as_ref()) else {
            return false;
        };
        let mut input = cloth.input.clone();
        input.cloth.roll = ROLL;
        if name == "ways" {
            repeat(times, || input.compare(black_box(&all)));
            return true;
        }
        let Some((work, word)) = name.rsplit_once(' ') else {
            return false;
        };
        let way = WAYS.iter().zip(&all).find(|(known, _)| **known == word);
        let Some((_, way)) = way else {
            return false;
        };
        let input = input.made(way);
        let patterns = input.patterns();
        let papers = Papers {
            input: &input,
            patterns: &patterns,
            words: &Catalogue::default(),
            units: Units::METRIC,
            title: "",
        };
        match work {
            "patterns" => repeat(times, || input.patterns()),
            "nesting" => repeat(times, || input.cutting(black_box(&patterns), ORDERED)),
            "tiled PDF" => repeat(times, || papers.pdf(&Paper::A4).map_or(0, |pdf| pdf.len())),
            _ => return false,
        }
        true
    }
}

fn repeat<T>(times: u32, mut work: impl FnMut() -> T) {
    for _ in 0..times {
        black_box(work());
    }
}
