//! What holds for every design that can be sailed: areas, centres, slides, travel, symmetry.
#![allow(clippy::unwrap_used)]

mod support;

use design::{Account, Document, Edit, View, account, demos, pose, spars_at};
use geo::{Area, Centroid, Coord, LineString, Polygon};
use proptest::prelude::*;
use quantities::Kind;
use quantities::bounds;
use serde_json::json;

/// A design somewhere in the usual ranges.
fn usual_design() -> impl Strategy<Value = Document> {
    (
        0..2usize,
        1..=12usize,
        prop::collection::vec(0.0..1.0f64, 16),
        0..3usize,
    )
        .prop_map(|(demo, panels, shares, family)| {
            let mut document = demos()[demo].open().unwrap();
            let family = ["fanned-head", "full-fan", "low-yard"][family];
            let mut edits = vec![
                Edit::value("masts.0.sail.panels", json!(panels)),
                Edit::value("masts.0.sail.family", json!(family)),
                Edit::remove("masts.0.sail.head_widths_pct"),
                Edit::remove("masts.0.sail.head_steps"),
                Edit::remove("masts.0.sail.head_panels"),
            ];
            let chord = 1.5 + 5.0 * shares[0];
            edits.push(Edit::exact("masts.0.sail.chord_m", chord));
            edits.push(Edit::exact(
                "masts.0.sail.panel_width_m",
                chord * (0.12 + 0.2 * shares[1]),
            ));
            for (path, share) in [
                "masts.0.sail.rise_deg",
                "masts.0.sail.yard_angle_deg",
                "masts.0.sail.yard_length_pct",
                "masts.0.sail.balance_pct",
                "masts.0.sail.sling_pct",
                "masts.0.sail.folded_cloth_m",
                "masts.0.sail.batten_depth_m",
                "masts.0.rake_deg",
                "masts.0.sail.chord_share_pct",
                "masts.0.sail.drop_m",
            ]
            .iter()
            .zip(&shares[2..])
            {
                let row = bounds::row(path).unwrap();
                assert_eq!(row.kind, Kind::Number);
                edits.push(Edit::exact(
                    *path,
                    row.least + (row.most - row.least) * share,
                ));
            }
            document.edit(&edits).unwrap();
            document
        })
}

/// What stands of a state as an outside polygon, in ship axes.
fn polygon(account: &Account, state: usize) -> Polygon {
    let mast = &account.masts[0];
    let placed = &mast.reefs.as_ref().unwrap().states[state];
    let standing = &placed.spars[placed.lowered..];
    let at = |p: kurbo::Point| {
        let place = mast.mast.to_ship(p, 0.0);
        Coord {
            x: place.x,
            y: place.z,
        }
    };
    let leeches = standing.iter().map(|p| at(p.spar.leech()));
    let luffs = standing.iter().rev().map(|p| at(p.spar.luff));
    Polygon::new(LineString::from_iter(leeches.chain(luffs)), Vec::new())
}

fn sound(account: &Account) -> bool {
    account.masts[0].plan.is_some() && account.problems.is_empty()
}

