//! Section Lines as the page is told of it, without a browser.
#![cfg(not(target_arch = "wasm32"))]
#![allow(clippy::unwrap_used, clippy::indexing_slicing)]

use battenwright_site::bench::Bench;
use battenwright_site::rows::{Detail, ViewGiven};
use design::Edit;
use quantities::Catalogue;

fn demo(key: &str) -> Bench {
    let demo = design::demos().iter().find(|demo| demo.key == key).unwrap();
    Bench::open(&demo.text(), Catalogue::english())
        .map_err(|(problem, _)| problem)
        .unwrap()
}

fn look(bench: &mut Bench, units: &str, mast: usize, line: &str, hoist: f64) {
    bench.set_view(ViewGiven {
        units: units.to_owned(),
        mast: mast as f64,
        hoist: vec![hoist; 3],
        line: line.to_owned(),
        lines: true,
        ..ViewGiven::default()
    });
}

/// The first number in some words.
fn number(words: &str) -> f64 {
    let from = words.find(|c: char| c.is_ascii_digit()).unwrap();
    let digits = words[from..].chars();
    let digits: String = digits
        .take_while(|c| c.is_ascii_digit() || *c == '.')
        .collect();
    digits.parse().unwrap()
}

/// All numbers in some words.
fn numbers(words: &str) -> Vec<f64> {
    let parts = words.split(|c: char| !c.is_ascii_digit() && c != '.');
    parts.filter_map(|part| part.parse().ok()).collect()
}

fn all_words(detail: &Detail) -> Vec<String> {
    let heads = detail.columns.iter().map(|column| column.label.clone());
    heads.chain(detail.rows.iter().flatten().cloned()).collect()
}

fn assert_said(words: &str) {
    let key = ["line.", "label.", "help.", "choice.", "spar."];
    assert!(!key.iter().any(|key| words.starts_with(key)), "{words}");
    assert!(!words.contains('{') && !words.contains("NaN"), "{words}");
}

#[test]
fn every_line_of_every_sail_is_taken_in_hand_by_its_name_and_said_in_full() {
    for demo_ in design::demos() {
        let mut bench = demo(demo_.key);
        let masts = bench.reef_table().rows[0].hoist.len();
        for (mast, units) in (0..masts).flat_map(|mast| [(mast, "m"), (mast, "ft")]) {
            look(&mut bench, units, mast, "", 1.0);
            assert_eq!(bench.line_in_hand(), None);
            let lines = bench.lines();
            assert_eq!(lines.lowered, 1);
            assert_eq!(lines.loads.rows.len(), lines.panels as usize + 1);
            all_words(&lines.list)
                .iter()
                .for_each(|words| assert_said(words));
            for row in &lines.list.rows {
                assert_eq!(row.len(), 4 + lines.list.columns.len());
                look(&mut bench, units, mast, &row[0], 1.0);
                let hand = bench.line_in_hand().unwrap();
                assert_eq!((&hand.id, &hand.name), (&row[0], &row[2]));
                assert!(hand.path.len() >= 2, "{}", hand.name);
                assert_eq!(hand.lengths.rows.len(), lines.panels as usize + 1);
                for words in hand.path.iter().flatten() {
                    assert_said(words);
                }
                for fact in &hand.facts {
                    assert_said(&fact.label);
                    assert!(!fact.help.is_empty(), "{}", fact.label);
                    assert_said(&fact.help);
                }
            }
            for row in &lines.loads.rows {
                let loads = bench.line_loads(row.hoist[mast] as usize);
                assert!(loads.rows.len() >= 8);
                all_words(&loads)
                    .iter()
                    .for_each(|words| assert_said(words));
            }
            for column in lines.list.columns.iter().chain(&lines.loads.columns) {
                assert!(!column.help.is_empty(), "{}", column.label);
            }
        }
        for paper in bench.line_papers() {
            assert_said(&paper.title);
            for row in &paper.detail.rows {
                assert_eq!(row.len(), paper.detail.columns.len(), "{}", paper.title);
            }
            all_words(&paper.detail)
                .iter()
                .for_each(|words| assert_said(words));
        }
    }
}

