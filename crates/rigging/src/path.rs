//! A line as a path of named points at a state and a sheeting angle.

use core::f64::consts::PI;

use crate::sheet::Hanging;
use crate::space::{Frame, distance, on};
use crate::usual::foot;
use crate::{Deck, Hauling, Hold, Input, Line, State};
use geometry::mast::Place;
use geometry::parrel::batten_parrel_length;
use kurbo::Point;

/// A line laid out.
#[derive(Clone, Debug, Default, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Path {
    /// Point by point, from the sail to the cleat.
    pub stops: Vec<Stop>,
    /// Rope along it, every part counted, tails left out [m].
    pub length: f64,
}

/// A point of a path.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Stop {
    /// Where.
    pub at: Place,
    /// What is there.
    pub named: Named,
    /// Parts of rope to the next point; nought where the next is not joined to it.
    pub parts: usize,
}

/// What a point of a path is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub enum Named {
    /// The sling on the yard.
    Sling,
    /// The fitting at the masthead.
    Masthead,
    /// A point on a spar.
    Spar(usize),
    /// The leech end of a spar.
    Leech(usize),
    /// The block of a span.
    Block(usize),
    /// A deck block of a sheet.
    DeckBlock(usize),
    /// A lead at the deck.
    Lead,
    /// The cleat.
    Cleat,
    /// Round the mast: the rope bends over it here.
    Round,
}

impl Path {
    /// Adds a point; `parts` of rope lead on from it, straight.
    pub(crate) fn to(&mut self, at: Place, named: Named, parts: usize) {
        if let Some(last) = self.stops.last() {
            self.length += last.parts as f64 * distance(last.at, at);
        }
        self.stops.push(Stop { at, named, parts });
    }

    /// Adds leads and, last, the cleat; over the edge of the coachroof from one to the next.
    fn leads(&mut self, deck: &Deck, leads: &[Place], parts: usize) {
        for (i, lead) in leads.iter().enumerate() {
            let last = i > 0 && i + 1 == leads.len();
            if i > 0
                && let Some(edge) = deck.over(leads[i - 1], *lead)
            {
                self.to(edge, Named::Lead, parts);
            }
            let named = if last { Named::Cleat } else { Named::Lead };
            self.to(*lead, named, if i + 1 < leads.len() { parts } else { 0 });
        }
    }
}

/// Rope between two points of the sail's plane round the far side of the mast, wherever they lie along it [m].
///
/// Seen along the mast a tangent, an arc and a tangent; cylinder and tangent planes unrolled, it is
/// straight: √(plan² + rise²). Derived; the taper between the two heights is left out, its mean is
/// taken.
pub fn round_mast(input: &Input, p: Point, q: Point) -> f64 {
    standing_off(input, p, q, 0.0)
}

/// The same with the sail's plane further off the mast.
fn standing_off(input: &Input, p: Point, q: Point, further: f64) -> f64 {
    let (radius, off) = beside(input, 0.5 * (p.y + q.y));
    let (ahead, abaft) = if p.x < q.x { (p.x, q.x) } else { (q.x, p.x) };
    batten_parrel_length(-ahead, abaft, off + further, radius).hypot(p.y - q.y)
}

/// How much rope a parrel between two points takes up as they go off the mast, standing off it already by so much: the force it
/// holds there over its pull.
pub(crate) fn grip(input: &Input, p: Point, q: Point, off: f64) -> f64 {
    const STEP: f64 = 1e-4;
    (standing_off(input, p, q, off + STEP) - standing_off(input, p, q, off)) / STEP
}

/// The mast's radius at a height and how far the sail's plane stands off its surface [m].
pub(crate) fn beside(input: &Input, height: f64) -> (f64, f64) {
    let radius = 0.5 * input.mast.diameter_at(height);
    (radius, (input.mast.offset - radius).max(0.0))
}

impl Input {
    /// A line laid out at any moment; sheets and their spans as they are hung up. `drawn`: with the corners of the rope over
    /// the mast, which its length does without.
    pub(crate) fn laid(
        &self,
        line: Line,
        now: &State,
        frame: &Frame,
        hung: &[Option<Hanging>],
        drawn: bool,
    ) -> Option<Path> {
        if !self.led(line) {
            return None;
        }
        let mut path = Path::default();
        match line {
            Line::Halyard => {
                let halyard = self.lines.halyard?;
                let sling = on(now.spars.last()?, self.sling);
                path.to(frame.sail(sling), Named::Sling, halyard.parts);
                path.to(frame.at(0.0, 0.0, self.fitting), Named::Masthead, 1);
                path.leads(&self.deck, &[halyard.lead, halyard.cleat], 1);
            }
            Line::Lifts => {
                let lifts = self.lines.lifts.as_ref()?;
                let boom = now.spars.first()?;
                let head = frame.at(0.0, 0.0, lifts.height);
                for catch in &lifts.catches {
                    // One each side.
                    path.to(frame.sail(on(boom, *catch)), Named::Spar(0), 2);
                    path.to(head, Named::Masthead, 0);
                }
                if let Some(cleat) = lifts.cleat {
                    path.to(head, Named::Masthead, 2);
                    path.leads(&self.deck, &[foot(self, cleat), cleat], 2);
                }
            }
            Line::Parrel(i) => {
                let (fore, after) = self.parrel_ends(i, now)?;
                self.held(&mut path, frame, &[(i, fore), (i, after)], true, drawn);
            }
            Line::Hauling(i) => {
                let hauling = self.lines.hauling.get(i)?;
                let point =
                    |hold: &Hold| Some((hold.spar, on(now.spars.get(hold.spar)?, hold.share)));
                let holds: Vec<_> = hauling.holds.iter().filter_map(point).collect();
                self.held(&mut path, frame, &holds, hauling.hauls.round(), drawn);
                if let (Some(last), false) = (path.stops.last_mut(), hauling.leads.is_empty()) {
                    last.parts = 1;
                }
                path.leads(&self.deck, &hauling.leads, 1);
            }
            Line::Sheet(_) | Line::Span(..) => return self.hung_path(line, now, frame, hung),
        }
        Some(path)
    }

