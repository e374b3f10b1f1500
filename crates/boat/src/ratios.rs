//! The ratios every owner knows her by.

use crate::finite;

const POUND: f64 = 0.453_592_37;
const FOOT: f64 = 0.3048;

/// Sail area over displaced volume to the two thirds, A / V^(2/3); `None` without displacement.
pub fn sail_area_to_displacement(area: f64, volume: f64) -> Option<f64> {
    finite(area / wind::power(volume, 2.0 / 3.0))
}

/// Displacement in long tons over the cube of a hundredth of the waterline in feet:
/// (m / 2240 lb) / (0.01 LWL)³; `None` without a waterline.
pub fn displacement_to_length(displacement: f64, waterline: f64) -> Option<f64> {
    let hundredth = 0.01 / FOOT * waterline;
    finite(displacement / (2240.0 * POUND) / (hundredth * hundredth * hundredth))
}

/// Wetted surface [m²], an estimate: canoe body 1.7 L d + V/d (Denny and Mumford, from memory), and twice
/// the side area of what reaches below it.
pub fn wetted_surface(length: f64, draught: f64, volume: f64, keel_area: f64) -> f64 {
    1.7 * length * draught + volume / draught + 2.0 * keel_area
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The ratio has no unit: feet and pounds, with V = lb / 64, give the same number (the form in which
    /// it is usually printed), to the difference of 64 lb/ft³ from 1025 kg/m³.
    #[test]
    fn same_number_in_feet() {
        let (area, mass): (f64, f64) = (30.0, 2800.0);
        let metric = sail_area_to_displacement(area, mass / 1025.0).unwrap();
        let feet = (area / (FOOT * FOOT)) / (mass / POUND / 64.0).powf(2.0 / 3.0);
        assert!((metric / feet - 1.0).abs() < 1e-3, "{metric} {feet}");
    }

    /// A long ton is 1016.05 kg; one on 100 ft of waterline is a ratio of 1.
    #[test]
    fn one_long_ton_on_a_hundred_feet() {
        let found = displacement_to_length(1016.05, 30.48).unwrap();
        assert!((found - 1.0).abs() < 1e-5, "{found}");
    }

    #[test]
    fn nothing_has_no_ratio() {
        assert_eq!(sail_area_to_displacement(30.0, 0.0), None);
        assert_eq!(displacement_to_length(1000.0, 0.0), None);
        assert_eq!(displacement_to_length(f64::NAN, 6.0), None);
    }
}
