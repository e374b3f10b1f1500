//! Parts named on the drawing: inked where they lie, their names in sight and clear of each other.

mod boats;

use boats::{Boat, SHEET, boats, boats_and_others, places};
use design::View;
use drawing::scene::{Figure, Item};
use drawing::{Medium, Role, Scene, naming};
use kurbo::{PathEl, Point, Rect};

fn view(boat: &Boat, panels: f64, named: &str) -> View {
    View {
        hoist: boat.hoist(panels),
        named: named.to_owned(),
        ..View::default()
    }
}

fn parts(boat: &Boat, view: &View) -> Vec<(&'static str, bool)> {
    let pose = boat.pose(view);
    let moment = boat.moment(&pose, view, Medium::Screen);
    naming::parts(&moment, &boat.frame(SHEET, view))
}

fn name_of(boat: &Boat, key: &str) -> String {
    boat.words.word(&format!("part.{key}")).to_owned()
}

/// What is drawn in the accent.
fn accents(scene: &Scene) -> Vec<&Figure> {
    let figures = scene.items.iter().filter_map(|item| match item {
        Item::Figure(figure) => Some(figure),
        Item::Words(_) => None,
    });
    figures
        .filter(|figure| figure.stroke.is_some_and(|s| s.role == Role::Accent))
        .collect()
}

fn apart(one: Rect, other: Rect) -> bool {
    one.x1 <= other.x0 + 0.1
        || other.x1 <= one.x0 + 0.1
        || one.y1 <= other.y0 + 0.1
        || other.y1 <= one.y0 + 0.1
}

#[test]
fn every_word_has_a_name_of_its_own_and_a_meaning() {
    let boat = &boats()[1];
    let parts = parts(boat, &View::default());
    assert!(parts.len() > 40);
    for (i, (key, _)) in parts.iter().enumerate() {
        let name = name_of(boat, key);
        let meaning = boat.words.word(&format!("help.part.{key}")).to_owned();
        assert!(
            !name.starts_with("part.") && name.chars().count() <= 28,
            "{key}"
        );
        assert!(
            meaning.ends_with('.') && meaning.chars().count() <= 160,
            "{key}"
        );
        let again = parts[i + 1..].iter();
        let names = again.map(|(other, _)| name_of(boat, other));
        assert!(!names.into_iter().any(|other| other == name), "{key}");
    }
}

/// On every pane, at three reefs: one name, large, in sight, on no other words; the part inked.
#[test]
fn a_part_is_inked_and_its_name_stands_in_sight_on_no_other_words() {
    for boat in boats() {
        for panels in [0.0, 2.0, boat.most_panels() - 1.0] {
            for (key, here) in parts(&boat, &view(&boat, panels, "")) {
                for (pane, medium) in places() {
                    let at = format!("{} {key} {pane:?} hoist {panels}", boat.key);
                    let scene = boat.draw(&view(&boat, panels, key), pane, medium);
                    let name = name_of(&boat, key);
                    let named: Vec<_> = scene
                        .all_words()
                        .filter(|words| words.role == Role::Accent && words.words == name)
                        .collect();
                    assert_eq!(named.len(), usize::from(here), "{at}");
                    assert_eq!(!accents(&scene).is_empty(), here, "{at}");
                    let Some(word) = named.first() else { continue };
                    assert!(word.size >= 16.0, "{at}: {}", word.size);
                    let inside = Rect::new(0.0, 0.0, scene.width, scene.height);
                    let bounds = word.bounds();
                    assert_eq!(bounds.intersect(inside), bounds, "{at}");
                    for other in scene.all_words().filter(|other| *other != *word) {
                        assert!(apart(bounds, other.bounds()), "{at}: on {}", other.words);
                    }
                }
            }
        }
    }
}

