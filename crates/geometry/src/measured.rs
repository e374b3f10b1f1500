//! The area of a sail that stands already, from its edges and diagonals by the tape.

use kurbo::{Point, Vec2};

/// What was measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Edge {
    /// Tack to head, of a sail of four sides tack to throat.
    Luff,
    /// Head or peak to clew.
    Leech,
    /// Tack to clew.
    Foot,
    /// Throat to peak.
    Head,
    /// Throat to clew.
    ThroatClew,
    /// Tack to peak.
    TackPeak,
}

/// A sail taken as plane.
#[derive(Clone, Debug, PartialEq)]
pub struct Measured {
    /// Area [m²].
    pub area: f64,
    /// Tack, throat or head, peak where there is one, clew: aft of the luff and up along it from the tack [m].
    pub corners: Vec<Point>,
    /// The tack to peak as measured over what it is in a plane sail of the other five [m]; none where it was not needed.
    pub apart: Option<f64>,
}

/// Why measures make no sail.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Unclosed {
    /// One is longer than the two it has to meet, by so much [m].
    Long(Edge, f64),
    /// A sail of four sides without a diagonal, or a number that is none.
    Missing,
}

/// Area of a triangle [m²]: Heron's formula √(s (s-a) (s-b) (s-c)), s = (a+b+c)/2, in the order of terms that keeps
/// its digits in needles (textbooks). None where the longest side is longer than the others together.
pub fn triangle(a: f64, b: f64, c: f64) -> Option<f64> {
    let (a, b) = if a < b { (b, a) } else { (a, b) };
    let (b, c) = if b < c { (c, b) } else { (b, c) };
    let (a, b) = if a < b { (b, a) } else { (a, b) };
    let square = (a + (b + c)) * (c - (a - b)) * (c + (a - b)) * (a + (b - c));
    (c >= a - b && square.is_finite()).then(|| 0.25 * square.sqrt())
}

/// The area, and the longest side where they do not close.
fn closed(sides: [(Edge, f64); 3]) -> Result<f64, Unclosed> {
    let [(_, a), (_, b), (_, c)] = sides;
    if !(a > 0.0 && b > 0.0 && c > 0.0) {
        return Err(Unclosed::Missing);
    }
    triangle(a, b, c).ok_or_else(|| {
        let mut longest = sides[0];
        for side in sides {
            if side.1 > longest.1 {
                longest = side;
            }
        }
        Unclosed::Long(longest.0, 2.0 * longest.1 - a - b - c)
    })
}

/// The third corner of a triangle over two, so far from the first and from the second, to the right of the way.
fn corner(from: Point, to: Point, first: f64, second: f64) -> Point {
    let way = to - from;
    let long = way.hypot();
    let along = way / long;
    let by = (first * first + long * long - second * second) / (2.0 * long);
    let off = (first * first - by * by).max(0.0).sqrt();
    from + along * by + Vec2::new(along.y, -along.x) * off
}

