//! The lines as typed and as they follow from what is chosen.
#![allow(clippy::unwrap_used)]

mod support;

use design::{Account, Document, Edit, MastAccount, View, demos, in_use, pose};
use quantities::{Usual, bounds};
use rigging::{Hauls, Line, Ropes, Rules, System, Tails};
use support::{account_of, pippin, problems, with};

fn lines(account: &Account) -> &rigging::Lines {
    &account.masts[0].lines.as_ref().unwrap().input.lines
}

/// Lengths, movements and loads, without the names.
fn figures(mast: &MastAccount) -> Vec<(Line, f64, f64)> {
    let account = &mast.lines.as_ref().unwrap().account;
    account
        .lines
        .iter()
        .map(|line| (line.line, line.buy, line.load))
        .collect()
}

#[test]
fn what_is_left_empty_is_what_the_rows_say() {
    let design = pippin().design().clone();
    assert_eq!(design.lines.rules, Rules::default());
    assert_eq!(design.lines.ropes, Ropes::default());
    assert_eq!(design.lines.tails, Tails::default());
    assert_eq!(design.masts[0].lines.choices, rigging::Choices::default());
    let input = account_of(&pippin()).masts[0].lines.clone().unwrap().input;
    let [squared, close] = [85.0_f64, 15.0].map(f64::to_radians);
    assert!((input.squared - squared).abs() < 1e-12 && (input.close - close).abs() < 1e-12);
    assert_eq!(input.weights.wet, 1.5);
}

/// A lead has a number in its field before it is typed, and that number, typed, changes nothing.
#[test]
fn every_place_of_a_line_that_is_there_is_known_and_can_be_typed() {
    let document = with(
        pippin(),
        &[
            ("masts.0.lines.sheet.system", "\"pair\""),
            ("masts.0.lines.throat.use", "\"running\""),
            ("masts.0.lines.restraint.use", "\"running\""),
            ("masts.0.lines.down.use", "\"running\""),
        ],
    );
    let before = account_of(&document);
    let mut typed = document.clone();
    let mut found = 0;
    for row in bounds::ROWS {
        let of_lines = row.path.starts_with("masts[].lines.")
            && !row.path.contains("spans")
            && !row.path.contains("holds");
        if !of_lines || !matches!(row.usual, Usual::Rule(_)) {
            continue;
        }
        let path = row.path.replacen("[]", ".0", 1).replace("[]", ".0");
        let value = in_use(document.design(), &before, &path);
        let value = value.unwrap_or_else(|| panic!("{path} is not known"));
        assert!(row.usable(value), "{path} {value}");
        if !path.contains("catches") {
            typed.edit(&[Edit::exact(&path, value)]).unwrap();
            found += 1;
        }
    }
    assert!(found > 50, "{found}");
    let after = account_of(&typed);
    assert!(typed.problems().is_empty() && after.problems.is_empty());
    assert_eq!(after.masts[0].lines, before.masts[0].lines);
}

