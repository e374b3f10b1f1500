//! Patterns on paper, looked at by others: poppler rasterises and reads the PDF, resvg the SVG, and dots are counted.

#[path = "../../cloth/tests/sails/mod.rs"]
mod sails;

mod boats;
mod raster;

use cloth::outline::area;
use cloth::{Construction, Cut, Input, Patterns};
use design::View;
use drawing::patterns::{CHECK_SQUARE, Drawn, MOST_PAGES, Paper, Papers};
use drawing::pdf::{self, Content, Document};
use drawing::scene::{Anchor, Item, Weight, Words};
use drawing::{Medium, Role, Scene, Scheme, palette};
use geometry::plan::{PlanRule, Shape};
use kurbo::{Affine, Point, Rect};
use quantities::{Catalogue, Units};
use raster::Printed;

/// A sail of this chord [m]: the counting of dots goes with the square.
fn sized(chord: f64) -> PlanRule {
    let mut rule = sails::marsh_pippin();
    if let Shape::Rule(fan) = &mut rule.shape {
        (fan.chord, fan.yard_length) = (chord, chord);
        fan.panel_width = 0.22 * chord;
        fan.widths = [0.148, 0.102, 0.068].map(|share| share * chord).to_vec();
    }
    rule.leech_round = 0.02;
    rule
}

/// A dinghy's sail.
fn small() -> PlanRule {
    sized(1.5)
}

/// Everything the papers of a sail need, kept together.
struct Sail {
    input: Input,
    patterns: Patterns,
    words: Catalogue,
}

impl Sail {
    fn new(input: Input) -> Self {
        Self {
            patterns: input.patterns(),
            input,
            words: Catalogue::english(),
        }
    }

    fn papers(&self) -> Papers<'_> {
        Papers {
            input: &self.input,
            patterns: &self.patterns,
            words: &self.words,
            units: Units::METRIC,
            title: "Marsh Pippin",
        }
    }
}

/// So wide that every piece of the small sail is on one page.
const WIDE: Paper = Paper {
    overlap: 0.010,
    ..Paper::roll(1.2)
};

/// Margin and half the overlap: where the drawing begins on its page [mm].
const EDGE: f64 = 15.0;

#[test]
fn areas_of_patterns_by_counting_dots() {
    for (turn, input) in sails::all(&sized(0.8)).into_iter().enumerate() {
        let sail = Sail::new(input);
        let papers = sail.papers();
        let drawn = papers.drawn();
        // Another piece of each way to make the sail: bodies, shelves, skins, of the foot and of the head.
        let number = sail.patterns.alike()[turn * 5 % sail.patterns.pieces.len()];
        let once = papers.once();
        let place = once.iter().position(|d| d.piece == Some(number)).unwrap();
        let piece = &sail.patterns.pieces[number];
        // Two pages for each piece, its map and itself.
        let page = Printed::new(&papers.pdf(&WIDE).unwrap()).dots(2 * place + 2, 150.0);
        let svg = raster::svg_dots(&papers.svg(&drawn[number]), 150.0);
        for (dots, way) in [(page.enclosed(0), "on paper"), (svg.enclosed(1), "as SVG")] {
            let length: f64 = (0..piece.cut.len())
                .map(|i| piece.cut[i].distance(piece.cut[(i + 1) % piece.cut.len()]))
                .sum();
            // The line's outer half is counted with the area: its length by half its weight, 0.4 mm.
            let found = dots as f64 * page.side().powi(2) - 0.0002 * length;
            let off = found / area(&piece.cut) - 1.0;
            assert!(off.abs() < 0.002, "{} {way}: {off}", drawn[number].name);
        }
    }
}

