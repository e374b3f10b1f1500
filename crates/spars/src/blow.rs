//! The wind that spars are made for: that a state is carried up to, with its gusts; and every factor by its name.

use crate::AIR;

/// The wind for strength. Usual values in brackets are common practice.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Blow {
    /// Force coefficient for strength (1.5).
    pub coefficient: f64,
    /// Gust on the wind's speed (1.3).
    pub gust: f64,
    /// Least and most of the design wind, apparent at the sail, gust within [m/s] (16 and 45 kn).
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

/// Pressure of a wind [Pa]: ½ ρ V².
pub fn pressure(wind: f64) -> f64 {
    0.5 * AIR * wind * wind
}

impl Blow {
    /// The plain design wind of one that a state is carried up to, and the same in its gusts [m/s]: never less than gusts to
    /// the least, and with its gusts never past the most; the most where no advice is.
    pub fn gusts(&self, wind: Option<f64>) -> (f64, f64) {
        let (least, most) = self.winds;
        let plain = wind.unwrap_or(most).max(least / self.gust).min(most);
        (plain, (self.gust * plain).min(most))
    }

    /// Pressure of the design wind, coefficient and gust within [Pa].
    pub fn pressure(&self, wind: Option<f64>) -> f64 {
        self.coefficient * pressure(self.gusts(wind).1)
    }

    /// Its factors on the force of the plain design wind; of the gust what the most leaves.
    pub fn factors(&self, wind: Option<f64>) -> [(Factor, f64); 2] {
        let (plain, gust) = self.gusts(wind);
        let gust = if plain > 0.0 { gust / plain } else { self.gust };
        [
            (Factor::Coefficient, self.coefficient),
            (Factor::GustSquared, gust * gust),
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
