//! A document of every earlier version opens and gives its old numbers.
#![allow(clippy::unwrap_used)]

mod support;

use design::{Document, account};

#[test]
fn a_document_of_version_0_gives_the_numbers_of_the_same_design_today() {
    let early = Document::open(include_str!("documents/v0/early-bird.json")).unwrap();
    assert!(early.problems().is_empty(), "{:?}", early.problems());
    let text = early.text();
    assert!(text.contains(r#""format":"battenwright-design""#) && text.contains(r#""version":1"#));
    assert_eq!(early.number("masts.0.sail.yard_length_pct"), Some(96.0));
    assert!(early.value("masts.0.sail.yard_length").is_none());

    // Worked out when version 0 was retired; six digits, as a libm may differ in the last ones.
    let result = account(early.design());
    let mast = &result.masts[0];
    let third = &mast.rows[4];
    assert_eq!(third.lowered, 3);
    for (now, then) in [
        (mast.figures.as_ref().unwrap().area, 29.603_459),
        (mast.mast.lap, 7.754_034),
        (third.area, 17.577_644),
        (third.centre.unwrap().x, 2.947_177),
    ] {
        assert!((now - then).abs() < 1e-6, "{now} {then}");
    }
}

#[test]
fn a_newer_version_is_refused_with_its_own_sentence() {
    let problem = Document::open(r#"{"format":"battenwright-design","version":7}"#).unwrap_err();
    let said = quantities::Catalogue::english().say(&problem.text, quantities::Units::METRIC);
    assert_eq!(problem.path, "version");
    assert!(
        said.contains("newer") && said.contains('7') && said.contains('1'),
        "{said}"
    );
}
