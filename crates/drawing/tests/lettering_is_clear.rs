//! Lettering on every drawing: large enough, inside the pane, clear of other lettering and of spars.

mod boats;

use ::spars::mast::{Weak, Weakness};
use boats::{
    Boat, PANES, PLOTS, boats, boats_and_others, charts, places, prove_masts, stave_masts,
};
use design::{Shown, View};
use drawing::scene::{Item, Words};
use drawing::{Medium, Plot, Role, Scene};
use kurbo::{Line, PathEl, PathSeg, Point, Vec2};
use quantities::Units;
use quantities::quantity::PARREL_HEIGHT;

/// What people look at: every quarter panel of the hoist, both units, each sail in hand, with and
/// without the extras.
fn views(boat: &Boat) -> Vec<View> {
    let everything = View::default().shown;
    let no_heights = Shown {
        parrels: false,
        ..everything
    };
    let mut views = Vec::new();
    for quarter in 0..=(4.0 * boat.most_panels()) as u32 {
        for units in [Units::METRIC, Units::IMPERIAL] {
            for shown in [everything, no_heights] {
                for mast in 0..boat.design.masts.len() {
                    views.push(View {
                        hoist: boat.hoist(f64::from(quarter) / 4.0),
                        units,
                        shown,
                        mast,
                        ..View::default()
                    });
                }
            }
        }
    }
    views
}

/// A line in hand, one after the other, while the sail is lowered and sheeted to either side.
fn views_of_lines(boat: &Boat) -> Vec<View> {
    let mut views = Vec::new();
    for mast in 0..boat.design.masts.len() {
        let lines = boat.account.masts[mast].lines.as_ref().unwrap();
        for (i, known) in lines.account.lines.iter().enumerate() {
            for (j, hoist) in [0.0, 0.4, 1.0, 2.5, boat.most_panels()].iter().enumerate() {
                views.push(View {
                    hoist: boat.hoist(*hoist),
                    sheeting: [0.0, 0.3, -0.3, 1.48, -1.0][(i + j) % 5],
                    units: [Units::METRIC, Units::IMPERIAL][i % 2],
                    mast,
                    line: Some(known.line),
                    lines: j % 2 == 0,
                    ..View::default()
                });
            }
        }
    }
    views
}

fn every_drawing(mut look: impl FnMut(&str, &Scene)) {
    for boat in boats() {
        // From near by, the mast out of the pane to port, to starboard, below.
        for (pan_x, pan_y) in [(-700.0, -300.0), (900.0, 0.0), (0.0, 1500.0), (60.0, -90.0)] {
            let view = View {
                zoom: 3.0,
                pan_x,
                pan_y,
                ..View::default()
            };
            let scene = boat.draw(&view, PANES[2], Medium::Screen);
            look(&format!("{} near by, {pan_x} {pan_y}", boat.key), &scene);
        }
        for view in views(&boat).into_iter().chain(views_of_lines(&boat)) {
            for (pane, medium) in places() {
                let scene = boat.draw(&view, pane, medium);
                let name = format!(
                    "{} {pane:?} hoist {:?} at {} mast {} {:?} {:?}",
                    boat.key, view.hoist, view.sheeting, view.mast, view.units, view.line
                );
                look(&name, &scene);
            }
        }
    }
    every_plot(&mut look);
    every_plan(&mut look);
    every_curve(&mut look);
    every_chart(&mut look);
}

/// The curves beside each mast in turn, of one that bears its loads and of one that does not, with a weak place.
fn every_curve(look: &mut impl FnMut(&str, &Scene)) {
    let weak = Weak {
        height: 1.4,
        what: Weakness::Weld(0.6),
    };
    for mut boat in boats() {
        for wall in [0.02, 0.04, 0.5] {
            prove_masts(&mut boat, wall, &[weak]);
            for mast in 0..boat.design.masts.len() {
                for hoist in [0.0, 1.5, boat.most_panels()] {
                    for units in [Units::METRIC, Units::IMPERIAL] {
                        let view = View {
                            hoist: boat.hoist(hoist),
                            units,
                            mast,
                            shown: Shown {
                                curves: true,
                                ..View::default().shown
                            },
                            ..View::default()
                        };
                        for (pane, medium) in places() {
                            let scene = boat.draw(&view, pane, medium);
                            let name = format!(
                                "{} curves {pane:?} wall {wall} hoist {hoist} mast {mast} {units:?}",
                                boat.key
                            );
                            look(&name, &scene);
                        }
                    }
                }
            }
        }
    }
}

