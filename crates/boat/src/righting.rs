//! What rights her, and the heel at which it meets the wind.

/// Righting moment of a boat that is known by her initial stability.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Righting {
    /// m g GM [N m].
    pub stiffness: f64,
    /// m g BM [N m]; nought where only a test is known.
    pub form: f64,
    /// Angle to which her sides are walls [rad]; the curve is kept to no further.
    pub to: f64,
    /// Crew to weather: Σ m g y [N m].
    pub crew: f64,
}

impl Righting {
    /// Moment at a heel [N m]: m g sin φ (GM + ½ BM tan² φ) + crew cos φ, the wall-sided formula. `None`
    /// beyond its limit.
    pub fn moment(&self, heel: f64) -> Option<f64> {
        if heel.is_nan() || heel.abs() > self.to {
            return None;
        }
        let (sin, cos) = heel.sin_cos();
        let tan = sin / cos;
        Some(sin * (self.stiffness + 0.5 * self.form * tan * tan) + self.crew * cos)
    }

    /// Greatest righting moment [N m], an estimate: `factor` x m g GM sin 30° (common practice: 1.4, 1.0
    /// to 1.8; a GM sin φ curve that holds to 60° would give 1.73). The crew is not in it.
    pub fn greatest(&self, factor: f64) -> f64 {
        0.5 * factor * self.stiffness
    }

    /// The heel [rad] at which a moment `upright` [N m], falling as cosⁿ φ, is met; `None` when it is met
    /// nowhere up to the limit of the curve.
    pub fn heel(&self, upright: f64, n: f64) -> Option<f64> {
        // How much more rights her than heels her; rises from below nought to the answer.
        let left = |heel: f64| {
            let heeling = upright * heel.cos().powf(n);
            self.moment(heel).map(|righting| righting - heeling)
        };
        if left(0.0)? >= 0.0 {
            return Some(0.0);
        }
        // The first crossing, not just any: found in steps, then halved.
        let steps = 64;
        let mut low = 0.0;
        for i in 1..=steps {
            let high = self.to * f64::from(i) / f64::from(steps);
            if left(high)? >= 0.0 {
                let mut high = high;
                for _ in 0..50 {
                    let middle = 0.5 * (low + high);
                    if left(middle)? >= 0.0 {
                        high = middle;
                    } else {
                        low = middle;
                    }
                }
                return Some(high);
            }
            low = high;
        }
        None
    }
}

/// Angle of loll [rad] of a boat with negative GM: tan φ = √(2 |GM| / BM). Nought when she stands.
pub fn loll(height: f64, radius: f64) -> f64 {
    if height < 0.0 && radius > 0.0 {
        (-2.0 * height / radius).sqrt().atan()
    } else {
        0.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::GRAVITY;

    /// The box vessel of Derrett & Barrass p. 130: GM 1, BM 3, 3198 t.
    const BOX: Righting = Righting {
        stiffness: 3_198_000.0 * GRAVITY,
        form: 3.0 * 3_198_000.0 * GRAVITY,
        to: 0.6,
        crew: 0.0,
    };

    /// The same example: 278.9 t m at 5° by GM sin φ (exact 278.7); at 25° GZ = 0.5605 m, 1792 t m
    /// by the wall-sided formula.
    #[test]
    fn box_vessel_of_the_textbook() {
        let tonne_metres =
            |degrees: f64| BOX.moment(degrees.to_radians()).unwrap() / GRAVITY / 1000.0;
        let initial = Righting { form: 0.0, ..BOX };
        let small = initial.moment(5f64.to_radians()).unwrap() / GRAVITY / 1000.0;
        assert!((small / 278.9 - 1.0).abs() < 0.002);
        assert!((tonne_metres(25.0) / 1792.0 - 1.0).abs() < 0.001);
        assert_eq!(BOX.moment(0.61), None);
    }

    /// The wall-sided formula against the box itself: the centre of the heeled, trapezium-shaped
    /// section, by its corners.
    #[test]
    fn wall_sided_formula_is_that_of_the_heeled_box() {
        let (beam, draught, gravity) = (12.0, 4.0, 4.0);
        for degrees in [2.0, 10.0, 20.0, 30.0_f64] {
            let heel = degrees.to_radians();
            let tan = heel.tan();
            // Section under water, y to the lower side, z up from the keel.
            let corners = [
                (-0.5 * beam, 0.0),
                (0.5 * beam, 0.0),
                (0.5 * beam, draught + 0.5 * beam * tan),
                (-0.5 * beam, draught - 0.5 * beam * tan),
            ];
            let (mut area, mut y, mut z) = (0.0, 0.0, 0.0);
            for i in 0..4 {
                let (a, b): ((f64, f64), (f64, f64)) = (corners[i], corners[(i + 1) % 4]);
                let cross = a.0 * b.1 - b.0 * a.1;
                area += 0.5 * cross;
                y += cross * (a.0 + b.0) / 6.0;
                z += cross * (a.1 + b.1) / 6.0;
            }
            let lever = y / area * heel.cos() + (z / area - gravity) * heel.sin();
            let found = BOX.moment(heel).unwrap() / (3_198_000.0 * GRAVITY);
            assert!((found - lever).abs() < 1e-12, "{degrees}: {found} {lever}");
        }
    }

    /// 30 m² at 5 m, 3000 kg, GM 1.0 m under 47.88 Pa (1 lb/ft²): 13.99° by the angle itself; under 70 Pa
    /// by the sine 20.91° (both worked out from M = m g GM φ and m g GM sin φ).
    #[test]
    fn heel_under_a_stated_pressure() {
        let boat = Righting {
            stiffness: 3000.0 * GRAVITY,
            form: 0.0,
            to: 1.0,
            crew: 0.0,
        };
        let found = boat.heel(70.0 * 30.0 * 5.0, 0.0).unwrap().to_degrees();
        assert!((found - 20.91).abs() < 0.01, "{found}");
        let small = boat.heel(47.88 * 30.0 * 5.0, 0.0).unwrap().sin();
        assert!((small.to_degrees() - 13.99).abs() < 0.01, "{small}");
    }

    /// A GM sin φ curve that holds to 60° is greatest there: m g GM sin 60°, a factor of √3.
    #[test]
    fn factor_of_the_greatest_is_on_the_moment_at_thirty_degrees() {
        let at_sixty = BOX.stiffness * 60f64.to_radians().sin();
        assert!((BOX.greatest(3f64.sqrt()) / at_sixty - 1.0).abs() < 1e-12);
    }

    #[test]
    fn too_much_wind_has_no_heel() {
        assert_eq!(BOX.heel(1e9, 1.3), None);
        assert_eq!(BOX.heel(0.0, 1.3), Some(0.0));
        assert_eq!(BOX.heel(f64::NAN, 1.3), None);
        let crewed = Righting { crew: 1e5, ..BOX };
        assert_eq!(crewed.heel(9e4, 1.3), Some(0.0));
    }

    /// tan φ = √(2 |GM| / BM) (Derrett & Barrass p. 228): there the wall-sided curve is nought.
    #[test]
    fn at_the_angle_of_loll_nothing_rights_her() {
        let angle = loll(-0.05, 3.0);
        let boat = Righting {
            stiffness: -0.05,
            form: 3.0,
            to: 1.0,
            crew: 0.0,
        };
        assert!(angle > 0.1 && boat.moment(angle).unwrap().abs() < 1e-12);
        assert_eq!(loll(0.2, 3.0), 0.0);
    }
}
