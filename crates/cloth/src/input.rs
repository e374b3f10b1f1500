//! What the cloth is worked out from: plain data.

use geometry::mast::Mast;
use geometry::plan::LEAST_PART;
use geometry::{MOST_PANELS, Panel, Spar};

use crate::part::Part;
use crate::{MeanLine, PanelShape};

/// Everything that decides shape, patterns and cutting list of one sail.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Input {
    /// Boom to yard at full hoist.
    pub spars: Vec<Spar>,
    /// Round (+) or hollow (-) of each panel's luff, share of the edge (-0.04 to 0.04).
    pub luff_round: f64,
    /// Round (+) or hollow (-) of each panel's leech, share of the edge (-0.04 to 0.04).
    pub leech_round: f64,
    /// The mast, and where the sail stands beside it.
    pub mast: Mast,
    /// Depths of the spars.
    pub depths: Depths,
    /// How far each spar moves along itself over the reefs, [ahead, aft] of its place at full hoist [m], boom to yard;
    /// a spar without an entry stays.
    pub travel: Vec<[f64; 2]>,
    /// Shape of each panel, lowest first: of the whole panel, of the after part where it is split, of the bows either
    /// side of it (a bow takes the mean of its two panels). Flat panels and wings do not use it.
    pub shapes: Vec<PanelShape>,
    /// Mean line of all of them.
    pub line: MeanLine,
    /// How the sail is made.
    pub construction: Construction,
    /// Allowances and fittings.
    pub sewing: Sewing,
    /// The cloth.
    pub cloth: Cloth,
    /// From where on a result is worth a look.
    pub limits: Limits,
}

/// Depth of each kind of spar [m]; the sail lies along their side.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Depths {
    /// Boom.
    pub boom: f64,
    /// Battens.
    pub batten: f64,
    /// Yard.
    pub yard: f64,
}

/// The five ways to make the sail.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub enum Construction {
    /// Panels cut as drawn.
    Flat,
    /// Camber cut into every panel.
    Cambered(Cut),
    /// Battens fork ahead of a join, a skin of cloth either side of the mast.
    Wing(Wing),
    /// Fore and after part, the mast in the slot between them.
    Split(Split),
    /// Two bowed battens a station, the cloth between them.
    Bows(Bows),
}

/// How camber is cut.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub enum Cut {
    /// Each station an arc from spar to spar.
    Barrel(Barrel),
    /// The panel rolled to its profile, shelves to the spars at this angle from the sail's normal [rad] (45°; 0 to 65°).
    Shelf(f64),
}

/// What is done about the profile of a barrel being longer than its chord.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub enum Barrel {
    /// Length is added at mid panel, half at the luff and half at the leech, which come out straight.
    Added,
    /// Luff and leech are cut straight and stand hollow.
    Hollow,
}

/// A wing's numbers.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Wing {
    /// Join from the luff, share of the chord (0.40; 0.25 to 0.65).
    pub join: f64,
    /// Thickness, share of the wing's own chord (0.25; 0.12 to 0.40).
    pub thickness: f64,
    /// Room at the mast each side [m] (0.030; 0.010 to 0.100).
    pub room: f64,
}

/// A split panel's numbers.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Split {
    /// Slot, share of the chord, its middle on the mast (0.08; 0.04 to 0.15).
    pub slot: f64,
    /// Fore part turned in from the boom at mid panel [rad] (8°; 0 to 20°): its after edge stands off to leeward.
    pub turn: f64,
    /// Camber of the fore part on its own chord, over that of the after part (1.5).
    pub fore: f64,
    /// How camber is cut.
    pub cut: Cut,
}

/// Paired bows' numbers.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Bows {
    /// Room at the mast each side [m] (0.030; 0.010 to 0.100).
    pub room: f64,
}

/// Allowances [m] and fittings. All common practice.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Sewing {
    /// Seam within a panel and between widths of cloth, overlap (0.015).
    pub seam: f64,
    /// Panel to panel at a batten (0.025).
    pub batten: f64,
    /// Tabling of luff, leech and slot (0.040).
    pub edge: f64,
    /// Hem at boom and yard (0.050).
    pub hem: f64,
    /// How the battens are held.
    pub pockets: Pockets,
    /// Ease of a pocket over the batten's girth, share (0.12).
    pub pocket_ease: f64,
    /// Pocket beyond the cloth's edge, each end [m] (0.015).
    pub pocket_end: f64,
    /// Offsets at every 1/n of the chord (8).
    pub offsets: usize,
    /// Corner patches.
    pub patches: Patches,
    /// Thread per length of seam (6: two rows of zigzag, both threads).
    pub thread: f64,
    /// Mass of the webbing [kg/m] (0.03).
    pub webbing: f64,
    /// Lacing eyes along boom and yard, one every [m] (0.30).
    pub eye_pitch: f64,
}

