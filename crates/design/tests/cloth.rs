//! The cloth in the account: rules, what cannot be, weights, and what else goes by it.
#![allow(clippy::unwrap_used)]

mod support;

use cloth::{Construction, Cut, Fault, MeanLine};
use design::{ClothAccount, Document, demos, in_use, ways};
use support::{account_of, pippin, problems, with};

fn near(a: f64, b: f64) {
    assert!((a - b).abs() < 1e-9, "{a} is not {b}");
}

fn cloth_of(document: &Document) -> ClothAccount {
    account_of(document).masts[0].cloth.clone().unwrap()
}

fn used(document: &Document, leaf: &str) -> f64 {
    let path = format!("masts.0.cloth.{leaf}");
    in_use(document.design(), &account_of(document), &path).unwrap()
}

/// Camber of the panels from the foot [%].
fn cambers(document: &Document) -> Vec<f64> {
    let shapes = cloth_of(document).input.shapes;
    shapes
        .iter()
        .map(|s| (1000.0 * s.camber).round() / 10.0)
        .collect()
}

const CUT: &str = "masts.0.sail.cut";
const BALANCE: &str = "masts.0.sail.balance_pct";

#[test]
fn camber_follows_construction_and_cut_and_every_panel_may_have_its_own() {
    let barrel = with(pippin(), &[(CUT, "\"cambered\"")]);
    assert_eq!(cambers(&barrel), [7.0, 7.0, 7.0, 7.0, 5.0, 5.0, 2.0]);
    near(used(&barrel, "camber_pct"), 7.0);
    near(used(&barrel, "head_camber_pct"), 2.0);
    near(used(&barrel, "head_place_pct"), 38.0);
    let shelf = with(barrel.clone(), &[("masts.0.cloth.camber_cut", "\"shelf\"")]);
    assert_eq!(cambers(&shelf), [8.0, 8.0, 8.0, 8.0, 5.0, 5.0, 2.0]);
    near(used(&shelf, "camber_pct"), 8.0);
    for (cut, camber) in [("\"split\"", 6.0), ("\"paired\"", 7.0)] {
        let document = with(shelf.clone(), &[(CUT, cut)]);
        near(used(&document, "camber_pct"), camber);
        assert_eq!(cambers(&document)[0], camber);
    }
    let graded = with(
        barrel.clone(),
        &[
            ("masts.0.cloth.camber_pct", "8"),
            ("masts.0.cloth.head_camber_pct", "2"),
            ("masts.0.cloth.place_pct", "40"),
            ("masts.0.cloth.head_place_pct", "34"),
        ],
    );
    assert_eq!(cambers(&graded), [8.0, 7.0, 6.0, 5.0, 4.0, 3.0, 2.0]);
    let places: Vec<f64> = cloth_of(&graded)
        .input
        .shapes
        .iter()
        .map(|s| 100.0 * s.place)
        .collect();
    for (i, place) in places.iter().enumerate() {
        near(*place, 40.0 - i as f64);
    }
    let own = with(
        barrel,
        &[(
            "masts.0.cloth.shapes",
            r#"[{"panel":2,"camber_pct":4},{"panel":7,"place_pct":45}]"#,
        )],
    );
    assert_eq!(cambers(&own), [7.0, 4.0, 7.0, 7.0, 5.0, 5.0, 2.0]);
    near(used(&own, "shapes.0.place_pct"), 38.0);
    near(used(&own, "shapes.1.camber_pct"), 2.0);
    near(cloth_of(&own).input.shapes[6].place, 0.45);
}

#[test]
fn the_slot_has_room_for_the_mast_at_every_spar() {
    let split = with(pippin(), &[(CUT, "\"split\""), (BALANCE, "32")]);
    near(used(&split, "slot_pct"), 8.0);
    // 0.2 m of mast at a chord of 4.4 m: twice that is 9.1 %.
    let thick = with(split, &[("masts.0.diameter_m", "0.2")]);
    near(used(&thick, "slot_pct"), 40.0 / 4.4);
    assert_eq!(cloth_of(&thick).faults, []);
}

