//! Reef states: where every spar lies, what still stands, and what it measures.
//!
//! Lifts fix the boom's height and angle, not its fore-aft place. Lowered spars lie parallel to
//! the boom; what stands moves as one body, turned so that its lowest spar lies on the bundle:
//!
//!   luff_i = luff_0 + (t, -drop) + e Σ s + n Σ b,   e along the boom, n square to it,
//!   turn   = angle of the lowest standing spar - boom angle.
//!
//! Slides s and boom place t come from [`crate::slide::settle`], one small problem a state.

use kurbo::{Point, Vec2};

use crate::moments::line_ahead;
use crate::order::{greater, lesser};
use crate::panel::{SlideInterval, edge_ahead};
use crate::slide::{Places, Span, Stack, settle};
use crate::spar::{turned, unit};
use crate::{MOST_PANELS, SailPlan, Spar};

/// What the reefs need to know besides the plan [SI].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ReefInput {
    /// Depth of the boom, of a batten, of the yard, square to the spar in the sail's plane [m].
    pub boom_depth: f64,
    /// See `boom_depth` [m].
    pub batten_depth: f64,
    /// See `boom_depth` [m].
    pub yard_depth: f64,
    /// Folded cloth between two lying spars [m].
    pub folded_cloth: f64,
    /// Drop of the boom onto its lifts at the first ease [m].
    pub drop: f64,
    /// Fore-aft travel each batten parrel allows in all, half of it each way [m].
    pub travel: f64,
    /// Masthead above partners [m].
    pub masthead: f64,
    /// Place of the wind's force on each panel, share of its chord from the luff.
    pub chord_share: f64,
}

/// How much the wish to leave the boom's lifts plumb weighs against the wish to keep the halyard
/// plumb, angle against angle. Common practice keeps the sail where it stands and lets boom and
/// bundle come forward, so the halyard counts ten times as much.
const LIFTS_AGAINST_HALYARD: f64 = 0.1;

/// Further than any spar can go [m].
const UNBOUNDED: f64 = 1e3;

/// A halyard shorter than this counts as this long: its angle would grow beyond meaning [m].
const SHORTEST_HALYARD: f64 = 0.25;

/// One spar in a state.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct PlacedSpar {
    /// Where it lies now.
    pub spar: Spar,
    /// How far it has slid aft along itself past the mast, from its place at full hoist [m].
    pub shift: f64,
    /// Slide on the spar below, luff to luff, aft positive [m]; 0 while it stands, and for the boom.
    pub slide: f64,
    /// True when it lies in the bundle.
    pub lying: bool,
}

/// One state: `lowered` panels down, what stands standing.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct ReefState {
    /// Panels lowered, 0 to N.
    pub lowered: usize,
    /// True once the boom hangs on its lifts; false only at full hoist.
    pub on_lifts: bool,
    /// Boom to yard.
    pub spars: Vec<PlacedSpar>,
    /// Turn of what stands, peak down positive [rad].
    pub turn: f64,
    /// Area standing [m²].
    pub area: f64,
    /// Share of the full area standing.
    pub share: f64,
    /// Centroid of what stands (u, v) [m]; absent when nothing stands.
    pub centroid: Option<Point>,
    /// The wind's force on what stands, at the chord share of each panel (u, v) [m].
    pub pressure: Option<Point>,
    /// Mean chord of what stands, luff to leech, by area [m]; moves the force to another share.
    pub chord: Option<Vec2>,
    /// Sling point (u, v) [m].
    pub sling: Point,
    /// Sling point aft of its place at full hoist [m].
    pub sling_offset: f64,
    /// Angle of the halyard off the mast axis, sling abaft the mast positive [rad].
    pub halyard_angle: f64,
    /// Boom aft of its place at full hoist [m]; negative = forward.
    pub boom_shift: f64,
    /// Share of the lowest standing spar's length ahead of the mast axis.
    pub chord_balance: Option<f64>,
    /// Share of the standing area ahead of the mast axis.
    pub area_balance: Option<f64>,
    /// Bundle, underside of the boom to top of the uppermost lying spar, square to the boom [m].
    pub bundle_height: f64,
    /// Travel the battens need in this state, in all, if it lies half each way [m].
    pub travel_needed: f64,
    /// Travel missing each way: how far the parrels had to give before the cloth could fold [m].
    pub travel_missing: f64,
    /// True while the yard still crosses the mast.
    pub yard_at_mast: bool,
}

