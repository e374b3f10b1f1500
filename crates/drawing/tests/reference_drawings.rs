//! Three boats in three states and their plots, as text that a person can review in a browser.
//!
//! `UPDATE_GOLDEN=1 cargo test -p battenwright-drawing --test reference_drawings` writes them anew.

mod boats;

use std::collections::BTreeSet;
use std::path::PathBuf;

use boats::{Boat, boats, charts, stave_masts};
use design::{Shown, View};
use drawing::patterns::Papers;
use drawing::scene::Item;
use drawing::{Ink, Medium, Plot, Role, Scene, Scheme, sewing, svg};
use rigging::Line;

/// A reviewer's eye, and the repository, bear no more [bytes].
const LARGEST: usize = 44 * 1024;

/// Name, scene and scheme of every reference drawing.
fn drawings() -> Vec<(String, Scene, Scheme)> {
    let mut drawings = Vec::new();
    for boat in boats() {
        let most = boat.most_panels();
        for (state, hoist, pane, medium, scheme) in [
            ("full", 0.0, (703.0, 860.0), Medium::Paper, Scheme::Print),
            (
                "reefing",
                2.5,
                (390.0, 430.0),
                Medium::Screen,
                Scheme::Light,
            ),
            (
                "lowered",
                most,
                (390.0, 430.0),
                Medium::Screen,
                Scheme::Dark,
            ),
        ] {
            let scene = boat.draw(&at(&boat, hoist), pane, medium);
            drawings.push((format!("{}-{state}", boat.key), scene, scheme));
        }
        let in_hand = View {
            // The lines alone: a reviewer reads no more.
            shown: Shown {
                dimensions: false,
                parrels: false,
                trail: false,
                ..View::default().shown
            },
            sheeting: -0.4,
            line: Some(Line::Sheet(0)),
            lines: true,
            ..at(&boat, 4.0)
        };
        let scene = boat.draw(&in_hand, (703.0, 860.0), Medium::Screen);
        drawings.push((format!("{}-lines", boat.key), scene, Scheme::Dark));
        for (plot, which, step, pane, scheme) in [
            ("stern", Plot::Stern, 0, (340.0, 320.0), Scheme::Light),
            ("righting", Plot::Righting, 0, (640.0, 320.0), Scheme::Print),
            ("travel", Plot::Travel, 2, (340.0, 320.0), Scheme::Dark),
        ] {
            let scene = boat.plot(which, &View::default(), step, pane);
            drawings.push((format!("{}-{plot}", boat.key), scene, scheme));
        }
        let sheeted = View {
            sheeting: 0.5,
            line: Some(Line::Hauling(0)),
            ..at(&boat, 1.0)
        };
        let scene = boat.plot(Plot::Above, &sheeted, 0, (340.0, 320.0));
        drawings.push((format!("{}-above", boat.key), scene, Scheme::Light));
        let map = boat.map(&View::default()).expect("a sheet");
        let scene = boat.plot(Plot::Deck(&map), &View::default(), 0, (640.0, 320.0));
        drawings.push((format!("{}-deck", boat.key), scene, Scheme::Print));
        let curves = View {
            shown: Shown {
                curves: true,
                ..View::default().shown
            },
            ..View::default()
        };
        let scene = boat.draw(&curves, (788.0, 840.0), Medium::Screen);
        drawings.push((format!("{}-curves", boat.key), scene, Scheme::Light));
        let scene = boat.plot(Plot::Section, &View::default(), 0, (340.0, 320.0));
        drawings.push((format!("{}-section", boat.key), scene, Scheme::Dark));
    }
    cloths(&mut drawings);
    // The same whatever the boat.
    let mut boat = boats().remove(1);
    stave_masts(&mut boat);
    let scene = boat.plot(Plot::Section, &View::default(), 0, (340.0, 320.0));
    drawings.push(("staves".to_owned(), scene, Scheme::Light));
    let pose = boat.pose(&View::default());
    let plain = View::default();
    let moment = boat.moment(&pose, &plain, Medium::Screen);
    let [raising, _, _, bending] = charts(&moment).try_into().expect("four charts");
    for (name, chart) in [("raising", raising), ("bending", bending)] {
        let scene = boat.plot(Plot::Chart(&chart), &plain, 0, (340.0, 320.0));
        drawings.push((name.to_owned(), scene, Scheme::Light));
    }
    drawings
}

