//! The cloth drawn: sections and surfaces to scale, lettered clear, on both tacks; pieces and roll counted dot by dot.

mod boats;

use std::collections::BTreeMap;

use boats::{Boat, boats};
use cloth::{Construction, Input};
use design::View;
use drawing::patterns::Papers;
use drawing::scene::{Figure, Item};
use drawing::{Ink, Plot, Role, Scene, Scheme, palette, sewing, svg};
use kurbo::{PathSeg, Point, Rect, Shape as _};
use quantities::Units;

/// Panes of phones and of wide screens [px].
const PANES: [(f64, f64); 4] = [
    (320.0, 260.0),
    (358.0, 300.0),
    (320.0, 640.0),
    (700.0, 420.0),
];

fn input(boat: &Boat, mast: usize) -> &Input {
    &boat.account.masts[mast]
        .cloth
        .as_ref()
        .expect("cloth")
        .input
}

/// A boat's sail made in every way, by the document's numbers.
fn made(boat: &Boat, mast: usize) -> Vec<Input> {
    let ways = design::ways(&boat.design, mast, &boat.account);
    assert_eq!(ways.len(), 5);
    let mut all = Vec::new();
    for way in ways {
        all.push(input(boat, mast).made(&way));
    }
    all
}

fn view(units: Units) -> View {
    View {
        units,
        ..View::default()
    }
}

fn every_plot(mut look: impl FnMut(&str, &Scene)) {
    for boat in boats() {
        for mast in 0..boat.design.masts.len() {
            for units in [Units::METRIC, Units::IMPERIAL] {
                let view = view(units);
                let ways = design::ways(&boat.design, mast, &boat.account);
                for pane in PANES {
                    for input in made(&boat, mast) {
                        let name = format!(
                            "{} mast {mast} {:?} {pane:?} {units:?}",
                            boat.key, input.construction
                        );
                        // Ten sections want room.
                        if pane.1 > 400.0 {
                            let which = Plot::ClothWays(&input, &ways);
                            look(&name, &boat.plot(which, &view, 0, pane));
                        }
                        for panel in 1..=input.panels() {
                            for which in [
                                Plot::ClothSection(&input, panel),
                                Plot::ClothSurface(&input, panel),
                            ] {
                                let scene = boat.plot(which, &view, 0, pane);
                                look(&format!("{name} panel {panel}"), &scene);
                            }
                        }
                    }
                }
            }
        }
    }
}

#[test]
fn the_scale_bar_crosses_no_section_where_all_ways_are_drawn() {
    // A class's pane on a phone, on wide screens in large letters, beside those of the section.
    const CLASS: [(f64, f64); 4] = [
        (410.0, 437.0),
        (400.0, 480.0),
        (479.0, 520.0),
        (560.0, 480.0),
    ];
    for boat in boats() {
        for units in [Units::METRIC, Units::IMPERIAL] {
            let view = view(units);
            let ways = design::ways(&boat.design, 0, &boat.account);
            let input = input(&boat, 0);
            for pane in CLASS.iter().chain(&PANES[2..]) {
                let scene = boat.plot(Plot::ClothWays(input, &ways), &view, 0, *pane);
                let bar = |role| role == Role::ScaleBar;
                let mut room = Rect::new(pane.0, pane.1, 0.0, pane.1);
                for words in scene.all_words().filter(|words| bar(words.role)) {
                    let b = words.bounds();
                    room = Rect::new(
                        room.x0.min(b.x0),
                        room.y0.min(b.y0),
                        room.x1.max(b.x1),
                        room.y1,
                    );
                }
                assert!(room.width() > 20.0, "{} {pane:?}", boat.key);
                for figure in figures(&scene) {
                    let of_bar = figure.stroke.is_some_and(|s| bar(s.role));
                    let sheet = figure.fill == Some(Role::Paper);
                    let drawn = figure.path.bounding_box();
                    let ink = figure.stroke.map_or(0.0, |s| 0.5 * s.weight);
                    assert!(
                        of_bar || sheet || !overlap(drawn.inflate(ink, ink), room),
                        "{} {pane:?} {units:?}: {drawn:?} on {room:?}",
                        boat.key
                    );
                }
            }
        }
    }
}

/// Whether two upright boxes share more than a hair.
fn overlap(a: Rect, b: Rect) -> bool {
    let both = a.intersect(b);
    both.width() > 0.1 && both.height() > 0.1
}

