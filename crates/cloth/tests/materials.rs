//! Bill, weights and comparison against sums by hand.
#![allow(clippy::unwrap_used)]

mod sails;

use cloth::materials::{UK_OUNCE, US_OUNCE};
use cloth::*;
use sails::*;

#[test]
fn ounces_are_those_of_the_trade() {
    // Check values U01 to U04: g/m² of a sailmaker's ounce and of an ounce to the square yard.
    assert!((1e3 * US_OUNCE - 42.8283).abs() < 1e-3);
    assert!((1e3 * UK_OUNCE - 33.9057).abs() < 1e-3);
    for (n, us, uk) in [
        (4.0, 171.3, 135.6),
        (6.5, 278.4, 220.4),
        (8.0, 342.6, 271.2),
        (10.0, 428.3, 339.1),
    ] {
        assert!((1e3 * n * US_OUNCE / us - 1.0).abs() < 5e-4);
        assert!((1e3 * n * UK_OUNCE / uk - 1.0).abs() < 5e-4);
    }
}

/// Saltwort, flat: 7 panels of 4.0 by 0.9 m; everything can be added up by hand.
fn flat() -> (Input, Patterns, Cutting, Bill) {
    let input = input(&saltwort(), Construction::Flat);
    let patterns = input.patterns();
    let cutting = input.cutting(&patterns, 20);
    let bill = input.bill(&patterns, &cutting);
    (input, patterns, cutting, bill)
}

#[test]
fn a_flat_sail_s_bill_adds_up_by_hand() {
    let (_, _, cutting, bill) = flat();
    assert!((bill.finished - 7.0 * 4.0 * 0.9).abs() < 1e-9);
    // 4.08 m long with its tabling; 0.975 high at boom and yard, else 0.95.
    let cloth = [0.975, 0.95, 0.95, 0.95, 0.95, 0.95, 0.975].map(|h| 4.08 * h);
    // Pocket of a 45 mm batten: π d x 1.12 and two seams, 30 mm longer than the batten.
    let pocket = (core::f64::consts::PI * 0.045 * 1.12 + 0.030) * 4.03;
    let patches: f64 = (cutting.of.iter().zip(&cutting.blanks))
        .filter(|(of, _)| matches!(of, For::Patch(..)))
        .map(|(_, b)| outline::area(&b.outline))
        .sum();
    let cut = cloth.iter().sum::<f64>() + 6.0 * pocket + patches;
    assert!((bill.cut - cut).abs() < 1e-9, "{} {cut}", bill.cut);
    assert!((bill.webbing - 14.0 * 0.9).abs() < 1e-9);
    let all: f64 = bill.panels.iter().flatten().sum();
    assert!((all - 0.23 * cut - 0.03 * bill.webbing).abs() < 1e-9);
    assert_eq!(bill.sticks.len(), 8);
    assert!(
        bill.sticks
            .iter()
            .all(|s| (s.length - 4.0).abs() < 1e-9 || s.spar == 7)
    );
    assert_eq!((bill.pockets, bill.fittings), (6, 0));
    // Two at each of eight spars; 13 along the boom; the yard has its own length.
    assert_eq!(bill.eyes, 16 + 13 + (bill.sticks[7].length / 0.3) as usize);
    assert!((bill.thread - 6.0 * bill.sewing).abs() < 1e-9);
}

#[test]
fn a_quarter_circle_of_patch_has_nearly_its_area() {
    let (input, patterns, cutting, _) = flat();
    // Level spars, upright luff: 0.25 of 0.9 m, a quarter circle run as four chords: r²/2 · 4 sin(π/8).
    let size = input.sewing.patches.share * 0.9;
    let patch = &patterns.patches[0];
    assert!((patch.size - size).abs() < 1e-12 && patch.layers == 3);
    let quarter = 2.0 * size * size * (core::f64::consts::PI / 8.0).sin();
    assert!((outline::area(&patch.outline) - quarter).abs() < 1e-12);
    let layers: Vec<f64> = (cutting.of.iter().zip(&cutting.blanks))
        .filter(|(of, _)| matches!(of, For::Patch(0, _)))
        .map(|(_, b)| outline::area(&b.outline))
        .collect();
    assert_eq!(layers.len(), 3);
    assert!(layers[0] > quarter && layers[1] < layers[0] && layers[2] < layers[1]);
}

