//! The spar to choose: what passes out of many, the lightest, the stiffest for its weight, or the cheapest.

use crate::mast::{MastAccount, MastInput, quick};
use crate::materials::Material;
use crate::sections::{Piece, Pole};
use crate::spar::{SailInput, SparAccount, prove_one};
use crate::{mast, spar};

/// Most candidates in one search.
pub const MOST_CANDIDATES: usize = 4000;

/// Most times that what was chosen by the quick look is proved in full and turned down.
const TRIES: usize = 32;

/// One that may be chosen.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Candidate {
    /// The spar.
    pub pole: Pole,
    /// What it costs, in whatever the user typed.
    pub price: Option<f64>,
}

/// What is wanted.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub enum Aim {
    /// Least mass.
    Lightest,
    /// Least bend with no more mass than this [kg].
    Stiffest(f64),
    /// Least price, of those that have one.
    Cheapest,
}

/// A candidate judged.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Rated {
    /// Mass [kg].
    pub mass: f64,
    /// Greatest stress over what is allowed; its inverse is the safety left.
    pub ratio: f64,
    /// Bend: of a mast over its height above the partners, of others over their length.
    pub bend: f64,
    /// Price as given.
    pub price: Option<f64>,
    /// Stress and bend within their limits; of a mast its wedges as well.
    pub passes: bool,
}

impl Rated {
    /// By a mast's proof; `bend` is the most at the top as a share of its height. None of one that cannot be.
    pub fn of_mast(account: &MastAccount, bend: f64, price: Option<f64>) -> Option<Self> {
        let stands = account.cases.iter().all(|case| case.stands);
        let wedged = account.wedged() <= 1.0;
        account.faults.is_empty().then_some(Self {
            mass: account.weight.mass,
            ratio: account.ratio,
            bend: account.bend,
            price,
            passes: account.ratio <= 1.0 && account.bend <= bend && stands && wedged,
        })
    }

    /// By a spar's proof; `bend` is the most as a share of its length. None of one that cannot be.
    pub fn of_spar(account: &SparAccount, bend: f64, price: Option<f64>) -> Option<Self> {
        account.fault.is_none().then_some(Self {
            mass: account.weight.mass,
            ratio: account.ratio,
            bend: account.bend,
            price,
            passes: account.ratio <= 1.0 && account.bend <= bend && account.stands,
        })
    }

    /// The worse of two spars of one section, the mass of the first.
    pub fn worse(self, other: Self) -> Self {
        Self {
            ratio: self.ratio.max(other.ratio),
            bend: self.bend.max(other.bend),
            passes: self.passes && other.passes,
            ..self
        }
    }
}

/// What a search found.
#[derive(Clone, Debug, Default, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Found {
    /// In the order of the candidates; none for one that cannot be.
    pub rated: Vec<Option<Rated>>,
    /// The one that was chosen, proved in full; none where nothing passes.
    pub chosen: Option<usize>,
}

/// Whether a candidate beats the best so far.
fn beats(aim: Aim, new: &Rated, best: &Rated) -> bool {
    match aim {
        Aim::Lightest => new.mass < best.mass,
        Aim::Stiffest(_) => new.bend < best.bend,
        Aim::Cheapest => match (new.price, best.price) {
            (Some(new), Some(best)) => new < best,
            (new, best) => new.is_some() && best.is_none(),
        },
    }
}

/// Proves a candidate in full, by its number.
pub type Proves<'a> = &'a dyn Fn(usize) -> Option<Rated>;

/// Judges candidates one by one and tells how many are done; then the best of those that pass is proved in full, and should it
/// fail, the next.
fn search(
    candidates: &[Candidate],
    aim: Aim,
    judge: &dyn Fn(&Candidate) -> Option<Rated>,
    prove: Proves<'_>,
    tell: &dyn Fn(usize),
) -> Found {
    let mut found = Found::default();
    for (i, candidate) in candidates.iter().take(MOST_CANDIDATES).enumerate() {
        found.rated.push(judge(candidate));
        if i % 16 == 15 {
            tell(i + 1);
        }
    }
    for _ in 0..TRIES {
        let mut best: Option<(usize, Rated)> = None;
        for (i, rated) in found.rated.iter().enumerate() {
            let Some(new) = rated.filter(|r| r.passes) else {
                continue;
            };
            let out = match aim {
                Aim::Lightest => false,
                Aim::Stiffest(most) => new.mass > most,
                Aim::Cheapest => new.price.is_none(),
            };
            if !out && best.is_none_or(|(_, best)| beats(aim, &new, &best)) {
                best = Some((i, new));
            }
        }
        let Some((i, _)) = best else { break };
        found.rated[i] = prove(i);
        if found.rated[i].is_some_and(|r| r.passes) {
            found.chosen = Some(i);
            break;
        }
    }
    found
}