/// All states of a sail.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Reefs {
    /// Full hoist, boom on its lifts, then 1..=N panels lowered: N + 2 states.
    pub states: Vec<ReefState>,
    /// Slide the cloth of each panel allows when folded, lowest first.
    pub slides: Vec<SlideInterval>,
    /// Distance of each lying spar from the one below, square to the boom, lowest first [m].
    pub pitches: Vec<f64>,
}

impl Reefs {
    /// Works out every state. Total for any plan of finite spars.
    pub fn new(plan: &SailPlan, input: &ReefInput) -> Self {
        let work = Work::new(plan, input);
        let n = plan.n_panels();
        let mut places = Places::default();
        let states = (0..n + 2)
            .map(|i| work.state(i.saturating_sub(1), i > 0, &mut places))
            .collect();
        Self {
            states,
            slides: work.slides,
            pitches: work.pitches,
        }
    }

    /// Number of panels, N.
    pub fn n_panels(&self) -> usize {
        self.slides.len()
    }

    /// The state with this many panels lowered; 0 is full hoist.
    pub fn lowered(&self, panels: usize) -> Option<&ReefState> {
        self.states.get(if panels == 0 { 0 } else { panels + 1 })
    }

    /// Where the spars are at any hoist: `hoist` counts panels lowered, with fractions.
    ///
    /// Between two states bundle, turn and the place of what stands run linearly, by convention;
    /// the first of it is the drop of the boom onto its lifts, in the share of halyard it takes.
    pub fn placed_at(&self, hoist: f64) -> Vec<Spar> {
        let n = self.n_panels();
        let hoist = if hoist.is_finite() {
            hoist.max(0.0).min(n as f64)
        } else {
            0.0
        };
        let below = (hoist.floor() as usize).min(n.saturating_sub(1));
        let mut share = hoist - below as f64;
        let (mut from, mut to) = (below + 1, below + 2);
        if below == 0 {
            let eased = |i: usize| self.states.get(i).map_or(0.0, |s| s.sling.y);
            let dropping = (eased(0) - eased(1)) / (eased(0) - eased(2));
            if dropping > 0.0 && dropping < 1.0 {
                if share < dropping {
                    share /= dropping;
                    (from, to) = (0, 1);
                } else {
                    share = (share - dropping) / (1.0 - dropping);
                }
            }
        }
        match (self.states.get(from), self.states.get(to)) {
            (Some(a), Some(b)) => between(a, b, share),
            _ => Vec::new(),
        }
    }
}

/// Spars part of the way from state `a` to the next, `b`.
fn between(a: &ReefState, b: &ReefState, share: f64) -> Vec<Spar> {
    // What stands in b turns as a body about its lowest spar's luff.
    let pivot = b.lowered.min(a.spars.len().saturating_sub(1));
    let (Some(pivot_a), Some(pivot_b)) = (a.spars.get(pivot), b.spars.get(pivot)) else {
        return Vec::new();
    };
    let pivot_now = pivot_a.spar.luff.lerp(pivot_b.spar.luff, share);
    let turn = (b.turn - a.turn) * share;
    let spin = unit(-turn);
    a.spars
        .iter()
        .zip(&b.spars)
        .enumerate()
        .map(|(i, (from, to))| {
            if i < pivot {
                let angle = from.spar.angle + (to.spar.angle - from.spar.angle) * share;
                Spar::new(
                    from.spar.luff.lerp(to.spar.luff, share),
                    angle,
                    from.spar.length,
                )
            } else {
                Spar {
                    luff: pivot_now + turned(from.spar.luff - pivot_a.spar.luff, spin),
                    angle: from.spar.angle - turn,
                    length: from.spar.length,
                    along: turned(from.spar.along, spin),
                }
            }
        })
        .collect()
}

