//! What to buy, and what each panel weighs.

use geometry::Spar;
use kurbo::Point;

use crate::cutting::Cutting;
use crate::outline::area;
use crate::part::Seam;
use crate::pattern::{Patterns, Role};
use crate::{Construction, Input, Of};

/// US sailmaker's ounce [kg/m²]: an ounce to 28.5 by 36 in.
///
/// 0.028349523125 / (28.5 x 36 x 0.0254²); check values U01.
pub const US_OUNCE: f64 = 0.028_349_523_125 / (28.5 * 36.0 * 0.0254 * 0.0254);

/// UK ounce [kg/m²]: an ounce to the square yard.
///
/// 0.028349523125 / 0.83612736; check values U02.
pub const UK_OUNCE: f64 = 0.028_349_523_125 / 0.836_127_36;

/// A sail made up over its bare cloth: seams, tabling and pockets (common practice).
pub const MADE_UP: f64 = 1.15;

/// What to buy, and what it weighs.
#[derive(Clone, Debug, Default, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Bill {
    /// Cloth standing in the finished sail, both skins of a wing [m²].
    pub finished: f64,
    /// Cloth cut: with allowances, patches, pockets [m²].
    pub cut: f64,
    /// Cloth of each panel with its allowances, patches, webbing and the pocket of the batten under it, lowest first [kg]. None for the
    /// cloth of a panel that cannot be cut.
    pub panels: Vec<Option<f64>>,
    /// Webbing on luff, leech and slot [m].
    pub webbing: f64,
    /// Lines of sewing, seams between widths of cloth among them [m].
    pub sewing: f64,
    /// Thread [m].
    pub thread: f64,
    /// Sticks: boom, battens and yard, limbs of forks and bows.
    pub sticks: Vec<Stick>,
    /// Fittings that join limbs: nose and join of a fork, ends of a pair of bows.
    pub fittings: usize,
    /// Pockets.
    pub pockets: usize,
    /// Eyes: two at every spar, two more at a slot, and lacing along boom and yard.
    pub eyes: usize,
}

/// A stick to make.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Stick {
    /// Spar, boom 0.
    pub spar: usize,
    /// Limb of it, from 0.
    pub limb: usize,
    /// Length along it [m].
    pub length: f64,
}

impl Input {
    /// Lengths of a spar's sticks [m]: one; two limbs and a tail; two bows.
    pub(crate) fn sticks(&self, spar: usize) -> Vec<f64> {
        (self.limbs(spar).iter())
            .map(|line| line.windows(2).map(|p: &[Point]| p[0].distance(p[1])).sum())
            .collect()
    }

    /// All sticks of a spar together [m].
    pub fn stick_length(&self, spar: usize) -> f64 {
        match (self.construction, self.spars.get(spar)) {
            (Construction::Wing(_) | Construction::Bows(_), _) => self.sticks(spar).iter().sum(),
            (_, found) => found.map_or(0.0, |spar| spar.length),
        }
    }

    /// The bill of a sail from its patterns and, where there is one, its cutting list. Common practice: thread by length of sewing, eyes by
    /// their pitch.
    pub fn bill(&self, patterns: &Patterns, cutting: &Cutting) -> Bill {
        let mut bill = Bill::default();
        if !self.faults().is_empty() {
            return bill;
        }
        let n = self.panels();
        let mass = self.cloth.mass;
        let mut cloth = vec![0.0; n + 1];
        let mut there = vec![false; n + 1];
        for piece in &patterns.pieces {
            let cut = area(&piece.cut);
            bill.finished += area(&piece.sewn());
            bill.cut += cut;
            let mut kilos = cut * mass;
            for edge in &piece.edges {
                let own = match edge.seam {
                    Seam::Luff | Seam::Leech | Seam::Slot => {
                        bill.webbing += edge.length;
                        kilos += edge.length * self.sewing.webbing;
                        true
                    }
                    // Each seam is counted once, with one of the pieces it joins.
                    Seam::Spar(spar) => spar == 0 || spar == piece.panel,
                    Seam::Shelf => piece.role != Role::Body,
                    Seam::Skin | Seam::Join => piece.of == Of::PortSkin,
                };
                if own {
                    bill.sewing += edge.length;
                }
            }
            if let (Some(sum), Some(is)) = (cloth.get_mut(piece.panel), there.get_mut(piece.panel))
            {
                *sum += kilos;
                *is = true;
            }
        }
        for (i, blank) in cutting.blanks.iter().enumerate() {
            let size = area(&blank.outline);
            let rim = || -> f64 {
                let k = blank.outline.len();
                (0..k)
                    .map(|j| blank.outline[j].distance(blank.outline[(j + 1) % k]))
                    .sum()
            };
            let panel = match cutting.of.get(i) {
                Some(crate::For::Patch(patch, _)) => patterns.patches.get(*patch).map(|p| p.panel),
                Some(crate::For::Pocket(spar, _)) => Some(spar + 1),
                _ => None,
            };
            if let Some(sum) = panel.and_then(|p| cloth.get_mut(p)) {
                *sum += size * mass;
                bill.cut += size;
                bill.sewing += rim();
            }
        }
        bill.sewing += self.width_seams(cutting);
        bill.thread = bill.sewing * self.sewing.thread;
        bill.panels = (1..=n).map(|i| there[i].then_some(cloth[i])).collect();
        for spar in 0..=n {
            for (limb, length) in self.sticks(spar).into_iter().enumerate() {
                bill.sticks.push(Stick { spar, limb, length });
                bill.pockets += usize::from(self.pocketed(spar));
            }
            bill.fittings += match self.construction {
                Construction::Wing(_) => 2,
                _ => 2 * usize::from(self.bow(spar).is_some()),
            };
        }
        let ends = if matches!(self.construction, Construction::Split(_)) {
            4
        } else {
            2
        };
        bill.eyes = ends * (n + 1);
        let lacing = |spar: Option<&Spar>| match spar {
            Some(s) if self.sewing.eye_pitch > 0.01 => (s.length / self.sewing.eye_pitch) as usize,
            _ => 0,
        };
        bill.eyes += lacing(self.spars.first()) + lacing(self.spars.last());
        bill
    }
}
