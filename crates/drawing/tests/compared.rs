//! Two designs by one scale: both inside the pane, waterlines level, lengths in proportion.

mod boats;

use boats::boats_and_others;
use design::View;
use drawing::scene::Item;
use drawing::{Medium, Role, compare};
use kurbo::Point;

#[test]
fn both_lie_in_the_pane_by_one_scale_with_their_waterlines_level() {
    let boats = boats_and_others();
    let view = View::default();
    for one in &boats {
        for other in &boats {
            let poses = [one.pose(&view), other.pose(&view)];
            let first = one.moment(&poses[0], &view, Medium::Screen);
            let second = other.moment(&poses[1], &view, Medium::Screen);
            for (width, height) in [(330.0, 400.0), (500.0, 480.0), (1000.0, 520.0)] {
                for over in [true, false] {
                    let [a, b] = compare::frames(&first, &second, over, width, height);
                    let at = format!("{} {} {width} {over}", one.key, other.key);
                    assert_eq!(a.scale, b.scale, "{at}");
                    assert!((a.origin.y - b.origin.y).abs() < 1e-9, "{at}");
                    if over {
                        assert!((a.origin.x - b.origin.x).abs() < 1e-9, "{at}");
                    }
                    for (frame, boat) in [(a, one), (b, other)] {
                        let hull = &boat.design.boat.hull;
                        let bow = frame.ship() * Point::ORIGIN;
                        let stern = frame.ship() * Point::new(hull.lwl, 0.0);
                        assert!((stern.x - bow.x - a.scale * hull.lwl).abs() < 1e-9, "{at}");
                        for mast in &boat.account.masts {
                            let head = frame.mast(&mast.mast) * Point::new(0.0, mast.mast.lap);
                            assert!((0.0..=width).contains(&head.x), "{at}");
                            assert!((0.0..=height).contains(&head.y), "{at}");
                            for spar in mast.plan.iter().flat_map(|plan| &plan.spars) {
                                for end in [spar.luff, spar.leech()] {
                                    let p = frame.sail(&mast.mast, 0.0) * end;
                                    assert!((0.0..=width).contains(&p.x), "{at}");
                                    assert!((0.0..=height).contains(&p.y), "{at}");
                                }
                            }
                        }
                    }
                }
            }
        }
    }
}

/// The other one's ink is another, and broken: it can be told apart in greyscale.
#[test]
fn what_is_laid_over_is_dashed_and_has_every_spar_of_the_other() {
    let boats = boats_and_others();
    let (one, other) = (&boats[1], &boats[2]);
    let view = View {
        hoist: other.hoist(2.0),
        ..View::default()
    };
    let poses = [one.pose(&view), other.pose(&view)];
    let first = one.moment(&poses[0], &view, Medium::Screen);
    let second = other.moment(&poses[1], &view, Medium::Screen);
    let scene = compare::over(&first, &second, 700.0, 500.0);
    let [_, frame] = compare::frames(&first, &second, true, 700.0, 500.0);
    let dashed: Vec<_> = scene
        .items
        .iter()
        .filter_map(|item| match item {
            Item::Figure(figure) => Some(figure),
            Item::Words(_) => None,
        })
        .filter(|figure| {
            figure.stroke.is_some_and(|stroke| {
                stroke.role == Role::Note && stroke.dash == drawing::scene::Dash::Dashed
            })
        })
        .collect();
    for (pose, account) in poses[1].masts.iter().zip(&other.account.masts) {
        let pose = pose.as_ref().unwrap();
        for spar in &pose.spars {
            let plane = frame.sail(&account.mast, pose.sheeting);
            let ends = [plane * spar.luff, plane * spar.leech()];
            let drawn = dashed.iter().any(|figure| {
                let found = figure.path.control_box();
                let wanted = kurbo::Rect::from_points(ends[0], ends[1]);
                (found.x0 - wanted.x0).abs() < 0.1
                    && (found.y0 - wanted.y0).abs() < 0.1
                    && (found.x1 - wanted.x1).abs() < 0.1
                    && (found.y1 - wanted.y1).abs() < 0.1
            });
            assert!(drawn, "{spar:?}");
        }
    }
}
