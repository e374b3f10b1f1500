//! What the account of the lines is made from: plain data.

use crate::MOST_BLOCKS;
use crate::ropes::Rope;
use geometry::mast::{Mast, Place};
use geometry::{MOST_PANELS, Spar};
use kurbo::Point;

/// Everything the account needs, for one mast and its sail.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Input {
    /// The mast, and where the sail stands beside it.
    pub mast: Mast,
    /// Masthead fitting of the halyard above the partners, along the mast [m].
    pub fitting: f64,
    /// Sling point from the throat as a share of the yard.
    pub sling: f64,
    /// How far the sail is squared off either side [rad] (85°).
    pub squared: f64,
    /// Sheeting angle on the wind [rad] (15°).
    pub close: f64,
    /// Full hoist, boom on its lifts, 1 to N panels lowered: in the order of [`geometry::Reefs`].
    pub states: Vec<State>,
    /// The chosen lines.
    pub lines: Lines,
    /// What hangs on them.
    pub weights: Weights,
    /// The deck as far as lines foul it.
    pub deck: Deck,
    /// Friction, factors and limits.
    pub rules: Rules,
    /// What the lines are made of.
    pub ropes: Ropes,
    /// Rope that is left over for hands and cleats.
    pub tails: Tails,
}

/// One reef state, in the sail's own plane.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct State {
    /// Panels lowered.
    pub lowered: usize,
    /// Boom hangs on its lifts; false at full hoist alone.
    pub on_lifts: bool,
    /// Boom to yard.
    pub spars: Vec<Spar>,
    /// Area standing [m²].
    pub area: f64,
    /// Where the wind's force attacks (u, v) [m]; none with nothing standing.
    pub centre: Option<Point>,
    /// Pressure of the design wind on what stands, square to it, its coefficient within [Pa].
    pub pressure: f64,
}

/// The lines of a sail. What is left out is none.
#[derive(Clone, Debug, Default, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Lines {
    /// Halyard.
    pub halyard: Option<Halyard>,
    /// One for the whole sail; or upper and lower; or a pair, to port and to starboard.
    pub sheets: Vec<Sheet>,
    /// Topping lifts.
    pub lifts: Option<Lifts>,
    /// Batten parrels.
    pub parrels: Option<Parrels>,
    /// Lines that hold spars to the mast or the deck.
    pub hauling: Vec<Hauling>,
}

/// The halyard: sling to masthead fitting, down to a lead at the deck, aft to its cleat.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Halyard {
    /// Parts between sling and masthead, 1 to 6.
    pub parts: usize,
    /// Turning block at the deck.
    pub lead: Place,
    /// Cleat in the cockpit.
    pub cleat: Place,
}

/// One sheet.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Sheet {
    /// Spans, each with one block.
    pub spans: Vec<Span>,
    /// Deck blocks.
    pub deck: Vec<Place>,
    /// Cleat in the cockpit; the sheet comes to it from the first deck block.
    pub cleat: Place,
}

/// A span: its rope gathers batten ends, on it hangs a block, from which the sheet comes down.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Span {
    /// What it gathers, top or bottom first.
    pub ends: Vec<End>,
    /// Rope between its fastenings [m].
    pub length: f64,
    /// Where the sheet goes from its block.
    pub falls: Vec<Fall>,
}

/// An end of a leg of a span.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct End {
    /// The leech end of a spar or the block of another span (one further up the list).
    pub at: Knot,
    /// The rope turns there and comes back to the block, so the leg counts twice.
    pub turning: bool,
}

/// What a sheet may be fast to or turn at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub enum Knot {
    /// Leech end of a spar.
    Spar(usize),
    /// Block of a span of this sheet.
    Block(usize),
    /// Deck block of this sheet.
    Deck(usize),
}

/// Parts of the sheet between a span's block and something else.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Fall {
    /// A deck block, or the block of another span.
    pub to: Knot,
    /// How many.
    pub parts: usize,
}

/// Topping lifts: from the masthead on either side to catch points under the boom, legs of one
/// length that hold the boom where it lies on them.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Lifts {
    /// Their height on the mast above the partners [m].
    pub height: f64,
    /// Catch points, shares of the boom from its luff end; the same each side.
    pub catches: Vec<f64>,
    /// Cleat at the foot of the mast, if they run.
    pub cleat: Option<Place>,
}

/// Batten parrels, on the boom as well. Short ones have both ends near the mast, long ones one end
/// far off.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Parrels {
    /// Fore end ahead of the mast axis at full hoist [m].
    pub ahead: f64,
    /// After end abaft the mast axis at full hoist [m].
    pub abaft: f64,
    /// Travel wanted, in all, half of it each way [m].
    pub travel: f64,
}

/// A line that holds spars: fast at its first hold, by the others in turn, then to its leads. From a hold
/// ahead of the mast to one abaft it, or back, it goes round the mast; else straight.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Hauling {
    /// What it is for.
    pub hauls: Hauls,
    /// Points on spars.
    pub holds: Vec<Hold>,
    /// Deck lead and cleat; a standing line has none.
    pub leads: Vec<Place>,
}

