//! What the page is told, without a browser: rows, words, edits.
#![cfg(not(target_arch = "wasm32"))]
#![allow(clippy::unwrap_used, clippy::indexing_slicing)]

use std::collections::BTreeSet;

use battenwright_site::bench::Bench;
use battenwright_site::rows::{Attention, FieldRow, ViewGiven};
use design::{Edit, Step};
use drawing::Role;
use drawing::scene::Item;
use geometry::SailPlan;
use quantities::{Catalogue, ROWS};
use support::fields_of;

mod support;

fn open(text: &str) -> Bench {
    Bench::open(text, Catalogue::english())
        .map_err(|(problem, _)| problem)
        .unwrap()
}

fn demo(key: &str) -> Bench {
    let demo = design::demos().iter().find(|demo| demo.key == key).unwrap();
    open(&demo.text())
}

fn all() -> Vec<Bench> {
    let mut benches: Vec<Bench> = design::demos().iter().map(|d| open(&d.text())).collect();
    benches.push(open(&design::blank().text()));
    benches
}

fn edit(bench: &mut Bench, json: &str) -> Vec<Step> {
    bench.edit(&Edit::read_list(json).unwrap()).unwrap()
}

/// Types into a field as the page does.
fn type_in(bench: &mut Bench, path: &str, typed: &str) -> Vec<Step> {
    let answer = bench.type_in(path, typed);
    assert_eq!(answer.problem, None, "{path}: {typed}");
    edit(bench, &answer.edits.unwrap())
}

fn refused(bench: &Bench, path: &str, typed: &str) -> String {
    let answer = bench.type_in(path, typed);
    assert_eq!(answer.edits, None, "{path}: {typed}");
    answer.problem.unwrap()
}

fn field(bench: &mut Bench, path: &str) -> FieldRow {
    bench.fields(&[path.to_owned()]).pop().unwrap()
}

fn view(change: impl FnOnce(&mut ViewGiven)) -> ViewGiven {
    let mut view = ViewGiven::default();
    change(&mut view);
    view
}

fn lower(bench: &mut Bench, hoist: &[f64]) {
    bench.set_view(view(|v| v.hoist = hoist.to_vec()));
}

/// Every path of the bounds table, indices filled in.
fn every_path() -> Vec<String> {
    let paths = ROWS.iter().map(|row| {
        let path = row
            .path
            .replace("spars[]", "spars.1")
            .replace("masts[]", "masts.0");
        path.replace("[][]", ".0.0").replace("[]", ".0")
    });
    paths.chain(["masts.0.sail.area".to_owned()]).collect()
}

fn has_no_holes(words: &str) -> bool {
    !words.contains(['{', '}'])
}

#[test]
fn every_field_of_every_design_is_said_in_full() {
    for mut bench in all() {
        for units in ["m", "ft"] {
            bench.set_view(view(|v| v.units = units.to_owned()));
            let paths = every_path();
            let rows = bench.fields(&paths);
            assert_eq!(rows.len(), paths.len());
            for (row, path) in rows.iter().zip(&paths) {
                assert_eq!(&row.path, path);
                for words in [&row.label, &row.help, &row.basis] {
                    assert!(!words.is_empty() && has_no_holes(words), "{path}: {words}");
                    assert!(
                        !words.starts_with("label.") && !words.starts_with("help."),
                        "{words}"
                    );
                }
                assert!(has_no_holes(&row.problem));
                // Where there is no usual word, nothing is chosen at first.
                if row.kind == "choice" && !row.usual.is_empty() {
                    assert!(
                        row.options.iter().any(|option| option.value == row.text),
                        "{path}"
                    );
                    assert!(row.options.iter().all(|o| !o.label.starts_with("choice.")));
                    assert!(row.options.iter().any(|option| option.label == row.usual));
                }
                if row.by_rule {
                    assert!(
                        !row.text.is_empty(),
                        "{path} follows a rule that gives nothing"
                    );
                }
            }
        }
    }
}

#[test]
fn a_field_shows_what_was_typed_or_what_its_rule_gives() {
    let mut bench = demo("marsh-pippin");
    let typed = field(&mut bench, "masts.0.sail.chord_m");
    assert!(!typed.by_rule && typed.number.is_some());
    // 0.22 of the chord, by the table of usual values (common practice).
    edit(
        &mut bench,
        r#"[["masts.0.sail.panel_width_m",null],["masts.0.sail.chord_m",4]]"#,
    );
    let ruled = field(&mut bench, "masts.0.sail.panel_width_m");
    assert!(ruled.by_rule);
    assert_eq!((ruled.text.as_str(), ruled.unit.as_str()), ("0.88", "m"));
    assert_eq!(ruled.usual, "0.88");
    // Typed now, and the rule's value is still told.
    type_in(&mut bench, "masts.0.sail.panel_width_m", "0.95");
    let typed = field(&mut bench, "masts.0.sail.panel_width_m");
    assert!(!typed.by_rule);
    assert_eq!(
        (typed.text.as_str(), typed.usual.as_str()),
        ("0.95", "0.88")
    );
    type_in(&mut bench, "masts.0.sail.panel_width_m", " ");
    assert!(field(&mut bench, "masts.0.sail.panel_width_m").by_rule);
}

#[test]
fn keyboards_have_the_signs_that_are_needed() {
    let mut bench = demo("marsh-pippin");
    assert_eq!(
        field(&mut bench, "masts.0.sail.chord_m").inputmode,
        "decimal"
    );
    assert_eq!(
        field(&mut bench, "masts.0.sail.panels").inputmode,
        "numeric"
    );
    assert_eq!(field(&mut bench, "masts.0.rake_deg").inputmode, "text");
    bench.set_view(view(|v| v.units = "ft".to_owned()));
    assert_eq!(field(&mut bench, "masts.0.sail.chord_m").inputmode, "text");
}

#[test]
fn feet_and_inches_typed_stand_there_again_after_saving_and_two_switches() {
    let mut bench = demo("marsh-pippin");
    bench.set_view(view(|v| v.units = "ft".to_owned()));
    for typed in ["14' 6 1/2\"", "14’ 6 1⁄2”", "14-6 1/2", "14'6.5\""] {
        type_in(&mut bench, "masts.0.sail.chord_m", "10'");
        type_in(&mut bench, "masts.0.sail.chord_m", typed);
        bench.set_view(view(|v| v.units = "m".to_owned()));
        let metric = field(&mut bench, "masts.0.sail.chord_m");
        assert_eq!(metric.text, "4.432");
        let mut bench = open(&bench.text());
        bench.set_view(view(|v| v.units = "ft".to_owned()));
        assert_eq!(
            field(&mut bench, "masts.0.sail.chord_m").text,
            "14' 6 1/2\"",
            "{typed}"
        );
    }
}

