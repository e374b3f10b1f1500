//! Floor 0: sine and cosine, the same in the wasm and natively. Half of what the standard library
//! brings to the wasm for them serves angles beyond a million radians.

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

/// Beyond this an angle counts as nought [rad]: its turns are no longer told apart.
pub const MOST: f64 = 1e6;

/// Sine and cosine of an angle [rad], each to the last digit or the one before: FreeBSD's `k_sin`,
/// `k_cos` and the second step of `e_rem_pio2` (msun, 1993).
pub fn sin_cos(angle: f64) -> (f64, f64) {
    // Quarter turns in three parts, 33, 33 and 53 bits, so that the first two go off exactly.
    const PART_1: f64 = 1.570_796_326_734_125_6;
    const PART_2: f64 = 6.077_100_506_303_966e-11;
    const PART_3: f64 = 2.022_266_248_795_950_6e-21;
    let angle = if angle.abs() > MOST { 0.0 } else { angle };
    let quarters = (angle * core::f64::consts::FRAC_2_PI).round_ties_even();
    let first = angle - quarters * PART_1;
    let second = quarters * PART_2;
    let rest = first - second;
    let third = quarters * PART_3 - ((first - rest) - second);
    let x = rest - third;
    // What of the angle is below the last digit of x.
    let y = (rest - x) - third;

    let z = x * x;
    let w = z * z;
    let high = 8.333_333_333_322_49e-3
        + z * (-1.984_126_982_985_795e-4 + z * 2.755_731_370_707_006_8e-6)
        + z * w * (-2.505_076_025_340_686_3e-8 + z * 1.589_690_995_211_55e-10);
    let cube = z * x;
    let sin = x - ((z * (0.5 * y - cube * high) - y) + cube * 1.666_666_666_666_663_2e-1);

    let high = z
        * (4.166_666_666_666_66e-2
            + z * (-1.388_888_888_887_411e-3 + z * 2.480_158_728_947_673e-5))
        + w * w
            * (-2.755_731_435_139_066_3e-7
                + z * (2.087_572_321_298_175e-9 + z * -1.135_964_755_778_819_5e-11));
    let half = 0.5 * z;
    let near = 1.0 - half;
    let cos = near + (((1.0 - near) - half) + (z * high - x * y));

    // The second and third quarter turn over both, every other one swaps them.
    match quarters as i32 & 3 {
        0 => (sin, cos),
        1 => (cos, -sin),
        2 => (-sin, -cos),
        _ => (-cos, sin),
    }
}

/// Sine of an angle [rad].
pub fn sin(angle: f64) -> f64 {
    sin_cos(angle).0
}

/// Cosine of an angle [rad].
pub fn cos(angle: f64) -> f64 {
    sin_cos(angle).1
}

#[cfg(test)]
mod tests {
    use super::*;
    use core::f64::consts::{FRAC_PI_2, PI};

    fn is_like_the_library(angle: f64) {
        let (sin, cos) = sin_cos(angle);
        for (ours, known) in [(sin, angle.sin()), (cos, angle.cos())] {
            // A digit of the last place is 2^-53 to 2^-52 of the number.
            assert!(
                (ours - known).abs() <= known.abs() * f64::EPSILON,
                "{angle}: {ours} {known}"
            );
        }
    }

    #[test]
    fn sine_and_cosine_are_those_of_the_library() {
        for i in -200_000..=200_000 {
            is_like_the_library(f64::from(i) * 1e-4);
        }
        for i in -3000..=3000 {
            // Just where one of them is nought, and to both sides.
            for by in [-1e-9, 0.0, 1e-9] {
                is_like_the_library(f64::from(i) * FRAC_PI_2 + by);
                is_like_the_library(f64::from(i) * 333.3 + by);
            }
        }
        for angle in [1e-300, 1e-20, 1e-8, 0.1, MOST, -MOST, 999_999.123] {
            is_like_the_library(angle);
        }
    }

    #[test]
    fn known_angles() {
        assert_eq!(sin_cos(0.0), (0.0, 1.0));
        assert!((sin(PI / 6.0) - 0.5).abs() < 1e-16 && (cos(PI / 3.0) - 0.5).abs() < 2e-16);
        assert_eq!((sin(FRAC_PI_2), cos(PI)), (1.0, -1.0));
    }

    #[test]
    fn what_is_no_angle_stops_nothing() {
        for far in [1.1e6, -1e9, f64::MAX, f64::INFINITY, f64::NEG_INFINITY] {
            assert_eq!(sin_cos(far), (0.0, 1.0));
        }
        let (sin, cos) = sin_cos(f64::NAN);
        assert!(sin.is_nan() && cos.is_nan());
    }
}