proptest! {
    #[test]
    fn areas_add_up_and_shrink_with_every_panel(document in usual_design()) {
        let account = account(document.design());
        prop_assume!(sound(&account));
        let mast = &account.masts[0];
        let figures = mast.figures.as_ref().unwrap();
        let sum: f64 = figures.panel_areas.iter().sum();
        prop_assert!((sum - figures.area).abs() < 1e-9 * sum);
        for row in &mast.rows {
            let standing: f64 = figures.panel_areas[row.lowered..].iter().sum();
            prop_assert!((row.area - standing).abs() < 1e-9 * sum);
            prop_assert!((row.share - standing / sum).abs() < 1e-9);
        }
        prop_assert_eq!(mast.rows.len(), figures.panel_areas.len() + 2);
        prop_assert!((account.rig.area - sum).abs() < 1e-9 * sum);
    }

    /// Against the polygon library of the GeoRust project.
    #[test]
    fn area_and_centre_of_every_state_agree_with_an_outside_polygon(document in usual_design()) {
        let account = account(document.design());
        prop_assume!(sound(&account));
        for (i, row) in account.masts[0].rows.iter().enumerate() {
            let Some(centre) = row.centre else {
                prop_assert_eq!(row.lowered, account.masts[0].rows.len() - 2);
                continue;
            };
            let outside = polygon(&account, i);
            let area = outside.unsigned_area();
            // Rake foreshortens nothing in the ship's middle plane.
            prop_assert!((area - row.area).abs() < 1e-9 * area.max(1.0), "{} {}", area, row.area);
            let at = outside.centroid().unwrap();
            prop_assert!((at.x() - centre.x).abs() < 1e-7 && (at.y() - centre.z).abs() < 1e-7);
        }
    }

    #[test]
    fn slides_keep_to_the_cloth_and_shifts_to_travel_and_parrels(document in usual_design()) {
        let account = account(document.design());
        prop_assume!(sound(&account));
        let mast = &account.masts[0];
        let reefs = mast.reefs.as_ref().unwrap();
        for row in &mast.rows {
            for (i, interval) in reefs.slides.iter().enumerate() {
                if row.lowered > i && interval.folds {
                    let slide = row.slides[i + 1];
                    prop_assert!(slide >= interval.least - 1e-9 && slide <= interval.most + 1e-9);
                }
            }
            let battens = row.shifts.len() - 1;
            for (i, shift) in row.shifts[..battens].iter().enumerate() {
                prop_assert!(shift.abs() <= 0.5 * mast.travel + 1e-9, "{shift} {}", mast.travel);
                let parrel = &mast.parrels[i];
                prop_assert!(*shift <= parrel.aft + 1e-12 && -shift <= parrel.forward + 1e-12);
            }
        }
    }

    /// What a hand asks many times a move is what the account has.
    #[test]
    fn spars_at_a_hoist_are_those_of_the_pose(document in usual_design(), hoist in 0.0..12.0f64) {
        let design = document.design();
        let account = account(design);
        let view = View { hoist: vec![hoist], ..View::default() };
        let pose = pose(design, &account, &view).masts.remove(0);
        let found = spars_at(&design.boat.hull, &design.masts[0], pose.as_ref().map_or(hoist, |p| p.hoist));
        prop_assert_eq!(found.is_some(), pose.is_some());
        if let (Some((spars, sling, mast)), Some(pose)) = (found, pose) {
            prop_assert_eq!(spars, pose.spars);
            prop_assert_eq!(sling, account.masts[0].plan.as_ref().unwrap().sling);
            prop_assert_eq!(mast, account.masts[0].mast);
        }
    }

    #[test]
    fn a_sail_on_the_other_side_is_the_mirror_image(document in usual_design()) {
        let mut other = document.clone();
        let flipped = Edit::value("masts.0.sail.side", json!("starboard"));
        other.edit(&[flipped]).unwrap();
        let (port, starboard) = (account(document.design()), account(other.design()));
        prop_assume!(sound(&port));
        let (port, starboard) = (&port.masts[0], &starboard.masts[0]);
        for (a, b) in port.rows.iter().zip(&starboard.rows) {
            prop_assert_eq!(&a.on_mast, &b.on_mast);
            if let (Some(a), Some(b)) = (a.centre, b.centre) {
                prop_assert!((a.x - b.x).abs() < 1e-12 && (a.y + b.y).abs() < 1e-12 && (a.z - b.z).abs() < 1e-12);
            }
        }
        // Boom to port of the one is boom to starboard of the other.
        for (a, b) in port.squared_off.iter().zip(starboard.squared_off.iter().rev()) {
            prop_assert!((a.boom_end.y + b.boom_end.y).abs() < 1e-9);
            prop_assert!((a.boom_end.x - b.boom_end.x).abs() < 1e-9);
            prop_assert_eq!(a.presses_on_mast, b.presses_on_mast);
        }
    }

    #[test]
    fn a_design_twice_as_large_has_four_times_the_area(document in usual_design(), k in 0.6..1.8f64) {
        let mut large = document.clone();
        let edits: Vec<Edit> = [
            "masts.0.sail.chord_m", "masts.0.sail.panel_width_m", "masts.0.sail.boom_height_m",
            "masts.0.sail.batten_depth_m", "masts.0.sail.boom_depth_m", "masts.0.sail.yard_depth_m",
            "masts.0.sail.folded_cloth_m", "masts.0.sail.drop_m",
        ]
        .iter()
        .filter_map(|path| Some(Edit::exact(*path, k * document.number(path)?)))
        .collect();
        large.edit(&edits).unwrap();
        let (one, k_times) = (account(document.design()), account(large.design()));
        prop_assume!(sound(&one) && k_times.masts[0].plan.is_some());
        let (one, k_times) = (&one.masts[0], &k_times.masts[0]);
        for (a, b) in one.rows.iter().zip(&k_times.rows) {
            prop_assert!((b.area - k * k * a.area).abs() < 1e-9 * b.area.max(1.0));
            prop_assert!((b.share - a.share).abs() < 1e-9);
        }
        let (a, b) = (one.figures.as_ref().unwrap(), k_times.figures.as_ref().unwrap());
        prop_assert!((b.perimeter - k * a.perimeter).abs() < 1e-5 * b.perimeter);
        prop_assert!((b.aspect - a.aspect).abs() < 1e-9 * a.aspect.max(1.0));
        for (slide, large) in one.reefs.as_ref().unwrap().slides.iter().zip(&k_times.reefs.as_ref().unwrap().slides) {
            prop_assert!((large.least - k * slide.least).abs() < 1e-9);
        }
    }

    /// Common centre of two sails: areas add, moments add.
    #[test]
    fn two_masts_share_one_centre(k in 0..7usize, l in 0..8usize) {
        let heron = demos()[2].open().unwrap();
        let account = account(heron.design());
        let (fore, main) = (&account.masts[0], &account.masts[1]);
        let row = |m: &design::MastAccount, k: usize| m.rows[if k == 0 { 0 } else { k + 1 }].clone();
        let (a, b) = (row(fore, k), row(main, l));
        let view = design::View { hoist: vec![k as f64, l as f64], ..design::View::default() };
        let pose = design::pose(heron.design(), &account, &view);
        let area = a.area + b.area;
        match pose.standing {
            None => prop_assert_eq!(area, 0.0),
            Some(together) => {
                let x = |r: &design::StateRow| r.centre.map_or(0.0, |c| c.x * r.area);
                prop_assert!((together.area - area).abs() < 1e-9);
                prop_assert!((together.x - (x(&a) + x(&b)) / area).abs() < 1e-9);
            }
        }
    }
}
