//! The constructions side by side.

use geometry::Panel;

use crate::{Construction, Fault, Finding, Input, PanelShape};

/// A way to make a sail, and how its panels are shaped so.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Way {
    /// How it is made.
    pub construction: Construction,
    /// Shape of each panel, lowest first.
    pub shapes: Vec<PanelShape>,
}

/// One way to make this sail.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Compared {
    /// How it is made.
    pub construction: Construction,
    /// Cloth in the finished sail [m²].
    pub finished: f64,
    /// Cloth cut, with allowances, patches and pockets [m²].
    pub cut: f64,
    /// All of the cloth [kg].
    pub mass: f64,
    /// Sticks, boom and yard among them.
    pub sticks: usize,
    /// Fittings that join limbs.
    pub fittings: usize,
    /// Patterns to cut.
    pub pieces: usize,
    /// Lines of sewing [m].
    pub sewing: f64,
    /// Chord balance: least, usual, most. Common practice.
    pub balance: [f64; 3],
    /// Greatest camber of a panel, share of its chord; of the after part of split panels; nought for flat panels and wings.
    pub camber: f64,
    /// Bundle of all panels from the side [m²]: depths of the spars and folded cloth (common practice), by the mean chord.
    pub bundle: f64,
    /// Mast, forks or bows from ahead over the height of the sail, sail edge on [m²].
    pub ahead: f64,
    /// Keys of notes on reefing, handling and work. All common practice.
    pub notes: [&'static str; 3],
    /// What is wrong with making it so.
    pub faults: Vec<Fault>,
    /// Results worth a look.
    pub findings: Vec<Finding>,
}

/// Chord balance least, usual, most [%] and folded cloth a batten [mm]: flat, cambered, wing, split, bows. Common practice.
const HABITS: [([u8; 3], u8); 5] = [
    ([0, 10, 17], 15),
    ([3, 12, 22], 25),
    ([8, 18, 27], 35),
    ([22, 32, 36], 35),
    ([3, 10, 18], 35),
];

const NOTES: [[&str; 3]; 5] = [
    ["sewn.flat.reefing", "sewn.flat.handling", "sewn.flat.work"],
    [
        "sewn.cambered.reefing",
        "sewn.cambered.handling",
        "sewn.cambered.work",
    ],
    ["sewn.wing.reefing", "sewn.wing.handling", "sewn.wing.work"],
    [
        "sewn.split.reefing",
        "sewn.split.handling",
        "sewn.split.work",
    ],
    ["sewn.bows.reefing", "sewn.bows.handling", "sewn.bows.work"],
];

impl Construction {
    /// Its place among the five.
    pub fn number(&self) -> usize {
        match self {
            Self::Flat => 0,
            Self::Cambered(_) => 1,
            Self::Wing(_) => 2,
            Self::Split(_) => 3,
            Self::Bows(_) => 4,
        }
    }
}

impl Input {
    /// This sail made in another way, all else as it is.
    #[must_use]
    pub fn made(&self, way: &Way) -> Self {
        let mut input = self.clone();
        input.construction = way.construction;
        input.shapes.clone_from(&way.shapes);
        input
    }

    /// This sail made in each of these ways, all else as it is (its balance too: whether that suits is for the balance range to say).
    pub fn compare(&self, ways: &[Way]) -> Vec<Compared> {
        let rows = ways.iter().take(8);
        rows.map(|way| self.made(way).compared()).collect()
    }

    fn compared(&self) -> Compared {
        let (input, construction) = (self, self.construction);
        let patterns = input.patterns();
        let cutting = input.blanks(&patterns);
        let bill = input.bill(&patterns, &cutting);
        let number = construction.number();
        let (balance, folded) = HABITS[number];
        let flat = matches!(construction, Construction::Flat | Construction::Wing(_));
        let mut camber = 0.0_f64;
        if !flat {
            for shape in &input.shapes {
                camber = camber.max(shape.camber);
            }
        }
        let n = input.panels();
        let (mut bundle, mut chords) = (0.0, 0.0);
        for (i, spar) in input.spars.iter().enumerate() {
            bundle += input.depth(i);
            chords += spar.length / (n + 1) as f64;
        }
        bundle = (bundle + 1e-3 * f64::from(folded) * n as f64) * chords;
        Compared {
            construction,
            finished: bill.finished,
            cut: bill.cut,
            mass: bill.panels.iter().flatten().sum(),
            sticks: bill.sticks.len(),
            fittings: bill.fittings,
            pieces: patterns.pieces.len(),
            sewing: bill.sewing,
            balance: balance.map(|b| 0.01 * f64::from(b)),
            camber,
            bundle,
            ahead: input.ahead(),
            notes: NOTES[number],
            faults: patterns.faults,
            findings: patterns.findings,
        }
    }

    /// Mast, forks or bows from ahead, sail edge on [m²]: a wing is as wide as it is thick and hides the mast; of a pair of bows the sticks stand
    /// beside it.
    fn ahead(&self) -> f64 {
        let mut seen = 0.0;
        for panel in 1..=self.panels() {
            let Some(drawn) = self.panel(panel) else {
                continue;
            };
            let mast = |p: &Panel| {
                let (low, high) = (p.lower.height_on_mast()?, p.upper.height_on_mast()?);
                let middle = 0.5 * (low + high);
                Some((high - low).max(0.0) * self.mast.diameter_at(middle))
            };
            let chord = 0.5 * (drawn.lower.length + drawn.upper.length);
            seen += match self.construction {
                Construction::Wing(w) => {
                    let width = drawn.lower.luff.distance(drawn.upper.luff);
                    w.thickness * w.join * chord * width
                }
                _ => mast(&drawn).unwrap_or(0.0),
            };
            if let Some(bow) = self.bow(panel) {
                seen += 2.0 * bow.camber * drawn.upper.length * self.depths.batten;
            }
        }
        seen
    }
}
