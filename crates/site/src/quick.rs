//! Quick checks for the yard: a few measures in, one number out, written into the design where it is wanted.
//!
//! The formulas are the trade's crates'; here measures are read, first values taken from the design, results spelled.

use boat::inclining::{Inclining, Reading, band};
use cloth::materials::{MADE_UP, UK_OUNCE, US_OUNCE};
use design::spar_shop::{mast_factors, material_of, strength_wind};
use design::tree::list_row;
use design::{Edit, in_use};
use geometry::measured::{Edge, Unclosed, measure};
use geometry::parrel::batten_parrel_length;
use geometry::unit;
use quantities::bounds::{MOST_ROWS, Row, quick_row};
use quantities::listed::joined;
use quantities::quantity as q;
use quantities::units::Measures;
use quantities::{Arg, Kind, Quantity, Text, UnitKind, Units, Usual, units};
use rigging::tackle::rope;
use serde_json::Value;
use spars::Pole;
use spars::sections::wall_for;

use crate::bench::Bench;
use crate::rows::{Choice, FieldRow, Quick};

/// Most readings and most sails: what a thumb still finds its way through.
const MOST: usize = 12;

const READING: [&str; 3] = [
    "boat.test.readings[].weight_kg",
    "boat.test.readings[].arm_m",
    "boat.test.readings[].deflection_m",
];

const SAIL: [&str; 9] = [
    "quick.luff",
    "quick.leech",
    "quick.foot",
    "quick.head",
    "quick.throat_clew",
    "quick.tack_peak",
    "quick.tack_x",
    "quick.tack_z",
    "quick.lean",
];

/// How a number is typed: its kind and units, and what one of it is in document units.
type Typed = (UnitKind, Units, f64);

/// What is to stand at a leaf.
enum New<'a> {
    Number(f64),
    Word(&'a str),
    List(Vec<Value>),
    Gone,
    /// Part of the list that is written beside it.
    Told,
}

/// A check being worked out.
struct Work<'a> {
    bench: &'a Bench,
    /// Names of fields and what was typed into them, in turn.
    typed: &'a [String],
    /// First values come from the design.
    own: bool,
    /// Row of the list in sight.
    at: usize,
    quick: Quick,
    /// Labels of what is not there.
    wanted: Vec<String>,
}

impl Bench {
    /// A check, `inclining`, `area`, `mast`, `line` or `cloth`, by what was typed: names and texts in turn. Of a list the row
    /// `at` is in sight. `own`: what is not typed is first taken from the design.
    pub fn quick(&self, which: &str, typed: &[String], at: usize, own: bool) -> Quick {
        let mut work = Work {
            bench: self,
            typed,
            own,
            at: at.min(MOST_ROWS - 1),
            quick: Quick::default(),
            wanted: Vec::new(),
        };
        match which {
            "inclining" => work.inclining(),
            "area" => work.area(),
            "mast" => work.mast(),
            "line" => work.line(),
            "cloth" => work.cloth(),
            _ => {}
        }
        if work.quick.figures.is_empty() && !work.wanted.is_empty() {
            let labels = joined(&work.wanted, ", ");
            work.tell(Text::new("page.quick.wanted").with("labels", labels));
        }
        if self.account.masts.is_empty() || !own {
            work.quick.writes.clear();
        }
        work.quick
    }
}

