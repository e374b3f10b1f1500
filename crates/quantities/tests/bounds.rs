//! The bounds table: whole, consistent, and its messages.

use proptest::prelude::*;
use quantities::bounds::{CUTS, FAMILIES, MOST_CHARACTERS, MOST_PANELS, TARGET_AREA, cut, family};
use quantities::{Catalogue, Kind, ROWS, Row, Units, Usual, row};

fn said(problem: &quantities::Problem, units: Units) -> String {
    Catalogue::english()
        .say(&problem.text, units)
        .replace('\u{a0}', " ")
}

fn indexed(pattern: &str) -> String {
    pattern.replace("[]", ".0")
}

#[test]
fn rows_are_sorted_and_found() {
    for pair in ROWS.windows(2) {
        assert!(
            pair[0].path < pair[1].path,
            "{} and {}",
            pair[0].path,
            pair[1].path
        );
    }
    for wanted in ROWS {
        for path in [
            wanted.path.to_string(),
            indexed(wanted.path),
            wanted.path.replace("[]", ".12"),
        ] {
            assert_eq!(
                row(&path).map(|found| found.path),
                Some(wanted.path),
                "{path}"
            );
        }
    }
    assert_eq!(
        row("reefs.sequence.3.1").map(|row| row.path),
        Some("reefs.sequence[][]")
    );
    assert_eq!(
        row("masts.0.sail.spars.2.aft_m").map(|row| row.path),
        Some("masts[].sail.spars[].aft_m")
    );
}

#[test]
fn other_paths_have_no_row() {
    for path in [
        "",
        ".",
        "boat",
        "masts",
        "masts.0",
        "masts.a.lap_m",
        "boat.0",
        "boat.loa",
        "0",
        "boat..loa_m",
        "masts.0.0.lap_m",
    ] {
        assert!(row(path).is_none(), "{path}");
    }
    assert!(row(&"masts.".repeat(10_000)).is_none());
}

#[test]
fn ranges_hold_one_another() {
    for row in ROWS.iter().chain([&TARGET_AREA]) {
        let at = row.path;
        assert!(
            row.hard_least <= row.least && row.least < row.most && row.most <= row.hard_most,
            "{at}"
        );
        assert!(row.step > 0.0 && row.nudge >= row.step, "{at}");
        for value in [
            row.least,
            row.most,
            row.hard_least,
            row.hard_most,
            row.nudge,
        ] {
            assert_eq!(
                row.rounded(value),
                value,
                "{at}: {value} is no multiple of the step"
            );
        }
        if matches!(row.kind, Kind::Number | Kind::Whole) {
            assert!(
                row.check(at, row.least).is_none() && row.check(at, row.most).is_none(),
                "{at}"
            );
        }
    }
}

#[test]
fn usual_values_are_usual() {
    for row in ROWS {
        match (row.usual, row.kind) {
            (Usual::Value(value), Kind::Number | Kind::Whole) => {
                assert!(value >= row.least && value <= row.most, "{}", row.path);
                assert_eq!(row.rounded(value), value, "{}", row.path);
            }
            (Usual::Word(word), Kind::Choice(words)) => {
                assert!(words.contains(&word), "{}", row.path)
            }
            (Usual::Rule(_), Kind::Number | Kind::Whole) | (Usual::Nothing, _) => {}
            (usual, kind) => panic!("{}: {usual:?} for {kind:?}", row.path),
        }
    }
}

#[test]
fn every_row_has_its_words() {
    let words = Catalogue::english();
    let has = |key: &str| {
        assert!(
            words.find(key).is_some_and(|word| !word.is_empty()),
            "no words for {key}"
        )
    };
    for row in ROWS.iter().chain([&TARGET_AREA]) {
        has(row.quantity.label);
        has(&row.quantity.help());
        if let Usual::Rule(key) = row.usual {
            has(key);
        }
        if let Kind::Choice(choices) = row.kind {
            let name = row.path.rsplit(['.', '_']).next().unwrap();
            for choice in choices {
                // Parts are called what the drawing calls them.
                let family = if name == "part" { "" } else { "choice." };
                has(&format!("{family}{name}.{choice}"));
            }
        }
    }
}

