//! The arm by which a squared-off rig turns her.
#![allow(clippy::unwrap_used)]

mod support;

use design::demos;
use support::{account_of, with};

/// Sails hung on opposite sides of their masts are squared off to one side all the same, to that which
/// puts their common centre further out: worked out here from the reefs and the masts alone.
#[test]
fn all_sails_are_squared_off_to_one_side() {
    for (fore, main) in [
        ("port", "starboard"),
        ("starboard", "port"),
        ("port", "port"),
        ("starboard", "starboard"),
    ] {
        let heron = with(
            demos()[2].open().unwrap(),
            &[
                ("masts.0.sail.side", &format!("\"{fore}\"")),
                ("masts.1.sail.side", &format!("\"{main}\"")),
            ],
        );
        let account = account_of(&heron);
        let out = |side: f64| {
            let (mut sum, mut weight) = (0.0, 0.0);
            for (typed, mast) in heron.design().masts.iter().zip(&account.masts) {
                let full = mast.reefs.as_ref().unwrap().lowered(0).unwrap();
                let plane = mast.mast.sheeted(side * typed.sail.squared_off);
                let share = full.area * typed.sail.efficiency;
                sum += share * plane.place(full.centroid.unwrap()).y;
                weight += share;
            }
            sum / weight
        };
        let (port, starboard) = (out(-1.0), out(1.0));
        let wanted = if port.abs() > starboard.abs() {
            port
        } else {
            starboard
        };
        let found = account.boat.steps[0].yaw_arm.unwrap();
        assert!(
            (found - wanted).abs() < 1e-9,
            "{fore} {main}: {found} {wanted}"
        );
        assert!(found.abs() > 1.0, "the sails do not cancel out");
    }
}
