//! Section Balance: what stands up to a wind, and what she is known to be.

use boat::{Advice, Banded, Governs, Heel, Limit};
use design::Document;
use drawing::plots::{DeckMap, Plot, plot};
use drawing::{Medium, Scene};
use quantities::listed::{Listed as _, joined};
use quantities::quantity as q;
use quantities::{Arg, Quantity, Severity, Text, bounds};
use wind::{KNOT, beaufort};

use crate::attention::part_word;
use crate::bench::Bench;
use crate::reef_table::state_name;
use crate::rows::{Attention, Balance, Column, Detail, Figure, ReefRow, ReefTable, TypedIn};

/// Heels at which the righting moment is told [deg].
const HEELS: [&str; 4] = ["1°", "10°", "20°", "30°"];

/// A wind that is stood up to in whole knots, never more than it is: at the number told the reef is still right [m/s].
pub(crate) fn whole(wind: f64) -> f64 {
    (wind / KNOT + 1e-9).floor() * KNOT
}

impl Bench {
    /// Everything the section shows.
    pub fn balance(&self) -> Balance {
        let boat = &self.account.boat;
        let on = boat.advice(self.view.wind, false);
        let step = on.and_then(|advice| advice.step);
        let hoist = step.and_then(|step| self.account.rig.sequence.get(step));
        Balance {
            wind: self.say(&self.wind_text(self.view.wind)),
            hoist: hoist.map_or_else(Vec::new, |step| {
                step.lowered.iter().map(|lowered| *lowered as f64).listed()
            }),
            advice: self.advice(on),
            needs: self.needs(),
            figures: self.known(),
            reefs: self.reef_winds(),
            loadings: self.loadings(),
            swap: self.swap(),
            checks: self.checks(),
        }
    }

    /// A plot; any other name gives the one of the stern. The map of the deck block is worked out once for
    /// each design and line in hand.
    pub fn plot(&mut self, name: &str, width: f64, height: f64) -> Scene {
        if name == "deck" {
            let of = (self.view.mast, self.view.line);
            if self.deck.as_ref().is_none_or(|(known, _)| *known != of) {
                self.deck = Some((of, DeckMap::of(&self.moment(Medium::Screen))));
            }
        }
        let chart = self.spar_chart(name);
        let known = self.account.masts.get(self.view.mast);
        let cloth = known.and_then(|known| known.cloth.as_ref());
        let ways = if name == "cloth-ways" {
            design::ways(self.design(), self.view.mast, &self.account)
        } else {
            Vec::new()
        };
        let which = match name {
            _ if name.starts_with("cloth") => match cloth {
                Some(cloth) => Plot::of_cloth(name, &cloth.input, &ways),
                None => Plot::Chart(&chart),
            },
            "above" => Plot::Above,
            "mast-section" => Plot::Section,
            "raising" | "finder" => Plot::Chart(&chart),
            "deck" => match &self.deck {
                Some((_, Some(map))) => Plot::Deck(map),
                _ => Plot::Above,
            },
            "righting" => Plot::Righting,
            "travel" => Plot::Travel,
            _ if name.starts_with("spar") => Plot::Chart(&chart),
            _ => Plot::Stern,
        };
        plot(
            which,
            &self.moment(Medium::Screen),
            self.step_now(),
            width,
            height,
        )
    }

    /// Which step of the reef sequence holds now; none between them.
    pub(crate) fn step_now(&self) -> usize {
        let now = |mast: usize| self.state_now(mast).map_or(0, |row| row.lowered);
        let holds = |step: &design::RigStep| {
            let masts = step.lowered.iter().enumerate();
            masts.fold(true, |all, (mast, lowered)| all && now(mast) == *lowered)
        };
        let steps = &self.account.rig.sequence;
        // Sails lowered out of their order: the step with as much or less standing.
        steps.iter().position(holds).unwrap_or_else(|| {
            let lowered: usize = (0..self.n_masts()).map(now).sum();
            let at = steps
                .iter()
                .position(|step| step.lowered.iter().sum::<usize>() >= lowered);
            at.unwrap_or(0)
        })
    }

