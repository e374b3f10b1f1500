//! Plans that cannot be give named problems with field, value and range; the rest is worked out.
#![allow(clippy::unwrap_used)]

mod support;

use design::{Document, Edit, account, demos, in_use};
use quantities::{Arg, Catalogue, Problem, Units};
use support::{account_of, pippin, problems, with};

fn said_at(document: &Document, path: &str) -> String {
    let all = problems(document);
    let found = all.iter().find(|(at, _)| at == path);
    found
        .unwrap_or_else(|| panic!("nothing at {path}: {all:?}"))
        .1
        .replace('\u{a0}', " ")
}

/// A sail by the table: Marsh Pippin's plan, spar by spar.
fn by_table() -> Document {
    let mut document = pippin();
    let edits = document.to_table(0);
    document.edit(&edits).unwrap();
    assert!(problems(&document).is_empty(), "{:?}", problems(&document));
    document
}

#[test]
fn spars_that_cross_are_named_with_what_would_do() {
    let document = with(by_table(), &[("masts.0.sail.spars.3.angle_deg", "60")]);
    let said = said_at(&document, "masts.0.sail.spars.3.angle_deg");
    assert!(
        said.starts_with("Angle: 60.0° folds panel 4 over itself; ") && said.contains("would do"),
        "{said}"
    );
    // The value named as possible is possible.
    let document = with(by_table(), &[("masts.0.sail.spars.3.angle_deg", "8")]);
    assert!(problems(&document).is_empty());
}

/// Least and greatest value that a problem says would do, document units.
fn range_of(problem: &Problem) -> Option<(f64, f64)> {
    let named = |name: &str| {
        problem.text.args.iter().find_map(|(key, arg)| match arg {
            Arg::Measure(value, _) if *key == name => Some(*value),
            _ => None,
        })
    };
    Some((named("least")?, named("most")?))
}

#[test]
fn a_spar_misplaced_in_a_table_is_the_one_named_with_a_range_that_is_true() {
    let (mut folded, mut blamed) = (0, 0);
    for family in ["fanned-head", "full-fan", "low-yard"] {
        let mut right = pippin();
        let edits = right.to_family(0, family);
        right.edit(&edits).unwrap();
        let edits = right.to_table(0);
        right.edit(&edits).unwrap();
        for (leaf, off) in [
            ("aft_m", 2.0),
            ("up_m", 1.5),
            ("angle_deg", 30.0),
            ("length_m", 3.5),
        ] {
            for (spar, off) in (0..=7).flat_map(|spar| [(spar, off), (spar, -off)]) {
                let path = format!("masts.0.sail.spars.{spar}.{leaf}");
                let was = right.number(&path).unwrap();
                let put =
                    |path: &str, value: f64| with(right.clone(), &[(path, &value.to_string())]);
                let wrong = put(&path, was + off);
                let all = account_of(&wrong).problems;
                let is_fold = |p: &&Problem| p.text.key.starts_with("problem.panel_folded");
                let Some(problem) = all.iter().find(is_fold) else {
                    continue;
                };
                folded += 1;
                let (least, most) = range_of(problem).unwrap();
                assert!(most > least, "{problem:?}");
                for value in [least, 0.5 * (least + most), most] {
                    let mended = with(wrong.clone(), &[(&problem.path, &value.to_string())]);
                    // Where the plan just stands a panel may be too narrow for its cloth.
                    let narrow = |p: &Problem| p.text.key == "problem.panel_narrow";
                    let middle = value > least && value < most;
                    assert!(
                        account_of(&mended)
                            .problems
                            .iter()
                            .all(|p| narrow(p) && !middle),
                        "{path} {off}: {} {value}",
                        problem.path
                    );
                }
                if problem.path == path {
                    blamed += 1;
                    assert!(least <= was && was <= most, "{path}: {least} to {most}");
                }
            }
        }
    }
    // At boom and yard another spar may be to blame as well.
    assert!(
        folded > 100 && blamed * 10 > folded * 9,
        "{blamed} of {folded}"
    );
}

