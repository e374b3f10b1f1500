//! The wind that spars are made for: as advised, a reef late, with its gusts; and every factor by its name.

use crate::AIR;

/// The wind for strength. Usual values in brackets are common practice.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Blow {
    /// Force coefficient for strength (1.5).
    pub coefficient: f64,
    /// Gust on the wind's speed (1.3).
    pub gust: f64,
    /// States that reefing comes late (1).
    pub late: usize,
    /// Least and most of the design wind, apparent at the sail, gust left out [m/s] (most: 45 kn).
    pub winds: (f64, f64),
}

/// A factor by name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub enum Factor {
    /// Dynamic.
    Dynamic,
    /// Statics of rule B.
    Statics,
    /// Force coefficient.
    Coefficient,
    /// Gust on speed, so squared on force.
    GustSquared,
    /// Gybe over squared off.
    Gybe,
    /// Drag coefficient of the mast.
    Drag,
    /// Strength over allowable stress.
    Material,
}

/// Shares of a sail's force by the areas of its standing panels, lowest first: each spar takes half of the panel either
/// side of it, so there is one more than panels.
pub fn shares(areas: &[f64]) -> Vec<f64> {
    let total: f64 = areas.iter().sum();
    let mut shares = vec![0.0; areas.len() + 1];
    if total > 0.0 {
        for (i, area) in areas.iter().enumerate() {
            shares[i] += 0.5 * area / total;
            shares[i + 1] += 0.5 * area / total;
        }
    }
    shares
}

/// Design winds, gust left out [m/s]: every state as long as the state `late` further on is advised, within least and
/// most; past the last advice the most.
pub fn design_winds(advised: &[Option<f64>], late: usize, winds: (f64, f64)) -> Vec<f64> {
    (0..advised.len())
        .map(|k| {
            let wind = advised.get(k.saturating_add(late)).copied().flatten();
            wind.unwrap_or(winds.1).max(winds.0).min(winds.1)
        })
        .collect()
}

/// Pressure of a wind [Pa]: ½ ρ V².
pub fn pressure(wind: f64) -> f64 {
    0.5 * AIR * wind * wind
}

impl Blow {
    /// Pressures of the design winds, state by state, coefficient and gust within [Pa].
    pub fn pressures(&self, advised: &[Option<f64>]) -> Vec<f64> {
        let factor = self.coefficient * self.gust * self.gust;
        let mut list = design_winds(advised, self.late, self.winds);
        for wind in &mut list {
            *wind = factor * pressure(*wind);
        }
        list
    }

    /// Its factors on the force.
    pub fn factors(&self) -> [(Factor, f64); 2] {
        [
            (Factor::Coefficient, self.coefficient),
            (Factor::GustSquared, self.gust * self.gust),
        ]
    }

    /// Whether its numbers can be used.
    pub fn is_real(&self) -> bool {
        let within = |n: f64, least: f64, most: f64| n >= least && n <= most;
        within(self.coefficient, 0.0, 20.0)
            && within(self.gust, 1.0, 10.0)
            && within(self.winds.1, 0.0, 200.0)
            && within(self.winds.0, 0.0, self.winds.1)
    }
}
