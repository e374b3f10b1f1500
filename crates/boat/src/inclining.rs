//! The inclining test at the dock: weights moved across, heel read off a pendulum.

use crate::{Fault, GRAVITY, finite};

/// One reading: a weight's moment about the centreline and the heel it gave.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Reading {
    /// Weight moved [kg].
    pub weight: f64,
    /// How far from the centreline, starboard positive [m].
    pub distance: f64,
    /// Tangent of the heel, starboard down positive: deflection over length of the pendulum.
    pub tangent: f64,
}

/// What the readings say together.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Inclining {
    /// m g GM, the righting moment per unit of sin φ [N m].
    pub stiffness: f64,
    /// Heel with nothing moved, starboard down positive [rad].
    pub list: f64,
    /// Standard error of the stiffness as a share of it; `None` from fewer than three readings.
    pub scatter: Option<f64>,
    /// Readings to both sides.
    pub both_sides: bool,
}

impl Inclining {
    /// Fits tan φ = a + M / (m g GM) to the readings by least squares: the moments are known, the heel
    /// is what is read with an error. A fault when the readings show no stiffness: fewer than two
    /// different moments, or heel against the weight, or no line through
    /// them.
    ///
    /// The product m g GM comes straight from the test; no displacement is needed, and none may be
    /// divided out that was only guessed.
    pub fn fit(readings: &[Reading]) -> Result<Self, Fault> {
        let n = readings.len() as f64;
        let (mut x, mut y, mut xx, mut xy, mut yy) = (0.0, 0.0, 0.0, 0.0, 0.0);
        let (mut port, mut starboard) = (false, false);
        for reading in readings {
            let (moment, tangent) = (reading.weight * GRAVITY * reading.distance, reading.tangent);
            x += moment;
            y += tangent;
            xx += moment * moment;
            xy += moment * tangent;
            yy += tangent * tangent;
            port |= moment < 0.0;
            starboard |= moment > 0.0;
        }
        // Squares and products about the means.
        let (spread, common, heels) = (xx - x * x / n, xy - x * y / n, yy - y * y / n);
        let slope = common / spread;
        if !(slope.is_finite() && spread > 1e-12 * xx) {
            return Err(Fault::NoReadings);
        }
        if slope <= 0.0 {
            return Err(Fault::ReadingsAgainst);
        }
        // What the line leaves of the heels; rounding may leave less than nothing.
        let missed = (heels - slope * common).abs();
        let start = (y - slope * x) / n;
        let scatter = (readings.len() > 2).then(|| (missed / (n - 2.0) / spread).sqrt() / slope);
        if scatter.is_some_and(|scatter| scatter > MOST_SCATTER) {
            // A slip of a sign, most likely: it would make her look many times as stiff.
            let (mut worst, mut off) = (0, 0.0);
            for (i, reading) in readings.iter().enumerate() {
                let moment = reading.weight * GRAVITY * reading.distance;
                let miss = (reading.tangent - start - slope * moment).abs();
                if miss > off {
                    (worst, off) = (i, miss);
                }
            }
            return Err(Fault::ReadingOff(worst));
        }
        Ok(Self {
            stiffness: 1.0 / slope,
            list: start.atan(),
            scatter,
            both_sides: port && starboard,
        })
    }
}

/// Scatter of readings above which no line goes through them (common practice).
pub const MOST_SCATTER: f64 = 0.25;

/// Share by which m g GM may be off, 95 %, however well the readings agree (common practice).
pub const LEAST_BAND: f64 = 0.04;

/// Student's t for two-sided 95 % at 1, 2, 3 ... degrees of freedom (any statistical table).
const STUDENT: [f64; 10] = [
    12.706, 4.303, 3.182, 2.776, 2.571, 2.447, 2.365, 2.306, 2.262, 2.228,
];

/// Share by which m g GM may be off, 95 %, where too few readings tell no scatter: as from form (common
/// practice).
pub const UNTOLD_BAND: f64 = 0.25;

/// 95 % half width of the tested stiffness as a share of it: the scatter times Student's t for so many
/// readings, 2.2 at most when there are more than twelve, at least [`LEAST_BAND`]; [`UNTOLD_BAND`] without
/// a scatter.
pub fn band(test: &Inclining, readings: usize) -> f64 {
    let free = readings.wrapping_sub(3);
    let Some(scatter) = test.scatter else {
        return UNTOLD_BAND;
    };
    let wide = scatter * STUDENT.get(free).unwrap_or(&2.2);
    if wide > LEAST_BAND { wide } else { LEAST_BAND }
}

/// GM from a roll period [m]: T = 2π k / √(g GM), so GM = (2π k / T)² / g. A rough witness: the radius of
/// gyration k [m] is a guess (about 0.40 of the beam, the old rule T = 0.8 B / √GM, from memory).
/// `None` without a period.
pub fn height_by_rolling(gyration: f64, period: f64) -> Option<f64> {
    let rate = core::f64::consts::TAU * gyration / period;
    finite(rate * rate / GRAVITY).filter(|_| period > 0.0)
}