#[test]
fn letters_are_large_inside_the_pane_and_clear_of_one_another_and_of_dimensions() {
    every_plot(|name, scene| {
        let mut words: Vec<(Rect, &str)> = Vec::new();
        for found in scene.all_words() {
            assert!(found.size >= 12.0, "{name}: {}", found.words);
            let here = found.bounds();
            let pane = Rect::new(0.0, 0.0, scene.width, scene.height);
            assert_eq!(pane.union(here), pane, "{name}: {}", found.words);
            for (there, other) in &words {
                assert!(!overlap(here, *there), "{name}: {} on {other}", found.words);
            }
            words.push((here, &found.words));
        }
        for figure in figures(scene) {
            if figure.stroke.is_none_or(|s| s.role != Role::Dimension) {
                continue;
            }
            for side in figure.path.segments() {
                let PathSeg::Line(line) = side else { continue };
                for (box_, word) in &words {
                    let struck = (0..=64).any(|i| {
                        let p = line.p0.lerp(line.p1, f64::from(i) / 64.0);
                        box_.inflate(-0.5, -0.5).contains(p)
                    });
                    assert!(!struck, "{name}: a line through {word}");
                }
            }
        }
    });
}

fn figures(scene: &Scene) -> impl Iterator<Item = &Figure> {
    scene.items.iter().filter_map(|item| match item {
        Item::Figure(figure) => Some(figure),
        Item::Words(_) => None,
    })
}

/// Boxes of all lines of a role that are whole and no hair.
fn lines(scene: &Scene, role: Role) -> Vec<Rect> {
    let firm = figures(scene).filter(|f| {
        f.stroke
            .is_some_and(|s| s.role == role && s.weight > 1.1 && s.dash.pattern().is_empty())
    });
    firm.map(|figure| figure.path.bounding_box()).collect()
}

/// Depth is to the scale of the chord: 7 % of it, whatever the pane; and the cloth lies to leeward of its chord on either tack.
#[test]
fn depth_is_true_to_scale_on_both_tacks() {
    let boat = boats().remove(0);
    let shape = &input(&boat, 0).shapes[1];
    let mut checked = 0;
    for made in made(&boat, 0) {
        if !matches!(made.construction, Construction::Cambered(_)) {
            continue;
        }
        for pane in PANES {
            let which = Plot::ClothSection(&made, 2);
            let scene = boat.plot(which, &view(Units::METRIC), 0, pane);
            let cloth = lines(&scene, Role::ClothEdge);
            let spars = lines(&scene, Role::Spar);
            let ([above, below], [upper, lower]) = (&cloth[..], &spars[..]) else {
                panic!("a line of cloth and a batten on each tack");
            };
            // The sail is to port of the mast: with port to leeward it lies as it was cut.
            let off = above.height() / above.width() - shape.camber;
            assert!(off.abs() < 1e-3, "{pane:?}: {off}");
            assert!(above.y1 > upper.y1 + 5.0 && below.y0 < lower.y0 - 2.0);
            checked += 1;
        }
    }
    assert_eq!(checked, PANES.len());
}

/// The mast stands in the way on one tack: the depth that is told is that of `Touch`, and the shape as cut is drawn broken.
#[test]
fn what_the_mast_does_is_told_in_words() {
    for boat in boats() {
        let words = &boat.words;
        for made in made(&boat, 0) {
            let which = Plot::ClothSection(&made, 2);
            let scene = boat.plot(which, &view(Units::METRIC), 0, PANES[3]);
            let lee = [geometry::mast::Side::Port, geometry::mast::Side::Starboard];
            let touch = lee.map(|lee| made.section(2, 0.5, lee).expect("a section").touch);
            let depth = touch.iter().flatten().map(|touch| touch.depth).next();
            let heeded: Vec<_> = (scene.all_words())
                .filter(|words| words.role == Role::Accent)
                .collect();
            assert_eq!(heeded.len(), usize::from(depth.is_some()), "{}", boat.key);
            let broken = figures(&scene).any(|f| {
                f.stroke
                    .is_some_and(|s| s.role == Role::ClothEdge && !s.dash.pattern().is_empty())
            });
            assert_eq!(broken, depth.is_some());
            if let Some(depth) = depth {
                let number = quantities::units::fixed(1000.0 * depth, 0);
                assert!(heeded[0].words.contains(&number), "{}", heeded[0].words);
                assert!(scene.description.contains(&heeded[0].words));
            }
            for key in ["plot.cloth.from_port", "plot.cloth.from_starboard"] {
                assert!(scene.all_words().any(|w| w.words == words.word(key)));
            }
        }
    }
}