#[test]
fn switching_units_changes_nothing_in_the_design() {
    for mut bench in all() {
        let text = bench.text();
        for units in ["ft", "m", "ft", "cubits", "m"] {
            bench.set_view(view(|v| v.units = units.to_owned()));
            bench.fields(&every_path());
            assert_eq!(bench.text(), text);
        }
    }
}

#[test]
fn what_cannot_be_used_is_turned_away_with_value_and_range() {
    let bench = demo("marsh-pippin");
    let told = refused(&bench, "masts.0.sail.chord_m", "45");
    assert!(
        told.contains("45.00") && told.contains("0.20") && told.contains("40.00"),
        "{told}"
    );
    // Its label stands beside the field already.
    assert!(!told.contains("Chord"), "{told}");
    for typed in [
        "four",
        "1e999",
        "4,430.5",
        "--4",
        "=1+1",
        "\u{202e}4",
        "4".repeat(400).as_str(),
    ] {
        assert!(!refused(&bench, "masts.0.sail.chord_m", typed).is_empty());
    }
    refused(&bench, "masts.0.sail.panels", "6.5");
    refused(&bench, "masts.0.sail.panels", "13");
    refused(&bench, "masts.0.sail.family", "square");
    refused(&bench, "masts.0.sail.hold_chord", "maybe");
    refused(&bench, "name", &"x".repeat(2001));
    refused(&bench, "no.such.field", "1");
    refused(&bench, "", "1");
    // Unusual but possible: taken, and told.
    let mut bench = bench;
    type_in(&mut bench, "masts.0.sail.chord_m", "12");
    assert!(
        field(&mut bench, "masts.0.sail.chord_m")
            .problem
            .contains("12")
    );
    assert!(
        bench
            .attention()
            .iter()
            .any(|row| row.path == "masts.0.sail.chord_m")
    );
}

