//! Problems and checks as plain data, for the account printed natively.

use quantities::{Catalogue, Check, Problem, Quantity, Units};
use serde::Serialize;
use serde::ser::Serializer;

#[derive(Serialize)]
struct PrintedProblem<'a> {
    path: &'a str,
    text: String,
    refused: bool,
}

#[derive(Serialize)]
struct PrintedCheck {
    key: &'static str,
    mast: Option<usize>,
    state: Option<usize>,
    value: Option<Measure>,
    limit: Option<Measure>,
    basis: String,
    severity: String,
    part: String,
    text: String,
    advice: String,
}

/// A number in document units.
#[derive(Serialize)]
struct Measure {
    quantity: &'static str,
    value: f64,
}

pub(crate) fn problems<S: Serializer>(list: &[Problem], to: S) -> Result<S::Ok, S::Error> {
    let words = Catalogue::english();
    to.collect_seq(list.iter().map(|problem| PrintedProblem {
        path: &problem.path,
        text: words.say(&problem.text, Units::METRIC),
        refused: problem.refused,
    }))
}

pub(crate) fn checks<S: Serializer>(list: &[Check], to: S) -> Result<S::Ok, S::Error> {
    let words = Catalogue::english();
    let measure = |found: Option<(f64, &'static Quantity)>| {
        found.map(|(value, quantity)| Measure {
            quantity: quantity.key(),
            value,
        })
    };
    to.collect_seq(list.iter().map(|check| PrintedCheck {
        key: check.key,
        mast: check.mast,
        state: check.state,
        value: measure(check.value),
        limit: measure(check.limit),
        basis: words.say(&check.basis.text(), Units::METRIC),
        severity: format!("{:?}", check.severity).to_lowercase(),
        part: format!("{:?}", check.part),
        text: words.say(&check.text, Units::METRIC),
        advice: words.say(&check.advice, Units::METRIC),
    }))
}
