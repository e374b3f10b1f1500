//! What is cut from the roll.

use kurbo::Point;

use crate::nest::{Blank, Layout, SEED, nest_from};
use crate::outline::cut_line;
use crate::pattern::{Patterns, Piece, Role};
use crate::{Fault, Input, MOST_LAYERS, Patch, Pockets, Warp};

/// What a blank of a sail is cut for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub enum For {
    /// A pattern, by its number.
    Piece(usize),
    /// A layer of a patch: number of the patch, layer from the largest.
    Patch(usize, usize),
    /// The pocket of a spar's stick: spar, limb.
    Pocket(usize, usize),
}

/// Everything cut for a sail, and how it lies on the roll.
#[derive(Clone, Debug, Default, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Cutting {
    /// What each blank is for.
    pub of: Vec<For>,
    /// The blanks.
    pub blanks: Vec<Blank>,
    /// The roll; none where the cloth does not go on it.
    pub layout: Option<Layout>,
    /// What keeps it from being laid.
    pub faults: Vec<Fault>,
}

impl Input {
    /// The cutting list of patterns: pieces with their warp, patches layer by layer, pockets where they are strips; laid
    /// on the roll with an `effort` (0 to 2,000): 20 for a look, 1,500 for what is ordered.
    ///
    /// Patches, shelves and pockets have no seams: a roll narrower than one of them is a fault.
    pub fn cutting(&self, patterns: &Patterns, effort: usize) -> Cutting {
        self.cutting_told(patterns, effort, &|_| {})
    }

    /// The same; `tell` hears the share of the work that is done.
    pub fn cutting_told(&self, patterns: &Patterns, effort: usize, tell: &dyn Fn(f64)) -> Cutting {
        let mut cutting = self.blanks(patterns);
        let (roll, seam) = (self.cloth.roll, self.sewing.seam);
        match nest_from(&cutting.blanks, roll, seam, effort, (SEED, tell)) {
            Ok(layout) => cutting.layout = Some(layout),
            Err(fault) => cutting.faults.push(fault),
        }
        cutting
    }

    /// What is cut, not yet laid.
    pub fn blanks(&self, patterns: &Patterns) -> Cutting {
        let mut cutting = Cutting::default();
        let mut put = |of, outline: Vec<Point>, warp: kurbo::Vec2, seams| {
            cutting.of.push(of);
            cutting.blanks.push(Blank {
                outline,
                warp,
                seams,
            });
        };
        for (i, piece) in patterns.pieces.iter().enumerate() {
            let blank = self.blank(piece);
            put(For::Piece(i), blank.outline, blank.warp, blank.seams);
        }
        let along = kurbo::Vec2::new(1.0, 0.0);
        for (i, patch) in patterns.patches.iter().enumerate() {
            for (layer, outline) in self.patch_layers(patch).into_iter().enumerate() {
                put(For::Patch(i, layer), outline, along, false);
            }
        }
        if self.sewing.pockets == Pockets::Strips && !patterns.pieces.is_empty() {
            for spar in 1..self.panels() {
                if !self.pocketed(spar) {
                    continue;
                }
                for (limb, length) in self.sticks(spar).iter().enumerate() {
                    let (length, width) = self.pocket(spar, *length);
                    let outline = vec![
                        Point::ORIGIN,
                        Point::new(length, 0.0),
                        Point::new(length, width),
                        Point::new(0.0, width),
                    ];
                    put(For::Pocket(spar, limb), outline, along, false);
                }
            }
        }
        cutting
    }

    /// Outlines of a patch's layers as cut, the largest first.
    pub fn patch_layers(&self, patch: &Patch) -> Vec<Vec<Point>> {
        let layers = patch.layers.min(MOST_LAYERS);
        (0..layers)
            .map(|layer| {
                let scale = 1.0 - layer as f64 / layers as f64;
                let mut line: Vec<Point> = (patch.outline.iter())
                    .map(|p| (p.to_vec2() * scale).to_point())
                    .collect();
                line.extend(line.first().copied());
                let edges: Vec<(&[Point], f64)> = (line.windows(2))
                    .map(|edge| (edge, self.sewing.seam))
                    .collect();
                cut_line(&edges)
            })
            .collect()
    }

    /// Whether a spar's sticks lie in pockets: battens, but not bows, between which the cloth is free.
    pub(crate) fn pocketed(&self, spar: usize) -> bool {
        (1..self.panels()).contains(&spar) && self.bow(spar).is_none()
    }

    /// Length and width of a batten's pocket as cut [m]: the girth with its ease and a seam either side; an end allowance at either end.
    pub(crate) fn pocket(&self, spar: usize, stick: f64) -> (f64, f64) {
        let s = &self.sewing;
        (
            stick + 2.0 * s.pocket_end,
            self.pocket_girth(spar) + 2.0 * s.seam,
        )
    }

    /// Way of the warp on a piece: along its lower edge or its after edge.
    pub fn warp(&self, piece: &Piece) -> kurbo::Vec2 {
        let [_, b, c, _] = piece.corners();
        let battens = kurbo::Vec2::new(1.0, 0.0);
        let (mut least, mut most) = (f64::INFINITY, f64::NEG_INFINITY);
        for p in &piece.cut {
            least = least.min(p.y);
            most = most.max(p.y);
        }
        let fits = most - least <= self.cloth.roll;
        let shelf = matches!(piece.role, Role::ShelfBelow | Role::ShelfAbove);
        match self.cloth.warp {
            _ if shelf => battens,
            Warp::Battens => battens,
            Warp::Fitting if fits => battens,
            _ if b.distance(c) > 1e-6 => c - b,
            _ => battens,
        }
    }
}