#[test]
fn the_way_in_use_is_marked_by_a_word_and_the_accent() {
    let boat = boats().remove(0);
    let ways = design::ways(&boat.design, 0, &boat.account);
    for made in made(&boat, 0) {
        let which = Plot::ClothWays(&made, &ways);
        let scene = boat.plot(which, &view(Units::METRIC), 0, PANES[2]);
        let marked: Vec<_> = (scene.all_words())
            .filter(|words| words.role == Role::Accent)
            .collect();
        assert_eq!(marked.len(), 1);
        assert!(
            marked[0]
                .words
                .ends_with(boat.words.word("plot.cloth.used"))
        );
        let names = ["flat", "cambered", "wing", "split", "paired"];
        let name = format!("choice.cut.{}", names[made.construction.number()]);
        assert!(marked[0].words.starts_with(boat.words.word(&name)));
    }
}

/// A colour for each role, far from all others.
fn false_ink(role: Role) -> Ink {
    let place = Role::ALL.iter().position(|other| *other == role);
    let place = place.expect("a role") as u8;
    Ink {
        red: 20 + 40 * (place % 6),
        green: 20 + 40 * (place / 6),
        blue: 255 - 9 * place,
    }
}

/// Dots of each colour, the drawing magnified.
fn dots(text: &str, magnified: f32) -> BTreeMap<(u8, u8, u8), usize> {
    let tree = resvg::usvg::Tree::from_str(text, &resvg::usvg::Options::default()).expect("SVG");
    let size = tree.size();
    let (width, height) = (size.width() * magnified, size.height() * magnified);
    let mut pixels = resvg::tiny_skia::Pixmap::new(width as u32, height as u32).expect("room");
    let transform = resvg::tiny_skia::Transform::from_scale(magnified, magnified);
    resvg::render(&tree, transform, &mut pixels.as_mut());
    let mut found = BTreeMap::new();
    for pixel in pixels.pixels() {
        let colour = (pixel.red(), pixel.green(), pixel.blue());
        *found.entry(colour).or_insert(0) += 1;
    }
    found
}

fn at(ink: Ink) -> (u8, u8, u8) {
    (ink.red, ink.green, ink.blue)
}

#[test]
fn the_ink_of_every_role_is_on_the_paper() {
    use Role::{Centre, Cloth, ClothEdge, Dimension, Mast, MastGhost, MastLine, Spar};
    let cut = [Cloth, ClothEdge, Spar, Mast, MastLine, Dimension, Centre];
    let space = [Cloth, ClothEdge, Spar, MastGhost, Dimension];
    for boat in boats() {
        let view = view(Units::METRIC);
        let ways = design::ways(&boat.design, 0, &boat.account);
        for input in made(&boat, 0) {
            // Flat cloth has no depth.
            let flat = input.construction == Construction::Flat;
            for (which, roles) in [
                (Plot::ClothSection(&input, 2), &cut[usize::from(flat)..]),
                (Plot::ClothWays(&input, &ways), &cut),
                (Plot::ClothSurface(&input, 2), &space),
            ] {
                let scene = boat.plot(which, &view, 0, (420.0, 520.0));
                let seen = dots(&svg::write_inked(&scene, &false_ink), 2.5);
                for role in roles {
                    let there = seen.contains_key(&at(false_ink(*role)));
                    assert!(there, "{} {:?}: {role:?}", boat.key, input.construction);
                }
            }
        }
    }
}

