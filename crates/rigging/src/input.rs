//! What the account of the lines is made from: plain data.

use core::cell::Cell;

use crate::MOST_BLOCKS;
use crate::path::Named;
use crate::ropes::Rope;
use crate::space::distance;
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
    /// How far the leech gives under a force there, all spars side by side [m/N]; nought where they are rigid.
    pub give: f64,
    /// The deck as far as lines foul it.
    pub deck: Deck,
    /// The boat's other masts.
    pub obstacles: Vec<Obstacle>,
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
    /// Pressure of the wind it is carried up to on what stands, square to it, its coefficient within [Pa]: what hands and friction are
    /// held against.
    pub pressure: f64,
    /// The same for strength, with gust, late reefing and the coefficient of strength within [Pa]: what ropes are held against. Counts
    /// where `pressure` is not nought.
    pub strength: f64,
    /// As `pressure`, in the wind it is carried up to running and with the coefficient running [Pa]: what a gybe is held against.
    pub running: f64,
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

impl Sheet {
    /// Gives each span's block so many parts. One rope reeves to an even number; an odd one only where its end is fast, on the last span.
    pub fn part(&mut self, parts: usize) {
        let last = self.spans.len().saturating_sub(1);
        for (i, span) in self.spans.iter_mut().enumerate() {
            for fall in &mut span.falls {
                fall.parts = if i < last { even(parts) } else { parts };
            }
        }
    }

    /// The sheet's rope in the order it is rove: from its end, fast on a span that has an odd number of parts or on a deck block, by every
    /// block it turns in to the cleat. Spans that have odd numbers besides cannot be rove.
    pub fn reeved(&self) -> Vec<Named> {
        let mut order = Vec::new();
        for odd in [true, false] {
            for (j, span) in self.spans.iter().enumerate().rev() {
                for fall in &span.falls {
                    if (fall.parts % 2 == 1) != odd {
                        continue;
                    }
                    let to = match fall.to {
                        Knot::Deck(i) => Named::DeckBlock(i),
                        Knot::Block(i) | Knot::Spar(i) => Named::Block(i),
                    };
                    for part in 0..=fall.parts.min(6) {
                        let at_block = (fall.parts - part.min(fall.parts)) % 2 == 1;
                        let at = if at_block { Named::Block(j) } else { to };
                        if order.last() != Some(&at) {
                            order.push(at);
                        }
                    }
                }
            }
        }
        if order.last() != Some(&Named::DeckBlock(0)) {
            order.push(Named::DeckBlock(0));
        }
        order.push(Named::Cleat);
        order
    }

    /// Spans with an odd number of parts; more than one cannot be rove.
    pub fn odd(&self) -> usize {
        let odd = |span: &&Span| span.falls.iter().any(|fall| fall.parts % 2 == 1);
        self.spans.iter().filter(odd).count()
    }
}

/// The even number of parts a span's block has where the sheet's end is not fast.
pub fn even(parts: usize) -> usize {
    (parts / 2 * 2).max(2)
}

impl Span {
    /// A span over so many batten ends downward from one, turning at those between, its block hauled to the sheet's first
    /// deck block. Below the boom there are none.
    pub fn down_from(top: usize, ends: usize, length: f64, parts: usize) -> Self {
        let ends = ends.min(MOST_BLOCKS).min(top.saturating_add(1));
        let mut span = Self {
            ends: Vec::new(),
            length,
            falls: vec![Fall {
                to: Knot::Deck(0),
                parts,
            }],
        };
        for i in 0..ends {
            span.ends.push(End {
                at: Knot::Spar(top - i),
                turning: i > 0 && i + 1 < ends,
            });
        }
        span
    }
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

/// A line that holds spars: fast at its first hold, by the others in turn, then to its leads. A parrel or a restraint goes
/// round the mast from each hold to the next, a tack line or a downhaul straight.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Hauling {
    /// What it is for.
    pub hauls: Hauls,
    /// Points on spars.
    pub holds: Vec<Hold>,
    /// Deck lead and cleat. A standing line has one, where it is fast, or none, fast at its last hold.
    pub leads: Vec<Place>,
}