/// What a frame at rest carries of the section; while a handle is held nothing of it is asked for.
#[test]
fn few_values_cross_in_a_frame() {
    let mut bench = demo("marsh-pippin");
    look(&mut bench, "m", 0, "sheet-0", 0.0);
    let lines = bench.lines();
    let values = |rows: &[Vec<String>]| rows.iter().map(Vec::len).sum::<usize>();
    let cells: usize = lines.loads.rows.iter().map(|row| row.cells.len() + 3).sum();
    assert!(values(&lines.list.rows) + cells <= 200);
    let hand = bench.line_in_hand().unwrap();
    let in_hand = values(&hand.path) + values(&hand.lengths.rows) + 4 * hand.facts.len();
    assert!(in_hand <= 120, "{in_hand}");
}

#[test]
fn no_name_of_a_line_does_harm() {
    let mut bench = demo("marsh-pippin");
    for name in [
        "",
        "-",
        "sheet",
        "sheet-",
        "sheet-9",
        "sheet--1",
        "span-0",
        "span-0-99",
        "parrel-x",
        "hauling-18446744073709551615",
        "halyards",
        "lifts-1-2",
    ] {
        look(&mut bench, "m", 7, name, f64::NAN);
        let hand = bench.line_in_hand();
        // What follows a whole name is passed over.
        assert_eq!(hand.is_some(), name == "lifts-1-2", "{name}");
        bench.scene(390.0, 400.0);
        bench.plot("above", 390.0, 250.0);
        assert_eq!(bench.nudge("point-1", 1.0, true, true), "[]");
    }
    assert!(bench.drill(0, 99).is_empty());
    assert!(bench.drill(usize::MAX, 0).is_empty());
    assert!(bench.line_loads(99).rows.is_empty());
}

/// The amounts of a drill over two reefs are those of the two singly, and shaking out gives back what reefing took.
#[test]
fn amounts_of_the_drill_add_up() {
    let mut bench = demo("marsh-pippin");
    look(&mut bench, "m", 0, "", 0.0);
    let halyard = |from, to| {
        let steps = bench.drill(from, to);
        let step = steps.iter().find(|step| step[0] == "halyard").unwrap();
        (step[2].clone(), number(&step[3]))
    };
    let (ease, one) = halyard(0, 1);
    let (_, two) = halyard(1, 2);
    let (_, both) = halyard(0, 2);
    let (haul, back) = halyard(2, 0);
    assert_eq!((ease.as_str(), haul.as_str()), ("ease", "haul"));
    assert!((one + two - both).abs() < 0.011, "{one} {two} {both}");
    assert_eq!(both, back);
    // Before anything is hauled on the way up, what could break a batten is free (common practice).
    let steps = bench.drill(2, 0);
    let hauled = steps.iter().position(|step| step[2] == "haul").unwrap();
    for before in &steps[..hauled] {
        let eased = before[2].starts_with("ease");
        assert!(before[2] == "slack off" || eased, "{before:?}");
    }
    assert!(steps[..hauled].iter().any(|step| step[0] == "sheet-0"));
}

#[test]
fn the_rope_over_the_counter_is_the_cordage_list_summed() {
    let bench = demo("marsh-pippin");
    let papers = bench.line_papers();
    let sum = |paper: usize, column: usize| -> f64 {
        let rows = papers[paper].detail.rows.iter();
        rows.map(|row| number(&row[column])).sum()
    };
    // To the decimal that is shown, of sixteen lines and four ropes.
    assert!(
        (sum(0, 1) - sum(1, 1)).abs() < 1.0,
        "{} {}",
        sum(0, 1),
        sum(1, 1)
    );
    // The last row of the fittings is the sum of those above it.
    let fittings = &papers[2].detail.rows;
    let (total, rows) = fittings.split_last().unwrap();
    for column in 2..5 {
        let sum: f64 = rows.iter().map(|row| number(&row[column])).sum();
        assert_eq!(number(&total[column]), sum);
    }
}

#[test]
fn the_belay_plan_goes_from_port_to_starboard() {
    let bench = demo("grey-heron");
    let papers = bench.line_papers();
    let belay = papers
        .iter()
        .filter(|paper| paper.title.starts_with("Belay plan"));
    for paper in belay {
        let across = paper.detail.rows.iter().map(|row| {
            let off = number(&row[2]);
            if row[2].ends_with("port") { -off } else { off }
        });
        let across: Vec<f64> = across.collect();
        assert!(across.len() > 4 && across[0] < 0.0 && across[across.len() - 1] > 0.0);
        assert!(across.is_sorted(), "{across:?}");
    }
}

