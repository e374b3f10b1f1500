//! The scales of the hoist control: one per mast, and the reef sequence of several.

use quantities::listed::Listed as _;
use quantities::quantity::{AREA, TOTAL_AREA};
use quantities::{Quantity, Text};

use crate::bench::Bench;
use crate::reef_table::state_name;
use crate::rows::HoistScale;

impl Bench {
    /// One scale per mast; with several masts the whole sequence first, as mast -1.
    pub fn hoist_scale(&self) -> Vec<HoistScale> {
        let several = self.n_masts() > 1;
        let mut scales = Vec::with_capacity(self.n_masts() + 1);
        if several {
            scales.push(self.sequence_scale());
        }
        for mast in 0..self.n_masts() {
            let pose = self.pose.masts.get(mast).and_then(Option::as_ref);
            let value = pose.map_or(0.0, |pose| pose.hoist);
            let reefs = self.account.masts.get(mast).and_then(|m| m.reefs.as_ref());
            let area = self.state_now(mast).map_or(0.0, |row| row.area);
            scales.push(HoistScale {
                mast: mast as i32,
                label: if several {
                    self.mast_name(mast)
                } else {
                    self.word("hoist.sail")
                },
                panels: reefs.map_or(0, |reefs| reefs.n_panels() as u32),
                value,
                valuetext: self.lowered_words(value, (area, &AREA)),
            });
        }
        scales
    }

    fn sequence_scale(&self) -> HoistScale {
        let steps = &self.account.rig.sequence;
        let hoist: Vec<f64> = self
            .pose
            .masts
            .iter()
            .map(|pose| pose.as_ref().map_or(0.0, |pose| pose.hoist))
            .listed();
        // The place on the way from all standing to all down that is nearest to where the sails are.
        let mut nearest = (f64::INFINITY, 0.0);
        for (i, step) in steps.iter().enumerate() {
            let next = steps.get(i + 1).unwrap_or(step);
            let (share, miss) = nearest_between(&step.lowered, &next.lowered, &hoist);
            if miss < nearest.0 - 1e-12 {
                nearest = (miss, i as f64 + share);
            }
        }
        let lowered: Vec<usize> = (0..self.n_masts())
            .map(|mast| self.state_now(mast).map_or(0, |row| row.lowered))
            .listed();
        let area = self.pose.standing.map_or(0.0, |standing| standing.area);
        HoistScale {
            mast: -1,
            label: self.word("hoist.all"),
            panels: steps.len().saturating_sub(1) as u32,
            value: nearest.1,
            valuetext: self.say(
                &Text::new("hoist.lowered")
                    .with("lowered", state_name(&lowered))
                    .with("area", (area, &TOTAL_AREA)),
            ),
        }
    }

    /// Panels lowered and what then stands, in words.
    fn lowered_words(&self, lowered: f64, area: (f64, &'static Quantity)) -> String {
        let text = if lowered.fract() == 0.0 {
            Text::new("hoist.panels").with("n", lowered as u32)
        } else {
            Text::new("hoist.lowered").with("lowered", self.view.units.fixed(lowered, 1))
        };
        self.say(&text.with("area", area))
    }
}

/// Where between two steps the hoist lies nearest, 0 to 1, and by how much it misses.
fn nearest_between(from: &[usize], to: &[usize], hoist: &[f64]) -> (f64, f64) {
    let each = || from.iter().zip(to).zip(hoist);
    let (mut along, mut length) = (0.0, 0.0);
    for ((from, to), hoist) in each() {
        let way = *to as f64 - *from as f64;
        along += way * (hoist - *from as f64);
        length += way * way;
    }
    let share = if length > 0.0 {
        (along / length).max(0.0).min(1.0)
    } else {
        0.0
    };
    let miss = each().map(|((from, to), hoist)| {
        let place = *from as f64 + (*to as f64 - *from as f64) * share;
        (hoist - place) * (hoist - place)
    });
    (share, miss.sum())
}