/// What a hauling line is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub enum Hauls {
    /// Keeps the yard to the mast.
    Yard,
    /// Draws the luffs of chosen battens aft.
    Luff,
    /// Keeps the throat to the mast.
    Throat,
    /// Holds the tack down.
    Tack,
    /// Holds the boom fore and aft.
    Restraint,
    /// Holds the lowest standing spar down.
    Down,
}

/// A point on a spar.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Hold {
    /// The spar, boom 0.
    pub spar: usize,
    /// From its luff end, share of its length.
    pub share: f64,
}

/// Masses [kg].
#[derive(Clone, Debug, Default, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Weights {
    /// Boom to yard, with their fittings.
    pub spars: Vec<f64>,
    /// Cloth of each panel, lowest first.
    pub cloth: Vec<f64>,
    /// Wet over dry, cloth alone (1.5).
    pub wet: f64,
}

/// What lines foul.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Deck {
    /// Deck where the sheet comes down, above the waterline [m].
    pub height: f64,
    /// Foremost and aftermost of the deck, aft of the forward end of the waterline [m].
    pub ends: (f64, f64),
    /// Half the beam on deck [m].
    pub half_beam: f64,
    /// Lifelines above the deck [m]; nought without.
    pub lifeline: f64,
}

/// Friction, factors and limits.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Rules {
    /// Share of the pull lost in a sheave (0.08).
    pub sheave_loss: f64,
    /// Friction of a parrel on the mast (0.25).
    pub parrel_friction: f64,
    /// Strength left at a knot, share (0.5).
    pub knot: f64,
    /// Factor on strength: running lines (5), lifts and parrels (6), halyard (8).
    pub factors: [f64; 3],
    /// Dynamic factor on the lifts (2).
    pub dynamic: f64,
    /// Steady pull by hand [N] (150).
    pub hand: f64,
    /// Least rope a hand can hold [m] (0.010).
    pub hand_rope: f64,
    /// Least distance block to block [m] (0.25).
    pub block_to_block: f64,
    /// Batten end beyond the sheet's fastening [m].
    pub tip: f64,
    /// Stretch of the sheet at a fifth of its strength, share (0.04).
    pub stretch: f64,
}

/// Rope of halyard, sheets, lifts, parrels and hauling lines.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Ropes {
    /// Halyard.
    pub halyard: Rope,
    /// Sheets and their spans.
    pub sheet: Rope,
    /// Lifts.
    pub lifts: Rope,
    /// Parrels and hauling lines.
    pub parrels: Rope,
}

/// Rope left over [m].
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Tails {
    /// Halyard (2.5).
    pub halyard: f64,
    /// Sheet (2).
    pub sheet: f64,
    /// Hauling lines (2).
    pub hauling: f64,
    /// Lifts, parrels and spans, all of their knots (0.5).
    pub fixed: f64,
}

/// A line of the sail.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub enum Line {
    /// The halyard.
    Halyard,
    /// A sheet by its number.
    Sheet(usize),
    /// A span of a sheet: sheet, span.
    Span(usize, usize),
    /// The lifts, both sides.
    Lifts,
    /// Batten parrel of a spar.
    Parrel(usize),
    /// A hauling line by its number.
    Hauling(usize),
}

/// An input that cannot be used.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub enum Fault {
    /// No states, or spars that differ in number from state to state or from the weights.
    States,
    /// A number that is none, or beyond all measure.
    Number,
    /// A line is led to a spar, a block or a deck block that is not there, or has no parts.
    Led(Line),
}

/// More than all lengths, masses and pressures of a sail together [m, kg, Pa].
const MOST: f64 = 1e6;

impl Input {
    /// All lines, in the order of the cordage list.
    pub fn all(&self) -> Vec<Line> {
        let lines = &self.lines;
        let mut all = Vec::new();
        if lines.halyard.is_some() {
            all.push(Line::Halyard);
        }
        for (i, sheet) in lines.sheets.iter().enumerate() {
            all.push(Line::Sheet(i));
            for j in 0..sheet.spans.len() {
                all.push(Line::Span(i, j));
            }
        }
        if lines.lifts.is_some() {
            all.push(Line::Lifts);
        }
        if lines.parrels.is_some() {
            // The yard is hauled.
            for i in 0..self.spars().saturating_sub(1) {
                all.push(Line::Parrel(i));
            }
        }
        for i in 0..lines.hauling.len() {
            all.push(Line::Hauling(i));
        }
        all
    }

    /// Spars of the sail.
    pub(crate) fn spars(&self) -> usize {
        self.states.first().map_or(0, |s| s.spars.len())
    }

    /// What keeps the account from being worked out; lines that are led nowhere are only left out.
    pub fn faults(&self) -> Vec<Fault> {
        let mut faults = Vec::new();
        let n = self.spars();
        let like = |s: &State| s.spars.len() == n && s.lowered < n;
        if !(2..=MOST_PANELS + 1).contains(&n)
            || self.states.len() > MOST_PANELS + 2
            || !self.states.iter().all(like)
            || self.weights.spars.len() != n
            || self.weights.cloth.len() + 1 != n
        {
            faults.push(Fault::States);
        } else if !self.measured() {
            faults.push(Fault::Number);
        } else {
            for line in self.all() {
                if !self.led(line) {
                    faults.push(Fault::Led(line));
                }
            }
        }
        faults
    }

