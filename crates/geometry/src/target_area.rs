//! Fitting a sail to a wanted area.

use crate::order::rises_through;
use crate::plan::{Fault, Held, PlanRule, SailPlan, Shape};

/// Factors on chord and luff that fit a sail to an area.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fit {
    /// Factor on chord, and on every length along the spars.
    pub chord: f64,
    /// Factor on panel widths.
    pub luff: f64,
}

impl PlanRule {
    /// The same plan with chord and luff widths multiplied.
    ///
    /// In a table, spar lengths and fore-aft places follow the chord, heights follow the luff.
    pub fn scaled(&self, fit: Fit) -> Self {
        let mut rule = self.clone();
        match &mut rule.shape {
            Shape::Rule(fan) => {
                fan.chord *= fit.chord;
                fan.yard_length *= fit.chord;
                fan.panel_width *= fit.luff;
            }
            Shape::Table(spars) => {
                for spar in spars {
                    spar.length *= fit.chord;
                    spar.luff.x *= fit.chord;
                    spar.luff.y *= fit.luff;
                }
            }
        }
        rule
    }

    /// Chord and luff factors that give the sail `target` m² to 1e-9, the held dimension exactly
    /// unchanged (its factor is 1, or the sling point keeps its height).
    ///
    /// # Errors
    /// Two dimensions held at once ([`Fault::AllHeld`]), or no size of the free dimension
    /// between an eighth and eight times today's gives that area.
    pub fn fit_to_area(&self, target: f64, held: &[Held]) -> Result<Fit, Fault> {
        self.fit_to(target, held, &SailPlan::area)
    }

    /// As [`Self::fit_to_area`], of an area measured in its own way, a slot left out: it must grow with the sail.
    ///
    /// # Errors
    /// As there.
    pub fn fit_to(
        &self,
        target: f64,
        held: &[Held],
        measure: &dyn Fn(&SailPlan) -> f64,
    ) -> Result<Fit, Fault> {
        if let [first, second, ..] = held {
            return Err(Fault::AllHeld(*first, *second));
        }
        let out_of_reach = Fault::AreaOutOfReach(target);
        if !(target.is_finite() && target > 0.0) {
            return Err(out_of_reach);
        }
        let area = |fit: Fit| self.scaled(fit).plan().0.map(|plan| measure(&plan));
        let now = area(Fit {
            chord: 1.0,
            luff: 1.0,
        })
        .filter(|a| *a > 0.0)
        .ok_or(out_of_reach)?;
        let held = held.first();
        let both = (target / now).sqrt();
        let alike = Fit {
            chord: both,
            luff: both,
        };
        // All of the sail grows alike, unless part of what is measured does not grow with it.
        if held.is_none() && area(alike).is_some_and(|a| (a / target - 1.0).abs() <= 1e-12) {
            return Ok(alike);
        }
        let fit = |free: f64| -> Option<Fit> {
            Some(match held {
                None => Fit {
                    chord: free,
                    luff: free,
                },
                Some(Held::Chord) => Fit {
                    chord: 1.0,
                    luff: free,
                },
                Some(Held::Luff) => Fit {
                    chord: free,
                    luff: 1.0,
                },
                Some(Held::Mast) => Fit {
                    chord: free,
                    luff: self.luff_for_sling(free)?,
                },
            })
        };
        // A plan that folds on the way counts as too small on the small side, too large above 1.
        let miss = |free: f64| -> f64 {
            match fit(free).and_then(area) {
                Some(a) if a.is_finite() => a / target - 1.0,
                _ if free < 1.0 => -1.0,
                _ => 1.0,
            }
        };
        let (low, high) = (0.125, 8.0);
        let (at_low, at_high) = (miss(low), miss(high));
        if !(at_low < 0.0 && at_high > 0.0) {
            return Err(out_of_reach);
        }
        let free = rises_through(&miss, (low, high), (at_low, at_high), 1e-15);
        if miss(free).abs() > 1e-9 {
            return Err(out_of_reach);
        }
        fit(free).ok_or(out_of_reach)
    }

    /// Luff factor that keeps the sling point's height when the chord is multiplied.
    ///
    /// The sling's height is linear in the luff widths, so two trials give it exactly.
    fn luff_for_sling(&self, chord: f64) -> Option<f64> {
        let height = |chord: f64, luff: f64| {
            self.scaled(Fit { chord, luff })
                .plan()
                .0
                .map(|plan| plan.sling_point().y)
        };
        let wanted = height(1.0, 1.0)?;
        let (one, two) = (height(chord, 1.0)?, height(chord, 2.0)?);
        let factor = 1.0 + (wanted - one) / (two - one);
        (factor.is_finite() && factor > 0.0).then_some(factor)
    }
}