#[test]
fn cuts_and_families_agree_with_the_rows() {
    let words = |path: &str| match row(path).unwrap().kind {
        Kind::Choice(words) => words,
        kind => panic!("{path} is {kind:?}"),
    };
    assert_eq!(
        words("masts[].sail.cut"),
        CUTS.iter().map(|row| row.cut).collect::<Vec<_>>()
    );
    assert_eq!(
        words("masts[].sail.family"),
        FAMILIES.iter().map(|row| row.family).collect::<Vec<_>>()
    );
    let balance = row("masts[].sail.balance_pct").unwrap();
    // The row's range is what all cuts together span.
    assert_eq!(
        balance.least,
        CUTS.iter()
            .map(|row| row.balance_pct.0)
            .fold(f64::MAX, f64::min)
    );
    assert_eq!(
        balance.most,
        CUTS.iter()
            .map(|row| row.balance_pct.2)
            .fold(f64::MIN, f64::max)
    );
    let usual = |path: &str, value: f64| {
        assert!(
            row(path).unwrap().check(path, value).is_none(),
            "{path} {value}"
        );
    };
    for cut in CUTS {
        let (least, middle, most) = cut.balance_pct;
        assert!(least < middle && middle < most, "{}", cut.cut);
        usual("masts[].sail.folded_cloth_m", cut.folded_cloth_m);
        usual("masts[].sail.chord_share_pct", cut.chord_share_pct);
    }
    for family in FAMILIES {
        usual("masts[].sail.yard_angle_deg", family.yard_angle_deg);
        usual("masts[].sail.yard_length_pct", family.yard_length_pct);
        usual(
            "masts[].sail.head_panels",
            f64::from(family.head_panels.unwrap_or(1)),
        );
        for width in family.head_widths_pct {
            usual("masts[].sail.head_widths_pct[]", width);
        }
        for step in family.head_steps {
            usual("masts[].sail.head_steps[]", step);
        }
    }
    assert_eq!(
        row("masts[].sail.panels").unwrap().hard_most,
        MOST_PANELS as f64
    );
    assert_eq!(cut("no such cut").cut, "flat");
    assert_eq!(cut("split").balance_pct.1, 32.0);
    assert_eq!(family("no such plan").family, "fanned-head");
}

#[test]
fn messages_name_quantity_value_range_and_next_step() {
    let table = [
        (
            "masts.0.sail.chord_m",
            24.0,
            false,
            "Chord: 24.00 m; usual is 0.80 m to 9.00 m. Is it in feet? That would be 7.32 m.",
            "Chord: 78' 8 7/8\"; usual is 2' 7 1/2\" to 29' 6 5/16\". Is it in inches? That would be 6' 6 3/4\".",
        ),
        (
            "masts.0.sail.chord_m",
            443.0,
            true,
            "Chord: 443.00 m is not used; possible is 0.20 m to 40.00 m. Is it in centimetres? That would be 4.43 m.",
            "Chord: 1453' 4 15/16\" is not used; possible is 7 7/8\" to 131' 2 13/16\". Is it in millimetres? That would be 4' 9 1/4\".",
        ),
        (
            "boat.loa_m",
            7400.0,
            true,
            "Length over all: 7400.00 m is not used; possible is 0.50 m to 100.00 m. Is it in millimetres? That would be 7.40 m.",
            "Length over all: 24278' 2 9/16\" is not used; possible is 1' 7 11/16\" to 328' 1\". Is it in millimetres? That would be 79' 7 13/16\".",
        ),
        // 0.75, meant as metres, typed in a field of feet.
        (
            "boat.eye_height_m",
            0.2286,
            false,
            "Eye height: 0.2286 m; usual is 0.60 m to 1.80 m.",
            "Eye height: 9\"; usual is 1' 11 5/8\" to 5' 10 7/8\". Is it in metres? That would be 2' 5 1/2\".",
        ),
        (
            "masts.1.diameter_m",
            0.000_15,
            true,
            "Mast diameter: 0.15 mm is not used; possible is 5 mm to 1500 mm. Is it in metres? That would be 150 mm.",
            "Mast diameter: 0\" is not used; possible is 3/16\" to 59 1/16\".",
        ),
        (
            "masts.0.rake_deg",
            10.0,
            false,
            "Mast rake: 10.0°; usual is -10.0° to 8.0°. Is the sign right?",
            "Mast rake: 10.0°; usual is -10.0° to 8.0°. Is the sign right?",
        ),
        (
            "masts.0.sail.sling_pct",
            0.48,
            false,
            "Sling point: 0.48%; usual is 40% to 60%. Is it a share of one? That would be 48%.",
            "Sling point: 0.48%; usual is 40% to 60%. Is it a share of one? That would be 48%.",
        ),
        (
            "masts.0.sail.panels",
            13.0,
            true,
            "Panels: 13 is not used; possible is 1 to 12.",
            "Panels: 13 is not used; possible is 1 to 12.",
        ),
        (
            "masts.0.sail.panels",
            4.5,
            true,
            "Panels: 4.5 is not used; a whole number from 1 to 12 is wanted.",
            "Panels: 4.5 is not used; a whole number from 1 to 12 is wanted.",
        ),
        (
            "masts.0.sail.rise_deg",
            f64::INFINITY,
            true,
            "Batten rise: too large a number, not used; possible is -45.0° to 60.0°.",
            "Batten rise: too large a number, not used; possible is -45.0° to 60.0°.",
        ),
    ];
    for (path, value, refused, metric, imperial) in table {
        let row = row(path).unwrap();
        let problem = row.check(path, value).unwrap();
        assert_eq!((problem.path.as_str(), problem.refused), (path, refused));
        assert_eq!(row.usable(value), !refused);
        assert_eq!(said(&problem, Units::METRIC), metric);
        assert_eq!(said(&problem, Units::IMPERIAL), imperial);
    }
}

