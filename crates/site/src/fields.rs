//! Fields of the forms: what stands in the document, what holds where nothing does, what is wrong.

use design::{Family, in_use};
use quantities::bounds::{self, Row, TARGET_AREA};
use quantities::listed::Listed as _;
use quantities::{Kind, Problem, Quantity, Text, UnitKind, Units, Usual};
use serde_json::Value;

use crate::bench::Bench;
use crate::lesson::sail_number;
use crate::place::Place;
use crate::rows::{Choice, FieldRow};

/// What rules would give where something is typed instead. Working one out takes an account of its
/// own, so it is done once per edit, and not while a handle is being dragged.
#[derive(Debug, Default)]
pub(crate) struct Usuals {
    known: Vec<(String, Option<f64>)>,
    stale: bool,
    /// Nobody wants them.
    unasked: bool,
}

impl Usuals {
    pub(crate) fn forget(&mut self) {
        self.stale = true;
    }
}

impl Bench {
    /// One row per path, in their order; a path that is no field gives none.
    pub fn fields(&mut self, paths: &[String]) -> Vec<FieldRow> {
        if self.usuals.stale && self.view.active.is_empty() {
            self.usuals = Usuals::default();
        }
        paths.iter().filter_map(|path| self.field(path)).listed()
    }

    fn field(&mut self, path: &str) -> Option<FieldRow> {
        let place = Place::of(path);
        if let Place::Area(mast) = place {
            return Some(self.area_field(path, mast));
        }
        let row = bounds::row(path)?;
        let typed = self
            .document
            .value(path)
            .filter(|value| !value.is_null())
            .cloned();
        let hers = self.hers(path, row);
        let row = hers.as_ref().unwrap_or(row);
        let by_rule = typed.is_none() && row.usual != Usual::Nothing;
        let mut field = self.empty_field(path, row);
        field.by_rule = by_rule;
        field.problem = self.problem_of(path, row.quantity);
        match row.kind {
            Kind::Number | Kind::Whole => {
                let number = if typed.is_some() {
                    self.document.number(path)
                } else {
                    self.ruled(path, row)
                };
                field.text = match number {
                    // What was typed shows every digit, what a rule gives only those that matter.
                    Some(value) if typed.is_some() => row.spell(value, self.view.units),
                    Some(value) => row.quantity.spell(value, self.view.units),
                    None => String::new(),
                };
                field.by_rule &= number.is_some();
                field.number = number.filter(|value| value.is_finite());
                if hers.is_some() && typed.is_some() {
                    field.problem = self.past(path, row, field.number, &field.problem);
                }
                field.usual = match row.usual {
                    Usual::Value(value) => row.spell(value, self.view.units),
                    Usual::Rule(_) if by_rule => field.text.clone(),
                    Usual::Rule(_) if self.usuals.unasked => String::new(),
                    Usual::Rule(_) => self.spelled_usual(path, row),
                    Usual::Word(_) | Usual::Nothing => String::new(),
                };
                if let Some(count) = self.table_count(place) {
                    field.number = Some(count);
                    field.text = row.spell(count, self.view.units);
                    field.by_rule = false;
                }
            }
            Kind::Words => {
                field.text = typed
                    .as_ref()
                    .and_then(Value::as_str)
                    .unwrap_or("")
                    .to_owned();
            }
            Kind::Choice(words) => {
                let usual = match row.usual {
                    Usual::Word(word) => word,
                    _ => self.material(path),
                };
                field.by_rule |= typed.is_none() && !usual.is_empty();
                let word = typed.as_ref().and_then(Value::as_str);
                let known = word.and_then(|word| words.iter().find(|known| **known == word));
                field.text = (*known.unwrap_or(&usual)).to_owned();
                let n_masts = self.n_masts();
                let sail = |word: &str| {
                    let of = sail_number(word).filter(|_| row.path == "lesson[].steps[].sail");
                    of.is_none_or(|mast| mast < n_masts)
                };
                if !sail(&field.text) {
                    let text = Text::new("problem.no_such_sail");
                    field.problem = self.say(&text);
                }
                if self.view.active.is_empty() {
                    let own =
                        |word: &str| self.own_material(word).is_none_or(|name| name.is_some());
                    field.options = words
                        .iter()
                        .filter(|word| own(word) && sail(word) || **word == field.text)
                        .map(|word| Choice {
                            value: (*word).to_owned(),
                            label: self.choice_word(path, word),
                        })
                        .listed();
                }
                if !usual.is_empty() {
                    field.usual = self.choice_word(path, usual);
                }
            }
            Kind::Flag => {
                let on = typed.as_ref().and_then(Value::as_bool).unwrap_or(false);
                field.text = if on { "true" } else { "false" }.to_owned();
                field.number = Some(if on { 1.0 } else { 0.0 });
            }
        }
        Some(field)
    }

