//! What a loftsman strikes on a floor, on one page.

use cloth::Piece;
use kurbo::{Affine, Point, Rect, Vec2};

use super::page::{Page, letter};
use super::{CORNERS, Paper, Papers, laid_out};
use crate::palette::Role;
use crate::scene::{Anchor, Cap, Dash, Scene, Stroke, Weight, through};

impl Papers<'_> {
    /// Base line, stations, offsets and diagonals of a piece; none where it has no size.
    pub(super) fn lofted(&self, piece: &Piece, paper: &Paper) -> Option<Scene> {
        let paper = paper.page();
        let (width, height, margin) = paper.mm();
        if !(width.min(height) - 2.0 * margin >= 100.0 && width.max(height) < 5100.0) {
            return None;
        }
        let mut page = Page::new(width, height, margin);
        self.head(&mut page, &self.name(piece));
        let corners = piece.corners();
        let mut box_ = Rect::from_points(corners[0], corners[0]);
        for edge in &piece.edges {
            for p in &edge.points {
                box_ = box_.union_pt(*p);
            }
        }
        if !(box_.is_finite() && box_.width() > 0.001 && box_.width().max(box_.height()) < 100.0) {
            return None;
        }
        let room = 0.24 * height;
        let fit =
            ((width - 2.0 * margin - 16.0) / box_.width()).min(room / box_.height().max(0.01));
        let origin = Vec2::new(
            0.5 * width - fit * box_.center().x,
            page.y + 5.0 + fit * box_.y1,
        );
        let onto = Affine::translate(origin) * Affine::new([fit, 0.0, 0.0, -fit, 0.0, 0.0]);
        self.figure(&mut page.scene, piece, onto, false);
        page.y += fit * box_.height() + 13.0;
        page.text(self.words.word("pattern.loft"), 3.2, Weight::Regular);
        self.offset_table(&mut page, piece);
        self.said_laps(&mut page, piece);
        page.y += 3.0;
        self.lengths(&mut page, piece, true);
        page.y += 3.0;
        self.cautions(&mut page);
        Some(page.scene)
    }

    /// The piece at a small scale, base line, stations and corners named; to be cut or to be struck on a floor.
    pub(crate) fn figure(&self, scene: &mut Scene, piece: &Piece, onto: Affine, cut: bool) {
        let corners = piece.corners();
        let line = |scene: &mut Scene, a: Point, b: Point, stroke: Stroke| {
            scene.line(onto * a, onto * b, stroke);
        };
        let thin = Stroke::new(Role::Dimension, 0.15);
        let firm = Stroke::new(Role::Dimension, 0.3);
        let base = Stroke {
            cap: Cap::Butt,
            ..Stroke::new(Role::Accent, 0.3).dashed(Dash::Chain)
        };
        let mut below = 0.0;
        if cut {
            below = piece.edges[0].allowance;
            let mut path = onto * through(&piece.cut);
            path.close_path();
            let line = Stroke::new(Role::ClothEdge, 0.4);
            scene.figure(path, Some(Role::Cloth), Some(line));
        } else {
            line(scene, corners[0], corners[1], base);
        }
        for (a, b) in [(0, 2), (1, 3)] {
            line(scene, corners[a], corners[b], thin.dashed(Dash::Dashed));
        }
        for (k, offset) in piece.offsets.iter().enumerate() {
            if cut {
                let (low, up) = (onto * offset.low, onto * offset.up);
                let tick = (up - low) * (3.0 / low.distance(up).max(6.0));
                scene.line(low, low + tick, firm);
                scene.line(up, up - tick, firm);
            } else {
                line(scene, offset.low, offset.up, thin);
            }
            let at = onto * (offset.low - Vec2::new(0.0, below)) + Vec2::new(0.0, 4.0);
            let set = (3.2, Weight::Regular, Anchor::Middle);
            letter(scene, &quantities::units::fixed(k as f64, 0), at, set);
        }
        for lap in self.input.laps(piece) {
            // On a floor there is no cloth beyond the sewn line.
            let [from, to] = if cut { lap.selvages[0] } else { lap.sewn };
            let seam = Stroke::new(Role::ClothEdge, 0.3).dashed(Dash::Chain);
            line(scene, from, to, seam);
        }
        for edge in &piece.edges {
            let mut points = Vec::new();
            for p in &edge.points {
                points.push(onto * *p);
            }
            let mut stroke = Stroke::new(Role::ClothEdge, 0.35);
            if cut {
                stroke = Stroke::new(Role::Line, 0.3).dashed(Dash::Dashed);
            }
            scene.stroke(through(&points), stroke);
        }
        for (i, name) in CORNERS.into_iter().enumerate() {
            if i > 1 && corners[i].distance(corners[3 - i]) < 1e-3 {
                // A shelf runs out to nothing.
                continue;
            }
            let aside = if i == 1 || i == 2 { 4.0 } else { -4.0 };
            let at = onto * corners[i] + Vec2::new(aside, 1.2);
            let set = (3.6, Weight::Regular, Anchor::Middle);
            letter(scene, name, at, set);
        }
    }

    /// Points of the long edges station by station, and of short edges that are not straight.
    fn offset_table(&self, page: &mut Page, piece: &Piece) {
        let mut heads = vec![self.word("pattern.place")];
        for i in [0, 2] {
            let mut x = self.edge(piece, i);
            x.push_str(", x");
            heads.push(x);
            heads.push("y".to_string());
        }
        page.row(&heads, &OFFSETS, Weight::Strong);
        page.rule(0.0);
        for (k, offset) in piece.offsets.iter().enumerate() {
            let first = quantities::units::fixed(k as f64, 0);
            self.placed(page, first, &[offset.low, offset.up]);
        }
        for (i, lap) in self.input.laps(piece).iter().enumerate() {
            let name = self.count("pattern.lap_row", "n", i + 1);
            self.placed(page, name, &[lap.sewn[0], lap.sewn[1]]);
        }
        page.y += 1.5;
        for i in [3, 1] {
            let edge = &piece.edges[i];
            let (Some(first), Some(last)) = (edge.points.first(), edge.points.last()) else {
                continue;
            };
            if edge.length - first.distance(*last) > 1e-6 {
                for (share, at) in laid_out(piece, i) {
                    let mut name = self.edge(piece, i);
                    name.push(' ');
                    name.push_str(&quantities::units::fixed(4.0 * share, 0));
                    name.push_str("/4");
                    self.placed(page, name, &[at]);
                }
            }
        }
    }

    /// How the widths of a piece overlap; nothing of one that fits the roll.
    pub(crate) fn said_laps(&self, page: &mut Page, piece: &Piece) {
        if !self.input.laps(piece).is_empty() {
            let seam = self.fine(self.input.sewing.seam);
            let text = self.say("pattern.laps", &[("seam", &seam)]);
            page.text(&text, 3.2, Weight::Regular);
        }
    }

    /// A row of points.
    fn placed(&self, page: &mut Page, name: String, points: &[Point]) {
        let mut cells = vec![name];
        for at in points {
            cells.push(self.length(at.x));
            cells.push(self.length(at.y));
        }
        page.row(&cells, &OFFSETS, Weight::Regular);
    }
}

/// Right ends of the columns of the offsets.
const OFFSETS: [f64; 5] = [0.0, 0.34, 0.52, 0.82, 1.0];
