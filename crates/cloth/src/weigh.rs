//! What each panel weighs made up, without its patterns: quick enough to follow a hand that drags.

use kurbo::Point;

use crate::mean_line::STEPS;
use crate::part::{How, Out, Part, Seam, halved};
use crate::patch;
use crate::space::At;
use crate::{Barrel, Construction, Fault, Input, Pockets};

/// A sail weighed, and what was seen on the way.
#[derive(Clone, Debug, Default, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Weighed {
    /// Cloth of each panel with its allowances, patches, webbing and the pocket of the batten under it, lowest first [kg]; as if flat where it
    /// cannot be cut as asked, as drawn without any allowance where the whole sail cannot.
    pub panels: Vec<f64>,
    /// Width of the widest piece that has no seams [m], to a few per cent above: the least roll.
    pub roll: f64,
    /// Share of the room for its camber that each panel takes: 1 is a barrel of a half circle, or shelves that meet.
    pub fills: Vec<f64>,
    /// What cannot be used.
    pub faults: Vec<Fault>,
}

/// Stations weighed from luff to leech, either half of them an even number.
const COARSE: usize = 16;

/// Flat cloth of a part: its area [m²] and the lengths of its lower, after, upper and fore edge [m].
#[derive(Default)]
struct Spread {
    area: f64,
    edges: [f64; 4],
    /// Both shelves [m²].
    shelves: f64,
    /// Width of the lower and the upper shelf at fore and after end, and at the widest [m].
    off: [[f64; 3]; 2],
}

impl Input {
    /// Weighs the cloth of each panel; within 2.5 % of the bill of its patterns, the whole sail within 1 %.
    ///
    /// Area of the cloth as it stands (strips between stations; barrels by the series of their arcs), edges by their allowances, squares of them at
    /// the corners.
    pub fn weigh(&self) -> Weighed {
        let mut all = Weighed {
            faults: self.faults(),
            roll: 2.0 * self.sewing.seam,
            ..Weighed::default()
        };
        if !all.faults.is_empty() {
            for panel in 1..=self.panels() {
                let drawn = self.panel(panel).map(|drawn| quad(drawn.corners()));
                let kilos = drawn.unwrap_or(0.0) * self.cloth.mass;
                let known = kilos.is_finite() && kilos > 0.0;
                all.panels.push(if known { kilos } else { 0.0 });
            }
            return all;
        }
        for panel in 1..=self.panels() {
            let mut parts = self.parts(panel);
            let (fault, fills) = self.judged(panel, &parts);
            if fault.is_some() {
                parts = self.parts_of(panel, &Construction::Flat);
            }
            let kilos = self.panel_mass(panel, &parts, &mut all.roll);
            all.fills.push(fills);
            all.panels.push(kilos.max(0.0));
            all.faults.extend(fault);
        }
        all
    }

    fn panel_mass(&self, panel: usize, parts: &[Part], roll: &mut f64) -> f64 {
        let sewing = &self.sewing;
        let (mut cut, mut webbing) = (0.0, 0.0);
        // Of a wing's sticks; else it is one as long as the spar.
        let mut sticks = [0.0; 3];
        for (part, stick) in parts.iter().zip(&mut sticks) {
            let spread = spread(part);
            *stick = spread.edges[0];
            let spars = [Seam::Spar(panel - 1), Seam::Spar(panel)];
            let shelf = matches!(part.how, How::Shelf(_));
            let rims = if shelf { [Seam::Shelf; 2] } else { spars };
            let seams = [rims[0], part.after, rims[1], part.fore];
            let mut allowances = [0.0; 4];
            for (i, seam) in seams.iter().enumerate() {
                allowances[i] = self.allowance(*seam, i == 0);
                cut += allowances[i] * spread.edges[i];
                if matches!(seam, Seam::Luff | Seam::Leech | Seam::Slot) {
                    webbing += spread.edges[i];
                }
            }
            for i in 0..4 {
                cut += allowances[i] * allowances[(i + 1) % 4];
            }
            cut += spread.area;
            if shelf {
                cut += spread.shelves;
                for (i, (seam, [fore, after, width])) in
                    spars.into_iter().zip(spread.off).enumerate()
                {
                    let beyond = self.allowance(seam, i == 0) + sewing.seam;
                    cut += beyond * spread.edges[2 * i];
                    for (off, edge) in [(fore, allowances[3]), (after, allowances[1])] {
                        // A tip is cut blunt, an allowance beyond.
                        cut += if off > 0.001 {
                            (beyond + off) * edge
                        } else {
                            0.5 * beyond * beyond
                        };
                    }
                    *roll = roll.max(width + beyond);
                }
            }
        }
        let below = panel - 1;
        if sewing.pockets == Pockets::Strips && self.pocketed(below) {
            let wing = matches!(self.construction, Construction::Wing(_)) && parts.len() == 3;
            if !wing {
                sticks = [self.spars.get(below).map_or(0.0, |s| s.length), 0.0, 0.0];
            }
            for stick in sticks {
                if stick > 0.0 {
                    let (length, width) = self.pocket(below, stick);
                    cut += length * width;
                    *roll = roll.max(width);
                }
            }
        }
        for corner in patch::corners(self, panel).into_iter().flatten() {
            let (size, angle) = (corner.size, corner.angle);
            // Four rays to a fan; layers smaller by equal steps.
            let turn = 0.25 * angle;
            let fan = 2.0 * size * size * turn * (1.0 - turn * turn / 6.0);
            let n = corner.layers as f64;
            let rim = size * (2.0 + angle);
            cut += fan * (n + 1.0) * (2.0 * n + 1.0) / (6.0 * n);
            cut += sewing.seam * (0.5 * rim * (n + 1.0) + 4.0 * n * sewing.seam);
            // Its mitred corner reaches somewhat beyond its seam.
            *roll = roll.max(corner.high + 2.5 * sewing.seam);
        }
        cut * self.cloth.mass + webbing * sewing.webbing
    }
}