/// Roll period [s] of a GM [m]: T = 2π k / √(g GM); `None` for a boat that does not stand.
pub fn roll_period(gyration: f64, height: f64) -> Option<f64> {
    finite(core::f64::consts::TAU * gyration / (GRAVITY * height).sqrt())
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn reading(weight: f64, distance: f64, tangent: f64) -> Reading {
        Reading {
            weight,
            distance,
            tangent,
        }
    }

    /// Worked example of the inclining chapter of Derrett & Barrass (from memory, the arithmetic is
    /// exact): 25 t moved 15 m on 8000 t, a pendulum of 4 m goes 0.20 m; GM = 0.9375 m.
    #[test]
    fn worked_example() {
        let readings = [reading(0.0, 0.0, 0.0), reading(25_000.0, 15.0, 0.20 / 4.0)];
        let found = Inclining::fit(&readings).unwrap();
        let height = found.stiffness / (8_000_000.0 * GRAVITY);
        assert!((height - 0.9375).abs() < 1e-12, "{height}");
        assert_eq!(found.scatter, None);
        assert!(!found.both_sides);
    }

    #[test]
    fn a_list_is_told_apart_from_stiffness() {
        let of = |moment: f64| 0.01 + moment / 20_000.0;
        let readings: Vec<Reading> = [-80.0, -40.0, 40.0, 80.0]
            .map(|weight| reading(weight, 1.2, of(weight * GRAVITY * 1.2)))
            .to_vec();
        let found = Inclining::fit(&readings).unwrap();
        assert!((found.stiffness / 20_000.0 - 1.0).abs() < 1e-12);
        assert!((found.list.tan() - 0.01).abs() < 1e-12);
        assert!(found.scatter.unwrap() < 1e-6 && found.both_sides);
    }

    /// By hand: moments -M, 0, M and heels that miss the line by d, -2d, d leave Σ miss² = 6 d² on one
    /// degree of freedom over Σ M² = 2 M²: standard error of the slope √3 d / M.
    #[test]
    fn scatter_is_the_standard_error_worked_by_hand() {
        let (arm, slope, miss) = (60.0 * GRAVITY, 1.0 / 20_000.0, 1e-4);
        let readings = [
            reading(-60.0, 1.0, -slope * arm + miss),
            reading(0.0, 0.0, -2.0 * miss),
            reading(60.0, 1.0, slope * arm + miss),
        ];
        let found = Inclining::fit(&readings).unwrap();
        let wanted = 3f64.sqrt() * miss / (arm * slope);
        assert!((found.scatter.unwrap() / wanted - 1.0).abs() < 1e-9);
        assert!((found.stiffness * slope - 1.0).abs() < 1e-12);
    }

    #[test]
    fn readings_that_say_nothing() {
        let none = Err(Fault::NoReadings);
        assert_eq!(Inclining::fit(&[]), none);
        assert_eq!(Inclining::fit(&[reading(50.0, 1.0, 0.02)]), none);
        assert_eq!(Inclining::fit(&[reading(50.0, 1.0, 0.02); 3]), none);
        let against = [reading(50.0, 1.0, -0.02), reading(-50.0, 1.0, 0.02)];
        assert_eq!(Inclining::fit(&against), Err(Fault::ReadingsAgainst));
        assert_eq!(Inclining::fit(&[reading(f64::NAN, 1.0, 0.0); 2]), none);
    }

    /// k = 1.2 m, GM = 1.0 m: T = 2.408 s; by the old rule T = 0.8 B/√GM 2.40 s for 3 m of beam, which is
    /// k = 0.40 B (formulas; the rule from memory, so a band).
    #[test]
    fn roll_period_of_the_formula() {
        assert!((roll_period(1.2, 1.0).unwrap() - 2.408).abs() < 5e-4);
        assert!((height_by_rolling(1.2, 2.408).unwrap() - 1.0).abs() < 1e-3);
        assert!((roll_period(0.40 * 3.0, 1.0).unwrap() / 2.40 - 1.0).abs() < 0.01);
        assert_eq!(height_by_rolling(1.2, 0.0), None);
        assert_eq!(roll_period(1.2, -0.1), None);
    }

    #[test]
    fn band_of_few_readings_is_wide() {
        let test = |scatter| Inclining {
            stiffness: 1e4,
            list: 0.0,
            scatter,
            both_sides: true,
        };
        assert!((band(&test(Some(0.02)), 3) - 0.02 * 12.706).abs() < 1e-12);
        assert!((band(&test(Some(0.02)), 8) - 0.02 * 2.447).abs() < 1e-12);
        assert!((band(&test(Some(0.02)), 99) - 0.044).abs() < 1e-12);
        assert_eq!(band(&test(Some(0.001)), 8), LEAST_BAND);
        assert_eq!(band(&test(None), 2), UNTOLD_BAND);
    }

    proptest! {
        #[test]
        fn any_readings_give_a_stiffness_or_nothing(
            list in prop::collection::vec((-1e3..1e3, -3.0..3.0, -0.3..0.3), 0..12)
        ) {
            let readings: Vec<Reading> =
                list.into_iter().map(|(w, d, t)| reading(w, d, t)).collect();
            if let Ok(found) = Inclining::fit(&readings) {
                prop_assert!(found.stiffness > 0.0);
                prop_assert!(found.scatter.is_none_or(|s| s >= 0.0));
            }
        }
    }
}