    /// A true wind in knots, on the Beaufort scale and in metres a second.
    pub(crate) fn wind_text(&self, speed: f64) -> Text {
        Text::new("balance.wind")
            .with("wind", (speed / KNOT, &q::TRUE_WIND))
            .with("force", u32::from(beaufort::number(speed)))
            .with("metres", self.view.units.fixed(speed, 1))
    }

    /// What to lower on the wind and running, and how she heels as she stands now.
    pub(crate) fn advice(&self, on: Option<Advice>) -> Vec<Vec<String>> {
        let boat = &self.account.boat;
        let wind = self.view.wind;
        let Some(on) = on else {
            return Vec::new();
        };
        let mut rows = vec![vec![self.word("balance.on_wind"), self.advised(on)]];
        if let Some(running) = boat.advice(wind, true) {
            rows.push(vec![self.word("balance.running"), self.advised(running)]);
        }
        let step = self.step_now();
        if let Some(heel) = boat.heel(step, wind) {
            let told = match heel {
                Heel::At(heel) => self.banded(&heel, &q::HEEL),
                Heel::Past(limit) => {
                    let text = Text::new("balance.past");
                    self.say(&text.with("limit", (limit.to_degrees(), &q::HEEL)))
                }
                Heel::KnockedDown => self.word("balance.knocked_down"),
            };
            rows.push(vec![self.word("balance.heel_now"), told]);
        }
        if let Some(felt) = boat.felt(step, wind) {
            let felt = q::APPARENT_WIND.document_from_si(felt);
            rows.push(vec![
                self.word(q::APPARENT_WIND.label),
                q::APPARENT_WIND.say(felt, self.view.units),
            ]);
        }
        rows
    }

    fn advised(&self, advice: Advice) -> String {
        let why = advice.governs.map_or("balance.nothing", governs_word);
        let step = advice
            .step
            .and_then(|step| self.account.rig.sequence.get(step));
        let Some(step) = step else {
            return self.say(&Text::new("balance.too_much").with_key("why", why));
        };
        if advice.governs.is_none() {
            return self.word("balance.all_standing");
        }
        let n: usize = step.lowered.iter().sum();
        let text = Text::new("balance.lower").with("state", state_name(&step.lowered));
        self.say(&text.with_key("why", why).with("n", n as u32))
    }

    /// A value and the half width of its band.
    fn banded(&self, value: &Banded, quantity: &Quantity) -> String {
        let told = quantity.say(quantity.document_from_si(value.value), self.view.units);
        match self.band(value, quantity) {
            Some(band) => [&told, " ", &band].concat(),
            None => told,
        }
    }

    /// The ends of a band that can be told from its value; no end below nought, and none where she
    /// may find no balance.
    fn band(&self, value: &Banded, quantity: &Quantity) -> Option<String> {
        let end =
            |end: f64| quantity.spell(quantity.document_from_si(end.max(0.0)), self.view.units);
        let least = end(value.least);
        if !value.most.is_finite() {
            return Some(self.say(&Text::new("balance.band_open").with("least", least)));
        }
        let most = end(value.most);
        (least != most).then(|| {
            let text = Text::new("balance.band");
            self.say(&text.with("least", least).with("most", most))
        })
    }

    fn needs(&self) -> Vec<Attention> {
        let needs = self.account.needs.iter();
        needs
            .map(|path| Attention {
                severity: "look",
                title: match *path {
                    "boat.test.readings" => self.word("balance.need.readings"),
                    "boat.gz" => self.word("balance.need.table"),
                    "boat.profile" => self.word("balance.need.profile"),
                    _ => bounds::row(path)
                        .map_or_else(String::new, |row| self.word(row.quantity.label)),
                },
                text: String::new(),
                path: (*path).to_owned(),
                part: String::new(),
                mast: None,
                hoist: Vec::new(),
            })
            .listed()
    }

