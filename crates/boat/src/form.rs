//! Stability estimated from the form of the canoe body.

/// The hull in numbers: her waterplane and canoe body with their coefficients.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Hull {
    /// Length of the waterline L [m].
    pub length: f64,
    /// Beam of the waterline B [m].
    pub beam: f64,
    /// Draught of the canoe body d, keel left out, sailing [m].
    pub canoe_draught: f64,
    /// Draught with the keel, sailing [m].
    pub draught: f64,
    /// Freeboard amidships, sailing [m].
    pub freeboard: f64,
    /// Density of the water [kg/m³].
    pub water: f64,
    /// Waterplane area over L B.
    pub waterplane: f64,
    /// Transverse second moment of the waterplane over L B³.
    pub inertia: f64,
    /// Centre of gravity above the underside of the canoe body as a share of canoe draught and freeboard.
    pub gravity: f64,
}

/// Heights above the underside of the canoe body [m].
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Metacentre {
    /// Centre of buoyancy, KB.
    pub buoyancy: f64,
    /// Metacentric radius, BM.
    pub radius: f64,
    /// Metacentric height, GM; negative when she would not stand upright.
    pub height: f64,
}

impl Hull {
    /// Whether there is a body to reckon with.
    pub fn is_real(&self) -> bool {
        // Beyond these no product of them is a number.
        let real = |n: f64| n > 1e-9 && n < 1e9;
        real(self.length)
            && real(self.beam)
            && real(self.canoe_draught)
            && real(self.water)
            && real(self.waterplane)
            && real(self.inertia)
            && (self.draught + self.freeboard + self.gravity).abs() < 1e9
    }

    /// Area of the waterplane A_w [m²].
    pub fn waterplane_area(&self) -> f64 {
        self.waterplane * self.length * self.beam
    }

    /// Transverse second moment of the waterplane I [m⁴].
    pub fn second_moment(&self) -> f64 {
        self.inertia * self.length * self.beam * self.beam * self.beam
    }

    /// Longitudinal second moment of the waterplane about its middle [m⁴]: L³ B/12 · C/(3 - 2C) with
    /// C = A_w/(L B). Derived for half breadths ½B (1 - |2x/L|^p), p = C/(1 - C): exact for rectangle,
    /// parabola and rhombus, an approximation for a boat's waterplane.
    pub fn longitudinal_moment(&self) -> f64 {
        let l = self.length;
        l * l * l * self.beam / 12.0 * self.waterplane / (3.0 - 2.0 * self.waterplane)
    }

    /// For a displacement [kg]: KB = 5d/6 - V/(3 A_w) (Morrish; exact for a box and for a wedge),
    /// BM = I/V, GM = KB + BM - KG.
    pub fn metacentre(&self, displacement: f64) -> Metacentre {
        let volume = displacement / self.water;
        let buoyancy = 5.0 * self.canoe_draught / 6.0 - volume / (3.0 * self.waterplane_area());
        let radius = self.second_moment() / volume;
        let gravity = self.gravity * (self.canoe_draught + self.freeboard);
        Metacentre {
            buoyancy,
            radius,
            height: buoyancy + radius - gravity,
        }
    }

