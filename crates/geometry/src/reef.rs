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

use crate::moments::area_ahead;
use crate::panel::SlideInterval;
use crate::slide::{Span, Stack, settle};
use crate::{MOST_PANELS, Moments, Panel, SailPlan, Spar};

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
        let mut states = Vec::with_capacity(n + 2);
        states.push(work.state(0, false));
        states.extend((0..=n).map(|lowered| work.state(lowered, true)));
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
    let spin = Vec2::from_angle(-turn);
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

/// A vector turned by the angle of the unit vector `spin`.
fn turned(v: Vec2, spin: Vec2) -> Vec2 {
    Vec2::new(v.x * spin.x - v.y * spin.y, v.x * spin.y + v.y * spin.x)
}

/// What all states share.
struct Work<'a> {
    plan: &'a SailPlan,
    input: &'a ReefInput,
    boom: Spar,
    slides: Vec<SlideInterval>,
    pitches: Vec<f64>,
    /// Moments of all that stands with k panels lowered, as at full hoist.
    standing: Vec<Moments>,
    /// The same, area times place of the wind's force.
    pressure: Vec<Vec2>,
    full_area: f64,
    sling: Point,
    /// Length of each spar ahead of the mast at full hoist, where it has one.
    ahead: [Option<f64>; MOST_PANELS + 1],
}

impl<'a> Work<'a> {
    fn new(plan: &'a SailPlan, input: &'a ReefInput) -> Self {
        let n = plan.n_panels();
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
        let mut standing = vec![Moments::default(); n + 1];
        let mut pressure = vec![Vec2::ZERO; n + 1];
        for i in (0..n).rev() {
            let Some(panel) = plan.panel(i + 1) else {
                continue;
            };
            let m = plan.panel_moments.get(i).copied().unwrap_or_default();
            standing[i] = standing[i + 1] + m;
            let at = m.centroid().map_or(Point::ORIGIN, |c| {
                panel.point_on_chord(c, input.chord_share)
            });
            pressure[i] = pressure[i + 1] + at.to_vec2() * m.area;
        }
        let mut ahead = [None; MOST_PANELS + 1];
        for (to, spar) in ahead.iter_mut().zip(&plan.spars) {
            *to = spar.ahead();
        }
        Self {
            plan,
            input,
            boom: plan
                .boom()
                .copied()
                .unwrap_or_else(|| Spar::new(Point::ORIGIN, 0.0, 0.0)),
            slides,
            pitches,
            full_area: standing.first().map_or(0.0, |m| m.area),
            standing,
            pressure,
            sling: plan.sling_point(),
            ahead,
        }
    }

    fn state(&self, lowered: usize, on_lifts: bool) -> ReefState {
        let spars = &self.plan.spars;
        let n = self.plan.n_panels();
        let k = lowered.min(n);
        let e = self.boom.along;
        let square = Vec2::new(-e.y, e.x);
        let foot = self.boom.luff
            + if on_lifts {
                Vec2::new(0.0, -self.input.drop)
            } else {
                Vec2::ZERO
            };
        let pivot = spars.get(k).copied().unwrap_or(self.boom);
        let turn = pivot.angle - self.boom.angle;
        // Unit vector of -turn, from the two spars' own directions.
        let spin = Vec2::new(e.dot(pivot.along), -e.cross(pivot.along));

        // Luff of each lying spar before any slide or shift of the boom.
        let mut bases = [foot; MOST_PANELS + 1];
        for i in 1..=k {
            bases[i] = bases[i - 1] + square * self.pitches[i - 1];
        }
        let base = bases[k];
        let sling_arm = turned(self.sling - pivot.luff, spin);
        let standing_luff = |i: usize| base + turned(spars[i].luff - pivot.luff, spin);

        let x = if on_lifts {
            self.settled(k, &bases, spin, base + sling_arm)
        } else {
            [0.0; MOST_PANELS + 1]
        };
        // t is the boom's horizontal move; x[0] measures it along the boom.
        let boom_shift = x[0] * e.x;
        let moved = |i: usize| Vec2::new(boom_shift, 0.0) + e * (x[i] - x[0]);

        let mut placed = Vec::with_capacity(n + 1);
        let mut travel_needed: f64 = 0.0;
        for (i, flat) in spars.iter().enumerate() {
            let lying = i < k || (i == k && k > 0);
            let spar = if i <= k {
                Spar {
                    luff: bases[i] + moved(i),
                    angle: self.boom.angle,
                    length: flat.length,
                    along: e,
                }
            } else {
                Spar {
                    luff: standing_luff(i) + moved(k),
                    angle: flat.angle - turn,
                    length: flat.length,
                    along: turned(flat.along, spin),
                }
            };
            let shift = match (self.ahead[i], spar.ahead()) {
                (Some(full), Some(now)) => full - now,
                _ => 0.0,
            };
            // The yard has hauling parrels, not a batten parrel.
            if i < n {
                travel_needed = travel_needed.max(2.0 * shift.abs());
            }
            placed.push(PlacedSpar {
                spar,
                shift,
                slide: if lying && i > 0 { x[i] - x[i - 1] } else { 0.0 },
                lying: lying || (i == 0 && on_lifts),
            });
        }

        let carry = |p: Point| base + turned(p - pivot.luff, spin) + moved(k);
        let area = self.standing.get(k).map_or(0.0, |m| m.area);
        let centroid = self.standing.get(k).and_then(Moments::centroid).map(carry);
        let pressure = centroid
            .and(self.pressure.get(k))
            .map(|p| carry((*p / area).to_point()));
        let sling = base + sling_arm + moved(k);
        let halyard = (self.input.masthead - sling.y).max(SHORTEST_HALYARD);
        let lowest = placed.get(k).map_or(self.boom, |p| p.spar);
        let ahead = self.area_ahead(&placed, k);
        let top_depth = match k {
            0 => self.input.boom_depth,
            _ if k == n => self.input.yard_depth,
            _ => self.input.batten_depth,
        };
        ReefState {
            lowered: k,
            on_lifts,
            turn,
            area,
            share: if self.full_area > 0.0 {
                area / self.full_area
            } else {
                0.0
            },
            centroid,
            pressure,
            sling,
            sling_offset: sling.x - self.sling.x,
            halyard_angle: (sling.x / halyard).atan(),
            boom_shift,
            chord_balance: lowest.ahead().map(|a| a / lowest.length),
            area_balance: centroid.map(|_| ahead / area),
            bundle_height: self.pitches[..k].iter().sum::<f64>()
                + 0.5 * (self.input.boom_depth + top_depth),
            travel_needed,
            travel_missing: (0.5 * travel_needed - 0.5 * self.input.travel).max(0.0),
            yard_at_mast: placed.last().is_some_and(|p| p.spar.crosses_mast()),
            spars: placed,
        }
    }

