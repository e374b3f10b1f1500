//! The reef table: one row per state, and every spar of each.

use design::StateRow;
use quantities::listed::{Listed as _, joined};
use quantities::quantity::{
    AREA, AREA_SHARE, BUNDLE_HEIGHT, CE_AFT, CE_AFT_WATERLINE, CE_UP, CHORD_BALANCE, PARREL_HEIGHT,
    PARREL_LENGTH, SLIDE, YARD_HEIGHT,
};
use quantities::{Quantity, units};

use crate::bench::Bench;
use crate::rows::{Column, Detail, ReefRow, ReefTable};

/// Something each sail has of its own in a state.
pub(crate) type OfSail = (&'static Quantity, fn(&StateRow) -> Option<f64>);

/// What each sail has of its own, whatever the others do.
pub(crate) const OF_SAIL: [OfSail; 3] = [
    (&YARD_HEIGHT, |row| Some(row.yard_height)),
    (&BUNDLE_HEIGHT, |row| Some(row.bundle_height)),
    (&CHORD_BALANCE, |row| row.chord_balance),
];

/// Centre of effort from the sail's own mast.
pub(crate) const AFT_OF_MAST: OfSail = (&CE_AFT, |row| row.aft_of_mast);

/// One state of the boat: panels lowered per mast, and what stands.
pub(crate) struct State {
    pub(crate) lowered: Vec<usize>,
    pub(crate) area: f64,
    pub(crate) share: f64,
    /// Centre of effort: aft of the mast, or with several of the forward end of the waterline [m].
    pub(crate) aft: Option<f64>,
    /// Centre of effort above the waterline [m].
    pub(crate) up: Option<f64>,
}

impl Bench {
    /// One row per state: of one sail each number of panels lowered, of several the steps of the
    /// reef sequence. What each of several sails has of its own stands in one cell, mast by mast.
    pub fn reef_table(&self) -> ReefTable {
        let one = self.n_masts() < 2;
        let mut columns = vec![self.column(&AREA), self.column(&AREA_SHARE)];
        columns.push(self.column(if one { &CE_AFT } else { &CE_AFT_WATERLINE }));
        columns.push(self.column(&CE_UP));
        let of_sail = self.columns_of_sail();
        columns.extend(of_sail.iter().map(|(quantity, _)| self.column(quantity)));
        let now: Vec<Option<usize>> = (0..self.n_masts())
            .map(|mast| self.state_now(mast).map(|row| row.lowered))
            .listed();
        let rows = self.states().into_iter().enumerate().map(|(i, state)| {
            let mut cells = vec![
                self.number(state.area, &AREA),
                self.number(state.share, &AREA_SHARE),
                self.number_or_dash(state.aft, &CE_AFT),
                self.number_or_dash(state.up, &CE_UP),
            ];
            for (quantity, value) in &of_sail {
                let of_each = state.lowered.iter().enumerate().map(|(mast, lowered)| {
                    let value = self.state(mast, *lowered).and_then(value);
                    self.number_or_dash(value, quantity)
                });
                cells.push(joined(&of_each.listed(), " / "));
            }
            let holds = |(mast, lowered): (usize, &usize)| {
                now.get(mast).copied().flatten().unwrap_or(0) == *lowered
            };
            ReefRow {
                id: units::fixed(i as f64, 0),
                name: state_name(&state.lowered),
                hoist: state.lowered.iter().map(|lowered| *lowered as f64).listed(),
                cells,
                now: state.lowered.iter().enumerate().all(holds),
                detail: self.detail(&state.lowered),
            }
        });
        ReefTable {
            rows: rows.listed(),
            columns,
        }
    }

    /// Every state of the table, all standing first.
    pub(crate) fn states(&self) -> Vec<State> {
        if self.n_masts() < 2 {
            return self
                .of_mast_states(0)
                .map(|row| State {
                    lowered: vec![row.lowered],
                    area: row.area,
                    share: row.share,
                    aft: row.aft_of_mast,
                    up: row.centre.map(|centre| centre.z),
                })
                .listed();
        }
        let steps = self.account.rig.sequence.iter();
        steps
            .map(|step| State {
                lowered: step.lowered.clone(),
                area: step.standing.map_or(0.0, |standing| standing.area),
                share: step.share,
                aft: step.standing.map(|standing| standing.x),
                up: step.standing.map(|standing| standing.z),
            })
            .listed()
    }

    /// What each sail has of its own; with several masts each centre from its own mast too.
    pub(crate) fn columns_of_sail(&self) -> Vec<OfSail> {
        let several = (self.n_masts() > 1).then_some(AFT_OF_MAST);
        several.into_iter().chain(OF_SAIL).listed()
    }

    /// The states of one sail, all standing first; without the one in which the boom has only
    /// dropped onto its lifts.
    pub(crate) fn of_mast_states(&self, mast: usize) -> impl Iterator<Item = &StateRow> {
        let rows = self.account.masts.get(mast).map_or(&[][..], |m| &m.rows);
        rows.iter().filter(|row| row.lowered > 0 || !row.on_lifts)
    }

    fn detail(&self, lowered: &[usize]) -> Detail {
        let plain = |key, label: &str, help: &str, unit: &Quantity| Column {
            key,
            label: self.word(label),
            unit: unit.unit(self.view.units).to_owned(),
            help: self.word(help),
        };
        let mut columns = vec![Column {
            key: "spar",
            label: self.word("table.spar"),
            unit: String::new(),
            help: String::new(),
        }];
        columns.push(self.column(&PARREL_HEIGHT));
        columns.push(plain("shift", "table.shift", "table.shift.help", &SLIDE));
        columns.push(self.column(&SLIDE));
        columns.push(self.column(&PARREL_LENGTH));
        let mut rows = Vec::new();
        for (mast, lowered) in lowered.iter().enumerate() {
            let Some(state) = self.state(mast, *lowered) else {
                continue;
            };
            let parrels = self
                .account
                .masts
                .get(mast)
                .map_or(&[][..], |mast| &mast.parrels);
            let yard = state.on_mast.len().saturating_sub(1);
            // The yard stands at the top, as it does on the water.
            for spar in (0..=yard).rev() {
                let name = self.spar_name(spar, yard);
                let of = |list: &[f64]| list.get(spar).copied();
                rows.push(vec![
                    self.of_mast(name, mast),
                    self.number_or_dash(state.on_mast.get(spar).copied().flatten(), &PARREL_HEIGHT),
                    self.number_or_dash(of(&state.shifts), &SLIDE),
                    self.number_or_dash(of(&state.slides), &SLIDE),
                    self.number_or_dash(
                        parrels.get(spar).map(|parrel| parrel.parrel.length),
                        &PARREL_LENGTH,
                    ),
                ]);
            }
        }
        Detail { columns, rows }
    }

    pub(crate) fn column(&self, quantity: &'static Quantity) -> Column {
        Column {
            key: quantity.key(),
            label: self.word(quantity.label),
            unit: quantity.unit(self.view.units).to_owned(),
            help: self.word(&quantity.help()),
        }
    }
}

/// Panels lowered, mast by mast: `1 + 0`.
pub(crate) fn state_name(lowered: &[usize]) -> String {
    let numbers = lowered
        .iter()
        .map(|lowered| units::fixed(*lowered as f64, 0));
    joined(&numbers.listed(), " + ")
}
