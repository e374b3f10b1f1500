//! Stability estimated from the form of the canoe body.

/// The canoe body and its coefficients.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Form {
    /// Length of the waterline L [m].
    pub length: f64,
    /// Beam of the waterline B [m].
    pub beam: f64,
    /// Draught of the canoe body d, keel left out [m].
    pub draught: f64,
    /// Displacement [kg].
    pub displacement: f64,
    /// Density of the water [kg/m³].
    pub water: f64,
    /// Waterplane area over L B.
    pub waterplane: f64,
    /// Transverse second moment of the waterplane over L B³.
    pub inertia: f64,
    /// Centre of gravity above the underside of the canoe body [m].
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

impl Form {
    /// Displaced volume V [m³].
    pub fn volume(&self) -> f64 {
        self.displacement / self.water
    }

    /// KB = 5d/6 - V/(3 A_w) (Morrish; exact for a box and for a wedge), BM = I/V, GM = KB + BM - KG.
    /// `None` without a body to reckon with.
    pub fn metacentre(&self) -> Option<Metacentre> {
        let volume = self.volume();
        let waterplane = self.waterplane * self.length * self.beam;
        let buoyancy = 5.0 * self.draught / 6.0 - volume / (3.0 * waterplane);
        let radius = self.inertia * self.length * self.beam * self.beam * self.beam / volume;
        let height = buoyancy + radius - self.gravity;
        let real = self.length > 0.0 && self.beam > 0.0 && self.draught > 0.0 && volume > 0.0;
        (real && height.is_finite()).then_some(Metacentre {
            buoyancy,
            radius,
            height,
        })
    }

    /// Angle up to which her sides may count as upright walls [rad]: the deck edge comes to the water or
    /// the bilge out of it, tan φ = 2 f / B or 2 d / B.
    pub fn wall_sided_to(&self, freeboard: f64) -> f64 {
        let least = if freeboard < self.draught {
            freeboard
        } else {
            self.draught
        };
        let slope = 2.0 * least / self.beam;
        if slope > 0.0 { slope.atan() } else { 0.0 }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn box_vessel() -> Form {
        Form {
            length: 65.0,
            beam: 12.0,
            draught: 4.0,
            displacement: 65.0 * 12.0 * 4.0 * 1025.0,
            water: 1025.0,
            waterplane: 1.0,
            inertia: 1.0 / 12.0,
            gravity: 4.0,
        }
    }

    /// Derrett & Barrass, Ship Stability for Masters and Mates, p. 130, example 2: box 65 x 12 x 8 m,
    /// draught 4, KG 4, salt water: 3198 t, KB 2, BM 3, GM 1 m.
    #[test]
    fn box_vessel_of_the_textbook() {
        let form = box_vessel();
        let found = form.metacentre().unwrap();
        assert!((form.displacement / 1000.0 - 3198.0).abs() < 1e-9);
        assert!((found.buoyancy - 2.0).abs() < 1e-12);
        assert!((found.radius - 3.0).abs() < 1e-12);
        assert!((found.height - 1.0).abs() < 1e-12);
    }

    /// The same book, p. 101: the formula is exact for a wedge too, KB = 2d/3; p. 111: BM = b²/(6d).
    #[test]
    fn wedge_of_the_textbook() {
        let wedge = Form {
            displacement: 0.5 * box_vessel().displacement,
            ..box_vessel()
        };
        let found = wedge.metacentre().unwrap();
        assert!((found.buoyancy - 2.0 * 4.0 / 3.0).abs() < 1e-12);
        assert!((found.radius - 12.0 * 12.0 / (6.0 * 4.0)).abs() < 1e-12);
    }

    /// Block 0.5, waterplane 0.7: KB = 0.5952 d (worked out from the formula).
    #[test]
    fn morrish_between_box_and_wedge() {
        let form = Form {
            displacement: 0.5 * box_vessel().displacement,
            waterplane: 0.7,
            ..box_vessel()
        };
        assert!((form.metacentre().unwrap().buoyancy / 4.0 - 0.5952).abs() < 5e-5);
    }

    #[test]
    fn no_body_has_no_metacentre() {
        for (displacement, beam) in [(0.0, 12.0), (1.0, 0.0), (f64::NAN, 12.0), (-1.0, 12.0)] {
            let form = Form {
                displacement,
                beam,
                ..box_vessel()
            };
            assert_eq!(form.metacentre(), None);
        }
    }

    #[test]
    fn walls_end_where_deck_or_bilge_meets_the_water() {
        let form = box_vessel();
        assert!((form.wall_sided_to(3.0).tan() - 0.5).abs() < 1e-12);
        assert!((form.wall_sided_to(9.0).tan() - 4.0 / 6.0).abs() < 1e-12);
        assert_eq!(form.wall_sided_to(-1.0), 0.0);
    }
}