#[test]
fn a_mast_named_like_a_formula_is_plain_words_in_the_csv_of_the_lines() {
    for name in ["=HYPERLINK(\"x\")", "+1", "-1", "@x", "\tx"] {
        let mut bench = demo("grey-heron");
        bench
            .edit(&[Edit::value("masts.1.name", name.into())])
            .unwrap();
        let csv = bench.dossier_csv("lines");
        assert!(csv.contains("Cordage"));
        for line in csv.lines() {
            for cell in line.split(',') {
                let cell = cell.trim_start_matches('"');
                assert!(!cell.starts_with(['=', '@', '\t', '+']), "{line}");
            }
        }
    }
}

#[test]
fn usual_spans_and_holds_written_out_change_nothing() {
    for demo_ in design::demos() {
        let mut bench = demo(demo_.key);
        look(&mut bench, "m", 0, "", 0.0);
        let before = bench.lines();
        for what in ["spans", "holds"] {
            let edits = bench.write_out(what);
            bench.edit(&Edit::read_list(&edits).unwrap()).unwrap();
        }
        let after = bench.lines();
        assert_eq!(after.list.rows.len(), before.list.rows.len());
        let rows = after.list.rows.iter().zip(&before.list.rows);
        for (one, other) in rows.flat_map(|(one, other)| one.iter().zip(other)) {
            let (one_numbers, other_numbers) = (numbers(one), numbers(other));
            assert_eq!(one_numbers.len(), other_numbers.len());
            // Written places are round: a lever of theirs may differ by a little.
            for (a, b) in one_numbers.iter().zip(&other_numbers) {
                let same = (a - b).abs() <= 0.003 * b.abs().max(4.0);
                assert!(same, "{}: {one} {other}", demo_.key);
            }
        }
    }
}

#[test]
fn the_deck_block_goes_where_the_hand_drags_it_from_above() {
    let mut bench = demo("marsh-pippin");
    look(&mut bench, "m", 0, "sheet-0", 0.0);
    let (width, height) = (390.0, 250.0);
    let block = |bench: &Bench| bench.handles_above(width, height)[0].clone();
    let before = block(&bench);
    let (x, y) = (before.x - 12.0, before.y + 9.0);
    let edits = bench.drag_above(&before.id, x, y, width, height);
    bench.edit(&Edit::read_list(&edits).unwrap()).unwrap();
    let after = block(&bench);
    // A centimetre is less than a pixel here.
    assert!((after.x - x).abs() < 1.0 && (after.y - y).abs() < 1.0);
    // A key to starboard: up on the page.
    let edits = bench.nudge(&before.id, 10.0, true, true);
    bench.edit(&Edit::read_list(&edits).unwrap()).unwrap();
    assert!(block(&bench).y < after.y);
    assert!(edits.contains("block_y_m"), "{edits}");
}

#[test]
fn the_deck_block_goes_up_where_the_hand_drags_it_in_profile() {
    let mut bench = demo("marsh-pippin");
    look(&mut bench, "m", 0, "sheet-0", 0.0);
    let (width, height) = (390.0, 500.0);
    let block = |bench: &mut Bench| {
        let found = bench.handles(width, height);
        let found = found
            .iter()
            .find(|row| row.label.contains("block") && row.axis == "x");
        found.unwrap().clone()
    };
    let before = block(&mut bench);
    for (x, y, path) in [(0.0, -9.0, "block_z_m"), (-9.0, 0.0, "block_x_m")] {
        let from = block(&mut bench);
        let edits = bench.drag(&from.id, from.x + x, from.y + y, width, height);
        assert!(edits.contains(path), "{edits}");
        // What the hand does not move stays with its rule.
        assert_eq!(edits.matches("block_").count(), 1, "{edits}");
        bench.edit(&Edit::read_list(&edits).unwrap()).unwrap();
    }
    let after = block(&mut bench);
    assert!((after.x - before.x + 9.0).abs() < 1.0 && (after.y - before.y + 9.0).abs() < 1.0);
    let edits = bench.nudge(&after.id, 1.0, true, false);
    bench.edit(&Edit::read_list(&edits).unwrap()).unwrap();
    assert!(block(&mut bench).y < after.y && edits.contains("block_z_m"));
}

