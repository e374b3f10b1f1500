//! Pieces that are cut alike.

use kurbo::Point;

use crate::pattern::{Patterns, Piece};
use crate::{Of, Role};

/// Outlines are alike within this [m].
const ALIKE: f64 = 0.0005;

impl Patterns {
    /// For each piece the first that is cut alike: outline and sewn line within half a millimetre. The skins of a wing count as alike: one is
    /// the other turned over.
    pub fn alike(&self) -> Vec<usize> {
        let mut firsts = Vec::new();
        for (i, piece) in self.pieces.iter().enumerate() {
            let mut first = i;
            for (j, other) in self.pieces.iter().enumerate().take(i) {
                if first == i && firsts.get(j) == Some(&j) && like(piece, other) {
                    first = j;
                }
            }
            firsts.push(first);
        }
        firsts
    }
}

/// Whether one is cut as the other turned over.
pub fn mirrored(a: &Piece, b: &Piece) -> bool {
    a.of != b.of && skin(a.of) && skin(b.of)
}

fn skin(of: Of) -> bool {
    matches!(of, Of::PortSkin | Of::StarboardSkin)
}

fn like(a: &Piece, b: &Piece) -> bool {
    let kinds = |p: &Piece| matches!(p.role, Role::Cloth | Role::Body);
    (a.of == b.of || mirrored(a, b))
        && (a.role == b.role || kinds(a) && kinds(b))
        && near(&a.cut, &b.cut)
        && near(&a.sewn(), &b.sewn())
}

fn near(a: &[Point], b: &[Point]) -> bool {
    a.len() == b.len() && a.iter().zip(b).all(|(p, q)| p.distance(*q) <= ALIKE)
}