impl Work<'_> {
    fn tell(&mut self, text: Text) {
        let told = self.bench.say(&text);
        self.quick.told.push(told);
    }

    fn label(&self, quantity: &Quantity) -> String {
        self.bench.word(quantity.label)
    }

    /// What was typed into a field; nothing where nothing was.
    fn text(&self, id: &str) -> &str {
        let mut pairs = self.typed.chunks_exact(2);
        let found = pairs.find(|pair| pair.first().is_some_and(|name| name == id));
        found
            .and_then(|pair| pair.get(1))
            .map_or("", |text| text.trim())
    }

    /// The path in the design of a pattern, on the mast being worked on.
    fn path(&self, pattern: &str) -> String {
        match pattern.strip_prefix("masts[]") {
            Some(rest) => ["masts.", &self.bench.view.mast.to_string(), rest].concat(),
            None => pattern.to_owned(),
        }
    }

    /// What the design has there, document units.
    fn first(&self, path: &str, row: &Row) -> Option<f64> {
        let bench = self.bench;
        let found = in_use(bench.design(), &bench.account, path);
        let found = found.or_else(|| bench.document.number(path));
        found.filter(|value| self.own && row.usable(*value))
    }

    /// A field of the check, SI: what is typed, else what the design has, else the usual value. Who leaves it out is asked for it.
    fn number(&mut self, pattern: &str) -> Option<f64> {
        let found = self.optional(pattern);
        self.want(pattern, found);
        found
    }

    fn want(&mut self, pattern: &str, found: Option<f64>) {
        if let (None, Some(row)) = (found, quick_row(pattern)) {
            let label = self.label(row.quantity);
            self.wanted.push(label);
        }
    }

    fn optional(&mut self, pattern: &str) -> Option<f64> {
        let row = quick_row(pattern)?;
        let first = self.first(&self.path(pattern), row);
        self.given(pattern, row, first, None)
    }

    /// The same with another first value, SI.
    fn number_from(&mut self, pattern: &str, first: Option<f64>) -> Option<f64> {
        let row = quick_row(pattern)?;
        let first = first.map(|si| row.quantity.document_from_si(si));
        let first = first.filter(|value| self.own && row.usable(*value));
        let found = self.given(pattern, row, first, None);
        self.want(pattern, found);
        found
    }

    /// A field by its name; of a row of a list the number of that. In sight it becomes a field of the page.
    fn given(
        &mut self,
        id: &str,
        row: &'static Row,
        first: Option<f64>,
        typed_as: Option<Typed>,
    ) -> Option<f64> {
        let bench = self.bench;
        let (quantity, view) = (row.quantity, bench.view.units);
        let (kind, user, one) = typed_as.unwrap_or((quantity.kind, view, 1.0));
        let typed = self.text(id);
        let mut problem = String::new();
        let (mut shown, mut from) = (typed.to_owned(), "");
        let value = if typed.is_empty() {
            from = if first.is_some() {
                "page.quick.from_design"
            } else {
                "page.quick.usual"
            };
            let usual = match row.usual {
                Usual::Value(usual) => Some(usual),
                _ => None,
            };
            let value = first.or(usual);
            if let Some(value) = value {
                let decimals = if typed_as.is_some() {
                    1
                } else {
                    quantity.decimals
                };
                shown = units::spell(kind, decimals, value / one, user);
            }
            value
        } else {
            match units::parse(kind, typed, user) {
                Ok(value) => {
                    let value = if typed_as.is_some() {
                        one * value
                    } else {
                        row.rounded(value)
                    };
                    match row.check(id, value) {
                        Some(told) => {
                            problem = bench.say(&told.text);
                            (!told.refused).then_some(value)
                        }
                        None => Some(value),
                    }
                }
                Err(text) => {
                    let range = Text::new("page.help.range_places")
                        .with("least", Arg::Given(row.least, quantity))
                        .with("most", Arg::Given(row.most, quantity));
                    let label = self.label(quantity);
                    let (told, range) = (bench.say(&text), bench.say(&range));
                    problem = [&label, ": ", &told, " ", &range, "."].concat();
                    None
                }
            }
        };
        // A row of a list out of sight.
        let number = id.split('.').next().and_then(|n| n.parse::<usize>().ok());
        if number.is_some_and(|n| n != self.at) {
            if !problem.is_empty() {
                let number = number.map_or(0, |n| n as u32 + 1);
                let text = Text::new("page.quick.row_problem").with("number", number);
                self.tell(text.with("problem", problem));
            }
            return value.map(|value| quantity.si_from_document(value));
        }
        let mut field = bench.empty_field(id, row);
        // It was measured just now.
        field.basis = String::new();
        field.by_rule = typed.is_empty() && value.is_some();
        if field.by_rule {
            field.usual = bench.word(from);
        }
        if typed_as.is_some() {
            field.unit = units::label(kind, user).to_owned();
            field.least = units::spell(kind, 1, row.least / one, user);
            field.most = units::spell(kind, 1, row.most / one, user);
        }
        (field.text, field.problem) = (shown, problem);
        self.quick.fields.push(field);
        value.map(|value| quantity.si_from_document(value))
    }

    /// A choice: the word typed, else the first.
    fn choice(&mut self, id: &'static str, first: &'static str) -> &'static str {
        let Some(row) = quick_row(id) else {
            return first;
        };
        let Kind::Choice(words) = row.kind else {
            return first;
        };
        let (bench, typed) = (self.bench, self.text(id));
        let chosen = words.iter().find(|word| **word == typed).unwrap_or(&first);
        let mut field: FieldRow = bench.empty_field(id, row);
        field.basis = String::new();
        field.text = (*chosen).to_owned();
        for word in words {
            // Of the user's own materials those that are listed.
            if bench.own_material(word).is_none_or(|name| name.is_some()) {
                let label = bench.choice_word(id, word);
                field.options.push(Choice {
                    value: (*word).to_owned(),
                    label,
                });
            }
        }
        self.quick.fields.push(field);
        chosen
    }

    fn figure(&mut self, quantity: &'static Quantity, si: f64) {
        let figure = self.bench.figure(quantity, Some(si));
        self.quick.figures.push(figure);
    }

    /// What can be written: what the button says, which fields, and the edits.
    fn write(&mut self, word: &str, leaves: &[(&str, New)]) {
        let (mut fields, mut edits) = (Vec::new(), Vec::new());
        for (pattern, new) in leaves {
            if let Some(row) = quick_row(pattern) {
                fields.push(self.label(row.quantity));
            }
            let path = self.path(pattern);
            edits.push(match new {
                New::Number(value) => Edit::number(path, *value),
                New::Word(word) => Edit::value(path, Value::String((*word).to_owned())),
                New::List(list) => Edit::value(path, Value::Array(list.clone())),
                New::Gone => Edit::remove(path),
                New::Told => continue,
            });
        }
        self.offer(word, &fields, &edits);
    }

    fn offer(&mut self, word: &str, fields: &[String], edits: &[Edit]) {
        let word = self.bench.word(word);
        let row = vec![word, joined(fields, ", "), Edit::write_list(edits)];
        self.quick.writes.push(row);
    }

    /// Rows of a list: what is typed, or all of the design's where nothing is.
    fn rows(&mut self, patterns: &[&'static str]) -> Vec<Vec<Option<f64>>> {
        let mut typed = 0;
        for pair in self.typed.chunks_exact(2) {
            if let [id, text] = pair
                && !text.trim().is_empty()
                && let Some(n) = id.split('.').next().and_then(|n| n.parse::<usize>().ok())
            {
                typed = typed.max(n.min(MOST - 1) + 1);
            }
        }
        let known = if self.own { self.known(patterns) } else { 0 };
        if typed > 0 && known > 0 {
            self.tell(Text::new("page.quick.alone"));
        }
        // All of the design's, however many.
        let most = if typed > 0 { MOST } else { known.max(MOST) };
        self.at = self.at.min(most - 1);
        let mut rows = Vec::new();
        for n in 0..most {
            let mut row = Vec::new();
            for pattern in patterns {
                let leaf = pattern.rsplit('.').next().unwrap_or("");
                let number = n.to_string();
                let id = [&number, ".", leaf].concat();
                let mut found = None;
                if let Some(bounds) = quick_row(pattern) {
                    let first = match (typed, pattern.strip_suffix(leaf)) {
                        (0, Some(list)) => list
                            .strip_suffix("[].")
                            .and_then(|list| self.first(&[list, ".", &id].concat(), bounds)),
                        _ => None,
                    };
                    found = self.given(&id, bounds, first, None);
                }
                row.push(found);
            }
            if row.iter().any(Option::is_some) {
                self.quick.rows = n as u32 + 1;
            }
            rows.push(row);
        }
        self.quick.rows = self.quick.rows.max(typed as u32);
        self.quick.most = most as u32;
        rows
    }

    /// How many rows the design has of such a list.
    fn known(&self, patterns: &[&str]) -> usize {
        let list = patterns.first().and_then(|first| first.split('[').next());
        let found = list.and_then(|list| self.bench.document.value(list)?.as_array());
        found.map_or(0, Vec::len).min(MOST_ROWS)
    }

    /// m g GM by the fitted line; GM by the displacement, the bands of both within: independent, so their squares add.
    fn inclining(&mut self) {
        let mass = self.number("boat.displacement_kg");
        let pendulum = self.number("boat.test.pendulum_m");
        let band_row = quick_row("boat.displacement_band_pct");
        let heavier = band_row.and_then(|row| {
            let typed = self.first(row.path, row);
            typed.or(match row.usual {
                Usual::Value(usual) => Some(usual),
                _ => None,
            })
        });
        let rows = self.rows(&READING);
        let mut readings = Vec::new();
        let mut places = Vec::new();
        let (mut list, mut most) = (Vec::new(), 0.0);
        for (n, row) in rows.iter().enumerate() {
            if let ([Some(weight), Some(distance), Some(deflection)], Some(length)) =
                (row.as_slice(), pendulum)
            {
                let tangent = deflection / length;
                readings.push(Reading {
                    weight: *weight,
                    distance: *distance,
                    tangent,
                });
                list.push([*weight, *distance, *deflection]);
                places.push(n);
                most = tangent.abs().max(most);
            }
        }
        if let [one] = readings.as_slice()
            && one.weight * one.distance != 0.0
        {
            // The pendulum's mark with nothing moved is a reading too.
            readings.push(Reading {
                weight: 0.0,
                distance: 0.0,
                tangent: 0.0,
            });
            list.push([0.0; 3]);
        }
        if readings.is_empty() {
            let row = rows.get(self.at);
            for (i, pattern) in READING.into_iter().enumerate() {
                self.want(pattern, row.and_then(|row| *row.get(i)?));
            }
            return;
        }
        let found = match Inclining::fit(&readings) {
            Ok(found) => found,
            Err(fault) => {
                self.tell(match fault {
                    boat::Fault::ReadingsAgainst => Text::new("problem.test_against"),
                    boat::Fault::ReadingOff(i) => {
                        let number = places.get(i).map_or(0, |n| *n as u32 + 1);
                        Text::new("problem.reading_off").with("number", number)
                    }
                    _ => Text::new("page.quick.one_moment"),
                });
                return;
            }
        };
        let test = band(&found, readings.len());
        if let Some(mass) = mass {
            let height = found.stiffness / (boat::GRAVITY * mass);
            let mass_band = 0.01 * heavier.unwrap_or(0.0);
            let off = height * (test * test + mass_band * mass_band).sqrt();
            self.figure(&q::GM, height);
            let off = self.bench.number(off, &q::GM);
            if let Some(figure) = self.quick.figures.last_mut() {
                figure.value.push_str(" ± ");
                figure.value.push_str(&off);
            }
        }
        self.figure(&q::TEST_HEEL, most.atan());
        self.figure(&q::STIFFNESS, found.stiffness);
        self.figure(&q::STIFFNESS_BAND, test);
        if found.scatter.is_none() {
            self.tell(Text::new("page.quick.few_readings"));
        } else if !found.both_sides {
            self.tell(Text::new("problem.test_one_sided"));
        }
        let mut written = Vec::new();
        for row in list {
            let mut leaves = Vec::new();
            for (pattern, value) in READING.into_iter().zip(row) {
                leaves.push((pattern, value));
            }
            written.push(Value::Object(list_row(&leaves)));
        }
        let [weight, arm, deflection] = READING;
        self.write(
            "page.quick.write",
            &[
                ("boat.stability", New::Word("test")),
                ("boat.test.pendulum_m", New::Number(pendulum.unwrap_or(0.0))),
                ("boat.test.readings", New::List(written)),
                (weight, New::Told),
                (arm, New::Told),
                (deflection, New::Told),
            ],
        );
    }

    fn area(&mut self) {
        let rows = self.rows(&SAIL);
        let (mut sum, mut count, mut here) = (0.0, 0, None);
        let mut sails = Vec::new();
        for (n, row) in rows.iter().enumerate() {
            let [luff, leech, foot, head, clew, peak, x, z, lean] = row.as_slice() else {
                continue;
            };
            let in_sight = n == self.at;
            let (Some(luff), Some(leech), Some(foot)) = (*luff, *leech, *foot) else {
                if in_sight {
                    for (pattern, found) in SAIL.into_iter().take(3).zip(row) {
                        self.want(pattern, *found);
                    }
                }
                continue;
            };
            let found = match measure([luff, leech, foot], *head, *clew, *peak) {
                Ok(found) => found,
                Err(Unclosed::Long(edge, by)) => {
                    let edge = match edge {
                        Edge::Luff => &q::LUFF_LENGTH,
                        Edge::Leech => &q::LEECH_LENGTH,
                        Edge::Foot => &q::FOOT_EDGE,
                        Edge::Head => &q::HEAD_EDGE,
                        Edge::ThroatClew => &q::THROAT_CLEW,
                        Edge::TackPeak => &q::TACK_PEAK,
                    };
                    let text = Text::new("page.quick.unclosed")
                        .with("number", n as u32 + 1)
                        .with_key("edge", edge.label)
                        .with("by", (by, &q::DIAGONAL_OFF));
                    self.tell(text);
                    continue;
                }
                Err(Unclosed::Missing) => {
                    if in_sight {
                        self.want("quick.throat_clew", None);
                    }
                    continue;
                }
            };
            sum += found.area;
            count += 1;
            if in_sight {
                here = Some((found.area, found.apart));
            }
            if let (Some(x), Some(z), Some(lean)) = (*x, *z, *lean) {
                let up = unit(lean);
                let mut points = Vec::new();
                for corner in &found.corners {
                    // `unit` turns from aft upward; the luff leans aft from the upright.
                    let aft = x + corner.x * up.x + corner.y * up.y;
                    let above = z + corner.y * up.x - corner.x * up.y;
                    points.push(Value::Object(list_row(&[
                        ("boat.sails[].points[].x_m", aft),
                        ("boat.sails[].points[].z_m", above),
                    ])));
                }
                let mut sail = serde_json::Map::new();
                sail.insert("points".to_owned(), Value::Array(points));
                sails.push(Value::Object(sail));
            }
        }
        if let Some((area, apart)) = here {
            self.figure(&q::AREA_MEASURED, area);
            if count > 1 {
                self.figure(&q::AREAS_MEASURED, sum);
            }
            if let Some(apart) = apart {
                self.figure(&q::DIAGONAL_OFF, apart);
            }
        } else if count > 0 {
            self.figure(&q::AREAS_MEASURED, sum);
        }
        if count == 0 {
            return;
        }
        // The rig she has now is all of it, or none.
        if sails.len() == count {
            self.write(
                "page.quick.write_rig",
                &[
                    ("boat.sails", New::List(sails)),
                    ("boat.sails[].points[].x_m", New::Told),
                    ("boat.sails[].points[].z_m", New::Told),
                ],
            );
        }
        if self.bench.n_masts() == 1
            && let Ok(edits) = self.bench.document.fit_area(0, sum)
        {
            let label = self.label(&q::AREA);
            self.offer("page.quick.write_area", &[label], &edits);
        }
    }

    /// The section by `spars`: its moment allowed, factor and wrinkling within.
    fn mast(&mut self) {
        let bench = self.bench;
        let design = bench.design();
        let m = bench.view.mast;
        let typed = design.masts.get(m).filter(|_| self.own);
        let material = typed.map_or("6082-t6", |typed| {
            match typed.spars.made.word("mast_material") {
                "" => design::usual_material(typed, "mast"),
                word => word,
            }
        });
        let word = self.choice("masts[].spars.mast_material", material);
        let diameter = self.number("masts[].diameter_m");
        // Of another material her wall says nothing.
        let solid = word != material
            || typed.is_some_and(|typed| typed.spars.made.word("mast_kind") == "solid");
        let wall = if solid {
            let row = quick_row("masts[].spars.mast_wall_m");
            row.and_then(|row| self.given(row.path, row, None, None))
        } else {
            self.optional("masts[].spars.mast_wall_m")
        };
        let bury = self.optional("masts[].bury_m");
        let moment = match self.choice("quick.load", "righting") {
            "moment" => self.number("quick.moment"),
            "wind" => {
                let area = self.number("masts[].sail.area");
                let sail = bench
                    .account
                    .masts
                    .get(m)
                    .and_then(|mast| mast.figures.as_ref());
                let lever = self.number_from("quick.lever", sail.map(|sail| sail.centroid.y));
                let wind = self.number("quick.wind");
                // The wind typed, with its gusts, and not the most that the design reckons with.
                let mut blow = strength_wind(design);
                blow.winds = (0.0, f64::INFINITY);
                let pressure = wind.map(|wind| blow.pressure(Some(wind)));
                product(product(area, lever), pressure)
            }
            _ => {
                let loading = design.boat.particulars.loading;
                let known = bench.account.boat.loadings.get(loading);
                let known = known.and_then(|known| known.as_ref());
                let greatest = known.map(|known| known.greatest.value);
                let righting = self.number_from("quick.righting", greatest);
                product(righting, self.number("spars.dynamic"))
            }
        };
        let (Some(diameter), Some(moment)) = (diameter, moment) else {
            return;
        };
        let Some(material) = material_of(design, word) else {
            self.want("masts[].spars.mast_material", None);
            return;
        };
        let factors = mast_factors(design);
        let walls = wall.map(|wall| (wall, wall));
        let pole = Pole::one(1.0, (diameter, diameter), walls, material);
        if pole.check().is_err() || !factors.is_real() {
            let text = Text::new("problem.wall")
                .with_key("label", q::WALL.label)
                .with("value", (wall.unwrap_or(0.0), &q::WALL))
                .with("limit", (0.5 * diameter, &q::WALL));
            self.tell(text);
            return;
        }
        let section = pole.at(0.5, &factors);
        self.figure(&q::MOMENT_SHARE, moment / section.moment);
        self.figure(&q::BENDING_STRESS, moment / section.modulus);
        self.figure(&q::STRESS_ALLOWED, section.moment / section.modulus);
        self.figure(&q::BENDING_MOMENT, moment);
        match wall_for(diameter, moment, &material, &factors) {
            // Never less than is needed, at a tenth of a millimetre.
            Some(wall) => self.figure(&q::WALL_NEEDED, (wall * 1e4).ceil() / 1e4),
            None => self.tell(Text::new("page.quick.no_wall")),
        }
        if let Some(bury) = bury {
            self.figure(&q::STEP_PUSH, moment / bury);
        }
        self.tell(Text::new("page.quick.steady"));
        if section.wrinkles {
            self.tell(Text::new("page.quick.wrinkles"));
        }
        let kind = match (material.kind, wall) {
            (spars::Kind::Alloy, _) => "tube",
            (spars::Kind::Laminate, _) => "laminate",
            (_, Some(_)) => "hollow",
            (_, None) => "solid",
        };
        self.write(
            "page.quick.write",
            &[
                ("masts[].diameter_m", New::Number(diameter)),
                ("masts[].spars.mast_kind", New::Word(kind)),
                ("masts[].spars.mast_material", New::Word(word)),
                (
                    "masts[].spars.mast_wall_m",
                    wall.map_or(New::Gone, New::Number),
                ),
            ],
        );
    }

    fn line(&mut self) {
        let run = self.choice("quick.run", "parrel");
        let mast = self.bench.account.masts.get(self.bench.view.mast);
        if run == "parrel" {
            let diameter = self.number_from("quick.diameter", mast.map(|mast| mast.mast.diameter));
            let depth = quick_row("masts[].sail.batten_depth_m");
            let depth = depth.and_then(|row| self.first(&self.path(row.path), row));
            let batten = self.number_from("quick.batten", depth);
            let room = self.number("quick.room");
            let ahead = self.number("masts[].lines.parrels.ahead_m");
            let abaft = self.number("masts[].lines.parrels.abaft_m");
            let knot = self.number("lines.tail_fixed_m");
            let (Some(d), Some(batten), Some(room)) = (diameter, batten, room) else {
                return;
            };
            let (Some(ahead), Some(abaft), Some(knot)) = (ahead, abaft, knot) else {
                return;
            };
            let taut = batten_parrel_length(ahead, abaft, room + 0.5 * batten, 0.5 * d);
            self.figure(&q::LINE_CUT, taut + 2.0 * knot);
            self.figure(&q::PARREL_LENGTH, taut);
            self.write_line(&[
                ("masts[].lines.parrels.ahead_m", New::Number(ahead)),
                ("masts[].lines.parrels.abaft_m", New::Number(abaft)),
                ("lines.tail_fixed_m", New::Number(knot)),
            ]);
        } else {
            let [parts_of, tail_of] = if run == "halyard" {
                ["masts[].lines.halyard.parts", "lines.tail_halyard_m"]
            } else {
                ["masts[].lines.sheet.parts", "lines.tail_sheet_m"]
            };
            let parts = self.number(parts_of);
            let reach = self.number("quick.reach");
            let lead = self.number("quick.lead");
            let tail = self.number(tail_of);
            let (Some(parts), Some(reach), Some(lead), Some(tail)) = (parts, reach, lead, tail)
            else {
                return;
            };
            let within = rope(parts as usize, reach, lead);
            self.figure(&q::LINE_CUT, within + tail);
            self.figure(&q::LINE_LENGTH, within);
            self.write_line(&[(parts_of, New::Number(parts)), (tail_of, New::Number(tail))]);
        }
    }

    fn write_line(&mut self, leaves: &[(&str, New)]) {
        self.tell(Text::new("page.quick.no_field"));
        self.write("page.quick.write", leaves);
    }

    fn cloth(&mut self) {
        let user = self.bench.view.units;
        let usual = if user.imperial() { "us" } else { "gsm" };
        let in_measures = |measures| Units { measures, ..user };
        let metric = in_measures(Measures::Metric);
        let typed_as = match self.choice("quick.sold", usual) {
            "us" => (UnitKind::Ratio, user, 1000.0 * US_OUNCE),
            "uk" => (UnitKind::Cloth, in_measures(Measures::Imperial), 1.0),
            _ => (UnitKind::Cloth, metric, 1.0),
        };
        let pattern = "masts[].weights.cloth_gsm";
        let mut found = None;
        if let Some(row) = quick_row(pattern) {
            let first = self.first(&self.path(pattern), row);
            found = self.given(pattern, row, first, Some(typed_as));
        }
        self.want(pattern, found);
        let area = self.optional("masts[].sail.area");
        let Some(grams) = found else {
            return;
        };
        let mut figure = self.bench.figure(&q::CLOTH_WEIGHT, Some(grams));
        figure.value = units::spell(UnitKind::Cloth, 0, grams, metric);
        figure.unit = units::label(UnitKind::Cloth, metric).to_owned();
        self.quick.figures.push(figure);
        self.figure(&q::CLOTH_US, grams / (1000.0 * US_OUNCE));
        self.figure(&q::CLOTH_UK, grams / (1000.0 * UK_OUNCE));
        if let Some(area) = area {
            let bare = 0.001 * grams * area;
            self.figure(&q::CLOTH_BARE, bare);
            self.figure(&q::SAIL_MADE_UP, MADE_UP * bare);
        }
        self.write("page.quick.write", &[(pattern, New::Number(grams))]);
    }
}

fn product(a: Option<f64>, b: Option<f64>) -> Option<f64> {
    Some(a? * b?)
}
