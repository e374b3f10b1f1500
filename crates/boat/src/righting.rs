//! What rights her, and the heel at which it meets the wind.

use crate::table::Node;
use crate::{Banded, Heel};

/// Righting moments of a boat in one loading, and how far they may be off.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Curve {
    /// As estimated; then lighter and heavier, less and more stable by their bands.
    pub(crate) rightings: [Righting; 5],
    /// The GZ table, where she has one.
    pub(crate) table: Vec<Node>,
    /// Heel up to which the curve holds [rad].
    pub limit: f64,
    /// Crew to weather: Σ m g y [N m].
    pub crew: f64,
    /// n of the heeling moment's cosⁿ φ.
    pub exponent: f64,
    /// Where each of them balances most.
    pub(crate) crests: [Peak; 5],
}

/// One righting moment: lever · GZ + sin φ (sine + ½ form tan² φ).
#[derive(Clone, Copy, Debug, Default, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Righting {
    /// m g GM [N m].
    pub stiffness: f64,
    /// What goes with sin φ [N m]: m g GM, beside a table only what has come or gone since.
    pub sine: f64,
    /// m g BM [N m], nought beside a table.
    pub form: f64,
    /// m g of the table [N].
    pub lever: f64,
}

/// The highest place of a curve.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub(crate) struct Peak {
    /// Heel [rad].
    pub(crate) heel: f64,
    /// Value there.
    pub(crate) value: f64,
    /// Whether the curve falls after it.
    pub(crate) passed: bool,
}

/// The highest place of a curve from 0 to an end; the first one it comes to after a rise, or of all.
fn peak(curve: &dyn Fn(f64) -> f64, to: f64, first: bool) -> Peak {
    let steps = 32;
    let step = to / f64::from(steps);
    let start = curve(0.0);
    let mut best = (0, start);
    for i in 1..=steps {
        let value = curve(f64::from(i) * step);
        if value > best.1 {
            best = (i, value);
        } else if first && best.0 > 0 {
            break;
        }
    }
    let mut heel = f64::from(best.0) * step;
    let passed = best.0 > 0 && best.0 < steps;
    if passed {
        let (mut low, mut high) = (heel - step, heel + step);
        for _ in 0..16 {
            let third = (high - low) / 3.0;
            if curve(low + third) < curve(high - third) {
                low += third;
            } else {
                high -= third;
            }
        }
        heel = 0.5 * (low + high);
        best.1 = curve(heel);
    }
    Peak {
        heel,
        value: best.1,
        passed,
    }
}

/// Where a curve that starts below a level comes up to it, or the other way round [rad].
fn crossing(curve: &dyn Fn(f64) -> f64, from: f64, to: f64, level: f64) -> f64 {
    let (mut low, mut high) = (from, to);
    let rises = curve(high) >= level;
    for _ in 0..40 {
        let middle = 0.5 * (low + high);
        if (curve(middle) >= level) == rises {
            high = middle;
        } else {
            low = middle;
        }
    }
    high
}

impl Curve {
    /// Righting moment at a heel [N m], crew to weather included:
    /// m g sin φ (GM + ½ BM tan² φ) + crew cos φ, the wall-sided formula, or m g GZ from a table.
    /// `None` past the limit.
    pub fn moment(&self, heel: f64) -> Option<f64> {
        (heel >= 0.0 && heel <= self.limit).then(|| self.rights(0, heel) + self.crew * heel.cos())
    }

    /// The curve as (heel [rad], moment [N m]) in even steps up to its limit.
    pub fn samples(&self, steps: u16) -> Vec<(f64, f64)> {
        (0..=steps)
            .filter_map(|i| {
                let heel = self.limit * f64::from(i) / f64::from(steps);
                Some((heel, self.moment(heel)?))
            })
            .collect()
    }

    /// Righting moment without the crew [N m], limit or not.
    fn rights(&self, which: usize, heel: f64) -> f64 {
        let Some(r) = self.rightings.get(which) else {
            return 0.0;
        };
        let (sin, cos) = heel.sin_cos();
        let tan = sin / cos;
        let mut moment = r.sine * sin;
        if r.form > 0.0 {
            moment += 0.5 * r.form * sin * tan * tan;
        }
        if r.lever > 0.0 {
            moment += r.lever * crate::table::lever(&self.table, heel);
        }
        moment
    }

    /// The heeling moment upright [N m] that a heel balances: righting moment over cosⁿ φ.
    fn balanced(&self, which: usize, heel: f64) -> f64 {
        let cos = heel.cos();
        (self.rights(which, heel) + self.crew * cos) / cos.powf(self.exponent)
    }