    /// Angle up to which her sides may count as upright walls [rad], floating deeper by `sinkage` [m]:
    /// the deck edge comes to the water or the bilge out of it, tan φ = 2 f/B or 2 d/B.
    pub fn wall_sided_to(&self, sinkage: f64) -> f64 {
        let (freeboard, draught) = (self.freeboard - sinkage, self.canoe_draught + sinkage);
        let least = if freeboard < draught {
            freeboard
        } else {
            draught
        };
        let slope = 2.0 * least / self.beam;
        if slope > 0.0 { slope.atan() } else { 0.0 }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Derrett & Barrass, Ship Stability for Masters and Mates, p. 130, example 2: box 65 x 12 x 8 m,
    /// draught 4, KG 4.
    pub(crate) const BOX: Hull = Hull {
        length: 65.0,
        beam: 12.0,
        canoe_draught: 4.0,
        draught: 4.0,
        freeboard: 4.0,
        water: 1025.0,
        waterplane: 1.0,
        inertia: 1.0 / 12.0,
        gravity: 0.5,
    };
    const DISPLACEMENT: f64 = 65.0 * 12.0 * 4.0 * 1025.0;

    /// The same example, salt water: 3198 t, KB 2, BM 3, GM 1 m.
    #[test]
    fn box_vessel_of_the_textbook() {
        let found = BOX.metacentre(DISPLACEMENT);
        assert!((DISPLACEMENT / 1000.0 - 3198.0).abs() < 1e-9);
        assert!((found.buoyancy - 2.0).abs() < 1e-12);
        assert!((found.radius - 3.0).abs() < 1e-12);
        assert!((found.height - 1.0).abs() < 1e-12);
    }

    /// The same book, p. 101: the formula is exact for a wedge too, KB = 2d/3; p. 111: BM = b²/(6d).
    #[test]
    fn wedge_of_the_textbook() {
        let found = BOX.metacentre(0.5 * DISPLACEMENT);
        assert!((found.buoyancy - 2.0 * 4.0 / 3.0).abs() < 1e-12);
        assert!((found.radius - 12.0 * 12.0 / (6.0 * 4.0)).abs() < 1e-12);
    }

    /// Block 0.5, waterplane 0.7: KB = 0.5952 d (worked out from the formula).
    #[test]
    fn morrish_between_box_and_wedge() {
        let hull = Hull {
            waterplane: 0.7,
            ..BOX
        };
        assert!((hull.metacentre(0.5 * DISPLACEMENT).buoyancy / 4.0 - 0.5952).abs() < 5e-5);
    }

    /// The same book, p. 111: a box of 10 m beam has its least KM at d = B/√6 = 4.08 m, where it is as
    /// much; at 3.5 m BM is 2.38 m.
    #[test]
    fn least_height_of_the_metacentre_of_a_box() {
        let at = |draught: f64| {
            let hull = Hull {
                beam: 10.0,
                canoe_draught: draught,
                ..BOX
            };
            let found = hull.metacentre(1025.0 * 65.0 * 10.0 * draught);
            (found.radius, found.buoyancy + found.radius)
        };
        let d = 10.0 / 6f64.sqrt();
        assert!((d - 4.08).abs() < 0.005 && (at(d).1 - 4.08).abs() < 0.005);
        assert!(at(d - 0.1).1 > at(d).1 && at(d + 0.1).1 > at(d).1);
        assert!((at(3.5).0 - 2.38).abs() < 0.005);
    }

    /// Second moments about the middle: rectangle L³B/12, parabola L³B/30, rhombus L³B/48 (any table of
    /// section properties).
    #[test]
    fn longitudinal_moment_of_plain_figures() {
        for (waterplane, share) in [(1.0, 12.0), (2.0 / 3.0, 30.0), (0.5, 48.0)] {
            let found = Hull { waterplane, ..BOX }.longitudinal_moment();
            assert!((found * share / (65.0f64.powi(3) * 12.0) - 1.0).abs() < 1e-12);
        }
    }

    #[test]
    fn no_body_is_not_real() {
        assert!(BOX.is_real());
        for beam in [0.0, -1.0, f64::NAN, f64::INFINITY] {
            assert!(!Hull { beam, ..BOX }.is_real());
        }
        let gravity = f64::NAN;
        assert!(!Hull { gravity, ..BOX }.is_real());
    }

    #[test]
    fn walls_end_where_deck_or_bilge_meets_the_water() {
        assert!((BOX.wall_sided_to(1.0).tan() - 0.5).abs() < 1e-12);
        assert!((BOX.wall_sided_to(-1.0).tan() - 0.5).abs() < 1e-12);
        assert_eq!(BOX.wall_sided_to(5.0), 0.0);
    }
}