/// Area of a quadrilateral, counter-clockwise positive.
fn quad([a, b, c, d]: [Point; 4]) -> f64 {
    0.5 * (c - a).cross(d - b)
}

fn spread(part: &Part) -> Spread {
    let (low, up) = (&part.low, &part.up);
    let mut cloth = Spread {
        area: quad([low.from, low.to, up.to, up.from]),
        edges: [
            low.chord(),
            low.to.distance(up.to),
            up.chord(),
            low.from.distance(up.from),
        ],
        ..Spread::default()
    };
    match part.how {
        How::Barrel(form, length) => {
            let chord = part.mean_chord();
            let mean = (low.along() + up.along()).normalize();
            let (mut over, mut extra) = (0.0, 0.0);
            for k in 0..=COARSE {
                let (half, s) = halved(k * STEPS / COARSE);
                // Simpson's rule over either half.
                let reach = if k < COARSE / 2 {
                    form.place
                } else {
                    1.0 - form.place
                };
                let step = reach / (1.5 * COARSE as f64);
                let mut weight = step * [2.0, 4.0][k & 1];
                if k == 0 || k == COARSE {
                    weight = step;
                } else if k == COARSE / 2 {
                    weight = 1.0 / (1.5 * COARSE as f64);
                }
                let way = up.foot(half, s) - low.foot(half, s);
                // What an arc of small rise has over its width, square to the chord: 8/3 s²/h - 32/15 s⁴/h³.
                let height = mean.cross(way).max(1e-3);
                let (y, slope) = form.at(form.station(k * STEPS / COARSE));
                let sagitta = chord * y;
                let q = (sagitta / height) * (sagitta / height);
                let rise = height * q * (8.0 - 6.4 * q) / 3.0;
                over += weight * rise;
                extra += weight * 0.5 * slope * slope;
                if k == COARSE {
                    cloth.edges[1] += rise;
                }
            }
            cloth.area += chord * over;
            if length == Barrel::Added {
                // It bulges at either end by half of what the profile has over the chord, as a fourth power.
                let ends = cloth.edges[1] + cloth.edges[3];
                cloth.area += 0.5 * chord * extra * ends * 8.0 / 15.0;
            }
        }
        How::Ruled if !matches!((low.out, up.out), (Out::Straight(_), Out::Straight(_))) => {
            cloth.strips(part);
        }
        How::Shelf(_) => cloth.strips(part),
        How::Ruled => {}
    }
    for (edge, round) in [(1, part.round[1]), (3, part.round[0])] {
        cloth.area += 2.0 / 3.0 * round * cloth.edges[edge] * cloth.edges[edge];
    }
    cloth
}

impl Spread {
    /// Adds up straight cloth strip by strip, and the shelves either side of it.
    fn strips(&mut self, part: &Part) {
        let mut before: Option<[At; 2]> = None;
        let mut off_before = [0.0; 2];
        (self.area, self.edges[0], self.edges[2]) = (0.0, 0.0, 0.0);
        let shelf = matches!(part.how, How::Shelf(_));
        for k in 0..=COARSE {
            let (half, s) = halved(k * STEPS / COARSE);
            let (low, up) = (part.low.at(half, s).0, part.up.at(half, s).0);
            let mut ends = [low, up];
            let mut off = [0.0; 2];
            if shelf {
                let (from, to) = part.shelf_ends(half, s);
                ends = [low.lerp(up, from), low.lerp(up, to)];
                for (i, rail) in [&part.low, &part.up].into_iter().enumerate() {
                    let way = ends[i].flat() - rail.from;
                    off[i] = way.cross(rail.along()).hypot(ends[i].w);
                    if k == 0 {
                        self.off[i][0] = off[i];
                    }
                    self.off[i][1] = off[i];
                    self.off[i][2] = self.off[i][2].max(off[i]);
                }
            }
            if let Some([a, d]) = before {
                let [b, c] = ends;
                let (across, back) = (c.plus(a, -1.0), d.plus(b, -1.0));
                self.area += 0.5 * across.cross(back).length();
                self.edges[0] += b.plus(a, -1.0).length();
                self.edges[2] += c.plus(d, -1.0).length();
                for i in 0..2 {
                    let rail = [&part.low, &part.up][i];
                    let step = (ends[i].flat() - [a, d][i].flat()).dot(rail.along());
                    self.shelves += 0.5 * (off[i] + off_before[i]) * step;
                }
            }
            (before, off_before) = (Some(ends), off);
        }
    }
}