#[test]
fn pages_laid_together_are_the_drawing_on_one_page() {
    const DPI: f64 = 100.0;
    let sail = Sail::new(sails::input(&small(), sails::SHELF));
    let papers = sail.papers();
    let drawn = papers.drawn();
    for paper in [Paper::A4, Paper::A3, Paper::LETTER] {
        let tiled = Printed::new(&papers.pdf(&paper).unwrap());
        let whole = Printed::new(&papers.pdf(&WIDE).unwrap());
        let sizes = tiled.sizes();
        let mut page = 0;
        let mut pages = 0;
        for (number, piece) in drawn[..3].iter().enumerate() {
            let one = whole.dots(2 * number + 2, DPI);
            // The map first; then pages until the next map, each of which has its name.
            page += 1;
            let mut shown = Vec::new();
            while page < sizes.len()
                && let Some(place) = tiled.tile_name(page + 1, &piece.name)
            {
                page += 1;
                pages += 1;
                let (width, height) = sizes[page - 1];
                let cell = (width - 2.0 * EDGE, height - 2.0 * EDGE - 5.0);
                let corner = (place.0 as f64 * cell.0, place.1 as f64 * cell.1);
                shown.push(Rect::from_origin_size(corner, cell));
                let dots = tiled.dots(page, DPI);
                let window = Rect::new(-5.0, -5.0, cell.0 + 5.0, cell.1 + 5.0);
                let (matched, missed) = dots.compare(&one, window, corner, EDGE);
                assert!(
                    missed == 0,
                    "{} {place:?}: {missed} of {matched}",
                    piece.name
                );
                assert!(matched > 0, "{} {place:?} has nothing on it", piece.name);
            }
            assert!(shown.len() > 1);
            // What is on no page is blank.
            let bare = one.dark_outside(&shown, EDGE);
            assert_eq!(bare, 0, "{}: not on any page", piece.name);
        }
        assert!(pages > 8, "{pages}");
    }
}

#[test]
fn the_check_square_is_what_it_says() {
    let sail = Sail::new(sails::input(&small(), Construction::Flat));
    for paper in [Paper::A4, Paper::LETTER, Paper::A3] {
        let printed = Printed::new(&sail.papers().pdf(&paper).unwrap());
        let dots = printed.dots(1, 300.0);
        let sides = dots.square(1000.0 * CHECK_SQUARE);
        for side in sides {
            assert!((side - 100.0).abs() < 0.5, "{sides:?}");
        }
    }
}

#[test]
fn a_page_of_the_roll_ends_before_five_metres() {
    let mut rule = sails::marsh_pippin();
    if let Shape::Rule(fan) = &mut rule.shape {
        (fan.chord, fan.yard_length) = (6.4, 6.4);
    }
    let sail = Sail::new(sails::input(&rule, Construction::Flat));
    let papers = sail.papers();
    let printed = Printed::new(&papers.pdf(&Paper::roll(1.6)).unwrap());
    let sizes = printed.sizes();
    assert!(sizes.iter().all(|size| size.0.max(size.1) <= 5080.1));
    let name = &papers.drawn()[0].name;
    let places: Vec<_> = (2..=4).map(|page| printed.tile_name(page, name)).collect();
    assert_eq!(places, [Some((0, 0)), Some((1, 0)), None]);
    assert!((sizes[1].0 - sizes[2].0).abs() < 0.01);
    // Both halves and their overlap hold the piece and nothing more.
    let drawn = 2.0 * (sizes[1].0 - 2.0 * EDGE);
    assert!((drawn - papers.drawn()[0].cut.width).abs() < 0.1);
}