/// How what stands has moved as one body: turned about the luff of its lowest spar, and that luff
/// brought to its place.
struct Carry {
    pivot: Point,
    to: Point,
    /// Peak down positive [rad].
    turn: f64,
    /// Unit vector of -turn.
    spin: Vec2,
}

impl Carry {
    fn point(&self, p: Point) -> Point {
        self.to + turned(p - self.pivot, self.spin)
    }

    fn spar(&self, spar: &Spar) -> Spar {
        Spar {
            luff: self.point(spar.luff),
            angle: spar.angle - self.turn,
            length: spar.length,
            along: turned(spar.along, self.spin),
        }
    }
}

/// What all states share.
struct Work<'a> {
    plan: &'a SailPlan,
    input: &'a ReefInput,
    boom: Spar,
    slides: Vec<SlideInterval>,
    pitches: Vec<f64>,
    /// Every spar lying in the bundle, boom on its lifts, before any slide or shift of the boom.
    lying: [Spar; MOST_PANELS + 1],
    /// Where its parrel lets each of them be along the boom.
    boxes: [Span; MOST_PANELS + 1],
    /// The slides, as spans.
    spans: [Span; MOST_PANELS],
    /// Area standing with k panels lowered, and area times centroid as at full hoist.
    standing: [(f64, Vec2); MOST_PANELS + 1],
    /// The same, area times place of the wind's force.
    pressure: [Vec2; MOST_PANELS + 1],
    /// The same, area times chord.
    chord: [Vec2; MOST_PANELS + 1],
    sling: Point,
    /// Length of each spar ahead of the mast at full hoist, where it has one.
    ahead: [Option<f64>; MOST_PANELS + 1],
}

impl<'a> Work<'a> {
    fn new(plan: &'a SailPlan, input: &'a ReefInput) -> Self {
        let n = plan.n_panels();
        let boom = plan
            .boom()
            .copied()
            .unwrap_or_else(|| Spar::new(Point::ORIGIN, 0.0, 0.0));
        let depth = |i: usize| match i {
            0 => input.boom_depth,
            _ if i == n => input.yard_depth,
            _ => input.batten_depth,
        };
        let pitches: Vec<f64> = (1..=n)
            .map(|i| 0.5 * (depth(i - 1) + depth(i)) + input.folded_cloth)
            .collect();
        let slides = plan
            .panels()
            .zip(&pitches)
            .map(|(panel, pitch)| panel.slide_interval(*pitch))
            .collect();
        let mut work = Self {
            plan,
            input,
            boom,
            slides,
            pitches,
            lying: [boom; MOST_PANELS + 1],
            boxes: [(-UNBOUNDED, UNBOUNDED); MOST_PANELS + 1],
            spans: [(0.0, 0.0); MOST_PANELS],
            standing: [(0.0, Vec2::ZERO); MOST_PANELS + 1],
            pressure: [Vec2::ZERO; MOST_PANELS + 1],
            chord: [Vec2::ZERO; MOST_PANELS + 1],
            sling: plan.sling_point(),
            ahead: [None; MOST_PANELS + 1],
        };
        work.lay();
        work.sum();
        work
    }

    /// Lays the spars on one another and bounds their places.
    fn lay(&mut self) {
        let e = self.boom.along;
        let square = Vec2::new(-e.y, e.x);
        let half = 0.5 * self.input.travel;
        let n = self.plan.n_panels();
        let mut luff = self.boom.luff - Vec2::new(0.0, self.input.drop);
        for (i, spar) in self.plan.spars.iter().enumerate().take(MOST_PANELS + 1) {
            self.lying[i].luff = luff;
            self.lying[i].length = spar.length;
            self.ahead[i] = spar.ahead();
            // The yard has hauling parrels and is told, not bounded.
            if i < n {
                // Shift past the mast is x + c: c is what pitch and turn do of themselves.
                let c = self.ahead[i].map_or(0.0, |full| full + luff.x / e.x);
                self.boxes[i] = (-half - c, half - c);
                luff += square * self.pitches[i];
            }
        }
        for (to, from) in self.spans.iter_mut().zip(&self.slides) {
            *to = (from.least, from.most);
        }
    }

