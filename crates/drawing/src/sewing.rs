//! Patterns and roll on a page: a piece flat with all that is read from it, and how everything lies on the roll.
//!
//! Drawn in millimetres like the papers, and written in pixels for a page of a width.

use cloth::pattern::{STRAIN_COLUMNS, STRAIN_ROWS};
use cloth::{Cutting, For, Laid, Of, Piece, Role as Part};
use kurbo::{Affine, BezPath, Point, Rect, Vec2};
use quantities::quantity;
use quantities::units::{FOOT, fixed};

use crate::lettering;
use crate::palette::{Role, Scheme};
use crate::patterns::Papers;
use crate::patterns::page::{Page, letter};
use crate::scene::{Anchor, Scene, Stroke, Weight, Words, boxed, circle, through};
use crate::svg;

/// Pixels to a millimetre: the smallest letters, 3.2 mm, come out at 12.
const PIXELS: f64 = 3.78;
/// Round a drawing [mm].
const MARGIN: f64 = 3.0;
/// Size of words, and of names [mm].
const SIZE: f64 = 3.2;
const HEAD: f64 = 4.0;
/// Tallest a piece is drawn [mm].
const TALLEST: f64 = 60.0;
/// From this width on a row of the roll is longer [mm].
const BROAD: f64 = 130.0;
/// A line may be so far off [mm].
const FAIR: f64 = 0.02;
/// Most rows of a roll.
const MOST_ROWS: usize = 60;

/// A page of a width [px]; any width that is none gives a narrow one.
fn page(width: f64) -> Page {
    let usable = if width > 200.0 {
        width.min(4000.0)
    } else {
        200.0
    };
    Page::new(usable / PIXELS, MARGIN, MARGIN)
}

/// The page as far as it is filled [px].
fn finished(mut page: Page) -> Scene {
    page.scene.height = page.y + MARGIN;
    let sheet = Rect::new(0.0, 0.0, page.scene.width, page.scene.height);
    let drawn = core::mem::take(&mut page.scene.items);
    page.scene.fill(boxed(sheet), Role::Paper);
    page.scene.items.extend(drawn);
    page.scene.scaled(PIXELS)
}

/// A piece of cloth, flat, for a page of a width [px]: outline to cut (whole), sewn line (broken), match marks, diagonals, way of the
/// warp, corners as on the papers, where cloth is eased or stretched; and its lengths as a table. A number that has no piece, or a
/// piece that has no size, says so.
pub fn piece(papers: &Papers<'_>, index: usize, width: f64, scheme: Scheme) -> String {
    let mut page = page(width);
    let drawn = papers.patterns.pieces.get(index);
    if !drawn.is_some_and(|piece| papers.sewn(&mut page, piece)) {
        page.scene.title = papers.word("plot.nothing");
        page.text(papers.words.word("plot.nothing"), SIZE, Weight::Regular);
    }
    svg::inline(&finished(page), scheme)
}

/// How everything lies on the roll, for a page of a width [px]: row under row, names on the pieces, patches and pockets, and what is
/// to be ordered.
pub fn roll(papers: &Papers<'_>, cutting: &Cutting, width: f64) -> Scene {
    let mut page = page(width);
    if !papers.laid(&mut page, cutting) {
        page.scene.title = papers.word("pattern.no_roll");
        page.text(papers.words.word("pattern.no_roll"), SIZE, Weight::Regular);
    }
    finished(page)
}

/// A box round points; none where it has no size.
fn box_of(points: &[Point]) -> Option<Rect> {
    let first = points.first()?;
    let mut all = Rect::from_points(*first, *first);
    for p in points {
        if !p.is_finite() {
            return None;
        }
        all = all.union_pt(*p);
    }
    (all.width() > 0.001 && all.width().max(all.height()) < 1e4).then_some(all)
}

