//! What the spars weigh, and where: from their sections alone, before any force is known.

use crate::sections::{Fault, Pole, Weight};

/// Weights of mast and spars.
#[derive(Clone, Debug, Default, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Weights {
    /// The mast, centre from its heel; none where it cannot be.
    pub mast: Option<Weight>,
    /// Boom to yard, centres from their luff ends.
    pub spars: Vec<Option<Weight>>,
    /// Why not: number of the spar, none for the mast.
    pub faults: Vec<(Option<usize>, Fault)>,
}

/// Weighs mast and spars, fittings left out: mass [kg], centre [m], second moment [kg m²], exact for straight tapers.
pub fn weigh(mast: &Pole, spars: &[Pole]) -> Weights {
    let mut weights = Weights::default();
    let mut one = |pole: &Pole, number| match pole.weigh() {
        Ok((_, weight)) => Some(weight),
        Err(fault) => {
            weights.faults.push((number, fault));
            None
        }
    };
    weights.mast = one(mast, None);
    weights.spars = (spars.iter().enumerate())
        .map(|(i, pole)| one(pole, Some(i)))
        .collect();
    weights
}
