//! The mast moved so that the centre of effort falls on that of the rig she has.
#![allow(clippy::unwrap_used)]

mod support;

use design::{Document, account, demos};
use support::{account_of, pippin, with};

/// Where the common centre of effort lies aft of that of the rig she has [m].
fn off(document: &Document) -> f64 {
    let boat = account_of(document).boat;
    let now = boat.rig_now.unwrap().together.x;
    boat.steps[0].centre.unwrap().x - now
}

fn fitted(document: &Document, mast: usize) -> (Document, f64) {
    let (edits, miss) = document
        .fit_centre(mast, &account(document.design()))
        .unwrap();
    let mut document = document.clone();
    document.edit(&edits).unwrap();
    (document, miss)
}

#[test]
fn the_centre_falls_on_the_old_one_within_a_millimetre() {
    for (rake, balance) in [("0", "14"), ("-6", "10"), ("5", "2")] {
        let document = with(
            pippin(),
            &[
                ("masts.0.rake_deg", rake),
                ("masts.0.sail.balance_pct", balance),
            ],
        );
        assert!(off(&document).abs() > 0.005);
        let (moved, miss) = fitted(&document, 0);
        assert!(miss.abs() < Document::CENTRE_FITS);
        assert!(off(&moved).abs() < Document::CENTRE_FITS, "{}", off(&moved));
    }
}

#[test]
fn a_mast_at_the_end_of_its_range_misses_by_what_is_said() {
    let document = with(pippin(), &[("masts.0.to_m", "1.30")]);
    let (moved, miss) = fitted(&document, 0);
    assert_eq!(moved.design().masts[0].position, 1.30);
    assert!(miss.abs() > 0.05);
    assert!((off(&moved) - miss).abs() < 1e-9);
}

#[test]
fn of_two_masts_the_one_at_work_moves_and_the_common_centre_follows() {
    let sails = r#"[{"points":[{"x_m":1,"z_m":2},{"x_m":2,"z_m":12},{"x_m":9,"z_m":2}]}]"#;
    let heron = with(
        demos()[2].open().unwrap(),
        &[("boat.sails", sails), ("masts.1.sail.efficiency_pct", "80")],
    );
    for mast in 0..2 {
        let (moved, miss) = fitted(&heron, mast);
        assert!(miss.abs() < Document::CENTRE_FITS);
        assert!(off(&moved).abs() < Document::CENTRE_FITS);
        let other = 1 - mast;
        assert_eq!(
            moved.design().masts[other].position,
            heron.design().masts[other].position
        );
    }
}

#[test]
fn without_a_rig_to_go_by_nothing_moves() {
    let document = with(pippin(), &[("boat.sails", "null")]);
    assert!(
        document
            .fit_centre(0, &account(document.design()))
            .is_none()
    );
    let document = pippin();
    assert!(
        document
            .fit_centre(5, &account(document.design()))
            .is_none()
    );
}