/// How the battens are held.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub enum Pockets {
    /// Strips sewn on.
    Strips,
    /// The lower edge of each panel is folded round the batten below it.
    Hems,
}

/// Reinforcement of the corners.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Patches {
    /// Size, share of the panel's shorter edge (0.25).
    pub share: f64,
    /// Layers at tack, clew, throat and peak (3; 1 to 6); one less at the leech end of a batten, two at its luff end.
    pub layers: usize,
    /// What a layer carries [N/m] with its factor on strength (2,000).
    pub strength: f64,
    /// Pull of each spar's ends [luff, leech] [N], boom to yard; nought for the rule alone.
    pub pull: [[f64; 2]; MOST_PANELS + 1],
}

/// The cloth.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Cloth {
    /// Mass [kg/m²] (0.14 to 0.33).
    pub mass: f64,
    /// Width of the roll [m] (1.37).
    pub roll: f64,
    /// Way of the warp.
    pub warp: Warp,
}

/// Way of the warp on a panel.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub enum Warp {
    /// Along the battens where the panel fits the roll that way, else along the leech.
    Fitting,
    /// Along the battens.
    Battens,
    /// Along the leech.
    Leech,
}

/// From where on a result is worth a look.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Limits {
    /// Stretch or ease of the cloth against its pattern, share (0.01).
    pub strain: f64,
    /// Gather of a pattern's edge on what it is sewn to, share (0.01).
    pub gather: f64,
    /// Sagitta over width of a barrel (0.35).
    pub barrel: f64,
}

/// An input that cannot be used.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub enum Fault {
    /// Spars or shapes of the wrong number.
    Count,
    /// A number that is none, or beyond all measure.
    Number,
    /// The mean line's own ordinates.
    Ordinates,
    /// An allowance, a count or a share that cannot be.
    Sewing,
    /// Spars of this panel cross, or are less than a centimetre apart.
    Panel(usize),
    /// Camber of this panel, of its fore part or thickness of its wing is negative or more than half the chord, or the fore part is turned past 40°.
    Camber(usize),
    /// The barrel of this panel goes past a half circle.
    BarrelDeep(usize),
    /// The shelves of this panel meet.
    ShelvesMeet(usize),
    /// No room for both parts beside the slot or the join in this panel, or no mast in its slot.
    Slot(usize),
    /// The roll is narrower than a piece that has no seams.
    Roll,
}

/// More than all lengths of a sail together [m].
const MOST: f64 = 1e4;

/// Least width of a panel at luff and leech [m].
pub const LEAST_WIDTH: f64 = 0.01;

impl Input {
    /// Panels of the sail.
    pub fn panels(&self) -> usize {
        self.spars.len().saturating_sub(1)
    }

    /// Panel 1 to N as drawn.
    pub(crate) fn panel(&self, panel: usize) -> Option<Panel> {
        Some(Panel {
            lower: *self.spars.get(panel.checked_sub(1)?)?,
            upper: *self.spars.get(panel)?,
            luff_round: self.luff_round,
            leech_round: self.leech_round,
        })
    }

    /// What keeps the whole sail from being worked out.
    pub fn faults(&self) -> Vec<Fault> {
        let mut faults = Vec::new();
        let n = self.panels();
        if !(1..=MOST_PANELS).contains(&n) || self.shapes.len() != n || self.travel.len() > n + 1 {
            faults.push(Fault::Count);
        } else if !self.measured() {
            faults.push(Fault::Number);
        }
        if !self.line.usable() {
            faults.push(Fault::Ordinates);
        }
        let s = &self.sewing;
        if !(1..=32).contains(&s.offsets) || !(1..=6).contains(&s.patches.layers) {
            faults.push(Fault::Sewing);
        }
        faults
    }

