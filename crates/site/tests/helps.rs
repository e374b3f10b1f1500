//! Every number shown tells what it means: each column and figure of each section, and each row of what unfolds.
#![cfg(not(target_arch = "wasm32"))]

use std::collections::BTreeSet;

use battenwright_site::bench::Bench;
use battenwright_site::rows::{Detail, Figure, ViewGiven};
use design::{blank, demos};
use quantities::Catalogue;

const SPARS: [&str; 14] = [
    "mast",
    "allowed",
    "cases",
    "weak_places",
    "schedule",
    "orders",
    "staves",
    "spars",
    "weights",
    "rig",
    "winds",
    "forces",
    "hull",
    "raising",
];
const CLOTH: [&str; 9] = [
    "sail", "panels", "bill", "roll", "sticks", "pieces", "edges", "offsets", "ways",
];

fn has_digits(cell: &str) -> bool {
    cell.chars().any(|c| c.is_ascii_digit())
}

/// Heads over names that may hold a number.
const NAMES: [&str; 6] = ["Piece", "Edge", "Panel", "Spar", "Part", "Worst"];

/// Columns of numbers without a meaning, those of the drill left out, which say what is done.
fn columns(found: &mut BTreeSet<String>, at: &str, detail: &Detail, first: usize) {
    for (i, column) in detail.columns.iter().enumerate().skip(first) {
        let numbers = detail
            .rows
            .iter()
            .any(|row| row.get(i).is_some_and(|cell| has_digits(cell)));
        let named = NAMES.contains(&column.label.as_str()) || column.label.contains('→');
        if numbers && !named && !meant(&column.help) {
            found.insert(format!("{at}: {}", column.label));
        }
    }
    if detail.columns.is_empty() {
        for row in &detail.rows {
            let help = row.get(2).map_or("", String::as_str);
            if has_digits(&row[1]) && !meant(help) {
                found.insert(format!("{at}: {}", row[0]));
            }
        }
    }
}

fn figures(found: &mut BTreeSet<String>, at: &str, figures: &[Figure]) {
    for figure in figures {
        if !meant(&figure.help) {
            found.insert(format!("{at}: {}", figure.label));
        }
    }
}

/// A sentence of its own.
fn meant(help: &str) -> bool {
    help.ends_with('.') && help.chars().count() > 12
}

#[test]
fn every_number_of_every_section_has_a_meaning_one_tap_away() {
    let mut found = BTreeSet::new();
    for demo in demos().iter().chain([&blank()]) {
        let mut bench = Bench::open(&demo.text(), Catalogue::english()).unwrap();
        for mast in 0..demo.open().unwrap().design().masts.len() {
            let view = ViewGiven {
                mast: mast as f64,
                hoist: vec![2.0, 1.0],
                ..ViewGiven::default()
            };
            bench.set_view(view.clone());
            figures(&mut found, "headline", &bench.headline());
            for column in bench.reef_table().columns {
                assert!(meant(&column.help), "{}", column.label);
            }
            for row in bench.reef_table().rows {
                columns(&mut found, "reefs", &row.detail, 1);
            }
            let balance = bench.balance();
            figures(&mut found, "balance", &balance.figures);
            columns(&mut found, "loadings", &balance.loadings, 1);
            columns(&mut found, "swap", &balance.swap, 1);
            for row in &balance.reefs.rows {
                columns(&mut found, "winds", &row.detail, 0);
            }
            for column in &balance.reefs.columns {
                assert!(meant(&column.help), "{}", column.label);
            }
            let lines = bench.lines();
            for column in lines.list.columns.iter().chain(&lines.loads.columns) {
                assert!(meant(&column.help), "{}", column.label);
            }
            columns(&mut found, "sweep", &bench.sweep(), 1);
            for lowered in [0, 1, 3] {
                let loads = bench.line_loads(lowered);
                // Each batten end's pulls say themselves what they are.
                let rows = loads.rows.into_iter().filter(|row| row.len() > 2).collect();
                columns(
                    &mut found,
                    "loads",
                    &Detail {
                        columns: loads.columns,
                        rows,
                    },
                    0,
                );
            }
            for row in &lines.list.rows {
                bench.set_view(ViewGiven {
                    line: row[0].clone(),
                    ..view.clone()
                });
                if let Some(line) = bench.line_in_hand() {
                    figures(&mut found, "line", &line.facts);
                    columns(&mut found, "line lengths", &line.lengths, 1);
                }
            }
            for paper in bench.line_papers() {
                columns(&mut found, "line papers", &paper.detail, 1);
            }
            for part in SPARS {
                columns(&mut found, part, &bench.spars(&format!("proof.{part}")), 0);
            }
            let parts = CLOTH.map(|part| format!("sewn.{part}"));
            for (part, detail) in CLOTH.iter().zip(bench.cloth(&parts)) {
                columns(&mut found, part, &detail, 0);
            }
        }
    }
    let listed: Vec<_> = found.into_iter().collect();
    assert!(
        listed.is_empty(),
        "without a meaning:\n{}",
        listed.join("\n")
    );
}

/// For glossary and lesson: every word with its name and meaning; what she has on the drawing now is marked.
#[test]
fn words_of_the_trade_come_with_name_meaning_and_whether_they_can_be_pointed_at() {
    let mut bench = Bench::open(&demos()[2].text(), Catalogue::english()).unwrap();
    let mut here = |hoist: f64, key: &str| {
        bench.set_view(ViewGiven {
            hoist: vec![hoist; 2],
            ..ViewGiven::default()
        });
        let rows = bench.named_parts();
        for row in &rows {
            assert_eq!(row.len(), 4);
            assert!(!row[1].starts_with("part.") && meant(&row[2]), "{row:?}");
        }
        let row = rows.iter().find(|row| row[0] == key).unwrap();
        row[3] == "yes"
    };
    assert!(!here(0.0, "bundle") && here(2.0, "bundle"));
    assert!(here(0.0, "yard") && here(0.0, "ce") && !here(0.0, "gybe"));
}