#[test]
fn what_no_one_number_mends_gets_no_range() {
    let document = with(
        by_table(),
        &[
            ("masts.0.sail.spars.2.angle_deg", "70"),
            ("masts.0.sail.spars.5.angle_deg", "-40"),
        ],
    );
    let all = account_of(&document).problems;
    assert!(range_of(&all[0]).is_none(), "{all:?}");
    let none = |(_, said): &(String, String)| said.ends_with("no change of this alone mends it.");
    assert!(
        problems(&document).iter().any(none),
        "{:?}",
        problems(&document)
    );
}

#[test]
fn a_panel_upside_down_is_named() {
    let document = with(by_table(), &[("masts.0.sail.spars.2.up_m", "0.3")]);
    let said = said_at(&document, "masts.0.sail.spars.2.up_m");
    assert!(said.contains("0.30 m folds panel 2 over itself"), "{said}");
    let result = account_of(&document);
    assert!(result.masts[0].mast.lap > 5.0, "the mast is still there");
}

#[test]
fn a_leech_that_folds_back_names_the_field_and_the_range_that_would_do() {
    let document = with(pippin(), &[("masts.0.sail.boom_rise_deg", "40")]);
    let all = problems(&document);
    let folded = |(at, said): &(String, String)| {
        at == "masts.0.sail.boom_rise_deg"
            && said == "Boom rise: 40.0° folds panel 1 over itself; -5.0° to 19.0° would do."
    };
    assert!(all.iter().any(folded), "{all:?}");
    let folds = |rise: &str| {
        let document = with(pippin(), &[("masts.0.sail.boom_rise_deg", rise)]);
        !problems(&document).is_empty()
    };
    assert!(!folds("19") && folds("19.5"));
    let steep = with(pippin(), &[("masts.0.sail.yard_angle_deg", "90")]);
    assert!(
        problems(&steep)
            .iter()
            .any(|(_, said)| said.contains("folds panel 7 over itself"))
    );
}

#[test]
fn a_yard_that_no_fair_leech_reaches_names_a_range_that_works() {
    let document = with(pippin(), &[("masts.0.sail.yard_angle_deg", "0")]);
    let said = said_at(&document, "masts.0.sail.yard_length_pct");
    assert_eq!(
        said,
        "Yard length: 100%; no fair leech ends at this yard, 60% to 96% would do."
    );
    let shorter = [
        ("masts.0.sail.yard_angle_deg", "0"),
        ("masts.0.sail.yard_length_pct", "96"),
    ];
    assert!(problems(&with(pippin(), &shorter)).is_empty());
    let longer = [shorter[0], ("masts.0.sail.yard_length_pct", "97")];
    assert!(!problems(&with(pippin(), &longer)).is_empty());
}

#[test]
fn a_sail_lower_than_the_deck_is_named_with_the_height_that_clears_it() {
    let document = with(pippin(), &[("masts.0.sail.boom_height_m", "-0.2")]);
    let all = problems(&document);
    let said = all
        .iter()
        .find(|(at, said)| at == "masts.0.sail.boom_height_m" && said.contains("clears"))
        .unwrap();
    let limit: f64 = said
        .1
        .split("from ")
        .nth(1)
        .unwrap()
        .split('\u{a0}')
        .next()
        .unwrap()
        .parse()
        .unwrap();
    let raised = with(
        pippin(),
        &[("masts.0.sail.boom_height_m", &(limit + 0.01).to_string())],
    );
    assert!(
        !problems(&raised)
            .iter()
            .any(|(_, said)| said.contains("clears"))
    );
}

#[test]
fn a_yard_above_the_masthead_is_named_with_the_mast_it_needs() {
    let document = with(pippin(), &[("masts.0.lap_m", "6")]);
    let said = said_at(&document, "masts.0.lap_m");
    assert!(
        said.contains("6.00 m") && said.contains("7.83 m or more"),
        "{said}"
    );
    assert!(account_of(&document).masts[0].reefs.is_some());
}