#[test]
fn the_five_ways_have_the_document_s_numbers() {
    let document = with(
        pippin(),
        &[
            (CUT, "\"wing\""),
            ("masts.0.cloth.camber_cut", "\"shelf\""),
            ("masts.0.cloth.shelf_deg", "30"),
            ("masts.0.cloth.join_pct", "45"),
            ("masts.0.cloth.turn_deg", "5"),
            ("masts.0.cloth.room_m", "0.04"),
        ],
    );
    let account = account_of(&document);
    let all = ways(document.design(), 0, &account);
    assert_eq!(
        all.iter()
            .map(|way| way.construction.number())
            .collect::<Vec<_>>(),
        [0, 1, 2, 3, 4]
    );
    let input = &account.masts[0].cloth.as_ref().unwrap().input;
    assert_eq!(all[2].construction, input.construction);
    let (Construction::Wing(wing), Construction::Split(split), Construction::Bows(bows)) = (
        all[2].construction,
        all[3].construction,
        all[4].construction,
    ) else {
        panic!("{all:?}");
    };
    near(wing.join, 0.45);
    near(split.turn, 5f64.to_radians());
    near(bows.room, 0.04);
    let beta = 30f64.to_radians();
    assert!(
        matches!(all[1].construction, Construction::Cambered(Cut::Shelf(b)) if (b - beta).abs() < 1e-12)
    );
    assert!(ways(document.design(), 1, &account).is_empty());
}

/// Whatever the sail is, each way has the camber it would have were the sail made so.
#[test]
fn each_way_has_its_own_usual_camber_where_none_is_typed() {
    let words = ["flat", "cambered", "wing", "split", "paired"];
    for cut in words {
        let sail = with(pippin(), &[(CUT, &format!("\"{cut}\"")), (BALANCE, "32")]);
        for (edits, lower) in [
            (vec![], [7.0, 7.0, 7.0, 6.0, 7.0]),
            (
                vec![("masts.0.cloth.camber_cut", "\"shelf\"")],
                [8.0, 8.0, 8.0, 6.0, 7.0],
            ),
            (vec![("masts.0.cloth.camber_pct", "5.5")], [5.5; 5]),
        ] {
            let document = with(sail.clone(), &edits);
            let account = account_of(&document);
            let input = &account.masts[0].cloth.as_ref().unwrap().input;
            let ways = ways(document.design(), 0, &account);
            for ((way, lower), word) in ways.iter().zip(lower).zip(words) {
                near(way.shapes[0].camber, 0.01 * lower);
                let made = with(document.clone(), &[(CUT, &format!("\"{word}\""))]);
                let made = cloth_of(&made).input;
                assert_eq!(way.shapes, made.shapes, "{cut} {word}");
                assert_eq!(way.construction, made.construction);
            }
            let rows = input.compare(&ways);
            for (i, row) in rows.iter().enumerate().filter(|(i, _)| i % 2 == 1) {
                near(row.camber, 0.01 * lower[i]);
            }
        }
    }
}

#[test]
fn what_is_typed_reaches_the_cloth() {
    let document = with(
        pippin(),
        &[
            ("cloth.roll_m", "2.1"),
            ("cloth.warp", "\"leech\""),
            ("cloth.pockets", "\"hems\""),
            ("cloth.webbing_kg", "4"),
            ("cloth.patch_strength", "3"),
            ("cloth.strain_pct", "0.5"),
            ("masts.0.weights.cloth_gsm", "310"),
            ("masts.0.cloth.line", "\"parabola\""),
            ("masts.0.sail.luff_round_pct", "-1"),
        ],
    );
    let input = cloth_of(&document).input;
    near(input.cloth.roll, 2.1);
    near(input.cloth.mass, 0.31);
    near(input.sewing.webbing, 0.04);
    near(input.sewing.patches.strength, 3000.0);
    near(input.limits.strain, 0.005);
    near(input.luff_round, -0.01);
    assert_eq!(input.line, MeanLine::Parabola);
    assert_eq!(
        (input.cloth.warp, input.sewing.pockets),
        (cloth::Warp::Leech, cloth::Pockets::Hems)
    );
    // Travel is that of the reefs: what the account shifts its spars by.
    let account = account_of(&document);
    for (i, [ahead, aft]) in input.travel.iter().enumerate() {
        let shifts = account.masts[0].rows.iter().map(|row| row.shifts[i]);
        near(*aft, shifts.clone().fold(0.0, f64::max));
        near(-*ahead, shifts.fold(0.0, f64::min));
    }
}

