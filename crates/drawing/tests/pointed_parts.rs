//! A part that is pointed at is drawn in the accent, and lies where the part lies.

mod boats;

use boats::{Boat, PANES, boats};
use design::View;
use drawing::scene::{Figure, Item};
use drawing::{Medium, Role};
use kurbo::{Point, Rect};
use quantities::Part;

fn accents(boat: &Boat, view: &View) -> Vec<Figure> {
    let scene = boat.draw(view, PANES[2], Medium::Screen);
    let figures = scene.items.into_iter().filter_map(|item| match item {
        Item::Figure(figure) => Some(figure),
        Item::Words(_) => None,
    });
    figures
        .filter(|figure| figure.stroke.is_some_and(|s| s.role == Role::Accent))
        .collect()
}

/// The one accent on a drawing, and its box.
fn the_accent(boat: &Boat, mast: usize, part: Part) -> Option<Rect> {
    let view = View {
        hoist: boat.hoist(1.0),
        pointed: Some(part),
        mast,
        ..View::default()
    };
    let found = accents(boat, &view);
    assert!(found.len() <= 1, "{part:?}");
    found.first().map(|figure| {
        assert!(figure.stroke.unwrap().weight >= 3.0, "{part:?} is heavy");
        figure.path.control_box()
    })
}

#[test]
fn nothing_is_in_the_accent_unless_it_is_pointed_at_or_held() {
    for boat in boats() {
        assert!(accents(&boat, &View::default()).is_empty());
        assert!(the_accent(&boat, 0, Part::None).is_none());
        // Nor is what is not there.
        assert!(the_accent(&boat, 0, Part::Panel(99)).is_none());
        assert!(the_accent(&boat, 0, Part::Batten(99)).is_none());
        assert!(the_accent(&boat, 0, Part::Parrel(99)).is_none());
    }
}

#[test]
fn the_accent_lies_on_the_part() {
    for boat in boats() {
        for mast in 0..boat.design.masts.len() {
            let view = View {
                hoist: boat.hoist(1.0),
                mast,
                ..View::default()
            };
            let pose = boat.pose(&view);
            let spars = &pose.masts[mast].as_ref().unwrap().spars;
            let frame = boat.frame(PANES[2], &view);
            let plane = frame.sail(&boat.account.masts[mast].mast, 0.0);
            let n = spars.len() - 1;
            let round = |points: &[Point]| {
                let boxes = points.iter().map(|p| Rect::from_points(*p, *p));
                boxes.reduce(|all, p| all.union(p)).unwrap()
            };
            let ends = |i: usize| [plane * spars[i].luff, plane * spars[i].leech()];
            let panel = |i: usize| round(&[ends(i - 1), ends(i)].concat());
            let luffs: Vec<Point> = (0..=n).map(|i| ends(i)[0]).collect();
            let leeches: Vec<Point> = (0..=n).map(|i| ends(i)[1]).collect();
            for (part, expected) in [
                (Part::Boom, round(&ends(0))),
                (Part::Batten(2), round(&ends(2))),
                (Part::Yard, round(&ends(n))),
                (Part::Panel(3), panel(3)),
                (Part::Luff, round(&luffs)),
                (Part::Leech, round(&leeches)),
                (
                    Part::Sail,
                    round(&[luffs.clone(), leeches.clone()].concat()),
                ),
                // One panel lowered: boom and batten 1.
                (Part::Bundle, round(&[ends(0), ends(1)].concat())),
            ] {
                let found = the_accent(&boat, mast, part).unwrap();
                for (a, b) in [
                    (found.x0, expected.x0),
                    (found.x1, expected.x1),
                    (found.y0, expected.y0),
                    (found.y1, expected.y1),
                ] {
                    assert!((a - b).abs() < 1e-6, "{} {part:?} {found:?}", boat.key);
                }
            }
            for part in [
                Part::Mast,
                Part::Halyard,
                Part::Lifts,
                Part::Parrel(1),
                Part::Hull,
            ] {
                let found = the_accent(&boat, mast, part).unwrap();
                assert!(
                    found.width().max(found.height()) > 5.0,
                    "{} {part:?}",
                    boat.key
                );
            }
            let hull = &boat.design.boat.hull;
            let [roof, well] = [Part::Coachroof, Part::Cockpit].map(|p| the_accent(&boat, mast, p));
            assert_eq!(roof.is_some(), hull.coachroof.is_some());
            assert_eq!(well.is_some(), hull.cockpit.is_some());
        }
    }
}
