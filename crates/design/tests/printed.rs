//! The account as JSON, for scripts and worksheets: feature `serde`.
#![cfg(feature = "serde")]
#![allow(clippy::unwrap_used)]

mod support;

use support::{account_of, pippin, with};

#[test]
fn the_account_is_printed_with_its_problems_and_checks_in_words() {
    let document = with(pippin(), &[("masts.0.lap_m", "6")]);
    let printed = serde_json::to_value(account_of(&document)).unwrap();
    let rows = printed["masts"][0]["rows"].as_array().unwrap();
    assert_eq!(rows.len(), 9);
    assert!((rows[0]["area"].as_f64().unwrap() - 29.95).abs() < 0.01);
    let problem = &printed["problems"][0];
    assert_eq!(problem["path"], "masts.0.lap_m");
    assert!(problem["text"].as_str().unwrap().contains("6.00"));
    let drift = printed["checks"]
        .as_array()
        .unwrap()
        .iter()
        .find(|c| c["key"] == "drift")
        .unwrap();
    assert_eq!(drift["severity"], "look");
    // What is below nothing is said as such.
    assert!(
        drift["text"]
            .as_str()
            .unwrap()
            .contains("above the masthead")
    );
    // The design itself is printed too.
    let design = serde_json::to_value(document.design()).unwrap();
    assert_eq!(design["boat"]["hull"]["loa"], 7.4);
}
