//! Floor 2: the wind, simple level. Its pressure, its number on the Beaufort scale, how it grows with
//! height, and what of it a moving boat feels.
//!
//! SI and radians. A *true* wind is that over the ground at a stated height, as forecasts give it for
//! 10 m; an *apparent* wind is what the moving boat feels at the height of her sail.

// A panic ends the page's instance: no document may reach one. Tests may.
#![cfg_attr(
    not(test),
    deny(
        clippy::unwrap_used,
        clippy::expect_used,
        clippy::panic,
        clippy::unreachable,
        clippy::todo,
        clippy::indexing_slicing
    )
)]

pub mod apparent;
pub mod beaufort;
pub mod gradient;

pub use apparent::{Apparent, Course};
pub use gradient::{Gradient, power};

/// Density of dry air at sea level, 15 °C, 1013.25 hPa [kg/m³] (ISO 2533).
pub const AIR_DENSITY: f64 = 1.225;

/// One knot [m/s]: 1852 m an hour.
pub const KNOT: f64 = 1852.0 / 3600.0;

/// Dynamic pressure of a wind [Pa]: q = ½ρV².
pub fn pressure(speed: f64) -> f64 {
    0.5 * AIR_DENSITY * speed * speed
}

/// The wind of a pressure [m/s], nought for none: V = √(2q/ρ).
pub fn speed_of(pressure: f64) -> f64 {
    if pressure > 0.0 {
        (2.0 * pressure / AIR_DENSITY).sqrt()
    } else {
        0.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Pressures worked out from q = ½ρV² at ρ = 1.225 kg/m³, to a tenth of a pascal.
    #[test]
    fn pressures_of_round_winds() {
        for (knots, pascals) in [
            (10.0, 16.21),
            (15.0, 36.47),
            (20.0, 64.84),
            (25.0, 101.3),
            (30.0, 145.9),
        ] {
            let found = pressure(knots * KNOT);
            assert!(
                (found / pascals - 1.0).abs() < 5e-4,
                "{knots} kn: {found} Pa"
            );
            assert!((speed_of(found) / KNOT - knots).abs() < 1e-12);
        }
        assert_eq!(speed_of(-1.0), 0.0);
        assert_eq!(speed_of(f64::NAN), 0.0);
    }

    /// Density from p/(RT) of the standard atmosphere (ISO 2533): 101325 Pa, 288.15 K,
    /// R = 287.0529 J/(kg K).
    #[test]
    fn density_is_that_of_the_standard_atmosphere() {
        assert!((101_325.0 / (287.0529 * 288.15) - AIR_DENSITY).abs() < 5e-5);
    }
}