/// A sheet's way begins at its fast end, goes by every span's block and ends at the cleat, as many times between as it has parts.
#[test]
fn a_sheet_is_told_as_it_is_rove() {
    for demo_ in design::demos() {
        let mut bench = demo(demo_.key);
        look(&mut bench, "m", 0, "sheet-0", 0.0);
        let hand = bench.line_in_hand().unwrap();
        let steps: Vec<&str> = hand.rove.split(", ").collect();
        let fast = ["From the becket on the ", "Made fast in place of the "];
        assert!(
            fast.iter().any(|fast| steps[0].starts_with(fast)),
            "{steps:?}"
        );
        assert_eq!(*steps.last().unwrap(), "to the cleat");
        let spans = bench.lines().list.rows;
        let spans = spans.iter().filter(|row| row[0].starts_with("span-0-"));
        for number in 1..=spans.count() {
            let block = format!("the block of span {number}");
            assert!(hand.rove.contains(&block), "{block}: {}", hand.rove);
        }
        // Up and down in turn.
        for two in steps[1..steps.len() - 1].windows(2) {
            let up = |step: &str| step.starts_with("up to");
            assert!(up(two[0]) != up(two[1]), "{steps:?}");
        }
        look(&mut bench, "m", 0, "halyard", 0.0);
        assert_eq!(bench.line_in_hand().unwrap().rove, "");
    }
}

/// Rope is bought by whole feet or tenths of a metre, never less than is needed; for the whole boat once more.
#[test]
fn rope_to_buy_is_rounded_up() {
    let mut bench = demo("grey-heron");
    for (units, step) in [("m", 0.1), ("ft", 1.0)] {
        look(&mut bench, units, 0, "", 0.0);
        let papers = bench.line_papers();
        let all = papers.last().unwrap();
        assert_eq!(all.title, "Rope to buy, whole boat");
        let mut sums = [0.0, 0.0];
        for paper in &papers {
            if paper.title.starts_with("Rope to buy") {
                let of_mast = usize::from(paper.title == all.title);
                for row in &paper.detail.rows {
                    let buy = number(&row[1]);
                    assert!((buy / step - (buy / step).round()).abs() < 1e-6, "{buy}");
                    sums[of_mast] += buy;
                }
            }
        }
        assert!(
            sums[0] > 0.0 && (sums[0] - sums[1]).abs() < 0.05,
            "{sums:?}"
        );
    }
    look(&mut bench, "ft", 0, "", 0.0);
    let feet: f64 = (bench.lines().list.rows.iter())
        .map(|row| number(&row[5]))
        .sum();
    look(&mut bench, "m", 0, "", 0.0);
    let rows = bench.lines().list.rows;
    let metres: f64 = rows.iter().map(|row| number(&row[5])).sum();
    let n = rows.len() as f64;
    // One foot is 0.3048 m (NIST SP 811); each line is rounded up by less than a foot or a tenth.
    assert!(feet * 0.3048 > metres - 0.1 * n && feet * 0.3048 < metres + 0.3048 * n);
}

/// Every block of the fittings is in the list by type; the pull closer than on the wind is not told.
#[test]
fn blocks_are_told_by_type_and_no_pull_where_nobody_sails() {
    for demo_ in design::demos() {
        let mut bench = demo(demo_.key);
        look(&mut bench, "ft", 0, "sheet-0", 0.0);
        let papers = bench.line_papers();
        let total = number(&papers[2].detail.rows.last().unwrap()[2]);
        let list = &papers[3].detail;
        let pieces: f64 = list.rows.iter().map(|row| number(&row[1])).sum();
        assert_eq!(pieces, total, "{}: {list:?}", demo_.key);
        let sweep = bench.sweep();
        let (first, middle) = (&sweep.rows[0], &sweep.rows[sweep.rows.len() / 2]);
        assert_eq!(middle[0], "amidships");
        assert_eq!(numbers(&middle[2]), [0.0; 0]);
        assert!(
            number(&first[2]) > 0.0 && first[3].contains('"'),
            "{first:?}"
        );
    }
}
