//! The Beaufort scale in the limits of the World Meteorological Organization.

/// One number of the scale: mean wind over ten minutes at 10 m.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Force {
    /// Number, 0 to 12.
    pub number: u8,
    /// Least and greatest whole knots; no greatest for 12.
    pub knots: (u32, Option<u32>),
    /// Least and greatest speed in tenths of a metre a second, as printed; no greatest for 12.
    pub tenths: (u32, Option<u32>),
}

const fn force(number: u8, knots: (u32, u32), tenths: (u32, u32)) -> Force {
    Force {
        number,
        knots: (knots.0, Some(knots.1)),
        tenths: (tenths.0, Some(tenths.1)),
    }
}

/// The whole scale, calm to hurricane (WMO limits, as printed by weather services).
pub const SCALE: [Force; 13] = [
    force(0, (0, 0), (0, 2)),
    force(1, (1, 3), (3, 15)),
    force(2, (4, 6), (16, 33)),
    force(3, (7, 10), (34, 54)),
    force(4, (11, 16), (55, 79)),
    force(5, (17, 21), (80, 107)),
    force(6, (22, 27), (108, 138)),
    force(7, (28, 33), (139, 171)),
    force(8, (34, 40), (172, 207)),
    force(9, (41, 47), (208, 244)),
    force(10, (48, 55), (245, 284)),
    force(11, (56, 63), (285, 326)),
    Force {
        number: 12,
        knots: (64, None),
        tenths: (327, None),
    },
];

/// The number of a wind [m/s at 10 m], by the speeds in metres a second rounded to tenths. What is
/// no number, and what is below nought, counts as calm.
pub fn number(speed: f64) -> u8 {
    let tenths = (10.0 * speed).round();
    let mut found = 0;
    for force in &SCALE {
        if tenths >= f64::from(force.tenths.0) {
            found = force.number;
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::KNOT;

    #[test]
    fn the_scale_is_complete_and_has_no_gaps() {
        for (i, pair) in SCALE.windows(2).enumerate() {
            let [below, above] = pair else { continue };
            assert_eq!(usize::from(below.number), i);
            assert_eq!(below.knots.1.unwrap() + 1, above.knots.0);
            assert_eq!(below.tenths.1.unwrap() + 1, above.tenths.0);
        }
        assert_eq!(SCALE[12].number, 12);
    }

    #[test]
    fn every_printed_limit_has_its_number() {
        for force in &SCALE {
            assert_eq!(number(0.1 * f64::from(force.tenths.0)), force.number);
            if let Some(most) = force.tenths.1 {
                assert_eq!(number(0.1 * f64::from(most)), force.number);
            }
        }
        assert_eq!(number(f64::NAN), 0);
        assert_eq!(number(-3.0), 0);
        assert_eq!(number(f64::INFINITY), 12);
    }

    /// The relation behind the scale, v = 0.836 B^1.5 m/s, gives the upper limits at half numbers
    /// within 0.11 m/s.
    #[test]
    fn limits_follow_the_relation_of_the_scale() {
        for force in &SCALE[..12] {
            let upper = 0.836 * (f64::from(force.number) + 0.5).powf(1.5);
            let printed = 0.1 * (f64::from(force.tenths.1.unwrap()) + 0.5);
            assert!((upper - printed).abs() < 0.11, "{force:?}: {upper}");
        }
    }

    /// The two printed columns are one scale: whole knots in the middle of a number have it.
    #[test]
    fn knots_and_metres_agree() {
        for force in &SCALE[1..12] {
            let middle = 0.5 * f64::from(force.knots.0 + force.knots.1.unwrap());
            assert_eq!(number(middle * KNOT), force.number);
        }
    }
}