    /// Places of the lying spars along the boom's direction, k of them slid.
    fn settled(
        &self,
        k: usize,
        bases: &[Point; MOST_PANELS + 1],
        spin: Vec2,
        sling: Point,
    ) -> [f64; MOST_PANELS + 1] {
        let e = self.boom.along;
        let spars = &self.plan.spars;
        let half = 0.5 * self.input.travel;
        if e.x < 0.017 {
            return [0.0; MOST_PANELS + 1];
        }
        let mut boxes: [Span; MOST_PANELS + 1] = [(-half, half); MOST_PANELS + 1];
        for (i, limits) in boxes.iter_mut().enumerate().take(k + 1) {
            // The yard has hauling parrels and is told, not bounded.
            if i + 1 == spars.len() {
                *limits = (-UNBOUNDED, UNBOUNDED);
                continue;
            }
            // Shift past the mast is x + c: c is what pitch and turn do of themselves.
            let Some(full) = self.ahead[i] else {
                continue;
            };
            let c = full + bases[i].x / e.x;
            *limits = (-half - c, half - c);
        }
        // What stands moves with spar k: its battens' travel bounds x[k] too.
        let pivot = spars.get(k).copied().unwrap_or(self.boom);
        let mut top = boxes[k];
        let last = spars.len().saturating_sub(1);
        for (flat, full) in spars.iter().zip(self.ahead).take(last).skip(k + 1) {
            let along = turned(flat.along, spin);
            let Some(full) = full else { continue };
            if along.x < 0.17 {
                continue;
            }
            let luff = bases[k] + turned(flat.luff - pivot.luff, spin);
            let per_x = e.x / along.x;
            let c = full + luff.x / along.x;
            top = (
                top.0.max((-half - c) / per_x),
                top.1.min((half - c) / per_x),
            );
        }
        boxes[k] = top;
        let mut slides: [Span; MOST_PANELS] = [(0.0, 0.0); MOST_PANELS];
        for (to, from) in slides.iter_mut().zip(&self.slides) {
            *to = (from.least, from.most);
        }
        let halyard = (self.input.masthead - sling.y).max(SHORTEST_HALYARD);
        let lifts = (self.input.masthead - self.boom.luff.y).max(SHORTEST_HALYARD);
        settle(&Stack {
            boxes: boxes.get(..=k).unwrap_or(&[]),
            slides: slides.get(..k).unwrap_or(&[]),
            wanted: (self.sling.x - sling.x) / e.x,
            weight_top: halyard.powi(-2),
            weight_boom: LIFTS_AGAINST_HALYARD * lifts.powi(-2),
        })
        .x
    }

    /// Area ahead of the mast axis of what stands [m²]: inner spars cancel, so only the outline
    /// is run.
    fn area_ahead(&self, placed: &[PlacedSpar], k: usize) -> f64 {
        let standing = placed.get(k..).unwrap_or(&[]);
        let (Some(first), Some(last)) = (standing.first(), standing.last()) else {
            return 0.0;
        };
        let line = |a, b| kurbo::PathSeg::Line(kurbo::Line::new(a, b));
        let mut sum = area_ahead(&line(first.spar.luff, first.spar.leech()))
            + area_ahead(&line(last.spar.leech(), last.spar.luff));
        for pair in standing.windows(2) {
            let panel = Panel {
                lower: pair[0].spar,
                upper: pair[1].spar,
                luff_round: self.plan.luff_round,
                leech_round: self.plan.leech_round,
            };
            sum += area_ahead(&panel.luff_edge()) + area_ahead(&panel.leech_edge());
        }
        sum
    }
}
