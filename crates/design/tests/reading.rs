//! Every leaf of the bounds rows is read, refused, told and used as its row says.
#![allow(clippy::unwrap_used)]

mod support;

use std::sync::OnceLock;

use design::{Account, Document, Edit, account, in_use};
use quantities::bounds::{self, Row};
use quantities::{Kind, Usual};
use support::{pippin, problems, with};

/// A document in which every row has somewhere to stand.
fn full() -> Document {
    let mut document = pippin();
    let table = document.to_table(0);
    document.edit(&table).unwrap();
    with(
        document,
        &[
            ("masts.0.sail.family", "\"fanned-head\""),
            ("masts.0.sail.head_widths_pct", "[65, 45, 30]"),
            ("masts.0.sail.head_steps", "[1, 1.4, 1.9]"),
            ("reefs.sequence", "[[0],[1],[3],[7]]"),
            (
                "boat.test.readings",
                r#"[{"weight_kg":50,"arm_m":1,"deflection_m":0.05},{"weight_kg":50,"arm_m":-1,"deflection_m":-0.05}]"#,
            ),
            ("boat.test.pendulum_m", "1"),
            (
                "boat.gz",
                r#"[{"heel_deg":0,"gz_m":0},{"heel_deg":20,"gz_m":0.3}]"#,
            ),
            ("boat.deck", r#"[{"x_m":0,"z_m":1},{"x_m":7,"z_m":1}]"#),
            (
                "boat.fin",
                r#"{"root_from_m":2,"root_to_m":4,"tip_from_m":2.5,"tip_to_m":4.1}"#,
            ),
            (
                "boat.old_rig",
                r#"[{"name":"mast","mass_kg":30,"x_m":2,"z_m":5}]"#,
            ),
            (
                "masts.0.lines.spans",
                r#"[{"sheet":1,"top":6,"ends":2,"length_m":1.5,"parts":2},{"sheet":1,"top":4,"ends":2,"length_m":1.6,"parts":2},{"top":1}]"#,
            ),
            (
                "masts.0.lines.holds",
                r#"[{"line":"tack","spar":0,"along_pct":2},{"line":"luff","spar":4,"along_pct":30}]"#,
            ),
            ("masts.0.lines.halyard.parts", "5"),
            (
                "masts.0.spars.pieces",
                r#"[{"length_m":3,"diameter_m":0.12},{"length_m":4,"diameter_m":0.1,"wall_m":0.003}]"#,
            ),
            (
                "masts.0.spars.plies",
                r#"[{"thickness_m":0.002},{"angle_deg":45,"thickness_m":0.001}]"#,
            ),
            (
                "masts.0.spars.weak",
                r#"[{"height_m":1},{"what":"hole","height_m":2,"hole_m":0.01}]"#,
            ),
            (
                "masts.0.spars.special",
                r#"[{"spar":1,"wall_m":0.003},{"spar":2,"wall_m":0.003}]"#,
            ),
            (
                "masts.0.cloth.ordinates",
                r#"[{"along_pct":0,"off_pct":0},{"along_pct":40,"off_pct":8},{"along_pct":100,"off_pct":0}]"#,
            ),
            (
                "masts.0.cloth.shapes",
                r#"[{"panel":1,"camber_pct":6},{"panel":2,"place_pct":40}]"#,
            ),
            ("lesson", r#"[{"steps":[{},{"title":"Full sail"}]}]"#),
            ("spars.materials", r#"[{"kind":"clear","density":500}]"#),
            ("spars.stock", r#"[{"diameter_m":0.06,"wall_m":0.003}]"#),
            ("masts.0.lines.lifts.catches_pct", "[20, 50, 80]"),
            ("masts.0.lines.sheet.system", "\"pair\""),
            (
                "boat.new_rig",
                r#"[{"name":"mast","mass_kg":40,"x_m":1,"z_m":5}]"#,
            ),
        ],
    )
}

/// A path of a row in that document.
fn path_of(row: &Row) -> String {
    let path = row.path.replacen("[]", ".0", 1);
    match row.path {
        "reefs.sequence[][]" => "reefs.sequence.1.0".to_owned(),
        _ if row.path.starts_with("boat.sails") => path.replacen("[]", ".2", 1),
        _ => path.replacen("[]", ".1", 1),
    }
}

/// What `in_use` tells, the account worked out only for what it may depend on.
fn used(document: &Document, path: &str) -> Option<f64> {
    static PLAIN: OnceLock<Account> = OnceLock::new();
    let design = document.design();
    if path.starts_with("masts") || path.starts_with("reefs") {
        return in_use(design, &account(design), path);
    }
    let plain = PLAIN.get_or_init(|| account(pippin().design()));
    in_use(design, plain, path)
}

/// Whether a number in document units is the one the design goes by: told by `in_use`, or, where that
/// looks nothing up, found in the design itself.
fn goes_by(document: &Document, row: &Row, value: f64) -> bool {
    let design = document.design();
    if let Some(used) = used(document, &path_of(row)) {
        return (used - value).abs() < 1e-9;
    }
    // What is kept as a share of something else.
    let share = match row.path {
        "boat.crew_arm_pct" | "boat.gyration_pct" => design.boat.hull.beam,
        "boat.test.readings[].deflection_m" => 1.0,
        "boat.test.pendulum_m" => {
            let first = &design.boat.particulars.readings[0];
            return (first.tangent - 0.05 / value).abs() < 1e-12;
        }
        _ => 1.0,
    };
    let wanted = share * row.quantity.si_from_document(value);
    let shown = format!("{design:?}");
    shown
        .split(|c: char| !(c.is_ascii_digit() || "+-.e".contains(c)))
        .filter_map(|number| number.parse::<f64>().ok())
        .any(|number| (number - wanted).abs() < 1e-9)
}

/// The same document with the spars of its table in use, for the rows that only then count.
fn base_for(row: &Row) -> Document {
    let document = full();
    if row.path.contains("sail.spars") {
        with(document, &[("masts.0.sail.family", "\"table\"")])
    } else {
        document
    }
}

#[test]
fn every_number_typed_is_the_number_in_use() {
    for row in bounds::ROWS {
        if !matches!(row.kind, Kind::Number | Kind::Whole) {
            continue;
        }
        let path = path_of(row);
        let base = base_for(row);
        let value = match base.number(&path) {
            Some(old) if row.kind == Kind::Whole => old + 1.0,
            Some(old) => old * 1.02 + 0.001,
            None => row.least + 0.37 * (row.most - row.least),
        };
        let value = row.rounded(value);
        let mut document = base;
        document.edit(&[Edit::number(&path, value)]).unwrap();
        assert!(goes_by(&document, row, value), "{path}: {value} typed");
        assert!(
            document.problems().is_empty(),
            "{path} {:?}",
            document.problems()
        );
    }
}

#[test]
fn every_word_and_flag_typed_is_read() {
    for row in bounds::ROWS {
        let path = path_of(row);
        let values: Vec<String> = match row.kind {
            Kind::Choice(words) => words.iter().map(|w| format!("\"{w}\"")).collect(),
            Kind::Flag => vec!["true".into(), "false".into()],
            Kind::Words => vec!["\"one\"".into(), "\"two\"".into()],
            Kind::Number | Kind::Whole => continue,
        };
        let mut readings: Vec<String> = values
            .iter()
            .map(|value| {
                let document = with(full(), &[(&path, value)]);
                assert!(document.problems().is_empty(), "{path} {value}");
                format!("{:?}", document.design())
            })
            .collect();
        readings.sort();
        readings.dedup();
        assert_eq!(readings.len(), values.len(), "{path}");
    }
}

#[test]
fn a_value_of_the_wrong_type_is_refused_with_its_path_and_changes_nothing() {
    for row in bounds::ROWS {
        let path = path_of(row);
        let wrong = match row.kind {
            Kind::Number | Kind::Whole => ["\"4.4\"", "true", "{}", "[1]"],
            Kind::Flag => ["1", "\"true\"", "{}", "[true]"],
            Kind::Words | Kind::Choice(_) => ["1", "true", "{}", "[]"],
        };
        for value in wrong {
            let mut document = full();
            let before = document.text();
            let edit = Edit::value(&path, serde_json::from_str(value).unwrap());
            let problem = document.edit(&[edit]).unwrap_err();
            assert_eq!(problem.path, path, "{value}");
            assert!(problem.refused);
            assert_eq!(document.text(), before);
        }
    }
    for (path, value) in [
        ("boat", "3"),
        ("masts", "{}"),
        ("masts.0", "[]"),
        ("masts.0.sail", "7"),
        ("masts.0.sail.spars", "{}"),
        ("masts.0.sail.spars.2", "1"),
        ("boat.coachroof", "true"),
        ("reefs.sequence", "4"),
        ("reefs.sequence.1", "4"),
    ] {
        let edit = Edit::value(path, serde_json::from_str(value).unwrap());
        assert_eq!(full().edit(&[edit]).unwrap_err().path, path);
    }
}

#[test]
fn an_unusual_number_is_told_and_used_an_impossible_one_told_and_not_used() {
    for row in bounds::ROWS {
        if row.kind != Kind::Number || row.hard_most <= row.most {
            continue;
        }
        let path = path_of(row);
        let unusual = 0.5 * (row.most + row.hard_most);
        let document = with(base_for(row), &[(&path, &unusual.to_string())]);
        let mut told = document.problems().iter();
        let told = told.any(|p| p.path == path && p.text.key == "bounds.unusual");
        assert!(told, "{path} {:?}", document.problems());
        // A coachroof that ends before it begins is told for that and not drawn.
        if !path.ends_with(".from_m") {
            assert!(goes_by(&document, row, unusual), "{path}");
        }

        for impossible in [
            "1e999",
            "-1e999",
            "1e300",
            &(row.hard_most * 2.0).to_string(),
        ] {
            let document = with(base_for(row), &[(&path, impossible)]);
            let problem = document.problems().iter().find(|p| p.path == path).unwrap();
            assert!(problem.refused, "{path} {impossible}");
            // Refused is refused: one account is enough.
            if impossible != "1e999" {
                continue;
            }
            let used = used(&document, &path);
            if let (Usual::Value(usual), Some(used)) = (row.usual, used) {
                assert!((used - usual).abs() < 1e-9, "{path} {used}");
            }
        }
    }
}

#[test]
fn a_null_is_nothing_typed() {
    let text = pippin()
        .text()
        .replacen(r#""rake_deg":0"#, r#""rake_deg":null"#, 1);
    let document = Document::open(&text).unwrap();
    assert!(document.problems().is_empty());
    assert_eq!(document.design().masts[0].rake, 0.0);
}

#[test]
fn a_document_with_nothing_in_it_asks_for_what_it_needs_and_still_draws_a_boat() {
    let document =
        Document::open(r#"{"format":"battenwright-design","version":1,"masts":[{"sail":{}}]}"#)
            .unwrap();
    let asked: Vec<String> = problems(&document)
        .into_iter()
        .map(|(path, _)| path)
        .collect();
    assert_eq!(
        asked,
        [
            "boat.loa_m",
            "boat.lwl_m",
            "boat.beam_m",
            "boat.draught_m",
            "boat.freeboard_bow_m",
            "boat.freeboard_mid_m",
            "boat.freeboard_stern_m",
            "masts.0.position_m",
            "masts.0.sail.chord_m",
        ]
    );
    let result = account(document.design());
    assert!(result.masts[0].figures.as_ref().unwrap().area > 1.0);
    let none = Document::open(r#"{"format":"battenwright-design","version":1}"#).unwrap();
    assert!(none.problems().iter().any(|p| p.path == "masts"));
    assert!(account(none.design()).masts.is_empty());
}

#[test]
fn four_masts_and_fourteen_spars_are_refused() {
    let mast = r#"{"sail":{}}"#;
    let four = format!(
        r#"{{"format":"battenwright-design","version":1,"masts":[{mast},{mast},{mast},{mast}]}}"#
    );
    assert_eq!(Document::open(&four).unwrap_err().path, "masts");
    let spars = vec!["{}"; 14].join(",");
    let mut document = full();
    let edit = Edit::value(
        "masts.0.sail.spars",
        serde_json::from_str(&format!("[{spars}]")).unwrap(),
    );
    assert_eq!(
        document.edit(&[edit]).unwrap_err().path,
        "masts.0.sail.spars"
    );
}

#[test]
fn edits_round_to_the_step_unless_exact_and_undo_to_the_byte() {
    let mut document = pippin();
    let first = document.text();
    let mut undo = Vec::new();
    undo.push(
        document
            .edit(&[Edit::number("masts.0.sail.chord_m", 4.432_345)])
            .unwrap(),
    );
    assert!(
        document.text().contains(r#""chord_m":4.432,"#),
        "{}",
        document.text()
    );
    undo.push(
        document
            .edit(&[Edit::exact("masts.0.sail.chord_m", 4.432_345)])
            .unwrap(),
    );
    assert!(document.text().contains(r#""chord_m":4.432345,"#));
    undo.push(document.edit(&[Edit::remove("boat.coachroof")]).unwrap());
    assert!(document.design().boat.hull.coachroof.is_none());
    let last = document.text();
    for steps in undo.iter().rev() {
        document.apply(steps, true).unwrap();
    }
    assert_eq!(document.text(), first);
    for steps in &undo {
        document.apply(steps, false).unwrap();
    }
    assert_eq!(document.text(), last);
}

#[test]
fn a_thousand_steps_are_undone_to_the_first_byte() {
    let mut document = pippin();
    let first = document.text();
    let undo: Vec<_> = (0..1200)
        .map(|i| {
            let path = [
                "masts.0.sail.chord_m",
                "boat.cockpit.seat_m",
                "masts.0.lap_m",
            ][i % 3];
            let edit = Edit::number(path, 4.0 + f64::from(i as u32) * 0.003);
            document.edit(&[edit]).unwrap()
        })
        .collect();
    assert_ne!(document.text(), first);
    for steps in undo.iter().rev() {
        document.apply(steps, true).unwrap();
    }
    assert_eq!(document.text(), first);
}

#[test]
fn unknown_fields_stay_in_the_tree() {
    let text = pippin().text().replacen(
        r#""boat":{"#,
        r#""boat":{"a_field_of_tomorrow":[1.50,{"x":"y"}],"#,
        1,
    );
    let mut document = Document::open(&text).unwrap();
    document.edit(&[Edit::number("boat.loa_m", 7.5)]).unwrap();
    assert!(
        document
            .text()
            .contains(r#""a_field_of_tomorrow":[1.50,{"x":"y"}]"#)
    );
}

#[test]
fn lessons_are_read_in_their_places_told_at_their_fields_and_counted() {
    let text = r#"[{"title":"One","steps":[{"words":"First","reef":99,"own":1},{"sail":"second"},{"line":"rope","sail":"fourth"}],"mine":[2]},{}]"#;
    let document = with(pippin(), &[("lesson", text)]);
    let lessons = &document.design().lessons;
    assert_eq!(lessons.len(), 2);
    assert_eq!(lessons[0].title, "One");
    assert_eq!(lessons[0].steps.len(), 3);
    assert_eq!(lessons[0].steps[0].words, "First");
    assert_eq!(lessons[0].steps[0].shown.usual("reef"), 0.0);
    let told: Vec<String> = problems(&document)
        .into_iter()
        .map(|(path, _)| path)
        .collect();
    assert!(
        told.contains(&"lesson.0.steps.0.reef".to_owned()),
        "{told:?}"
    );
    assert!(
        told.contains(&"lesson.0.steps.2.line".to_owned()),
        "{told:?}"
    );
    assert!(
        told.contains(&"lesson.0.steps.2.sail".to_owned()),
        "{told:?}"
    );
    let of = |at: usize| lessons[0].steps[at].shown.word("sail");
    assert_eq!([of(0), of(1), of(2)], ["all", "second", "all"]);
    assert!(document.text().contains(r#""own":1"#) && document.text().contains(r#""mine":[2]"#));

    let long = format!("\"{}\"", "x".repeat(501));
    let document = with(document, &[("lesson.0.steps.1.words", &long)]);
    assert_eq!(document.design().lessons[0].steps[1].words.len(), 501);
    let told = problems(&document);
    let (_, sentence) = told
        .iter()
        .find(|(path, _)| path == "lesson.0.steps.1.words")
        .unwrap();
    assert!(sentence.contains("500"), "{sentence}");

    for (list, n) in [("[{}", 9), (r#"[{"steps":[{}"#, 61)] {
        let end = if n == 9 { "]" } else { "]}]" };
        let list = format!("{list}{}{end}", ",{}".repeat(n - 1));
        let edit = Edit::value("lesson", serde_json::from_str(&list).unwrap());
        let problem = pippin().edit(&[edit]).unwrap_err();
        assert!(
            problem.refused && problem.path.starts_with("lesson"),
            "{problem:?}"
        );
    }
}