    /// Sums up areas and their places from the yard down.
    fn sum(&mut self) {
        let (mut area, mut first, mut force) = (0.0, Vec2::ZERO, Vec2::ZERO);
        let mut chords = Vec2::ZERO;
        for i in (0..self.plan.n_panels().min(MOST_PANELS)).rev() {
            let plan = self.plan;
            let (Some(panel), Some(m)) = (plan.panel(i + 1), plan.panel_moments.get(i)) else {
                continue;
            };
            let (luff, chord) = m
                .centroid()
                .map_or((Point::ORIGIN, Vec2::ZERO), |c| panel.chord_through(c));
            let at = luff + chord * self.input.chord_share;
            area += m.area;
            first += m.first;
            force += at.to_vec2() * m.area;
            self.standing[i] = (area, first);
            self.pressure[i] = force;
            chords += chord * m.area;
            self.chord[i] = chords;
        }
    }

    fn state(&self, lowered: usize, on_lifts: bool, places: &mut Places) -> ReefState {
        let n = self.plan.n_panels().min(MOST_PANELS);
        let k = lowered.min(n);
        let e = self.boom.along;
        let pivot = self.plan.spars.get(k).copied().unwrap_or(self.boom);
        let carry = Carry {
            pivot: pivot.luff,
            to: if on_lifts {
                self.lying[k].luff
            } else {
                self.boom.luff
            },
            turn: pivot.angle - self.boom.angle,
            // From the two spars' own directions.
            spin: Vec2::new(e.dot(pivot.along), -e.cross(pivot.along)),
        };
        let mut spars = self.at_rest(k, on_lifts, &carry);
        let sling = carry.point(self.sling);
        if on_lifts {
            self.settle(k, &spars, sling, places);
        } else {
            places.x.fill(0.0);
        }
        let x = &places.x;

        // t is the boom's horizontal move; x[0] measures it along the boom.
        let moved = |x_now: f64| Vec2::new(x_now * e.x, (x_now - x[0]) * e.y);
        let mut travel_needed: f64 = 0.0;
        let mut below = x[0];
        for (i, ((placed, x), full)) in spars.iter_mut().zip(x).zip(&self.ahead).enumerate() {
            placed.spar.luff += moved(*x);
            placed.slide = x - below;
            below = *x;
            if let (Some(full), Some(now)) = (full, placed.spar.ahead()) {
                placed.shift = full - now;
            }
            // The yard has hauling parrels, not a batten parrel.
            if i < n {
                travel_needed = greater(travel_needed, 2.0 * placed.shift.abs());
            }
        }

        let body = moved(x[k]);
        let (area, first) = self.standing[k];
        let full_area = self.standing[0].0;
        let on_area = |first: Vec2| carry.point((first / area).to_point()) + body;
        let stands = area.abs() > 1e-12 && first.is_finite();
        let centroid = stands.then(|| on_area(first));
        let pressure = stands.then(|| on_area(self.pressure[k]));
        let chord = stands.then(|| turned(self.chord[k] / area, carry.spin));
        let sling = sling + body;
        let lowest = spars.get(k).map_or(self.boom, |p| p.spar);
        let top_depth = match k {
            0 => self.input.boom_depth,
            _ if k == n => self.input.yard_depth,
            _ => self.input.batten_depth,
        };
        ReefState {
            lowered: k,
            on_lifts,
            turn: carry.turn,
            area,
            share: if full_area > 0.0 {
                area / full_area
            } else {
                0.0
            },
            centroid,
            pressure,
            chord,
            sling,
            sling_offset: sling.x - self.sling.x,
            halyard_angle: (sling.x / self.halyard(sling)).atan(),
            boom_shift: x[0] * e.x,
            chord_balance: lowest.ahead().map(|a| a / lowest.length),
            area_balance: stands.then(|| self.area_ahead(k, &spars[k..]) / area),
            bundle_height: self.pitches[..k].iter().sum::<f64>()
                + 0.5 * (self.input.boom_depth + top_depth),
            travel_needed,
            travel_missing: greater(0.5 * travel_needed - 0.5 * self.input.travel, 0.0),
            yard_at_mast: spars.last().is_some_and(|p| p.spar.crosses_mast()),
            spars,
        }
    }

