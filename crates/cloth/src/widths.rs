//! Blanks wider than the roll, width by width.

use kurbo::{Point, Vec2};

use crate::nest::{Blank, cut_off};
use crate::pattern::{Piece, Role};
use crate::{Cutting, Input};

/// Most widths of a blank; what asks for more cannot be laid.
const MOST_WIDTHS: f64 = 400.0;

/// A seam between two widths of cloth, in the piece's own axes; each line from its lower or fore end.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Lap {
    /// Selvages on the outline to cut: of the further width, then of the nearer one. Between them the widths overlap.
    pub selvages: [[Point; 2]; 2],
    /// Middle of the overlap from sewn edge to sewn edge.
    pub sewn: [Point; 2],
}

/// What lies between two levels across the warp.
pub fn strip(outline: &[Point], across: Vec2, [from, to]: [f64; 2]) -> Vec<Point> {
    let above = cut_off(outline, &|p| across.dot(p.to_vec2()) - from);
    cut_off(&above, &|p| to - across.dot(p.to_vec2()))
}

/// Unit vector square to the warp, to its left.
pub fn across(warp: Vec2) -> Vec2 {
    Vec2::new(-warp.y, warp.x) / warp.hypot().max(1e-12)
}

impl Input {
    /// From which to which level across the warp each width of a blank reaches [m]: as many as the roll asks for, neighbours overlapping by a seam.
    pub fn widths(&self, blank: &Blank) -> Vec<[f64; 2]> {
        let (roll, seam) = (self.cloth.roll, self.sewing.seam);
        let across = across(blank.warp);
        let (mut least, mut most) = (f64::INFINITY, f64::NEG_INFINITY);
        for p in &blank.outline {
            let level = across.dot(p.to_vec2());
            (least, most) = (least.min(level), most.max(level));
        }
        let step = roll - seam;
        let n = ((most - least - seam) / step).ceil();
        let one = most - least <= roll || !blank.seams;
        if one || step <= 0.0 || !(2.0..=MOST_WIDTHS).contains(&n) {
            return vec![[least, most]];
        }
        let mut widths = Vec::new();
        for k in 0..n as usize {
            let from = least + k as f64 * step;
            widths.push([from, most.min(from + roll)]);
        }
        widths
    }

    /// A pattern as it is cut from the roll.
    pub fn blank(&self, piece: &Piece) -> Blank {
        Blank {
            outline: piece.cut.clone(),
            warp: self.warp(piece),
            seams: !matches!(piece.role, Role::ShelfBelow | Role::ShelfAbove),
        }
    }

    /// Seams between the widths of a piece; none of one that fits the roll.
    pub fn laps(&self, piece: &Piece) -> Vec<Lap> {
        let blank = self.blank(piece);
        let across = across(blank.warp);
        let seam = self.sewing.seam;
        let sewn = piece.sewn();
        let mut laps = Vec::new();
        for [from, _] in self.widths(&blank).into_iter().skip(1) {
            let line = |outline: &[Point], level| crossing(outline, blank.warp, across, level);
            let (Some(a), Some(b)) = (line(&piece.cut, from), line(&piece.cut, from + seam)) else {
                continue;
            };
            let middle = from + 0.5 * seam;
            let sewn = line(&sewn, middle)
                .or(line(&piece.cut, middle))
                .unwrap_or(a);
            laps.push(Lap {
                selvages: [a, b],
                sewn,
            });
        }
        laps
    }

    /// All seams between widths of what is cut [m].
    pub fn width_seams(&self, cutting: &Cutting) -> f64 {
        let mut sum = 0.0;
        for blank in &cutting.blanks {
            let across = across(blank.warp);
            let along = blank.warp / blank.warp.hypot().max(1e-12);
            for [from, to] in self.widths(blank).into_iter().skip(1) {
                let width = strip(&blank.outline, across, [from, to]);
                let (mut first, mut last) = (f64::INFINITY, f64::NEG_INFINITY);
                for p in &width {
                    // As the roll counts it.
                    if across.dot(p.to_vec2()) <= from + self.sewing.seam + 1e-9 {
                        let at = along.dot(p.to_vec2());
                        (first, last) = (first.min(at), last.max(at));
                    }
                }
                sum += (last - first).max(0.0);
            }
        }
        sum
    }
}

/// Where an outline is first and last crossed at a level, along the warp; none where it is not.
fn crossing(outline: &[Point], warp: Vec2, across: Vec2, level: f64) -> Option<[Point; 2]> {
    let mut ends: Option<[Point; 2]> = None;
    let n = outline.len();
    for i in 0..n {
        let (a, b) = (outline[i], outline[(i + 1) % n]);
        let from = across.dot(a.to_vec2()) - level;
        let to = across.dot(b.to_vec2()) - level;
        if (from > 0.0) == (to > 0.0) {
            continue;
        }
        let at = a.lerp(b, from / (from - to));
        let along = |p: Point| warp.dot(p.to_vec2());
        let [mut first, mut last] = ends.unwrap_or([at, at]);
        if along(at) < along(first) {
            first = at;
        }
        if along(at) > along(last) {
            last = at;
        }
        ends = Some([first, last]);
    }
    ends
}