/// What the sheets draw down the leech, in the wind for strength, is what the patches there are for.
#[test]
fn patches_bear_what_the_sheets_draw_down() {
    let document = pippin();
    let account = account_of(&document);
    let pulls = account.masts[0]
        .cloth
        .as_ref()
        .unwrap()
        .input
        .sewing
        .patches
        .pull;
    let lines = account.masts[0].lines.as_ref().unwrap();
    let mut most = [0.0f64; 8];
    for loads in &lines.account.loads {
        for pull in loads.working.iter().flat_map(|work| &work.pulls) {
            most[pull.spar] = most[pull.spar].max(pull.down * loads.times);
        }
    }
    assert!(most[..6].iter().all(|pull| *pull > 100.0), "{most:?}");
    for (pull, most) in pulls.iter().zip(most) {
        near(pull[1], most);
        near(pull[0], 0.0);
    }
}

/// Path and sentence of each problem of the cloth's own fields.
fn told(edits: &[(&str, &str)]) -> Vec<(String, String)> {
    let document = with(pippin(), edits);
    let account = account_of(&document);
    // Everything else is still there.
    let mast = &account.masts[0];
    assert!(mast.lines.is_some() && mast.spars.is_some(), "{edits:?}");
    let cloth = mast.cloth.as_ref().unwrap();
    assert!(
        cloth.panels.iter().all(|kilos| *kilos > 0.1),
        "{edits:?} {:?}",
        cloth.panels
    );
    problems(&document)
        .into_iter()
        .map(|(path, said)| (path, said.replace('\u{a0}', " ")))
        .collect()
}