#[test]
fn the_lofting_page_and_the_table_hold_the_offsets() {
    let mut sail = Sail::new(sails::input(&small(), sails::BARREL));
    let papers = sail.papers();
    let lofted = Printed::new(&papers.lofting(&Paper::A4));
    assert_eq!(lofted.sizes().len(), sail.patterns.pieces.len());
    let mut rows = papers.csv();
    let piece = &sail.patterns.pieces[1];
    let text = lofted.text(2).replace(['\u{a0}', '–'], " ");
    let of_csv: Vec<Vec<&str>> = (rows.lines())
        .map(|row| row.split(',').collect::<Vec<_>>())
        .filter(|row| row[0] == "Panel 2")
        .collect();
    for (k, offset) in piece.offsets.iter().enumerate() {
        for (row, at) in [(k, offset.low), (k + piece.offsets.len(), offset.up)] {
            let [share, x, y] = [2, 3, 4].map(|i| of_csv[row][i].parse::<f64>().unwrap());
            assert!((share - 100.0 * offset.share).abs() <= 0.051);
            assert!((x - 1000.0 * at.x).abs() <= 0.051 && (y - 1000.0 * at.y).abs() <= 0.051);
            let told = text
                .split_whitespace()
                .filter_map(|word| word.parse::<f64>().ok());
            let mut near = told.filter(|mm| (mm - 1000.0 * at.x).abs() < 0.501);
            assert!(near.next().is_some(), "{at} in {text}");
        }
    }
    for word in ["Tolerances", "Preliminary design aid", "5 mm", "3 mm"] {
        assert!(text.contains(word), "{word}");
    }
    // Words that would be a formula are made plain, numbers are left as they are.
    sail.words =
        Catalogue::read(r#"{"pattern.panel": "=1+{n}", "pattern.part": "@{piece}"}"#).unwrap();
    rows = sail.papers().csv();
    assert!(rows.contains("\r\n'=1+2,"));
    assert!(!rows.contains("\r\n=") && !rows.contains("\r\n@"));
    assert!(rows.contains(",-"));
    let inches = Papers {
        units: Units::IMPERIAL,
        ..sail.papers()
    };
    let first = sail.patterns.pieces[0].offsets[8].low.x / 0.0254;
    assert!(
        inches
            .csv()
            .contains(&format!(",100.0,{first:.2},0.00\r\n"))
    );
}

#[test]
fn cautions_and_tolerances_are_on_the_page_before_each_piece() {
    let sail = Sail::new(sails::input(&small(), Construction::Flat));
    let printed = Printed::new(&sail.papers().pdf(&WIDE).unwrap());
    let pieces = sail
        .papers()
        .once()
        .iter()
        .filter(|d| d.piece.is_some())
        .count();
    assert!(pieces < sail.patterns.pieces.len());
    for number in 0..pieces {
        let text = printed.text(2 * number + 1).replace(['\u{a0}', '\n'], " ");
        for word in [
            "Tolerances",
            "5 mm",
            "Preliminary design aid",
            "100 mm",
            "As built",
        ] {
            assert!(text.contains(word), "{word} on the map of {number}: {text}");
        }
    }
}

#[test]
fn letters_are_as_wide_as_we_count_them_and_stand_where_they_are_anchored() {
    let mut document = Document::new("Łódź (a\\b)");
    let mut content = Content::new(pdf::hung(0.001, 200.0));
    let words = ["Yard£½(Ä)\\", "M−Wij@5°€", "naïve–Œuvre‰"];
    let mut expected = Vec::new();
    for (i, (text, anchor)) in (words.iter())
        .zip([Anchor::Start, Anchor::Middle, Anchor::End])
        .enumerate()
    {
        for (j, weight) in [Weight::Regular, Weight::Strong].into_iter().enumerate() {
            let at = Point::new(100.0, 20.0 + 40.0 * i as f64 + 20.0 * j as f64);
            let mut run = Words::new(*text, Role::Note, at, anchor);
            (run.size, run.weight) = (8.0, weight);
            let bounds = pdf::bounds(&run);
            expected.push((bounds.x0, bounds.x1));
            content.words(&run, &|role| palette::ink(role, Scheme::Print));
        }
    }
    document.page(0.2, 0.2, content);
    let printed = Printed::new(&document.finish());
    let found = printed.word_boxes(1);
    assert_eq!(found.len(), expected.len(), "{found:?}");
    for ((from, to, word), (x0, x1)) in found.iter().zip(expected) {
        assert!(
            (from - x0).abs() < 0.02 && (to - x1).abs() < 0.02,
            "{word}: {from} {to}, {x0} {x1}"
        );
    }
    assert_eq!(found[0].2, words[0]);
    assert_eq!(found[5].2, words[2]);
    assert_eq!(printed.title(), "Łódź (a\\b)");
}

/// A whole sail plan, figures alone since neither draws the other's letters: curves, fills, dashes and round ends.
#[test]
fn a_scene_on_a_page_looks_as_it_does_in_svg() {
    for boat in boats::boats() {
        let mut scene = boat.draw(&View::default(), (703.0, 860.0), Medium::Paper);
        scene.items.retain(|item| matches!(item, Item::Figure(_)));
        let inks = |role| palette::ink(role, Scheme::Print);
        let point = 0.0254 / 72.0;
        let mut content = Content::new(pdf::hung(point, scene.height));
        content.scene(&scene, &inks);
        let mut document = Document::new(boat.key);
        document.page(point * scene.width, point * scene.height, content);
        let page = Printed::new(&document.finish()).dots(1, 144.0);
        let svg = raster::svg_dots_at(&drawing::svg::write(&scene, Scheme::Print), 2.0);
        let off = page.difference(&svg);
        assert!(off < 1.5, "{}: {off} of 255", boat.key);
    }
}

#[test]
fn a_clipped_and_turned_form_is_placed_where_it_is_asked() {
    let mut document = Document::new("");
    let mut square = Content::new(pdf::metres());
    let mut scene = Scene::new(1.0, 1.0);
    let mut path = kurbo::BezPath::new();
    for (i, p) in [(0.0, 0.0), (0.02, 0.0), (0.02, 0.02), (0.0, 0.02)]
        .into_iter()
        .enumerate()
    {
        if i == 0 {
            path.move_to(p);
        } else {
            path.line_to(p);
        }
    }
    path.close_path();
    scene.fill(path, Role::Note);
    square.scene(&scene, &|_| palette::Ink::hex(0));
    let form = document.form(0.02, 0.02, square);
    let mut page = Content::new(pdf::metres());
    page.form(form, Point::new(0.01, 0.05), 2.0);
    page.clipped(Rect::new(0.06, 0.0, 0.07, 0.10));
    page.form(form, Point::new(0.06, 0.01), 1.0);
    page.unclipped();
    page.placed(pdf::metres() * Affine::translate((0.09, 0.09)) * Affine::rotate(0.5));
    page.scene(&scene, &|_| palette::Ink::hex(0));
    document.page(0.12, 0.12, page);
    let dots = Printed::new(&document.finish()).dots(1, 254.0);
    // Ten dots a millimetre.
    let dark = |x0, y0, x1, y1| dots.dark_in(Rect::new(x0, y0, x1, y1)) as f64 / 100.0;
    assert!((dark(0.0, 20.0, 59.0, 75.0) - 1600.0).abs() < 20.0);
    assert!((dark(55.0, 80.0, 85.0, 115.0) - 200.0).abs() < 8.0);
    assert!((dark(70.0, 0.0, 120.0, 40.0) - 400.0).abs() < 10.0);
}

#[test]
fn hostile_patterns_and_papers_give_pages_or_none_and_never_stop() {
    let whole = Sail::new(sails::input(&small(), sails::split(Cut::Shelf(0.6))));
    let mut cases = vec![Patterns::default()];
    for bad in [f64::NAN, f64::INFINITY, -1e300, 1e12, 0.0] {
        for at in 0..5 {
            let mut patterns = whole.patterns.clone();
            let piece = &mut patterns.pieces[0];
            match at {
                0 => piece.cut[3].x = bad,
                1 => piece.edges[0].points[7].y = bad,
                2 => piece.offsets[2].up.y = bad,
                3 => {
                    piece.edges[1].length = bad;
                    piece.diagonals = [bad; 2];
                    piece.edges[2].allowance = bad;
                }
                _ => patterns.patches[0].outline[1].x = bad,
            }
            cases.push(patterns);
        }
    }
    let mut bare = whole.patterns.clone();
    for edge in &mut bare.pieces[0].edges {
        edge.points.clear();
    }
    bare.pieces[1].cut.clear();
    bare.pieces[2].offsets.clear();
    bare.patches[0].layers = usize::MAX;
    bare.patches[1].corner = 9;
    cases.push(bare);
    for (i, patterns) in cases.iter().enumerate() {
        let papers = Papers {
            patterns,
            title: "(((\\)é漢\u{0}\n",
            ..whole.papers()
        };
        for paper in [Paper::A3, WIDE] {
            let printed = Printed::new(&papers.pdf(&paper).unwrap());
            if i % 7 == 0 {
                assert!(printed.sizes().len() > 10 || patterns.pieces.is_empty());
            }
        }
        let _ = papers.lofting(&Paper::LETTER);
        let csv = papers.csv();
        assert!(!csv.contains("NaN") && !csv.contains("inf"));
        for drawn in papers.drawn() {
            let svg = papers.svg(&drawn);
            assert!(!svg.contains("NaN") && !svg.contains("inf"));
        }
    }
    let papers = whole.papers();
    assert!(papers.svg(&Drawn::default()).contains("<svg"));
    for bad in [f64::NAN, f64::INFINITY, -1.0, 0.0, 1e-9, 1e9] {
        for paper in [
            Paper {
                width: bad,
                ..Paper::A4
            },
            Paper {
                height: bad,
                ..Paper::A4
            },
            Paper {
                margin: bad,
                ..Paper::A4
            },
            Paper {
                overlap: bad,
                ..Paper::A4
            },
            Paper { width: bad, ..WIDE },
            Paper {
                height: bad,
                ..WIDE
            },
        ] {
            let _ = papers.pdf(&paper);
            let _ = papers.lofting(&paper);
        }
    }
    let stamps = Paper {
        width: 0.060,
        height: 0.065,
        ..Paper::A4
    };
    let many = papers.pdf(&stamps).unwrap_err();
    assert!(many.pages > MOST_PAGES);
    let said = papers.words.say(&many.text(), Units::METRIC);
    assert!(said.contains(&format!("more than {MOST_PAGES}")), "{said}");
}

#[test]
fn seams_between_widths_are_on_the_floor_and_each_width_is_a_part_of_its_own() {
    let mut input = sails::input(&small(), Construction::Flat);
    input.cloth.roll = 0.5;
    input.cloth.warp = cloth::Warp::Leech;
    let sail = Sail::new(input);
    let papers = sail.papers();
    let piece = &sail.patterns.pieces[0];
    let laps = sail.input.laps(piece);
    assert!(laps.len() >= 2);
    let words = Printed::new(&papers.lofting(&Paper::A4)).text(1);
    assert!(words.contains("Seam 2 between widths"), "{words}");
    let x = format!("{:.0}", 1000.0 * laps[1].sewn[0].x);
    assert!(words.contains(&x), "{words} {x}");
    // By dots: all widths together are the piece and its laps once more.
    let cutting = sail.input.blanks(&sail.patterns);
    let (mut found, mut least) = (0.0, 1.0_f64);
    for number in 0..=laps.len() {
        let drawn = papers.blank(&cutting, number).unwrap();
        assert_eq!(drawn.piece, Some(0));
        least = least.min(drawn.cut.width.min(drawn.cut.height));
        assert!(drawn.cut.width.min(drawn.cut.height) < 520.0);
        let dots = raster::svg_dots(&papers.svg(&drawn), 100.0);
        found += dots.enclosed(1) as f64 * (0.0254 / 100.0_f64).powi(2);
        for item in &drawn.marks.items {
            let bounds = item.bounds();
            let inside = bounds.x0 > -1.0 && bounds.x1 < drawn.cut.width + 1.0;
            assert!(inside || matches!(item, Item::Words(_)), "{bounds:?}");
        }
    }
    let lap: f64 = (laps.iter())
        .map(|lap| lap.selvages[0][0].distance(lap.selvages[0][1]))
        .sum();
    let whole = area(&piece.cut) + lap * sail.input.sewing.seam;
    assert!(
        (found / whole - 1.0).abs() < 0.02,
        "{found} {whole} {least}"
    );
    // The next blank is another piece.
    assert_eq!(
        papers.blank(&cutting, laps.len() + 1).unwrap().piece,
        Some(1)
    );
    assert!(papers.blank(&cutting, 10_000).is_none());
}

#[test]
fn papers_of_a_sail_that_lacks_panels_say_which() {
    let mut input = sails::input(&small(), sails::BARREL);
    input.shapes[1].camber = 0.4;
    let sail = Sail::new(input);
    let papers = sail.papers();
    for file in [papers.pdf(&WIDE).unwrap(), papers.lofting(&Paper::A4)] {
        let words = Printed::new(&file).text(1);
        assert!(words.contains("Panel 2: cannot be cut"), "{words}");
    }
    let whole = Sail::new(sails::input(&small(), sails::BARREL));
    let words = Printed::new(&whole.papers().lofting(&Paper::A4)).text(1);
    assert!(!words.contains("cannot"), "{words}");
}