#[test]
fn forks_and_bows_have_their_sticks_and_fittings() {
    let mut rule = saltwort();
    rule.balance = 0.18;
    let wing = input(&rule, WING);
    let patterns = wing.patterns();
    let bill = wing.bill(&patterns, &wing.cutting(&patterns, 20));
    // Two limbs and a tail at each of eight spars.
    assert_eq!(
        (bill.sticks.len(), bill.fittings, bill.pockets),
        (24, 16, 18)
    );
    assert!((bill.sticks[2].length - 2.4).abs() < 1e-9);
    assert!(bill.sticks[0].length > 1.6 && bill.sticks[0].length < 1.8);
    let bows = input(&rule, BOWS);
    let patterns = bows.patterns();
    let bill = bows.bill(&patterns, &bows.cutting(&patterns, 20));
    assert_eq!(
        (bill.sticks.len(), bill.fittings, bill.pockets),
        (2 + 12, 12, 0)
    );
    // 4 m at 7 %: the bow's own arc, in chords.
    let arc = 4.0 * MeanLine::FourDigit.arc_length(0.07, 0.38);
    assert!((bill.sticks[1].length - arc).abs() < 1e-3);
}

#[test]
fn a_panel_that_cannot_be_cut_has_no_weight_and_the_others_keep_theirs() {
    let mut input = input(&marsh_pippin(), SHELF);
    input.shapes[2].camber = 0.6;
    let patterns = input.patterns();
    assert_eq!(patterns.faults, [Fault::Camber(3)]);
    let bill = input.bill(&patterns, &input.cutting(&patterns, 20));
    assert_eq!(bill.panels[2], None);
    assert_eq!(bill.panels.iter().flatten().count(), 6);
}

#[test]
fn the_five_ways_stand_side_by_side() {
    let input = input(&marsh_pippin(), Construction::Flat);
    let ways = [
        Construction::Flat,
        SHELF,
        WING,
        split(Cut::Shelf(0.785)),
        BOWS,
    ]
    .map(|construction| Way {
        construction,
        shapes: input.shapes.clone(),
    });
    let rows = input.compare(&ways);
    assert_eq!(rows.len(), 5);
    let plan: f64 = marsh_pippin().plan().0.unwrap().area();
    assert!((rows[0].finished - plan).abs() < 1e-6);
    // A cambered sail takes more cloth than its plan, a wing its fore part twice; a split one at 12 % balance has no fore part to speak of.
    assert!(rows[1].finished > plan * 1.01);
    let fore: f64 = (input.spars.windows(2))
        .map(|w| {
            let (a, b, c, d) = (
                w[0].luff,
                w[0].at(0.4 * w[0].length),
                w[1].at(0.4 * w[1].length),
                w[1].luff,
            );
            0.5 * (c - a).cross(d - b)
        })
        .sum();
    assert!(rows[2].finished > plan + 1.1 * fore && rows[2].finished < plan + 1.6 * fore);
    assert!(rows[4].finished > plan && rows[4].finished < rows[1].finished * 1.05);
    for (row, way) in rows.iter().zip(ways) {
        assert_eq!(row.construction, way.construction);
        assert!(row.balance[0] < row.balance[1] && row.balance[1] < row.balance[2]);
        assert!(row.notes.iter().all(|n| n.starts_with("sewn.")));
    }
    assert_eq!((rows[0].camber, rows[1].camber), (0.0, 0.07));
    assert_eq!(
        (rows[0].sticks, rows[2].sticks, rows[4].sticks),
        (8, 24, 14)
    );
    assert_eq!(
        (rows[0].fittings, rows[2].fittings, rows[4].fittings),
        (0, 16, 12)
    );
    // Boom 55, six battens 45, yard 75 mm and 7 folds of 15 mm, by a mean chord near 4.4 m.
    assert!(
        (rows[0].bundle / (0.055 + 6.0 * 0.045 + 0.075 + 7.0 * 0.015) / 4.4 - 1.0).abs() < 0.05
    );
    assert!(rows[2].ahead > 3.0 * rows[0].ahead && rows[4].ahead > rows[0].ahead);
    // Mast alone: 130 mm by the height the luff spans at the mast, a little tapered.
    assert!(
        rows[0].ahead > 0.4 && rows[0].ahead < 1.2,
        "{}",
        rows[0].ahead
    );
}
