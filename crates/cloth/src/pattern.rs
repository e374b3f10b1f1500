//! Patterns: every piece of cloth flat on the floor.

use kurbo::{Point, Vec2};

use crate::develop::{rolled_out, ruled_strain};
use crate::findings::{self, Finding};
use crate::mean_line::STEPS;
use crate::outline::cut_line;
use crate::part::{How, Of, Part, Seam, halved};
use crate::patch::{self, Patch};
use crate::shape::{barrel_arc, barrel_point};
use crate::space::{At, curve_length};
use crate::{Barrel, Fault, Input, Pockets};

/// Steps of a luff, leech or other edge from spar to spar.
const RISE: usize = 16;

/// Columns and rows of a strain map.
pub const STRAIN_COLUMNS: usize = 16;
/// Rows of a strain map, lower edge to upper edge.
pub const STRAIN_ROWS: usize = 5;

/// All pieces of a sail, and what is to be said about them.
#[derive(Clone, Debug, Default, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Patterns {
    /// Panel by panel from the foot.
    pub pieces: Vec<Piece>,
    /// Corner patches.
    pub patches: Vec<Patch>,
    /// Results worth a look.
    pub findings: Vec<Finding>,
    /// Inputs that cannot be used; a panel with one has no pieces.
    pub faults: Vec<Fault>,
}

/// What a piece is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub enum Role {
    /// A part of the panel in one.
    Cloth,
    /// A part less its shelves.
    Body,
    /// Shelf on the lower spar.
    ShelfBelow,
    /// Shelf under the upper spar.
    ShelfAbove,
}

/// A flat piece of cloth. x runs along the straight line between the ends of its lower edge, fore end at the origin; y to its left [m].
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Piece {
    /// Panel, 1 = lowest.
    pub panel: usize,
    /// Part of the panel.
    pub of: Of,
    /// What of the part.
    pub role: Role,
    /// Lower, after, upper, fore edge: counter-clockwise. A shelf that runs out to nothing has fore and after edges of no length.
    pub edges: [Edge; 4],
    /// Outline to cut, allowances included.
    pub cut: Vec<Point>,
    /// Lower and upper edge at every 1/n of the chord: what a loftsman lays out, and where match marks go.
    pub offsets: Vec<Offset>,
    /// Lower fore to upper after corner, lower after to upper fore corner [m]: to true it up.
    pub diagonals: [f64; 2],
    /// Where cloth has to be stretched or eased; none for a piece that rolls out exactly.
    pub strain: Option<Strain>,
    /// By how much a barrel's profile at mid panel is longer than its chord [m]: added there or taken as hollow, half at either
    /// end; nought for other pieces.
    pub excess: f64,
}

/// An edge of a piece.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Edge {
    /// The line to sew to or fold at.
    pub points: Vec<Point>,
    /// Length along the pattern [m].
    pub length: f64,
    /// Length in the finished sail: of the spar, the shelf, the luff [m].
    pub finished: f64,
    /// Cloth beyond the line [m].
    pub allowance: f64,
    /// What it is made fast to.
    pub seam: Seam,
}

/// Ordinates at a share of the chord.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Offset {
    /// Share of the chord from the fore end.
    pub share: f64,
    /// Point of the lower edge.
    pub low: Point,
    /// Point of the upper edge.
    pub up: Point,
}

/// Strain of the cloth when the piece is made up: finished over pattern length less one, along the chord. Negative: ease it in;
/// positive: it must stretch.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Strain {
    /// [`STRAIN_ROWS`] rows of [`STRAIN_COLUMNS`], lower edge first, fore end first.
    pub values: Vec<f64>,
    /// The one furthest from nought.
    pub worst: f64,
    /// Its share of the chord and of the width.
    pub at: (f64, f64),
}

impl Edge {
    /// Gather on what it is sewn to, share; negative where it would have to stretch.
    pub fn gather(&self) -> f64 {
        if self.finished > 1e-6 {
            self.length / self.finished - 1.0
        } else {
            0.0
        }
    }
}