#[test]
fn what_is_typed_lies_over_the_usual_leads() {
    let document = with(
        pippin(),
        &[
            ("masts.0.lines.halyard.parts", "2"),
            ("masts.0.lines.halyard.lead_y_m", "0.5"),
            ("masts.0.lines.sheet.block_x_m", "6.7"),
            ("masts.0.lines.yard.cleat_x_m", "4.4"),
            ("masts.0.lines.lifts.catches_pct", "[20, null, 70, 95]"),
            ("masts.0.lines.parrels.abaft_m", "0.4"),
            ("masts.0.lines.tack.use", "\"standing\""),
            ("masts.0.lines.tack.lead_z_m", "0.9"),
            ("masts.0.lines.luff.use", "\"none\""),
            (
                "masts.0.lines.holds",
                r#"[{"line":"yard","spar":7,"along_pct":40}]"#,
            ),
            ("masts.0.sail.squared_off_deg", "80"),
            ("masts.0.sail.travel_pct", "12"),
            ("lines.lifeline_m", "0.55"),
        ],
    );
    assert_eq!(problems(&document), []);
    let account = account_of(&document);
    let chosen = lines(&account);
    let usual = account_of(&pippin());
    let usual = lines(&usual);
    let (halyard, before) = (chosen.halyard.unwrap(), usual.halyard.unwrap());
    assert_eq!((halyard.parts, halyard.lead.y), (2, 0.5));
    assert_eq!(
        (halyard.lead.x, halyard.cleat),
        (before.lead.x, before.cleat)
    );
    assert_eq!(chosen.sheets[0].deck[0].x, 6.7);
    let lifts = chosen.lifts.as_ref().unwrap();
    for (catch, wanted) in lifts.catches.iter().zip([0.2, 0.6, 0.7, 0.95]) {
        assert!((catch - wanted).abs() < 1e-12);
    }
    assert_eq!(lifts.catches.len(), 4);
    assert_eq!(chosen.parrels.unwrap().abaft, 0.4);
    assert!((chosen.parrels.unwrap().travel - 0.12 * 4.4).abs() < 1e-12);
    let line = |hauls| chosen.hauling.iter().find(|line| line.hauls == hauls);
    let yard = line(Hauls::Yard).unwrap();
    assert_eq!((yard.holds.len(), yard.holds[0].spar), (1, 7));
    assert!((yard.holds[0].share - 0.4).abs() < 1e-12);
    assert_eq!(yard.cleat().unwrap().x, 4.4);
    assert!(line(Hauls::Luff).is_none());
    let tack = line(Hauls::Tack).unwrap();
    assert_eq!((tack.leads.len(), tack.leads[0].z), (1, 0.9));
    let input = &account.masts[0].lines.as_ref().unwrap().input;
    assert!((input.squared - 80_f64.to_radians()).abs() < 1e-12);
    assert_eq!(input.deck.lifeline, 0.55);
}