/// Nothing that can be typed stops a drawing; what cannot be cut is told.
#[test]
fn what_cannot_be_cut_is_told() {
    let boat = boats().remove(0);
    let view = view(Units::METRIC);
    let ways = design::ways(&boat.design, 0, &boat.account);
    let none = boat.words.word("plot.nothing");
    let sound = input(&boat, 0);
    let mut odd = Vec::new();
    let mut change = |by: &dyn Fn(&mut Input)| {
        let mut input = sound.clone();
        by(&mut input);
        odd.push(input);
    };
    change(&|input| input.shapes[0].camber = f64::NAN);
    change(&|input| input.spars.clear());
    change(&|input| input.spars[1].length = 1e300);
    change(&|input| input.shapes.clear());
    change(&|input| {
        for shape in &mut input.shapes {
            shape.camber = 0.6;
        }
        input.construction = ways[1].construction;
    });
    for pane in [(358.0, 300.0), (1.0, 1.0), (f64::NAN, -3.0), (1e9, 2e9)] {
        for input in &odd {
            for which in [
                Plot::ClothSection(input, 1),
                Plot::ClothSurface(input, 1),
                Plot::ClothWays(input, &ways),
            ] {
                let scene = boat.plot(which, &view, 0, pane);
                for item in &scene.items {
                    assert!(item.bounds().is_finite());
                }
                assert!(!scene.description.is_empty(), "{pane:?}");
            }
        }
        for panel in [0, sound.panels() + 1, usize::MAX] {
            for which in [
                Plot::ClothSection(sound, panel),
                Plot::ClothSurface(sound, panel),
            ] {
                let scene = boat.plot(which, &view, 0, pane);
                assert_eq!(scene.description, none, "{panel}");
            }
        }
        let scene = boat.plot(Plot::ClothWays(sound, &[]), &view, 0, pane);
        assert!(!scene.description.is_empty());
    }
    // No mast in the slot: this way alone is told.
    let mut input = sound.clone();
    for spar in &mut input.spars {
        spar.luff.x += 3.0;
    }
    let scene = boat.plot(Plot::ClothWays(&input, &ways), &view, 0, PANES[2]);
    let cannot = boat.words.word("plot.cloth.cannot");
    assert_eq!(scene.all_words().filter(|w| w.words == cannot).count(), 1);
}

