//! Two designs held against each other: against the two accounts themselves.
#![cfg(not(target_arch = "wasm32"))]

use battenwright_site::bench::Bench;
use battenwright_site::rows::{Paper, ViewGiven};
use design::demos;
use quantities::Catalogue;

fn bench(text: &str) -> Bench {
    Bench::open(text, Catalogue::english()).expect("it opens")
}

fn demo(index: usize) -> Bench {
    bench(&demos()[index].text())
}

/// A number of a cell; NaN for none.
fn number(cell: &str) -> f64 {
    let digits: String = cell
        .replace('−', "-")
        .chars()
        .filter(|c| c.is_ascii_digit() || ".-".contains(*c))
        .collect();
    digits.parse().unwrap_or(f64::NAN)
}

fn look(bench: &mut Bench, hoist: &[f64]) {
    bench.set_view(ViewGiven {
        hoist: hoist.to_vec(),
        ..ViewGiven::default()
    });
}

/// Areas, centres, winds, masts and weights of two demos, each at a reef of its own, as their accounts have them.
#[test]
fn results_and_their_differences_are_those_of_the_two_accounts() {
    let (mut one, mut other) = (demo(1), demo(0));
    look(&mut one, &[2.0]);
    look(&mut other, &[1.0]);
    let accounts = [1, 0].map(|i| {
        let document = demos()[i].open().unwrap();
        design::account(document.design())
    });
    let papers = one.compare(&mut other);
    let found = |label: &str| {
        let rows = papers[..2].iter().flat_map(|paper| &paper.detail.rows);
        let row = rows.into_iter().find(|row| row[0] == label).expect(label);
        [number(&row[1]), number(&row[2]), number(&row[3])]
    };
    let row = |i: usize, lowered: usize| {
        let rows = &accounts[i].masts[0].rows;
        rows.iter().find(|row| row.lowered == lowered).unwrap()
    };
    let (a, b) = (row(0, 2), row(1, 1));
    let masts = [0, 1].map(|i| &accounts[i].masts[0]);
    for (label, first, second, within) in [
        ("Area of all sails", a.area, b.area, 0.051),
        (
            "CE aft of mast",
            a.aft_of_mast.unwrap(),
            b.aft_of_mast.unwrap(),
            0.0051,
        ),
        (
            "Chord balance",
            100.0 * a.chord_balance.unwrap(),
            100.0 * b.chord_balance.unwrap(),
            0.051,
        ),
        ("Yard height", a.yard_height, b.yard_height, 0.0051),
        (
            "Mast above partners",
            masts[0].mast.lap,
            masts[1].mast.lap,
            0.0051,
        ),
        (
            "Cloth, weight",
            masts[0].cloth.as_ref().unwrap().panels.iter().sum(),
            masts[1].cloth.as_ref().unwrap().panels.iter().sum(),
            0.051,
        ),
        (
            "Mast, stress of allowed",
            100.0 * masts[0].spars.as_ref().unwrap().mast.ratio,
            100.0 * masts[1].spars.as_ref().unwrap().mast.ratio,
            0.51,
        ),
        (
            "Reefed on the wind in",
            // Whole knots that she is known to stand up to.
            (accounts[0].boat.steps[2].on.unwrap().forecast.value / quantities::units::KNOT)
                .floor(),
            (accounts[1].boat.steps[1].on.unwrap().forecast.value / quantities::units::KNOT)
                .floor(),
            0.0,
        ),
        (
            "Lead",
            100.0 * accounts[0].boat.steps[2].lead.unwrap(),
            100.0 * accounts[1].boat.steps[1].lead.unwrap(),
            0.051,
        ),
    ] {
        let told = found(label);
        assert!(
            (told[0] - first).abs() <= within,
            "{label}: {told:?} {first}"
        );
        assert!(
            (told[1] - second).abs() <= within,
            "{label}: {told:?} {second}"
        );
        // One taken from the other, as a reader would.
        assert!(
            (told[2] - (told[1] - told[0])).abs() < 1e-9,
            "{label}: {told:?}"
        );
    }
}

