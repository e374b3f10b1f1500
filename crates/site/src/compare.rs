//! Two designs held against each other: what was typed differently and what it comes to.

use boat::Heel;
use design::differing;
use design::spar_shop::{RigPart, rig_weights};
use drawing::{Medium, compare, sail_plan, svg};
use quantities::quantity as q;
use quantities::{Quantity, Text, bounds, units};

use crate::balance::whole;
use crate::bench::Bench;
use crate::rows::{Detail, Paper};

/// Most inputs that are listed.
const MOST: usize = 120;

/// A number of a design, of a mast where it is one's: its label where its quantity's will not do, its quantity, how it is found [SI].
type Found = (
    &'static str,
    &'static Quantity,
    fn(&Bench, usize) -> Option<f64>,
);

/// Of the boat as she stands now.
const BOAT_NOW: [Found; 8] = [
    ("", &q::TOTAL_AREA, |b, _| b.pose.standing.map(|s| s.area)),
    ("", &q::AREA_SHARE, |b, _| Some(b.pose.share)),
    ("", &q::CE_AFT_WATERLINE, |b, _| {
        b.pose.standing.map(|s| s.x)
    }),
    ("", &q::CE_UP, |b, _| b.pose.standing.map(|s| s.z)),
    ("", &q::LEAD, |b, _| {
        b.account.boat.steps.get(b.step_now())?.lead
    }),
    ("balance.heel_now", &q::HEEL, |b, _| {
        match b.account.boat.heel(b.step_now(), b.view.wind)? {
            Heel::At(heel) => Some(heel.value),
            _ => None,
        }
    }),
    ("proof.winds", &q::TRUE_WIND, |b, _| {
        let limit = b.account.boat.steps.get(b.step_now())?.on?;
        Some(whole(limit.forecast.value))
    }),
    ("", &q::TRUE_WIND_RUNNING, |b, _| {
        let limit = b.account.boat.steps.get(b.step_now())?.off?;
        Some(whole(limit.forecast.value))
    }),
];

/// Of the boat, whatever is set.
const OF_BOAT: [Found; 6] = [
    ("", &q::GM, |b, _| {
        let boat = &b.account.boat;
        let loading = boat.loadings.get(b.design().boat.particulars.loading)?;
        Some(loading.as_ref()?.height.as_ref()?.value)
    }),
    ("", &q::STIFFNESS, |b, _| {
        let boat = &b.account.boat;
        let loading = boat.loadings.get(b.design().boat.particulars.loading)?;
        Some(loading.as_ref()?.stiffness.value)
    }),
    ("", &q::CLR, |b, _| Some(b.account.boat.resistance?.x)),
    ("", &q::AIR_DRAUGHT, |b, _| Some(b.account.rig.air_draught)),
    ("", &q::SAIL_AREA_RATIO, |b, _| {
        b.account.boat.ratios.area_displacement
    }),
    ("", &q::LENGTH_RATIO, |b, _| {
        b.account.boat.ratios.displacement_length
    }),
];

/// Of each sail as it stands now; its area first.
const MAST_NOW: [Found; 6] = [
    ("", &q::AREA, |b, m| Some(b.state_now(m)?.area)),
    ("", &q::CE_AFT, |b, m| b.state_now(m)?.aft_of_mast),
    ("", &q::CHORD_BALANCE, |b, m| b.state_now(m)?.chord_balance),
    ("", &q::AREA_BALANCE, |b, m| b.state_now(m)?.area_balance),
    ("", &q::YARD_HEIGHT, |b, m| {
        Some(b.state_now(m)?.yard_height)
    }),
    ("", &q::BUNDLE_HEIGHT, |b, m| {
        Some(b.state_now(m)?.bundle_height)
    }),
];

/// Of each whole sail, its mast, spars, cloth and lines.
const OF_MAST: [Found; 11] = [
    ("", &q::ASPECT, |b, m| {
        Some(b.account.masts.get(m)?.figures.as_ref()?.aspect)
    }),
    ("", &q::LUFF_LENGTH, |b, m| {
        Some(b.account.masts.get(m)?.figures.as_ref()?.luff)
    }),
    ("", &q::LEECH_LENGTH, |b, m| {
        Some(b.account.masts.get(m)?.figures.as_ref()?.leech)
    }),
    ("", &q::LAP, |b, m| Some(b.account.masts.get(m)?.mast.lap)),
    ("", &q::MAST_DIAMETER, |b, m| {
        Some(b.account.masts.get(m)?.mast.diameter)
    }),
    ("compare.stress", &q::AREA_SHARE, |b, m| {
        let proof = &b.account.masts.get(m)?.spars.as_ref()?.mast;
        (!proof.cases.is_empty()).then_some(proof.ratio)
    }),
    ("compare.mast", &q::BOOM_MASS, |b, m| {
        weighed(b, m, &|part| matches!(part, RigPart::Mast))
    }),
    ("compare.spars", &q::BOOM_MASS, |b, m| {
        weighed(b, m, &|part| matches!(part, RigPart::Spar(_)))
    }),
    ("compare.cloth", &q::BOOM_MASS, |b, m| {
        let cloth = b.account.masts.get(m)?.cloth.as_ref()?;
        Some(cloth.panels.iter().sum())
    }),
    ("compare.rig", &q::BOOM_MASS, |b, m| {
        weighed(b, m, &|_| true)
    }),
    ("compare.rope", &q::LINE_BUY, |b, m| {
        let lines = b.account.masts.get(m)?.lines.as_ref()?;
        Some(lines.account.lines.iter().map(|line| line.buy).sum())
    }),
];