/// Every chart, and the mast in section.
fn every_chart(look: &mut impl FnMut(&str, &Scene)) {
    let mut boat = boats().remove(1);
    prove_masts(&mut boat, 0.03, &[]);
    for units in [Units::METRIC, Units::IMPERIAL] {
        let view = View {
            units,
            ..View::default()
        };
        let pose = boat.pose(&view);
        for pane in [(320.0, 260.0), (340.0, 320.0), (700.0, 420.0)] {
            let charts = charts(&boat.moment(&pose, &view, Medium::Screen));
            for chart in &charts {
                let scene = boat.plot(Plot::Chart(chart), &view, 0, pane);
                look(&format!("{} {pane:?} {units:?}", chart.title), &scene);
            }
            let mut staved = boats().remove(1);
            stave_masts(&mut staved);
            for boat in [&boat, &staved] {
                let scene = boat.plot(Plot::Section, &view, 0, pane);
                look(&format!("section {pane:?} {units:?}"), &scene);
            }
        }
    }
}

/// From above, every line in hand, reefed and sheeted out; and the maps of all deck blocks.
fn every_plan(look: &mut impl FnMut(&str, &Scene)) {
    for boat in boats_and_others() {
        let panes = [(320.0, 260.0), (340.0, 320.0), (700.0, 420.0)];
        for view in views_of_lines(&boat) {
            for pane in panes {
                let scene = boat.plot(Plot::Above, &view, 0, pane);
                let name = format!(
                    "{} above {pane:?} hoist {:?} at {} mast {} {:?}",
                    boat.key, view.hoist, view.sheeting, view.mast, view.line
                );
                look(&name, &scene);
            }
        }
        for mast in 0..boat.design.masts.len() {
            let view = View {
                mast,
                ..View::default()
            };
            let map = boat.map(&view).unwrap();
            for pane in panes {
                let scene = boat.plot(Plot::Deck(&map), &view, 0, pane);
                look(&format!("{} deck {pane:?} mast {mast}", boat.key), &scene);
            }
        }
    }
}

/// Every plot at any step, from a calm to a hurricane, from a phone to a wide screen.
fn every_plot(look: &mut impl FnMut(&str, &Scene)) {
    for boat in boats_and_others() {
        for which in PLOTS {
            for pane in [
                (320.0, 260.0),
                (340.0, 320.0),
                (480.0, 300.0),
                (700.0, 420.0),
            ] {
                for step in [0, 1, 3, boat.account.rig.sequence.len() - 1] {
                    for wind in (0..=36).step_by(4) {
                        for units in [Units::METRIC, Units::IMPERIAL] {
                            let view = View {
                                units,
                                wind: f64::from(wind),
                                ..View::default()
                            };
                            let scene = boat.plot(which, &view, step, pane);
                            let name = format!(
                                "{} {which:?} {pane:?} step {step} {wind} m/s {units:?}",
                                boat.key
                            );
                            look(&name, &scene);
                        }
                    }
                }
            }
        }
    }
}

/// Whether two convex quadrilaterals overlap by more than a hair.
fn overlap(one: &[Point; 4], other: &[Point; 4]) -> bool {
    let parted = |by: &[Point; 4]| {
        (0..4).any(|i| {
            let side = by[(i + 1) % 4] - by[i];
            let normal = Vec2::new(side.y, -side.x) / side.hypot().max(1e-9);
            let span = |quad: &[Point; 4]| {
                let along = quad.map(|p| p.to_vec2().dot(normal));
                (
                    along.iter().copied().fold(f64::INFINITY, f64::min),
                    along.iter().copied().fold(f64::NEG_INFINITY, f64::max),
                )
            };
            let (a, b) = (span(one), span(other));
            a.1 < b.0 + 0.1 || b.1 < a.0 + 0.1
        })
    };
    !parted(one) && !parted(other)
}

#[test]
fn no_letter_is_smaller_than_twelve_pixels_or_outside_the_pane() {
    every_drawing(|name, scene| {
        for words in scene.all_words() {
            assert!(words.size >= 12.0, "{name}: {words:?}");
            let bounds = words.bounds();
            assert!(
                bounds.x0 >= 0.0
                    && bounds.y0 >= 0.0
                    && bounds.x1 <= scene.width
                    && bounds.y1 <= scene.height,
                "{name}: {words:?}"
            );
        }
    });
}

#[test]
fn no_words_lie_on_other_words() {
    every_drawing(|name, scene| {
        let words: Vec<&Words> = scene.all_words().collect();
        for (i, one) in words.iter().enumerate() {
            for other in &words[i + 1..] {
                assert!(
                    !overlap(&one.corners(), &other.corners()),
                    "{name}: {} on {}",
                    one.words,
                    other.words
                );
            }
        }
    });
}

