//! Random and hostile documents: never a panic, never a number that is none, nothing lost.
#![allow(clippy::unwrap_used)]

mod support;

use design::{Account, Document, Edit, Tree, View, account, demos, in_use, pose};
use proptest::prelude::*;
use quantities::{Catalogue, Kind, Units, bounds};

/// What someone might put where a number, a word or a list belongs.
const HOSTILE: &[&str] = &[
    "0",
    "-0.0",
    "-1",
    "1",
    "1e-300",
    "-1e300",
    "1e999",
    "-1e999",
    "123456789012345678901234567890.5",
    "12.000000000000000000001",
    "3.5",
    "null",
    "true",
    "\"NaN\"",
    "\"\"",
    "[]",
    "{}",
    "[[]]",
    "[1e999]",
    "[0,0,0,0,0,0,0,0,0,0,0,0,0,0]",
    "{\"from_m\":5,\"to_m\":1,\"height_m\":0}",
    "[{},{},{}]",
    "[[0],[1]]",
];

/// Paths of every row, first mast and first entries, and of what holds them.
fn paths() -> Vec<String> {
    let mut all: Vec<String> = bounds::ROWS
        .iter()
        .map(|row| row.path.replace("[]", ".0"))
        .collect();
    for branch in [
        "boat",
        "masts",
        "masts.0",
        "masts.1",
        "masts.0.sail",
        "masts.1.sail",
        "boat.coachroof",
        "boat.cockpit",
        "masts.0.sail.spars",
        "masts.0.sail.head_steps",
        "masts.0.sail.spars.1",
        "masts.0.sail.head_widths_pct",
        "reefs",
        "reefs.sequence",
        "reefs.sequence.1",
        "format",
        "version",
        "elsewhere",
        "masts.0.sail.spars.1.length_m",
        "masts.1.sail.chord_m",
        "lines",
        "masts.0.lines",
        "masts.0.lines.yard",
        "masts.0.lines.spans",
        "masts.0.lines.spans.1",
        "masts.0.lines.holds",
        "masts.0.lines.lifts.catches_pct",
        "masts.0.weights",
        "spars",
        "spars.materials",
        "spars.stock.1",
        "masts.0.spars",
        "masts.0.spars.pieces.1",
        "masts.0.spars.plies",
        "masts.0.spars.weak",
        "masts.0.spars.special",
    ] {
        all.push(branch.to_owned());
    }
    all
}

/// No number of the account or pose is infinite or none. Debug writes those as `NaN` and `inf`.
fn all_numbers_are_numbers(document: &Document, account: &Account, hoist: f64) {
    let view = View {
        hoist: vec![hoist; 3],
        sheeting: hoist - 3.0,
        ..View::default()
    };
    let pose = pose(document.design(), account, &view);
    let mut masts = account.masts.clone();
    for mast in &mut masts {
        mast.name.clear();
    }
    let written = format!("{masts:?} {:?} {pose:?}", account.rig);
    for none in ["NaN", "inf"] {
        if let Some(at) = written.find(none) {
            panic!(
                "{} in ...{}",
                none,
                &written[at.saturating_sub(200)..at + 3]
            );
        }
    }
    let words = Catalogue::english();
    for problem in document.problems().iter().chain(&account.problems) {
        let said = words.say(&problem.text, Units::IMPERIAL);
        assert!(!said.contains('{') && said != problem.text.key, "{said}");
    }
    for check in &account.checks {
        assert!(check.value.is_none_or(|(value, _)| value.is_finite()));
    }
}

fn look_through(text: &str, hoist: f64) {
    let document = match Document::open(text) {
        Ok(document) => document,
        Err(problem) => {
            let said = Catalogue::english().say(&problem.text, Units::METRIC);
            assert!(problem.refused && said != problem.text.key, "{said}");
            return;
        }
    };
    let account = account(document.design());
    all_numbers_are_numbers(&document, &account, hoist);
    for row in bounds::ROWS {
        in_use(document.design(), &account, &row.path.replace("[]", ".0"));
    }
    for mast in 0..document.design().masts.len() {
        let mut copy = document.clone();
        if let Ok(edits) = document.fit_area(mast, 20.0) {
            copy.edit(&edits).unwrap();
        }
        copy.edit(&document.to_table(mast)).unwrap();
        copy.edit(&document.write_spans(mast, &account)).unwrap();
        copy.edit(&document.write_holds(mast, &account)).unwrap();
        let again = Document::open(&copy.text()).unwrap();
        assert_eq!(again.text(), copy.text());
    }
    assert_eq!(
        Document::open(&document.text()).unwrap().text(),
        document.text()
    );
}