#[test]
fn what_cannot_be_is_told_at_its_field_with_what_would_do() {
    const LINE: (&str, &str) = ("masts.0.cloth.line", "\"own\"");
    const CAMBERED: (&str, &str) = (CUT, "\"cambered\"");
    type Case<'a> = (&'a [(&'a str, &'a str)], &'a str, &'a str);
    let cases: &[Case] = &[
        (
            &[("masts.0.cloth.shapes", r#"[{"panel":9,"camber_pct":4}]"#)],
            "masts.0.cloth.shapes.0.panel",
            "9; 1 to 7 would do",
        ),
        (
            &[("masts.0.cloth.shapes", r#"[{"camber_pct":4}]"#)],
            "masts.0.cloth.shapes.0.panel",
            "is not given: 1 to 7 would do",
        ),
        (
            &[CAMBERED, ("masts.0.cloth.camber_pct", "60")],
            "masts.0.cloth.camber_pct",
            "60.0%",
        ),
        (
            &[CAMBERED, ("masts.0.cloth.camber_pct", "14")],
            "masts.0.cloth.camber_pct",
            "14.0%; panel 4 has room for 10.4%",
        ),
        (
            &[
                CAMBERED,
                ("masts.0.cloth.camber_cut", "\"shelf\""),
                ("masts.0.cloth.camber_pct", "14"),
            ],
            "masts.0.cloth.camber_pct",
            "14.0%; panel 4 has room for 10.",
        ),
        (
            &[
                CAMBERED,
                ("masts.0.cloth.shapes", r#"[{"panel":3,"camber_pct":13}]"#),
            ],
            "masts.0.cloth.shapes.0.camber_pct",
            "13.0%; panel 3 has room for 1",
        ),
        (
            &[CAMBERED, ("masts.0.cloth.head_camber_pct", "30")],
            "masts.0.cloth.head_camber_pct",
            "30.0%; panel 7 has room for",
        ),
        (
            &[
                (CUT, "\"split\""),
                (BALANCE, "32"),
                ("masts.0.cloth.camber_pct", "10"),
                ("masts.0.cloth.fore_times", "6"),
            ],
            "masts.0.cloth.fore_times",
            "6.0; the fore part of panel 1 is deepest with 5.0",
        ),
        (
            &[
                (CUT, "\"split\""),
                (BALANCE, "32"),
                ("masts.0.cloth.slot_pct", "40"),
            ],
            "masts.0.cloth.slot_pct",
            "both parts of panel",
        ),
        (&[(CUT, "\"split\""), (BALANCE, "4")], BALANCE, "4.0%; with"),
        (
            &[("cloth.roll_m", "0.15")],
            "cloth.roll_m",
            "0.15 m; patches, shelves and pockets have no seams, 0.",
        ),
        (
            &[LINE],
            "masts.0.cloth.line",
            "own ordinates rise from 0 to 100 %",
        ),
        (
            &[
                LINE,
                (
                    "masts.0.cloth.ordinates",
                    r#"[{"along_pct":5,"off_pct":0},{"along_pct":40,"off_pct":8},{"along_pct":100,"off_pct":0}]"#,
                ),
            ],
            "masts.0.cloth.ordinates.0.along_pct",
            "own ordinates rise",
        ),
        (
            &[
                LINE,
                (
                    "masts.0.cloth.ordinates",
                    r#"[{"along_pct":0,"off_pct":0},{"along_pct":60,"off_pct":8},{"along_pct":40,"off_pct":8},{"along_pct":100,"off_pct":0}]"#,
                ),
            ],
            "masts.0.cloth.ordinates.2.along_pct",
            "own ordinates rise",
        ),
        (
            &[
                LINE,
                (
                    "masts.0.cloth.ordinates",
                    r#"[{"along_pct":0,"off_pct":0},{"along_pct":40,"off_pct":8},{"along_pct":100,"off_pct":1}]"#,
                ),
            ],
            "masts.0.cloth.ordinates.2.off_pct",
            "own ordinates rise",
        ),
    ];
    for (edits, path, sentence) in cases {
        let all = told(edits);
        let found = all
            .iter()
            .any(|(at, said)| at == path && said.contains(sentence));
        assert!(found, "{edits:?}: {all:?}");
    }
    // The same ordinates are no matter while another line is chosen.
    assert!(told(&[("masts.0.cloth.ordinates", r#"[{"along_pct":5}]"#)]).is_empty());
    assert!(told(&[]).is_empty());
}

#[test]
fn what_is_advised_can_be_cut() {
    for (edits, leaf, value) in [
        (
            vec![(CUT, "\"cambered\"")],
            "masts.0.cloth.camber_pct",
            "14",
        ),
        (
            vec![
                (CUT, "\"cambered\""),
                ("masts.0.cloth.camber_cut", "\"shelf\""),
            ],
            "masts.0.cloth.camber_pct",
            "14",
        ),
        (vec![], "cloth.roll_m", "0.15"),
        (
            vec![(CUT, "\"split\""), (BALANCE, "32")],
            "masts.0.cloth.slot_pct",
            "40",
        ),
        (vec![(CUT, "\"split\"")], BALANCE, "4"),
        // The turn of the fore part takes some of the room, or all of it.
        (
            vec![
                (CUT, "\"split\""),
                (BALANCE, "32"),
                ("masts.0.cloth.turn_deg", "15"),
                ("masts.0.cloth.head_camber_pct", "0"),
            ],
            "masts.0.cloth.camber_pct",
            "25",
        ),
        (
            vec![
                (CUT, "\"split\""),
                (BALANCE, "32"),
                ("masts.0.cloth.camber_pct", "0"),
            ],
            "masts.0.cloth.turn_deg",
            "40",
        ),
        // 6.67 is not to become 6.7, and a panel deeper than the first counts.
        (
            vec![
                (CUT, "\"split\""),
                (BALANCE, "32"),
                ("masts.0.cloth.camber_pct", "6"),
                ("masts.0.cloth.camber_cut", "\"shelf\""),
                ("masts.0.cloth.shelf_deg", "0"),
                (
                    "masts.0.cloth.shapes",
                    r#"[{"panel":2,"camber_pct":7.5},{"panel":6,"camber_pct":1},{"panel":7,"camber_pct":1}]"#,
                ),
            ],
            "masts.0.cloth.fore_times",
            "8",
        ),
    ] {
        let wrong = with(with(pippin(), &edits), &[(leaf, value)]);
        let all = account_of(&wrong).problems;
        let problem = all.iter().find(|p| p.path == leaf);
        let problem = problem.unwrap_or_else(|| panic!("{leaf}: {all:?}"));
        let limit = problem.text.args.iter().find_map(|(name, arg)| match arg {
            quantities::Arg::Measure(limit, _) if *name == "limit" => Some(*limit),
            _ => None,
        });
        let mended = with(wrong, &[(leaf, &limit.unwrap().to_string())]);
        let left = account_of(&mended).problems;
        assert!(
            left.iter().all(|p| p.path != leaf),
            "{leaf} {limit:?}: {left:?}"
        );
        if leaf != "cloth.roll_m" {
            assert_eq!(cloth_of(&mended).faults, [], "{leaf}");
        }
    }
}

/// Whatever the fields take is within the cloth's own measure: at either end of each, and all of them there at once.
#[test]
fn what_the_fields_take_the_cloth_takes() {
    let numbers = [
        "cloth.barrel_depth_pct",
        "cloth.batten_seam_m",
        "cloth.eye_pitch_m",
        "cloth.gather_pct",
        "cloth.hem_m",
        "cloth.offsets",
        "cloth.patch_layers",
        "cloth.patch_pct",
        "cloth.patch_strength",
        "cloth.pocket_ease_pct",
        "cloth.pocket_end_m",
        "cloth.roll_m",
        "cloth.seam_m",
        "cloth.strain_pct",
        "cloth.tabling_m",
        "cloth.thread",
        "cloth.webbing_kg",
        "masts.0.cloth.camber_pct",
        "masts.0.cloth.fore_times",
        "masts.0.cloth.head_camber_pct",
        "masts.0.cloth.head_place_pct",
        "masts.0.cloth.join_pct",
        "masts.0.cloth.place_pct",
        "masts.0.cloth.room_m",
        "masts.0.cloth.shelf_deg",
        "masts.0.cloth.slot_pct",
        "masts.0.cloth.thickness_pct",
        "masts.0.cloth.turn_deg",
        "masts.0.diameter_m",
        "masts.0.sail.batten_depth_m",
        "masts.0.sail.boom_depth_m",
        "masts.0.sail.leech_round_pct",
        "masts.0.sail.luff_round_pct",
        "masts.0.sail.yard_depth_m",
        "masts.0.weights.cloth_gsm",
    ];
    let look = |edits: &[(&str, &str)]| {
        let cloth = cloth_of(&with(pippin(), edits));
        assert_eq!(cloth.input.faults(), [], "{edits:?}");
        let weights = cloth.panels.iter().all(|kilos| kilos.is_finite());
        assert!(weights, "{edits:?}");
        cloth.input
    };
    let mut ends = [Vec::new(), Vec::new()];
    for path in numbers {
        let row = quantities::bounds::row(path).unwrap();
        for (all, end) in ends.iter_mut().zip([row.hard_least, row.hard_most]) {
            let end = end.to_string();
            look(&[(path, &end)]);
            all.push((path, end));
        }
    }
    for cut in ["flat", "cambered", "wing", "split", "paired"] {
        let cut = format!("\"{cut}\"");
        for all in &ends {
            let mut edits = vec![(CUT, cut.as_str())];
            edits.extend(all.iter().map(|(path, end)| (*path, end.as_str())));
            let input = look(&edits);
            let patterns = input.patterns();
            let bill = input.bill(&patterns, &input.cutting(&patterns, 0));
            assert!(bill.thread.is_finite() && bill.cut.is_finite(), "{cut}");
        }
    }
}

#[test]
fn a_panel_of_no_width_is_told_and_the_others_are_cut() {
    let tiny = [
        ("masts.0.sail.panel_width_m", "0.3"),
        ("masts.0.sail.head_widths_pct", "[65, 45, 2]"),
    ];
    let document = with(pippin(), &tiny);
    let all = problems(&document);
    let path = "masts.0.sail.head_widths_pct.2";
    let (_, said) = all
        .iter()
        .find(|(at, said)| at == path && said.contains("no cloth"))
        .unwrap();
    assert!(said.contains("panel 7"), "{said}");
    let account = account_of(&document);
    let cloth = account.masts[0].cloth.as_ref().unwrap();
    assert_eq!(cloth.faults, [Fault::Panel(7)]);
    let cut = cloth.input.patterns();
    assert!((1..7).all(|panel| cut.pieces.iter().any(|piece| piece.panel == panel)));
    assert!(account.masts[0].lines.is_some());
}

/// Halyard and lifts hoist the cloth as it is made up, and every limb of the battens.
#[test]
fn the_lines_carry_the_cloth_and_the_sticks_there_are() {
    for demo in demos() {
        for mast in account_of(&demo.open().unwrap()).masts {
            let lines = mast.lines.unwrap();
            assert_eq!(lines.input.weights.cloth, mast.cloth.unwrap().panels);
        }
    }
    let weight = |cut: &str| {
        let account = account_of(&with(pippin(), &[(CUT, cut)]));
        let mast = &account.masts[0];
        let cloth = mast.cloth.as_ref().unwrap();
        let spars = mast.lines.as_ref().unwrap().input.weights.spars.clone();
        (
            spars,
            cloth.input.stick_length(3),
            cloth.panels.iter().sum::<f64>(),
        )
    };
    let flat = weight("\"flat\"");
    near(flat.1, 4.4);
    for (cut, sticks) in [("\"paired\"", 2.0), ("\"wing\"", 1.4)] {
        let made = weight(cut);
        // A bow is a little longer than its chord, a limb of a fork more so.
        assert!(
            made.1 > sticks * 4.4 && made.1 < 1.1 * sticks * 4.4,
            "{cut} {}",
            made.1
        );
        near(made.0[3] / flat.0[3], made.1 / flat.1);
    }
    // Between bows the cloth is free: no pockets.
    assert!(weight("\"paired\"").2 < flat.2);
    // Two skins to the join: two fifths more cloth, and the pockets of the limbs.
    let wing = weight("\"wing\"").2;
    assert!(
        wing > 1.3 * flat.2 && wing < 1.7 * flat.2,
        "{wing} {}",
        flat.2
    );
}

/// The pull of round cloth on its spars goes by the shape that is cut; split panels pull by both parts.
#[test]
fn spars_are_pulled_by_the_shape_of_the_cloth() {
    let sagitta = |edits: &[(&str, &str)]| {
        let account = account_of(&with(pippin(), edits));
        account.masts[0].spars.as_ref().unwrap().sail_input.panels[1].sagitta
    };
    near(sagitta(&[(CUT, "\"cambered\"")]), 0.07 * 4.4);
    near(
        sagitta(&[(CUT, "\"cambered\""), ("masts.0.cloth.camber_pct", "5")]),
        0.05 * 4.4,
    );
    for cut in ["\"flat\"", "\"wing\"", "\"paired\""] {
        near(sagitta(&[(CUT, cut)]), 0.0);
    }
    // 28 % of chord at 9 %, 64 % at 6 %: each alone 0.111 and 0.169 m, each pulls as its inverse along its own chord.
    let split = sagitta(&[(CUT, "\"split\""), (BALANCE, "32")]);
    let (fore, after): (f64, f64) = (0.28 * 4.4, 0.64 * 4.4);
    let both = (fore + after) / (fore / (0.09 * fore) + after / (0.06 * after));
    assert!((split / both - 1.0).abs() < 5e-3, "{split} {both}");
}

/// The slot is no cloth: a wanted area is that of both parts, and is met to a billionth whatever is held.
#[test]
fn the_area_of_split_panels_is_without_the_slot() {
    let split = with(pippin(), &[(CUT, "\"split\""), (BALANCE, "32")]);
    let area = |document: &Document| account_of(document).masts[0].figures.as_ref().unwrap().area;
    let (whole, cloth) = (area(&pippin()), area(&split));
    assert!(
        cloth < 0.93 * whole && cloth > 0.80 * whole,
        "{cloth} of {whole}"
    );
    for (held, on) in [
        ("hold_chord", "true"),
        ("hold_luff", "true"),
        ("hold_luff", "false"),
    ] {
        let mut document = with(split.clone(), &[(&format!("masts.0.sail.{held}"), on)]);
        let edits = document.fit_area(0, 0.95 * cloth).unwrap();
        document.edit(&edits).unwrap();
        assert!(
            (area(&document) / (0.95 * cloth) - 1.0).abs() < 1e-9,
            "{held} {}",
            area(&document)
        );
    }
}
