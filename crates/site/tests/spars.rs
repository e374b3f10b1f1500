//! Section Spars as the page is told it, without a browser.
#![cfg(not(target_arch = "wasm32"))]
#![allow(clippy::unwrap_used, clippy::indexing_slicing)]

use battenwright_site::bench::Bench;
use battenwright_site::rows::{Detail, ViewGiven};
use design::Edit;
use quantities::Catalogue;

const PARTS: [&str; 15] = [
    "proof.mast",
    "proof.allowed",
    "proof.weak_places",
    "proof.cases",
    "proof.schedule",
    "proof.orders",
    "proof.staves",
    "proof.spars",
    "proof.forces",
    "proof.hull",
    "proof.weights",
    "proof.rig",
    "proof.winds",
    "proof.raising",
    "proof.cutting",
];

fn open(text: &str) -> Bench {
    Bench::open(text, Catalogue::english())
        .map_err(|(problem, _)| problem)
        .unwrap()
}

fn demo(key: &str) -> Bench {
    let demo = design::demos().iter().find(|demo| demo.key == key).unwrap();
    open(&demo.text())
}

fn edit(bench: &mut Bench, json: &str) {
    bench.edit(&Edit::read_list(json).unwrap()).unwrap();
}

fn look(bench: &mut Bench, units: &str) {
    bench.set_view(ViewGiven {
        units: units.to_owned(),
        ..ViewGiven::default()
    });
}

/// The first number in words.
fn number(words: &str) -> f64 {
    let digits = |c: char| c.is_ascii_digit() || c == '.';
    let from = words.find(digits).unwrap();
    let rest = &words[from..];
    let to = rest.find(|c| !digits(c)).unwrap_or(rest.len());
    rest[..to].trim_end_matches('.').parse().unwrap()
}

/// No key in place of its words, no place left unfilled.
fn assert_said(words: &str) {
    let key = words.contains("proof.") || words.contains("help.") || words.contains('{');
    assert!(!key && !words.contains("NaN"), "{words}");
}

fn all_words(detail: &Detail) -> Vec<String> {
    let mut words = detail.rows.concat();
    for column in &detail.columns {
        words.extend([
            column.label.clone(),
            column.help.clone(),
            column.unit.clone(),
        ]);
    }
    words
}

#[test]
fn every_table_of_every_mast_is_said_in_full_in_either_units() {
    let mut known = 0;
    for units in ["m", "ft"] {
        for demo in design::demos() {
            let mut bench = open(&demo.text());
            look(&mut bench, units);
            for part in PARTS {
                let detail = bench.spars(part);
                for row in &detail.rows {
                    assert!(row.len() >= detail.columns.len(), "{part}: {row:?}");
                }
                known += detail.rows.len();
                all_words(&detail)
                    .iter()
                    .for_each(|words| assert_said(words));
            }
            bench
                .spar_verdict()
                .concat()
                .iter()
                .for_each(|words| assert_said(words));
            for paper in (0..3).flat_map(|sheet| bench.spar_papers(sheet)) {
                assert_said(&paper.title);
                all_words(&paper.detail)
                    .iter()
                    .for_each(|words| assert_said(words));
            }
        }
    }
    assert!(known > 100);
    let bench = demo("marsh-pippin");
    for part in ["proof.mast", "proof.hull", "proof.rig"] {
        for column in bench.spars(part).columns {
            assert!(!column.help.is_empty(), "{}", column.label);
        }
    }
    assert_eq!(demo("marsh-pippin").spars("no such").rows.len(), 0);
}