    /// Whether all numbers are numbers within measure.
    fn measured(&self) -> bool {
        let m = &self.mast;
        let mut sum = m.lap.abs() + m.bury.abs() + m.offset.abs() + m.parallel.abs();
        let mut all = |list: &[f64]| {
            for n in list {
                sum += n.abs();
            }
        };
        for s in &self.spars {
            let (l, a) = (s.luff, s.along);
            all(&[l.x, l.y, s.length, s.angle, a.x, a.y]);
        }
        for s in &self.shapes {
            all(&[s.camber, s.place]);
        }
        for t in &self.travel {
            all(t);
        }
        let (d, c, l) = (&self.depths, &self.cloth, &self.limits);
        all(&[m.diameter, m.top_diameter, d.boom, d.batten, d.yard]);
        all(&[l.strain, l.gather, l.barrel]);
        for pull in &self.sewing.patches.pull {
            all(&[1e-6 * pull[0], 1e-6 * pull[1]]);
        }
        let of = match self.construction {
            Construction::Flat => [0.0; 3],
            Construction::Cambered(cut) => [angle(cut), 0.0, 0.0],
            Construction::Wing(w) => [w.join, w.thickness, w.room],
            Construction::Split(s) => [s.slot + angle(s.cut), s.turn, s.fore],
            Construction::Bows(b) => [b.room, 0.0, 0.0],
        };
        all(&of);
        let s = &self.sewing;
        // What can only be more than nothing and less than a spar.
        let own = [
            s.seam,
            s.batten,
            s.edge,
            s.hem,
            s.pocket_ease,
            s.pocket_end,
            s.patches.share,
            d.boom,
            d.batten,
            d.yard,
            0.5 * m.diameter,
            0.5 * m.top_diameter,
            0.1 * c.mass,
            0.1 * s.webbing,
        ];
        let fits = |n: &f64| *n >= 0.0 && *n <= 1.0;
        sum < MOST
            && own.iter().all(fits)
            && self.luff_round.abs() <= 0.26
            && self.leech_round.abs() <= 0.26
            && (0.05..=100.0).contains(&c.roll)
            && (0.0..=100.0).contains(&s.thread)
            && (0.0..=100.0).contains(&s.eye_pitch)
            && (1.0..=1e7).contains(&s.patches.strength)
    }

    /// What keeps one panel from being cut; the others stand.
    pub fn panel_fault(&self, panel: usize) -> Option<Fault> {
        self.judged(panel, &self.parts(panel)).0
    }

    /// The same of its parts, and the most of the room for its camber that one of them takes.
    pub(crate) fn judged(&self, panel: usize, parts: &[Part]) -> (Option<Fault>, f64) {
        let mut most = 0.0_f64;
        if let Some(fault) = self.drawn_fault(panel) {
            return (Some(fault), most);
        }
        let mut fault = None;
        for part in parts {
            let fills = part.fills();
            most = most.max(fills);
            fault = fault.or(part.fault(fills));
        }
        (fault, most)
    }

    /// What keeps a panel from being cut before its parts are looked at.
    fn drawn_fault(&self, panel: usize) -> Option<Fault> {
        let drawn = self.panel(panel)?;
        let [a, b, c, d] = drawn.corners();
        let wide = a.distance(d) > LEAST_WIDTH && b.distance(c) > LEAST_WIDTH;
        if !wide || !drawn.is_convex() || drawn.lower.length < 0.1 || drawn.upper.length < 0.1 {
            return Some(Fault::Panel(panel));
        }
        let camber = self.shapes.get(panel - 1)?.camber;
        let (fore, turn) = match self.construction {
            Construction::Split(s) => (s.fore * camber, s.turn),
            Construction::Wing(w) => (w.thickness, 0.0),
            _ => (camber, 0.0),
        };
        let deep = |f: f64| !(0.0..=0.5).contains(&f);
        if deep(camber) || deep(fore) || !(-0.7..=0.7).contains(&turn) {
            return Some(Fault::Camber(panel));
        }
        if let Construction::Wing(w) = self.construction
            && !(0.05..=0.95).contains(&w.join)
        {
            return Some(Fault::Slot(panel));
        }
        if let Construction::Split(_) = self.construction
            && (self.slot(panel - 1).is_none() || self.slot(panel).is_none())
        {
            return Some(Fault::Slot(panel));
        }
        None
    }

    /// Cloth round a spar in its pocket [m]: π depth (1 + ease).
    pub(crate) fn pocket_girth(&self, spar: usize) -> f64 {
        core::f64::consts::PI * self.depth(spar) * (1.0 + self.sewing.pocket_ease)
    }

    /// Shares of a spar at which the slot begins and ends; none where a part would be narrower than a twentieth.
    pub(crate) fn slot(&self, spar: usize) -> Option<(f64, f64)> {
        let Construction::Split(split) = self.construction else {
            return None;
        };
        let spar = self.spars.get(spar)?;
        let middle = spar.ahead()? / spar.length;
        let (from, to) = (middle - 0.5 * split.slot, middle + 0.5 * split.slot);
        (split.slot > 0.0 && from > LEAST_PART && to < 1.0 - LEAST_PART).then_some((from, to))
    }
}

fn angle(cut: Cut) -> f64 {
    match cut {
        Cut::Barrel(_) => 0.0,
        // Past a right angle there is no shelf: told as a number that is none.
        Cut::Shelf(beta) if (0.0..=1.4).contains(&beta) => beta,
        Cut::Shelf(_) => f64::NAN,
    }
}