/// Panels in section and in space, by another way of making the sail for each boat; all ways of the first.
fn cloths(drawings: &mut Vec<(String, Scene, Scheme)>) {
    let view = View::default();
    for (i, boat) in boats().into_iter().enumerate() {
        let cloth = boat.account.masts[0].cloth.as_ref().expect("cloth");
        let ways = design::ways(&boat.design, 0, &boat.account);
        let input = cloth.input.made(&ways[[1, 3, 4][i]]);
        // One of the head.
        let panel = input.panels() - 1;
        for (plot, which, pane, scheme) in [
            (
                "cloth-section",
                Plot::ClothSection(&input, panel),
                (358.0, 300.0),
                Scheme::Light,
            ),
            (
                "cloth-surface",
                Plot::ClothSurface(&input, panel),
                (700.0, 320.0),
                Scheme::Dark,
            ),
        ] {
            let scene = boat.plot(which, &view, 0, pane);
            drawings.push((format!("{}-{plot}", boat.key), scene, scheme));
        }
        if i == 0 {
            let scene = boat.plot(Plot::ClothWays(&input, &ways), &view, 0, (358.0, 640.0));
            drawings.push(("cloth-ways".to_owned(), scene, Scheme::Print));
        }
    }
}

/// A pattern piece of the fanned head and a roll, for a page.
fn sewn() -> Vec<(String, String)> {
    let boat = boats().remove(1);
    let cloth = boat.account.masts[0].cloth.as_ref().expect("cloth");
    let patterns = cloth.input.patterns();
    let papers = Papers {
        input: &cloth.input,
        patterns: &patterns,
        words: &boat.words,
        units: View::default().units,
        title: boat.key,
    };
    let cutting = cloth.input.cutting(&patterns, 0);
    let number = patterns.pieces.len() - 2;
    let piece = sewing::piece(&papers, number, 358.0, Scheme::Light);
    let roll = svg::inline(&sewing::roll(&papers, &cutting, 700.0), Scheme::Print);
    vec![
        ("cloth-piece".to_owned(), piece),
        ("cloth-roll".to_owned(), roll),
    ]
}

fn at(boat: &Boat, hoist: f64) -> View {
    View {
        hoist: boat.hoist(hoist),
        ..View::default()
    }
}

fn folder() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../../tests/golden/drawings")
}

#[test]
fn drawings_are_as_they_were_reviewed() {
    let update = std::env::var_os("UPDATE_GOLDEN").is_some();
    let mut changed = Vec::new();
    let mut texts = sewn();
    for (name, scene, scheme) in drawings() {
        texts.push((name, svg::write(&scene, scheme)));
    }
    for (name, text) in texts {
        assert!(text.len() <= LARGEST, "{name}: {} bytes", text.len());
        let path = folder().join(format!("{name}.svg"));
        if update {
            std::fs::create_dir_all(folder()).expect("folder of the reference drawings");
            std::fs::write(&path, &text).expect("a reference drawing is written");
        }
        let reviewed = std::fs::read_to_string(&path).unwrap_or_default();
        if reviewed != text {
            let line = reviewed.lines().zip(text.lines()).position(|(a, b)| a != b);
            changed.push(format!("{name}.svg, line {}", line.map_or(0, |i| i + 1)));
        }
    }
    assert!(
        changed.is_empty(),
        "drawings changed: {changed:#?}\nlook at them, then run with UPDATE_GOLDEN=1"
    );
}

/// A colour for each role that no other role has and no mixture at an edge is likely to give.
fn false_ink(role: Role) -> Ink {
    let place = Role::ALL
        .iter()
        .position(|other| *other == role)
        .unwrap_or(0) as u8;
    Ink {
        red: 20 + 40 * (place % 6),
        green: 20 + 40 * (place / 6),
        blue: 255 - 9 * place,
    }
}