    /// Whether all numbers are numbers within measure, all of them together.
    fn measured(&self) -> bool {
        let (m, r, d, t) = (&self.mast, &self.rules, &self.deck, &self.tails);
        let mut sum = m.x.abs() + m.z.abs() + m.rake.abs() + m.lap.abs() + m.parallel.abs();
        sum += m.diameter.abs() + m.top_diameter.abs() + m.offset.abs();
        sum += self.fitting.abs() + self.sling.abs() + self.squared.abs() + self.close.abs();
        sum += d.height.abs() + d.ends.0.abs() + d.ends.1.abs();
        sum += d.half_beam.abs() + d.lifeline.abs() + self.weights.wet.abs();
        sum += r.sheave_loss.abs() + r.parrel_friction.abs() + r.knot.abs() + r.dynamic.abs();
        sum += r.hand.abs() + r.hand_rope.abs() + r.block_to_block.abs();
        sum += r.tip.abs() + r.stretch.abs();
        sum += t.halyard.abs() + t.sheet.abs() + t.hauling.abs() + t.fixed.abs();
        let mut all = |list: &[f64]| {
            for n in list {
                sum += n.abs();
            }
        };
        all(&r.factors);
        all(&self.weights.spars);
        all(&self.weights.cloth);
        let lines = &self.lines;
        if let Some(lifts) = &lines.lifts {
            all(&lifts.catches);
        }
        let mut place = |p: &Place| sum += p.x.abs() + p.y.abs() + p.z.abs();
        if let Some(h) = &lines.halyard {
            place(&h.lead);
            place(&h.cleat);
        }
        for sheet in &lines.sheets {
            place(&sheet.cleat);
            sheet.deck.iter().for_each(&mut place);
        }
        for line in &lines.hauling {
            line.leads.iter().for_each(&mut place);
        }
        if let Some(lifts) = &lines.lifts {
            lifts.cleat.iter().for_each(&mut place);
            sum += lifts.height.abs();
        }
        for state in &self.states {
            let c = state.centre.unwrap_or(Point::ORIGIN);
            sum += state.area.abs() + state.pressure.abs() + c.x.abs() + c.y.abs();
            for s in &state.spars {
                sum += s.luff.x.abs() + s.luff.y.abs() + s.angle.abs() + s.length.abs();
                sum += s.along.x.abs() + s.along.y.abs();
            }
        }
        for span in lines.sheets.iter().flat_map(|sheet| &sheet.spans) {
            sum += span.length.abs();
        }
        if let Some(p) = &lines.parrels {
            sum += p.ahead.abs() + p.abaft.abs() + p.travel.abs();
        }
        for hold in lines.hauling.iter().flat_map(|line| &line.holds) {
            sum += hold.share.abs();
        }
        sum < MOST && m.diameter > 0.0 && m.top_diameter > 0.0 && m.offset >= 0.0
    }

    /// Whether a line is there and leads to things that are.
    pub fn led(&self, line: Line) -> bool {
        let n = self.spars();
        match line {
            Line::Halyard => (self.lines.halyard).is_some_and(|h| (1..=6).contains(&h.parts)),
            Line::Sheet(i) => (self.lines.sheets.get(i)).is_some_and(|sheet| {
                (1..=MOST_BLOCKS).contains(&sheet.spans.len())
                    && !sheet.deck.is_empty()
                    && sheet.spans.iter().enumerate().all(|(j, span)| {
                        let gathers = |end: &End| match end.at {
                            Knot::Spar(spar) => spar < n,
                            Knot::Block(block) => block < j,
                            Knot::Deck(_) => false,
                        };
                        let falls = |fall: &Fall| {
                            (1..=6).contains(&fall.parts)
                                && match fall.to {
                                    Knot::Deck(deck) => deck < sheet.deck.len(),
                                    Knot::Block(block) => block != j && block < sheet.spans.len(),
                                    Knot::Spar(_) => false,
                                }
                        };
                        span.length > 0.0
                            && (1..=MOST_BLOCKS).contains(&span.ends.len())
                            && span.falls.len() <= MOST_BLOCKS
                            && span.ends.iter().all(gathers)
                            && span.falls.iter().all(falls)
                    })
            }),
            Line::Span(i, j) => self.led(Line::Sheet(i)) && j < self.lines.sheets[i].spans.len(),
            Line::Lifts => (self.lines.lifts.as_ref())
                .is_some_and(|lifts| (1..=MOST_BLOCKS).contains(&lifts.catches.len())),
            Line::Parrel(i) => self.lines.parrels.is_some() && i + 1 < n,
            Line::Hauling(i) => (self.lines.hauling.get(i)).is_some_and(|line| {
                (1..=2 * MOST_PANELS).contains(&line.holds.len())
                    && line.leads.len() <= MOST_BLOCKS
                    && line.holds.iter().all(|hold| hold.spar < n)
            }),
        }
    }
}