impl Piece {
    /// Lower fore, lower after, upper after, upper fore corner of the sewn outline.
    pub fn corners(&self) -> [Point; 4] {
        [0, 1, 2, 3].map(|i| self.edges[i].points.first().copied().unwrap_or_default())
    }

    /// The sewn outline, closed, counter-clockwise.
    pub fn sewn(&self) -> Vec<Point> {
        let mut outline = Vec::new();
        for edge in &self.edges {
            outline.extend(edge.points.iter().skip(1));
        }
        outline
    }
}

/// Both long edges of a piece, station by station, and its short ones, before it is laid along x.
struct Raw {
    role: Role,
    low: Vec<Point>,
    up: Vec<Point>,
    /// From lower to upper spar.
    fore: Vec<Point>,
    after: Vec<Point>,
    seams: [Seam; 4],
    finished: [f64; 4],
    strain: Option<Strain>,
    excess: f64,
}

impl Input {
    /// Patterns of the whole sail.
    ///
    /// A part that runs straight from spar to spar (flat, wing, bows, and the body under shelves) is rolled out: exact between parallel
    /// spars, else its edges are kept and cloth is eased in the middle. A barrel is cut by widening every station of the drawn panel to
    /// its arc, square to the spars. Shelves are plane and cut as they are.
    pub fn patterns(&self) -> Patterns {
        let mut all = Patterns {
            faults: self.faults(),
            ..Patterns::default()
        };
        if !all.faults.is_empty() {
            return all;
        }
        for panel in 1..=self.panels() {
            if let Some(fault) = self.panel_fault(panel) {
                all.faults.push(fault);
                continue;
            }
            for part in self.parts(panel) {
                for raw in raw_pieces(&part) {
                    all.pieces.push(self.finish(&part, raw));
                }
            }
            patch::of_panel(self, panel, &mut all.patches);
        }
        findings::of(self, &mut all);
        all
    }

    /// Cloth beyond an edge [m]; `lower` for the lower edge of a piece.
    pub(crate) fn allowance(&self, seam: Seam, lower: bool) -> f64 {
        let s = &self.sewing;
        match seam {
            Seam::Spar(spar) if spar == 0 || spar == self.panels() => s.hem,
            Seam::Spar(spar) if lower && s.pockets == Pockets::Hems && self.pocketed(spar) => {
                s.batten + self.pocket_girth(spar)
            }
            Seam::Spar(_) => s.batten,
            Seam::Luff | Seam::Leech | Seam::Slot => s.edge,
            Seam::Shelf | Seam::Skin | Seam::Join => s.seam,
        }
    }

    /// Lays a piece along x and works out what is read from it.
    fn finish(&self, part: &Part, raw: Raw) -> Piece {
        let origin = raw.low[0];
        let way = raw.low[STEPS] - origin;
        let unit = way / way.hypot().max(1e-12);
        let laid = |p: Point| {
            let v = p - origin;
            Point::new(v.dot(unit), unit.cross(v))
        };
        let round = |mut line: Vec<Point>| {
            for p in &mut line {
                *p = laid(*p);
            }
            line
        };
        let (low, mut up) = (round(raw.low), round(raw.up));
        let (mut fore, after) = (round(raw.fore), round(raw.after));
        let steps = self.sewing.offsets;
        let offsets = (0..=steps)
            .map(|k| {
                let share = k as f64 / steps as f64;
                Offset {
                    share,
                    low: between(&low, part.low.station_at(share)),
                    up: between(&up, part.up.station_at(share)),
                }
            })
            .collect();
        let diagonals = [low[0].distance(up[STEPS]), low[STEPS].distance(up[0])];
        up.reverse();
        fore.reverse();
        let mut lines = [low, after, up, fore];
        let mut i = 0;
        let edges = raw.seams.map(|seam| {
            let points = core::mem::take(&mut lines[i]);
            let edge = Edge {
                length: curve_length(points.len() - 1, &|a, b| points[a].distance(points[b])),
                points,
                finished: raw.finished[i],
                allowance: self.allowance(seam, i == 0),
                seam,
            };
            i += 1;
            edge
        });
        let cut = cut_line(&[0, 1, 2, 3].map(|i| (&edges[i].points[..], edges[i].allowance)));
        Piece {
            panel: part.panel,
            of: part.of,
            role: raw.role,
            edges,
            cut,
            offsets,
            diagonals,
            strain: raw.strain,
            excess: raw.excess,
        }
    }
}

