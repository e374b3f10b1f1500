//! From what a user typed into a field to the edits it means.

use design::{Edit, Family, SailDesign};
use quantities::bounds::{self, MOST_PANELS, Row, TARGET_AREA};
use quantities::listed::Listed as _;
use quantities::{Kind, Problem, Usual, units};
use serde_json::{Map, Value};

use crate::bench::Bench;
use crate::place::Place;
use crate::rows::TypedIn;

impl Bench {
    /// What was typed, as edits to be made, or the reason why not. Nothing typed means back to the
    /// rule or the usual value.
    pub fn type_in(&self, path: &str, typed: &str) -> TypedIn {
        match self.meant(path, typed) {
            Ok(edits) => TypedIn {
                edits: Some(Edit::write_list(&edits)),
                problem: None,
            },
            Err(problem) => TypedIn {
                edits: None,
                problem: Some(problem),
            },
        }
    }

    fn meant(&self, path: &str, typed: &str) -> Result<Vec<Edit>, String> {
        let place = Place::of(path);
        let trimmed = typed.trim();
        if let Place::Area(mast) = place {
            return if trimmed.is_empty() {
                Ok(Vec::new())
            } else {
                let area = self.typed_number(path, &TARGET_AREA, trimmed)?;
                let edits = self.document.fit_area(mast, area);
                edits.map_err(|problem| self.told(&TARGET_AREA, &problem))
            };
        }
        let Some(row) = bounds::row(path) else {
            let problem = quantities::Text::new("problem.no_such_place");
            return Err(self.say(&problem.with("path", path.to_owned())));
        };
        if trimmed.is_empty() {
            return Ok(self.cleared(path));
        }
        match row.kind {
            Kind::Words => {
                self.checked(row, row.check_word(path, trimmed))?;
                Ok(vec![Edit::value(path, Value::String(trimmed.to_owned()))])
            }
            Kind::Choice(_) => {
                self.checked(row, row.check_word(path, trimmed))?;
                if let Place::Family(mast) = place {
                    return Ok(self.document.to_family(mast, trimmed));
                }
                let mut edits = vec![Edit::value(path, Value::String(trimmed.to_owned()))];
                // Wall and material are those of the kind that goes.
                if let (Some(spar), true) = (path.strip_suffix("_kind"), path.starts_with("masts."))
                {
                    for leaf in ["_wall_m", "_material"] {
                        edits.push(Edit::remove([spar, leaf].concat()));
                    }
                }
                Ok(edits)
            }
            Kind::Flag => match trimmed {
                "true" => Ok(vec![Edit::value(path, Value::Bool(true))]),
                "false" => Ok(vec![Edit::remove(path)]),
                _ => Err(self.told(row, &row.wrong_type(path))),
            },
            Kind::Number | Kind::Whole => {
                let hers = self.hers(path, row);
                let value = self.typed_number(path, hers.as_ref().unwrap_or(row), trimmed)?;
                Ok(self.number_edits(path, place, row, value))
            }
        }
    }

    /// A number that can be used, document units, on its row's step.
    fn typed_number(&self, path: &str, row: &Row, typed: &str) -> Result<f64, String> {
        let value = units::parse(row.quantity.kind, typed, self.view.units)
            .map_err(|text| self.say(&text))?;
        let value = row.rounded(value);
        self.checked(row, row.check(path, value))?;
        Ok(value)
    }

    /// An unusual value may be meant; one that cannot be used is turned away here.
    fn checked(&self, row: &Row, problem: Option<Problem>) -> Result<(), String> {
        match problem {
            Some(problem) if problem.refused => Err(self.told(row, &problem)),
            _ => Ok(()),
        }
    }

    fn told(&self, row: &Row, problem: &Problem) -> String {
        self.without_label(problem, row.quantity)
    }