proptest! {
    /// Demos with a few hostile values put in, whatever their type.
    #[test]
    fn a_demo_with_hostile_values_opens_or_is_refused(
        demo in 0..3usize,
        edits in prop::collection::vec((0..1000usize, 0..HOSTILE.len()), 1..6),
        hoist in -1.0..9.0f64,
    ) {
        let paths = paths();
        let mut tree = Tree::parse(&demos()[demo].text()).unwrap();
        for (path, value) in edits {
            let value = serde_json::from_str(HOSTILE[value]).unwrap();
            let path = paths[path % paths.len()].clone();
            // An edit the tree itself refuses leaves it as it was.
            let _ = tree.edit(&[Edit { path, value: Some(value), exact: true }]);
        }
        look_through(&tree.text(), hoist);
    }

    /// Every number anywhere within its hard limits: all that the geometry says it can stand.
    #[test]
    fn any_number_within_hard_limits_is_worked_out(
        demo in 0..3usize, family in 0..4usize,
        shares in prop::collection::vec(0.0..1.0f64, 64), extreme in prop::bool::ANY,
        some in 0..8u32, hoist in -1.0..9.0f64,
    ) {
        let document = demos()[demo].open().unwrap();
        let mut tree = Tree::parse(&document.text()).unwrap();
        for m in 0..document.design().masts.len() {
            tree.edit(&document.to_table(m)).unwrap();
        }
        let word = ["fanned-head", "full-fan", "low-yard", "table"][family];
        tree.edit(&[Edit::value("masts.0.sail.family", serde_json::Value::from(word))]).unwrap();
        for (i, row) in bounds::ROWS.iter().enumerate() {
            // Every eighth row or so, so that what goes wrong can be told apart.
            if !matches!(row.kind, Kind::Number | Kind::Whole) || (i as u32 * 7 + some) % 8 > 2 {
                continue;
            }
            let share = shares[i % shares.len()];
            let share = if extreme { share.round() } else { share };
            let value = row.hard_least + (row.hard_most - row.hard_least) * share;
            let value = if row.kind == Kind::Whole { value.round() } else { value };
            let path = row.path.replacen("[]", ".0", 1).replacen("[]", ".2", 1);
            let _ = tree.edit(&[Edit::exact(path, value)]);
        }
        look_through(&tree.text(), hoist);
    }

    /// Text that is a document no longer.
    #[test]
    fn a_text_cut_or_altered_anywhere_is_opened_or_refused(
        demo in 0..3usize, at in 0.0..1.0f64, byte in 0..128u8, cut in prop::bool::ANY,
    ) {
        let mut text = demos()[demo].text();
        let mut place = (at * text.len() as f64) as usize;
        while !text.is_char_boundary(place) {
            place -= 1;
        }
        if cut {
            text.truncate(place);
        } else {
            text.insert(place, char::from(byte));
        }
        look_through(&text, 2.5);
    }

    /// Edits from the page, good and bad, then all of them undone.
    #[test]
    fn whatever_is_edited_undo_gives_the_first_text(
        edits in prop::collection::vec((0..1000usize, prop::option::of(0..HOSTILE.len())), 1..30),
    ) {
        let paths = paths();
        let mut document = demos()[2].open().unwrap();
        let first = document.text();
        let mut undo = Vec::new();
        for (path, value) in edits {
            let edit = Edit {
                path: paths[path % paths.len()].clone(),
                value: value.map(|v| serde_json::from_str(HOSTILE[v]).unwrap()),
                exact: false,
            };
            let before = document.text();
            match document.edit(&[edit]) {
                Ok(steps) => undo.push(steps),
                Err(_) => prop_assert_eq!(document.text(), before),
            }
        }
        for steps in undo.iter().rev() {
            document.apply(steps, true).unwrap();
        }
        prop_assert_eq!(document.text(), first);
    }
}
