//! Beams against a finite-element library: numbers of `tests/reference/beams.tsv`, made by `beams.py` beside it.

use crate::beams::beam;
use crate::sections::{FACTORS, near, of};
use spars::beam::{put, spread};
use spars::{Piece, Pole};

const DATA: &str = include_str!("../reference/beams.tsv");

/// The number of a case; its sign is the library's own.
fn wanted(case: &str, what: &str) -> f64 {
    let line = DATA.lines().find_map(|line| {
        let mut cells = line.split('\t');
        (cells.next() == Some(case) && cells.next() == Some(what)).then(|| cells.next().unwrap())
    });
    line.unwrap_or_else(|| panic!("{case} {what}"))
        .parse()
        .unwrap()
}

fn poles() -> [(&'static str, Pole, f64); 3] {
    let (spruce, alloy) = (of("sitka-spruce"), of("6061-t6"));
    let tube = |from, to, d, t| Piece::new(from, to, (d, d), Some((t, t)), alloy);
    [
        ("spruce", crate::masts::spruce(), 1.0),
        (
            "stepped",
            Pole {
                pieces: vec![
                    tube(0.0, 4.0, 0.1, 0.003),
                    tube(4.0, 7.0, 0.08, 0.003),
                    tube(7.0, 9.0, 0.06, 0.002),
                ],
            },
            1.2,
        ),
        (
            "sleeved",
            Pole {
                pieces: vec![
                    tube(0.0, 4.0, 0.15, 0.005),
                    Piece::new(3.6, 9.0, (0.14, 0.08), None, spruce),
                ],
            },
            1.3,
        ),
    ]
}

const LOADS: [(f64, f64); 6] = [
    (1.9, 60.0),
    (2.7, 120.0),
    (3.5, 120.0),
    (4.3, 110.0),
    (5.1, 95.0),
    (5.9, 45.0),
];

/// Within 0.2 % with the mast's own fineness of stations.
#[test]
fn masts_bend_as_the_library_says() {
    let marks = [
        ("spruce", [1.0, 3.5, 7.0]),
        ("stepped", [1.2, 4.0, 9.0]),
        ("sleeved", [1.3, 3.8, 9.0]),
    ];
    for (name, pole, bury) in poles() {
        let b = beam(&pole, [0.0, bury], pole.length() / 128.0);
        let n = b.at.len();
        let mut loads = vec![0.0; n];
        for (x, force) in LOADS {
            put(&b.at, &mut loads, x, force);
        }
        for (case, top, heavy) in [("", 0.0, 0.0), ("-thrust", 1.0, 9.80665)] {
            let mut thrust = vec![0.0; n];
            thrust[n - 1] = top * if name == "spruce" { 600.0 } else { 400.0 };
            spread(
                &b.at,
                &mut thrust,
                &|k| pole.at(b.at[k], &FACTORS).mass,
                heavy,
            );
            let case = format!("{name}{case}");
            if case == "sleeved-thrust" {
                continue;
            }
            let bent = b.bend(&loads, &thrust);
            for side in [0, 1] {
                near(
                    bent.reactions[side],
                    wanted(&case, &format!("reaction {side}")),
                    2e-3,
                );
            }
            let (_, places) = marks.iter().find(|m| m.0 == name).unwrap();
            for x in places {
                // Just above it, as the library tells it.
                let k = b.at.iter().rposition(|a| *a <= x + 1e-9).unwrap();
                if (b.at[k] - x).abs() > 1e-9 {
                    continue;
                }
                let same = |found: f64, what: &str| {
                    let wanted = wanted(&case, &format!("{what} {x}")).abs();
                    near(found.abs() + 1e-9, wanted + 1e-9, 2e-3);
                };
                same(bent.deflection[k], "deflection");
                same(bent.slope[k], "slope");
                if k + 1 < n {
                    same(bent.moment[k], "moment");
                }
            }
        }
    }
}

#[test]
fn masts_ring_as_the_library_says() {
    for ((name, pole, bury), head) in poles().into_iter().zip([1.0, 0.0, 2.0]) {
        let b = beam(&pole, [0.0, bury], pole.length() / 128.0);
        let mut mass = vec![0.0; b.at.len()];
        spread(&b.at, &mut mass, &|k| pole.at(b.at[k], &FACTORS).mass, 1.0);
        *mass.last_mut().unwrap() += head;
        for (k, (found, _)) in b.frequencies(&mass).iter().enumerate() {
            near(*found, wanted(name, &format!("frequency {k}")), 5e-3);
        }
    }
}

#[test]
fn a_batten_overhanging_both_its_supports_bends_as_the_library_says() {
    let pole = Pole::one(4.2, (0.042, 0.042), Some((0.002, 0.002)), of("6061-t6"));
    let b = beam(&pole, [0.5, 4.1], 4.2 / 64.0);
    let mut loads = vec![0.0; b.at.len()];
    spread(&b.at, &mut loads, &|_| 90.0, 1.0);
    let bent = b.bend(&loads, &[]);
    near(bent.reactions[0], wanted("batten", "reaction 0"), 1e-6);
    near(bent.reactions[1], wanted("batten", "reaction 1"), 1e-6);
    let end = *bent.deflection.last().unwrap();
    near(end, wanted("batten", "deflection 4.2"), 5e-3);
    let middle = b.station(2.2);
    let share = (2.2 - b.at[middle - 1]) / (b.at[middle] - b.at[middle - 1]);
    let found = bent.deflection[middle - 1] * (1.0 - share) + bent.deflection[middle] * share;
    near(found, wanted("batten", "deflection 2.2"), 2e-3);
}