/// Point of a line of stations at a station that need not be whole: cubic through four of its own half.
fn between(line: &[Point], station: f64) -> Point {
    let half = STEPS / 2;
    let station = station.max(0.0).min(STEPS as f64);
    let least = if station > half as f64 { half } else { 0 };
    let first = (station as usize)
        .saturating_sub(1)
        .max(least)
        .min(least + half - 3);
    let mut sum = Vec2::ZERO;
    for i in 0..4 {
        let mut weight = 1.0;
        for j in 0..4 {
            if i != j {
                weight *= (station - (first + j) as f64) / (i as f64 - j as f64);
            }
        }
        sum += line[first + i].to_vec2() * weight;
    }
    sum.to_point()
}

/// Length of a curve in space given station by station.
fn space_length(at: &dyn Fn(usize) -> At) -> f64 {
    let points: Vec<At> = (0..=STEPS).map(at).collect();
    curve_length(STEPS, &|a, b| points[a].plus(points[b], -1.0).length())
}

/// An edge from spar to spar: straight, with its round as a parabola, outward to the left of its way up or to the right.
fn edge(from: Point, to: Point, round: f64, left: bool) -> Vec<Point> {
    let way = to - from;
    let out = Vec2::new(-way.y, way.x) * if left { round } else { -round };
    (0..=RISE)
        .map(|i| {
            let t = i as f64 / RISE as f64;
            from + way * t + out * (4.0 * t * (1.0 - t))
        })
        .collect()
}

/// Length of the finished luff (station 0) or leech between two shares of its width.
fn finished_edge(part: &Part, station: usize, from: f64, to: f64) -> f64 {
    let points: Vec<At> = (0..=RISE)
        .map(|i| part.rounded(station, from + (to - from) * i as f64 / RISE as f64))
        .collect();
    curve_length(RISE, &|a, b| points[a].plus(points[b], -1.0).length())
}

fn raw_pieces(part: &Part) -> Vec<Raw> {
    let spars = [Seam::Spar(part.panel - 1), Seam::Spar(part.panel)];
    match part.how {
        How::Barrel(..) => vec![barrel(part, spars)],
        How::Ruled => vec![body(part, spars)],
        How::Shelf(_) => {
            let shelf = [Seam::Shelf; 2];
            vec![body(part, shelf), lens(part, false), lens(part, true)]
        }
    }
}

/// A ruled part, or what of it lies between its shelves.
fn body(part: &Part, spars: [Seam; 2]) -> Raw {
    let flat = rolled_out(part);
    let shelved = spars[0] == Seam::Shelf;
    let mut low = Vec::new();
    let mut up = Vec::new();
    for i in 0..=STEPS {
        let (half, s) = halved(i);
        let (from, to) = part.shelf_ends(half, s);
        low.push(flat.low[i].lerp(flat.up[i], from));
        up.push(flat.low[i].lerp(flat.up[i], to));
    }
    let ends = |i: usize| {
        let (half, s) = halved(i);
        part.shelf_ends(half, s)
    };
    let rim = |upper: bool| {
        space_length(&|i| {
            let (half, s) = halved(i);
            let (from, to) = part.shelf_ends(half, s);
            part.point(half, s, if upper { to } else { from })
        })
    };
    let ((fore_from, fore_to), (after_from, after_to)) = (ends(0), ends(STEPS));
    // An edge that has round ends at the spars: the form is nought there.
    let fore = edge(low[0], up[0], part.round[0], true);
    let after = edge(low[STEPS], up[STEPS], part.round[1], false);
    Raw {
        role: if shelved { Role::Body } else { Role::Cloth },
        fore,
        after,
        seams: [spars[0], part.after, spars[1], part.fore],
        finished: [
            rim(false),
            finished_edge(part, STEPS, after_from, after_to),
            rim(true),
            finished_edge(part, 0, fore_from, fore_to),
        ],
        low,
        up,
        strain: strain(&|i, share| {
            let (half, s) = halved(i);
            let (from, to) = part.shelf_ends(half, s);
            ruled_strain(part, half, s, from + (to - from) * share)
        }),
        excess: 0.0,
    }
}