impl Papers<'_> {
    /// A piece with its table; false where it has no size.
    fn sewn(&self, page: &mut Page, piece: &Piece) -> bool {
        let Some(all) = box_of(&piece.cut) else {
            return false;
        };
        page.scene.title = self.name(piece);
        let name = page.scene.title.clone();
        page.text(&name, HEAD, Weight::Strong);
        page.y += 2.0;
        // The corners' letters stand beside it.
        let fit =
            ((page.right - page.left - 12.0) / all.width()).min(TALLEST / all.height().max(0.01));
        let middle = 0.5 * (page.left + page.right);
        let origin = Vec2::new(middle - fit * all.center().x, page.y + fit * all.y1);
        let onto = Affine::translate(origin) * Affine::new([fit, 0.0, 0.0, -fit, 0.0, 0.0]);
        self.figure(&mut page.scene, piece, onto, true);
        let strained = self.strain(&mut page.scene, piece, onto);
        self.along_warp(&mut page.scene, piece, onto);
        page.y += fit * all.height() + 6.0;
        page.text(self.words.word("pattern.lines"), SIZE, Weight::Regular);
        self.lengths(page, piece, false);
        page.y += 2.0;
        for (i, lap) in self.input.laps(piece).iter().enumerate() {
            let [from, to] = lap.sewn;
            let places = [from.x, from.y, to.x, to.y].map(|at| self.length(at));
            let [x, y, to_x, to_y] = places.each_ref().map(|at| &**at);
            let number = fixed(i as f64 + 1.0, 0);
            let parts: &[_] = &[
                ("n", &*number),
                ("x", x),
                ("y", y),
                ("to_x", to_x),
                ("to_y", to_y),
            ];
            let said = self.say("pattern.lap_at", parts);
            page.text(&said, SIZE, Weight::Regular);
        }
        self.said_laps(page, piece);
        if !strained.is_empty() {
            page.text(&strained, SIZE, Weight::Regular);
        }
        let (long, diagonal) = (piece.edges[0].length, piece.diagonals[0]);
        let [long, diagonal] = [long, diagonal].map(|metres| self.length(metres));
        let parts: &[_] = &[("length", &*long), ("diagonal", &*diagonal)];
        page.scene.description = self.say("pattern.sewn", parts);
        true
    }

    /// Where cloth is eased (strokes along the chord) or stretched (with a cross stroke), each as long as its strain is of the worst, which
    /// has its number; gives back the scale in words, nothing where there is no strain to speak of.
    fn strain(&self, scene: &mut Scene, piece: &Piece, onto: Affine) -> String {
        let Some(strain) = &piece.strain else {
            return String::new();
        };
        let worst = strain.worst.abs();
        let (low, up) = (&piece.edges[0].points, &piece.edges[2].points);
        let step = low.len().saturating_sub(1) / STRAIN_COLUMNS;
        if worst <= 5e-4 || up.len() != low.len() || step == 0 {
            return String::new();
        }
        let share = self.units.fixed(100.0 * strain.worst, 1);
        let mut words = None;
        for (i, value) in strain.values.iter().enumerate() {
            let (row, column) = (i / STRAIN_COLUMNS, i % STRAIN_COLUMNS);
            // A little within the sewn line.
            let share_up = 0.06 + 0.88 * row as f64 / (STRAIN_ROWS - 1) as f64;
            let at = |station: usize| {
                let (Some(a), Some(b)) = (
                    low.get(station),
                    up.len().checked_sub(station + 1).and_then(|i| up.get(i)),
                ) else {
                    return Point::ORIGIN;
                };
                onto * a.lerp(*b, share_up)
            };
            let (from, to) = (at(column * step), at((column + 1) * step));
            let (middle, half) = (
                from.midpoint(to),
                (to - from) * (0.45 * value.abs() / worst),
            );
            if half.hypot() < 0.1 {
                continue;
            }
            let stroke = Stroke::new(Role::Centre, 0.6).square();
            scene.line(middle - half, middle + half, stroke);
            if *value > 0.0 {
                let cross = Vec2::new(-half.y, half.x) * (0.8 / half.hypot());
                scene.line(middle - cross, middle + cross, stroke);
            }
            if value.abs() >= worst {
                words = Some(middle);
            }
        }
        if let Some(at) = words {
            scene.stroke(circle(at, 1.6), Stroke::new(Role::Accent, 0.4));
            let said = self.say("pattern.strain_here", &[("value", &share)]);
            let mut words = Words::new(said, Role::Note, at - Vec2::new(0.0, 2.6), Anchor::Middle);
            (words.size, words.weight) = (SIZE, Weight::Strong);
            words.halo = Some(Role::Cloth);
            scene.words(words);
        }
        self.say("pattern.strain_marks", &[("value", &share)])
    }

    /// Way of the warp, on the fore half of a piece.
    fn along_warp(&self, scene: &mut Scene, piece: &Piece, onto: Affine) {
        let [a, b, c, d] = piece.corners();
        let at = onto * a.midpoint(d).lerp(b.midpoint(c), 0.2);
        let way = self.input.warp(piece);
        let way = Vec2::new(way.x, -way.y) * (5.0 / way.hypot().max(1e-9));
        let stroke = Stroke::new(Role::Dimension, 0.35);
        scene.arrow(at - way, at + way, 2.0, stroke);
        let set = (
            at + way + Vec2::new(1.5, 1.1),
            self.words.word("pattern.warp"),
        );
        let mut words = Words::new(set.1, Role::Note, set.0, Anchor::Start);
        words.size = SIZE;
        words.halo = Some(Role::Cloth);
        scene.words(words);
    }

    /// The roll in rows; false where there is none.
    fn laid(&self, page: &mut Page, cutting: &Cutting) -> bool {
        let Some(layout) = &cutting.layout else {
            return false;
        };
        let roll = self.input.cloth.roll;
        if !(layout.length > 0.01 && layout.length < 1e4 && roll > 0.01 && roll < 1e3) {
            return false;
        }
        let inner = page.right - page.left;
        let [short, long] = if self.units.imperial() {
            [20.0 * FOOT, 30.0 * FOOT]
        } else {
            [6.0, 10.0]
        };
        let row = f64::min(if inner < BROAD { short } else { long }, layout.length);
        let scale = inner / row;
        page.scene.title = self.word("pattern.on_roll");
        let name = page.scene.title.clone();
        page.text(&name, HEAD, Weight::Strong);
        let width = self.length(roll);
        let [length, seams, each] =
            [layout.length, layout.seams, row].map(|metres| self.order(metres));
        let waste = fixed(100.0 * layout.waste, 0);
        let parts: &[_] = &[
            ("width", &*width),
            ("length", &*length),
            ("waste", &*waste),
            ("seams", &*seams),
            ("row", &*each),
        ];
        let mut said = self.said_without();
        page.text(&said, SIZE, Weight::Strong);
        if said.is_empty() {
            said = self.say("pattern.order", parts);
            page.text(&said, SIZE, Weight::Regular);
        }
        page.scene.description = said;
        if layout.seams > 0.0 {
            said = self.say("pattern.widths", parts);
            page.text(&said, SIZE, Weight::Regular);
        }
        page.text(&self.say("pattern.rows", parts), SIZE, Weight::Regular);
        // The warp runs along the roll, either way.
        page.y += 3.0;
        let at = Point::new(page.left, page.y);
        let stroke = Stroke::new(Role::Dimension, 0.35);
        page.scene.arrow(at, at + Vec2::new(14.0, 0.0), 2.0, stroke);
        let set = (SIZE, Weight::Regular, Anchor::Start);
        let warp = self.words.word("pattern.warp");
        letter(&mut page.scene, warp, at + Vec2::new(16.0, 1.1), set);
        page.y += 3.0;
        let rows = ((layout.length / row - 1e-6).ceil() as usize).min(MOST_ROWS);
        for k in 0..rows {
            let from = k as f64 * row;
            let to = (from + row).min(layout.length);
            let strip = Rect::new(
                page.left,
                page.y,
                page.left + scale * (to - from),
                page.y + scale * roll,
            );
            let edge = Stroke::new(Role::HullLine, 0.2);
            page.scene
                .figure(boxed(strip), Some(Role::Roof), Some(edge));
            let onto = Affine::new([scale, 0.0, 0.0, -scale, page.left - scale * from, strip.y1]);
            for laid in &layout.laid {
                self.on_row(&mut page.scene, cutting, laid, (from, to), onto);
            }
            page.y = strip.y1 + 4.0;
            for (at, anchor) in [(from, Anchor::Start), (to, Anchor::End)] {
                if anchor == Anchor::Start && strip.width() < 45.0 {
                    // No room for both.
                    continue;
                }
                let x = page.left + scale * (at - from);
                let set = (SIZE, Weight::Regular, anchor);
                let said = self.order(at);
                letter(&mut page.scene, &said, Point::new(x, page.y), set);
            }
            page.y += 3.0;
        }
        if cutting.of.len() > self.patterns.pieces.len() {
            page.text(self.words.word("pattern.key"), SIZE, Weight::Regular);
        }
        true
    }

    /// What is laid is called on the roll, from the longest name to the shortest: no two alike.
    fn names(&self, cutting: &Cutting, laid: &Laid) -> Vec<String> {
        let count = |n: usize| fixed(n as f64, 0);
        let mut names = Vec::new();
        match cutting.of.get(laid.blank) {
            Some(For::Piece(i)) => {
                let Some(piece) = self.patterns.pieces.get(*i) else {
                    return names;
                };
                let part = match (piece.of, piece.role) {
                    (_, Part::ShelfBelow) => "pattern.short.lower",
                    (_, Part::ShelfAbove) => "pattern.short.upper",
                    (Of::Whole, _) => "",
                    (Of::Fore, _) => "pattern.short.fore",
                    (Of::After, _) => "pattern.short.after",
                    (Of::PortSkin, _) => "pattern.short.port",
                    (Of::StarboardSkin, _) => "pattern.short.starboard",
                };
                let mut long = count(piece.panel);
                let mut short = long.clone();
                if !part.is_empty() {
                    let mut words = vec![self.words.word(part)];
                    // Shelves of a split panel are two of a kind.
                    if matches!(piece.role, Part::ShelfBelow | Part::ShelfAbove) {
                        match piece.of {
                            Of::Fore => words.push(self.words.word("pattern.short.fore")),
                            Of::After => words.push(self.words.word("pattern.short.after")),
                            _ => {}
                        }
                    }
                    for word in words {
                        long.push(' ');
                        long.push_str(word);
                        short.extend(word.chars().next());
                    }
                }
                if laid.widths < 2 {
                    names.push(self.name(piece));
                } else {
                    for name in [&mut long, &mut short] {
                        name.push(' ');
                        name.push_str(&count(laid.width + 1));
                        name.push('/');
                        name.push_str(&count(laid.widths));
                    }
                }
                names.push(long);
                names.push(short);
            }
            Some(For::Patch(i, layer)) => {
                if let Some(patch) = self.patterns.patches.get(*i) {
                    let mut name = count(patch.panel);
                    name.push_str(["A", "B", "C", "D"].get(patch.corner).unwrap_or(&""));
                    name.push_str(&count(layer + 1));
                    names.push(name);
                }
            }
            Some(For::Pocket(spar, limb)) => {
                let mut name = String::from("P");
                name.push_str(&count(*spar));
                if cutting.of.contains(&For::Pocket(*spar, 1)) {
                    name.push('.');
                    name.push_str(&count(limb + 1));
                }
                names.push(name);
            }
            None => {}
        }
        names
    }

    /// A length of cloth, in metres or whole feet, as it is bought.
    fn order(&self, metres: f64) -> String {
        if !self.units.imperial() {
            return quantity::CHORD.say(metres, self.units);
        }
        let mut feet = fixed((metres / FOOT - 1e-6).ceil(), 0);
        feet.push('\'');
        feet
    }

    /// What of a piece lies on a row.
    fn on_row(
        &self,
        scene: &mut Scene,
        cutting: &Cutting,
        laid: &Laid,
        row: (f64, f64),
        onto: Affine,
    ) {
        let Some(whole) = box_of(&laid.outline) else {
            return;
        };
        if whole.x1 <= row.0 || whole.x0 >= row.1 {
            return;
        }
        let scale = onto.as_coeffs()[0];
        let (inside, line) = within(&thinned(&laid.outline, FAIR / scale), row);
        let of = cutting.of.get(laid.blank);
        let piece = match of {
            Some(For::Piece(i)) => self.patterns.pieces.get(*i),
            _ => None,
        };
        let ground = if piece.is_some() {
            Role::Cloth
        } else {
            Role::ClothOther
        };
        let mut path = onto * through(&inside);
        path.close_path();
        scene.fill(path, ground);
        scene.stroke(onto * line, Stroke::new(Role::ClothEdge, 0.25));
        // Named on every row that has a part of it, in full or as short as need be.
        if box_of(&inside).is_none() {
            return;
        }
        let mut names = self.names(cutting, laid);
        if whole.x0 < row.0 - 1e-6 {
            let mut all = Vec::new();
            for name in &names {
                all.push(self.say("pattern.continued", &[("piece", name)]));
            }
            all.append(&mut names);
            names = all;
        }
        let middle = centre(&inside);
        for name in names {
            let half = lettering::width(&name, SIZE, Weight::Regular) / scale * 0.5;
            let high = 0.6 * SIZE / scale;
            let mut fits = true;
            for (x, y) in [(-half, -high), (half, -high), (half, high), (-half, high)] {
                fits = fits && holds(&inside, middle + Vec2::new(x, y));
            }
            if fits {
                let at = onto * middle + Vec2::new(0.0, 1.1);
                let set = (SIZE, Weight::Regular, Anchor::Middle);
                return letter(scene, &name, at, set);
            }
        }
    }
}