    /// The edits that put a number at a path, with what has to stand around it.
    pub(crate) fn number_edits(
        &self,
        path: &str,
        place: Place<'_>,
        row: &Row,
        value: f64,
    ) -> Vec<Edit> {
        match place {
            Place::InList(list, i) => {
                let mut items = self.list(list);
                if items.len() <= i {
                    items.resize(i + 1, Value::Null);
                }
                if let Some(item) = items.get_mut(i) {
                    *item = design::tree::number(row.rounded(value));
                }
                vec![Edit::value(list, Value::Array(items))]
            }
            Place::InTable(list, spar) => {
                // Spars below that are not there yet are read from their neighbours.
                let mut edits: Vec<Edit> = (self.list(list).len()..spar)
                    .map(|i| Edit::value(format!("{list}.{i}"), Value::Object(Map::new())))
                    .listed();
                edits.push(Edit::number(path, value));
                edits
            }
            Place::Panels(mast) => {
                let mut edits = vec![Edit::number(path, value)];
                edits.extend(self.table_of(mast, value));
                self.document.with_head_kept(mast, edits)
            }
            Place::HeadPanels(mast) => {
                let edits = vec![Edit::number(path, value)];
                self.document.with_head_kept(mast, edits)
            }
            Place::Area(_) | Place::Family(_) | Place::Plain => vec![Edit::number(path, value)],
        }
    }

    /// The edits that give a field back to its rule or usual value.
    pub(crate) fn cleared(&self, path: &str) -> Vec<Edit> {
        let (list, i) = match Place::of(path) {
            Place::InList(list, i) => (list, i),
            place => return self.removed(path, place),
        };
        // Removing one would move those above it down: nothing takes its place instead.
        let mut items = self.list(list);
        if let Some(item) = items.get_mut(i) {
            *item = Value::Null;
        }
        while items.last().is_some_and(Value::is_null) {
            items.pop();
        }
        if items.is_empty() {
            vec![Edit::remove(list)]
        } else {
            vec![Edit::value(list, Value::Array(items))]
        }
    }

    /// The edits that take a value out, with what has to change around it.
    fn removed(&self, path: &str, place: Place<'_>) -> Vec<Edit> {
        let removed = Edit::remove(path);
        let usual = bounds::row(path).map(|row| &row.usual);
        match (place, usual) {
            (Place::Family(mast), Some(Usual::Word(usual))) => {
                let mut edits = self.document.to_family(mast, usual);
                edits.retain(|edit| edit.path != path);
                edits.push(removed);
                edits
            }
            (Place::Panels(mast), Some(Usual::Value(usual))) => {
                let mut edits = vec![removed];
                edits.extend(self.table_of(mast, *usual));
                self.document.with_head_kept(mast, edits)
            }
            (Place::HeadPanels(mast), _) => self.document.with_head_kept(mast, vec![removed]),
            _ => vec![removed],
        }
    }

    /// The edit that gives a table of spars another number of panels.
    fn table_of(&self, mast: usize, panels: f64) -> Option<Edit> {
        let sail = &self.design().masts.get(mast)?.sail;
        (sail.family == Family::Table).then(|| {
            let spars = table_of(sail, panels as usize);
            Edit::value(format!("masts.{mast}.sail.spars"), spars)
        })
    }

    pub(crate) fn list(&self, path: &str) -> Vec<Value> {
        let list = self.document.value(path).and_then(Value::as_array);
        list.cloned().unwrap_or_default()
    }
}

/// The spars of a table with another number of panels: boom, yard and the lower battens stay, and
/// the panels below the yard are cut out or divided.
fn table_of(sail: &SailDesign, panels: usize) -> Value {
    let panels = panels.clamp(1, MOST_PANELS);
    let kept = sail.table.len().saturating_sub(1).min(panels);
    let mut rows: Vec<[f64; 4]> = sail
        .table
        .iter()
        .take(kept)
        .map(|spar| {
            [
                spar.luff.x,
                spar.luff.y,
                spar.angle.to_degrees(),
                spar.length,
            ]
        })
        .listed();
    let yard = sail.table.last();
    let yard = yard.map(|spar| {
        [
            spar.luff.x,
            spar.luff.y,
            spar.angle.to_degrees(),
            spar.length,
        ]
    });
    if let (Some(from), Some(to)) = (rows.last().copied(), yard) {
        let added = panels + 1 - kept;
        for i in 1..=added {
            let share = i as f64 / added as f64;
            let mut between = from;
            for (number, end) in between.iter_mut().zip(to) {
                *number += (end - *number) * share;
            }
            rows.push(between);
        }
    }
    let rows = rows.into_iter().map(design::tree::spar_row);
    Value::Array(rows.listed())
}
