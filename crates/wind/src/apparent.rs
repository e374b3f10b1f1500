//! Apparent and true wind of a boat under way.

use crate::Gradient;

/// How the boat goes: her speed, and the true wind's angle off her bow.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Course {
    /// Speed through the water [m/s].
    pub boat_speed: f64,
    /// True wind off the bow, 0 ahead to π astern [rad].
    pub wind_angle: f64,
}

/// The wind as the boat feels it.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Apparent {
    /// Speed [m/s].
    pub speed: f64,
    /// Off the bow [rad].
    pub angle: f64,
}

impl Course {
    /// What she feels of a true wind [m/s] of the same height:
    /// V_A = √(V_T² + V_B² + 2 V_T V_B cos γ), tan β = V_T sin γ / (V_B + V_T cos γ).
    pub fn apparent(&self, true_wind: f64) -> Apparent {
        let ahead = self.boat_speed + true_wind * angles::cos(self.wind_angle);
        let abeam = true_wind * angles::sin(self.wind_angle);
        Apparent {
            speed: ahead.hypot(abeam),
            angle: abeam.atan2(ahead),
        }
    }

    /// The greatest true wind [m/s] of the same height that gives this apparent wind [m/s]:
    /// V_T = √(V_A² - V_B² sin² γ) - V_B cos γ. `None` where none does: she makes more wind herself.
    ///
    /// Abaft the beam a lesser wind may give the same: there the apparent wind falls before it rises.
    /// What a limit asks for is the wind above which it is passed, and that is the greatest.
    pub fn true_wind(&self, apparent: f64) -> Option<f64> {
        let (sin, cos) = angles::sin_cos(self.wind_angle);
        let across = self.boat_speed * sin;
        let under = apparent * apparent - across * across;
        // At the very least wind rounding may take a little too much off.
        let rounding = 1e-12 * (apparent * apparent + self.boat_speed * self.boat_speed);
        if under.is_nan() || under < -rounding {
            return None;
        }
        let root = if under > 0.0 { under.sqrt() } else { 0.0 };
        let wind = root - self.boat_speed * cos;
        (wind >= 0.0).then_some(wind)
    }

    /// The true wind at the gradient's own height [m/s] that gives this apparent wind [m/s] at a
    /// height [m above the water]. `None` as for [`Course::true_wind`].
    pub fn forecast(&self, apparent: f64, height: f64, gradient: &Gradient) -> Option<f64> {
        Some(self.true_wind(apparent)? / gradient.share(height))
    }

    /// The apparent wind at a height [m above the water] of a true wind [m/s] at the gradient's own.
    pub fn felt(&self, forecast: f64, height: f64, gradient: &Gradient) -> Apparent {
        self.apparent(forecast * gradient.share(height))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use core::f64::consts::{FRAC_PI_2, PI};
    use proptest::prelude::*;

    fn course(boat_speed: f64, degrees: f64) -> Course {
        Course {
            boat_speed,
            wind_angle: degrees.to_radians(),
        }
    }

    /// Triangles that need no table: ahead the speeds add, astern they take off, abeam 3-4-5.
    #[test]
    fn triangles_that_need_no_table() {
        assert!((course(2.0, 0.0).apparent(5.0).speed - 7.0).abs() < 1e-12);
        assert!((course(2.0, 180.0).apparent(5.0).speed - 3.0).abs() < 1e-12);
        let abeam = course(3.0, 90.0).apparent(4.0);
        assert!((abeam.speed - 5.0).abs() < 1e-12);
        assert!((abeam.angle - f64::atan2(4.0, 3.0)).abs() < 1e-12);
        let still = course(0.0, 50.0).apparent(6.0);
        assert!(
            (still.speed - 6.0).abs() < 1e-12 && (still.angle - 50f64.to_radians()).abs() < 1e-12
        );
    }

    #[test]
    fn less_wind_than_she_makes_herself_has_no_true_wind() {
        assert_eq!(course(3.0, 90.0).true_wind(2.9), None);
        assert_eq!(course(3.0, 0.0).true_wind(2.0), None);
        assert_eq!(course(3.0, 60.0).true_wind(f64::NAN), None);
        // Running at the wind's own speed she feels nothing.
        assert!((course(3.0, 180.0).true_wind(0.0).unwrap() - 3.0).abs() < 1e-12);
    }

    /// Running at 3 m/s she feels 2 m/s in a true wind of 1 m/s and of 5 m/s: the limit is passed above
    /// the second.
    #[test]
    fn abaft_the_beam_the_greater_of_two_winds_counts() {
        let running = course(3.0, 180.0);
        assert!((running.apparent(1.0).speed - 2.0).abs() < 1e-12);
        assert!((running.true_wind(2.0).unwrap() - 5.0).abs() < 1e-12);
    }

    proptest! {
        #[test]
        fn there_and_back(wind in 0.0..40.0, boat in 0.0..6.0, angle in 0.0..PI, height in 0.5..15.0) {
            let course = Course { boat_speed: boat, wind_angle: angle };
            let gradient = Gradient::default();
            let felt = course.felt(wind, height, &gradient);
            let found = course.forecast(felt.speed, height, &gradient);
            // A calm and a rounding error may come out as less than no wind.
            prop_assume!(found.is_some() || wind > 1e-6);
            let found = found.unwrap_or(wind);
            let again = course.felt(found, height, &gradient);
            prop_assert!((again.speed - felt.speed).abs() < 1e-6);
            prop_assert!(found >= wind - 1e-5);
            // Before the beam there is but one.
            if angle < FRAC_PI_2 {
                prop_assert!((found - wind).abs() < 1e-5, "{} {}", found, wind);
            }
        }
    }
}
