//! One piece of cloth at its own size.

use cloth::widths::{across, strip};
use cloth::{Cutting, For, Patch, Piece};
use kurbo::{Affine, BezPath, PathEl, Point, Rect, Vec2};

use super::page::letter;
use super::{CORNERS, Papers};
use crate::palette::Role;
use crate::scene::{Anchor, Dash, Figure, Item, Scene, Stroke, Weight, Words, through};

/// A piece drawn: millimetres, y down.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Drawn {
    /// Name of the piece.
    pub name: String,
    /// The line to cut.
    pub cut: Scene,
    /// Sewing lines, match marks, way of the warp, words.
    pub marks: Scene,
    /// Number of its pattern; none for a patch.
    pub piece: Option<usize>,
}

/// Room round the outline [mm].
const ROOM: f64 = 3.0;

/// Larger than any piece of a sail [m].
const MOST: f64 = 100.0;

/// From the pattern's metres to the drawing's millimetres.
#[derive(Clone, Copy)]
struct Onto {
    left: f64,
    top: f64,
}

impl Onto {
    fn at(self, p: Point) -> Point {
        Point::new(
            1000.0 * (p.x - self.left) + ROOM,
            1000.0 * (self.top - p.y) + ROOM,
        )
    }

    fn path(self, points: &[Point]) -> BezPath {
        let mut list = Vec::with_capacity(points.len());
        for p in points {
            list.push(self.at(*p));
        }
        through(&list)
    }
}

/// An empty drawing round an outline; none where it is none.
fn around(name: String, cut: &[Point]) -> Option<(Drawn, Onto)> {
    let first = cut.get(2)?;
    let mut box_ = Rect::from_points(*first, *first);
    for p in cut {
        if !p.is_finite() {
            return None;
        }
        box_ = box_.union_pt(*p);
    }
    if box_.width().max(box_.height()) > MOST {
        return None;
    }
    let onto = Onto {
        left: box_.x0,
        top: box_.y1,
    };
    let scene = Scene::new(
        1000.0 * box_.width() + 2.0 * ROOM,
        1000.0 * box_.height() + 2.0 * ROOM,
    );
    let mut drawn = Drawn {
        name: name.clone(),
        cut: scene.clone(),
        marks: scene,
        piece: None,
    };
    drawn.cut.title = name;
    let mut path = onto.path(cut);
    path.close_path();
    drawn.cut.stroke(path, Stroke::new(Role::ClothEdge, 0.4));
    Some((drawn, onto))
}

/// One width of a piece: what is cut, and what is marked on it.
fn strip_of(
    whole: &Drawn,
    piece: &Piece,
    across: Vec2,
    levels: [f64; 2],
    name: String,
) -> Option<Drawn> {
    let (_, from) = around(String::new(), &piece.cut)?;
    let (mut drawn, onto) = around(name, &strip(&piece.cut, across, levels))?;
    drawn.piece = whole.piece;
    let shift = onto.at(Point::ORIGIN) - from.at(Point::ORIGIN);
    // How far within the width a point of the whole drawing lies, from either side [m].
    let within = |p: Point| {
        let x = 0.001 * (p.x - ROOM) + from.left;
        let y = from.top - 0.001 * (p.y - ROOM);
        let level = across.dot(Vec2::new(x, y));
        [level - levels[0], levels[1] - level]
    };
    for item in &whole.marks.items {
        match item {
            Item::Figure(figure) => {
                let path = Affine::translate(shift) * kept(&figure.path, &within);
                let Figure { fill, stroke, .. } = *figure;
                drawn.marks.figure(path, fill, stroke);
            }
            Item::Words(words) => {
                let [below, above] = within(words.bounds().center());
                // The whole piece's name may stand in any of them.
                if below >= 0.0 && above >= 0.0 && words.words != whole.name {
                    let mut words = words.clone();
                    words.at += shift;
                    drawn.marks.words(words);
                }
            }
        }
    }
    let at = Point::new(0.5 * drawn.cut.width, 0.5 * drawn.cut.height);
    let set = (10.0, Weight::Strong, Anchor::Middle);
    letter(&mut drawn.marks, &drawn.name, at, set);
    Some(drawn)
}