/// Runs a look at every piece's drawing and every roll's.
fn sewn(mut look: impl FnMut(&Papers<'_>, &cloth::Cutting, f64)) {
    for boat in boats() {
        for input in made(&boat, 0) {
            let patterns = input.patterns();
            let papers = Papers {
                input: &input,
                patterns: &patterns,
                words: &boat.words,
                units: Units::METRIC,
                title: boat.key,
            };
            let cutting = input.cutting(&patterns, 0);
            for width in [358.0, 700.0] {
                look(&papers, &cutting, width);
            }
        }
    }
}

/// Numbers an attribute of an SVG text has.
fn numbers(text: &str, attribute: &str) -> Vec<f64> {
    let start = format!(" {attribute}=\"");
    let all = text.split(&start).skip(1);
    all.filter_map(|rest| rest.split('"').next()?.parse().ok())
        .collect()
}

#[test]
fn a_piece_shows_its_outline_its_lengths_and_its_strain() {
    let mut strained = 0;
    sewn(|papers, _, width| {
        for (i, piece) in papers.patterns.pieces.iter().enumerate() {
            let text = sewing::piece(papers, i, width, Scheme::Light);
            assert!(numbers(&text, "font-size").iter().all(|size| *size >= 12.0));
            assert!((numbers(&text, "width")[0] - width).abs() < 0.2);
            for banned in ["style", " id=", "<script", "url(", "NaN", "inf"] {
                assert!(!text.contains(banned), "{banned}");
            }
            let mut told = vec![piece.diagonals[0], piece.diagonals[1]];
            for edge in &piece.edges {
                if edge.length > 1e-6 {
                    told.extend([edge.length, edge.finished]);
                }
            }
            for length in told {
                let number = quantities::units::fixed(1000.0 * length, 0);
                assert!(text.contains(&number), "{number}");
            }
            let worst = piece.strain.as_ref().map_or(0.0, |strain| strain.worst);
            let number = format!(">{} %<", quantities::units::fixed(100.0 * worst, 1));
            let shown = worst.abs() > 5e-4;
            assert_eq!(text.contains(&number), shown, "{number}");
            strained += usize::from(shown);
        }
    });
    assert!(strained > 20, "{strained}");
}

/// Where cloth is strained most, the stroke is longest: counted by its ink.
#[test]
fn the_ink_of_a_piece_is_on_the_paper() {
    use Role::{Accent, Centre, Cloth, ClothEdge, Dimension, Line};
    sewn(|papers, _, width| {
        if width > 400.0 {
            return;
        }
        let pieces = papers.patterns.pieces.iter().enumerate();
        for (i, piece) in pieces.step_by(4) {
            let text = sewing::piece(papers, i, width, Scheme::Light);
            let seen = dots(&text, 2.5);
            let strained = (piece.strain.as_ref()).is_some_and(|s| s.worst.abs() > 5e-4);
            for role in [Cloth, ClothEdge, Dimension, Line, Centre, Accent] {
                let ink = at(palette::ink(role, Scheme::Light));
                let wanted = strained || !matches!(role, Centre | Accent);
                assert_eq!(seen.contains_key(&ink), wanted, "{role:?}");
            }
        }
    });
}

/// The roll as it is drawn: all cloth that is laid and no more, and the waste beside it.
#[test]
fn cloth_on_the_roll_counted_by_dots() {
    sewn(|papers, cutting, width| {
        let layout = cutting.layout.as_ref().expect("it is laid");
        let text = svg::inline(&sewing::roll(papers, cutting, width), Scheme::Light);
        assert!(numbers(&text, "font-size").iter().all(|size| *size >= 12.0));
        // Without lines and letters, which lie on both.
        let mut plain = String::new();
        for line in text.lines() {
            if !line.starts_with("<text") {
                plain.push_str(&line.replace("stroke=\"#", "stroke-opacity=\"0\" stroke=\"#"));
                plain.push('\n');
            }
        }
        let fine = 3.0;
        let seen = dots(&plain, fine as f32);
        let count = |role| {
            let ink = at(palette::ink(role, Scheme::Light));
            *seen.get(&ink).unwrap_or(&0) as f64
        };
        // A row is 6 m of it, or 10 m, between margins of 3 mm at 3.78 dots a millimetre.
        let row = if width < 400.0 { 6.0 } else { 10.0_f64 };
        let scale = fine * (width - 6.0 * 3.78) / row.min(layout.length);
        let all = layout.length * papers.input.cloth.roll * scale * scale;
        // Dots on an edge have neither ink.
        let least = count(Role::Roof) / all;
        let most = 1.0 - (count(Role::Cloth) + count(Role::ClothOther)) / all;
        let found = format!("{least} to {most} for {}", layout.waste);
        assert!(
            least - 0.003 < layout.waste && layout.waste < most + 0.003,
            "{found}"
        );
        assert!(most - least < 0.1, "{found}");
        for panel in 1..=papers.input.panels() {
            let name = papers.words.word("pattern.panel");
            let name = name.replace("{n}", &panel.to_string());
            let alone = format!(">{panel}");
            let way = papers.input.construction;
            assert!(
                text.contains(&name) || text.contains(&alone),
                "{} {name} {way:?}",
                papers.title
            );
        }
    });
}

#[test]
fn a_piece_that_is_not_there_and_a_roll_that_is_too_narrow_are_told() {
    let boat = boats().remove(0);
    let mut input = input(&boat, 0).clone();
    input.cloth.roll = 0.06;
    let patterns = input.patterns();
    let papers = Papers {
        input: &input,
        patterns: &patterns,
        words: &boat.words,
        units: Units::IMPERIAL,
        title: "",
    };
    let cutting = input.cutting(&patterns, 0);
    for width in [358.0, 0.0, f64::NAN, 1e12] {
        let text = sewing::piece(&papers, usize::MAX, width, Scheme::Dark);
        assert!(text.contains(boat.words.word("plot.nothing")));
        let text = svg::inline(&sewing::roll(&papers, &cutting, width), Scheme::Dark);
        assert!(text.contains(boat.words.word("pattern.no_roll")));
    }
    // A piece with points that are none.
    let mut spoilt = patterns.clone();
    spoilt.pieces[0].cut[3] = Point::new(f64::NAN, 0.0);
    let papers = Papers {
        patterns: &spoilt,
        ..papers
    };
    let text = sewing::piece(&papers, 0, 358.0, Scheme::Light);
    assert!(text.contains(boat.words.word("plot.nothing")));
}

/// What the sail plan inks as cloth is what the account counts as area: of split panels without the slot.
#[test]
fn cloth_on_the_sail_plan_is_the_area_of_the_account() {
    for mut boat in boats() {
        for cut in [design::Cut::Flat, design::Cut::Split] {
            for mast in &mut boat.design.masts {
                mast.sail.cut = cut;
            }
            boat.account = design::account(&boat.design);
            let pane = (703.0, 860.0);
            let scene = boat.draw(&view(Units::METRIC), pane, drawing::Medium::Paper);
            let scale = boat.frame(pane, &view(Units::METRIC)).scale;
            let mut inked = 0.0;
            for figure in figures(&scene) {
                if matches!(figure.fill, Some(Role::Cloth | Role::ClothOther)) {
                    inked += figure.path.area().abs() / (scale * scale);
                }
            }
            let area = boat.account.rig.area;
            assert!(
                (inked / area - 1.0).abs() < 1e-9,
                "{} {inked} {area}",
                boat.key
            );
        }
    }
}
