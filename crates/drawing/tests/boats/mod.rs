//! The three demonstration boats, ready to be drawn.

// Each test file uses its own part of this.
#![allow(dead_code, unreachable_pub)]

use std::rc::Rc;

use ::spars::finder::{Found, Rated};
use ::spars::mast::Weak;
use ::spars::raising::{Raising, raise};
use design::{Account, Demo, Design, Pose, View, account, blank, demos, pose};
use drawing::plots::{Chart, DeckMap};
use drawing::{Frame, Medium, Moment, Plot, Scene, plot, sail_plan};
use quantities::Catalogue;

/// Panes [px]: on a broad phone, beside the hoist on one 390 px wide, on a wide screen.
pub const PANES: [(f64, f64); 3] = [(390.0, 430.0), (314.0, 397.0), (788.0, 840.0)];

/// The room on a printed page [px].
pub const SHEET: (f64, f64) = (703.0, 860.0);

/// Every place a drawing is looked at.
pub fn places() -> impl Iterator<Item = ((f64, f64), Medium)> {
    let screens = PANES.into_iter().map(|pane| (pane, Medium::Screen));
    screens.chain([(SHEET, Medium::Paper)])
}

/// One design with all that is worked out from it once.
pub struct Boat {
    pub key: &'static str,
    pub design: Design,
    pub account: Account,
    pub words: Catalogue,
}

pub fn boats() -> Vec<Boat> {
    demos().iter().map(boat).collect()
}

/// The same, one whose stability and CLR nobody knows, and one so tender that the wind knocks her down.
pub fn boats_and_others() -> Vec<Boat> {
    let mut boats = boats();
    boats.push(boat(&blank()));
    let mut tender = boat(&demos()[2]);
    tender.key = "tender";
    let particulars = &mut Rc::make_mut(&mut tender.design.boat).particulars;
    // Vanishing at 60 degrees.
    particulars.table = [(0.0, 0.0), (0.3, 0.08), (0.6, 0.10), (1.05, 0.0)].to_vec();
    particulars.bands.displacement = 0.2;
    tender.account = account(&tender.design);
    boats.push(tender);
    boats
}

/// Every plot of boat and sails but the map of the deck block, which takes one.
pub const PLOTS: [Plot; 4] = [Plot::Stern, Plot::Righting, Plot::Travel, Plot::Above];

pub fn boat(demo: &Demo) -> Boat {
    let document = demo.open().expect("a demo opens");
    let design = document.design().clone();
    let account = account(&design);
    Boat {
        key: demo.key,
        design,
        account,
        words: Catalogue::english(),
    }
}

impl Boat {
    pub fn pose(&self, view: &View) -> Pose {
        pose(&self.design, &self.account, view)
    }

    pub fn moment<'a>(&'a self, pose: &'a Pose, view: &'a View, medium: Medium) -> Moment<'a> {
        Moment {
            design: &self.design,
            account: &self.account,
            pose,
            view,
            words: &self.words,
            medium,
        }
    }

    pub fn frame(&self, (width, height): (f64, f64), view: &View) -> Frame {
        Frame::fit(&self.design, &self.account, width, height).seen(view)
    }

    pub fn draw(&self, view: &View, pane: (f64, f64), medium: Medium) -> Scene {
        let pose = self.pose(view);
        sail_plan(&self.moment(&pose, view, medium), &self.frame(pane, view))
    }

    pub fn plot(
        &self,
        which: Plot<'_>,
        view: &View,
        step: usize,
        (width, height): (f64, f64),
    ) -> Scene {
        let pose = self.pose(view);
        let moment = self.moment(&pose, view, Medium::Screen);
        plot(which, &moment, step, width, height)
    }

    /// Where the deck block of the sheet in hand may stand.
    pub fn map(&self, view: &View) -> Option<DeckMap> {
        let pose = self.pose(view);
        DeckMap::of(&self.moment(&pose, view, Medium::Screen))
    }

    /// The same hoist on every mast, as far as each goes.
    pub fn hoist(&self, panels: f64) -> Vec<f64> {
        vec![panels; self.design.masts.len()]
    }

    pub fn most_panels(&self) -> f64 {
        let most = self.design.masts.iter().map(|mast| mast.sail.panels).max();
        most.unwrap_or(0) as f64
    }
}

/// Proves every mast of a boat again: walls that are a share of its diameters, these weak places.
pub fn prove_masts(boat: &mut Boat, wall: f64, weak: &[Weak]) {
    for mast in &mut boat.account.masts {
        let Some(spars) = &mut mast.spars else {
            continue;
        };
        spars.mast_input.weak = weak.to_vec();
        for piece in &mut spars.mast_input.pole.pieces {
            let (foot, top) = piece.diameters;
            piece.walls = Some((wall * foot, wall * top));
            piece.staves = 0;
        }
        spars.mast = ::spars::prove(&spars.mast_input);
        assert!(spars.mast.faults.is_empty(), "{:?}", spars.mast.faults);
    }
}

/// Makes every mast hollow of eight staves at its partners, with a solid top that goes down into it past them.
pub fn stave_masts(boat: &mut Boat) {
    prove_masts(boat, 0.2, &[]);
    for mast in &mut boat.account.masts {
        let Some(spars) = &mut mast.spars else {
            continue;
        };
        let input = &mut spars.mast_input;
        for piece in &mut input.pole.pieces {
            piece.staves = 8;
        }
        if let Some(last) = input.pole.pieces.last().copied() {
            let bore = 0.5 * last.diameters.0;
            input.pole.pieces.push(::spars::Piece {
                from: input.bury - 0.3,
                diameters: (bore, 0.8 * bore),
                walls: None,
                staves: 0,
                ..last
            });
        }
    }
}

/// Charts of everything that is charted: raising with a gin pole and without, some thousand spars to choose from, a batten.
pub fn charts(moment: &Moment) -> Vec<Chart> {
    let gin = Raising {
        weight: ::spars::Weight::at(38.0, 4.0),
        hinge: 1.0,
        fast: 5.0,
        gin: 2.0,
        lead: (3.5, -0.2),
        tackle: (4, 0.1),
    };
    let without = Raising {
        gin: 0.0,
        lead: (4.0, 1.0),
        ..gin
    };
    let mut charts = Vec::new();
    for how in [gin, without] {
        let angles = (0..=30).map(|i| (3.0 * f64::from(i)).to_radians());
        let forces: Vec<_> = angles
            .filter_map(|angle| Some((angle, raise(&how, angle)?)))
            .collect();
        charts.push(Chart::raising(moment, &forces));
    }
    let mut found = Found::default();
    for i in 0..1500_u32 {
        let mass = 12.0 + 0.04 * f64::from(i);
        let ratio = 30.0 / mass * (0.7 + 0.001 * f64::from(i * 7919 % 1000));
        found.rated.push(Some(Rated {
            mass,
            ratio,
            bend: 0.05,
            price: None,
            passes: ratio <= 1.0,
        }));
    }
    let passes = |rated: &Option<Rated>| rated.is_some_and(|rated| rated.passes);
    found.chosen = found.rated.iter().position(passes);
    charts.push(Chart::finder(moment, &found));
    let mut rows = Vec::new();
    for i in 0..=40 {
        let x = f64::from(i) / 40.0;
        let moment = 4000.0
            * if x < 0.12 {
                x * x
            } else {
                0.0186 * (1.0 - x) * (1.0 - x)
            };
        let bend = 0.12 * (x - 0.12) * (1.0 - x);
        rows.push([4.2 * x, moment, bend]);
    }
    charts.push(Chart::bending(moment, &rows, 0.504, 4.2));
    charts
}