/// Colours of all pixels, the drawing magnified so that thin lines have an inside.
fn colours(text: &str) -> BTreeSet<(u8, u8, u8)> {
    let tree = resvg::usvg::Tree::from_str(text, &resvg::usvg::Options::default())
        .expect("the drawing is SVG");
    let magnified = 3.0;
    let size = tree.size();
    let (width, height) = (size.width() * magnified, size.height() * magnified);
    let mut pixels = resvg::tiny_skia::Pixmap::new(width as u32, height as u32).expect("room");
    let transform = resvg::tiny_skia::Transform::from_scale(magnified, magnified);
    resvg::render(&tree, transform, &mut pixels.as_mut());
    let mut seen = BTreeSet::new();
    let mut last = None;
    for pixel in pixels.pixels() {
        // Most pixels are like their neighbour.
        if last != Some(*pixel) {
            seen.insert((pixel.red(), pixel.green(), pixel.blue()));
            last = Some(*pixel);
        }
    }
    seen
}

/// Every role can be seen on a drawing: it is drawn, and nothing lies over all of it. Letters are
/// not rasterised here; roles that are only lettered are looked for in the scene.
#[test]
fn the_ink_of_every_role_is_on_the_paper() {
    for boat in boats() {
        let view = View {
            active: "clew".into(),
            ..at(&boat, 1.5)
        };
        let scene = boat.draw(&view, (960.0, 720.0), Medium::Screen);
        let seen = colours(&svg::write_inked(&scene, &false_ink));
        for role in Role::ALL {
            let lettered = matches!(role, Role::Note | Role::Number | Role::Title);
            let there = if lettered {
                scene.all_words().any(|words| words.role == role)
            } else {
                let Ink { red, green, blue } = false_ink(role);
                seen.contains(&(red, green, blue))
            };
            // An open boat has no coachroof, yet her mast step is drawn in the same ink.
            assert!(there, "{}: {role:?}", boat.key);
        }
    }
}

/// The same of the view from above and of the map.
#[test]
fn the_ink_of_the_plans_is_on_the_paper() {
    for boat in boats() {
        let view = View {
            sheeting: -0.6,
            line: Some(Line::Sheet(0)),
            ..at(&boat, 1.0)
        };
        let map = boat.map(&view).expect("a sheet");
        use Role::{Accent, ClothEdge, Dimension, Handle, Hull, HullLine, Mast, MastLine, Spar};
        let above = [
            Hull,
            HullLine,
            Role::Cloth,
            ClothEdge,
            Spar,
            Mast,
            MastLine,
            Role::Line,
            Dimension,
            Accent,
            Handle,
        ];
        let deck = [Hull, HullLine, Role::Water, Dimension, Spar, Accent];
        for (which, roles) in [(Plot::Above, &above[..]), (Plot::Deck(&map), &deck[..])] {
            let scene = boat.plot(which, &view, 0, (700.0, 620.0));
            let seen = colours(&svg::write_inked(&scene, &false_ink));
            for role in roles {
                let Ink { red, green, blue } = false_ink(*role);
                assert!(seen.contains(&(red, green, blue)), "{}: {role:?}", boat.key);
            }
        }
    }
}

/// The written file is what the scene says: as many figures and words, no style sheet, no script,
/// nothing fetched from elsewhere.
#[test]
fn the_file_is_plain_svg() {
    for (name, scene, scheme) in drawings() {
        let text = svg::write(&scene, scheme);
        let figures = scene.items.iter().filter(|i| matches!(i, Item::Figure(_)));
        assert_eq!(text.matches("<path ").count(), figures.count(), "{name}");
        assert_eq!(
            text.matches("<text ").count(),
            scene.all_words().count(),
            "{name}"
        );
        for banned in ["style", "<script", "href", "url(", "NaN", "inf"] {
            assert!(!text.contains(banned), "{name}: {banned}");
        }
    }
}