impl Hauling {
    /// Where it is hauled and cleated; none for a standing line.
    pub fn cleat(&self) -> Option<Place> {
        self.leads.last().copied().filter(|_| self.leads.len() > 1)
    }
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

impl Hauls {
    /// Whether it goes round the mast from hold to hold.
    pub(crate) fn round(self) -> bool {
        !matches!(self, Self::Tack | Self::Down)
    }
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
    /// Half the beam on deck where the sheet comes down [m].
    pub half_beam: f64,
    /// The same at nine places evenly from one end to the other [m].
    pub sides: [f64; 9],
    /// Lifelines above the deck [m]; nought without.
    pub lifeline: f64,
    /// Coachroof, if there is one.
    pub roof: Option<Roof>,
    /// The cockpit's well, fore and after end aft of the forward end of the waterline [m]; half as wide as the deck.
    pub well: Option<(f64, f64)>,
    /// Where lines are belayed.
    pub cleats: Cleats,
}

impl Deck {
    /// Half the beam on deck at a place aft of the forward end of the waterline [m], straight between the known ones.
    pub fn half_beam_at(&self, x: f64) -> f64 {
        let (fore, after) = self.ends;
        let share = ((x - fore) / (after - fore).max(1e-9)).max(0.0).min(1.0) * 8.0;
        let i = (share as usize).min(7);
        self.sides[i] + (self.sides[i + 1] - self.sides[i]) * (share - i as f64)
    }
}

/// A row of cleats athwart the boat.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Cleats {
    /// Aft of the forward end of the waterline, half its width, above the waterline [m].
    pub at: (f64, f64, f64),
    /// Cleats that other masts have of it, from the middle outwards.
    pub from: usize,
}

impl Deck {
    /// Where a rope from one place to another comes up over the edge of the coachroof, if that is between.
    pub fn over(&self, a: Place, b: Place) -> Option<Place> {
        let roof = self.roof?;
        self.in_roof(a, b)?;
        let x = if a.x < roof.from { roof.from } else { roof.to };
        let share = (x - a.x) / (b.x - a.x);
        (share > 0.0 && share < 1.0).then_some(Place {
            x,
            y: a.y + share * (b.y - a.y),
            z: roof.top,
        })
    }

    /// For how much of its length a rope leads through the coachroof [m], if it does: its part between the ends, the sides and under the top.
    pub fn in_roof(&self, a: Place, b: Place) -> Option<f64> {
        let roof = self.roof?;
        let (mut from, mut to) = (0.0f64, 1.0f64);
        for (a, b, low, high) in [
            (a.x, b.x, roof.from, roof.to),
            (a.y, b.y, -roof.half_width, roof.half_width),
            (a.z, b.z, f64::NEG_INFINITY, roof.top),
        ] {
            let (p, q) = ((low - a) / (b - a), (high - a) / (b - a));
            if a == b {
                if a <= low || a >= high {
                    return None;
                }
            } else {
                from = from.max(p.min(q));
                to = to.min(p.max(q));
            }
        }
        // On its top or along its side is clear.
        let within = (to - from) * distance(a, b);
        (within > 1e-3).then_some(within)
    }
}

/// Coachroof as a box.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Roof {
    /// Fore and after end, aft of the forward end of the waterline [m].
    pub from: f64,
    /// See `from`.
    pub to: f64,
    /// Half its width [m].
    pub half_width: f64,
    /// Its top above the waterline [m].
    pub top: f64,
}

/// Another mast of the boat and its sail, in its own plane.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Obstacle {
    /// The mast.
    pub mast: Mast,
    /// Boom to yard at full hoist.
    pub standing: Vec<Spar>,
    /// Boom to yard with all of them lowered.
    pub lying: Vec<Spar>,
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