#[test]
fn inputs_that_differ_are_those_that_were_edited_with_both_values_and_the_difference() {
    let mut one = demo(1);
    let mut other = demo(1);
    let edits = r#"[["masts.0.sail.chord_m",4.43],["boat.displacement_kg",2700],["masts.0.mast_side","starboard"],["boat.crew_to_weather",true]]"#;
    let known = design::Edit::read_list(edits).unwrap();
    let made: Vec<_> = known
        .into_iter()
        .filter(|edit| quantities::bounds::row(&edit.path).is_some())
        .collect();
    assert!(made.len() >= 2);
    other.edit(&made).unwrap();
    let papers = one.compare(&mut other);
    let inputs = &papers[2];
    assert_eq!(
        inputs.detail.rows.len(),
        made.len(),
        "{:?}",
        inputs.detail.rows
    );
    assert_eq!(inputs.title, "");
    let chord = inputs
        .detail
        .rows
        .iter()
        .find(|row| row[0] == "Chord")
        .unwrap();
    let before = number(&one.fields(&["masts.0.sail.chord_m".to_owned()])[0].text);
    assert!((number(&chord[1]) - before).abs() < 1e-9);
    assert!((number(&chord[2]) - 4.43).abs() < 1e-9);
    assert!((number(&chord[3]) - (4.43 - before)).abs() < 1e-9);
    assert!(!chord[4].is_empty(), "its meaning");
    // Against itself nothing differs, and every difference is nought.
    let mut same = demo(1);
    let papers = one.compare(&mut same);
    assert!(papers[2].detail.rows.is_empty() && !papers[2].title.is_empty());
    for row in papers[..2].iter().flat_map(|paper| &paper.detail.rows) {
        assert_eq!(row[1], row[2], "{}", row[0]);
        assert_eq!(number(&row[3]), 0.0, "{}", row[0]);
    }
}

/// One mast against two: each row named by its mast, what one has not a dash; both ways round, in both units, at every reef.
#[test]
fn any_pair_at_any_reef_in_either_unit_is_told_without_a_number_that_is_none() {
    for (i, j) in [(0, 2), (2, 0), (1, 2), (2, 2)] {
        for units in ["m", "ft"] {
            let (mut one, mut other) = (demo(i), demo(j));
            for lowered in [0.0, 1.0, 3.5, 9.0] {
                for bench in [&mut one, &mut other] {
                    bench.set_view(ViewGiven {
                        units: units.to_owned(),
                        hoist: vec![lowered; 2],
                        ..ViewGiven::default()
                    });
                }
                let papers = one.compare(&mut other);
                assert!(papers[0].detail.rows.len() > 10 && papers[1].detail.rows.len() > 10);
                for row in papers.iter().flat_map(|paper| &paper.detail.rows) {
                    assert_eq!(row.len(), 5);
                    for cell in row {
                        assert!(!cell.contains("NaN") && !cell.contains("inf"), "{row:?}");
                        assert!(!cell.contains('{'), "{row:?}");
                    }
                }
                if i != j {
                    let rows = &papers[0].detail.rows;
                    assert!(
                        rows.iter()
                            .any(|row| row[0].ends_with(", fore") || row[0].contains(", ")),
                        "{rows:?}"
                    );
                    let has = papers[2]
                        .detail
                        .rows
                        .iter()
                        .any(|row| row[1] == "–" || row[2] == "–");
                    assert!(has, "a mast that one has not");
                }
                for which in ["one", "other", "over"] {
                    let svg = one.compare_svg(&other, which, 340.0, 400.0);
                    assert!(svg.starts_with("<svg") && !svg.contains("NaN"));
                }
            }
        }
    }
}

/// What a reef changes stands by itself; and a spar of a list goes by its name, of which there is no difference.
#[test]
fn what_a_reef_changes_is_told_apart_from_what_it_does_not() {
    let (mut one, mut other) = (demo(1), demo(0));
    let [whole, reefed] = [0.0, 3.0].map(|lowered| {
        look(&mut one, &[lowered]);
        one.compare(&mut other)
    });
    let rows = |papers: &[Paper], at: usize| papers[at].detail.rows.clone();
    assert_ne!(rows(&whole, 0), rows(&reefed, 0));
    assert_eq!(rows(&whole, 1), rows(&reefed, 1));
    let spars = rows(&whole, 2);
    let spar = spars.iter().find(|row| row[0] == "Spar 1").unwrap();
    assert_eq!(spar[1..4], ["Batten 4", "Batten 2", ""]);
}

/// Rows of inputs can be told apart: no two of the same name, entries of lists by their number.
#[test]
fn no_two_inputs_are_called_alike() {
    for (i, j) in [(0, 1), (1, 2), (2, 0)] {
        let papers = demo(i).compare(&mut demo(j));
        let names: Vec<_> = papers[2].detail.rows.iter().map(|row| &row[0]).collect();
        for (at, name) in names.iter().enumerate() {
            assert!(!names[at + 1..].contains(name), "{i} {j}: {name}");
        }
    }
}