/// What of straight lines lies where both distances are not negative.
fn kept(path: &BezPath, within: &dyn Fn(Point) -> [f64; 2]) -> BezPath {
    let mut all = BezPath::new();
    let (mut first, mut last) = (Point::ORIGIN, Point::ORIGIN);
    for element in path.elements() {
        let next = match *element {
            PathEl::MoveTo(p) => {
                (first, last) = (p, p);
                continue;
            }
            PathEl::LineTo(p) | PathEl::QuadTo(_, p) | PathEl::CurveTo(_, _, p) => p,
            PathEl::ClosePath => first,
        };
        let (mut start, mut end) = (0.0_f64, 1.0_f64);
        let (here, there) = (within(last), within(next));
        for side in 0..2 {
            let (a, b) = (here[side], there[side]);
            // A hair beyond is on the edge: selvages lie there.
            if a < -1e-6 && b < -1e-6 {
                end = -1.0;
            } else if a < -1e-6 {
                start = start.max(a / (a - b));
            } else if b < -1e-6 {
                end = end.min(a / (a - b));
            }
        }
        if start < end {
            all.move_to(last.lerp(next, start));
            all.line_to(last.lerp(next, end));
        }
        last = next;
    }
    all
}

fn unit(way: Vec2) -> Vec2 {
    way / way.hypot().max(1e-9)
}