    /// The field into which a target area is typed; it shows the area there is.
    fn area_field(&self, path: &str, mast: usize) -> FieldRow {
        let row = &TARGET_AREA;
        let figures = self
            .account
            .masts
            .get(mast)
            .and_then(|m| m.figures.as_ref());
        let mut field = self.empty_field(path, row);
        field.number = figures.map(|figures| figures.area);
        field.text = field.number.map_or_else(String::new, |area| {
            row.quantity.spell(area, self.view.units)
        });
        field
    }

    pub(crate) fn empty_field(&self, path: &str, row: &Row) -> FieldRow {
        let quantity = row.quantity;
        let units = self.view.units;
        let numeric = matches!(row.kind, Kind::Number | Kind::Whole);
        let range = |end: f64| {
            if numeric {
                self.at_rest(|| row.spell(end, units))
            } else {
                String::new()
            }
        };
        FieldRow {
            path: path.to_owned(),
            label: self.word(quantity.label),
            text: String::new(),
            unit: quantity.unit(units).to_owned(),
            usual: String::new(),
            by_rule: false,
            problem: String::new(),
            help: self.at_rest(|| self.word(&quantity.help())),
            basis: self.at_rest(|| self.say(&quantity.basis.text())),
            kind: kind_word(row.kind),
            options: Vec::new(),
            inputmode: keyboard(row, units),
            least: range(row.least),
            most: range(row.most),
            step: row.step,
            number: None,
        }
    }