    /// Finds the greatest heeling moments upright that find a balance. No further than 85°: on her beam ends no
    /// sail heels her.
    pub(crate) fn find_crests(&mut self) {
        let most = 85.0 * core::f64::consts::PI / 180.0;
        let to = if self.limit < most { self.limit } else { most };
        let mut crests = self.crests;
        for (i, crest) in crests.iter_mut().enumerate() {
            *crest = peak(&|heel| self.balanced(i, heel), to, true);
        }
        self.crests = crests;
    }

    /// The greatest heeling moments upright [N m] that heel her no further than this [rad], and whether
    /// that heel is reached at all.
    pub(crate) fn holds(&self, heel: f64) -> ([f64; 5], bool) {
        let mut held = [0.0; 5];
        let mut reached = false;
        for (i, (held, crest)) in held.iter_mut().zip(&self.crests).enumerate() {
            *held = crest.value;
            if heel >= 0.0 && heel <= crest.heel {
                // Crew to weather may hold more upright than a tender boat does heeled.
                let (upright, there) = (self.balanced(i, 0.0), self.balanced(i, heel));
                *held = if there > upright { there } else { upright };
                reached |= i == 0;
            }
        }
        (held, reached)
    }

    /// The heel at which a moment `upright` [N m] is balanced, nought where the crew holds her upright.
    pub(crate) fn heel(&self, upright: f64) -> Heel {
        let mut heels = [f64::INFINITY; 5];
        for (i, (found, crest)) in heels.iter_mut().zip(&self.crests).enumerate() {
            let start = self.balanced(i, 0.0);
            // Who does not stand upright of herself lolls in a calm.
            let stands = self.rightings.get(i).is_some_and(|r| r.stiffness >= 0.0);
            if upright < start || (stands && upright <= start) {
                *found = 0.0;
            } else if upright <= crest.value {
                *found = crossing(&|heel| self.balanced(i, heel), 0.0, crest.heel, upright);
            }
        }
        let ([heel, ..], [crest, ..]) = (heels, self.crests);
        if heel.is_finite() {
            Heel::At(Banded::of(heels))
        } else if crest.passed {
            Heel::KnockedDown
        } else {
            Heel::Past(crest.heel)
        }
    }

    /// Greatest righting moment [N m], crew included, and whether it is an estimate. Where the table
    /// passes a greatest value it is that; else the more of what the table reaches and `factor` x m g GM sin 30° (common
    /// practice: 1.4, 1.0 to 1.8; a GM sin φ curve that holds to 60° would give 1.73).
    pub(crate) fn greatest(&self, factor: f64) -> (Banded, bool) {
        let mut estimated = false;
        let mut values = [0.0; 5];
        for (i, value) in values.iter_mut().enumerate() {
            if !self.table.is_empty() {
                let all = |heel: f64| self.rights(i, heel) + self.crew * heel.cos();
                let peak = peak(&all, self.limit, false);
                *value = peak.value;
                if peak.passed {
                    continue;
                }
            }
            estimated = true;
            let stiffness = self.rightings.get(i).map_or(0.0, |r| r.stiffness);
            let rule = 0.5 * factor * stiffness + self.crew * 0.75f64.sqrt();
            if rule > *value {
                *value = rule;
            }
        }
        (Banded::of(values), estimated)
    }

    /// Angle of vanishing stability [rad], crew left out; where the curve falls through nought.
    pub(crate) fn vanishing(&self) -> Option<f64> {
        let rights = |heel: f64| self.rights(0, heel);
        let peak = peak(&rights, self.limit, false);
        let mut low = peak.heel;
        let steps = 32;
        for i in 1..=steps {
            let high = peak.heel + (self.limit - peak.heel) * f64::from(i) / f64::from(steps);
            if peak.passed && rights(high) <= 0.0 {
                return Some(crossing(&rights, low, high, 0.0));
            }
            low = high;
        }
        None
    }

    /// Angle of loll [rad], crew left out; nought for a boat that stands. By the wall-sided formula
    /// tan φ = √(2 |GM| / BM), else where the table's curve rises through nought, or its end.
    pub(crate) fn loll(&self) -> f64 {
        let [r, ..] = self.rightings;
        if r.stiffness >= 0.0 {
            0.0
        } else if r.form > 0.0 {
            (-2.0 * r.stiffness / r.form).sqrt().atan()
        } else {
            let rights = |heel: f64| self.rights(0, heel);
            let top = peak(&rights, self.limit, false).heel;
            if top > 0.0 {
                crossing(&rights, 0.0, top, 0.0)
            } else {
                self.limit
            }
        }
    }
}
