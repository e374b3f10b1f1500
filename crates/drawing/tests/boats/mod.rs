//! The three demonstration boats, ready to be drawn.

// Each test file uses its own part of this.
#![allow(dead_code, unreachable_pub)]

use design::{Account, Demo, Design, Pose, View, account, blank, demos, pose};
use drawing::plots::DeckMap;
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
    let particulars = &mut tender.design.boat.particulars;
    // Vanishing at 60 degrees.
    particulars.table = [(0.0, 0.0), (0.3, 0.08), (0.6, 0.10), (1.05, 0.0)].to_vec();
    particulars.bands.displacement = 0.2;
    tender.account = account(&tender.design);
    boats.push(tender);
    boats
}

/// Every plot but the map of the deck block, which takes one.
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