impl Line {
    /// The sheet it is, or is of, and the span, the first for the sheet itself.
    pub(crate) fn sheet(self) -> Option<(usize, usize)> {
        match self {
            Self::Sheet(i) => Some((i, 0)),
            Self::Span(i, j) => Some((i, j)),
            _ => None,
        }
    }
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

/// Whether blocks that are joined can be worked out.
const JOINED: bool = cfg!(feature = "joined");

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
        if !self.alike() {
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

    /// Whether states and weights go together.
    fn alike(&self) -> bool {
        let n = self.spars();
        let like = |s: &State| s.spars.len() == n && s.lowered < n;
        (2..=MOST_PANELS + 1).contains(&n)
            && self.states.len() <= MOST_PANELS + 2
            && self.states.iter().all(like)
            && self.weights.spars.len() == n
            && self.weights.cloth.len() + 1 == n
    }

    /// Whether anything can be worked out.
    pub(crate) fn usable(&self) -> bool {
        self.alike() && self.measured()
    }

    /// Whether all numbers are numbers within measure, all of them together.
    fn measured(&self) -> bool {
        let (m, r, d, t) = (&self.mast, &self.rules, &self.deck, &self.tails);
        let sum = Cell::new(0.0);
        let all = |list: &[f64]| {
            for n in list {
                sum.set(sum.get() + n.abs());
            }
        };
        let mast = |m: &Mast| {
            all(&[m.x, m.z, m.rake, m.lap, m.parallel, m.offset]);
            all(&[m.diameter, m.top_diameter]);
        };
        let spars = |list: &[Spar]| {
            for s in list {
                all(&[s.luff.x, s.luff.y, s.angle, s.length, s.along.x, s.along.y]);
            }
        };
        mast(m);
        for other in &self.obstacles {
            mast(&other.mast);
            spars(&other.standing);
            spars(&other.lying);
        }
        all(&[
            self.fitting,
            self.sling,
            self.squared,
            self.close,
            self.give,
        ]);
        all(&[d.height, d.ends.0, d.ends.1, d.half_beam, d.lifeline]);
        all(&d.sides);
        all(&[d.cleats.at.0, d.cleats.at.1, d.cleats.at.2]);
        if let Some(roof) = &d.roof {
            all(&[roof.from, roof.to, roof.half_width, roof.top]);
        }
        all(&[r.sheave_loss, r.parrel_friction, r.knot, r.dynamic, r.hand]);
        all(&[r.hand_rope, r.block_to_block, r.tip, r.stretch]);
        all(&[t.halyard, t.sheet, t.hauling, t.fixed, self.weights.wet]);
        all(&r.factors);
        all(&self.weights.spars);
        all(&self.weights.cloth);
        for state in &self.states {
            let c = state.centre.unwrap_or(Point::ORIGIN);
            all(&[state.area, state.pressure, state.strength, state.running]);
            all(&[c.x, c.y]);
            spars(&state.spars);
        }
        let lines = &self.lines;
        if let Some(p) = &lines.parrels {
            all(&[p.ahead, p.abaft, p.travel]);
        }
        for sheet in &lines.sheets {
            for span in &sheet.spans {
                all(&[span.length]);
            }
        }
        for hold in lines.hauling.iter().flat_map(|line| &line.holds) {
            all(&[hold.share]);
        }
        let places = |list: &[Place]| {
            for p in list {
                all(&[p.x, p.y, p.z]);
            }
        };
        if let Some(h) = &lines.halyard {
            places(&[h.lead, h.cleat]);
        }
        for sheet in &lines.sheets {
            places(&[sheet.cleat]);
            places(&sheet.deck);
        }
        for line in &lines.hauling {
            places(&line.leads);
        }
        if let Some(lifts) = &lines.lifts {
            places(lifts.cleat.as_slice());
            all(&[lifts.height]);
            all(&lifts.catches);
        }
        sum.get() < MOST && m.diameter > 0.0 && m.top_diameter > 0.0 && m.offset >= 0.0
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
                            Knot::Block(block) => JOINED && block < j,
                            Knot::Deck(_) => false,
                        };
                        let falls = |fall: &Fall| {
                            (1..=6).contains(&fall.parts)
                                && match fall.to {
                                    Knot::Deck(deck) => deck < sheet.deck.len(),
                                    Knot::Block(block) => {
                                        JOINED && block != j && block < sheet.spans.len()
                                    }
                                    Knot::Spar(_) => false,
                                }
                        };
                        span.length > 0.0
                            && (1..=MOST_BLOCKS).contains(&span.ends.len())
                            && span.falls.len() <= if JOINED { MOST_BLOCKS } else { 1 }
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
