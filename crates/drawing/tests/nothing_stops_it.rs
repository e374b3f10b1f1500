//! Whatever a document, a pane or a pointer holds, there is a drawing and no panic.

mod boats;

use std::rc::Rc;

use ::spars::finder::{Found, Rated};
use ::spars::mast::{Row, WeakAccount};
use boats::{Boat, PLOTS, boat, boats, charts, prove_masts};
use design::{Document, Edit, Shown, SparsAccount, View, account, demos};
use drawing::plots::{Chart, DeckMap, Kind as Drawn, Part};
use drawing::{Frame, Medium, Plot, dragged, dragged_above, handles, handles_above, sail_plan};
use kurbo::Point;
use quantities::{Kind, ROWS};
use rigging::Line;

fn exercise(boat: &Boat, view: &View, pane: (f64, f64)) {
    let pose = boat.pose(view);
    let moment = boat.moment(&pose, view, Medium::Screen);
    let frame = boat.frame(pane, view);
    let scene = sail_plan(&moment, &frame);
    for item in &scene.items {
        assert!(item.bounds().is_finite(), "{item:?}");
    }
    for which in PLOTS.into_iter().chain([Plot::Section]) {
        for step in [0, 2, usize::MAX] {
            let scene = boat.plot(which, view, step, pane);
            assert!(scene.width.is_finite() && scene.height.is_finite());
            for item in &scene.items {
                assert!(item.bounds().is_finite(), "{which:?} {item:?}");
            }
        }
    }
    for handle in handles_above(&moment, pane) {
        assert!(handle.at.is_finite() && handle.value.is_finite());
        let far = handle.at + kurbo::Vec2::new(1e9, -40.0);
        for pointer in [far, Point::new(f64::NAN, 0.0)] {
            let asked = dragged_above(&moment, pane, handle.id, pointer);
            if let Some(drawing::Dragged::Edits { numbers, .. }) = asked {
                assert!(numbers.iter().all(|(_, value)| value.abs() <= 100.0));
            }
        }
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

/// Lines of every kind.
const LINES: [Line; 7] = [
    Line::Sheet(0),
    Line::Lifts,
    Line::Hauling(0),
    Line::Halyard,
    Line::Parrel(1),
    Line::Hauling(1),
    Line::Span(0, 0),
];

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
            let line = LINES[tried % LINES.len()];
            for (hoist, line) in [(0.0, None), (1.5, Some(line))] {
                let view = View {
                    hoist: changed.hoist(hoist),
                    sheeting: -hoist,
                    line,
                    lines: line.is_some(),
                    shown: Shown {
                        curves: line.is_none(),
                        ..View::default().shown
                    },
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
                wind: f64::NAN,
                ..plain.clone()
            },
            View {
                wind: 1e300,
                pointed: Some(quantities::Part::Panel(usize::MAX)),
                ..plain.clone()
            },
            View {
                wind: -3.0,
                pointed: Some(quantities::Part::Batten(0)),
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
                line: Some(Line::Span(9, usize::MAX)),
                lines: true,
                ..plain.clone()
            },
            View {
                line: Some(Line::Hauling(0)),
                sheeting: f64::INFINITY,
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

/// The smallest pane that is looked at, and some that are none.
const ANY_PANES: [(f64, f64); 5] = [
    (314.0, 397.0),
    (0.0, 0.0),
    (1.0, 1e4),
    (f64::NAN, -3.0),
    (1e9, 1e9),
];

const NO_NUMBERS: [f64; 6] = [f64::NAN, f64::INFINITY, -f64::INFINITY, -1.0, 0.0, 1e300];

/// Curves beside the mast, zoomed in and out, and the mast in section.
fn curved(boat: &Boat) {
    for (zoom, pan_x) in [(1.0, 0.0), (7.0, 400.0), (1e300, 0.0)] {
        for mast in [0, 1] {
            let view = View {
                zoom,
                pan_x,
                mast,
                shown: Shown {
                    curves: true,
                    ..View::default().shown
                },
                ..View::default()
            };
            for pane in ANY_PANES {
                let scenes = [
                    boat.draw(&view, pane, Medium::Screen),
                    boat.plot(Plot::Section, &view, 0, pane),
                ];
                for item in scenes.iter().flat_map(|scene| &scene.items) {
                    assert!(item.bounds().is_finite(), "{item:?}");
                }
            }
        }
    }
}

/// Rows of no numbers, of none, of one; weak places off the mast; a mast of impossible pieces.
#[test]
fn any_mast_will_do() {
    let mut boats = boats();
    let tries: [fn(&mut SparsAccount, f64); 12] = [
        |_, _| {},
        |s, _| s.mast.rows.clear(),
        |s, _| s.mast.rows.truncate(1),
        |s, n| s.mast.rows.iter_mut().for_each(|row| row.height = n),
        |s, n| {
            s.mast.rows.iter_mut().for_each(|row| {
                *row = Row {
                    height: row.height,
                    moment: n,
                    ratio: n,
                    deflection: n,
                    ..Row::default()
                }
            });
        },
        |s, n| s.mast.rows[5].deflection = n,
        |s, n| {
            s.mast.weak.push(WeakAccount {
                height: n,
                left: n,
                ratio: n,
                governs: 99,
            });
        },
        |s, n| s.mast.hole = n,
        |s, n| s.mast_input.bury = n,
        |s, n| s.mast_input.pole.pieces[0].walls = Some((n, -n)),
        |s, n| s.mast_input.pole.pieces[1].to = n,
        |s, n| {
            s.mast_input.wedges.thickness = n;
            for piece in &mut s.mast_input.pole.pieces {
                (piece.diameters.1, piece.staves) = (n, usize::MAX);
            }
        },
    ];
    for boat in &mut boats[1..] {
        prove_masts(boat, 0.03, &[]);
        let sound = boat.account.masts.clone();
        for change in tries {
            for n in NO_NUMBERS {
                boat.account.masts = sound.clone();
                for mast in &mut boat.account.masts {
                    change(mast.spars.as_mut().unwrap(), n);
                }
                curved(boat);
            }
        }
    }
}

/// Charts of no numbers, of nothing, of thousands of dots.
#[test]
fn any_chart_will_do() {
    let boat = boat(&demos()[1]);
    let view = View::default();
    let pose = boat.pose(&view);
    let moment = boat.moment(&pose, &view, Medium::Screen);
    let mut all = vec![Chart::default(), Chart::raising(&moment, &[])];
    all.push(Chart::finder(&moment, &Found::default()));
    all.push(Chart::bending(&moment, &[], f64::NAN, 0.0));
    for n in NO_NUMBERS {
        let rated = Rated {
            mass: n,
            ratio: n,
            bend: n,
            price: None,
            passes: true,
        };
        let mut found = Found {
            rated: vec![Some(rated); 4000],
            chosen: Some(usize::MAX),
        };
        all.push(Chart::finder(&moment, &found));
        for (i, rated) in found.rated.iter_mut().flatten().enumerate() {
            (rated.mass, rated.ratio) = (i as f64, 1.0 + (i % 77) as f64);
        }
        found.rated[7] = Some(rated);
        found.chosen = Some(7);
        all.push(Chart::finder(&moment, &found));
        all.push(Chart::bending(&moment, &[[n; 3], [1.0, n, 2.0]], n, n));
        for mut chart in charts(&moment) {
            for kind in [Drawn::Across, Drawn::Upright, Drawn::Mark] {
                chart.parts.push(Part {
                    kind,
                    points: vec![Point::new(n, n)],
                    said: "mark".to_owned(),
                });
            }
            for part in &mut chart.parts {
                if let Some(point) = part.points.get_mut(3) {
                    *point = Point::new(n, 1.0);
                }
            }
            all.push(chart);
        }
    }
    for chart in &all {
        for pane in ANY_PANES {
            let scene = boat.plot(Plot::Chart(chart), &view, 0, pane);
            for item in &scene.items {
                assert!(item.bounds().is_finite(), "{item:?}");
            }
            // Thousands of dots are few figures.
            assert!(scene.items.len() < 200, "{}", scene.items.len());
        }
    }
}

fn mapped(boat: &Boat, map: &DeckMap, pane: (f64, f64)) {
    let scene = boat.plot(Plot::Deck(map), &View::default(), 0, pane);
    for item in &scene.items {
        assert!(item.bounds().is_finite(), "{item:?}");
    }
}

/// A map of nothing, of another boat, of no numbers, with rows of any length.
#[test]
fn any_map_will_do() {
    let boats = [boat(&demos()[0]), boat(&demos()[1])];
    let map = boats[1].map(&View::default()).unwrap();
    for change in [
        |map: &mut DeckMap| map.cells.clear(),
        |map: &mut DeckMap| map.cells.truncate(1),
        |map: &mut DeckMap| map.columns = 0,
        |map: &mut DeckMap| map.columns = usize::MAX,
        |map: &mut DeckMap| map.of = (9, 9, 9),
        |map: &mut DeckMap| map.cells[3].at.x = f64::NAN,
        |map: &mut DeckMap| map.cells[0].at.y = 1e300,
    ] {
        let mut map = map.clone();
        change(&mut map);
        for boat in &boats {
            for pane in [(340.0, 320.0), (0.0, 0.0), (f64::NAN, 1e9)] {
                mapped(boat, &map, pane);
            }
        }
    }
}

/// A boat that lolls, one without water under her, outlines of one point or of none: whatever the
/// account makes of them, the plots and the sail plan are drawn.
#[test]
fn a_boat_that_cannot_be_is_drawn_as_far_as_she_goes() {
    use kurbo::Point as P;
    for demo in demos() {
        let tries: [fn(&mut design::Design); 9] = [
            |d| Rc::make_mut(&mut d.boat).particulars.hull.gravity = 9.0,
            |d| Rc::make_mut(&mut d.boat).particulars.hull.beam = 0.0,
            |d| Rc::make_mut(&mut d.boat).particulars.hull.canoe_draught = f64::NAN,
            |d| {
                Rc::make_mut(&mut d.boat).particulars.lateral.profile =
                    vec![P::new(f64::NAN, 1.0); 5]
            },
            |d| {
                Rc::make_mut(&mut d.boat).particulars.lateral.profile = vec![P::new(1.0, -1e300); 2]
            },
            |d| {
                Rc::make_mut(&mut d.boat).particulars.sails_now =
                    vec![vec![], vec![P::ORIGIN], vec![P::new(1e9, f64::INFINITY); 3]]
            },
            |d| Rc::make_mut(&mut d.boat).deck = vec![P::new(f64::NAN, 0.0); 2],
            |d| d.masts[0].from = Some(f64::INFINITY),
            |d| Rc::make_mut(&mut d.boat).particulars.crew.to_weather = 1e6,
        ];
        for change in tries {
            let mut boat = boat(demo);
            Rc::make_mut(&mut boat.design.boat).particulars.source = boat::Source::Form;
            change(&mut boat.design);
            boat.account = account(&boat.design);
            exercise(&boat, &View::default(), (340.0, 320.0));
            if let Some(map) = boat.map(&View::default()) {
                mapped(&boat, &map, (340.0, 320.0));
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