    /// Where a batten parrel is fast on its spar, in the sail's plane: ahead and abaft.
    pub(crate) fn parrel_ends(&self, spar: usize, now: &State) -> Option<(Point, Point)> {
        let parrels = self.lines.parrels?;
        let full = self.states.first()?.spars.get(spar)?;
        let now = now.spars.get(spar)?;
        // A spar that stands up the mast is no batten; it is taken as crossing at its luff end.
        let crossing = full.ahead().unwrap_or(0.0);
        Some((
            now.at(crossing - parrels.ahead),
            now.at(crossing + parrels.abaft),
        ))
    }

    /// Leads a path by points of the sail's plane: a parrel goes round the mast from each to the next, other lines straight.
    fn held(
        &self,
        path: &mut Path,
        frame: &Frame,
        holds: &[(usize, Point)],
        round: bool,
        drawn: bool,
    ) {
        for (i, (spar, p)) in holds.iter().enumerate() {
            let before = i.checked_sub(1).and_then(|i| holds.get(i));
            if let (Some((_, q)), true) = (before, round) {
                let along = path.length + round_mast(self, *q, *p);
                if drawn {
                    self.bend(path, frame, *q, *p);
                }
                path.to(frame.sail(*p), Named::Spar(*spar), 1);
                // The drawn bends are corners of the true path.
                path.length = along;
            } else {
                path.to(frame.sail(*p), Named::Spar(*spar), 1);
            }
        }
        if let Some(last) = path.stops.last_mut() {
            last.parts = 0;
        }
    }

    /// The legs of a hauling line one by one, from its fast end to its first lead, the sail amidships and its holds moved: how long
    /// each is [m].
    pub(crate) fn legs(
        &self,
        hauling: &Hauling,
        now: &State,
        moved: &dyn Fn(usize, Point) -> Point,
        each: &mut dyn FnMut(f64),
    ) {
        let frame = Frame::new(&self.mast, 0.0);
        let mut before: Option<Point> = None;
        for hold in &hauling.holds {
            let Some(spar) = now.spars.get(hold.spar) else {
                continue;
            };
            let p = moved(hold.spar, on(spar, hold.share));
            if let Some(q) = before {
                each(if hauling.hauls.round() {
                    round_mast(self, q, p)
                } else {
                    q.distance(p)
                });
            }
            before = Some(p);
        }
        if let (Some(p), Some(lead)) = (before, hauling.leads.first()) {
            each(distance(frame.sail(p), *lead));
        }
    }

    /// Corners of the rope over the mast between two points of the sail's plane, for drawing.
    fn bend(&self, path: &mut Path, frame: &Frame, from: Point, to: Point) {
        let (radius, off) = beside(self, 0.5 * (from.y + to.y));
        let out = radius + off;
        let side = if frame.off < 0.0 { -1.0 } else { 1.0 };
        let tangent = |x: f64| (x * x + out * out - radius * radius).max(0.0).sqrt();
        // Bearings of the tangent points off the mast's side next to the sail, aft positive: of the fore end ahead of its own
        // bearing, of the after one abaft it, and from one to the other by the far side.
        let aft = if from.x > to.x { 1.0 } else { -1.0 };
        let bearing = |x: f64, way: f64| x.atan2(out) + way * tangent(x).atan2(radius);
        let a = bearing(from.x, aft);
        let b = bearing(to.x, -aft) + aft * 2.0 * PI;
        // Unrolled it rises evenly.
        let arc = radius * (b - a).abs();
        let plan = tangent(from.x) + arc + tangent(to.x);
        for step in 0..=6 {
            let share = f64::from(step) / 6.0;
            let at = a + (b - a) * share;
            let up = from.y + (to.y - from.y) * (tangent(from.x) + arc * share) / plan;
            path.to(
                frame.at(
                    radius * angles::sin(at),
                    side * radius * angles::cos(at),
                    up,
                ),
                Named::Round,
                1,
            );
        }
    }
}