#[test]
fn no_words_lie_on_a_spar() {
    every_drawing(|name, scene| {
        for item in &scene.items {
            let Item::Figure(figure) = item else { continue };
            let Some(stroke) = figure.stroke.filter(|stroke| stroke.role == Role::Spar) else {
                continue;
            };
            let [PathEl::MoveTo(from), PathEl::LineTo(to)] = *figure.path.elements() else {
                panic!("a spar is one line");
            };
            let along = to - from;
            let side = Vec2::new(-along.y, along.x) / along.hypot() * (0.5 * stroke.weight);
            let spar = [from + side, to + side, to - side, from - side];
            // The scale bar keeps its corner, with a halo where the boat comes there.
            let bare = scene
                .all_words()
                .filter(|w| w.role != Role::ScaleBar || w.halo.is_none());
            for words in bare {
                assert!(!overlap(&words.corners(), &spar), "{name}: {}", words.words);
            }
        }
    });
}

/// Words stand on no dimension, extension or leader line, and not on the mast.
#[test]
fn no_line_strikes_through_words() {
    every_drawing(|name, scene| {
        for item in &scene.items {
            let Item::Figure(figure) = item else { continue };
            let struck = [Role::Dimension, Role::MastLine];
            if !figure.stroke.is_some_and(|s| struck.contains(&s.role)) {
                continue;
            }
            for piece in figure.path.segments() {
                let PathSeg::Line(Line { p0, p1 }) = piece else {
                    continue;
                };
                for words in scene.all_words() {
                    let line = [p0, p1, p1, p0];
                    assert!(!overlap(&words.corners(), &line), "{name}: {}", words.words);
                }
            }
        }
    });
}

/// A height whose mark lies outside the pane would lead to nothing.
#[test]
fn no_height_is_told_where_its_mark_is_out_of_sight() {
    for boat in boats() {
        let view = View {
            zoom: 6.0,
            pan_x: -1e4,
            ..View::default()
        };
        let frame = boat.frame(PANES[2], &view);
        let pose = boat.pose(&view);
        let mast = frame.mast(&boat.account.masts[0].mast);
        for spar in &pose.masts[0].as_ref().unwrap().spars {
            let height = spar.height_on_mast().unwrap();
            assert!((mast * Point::new(0.0, height)).x < 0.0, "{}", boat.key);
        }
        let scene = boat.draw(&view, PANES[2], Medium::Screen);
        assert!(
            scene
                .all_words()
                .all(|w| w.role != Role::Note || w.words == "CE" || w.words == "CLR")
        );
    }
}

/// At full hoist every parrel height of the sail in hand is told, on the smallest pane too, in
/// metres and in feet, and over the next sail of two.
#[test]
fn every_parrel_height_is_told_at_full_hoist() {
    let mut told = 0;
    for boat in boats() {
        for view in views(&boat)
            .into_iter()
            .filter(|v| v.hoist[0] == 0.0 && v.shown.parrels)
        {
            for (pane, medium) in places() {
                let scene = boat.draw(&view, pane, medium);
                let pose = boat.pose(&view);
                for spar in &pose.masts[view.mast].as_ref().unwrap().spars {
                    let height = spar.height_on_mast().unwrap();
                    let label = PARREL_HEIGHT.spell(height, view.units);
                    assert!(
                        scene
                            .all_words()
                            .any(|w| w.role == Role::Note && w.words == label),
                        "{} mast {} {pane:?}: {label}",
                        boat.key,
                        view.mast
                    );
                    told += 1;
                }
            }
        }
    }
    // Six, eight, and seven and eight spars, in two units on three panes and on paper.
    assert_eq!(told, (6 + 8 + 7 + 8) * 2 * 4);
}

/// Text beside the drawing names the points of the line in hand by number: at full hoist none is left out.
#[test]
fn every_point_of_the_line_in_hand_is_numbered_at_full_hoist() {
    let mut told = 0;
    for boat in boats() {
        for mast in 0..boat.design.masts.len() {
            let pose = boat.pose(&View::default());
            for laid in &pose.masts[mast].as_ref().unwrap().lines {
                let view = View {
                    mast,
                    line: Some(laid.line),
                    ..View::default()
                };
                for (pane, medium) in places() {
                    let scene = boat.draw(&view, pane, medium);
                    let numbers: Vec<&str> = scene
                        .all_words()
                        .filter(|w| w.role == Role::Accent)
                        .map(|w| w.words.as_str())
                        .collect();
                    let points = drawing::ropes::points(&laid.path).len();
                    let wanted: Vec<String> = (1..=points).map(|n| n.to_string()).collect();
                    assert_eq!(numbers, wanted, "{} {pane:?} {:?}", boat.key, laid.line);
                    told += points;
                }
            }
        }
    }
    assert!(told > 400, "{told}");
}

