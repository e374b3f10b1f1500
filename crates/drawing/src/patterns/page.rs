//! A page of words and tables, from the top down, in millimetres.

use kurbo::{Point, Rect};

use super::{BATTEN_TOLERANCE, CHECK_SQUARE, DIAGONAL_TOLERANCE, Papers};
use crate::palette::Role;
use crate::pdf;
use crate::scene::{Anchor, Scene, Stroke, Weight, Words, boxed};

/// A page being filled.
pub(crate) struct Page {
    pub(crate) scene: Scene,
    /// Where the next line stands.
    pub(crate) y: f64,
    pub(crate) left: f64,
    pub(crate) right: f64,
}

impl Page {
    pub(crate) fn new(width: f64, height: f64, margin: f64) -> Self {
        Self {
            scene: Scene::new(width, height),
            y: margin,
            left: margin,
            right: width - margin,
        }
    }

    /// Words in as many lines as they need.
    pub(crate) fn text(&mut self, words: &str, size: f64, weight: Weight) {
        if words.is_empty() {
            return;
        }
        for line in pdf::wrapped(words, size, weight, self.right - self.left) {
            self.y += 1.25 * size;
            let at = Point::new(self.left, self.y);
            letter(&mut self.scene, &line, at, (size, weight, Anchor::Start));
        }
        self.y += 0.5 * size;
    }

    /// A row of a table: the first cell from the left, the others against the right ends of their columns, which are shares of the
    /// width.
    pub(super) fn row(&mut self, cells: &[String], ends: &[f64], weight: Weight) {
        self.y += 4.6;
        for (cell, end) in cells.iter().zip(ends) {
            let anchor = if *end > 0.0 {
                Anchor::End
            } else {
                Anchor::Start
            };
            let at = Point::new(self.at(*end), self.y);
            letter(&mut self.scene, cell, at, (3.2, weight, anchor));
        }
    }

    fn at(&self, share: f64) -> f64 {
        self.left + share * (self.right - self.left)
    }

    /// A thin line under a row, from a share of the width on.
    pub(super) fn rule(&mut self, share: f64) {
        let (from, y) = (self.at(share), self.y + 1.2);
        self.scene.line(
            Point::new(from, y),
            Point::new(self.right, y),
            Stroke::new(Role::Dimension, 0.15),
        );
    }
}

/// Sets words: size [mm], weight, and which end of them stands at the place.
#[inline(never)]
pub(crate) fn letter(scene: &mut Scene, words: &str, at: Point, set: (f64, Weight, Anchor)) {
    let mut words = Words::new(words, Role::Note, at, set.2);
    (words.size, words.weight) = (set.0, set.1);
    scene.words(words);
}

/// Right ends of the columns of a table of lengths; the last is left to write in, on a screen there is none.
const LENGTHS: [f64; 6] = [0.0, 0.42, 0.57, 0.68, 0.83, 1.0];
const ON_SCREEN: [f64; 4] = [0.0, 0.53, 0.76, 1.0];

impl Papers<'_> {
    /// Name of the piece and of the sail at the head of a page.
    pub(super) fn head(&self, page: &mut Page, name: &str) {
        page.text(name, 6.0, Weight::Strong);
        page.y -= 3.0;
        page.text(self.title, 3.5, Weight::Regular);
        page.text(&self.said_without(), 3.5, Weight::Strong);
        page.y += 1.0;
    }

    /// Edges and diagonals, with room for what was measured where they are `built` from the paper.
    pub(crate) fn lengths(&self, page: &mut Page, piece: &cloth::Piece, built: bool) {
        let ends: &[f64] = if built { &LENGTHS } else { &ON_SCREEN };
        let mut heads = Vec::new();
        for key in [
            "pattern.edge_head",
            "pattern.length",
            "pattern.finished",
            "pattern.gather",
            "pattern.allowance",
            "pattern.as_built",
        ] {
            // A screen has no room for it beside them.
            if built || key != "pattern.gather" {
                heads.push(self.word(key));
            }
        }
        let mut gathers = String::new();
        page.row(&heads, ends, Weight::Strong);
        page.rule(0.0);
        for i in 0..6 {
            let mut cells = vec![self.edge(piece, i)];
            match piece.edges.get(i) {
                Some(edge) if edge.length < 1e-6 => continue,
                Some(edge) => {
                    cells.push(self.length(edge.length));
                    cells.push(self.length(edge.finished));
                    let by = edge.length - edge.finished;
                    if built {
                        cells.push(self.fine(by));
                    } else if by.abs() >= 5e-4 {
                        gathers.push_str(if gathers.is_empty() { "" } else { "; " });
                        gathers.push_str(&cells[0]);
                        gathers.push(' ');
                        gathers.push_str(&self.fine(by));
                    }
                    cells.push(self.fine(edge.allowance));
                }
                None => cells.push(self.length(piece.diagonals[i & 1])),
            }
            page.row(&cells, ends, Weight::Regular);
            if built {
                page.rule(0.86);
            }
        }
        if !gathers.is_empty() {
            page.y += 2.0;
            let text = self.say("pattern.gathers", &[("list", &gathers)]);
            page.text(&text, 3.2, Weight::Regular);
        }
        if let (Some(strain), true) = (&piece.strain, built)
            && strain.worst.abs() > 5e-4
        {
            let share = self.units.fixed(100.0 * strain.worst, 1);
            page.y += 1.0;
            let text = self.say("pattern.strain", &[("value", &share)]);
            page.text(&text, 3.0, Weight::Regular);
        }
    }

    /// How far diagonals and battens may be off.
    pub fn tolerances(&self) -> String {
        let (diagonal, batten) = (self.fine(DIAGONAL_TOLERANCE), self.fine(BATTEN_TOLERANCE));
        self.say(
            "pattern.true",
            &[("diagonal", &*diagonal), ("batten", &*batten)],
        )
    }

    /// What holds of every paper: tolerances and caution.
    pub(super) fn cautions(&self, page: &mut Page) {
        page.text(&self.tolerances(), 3.0, Weight::Regular);
        let caution = self.words.word("page.caution.short");
        page.text(caution, 3.0, Weight::Strong);
    }

    /// The square that is measured before anything is cut, its lower left corner at a point.
    pub(super) fn check_square(&self, scene: &mut Scene, at: Point) {
        let side = 1000.0 * CHECK_SQUARE;
        let square = Rect::new(at.x, at.y - side, at.x + side, at.y);
        scene.stroke(boxed(square), Stroke::new(Role::ClothEdge, 0.2));
        let set = (5.0, Weight::Regular, Anchor::Middle);
        letter(scene, "100 mm × 100 mm", square.center(), set);
    }
}