    /// The material in use at the field of one, where none is chosen; empty at any other field.
    fn material(&self, path: &str) -> &'static str {
        let leaf = path.rsplit('.').next().unwrap_or("");
        let spar = leaf.strip_suffix("_material").unwrap_or("");
        match self.document.design().masts.get(self.view.mast) {
            Some(typed) if matches!(spar, "mast" | "battens" | "boom" | "yard") => {
                design::usual_material(typed, spar)
            }
            _ => "",
        }
    }

    /// Label and value of a leaf of the document, typed or in use; nothing of one that is a flag or says nothing.
    pub(crate) fn leaf(&mut self, path: &str) -> Option<[String; 2]> {
        self.usuals.unasked = true;
        let field = self.field(path);
        self.usuals.unasked = false;
        let FieldRow {
            label,
            text,
            unit,
            kind,
            ..
        } = field?;
        let told = match kind {
            _ if text.is_empty() => return None,
            "flag" => return None,
            "choice" => self.choice_word(path, &text),
            _ => text,
        };
        let between = if matches!(&*unit, "" | "°" | "%") {
            ""
        } else {
            "\u{a0}"
        };
        Some([label, [&told, between, &unit].concat()])
    }

    /// The row of a number that goes as far as this design does.
    pub(crate) fn hers(&self, path: &str, row: &Row) -> Option<Row> {
        let most = self.most_at(path)?;
        Some(Row {
            most,
            hard_most: most,
            ..*row
        })
    }

    /// The problem of such a number: it stops at the most, or is not used at all.
    fn past(&self, path: &str, row: &Row, number: Option<f64>, unused: &str) -> String {
        let mut problem = match number.and_then(|number| row.check(path, number)) {
            Some(problem) => problem,
            None => return unused.to_owned(),
        };
        if unused.is_empty() {
            problem.text.key = "problem.stops";
        }
        self.without_label(&problem, row.quantity)
    }

    /// What a rule or the usual value comes to where nothing is typed.
    fn ruled(&self, path: &str, row: &Row) -> Option<f64> {
        match row.usual {
            Usual::Value(value) => Some(value),
            Usual::Nothing => None,
            _ => in_use(self.design(), &self.account, path),
        }
    }

    /// What the rule would give, were nothing typed.
    fn spelled_usual(&mut self, path: &str, row: &Row) -> String {
        let value = match self.usuals.known.iter().find(|(known, _)| known == path) {
            Some((_, value)) => *value,
            None => {
                let value = self.unruled(path);
                self.usuals.known.push((path.to_owned(), value));
                value
            }
        };
        value.map_or_else(String::new, |value| {
            row.quantity.spell(value, self.view.units)
        })
    }

    fn unruled(&self, path: &str) -> Option<f64> {
        let (other, _) = self.document.edited(&self.cleared(path)).ok()?;
        in_use(other.design(), &design::account(other.design()), path)
    }

    /// A sail by the table has as many panels as its spars make, whatever is typed.
    fn table_count(&self, place: Place) -> Option<f64> {
        let Place::Panels(mast) = place else {
            return None;
        };
        let sail = &self.design().masts.get(mast)?.sail;
        let table = sail.family == Family::Table && sail.table.len() > 1;
        table.then(|| (sail.table.len() - 1) as f64)
    }

    /// Of a word for a material of the user's own: its name, where it is listed.
    pub(crate) fn own_material(&self, word: &str) -> Option<Option<&String>> {
        let number = word.strip_prefix("own-")?.parse::<usize>().ok()?;
        Some(self.design().spars.names.get(number.wrapping_sub(1)))
    }

    pub(crate) fn choice_word(&self, path: &str, word: &str) -> String {
        if let Some(Some(name)) = self.own_material(word)
            && !name.is_empty()
        {
            return name.clone();
        }
        // `halyard_rope` and `sheet_rope` are of one set of words.
        let leaf = path.rsplit(['.', '_']).next().unwrap_or(path);
        if leaf == "sail"
            && let Some(mast) = sail_number(word)
            && mast < self.n_masts()
        {
            return self.mast_name(mast);
        }
        // A part is called what the drawing calls it.
        let family = if leaf == "part" { "" } else { "choice." };
        self.word(&[family, leaf, ".", word].concat())
    }

    /// Everything wrong with a field, in one text.
    fn problem_of(&self, path: &str, quantity: &Quantity) -> String {
        let mut told = String::new();
        for problem in self.problems().filter(|problem| problem.path == path) {
            if !told.is_empty() {
                told.push(' ');
            }
            told.push_str(&self.without_label(problem, quantity));
        }
        told
    }

    /// What the reading and then the account found wrong.
    pub(crate) fn problems(&self) -> impl Iterator<Item = &Problem> {
        self.document
            .problems()
            .iter()
            .chain(&self.account.problems)
    }

    /// The sentence of a problem, shown where its label already stands.
    pub(crate) fn without_label(&self, problem: &Problem, quantity: &Quantity) -> String {
        let sentence = self.say(&problem.text);
        let label = self.words.word(quantity.label);
        match sentence
            .strip_prefix(label)
            .and_then(|rest| rest.strip_prefix(": "))
        {
            Some(rest) => rest.to_owned(),
            None => sentence,
        }
    }
}

fn kind_word(kind: Kind) -> &'static str {
    match kind {
        Kind::Number => "number",
        Kind::Whole => "whole",
        Kind::Words => "words",
        Kind::Choice(_) => "choice",
        Kind::Flag => "flag",
    }
}

/// The phone keyboard that has every sign a value may need.
fn keyboard(row: &Row, units: Units) -> &'static str {
    let marks = units.imperial() && matches!(row.quantity.kind, UnitKind::Length | UnitKind::Fine);
    match row.kind {
        Kind::Whole => "numeric",
        // Some phones have no minus sign and no marks of feet and inches on their number keys.
        Kind::Number if !marks && row.least >= 0.0 => "decimal",
        _ => "text",
    }
}
