//! Stress against what is allowed, station by station: the same for masts and other spars.

use crate::beam::{Bent, larger};
use crate::mast::{Weak, Weakness};
use crate::sections::Section;

/// Length of a vector, without the care that huge numbers would need.
pub(crate) fn size(a: f64, b: f64) -> f64 {
    (a * a + b * b).sqrt()
}

/// The greatest of a list by its size.
pub(crate) fn most(list: &[f64]) -> f64 {
    let mut most = 0.0;
    for n in list {
        most = larger(most, n.abs());
    }
    most
}

/// Sections at stations; of two at one place the lower belongs to what is below.
pub(crate) fn sections(at: &[f64], of: &dyn Fn(f64) -> Section) -> Vec<Section> {
    (0..at.len())
        .map(|k| {
            let below = at.get(k + 1).is_some_and(|next| *next <= at[k]);
            of(at[k] - if below { 1e-7 } else { 0.0 })
        })
        .collect()
}

/// Share of the moment left at each station, by the weak places from `zero`.
pub(crate) fn left(at: &[f64], sections: &[Section], weak: &[Weak], zero: f64) -> Vec<f64> {
    let mut left = vec![1.0; at.len()];
    for w in weak {
        for (k, s) in sections.iter().enumerate() {
            if (at[k] - w.height - zero).abs() < 1e-5 {
                left[k] = w.what.left(s).min(left[k]);
            }
        }
    }
    left
}

impl Weakness {
    /// Share of the moment left at a section.
    ///
    /// A hole takes a strip of its width from the inner to the outer side, worst where the strips lie in the plane of bending:
    /// d (D³ - d_in³) / 12 off I.
    fn left(&self, s: &Section) -> f64 {
        let share = match *self {
            Self::Weld(left) | Self::Tabernacle(left) | Self::Joint(left) => left,
            Self::Hole(width) => {
                let bore = (s.diameter - 2.0 * s.wall).max(0.0);
                let gone = s.diameter * s.diameter * s.diameter - bore * bore * bore;
                1.0 - width * gone / (12.0 * s.inertia)
            }
        };
        share.max(1e-3).min(1.0)
    }
}

/// Stress over what is allowed at each station: M / M' + N / N', over the share that is left, or V / V', both ways together; at
/// least ten where thrust is more than it can stand.
pub(crate) fn ratios(
    sections: &[Section],
    left: &[f64],
    bent: [&Bent; 2],
    push: &[f64],
) -> Vec<f64> {
    let [a, b] = bent;
    let least = if a.stands && b.stands { 0.0 } else { 10.0 };
    let mut before = 0.0;
    let ways = a.moment.iter().zip(&b.moment);
    let forces = a.shear.iter().zip(&b.shear);
    let here = sections.iter().zip(left).zip(push);
    here.zip(ways)
        .zip(forces)
        .map(|((((s, left), push), moment), force)| {
            let shear = size(*force.0, *force.1);
            let bending = size(*moment.0, *moment.1) / s.moment + larger(0.0, *push) / s.thrust;
            let ratio = larger(bending / left, larger(shear, before) / s.shear);
            before = shear;
            larger(ratio, least)
        })
        .collect()
}
