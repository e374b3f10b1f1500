//! The spar to choose: what passes out of many, the lightest, the stiffest for its weight, or the cheapest.

use crate::mast::{MastInput, quick};
use crate::materials::Material;
use crate::sections::{Piece, Pole};
use crate::spar::{SailInput, prove_one};
use crate::stress::size;
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
    /// Stress and bend within their limits.
    pub passes: bool,
}

/// What a search found.
#[derive(Clone, Debug, Default, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Found {
    /// In the order of the candidates; none for one that cannot be. Cut short where the search was stopped.
    pub rated: Vec<Option<Rated>>,
    /// The one that was chosen, proved in full; none where nothing passes.
    pub chosen: Option<usize>,
    /// Whether it was stopped.
    pub stopped: bool,
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

/// Judges candidates one by one, tells how many are done and goes on as long as it is answered true; then the best of those that
/// pass is proved in full, and should it fail, the next.
fn search(
    candidates: &[Candidate],
    aim: Aim,
    judge: &dyn Fn(&Candidate) -> Option<Rated>,
    prove: &dyn Fn(&Candidate) -> Option<Rated>,
    go_on: &dyn Fn(usize) -> bool,
) -> Found {
    let mut found = Found::default();
    for (i, candidate) in candidates.iter().take(MOST_CANDIDATES).enumerate() {
        found.rated.push(judge(candidate));
        if i % 16 == 15 && !go_on(i + 1) {
            found.stopped = true;
            return found;
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
        found.rated[i] = prove(&candidates[i]);
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
    go_on: &dyn Fn(usize) -> bool,
) -> Found {
    let rated = |candidate: &Candidate, ratio: f64, found: f64, mass: f64| Rated {
        mass,
        ratio,
        bend: found,
        price: candidate.price,
        passes: ratio <= 1.0 && found <= bend,
    };
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
        for case in &account.cases {
            let size = size(case.top[0], case.top[1]);
            let most = account.rows.last().map_or(0.0, |r| r.deflection);
            let counts = case.ratio >= 0.9 * account.ratio || size >= 0.95 * most;
            if counts && !pairs.contains(&(case.case, case.state)) {
                pairs.push((case.case, case.state));
            }
        }
    }
    search(
        candidates,
        aim,
        &|candidate| {
            let (ratio, bend, mass) = quick(&with(&candidate.pole), &pairs)?;
            Some(rated(candidate, ratio, bend, mass))
        },
        &|candidate| {
            let account = mast::prove(&with(&candidate.pole));
            let sound = account.faults.is_empty();
            let (ratio, bend) = (account.ratio, account.bend);
            sound.then(|| rated(candidate, ratio, bend, account.weight.mass))
        },
        go_on,
    )
}

/// Finds spar `number` of a sail; `bend` is the most as a share of its length. Its weak places stay where they are.
pub fn find_spar(
    input: &SailInput,
    number: usize,
    candidates: &[Candidate],
    aim: Aim,
    bend: f64,
    go_on: &dyn Fn(usize) -> bool,
) -> Found {
    let Some(made) = input.spars.get(number) else {
        return Found::default();
    };
    let judge = |candidate: &Candidate| {
        let made = spar::Made {
            pole: candidate.pole.clone(),
            ..made.clone()
        };
        let account = prove_one(input, number, &made)?;
        account.fault.is_none().then_some(Rated {
            mass: account.weight.mass,
            ratio: account.ratio,
            bend: account.bend,
            price: candidate.price,
            passes: account.ratio <= 1.0 && account.bend <= bend,
        })
    };
    search(candidates, aim, &judge, &judge, go_on)
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