#[test]
fn a_thin_wall_is_a_danger_with_more_stress() {
    let mut bench = demo("marsh-pippin");
    let stress = |bench: &Bench| number(&bench.spar_verdict()[0][1]);
    let before = stress(&bench);
    // Not so many metres above the partners.
    assert!(bench.spar_verdict()[0][1].ends_with("at the partners"));
    edit(&mut bench, r#"[["masts.0.spars.mast_wall_m",0.0015]]"#);
    assert!(stress(&bench) > 1.6 * before);
    assert_eq!(bench.spar_verdict()[0][0], "danger");
    // The figures tell the same as the sentence.
    let figures = bench.spars("proof.mast");
    assert!((number(&figures.rows[0][0]) - stress(&bench)).abs() < 1e-9);
}

#[test]
fn what_cannot_be_is_a_danger_and_never_passed() {
    for edits in [
        r#"[["masts.0.bury_m",0.05]]"#,
        r#"[["masts.0.spars.mast_wall_m",0.2]]"#,
        r#"[["masts.0.spars.yard_wall_m",0.2]]"#,
    ] {
        let mut bench = demo("marsh-pippin");
        assert!(bench.spar_verdict().iter().all(|row| row[0] == "passed"));
        edit(&mut bench, edits);
        let verdict = bench.spar_verdict();
        let not_proved = |row: &Vec<String>| row[0] == "danger" && row[1].contains("not proved");
        assert!(verdict.iter().any(not_proved), "{edits}: {verdict:?}");
    }
}

#[test]
fn what_each_may_be_stressed_to_is_strength_over_factor_with_its_source() {
    let mut bench = demo("marsh-pippin");
    edit(
        &mut bench,
        r#"[["masts.0.spars.mast_kind","tube"],["masts.0.spars.mast_material","6082-t6"]]"#,
    );
    let of = |bench: &Bench, row: usize| {
        bench.spars("proof.allowed").rows[row][1].replace('\u{a0}', " ")
    };
    assert_eq!(
        of(&bench, 0),
        "173 MPa = 260 / 1.50; 6082-T6 by EN 1999-1-1"
    );
    edit(
        &mut bench,
        r#"[["masts.0.spars.mast_kind","solid"],["masts.0.spars.mast_material","white-ash"]]"#,
    );
    assert!(of(&bench, 0).ends_with("White ash by Wood Handbook, from memory"));
    edit(
        &mut bench,
        r#"[["spars.materials",[{"name":"Mine","kind":"alloy","strength":150}]],["masts.0.spars.mast_kind","tube"],["masts.0.spars.mast_material","own-1"]]"#,
    );
    assert!(of(&bench, 0).starts_with("100 MPa = 150 / 1.50"));
    assert!(of(&bench, 0).ends_with("what was typed"));
    let paper = bench.spar_papers(0);
    let words = paper.iter().flat_map(|paper| paper.detail.rows.concat());
    assert!(words.into_iter().any(|cell| cell.contains("150 / 1.50")));
}

#[test]
fn a_weak_place_of_the_mast_is_a_row_on_screen_and_paper() {
    let mut bench = demo("marsh-pippin");
    assert!(bench.spars("proof.weak_places").rows.is_empty());
    edit(
        &mut bench,
        r#"[["masts.0.spars.weak",[{"spar":"mast","what":"weld","height_m":1.5,"left_pct":50}]]]"#,
    );
    let rows = bench.spars("proof.weak_places").rows;
    assert_eq!(rows.len(), 1);
    assert_eq!(rows[0][..3], ["Weld", "1.50", "50"]);
    assert!(rows[0][4].starts_with("Worst: "));
    let schedule = bench.spars("proof.schedule").rows;
    let beside = schedule.iter().find(|row| row[0] == "1.50").unwrap();
    assert!(number(&rows[0][3]) > 0.0 && number(&beside[7]) > 0.0);
    let title = |paper: &battenwright_site::rows::Paper| paper.title.contains("Weak places");
    assert!(bench.spar_papers(0).iter().any(title));
}

#[test]
fn the_plot_of_a_spar_is_of_the_one_named() {
    let mut bench = demo("marsh-pippin");
    let mut drawn = |name: &str| bench.plot(name, 300.0, 200.0);
    assert!(drawn("spar1") != drawn("spar0"));
    // There is none of that number.
    assert!(drawn("spar99").items.len() < 4);
    let weakest = drawn("spar");
    assert!((0..9).any(|i| drawn(&format!("spar{i}")) == weakest));
}

#[test]
fn a_material_of_ones_own_is_offered_by_its_name_once_it_is_listed() {
    let mut bench = demo("marsh-pippin");
    let offered = |bench: &mut Bench| {
        let field = bench
            .fields(&["masts.0.spars.mast_material".to_owned()])
            .remove(0);
        field
            .options
            .into_iter()
            .filter(|one| one.value.starts_with("own-"))
            .map(|one| one.label)
            .collect::<Vec<_>>()
    };
    assert!(offered(&mut bench).is_empty());
    edit(
        &mut bench,
        r#"[["spars.materials",[{"name":"Spruce from the yard"},{}]]]"#,
    );
    assert_eq!(offered(&mut bench), ["Spruce from the yard", "Own 2"]);
}

#[test]
fn the_product_of_a_case_is_that_of_its_named_factors() {
    let bench = demo("marsh-pippin");
    let cases = bench.spars("proof.cases");
    assert_eq!(cases.rows.len(), 5);
    for row in cases.rows {
        let (factors, product) = row[4].split_once(" = ").unwrap();
        let mut all = 1.0;
        for factor in factors.split(" × ") {
            all *= number(factor);
        }
        assert!((all - number(product)).abs() < 0.02 * all, "{row:?}");
        assert!((number(product) - number(&row[3])).abs() < 0.006);
    }
}

#[test]
fn the_schedule_goes_by_half_metres_or_by_feet_from_heel_to_top() {
    let mut bench = demo("marsh-pippin");
    let metric = bench.spars("proof.schedule").rows;
    look(&mut bench, "ft");
    let imperial = bench.spars("proof.schedule").rows;
    let whole = |rows: &[Vec<String>], is: &dyn Fn(&str) -> bool| {
        let inside = &rows[1..rows.len() - 1];
        assert!(inside.iter().all(|row| is(&row[0])), "{inside:?}");
    };
    whole(&metric, &|height| {
        height.ends_with(".00") || height.ends_with(".50")
    });
    whole(&imperial, &|height| {
        height.ends_with("' 0\"") || height == "0\""
    });
    assert!(imperial.len() > metric.len());
    // Partners and their greatest diameter stand among them.
    let partners = metric.iter().find(|row| row[0] == "0.00").unwrap();
    assert!(
        metric
            .iter()
            .all(|row| number(&row[1]) <= number(&partners[1]))
    );
    // Nothing above the top bends it.
    assert!(number(&metric.last().unwrap()[3]) < 0.05);
}

#[test]
fn staves_and_planks_are_those_of_a_hollow_mast_alone() {
    let mut bench = demo("marsh-pippin");
    assert!(bench.spars("proof.staves").rows.is_empty());
    edit(
        &mut bench,
        r#"[["masts.0.spars.mast_kind","hollow"],["masts.0.spars.mast_staves",6]]"#,
    );
    let staves = bench.spars("proof.staves").rows;
    assert!(!staves.is_empty());
    assert!(
        staves.iter().all(|row| row[1] == "6" && row[2] == "30.0"),
        "{staves:?}"
    );
    for order in bench.spars("proof.orders").rows {
        assert!(number(&order[5]) > 0.0, "{order:?}");
    }
}

#[test]
fn the_partners_bear_more_than_the_step_and_the_hole_takes_mast_and_wedges() {
    let mut bench = demo("marsh-pippin");
    let forces = bench.spars("proof.forces").rows;
    assert_eq!(forces.len(), 2);
    for row in &forces {
        let [leeward, aft, all] = [1, 2, 3].map(|at| number(&row[at]));
        assert!((leeward.hypot(aft) - all).abs() < 0.15, "{row:?}");
        assert!(all < 1000.0, "kN: {row:?}");
    }
    assert!(number(&forces[0][3]) > number(&forces[1][3]));
    let hole = |bench: &Bench| number(&bench.spars("proof.hull").rows[0][3]);
    let before = hole(&bench);
    edit(&mut bench, r#"[["masts.0.spars.wedge_thickness_m",0.03]]"#);
    assert!((hole(&bench) - before - 20.0).abs() < 1.1);
}

/// What the finder finds for a part: the sentence and the edits.
fn find(bench: &mut Bench, part: &str, aim: &str, most: &str) -> [String; 2] {
    let found = bench.find(part, aim, most, &|_| {});
    bench.take_found(part, &found)
}

#[test]
fn what_the_finder_finds_is_taken_as_edits_and_then_passes() {
    for part in ["mast", "boom", "battens", "yard"] {
        let mut bench = demo("marsh-pippin");
        edit(&mut bench, r#"[["masts.0.spars.special",null]]"#);
        let [said, edits] = find(&mut bench, part, "lightest", "");
        assert!(
            said.contains("safety") && !edits.is_empty(),
            "{part}: {said}"
        );
        assert!(
            number(said.split("safety").nth(1).unwrap()) >= 1.0,
            "{said}"
        );
        edit(&mut bench, &edits);
        let mast = bench.spars("proof.mast").rows;
        let spars = bench.spars("proof.spars").rows;
        let least = match part {
            "mast" => 100.0 / number(&mast[0][0]),
            "boom" => 100.0 / number(&spars.last().unwrap()[1]),
            "yard" => 100.0 / number(&spars[0][1]),
            _ => {
                let battens = &spars[1..spars.len() - 1];
                let stress = battens.iter().map(|row| number(&row[1]));
                100.0 / stress.fold(0.0, f64::max)
            }
        };
        // Whole per cents.
        assert!(least > 0.995, "{part}: {least}");
    }
}

#[test]
fn the_finder_goes_by_its_aim() {
    let mut bench = demo("marsh-pippin");
    let mass = |said: &str| number(said.split(": ").nth(1).unwrap());
    let [light, _] = find(&mut bench, "mast", "lightest", "");
    let most = mass(&light) + 10.0;
    let [stiff, _] = find(&mut bench, "mast", "stiffest", &most.to_string());
    assert!(
        mass(&stiff) >= mass(&light) && mass(&stiff) <= most + 0.1,
        "{stiff}"
    );
    // What is no weight is not taken for any weight.
    for most in ["", "abc", "-"] {
        assert!(bench.find("mast", "stiffest", most, &|_| {}).is_empty());
    }
    // Nothing has a price before one is typed.
    let [said, edits] = find(&mut bench, "mast", "cheapest", "");
    assert!(edits.is_empty() && said.starts_with("None of "), "{said}");
    // With stock, only stock is tried.
    edit(
        &mut bench,
        r#"[["spars.stock",[{"form":"tube","diameter_m":0.2,"wall_m":0.008,"length_m":10,"price":900},{"form":"tube","diameter_m":0.22,"wall_m":0.008,"length_m":10,"price":700}]]]"#,
    );
    let [said, edits] = find(&mut bench, "mast", "cheapest", "");
    assert!(
        said.starts_with("220 × 8.0: ") && said.contains("700.00"),
        "{said}"
    );
    assert!(edits.contains("0.22"), "{edits}");
    assert!(said.ends_with("2 of 2 pass."), "{said}");
}

#[test]
fn progress_grows_and_broken_answers_do_no_harm() {
    let mut bench = demo("marsh-pippin");
    let told = std::cell::RefCell::new(Vec::new());
    bench.find("mast", "lightest", "", &|done| told.borrow_mut().push(done));
    let told = told.into_inner();
    assert!(told.len() > 3 && told.windows(2).all(|two| two[0] < two[1]));
    assert!(told.iter().all(|done| *done > 0.0 && *done <= 1.0));
    for list in [
        vec![],
        vec![7.0],
        vec![1e300, 1.0, 2.0],
        vec![f64::NAN; 6],
        vec![0.0, 1.0, 0.0, 0.0, 0.0, 1.0],
    ] {
        let [said, _] = bench.take_found("no such", &list);
        assert_said(&said);
        bench.plot("finder", 300.0, 200.0);
    }
}

#[test]
fn weights_add_up_and_the_cutting_list_cuts_every_spar() {
    let bench = demo("marsh-pippin");
    let weights = bench.spars("proof.weights").rows;
    let (whole, parts) = weights.split_last().unwrap();
    let sum: f64 = parts.iter().map(|row| number(&row[1])).sum();
    assert!(
        (sum - number(&whole[1])).abs() < 0.06 * parts.len() as f64,
        "{weights:?}"
    );
    let cut: Vec<_> = bench.spars("proof.cutting").rows.concat();
    for name in ["Mast ", "Boom ", "Batten 1 ", "Yard "] {
        assert!(
            cut.iter().any(|cell| cell.contains(name)),
            "{name}: {cut:?}"
        );
    }
    let raising = bench.spars("proof.raising").rows;
    // Heaviest as it leaves the ground.
    assert!(raising.len() > 5);
    assert!(number(&raising[0][1]) > number(&raising.last().unwrap()[1]));
}

#[test]
fn without_a_sail_nothing_is_told_and_nothing_breaks() {
    let mut bench = demo("marsh-pippin");
    edit(
        &mut bench,
        r#"[["masts.0.sail.chord_m",-1],["masts.0.spars.mast_wall_m",9]]"#,
    );
    for part in PARTS {
        bench.spars(part);
    }
    bench.spar_verdict();
    assert!(bench.dossier_csv("spars").ends_with("\r\n"));
}

/// Another kind of mast begins with the wall and the material of that kind, in one step.
#[test]
fn another_kind_brings_its_own_wall_and_material() {
    let mut bench = demo("marsh-pippin");
    edit(&mut bench, r#"[["masts.0.spars.mast_material","6061-t6"]]"#);
    let before = bench.text();
    let answer = bench.type_in("masts.0.spars.mast_kind", "hollow");
    let edits = Edit::read_list(&answer.edits.unwrap()).unwrap();
    let steps = bench.edit(&edits).unwrap();
    let now = bench.text();
    assert!(!now.contains("mast_wall_m") && !now.contains("6061-t6"));
    assert!(now.contains("battens_wall_m") && now.contains("hollow"));
    bench.apply(&steps, true).unwrap();
    assert_eq!(bench.text(), before);
}

/// All that is told of the spars, and what needs attention.
fn told(bench: &Bench) -> String {
    let parts = PARTS.map(|part| bench.spars(part));
    let (checks, rows) = (bench.balance().checks, bench.attention());
    format!("{parts:?}{:?}{checks:?}{rows:?}", bench.spar_verdict())
}

/// While a handle is held the spars' proofs stay; whichever way the hand lets go, all is as if it had been typed.
#[test]
fn spars_are_proved_again_once_the_hand_lets_go() {
    for key in design::demos().iter().map(|demo| demo.key) {
        for (handle, change) in [
            ("clew", r#"[["masts.0.sail.chord_m",4.9]]"#),
            ("peak", r#"[["masts.0.sail.yard_angle_deg",52]]"#),
            ("masthead", r#"[["masts.0.lap_m",11.3]]"#),
        ] {
            let mut bench = demo(key);
            let before = told(&bench);
            let proved = PARTS.map(|part| bench.spars(part));
            bench.set_view(ViewGiven {
                active: handle.to_owned(),
                ..ViewGiven::default()
            });
            let edits = Edit::read_list(change).unwrap();
            let steps = bench.edit(&edits).unwrap();
            let mast = PARTS.iter().position(|part| *part == "proof.mast");
            assert_eq!(bench.spars("proof.mast"), proved[mast.unwrap()], "{key}");

            let mut typed = demo(key);
            edit(&mut typed, change);
            assert_ne!(told(&typed), before, "{key} {handle}");
            look(&mut bench, "m");
            assert_eq!(told(&bench), told(&typed), "{key} {handle}");

            // Taken back in the hand, as a second finger or Escape does, and then let go.
            bench.set_view(ViewGiven {
                active: handle.to_owned(),
                ..ViewGiven::default()
            });
            bench.apply(&steps, true).unwrap();
            look(&mut bench, "m");
            assert_eq!(told(&bench), before, "{key} {handle}");
        }
    }
}

/// A sail that cannot be and then can again in one gesture is proved at once: nothing is kept of what was not there.
#[test]
fn a_sail_lost_and_found_in_the_hand_is_proved() {
    let mut bench = demo("marsh-pippin");
    let before = told(&bench);
    bench.set_view(ViewGiven {
        active: "clew".to_owned(),
        ..ViewGiven::default()
    });
    let lost = Edit::read_list(r#"[["masts.0.sail.family","table"]]"#).unwrap();
    let steps = bench.edit(&lost).unwrap();
    assert!(bench.spars("proof.mast").rows.is_empty());
    bench.apply(&steps, true).unwrap();
    assert_eq!(told(&bench), before);
}
