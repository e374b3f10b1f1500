//! What rights her, and the heel at which it meets the wind.

use crate::table::{Node, ends, lever};
use crate::{Banded, DEGREE, Fault, GRAVITY, Heel, Input, Source};

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
    /// What each of them balances.
    pub(crate) balances: [Balance; 5],
}

/// One righting moment: lever · GZ + sin φ (sine + ½ form tan² φ).
#[derive(Clone, Copy, Debug, Default, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Righting {
    /// Displacement [kg]; nought where a test alone tells.
    pub displacement: f64,
    /// m g GM [N m].
    pub stiffness: f64,
    /// What goes with sin φ [N m]: m g GM, beside a table only what has come or gone since.
    pub sine: f64,
    /// m g BM [N m], nought beside a table.
    pub form: f64,
    /// m g of the table [N].
    pub lever: f64,
}

/// Heeling moments upright [N m] that find a balance.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub(crate) struct Balance {
    /// Held upright: the crew.
    pub(crate) start: f64,
    /// Held up to the comfort heel, or to the crest before it.
    pub(crate) held: f64,
    /// The most there is.
    pub(crate) crest: Peak,
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

/// Where a curve comes through a level, falling (`sign` 1) or rising (-1) [rad].
fn crossing(curve: &dyn Fn(f64) -> f64, ends: (f64, f64), level: f64, sign: f64) -> f64 {
    let (mut low, mut high) = ends;
    for _ in 0..40 {
        let middle = 0.5 * (low + high);
        if sign * (level - curve(middle)) >= 0.0 {
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
        (heel >= 0.0 && heel <= self.limit).then(|| self.rights(0, heel, self.crew))
    }

    /// The same with its band [N m].
    pub fn banded(&self, heel: f64) -> Option<Banded> {
        self.moment(heel)?;
        Some(Banded::of(&mut |which| self.rights(which, heel, self.crew)))
    }

    /// The curve as (heel [rad], moment [N m]) in even steps up to its limit.
    pub fn samples(&self, steps: u16) -> Vec<(f64, f64)> {
        let mut samples = Vec::new();
        for i in 0..=steps {
            let heel = self.limit * f64::from(i) / f64::from(steps);
            samples.push((heel, self.rights(0, heel, self.crew)));
        }
        samples
    }

    /// Righting moment with so much crew to weather [N m], limit or not.
    fn rights(&self, which: usize, heel: f64, crew: f64) -> f64 {
        let Some(r) = self.rightings.get(which) else {
            return 0.0;
        };
        let (sin, cos) = angles::sin_cos(heel);
        let tan = sin / cos;
        sin * (r.sine + 0.5 * r.form * tan * tan) + crew * cos + r.lever * lever(&self.table, heel)
    }

    /// What holds for every loading: table and crew.
    pub(crate) fn new(input: &Input, table: &Result<Vec<Node>, Fault>) -> Self {
        let mut curve = Self {
            rightings: [Righting::default(); 5],
            table: Vec::new(),
            limit: 0.0,
            crew: input.crew.to_weather * input.crew.mass * input.crew.arm * GRAVITY,
            balances: [Balance::default(); 5],
        };
        if let (Source::Table, Ok(table)) = (input.source, table) {
            curve.limit = ends(table).1;
            curve.table.clone_from(table);
        }
        curve
    }

    /// Works out what is balanced: righting moment over cosⁿ φ is the heeling moment upright that a heel
    /// balances. No further than 85°: on her beam ends no sail heels her.
    pub(crate) fn balance(&mut self, comfort: f64, exponent: f64) {
        let most = 85.0 * DEGREE;
        let to = if self.limit < most { self.limit } else { most };
        let mut balances = self.balances;
        for (i, found) in balances.iter_mut().enumerate() {
            let balanced = self.balanced(i, exponent);
            found.start = balanced(0.0);
            found.crest = peak(&balanced, to, true);
            found.held = found.crest.value;
            if comfort < found.crest.heel {
                // Crew to weather may hold more upright than a tender boat does heeled.
                let there = balanced(comfort);
                found.held = if there > found.start {
                    there
                } else {
                    found.start
                };
            }
        }
        self.balances = balances;
    }

    fn balanced(&self, which: usize, exponent: f64) -> impl Fn(f64) -> f64 {
        move |heel| self.rights(which, heel, self.crew) / wind::power(angles::cos(heel), exponent)
    }

    /// The heel at which a moment `upright` [N m] is balanced, nought where the crew holds her upright.
    pub(crate) fn heel(&self, upright: f64, exponent: f64) -> Heel {
        let heel = Banded::of(&mut |i| {
            let (Some(found), Some(r)) = (self.balances.get(i), self.rightings.get(i)) else {
                return 0.0;
            };
            // Who does not stand upright of herself lolls in a calm.
            if upright < found.start || (r.stiffness >= 0.0 && upright <= found.start) {
                0.0
            } else if upright <= found.crest.value {
                crossing(
                    &self.balanced(i, exponent),
                    (0.0, found.crest.heel),
                    upright,
                    -1.0,
                )
            } else {
                f64::INFINITY
            }
        });
        let [Balance { crest, .. }, ..] = self.balances;
        if heel.value.is_finite() {
            Heel::At(heel)
        } else if crest.passed {
            Heel::KnockedDown
        } else {
            Heel::Past(crest.heel)
        }
    }

    /// Greatest righting moment [N m], crew included, and whether it is an estimate. Where the table
    /// passes a greatest value it is that; else the more of what the table reaches and
    /// `factor` x m g GM sin 30° (common practice: 1.4, 1.0 to 1.8; a GM sin φ curve that holds to 60°
    /// would give 1.73).
    pub(crate) fn greatest(&self, factor: f64) -> (Banded, bool) {
        let mut estimated = false;
        let greatest = Banded::of(&mut |i| {
            let stiffness = self.rightings.get(i).map_or(0.0, |r| r.stiffness);
            let rule = 0.5 * factor * stiffness + self.crew * 0.75f64.sqrt();
            let mut top = Peak::default();
            if !self.table.is_empty() {
                top = peak(&|heel| self.rights(i, heel, self.crew), self.limit, false);
            }
            estimated |= !top.passed;
            if top.passed || top.value > rule {
                top.value
            } else {
                rule
            }
        });
        (greatest, estimated)
    }

    /// Where the curve, crew left out, comes through nought: falling from above (`sign` 1), the angle of vanishing
    /// stability, or rising from below (-1), the angle of loll [rad].
    pub(crate) fn nought(&self, sign: f64) -> Option<f64> {
        let rights = |heel: f64| self.rights(0, heel, 0.0);
        let steps = 64;
        let [Righting { stiffness, .. }, ..] = self.rightings;
        let (mut low, mut was) = (0.0, stiffness);
        for i in 1..=steps {
            let high = self.limit * f64::from(i) / f64::from(steps);
            let now = rights(high);
            if sign * was > 0.0 && sign * now <= 0.0 {
                return Some(crossing(&rights, (low, high), 0.0, sign));
            }
            (low, was) = (high, now);
        }
        None
    }
}
