//! The reef table as comma-separated values, with the height of every parrel.

use quantities::csv::Lines;
use quantities::quantity::{
    AREA, AREA_SHARE, CE_AFT, CE_AFT_WATERLINE, CE_UP, PANELS_LOWERED, PARREL_HEIGHT,
};
use quantities::{Quantity, Text, UnitKind};

use crate::bench::Bench;
use crate::reef_table::state_name;

impl Bench {
    /// The table in the units of the view, one line per state, units in the headings.
    pub fn csv(&self) -> String {
        let masts = self.n_masts();
        let of_sail = self.columns_of_sail();
        let aft = if masts < 2 {
            &CE_AFT
        } else {
            &CE_AFT_WATERLINE
        };
        let mut heads = vec![self.word(PANELS_LOWERED.label)];
        for quantity in [&AREA, &AREA_SHARE, aft, &CE_UP] {
            heads.push(self.heading(self.word(quantity.label), quantity));
        }
        for mast in 0..masts {
            for (quantity, _) in &of_sail {
                let label = self.of_mast(self.word(quantity.label), mast);
                heads.push(self.heading(label, quantity));
            }
            let yard = self.yard(mast);
            for spar in 0..=yard {
                let text = Text::new("spar.label").with("spar", self.spar_name(spar, yard));
                let label = self.say(&text.with_key("label", PARREL_HEIGHT.label));
                heads.push(self.heading(self.of_mast(label, mast), &PARREL_HEIGHT));
            }
        }
        let mut lines = Lines::new(self.view.units);
        lines.push(&heads);
        for state in self.states() {
            let mut cells = vec![
                state_name(&state.lowered),
                self.number(state.area, &AREA),
                self.number(state.share, &AREA_SHARE),
                self.number_or_dash(state.aft, aft),
                self.number_or_dash(state.up, &CE_UP),
            ];
            for (mast, lowered) in state.lowered.iter().enumerate() {
                let row = self.state(mast, *lowered);
                for (quantity, value) in &of_sail {
                    cells.push(self.number_or_dash(row.and_then(value), quantity));
                }
                for spar in 0..=self.yard(mast) {
                    let height = row.and_then(|row| row.on_mast.get(spar).copied().flatten());
                    cells.push(self.number_or_dash(height, &PARREL_HEIGHT));
                }
            }
            lines.push(&cells);
        }
        lines.text
    }

    /// Number of the yard of a mast's sail.
    pub(crate) fn yard(&self, mast: usize) -> usize {
        let row = self.state(mast, 0);
        row.map_or(0, |row| row.on_mast.len().saturating_sub(1))
    }

    fn heading(&self, label: String, quantity: &Quantity) -> String {
        let imperial = self.view.units.imperial();
        let unit = match quantity.kind {
            UnitKind::Length if imperial => self.word("csv.feet_and_inches"),
            UnitKind::Fine if imperial => self.word("csv.inches"),
            _ => quantity.unit(self.view.units).to_owned(),
        };
        self.with_unit(label, unit)
    }

    pub(crate) fn with_unit(&self, label: String, unit: String) -> String {
        if unit.is_empty() {
            return label;
        }
        let text = Text::new("csv.heading").with("label", label);
        self.say(&text.with("unit", unit))
    }
}
