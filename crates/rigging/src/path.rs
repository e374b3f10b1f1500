//! A line as a path of named points at a state and a sheeting angle.

use core::f64::consts::PI;

use crate::space::{Frame, distance, on};
use crate::{Hold, Input, Line};
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

    /// Adds leads and, last, the cleat.
    fn leads(&mut self, leads: &[Place]) {
        for (i, lead) in leads.iter().enumerate() {
            let last = i + 1 == leads.len();
            let (named, parts) = if last {
                (Named::Cleat, 0)
            } else {
                (Named::Lead, 1)
            };
            self.to(*lead, named, parts);
        }
    }
}

/// Rope between two points of the sail's plane on either side of the mast, round its far side [m].
///
/// Seen along the mast a tangent, an arc and a tangent; cylinder and tangent planes unrolled, it is
/// straight: √(plan² + rise²). Derived; the taper between the two heights is left out, its mean is
/// taken.
pub fn round_mast(input: &Input, p: Point, q: Point) -> f64 {
    let (radius, off) = beside(input, 0.5 * (p.y + q.y));
    let (ahead, abaft) = if p.x < q.x { (p.x, q.x) } else { (q.x, p.x) };
    batten_parrel_length(-ahead, abaft, off, radius).hypot(p.y - q.y)
}

/// The mast's radius at a height and how far the sail's plane stands off its surface [m].
pub(crate) fn beside(input: &Input, height: f64) -> (f64, f64) {
    let radius = 0.5 * input.mast.diameter_at(height);
    (radius, (input.mast.offset - radius).max(0.0))
}

impl Input {
    /// A line that needs no balance of forces, laid out; sheets and spans by [`Input::path`].
    pub(crate) fn laid(&self, line: Line, state: usize, sheeting: f64) -> Option<Path> {
        let now = self.states.get(state)?;
        if !self.led(line) {
            return None;
        }
        let frame = Frame::new(&self.mast, sheeting);
        let mut path = Path::default();
        match line {
            Line::Halyard => {
                let halyard = self.lines.halyard?;
                let sling = on(now.spars.last()?, self.sling);
                path.to(frame.sail(sling), Named::Sling, halyard.parts);
                path.to(frame.at(0.0, 0.0, self.fitting), Named::Masthead, 1);
                path.leads(&[halyard.lead, halyard.cleat]);
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
                    path.to(cleat, Named::Cleat, 0);
                }
            }
            Line::Parrel(i) => {
                let (fore, after) = self.parrel_ends(i, state)?;
                self.held(&mut path, &frame, &[(i, fore), (i, after)]);
            }
            Line::Hauling(i) => {
                let hauling = self.lines.hauling.get(i)?;
                let point =
                    |hold: &Hold| Some((hold.spar, on(now.spars.get(hold.spar)?, hold.share)));
                let holds: Vec<_> = hauling.holds.iter().filter_map(point).collect();
                self.held(&mut path, &frame, &holds);
                if let (Some(last), false) = (path.stops.last_mut(), hauling.leads.is_empty()) {
                    last.parts = 1;
                }
                path.leads(&hauling.leads);
            }
            Line::Sheet(_) | Line::Span(..) => return None,
        }
        Some(path)
    }

    /// Where a batten parrel is fast on its spar, in the sail's plane: ahead and abaft.
    pub(crate) fn parrel_ends(&self, spar: usize, state: usize) -> Option<(Point, Point)> {
        let parrels = self.lines.parrels?;
        let full = self.states.first()?.spars.get(spar)?;
        let now = self.states.get(state)?.spars.get(spar)?;
        // A spar that stands up the mast is no batten; it is taken as crossing at its luff end.
        let crossing = full.ahead().unwrap_or(0.0);
        Some((
            now.at(crossing - parrels.ahead),
            now.at(crossing + parrels.abaft),
        ))
    }

    /// Leads a path by points of the sail's plane, round the mast where they lie either side of it.
    fn held(&self, path: &mut Path, frame: &Frame, holds: &[(usize, Point)]) {
        for (i, (spar, p)) in holds.iter().enumerate() {
            let before = i.checked_sub(1).and_then(|i| holds.get(i));
            if let Some((_, q)) = before
                && (p.x < 0.0) != (q.x < 0.0)
            {
                let along = path.length + round_mast(self, *q, *p);
                self.bend(path, frame, *q, *p);
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

    /// Corners of the rope over the mast between two points of the sail's plane, for drawing.
    fn bend(&self, path: &mut Path, frame: &Frame, from: Point, to: Point) {
        let (radius, off) = beside(self, 0.5 * (from.y + to.y));
        let out = radius + off;
        let side = if frame.off < 0.0 { -1.0 } else { 1.0 };
        // Bearing of a tangent point off the mast's side next to the sail, aft positive.
        let bearing = |a: f64| {
            let turn = a.abs().atan2(out) + (radius / a.hypot(out).max(radius)).acos();
            if a < 0.0 { -turn } else { turn }
        };
        let a = bearing(from.x);
        // By the far side.
        let b = bearing(to.x) + if a < 0.0 { -2.0 * PI } else { 2.0 * PI };
        // Unrolled it rises evenly.
        let tangent = |a: f64| (a * a + out * out - radius * radius).max(0.0).sqrt();
        let arc = radius * (b - a).abs();
        let plan = tangent(from.x) + arc + tangent(to.x);
        for step in 0..=6 {
            let share = f64::from(step) / 6.0;
            let at = a + (b - a) * share;
            let up = from.y + (to.y - from.y) * (tangent(from.x) + arc * share) / plan;
            path.to(
                frame.at(radius * at.sin(), side * radius * at.cos(), up),
                Named::Round,
                1,
            );
        }
    }
}
