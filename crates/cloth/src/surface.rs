//! The finished cloth in space.

use geometry::mast::Side;

use crate::Input;
use crate::mean_line::STEPS;
use crate::part::{Of, Part, halved};
use crate::space::At;

/// A part of a panel as a net of points.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Surface {
    /// Which part.
    pub of: Of,
    /// Points of a row; a row runs from luff to leech.
    pub columns: usize,
    /// Row by row, lower spar first; w to starboard.
    pub points: Vec<At>,
}

impl Input {
    /// The cloth of a panel (1 = lowest) in space, with this side to leeward: each part a net of `columns` + 1 by
    /// `rows` + 1 points, columns being 4, 8, 16, 32 or 64, rows 1 to 64. As cut, before any mast presses it in. None for a
    /// panel that is not there or cannot be cut.
    ///
    /// Flat, wing and bows: straight from spar to spar at equal shares of the chord. Barrel: an arc in the plane of that line and
    /// the sail's normal. Shelf: straight between the edges of the shelves, and straight from there to the spars.
    pub fn surface(&self, panel: usize, lee: Side, columns: usize, rows: usize) -> Vec<Surface> {
        let mut surfaces = Vec::new();
        let fits = [4, 8, 16, 32, STEPS].contains(&columns) && (1..=64).contains(&rows);
        if !fits || !self.faults().is_empty() || self.panel_fault(panel).is_some() {
            return surfaces;
        }
        for part in self.parts(panel) {
            let side = match (part.of, lee) {
                (Of::PortSkin, _) => -1.0,
                (Of::StarboardSkin, _) | (_, Side::Starboard) => 1.0,
                (_, Side::Port) => -1.0,
            };
            let mut points = Vec::new();
            for row in 0..=rows {
                let share = row as f64 / rows as f64;
                for column in 0..=columns {
                    let mut at = part.rounded(column * STEPS / columns, share);
                    at.w *= side;
                    points.push(at);
                }
            }
            surfaces.push(Surface {
                of: part.of,
                columns,
                points,
            });
        }
        surfaces
    }
}

impl Part<'_> {
    /// A point of the cloth at a station, the outermost on the rounded edge: r L 4 η (1 - η) outward in the sail's plane.
    pub(crate) fn rounded(&self, station: usize, share: f64) -> At {
        let (half, s) = halved(station);
        let at = self.point(half, s, share);
        let round = match station {
            0 => self.round[0],
            STEPS => -self.round[1],
            _ => return at,
        };
        let edge = self.up.foot(half, s) - self.low.foot(half, s);
        let by = 4.0 * round * share * (1.0 - share);
        At {
            u: at.u - by * edge.y,
            v: at.v + by * edge.x,
            w: at.w,
        }
    }
}
