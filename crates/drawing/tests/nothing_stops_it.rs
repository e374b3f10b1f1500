//! Whatever a document, a pane or a pointer holds, there is a drawing and no panic.

mod boats;

use boats::{Boat, boat};
use design::{Document, Edit, View, account, demos};
use drawing::{Frame, Medium, dragged, handles, sail_plan};
use kurbo::Point;
use quantities::{Kind, ROWS};

fn exercise(boat: &Boat, view: &View, pane: (f64, f64)) {
    let pose = boat.pose(view);
    let moment = boat.moment(&pose, view, Medium::Screen);
    let frame = boat.frame(pane, view);
    let scene = sail_plan(&moment, &frame);
    for item in &scene.items {
        assert!(item.bounds().is_finite(), "{item:?}");
    }
    let found = handles(&moment, &frame);
    for handle in &found {
        assert!(
            handle.at.is_finite() && handle.value.is_finite(),
            "{handle:?}"
        );
        for pointer in [
            handle.at + kurbo::Vec2::new(30.0, -40.0),
            Point::new(1e9, -1e9),
            Point::new(f64::NAN, 0.0),
        ] {
            if let Some(drawing::Dragged::Edit { value, .. }) =
                dragged(&moment, &frame, handle.id, pointer)
            {
                assert!(value.is_finite());
                assert!(
                    (handle.least..=handle.most).contains(&value),
                    "{handle:?} {value}"
                );
            }
        }
    }
}

/// Every number of the document at its limits and at the limits of what is usual, one at a time.
#[test]
fn every_number_may_stand_at_its_limits() {
    let mut tried = 0;
    let demo = &demos()[1];
    let mut document: Document = demo.open().unwrap();
    for row in ROWS {
        if !matches!(row.kind, Kind::Number | Kind::Whole) {
            continue;
        }
        let path = row.path.replace("[]", ".0");
        for value in [row.hard_least, row.least, row.most, row.hard_most] {
            let Ok(steps) = document.edit(&[Edit::exact(path.clone(), value)]) else {
                continue;
            };
            let design = document.design().clone();
            let changed = Boat {
                account: account(&design),
                design,
                ..boat(demo)
            };
            for hoist in [0.0, 1.5] {
                let view = View {
                    hoist: changed.hoist(hoist),
                    ..View::default()
                };
                exercise(&changed, &view, (390.0, 430.0));
            }
            document.apply(&steps, true).unwrap();
            tried += 1;
        }
    }
    assert!(tried > 150, "{tried}");
}

#[test]
fn any_view_and_any_pane_will_do() {
    let plain = View::default();
    for demo in demos() {
        let boat = boat(demo);
        for view in [
            View {
                zoom: f64::NAN,
                ..plain.clone()
            },
            View {
                zoom: 1e300,
                pan_x: f64::INFINITY,
                ..plain.clone()
            },
            View {
                zoom: 0.0,
                ..plain.clone()
            },
            View {
                mast: 99,
                ..plain.clone()
            },
            View {
                hoist: vec![f64::NAN, -5.0, 1e9, 3.0],
                ..plain.clone()
            },
            View {
                sheeting: f64::NAN,
                ..plain.clone()
            },
            View {
                sheeting: core::f64::consts::FRAC_PI_2,
                ..plain.clone()
            },
            View {
                active: "no such handle".into(),
                ..plain.clone()
            },
        ] {
            for pane in [
                (390.0, 430.0),
                (0.0, 0.0),
                (1.0, 1e4),
                (f64::NAN, -3.0),
                (1e9, 1e9),
            ] {
                exercise(&boat, &view, pane);
            }
        }
    }
}

#[test]
fn a_design_without_a_sail_still_shows_its_boat() {
    let mut document = demos()[1].open().unwrap();
    // A table without spars gives no plan.
    document
        .edit(&[
            Edit::remove("masts.0.sail.spars"),
            Edit::value("masts.0.sail.family", "table".into()),
        ])
        .unwrap();
    let design = document.design().clone();
    let account = account(&design);
    assert!(account.masts[0].plan.is_none());
    let boat = Boat {
        account,
        design,
        ..boat(&demos()[1])
    };
    let view = View::default();
    let scene = boat.draw(&view, (390.0, 430.0), Medium::Screen);
    assert!(scene.items.len() > 5);
    let pose = boat.pose(&view);
    let frame = Frame::fit(&boat.design, &boat.account, 390.0, 430.0);
    assert!(handles(&boat.moment(&pose, &view, Medium::Screen), &frame).is_empty());
}