/// Whether a point lies in an outline: an odd number of its sides are crossed on the way out.
fn holds(outline: &[Point], p: Point) -> bool {
    let n = outline.len();
    let mut odd = false;
    for i in 0..n {
        let (a, b) = (outline[i], outline[(i + 1) % n]);
        if (a.y > p.y) != (b.y > p.y) {
            odd ^= p.x < a.x + (b.x - a.x) * (p.y - a.y) / (b.y - a.y);
        }
    }
    odd
}

/// Middle of what an outline holds; of its points where it holds nothing.
fn centre(outline: &[Point]) -> Point {
    let n = outline.len();
    let Some(first) = outline.first() else {
        return Point::ORIGIN;
    };
    let (mut sum, mut area) = (Vec2::ZERO, 0.0);
    for i in 0..n {
        let (a, b) = (outline[i] - *first, outline[(i + 1) % n] - *first);
        let twice = a.cross(b);
        sum += (a + b) * twice;
        area += 3.0 * twice;
    }
    if area.abs() > 1e-9 {
        *first + sum / area
    } else {
        *first
    }
}

/// An outline without the points that lie on the way from one to the next, as near as `off` [m].
fn thinned(outline: &[Point], off: f64) -> Vec<Point> {
    let mut kept: Vec<Point> = Vec::with_capacity(outline.len());
    for (i, p) in outline.iter().enumerate() {
        let (Some(last), Some(next)) = (kept.last(), outline.get(i + 1)) else {
            kept.push(*p);
            continue;
        };
        let way = *next - *last;
        if way.cross(*p - *last).abs() > off * way.hypot() || way.dot(*next - *p) <= 0.0 {
            kept.push(*p);
        }
    }
    kept
}