#[test]
fn a_hull_that_contradicts_itself_is_named() {
    let long = with(pippin(), &[("boat.lwl_m", "8")]);
    assert!(said_at(&long, "boat.lwl_m").contains("7.40 m over all"));
    let stem = with(pippin(), &[("boat.bow_overhang_m", "2")]);
    assert!(said_at(&stem, "boat.bow_overhang_m").contains("1.10 m"));
    let roof = with(pippin(), &[("boat.coachroof.to_m", "1")]);
    assert!(said_at(&roof, "boat.coachroof.to_m").contains("abaft"));
    assert!(roof.design().boat.hull.coachroof.is_none());
    let ashore = with(pippin(), &[("masts.0.position_m", "12")]);
    assert!(said_at(&ashore, "masts.0.position_m").contains("the deck runs"));
}

#[test]
fn a_number_no_double_can_hold_opens_with_a_problem_and_the_rest_computed() {
    let text = pippin()
        .text()
        .replacen(r#""chord_m":4.40"#, r#""chord_m":1e999"#, 1);
    let document = Document::open(&text).unwrap();
    assert!(said_at(&document, "masts.0.sail.chord_m").contains("too large"));
    assert!(document.text().contains("1e+999"), "the digits typed stay");
    assert!(account(document.design()).rig.area > 1.0);
}

#[test]
fn one_impossible_sail_leaves_the_other_standing() {
    let heron = with(
        demos()[2].open().unwrap(),
        &[("masts.0.sail.family", "\"table\"")],
    );
    let result = account_of(&heron);
    assert!(result.masts[0].plan.is_none());
    assert!(said_at(&heron, "masts.0.sail.spars").contains("0 spars"));
    let main = result.masts[1].figures.as_ref().unwrap().area;
    assert!((result.rig.area - main).abs() < 1e-9);
    assert_eq!(result.rig.sequence.last().unwrap().lowered, [0, 7]);
}

#[test]
fn an_order_of_reefing_that_cannot_be_is_named_and_the_rule_followed() {
    for (sequence, words) in [
        ("[[0],[1]]", "one number for each mast"),
        ("[[0,0],[0,9]]", "more panels than the sail has"),
        ("[[1,0],[2,0]]", "all sail standing"),
        ("[[0,0],[2,0],[1,0]]", "only goes down"),
    ] {
        let heron = with(demos()[2].open().unwrap(), &[("reefs.sequence", sequence)]);
        let all = problems(&heron);
        assert!(
            all.iter()
                .any(|(at, said)| at.starts_with("reefs.sequence.") && said.contains(words)),
            "{all:?}"
        );
        assert_eq!(account_of(&heron).rig.sequence.len(), 14);
    }
    let own = with(
        demos()[2].open().unwrap(),
        &[("reefs.sequence", "[[0,0],[0,2],[3,2],[3,7],[6,7]]")],
    );
    assert!(problems(&own).is_empty());
    let steps = account_of(&own).rig.sequence;
    assert_eq!(steps.len(), 5);
    assert_eq!(steps[2].lowered, [3, 2]);
}

#[test]
fn a_sail_is_fitted_to_an_area_and_what_is_held_stays_to_the_bit() {
    let area = |document: &Document| {
        account(document.design()).masts[0]
            .figures
            .as_ref()
            .unwrap()
            .area
    };
    for (held, kept) in [
        ("hold_chord", "masts.0.sail.chord_m"),
        ("hold_luff", "masts.0.sail.panel_width_m"),
        ("", ""),
    ] {
        for table in [false, true] {
            for target in [24.0, 31.337, 36.5] {
                let mut document = if table { by_table() } else { pippin() };
                if !held.is_empty() {
                    let path = format!("masts.0.sail.{held}");
                    document = with(document, &[(&path, "true")]);
                }
                let before = document.value(kept).cloned();
                let lengths: Vec<_> = (0..8)
                    .map(|i| {
                        document
                            .value(&format!("masts.0.sail.spars.{i}.length_m"))
                            .cloned()
                    })
                    .collect();
                let edits = document.fit_area(0, target).unwrap();
                let edits = Edit::read_list(&Edit::write_list(&edits)).unwrap();
                document.edit(&edits).unwrap();
                assert!(
                    (area(&document) - target).abs() < 1e-9 * target,
                    "{held} {target}"
                );
                assert_eq!(document.value(kept).cloned(), before);
                let shown = in_use(
                    document.design(),
                    &account_of(&document),
                    "masts.0.sail.area",
                );
                assert_eq!(shown, Some(area(&document)));
                if table && held == "hold_chord" {
                    for (i, length) in lengths.iter().enumerate() {
                        let path = format!("masts.0.sail.spars.{i}.length_m");
                        assert_eq!(document.value(&path), length.as_ref());
                    }
                }
            }
        }
    }
}

#[test]
fn with_the_mast_held_the_sling_keeps_its_height() {
    let mut document = with(pippin(), &[("masts.0.sail.hold_mast", "true")]);
    let sling = |d: &Document| {
        account(d.design()).masts[0]
            .plan
            .as_ref()
            .unwrap()
            .sling_point()
            .y
    };
    let before = sling(&document);
    let edits = document.fit_area(0, 33.0).unwrap();
    document.edit(&edits).unwrap();
    assert!((sling(&document) - before).abs() < 1e-9);
    let area = account(document.design()).rig.area;
    assert!((area - 33.0).abs() < 1e-9 * 33.0);
}

#[test]
fn a_luff_by_rule_is_written_out_when_it_must_not_follow_the_chord() {
    let mut document = with(
        pippin(),
        &[
            ("masts.0.sail.panel_width_m", "null"),
            ("masts.0.sail.hold_luff", "true"),
        ],
    );
    let width = document.design().masts[0].sail.panel_width;
    let edits = document.fit_area(0, 27.0).unwrap();
    document.edit(&edits).unwrap();
    assert_eq!(document.design().masts[0].sail.panel_width, width);
    assert!((account(document.design()).rig.area - 27.0).abs() < 27e-9);
}

#[test]
fn with_everything_held_both_fields_are_named() {
    let document = with(
        pippin(),
        &[
            ("masts.0.sail.hold_chord", "true"),
            ("masts.0.sail.hold_luff", "true"),
        ],
    );
    let problem = document.fit_area(0, 33.0).unwrap_err();
    let said = Catalogue::english().say(&problem.text, Units::METRIC);
    assert!(
        said.contains("Chord") && said.contains("Panel width"),
        "{said}"
    );
    assert!(pippin().fit_area(0, f64::NAN).is_err());
    assert!(pippin().fit_area(0, -3.0).is_err());
    assert!(pippin().fit_area(7, 20.0).is_err());
    let chord = with(pippin(), &[("masts.0.sail.hold_chord", "true")]);
    assert!(chord.fit_area(0, 1900.0).is_err());
}

#[test]
fn a_plan_written_into_its_table_keeps_its_shape() {
    let before = account_of(&pippin());
    let after = account_of(&by_table());
    let spars = |a: &design::Account| a.masts[0].plan.as_ref().unwrap().spars.clone();
    for (a, b) in spars(&before).iter().zip(spars(&after)) {
        assert!(a.luff.distance(b.luff) < 2e-3 && a.leech().distance(b.leech()) < 2e-3);
    }
    // A table made again from a table is left as it is.
    assert_eq!(by_table().to_table(0).len(), 1);
}

/// What the boat's account could not use: content is a problem with its path, absence only a need.
#[test]
fn what_the_boat_lacks_is_needed_and_what_cannot_be_is_a_problem() {
    let needs = |edits: &[(&str, &str)]| account(with(pippin(), edits).design()).needs;
    assert!(needs(&[]).is_empty());
    assert_eq!(
        needs(&[
            ("boat.displacement_kg", "null"),
            ("boat.stability", "\"form\"")
        ]),
        ["boat.displacement_kg"]
    );
    assert_eq!(needs(&[("boat.test", "null")]), ["boat.test.readings"]);
    assert_eq!(needs(&[("boat.stability", "\"table\"")]), ["boat.gz"]);
    assert_eq!(needs(&[("boat.profile", "null")]), ["boat.profile"]);
    assert_eq!(needs(&[("boat.clr", "\"keel\"")]), ["boat.fin.root_from_m"]);
    for (path, value, sentence) in [
        (
            "boat.profile",
            r#"[{"x_m":0,"z_m":0},{"x_m":6,"z_m":-1},{"x_m":6,"z_m":0},{"x_m":0,"z_m":-1}]"#,
            "The outline crosses itself.",
        ),
        (
            "boat.sails.1.points",
            r#"[{"x_m":0,"z_m":1},{"x_m":1,"z_m":2}]"#,
            "The outline encloses nothing.",
        ),
        (
            "boat.test.readings",
            r#"[{"weight_kg":40,"arm_m":1,"deflection_m":0.04},{"weight_kg":80,"arm_m":1,"deflection_m":0.08},{"weight_kg":90,"arm_m":1,"deflection_m":0.09}]"#,
            "Readings to one side only: a list cannot be told from stiffness. Move weights to both sides.",
        ),
        (
            "boat.test.readings",
            r#"[{"weight_kg":40,"arm_m":1,"deflection_m":-0.04},{"weight_kg":40,"arm_m":-1,"deflection_m":0.04},{"weight_kg":90,"arm_m":1,"deflection_m":-0.09}]"#,
            "The readings heel her against the weight: look at the signs of arm and deflection.",
        ),
        // A sign forgotten in one of four.
        (
            "boat.test.readings",
            r#"[{"weight_kg":30,"arm_m":1,"deflection_m":0.033},{"weight_kg":60,"arm_m":1,"deflection_m":0.067},{"weight_kg":30,"arm_m":-1,"deflection_m":-0.034},{"weight_kg":60,"arm_m":1,"deflection_m":-0.066}]"#,
            "The readings lie on no line, reading 4 furthest off: look at the signs of arm and deflection.",
        ),
        // The same below a row not yet filled in.
        (
            "boat.test.readings",
            r#"[{},{"weight_kg":30,"arm_m":1,"deflection_m":0.033},{"weight_kg":60,"arm_m":1,"deflection_m":0.067},{"weight_kg":30,"arm_m":-1,"deflection_m":-0.034},{"weight_kg":60,"arm_m":1,"deflection_m":-0.066}]"#,
            "The readings lie on no line, reading 5 furthest off: look at the signs of arm and deflection.",
        ),
        (
            "boat.profile",
            r#"[{"x_m":0,"z_m":0},{"x_m":6,"z_m":0},{"x_m":3,"z_m":1}]"#,
            "The outline encloses nothing below the waterline: depths count negative.",
        ),
        (
            "boat.test.readings",
            r#"[{"weight_kg":40,"arm_m":1,"deflection_m":0.04},{"weight_kg":40,"arm_m":-1,"deflection_m":-0.04}]"#,
            "Fewer than three readings: no scatter can be told. Take four or more.",
        ),
    ] {
        let document = with(pippin(), &[(path, value)]);
        let problems = account(document.design()).problems;
        let words = Catalogue::english();
        let said: Vec<(String, String)> = problems
            .iter()
            .map(|problem| {
                (
                    problem.path.clone(),
                    words.say(&problem.text, Units::METRIC),
                )
            })
            .collect();
        assert!(
            said.iter()
                .any(|(at, words)| at.starts_with(path) && words == sentence),
            "{path}: {said:?}"
        );
    }
    let table = with(
        pippin(),
        &[
            ("boat.stability", "\"table\""),
            (
                "boat.gz",
                r#"[{"heel_deg":0,"gz_m":0},{"heel_deg":30,"gz_m":0.4},{"heel_deg":20,"gz_m":0.3}]"#,
            ),
        ],
    );
    let problems = account(table.design()).problems;
    assert!(problems.iter().any(|problem| problem.path == "boat.gz"));
}
