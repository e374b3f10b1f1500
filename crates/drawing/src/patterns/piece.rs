//! One piece of cloth at its own size.

use cloth::{Patch, Piece};
use kurbo::{BezPath, Point, Rect, Vec2};

use super::page::letter;
use super::{CORNERS, Papers};
use crate::palette::Role;
use crate::scene::{Anchor, Dash, Scene, Stroke, Weight, Words, through};

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

    /// A corner patch: its largest layer to be cut, the smaller ones marked on it.
    pub(super) fn patch(&self, patch: &Patch) -> Option<Drawn> {
        const NAMES: [&str; 4] = [
            "pattern.lower_luff",
            "pattern.lower_leech",
            "pattern.upper_leech",
            "pattern.upper_luff",
        ];
        let panel = self.count("pattern.panel", "n", patch.panel);
        let corner = self.words.word(NAMES.get(patch.corner)?);
        let name = self.part(&panel, corner);
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