    /// The spars with k panels lowered, before any slide or shift of the boom.
    fn at_rest(&self, k: usize, on_lifts: bool, carry: &Carry) -> Vec<PlacedSpar> {
        self.plan
            .spars
            .iter()
            .zip(&self.lying)
            .enumerate()
            .map(|(i, (flat, lying))| PlacedSpar {
                spar: if i <= k && on_lifts {
                    *lying
                } else {
                    carry.spar(flat)
                },
                shift: 0.0,
                slide: 0.0,
                lying: i < k || (i == k && k > 0) || (i == 0 && on_lifts),
            })
            .collect()
    }

    /// Halyard from the sling to the masthead, along the mast [m].
    fn halyard(&self, sling: Point) -> f64 {
        greater(self.input.masthead - sling.y, SHORTEST_HALYARD)
    }

    /// Places of the lying spars along the boom's direction, k of them slid; the spars and their
    /// sling at rest.
    fn settle(&self, k: usize, spars: &[PlacedSpar], sling: Point, places: &mut Places) {
        let e = self.boom.along;
        if e.x < 0.017 {
            places.x.fill(0.0);
            return;
        }
        let per_boom = e.x.recip();
        // What stands moves with spar k: its battens' travel bounds x[k] too.
        let half = 0.5 * self.input.travel;
        let mut top = self.boxes[k];
        let last = spars.len().saturating_sub(1);
        for (placed, full) in spars.iter().zip(&self.ahead).take(last).skip(k + 1) {
            let Spar { luff, along, .. } = placed.spar;
            let Some(full) = full else { continue };
            if along.x < 0.17 {
                continue;
            }
            let c = full * along.x + luff.x;
            let reach = half * along.x;
            top = (
                greater(top.0, (-reach - c) * per_boom),
                lesser(top.1, (reach - c) * per_boom),
            );
        }
        let inverse_square = |length: f64| (length * length).recip();
        let stack = Stack {
            boxes: &self.boxes[..k],
            top,
            slides: &self.spans[..k],
            wanted: (self.sling.x - sling.x) * per_boom,
            weight_top: inverse_square(self.halyard(sling)),
            weight_boom: LIFTS_AGAINST_HALYARD * inverse_square(self.halyard(self.boom.luff)),
        };
        settle(&stack, places);
    }

    /// Area ahead of the mast axis of the standing spars [m²]: inner spars cancel, so only the
    /// outline is run, and what a slot leaves open.
    fn area_ahead(&self, lowered: usize, standing: &[PlacedSpar]) -> f64 {
        let (Some(first), Some(last)) = (standing.first(), standing.last()) else {
            return 0.0;
        };
        let (luff_round, leech_round) = (self.plan.luff_round, self.plan.leech_round);
        let mut below = (first.spar.luff, first.spar.leech());
        let mut sum = line_ahead(below.0, below.1) + line_ahead(last.spar.leech(), last.spar.luff);
        for placed in standing.iter().skip(1) {
            let here = (placed.spar.luff, placed.spar.leech());
            sum +=
                edge_ahead(here.0, below.0, luff_round) + edge_ahead(below.1, here.1, leech_round);
            below = here;
        }
        if self.plan.slot > 0.0 {
            for (i, pair) in standing.windows(2).enumerate() {
                let open = self
                    .plan
                    .slot_edges(lowered + i, &pair[0].spar, &pair[1].spar);
                for (from, to) in open.into_iter().flatten() {
                    sum -= line_ahead(from, to);
                }
            }
        }
        sum
    }
}
