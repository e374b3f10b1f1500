//! How the wind grows with height.

/// Below this the power law has no meaning: the sea's own roughness reigns [m].
const LOWEST: f64 = 0.5;

/// Power law of the wind over the sea: V(z) = V_ref (z / z_ref)^p.
///
/// p = 1/7 at 10 m is the usual choice; it lies within 7 % of the gust profile of 46 CFR 28.575 from
/// 1 m up.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Gradient {
    /// Exponent p, 0 to 0.25.
    pub exponent: f64,
    /// Height of the stated wind [m].
    pub reference: f64,
}

impl Default for Gradient {
    fn default() -> Self {
        Self {
            exponent: 1.0 / 7.0,
            reference: 10.0,
        }
    }
}

impl Gradient {
    /// Wind at a height [m above the water] as a share of the stated wind.
    pub fn share(&self, height: f64) -> f64 {
        let height = if height > LOWEST { height } else { LOWEST };
        power(height / self.reference, self.exponent)
    }
}

/// A number from nought up to a power from nought up, by logarithm: to a few of the last digits, in a fifth of the code that
/// `powf` brings to the wasm.
pub fn power(base: f64, exponent: f64) -> f64 {
    if base > 0.0 {
        (exponent * base.ln()).exp()
    } else if exponent == 0.0 {
        1.0
    } else {
        // Nought of nought, nothing of less.
        base.sqrt()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn power_is_that_of_the_standard_library() {
        for base in [1e-9, 0.3, 1.0, 2.0, 7.5, 1e9] {
            for exponent in [0.0, 1.0 / 7.0, 2.0 / 3.0, 1.3, 2.4] {
                let known: f64 = f64::powf(base, exponent);
                assert!((power(base, exponent) / known - 1.0).abs() < 1e-13);
            }
        }
        assert_eq!((power(0.0, 1.3), power(0.0, 0.0)), (0.0, 1.0));
        assert!(power(f64::NAN, 1.3).is_nan() && power(-1.0, 1.3).is_nan());
    }

    /// (h/10)^(1/7) at 1, 2, 5 and 10 m; and the gust profile of 46 CFR 28.575,
    /// V = S (0.127 ln h + 0.772), which it is held against.
    #[test]
    fn seventh_root_and_the_profile_of_a_rule() {
        let law = Gradient::default();
        for (height, share) in [(1.0, 0.720), (2.0, 0.795), (5.0, 0.906), (10.0, 1.000)] {
            assert!((law.share(height) - share).abs() < 5e-4, "{height}");
            let rule = (0.127 * f64::ln(height) + 0.772) / (0.127 * f64::ln(10.0) + 0.772);
            assert!(
                (law.share(height) / rule - 1.0).abs() < 0.07,
                "{height}: {rule}"
            );
        }
    }

    #[test]
    fn no_gradient_is_the_same_wind_everywhere_and_water_level_is_no_calm() {
        let none = Gradient {
            exponent: 0.0,
            ..Gradient::default()
        };
        assert_eq!(none.share(3.0), 1.0);
        let law = Gradient::default();
        assert_eq!(law.share(0.0), law.share(LOWEST));
        assert_eq!(law.share(f64::NAN), law.share(LOWEST));
    }
}
