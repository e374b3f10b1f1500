//! A handle dragged to a point asks for the value that puts it there.

mod boats;

use boats::{Boat, PANES, boats};
use design::{Document, Edit, View, account, demos};
use drawing::{
    Axis, Dragged, Frame, Handle, Medium, asked, dragged, dragged_above, handles, handles_above,
};

const PANE: (f64, f64) = PANES[0];

/// A boat changed by one edit, on the frame of the boat before: as during a gesture.
fn changed(boat: &Boat, path: &str, value: f64) -> Option<Boat> {
    let demo = demos().iter().find(|demo| demo.key == boat.key)?;
    let mut document: Document = demo.open().ok()?;
    document.edit(&[Edit::exact(path, value)]).ok()?;
    let design = document.design().clone();
    Some(Boat {
        key: boat.key,
        account: account(&design),
        design,
        words: boat.words.clone(),
    })
}

fn handle_of(boat: &Boat, view: &View, frame: &Frame, id: &str) -> Option<Handle> {
    let pose = boat.pose(view);
    let moment = boat.moment(&pose, view, Medium::Screen);
    handles(&moment, frame).into_iter().find(|h| h.id == id)
}

#[test]
fn the_value_dragged_to_is_the_one_whose_handle_lies_there() {
    let mut tried = 0;
    for boat in boats() {
        for mast in 0..boat.design.masts.len() {
            for hoist in [0.0, 1.0, 2.5] {
                let view = View {
                    mast,
                    hoist: boat.hoist(hoist),
                    ..View::default()
                };
                let frame = boat.frame(PANE, &view);
                let pose = boat.pose(&view);
                let moment = boat.moment(&pose, &view, Medium::Screen);
                for handle in handles(&moment, &frame) {
                    if handle.path.is_empty() {
                        continue;
                    }
                    for steps in [-6.0, 4.0] {
                        let wanted = handle.value + steps * handle.step;
                        let there = changed(&boat, &handle.path, wanted).unwrap();
                        let at = handle_of(&there, &view, &frame, handle.id).unwrap().at;
                        let asked = dragged(&moment, &frame, handle.id, at);
                        let Some(Dragged::Edit { path, value }) = asked else {
                            panic!("{}: no edit", handle.id);
                        };
                        assert_eq!(path, handle.path);
                        // A tenth of a step is far below what the hand can see.
                        assert!(
                            (value - wanted).abs() < 0.1 * handle.step,
                            "{} {} at {hoist}: {value} for {wanted}",
                            boat.key,
                            handle.id
                        );
                        tried += 1;
                    }
                }
            }
        }
    }
    // Four boats' worth of sails, three hoists, four handles, two ways.
    assert_eq!(tried, 4 * 3 * 4 * 2);
}

#[test]
fn a_handle_let_go_where_it_is_changes_nothing() {
    for boat in boats() {
        let view = View::default();
        let frame = boat.frame(PANE, &view);
        let pose = boat.pose(&view);
        let moment = boat.moment(&pose, &view, Medium::Screen);
        for handle in handles(&moment, &frame) {
            match dragged(&moment, &frame, handle.id, handle.at) {
                Some(Dragged::Edit { value, .. }) => {
                    assert!((value - handle.value).abs() < 1e-6, "{}", handle.id);
                }
                Some(Dragged::Hoist(hoist)) => assert!(hoist[0].abs() < 1e-6),
                Some(Dragged::Edits { .. }) | None => panic!("{}", handle.id),
            }
        }
    }
}

#[test]
fn the_yard_follows_the_finger_up_and_down() {
    for boat in boats() {
        let view = View::default();
        let frame = boat.frame(PANE, &view);
        for hoist in [0.4, 1.0, 2.7, 4.9] {
            let lower = View {
                hoist: boat.hoist(hoist),
                ..View::default()
            };
            let at = handle_of(&boat, &lower, &frame, "hoist").unwrap().at;
            let pose = boat.pose(&view);
            let moment = boat.moment(&pose, &view, Medium::Screen);
            let Some(Dragged::Hoist(found)) = dragged(&moment, &frame, "hoist", at) else {
                panic!("no hoist");
            };
            assert!(
                (found[0] - hoist).abs() < 1e-3,
                "{} {found:?} {hoist}",
                boat.key
            );
            // The other sail stays where it is.
            assert!(found[1..].iter().all(|other| *other == 0.0));
        }
    }
}

/// Off its line or arc a handle comes as near as it can: the pointer stands square to its path.
#[test]
fn off_its_path_a_handle_comes_as_near_as_it_can() {
    for boat in boats() {
        let view = View::default();
        let frame = boat.frame(PANE, &view);
        let pose = boat.pose(&view);
        let moment = boat.moment(&pose, &view, Medium::Screen);
        for handle in handles(&moment, &frame) {
            let Axis::Slide { direction, .. } = handle.axis else {
                continue;
            };
            if handle.path.is_empty() {
                continue;
            }
            let aside = kurbo::Vec2::new(-direction.y, direction.x) * 15.0;
            let pointer = handle.at + direction * 10.0 + aside;
            let Some(Dragged::Edit { path, value }) = dragged(&moment, &frame, handle.id, pointer)
            else {
                panic!("{}", handle.id);
            };
            let there = changed(&boat, &path, value).unwrap();
            let at = handle_of(&there, &view, &frame, handle.id).unwrap().at;
            assert!((pointer - at).dot(direction).abs() < 0.05, "{}", handle.id);
            assert!(
                ((at - handle.at).hypot() - 10.0).abs() < 0.05,
                "{}",
                handle.id
            );
        }
    }
}