    /// The numbers of the boat as a whole.
    fn known(&self) -> Vec<Figure> {
        let boat = &self.account.boat;
        let loading = boat.loadings.get(self.design().boat.particulars.loading);
        let loading = loading.and_then(Option::as_ref);
        let now = boat.rig_now.as_ref();
        let full = boat.steps.first();
        let mut list = Vec::new();
        let mut add = |quantity: &'static Quantity, value: Option<f64>, band: Option<&Banded>| {
            let Some(value) = value.filter(|value| value.is_finite()) else {
                return;
            };
            let mut figure = self.figure(quantity, Some(value));
            if let Some(band) = band.and_then(|band| self.band(band, quantity)) {
                figure.unit.push(' ');
                figure.unit.push_str(&band);
            }
            list.push(figure);
        };
        let of = |banded: Option<&Banded>| banded.map(|banded| banded.value);
        let height = loading.and_then(|loading| loading.height.as_ref());
        let stiffness = loading.map(|loading| &loading.stiffness);
        let greatest = loading.map(|loading| &loading.greatest);
        add(&q::GM, of(height), height);
        add(&q::STIFFNESS, of(stiffness), stiffness);
        add(&q::GREATEST_MOMENT, of(greatest), greatest);
        add(&q::LIMIT_HEEL, loading.map(|loading| loading.limit), None);
        add(&q::VANISHING, loading.and_then(|l| l.vanishing), None);
        add(&q::ROLL, loading.and_then(|l| l.period), None);
        add(&q::GM_ROLLED, boat.rolled, None);
        add(&q::SCATTER, boat.test.and_then(|test| test.scatter), None);
        add(&q::LIST, boat.test.map(|test| test.list), None);
        add(&q::CLR, boat.resistance.map(|found| found.x), None);
        add(&q::LEAD, full.and_then(|step| step.lead), None);
        let together = now.map(|now| now.together);
        add(&q::NOW_AREA, together.map(|outline| outline.area), None);
        add(&q::NOW_CE, together.map(|outline| outline.x), None);
        add(&q::NOW_LEAD, now.and_then(|now| now.lead), None);
        add(&q::SINKAGE, boat.swap.map(|swap| swap.sinkage), None);
        add(&q::TRIM, boat.swap.map(|swap| swap.trim), None);
        let ratios = &boat.ratios;
        add(&q::SAIL_AREA_RATIO, ratios.area_displacement, None);
        add(&q::LENGTH_RATIO, ratios.displacement_length, None);
        add(&q::WETTED_RATIO, ratios.area_wetted, None);
        list
    }

    /// One row per step of the reef sequence: winds and balance; unfolded, all that is known of it.
    fn reef_winds(&self) -> ReefTable {
        let boat = &self.account.boat;
        let columns = [
            &q::AREA,
            &q::TRUE_WIND,
            &q::BEAUFORT,
            &q::TRUE_WIND_RUNNING,
            &q::LEAD,
            &q::OVERBALANCE,
        ];
        let wind = |limit: Option<Limit>| {
            let limit = limit.map(|limit| whole(limit.forecast.value));
            self.number_or_dash(limit, &q::TRUE_WIND)
        };
        let now = self.step_now();
        let steps = self.account.rig.sequence.iter().zip(&boat.steps);
        let rows = steps.enumerate().map(|(i, (step, found))| {
            let margins = found
                .sails
                .iter()
                .map(|sail| self.number_or_dash(sail.margin, &q::OVERBALANCE));
            ReefRow {
                id: quantities::units::fixed(i as f64, 0),
                name: state_name(&step.lowered),
                hoist: step.lowered.iter().map(|k| *k as f64).listed(),
                cells: vec![
                    self.number(found.area, &q::AREA),
                    wind(found.on),
                    self.number_or_dash(found.on.map(|on| f64::from(on.beaufort)), &q::BEAUFORT),
                    wind(found.off),
                    self.number_or_dash(found.lead, &q::LEAD),
                    joined(&margins.listed(), " / "),
                ],
                now: i == now,
                detail: self.step_detail(found),
            }
        });
        ReefTable {
            rows: rows.listed(),
            columns: columns.map(|quantity| self.column(quantity)).into(),
        }
    }

    fn step_detail(&self, step: &boat::StepAccount) -> Detail {
        let mut rows = Vec::new();
        let mut add = |label: &str, told: Option<String>| {
            if let Some(told) = told {
                let help = match label.strip_prefix("label.") {
                    Some(name) => self.word(&["help.", name].concat()),
                    None => self.help_of(label),
                };
                rows.push(vec![self.word(label), told, help]);
            }
        };
        let say = |si: Option<f64>, quantity: &Quantity| {
            si.map(|si| quantity.say(quantity.document_from_si(si), self.view.units))
        };
        let limit = |limit: Option<Limit>| {
            limit.map(|limit| {
                let forecast = Banded {
                    value: whole(limit.forecast.value),
                    least: whole(limit.forecast.least),
                    most: whole(limit.forecast.most),
                };
                let wind = self.say(&self.wind_text(forecast.value));
                let band = self.band(&forecast, &q::TRUE_WIND);
                let why = self.word(governs_word(limit.governs));
                [&wind, " ", &band.unwrap_or_default(), " · ", &why].concat()
            })
        };
        add(q::TRUE_WIND.label, limit(step.on));
        add(
            q::APPARENT_WIND.label,
            say(step.on.map(|on| on.apparent), &q::APPARENT_WIND),
        );
        add(q::TRUE_WIND_RUNNING.label, limit(step.off));
        add(
            "balance.knocked_down",
            say(
                step.knocked_down.map(|limit| limit.forecast.value),
                &q::TRUE_WIND,
            ),
        );
        // To the reader aft is positive, as in the reef table.
        add(
            q::LEAD_SHIFT.label,
            say(step.shift.map(|shift| 0.0 - shift), &q::LEAD_SHIFT),
        );
        add(q::YAW_ARM.label, say(step.yaw_arm, &q::YAW_ARM));
        if step.sails.len() > 1 {
            for (mast, sail) in step.sails.iter().enumerate() {
                if let Some(lead) = say(sail.lead, &q::LEAD) {
                    let label = self.of_mast(self.word(q::LEAD.label), mast);
                    rows.push(vec![label, lead, self.word(&q::LEAD.help())]);
                }
            }
        }
        Detail {
            columns: Vec::new(),
            rows,
        }
    }

    /// Light, sailing, laden.
    fn loadings(&self) -> Detail {
        let rows = self
            .account
            .boat
            .loadings
            .iter()
            .zip(["light", "sailing", "laden"])
            .filter_map(|(loading, word)| {
                let name = self.word(&["choice.loading.", word].concat());
                Some(self.stability_row(name, loading.as_ref()?))
            });
        let rows: Vec<_> = rows.listed();
        Detail {
            columns: self.stability_columns(&q::LOADING, rows.len()),
            rows,
        }
    }

    /// Before the change of rig and after it.
    fn swap(&self) -> Detail {
        let boat = &self.account.boat;
        let after = boat.loadings.get(self.design().boat.particulars.loading);
        let mut rows = Vec::new();
        if let (Some(swap), Some(Some(after))) = (&boat.swap, after)
            && let Some(before) = &swap.before
        {
            rows.push(self.stability_row(self.word("balance.old_rig"), before));
            rows.push(self.stability_row(self.word("balance.new_rig"), after));
        }
        Detail {
            columns: self.stability_columns(&q::RIG, rows.len()),
            rows,
        }
    }

    fn stability_columns(&self, first: &'static Quantity, rows: usize) -> Vec<Column> {
        let mut columns = Vec::new();
        if rows == 0 {
            return columns;
        }
        for quantity in [first, &q::DISPLACEMENT, &q::GM, &q::STIFFNESS] {
            columns.push(self.column(quantity));
        }
        for (heel, _) in HEELS
            .iter()
            .zip(self.heels_known())
            .filter(|(_, known)| *known)
        {
            let mut column = self.column(&q::RIGHTING_MOMENT);
            column.label = [&column.label, " ", heel].concat();
            columns.push(column);
        }
        columns.push(self.column(&q::GREATEST_MOMENT));
        columns
    }

    /// At which of the heels any loading has a moment.
    fn heels_known(&self) -> [bool; 4] {
        let mut known = [false; 4];
        for loading in self.account.boat.loadings.iter().flatten() {
            for (known, moment) in known.iter_mut().zip(loading.moments) {
                *known |= moment.is_some();
            }
        }
        known
    }

    fn stability_row(&self, name: String, loading: &boat::Loading) -> Vec<String> {
        let mut row = vec![
            name,
            self.number_or_dash(loading.displacement, &q::DISPLACEMENT),
            self.number_or_dash(loading.height.map(|height| height.value), &q::GM),
            self.number(loading.stiffness.value, &q::STIFFNESS),
        ];
        for (moment, _) in loading
            .moments
            .iter()
            .zip(self.heels_known())
            .filter(|(_, known)| *known)
        {
            row.push(self.number_or_dash(*moment, &q::RIGHTING_MOMENT));
        }
        row.push(self.number(loading.greatest.value, &q::GREATEST_MOMENT));
        row
    }

    /// Every check, passed or not, with value, limit and basis.
    fn checks(&self) -> Vec<Attention> {
        let checks = self.account.checks.iter();
        checks
            .map(|check| {
                let mut title = self.say(&check.text);
                if let Some(mast) = check.mast {
                    title = self.of_mast(title, mast);
                }
                let mut parts = Vec::new();
                let mut add = |key, (value, quantity)| {
                    let value = Arg::from((value, quantity));
                    parts.push(self.say(&Text::new(key).with("value", value)));
                };
                if let Some(value) = check.value {
                    add("balance.value", value);
                    if let Some(limit) = check.limit {
                        let least = match check.key {
                            "air_draught" | "head_step" | "leech_kink" | "slide_forced"
                            | "travel" | "halyard_angle" | "hand_force" | "lifts_off"
                            | "lead_shift" | "estimate" | "mast_stress" | "mast_bend"
                            | "spar_stress" | "spar_bend" | "wedges" | "wall_crushed" => false,
                            // The nearer of two limits is told.
                            "aspect" | "panel_width" | "balance" | "lead" | "lead_now"
                            | "sail_area" | "mast_place" => {
                                (value.0 >= limit.0) == (check.severity == Severity::Passed)
                            }
                            _ => true,
                        };
                        add(
                            if least {
                                "balance.least"
                            } else {
                                "balance.most"
                            },
                            limit,
                        );
                    }
                }
                parts.push(self.say(&check.basis.text()));
                if check.severity != Severity::Passed {
                    parts.push(self.say(&check.advice));
                }
                Attention {
                    severity: match check.severity {
                        Severity::Passed => "passed",
                        Severity::Look => "look",
                        Severity::Danger => "danger",
                    },
                    title,
                    text: joined(&parts, " · "),
                    path: String::new(),
                    part: part_word(check.part),
                    mast: check.mast.map(|mast| mast as u32),
                    hoist: self.hoist_of(check),
                }
            })
            .listed()
    }

    /// Edits that bring the common centre of effort to that of the rig she has, and what they miss.
    pub fn fit_centre(&self) -> TypedIn {
        let fit = self.document.fit_centre(self.view.mast, &self.account);
        TypedIn {
            problem: match &fit {
                Some((_, miss)) if miss.abs() < Document::CENTRE_FITS => None,
                Some((_, miss)) => {
                    let text = Text::new("balance.centre_missed");
                    Some(self.say(&text.with("miss", (miss.abs(), &q::CE_SHIFT))))
                }
                None => Some(self.word("balance.no_centre")),
            },
            edits: fit.map(|(edits, _)| design::Edit::write_list(&edits)),
        }
    }
}

fn governs_word(governs: Governs) -> &'static str {
    match governs {
        Governs::Heel => "balance.governs.heel",
        Governs::Curve => "balance.governs.curve",
        Governs::KnockedDown => "balance.governs.knocked_down",
        Governs::Force => "balance.governs.force",
    }
}