impl Papers<'_> {
    pub(super) fn piece(&self, number: usize, piece: &Piece) -> Option<Drawn> {
        let (mut drawn, onto) = around(self.name(piece), &piece.cut)?;
        drawn.piece = Some(number);
        let marks = &mut drawn.marks;
        let thin = Stroke::new(Role::Dimension, 0.25);
        for edge in &piece.edges {
            let line = onto.path(&edge.points);
            let dashed = Stroke::new(Role::Line, 0.25).dashed(Dash::Dashed);
            marks.stroke(line, dashed);
            self.edge_words(marks, onto, edge);
        }
        let [below, above] = [0, 2].map(|i| piece.edges[i].allowance);
        let last = piece.offsets.len().saturating_sub(1);
        for (k, offset) in piece.offsets.iter().enumerate() {
            let width = offset.low.distance(offset.up);
            if width < 0.02 {
                continue;
            }
            let up = unit(offset.up - offset.low);
            for (foot, inward, beyond) in [(offset.low, up, below), (offset.up, -up, above)] {
                let (from, to) = (foot - inward * beyond, foot + inward * 0.010);
                marks.line(onto.at(from), onto.at(to), thin);
                // The ends have their letters.
                if width > 0.06 && k > 0 && k < last {
                    let at = onto.at(foot + inward * 0.014) + Vec2::new(0.0, 1.5);
                    let number = quantities::units::fixed(k as f64, 0);
                    letter(marks, &number, at, (4.0, Weight::Regular, Anchor::Middle));
                }
            }
        }
        self.laps(marks, onto, piece);
        self.warp_arrow(marks, onto, piece);
        // Beside the short edges, a little in.
        let corners = piece.corners();
        for (i, at) in corners.into_iter().enumerate() {
            let way = corners[3 - i] - at;
            if way.hypot() > 0.06 {
                let way = unit(way);
                let aft = Vec2::new(way.y, -way.x) * if i == 0 || i == 2 { 0.010 } else { -0.010 };
                let at = onto.at(at + way * 0.025 + aft) + Vec2::new(0.0, 2.0);
                letter(marks, CORNERS[i], at, (6.0, Weight::Strong, Anchor::Middle));
            }
        }
        // Near the lower edge, where there is a page in any case.
        let (low, up) = (
            piece.edges[0].points.get(32)?,
            piece.edges[2].points.get(32)?,
        );
        let width = low.distance(*up);
        let size = (150.0 * width).min(12.0).max(3.0);
        let inward = unit(*up - *low) * (0.5 * width).min(0.042);
        let at = onto.at(*low + inward);
        letter(
            marks,
            &drawn.name,
            at,
            (size, Weight::Strong, Anchor::Middle),
        );
        let at = at + Vec2::new(0.0, 0.8 * size);
        letter(
            marks,
            self.title,
            at,
            (0.5 * size, Weight::Regular, Anchor::Middle),
        );
        Some(drawn)
    }

    /// What an edge is sewn to, how long it is, and how much cloth lies beyond it: along its middle, within.
    fn edge_words(&self, marks: &mut Scene, onto: Onto, edge: &cloth::Edge) {
        let middle = edge.points.len() * 9 / 16;
        let (Some(a), Some(b)) = (edge.points.get(middle), edge.points.get(middle + 1)) else {
            return;
        };
        if edge.length < 0.06 {
            return;
        }
        let (length, allowance) = (self.length(edge.length), self.fine(edge.allowance));
        let text = self.say(
            "pattern.edge",
            &[
                ("seam", &self.seam(edge.seam)),
                ("length", &length),
                ("allowance", &allowance),
            ],
        );
        let way = unit(*b - *a);
        let inward = Vec2::new(-way.y, way.x);
        let size = (12.0 * edge.length).min(4.5).max(2.0);
        // Never upside down.
        let read = if way.x < -1e-6 { -way } else { way };
        let up = Vec2::new(-read.y, read.x);
        let centre = a.midpoint(*b) + inward * 0.008 - up * (0.00035 * size);
        let mut words = Words::new(text, Role::Note, onto.at(centre), Anchor::Middle);
        words.size = size;
        words.angle = -read.atan2();
        marks.words(words);
    }

    fn warp_arrow(&self, marks: &mut Scene, onto: Onto, piece: &Piece) {
        let (Some(low), Some(up)) = (
            piece.edges[0].points.get(14),
            piece.edges[2].points.len().checked_sub(15),
        ) else {
            return;
        };
        let Some(up) = piece.edges[2].points.get(up) else {
            return;
        };
        let width = low.distance(*up);
        let way = unit(self.input.warp(piece));
        let from = *low + unit(*up - *low) * (0.5 * width).min(0.045);
        let length = (piece.edges[0].length * 0.1).min(0.12);
        let to = from + way * length;
        let stroke = Stroke::new(Role::Dimension, 0.35);
        marks.line(onto.at(from), onto.at(to), stroke);
        for (end, back) in [(from, way), (to, -way)] {
            for side in [0.0024, -0.0024] {
                let barb = back * 0.0055 + Vec2::new(-back.y, back.x) * side;
                marks.line(onto.at(end), onto.at(end + barb), stroke);
            }
        }
        let at = onto.at(to) + Vec2::new(2.0, -1.0);
        let warp = self.words.word("pattern.warp");
        letter(marks, warp, at, (4.0, Weight::Regular, Anchor::Start));
    }

    /// Both selvages of each seam between widths of cloth, and what they are.
    fn laps(&self, marks: &mut Scene, onto: Onto, piece: &Piece) {
        for (i, lap) in self.input.laps(piece).iter().enumerate() {
            for [from, to] in lap.selvages {
                let stroke = Stroke::new(Role::Line, 0.25).dashed(Dash::Chain);
                marks.line(onto.at(from), onto.at(to), stroke);
            }
            let [from, to] = lap.selvages[1];
            let way = unit(to - from);
            let read = if way.x < -1e-6 { -way } else { way };
            let seam = self.fine(self.input.sewing.seam);
            let number = quantities::units::fixed(i as f64 + 1.0, 0);
            let text = self.say("pattern.lap", &[("n", &number), ("seam", &seam)]);
            let at = from.lerp(to, 0.3) + Vec2::new(-read.y, read.x) * 0.003;
            let mut words = Words::new(text, Role::Note, onto.at(at), Anchor::Middle);
            words.size = 4.0;
            words.angle = -read.atan2();
            marks.words(words);
        }
    }

    /// What is cut from the roll, blank by blank and width by width, by its number; none past the last.
    pub fn blank(&self, cutting: &Cutting, mut number: usize) -> Option<Drawn> {
        for (blank, of) in cutting.blanks.iter().zip(&cutting.of) {
            let widths = self.input.widths(blank);
            let Some(width) = widths.get(number) else {
                number -= widths.len();
                continue;
            };
            let name = self.blank_name(cutting, *of);
            let piece = match of {
                For::Piece(i) => self.patterns.pieces.get(*i).zip(Some(*i)),
                _ => None,
            };
            let Some((piece, i)) = piece else {
                let drawn = around(name, &blank.outline).map(|(mut drawn, _)| {
                    let at = Point::new(0.5 * drawn.cut.width, 0.6 * drawn.cut.height);
                    let size = (0.03 * drawn.cut.width).min(5.0).max(2.0);
                    let set = (size, Weight::Regular, Anchor::Middle);
                    letter(&mut drawn.marks, &drawn.name, at, set);
                    drawn
                });
                return Some(drawn.unwrap_or_default());
            };
            let drawn = self.piece(i, piece).unwrap_or_default();
            if widths.len() < 2 {
                return Some(drawn);
            }
            let place = [number, widths.len() - 1];
            let [n, most] = place.map(|k| quantities::units::fixed(k as f64 + 1.0, 0));
            let parts: &[_] = &[("piece", &*name), ("n", &*n), ("most", &*most)];
            let name = self.say("pattern.width", parts);
            let part = strip_of(&drawn, piece, across(blank.warp), *width, name);
            return Some(part.unwrap_or_default());
        }
        None
    }

    /// What a blank is called in full.
    fn blank_name(&self, cutting: &Cutting, of: For) -> String {
        match of {
            For::Piece(i) => {
                (self.patterns.pieces.get(i)).map_or_else(String::new, |p| self.name(p))
            }
            For::Patch(i, layer) => {
                let name = (self.patterns.patches.get(i))
                    .map_or_else(String::new, |patch| self.patch_name(patch));
                self.part(&name, &self.count("pattern.layer", "n", layer + 1))
            }
            For::Pocket(spar, limb) => {
                let name = self.part(
                    self.words.word("pattern.pocket"),
                    &self.count("spar.batten", "number", spar),
                );
                if cutting.of.contains(&For::Pocket(spar, 1)) {
                    return self.part(&name, &self.count("pattern.limb", "n", limb + 1));
                }
                name
            }
        }
    }

    /// Panel and corner of a patch.
    fn patch_name(&self, patch: &Patch) -> String {
        const NAMES: [&str; 4] = [
            "pattern.lower_luff",
            "pattern.lower_leech",
            "pattern.upper_leech",
            "pattern.upper_luff",
        ];
        let panel = self.count("pattern.panel", "n", patch.panel);
        let corner = NAMES.get(patch.corner).unwrap_or(&NAMES[0]);
        self.part(&panel, self.words.word(corner))
    }

    /// A corner patch: its largest layer to be cut, the smaller ones marked on it.
    pub(super) fn patch(&self, patch: &Patch) -> Option<Drawn> {
        let name = self.patch_name(patch);
        let layers = self.input.patch_layers(patch);
        let (mut drawn, onto) = around(name, layers.first()?)?;
        for layer in layers.iter().skip(1) {
            let mut path = onto.path(layer);
            path.close_path();
            drawn.marks.stroke(path, Stroke::new(Role::Dimension, 0.25));
        }
        let at = Point::new(0.5 * drawn.cut.width, 0.6 * drawn.cut.height);
        let size = (0.03 * drawn.cut.width).min(5.0).max(2.0);
        let set = (size, Weight::Regular, Anchor::Middle);
        letter(&mut drawn.marks, &drawn.name, at, set);
        Some(drawn)
    }
}