#[test]
fn spans_and_holds_written_out_are_those_that_were_there() {
    for system in ["single", "divided", "pair"] {
        let document = with(
            pippin(),
            &[
                ("masts.0.lines.sheet.system", &format!("{system:?}")),
                ("masts.0.lines.throat.use", "\"running\""),
            ],
        );
        let before = account_of(&document);
        let mut written = document.clone();
        let edits = [
            document.write_spans(0, &before),
            document.write_holds(0, &before),
        ]
        .concat();
        assert_eq!(edits.len(), 2);
        written.edit(&edits).unwrap();
        assert_eq!(problems(&written), []);
        let after = account_of(&written);
        let (a, b) = (figures(&before.masts[0]), figures(&after.masts[0]));
        assert_eq!(a.len(), b.len());
        for (a, b) in a.iter().zip(&b) {
            // Spans are written to the millimetre, holds to a thousandth.
            assert_eq!(a.0, b.0);
            assert!(
                (a.1 - b.1).abs() < 0.02 && (a.2 - b.2).abs() < 0.02 * a.2 + 1.0,
                "{a:?} {b:?}"
            );
        }
        // And can be changed.
        written
            .edit(&[Edit::number("masts.0.lines.spans.0.length_m", 2.5)])
            .unwrap();
        let lengths = lines(&account_of(&written)).sheets.clone();
        assert_eq!(lengths[0].spans[0].length, 2.5);
        if system == "pair" {
            assert_eq!(lengths[1].spans[0].length, 2.5);
        }
    }
    let none = Document::open(r#"{"format":"battenwright-design","version":1}"#).unwrap();
    assert_eq!(none.write_spans(0, &account_of(&none)), []);
    assert_eq!(none.write_holds(3, &account_of(&none)), []);
}

#[test]
fn a_sheet_without_rows_keeps_its_usual_spans_and_rows_follow_their_rules() {
    let document = with(
        pippin(),
        &[
            ("masts.0.lines.sheet.system", "\"divided\""),
            (
                "masts.0.lines.spans",
                r#"[{"sheet":2,"top":3,"ends":4},{"top":null},{}]"#,
            ),
            ("masts.0.lines.sheet.parts", "3"),
        ],
    );
    assert_eq!(
        document.design().masts[0].lines.choices.system,
        Some(System::Divided)
    );
    let account = account_of(&document);
    let chosen = lines(&account);
    assert_eq!(chosen.sheets.len(), 2);
    let lower = &chosen.sheets[1].spans;
    assert_eq!(lower.len(), 1);
    assert_eq!(
        lower[0].ends.iter().map(|e| e.turning).collect::<Vec<_>>(),
        [false, true, true, false]
    );
    assert_eq!(lower[0].falls[0].parts, 3);
    let falls = chosen.sheets[0].spans.iter().flat_map(|span| &span.falls);
    assert!(falls.clone().count() > 0 && falls.clone().all(|fall| fall.parts == 3));
    let path = "masts.0.lines.spans.0.length_m";
    assert_eq!(
        in_use(document.design(), &account, path),
        Some(lower[0].length)
    );
    // It reaches its four ends.
    let checks = &account.checks;
    let short = checks
        .iter()
        .find(|check| check.key == "span_short")
        .unwrap();
    assert_eq!(short.severity, quantities::Severity::Passed);
}

#[test]
fn rows_that_cannot_be_are_told_at_their_fields() {
    let document = with(
        pippin(),
        &[
            (
                "masts.0.lines.spans",
                r#"[{"top":9,"ends":2},{"top":2,"ends":4},{"sheet":2,"top":1},{"ends":2}]"#,
            ),
            (
                "masts.0.lines.holds",
                r#"[{"line":"tack","spar":9,"along_pct":3},{"spar":1},{"line":"rope","spar":1,"along_pct":3}]"#,
            ),
            ("masts.0.lines.lifts.catches_pct", "[1,2,3,4,5,6,7,8,9]"),
        ],
    );
    let told = problems(&document);
    let expected = [
        ("masts.0.lines.spans.3.top", "Uppermost end is not given."),
        ("masts.0.lines.holds.1.line", "Line is not given."),
        (
            "masts.0.lines.holds.1.along_pct",
            "Along the spar is not given.",
        ),
        (
            "masts.0.lines.holds.2.line",
            "Line: one of these is wanted here:",
        ),
        (
            "masts.0.lines.spans.0.top",
            "Uppermost end: 9; on this sail 7 is the most.",
        ),
        (
            "masts.0.lines.spans.1.ends",
            "Ends, downward: 4; on this sail 3 is the most.",
        ),
        (
            "masts.0.lines.spans.2.sheet",
            "Sheet: 2; on this sail 1 is the most.",
        ),
        (
            "masts.0.lines.holds.0.spar",
            "Spar: 9; on this sail 7 is the most.",
        ),
        (
            "masts.0.lines.lifts.catches_pct",
            "More entries than there can be: 8 are the most.",
        ),
    ];
    assert_eq!(told.len(), expected.len(), "{told:?}");
    for ((path, said), (at, wanted)) in told.iter().zip(expected) {
        assert!(path == at && said.starts_with(wanted), "{path}: {said}");
    }
    // Nine spans of one sheet are more than hang together; the other lines stand.
    let span = r#"{"top":3,"ends":2}"#;
    let nine = format!("[{}]", [span; 9].join(","));
    let document = with(pippin(), &[("masts.0.lines.spans", &nine)]);
    assert_eq!(problems(&document).len(), 1);
    assert_eq!(problems(&document)[0].0, "masts.0.lines.spans");
    let account = account_of(&document);
    let known = &account.masts[0].lines.as_ref().unwrap().account.lines;
    assert!(known.iter().all(|line| line.line != Line::Sheet(0)) && known.len() > 5);
    for list in ["spans", "holds", "lifts.catches_pct"] {
        let path = format!("masts.0.lines.{list}");
        let item = if list == "lifts.catches_pct" {
            "50"
        } else {
            "{}"
        };
        let rows = format!("[{}]", [item; 65].join(","));
        let edit = Edit::value(&path, serde_json::from_str(&rows).unwrap());
        let problem = pippin().edit(&[edit]).unwrap_err();
        assert_eq!((problem.path, problem.text.key), (path, "problem.too_many"));
    }
}

#[test]
fn weights_typed_are_used_and_others_estimated() {
    let document = with(
        pippin(),
        &[
            ("masts.0.weights.boom_kg", "9"),
            ("masts.0.weights.batten_kg", "3.5"),
            ("masts.0.weights.cloth_gsm", "300"),
            ("lines.wet", "2"),
        ],
    );
    let account = account_of(&document);
    let weights = &account.masts[0].lines.as_ref().unwrap().input.weights;
    assert_eq!(
        (weights.spars[0], weights.spars[3], weights.wet),
        (9.0, 3.5, 2.0)
    );
    // Yard: a tube of 80 mm, 5.5 mm wall, 4.4 m: 2700 x pi x 0.0745 x 0.0055 x 4.4 = 15.29 kg.
    assert!(
        (weights.spars[7] - 15.29).abs() < 0.01,
        "{}",
        weights.spars[7]
    );
    // Cloth made up: 29.95 m² of it, and a third as much again in pockets, patches, hems and tabling.
    let input = &account.masts[0].cloth.as_ref().unwrap().input;
    let patterns = input.patterns();
    let bill = input.bill(&patterns, &input.cutting(&patterns, 0));
    let told: f64 = bill.panels.iter().flatten().sum();
    let cloth: f64 = weights.cloth.iter().sum();
    assert!((cloth / told - 1.0).abs() < 0.01, "{cloth} {told}");
    assert!((cloth - 12.0).abs() < 0.2, "{cloth}");
    for (path, value) in [("cloth_gsm", 230.0), ("boom_kg", weights_of(&pippin())[0])] {
        let path = format!("masts.0.weights.{path}");
        let design = pippin();
        let used = in_use(design.design(), &account_of(&design), &path).unwrap();
        assert!((used - value).abs() < 1e-9, "{path} {used}");
    }
}

fn weights_of(document: &Document) -> Vec<f64> {
    let account = account_of(document);
    account.masts[0]
        .lines
        .as_ref()
        .unwrap()
        .input
        .weights
        .spars
        .clone()
}

#[test]
fn the_pose_lays_the_lines_of_its_state() {
    for document in demos().iter().map(|demo| demo.open().unwrap()) {
        let account = account_of(&document);
        for k in 0..=5 {
            let view = View {
                hoist: vec![f64::from(k); 3],
                ..View::default()
            };
            let pose = pose(document.design(), &account, &view);
            for (mast, posed) in account.masts.iter().zip(&pose.masts) {
                let posed = posed.as_ref().unwrap();
                let known = &mast.lines.as_ref().unwrap().account.lines;
                assert_eq!(posed.lines.len(), known.len());
                for (laid, line) in posed.lines.iter().zip(known) {
                    assert_eq!(laid.line, line.line);
                    if matches!(line.line, Line::Halyard | Line::Sheet(_)) {
                        let length = line.lengths[posed.state].now;
                        assert!(
                            (laid.path.length - length).abs() < 1e-6,
                            "{:?} {k}",
                            line.line
                        );
                    }
                }
            }
        }
    }
}

/// At every state and every degree of sheeting, on both sides.
#[test]
fn the_usual_sheets_of_the_demos_are_clear() {
    let angles: Vec<f64> = (-17..=17).map(|i| f64::from(5 * i).to_radians()).collect();
    for demo in demos() {
        let account = account_of(&demo.open().unwrap());
        for mast in &account.masts {
            let input = &mast.lines.as_ref().unwrap().input;
            assert_eq!(input.obstacles.len() + 1, account.masts.len());
            for state in 0..input.states.len() {
                for swept in input.sweep(state, &angles) {
                    assert!(
                        swept.findings.is_empty(),
                        "{} {} {:?}",
                        demo.key,
                        mast.name,
                        swept.findings
                    );
                }
            }
        }
    }
}

/// A fore sheet's block stands ahead of the main mast, on the coachroof; inside it, or abaft that mast, is told. So is what the map
/// allows.
#[test]
fn a_sheet_keeps_clear_of_the_next_mast_and_of_the_coachroof() {
    let heron = demos()[2].open().unwrap();
    let account = account_of(&heron);
    let fore = &account.masts[0].lines.as_ref().unwrap().input;
    let (block, roof) = (fore.lines.sheets[0].deck[0], fore.deck.roof.unwrap());
    let main = &fore.obstacles[0].mast;
    assert!(block.x < main.x - main.diameter && block.z == roof.top);
    assert!((roof.top - 1.47).abs() < 0.01 && (roof.half_width - 1.04).abs() < 0.01);
    let failing = |edits: &[(&str, &str)]| {
        let checks = support::failing(&with(heron.clone(), edits));
        let sheets = checks.iter().filter(|c| c.key.starts_with("sheet_"));
        sheets.map(|c| (c.key, c.mast)).collect::<Vec<_>>()
    };
    assert_eq!(failing(&[]), []);
    let abaft = failing(&[("masts.0.lines.sheet.block_x_m", "5.3")]);
    assert_eq!(abaft, [("sheet_neighbour", Some(0))]);
    let inside = failing(&[("masts.0.lines.sheet.block_z_m", "1.1")]);
    assert!(inside.contains(&("sheet_coachroof", Some(0))), "{inside:?}");
    // Off the fore mast's own side the main mast stands in the way of nothing.
    let far = failing(&[("masts.1.position_m", "8")]);
    assert!(!far.contains(&("sheet_neighbour", Some(0))), "{far:?}");
    let over = ((block.x, -0.1), (block.x + 1.0, 0.1));
    let map = fore.deck_block_map((0, 0), over, (5, 3));
    assert!(map.iter().all(|cell| cell.at.z == roof.top));
    assert!(map[5].fouls.is_none() && map[9].fouls == Some(rigging::What::Neighbour));
}

/// Who lolls stands up to no wind: her lines are held against that of an unknown boat all the same, and she is told so.
#[test]
fn a_boat_that_lolls_has_lines_that_hold() {
    let lolls = with(
        pippin(),
        &[("boat.stability", "\"form\""), ("boat.kg_pct", "150")],
    );
    let unknown = with(
        pippin(),
        &[
            ("boat.stability", "\"form\""),
            ("boat.displacement_kg", "null"),
        ],
    );
    let told = problems(&lolls);
    let said = "She stands up to no wind: her lines are worked out for 16 kn of apparent wind at full sail.";
    let said_at: Vec<_> = told
        .iter()
        .filter(|(path, _)| path == "masts.0.lines")
        .collect();
    assert_eq!(said_at.len(), 1, "{told:?}");
    assert_eq!(said_at[0].1.replace('\u{a0}', " "), said);
    assert!(
        problems(&unknown)
            .iter()
            .all(|(path, _)| path != "masts.0.lines")
    );
    let (lolls, unknown) = (account_of(&lolls), account_of(&unknown));
    let states = |account: &Account| {
        account.masts[0]
            .lines
            .as_ref()
            .unwrap()
            .input
            .states
            .clone()
    };
    for (a, b) in states(&lolls).iter().zip(states(&unknown)) {
        assert!(a.pressure > 20.0 && a.strength > a.pressure);
        assert_eq!((a.pressure, a.strength), (b.pressure, b.strength));
    }
    for line in &lolls.masts[0].lines.as_ref().unwrap().account.lines {
        assert!(line.load > 5.0, "{line:?}");
    }
}

/// By hand: a reef late, 1.3 on speed, 1.5 for 1.0, up to 45 knots and from 16 on; the hand's wind stays what it is advised for.
#[test]
fn the_wind_for_strength_is_gust_late_reef_and_coefficient() {
    for document in demos().iter().map(|demo| demo.open().unwrap()) {
        let account = account_of(&document);
        for (m, mast) in account.masts.iter().enumerate() {
            let lines = mast.lines.as_ref().unwrap();
            let coefficient = document.design().masts[m].sail.side_force;
            let states = &lines.input.states;
            let wind =
                |pressure: f64, c: f64| (2.0 * pressure / 1.225 / c).sqrt() / (1852.0 / 3600.0);
            for (i, state) in states.iter().enumerate() {
                let late = states
                    .iter()
                    .find(|s| s.lowered == state.lowered + 1)
                    .unwrap_or(state);
                let most = late.pressure.max(state.pressure);
                let wanted = (1.3 * wind(most, coefficient)).clamp(16.0, 45.0);
                let found = wind(state.strength, 1.5);
                assert!(
                    (found - wanted).abs() < 1e-6 * wanted,
                    "{i} {found} {wanted}"
                );
                let product = state.strength / state.pressure;
                let times = lines.account.loads[i].times;
                assert!((times - product).abs() < 1e-12 * product && times > 1.0);
            }
            let strength = lines.strength;
            assert_eq!(
                (strength.late_reefs, strength.gust, strength.coefficient),
                (1, 1.3, 1.5)
            );
        }
    }
}
