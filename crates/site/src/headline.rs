//! The three numbers that matter now.

use quantities::Quantity;
use quantities::quantity::{AREA, AREA_SHARE, CE_AFT, CE_AFT_WATERLINE, CHORD_BALANCE, TOTAL_AREA};

use crate::bench::Bench;
use crate::rows::Figure;

impl Bench {
    /// Area standing, centre of effort, chord balance of the sail being worked on.
    pub fn headline(&self) -> Vec<Figure> {
        let mast = self.view.mast;
        let one = self.n_masts() < 2;
        let sail = self.state_now(mast);
        // Without a plan there is no area either, not an area of nothing.
        let plan = self.pose.masts.iter().any(Option::is_some);
        let standing = self.pose.standing;
        let area = plan.then(|| standing.map_or(0.0, |standing| standing.area));

        let mut first = self.figure(if one { &AREA } else { &TOTAL_AREA }, area);
        if plan && self.pose.share < 1.0 - 1e-9 {
            let share = AREA_SHARE.document_from_si(self.pose.share);
            first.unit.push_str(" · ");
            first.unit.push_str(&AREA_SHARE.say(share, self.view.units));
        }
        let second = if one {
            self.figure(&CE_AFT, self.centre_now(mast).map(|(aft, _)| aft))
        } else {
            self.figure(&CE_AFT_WATERLINE, standing.map(|standing| standing.x))
        };
        let mut third = self.figure(&CHORD_BALANCE, sail.and_then(|row| row.chord_balance));
        if !one {
            third.label = self.of_mast(third.label, mast);
        }
        vec![first, second, third]
    }

    pub(crate) fn figure(&self, quantity: &'static Quantity, si: Option<f64>) -> Figure {
        Figure {
            key: quantity.key(),
            label: self.word(quantity.label),
            value: self.number_or_dash(si, quantity),
            unit: quantity.unit(self.view.units).to_owned(),
            help: self.at_rest(|| self.word(&quantity.help())),
            basis: self.at_rest(|| self.say(&quantity.basis.text())),
        }
    }
}