/// A class sees many at once, and a hand may have gone near.
#[test]
fn names_of_many_parts_are_clear_of_each_other_and_stay_in_the_pane_from_near_by() {
    const MANY: &str = "mast yard boom luff leech panel peak clew";
    for boat in boats() {
        for zoom in [1.0, 3.0] {
            for (pane, medium) in places() {
                let view = View {
                    zoom,
                    ..view(&boat, 1.0, MANY)
                };
                let scene = boat.draw(&view, pane, medium);
                let named: Vec<_> = scene
                    .all_words()
                    .filter(|words| words.role == Role::Accent)
                    .collect();
                assert_eq!(named.len(), 8, "{} {pane:?} {zoom}", boat.key);
                for (i, one) in named.iter().enumerate() {
                    let bounds = one.bounds();
                    assert!(bounds.x0 >= 0.0 && bounds.x1 <= scene.width, "{pane:?}");
                    assert!(bounds.y0 >= 0.0 && bounds.y1 <= scene.height, "{pane:?}");
                    for other in &named[i + 1..] {
                        assert!(
                            apart(bounds, other.bounds()),
                            "{} {pane:?} {zoom}: {} on {}",
                            boat.key,
                            one.words,
                            other.words
                        );
                    }
                }
            }
        }
    }
}

/// Against the places of the pose and the account themselves.
#[test]
fn the_ink_lies_where_the_part_lies() {
    for boat in boats_and_others() {
        let view = view(&boat, 2.0, "");
        let pose = boat.pose(&view);
        let mast = &boat.account.masts[0].mast;
        let frame = boat.frame(SHEET, &view);
        let plane = frame.sail(mast, 0.0);
        let on_mast = frame.mast(mast);
        let spars = &pose.masts[0].as_ref().unwrap().spars;
        let (boom, yard) = (spars[0], spars[spars.len() - 1]);
        let standing = pose.standing.unwrap();
        let mut expected = vec![
            ("peak", plane * yard.leech()),
            ("throat", plane * yard.luff),
            ("clew", plane * boom.leech()),
            ("tack", plane * boom.luff),
            ("partners", on_mast * Point::ORIGIN),
            ("masthead", on_mast * Point::new(0.0, mast.lap)),
            ("step", on_mast * Point::new(0.0, -mast.bury)),
            ("ce", frame.ship() * Point::new(standing.x, standing.z)),
        ];
        if let Some(clr) = boat.account.boat.resistance {
            expected.push(("clr", frame.ship() * Point::new(clr.x, clr.z)));
        }
        // A third of a chord from its luff; the mast ahead of it, or she would not spill.
        let chord = spars[boat.design.masts[0].sail.panels.div_ceil(2).max(3) - 1];
        expected.push(("attached", plane * chord.luff.lerp(chord.leech(), 0.33)));
        for (key, at) in expected {
            let view = View {
                named: key.to_owned(),
                ..view.clone()
            };
            let scene = boat.draw(&view, SHEET, Medium::Paper);
            let mut ring = accents(&scene)[0].path.clone();
            // What follows the ring leads to it from the luff.
            let whole = ring.elements().iter().position(|e| *e == PathEl::ClosePath);
            ring.truncate(whole.unwrap() + 1);
            let ring = ring.control_box();
            assert!(ring.center().distance(at) < 0.1, "{} {key}", boat.key);
        }
    }
}

#[test]
fn what_she_has_not_is_told_apart() {
    let boats = boats_and_others();
    let has = |boat: &Boat, panels: f64, wanted: &str| {
        let parts = parts(boat, &view(boat, panels, ""));
        parts.iter().any(|(key, here)| *key == wanted && *here)
    };
    for boat in &boats {
        assert!(
            !has(boat, 0.0, "bundle") && has(boat, 1.0, "bundle"),
            "{}",
            boat.key
        );
        assert!(
            has(boat, 0.0, "drift") && !has(boat, 1.0, "drift"),
            "{}",
            boat.key
        );
        assert!(
            !has(boat, 0.0, "camber") && !has(boat, 0.0, "gybe"),
            "{}",
            boat.key
        );
        let known = boat.account.boat.resistance.is_some();
        assert_eq!(has(boat, 0.0, "clr"), known, "{}", boat.key);
        assert_eq!(has(boat, 0.0, "lead"), known, "{}", boat.key);
        for (key, wanted) in [
            ("yard-parrel", rigging::Hauls::Yard),
            ("tack-line", rigging::Hauls::Tack),
            ("throat-parrel", rigging::Hauls::Throat),
        ] {
            let lines = boat.account.masts[0].lines.as_ref().unwrap();
            let hauling = &lines.input.lines.hauling;
            let led = hauling.iter().any(|line| line.hauls == wanted);
            assert_eq!(has(boat, 0.0, key), led, "{} {key}", boat.key);
        }
    }
}
