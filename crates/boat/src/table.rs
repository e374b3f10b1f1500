//! A table of righting levers, run through smoothly.

use crate::Fault;
use core::f64::consts::PI;

/// Most rows a table or points an outline may have.
pub(crate) const MOST: usize = 400;

/// One row: heel [rad], GZ [m] and the slope of the curve there [m/rad].
#[derive(Clone, Copy, Debug, Default, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub(crate) struct Node {
    heel: f64,
    lever: f64,
    slope: f64,
}

/// Rows of a table with their slopes, so that the curve never swings past what is typed (monotone
/// between rows: F. N. Fritsch, R. E. Carlson; slopes by the harmonic mean of Fritsch and Butland). Upright the
/// slope is that of the odd cubic through the first two rows, since she is the same on both sides:
/// GZ = aφ + bφ³. A table that starts above 0 is begun at (0, 0).
pub(crate) fn nodes(rows: &[(f64, f64)]) -> Result<Vec<Node>, Fault> {
    if rows.len() < 2 {
        return Err(Fault::NoTable);
    }
    let mut nodes: Vec<Node> = Vec::new();
    for &(heel, lever) in rows {
        let mut slope = 0.0;
        if nodes.is_empty() && heel > 0.0 {
            nodes.push(Node::default());
        }
        if let Some(last) = nodes.last_mut() {
            let rise = (lever - last.lever) / (heel - last.heel);
            // What is no number is no step.
            if !(1e-6..PI).contains(&(heel - last.heel)) {
                return Err(Fault::Table);
            }
            // So far the last one goes on as it came.
            last.slope = if last.slope * rise > 0.0 {
                2.0 * last.slope * rise / (last.slope + rise)
            } else {
                0.0
            };
            slope = rise;
        }
        if !((0.0..=PI).contains(&heel) && lever.abs() < 1e9) || nodes.len() > MOST {
            return Err(Fault::Table);
        }
        nodes.push(Node { heel, lever, slope });
    }
    if let [first, a, b, ..] = nodes.as_mut_slice() {
        let (p, q) = (a.heel * a.heel, b.heel * b.heel);
        let start = (a.lever - first.lever) / a.heel;
        let slope = (start * q - (b.lever - first.lever) / b.heel * p) / (q - p);
        let steep = slope / start;
        first.slope = if steep > 3.0 {
            3.0 * start
        } else if steep > 0.0 {
            slope
        } else {
            0.0
        };
    } else if let [first, last] = nodes.as_mut_slice() {
        first.slope = last.slope;
    }
    Ok(nodes)
}

/// GZ at a heel [m]; nought beyond the table.
pub(crate) fn lever(nodes: &[Node], heel: f64) -> f64 {
    for pair in nodes.windows(2) {
        let [a, b] = pair else { break };
        if heel <= b.heel {
            let long = b.heel - a.heel;
            let t = (heel - a.heel) / long;
            let (s, square) = (1.0 - t, t * t);
            // Cubic through both rows with their slopes.
            return s * s * ((1.0 + 2.0 * t) * a.lever + t * long * a.slope)
                + square * ((1.0 + 2.0 * s) * b.lever - s * long * b.slope);
        }
    }
    0.0
}

/// GM [m] and last heel [rad] of a table.
pub(crate) fn ends(nodes: &[Node]) -> (f64, f64) {
    (
        nodes.first().map_or(0.0, |n| n.slope),
        nodes.last().map_or(0.0, |n| n.heel),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn table(gz: impl Fn(f64) -> f64, step: usize, to: usize) -> Vec<Node> {
        let rows: Vec<(f64, f64)> = (0..=to / step)
            .map(|i| ((i * step) as f64).to_radians())
            .map(|heel| (heel, gz(heel)))
            .collect();
        nodes(&rows).unwrap()
    }

    /// GZ = sin φ in steps of ten degrees: GM is 1 m to 3e-5, and between the rows it stays within
    /// half a per cent of the greatest.
    #[test]
    fn a_sine_in_ten_degree_steps() {
        let nodes = table(f64::sin, 10, 90);
        assert!((ends(&nodes).0 - 1.0).abs() < 1e-4, "{:?}", ends(&nodes));
        for i in 0..=900 {
            let heel = (0.1 * f64::from(i)).to_radians();
            assert!((lever(&nodes, heel) - heel.sin()).abs() < 0.005, "{i}");
        }
        assert_eq!(lever(&nodes, 2.0), 0.0);
    }

    #[test]
    fn what_is_no_table() {
        assert_eq!(nodes(&[]), Err(Fault::NoTable));
        assert_eq!(nodes(&[(0.1, 0.1)]), Err(Fault::NoTable));
        for bad in [-0.1, 0.1, 0.05, 4.0, f64::NAN, f64::INFINITY] {
            assert_eq!(nodes(&[(0.1, 0.1), (bad, 0.2)]), Err(Fault::Table), "{bad}");
        }
        assert_eq!(nodes(&[(0.1, f64::NAN), (0.2, 0.2)]), Err(Fault::Table));
        assert_eq!(nodes(&[(-0.1, 0.0), (0.2, 0.2)]), Err(Fault::Table));
        // Begun at (0, 0) of itself.
        let begun = nodes(&[(0.1, 0.1), (0.2, 0.18)]);
        assert_eq!(begun, nodes(&[(0.0, 0.0), (0.1, 0.1), (0.2, 0.18)]));
    }

    proptest! {
        /// Through every row, and between two rows never past either.
        #[test]
        fn monotone_between_rows(rows in prop::collection::vec((0.02..0.3, -1.0..1.0), 2..12), t in 0.0..1.0) {
            let mut heel = 0.0;
            let rows: Vec<(f64, f64)> = rows
                .into_iter()
                .map(|(step, gz)| {
                    heel += step;
                    (heel, gz)
                })
                .filter(|(heel, _)| *heel <= PI)
                .collect();
            prop_assume!(rows.len() > 1);
            let nodes = nodes(&rows).unwrap();
            for pair in nodes.windows(2) {
                let [a, b] = pair else { continue };
                let found = lever(&nodes, a.heel + t * (b.heel - a.heel));
                let (low, high) = (a.lever.min(b.lever), a.lever.max(b.lever));
                prop_assert!(found > low - 1e-9 && found < high + 1e-9, "{found} {pair:?}");
                prop_assert!((lever(&nodes, b.heel) - b.lever).abs() < 1e-12);
            }
        }
    }
}