/// A sail of three sides; or of four with a head and one diagonal or both: the triangles on either side of a diagonal, with both
/// diagonals the mean of the two ways. Corners go by the throat to clew where it is there.
///
/// # Errors
/// Sides that cannot meet, and by how much.
pub fn measure(
    [luff, leech, foot]: [f64; 3],
    head: Option<f64>,
    throat_clew: Option<f64>,
    tack_peak: Option<f64>,
) -> Result<Measured, Unclosed> {
    use Edge::{Foot, Head, Leech, Luff, TackPeak, ThroatClew};
    let (tack, throat) = (Point::ORIGIN, Point::new(0.0, luff));
    let Some(head) = head else {
        return Ok(Measured {
            area: closed([(Luff, luff), (Leech, leech), (Foot, foot)])?,
            corners: vec![tack, throat, corner(tack, throat, foot, leech)],
            apart: None,
        });
    };
    let mut areas = [None; 2];
    let mut peak_clew = None;
    if let Some(peak) = tack_peak {
        let fore = closed([(Luff, luff), (Head, head), (TackPeak, peak)])?;
        areas[1] = Some(fore + closed([(TackPeak, peak), (Leech, leech), (Foot, foot)])?);
        let at = corner(tack, throat, peak, head);
        peak_clew = Some((at, corner(tack, at, foot, leech)));
    }
    if let Some(clew) = throat_clew {
        let low = closed([(Luff, luff), (Foot, foot), (ThroatClew, clew)])?;
        areas[0] = Some(low + closed([(ThroatClew, clew), (Head, head), (Leech, leech)])?);
        let at = corner(tack, throat, foot, clew);
        peak_clew = Some((corner(at, throat, leech, head), at));
    }
    let Some((peak, clew)) = peak_clew else {
        return Err(Unclosed::Missing);
    };
    let [one, other] = areas;
    let area = match (one, other) {
        (Some(one), Some(other)) => 0.5 * (one + other),
        _ => one.or(other).unwrap_or(0.0),
    };
    let apart = one
        .and(tack_peak)
        .map(|by_tape| by_tape - peak.distance(tack));
    Ok(Measured {
        area,
        corners: vec![tack, throat, peak, clew],
        apart,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Sides 13, 14, 15 have an area of 84 (textbooks on Heron's formula; check values G05).
    #[test]
    fn three_sides_by_heron() {
        let found = measure([14.0, 15.0, 13.0], None, None, None).unwrap();
        assert!((found.area - 84.0).abs() < 1e-12);
        let [tack, head, clew] = found.corners[..] else {
            panic!("three corners");
        };
        assert!((clew.distance(tack) - 13.0).abs() < 1e-12 && clew.x > 0.0);
        assert!((clew.distance(head) - 15.0).abs() < 1e-12);
    }

    /// The rectangle 3 by 4 with its diagonal 5: 12 (Euclid); a kite of two triangles 13, 14, 15 over their side of 14: 168.
    #[test]
    fn four_sides_by_either_diagonal() {
        for (clew, peak) in [(Some(5.0), None), (None, Some(5.0)), (Some(5.0), Some(5.0))] {
            let found = measure([3.0, 3.0, 4.0], Some(4.0), clew, peak).unwrap();
            assert!((found.area - 12.0).abs() < 1e-12);
            let [_, _, at, low] = found.corners[..] else {
                panic!("four corners");
            };
            assert!(at.distance(Point::new(4.0, 3.0)) < 1e-12, "{at:?}");
            assert!(low.distance(Point::new(4.0, 0.0)) < 1e-12, "{low:?}");
            assert_eq!(found.apart.is_some(), clew.is_some() && peak.is_some());
            assert!(found.apart.unwrap_or(0.0).abs() < 1e-12);
        }
        let kite = measure([13.0, 13.0, 15.0], Some(15.0), None, None);
        assert_eq!(kite, Err(Unclosed::Missing));
        let kite = measure([13.0, 13.0, 15.0], Some(15.0), Some(14.0), None).unwrap();
        assert!((kite.area - 168.0).abs() < 1e-12);
    }

    #[test]
    fn measures_that_cannot_close_name_the_longest() {
        assert_eq!(
            measure([9.0, 5.0, 3.0], None, None, None),
            Err(Unclosed::Long(Edge::Luff, 1.0))
        );
        assert_eq!(
            measure([3.0, 3.0, 4.0], Some(4.0), Some(7.5), None),
            Err(Unclosed::Long(Edge::ThroatClew, 0.5))
        );
        // The other diagonal of the rectangle read 0.2 m too long.
        let off = measure([3.0, 3.0, 4.0], Some(4.0), Some(5.0), Some(5.2)).unwrap();
        assert!((off.apart.unwrap() - 0.2).abs() < 1e-12);
        assert!(measure([f64::NAN, 1.0, 1.0], None, None, None).is_err());
        assert!(measure([0.0, 1.0, 1.0], None, None, None).is_err());
    }

    proptest! {
        /// Against the shoelace formula over corners chosen at random.
        #[test]
        fn area_of_its_corners(
            (luff, head, rise, foot, fall) in (2.0..8.0f64, 0.5..4.0f64, 0.0..3.0f64, 1.0..5.0f64, -0.5..0.8f64)
        ) {
            let [tack, throat, peak, clew] =
                [(0.0, 0.0), (0.0, luff), (head, luff + rise), (foot, fall)].map(Point::from);
            let mut twice = 0.0;
            for (p, q) in [(tack, throat), (throat, peak), (peak, clew), (clew, tack)] {
                twice -= p.to_vec2().cross(q.to_vec2());
            }
            let sides = [luff, peak.distance(clew), foot.hypot(fall)];
            let found = measure(
                sides,
                Some(throat.distance(peak)),
                Some(throat.distance(clew)),
                Some(tack.distance(peak)),
            );
            // A sail that is hollow at a corner has not both diagonals inside.
            let turns = [(tack, throat, peak), (throat, peak, clew), (peak, clew, tack), (clew, tack, throat)];
            if turns.iter().all(|(p, q, r)| (*q - *p).cross(*r - *q) < 0.0) {
                let found = found.unwrap();
                prop_assert!((found.area - 0.5 * twice).abs() < 1e-6);
                prop_assert!(found.apart.unwrap().abs() < 1e-5);
                prop_assert!(found.corners[2].distance(peak) < 1e-5);
            }
        }

        #[test]
        fn any_numbers_give_an_area_or_a_reason(
            sides in prop::array::uniform3(-1.0..1e4f64),
            more in prop::array::uniform3(prop::option::of(-1.0..1e4f64)),
        ) {
            if let Ok(found) = measure(sides, more[0], more[1], more[2]) {
                prop_assert!(found.area >= 0.0);
                prop_assert!(found.corners.iter().all(|p| p.x.is_finite() && p.y.is_finite()));
            }
        }
    }
}
