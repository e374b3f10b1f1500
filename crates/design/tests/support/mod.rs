//! Helps the tests of this crate share.
#![allow(dead_code, reason = "each test file uses its own part")]

use design::{Account, Document, Edit, account, demos};
use quantities::{Catalogue, Check, Problem, Severity, Units};

/// Marsh Pippin: one mast, seven panels.
pub(crate) fn pippin() -> Document {
    demos()[1].open().unwrap()
}

/// The document with these values put in, as JSON; "null" takes one out.
pub(crate) fn with(mut document: Document, edits: &[(&str, &str)]) -> Document {
    let edits: Vec<Edit> = edits
        .iter()
        .map(|(path, json)| {
            let value = serde_json::from_str(json).unwrap();
            match value {
                serde_json::Value::Null => Edit::remove(*path),
                value => Edit {
                    path: (*path).to_owned(),
                    value: Some(value),
                    exact: true,
                },
            }
        })
        .collect();
    document.edit(&edits).unwrap();
    document
}

pub(crate) fn account_of(document: &Document) -> Account {
    account(document.design())
}

/// Problems of reading and account, path and sentence.
pub(crate) fn problems(document: &Document) -> Vec<(String, String)> {
    let words = Catalogue::english();
    let of_account = account_of(document).problems;
    let all: Vec<&Problem> = document.problems().iter().chain(&of_account).collect();
    all.into_iter()
        .map(|p| (p.path.clone(), words.say(&p.text, Units::METRIC)))
        .collect()
}

/// The checks that did not pass.
pub(crate) fn failing(document: &Document) -> Vec<Check> {
    let checks = account_of(document).checks;
    checks
        .into_iter()
        .filter(|check| check.severity != Severity::Passed)
        .collect()
}