#[test]
fn an_area_in_square_feet_is_suspected() {
    let problem = TARGET_AREA.check("masts.0.sail.area", 340.0).unwrap();
    assert_eq!(
        said(&problem, Units::METRIC),
        "Area: 340.0 m²; usual is 1.5 m² to 160.0 m². Is it in square feet? That would be 31.6 m²."
    );
}

#[test]
fn the_narrower_range_of_a_cut_is_held() {
    let path = "masts.0.sail.balance_pct";
    let row = row(path).unwrap();
    let (least, _, most) = cut("flat").balance_pct;
    assert!(row.check(path, 20.0).is_none());
    let problem = row.check_between(path, 20.0, least, most).unwrap();
    assert!(!problem.refused);
    assert_eq!(
        said(&problem, Units::METRIC),
        "Balance: 20.0%; usual is 0.0% to 17.0%."
    );
}

#[test]
fn wrong_types_are_named() {
    let wrong = |path: &str| said(&row(path).unwrap().wrong_type(path), Units::METRIC);
    assert_eq!(
        wrong("boat.loa_m"),
        "Length over all: a number is wanted here."
    );
    assert_eq!(
        wrong("masts.0.sail.panels"),
        "Panels: a whole number is wanted here."
    );
    assert_eq!(wrong("name"), "Name: words are wanted here.");
    assert_eq!(
        wrong("boat.keel"),
        "Keel: one of these is wanted here: fin, long, open."
    );
    assert_eq!(
        wrong("masts.0.sail.hold_luff"),
        "Hold the luff: true or false is wanted here."
    );
    let missing = row("boat.lwl_m").unwrap().missing("boat.lwl_m");
    assert_eq!(
        said(&missing, Units::METRIC),
        "Waterline length is not given."
    );
}

#[test]
fn words_are_checked() {
    let keel = row("boat.keel").unwrap();
    assert!(keel.check_word("boat.keel", "long").is_none());
    assert!(
        keel.check_word("boat.keel", "Long")
            .is_some_and(|problem| problem.refused)
    );
    let note = row("note").unwrap();
    assert!(
        note.check_word("note", &"é".repeat(MOST_CHARACTERS))
            .is_none()
    );
    let problem = note
        .check_word("note", &"é".repeat(MOST_CHARACTERS + 1))
        .unwrap();
    assert_eq!(
        said(&problem, Units::METRIC),
        "Notes: 2001 characters; at most 2000 are kept."
    );
    assert!(
        row("boat.loa_m")
            .unwrap()
            .check_word("boat.loa_m", "seven")
            .is_some()
    );
}

#[test]
fn a_field_spells_what_is_stored() {
    let chord = row("masts.0.sail.chord_m").unwrap();
    assert_eq!(chord.spell(4.43, Units::METRIC), "4.43");
    assert_eq!(chord.spell(4.432, Units::METRIC), "4.432");
    assert_eq!(chord.spell(4.432, Units::IMPERIAL), "14' 6 1/2\"");
}

fn any_row() -> impl Strategy<Value = &'static Row> {
    prop::sample::select(ROWS.iter().collect::<Vec<_>>())
}

proptest! {
    #[test]
    fn any_number_is_judged_in_words(row in any_row(), value in any::<f64>(), near in 0.0_f64..1.0) {
        let within = row.least + near * (row.most - row.least);
        for value in [value, within, row.rounded(within)] {
            for units in [Units::METRIC, Units::IMPERIAL] {
                match row.check(row.path, value) {
                    Some(problem) => {
                        let said = said(&problem, units);
                        prop_assert!(!said.contains(['{', '}']), "{}", said);
                        prop_assert_eq!(problem.refused, !row.usable(value));
                        prop_assert!(!(value >= row.least && value <= row.most) || row.kind == Kind::Whole);
                    }
                    None => prop_assert!(value >= row.least && value <= row.most),
                }
            }
        }
    }

    #[test]
    fn rounding_is_done_once(row in any_row(), share in 0.0_f64..1.0) {
        let value = row.hard_least + share * (row.hard_most - row.hard_least);
        let rounded = row.rounded(value);
        prop_assert!((rounded - value).abs() <= 0.500_001 * row.step);
        prop_assert_eq!(row.rounded(rounded), rounded);
        // The double is the one its decimal digits stand for: no 4.430000000000001.
        prop_assert!(format!("{rounded}").len() <= 8, "{}", rounded);
    }

    #[test]
    fn any_path_is_found_or_not(path in "\\PC{0,90}", dotted in "[a-z0-9._\\[\\]]{0,70}") {
        for path in [path, dotted] {
            if let Some(found) = row(&path) {
                prop_assert!(ROWS.iter().any(|row| row.path == found.path));
            }
        }
    }
}
