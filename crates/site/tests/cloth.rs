//! Section Cloth as the page is told it, without a browser.
#![cfg(not(target_arch = "wasm32"))]
#![allow(clippy::unwrap_used, clippy::indexing_slicing)]

use std::cell::Cell;

mod support;

use battenwright_site::bench::Bench;
use battenwright_site::rows::{Detail, ViewGiven};
use design::Edit;
use drawing::Scheme;
use quantities::Catalogue;
use support::CLOTH as PARTS;

const CUTS: [&str; 5] = ["flat", "cambered", "wing", "split", "paired"];

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

fn cut(bench: &mut Bench, cut: &str) {
    edit(bench, &format!(r#"[["masts.0.sail.cut","{cut}"]]"#));
}

fn look(bench: &mut Bench, units: &str) {
    bench.set_view(ViewGiven {
        units: units.to_owned(),
        ..ViewGiven::default()
    });
}

fn table(bench: &mut Bench, part: &str) -> Detail {
    bench.cloth(&[part.to_owned()]).remove(0)
}

fn number(words: &str) -> f64 {
    words.parse().unwrap()
}

/// No key in place of its words, no place left unfilled.
fn assert_said(words: &str) {
    let key = words.contains("sewn.") || words.contains("help.") || words.contains('{');
    assert!(!key && !words.contains("NaN"), "{words}");
}

#[test]
fn every_table_of_every_construction_is_said_in_full_in_either_units() {
    for units in ["m", "ft"] {
        for demo in design::demos() {
            let mut bench = open(&demo.text());
            look(&mut bench, units);
            // Units are spelled alike for all of them.
            let ways = if units == "m" { &CUTS[..] } else { &CUTS[2..3] };
            for way in ways {
                cut(&mut bench, way);
                for part in PARTS {
                    let detail = table(&mut bench, part);
                    assert!(!detail.rows.is_empty(), "{part}");
                    for row in &detail.rows {
                        assert!(row.len() >= detail.columns.len(), "{part}: {row:?}");
                        // Paths are no words.
                        let told = if part == "sewn.verdict" {
                            &row[..2]
                        } else {
                            row
                        };
                        told.iter().for_each(|words| assert_said(words));
                    }
                    for column in &detail.columns {
                        [&column.label, &column.help, &column.unit]
                            .into_iter()
                            .for_each(|words| assert_said(words));
                    }
                }
            }
            for mast in 0..2 {
                for paper in bench.cloth_papers(mast) {
                    assert_said(&paper.title);
                    let width = paper.detail.columns.len().max(paper.detail.rows[0].len());
                    for row in &paper.detail.rows {
                        assert!(row.len() <= width, "{}: {row:?}", paper.title);
                        row.iter().for_each(|words| assert_said(words));
                    }
                }
            }
        }
    }
    assert_eq!(table(&mut demo("marsh-pippin"), "no such").rows.len(), 0);
}

#[test]
fn cloth_weighs_the_same_in_grams_and_either_ounce() {
    let mut bench = demo("marsh-pippin");
    edit(&mut bench, r#"[["masts.0.weights.cloth_gsm",214]]"#);
    let row = table(&mut bench, "sewn.sail").rows.remove(0);
    assert_eq!(row[3], "214");
    // Check values U01 and U02: 33.9057 g/m² to the ounce a square yard, 42.8283 to that of 28.5 by 36 in.
    assert!((number(&row[4]) - 214.0 / 33.9057).abs() < 0.06, "{row:?}");
    assert!((number(&row[5]) - 214.0 / 42.8283).abs() < 0.06, "{row:?}");
}

#[test]
fn camber_typed_for_a_panel_is_the_depth_of_that_panel_alone() {
    let mut bench = demo("marsh-pippin");
    cut(&mut bench, "cambered");
    let before = table(&mut bench, "sewn.panels").rows;
    edit(
        &mut bench,
        r#"[["masts.0.cloth.shapes.0",{"panel":2,"camber_pct":10}]]"#,
    );
    let after = table(&mut bench, "sewn.panels").rows;
    assert_eq!(after[1][1], "10.0");
    // 10 % of its chord of 4.40 m, to the millimetre.
    assert!((number(&after[1][3]) - 440.0).abs() <= 1.0, "{after:?}");
    for panel in [0, 2, 3, 6] {
        assert_eq!(before[panel][..4], after[panel][..4]);
    }
    // Own depth of the after part, on its own chord.
    cut(&mut bench, "split");
    let split = table(&mut bench, "sewn.panels").rows;
    assert_eq!(split[1][1], "10.0");
    cut(&mut bench, "flat");
    assert_eq!(
        table(&mut bench, "sewn.panels").rows[1][1..4],
        ["–", "–", "–"]
    );
    cut(&mut bench, "wing");
    let wing = table(&mut bench, "sewn.panels").rows;
    // Half of 25 % of 40 % of 4.40 m.
    assert_eq!(wing[1][1], "–");
    assert!((number(&wing[1][3]) - 220.0).abs() <= 2.0, "{wing:?}");
}

#[test]
fn each_construction_has_pieces_of_its_own() {
    let mut bench = demo("marsh-pippin");
    let mut counts = Vec::new();
    for way in CUTS {
        cut(&mut bench, way);
        let pieces = table(&mut bench, "sewn.pieces").rows;
        // The table of the five says the same of it.
        let ways = table(&mut bench, "sewn.ways");
        let now = ways.rows.iter().find(|row| row[0].ends_with("(now)"));
        assert_eq!(number(&now.unwrap()[5]) as usize, pieces.len(), "{way}");
        assert!(
            now.unwrap().len() >= ways.columns.len() + 4,
            "notes of {way}"
        );
        counts.push(pieces.len());
    }
    assert_eq!(counts, [7, 7, 21, 14, 7]);
    cut(&mut bench, "cambered");
    edit(&mut bench, r#"[["masts.0.cloth.camber_cut","shelf"]]"#);
    let shelves = table(&mut bench, "sewn.pieces").rows;
    assert_eq!(shelves.len(), 21);
    assert_eq!(table(&mut bench, "sewn.edges").rows.len(), 6 * 21);
    assert_eq!(table(&mut bench, "sewn.offsets").rows.len(), 9 * 21);
}

/// What is left of a sail that cannot be cut is not to look light beside the others.
#[test]
fn a_way_with_panels_that_cannot_be_cut_has_no_cloth_to_compare() {
    let mut bench = demo("marsh-pippin");
    edit(
        &mut bench,
        r#"[["masts.0.cloth.shapes.0",{"panel":2,"camber_pct":11.5}]]"#,
    );
    let rows = table(&mut bench, "sewn.ways").rows;
    for (way, row) in rows.iter().enumerate() {
        let cells = [&row[1], &row[2], &row[5], &row[6]];
        let none = cells.iter().all(|cell| *cell == "–");
        let all = cells.iter().all(|cell| *cell != "–" && number(cell) > 0.0);
        assert!(if way == 1 { none } else { all }, "{way}: {row:?}");
    }
}

/// Panels 1 to 4 at 25 % go past a half circle: no total is told without them, and everything says which they are.
#[test]
fn what_lacks_panels_says_so_first_and_gives_no_totals() {
    let mut bench = demo("marsh-pippin");
    cut(&mut bench, "cambered");
    let whole = table(&mut bench, "sewn.bill").rows.remove(0);
    assert_eq!(whole[0], "–");
    assert!(whole[1..].iter().all(|cell| *cell != "–"), "{whole:?}");
    edit(&mut bench, r#"[["masts.0.cloth.camber_pct",25]]"#);
    let cannot: Vec<String> = (table(&mut bench, "sewn.verdict").rows.iter())
        .filter(|row| row[0] == "danger" && row[1].contains("half circle"))
        .map(|row| row[1].chars().nth(6).unwrap().to_string())
        .collect();
    assert!(cannot.len() >= 4, "{cannot:?}");
    let panels = format!("Panels 1–{}", cannot.len());
    for (part, dashes, known) in [
        ("sewn.sail", 2..3, 1..2),
        ("sewn.bill", 1..9, 9..12),
        ("sewn.roll", 1..4, 0..1),
    ] {
        let row = table(&mut bench, part).rows.remove(0);
        assert_eq!(row[0], panels, "{part}");
        assert!(
            row[dashes].iter().all(|cell| cell == "–"),
            "{part}: {row:?}"
        );
        assert!(row[known].iter().all(|cell| cell != "–"), "{part}: {row:?}");
    }
    let weights = table(&mut bench, "sewn.panels").rows;
    for (panel, row) in weights.iter().enumerate() {
        assert_eq!(row[4] == "–", panel < cannot.len(), "{row:?}");
    }
    let ways = table(&mut bench, "sewn.ways").rows;
    assert!(ways[1][0].contains("cannot be made"), "{:?}", ways[1]);
    assert!(ways[0][0] == "Flat" && ways[1][11].starts_with("Panel 1"));
    let roll = bench.cloth_roll(0, (20, 900.0), Scheme::Print, &|_| {});
    assert!(roll.contains(&panels) && !roll.contains("to order"));
    let papers = bench.cloth_papers(0);
    let bill = papers.iter().find(|p| p.title.starts_with("Bill")).unwrap();
    assert!(bill.detail.rows[0][1].starts_with(&panels), "{bill:?}");
    // Two panels apart.
    edit(
        &mut bench,
        r#"[["masts.0.cloth.camber_pct",7],["masts.0.cloth.shapes.0",{"panel":2,"camber_pct":30}],["masts.0.cloth.shapes.1",{"panel":4,"camber_pct":30}]]"#,
    );
    assert_eq!(table(&mut bench, "sewn.roll").rows[0][0], "Panels 2, 4");
    edit(
        &mut bench,
        r#"[["masts.0.cloth.camber_pct",49],["masts.0.cloth.head_camber_pct",49]]"#,
    );
    assert!(
        bench
            .cloth_file("pdf", 0, "a4")
            .unwrap_err()
            .contains("not in these papers")
    );
}

#[test]
fn strain_past_its_limit_is_told_with_panel_and_field() {
    let mut bench = demo("marsh-pippin");
    cut(&mut bench, "cambered");
    edit(
        &mut bench,
        r#"[["masts.0.cloth.camber_cut","shelf"],["masts.0.cloth.head_camber_pct",9],["masts.0.cloth.shelf_deg",20],["cloth.strain_pct",0.3]]"#,
    );
    let strained = |bench: &mut Bench| {
        let mut rows = table(bench, "sewn.verdict").rows;
        rows.retain(|row| row[1].contains("strained"));
        rows
    };
    let told = strained(&mut bench);
    // The fanned panel at the head, and no other.
    assert_eq!(told.len(), 1, "{told:?}");
    assert!(told[0][1].starts_with("Panel 7"), "{told:?}");
    assert_eq!(
        [&*told[0][0], &*told[0][2]],
        ["look", "masts.0.cloth.camber_pct"]
    );
    edit(&mut bench, r#"[["cloth.strain_pct",null]]"#);
    assert!(strained(&mut bench).is_empty());
}

#[test]
fn what_cannot_be_cut_is_a_danger_and_the_roll_says_where_to_go() {
    let mut bench = demo("marsh-pippin");
    cut(&mut bench, "cambered");
    edit(
        &mut bench,
        r#"[["cloth.roll_m",0.3],["cloth.patch_pct",60]]"#,
    );
    // Patches are laid as the roll is.
    table(&mut bench, "sewn.roll");
    let verdict = table(&mut bench, "sewn.verdict").rows;
    let roll = verdict.iter().find(|row| row[2] == "cloth.roll_m").unwrap();
    assert_eq!(roll[0], "danger");
    assert_eq!(table(&mut bench, "sewn.roll").rows[0][..2], ["–", "–"]);
    let mut bench = demo("marsh-pippin");
    cut(&mut bench, "split");
    edit(
        &mut bench,
        r#"[["masts.0.cloth.shapes.0",{"panel":3,"camber_pct":49}]]"#,
    );
    let verdict = table(&mut bench, "sewn.verdict").rows;
    assert_eq!(verdict[0][0], "danger");
    assert!(verdict[0][1].starts_with("Panel 3"), "{verdict:?}");
    // The others stand.
    assert_eq!(table(&mut bench, "sewn.pieces").rows.len(), 12);
}

#[test]
fn roll_for_the_order_is_no_longer_and_stays_until_the_design_changes() {
    let mut bench = demo("marsh-pippin");
    cut(&mut bench, "cambered");
    let length = |bench: &mut Bench| number(&table(bench, "sewn.roll").rows[0][1]);
    let look = length(&mut bench);
    let told = Cell::new(0.0);
    let drawn = bench.cloth_roll(0, (200, 380.0), Scheme::Light, &|share| {
        assert!(share >= told.get() && share <= 1.0, "{share}");
        told.set(share);
    });
    assert!(told.get() > 0.5);
    assert!(drawn.starts_with("<svg"));
    let ordered = length(&mut bench);
    assert!(ordered <= look, "{ordered} {look}");
    let bill = table(&mut bench, "sewn.bill");
    assert_eq!(number(&bill.rows[0][1]), ordered);
    // Everything cut, and what falls off, is what is ordered.
    let (waste, area) = (number(&bill.rows[0][2]), number(&bill.rows[0][4]));
    let cloth = ordered * 1.37 * (1.0 - 0.01 * waste);
    assert!((cloth / area - 1.0).abs() < 0.03, "{cloth} {area}");
    edit(&mut bench, r#"[["cloth.roll_m",2.1]]"#);
    assert!(length(&mut bench) < 0.9 * ordered);
}

#[test]
fn files_are_what_they_are_called_or_a_sentence() {
    let mut bench = demo("marsh-pippin");
    cut(&mut bench, "cambered");
    for paper in ["a4", "a3", "letter", "0.914 m", "36\""] {
        let pdf = bench.cloth_file("pdf", 0, paper).unwrap();
        assert!(pdf.starts_with(b"%PDF"), "{paper}");
    }
    assert!(
        bench
            .cloth_file("lofting", 0, "a4")
            .unwrap()
            .starts_with(b"%PDF")
    );
    let svg = String::from_utf8(bench.cloth_file("svg", 0, "a4").unwrap()).unwrap();
    assert!(svg.contains("<title>Panel 1</title>"), "{svg}");
    // Pieces, then a patch for every corner; past the last, nothing.
    assert!(!bench.cloth_file("svg", 34, "a4").unwrap().is_empty());
    assert!(bench.cloth_file("svg", 35, "a4").unwrap().is_empty());
    let csv = String::from_utf8(bench.cloth_file("csv", 0, "a4").unwrap()).unwrap();
    assert!(
        csv.starts_with("Piece,Edge,Station [%],x"),
        "{}",
        &csv[..80]
    );
    // Stations as on the screen; no cell with two spaces.
    assert!(
        csv.contains(",12.5,") && !csv.contains("  "),
        "{}",
        &csv[..400]
    );
    for typed in ["", "wide", "40", "0.1"] {
        let told = bench.cloth_file("pdf", 0, typed).unwrap_err();
        assert_said(&told);
        assert!(told.len() > 5, "{typed}: {told}");
    }
}

#[test]
fn without_a_plan_there_is_nothing_and_nothing_breaks() {
    let mut bench = demo("marsh-pippin");
    edit(&mut bench, r#"[["masts.0.sail.panels",0]]"#);
    for part in PARTS {
        let _ = table(&mut bench, part);
    }
    let mut bench = demo("marsh-pippin");
    edit(&mut bench, r#"[["masts",[]]]"#);
    for part in PARTS {
        let _ = table(&mut bench, part);
    }
    let _ = (bench.cloth_papers(7), bench.cloth_piece(3, f64::NAN));
    let _ = bench.cloth_roll(7, (20, f64::NAN), Scheme::Print, &|_| {});
    let _ = bench.cloth_file("pdf", 0, "a4");
}

#[test]
fn paper_has_every_table_and_the_tolerances() {
    let mut bench = demo("grey-heron");
    for mast in 0..2 {
        let papers = bench.cloth_papers(mast);
        // And the notes of the five ways.
        assert_eq!(papers.len(), PARTS.len() + 1);
        let all: String = papers.iter().flat_map(|p| p.detail.rows.concat()).collect();
        assert!(all.contains("± 5"), "diagonals of panels");
        let [.., ways, notes] = papers.as_slice() else {
            panic!("papers")
        };
        assert_eq!(ways.detail.columns.len(), 6, "one for each of the five");
        assert_eq!(notes.detail.rows.len(), 5);
    }
}

/// The wing's yard stands in the mast: a danger with its sign, told once and as the checks have it, and its first advice helps.
#[test]
fn a_limb_that_the_mast_stands_in_is_a_danger_told_as_the_checks_tell_it() {
    let told = |bench: &mut Bench| {
        let mut rows = table(bench, "sewn.verdict").rows;
        rows.retain(|row| row[1].contains("limb") || row[1].contains("of room"));
        rows
    };
    for key in ["marsh-pippin", "grey-heron"] {
        let mut bench = demo(key);
        cut(&mut bench, "wing");
        let rows = told(&mut bench);
        assert_eq!(rows.len(), 1, "{rows:?}");
        assert_eq!(rows[0][0], "danger");
        assert_eq!(rows[0][2], "masts.0.cloth.join_pct");
        let attention = bench.attention();
        let check = (attention.iter())
            .find(|row| row.title.contains("in a limb"))
            .unwrap();
        let what = check.title.split(" (").next().unwrap();
        let what = what.split(", ").next().unwrap();
        assert!(rows[0][1].starts_with(what), "{rows:?} {}", check.title);
        assert!(rows[0][1].ends_with(&check.text), "{rows:?} {}", check.text);
        edit(&mut bench, r#"[["masts.0.cloth.join_pct",50]]"#);
        assert!(told(&mut bench).is_empty());
    }
    // Clear of it, but with less room than is wanted.
    let mut bench = demo("grey-heron");
    cut(&mut bench, "wing");
    edit(&mut bench, r#"[["masts.0.sail.balance_pct",14]]"#);
    let rows = told(&mut bench);
    assert_eq!((rows.len(), &*rows[0][0]), (1, "look"), "{rows:?}");
    assert!(rows[0][1].contains("leaves the mast 12\u{a0}mm of room"));
}

/// What lies on the roll, and nothing else, is what a cutter gets: every width, layer and pocket.
#[test]
fn a_cutter_gets_every_blank_that_lies_on_the_roll() {
    let mut bench = demo("marsh-pippin");
    cut(&mut bench, "cambered");
    edit(
        &mut bench,
        r#"[["cloth.warp","leech"],["cloth.roll_m",1.37]]"#,
    );
    let mut titles = Vec::new();
    loop {
        let svg = bench.cloth_file("blank", titles.len(), "a4").unwrap();
        if svg.is_empty() {
            break;
        }
        let svg = String::from_utf8(svg).unwrap();
        let title = svg.split("<title>").nth(1).unwrap();
        titles.push(title.split("</title>").next().unwrap().to_owned());
    }
    let count = |what: &str| titles.iter().filter(|title| title.contains(what)).count();
    // Seven panels of 4.4 m on 1.37 m, four widths each.
    assert_eq!(count("width"), 28, "{titles:?}");
    assert!(
        titles.contains(&"Panel 1, width 4 of 4".to_owned()),
        "{titles:?}"
    );
    // Four corners of the sail with three layers, six batten ends at the leech with two, all twice but the corners; luff ends have one.
    assert_eq!(count("layer 1"), 28);
    assert_eq!(count("layer 2"), 4 + 12);
    assert_eq!(count("layer 3"), 4);
    assert_eq!(count("Pocket"), 6);
    let different: std::collections::HashSet<_> = titles.iter().collect();
    assert_eq!(different.len(), titles.len());
    // Seams between widths are on the drawing of the piece, and in the whole piece's file.
    let drawn = bench.cloth_piece(0, 900.0);
    assert_eq!(drawn.matches("between widths of cloth, from A").count(), 3);
    let whole = String::from_utf8(bench.cloth_file("svg", 0, "a4").unwrap()).unwrap();
    assert!(whole.contains("seam 3 between widths, overlap 15"));
    edit(
        &mut bench,
        r#"[["cloth.warp","battens"],["cloth.roll_m",3]]"#,
    );
    assert!(!bench.cloth_piece(0, 900.0).contains("between widths"));
}

/// One quantity has one value wherever it is told.
#[test]
fn bill_and_comparison_say_the_same_of_the_way_in_use() {
    for warp in ["fitting", "leech"] {
        let mut bench = demo("marsh-pippin");
        edit(&mut bench, &format!(r#"[["cloth.warp","{warp}"]]"#));
        for way in CUTS {
            cut(&mut bench, way);
            let bill = table(&mut bench, "sewn.bill").rows.remove(0);
            let ways = table(&mut bench, "sewn.ways").rows;
            let now = ways.iter().find(|row| row[0].ends_with("(now)")).unwrap();
            // Cloth cut, made up, sewing, fittings.
            for (in_bill, in_ways) in [(4, 1), (5, 2), (7, 6), (11, 8)] {
                assert_eq!(bill[in_bill], now[in_ways], "{way} {in_bill}");
            }
            let panels = table(&mut bench, "sewn.panels").rows;
            let bare = matches!(way, "flat" | "wing");
            assert_eq!((now[3] == "–", panels[1][1] == "–"), (bare, bare), "{way}");
        }
    }
}

/// As typed, however the fan of the head comes out; the depth is what was obtained.
#[test]
fn camber_of_a_panel_is_told_as_it_was_asked_for() {
    let mut bench = demo("marsh-pippin");
    for way in ["cambered", "split", "paired"] {
        cut(&mut bench, way);
        edit(
            &mut bench,
            r#"[["masts.0.cloth.camber_pct",5],["masts.0.cloth.head_camber_pct",2],["masts.0.cloth.camber_cut","shelf"]]"#,
        );
        let rows = table(&mut bench, "sewn.panels").rows;
        let told: Vec<&str> = rows.iter().map(|row| &*row[1]).collect();
        let graded = ["5.0", "4.5", "4.0", "3.5", "3.0", "2.5", "2.0"];
        assert_eq!(told, graded, "{way}");
        assert!(number(&rows[0][3]) > 50.0, "{way}: {rows:?}");
    }
}

#[test]
fn way_of_the_warp_is_told_piece_by_piece_and_where_it_turns() {
    let mut bench = demo("marsh-pippin");
    cut(&mut bench, "cambered");
    let turns = |bench: &mut Bench| {
        let mut rows = table(bench, "sewn.verdict").rows;
        rows.retain(|row| row[2] == "cloth.warp");
        rows.len()
    };
    let told = |bench: &mut Bench, word: &str| {
        let rows = table(bench, "sewn.pieces").rows;
        rows.iter().filter(|row| row[6] == word).count()
    };
    for (warp, battens, leech) in [("battens", 7, 0), ("leech", 0, 7)] {
        edit(&mut bench, &format!(r#"[["cloth.warp","{warp}"]]"#));
        assert_eq!(told(&mut bench, "Along the battens"), battens);
        assert_eq!(told(&mut bench, "Along the leech"), leech);
        assert_eq!(turns(&mut bench), 0);
    }
    // The fanned head is higher than the lower panels.
    edit(&mut bench, r#"[["cloth.warp",null],["cloth.roll_m",1.37]]"#);
    let along = told(&mut bench, "Along the battens");
    assert!((1..7).contains(&along), "{along}");
    assert_eq!(turns(&mut bench), 1);
}

#[test]
fn in_feet_what_is_bought_is_whole_and_offsets_are_in_sixteenths() {
    let mut bench = demo("marsh-pippin");
    cut(&mut bench, "cambered");
    let metric = table(&mut bench, "sewn.bill").rows.remove(0);
    look(&mut bench, "ft");
    let bill = table(&mut bench, "sewn.bill").rows.remove(0);
    // Order, webbing, sewing, thread.
    for at in [1, 6, 7, 8] {
        let feet = bill[at].strip_suffix('\'').unwrap();
        let more = number(feet) - number(&metric[at]) / 0.3048;
        assert!(
            !feet.contains('.') && more > -0.2 && more < 1.2,
            "{feet} {}",
            metric[at]
        );
    }
    for row in table(&mut bench, "sewn.offsets").rows {
        for cell in &row[2..] {
            assert!(cell.ends_with('"') && !cell.contains('.'), "{row:?}");
        }
    }
    let roll = bench.cloth_roll(0, (20, 900.0), Scheme::Light, &|_| {});
    assert!(
        roll.contains(&format!("{} to order", bill[1])),
        "{}",
        bill[1]
    );
}

/// On a wide page every large piece is named, no two of them alike but where one goes on in the next row.
#[test]
fn names_on_the_roll_are_of_one_piece_each() {
    let mut bench = demo("marsh-pippin");
    for (way, some) in [
        ("wing", &["1 port", "1 starboard", "1 after"][..]),
        ("split", &["Panel 1, fore part"]),
        ("cambered", &["1 1/4", "1 4/4"]),
    ] {
        cut(&mut bench, way);
        edit(
            &mut bench,
            r#"[["cloth.warp","leech"],["cloth.roll_m",1.37]]"#,
        );
        let drawn = bench.cloth_roll(0, (20, 1800.0), Scheme::Print, &|_| {});
        let names: Vec<&str> = (drawn.split("</text>"))
            .filter_map(|text| text.rsplit('>').next())
            .collect();
        for name in some {
            let there = |said: &&str| *said == *name || said.starts_with(&format!("{name} 1/"));
            assert!(
                names.iter().any(there) || way == "wing",
                "{name} in {names:?}"
            );
        }
        let mut seen = std::collections::HashMap::new();
        for (at, name) in names.iter().enumerate() {
            let of_piece = name.chars().next().is_some_and(|c| c.is_ascii_digit())
                && !name.ends_with("m")
                || name.starts_with("Panel");
            if of_piece && !name.contains("continued") {
                // One that goes on with no room to say so is the same on either side of the row's end.
                if let Some(before) = seen.insert(*name, at) {
                    let rows: &[&str] = &names[before..at];
                    let turned = rows.iter().any(|said| said.ends_with("\u{a0}m"));
                    assert!(turned, "{way}: {name} twice in {names:?}");
                }
            }
        }
        assert!(names.contains(&"1A1") && names.iter().any(|name| name.starts_with("P1")));
        assert!(drawn.contains("Corner patches"));
        assert!(drawn.contains(", continued"), "{way}: {names:?}");
    }
}

#[test]
fn gather_is_told_in_millimetres_at_each_edge() {
    let mut bench = demo("marsh-pippin");
    cut(&mut bench, "cambered");
    let mut most = 0.0_f64;
    for row in table(&mut bench, "sewn.edges").rows.iter().take(4) {
        let by = 1000.0 * (number(&row[2]) - number(&row[3]));
        // Lengths are told to the millimetre, this to a tenth.
        assert!((number(&row[4]) - by).abs() < 1.1, "{row:?}");
        most = most.max(number(&row[4]));
    }
    assert!(most > 5.0, "{most}");
    let pieces = table(&mut bench, "sewn.pieces").rows;
    let told = &pieces[0][3];
    assert!(told.contains("mm)"), "{told}");
    let drawn = bench.cloth_piece(0, 900.0);
    assert!(drawn.contains("Gather in all: A–B"), "{drawn}");
}

#[test]
fn like_pieces_are_told_and_drawn_once() {
    let pages = |bench: &mut Bench| {
        let pdf = bench.cloth_file("pdf", 0, "1 m").unwrap();
        let text = String::from_utf8_lossy(&pdf).into_owned();
        let count = text.split("/Pages/Count ").nth(1).unwrap();
        number(count.split(|c: char| !c.is_ascii_digit()).next().unwrap())
    };
    let mut bench = demo("marsh-pippin");
    cut(&mut bench, "flat");
    let like: Vec<String> = (table(&mut bench, "sewn.pieces").rows.iter())
        .map(|row| row[7].clone())
        .collect();
    // The lowest has a hem at the boom, the fanned ones are shapes of their own.
    assert_eq!(like[0], "1");
    assert_eq!(like[1], "cut 3: Panel 2; Panel 3; Panel 4");
    assert_eq!([&*like[2], &*like[3]], ["as Panel 2"; 2]);
    assert_eq!([&*like[4], &*like[6]], ["1"; 2]);
    let fewer = pages(&mut bench);
    // Panel 3 by its own camber is like no other.
    cut(&mut bench, "cambered");
    edit(
        &mut bench,
        r#"[["masts.0.cloth.head_camber_pct",7],["masts.0.cloth.shapes.0",{"panel":3,"camber_pct":8}]]"#,
    );
    let rows = table(&mut bench, "sewn.pieces").rows;
    assert_eq!(
        [&*rows[1][7], &*rows[2][7]],
        ["cut 2: Panel 2; Panel 4", "1"]
    );
    assert!(pages(&mut bench) > fewer);
    cut(&mut bench, "wing");
    let rows = table(&mut bench, "sewn.pieces").rows;
    assert!(rows[0][7].starts_with("cut 2, 1 of them mirrored: Panel 1, port skin; "));
    assert_eq!(rows[1][7], "as Panel 1, port skin");
}