/// Finds a mast for an input, its own left aside; `bend` is the most at the top as a share of its height.
pub fn find_mast(
    input: &MastInput,
    candidates: &[Candidate],
    aim: Aim,
    bend: f64,
    prove: Proves<'_>,
    tell: &dyn Fn(usize),
) -> Found {
    let with = |pole: &Pole| MastInput {
        pole: pole.clone(),
        ..input.clone()
    };
    // The cases that govern the weakest and the strongest of them are looked at for all.
    let mut ends: [Option<(f64, usize)>; 2] = [None; 2];
    for (i, candidate) in candidates.iter().take(MOST_CANDIDATES).enumerate() {
        if candidate.pole.check().is_err() {
            continue;
        }
        let at = input.bury.min(candidate.pole.length());
        let strength = candidate.pole.at(at, &input.rules.factors).moment;
        if ends[0].is_none_or(|(least, _)| strength < least) {
            ends[0] = Some((strength, i));
        }
        if ends[1].is_none_or(|(most, _)| strength > most) {
            ends[1] = Some((strength, i));
        }
    }
    let mut pairs = Vec::new();
    for (_, i) in ends.iter().flatten() {
        let account = mast::prove(&with(&candidates[*i].pole));
        for (number, case) in account.cases.iter().enumerate() {
            let most = account.bend * (input.pole.length() - input.bury);
            let counts = case.ratio >= 0.97 * account.ratio
                || case.bend() >= 0.95 * most
                || account.partners.1 == number;
            if counts && !pairs.contains(&(case.case, case.state)) {
                pairs.push((case.case, case.state));
            }
        }
    }
    let judge = |candidate: &Candidate| {
        let account = quick(&with(&candidate.pole), &pairs)?;
        Rated::of_mast(&account, bend, candidate.price)
    };
    search(candidates, aim, &judge, prove, tell)
}

/// Finds one section for some spars of a sail, those that have most to bear first; `bend` is the most as a share of their
/// length. Candidates are as long as the first, and mass is its mass. Weak places stay where they are.
pub fn find_spar(
    input: &SailInput,
    numbers: &[usize],
    candidates: &[Candidate],
    aim: Aim,
    bend: f64,
    prove: Proves<'_>,
    tell: &dyn Fn(usize),
) -> Found {
    if numbers.is_empty() || numbers.iter().any(|i| *i >= input.spars.len()) {
        return Found::default();
    }
    let judge = |candidate: &Candidate| {
        let mut worst: Option<Rated> = None;
        for number in numbers {
            let made = input.spars.get(*number)?;
            let mut pole = candidate.pole.clone();
            if let Some(last) = pole.pieces.last_mut() {
                last.to = made.pole.length();
            }
            let made = spar::Made {
                pole,
                ..made.clone()
            };
            let account = prove_one(input, *number, &made)?;
            let new = Rated::of_spar(&account, bend, candidate.price)?;
            let now = worst.map_or(new, |worst| worst.worse(new));
            worst = Some(now);
            // Who fails the first need not try the rest.
            if !now.passes {
                break;
            }
        }
        worst
    };
    search(candidates, aim, &judge, prove, tell)
}

/// The shape of a timber mast, as shares. Usual values are common practice.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Shape {
    /// Top over partners diameter (0.5).
    pub top: f64,
    /// Heel over partners diameter (0.75).
    pub heel: f64,
    /// Parallel above the partners, share of the height over them (0.15).
    pub parallel: f64,
    /// Wall over diameter (0.20); solid at nought, and from a half.
    pub wall: f64,
    /// Staves of a hollow one (8). Solid fillings at partners and fittings are the builder's, and not counted.
    pub staves: usize,
}

/// A timber mast of a shape: bury [m], height over the partners [m], diameter at the partners [m].
pub fn timber_mast(bury: f64, lap: f64, diameter: f64, shape: &Shape, material: Material) -> Pole {
    let piece = |from: f64, to: f64, foot: f64, top: f64| {
        let (foot, top) = (foot * diameter, top * diameter);
        let hollow = shape.wall > 0.0 && shape.wall < 0.5;
        Piece {
            staves: if hollow { shape.staves } else { 0 },
            ..Piece::new(
                from,
                to,
                (foot, top),
                hollow.then_some((shape.wall * foot, shape.wall * top)),
                material,
            )
        }
    };
    let shoulder = bury + shape.parallel.max(0.0).min(1.0) * lap;
    let mut pieces = vec![piece(0.0, bury, shape.heel, 1.0)];
    if shoulder > bury + 1e-3 {
        pieces.push(piece(bury, shoulder, 1.0, 1.0));
    }
    if bury + lap > shoulder + 1e-3 {
        pieces.push(piece(shoulder, bury + lap, 1.0, shape.top));
    }
    Pole { pieces }
}