/// The map of a strain given at stations and shares of the width; none where there is none to speak of.
fn strain(at: &dyn Fn(usize, f64) -> f64) -> Option<Strain> {
    let mut map = Strain {
        values: Vec::new(),
        worst: 0.0,
        at: (0.0, 0.0),
    };
    for row in 0..STRAIN_ROWS {
        let share = row as f64 / (STRAIN_ROWS - 1) as f64;
        for column in 0..STRAIN_COLUMNS {
            let width = STEPS / STRAIN_COLUMNS;
            let value = at(column * width + width / 2, share);
            if value.abs() > map.worst.abs() {
                map.worst = value;
                map.at = ((column as f64 + 0.5) / STRAIN_COLUMNS as f64, share);
            }
            map.values.push(value);
        }
    }
    (map.worst.abs() > 1e-9).then_some(map)
}

/// A shelf, in its own plane: along the spar, and off it.
fn lens(part: &Part, upper: bool) -> Raw {
    let rail = if upper { &part.up } else { &part.low };
    let along = rail.along();
    let mut spar = Vec::new();
    let mut rim = Vec::new();
    for i in 0..=STEPS {
        let (half, s) = halved(i);
        let foot = rail.foot(half, s);
        let (from, to) = part.shelf_ends(half, s);
        let at = part.point(half, s, if upper { to } else { from });
        let way = at.flat() - rail.from;
        let off = way.cross(along).hypot(at.w);
        spar.push(Point::new((foot - rail.from).dot(along), 0.0));
        rim.push(Point::new(way.dot(along), if upper { -off } else { off }));
    }
    let (low, up, seams, role) = if upper {
        (
            rim,
            spar,
            [Seam::Shelf, Seam::Spar(part.panel)],
            Role::ShelfAbove,
        )
    } else {
        (
            spar,
            rim,
            [Seam::Spar(part.panel - 1), Seam::Shelf],
            Role::ShelfBelow,
        )
    };
    let length = |points: &[Point]| curve_length(STEPS, &|a, b| points[a].distance(points[b]));
    let fore = edge(low[0], up[0], 0.0, true);
    let after = edge(low[STEPS], up[STEPS], 0.0, false);
    Raw {
        role,
        seams: [seams[0], part.after, seams[1], part.fore],
        // Plane: made up as it is cut.
        finished: [
            length(&low),
            low[STEPS].distance(up[STEPS]),
            length(&up),
            low[0].distance(up[0]),
        ],
        low,
        up,
        fore,
        after,
        strain: None,
        excess: 0.0,
    }
}

/// How far a barrel's cloth rises square to the chord, on the flat, up to a share of its arc [m]; `lean` is the cosine between station and chord.
///
/// Where the arc stands at γ to the sail's plane it meets the chord at an angle whose cosine is lean cos γ: ∫ sqrt(1 - lean² cos² γ) dl, by
/// Simpson's rule in eight steps. Derived. With an upright station this is the arc itself.
fn barrel_rise(width: f64, sagitta: f64, lean: f64, share: f64) -> f64 {
    let half = 2.0 * (2.0 * sagitta / width).atan();
    let length = barrel_arc(width, sagitta) * share;
    let mut sum = 0.0;
    for k in 0..=8 {
        let weight = match k {
            0 | 8 => 1.0,
            _ => f64::from(2 + 2 * (k & 1)),
        };
        let angle = half * (2.0 * share * f64::from(k) / 8.0 - 1.0);
        let cos = lean * angles::cos(angle);
        sum += weight * (1.0 - cos * cos).max(0.0).sqrt();
    }
    length * sum / 24.0
}