/// A key of the document, and what it is called as a line and as a spar.
const PLACES: [(&str, &str, &str); 13] = [
    ("mast", "", "part.mast"),
    ("battens", "", "part.battens"),
    ("boom", "", "part.boom"),
    ("yard", "part.yard-parrel", "part.yard"),
    ("halyard", "part.halyard", ""),
    ("lifts", "part.lifts", ""),
    ("sheet", "part.sheet", ""),
    ("parrels", "part.batten-parrel", ""),
    ("luff", "part.luff-parrel", ""),
    ("throat", "part.throat-parrel", ""),
    ("tack", "part.tack-line", ""),
    ("restraint", "part.restraint", ""),
    ("down", "part.downhaul", ""),
];

/// Weight of parts of a mast's rig [kg]; none without them.
fn weighed(bench: &Bench, mast: usize, of: &dyn Fn(RigPart) -> bool) -> Option<f64> {
    let mut sum = 0.0;
    for (part, mass, _) in rig_weights(bench.design(), &bench.account, mast).parts {
        if of(part) {
            sum += mass;
        }
    }
    (sum > 0.0).then_some(sum)
}

impl Bench {
    /// What this design comes to against another as both stand now, what they come to whole, then what was typed differently:
    /// label, this one's, the other's, the difference, and what it means, without heads. The title of the last tells how many more
    /// there are, of which there is no more to say.
    pub fn compare(&mut self, other: &mut Bench) -> Vec<Paper> {
        let masts = self.n_masts().max(other.n_masts());
        // The area of an only sail is that of all.
        let [_, but_area @ ..] = &MAST_NOW;
        let sail_now: &[Found] = if masts < 2 { but_area } else { &MAST_NOW };
        let parts: [(&[Found], &[Found]); 2] = [(&BOAT_NOW, sail_now), (&OF_BOAT, &OF_MAST)];
        let [now, lasting] = parts.map(|(of_boat, of_mast)| {
            let mut rows = Vec::with_capacity(32);
            for row in of_boat {
                self.result(other, row, None, &mut rows);
            }
            for mast in 0..masts {
                for row in of_mast {
                    self.result(other, row, Some(mast), &mut rows);
                }
            }
            rows
        });
        let (paths, found) = differing(&self.document, &other.document, MOST);
        let mut inputs = Vec::with_capacity(paths.len());
        for path in &paths {
            // Two that a reader cannot tell apart are no use to him.
            let known = |row: &Vec<String>| {
                inputs
                    .iter()
                    .any(|other: &Vec<String>| other.first() == row.first())
            };
            if let Some(row) = self.input(other, path).filter(|row| !known(row)) {
                inputs.push(row);
            }
        }
        let more = found - inputs.len();
        let more = if more > 0 {
            self.say(&Text::new("compare.more").with("n", more as u32))
        } else if found == 0 {
            self.word("compare.same")
        } else {
            String::new()
        };
        let paper = |title, rows| Paper {
            title,
            detail: Detail {
                columns: Vec::new(),
                rows,
            },
        };
        vec![
            paper(String::new(), now),
            paper(String::new(), lasting),
            paper(more, inputs),
        ]
    }

    fn result(
        &self,
        other: &Bench,
        (label, quantity, find): &Found,
        of: Option<usize>,
        rows: &mut Vec<Vec<String>>,
    ) {
        let mast = of.unwrap_or(0);
        let (one, two) = (find(self, mast), find(other, mast));
        if one.is_none() && two.is_none() {
            return;
        }
        let label = if label.is_empty() {
            quantity.label
        } else {
            *label
        };
        let mut label = self.word(label);
        if let Some(mast) = of {
            label = self.of_either(other, label, mast);
        }
        let told = |si: Option<f64>| si.map(|si| quantity.document_from_si(si));
        rows.push(self.against(label, (quantity, false), told(one), told(two)));
    }

    /// Words about one of several masts, named by the design that has more of them.
    fn of_either(&self, other: &Bench, words: String, mast: usize) -> String {
        let named = if self.n_masts() < other.n_masts() {
            other
        } else {
            self
        };
        named.of_mast(words, mast)
    }

