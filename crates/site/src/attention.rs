//! What needs attention: inputs that cannot be, results outside their limits.

use quantities::listed::Listed as _;
use quantities::{Check, Part, Problem, Severity, Text, bounds, units};
use serde_json::Value;

use crate::bench::Bench;
use crate::place::Place;
use crate::rows::Attention;

impl Bench {
    /// Problems, then checks not passed; danger before what is worth a look.
    pub fn attention(&self) -> Vec<Attention> {
        let (mut rows, mut worth_a_look) = (Vec::new(), Vec::new());
        let mut add = |row: Attention| {
            if row.severity == DANGER {
                rows.push(row);
            } else {
                worth_a_look.push(row);
            }
        };
        for problem in self.problems() {
            add(self.problem_row(problem));
        }
        for check in &self.account.checks {
            if let Some(row) = self.check_row(check) {
                add(row);
            }
        }
        rows.append(&mut worth_a_look);
        rows
    }

    fn problem_row(&self, problem: &Problem) -> Attention {
        let row = bounds::row(&problem.path);
        let mast = problem.path.strip_prefix("masts.");
        let mast = mast.and_then(|rest| rest.split('.').next()?.parse().ok());
        let mut label = self.word(match row {
            Some(row) => row.quantity.label,
            // Faults of a whole part, not of a field.
            None if problem.path.starts_with("reefs") => "attention.order",
            None if mast.is_some() => "attention.plan",
            None => "attention.masts",
        });
        if row.is_some() {
            label = self.of_spar(label, &problem.path);
        }
        if let Some(mast) = mast {
            label = self.of_mast(label, mast);
        }
        Attention {
            severity: if problem.refused { DANGER } else { LOOK },
            title: self.say(&Text::new(fault_of(problem)).with("label", label)),
            text: match row {
                Some(row) => self.without_label(problem, row.quantity),
                None => self.say(&problem.text),
            },
            // A place that is no field of its own cannot be gone to.
            path: row.map_or_else(String::new, |_| problem.path.clone()),
            part: String::new(),
            mast: None,
            hoist: Vec::new(),
        }
    }

    /// A label, with the spar it belongs to where the path leads into a table of spars.
    pub(crate) fn of_spar(&self, label: String, path: &str) -> String {
        let Place::InTable(list, spar) = Place::of(path) else {
            return label;
        };
        let spars = self.document.value(list).and_then(Value::as_array);
        let yard = spars.map_or(spar, |spars| spars.len().saturating_sub(1));
        let text = Text::new("spar.label").with("label", label);
        self.say(&text.with("spar", self.spar_name(spar, yard)))
    }

    fn check_row(&self, check: &Check) -> Option<Attention> {
        let severity = match check.severity {
            Severity::Passed => return None,
            Severity::Look => LOOK,
            Severity::Danger => DANGER,
        };
        let mut title = self.say(&check.text);
        if let Some(mast) = check.mast {
            title = self.of_mast(title, mast);
        }
        let row = check.mast.zip(check.state).and_then(|(mast, state)| {
            let rows = &self.account.masts.get(mast)?.rows;
            rows.get(state).filter(|row| row.lowered > 0)
        });
        if let Some(row) = row {
            let text = Text::new("attention.at").with("title", title);
            title = self.say(&text.with("n", row.lowered as u32));
        }
        Some(Attention {
            severity,
            title,
            text: self.say(&check.advice),
            path: String::new(),
            part: part_word(check.part),
            mast: check.mast.map(|mast| mast as u32),
            hoist: self.hoist_of(check),
        })
    }

    /// Panels lowered per mast in the state a check was found in.
    pub(crate) fn hoist_of(&self, check: &Check) -> Vec<f64> {
        let Some(state) = check.state else {
            return Vec::new();
        };
        let Some(mast) = check.mast else {
            let step = self.account.rig.sequence.get(state);
            return step.map_or_else(Vec::new, |step| {
                step.lowered.iter().map(|lowered| *lowered as f64).listed()
            });
        };
        let rows = self.account.masts.get(mast).map(|mast| &mast.rows);
        let row = rows.and_then(|rows| rows.get(state));
        let mut hoist = vec![0.0; self.n_masts()];
        if let (Some(at), Some(row)) = (hoist.get_mut(mast), row) {
            *at = row.lowered as f64;
        }
        hoist
    }

    /// Words about one of several masts.
    pub(crate) fn of_mast(&self, words: String, mast: usize) -> String {
        if self.n_masts() < 2 {
            return words;
        }
        let text = Text::new("attention.of_mast").with("title", words);
        self.say(&text.with("mast", self.mast_name(mast)))
    }
}

/// What is wrong with an input in a word or two; how much, and what would do, its sentence says.
fn fault_of(problem: &Problem) -> &'static str {
    match problem.text.key {
        "problem.missing" | "problem.no_mast" => "attention.missing",
        _ if problem.refused => "attention.not_used",
        "bounds.unusual" => "attention.unusual",
        _ => "attention.misfit",
    }
}

const DANGER: &str = "danger";
const LOOK: &str = "look";

/// Every part without a number, by its word.
const PARTS: [(&str, Part); 12] = [
    ("hull", Part::Hull),
    ("coachroof", Part::Coachroof),
    ("cockpit", Part::Cockpit),
    ("mast", Part::Mast),
    ("boom", Part::Boom),
    ("yard", Part::Yard),
    ("luff", Part::Luff),
    ("leech", Part::Leech),
    ("bundle", Part::Bundle),
    ("halyard", Part::Halyard),
    ("lifts", Part::Lifts),
    ("sail", Part::Sail),
];

/// The part of a word.
pub(crate) fn part_of(word: &str) -> Option<Part> {
    if let Some((name, number)) = word.split_once('-') {
        let number = number.parse().ok()?;
        return match name {
            "batten" => Some(Part::Batten(number)),
            "panel" => Some(Part::Panel(number)),
            "parrel" => Some(Part::Parrel(number)),
            _ => None,
        };
    }
    PARTS
        .iter()
        .find(|(name, _)| *name == word)
        .map(|(_, part)| *part)
}

/// A name for a part of the drawing.
pub(crate) fn part_word(part: Part) -> String {
    let (word, number) = match part {
        Part::Batten(number) => ("batten", Some(number)),
        Part::Panel(number) => ("panel", Some(number)),
        Part::Parrel(number) => ("parrel", Some(number)),
        _ => {
            let known = PARTS.iter().find(|(_, known)| *known == part);
            (known.map_or("", |(word, _)| *word), None)
        }
    };
    match number {
        Some(number) => [word, "-", &units::fixed(number as f64, 0)].concat(),
        None => word.to_owned(),
    }
}