#[test]
fn a_target_area_is_met_and_what_is_held_stays_to_the_bit() {
    for (hold, leaf) in [
        (None, ""),
        (Some("hold_chord"), "chord_m"),
        (Some("hold_luff"), "panel_width_m"),
    ] {
        let mut bench = demo("marsh-pippin");
        if let Some(hold) = hold {
            edit(&mut bench, &format!(r#"[["masts.0.sail.{hold}",true]]"#));
        }
        let before = (!leaf.is_empty())
            .then(|| field(&mut bench, &format!("masts.0.sail.{leaf}")).number_of());
        type_in(&mut bench, "masts.0.sail.area", "31.5");
        let area = field(&mut bench, "masts.0.sail.area");
        assert!((area.number.unwrap() - 31.5).abs() < 1e-9, "{hold:?}");
        assert_eq!(area.text, "31.5");
        if hold.is_some() {
            let after = Some(field(&mut bench, &format!("masts.0.sail.{leaf}")).number_of());
            assert_eq!(before, after, "{leaf}");
        }
    }
    let mut bench = demo("marsh-pippin");
    edit(
        &mut bench,
        r#"[["masts.0.sail.hold_chord",true],["masts.0.sail.hold_luff",true]]"#,
    );
    let told = refused(&bench, "masts.0.sail.area", "31.5");
    assert!(
        told.contains("Chord") && told.contains("Panel width"),
        "{told}"
    );
    assert_eq!(
        bench.type_in("masts.0.sail.area", "").edits.as_deref(),
        Some("[]")
    );
}

trait NumberOf {
    fn number_of(&self) -> Option<u64>;
}

impl NumberOf for FieldRow {
    fn number_of(&self) -> Option<u64> {
        self.number.map(f64::to_bits)
    }
}

#[test]
fn one_number_of_a_list_is_typed_and_given_back_without_moving_the_others() {
    let mut bench = demo("marsh-pippin");
    edit(&mut bench, r#"[["masts.0.sail.head_steps",null]]"#);
    let texts = |bench: &mut Bench| -> Vec<(String, bool)> {
        let rows = (0..3).map(|i| field(bench, &format!("masts.0.sail.head_steps.{i}")));
        rows.map(|row| (row.text, row.by_rule)).collect()
    };
    let by_rule = texts(&mut bench);
    assert!(by_rule.iter().all(|(_, by_rule)| *by_rule));
    type_in(&mut bench, "masts.0.sail.head_steps.2", "2.2");
    let typed = texts(&mut bench);
    assert_eq!(typed[..2], by_rule[..2]);
    assert_eq!(typed[2], ("2.2".to_owned(), false));
    type_in(&mut bench, "masts.0.sail.head_steps.0", "1.1");
    type_in(&mut bench, "masts.0.sail.head_steps.2", "");
    let typed = texts(&mut bench);
    assert_eq!(typed[0], ("1.1".to_owned(), false));
    assert_eq!(typed[1..], by_rule[1..]);
    type_in(&mut bench, "masts.0.sail.head_steps.0", "");
    assert_eq!(texts(&mut bench), by_rule);
    assert!(!bench.text().contains("head_steps"));
}

/// The account of the design on the bench.
fn account(bench: &Bench) -> design::Account {
    design::account(design::Document::open(&bench.text()).unwrap().design())
}

/// Usual proportions of the table of usual values (common practice): yard angle, yard length and
/// aspect by family.
const USUAL_SHAPE: [(&str, f64, f64, f64); 3] = [
    ("full-fan", 65.0, 90.0, 2.5),
    ("low-yard", 25.0, 100.0, 2.0),
    ("fanned-head", 65.0, 100.0, 2.5),
];

#[test]
fn another_family_takes_its_own_shape_at_once_and_is_undone_as_one_step() {
    for mut bench in all() {
        let first = bench.text();
        let mut undo = Vec::new();
        for (family, yard_angle, yard_length, _) in USUAL_SHAPE {
            for mast in 0..account(&bench).masts.len() {
                let at = |leaf: &str| format!("masts.{mast}.sail.{leaf}");
                undo.push(type_in(&mut bench, &at("family"), family));
                for leaf in ["head_panels", "head_widths_pct.0", "head_steps.0"] {
                    assert!(field(&mut bench, &at(leaf)).by_rule, "{family} {leaf}");
                }
                let angle = field(&mut bench, &at("yard_angle_deg"));
                assert!(
                    angle.by_rule && angle.number == Some(yard_angle),
                    "{family}"
                );
                let length = field(&mut bench, &at("yard_length_pct"));
                assert!(length.by_rule && length.number == Some(yard_length));
            }
            // A full fan brings its boom forward at the first reef, and may overbalance there; and the walls of mast, battens
            // and yard were chosen for the head that was. The boom's were not, and with that head all are right again.
            let of_head = |title: &str| {
                let stressed = title.contains(" is stressed to ");
                family != "fanned-head" && stressed && !title.starts_with("Boom")
            };
            let danger = bench.attention().into_iter().find(|row| {
                row.severity != "look"
                    && !row.title.starts_with("Attached force")
                    && !of_head(&row.title)
            });
            assert_eq!(danger, None, "{family}");
            let account = account(&bench);
            assert!(account.problems.is_empty(), "{:?}", account.problems);
            for mast in &account.masts {
                let plan = mast.plan.as_ref().unwrap();
                let turn = |i: usize| (plan.spars[i + 1].angle - plan.spars[i].angle).to_degrees();
                let kinks = plan.leech_kinks();
                let n = plan.n_panels();
                if family == "fanned-head" {
                    assert!(turn(0).abs() < 1e-9 && turn(n - 1) > turn(n - 2));
                    continue;
                }
                // All panels turn alike, luffs are alike, the leech is a fair curve.
                for i in 0..n {
                    assert!((turn(i) - turn(0)).abs() < 1e-9, "{family}");
                    let luff = |i: usize| plan.spars[i + 1].luff.distance(plan.spars[i].luff);
                    assert!((luff(i) - luff(0)).abs() < 1e-9, "{family}");
                }
                assert!(kinks.iter().all(|kink| (kink - kinks[0]).abs() < 1e-9));
                if family == "low-yard" {
                    let areas = &mast.figures.as_ref().unwrap().panel_areas;
                    let mean = areas.iter().sum::<f64>() / n as f64;
                    assert!(areas.iter().all(|area| (area / mean - 1.0).abs() < 0.1));
                    assert!(
                        plan.spars
                            .iter()
                            .all(|s| s.length < 1.1 * plan.spars[0].length)
                    );
                }
            }
        }
        for steps in undo.iter().rev() {
            bench.apply(steps, true).unwrap();
        }
        assert_eq!(bench.text(), first);
    }
}

/// The table of usual values says of itself: area 1.40 B², aspect 2.5, low yard 2.0.
#[test]
fn a_blank_sail_of_each_family_has_the_usual_proportions() {
    for (family, _, _, aspect) in USUAL_SHAPE {
        let mut bench = open(&design::blank().text());
        type_in(&mut bench, "masts.0.sail.family", "table");
        type_in(&mut bench, "masts.0.sail.family", family);
        let account = account(&bench);
        let figures = account.masts[0].figures.as_ref().unwrap();
        let chord = field(&mut bench, "masts.0.sail.chord_m").number.unwrap();
        assert!(
            (figures.aspect - aspect).abs() < 0.1,
            "{family} {}",
            figures.aspect
        );
        if family != "low-yard" {
            let proportion = figures.area / chord.powi(2);
            assert!((proportion - 1.40).abs() < 0.05, "{family} {proportion}");
        }
    }
}

#[test]
fn the_family_that_is_there_keeps_what_is_typed_and_emptied_it_is_the_usual_one() {
    let mut bench = demo("marsh-pippin");
    let before = bench.text();
    assert!(type_in(&mut bench, "masts.0.sail.family", "fanned-head").is_empty());
    let text = type_in(&mut bench, "masts.0.sail.family", "");
    assert_eq!(text.len(), 1);
    bench.apply(&text, true).unwrap();
    assert_eq!(bench.text(), before);
    type_in(&mut bench, "masts.0.sail.family", "low-yard");
    type_in(&mut bench, "masts.0.sail.yard_angle_deg", "20");
    type_in(&mut bench, "masts.0.sail.family", "");
    assert!(!bench.text().contains("yard_angle") && !bench.text().contains("family"));
    let angle = field(&mut bench, "masts.0.sail.yard_angle_deg");
    assert_eq!(angle.number, Some(65.0));
    // A table needs no chord; the plan that follows it has that of its boom.
    type_in(&mut bench, "masts.0.sail.family", "table");
    edit(&mut bench, r#"[["masts.0.sail.chord_m",null]]"#);
    type_in(&mut bench, "masts.0.sail.spars.0.length_m", "4.25");
    type_in(&mut bench, "masts.0.sail.family", "full-fan");
    let chord = field(&mut bench, "masts.0.sail.chord_m");
    assert_eq!((chord.number, chord.problem.as_str()), (Some(4.25), ""));
}

#[test]
fn widths_and_steps_of_the_head_stay_with_their_panels_counted_from_the_top() {
    let mut bench = demo("marsh-pippin");
    let head = |bench: &mut Bench| -> Vec<String> {
        let n = field(bench, "masts.0.sail.head_panels").number.unwrap();
        let n = n.min(field(bench, "masts.0.sail.panels").number.unwrap());
        let shown = (0..n as usize).map(|i| {
            let row = field(bench, &format!("masts.0.sail.head_widths_pct.{i}"));
            format!("{}{}", row.text, if row.by_rule { " by rule" } else { "" })
        });
        shown.collect()
    };
    assert_eq!(head(&mut bench), ["65", "45", "30"]);
    let before = bench.text();
    let mut undo = vec![type_in(&mut bench, "masts.0.sail.head_panels", "4")];
    assert_eq!(head(&mut bench), ["65 by rule", "65", "45", "30"]);
    let turned = account(&bench).masts[0].plan.clone().unwrap();
    undo.push(type_in(&mut bench, "masts.0.sail.head_panels", "2"));
    assert_eq!(head(&mut bench), ["45", "30"]);
    // Fewer panels than the head has: its upper ones are left.
    undo.push(type_in(&mut bench, "masts.0.sail.panels", "1"));
    assert_eq!(head(&mut bench), ["30"]);
    undo.push(type_in(&mut bench, "masts.0.sail.panels", ""));
    assert_eq!(head(&mut bench), ["65 by rule", "30"]);
    undo.push(type_in(&mut bench, "masts.0.sail.head_panels", ""));
    assert_eq!(head(&mut bench).last().unwrap(), "30");
    undo.push(type_in(&mut bench, "masts.0.sail.head_panels", "0"));
    assert!(!bench.text().contains("head_steps"), "{}", bench.text());
    for steps in undo.iter().rev() {
        bench.apply(steps, true).unwrap();
    }
    assert_eq!(bench.text(), before);
    // The luffs of the top three panels are as they were with three in the head.
    let three = account(&bench).masts[0].plan.clone().unwrap();
    for panel in 5..=7 {
        let luff = |plan: &SailPlan| {
            let panel = plan.panel(panel).unwrap();
            panel.upper.luff.distance(panel.lower.luff)
        };
        assert!((luff(&turned) - luff(&three)).abs() < 1e-9);
    }
    // A fan of more panels keeps the widths of its upper ones.
    type_in(&mut bench, "masts.0.sail.family", "full-fan");
    type_in(&mut bench, "masts.0.sail.head_widths_pct.6", "50");
    type_in(&mut bench, "masts.0.sail.panels", "8");
    assert_eq!(head(&mut bench).last().unwrap(), "50");
    // A table follows the usual number too.
    type_in(&mut bench, "masts.0.sail.family", "table");
    type_in(&mut bench, "masts.0.sail.panels", "");
    assert_eq!(
        account(&bench).masts[0].plan.as_ref().unwrap().n_panels(),
        6
    );
}

#[test]
fn a_plan_becomes_a_table_of_the_same_shape_and_its_panels_can_be_counted_anew() {
    let mut bench = demo("marsh-pippin");
    let area = |bench: &mut Bench| field(bench, "masts.0.sail.area").number.unwrap();
    let before = area(&mut bench);
    type_in(&mut bench, "masts.0.sail.family", "table");
    let text = bench.text();
    assert!(text.contains("\"spars\""), "{text}");
    // Millimetres and hundredths of a degree on a sail of some 30 m².
    assert!((area(&mut bench) - before).abs() < 0.02 * before.sqrt());
    let panels = field(&mut bench, "masts.0.sail.panels").number.unwrap();
    for other in [panels + 2.0, panels - 2.0, 1.0, 12.0, panels] {
        type_in(&mut bench, "masts.0.sail.panels", &format!("{other}"));
        assert_eq!(field(&mut bench, "masts.0.sail.panels").number, Some(other));
        let table = bench.reef_table();
        assert_eq!(table.rows.len() as f64, other + 1.0);
    }
    // A spar beyond the last makes those between.
    type_in(&mut bench, "masts.0.sail.panels", "3");
    type_in(&mut bench, "masts.0.sail.spars.5.up_m", "4");
    assert_eq!(field(&mut bench, "masts.0.sail.panels").number, Some(5.0));
}

#[test]
fn the_headline_tells_area_centre_and_balance_and_the_share_once_reefed() {
    let mut bench = demo("marsh-pippin");
    let full = bench.headline();
    assert_eq!(
        full.iter().map(|f| f.key).collect::<Vec<_>>(),
        ["area", "ce_aft", "chord_balance"]
    );
    assert_eq!(full[0].unit, "m²");
    let area: f64 = full[0].value.parse().unwrap();
    lower(&mut bench, &[2.0]);
    let reefed = bench.headline();
    assert!(reefed[0].unit.starts_with("m² · ") && reefed[0].unit.ends_with('%'));
    assert!(reefed[0].value.parse::<f64>().unwrap() < area);
    let mut bench = demo("grey-heron");
    bench.set_view(view(|v| v.mast = 1.0));
    let two = bench.headline();
    let keys: Vec<&str> = two.iter().map(|f| f.key).collect();
    assert_eq!(keys, ["total_area", "ce_aft_waterline", "chord_balance"]);
    assert!(two[2].label.contains("main"), "{}", two[2].label);
}

#[test]
fn the_reef_table_has_a_row_per_state_and_says_the_same_as_the_headline() {
    for key in ["saltwort", "marsh-pippin"] {
        let mut bench = demo(key);
        let table = bench.reef_table();
        let panels = field(&mut bench, "masts.0.sail.panels").number.unwrap();
        assert_eq!(table.rows.len() as f64, panels + 1.0);
        for (i, row) in table.rows.iter().enumerate() {
            assert_eq!(row.hoist, [i as f64]);
            assert_eq!(row.name, i.to_string());
            assert_eq!(row.cells.len(), table.columns.len());
            assert_eq!(row.now, i == 0);
            // Boom, battens, yard.
            assert_eq!(row.detail.rows.len() as f64, panels + 1.0);
            assert!(
                row.detail
                    .rows
                    .iter()
                    .all(|r| r.len() == row.detail.columns.len())
            );
            lower(&mut bench, &row.hoist);
            let now = bench.headline();
            assert_eq!(now[0].value, row.cells[0]);
            assert_eq!(now[1].value, row.cells[2]);
            assert_eq!(now[2].value, row.cells[6]);
            let marked = bench.reef_table().rows.iter().position(|row| row.now);
            assert_eq!(marked, Some(i));
        }
        // While a panel comes down the state it is on its way to holds.
        lower(&mut bench, &[1.5]);
        assert_eq!(
            bench.reef_table().rows.iter().position(|row| row.now),
            Some(2)
        );
    }
}

#[test]
fn the_table_of_several_masts_follows_the_sequence() {
    let mut bench = demo("grey-heron");
    let table = bench.reef_table();
    assert_eq!(table.rows.len(), 6 + 7 + 1);
    assert_eq!(table.rows[0].name, "0 + 0");
    for (i, row) in table.rows.iter().enumerate() {
        assert_eq!(row.hoist.iter().sum::<f64>(), i as f64);
        assert_eq!(row.cells.len(), table.columns.len());
        assert_eq!(row.detail.rows.len(), 7 + 8);
        lower(&mut bench, &row.hoist);
        let scales = bench.hoist_scale();
        assert_eq!(
            scales.iter().map(|s| s.mast).collect::<Vec<_>>(),
            [-1, 0, 1]
        );
        assert_eq!(scales[0].panels as usize, table.rows.len() - 1);
        assert!(
            (scales[0].value - i as f64).abs() < 1e-9,
            "{i}: {}",
            scales[0].value
        );
        let marked = bench.reef_table().rows.iter().position(|row| row.now);
        assert_eq!(marked, Some(i));
    }
    // Between two steps of the sequence.
    let (a, b) = (&table.rows[3].hoist, &table.rows[4].hoist);
    let middle: Vec<f64> = a.iter().zip(b).map(|(a, b)| 0.25 * a + 0.75 * b).collect();
    lower(&mut bench, &middle);
    assert!((bench.hoist_scale()[0].value - 3.75).abs() < 1e-9);
}

/// RFC 4180, read by hand: as many cells in every line, quotes doubled.
fn cells(line: &str) -> Vec<String> {
    let mut cells = vec![String::new()];
    let mut quoted = false;
    let mut letters = line.chars().peekable();
    while let Some(letter) = letters.next() {
        match letter {
            '"' if quoted && letters.peek() == Some(&'"') => {
                letters.next();
                cells.last_mut().unwrap().push('"');
            }
            '"' => quoted = !quoted,
            ',' if !quoted => cells.push(String::new()),
            _ => cells.last_mut().unwrap().push(letter),
        }
    }
    cells
}

#[test]
fn csv_has_units_in_its_headings_and_a_line_per_state() {
    for mut bench in all() {
        for units in ["m", "ft"] {
            bench.set_view(view(|v| v.units = units.to_owned()));
            let csv = bench.csv();
            assert!(csv.ends_with("\r\n"));
            let lines: Vec<Vec<String>> = csv.trim_end().split("\r\n").map(cells).collect();
            let table = bench.reef_table();
            assert_eq!(lines.len(), table.rows.len() + 1);
            assert!(lines.iter().all(|line| line.len() == lines[0].len()));
            assert!(lines[0][1].ends_with(if units == "m" { "[m²]" } else { "[ft²]" }));
            assert!(lines[0][3].ends_with(if units == "m" { "[m]" } else { "[ft in]" }));
            for (line, row) in lines.iter().skip(1).zip(&table.rows) {
                assert_eq!(line[0], row.name);
                assert_eq!(line[1..5], row.cells[..4]);
            }
        }
    }
}

#[test]
fn a_name_that_looks_like_a_formula_is_plain_words_in_csv() {
    for name in ["=HYPERLINK(\"x\")", "+1", "-1", "@x", "\tx"] {
        let mut bench = demo("grey-heron");
        let edits = [Edit::value("masts.1.name", name.into())];
        bench.edit(&edits).unwrap();
        for line in bench.csv().lines() {
            for cell in cells(line) {
                assert!(!cell.starts_with(['=', '@', '\t', '+']), "{cell}");
            }
        }
    }
}

#[test]
fn the_reading_holds_panels_area_centre_and_yard() {
    let mut bench = demo("marsh-pippin");
    lower(&mut bench, &[2.0]);
    let row = &bench.reef_table().rows[2];
    let reading = bench.reading();
    assert!(reading.starts_with("2 of 7 panels lowered"), "{reading}");
    // Area, centre aft and up, yard height: as the table has them.
    for cell in [0, 2, 3, 4] {
        assert!(
            reading.contains(&row.cells[cell]),
            "{reading}: {}",
            row.cells[cell]
        );
    }
    for mut bench in all() {
        let masts = bench.reef_table().rows[0].hoist.len();
        for lowered in [0.0, 0.01, 0.5, 1.0, 3.3, 7.0, 99.0, f64::NAN] {
            lower(&mut bench, &vec![lowered; masts]);
            let reading = bench.reading();
            assert!(!reading.is_empty() && has_no_holes(&reading), "{reading}");
            assert!(
                !reading.contains("NaN") && !reading.contains("reading."),
                "{reading}"
            );
        }
    }
}

#[test]
fn impossible_designs_answer_every_question_all_the_same() {
    let mut texts = vec![
        r#"{"format":"battenwright-design","version":1}"#.to_owned(),
        r#"{"format":"battenwright-design","version":1,"masts":[]}"#.to_owned(),
        r#"{"format":"battenwright-design","version":1,"masts":[{},{},{}]}"#.to_owned(),
        r#"{"format":"battenwright-design","version":1,"masts":[{"sail":{"family":"table"}}]}"#
            .to_owned(),
    ];
    let demo = design::demos()[1].text();
    for (from, to) in [
        ("\"chord_m\":", "\"chord_m\":1e999,\"x\":"),
        ("\"chord_m\":", "\"chord_m\":-4,\"x\":"),
        ("\"lwl_m\":", "\"lwl_m\":1e-320,\"x\":"),
        ("\"yard_angle_deg\":", "\"yard_angle_deg\":90,\"x\":"),
        ("\"panels\":", "\"panels\":12,\"x\":"),
        ("\"position_m\":", "\"position_m\":-20,\"x\":"),
        ("\"balance_pct\":", "\"balance_pct\":100,\"x\":"),
    ] {
        assert!(demo.contains(from), "{from}");
        texts.push(demo.replace(from, to));
    }
    for text in texts {
        let mut bench = open(&text);
        for units in ["m", "ft"] {
            for hoist in [
                vec![],
                vec![f64::NAN; 3],
                vec![1e300, -1e300, 0.5],
                vec![2.4; 9],
            ] {
                for (width, height) in [(390.0, 844.0), (0.0, 0.0), (f64::NAN, -5.0), (1e12, 1.0)] {
                    bench.set_view(view(|v| {
                        v.units = units.to_owned();
                        v.hoist = hoist.clone();
                        v.mast = f64::NAN;
                        v.sheet_deg = f64::INFINITY;
                        v.zoom = f64::NAN;
                        v.pan_x = -1e308;
                        v.active = "peak".to_owned();
                        v.line = "sheet-0".to_owned();
                    }));
                    bench.fields(&every_path());
                    assert_eq!(bench.headline().len(), 3);
                    assert!(bench.attention().iter().all(|row| has_no_holes(&row.text)));
                    bench.reef_table();
                    bench.csv();
                    bench.svg("plan", 0);
                    bench.reading();
                    bench.hoist_scale();
                    bench.scene(width, height);
                    bench.lines();
                    bench.line_in_hand();
                    bench.plot("above", width, height);
                }
            }
        }
        // The plot of the deck and the sweep take many frames: once.
        bench.plot("deck", 390.0, 250.0);
        bench.sweep();
        bench.drift();
        for part in ["lines", "spars", "checks", "sources"] {
            bench.dossier_csv(part);
        }
        for (from, to) in [(0, 1), (1, 0), (usize::MAX, 2)] {
            bench.drill(from, to);
            bench.line_loads(from);
        }
        for what in ["spans", "holds"] {
            bench.write_out(what);
        }
        for (width, to) in [(390.0, 0.0), (390.0, -1e9), (0.0, 7.0), (390.0, f64::NAN)] {
            for handle in bench.handles(width, 844.0) {
                bench.drag(&handle.id, to, to, width, 844.0);
                bench.nudge(&handle.id, to, true, false);
            }
        }
        assert_eq!(open(&bench.text()).text(), bench.text());
    }
}

#[test]
fn a_centre_ahead_of_the_mast_is_read_so() {
    let mut bench = demo("marsh-pippin");
    let read = |bench: &Bench| bench.reading().replace('\u{a0}', " ");
    assert!(
        read(&bench).contains("CE 1.50 m aft of the mast and "),
        "{}",
        read(&bench)
    );
    edit(&mut bench, r#"[["masts.0.sail.balance_pct",70]]"#);
    assert!(
        read(&bench).contains("CE 0.94 m ahead of the mast and "),
        "{}",
        read(&bench)
    );
}

/// Two words that follow each other more than once; "of the" may.
fn said_twice(title: &str) -> Option<String> {
    let words: Vec<&str> = title.split([' ', ',']).filter(|w| !w.is_empty()).collect();
    let mut pairs = words.windows(2).map(|pair| pair.join(" "));
    let mut seen = BTreeSet::new();
    pairs.find(|pair| pair.len() > 6 && !seen.insert(pair.clone()))
}

/// Edits that make each check of a mast fail in one of the designs.
const MISFITS: &[&str] = &[
    "[]",
    r#"[["masts.0.sail.family","full-fan"],["masts.0.sail.yard_angle_deg",60]]"#,
    r#"[["masts.0.sail.balance_pct",1],["masts.0.sail.yard_length_pct",80]]"#,
    r#"[["masts.0.sail.boom_height_m",0.1],["boat.air_draught_m",4]]"#,
    r#"[["masts.0.sail.travel_pct",1],["masts.0.lap_m",5],["masts.0.sail.sling_pct",60]]"#,
    r#"[["masts.0.sail.folded_cloth_m",0.4],["masts.0.sail.boom_rise_deg",40]]"#,
];

#[test]
fn a_note_says_nothing_twice() {
    let mut notes = 0;
    for mut bench in all() {
        for misfit in MISFITS {
            let steps = edit(&mut bench, misfit);
            for row in bench.attention() {
                notes += 1;
                assert_eq!(said_twice(&row.title), None, "{}", row.title);
            }
            bench.apply(&steps, true).unwrap();
        }
    }
    assert!(notes > 60, "{notes}");
    let mut bench = demo("saltwort");
    type_in(&mut bench, "masts.0.sail.family", "full-fan");
    let notes = bench.attention();
    let title = "Yard leaves the mast, 3 panels lowered";
    assert!(notes.iter().any(|row| row.title == title), "{notes:?}");
}

#[test]
fn a_spar_that_folds_a_panel_is_called_by_its_name() {
    let mut bench = demo("marsh-pippin");
    type_in(&mut bench, "masts.0.sail.family", "table");
    for (spar, name) in [(3, "Batten 3"), (7, "Yard")] {
        let path = format!("masts.0.sail.spars.{spar}.up_m");
        let steps = type_in(&mut bench, &path, "1.2");
        let notes = bench.attention();
        let note = notes.iter().find(|row| row.path == path).unwrap();
        let title = format!("Luff end, up, {name}: ");
        assert!(note.title.starts_with(&title), "{}", note.title);
        let panel = format!("1.20 m folds panel {spar} over itself; ");
        let text = note.text.replace('\u{a0}', " ");
        assert!(text.starts_with(&panel), "{text}");
        bench.apply(&steps, true).unwrap();
    }
}

#[test]
fn attention_tells_the_worst_first_and_leads_to_the_field() {
    let mut bench = demo("marsh-pippin");
    edit(
        &mut bench,
        r#"[["masts.0.sail.leech_kink_deg",0.1],["masts.0.sail.chord_m",41,"exact"],["boat.beam_m",12]]"#,
    );
    let rows = bench.attention();
    let first_look = rows.iter().position(|row| row.severity == "look").unwrap();
    assert!(first_look > 0);
    assert!(rows[first_look..].iter().all(|row| row.severity == "look"));
    // The title alone says what is wrong: folded up there is no more to be seen.
    let title = |rows: &[Attention], path: &str| {
        let row = rows.iter().find(|row| row.path == path).unwrap();
        (row.severity, row.title.clone())
    };
    for (path, severity, words) in [
        ("masts.0.sail.chord_m", "danger", "Chord: not used"),
        ("boat.beam_m", "look", "Beam: unusual"),
    ] {
        assert_eq!(title(&rows, path), (severity, words.to_owned()));
    }
    let mut low = demo("grey-heron");
    edit(&mut low, r#"[["masts.1.lap_m",4],["boat.beam_m",null]]"#);
    for (path, words) in [
        ("boat.beam_m", "Beam: missing"),
        ("masts.1.lap_m", "Mast above partners, main: does not fit"),
    ] {
        assert_eq!(title(&low.attention(), path).1, words);
    }
    let kink = rows.iter().find(|row| row.part == "leech").unwrap();
    assert!(kink.path.is_empty() && !kink.text.is_empty());
    for row in &rows {
        assert!(
            has_no_holes(&row.title) && has_no_holes(&row.text),
            "{row:?}"
        );
    }
}

#[test]
fn a_dragged_handle_lies_under_the_hand_and_the_drawing_stays() {
    let (width, height) = (390.0, 600.0);
    for (key, hoist) in [
        ("saltwort", 0.0),
        ("marsh-pippin", 0.0),
        ("marsh-pippin", 2.0),
    ] {
        for id in ["clew", "head", "peak", "balance"] {
            let mut bench = demo(key);
            bench.set_view(view(|v| v.hoist = vec![hoist]));
            bench.scene(width, height);
            bench.set_view(view(|v| {
                v.hoist = vec![hoist];
                v.active = id.to_owned();
            }));
            let at = |bench: &mut Bench| {
                let rows = bench.handles(width, height);
                rows.into_iter().find(|row| row.id == id).unwrap()
            };
            let start = at(&mut bench);
            let first = bench.text();
            // A few pixels along its way.
            let (dx, dy) = match id {
                "clew" => (9.0, 0.0),
                "balance" => (-7.0, 0.0),
                "head" => (0.0, -8.0),
                _ => (6.0, 4.0),
            };
            let answer = bench.drag(id, start.x + dx, start.y + dy, width, height);
            let steps = edit(&mut bench, &answer);
            assert_eq!(steps.len(), 1, "{key} {id}: {answer}");
            let moved = at(&mut bench);
            let way = (moved.x - start.x) * dx + (moved.y - start.y) * dy;
            assert!(way > 0.0, "{key} {id} at {hoist}: {start:?} {moved:?}");
            assert!(moved.now >= moved.min && moved.now <= moved.max);
            bench.apply(&steps, true).unwrap();
            assert_eq!(bench.text(), first);
            assert_eq!(at(&mut bench), start, "{key} {id}");
        }
    }
}

#[test]
fn keys_move_handles_by_plain_numbers_and_the_yard_up_and_down() {
    let mut bench = demo("marsh-pippin");
    edit(&mut bench, r#"[["masts.0.sail.chord_m",4.437]]"#);
    assert_eq!(
        bench.nudge("clew", 1.0, true, false),
        r#"[["masts.0.sail.chord_m",4.44]]"#
    );
    assert_eq!(
        bench.nudge("clew", -1.0, true, false),
        r#"[["masts.0.sail.chord_m",4.43]]"#
    );
    assert_eq!(
        bench.nudge("clew", 10.0, true, false),
        r#"[["masts.0.sail.chord_m",4.53]]"#
    );
    assert_eq!(
        bench.nudge("clew", 1e9, true, false),
        r#"[["masts.0.sail.chord_m",40]]"#
    );
    assert_eq!(
        bench.nudge("hoist", -1.0, true, false),
        r#"{"hoist":[1.0000]}"#
    );
    lower(&mut bench, &[2.5]);
    assert_eq!(
        bench.nudge("hoist", 1.0, true, false),
        r#"{"hoist":[2.0000]}"#
    );
    assert_eq!(
        bench.nudge("hoist", -1.0, true, false),
        r#"{"hoist":[3.0000]}"#
    );
    assert_eq!(
        bench.nudge("hoist", 99.0, true, false),
        r#"{"hoist":[0.0000]}"#
    );
    assert_eq!(bench.nudge("anchor", 1.0, true, false), "[]");
    assert_eq!(bench.nudge("clew", f64::NAN, true, false), "[]");
}

#[test]
fn a_handle_tells_its_number_without_the_dust_of_other_units() {
    // 14 % is 0.14 of the chord, and 100 times 0.14 is not 14 in binary.
    let mut bench = demo("marsh-pippin");
    edit(&mut bench, r#"[["masts.0.sail.balance_pct",14]]"#);
    for tenths in 0..70 {
        let degrees = 50.0 + f64::from(tenths) / 10.0;
        let typed = format!(r#"[["masts.0.sail.yard_angle_deg",{degrees}]]"#);
        edit(&mut bench, &typed);
        let rows = bench.handles(390.0, 600.0);
        let now = |id: &str| rows.iter().find(|row| row.id == id).unwrap().now;
        assert_eq!((now("balance"), now("peak")), (14.0, degrees));
    }
}

#[test]
fn what_is_held_against_an_area_yields_to_the_hand_and_to_keys_alike() {
    let (width, height) = (390.0, 600.0);
    for (id, hold, leaf) in [
        ("clew", "hold_chord", "chord_m"),
        ("head", "hold_luff", "panel_width_m"),
    ] {
        let mut bench = demo("marsh-pippin");
        edit(&mut bench, &format!(r#"[["masts.0.sail.{hold}",true]]"#));
        bench.scene(width, height);
        let rows = bench.handles(width, height);
        let start = rows.into_iter().find(|row| row.id == id).unwrap();
        let (x, y) = (start.x + 9.0, start.y - 9.0);
        let path = format!(r#"[["masts.0.sail.{leaf}","#);
        assert!(bench.drag(id, x, y, width, height).starts_with(&path));
        assert!(bench.nudge(id, 1.0, true, false).starts_with(&path));
    }
}

#[test]
fn many_edits_are_undone_and_redone_to_the_byte() {
    for mut bench in all() {
        let first = bench.text();
        let mut undo: Vec<String> = Vec::new();
        for i in 0..105 {
            let typed = format!("{}", 0.3 + 0.001 * f64::from(i % 700));
            let path = [
                "boat.freeboard_mid_m",
                "masts.0.sail.boom_height_m",
                "masts.0.sail.head_widths_pct.1",
                "boat.coachroof.height_m",
                "note",
            ][i as usize % 5];
            let path = path.to_owned();
            let value = if path.ends_with("pct.1") {
                "55"
            } else {
                typed.as_str()
            };
            let value = if i % 7 == 0 { "" } else { value };
            let answer = bench.type_in(&path, value);
            let steps = edit(&mut bench, &answer.edits.unwrap());
            undo.push(Step::write_list(&steps));
        }
        let last = bench.text();
        assert_ne!(last, first);
        for steps in undo.iter().rev() {
            bench.apply(&Step::read_list(steps).unwrap(), true).unwrap();
        }
        assert_eq!(bench.text(), first);
        for steps in &undo {
            bench
                .apply(&Step::read_list(steps).unwrap(), false)
                .unwrap();
        }
        assert_eq!(bench.text(), last);
    }
}

#[test]
fn another_language_is_spoken_once_given() {
    let mut bench = demo("marsh-pippin");
    let english = Catalogue::english();
    let longer: Vec<String> = english
        .entries()
        .map(|(key, words)| format!("{}:{}", quoted(key), quoted(&format!("{words} ~~~"))))
        .collect();
    let words = Catalogue::read(&format!("{{{}}}", longer.join(","))).unwrap();
    bench.set_words(words);
    assert!(
        field(&mut bench, "masts.0.sail.chord_m")
            .label
            .ends_with("~~~")
    );
    assert!(bench.reading().ends_with("~~~"));
    assert!(
        bench
            .reef_table()
            .columns
            .iter()
            .all(|column| column.label.ends_with("~~~"))
    );
}

#[test]
fn numbers_follow_the_language_and_the_document_does_not() {
    let json = include_str!("../../../www/texts/de.json");
    let german = || Catalogue::read(json).unwrap();
    for demo in design::demos() {
        let mut bench = open(&demo.text());
        let text = bench.text();
        let english = bench.csv();
        bench.set_words(german());
        assert_eq!(bench.text(), text);
        // The same table: only signs have changed, and the heads.
        let csv = bench.csv();
        let rows = |csv: &str| csv.lines().skip(1).map(str::to_owned).collect::<Vec<_>>();
        let plain: Vec<String> = rows(&english)
            .iter()
            .map(|line| cells(line).join(";").replace('.', ","))
            .collect();
        assert_eq!(rows(&csv), plain);
        for row in &bench.reef_table().rows {
            assert!(
                row.cells.iter().all(|cell| !cell.contains('.')),
                "{:?}",
                row.cells
            );
        }
        // Words of the drawing have commas, its lines stay what they were.
        let svg = bench.svg("plan", 0);
        let words: Vec<&str> = svg
            .split("</text>")
            .filter_map(|part| part.rsplit('>').next())
            .collect();
        assert!(words.iter().any(|words| words.contains(',')));
        let pointed = |words: &&&str| {
            words
                .split('.')
                .zip(words.split('.').skip(1))
                .any(|(one, two)| {
                    one.ends_with(|c: char| c.is_ascii_digit())
                        && two.starts_with(|c: char| c.is_ascii_digit())
                })
        };
        assert_eq!(words.iter().find(pointed), None);
        assert!(svg.contains("d=\"M"));
        // What a field tells is understood by it again.
        for path in every_path() {
            let row = field(&mut bench, &path);
            if row.kind == "number" && !row.text.is_empty() {
                let answer = bench.type_in(&path, &row.text);
                assert_eq!(answer.problem, None, "{path}: {}", row.text);
            }
        }
        // A workbench that opens in German, and one in feet.
        let mut bench = Bench::open(&text, german())
            .map_err(|(problem, _)| problem)
            .unwrap();
        assert_eq!(bench.csv(), csv);
        bench.set_view(view(|v| v.units = "ft".to_owned()));
        assert!(bench.csv().contains("' "));
        assert_eq!(bench.text(), text);
    }
}

fn quoted(words: &str) -> String {
    serde_json::Value::String(words.to_owned()).to_string()
}

#[test]
fn a_panel_on_its_way_down_is_told_from_those_that_are_down() {
    let mut bench = demo("marsh-pippin");
    bench.set_view(view(|v| v.hoist = vec![3.5]));
    let state = "3 of 7 panels lowered, panel 4 slack on its way down";
    // Its cloth carries nothing: what stands is what stands with four lowered.
    let area = &bench.reef_table().rows[4].cells[0];
    for said in [bench.reading(), bench.svg("plan", 0)] {
        assert!(said.contains(state), "{said}");
        assert!(said.contains(area.as_str()), "{said}");
    }
    bench.set_view(view(|v| v.hoist = vec![4.0]));
    assert!(bench.reading().starts_with("4 of 7 panels lowered: "));
    assert!(!bench.svg("plan", 0).contains("on its way"));
}

#[test]
fn where_the_design_is_only_looked_at_no_handle_is_drawn() {
    let mut bench = demo("marsh-pippin");
    let mut rings = |hands: bool| {
        bench.set_view(view(|v| v.hands = hands));
        let scene = bench.scene(390.0, 430.0);
        let figures = scene.items.iter().filter(|item| match item {
            Item::Figure(figure) => figure.stroke.is_some_and(|s| s.role == Role::Handle),
            Item::Words(_) => false,
        });
        figures.count()
    };
    assert_eq!((rings(true), rings(false)), (5, 0));
}

#[test]
fn the_svg_is_the_whole_drawing_dark_on_light_whatever_the_view() {
    let mut bench = demo("marsh-pippin");
    let plain = bench.svg("plan", 0);
    bench.set_view(view(|v| {
        v.dark = true;
        v.zoom = 7.0;
        v.pan_x = 300.0;
        v.active = "clew".to_owned();
    }));
    assert_eq!(bench.svg("plan", 0), plain);
    assert!(plain.starts_with("<svg") && plain.contains("Marsh Pippin"));
}

#[test]
fn the_place_of_the_drawing_tells_ship_metres_from_pixels() {
    let mut bench = demo("marsh-pippin");
    let [scale, x, y, ..] = bench.placed(390.0, 400.0);
    // The clew's handle lies where its place on the ship is drawn: heights go up, pixels down.
    let clew = |bench: &mut Bench| {
        let rows = bench.handles(390.0, 400.0);
        let row = rows.into_iter().find(|row| row.id == "clew").unwrap();
        (row.x, row.y)
    };
    let (at_x, at_y) = clew(&mut bench);
    let (aft, up) = ((at_x - x) / scale, (y - at_y) / scale);
    assert!(aft > 1.0 && aft < 7.0 && up > 0.5 && up < 3.0, "{aft} {up}");
    bench.set_view(view(|v| {
        v.zoom = 3.0;
        v.pan_x = 40.0;
        v.pan_y = -25.0;
    }));
    let [near, x, y, pan_x, pan_y] = bench.placed(390.0, 400.0);
    assert!((near / scale - 3.0).abs() < 1e-9);
    assert_eq!((pan_x, pan_y), (40.0, -25.0));
    let (at_x, at_y) = clew(&mut bench);
    assert!((x + near * aft - at_x).abs() < 1e-6, "{at_x}");
    assert!((y - near * up - at_y).abs() < 1e-6, "{at_y}");
}

fn keys(row: &impl serde::Serialize) -> Vec<String> {
    let serde_json::Value::Object(row) = serde_json::to_value(row).unwrap() else {
        return Vec::new();
    };
    let mut keys: Vec<String> = row.keys().cloned().collect();
    keys.sort();
    keys
}

#[test]
fn rows_have_the_fields_that_their_types_say() {
    let mut bench = demo("marsh-pippin");
    edit(&mut bench, r#"[["masts.0.sail.leech_kink_deg",0.1]]"#);
    assert_eq!(
        keys(&field(&mut bench, "masts.0.sail.chord_m")),
        fields_of("FieldRow")
    );
    assert_eq!(keys(&bench.headline()[0]), fields_of("Figure"));
    // A mast and a state stand only where a check has them.
    edit(&mut bench, r#"[["masts.0.sail.travel_pct",2]]"#);
    let attention = bench.attention();
    let lowered = attention.iter().find(|row| !row.hoist.is_empty()).unwrap();
    assert_eq!(keys(lowered), fields_of("Attention"));
    let balance = bench.balance();
    assert_eq!(keys(&balance), fields_of("Balance"));
    assert_eq!(keys(&balance.loadings), fields_of("Detail"));
    let table = bench.reef_table();
    assert_eq!(keys(&table), fields_of("ReefTable"));
    assert_eq!(keys(&table.rows[0]), fields_of("ReefRow"));
    assert_eq!(keys(&table.columns[0]), fields_of("Column"));
    assert_eq!(keys(&table.rows[0].detail), ["columns", "rows"]);
    assert_eq!(keys(&bench.lines()), fields_of("Lines"));
    assert_eq!(keys(&bench.line_papers()[0]), fields_of("Paper"));
    let lesson = &bench.lessons()[0];
    assert_eq!(keys(lesson), fields_of("LessonRow"));
    let handled = lesson.steps.iter().find(|step| step.handled.is_some());
    assert_eq!(keys(handled.unwrap()), fields_of("LessonStepRow"));
    bench.set_view(view(|v| v.line = "halyard".to_owned()));
    let hand = bench.line_in_hand().unwrap();
    assert_eq!(keys(&hand), fields_of("LineInHand"));
    bench.set_view(view(|_| {}));
    assert_eq!(keys(&bench.hoist_scale()[0]), fields_of("HoistScale"));
    assert_eq!(keys(&bench.handles(390.0, 844.0)[0]), fields_of("Handle"));
    let choice = field(&mut bench, "masts.0.sail.family");
    assert_eq!(keys(&choice.options[0]), ["label", "value"]);
    assert_eq!(keys(&bench.type_in("name", "x")), ["edits"]);
    assert_eq!(
        keys(&bench.type_in("masts.0.sail.chord_m", "x")),
        ["problem"]
    );
}

/// What crosses to the page in a dragging frame is what changes: the long words come back at rest.
#[test]
fn rows_under_the_hand_leave_out_what_nobody_asks_for() {
    let mut bench = demo("marsh-pippin");
    let family = "masts.0.sail.family";
    let rest = (field(&mut bench, family), bench.headline());
    assert!(!rest.0.help.is_empty() && !rest.0.options.is_empty());
    assert!(rest.1.iter().all(|figure| !figure.help.is_empty()));

    bench.set_view(view(|v| v.active = "clew".to_owned()));
    assert_eq!(
        keys(&bench.headline()[0]),
        ["key", "label", "unit", "value"]
    );
    let chord = keys(&field(&mut bench, "masts.0.sail.chord_m"));
    for gone in ["help", "basis", "least", "most"] {
        assert!(!chord.iter().any(|key| key == gone), "{gone}");
    }
    for handle in bench.handles(390.0, 844.0) {
        assert_eq!(handle.valuetext.is_empty(), handle.id != "clew");
    }

    bench.set_view(view(|_| {}));
    assert_eq!((field(&mut bench, family), bench.headline()), rest);
}

/// Whole knots, never more than it is: at the number told the reef is still right.
#[test]
fn a_wind_that_is_told_is_stood_up_to() {
    let mut off = 0.0f64;
    for demo in design::demos() {
        let steps = design::account(demo.open().unwrap().design()).boat.steps;
        let rows = open(&demo.text()).balance().reefs.rows;
        assert_eq!(rows.len(), steps.len());
        for (row, step) in rows.iter().zip(&steps) {
            for (cell, limit) in [(&row.cells[1], step.on), (&row.cells[3], step.off)] {
                let Some(limit) = limit else { continue };
                let knots = limit.forecast.value / quantities::units::KNOT;
                let past = knots - cell.parse::<f64>().unwrap();
                assert!((0.0..1.0).contains(&past), "{}: {cell}, {knots}", demo.key);
                off = off.max(past);
            }
        }
    }
    assert!(off > 0.5, "{off}");
}