    /// A row of two numbers in document units.
    fn against(
        &self,
        label: String,
        (quantity, typed): (&Quantity, bool),
        one: Option<f64>,
        two: Option<f64>,
    ) -> Vec<String> {
        let shown = self.view.units;
        // What was typed shows every digit: it may differ in the last.
        let told = |value: Option<f64>| match value {
            Some(value) if value.is_finite() && typed => quantity.say_given(value, shown),
            Some(value) if value.is_finite() => quantity.say(value, shown),
            _ => "–".to_owned(),
        };
        // Of what is told: a reader takes one from the other.
        let read = |value: f64| {
            let said = quantity.spell(value, shown);
            units::parse(quantity.kind, &said, shown).unwrap_or(value)
        };
        let difference = one
            .zip(two)
            .map(|(one, two)| {
                if typed {
                    two - one
                } else {
                    read(two) - read(one)
                }
            })
            .filter(|d| d.is_finite());
        let (one, two) = (told(one), told(two));
        let by = match difference {
            // What is told alike is alike to the reader.
            Some(_) if one == two => quantity.say(0.0, shown),
            Some(by) if by > 0.0 => ["+", &told(Some(by))].concat(),
            by => by.map_or_else(String::new, |by| told(Some(by))),
        };
        vec![label, one, two, by, self.word(&quantity.help())]
    }

    /// An input that differs; none where it has no name to a reader.
    fn input(&mut self, other: &mut Bench, path: &str) -> Option<Vec<String>> {
        let mast = path
            .strip_prefix("masts.")
            .and_then(|rest| rest.split('.').next()?.parse::<usize>().ok());
        let Some(row) = bounds::row(path) else {
            // A mast that one of them has not.
            let mast = mast.filter(|_| path.len() < 8)?;
            let more = if self.n_masts() > other.n_masts() {
                self.mast_name(mast)
            } else {
                other.mast_name(mast)
            };
            let has = |bench: &Bench| {
                if mast < bench.n_masts() {
                    more.clone()
                } else {
                    "–".to_owned()
                }
            };
            return Some(vec![
                self.word("label.rig"),
                has(self),
                has(other),
                String::new(),
                String::new(),
            ]);
        };
        let paths = [path.to_owned()];
        let (one, two) = (self.fields(&paths).pop()?, other.fields(&paths).pop()?);
        let mut label = self.of_spar(one.label.clone(), path);
        if label == one.label {
            self.place_in(path, if mast.is_some() { 2 } else { 0 }, &mut label);
        }
        if let Some(mast) = mast {
            label = self.of_either(other, label, mast);
        }
        if row.quantity == &q::HOLD_SPAR {
            // Which spar, not how many.
            let told = |bench: &Bench, number: Option<f64>| {
                let spars = bench.state_now(mast.unwrap_or(0)).map(|row| &row.on_mast);
                number.zip(spars).map_or_else(
                    || "–".to_owned(),
                    |(spar, spars)| bench.spar_name(spar as usize, spars.len().saturating_sub(1)),
                )
            };
            let (one, two) = (told(self, one.number), told(other, two.number));
            let help = self.word(&row.quantity.help());
            return Some(vec![label, one, two, String::new(), help]);
        }
        if matches!(one.kind, "number" | "whole") {
            return Some(self.against(label, (row.quantity, true), one.number, two.number));
        }
        let told = |field: &crate::rows::FieldRow| {
            let known = field
                .options
                .iter()
                .find(|option| option.value == field.text);
            let words = known.map_or(field.text.as_str(), |option| option.label.as_str());
            match (field.kind, field.text.as_str()) {
                ("flag", "true") => self.word("compare.yes"),
                ("flag", _) => self.word("compare.no"),
                _ if words.is_empty() => "–".to_owned(),
                _ => words.to_owned(),
            }
        };
        Some(vec![
            label,
            told(&one),
            told(&two),
            String::new(),
            self.word(&row.quantity.help()),
        ])
    }

    /// What of several alike an input is of: the line or spar, and which entry of a list.
    fn place_in(&self, path: &str, past: usize, label: &mut String) {
        let mut within = "";
        for (i, part) in path.split('.').skip(past).enumerate() {
            if let Ok(number) = part.parse::<usize>() {
                label.push(' ');
                label.push_str(&units::fixed(number as f64 + 1.0, 0));
            }
            // `masts.0.lines.halyard.lead_x_m`, `masts.0.spars.boom_wall_m`.
            if i == 0 {
                within = part;
            } else if i == 1 {
                for (word, line, spar) in &PLACES {
                    let key = if within == "lines" && part == *word {
                        line
                    } else if within == "spars" && part.split('_').next() == Some(word) {
                        spar
                    } else {
                        continue;
                    };
                    if !key.is_empty() {
                        label.push_str(", ");
                        label.push_str(&self.word(key));
                    }
                }
            }
        }
    }

    /// This design (`one`), the other (`other`) or the other laid over this one (`over`), by one scale.
    pub fn compare_svg(&self, other: &Bench, which: &str, width: f64, height: f64) -> String {
        let (one, two) = (self.moment(Medium::Screen), other.moment(Medium::Screen));
        let scene = if which == "over" {
            compare::over(&one, &two, width, height)
        } else {
            let [first, second] = compare::frames(&one, &two, false, width, height);
            if which == "one" {
                sail_plan(&one, &first)
            } else {
                sail_plan(&two, &second)
            }
        };
        svg::write(&scene, self.scheme())
    }
}