/// A boat whose line in hand was changed as it was asked.
fn led(boat: &Boat, view: &View, asked: &Dragged) -> Boat {
    let Dragged::Edits { holds, numbers } = asked else {
        panic!("{asked:?}");
    };
    let demo = demos().iter().find(|demo| demo.key == boat.key).unwrap();
    let mut document: Document = demo.open().unwrap();
    let mut edits = Vec::new();
    if *holds {
        edits = document.write_holds(view.mast, &boat.account);
    }
    for (path, value) in numbers {
        edits.push(Edit::exact(path.clone(), *value));
    }
    document.edit(&edits).unwrap();
    let design = document.design().clone();
    Boat {
        key: boat.key,
        account: account(&design),
        design,
        words: boat.words.clone(),
    }
}

/// Every line of every sail, reefed and sheeted out.
fn lines_in_hand(boat: &Boat) -> Vec<View> {
    let mut views = Vec::new();
    for mast in 0..boat.design.masts.len() {
        let lines = boat.account.masts[mast].lines.as_ref().unwrap();
        for known in &lines.account.lines {
            for (hoist, sheeting) in [(0.0, 0.0), (2.0, 0.4)] {
                views.push(View {
                    mast,
                    hoist: boat.hoist(hoist),
                    sheeting,
                    line: Some(known.line),
                    ..View::default()
                });
            }
        }
    }
    views
}

#[test]
fn a_point_of_the_line_in_hand_lies_where_it_is_dragged() {
    let mut tried = 0;
    for boat in boats() {
        for view in lines_in_hand(&boat) {
            let frame = boat.frame(PANE, &view);
            let pose = boat.pose(&view);
            let moment = boat.moment(&pose, &view, Medium::Screen);
            for handle in handles(&moment, &frame) {
                assert!(handle.id.starts_with("point-"), "the sail's own give way");
                for steps in [-6.0, 4.0] {
                    let wanted = (handle.value + steps * handle.step)
                        .max(handle.least)
                        .min(handle.most);
                    let there = led(&boat, &view, &asked(&moment, &handle.path, wanted));
                    let moved = handle_of(&there, &view, &frame, handle.id).unwrap();
                    assert!((moved.value - wanted).abs() < 1e-9, "{handle:?} {moved:?}");
                    let Some(Dragged::Edits { numbers, .. }) =
                        dragged(&moment, &frame, handle.id, moved.at)
                    else {
                        panic!("{}: no edit", handle.id);
                    };
                    let value = numbers.iter().find(|n| n.0 == handle.path).unwrap().1;
                    assert!(
                        (value - wanted).abs() < 0.1 * handle.step,
                        "{} {:?} {handle:?}: {value} for {wanted}",
                        boat.key,
                        view.line
                    );
                    tried += 1;
                }
            }
        }
    }
    assert!(tried > 300, "{tried}");
}

#[test]
fn from_above_a_point_on_deck_is_dragged_both_ways() {
    let mut tried = 0;
    for boat in boats() {
        for view in lines_in_hand(&boat) {
            let pose = boat.pose(&view);
            let moment = boat.moment(&pose, &view, Medium::Screen);
            for handle in handles_above(&moment, PANE) {
                let (across, y) = handle.across.clone().unwrap();
                let (x, y) = (handle.value + 0.31, y - 0.17);
                let wanted = Dragged::Edits {
                    holds: false,
                    numbers: vec![(handle.path.clone(), x), (across.clone(), y)],
                };
                let there = led(&boat, &view, &wanted);
                let pose = boat.pose(&view);
                let changed = there.moment(&pose, &view, Medium::Screen);
                let pose = there.pose(&view);
                let changed = drawing::Moment {
                    pose: &pose,
                    ..changed
                };
                let moved = handles_above(&changed, PANE);
                let moved = moved.iter().find(|h| h.id == handle.id).unwrap();
                let Some(Dragged::Edits { numbers, holds }) =
                    dragged_above(&moment, PANE, handle.id, moved.at)
                else {
                    panic!("{}: no edit", handle.id);
                };
                assert!(!holds);
                for ((path, value), (known, wanted)) in
                    numbers.iter().zip([(&handle.path, x), (&across, y)])
                {
                    assert_eq!(path, known);
                    assert!((value - wanted).abs() < 1e-6, "{path} {value} {wanted}");
                }
                tried += 1;
            }
        }
    }
    assert!(tried > 60, "{tried}");
}

/// A frame made anew from the changed design may slip; the one kept for the gesture does not, and
/// neither hoist nor sheeting has a say in it.
#[test]
fn the_fit_is_steady_while_the_sail_is_lowered() {
    for boat in boats() {
        let still = boat.draw(&View::default(), PANE, Medium::Screen);
        let lowered = View {
            hoist: boat.hoist(boat.most_panels()),
            ..View::default()
        };
        let low = boat.draw(&lowered, PANE, Medium::Screen);
        let hull = |scene: &drawing::Scene| -> Vec<_> {
            use drawing::Role::{Hull, Mast, Underbody, Water};
            use drawing::scene::Item;
            let ground = [Hull, Mast, Underbody, Water];
            scene
                .items
                .iter()
                .filter(|item| match item {
                    Item::Figure(f) => f.fill.is_some_and(|role| ground.contains(&role)),
                    Item::Words(_) => false,
                })
                .cloned()
                .collect()
        };
        assert!(hull(&still).len() >= 4);
        assert_eq!(hull(&still), hull(&low), "{}", boat.key);
    }
}