/// What of an outline lies between two places along the roll, and its line there without the cuts.
fn within(outline: &[Point], (from, to): (f64, f64)) -> (Vec<Point>, BezPath) {
    let mut line = BezPath::new();
    let mut inside = Vec::with_capacity(outline.len() + 8);
    let n = outline.len();
    let mut drawing = false;
    for i in 0..n {
        let (a, b) = (outline[i], outline[(i + 1) % n]);
        let at = |x: f64| (x - a.x) / (b.x - a.x);
        // Shares at which the side comes in and goes out.
        let (mut start, mut end) = (0.0_f64, 1.0_f64);
        if a.x == b.x {
            if a.x < from || a.x > to {
                end = -1.0;
            }
        } else {
            let (enter, leave) = if a.x < b.x { (from, to) } else { (to, from) };
            start = start.max(at(enter));
            end = end.min(at(leave));
        }
        // What runs outside is laid on the cut.
        let held = |p: Point| Point::new(p.x.max(from).min(to), p.y);
        inside.push(held(a));
        if start < end {
            let (p, q) = (a.lerp(b, start), a.lerp(b, end));
            for cut in [(start, p), (end, q)] {
                if cut.0 > 0.0 && cut.0 < 1.0 {
                    inside.push(held(cut.1));
                }
            }
            if !(drawing && start <= 0.0) {
                line.move_to(p);
            }
            line.line_to(q);
        }
        drawing = start < end && end >= 1.0;
    }
    (inside, line)
}