/// A barrel: every station of the drawn panel widened to its arc, square to the spars, and shifted along the mean chord at mid panel so
/// that the cloth there has the profile's length.
fn barrel(part: &Part, spars: [Seam; 2]) -> Raw {
    let How::Barrel(form, length) = part.how else {
        return body(part, spars);
    };
    let chord = part.mean_chord();
    let mean = (part.low.along() + part.up.along()).normalize();
    let arcs = form.arcs();
    let extra = chord * (arcs[STEPS] - 1.0);
    // Share of the extra length a fibre needs goes as the square of its height: taken at the deepest station.
    let (deep_half, deep_s) = halved(STEPS / 2);
    let (width, _, sagitta) = part.width(deep_half, deep_s);
    let need = |share: f64| {
        if sagitta < 1e-9 {
            return 0.0;
        }
        let height = barrel_point(width, sagitta, share).1 / sagitta;
        height * height
    };
    let square = [&part.low, &part.up].map(|rail| {
        let along = rail.along();
        Vec2::new(-along.y, along.x)
    });
    let at = |i: usize, share: f64| {
        let (half, s) = halved(i);
        let (width, way, sagitta) = part.width(half, s);
        let lean = way.dot(mean);
        let upright = (1.0 - lean * lean).max(0.0).sqrt();
        let along = barrel_point(width, sagitta, share).0;
        let over = barrel_rise(width, sagitta, lean, share) - along * upright;
        let most = barrel_rise(width, sagitta, lean, 1.0) - width * upright;
        let shift = chord * (arcs[i] - form.station(i)) - 0.5 * extra;
        part.low.foot(half, s)
            + way * along
            + square[0].lerp(square[1], share).normalize() * (over - 0.5 * most)
            + mean * (shift * need(share))
    };
    let side = |i: usize, left: bool, round: f64| {
        let straight = edge(at(i, 0.0), at(i, 1.0), round, left);
        match length {
            Barrel::Hollow => straight,
            Barrel::Added => {
                let bare = edge(at(i, 0.0), at(i, 1.0), 0.0, left);
                (0..=RISE)
                    .map(|k| at(i, k as f64 / RISE as f64) + (straight[k] - bare[k]))
                    .collect()
            }
        }
    };
    let finished = |rail: &crate::part::Rail| rail.chord();
    let map = strain(&|i, share| {
        let (a, b) = (i - 1, i + 1);
        let flat = at(a, share).distance(at(b, share));
        let (p, q) = (halved(a), halved(b));
        let made = part
            .point(p.0, p.1, share)
            .plus(part.point(q.0, q.1, share), -1.0)
            .length();
        if flat > 0.0 { made / flat - 1.0 } else { 0.0 }
    });
    let hollow = |station: usize, line: &[Point]| match length {
        Barrel::Added => finished_edge(part, station, 0.0, 1.0),
        // Straight on the floor, hollow in the sail: it keeps its length.
        Barrel::Hollow => curve_length(RISE, &|a, b| line[a].distance(line[b])),
    };
    let (fore, after) = (
        side(0, true, part.round[0]),
        side(STEPS, false, part.round[1]),
    );
    Raw {
        role: Role::Cloth,
        low: (0..=STEPS).map(|i| at(i, 0.0)).collect(),
        up: (0..=STEPS).map(|i| at(i, 1.0)).collect(),
        seams: [spars[0], part.after, spars[1], part.fore],
        finished: [
            finished(&part.low),
            hollow(STEPS, &after),
            finished(&part.up),
            hollow(0, &fore),
        ],
        fore,
        after,
        strain: map,
        excess: extra,
    }
}