/// At full hoist every panel of every demo carries its number, on the smallest pane too.
#[test]
fn every_panel_is_numbered_at_full_hoist() {
    for boat in boats() {
        for view in views(&boat).iter().filter(|view| view.hoist[0] == 0.0) {
            for pane in PANES {
                let scene = boat.draw(view, pane, Medium::Screen);
                let numbers = scene.all_words().filter(|w| w.role == Role::Number).count();
                let panels: usize = boat.design.masts.iter().map(|m| m.sail.panels).sum();
                assert_eq!(numbers, panels, "{} {pane:?} {:?}", boat.key, view.units);
            }
        }
    }
}

/// No key stands in for a missing word.
#[test]
fn every_word_is_in_the_catalogue() {
    for boat in boats() {
        let view = View::default();
        let pose = boat.pose(&view);
        let moment = boat.moment(&pose, &view, Medium::Screen);
        let frame = boat.frame(PANES[0], &view);
        for handle in drawing::handles(&moment, &frame) {
            assert!(boat.words.find(handle.label.key).is_some(), "{handle:?}");
        }
        every_word_is_said(&boat.draw(&view, PANES[2], Medium::Screen));
    }
}

fn every_word_is_said(scene: &Scene) {
    let words = scene.all_words().map(|words| words.words.as_str());
    for said in words.chain([scene.title.as_str(), scene.description.as_str()]) {
        let key = said.contains("drawing.") || said.contains("handle.") || said.contains("plot.");
        assert!(!said.is_empty() && !key && !said.contains('{'), "{said}");
    }
}

/// From above the sheeting angle is told; the map tells its deck block and each field it has.
#[test]
fn every_plan_says_what_holds_now() {
    let mut maps = 0;
    every_plan(&mut |name, scene| {
        every_word_is_said(scene);
        let said = |wanted: &str| scene.all_words().any(|w| w.words == wanted);
        if name.contains(" deck ") {
            assert!(said("deck block"), "{name}");
            assert!(said("allowed") && said("chafes the leech"), "{name}");
            maps += 1;
        } else {
            let angle = |w: &Words| w.role == Role::Accent && w.words.ends_with('°');
            assert!(scene.all_words().any(angle), "{name}");
        }
    });
    assert!(maps >= 6 * 3, "{maps}");
}

/// What the eye looks for is told whatever stands in its way: the heel that she has, that she is past
/// the end of the curve, that she is knocked down; and the step that is looked at.
#[test]
fn every_plot_says_what_holds_now() {
    let (mut down, mut open) = (0, 0);
    every_plot(&mut |name, scene| {
        every_word_is_said(scene);
        let told = scene.all_words().any(|words| words.role == Role::Accent);
        let accent = scene.items.iter().any(|item| {
            matches!(item, Item::Figure(f) if f.fill == Some(Role::Accent)
                || f.stroke.is_some_and(|s| s.role == Role::Accent))
        });
        let knocked = scene.all_words().any(|words| words.words == "Knocked down");
        assert!(told || !accent, "{name}: an accent without a word");
        if !name.starts_with("blank") && !name.contains("Travel") {
            assert!(accent || knocked, "{name}");
        }
        down += u32::from(knocked);
        open += u32::from(scene.description.contains("or more"));
    });
    assert!(down > 20 && open > 5, "{down} {open}");
}

/// The greatest of each curve is told beside the mast, on the smallest pane too: with its words or its number alone.
#[test]
fn every_curve_tells_its_greatest() {
    let mut told = 0;
    every_curve(&mut |name, scene| {
        every_word_is_said(scene);
        let mut said: Vec<&str> = scene.description.rsplit(", ").take(3).collect();
        said.reverse();
        for (said, key) in said.into_iter().zip(["bend", "stress", "moment"]) {
            assert!(said.starts_with(key), "{name}: {said}");
            // With its unit where there is room.
            let number = said.trim_start_matches(key).trim();
            let number = number.split([' ', '\u{a0}']).next().unwrap();
            assert!(
                scene.all_words().any(|words| words.words.contains(number)),
                "{name}: {said}"
            );
            told += 1;
        }
    });
    assert_eq!(told, 4 * 3 * 3 * 2 * 4 * 3);
}

/// What a chart and a section are about is lettered in them, all of it.
#[test]
fn every_chart_letters_what_it_tells() {
    let mut staves = 0;
    every_chart(&mut |name, scene| {
        staves += u32::from(scene.description.contains("8 staves"));
        every_word_is_said(scene);
        for said in scene.description.split(", ") {
            assert!(
                scene.all_words().any(|words| words.words == said),
                "{name}: {said}"
            );
        }
    });
    assert_eq!(staves, 2 * 3);
}
